"""Checks on answers that are not the only ones: a circuit that can stand still in more than one way."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, TypeAlias

from flarenut.results import Finding
from flarenut.units import Quantity

from .written import notes_of

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits
    from ..circuit.other_states import Difference

_SAME = 0.5  # [K]: no difference between a state and its mirror image
_WHOLE = 50.0  # [K] between two states that counts as once beyond: ranks them, no more


FOLLOW = "; a drive over time tells how soon it gets there (flarenut.over_time, with the tank's heat_capacity)"
_LEAST_HEAT = 20.0  # [W]: less warms nothing to speak of


def settles_there(case: CaseResult, tank: str) -> tuple[str, dict[str, Quantity]]:
    """(words, numbers) on a tank whose temperature was found: that it is where it settles in the end, and what warms it; ("", {}) of a moment, or where
    it was given."""
    notes = notes_of(case)
    if not (notes and case.finds_temperatures and notes.steady and tank in notes.mixing):
        return "", {}
    warms = {case.layout.title(pump): float(case.solution.power_of(pump)) for pump in case.pumps}
    warms |= {case.layout.junction_title(name): case.number(f"{name}.heat", 0.0) for name in case.junction_names}
    warms |= {case.layout.title(part): float(case.solution.heat_of(part)) for part in case.parts_of_kind("line")}
    most = sorted(warms.values(), reverse=True)[:3][-1]
    sources = [name for name, heat in warms.items() if heat >= max(most, _LEAST_HEAT)][:3]
    told = ", ".join(f"{name} {{heat {place}}}" for place, name in enumerate(sources))
    return (f"; it is the steady state, which may take hours to come{f', and what warms it is {told}' if told else ''}",
            {f"heat {place}": Quantity(warms[name], "power") for place, name in enumerate(sources)})


def not_searched(case: CaseResult, limits: Limits) -> Iterator[object]:
    """Other steady states were asked for, and the search for them failed; the answer stands."""
    notes = notes_of(case)
    if notes and notes.not_searched:
        yield Finding("other states not searched", "note", "", case.name,
                      f"the answer stands, but whether there is a second steady state could not be looked for: {notes.not_searched}", source="",
                      cure="take it as one of perhaps several states")


State: TypeAlias = "tuple[Difference, ...]"


def second_state(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Each other steady state beside the answer, by where it differs most; one in which only names change places is told with the one that it mirrors.
    The solver looked for them around its answer."""
    notes = notes_of(case)
    for differences, mirrors in _mirrored(notes.other_states if notes and case.finds_temperatures else ()):
        names = [case.layout.title(one.where) for one in differences]
        numbers: dict[str, Quantity] = {}
        told = []
        for place, (name, one) in enumerate(zip(names, differences)):
            numbers |= {f"here {place}": Quantity(one.here, "temperature"), f"there {place}": Quantity(one.there, "temperature")}
            told.append(f"{name} {{there {place}}} in place of {{here {place}}}")
        exchanged = [case.layout.title(one.where) for number, one in enumerate(differences) if any(one.where != other[number].where for other in mirrors)]
        mirror = f", and its mirror image with {' and '.join(exchanged)} exchanged" if mirrors else ""
        yield Finding("second steady state", "watch", ", ".join(names), case.name,
                      f"a second steady state: {', '.join(told)}{mirror}; which one you get depends on how it was warmed up (found by the solver's own search)",
                      source="", numbers=numbers, hurt=abs(differences[0].there - differences[0].here) / _WHOLE,
                      cure="one cooler in place of two side by side, a wider core, a thermostat that keeps cold liquid out")


def _mirrored(states: tuple[State, ...]) -> list[tuple[State, list[State]]]:
    """(differences of a state, those of its mirrors): the same numbers at the same parts in another order."""
    found: list[tuple[State, list[State]]] = []
    for state in states:
        for first, mirrors in found:
            if {one.where for one in first} == {one.where for one in state} and all(
                    abs(one.here - other.here) < _SAME and abs(one.there - other.there) < _SAME for one, other in zip(first, state)):
                mirrors.append(state)
                break
        else:
            found.append((state, []))
    return found
