"""Injectors: pressure across them too high or too low and why, held open too long, a pump that passes next to nothing.

The limits are common practice, no source.
"""

import pytest

import flarenut as fn
from flarenut import checks

PSI = 6894.757293168361


def car(returning="regulator", *, reference="manifold", return_size="-6", set="43.5 psi", start="rail", end="cell", dead_head="95 psi",
        flow="1000 cc/min at 3 bar", **conditions):
    """`returning`: a regulator and a hose, an open "hose" alone, or None."""
    circuit = fn.Circuit("car (invented)", fluid="E85")
    circuit.tank("cell", level="8 in")
    circuit.run("feed", "cell", "rail", [fn.formula_pump(dead_head, "150 gph", name="pump"),
                                         fn.hose("-8", "11 ft", spec="ptfe", name="feed hose")])
    hose = fn.hose(return_size, "12 ft", spec="ptfe", name="return hose")
    regulator = fn.bypass_regulator(set, reference=reference, wide_open="10 psi at 400 L/h", name="regulator")
    if returning:
        circuit.run("return", start, end, [regulator, hose] if returning == "regulator" else [hose])
    circuit.injectors("bank", "rail", count=6, flow=flow)
    circuit.case("run", **{"volts": "13.5 V", "duty": "5 %", "manifold": "0 psi", **conditions})
    return circuit.solve()["run"]


def told(case, code, limits=None):
    found = [one for one in checks.case_findings(case, limits) if one.code == code]
    assert len(found) <= 1, found
    return found[0] if found else None


def across(case):
    rail, manifold = (end.total for end in case.solution.ends("bank")[:2])
    return rail - manifold


CODES = ("injector pressure", "injector pressure low", "no regulator", "boost not followed", "injector duty", "pump near dead head")


@pytest.mark.parametrize("manifold", ["18 inHg vacuum", "20 psi boost"])
def test_a_sound_return_system_draws_none_of_them(manifold):
    case = car(manifold=manifold)
    assert not any(told(case, code) for code in CODES)


# ---- too little ----

def test_boost_that_the_regulator_does_not_feel_stops_the_engine_short_of_fuel():
    case = car(reference="ambient", manifold="20 psi boost")
    found = told(case, "boost not followed")
    assert found.severity == "stop" and found.value.si == pytest.approx(across(case)) and found.limit.si == pytest.approx(0.75 * 3e5)
    assert found.value.to("psi") == pytest.approx(24.0, abs=2.0) and found.numbers["boost"].to("psi") == pytest.approx(20.0)
    assert "reference hose to the manifold" in found.cure and told(case, "injector pressure low") is None


def test_a_little_boost_is_watched_and_none_or_vacuum_is_not():
    assert told(car(reference="ambient", manifold="7 psi boost"), "boost not followed").severity == "watch"
    for word in ("0 psi", "18 inHg vacuum", "3 psi boost"):
        assert told(car(reference="ambient", manifold=word), "boost not followed") is None


def test_an_open_return_without_regulator_stops():
    case = car("hose")
    found = told(case, "injector pressure low")
    assert across(case) < 0.2 * 3e5 and found.severity == "stop" and found.value.si == pytest.approx(across(case))
    assert "no regulator" in found.text() and "a regulator between" in found.cure and found.numbers["rated"].si == pytest.approx(3e5)


def test_a_regulator_set_low_is_held_against_the_rating():
    assert told(car(set="40 psi"), "injector pressure low") is None
    found = told(car(set="30 psi"), "injector pressure low")
    assert found.severity == "stop" and "setting" in found.cure
    assert told(car(set="30 psi"), "injector pressure low", checks.Limits(injector_pressure_least="60 %")) is None


def test_a_starved_regulator_is_spoken_of_once():
    case = car(duty="80 %", volts="8 V")
    assert told(case, "regulator starved").severity == "stop" and told(case, "injector pressure low") is None


def test_injectors_that_are_shut_need_no_pressure():
    assert told(car("hose", duty="0 %"), "injector pressure low") is None


# ---- too much ----

def test_no_return_at_all_stops_and_the_pump_heats_its_fuel():
    case = car(None, duty="2 %")
    found = told(case, "injector pressure")
    assert found.severity == "stop" and "nothing limits" in found.text() and "a return with a regulator" in found.cure
    dead = told(case, "pump near dead head")
    drive = [case.number(f"pump.{name}") for name in ("shutoff_rise", "linear", "quadratic")]
    flow = case.solution.flow_of("pump") / case.liquid_in("pump")["density"]
    free = flow / dead.value.si
    assert dead.severity == "watch" and drive[0] == pytest.approx(drive[1] * free + drive[2] * free**2, rel=1e-6)  # no rise left there
    assert dead.value.si < 0.05 and "gets hot" in dead.text()


def test_without_a_regulator_less_than_twice_the_rating_is_a_fix():
    case = car(None, dead_head="70 psi")
    assert 1.25 * 3e5 < across(case) < 2 * 3e5
    assert told(case, "no regulator").severity == "fix" and told(case, "injector pressure") is None
    assert told(car(None, dead_head="48 psi"), "no regulator") is None


@pytest.mark.parametrize(("words", "why", "cure"), [
    ({"return_size": "-3", "dead_head": "130 psi"}, "wide open", "wider return"), ({"start": "cell", "end": "rail"}, "in backwards", "round"),
    ({"reference": "rail"}, "senses its own supply", "reference hose"), ({"set": "435 psi"}, "shut", "unit of the setting")])
def test_where_a_regulator_is_present_it_is_said_what_is_wrong_with_it(words, why, cure):
    found = told(car(**words, duty="2 %"), "injector pressure")
    assert found.severity == "stop" and why in found.text() and cure in found.cure
    assert "nothing limits" not in found.text() and "a return with a regulator" not in found.cure


# ---- how long they are open ----

@pytest.mark.parametrize(("duty", "severity"), [("85 %", None), ("86 %", "watch"), ("100 %", "fix")])
def test_duty_has_a_ceiling(duty, severity):
    found = told(car(duty=duty, flow="300 cc/min at 3 bar"), "injector duty")
    assert (found.severity if found else None) == severity
    if found:
        assert found.value.to("%") == pytest.approx(float(duty.split()[0])) and found.limit.to("%") == pytest.approx(85.0)


def test_a_duty_that_nobody_spoke_of_is_not_judged():
    circuit = fn.Circuit("car (invented)", fluid="E85")
    circuit.tank("cell", level="8 in")
    circuit.run("feed", "cell", "rail", [fn.formula_pump("95 psi", "150 gph", name="pump")])
    circuit.injectors("bank", "rail", count=6, flow="300 cc/min at 3 bar", to="ambient")
    case = circuit.solve()["as written"]
    assert case.number("bank.duty") == 1.0 and told(case, "injector duty") is None
