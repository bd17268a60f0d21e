"""Coolers that next to nothing passes: whatever their size and their air, they cool nothing before their way is open."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ..results.paths import NEARLY_SHUT

if TYPE_CHECKING:
    from ..results.case import CaseResult

_IDLE = 0.01  # of what the pump that moves most moves: less through a cooler cools nothing to speak of (judgement)
_SPRINGS = ("relief valve", "bypass regulator", "reducing regulator")  # shut or not, they are no way for the liquid to a cooler


def passed_by(case: CaseResult, coolers: Sequence[str], congealed: bool) -> tuple[str, str] | None:
    """(what is told beside a finding of hot liquid, its cure) where next to nothing passes any of the coolers; else None.

    `congealed`: one of them stands full of thick cold oil, which has a cure of its own, unless something on its way is shut.
    """
    most = max((abs(end.flow) for pump in case.pumps for end in case.ends(pump)), default=0.0)
    if not coolers or not most > 0.0 or any(abs(case.ends(part)[0].flow) >= _IDLE * most for part in coolers):
        return None
    cures = _cures(case, _holding_back(case, coolers, _IDLE * most))
    if congealed and not cures:
        return None
    names, several = _titles(case, coolers), len(coolers) > 1
    cure = "; ".join(cures) or f"look what keeps it from {names}, or takes it past"
    whose = "their size and their air do" if several else "its size and its air do"
    return f"; next to nothing passes {names}", f"{cure}; {whose} not matter before that"


def _cures(case: CaseResult, parts: Sequence[str]) -> list[str]:
    """What to do about each kind of part that holds the liquid back."""
    cocks, stats, checks = ([part for part in parts if case.kind_of(part) == kind] for kind in ("valve", "thermostat", "check valve"))
    against = [part for part in checks if case.ends(part)[0].total < case.ends(part)[1].total]
    weak = [part for part in checks if part not in against]
    cures = []
    if cocks:
        nearly = "" if all(case.number(f"{part}.opening") == 0.0 for part in cocks) else "nearly "
        cures.append(f"open {_titles(case, cocks)}, which stand{_s(cocks)} {nearly}shut")
    if against:
        cures.append(f"turn {_titles(case, against)} round if {_they(against)} face{_s(against)} the wrong way: "
                     f"more pressure stands behind {_them(against)} than before {_them(against)}")
    if weak:
        cures.append(f"a weaker spring in {_titles(case, weak)}: too little pressure is left to open {_them(weak)}")
    if stats:
        cures.append(f"look whether {_titles(case, stats)} open{_s(stats)}: {_they(stats)} stand{_s(stats)} shut")
    return cures


def _holding_back(case: CaseResult, coolers: Sequence[str], little: float) -> list[str]:
    """What is shut, or nearly, among the still parts that are joined to a cooler, and loses more than the cooler does.

    A cooler whose both sides are joined to liquid that moves, by ways that are open, is cut off by nothing: then there is none.
    """
    moving = {part for part in case.part_names if any(abs(end.flow) >= little for end in case.ends(part))}
    still = set(case.part_names) - moving - set(case.parts_of_kind(*_SPRINGS))
    shut = {part for part in still if _is_shut(case, part)}
    found: dict[str, float] = {}
    for cooler in coolers:
        if _joined(case, cooler, still - shut, moving)[0] < 2:
            found.update((part, _across(case, part)) for part in _joined(case, cooler, still, moving)[1] & shut)
    counts = max(_across(case, cooler) for cooler in coolers)
    return [part for part in case.part_names if found.get(part, 0.0) > counts]


def _joined(case: CaseResult, cooler: str, still: set[str], moving: set[str]) -> tuple[int, set[str]]:
    """At how many places a cooler, and the still parts joined to it, meet liquid that moves, or a tank; and those parts."""
    waiting, parts, ends = [end.junction for end in case.ends(cooler)], {cooler}, 0
    for here in waiting:  # grows on the way
        met = {part for part, _ in case.meeting(here)}
        if case.is_held(here) or met & moving:
            ends += 1
            continue
        for part in (met & still) - parts:
            parts.add(part)
            waiting += [end.junction for end in case.ends(part) if end.junction not in waiting]
    return ends, parts


def _is_shut(case: CaseResult, part: str) -> bool:
    if case.kind_of(part) == "valve":
        return case.number(f"{part}.opening", 1.0) < NEARLY_SHUT
    return case.kind_of(part) in ("check valve", "thermostat") and str(case.solution.regime_of(part)) == "shut"


def _across(case: CaseResult, part: str) -> float:
    before, behind = case.ends(part)[:2]
    return abs(float(before.total - behind.total))


def _s(parts: Sequence[str]) -> str:
    return "s" if len(parts) == 1 else ""


def _they(parts: Sequence[str]) -> str:
    return "it" if len(parts) == 1 else "they"


def _them(parts: Sequence[str]) -> str:
    return "it" if len(parts) == 1 else "them"


def _titles(case: CaseResult, parts: Sequence[str]) -> str:
    return " and ".join(dict.fromkeys(case.layout.title(part) for part in parts))
