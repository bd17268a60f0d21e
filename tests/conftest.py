"""What every test may use: the switch for strictness, and the C++ test program, built once per run."""

import os
from functools import partial

import catch_report
import cpp_build
import pytest

try:
    import hypothesis
except ImportError:  # what needs it says so
    pass
else:  # no test fails for the time it takes on a busy machine
    hypothesis.settings.register_profile("any machine", deadline=None, suppress_health_check=[hypothesis.HealthCheck.too_slow])
    hypothesis.settings.load_profile("any machine")


def pytest_addoption(parser):
    parser.addoption("--strict-cpp", action="store_true",
                     help="a missing compiler, CMake or Catch2 is an error, not a skip (also when CI is set)")


def is_strict(config) -> bool:
    return config.getoption("--strict-cpp") or bool(os.environ.get("CI"))


class CatchSuite:
    """The Catch2 program as pytest sees it: names to collect, then one run whose report all cases share."""

    def __init__(self, say):
        self._say = say
        self.names: list[str] = []
        self.missing = ""  # what the machine lacks
        self.broken = ""   # why the code does not build
        self._reports = None
        self._ending = ""
        self.program = None

    def build(self) -> None:
        self._say("building the C++ tests (minutes the first time) ...")
        try:
            self.program = cpp_build.build_test_program()
            self.names = catch_report.case_names(self.program)
        except cpp_build.ToolMissing as trouble:
            self.missing = str(trouble)
        except (cpp_build.BuildFailed, RuntimeError) as trouble:
            self.broken = str(trouble)

    def report(self, name: str) -> catch_report.CaseReport:
        if self._reports is None:
            self._reports, self._ending = catch_report.run_all(self.program)
        missing = catch_report.CaseReport(False, self._ending or "the case is listed but was not run")
        return self._reports.get(name, missing)


_suite = pytest.StashKey[CatchSuite]()


def _say(config, text: str) -> None:
    terminal = config.pluginmanager.getplugin("terminalreporter")
    if terminal is not None:
        terminal.write_line(text)
        terminal.flush()


def catch_suite(config) -> CatchSuite:
    if _suite not in config.stash:
        config.stash[_suite] = CatchSuite(partial(_say, config))
        config.stash[_suite].build()
    return config.stash[_suite]


def pytest_generate_tests(metafunc):
    """`catch_case` becomes one item per Catch2 case; with nothing built, a single item that says why."""
    if "catch_case" in metafunc.fixturenames:
        names = catch_suite(metafunc.config).names
        metafunc.parametrize("catch_case", names or [None], ids=names or ["build"])


@pytest.fixture
def catch(pytestconfig) -> CatchSuite:
    suite = catch_suite(pytestconfig)
    if suite.missing:
        lack(pytestconfig, suite.missing)
    if suite.broken:
        pytest.fail(suite.broken, pytrace=False)
    return suite


@pytest.fixture
def cxx(pytestconfig) -> str:
    """Path of the C++ compiler."""
    try:
        return cpp_build.compiler()
    except cpp_build.ToolMissing as trouble:
        lack(pytestconfig, str(trouble))


@pytest.fixture
def cmake(pytestconfig):
    """`cpp_build`, once its tools are known to be there."""
    try:
        cpp_build.require_tools()
    except cpp_build.ToolMissing as trouble:
        lack(pytestconfig, str(trouble))
    return cpp_build


@pytest.fixture
def require(pytestconfig):
    """Calls a step of `cpp_build`; what the machine lacks becomes a skip or, when strict, an error."""
    def call(step, *arguments):
        try:
            return step(*arguments)
        except cpp_build.ToolMissing as trouble:
            lack(pytestconfig, str(trouble))
        except cpp_build.BuildFailed as trouble:
            pytest.fail(str(trouble), pytrace=False)
    return call


def lack(config, what: str) -> None:
    if is_strict(config):
        pytest.fail(f"{what}\n(strict: CI is set or --strict-cpp was given)", pytrace=False)
    pytest.skip(what)
