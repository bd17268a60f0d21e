"""Sizes that no vehicle has, though the engine takes them: an inch written for a millimetre, a foot for an inch. Asked about, never refused."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from flarenut.results import INJECTORS, REGULATORS, Finding
from flarenut.units import Quantity

from .reach import ROOT, joined
from .written import notes_of

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits

LINE, ORIFICES = "line", ("orifice", "short tube orifice")
# What hoses, tubes and galleries of a vehicle measure, widely drawn (judgement, no source). A jet is narrow and short, and is left alone.
_BORES = (2e-3, 60e-3)  # [m]
_WIDEST_JET = 25e-3  # [m]: what restricts is narrower than the lines about it (judgement, no source)
_JET = 50.0  # bores: a hole that is shorter may be as narrow as it likes
_CHOKES = 0.8  # of what the strongest pump lifts, lost in one line or jet before what it feeds: little comes by it (judgement)
_LONGEST = 50 * 0.3048  # [m], 50 ft: more than twice around a long car
_DEEPEST = 4 * 0.3048  # [m], 4 ft of liquid over a pick-up


def sizes(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Bores, lengths and levels that look like a unit that slipped."""
    if notes_of(case) is None:
        return
    choking = chokes(case)
    yield from (_choked(case, part) for part in choking)
    for part in case.parts_of_kind(LINE):
        bore, length = case.number(f"{part}.bore", 0.0), case.number(f"{part}.length", 0.0)
        title = case.layout.title(part)
        if part not in choking and bore < _BORES[0] and length > _JET * bore:
            yield _asked(case, title, "bore", bore, "narrower than", _BORES[0])
        elif bore > _BORES[1]:
            yield _asked(case, title, "bore", bore, "wider than", _BORES[1])
        if length > _LONGEST:
            yield _asked(case, title, "length", length, "longer than", _LONGEST)
    for jet in case.parts_of_kind(*ORIFICES):
        bore = case.number(f"{jet}.bore", 0.0)
        if bore > _WIDEST_JET:
            yield _asked(case, case.layout.title(jet), "bore", bore, "wider than", _WIDEST_JET)
    for place in case.junction_names:
        level = case.number(f"{place}.level", 0.0)
        if level > _DEEPEST:
            yield _asked(case, case.layout.junction_title(place), "level", level, "deeper than", _DEEPEST)


def chokes(case: CaseResult) -> list[str]:
    """Lines and jets of fuel narrower than any line, before injectors or a regulator, that spend by far the most of what a pump lifts."""
    lifts = [case.ends(pump)[1].total - case.ends(pump)[0].total for pump in case.pumps]
    if case.layout.family != "fuel" or not lifts or max(lifts) <= 0.0:
        return []
    return [part for part in case.parts_of_kind(LINE, *ORIFICES) if case.number(f"{part}.bore", 0.0) < _BORES[0]
            and case.ends(part)[0].total - case.ends(part)[1].total > _CHOKES * max(lifts) and _feeds(case, part)]


def _feeds(case: CaseResult, part: str) -> bool:
    """True where what passes a part goes on to injectors or a regulator, before any tank."""
    onward = joined(case, case.ends(part)[1].junction, {part, *case.pumps})[1]
    return any(case.kind_of(other) in (INJECTORS, *REGULATORS) for other in onward)


def _choked(case: CaseResult, part: str) -> Finding:
    before, behind = case.ends(part)[:2]
    size = case.number(f"{part}.bore", 0.0)
    return Finding("unusual size", "stop", case.layout.title(part), case.name,
                   "a bore of {size} ({other}) spends {value}, most of what the pump lifts, and little is left for what it feeds: "
                   "is its unit right?",
                   Quantity(before.total - behind.total, "pressure_difference"), source="", cure="check 'bore'", hurt=2.0 * ROOT,
                   numbers={"size": Quantity(size, "length"), "other": _Other(size)})


def _asked(case: CaseResult, where: str, word: str, size: float, beyond: str, usual: float) -> Finding:
    return Finding("unusual size", "watch", where, case.name, f"a {word} of {{size}} ({{other}}), {beyond} {{limit}}: is its unit right?",
                   limit=Quantity(usual, "length"), source="judgement, no source", cure=f"check '{word}'; if it is meant, all is well",
                   hurt=abs(size / usual - 1.0), numbers={"size": Quantity(size, "length"), "other": _Other(size)})


class _Other(float):
    """The size in the units that the table does not use: a slip between the two shows there."""

    def show(self, units: str) -> str:
        return Quantity(float(self), "length").show("metric" if units == "us" else "us")


def closed_ends(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Ends of runs that meet nothing, at a place that nobody named but the run: the engine takes them for closed.

    A closed end that is meant is a junction of its own; in a circuit file the loader asks before there is an answer.
    """
    if notes_of(case) is None:
        return
    for run, parts in case.layout.runs.items():
        for part, end in ((parts[0], case.ends(parts[0])[0]), (parts[-1], case.ends(parts[-1])[-1])):
            name = case.junction_names[end.junction]
            free, drawn = not case.is_held(end.junction), case.number(f"{name}.demand", 0.0)
            if free and not drawn and len(case.meeting(end.junction)) == 1 and name not in case.layout.named:
                yield Finding("closed end", "watch", run, case.name, f"nothing else meets at '{name}': it is a closed end, and no liquid passes it",
                              cure=f"check the name, or say what is drawn there; a closed end that is meant, such as a gauge line, is a "
                                   f"junction of its own, junction('{name}')")
