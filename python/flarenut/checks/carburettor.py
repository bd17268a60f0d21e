"""Checks on the fuel pressure of a carburettor: more than its float valve bears."""

from flarenut.results import Finding
from flarenut.units import Quantity

from .reach import drawn_at, gauge_at
from .written import setting_of


def feeds_carburettor(case, limits):
    """True for a fuel circuit without injectors, of which no regulator is set as high as for injection. An assumption."""
    if case.layout.family != "fuel" or "diesel" in case.layout.fluid.lower() or case.injectors:
        return False
    settings = [setting.pressure for regulator in case.regulators if (setting := setting_of(case, regulator))]
    return all(pressure < limits.carburettor_below.si for pressure in settings)


def float_valve(case, limits):
    """Pressure at places that fuel is drawn from, where a carburettor is taken to stand."""
    if not feeds_carburettor(case, limits):
        return
    limit = limits.float_valve_pressure
    for place in drawn_at(case):
        found = gauge_at(case, place)
        if found > limit.si:
            yield Finding("float valve pressure", "stop", case.layout.junction_title(case.junction_names[place]), case.name,
                          "{value} stands here, above {limit}: taken to be a carburettor, as no injectors are written, its float valve "
                          "does not hold against it, and fuel floods the engine", Quantity(found, "pressure_gauge"),
                          Quantity(limit.si, "pressure_gauge"), limits.source("float_valve_pressure"),
                          "a regulator set to what the carburettor wants, or a pump made for one; if it feeds injectors, write them",
                          hurt=found / limit.si - 1.0)
