"""Faults of how a circuit is put together: what only its answer, or the want of one, can tell. See `faults`."""

import faults
from faults import PUMPS, Base, NotHere


def floating_part(draw, named):
    base = Base(draw, draw.choice(("net", "return", "oil", "coolant", "dead head")), named=named)
    hose = {"part": "hose", "bore": "8 mm", "length": "1 m", "name": "island hose"}
    base.add("island hose", "island a", "island b", hose)
    if draw.random() < 0.7:
        base.add("island jet", "island b", "island a", {"part": "orifice", "bore": "2 mm", "name": "island jet"})
    else:
        base.told["junction"] |= {"island a": {}, "island b": {}}
    return base.told, (("island",),), False


def reversed_pump(draw, named):
    base = Base(draw, "return", named=named)
    pumps = base.parts(*PUMPS)
    if len(pumps) > 1:
        raise NotHere
    run, part = pumps[0]
    run["from"], run["to"] = run["to"], run["from"]
    return base.told, ((part["name"], "swapped"), (part["name"], "backwards"), (part["name"], "wrong way round")), False


def reversed_check_valve(draw, named):
    base = Base(draw, "return", named=named)
    pumps = base.parts(*PUMPS)
    checks = [(run, part) for run, part in base.parts("check_valve") for pump, _ in pumps if pump["to"] == run["from"]]
    if len(pumps) > 1 or not checks:
        raise NotHere
    run, part = checks[0]
    run["from"], run["to"] = run["to"], run["from"]
    return base.told, (("check valve backwards", part["name"]), (part["name"], "wrong way round")), False


def dead_head(draw, named):
    """Every way on from the pump is shut by a valve."""
    base = Base(draw, draw.choice(("return", "dead head", "coolant")), named=named)
    pumps = base.parts("electric_pump", "formula_pump", "centrifugal_pump")
    if len(pumps) > 1:
        raise NotHere
    run, part = pumps[0]
    base.told["junction"]["behind the pump"] = dict(base.told["junction"][run["to"]])
    base.add("shut cock", "behind the pump", run["to"], base.valve("shut cock", 0.0))
    run["to"] = "behind the pump"
    return base.told, (("dead-headed pump", part["name"]), ("below absolute zero", "shut cock"), ("below absolute zero", "cannot be met")), False


def disconnected_return(draw, named):
    """What came home ends at a place that leads nowhere."""
    base = Base(draw, "return", named=named)
    homes = [run for run in base.told["run"] if run["to"] == "cell" and run["from"] not in ("pump out",)]
    backs = [run for run in homes if run["parts"][0]["part"] == "opening" and not run["from"].startswith("way 5")]
    if len(backs) != 1:
        raise NotHere
    backs[0]["to"] = "overbord"
    return base.told, (("overbord",),), False


def humped_curve(draw, named):
    base = Base(draw, draw.choice(("return", "dead head", "coolant")), named=named)
    _, part = base.parts("electric_pump", "centrifugal_pump")[0]
    for points in [part["points"]] if "points" in part else [chart["points"] for chart in part["curves"]]:
        top = float(points[0][1].split()[0])
        points[0][1] = f"{0.85 * float(points[1][1].split()[0])!r} Pa"
        if float(points[-1][1].split()[0]) >= float(points[0][1].split()[0]) or top <= 0:
            raise NotHere
    return base.told, (("pump curve with a hump", part["name"]), (part["name"], "rises with flow")), False


def sensing_loop(draw, named):
    base = Base(draw, "return", named=named)
    _, part = base.parts("bypass_regulator")[0]
    if any("demand" in place for place in base.told["junction"].values()):
        raise NotHere  # its flow could not come, and that is told first
    base.told["fixed"].pop("open air", None) if part["reference"] == "open air" else None
    part["reference"] = part["senses"]
    return base.told, (("regulator senses its own supply", part["name"]),), False


def relief_below_regulator(draw, named):
    base = Base(draw, "return", named=named)
    (_, part), (_, regulator) = base.parts("relief_valve")[0], base.parts("bypass_regulator")[0]
    base.must_be_well()
    part["opens_at"] = f"{0.4 * float(regulator['set'].split()[0]):.0f} Pa"
    part["override"] = f"{0.05 * float(regulator['set'].split()[0]):.0f} Pa"
    part["wide_open"] = "1 bar at 20 L/min"
    return base.told, (("relief open", part["name"]), (part["name"], "set too low")), False


def shut_valve_before_a_demand(draw, named):
    """A flow is asked for behind a shut cock, and nothing else leads there."""
    base = Base(draw, draw.choice(("net", "return", "dead head", "oil")), named=named)
    place = draw.choice(list(base.told["junction"]))
    base.told["junction"]["consumer"] = {"height": base.told["junction"][place]["height"], "demand": f"{draw.uniform(2, 50):.1f} L/h"}
    base.add("shut cock", place, "consumer", base.valve("shut cock", 0.0))
    return base.told, (("absolute zero", "'consumer'"), ("shut cock",)), False


