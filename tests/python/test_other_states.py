"""Two long thin coils side by side in icy wind: one may go dead while the other takes all. The circuit is invented; what is told of the other
state is judged by an energy sum over it."""

import flarenut as fn
import pytest

AIR, HEAT, LOSS = "-20 C", "3 kW", "15 W/K"


def two_coolers(count=2):
    car = fn.Circuit("coolers side by side (invented)", fluid="SAE 20W-50", air_temperature=AIR, invented=True)
    car.tank("sump", level="100 mm", temperature="found", heat=HEAT, heat_loss=LOSS)
    car.run("pumping", "sump", "split", [fn.displacement_pump("1 cc/rev", speed="1200 rpm", name="pump")])
    for side in ("left", "right")[:count]:
        car.run(side, "split", "joint", [fn.tube(bore="4 mm", length="6 m", air="40 m/s", name=f"{side} coil")])
    car.run("back", "joint", "sump", [fn.hose("-10", "1 m", spec="ptfe", name="back hose")])
    car.case("winter")
    return car


def told(answer):
    return [one for one in answer["winter"].findings if one.code == "second steady state"]


def test_the_state_with_one_coil_dead_is_told_with_where_it_differs():
    answer = two_coolers().solve()
    found = told(answer)
    assert found and {one.severity for one in found} == {"watch"}
    for one in found:
        assert "left coil" in one.where and "right coil" in one.where and "depends on how it was warmed up" in one.text()
        assert "thermostat" in one.cure


def test_a_state_and_its_mirror_image_are_told_once():
    """Either coil may be the dead one: the same numbers, names exchanged. Where the coils differ there is no mirror."""
    car = two_coolers()
    answer = car.solve()
    assert len(answer["winter"].layout.notes["winter"].other_states) == 2
    one, = told(answer)
    assert "and its mirror image with left coil and right coil exchanged" in one.text() or "right coil and left coil exchanged" in one.text()


@pytest.mark.parametrize("other, count", [((("b", 340.0, 260.0), ("a", 340.0, 390.0)), 1), ((("b", 340.0, 262.0), ("a", 340.0, 390.0)), 2),
                                          ((("b", 340.0, 260.0), ("c", 340.0, 390.0)), 2), ((("a", 340.0, 260.0), ("b", 340.0, 390.0)), 1)])
def test_only_the_same_numbers_at_the_same_parts_are_a_mirror(other, count):
    from flarenut.checks.heat_states import _mirrored
    from flarenut.circuit.other_states import Difference

    first = (Difference("a", 340.0, 260.0), Difference("b", 340.0, 390.0))
    assert len(_mirrored((first, tuple(Difference(*one) for one in other)))) == count


def test_the_other_state_gives_off_what_is_put_in():
    car = two_coolers()
    plan = car.plan
    plan.set_many({"air.temperature": 253.15})
    first = plan.solve(cold=True)
    others = plan.other_states()
    assert others
    for state in (first, *others):
        lost = 15.0 * (float(state.temperature_of("sump")) - 253.15) - state.heat_of("left coil") - state.heat_of("right coil")
        assert lost == pytest.approx(3000.0 + state.power_of("pump"), rel=1e-4)
    dead = others[0]
    assert min(dead.flow_of("left coil"), dead.flow_of("right coil")) < 0.3 * max(dead.flow_of("left coil"), dead.flow_of("right coil"))


def test_nobody_is_told_where_nobody_looks():
    assert not told(two_coolers().solve(other_states=False))
    assert not told(two_coolers().solve(temperatures="given"))
    assert "second steady state" in str(two_coolers().solve())


def test_the_answer_is_the_same_whether_others_are_looked_for_or_not():
    car = two_coolers()
    looked, plain = car.solve()["winter"], two_coolers().solve(other_states=False)["winter"]
    assert looked.at("sump").temperature.si == pytest.approx(plain.at("sump").temperature.si, abs=1e-9)
    assert car.solve()["winter"].at("sump").temperature.si == looked.at("sump").temperature.si


def test_a_search_that_fails_costs_no_answer_and_is_told(monkeypatch):
    def fails(plan, solution):
        return (), "'left coil' would have to be colder than its liquid is known for"

    wanted = two_coolers().solve()["winter"]
    monkeypatch.setattr("flarenut.circuit.cases.search_beside", fails)
    answer = two_coolers().solve()
    case = answer["winter"]
    assert case.converged and case.at("sump").temperature.si == pytest.approx(wanted.at("sump").temperature.si, abs=1e-9)
    (one,) = [one for one in case.findings if one.code == "other states not searched"]
    assert one.severity == "note" and "the answer stands" in one.text() and "colder than its liquid is known for" in one.text()


def test_sweeps_do_not_ask(monkeypatch):
    pytest.importorskip("xarray")
    asked = []
    monkeypatch.setattr("flarenut.circuit.cases.search_beside", lambda plan, solution: asked.append(plan) or ((), ""))
    fn.sweep(two_coolers(), {"sump.heat": ["2.9 kW", "3 kW"]}, outputs="sump.temperature", findings=True)
    assert not asked
    two_coolers().solve()
    assert len(asked) == 1


def test_a_case_is_searched_at_its_own_numbers_not_at_those_of_the_file():
    # As written the sump's temperature is found; the case gives it, and then there is one state: what enters is as warm as it is said.
    car = two_coolers(1)
    car.case("warmed up", **{"sump.temperature": "100 C"})
    assert not [one for one in car.solve("warmed up").findings if one.code == "second steady state"]
    assert car.solve("warmed up")["warmed up"].at("sump").temperature.si == pytest.approx(373.15, abs=1e-6)


def test_a_vehicle_is_told_of_the_circuit_that_has_two_states():
    truck = fn.Vehicle("truck (invented)", air_temperature=AIR, invented=True)
    truck.add(two_coolers(), name="oil")
    truck.case("winter")
    found = [one for one in truck.solve()["oil"].findings if one.code == "second steady state"]
    assert found and all("left coil" in one.where for one in found)
    assert not [one for one in truck.solve(other_states=False)["oil"].findings if one.code == "second steady state"]
