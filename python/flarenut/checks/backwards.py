"""Checks on pumps that are written the wrong way round, by what stands at both their ends."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from flarenut.results import INJECTORS, PUMPS, REGULATORS, Finding

from .reach import ROOT, drawn_at, joined

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits

_STILL = 1e-5  # kg/s, as in `devices`: seepage
_FED = (INJECTORS, *REGULATORS, "bearings")  # what stands behind a pump, and not before it


def backward_pump(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A running pump that another pushes against from its outlet while nothing feeds its inlet; one that pushes a check valve shut; and one that
    drives liquid through the runs at both its ends against the way that they are written.
    """
    facing = facing_pumps(case)
    for pump, other in facing.items():
        valve, name = case.kind_of(other) == "check valve", case.layout.title(other)
        why = (f"pushes {name} shut, on the way from a tank, and draws from what is to be fed" if valve else
               f"{name} pushes against its outlet, and nothing feeds its inlet")
        source = "the tank" if valve else "where the other delivers"
        yield Finding("pump backwards", "stop", case.layout.title(pump), case.name,
                      f"{why}: it looks written backwards",
                      source="", cure=f"swap the two ends of its run, so that it draws from {source}", hurt=2.0 * ROOT)
    for pump in case.pumps:
        against = [] if pump in facing else _driven_against(case, pump)
        if against:
            yield Finding("pump backwards", "watch", case.layout.title(pump), case.name,
                          f"drives the liquid through {_listed(against)} against the way that they are written: is it written backwards?",
                          source="", cure="swap the two ends of its run; if it is right, swap those of the others, for what is told of their "
                          "inlets and outlets goes by how they are written", hurt=ROOT)


def facing_pumps(case: CaseResult) -> dict[str, str]:
    """Pump -> the pump that pushes against it while nothing feeds it, or the check valve from a tank that it pushes shut; engine names."""
    running = [pump for pump in case.pumps if case.solution.regime_of(pump) != "stopped"]
    met = {pump: [*([] if _is_fed(case, pump) else _pushes_on(case, pump)), *_pushed_shut(case, pump)] for pump in running}
    return {pump: others[0] for pump, others in met.items() if others}


def pushed_shut(case: CaseResult) -> set[str]:
    """Check valves that stand shut as they should, for the pump behind them is in backwards."""
    return {valve for pump in facing_pumps(case) for valve in _pushed_shut(case, pump)}


def _pushed_shut(case: CaseResult, pump: str) -> list[str]:
    """Shut check valves that lead from a tank to a pump's outlet, where what is to be fed stands before its inlet and nothing of it behind."""
    shut = [valve for valve in case.parts_of_kind("check valve") if case.solution.regime_of(valve) == "shut"]
    stops = {*shut, *case.pumps}
    before, behind = (joined(case, end.junction, stops) for end in case.ends(pump)[:2])
    found = [valve for valve in shut if case.ends(valve)[1].junction in behind[0]
             and any(case.is_held(place) for place in joined(case, case.ends(valve)[0].junction, stops)[0])]
    return found if found and _holds_fed(case, before) and not _holds_fed(case, behind) else []


def _holds_fed(case: CaseResult, found: tuple[set[int], set[str]]) -> bool:
    """Whether places and parts, as `joined` gives them, hold what liquid is brought to."""
    places, parts = found
    return any(case.kind_of(part) in _FED for part in parts) or bool(places & set(drawn_at(case)))


def _pushes_on(case: CaseResult, pump: str) -> list[str]:
    """Running pumps whose outlet leads to that of a pump."""
    places = joined(case, case.ends(pump)[1].junction, case.pumps)[0]
    running = [other for other in case.pumps if other != pump and case.solution.regime_of(other) != "stopped"]
    return [other for other in running if case.ends(other)[1].junction in places]


def _is_fed(case: CaseResult, pump: str) -> bool:
    """Whether liquid can come to a pump's inlet from a tank, a place of given pressure or supply, or another pump; devices let it by one way."""
    waiting, seen = [case.ends(pump)[0].junction], {case.ends(pump)[0].junction}
    while waiting:
        here = waiting.pop()
        if case.is_held(here) or case.number(f"{case.junction_names[here]}.demand", 0.0) < 0.0:
            return True
        for part, end in case.meeting(here):
            inlet, one_way = case.ends(part)[0].junction, case.kind_of(part) in (*PUMPS, *REGULATORS, INJECTORS, "relief valve")
            if part == pump or one_way and (end.junction == inlet or case.kind_of(part) == INJECTORS):
                continue
            if case.kind_of(part) in PUMPS:
                return True
            new = {other.junction for other in case.ends(part)} - seen
            seen |= new
            waiting.extend(new)
    return False


def _driven_against(case: CaseResult, pump: str) -> list[str]:
    """Runs at both ends of a pump, where it draws by the beginning of all that meet it there, and delivers to the end of all that meet it there."""
    runs = {name: (case.ends(parts[0])[0], case.ends(parts[-1])[-1]) for name, parts in case.layout.runs.items()}
    own = next((name for name, parts in case.layout.runs.items() if pump in parts), None)
    if own is None or not case.ends(pump)[0].flow > _STILL:
        return []
    found = []
    for place, side in ((runs[own][0].junction, 0), (runs[own][1].junction, 1)):
        # At the place the pump draws from all others begin, and bring it liquid; where it delivers all others end, and take it.
        here = {name for name, ends in runs.items() if name != own and ends[side].junction == place and not ends[1 - side].junction == place}
        others = {part for part, _ in case.meeting(place)} - {part for name in (*here, own) for part in case.layout.runs[name]}
        against = {name: runs[name][side].flow * (2 * side - 1) for name in here}  # what goes from its end to its beginning
        if case.is_held(place) or not here or others or min(against.values()) < -_STILL:
            return []
        found += sorted(name for name, flow in against.items() if flow > _STILL)
    return found


def _listed(names: list[str]) -> str:
    return " and ".join([", ".join(names[:-1]), names[-1]]) if names[1:] else names[0]
