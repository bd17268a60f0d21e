"""Rows of the table that are about heat: how warm it is where, and what gives off how much."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import nan
from typing import TYPE_CHECKING, Any, NamedTuple

from flarenut.units import Quantity

if TYPE_CHECKING:
    from .case import CaseResult
    from .engine import EngineEnd


_NOTHING = 0.5  # W; less is no row


def heat_sections(answer: Sequence[CaseResult] | Mapping[str, CaseResult]) -> list[tuple[str, list[tuple[str, str, Callable[..., Any]]]]]:
    """(heading, [(key, label, question)]) of an answer whose temperatures were found; nothing else asks."""
    cases = [case for case in (answer.values() if isinstance(answer, Mapping) else answer) if case.finds_temperatures]
    if not cases:
        return []
    return [("Temperatures", [*_places(cases[0]), *_ends(cases), *_boiling(cases[0])]), ("Heat", _heat(cases))]


class BoilingMargin(NamedTuple):
    """How far from boiling a liquid is where it is nearest to it."""

    where: str  # the part, in the builder's words
    kelvin: Quantity  # below the temperature at which it boils under the static pressure there
    pascal: Quantity  # above the vapour pressure at its temperature there
    temperature: Quantity


def boiling_margin(case: CaseResult) -> BoilingMargin | None:
    """`BoilingMargin` of a solved case; None for liquids without boiling data, as oils, and where they end below the pressure."""
    found = [one for part in case.part_names for end in case.ends(part) if (one := _margin_at(case, part, end)) is not None]
    return min(found, key=lambda one: one.kelvin.si, default=None)


def _margin_at(case: CaseResult, part: str, end: EngineEnd) -> BoilingMargin | None:
    place = case.layout.liquid_of.get(part, 0)
    liquid = case.layout.liquids[place] if place < len(case.layout.liquids) else None
    boils = liquid.boiling_temperature(end.static) if liquid is not None and hasattr(liquid, "boiling_temperature") and end.static > 0.0 else None
    if liquid is None or boils is None:
        return None
    vapour = liquid.at(end.temperature, end.static).vapour_pressure
    return BoilingMargin(case.layout.title(part), Quantity(boils - end.temperature, "temperature_difference"),
                         Quantity(end.static - vapour, "pressure_difference"), Quantity(end.temperature, "temperature"))


def _boiling(case: CaseResult) -> list[tuple[str, str, Callable[..., Any]]]:
    """Of coolant, how near it is to boiling."""
    if case.layout.family not in ("coolant", "water"):
        return []
    return [("boiling.margin", "least distance from boiling", lambda one: getattr(boiling_margin(one), "kelvin", None))]


def _places(case: CaseResult) -> list[tuple[str, str, Callable[..., Any]]]:
    return [(f"{case.layout.junction_title(name)}.temperature", case.layout.junction_title(name),
             lambda one, name=name: one.at(name).temperature) for name in case.layout.named if name != "ambient"]


def coolers_of(cases: Sequence[CaseResult]) -> list[str]:
    """Parts that are cooled or warmed on purpose, in the order of the circuit: all that pass heat but lines."""
    return [part for part in cases[0].part_names if cases[0].kind_of(part) != "line" and any(abs(_given_off(case, part)) > _NOTHING for case in cases)]


def _given_off(case: CaseResult, part: str) -> float:
    return -float(case.solution.heat_of(part)) if case.converged else 0.0


def _ends(cases: Sequence[CaseResult]) -> list[tuple[str, str, Callable[..., Any]]]:
    rows = []
    for part in coolers_of(cases):
        title = cases[0].layout.title(part)
        for side, word in ((0, "in"), (-1, "out")):
            rows.append((f"{title}.{word}", f"{title} {word}", lambda one, part=part, side=side: one.span([part], part).ends[side].temperature))
    return rows


def _heat(cases: Sequence[CaseResult]) -> list[tuple[str, str, Callable[..., Any]]]:
    first = cases[0]
    rows: list[tuple[str, str, Callable[..., Quantity | None]]] = []
    for part in coolers_of(cases):
        title = first.layout.title(part)
        rows.append((f"{title}.heat", f"{title}, heat given off", lambda one, part=part: Quantity(_given_off(one, part), "power")))
    lines = [part for part in first.part_names if first.kind_of(part) == "line"]
    if any(abs(sum(_given_off(case, part) for part in lines)) > _NOTHING for case in cases):
        rows.append(("lines.heat", "lines together, heat given off", lambda one: Quantity(sum(_given_off(one, part) for part in lines), "power")))
    for pump in first.pumps:
        if any(case.converged and case.solution.power_of(pump) > _NOTHING for case in cases):
            title = first.layout.title(pump)
            rows.append((f"{title}.power", f"{title}, power into the liquid", lambda one, pump=pump: Quantity(float(one.solution.power_of(pump)), "power")))
    for name in first.junction_names:
        if any(case.number(f"{name}.heat", 0.0) for case in cases):
            title = first.layout.junction_title(name)
            rows.append((f"{title}.heat", f"{title}, heat put in", lambda one, name=name: Quantity(one.number(f"{name}.heat", 0.0), "power")))
        if any(case.number(f"{name}.conductance", 0.0) for case in cases):
            title = first.layout.junction_title(name)
            rows.append((f"{title}.heat_lost", f"{title}, heat given off", lambda one, name=name: _lost(one, name)))
    return rows


def _lost(case: CaseResult, name: str) -> Quantity:
    difference = float(case.solution.temperature_of(name)) - case.number("air.temperature", nan)
    return Quantity(case.number(f"{name}.conductance", nan) * difference, "power")
