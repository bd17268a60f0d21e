"""What the rules rest on, each by itself: no-flow rises, what a regulator feels, what a fuel's vapour pressure may be off by. All circuits are invented."""

from dataclasses import replace
from math import inf, nextafter

import pytest
import test_check_valve_checks as valves
import test_fuel_pressure_checks as fuel
import test_heat_checks as heat
import test_oil_checks as oil
import test_pump_checks as pumps
import test_rating_findings as ratings
import test_regulator_checks as regulators
import test_volatility_checks as volatility
from altered_case import altered
from checks_example import pump, still
from test_exact_limits_checks import grade, told
from test_heat_rules_checks import second, state
from test_heat_unsaid import fuel as unsaid_fuel

import flarenut as fn
from flarenut import checks
from flarenut.checks import pumps as own
from flarenut.checks import suction, written
from flarenut.units import Quantity

PSI, LITRE_PER_HOUR = 6894.757293168361, 1e-3 / 3600


@pytest.mark.parametrize("kind", pumps.PUMPS)
@pytest.mark.parametrize("volts", [11.0, 13.5, 15.0])
def test_a_pump_raises_at_no_flow_by_the_square_of_its_volts_and_at_most_what_it_was_measured_at_or_more(kind, volts):
    """Affinity laws: 100 psi at no flow and 400 L/h freely at 13.5 V, which go with the square of the volts and with the volts."""
    case = pumps.car(kind, volts=f"{volts} V")
    by_volts = 100.0 * (volts / 13.5) ** 2
    charted = {11.0: None, 13.5: 100.0, 15.0: by_volts}[volts] if kind == "charted" else by_volts
    assert own.most_no_flow_rise(case, "pump") / PSI == pytest.approx(max(100.0, by_volts), rel=1e-4) and own.measured_volts(case, "pump") == 13.5
    assert charted is None or own.no_flow_rise(case, "pump") / PSI == pytest.approx(charted, rel=1e-4)
    assert volts != 13.5 or own.free_flow(case, "pump") / LITRE_PER_HOUR == pytest.approx(400.0, rel=1e-3)
    assert own.electric_pumps(case) == ["pump"]


def test_of_a_gear_pump_no_such_number_is_known():
    case = oil.engine()
    assert own.measured_volts(case, "oil pump") is own.no_flow_rise(case, "oil pump") is own.most_no_flow_rise(case, "oil pump") is own.free_flow(case, "oil pump") is None


@pytest.mark.parametrize("volts, severity", [(16.875, None), (nextafter(16.875, inf), "watch"), (20.25, "watch"), (nextafter(20.25, inf), "stop")])
def test_volts_a_quarter_over_are_borne_and_half_as_many_again_are_watched(volts, severity):
    case = pumps.car("by formula")
    assert grade(altered(case, numbers={"pump.volts": volts, "pump.rated_volts": 13.5}), "pump volts") == severity


@pytest.mark.parametrize("height", [0.0, 2.0, -1.5])
def test_what_a_regulator_feels_is_brought_to_its_own_height(height):
    """740 kg/m3 in the sensing line: rho g h is back at the valve."""
    case = fuel.tapped(height, wide_open="40 psi at 340 L/h").solve()["as written"]
    tap = case.solution.pressure_of("tap")
    assert written.held_of(case, "regulator") == pytest.approx(tap - case.ambient.si + 740.0 * 9.80665 * height, rel=1e-9)
    assert written.reference_of(case, "regulator") == case.ambient.si
    case.layout = replace(case.layout, senses={"regulator": ("rail",)})
    assert written.reference_of(case, "regulator") is written.held_of(case, "regulator") is written.setting_of(case, "regulator") is None
    case.layout = replace(case.layout, senses={"regulator": ("nowhere", "ambient")})
    assert written.held_of(case, "regulator") is None and written.setting_of(case, "regulator") is not None


@pytest.mark.parametrize("fluid, fuelled", [("E10", True), ("gasoline class A", True), ("water", False), ("SAE 10W-40", False)])
def test_what_its_vapour_pressure_may_be_off_by_counts_for_a_fuel_alone(fluid, fuelled):
    case, limits = volatility.tank(fluid, "30 C"), checks.Limits()
    vapour = case.liquid_in("pump")["vapour_pressure"]
    band = (fn.fluid(fluid).band("vapour pressure", "30 C") or 0.0) * vapour if fuelled else 0.0
    assert suction.least_margin(case, "pump", limits) == pytest.approx(limits.suction_margin.si + band)
    assert not fuelled or suction.vapour_band(case, "pump") == pytest.approx(band) and band > 0.0
    assert suction.least_margin_at(case.layout.liquids[0], case.layout.family, 303.15, limits) == pytest.approx(limits.suction_margin.si + band, rel=1e-6)


