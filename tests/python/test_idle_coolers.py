"""Coolers that next to nothing passes: what holds the liquid back is named, wherever it stands on their way. All circuits are invented."""

import flarenut as fn
import pytest


def cooler(name):
    return fn.cooler("8 kW at 20 L/min", rated_inlet="110 C", rated_air="30 C at 5 m/s", face=["280 mm", "180 mm"],
                     drop="0.4 bar at 20 L/min", rated_with="own at 100 C", wind_share=0.3, name=name)


def circuit(before=(), *, own=(), coolers=("oil cooler",), backwards=False, beside=()):
    """Oil of a van: a plain way home, and coolers with `own` parts each behind a run with `before`. `beside`: parts of a third way."""
    made = fn.Circuit("blocked (invented)", fluid="SAE 10W-40", units="metric", air_temperature="25 C", invented=True)
    made.tank("sump", level="120 mm", temperature="found", heat="2.6 kW", heat_loss="30 W/K")
    made.run("round", "sump", "split", [fn.displacement_pump("12 cc/rev", speed="3000 rpm", name="pump")])
    made.run("plain", "split", "sump", [fn.resistance("2 bar at 30 L/min", name="engine")])
    ends = ("sump", "split") if backwards else ("split", "sump")
    made.run("to cooler", ends[0], "cooler in", list(before) or [fn.hose(bore="12 mm", length="0.2 m", name="hose to cooler")])
    for place, name in enumerate(coolers):
        made.run(f"cooling {place}", "cooler in", ends[1], [*own, cooler(name)])
    if beside:
        made.run("beside", "split", "sump", list(beside))
    made.case("full speed", speed="3000 rpm", **{f"{name}.fan": "5 m/s" for name in coolers})
    return made


def cooled(*args, **words):
    return circuit(*args, **words).solve()["full speed"]


def hot(case):
    (found,) = [one for one in case.findings if one.code == "liquid too hot"]
    return found


def cock(opening=0.0, name="cock"):
    return fn.valve(rated="0.1 bar at 30 L/min", opening=opening, name=name)


CHECK = fn.check_valve(bore="12 mm", name="check")
STAT = fn.thermostat("140 C", bore="14 mm", bleed="0.1 %", name="stat")


@pytest.mark.parametrize("before, words, cure", [
    ([cock()], {}, "open cock, which stands shut; its size and its air do not matter before that"),
    ([cock(0.001)], {}, "open cock, which stands nearly shut; its size"),
    ([cock(), cock(name="second cock")], {}, "open cock and second cock, which stand shut; its size"),
    ([cock(), cock(0.05, "second cock")], {}, "open cock, which stands shut; its size"),
    ([CHECK], {"backwards": True}, "turn check round if it faces the wrong way: more pressure stands behind it than before it; its size"),
    ([fn.check_valve("5 bar", bore="12 mm", name="check")], {},
     "a weaker spring in check: too little pressure is left to open it; its size"),
    ([STAT], {}, "look whether stat opens: it stands shut; its size"),
    ([cock()], {"coolers": ("first", "second")}, "open cock, which stands shut; their size and their air do not matter before that")])
def test_what_is_shut_in_a_run_before_the_cooler_is_told_and_not_thick_oil(before, words, cure):
    case = cooled(before, **words)
    coolers = words.get("coolers", ("oil cooler",))
    assert all(abs(case.ends(one)[0].flow) < 0.01 * abs(case.ends("pump")[0].flow) for one in coolers)
    found = hot(case)
    assert f"next to nothing passes {' and '.join(coolers)}" in found.what and "thick" not in found.what and "tried" not in found.what
    assert found.cure.startswith(cure)


def test_what_is_shut_on_another_way_is_not_told_of_the_cooler():
    found = hot(cooled([cock()], beside=[STAT, cock(name="far cock")]))
    assert found.cure.startswith("open cock, which stands shut") and "stat" not in found.cure and "far cock" not in found.cure


def test_a_drain_cock_or_a_relief_at_the_cooler_neither_hides_the_shut_cock_before_it_nor_is_told_of():
    made = circuit([cock()])
    made.run("drain", "cooler in", "sump", [cock(name="drain")])
    made.tank("catch tank", level="50 mm")
    made.run("safety", "cooler in", "catch tank", [fn.relief_valve("6 bar", wide_open="2 bar at 60 L/min", name="safety valve")])
    found = hot(made.solve()["full speed"])
    assert found.cure.startswith("open cock, which stands shut; its size") and "drain" not in found.cure and "safety" not in found.cure


def test_where_nothing_is_shut_a_cock_is_not_sought():
    """A jet so small that next to nothing passes: the drain at the cooler has nothing to do with it."""
    made = circuit([fn.orifice("0.2 mm", name="jet")])
    made.run("drain", "split", "cooler in", [cock(name="way round the jet")])
    found = hot(made.solve()["full speed"])
    assert "open way round the jet" not in found.cure


def test_a_cock_that_is_little_open_but_loses_less_than_the_thick_oil_is_not_blamed():
    """Of a cooler that stands full of cold oil the cure is another: the cock loses a small part of what the cooler does."""
    case = cooled([cock(0.09)], own=[fn.hose(bore="1.2 mm", length="6 m", name="capillary")])
    assert abs(case.ends("oil cooler")[0].flow) < 0.01 * abs(case.ends("pump")[0].flow)
    assert "open cock" not in hot(case).cure
