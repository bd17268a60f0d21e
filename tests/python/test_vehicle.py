"""Vehicles: circuits that share exchangers, against hand sums, the closed forms of exchangers and the library `ht`."""

import math
from pathlib import Path

import ht
import pytest

import flarenut as fn
from flarenut.circuit.exchangers import ARRANGEMENTS

EXAMPLES = Path(__file__).resolve().parents[2] / "docs/guide/examples"
OIL = {"density": "850 kg/m3", "viscosity": "15 cP", "specific_heat": "2100 J/kg/K", "conductivity": "0.13 W/m/K"}
WATER = {"density": "1000 kg/m3", "viscosity": "1 cP", "specific_heat": "4180 J/kg/K", "conductivity": "0.64 W/m/K"}


def bench(*, oil_in="120 C", water_in="20 C", oil=OIL, water=WATER, **words):
    """Two liquids that change with nothing, each out of a tank of given temperature through a tube into the open."""
    circuits = []
    for name, liquid, temperature, bore in (("oil", oil, oil_in, "8 mm"), ("water", water, water_in, "4 mm")):
        circuit = fn.Circuit(name, fluid=fn.constant_fluid(**liquid, name=name))
        circuit.tank(f"{name} tank", level="0.3 m", temperature=temperature)
        circuit.run("way", f"{name} tank", "ambient", [fn.tube(bore=bore, length="3 m", name=f"{name} tube")])
        circuits.append(circuit)
    vehicle = fn.Vehicle("bench (invented)", *circuits)
    vehicle.exchanger("double tube", ("oil", "oil tube"), ("water", "water tube"), **words)
    return vehicle


def rates_of(answer):
    """Capacity rates [W/K] of both streams."""
    return [answer[name]["as written"].part(f"{name} tube").mass_flow.si * answer[name]["as written"].solution.liquid_in(f"{name} tube")["specific_heat"]
            for name in ("oil", "water")]


def conductance(answer, resistance=0.0):
    """UA [W/K] of the double tube from `ht`'s film of laminar flow in a tube, Hausen 1943."""
    whole = resistance
    for name, bore, words in (("oil", 0.008, OIL), ("water", 0.004, WATER)):
        viscosity, heat, k = (float(words[word].split()[0]) for word in ("viscosity", "specific_heat", "conductivity"))
        reading = answer[name]["as written"].part(f"{name} tube")
        assert reading.reynolds < 2000.0
        nusselt = ht.laminar_entry_thermal_Hausen(Re=reading.reynolds, Pr=viscosity * 1e-3 * heat / k, L=3.0, Di=bore)
        whole += 1.0 / (nusselt * k / bore * math.pi * bore * 3.0)
    return 1.0 / whole


# ---- what leaves one enters the other ----

@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
def test_what_leaves_one_stream_enters_the_other(arrangement):
    answer = bench(arrangement=arrangement).solve()
    one = answer.exchanger("double tube", "as written")
    assert one.heat.si > 100.0
    assert one.first.heat.si + one.second.heat.si == pytest.approx(0.0, abs=1e-9 * one.heat.si)
    for reading, rate, sign in zip((one.first, one.second), rates_of(answer), (1, -1)):
        change = reading.temperature_in.si - reading.temperature_out.si
        # A tube 3 kPa and less of drop warms its liquid by 2 mK: below what is asked here of the heat.
        assert rate * change == pytest.approx(sign * one.heat.si, rel=2e-3)
    assert answer.certificate["as written"]["energy_closure"] <= 1e-9


SUBTYPES = {"counterflow": "counterflow", "parallel flow": "parallel", "shell and tube": "S&T"}


@pytest.mark.parametrize("arrangement", SUBTYPES)
def test_the_effectiveness_is_that_of_another_library(arrangement):
    """NTU from `ht`'s films at the solved flows, effectiveness from `ht`; 0.2 %: friction warms a little."""
    answer = bench(arrangement=arrangement, wall_resistance=0.01).solve()
    first, second = rates_of(answer)
    ua = conductance(answer, 0.01)
    expected = ht.effectiveness_from_NTU(ua / min(first, second), min(first, second) / max(first, second), SUBTYPES[arrangement], n_shell_tube=1)
    assert answer.exchanger("double tube", "as written").share_of_most == pytest.approx(expected, rel=2e-3)


def test_counterflow_follows_the_closed_form():
    answer = bench().solve()
    first, second = rates_of(answer)
    ua, least, most = conductance(answer), min(first, second), max(first, second)
    falling = math.exp(-ua / least * (1.0 - least / most))
    expected = (1.0 - falling) / (1.0 - least / most * falling) * least * 100.0  # 120 to 20 C
    assert answer.exchanger("double tube", "as written").heat.si == pytest.approx(expected, rel=2e-3)


def test_counterflow_does_more_than_parallel_flow_and_dirt_does_less():
    heat = {words: bench(**dict(words)).solve().exchanger("double tube", "as written").heat.si for words in (
        (), (("arrangement", "parallel flow"),), (("wall_resistance", 0.05),))}
    plain, parallel, dirty = heat.values()
    assert plain > parallel > 0.0
    assert plain > dirty > 0.0


