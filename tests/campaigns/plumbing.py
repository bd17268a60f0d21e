"""A plain description of a circuit in SI numbers, and its words in flarenut.

`Plumbing` holds no object of flarenut: whoever judges the engine reads it alone. Kinds and numbers of a part are those of the page of its
law in docs/parts. `to_circuit` says the same in builders' words, through the public interface only;
`describe` holds those words as plain texts, in SI, US or metric units, and `plumbing_file` writes them as a circuit file.
"""

from math import degrees, pi, sqrt
from typing import NamedTuple

AMBIENT = 101325.0  # [Pa], of the open air at height 0
TEST_FLUID = 683.8  # [kg/m3], n-heptane at 20 °C, of injector benches


class Part(NamedTuple):
    """One part between two places; flow counts positive from `start` to `end`.

    `numbers` are those of its law [SI]. Beside them stand, where the kind has them: `branch`, the place at the branch of a "tee" (start and end
    are its straight-through ends); `sensed` and `reference`, the places that a regulator goes by. Pressures of places are gauge and say so.
    """

    kind: str
    name: str
    start: str
    end: str
    numbers: dict


class Plumbing(NamedTuple):
    """A circuit. Every place of it is in `places`, those between two parts of a row too.

    `fluid`: density, viscosity (dynamic), vapour_pressure, specific_heat, conductivity, all constant.
    `places`: name -> {"kind": "tank", "elevation", "level", "vent_gauge"}, {"kind": "fixed", "elevation", "gauge"} or {"kind": "junction",
    "elevation", "demand" [kg/s], taken out where above zero, coming in where below}. A tank's elevation is that of its pick-up.
    `family`: what it was drawn as. `ambient` [Pa].
    """

    seed: int
    fluid: dict
    places: dict
    parts: tuple
    family: str = ""
    ambient: float = AMBIENT


def units_of(system="SI"):
    """Makers of texts in a system of units; every one is exact but for rounding."""
    if system == "SI":
        scale = {"pressure": (1.0, "Pa"), "length": (1.0, "m"), "flow": (1.0, "m3/s"), "mass": (1.0, "kg/s"), "turns": (1.0, "rps"),
                 "viscosity": (1.0, "Pa s"), "displacement": (1.0, "m3/rev"), "density": (1.0, "kg/m3")}
    elif system == "us":
        scale = {"pressure": (6894.757293168362, "psi"), "length": (0.0254, "in"), "flow": (3.785411784e-3 / 3600, "gph"),
                 "mass": (0.45359237 / 3600, "lb/h"), "turns": (1 / 60, "rpm"), "viscosity": (1e-3, "cP"),
                 "displacement": (0.0254**3, "in3/rev"), "density": (0.45359237 / 0.3048**3, "lb/ft3")}
    else:
        scale = {"pressure": (1e5, "bar"), "length": (1e-3, "mm"), "flow": (1e-3 / 60, "L/min"), "mass": (1 / 3600, "kg/h"),
                 "turns": (1 / 60, "rpm"), "viscosity": (1e-3, "mPa s"), "displacement": (1e-6, "cc/rev"), "density": (1e3, "g/cc")}
    return {kind: (lambda value, factor=factor, unit=unit: f"{float(value) / factor!r} {unit}") for kind, (factor, unit) in scale.items()}


class Words:
    """Builders' words of a `Plumbing`, in a system of units ("SI", "us" or "metric")."""

    def __init__(self, plumbing, system="SI"):
        self.plumbing, self.density, self.viscosity = plumbing, plumbing.fluid["density"], plumbing.fluid["viscosity"]
        made = units_of(system)
        self.pressure, self.length, self.flow, self.mass = made["pressure"], made["length"], made["flow"], made["mass"]
        self.turns, self.thickness, self.volume, self.heaviness = made["turns"], made["viscosity"], made["displacement"], made["density"]

    def fluid(self):
        """Words of `constant_fluid`."""
        fluid = self.plumbing.fluid
        return {"density": self.heaviness(fluid["density"]), "viscosity": self.thickness(fluid["viscosity"]),
                "vapour_pressure": f"{fluid['vapour_pressure']!r} Paa", "specific_heat": f"{fluid['specific_heat']!r} J/kg/K",
                "conductivity": f"{fluid['conductivity']!r} W/m/K"}

    def place(self, name):
        """(word, its keys) of a place: "tank", "fixed" or "junction"."""
        place = self.plumbing.places[name]
        said = {"height": self.length(place["elevation"])}
        if place["kind"] == "tank":
            return "tank", {**said, "level": self.length(place["level"]), "vent": self.pressure(place["vent_gauge"])}
        if place["kind"] == "fixed":
            return "fixed", {**said, "pressure": self.pressure(place["gauge"])}
        if place["demand"] > 0:
            said["demand"] = self.mass(place["demand"])
        if place["demand"] < 0:
            said["supply"] = self.mass(-place["demand"])
        return "junction", said

    def part(self, part):
        """(word, its keys) of a part that lies in a run."""
        word, said = _WORDS[part.kind](self, part.numbers)
        return word, {**said, "name": part.name}

    def tee(self, part):
        """Keys of a tee."""
        numbers = part.numbers
        return {"run1": part.start, "run2": part.end, "branch": numbers["branch"], "bore": self.length(numbers["run1_bore"]),
                "branch_bore": self.length(numbers["branch_bore"]), "angle": degrees(numbers["branch_angle"])}

    def injectors(self, part):
        """Keys of an injector bank."""
        numbers = part.numbers
        return {"at": part.start, "to": part.end, "count": numbers["count"], "duty": numbers["duty"],
                "flow": self.at(numbers["rated_pressure"], numbers["rated_flow"]), "rated_with": self.heaviness(numbers["rating_density"])}

    def at(self, pressure, flow):
        return f"{self.pressure(pressure)} at {self.flow(flow)}"

    def wide_open(self, area, coefficient):
        """What an opening passes at 1 bar; words work the area back."""
        return self.at(1e5, coefficient * area * sqrt(2e5 / self.density))

    def liquid(self, numbers):
        return {"density": self.heaviness(numbers["rating_density"]), "viscosity": self.thickness(numbers["rating_viscosity"])}

    def element(self, numbers):
        """Words of a filter's two coefficients."""
        linear, quadratic = numbers["linear"], numbers["quadratic"]
        flow = linear / quadratic if quadratic > 0 else 1e-4
        drop = linear * flow + quadratic * flow**2
        return {"drop": self.at(drop, flow), "viscous_share": linear * flow / drop, "loading": numbers["loading"], "rated_with": self.liquid(numbers)}


