"""A drive as nested dicts in SI, for JSON; see docs/guide/json_output.md."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite
from typing import TYPE_CHECKING, Any

from ..results.export import finding_as_dict
from ..units import KINDS
from .over_time_answer import OverTime
from .over_time_data import default_names

if TYPE_CHECKING:
    from .over_time_series import Series
    from .over_time_findings import TimedFinding
    from .over_time_vehicle import VehicleOverTime

FORMAT = 1


def as_dict(over: OverTime | VehicleOverTime, names: str | Sequence[str] | None = None) -> dict[str, Any]:
    """See `OverTime.to_dict`."""
    if isinstance(over, OverTime):
        first, known = over, default_names(over) if over.moments else []
        findings = [_finding(one) for one in over.findings]
        whole: dict[str, Any] = {"circuit": over.circuit, "fluid": over.layout.fluid}
    else:
        first = next(iter(over.values()))
        known = [f"{circuit}.{name}" for circuit, one in over.items() for name in (default_names(one) if one.moments else [])]
        known += [f"{name}.heat" for name in over.exchangers] if first.moments else []
        findings = [{"circuit": circuit, **_finding(found)} for circuit, one in over.items() for found in one.findings]
        whole = {"vehicle": over.vehicle, "circuits": list(over)}
    wanted = [names] if isinstance(names, str) else list(names or known)
    return {"flarenut_drive": FORMAT, **whole, "invented": over.invented, "source": first.layout.source, "complete": over.complete,
            "why_not": over.why_not_in(None), "start_K": over.start.si,
            "legs": [{"case": leg.case, "begins_s": leg.begins, "ends_s": leg.ends, "conditions": dict(leg.conditions)} for leg in over.legs],
            "times_s": [float(time) for time in over.times], "cases": list(over.cases),
            "readings": {name: _reading(over.series(name)) for name in (wanted if len(over.times) else [])},
            "findings": findings, "note": "engineering estimate, not a certification; verify by measurement"}


def _reading(series: Series) -> dict[str, Any]:
    if any(isinstance(one, str) for one in series.values):
        return {"kind": None, "unit": None, "values": [str(one) for one in series.values]}
    unit = KINDS[series.kind].si if series.kind else ""
    bounds = {"bounds": [one or None for one in series.bounds]} if any(series.bounds) else {}
    return {"kind": series.kind or None, "unit": unit or "1", "values": [float(one) if isfinite(one) else None for one in series.si], **bounds}


def _finding(one: TimedFinding) -> dict[str, Any]:
    return {**finding_as_dict(one), "time_s": one.time, "begins_s": one.begins, "ends_s": one.ends}
