"""Pressure where a circuit feeds: which places those are, and what is left there in the case and at the place that have least to spare."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from ..checks.fuel_pressure import is_backward
from ..checks.reach import drawn_at, is_off
from ..checks.regulators import senses_itself
from ..checks.written import held_of, setting_of
from ..circuit import CircuitError
from ..circuit.errors import meant
from ..units import Quantity
from .line_cells import Cell

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..results.answer import Answer
    from ..results.case import CaseResult
    from .line_cells import Judge


def fed_places(circuit: Circuit, solved: Sequence[CaseResult], at: str | None) -> tuple[str, ...]:
    """Where pressure is read: as asked, where liquid is wanted, or where a regulator senses it; none where nothing says."""
    if at is not None:
        if at not in circuit.junctions:
            raise CircuitError(f"there is no place '{at}'", meant(at, circuit.junctions), place="line_sizes", key="at", value=at)
        return (at,)
    fed = [place for case in solved for place in _fed(case)]
    sensed = [case.layout.junction_title(case.layout.senses[one][0]) for case in solved for one in case.regulators if case.layout.senses.get(one)]
    return tuple(dict.fromkeys(fed)) or tuple(sensed[:1])


def _fed(case: CaseResult) -> list[str]:
    """Every place with injectors, and every one that is drawn from; that which is fed most comes first."""
    first = case.feed if case.injectors or case.demands else None
    places = [*(case.ends(bank)[0].junction for bank in case.injectors), *drawn_at(case)]
    return [*([first.stop] if first is not None else []), *(case.layout.junction_title(case.junction_names[place]) for place in places)]


def fed_pressure(judge: Judge, answer: Answer) -> Cell | None:
    """That which has least left to its limit; where nothing is limited, the least. Cases in which no pump runs are left out."""
    cases = [case for case in answer.values() if not is_off(case)] or list(answer.values())
    found = [cell for case in cases for place in judge.places for cell in _at_place(judge, case, place)]
    return min(found, key=_left_over, default=None)


def _left_over(cell: Cell) -> tuple[float, float, float]:
    """A share of what the limit allows, for pascals of a rail and of a float bowl do not compare. Above where a pressure is held all of
    that is left; there the limit that is nearer in pascals comes first."""
    return min(cell.tightness, 1.0), cell.left, cell.si


def _at_place(judge: Judge, case: CaseResult, place: str) -> Iterator[Cell]:
    """One for each limit there; one without where there is none."""
    value = case.at(place).gauge
    named = place if judge.places[1:] else ""
    spare = [] if is_off(case) else [*_of_regulators(judge, case, place), *_of_injectors(judge, case, place)]
    for left, allowed in spare:
        limit = Quantity(value.si - left, "pressure_gauge", ambient=value.ambient)
        yield Cell(value, case.name, limit, at_most=False, place=named, allowed=allowed)
    if not spare:
        yield Cell(value, case.name, at_most=False, place=named)


def _of_regulators(judge: Judge, case: CaseResult, place: str) -> Iterator[tuple[float, float]]:
    """How far each may still fall before it is said to fall short, and how far it may from where it opens [Pa]."""
    for regulator in _holding(case, place):
        setting, held = setting_of(case, regulator), held_of(case, regulator)
        if setting is not None and held is not None and not is_backward(case, regulator) and not senses_itself(case, regulator):
            droops = case.kind_of(regulator) == "reducing regulator" and case.solution.regime_of(regulator) == "regulating"
            share = judge.limits.reducing_shortfall if droops else judge.limits.regulator_shortfall
            allowed = share.si * setting.pressure
            yield held - setting.turns_at + allowed, allowed


def _of_injectors(judge: Judge, case: CaseResult, place: str) -> Iterator[tuple[float, float]]:
    """How far the pressure across injectors that are fed there may still fall before it is said to be too low, and how far it may from what
    they are rated at [Pa]."""
    for bank in case.injectors:
        rail, manifold = case.ends(bank)[:2]
        rated = case.number(f"{bank}.rated_pressure")
        here = case.layout.junction_title(case.junction_names[rail.junction]) == place
        if here and rated is not None and case.number(f"{bank}.duty", 0.0) > 0.0:
            least = judge.limits.injector_pressure_least.si
            yield rail.total - manifold.total - least * rated, abs(1.0 - least) * rated


def _holding(case: CaseResult, place: str) -> list[str]:
    """Regulators that sense a place; all where none is said to."""
    names = [name for name in case.junction_names if case.layout.junction_title(name) == place]
    sensing = [one for one in case.regulators if case.layout.senses.get(one, ("",))[0] in names]
    return sensing or case.regulators
