"""Size of a line against what it costs: what stands behind a regulator for a return line, at rail and pump for a feed, with the smallest that passes."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from math import radians, sin
from textwrap import shorten
from typing import TYPE_CHECKING, Any

from ..units import digits, settled
from .apart import Spot, box_of, put_apart, settle
from .data import checked
from .frame import axes_for, backdrop, dress, folded, invented, legend
from .palette import COLOURS, INK, QUIET, style
from .size_panel import draw_panel, quantity_of

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from xarray import Dataset
    from .size_panel import Quantity
    from matplotlib.artist import Artist
    from matplotlib.text import Text

# Role of a line -> panels from top to bottom -> what each draws.
_PANELS = {"return": (("back_pressure", "rise_over_setting"),), "feed": (("pressure",), ("lost",), ("velocity",)),
           "suction": (("inlet_vacuum",), ("suction_margin",), ("degrees_to_boiling",), ("velocity",))}
_TOP, _SHARE = 0.17, 0.66  # of a panel's room: above the first for its name, and the drawing in it
_BEST, _STRONG, _FAINT_BAND = COLOURS[2], 0.24, 0.09  # colour of the bands; of the smallest bore of all, and of each other specification
_LETTERS, _LINE = 9.0, 1.1  # points, of names of sizes; from line to line, of their height
_LEANS = 40  # degrees, of names of sizes that do not fit beside each other
_LONGEST_CASE = 34  # letters of a case's name above a panel


def size_picture(sizes: object, *, ax: Axes | None = None, units: str | None = None) -> Axes:
    """Draws what each size of a line does to the cases that are worst for it, with limits and the smallest size that passes.

    Of a return line: back-pressure, and rail pressure over the setting. Of a feed: pressure where it feeds, what the line loses, velocity.
    Of the way to a pump: vacuum at its inlet, suction margin, degrees to boiling, velocity. Each unit has a panel of its own. What stands
    far beyond its limit is left to an arrow and its number at the edge. Of several specifications each has its line and its smallest, and
    the smallest bore of all is named.

    Parameters
    ----------
    sizes : what `flarenut.line_sizes` gives, or its `to_dataset()`
    ax : matplotlib Axes to draw in; a new figure's unless given
    units : "us" for psi, "metric" for bar; those of what is drawn unless given

    Returns
    -------
    the Axes; where there are several panels they stand in its `child_axes`

    Raises
    ------
    ValueError : the table has nothing of that to draw

    Examples
    --------
    ``size_picture(fn.line_sizes(car, "return hose"))``
    """
    units = checked(settled(units, sizes))
    given: Any = sizes.to_dataset() if hasattr(sizes, "to_dataset") and not hasattr(sizes, "data_vars") else sizes
    data: Dataset = given.sortby("bore")
    groups = [[quantity_of(data, key, units) for key in group] for group in _groups(data)]
    keys = [key for group in _groups(data) for key in group]
    if not groups:
        raise ValueError("the table has none of pressure, velocity, back-pressure or suction margin to draw")
    ax = axes_for(ax, rows=len(groups))
    names, specs = [str(name) for name in data["size"].values], [str(one) for one in data["specification"].values]
    panels = [ax] if len(groups) == 1 else _panels(ax, len(groups))
    for panel, group in zip(panels, groups):
        draw_panel(panel, group, specs)
        if len(groups) > 1:
            _name(panel, group[0], names, data.attrs["smallest"])
    smallest = [name for name in json.loads(data.attrs["smallest_of_each"]).values() if name]
    all_else = any(key in data.attrs["beyond"] for key in keys) or bool(data.attrs.get("all_else", 0))
    mark = _mark(panels, names, smallest, data.attrs["smallest"], all_else)
    _names_of_sizes(panels, names, smallest)
    _dress(ax, data, groups, _note(data, names, dict(zip(keys, [one for group in groups for one in group]))))
    _legend(ax, panels, specs, smallest, all_else)
    _kept_apart(ax, panels, mark, names)
    return ax


def _groups(data: Dataset) -> list[list[str]]:
    """Keys to draw, by panel. A line whose role nobody knows is drawn as the return where there is one."""
    role = data.attrs["role"] or ("return" if "back_pressure" in data or "rise_over_setting" in data else "feed")
    found = [[key for key in group if key in data and data[key].notnull().any()] for group in _PANELS[role]]
    return [group for group in found if group]


def _panels(ax: Axes, count: int) -> list[Axes]:
    """Axes one under another inside of `ax`, which shows nothing itself."""
    ax.set_axis_off()
    room = 1.0 / count
    return [ax.inset_axes((0.0, 1.0 - room * (number + _TOP + _SHARE), 1.0, room * _SHARE)) for number in range(count)]


def _name(panel: Axes, one: Quantity, names: Sequence[str], best: str) -> None:
    """Above a panel: what it shows, in which case, its limit, and what the smallest that passes leaves of it."""
    margin = one.margins[names.index(best)] if best else float("nan")
    left = f"{digits(float(margin))} {one.margin_unit} left at {best}" if margin == margin else ""
    case = f"in {shorten(one.case, _LONGEST_CASE, placeholder=' ...')}" if one.case else ""
    panel.set_title(" · ".join(filter(None, [f"{one.words} [{one.unit}]", one.limit_in_words(), left, case])), fontsize=9.5, color=INK, loc="left", pad=4)


def _mark(panels: Sequence[Axes], names: Sequence[str], smallest: Sequence[str], best: str, all_else: bool) -> Text | None:
    """A band at the smallest of each specification, and a stronger one at the smallest of all."""
    for panel in panels:
        for name in smallest:
            place = names.index(name)
            panel.axvspan(place - 0.32, place + 0.32, color=_BEST, alpha=_STRONG if name == best else _FAINT_BAND, linewidth=0.0, zorder=0)
    if not best or len(panels) > 1:
        return None
    said = "smallest\nthat passes" + ("\nall else" if all_else else "") if len(smallest) == 1 else "smallest bore\nof all"
    return panels[0].text(names.index(best), 0.985, said, transform=panels[0].get_xaxis_transform(), ha="center", va="top", fontsize=9, color=INK,
                          zorder=7, bbox={"facecolor": "white", "edgecolor": QUIET, "linewidth": 0.6, "alpha": 0.9, "pad": 2.5})


def _kept_apart(ax: Axes, panels: Sequence[Axes], mark: Text | None, names: Sequence[str]) -> None:
    """Names of sizes as steep or as small as they have to be, and the mark of the smallest where it covers neither numbers nor lines."""
    renderer, panel = settle(ax), panels[-1]
    apart, extents = panel.bbox.width / (panel.get_xlim()[1] - panel.get_xlim()[0]), [label.get_window_extent(renderer) for label in panel.get_xticklabels()]
    if any(one.padded(3.0).overlaps(other) for one, other in zip(extents, extents[1:])):
        high = _LINE * max(one.height for one in extents)
        leans = apart * sin(radians(_LEANS)) >= high
        for label in panel.get_xticklabels():
            label.set(rotation=_LEANS if leans else 90, ha="right" if leans else "center", rotation_mode="anchor" if leans else "default")
            label.set_fontsize(min(_LETTERS, _LETTERS * apart / high))
    if mark is not None:
        renderer, place = settle(ax), round(mark.get_position()[0])
        taken = [box_of(text, renderer) for text in panels[0].texts if text is not mark]
        put_apart(mark, [Spot(place + shift, row, "center", "top") for row in (0.985, 0.8, 0.65, 0.5, 0.35) for shift in (0, 1, -1, 2, -2)], taken, panels[0],
                  renderer)


def _names_of_sizes(panels: Sequence[Axes], names: Sequence[str], smallest: Sequence[str]) -> None:
    """Under the last panel; those that are smallest in bold."""
    for panel in panels[:-1]:
        panel.set_xticks(range(len(names)), [""] * len(names))
    panels[-1].set_xticks(range(len(names)), names)
    for label, name in zip(panels[-1].get_xticklabels(), names):
        label.set_fontweight("bold" if name in smallest else "normal")


def _dress(ax: Axes, data: Dataset, groups: Sequence[Sequence[Quantity]], note: str) -> None:
    from matplotlib.axes import Axes

    line = data.attrs["line"]
    title = f"{line}: size against what it costs · {invented(data.attrs['circuit'], data.attrs['invented'])}"
    words = f"{' and '.join(one.words for one in groups[0])} [{groups[0][0].unit}]"
    dress(ax, title=title, note=note, x=f"size of {line}, by bore", y=words)
    panels = [panel for panel in ax.child_axes if isinstance(panel, Axes)]
    for panel in panels:
        backdrop(panel)
    if ax.child_axes:
        ax.child_axes[-1].set_xlabel(f"size of {line}, by bore", fontsize=10, color=INK)


def _note(data: Dataset, names: Sequence[str], drawn: Mapping[str, Quantity]) -> str:
    """What no size cures and nobody should drive with, then what the sizes do."""
    stops = [data.attrs["stops"]] if isinstance(data.attrs.get("stops"), str) else list(data.attrs.get("stops", []))
    standing = f"Whatever the size of this line, {'; '.join(stops)}. " if stops else ""
    return standing + _note_of_sizes(data, names, drawn)


def _note_of_sizes(data: Dataset, names: Sequence[str], drawn: Mapping[str, Quantity]) -> str:
    """The smallest that passes, and what is left to its limits; with several specifications the smallest of each."""
    each, best, beyond = json.loads(data.attrs["smallest_of_each"]), data.attrs["smallest"], list(data.attrs.get("beyond", []))
    out = [one.words for key, one in drawn.items() if key in beyond]
    other = [data[key].attrs["long_name"] for key in data.attrs.get("elsewhere", [])]
    lost = [name for name, *values in zip(names, *(one.values for one in drawn.values())) if all(value != value for value in values)]
    silent = f" No answer with {', '.join(lost)}." if lost else ""
    if not best:
        return f"None of these sizes passes.{silent}"
    place, margins = names.index(best), []
    for key, one in drawn.items():
        if one.limits[place] == one.limits[place] and key not in (*beyond, *data.attrs.get("elsewhere", [])):
            margins.append(f"{digits(float(one.margins[place]))} {one.margin_unit} left to the limit of {one.words}")
    note = f"Smallest {'bore' if len(each) > 1 else 'size'} that passes{' all else' if out or data.attrs.get('all_else', 0) else ''}: " + ", ".join([best, *margins])
    note += silent and f".{silent.rstrip('.')}"
    note += f". No size keeps the limit of {' and '.join(out)}: another part has to change for it" if out else ""
    note += f". {_begun(' and '.join(other))} do{'' if other[1:] else 'es'} not depend on this size: look elsewhere" if other else ""
    hair = [data[key].attrs["long_name"] for key in list(data.attrs.get("by_a_hair", []))]
    note += f". {_begun(' and '.join(hair))}: by a hair, for such numbers are no closer" if hair else ""
    return note + (f". Of each: {', '.join(name or f'none of {spec}' for spec, name in each.items())}" if len(each) > 1 else "")


def _begun(words: str) -> str:
    """The beginning of a sentence."""
    return words[:1].upper() + words[1:]


def _legend(ax: Axes, panels: Sequence[Axes], specs: Sequence[str], smallest: Sequence[str], all_else: bool) -> None:
    """Of one panel its quantities and limits; of several their names stand above them. Specifications by dash and mark."""
    from matplotlib.lines import Line2D
    from matplotlib.patches import Patch

    handles: list[Artist] = [line for line in panels[0].get_lines() if not str(line.get_label()).startswith("_")] if len(panels) == 1 else [
        Line2D([], [], color=INK, linewidth=1.1, linestyle=(0, (2, 2)), label="its limit")]
    kinds = list(dict.fromkeys(specs))
    if len(kinds) > 1:
        handles += [Line2D([], [], label=folded(spec), **style(number) | {"color": INK}) for number, spec in enumerate(kinds)]
    if smallest:
        words = "smallest bore of all" if len(kinds) > 1 else f"smallest that passes{' all else' * all_else}"
        handles.append(Patch(color=_BEST, alpha=_STRONG, linewidth=0.0, label=folded(words)))
    if len(smallest) > 1:
        handles.append(Patch(color=_BEST, alpha=_FAINT_BAND, linewidth=0.0, label=folded("smallest of each other specification")))
    legend(ax, "", handles)
