"""Oils by grade, transmission, steering and brake fluids, coolants and refrigerants against their published rows.

Sources: tests/data/fluids/SOURCES.md and the `source` columns. A value must lie within the band that the fluid itself states.
"""

from collections import Counter

import cases_oils
import cases_service_fluids
import pytest
from cases_oils import ENGINE_GRADES, GEAR_GRADES, GEAR_WINTERS, ICE, STEERING, UNLIKE, WINTERS, dynamic, kinematic
from cases_service_fluids import BRAKE_ELSE
from published_case import of
from reference import fluid_rows as rows

from flarenut._core import fluids as core
from flarenut.fluids import fluid, refrigerant

CASES = [*cases_oils.cases(), *cases_service_fluids.cases()]


@pytest.mark.parametrize("group", sorted({case.group for case in CASES}))
def test_rows_of_a_table(group):
    assert [case.words for case in of(CASES, group=group) if not case.holds] == []


def test_every_row_is_a_case_and_what_is_not_judged_is_known():
    counts = Counter(case.group for case in CASES)
    assert counts["engine oils, limits of the grade at 100 C"] == len(ENGINE_GRADES) and counts["engine oils, pumping limits"] == 6 * 8 - 4
    assert counts["engine oils, samples in the band of their grade"] == 3 * len(rows("engine_oils_typical.csv"))
    assert counts["glycol mixes, viscosity"] == len(rows("glycol_coolants.csv")) == 153
    assert counts["glycol mixes, freezing"] == sum(row["vol_percent"] != "0" for row in rows("glycol_freezing.csv"))
    assert counts["coolants, boiling and stiffness"] == len(rows("coolant_limits.csv")) == 5
    assert len({case.name.split(",")[0] for case in of(CASES, group="hydraulic and steering fluids")}) == len(STEERING) + len(UNLIKE)
    assert Counter(case.reason for case in CASES if not case.judged) == {
        **{reason: sum(row["sample"] in UNLIKE for row in rows("hydraulic_steering_fluids_typical.csv")) for reason in UNLIKE.values()},
        **Counter(BRAKE_ELSE[row["property"]] for row in rows("brake_fluid_properties.csv") if row["property"] in BRAKE_ELSE),
        "colder than our data": sum(float(row["T_degC"]) <= -45 for row in rows("refrigerants_saturation.csv")),
        "the critical point: liquid and vapour become one, refused": 1}
    assert not [case.name for case in CASES if case.judged and case.reason]


# ---- SAE J300 ---------------------------------------------------------------------------------------------------

def test_every_pair_of_grades_that_does_not_exclude_itself_is_an_oil():
    # J300's viscosities at 100 C: 25W wants 9.3 or more, grade 20 less than 9.3.
    assert not {f"25W-{hot}" for hot in ("8", "12", "16", "20")} & set(ENGINE_GRADES)
    assert len(ENGINE_GRADES) == 6 * 8 - 4 + 8


@pytest.mark.parametrize("grade", [g for g in ENGINE_GRADES if "W" in g])
def test_an_engine_oil_pumps_where_its_winter_grade_promises_and_ends_there(grade):
    limits = next(w for w in WINTERS if grade.startswith(w["grade"] + "-"))
    made, celsius = fluid(f"SAE {grade}"), float(limits["pumping_T_degC"])
    assert made.outer_limit[0].to("C") == pytest.approx(celsius)
    with pytest.raises(ValueError, match=rf"SAE J300 lets a {limits['grade']} oil reach 60000 mPa s at {celsius:g} degC"):
        made.at(f"{celsius - 1} C")
    told = {f.property: f.message for f in made.range_findings(f"{celsius + 1} C")}
    assert "60000 mPa s" in told["viscosity"] and ("D341" in told["viscosity"] or "sampled oils" in told["viscosity"])


# ---- SAE J306 ---------------------------------------------------------------------------------------------------

