"""A limit is held at its own number: at it nothing is said, a hair beyond it is told, and more severely from where a rule says so.

Circuits are those of the other tests of findings. A limit is set to the number that the case itself has, to the last bit, and beside it. How far a
finding says it is beyond its limit, as a share of it (or, of temperatures, in tens of degrees), ranks it among others.
"""

import pytest
import test_carburettor_checks as carburettors
import test_flow_checks as flows
import test_heat_checks as heat
import test_injector_checks as injectors
import test_oil_checks as oil
import test_pump_checks as pumps
import test_regulator_checks as regulators
import test_relief_checks as reliefs
import test_sound_circuits as sound

from flarenut import checks
from flarenut.units import Quantity

HAIR = 1e-9


def solved(circuit, name=None):
    answer = circuit.solve()
    return answer[name or list(answer)[-1]]


def told(case, code, **limits):
    found = [one for one in checks.case_findings(case, checks.Limits(**limits)) if one.code == code]
    assert len(found) <= 1, found
    return found[0] if found else None


def hot(degrees, fluid="SAE 10W-40"):
    return heat.engine(fluid=fluid, **{"sump.temperature": f"{degrees} C"})


# What is told above its limit: circuit, limit, a small one, severity just beyond, and (times the limit, severity) from there on.
OVER = {
    "return rise": (lambda: flows.returning(0.0), "return_rise_injection", "watch", None),
    "return rise of a carburettor": (lambda: solved(sound.blow_through()), "return_rise_carburettor", "fix", None),
    "filter drop": (lambda: solved(sound.return_style()), "fuel_filter_drop", "fix", None),
    "feed velocity of fuel": (lambda: solved(sound.return_style()), "feed_velocity", "watch", None),
    "return velocity of fuel": (lambda: solved(sound.return_style()), "return_velocity", "watch", None),
    "suction velocity of fuel": (lambda: solved(sound.belt_driven_fuel()), "suction_velocity", "fix", None),
    "suction velocity of oil": (lambda: solved(sound.wet_sump()), "oil_suction_velocity", "fix", None),
    "feed velocity of oil": (lambda: solved(sound.wet_sump()), "oil_feed_velocity", "watch", None),
    "suction velocity of hydraulic oil": (lambda: solved(sound.steering_on_hydraulic_oil(), "straight on"), "hydraulic_suction_velocity", "fix", None),
    "feed velocity of hydraulic oil": (lambda: solved(sound.steering_on_hydraulic_oil(), "straight on"), "hydraulic_feed_velocity", "watch", None),
    "return velocity of hydraulic oil": (lambda: solved(sound.steering_on_hydraulic_oil(), "straight on"), "hydraulic_return_velocity", "watch", None),
    "feed velocity of water": (lambda: solved(sound.rinse()), "coolant_feed_velocity", "watch", None),
    "regulator creep": (lambda: flows.returning(0.0), "regulator_creep", "watch", None),
    "float valve pressure": (lambda: carburettors.bowl("40 psi"), "float_valve_pressure", "stop", None),
    "pressure ceiling of fuel": (lambda: reliefs.fuelled("110 psi"), "fuel_line_pressure", "watch", (2.0, "stop")),
    "pressure ceiling of oil filters": (lambda: reliefs.oiled(opens_at="65 psi"), "oil_filter_pressure", "watch", (2.0, "stop")),
    "relief setting": (lambda: reliefs.oiled(opens_at="130 psi"), "oil_relief_setting", "fix", (2.0, "stop")),
    "pump volts": (lambda: pumps.car("charted", volts="18 V"), "pump_volts_over", "watch", (2.0, "stop")),
    "heat from lines": (lambda: heat.engine("100 W", parts=[heat.fn.hose(bore="10 mm", length="3 m", air="5 m/s", air_rise="150 K", name="hot hose")],
                                            sump={"heat_loss": "10 W/K"}), "line_heat_share", "watch", None),
}


