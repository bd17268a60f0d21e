"""Where rules begin to speak that have no limit of the builder's: sizes of no vehicle, pressure from behind, slip that is guessed, coolers.

The numbers are judgement of this project (see the guide to findings); what is tested is that each is where the rule says, and no rounding moves it.
"""

from math import pi, sqrt

import pytest
import test_flow_checks as flows
import test_heat_checks as heat
import test_line_checks as lines
import test_oil_checks as oil
import test_pump_checks as pumps
import test_relief_checks as reliefs
import test_slips as slips
import test_sound_circuits as sound

import flarenut as fn
from flarenut import checks
from flarenut.units import Quantity

FOOT, PSI = 0.3048, 6894.757293168361
EDGE = 1e-6


def told(case, code, **limits):
    found = [one for one in checks.case_findings(case, checks.Limits(**limits)) if one.code == code]
    assert len(found) <= 1, found
    return found[0] if found else None


@pytest.mark.parametrize("word, usual, way", [("bore", 2e-3, -1), ("bore", 60e-3, 1), ("length", 50 * FOOT, 1)])
def test_a_line_is_asked_about_from_the_size_of_no_vehicle_on(word, usual, way):
    def asked(times):
        sizes = {"bore": "10 mm", "length": "1 m", word: f"{usual * times!r} m"}
        return told(slips.line(fn.hose(**sizes, name="line")), "unusual size")

    assert asked(1.0 - way * EDGE) is None
    near, far = asked(1.0 + way * EDGE), asked(1.0 + way * 0.5)
    assert near.severity == "watch" and near.hurt == pytest.approx(EDGE, rel=1e-3) and far.hurt == pytest.approx(0.5)
    assert far.limit.si == pytest.approx(usual) and far.numbers["size"].si == pytest.approx(usual * (1.0 + way * 0.5)) and f"a {word} of" in far.text()


def test_a_hole_of_fifty_bores_is_a_jet_and_a_longer_one_is_a_line():
    def asked(bores):
        return told(slips.line(fn.tube(bore="1 mm", length=f"{bores} mm", name="line")), "unusual size")

    assert asked(49.99) is None and asked(50.01) is not None


def test_four_feet_of_liquid_are_a_tank_and_more_is_asked_about():
    def asked(feet):
        return told(slips.line(fn.hose(bore="10 mm", length="1 m"), level=f"{feet!r} ft"), "unusual size")

    assert asked(4.0 * (1.0 - EDGE)) is None and asked(4.0 * (1.0 + EDGE)).where == "drum" and asked(6.0).hurt == pytest.approx(0.5)


def held_shut(setting):
    """A relief valve between two places, with 10 psi more at its outlet."""
    circuit = fn.Circuit("held shut (invented)", fluid="water")
    circuit.fixed("low", "20 psi")
    circuit.fixed("high", "30 psi")
    circuit.run("relief run", "low", "high", [fn.relief_valve(f"{setting!r} psi", wide_open="15 psi at 10 gpm", name="relief")])
    return circuit.solve()["as written"]


def test_a_tenth_of_its_setting_from_behind_says_that_a_relief_is_backwards():
    assert told(held_shut(100.0 * (1.0 + EDGE)), "relief backwards") is None
    found = told(held_shut(100.0 * (1.0 - EDGE)), "relief backwards")
    assert found.severity == "stop" and found.numbers["over"].to("psi") == pytest.approx(10.0) and found.hurt == checks.reach.ROOT


def test_a_relief_of_two_settings_is_judged_by_the_higher():
    assert told(reliefs.oiled(opens_at="130 psi"), "relief setting").value.to("psi") == pytest.approx(130.0)
    assert told(reliefs.oiled(opens_at="130 psi"), "relief setting", oil_relief_setting="130.01 psi") is None


def test_the_pressure_of_a_gear_pump_without_relief_is_that_of_the_case():
    case = reliefs.oiled(None)
    ends = case.solution.ends("oil pump")
    found = told(case, "no relief")
    assert found.numbers["rise"].si == pytest.approx(ends[-1].total - ends[0].total) and found.hurt == checks.reach.ROOT and found.severity == "stop"


@pytest.mark.parametrize("pump", pumps.PUMPS)
def test_least_flow_of_an_injection_pump_is_a_share_of_its_free_flow(pump):
    case = pumps.car(pump, back=False, duty="2 %")
    share = told(case, "pump near dead head").value.si
    at = {times: told(case, "pump near dead head", pump_least_flow=Quantity(share * times, "fraction")) for times in (1.0 - EDGE, 1.0 + EDGE, 2.0)}
    assert at[1.0 - EDGE] is None and at[1.0 + EDGE].hurt == pytest.approx(EDGE, rel=1e-3) and at[2.0].hurt == pytest.approx(0.5)


