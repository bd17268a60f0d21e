"""Cocks that stand shut: what is wrong behind them, or before them, may be their doing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from flarenut.results import INJECTORS, PUMPS, REGULATORS, Finding
from flarenut.units import Quantity

from .fuel_pressure import is_backward
from .reach import ROOT, joined
from .roles import RESISTS

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits

_SAME = 1.5  # times the flow of the cock: a pump that moves no more has nowhere else to send it
_COUNTS = 0.1  # of what the strongest pump lifts: less across a cock drives nothing that matters (judgement)


def stands_shut(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A valve with an opening of 0 that holds back what a pump lifts.

    A STOP where it is that pump's only way, or the only way back from a bypass regulator, else worth a look.
    """
    lifts = [abs(case.ends(pump)[1].total - case.ends(pump)[0].total) for pump in case.pumps]
    spilling = {way: regulator for regulator in case.parts_of_kind("bypass regulator") for way in shut_on_return(case, regulator)}
    for cock in case.parts_of_kind("valve"):
        before, behind = case.ends(cock)[:2]
        across = abs(before.total - behind.total)
        if not _is_shut(case, cock) or not lifts or across < _COUNTS * max(lifts):
            continue
        only = pumps_stopped(case, cock)
        names = " and ".join(case.layout.title(pump) for pump in only)
        spills = any(_let_go(case, pump) > 0.0 for pump in only)
        means = f"{names} can send nothing any other way{_BUT if spills else ''}: look here before anything else" if only else \
            f"{case.layout.title(spilling[cock])} can let nothing off by it: look here before anything else" if cock in spilling else \
            "what lies behind it gets next to nothing: if that was not meant, look here first"
        sure = bool(only) or cock in spilling
        yield Finding("stands shut", "stop" if sure else "watch", case.layout.title(cock), case.name,
                      f"stands shut, with {{value}} across it; {means}", Quantity(across, "pressure_difference"), source="",
                      cure="open it" if sure else "open it; if it is meant to be shut, all is well", hurt=2.0 * ROOT)


_BUT = " but by its relief, which lets all go"


def pumps_stopped(case: CaseResult, cock: str) -> list[str]:
    """Pumps that move no more than what seeps through a valve, but for what a relief lets go: it is their only way."""
    if not _is_shut(case, cock):
        return []
    seeps = _SAME * abs(case.ends(cock)[0].flow)
    moved = {pump: abs(case.ends(pump)[1].flow) for pump in case.pumps}
    return [pump for pump, flow in moved.items() if 0.0 < flow and flow - _let_go(case, pump) <= seeps]


def _let_go(case: CaseResult, pump: str) -> float:
    """What relief valves after a pump lead back by lines alone [kg/s]. One round a cooler leads to the consumers."""
    after = case.flows.reached(case.ends(pump)[1].junction, up=False)
    return sum(step.flow for part, step in after.items() if case.kind_of(part) == "relief valve" and (case.is_held(step.stop) or not any(
        case.kind_of(behind) in (*RESISTS, INJECTORS) for behind in case.flows.reached(step.stop, up=False))))


def shut_on_return(case: CaseResult, regulator: str) -> list[str]:
    """Shut valves, and check valves met from behind, that leave a bypass regulator no open way back to a tank."""
    if is_backward(case, regulator):
        return []
    shut = {cock for cock in case.parts_of_kind("valve") if _is_shut(case, cock)}
    ends = {valve: case.ends(valve) for valve in case.parts_of_kind("check valve")}
    # Turned against the way back, whatever seeps: the pressure before it is at its outlet.
    shut |= {valve for valve, (inlet, outlet) in ends.items() if case.solution.regime_of(valve) == "shut" and outlet.total > inlet.total}
    outlet = case.ends(regulator)[1].junction
    places = joined(case, outlet, {*shut, *case.parts_of_kind(*PUMPS, *REGULATORS, "relief valve", INJECTORS)})[0]
    if any(case.is_held(place) for place in places):
        return []
    return [part for part in case.part_names if part in shut and (ends[part][1].junction in places if part in ends else
                                                                  any(end.junction in places for end in case.ends(part)))]


def _is_shut(case: CaseResult, cock: str) -> bool:
    return case.number(f"{cock}.opening") == 0.0
