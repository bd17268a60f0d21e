"""Return-line size against what it costs: back-pressure behind the regulator, and how far the rail climbs over the setting."""

import numpy

from ..units import digits
from .data import checked, numbers_of
from .frame import axes_for, dress, folded, invented, legend
from .palette import COLOURS, INK, QUIET, style

_DRAWN = ("back_pressure", "rise_over_setting")
_CROWDED = 10  # sizes beyond which their names lean and numbers stand upright
_TALLEST = 3.0  # times the greatest limit: what is far beyond would flatten what is near


def size_picture(sizes, *, ax=None, units="us"):
    """Draws return back-pressure and rail pressure over the setting for each size of a return line, with limits and the smallest size that passes.

    What stands far beyond its limit is left to an arrow and its number at the top.

    Parameters
    ----------
    sizes : what `flarenut.line_sizes` gives for a return line, or its `to_dataset()`
    ax : matplotlib Axes to draw in; a new figure's unless given
    units : "us" for psi, "metric" for kPa or bar

    Returns
    -------
    the Axes

    Raises
    ------
    ValueError : the table has neither back-pressure nor a rise over a setting

    Examples
    --------
    ``size_picture(fn.line_sizes(car, "return hose"))``
    """
    checked(units)
    data = sizes.to_dataset() if hasattr(sizes, "to_dataset") and not hasattr(sizes, "data_vars") else sizes
    shown = [key for key in _DRAWN if key in data]
    if not shown:
        raise ValueError("the table has no return back-pressure and no rise over a setting: it is of a circuit without a bypass regulator")
    data = data.sortby("bore")
    ax, factor, unit = axes_for(ax), *_scale(data, shown, units)
    top = _top(data, shown, factor)
    labels, names = [], [str(name) for name in data["size"].values]
    for number, key in enumerate(shown):
        _line(ax, data, key, number, factor, unit, top)
        labels.append(data[key].attrs["long_name"])
    low = min(0.0, min(float(data[key].min()) * factor for key in shown))
    ax.set_ylim(low - 0.06 * (top - low), top + 0.12 * (top - low))
    crowded = len(names) > _CROWDED or max(map(len, names)) > 8
    leaning = {"rotation": 40, "ha": "right", "rotation_mode": "anchor"} if crowded else {}
    ax.set_xticks(range(len(names)), [folded(name) for name in names], **leaning)
    margin = _smallest(ax, data, shown, names, factor, unit)
    title = f"{data.attrs['line']}: size against what it costs · {invented(data.attrs['circuit'], data.attrs['invented'])}"
    dress(ax, title=title, note=margin, x=f"size of {data.attrs['line']}, by bore", y=f"{' and '.join(labels)} [{unit}]")
    ax.set_xlim(-0.6, len(names) - 0.4)
    legend(ax)
    return ax


def _scale(data, shown, units):
    """What SI values are multiplied by, and the unit: one for both lines, of the size of the limits."""
    variable = data[f"{shown[0]} limit"] if f"{shown[0]} limit" in data else data[shown[0]]
    values, unit = numbers_of(variable, units)
    return float(values[numpy.isfinite(values)][0] / variable.values[numpy.isfinite(values)][0]), unit


def _top(data, shown, factor):
    """Top of the picture: all of it, or three times the greatest limit; above the least of either line in any case."""
    most = max(float(data[key].max()) for key in shown) * factor
    least = max(float(data[key].min()) for key in shown) * factor
    limits = [float(data[f"{key} limit"].max()) * factor for key in shown if f"{key} limit" in data]
    return min(most, max(_TALLEST * max(limits), 1.3 * least)) if limits else most


def _line(ax, data, key, number, factor, unit, top):
    values = data[key].values * factor
    places, words = numpy.arange(len(values)), data[key].attrs["long_name"]
    case = sorted({str(one) for one in data[f"{key} case"].values if str(one)})
    look = style(number)
    ax.plot(places, values, label="\n".join([folded(words), *([folded(f"in {case[0]}")] if len(case) == 1 else [])]), **look)
    for place in places[values > top]:
        _above(ax, place, digits(values[place]), number, look["color"], upright=len(values) > _CROWDED)
    if f"{key} limit" in data:
        limit = float(data[f"{key} limit"].max()) * factor
        ax.axhline(limit, color=look["color"], linewidth=1.1, linestyle=(0, (2, 2)), zorder=1.5, label=folded(f"its limit, {digits(limit)} {unit}"))


def _above(ax, place, text, number, colour, upright):
    """The number of what stands above the picture; each line of the picture has its own row of them."""
    drop = (42 if upright else 13) * number
    ax.annotate(f"{text} →" if upright else f"{text} ↑", (place, 0.985), xytext=(0, -drop), xycoords=("data", "axes fraction"),
                textcoords="offset points", ha="center", va="top", fontsize=8 if upright else 9, color=colour, zorder=6,
                rotation=90 if upright else 0,
                bbox={"facecolor": "white", "edgecolor": "none", "alpha": 0.85, "pad": 1.0})


def _smallest(ax, data, shown, names, factor, unit):
    """Marks the smallest size that passes; gives the words that say its margin."""
    chosen, beyond = data.attrs["smallest"], list(data.attrs.get("beyond", []))
    what = [data[key].attrs["long_name"] for key in shown if key in beyond]
    if not chosen:
        return "None of these sizes passes."
    place = names.index(chosen)
    ax.axvspan(place - 0.32, place + 0.32, color=COLOURS[2], alpha=0.16, linewidth=0.0, zorder=0)
    margins = []
    for key in shown:
        if f"{key} limit" in data and key not in beyond:
            left = float(data[f"{key} limit"].values[place] - data[key].values[place]) * factor
            margins.append(f"{digits(left)} {unit} left to the limit of {data[key].attrs['long_name']}")
    ax.text(place, 0.985, "smallest\nthat passes" + ("\nall else" if what else ""), transform=ax.get_xaxis_transform(), ha="center", va="top",
            fontsize=9, color=INK, bbox={"facecolor": "white", "edgecolor": QUIET, "linewidth": 0.6, "alpha": 0.9, "pad": 2.5})
    note = f"Smallest size that passes{' all else' if what else ''}: {chosen}" + (f", {', '.join(margins)}" if margins else "")
    return note + (f". No size keeps the limit of {' and '.join(what)}: another part has to change for it" if what else "")
