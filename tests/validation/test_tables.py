"""Tables of constants and of closed forms, every row (tests/cpp/correlations and tests/cpp/parts judge the same and the slopes)."""

from collections import Counter

import cases_fittings
import cases_heat_tables
import pytest
from published_case import of

CASES = [*cases_fittings.cases(), *cases_heat_tables.cases()]
ROWS = {"two-K fittings": 66, "three-K fittings": 66, "equivalent lengths": 46, "steps, entrances, exits": 14, "orifice plates": 42,
        "short tubes and holes": 24, "valve coefficients": 7, "relief valve": 1, "effectiveness": 163, "inside tubes": 40, "rectangles": 8}


@pytest.mark.parametrize("group", ROWS)
def test_every_row_of_a_table(group):
    assert len(of(CASES, group=group)) == ROWS[group]
    for case in of(CASES, group=group):
        assert case.holds, case.words


def test_what_is_not_judged_is_known():
    assert Counter(case.group for case in CASES) == ROWS
    assert sorted(case.name.split()[0] for case in CASES if not case.judged) == ["K09", "K10", "re-entrant"]
