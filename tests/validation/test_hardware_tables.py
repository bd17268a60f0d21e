"""Strength of tube and figures of lines against the published tables and worked examples of tests/data/hardware."""

from collections import Counter
from math import pi, sqrt

import pytest
from cases_tubes import BARLOW, EXAMPLES, GALLON_PER_MINUTE, INCH, MATERIALS, PSI, SIZES, STAINLESS, STEEL, bend, cases, pedal_volumes, tube_swelling
from published_case import of
from reference import hardware_rows as rows

from flarenut import catalog
from flarenut.catalog import brakes
from flarenut.catalog.tube_formulas import b31_3, barlow, boardman, bore_strain, lame

CASES = list(cases())


@pytest.mark.parametrize("group", sorted({case.group for case in CASES}))
def test_rows_of_a_table(group):
    assert [case.words for case in of(CASES, group=group) if not case.holds] == []


def test_every_row_is_a_case_and_none_is_excused():
    assert (len(STEEL), len(STAINLESS), len(BARLOW), len(MATERIALS), len(SIZES)) == (29, 15, 36, 63, 34)
    counts = Counter(case.group for case in CASES)
    assert counts["steel tube, the law of its table"] == counts["ratings of steel tube"] == 3 * 29
    assert counts["stainless tube, the law of its table"] == 15 and counts["bursting, Barlow at 10,000 psi"] == 2 * 36
    assert counts["a quarter of the strength, Lame and Barlow"] == 2 * 63 and counts["weights of tube"] == 4 * 34
    assert counts["ratings by strength"] == sum(row["material"] != "steel J525" for row in MATERIALS) < 63
    assert counts["ratings of hose"] == len(catalog.table("hose_ratings.csv")) and counts["bends of tube"] == len(rows("bend_lengths.csv")) == 6
    assert not [case.name for case in CASES if case.reason or not case.judged]


def test_ratings_of_steel_tube_rest_on_its_table():
    for row in STEEL:
        rating = catalog.tube_rating("steel", float(row["od_in"]) * INCH, float(row["wall_in"]) * INCH)
        assert rating.basis == "table of steel tube at 12,500 psi" and "memory" not in rating.said


def test_the_stainless_table_lies_under_its_law():
    for case in of(CASES, group="stainless tube, the law of its table"):
        assert case.published <= case.ours, case.words


def test_a_bend_has_the_angle_of_its_corner():
    for row in rows("bend_lengths.csv"):
        assert bend(row)[0].angle.to("deg") == pytest.approx(float(row["angle_deg"]))


def test_a_quarter_of_the_strength_lies_under_the_published_steel_table():
    """Two bases for one tube: 77.5 MPa from the strength, 86 MPa in the table. Where the table ends, the lower one is taken."""
    known = catalog.tube_rating("steel", 0.5 * INCH, 0.049 * INCH)
    beyond = catalog.tube_rating("steel", 0.5 * INCH, 0.058 * INCH)
    assert known.basis.startswith("table") and beyond.basis.startswith("Lame")
    assert beyond.working == pytest.approx(lame(77.5e6, 0.5 * INCH, 0.058 * INCH))


def test_the_four_formulas_agree_on_thin_walls_and_rank_on_thick_ones():
    """Closed forms: all tend to 2 S t / D. On thicker walls Barlow is the lowest and Lame the highest, B31.3 within 1 % under it."""
    od, stress = 20e-3, 100e6
    thin = [formula(stress, od, 1e-5) for formula in (barlow, lame, b31_3, boardman)]
    assert max(thin) == pytest.approx(min(thin), rel=1e-3)
    assert barlow(stress, od, 2e-3) < 0.99 * lame(stress, od, 2e-3) < b31_3(stress, od, 2e-3) < lame(stress, od, 2e-3)
    assert boardman(stress, od, 3e-3) == b31_3(stress, od, 3e-3)  # under a sixth they are one
    assert boardman(stress, od, 4e-3) == pytest.approx(2 * stress * 4e-3 / (od - 2 * 12 / 32 * 4e-3))  # F = d / (d + D)


