"""At its very number a limit is kept, or passed, as the page of findings says: readings of solved cases are put there to the last bit.

"Above" and "under" of that page do not hold at the number itself; "from" does. All circuits are invented.
"""

from dataclasses import replace
from math import inf, nextafter

import pytest
import test_brake_findings as brakes
import test_check_valve_checks as valves
import test_edge_checks as edges
import test_flow_checks as flows
import test_fuel_pressure_checks as fuel
import test_heat_checks as heat
import test_injector_checks as injectors
import test_line_checks as lines
import test_oil_checks as oil
import test_rating_findings as ratings
import test_relief_checks as reliefs
import test_slips as slips
import test_sound_circuits as sound
from altered_case import altered

import flarenut as fn
from flarenut import checks
from flarenut.checks import heat_plumbing
from flarenut.checks.lines import _of_height
from flarenut.units import Quantity

FOOT = 0.3048


def told(case, code, **limits):
    found = [one for one in checks.case_findings(case, checks.Limits(**limits)) if one.code == code]
    assert len(found) <= 1, found
    return found[0] if found else None


def grade(case, code, **limits):
    found = told(case, code, **limits)
    return found and found.severity


def beside(number):
    """A number, the next below it and the next above it, to the last bit."""
    return nextafter(number, -inf), number, nextafter(number, inf)


def sized(**numbers):
    case = slips.line(fn.hose(bore="10 mm", length="1 m", name="line"))
    return altered(case, numbers={name.replace("_", "."): number for name, number in numbers.items()})


@pytest.mark.parametrize("name, number, above", [("drum_level", 4 * FOOT, True), ("line_bore", 60e-3, True), ("line_length", 50 * FOOT, True), ("line_bore", 2e-3, False)])
def test_sizes_of_no_vehicle_begin_beyond_their_number(name, number, above):
    less, same, more = (grade(sized(**{name: one}), "unusual size") for one in beside(number))
    assert same is None and (more if above else less) == "watch" and (less if above else more) is None


def test_a_hole_of_fifty_bores_itself_is_a_jet():
    assert grade(sized(line_bore=1e-3, line_length=50.0 * 1e-3), "unusual size") is None
    assert grade(sized(line_bore=1e-3, line_length=nextafter(50.0 * 1e-3, inf)), "unusual size") == "watch"


def pressed(case, part, gauge):
    """The case with a static pressure over ambient at both ends of a part, and no kinetic part."""
    return altered(case, ends={part: {port: {"static": case.ambient.si + gauge} for port in (0, 1)}})


def test_what_a_line_bears_it_bears_to_the_last():
    """SAE 30R9: 0.69 MPa; half as much again stops."""
    case = ratings.steady(ratings.rubber(), "120 psi").solve()["as written"]
    bears = told(case, "over working pressure").limit.si
    inside = {times: pressed(case, "rubber hose", bears * times) for times in (1.0, 1.5)}
    held = max(end.static for end in inside[1.0].ends("rubber hose")) - case.ambient.si
    assert held <= bears and grade(inside[1.0], "over working pressure") is None
    assert grade(pressed(case, "rubber hose", bears * (1.0 + 1e-12)), "over working pressure") == "fix"
    assert grade(pressed(case, "rubber hose", bears * 1.499999), "over working pressure") == "fix" and grade(
        pressed(case, "rubber hose", bears * 1.500001), "over working pressure") == "stop"


def test_what_clamps_hold_they_hold_to_the_last():
    case = ratings.steady(fn.hose(*ratings.HOSE_8, spec="SAE 100R6", standard="SAE 100R6", clamped=True, name="hose"), "130 psi", "SAE 10W-40").solve()["as written"]
    hold = told(case, "clamps over pressure").limit.si
    assert [grade(pressed(case, "hose", hold * times), "clamps over pressure") for times in (1.0 - 1e-12, 1.0 + 1e-12, 1.4999, 1.5001)] == [None, "fix", "fix", "stop"]


def warmed(case, part, kelvin):
    return altered(case, ends={part: {port: {"temperature": kelvin} for port in (0, 1)}})


