"""Checks on what nobody said of heat, or said to no effect: the air, a `fluid_temperature`, lines that hardly anything passes at a start."""

from __future__ import annotations

from collections.abc import Iterator
from math import nan
from typing import TYPE_CHECKING

from flarenut.results import Finding
from flarenut.units import Quantity

from .written import notes_of

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from ..results.engine import EngineEnd
    from .limits import Limits

_LEAST_HEAT = 20.0  # [W]: less does not matter
_MOST_NAMES = 3
_WARMED = 5.0  # [K] that the air around warms what creeps through a line


def air_temperature_unsaid(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Heat goes to air, or comes from it, whose temperature nobody said: a preset decides how warm all gets."""
    notes = notes_of(case)
    names = notes.by_unsaid_air if notes and case.finds_temperatures else ()
    if not names:
        return
    air = case.number("air.temperature", nan)
    moved = sum(abs(float(case.solution.heat_of(name))) if name in case.part_names else _lost(case, name, air) for name in names)
    titles = list(dict.fromkeys(case.layout.title(name) for name in names))
    told = ", ".join(titles[:_MOST_NAMES]) + (f" and {len(titles) - _MOST_NAMES} more" if len(titles) > _MOST_NAMES else "")
    yield Finding("air temperature unsaid", "watch" if moved > _LEAST_HEAT else "note", "", case.name,
                  f"nobody said how warm the air is, and {{value}} is taken for it; {told} {'go' if len(titles) > 1 else 'goes'} by it, {{moved}} in all",
                  Quantity(air, "temperature"), source="", cure='say air_temperature = "95 F" of the circuit, or of the case: the hottest day decides',
                  hurt=moved / 1e3, numbers={"moved": Quantity(moved, "power")})


def _lost(case: CaseResult, name: str, air: float) -> float:
    return abs(case.number(f"{name}.conductance", 0.0) * (float(case.solution.temperature_of(name)) - air))


def fluid_temperature_idle(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A case says how warm the liquid is everywhere, and that is found."""
    notes = notes_of(case)
    if not (notes and case.finds_temperatures and notes.steady and notes.fluid_temperature_idle and "fluid_temperature" in case.conditions):
        return
    tank = next(iter((*notes.mixing, *notes.moment)), None)
    said = case.conditions["fluid_temperature"]
    own = f'say "{tank}.temperature" = "{said}" for a moment at which the tank is as warm as that; or' if tank else "leave it out; or"
    yield Finding("fluid temperature without effect", "watch", "", case.name,
                  "says a fluid_temperature, and it moves nothing: temperatures are found with pressures and flows",
                  source="", cure=f'{own} solve(temperatures="given") holds the liquid everywhere at it')


def settled_by_air(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A case is a moment, as it gives a tank its temperature, and lines that hardly anything passes are shown as the air around warms them in the end."""
    notes = notes_of(case)
    if not (notes and case.finds_temperatures and notes.steady and notes.moment):
        return
    warmed: dict[str, list[EngineEnd]] = {}
    stood = max(case.number(f"{name}.temperature", nan) for name in notes.moment)
    for part in case.parts_of_kind("line"):
        ends = sorted(case.ends(part)[:2], key=lambda end: -end.flow)  # in, out
        if ends[1].temperature > stood + _WARMED and ends[1].temperature > ends[0].temperature + _WARMED:
            warmed[part] = ends
    if not warmed:
        return
    most = max(warmed, key=lambda part: warmed[part][1].temperature - warmed[part][0].temperature)
    also = ", ".join(dict.fromkeys(case.layout.title(part) for part in warmed if part != most))
    into, out = (Quantity(end.temperature, "temperature") for end in warmed[most])
    yield Finding("settled by the air", "note", case.layout.title(most), case.name,
                  f"hardly anything passes it, and it leaves with {{value}} where it comes in with {{into}}{f'; also {also}' if also else ''}: so the air around "
                  "makes it in the end, and the case is a moment, at which what stands there is as cold as it stood overnight", out, source="",
                  cure=f'at a start nothing around is warm: "{case.layout.title(most)}.air_rise" = "0 K" in the case', numbers={"into": into})