def shut_valve_behind_a_supply(draw, named):
    """A flow is pushed against a shut cock: no pressure that anything bears would drive it."""
    base = Base(draw, draw.choice(("net", "return", "dead head", "oil")), named=named)
    place = draw.choice(list(base.told["junction"]))
    base.told["junction"]["bench in"] = {"height": base.told["junction"][place]["height"], "supply": f"{draw.uniform(50, 500):.1f} L/h"}
    base.add("shut cock", "bench in", place, base.valve("shut cock", 0.0))
    return base.told, (("shut cock",), ("'bench in'",)), False


def too_great_a_demand(draw, named):
    base = Base(draw, draw.choice(("net", "return", "dead head")), named=named)
    place = draw.choice([name for name in base.told["junction"] if not name.startswith(("way", "inlet"))])
    base.must_be_well()
    base.told["junction"][place].pop("supply", None)
    base.told["junction"][place]["demand"] = f"{draw.uniform(40, 90):.2f} kg/s"
    return base.told, (("absolute zero", "demand at", f"'{place}'"), ("absolute zero",),
                       ("below vapour pressure", "does not hold")), False  # where it is so by the speed of what comes


def starved_pump(draw, named):
    """A suction line that no pump could draw its flow through."""
    base = Base(draw, draw.choice(("return", "oil")), named=named)
    pumps = base.parts("displacement_pump", "electric_pump", "formula_pump")
    if len(pumps) > 1:
        raise NotHere
    base.must_be_well()
    run, part = pumps[0]
    base.told["junction"]["behind the straw"] = dict(base.told["junction"][run["from"]])
    base.add("straw", run["from"], "behind the straw", {"part": "orifice", "bore": "0.3 mm", "name": "straw"})
    run["from"] = "behind the straw"
    return base.told, (("suction margin", part["name"]), ("inlet vacuum", part["name"]), ("absolute zero", f"pump '{part['name']}'"),
                       ("dead-headed pump", part["name"]), ("straw",), ("below absolute zero", "cannot be met")), False


def regulator_backwards(draw, named):
    base = Base(draw, "return", named=named)
    run, part = base.parts("bypass_regulator")[0]
    if any(one.get("opening") == 0.0 for _, one in base.parts("valve")):  # nothing comes to it whichever way it is in
        raise NotHere
    base.must_be_well()
    run["from"], run["to"] = run["to"], run["from"]
    return base.told, (("regulator backwards", part["name"]), ("below absolute zero",)), False


def relief_backwards(draw, named):
    base = Base(draw, "oil", named=named)
    run, part = base.parts("relief_valve")[0]
    run["from"], run["to"] = run["to"], run["from"]
    return base.told, (("relief backwards", part["name"]), *(("no relief", pump["name"]) for _, pump in base.parts("displacement_pump"))), False


def closed_end(draw, named):
    base = Base(draw, draw.choice(("net", "return", "coolant", "oil")), named=named)
    place = draw.choice(list(base.told["junction"]))
    base.add("stub", place, "nowhere at all", {"part": "hose", "bore": "6 mm", "length": "2 m", "name": "stub"})
    return base.told, (("nowhere at all",),), False


def regulator_above_pump(draw, named):
    base = Base(draw, "return", named=named)
    base.parts("electric_pump", "formula_pump")
    _, part = base.parts("bypass_regulator")[0]
    if any(one.get("opening") == 0.0 for _, one in base.parts("valve")):
        raise NotHere
    base.must_be_well()
    part["set"] = f"{draw.uniform(40, 80):.1f} bar"
    return base.told, (("regulator set above the pump", part["name"]),), False


def no_relief(draw, named):
    base = Base(draw, "oil", named=named)
    pumps, (run, _) = base.parts("displacement_pump"), base.parts("relief_valve")[0]
    outs = [other for other in base.told["run"] if other["from"] == run["to"]]
    base.told["run"] = [other for other in base.told["run"] if other is not run and other not in outs]
    base.told["junction"].pop(run["to"], None)
    return base.told, tuple(("no relief", part["name"]) for _, part in pumps), False


FAULTS = {"floating part": floating_part, "reversed pump": reversed_pump, "reversed check valve": reversed_check_valve, "dead head": dead_head,
          "disconnected return": disconnected_return, "humped pump curve": humped_curve, "sensing loop": sensing_loop,
          "relief below regulator": relief_below_regulator, "shut valve before a demand": shut_valve_before_a_demand,
          "shut valve behind a supply": shut_valve_behind_a_supply, "too great a demand": too_great_a_demand, "starved pump": starved_pump,
          "regulator backwards": regulator_backwards, "relief backwards": relief_backwards, "closed end": closed_end,
          "regulator above the pump": regulator_above_pump, "no relief": no_relief}
faults.FAULTS.update(FAULTS)
