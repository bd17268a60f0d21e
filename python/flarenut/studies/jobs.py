"""One compiled circuit in one case: which rows a sweep wants of it, and where their answers belong."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy

from ..circuit.errors import located
from .batches import Setting
from .blueprint import packed
from .numbers import DEMAND, banks_of, conditions_of, groups_of
from .outputs import columns_of

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from .. import _core
    from ..checks.limits import Limits
    from ..circuit.cases import Case
    from ..circuit.circuit import Circuit
    from ..results.case import CaseResult
    from .axes import Dimension
    from .ends import Column
    from .numbers import Group
    from .variants import Variant


@dataclass
class Job:
    """Rows of one circuit in one case. Points are numbered over the product of the number dimensions, the last the fastest."""

    circuit: Circuit
    variant: int
    case: int
    setting: Setting
    columns: dict[str, Column | None]  # output -> `ends.Column`, or None where this circuit does not have it
    shape: tuple[int, ...]
    groups: list[tuple[list[int], tuple[int, ...], NDArray[numpy.float64]]]  # (dimensions, shape, rows of varying numbers)
    demand: tuple[list[int], tuple[int, ...], NDArray[numpy.float64]] | None  # (dimensions, shape, rows of one column), or None
    refused: tuple[NDArray[numpy.int64], list[str]] | None = None  # (place in the list of reasons by point, -1 for none; reasons), or None
    points: numpy.ndarray | None = None  # those to solve; None for all
    count: int = 0

    def rows(self, start: int, stop: int) -> tuple[NDArray[numpy.int64], NDArray[numpy.float64], NDArray[numpy.float64] | None]:
        """Points from `start` to `stop` among those to solve, their varying numbers, and the demand by row or None."""
        points = numpy.arange(start, stop) if self.points is None else self.points[start:stop]
        places = numpy.unravel_index(points, self.shape) if self.shape else ()
        values = [rows[_combination(places, dimensions, shape, len(points))] for dimensions, shape, rows in self.groups]
        table = numpy.concatenate(values, axis=1) if values else numpy.empty((len(points), 0))
        demand = None
        if self.demand is not None:
            dimensions, shape, rows = self.demand
            demand = rows[_combination(places, dimensions, shape, len(points))][:, 0]
        return points, table, demand

    def packed(self) -> bytes:
        """The circuit as bytes."""
        return packed(self.circuit)


def _combination(places: tuple[NDArray[numpy.int64], ...], dimensions: Sequence[int], shape: tuple[int, ...],
                 count: int) -> NDArray[numpy.int64]:
    if not dimensions:
        return numpy.zeros(count, int)
    return numpy.ravel_multi_index([places[dimension] for dimension in dimensions], shape)


def job_of(variant: Variant, case: Case, place_of_variant: int, place_of_case: int, dimensions: Sequence[Dimension], outputs: Sequence[str],
           probe: CaseResult, known: dict[tuple[tuple[str, str | None], ...], Group], limits: Limits | None = None) -> Job:
    """The `Job` of a variant in a case; `known` as in `groups_of`, `limits` as in `columns_of`.

    Raises `CircuitError` naming the case or the axis, where a word is refused everywhere.
    """
    circuit, swept = variant.plumbed, {axis.name for dimension in dimensions for axis in dimension.axes}
    fixed = conditions_of(circuit, case, [*swept, *variant.words])
    fixed.update(variant.words)
    groups = list(groups_of(circuit, fixed, dimensions, f"case '{case.name}'", known))
    shape = tuple(len(dimension) for dimension in dimensions)
    still: dict[str, float] = {}
    columns: dict[str, dict[str, list[float]]] = {}
    varying: list[str] = []
    tables: list[tuple[list[int], tuple[int, ...], NDArray[numpy.float64]]] = []
    demand: tuple[list[int], tuple[int, ...], NDArray[numpy.float64]] | None = None
    base = circuit.compiled().base
    for group in groups:
        columns |= group.columns
        moving = _moving(group, base)
        for place, name in enumerate(group.names):
            if name == DEMAND:
                demand = group.dimensions, group.shape, group.rows[:, [place]]
            elif not moving[place]:
                still[name] = group.rows[group.first_good, place]
        places = [place for place, name in enumerate(group.names) if moving[place] and name != DEMAND]
        if places:
            varying += [group.names[place] for place in places]
            tables.append((group.dimensions, group.shape, numpy.ascontiguousarray(group.rows[:, places])))
    banks = banks_of(circuit.compiled()) if demand is not None else []
    plan = _standing(circuit, still, case)
    reader, read = columns_of(probe, plan, outputs, varying, limits)
    refused, points = _refused(groups, shape)
    count = int(numpy.prod(shape)) if points is None else len(points)
    setting = Setting(still, columns, varying, banks, list(reader.raw))
    return Job(circuit, place_of_variant, place_of_case, setting, read, shape, tables, demand, refused, points, count)


def _moving(group: Group, base: dict[str, float]) -> NDArray[numpy.bool_]:
    """Whether each number of a group goes into the rows: it differs between combinations, or is swept to one other value.

    What stands still is set before, and is the case's own; what the engine refuses in a row is told at its point.
    """
    good = group.rows[~numpy.isnan(group.rows).all(axis=1)] if group.refusals else group.rows
    moves: NDArray[numpy.bool_] = (good != good[0]).any(axis=0)
    if group.dimensions:
        moves |= good[0] != [base.get(name, numpy.nan) for name in group.names]
    return moves


def _standing(circuit: Circuit, still: Mapping[str, float], case: Case) -> _core.Plan:
    """The plan in the case, for the bores that stand still. What the engine refuses here is refused in every row."""
    plan = circuit.compiled().plan.copy()
    try:
        plan.set_many(still)
    except ValueError as error:
        raise located(error, "").at(f"case '{case.name}'") from None
    return plan


def _refused(groups: Sequence[Group], shape: tuple[int, ...]) -> tuple[tuple[NDArray[numpy.int64], list[str]] | None, NDArray[numpy.int64] | None]:
    """Which points have no row and why, see `Job.refused`, and the points that remain, or None when all do."""
    reasons: dict[str, int] = {}
    refused: NDArray[numpy.int64] | None = None
    for group in groups:
        if not group.refusals:
            continue
        which = numpy.full(int(numpy.prod(group.shape)), -1)
        for number, error in group.refusals.items():
            which[number] = reasons.setdefault(str(error), len(reasons))
        wide = [group.shape[group.dimensions.index(d)] if d in group.dimensions else 1 for d in range(len(shape))]
        here = numpy.broadcast_to(which.reshape(wide), shape).ravel()
        refused = here if refused is None else numpy.where(refused >= 0, refused, here)
    return (None, None) if refused is None else ((refused, list(reasons)), numpy.flatnonzero(refused < 0))
