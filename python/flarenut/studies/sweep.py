"""`sweep`: one circuit over many values of its words."""

from __future__ import annotations

import json
import sys
import warnings
from collections.abc import Callable, Iterator, Sequence
from math import prod
from typing import TYPE_CHECKING, Any

from .. import __version__
from ..circuit import CircuitError, Vehicle
from ..circuit.cases import Case
from ..circuit.errors import meant
from ..units import in_one, settled
from .axes import read_axes
from .batches import NOT_REACHED, REFUSED
from .blueprint import copied, described
from .dataset import SYSTEMS, dataset_of, in_units, xarray
from .ends import MARGIN
from .face_alone import face_alone
from .jobs import job_of
from .ledger import Ledger
from .memory import refuse_too_much
from .numbers import refuse_rivals, refuse_said_twice
from .outputs import columns_of, default_names, probe_of, reading_of, with_limits, words_for
from .overdriven import in_words, overdriven
from .reviewed import NAMES, chosen_points, look_at, most_of
from .spread import solve_here, solve_with
from .variants import is_structural, variants_of
from .vehicle_sweep import refuse_what_is_for_circuits, sweep_vehicle

if TYPE_CHECKING:
    from concurrent.futures.process import ProcessPoolExecutor
    from xarray import Dataset
    from ..checks.limits import Limits
    from ..circuit.circuit import Circuit
    from .axes import Dimension
    from .jobs import Job
    from .variants import Variant
    from .numbers import Group
    from .axes import Vary


class SweepWarning(UserWarning):
    """A sweep that found no answer at all, with points that are refused, in which liquid boils, a pump has far too many volts, or a rated cooler's face varies
    by itself; or whose findings are not of all points."""


class SweepInterrupted(KeyboardInterrupt):
    """Ctrl-C during a sweep. `partial` is the Dataset with what was solved; the other points have the status "not reached"."""

    def __init__(self, partial: Dataset, done: int, count: int) -> None:
        super().__init__(f"stopped after {done:,} of {count:,} solves; what was solved is in .partial of this exception")
        self.partial = partial


