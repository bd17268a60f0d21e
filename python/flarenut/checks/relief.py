"""Checks on what guards a displacement pump: that there is a relief, that it is the right way round, that its setting is no slip."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from flarenut.results import INJECTORS, PUMPS, REGULATORS, Finding
from flarenut.units import Quantity

from .limits import is_engine_oil, is_oil
from .reach import ROOT, joined, pressed
from .roles import SPILLS, feeds, is_cooler, is_tank

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits

_DISPLACEMENT = "positive displacement pump"
_ENDS_A_WAY = (*PUMPS, *REGULATORS, "relief valve", INJECTORS)
# What may shut, plug or hardly let cold oil by. A filter with a bypass of its own is passed.
_RESISTS = ("filter", "valve", "orifice", "short tube orifice", "resistance", "measured table", "core", "bearings", "thermostat",
            "thermostat bypass")
_BACKWARD_FROM = 0.1  # of its setting: more than that against it is no trifle of height


def unguarded_pump(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A pump that moves the same volume every turn, and nothing that lets it go when the way is shut or the oil is thick."""
    for pump in case.parts_of_kind(_DISPLACEMENT):
        outlet = case.ends(pump)[1].junction
        free = pressed(case, outlet, case.parts_of_kind(*_ENDS_A_WAY, *_RESISTS))
        if not case.number(f"{pump}.speed") or any(case.is_held(place) for place in free) or _spilling(case, free):
            continue
        far = pressed(case, outlet, case.parts_of_kind(*_ENDS_A_WAY))
        if any(case.ends(relief)[1].junction in far for relief in _backwards(case)):
            continue  # spoken of in `backward_relief`
        behind = _spilling(case, far)
        yield _out_of_reach(case, pump, behind[0], free) if behind else _without(case, pump)


def _out_of_reach(case: CaseResult, pump: str, relief: str, free: set[int]) -> Finding:
    """A relief behind what may cut it off. A clean filter hardly does that to fuel or water."""
    between = {part for place in free for part, _ in case.meeting(place) if case.kind_of(part) in _RESISTS}
    thin = not is_oil(case.layout) and all(part in case.filters for part in between)
    titles = ", ".join(sorted({case.layout.title(part) for part in between}))
    return Finding("relief out of reach", "watch" if thin else "fix", case.layout.title(pump), case.name,
                   f"the first relief after it, {case.layout.title(relief)}, stands behind {titles}: what plugs"
                   f"{'' if thin else ' or hardly lets cold liquid by'} cuts it off, and nothing else limits the pressure before it",
                   source="", hurt=0.0 if thin else ROOT,
                   cure="a relief valve straight after the pump, before any filter, cooler or valve" + ("; else change the filter in time" if thin else ""))


def _without(case: CaseResult, pump: str) -> Finding:
    """No relief at all. Where only filters and coolers stand on the way to a tank, such as after a scavenge pump, that is usual."""
    rise = Quantity(case.ends(pump)[1].total - case.ends(pump)[0].total, "pressure_difference")
    if between := _only_cooled(case, pump):
        return Finding("no relief", "watch", case.layout.title(pump), case.name,
                       f"no relief valve after it, and {', '.join(between)} on the way to the tank: cold oil, or dirt there, raises its pressure; it "
                       "raises {rise} in this case", source="", cure="usual after a scavenge pump; check the cold case, and that the cooler bears it",
                       numbers={"rise": rise})
    return Finding("no relief", "stop", case.layout.title(pump), case.name,
                   "no relief valve after it: it moves the same volume every turn, so that its pressure climbs until something "
                   "bursts when the liquid is thick or a way is shut; it raises {rise} in this case",
                   source="", hurt=ROOT, cure="a relief valve from its outlet back to the tank, before any filter, cooler or valve; if it "
                   "has one inside, write it so", numbers={"rise": rise})


