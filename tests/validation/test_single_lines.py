"""Worked examples of single lines: within 2 % of the published figure, and closer to an independent recalculation."""

import pytest
from cases_single_lines import EXAMPLES, MODELS, case_of
from reference import inputs


@pytest.mark.parametrize("row", EXAMPLES, ids=lambda row: f"{row['case_id']} {row['result_name']}")
def test_worked_example(row):
    case = case_of(row)
    assert case.holds, case.words
    assert (case.bound.relative, case.bound.absolute, case.reason) == (0.02, 0.0, "")
    # The independent calculation from the same inputs: closer. Friction is good to 0.1 %; gravity is 9.81 or 32.2 ft/s2.
    assert case.ours == pytest.approx(float(row["recomputed_SI"]), rel=3e-3)


def test_every_row_is_judged_and_no_result_is_idle():
    asked = {(row["case_id"], row["result_name"]) for row in EXAMPLES}
    assert len(asked) == len(EXAMPLES) == 38
    assert {row["case_id"] for row in EXAMPLES} == set(MODELS)
    answered = {(row["case_id"], name) for row in EXAMPLES for name in MODELS[row["case_id"]](inputs(row))}
    assert answered == asked
