"""What the pictures of sweeps share: an Axes of their own where none is given, a plain frame, a legend that covers nothing."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap
from typing import TYPE_CHECKING

from .palette import FAINT, INK, QUIET

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.legend import Legend
    from xarray import Dataset
    from matplotlib.figure import Figure

_LONGEST = 26  # letters of a line of the legend
_MOST_ROWS = 22  # lines of the legend in letters of the usual size
_SIZE = (9.5, 5.5)  # inches
_ROW = 1.5  # inches


def in_per_cent(share: float) -> str:
    """A large share in words.

    >>> in_per_cent(0.934), in_per_cent(0.9999)
    ('93 %', 'over 99 %')
    """
    return "over 99 %" if share > 0.995 else f"{100.0 * share:.0f} %"


def axes_for(ax: Axes | None, rows: int = 1) -> Axes:
    """The Axes given, or those of a new figure, which is taller where it holds several rows of panels."""
    if ax is not None:
        return ax
    from matplotlib.figure import Figure

    return Figure(figsize=(_SIZE[0], max(_SIZE[1], 1.2 + _ROW * rows)), layout="constrained").subplots()


def dress(ax: Axes, *, title: str, note: str, x: str, y: str) -> None:
    """Title, the small print under it, names of both axes, and the backdrop; lines of words are as long as the figure is wide."""
    wide = min(1.0, whole_figure(ax).get_figwidth() / _SIZE[0])
    heading, small = wrap(title, int(88 * wide), break_on_hyphens=False), wrap(note, int(105 * wide), break_on_hyphens=False)
    ax.set_title("\n".join(heading), fontsize=12, color=INK, loc="left", pad=10 + 13 * len(small))
    if note:
        ax.text(0.0, 1.015, "\n".join(small), transform=ax.transAxes, ha="left", va="bottom", fontsize=9, color=QUIET)
    ax.set_xlabel(x, fontsize=10, color=INK)
    ax.set_ylabel("\n".join(wrap(y, 52)), fontsize=10, color=INK)
    backdrop(ax)


def backdrop(ax: Axes) -> None:
    """A grid that stays in the background, and no frame."""
    ax.tick_params(labelsize=9, colors=INK)
    ax.grid(color=FAINT, linewidth=0.6)
    ax.set_axisbelow(True)
    for side in ("top", "right"):
        ax.spines[side].set_visible(False)


def with_unit(words: str, unit: str) -> str:
    """"rail pressure [psig]": of a pressure in pascals words say that it is gauge, and "psig" says so itself."""
    return f"{words.removesuffix(' (gauge)')} [{unit}]" if unit else words


def folded(text: str) -> str:
    """A name over as many short lines as it takes."""
    return "\n".join(wrap(str(text), _LONGEST)) or str(text)


def whole_figure(ax: Axes) -> Figure:
    """The figure that Axes stand in, however many are nested."""
    figure = ax.get_figure(root=True)
    assert figure is not None, "Axes that are drawn in have a figure"
    return figure


def legend(ax: Axes, title: str = "", handles: Sequence[Artist] | None = None) -> Legend:
    """To the right of the picture, where it covers nothing, however long the names; in smaller letters where there are many lines of them."""
    given = {} if handles is None else {"handles": handles}
    labels = [str(one.get_label()) for one in handles] if handles is not None else ax.get_legend_handles_labels()[1]
    small = sum(label.count("\n") + 1 for label in labels) > _MOST_ROWS
    found = ax.legend(loc="upper left", bbox_to_anchor=(1.01, 1.0), borderaxespad=0.0, frameon=False, fontsize=7.5 if small else 9, alignment="left",
                      title=folded(title) if title else None, labelspacing=0.4 if small else 0.7, handlelength=3.2, **given)
    found.get_title().set_fontsize(9)
    found.get_title().set_color(QUIET)
    return found


def invented(text: str, is_so: int) -> str:
    """Says of a circuit that it is a demonstration, where its name does not."""
    return f"{text} (invented)" if is_so and "invented" not in text else text


def circuit_of(dataset: Dataset) -> str:
    """Name of the circuit that a sweep's answer is of, marked where it is invented; "" where it does not say."""
    import json

    try:
        told = json.loads(dataset.attrs["circuit"])["circuit"]
    except (KeyError, TypeError, ValueError):
        return ""
    return invented(told.get("name", ""), told.get("invented"))
