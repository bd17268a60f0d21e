"""What every line bears beside what it has to bear: the case that leaves least of it, and how much that leaves."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..checks.ratings_lines import hottest, inside, rated_lines
from ..units import Quantity
from .markup import element, joined
from .tables import notes, table

if TYPE_CHECKING:
    from ..checks.ratings_lines import Rated
    from ..results.answer import Answer
    from ..results.case import CaseResult
    from .markup import Markup
    from .sources import Sources

_HEADINGS = ["line", "made to", "inside, at most", "in case", "bears then", "left", "hottest", "source"]


def margins_section(answer: Answer, units: str, sources: Sources) -> Markup:
    """Lines of an `Answer` against their ratings."""
    worst: dict[str, _Margin] = {}
    for case in answer.values():
        for one in rated_lines(case) if case.converged else ():
            found = _Margin(case, one)
            kept = worst.get(one.part)
            worst[one.part] = found if kept is None else kept.worse(found)
    if not worst:
        return element("p", "Nothing is said of what its lines are made to, so what they bear is not known. Say 'standard' of a hose, 'material' of a tube, "
                            "or 'maker_pressure'.")
    rows = [one.row(units, sources) for one in worst.values()]
    return joined(table("Lines against what they bear, in the case that leaves least", _HEADINGS, [("", rows)], right=(2, 4, 5, 6)),
                  notes(["Bears then: working pressure at the temperature of that case, over the air around. What no rating is known of is not shown as safe.",
                         *(f"{one.title}: {one.unknown}." for one in worst.values() if one.unknown and one.bears is None)]))


class _Margin:
    """A line in one case."""

    def __init__(self, case: CaseResult, one: Rated) -> None:
        self.title, self.called, self.unknown, self.case = one.title, one.called, one.unknown, case.name
        self.inside, self.hottest = inside(case, one.part), hottest(case, one.part)
        self.bears, self.source = one.working(self.hottest)

    @property
    def used(self) -> float:
        """Share of what it bears."""
        return self.inside / self.bears if self.bears else float("inf") if self.bears == 0.0 else self.inside

    def worse(self, other: _Margin) -> _Margin:
        """The one of two that leaves less, with the higher temperature of both."""
        kept = other if other.used > self.used else self
        kept.hottest = max(self.hottest, other.hottest)
        return kept

    def row(self, units: str, sources: Sources) -> list[str | Markup]:
        """Cells of its row."""
        pressure = Quantity(self.inside, "pressure_gauge").show(units)
        known = [pressure, self.case, self._bears(units), self._left()]
        return [self.title, self.called, *known, Quantity(self.hottest, "temperature").show(units), sources.mark(self.source if self.bears is not None else "")]

    def _bears(self, units: str) -> str:
        return "not known" if self.bears is None else Quantity(self.bears, "pressure_gauge").show(units)

    def _left(self) -> str | Markup:
        if self.bears is None:
            return "not known"
        if self.used <= 1.0:
            return f"{100 * (1.0 - max(self.used, 0.0)):.0f} %"
        return element("strong", "nothing" if not self.bears else f"{100 * (self.used - 1.0):.0f} % over")
