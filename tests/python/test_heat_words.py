"""Words of heat at places and of the circuit as a whole, as the engine's numbers and as answers worked out by hand.

Every circuit is invented. Sums by hand take specific heat from the fluid itself.
"""

import flarenut as fn
import pytest
from heat_bench import WATER


def sump(**words):
    """Oil round a sump: pump, orifice, crankcase that drains back."""
    circuit = fn.Circuit("sump (invented)", fluid="SAE 10W-40", fluid_temperature="60 C", air_temperature="20 C")
    circuit.tank("sump", level="80 mm", **{"temperature": "found", "heat_loss": "25 W/K", **words})
    circuit.fixed("crankcase", height="200 mm", drains_to="sump")
    circuit.run("line", "sump", "crankcase", [fn.displacement_pump("10 cc/rev", speed="2000 rpm", name="pump"), fn.orifice("3 mm", name="jet")])
    return circuit


def test_a_sump_settles_where_its_walls_lose_what_goes_in():
    circuit = sump(heat="1 kW")
    circuit.case("plain")
    circuit.case("more", **{"sump.heat": "2 kW", "sump.heat_loss": "40 W/K"})
    answer = circuit.solve()
    for name, heat, loss in (("plain", 1000.0, 25.0), ("more", 2000.0, 40.0)):
        case = answer[name]
        wanted = (heat + case.part("pump").power.si) / loss  # throttled work stays in the oil
        assert case.at("sump").temperature.si - 293.15 == pytest.approx(wanted, rel=0.002)
        assert case.at("crankcase").temperature.si == pytest.approx(case.at("sump").temperature.si, abs=1e-6)  # one node: it drains there


def test_engine_power_puts_shares_of_it_into_places_and_a_word_by_name_beats_it():
    circuit = sump(heat="200 W", heat_share="4 %")
    circuit.case("share", engine_power="50 kW")
    circuit.case("by name", engine_power="50 kW", **{"sump.heat": "700 W"})
    circuit.case("unsaid")
    answer = circuit.solve()
    assert [case.number("sump.heat") for case in answer.values()] == pytest.approx([200 + 0.04 * 50e3, 700, 200])
    assert [bool([one for one in case.findings if one.code == "engine power unsaid"]) for case in answer.values()] == [False, False, True]
    assert "engine_power = \"60 kW\"" in next(one.cure for one in answer["unsaid"].findings if one.code == "engine power unsaid")


def test_a_case_may_say_how_warm_the_sump_is_as_at_a_cold_start_and_the_next_finds_it():
    circuit = sump(heat="1 kW")
    circuit.case("cold", **{"sump.temperature": "-10 C"})
    circuit.case("warm")
    answer = circuit.solve()
    assert answer["cold"].at("sump").temperature.to("C") == pytest.approx(-10, abs=1e-9)
    assert answer["warm"].at("sump").temperature.to("C") == pytest.approx(sump(heat="1 kW").solve()["as written"].at("sump").temperature.to("C"))
    row = next(row for _, rows in [*answer.table("metric").sections] for row in rows if row.key == "condition.sump.temperature")
    assert row.cells == ["-10 C", "found"]


def test_given_temperatures_hold_the_liquid_at_the_cases_and_leave_the_circuit_as_it_was():
    circuit = sump(heat="1 kW")
    found = circuit.solve()["as written"].at("sump").temperature.si
    answer = circuit.solve(temperatures="given")
    given = answer["as written"]
    assert given.at("sump").temperature.to("C") == pytest.approx(60) and not given.finds_temperatures
    assert "Temperatures" not in answer.table("us").text() and found > 335
    pytest.importorskip("xarray")
    swept = fn.sweep(circuit, {"sump.heat": ["1 kW"]}, outputs="sump.temperature")
    assert float(swept["sump.temperature"].values.item()) == pytest.approx(found, abs=1e-6)


def test_nothing_of_heat_said_means_given_temperatures():
    plain = fn.Circuit("plain (invented)", fluid=WATER)
    plain.tank("drum", level="1 m")
    plain.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size")])
    assert not plain.solve()["as written"].finds_temperatures
    told = plain.copy()
    told.temperatures = "found"
    assert told.solve()["as written"].finds_temperatures


