"""Checks on a regulator that does not hold what it is set to: at a stop, short while it regulates, sensing its own supply."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from flarenut.results import INJECTORS, METERING, PUMPS, REGULATORS, Finding
from flarenut.units import Quantity

from .causes import choked_return, shut_feeds, shut_returns
from .fuel_pressure import is_backward
from .pumps import electric_pumps, most_no_flow_rise
from .reach import ROOT, drawn_at, gauge_at, is_off, joined
from .written import held_of, reference_of, setting_of

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits
    from .written import Set

_NO_FLOW = 1e-5  # kg/s, about 50 mL/h of fuel: seepage
_STOP_FROM = 3.0  # times the limit on a reducing regulator's shortfall: what droop no longer explains
_SLIP = 0.5  # of the setting: a regulator that feels less than that, and is shut, may be set in the wrong unit


def _more(case: CaseResult) -> str:
    """What brings a regulator more, of what there is."""
    volts = any(case.number(f"{pump}.volts") is not None for pump in case.pumps)
    return ", ".join(
        [
            "a larger pump" if case.pumps else "more pressure before it",
            *(["more volts at the pump"] if volts else []),
            "a wider feed",
            *(["a clean filter"] if case.filters else []),
        ]
    )


def serving(case: CaseResult, place: int) -> list[str]:
    """Regulators that hold up a place: what they sense, or the end they hold, is joined to it without a pump or a regulator between.

    place : its number in `junction_names`. A lift pump's own regulator on the far side of a surge tank does not serve the rail.
    """
    reached = joined(case, place, case.parts_of_kind(*PUMPS, *REGULATORS, "relief valve", INJECTORS))[0]
    return [regulator for regulator in case.regulators if _holds(case, regulator) & reached]


def _holds(case: CaseResult, regulator: str) -> set[int]:
    """Junctions that a regulator is to hold up. One that is in backwards touches what it should hold with its return side."""
    inlet, outlet = (end.junction for end in case.ends(regulator)[:2])
    held = {outlet} if case.kind_of(regulator) == "reducing regulator" else {inlet, outlet} if is_backward(case, regulator) else {inlet}
    return held | {case.junction_names.index(name) for name in case.layout.senses.get(regulator, ())[:1] if name in case.junction_names}


def locked(case: CaseResult, regulator: str) -> bool:
    """True for a reducing regulator that is shut with nothing drawn: what stands behind it in the end is a matter of its seat."""
    return (case.kind_of(regulator) == "reducing regulator" and case.solution.regime_of(regulator) == "shut"
            and abs(case.ends(regulator)[0].flow) < _NO_FLOW)


def only_creeps(case: CaseResult, regulator: str, limit: float) -> bool:
    """True for a regulator that is `locked` at a setting within a limit [Pa]: more than that behind it is a leak's, given time."""
    if not locked(case, regulator):
        return False
    setting = setting_of(case, regulator)
    return setting is not None and setting.turns_at <= limit


def senses_itself(case: CaseResult, regulator: str) -> bool:
    """True when its reference is the line that it should hold up: where it senses, or joined to that by lines alone."""
    names = case.layout.senses.get(regulator, ())
    if len(names) < 2 or any(name not in case.junction_names for name in names):
        return False
    sensed, reference = (case.junction_names.index(name) for name in names)
    return sensed == reference or (not case.is_held(reference) and reference in joined(case, sensed, case.parts_of_kind(*METERING))[0])


def own_supply(case: CaseResult, limits: Limits) -> Iterator[object]:
    """A regulator whose reference is the pressure it should hold over that reference: it never moves."""
    for regulator in case.regulators:
        if senses_itself(case, regulator):
            reference = case.layout.junction_title(case.layout.senses[regulator][1])
            yield Finding(
                "regulator senses its own supply",
                "stop",
                case.layout.title(regulator),
                case.name,
                f"its reference, {reference}, is the line it should hold up: what it feels over its reference is next to nothing, "
                "whatever the pump does, and it does not regulate",
                source="",
                hurt=ROOT,
                cure='say where its reference hose goes: reference="manifold", or "ambient" with the hose off',
            )