def _only_cooled(case: CaseResult, pump: str) -> list[str]:
    """Titles of filters and coolers that alone stand between a pump and a tank; nothing where a consumer may stand there.

    A resistance is a cooler where it is called so, in gear oil, and on the way into a tank whose own pump has a relief: a dry sump's.
    """
    outlet, resisting = case.ends(pump)[1].junction, set(case.parts_of_kind("resistance", "measured table", "core"))
    coolers = {part for part in resisting if case.layout.family == "gear oil" or is_cooler(case, part)}
    shuts = set(case.parts_of_kind(*_ENDS_A_WAY, *_RESISTS)) - resisting - set(case.filters)
    for passes, scavenged in ((coolers, False), (resisting, True)):
        stops = shuts | (resisting - passes)
        if any(case.is_held(place) and is_tank(case, place) and (not scavenged or _feeds_guarded(case, place, pump))
               for place in pressed(case, outlet, stops)):
            passed = joined(case, outlet, stops)[1] & (resisting | set(case.filters))
            return list(dict.fromkeys(case.layout.title(part) for part in case.part_names if part in passed))
    return []


def _feeds_guarded(case: CaseResult, tank: int, pump: str) -> bool:
    """True when another pump that has a relief draws from a tank."""
    return any(other != pump and feeds(case, tank, other)
               and _spilling(case, pressed(case, case.ends(other)[1].junction, case.parts_of_kind(*_ENDS_A_WAY))) for other in case.pumps)


def _spilling(case: CaseResult, junctions: set[int]) -> list[str]:
    return [spill for spill in case.parts_of_kind(*SPILLS) if case.ends(spill)[0].junction in junctions]


def _backwards(case: CaseResult) -> dict[str, float]:
    """Relief valves that pressure stands against from behind, without a second one for the other way beside them."""
    valves = case.parts_of_kind("relief valve")
    ways = {tuple(end.junction for end in case.ends(valve)[:2]) for valve in valves}
    return {valve: over for valve in valves if (over := case.ends(valve)[1].total - case.ends(valve)[0].total)
            > _BACKWARD_FROM * case.number(f"{valve}.set_pressure", float("inf"))
            and tuple(end.junction for end in case.ends(valve)[1::-1]) not in ways}


def _drawing_before(case: CaseResult, valve: str) -> str | None:
    """A running pump that draws from the inlet side of a relief valve that no pump presses on; None where there is none."""
    joined = pressed(case, case.ends(valve)[0].junction, {valve, *case.pumps})
    running = [pump for pump in case.pumps if case.solution.regime_of(pump) != "stopped"]
    if any(case.ends(pump)[1].junction in joined for pump in running):
        return None
    return next((pump for pump in running if case.ends(pump)[0].junction in joined and not case.is_held(case.ends(pump)[0].junction)), None)


def backward_relief(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Pressure cannot leave by a relief valve that is the wrong way round."""
    for valve, over in _backwards(case).items():
        pump = _drawing_before(case, valve)
        if pump is not None:
            yield Finding("pump backwards", "stop", case.layout.title(pump), case.name,
                          f"draws from before {case.layout.title(valve)}, where a pump delivers, and pushes towards the tank: it is written backwards",
                          source="", hurt=ROOT, cure="swap the two ends of its run: from the tank, to what it feeds")
            continue
        yield Finding("relief backwards", "stop", case.layout.title(valve), case.name,
                      "{over} more stands at its outlet than at its inlet: it is written backwards and relieves nothing",
                      source="", hurt=ROOT, cure="write its run from the pressure side to the tank, so that the pressure side comes first",
                      numbers={"over": Quantity(over, "pressure_difference")})


def relief_setting(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A relief of engine oil set far above what engines, filters and coolers are made for: most often a slip of unit."""
    if not is_engine_oil(case.layout):
        return
    limit = limits.oil_relief_setting
    for valve in case.parts_of_kind("relief valve"):
        setting = max(case.number(f"{valve}.{name}", 0.0) for name in ("set_pressure", "second_set_pressure"))
        if setting > limit.si:
            yield Finding("relief setting", "stop" if setting > 2.0 * limit.si else "fix", case.layout.title(valve), case.name,
                          "opens at {value}, above {limit}: engine oil filters, coolers and seals are not made for it",
                          Quantity(setting, "pressure_difference"), limit, limits.source("oil_relief_setting"),
                          "check the number and its unit, bar or psi; else a weaker spring", hurt=setting / limit.si - 1.0)
