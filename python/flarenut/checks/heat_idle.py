"""Coolers that next to nothing passes: whatever their size and their air, they cool nothing before their way is open."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..results.case import CaseResult

_IDLE = 0.01  # of what the pumps move: less through a cooler cools nothing to speak of (judgement)


def passed_by(case: CaseResult, coolers: Sequence[str], congealed: bool) -> tuple[str, str] | None:
    """(what is told beside a finding of hot liquid, its cure) where next to nothing passes any of the coolers; else None.

    `congealed`: one of them stands full of thick cold oil, which has a cure of its own, unless a cock shuts its way.
    """
    most = max((abs(end.flow) for pump in case.pumps for end in case.ends(pump)), default=0.0)
    if not coolers or not most > 0.0 or any(abs(case.ends(part)[0].flow) >= _IDLE * most for part in coolers):
        return None
    runs = [run for run in case.layout.runs.values() if set(run) & set(coolers)]
    cocks = [part for run in runs for part in run if case.kind_of(part) == "valve" and case.number(f"{part}.opening") == 0.0]
    if congealed and not cocks:
        return None
    names, later = _titles(case, coolers), "; its size and its air do not matter before that"
    stats = [part for part in case.parts_of_kind("thermostat") if case.solution.regime_of(part) == "shut"]
    if cocks:
        cure = f"open {_titles(case, cocks)}, which stand{'s' if len(cocks) == 1 else ''} shut"
    elif stats:
        cure = f"look whether {_titles(case, stats)} opens: it stands shut"
    else:
        cure = f"look what keeps it from {names}, or takes it past"
    return f"; next to nothing passes {names}", cure + later


def _titles(case: CaseResult, parts: Sequence[str]) -> str:
    return " and ".join(dict.fromkeys(case.layout.title(part) for part in parts))
