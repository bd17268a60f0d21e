"""Checks on lines and filters: return rise, velocities, filter drop, laminar flow that has no room to settle."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import pi
from typing import TYPE_CHECKING

from flarenut.results import Finding, at_rest
from flarenut.units import Quantity

from .causes import shut_returns
from .costliest import costliest, without
from .fuel_pressure import is_backward
from .limits import limit_for
from .roles import roles_of
from .wider import Tried, wider
from .written import setting_of

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from ..results.paths import Step
    from .limits import Limits

_ROLES = {
    "suction": ("suction_velocity", "a wider line before the pump"),
    "return": ("return_velocity", "a wider return line"),
    "feed": ("feed_velocity", "a wider feed line"),
}


def return_rise(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Pressure after a bypass regulator over the tank it spills to. Fuel only.

    Back-pressure hardly matters while the regulator can open further and adds directly once it is wide open, so a
    regulator that still regulates gets a milder word.
    """
    if case.layout.family != "fuel":
        return
    for regulator in case.parts_of_kind("bypass regulator"):
        if is_backward(case, regulator) or case.solution.regime_of(regulator) == "shut" or case.ends(regulator)[0].flow <= 0.0:
            continue  # what stands there is no back-pressure: it spills nothing
        outlet = case.ends(regulator)[1].junction
        if case.is_held(outlet):
            continue  # it spills straight into its tank
        way = case.flows.downstream(outlet)
        if not way or not case.is_held(way[-1].stop):
            continue
        rise = case.reading(outlet).against(case.reading(way[-1].stop))
        setting = setting_of(case, regulator)
        carburettor = not case.injectors and setting is not None and setting.pressure < limits.carburettor_below.si
        name = "return_rise_carburettor" if carburettor else "return_rise_injection"
        limit = getattr(limits, name)
        if rise.si <= limit.si:
            continue
        shut, opened = shut_returns(case, regulator)
        spent = case.solution.regime_of(regulator) == "wide open"
        made_of, cure, numbers = _of_height(rise, limit, at_rest(case, outlet, way[-1].stop, case.liquid_in(regulator)["density"]))
        tried = Tried("", opened, {}) if shut else _freer_return(case, way, limit, cure)
        what = f"return back-pressure {{value}} over the tank, above {{limit}}{made_of}; " + (
            "the regulator is wide open, so all of it adds to the fuel pressure" if spent else
            "the regulator still holds, with less room to open") + (f"; {shut}" if shut else tried.beside)
        yield Finding("return rise", "fix" if spent or carburettor else "watch", case.layout.title(regulator), case.name, what,
                      rise, limit, limits.source(name), tried.cure, hurt=rise.si / limit.si - 1.0, numbers={**numbers, **tried.numbers})


def _freer_return(case: CaseResult, way: Sequence[Step], limit: Quantity, cure: str) -> Tried:
    """What lessens a return rise, tried: the part that takes most of it where that is no line, else wider lines. `cure`: by the height alone."""
    if _WIDER not in cure:
        return Tried("", cure, {})
    rise = _against(way[0].start, way[-1].stop)
    worst = costliest(case, way)
    chosen = without(case, worst, rise) if worst is not None and worst.kind != "line" else None
    if chosen is None:
        cure += _NO_FILTER if any(step.part in case.filters for step in way) else ""
        no_help = f"{_LOWER}; no wider line helps" if _LOWER in cure else _FEWER
        found = wider(case, [step.part for step in way], rise, cure, no_help)
        chosen = without(case, worst, rise) if found.cure == no_help else None
        return chosen or found
    left = chosen.numbers["freed"].si > limit.si
    return chosen._replace(cure=f"{chosen.cure}; then {cure}") if left else chosen


_FEWER = "fewer parts that resist in the return, or less flow; no wider line helps"
_WIDER = "a wider or shorter return line, fewer tight fittings, a wider tank inlet"
_NO_FILTER = ", no filter in the return"
_LOWER = "bring the regulator nearer to the height of the tank"


def _of_height(rise: Quantity, limit: Quantity, head: float | None) -> tuple[str, str, dict[str, Quantity]]:
    """How much of a return rise is height: words, cure, numbers. `head` [Pa]: the rise if the liquid stood still, or None."""
    if head is None or abs(head) < 0.05 * limit.si:
        return "", _WIDER, {}
    lost = rise.si - head
    numbers = {"lost": Quantity(lost, "pressure_difference"), "head": Quantity(abs(head), "pressure_difference")}
    if head < 0.0:
        return " ({lost} lost on the way, less {head} that the height above the tank gives back)", _WIDER, numbers
    words = " ({lost} lost on the way, {head} for the height up to the tank)"
    if lost <= 0.05 * rise.si:
        return words, f"{_LOWER}; no wider line helps", numbers
    return words, _WIDER if lost > limit.si else f"{_LOWER}; {_WIDER}", numbers


