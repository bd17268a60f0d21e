"""Random circuits whose temperatures are found: oil, coolant and fuel, and vehicles of oil and coolant that share an exchanger. All invented.

The plumbing is that of `random_plumbing`; over it come heat put in at places, walls of tanks and lines in cold and hot air, coolers, pairs of
thermostats. `Heated.told` is in builders' words as `plumbing.describe` writes them; `facts` are the plain numbers that `certificate_heat` goes by.
"""

import random
from typing import NamedTuple

from judge_heat_laws import ZERO, Oil
from plumbing import build, describe
from random_plumbing import random_plumbing

ATMOSPHERE = 101325.0  # [Pa]
COLDEST, WARMEST, FASTEST = -10.0, 40.0, 8.0  # air [C], and how fast it blows [m/s]
# [K] to which temperatures of water and glycol are met: near an answer the engine carries their enthalpy on along the specific heat for up to 1e-6 K,
# and the two come from tables that agree to 1e-4. In a strong stream of coolant that may be more than 1e-9 of the heat that is moved.
MET = 1e-10
GLYCOL = "ethylene glycol 50 %"


class Facts(NamedTuple):
    """Plain numbers of one circuit.

    `enthalpy(kelvin, pascal)` [J/kg]; `heights` [m]; `put` into places [W]; `loss` of places [W/K]; `found`: names of places that have a balance;
    `drains`: place -> tank; `drawn`: junction -> [kg/s], below zero what comes in at `supplied` [K]; `efficiency` or `terminals` [W] of pumps; `sinks`: part -> air
    around it [K]; `air` [K]; `met` [K]: see `MET`.
    """

    enthalpy: object
    heights: dict
    put: dict
    loss: dict
    found: tuple
    drains: dict
    drawn: dict
    supplied: float
    efficiency: dict
    terminals: dict
    sinks: dict
    air: float
    met: float


class Heated(NamedTuple):
    """`told`: circuit -> its words; `exchanger`: None, or the words of the one that two circuits share."""

    seed: int
    told: dict
    facts: dict
    exchanger: dict | None


def random_heated(seed, family=None):
    """A `Heated`, drawn from the seed: of a family "oil", "coolant", "return" (fuel) or "vehicle"."""
    draw = random.Random(f"heated {seed}")
    family = family or draw.choice(["oil", "oil", "coolant", "coolant", "return", "vehicle"])
    air = ZERO + draw.uniform(COLDEST, WARMEST)
    names = ("oil", "coolant") if family == "vehicle" else (family,)
    sketches = {name: Warmed(draw, name, air, shares=family == "vehicle") for name in names}
    exchanger = None
    if family == "vehicle":
        sides = {f"{side}_side": {"area": f"{draw.uniform(0.02, 0.3)!r} m2", "bore": f"{draw.uniform(3, 12)!r} mm",
                                  "length": f"{draw.uniform(0.1, 0.6)!r} m", "enhancement": draw.uniform(1, 5)} for side in ("first", "second")}
        exchanger = {"first": ("oil", "shared core"), "second": ("coolant", "shared core"), "arrangement": draw.choice(["counterflow", "parallel flow"]),
                     "wall_resistance": draw.choice([0, 1e-3]), **sides}
    return Heated(seed, {name: one.told for name, one in sketches.items()}, {name: one.facts() for name, one in sketches.items()}, exchanger)


