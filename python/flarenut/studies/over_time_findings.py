"""Findings in the course of time: the worst of each rule and place, with its time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy

from ..checks import RULES, case_findings, heat
from ..results import Finding, ranked
from ..results.finding import SEVERITIES, Said, Shown
from .over_time_words import clock

if TYPE_CHECKING:
    from .over_time_answer import OverTime
    from ..checks.limits import Limits

_MOST = 500  # moments that are looked at, some 100 to 300 a second
_NOT_IN_TIME = (heat.runs_cool,)  # about where a temperature settles


@dataclass(frozen=True, repr=False)
class TimedFinding(Finding):
    """A finding with its times [s]: `time` where it is worst, `begins` and `ends` the first and the last moment that it was seen at."""

    time: float = 0.0
    begins: float = 0.0
    ends: float = 0.0


def findings_of(over: OverTime, limits: Limits | None) -> list[TimedFinding]:
    """See `OverTime.findings`."""
    seen: dict[tuple[str, str], list[tuple[int, Finding]]] = {}
    for number in _looked_at(over):
        for one in case_findings(over.moments[number], limits, [rule for rule in RULES if rule not in _NOT_IN_TIME]):
            seen.setdefault((one.code, one.where), []).append((number, one))
    found: list[TimedFinding] = [_worst(over, group) for group in seen.values()]
    if over.why_not:
        found.append(_ends_early(over))
    return ranked(found)


def _ends_early(over: OverTime) -> TimedFinding:
    """That a drive has no answer from some moment on, said of that moment."""
    last = float(over.times[-1]) if len(over) else 0.0
    what = f"the drive ends early: {over.why_not}"
    numbers: dict[str, Shown] = {}
    if over.lost:
        leg, lost = over.lost
        what = f"the drive ends early, for there is no answer past that, in {{row}}: {lost.cause_in(None)}"
        numbers = {"row": Said(leg.place("us"), leg.place("metric"))}
    return TimedFinding("not solved", "stop", "", clock(last), what, hurt=float("inf"), numbers=numbers, units=over.units,
                        time=last, begins=last, ends=last)


def _looked_at(over: OverTime) -> Sequence[int]:
    """All moments; of very many so many, spread evenly, with those where cases change."""
    count = len(over)
    if count <= _MOST:
        return range(count)
    changes = [k for k in range(1, count) if over.legs_at[k] is not over.legs_at[k - 1]]
    return sorted({*numpy.linspace(0, count - 1, _MOST).round().astype(int).tolist(), *changes, *(k - 1 for k in changes)})


def _worst(over: OverTime, group: Sequence[tuple[int, Finding]]) -> TimedFinding:
    number, worst = min(group, key=lambda pair: (SEVERITIES.index(pair[1].severity), -pair[1].hurt))
    begins, ends, time = (float(over.times[k]) for k in (group[0][0], group[-1][0], number))
    when = clock(time) if clock(begins) == clock(ends) else f"{clock(begins)} to {clock(ends)}, worst at {clock(time)}"
    fields = {name: getattr(worst, name) for name in Finding.__dataclass_fields__}
    return TimedFinding(**{**fields, "case": f"{when} ({worst.case})"}, time=time, begins=begins, ends=ends)