def test_a_hose_is_too_hot_above_its_limit_and_stops_fifteen_kelvins_above_it():
    case = ratings.steady(fn.hose(*ratings.HOSE_8, spec="SAE 100R5", standard="SAE 100R5", name="hose"), "40 psi", "SAE 10W-40", "90 C").solve()["as written"]
    limit = 373.15
    assert [grade(warmed(case, "hose", kelvin), "line too hot") for kelvin in (*beside(limit), limit + 15.0, nextafter(limit + 15.0, inf))] == [
        None, None, "fix", "fix", "stop"]


@pytest.mark.parametrize("material, kelvin, code", [("steel", 273.15 + 152.0, None), ("304 stainless", 273.15 + 155.0, None), ("6061", 273.15 + 149.0, None),
                                                    ("6061", nextafter(273.15 + 149.0, inf), "fix"), ("6061", 273.15 + 164.0, "fix"), ("6061", 273.15 + 164.1, "stop")])
def test_of_tube_aluminium_alone_has_an_end_of_its_heat(material, kelvin, code):
    case = ratings.steady(fn.tube(*ratings.TUBE, material=material, name="tube"), "40 psi", "SAE 10W-40", "90 C").solve()["as written"]
    assert grade(warmed(case, "tube", kelvin), "line too hot") == code


def test_a_hose_is_too_cold_under_its_limit():
    hose = fn.hose(bore="8 mm", length="4 ft", standard="J51", maker_pressure="400 psi", name="hose")
    case = ratings.steady(hose, "40 psi", "diesel No. 1", "-5 C").solve()["as written"]
    least = told(warmed(case, "hose", 240.0), "line too cold").limit.si
    assert [grade(warmed(case, "hose", kelvin), "line too cold") for kelvin in beside(least)] == ["fix", None, None]
    assert told(warmed(case, "hose", least - 10.0), "line too cold").hurt == pytest.approx(1.0)


def test_suction_hose_bears_its_vacuum_and_soft_hose_next_to_none():
    rated = ratings.drawn(fn.hose("-12", "3 ft", spec="SAE 100R4", standard="SAE 100R4", name="hose"), "ISO VG 46", "-10 m").solve()["as written"]
    bears = -told(rated, "hose collapses").limit.si
    assert [grade(pressed(rated, "hose", -bears * times), "hose collapses") for times in (1.0 - 1e-9, 1.0 + 1e-9)] == [None, "stop"]
    assert told(pressed(rated, "hose", -1.25 * bears), "hose collapses").hurt == pytest.approx(0.25)
    soft = ratings.drawn(fn.hose("-6", "3 ft", spec="push-on", standard="30R7", name="hose"), level="-1.2 m").solve()["as written"]
    assert [grade(pressed(soft, "hose", -3386.4 * times), "hose may collapse") for times in (1.0 - 1e-9, 1.0 + 1e-9)] == [None, "fix"]
    assert told(pressed(soft, "hose", -33864.0), "hose may collapse").hurt == pytest.approx(1.0)


def test_pressure_and_heat_are_told_together_from_nine_tenths_and_ten_kelvins_on():
    case = ratings.steady(fn.hose("-12", "4 ft", spec="MIL-H-8794", standard="MIL-H-8794", name="hose"), "1400 psi", "ISO VG 46", "115 C").solve()["as written"]
    found = told(case, "pressure and heat together")
    bears, top = found.limit.si, found.numbers["top"].si

    def both(share, under):
        return grade(altered(case, ends={"hose": {port: {"static": case.ambient.si + share * bears, "temperature": top - under} for port in (0, 1)}}),
                     "pressure and heat together")

    assert [both(0.9 + off, 9.0) for off in (-1e-9, 1e-9)] == [None, "fix"] and [both(1.0 + off, 9.0) for off in (-1e-9, 1e-9)] == ["fix", None]
    assert both(0.95, 10.0) == "fix" and both(0.95, 10.0 + 1e-9) is None and both(0.95, 0.0) == "fix"


def test_half_of_what_a_tube_bears_cold_is_a_note_and_more_is_watched():
    case = ratings.steady(fn.tube(*ratings.TUBE, material="5052-O", name="tube"), "900 psi", "SAE 10W-40", "110 C").solve()["as written"]
    cold, limit = told(case, "heat not counted").numbers["cold"].si, told(case, "heat not counted").limit.si
    assert [grade(pressed(case, "tube", share * cold), "heat not counted") for share in (0.5 - 1e-9, 0.5 + 1e-9)] == ["note", "watch"]
    assert [grade(warmed(case, "tube", kelvin), "heat not counted") is None for kelvin in beside(limit)] == [True, True, False]
    assert told(pressed(case, "tube", -0.3 * cold), "heat not counted").hurt == 0.0


