"""Ends that are said, against where the ports face and the hose goes: what they do not turn the hose has to bend itself, right behind them."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees, pi, radians, tan
from typing import TYPE_CHECKING

from ..catalog import CatalogError, hose_rating
from ..circuit.made_of import line_of
from ..circuit.way import SAME_TURN
from ..results import COMMON_PRACTICE, Finding
from ..units import Quantity
from .angles import between, faces_in, legs_along, standard_turns
from .joints import named_pieces

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.made_of import MadeOf

_SIDES = ("inlet", "outlet")
_USUAL_BEND = 5.0  # bores: where no rating and no radius is said, as circuits take it
_AROUND = radians(135.0)  # beyond that no hose goes: it turns back beside its own end (judgement)
NEEDS_WAY = "the ports that it meets say which way they face, and it does not go by points: which angle its ends want nobody can tell"
NEEDS_WAY_CURE = "write its 'way' by points in place of 'length' and 'bends'"


def end_findings(circuit: Circuit) -> Iterator[Finding]:
    """`Finding`s of every hose whose ports say which way they face: ends that leave it to bend by itself, and hose that goes by no points."""
    faces = faces_in(circuit)
    for name, piece in named_pieces(circuit).items():
        if piece.word != "hose" or not any((name, index) in faces for index in (0, 1)):
            continue
        made = line_of(piece)
        if made.way is None:
            yield Finding("faces without a way", "note", name, "", NEEDS_WAY, source="", cure=NEEDS_WAY_CURE)
            continue
        for index, side in enumerate(_SIDES):
            end = made.shop.ends[index]
            if (name, index) in faces and (end is not None or made.shop.clamped is True):
                yield from _end(name, made, side, index, faces[name, index])


def _end(name: str, made: MadeOf, side: str, index: int, face: tuple[float, float, float]) -> Iterator[Finding]:
    """The finding of one end, by what the hose has left to bend behind it."""
    points, way, end = made.shop.way, made.way, made.shop.ends[index]
    assert points is not None and way is not None, "a line without a way was told before"
    legs = legs_along(points[::-1] if index else points)
    turn = 0.0 if end is None else float(end.turn)
    wanted = degrees(between(face, legs[0][0]))
    if way.in_ends[index]:  # its turn makes the corner; its nut has to point along the leg before
        left, said = radians(wanted), f"its {side} end makes the corner beside it, and the port faces {wanted:.0f} degrees aside of the way there"
    else:
        left, said = radians(abs(wanted - turn)), f"its {side} end turns by {turn:.0f} degrees where {wanted:.0f} are wanted"
    if left <= SAME_TURN:
        return
    radius, straight = _radius(made), way.straights[-1 if index else 0]
    needed = radius * tan(0.5 * left) if left < _AROUND else float("inf")
    bend = Quantity(radius, "length")
    if needed > straight:
        severity, how = "fix", "for which the leg there is too short at a radius of {radius}" if left < _AROUND else "which no hose does"
    else:
        severity, how = "watch", "at a radius of {radius} or more, and the way does not have that bend"
    best = min(standard_turns(), key=lambda one: abs(one - wanted))
    fits = not way.in_ends[index] and best != turn and abs(best - wanted) < abs(turn - wanted)
    cure = f"an end of {best:.0f} degrees" if fits else "a way that begins as the port faces"
    yield Finding("end and way", severity, name, "", f"{said}: the hose has to bend by {degrees(left):.0f} degrees right behind it, {how} ({COMMON_PRACTICE})", source="",
                  cure=f"{cure}; or put the bend into the way by a point", hurt=left / pi, numbers={"radius": bend})


def _radius(made: MadeOf) -> float:
    """Least centreline radius of a hose by its rating [m]; else that of its bends, else the usual one."""
    try:
        named = made.shop.standard or made.named
        rating = hose_rating(named, made.dash, None if made.dash is not None else made.bore) if named else None
    except CatalogError:
        rating = None
    return (rating and rating.bend_centreline) or made.bend_radius or _USUAL_BEND * made.bore
