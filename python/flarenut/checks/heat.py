"""Checks on how warm liquids get: oil, transmission and hydraulic fluid, coolant near boiling; thermostats, coolers without air, hot lines.

What is judged was found with pressures and flows. A temperature that the builder gave a tank of such a case is judged as well, and told as his own.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import nan
from typing import TYPE_CHECKING

from flarenut.results import Finding
from flarenut.results.warmth import boiling_margin
from flarenut.units import Quantity

from .heat_cures import Cooling, cooling_for, in_still_air, warmer_for
from .heat_measures import by_boiling, by_temperature
from .limits import is_engine_oil, least_temperature_for, temperatures_for
from .oil import drawing_places
from .roles import is_tank
from .suction import sources_of
from .written import notes_of

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits

_STEP = 10.0  # [K]: how far beyond a limit on temperature counts as once beyond it
_FLOWS, _WARMER = 1e-3, 5.0  # kg/s, K: less than this is no cooling to speak of
_COLDEST = 5.0  # [K]: a loop that is held this far under what its limit asks for runs cool
_LEAST_HEAT = 20.0  # [W]: less does not matter, whatever its share


def temperature_beyond(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """The hottest oil or fluid that pumps draw, in its tank where it has one, or where an engine draws its oil, against what is usual for it."""
    names = temperatures_for(case.layout)
    if not names or not case.finds_temperatures:
        return
    place = _hottest_place(case)
    if place is None:
        return
    found = float(case.solution.temperature_of(case.junction_names[place]))
    beyond = [(name, severity) for name, severity in names if found > getattr(limits, name).si]
    if beyond:
        name, severity = beyond[-1]  # they rise
        limit, junction = getattr(limits, name), case.junction_names[place]
        told = cooling_for(case, by_temperature(case, junction))
        given = "" if _is_nan(case.number(f"{junction}.temperature", nan)) else ", as you gave it"
        yield Finding(
            "liquid too hot",
            severity,
            case.layout.junction_title(junction),
            case.name,
            f"{{value}}{given}, above the {{limit}} that is {_MEANS[name]}{told.beside}",
            Quantity(found, "temperature"),
            limit,
            limits.source(name),
            told.cure,
            hurt=(found - limit.si) / _STEP,
            numbers=told.numbers,
        )


_MEANS = {"oil_temperature_road": "usual on the road; on a track oil may get hotter", "oil_temperature_track": "usual on a track",
          "oil_temperature_alarm": "the end for engine oil: films break and it burns to varnish",
          "transmission_temperature": "usual for transmission fluid, which ages twice as fast with every few degrees more",
          "transmission_temperature_alarm": "the end for transmission fluid: varnish, hard seals, slipping clutches",
          "hydraulic_temperature": "usual for hydraulic fluid and its seals"}


def _hottest_place(case: CaseResult) -> int | None:
    places = set()
    for pump in (one for one in case.pumps if case.solution.regime_of(one) != "stopped"):
        tanks = {place for place in sources_of(case, pump) if is_tank(case, place)}
        places |= tanks or {case.ends(pump)[0].junction}
    if is_engine_oil(case.layout):
        places |= {place for pump in case.parts_of_kind("positive displacement pump") for place in drawing_places(case, pump)}
    return max(places, key=lambda place: float(case.solution.temperature_of(case.junction_names[place])), default=None)


_TOO_COOL = {  # limit -> what the finding is called, what it means
    "oil_temperature_least": ("oil runs cool", "that drives water and fuel out of oil: matters where it runs so for long"),
    "transmission_temperature_least": (
        "transmission fluid runs cool",
        "from which it is thin enough: thick fluid drags, shifts late and hard, and may keep "
        "the converter from locking: matters where it runs so for long",
    ),
}


def runs_cool(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Engine oil or transmission fluid whose steady temperature stays under what is good for it; not where a case says how warm its tank is."""
    own = least_temperature_for(case.layout)
    if own is None or not case.finds_temperatures:
        return
    limit, (code, means) = getattr(limits, own), _TOO_COOL[own]
    for name in case.junction_names:
        mixes = case.number(f"{name}.vent") is not None and _is_nan(case.number(f"{name}.temperature"))
        found = float(case.solution.temperature_of(name))
        if mixes and found < limit.si - _COLDEST:
            yield Finding(
                code,
                "note",
                case.layout.junction_title(name),
                case.name,
                f"settles at {{value}}, under the {{limit}} {means}",
                Quantity(found, "temperature"),
                limit,
                limits.source(own),
                warmer_for(case, name),
                hurt=(limit.si - found) / _STEP,
            )


def _is_nan(number: float | None) -> bool:
    return number is not None and number != number


