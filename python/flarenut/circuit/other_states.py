"""Other steady states of a case beside its answer, told by where they differ most.

Thick cold liquid shuts its own way: of two coolers side by side one may stand cold while the other takes all, and which of them depends on what went before.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from .errors import located

if TYPE_CHECKING:
    from .. import _core
    from .circuit import Circuit
    from ..results.engine import EngineSolution

_LEAST = 0.5  # [K]: less is no difference
_MOST_PLACES = 3


class Difference(NamedTuple):
    """A place or a part that is as warm here, and so warm there [K]."""

    where: str
    here: float
    there: float


def search_beside(plan: _core.Plan, solution: _core.Solution) -> tuple[tuple[_core.Solution, ...], str]:
    """Other steady states beside the solution that a plan has just found, at the numbers that it stands at; and the words of a search that failed."""
    if not (solution.converged and solution.finds_temperatures):
        return (), ""
    try:
        return tuple(plan.other_states()), ""
    except ValueError as error:
        return (), located(error, "").reason


def differences(circuit: Circuit, solution: EngineSolution,
                others: Sequence[EngineSolution]) -> tuple[tuple[Difference, ...], ...]:
    """A tuple of `Difference`s, the largest first, for each other steady state of a circuit."""
    found = (_differences(circuit, solution, other) for other in others)
    return tuple(one for one in found if one)


def _differences(circuit: Circuit, one: EngineSolution, other: EngineSolution) -> tuple[Difference, ...]:
    """Where two states differ: parts that pass heat on purpose by what leaves them, and named places; a part before the place behind it."""
    parts = [Difference(part, *(_leaving(state, part) for state in (one, other))) for part in one.part_names if _is_of_heat(circuit, part)]
    places = [Difference(name, *(float(state.temperature_of(name)) for state in (one, other))) for name, place in circuit.junctions.items()
              if not place.implied]
    telling = sorted((found for found in (*parts, *places) if abs(found.there - found.here) > _LEAST), key=lambda found: -abs(found.there - found.here))
    return tuple(telling[:_MOST_PLACES])


def _is_of_heat(circuit: Circuit, part: str) -> bool:
    compiled = circuit.compiled()
    if part not in compiled.elements:
        return False
    name, number = compiled.elements[part]
    return compiled.pieces[name].elements[number].heat is not None


def _leaving(state: EngineSolution, part: str) -> float:
    """Temperature of what leaves a part, whichever way it flows [K]."""
    ends = list(state.ends(part))
    return float((ends[-1] if ends[0].flow >= 0.0 else ends[0]).temperature)
