"""Checks on engine oil: how much of it the relief leaves to the engine, and the pressure where the engine draws it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import nan
from typing import TYPE_CHECKING

from flarenut.results import FILTERS, PUMPS, Finding
from flarenut.units import Quantity

from .causes import shut_feeds
from .limits import is_engine_oil
from .reach import drawn_at, gauge_at
from .roles import SPILLS, feeds, is_cooler, is_tank

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from ..results.paths import Step
    from ..results.readings import Reading
    from .limits import Limits

_DISPLACEMENT = "positive displacement pump"
_DRAWS = ("orifice", "short tube orifice", "resistance", "measured table", "bearings")
_COUNTS = 0.25  # of the greatest flow drawn: a bleed or a turbocharger behind its restrictor says nothing of the engine
_MOST = 0.5  # of what a pump moves: what takes more of it decides on the pressure
_FIX_FROM = 0.4  # of the limit on the share that reaches the engine: below a tenth where the limit is a quarter
_STOP_FROM = 0.1  # likewise: below a fortieth the engine runs dry, however it is warmed up (judgement)


def use_unsaid(case: CaseResult, limits: Limits) -> Iterator[object]:
    """Oil by viscosities alone may be an engine's or a steering's: rules that would be wrong for one of them keep silent."""
    if case.layout.family == "other oil" and case.parts_of_kind(_DISPLACEMENT):
        yield Finding("oil of unknown use", "note", case.layout.fluid, case.name,
                      "nothing says what this oil is for: what is usual for engines (oil pressure, relief, filter and hose) is not judged",
                      source="", cure='give it a name that tells: oil(..., name="engine oil"), "gear oil", "ATF", "hydraulic oil"')


def spilled(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A relief that lets nearly all go that the pump moves: the pressure looks right at the pump, and hardly any oil is on its way."""
    if not is_engine_oil(case.layout):
        return
    limit = limits.oil_consumer_share
    for pump in case.parts_of_kind(_DISPLACEMENT):
        ends = case.ends(pump)
        moved, outlet = abs(ends[1].flow), ends[1].junction
        reliefs = [part for part in case.flows.reached(outlet, up=False) if case.kind_of(part) == "relief valve"] if moved else []
        if not reliefs:
            continue
        gone = sum(abs(case.ends(relief)[0].flow) for relief in reliefs)
        bled = _bled(case, pump)
        share = 1.0 - (gone + bled) / moved
        if share >= limit.si:
            continue
        density = case.liquid_in(pump)["density"]
        left = max(moved - gone - bled, 0.0)
        also = ", what a bleed leads back through a cooler counted with it," if bled > 0.0 else ""
        numbers = {"moved": Quantity(moved / density, "volume_flow"), "left": Quantity(left / density, "volume_flow")}
        shut = shut_feeds(case, limits)
        severity = "stop" if share < _STOP_FROM * limit.si else "fix" if share < _FIX_FROM * limit.si else "watch"
        yield Finding(
            "oil spilled",
            severity,
            case.layout.title(pump),
            case.name,
            f"of {{moved}} the relief{also} lets all go but {{left}}: {{value}} reaches the engine, less than {{limit}}; "
            + ("its way stands shut" if shut else "a relief that opens far too low shows the same"),
            Quantity(max(share, 0.0), "fraction"),
            limit,
            limits.source("oil_consumer_share"),
            shut or f"cold: low revs until it is warm, thinner oil, wider and shorter lines{_past_the_cooler(case)}; warm: check what the relief opens at; if that is right the pump moves more than the engine takes: less displacement, or a slower drive",
            hurt=1.0 - share / limit.si,
            numbers=numbers,
        )


def _past_the_cooler(case: CaseResult) -> str:
    """Of a circuit that has a cooler, and nothing that leads cold oil past it."""
    coolers = any(is_cooler(case, part) for part in case.part_names)
    return (
        ", a thermostat that leads cold oil past the cooler"
        if coolers and not case.parts_of_kind("thermostat", "thermostat bypass")
        else ""
    )


def oil_pressure(case: CaseResult, limits: Limits) -> Iterator[object]:
    """Pressure where the engine draws its oil, against a floor and against what its speed asks."""
    if not is_engine_oil(case.layout):
        return
    for pump in case.parts_of_kind(_DISPLACEMENT):
        places = drawing_places(case, pump)
        if not case.number(f"{pump}.speed") or not places or _scavenges(case, pump):
            continue
        place = min(places, key=lambda junction: gauge_at(case, junction))
        yield from _judged(case, limits, case.reading(place), pump)


def _scavenges(case: CaseResult, pump: str) -> bool:
    """True for a pump without relief that fills another tank than it draws from: what resists on the way is a cooler or a screen."""
    after = case.flows.reached(case.ends(pump)[1].junction, up=False)
    if any(case.kind_of(part) in SPILLS for part in after):
        return False
    return any(is_tank(case, step.stop) and not feeds(case, step.stop, pump) for step in after.values())


