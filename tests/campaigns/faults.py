"""Faults planted into random circuits, and what a builder has to be told of each.

A `Planted` holds a circuit with one fault, as `describe` tells it, and `told`: ways in which it may be told, each a tuple of texts that must all
stand in one and the same sentence: a refusal, the cause of a case without an answer, or a finding with its code. The part or place at fault is
always among them, by its name. What is never told rightly is counted as a wrong cause.
"""

import random
from typing import NamedTuple

from plumbing import build, describe
from random_plumbing import random_plumbing


class Planted(NamedTuple):
    kind: str
    circuit: dict
    told: tuple
    refused: bool  # whether it has to be refused before anything is solved


class NotHere(Exception):
    """This random circuit has no place for this fault; another has."""


PUMPS = ("electric_pump", "formula_pump", "displacement_pump", "centrifugal_pump")
FLUIDS = {"return": ("gasoline", "E85", "diesel"), "dead head": ("gasoline", "E30"), "oil": ("SAE 10W-40",), "coolant": ("water", "50/50 coolant"),
          "net": ("water", "diesel"), "bench": ("gasoline", "water")}
WARM = {"SAE 10W-40": "90 C", "water": "40 C", "50/50 coolant": "60 C"}


class Base:
    """A sound random circuit in words, and ways to find things in it."""

    def __init__(self, draw, family, parts=None, named=False):
        self.draw = draw
        self.plumbing = random_plumbing(draw.randrange(10**9), parts or draw.randint(8, 40), family)
        self.told = describe(self.plumbing)
        if named:  # as a file needs it
            liquid = draw.choice(FLUIDS[family])
            self.told["circuit"]["fluid"] = liquid
            self.told["circuit"]["fluid_temperature"] = WARM.get(liquid, "20 C")

    def parts(self, *words):
        """[(run, part)] of the parts of these words, in random order."""
        found = [(run, run["parts"][0]) for run in self.told["run"] if run["parts"][0]["part"] in words]
        self.draw.shuffle(found)
        if not found:
            raise NotHere
        return found

    def run_from(self, place, *words):
        return [run for run in self.told["run"] if run["from"] == place and (not words or run["parts"][0]["part"] in words)]

    def must_be_well(self):
        """Before a fault is planted whose telling needs all else to work: solved, and nothing that stops it."""
        case = build(self.told).solve()["as written"]
        if not case.converged or any(finding.severity == "stop" for finding in case.findings):
            raise NotHere

    def any_line(self):
        return self.parts("hose")[0]

    def valve(self, name, opening, numbers="2 bar at 10 L/min"):
        return {"part": "valve", "rated": numbers, "opening": opening, "leak": 1e-5, "name": name}

    def add(self, name, start, end, *parts):
        """A run more; where its places are new and unnamed they come to be by it."""
        self.told["run"].append({"name": f"run {name}", "from": start, "to": end, "parts": list(parts)})


def planted(kind, seed, named=False):
    """A `Planted` of a kind; `named` gives it a liquid by name, so that a file can hold it."""
    for turn in range(200):
        draw = random.Random(f"{kind} {seed} {turn}")
        try:
            circuit, told, refused = FAULTS[kind](draw, named)
        except NotHere:
            continue
        return Planted(kind, circuit, told, refused)
    raise RuntimeError(f"no random circuit takes a '{kind}'")


# ---- what is refused before anything is solved ----

def zero_bore(draw, named):
    base = Base(draw, draw.choice(("net", "return", "oil", "bench")), named=named)
    _, part = base.parts("hose", "orifice", "elbow")[0]
    part["bore"] = draw.choice(["0 mm", "0 in", "0.0 m"])
    return base.told, ((part["name"], "'bore'", "not above zero"), ("'bore'", "not above zero")), True


def negative_length(draw, named):
    base = Base(draw, draw.choice(("net", "return", "coolant")), named=named)
    _, part = base.any_line()
    part["length"] = f"-{draw.uniform(0.1, 9):.3f} m"
    return base.told, (("'length'", part["length"], "not above zero"),), True


def absurd_unit(draw, named):
    """A unit of the right kind and a wrong size, far beyond what any part has."""
    base = Base(draw, draw.choice(("net", "return", "dead head", "oil")), named=named)
    key, value = draw.choice([("bore", f"{draw.uniform(4, 20):.1f} m"), ("length", f"{draw.uniform(2, 9):.1f} km"),
                              ("roughness", f"{draw.uniform(10, 90):.1f} mm"), ("bore", f"{draw.uniform(4, 20):.1f} um")])
    _, part = base.any_line()
    part[key] = value
    return base.told, ((f"'{key}'", value), (part["name"], key)), True


