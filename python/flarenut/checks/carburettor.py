"""Checks on the fuel pressure of a carburettor: more than its float valve bears."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from flarenut.results import Finding
from flarenut.units import Quantity

from .reach import drawn_at, gauge_at
from .regulators import only_creeps, serving
from .written import reference_of, setting_of

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits


def feeds_carburettor(case: CaseResult, limits: Limits) -> bool:
    """True for a fuel circuit without injectors, of which no regulator is set as high as for injection. An assumption."""
    if case.layout.family != "fuel" or "diesel" in case.layout.fluid.lower() or case.injectors:
        return False
    settings = [setting.pressure for regulator in case.regulators if (setting := setting_of(case, regulator))]
    return all(pressure < limits.carburettor_below.si for pressure in settings)


def float_valve(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Pressure at places that fuel is drawn from, where a carburettor is taken to stand.

    A regulator that feels boost tells that the bowl stands under it too: then it is what stands over the boost that counts.
    """
    if not feeds_carburettor(case, limits):
        return
    limit = limits.float_valve_pressure
    for place in drawn_at(case):
        regulators = serving(case, place)
        if any(only_creeps(case, regulator, limit.si) for regulator in regulators):
            continue  # next to nothing is drawn: what a shut seat lets by, given time
        boost = max((_over_ambient(case, regulator) for regulator in regulators), default=0.0)
        found = gauge_at(case, place) - boost
        if found > limit.si:
            over = " over the {boost} that its regulator feels" if boost else ""
            yield Finding("float valve pressure", "stop", case.layout.junction_title(case.junction_names[place]), case.name,
                          f"{{value}} stands here{over}, above {{limit}}: taken to be a carburettor, as no injectors are written, its float valve "
                          "does not hold against it, and fuel floods the engine",
                          Quantity(found, "pressure_difference" if boost else "pressure_gauge"),
                          Quantity(limit.si, "pressure_difference" if boost else "pressure_gauge"), limits.source("float_valve_pressure"),
                          "a regulator set to what the carburettor wants, or a pump made for one; if it feeds injectors, write them",
                          hurt=found / limit.si - 1.0, numbers={"boost": Quantity(boost, "pressure_gauge")} if boost else {})


def _over_ambient(case: CaseResult, regulator: str) -> float:
    """Boost at the reference of a regulator [Pa]; none under vacuum, which no bowl stands under."""
    reference = reference_of(case, regulator)
    return 0.0 if reference is None else max(reference - case.ambient.si, 0.0)