def velocities(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """The fastest line before the pumps, after them and back to the tank, for liquids that a limit is known of."""
    for role, parts in roles_of(case).items():
        judged, cure = _ROLES[role]
        name = limit_for(case.layout, judged)
        if name is None:
            continue
        limit = getattr(limits, name)
        fast = {part: speed for part in parts if (speed := max(end.velocity for end in case.ends(part))) > limit.si}
        if not fast:
            continue
        worst = max(fast, key=fast.__getitem__)
        others = list(dict.fromkeys(case.layout.title(part) for part in fast if part != worst))
        also = f"; also in {', '.join(others)}" if others else ""
        tried = wider(case, fast, _fastest_in(worst), cure,
                      "less flow: a wider line draws as much more as it is wider", told_of=True)
        yield Finding(f"{role} velocity", "fix" if name.endswith("suction_velocity") else "watch", case.layout.title(worst), case.name,
                      f"{{value}} in a {role} line, above {{limit}}{also}{tried.beside}", Quantity(fast[worst], "velocity"), limit,
                      limits.source(name), tried.cure, hurt=fast[worst] / limit.si - 1.0, numbers=tried.numbers)


def filter_drop(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """What fuel filters cost, without the height between their ends."""
    if case.layout.family != "fuel":
        return
    limit = limits.fuel_filter_drop
    for part in case.filters:
        title, (inlet, outlet) = case.layout.title(part), case.ends(part)
        standing = at_rest(case, inlet.junction, outlet.junction, case.liquid_in(part)["density"]) or 0.0
        drop = Quantity(inlet.total - outlet.total - standing, "pressure_difference")
        if drop.si > limit.si:
            yield Finding("filter drop", "fix", title, case.name, "friction loss {value}, above {limit}", drop, limit,
                          limits.source("fuel_filter_drop"), "change the element, or fit a larger filter",
                          hurt=drop.si / limit.si - 1.0)


def _against(place: int, other: int) -> Callable[[CaseResult], Quantity]:
    return lambda case: case.reading(place).against(case.reading(other))


def _fastest_in(part: str) -> Callable[[CaseResult], Quantity]:
    return lambda case: Quantity(max(end.velocity for end in case.ends(part)), "velocity")


_SETTLES_IN = 0.06  # bores per Reynolds number until laminar flow has its profile (handbook value, from memory)
_SETTLING_LOSS = 1.25  # velocity heads lost in that beyond the friction of settled flow: Hagenbach's, 1.2 to 1.3 (memory)
_LAMINAR_TO = 2300.0  # Reynolds number, as textbooks have it; the friction law begins to leave laminar flow at 2000, hardly so far
_WORTH_SAYING = 690.0  # Pa, 0.1 psi: less moves no choice


def settling(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Laminar flow in lines so short that it settles over much of them, which costs more than the friction that the answer has.

    The bound is the whole of that loss; behind another line of the same bore, or in one much shorter still, it is less.
    """
    limit = limits.settling_share
    found = {part: heads for part in case.parts_of_kind("line") if (heads := _unsettled(case, part, limit.si)) > _WORTH_SAYING}
    if not found:
        return
    worst = max(found, key=found.__getitem__)
    others = list(dict.fromkeys(case.layout.title(part) for part in found if part != worst))
    also = f"; also in {', '.join(others)}" if others else ""
    yield Finding(
        "laminar flow unsettled",
        "note",
        case.layout.title(worst),
        case.name,
        f"laminar flow is still settling over more than {{limit}} of its length: it may lose up to {{value}} more than shown{also}",
        Quantity(found[worst], "pressure_difference"),
        limit,
        limits.source("settling_share"),
        "leave that much to spare, or measure it",
        hurt=found[worst] / _WORTH_SAYING,
    )


def _unsettled(case: CaseResult, line: str, share: float) -> float:
    """What settling may cost in a line [Pa]; 0 where flow is not laminar, or the line long enough."""
    bore, length = case.number(f"{line}.bore"), case.number(f"{line}.length")
    if not bore or not length:
        return 0.0
    liquid, flow = case.liquid_in(line), abs(case.ends(line)[0].flow)
    reynolds = 4.0 * flow / (pi * bore * liquid["viscosity"])
    if reynolds > _LAMINAR_TO or _SETTLES_IN * reynolds * bore <= share * length:
        return 0.0
    speed = 4.0 * flow / (pi * bore**2 * liquid["density"])
    return _SETTLING_LOSS * 0.5 * liquid["density"] * speed**2
