"""Words in a picture kept apart, by their extents as they are drawn: from each other, and where there is room from lines."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from .frame import whole_figure

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.text import Text
    from matplotlib.transforms import Bbox

_PAD = 2.0  # pixels between words


class Spot(NamedTuple):
    """Where words may stand, in the units of their transform, and how they are aligned there."""

    x: float
    y: float
    ha: str
    va: str


def settle(ax: Axes) -> Any:
    """Lays the figure out as it will be drawn; what extents are measured with."""
    figure = whole_figure(ax)
    figure.draw_without_rendering()
    return figure._get_renderer()  # type: ignore[attr-defined]  # the one that `draw_without_rendering` draws with


def box_of(text: Text, renderer: Any) -> Bbox:
    """Extents of words [pixels], with a little room round them."""
    return text.get_window_extent(renderer).padded(_PAD)


def put_apart(text: Text, spots: Sequence[Spot], taken: Sequence[Bbox], ax: Axes, renderer: Any) -> Bbox:
    """Puts words at the first spot inside of the Axes where they cover no others and no line; else where they cover no others; else at the last.

    Returns their extents there [pixels].
    """
    lines = [line.get_transform().transform_path(line.get_path()) for line in ax.get_lines() if line.get_visible()]
    best = spots[-1], 3
    for spot in spots:
        box = _at(text, spot, renderer)
        worth = 3 if any(box.overlaps(one) for one in taken) or not _inside(box, ax) else \
            2 * any(path.intersects_bbox(box, filled=False) for path in lines)
        if worth < best[1]:
            best = spot, worth
        if not worth:
            break
    return _at(text, best[0], renderer)


def _at(text: Text, spot: Spot, renderer: Any) -> Bbox:
    _move(text, spot)
    return box_of(text, renderer)


def _move(text: Text, spot: Spot) -> None:
    text.set_position((spot.x, spot.y))
    text.set(ha=spot.ha, va=spot.va)


def _inside(box: Bbox, ax: Axes) -> bool:
    return bool(ax.bbox.x0 <= box.x0 and box.x1 <= ax.bbox.x1 and ax.bbox.y0 <= box.y0 and box.y1 <= ax.bbox.y1 + 2 * _PAD)
