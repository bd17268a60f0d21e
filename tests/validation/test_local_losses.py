"""Worked examples of local losses, orifices and valves: within 2 %, but for the listed. The correlations behind them are judged in tests/cpp."""

import math

import pytest
from cases_local_losses import LOCAL, MODELS, ORIFICES_AND_VALVES, OTHER_CORRELATION, TEE_BAND, case_of
from reference import inputs, passed_between, published, rows

RELIEF = {("RV01", "cracking pressure"), ("RV01", "full-flow pressure")}


@pytest.mark.parametrize("row", LOCAL + ORIFICES_AND_VALVES, ids=lambda row: f"{row['case_id']} {row['result_name']}")
def test_worked_example(row):
    case = case_of(row)
    assert case.holds, case.words
    if case.reason:
        assert abs(case.difference) > 0.02, "within 2 %: take it off the list"
    elif case.bound.kind != "band":
        assert (case.bound.relative, case.bound.absolute) == (0.02, 0.0)


def test_every_row_is_judged_and_every_exception_is_a_row():
    asked = {(row["case_id"], row["result_name"]) for row in LOCAL + ORIFICES_AND_VALVES}
    assert len(asked) == len(LOCAL) + len(ORIFICES_AND_VALVES) == 25
    answered = {(row["case_id"], name) for row in LOCAL + ORIFICES_AND_VALVES
                for name in MODELS[row["case_id"]](inputs(row))}
    assert answered == asked
    assert set(OTHER_CORRELATION) <= asked
    assert {("LL12", name) for name in TEE_BAND} <= asked


def test_relief_valve_opens_where_the_spring_says():
    """Esposito, example 8.1: the valve built from cracking and full-flow pressure, between a held inlet and open air.

    The spring arithmetic itself is judged in tests/cpp/parts/test_relief_valve.cpp.
    """
    table = {(row["case_id"], row["result_name"]): published(row) for row in rows("relief_valve_examples.csv")}
    assert set(table) == RELIEF
    cracking, full = (table["RV01", name] for name in ("cracking pressure", "full-flow pressure"))
    numbers = {"set_pressure": cracking, "band": full - cracking, "full_area": 1e-5, "discharge_coefficient": 0.7}

    def share_open(inlet):
        wide = 0.7 * 1e-5 * math.sqrt(2 * inlet / 880.0)
        return passed_between(inlet, ("relief valve", numbers), 880.0, 1e-4) / wide

    assert share_open(0.98 * cracking) < 0.01
    assert share_open(full) == pytest.approx(1 / math.sqrt(2), rel=0.02)  # a band is where 71 % is open
    assert share_open(0.98 * cracking) < share_open(1.1 * cracking) < share_open(full) < share_open(2 * full) < 1.01
