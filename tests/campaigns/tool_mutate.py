"""Mutation testing by form: how many wrongs are tried."""

import mutate_cpp
import mutate_python
import tool_coverage
from tool_places import Outcome

PYTHON_SAMPLE = {"short": 30, "medium": 300, "long": None}
CPP_SAMPLE = {"short": 4, "medium": 120, "long": None}
ROOM = "checks"


def python(form: str, seed: int, minutes: float | None = None) -> Outcome:
    """Wrongs in the checks. Which test runs which line is measured first, where no measure is kept."""
    data = tool_coverage.PYTHON / "data"
    if not data.exists():
        tool_coverage.measure_python()
    return mutate_python.run_mutants(data, ROOM, PYTHON_SAMPLE[form], seed, minutes and 60 * minutes)


def cpp(form: str, seed: int, minutes: float | None = None) -> Outcome:
    """Wrongs in the correlations."""
    return mutate_cpp.run_mutants(CPP_SAMPLE[form], seed, minutes and 60 * minutes)
