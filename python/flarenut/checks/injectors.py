"""Checks on injectors: pressure across them too high or too low, held open too long, too small."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import sqrt
from typing import TYPE_CHECKING

from flarenut.results import Finding
from flarenut.units import Quantity

from .causes import choked_return, shut_feeds, shut_returns
from .fuel_pressure import is_backward
from .reach import is_off
from .regulators import only_creeps, senses_itself, serving
from .written import held_of, notes_of, reference_of, setting_of

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits

_MOST = 0.5  # of what injectors lack
_LEAST = 1e-3  # of the fuel asked: an engine that gets less stands still, and how much less ranks nothing
_SHORT = 1e-6  # relative; a demand that is met is met far closer


def _banks(case: CaseResult, shut: bool = False) -> Iterator[tuple[str, float, float]]:
    """(bank, pressure across it, rated pressure) of banks whose rating is known, and that inject; those `shut` as well if asked."""
    for bank in case.injectors:
        rail, manifold = (end.total for end in case.ends(bank)[:2])
        rated = case.number(f"{bank}.rated_pressure")
        if rated is not None and (shut or case.number(f"{bank}.duty", 0.0) > 0.0):
            yield bank, rail - manifold, rated


def too_much_pressure(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Far more pressure across injectors than they were rated at: nothing limits it, or what should cannot."""
    for bank, across, rated in _banks(case, shut=True):
        limit, title, regulators = limits.injector_pressure.si * rated, case.layout.title(bank), _serving(case, bank)
        if any(only_creeps(case, regulator, limit) for regulator in regulators):
            continue  # nothing is drawn: what a shut seat lets by, given time
        if across > limit:
            why, cure = _unlimited(case, regulators)
            yield Finding("injector pressure", "stop", title, case.name,
                          f"{{value}} across the injectors, above {{limit}}: {why}, and they may not open against it",
                          Quantity(across, "pressure_difference"), Quantity(limit, "pressure_difference"),
                          limits.source("injector_pressure"), cure, hurt=across / limit - 1.0)
        elif not regulators and across > limits.unregulated_pressure.si * rated:
            yield Finding("no regulator", "fix", title, case.name,
                          "no regulator: the fuel pressure is what the pump makes of it, {across} across injectors rated at {rated}",
                          source="", cure=_REGULATOR, hurt=across / rated - 1.0, numbers={
                              "across": Quantity(across, "pressure_difference"), "rated": Quantity(rated, "pressure_difference")})


_REGULATOR = "a return with a regulator, or a reducing regulator before the rail"


def _serving(case: CaseResult, bank: str) -> list[str]:
    """Regulators that hold up the rail of a bank."""
    return serving(case, case.ends(bank)[0].junction)


def _unlimited(case: CaseResult, regulators: Sequence[str]) -> tuple[str, str]:
    """Why the pressure is so high, and what to do. `regulators`: of this rail."""
    if not regulators:
        return "nothing limits the fuel pressure", _REGULATOR
    for regulator in regulators:
        title, regime = case.layout.title(regulator), case.solution.regime_of(regulator)
        if is_backward(case, regulator):
            return f"{title} is in backwards", f"turn {title} round"
        if senses_itself(case, regulator):
            return f"{title} senses its own supply and does not regulate", "lead its reference hose to the manifold"
        if case.kind_of(regulator) == "bypass regulator" and regime == "wide open":
            shut, opened = shut_returns(case, regulator)
            if shut:
                return f"{title} is wide open, and {shut}", opened
            if choked := choked_return(case, regulator):
                return f"{title} is wide open and cannot spill enough through {choked[0]}", choked[1].cure
            return (f"{title} is wide open and cannot spill enough", "a wider return line, a regulator with a larger seat, or a smaller pump")
        if case.kind_of(regulator) == "bypass regulator" and regime == "shut":
            return f"{title} is shut: it is set higher still", f"check the number and the unit of the setting of {title}"
    return "the regulator holds it so", "check the regulator's setting, and what the injectors were rated at"


