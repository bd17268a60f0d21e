"""Small numbers on which rules turn: seepage, a trifle of heat, all but fully open, what counts as a carburettor. Judgement of this project."""

import pytest
import test_carburettor_checks as carburettors
import test_fuel_pressure_checks as fuel
import test_heat_checks as heat
import test_injector_checks as injectors
import test_sound_circuits as sound
from test_checks import remark, reported

import flarenut as fn
from flarenut import checks
from flarenut.units import Quantity

PSI = 6894.757293168361
EDGE = 1e-6


def told(case, code, **limits):
    found = [one for one in checks.case_findings(case, checks.Limits(**limits)) if one.code == code]
    assert len(found) <= 1, found
    return found[0] if found else None


@pytest.mark.parametrize("flow, severity", [(0.0, "stop"), (0.99e-5, "stop"), (1e-5, "watch"), (-0.99e-5, "stop"), (-1.01e-5, "watch")])
def test_a_pump_that_passes_less_than_seepage_overheats(flow, severity):
    """1e-5 kg/s, some 50 mL of fuel in an hour."""
    (found,) = reported([remark("dead-headed pump", "pump", flow)])
    assert found.severity == severity


@pytest.mark.parametrize("kilograms, code", [(0.0, "regulator shut"), (0.98e-5, "regulator shut"), (1.02e-5, "regulator all but closed")])
def test_a_reducing_regulator_is_shut_up_to_seepage(kilograms, code):
    case = fuel.bowl(f"{kilograms / 740.0!r} m3/s")
    density = case.liquid_in("regulator")["density"]
    case = fuel.bowl(f"{kilograms / density!r} m3/s")
    assert {one.code for one in case.findings} & {"regulator shut", "regulator all but closed"} == {code}


@pytest.mark.parametrize("left, severity", [(1.05e-6, "watch"), (0.95e-6, "fix"), (0.0, "fix")])
def test_injectors_are_open_all_the_time_within_a_millionth(left, severity):
    assert told(injectors.car(duty=f"{100.0 * (1.0 - left)!r} %"), "injector duty").severity == severity


def test_a_duty_is_above_its_limit_from_a_millionth_on():
    case = injectors.car(duty="90 %")
    at = {over: told(case, "injector duty", injector_duty=Quantity(0.9 - over, "fraction")) for over in (0.95e-6, 1.05e-6, 0.45)}
    assert at[0.95e-6] is None and at[1.05e-6].severity == "watch" and at[0.45].hurt == pytest.approx(1.0)


def heated_line(metre):
    hose = fn.hose(bore="10 mm", length=f"{metre!r} m", air="5 m/s", air_rise="150 K", name="hot hose")
    return heat.engine("100 W", parts=[hose], **{"sump.temperature": "80 C"})


def test_lines_that_take_up_less_than_twenty_watts_are_left_alone():
    metre = 0.3
    for _ in range(4):
        metre *= 20.0 / -heated_line(metre).part("hot hose").heat.si
    assert told(heated_line(metre * 0.99), "heat from lines", line_heat_share="0.1 %") is None
    found = told(heated_line(metre * 1.01), "heat from lines", line_heat_share="0.1 %")
    assert found.numbers["heat"].si == pytest.approx(20.2, rel=2e-3)


@pytest.mark.parametrize("warmer, is_told", [(4.9, False), (5.1, True)])
def test_a_cooler_without_air_is_told_from_five_degrees_on(warmer, is_told):
    first = heat.engine("2 kW", parts=[heat.cooler()], **{"sump.temperature": "25 C"})
    beyond = first.solution.ends("cooler")[0].temperature - 298.15  # what the pump adds
    case = heat.engine("2 kW", parts=[heat.cooler()], **{"sump.temperature": f"{20.0 + warmer - beyond!r} C"})
    assert case.solution.ends("cooler")[0].temperature - 293.15 == pytest.approx(warmer, abs=0.05)
    assert (told(case, "cooler without air") is not None) == is_told


def test_a_regulator_set_as_high_as_for_injection_speaks_against_a_carburettor():
    case = carburettors.bowl("40 psi", "12 psi")
    assert told(case, "float valve pressure", carburettor_below=Quantity(12 * PSI * (1.0 + EDGE), "pressure_difference")).severity == "stop"
    assert told(case, "float valve pressure", carburettor_below=Quantity(12 * PSI * (1.0 - EDGE), "pressure_difference")) is None
    blown = sound.blow_through().solve()["idle"]
    for times, limit, severity in ((1.0 + EDGE, 0.011, "fix"), (1.0 - EDGE, 0.012, "watch")):
        found = told(blown, "return rise", carburettor_below=Quantity(6.5 * PSI * times, "pressure_difference"), return_rise_carburettor="0.011 psi",
                     return_rise_injection="0.012 psi")
        assert found.limit.to("psi") == pytest.approx(limit) and found.severity == severity


def against(setting):
    """A bypass regulator with 10 psi more on its return side, and no pump."""
    circuit = fn.Circuit("against (invented)", fluid="gasoline")
    circuit.fixed("low", "20 psi")
    circuit.fixed("high", "30 psi")
    circuit.run("return", "low", "high", [fn.bypass_regulator(f"{setting!r} psi", reference="ambient", name="regulator")])
    return circuit.solve()["as written"]


def test_a_tenth_of_its_setting_from_behind_says_that_a_regulator_is_backwards():
    assert told(against(100.0 * (1.0 + 1e-4)), "regulator backwards") is None
    found = told(against(100.0 * (1.0 - 1e-4)), "regulator backwards")
    assert found.severity == "stop" and found.hurt == checks.reach.ROOT and found.numbers["over"].to("psi") == pytest.approx(10.0)
