"""Coolers whose oil has thickened in them until next to none passes: it leaves as cold as the air, and more area cools no more of it."""

from __future__ import annotations

from collections.abc import Sequence
from math import nan
from typing import TYPE_CHECKING, NamedTuple

from flarenut.units import Quantity

if TYPE_CHECKING:
    from ..results.case import CaseResult

_NEAR = 10.0  # [K] over its air: what leaves there can be cooled no further (judgement)
_COOLED = 40.0  # [K] from where it enters (judgement)
_THICKER = 5.0  # times as thick where it leaves: at the same pressure about as much less flow (judgement)

CURE = (
    "a thermostat or a bypass that leads cold oil past the cooler, oil warmed up first at low revs, or a cooler that resists less (wider passages, one in "
    "place of two side by side); a larger one, or more air, cools it no further; look whether a thermostat opens too early"
)


class Congealed(NamedTuple):
    """A cooler, and how it leaves the oil that passes it."""

    part: str
    leaving: Quantity
    thicker: float  # times as thick as where it enters
    cooled: float  # [K] from where it enters


def congealed(case: CaseResult) -> list[Congealed]:
    """Every `Congealed` cooler of a case, the coldest first."""
    air, found = case.number("air.temperature", nan), []
    for part in case.part_names if case.finds_temperatures else ():
        least = air + case.number(f"{part}.air_rise", 0.0)
        one = leaves_thicker(case, part)
        if one is not None and one.cooled >= _COOLED and one.leaving.si - least < _NEAR and one.thicker > _THICKER:
            found.append(one)
    return sorted(found, key=lambda one: one.leaving.si)


def leaves_thicker(case: CaseResult, part: str) -> Congealed | None:
    """How a part of two ends leaves the liquid that passes it; None of others."""
    ends = case.ends(part)
    if len(ends) != 2:
        return None
    into, out = ends if ends[0].flow >= 0.0 else ends[::-1]
    liquid = case.layout.liquids[case.layout.liquid_of.get(part, 0)]
    thicker = liquid.at(out.temperature, out.static).viscosity / liquid.at(into.temperature, into.static).viscosity
    return Congealed(part, Quantity(out.temperature, "temperature"), thicker, into.temperature - out.temperature)


def told_of(case: CaseResult, found: Sequence[Congealed]) -> tuple[str, dict[str, Quantity]]:
    """(words, numbers) to go with a finding of hot oil: "; oil leaves left coil at {leaving} ..."; ("", {}) of none."""
    if not found:
        return "", {}
    names = " and ".join(case.layout.title(one.part) for one in found)
    times = f"{found[0].thicker:.0f}" if found[0].thicker >= 10.0 else f"{found[0].thicker:.1f}"
    return (f"; oil leaves {names} at {{leaving}}, with the air at {{air}}, {times} times as thick as it comes in",
            {"leaving": found[0].leaving, "air": Quantity(case.number("air.temperature", nan), "temperature")})
