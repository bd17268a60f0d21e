"""The part that takes most of what is lost on a way, named as the cure; and what the engine finds without it, before that is recommended."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from flarenut.results.shares import way
from flarenut.units import Quantity

from .wider import COUNTS, KINDS, Tried
from .written import notes_of

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from ..results.paths import Step

_MOST = 0.5  # of what is lost on a way, and of what it climbs: a part that takes more decides on it (judgement)
_WITHOUT = 64.0  # times the passage, which leaves a 4096th of the loss: as good as without the part
_TWICE = 2.0  # times the bore of a line
# Kind of the engine -> what helps; "{part}" is its name.
_CURES = {
    "valve": "a larger cock in place of {part}, or none",
    "orifice": "take {part} out, or give it a larger bore",
    "short tube orifice": "take {part} out, or give it a larger bore",
    "filter": "clean or change {part}, or fit a larger one",
    "filter with bypass": "clean or change {part}, or fit a larger one",
    "check valve": "a check valve of larger seat and lighter spring in place of {part}",
    "core": "a part that passes more in place of {part}",
    "resistance": "a part that passes more in place of {part}",
    "measured table": "a part that passes more in place of {part}",
}


class Costliest(NamedTuple):
    """The part that takes more than half of what is lost on a way."""

    title: str
    kind: str  # of the engine; "line" for whatever a wider bore helps
    parts: tuple[str, ...]  # engine names
    share: float  # of what all parts of the way lose together
    lost: float  # [Pa]


def costliest(case: CaseResult, steps: Sequence[Step]) -> Costliest | None:
    """The `Costliest` part along steps; None where no part takes more than half of losses and climb together."""
    found = way(case, steps) if steps else None
    if found is None or not found.shares:
        return None
    worst = found.shares[0]
    climbed = max(found.height.si, 0.0) if found.height is not None else 0.0
    if not worst.loss.si > _MOST * (found.loss.si + climbed):
        return None
    kinds = [case.kind_of(part) for part in worst.parts]
    kind = next((one for one in kinds if one not in KINDS), "line")
    return Costliest(worst.part, kind, worst.parts, worst.share, worst.loss.si)


def cure_of(case: CaseResult, part: Costliest) -> str:
    """What to do about it; "" where nothing is known to help."""
    if _half_open(case, part):
        return f"open {part.title}"
    return "a wider or shorter {part}".replace("{part}", part.title) if part.kind == "line" else \
        _CURES.get(part.kind, "").replace("{part}", part.title)


def without(case: CaseResult, part: Costliest | None, measured: Callable[[CaseResult], Quantity], *, rises: bool = False) -> Tried | None:
    """The `Tried` of a part opened, left out or, for a line, of twice the bore. None where that is no help, or cannot be tried.

    measured : what it is to lessen, or to raise where it `rises`.
    """
    notes = notes_of(case)
    if part is None or notes is None or notes.trial is None or not (cure := cure_of(case, part)):
        return None
    opened = _half_open(case, part)
    found = notes.trial.lines(part.parts, wider=_TWICE) if part.kind == "line" else \
        notes.trial.eased(part.parts, passage=1.0 / opened if opened else _WITHOUT)
    if found is None:
        return None
    now, then = measured(case), measured(found)
    if (then.si - now.si if rises else now.si - then.si) <= COUNTS * abs(now.si):
        return None
    how = "twice as wide in bore, it is {freed}" if part.kind == "line" else "with it wide open {freed}" if opened else "without it {freed}"
    return Tried(f"; {part.title} takes {{share}} of what is lost on the way: {how}", cure,
                 {"share": Quantity(part.share, "fraction"), "freed": then})


def _half_open(case: CaseResult, part: Costliest) -> float:
    """Opening of a valve that is not wide open, nor shut; 0 for all else."""
    opening = case.number(f"{part.parts[0]}.opening", 1.0) if part.kind == "valve" else 1.0
    return opening if opening < 1.0 else 0.0
