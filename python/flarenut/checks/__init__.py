"""Rules that read an answer and say what a builder should look at, and the cautions that go with its liquid.

Importing this package hands the rules to `flarenut.results`, so that tables show findings. The limits are presets:

>>> from flarenut import checks
>>> mine = checks.Limits(return_rise_injection="5 psi")   # then: answer.with_findings(checks.review(answer, mine))
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from flarenut.results import Finding, ranked, use_reviewer

from . import (
    backwards,
    carburettor,
    ceilings,
    check_valves,
    devices,
    fuel_pressure,
    heat,
    heat_freezing,
    heat_plumbing,
    heat_states,
    heat_unsaid,
    injectors,
    lines,
    oil,
    pumps,
    ratings,
    ratings_brakes,
    ratings_dead_head,
    ratings_service,
    regulators,
    relief,
    shut_cocks,
    suction,
    written,
)
from .cautions import cautions_for
from .explained import without_effects
from .limits import LIMITS, Limit, Limits
from .slips import closed_ends, sizes

if TYPE_CHECKING:
    from ..results.answer import Answer
    from ..results.case import CaseResult

RULES = (
    suction.tank_boiling,
    suction.suction_margin,
    suction.inlet_vacuum,
    suction.boiling,
    devices.remarks,
    shut_cocks.stands_shut, relief.unguarded_pump,
    relief.backward_relief,
    relief.relief_setting,
    ceilings.pressure_ceiling,
    fuel_pressure.backward_regulator,
    fuel_pressure.creep,
    regulators.own_supply,
    regulators.falls_short,
    carburettor.float_valve,
    injectors.too_much_pressure,
    injectors.too_little_pressure,
    injectors.boost_not_followed,
    injectors.held_open,
    injectors.too_small,
    heat_plumbing.no_way_back,
    heat_plumbing.thermostats_exchanged,
    heat_plumbing.thermostats_apart,
    heat_plumbing.opens_too_hot,
    heat.cooler_pressure,
    heat.temperature_beyond,
    heat.near_boiling,
    heat_freezing.ice, heat_freezing.beyond_known,
    heat.thermostat_shut,
    heat.cooler_without_air,
    heat.heat_from_lines,
    heat.engine_power_unsaid,
    heat_unsaid.air_temperature_unsaid,
    heat_unsaid.fluid_temperature_idle,
    heat_unsaid.settled_by_air,
    heat_states.second_state,
    heat_states.not_searched,
    heat.idle_temperature,
    heat.runs_cool,
    backwards.backward_pump,
    pumps.near_dead_head,
    pumps.volts_beyond,
    oil.spilled,
    oil.oil_pressure,
    oil.use_unsaid,
    lines.return_rise,
    lines.filter_drop,
    lines.velocities,
    lines.settling,
    devices.fluid_range,
    check_valves.backward_check_valve,
    ratings.over_pressure,
    ratings.on_clamps,
    ratings_dead_head.blocked_way,
    ratings.too_hot,
    ratings.heat_not_counted,
    ratings.too_cold,
    ratings.hose_collapse,
    ratings.bent_too_tight,
    ratings_service.wrong_liquid,
    ratings_brakes.brake_lines,
    ratings_brakes.clutch_lines,
    ratings_brakes.steering_pressure_hose,
    ratings_service.hose_in_tank,
    ratings_service.cooler_hose,
    ratings_service.permeation,
    ratings_service.two_hoses,
    ratings_service.least_bore,
    ratings_service.rating_unknown,
    written.idle_acceleration,
    closed_ends,
    sizes,
    written.slip_stretched,
    written.assumed,
)

AS_WRITTEN = (closed_ends, sizes)  # they ask the circuit alone, and may tell why a case has no answer


def case_findings(case: CaseResult, limits: Limits | None = None, rules: Sequence[Callable[..., Any]] = RULES) -> list[Finding]:
    """Findings of one case, worst first. Each rule is a function (case, limits) that gives findings.

    A case without an answer has why, and what can be seen without one.
    """
    limits = limits or Limits()
    if not case.converged:
        where, cure = case.turn_round
        why = Finding("not solved", "stop", where, case.name, f"not solved: {case.cause_in(None)}", cure=cure, hurt=float("inf"))
        found = [why, *(finding for rule in AS_WRITTEN if rule in rules for finding in rule(case, limits))]
    else:
        found = without_effects(case, [finding for rule in rules for finding in rule(case, limits)])
    return ranked([replace(one, units=case.layout.units) for one in found])


def review(answer: Answer, limits: Limits | None = None, rules: tuple[Callable[..., Any], ...] = RULES) -> list[Finding]:
    """Findings of all cases of an answer, worst first, against limits of your own."""
    return ranked([finding for case in answer.values() for finding in case_findings(case, limits, rules)])


class _Reviewer:
    findings = staticmethod(case_findings)
    cautions = staticmethod(cautions_for)


use_reviewer(_Reviewer())

__all__ = ["LIMITS", "RULES", "Limit", "Limits", "case_findings", "cautions_for", "review"]
