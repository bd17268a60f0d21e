"""Random values between two ends, for sweeps of samples."""

from __future__ import annotations

import inspect
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from ..circuit import CircuitError
from ..units.errors import UnitError, quoted
from ..units.text import split_number

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

SAMPLINGS = ("latin", "sobol", "plain")


@dataclass(frozen=True)
class Between:
    """Values drawn evenly from `low` to `high`, both as written."""

    low: object
    high: object
    ends: tuple[float, float]  # the numbers of both
    unit: str  # "" for plain numbers

    def numbers(self, shares: NDArray[np.float64]) -> NDArray[np.float64]:
        """Numbers at shares (0 to 1) of the way, in the unit of the ends."""
        first, last = self.ends
        return first + shares * (last - first)

    def written(self, numbers: NDArray[np.float64]) -> Written:
        """Such numbers as a builder writes them."""
        return Written(numbers, self.unit)


class Written(Sequence[Any]):
    """Drawn numbers as a builder writes them, with the unit of the ends; each made when it is asked for."""

    def __init__(self, numbers: NDArray[np.float64], unit: str) -> None:
        self.numbers, self.unit = numbers, unit

    def __len__(self) -> int:
        return len(self.numbers)

    def __getitem__(self, place: Any) -> Any:
        number = float(self.numbers[place])
        return f"{number!r} {self.unit}" if self.unit else number


def between(low: object, high: object) -> Between:
    """Values drawn at random between two ends, evenly, for `sweep(..., samples=1000)`.

    Parameters
    ----------
    low, high : both in one unit, "11 V" and "14 V", or both plain numbers

    Raises
    ------
    CircuitError : the ends are no numbers, or their units differ

    >>> between("11 V", "14 V").ends
    (11.0, 14.0)
    """
    (first, unit), (last, other) = _number(low), _number(high)
    if unit != other:
        raise CircuitError(f"the ends {quoted(low)} and {quoted(high)} have different units", "write both in one unit", key="between", value=(low, high))
    if not first < last:
        raise CircuitError(f"the lower end {quoted(low)} is not below the upper {quoted(high)}", "write the lower one first", key="between",
                           value=(low, high))
    return Between(low, high, (first, last), unit)


def _number(value: object) -> tuple[float, str]:
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return float(value), ""
    try:
        if not isinstance(value, str):
            raise TypeError(value)
        return split_number(value, "between")
    except (UnitError, TypeError):
        raise CircuitError(f"{quoted(value)} is no number to draw between", 'write e.g. between("11 V", "14 V")', key="between", value=value) from None


def drawn(dimensions: int, samples: int, seed: int | None, sampling: str) -> tuple[NDArray[np.float64], str]:
    """Shares of the way, (samples, dimensions) from 0 to 1, and how they were drawn in words.

    Latin hypercubes and Sobol points come from SciPy; where it is not installed, plain random numbers do, and the words say so.
    """
    import numpy

    if sampling not in SAMPLINGS:
        raise CircuitError(f"'sampling' is {quoted(sampling)}", f"there are {', '.join(SAMPLINGS)}", place="sweep", key="sampling", value=sampling)
    plain = numpy.random.default_rng(seed)
    if sampling == "plain":
        return plain.random((samples, dimensions)), f"plain random numbers, seed {seed}"
    try:
        from scipy.stats import qmc
    except ImportError:
        return plain.random((samples, dimensions)), f"plain random numbers (SciPy is not installed), seed {seed}"
    word = "rng" if "rng" in inspect.signature(qmc.Sobol).parameters else "seed"  # SciPy before 1.15 calls it seed
    if sampling == "latin":
        return qmc.LatinHypercube(dimensions, **{word: plain}).random(samples), f"Latin hypercube, seed {seed}"
    power = (samples - 1).bit_length()  # balanced only over powers of two: draw the next one and leave the rest
    return qmc.Sobol(dimensions, **{word: plain}).random_base2(power)[:samples], f"scrambled Sobol points, seed {seed}"