def near_boiling(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Coolant or water where it is nearest to boiling; what boils already is told elsewhere."""
    limit = limits.coolant_boiling_margin
    found = boiling_margin(case) if case.layout.family in ("coolant", "water") else None
    if found is None or not 0.0 < found.kelvin.si < limit.si:
        return
    told = cooling_for(case, by_boiling()) if case.finds_temperatures else Cooling("", "less heat or more flow")
    yield Finding(
        "near boiling",
        "fix",
        found.where,
        case.name,
        "{value} below boiling, less than {limit}: {pascal} above its vapour pressure at {temperature}; metal around is hotter, and boils it there "
        f"first{told.beside}",
        found.kelvin,
        limit,
        limits.source("coolant_boiling_margin"),
        f"a pressure cap of the system's rating; {told.cure}; never open it hot",
        hurt=1.0 - found.kelvin.si / limit.si,
        numbers={**told.numbers, "pascal": found.pascal, "temperature": found.temperature},
    )


def thermostat_shut(case: CaseResult, limits: Limits) -> Iterator[object]:
    """A thermostat that is shut although liquid elsewhere in its circuit is hot enough to open it wide."""
    if not case.finds_temperatures:
        return
    for part in case.parts_of_kind("thermostat"):
        full, own = case.number(f"{part}.full_temperature", nan), case.liquid_in(part)["temperature"]
        hottest = max(
            (end for one in case.part_names for end in case.ends(one) if abs(end.flow) > _FLOWS),
            key=lambda end: end.temperature,
            default=None,
        )
        if case.solution.regime_of(part) != "shut" or hottest is None or not hottest.temperature > full:
            continue
        yield Finding(
            "thermostat does not open",
            "fix",
            case.layout.title(part),
            case.name,
            f"is shut at {{own}} while the liquid at {case.layout.junction_title(case.junction_names[hottest.junction])} has {{value}}, "
            "more than the {limit} at which it is wide open",
            Quantity(hottest.temperature, "temperature"),
            Quantity(full, "temperature"),
            "its own range",
            "let it feel hot liquid: senses = the hot place, a bleed, or another place for it",
            hurt=(hottest.temperature - full) / _STEP,
            numbers={"own": Quantity(own, "temperature")},
        )


def cooler_without_air(case: CaseResult, limits: Limits) -> Iterator[object]:
    """A cooler that hot liquid passes while nothing blows through its face: neither driving wind nor a fan."""
    if not case.finds_temperatures:
        return
    for part in case.part_names:
        if not in_still_air(case, part):
            continue
        end = case.ends(part)[0]
        warmer = end.temperature - case.number("air.temperature", nan) - case.number(f"{part}.air_rise", 0.0)
        if abs(end.flow) > _FLOWS and warmer > _WARMER:
            heat = Quantity(max(-float(case.solution.heat_of(part)), 0.0), "power")
            yield Finding(
                "cooler without air",
                "watch",
                case.layout.title(part),
                case.name,
                "no air blows through it, neither by the vehicle's speed nor by a fan: {value} goes off by draught alone",
                heat,
                source="",
                cure="right for a stop without a fan; else say vehicle_speed, or the speed of the air from its fan, in the case",
                hurt=warmer / 100.0,
            )


def heat_from_lines(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Heat that lines take up from hot air around them, against all that is put into the liquid."""
    limit = limits.line_heat_share
    if not case.finds_temperatures:
        return
    taken = {part: heat for part in case.parts_of_kind("line") if (heat := float(case.solution.heat_of(part))) > 0.0}
    whole = sum(taken.values()) + sum(max(case.number(f"{name}.heat", 0.0), 0.0) for name in case.junction_names) + sum(
        max(float(case.solution.power_of(pump)), 0.0) for pump in case.pumps)
    total = sum(taken.values())
    if total < _LEAST_HEAT or total <= limit.si * whole:
        return
    most = max(taken, key=taken.__getitem__)
    yield Finding(
        "heat from lines",
        "watch",
        case.layout.title(most),
        case.name,
        "lines take up {heat} from the hot air around them, {value} of all heat that goes into the liquid, more than {limit}; this one the most",
        Quantity(total / whole, "fraction"),
        limit,
        limits.source("line_heat_share"),
        "lead them away from the exhaust, or give them a sleeve",
        hurt=total / whole / limit.si - 1.0,
        numbers={"heat": Quantity(total, "power")},
    )


def engine_power_unsaid(case: CaseResult, limits: Limits) -> Iterator[object]:
    """A place takes up a share of the engine's power, and the case does not say the power."""
    notes = notes_of(case)
    for name in notes.idle_shares if notes and case.finds_temperatures else ():
        yield Finding("engine power unsaid", "watch", name, case.name,
                      "takes up a share of the engine's power, and this case says none: of the share no heat is put in",
                      cure='say engine_power = "60 kW" in the case; 0 kW where the engine stands')


def idle_temperature(case: CaseResult, limits: Limits) -> Iterator[object]:
    """A junction that is given a temperature and that no liquid comes in at: what passes it is found, and what was said moves nothing."""
    for name in case.junction_names if case.finds_temperatures else ():
        demand, kelvin = case.number(f"{name}.demand"), case.number(f"{name}.temperature")
        if demand is not None and demand >= 0.0 and kelvin is not None and kelvin == kelvin:
            yield Finding("temperature without effect", "watch", case.layout.junction_title(name), case.name,
                          "is said to have {value}, which is that of liquid that comes in there, and none does: what passes it is found",
                          Quantity(kelvin, "temperature"), source="", cure="leave it off, give the junction a supply, or say it of a tank")


def cooler_pressure(case: CaseResult, limits: Limits) -> Iterator[object]:
    """Static pressure in a cooler above the pressure it is sold for: on a cold start it is the cooler that bursts."""
    notes = notes_of(case)
    for part, rated in (notes.rated_pressures if notes else {}).items():
        found = max(end.static for end in case.ends(part)) - case.ambient.si
        if found > rated:
            yield Finding(
                "cooler pressure",
                "stop" if found > 1.5 * rated else "fix",
                case.layout.title(part),
                case.name,
                "{value} inside, above the {limit} that it is rated for",
                Quantity(found, "pressure_gauge"),
                Quantity(rated, "pressure_gauge"),
                "its rated_pressure",
                "lead cold oil round it with a thermostat or a relief, let it warm at low revs, or " "take a cooler made for it",
                hurt=found / rated - 1.0,
            )