def wrong_kind_of_unit(draw, named):
    base = Base(draw, draw.choice(("net", "return", "oil")), named=named)
    _, part = base.any_line()
    key, value = draw.choice([("length", "3 psi"), ("bore", "9 L/h"), ("roughness", "2 C")])
    part[key] = value
    return base.told, ((f"'{key}'", value.split()[1]), (f"'{key}'", value)), True


def bare_number(draw, named):
    base = Base(draw, draw.choice(("net", "return", "coolant")), named=named)
    _, part = base.any_line()
    key = draw.choice(["length", "bore"])
    part[key] = draw.choice([3, 2.5, "4"])
    return base.told, ((f"'{key}'", "without a unit"),), True


def no_number(draw, named):
    base = Base(draw, draw.choice(("net", "return", "coolant")), named=named)
    _, part = base.any_line()
    key = draw.choice(["length", "bore", "roughness"])
    part[key] = draw.choice(["nan m", "inf m", "-inf mm", "1e999 m", "NaN in", "1e400 mm"])
    return base.told, ((f"'{key}'",), (part["name"], key)), True


def duplicate_part(draw, named):
    base = Base(draw, draw.choice(("net", "return", "oil", "coolant")), named=named)
    (_, one), (_, other) = base.parts("hose", "orifice", "valve", "filter", "elbow", "resistance", "core", "reducer", "opening", "pickup")[:2]
    other["name"] = one["name"]
    return base.told, ((one["name"], "twice"),), True


def duplicate_run(draw, named):
    base = Base(draw, draw.choice(("net", "return", "oil", "coolant")), named=named)
    one, other = draw.sample(base.told["run"], 2)
    other["name"] = one["name"]
    return base.told, ((one["name"], "twice"),), True


def duplicate_place(draw, named):
    """A place that is said to be two things: a contradiction of what holds there, too."""
    base = Base(draw, draw.choice(("net", "return", "oil", "coolant")), named=named)
    name = draw.choice(list(base.told["junction"]))
    base.told[draw.choice(["tank", "fixed"])][name] = {}
    return base.told, ((name, "twice"),), True


def contradictory_heights(draw, named):
    base = Base(draw, draw.choice(("net", "return", "coolant")), named=named)
    run, part = base.any_line()
    part["length"], part["rise"] = "6 m", f"{draw.choice([-1, 1]) * draw.uniform(3.0, 5.5):.3f} m"
    return base.told, ((run["name"], "climb", run["from"], run["to"]),), True


def contradictory_flow(draw, named):
    base = Base(draw, draw.choice(("net", "return", "oil")), named=named)
    name = draw.choice([name for name in base.told["junction"]])
    base.told["junction"][name] |= {"demand": "3 L/h", "supply": "2 L/h"}
    return base.told, ((name, "'supply'", "'demand'"),), True


def sense_nowhere(draw, named):
    base = Base(draw, draw.choice(("return", "dead head")), named=named)
    _, part = base.parts("bypass_regulator", "reducing_regulator")[0]
    key = draw.choice(["senses", "reference"])
    part[key] = "manifolt"
    return base.told, ((part["name"], "no junction 'manifolt'", f"'{key}'"),), True


def rise_beyond_length(draw, named):
    base = Base(draw, draw.choice(("net", "return")), named=named)
    _, part = base.any_line()
    part["length"], part["rise"] = "1 m", f"{draw.uniform(1.2, 4):.2f} m"
    return base.told, (("'rise'", part["rise"], "length"),), True


def filter_cleaner_than_clean(draw, named):
    base = Base(draw, draw.choice(("net", "return", "oil")), named=named)
    _, part = base.parts("filter")[0]
    part["loading"] = round(draw.uniform(0.01, 0.9), 3)
    return base.told, (("'loading'", "less than clean"),), True


def two_presets_of_flow(draw, named):
    """A pump whose chart climbs as a whole: its points are swapped."""
    base = Base(draw, draw.choice(("coolant", "return", "dead head")), named=named)
    _, part = base.parts("centrifugal_pump", "electric_pump")[0]
    for points in [part["points"]] if "points" in part else [chart["points"] for chart in part["curves"]]:
        rises = [point[1] for point in points][::-1]
        for point, rise in zip(points, rises):
            point[1] = rise
    return base.told, (("rising with flow",),), True


FAULTS = {"zero bore": zero_bore, "negative length": negative_length, "absurd unit": absurd_unit, "unit of another kind": wrong_kind_of_unit,
          "number without unit": bare_number, "no number": no_number, "duplicate part": duplicate_part, "duplicate run": duplicate_run,
          "duplicate place": duplicate_place, "contradictory heights": contradictory_heights, "contradictory flow": contradictory_flow,
          "sensing nowhere": sense_nowhere, "rise beyond length": rise_beyond_length, "filter cleaner than clean": filter_cleaner_than_clean,
          "pump chart that rises": two_presets_of_flow}
