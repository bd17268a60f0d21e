"""Mutation testing by form: how many wrongs are tried, and which tests are asked."""

import re
from pathlib import Path

import mutate_cpp
import mutate_python
import tool_coverage
from tool_places import BUILD, Outcome

PYTHON_SAMPLE = {"short": 30, "medium": 300, "long": None}
CPP_SAMPLE = {"short": 60, "medium": 300, "long": None}
ROOM = "checks"
MEASURED = BUILD / f"coverage-{ROOM}"
SPEAKS = re.compile(r"\bcheck\(|\bchecks\b|[Ff]inding")  # of a test file that says anything of the room


def python(form: str, seed: int, minutes: float | None = None) -> Outcome:
    """Wrongs in the checks. Asked are the tests that speak of findings; which of them runs which line is measured first."""
    tests = speaking()
    return mutate_python.run_mutants(measured(tests), tests, ROOM, PYTHON_SAMPLE[form], seed, minutes and 60 * minutes)


def speaking() -> list[Path]:
    """Test files that speak of findings."""
    return [path for path in sorted(mutate_python.TESTS.glob("test_*.py")) if SPEAKS.search(path.read_text(encoding="utf-8"))]


def measured(tests: list[Path]) -> Path:
    """The measure of the tests, made anew where the room has changed, and added to where a test has."""
    data = MEASURED / "data"
    since = data.stat().st_mtime if data.exists() else 0.0
    whole = any(path.stat().st_mtime > since for path in (mutate_python.SOURCES / ROOM).rglob("*.py"))
    asked = tests if whole else [path for path in tests if path.stat().st_mtime > since]
    return tool_coverage.measure_python(asked, f"flarenut.{ROOM}", MEASURED, more=not whole) if asked else data


def cpp(form: str, seed: int, minutes: float | None = None) -> Outcome:
    """Wrongs in the correlations."""
    return mutate_cpp.run_mutants(CPP_SAMPLE[form], seed, minutes and 60 * minutes)
