"""What keeps liquid from where it is asked for, where another rule tells of that itself: no size cures what a shut way brings about."""

from __future__ import annotations

from collections.abc import Callable
from math import nan
from typing import TYPE_CHECKING

from flarenut.units import Quantity

from .backwards import facing_pumps
from .check_valves import backward_check_valve
from .costliest import costliest, without
from .shut_cocks import pumps_stopped, shut_on_return
from .slips import chokes
from .wider import Tried
from .written import held_of, setting_of

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits


def shut_feeds(case: CaseResult, limits: Limits) -> str:
    """A cure that names pumps and check valves in backwards, shut cocks and bores too narrow to be true on the pumps' way; "" without any."""
    pumps = [f"turn {case.layout.title(pump)} round: swap the two ends of its run" for pump in facing_pumps(case)]
    cocks = [f"open {case.layout.title(cock)}" for cock in case.parts_of_kind("valve") if pumps_stopped(case, cock)]
    valves = [f"turn {found.where} round" for found in backward_check_valve(case, limits) if found.severity == "stop"]
    bores = [f"check the bore of {case.layout.title(part)}" for part in chokes(case)]
    return "; ".join(dict.fromkeys([*pumps, *cocks, *valves, *bores]))


def shut_returns(case: CaseResult, regulator: str) -> tuple[str, str]:
    """(what, cure) of what stands shut on the way back from a bypass regulator; "" and "" where a way stands open."""
    shut = shut_on_return(case, regulator)
    if not shut:
        return "", ""
    names = " and ".join(dict.fromkeys(case.layout.title(part) for part in shut))
    cures = (f"{'open' if case.kind_of(part) == 'valve' else 'turn round'} {case.layout.title(part)}" for part in shut)
    return f"{names} {'stand' if shut[1:] else 'stands'} shut on its way back to the tank", "; ".join(dict.fromkeys(cures))


_MOST = 0.5  # of what stands over a setting: a part on the way back that takes less does not decide on it (judgement)


def choked_return(case: CaseResult, regulator: str) -> tuple[str, Tried] | None:
    """(part, `Tried`) of what on the way back holds up the pressure before a bypass regulator that is wide open. None where a line does, or nothing.

    What is tried is how far the pressure that it should hold stands over where it opens.
    """
    outlet = case.ends(regulator)[1].junction
    worst = None if case.is_held(outlet) else costliest(case, case.flows.downstream(outlet))
    if worst is None or worst.kind == "line" or not worst.lost > _MOST * _above(regulator)(case).si:
        return None
    tried = without(case, worst, _above(regulator))
    return tried and (worst.title, tried)


def _above(regulator: str) -> Callable[[CaseResult], Quantity]:
    def of(case: CaseResult) -> Quantity:
        setting, held = setting_of(case, regulator), held_of(case, regulator)
        return Quantity(nan if setting is None or held is None else max(held - setting.pressure, 0.0), "pressure_difference")

    return of
