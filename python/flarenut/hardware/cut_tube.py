"""A tube to its `TubeCut`: bends in order with where each begins, what corners are longer than bends, flares, clamps."""

from __future__ import annotations

from math import atan2, dist, tan
from typing import TYPE_CHECKING

from ..catalog import supports as rules
from ..catalog.cutting import flare_allowance
from ..circuit.way import corners_of
from ..units import Quantity
from .cut_parts import Bend, Step, TubeCut, supports
from .lines import cross, dot, legs_of, size

if TYPE_CHECKING:
    from ..catalog.ends import End
    from .lines import Line

_SIDES = ("inlet", "outlet")


def tube_cut(line: Line, circuit: str) -> TubeCut:
    """The `TubeCut` of a `Line`; `circuit` is the name of its circuit."""
    made = line.made
    steps = [step for side, end in zip(_SIDES, line.ends) if (step := _flare(side, end)) is not None]
    first = next((step.length.si for step in steps if step.words.startswith(_SIDES[0])), 0.0)
    bends = _bends(line, first)
    held = rules.support_spacing(made.outside or made.bore, made.shop.material or "steel")
    by_points = line.way is not None
    points = made.shop.way if by_points else None
    corners = None if points is None else sum(dist(one, other) for one, other in zip(points, points[1:]))
    return TubeCut(line.name, line.run, circuit, line.size, _length(made.length), line.ends, tuple(steps), bends,
                   _length(line.way.straights[-1]) if line.way is not None and bends else None, line.said_radius, _length(made.bend_radius) if line.angles else None,
                   None if corners is None else _length(corners), supports(made.length, held))


def _flare(side: str, end: End | None) -> Step | None:
    allowance = None if end is None else flare_allowance(end.form)
    return None if allowance is None else Step(f"{side} {allowance.what}", _length(allowance.length), allowance.said)


def _bends(line: Line, first: float) -> tuple[Bend, ...]:
    """Every `Bend` in order. Where the way goes by points it says where each begins; else only the angles are known."""
    if line.way is None:
        return tuple(Bend(None, None, Quantity(angle, "angle"), None, _length(line.made.bend_radius * angle), None) for angle in line.angles)
    radius, at, found = line.made.bend_radius, first, []
    turns = planes_of(line.made.shop.way or ())
    for straight, angle, turn in zip(line.way.straights, line.way.turns, turns):
        at += straight
        arc = radius * angle
        found.append(Bend(_length(straight), _length(at), Quantity(angle, "angle"), turn, _length(arc),
                          _length(2.0 * radius * tan(0.5 * angle) - arc)))
        at += arc
    return tuple(found)


def planes_of(points: tuple[tuple[float, float, float], ...]) -> list[Quantity | None]:
    """Turn of each bend's plane from that of the bend before, clockwise as seen along the tube from its inlet [`Quantity`]; None for the first.

    0 bends on in the same sense, as a U does; 180 bends back, as a Z does.

    >>> forward_up_left = [(0, 0, 0), (1, 0, 0), (1, 0, 1), (1, 1, 1)]
    >>> [turn and round(turn.to("deg")) for turn in planes_of(forward_up_left)]
    [None, -90]
    """
    legs = legs_of(points)
    bent = [(legs[at - 1], legs[at]) for at in corners_of(points)]
    turns: list[Quantity | None] = [None]
    for (a, b), (c, d) in zip(bent, bent[1:]):
        along, one, other = c, cross(a, b), cross(c, d)
        sine = dot(cross(one, other), along) / size(along)
        turns.append(Quantity(atan2(sine, dot(one, other)) + 0.0, "angle"))
    return turns


def _length(metres: float) -> Quantity:
    return Quantity(metres, "length")