def sweep(circuit: Circuit | Vehicle,
          vary: Vary | None = None,
          cases: str | Sequence[str] | None = None, outputs: str | Sequence[str] | None = None, *, samples: int | None = None,
          seed: int | None = None, sampling: str = "latin", findings: bool = False, limits: Limits | None = None, units: str = "si",
          threads: int = 0, progress: Callable[[int, int], object] | bool | None = None, executor: ProcessPoolExecutor | None = None) -> Dataset:
    """Solves a circuit at every combination of values, in every case; returns an xarray Dataset.

    Parameters
    ----------
    circuit : `Circuit`, which stays as it is; or `Vehicle`, solved point by point, some 20 a second, with names that begin with a circuit
        or exchanger: "coolant.radiator.face", "plate cooler.heat"
    vary : name -> values. A name is a word of a part ("return hose.size") or of a place ("cell.level"), a condition of a case
        ("volts"), a part to exchange ("pump"), or "fluid". Values are a list; a dict of label -> value; or `between(low, high)`.
        Several names in round brackets run along together, their values a list of rows
    cases : name of a case, or a list; all of the circuit unless given, "as written" where it has none
    outputs : names of readings, ["rail.gauge", "return hose.drop", "pump.flow", "pump.suction_margin", "regulator.regime"]; what
        the results table shows unless given
    samples : how many points are drawn for what is `between`, a whole number
    seed : whole number that makes a draw repeatable
    sampling : "latin" (hypercube), "sobol" or "plain"
    findings : True to hear what the checks find: `findings_stop` and `findings_fix`, how many there are at a point, and `worst_finding`. Each
        point is solved again by itself for it, some 100 a second; of more than 2,000 solved points so many are looked at, spread evenly,
        and the others have -1. A whole number in place of True says how many
    limits : `checks.Limits` of your own, for findings and for the limit that stands beside a suction margin
    units : "si", or "us" or "metric" for the units of results tables
    threads : how many; 0 for one on each core
    progress : function of (solves done, solves in all), or True for a line on the screen
    executor : anything with `submit`, such as a pool of processes

    Returns
    -------
    Dataset : swept names and "case" are dimensions, outputs are variables; `margin_to_boiling`, `status`, `iterations`, `residual`
        and `reason` always there

    Raises
    ------
    CircuitError : an unknown name, a value that nothing accepts, an answer too large for the memory
    ImportError : xarray is not installed
    SweepInterrupted : Ctrl-C; its `partial` is a Dataset too

    A sweep without a single answer, or with points that are refused, warns with a `SweepWarning`, and so does one with points where the
    liquid boils: where `margin_to_boiling` is not above zero the flows and pressures are not to be had. So does one that drives a pump far over the volts it was
    measured at, or varies the `face` of a rated cooler without its rating. More examples stand in docs/guide/sweeps.md.

    >>> import flarenut as fn
    >>> rinse = fn.Circuit("rinse line", fluid="water")
    >>> rinse.tank("drum", level="1 m")
    >>> rinse.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size", name="hose")])
    >>> answer = fn.sweep(rinse, {"hose.size": ["-6", "-8", "-10"]}, outputs="hose.flow")
    >>> answer["hose.flow"].dims, bool(answer["hose.flow"].diff("hose.size").min() > 0)
    (('hose.size', 'case'), True)
    """
    xarray()
    if units not in SYSTEMS:
        raise CircuitError(f"'units' is {units!r}", "write 'si', 'us' or 'metric'", place="sweep", key="units", value=units)
    if type(threads) is not int or threads < 0:
        raise CircuitError(f"'threads' is {threads!r}", "write a whole number; 0 takes one for each core", place="sweep", key="threads", value=threads)
    if executor is not None and not callable(getattr(executor, "submit", None)):
        raise CircuitError(f"'executor' is {executor!r}", "hand a pool with `submit`, such as concurrent.futures.ProcessPoolExecutor(4); "
                           "for cores of this process write 'threads'", place="sweep", key="executor", value=executor)
    if isinstance(circuit, Vehicle):
        refuse_what_is_for_circuits(findings, threads, executor, limits)
        return _of_vehicle(units, *sweep_vehicle(circuit, vary or {}, cases, outputs, samples, seed, sampling, units, _counted(progress)))
    most = most_of(findings)
    own = copied(circuit)
    dimensions, drawn = read_axes(own, vary or {}, samples, seed, sampling)
    swept = [axis.name for dimension in dimensions for axis in dimension.axes]
    refuse_rivals(own, swept)
    refuse_said_twice(own, swept)
    chosen = _cases(own, cases)
    structural = [one for one in dimensions if any(is_structural(own, axis) for axis in one.axes)]
    numeric = [one for one in dimensions if not any(one is other for other in structural)]
    labels = _labels(own, outputs, dimensions)
    refuse_too_much(prod(map(len, dimensions)), len(chosen), len(labels) - 1, Ledger.most_bytes(len(labels)))
    variants = variants_of(own, structural)
    kinds, totals = _kinds(own, variants, labels)
    ledger = Ledger(kinds, (len(variants), len(chosen), prod(map(len, numeric))))
    jobs = _jobs(variants, chosen, numeric, kinds, ledger, limits)
    notes = [*in_words(overdriven(jobs)), *face_alone(own, swept)]
    stopped = _solve(jobs, ledger, threads, progress, executor)
    if most and not stopped:
        points = chosen_points(ledger.status, most)
        stopped = look_at(points, variants, chosen, numeric, ledger, limits, _told(progress, len(points)))
        notes += _left_out(len(points), int((ledger.status == 0).sum()))
    attributes = {"title": f"sweep of {circuit.name}", "flarenut": __version__, "circuit": json.dumps(described(circuit), ensure_ascii=False),
                  "options": json.dumps({"samples": samples, "seed": seed, "sampling": drawn, "cases": [one.name for one in chosen]}),
                  "notes": json.dumps(notes, ensure_ascii=False), "shown_in": settled(None, circuit)}
    words = _in_words(labels, kinds, totals)
    answer = in_units(dataset_of(ledger, dimensions, structural, numeric, [one.name for one in chosen], words, attributes), units)
    if stopped:
        raise SweepInterrupted(answer, int((ledger.status != NOT_REACHED).sum()), ledger.status.size)
    return _warned(answer, ledger, notes, 3, units)


def _of_vehicle(units: str, answer: Dataset, ledger: Ledger, stopped: int | None) -> Dataset:
    if stopped is not None:
        raise SweepInterrupted(answer, stopped, ledger.status.size)
    return _warned(answer, ledger, json.loads(answer.attrs["notes"]), 4, units)


def _warned(answer: Dataset, ledger: Ledger, notes: Sequence[str], depth: int, units: str) -> Dataset:
    for words in [*notes, *_boiling(ledger), *_unanswered(ledger)]:
        warnings.warn(in_one(words, units), SweepWarning, stacklevel=depth)
    return answer


def _boiling(ledger: Ledger) -> Iterator[str]:
    if count := ledger.boiling():
        yield f"in {count:,} of {ledger.status.size:,} solves the liquid boils somewhere: their numbers are not to be had; see {MARGIN}"


def _unanswered(ledger: Ledger) -> Iterator[str]:
    solved, count = int((ledger.status == 0).sum()), ledger.status.size
    if solved == count:
        return
    reason, so_many = ledger.commonest()
    if not solved:
        yield f"none of {count:,} solves has an answer; {so_many:,} of them: {reason}"
    elif refused := int((ledger.status == REFUSED).sum()):
        reason, so_many = ledger.commonest(REFUSED)
        yield f"{refused:,} of {count:,} solves are refused and have no numbers; {so_many:,} of them: {reason}"


