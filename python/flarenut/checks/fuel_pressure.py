"""Checks on fuel pressure: a regulator put in backwards, one that creeps."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from flarenut.results import Finding
from flarenut.units import Quantity

from .reach import ROOT, is_off
from .written import held_of, setting_of

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits


_SHARE = 0.01  # of what pumps move: less seeps through a seat that is shut


def is_backward(case: CaseResult, regulator: str) -> bool:
    """True where supply and return of a bypass regulator are changed over: by the pressure on its return side, its flow, or what it senses."""
    return case.kind_of(regulator) == "bypass regulator" and (_stands_against(case, regulator) or _spills_back(case, regulator) or
                                                              _holds_its_return(case, regulator))


def _spills_back(case: CaseResult, regulator: str) -> bool:
    back = -case.ends(regulator)[0].flow
    if back <= 0.0:
        return False
    moved, regime = sum(abs(case.ends(pump)[1].flow) for pump in case.pumps), case.solution.regime_of(regulator)
    return regime in ("regulating", "wide open") or regime == "reversed" and back > _SHARE * moved > 0.0


def _stands_against(case: CaseResult, regulator: str) -> bool:
    supply, back = (end.total for end in case.ends(regulator)[:2])
    least = 0.5 if is_off(case) else 0.1  # of its setting: with no pump running a high tank alone may stand against it
    enough = least * case.number(f"{regulator}.set_pressure", float("inf"))
    # With something shut before it a manifold's vacuum may draw its rail down below a return that stands open.
    return back - supply > enough and back - case.ambient.si > enough


def _holds_its_return(case: CaseResult, regulator: str) -> bool:
    """Whether it senses the place on its return side: so it is written, whatever comes to it."""
    senses, back = case.layout.senses.get(regulator, []), case.ends(regulator)[1].junction
    return bool(senses) and senses[0] in case.junction_names and case.junction_names.index(senses[0]) == back


def backward_regulator(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """Liquid cannot leave by a regulator that is the wrong way round, whatever the pump does."""
    for regulator in case.regulators:
        if is_backward(case, regulator):
            supply, back = (end.total for end in case.ends(regulator)[:2])
            why = ("{over} more stands on its return side than on its supply side" if _stands_against(case, regulator) else
                   f"the place that it senses, {case.layout.junction_title(case.layout.senses[regulator][0])}, is on its return side"
                   if _holds_its_return(case, regulator) else "it spills from its return side to its supply side")
            yield Finding("regulator backwards", "stop", case.layout.title(regulator), case.name, why + ": it is in backwards",
                          cure="write its run from the rail to the tank, so that the supply comes first", hurt=ROOT,
                          numbers={"over": Quantity(back - supply, "pressure_difference")} if _stands_against(case, regulator) else {})


def creep(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """A bypass regulator that still regulates, but only by letting the pressure climb: it is nearly wide open."""
    for regulator in case.parts_of_kind("bypass regulator"):
        setting, held = setting_of(case, regulator), held_of(case, regulator)
        if case.solution.regime_of(regulator) != "regulating" or setting is None or held is None:
            continue
        over = held - setting.turns_at
        if over > limits.regulator_creep.si:
            yield Finding("regulator creep", "watch", case.layout.title(regulator), case.name,
                          f"the pressure it holds stands {{value}} over {setting.turning_words('opens', 'where it opens, {setting}')}, "
                          "more than {limit}: it is nearly wide open",
                          Quantity(over, "pressure_difference"), limits.regulator_creep, limits.source("regulator_creep"),
                          "a regulator with a larger seat, or less pump; a wider return helps by as much as its back-pressure",
                          hurt=over / limits.regulator_creep.si - 1.0,
                          numbers=setting.numbers())