def test_liquid_at_the_pressure_on_it_does_not_boil_yet():
    case = volatility.tank("water", "90 C")
    over = suction.surface_pressures(case)[case.junction_names.index("cell")]
    for vapour, boils in ((over, False), (nextafter(over, inf), True)):
        bent = altered(case, liquids={part: {"vapour_pressure": vapour} for part in case.part_names})
        assert bool(suction.boiling_tanks(bent)) is boils


def test_a_state_ranks_by_how_far_it_is_from_the_answer_where_they_differ_most():
    (found,), _ = second(state(("left", 350.0, 290.0), ("right", 340.0, 360.0)))
    assert found.hurt == pytest.approx(60.0 / 50.0)


def test_a_cooler_that_takes_up_heat_gives_none_off():
    case = heat.engine("2 kW", parts=[heat.cooler()], **{"sump.temperature": "120 C"})
    assert told(altered(case, heats={"cooler": 5.0}), "cooler without air").value.si == 0.0
    assert told(altered(case, heats={"cooler": -0.4}), "cooler without air").value.si == pytest.approx(0.4)


@pytest.mark.parametrize("names, told_of", [
    (("cell",), "cell goes by it"), (("cell", "rail"), "cell, rail go by it"), (("cell", "rail", "pump"), "cell, rail, pump go by it"),
    (("cell", "rail", "pump", "regulator"), "cell, rail, pump and 1 more go by it")])
def test_three_are_named_that_go_by_the_air_and_the_others_counted(names, told_of):
    case = unsaid_fuel().solve()["one"]
    case.layout = replace(case.layout, notes={"one": replace(case.layout.notes["one"], by_unsaid_air=names)})
    assert told_of in told(case, "air temperature unsaid").what


def test_without_places_an_acceleration_is_not_judged():
    car = fn.Circuit("launch (invented)", fluid="water")
    car.tank("cell", level="0.1 m")
    car.run("out", "cell", "ambient", [fn.hose(bore="8 mm", length="2 m", name="hose")])
    car.case("launch", acceleration="0.9 g")
    case = car.solve()["launch"]
    assert told(case, "acceleration without effect") is not None
    case.layout = replace(case.layout, positions={})
    assert told(case, "acceleration without effect") is None


def exactly(share, times):
    """A limit of which so many times are a share to the last bit."""
    near = share / times
    for _ in range(8):
        for limit in (near, nextafter(near, 0.0), nextafter(near, inf)):
            if times * limit == share:
                return limit
        near = nextafter(near, inf)
    return None


def test_four_tenths_and_a_tenth_of_the_limit_on_what_a_relief_leaves_are_the_milder_ones():
    case, found = oil.engine("4000 rpm", opens_at="6 psi"), {}
    for gone in range(33, 64):
        bent = altered(case, ends={"oil pump": {1: {"flow": -1.0}}, "relief": {0: {"flow": gone / 64.0}}})
        for times, mild in ((0.4, "watch"), (0.1, "fix")):
            limit = exactly(1.0 - gone / 64.0, times)
            if limit is not None and limit < 1.0:
                found.setdefault(times, set()).add(grade(bent, "oil spilled", oil_consumer_share=Quantity(limit, "fraction")) == mild)
    assert found == {0.4: {True}, 0.1: {True}}


def test_a_hose_that_bears_just_what_a_pump_reaches_is_left_alone():
    reached = told(ratings.pumped(ratings.strong_pump(), [ratings.rubber()]).solve()["as written"], "dead head over pressure").value.si
    for bears, is_told in ((reached * (1.0 - 1e-9), True), (reached * (1.0 + 1e-9), False)):
        case = ratings.pumped(ratings.strong_pump(), [ratings.rubber(maker_pressure=f"{bears!r} Pa")]).solve()["as written"]
        assert (told(case, "dead head over pressure") is not None) is is_told


def test_one_pump_that_presses_is_enough_for_a_check_valve_to_cut_something_off():
    car = still("spill")
    car.tank("cell", level="0.2 m")
    car.run("feed", "cell", "outlet", [pump()])
    car.run("spill", "outlet", "cell", [fn.relief_valve("40 psi", wide_open="10 psi at 300 L/h", name="relief")])
    car.run("valve", "rail", "outlet", [fn.check_valve(bore="6 mm", name="check")])
    car.run("out", "rail", "ambient", [fn.hose(bore="8 mm", length="2 m"), fn.orifice("1 mm", name="jet")])
    car.run("other", "cell", "ambient", [pump("other pump"), fn.orifice("1 mm", name="other jet")])
    assert "nothing flows behind it" in told(car.solve()["as written"], "check valve backwards").what
    assert told(valves.valved(pump(), fn.check_valve(bore="6 mm", name="check")).solve()["as written"], "check valve backwards") is None


