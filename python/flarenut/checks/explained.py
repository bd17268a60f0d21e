"""What a part that is in backwards brings about: its own finding tells the cause, and what comes of it is left out or points there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from flarenut.results import Finding

from .reach import joined

if TYPE_CHECKING:
    from ..results.case import CaseResult

_ROOTS = ("pump backwards", "check valve backwards")
# What a pump that another pushes against makes those do that are joined to it.
_OF_A_PUMP = ("reversed flow", "dead-headed pump", "pump near dead head", "pump beyond the end of its curve", "beyond measured data")


def without_effects(case: CaseResult, found: Sequence[Finding]) -> list[Finding]:
    """The findings of one case, without those that a STOP on a pump in backwards explains, all of that pump among them;
    a dead-headed pump has the cure of a check valve in backwards. What is not joined to such a part keeps its findings as they are."""
    roots = {one.where: one for one in found if one.code in _ROOTS and one.severity == "stop"}
    apart = {where: _apart(case, where) for where in roots}
    kept = []
    for one in found:
        of = [root for where, root in roots.items() if one.where not in apart[where]]
        turned = [root for root in of if root.code == "pump backwards"]
        if one in roots.values() or one.code == "assumed":
            kept.append(one)
        elif turned and (one.code in _OF_A_PUMP or one.where in {root.where for root in turned}):
            continue
        elif of and one.code == "dead-headed pump":
            kept.append(replace(one, cure="; ".join(f"turn {root.where} round" for root in of)))
        else:
            kept.append(one)
    return kept


def _apart(case: CaseResult, where: str) -> set[str]:
    """What parts are called that nothing but tanks and places of given pressure join to those of a name."""
    title = case.layout.title
    near = {title(part) for root in case.part_names if title(root) == where for end in case.ends(root)
            for part in joined(case, end.junction, ())[1]}
    return {title(part) for part in case.part_names} - near - {where}
