"""Checks on how a circuit is put together for its heat: liquid that finds no way back, thermostats in each other's place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import nan
from typing import TYPE_CHECKING

from flarenut.circuit.heat_hints import asked_unit
from flarenut.results import Finding
from flarenut.units import Quantity

from .limits import hottest_for
from .reach import ROOT
from .written import notes_of

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits

_NEARLY = 0.3  # of one thermostat wide open: less is as good as shut, and within it of two both stand open (judgement)
_SHARE = 0.01  # of what pumps move: a drip is no leak in a circuit


def no_way_back(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Liquid of a loop that runs out where nothing says that it falls back: its heat is lost with it, and the tank would empty."""
    notes = notes_of(case)
    places = notes.no_way_back if notes and case.finds_temperatures else ()
    out = {name: -sum(end.flow for _, end in case.meeting(case.junction_names.index(name))) for name in places}
    moved = sum(abs(case.ends(pump)[1].flow) for pump in case.pumps)
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


def thermostats_apart(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A thermostat and the one that shuts the way beside it, whose ranges lie so far apart that between them both ways are nearly shut, or both open."""
    notes = notes_of(case)
    for pair in notes.thermostat_pairs if notes and case.finds_temperatures else ():
        ranges = {one: tuple(case.number(f"{one}.{end}_temperature", nan) for end in ("start", "full")) for one in (pair.opens, pair.shuts)}
        bleed, corners = case.number(f"{pair.opens}.bleed", 0.0), sorted(kelvin for ends in ranges.values() for kelvin in ends)

        def apart(kelvin: float) -> float | None:
            """How much of both stands open, of 2; None where it is about one of them, as it should."""
            both = _travelled(kelvin, ranges[pair.opens], bleed) + 1.0 - _travelled(kelvin, ranges[pair.shuts])
            return None if _NEARLY <= both <= 2.0 - _NEARLY else both

        worst = [both for kelvin in corners if (both := apart(kelvin)) is not None]
        if not worst:
            continue
        shut = min(worst) < _NEARLY
        between = Quantity(0.5 * (corners[1] + corners[2]), "temperature")
        felt = float(case.solution.temperature_of(pair.feels)) if pair.feels in case.junction_names else case.ends(pair.shuts)[0].temperature
        here = ", as here" if apart(felt) is not None else ""
        opens, shuts = case.layout.title(pair.opens), case.layout.title(pair.shuts)
        numbers = {f"{word} {end}": Quantity(kelvin, "temperature") for word, one in (("opens", pair.opens), ("shuts", pair.shuts))
                   for end, kelvin in zip(("from", "to"), ranges[one])}
        yield Finding("thermostats apart", "fix" if here and shut else "watch", f"{opens}, {shuts}", case.name,
                      f"{opens} opens from {{opens from}} to {{opens to}}, and {shuts} shuts from {{shuts from}} to {{shuts to}}: between them, at about "
                      f"{{value}}{here}, both ways are " + ("nearly shut" if shut else "open, and what goes round is not cooled"), between, source="",
                      cure="give both the same temperatures, 'opens' and 'full'", numbers=numbers)


def _travelled(kelvin: float, ends: Sequence[float], bleed: float = 0.0) -> float:
    """Share of its area that a thermostat has opened, or its fellow shut."""
    start, full = ends
    return max(bleed, min(max((kelvin - start) / max(full - start, 1e-9), 0.0), 1.0))


def opens_too_hot(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A thermostat that begins to open where its liquid is at its end."""
    hottest = hottest_for(case.layout, limits)
    if hottest is None or not case.finds_temperatures:
        return
    for part in case.parts_of_kind("thermostat"):
        opens = case.number(f"{part}.start_temperature", nan)
        if opens > hottest.si:
            yield Finding("thermostat opens too hot", "fix", case.layout.title(part), case.name,
                          f"begins to open at {{value}}, above {{limit}}, where its liquid is at its end: it stays shut{asked_unit(opens)}",
                          Quantity(opens, "temperature"), hottest, source="judgement, no source", cure="check the unit of 'opens'", hurt=ROOT)
