"""What wider lines would bring, tried in the engine before they are recommended.

Wider are the bores of the lines on the way in question, and of the openings, size steps and fittings there that have one, each a quarter.
Lengths, bend radii, filters, coolers, valves and tees stay.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, NamedTuple

from flarenut.units import Quantity

from .written import notes_of

if TYPE_CHECKING:
    from ..results.case import CaseResult

_WIDER = 1.25  # times the bore: -6 to -8 of smooth hose is 1.30, -8 to -10 is 1.23, -4 to -6 is 1.67
KINDS = {"line": "lines", "opening": "openings", "return opening": "openings", "size step": "fittings", "two-k fitting": "fittings",
          "three-k fitting": "fittings"}  # of the engine -> what a builder calls them
COUNTS = 0.02  # of what is measured: less is no help (judgement)


class Tried(NamedTuple):
    """What to tell beside a finding, the cure, and the number of the sentence."""

    beside: str
    cure: str
    numbers: dict[str, Quantity]


def wider(case: CaseResult, parts: Iterable[str], measured: Callable[[CaseResult], Quantity], cure: str, otherwise: str, *,
          rises: bool = False, told_of: bool = False) -> Tried:
    """The `Tried` of lines that are to lessen what is measured, or to raise it.

    otherwise : the cure where they do not; what they bring is not told then.
    told_of : the finding names these parts, and no others.

    The cure stands untried where nothing can be tried, as of a moment of a drive, and where none of the parts is a line.
    """
    notes = notes_of(case)
    lines = [part for part in parts if case.kind_of(part) in KINDS]
    if notes is None or notes.trial is None or not any(case.kind_of(part) == "line" for part in lines):
        return Tried("", cure, {})
    found, now = notes.trial.lines(lines, wider=_WIDER), measured(case)
    if found is None:
        return Tried("", cure, {})
    then = measured(found)
    helps = (then.si - now.si if rises else now.si - then.si) > COUNTS * abs(now.si)
    if not helps:
        return Tried("", otherwise, {})
    which = "each" if told_of and lines[1:] else _named(case, lines)
    brings = "bring" if which.startswith("all ") else "brings"
    return Tried(f"; {which} a quarter wider in bore {brings} it to {{wider}}", cure, {"wider": then})


def _named(case: CaseResult, parts: list[str]) -> str:
    """Which parts are wider, in few words: the only one by its name, else what there is of them on the way."""
    titles = list(dict.fromkeys(case.layout.title(part) for part in parts))
    kinds = [word for word in ("lines", "fittings", "openings") if any(KINDS[case.kind_of(part)] == word for part in parts)]
    return titles[0] if len(titles) == 1 else f"all {' and '.join([', '.join(kinds[:-1]), kinds[-1]] if kinds[1:] else kinds)} on the way"
