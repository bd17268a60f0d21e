"""Checks on check valves: one that is shut because it is written the wrong way round."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from flarenut.results import INJECTORS, REGULATORS, Finding
from flarenut.units import Quantity

from .backwards import pushed_shut
from .reach import ROOT, joined

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from ..results.engine import EngineEnd
    from .limits import Limits

_STILL = 1e-5  # kg/s, as in `devices`: seepage
# What liquid is brought to. A hose to a tank is not: a make-up line holds still behind its check valve, as it should.
_CONSUMERS = (INJECTORS, *REGULATORS, "orifice", "short tube orifice", "resistance", "measured table", "core", "bearings")


def backward_check_valve(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A shut check valve that a pump pushes or pulls at in vain, that cuts off all that a pump feeds through it, or that alone
    keeps a circuit without pumps from flowing.

    One that holds another pump's pressure back, a stopped pump's line full, or a pump that is itself in backwards, is as it should be.
    """
    shut = {valve for valve in case.parts_of_kind("check valve") if case.solution.regime_of(valve) == "shut"}
    for valve in sorted(shut - pushed_shut(case)):
        inlet, outlet = case.ends(valve)[:2]
        if outlet.total <= inlet.total:
            continue
        pump = next((pump for pump in case.pumps if _strains(case, pump, inlet, outlet, shut)), None)
        cut_off = pump is None and _cuts_off(case, inlet, outlet, shut)
        if pump is None and not cut_off and (case.pumps or not _is_all_still(case)):
            continue
        against = f"{_called(case, pump, valve)} works against it" if pump else f"nothing flows {'behind it' if cut_off else 'anywhere'}"
        stops = pump is not None or cut_off
        yield Finding("check valve backwards", "stop" if stops else "fix", case.layout.title(valve), case.name,
                      f"shut, with {{over}} more at its outlet than at its inlet, and {against}: it looks written backwards",
                      cure="turn it round: liquid passes from the inlet, which is written first, to the outlet",
                      hurt=2.0 * ROOT, numbers={"over": Quantity(outlet.total - inlet.total, "pressure_difference")})


def _called(case: CaseResult, pump: str, valve: str) -> str:
    """A pump by its title; by the engine's name where the valve is its own and has the same."""
    return pump if case.layout.title(pump) == case.layout.title(valve) else case.layout.title(pump)


def _strains(case: CaseResult, pump: str, inlet: EngineEnd, outlet: EngineEnd, shut: set[str]) -> bool:
    """True when a pump that runs moves nothing, and stands against the valve's outlet or draws from its inlet."""
    if case.solution.regime_of(pump) == "stopped" or not _is_still(case, pump):
        return False
    ends, stops = case.ends(pump), {*shut, *case.pumps}
    pushed, pulled = joined(case, ends[1].junction, stops)[0], joined(case, ends[0].junction, stops)[0]
    return outlet.junction in pushed or inlet.junction in pulled


def _cuts_off(case: CaseResult, inlet: EngineEnd, outlet: EngineEnd, shut: set[str]) -> bool:
    """True when a running pump presses on the outlet, and behind the inlet stand consumers that get no more than what seeps."""
    running = {pump for pump in case.pumps if case.solution.regime_of(pump) != "stopped"}
    pressed = joined(case, outlet.junction, {*shut, *case.pumps})[0]
    if not any(case.ends(pump)[1].junction in pressed for pump in running):
        return False
    parts = joined(case, inlet.junction, shut)[1]
    seeps = abs(inlet.flow) * 1.001 + _STILL
    return (not parts & set(case.pumps) and any(case.kind_of(part) in _CONSUMERS for part in parts)
            and all(abs(end.flow) <= seeps for part in parts for end in case.ends(part)))


def _is_still(case: CaseResult, part: str) -> bool:
    return case.solution.regime_of(part) == "dead-headed" or abs(case.ends(part)[0].flow) < _STILL


def _is_all_still(case: CaseResult) -> bool:
    return all(abs(end.flow) < _STILL for part in case.part_names for end in case.ends(part))
