"""The foot of the table: how each case was solved, and how well its answer closes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from .rows import NOT_SOLVED, NOT_THERE

if TYPE_CHECKING:
    from .case import CaseResult

_RUNGS = {"cold start": "from scratch", "warm": "from the last answer"}  # a cold start is the engine's, under a hot idle


def certificate_rows(cases: Sequence[CaseResult]) -> list[tuple[str, list[str]]]:
    """(label, cells) that say how each case was solved. What the last step of a search that failed left has nothing to close, and is not shown."""
    closes = [("worst residual", "residual"), ("mass closure", "mass_closure")]
    if any(case.finds_temperatures for case in cases):
        closes.append(("energy closure", "energy_closure"))
    return [
        ("how solved", [_RUNGS.get(case.solution.rung, case.solution.rung) if case.converged else NOT_SOLVED for case in cases]),
        ("iterations", [str(case.solution.iterations) if case.converged else NOT_THERE for case in cases]),
        *((label, [_closure(case, float(getattr(case.solution, name))) for case in cases]) for label, name in closes),
    ]


def _closure(case: CaseResult, found: float) -> str:
    """How well an answer closes; a heat balance that was not asked for has no number."""
    return f"{found:.0e}" if case.converged and found == found else NOT_THERE
