"""Pumps and suction: every published row through the engine as scripts reach it."""

import cases_pumps
import pytest

CASES = list(cases_pumps.cases())


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_worked_example(case):
    assert case.holds, case.words


def test_every_row_is_judged():
    assert len(CASES) == len(cases_pumps.ROWS) == 13 and not [case.name for case in CASES if case.reason]
    assert {case.name for case in CASES if "recalculated" in case.source} == {
        case.name for case, row in zip(CASES, cases_pumps.ROWS) if not row["published_value_SI"]}
