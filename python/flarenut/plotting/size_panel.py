"""One panel of a picture of sizes: one or more quantities of one unit over the sizes of a line, with their limits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy

from ..units import digits, to
from .frame import folded
from .palette import COLOURS, style

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from numpy.typing import NDArray
    from xarray import Dataset

CROWDED = 10  # sizes beyond which their names lean and numbers stand upright
_NEAR = 1.15  # times that: no need for an arrow
_ROWS = (13, 44)  # points from row to row of numbers beyond the picture: level, upright
_FAR = 3.0  # times the greatest limit: what is far beyond would flatten what is near


@dataclass
class Quantity:
    """One quantity of every size, in the unit it is drawn in."""

    words: str
    values: numpy.ndarray
    limits: numpy.ndarray  # NaN where there is none
    at_most: bool
    unit: str
    margin_unit: str
    case: str  # "" where sizes differ in that

    @property
    def margins(self) -> NDArray[numpy.float64]:
        """What is left to the limits, negative where they are passed."""
        found: NDArray[numpy.float64] = (self.limits - self.values) * (1 if self.at_most else -1)
        return found

    def limit_in_words(self) -> str:
        """"at most 3.00 psi"; "" without."""
        known = self.limits[numpy.isfinite(self.limits)]
        if not known.size:
            return ""
        ends = dict.fromkeys((digits(float(known.min())), digits(float(known.max()))))
        return f"{'at most' if self.at_most else 'at least'} {' to '.join(ends)} {self.unit}"


def quantity_of(data: Dataset, key: str, units: str) -> Quantity:
    """The `Quantity` of a column of a table's Dataset."""
    variable, limit = data[key], data.get(f"{key} limit")
    unit, kind = variable.attrs[f"units_{units}"], variable.attrs["kind"]
    cases = sorted({str(one) for one in data[f"{key} case"].values if str(one)})
    values = to(variable.values, unit, kind)
    return Quantity(variable.attrs["long_name"], values, numpy.full(values.shape, numpy.nan) if limit is None else to(limit.values, unit, kind),
                    limit is None or bool(limit.attrs["at_most"]), unit, unit.removesuffix("g") if kind == "pressure_gauge" else unit,
                    cases[0] if len(cases) == 1 else "")


def draw_panel(ax: Axes, quantities: Sequence[Quantity], specifications: Sequence[str]) -> None:
    """Lines over places 0, 1, 2 ... of the sizes, one for each quantity and specification, and their limits.

    What stands far beyond its limit is left to an arrow and its number at the edge.
    """
    low, high = _ends(quantities)
    for number, one in enumerate(quantities):
        for place, spec in enumerate(dict.fromkeys(specifications)):
            there = numpy.array([other == spec for other in specifications]) & numpy.isfinite(one.values)
            look = style(number if len(set(specifications)) == 1 else place) | {"color": COLOURS[number]}
            ax.plot(numpy.flatnonzero(there), one.values[there], label="_" if place else _label(one), **look)
        for size in numpy.flatnonzero(numpy.isfinite(one.values)).tolist():
            if one.values[size] > high or one.values[size] < low:
                _beyond(ax, size, one.values[size], number, upright=len(one.values) > CROWDED, up=one.values[size] > high)
        _limit(ax, one, number)
    ax.set_ylim(low - 0.06 * (high - low), high + 0.12 * (high - low))
    ax.set_xlim(-0.6, len(specifications) - 0.4)


def _label(one: Quantity) -> str:
    return "\n".join([folded(one.words), *([folded(f"in {one.case}")] if one.case else [])])


def _limit(ax: Axes, one: Quantity, number: int) -> None:
    """A line across where it is the same for all sizes; else from size to size."""
    known = numpy.isfinite(one.limits)
    if not known.any():
        return
    look: dict[str, Any] = {"color": COLOURS[number], "linewidth": 1.1, "linestyle": (0, (2, 2)), "zorder": 1.5,
            "label": folded(f"its limit, {one.limit_in_words().removeprefix('at most ').removeprefix('at least ')}")}
    if numpy.ptp(one.limits[known]) <= 1e-3 * abs(one.limits[known]).max():
        ax.axhline(float(one.limits[known][0]), **look)
    else:
        ax.plot(numpy.flatnonzero(known), one.limits[known], **look)


def _ends(quantities: Sequence[Quantity]) -> tuple[float, float]:
    """Bottom and top of a panel: all of it, but what is more than three times the greatest limit away; nothing is among it where it is near."""
    values = numpy.concatenate([one.values[numpy.isfinite(one.values)] for one in quantities])
    limits = numpy.concatenate([one.limits[numpy.isfinite(one.limits)] for one in quantities])
    low, high = float(values.min()), float(values.max())
    if limits.size and quantities[0].at_most:
        least = max(float(numpy.nanmin(one.values)) for one in quantities)
        top = max(_FAR * float(limits.max()), 1.3 * least)
        return min(0.0, low), float(values[values <= _NEAR * top].max()) if high > _NEAR * top else max(high, float(limits.max()))
    if limits.size:
        bottom, top = float(limits.min()), max(high, float(limits.max()))
        return min(max(low, bottom - _FAR * max(abs(bottom), top - bottom)), bottom), top
    return min(0.0, low), max(high, 0.0) or 1.0


def _beyond(ax: Axes, place: int, value: float, number: int, upright: bool, up: bool) -> None:
    """The number of what stands beyond the picture and an arrow to where it stands; each line of the picture has its own row of them."""
    way, arrow = -1 if up else 1, "↑" if up else "↓"
    drop, edge = way * (_ROWS[upright] * number), 0.985 if up else 0.015
    look: dict[str, Any] = {"xycoords": ("data", "axes fraction"), "textcoords": "offset points", "ha": "center", "va": "top" if up else "bottom",
                            "color": COLOURS[number], "zorder": 6, "bbox": {"facecolor": "white", "edgecolor": "none", "alpha": 0.85, "pad": 1.0}}
    if not upright:
        ax.annotate(f"{digits(value)} {arrow}", (place, edge), xytext=(0, drop), fontsize=9, **look)
        return
    ax.annotate(arrow, (place, edge), xytext=(0, drop), fontsize=8, **look)  # an arrow that leans with its number may point astray
    ax.annotate(digits(value), (place, edge), xytext=(0, drop + way * 12), fontsize=8, rotation=90, **look)
