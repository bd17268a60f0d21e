"""The way of a line through the vehicle: points that it goes by, its corners rounded to a bend radius.

A corner that turns by θ at a radius R takes R tan(θ/2) off the straight on either side and puts an arc of Rθ in their place, so that the
developed length is Σ legs − Σ (2 R tan(θ/2) − R θ).

A point on a straight leg parts nothing. The first and the last corner may be made by an angled end of a hose and not by the hose: then the
way is measured from that corner, where the centreline of the end's seat crosses that of the hose, as assemblies with elbow ends are ordered.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import acos, dist, pi, tan
from typing import TYPE_CHECKING, Any, NamedTuple

from .errors import CircuitError

if TYPE_CHECKING:
    from ..catalog.ends import End

_STRAIGHT = 1e-6  # [rad]; a turn below it is none
_BACK = 3.13  # [rad]; a turn beyond it goes back on itself
SAME_TURN = 10.0 * pi / 180.0  # a corner this near to the angle of the end beside it is the end's own (judgement)
# The farthest that a seat lies from the centreline of its hose, as bores of the hose more than a length [m]: long-drop ends of 90 degrees
# (from memory: -8 some 65 mm, -16 some 120 mm) with something to spare. A corner farther away is bent in the hose.
_DROP = 6.0, 0.05


class Way(NamedTuple):
    """Of a line: [m] and [rad]. Corners that are made by the ends of a hose are not in it."""

    length: float  # developed, along the centreline; from the corner of an angled end
    turns: tuple[float, ...]  # angle of each bend
    straights: tuple[float, ...]  # between the bends, first and last included: always one more than bends
    rise: float  # height gained from first to last point
    in_ends: tuple[bool, ...] = (False, False)  # whether the inlet's and the outlet's end make the first and the last corner
    points: tuple[tuple[float, float, float], ...] = ()  # that it is measured by: corners, and both ends
    radius: float = 0.0  # of its bends


def way_of(points: tuple[tuple[float, float, float], ...], radius: float, *, ends: tuple[End | None, ...] = (None, None),
           bore: float = 0.0) -> Way:
    """The `Way` of points [m] with bends of a centreline radius [m].

    Parameters
    ----------
    points : from seat to seat
    ends : `catalog.End` or None, at inlet and outlet: an angled one makes the corner next to it, where that turns as it does
    bore : of the hose [m], by which a corner counts as next to an end

    Raises
    ------
    CircuitError : a leg is too short for the bends at its ends, or goes back on itself

    >>> way = way_of([(0.0, 0.0, 0.0), (0.5, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 1.0, 0.0)], 0.1)
    >>> round(way.length, 4), [round(one, 2) for one in way.straights]  # 2 - 0.2 + 0.1 pi/2
    (1.9571, [0.9, 0.9])
    """
    numbers = [0, *corners_of(points), len(points) - 1]
    corners = [points[number] for number in numbers]
    in_ends = _in_ends(corners, ends, bore)
    taken = slice(1 if in_ends[0] else 0, len(corners) - 1 if in_ends[1] else len(corners))
    corners, numbers = corners[taken], [number + 1 for number in numbers[taken]]
    legs = [dist(one, other) for one, other in zip(corners, corners[1:])]
    turns = _turns(corners)
    straights = _straights(legs, turns, radius)
    for left, leg, one, other in zip(straights, legs, numbers, numbers[1:]):
        if left < -1e-9:
            raise CircuitError(f"from point {one} to point {other} there are {leg * 1e3:.0f} mm, and bends of {radius * 1e3:.0f} mm radius take "
                               f"{(leg - left) * 1e3:.0f} mm", "give a smaller 'bend_radius', or points farther apart", key="way")
    least = tuple(max(one, 0.0) for one in straights)
    return Way(sum(least) + radius * sum(turns), tuple(turns), least, points[-1][2] - points[0][2], in_ends, tuple(corners), radius)


def corners_of(points: Sequence[tuple[float, float, float]]) -> list[int]:
    """Which points of a way are corners, and not on a straight leg.

    >>> corners_of([(0, 0, 0), (1, 0, 0), (2, 0, 0), (2, 1, 0)])
    [2]
    """
    found, before = [], points[0]
    for at in range(1, len(points) - 1):
        turn = _turn(before, *points[at:at + 2])
        if turn > _BACK:
            raise CircuitError(f"the way turns back on itself at point {at + 1}", "give a point on the way round", key="way")
        if turn > _STRAIGHT:
            found.append(at)
        before = points[at]
    return found


def parted(way: Way, at: float) -> tuple[tuple[Any, ...], tuple[Any, ...]] | None:
    """Points of the two ways that a `Way` is cut into at a distance along it [m]; None where that lies in a bend or beyond it.

    >>> one, other = parted(way_of([(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 1.0, 0.0)], 0.1), 0.5)
    >>> one, other
    (((0.0, 0.0, 0.0), (0.5, 0.0, 0.0)), ((0.5, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 1.0, 0.0)))
    """
    gone = 0.0
    for number, straight in enumerate(way.straights):
        if 0.0 < at - gone < straight:
            start, stop = way.points[number:number + 2]
            into = at - gone + (way.radius * tan(0.5 * way.turns[number - 1]) if number else 0.0)
            share = into / dist(start, stop)
            point = tuple(a + share * (b - a) for a, b in zip(start, stop))
            return (*way.points[:number + 1], point), (point, *way.points[number + 1:])
        gone += straight + (way.radius * way.turns[number] if number < len(way.turns) else 0.0)
    return None


def is_beside(leg: float, bore: float) -> bool:
    """Whether a corner at the end of a leg [m] is so near to the seat that an angled end makes it, of a hose of this bore [m].

    >>> is_beside(0.06, 0.0087), is_beside(0.3, 0.0087)
    (True, False)
    """
    return leg < _DROP[0] * bore + _DROP[1]


def _in_ends(corners: Sequence[tuple[float, float, float]], ends: tuple[End | None, ...], bore: float) -> tuple[bool, ...]:
    """Whether the inlet's end makes the first corner, and the outlet's the last; one corner is made by one end."""
    found, turns = [False, False], _turns(corners)
    for side, end in enumerate(ends):
        if end is None or not end.turn or sum(found) == len(turns):
            continue
        beside = dist(*corners[:2]) if side == 0 else dist(*corners[-2:])
        turn = turns[0] if side == 0 else turns[-1]
        found[side] = abs(turn - end.turn * pi / 180.0) < SAME_TURN and is_beside(beside, bore)
    return tuple(found)


def _straights(legs: Sequence[float], turns: Sequence[float], radius: float) -> list[float]:
    """Of each leg what its bends leave."""
    cut = [radius * tan(0.5 * turn) for turn in turns]
    return [leg - before - after for leg, before, after in zip(legs, [0.0, *cut], [*cut, 0.0])]


def _turns(corners: Sequence[tuple[float, float, float]]) -> list[float]:
    return [_turn(*corners[at - 1:at + 2]) for at in range(1, len(corners) - 1)]


def _turn(before: tuple[float, float, float], here: tuple[float, float, float], after: tuple[float, float, float]) -> float:
    """Angle by which the way turns at a point [rad]."""
    one = [b - a for a, b in zip(before, here)]
    other = [b - a for a, b in zip(here, after)]
    cosine = sum(a * b for a, b in zip(one, other)) / (dist(before, here) * dist(here, after))
    return acos(min(1.0, max(-1.0, cosine)))
