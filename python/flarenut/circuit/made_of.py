"""What a line is made of, for those who judge what it holds: plain numbers out of the words of its piece."""

from typing import NamedTuple

from .. import catalog
from ..units import UnitError, dash, parse
from .shop import Shop

LINES = ("hose", "tube")


class MadeOf(NamedTuple):
    """A hose or tube as hardware; None where nothing is said or known. Lengths in m."""

    word: str  # "hose" or "tube"
    bore: float
    length: float
    bend_angle: float  # all bends together [rad]
    bend_radius: float  # of their centreline
    shop: Shop
    dash: int | None = None
    spec: str | None = None  # family of a hose, by its name in the catalogue
    outside: float | None = None  # of a tube
    wall: float | None = None
    named: str | None = None  # specification of a hose, as written
    bend_said: bool = False  # whether the builder said the bend radius


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
    bend_said = piece.given.get("bend_radius") is not None
    common = (piece.word, numbers["bore"], numbers["length"], numbers["bend_angle"], numbers["bend_radius"], piece.shop)
    number = _dash_of(size)
    if piece.word == "hose":
        spec = piece.given.get("spec")
        return MadeOf(*common, dash=number, spec=None if spec is None else catalog.hose_spec(spec).name, named=spec, bend_said=bend_said)
    if size is None:
        return MadeOf(*common, bend_said=bend_said)
    outside = number / 16 * 0.0254 if number is not None else parse(size, "length")
    whole = None if abs(outside / 0.0254 * 16 - round(outside / 0.0254 * 16)) > 1e-3 else round(outside / 0.0254 * 16)
    return MadeOf(*common, dash=whole, outside=outside, wall=0.5 * (outside - numbers["bore"]), bend_said=bend_said)


def _dash_of(size):
    try:
        return None if size is None else int(dash(size))
    except UnitError:
        return None