def _line(w, n):
    said = {"bore": w.length(n["bore"]), "length": w.length(n["length"]), "roughness": w.length(n["roughness"]), "extra_loss": n["extra_loss"]}
    if n["bend_angle"] > 0:
        said |= {"bends": [degrees(n["bend_angle"])], "bend_radius": w.length(n["bend_radius"])}
    return "hose", said


def _elbow(w, n):
    return "elbow", {"bore": w.length(n["bore"]), "angle": n["angle"], "form": n["form"]}


def _step(w, n):
    said = {"inlet": w.length(n["inlet_bore"]), "outlet": w.length(n["outlet_bore"])}
    return "reducer", said if n["included_angle"] >= pi else {**said, "cone_angle": degrees(n["included_angle"])}


def _orifice(w, n):
    said = {"bore": w.length(n["bore"])}
    if n["line_bore"] > 0:
        said["line_bore"] = w.length(n["line_bore"])
    if n.get("discharge_coefficient"):
        said["discharge_coefficient"] = n["discharge_coefficient"]
    return "orifice", {**said, "length": w.length(n["length"])} if "length" in n else said


def _resistance(w, n):
    return "resistance", {"drop": w.at(n["rated_drop"], n["rated_flow"]), "exponent": n["exponent"], "rated_with": w.liquid(n)}


def _core(w, n):
    flow = n["viscous"] * w.viscosity / (n["inertial"] * w.density)  # where both shares are alike
    viscous, inertial = n["viscous"] * w.viscosity * flow, n["inertial"] * w.density * flow**2
    return "core", {"drop": w.at(viscous + inertial, flow), "viscous_share": viscous / (viscous + inertial),
                    "rated_with": w.liquid({"rating_density": w.density, "rating_viscosity": w.viscosity})}


def _valve(w, n):
    said = {"rated": w.at(1e5, n["flow_coefficient"] * sqrt(1e5 / w.density)), "opening": n["opening"], "leak": n["leak"]}
    return "valve", {**said, "bore": w.length(n["bore"])} if n["bore"] > 0 else said


def _check(w, n):
    return "check_valve", {"opens_at": w.pressure(n["cracking_pressure"]), "bore": w.length(sqrt(4 * n["full_area"] / pi))}


def _relief(w, n):
    said = {"opens_at": w.pressure(n["set_pressure"]), "override": w.pressure(n["band"]), "wide_open": w.wide_open(n["full_area"], n["discharge_coefficient"])}
    if n["second_area"] > 0:
        said |= {"second_opens_at": w.pressure(n["second_set_pressure"]), "second_wide_open": w.wide_open(n["second_area"], n["discharge_coefficient"])}
    return "relief_valve", said


def _bypass(w, n):
    return "bypass_regulator", {"set": w.pressure(n["set_pressure"] / (1.0 - n["seat_share"])), "band": w.pressure(n["band"]),
                                "wide_open": w.wide_open(n["full_area"], n["discharge_coefficient"]), "seat_share": n["seat_share"],
                                "senses": n["sensed"], "reference": n["reference"]}


def _reducing(w, n):
    return "reducing_regulator", {"set": w.pressure(n["set_pressure"]), "droop": w.pressure(n["band"]), "seat_share": n["seat_share"],
                                  "wide_open": w.wide_open(n["full_area"], n["discharge_coefficient"]), "senses": n["sensed"], "reference": n["reference"]}


