"""Planted faults of heat: what is put in has no way out, or another one than was meant. See `faults`."""

import faults
from faults import NotHere
from judge_heat_laws import ZERO
from plumbing import build
from random_heated import GLYCOL, Warmed

OILS = ("SAE 10W-40", "SAE 5W-30", "SAE 30")


def _warmed(draw, family):
    """A circuit of `random_heated`, with a liquid by name, so that a file can hold it, and a tank whose temperature is found."""
    one = Warmed(draw, family, ZERO + draw.uniform(5, 35))
    one.told["circuit"]["fluid"] = draw.choice(OILS) if family == "oil" else GLYCOL
    one.told["tank"][one.tank]["temperature"] = "found"
    return one


def _coolers(told):
    return [run["parts"][0] for run in told["run"] if run["parts"][0]["part"] == "cooler"]


def no_heat_sink(draw, named):
    """Nothing that cools is left: coolers have no air side, lines no walls, the tank loses nothing."""
    one = _warmed(draw, draw.choice(("oil", "coolant")))
    for part in (run["parts"][0] for run in one.told["run"]):
        if part["part"] == "cooler":
            kept = {key: part[key] for key in ("drop", "rated_with", "name")}
            part.clear()
            part.update(kept, part="core")
    _nothing_else_cools(one)
    return one.told, (("none can get out",),), False


def _nothing_else_cools(one):
    for part in (run["parts"][0] for run in one.told["run"]):
        for key in ("air", "air_rise", "sleeve") if part["part"] != "cooler" else ():
            part.pop(key, None)
    one.told["tank"][one.tank].pop("heat_loss", None)


def cooler_without_air(draw, named):
    one = _warmed(draw, draw.choice(("oil", "coolant")))
    coolers = _coolers(one.told)
    if not coolers or any(run["parts"][0].get("opening") == 0.0 for run in one.told["run"]):
        raise NotHere
    _nothing_else_cools(one)  # or its thermostat may never ask for the cooler
    one.told["tank"][one.tank]["heat"] = f"{draw.uniform(3000, 6000)} W"
    for part in coolers:
        part["fan"] = "0 m/s"
    # Where next to nothing passes it, since the oil in it is cold and thick, that is what is told.
    return one.told, (*(("cooler without air", part["name"]) for part in coolers), ("steady state", "cooler without air"),
                      ("liquid too hot", "times as thick")), False


def thermostats_exchanged(draw, named):
    """The one that opens with heat lies in the way round the cooler, the one that shuts in the way through it."""
    one = _warmed(draw, draw.choice(("oil", "coolant")))
    pair = {part["name"]: part for part in (run["parts"][0] for run in one.told["run"]) if part["name"] in ("thermostat", "bypass")}
    if len(pair) < 2:
        raise NotHere
    pair["thermostat"]["part"], pair["bypass"]["part"] = "bypass_thermostat", "thermostat"
    pair["thermostat"].pop("bleed")
    return one.told, (("thermostats exchanged", "thermostat"), ("are the two exchanged?", "'thermostat'")), False


def nothing_drains_back(draw, named):
    """What drips from the bearings does not fall back into the sump."""
    one = _warmed(draw, "oil")
    case = build(one.told).solve(other_states=False)["as written"]
    if not case.converged or any(finding.code == "oil spilled" for finding in case.findings):  # next to nothing comes to the crankcase
        raise NotHere
    del one.told["fixed"]["crankcase"]["drains_to"]
    return one.told, (("no way back", "crankcase"), ("does not come back", "'crankcase'")), False


def too_much_heat(draw, named):
    """Kilowatts for watts."""
    one = _warmed(draw, draw.choice(("oil", "coolant")))
    ((place, heat),) = one.put.items()
    one.told["tank" if place == one.tank else "junction"][place]["heat"] = f"{max(heat, 500.0)!r} kW"
    return one.told, (("steady state", "heat put in"), (f"'{place}'", "'heat'", "the most that is taken of a place")), False


FAULTS = {"no heat sink": no_heat_sink, "cooler without air": cooler_without_air, "thermostats exchanged": thermostats_exchanged,
          "nothing drains back": nothing_drains_back, "too much heat": too_much_heat}
faults.FAULTS.update(FAULTS)
