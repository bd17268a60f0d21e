"""What each size of a line is judged by: one function a column, from the answer of that size to its worst value and the case of it."""

from __future__ import annotations

from dataclasses import dataclass
from math import nan, pi
from typing import TYPE_CHECKING, Any, Callable

from ..checks.fuel_pressure import is_backward
from ..checks.limits import limit_for
from ..checks.suction import least_margin
from ..checks.written import held_of, setting_of
from ..results import at_rest
from ..units import Quantity
from ..units.display import VACUUM_DIALS
from .line_cells import Cell
from .line_pressure import fed_pressure

if TYPE_CHECKING:
    from ..results.answer import Answer
    from ..results.case import CaseResult
    from .line_cells import Judge


@dataclass(frozen=True)
class Column:
    """One quantity: `read` is a function of a `Judge` and an answer that gives a `Cell`, or None where it has no meaning."""

    key: str
    words: str
    read: Callable[..., Any]
    kind: str  # of its values; "" for a plain number
    units: dict[str, str]  # system -> unit, in place of the preferred one
    rule: str  # which case it is read in
    below_zero: str = ""  # what stands for a value below zero, where a number would puzzle, as in the table of the cases


def _rise_over_setting(judge: Judge, answer: Answer) -> Cell | None:
    """In the case where it is most, over where the regulator opens there: that is its setting, unless it was read off at a flow."""
    found = []
    for case in answer.values():
        for regulator in case.parts_of_kind("bypass regulator"):
            setting, held = setting_of(case, regulator), held_of(case, regulator)
            if setting is not None and held is not None and not is_backward(case, regulator):
                found.append((held - setting.turns_at, case.name))
    if not found:
        return None
    over, name = max(found)
    return Cell(Quantity(over, "pressure_difference"), name, judge.limits.regulator_creep)


def _back_pressure(judge: Judge, answer: Answer) -> Cell | None:
    """After a bypass regulator, over the tank it spills to. One that spills straight into its tank has no line behind it."""
    found = []
    for case in answer.values():
        for regulator in case.parts_of_kind("bypass regulator"):
            outlet = case.ends(regulator)[1].junction
            if case.is_held(outlet) or is_backward(case, regulator):
                continue
            way = case.flows.downstream(outlet)
            if way and case.is_held(way[-1].stop):
                rise = case.reading(outlet).against(case.reading(way[-1].stop))
                found.append((rise.si, Cell(rise, case.name, _return_limit(judge, case, regulator))))
    return max(found, key=lambda one: one[0])[1] if found else None


def _return_limit(judge: Judge, case: CaseResult, regulator: str) -> Quantity | None:
    if case.layout.family != "fuel":
        return None
    setting = setting_of(case, regulator)
    carburettor = not case.injectors and setting is not None and setting.pressure < judge.limits.carburettor_below.si
    found: Quantity | None = judge.limits.return_rise_carburettor if carburettor else judge.limits.return_rise_injection
    return found


def _running(answer: Answer) -> list[tuple[CaseResult, str]]:
    return [(case, pump) for case in answer.values() for pump in case.pumps if case.solution.regime_of(pump) != "stopped"]


def _inlet_vacuum(judge: Judge, answer: Answer) -> Cell | None:
    found = [(case.suction(pump).inlet, case) for case, pump in _running(answer)]
    if not found:
        return None
    inlet, case = min(found, key=lambda one: one[0].si)
    name = limit_for(case.layout, "inlet_vacuum")
    limit = Quantity(-getattr(judge.limits, name).si, "pressure_difference") if name else None
    return Cell(Quantity(-inlet.si, "pressure_difference"), case.name, limit)


def _suction_margin(judge: Judge, answer: Answer) -> Cell | None:
    """That which has least left to its limit, which grows by what the vapour pressure of a fuel may be off in the case."""
    found = [Cell(case.suction(pump).margin, case.name, Quantity(least_margin(case, pump, judge.limits), "pressure_difference"), at_most=False)
             for case, pump in _running(answer)]
    return min(found, key=lambda cell: cell.left, default=None)


def _degrees_to_boiling(judge: Judge, answer: Answer) -> Cell | None:
    found = []
    for case, pump in _running(answer):
        suction = case.suction(pump)
        left = suction.degrees_to_boiling.si
        if left == left:
            found.append((left, suction.degrees_bound, case.name))
    if not found:
        return None
    left, bound, name = min(found)
    return Cell(Quantity(left, "temperature_difference"), name, bound=bound)


def _fastest(judge: Judge, answer: Answer) -> CaseResult:
    return max(answer.values(), key=lambda case: case.part(judge.line).velocity.si)


def _velocity(judge: Judge, answer: Answer) -> Cell:
    case = _fastest(judge, answer)
    name = limit_for(case.layout, f"{judge.role}_velocity") if judge.role else None
    return Cell(case.part(judge.line).velocity, case.name, getattr(judge.limits, name) if name else None)


def _reynolds(judge: Judge, answer: Answer) -> Cell:
    case = _fastest(judge, answer)
    return Cell(case.part(judge.line).reynolds, case.name)


def _lost(judge: Judge, answer: Answer) -> Cell:
    """Without the height between the ends."""
    found = []
    for case in answer.values():
        part = case.part(judge.line)
        inlet, outlet = (case.junction_names.index(end.junction) for end in part.ends)
        standing = at_rest(case, inlet, outlet, case.liquid_in(judge.line)["density"]) or 0.0
        found.append((abs(part.drop.si - standing), case.name))
    lost, name = max(found)
    return Cell(Quantity(lost, "pressure_difference"), name)


def _volume(judge: Judge, answer: Answer) -> Cell:
    case = next(iter(answer.values()))
    return Cell(Quantity(pi / 4 * case.number(f"{judge.line}.bore", nan) ** 2 * case.number(f"{judge.line}.length", nan), "volume"))


COLUMNS = (
    Column("pressure", "{place} pressure", fed_pressure, "pressure_gauge", {},
           "the least share left of what is allowed, of all cases and places"),
    Column("rise_over_setting", "rise over setting", _rise_over_setting, "pressure_difference", {}, "the highest of all cases"),
    Column("back_pressure", "return back-pressure", _back_pressure, "pressure_difference", {}, "the highest of all cases"),
    Column("inlet_vacuum", "pump inlet vacuum", _inlet_vacuum, "pressure_difference", VACUUM_DIALS, "the deepest of all cases", "none"),
    Column("suction_margin", "suction margin", _suction_margin, "pressure_difference", {}, "the least left of all cases"),
    Column("degrees_to_boiling", "suction side, degrees to boiling", _degrees_to_boiling, "temperature_difference", {},
           "the fewest of all cases"),
    Column("lost", "lost in the line", _lost, "pressure_difference", {}, "the most of all cases"),
    Column("velocity", "velocity in the line", _velocity, "velocity", {}, "the fastest of all cases"),
    Column("reynolds", "Reynolds number there", _reynolds, "", {}, "the case of that velocity"),
    Column("volume", "liquid in the line", _volume, "volume", {"us": "in3", "metric": "mL"}, "of the line itself"),
)