# ---- injectors ----

def asked(share):
    """Injectors that pass what they pass, in a case whose power burns so many times that."""
    case = injectors.car(duty="90 %", flow="300 cc/min at 3 bar")
    case.layout = replace(case.layout, fuel_asked={"run": share * sum(float(case.solution.flow_of(bank)) for bank in case.injectors)})
    return told(case, "injectors too small")


def test_injectors_are_too_small_by_more_than_a_millionth():
    assert asked(1.0) is None and asked(1.0 + 0.9e-6) is None and asked(1.0 + 1.1e-6).severity == "stop"
    found = asked(1.25)
    assert found.hurt == pytest.approx(0.25) and found.limit.si == pytest.approx(1.25 * found.value.si) and found.where == "bank" and "runs lean" in found.text()


def manifold(case, boost):
    """The case with so much over ambient in its manifold, and a reference on open air."""
    rail, inlet = case.ends("bank")[:2]
    return altered(case, ends={"bank": {0: {"total": rail.total - inlet.total + case.ambient.si + boost}, 1: {"total": case.ambient.si + boost}}})


def test_boost_is_not_followed_beyond_a_tenth_of_the_setting_itself():
    case = injectors.car(reference="ambient", manifold="7 psi boost")
    tenth = 0.1 * checks.written.setting_of(case, "regulator").pressure
    limit = Quantity(((case.ambient.si + tenth) - case.ambient.si) / checks.written.setting_of(case, "regulator").pressure, "fraction")
    at = {times: grade(manifold(case, tenth * times), "boost not followed", boost_not_followed=limit) for times in (1.0 - 1e-9, 1.0 + 1e-9)}
    assert at == {1.0 - 1e-9: None, 1.0 + 1e-9: "watch"}


# ---- regulators ----

def stopped(share):
    """A return regulator of a car whose pump stands, with a share of its setting against it from behind."""
    case = fuel.car(volts="0 V", duty=0.0)
    setting, back = case.number("regulator.set_pressure"), case.ends("regulator")[1].total
    return grade(altered(case, ends={"regulator": {0: {"total": back - share * setting, "flow": 0.0}}}, regimes={"regulator": "shut"}), "regulator backwards")


def test_with_no_pump_running_half_of_its_setting_has_to_stand_against_a_regulator():
    assert [stopped(share) for share in (0.11, 0.5 - 1e-9, 0.5 + 1e-9, 0.56)] == [None, None, "stop", "stop"]


@pytest.mark.parametrize("flow, regime, severity", [(-1e-9, "regulating", "stop"), (-1e-9, "wide open", "stop"), (-1e-9, "shut", None), (0.0, "regulating", None),
                                                    (1e-9, "wide open", None)])
def test_a_regulator_that_spills_back_is_backwards_if_it_is_open(flow, regime, severity):
    case = fuel.car()
    assert grade(altered(case, ends={"regulator": {0: {"flow": flow}}}, regimes={"regulator": regime}), "regulator backwards") == severity


def test_a_tenth_of_its_setting_itself_is_no_backwards_regulator_yet():
    case = fuel.car()
    setting, back = case.number("regulator.set_pressure"), case.ends("regulator")[1].total
    at = [grade(altered(case, ends={"regulator": {0: {"total": back - share * setting}}}), "regulator backwards") for share in (0.1 - 1e-9, 0.1 + 1e-9)]
    assert at == [None, "stop"]


def test_creep_is_told_above_its_limit_and_not_at_it():
    case = fuel.car(wide_open="34 psi at 340 L/h", return_size="-8")
    over = told(case, "regulator creep").value
    assert grade(case, "regulator creep", regulator_creep=over) is None
    assert grade(case, "regulator creep", regulator_creep=Quantity(nextafter(over.si, 0.0), over.kind)) == "watch"


# ---- returns ----

