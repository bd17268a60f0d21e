"""Batches of the engine: many rows of one compiled circuit in one case, here or in another process."""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeAlias

import numpy

from .blueprint import unpacked

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from .. import _core
    from ..circuit.compile import Compiled
    from .spread import _Progress

BLOCK = 16  # rows that the engine takes in one chain; batches are cut at multiples of it so that cutting changes no bit
NOT_CONVERGED, REFUSED, NOT_REACHED = 1, 2, 3
STATUS = ("solved", "not solved", "refused", "not reached")
_DEMAND_WITHIN, _MOST_DEMAND_TURNS = 1e-9, 40  # as a single case meets a demand
_MOST_KEPT = 8


@dataclass
class Setting:
    """What all rows of a case share: its numbers, its measured columns, which numbers vary, what is read."""

    still: dict[str, float]  # number of the plan -> value [SI]
    columns: dict[str, dict[str, list[float]]]  # part -> measured columns
    varying: list[str]  # numbers of the plan
    banks: list[str]  # injector banks whose duty meets the demand; empty where nothing is demanded
    raw: list[tuple[str, int, int]]  # (what, index, port) of every raw column


@dataclass
class Rows:
    """What a batch gives back, row by row."""

    values: NDArray[numpy.float64]
    status: NDArray[numpy.uint8]
    iterations: NDArray[numpy.int32]
    residual: NDArray[numpy.float64]
    reason: NDArray[numpy.int32]  # place in `reasons`, -1 when solved
    reasons: list[str] = field(default_factory=list)
    interrupted: bool = False
    seconds: float = 0.0


Asked: TypeAlias = "tuple[Setting, NDArray[numpy.float64], NDArray[numpy.float64] | None]"  # varying numbers by row, and the demand


def prepared(compiled: Compiled, setting: Setting) -> _core.Plan:
    """A plan that stands as the case has it; the circuit's own stays as it is."""
    plan = compiled.plan.copy()
    plan.set_many(setting.still)
    for part, columns in setting.columns.items():
        plan.set_columns(part, columns)
    return plan


def solve_rows(plan: _core.Plan, setting: Setting, values: NDArray[numpy.float64], demand: NDArray[numpy.float64] | None = None, *,
               threads: int = 0, progress: _Progress | None = None) -> Rows:
    """Solves rows of the varying numbers [SI]; `demand` is the fuel to be met [kg/s] by row, or None."""
    if demand is not None:
        return _meet_demand(plan, setting, values, demand, threads, progress)
    indices = [plan.index(name) for name in setting.varying]
    return _batch(plan, indices, values, setting.raw, threads, progress)


def _batch(plan: _core.Plan, indices: Sequence[int], values: NDArray[numpy.float64], raw: Sequence[tuple[str, int, int]], threads: int,
           progress: _Progress | None) -> Rows:
    if not indices:  # one number as it stands, so that rows have a column
        indices, values = [0], numpy.full((len(values), 1), plan.get(0))
    found = plan.batch(indices, numpy.ascontiguousarray(values), raw, threads=threads, block=BLOCK, progress=progress)
    return Rows(**{name: found[name] for name in ("values", "status", "iterations", "residual", "reason", "reasons", "interrupted", "seconds")})


