"""What several sampled oils say together, and how their viscosities are handed to the engine."""

import math
from collections.abc import Iterable, Sequence

from .._core import fluids as core
from .records import kelvin


def mean(values: Iterable[float]) -> float:
    every = list(values)
    return sum(every) / len(every)


def spread(values: Iterable[float]) -> float:
    """Half the range over the middle."""
    every = list(values)
    return (max(every) - min(every)) / (max(every) + min(every))


def reach(values: Iterable[float]) -> float:
    """How far the mean lies from the furthest of several, as a share of that one."""
    every = list(values)
    return max(abs(mean(every) / value - 1.0) for value in every)


def kinematic(celsius: float, milli_pascal_second: float, density_15: float) -> tuple[float, float]:
    """(K, m2/s) of a dynamic viscosity."""
    return kelvin(celsius), milli_pascal_second * 1e-3 / core.lubricant_density(density_15).at(kelvin(celsius))


def two_points(kv40: float, kv100: float) -> list[tuple[float, float]]:
    return [(kelvin(40.0), kv40 * 1e-6), (kelvin(100.0), kv100 * 1e-6)]


def middle(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """One point in the middle of several, on the logarithm; they stand at one temperature."""
    if not points:
        return []
    return [(points[0][0], math.exp(mean(math.log(v) for _, v in points)))]
