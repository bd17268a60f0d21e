"""Pump curves against what the circuit asks: where they cross is where the pump works."""

from __future__ import annotations

from collections.abc import Mapping
from textwrap import wrap
from typing import TYPE_CHECKING

import numpy

from ..units import settled
from .data import checked, numbers_of
from .frame import axes_for, dress, folded, invented, legend, with_unit
from .palette import INK, QUIET, style

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from numpy.typing import NDArray
    from xarray import Dataset

_APART = 0.045  # of the height, between the names of two curves
_LETTER, _BESIDE = 0.012, 0.006  # of the width: a letter of them, from a curve to its name
_FAR = 4.0  # times the greatest rise at work: what lies beyond is not drawn


def pump_picture(lines: Dataset, *, ax: Axes | None = None, units: str | None = None) -> Axes:
    """Draws the curve of a pump at several volts or speeds, what each case of the circuit asks of it, and where it works.

    The thin grey lines are the pump on a bench. The coloured lines are the circuit, each in one case: what rise the pump has to give for
    a flow to pass. A flat line is a regulator that holds; a steep one is a line or regulator that can pass no more.

    Parameters
    ----------
    lines : Dataset of `flarenut.pump_and_system`
    ax : matplotlib Axes to draw in; a new figure's unless given
    units : "us" or "metric"; those of what is drawn unless given

    Returns
    -------
    the Axes

    Examples
    --------
    ``pump_picture(fn.pump_and_system(car, drives=["11 V", "12.5 V", "14 V"]), units="metric")``
    """
    units = checked(settled(units, lines))
    (flows, flow_unit), (rises, rise_unit) = _like(lines, "flow", units), _like(lines, "rise", units)
    ax = axes_for(ax)
    right, top = _bounds(flows, rises)
    _pump_curves(ax, lines, flows["curve_flow"], rises["curve_rise"], right, top)
    for number, case in enumerate(lines["case"].values):
        across, up = flows["system_flow"][number], rises["system_rise"][number]
        there = (across >= 1e-3 * right) & numpy.isfinite(up)
        look = style(number) | {"marker": ""}
        at = f"at {lines['case_drive'].values[number]}"
        ax.plot(across[there], up[there], label=f"{folded(case)}\n{at}", **look)
        ax.plot([flows["flow"][number]], [rises["rise"][number]], marker=style(number)["marker"], markersize=10, color=look["color"],
                markeredgecolor="white", markeredgewidth=1.4, linestyle="none", zorder=5, label=f"_{case} works here")
    ax.set_xlim(0.0, right)
    ax.set_ylim(0.0, top)
    dress(ax, title=f"{lines.attrs['pump']} against what the circuit asks · {invented(lines.attrs['circuit'], lines.attrs['invented'])}",
          note="Grey: the pump on a bench. Coloured: the circuit in each case. The mark: where the pump works.",
          x=with_unit(lines["flow"].attrs["long_name"], flow_unit), y=with_unit(lines["rise"].attrs["long_name"], rise_unit))
    _legend(ax, lines)
    return ax


def _like(lines: Dataset, word: str, units: str) -> tuple[dict[str, NDArray[numpy.float64]], str]:
    """All variables of flow, or of rise, in the one unit of the pump's curves."""
    values, unit = numbers_of(lines[f"curve_{word}"], units)
    factor = float(numpy.nanmax(values) / numpy.nanmax(lines[f"curve_{word}"].values))
    return {name: factor * lines[name].values for name in (f"curve_{word}", f"system_{word}", word)}, unit


def _bounds(flows: Mapping[str, NDArray[numpy.float64]], rises: Mapping[str, NDArray[numpy.float64]]) -> tuple[float, float]:
    """Right and top of the picture: all of the pump's curves and of the operating points, but what a pump could push far beyond what is asked of it.

    A gear pump without its relief would come to thousands of bar, and all that happens would lie on the axis.
    """
    works = float(numpy.nanmax(rises["rise"], initial=0.0))
    could = float(numpy.nanmax(rises["curve_rise"]))
    return (1.04 * max(float(numpy.nanmax(flows["curve_flow"])), float(numpy.nanmax(flows["flow"]))),
            1.10 * max(min(could, _FAR * works) if works > 0.0 else could, works))


def _pump_curves(ax: Axes, lines: Dataset, flows: NDArray[numpy.float64], rises: NDArray[numpy.float64], right: float, top: float) -> None:
    """One thin line for each drive, with its name at the end of least flow or where it leaves the picture, names apart from each other."""
    at_side, at_top = [], []
    for drive, across, up in zip(lines["drive"].values, flows, rises):
        there = numpy.isfinite(across) & numpy.isfinite(up) & (up >= 0.0)
        ax.plot(across[there], up[there], color=QUIET, linewidth=1.0, zorder=1.8, label="_pump")
        height = float(up[there][0]) if there.any() else 0.0
        if height > top:  # curves fall with flow
            at_top.append((float(numpy.interp(-top, -up[there], across[there])) / right, str(drive)))
        else:
            at_side.append((height / top, str(drive) if height > 0.0 else f"{drive}: no rise"))
    placed = -1.0
    for height, name in sorted(at_side):
        placed = max(height, placed + _APART if placed >= 0.0 else 0.0)
        _name(ax, name, (0.012, placed), "bottom")
    taken: list[float] = []  # where the name of each row ends
    for x, name in sorted(at_top):
        wide = _LETTER * (len(name) + 1)
        begins = min(x + _BESIDE, 0.99 - wide)
        row = next((row for row, end in enumerate(taken) if begins > end), len(taken))
        taken[row:row + 1] = [begins + wide]
        _name(ax, name, (begins, 0.985 - _APART * row), "top")


def _name(ax: Axes, name: str, place: tuple[float, float], va: str) -> None:
    ax.annotate(name, place, xycoords="axes fraction", fontsize=9, color=INK, va=va, ha="left", zorder=6,
                bbox={"facecolor": "white", "edgecolor": "none", "alpha": 0.8, "pad": 0.8})


def _legend(ax: Axes, lines: Dataset) -> None:
    from matplotlib.lines import Line2D

    handles = [Line2D([], [], color=QUIET, linewidth=1.0, label=folded(f"{lines.attrs['pump']} at the {lines.attrs['driven_by']} named"))]
    for number, case in enumerate(lines["case"].values):
        text = [*wrap(str(case), 26), f"at {lines['case_drive'].values[number]}"]
        handles.append(Line2D([], [], label="\n".join(text), **style(number) | {"markersize": 7}))
    legend(ax, "what the circuit asks", handles)
