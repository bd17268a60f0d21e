"""Checks on the tank, on the way to a pump, and on boiling anywhere."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from flarenut.fluids.properties import band_of
from flarenut.results import Finding
from flarenut.results.finding import Said
from flarenut.units import Quantity

from .costliest import costliest, without
from .heat_states import FOLLOW, settles_there
from .limits import is_engine_oil, is_oil, limit_for
from .roles import is_tank
from .wider import Tried, wider

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from ..results.finding import Shown
    from .limits import Limits
    from ..results.engine import EngineLiquid

# Of liquid that boils in its tank. A tank that is not made to hold pressure bursts, and sprays hot liquid on whoever opens it.
_NEVER = "never pressurise a tank that is not built and approved for it"
_COOLERS = {"fuel": f"cool the fuel, or take a less volatile one; {_NEVER}",
            "coolant": "cool the liquid, or fit a pressure cap of the system's rating; never open it hot",
            "water": f"cool the water, or fill with a coolant mixed for that heat; {_NEVER}"}
_AIR = 101325.0  # [Pa]; vapour pressure does not go by it
_EXAMPLE = {"reid": Said("7 psia", "0.48 bara")}
_COOLER = f"cool the liquid, or take one of lower vapour pressure; {_NEVER}"


def _cooler(case: CaseResult) -> str:
    return _COOLERS.get(case.layout.family, _COOLER)


def _is_thick(case: CaseResult) -> bool:
    """True for liquids that do not boil before a pump: what they lack there is heat, not cooling."""
    return is_oil(case.layout)


def _cures(case: CaseResult, pump: str, wider_line: bool = True) -> str:
    """What helps before a pump, of what there is there: a strainer, a tank with a level and a vent. `wider_line`: whether that was not tried in vain."""
    tank = any(is_tank(case, place) for place in sources_of(case, pump))
    strainer = [part for part in _way_to(case, pump) if part in case.filters]
    if _is_thick(case):
        cold = [
            "warm the oil before raising the revs",
            "oil that is thinner when cold",
            *(["a larger and shorter pick-up line"] if wider_line else []),
            *(["a wider strainer"] if strainer else []),
        ]
        return f"{', '.join(cold)}; if it is warm, lower the pump{' or raise the level' if tank else ''}" + (
            "" if wider_line else "; no wider line helps"
        )
    found = [
        *(["raise the tank level"] if tank else []),
        "lower the pump",
        *(["widen or shorten the line before it"] if wider_line and any(case.kind_of(part) == "line" for part in _way_to(case, pump)) else []),
        *(["clean the strainer"] if strainer else []),
        *(["check the tank vent"] if tank else []),
    ]
    return ", ".join(found)


def _way_to(case: CaseResult, pump: str) -> list[str]:
    """Parts on the way to a pump."""
    return list(case.flows.reached(case.ends(pump)[0].junction, up=True))


def _freer_way(case: CaseResult, pump: str, measured: Callable[[CaseResult], Quantity], lacks: float, more: str = "") -> Tried:
    """What helps before a pump, tried: the part that takes most of what is lost there where that is no line, else wider lines.

    lacks : of what is measured, to the limit [Pa]. `more`: what helps as well.
    """
    worst = costliest(case, case.flows.upstream(case.ends(pump)[0].junction))
    chosen = None if worst is None or worst.kind == "line" or worst.lost < _MATTERS * lacks else without(case, worst, measured, rises=True)
    cure = _cures(case, pump) + more
    if chosen is None:
        return wider(case, _way_to(case, pump), measured, cure, _cures(case, pump, wider_line=False), rises=True)
    left = chosen.numbers["freed"].si < measured(case).si + lacks
    return chosen._replace(cure=f"{chosen.cure}; then {cure}") if left else chosen


_MATTERS = 0.5  # of what is lacking before a pump: a part that takes less does not decide on it (judgement)


def _margin_before(pump: str) -> Callable[[CaseResult], Quantity]:
    return lambda case: case.suction(pump).margin


def _inlet_of(pump: str) -> Callable[[CaseResult], Quantity]:
    return lambda case: case.suction(pump).inlet


def _volatility(case: CaseResult) -> str:
    """What stands for the fuel at hand, where a class or a usual blend was named: ASTM D4814 says the most that a class allows."""
    fluid = case.layout.fluid
    if fluid.startswith("gasoline class"):
        return (
            f"; {fluid} is taken at the most that ASTM D4814 allows its class, and fuel at hand may have less: give its own Reid vapour "
            'pressure, fluid("gasoline", reid="{reid}"), or the class sold in that season'
        )
    if case.layout.family == "fuel" and fluid[:1] == "E" and fluid[1:].isdigit():
        return f'; unless said, {fluid} is taken as mixed with a usual summer gasoline: give its own Reid vapour pressure, reid="{{reid}}"'
    return ""


def vapour_band(case: CaseResult, part: str) -> float:
    """How far the vapour pressure of the liquid in a part may be off [Pa]; 0 where its data say nothing."""
    place = case.layout.liquid_of.get(part, 0)
    if place >= len(case.layout.liquids):
        return 0.0
    state = case.liquid_in(part)
    return _band(case.layout.liquids[place], state["temperature"], state["vapour_pressure"])


def _band(liquid: EngineLiquid, kelvin: float, vapour_pressure: float) -> float:
    return vapour_pressure * (band_of(liquid, "vapour pressure", kelvin) or 0.0)


def least_margin(case: CaseResult, pump: str, limits: Limits) -> float:
    """The suction margin that is asked for before a pump [Pa]: the limit, and for a fuel what its vapour pressure may be off by."""
    return limits.suction_margin.si + (vapour_band(case, pump) if case.layout.family == "fuel" else 0.0)


def least_margin_at(liquid: EngineLiquid, family: str, kelvin: float, limits: Limits) -> float:
    """`least_margin` of a liquid at a temperature [K] rather than of a case; NaN where the liquid has no data."""
    if family != "fuel":
        return limits.suction_margin.si
    try:
        vapour_pressure = liquid.at(kelvin, _AIR).vapour_pressure
    except ValueError:
        return float("nan")
    return limits.suction_margin.si + _band(liquid, kelvin, vapour_pressure)


def surface_pressures(case: CaseResult) -> dict[int, float]:
    """Absolute pressure on the liquid in each tank [Pa], by its place in `junction_names`."""
    vents = ((place, case.number(f"{name}.vent")) for place, name in enumerate(case.junction_names))
    return {place: case.ambient.si + vent for place, vent in vents if vent is not None}


def _vapour_in(case: CaseResult, tank: int) -> float:
    """Vapour pressure of the liquid that stands in a tank [Pa], at the tank's own temperature."""
    parts = [part for part, _ in case.meeting(tank)]
    if not case.finds_temperatures or not parts:
        return max((case.liquid_in(part)["vapour_pressure"] for part in parts), default=0.0)
    liquid = case.layout.liquids[case.layout.liquid_of.get(parts[0], 0)]
    return liquid.at(float(case.solution.temperature_of(case.junction_names[tank])), _AIR).vapour_pressure