def test_the_hydrostatic_test_of_aircraft_tube_is_lame_at_its_yield():
    """MIL-T-8504, 3.6 (S65): the same ratio with the least yield strength. A hand sum: 3/8 x 0.035 at 30,000 psi."""
    assert lame(30_000.0, 0.375, 0.035) == pytest.approx(30_000 * (0.140625 - 0.093025) / (0.140625 + 0.093025), rel=1e-12)


def test_swelling_of_a_steel_tube():
    """Worked example 'tube-strain' (D4): ends closed, ends held."""
    assert tube_swelling() == (pytest.approx(3.0718e-4, rel=1e-4), pytest.approx(2.9885e-4, rel=1e-4))


def test_swelling_tends_to_the_thin_tube():
    """Closed forms of a thin wall (M15): (p d / (E t)) (1.25 - nu) with ends closed, (1 - nu^2) with ends held."""
    od, wall, youngs, nu = 0.1, 1e-5, 200e9, 0.3
    thin = 1e6 * (od - 2 * wall) / (youngs * wall)
    assert bore_strain(1e6, od, wall, youngs, nu) == pytest.approx(thin * (1.25 - nu), rel=1e-3)
    assert bore_strain(1e6, od, wall, youngs, nu, ends_held=True) == pytest.approx(thin * (1 - nu**2), rel=1e-3)


def test_pedal_travel_by_hand_sum():
    """Worked example 'pedal-A' (D4), whose volumes are worked out one by one."""
    _, hose, fluid, clearance, _ = pedal_volumes()
    assert hose == pytest.approx(1.2562e-6, rel=1e-3) and fluid == pytest.approx(0.5701e-6, rel=1e-3) and clearance == pytest.approx(0.6871e-6, rel=1e-3)


def test_brake_hose_does_not_swell_in_proportion():
    # Formula sheet (D3): over a pressure ratio of 1.5 the limits grow 1.20 times (regular), 1.27 (low), 1/8 in.
    ratio = [brakes.hose_expansion(3e-3, 1500 * PSI, kind) / brakes.hose_expansion(3e-3, 1000 * PSI, kind) for kind in ("regular", "low")]
    assert ratio == [pytest.approx(1.20, abs=0.005), pytest.approx(1.27, abs=0.005)]


def test_velocity_in_the_sheet_s_own_form():
    """v = 0.3208 Q / A."""
    assert 0.3208 * 1.0 / (pi / 4) == pytest.approx(GALLON_PER_MINUTE / (pi / 4 * INCH**2) / 0.3048, rel=1e-3)


def test_bores_of_a_suction_line():
    """A builder page (S67): 20 L/min at 0.5 to 1.5 m/s wants 17 to 29 mm; v = 21.22 Q / d^2. The speeds are those of the table."""
    low, high = next((float(row["velocity_min_m_s"]), float(row["velocity_max_m_s"])) for row in catalog.table("flow_velocity.csv")
                     if row["line"] == "hydraulic suction" and row["source"] == "S67")
    assert [round(sqrt(21.22 * 20.0 / speed)) for speed in (high, low)] == [17, 29]
    assert 21.22 == pytest.approx(4 / pi * 1e-3 / 60 * 1e6, rel=2e-4)


def test_every_formula_and_example_kept_here_is_judged():
    """Names of what the two tables hold; a row that is added must be judged too."""
    assert {row["name"] for row in rows("formulas.csv")} == {
        "Barlow", "Lame working pressure", "ASME B31.3 thin", "Boardman thick", "military hydrostatic test", "weight per foot",
        "tube bore strain, closed ends", "tube bore strain, ends held", "thin tube bore strain, closed", "fluid compression", "hose expansion",
        "pedal travel", "line velocity (US)", "line velocity (SI)"}
    assert {name for name in EXAMPLES if not name.startswith("vel-")} == {"line-suction", "tube-strain steel 3/16 x 0.028", "pedal-A"}