@pytest.mark.parametrize("rise, limit, head, words, cure", [
    (100.0, 50.0, None, "", "wider or shorter"), (100.0, 50.0, 2.49, "", "wider or shorter"), (100.0, 50.0, 2.5, "height up", "wider or shorter"), (100.0, 50.0, -2.49, "", "wider or shorter"),
    (100.0, 50.0, -2.5, "gives back", "wider or shorter"), (100.0, 40.0, 95.0, "height up", "no wider line helps"), (100.0, 40.0, 94.9, "height up", "nearer to the height of the tank; a wider"),
    (100.0, 40.0, 60.0, "height up", "nearer to the height of the tank; a wider"), (100.0, 40.0, 59.9, "height up", "a wider or shorter return line"), (100.0, 40.0, 110.0, "height up", "no wider line helps")])
def test_how_much_of_a_return_rise_is_height_decides_its_cure(rise, limit, head, words, cure):
    """From a twentieth of the limit on it is told; where less than a twentieth of the rise is lost no wider line helps, and more than the limit is the line's."""
    told_of, cured, numbers = _of_height(*(Quantity(one, "pressure_difference") for one in (rise, limit)), head)
    assert (words in told_of if words else told_of == "") and cure in cured
    assert {name: number.si for name, number in numbers.items()} == ({} if not words else {"lost": pytest.approx(rise - head), "head": pytest.approx(abs(head))})
    assert ("nearer" in cured) == (bool(words) and head > 0.0 and rise - head <= limit)


# ---- oil ----

def test_oil_pressure_at_half_of_what_is_asked_is_watched_and_at_the_whole_is_enough():
    case = oil.engine("1000 rpm", displacement="12 cc/rev")
    has = told(case, "oil pressure").value
    same = {"oil_pressure_enough": Quantity(has.si, "pressure_difference"), "oil_pressure_per_1000_rpm": "900 psi", "oil_pressure_floor": "0.1 psi"}
    assert grade(case, "oil pressure", **same) is None
    assert grade(case, "oil pressure", **{**same, "oil_pressure_enough": Quantity(2.0 * has.si, "pressure_difference")}) == "watch"
    assert grade(case, "oil pressure", **{**same, "oil_pressure_enough": Quantity(2.0 * nextafter(has.si, inf), "pressure_difference")}) == "stop"
    floor = told(case, "oil pressure", oil_pressure_floor="20 psi", oil_pressure_per_1000_rpm="900 psi", oil_pressure_enough="20 psi")
    assert "at any speed" not in floor.text() and floor.severity == "stop"  # of two that ask the same, that by speed is named


def test_a_slip_at_three_times_its_pressure_is_no_guess_yet():
    case = edges.slipping(600.0)
    known, inlet = case.number("pump.rated_rise"), case.ends("pump")[0].total
    at = [grade(altered(case, ends={"pump": {1: {"total": inlet + 3.0 * known * times}}}), "pump slip assumed") for times in (1.0 - 1e-12, 1.0 + 1e-9)]
    assert at == [None, "watch"]


def test_a_slip_that_somebody_said_is_no_guess():
    circuit = fn.Circuit("press (invented)", fluid="ISO VG 46")
    circuit.tank("reservoir", level="0 m")
    circuit.fixed("ram", "900 psi")
    circuit.run("feed", "reservoir", "ram", [fn.displacement_pump("10 cc/rev", speed="1500 rpm", volumetric_efficiency="92 % at 100 psi, 1500 rpm, 25 cP",
                                                                  turbulent_share="20 %", name="pump")])
    assert told(circuit.solve()["as written"], "pump slip assumed") is None


# ---- heat ----

def test_a_cooler_bears_its_rated_pressure_to_the_last():
    case = edges.cooled(2e5)
    assert [grade(pressed(case, "cooler", 2e5 * times), "cooler pressure") for times in (1.0 - 1e-12, 1.0 + 1e-9, 1.5 - 1e-9, 1.5 + 1e-9)] == [None, "fix", "fix", "stop"]


