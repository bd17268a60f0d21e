"""A flow that is asked for behind what is shut, or pushed against it: the cause names what shuts the way, and no such pressure passes as an answer."""

import flarenut as fn
import pytest

COCK = {"rated": "2 bar at 10 L/min", "opening": 0, "name": "cock"}


def _rig(**consumer):
    car = fn.Circuit("rig (invented)", fluid=fn.constant_fluid("800 kg/m3", "1 cP"))
    car.fixed("main", "3 bar")
    car.junction("consumer", **consumer)
    return car


def _cause(car):
    case = car.solve()["as written"]
    assert not case.converged and "would not settle" not in case.cause
    assert all(number != number for number in case.solution.pressure)
    return case.cause


def test_a_demand_behind_a_shut_cock_names_the_cock():
    car = _rig(demand="20 L/h")
    car.run("way", "main", "consumer", [fn.hose(bore="8 mm", length="1 m"), fn.valve(**COCK)])
    cause = _cause(car)
    assert "demand at 'consumer' cannot be met" in cause and "lost in the valve 'cock', which is shut" in cause


@pytest.mark.parametrize("flow", ["20 L/h", "200 L/h", "40 L/min"])  # the last two were "would not settle", the first an answer of thousands of bar
def test_a_supply_against_a_shut_cock_is_no_answer(flow):
    car = _rig(supply=flow)
    car.run("way", "consumer", "main", [fn.hose(bore="8 mm", length="1 m"), fn.filter("0.5 bar at 10 L/min"), fn.valve(**{**COCK, "leak": 1e-6})])
    cause = _cause(car)
    assert "'consumer' would have to be" in cause and "lost in the valve 'cock'" in cause


def test_a_check_valve_between_is_asked_about():
    car = _rig(demand="20 L/h")
    car.run("way", "main", "consumer", [fn.hose(bore="8 mm", length="1 m", name="feed")])
    car.run("check", "out", "consumer", [fn.check_valve(bore="6 mm", name="check")])
    car.take_out("way")
    car.run("way", "main", "out", [fn.hose(bore="8 mm", length="1 m", name="feed")])
    car.take_out("check")
    car.run("check", "consumer", "out", [fn.check_valve(bore="6 mm", name="check")])
    assert "check valve 'check', which is shut: is it the wrong way round?" in _cause(car)


def test_a_pump_that_nothing_feeds_is_asked_about():
    car = fn.Circuit("return (invented)", fluid="gasoline")
    car.tank("cell", level="8 in")
    car.junction("rail", demand="20 L/h")
    car.run("suction", "cell", "inlet", [fn.hose(bore="10 mm", length="0.5 m")])
    car.run("pumping", "rail", "inlet", [fn.formula_pump("95 psi", "420 L/h", name="pump")])
    car.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient"), fn.hose(bore="8 mm", length="2 m")])
    assert "nothing can feed pump 'pump'" in _cause(car) and "are its two ends swapped?" in _cause(car)


def test_a_batch_refuses_what_a_single_solve_refuses():
    car = _rig(supply="20 L/h")
    car.run("way", "consumer", "main", [fn.hose(bore="8 mm", length="1 m"), fn.valve(**{**COCK, "leak": 1e-6})])
    plan = car.plan
    report = plan.solve_each([plan.index("cock.opening")], [[0.0], [1.0]])
    assert list(report["converged"]) == [False, True]


def test_a_relief_that_is_open_while_a_demand_cannot_be_met_is_named():
    car = fn.Circuit("bench (invented)", fluid=fn.constant_fluid("800 kg/m3", "1 cP"))
    car.tank("cell", level="1 m")
    car.junction("split", height="0 m")
    car.junction("consumer", demand="200 L/h", height="0 m")
    car.run("pumping", "cell", "split", [fn.formula_pump("6 bar", "400 L/h", name="pump")])
    car.run("relief", "split", "cell", [fn.relief_valve("0.5 bar", override="0.1 bar", wide_open="1 bar at 20 L/min", name="relief")])
    car.run("way", "split", "consumer", [fn.tube(bore="3 mm", length="2 m", name="feed")])
    cause = _cause(car)
    assert "below absolute zero" in cause and "The relief valve 'relief' is open and lets liquid off: is it set too low?" in cause


