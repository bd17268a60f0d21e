"""What a place is joined to by parts, whatever flows: for rules that ask how a circuit is put together."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..results.case import CaseResult

ROOT = 1e9  # "hurt" of a mistake in how a circuit is put together: told before all that it brings about, however large that is


def joined(case: CaseResult, start: int, stops: Iterable[str]) -> tuple[set[int], set[str]]:
    """Junctions joined to one by parts other than `stops`, as far as tanks and places of given pressure; and those parts."""
    waiting, seen, passed = [start], {start}, set()
    while waiting:
        here = waiting.pop()
        if case.is_held(here):
            continue
        for part in {part for part, _ in case.meeting(here)} - set(stops):
            passed.add(part)
            new = {end.junction for end in case.ends(part)} - seen
            seen |= new
            waiting.extend(new)
    return seen, passed


def pressed(case: CaseResult, start: int, stops: Iterable[str]) -> set[int]:
    """As `joined`, but a check valve is passed only the way that it lets liquid go."""
    waiting, seen = [start], {start}
    while waiting:
        here = waiting.pop()
        if case.is_held(here):
            continue
        for part, end in case.meeting(here):
            if part in stops or (case.kind_of(part) == "check valve" and end.junction != case.ends(part)[0].junction):
                continue
            new = {other.junction for other in case.ends(part)} - seen
            seen |= new
            waiting.extend(new)
    return seen


def is_off(case: CaseResult) -> bool:
    """True when every pump of a case stands still."""
    return bool(case.pumps) and all(case.solution.regime_of(pump) == "stopped" for pump in case.pumps)


def drawn_at(case: CaseResult) -> list[int]:
    """Junctions that liquid is drawn from at a given flow, by their place in `junction_names`."""
    return [place for place, name in enumerate(case.junction_names) if case.number(f"{name}.demand", 0.0) > 0.0]


def gauge_at(case: CaseResult, junction: int) -> float:
    """What a gauge shows at a junction [Pa]."""
    return case.reading(junction).gauge.si
