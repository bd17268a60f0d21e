"""What the checks find at points of a sweep: each is solved once more by itself, as findings belong to a single answer."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

import numpy

from ..checks import case_findings
from ..circuit import CircuitError
from ..circuit.cases import Case, solve_case
from ..results import CaseResult
from .numbers import conditions_of

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from ..checks.limits import Limits
    from ..circuit.circuit import Circuit
    from .axes import Dimension
    from .ledger import Ledger
    from .variants import Variant

MOST = 2000  # points that are looked at unless more are asked for: some 100 a second, where a sweep solves thousands
NAMES = ("findings_stop", "findings_fix", "worst_finding")
_NOT_LOOKED_AT, _NOTHING_FOUND = -1, "none"


def most_of(asked: bool) -> int:
    """How many points are to be looked at: of `findings=` as it was written. Raises `CircuitError`."""
    if asked is False or asked is None:
        return 0
    if asked is True:
        return MOST
    if type(asked) is not int or asked < 1:
        raise CircuitError(f"'findings' is {asked!r}", f"write True, for all of up to {MOST:,} points, or how many points are looked at, findings=500",
                           place="sweep", key="findings", value=asked)
    return asked


def chosen_points(status: NDArray[numpy.uint64] | NDArray[Any], most: int) -> NDArray[numpy.int64]:
    """Flat places of the solved points to look at: all, or so many spread evenly."""
    solved = numpy.flatnonzero(status.ravel() == 0)
    return solved if len(solved) <= most else solved[numpy.linspace(0, len(solved) - 1, most).round().astype(int)]


def look_at(points: NDArray[numpy.int64], variants: Sequence[Variant], cases: Sequence[Case], numeric: Sequence[Dimension], ledger: Ledger,
            limits: Limits | None, tell: Callable[..., Any] | None) -> bool:
    """Fills findings of some points into a ledger; True when it was stopped.

    points : flat places in the ledger
    numeric : dimensions over which the ledger's points are numbered
    limits : `checks.Limits`, or None
    tell : function of the points done, or None
    """
    stops, fixes, worst = (numpy.full(ledger.shape, _NOT_LOOKED_AT, numpy.int16) for _ in NAMES)
    words = [_NOTHING_FOUND]
    told = {"comment": "-1 where nobody looked"}
    ledger.extra = {"findings_stop": (stops, {"long_name": "findings that say STOP", "units": "1", **told}),
                    "findings_fix": (fixes, {"long_name": "findings that say FIX", "units": "1", **told}),
                    "worst_finding": (worst, {"long_name": "worst finding", **told})}
    names = [axis.name for dimension in numeric for axis in dimension.axes]

    @lru_cache(maxsize=None)
    def held(variant: int, case: int) -> dict[str, Any]:
        fixed = conditions_of(variants[variant].plumbed, cases[case], [*names, *variants[variant].words])
        return {**fixed, **variants[variant].words}

    try:
        for done, flat in enumerate(points, 1):
            variant, case, point = (int(one) for one in numpy.unravel_index(flat, ledger.shape))
            conditions = {**held(variant, case), **_values(numeric, point)}
            found = case_findings(_alone(variants[variant].plumbed, Case(cases[case].name, conditions)), limits)
            graded = [one.severity for one in found]
            stops[variant, case, point], fixes[variant, case, point] = graded.count("stop"), graded.count("fix")
            worst[variant, case, point] = _place(words, f"{found[0].severity.upper()} {found[0].code}" if found else _NOTHING_FOUND)
            if tell:
                tell(done)
        return False
    except KeyboardInterrupt:
        return True
    finally:
        ledger.extra["worst_finding"][1]["words"] = json.dumps(words, ensure_ascii=False)


def _values(numeric: Sequence[Dimension], point: int) -> dict[str, Any]:
    """Name -> value of what varies at a point."""
    places = numpy.unravel_index(point, tuple(map(len, numeric))) if numeric else ()
    return {axis.name: axis.values[int(place)] for dimension, place in zip(numeric, places) for axis in dimension.axes}


def _alone(circuit: Circuit, case: Case) -> CaseResult:
    solution, demand = solve_case(circuit, case)
    asked = {} if demand is None else {case.name: demand}
    return CaseResult(case.name, solution, replace(circuit.layout, source=circuit.source, fuel_asked=asked), case.texts())


def _place(words: list[str], text: str) -> int:
    if text not in words:
        words.append(text)
    return words.index(text)