def test_words_of_heat_change_as_others_do():
    circuit = sump(heat="1 kW", heat_share="4 %")
    circuit.case("one", engine_power="50 kW")

    def degrees():
        return circuit.solve("one")["one"].at("sump").temperature.to("C")

    first = degrees()
    circuit.change("sump", heat_loss="40 W/K", heat="1.2 kW")
    assert degrees() < first - 20 and circuit.solve("one")["one"].number("sump.heat") == pytest.approx(1200 + 0.04 * 50e3)
    circuit.change("sump", heat_share="2 %")
    assert circuit.solve("one")["one"].number("sump.heat") == pytest.approx(1200 + 0.02 * 50e3)
    settled = degrees()
    circuit.change("sump", temperature="80 C")
    assert settled > 81 and degrees() == pytest.approx(80) and circuit.copy().solve("one")["one"].at("sump").temperature.to("C") == pytest.approx(80)
    circuit.change("sump", temperature="found")
    assert degrees() == pytest.approx(settled, abs=1e-6) and circuit.copy().solve("one")["one"].at("sump").temperature.to("C") == pytest.approx(degrees())
    with pytest.raises(fn.CircuitError, match="more than all of the engine's power"):
        circuit.change("sump", heat_share="200 %")


def test_a_share_makes_a_circuit_find_its_temperatures_and_found_is_for_tanks_made_so():
    plain = fn.Circuit("plain (invented)", fluid=WATER)
    plain.tank("drum", level="1 m")
    plain.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size")])
    assert not plain.solve()["as written"].finds_temperatures
    plain.change("drum", heat_share="1 %")
    assert plain.solve()["as written"].finds_temperatures
    with pytest.raises(fn.CircuitError, match="was not made so"):
        plain.change("drum", temperature="found")


BAD_PLACES = [
    (lambda c: c.tank("t", heat_loss="-3 W/K"), "heat_loss", "below zero", "without the sign"),
    (lambda c: c.tank("t", heat_share="400 %"), "heat_share", "more than all of the engine's power", "4 %"),
    (lambda c: c.tank("t", heat_share="-4 %"), "heat_share", "below zero", ""), (lambda c: c.tank("t", heat_capacity="-1 kJ/K"), "heat_capacity", "below zero", ""),
    (lambda c: c.tank("t", temperature="fond"), "temperature", "", ""), (lambda c: c.tank("t", heat="3 psi"), "heat", "", ""),
    (lambda c: c.fixed("f", temperature="found"), "temperature", "for tanks", "leave it off"),
    (lambda c: c.junction("j", temperature="found"), "temperature", "for tanks", "leave it off")]


@pytest.mark.parametrize(("call", "key", "said", "cure"), BAD_PLACES)
def test_heat_of_a_place_that_cannot_be_is_refused_by_its_key(call, key, said, cure):
    with pytest.raises(ValueError, match=key) as refusal:
        call(fn.Circuit("x", fluid=WATER))
    assert said in str(refusal.value) and cure in str(refusal.value)


def test_a_mistyped_choice_of_temperatures_is_met_with_the_right_one():
    with pytest.raises(fn.CircuitError, match='write "found"'):
        fn.Circuit("x", fluid=WATER, temperatures="fuond")
    with pytest.raises(fn.CircuitError, match='write "given"'):
        sump().solve(temperatures="givne")


@pytest.mark.parametrize(("drains", "said"), [("samp", "did you mean 'sump'"), ("crankcase", "which is no tank")])
def test_what_drains_to_no_tank_is_told(drains, said):
    circuit = fn.Circuit("x", fluid=WATER)
    circuit.tank("sump", temperature="found")
    circuit.fixed("crankcase", drains_to=drains)
    circuit.run("line", "sump", "crankcase", [fn.formula_pump("3 bar", "10 L/min"), fn.orifice("2 mm")])
    with pytest.raises(fn.CircuitError, match=said) as refusal:
        circuit.solve()
    assert refusal.value.key == "drains_to" and refusal.value.place == "crankcase"


def test_heat_with_no_way_out_is_told_in_watts():
    case = sump(heat="3 kW", heat_loss="0 W/K").solve()["as written"]
    assert not case.converged and "4.02 hp (3.00 kW) of heat go into the loop that 'pump' lies in" in case.cause and "none can get out" in case.cause


def test_more_heat_than_can_get_out_is_told_by_the_place_that_gets_too_hot_in_degrees_of_the_trade():
    case = sump(heat="40 kW").solve()["as written"]
    assert not case.converged and "it would still take up" in case.cause and "degC" not in case.cause
    assert case.findings[0].code == "not solved" and "'line:" not in case.findings[0].text()