class Warmed:
    """A circuit of `random_plumbing` while heat is drawn over it."""

    def __init__(self, draw, family, air, shares=False):
        self.draw, self.family, self.air = draw, family, air
        self.plumbing = random_plumbing(draw.randrange(10**9), draw.choice([draw.randint(6, 14), draw.randint(8, 40)]), family)
        self.told = describe(self.plumbing)
        self.told["circuit"] |= {"air_temperature": f"{air!r} K"}
        self.sinks, self.loss, self.put, self.given = {}, {}, {}, set()
        self.warm = {"oil": ZERO + 90.0, "coolant": ZERO + 80.0, "return": ZERO + 25.0}[family]
        self._liquid()
        if shares:
            start, end = ("filtered", "gallery") if family == "oil" else ("hot", "inlet")
            self._between(start, end, [{"part": "core", "drop": self._drop(), "rated_with": f"own at {self.warm!r} K", "name": "shared core"}], "shared")
        self.carried = sum(self._cooler(run) for run in self._runs("core") if draw.random() < 0.8 and run["parts"][0]["name"] != "shared core")
        for run in self._runs("hose"):
            self._wall(run["parts"][0])
        self._tank()
        self._pumps()
        if draw.random() < 0.5:
            self._thermostats()

    # ---- what is drawn ----

    def _liquid(self):
        draw, circuit = self.draw, self.told["circuit"]
        circuit["fluid_temperature"] = f"{self.warm!r} K"
        if self.family == "oil":
            oil = {"kv40": draw.uniform(40, 150), "density": draw.uniform(845, 890)}
            oil["kv100"] = draw.uniform(0.55, 0.75) * oil["kv40"] ** 0.68
            law = Oil(**oil)
            circuit["fluid"] = {"oil": {"kv40": f"{oil['kv40']!r} mm2/s", "kv100": f"{oil['kv100']!r} mm2/s", "density": f"{oil['density']!r} kg/m3"}}
            self.enthalpy = lambda kelvin, pressure: law.enthalpy(kelvin, pressure - ATMOSPHERE)
        elif self.family == "coolant" and draw.random() < 0.6:
            circuit["fluid"] = draw.choice([GLYCOL, "water"])
            self.enthalpy = _public_enthalpy(circuit["fluid"])
        else:
            fluid = self.plumbing.fluid
            self.enthalpy = lambda kelvin, pressure: fluid["specific_heat"] * (kelvin - ZERO) + (pressure - ATMOSPHERE) / fluid["density"]

    def _runs(self, word):
        return [run for run in self.told["run"] if run["parts"][0]["part"] == word]

    def _drop(self):
        """Of a cooler at a flow that suits the circuit's lines."""
        bores = [part.numbers["bore"] for part in self.plumbing.parts if part.kind == "line"]
        flow = 0.785 * max(bores) ** 2 * self.draw.uniform(0.3, 1.0)
        return f"{self.draw.uniform(3e3, 4e4)!r} Pa at {flow!r} m3/s"

    def _cooler(self, run):
        """Makes a cooler of a core; heat per degree that it may carry [W/K]."""
        draw, part = self.draw, run["parts"][0]
        drop = part.get("drop") or self._drop()
        flow = float(drop.split(" at ")[1].split()[0])
        area, speed = draw.uniform(0.03, 0.25), draw.uniform(2, FASTEST)
        per_degree = draw.uniform(0.1, 0.3) * min(flow * self.plumbing.fluid["density"] * 1900.0, area * speed * 1150.0)
        rise = draw.choice([0.0, 0.0, draw.uniform(2, 20)])
        said = {"heat_table": _heat_table(per_degree, flow, speed)}
        if self.family == "oil" and flow > 5e-5 and draw.random() < 0.6:
            said = {"heat": f"{per_degree!r} W/K at {flow!r} m3/s", "rated_air": f"30 C at {speed!r} m/s", "inside_share": draw.uniform(0.15, 0.6)}
        run["parts"][0] = {"part": "cooler", **said, "face": f"{area!r} m2", "drop": drop, "rated_with": f"own at {self.warm!r} K", "air_rise": f"{rise!r} K",
                           "fan": f"{draw.uniform(1, FASTEST)!r} m/s", "name": part["name"]}
        self.sinks[part["name"]] = self.air + rise
        return per_degree

    def _wall(self, hose):
        draw = self.draw
        if draw.random() < 0.5:
            return
        rise = draw.choice([0.0, draw.uniform(5, 60)])
        hose |= {"air": draw.choice(["still", f"{draw.uniform(0.5, 20)!r} m/s"]), "air_rise": f"{rise!r} K"}
        if draw.random() < 0.3:
            hose["sleeve"] = f"{draw.uniform(1, 6)!r} mm"
        self.sinks[hose["name"]] = self.air + rise

    def _tank(self):
        draw = self.draw
        tank = next(iter(self.told["tank"]))
        loss = draw.uniform(5, 40) if self.carried == 0.0 or draw.random() < 0.6 else 0.0
        most = (loss + self.carried) * (self.warm + 25.0 - self.air)
        heat = draw.uniform(0.05, 0.3 if self.family == "coolant" else 0.6) * most
        place = "hot" if self.family == "coolant" else tank
        words = self.told["tank"].setdefault(tank, {})
        if loss:
            words["heat_loss"], self.loss[tank] = f"{loss!r} W/K", loss
        words["temperature"] = "found"
        if draw.random() < 0.15:
            self.given.add(tank)
            words["temperature"] = f"{self.warm + draw.uniform(-20, 20)!r} K"
        self.told["tank" if place == tank else "junction"][place]["heat"] = f"{heat!r} W"
        self.put[place] = heat
        if "crankcase" in self.told["fixed"]:
            self.told["fixed"]["crankcase"]["drains_to"] = tank
        self.tank = tank

    def _pumps(self):
        self.efficiency, self.terminals = {}, {}
        for run in self.told["run"]:
            part = run["parts"][0]
            if not part["part"].endswith("pump"):
                continue
            if part["part"] in ("electric_pump", "formula_pump") and self.draw.random() < 0.3:
                self.terminals[part["name"]] = self.draw.uniform(20, 150)
                part["power"] = f"{self.terminals[part['name']]!r} W"
            else:
                self.efficiency[part["name"]] = self.draw.uniform(0.2, 0.9)
                part["overall_efficiency"] = self.efficiency[part["name"]]

    def _between(self, start, end, parts, name):
        self.told["run"].append({"name": f"run {name}", "from": start, "to": end, "parts": parts})

    def _thermostats(self):
        """A thermostat before a cooler, and round both a bypass thermostat that shuts as it opens."""
        coolers = self._runs("cooler")
        if not coolers:
            return
        run, opens = self.draw.choice(coolers), self.warm - ZERO + self.draw.uniform(-15, 10)
        start, end = run["from"], run["to"]
        if start not in self.told["junction"] or end not in self.told["junction"]:
            return
        self.told["junction"]["before the cooler"] = dict(height=self.told["junction"][start]["height"])
        words = {"opens": f"{opens!r} C", "full": f"{opens + self.draw.uniform(8, 15)!r} C", "rated": run["parts"][0]["drop"]}
        self._between(start, "before the cooler", [{"part": "thermostat", **words, "bleed": self.draw.uniform(0.003, 0.1), "name": "thermostat"}], "thermostat")
        self._between(start, end, [{"part": "bypass_thermostat", **words, "name": "bypass"}], "bypass")
        run["from"] = "before the cooler"

    def facts(self):
        places, fixed = self.plumbing.places, self.told["fixed"]
        heights = {name: place["elevation"] for name, place in places.items()}
        if "before the cooler" in self.told["junction"]:
            heights["before the cooler"] = float(self.told["junction"]["before the cooler"]["height"].split()[0])
        found = [name for name in heights if name not in fixed and name not in self.given]
        drawn = {name: place["demand"] for name, place in places.items() if place["kind"] == "junction"} | {"before the cooler": 0.0}
        return Facts(self.enthalpy, heights, self.put, self.loss, tuple(found), {name: said["drains_to"] for name, said in fixed.items() if "drains_to" in said},
                     drawn, self.warm, self.efficiency, self.terminals, self.sinks, self.air, MET if isinstance(self.told["circuit"]["fluid"], str) else 0.0)


