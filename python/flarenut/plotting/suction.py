"""Suction margin over fuel temperature: how warm the liquid may get before it boils on the way to a pump."""

import numpy

from ..units import digits, parse, to
from .data import checked, coordinate_of, fixed_words, laid_out, names_of, numbers_of, spoken
from .frame import axes_for, circuit_of, dress, folded, legend, with_unit
from .palette import COLOURS, INK, style

_BOILS = COLOURS[1]


def suction_picture(answer, *, output=None, over="fluid_temperature", lines=None, limit=None, ax=None, units="us"):
    """Draws what is left to boiling before a pump over the temperature of the liquid, with the limit at which it boils.

    The legend says from which temperature on each line boils, by a straight line between the points swept and by the data of the liquid: the
    vapour pressure of the fuel at hand may be off, which `limit` leaves room for. Points without an answer are left out, and counted.

    Parameters
    ----------
    answer : Dataset of `flarenut.sweep` over "fluid_temperature", and over cases or sizes
    output : name of the margin, "pump.suction_margin"; the first there is unless given
    over : dimension along the axis
    lines : dimension that has a line for each value; the one that is left unless given
    limit : least margin to draw, "5 kPa"; none unless given
    ax : matplotlib Axes to draw in; a new figure's unless given
    units : "us" for psi and F, "metric" for kPa and C

    Returns
    -------
    the Axes

    Raises
    ------
    ValueError : no such output or dimension, or a dimension that is neither along the axis nor has lines

    Examples
    --------
    ``suction_picture(fn.sweep(car, {"fluid_temperature": ["20 C", "40 C", "60 C"]}), limit="5 kPa")``
    """
    checked(units)
    if output is None:
        output = next((name for name in answer.data_vars if str(name).endswith("suction_margin")), "pump.suction_margin")
    variable, lines = laid_out(answer, output, over, lines)
    values, unit = numbers_of(variable, units, {"us": "psi", "metric": "kPa"})
    across, across_unit, swept = coordinate_of(answer, over, units)
    if across is None:
        raise ValueError(f"{over!r} holds words, not numbers in one unit")
    order = numpy.argsort(across)
    across, values = across[order], numpy.atleast_2d(values)[:, order]
    ax = axes_for(ax)
    for number, (name, row) in enumerate(zip(names_of(answer, lines, units), values, strict=True)):
        solved = numpy.isfinite(row)
        boils = _crossing(across[solved], row[solved])
        words = _boils_in_words(boils, row[solved], across_unit)
        ax.plot(across, row, label="\n".join([*([folded(name)] if name else []), words]), **style(number))
        if boils is not None:
            ax.plot([boils], [0.0], marker="X", markersize=9, color=style(number)["color"], markeredgecolor="white", linestyle="none", zorder=4,
                    clip_on=False, label="_boils")
    _boiling(ax, values, limit, unit)
    what, missing = variable.attrs.get("long_name", output), int(numpy.isnan(values).sum())
    note = ". ".join(filter(None, [fixed_words(answer, variable, units), "Least static pressure above vapour pressure on the way to the pump, "
                                   "by the liquid's data: what is at hand may boil sooner",
                                   f"{missing} of {values.size} points have no answer" if missing else ""]))
    dress(ax, title=" · ".join(filter(None, [f"{what} over {swept}", circuit_of(answer)])), note=note, x=with_unit(swept, across_unit),
          y=with_unit(what, unit))
    legend(ax, spoken(lines))
    return ax


def _crossing(across, row):
    """Where a line first falls through nothing; None where it does not."""
    for (x, y), (next_x, next_y) in zip(zip(across, row), zip(across[1:], row[1:])):
        if y > 0.0 >= next_y:
            return float(x + (next_x - x) * y / (y - next_y))
    return None


def _boils_in_words(boils, row, unit):
    """Of the points that have an answer. That none of them boils is by the data alone, and says nothing of what lies beyond them."""
    if boils is not None:
        return f"boils from {boils:.0f} {unit}"
    if not row.size:
        return "no answer"
    if (row > 0.0).all():
        return "no boiling by the data"
    return "boils everywhere here" if (row <= 0.0).all() else "boils in places"


def _boiling(ax, values, limit, unit):
    """The ground below nothing, and the line of the limit, each with its words at the left inside the picture."""
    low, high = float(numpy.nanmin(values)), float(numpy.nanmax(values))
    span = max(high, 0.0) - min(low, 0.0) or 1.0
    bottom = min(low - 0.05 * span, -0.13 * span)
    ax.set_ylim(bottom, max(high, 0.0) + 0.08 * span)
    ax.axhspan(bottom, 0.0, color=_BOILS, alpha=0.12, linewidth=0.0)
    ax.axhline(0.0, color=_BOILS, linewidth=1.6, zorder=1.5)
    ax.text(0.012, -0.02 * span, "the liquid boils", transform=ax.get_yaxis_transform(), va="top", ha="left", fontsize=9, color=INK)
    if limit is not None:
        least = to(parse(limit, "pressure_difference", name="limit"), unit, "pressure_difference")
        ax.axhline(least, color=INK, linewidth=1.0, linestyle=(0, (2, 2)), zorder=1.5)
        ax.text(0.012, least + 0.01 * span, f"limit, {digits(least)} {unit}", transform=ax.get_yaxis_transform(), va="bottom", ha="left",
                fontsize=9, color=INK)
