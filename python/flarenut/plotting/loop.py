"""Round the oil's loop: how warm it is from sump to sump, what pressure it has from pump to gallery; a line for each variant of the plumbing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from textwrap import wrap
from typing import TYPE_CHECKING

from ..units import preferred_unit, settled, to
from .data import checked
from .frame import axes_for, backdrop, folded, in_per_cent, legend
from .palette import COLOURS, INK, QUIET, style

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.artist import Artist
    from .shapes import ComparisonShape, LoopShape, SitesShape

_TEMPERATURE, _PRESSURE = 0, 1
_ROOM = (0.055, 0.09)  # of the picture beside and below a panel: for its scale, and for the names of places
_OF_COOLER = ("cooler in", "cooler out")  # hollow where the oil goes round it
_AT_REST = ("sump", "back in sump")  # next to no pressure, which would flatten what is between
_DODGE = 0.045  # of a step between stations, from line to line: lines that agree lie side by side
_MOST_DODGE = 0.3  # from the first to the last of many
_LONGEST_NAMES = 28  # letters of the variants that stand above a panel; more of them are counted
_LONGEST_LINE, _SHORT_CASE = 38, 16  # letters of a line of small print, and of a name of a case that one finds room beside
_ROW_INCHES, _WIDTH = 3.3, 11.5


def temperature_loop(comparison: ComparisonShape, *, cases: Sequence[str] | None = None, ax: Axes | None = None, units: str | None = None) -> Axes:
    """Draws the oil's temperature from the sump through pump, filter and cooler to the gallery, a line for each variant, a panel for each case.

    A cooler in a branch of its own, such as a bleed back to the sump, is drawn apart from the line, thin. Where nearly all the oil goes
    round a cooler, by a thermostat or a relief, its marks are hollow and stand for where the ways part and meet, and above the panel stands
    how much goes round. The band is how warm oil should be.

    Parameters
    ----------
    comparison : what `flarenut.compare` gives
    cases : names of those to draw; all of them unless given
    ax : matplotlib Axes to draw in; a new figure's unless given. Of four cases 11 by 7 inches is a good size
    units : "us" for F, "metric" for C; those of the comparison unless given

    Returns
    -------
    the Axes; its panels stand in its `child_axes`

    Raises
    ------
    ValueError : no such units or case, or no case has an answer

    Examples
    --------
    ``temperature_loop(fn.compare({"as it is": car, "other": other}), units="metric").figure.savefig("loop.png")``
    """
    low, high = comparison.bounds.warm
    return _draw(comparison, cases, ax, units, _TEMPERATURE, "Oil temperature from sump to sump", "temperature", "temperature", (low, high))


def pressure_loop(comparison: ComparisonShape, *, cases: Sequence[str] | None = None, ax: Axes | None = None, units: str | None = None) -> Axes:
    """Draws the oil's pressure from the pump to the gallery, as `temperature_loop` does its temperature; what gauges would show.

    Parameters
    ----------
    comparison : what `flarenut.compare` gives
    cases : names of those to draw; all of them unless given
    ax : matplotlib Axes to draw in; a new figure's unless given
    units : "us" for psi, "metric" for bar; those of the comparison unless given

    Returns
    -------
    the Axes; its panels stand in its `child_axes`

    Raises
    ------
    ValueError : no such units or case, or no case has an answer

    Examples
    --------
    ``pressure_loop(fn.compare({"as it is": car, "other": other})).figure.savefig("pressures.png")``
    """
    return _draw(comparison, cases, ax, units, _PRESSURE, "Oil pressure from pump to gallery", "gauge pressure", "pressure_gauge", None)


def _draw(comparison: ComparisonShape, cases: Sequence[str] | None, ax: Axes | None, units: str | None, which: int, title: str, words: str, kind: str,
          band: tuple[float, float] | None) -> Axes:
    units = checked(settled(units, comparison))
    chosen = _chosen(comparison, cases)
    loops = {(name, case): comparison.loop(name, case) for name in comparison.variants for case in chosen}
    if not any(loops.values()):
        raise ValueError("no case has an answer, so there is nothing to draw; see the text of the comparison")
    unit = preferred_unit(kind, units, 1e6)
    stations = [one for one in comparison.stations if any(loop and (one in loop.main or one in loop.aside) for loop in loops.values())
                and not (which == _PRESSURE and one in _AT_REST)]
    columns = 1 if len(chosen) == 1 else 2 if len(chosen) <= 4 else 3
    ax = _axes(ax, -(-len(chosen) // columns))
    ax.set_axis_off()
    note = " (invented circuits)" if comparison.invented else ""
    ax.set_title(f"{title}{note}", fontsize=12, color=INK, loc="left", pad=14)
    for number, (case, panel) in enumerate(zip(chosen, _panels(ax, len(chosen), columns))):
        here = {name: loops[name, case] for name in comparison.variants}
        _panel(panel, here, stations, which, unit, kind)
        _dress(panel, case, _told(here), stations, comparison.sites)
        if number % columns == 0:
            panel.set_ylabel(f"{words} [{unit}]", fontsize=9, color=INK)
        if band:
            _band(panel, [to(one, unit, kind) for one in band], unit)
    span = band and " to ".join(f"{to(one, unit, kind):.4g}" for one in band)
    _legend(ax, comparison, loops, band and f"how warm it should be at {comparison.sites.gallery}, {span} {unit}")
    return ax


def _chosen(comparison: ComparisonShape, cases: Sequence[str] | None) -> list[str]:
    chosen = list(comparison.cases) if cases is None else [cases] if isinstance(cases, str) else list(cases)
    for case in chosen:
        if case not in comparison.cases:
            raise ValueError(f"there is no case {case!r}; the cases are {', '.join(comparison.cases)}")
    return chosen


def _axes(ax: Axes | None, rows: int) -> Axes:
    if ax is not None:
        return axes_for(ax)
    from matplotlib.figure import Figure

    return Figure(figsize=(_WIDTH, 1.2 + _ROW_INCHES * rows), layout="constrained").subplots()


def _panels(ax: Axes, count: int, columns: int) -> list[Axes]:
    """Axes beside and below each other inside of `ax`."""
    rows = -(-count // columns)
    wide, high = 1.0 / columns, 1.0 / rows
    name = 0.11 * high  # of a panel's room, above: for the case
    below = max(_ROOM[1], 0.21 * high)
    return [ax.inset_axes((wide * (number % columns) + (_ROOM[0] if number % columns else 0.0), 1.0 - high * (number // columns + 1) + below,
                           wide - _ROOM[0], high - below - name)) for number in range(count)]


def _panel(panel: Axes, loops: Mapping[str, LoopShape | None], stations: Sequence[str], which: int, unit: str, kind: str) -> None:
    """Lines of all variants in one case."""
    middle = 0.5 * (len(loops) - 1)
    aside = min(_DODGE, _MOST_DODGE / max(len(loops) - 1, 1))
    for number, loop in enumerate(loops.values()):
        if loop is None:
            continue
        for way, thin in ((loop.main, False), (loop.aside, True)):
            found = [(stations.index(one) + aside * (number - middle), to(values[which], unit, kind)) for one, values in way.items() if one in stations]
            look = style(number) | ({"linewidth": 0.9, "markerfacecolor": "white"} if thin else {})
            if found:
                panel.plot(*zip(*found), **look)
            shown = [one for one in way if one in stations]
            bypassed = [point for point, one in zip(found, shown) if loop.round_it is not None and one in _OF_COOLER]
            if bypassed and not thin:
                panel.plot(*zip(*bypassed), **look | {"linestyle": "none", "markerfacecolor": "white", "zorder": 4})
    panel.margins(y=0.1)
    low, high = panel.get_ylim()
    least = 4.0 if which == _TEMPERATURE else 0.02 * max(abs(low), abs(high), 1.0)
    if high - low < least:
        panel.set_ylim(0.5 * (low + high - least), 0.5 * (low + high + least))


def _told(loops: Mapping[str, LoopShape | None]) -> str:
    """Which variants have no answer, and how much of the oil goes round the cooler where that is nearly all."""
    unsolved = [name for name, loop in loops.items() if loop is None]
    rounds = {name: loop.round_it for name, loop in loops.items() if loop is not None and loop.round_it is not None}
    words = ", ".join(unsolved)
    shares = " to ".join(dict.fromkeys(in_per_cent(share) for share in (min(rounds.values()), max(rounds.values())))) if rounds else ""
    names = " and ".join(rounds)
    where = "" if len(rounds) == len(loops) else f" in {names}" if len(names) <= _LONGEST_NAMES else f" in {len(rounds)} of {len(loops)} variants"
    return ", ".join(filter(None, [f"not solved: {words if len(words) < 40 else f'{len(unsolved)} variants'}" if unsolved else "",
                                   f"{shares} of the oil goes round the cooler{where}" if rounds else ""]))


def _dress(panel: Axes, case: str, told: str, stations: Sequence[str], sites: SitesShape) -> None:
    said = {"gallery": sites.gallery, "sump": sites.sump, "back in sump": f"back in {sites.sump}", "filter out, after cooler": "filter out,\nafter cooler"}
    panel.set_xticks(range(len(stations)), [said.get(one, one) for one in stations], rotation=35, ha="right", rotation_mode="anchor", fontsize=8)
    panel.set_xlim(-0.35, len(stations) - 0.65)
    panel.locator_params(axis="y", nbins=6)
    backdrop(panel)
    panel.tick_params(axis="y", labelsize=8)
    panel.tick_params(axis="x", labelsize=8, length=0)
    panel.set_title(case, loc="left", fontsize=10, fontweight="bold", color=INK, pad=4)
    _tell(panel, told)


def _tell(panel: Axes, *told: str) -> None:
    """Small print above a panel, each thing on a line of its own, beside the name of its case, or above that where it is long."""
    lines = [line for one in told for line in wrap(one, _LONGEST_LINE)] + [""] * (len(panel.get_title(loc="left")) > _SHORT_CASE)
    panel.set_title("\n".join(lines), loc="right", fontsize=8, color=QUIET, pad=4)


def _band(panel: Axes, ends: Sequence[float], unit: str) -> None:
    """A faint band, as far as the panel reaches; where it lies beyond, words for that."""
    low, high = panel.get_ylim()
    panel.axhspan(*ends, color=COLOURS[2], alpha=0.12, linewidth=0.0, zorder=0)
    panel.set_ylim(low, high)
    if min(ends) >= high or max(ends) <= low:
        beyond = f"every line below {min(ends):.4g} {unit}" if min(ends) >= high else f"every line above {max(ends):.4g} {unit}"
        told = " ".join(panel.get_title(loc="right").split())
        _tell(panel, told, beyond)


def _legend(ax: Axes, comparison: ComparisonShape, loops: Mapping[tuple[str, str], LoopShape | None], band: str | None) -> None:
    from matplotlib.lines import Line2D
    from matplotlib.patches import Patch

    handles: list[Artist] = [Line2D([], [], label=folded(name), **style(number)) for number, name in enumerate(comparison.variants)]
    if any(loop and (loop.aside or loop.round_it is not None) for loop in loops.values()):
        handles.append(Line2D([], [], label=folded("cooler in a branch of its own, or one that the oil goes round"), color=INK, linewidth=0.9,
                              marker="o", markersize=4.5, markerfacecolor="white"))
    if band:
        handles.append(Patch(color=COLOURS[2], alpha=0.12, linewidth=0.0, label=folded(band)))
    legend(ax, "", handles)
