"""Checks on what stands in hose and tube with the way on blocked: a pump reaches its dead head, a displacement pump any pressure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from flarenut import catalog
from flarenut.results import INJECTORS, PUMPS, REGULATORS, Finding
from flarenut.units import Quantity

from .pumps import no_flow_rise
from .ratings_lines import MAKER, hottest, inside, rated_lines
from .reach import joined, pressed
from .roles import SPILLS

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits
    from .ratings_lines import Rated

_DISPLACEMENT = "positive displacement pump"
_ENDS_A_STRETCH = (*PUMPS, *REGULATORS, "relief valve", INJECTORS)  # behind these it is not the pump's own pressure that counts
_ON_CLAMPS = "SAE J189"  # as in `ratings.on_clamps`


def blocked_way(case: CaseResult, limits: Limits) -> Iterator[object]:
    """Hose and tube between a pump and what holds its pressure down, that bear less than the pump reaches with the way on blocked."""
    lines = rated_lines(case)
    for pump in case.pumps if lines else ():
        exposed = [one for one in lines if _is_exposed(case, pump, one.part)]
        if exposed and case.solution.regime_of(pump) != "stopped":
            yield from _without_limit(case, pump, exposed) if case.kind_of(pump) == _DISPLACEMENT else _beyond(case, pump, exposed)


def _beyond(case: CaseResult, pump: str, exposed: Sequence[Rated]) -> Iterator[Finding]:
    reached = _reached(case, pump)
    if reached is None:
        return
    for one in exposed:
        bears, source, held = _bears(case, one)
        if bears is None or reached <= bears or inside(case, one.part) > bears:
            continue  # a line that is over its rating as it runs has its finding
        yield Finding("dead head over pressure", "watch", one.title, case.name,
                      f"with the way on blocked {_called(case, pump)} reaches {{value}}, above the {{limit}} that {held}",
                      Quantity(reached, "pressure_gauge"), Quantity(bears, "pressure_gauge"), source,
                      "a relief that opens below, or hose that bears it", hurt=reached / bears - 1.0)


def _reached(case: CaseResult, pump: str, asked: tuple[object, ...] = ()) -> float | None:
    """Gauge pressure at a pump's outlet with nothing flowing [Pa], through it or a pump that feeds it; None where its rise is not known."""
    rise, inlet = no_flow_rise(case, pump), case.ends(pump)[0]
    if rise is None:
        return None
    before = joined(case, inlet.junction, case.parts_of_kind(*_ENDS_A_STRETCH))[0]
    asked = (pump, *asked)
    feeding = [one for one in case.pumps if one not in asked and case.ends(one)[1].junction in before]
    fed = [] if _lets_go(case, before) else [found for one in feeding if (found := _reached(case, one, asked)) is not None]
    return max([inlet.total - case.ambient.si, *fed]) + rise


def _lets_go(case: CaseResult, places: set[int]) -> bool:
    """Whether a bypass regulator, a relief or a tank stands at one of these junctions."""
    spilt_from = {case.ends(spill)[0].junction for spill in case.parts_of_kind(*SPILLS)}
    return any(case.is_held(place) or place in spilt_from for place in places)


def _without_limit(case: CaseResult, pump: str, exposed: Sequence[Rated]) -> Iterator[object]:
    """A displacement pump has no dead head. Where no relief is at all, `relief.unguarded_pump` speaks; an open way to a tank needs none."""
    outlet = case.ends(pump)[1].junction
    far = pressed(case, outlet, case.parts_of_kind(*_ENDS_A_STRETCH))
    spills = [spill for spill in case.parts_of_kind(*SPILLS) if case.ends(spill)[0].junction in far]
    if not spills or any(case.is_held(place) for place in far):
        return
    titles = ", ".join(dict.fromkeys(one.title for one in exposed))
    yield Finding("relief behind the line", "watch", titles, case.name,
                  f"stands between {_called(case, pump)} and the first relief, {case.layout.title(spills[0])}: with the way on blocked there, "
                  "nothing limits the pressure of a pump that moves the same volume every turn", source="",
                  cure="a relief valve straight after the pump, before the first line", hurt=0.5)


def _is_exposed(case: CaseResult, pump: str, part: str) -> bool:
    """Whether a line stands on a pump's own stretch, and a block right behind it leaves the pump nowhere to go.

    Nowhere: no bypass regulator, relief or tank, on any other branch, that the pump reaches without passing the line.
    """
    free = pressed(case, case.ends(pump)[1].junction, {*case.parts_of_kind(*_ENDS_A_STRETCH), part})
    return any(end.junction in free for end in case.ends(part)) and not _lets_go(case, free)


def _bears(case: CaseResult, one: Rated) -> tuple[float | None, str, str]:
    """(what a line bears as hot as it is, over ambient [Pa] or None; source; who says so), clamps counted."""
    bears, source = one.working(hottest(case, one.part))
    if bears == 0.0:
        bears, source = one.working(None)  # too hot for any pressure, as `ratings.too_hot` tells; here what it bears cold
    if one.is_hose and one.line.shop.clamped and one.line.shop.maker_pressure is None:
        clamps = catalog.hose_rating(_ON_CLAMPS, clamped=True)
        if bears is None or clamps.working is not None and clamps.working < bears:
            return clamps.working, f"{clamps.said}, for want of a rule for other hose", "its clamps hold"
    return bears, source, "its maker states" if source == MAKER else "it bears"


def _called(case: CaseResult, pump: str) -> str:
    return "the pump" if len(case.pumps) == 1 else case.layout.title(pump)
