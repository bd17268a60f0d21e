"""Checks on devices: a regulator at a stop, a relief or bypass open, a pump out of its range, data left behind."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from flarenut.results import Finding
from flarenut.units import Quantity, digits

from .limits import is_engine_oil, is_oil
from .reach import joined
from .regulators import at_stop, locked
from .shut_cocks import pumps_stopped

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from ..results.engine import EngineRemark
    from .limits import Limits
    from ..results.engine import OutOfRange

# Colder than this, thick oil opens the bypass of any filter for a while (common practice, no source).
_COLD = 313.15  # K, 40 degC
# code of the engine -> severity, what, cure; for what needs no more than saying
_PLAIN = {
    "pump beyond the end of its curve": ("fix", "is pushed past the end of its curve: less pressure than it is rated for",
                                         "look for an open end or a leak, or take a larger pump"),
    "reversed flow": ("fix", "passes flow backwards", "check which way round it is written; a check valve may be missing"),
    "bypass open": ("fix", "has its bypass open in steady running: part of the liquid goes round the element",
                    "change the element, fit a larger one, or let the liquid warm before raising the flow"),
    "beyond measured data": ("watch", "works outside its measured data: the figures are carried on beyond it",
                             "measure it in this range, or take a part that was"),
    "heat beyond measured data": ("watch", "passes a flow of liquid or of air beyond the table of its test: its heat is carried on beyond it",
                                  "test it in this range, or describe it by a rating"),
    "pump curve with a hump": ("note", "has a curve that rises with flow in places: two flows may fit one pressure",
                               "check its points"),
}
_COLD_CURE = "let the liquid warm before raising the flow; warm, it should be shut"
_NO_FLOW = 1e-5  # kg/s, about 50 mL/h of fuel: seepage
_OWN_CHECKS = ("below vapour pressure",)  # spoken of in `suction`


def remarks(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """What the engine remarked on, in shop words. A remark of a kind not known here is passed on as it is."""
    for remark in case.solution.remarks:
        code, title, kind = remark.code, case.layout.title(remark.subject), case.kind_of(remark.subject)
        if code in _PLAIN:
            severity, what, cure = _PLAIN[code]
            if code == "bypass open" and case.layout.family != "fuel" and case.liquid_in(remark.subject)["temperature"] < _COLD:
                severity, what, cure = "watch", "has its bypass open, usual when cold: part of the liquid goes round the element", _COLD_CURE
            yield Finding(code, severity, title, case.name, what, cure=cure)
        elif code == "dead-headed pump":
            yield _dead_headed(case, title, remark)
        elif code == "relief open" or (kind == "relief valve" and code == "valve wide open"):
            yield _relief(case, title, code, kind)
        elif code in ("valve shut", "valve wide open"):
            if kind in ("bypass regulator", "reducing regulator"):
                yield from at_stop(case, limits, remark.subject, code)
            # a check or relief valve on its seat, or a check valve open, is as it should be
        elif code not in _OWN_CHECKS:
            yield Finding(code, "note", title, case.name, code)


def _dead_headed(case: CaseResult, title: str, remark: EngineRemark) -> Finding:
    """No flow at all cooks a pump; hardly any may be what a carburettor asks at idle."""
    if abs(remark.value) < _NO_FLOW and _shut_by_regulator(case, remark.subject):
        return Finding("dead-headed pump", "watch", title, case.name, "runs against a regulator that is shut, as nothing is drawn: no flow passes",
                       cure="usual for the seconds of a prime; if it runs so for long it overheats: give it a return")
    if abs(remark.value) < _NO_FLOW:
        shut = [case.layout.title(cock) for cock in case.parts_of_kind("valve") if remark.subject in pumps_stopped(case, cock)]
        return Finding("dead-headed pump", "stop", title, case.name, "runs against a shut line: no flow passes and it overheats",
                       cure="; ".join(f"open {cock}" for cock in dict.fromkeys(shut)) or "open a way for the flow, such as a return")
    return Finding("dead-headed pump", "watch", title, case.name,
                   "runs close to its dead head: hardly any flow passes to carry its heat away",
                   cure="usual for a moment; if it runs so for long, give it a return")


def _shut_by_regulator(case: CaseResult, pump: str) -> bool:
    """True when a reducing regulator after a pump is locked up: the way is open for whatever is drawn."""
    shut = [case.ends(regulator)[0].junction for regulator in case.regulators if locked(case, regulator)]
    return bool(shut) and not joined(case, case.ends(pump)[1].junction, {*case.pumps, *case.regulators})[0].isdisjoint(shut)


def _relief(case: CaseResult, title: str, code: str, kind: str) -> Finding:
    what = "wide open" if code == "valve wide open" else "open"
    if kind != "relief valve":
        return Finding("relief open", "fix", title, case.name, "the pump's own relief is open in steady running",
                       cure="lower the pressure asked of it, or look for a blockage after it")
    if is_engine_oil(case.layout):
        return Finding("relief open", "watch", title, case.name,
                       f"relief {what}: it, not the engine's clearances, sets the oil pressure here",
                       cure="usual when cold or at speed; at hot idle look for a stuck valve")
    if is_oil(case.layout) or case.parts_of_kind("positive displacement pump"):
        return Finding("relief open", "watch", title, case.name, f"relief {what}: it sets the pressure here, and heats what it lets go",
                       cure="usual for seconds at full lock or at the end of a stroke, and where a poppet sets the pressure of a belt-driven "
                       "fuel pump; else lower the pressure asked, or look for a blockage after it")
    return Finding("relief open", "fix", title, case.name, f"relief {what} in steady running",
                   cure="lower the pressure asked, or look for a blockage after it")


_USED = ("density", "viscosity", "vapour pressure")  # what a steady solve at given temperature rests on


def fluid_range(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Properties of a liquid asked for outside their data, of those that the answer rests on: each where it is farthest outside, hot and cold."""
    worst: dict[tuple[int, str, bool], OutOfRange] = {}
    for part in case.part_names:
        place = case.layout.liquid_of.get(part, 0)
        if place >= len(case.layout.liquids) or not hasattr(case.layout.liquids[place], "range_findings"):
            continue
        for found in case.layout.liquids[place].range_findings(case.liquid_in(part)["temperature"]):
            if found.property in _USED:
                key = place, found.property, found.temperature < found.data[0]
                worst[key] = max(worst.get(key, found), found, key=_outside)
    for found in worst.values():
        yield Finding("fluid out of range", "watch", case.layout.fluid or "the fluid", case.name,
                      f"{found.property} at {{value}} lies outside its data, which end at {{limit}}; taken to be right "
                      f"within {digits(100 * found.band)} %" + (f": {found.caution}" if found.caution else ""),
                      Quantity(found.temperature, "temperature"), Quantity(min(found.data, key=lambda end: abs(end - found.temperature)), "temperature"),
                      "the fluid's data", "treat what depends on it as rough", hurt=found.band)


def _outside(found: OutOfRange) -> float:
    """How far outside its data a property is asked for [K]."""
    low, high = found.data
    return max(low - found.temperature, found.temperature - high)
