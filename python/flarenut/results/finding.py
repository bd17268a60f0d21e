"""`Finding`: something in an answer that a builder should hear of; and who is asked for findings and cautions.

The rules stand in `flarenut.checks`, which rests on this package and therefore hands itself in with `use_reviewer`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Protocol, TypeVar

from flarenut.units import Quantity, in_one, preferred_unit, settled, shared_units
from flarenut.units.display import VACUUM_SHOWN_BELOW

if TYPE_CHECKING:
    from .answer import Answer
    from .case import CaseResult

SEVERITIES = ("stop", "fix", "watch", "note")  # worst first
COMMON_PRACTICE = "common practice, no source"
# For colour-blind readers too: told apart in lightness where hues fall together, and white words on them read (over 4.5 : 1). The word stands
# beside the colour wherever it is used.
SEVERITY_COLOURS = {"stop": "#8f1d14", "fix": "#b0590a", "watch": "#1f5f99", "note": "#5f6368"}


class Shown(Protocol):
    """What a sentence of a finding shows in the units of its reader: a quantity, most times."""

    def show(self, system: str, /) -> str: ...


@dataclass(frozen=True, repr=False)
class Finding:
    """One finding in one case.

    >>> from flarenut.units import Quantity
    >>> high = Finding("filter drop", "fix", "main filter", "idle", "drop {value}, over {limit}",
    ...                Quantity(4e4, "pressure_difference"), Quantity(34474.0, "pressure_difference"),
    ...                cure="change the element")
    >>> high.text()
    'FIX: main filter, idle: drop 5.80 psi, over 5.00 psi (common practice, no source). Cure: change the element.'
    """

    code: str  # which rule; stays the same over the years
    severity: str  # one of SEVERITIES
    where: str  # part or place, in the builder's words
    case: str
    what: str  # the sentence, with {value}, {limit} and the names in `numbers` where numbers go; of "320 F (160 C)" the reader's is shown
    value: Quantity | None = None
    limit: Quantity | None = None
    source: str = COMMON_PRACTICE  # where the limit comes from; "" where there is no limit to defend
    cure: str = ""
    hurt: float = 0.0  # how far beyond the limit, as a share of it: ranks findings of one severity
    numbers: Mapping[str, Shown] = field(default_factory=dict)
    units: str | None = None  # that it is told in unless asked for others: those of its circuit; "us" where nothing is said

    def __post_init__(self) -> None:
        if self.severity not in SEVERITIES:
            raise ValueError(f"severity '{self.severity}' of finding '{self.code}' is not one of {', '.join(SEVERITIES)}")

    def sentence(self, units: str | None = None, shared: Mapping[str, str] | None = None) -> str:
        """What was found, without place and cure. `shared`: kind -> unit of a table that it stands beside, which has one for each."""
        units = settled(units, self)
        told = {**self.numbers, **{name: one for name, one in (("value", self.value), ("limit", self.limit)) if one is not None}}
        one_of_each = self._one_of_each(list(told.values()), units) | dict(shared or {})
        shown = {
            name: (
                number.show(units, unit=one_of_each.get(number.kind))
                if isinstance(number, Quantity) and not _is_vacuum(number)
                else number.show(units)
            )
            for name, number in told.items()
        }
        if self.limit is not None:
            if shown["limit"] == shown.get("value"):
                shown |= self._told_apart(shown["limit"])
        sentence = in_one(self.what, units)
        for name, text in shown.items():  # not str.format: a builder may call a part "{left}"
            sentence = sentence.replace("{" + name + "}", text)
        return sentence

    def _told_apart(self, text: str) -> dict[str, str]:
        """Value and limit that read alike, with as many places as show which of them is more; nothing where a millionth does not."""
        unit = text.partition(" ")[2]
        one, other = self.value, self.limit
        if unit and one is not None and other is not None and one.kind == other.kind:
            for places in range(2, 7):
                value, limit = (f"{number.to(unit):.{places}f} {unit}" for number in (one, other))
                if value != limit:
                    return {"value": value, "limit": limit}
        return {}

    def _one_of_each(self, numbers: Sequence[object], units: str) -> dict[str, str]:
        """Kind -> the unit that all numbers of the sentence have which are of it, so that they can be compared."""
        found = shared_units([(one.kind, one.si) for one in numbers if isinstance(one, Quantity) and not _is_vacuum(one)], units)
        if self.value is not None and self.limit is not None and self.value.kind == self.limit.kind:
            near = max(abs(self.value.si), abs(self.limit.si))
            found.setdefault(self.value.kind, preferred_unit(self.value.kind, units, near if near == near else 0.0))
        return found

    def text(self, units: str | None = None, *, cases: Sequence[str] = (), shared: Mapping[str, str] | None = None) -> str:
        """The whole finding as a line of text. `cases` replaces the case, where several share the finding, worst first."""
        source = f" ({self.source})" if self.source and self.limit is not None else ""
        cure = f" Cure: {stopped(self.cure)}" if self.cure else ""
        cases = list(cases) or [self.case]
        if len(cases) > 1 and self.value is not None:
            cases[0] += " (worst)"  # the number in the sentence is its own
        place = ", ".join(word for word in (self.where, " / ".join(cases)) if word)
        told = ": ".join(filter(None, [self.severity.upper(), place, self.sentence(units, shared)]))
        return f"{stopped(told + source)}{cure}"

    def __str__(self) -> str:
        return self.text()

    def __repr__(self) -> str:
        return f"<{self}>"


def stopped(sentence: str) -> str:
    """A sentence with its full stop, unless it asks.

    >>> stopped("it is hot"), stopped("are the two exchanged?")
    ('it is hot.', 'are the two exchanged?')
    """
    return sentence if sentence.endswith(("?", "!", ".")) else f"{sentence}."


Found = TypeVar("Found", bound=Finding)


def _is_vacuum(quantity: Quantity) -> bool:
    """Whether it is told as a vacuum, which has a dial of its own."""
    return quantity.kind == "pressure_gauge" and quantity.si < VACUUM_SHOWN_BELOW


def ranked(findings: Sequence[Found]) -> list[Found]:
    """Worst first: by severity, then by how far beyond the limit."""
    return sorted(findings, key=lambda one: (SEVERITIES.index(one.severity), -one.hurt))


def merged(findings: Sequence[Finding]) -> list[tuple[Finding, list[str]]]:
    """One entry per rule, place and sentence: the worst finding and the cases that it holds for, number apart.

    A sentence that holds in one case only, such as "wide open" beside "still holds", is never said of another. Where two places, such as the
    injectors of two rails, have the very same to be said of them, number and all, it is said once and names both.
    Returns a list of (finding, cases), worst first.
    """
    groups: dict[tuple[str, ...], list[Finding]] = {}
    for one in ranked(findings):
        groups.setdefault((one.code, one.where, one.severity, one.what, one.cure), []).append(one)
    alike: dict[tuple[object, ...], list[tuple[Finding, list[str]]]] = {}
    for group in groups.values():
        worst, cases = group[0], list(dict.fromkeys(one.case for one in group))
        said = (worst.code, worst.severity, worst.sentence("us"), worst.sentence("metric"), worst.cure, tuple(cases))
        alike.setdefault(said, []).append((worst, cases))
    return [(_of_places([worst for worst, _ in same]), same[0][1]) for same in alike.values()]


def _of_places(findings: Sequence[Finding]) -> Finding:
    """One finding that names the places of several."""
    places = ", ".join(dict.fromkeys(one.where for one in findings if one.where))
    return findings[0] if len(findings) == 1 else replace(findings[0], where=places)


class Reviewer(Protocol):
    """Who knows the rules."""

    def findings(self, case: CaseResult, /) -> Sequence[Finding]: ...
    def cautions(self, answer: Answer, /) -> Sequence[str]: ...


@dataclass(frozen=True)
class Said:
    """A value as a builder of either system would write it, for an example inside a sentence."""

    us: str
    metric: str

    def show(self, system: str) -> str:
        """What is written in a system."""
        return self.us if system == "us" else self.metric


class _Nobody:
    """Stands in until a reviewer is handed in."""

    @staticmethod
    def findings(case: CaseResult) -> list[Finding]:
        return []

    @staticmethod
    def cautions(answer: Answer) -> list[str]:
        return []


_reviewer: Reviewer = _Nobody()


def use_reviewer(reviewer: Reviewer) -> None:
    """Who is asked from now on: something with ``findings(case)`` and ``cautions(answer)``, both giving lists."""
    global _reviewer
    _reviewer = reviewer


def reviewer() -> Reviewer:
    """Who is asked for findings and cautions."""
    return _reviewer