def test_hot_oil_before_a_pump_without_a_tank_is_told_at_its_inlet():
    circuit = fn.Circuit("bench (invented)", fluid="SAE 10W-40", temperatures="found", fluid_temperature="40 C")
    circuit.junction("stand", supply="5 L/min", temperature="130 C")
    circuit.run("line", "stand", "ambient", [fn.formula_pump("2 psi", "20 L/min", name="pump")])
    case = circuit.solve()["as written"]
    assert told(case, "liquid too hot").where == "stand" and told(case, "liquid too hot").severity == "fix"


def test_a_regulator_that_regulates_far_under_a_setting_beyond_its_pump_is_asked_about_its_setting():
    case = altered(regulators.carburettor(set="60 psi"), regimes={"regulator": "regulating"})
    (found,) = checks.regulators.falls_short(case, checks.Limits())
    assert found.code == "regulator set above the pump" and found.severity == "stop" and found.limit.to("psi") == pytest.approx(12.0)
    (short,) = checks.regulators.falls_short(altered(regulators.carburettor("62 gph", dead_head="8 psi", wide_open="0.3 psi at 60 gph", droop="1 psi")), checks.Limits())
    assert short.code == "regulator short"


@pytest.mark.parametrize("hotter", ["left", "right"])
def test_of_two_tanks_the_hotter_is_judged(hotter):
    circuit = fn.Circuit("two sumps (invented)", fluid="SAE 10W-40", air_temperature="20 C")
    for side in ("left", "right"):
        circuit.tank(f"{side} sump", level="80 mm", temperature="found", heat_loss="20 W/K")
        circuit.fixed(f"{side} case", height="200 mm", drains_to=f"{side} sump")
        circuit.run(side, f"{side} sump", f"{side} case", [fn.displacement_pump("10 cc/rev", speed="2000 rpm", name=f"{side} pump"), fn.orifice("4 mm", name=f"{side} jet")])
    circuit.case("hot", **{f"{side} sump.temperature": "138 C" if side == hotter else "112 C" for side in ("left", "right")})
    found = told(circuit.solve()["hot"], "liquid too hot")
    assert found.where == f"after {hotter} pump" and found.severity == "stop" and found.value.to("C") == pytest.approx(138.0, abs=3.0)


def test_a_hose_without_a_rating_is_judged_by_its_standard_before_its_specification():
    found = told(ratings.steady(ratings.ptfe("-5", standard="SAE 100R5"), "6 psi", "E85").solve()["as written"], "liquid and line")
    assert found.severity == "stop" and "SAE 100R5 hose" in found.what


def test_half_of_where_it_turns_itself_asks_nobody_about_a_unit_and_a_shortfall_of_the_limit_itself_is_none():
    case = regulators.car()
    turns, reference = written.setting_of(case, "regulator").turns_at, written.reference_of(case, "regulator")
    column = written.held_of(case, "regulator") + reference - case.solution.pressure_of("rail")
    rail = reference + 0.5 * turns - column
    for pascal in (rail, *(nextafter(rail, way) for way in (0.0, inf))):
        bent = altered(case, pressures={"rail": pascal})
        held = written.held_of(bent, "regulator")
        (found,) = checks.regulators.at_stop(bent, checks.Limits(), "regulator", "valve shut")
        assert found.cure.startswith("first check the number") is (held < 0.5 * turns)


def test_a_reducing_regulator_short_by_the_limit_itself_is_not_asked_about():
    fitting = 0
    for psi in range(58, 66):
        case = altered(regulators.carburettor(set=f"{psi} psi"), regimes={"regulator": "regulating"})
        setting = written.setting_of(case, "regulator")
        limit = exactly(setting.turns_at - written.held_of(case, "regulator"), setting.pressure)
        if limit is None:  # no share times this setting is the shortfall to the last bit
            continue
        fitting += 1
        for share, told_of in ((limit, False), (nextafter(limit, 0.0), True)):
            found = checks.regulators.falls_short(case, checks.Limits(reducing_shortfall=Quantity(share, "fraction")))
            assert ("regulator set above the pump" in [one.code for one in found]) is told_of
    assert fitting
