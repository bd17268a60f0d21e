"""An answer as nested dicts in SI, for JSON. Every key that holds a number ends in its unit; unsolved is None.

The format is described for readers in docs/guide/json_output.md. Its number rises when a key changes its meaning or goes.
"""

from __future__ import annotations

from math import isfinite
from typing import TYPE_CHECKING, Any

from flarenut.units import Quantity

if TYPE_CHECKING:
    from .answer import Answer
    from .case import CaseResult
    from .finding import Finding
    from .readings import EndReading
    from .shares import Way

FORMAT = 1
_UNIT_ENDINGS = {"pressure_absolute": "Pa_abs", "pressure_gauge": "Pa_gauge", "pressure_difference": "Pa",
                 "velocity": "m_per_s", "temperature": "K", "length": "m", "volume_flow": "m3_per_s",
                 "mass_flow": "kg_per_s", "temperature_difference": "K", "power": "W"}


def as_dict(answer: Answer) -> dict[str, Any]:
    """See `Answer.to_dict`."""
    layout = answer.layout
    return {
        "flarenut_answer": FORMAT,
        "circuit": layout.circuit,
        "fluid": layout.fluid,
        "invented": layout.invented,
        "source": layout.source,
        "converged": answer.converged,
        "runs": {run: [layout.title(part) for part in parts] for run, parts in layout.runs.items()},
        "cases": {name: _case(case) for name, case in answer.items()},
        "findings": [finding_as_dict(one) for one in answer.findings],
        "cautions": list(answer.cautions),
        "note": "engineering estimate, not a certification; verify by measurement",
    }


def _number(value: float) -> float | None:
    return float(value) if isfinite(value) else None


def _case(case: CaseResult) -> dict[str, float | dict[str, Any] | None]:
    solution = case.solution
    return {
        "certificate": {
            "status": solution.status,
            "cause": case.cause_in(None),
            "rung": solution.rung,
            "iterations": int(solution.iterations),
            "evaluations": int(solution.evaluations),
            "residual": _number(solution.residual),
            "mass_closure": _number(solution.mass_closure),
            "energy_closure": _number(solution.energy_closure) if case.finds_temperatures else None,
            "worst_part": solution.worst,
        },
        "conditions": {str(name): _plain(value) for name, value in case.conditions.items()},
        "ambient_pressure_Pa_abs": _number(case.ambient.si),
        "feed": _way(case.feed),
        "junctions": {name: _junction(case, index) for index, name in enumerate(case.junction_names)},
        "parts": {part: _part(case, part) for part in case.part_names},
    }


def _way(way: Way | None) -> dict[str, Any] | None:
    if way is None:
        return None
    return {"from": way.start, "to": way.stop, "friction_loss_Pa": _number(way.loss.si),
            "height_loss_Pa": None if way.height is None else _number(way.height.si),
            "parts": [{"part": one.part, "friction_loss_Pa": _number(one.loss.si), "share": _number(one.share)} for one in way.shares]}


def _plain(value: str) -> str:
    """Conditions as written: numbers and lists stay, anything else becomes text."""
    if isinstance(value, (list, tuple)):
        return [_plain(one) for one in value]
    if isinstance(value, (bool, str, type(None))):
        return value
    if isinstance(value, (int, float)):
        return value if isfinite(value) else None
    return str(value)


def _junction(case: CaseResult, index: int) -> dict[str, Any]:
    reading = case.reading(index)
    name = case.junction_names[index]
    return {
        "title": case.layout.junction_title(name),
        "named": name in case.layout.named,
        "held": case.is_held(index),
        "gauge_pressure_Pa": _number(reading.gauge.si),
        "static_pressure_Pa_abs": _number(reading.absolute.si),
        "total_pressure_Pa_abs": _number(reading.total.si),
        "velocity_m_per_s": _number(reading.velocity.si),
        "bore_m": _number(reading.bore.si) or None,
        "bore_is": reading.basis,
        "temperature_K": _number(reading.temperature.si),
    }


def _part(case: CaseResult, part: str) -> dict[str, Any]:
    reading = case.span([part], case.layout.title(part))
    liquid = case.liquid_in(part)
    found: dict[str, Any] = {
        "title": reading.name,
        "kind": reading.kind,
        "regime": reading.regime if case.converged else None,
        "mass_flow_kg_per_s": _number(reading.mass_flow.si),
        "volume_flow_m3_per_s": _number(reading.flow.si),
        "total_pressure_drop_Pa": _number(reading.drop.si),
        "density_kg_per_m3": _number(liquid["density"]),
        "viscosity_Pa_s": _number(liquid["viscosity"]),
        "vapour_pressure_Pa_abs": _number(liquid["vapour_pressure"]),
        "temperature_K": _number(liquid["temperature"]),
        "heat_given_off_W": _number(reading.heat.si) if case.finds_temperatures else None,
        "pump_power_W": _number(reading.power.si) if case.finds_temperatures and reading.suction is not None else None,
        "ends": [_end(end) for end in reading.ends],
    }
    if reading.suction is not None:
        suction = reading.suction
        found["suction"] = {
            "margin_Pa": _number(suction.margin.si),
            "at": suction.at,
            "inlet_gauge_pressure_Pa": _number(suction.inlet.si),
            "npsh_available_m": _number(suction.npsh_available.si),
            "degrees_to_boiling_K": _number(suction.degrees_to_boiling.si),
            "degrees_to_boiling_bound": suction.degrees_bound or None,
        }
    return found


def _end(end: EndReading) -> dict[str, Any]:
    return {
        "junction": end.junction,
        "gauge_pressure_Pa": _number(end.gauge.si),
        "static_pressure_Pa_abs": _number(end.absolute.si),
        "total_pressure_Pa_abs": _number(end.total.si),
        "mass_flow_in_kg_per_s": _number(end.mass_flow.si),
        "velocity_m_per_s": _number(end.velocity.si),
        "reynolds": _number(end.reynolds),
        "bore_m": _number(end.bore.si) or None,
        "vapour_margin_Pa": _number(end.vapour_margin.si),
        "temperature_K": _number(end.temperature.si),
    }


def finding_as_dict(one: Finding) -> dict[str, Any]:
    """A finding, its text in both systems, its numbers in SI."""
    return {
        "code": one.code,
        "severity": one.severity,
        "where": one.where,
        "case": one.case,
        "text": {"us": one.text("us"), "metric": one.text("metric")},
        "value": _quantity(one.value),
        "limit": _quantity(one.limit),
        "limit_source": one.source if one.limit is not None else None,
        "cure": one.cure,
    }


def _quantity(quantity: Quantity | None) -> dict[str, Any] | None:
    if not isinstance(quantity, Quantity):
        return None
    return {"si": _number(quantity.si), "unit": _UNIT_ENDINGS.get(quantity.kind, ""), "kind": quantity.kind}
