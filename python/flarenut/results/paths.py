"""Which way the liquid goes: paths through the parts of one solved case, by the flows at their ends."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .case import CaseResult

PUMPS = ("electric pump", "quadratic pump", "positive displacement pump", "centrifugal pump")
REGULATORS = ("bypass regulator", "reducing regulator")
INJECTORS = "injector bank"
HOLES = ("orifice", "short tube orifice")  # the ports of these are those of the line around them
FILTERS = ("filter", "filter with bypass")
# Parts that meter or switch: the velocity in them is not that of a line, their drop is their job.
METERING = (*PUMPS, *REGULATORS, INJECTORS, "relief valve", "check valve", "orifice", "valve", "thermostat", "thermostat bypass")
_BYPASSES = ("relief valve", "thermostat bypass")  # a way with one of them is a way round
NEARLY_SHUT = 0.1  # opening of a valve: under it the liquid is meant to go elsewhere, over it a consumer is only set (judgement)
_LEAK = 0.01  # of the flow in a part: a branch beside it that takes less is no fork of its way
BYPASSED = 0.9  # of the flow goes round a part: what it lets through is no more the way of the liquid (judgement)
_ROUND_OFF = 1e-13  # of the greatest flow of a case: less is what rounding leaves in a dead end, and flows nowhere


class Step:
    """One part on a path, from the end at one junction to the end at the next."""

    __slots__ = ("part", "start", "stop", "flow")

    def __init__(self, part: str, start: int, stop: int, flow: float) -> None:
        self.part, self.start, self.stop, self.flow = part, start, stop, flow

    def __repr__(self) -> str:
        return f"Step({self.part!r}, {self.start} -> {self.stop})"


class FlowMap:
    """The parts of a case as a graph of junction numbers, with the flow in each. Needs a converged case."""

    def __init__(self, case: CaseResult) -> None:
        self.case = case
        self.steps_from: dict[int, list[Step]] = {}  # junction -> steps that flow away from it
        self.steps_into: dict[int, list[Step]] = {}  # junction -> steps that flow towards it
        every = {part: case.ends(part) for part in case.part_names}
        still = _ROUND_OFF * max((abs(end.flow) for ends in every.values() for end in ends), default=0.0)
        for part, ends in every.items():
            for source in ends:
                for sink in ends:
                    if source is not sink and source.flow >= 0.0 >= sink.flow and max(source.flow, -sink.flow) > still:
                        step = Step(part, source.junction, sink.junction, min(source.flow, -sink.flow))
                        self.steps_from.setdefault(step.start, []).append(step)
                        self.steps_into.setdefault(step.stop, []).append(step)

    def upstream(self, junction: int, skip: tuple[str, ...] = ()) -> list[Step]:
        """Steps from what feeds a junction, tank first; parts in `skip` are not passed."""
        return self._widest(junction, self.steps_into, lambda step: step.start, skip)[::-1]

    def downstream(self, junction: int, skip: tuple[str, ...] = ()) -> list[Step]:
        """Steps from a junction to the tank or open end that takes most of its flow."""
        return self._widest(junction, self.steps_from, lambda step: step.stop, skip)

    def reached(self, junction: int, *, up: bool, skip: Sequence[str] = ()) -> dict[str, Step]:
        """Every part that feeds a junction (`up`), or that it feeds, as far as the tanks; parts in `skip` are not passed."""
        table, far = (self.steps_into, "start") if up else (self.steps_from, "stop")
        waiting, seen = [junction], {junction}
        parts: dict[str, Step] = {}
        while waiting:
            here = waiting.pop()
            if self.case.is_held(here) and (up or here != junction):  # a pump in its tank has nothing before it
                continue
            for step in table.get(here, ()):
                if step.part in skip:
                    continue
                parts.setdefault(step.part, step)
                there = getattr(step, far)
                if there not in seen:
                    seen.add(there)
                    waiting.append(there)
        return parts

    def goes_round(self, part: str) -> float:
        """Share of the liquid that takes a bypass round a part, from where the ways fork to where they meet again; 0 where there is none.

        A bypass is a way by a relief valve or a bypass thermostat. Where a thermostat or a nearly shut valve stands on the way of the part
        itself, any way beside it is one. Consumers side by side are none of each other, nor are ways that meet only in a tank. No way leads
        through a pump: in a closed loop the liquid comes by again.
        """
        own = next((step for steps in self.steps_from.values() for step in steps if step.part == part), None)
        if own is None:
            return 0.0
        fork, before = self._end_of_branch(own.start, own.flow, up=True)
        meets, behind = self._end_of_branch(own.stop, own.flow, up=False)
        branch = (part, *before, *behind)
        if self.case.is_held(fork) or self.case.is_held(meets) or any(self.case.kind_of(one) in _BYPASSES for one in branch):
            return 0.0
        kept_back, pumps, others = any(self._keeps_back(one) for one in branch), self.case.pumps, 0.0
        leading_there = set(self.reached(meets, up=True, skip=pumps))
        for step in self.steps_from.get(fork, ()):
            if step.part in leading_there and step.part not in branch:
                beside = leading_there & {step.part, *self.reached(step.stop, up=False, skip=pumps)}
                if kept_back or any(self.case.kind_of(one) in _BYPASSES for one in beside):
                    others += step.flow
        return others / (others + own.flow)

    def _keeps_back(self, part: str) -> bool:
        """Whether liquid is kept from the way of a part on purpose: by a thermostat, or by a valve that is nearly shut."""
        kind = self.case.kind_of(part)
        return kind == "thermostat" or kind == "valve" and self.case.number(f"{part}.opening", 1.0) < NEARLY_SHUT

    def branch_of(self, part: str) -> tuple[int, int]:
        """The junctions where the way by a part forks off and where it meets others again, by their place in `junction_names`."""
        own = next(step for steps in self.steps_from.values() for step in steps if step.part == part)
        return self._end_of_branch(own.start, own.flow, up=True)[0], self._end_of_branch(own.stop, own.flow, up=False)[0]

    def _end_of_branch(self, here: int, flow: float, *, up: bool) -> tuple[int, list[str]]:
        """The junction where others join the liquid that passes a branch, or leave it; and the parts up to there."""
        ahead, behind = (self.steps_into, self.steps_from) if up else (self.steps_from, self.steps_into)
        seen, parts = {here}, list[str]()
        while not self.case.is_held(here):
            onward, back = ([step for step in table.get(here, ()) if step.flow > _LEAK * flow] for table in (ahead, behind))
            there = (onward[0].start if up else onward[0].stop) if len(onward) == 1 and len(back) < 2 else here
            if there in seen:
                break
            parts.append(onward[0].part)
            seen.add(there)
            here = there
        return here, parts

    def _widest(self, junction: int, table: Mapping[int, Sequence[Step]], far: Callable[..., Any], skip: tuple[str, ...]) -> list[Step]:
        """The path to a held junction whose narrowest flow is greatest; the widest dead end when none is held."""
        best: dict[int, tuple[float, list[Step]]] = {junction: (float("inf"), [])}
        waiting, done, ends = {junction}, set(), []
        while waiting:
            here = max(waiting, key=lambda one: best[one][0])
            waiting.remove(here)
            done.add(here)
            width, path = best[here]
            if here != junction and self.case.is_held(here):
                return path
            onward = [step for step in table.get(here, ()) if step.part not in skip]
            if not onward:
                ends.append(path)
            for step in onward:
                there, narrow = far(step), min(width, step.flow)
                if there not in done and narrow > best.get(there, (-1.0, []))[0]:
                    best[there] = (narrow, [*path, step])
                    waiting.add(there)
        return max(ends, key=len, default=[])
