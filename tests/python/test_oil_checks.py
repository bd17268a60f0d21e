"""Engine oil: what the relief leaves to the engine, the pressure where the engine draws it, a suction line in the cold.

The limits are common practice, no source.
"""

import pytest

import flarenut as fn
from flarenut import checks

GALLON_PER_MINUTE = 6.309019640344e-5


def engine(speed="2500 rpm", temperature="100 C", *, opens_at="65 psi", displacement="16 cc/rev", hose="-10", suction="0.75 in",
           bearings="55 psi at 4 gpm", fluid="SAE 10W-40", relief=True, ratio=0.5, bypass=None):
    circuit = fn.Circuit("oil (invented)", fluid=fluid, fluid_temperature=temperature)
    circuit.tank("pan", level="4 in")
    circuit.run("suction", "pan", "pump out", [fn.tube(bore=suction, length="8 in", name="pick-up"),
                                               fn.displacement_pump(displacement, speed=speed, ratio=ratio, name="oil pump")])
    if relief:
        circuit.run("relief run", "pump out", "pan", [fn.relief_valve(opens_at, wide_open="15 psi at 10 gpm", name="relief")])
    circuit.run("main", "pump out", "gallery", [
        fn.filter(drop="2 psi at 8 gpm", rated_with="SAE 10W-40 at 100 C", bypass=bypass, name="filter"),
        fn.hose(hose, "4 ft", spec="full-size", name="hose")])
    circuit.run("engine", "gallery", "pan", [fn.resistance(drop=bearings, rated_with="SAE 10W-40 at 100 C", name="bearings")])
    return circuit.solve()["as written"]


def told(case, code, limits=None):
    found = [one for one in checks.case_findings(case, limits) if one.code == code]
    assert len(found) <= 1, found
    return found[0] if found else None


def test_a_sound_warm_engine_draws_nothing_but_presets_and_a_working_relief():
    assert {one.code for one in engine().findings} <= {"assumed", "relief open", "laminar flow unsettled"}


# ---- what the relief leaves ----

def test_a_cold_start_says_how_much_reaches_the_engine():
    case = engine("1800 rpm", "-18 C", suction="1.5 in", hose="-6")
    found = told(case, "oil spilled")
    gone, moved = case.solution.flow_of("relief"), case.solution.flow_of("oil pump")
    assert found.value.si == pytest.approx(1.0 - gone / moved, rel=1e-9) and found.value.si < 0.1 and found.severity == "fix"
    assert found.numbers["left"].si == pytest.approx(case.solution.flow_of("bearings") / case.liquid_in("oil pump")["density"], rel=1e-6)
    assert "thinner oil" in found.cure


@pytest.mark.parametrize(("share", "severity"), [(0.99, None), (1.01, "watch"), (2.6, "fix"), (9.9, "fix"), (10.1, "stop")])
def test_the_share_is_held_against_its_limit(share, severity):
    """A relief that opens so low that it takes most; a limit at that share, and one of 2.5 times that (0.4 of the limit is a fix), of ten times (a stop)."""
    case = engine("4000 rpm", opens_at="6 psi")
    left = 1.0 - case.solution.flow_of("relief") / case.solution.flow_of("oil pump")
    found = told(case, "oil spilled", checks.Limits(oil_consumer_share=f"{100 * share * left} %"))
    assert (found.severity if found else None) == severity


def test_hydraulic_oil_and_a_shut_relief_are_not_spoken_of():
    assert told(engine("4000 rpm", "40 C", opens_at="6 psi", fluid="ISO VG 46"), "oil spilled") is None
    assert told(engine("800 rpm"), "oil spilled") is None


# ---- pressure at the engine ----

def gauge(case):
    return case.at("gallery").gauge.to("psi")


def test_ten_psi_for_each_thousand_turns_where_the_engine_draws():
    """A small pump: 1000 rpm ask 10 psi. Turns of the engine count, not of its pump, which turns half as fast."""
    case = engine("1000 rpm", displacement="12 cc/rev")
    found = told(case, "oil pressure")
    assert 5.0 < gauge(case) < 10.0 and found.severity == "watch" and found.where == "gallery"
    assert found.value.to("psi") == pytest.approx(gauge(case)) and found.limit.to("psi") == pytest.approx(10.0)
    assert found.numbers["speed"].to("rpm") == pytest.approx(1000.0) and "1000 rpm" in found.text()