def test_which_stream_is_called_the_first_makes_no_difference():
    one = bench().solve().exchanger("double tube", "as written")
    circuits = bench()
    other = fn.Vehicle("the other way about", *circuits.circuits.values())
    other.exchanger("double tube", ("water", "water tube"), ("oil", "oil tube"))
    assert other.solve().exchanger("double tube", "as written").heat.si == pytest.approx(-one.heat.si, rel=1e-9)


def test_a_side_by_its_plates_is_the_same_by_its_area():
    by_plates = {"plates": 10, "length": "150 mm", "width": "70 mm", "gap": "2 mm", "enhancement": 3}
    by_area = {"area": "2100 cm2", "bore": "4 mm", "length": "150 mm", "enhancement": 3}  # 10 gaps × 2 walls × 150 × 70 mm; bore twice the gap
    one, other = (bench(first_side=side).solve().exchanger("double tube", "as written").heat.si for side in (by_plates, by_area))
    assert one == pytest.approx(other, rel=1e-12)


def test_a_tube_s_own_bore_and_length_are_its_side():
    written = bench(first_side={"tubes": 1, "bore": "8 mm", "length": "3 m"}).solve().exchanger("double tube", "as written").heat.si
    better = bench(first_side={"enhancement": 2}).solve().exchanger("double tube", "as written").heat.si
    assert bench().solve().exchanger("double tube", "as written").heat.si == pytest.approx(written, rel=1e-12)
    assert better > 1.05 * written


# ---- circuits beside each other ----

def test_without_exchangers_circuits_answer_as_by_themselves():
    vehicle = fn.Vehicle("two by two", *bench().circuits.values())
    together = vehicle.solve()
    for name, circuit in vehicle.circuits.items():
        alone, beside = circuit.solve()["as written"], together[name]["as written"]
        assert beside.part_names == alone.part_names
        assert beside.junction_names == alone.junction_names
        for place in alone.junction_names:
            assert beside.at(place).total.si == pytest.approx(alone.at(place).total.si, rel=1e-8)
            assert beside.at(place).temperature.si == pytest.approx(alone.at(place).temperature.si, abs=1e-6)
        for part in alone.part_names:
            assert beside.part(part).mass_flow.si == pytest.approx(alone.part(part).mass_flow.si, rel=1e-7)
            assert [end.junction for end in beside.ends(part)] == [end.junction for end in alone.ends(part)]


def test_findings_and_tables_of_a_circuit_are_those_of_the_circuit_alone():
    car = fn.load(EXAMPLES / "oil_cooler.toml")
    vehicle = fn.Vehicle("one circuit", fn.load(EXAMPLES / "oil_cooler.toml"))
    cases = {name: dict(case.conditions) for name, case in car.cases.items()}
    for name, conditions in cases.items():
        vehicle.case(name, **{word if "." not in word else f"{car.name}.{word}": value for word, value in conditions.items()})
    car.find_temperatures()
    alone, beside = car.solve(), vehicle.solve()[car.name]
    assert [(one.code, one.where, one.case) for one in beside.findings] == [(one.code, one.where, one.case) for one in alone.findings]
    assert list(beside) == list(alone)
    for name in alone:
        for one, other in zip(alone[name].part_names, beside[name].part_names):
            assert beside[name].part(other).drop.si == pytest.approx(alone[name].part(one).drop.si, rel=1e-6, abs=1.0)


def test_changes_of_a_circuit_are_followed():
    vehicle = bench()
    before = vehicle.solve()
    vehicle.circuits["oil"].change("oil tank", temperature="100 C")      # a number
    cooler = vehicle.solve()
    vehicle.circuits["oil"].run("second way", "oil tank", "ambient", [fn.tube(bore="8 mm", length="3 m", name="second tube")])  # the structure
    wider = vehicle.solve()
    assert before["oil"]["as written"].at("oil tank").temperature.to("C") == pytest.approx(120.0)
    assert cooler["oil"]["as written"].at("oil tank").temperature.to("C") == pytest.approx(100.0)
    ratio = cooler.exchanger("double tube", "as written").heat.si / before.exchanger("double tube", "as written").heat.si
    assert ratio == pytest.approx(0.8, rel=1e-4)  # liquids that change with nothing: heat goes with the inlet difference, 80 of 100
    assert wider["oil"]["as written"].part("second tube").flow.si > 0.0


def test_a_change_after_a_solve_gives_what_a_fresh_vehicle_gives():
    vehicle, fresh = bench(), bench()
    vehicle.solve()
    for one in (vehicle, fresh):
        one.circuits["water"].change("water tube", bore="6 mm")
    heats = [one.solve().exchanger("double tube", "as written").heat.si for one in (vehicle, fresh)]
    assert heats[0] == pytest.approx(heats[1], rel=1e-12)


