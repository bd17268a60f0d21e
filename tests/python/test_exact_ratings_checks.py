"""What hose and tube are made for, at its very number: kept there, or passed, as the page of findings says.

Readings of solved cases are put there to the last bit. All circuits are invented.
"""

from math import inf, nextafter

import pytest
import test_brake_findings as brakes
import test_rating_findings as ratings
from altered_case import altered, beside, pressed, warmed
from test_exact_limits_checks import grade, told

import flarenut as fn
from flarenut import catalog, checks
from flarenut.checks import ratings_service
from flarenut.checks.ratings import _kink
from flarenut.checks.ratings_lines import rated_lines


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
    assert both(0.9, 9.0) == both(1.0, 9.0) == "fix"  # to the last bit: all of these are of one binade
    assert both(0.95, 10.0) == "fix" and both(0.95, 10.0 + 1e-9) is None and both(0.95, 0.0) == "fix"


def test_half_of_what_a_tube_bears_cold_is_a_note_and_more_is_watched():
    case = ratings.steady(fn.tube(*ratings.TUBE, material="5052-O", name="tube"), "900 psi", "SAE 10W-40", "110 C").solve()["as written"]
    cold, limit = told(case, "heat not counted").numbers["cold"].si, told(case, "heat not counted").limit.si
    assert [grade(pressed(case, "tube", share * cold), "heat not counted") for share in (0.5 - 1e-9, 0.5 + 1e-9)] == ["note", "watch"]
    assert [grade(warmed(case, "tube", kelvin), "heat not counted") is None for kelvin in beside(limit)] == [True, True, False]
    assert told(pressed(case, "tube", -0.3 * cold), "heat not counted").hurt == 0.0


@pytest.mark.parametrize("psi, told_of", [(1000.0 * (1.0 - 1e-4), True), (1000.0 * (1.0 + 8e-4), False)])
def test_a_clutch_asks_for_what_a_pedal_makes(psi, told_of):
    """6.9 MPa are 1000.8 psi."""
    hose = fn.hose("-4", "12 in", spec="SAE 100R1", standard="SAE 100R1", maker_pressure=f"{psi!r} psi")
    assert bool(brakes.found(brakes.bench(hose, "DOT 4", "clutch (invented)", "clutch line"), "clutch line")) is told_of


@pytest.mark.parametrize("bears", [690000.0])
def test_half_as_much_again_as_a_line_bears_is_a_fix_and_what_it_bears_is_nothing(bears):
    """SAE 30R9 and hose on clamps: 0.69 MPa to the last digit, over an ambient of 101,325 Pa."""
    rubber = ratings.steady(ratings.rubber(), "120 psi").solve()["as written"]
    clamped = ratings.steady(fn.hose(*ratings.HOSE_8, spec="SAE 100R6", standard="SAE 100R6", clamped=True, name="hose"), "130 psi", "SAE 10W-40").solve()["as written"]
    for case, part, code in ((rubber, "rubber hose", "over working pressure"), (clamped, "hose", "clamps over pressure")):
        assert case.ambient.si == 101325.0 and told(case, code).limit.si == bears
        assert [grade(pressed(case, part, times * bears), code) for times in (1.0, 1.5)] == [None, "fix"]


@pytest.mark.parametrize("ends, told_of", [(1.0, True), (0.99, False)])
def test_a_bend_within_a_thousandth_of_its_least_radius_is_round_off(ends, told_of):
    """-8 100R14: 5.25 in to the inside, and half its bore of 13/32 in: 5.453 in."""
    least = 5.25 + 13 / 64
    inches = least * (0.999 - 1e-5 if told_of else 0.999 + 1e-5)
    found = told(ratings.steady(ratings.ptfe(bends=[90], bend_radius=f"{inches!r} in"), "6 psi", "diesel").solve()["as written"], "bent too tight")
    assert (found is not None) is told_of


@pytest.mark.parametrize("share, severity", [(0.5 - 1e-6, "stop"), (0.5 + 1e-6, "fix")])
def test_a_hose_kinks_under_half_of_its_least_radius(share, severity):
    inches = (5.25 + 13 / 64) * share
    found = told(ratings.steady(ratings.ptfe(bends=[90], bend_radius=f"{inches!r} in"), "6 psi", "diesel").solve()["as written"], "bent too tight")
    assert found.severity == severity and found.hurt == pytest.approx(1.0 / share - 1.0, rel=1e-4) and found.numbers["under"].si == pytest.approx(1.0 - share, rel=1e-4)


@pytest.mark.parametrize("inches, count", [(23.99, 0), (24.0, 0), (24.01, 1)])
def test_brake_hose_of_two_feet_is_short_enough(inches, count):
    assert len(brakes.found(brakes.bench(fn.hose(bore="3.2 mm", length=f"{inches} in", standard="FMVSS 106")))) == count