def too_little_pressure(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Far less pressure across injectors than they were rated at, for another reason than a regulator that is starved."""
    limit = limits.injector_pressure_least.si
    for bank, across, rated in _banks(case):
        share, regulators = across / rated, _serving(case, bank)
        if is_off(case) or share >= limit or _follows_no_boost(case, bank, limits) or _is_starved(case, regulators, rated - across):
            continue
        none = not regulators
        yield Finding("injector pressure low", "stop", case.layout.title(bank), case.name,
                      "{value} across the injectors, under {limit}: far below the {rated} they were rated at" + (
                          "; no regulator holds the fuel up" if none else ""),
                      Quantity(across, "pressure_difference"), Quantity(limit * rated, "pressure_difference"),
                      limits.source("injector_pressure_least"),
                      "a regulator between the rail and the return" if none else
                      "check the regulator's setting and reference, the pump's volts, the feed and its filter", hurt=1.0 - share / limit,
                      numbers={"rated": Quantity(rated, "pressure_difference")})


def _is_starved(case: CaseResult, regulators: Sequence[str], lack: float) -> bool:
    """True when a regulator of this rail can do no more, and what it falls short is most of what the injectors lack [Pa].

    It is spoken of in `regulators`. One that falls a hair short says nothing of injectors that stand far lower.
    """
    stops = {"bypass regulator": "shut", "reducing regulator": "wide open"}
    for regulator in regulators:
        if case.solution.regime_of(regulator) == stops[case.kind_of(regulator)]:
            setting, held = setting_of(case, regulator), held_of(case, regulator)
            if setting is None or held is None or setting.turns_at - held > _MOST * lack:
                return True
    return False


def _follows_no_boost(case: CaseResult, bank: str, limits: Limits) -> tuple[str, float] | None:
    """(regulator, boost that it does not follow [Pa]) of a regulator whose reference stands below a bank's manifold, or None."""
    manifold = case.ends(bank)[1].total
    for regulator in _serving(case, bank):
        reference, setting = reference_of(case, regulator), setting_of(case, regulator)
        if reference is None or setting is None or held_of(case, regulator) is None or senses_itself(case, regulator):
            continue
        if manifold - reference > limits.boost_not_followed.si * setting.pressure:
            return regulator, manifold - reference
    return None


def boost_not_followed(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A regulator that boost does not reach: the injectors lose all the boost there is."""
    for bank, across, rated in _banks(case):
        found = _follows_no_boost(case, bank, limits)
        if found is None or is_off(case):
            continue
        regulator, boost = found
        limit = limits.injector_pressure_least.si * rated
        names = [case.layout.junction_title(case.layout.senses[regulator][1]), case.layout.title(regulator)]
        # A rail that fuel does not pass on its way back is that of a returnless engine, whose computer often knows the boost.
        severity = "watch" if across >= limit else "fix" if _is_dead_ended(case, bank) else "stop"
        yield Finding("boost not followed", severity, case.layout.title(bank), case.name,
                      f"{{value}} across the injectors, {'under' if across < limit else 'still over'} {{limit}}; rated at {{rated}}: the "
                      f"reference of {names[1]} is {names[0]}, so that {{boost}} in the manifold pushes back and the engine runs leaner with boost, "
                      "unless its computer corrects for it",
                      Quantity(across, "pressure_difference"), Quantity(limit, "pressure_difference"),
                      limits.source("injector_pressure_least"), 'lead the reference hose to the manifold: reference="manifold"',
                      hurt=boost / rated,
                      numbers={"rated": Quantity(rated, "pressure_difference"), "boost": Quantity(boost, "pressure_difference")})


def _is_dead_ended(case: CaseResult, bank: str) -> bool:
    """True when no regulator lets fuel go on from a rail to the tank."""
    onward = case.flows.reached(case.ends(bank)[0].junction, up=False, skip=case.injectors)
    return not any(case.kind_of(part) == "bypass regulator" for part in onward)


def held_open(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Injectors that are open nearly all the time, or all of it, where somebody said how long."""
    notes, limit = notes_of(case), limits.injector_duty
    for bank in case.injectors:
        duty, title = case.number(f"{bank}.duty", 0.0), case.layout.title(bank)
        if duty <= limit.si + _SHORT or any("duty" in key for key in (notes.assumed.get(title, ()) if notes else ())):
            continue
        full = duty > 1.0 - _SHORT
        cure = "larger injectors, or more pressure across them"
        if _unfed(case, limits, [bank]):
            cure = shut_feeds(case, limits) or "a larger pump: more flow at the pressure that is set"
        yield Finding("injector duty", "fix" if full else "watch", title, case.name,
                      "open {value} of the time, above {limit}: " + ("nothing is left to meter with" if full else "little is left for hot "
                      "days, low volts and worn pumps, and they meter badly when they hardly close"), Quantity(duty, "fraction"), limit,
                      limits.source("injector_duty"), cure, hurt=duty / limit.si - 1.0)


def too_small(case: CaseResult, limits: Limits) -> Iterator[object]:
    """Held open all the time, and still less fuel than the power of the case burns."""
    asked = case.layout.fuel_asked.get(case.name)
    if asked is None or not case.injectors:
        return
    passed = max(sum(float(case.solution.flow_of(bank)) for bank in case.injectors), 0.0)  # a hair may seep back where nothing comes
    if passed < asked * (1.0 - _SHORT):
        unfed = _unfed(case, limits, case.injectors)
        what, cure, numbers = ("", _LARGER, {}) if unfed is None else _more_pump(case, limits, unfed, asked, passed)
        where = ", ".join(dict.fromkeys(case.layout.title(bank) for bank in case.injectors))
        yield Finding("injectors too small", "stop", where, case.name,
                      "held open all the time they pass {value}; the power of this case burns {limit}, so the engine runs lean" + what,
                      Quantity(passed, "mass_flow"), Quantity(asked, "mass_flow"), "power times specific_consumption",
                      cure, hurt=asked / max(passed, _LEAST * asked) - 1.0, numbers=numbers)


_LARGER = "larger injectors, more of them, or more fuel pressure across them"


def _unfed(case: CaseResult, limits: Limits, banks: Sequence[str]) -> str | None:
    """The regulator of these rails that stands far under its setting since the pump gives no more, or None.

    Larger injectors would get no more either.
    """
    for regulator in dict.fromkeys(regulator for bank in banks for regulator in _serving(case, bank)):
        setting, held = setting_of(case, regulator), held_of(case, regulator)
        stop = "shut" if case.kind_of(regulator) == "bypass regulator" else "wide open"
        if setting is None or held is None or case.solution.regime_of(regulator) != stop or is_backward(case, regulator):
            continue
        if setting.turns_at - held > limits.regulator_shortfall.si * setting.pressure:
            return regulator
    return None


def _more_pump(case: CaseResult, limits: Limits, regulator: str, asked: float, passed: float) -> tuple[str, str, dict[str, Quantity]]:
    """Words, cure and numbers where the pressure is missing that the injectors are to work at."""
    setting, held, reference = setting_of(case, regulator), held_of(case, regulator), reference_of(case, regulator)
    if setting is None or held is None or reference is None:
        return "", _LARGER, {}
    if shut := shut_feeds(case, limits):
        return "; the way to them is all but shut: larger ones would get no more", shut, {}
    what = f"; {case.layout.title(regulator)} feels {{held}}, far under {setting.words()}: larger ones would get no more"
    bank = case.injectors[0]
    rail = case.layout.junction_title(case.junction_names[case.ends(bank)[0].junction])
    flow = Quantity(asked / case.liquid_in(bank)["density"], "volume_flow")
    at_rail = Quantity(setting.turns_at + reference - case.ambient.si, "pressure_gauge")
    # Through the same injectors, held open, flow goes with the root of the pressure across them.
    enough = held > 0.0 and passed * sqrt(setting.turns_at / held) >= asked
    what += f". Asked of the pump are {{pump_flow}}, and some to spill, with {{pump_pressure}} left at {rail}"
    return what, _MORE_PUMP if enough else f"{_MORE_PUMP}, and larger injectors as well", {
        **setting.numbers(), "held": Quantity(held, "pressure_difference"), "pump_flow": flow, "pump_pressure": at_rail}


_MORE_PUMP = "a pump of that flow at that pressure, its volts, a wider feed, clean filters"