@pytest.mark.parametrize("name", OVER)
def test_what_is_above_its_limit_is_told_and_what_is_at_it_is_not(name):
    make, limit, mild, worse = OVER[name]
    case, code = make(), name.partition(" of ")[0]
    kind = checks.LIMITS[limit].kind
    value = told(case, code, **{limit: Quantity(1e-3, kind)}).value.si

    def at(times):
        """The finding where the limit is so many times less than what the case has."""
        return told(case, code, **{limit: Quantity(value / times, kind)})

    assert at(1.0 - HAIR) is None and (at(1.0) is None or kind == "fraction")
    just, double = at(1.0 + HAIR), at(2.0)
    assert just.severity == mild and just.hurt == pytest.approx(HAIR, rel=1e-3) and double.hurt == pytest.approx(1.0)
    assert double.limit.si == pytest.approx(value / 2.0) and double.value.si == value and double.source == "set by you"
    if worse is None:
        assert double.severity == at(10.0).severity == mild
    else:
        times, severity = worse
        assert at(times * (1.0 - HAIR)).severity == mild and at(times * (1.0 + HAIR)).severity == severity


UNDER = {
    "suction margin": (lambda: solved(sound.methanol_injection()), "suction_margin", lambda limit, value: (limit - value) / limit),
    "inlet vacuum of fuel": (lambda: solved(sound.belt_driven_fuel()), "inlet_vacuum", lambda limit, value: (limit - value) / abs(limit)),
    "inlet vacuum of oil": (lambda: solved(sound.wet_sump()), "oil_inlet_vacuum", lambda limit, value: (limit - value) / abs(limit)),
    "oil pressure at any speed": (lambda: oil.engine("900 rpm"), "oil_pressure_floor", lambda limit, value: 1.0 - value / limit),
    "near boiling": (lambda: heat.heated("water", 80), "coolant_boiling_margin", lambda limit, value: 1.0 - value / limit),
}


@pytest.mark.parametrize("name", UNDER)
def test_what_is_under_its_limit_is_told_and_what_is_at_it_is_not(name):
    make, limit, share = UNDER[name]
    case, code = make(), name.partition(" of ")[0].partition(" at ")[0]
    kind = checks.LIMITS[limit].kind
    far = Quantity({"pressure_gauge": 5e5, "pressure_difference": 1e7, "temperature_difference": 90.0}[kind], kind)
    found = told(case, code, **{limit: far})
    value, beside = found.value.si, found.limit.si - far.si  # a fuel's own uncertainty comes on top of the margin
    size = abs(value)
    assert found.hurt == pytest.approx(share(found.limit.si, value)) and found.source == "set by you"
    at = {off: told(case, code, **{limit: Quantity(value - beside + off * size, kind)}) for off in (-1e-6, 0.0, 1e-6, 0.5)}
    assert at[-1e-6] is None and (at[0.0] is None or beside != 0.0 or code == "oil pressure")
    assert at[1e-6].hurt == pytest.approx(share(value + 1e-6 * size, value), rel=1e-3)
    assert at[0.5].hurt == pytest.approx(share(value + 0.5 * size, value)) and at[0.5].severity == at[1e-6].severity


@pytest.mark.parametrize("fluid, code, limits", [
    ("SAE 10W-40", "liquid too hot", (("oil_temperature_road", "watch"), ("oil_temperature_track", "fix"), ("oil_temperature_alarm", "stop"))),
    ("ATF", "liquid too hot", (("transmission_temperature", "watch"), ("transmission_temperature_alarm", "stop"))),
    ("ISO VG 46", "liquid too hot", (("hydraulic_temperature", "watch"),))])
def test_each_limit_on_temperature_is_held_at_its_own_degree(fluid, code, limits):
    case = hot(100, fluid)
    value = told(case, code, **{limits[0][0]: Quantity(300.0, "temperature")}).value.si
    for place, (name, severity) in enumerate(limits):
        lower = {limit: Quantity(300.0, "temperature") for limit, _ in limits[:place]}
        higher = {limit: Quantity(500.0, "temperature") for limit, _ in limits[place + 1:]}
        before = limits[place - 1][1] if place else None
        for off, expected in ((0.0, before), (1e-6, before), (-1e-6, severity), (-10.0, severity)):
            found = told(case, code, **lower, **higher, **{name: Quantity(value + off, "temperature")})
            assert (found.severity if found else None) == expected
        assert found.hurt == pytest.approx(1.0) and found.value.si == value  # ten degrees beyond


