"""Pumps that a sweep drives at volts far over those they were measured at: told of the numbers, before anything is solved."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

import numpy

from ..checks import Limits
from ..checks.pumps import BY_FORMULA, CHARTED

if TYPE_CHECKING:
    from ..circuit.piece import Element
    from .jobs import Job


def overdriven(jobs: Sequence[Job]) -> dict[str, tuple[float, float]]:
    """Pump -> (most volts, highest volts it was measured at), of those that a sweep drives beyond the limit `pump_volts_over`."""
    limit = Limits().pump_volts_over.si
    found: dict[str, tuple[float, float]] = {}
    for job in jobs:
        compiled = job.circuit.compiled()
        for pump, (piece, number) in compiled.elements.items():
            element = compiled.pieces[piece].elements[number]
            if element.kind not in (BY_FORMULA, CHARTED):
                continue
            volts, measured = _most(job, f"{pump}.volts", compiled.base), _measured(job, pump, element, compiled.base)
            if volts > (1.0 + limit) * measured and volts > found.get(pump, (0.0,))[0]:
                found[pump] = volts, measured
    return found


def in_words(found: Mapping[str, tuple[float, float]]) -> list[str]:
    """Sentences for people."""
    return [f"'{pump}' is driven at up to {volts:.4g} V, far over the {measured:.4g} V it was measured at: its figures are carried on beyond them, "
            "and few motors bear it" for pump, (volts, measured) in found.items()]


def _most(job: Job, name: str, base: dict[str, float]) -> float:
    """The greatest value of a number in the rows of a job."""
    if name in job.setting.varying:
        place = job.setting.varying.index(name)
        for _, _, rows in job.groups:
            if place < rows.shape[1]:
                return float(numpy.nanmax(rows[:, place]))  # combinations that were refused have no number
            place -= rows.shape[1]
    return job.setting.still.get(name, base[name])


def _measured(job: Job, pump: str, element: Element, base: dict[str, float]) -> float:
    if element.kind == BY_FORMULA:
        return _most(job, f"{pump}.rated_volts", base)
    found: float = max(job.setting.columns.get(pump, element.columns)["curve_volts"])
    return found
