"""Every Catch2 case as one pytest item: same name, Catch's own words when it fails."""

import pytest


def test_catch(catch, catch_case):
    report = catch.report(catch_case)
    if report.skipped:
        pytest.skip(report.text)
    if not report.passed:
        pytest.fail(report.text, pytrace=False)
