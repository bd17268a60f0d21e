"""Regulators that do not hold what they are set to: short while regulating, sensing their own supply, set beyond the pump, off.

The limits are common practice, no source.
"""

from math import inf, nextafter
from types import SimpleNamespace

import pytest
from altered_case import altered

import flarenut as fn
from flarenut import checks
from flarenut.checks import regulators as rules
from flarenut.units import Quantity

PSI = 6894.757293168361


def told(case, code, limits=None):
    found = [one for one in checks.case_findings(case, limits) if one.code == code]
    assert len(found) <= 1, found
    return found[0] if found else None


# ---- a reducing regulator ----

def carburettor(drawn="36 gph", *, set="6 psi", dead_head="12 psi", wide_open="0.3 psi at 60 gph", hose="-6", ahead="0 ft", droop="0.3 psi",
                **conditions):
    """Pump, regulator, 2 ft of hose, bowl `ahead` of all the rest."""
    circuit = fn.Circuit("carburettor (invented)", fluid="gasoline class A")
    circuit.tank("main", level="8 in", position=["0 ft", "0 ft", "0 in"])
    circuit.junction("bowl", demand=drawn, position=[ahead, "0 ft", "0 in"])
    circuit.run("feed", "main", "behind", [
        fn.formula_pump(dead_head, "90 gph", name="pump"),
        fn.reducing_regulator(set, wide_open=wide_open, droop=droop, name="regulator")])
    circuit.junctions["behind"].position = (0.0, 0.0, 0.0)
    circuit.run("to bowl", "behind", "bowl", [fn.hose(hose, "2 ft", spec="ptfe", name="hose")])
    circuit.case("run", **conditions)
    return circuit.solve()["run"]


CODES = ("regulator short", "pressure where drawn", "regulator starved", "regulator set above the pump", "regulator before the pump",
         "pump off", "float valve pressure")


def test_a_sound_carburettor_feed_is_left_alone():
    case = carburettor()
    assert case.solution.regime_of("regulator") == "regulating" and not any(told(case, code) for code in CODES)


def test_a_regulator_that_regulates_far_under_its_setting_stops_and_says_what_the_bowl_gets():
    case = carburettor("62 gph", dead_head="8 psi", wide_open="0.3 psi at 60 gph", droop="1 psi")
    found = told(case, "regulator short") or told(case, "regulator starved")
    outlet = case.solution.ends("regulator")[1].total - case.ambient.si
    assert case.solution.regime_of("regulator") == "regulating" and found.code == "regulator short" and found.severity == "stop"
    assert found.value.si == pytest.approx(6 * PSI - outlet, rel=1e-6) and found.value.to("psi") > 1.8
    assert found.numbers["here"].si == pytest.approx(case.at("bowl").gauge.si) and "bowl" in found.text()


@pytest.mark.parametrize(("times", "severity"), [(0.99, "watch"), (1.01, None), (0.32, "stop")])
def test_the_shortfall_is_held_against_its_limit(times, severity):
    case = carburettor("40 gph", dead_head="9 psi", wide_open="0.6 psi at 60 gph")
    assert case.solution.regime_of("regulator") == "regulating"
    short = 6 * PSI - (case.solution.ends("regulator")[1].total - case.ambient.si)
    found = told(case, "regulator short", checks.Limits(reducing_shortfall=f"{100 * times * short / (6 * PSI)} %"))
    assert (found.severity if found else None) == severity


def test_a_launch_takes_from_the_bowl_what_the_column_ahead_weighs():
    """rho a L = 740 x 9.80665 x 4 ft is 1.28 psi; 1.5 g takes 1.93 of 6."""
    case = carburettor("10 gph", ahead="4 ft", acceleration="1.5 g")
    found = told(case, "pressure where drawn")
    assert found.where == "bowl" and found.severity == "stop"
    assert found.value.si == pytest.approx(6 * PSI - case.at("bowl").gauge.si, rel=1e-6)
    assert found.value.to("psi") == pytest.approx(1.93, abs=0.35)
    assert told(carburettor("10 gph", ahead="4 ft"), "pressure where drawn") is None


def test_a_regulator_set_above_what_the_pump_raises_is_asked_about():
    case = carburettor(set="60 psi")
    found = told(case, "regulator set above the pump")
    assert found.severity == "stop" and "is the setting right" in found.text()
    assert found.value.to("psi") == pytest.approx(60.0) and found.limit.to("psi") == pytest.approx(12.0)
    assert "larger pump" not in " ".join(one.cure for one in case.findings)


def test_low_volts_are_no_slip_of_the_setting():
    assert told(carburettor("2 gph", dead_head="7 psi", volts="9 V"), "regulator set above the pump") is None


