"""All cases of a comparison taken together: which variant is never far from the best, what that costs in pressure, and one table of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from ..units import Quantity

if TYPE_CHECKING:
    from .comparison import Comparison
    from .comparison_verdicts import Ranking

OF_TEMPERATURE, OF_PRESSURE = "gallery_temperature", "gallery_pressure"


@dataclass(frozen=True)
class Behind:
    """The most that a variant is behind the best of a case [SI], and which case that is; nothing where it is best or as good everywhere."""

    most: float = 0.0
    case: str = ""
    best: str = ""  # of that case


class Overall:
    """Variants over all cases. Behind is who is worse than the best of a case and can be told from it.

    Attributes
    ----------
    running : variants that are in the running in every case
    by_temperature, by_pressure : variant -> `Behind`
    leaders : those that are the least behind by temperature, or cannot be told from that
    winner : the one of them that is the least behind in pressure; None where fewer than two are in the running, or nothing chooses
    """

    def __init__(self, comparison: Comparison) -> None:
        verdicts = [comparison.verdict(case) for case in comparison.cases]
        self.running = [name for name in comparison.variants if all(name in one.by_pressure.order for one in verdicts)]
        self.by_temperature = {name: _behind(name, [(one.case, one.by_temperature) for one in verdicts]) for name in self.running}
        self.by_pressure = {name: _behind(name, [(one.case, one.by_pressure) for one in verdicts]) for name in self.running}
        least = min((one.most for one in self.by_temperature.values()), default=0.0)
        self.leaders = [name for name in self.running if self.by_temperature[name].most <= least + comparison.bounds.same_temperature * bool(least)]
        chooses = len(self.running) > 1 and len(self.leaders) < len(self.running)
        self.winner = min(self.leaders, key=lambda name: self.by_pressure[name].most) if chooses else None

    @property
    def next(self) -> str:
        """The one behind the leaders."""
        return min((name for name in self.running if name not in self.leaders), key=lambda name: self.by_temperature[name].most)


def _behind(name: str, rankings: Sequence[tuple[str, Ranking]]) -> Behind:
    found = Behind()
    for case, ranking in rankings:
        gap = ranking.gap(name) if name in ranking.beaten else 0.0
        if gap > found.most:
            found = Behind(gap, case, ranking.order[0])
    return found


def overall_of(comparison: Comparison, said: Callable[..., Any], listed: Callable[..., Any]) -> Iterator[str]:
    """Sentences: who wins over all cases, and what it costs.

    said : function of (number, kind, near) that shows a number
    listed : function of names
    """
    if not comparison.cases[1:]:
        return
    found = Overall(comparison)
    name = found.winner
    if name is None:
        return
    leaders, warm, cost = found.leaders, found.by_temperature, found.by_pressure[name]
    most = max((warm[one] for one in leaders), key=lambda one: one.most)
    verb = "are" if leaders[1:] else "is"
    how = f"{verb} best, or too near the best to tell, in every case" if not most.most else \
        f"{verb} never more than {said(most.most, 'temperature_difference')} from the best of a case ({most.case})"
    other = warm[found.next]
    yield (f"Over all cases, by temperature at {comparison.sites.gallery}: {listed(leaders)} {how}; next comes '{found.next}', up to "
           f"{said(other.most, 'temperature_difference')} off ({other.case}).")
    drop, case = _dearest(comparison, name)
    parts = [f"up to {said(cost.most, 'pressure_difference', drop)} of the pressure that '{cost.best}' has at {comparison.sites.gallery} ({cost.case})"] if cost.most else []
    parts += [f"up to {said(drop, 'pressure_difference', cost.most)} across its coolers ({case})"] if drop > comparison.bounds.same_pressure else []
    price = ", and ".join(parts) or "next to nothing"
    yield f"In pressure '{name}' costs the least of these: {price}." if leaders[1:] else f"In pressure it costs {price}."


def _dearest(comparison: Comparison, name: str) -> tuple[float, str]:
    """Most that is lost across the coolers of a variant [Pa], and in which case."""
    if not any(column.key == "cooler_drop" for column in comparison.columns):
        return 0.0, ""
    drops = {case: value.si for case in comparison.cases if isinstance(value := comparison.value(name, case, "cooler_drop"), Quantity)}
    case = max(drops, key=drops.__getitem__, default="")
    return drops.get(case, 0.0), case


def marked(comparison: Comparison, case: str, key: str, name: str) -> bool:
    """Whether a variant is the best of a case by a column, or as good."""
    verdict = comparison.verdict(case)
    ranking = verdict.by_temperature if key == OF_TEMPERATURE else verdict.by_pressure
    return bool(ranking.beaten) and name in (ranking.best, *ranking.alike)