def at_stop(case: CaseResult, limits: Limits, regulator: str, code: str) -> Iterator[Finding]:
    """A regulator that is shut or wide open holds nothing; says by how much the pressure is off."""
    title, kind = case.layout.title(regulator), case.kind_of(regulator)
    if is_backward(case, regulator) or senses_itself(case, regulator):
        return  # spoken of elsewhere
    setting, held = setting_of(case, regulator), held_of(case, regulator)
    if setting is None or held is None:
        yield Finding("regulator at a stop", "fix", title, case.name, f"is {code.removeprefix('valve ')}: it holds no pressure")
    elif (code == "valve shut") == (kind == "bypass regulator"):
        yield _starved(case, limits, regulator, setting, held)
    elif kind == "bypass regulator":
        above = Quantity(max(held - setting.pressure, 0.0), "pressure_difference")
        limit = limits.return_rise_injection
        shut, opened = shut_returns(case, regulator)
        choked = None if shut else choked_return(case, regulator)
        beside, cure, numbers = choked[1] if choked else (f"; {shut}" if shut else "", opened or _SPILLS_MORE, {})
        yield Finding("regulator wide open", "fix", title, case.name,
                      f"wide open: the pressure it should hold stands {{value}} over {setting.words()}{beside}",
                      above, limit, limits.source("return_rise_injection"),
                      cure, hurt=above.si / limit.si, numbers={**setting.numbers(), **numbers})
    else:
        yield _closed(case, regulator, title, held)


_SPILLS_MORE = "a wider return line, a regulator with a larger seat, or a smaller pump"


def _starved(case: CaseResult, limits: Limits, regulator: str, setting: Set, held: float) -> Finding:
    """A bypass regulator with nothing to spill; a reducing regulator that can open no further."""
    title, bypass = case.layout.title(regulator), case.kind_of(regulator) == "bypass regulator"
    if is_off(case):
        return _unpumped(case, title)
    short = Quantity(max(setting.turns_at - held, 0.0), "pressure_difference")
    if _stands_before_pumps(case, regulator):
        return Finding(
            "regulator before the pump",
            "stop",
            title,
            case.name,
            "stands before the pump, where there is no pressure to reduce",
            source="",
            cure="put it after the pump",
            hurt=short.si / setting.pressure,
        )
    if (beyond := _above_pumps(case, limits, regulator, setting, short.si)) is not None:
        return beyond
    limit = limits.regulator_shortfall.si * setting.pressure
    under = setting.turning_words("opens" if bypass else "locks up", "its setting of {setting}")
    there, numbers = _where_drawn(case, regulator)
    what = (
        "nothing is left to spill" if bypass else "it is wide open"
    ) + f"; the pressure it should hold is {{value}} under {under}{there}"
    asks = "first check the number of its setting and its unit; then " if held < _SLIP * setting.turns_at else ""
    return Finding("regulator starved", "stop" if short.si > limit else "watch", title, case.name, what, short,
                   Quantity(limit, "pressure_difference"), limits.source("regulator_shortfall"),
                   shut_feeds(case, limits) or asks + _more(case), hurt=short.si / limit, numbers={**setting.numbers(), **numbers})


def _stands_before_pumps(case: CaseResult, regulator: str) -> bool:
    """True for a reducing regulator that pumps draw through and none feeds."""
    if case.kind_of(regulator) != "reducing regulator":
        return False
    before = case.flows.reached(case.ends(regulator)[0].junction, up=True)
    after = case.flows.reached(case.ends(regulator)[1].junction, up=False)
    return not set(case.pumps) & set(before) and bool(set(case.pumps) & set(after))


def _above_pumps(case: CaseResult, limits: Limits, regulator: str, setting: Set, short: float) -> Finding | None:
    """A setting that no flow, however small, lets the pumps reach: most often a slip of number or unit."""
    most = _most_of_pumps(case)
    reference = reference_of(case, regulator)
    asked = None if most is None or reference is None else setting.turns_at + reference - case.ambient.si
    if most is None or asked is None or asked <= most:
        return None
    return Finding("regulator set above the pump", "stop", case.layout.title(regulator), case.name,
                   f"to hold {setting.words()} it would take {{value}}, and the pump raises no more than {{limit}} at no flow: "
                   "is the setting right, and its unit?", Quantity(asked, "pressure_gauge"), Quantity(most, "pressure_gauge"),
                   "the pump's curve", "check the number and its unit, bar or psi; else a pump for that pressure",
                   hurt=short / (limits.regulator_shortfall.si * setting.pressure), numbers=setting.numbers())


def _unpumped(case: CaseResult, title: str) -> Finding:
    """No pump runs. With nothing drawn that is a car at rest."""
    drawn = drawn_at(case) or any(case.number(f"{bank}.duty", 0.0) > 0.0 for bank in case.injectors)
    return Finding("pump off", "stop" if drawn else "note", title, case.name,
                   "no pump runs, so that nothing holds its pressure up" + (", and liquid is asked for" if drawn else ""),
                   source="", cure="let the pump run in this case" if drawn else "usual with the engine off")


