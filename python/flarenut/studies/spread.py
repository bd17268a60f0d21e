"""A sweep in pieces on other processes or machines: anything with `submit` takes them."""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from itertools import groupby
from time import perf_counter
from typing import TYPE_CHECKING, Any

from .batches import BLOCK, prepared, solve_elsewhere, solve_rows

if TYPE_CHECKING:
    from concurrent.futures.process import ProcessPoolExecutor
    from .. import _core
    from .batches import Asked
    from .jobs import Job
    from concurrent.futures import Future
    from .batches import Rows

CHUNK = 2048 * BLOCK  # rows handed to the engine at once here, those before still being written: keeps the memory of inputs small
SHARED_CHUNK = 256 * BLOCK  # where cases take turns
_WANTED, _TRIAL = 0.2, 16 * BLOCK  # seconds of work in a task, well above 50 ms; rows by which the speed is found
_MOST_WAITING = 256  # tasks handed out and not yet fetched


@dataclass
class Task:
    """Pieces of jobs that one worker takes together."""

    pieces: list[tuple[Job, int, int]] = field(default_factory=list)  # (job, start, stop)

    @property
    def count(self) -> int:
        return sum(stop - start for _, start, stop in self.pieces)


class _Progress:
    """Tells how far a sweep is. Ctrl-C while it tells is kept until the batch under way has given its answers."""

    def __init__(self, tell: Callable[..., Any]) -> None:
        self.tell, self.before, self.stopped = tell, 0, False

    def __call__(self, done: int, _: int | None = None) -> None:
        try:
            if not self.stopped:
                self.tell(self.before + done)
        except KeyboardInterrupt:
            self.stopped = True


def solve_here(jobs: Sequence[Job | _Part], put: Callable[..., Any], threads: int, tell: Callable[..., Any] | None) -> bool:
    """Solves all jobs in this process; True when it was stopped. `put(job, points, rows)` takes the answers, while the next rows are solved."""
    progress = None if tell is None else _Progress(tell)
    with ThreadPoolExecutor(1) as writer:  # leaves when all that was handed to it is written, however it is left
        written: Future[Any] | None = None
        for job, plan, start, stop in _pieces(jobs):
            points, values, demand = job.rows(start, stop)
            rows = solve_rows(plan, job.setting, values, demand, threads=threads, progress=progress)
            before, written = written, writer.submit(put, job, points, rows)
            if before is not None:
                before.result()
            if rows.interrupted or (progress and progress.stopped):
                written.result()
                return True
            if progress:
                progress.before += len(points)
        if written is not None:
            written.result()
    return False


def _pieces(jobs: Sequence[Job | _Part]) -> Iterator[tuple[Job | _Part, _core.Plan, int, int]]:
    """Those of `_in_turn`, one circuit after the other."""
    for _, group in groupby(jobs, key=lambda job: job.variant):
        yield from _in_turn(list(group))


def _in_turn(jobs: Sequence[Job | _Part]) -> Iterator[tuple[Job | _Part, _core.Plan, int, int]]:
    """(job, plan, start, stop) of the cases of one circuit, a piece of each in turn, so that a sweep that is stopped has whole points."""
    plans = [prepared(job.circuit.compiled(), job.setting) for job in jobs]
    size = CHUNK if len(jobs) == 1 else SHARED_CHUNK
    for start in range(0, max(job.count for job in jobs), size):
        for job, plan in zip(jobs, plans):
            if start < job.count:
                yield job, plan, start, min(start + size, job.count)


def solve_with(executor: ProcessPoolExecutor, jobs: Sequence[Job], put: Callable[..., Any], threads: int, progress: Callable[[int], object] | None) -> bool:
    """Solves all jobs by what has `submit`; True when it was stopped.

    Pieces begin at multiples of the engine's block, so that the answers are those of one process to the bit.
    """
    first = next((job for job in jobs if job.count), None)
    if first is None:
        return False
    trial = min(_TRIAL, first.count)
    begin = perf_counter()
    if solve_here([_Part(first, trial)], put, threads or 1, None):
        return True
    per_row = (perf_counter() - begin) / trial
    size = max(1, math.ceil(_WANTED / per_row / BLOCK)) * BLOCK
    waiting: deque[tuple[Task, Future[list[Rows]]]] = deque()
    done = trial
    bytes_of: dict[int, bytes] = {}
    try:
        for task in _tasks(jobs, size, first, trial):
            waiting.append((task, executor.submit(solve_elsewhere, *_sent(task, bytes_of, threads or 1))))
            if len(waiting) >= _MOST_WAITING:
                done += _fetch(waiting, put, progress, done)
        while waiting:
            done += _fetch(waiting, put, progress, done)
    except KeyboardInterrupt:
        return True
    finally:
        for _, future in waiting:
            future.cancel()
    return False


class _Part:
    """The first rows of a job."""

    def __init__(self, job: Job, count: int) -> None:
        self.job, self.count = job, count

    def __getattr__(self, name: str) -> Any:
        return getattr(self.job, name)


def _tasks(jobs: Sequence[Job], size: int, first: Job, begun: int) -> Iterator[Task]:
    """Tasks of about `size` rows each; small jobs share one."""
    task = Task()
    for job in jobs:
        start = begun if job is first else 0
        while start < job.count:
            stop = min(job.count, start + size - task.count // BLOCK * BLOCK)
            task.pieces.append((job, start, stop))
            start = stop
            if task.count > size - BLOCK:
                yield task
                task = Task()
    if task.pieces:
        yield task


def _sent(task: Task, bytes_of: dict[int, bytes], threads: int) -> tuple[str, Sequence[tuple[bytes, Sequence[Asked]]], int]:
    from .. import __version__

    circuits = []
    for pieces in _by_circuit(task):
        first = pieces[0][0]
        if first.variant not in bytes_of:
            bytes_of[first.variant] = first.packed()
        circuits.append((bytes_of[first.variant], [(job.setting, *job.rows(start, stop)[1:]) for job, start, stop in pieces]))
    return __version__, circuits, threads


def _by_circuit(task: Task) -> list[list[tuple[Job, int, int]]]:
    """Pieces of a task, those of one circuit together, in the order in which they are sent and answered."""
    found: dict[int, list[tuple[Job, int, int]]] = {}
    for piece in task.pieces:
        found.setdefault(piece[0].variant, []).append(piece)
    return list(found.values())


def _fetch(waiting: deque[tuple[Task, Future[list[Rows]]]], put: Callable[..., Any], progress: Callable[[int], object] | None, done: int) -> int:
    """Takes in the answers of the oldest task; how many rows they are. A worker that was stopped stops the sweep."""
    task, future = waiting[0]
    found = future.result()
    waiting.popleft()
    for (job, start, stop), rows in zip([piece for pieces in _by_circuit(task) for piece in pieces], found, strict=True):
        put(job, job.rows(start, stop)[0], rows)
    if any(rows.interrupted for rows in found):
        raise KeyboardInterrupt
    if progress is not None:
        progress(done + task.count)
    return task.count
