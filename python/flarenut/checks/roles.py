"""What each line does for the pumps of a case: it leads to one, feeds from one, or returns to a tank. By where the liquid goes."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING
from collections.abc import Mapping

from flarenut.results import INJECTORS, METERING, PUMPS

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from ..results.paths import Step

SPILLS = ("bypass regulator", "relief valve")
RESISTS = ("valve", "orifice", "short tube orifice", "resistance", "measured table", "core", "bearings")
_COOLER = re.compile("cooler|radiator|heat exchanger")
_CONSUMES = 0.25  # of the greatest drop of what resists after a pump: less is a cooler or a bleed on the way, not the consumer


def roles_of(case: CaseResult) -> dict[str, list[str]]:
    """Lines and fittings of a solved case by role: {"suction": [...], "return": [...], "feed": [...]}. Each stands under one role at most.

    case : `CaseResult`; parts by their engine names. What metes or switches is left out, and lines that no pump moves liquid in.

    A line is suction where a pump draws through it; return behind what spills, and behind the last consumer on the way back to a tank;
    feed elsewhere after a pump. Around a closed loop the last consumer parts feed from suction.

    >>> import flarenut as fn
    >>> rinse = fn.Circuit("rinse (invented)", fluid="water")
    >>> rinse.tank("drum", level="1 m")
    >>> rinse.run("line", "drum", "ambient", [fn.formula_pump("30 psi", "4 gpm"), fn.hose("-8", "3 m", spec="full-size", name="hose")])
    >>> roles_of(rinse.solve()["as written"])["feed"][0]
    'hose'
    """
    spilt = _behind_spills(case)
    suction: dict[str, Step] = {}
    feed: dict[str, Step] = {}
    back = {part: step for part, step in spilt.items() if not _draws_from_tank(case, step.start)}
    for pump in case.pumps:
        inlet, outlet = case.ends(pump)[0].junction, case.ends(pump)[1].junction
        before = case.flows.reached(inlet, up=True)
        after = case.flows.reached(outlet, up=False, skip=case.parts_of_kind(*SPILLS, INJECTORS))
        consumers = _consumers(case, after)
        last = [part for part, step in after.items() if part not in consumers and _is_behind_last(case, step, consumers)]  # in their order, for ties
        suction |= {part: step for part, step in before.items() if part not in back and (part not in after or part in last)}
        back |= {part: after[part] for part in last if part not in before and _leads_home(case, after[part].stop, before, inlet)}
        feed |= after
    lines = {"suction": [*suction], "return": [part for part in back if part not in suction],
             "feed": [part for part in feed if part not in suction and part not in back]}
    return {role: [part for part in parts if case.kind_of(part) not in METERING] for role, parts in lines.items()}


def _behind_spills(case: CaseResult) -> dict[str, Step]:
    """What regulators and reliefs spill into, as far as a tank or a pump. One that spills straight into its tank has no line."""
    found: dict[str, Step] = {}
    for spill in case.parts_of_kind(*SPILLS):
        outlet = case.ends(spill)[1].junction
        found |= {} if case.is_held(outlet) else case.flows.reached(outlet, up=False, skip=case.pumps)
    return found


def _draws_from_tank(case: CaseResult, junction: int) -> bool:
    """True when some of what passes here comes from a tank without a pump or a spill between: a line to a pump that a relief spills into."""
    before = case.flows.reached(junction, up=True, skip=case.parts_of_kind(*SPILLS, *PUMPS))
    return case.is_held(junction) or any(case.is_held(step.start) for step in before.values())


def _consumers(case: CaseResult, after: Mapping[str, Step]) -> set[str]:
    """The parts after a pump that resist, but for those that take little beside the greatest of them."""
    drops = {part: abs(case.ends(part)[0].total - case.ends(part)[1].total) for part in after if case.kind_of(part) in RESISTS}
    return {part for part, drop in drops.items() if drop >= _CONSUMES * max(drops.values())}


def _is_behind_last(case: CaseResult, step: Step, consumers: set[str]) -> bool:
    """True when liquid comes here through a consumer, and passes none on its way on."""
    ahead = _onward(case, step.stop)
    behind = case.flows.reached(step.start, up=True, skip=case.pumps)
    return not consumers & set(ahead) and bool(consumers & set(behind))


def _onward(case: CaseResult, junction: int) -> dict[str, Step]:
    """What liquid passes from here to a tank or a pump; nothing where it is in a tank."""
    return {} if case.is_held(junction) else case.flows.reached(junction, up=False, skip=case.pumps)


def _leads_home(case: CaseResult, junction: int, before: Mapping[str, Step], inlet: int) -> bool:
    """True when all ways on end in tanks that the pump draws from itself, through a line or standing in it, or no pump does."""
    reached = {junction} | {step.stop for step in _onward(case, junction).values()}
    ends = {place for place in reached if case.is_held(place)}
    own = {step.start for step in before.values()} | {inlet}
    return bool(ends) and all(is_tank(case, end) and (end in own or not any(feeds(case, end, pump) for pump in case.pumps)) for end in ends)


def is_tank(case: CaseResult, junction: int) -> bool:
    """True for a tank, by its place in `junction_names`; a place of given pressure is none."""
    return case.number(f"{case.junction_names[junction]}.vent") is not None


def is_cooler(case: CaseResult, part: str) -> bool:
    """True for a core, and for a part that resists and is called a cooler."""
    return case.kind_of(part) == "core" or case.kind_of(part) in RESISTS and bool(_COOLER.search(case.layout.title(part).lower()))


def feeds(case: CaseResult, tank: int, pump: str) -> bool:
    """True when a pump draws from a tank, by its place in `junction_names`."""
    inlet = case.ends(pump)[0].junction
    return inlet == tank or any(step.start == tank for step in case.flows.reached(inlet, up=True).values())
