"""What a line is made of, for those who judge what it holds: plain numbers out of the words of its piece."""

from typing import NamedTuple

from .. import catalog
from ..units import UnitError, dash, parse
from .shop import Shop
from .way import Way, way_of

LINES = ("hose", "tube")


class MadeOf(NamedTuple):
    """A hose or tube as hardware; None where nothing is said or known. Lengths in m."""

    word: str  # "hose" or "tube"
    bore: float
    length: float  # of an assembly with angled ends from the corner of each
    bend_angle: float  # all bends of its own together [rad], without those that angled ends make
    bend_radius: float  # of their centreline
    shop: Shop
    dash: int | None = None
    spec: str | None = None  # family of a hose, by its name in the catalogue
    outside: float | None = None  # of a tube
    wall: float | None = None
    named: str | None = None  # specification of a hose, as written
    bend_said: bool = False  # whether the builder said the bend radius
    way: Way | None = None  # where it goes by points


def made_of(piece):
    """The `MadeOf` of a hose or tube; None for any other piece.

    >>> from flarenut.circuit import tube
    >>> line = made_of(tube("3/8 in", "9 ft"))
    >>> line.dash, round(line.wall * 1e3, 3)
    (6, 0.889)
    """
    if piece.word not in LINES:
        return None
    numbers, size = piece.main.numbers, piece.given.get("size")
    common = (piece.word, numbers["bore"], numbers["length"], numbers["bend_angle"], numbers["bend_radius"], piece.shop)
    bends = {"bend_said": piece.given.get("bend_radius") is not None, "way": _way_of(piece, numbers)}
    number = _dash_of(size)
    if piece.word == "hose":
        spec = piece.given.get("spec")
        return MadeOf(*common, dash=number, spec=None if spec is None else catalog.hose_spec(spec).name, named=spec, **bends)
    if size is None:
        return MadeOf(*common, **bends)
    outside = number / 16 * 0.0254 if number is not None else parse(size, "length")
    whole = None if abs(outside / 0.0254 * 16 - round(outside / 0.0254 * 16)) > 1e-3 else round(outside / 0.0254 * 16)
    return MadeOf(*common, dash=whole, outside=outside, wall=0.5 * (outside - numbers["bore"]), **bends)


def _way_of(piece, numbers):
    """The `Way` that its length and bends were taken from; one without a bend has no radius, and any will do."""
    if piece.shop.way is None:
        return None
    ends = piece.shop.ends if piece.word == "hose" else (None, None)
    return way_of(piece.shop.way, numbers["bend_radius"] or numbers["bore"], ends=ends, bore=numbers["bore"])


def _dash_of(size):
    try:
        return None if size is None else int(dash(size))
    except UnitError:
        return None