def boiling_tanks(case: CaseResult) -> list[tuple[int, float, float]]:
    """(tank, pressure on the liquid, vapour pressure) of tanks whose liquid boils as it stands there [Pa abs]."""
    found = []
    for tank, pressure in surface_pressures(case).items():
        vapour = _vapour_in(case, tank)
        if vapour > pressure:
            found.append((tank, pressure, vapour))
    return found


def tank_boiling(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Vapour pressure above the pressure in a tank: no line and no pump mends that."""
    for tank, pressure, vapour in boiling_tanks(case):
        settles, numbers = settles_there(case, case.junction_names[tank])
        yield Finding(
            "boils in the tank",
            "stop",
            case.layout.junction_title(case.junction_names[tank]),
            case.name,
            "the liquid boils in the tank already: its vapour pressure is {value}, and {limit} stands on it; no pump draws it "
            f"properly, and what is shown of this case is not to be had{settles}{_volatility(case)}",
            Quantity(vapour, "pressure_absolute"),
            Quantity(pressure, "pressure_absolute"),
            "the fluid's vapour pressure",
            f"{_cooler(case)}; no wider line and no other pump helps{FOLLOW if settles else ''}",
            hurt=vapour / max(pressure, 1.0) - 1.0,
            numbers={**numbers, **_EXAMPLE},
        )


def sources_of(case: CaseResult, pump: str) -> set[int]:
    """Held places that a pump draws from, by their place in `junction_names`."""
    inlet = case.ends(pump)[0].junction
    starts = {step.start for step in case.flows.reached(inlet, up=True).values()} | {inlet}
    return {place for place in starts if case.is_held(place)}


def suction_margin(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Least static pressure above vapour pressure from pick-up to pump, against a limit; below zero it boils.

    A pump that draws from a tank which boils is left to `tank_boiling`.
    """
    boiling = {tank for tank, *_ in boiling_tanks(case)}
    for pump in case.pumps:
        sources = sources_of(case, pump)
        if case.solution.regime_of(pump) == "stopped" or sources & boiling:
            continue
        found, title = case.suction(pump), case.layout.title(pump)
        margin, limit = found.margin, Quantity(least_margin(case, pump, limits), "pressure_difference")
        if margin.si >= limit.si:
            continue
        at = "" if found.at == title else f" at {found.at}"
        if margin.si > 0.0:
            what, severity = f"suction margin {{value}}{at}, under {{limit}}: close to boiling, noisy and short of flow", "fix"
        else:
            what, severity = f"liquid boils on the way to the pump: suction margin {{value}}{at}; the flow shown is not to be had", "stop"
        band = limit.si - limits.suction_margin.si
        if band:
            what += "; the limit is {least} and the {band} by which the fuel's vapour pressure may be off"
        more = "" if _is_thick(case) else ", cool the liquid"
        numbers: dict[str, Shown] = {**_EXAMPLE}
        numbers |= {"band": Quantity(band, "pressure_difference"), "least": limits.suction_margin} if band else {}
        surfaces = surface_pressures(case)
        in_tank = min((surfaces[one] for one in sources if one in surfaces), default=float("inf")) - case.liquid_in(pump)["vapour_pressure"]
        if in_tank < limit.si:
            what += f"; of that the tank itself leaves no more than {{tank}}{_volatility(case)}"
            cure = f"{_cooler(case)}; a wider line wins back no more than it costs"
            numbers["tank"] = Quantity(in_tank, "pressure_difference")
        else:
            tried = _freer_way(case, pump, _margin_before(pump), limit.si - margin.si, more)
            what, cure, numbers = what + tried.beside, tried.cure, {**numbers, **tried.numbers}
        yield Finding("suction margin", severity, title, case.name, what, margin, limit, limits.source("suction_margin"),
                      cure, hurt=(limit.si - margin.si) / limit.si, numbers=numbers)


def inlet_vacuum(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Pressure at a pump's inlet, against the deepest vacuum that pumps for this liquid are said to like.

    Oil near to a full vacuum no longer follows the pump: what is shown of its flow is not to be had.
    """
    name = limit_for(case.layout, "inlet_vacuum")
    if name is None:
        return
    for pump in case.pumps:
        inlet, usual = case.suction(pump).inlet, getattr(limits, name)
        if inlet.si >= usual.si or case.solution.regime_of(pump) == "stopped":
            continue
        stops = is_engine_oil(case.layout) and inlet.si < limits.oil_inlet_stop.si
        beyond, limit = ("oil_inlet_stop", limits.oil_inlet_stop) if stops else (name, usual)
        if stops:
            what = "{value} at the inlet, beyond {limit}: hardly any oil follows, the pump runs on foam and the flow shown is not to be had"
        else:
            what = "{value} at the inlet, beyond {limit}" + (
                "" if name == "inlet_vacuum" else "; a cold start may go deeper for a short time"
            )
        tried = _freer_way(case, pump, _inlet_of(pump), limit.si - inlet.si)
        yield Finding("inlet vacuum", "stop" if stops else "fix", case.layout.title(pump), case.name, what + tried.beside, inlet, limit,
                      limits.source(beyond), tried.cure, hurt=(limit.si - inlet.si) / abs(limit.si),  # a limit may lie above ambient
                      numbers=tried.numbers)


def boiling(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Static pressure below vapour pressure anywhere but on the way to a pump, which `suction_margin` speaks of.

    In a circuit whose tank boils, only places that stand well below the tank are spoken of: the others boil because it does.
    """
    before_pumps = {part for pump in case.pumps for part in case.flows.reached(case.ends(pump)[0].junction, up=True)}
    in_tanks = min((pressure - limits.suction_margin.si for _, pressure, _ in boiling_tanks(case)), default=float("inf"))
    found = [remark for remark in case.solution.remarks if remark.code == "below vapour pressure" and remark.value < in_tanks
             and remark.subject not in before_pumps and remark.subject not in case.pumps]
    if not found:
        return
    worst = max(found, key=lambda remark: remark.limit - remark.value)
    others = [case.layout.title(remark.subject) for remark in found if remark is not worst]
    also = f"; also at {', '.join(dict.fromkeys(others))}" if others else ""
    vapour = Quantity(worst.limit, "pressure_absolute")
    yield Finding("below vapour pressure", "stop", case.layout.title(worst.subject), case.name,
                  f"{{value}} is below the vapour pressure of {{limit}}: it boils here and the answer does not hold{also}",
                  Quantity(worst.value, "pressure_absolute"), vapour, "the fluid's vapour pressure",
                  "raise the pressure there or cool the liquid", hurt=(worst.limit - worst.value) / max(worst.limit, 1.0))
