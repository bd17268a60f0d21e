"""Liquids that come to an end of what is known of them: coolant and water to where ice forms in them, others to where nobody can tell."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from flarenut.results import Finding
from flarenut.units import Quantity

from .reach import ROOT

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits

_AT_IT = 0.05  # [K] from the end: there the answer's temperatures stop, and a stream may have gone on beyond


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


def beyond_known(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Parts that a liquid leaves as hot, or of one without a freezing point as cold, as it is known for: it may be hotter or colder still."""
    for part in case.part_names if case.finds_temperatures else ():
        liquid = case.layout.liquids[case.layout.liquid_of.get(part, 0)]
        coldest, hottest = liquid.outer_limit
        leaving = [end.temperature for end in case.ends(part) if end.flow < 0.0]
        hot, cold = any(kelvin >= hottest - _AT_IT for kelvin in leaving), not liquid.freezes and any(kelvin <= coldest + _AT_IT for kelvin in leaving)
        if hot or cold:
            yield Finding("end of what is known", "fix", case.layout.title(part), case.name,
                          f"the liquid leaves as {'hot' if hot else 'cold'} as {{limit}}, where what is known of it ends: it may be "
                          f"{'hotter' if hot else 'colder'} still, and nothing here is judged beyond", None,
                          Quantity(hottest if hot else coldest, "temperature"), "its properties on file",
                          "more flow through it, or less heat into it" if hot else "less air on it, or a way round it while it is cold", hurt=1.0)