def test_conditions_of_heat_that_set_nothing_are_refused():
    plain = fn.Circuit("plain (invented)", fluid=WATER)
    plain.tank("drum", level="1 m")
    plain.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size")])
    for word, value in (("engine_power", "10 kW"), ("vehicle_speed", "10 m/s"), ("fan", "3 m/s"), ("drum.heat", "1 kW")):
        plain.cases.clear()
        plain.case("one", **{word: value})
        with pytest.raises(fn.CircuitError, match=word.rpartition(".")[2]):
            plain.solve()
    heated = sump(heat_share="4 %")
    heated.case("one", engine_power="-10 kW")
    with pytest.raises(fn.CircuitError, match="below zero"):
        heated.solve()


def test_the_certificate_says_how_well_heat_closes():
    answer = sump(heat="1 kW").solve()
    assert 0.0 < answer["as written"].certificate["energy_closure"] <= 1e-9 and "energy closure" in answer.table().text()


def test_given_temperatures_take_what_a_case_says_of_a_tank_that_would_be_found():
    circuit = sump(heat="1 kW")
    circuit.case("hot", **{"sump.temperature": "105 C"})
    circuit.case("as said", **{"sump.temperature": "105 C", "fluid_temperature": "60 C"})
    answer = circuit.solve(temperatures="given")
    assert answer["hot"].at("sump").temperature.to("C") == pytest.approx(105)
    assert answer["as said"].at("sump").temperature.to("C") == pytest.approx(60)


def rubbing(**more):
    car = fn.Circuit("engine", fluid="SAE 10W-40")
    car.tank("sump", "10 cm", temperature="found", heat_loss="100 W/K", heat="100 W", heat_share="4 %", friction_heat="3 kW at 6000 rpm", **more)
    car.run("round", "sump", "sump side", [fn.displacement_pump("18 cc/rev", speed="3000 rpm", ratio=0.5, overall_efficiency=1.0), fn.hose("-12", "1 m", spec="full-size")])
    car.run("back", "sump side", "sump", [fn.hose("-12", "1 m", spec="full-size")])
    return car


@pytest.mark.parametrize("conditions, heat", [
    ({"speed": "3000 rpm"}, 100 + 3000 / 4), ({"speed": "6000 rpm", "engine_power": "100 kW"}, 100 + 4000 + 3000), ({"engine_power": "100 kW"}, 100 + 4000),
    ({"speed": "6000 rpm", "sump.heat": "2 kW"}, 2000)])
def test_what_rubs_warms_the_oil_with_the_square_of_the_speed_beside_its_share_of_the_power(conditions, heat):
    car = rubbing()
    car.case("running", **conditions)
    from flarenut.circuit.cases import overrides_of

    found = overrides_of(car, {**car.conditions, **car.cases["running"].conditions}, "running").numbers
    assert found["sump.heat"] == pytest.approx(heat)
    assert car.solve()["running"].converged


def test_friction_heat_is_swept_with_the_speed_and_changed_like_other_words():
    car = rubbing()
    hot = fn.sweep(car, {"speed": ["2000 rpm", "4000 rpm", "6000 rpm"]}, outputs=["sump.temperature"])
    found = [float(one) for one in hot["sump.temperature"].values.ravel()]
    for speed, swept in zip(("2000 rpm", "4000 rpm", "6000 rpm"), found):
        one = rubbing()
        one.case("at", speed=speed)
        assert swept == pytest.approx(one.solve()["at"].at("sump").temperature.to(hot["sump.temperature"].attrs["units"]), abs=1e-6)
    car.change("sump", friction_heat="6 kW at 6000 rpm")
    assert car.junctions["sump"].friction[0] == 6000.0


@pytest.mark.parametrize("said, told", [("3 kW", "3 kW at 6000 rpm"), ("-3 kW at 6000 rpm", "below zero"), ("3 kW at 0 rpm", "above zero"), ("3 psi at 6000 rpm", "power")])
def test_friction_heat_that_is_none_is_told(said, told):
    with pytest.raises(ValueError) as refusal:
        fn.Circuit("x", fluid="SAE 10W-40").tank("sump", friction_heat=said)
    assert told in str(refusal.value)
