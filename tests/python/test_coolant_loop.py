"""A coolant circuit whose temperatures are found: pump, jacket, thermostat with bypass, radiator, heater branch, expansion tank under its cap.

The circuit is invented. Heat and mixing are judged by sums by hand over what the case says of flow and specific heat.
"""

import flarenut as fn
import pytest
from flarenut import checks
from flarenut.results.warmth import boiling_margin

POWER = {"idle": 10e3, "road": 60e3, "climb": 160e3}
SHARE = 0.30  # of the engine's power into its coolant (made up)


def loop(cap="15 psi", degassed=False, radiator=None, **tank):
    car = fn.Circuit("coolant of a six (invented)", fluid="ethylene glycol 50 %", fluid_temperature="85 C", air_temperature="35 C", invented=True)
    car.tank("expansion tank", level="100 mm", height="600 mm", vent=cap, **tank)
    car.junction("pump inlet", height="200 mm")
    car.junction("engine out", height="500 mm", heat_share="30 %")
    car.run("pumping", "pump inlet", "block in", [fn.centrifugal_pump([["0 L/min", "1.2 bar"], ["100 L/min", "1.0 bar"], ["200 L/min", "0.5 bar"]],
                                                                    rated_speed="3000 rpm", speed="3000 rpm", name="water pump")])
    car.run("jacket", "block in", "engine out", [fn.resistance("0.3 bar at 150 L/min", exponent=2, name="jacket"), fn.orifice("20 mm", name="head gasket")])
    car.run("bypass", "engine out", "pump inlet", [fn.bypass_thermostat("82 C", "95 C", bore="18 mm", name="bypass leg")])
    car.run("cooling", "engine out", "radiator out", [
        fn.thermostat("82 C", "95 C", bore="32 mm", bleed="1 %", name="thermostat"), fn.hose(bore="32 mm", length="500 mm", name="upper hose"),
        fn.cooler("60 kW at 120 L/min", rated_inlet="95 C", rated_air="35 C at 6 m/s", face=["600 mm", "400 mm"], drop="10 kPa at 120 L/min",
                  inside_share="20 %", name="radiator", **(radiator or {}))])
    car.run("back", "radiator out", "pump inlet", [fn.hose(bore="35 mm", length="700 mm", name="lower hose")])
    car.run("heating", "engine out", "pump inlet", [
        fn.orifice("6 mm", name="heater restrictor"), fn.hose(bore="16 mm", length="1.5 m", name="heater hose"),
        fn.cooler("45 W/K at 8 L/min", rated_air="20 C at 2 m/s", face=["200 mm", "150 mm"], drop="10 kPa at 10 L/min", inside_share="20 %",
                  wind_share=0, name="heater")])
    car.run("filling", "expansion tank", "pump inlet", [fn.hose(bore="16 mm", length="500 mm", name="fill hose")])
    if degassed:
        car.run("degassing", "engine out", "expansion tank", [fn.orifice("2 mm", name="degas jet"), fn.hose(bore="6 mm", length="500 mm", name="degas hose")])
    for name, conditions in {"idle": {"speed": "850 rpm", "fan": "3 m/s"}, "road": {"speed": "3000 rpm", "vehicle_speed": "33 m/s"},
                             "climb": {"speed": "3500 rpm", "vehicle_speed": "15 m/s", "fan": "4 m/s", "air_temperature": "45 C"}}.items():
        car.case(name, engine_power=f"{POWER[name]} W", **{"heater.fan": "1.5 m/s"}, **conditions)
    return car


@pytest.fixture(scope="module")
def answer():
    return loop().solve()


def warmth(case, part):
    """Flow times specific heat [W/K], at the mean temperature in a part."""
    return case.solution.flow_of(part) * fn.fluid("ethylene glycol 50 %").heat_at(f"{case.liquid_in(part)['temperature']} K").specific_heat.si


@pytest.mark.parametrize("name", POWER)
def test_radiator_and_heater_give_off_what_engine_and_pump_put_in(answer, name):
    case = answer[name]
    put_in = SHARE * POWER[name] + case.part("water pump").power.si
    assert case.part("radiator").heat.si + case.part("heater").heat.si == pytest.approx(put_in, rel=1e-6)
    assert case.certificate["energy_closure"] <= 1e-9


@pytest.mark.parametrize("name", POWER)
def test_the_engine_warms_its_coolant_by_its_heat_over_flow_and_specific_heat(answer, name):
    case = answer[name]
    rise = case.at("engine out").temperature.si - case.at("block in").temperature.si
    assert rise == pytest.approx(SHARE * POWER[name] / warmth(case, "jacket"), rel=0.01)  # and what its drop warms it by