def test_oil_that_runs_cool_is_told_from_five_degrees_under():
    case = heat.engine("300 W")
    value = told(case, "oil runs cool").value.si
    at = {off: told(case, "oil runs cool", oil_temperature_least=Quantity(value + off, "temperature")) for off in (4.999, 5.001, 15.0)}
    assert at[4.999] is None and at[5.001].hurt == pytest.approx(0.5, rel=1e-3) and at[15.0].hurt == pytest.approx(1.5)


def test_injectors_are_held_against_what_they_were_rated_at():
    """Their limits are shares of the rated 3 bar."""
    case = injectors.car(None)
    across = injectors.across(case) / 3e5
    at = {times: told(case, "injector pressure", injector_pressure=str(across / times)) for times in (1.0 - HAIR, 1.0 + HAIR, 1.5)}
    assert at[1.0 - HAIR] is None and at[1.0 + HAIR].severity == "stop"
    assert at[1.5].hurt == pytest.approx(0.5) and at[1.5].limit.si == pytest.approx(3e5 * across / 1.5)
    low = injectors.car(set="25 psi")
    across = injectors.across(low) / 3e5
    at = {times: told(low, "injector pressure low", injector_pressure_least=Quantity(across * times, "fraction")) for times in (1.0 - HAIR, 1.0 + HAIR, 1.25)}
    assert at[1.0 - HAIR] is None and at[1.0 + HAIR].severity == "stop" and at[1.25].hurt == pytest.approx(0.2)


@pytest.mark.parametrize("share, severity", [(1.0 - HAIR, None), (1.0 + HAIR, "watch"), (2.49, "watch"), (2.51, "fix"), (9.9, "fix"), (10.1, "stop")])
def test_what_a_relief_leaves_is_held_against_its_limit(share, severity):
    case = oil.engine("4000 rpm", opens_at="6 psi")
    left = told(case, "oil spilled", oil_consumer_share="99 %").value.si
    found = told(case, "oil spilled", oil_consumer_share=Quantity(share * left, "fraction"))
    assert (found.severity if found else None) == severity
    assert found is None or found.hurt == pytest.approx(1.0 - 1.0 / share, abs=1e-8)


def test_a_regulators_shortfall_is_a_share_of_its_setting():
    case = regulators.carburettor("62 gph", dead_head="8 psi", wide_open="0.3 psi at 60 gph", droop="1 psi")
    short = told(case, "regulator short").value.si / (6 * regulators.PSI)
    at = {times: told(case, "regulator short", reducing_shortfall=Quantity(short / times, "fraction")) for times in (1.0 - 1e-6, 1.0 + 1e-6, 2.0, 2.999, 3.001)}
    assert at[1.0 - 1e-6] is None and [at[times].severity for times in (1.0 + 1e-6, 2.0, 2.999, 3.001)] == ["watch", "watch", "watch", "stop"]
    assert at[2.0].limit.si == pytest.approx(short / 2.0 * 6 * regulators.PSI)


@pytest.mark.parametrize("make, psi", [(lambda: regulators.carburettor("80 gph", dead_head="9 psi"), 6.0),
                                       (lambda: injectors.car(duty="100 %", flow="3000 cc/min at 3 bar"), 43.5)])
def test_a_regulator_with_nothing_left_is_told_however_little_it_lacks(make, psi):
    case = make()
    short = told(case, "regulator starved").value.si
    at = {times: told(case, "regulator starved", regulator_shortfall=Quantity(short / (psi * regulators.PSI) / times, "fraction")) for times in (0.1, 1.0 - 1e-6, 1.0 + 1e-6, 3.0)}
    assert [found.severity for found in at.values()] == ["watch", "watch", "stop", "stop"]
    assert at[0.1].hurt == pytest.approx(0.1) and at[3.0].hurt == pytest.approx(3.0) and at[3.0].limit.si == pytest.approx(short / 3.0)
    assert ("first check the number" in at[3.0].cure) == (short > 0.5 * psi * regulators.PSI)