def slipping(psi):
    """A pump whose slip is a preset, known at some pressure, against a fixed one."""
    circuit = fn.Circuit("press (invented)", fluid="ISO VG 46")
    circuit.tank("reservoir", level="0 m")
    circuit.fixed("ram", f"{psi!r} psi")
    circuit.run("feed", "reservoir", "ram", [fn.displacement_pump("10 cc/rev", speed="1500 rpm", name="pump")])
    return circuit.solve()["as written"]


def test_a_preset_slip_is_a_guess_from_three_times_its_pressure_on():
    known = told(slipping(3000.0), "pump slip assumed").numbers["known"].to("psi")
    assert told(slipping(3.0 * known * (1.0 - 1e-3)), "pump slip assumed") is None
    near, far = told(slipping(3.0 * known * (1.0 + 1e-3)), "pump slip assumed"), told(slipping(6.0 * known), "pump slip assumed")
    assert near.severity == "watch" and near.hurt == pytest.approx(1e-3, rel=0.05) and far.hurt == pytest.approx(1.0, rel=1e-3)
    assert far.value.to("psi") == pytest.approx(6.0 * known, rel=1e-3)


def cooled(rated, **words):
    return heat.engine("2 kW", parts=[heat.cooler(rated_pressure=f"{rated!r} Pa", **words)])


def test_a_cooler_is_held_against_its_own_pressure_and_stops_from_half_as_much_again():
    inside = told(cooled(1e4), "cooler pressure").value.si
    at = {times: told(cooled(inside / times), "cooler pressure") for times in (1.0 - EDGE, 1.0 + EDGE, 1.5 * (1.0 - EDGE), 1.5 * (1.0 + EDGE), 2.0)}
    assert [found and found.severity for found in at.values()] == [None, "fix", "fix", "stop", "stop"]
    assert at[2.0].hurt == pytest.approx(1.0) and at[2.0].limit.si == pytest.approx(inside / 2.0)


def test_a_cooler_without_air_ranks_by_how_much_warmer_the_oil_is():
    case = heat.engine("2 kW", parts=[heat.cooler()], **{"sump.temperature": "120 C"})
    found = told(case, "cooler without air")
    assert found.severity == "watch" and found.hurt == pytest.approx((case.solution.ends("cooler")[0].temperature - 293.15) / 100.0)
    assert found.value.si == pytest.approx(-float(case.solution.heat_of("cooler"))) and found.value.si > 0.0
    assert told(heat.engine("2 kW", parts=[heat.cooler(fan="0.31 m/s")], **{"sump.temperature": "120 C"}), "cooler without air") is None
    assert told(heat.engine("2 kW", parts=[heat.cooler(fan="0.29 m/s")], **{"sump.temperature": "120 C"}), "cooler without air") is not None


def test_a_line_that_warms_on_its_way_is_judged_at_its_hotter_end():
    hose = fn.hose("-8", "4 ft", spec="SAE 100R5", standard="SAE 100R5", air="20 m/s", air_rise="300 K", name="hot hose")
    case = heat.engine("100 W", parts=[hose], **{"sump.temperature": "105 C"})
    first, last = case.solution.ends("hot hose")
    assert last.temperature > first.temperature + 0.01
    assert told(case, "line too hot").value.si == pytest.approx(last.temperature, abs=1e-6)


# ---- flow that settles: 0.06 Re D, 1.25 velocity heads, up to Re 2300, from 0.1 psi (690 Pa) on ----

def settling(reynolds, metre, flow=20e-3 / 60, bore=lines.BORE, **limits):
    """The finding on a line in which flow has a Reynolds number, by its viscosity."""
    viscosity = 4.0 * flow * lines.DENSITY / (pi * bore * reynolds)
    case = lines.oiled(f"{metre!r} m", f"{flow!r} m3/s", f"{viscosity!r} Pa s", f"{bore!r} m")
    return told(case, "laminar flow unsettled", **limits)


def test_settling_is_told_up_to_the_end_of_laminar_flow_and_to_twice_the_settling_length():
    assert settling(2300.0 * (1.0 - 1e-3), 0.5).severity == "note" and settling(2300.0 * (1.0 + 1e-3), 0.5) is None
    length = 2.0 * 0.06 * 1800.0 * lines.BORE  # half of it is the limit
    assert settling(1800.0, length * (1.0 - 1e-3)) is not None and settling(1800.0, length * (1.0 + 1e-3)) is None
    assert settling(1800.0, length * (1.0 + 1e-3), settling_share="49 %") is not None


def test_settling_is_told_from_a_tenth_of_a_psi_on_and_ranks_by_it():
    def flow(pascal):
        return pi / 4.0 * lines.BORE**2 * sqrt(pascal / (1.25 * 0.5 * lines.DENSITY))

    assert settling(1500.0, 0.3, flow(690.0 * (1.0 - 1e-3))) is None
    near, far = settling(1500.0, 0.3, flow(690.0 * (1.0 + 1e-3))), settling(1500.0, 0.3, flow(2070.0))
    assert near.value.si == pytest.approx(690.0, rel=2e-3) and far.hurt == pytest.approx(3.0, rel=1e-4) and far.value.si == pytest.approx(2070.0, rel=1e-4)