def _meet_demand(plan: _core.Plan, setting: Setting, values: NDArray[numpy.float64], demand: NDArray[numpy.float64], threads: int,
                 progress: _Progress | None) -> Rows:
    """Corrects every row's duty until the injectors pass the fuel asked for; see `circuit.cases`.

    A row's answer is kept from the turn in which it is met. Blocks go on whole while any row of theirs is open, so that an
    answer depends on its block alone.
    """
    count, flows = len(values), [("end_flow", plan.part_index(bank), 0) for bank in setting.banks]
    indices = [plan.index(name) for name in setting.varying] + [plan.index(f"{bank}.duty") for bank in setting.banks]
    duty, open_rows = numpy.full(count, 0.5), numpy.ones(count, bool)
    kept: Rows | None = None
    for turn in range(_MOST_DEMAND_TURNS):
        active = _whole_blocks(open_rows)
        table = numpy.column_stack([values[active], *[duty[active]] * len(setting.banks)])
        found = _batch(plan, indices, table, [*setting.raw, *flows], threads, progress)
        kept = _kept(kept, found, active, open_rows, len(setting.raw))
        if found.interrupted:
            _not_reached(kept, open_rows)
            break
        flow = found.values[:, len(setting.raw):].sum(axis=1)
        with numpy.errstate(invalid="ignore", divide="ignore"):
            met = (found.status != 0) | (flow <= 0.0) | (numpy.abs(flow - demand[active]) <= _DEMAND_WITHIN * demand[active])
            met |= (duty[active] == 1.0) & (flow < demand[active])
            better = numpy.minimum(1.0, duty[active] * demand[active] / flow)
        going = active[~met & open_rows[active]]
        open_rows[:] = False
        open_rows[going] = True
        duty[going] = better[~met & numpy.isin(active, going)]
        if not len(going):
            break
    assert kept is not None, "there is a first turn"
    return kept


def _whole_blocks(open_rows: NDArray[numpy.bool_]) -> NDArray[numpy.int64]:
    """Rows of all blocks in which any row is open."""
    starts = numpy.flatnonzero(numpy.logical_or.reduceat(open_rows, range(0, len(open_rows), BLOCK))) * BLOCK
    return numpy.concatenate([numpy.arange(start, min(start + BLOCK, len(open_rows))) for start in starts.tolist()])


def _kept(kept: Rows | None, found: Rows, active: NDArray[numpy.int64], open_rows: NDArray[numpy.bool_], raw_count: int) -> Rows:
    fresh = open_rows[active]
    if kept is None:
        return Rows(found.values[:, :raw_count].copy(), found.status, found.iterations, found.residual, found.reason, found.reasons,
                    found.interrupted, found.seconds)
    rows = active[fresh]
    kept.values[rows] = found.values[fresh, :raw_count]
    kept.status[rows], kept.residual[rows] = found.status[fresh], found.residual[fresh]
    kept.iterations[rows] += found.iterations[fresh]
    kept.reason[rows] = numpy.where(found.reason[fresh] < 0, -1, found.reason[fresh] + len(kept.reasons))
    kept.reasons = [*kept.reasons, *found.reasons]
    kept.interrupted |= found.interrupted
    kept.seconds += found.seconds
    return kept


def _not_reached(kept: Rows, open_rows: NDArray[numpy.bool_]) -> None:
    rows = open_rows & (kept.status == 0)
    kept.status[rows] = NOT_REACHED
    kept.values[rows] = kept.residual[rows] = numpy.nan
    kept.reason[rows] = len(kept.reasons)
    kept.reasons = [*kept.reasons, "stopped before it was reached"]


# ---- in another process ----

_plans: OrderedDict[bytes, Compiled] = OrderedDict()  # hash of circuit -> compiled, of the last few


def solve_elsewhere(version: str, circuits: Sequence[tuple[bytes, Sequence[Asked]]], threads: int) -> list[Rows]:
    """Solves pieces of a sweep in a worker: of each circuit, as `packed` bytes, a list of (`Setting`, values, demand)."""
    from .. import __version__

    if version != __version__:
        raise RuntimeError(f"the worker runs flarenut {__version__}, the sweep {version}: install the same on both")
    return [solve_rows(prepared(_compiled(data), setting), setting, values, demand, threads=threads)
            for data, pieces in circuits for setting, values, demand in pieces]


def _compiled(data: bytes) -> Compiled:
    key = hashlib.sha256(data).digest()
    if key not in _plans:
        _plans[key] = unpacked(data).compiled()
        while len(_plans) > _MOST_KEPT:
            _plans.popitem(last=False)
    _plans.move_to_end(key)
    found: Compiled = _plans[key]
    return found
