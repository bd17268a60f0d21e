"""At its very number a limit is kept, or passed, as the page of findings says: readings of solved cases are put there to the last bit.

"Above" and "under" of that page do not hold at the number itself; "from" does. All circuits are invented.
"""

from dataclasses import replace
from math import inf, nextafter

import pytest
import test_check_valve_checks as valves
import test_edge_checks as edges
import test_flow_checks as flows
import test_fuel_pressure_checks as fuel
import test_heat_checks as heat
import test_injector_checks as injectors
import test_line_checks as lines
import test_oil_checks as oil
import test_relief_checks as reliefs
import test_slips as slips
import test_sound_circuits as sound
from altered_case import altered, beside, pressed

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


@pytest.mark.parametrize("across, severity", [(225000.0, None), (224999.0, "stop")])
def test_three_quarters_of_what_they_were_rated_at_are_enough_for_injectors(across, severity):
    case = injectors.car("hose")
    found = told(altered(case, ends={"bank": {0: {"total": 101325.0 + across}, 1: {"total": 101325.0}}}), "injector pressure low")
    assert (found and found.severity) == severity and (found is None or found.hurt == pytest.approx(1.0 - across / 225000.0))


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
    setting, air = case.number("regulator.set_pressure"), case.ambient.si
    ends = {"regulator": {0: {"total": air, "flow": 0.0}, 1: {"total": air + share * setting}}}
    return grade(altered(case, ends=ends, regimes={"regulator": "shut"}), "regulator backwards")


def test_with_no_pump_running_half_of_its_setting_has_to_stand_against_a_regulator():
    assert [stopped(share) for share in (0.11, 0.5 - 1e-9, 0.5 + 1e-9, 0.56)] == [None, None, "stop", "stop"]


@pytest.mark.parametrize("flow, regime, severity", [(-1e-9, "regulating", "stop"), (-1e-9, "wide open", "stop"), (-1e-9, "shut", None), (0.0, "regulating", None),
                                                    (1e-9, "wide open", None)])
def test_a_regulator_that_spills_back_is_backwards_if_it_is_open(flow, regime, severity):
    case = fuel.car()
    assert grade(altered(case, ends={"regulator": {0: {"flow": flow}}}, regimes={"regulator": regime}), "regulator backwards") == severity


@pytest.mark.parametrize(("share", "severity"), [(0.0099, None), (0.0101, "stop")])
def test_more_than_a_hundredth_of_what_the_pump_moves_that_runs_back_through_a_regulator_says_so(share, severity):
    case = fuel.car()
    flow = share * sum(case.ends(pump)[1].flow for pump in case.pumps)  # out of the pump: below 0
    assert grade(altered(case, ends={"regulator": {0: {"flow": flow}}}, regimes={"regulator": "reversed"}), "regulator backwards") == severity


def test_a_tenth_of_its_setting_itself_is_no_backwards_regulator_yet():
    case = fuel.car()
    setting, air = case.number("regulator.set_pressure"), case.ambient.si
    at = [grade(altered(case, ends={"regulator": {0: {"total": air}, 1: {"total": air + share * setting}}}), "regulator backwards")
          for share in (0.1 - 1e-9, 0.1 + 1e-9)]
    assert at == [None, "stop"]
    # A manifold that draws the rail down behind something shut stands lower than a return that is open.
    assert grade(altered(case, ends={"regulator": {0: {"total": air - 0.3 * setting}, 1: {"total": air}}}), "regulator backwards") is None


def test_creep_is_told_above_its_limit_and_not_at_it():
    case = fuel.car(wide_open="34 psi at 340 L/h", return_size="-8")
    over = told(case, "regulator creep").value
    assert grade(case, "regulator creep", regulator_creep=over) is None
    assert grade(case, "regulator creep", regulator_creep=Quantity(nextafter(over.si, 0.0), over.kind)) == "watch"


# ---- returns ----

@pytest.mark.parametrize("rise, limit, head, words, cure", [
    (100.0, 50.0, None, "", "wider or shorter"), (100.0, 50.0, 2.49, "", "wider or shorter"), (100.0, 50.0, 2.5, "height up", "wider or shorter"), (100.0, 50.0, -2.49, "", "wider or shorter"),
    (100.0, 50.0, -2.5, "gives back", "wider or shorter"), (100.0, 40.0, 95.0, "height up", "no wider line helps"), (100.0, 40.0, 94.9, "height up", "nearer to the height of the tank; a wider"),
    (10.0, 8.0, 0.5, "height up", "a wider"), (100.0, 40.0, 60.0, "height up", "nearer to the height of the tank; a wider"),
    (100.0, 40.0, 59.9, "height up", "a wider or shorter return line"), (100.0, 40.0, 110.0, "height up", "no wider line helps")])
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


def test_a_share_of_oil_at_its_limit_is_enough():
    case = oil.engine("4000 rpm", opens_at="6 psi")
    left = told(case, "oil spilled", oil_consumer_share="99 %").value
    assert told(case, "oil spilled", oil_consumer_share=left) is None


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