@pytest.mark.parametrize("grade", GEAR_GRADES)
def test_a_gear_oil_ends_where_its_winter_grade_does(grade):
    made = fluid(f"gear oil {grade}")
    winter = next((w for w in GEAR_WINTERS if grade.startswith(w["grade"] + "-")), None)
    if winter:
        celsius = float(winter["T_max_for_150000_mPa_s_degC"])
        assert made.outer_limit[0].to("C") == pytest.approx(max(celsius, -40))
        assert "150000 mPa s" in {f.property: f.message for f in made.range_findings(f"{max(celsius, -40)} C")}["viscosity"]


@pytest.mark.parametrize("grade", sorted({r["sae_grade"] for r in rows("gear_oils_typical.csv") if not r["sae_grade"].startswith("engine")}))
def test_a_gear_grade_is_a_gear_oil(grade):
    assert fluid("SAE " + grade).name == "gear oil " + grade


# ---- transmission and steering fluids ----------------------------------------------------------------------------

COLD_ATF = [r for r in rows("atf_typical.csv") if r["kv40_mm2_s"] and r["rotational_minus40C_mPa_s"]]


def test_transmission_fluid_in_the_cold_is_the_middle_of_what_was_measured_and_far_above_d341():
    measured = sorted(float(r["rotational_minus40C_mPa_s"]) for r in COLD_ATF)
    assert measured[0] < dynamic(fluid("ATF"), -40) < measured[-1]
    assert dynamic(fluid("ATF"), -40) == pytest.approx(measured[len(measured) // 2], rel=0.25)  # near the median
    alone = core.oil("two points only", [(40 + ICE, kinematic(fluid("ATF"), 40) * 1e-6), (100 + ICE, kinematic(fluid("ATF"), 100) * 1e-6)], 850.0)
    assert dynamic(fluid("ATF"), -40) > 1.5 * alone.at(-40 + ICE).viscosity * 1e3
    assert "7000 to 33000 mPa s" in {f.property: f.message for f in fluid("ATF").range_findings("-30 C")}["viscosity"]


def test_an_oil_unlike_its_grade_lies_beyond_the_band():
    for row in rows("hydraulic_steering_fluids_typical.csv"):
        if row["sample"] in UNLIKE:
            made = fluid("ISO VG 32")
            assert kinematic(made, 100) > float(row["kv100_mm2_s"]) * (1 + made.band("viscosity", "100 C"))


# ---- brake fluids ------------------------------------------------------------------------------------------------

@pytest.mark.parametrize("row", rows("brake_fluid_limits.csv"), ids=lambda r: r["fluid"])
def test_a_wet_brake_fluid_is_refused_where_its_standard_lets_it_boil(row):
    with pytest.raises(ValueError, match="the standard lets it boil there"):
        fluid(row["fluid"] + " wet").at(f"{float(row['erbp_wet_min_degC']) + 1} C")


def test_a_brake_fluid_boils_before_the_better_one_of_a_sheet():
    read = 0
    for row in rows("brake_fluid_properties.csv"):
        if row["property"].endswith("boiling point"):
            wet = " wet" if row["property"].startswith("wet") else ""
            assert fluid("DOT 4" + wet).boiling_point().to("C") < float(row["value"])
            read += 1
    assert read == 2


# ---- air and refrigerants ----------------------------------------------------------------------------------------

@pytest.mark.parametrize("row", [r for r in rows("refrigerants_saturation.csv") if r["note"] == "critical point"], ids=lambda r: r["fluid"])
def test_no_refrigerant_beyond_its_critical_point(row):
    with pytest.raises(ValueError, match="liquid and vapour become one"):
        refrigerant(row["fluid"]).at(f"{row['T_degC']} C")


def test_a_standing_system_shows_its_saturation_pressure():
    # Common practice: 0.57-0.77 MPa absolute between 20 and 30 C.
    row = next(r for r in rows("ac_pressure_practice.csv") if r["item"].startswith("standing"))
    assert refrigerant("R-134a").at("20 C").pressure.to("MPaa") == pytest.approx(float(row["value_min"]), abs=0.01)
    assert refrigerant("R-134a").at("30 C").pressure.to("MPaa") == pytest.approx(float(row["value_max"]), abs=0.01)
