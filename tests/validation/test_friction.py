"""Friction against experiments and against published values of its laws (tests/cpp/correlations judges the same rows and the slopes)."""

from collections import Counter

import cases_friction
import pytest
from published_case import median, of, percentile_95

CASES = list(cases_friction.cases())


@pytest.mark.parametrize("group", sorted({case.group for case in CASES if case.judged and case.bound.kind != "set"}))
def test_values_of_the_laws(group):
    for case in of(CASES, group=group):
        assert case.holds, case.words


@pytest.mark.parametrize("key", cases_friction.SETS, ids=lambda key: cases_friction.set_name(*key))
def test_a_measured_set_is_met_over_all_its_rows(key):
    measured, differences = cases_friction.SETS[key], [100 * case.difference for case in of(CASES, group=cases_friction.set_name(*key))]
    assert len(differences) == measured.rows
    assert abs(median(differences)) < measured.median
    assert percentile_95(differences) < measured.percentile_95


def test_no_row_is_dropped():
    counted = Counter("set" if case.judged and case.bound.kind == "set" else "judged" if case.judged else "not judged" for case in CASES)
    assert counted == {"set": 276, "not judged": 23 + 109 + 12, "judged": 70 + 7 + 9 + 2 * 6 + 3}
    assert 276 + 23 + 109 == 408 == len(cases_friction.rows("friction_experiments.csv"))


def test_median_and_percentile_by_hand():
    assert (median([3.0, 1.0, 2.0]), median([4.0, 1.0, 2.0, 3.0])) == (2.0, 2.5)
    assert percentile_95([float(n) for n in range(-100, 0)]) == 95.0 and percentile_95([1.0, -2.0]) == 2.0
