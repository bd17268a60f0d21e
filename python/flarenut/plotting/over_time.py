"""Temperatures in the course of a drive: a line for each place, cases as bands, when thermostats begin to open, where and why it ended early."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from textwrap import shorten, wrap
from typing import TYPE_CHECKING, Any

import numpy

from ..units import parse, preferred_unit, settled, to
from .apart import Spot, box_of, put_apart, settle
from .data import checked
from .frame import axes_for, dress, folded, invented, legend
from .palette import COLOURS, FAINT, INK, QUIET, style

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.text import Text
    from matplotlib.transforms import Bbox
    from numpy.typing import NDArray
    from .shapes import DriveShape

_MOST_LINES = 6
_APART = 3.0  # [K]: a place that is never farther from one that is drawn has no line of its own
_SECONDS_IN = ((7200.0, "h", 3600.0), (300.0, "min", 60.0), (0.0, "s", 1.0))
_UPRIGHT = 24  # letters of a name that stands upright
_BAND, _UNDER_NAME = 0.22, ("#ffffff", "#f0f1f3")  # how strong every other band is; the ground that a name stands on, plain and in such a band
_BEYOND = (0.35, 0.04)  # of what was reached, of the whole: how far a picture goes on where a drive ended early
_OFF_LINE = 5.0  # pixels between a line and its number
_WHY = 420  # letters of the reason for that


def time_picture(drive: DriveShape, places: str | Sequence[str] | None = None, *, marks: Sequence[str] = (), ax: Axes | None = None, units: str | None = None) -> Axes:
    """Draws how warm it gets in the course of a drive.

    Where a drive ended early the picture goes on a little, hatched, and the reason stands above it; where nothing was reached there is but that.

    Parameters
    ----------
    drive : what `flarenut.over_time` gives
    places : names of places and of parts, whose outlets are drawn; unless given tanks, then what differs from them by some degrees, up to six lines
    marks : temperatures to draw a faint line at, with its number, ["80 C", "110 C"]
    ax : matplotlib Axes to draw in; a new figure's unless given
    units : "us" for F, "metric" for C; those of what is drawn unless given

    Returns
    -------
    the Axes

    Raises
    ------
    ValueError : no such units or place

    Examples
    --------
    ``time_picture(fn.over_time(car, [("5 min", "cold start"), ("20 min", "cruise")]), units="metric").figure.savefig("warming.png")``
    """
    units = checked(settled(units, drive))
    ax, unit, reach = axes_for(ax), preferred_unit("temperature", units), _reach(drive)
    words, length = next((words, length) for least, words, length in _SECONDS_IN if reach >= least)
    _draw_lines(ax, drive, _lines(drive, places) if len(drive) else {}, unit, length)
    marked = _marks(ax, marks if len(drive) else (), unit)
    ax.set_xlim(0.0, reach / length)
    dress(ax, title=invented(f"{drive.circuit}: temperatures over time", drive.invented), note=_ending_in_words(drive, units),
          x=f"time from the beginning [{words}]", y=f"temperature [{unit}]")
    named = _bands(ax, drive, length, reach)
    if len(drive):
        legend(ax)
    else:
        ax.set_yticks([])
    ended = _ending(ax, drive, length, reach)
    taken, left_out = _fit(ax, named, length, settle(ax))
    if left_out:
        ax.set_xlabel("\n".join([ax.get_xlabel(), *wrap(f"Too short for a name above: {', '.join(left_out)}", 105)]), fontsize=10, color=INK)
    low, high = ax.get_ylim()
    room = max((box.height for box in taken), default=0.0) / ax.bbox.height + 0.03
    ax.set_ylim(low, high + room / (1.0 - room) * (high - low))
    opened = _openings(ax, drive, length, 1.0 - room) if len(drive) else []
    renderer = settle(ax)
    taken = [box_of(text, renderer) for text in [*(text for text, *_ in named if text.get_visible()), *ended]]
    _number_marks(ax, marked, taken, renderer)
    _beside(ax, opened, taken, 1.0 - room, renderer)
    return ax


def _reach(drive: DriveShape) -> float:
    """How far the picture goes [s]: the whole drive, or some way beyond where it ended."""
    whole = drive.legs[-1].ends
    if drive.complete or not len(drive):
        return whole
    reached = float(drive.times[-1])
    return min(whole, reached + max(_BEYOND[0] * reached, _BEYOND[1] * whole))


def _draw_lines(ax: Axes, drive: DriveShape, lines: Mapping[str, NDArray[numpy.float64]], unit: str, length: float) -> None:
    times = drive.times / length
    every = max(1, len(times) // 12)
    for number, (name, kelvin) in enumerate(lines.items()):
        ax.plot(times, to(kelvin, unit, "temperature"), label=folded(name), markevery=(number * every // max(len(lines), 1), every), **style(number))


def _marks(ax: Axes, marks: Sequence[str], unit: str) -> list[tuple[float, Text]]:
    """A faint line at each temperature, and its number, which has yet to find its place."""
    found = []
    for one in [marks] if isinstance(marks, str) else marks:
        height = to(parse(one, "temperature", name="marks"), unit, "temperature")
        ax.axhline(height, color=QUIET, linewidth=0.8, linestyle=(0, (2, 2)))
        found.append((height, ax.text(0.995, height, f"{height:.4g} {unit}", transform=ax.get_yaxis_transform(), fontsize=8.5, color=QUIET, zorder=6)))
    return found


def _number_marks(ax: Axes, marked: Sequence[tuple[float, Text]], taken: list[Bbox], renderer: Any) -> None:
    """Numbers stand above or below their lines, at an end of them, where they cover nothing."""
    low, high = ax.get_ylim()
    gap = _OFF_LINE * (high - low) / ax.bbox.height
    for height, text in marked:
        ends = [(0.995, "right"), (0.005, "left"), *((0.1 * tenth, "center") for tenth in (9, 8, 7, 6, 5, 4, 3, 2, 1))]
        spots = [Spot(x, height + shift, ha, va) for x, ha in ends for shift, va in ((gap, "bottom"), (-gap, "top"))]
        taken.append(put_apart(text, spots, taken, ax, renderer))


def _ending_in_words(drive: DriveShape, units: str) -> str:
    """Why a drive ended early; "" where it did not."""
    if drive.complete:
        return ""
    whole, why = _clock(drive.legs[-1].ends), drive.why_not_in(units)
    if not len(drive):
        return shorten(f"Nothing of {whole} was reached: {why}", _WHY, placeholder=" ...")
    return shorten(f"It ends at {_clock(float(drive.times[-1]))} of {whole}: {why.partition('there is no answer, ')[2] or why}", _WHY, placeholder=" ...")


def _ending(ax: Axes, drive: DriveShape, length: float, reach: float) -> list[Text]:
    """Where it ended early an upright line, and what was not reached, hatched."""
    if drive.complete:
        return []
    reached = float(drive.times[-1]) if len(drive) else 0.0
    ax.axvspan(reached / length, reach / length, facecolor="none", edgecolor=FAINT, hatch="//", linewidth=0.0, zorder=0.5)
    if len(drive):
        ax.axvline(reached / length, color=COLOURS[1], linewidth=2.0)
    said = f"ends at {_clock(reached)}, no answer beyond" if len(drive) else "no answer from the beginning on"
    text = ax.text(0.5 * (reached + reach) / length, 0.45, said, transform=ax.get_xaxis_transform(), ha="center", va="center", fontsize=9.5, color=INK,
                   rotation=90 if len(drive) else 0, zorder=6, bbox={"facecolor": "white", "edgecolor": "none", "pad": 2.0})
    return [text]


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


def _bands(ax: Axes, drive: DriveShape, length: float, reach: float) -> list[tuple[Text, str, tuple[float, float]]]:
    """Every other case lies in a faint band. (words at its top, whole name, beginning and end in the units of the axis) of each."""
    named = []
    for number, leg in enumerate(one for one in drive.legs if one.begins < reach):
        begins, ends = leg.begins / length, min(leg.ends, reach) / length
        if number % 2:
            ax.axvspan(begins, ends, color=FAINT, alpha=_BAND, linewidth=0.0, zorder=0)
        text = ax.text(0.5 * (begins + ends), 0.985, leg.case, transform=ax.get_xaxis_transform(), ha="center", va="top", fontsize=9, color=QUIET, zorder=6,
                       bbox={"facecolor": _UNDER_NAME[number % 2], "edgecolor": "none", "pad": 1.0})
        named.append((text, leg.case, (begins, ends)))
    return named


def _fit(ax: Axes, named: Sequence[tuple[Text, str, tuple[float, float]]], length: float, renderer: Any) -> tuple[list[Bbox], list[str]]:
    """Names of cases inside of their bands, upright where these are too narrow; (extents of what stands, words for what found no room)."""
    taken, left_out = [], []
    for text, name, ends in named:
        left, right = (float(ax.transData.transform((one, 0.0))[0]) for one in ends)
        for rotation, words in ((0, name), (90, shorten(name, _UPRIGHT, placeholder="..."))):
            text.set(text=words, rotation=rotation)
            if box_of(text, renderer).width <= right - left:
                break
        else:
            text.set_visible(False)
            left_out.append(f"{name} from {_clock(ends[0] * length)} to {_clock(ends[1] * length)}")
            continue
        taken.append(box_of(text, renderer))
    return taken, left_out


def _clock(seconds: float) -> str:
    minutes, rest = divmod(round(seconds), 60)
    return " ".join(filter(None, [f"{minutes} min" if minutes else "", f"{rest} s" if rest or not minutes else ""]))


def _openings(ax: Axes, drive: DriveShape, length: float, top: float) -> list[tuple[float, Text]]:
    """A fine upright line where a thermostat begins to open, up to the names of cases. Those that open together share it."""
    at: dict[float, list[str]] = {}
    for name in drive.thermostats:
        opens = drive.opens(name)
        if opens is not None and opens.si > 0.0:
            at.setdefault(round(opens.si / length, 6), []).append(name)
    for time in at:
        ax.axvline(time, ymax=top, color=COLOURS[4], linewidth=1.2)
    return [(time, ax.text(time, 0.02, folded(f"{', '.join(names)} begins to open"), transform=ax.get_xaxis_transform(), fontsize=8.5, color=QUIET, zorder=6,
                           bbox={"facecolor": "white", "edgecolor": "none", "alpha": 0.7, "pad": 1.0}))
            for time, names in at.items()]


def _beside(ax: Axes, opened: Sequence[tuple[float, Text]], taken: list[Bbox], top: float, renderer: Any) -> None:
    """What opens stands beside its line, where it covers nothing."""
    low, high = ax.get_xlim()
    gap = 0.006 * (high - low)
    for time, text in opened:
        sides = [("left", gap), ("right", -gap)] if time < 0.7 * high else [("right", -gap), ("left", gap)]
        step = box_of(text, renderer).height / ax.bbox.height
        rows = [0.02 + step * number for number in range(max(1, int((top - 0.02) / max(step, 0.01))))]
        taken.append(put_apart(text, [Spot(time + shift, row, side, "bottom") for row in rows for side, shift in sides], taken, ax, renderer))
