"""Readings of single solves by the names that sweeps have."""

from __future__ import annotations

from collections.abc import Callable
from operator import attrgetter
from typing import TYPE_CHECKING, Any

from ..results.named import asks_for

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from ..results import ExchangerReading

# What can be read of an exchanger of a vehicle -> function of its `ExchangerReading`.
OF_EXCHANGER: dict[str, Callable[[ExchangerReading], Any]] = {
    "heat": attrgetter("heat"), "share_of_most": attrgetter("share_of_most"),
    **{f"{side}.{word}": attrgetter(f"{side}.{word}") for side in ("first", "second") for word in ("temperature_in", "temperature_out")}}


def question_of(case: CaseResult, name: str) -> Callable[..., Any]:
    """Function of a `CaseResult` that reads what a name says, such as "rail.gauge", "pump.suction_margin". Raises `NoSuchName`.

    case : any `CaseResult` of the circuit
    """
    (ask,) = asks_for({"": case}, [name])
    return ask.question


def total_of(case: CaseResult, name: str) -> bool:
    """Whether a name reads total pressure where a bore would make it static. Raises `NoSuchName`."""
    (ask,) = asks_for({"": case}, [name])
    return ask.total


def bound_of(case: CaseResult, name: str) -> Callable[..., str]:
    """Function of a `CaseResult`: "over" or "under" where what a name reads is no more than a bound, else "". Raises `NoSuchName`."""
    (ask,) = asks_for({"": case}, [name])
    return ask.before
