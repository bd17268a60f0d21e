"""The way of a line through the vehicle: points that it goes by, its corners rounded to a bend radius.

A corner that turns by θ at a radius R takes R tan(θ/2) off the straight on either side and puts an arc of Rθ in their place, so that the
developed length is Σ legs − Σ (2 R tan(θ/2) − R θ).
"""

from math import acos, dist, tan
from typing import NamedTuple

from .errors import CircuitError

_STRAIGHT = 1e-6  # [rad]; a turn below it is none
_BACK = 3.13  # [rad]; a turn beyond it goes back on itself


class Way(NamedTuple):
    """Of a line: [m] and [rad]."""

    length: float  # developed, along the centreline
    turns: tuple  # angle of each bend
    straights: tuple  # between the bends, first and last included
    rise: float  # height gained from first to last point


def way_of(points, radius):
    """The `Way` of points [m] with bends of a centreline radius [m].

    Raises
    ------
    CircuitError : a leg is too short for the bends at its ends, or goes back on itself

    >>> way = way_of([(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 1.0, 0.0)], 0.1)
    >>> round(way.length, 4), [round(one, 2) for one in way.straights]  # 2 - 0.2 + 0.1 pi/2
    (1.9571, [0.9, 0.9])
    """
    legs = [dist(one, other) for one, other in zip(points, points[1:])]
    turns = [_turn(*points[at - 1:at + 2]) for at in range(1, len(points) - 1)]
    for number, turn in enumerate(turns, 2):
        if turn > _BACK:
            raise CircuitError(f"the way turns back on itself at point {number}", "give a point on the way round", key="way")
    cut = [radius * tan(0.5 * turn) for turn in turns]
    straights = [leg - before - after for leg, before, after in zip(legs, [0.0, *cut], [*cut, 0.0])]
    for number, left in enumerate(straights, 1):
        if left < -1e-9:
            raise CircuitError(f"from point {number} to point {number + 1} there are {legs[number - 1] * 1e3:.0f} mm, and bends of "
                               f"{radius * 1e3:.0f} mm radius take {(legs[number - 1] - left) * 1e3:.0f} mm", "give a smaller 'bend_radius', or points farther apart",
                               key="way")
    bent = [turn for turn in turns if turn > _STRAIGHT]
    return Way(sum(straights) + radius * sum(bent), tuple(bent), tuple(max(one, 0.0) for one in straights), points[-1][2] - points[0][2])


def _turn(before, here, after):
    """Angle by which the way turns at a point [rad]."""
    one = [b - a for a, b in zip(before, here)]
    other = [b - a for a, b in zip(here, after)]
    cosine = sum(a * b for a, b in zip(one, other)) / (dist(before, here) * dist(here, after))
    return acos(min(1.0, max(-1.0, cosine)))