def test_an_exchanger_s_words_change_and_are_taken_back():
    vehicle = bench()
    heat = [vehicle.solve().exchanger("double tube", "as written").heat.si]
    for words in ({"wall_resistance": 0.05}, {"wall_resistance": None}):
        vehicle.change("double tube", **words)
        heat.append(vehicle.solve().exchanger("double tube", "as written").heat.si)
    assert heat[1] == pytest.approx(bench(wall_resistance=0.05).solve().exchanger("double tube", "as written").heat.si, rel=1e-9)
    assert heat[2] == pytest.approx(heat[0], rel=1e-9)
    with pytest.raises(fn.CircuitError, match="did you mean 'double tube'?"):
        vehicle.change("duoble tube", wall_resistance=0)
    with pytest.raises(fn.CircuitError, match="an exchanger has no 'plates' to change"):
        vehicle.change("double tube", plates=3)
    with pytest.raises(fn.CircuitError, match="change it by the circuit"):
        vehicle.change("oil", plates=3)


# ---- cases ----

def test_a_condition_reaches_every_circuit_that_knows_it():
    vehicle = bench(oil_in=None, water_in=None)
    vehicle.case("all", fluid_temperature="60 C", tank_level="0.5 m")
    vehicle.case("oil alone", **{"oil.fluid_temperature": "90 C"})
    vehicle.case("one tank", **{"oil.oil tank.level": "0.1 m", "tank_level": "0.4 m"})
    answer = vehicle.solve()
    for name in ("oil", "water"):
        assert answer[name]["all"].at(f"{name} tank").temperature.to("C") == pytest.approx(60.0)
        assert answer[name]["all"].solution.number(f"{name} tank.level") == 0.5
    assert answer.exchanger("double tube", "all").heat.si == pytest.approx(0.0, abs=1e-2)  # friction warms one a little more
    assert answer["oil"]["oil alone"].at("oil tank").temperature.to("C") == pytest.approx(90.0)
    assert answer["water"]["oil alone"].at("water tank").temperature.to("C") == pytest.approx(20.0)
    assert answer["oil"]["one tank"].solution.number("oil tank.level") == 0.1      # by name beats all of a kind
    assert answer["water"]["one tank"].solution.number("water tank.level") == 0.4
    assert answer["oil"]["one tank"].conditions == {"tank_level": "0.4 m", "oil tank.level": "0.1 m"}


def test_a_case_may_put_dirt_on_an_exchanger():
    vehicle = bench()
    vehicle.case("clean")
    vehicle.case("dirty", **{"double tube.wall_resistance": 0.05})
    vehicle.case("clean again")
    answer = vehicle.solve()
    heat = [answer.exchanger("double tube", name).heat.si for name in answer.cases]
    assert heat[1] < 0.9 * heat[0]
    assert heat[2] == pytest.approx(heat[0], rel=1e-9)
    assert heat[1] == pytest.approx(bench(wall_resistance=0.05).solve().exchanger("double tube", "as written").heat.si, rel=1e-9)


def test_a_case_changes_the_tube_of_an_exchanger_and_its_side_with_it():
    vehicle = bench()
    vehicle.case("long", **{"oil.oil tube.length": "6 m"})
    other = bench()
    other.circuits["oil"].change("oil tube", length="6 m")
    heats = [one.solve().exchanger("double tube", case).heat.si for one, case in ((vehicle, "long"), (other, "as written"))]
    assert heats[0] == pytest.approx(heats[1], rel=1e-9)


def test_what_was_solved_before_leaves_no_trace():
    vehicle = bench()
    vehicle.case("one", **{"oil.oil tank.temperature": "90 C", "altitude": "2000 m"})
    vehicle.case("two")
    both, alone = vehicle.solve(), vehicle.solve("two")
    assert both.exchanger("double tube", "two").heat.si == pytest.approx(alone.exchanger("double tube", "two").heat.si, rel=1e-9)
    assert both["oil"]["two"].ambient.si == pytest.approx(101325.0)
    assert both["oil"]["one"].ambient.si < 85e3  # US Standard Atmosphere 1976: 79.5 kPa


def test_power_is_met_by_the_injectors_of_the_circuit_that_has_them():
    def fuel():
        car = fn.Circuit("fuel", fluid="gasoline")
        car.tank("cell", level="0.2 m")
        car.run("feed", "cell", "rail", [fn.formula_pump(dead_head="95 psi", free_flow="150 gph", through="60 psi at 85 gph", name="pump"),
                                         fn.hose("-8", "3 m", spec="ptfe", name="feed hose")])
        car.injectors("bank", "rail", count=6, flow="1000 cc/min at 3 bar")
        car.find_temperatures()
        return car

    words = {"power": "300 hp", "specific_consumption": "0.5 lb/hp/h"}
    alone = fuel()
    alone.case("full", **words)
    vehicle = fn.Vehicle("with fuel", fuel(), bench().circuits["water"])
    vehicle.case("full", **words)
    one, other = alone.solve()["full"], vehicle.solve()["fuel"]["full"]
    asked = 300 * 0.5 * 0.45359237 / 3600.0  # [kg/s]
    assert other.part("bank").mass_flow.si == pytest.approx(asked, rel=1e-6)
    assert other.solution.number("bank.duty") == pytest.approx(one.solution.number("bank.duty"), rel=1e-6)
