"""A published value beside ours: what the tests of this folder judge and the verification dossier prints, so that no case is worked out twice.

A topic's cases come from `cases_<topic>.py`, as an iterator `cases()`. Adding one: see DEVELOPERS.md, "Adding a reference check".
"""

from typing import Iterable, Iterator, NamedTuple

WORKED = "worked example or closed form: 2 %"


class Bound(NamedTuple):
    """How far ours may lie from what is published: the larger of a share of it and an amount.

    `kind` is "row" where each row is judged by this bound alone, "band" where the bound is an uncertainty that we state ourselves (of a
    fluid, of any tee), "set" where rows of one measured set are judged together (see MeasuredSet), "data" where our own data rest on that very
    row, so that it only shows that the program gives back what it was told.
    """

    relative: float = 0.02
    absolute: float = 0.0
    why: str = WORKED
    kind: str = "row"


class Case(NamedTuple):
    """One published value. `published` is a number, the two ends of a range, or words; `bound` is None where a row is kept and not judged.

    `reason` says why this row's bound is not that of its neighbours, or why it is not judged: it is printed.
    """

    topic: str
    group: str
    name: str
    source: str
    how: str
    published: float | tuple[float, float] | str
    unit: str
    ours: float | str | None
    bound: Bound | None = Bound()
    reason: str = ""

    @property
    def away(self) -> float:
        """How far ours lies off, in the unit; 0 within a range, and for words that are alike. Infinite for words that are not."""
        if isinstance(self.published, str):
            return 0.0 if self.ours == self.published else float("inf")
        if self.ours != self.ours:
            return self.ours  # a NaN lies off, wherever
        least, most = self.published if isinstance(self.published, tuple) else (self.published, self.published)
        return self.ours - most if self.ours > most else self.ours - least if self.ours < least else 0.0

    @property
    def difference(self) -> float | None:
        """The same as a share of the published value (the nearer end of a range); None where that is 0 and ours is not."""
        if isinstance(self.published, str) or self.away == 0.0:
            return self.away
        return self.away / abs(self.reference) if self.reference else None

    @property
    def reference(self) -> float:
        """The published value, or that end of its range to which ours lies nearer."""
        if isinstance(self.published, tuple):
            return min(self.published, key=lambda end: abs(end - self.ours))
        return self.published

    @property
    def in_per_cent(self) -> bool:
        """Whether a share of the published value says anything: not for words, degrees, a published zero, or coefficients that pass through zero."""
        by_amount = self.judged and self.bound.kind == "band" and self.bound.relative == 0.0
        return not (not self.judged or isinstance(self.published, str) or self.unit in ("C", "degC") or self.difference is None or by_amount)

    @property
    def judged(self) -> bool:
        return self.bound is not None

    @property
    def holds(self) -> bool:
        """Within its bound. A row of a measured set holds by itself: the set is judged."""
        if not self.judged or self.bound.kind == "set":
            return True
        if isinstance(self.published, str):
            return self.away == 0.0
        return abs(self.away) <= max(self.bound.relative * abs(self.reference), self.bound.absolute)  # false for a NaN

    @property
    def words(self) -> str:
        return f"{self.topic}: {self.name} [{self.source}]: published {self.published}, ours {self.ours} {self.unit}; {self.bound}"


class MeasuredSet(NamedTuple):
    """Bounds of a measured set: its number of rows, |median| of the difference and 95th percentile of its size, in per cent, and why."""

    rows: int
    median: float
    percentile_95: float
    why: str


def how_of(row: dict[str, str]) -> str:
    """How a row was got, in the words of its file, and whether its value is printed or computed from the printed equation."""
    computed = any("computed" in (value or "") for key, value in row.items() if key not in ("how", "source"))
    return f"{row['how']}, value computed from the equation" if computed and row["how"] in ("seen", "memory") else row["how"]


def median(values: Iterable[float]) -> float:
    ordered = sorted(values)
    half = len(ordered) // 2
    return ordered[half] if len(ordered) % 2 else 0.5 * (ordered[half - 1] + ordered[half])


def percentile_95(values: Iterable[float]) -> float:
    """Of the sizes: the smallest of the values that 95 % of them do not exceed."""
    ordered = sorted(abs(value) for value in values)
    return ordered[-(-95 * len(ordered) // 100) - 1]


def of(cases: Iterable[Case], topic: str = "", group: str = "") -> list[Case]:
    return [case for case in cases if (not topic or case.topic == topic) and (not group or case.group == group)]


def named(cases: Iterable[Case]) -> Iterator[tuple[str, Case]]:
    """Each case with the name that a test of it carries."""
    for case in cases:
        yield f"{case.group}: {case.name}", case
