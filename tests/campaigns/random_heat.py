"""Random oil circuits with coolers, whose temperatures are found: a `HeatPlumbing` of plain SI numbers, and its words in flarenut. All invented."""

import random
from typing import NamedTuple

from judge_heat_laws import ZERO, Oil
from plumbing import Part, Plumbing, Words
from random_numbers import Numbers

DESIGN = 353.15  # [K], where parts are drawn


class HeatPlumbing(NamedTuple):
    """`plumbing` has the oil at the design temperature as its fluid; coolers are of the kind "core" with the numbers of docs/parts/air_core.md beside.

    `oil`: kv40, kv100 [mm2/s], density [kg/m3]. `sump`: None where its temperature is found, else it [K]; `heat` into it [W], `loss` of it [W/K];
    `air` [K], `fan` [m/s], `efficiency` of the pump.
    """

    plumbing: Plumbing
    oil: dict
    sump: float
    heat: float
    loss: float
    air: float
    fan: float
    efficiency: float


def random_heat(seed):
    draw = random.Random(f"heat {seed}")
    oil = {"kv40": draw.uniform(40, 150), "kv100": 0.0, "density": draw.uniform(845, 890)}
    oil["kv100"] = draw.uniform(0.55, 0.75) * oil["kv40"] ** 0.68
    liquid = Oil(**oil)
    fluid = {**liquid.state(DESIGN), "name": "oil", "vapour_pressure": 0.0, "specific_heat": 2000.0, "conductivity": 0.13}
    numbers = Numbers(draw, fluid)
    flow, opens = numbers.log(1e-4, 8e-4), draw.uniform(2e5, 6e5)
    places = {"sump": {"kind": "tank", "elevation": 0.0, "level": draw.uniform(0.02, 0.3), "vent_gauge": 0.0}}
    parts = []

    def row(start, end, design, kinds, slow=False):
        at = start
        for number, kind in enumerate(kinds):
            last = number == len(kinds) - 1
            to = end if last else f"{end}:{start}:{len(parts)}"
            if to not in places:
                places[to] = {"kind": "junction", "elevation": 0.0, "demand": 0.0}
            kind, made = kind if isinstance(kind, tuple) else (kind, numbers.part(kind, design, slow))
            parts.append(Part(kind, f"{kind} {len(parts)}", at, to, made))
            at = to

    for name in ("pump in", "pump out", "filtered", "cooled"):
        places[name] = {"kind": "junction", "elevation": 0.0, "demand": 0.0}
    row("sump", "pump in", flow, ["opening", "line"], slow=True)
    row("pump in", "pump out", flow, [("positive displacement pump", numbers.pump("positive displacement pump", flow, opens))])
    row("pump out", "sump", flow, [("relief valve", numbers.relief_valve(opens, flow)), "return opening"])
    row("pump out", "filtered", flow, ["filter", "line"])
    ways = draw.choice([1, 1, 2])
    for _ in range(ways):
        inside = [("core", cooler(draw, liquid, flow / ways, numbers)) for _ in range(draw.choice([1, 1, 2]))]
        row("filtered", "cooled", flow / ways, ["line", *inside, draw.choice(["line", "three-k fitting", "orifice"])])
    if draw.random() < 0.4:
        row("filtered", "cooled", 0.3 * flow, ["orifice", "line"])
    for _ in range(draw.randint(1, 3)):
        row("cooled", "sump", flow * draw.uniform(0.2, 0.6), ["line", draw.choice(["orifice", "resistance", "short tube orifice"]), "line", "return opening"])
    plumbing = Plumbing(seed, fluid, places, tuple(parts), "heat")
    found = draw.random() < 0.7
    return HeatPlumbing(plumbing, oil, 0.0 if found else draw.uniform(330, 390), draw.uniform(1e3, 1e4), draw.choice([0.0, draw.uniform(1, 20)]),
                        ZERO + draw.uniform(-5, 40), draw.uniform(1, 8), draw.uniform(0.6, 0.9))


def cooler(draw, liquid, flow, numbers):
    """Drop of two coefficients, and a rating that its plain passages can meet."""
    drop, share, area = draw.uniform(1e4, 8e4), draw.uniform(0.2, 0.8), draw.uniform(0.04, 0.12)
    rated_air, speed = ZERO + draw.uniform(15, 35), draw.uniform(3, 7)
    inside, bore, length = area * draw.uniform(8, 30), draw.uniform(2e-3, 5e-3), draw.uniform(0.2, 0.6)
    film = 3.7 * 0.13 * inside / bore  # [W/K] of laminar passages, at least
    carried = min(flow * 1.7e6, speed * area * 1150.0)
    return {"viscous": share * drop / (numbers.viscosity * flow), "inertial": (1 - share) * drop / (numbers.density * flow**2), "face_area": area,
            "rated_flow": flow, "rated_air": rated_air, "rated_inlet": rated_air + 60.0, "rated_speed": speed, "inside_area": inside, "passage_bore": bore,
            "passage_length": length, "heat_per_degree": draw.uniform(0.2, 0.6) / (1 / film + 1 / carried)}


def to_circuit(described):
    """The circuit in flarenut; solve its case "judged"."""
    import flarenut as fn

    plumbing = described.plumbing
    words, oil = Words(plumbing), described.oil
    liquid = fn.oil(kv40=f"{oil['kv40']!r} mm2/s", kv100=f"{oil['kv100']!r} mm2/s", density=f"{oil['density']!r} kg/m3")
    car = fn.Circuit(f"heat {plumbing.seed}", fluid=liquid, invented=True)
    level, fluid = words.length(plumbing.places["sump"]["level"]), plumbing.fluid
    car.tank("sump", height="0 m", level=level, temperature=f"{described.sump!r} K" if described.sump else "found", heat=f"{described.heat!r} W",
             heat_loss=f"{described.loss!r} W/K")
    for name, place in plumbing.places.items():
        if place["kind"] == "junction":
            car.junction(name, height="0 m")
    for part in plumbing.parts:
        n = part.numbers
        if part.kind == "core":
            drops = [words.at(n["viscous"] * fluid["viscosity"] * q + n["inertial"] * fluid["density"] * q * q, q)
                     for q in (0.5 * n["rated_flow"], n["rated_flow"])]
            made = fn.cooler(f"{n['heat_per_degree']!r} W/K at {words.flow(n['rated_flow'])}", face=f"{n['face_area']!r} m2", drop=drops,
                             rated_with=f"own at {DESIGN!r} K", rated_air=f"{n['rated_air']!r} K at {n['rated_speed']!r} m/s", wetted_area=f"{n['inside_area']!r} m2",
                             name=part.name, passage_bore=words.length(n["passage_bore"]), passage_length=words.length(n["passage_length"]))
        else:
            word, said = words.part(part)
            if part.kind == "relief valve":
                said = {**said, "rated_with": words.heaviness(fluid["density"])}
            if part.kind == "positive displacement pump":
                said = {**said, "overall_efficiency": described.efficiency}
            made = getattr(fn, word)(**said)
        car.run(f"run {part.name}", part.start, part.end, [made])
    car.case("judged", air_temperature=f"{described.air!r} K", fan=f"{described.fan!r} m/s", fluid_temperature=f"{DESIGN!r} K")
    return car
