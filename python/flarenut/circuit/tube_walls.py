"""The wall of a tube, wherever its words say it: in the size, under its own key, or by the bore that is left."""

from __future__ import annotations

from typing import Any

from .. import catalog
from ..units.errors import quoted
from .amounts import above_zero
from .errors import CircuitError

_UNEVEN = 0.2  # of a wall: how far off its nominal thickness, or off in measuring, it may be (judgement, no source)


def with_its_wall(words: dict[str, Any]) -> dict[str, Any]:
    """Words of a tube, with the wall that its size tells under its own key."""
    catalog.refuse_gauge(words.get("wall"), "wall", words.get("wall"))
    said = catalog.tube_words(words.get("size"))
    if said is None:
        return words
    outside, wall = said
    if words.get("wall") is not None and abs(above_zero(words["wall"], "length", "wall") - above_zero(wall, "length", "wall")) > 1e-6:
        raise CircuitError(f"'size' is {quoted(words['size'])} and 'wall' is {quoted(words['wall'])}: two walls of one tube",
                           "leave one of the two out", key="wall", value=words["wall"])
    return {**words, "size": outside, "wall": words.get("wall") or wall}


def refuse_two_bores(size: object, outside: float, wall: str, bore: object, inside: float) -> None:
    """A bore as measured may be off what size and wall make of it by as much as walls are drawn unevenly, not more."""
    thick = above_zero(wall, "length", "wall")
    if abs(inside - (outside - 2.0 * thick)) > 2.0 * _UNEVEN * thick:
        raise CircuitError(f"'bore' is {quoted(bore)}, and a tube of {size} with a wall of {wall} has {1e3 * (outside - 2.0 * thick):.4g} mm inside",
                           "leave out 'bore', or the wall", key="bore", value=bore)
