"""Who wins a case, who is as good within what such an answer is worth, and whom a STOP rules out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from ..units import Quantity

if TYPE_CHECKING:
    from ..results.finding import Finding
    from .comparison import Bounds, Comparison


COUNTS = 0.02  # of a value: two that differ by less are alike, whatever the limit between them (judgement)
COUNTS_OF_WHOLE = 0.005  # of shares of a whole, as of a pump's flow: likewise


@dataclass(frozen=True)
class Hair:
    """A STOP that other variants miss by less than counts: it rules nobody out."""

    name: str  # of the variant
    finding: Finding
    others: dict[str, Quantity]  # variant -> its own value, where it has one


@dataclass(frozen=True)
class Ranking:
    """Variants by one quantity at the gallery, best first."""

    order: tuple[str, ...] = ()  # names
    values: dict[str, float] = field(default_factory=dict)  # name -> SI
    alike: tuple[str, ...] = ()  # names that cannot be told from the best

    @property
    def best(self) -> str | None:
        """Name of the first; None where nothing can be said."""
        return self.order[0] if self.order else None

    @property
    def beaten(self) -> tuple[str, ...]:
        """Names of the others that are worse."""
        return tuple(name for name in self.order[1:] if name not in self.alike)

    def gap(self, name: str) -> float:
        """How far a variant is from the best, without sign [SI]."""
        return abs(self.values[name] - self.values[self.order[0]])


class Verdict:
    """One case of a comparison, judged.

    Attributes
    ----------
    case : its name
    by_temperature, by_pressure : `Ranking`s of those in the running
    stops : variant -> findings that say STOP of it and not of every variant; it is out of the running
    shared : findings that say STOP of every variant: no choice between them cures those
    hairs : `Hair`s, STOPs that rule nobody out, as the others miss them by less than counts
    burst : variants whose coolers see more than their rating, out of the running as well
    unsolved : variant -> why it has no answer
    """

    def __init__(self, comparison: Comparison, case: str) -> None:
        self.case = case
        solved = [name for name in comparison.variants if comparison.seen(name, case)]
        self.unsolved = {name: comparison.why_not(name, case) for name in comparison.variants if name not in solved}
        severe = {name: [one for one in comparison.answers[name][case].findings if one.severity == "stop"] for name in solved}
        common = set.intersection(*({one.code for one in found} for found in severe.values())) if severe else set()
        self.shared = [one for found in severe.values() for one in found if one.code in common]
        every = {name: comparison.answers[name][case].findings for name in solved}
        apart = {name: [one for one in found if one.code not in common] for name, found in severe.items()}
        self.hairs = [hair for name, found in apart.items() for one in found if (hair := _hair(name, one, every)) is not None]
        by_a_hair = [hair.finding for hair in self.hairs]
        self.stops = {
            name: own for name, found in apart.items() if (own := [one for one in found if not any(one is hair for hair in by_a_hair)])
        }
        self.burst = [name for name in solved if _over(comparison, name, case)]
        running = [name for name in solved if name not in self.stops and name not in self.burst]
        self.running = running or solved
        self.by_temperature = _by_temperature(comparison, case, self.running)
        self.by_pressure = _by_pressure(comparison, case, self.running)


def _over(comparison: Comparison, name: str, case: str) -> bool:
    seen = comparison.seen(name, case)
    strained = seen.coolers.strained if seen else None
    return strained is not None and strained[0] > strained[1] * (1.0 + COUNTS)


def alike(one: Quantity | None, other: Quantity | None) -> bool:
    """Whether two values differ by less than counts."""
    if one is None or other is None or one.kind != other.kind:
        return False
    gap = abs(one.si - other.si)
    return gap <= COUNTS * max(abs(one.si), abs(other.si)) or (one.kind == "fraction" and gap <= COUNTS_OF_WHOLE)


def _hair(name: str, finding: Finding, every: Mapping[str, Sequence[Finding]]) -> Hair | None:
    """The `Hair` of a STOP that no other variant is free of by more than counts; None of one that tells variants apart."""
    others: dict[str, Quantity] = {}
    for other, found in every.items():
        same = [one for one in found if one.code == finding.code and one.where == finding.where]
        if other == name or any(one.severity == "stop" for one in same):
            continue
        if same and same[0].value is not None and alike(finding.value, same[0].value):
            others[other] = same[0].value
        elif same or not alike(finding.value, finding.limit):
            return None
    return Hair(name, finding, others)


def _has(comparison: Comparison, key: str) -> bool:
    return any(column.key == key for column in comparison.columns)


def outside(bounds: Bounds, kelvin: float) -> float:
    """How far oil is from being as warm as it should be [K]: below nothing it is too cold, above too hot.

    What cannot be told from an end is as good as there.
    """
    low, high = bounds.warm
    off = kelvin - low if kelvin < low else max(kelvin - high, 0.0)
    return off if abs(off) > bounds.same_temperature else 0.0


def _by_temperature(comparison: Comparison, case: str, names: Sequence[str]) -> Ranking:
    """Nearest to the warmth that is wanted; among those that have it, the coolest."""
    if not _has(comparison, "gallery_temperature"):
        return Ranking()
    bounds, values = comparison.bounds, _values(comparison, case, names, "gallery_temperature")
    order = sorted(values, key=lambda name: (abs(outside(bounds, values[name])), values[name]))
    return _ranked(order, values, bounds.same_temperature)


def _by_pressure(comparison: Comparison, case: str, names: Sequence[str]) -> Ranking:
    values = _values(comparison, case, names, "gallery_pressure")
    return _ranked(sorted(values, key=values.__getitem__, reverse=True), values, same_pressure(comparison.bounds, values))


def same_pressure(bounds: Bounds, values: Mapping[str, float]) -> float:
    """What pressures of variants differ by at most where they are alike [Pa]."""
    return max([bounds.same_pressure, *(bounds.same_share * abs(pascal) for pascal in values.values())])


def _values(comparison: Comparison, case: str, names: Sequence[str], key: str) -> dict[str, float]:
    found = {name: comparison.value(name, case, key) for name in names}
    return {name: value.si for name, value in found.items() if isinstance(value, Quantity)}


def _ranked(order: Sequence[str], values: dict[str, float], same: float) -> Ranking:
    return Ranking(tuple(order), values, tuple(name for name in order[1:] if abs(values[name] - values[order[0]]) <= same))