@pytest.mark.parametrize("gauge, where", [(2.05e6, []), (2.15e6, ["back hose"])])
def test_hose_behind_a_steering_pump_is_a_return_up_to_three_hundred_psi(gauge, where):
    circuit = fn.Circuit("power steering (invented)", fluid="power steering fluid", fluid_temperature="70 C", invented=True)
    circuit.fixed("gear", "100 psi")
    circuit.tank("reservoir", level="10 cm")
    circuit.run("back", "gear", "reservoir", [fn.hose("-6", "3 ft", spec="push-on", name="back hose"), fn.orifice("2 mm", name="jet")])
    case = pressed(circuit.solve()["as written"], "back hose", gauge)
    assert [one.where for one in checks.case_findings(case) if one.code == "steering hose"] == where


@pytest.mark.parametrize("make, code", [(lambda name: fn.hose("-12", "3 ft", spec="SAE 100R4", standard="SAE 100R4", name=name),
                                         "hose collapses"),
                                        (lambda name: fn.hose("-6", "3 ft", spec="push-on", standard="30R7", name=name),
                                         "hose may collapse"),
                                        (lambda name: fn.tube(*ratings.TUBE, material="steel", name=name), None)])
def test_vacuum_counts_in_a_hose_before_a_pump_alone(make, code):
    circuit = fn.Circuit("lift (invented)", fluid="ISO VG 46", invented=True)
    circuit.tank("cell", level="1 m")
    circuit.run("pick-up", "cell", "inlet", [make("before")])
    circuit.run("feed", "inlet", "ambient", [fn.displacement_pump("2 cc/rev", speed="1000 rpm", name="pump"), make("after")])
    case = circuit.solve()["as written"]
    for line, expected in (("before", code), ("after", None)):
        deep, none = (checks.case_findings(pressed(case, line, gauge)) for gauge in (-95e3, 0.0))
        deep, none = ([one.code for one in found if one.code.startswith("hose") and one.where == line] for found in (deep, none))
        assert deep == ([expected] if expected else []) and none == [], line


# ---- too hot for any pressure: then what it bears cold counts ----

@pytest.mark.parametrize("psi, severity", [(99.0, None), (101.0, "fix"), (149.0, "fix"), (151.0, "stop")])
def test_a_tube_that_is_too_hot_for_any_pressure_is_held_against_what_it_bears_cold(psi, severity):
    case = ratings.steady(fn.tube(*ratings.TUBE, material="6061-T6", maker_pressure="100 psi", name="tube"), "40 psi", "SAE 10W-40",
                          "90 C").solve()["as written"]
    inside = {"temperature": 500.0, "static": case.ambient.si + psi * 6894.757293168361}
    hot = altered(case, ends={"tube": {0: inside, 1: inside}})
    assert rated_lines(hot)[0].working(500.0)[0] == 0.0 and grade(hot, "over working pressure") == severity
    assert severity is None or told(hot, "over working pressure").limit.to("psi") == pytest.approx(100.0)


@pytest.mark.parametrize("kelvin, psi", [(293.15, 120.0), (500.0, 120.0), (400.0, None)])
def test_of_a_dead_head_as_well_what_a_line_bears_as_hot_as_it_is_or_cold_where_that_is_nothing(kelvin, psi):
    """At 400 K 6061-T6 has lost some of its strength, at 500 K all that anyone promises."""
    case = warmed(ratings.pumped(ratings.strong_pump(), [fn.tube(*ratings.TUBE, material="6061-T6", maker_pressure="120 psi",
                                                                 name="tube")]).solve()["as written"], "tube", kelvin)
    limit = told(case, "dead head over pressure").limit.to("psi")
    assert limit == pytest.approx(psi) if psi else 60.0 < limit < 119.0


LOW = fn.bypass_regulator("20 psi", reference="ambient", wide_open="2 psi at 400 gph", name="regulator")


@pytest.mark.parametrize("hose, psi, words", [
    (fn.hose(bore="8 mm", length="3 ft", standard="SAE 30R9", clamped=True, name="hose"), 100.08, "it bears"),  # as much as clamps hold
    (fn.hose(bore="8 mm", length="3 ft", standard="SAE 30R7", clamped=True, name="hose"), 50.0, "it bears"),
    (fn.hose("-8", "3 ft", spec="SAE 100R6", standard="SAE 100R6", clamped=True, name="hose"), 100.08, "its clamps hold"),
    (fn.hose(bore="10 mm", length="3 ft", standard="MIL-DTL-6000", clamped=True, name="hose"), 100.08, "its clamps hold"),
    (fn.hose("-8", "3 ft", spec="SAE 100R6", standard="SAE 100R6", clamped=True, maker_pressure="90 psi", name="hose"), 90.0,
     "its maker states")])