def _filter_with_bypass(w, n):
    return "filter", {**w.element(n), "bypass": w.pressure(n["bypass_pressure"]),
                      "bypass_flow": w.at(1e5, n["discharge_coefficient"] * n["bypass_area"] * sqrt(2e5 / n["rating_density"]))}


def _quadratic_pump(w, n):
    top, linear, quadratic = n["shutoff_rise"], n["linear"], n["quadratic"]
    free = (-linear + sqrt(linear**2 + 4 * quadratic * top)) / (2 * quadratic)
    half = 0.5 * free
    return "formula_pump", {"dead_head": w.pressure(top), "free_flow": w.flow(free), "rated_volts": n["rated_volts"], "volts": n["volts"],
                            "through": w.at(top - linear * half - quadratic * half**2, half)}


def _points(w, flows, rises):
    return [[w.flow(flow), w.pressure(rise)] for flow, rise in zip(flows, rises)]


def _electric_pump(w, n):
    charts, begin = [], 0
    for volts, count in zip(n["curve_volts"], n["curve_points"]):
        rows = slice(begin, begin + int(count))
        charts.append({"volts": volts, "points": _points(w, n["curve_flow"][rows], n["curve_rise"][rows])})
        begin += int(count)
    said = {"curves": charts, "volts": n["volts"], "impeller": n["density_share"] == 1.0, "rated_with": w.heaviness(n["test_density"])}
    return "electric_pump", {**said, "relief": w.pressure(n["relief_set_pressure"])} if n["relief_set_pressure"] > 0 else said


def _centrifugal_pump(w, n):
    return "centrifugal_pump", {"points": _points(w, n["curve_flow"], n["curve_rise"]), "rated_speed": w.turns(n["rated_speed"]), "speed": w.turns(n["speed"]),
                                "rated_with": w.heaviness(n["rated_density"])}


def _displacement_pump(w, n):
    rated = f"{n['rated_efficiency']!r} at {w.pressure(n['rated_rise'])}, {w.turns(n['rated_speed'])}, {w.thickness(n['rated_viscosity'])}"
    return "displacement_pump", {"displacement": w.volume(n["displacement"]), "speed": w.turns(n["speed"]), "volumetric_efficiency": rated,
                                 "turbulent_share": n["turbulent_share"]}


_WORDS = {
    "line": _line, "three-k fitting": _elbow, "size step": _step, "orifice": _orifice, "short tube orifice": _orifice, "resistance": _resistance,
    "opening": lambda w, n: ("pickup", {"bore": w.length(n["bore"]), "edge": f"{n['entrance_loss']!r}"}),
    "return opening": lambda w, n: ("opening", {"bore": w.length(n["bore"]), "edge": f"{n['entrance_loss']!r}"}),
    "core": _core, "valve": _valve, "check valve": _check, "relief valve": _relief, "bypass regulator": _bypass, "reducing regulator": _reducing,
    "filter": lambda w, n: ("filter", w.element(n)), "filter with bypass": _filter_with_bypass, "quadratic pump": _quadratic_pump,
    "electric pump": _electric_pump, "centrifugal pump": _centrifugal_pump, "positive displacement pump": _displacement_pump,
}


def describe(plumbing, system="SI", name=None):
    """The circuit in builders' words, as a file holds it: headings, and under them keys with texts; every part is a run of its own."""
    words = Words(plumbing, system)
    told = {"circuit": {"name": name or f"random {plumbing.seed}", "fluid": words.fluid(), "invented": True},
            "tank": {}, "fixed": {}, "junction": {}, "run": [], "tee": [], "injectors": {}}
    for place in plumbing.places:
        word, said = words.place(place)
        told[word][place] = said
    for part in plumbing.parts:
        if part.kind == "tee":
            told["tee"].append({"name": part.name, **words.tee(part)})
        elif part.kind == "injector bank":
            told["injectors"][part.name] = words.injectors(part)
        else:
            word, said = words.part(part)
            told["run"].append({"name": f"run {part.name}", "from": part.start, "to": part.end, "parts": [{"part": word, **said}]})
    return told


def build(told):
    """The `flarenut.Circuit` of what `describe` told."""
    import flarenut as fn

    circuit = dict(told["circuit"])
    if isinstance(circuit["fluid"], dict):
        circuit["fluid"] = fn.constant_fluid(**circuit["fluid"])
    car = fn.Circuit(circuit.pop("name"), **circuit)
    for word in ("tank", "fixed", "junction"):
        for place, said in told[word].items():
            getattr(car, word)(place, **said)
    for run in told["run"]:
        parts = [getattr(fn, part["part"])(**{key: value for key, value in part.items() if key != "part"}) for part in run["parts"]]
        car.run(run["name"], run["from"], run["to"], parts)
    for tee in told["tee"]:
        car.tee(**tee)
    for bank, said in told["injectors"].items():
        car.injectors(bank, **said)
    for case, said in told.get("case", {}).items():
        car.case(case, **said)
    return car


def to_circuit(plumbing, system="SI", name=None):
    """The same circuit in flarenut; runs, parts and places have the names of the plumbing."""
    return build(describe(plumbing, system, name))