def test_a_setting_beyond_the_pump_ranks_by_what_is_short_of_it():
    case = regulators.carburettor(set="60 psi")
    found = told(case, "regulator set above the pump")
    held = case.solution.ends("regulator")[1].total - case.ambient.si
    assert found.hurt == pytest.approx((60 * regulators.PSI - held) / (0.05 * 60 * regulators.PSI), rel=1e-6)
    assert found.limit.to("psi") == pytest.approx(12.0)


def test_what_is_lost_behind_a_regulator_is_held_against_the_same_share():
    case = regulators.carburettor("10 gph", ahead="4 ft", acceleration="1.5 g")
    short = told(case, "pressure where drawn").value.si / (6 * regulators.PSI)
    at = {times: told(case, "pressure where drawn", reducing_shortfall=Quantity(short / times, "fraction")) for times in (1.0 - 1e-6, 1.0 + 1e-6, 2.0, 2.999, 3.001)}
    assert at[1.0 - 1e-6] is None and [at[times].severity for times in (1.0 + 1e-6, 2.0, 2.999, 3.001)] == ["watch", "watch", "watch", "stop"]
    assert at[2.0].hurt == pytest.approx(1.0) and at[2.0].numbers["setting"].to("psi") == pytest.approx(6.0)
    assert at[2.0].value.si == pytest.approx(6 * regulators.PSI - at[2.0].numbers["here"].si)


def test_a_regulator_that_is_wide_open_ranks_by_how_far_the_pressure_has_climbed():
    case = injectors.car(return_size="-3")
    found = told(case, "regulator wide open", return_rise_injection="2 psi")
    assert found.severity == "fix" and found.limit.to("psi") == pytest.approx(2.0) and found.hurt == pytest.approx(found.value.to("psi") / 2.0)
    assert found.value.si == pytest.approx(injectors.across(case) - 43.5 * regulators.PSI, rel=1e-3)


def test_pressure_on_a_tank_adds_to_what_its_pumps_hold_up():
    """A cell under 5 psi with a pump of 95 psi at no flow holds up 100 psi."""
    def car(psi):
        circuit = regulators.fn.Circuit("car (invented)", fluid="E85")
        circuit.tank("cell", level="8 in", vent="5 psi")
        circuit.run("feed", "cell", "rail", [regulators.fn.formula_pump("95 psi", "150 gph", name="pump"), regulators.fn.hose("-8", "11 ft", spec="ptfe")])
        circuit.run("return", "rail", "cell", [regulators.fn.bypass_regulator(f"{psi} psi", reference="ambient", name="regulator")])
        circuit.injectors("bank", "rail", count=6, flow="1000 cc/min at 3 bar", duty="5 %", to="ambient")
        return solved(circuit)

    assert told(car(101), "regulator set above the pump").limit.to("psi") == pytest.approx(100.0)
    assert told(car(99), "regulator set above the pump") is None


@pytest.mark.parametrize("make, code, limit", [(lambda: solved(sound.two_rails()), "feed velocity", "feed_velocity"),
                                               (lambda: solved(sound.two_rails()), "pressure ceiling", "fuel_line_pressure")])
def test_others_beyond_the_same_limit_are_named_and_none_where_there_are_none(make, code, limit):
    case, kind = make(), checks.LIMITS[limit].kind
    all_of_them = told(case, code, **{limit: Quantity(1e-3, kind)})
    worst = told(case, code, **{limit: Quantity(all_of_them.value.si * (1.0 - HAIR), kind)})
    assert "also in" in all_of_them.text() and "also in" not in worst.text() and worst.where == all_of_them.where
    assert all_of_them.text().count(all_of_them.where) == 1
