"""Temperatures in the course of a drive: a line for each place, cases as bands, the moments at which thermostats begin to open."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import shorten
from typing import TYPE_CHECKING

import numpy

from ..units import parse, preferred_unit, to
from .data import checked
from .frame import axes_for, backdrop, folded, invented, legend
from .palette import COLOURS, FAINT, INK, QUIET, style

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from numpy.typing import NDArray
    from .shapes import DriveShape

_MOST_LINES = 6
_APART = 3.0  # [K]: a place that is never farther from one that is drawn has no line of its own
_SECONDS_IN = ((7200.0, "h", 3600.0), (300.0, "min", 60.0), (0.0, "s", 1.0))
_LETTER = 0.0105  # of the width of the axes, about
_ROOM = 0.13  # of the height, above the lines, for the names of cases


def time_picture(drive: DriveShape, places: str | Sequence[str] | None = None, *, marks: Sequence[str] = (), ax: Axes | None = None, units: str = "us") -> Axes:
    """Draws how warm it gets in the course of a drive.

    Parameters
    ----------
    drive : what `flarenut.over_time` gives
    places : names of places and of parts, whose outlets are drawn; unless given tanks, then what differs from them by some degrees, up to six lines
    marks : temperatures to draw a faint line at, ["80 C", "110 C"]
    ax : matplotlib Axes to draw in; a new figure's unless given
    units : "us" for F, "metric" for C

    Returns
    -------
    the Axes

    Raises
    ------
    ValueError : no such units or place, or nothing was reached

    Examples
    --------
    ``time_picture(fn.over_time(car, [("5 min", "cold start"), ("20 min", "cruise")]), units="metric").figure.savefig("warming.png")``
    """
    checked(units)
    if not len(drive):
        raise ValueError(f"nothing was reached, so there is nothing to draw: {drive.why_not}")
    ax, unit = axes_for(ax), preferred_unit("temperature", units)
    words, length = next((words, length) for least, words, length in _SECONDS_IN if drive.times[-1] >= least)
    times = drive.times / length
    lines = _lines(drive, places)
    every = max(1, len(times) // 12)
    for number, (name, kelvin) in enumerate(lines.items()):
        ax.plot(times, to(kelvin, unit, "temperature"), label=folded(name), markevery=(number * every // max(len(lines), 1), every), **style(number))
    for one in marks:
        ax.axhline(to(parse(one, "temperature", name="marks"), unit, "temperature"), color=QUIET, linewidth=0.8, linestyle=(0, (2, 2)))
    backdrop(ax)
    ax.set_xlim(0.0, times[-1])
    low, high = ax.get_ylim()
    ax.set_ylim(low, high + _ROOM * (high - low))
    _bands(ax, drive, length)
    _openings(ax, drive, length)
    ax.set_title(invented(f"{drive.circuit}: temperatures over time", drive.invented), fontsize=12, color=INK, loc="left", pad=10)
    ax.set_xlabel(f"time from the beginning [{words}]", fontsize=10, color=INK)
    ax.set_ylabel(f"temperature [{unit}]", fontsize=10, color=INK)
    legend(ax)
    return ax


def _lines(drive: DriveShape, places: str | Sequence[str] | None) -> dict[str, NDArray[numpy.float64]]:
    """Name -> temperatures [K]."""
    if places is not None:
        return {name: _kelvin(drive, name) for name in ([places] if isinstance(places, str) else places)}
    known = [*drive.tanks, *(name for name in drive.layout.named if name not in ("ambient", *drive.tanks)), *drive.coolers]
    lines: dict[str, NDArray[numpy.float64]] = {}
    for name in known:
        kelvin = _kelvin(drive, name)
        if len(lines) < _MOST_LINES and all(numpy.abs(kelvin - one).max() > _APART for one in lines.values()):
            lines[name if name in drive.layout.named else f"{name} out"] = kelvin
    return lines


def _kelvin(drive: DriveShape, name: str) -> NDArray[numpy.float64]:
    owner = name.removesuffix(" out") if name.removesuffix(" out") in drive.coolers else name
    try:
        return drive.temperature(owner).si
    except KeyError:
        pass
    try:
        return drive.series(f"{owner}.temperature_out").si
    except KeyError:
        raise ValueError(f"there is no place or part {name!r} to draw; there are {', '.join([*drive.layout.named, *drive.coolers])}") from None


def _bands(ax: Axes, drive: DriveShape, length: float) -> None:
    """Every other case lies in a faint band; its name stands at the top, upright where it is too narrow for it."""
    whole = drive.times[-1]
    for number, leg in enumerate(one for one in drive.legs if one.begins < whole):
        begins, ends = leg.begins, min(leg.ends, whole)
        if number % 2:
            ax.axvspan(begins / length, ends / length, color=FAINT, alpha=0.22, linewidth=0.0, zorder=0)
        room = (ends - begins) / whole
        lies = room > _LETTER * len(leg.case) + 0.01
        if room > 0.02:
            ax.text(0.5 * (begins + ends) / length, 0.985, leg.case if lies else shorten(leg.case, 24, placeholder="..."), transform=ax.get_xaxis_transform(),
                    ha="center", va="top", rotation=0 if lies else 90, fontsize=9, color=QUIET)


def _openings(ax: Axes, drive: DriveShape, length: float) -> None:
    """A fine upright line where a thermostat begins to open. Those that open together share it."""
    at: dict[float, list[str]] = {}
    for name in drive.thermostats:
        opens = drive.opens(name)
        if opens is not None and opens.si > 0.0:
            at.setdefault(round(opens.si / length, 6), []).append(name)
    for time, names in at.items():
        ax.axvline(time, ymax=1.0 - _ROOM, color=COLOURS[4], linewidth=1.2)
        right = time > 0.7 * ax.get_xlim()[1]
        ax.annotate(folded(f"{', '.join(names)} begins to open"), (time, 0.02), xycoords=ax.get_xaxis_transform(), xytext=(-4 if right else 4, 0),
                    textcoords="offset points", ha="right" if right else "left", va="bottom", fontsize=8.5, color=QUIET)