@pytest.mark.parametrize("words, told_of", [({"flow": 1.05e-3}, True), ({"flow": 0.95e-3}, False), ({"flow": -1.05e-3}, True), ({"flow": 1e-3}, False),
                                            ({"flow": 1.0, "temperature": 298.15 + 1e-9}, True), ({"flow": 1.0, "temperature": 298.15}, False)])
def test_a_cooler_without_air_is_told_of_liquid_that_passes_and_is_five_kelvins_warmer(words, told_of):
    case = heat.engine("2 kW", parts=[heat.cooler()], **{"sump.temperature": "120 C"})
    assert case.number("air.temperature") == 293.15
    assert (told(altered(case, ends={"cooler": {0: {"temperature": 350.0, **words}}}), "cooler without air") is not None) is told_of


def fanned(**numbers):
    case = heat.engine("2 kW", parts=[heat.cooler()], **{"sump.temperature": "120 C"})
    return told(altered(case, numbers={f"cooler.{name}": number for name, number in numbers.items()}), "cooler without air") is not None


def test_three_tenths_of_a_metre_a_second_are_no_air_yet():
    assert fanned(fan_speed=0.3, vehicle_speed=0.0) and not fanned(fan_speed=nextafter(0.3, inf), vehicle_speed=0.0)
    assert fanned(fan_speed=0.0, vehicle_speed=10.0, ram_share=0.03) and not fanned(fan_speed=0.0, vehicle_speed=10.0, ram_share=0.031)


@pytest.mark.parametrize("flow, kelvin, told_of", [(1.05e-3, 401.0, True), (0.95e-3, 401.0, False), (1e-3, 401.0, False), (1.0, 400.0, False), (1.0, nextafter(400.0, inf), True)])
def test_a_thermostat_is_asked_to_open_by_liquid_that_flows_and_is_above_its_range(flow, kelvin, told_of):
    case = heat.engine(parts=[fn.thermostat("90 C", bore="12 mm", name="thermostat")], **{"sump.temperature": "20 C"})
    still = {part: {port: {"flow": 0.0} for port in range(len(case.ends(part)))} for part in case.part_names}
    bent = altered(case, ends={**still, "mains": {0: {"flow": flow, "temperature": kelvin}, 1: {"flow": 0.0}}}, numbers={"thermostat.full_temperature": 400.0},
                   regimes={"thermostat": "shut"})
    found = told(bent, "thermostat does not open")
    assert (found is not None) is told_of and (not told_of or found.hurt == pytest.approx((kelvin - 400.0) / 10.0))


def test_a_regulator_that_is_shut_at_a_setting_of_the_limit_itself_only_creeps():
    case = fuel.bowl("0 gph")
    turns = checks.written.setting_of(case, "regulator").turns_at
    assert [checks.regulators.only_creeps(case, "regulator", limit) for limit in beside(turns)] == [False, True, True]


def test_a_regulator_holds_up_its_inlet_and_no_place_behind_it_unless_it_is_backwards():
    case = fuel.car()
    inlet, outlet = (end.junction for end in case.ends("regulator")[:2])
    assert checks.regulators.serving(case, inlet) == ["regulator"] and checks.regulators.serving(case, outlet) == []
    back = fuel.car(start="cell", end="rail")
    assert all(checks.regulators.serving(back, case.ends("regulator")[port].junction) == ["regulator"] for case, port in ((back, 1),))


def test_a_line_of_no_length_settles_nothing():
    case = lines.oiled("0.5 m")
    assert grade(case, "laminar flow unsettled") == "note" and grade(altered(case, numbers={"hose.length": 0.0}), "laminar flow unsettled") is None


@pytest.mark.parametrize("more, told_of", [(1.0005, True), (1.02, False)])
def test_consumers_behind_a_check_valve_get_no_more_than_what_seeps_through_it(more, told_of):
    case = valves.spilling("rail", "outlet", fn.hose(bore="8 mm", length="2 m", name="hose"), fn.orifice("1 mm", name="jet"))
    seeping = 0.1
    ends = {part: {port: {"flow": seeping * (more if part == "jet" else 1.0)} for port in (0, 1)} for part in ("check", "hose", "jet")}
    assert (told(altered(case, ends=ends), "check valve backwards") is not None) is told_of


@pytest.mark.parametrize("flow, severity", [(1.05e-5, "watch"), (0.95e-5, "stop"), (1e-5, "stop")])
def test_a_jet_that_seeps_is_no_spray(flow, severity):
    case = edges.jetted("manifold pipe")
    assert grade(altered(case, ends={"jet": {0: {"flow": flow}}}), "pressure ceiling") == severity


@pytest.mark.parametrize("held, asks", [(0.49, True), (0.51, False)])
def test_a_regulator_that_feels_less_than_half_of_its_setting_is_asked_about_its_unit(held, asks):
    case = injectors.car(duty="80 %", volts="8 V")
    setting = checks.written.setting_of(case, "regulator").turns_at
    bent = altered(case, pressures={"rail": checks.written.reference_of(case, "regulator") + held * setting})
    assert told(bent, "regulator starved").cure.startswith("first check the number") is asks