def _heat_table(per_degree, flow, speed):
    """A cooler's test at three flows and two speeds of its air; so the liquids that are no oil need no film."""
    flows, speeds = [0.3 * flow, flow, 2 * flow], [0.5 * speed, 1.5 * speed]
    return {"flow": [f"{one!r} m3/s" for one in flows], "air_speed": [f"{one!r} m/s" for one in speeds],
            "heat_per_degree": [[f"{per_degree * (one / flow) ** 0.4 * (blown / speed) ** 0.6!r} W/K" for blown in speeds] for one in flows]}


def _public_enthalpy(name):
    """Of a liquid by name, as the package tells it."""
    import flarenut as fn

    liquid = fn.fluid(name)
    return lambda kelvin, pressure: liquid.heat_at(f"{kelvin!r} K", f"{pressure!r} Paa").enthalpy.to("J/kg")


def circuit_of(told):
    """The `flarenut.Circuit` of one circuit's words."""
    import flarenut as fn

    fluid = told["circuit"]["fluid"]
    made = fn.oil(**fluid["oil"]) if isinstance(fluid, dict) and "oil" in fluid else fluid
    return build({**told, "circuit": {**told["circuit"], "fluid": made}})


def solved(heated):
    """{circuit: its case "as written"} of a `Heated`, and how far what one side of the exchanger loses is not what the other gains; 0 without one."""
    import flarenut as fn

    circuits = {name: circuit_of(told) for name, told in heated.told.items()}
    if heated.exchanger is None:
        ((name, circuit),) = circuits.items()
        return {name: circuit.solve(other_states=False)["as written"]}, 0.0
    vehicle = fn.Vehicle(f"heated {heated.seed}", invented=True)
    for name, circuit in circuits.items():
        vehicle.add(circuit, name)
    vehicle.exchanger("shared exchanger", **heated.exchanger)
    answer = vehicle.solve(other_states=False)
    cases = {name: answer[name]["as written"] for name in circuits}
    if not all(case.converged for case in cases.values()):
        return cases, 0.0
    one, other = (cases[name].solution.heat_of(part) for name, part in (heated.exchanger["first"], heated.exchanger["second"]))
    return cases, abs(one + other) / max(abs(one), 1.0)