def test_a_reducing_regulator_before_the_pump_is_misplaced():
    circuit = fn.Circuit("misplaced (invented)", fluid="gasoline class A")
    circuit.tank("main", level="8 in")
    circuit.junction("bowl", demand="20 gph")
    circuit.run("feed", "main", "bowl", [fn.reducing_regulator("6 psi", wide_open="0.3 psi at 60 gph", name="regulator"),
                                         fn.formula_pump("8 psi", "90 gph", name="pump")])
    found = told(circuit.solve()["as written"], "regulator before the pump")
    assert found.severity == "stop" and "after the pump" in found.cure


# ---- a bypass regulator ----

def car(set="43.5 psi", reference="manifold", **conditions):
    circuit = fn.Circuit("car (invented)", fluid="E85")
    circuit.tank("cell", level="8 in")
    circuit.run("feed", "cell", "rail", [fn.formula_pump("95 psi", "150 gph", through="60 psi at 85 gph", name="pump"),
                                         fn.hose("-8", "11 ft", spec="ptfe")])
    circuit.run("rail hose", "rail", "regulator inlet", [fn.hose("-8", "2 ft", spec="ptfe")])
    circuit.run("return", "regulator inlet", "cell", [fn.bypass_regulator(set, reference=reference, name="regulator"),
                                                      fn.hose("-6", "12 ft", spec="ptfe")])
    circuit.injectors("bank", "rail", count=6, flow="1000 cc/min at 3 bar")
    circuit.case("run", **{"volts": "13.5 V", "duty": "5 %", "manifold": "0 psi", **conditions})
    return circuit.solve()["run"]


@pytest.mark.parametrize("reference", ["rail", "regulator inlet"])
def test_a_regulator_whose_reference_is_its_own_supply_is_told_so_and_no_larger_pump_is_advised(reference):
    case = car(reference=reference)
    found = told(case, "regulator senses its own supply")
    assert found.severity == "stop" and case.findings[0] is not None and reference in found.text() and case.findings[0].code == found.code
    assert told(case, "regulator starved") is None and not any("larger pump" in one.cure for one in case.findings)


@pytest.mark.parametrize("reference", ["manifold", "ambient", "cell"])
def test_a_reference_elsewhere_is_none(reference):
    assert told(car(reference=reference), "regulator senses its own supply") is None


def test_a_setting_ten_times_too_large_is_asked_about():
    case = car("435 psi")
    found = told(case, "regulator set above the pump")
    assert found.limit.to("psi") == pytest.approx(95.0) and found.value.to("psi") == pytest.approx(435.0)
    assert told(case, "regulator starved") is None and not any("larger pump" in one.cure for one in case.findings)


def test_boost_counts_towards_what_it_would_take():
    assert told(car("85 psi"), "regulator set above the pump") is None
    assert told(car("85 psi", manifold="20 psi boost"), "regulator set above the pump").value.to("psi") == pytest.approx(105.0)


def test_with_the_pump_off_and_nothing_drawn_no_pump_is_advised():
    case = car(volts="0 V", duty="0 %")
    found = told(case, "pump off")
    assert found.severity == "note" and {one.severity for one in case.findings} == {"note"}
    assert not any(word in one.cure for one in case.findings for word in ("larger pump", "volts"))


def test_with_the_pump_off_and_fuel_asked_for_it_stops():
    found = told(car(volts="0 V", duty="50 %"), "pump off")
    assert found.severity == "stop" and "let the pump run" in found.cure


def test_a_running_pump_is_not_off():
    assert told(car(), "pump off") is None


def stuck(case, code, over=0.0, **limits):
    """What is said of a regulator at a stop that feels so much over its setting [Pa]."""
    setting, sensed = checks.written.setting_of(case, "regulator"), case.layout.senses["regulator"][0]
    column = checks.written.held_of(case, "regulator") + checks.written.reference_of(case, "regulator") - case.solution.pressure_of(sensed)
    held = checks.written.reference_of(case, "regulator") + setting.pressure + over - column
    (found,) = rules.at_stop(altered(case, pressures={sensed: held}), checks.Limits(**limits), "regulator", code)
    return found


@pytest.mark.parametrize("over, told_of", [(-5e4, 0.0), (0.0, 0.0), (3e4, 3e4)])
def test_a_bypass_regulator_that_is_wide_open_says_by_how_much_the_pressure_stands_over_its_setting(over, told_of):
    found = stuck(car(), "valve wide open", over, return_rise_injection=Quantity(2e4, "pressure_difference"))
    assert (found.code, found.severity) == ("regulator wide open", "fix") and found.value.si == pytest.approx(told_of, abs=1e-6)
    assert found.hurt == pytest.approx(told_of / 2e4) and found.limit.si == 2e4


def test_nothing_under_its_setting_is_nothing():
    assert stuck(car(), "valve wide open", -5e4).value.si == 0.0 and stuck(car(), "valve shut", 5e4).value.si == 0.0


@pytest.mark.parametrize("make, code, said", [
    (car, "valve shut", "regulator starved"), (car, "valve wide open", "regulator wide open"),
    (carburettor, "valve wide open", "regulator starved"),
    (carburettor, "valve shut", "regulator all but closed")])
