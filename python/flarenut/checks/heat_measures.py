"""By what a cooler is judged where a liquid runs too hot: how hot a place gets, how much heat goes off, how far it is from boiling."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import nan
from typing import TYPE_CHECKING

from flarenut.results.warmth import boiling_margin
from flarenut.units import Quantity

from .heat_congealed import congealed

if TYPE_CHECKING:
    from ..results.case import CaseResult

COUNTS = 1.0  # [K]: a size that moves it less neither helps nor hurts (judgement)
SHARE = 0.05  # of the heat given off, where the case says how warm the liquid is: likewise
SHARE_OF_TRICKLE = 0.5  # where the cooler stands full of thick cold oil: a little more of next to nothing is nothing


@dataclass(frozen=True)
class Measure:
    """By what a cooler is judged, in a case or in what was tried of it: the less, the better."""

    of: Callable[[CaseResult], float]
    shown: Callable[[float], Quantity]
    counts: float  # what moves it less is no difference
    words: str = ""  # before what was tried, where it is not what the finding is about; {now} is that of the case


def by_temperature(case: CaseResult, junction: str) -> Measure:
    """How hot a place gets; of a place that the case gives its temperature, how much heat is given off there."""
    kelvin = case.number(f"{junction}.temperature", nan)
    if kelvin != kelvin:
        return Measure(lambda one: float(one.solution.temperature_of(junction)), lambda found: Quantity(found, "temperature"), COUNTS)
    least = SHARE_OF_TRICKLE if congealed(case) else SHARE
    return Measure(
        lambda one: -_given_off(one), lambda less: Quantity(-less, "power"), least * abs(_given_off(case)), "; so warm, {now} goes off"
    )


def by_boiling() -> Measure:
    """How far from boiling a liquid is where it is nearest to it."""
    return Measure(lambda one: -float(getattr(boiling_margin(one), "kelvin", Quantity(nan, "temperature_difference")).si),
                   lambda less: Quantity(-less, "temperature_difference"), COUNTS)


def _given_off(case: CaseResult) -> float:
    return -sum(float(case.solution.heat_of(part)) for part in case.part_names)
