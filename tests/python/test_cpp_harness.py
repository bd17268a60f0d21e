"""The bridge between Catch2 and pytest: a failing, crashing or missing case can not pass for a good one."""

import os
import subprocess
import sys

import catch_report
import pytest

SUITE = "tests/cpp/test_cpp_suite.py"

PROJECT = """\
cmake_minimum_required(VERSION 3.25)
project(harness LANGUAGES CXX)
find_package(Catch2 REQUIRED)
add_executable(cases cases.cpp)
target_include_directories(cases PRIVATE "{shim}")
target_compile_features(cases PRIVATE cxx_std_20)
target_link_libraries(cases PRIVATE Catch2::Catch2WithMain)
"""
CASES = """\
#include <cstdlib>
#include <stdexcept>
#include "catch_shim.hpp"
TEST_CASE("good") { REQUIRE(Approx(1.0) == 1.0); }
TEST_CASE("#6 line, cut [short]") { REQUIRE(true); }
TEST_CASE("bad in a section") {
  SECTION("first") { CHECK(true); }
  SECTION("second") {
    const int bore = 5;
    INFO("bore in mm");
    CHECK(bore == 6);
    CHECK(bore == 7);
  }
}
TEST_CASE("throws") { throw std::runtime_error("out of fuel"); }
TEST_CASE("pulls the plug") {
  if (std::getenv("PULL_THE_PLUG")) std::_Exit(3);
  CHECK(true);
}
"""
GOOD = ["good", "#6 line, cut [short]", "pulls the plug"]
BAD = ["bad in a section", "throws"]


def test_what_catch_says_reaches_pytest(cmake, require, tmp_path, monkeypatch):
    (tmp_path / "CMakeLists.txt").write_text(PROJECT.format(shim=cmake.ROOT / "tests" / "cpp"))
    (tmp_path / "cases.cpp").write_text(CASES)
    require(cmake.configure, tmp_path, tmp_path / "build")
    require(cmake.build, tmp_path / "build")
    program = tmp_path / "build" / "cases"

    assert sorted(catch_report.case_names(program)) == sorted([*GOOD, *BAD])
    reports, ending = catch_report.run_all(program)
    assert ending == ""
    assert {name: report.passed for name, report in reports.items()} == {
        **dict.fromkeys(GOOD, True), **dict.fromkeys(BAD, False)}
    section = reports["bad in a section"].text
    for words in ("cases.cpp:11 / second", "CHECK( bore == 6 )", "with 5 == 6", "Info: bore in mm", "CHECK( bore == 7 )"):
        assert words in section
    assert "first" not in section
    assert "Exception: out of fuel" in reports["throws"].text

    monkeypatch.setenv("PULL_THE_PLUG", "1")  # what it said before counts; what it did not reach has no report
    reports, ending = catch_report.run_all(program)
    assert "exit status 3" in ending
    assert "pulls the plug" not in reports
    assert not any(report.passed for name, report in reports.items() if name in BAD)


@pytest.mark.parametrize("listing", [
    '<?xml version="1.0" encoding="UTF-8"?>\n<MatchingTests>\n<TestCase><Name>good</Name><ClassName/>'
    "<Tags>[a]</Tags></TestCase>\n<TestCase><Name>throws</Name></TestCase>\n</MatchingTests>\n",
    "good\nthrows\n",
], ids=["version 3", "version 2"])
def test_both_forms_of_listing_are_read(tmp_path, listing):
    program = tmp_path / "cases"
    program.write_text(f"#!{sys.executable}\nprint({listing!r}, end='')\n")
    program.chmod(0o755)
    assert catch_report.case_names(program) == ["good", "throws"]


def pytest_on_the_suite(cmake, *words, **environment):
    clean = {name: value for name, value in os.environ.items() if name != "CI"}
    return subprocess.run([sys.executable, "-m", "pytest", "-rsE", "-p", "no:cacheprovider", SUITE, *words],
                          cwd=cmake.ROOT, env={**clean, **environment}, stdin=subprocess.DEVNULL, capture_output=True,
                          text=True, timeout=300)


def test_a_missing_compiler_is_a_visible_skip(cmake):
    done = pytest_on_the_suite(cmake, CXX="no-such-compiler")
    assert done.returncode == 0, done.stdout
    assert "1 skipped" in done.stdout and "C++ compiler 'no-such-compiler' was not found" in done.stdout


@pytest.mark.parametrize("words, environment", [(["--strict-cpp"], {}), ([], {"CI": "true"})], ids=["asked", "in CI"])
def test_a_missing_compiler_is_an_error_when_strict(cmake, words, environment):
    done = pytest_on_the_suite(cmake, *words, CXX="no-such-compiler", **environment)
    assert done.returncode == 1, done.stdout
    assert "1 error" in done.stdout and "C++ compiler 'no-such-compiler' was not found" in done.stdout
