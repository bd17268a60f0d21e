"""Mutation testing by form: how many wrongs are tried, and which tests are asked."""

import re
from pathlib import Path

import measured_lines
import mutate_cpp
import mutate_python
from tool_places import BUILD, Outcome

PYTHON_SAMPLE = {"short": 30, "medium": 300, "long": None}
CPP_SAMPLE = {"short": 60, "medium": 300, "long": None}
ROOM = "checks"
MEASURED = BUILD / f"coverage-{ROOM}"
SPEAKS = re.compile(r"import.*\bchecks\b|flarenut\.checks")  # of a test file that has to do with the room, if its name does not say so


def python(form: str, seed: int, minutes: float | None = None) -> Outcome:
    """Wrongs in the checks. Asked are the tests that speak of findings; which of them runs which line is measured first."""
    tests = speaking()
    return mutate_python.run_mutants(measured_lines.measure(tests, ROOM, MEASURED), tests, ROOM, PYTHON_SAMPLE[form], seed, minutes and 60 * minutes)


def speaking() -> list[Path]:
    """Test files that are named after findings, or take the checks to hand."""
    return [path for path in sorted(mutate_python.TESTS.glob("test_*.py"))
            if measured_lines.OWN.search(path.name) or SPEAKS.search(path.read_text(encoding="utf-8"))]


def cpp(form: str, seed: int, minutes: float | None = None) -> Outcome:
    """Wrongs in the correlations."""
    return mutate_cpp.run_mutants(CPP_SAMPLE[form], seed, minutes and 60 * minutes)
