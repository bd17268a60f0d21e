"""Checks on the way to a pump, and on boiling anywhere."""

from flarenut.results import Finding
from flarenut.units import Quantity

_CURES = ("raise the tank level, lower the pump, widen or shorten the line before it, clean the strainer, check the tank "
          "vent, cool the liquid")


def suction_margin(case, limits):
    """Least static pressure above vapour pressure from pick-up to pump, against a limit; below zero it boils."""
    for pump in case.pumps:
        if case.solution.regime_of(pump) == "stopped":
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
        yield Finding("suction margin", severity, title, case.name, what, margin, limit, limits.source("suction_margin"),
                      _CURES, hurt=(limit.si - margin.si) / limit.si)


def inlet_vacuum(case, limits):
    """Pressure at a pump's inlet, against the deepest vacuum pumps are said to like."""
    for pump in case.pumps:
        inlet, limit = case.suction(pump).inlet, limits.inlet_vacuum
        if inlet.si < limit.si and case.solution.regime_of(pump) != "stopped":
            yield Finding("inlet vacuum", "fix", case.layout.title(pump), case.name,
                          "{value} at the inlet, beyond {limit}", inlet, limit, limits.source("inlet_vacuum"), _CURES,
                          hurt=inlet.si / limit.si - 1.0)


def boiling(case, limits):
    """Static pressure below vapour pressure anywhere but on the way to a pump, which `suction_margin` speaks of."""
    before_pumps = {part for pump in case.pumps for part in case.flows.reached(case.ends(pump)[0].junction, up=True)}
    found = [remark for remark in case.solution.remarks if remark.code == "below vapour pressure"
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
