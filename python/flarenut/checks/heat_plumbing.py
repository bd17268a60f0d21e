"""Checks on how a circuit is put together for its heat: liquid that finds no way back, thermostats in each other's place."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from flarenut.results import Finding
from flarenut.units import Quantity

from .reach import ROOT
from .written import notes_of

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits

_SHARE = 0.01  # of what pumps move: a drip is no leak in a circuit


def no_way_back(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Liquid of a loop that runs out where nothing says that it falls back: its heat is lost with it, and the tank would empty."""
    notes = notes_of(case)
    places = notes.no_way_back if notes and case.finds_temperatures else ()
    out = {name: -sum(end.flow for _, end in case.meeting(case.junction_names.index(name))) for name in places}
    moved = sum(abs(case.ends(pump)[-1].flow) for pump in case.pumps)
    lost = {name: flow for name, flow in out.items() if flow > _SHARE * moved > 0.0}
    if not lost or sum(out.values()) <= _SHARE * moved:
        return  # as much comes in elsewhere: no loop
    most = max(lost, key=lost.__getitem__)
    part = max(case.meeting(case.junction_names.index(most)), key=lambda pair: -pair[1].flow)[0]
    named = case.layout.junction_title(most)
    cure = 'lead it to a fixed place of its own that says drains_to = "sump"' if most == "ambient" or case.number(f"{most}.demand") is not None else \
        f'say drains_to = "sump", the tank it falls back into, of [fixed.{named}]'
    yield Finding("no way back", "fix", named, case.name,
                  "{value} runs out here for good: it takes its heat along, the tank would empty, and temperatures are those of a circuit that leaks",
                  Quantity(sum(lost.values()) / case.liquid_in(part)["density"], "volume_flow"), source="", cure=cure, hurt=ROOT)


def thermostats_exchanged(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A thermostat in the way round a cooler, and the one that shuts with heat in the way through it."""
    notes = notes_of(case)
    for one in notes.swapped_thermostats if notes and case.finds_temperatures else ():
        yield Finding("thermostats exchanged", "fix", one.shuts, case.name,
                      f"shuts the way through {one.cooler} as it gets hot, and {one.opens} opens the way round it: cold liquid goes through the cooler, "
                      "hot liquid past it", source="", cure="thermostat in the way of the cooler, bypass_thermostat in the way round it", hurt=ROOT)
