"""Two thick cold coolers side by side: one may go dead while the other takes all. The circuit is invented; what is told of the other
state is judged by an energy sum over it, and by the mirror image that two like coolers must have."""

import flarenut as fn
import pytest

AIR, HEAT, LOSS = "-10 C", "15 kW", "15 W/K"


def two_coolers(count=2):
    car = fn.Circuit("coolers side by side (invented)", fluid="SAE 20W-50", air_temperature=AIR, invented=True)
    car.tank("sump", level="100 mm", temperature="found", heat=HEAT, heat_loss=LOSS)
    car.run("pumping", "sump", "split", [fn.displacement_pump("16 cc/rev", speed="3000 rpm", name="pump")])
    car.run("relief", "split", "sump", [fn.relief_valve("5 bar", wide_open="2 bar at 80 L/min", rated_with="own at 100 C")])
    for side in ("left", "right")[:count]:
        car.run(side, "split", "joint", [fn.cooler("12 kW at 20 L/min", rated_inlet="110 C", rated_air="35 C at 5 m/s", face=["300 mm", "190 mm"],
                                                   drop="1 bar at 20 L/min", rated_with="own at 100 C", name=f"{side} cooler")])
    car.run("back", "joint", "sump", [fn.hose("-10", "1 m", spec="ptfe", name="back hose")])
    car.case("winter", vehicle_speed="40 m/s")
    return car


def told(answer):
    return [one for one in answer["winter"].findings if one.code == "second steady state"]


def test_both_mirror_images_are_told_with_where_they_differ():
    answer = two_coolers().solve()
    found = told(answer)
    assert len(found) == 2 and {one.severity for one in found} == {"watch"}
    assert {one.where for one in found} == {"sump, left cooler, right cooler", "sump, right cooler, left cooler"}
    warm = [one.numbers["there 1"].si for one in found]  # of the live one in each, and of the dead one
    cold = [one.numbers["there 2"].si for one in found]
    assert warm[0] == pytest.approx(warm[1], abs=1e-3) and cold[0] == pytest.approx(cold[1], abs=1e-3) and warm[0] > cold[0] + 10
    for one in found:
        assert one.numbers["here 0"].si == pytest.approx(answer["winter"].at("sump").temperature.si, abs=1e-9)
        assert "depends on how it was warmed up" in one.text() and "thermostat" in one.cure


def test_the_other_state_gives_off_what_is_put_in():
    car = two_coolers()
    plan = car.plan
    plan.set_many({"air.temperature": 263.15, "left cooler.vehicle_speed": 40.0, "right cooler.vehicle_speed": 40.0})
    first = plan.solve(cold=True)
    others = plan.other_states()
    assert len(others) == 2
    for state in (first, *others):
        lost = 15.0 * (float(state.temperature_of("sump")) - 263.15) - state.heat_of("left cooler") - state.heat_of("right cooler")
        assert lost == pytest.approx(15000.0 + state.power_of("pump"), rel=1e-4)


def test_nobody_is_told_where_there_is_one_state_or_nobody_asks():
    assert not told(two_coolers(1).solve())
    assert not told(two_coolers().solve(other_states=False))
    assert not told(two_coolers().solve(temperatures="given"))
    assert "second steady state" in str(two_coolers().solve())


def test_the_answer_is_the_same_whether_others_are_looked_for_or_not():
    car = two_coolers()
    looked, plain = car.solve()["winter"], two_coolers().solve(other_states=False)["winter"]
    assert looked.at("sump").temperature.si == pytest.approx(plain.at("sump").temperature.si, abs=1e-9)
    assert car.solve()["winter"].at("sump").temperature.si == looked.at("sump").temperature.si


def test_comparisons_tell_of_it():
    compared = fn.compare({"two": two_coolers(), "one": two_coolers(1)}, at="joint")
    codes = {name: {one.code for one in answer["winter"].findings} for name, answer in compared.answers.items()}
    assert "second steady state" in codes["two"] and "second steady state" not in codes["one"]


def test_sweeps_do_not_ask(monkeypatch):
    pytest.importorskip("xarray")
    asked = []
    monkeypatch.setattr("flarenut.circuit.cases.other_states", lambda circuit, solution: asked.append(circuit.name) or ())
    fn.sweep(two_coolers(), {"sump.heat": ["14 kW", "15 kW"]}, outputs="sump.temperature", findings=True)
    assert not asked
    two_coolers().solve()
    assert len(asked) == 1
