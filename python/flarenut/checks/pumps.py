"""Checks on electric pumps, by charts or by formula: volts far over those they were measured at, next to no flow."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import lru_cache
from math import nan
from typing import TYPE_CHECKING, Any

from flarenut.circuit import pump_bench
from flarenut.results import Finding
from flarenut.units import Quantity

from .written import notes_of

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits

BY_FORMULA, CHARTED = "quadratic pump", "electric pump"
_STOP_FROM = 2.0  # times the limit on volts: more than a booster of pump volts gives (judgement, no source)

_fields = lru_cache(pump_bench.fields_of)


def measured_volts(case: CaseResult, pump: str) -> float | None:
    """The highest volts that the charts or figures of a pump were taken at [V]; None where that is not known."""
    if case.kind_of(pump) == BY_FORMULA:
        return case.number(f"{pump}.rated_volts")
    charts = _charts(case, pump)
    return max(charts["curve_volts"]) if charts else None


def most_no_flow_rise(case: CaseResult, pump: str) -> float | None:
    """What a pump raises at no flow at its volts, or at the volts it was measured at where that is more [Pa]; None where not known."""
    measured = measured_volts(case, pump)
    return None if measured is None else _on_bench(pump_bench.no_flow_rise, case, pump, max(measured, case.number(f"{pump}.volts", nan)))


def no_flow_rise(case: CaseResult, pump: str) -> float | None:
    """What a pump that is known by charts, a curve or a formula raises at no flow at its volts or its speed [Pa]; None where not known."""
    known = case.kind_of(pump) == BY_FORMULA or _charts(case, pump)
    return _on_bench(pump_bench.no_flow_rise, case, pump) if known else None


def free_flow(case: CaseResult, pump: str) -> float | None:
    """What a pump passes at its volts with no pressure against it [m3/s]; None where its charts are not known."""
    return None if measured_volts(case, pump) is None else _on_bench(pump_bench.free_flow, case, pump, case.number(f"{pump}.volts"))


def _charts(case: CaseResult, pump: str) -> Mapping[str, Sequence[float]] | None:
    notes = notes_of(case)
    return notes.charts.get(pump) if notes else None


def _on_bench(figure: Callable[..., Any], case: CaseResult, pump: str, volts: float | None = None) -> float:
    kind, state = case.kind_of(pump), case.liquid_in(pump)
    numbers = {name: case.number(f"{pump}.{name}") for name in _fields(kind)} | ({} if volts is None else {"volts": volts})
    found: float = figure(kind, numbers, _charts(case, pump) or {}, state["density"], state["viscosity"])
    return found


def electric_pumps(case: CaseResult) -> list[str]:
    """Engine names of pumps that volts drive."""
    return case.parts_of_kind(BY_FORMULA, CHARTED)


def volts_beyond(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Volts so far over those that a pump was measured at that its figures are carried on by a rule, and its motor may not bear them."""
    limit = limits.pump_volts_over
    for pump in electric_pumps(case):
        volts, measured = case.number(f"{pump}.volts", nan), measured_volts(case, pump)
        over = volts / measured - 1.0 if measured else 0.0
        if measured is None or not over > limit.si:
            continue
        known = "its charts" if case.kind_of(pump) == CHARTED else "its figures"
        yield Finding("pump volts", "stop" if over > _STOP_FROM * limit.si else "watch", case.layout.title(pump), case.name,
                      f"runs at {{volts}}, {{value}} over the highest volts of {known}, {{measured}}, and more than {{limit}} over: what it gives "
                      "there is carried on from them, and few motors bear it", Quantity(over, "fraction"), limit, limits.source("pump_volts_over"),
                      "check the number of the volts; if it is right, take a chart at such volts, and a pump that is made for them",
                      hurt=over / limit.si - 1.0,
                      numbers={"volts": Quantity(volts, "voltage"), "measured": Quantity(measured, "voltage")})


def near_dead_head(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """An injection pump that passes next to none of what it would pass freely: it heats the little fuel it holds."""
    limit = limits.pump_least_flow
    for pump in electric_pumps(case) if case.injectors else ():
        if case.solution.regime_of(pump) != "pumping":
            continue
        flow, free = abs(case.ends(pump)[0].flow) / case.liquid_in(pump)["density"], free_flow(case, pump)
        if free and 0.0 < flow < limit.si * free:
            yield Finding("pump near dead head", "watch", case.layout.title(pump), case.name,
                          "passes {value} of its free flow, less than {limit}: nearly dead head, and the fuel that stays in it gets hot",
                          Quantity(flow / free, "fraction"), limit, limits.source("pump_least_flow"),
                          "a return that lets the pump's flow back to the tank", hurt=1.0 - flow / free / limit.si)