def _most_of_pumps(case: CaseResult) -> float | None:
    """Gauge pressure that all pumps together hold up at no flow and full volts [Pa]; None where that of one is not known."""
    if not case.pumps or set(case.pumps) - set(electric_pumps(case)):
        return None
    rises = [most_no_flow_rise(case, pump) for pump in case.pumps]
    vents = [case.number(f"{name}.vent", 0.0) for name in case.junction_names]
    known = [rise for rise in rises if rise is not None]
    return None if len(known) < len(rises) else max(0.0, *vents) + sum(known)


def _closed(case: CaseResult, regulator: str, title: str, held: float) -> Finding:
    """A reducing regulator at lock-up: with nothing drawn, or with so little that its all but closed valve passes it."""
    before = case.ends(regulator)[0]
    flow = abs(before.flow) / case.liquid_in(regulator)["density"]
    numbers = {"before": Quantity(before.static - case.ambient.si, "pressure_gauge"), "held": Quantity(held, "pressure_difference"),
               "flow": Quantity(flow, "volume_flow")}
    if locked(case, regulator):
        return Finding(
            "regulator shut",
            "note",
            title,
            case.name,
            "shut: nothing is drawn, and the line before it stands at {before}; a seat "
            "that leaks lets what is behind it creep up to that, given time, and what is shown there is such a leak's",
            cure="usual with no demand; check that pump and hose bear it",
            numbers=numbers,
        )
    return Finding("regulator all but closed", "note", title, case.name,
                   "all but closed: the {flow} drawn is so little that it passes at the lock-up pressure, {held}; the line before it "
                   "stands at {before}", cure="usual with little demand; check that pump and hose bear it", numbers=numbers)


def falls_short(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A reducing regulator that still regulates, far under its setting; and places that draw from it at far less than it holds."""
    share = limits.reducing_shortfall.si
    for regulator in case.parts_of_kind("reducing regulator"):
        setting, held = setting_of(case, regulator), held_of(case, regulator)
        if setting is None or held is None or senses_itself(case, regulator) or is_off(case):
            continue
        limit, short = share * setting.pressure, setting.turns_at - held
        regulating = case.solution.regime_of(regulator) == "regulating"
        if regulating and short > limit and (beyond := _above_pumps(case, limits, regulator, setting, short)) is not None:
            yield beyond
        elif regulating and short > limit:
            there, numbers = _where_drawn(case, regulator)
            yield Finding(
                "regulator short",
                "stop" if short > _STOP_FROM * limit else "watch",
                case.layout.title(regulator),
                case.name,
                f"regulating, but the pressure it should hold is {{value}} under "
                f"{setting.turning_words('locks up', 'its setting of {setting}')}{there}",
                Quantity(short, "pressure_difference"),
                Quantity(limit, "pressure_difference"),
                limits.source("reducing_shortfall"),
                f"a regulator with a larger seat; if the line before it stands no higher than its setting, {_more(case)}",
                hurt=short / limit - 1.0,
                numbers={**setting.numbers(), **numbers},
            )
        elif regulating and (place := _lowest(case, regulator)) is not None:
            yield from _line_after(case, limits, setting, place, limit)


def _line_after(case: CaseResult, limits: Limits, setting: Set, place: int, limit: float) -> Iterator[Finding]:
    """The place that draws stands far under what the regulator holds: its line, its height or an acceleration took it."""
    found = gauge_at(case, place)
    short = setting.turns_at - found
    if short > limit:
        yield Finding("pressure where drawn", "stop" if short > _STOP_FROM * limit else "watch",
                      case.layout.junction_title(case.junction_names[place]), case.name,
                      "{here} where it is drawn, {value} under the {setting} that the regulator is set to",
                      Quantity(short, "pressure_difference"), Quantity(limit, "pressure_difference"), limits.source("reducing_shortfall"),
                      "a regulator nearer to it and no lower, a wider line between", hurt=short / limit - 1.0,
                      numbers={"here": Quantity(found, "pressure_gauge"), "setting": Quantity(setting.pressure, "pressure_difference")})


def _lowest(case: CaseResult, regulator: str) -> int | None:
    """The place of least pressure that draws liquid behind a reducing regulator, by its place in `junction_names`, or None."""
    outlet = case.ends(regulator)[1].junction
    behind = {outlet} | {step.stop for step in case.flows.reached(outlet, up=False).values()}
    return min((place for place in drawn_at(case) if place in behind), key=lambda place: gauge_at(case, place), default=None)


def _where_drawn(case: CaseResult, regulator: str) -> tuple[str, dict[str, Quantity]]:
    """"; {here} at the bowl", where a reducing regulator feeds a place; and the number."""
    place = None if case.kind_of(regulator) != "reducing regulator" else _lowest(case, regulator)
    if place is None:
        return "", {}
    return (f", and {{here}} stands at {case.layout.junction_title(case.junction_names[place])}",
            {"here": Quantity(gauge_at(case, place), "pressure_gauge")})
