"""Suction margin over fuel temperature: how warm the liquid may get before it boils on the way to a pump."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy

from ..units import digits, parse, settled, to
from .data import checked
from .frame import axes_for, folded
from .lines_over import lines_over
from .palette import COLOURS, INK, style

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from numpy.typing import NDArray
    from xarray import Dataset
    from .lines_over import LinesOver

_BOILS = COLOURS[1]


def suction_picture(answer: Dataset, *, output: str | None = None, over: str = "fluid_temperature", lines: str | None = None, limit: object = None,
                    ax: Axes | None = None, units: str | None = None) -> Axes:
    """Draws what is left to boiling before a pump over the temperature of the liquid, with the limit that checks hold against it.

    The legend says from which temperature on each line stands under the limit, and from which it boils, by a straight line between the points
    swept and by the data of the liquid. The vapour pressure of the fuel at hand may be off; the limit of the checks leaves room for that.
    Points without an answer are left out, and counted.

    Parameters
    ----------
    answer : Dataset of `flarenut.sweep` over "fluid_temperature", and over cases or sizes
    output : name of the margin, "pump.suction_margin"; the first there is unless given
    over : dimension along the axis
    lines : dimension that has a line for each value; the one that is left unless given
    limit : least margin of your own to draw, "5 kPa"; that of the checks unless given, which a sweep has beside the margin
    ax : matplotlib Axes to draw in; a new figure's unless given
    units : "us" for psi and F, "metric" for bar and C; those of what is drawn unless given

    Returns
    -------
    the Axes

    Raises
    ------
    ValueError : no such output or dimension, or a dimension that is neither along the axis nor has lines

    Examples
    --------
    ``suction_picture(fn.sweep(car, {"fluid_temperature": ["20 C", "40 C", "60 C"]}))``
    """
    units = checked(settled(units, answer))
    if output is None:
        output = next((name for name in map(str, answer.data_vars) if name.endswith("suction_margin")), "pump.suction_margin")
    found = lines_over(answer, output, over, lines, units)
    ax, asked, own = axes_for(ax), _asked(found, limit), limit is not None
    for number, (name, row, least) in enumerate(zip(found.names, found.values, asked, strict=True)):
        solved = numpy.isfinite(row)
        boils = _crossing(found.across[solved], row[solved])
        words = [folded(name), _short_in_words(found.across[solved], row[solved], least[solved], found.across_unit),
                 _boils_in_words(boils, row[solved], found.across_unit)]
        ax.plot(found.across, row, label="\n".join(filter(None, words)), **style(number))
        if boils is not None:
            ax.plot([boils], [0.0], marker="X", markersize=9, color=style(number)["color"], markeredgecolor="white", linestyle="none", zorder=4,
                    clip_on=False, label="_boils")
    _boiling(ax, found.values)
    _limits(ax, found, asked, own)
    grows = not own and float(numpy.nanmax(asked, initial=0.0)) > float(numpy.nanmin(asked, initial=numpy.inf))
    found.dress(ax, "Least static pressure above vapour pressure on the way to the pump, by the liquid's data",
                "Dotted: the limit with what the fuel's vapour pressure may be off by" if grows else "")
    return ax


def _asked(found: LinesOver, limit: object) -> NDArray[numpy.float64]:
    """The least margin of each line, in its shape: that of the builder, or what the checks ask for; NaN where neither is known."""
    if limit is not None:
        return numpy.full(found.values.shape, to(parse(limit, "pressure_difference", name="limit"), found.unit, "pressure_difference"))
    asked = found.like(f"{found.output.rpartition('.')[0]}.suction_limit")
    return numpy.full(found.values.shape, numpy.nan) if asked is None else asked


def _crossing(across: NDArray[numpy.float64], row: NDArray[numpy.float64]) -> float | None:
    """Where a line first falls through nothing; None where it does not."""
    for (x, y), (next_x, next_y) in zip(zip(across, row), zip(across[1:], row[1:])):
        if y > 0.0 >= next_y:
            return float(x + (next_x - x) * y / (y - next_y))
    return None


def _short_in_words(across: NDArray[numpy.float64], row: NDArray[numpy.float64], least: NDArray[numpy.float64], unit: str) -> str:
    """From where on a line stands under its limit; "" where it does not, and where it boils throughout."""
    short = _crossing(across, row - least)
    if short is not None:
        return f"under the limit from {short:.0f} {unit}"
    return "under the limit throughout" if row.size and (row < least).all() and (row > 0.0).any() else ""


def _boils_in_words(boils: float | None, row: NDArray[numpy.float64], unit: str) -> str:
    """Of the points that have an answer. That none of them boils is by the data alone, and says nothing of what lies beyond them."""
    if boils is not None:
        return f"boils from {boils:.0f} {unit}"
    if not row.size:
        return "no answer"
    if (row > 0.0).all():
        return "no boiling by the data"
    return "boils everywhere here" if (row <= 0.0).all() else "boils in places"


def _boiling(ax: Axes, values: NDArray[numpy.float64]) -> None:
    """The ground below nothing, with its words at the left inside the picture."""
    low, high = float(numpy.nanmin(values)), float(numpy.nanmax(values))
    span = max(high, 0.0) - min(low, 0.0) or 1.0
    bottom = min(low - 0.05 * span, -0.13 * span)
    ax.set_ylim(bottom, max(high, 0.0) + 0.08 * span)
    ax.axhspan(bottom, 0.0, color=_BOILS, alpha=0.12, linewidth=0.0)
    ax.axhline(0.0, color=_BOILS, linewidth=1.6, zorder=1.5)
    ax.text(0.012, -0.02 * span, "the liquid boils", transform=ax.get_yaxis_transform(), va="top", ha="left", fontsize=9, color=INK)


def _limits(ax: Axes, found: LinesOver, asked: NDArray[numpy.float64], own: bool) -> None:
    """One line for all limits that are alike; else one for each line, in its colour. The legend says what they are."""
    known = numpy.isfinite(asked).any(axis=1)
    alike = known.any() and all(numpy.allclose(row[numpy.isfinite(row)], asked[known][0][numpy.isfinite(row)]) for row in asked[known])
    rows = [numpy.fmax.reduce(asked[known])] if alike else asked
    words = _limit_in_words(asked[known], found.unit, own, alike)
    for number, row in enumerate(rows):
        there = numpy.isfinite(row)
        if there.any():
            ax.plot(found.across[there], row[there], color=INK if alike else style(number)["color"], linewidth=1.2, linestyle=(0, (2, 2)), zorder=1.6,
                    label=words)
            words = "_limit"  # once is enough


def _limit_in_words(asked: NDArray[numpy.float64], unit: str, own: bool, alike: bool | numpy.bool_) -> str:
    if not asked.size:
        return ""
    least, most = (digits(float(end)) for end in (numpy.nanmin(asked), numpy.nanmax(asked)))
    size = f"{least} {unit}" if least == most else f"{least} to {most} {unit}"
    return f"limit, {size}" if own else f"limit of the checks,\n{size}{'' if alike else ', each its own'}"
