"""A reading of a sweep as lines over one of its dimensions: what the pictures of demand and of suction share."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy

from .data import coordinate_of, fixed_words, laid_out, names_of, numbers_of, spoken
from .frame import circuit_of, dress, legend, with_unit

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from numpy.typing import NDArray
    from xarray import DataArray, Dataset

MARGIN = "margin_to_boiling"


@dataclass
class LinesOver:
    """Lines of one output, in the unit to draw them in, along an axis that climbs."""

    answer: Dataset
    output: str
    over: str
    lines: str  # dimension that has a line for each value; "" for one line
    variable: DataArray
    across: numpy.ndarray
    across_unit: str
    across_words: str
    values: numpy.ndarray  # (lines, across)
    unit: str
    units: str
    order: numpy.ndarray

    @property
    def names(self) -> list[str]:
        """Words for each line."""
        return names_of(self.answer, self.lines, self.units)

    @property
    def what(self) -> str:
        """The output in words."""
        found: str = self.variable.attrs.get("long_name", self.output)
        return found

    def like(self, output: str) -> NDArray[numpy.float64] | None:
        """Values of another output of the same kind, in the same unit and shape; None where the answer has none."""
        if output not in self.answer:
            return None
        variable, _ = laid_out(self.answer, output, self.over, self.lines or None)
        if not numpy.isfinite(variable.values).any():
            return None
        return numpy.atleast_2d(numbers_of(variable, self.units, {self.units: self.unit} if self.unit else None)[0])[:, self.order]

    def boils(self) -> NDArray[numpy.bool_]:
        """Which points have a liquid that boils somewhere, so that their numbers are not to be had."""
        if MARGIN not in self.answer:
            return numpy.zeros(self.values.shape, bool)
        margin, _ = laid_out(self.answer, MARGIN, self.over, self.lines or None)
        found: NDArray[numpy.bool_] = (numpy.atleast_2d(margin.values)[:, self.order] <= 0.0) & numpy.isfinite(self.values)
        return found

    def dress(self, ax: Axes, *notes: str) -> None:
        """Title, small print, names of the axes; and the legend, where there is one to show."""
        missing = int(numpy.isnan(self.values).sum())
        told = [fixed_words(self.answer, self.variable, self.units), *notes,
                f"{missing} of {self.values.size} points have no answer" if missing else ""]
        dress(ax, title=" · ".join(filter(None, [f"{self.what} over {self.across_words}", circuit_of(self.answer)])), note=". ".join(filter(None, told)),
              x=with_unit(self.across_words, self.across_unit), y=with_unit(self.what, self.unit))
        if any(not str(line.get_label()).startswith("_") for line in ax.get_lines()):
            legend(ax, spoken(self.lines))


def lines_over(answer: Dataset, output: str, over: str, lines: str | None, units: str, wanted: dict[str, str] | None = None) -> LinesOver:
    """The `LinesOver` of an output; `wanted` as in `numbers_of`.

    Raises
    ------
    ValueError : no such output or dimension, or a dimension that is neither along the axis nor has lines
    """
    variable, lines = laid_out(answer, output, over, lines)
    values, unit = numbers_of(variable, units, wanted)
    across, across_unit, words = coordinate_of(answer, over, units)
    if across is None:
        raise ValueError(f"{over!r} holds words, not numbers in one unit")
    order = numpy.argsort(across)
    return LinesOver(answer, output, over, lines, variable, across[order], across_unit, words, numpy.atleast_2d(values)[:, order], unit, units, order)
