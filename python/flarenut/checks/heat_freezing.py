"""Coolant or water that comes down to where ice forms in it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from flarenut.results import Finding
from flarenut.units import Quantity

from .reach import ROOT

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits

_AT_IT = 0.05  # [K] over the freezing point: there the answer's temperatures end, and a stream may have gone on below it


def ice(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Parts that a liquid leaves no warmer than its freezing point, of each liquid all of them in one finding."""
    found: dict[int, list[str]] = {}
    for part in case.part_names if case.finds_temperatures else ():
        which = case.layout.liquid_of.get(part, 0)
        liquid = case.layout.liquids[which]
        if liquid.freezes and min(end.temperature for end in case.ends(part)) <= liquid.outer_limit[0] + _AT_IT:
            found.setdefault(which, []).append(part)
    for which, parts in found.items():
        freezing = Quantity(case.layout.liquids[which].outer_limit[0], "temperature")
        yield Finding(
            "ice",
            "fix",
            ", ".join(case.layout.title(part) for part in parts),
            case.name,
            "the liquid here is as cold as {limit}, where ice begins to form in it: ice shuts the way and bursts what it fills",
            None,
            freezing,
            "its properties on file",
            "a coolant with more glycol, warmer air or a sleeve there, or a way through which warm liquid always passes",
            hurt=ROOT,
        )
