"""Checks on the tank, on the way to a pump, and on boiling anywhere."""

from flarenut.results import Finding
from flarenut.units import Quantity

from .limits import limit_for

_CURES = ("raise the tank level, lower the pump, widen or shorten the line before it, clean the strainer, check the tank "
          "vent, cool the liquid")
# Of liquid that boils in its tank. A tank that is not made to hold pressure bursts, and sprays hot liquid on whoever opens it.
_NEVER = "never pressurise a tank that is not built and approved for it"
_COOLERS = {"fuel": f"cool the fuel, or take a less volatile one; {_NEVER}",
            "coolant": "cool the liquid, or fit a pressure cap of the system's rating; never open it hot"}
_COOLER = f"cool the liquid, or take one of lower vapour pressure; {_NEVER}"


def _cooler(case):
    return _COOLERS.get(case.layout.family, _COOLER)


def surface_pressures(case):
    """Absolute pressure on the liquid in each tank [Pa], by its place in `junction_names`."""
    vents = ((place, case.number(f"{name}.vent")) for place, name in enumerate(case.junction_names))
    return {place: case.ambient.si + vent for place, vent in vents if vent is not None}


def boiling_tanks(case):
    """(tank, pressure on the liquid, vapour pressure) of tanks whose liquid boils as it stands there [Pa abs]."""
    found = []
    for tank, pressure in surface_pressures(case).items():
        vapour = max((case.liquid_in(part)["vapour_pressure"] for part, _ in case.meeting(tank)), default=0.0)
        if vapour > pressure:
            found.append((tank, pressure, vapour))
    return found


def tank_boiling(case, limits):
    """Vapour pressure above the pressure in a tank: no line and no pump mends that."""
    for tank, pressure, vapour in boiling_tanks(case):
        yield Finding("boils in the tank", "stop", case.layout.junction_title(case.junction_names[tank]), case.name,
                      "the liquid boils in the tank already: its vapour pressure is {value}, and {limit} stands on it; no pump draws it "
                      "properly, and what is shown of this case is not to be had",
                      Quantity(vapour, "pressure_absolute"), Quantity(pressure, "pressure_absolute"), "the fluid's vapour pressure",
                      f"{_cooler(case)}; no wider line and no other pump helps", hurt=vapour / max(pressure, 1.0) - 1.0)


def _sources(case, pump):
    """Held places that a pump draws from, by their place in `junction_names`."""
    inlet = case.ends(pump)[0].junction
    starts = {step.start for step in case.flows.reached(inlet, up=True).values()} | {inlet}
    return {place for place in starts if case.is_held(place)}


def suction_margin(case, limits):
    """Least static pressure above vapour pressure from pick-up to pump, against a limit; below zero it boils.

    A pump that draws from a tank which boils is left to `tank_boiling`.
    """
    boiling = {tank for tank, *_ in boiling_tanks(case)}
    for pump in case.pumps:
        sources = _sources(case, pump)
        if case.solution.regime_of(pump) == "stopped" or sources & boiling:
            continue
        found, limit, title = case.suction(pump), limits.suction_margin, case.layout.title(pump)
        margin = found.margin
        if margin.si >= limit.si:
            continue
        at = "" if found.at == title else f" at {found.at}"
        if margin.si > 0.0:
            what, severity = f"suction margin {{value}}{at}, under {{limit}}: close to boiling, noisy and short of flow", "fix"
        else:
            what, severity = f"liquid boils on the way to the pump: suction margin {{value}}{at}; the flow shown is not to be had", "stop"
        cure, numbers = _CURES, {}
        surfaces = surface_pressures(case)
        in_tank = min((surfaces[one] for one in sources if one in surfaces), default=float("inf")) - case.liquid_in(pump)["vapour_pressure"]
        if in_tank < limit.si:
            what += "; of that the tank itself leaves no more than {tank}"
            cure, numbers = f"{_cooler(case)}; a wider line wins back no more than it costs", {"tank": Quantity(in_tank, "pressure_difference")}
        yield Finding("suction margin", severity, title, case.name, what, margin, limit, limits.source("suction_margin"),
                      cure, hurt=(limit.si - margin.si) / limit.si, numbers=numbers)


def inlet_vacuum(case, limits):
    """Pressure at a pump's inlet, against the deepest vacuum that pumps for this liquid are said to like."""
    name = limit_for(case.layout, "inlet_vacuum")
    if name is None:
        return
    limit = getattr(limits, name)
    for pump in case.pumps:
        inlet = case.suction(pump).inlet
        if inlet.si < limit.si and case.solution.regime_of(pump) != "stopped":
            warm = "" if name == "inlet_vacuum" else "; a cold start may go deeper for a short time"
            yield Finding("inlet vacuum", "fix", case.layout.title(pump), case.name,
                          f"{{value}} at the inlet, beyond {{limit}}{warm}", inlet, limit, limits.source(name), _CURES,
                          hurt=(limit.si - inlet.si) / abs(limit.si))  # a limit may lie above ambient


def boiling(case, limits):
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