@pytest.mark.parametrize("kelvin, start, full, bleed, opened", [(350.0, 360.0, 370.0, 0.0, 0.0), (360.0, 360.0, 370.0, 0.0, 0.0), (365.0, 360.0, 370.0, 0.0, 0.5),
                                                                (370.0, 360.0, 370.0, 0.0, 1.0), (380.0, 360.0, 370.0, 0.0, 1.0), (350.0, 360.0, 370.0, 0.02, 0.02),
                                                                (366.0, 360.0, 370.0, 0.02, 0.6), (400.0, 360.0, 370.0, 0.02, 1.0)])
def test_a_thermostat_opens_evenly_from_its_start_to_where_it_is_full(kelvin, start, full, bleed, opened):
    assert heat_plumbing._travelled(kelvin, (start, full), bleed) == pytest.approx(opened)


def test_what_enters_cooling_is_judged_at_its_hottest_end():
    """A line that the liquid leaves at 61 C is hot, though it is 50 C on the mean and comes in at 40 C."""
    def said(ends):
        class Answer(dict):
            layout = case.layout
        return " ".join(checks.cautions_for(Answer(one=altered(case, ends=ends))))

    case = heat.engine("100 W", sump={"heat_loss": "60 W/K"})
    part = case.part_names[-1]
    cool = {name: {port: {"temperature": 320.0} for port in (0, 1)} for name in case.part_names}
    assert "Let it cool" not in said(cool) and "Let it cool" in said({**cool, part: {0: {"temperature": 313.0}, 1: {"temperature": 333.15}}})
    assert "Let it cool" not in said({**cool, part: {1: {"temperature": nextafter(333.15, 0.0)}}})


# ---- seepage ----

@pytest.mark.parametrize("flow, still", [(0.99e-5, True), (1e-5, False), (1.01e-5, False), (-0.99e-5, True), (-1e-5, False)])
def test_without_pumps_less_than_seepage_is_standing_still(flow, still):
    car = valves.still("drum")
    car.tank("cell", level="0.2 m", height="3 m")
    car.fixed("drip", "0 psi", height="0 m")
    car.run("valve", "below", "cell", [fn.check_valve("0.5 psi", bore="6 mm", name="check")])
    car.run("out", "below", "drip", [fn.hose(bore="8 mm", length="4 m", name="hose")])
    case = altered(car.solve()["as written"], ends={"hose": {port: {"flow": flow} for port in (0, 1)}})
    assert (told(case, "check valve backwards") is not None) is still


def test_velocities_of_oils_return_are_not_judged_and_all_that_have_a_limit_are():
    case = sound.wet_sump().solve()["hot and fast"]
    assert told(case, "return velocity") is None and told(case, "filter drop", fuel_filter_drop="0.01 psi") is None
    assert told(flows.returning(0.0), "filter drop") is None


@pytest.mark.parametrize("psi, told_of", [(1000.0 * (1.0 - 1e-4), True), (1000.0 * (1.0 + 8e-4), False)])
def test_a_clutch_asks_for_what_a_pedal_makes(psi, told_of):
    """6.9 MPa are 1000.8 psi."""
    hose = fn.hose("-4", "12 in", spec="SAE 100R1", standard="SAE 100R1", maker_pressure=f"{psi!r} psi")
    assert bool(brakes.found(brakes.bench(hose, "DOT 4", "clutch (invented)", "clutch line"), "clutch line")) is told_of


def test_settling_at_its_own_reynolds_number_is_told():
    case = lines.oiled("0.5 m")
    line, density = "hose", case.liquid_in("hose")["density"]
    flow = abs(case.ends(line)[0].flow)
    bore = case.number("hose.bore")
    thin = 4.0 * flow / (3.141592653589793 * bore * 2300.0)
    assert grade(altered(case, liquids={line: {"viscosity": thin * (1.0 + 1e-9)}}), "laminar flow unsettled") == "note"
    assert grade(altered(case, liquids={line: {"viscosity": thin * (1.0 - 1e-9)}}), "laminar flow unsettled") is None and density > 0.0


def test_a_relief_at_the_limit_of_engines_is_left_alone():
    case = reliefs.oiled(opens_at="65 psi")
    limit = checks.Limits().oil_relief_setting.si
    at = [grade(altered(case, numbers={"relief.set_pressure": number}), "relief setting") for number in (*beside(limit), 2.0 * limit, nextafter(2.0 * limit, inf))]
    assert at == [None, None, "fix", "fix", "stop"]
