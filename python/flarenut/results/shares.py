"""Which part costs what share of the pressure, along the way that the liquid takes to where it is wanted.

Height is kept apart from friction where the circuit knows where its places are: liquid that climbs gives pressure up and gets
it back on the way down, whatever the flow. Pumps raise pressure, regulators and relief valves take what is left over: not counted.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flarenut.units import Quantity, shared_units

from .heights import at_rest
from .paths import PUMPS, REGULATORS

if TYPE_CHECKING:
    from .case import CaseResult
    from .paths import FlowMap, Step

_SPILL = ("relief valve", "bypass regulator")  # the way of what is left over, not of what feeds
_NOT_COUNTED = (*PUMPS, *REGULATORS, *_SPILL)


@dataclass(frozen=True)
class Share:
    """What one part of the way costs."""

    part: str  # in the builder's words
    loss: Quantity  # total pressure lost in it, height left out where places are known
    share: float  # of what all parts of the way lose together; NaN where that is nothing
    parts: tuple[str, ...]  # engine names


@dataclass(frozen=True)
class Way:
    """Where the pressure goes along one way, costliest part first. `height` is None where places are not known."""

    start: str
    stop: str
    shares: tuple[Share, ...]
    loss: Quantity  # of all parts together
    height: Quantity | None  # pressure given up to height and acceleration; negative where it is gained

    def __str__(self) -> str:
        losses = [one.loss for one in self.shares] + ([self.height] if self.height else [])
        system = self.loss.units or "us"
        unit = shared_units([(one.kind, one.si) for one in losses], system).get("pressure_difference")
        lines = [f"{one.part}: {one.loss.show(unit=unit)}, {one.share:.0%}" for one in self.shares]
        return "\n".join([f"{self.start} to {self.stop}", *lines, *([f"height: {self.height.show(unit=unit)}"] if self.height else [])])

    __repr__ = __str__


def feed_way(case: CaseResult) -> list[Step]:
    """The steps of the way that feeds: from the tank to the largest injectors, to where most is drawn, or through the busiest pump.

    Empty where nothing flows.
    """
    flows = case.flows
    if case.injectors:
        bank = max(case.injectors, key=lambda one: case.number(f"{one}.count", 1.0) * case.number(f"{one}.rated_flow", 0.0))
        return flows.upstream(case.ends(bank)[0].junction)
    drawn = {place: case.number(f"{name}.demand", 0.0) for place, name in enumerate(case.junction_names)}
    thirsty = max(drawn, key=lambda place: drawn[place], default=None)
    if thirsty is not None and drawn[thirsty] > 0.0:
        return flows.upstream(thirsty)
    busy = max(case.pumps or case.part_names, key=lambda one: abs(case.ends(one)[0].flow), default=None)
    if busy is None:
        return []
    ends = sorted(case.ends(busy), key=lambda end: -end.flow)
    skip = (busy, *case.parts_of_kind(*_SPILL))
    return _once([*flows.upstream(ends[0].junction, skip=skip), *_through(flows, busy), *flows.downstream(ends[-1].junction, skip=skip)])


def _through(flows: FlowMap, part: str) -> list[Step]:
    return [step for steps in flows.steps_from.values() for step in steps if step.part == part][:1]


def _once(steps: Sequence[Step]) -> list[Step]:
    """The way up to where it would pass a part again: a circle is gone round once."""
    return list({step.part: step for step in steps}.values())


def run_way(case: CaseResult, run: str) -> list[Step]:
    """The steps of a run as the liquid takes them, for `way`; parts that nothing flows through are left out."""
    written = {part: place for place, part in enumerate(case.layout.runs[run])}
    steps = sorted((step for steps in case.flows.steps_from.values() for step in steps if step.part in written),
                   key=lambda step: written[step.part])
    backwards = len(steps) > 1 and steps[0].start == steps[1].stop
    return steps[::-1] if backwards else steps


def way(case: CaseResult, steps: Sequence[Step]) -> Way | None:
    """The `Way` along steps; None where there are none or the case is not solved."""
    if not case.converged or not steps:
        return None
    losses: dict[str, tuple[float, tuple[str, ...]]] = {}
    height = 0.0
    for step in steps:
        climbed = _height(case, step)
        height += climbed
        if case.kind_of(step.part) not in _NOT_COUNTED:
            title = case.layout.title(step.part)
            loss, parts = losses.get(title, (0.0, ()))
            losses[title] = (loss + _drop(case, step) - climbed, (*parts, step.part))
    total = sum(loss for loss, _ in losses.values())
    shares = [
        Share(title, Quantity(loss, "pressure_difference", units=case.layout.units), loss / total if total > 0.0 else float("nan"), parts)
        for title, (loss, parts) in losses.items()
    ]
    names = case.junction_names
    return Way(case.layout.junction_title(names[steps[0].start]), case.layout.junction_title(names[steps[-1].stop]),
               tuple(sorted(shares, key=lambda one: -one.loss.si)), Quantity(total, "pressure_difference", units=case.layout.units),
               Quantity(height, "pressure_difference", units=case.layout.units) if case.layout.positions else None)


def _drop(case: CaseResult, step: Step) -> float:
    ends = {end.junction: end.total for end in case.ends(step.part)}
    return ends[step.start] - ends[step.stop]


def _height(case: CaseResult, step: Step) -> float:
    """Pressure given up by climbing, or by running forward in a vehicle that gathers speed; 0 where places are not known."""
    return at_rest(case, step.start, step.stop, case.liquid_in(step.part)["density"]) or 0.0
