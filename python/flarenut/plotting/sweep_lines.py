"""A sweep as lines: one reading over what was swept first, a line for each further value and each case."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from itertools import product
from math import prod
from textwrap import shorten, wrap
from typing import TYPE_CHECKING, Any

import numpy

from ..units import in_one
from .palette import COLOURS, DASHES, FAINT, INK, QUIET, style

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from numpy.typing import NDArray
    from xarray import DataArray, Dataset

MOST_LINES = 12  # more cannot be told apart; those in between are left out, and the picture says so
_MOST_MARKED = 25  # points along a line that still get a mark each
_CASE, _SAMPLE, _MARGIN = "case", "sample", "margin_to_boiling"
_CLOSE = 0.12  # of the height, between two limits whose words would cover each other
_REASON = 150  # letters of a reason
BOILS = "hollow: the liquid boils, not to be had"


def sweep_lines(dataset: Dataset, output: str, *, over: str | None = None, ax: Axes | None = None, limits: tuple[float | None, float | None] = (None, None),
                legend: bool = True) -> Axes:
    """Draws one reading of a sweep over one of its axes, a line for each value of the further axes and each case.

    Sizes stand side by side, evenly, in the order swept. What has no order, as pumps to choose from, has marks that no line joins; random
    samples are dots over what was drawn. Points where the liquid boils somewhere are hollow, and off the line: their numbers are not to be
    had. Points without an answer are left out, and counted above.

    Parameters
    ----------
    dataset : of `sweep`, in the units to be shown
    output : name of a reading that is a number, "rail.gauge"
    over : name of what varies, to draw over; what was drawn first, or else what stands first, unless given
    ax : matplotlib Axes to draw in; a new figure's unless given
    limits : (least, most) of the reading, in its unit, drawn as lines; None for neither
    legend : whether the Axes get a legend of their own

    Returns
    -------
    the Axes

    Raises
    ------
    ValueError : there is no such reading or axis, it holds words, or no point has an answer

    Examples
    --------
    ``sweep_lines(fn.sweep(car, {"return hose.size": ["-4", "-6"]}, units="us"), "rail.gauge").figure.savefig("rail.png")``
    """
    if output not in dataset.data_vars:
        raise ValueError(f"there is no reading {output!r} in this sweep; there are {', '.join(map(str, dataset.data_vars))}")
    values = dataset[output]
    if "words" in values.attrs:
        raise ValueError(f"{output!r} holds words, not numbers")
    if not numpy.isfinite(values.values).any():
        raise ValueError(f"no point of the sweep has an answer for {output!r}, so there is nothing to draw")
    if ax is None:
        from matplotlib.figure import Figure

        ax = Figure(figsize=(8, 5), layout="constrained").subplots()
    along = _along(dataset, values, over)
    places, ticks = _places(dataset, along, over)
    others = tuple(str(name) for name in values.dims if name != along)
    boils = _boiling(dataset, values)
    chosen, count = _chosen(dataset, others)
    alone, apart = len(chosen) == 1, ticks is not None and not all(map(_in_order, ticks))
    for number, at in enumerate(chosen):
        heights, hollow = (one.isel(dict(zip(others, at))).values for one in (values, boils))
        label = ", ".join(_said(dataset, name, place) for name, place in zip(others, at) if dataset.sizes[name] > 1 or name == _CASE)
        finite = numpy.isfinite(heights)
        only_hollow = bool(finite.any() and hollow[finite].all())
        look = style(number) | {"linestyle": "", "markersize": 7} if apart else style(number) if boils.any() else _style(number, chosen)
        across = places + _beside(number, len(chosen)) if apart else places
        _line(ax, across, numpy.where(hollow, numpy.nan, heights), "_nothing" if only_hollow else label, dict(look), dots=along == _SAMPLE,
              marked=ticks is not None or len(places) <= _MOST_MARKED)
        _hollow(ax, across, heights, hollow, look, label if only_hollow else "")
    for value in limits:
        if value is not None:
            ax.axhline(value, color=INK, linewidth=1.0, linestyle=(0, (2, 2)), zorder=3)
    _dress(ax, dataset, values, along, ticks, over)
    _name_limits(ax, limits, values.attrs.get("units", "1"))
    if apart:
        ax.set_xlim(-0.5, len(places) - 0.5)
    told = [label if alone else f"{len(chosen)} of {count} {'sets of marks' if apart else 'lines'} shown" if count > len(chosen) else "",
            *(without_answer(dataset) if legend else [])]
    ax.set_title("\n".join(line for one in told if one for line in wrap(one, 96)), fontsize=9, color=QUIET, loc="left")
    if legend and (not alone or any(line.get_label() == BOILS for line in ax.lines)):
        ax.legend(fontsize=8, frameon=False, handlelength=4)
    return ax


def without_answer(dataset: Dataset) -> list[str]:
    """How many points of a sweep have no answer, and the commonest reason; nothing where all have one."""
    if "status" not in dataset or not (lost := int((dataset["status"].values != 0).sum())):
        return []
    told = f"{lost:,} of {dataset['status'].size:,} points {'have' if lost > 1 else 'has'} no answer and {'are' if lost > 1 else 'is'} not drawn"
    places = dataset["reason"].values.ravel() if "reason" in dataset else numpy.array([], int)
    counts = numpy.bincount(places[places >= 0])
    if not counts.size:
        return [told]
    why = in_one(json.loads(dataset["reason"].attrs["words"])[int(counts.argmax())], dataset.attrs.get("unit_system"))
    often = "" if counts.max() == lost else f"{int(counts.max()):,} of them: "
    return [f"{told}: {often}{shorten(why.partition('; ')[0], _REASON, placeholder=' ...')}"]


def _in_order(tick: str) -> bool:
    """Whether words under a point are sizes or numbers, between which a line has a meaning: "-6", "3/8 in", "12 V / 20 C"."""
    return all(re.fullmatch(r"-?\d[\d./ ]*( ?[a-zA-Z%]+)?( x .*)?", piece) for piece in tick.split(" / "))


def _beside(number: int, count: int) -> float:
    """How far the marks of one line stand from the middle of their place, so that those of several can be told apart."""
    return (number - 0.5 * (count - 1)) * min(0.12, 0.7 / count)


def _along(dataset: Dataset, values: DataArray, over: str | None) -> str:
    """Dimension to draw over."""
    if over is not None:
        if over not in dataset.coords or dataset[over].dims[0] not in values.dims:
            raise ValueError(f"there is no {over!r} to draw over; there are {', '.join(map(str, dataset.coords))}")
        return str(dataset[over].dims[0])
    return _SAMPLE if _SAMPLE in values.dims else str(values.dims[0])


def _boiling(dataset: Dataset, values: DataArray) -> DataArray:
    """Which points boil somewhere, in the shape of the reading."""
    margin = dataset[_MARGIN].transpose(*values.dims).values if _MARGIN in dataset else numpy.full(values.shape, numpy.nan)
    return values.copy(data=margin <= 0.0)


def _chosen(dataset: Dataset, others: tuple[str, ...]) -> tuple[list[tuple[int, ...]], int]:
    """Places along the further axes of the lines to draw, and how many lines there are.

    Where there are too many the longest axes are thinned, ends kept, so that lines still differ in one thing at a time.
    """
    sizes = [dataset.sizes[name] for name in others]
    kept = list(sizes)
    while prod(kept) > MOST_LINES:
        longest = max(range(len(kept)), key=lambda place: (others[place] != _CASE and kept[place] > 1, kept[place]))
        kept[longest] = min(kept[longest] - 1, MOST_LINES)
    places = [numpy.linspace(0, size - 1, count).round().astype(int).tolist() for size, count in zip(sizes, kept)]
    return list(product(*places)), prod(sizes)


def _names(dataset: Dataset, dimension: str) -> list[str]:
    """Coordinates along a dimension: its own, or those of the names that run along it together."""
    found = [str(name) for name, one in dataset.coords.items() if one.dims == (dimension,) and name != _SAMPLE]
    return found or [dimension]


def _places(dataset: Dataset, dimension: str, over: str | None = None) -> tuple[NDArray[Any], list[str] | None]:
    """Where the points stand across, and the words under them; None where they are numbers."""
    names = [over] if over is not None else _names(dataset, dimension)
    numbers = dataset[names[0]].values
    if (len(names) == 1 or dimension == _SAMPLE) and numbers.dtype.kind in "fiu":
        return numbers, None
    size = dataset.sizes[dimension]
    return numpy.arange(size), [_values(dataset, names, place) for place in range(size)]


def _values(dataset: Dataset, names: Sequence[str], place: int) -> str:
    """Values of names that run along together; once where all are alike."""
    return " / ".join(dict.fromkeys(_value(dataset, name, place) for name in names))


def _value(dataset: Dataset, name: str, place: int) -> str:
    value, unit = dataset[name].values[place], dataset[name].attrs.get("units", "1")
    return f"{value:.6g} {unit}".removesuffix(" 1") if dataset[name].dtype.kind in "fiu" else str(value)


def _said(dataset: Dataset, dimension: str, place: int) -> str:
    if dimension == _CASE:
        return str(dataset[_CASE].values[place])
    if dimension == _SAMPLE:
        return f"sample {place + 1}"
    names = _names(dataset, dimension)
    return f"{' / '.join(map(_words, names))} {_values(dataset, names, place)}"


def _words(name: str) -> str:
    return str(name).replace(".", " ").replace("_", " ")


def _style(number: int, chosen: Sequence[tuple[int, ...]]) -> dict[str, Any]:
    """Keywords for a line: colour and mark say the case, the dash all else, as far as there are enough of each."""
    last = len({at[-1] for at in chosen}) if chosen[0] else 1
    if last in (1, len(chosen)) or last > len(COLOURS) or len(chosen) > last * len(DASHES):
        return style(number)
    return {**style(number % last), "linestyle": DASHES[number // last]}


def _line(ax: Axes, places: NDArray[numpy.float64], heights: NDArray[numpy.float64], label: str, look: dict[str, Any], *, dots: bool,
          marked: bool) -> None:
    if dots:
        look |= {"linestyle": "", "marker": ".", "markersize": 6 if len(places) < 500 else 2}
    elif not marked:
        look |= {"marker": ""}
    ax.plot(places, heights, label=label, rasterized=dots, **look)


def _hollow(ax: Axes, places: NDArray[numpy.float64], heights: NDArray[numpy.float64], hollow: NDArray[numpy.bool_],
            look: Mapping[str, object], label: str) -> None:
    """Points that boil, in the colour of their line; the legend says once what they are. `label` names a line that has no others.

    No dash tells them apart, so that each line of such a picture has a mark to itself.
    """
    if not (hollow & numpy.isfinite(heights)).any():
        return
    said = any(line.get_label() == BOILS for line in ax.lines)
    marks: dict[str, Any] = {"linestyle": "", "marker": look["marker"], "markersize": 5, "markerfacecolor": "none", "color": look["color"]}
    ax.plot(numpy.asarray(places)[hollow], heights[hollow], label=label or ("_boils" if said else BOILS), **marks)
    if label and not said:
        ax.plot([], [], label=BOILS, **marks | {"color": QUIET, "marker": "o"})


def _name_limits(ax: Axes, limits: tuple[float | None, float | None], unit: str) -> None:
    """Beside each limit what it is; of two that are close to one another one stands above and one below."""
    known = [(value, words) for value, words in zip(limits, ("at least", "at most")) if value is not None]
    low, high = ax.get_ylim()
    close = len(known) > 1 and known[1][0] - known[0][0] < _CLOSE * (high - low)
    for value, words in known:
        ax.annotate(f"{words}\n{value:.4g} {unit}".removesuffix(" 1"), (1.0, value), xycoords=("axes fraction", "data"), xytext=(3, 0),
                    textcoords="offset points", va="center" if not close else "bottom" if words == "at most" else "top", fontsize=7, color=INK,
                    annotation_clip=False)


def _dress(ax: Axes, dataset: Dataset, values: DataArray, along: str, ticks: Sequence[str] | None, over: str | None = None) -> None:
    names = [over] if over is not None else _names(dataset, along)[:1] if along == _SAMPLE else _names(dataset, along)
    unit = dataset[names[0]].attrs.get("units", "1") if ticks is None else "1"
    ax.set_xlabel(" / ".join(map(_words, names)) + (f" [{unit}]" if unit != "1" else ""), fontsize=9, color=INK)
    unit = values.attrs.get("units", "1")
    ax.set_ylabel(values.attrs.get("long_name", values.name) + (f" [{unit}]" if unit != "1" else ""), fontsize=9, color=INK)
    if ticks is not None:
        step = max(1, -(-len(ticks) // 20))
        long = sum(map(len, ticks[::step])) > 60
        ax.set_xticks(range(0, len(ticks), step), ticks[::step], rotation=30 if long else 0, ha="right" if long else "center")
    ax.tick_params(labelsize=8)
    low, high = ax.get_ylim()
    least = 0.02 * max(abs(low), abs(high), 1e-12)
    if high - low < least:  # round-off is no change
        ax.set_ylim((low + high - least) / 2, (low + high + least) / 2)
    ax.ticklabel_format(axis="y", useOffset=False)
    ax.grid(color=FAINT, linewidth=0.6)
    ax.set_axisbelow(True)
    for side in ("top", "right"):
        ax.spines[side].set_visible(False)