@pytest.mark.parametrize("flow", ["250 L/h", "600 L/h", "20 L/min"])
def test_where_the_pressure_is_lost_is_looked_for_on_the_way_to_the_demand_alone(flow):
    """Across the regulator on the return stands as much as is lost on the way, but it stands shut, and nothing comes by it."""
    car = fn.Circuit("return (invented)", fluid="gasoline")
    car.tank("cell", level="8 in")
    car.junction("rail", demand=flow)
    car.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient", name="regulator"), fn.hose(bore="8 mm", length="2 m")])
    car.run("feed", "cell", "rail", [fn.formula_pump("95 psi", "420 L/h", name="pump"), fn.hose(bore="6 mm", length="3 m", name="feed hose"),
                                     fn.hose(bore="2.5 mm", length="3 m", name="thin hose")])
    cause = _cause(car)
    assert "demand at 'rail' cannot be met" in cause and "Most of the pressure is lost in the line 'thin hose'" in cause
    assert "regulator" not in cause and "turbulent" not in cause


def test_a_demand_of_tons_through_a_regulator_is_told_as_such():
    car = _rig(demand="60 kg/s")
    car.run("way", "main", "consumer", [fn.reducing_regulator("2 bar", reference="ambient", wide_open="1 bar at 600 L/h", name="regulator"),
                                        fn.hose(bore="8 mm", length="3 m", name="feed")])
    assert "demand at 'consumer' cannot be met" in _cause(car)


def _pumped(shut, check_turned, stray=False):
    """A pump, a check valve and a cock before a consumer; a relief that leads home, or to a place that nothing else meets."""
    car = fn.Circuit("pumped (invented)", fluid=fn.constant_fluid("800 kg/m3", "1 cP"))
    car.tank("cell", level="0.1 m")
    car.junction("consumer", demand="20 L/h")
    ends = ("fed", "pumped") if check_turned else ("pumped", "fed")
    car.run("pumping", "cell", "pumped", [fn.hose(bore="10 mm", length="0.5 m"), fn.formula_pump("6 bar", "200 L/h", name="pump")])
    car.run("check", *ends, [fn.check_valve("0.02 bar", bore="6 mm", name="check")])
    car.run("relief", "fed", "overbord" if stray else "cell", [fn.relief_valve("8 bar", wide_open="1 bar at 600 L/h", name="relief")])
    car.run("way", "fed", "consumer", [fn.hose(bore="8 mm", length="1 m"), fn.valve(**{**COCK, "opening": 0 if shut else 1})])
    return car


def test_of_two_that_shut_a_way_one_behind_the_other_both_are_named():
    cause = _cause(_pumped(shut=True, check_turned=True))
    assert "'cock'" in cause and "check valve 'check', with more pressure at its outlet than at its inlet: is it the wrong way round?" in cause


def test_a_check_valve_as_it_should_be_is_not_asked_about_behind_a_shut_cock():
    cause = _cause(_pumped(shut=True, check_turned=False))
    assert "'cock'" in cause and "'check'" not in cause and "'relief'" not in cause


def test_a_check_valve_that_alone_shuts_the_way_is_asked_about():
    cause = _cause(_pumped(shut=False, check_turned=True))
    assert "check valve 'check'" in cause and "wrong way round?" in cause and "cock" not in cause


def test_a_closed_end_is_told_of_a_case_without_an_answer_too():
    case = _pumped(shut=True, check_turned=False, stray=True).solve()["as written"]
    assert [one.code for one in case.findings] == ["not solved", "closed end"] and "'overbord'" in case.findings[1].text()
    assert not [one for one in _pumped(shut=True, check_turned=False).solve()["as written"].findings if one.code == "closed end"]