def test_the_less_of_hose_and_clamps_counts_against_a_dead_head_and_a_maker_who_states_it(hose, psi, words):
    found = told(ratings.pumped(ratings.strong_pump(), [hose], spill=LOW).solve()["as written"], "dead head over pressure")
    assert found.limit.to("psi") == pytest.approx(psi, rel=5e-3) and f"that {words}" in found.what
    assert ("for want of a rule" in found.source) == (words == "its clamps hold")


@pytest.mark.parametrize("celsius, both", [(20, False), (155, True)])
def test_a_rating_that_heat_has_lessened_names_the_source_of_that_too(celsius, both, tmp_path):
    path = tmp_path / "shop.csv"
    path.write_text("standard,dash,working_psi,source\nSAE 100R14,8,1000,printed on it\n")
    catalog.use(path)
    try:
        (one,) = rated_lines(ratings.steady(ratings.ptfe(name="hose"), "40 psi", "SAE 10W-40", f"{celsius} C").solve()["as written"])
        rating, hot = catalog.hose_rating("SAE 100R14", 8), catalog.derated(one.hose, celsius + 273.15)
        assert rating.said.startswith("printed on it") and rating.said != hot.said
        assert one.working(celsius + 273.15)[1] == (f"{rating.said}; {hot.said}" if both else rating.said)
    finally:
        catalog.forget()


# ---- bends ----

def test_at_half_of_its_least_radius_hose_does_not_kink_yet_and_at_two_diameters_no_tube():
    hose = ratings.steady(ratings.ptfe(name="line"), "6 psi", "diesel").solve()["as written"]
    tube = ratings.steady(fn.tube(*ratings.TUBE, material="steel", name="line"), "6 psi", "diesel").solve()["as written"]
    for case, floor, least, mild, words in ((hose, 0.05, 0.1, "fix", "may kink"),
                                            (tube, rated_lines(tube)[0].tube.bend_radius_least, 0.1, "watch", "it flattens")):
        (one,) = rated_lines(case)
        under, same, over = (_kink(case, one, radius, least) for radius in beside(floor))
        assert (under.severity, same.severity, over.severity) == ("stop", mild, mild)
        assert words in same.what and same.hurt == pytest.approx(least / floor - 1.0)


@pytest.mark.parametrize("length, bends", [("5 in", []), ("2 in", [90])])
def test_hose_whose_ends_make_all_its_turns_bends_nowhere(length, bends):
    ends = ["-8 37 flare female, 90 deg", "-8 37 flare female"] if bends else ["-8 37 flare female"] * 2
    case = ratings.steady(ratings.ptfe(length=length, bends=bends, ends=ends), "6 psi", "diesel").solve()["as written"]
    assert told(case, "too short to bend") is None


# ---- kinds of hose ----

def test_each_size_of_a_shops_own_hose_is_judged_by_its_own_liner(tmp_path):
    path = tmp_path / "shop.csv"
    path.write_text("standard,dash,bore_mm,working_psi,temperature_max_C,liner,source\nshop hose,6,8,225,150,nitrile rubber,printed\nshop hose,8,11,225,150,PTFE,printed\n")
    catalog.use(path)
    try:
        hoses = {size: fn.hose(size, "4 ft", spec="shop hose", standard="shop hose") for size in ("-6", "-8")}
        found = {size: grade(ratings.steady(hose, "20 psi", "E85").solve()["as written"], "liquid and line") for size, hose in hoses.items()}
    finally:
        catalog.forget()
    assert found == {"-6": "stop", "-8": None}


def test_hoses_that_let_vapour_through_are_grouped_by_what_is_said_of_each(monkeypatch):
    monkeypatch.setattr(catalog, "permeation_note", {"SAE 30R7": "much", "SAE 30R9": "some"}.get)
    hoses = [fn.hose(bore="8 mm", length="1 ft", standard=standard, name=f"{standard} {number}")
             for number in (1, 2) for standard in ("30R7", "30R9")]
    case = ratings.steady(hoses[0], "6 psi", elsewhere=[*hoses[1:], ratings.ptfe(name="ptfe")]).solve()["as written"]
    found = {one.what: one.where for one in checks.case_findings(case) if one.code == "fuel through the wall"}
    assert found == {"much": "30R7 1, 30R7 2", "some": "30R9 1, 30R9 2"}


@pytest.mark.parametrize("other, told_of", [(0.6e-3, False), (nextafter(0.6e-3, inf), True)])
def test_bores_three_tenths_of_a_millimetre_apart_are_the_same(other, told_of, monkeypatch):
    monkeypatch.setattr(ratings_service, "_bore", lambda size, named: 0.3e-3 if named == "ptfe" else other)
    case = ratings.steady(ratings.ptfe(standard="SAE 100R2"), "6 psi", "diesel").solve()["as written"]
    assert (told(case, "two kinds of hose") is not None) is told_of
