"""A plugin of pytest that tells coverage.py each case of a test by its own name, where its own way knows the function alone."""

import coverage


def pytest_runtest_setup(item):
    running = coverage.Coverage.current()
    if running is not None:
        running.switch_context(item.nodeid)


def pytest_runtest_teardown(item):
    running = coverage.Coverage.current()
    if running is not None:
        running.switch_context("")
