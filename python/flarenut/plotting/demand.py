"""Rail pressure over demand: what a wider feed or return is worth as the engine takes more."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy

from ..units import settled
from .data import checked
from .frame import axes_for, folded
from .lines_over import lines_over
from .palette import INK, style
from .sweep_lines import BOILS

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from xarray import Dataset

_DEMANDS = ("power", "duty")


def demand_picture(answer: Dataset, *, output: str = "rail.gauge", over: str | None = None, lines: str | None = None, ax: Axes | None = None,
                   units: str | None = None) -> Axes:
    """Draws a pressure over what the engine asks for, one line for each size of a hose.

    Points where the liquid boils somewhere in the circuit are hollow, and off the line: their numbers are not to be had.

    Parameters
    ----------
    answer : Dataset of `flarenut.sweep` over "power" or "duty", and over sizes: {"duty": [...], "return hose.size": ["-6", "-8"]}
    output : name of the pressure, or of any other reading
    over : dimension along the axis; "power", "duty" or a place's demand unless given
    lines : dimension that has a line for each value; the one that is left unless given
    ax : matplotlib Axes to draw in; a new figure's unless given
    units : "us" for psi, "metric" for bar; those of what is drawn unless given

    Returns
    -------
    the Axes

    Raises
    ------
    ValueError : no such output or dimension, or a dimension that is neither along the axis nor has lines

    Examples
    --------
    ``demand_picture(fn.sweep(car, {"duty": [0.1, 0.5, 0.9], "return hose.size": ["-6", "-8"]}, cases="full power"))``
    """
    units = checked(settled(units, answer))
    if over is None:
        over = next((name for name in map(str, answer.dims) if name.rpartition(".")[2] in (*_DEMANDS, "demand")), None)
        if over is None:
            raise ValueError(f"the answer was not swept over power, duty or a demand: say 'over', one of {', '.join(map(str, answer.dims))}")
    found = lines_over(answer, output, over, lines, units)
    ax, boils = axes_for(ax), found.boils()
    for number, (name, row, hollow) in enumerate(zip(found.names, found.values, boils, strict=True)):
        look = style(number)
        ax.plot(found.across, numpy.where(hollow, numpy.nan, row), label=folded(name) if found.lines else "_line", **look)
        if hollow.any():
            ax.plot(found.across[hollow], row[hollow], label="_boils", **look | {"linestyle": "none", "markerfacecolor": "white", "markersize": 7})
    if boils.any():
        ax.plot([], [], label=folded(BOILS), color=INK, linestyle="none", marker="o", markerfacecolor="white", markersize=7)
    count = int(boils.sum())
    found.dress(ax, f"In {count} of {boils.size} points the liquid boils somewhere" if count else "")
    ax.margins(y=0.12)
    return ax
