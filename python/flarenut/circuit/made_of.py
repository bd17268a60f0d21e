"""What a line is made of, for those who judge what it holds: plain numbers out of the words of its piece."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from .. import catalog
from ..units import UnitError, dash, parse
from .shop import Shop
from .way import Way, way_of

if TYPE_CHECKING:
    from .piece import Piece
    from .piece import Number

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


def plain_number(number: Number) -> float:
    """A number that depends on no liquid, as lengths and bores do not."""
    assert isinstance(number, (int, float)), "a length or a bore goes by no liquid"
    return number


def made_of(piece: Piece) -> MadeOf | None:
    """The `MadeOf` of a hose or tube; None for any other piece.

    >>> from flarenut.circuit import tube
    >>> line = made_of(tube("3/8 in", "9 ft"))
    >>> line.dash, round(line.wall * 1e3, 3)
    (6, 0.889)
    """
    if piece.word not in LINES:
        return None
    numbers, size = piece.main.numbers, piece.given.get("size")
    bore, length, angle, radius = (plain_number(numbers[field]) for field in ("bore", "length", "bend_angle", "bend_radius"))
    common = (piece.word, bore, length, angle, radius, piece.shop)
    bends: dict[str, Any] = {"bend_said": piece.given.get("bend_radius") is not None, "way": _way_of(piece, radius, bore)}
    number = _dash_of(size)
    if piece.word == "hose":
        spec = piece.given.get("spec")
        return MadeOf(*common, dash=number, spec=None if spec is None else catalog.hose_spec(spec).name, named=spec, **bends)
    if size is None:
        return MadeOf(*common, **bends)
    outside = number / 16 * 0.0254 if number is not None else parse(size, "length")
    whole = None if abs(outside / 0.0254 * 16 - round(outside / 0.0254 * 16)) > 1e-3 else round(outside / 0.0254 * 16)
    return MadeOf(*common, dash=whole, outside=outside, wall=0.5 * (outside - bore), **bends)


def line_of(piece: Piece) -> MadeOf:
    """The `MadeOf` of what is known to be a hose or tube."""
    made = made_of(piece)
    assert made is not None, f"{piece.word} is no line"
    return made


def _way_of(piece: Piece, radius: float, bore: float) -> Way | None:
    """The `Way` that its length and bends were taken from; one without a bend has no radius, and any will do."""
    if piece.shop.way is None:
        return None
    ends = piece.shop.ends if piece.word == "hose" else (None, None)
    return way_of(piece.shop.way, radius or bore, ends=ends, bore=bore)


def _dash_of(size: str | None) -> int | None:
    try:
        return None if size is None else int(dash(size))
    except UnitError:
        return None
