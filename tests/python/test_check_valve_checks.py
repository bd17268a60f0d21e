"""Checks on check valves that are in backwards, and the valves that do their duty."""

from math import nextafter

import flarenut as fn
import pytest
from altered_case import altered
from checks_example import codes, finding, pump, still


# ---- check valves ----

def valved(*pieces):
    car = still("valves")
    car.tank("cell", level="0.2 m")
    car.run("feed", "cell", "rail", list(pieces))
    car.run("out", "rail", "ambient", [fn.orifice("1 mm", name="jet")])
    return car


def backwards():
    """A check valve as written the wrong way round: a run of its own, towards the pump."""
    car = still("valves")
    car.tank("cell", level="0.2 m")
    car.run("feed", "cell", "outlet", [pump()])
    car.run("valve", "rail", "outlet", [fn.check_valve(bore="6 mm", name="check")])
    car.run("out", "rail", "ambient", [fn.orifice("1 mm", name="jet")])
    return car


def test_a_check_valve_that_a_pump_pushes_shut_is_asked_about():
    case = backwards().solve()["as written"]
    found = finding(case, "check valve backwards")
    inlet, outlet = case.ends("check")
    assert found.severity == "stop" and found.where == "check" and "written backwards" in found.text()
    assert "pump works against" in found.text()
    assert found.numbers["over"].si == pytest.approx(outlet.total - inlet.total) and found.numbers["over"].to("psi") > 70


def spilling(start, end, *beyond, to="ambient"):
    """A pump whose own relief takes all its flow where a check valve before the rail holds it back."""
    car = still("spill")
    car.tank("cell", level="0.2 m")
    car.run("feed", "cell", "outlet", [pump()])
    car.run("spill", "outlet", "cell", [fn.relief_valve("40 psi", wide_open="10 psi at 300 L/h", name="relief")])
    car.run("valve", start, end, [fn.check_valve(bore="6 mm", name="check")])
    car.run("out", "rail", to, list(beyond))
    return car.solve()["as written"]


def test_a_check_valve_that_cuts_off_all_that_a_pump_feeds_is_asked_about():
    case = spilling("rail", "outlet", fn.hose(bore="8 mm", length="2 m"), fn.orifice("1 mm", name="jet"))
    assert case.solution.regime_of("pump") != "dead-headed"
    assert "nothing flows behind it" in finding(case, "check valve backwards").text()
    assert finding(spilling("outlet", "rail", fn.orifice("1 mm", name="jet")), "check valve backwards") is None
    make_up = spilling("rail", "outlet", fn.hose(bore="8 mm", length="2 m"), to="cell")  # a hose from the tank: it may be meant
    assert make_up.solution.regime_of("check") == "shut" and finding(make_up, "check valve backwards") is None


def test_check_valves_that_do_their_duty_are_left_alone():
    right = valved(pump(), fn.check_valve(bore="6 mm", name="check")).solve()["as written"]
    assert "check valve backwards" not in codes(right)
    pair = valved(pump("strong"), fn.check_valve(bore="6 mm", name="check"))
    pair.run("helper", "cell", "rail", [pump("weak", "30 psi"), fn.check_valve(bore="6 mm", name="second check")])
    case = pair.solve()["as written"]  # the weak pump is dead-headed at the inlet of its valve, which the strong one shuts
    assert case.solution.regime_of("second check") == "shut" and "check valve backwards" not in codes(case)
    pair.case("off", **{"weak.volts": "0 V"})
    assert "check valve backwards" not in codes(pair.solve("off")["off"])


def test_without_pumps_a_check_valve_that_stops_everything_is_asked_about():
    def drum(start, end):
        car = still("drum")
        car.tank("cell", level="0.2 m", height="3 m")
        car.fixed("drip", "0 psi", height="0 m")
        car.run("valve", start, end, [fn.check_valve("0.5 psi", bore="6 mm", name="check")])
        car.run("out", "below", "drip", [fn.hose(bore="8 mm", length="4 m")])
        return car.solve()["as written"]

    found = finding(drum("below", "cell"), "check valve backwards")
    assert found.where == "check" and "nothing flows anywhere" in found.what and found.severity == "fix"
    assert finding(drum("cell", "below"), "check valve backwards") is None


def test_a_check_valve_that_a_pump_draws_at_in_vain_is_asked_about():
    """Written from the pump's inlet to a place of pressure; the pump moves nothing."""
    car = still("valves")
    car.tank("cell", level="0.2 m")
    car.fixed("pressed", "20 psi")
    car.run("feed", "cell", "pump in", [fn.hose(bore="8 mm", length="1 m")])
    car.run("pumping", "pump in", "ambient", [pump(), fn.orifice("1 mm", name="jet")])
    car.run("valve", "pump in", "pressed", [fn.check_valve(bore="6 mm", name="check")])
    case = car.solve()["as written"]
    found = finding(altered(case, ends={"pump": {0: {"flow": 0.0}}}), "check valve backwards")
    assert found.where == "check" and "pump works against it" in found.what and finding(case, "check valve backwards") is None


def test_a_check_valve_that_lets_by_what_presses_on_another_does_not_stand_between():
    car = still("spill")
    car.tank("cell", level="0.2 m")
    car.run("feed", "cell", "outlet", [pump(), fn.check_valve(bore="6 mm", name="own check")])
    car.run("spill", "outlet", "cell", [fn.relief_valve("40 psi", wide_open="10 psi at 300 L/h", name="relief")])
    car.run("valve", "rail", "outlet", [fn.check_valve(bore="6 mm", name="check")])
    car.run("out", "rail", "ambient", [fn.hose(bore="8 mm", length="2 m"), fn.orifice("1 mm", name="jet")])
    case = car.solve()["as written"]
    assert case.solution.regime_of("own check") != "shut" and "nothing flows behind it" in finding(case, "check valve backwards").what


@pytest.mark.parametrize("flow, told_of", [(1e-5, True), (nextafter(1e-5, 1.0), False)])
def test_where_nothing_seeps_a_consumer_gets_no_more_than_seepage_itself(flow, told_of):
    case = spilling("rail", "outlet", fn.hose(bore="8 mm", length="2 m", name="hose"), fn.orifice("1 mm", name="jet"))
    ends = {part: {port: {"flow": 0.0 if part == "check" else flow} for port in (0, 1)} for part in ("check", "hose", "jet")}
    assert (finding(altered(case, ends=ends), "check valve backwards") is not None) is told_of