def test_shut_and_wide_open_mean_the_opposite_for_the_two_kinds_of_regulators(make, code, said):
    found = stuck(make(), code)
    assert found.code == said and ("{here} stands at bowl" in found.what) == (make is carburettor and said == "regulator starved")


@pytest.mark.parametrize("share, severity", [(0.99, "watch"), (1.01, "stop")])
def test_a_starved_regulator_stops_beyond_its_limit(share, severity):
    case = car()
    setting = checks.written.setting_of(case, "regulator")
    short = 0.125 * setting.turns_at
    found = stuck(case, "valve shut", setting.turns_at - setting.pressure - short,
                  regulator_shortfall=Quantity(short / share / setting.pressure, "fraction"))
    assert found.severity == severity and found.hurt == pytest.approx(share) and found.value.si == pytest.approx(short)


def test_a_starved_regulator_short_by_the_limit_itself_does_not_stop():
    case, fitting = car(), 0
    setting = checks.written.setting_of(case, "regulator")
    for part in range(8, 24):
        over = setting.turns_at - setting.pressure - part / 128.0 * setting.turns_at
        short = stuck(case, "valve shut", over).value.si
        limit = next((share for share in (short / setting.pressure, nextafter(short / setting.pressure, inf), nextafter(short / setting.pressure, 0.0))
                      if share * setting.pressure == short), None)
        if limit is None:  # no share times this setting is the shortfall to the last bit
            continue
        fitting += 1
        for share, severity in ((limit, "watch"), (limit * (1.0 - 1e-15), "stop")):
            found = stuck(case, "valve shut", over, regulator_shortfall=Quantity(share, "fraction"))
            assert found.severity == severity and found.value.si == short
    assert fitting


@pytest.mark.parametrize("times, severity", [(1.01, "watch"), (2.99, "watch"), (3.01, "stop"), (0.99, None)])
def test_three_times_the_limit_on_what_a_place_gets_is_no_droop(times, severity):
    case = carburettor("10 gph", ahead="4 ft", acceleration="1.5 g")
    limits = checks.Limits()
    share, setting = limits.reducing_shortfall.si, checks.written.setting_of(case, "regulator")
    wanted = setting.turns_at - times * share * setting.pressure  # gauge at the bowl
    bent = altered(case)
    bent.reading = lambda place: SimpleNamespace(gauge=Quantity(wanted, "pressure_gauge"))
    found = told(bent, "pressure where drawn")
    assert (found.severity if found else None) == severity and (found is None or found.hurt == pytest.approx(times - 1.0))


def test_of_two_places_that_draw_the_lowest_is_told_and_none_that_the_regulator_does_not_feed():
    circuit = fn.Circuit("two bowls (invented)", fluid="gasoline class A")
    circuit.tank("main", level="8 in")
    circuit.junction("before", demand="1 gph")
    for name, size in (("near bowl", "-8"), ("far bowl", "-3")):
        circuit.junction(name, demand="15 gph")
    circuit.run("feed", "main", "before", [fn.formula_pump("12 psi", "90 gph", name="pump")])
    circuit.run("on", "before", "behind", [fn.reducing_regulator("6 psi", wide_open="0.3 psi at 60 gph", droop="0.3 psi",
                                                                 name="regulator")])
    for name, size in (("near bowl", "-8"), ("far bowl", "-3")):
        circuit.run(f"to {name}", "behind", name, [fn.hose(size, "4 ft", spec="ptfe")])
    case = circuit.solve()["as written"]
    lowest = rules._lowest(case, "regulator")
    assert case.junction_names[lowest] == "far bowl" and case.at("far bowl").gauge.si < case.at("near bowl").gauge.si


@pytest.mark.parametrize("volts, filters, words", [(True, True, "a larger pump, more volts at the pump, a wider feed, a clean filter"),
                                                   (False, False, "more pressure before it, a wider feed")])
def test_what_brings_a_regulator_more_is_of_what_there_is(volts, filters, words):
    class Bare:
        pumps, number = (["pump"] if volts else []), staticmethod({"pump.volts": 13.5}.get)
    Bare.filters = ["filter"] if filters else []
    assert rules._more(Bare()) == words


def test_pumps_in_a_row_raise_together_over_the_highest_vent():
    circuit = fn.Circuit("two pumps (invented)", fluid="gasoline")
    circuit.tank("cell", level="8 in", vent="3 psi")
    circuit.run("lift", "cell", "between", [fn.formula_pump("20 psi", "100 gph", name="lift pump")])
    circuit.run("feed", "between", "ambient", [fn.formula_pump("60 psi", "100 gph", name="main pump"), fn.orifice("1 mm")])
    case = circuit.solve()["as written"]
    assert rules._most_of_pumps(case) / PSI == pytest.approx(83.0, rel=1e-4)
    bent = altered(case, numbers={"cell.vent": -2e4})
    assert rules._most_of_pumps(bent) / PSI == pytest.approx(80.0, rel=1e-4)
