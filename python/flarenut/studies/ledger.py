"""The growing answer of a sweep: arrays by output, with status and reasons. What was never reached says so."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy

from ..results.names import in_shop_words
from .batches import NOT_REACHED, REFUSED
from .ends import MARGIN, REGIME

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from .batches import Rows
    from .jobs import Job
    from .spread import _Part

_UNREACHED = "not reached"


class Ledger:
    """Answers of all variants, cases and points.

    Parameters
    ----------
    kinds : output -> its kind
    shape : (variants, cases, points)
    """

    def __init__(self, kinds: dict[str, str], shape: tuple[int, int, int]) -> None:
        self.kinds, self.shape = kinds, shape
        self.values = {name: numpy.full(shape, -1, numpy.int16) if kind == REGIME else numpy.full(shape, numpy.nan) for name, kind in kinds.items()}
        self.status = numpy.full(shape, NOT_REACHED, numpy.uint8)
        self.iterations = numpy.zeros(shape, numpy.int32)
        self.residual = numpy.full(shape, numpy.nan)
        self.reason = numpy.zeros(shape, numpy.int32)
        self.reasons = [_UNREACHED]
        self.extra: dict[str, tuple[NDArray[numpy.int16], dict[str, str]]] = {}  # name -> (values, attributes): what is said of points beside outputs
        self._at = {_UNREACHED: 0}

    @staticmethod
    def most_bytes(outputs: int) -> int:
        """How much memory one point of so many outputs takes at most [bytes]."""
        return 8 * outputs + 1 + 4 + 8 + 4

    def put(self, job: Job | _Part, points: NDArray[numpy.int64], rows: Rows) -> None:
        """Writes the rows of a job at its points."""
        whole = len(points) and points[-1] - points[0] == len(points) - 1
        where = (job.variant, job.case, slice(points[0], points[-1] + 1) if whole else points)
        for name, column in job.columns.items():
            if column is None:
                continue
            found = column.make(rows.values)
            if self.kinds[name] == REGIME:
                found = numpy.where(rows.status == 0, found, -1)
            self.values[name][where] = found
        self.status[where], self.iterations[where], self.residual[where] = rows.status, rows.iterations, rows.residual
        layout = job.circuit.compiled().layout
        places = numpy.array([*(self.place(in_shop_words(reason, layout)) for reason in rows.reasons), -1], numpy.int32)
        self.reason[where] = numpy.where(rows.status == NOT_REACHED, 0, places[rows.reason])

    def refuse(self, variant: int, case: int, reason: str) -> None:
        """Marks all points of a case that could not be put into numbers."""
        self.status[variant, case] = REFUSED
        self.reason[variant, case] = self.place(reason)

    def refuse_some(self, job: Job) -> None:
        """Marks the points of a job that could not be put into numbers."""
        if job.refused is None:
            return
        which, reasons = job.refused
        places, bad = numpy.array([self.place(reason) for reason in reasons], numpy.int32), which >= 0
        self.status[job.variant, job.case, bad] = REFUSED
        self.reason[job.variant, job.case, bad] = places[which[bad]]

    def place(self, reason: str) -> int:
        """Place of a reason in the list of reasons."""
        if reason not in self._at:
            self._at[reason] = len(self.reasons)
            self.reasons.append(reason)
        return self._at[reason]

    def boiling(self) -> int:
        """How many solved points boil somewhere: the laws are those of a liquid, so that their numbers are not to be had."""
        return int((self.values[MARGIN] <= 0.0).sum())

    def commonest(self, status: int | None = None) -> tuple[str, int]:
        """The reason that most points without an answer have, or those of one status, and how many have it."""
        which = (self.reason >= 0) & (True if status is None else self.status == status)
        counts = numpy.bincount(self.reason[which], minlength=len(self.reasons))
        return self.reasons[int(counts.argmax())], int(counts.max())