@pytest.mark.parametrize("name", POWER)
def test_streams_mix_before_the_pump_by_their_flows(answer, name):
    case = answer[name]
    legs = [case.part(part) for part in ("bypass leg", "lower hose", "heater")]
    mixed = sum(leg.mass_flow.si * leg.temperature_out.si for leg in legs) / sum(leg.mass_flow.si for leg in legs)
    assert case.at("pump inlet").temperature.si == pytest.approx(mixed, abs=0.2)  # specific heat moves a little with temperature


def test_the_thermostat_keeps_a_cool_idle_in_holds_the_road_and_is_wide_open_on_a_climb(answer):
    assert [case.part("thermostat").regime for case in answer.values()] == ["shut", "regulating", "wide open"]
    assert [case.part("bypass leg").regime for case in answer.values()] == ["wide open", "regulating", "shut"]
    degrees = [case.at("engine out").temperature.to("C") for case in answer.values()]
    assert degrees[0] < 82 < degrees[1] < 95 < degrees[2]
    assert 0.02 < answer["road"].part("radiator").mass_flow.si / answer["climb"].part("radiator").mass_flow.si < 0.5


def test_a_smaller_radiator_runs_hotter_and_air_before_a_condenser_too(answer):
    plain = answer["climb"].at("engine out").temperature.si
    car = loop(radiator={"air_rise": "15 K"})
    behind = car.solve("climb")["climb"].at("engine out").temperature.si
    assert plain + 12 < behind < plain + 20  # 15 K, less what the heater then takes, and more as warm air is thinner
    car = loop()
    car.change("radiator", face=["500 mm", "400 mm"], heat="50 kW at 120 L/min")
    assert car.solve("climb")["climb"].at("engine out").temperature.si > plain + 5


def test_the_heater_gets_what_its_restrictor_lets_by(answer):
    case = answer["road"]
    whole = case.part("water pump").mass_flow.si
    assert 0.02 < case.part("heater").mass_flow.si / whole < 0.12
    wide = loop()
    wide.change("heater restrictor", bore="12 mm")
    more = wide.solve("road")["road"]
    assert more.part("heater").mass_flow.si > 2 * case.part("heater").mass_flow.si and more.part("heater").heat.si > case.part("heater").heat.si


def test_the_cap_sets_pressure_and_so_the_distance_from_boiling(answer):
    case = answer["climb"]
    assert case.at("expansion tank").gauge.to("psi") == pytest.approx(15, abs=0.2)
    capped = boiling_margin(case)
    assert capped.kelvin.si > 25 and not [one for one in case.findings if one.code == "near boiling"]
    open_cap = loop(cap="0 psi")
    open_cap.case("on a pass", altitude="2500 m", engine_power="160 kW", speed="3500 rpm", vehicle_speed="15 m/s", fan="4 m/s", air_temperature="45 C")
    low, high = (open_cap.solve(name)[name] for name in ("climb", "on a pass"))
    assert boiling_margin(high).kelvin.si < boiling_margin(low).kelvin.si < capped.kelvin.si - 15
    told = [one for one in checks.case_findings(high) if one.code in ("near boiling", "below vapour pressure")]
    assert told and told[0].severity in ("fix", "stop")
    suction = [one.part("water pump").suction.margin.si for one in (case, low, high)]  # the pump's inlet has its own, as a pressure
    assert suction[0] > suction[1] > suction[2]
    # One gauge tells of both: the cap's 15 psi less what the hotter loop of the open one takes.
    assert suction[0] - suction[1] == pytest.approx(15 * 6894.757, rel=0.05)


def test_margins_and_heat_stand_in_the_table(answer):
    text = answer.table("metric").text()
    for words in ("least distance from boiling", "radiator, heat given off", "engine out, heat put in", "water pump suction margin", "radiator in"):
        assert words in text, words
    assert "Never open a hot cooling system" in text


def test_an_expansion_tank_is_as_warm_as_what_returns_to_it(answer):
    """Through the degas hose a trickle runs; without it the tank stands aside, as warm as it was said."""
    assert answer["road"].at("expansion tank").temperature.to("C") == pytest.approx(85)
    degassed = loop(degassed=True, temperature="found", heat_loss="3 W/K").solve("road")["road"]
    tank, out = degassed.at("expansion tank").temperature.si, degassed.at("engine out").temperature.si
    trickle = warmth(degassed, "degas jet")
    assert trickle * (out - tank) == pytest.approx(3.0 * (tank - 308.15), rel=0.05)
    aside = loop(temperature="found", heat_loss="3 W/K").solve("road")["road"]
    assert aside.at("expansion tank").temperature.to("C") == pytest.approx(35, abs=0.1)  # the air's: nothing flows there


def test_without_air_the_loop_is_told_to_have_no_steady_temperature_or_runs_hot():
    car = loop()
    car.case("fan dead", speed="3000 rpm", engine_power="160 kW")
    case = car.solve("fan dead")["fan dead"]
    assert not case.converged and "would still take up" in case.cause and "cooler without air" in case.cause