def test_less_than_half_of_that_or_than_the_floor_stops():
    half = engine("3000 rpm", displacement="4 cc/rev")
    assert gauge(half) < 15.0 and told(half, "oil pressure").severity == "stop"
    slow = engine("400 rpm", displacement="9 cc/rev")
    found = told(slow, "oil pressure")
    assert gauge(slow) < 5.0 and found.severity == "stop" and found.limit.to("psi") == pytest.approx(5.0) and "at any speed" in found.text()


def test_enough_is_enough_however_fast():
    case = engine("8000 rpm")
    assert 50.0 < gauge(case) < 80.0 and told(case, "oil pressure") is None
    assert told(case, "oil pressure", checks.Limits(oil_pressure_enough="90 psi")).limit.to("psi") == pytest.approx(80.0)


def test_a_pump_that_stands_still_and_hydraulic_oil_are_not_judged():
    assert told(engine("0 rpm"), "oil pressure") is None
    assert told(engine("1000 rpm", "40 C", displacement="2 cc/rev", fluid="ISO VG 46"), "oil pressure") is None


def test_a_demand_is_a_place_that_draws():
    circuit = fn.Circuit("turbocharger (invented)", fluid="SAE 10W-40", fluid_temperature="100 C")
    circuit.tank("pan", level="4 in")
    circuit.junction("turbocharger", demand="0.4 gpm")
    circuit.run("suction", "pan", "pump out", [fn.displacement_pump("16 cc/rev", speed="2000 rpm", name="oil pump")])
    circuit.run("relief run", "pump out", "pan", [fn.relief_valve("40 psi", wide_open="15 psi at 10 gpm", name="relief")])
    circuit.run("feed", "pump out", "turbocharger", [fn.hose("-3", "6 ft", spec="ptfe", name="hose")])
    case = circuit.solve()["as written"]
    found = told(case, "oil pressure")
    assert found.where == "turbocharger" and found.value.si == pytest.approx(case.at("turbocharger").gauge.si)


# ---- lines ----

def test_a_narrow_pressure_line_is_fast_though_the_relief_spills_straight_into_the_pan():
    case = engine("6000 rpm", hose="-4")
    found = told(case, "feed velocity")
    assert found.where == "hose" and found.value.si == pytest.approx(case.solution.ends("hose")[0].velocity) and found.value.si > 4.0
    assert told(engine("2000 rpm"), "feed velocity") is None


# ---- suction ----

def test_oil_near_a_full_vacuum_stops_and_is_not_to_be_cooled():
    case = engine("800 rpm", "-18 C", suction="0.5 in", displacement="10 cc/rev")
    found = told(case, "inlet vacuum")
    assert found.severity == "stop" and -found.value.si > 20 * 3386.389 and found.limit.to("inHg vacuum") == pytest.approx(20.0)
    assert "cool" not in found.cure and "warm the oil" in found.cure and "shorter pick-up" in found.cure
    assert not any("cool the liquid" in one.cure for one in case.findings)


def test_a_milder_vacuum_of_oil_is_a_fix_and_a_warm_one_is_silent():
    case = engine("800 rpm", "-18 C", suction="0.7 in")
    found = told(case, "inlet vacuum")
    assert 5 * 3386.389 < -found.value.si < 20 * 3386.389 and found.severity == "fix" and "warm the oil" in found.cure
    assert told(engine(), "inlet vacuum") is None


# ---- the bypass of a filter ----

@pytest.mark.parametrize(("temperature", "severity"), [("-10 C", "watch"), ("100 C", "fix")])
def test_a_bypass_open_in_the_cold_is_usual_and_warm_it_is_not(temperature, severity):
    speed = "1000 rpm" if severity == "watch" else "7000 rpm"
    case = engine(speed, temperature, suction="2 in", bypass="12 psi" if severity == "watch" else "0.3 psi")
    found = told(case, "bypass open")
    assert found.severity == severity and ("usual when cold" in found.what) == (severity == "watch")