def _judged(case: CaseResult, limits: Limits, reading: Reading, pump: str) -> Iterator[Finding]:
    turns = _engine_speed(case, pump)
    floor, share = limits.oil_pressure_floor, limits.oil_pressure_per_1000_rpm
    asked = min(share.si * turns * 60.0 / 1000.0, limits.oil_pressure_enough.si)
    found, low = reading.gauge.si, max(floor.si, 0.5 * asked)
    if found >= max(asked, floor.si):
        return
    name, limit = ("oil_pressure_floor", floor.si) if floor.si > asked else ("oil_pressure_per_1000_rpm", asked)
    why = "at any speed" if name == "oil_pressure_floor" else "at {speed}"
    open_relief = _lets_off(case)
    passed, look, numbers = ("", "", {}) if open_relief else _passed_by_bearings(case, pump)
    yield Finding("oil pressure", "stop" if found < low else "watch", reading.where, case.name,
                  f"oil pressure {{value}} where the engine draws it, under the {{limit}} usual {why}{passed}",
                  Quantity(found, "pressure_gauge"), Quantity(limit, "pressure_gauge"), limits.source(name),
                  shut_feeds(case, limits) or (_CURE_OPEN if open_relief else look + _CURE), hurt=1.0 - found / limit,
                  numbers={"speed": Quantity(turns, "turn_rate"), **numbers})


def _passed_by_bearings(case: CaseResult, pump: str) -> tuple[str, str, dict[str, Quantity]]:
    """(words, what to look at first, numbers) where bearings take most of what a pump moves: their clearance decides on the pressure."""
    bearings = [part for part in _draws_of(case, pump)[1] if case.kind_of(part) == "bearings"]
    moved, passed = abs(case.ends(pump)[1].flow), sum(case.ends(part)[0].flow for part in bearings)
    if not bearings or passed <= _MOST * moved:
        return "", "", {}
    most = max(bearings, key=lambda part: case.ends(part)[0].flow)
    titles, density = " and ".join(dict.fromkeys(case.layout.title(part) for part in bearings)), case.liquid_in(most)["density"]
    told = f"; {{passed}} of the {{moved}} that the pump moves passes through {titles}, at film_viscosity {{film}}"
    return told, f"look whether clearance and film_viscosity are right of {titles}; ", {
        "moved": Quantity(moved / density, "volume_flow"), "passed": Quantity(passed / moved, "fraction"),
        "film": Quantity(case.number(f"{most}.film_viscosity", nan), "fraction")}


_CURE = ("hot: a pump of more displacement, thicker or cooler oil; cold: low revs until it is warm; wider lines and fewer parts before the engine")
_CURE_OPEN = ("the relief is open, so more pump brings nothing: look what stands in the way to the engine (a cock, a cooler, a blocked filter, thick cold oil), "
              "wider lines and fewer parts there; a relief that opens later, if it opens too early")


def _lets_off(case: CaseResult) -> bool:
    return any(case.solution.regime_of(relief) in ("relieving", "wide open") for relief in case.parts_of_kind("relief valve"))


def _engine_speed(case: CaseResult, pump: str) -> float:
    """Turns per second of what drives a pump: what the word `speed` of a case says. The pump's own where no ratio is known."""
    notes = getattr(case.layout, "notes", {}).get(case.name)
    driven = notes.driven.get(pump, {}).get("speed") if notes else None
    return abs(case.number(f"{pump}.speed", nan)) / (driven.factor if driven else 1.0)


def drawing_places(case: CaseResult, pump: str) -> list[int]:
    """Junctions fed by a pump that consumers draw from: the last parts that resist before the oil runs back, and given demands."""
    fed, draws = _draws_of(case, pump)
    last = {step.start: step.flow for part, step in draws.items() if not _is_bleed(case, part, step, draws)}
    reached = {step.stop for step in fed.values()}
    last |= {place: case.number(f"{case.junction_names[place]}.demand", nan) for place in drawn_at(case) if place in reached}
    most = max(last.values(), default=0.0)
    return [place for place, flow in last.items() if flow >= _COUNTS * most]


def _draws_of(case: CaseResult, pump: str) -> tuple[dict[str, Step], dict[str, Step]]:
    """All that a pump feeds, and of it what resists last before the oil runs back."""
    fed = case.flows.reached(case.ends(pump)[1].junction, up=False)
    return fed, {part: step for part, step in fed.items()
                 if case.kind_of(part) in _DRAWS and not is_cooler(case, part) and _runs_back(case, step.stop)}


def _bled(case: CaseResult, pump: str) -> float:
    """What jets of a pump lead back to the tank through coolers [kg/s]: the engine has nothing of it."""
    _, draws = _draws_of(case, pump)
    return sum(step.flow for part, step in draws.items() if _is_bleed(case, part, step, draws))


def _is_bleed(case: CaseResult, part: str, step: Step, draws: Mapping[str, Step]) -> bool:
    """True for a jet that lets oil back through a cooler: the cooler is on its way to the tank, or straight before it where others are bearings."""
    if not case.is_held(step.stop) and any(is_cooler(case, one) for one in case.flows.reached(step.stop, up=False)):
        return True
    if case.kind_of(part) == "bearings" or not any(case.kind_of(one) == "bearings" for one in draws):
        return False
    into, away = case.flows.steps_into, case.flows.steps_from
    here = step.start
    for _ in case.part_names:  # no way is longer, and one that goes round ends here
        if not len(into.get(here, ())) == len(away.get(here, ())) == 1:
            return False
        before = into[here][0]
        if is_cooler(case, before.part):
            return True
        here = before.start
    return False


def _runs_back(case: CaseResult, junction: int) -> bool:
    """True when nothing but lines leads on from here to a tank."""
    return case.is_held(junction) or not any(case.kind_of(part) in (*_DRAWS, *FILTERS, *PUMPS)
                                             for part in case.flows.reached(junction, up=False))
