"""A matplotlib figure that is drawn once and then only gets its lines anew: some milliseconds, not a tenth of a second."""

from __future__ import annotations

import struct
import zlib
from typing import TYPE_CHECKING, Any, Protocol, cast
from collections.abc import Sequence

if TYPE_CHECKING:
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure
    from matplotlib.lines import Line2D

_DOTS = 100  # per inch
_HEADROOM = 0.08  # of what is shown, when a line leaves the picture and the scale has to follow


class _Canvas(Protocol):
    """What is asked of matplotlib's canvas, of which it tells no types."""

    def draw(self) -> None: ...
    def copy_from_bbox(self, box: object, /) -> object: ...
    def restore_region(self, region: object, /) -> None: ...
    def buffer_rgba(self) -> memoryview: ...


class LivePicture:
    """One set of axes with lines that have names. What does not move is kept as pixels.

    Parameters
    ----------
    size : width and height [in]

    Attributes
    ----------
    axes : the matplotlib Axes, to be dressed with titles and limits when the first lines are drawn
    said : lines of text of the latest drawing
    redrawn : how often everything was drawn, scale and all

    Raises
    ------
    ImportError : matplotlib is not installed

    Examples
    --------
    ``picture.line("idle", [0, 1], [40, 44], color="k")`` makes the line the first time, and moves it ever after.
    """

    def __init__(self, size: tuple[float, float] = (8.0, 4.2)) -> None:
        figure_class, canvas = _matplotlib()
        self.figure = figure_class(figsize=size, dpi=_DOTS, layout="constrained")
        self._canvas = cast(_Canvas, canvas(self.figure))
        self.axes = self.figure.subplots()
        self.redrawn = 0
        self.said: list[str] = []
        self._lines: dict[str, Line2D] = {}
        self._drawn: set[str] = set()
        self._kept: object | None = None  # pixels, as the canvas keeps them

    @property
    def is_new(self) -> bool:
        """True until the first line is drawn: the time for titles and limits."""
        return not self._lines

    def begin(self) -> None:
        """Forgets what was drawn and said, and keeps the lines for the next time."""
        self._drawn, self.said = set(), []

    def line(self, name: str, across: Sequence[float], up: Sequence[float], **looks: Any) -> None:
        """Draws a line, or moves the one of that name.

        Parameters
        ----------
        name : in the legend
        across, up : numbers of equal count
        looks : words of matplotlib's `Axes.plot`; they count when the line is made
        """
        if name not in self._lines:
            (self._lines[name],) = self.axes.plot(across, up, label=name, animated=True, **looks)
            self._kept = None
        self._lines[name].set_data(across, up)
        self._drawn.add(name)

    def say(self, *lines: str) -> None:
        """Adds lines of text under the picture."""
        self.said += [str(line) for line in lines]

    def png(self) -> bytes:
        """The picture as PNG bytes."""
        self._make_room()
        if self._kept is None:
            self._draw_all()
        self._canvas.restore_region(self._kept)
        for name in self._drawn:
            self.axes.draw_artist(self._lines[name])
        return _as_png(self._canvas.buffer_rgba())

    def _draw_all(self) -> None:
        """Everything but the lines, kept as pixels."""
        if self._lines:
            self.axes.legend(loc="best", frameon=False, fontsize=9)
        self._canvas.draw()
        self._kept = self._canvas.copy_from_bbox(self.figure.bbox)
        self.redrawn += 1

    def _make_room(self) -> None:
        """Widens the scale where a line would leave the picture; it never narrows, so that moves can be compared."""
        import numpy

        for get, limits, widen in (("get_xdata", self.axes.get_xlim, self.axes.set_xlim), ("get_ydata", self.axes.get_ylim, self.axes.set_ylim)):
            each = [numpy.asarray(getattr(self._lines[name], get)(), float) for name in self._drawn]
            points = numpy.concatenate(each) if each else numpy.empty(0)
            points = points[numpy.isfinite(points)]
            low, high = limits()
            if points.size and (points.min() < low or points.max() > high):
                room = _HEADROOM * (max(high, points.max()) - min(low, points.min()))
                widen(points.min() - room if points.min() < low else low, points.max() + room if points.max() > high else high)
                self._kept = None


def _matplotlib() -> tuple[type[Figure], type[FigureCanvasAgg]]:
    try:
        from matplotlib.backends.backend_agg import FigureCanvasAgg
        from matplotlib.figure import Figure
    except ImportError:
        raise ImportError("a picture needs matplotlib, which is not installed: pip install 'flarenut[plot]'") from None
    return Figure, FigureCanvasAgg


def _as_png(pixels: memoryview) -> bytes:
    """PNG (ISO/IEC 15948) of rows of red, green, blue and alpha, packed lightly: a usual encoder tries every filter on every row, which
    takes longer than the solve and the drawing together.
    """
    import numpy

    rows = numpy.asarray(pixels)[:, :, :3]
    high, wide = rows.shape[:2]
    packed = numpy.zeros((high, 1 + 3 * wide), numpy.uint8)  # each row begins with its filter: 0, none
    packed[:, 1:] = rows.reshape(high, 3 * wide)
    head = struct.pack(">IIBBBBB", wide, high, 8, 2, 0, 0, 0)  # 8 bits of red, green and blue
    chunks = ((b"IHDR", head), (b"IDAT", zlib.compress(packed.tobytes(), 1)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data)) for kind, data in chunks)
