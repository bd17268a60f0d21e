"""What wider lines would bring, tried in the engine before they are recommended."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, NamedTuple

from flarenut.units import Quantity

from .written import notes_of

if TYPE_CHECKING:
    from ..results.case import CaseResult

_WIDER = 1.25  # times the bore: about one dash size
_KINDS = ("line", "opening", "return opening", "size step", "two-k fitting", "three-k fitting")
_COUNTS = 0.02  # of what is measured: less is no help (judgement)


class Wider(NamedTuple):
    """What to tell beside a finding, the cure, and the number of the sentence."""

    beside: str
    cure: str
    numbers: dict[str, Quantity]


def wider(case: CaseResult, parts: Iterable[str], measured: Callable[[CaseResult], Quantity], cure: str, otherwise: str, *,
          rises: bool = False) -> Wider:
    """The `Wider` of lines that are to lessen what is measured, or to raise it. `otherwise` is the cure where they do not.

    The cure stands untried where nothing can be tried, as of a moment of a drive, and where none of the parts is a line.
    """
    notes = notes_of(case)
    lines = [part for part in parts if case.kind_of(part) in _KINDS]
    if notes is None or notes.trial is None or not any(case.kind_of(part) == "line" for part in lines):
        return Wider("", cure, {})
    found, now = notes.trial.lines(lines, wider=_WIDER), measured(case)
    if found is None:
        return Wider("", cure, {})
    then = measured(found)
    helps = (then.si - now.si if rises else now.si - then.si) > _COUNTS * abs(now.si)
    return Wider("; a quarter wider, about a dash size, brings {wider}", cure if helps else otherwise, {"wider": then})
