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

CURE = ("a thermostat or a bypass that leads cold oil past the cooler, oil warmed up first at low revs, or a cooler that resists less (wider passages, one in "
        "place of two side by side); a larger one, or more air, cools it no further; look whether a thermostat opens too early")


class Congealed(NamedTuple):
    """A cooler that stands full of thick cold oil."""

    part: str
    leaving: Quantity
    thicker: float  # times as thick as where it enters


def congealed(case: CaseResult) -> list[Congealed]:
    """Every `Congealed` cooler of a case, the coldest first."""
    air, found = case.number("air.temperature", nan), []
    for part in case.part_names if case.finds_temperatures else ():
        ends = case.ends(part)
        into, out = ends[:2] if ends[0].flow >= 0.0 else ends[1::-1]
        least = air + case.number(f"{part}.air_rise", 0.0)
        if len(ends) != 2 or into.temperature - out.temperature < _COOLED or not out.temperature - least < _NEAR:
            continue
        liquid = case.layout.liquids[case.layout.liquid_of.get(part, 0)]
        thicker = liquid.at(out.temperature, out.static).viscosity / liquid.at(into.temperature, into.static).viscosity
        if thicker > _THICKER:
            found.append(Congealed(part, Quantity(out.temperature, "temperature"), thicker))
    return sorted(found, key=lambda one: one.leaving.si)


def told_of(case: CaseResult, found: Sequence[Congealed]) -> tuple[str, dict[str, Quantity]]:
    """(words, numbers) to go with a finding of hot oil: "left coil leaves at {leaving} ..."; ("", {}) where no cooler is congealed."""
    if not found:
        return "", {}
    names = " and ".join(case.layout.title(one.part) for one in found)
    return (f"; oil leaves {names} at {{leaving}}, with the air at {{air}}, {found[0].thicker:.0f} times as thick as it comes in: hardly any passes",
            {"leaving": found[0].leaving, "air": Quantity(case.number("air.temperature", nan), "temperature")})
