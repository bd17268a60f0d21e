"""Cocks that stand shut: what is wrong behind them, or before them, may be their doing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from flarenut.results import Finding
from flarenut.units import Quantity

from .reach import ROOT

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits

_SAME = 1.5  # times the flow of the cock: a pump that moves no more has nowhere else to send it
_COUNTS = 0.1  # of what the strongest pump lifts: less across a cock drives nothing that matters (judgement)


def stands_shut(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A valve with an opening of 0 that holds back what a pump lifts: a STOP where it is that pump's only way, else worth a look."""
    lifts = [abs(case.ends(pump)[1].total - case.ends(pump)[0].total) for pump in case.pumps]
    for cock in case.parts_of_kind("valve"):
        before, behind = case.ends(cock)[:2]
        across = abs(before.total - behind.total)
        if case.number(f"{cock}.opening") != 0.0 or not lifts or across < _COUNTS * max(lifts):
            continue
        only = [pump for pump in case.pumps if 0.0 < abs(case.ends(pump)[1].flow) <= _SAME * abs(before.flow)]
        names = " and ".join(case.layout.title(pump) for pump in only)
        means = f"{names} can send nothing any other way: look here before anything else" if only else \
            "what lies behind it gets next to nothing: if that was not meant, look here first"
        yield Finding("stands shut", "stop" if only else "watch", case.layout.title(cock), case.name, f"stands shut, with {{value}} across it; {means}",
                      Quantity(across, "pressure_difference"), source="", cure="open it; if it is meant to be shut, all is well" if not only else "open it",
                      hurt=2.0 * ROOT)