# ---- how much of a return rise is height ----

def test_height_in_a_return_is_spoken_of_from_a_twentieth_of_the_limit_on():
    case = flows.returning(0.5, "4 mm")
    head = told(case, "return rise", return_rise_injection="0.5 psi").numbers["head"].si
    assert head == pytest.approx(9.80665 * 0.5 * case.liquid_in("return hose")["density"], rel=1e-3)
    at = {times: told(case, "return rise", return_rise_injection=Quantity(head / 0.05 * times, "pressure_difference")) for times in (1.0 - 1e-3, 1.0 + 1e-3)}
    assert "head" in at[1.0 - 1e-3].numbers and "height" in at[1.0 - 1e-3].text()
    assert "head" not in at[1.0 + 1e-3].numbers and "height" not in at[1.0 + 1e-3].text()


# ---- oil pressure by speed ----

def test_oil_pressure_is_asked_by_speed_and_half_of_that_stops():
    case = oil.engine("3000 rpm", displacement="6 cc/rev")
    has = told(case, "oil pressure", oil_pressure_per_1000_rpm="60 psi", oil_pressure_enough="500 psi").value.to("psi")

    def asked(psi):
        return told(case, "oil pressure", oil_pressure_per_1000_rpm=f"{psi / 3.0!r} psi", oil_pressure_enough="500 psi", oil_pressure_floor="0.1 psi")

    assert asked(has * (1.0 - EDGE)) is None and asked(has * (1.0 + EDGE)).severity == "watch"
    assert asked(2.0 * has * (1.0 - EDGE)).severity == "watch" and asked(2.0 * has * (1.0 + EDGE)).severity == "stop"
    assert asked(1.25 * has).hurt == pytest.approx(0.2) and asked(1.25 * has).limit.to("psi") == pytest.approx(1.25 * has)
    assert asked(1.25 * has).numbers["speed"].to("rpm") == pytest.approx(3000.0)
    low = told(case, "oil pressure", oil_pressure_floor=f"{has * (1.0 + EDGE)!r} psi", oil_pressure_per_1000_rpm="0.1 psi")
    assert low.severity == "stop" and "at any speed" in low.text()


# ---- fuel that is sprayed, fuel that goes back, boost ----

def jetted(into):
    """A strong pump whose hose ends in a jet, into its own tank or into a place of no pressure."""
    circuit = fn.Circuit("jet (invented)", fluid="methanol")
    circuit.tank("cell", level="8 in")
    circuit.fixed("manifold pipe", "0 psi")
    circuit.run("feed", "cell", "tee", [fn.formula_pump("300 psi", "80 gph", name="pump"), fn.hose(bore="4 mm", length="10 ft", name="hose")])
    circuit.run("jet run", "tee", into, [fn.orifice("0.8 mm", name="jet")])
    return circuit.solve()["as written"]


def test_pumps_that_spray_are_sold_with_their_tube_and_a_jet_back_to_the_tank_is_no_spray():
    spray, back = told(jetted("manifold pipe"), "pressure ceiling"), told(jetted("cell"), "pressure ceiling")
    assert spray.value.si > 2.0 * spray.limit.si and spray.severity == "watch" and back.severity == "stop"


def test_a_float_valve_under_boost_is_held_against_what_stands_over_it():
    answer = sound.blow_through_dead_head().solve()
    boosted, light = (told(answer[name], "float valve pressure", float_valve_pressure="1 psi") for name in ("boost", "light load"))
    assert boosted.value.kind == boosted.limit.kind == "pressure_difference" and boosted.numbers["boost"].to("psi") == pytest.approx(8.0)
    assert light.value.kind == light.limit.kind == "pressure_gauge" and not light.numbers and "boost" not in light.text()
    assert boosted.value.to("psi") == pytest.approx(light.value.to("psi"), abs=0.2)  # the regulator follows
    place = answer["boost"].at("bowl").gauge.to("psi")
    assert boosted.value.to("psi") == pytest.approx(place - 8.0)


def test_a_clamped_hose_of_the_steering_is_told_of_once():
    circuit = fn.Circuit("power steering (invented)", fluid="ISO VG 46")
    circuit.tank("reservoir", level="4 in", height="20 in")
    circuit.run("suction", "reservoir", "pump out", [fn.displacement_pump("10 cc/rev", speed="1500 rpm", name="pump")])
    circuit.run("relief run", "pump out", "reservoir", [fn.relief_valve("1200 psi", wide_open="50 psi at 5 gpm", name="relief")])
    circuit.run("work", "pump out", "reservoir", [fn.hose("-6", "4 ft", spec="SAE 100R6", standard="SAE 100R6", clamped=True, name="pressure hose"),
                                                  fn.valve(rated="40 psi at 3 gpm", name="steering valve")])
    found = told(circuit.solve()["as written"], "steering hose")
    assert found.severity == "stop" and "clamps" in found.text() and found.hurt == 1.0