def _left_out(looked_at: int, solved: int) -> Iterator[str]:
    if looked_at < solved:
        yield f"findings are those of {looked_at:,} of {solved:,} solved points, spread evenly; findings={solved} looks at all"


def _cases(circuit: Circuit, cases: str | Sequence[str] | None) -> list[Case]:
    names = [cases] if isinstance(cases, str) else list(dict.fromkeys(cases or circuit.cases))
    for name in names:
        if name not in circuit.cases:
            raise CircuitError(f"there is no case '{name}'", meant(name, circuit.cases), place="sweep", key="cases", value=name)
    return [circuit.cases[name] for name in names] or [Case("as written")]


def _labels(circuit: Circuit, outputs: str | Sequence[str] | None, dimensions: Sequence[Dimension]) -> dict[str, str]:
    """Output -> words for people, or "" where they follow from its kind."""
    if outputs is None:
        shown = default_names(circuit.compiled())
        return {**{name: shown.get(name, "") for name in with_limits(shown)}, MARGIN: ""}
    names = [outputs] if isinstance(outputs, str) else list(outputs)
    taken = ["status", "iterations", "residual", "reason", *NAMES, *(axis.name for dimension in dimensions for axis in dimension.axes)]
    for name in names:
        if not isinstance(name, str) or name in taken:
            raise CircuitError(f"{name!r} is no output", 'outputs are names of readings, such as "rail.gauge"', place="sweep", key="outputs", value=name)
    return dict.fromkeys([*with_limits(names), MARGIN], "")


def _kinds(circuit: Circuit, variants: Sequence[Variant], labels: dict[str, str]) -> tuple[dict[str, str], dict[str, bool]]:
    """Kind of each output, and whether it is a pressure that is total. Raises `CircuitError` for a name that no variant has."""
    kinds, totals = dict[str, str](), dict[str, bool]()
    for compiled in [circuit.compiled(), *(variant.circuit.compiled() for variant in variants if variant.circuit is not None)]:
        missing = [name for name in labels if name not in kinds]
        if not missing:
            break
        found = columns_of(probe_of(compiled), compiled.plan, missing, ())[1]
        kinds |= {name: column.kind for name, column in found.items() if column is not None}
        totals |= {name: column.total for name, column in found.items() if column is not None}
    for name in labels:
        if name not in kinds:
            reader, _ = columns_of(probe_of(circuit.compiled()), circuit.plan, [], ())
            reading_of(reader, name)  # raises, with the nearest right name
    return {name: kinds[name] for name in labels}, totals


def _in_words(labels: dict[str, str], kinds: dict[str, str], totals: dict[str, bool]) -> dict[str, str]:
    return {name: label or words_for(name, kinds[name], totals[name]) for name, label in labels.items()}


def _jobs(variants: Sequence[Variant], cases: Sequence[Case], numeric: Sequence[Dimension], kinds: dict[str, str], ledger: Ledger,
          limits: Limits | None) -> list[Job]:
    """A job for each circuit and case that can be put into numbers. Raises for a case that no circuit accepts."""
    refusals: dict[int, list[ValueError]] = {}
    jobs: list[Job] = []
    for place, variant in enumerate(variants):
        known: dict[tuple[tuple[str, str | None], ...], Group] = {}
        for number, case in enumerate(cases):
            try:
                probe = probe_of(variant.plumbed.compiled())
                jobs.append(job_of(variant, case, place, number, numeric, list(kinds), probe, known, limits))
                ledger.refuse_some(jobs[-1])
            except ValueError as error:
                ledger.refuse(place, number, str(error))
                refusals.setdefault(number, []).append(error)
    for found in refusals.values():
        if len(found) == len(variants):
            raise found[-1]
    return jobs


def _solve(jobs: Sequence[Job], ledger: Ledger, threads: int, progress: Callable[[int, int], object] | bool | None, executor: ProcessPoolExecutor | None) -> bool:
    """True when it was stopped."""
    told = _told(progress, sum(job.count for job in jobs))
    try:
        if executor is None:
            return solve_here(jobs, ledger.put, threads, told)
        return solve_with(executor, jobs, ledger.put, threads, told)
    except KeyboardInterrupt:
        return True


def _told(progress: Callable[[int, int], object] | bool | None, count: int) -> Callable[..., Any] | None:
    """Function of the solves done so far, or None where nobody wants to know."""
    tell = _counted(progress)
    return None if tell is None else lambda done: tell(done, count)


def _counted(progress: Callable[[int, int], object] | bool | None) -> Callable[[int, int], object] | None:
    return _on_screen if progress is True else progress if progress and callable(progress) else None


def _on_screen(done: int, count: int) -> None:
    print(f"\r{done:,} of {count:,} solved", end="\n" if done >= count else "", file=sys.stderr, flush=True)
