"""Angles of hose ends, by where ports face and where the hose goes; and the clocking of a hose whose two ends are angled.

A straight end leaves along the direction that its port faces. The angle that an end should have is that between this direction and the one in
which the hose goes on; the standard end that is nearest to it leaves the hose the least bend.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from math import acos, atan2, cos, degrees, dist, radians, sin, sqrt
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from ..catalog import source_in_words, table
from ..circuit.made_of import made_of
from ..circuit.way import SAME_TURN, corners_of, is_beside
from .joints import FITTINGS, joints_of, named_pieces

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.made_of import MadeOf
    from ..circuit.piece import Piece
    from .joints import Side

_FLAT = sin(radians(5.0))  # a nut nearer than 5 degrees to the hose's own line points nowhere (judgement)
CLOCKING_SOURCE = ("S133", "seen")
CLOCKING_RULE = "looking along the hose from either end, the angled end there pointing straight down, counter-clockwise to where the other end points"


class Proposed(NamedTuple):
    """The angle of an end: what is needed, the standard one nearest to it, and what the hose has left to bend [deg]."""

    needed: float
    turn: float
    left: float


@cache
def standard_turns() -> tuple[float, ...]:
    """Angles that hose ends are made in, by the table of what they take up [deg].

    >>> standard_turns()
    (0.0, 45.0, 90.0)
    """
    return tuple(sorted({float(row["turn_deg"]) for row in table("hose_end_cutoffs.csv")}))

Point: TypeAlias = tuple[float, float, float]


def faces_in(circuit: Circuit) -> dict[tuple[str, int], tuple[float, float, float]]:
    """(name of a piece, which of its ends) -> unit vector (forward, left, up) that the port it meets faces; where that is known."""
    pieces, opposite = named_pieces(circuit), {}
    for joint in joints_of(circuit):
        opposite[joint.one.name, joint.one.index] = (joint.run, False, joint.other)
        opposite[joint.other.name, joint.other.index] = (joint.run, True, joint.one)
    ends = [(name, index) for name, piece in pieces.items() if made_of(piece) is not None for index in (0, 1)]
    return {end: face for end in ends if (face := _face(circuit, pieces, opposite, end)) is not None}


def _face(circuit: Circuit, pieces: Mapping[str, Piece], opposite: Mapping[tuple[str, int], tuple[str, bool, Side]], end: tuple[str, int],
          passed: int = 0) -> tuple[float, float, float] | None:
    """Which way the port faces that an end meets; a straight adapter between them faces as the port does that it is screwed into."""
    if end not in opposite or passed > len(pieces):
        return None
    run, at_start, other = opposite[end]
    if other.end is not None and other.end.form == "banjo":
        return None  # the eye on it leaves across its bolt, to whichever side it is turned
    if other.word == "place":
        return circuit.runs[run].faces[0 if at_start else 1]
    piece = pieces[other.name]
    if piece.shop.faces[other.index:other.index + 1] not in ((), (None,)):
        return piece.shop.faces[other.index]
    straight = other.word in FITTINGS and other.word != "elbow" and not any(one is not None and one.turn for one in piece.shop.ends)
    return _face(circuit, pieces, opposite, (other.name, 1 - other.index), passed + 1) if straight else None


# ---- the angle of one end ----

def proposed(points: Sequence[tuple[float, float, float]], face: tuple[float, float, float], bore: float, at_outlet: bool) -> Proposed:
    """The `Proposed` of one end of a hose that goes by `points` [m] and meets a port that faces `face`.

    >>> proposed([(0, 0, 0), (1, 0, 0)], (0, 0, 1), 0.01, False)
    Proposed(needed=90.0, turn=90.0, left=0.0)
    """
    needed = degrees(between(face, _leaving(points, face, bore, at_outlet)[0]))
    turn = min(standard_turns(), key=lambda one: (round(abs(needed - one), 6), one))
    return Proposed(round(needed, 6), turn, round(abs(needed - turn), 6))


def _leaving(points: Sequence[tuple[float, float, float]], face: tuple[float, float, float], bore: float,
             at_outlet: bool) -> tuple[tuple[float, float, float], int]:
    """Direction in which the hose goes on from an end, and how many legs that end makes itself: one where the way begins along the port, and turns
    so soon that only an angled end can do it."""
    legs = legs_along(points[::-1] if at_outlet else points)
    (first, long), *more = legs
    if more and between(face, first) < SAME_TURN and is_beside(long, bore):
        return more[0][0], 1
    return first, 0


def legs_along(points: Sequence[tuple[float, float, float]]) -> list[tuple[tuple[float, float, float], float]]:
    """Unit vector and length of each leg between corners."""
    corners = [points[0], *(points[number] for number in corners_of(points)), points[-1]]
    return [(_towards(one, other), dist(one, other)) for one, other in zip(corners, corners[1:])]


# ---- two of them ----

def clockings(circuit: Circuit) -> dict[str, float]:
    """Name of every hose with two angled ends, whose way and ports are known -> its clocking [deg]: see `CLOCKING_RULE`."""
    faces = faces_in(circuit)
    found: dict[str, float] = {}
    for name, piece in named_pieces(circuit).items():
        made = made_of(piece)
        if made is None or made.word != "hose" or made.shop.way is None or not all(end is not None and end.turn for end in made.shop.ends):
            continue
        angle = clocking(made.shop.way, [faces.get((name, index)) or _by_way(made, index) for index in (0, 1)], made.bore)
        if angle is not None:
            found[name] = angle
    return found


def _towards(one: Point, other: Point) -> Point:
    """The unit vector from one point to another."""
    long = dist(one, other)
    return (other[0] - one[0]) / long, (other[1] - one[1]) / long, (other[2] - one[2]) / long


def _by_way(made: MadeOf, index: int) -> tuple[float, float, float] | None:
    """Which way a port faces whose angled end makes the corner next to it: as the way begins there. None where no end does."""
    points = made.shop.way
    if points is None or made.way is None or not made.way.in_ends[index]:
        return None
    return legs_along(points[::-1] if index else points)[0][0]


def clocking(points: Sequence[tuple[float, float, float]], faces: Sequence[tuple[float, float, float]], bore: float) -> float | None:
    """Angle from one angled end of a hose to the other [deg], 0 to 360, the same from either end; None where one of them points along the hose.

    The hose is taken to lie in its bends without twist, so that it has this angle too when it is laid out straight.

    >>> clocking([(0, 0, 0), (1, 0, 0)], [(0, 0, 1), (0, 0, 1)], 0.01)  # both nuts point down
    0.0
    """
    if None in faces:
        return None
    skipped = [_leaving(points, face, bore, at_outlet)[1] for face, at_outlet in zip(faces, (False, True))]
    legs = [leg for leg, _ in legs_along(points)]
    legs = legs[skipped[0]:len(legs) - skipped[1]]
    if not legs:
        return None
    first, last = (None if face is None else _aside((-face[0], -face[1], -face[2]), leg) for face, leg in zip(faces, (legs[0], legs[-1])))
    if first is None or last is None:
        return None
    for before, after in zip(legs, legs[1:]):
        first = _carried(first, before, after)
    turned = degrees(atan2(_dot(legs[-1], _cross(first, last)), _dot(first, last)))
    return round(-turned, 6) % 360.0


def clocking_words(angle: float) -> str:
    """"clocking 90 degrees"."""
    return f"clocking {angle:.0f} degrees" if round(angle) < 360 else "clocking 0 degrees"


def clocking_note() -> str:
    """How clocking is measured, with its source."""
    return f"Clocking: {CLOCKING_RULE} ({source_in_words(*CLOCKING_SOURCE)})."


def _aside(vector: Point, axis: Point) -> Point | None:
    """The part of a vector across an axis, as a unit vector; None where next to nothing is left."""
    across = tuple(one - _dot(vector, axis) * along for one, along in zip(vector, axis))
    long = sqrt(_dot(across, across))
    return (across[0] / long, across[1] / long, across[2] / long) if long > _FLAT else None


def _carried(vector: tuple[float, float, float], before: tuple[float, float, float],
             after: tuple[float, float, float]) -> tuple[float, float, float]:
    """A vector turned with the hose from one leg to the next, about the axis of the bend between them."""
    axis = _cross(before, after)
    sine = sqrt(_dot(axis, axis))
    if sine < 1e-12:
        return vector
    axis, angle = (axis[0] / sine, axis[1] / sine, axis[2] / sine), atan2(sine, _dot(before, after))
    across, along = _cross(axis, vector), _dot(axis, vector)
    x, y, z = (one * cos(angle) + other * sin(angle) + part * along * (1.0 - cos(angle)) for one, other, part in zip(vector, across, axis))
    return x, y, z


def between(one: tuple[float, float, float], other: tuple[float, float, float]) -> float:
    """Angle between two unit vectors [rad]."""
    return acos(max(-1.0, min(1.0, _dot(one, other))))


def _dot(one: tuple[float, float, float] | tuple[float, ...], other: tuple[float, float, float] | tuple[float, ...]) -> float:
    return sum(a * b for a, b in zip(one, other))


def _cross(a: tuple[float, float, float], b: tuple[float, float, float]) -> tuple[float, float, float]:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]
