"""Pressure regulators: the return-style bypass regulator and the dead-head reducing regulator."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import sqrt
from typing import TYPE_CHECKING, Any

from ..units import parse
from ..units.errors import quoted
from .amounts import above_zero, flow, length_or_none, share_of_one
from .amounts import rated_with as rating
from .errors import CircuitError
from .parts_valves import SEAT, wide_open_area
from .piece import OUTLET, SUPPLY, Element, Piece, builder

if TYPE_CHECKING:
    from .amounts import Flow, RatingLiquid
    from .piece import Number

# An injection regulator with its spring backed off holds 30 to 35 psi at full pump flow (common practice, no source).
USUAL_WIDE_OPEN = "30 psi at 400 L/h"
_MOST_SEAT = 0.5  # seat area over diaphragm area: the range of the engine's regulators
_CORNER = 0.02  # rounding of the opening at the seat, in bands: `spring_opening.hpp`


@builder
def bypass_regulator(set: object, *, reference: object, senses: str | None = None, band: object = "2 psi",
                     wide_open: object = None, set_flow: str | None = None, seat_share: object = 0,
                     rated_with: object = None, rise: Sequence[str] | None = None, name: str | None = None) -> Piece:
    """A return-style regulator: it spills from supply (inlet) to return (outlet) what it takes to hold the supply up.

    Parameters
    ----------
    set : supply above reference at which it just opens, "43.5 psi", read off with nothing pushing back in the return; with
        `set_flow`, what it holds at that return flow
    reference : where its reference hose goes: "manifold", "ambient" (hose off), or a junction
    senses : junction whose pressure it feels; its own inlet unless given
    band : rise above where it opens that opens it to 71 %. Usual ones creep 1 to 4 psi from 50 to 400 L/h of return flow
    wide_open : its drop at a flow with the spring backed off, "30 psi at 400 L/h". It decides where the pressure creeps
        away; that of a usual injection regulator (common practice, no source) unless given
    set_flow : return flow at which `set` was read off, "200 L/h"; at the least flow unless given
    seat_share : seat area over diaphragm area, "2 %": how much return pressure helps to open it
    rated_with : liquid of the flows; the circuit's own unless given (only the density counts)
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> bypass_regulator("43.5 psi", reference="manifold").elements[0].numbers["band"].__round__()
    13790
    """
    pressure = above_zero(set, "pressure_difference", "set")
    if wide_open is None:
        floor = parse("30 psi", "pressure_difference")
        if pressure < 1.1 * floor:
            raise CircuitError(f"'set' is {quoted(set)}, and nothing is said of the regulator's flow",
                               'give \'wide_open\': its drop at a flow with the spring backed off, e.g. "2 psi at 60 gph"', key="wide_open")
    area = wide_open_area(wide_open or USUAL_WIDE_OPEN)
    width = above_zero(band, "pressure_difference", "band")
    share = share_of_one(seat_share, "seat_share", _MOST_SEAT)
    spring = (1.0 - share) * pressure  # the seat takes its share of the diaphragm away from the supply
    opens_at = spring if set_flow is None else _just_opens(pressure, spring, width, area, flow(set_flow, "set_flow"), set_flow)
    numbers = {"set_pressure": opens_at, "band": width, "full_area": area, "discharge_coefficient": SEAT, "seat_share": share}
    element = Element("bypass regulator", numbers, senses=(_sensed(senses, "senses", SUPPLY), _sensed(reference, "reference", None)),
                      rating=rating(rated_with))
    return Piece([element], rise=length_or_none(rise, "rise"))


def _sensed(name: object, key: str, usual: object) -> object:
    """A junction's name, or `usual` when none is given."""
    if name is None and usual is not None:
        return usual
    if not isinstance(name, str) or not name:
        raise CircuitError(f"{key!r} is {quoted(name)}, not the name of a junction", 'write e.g. "rail", "manifold" or "ambient"',
                           key=key, value=name)
    return name


def _just_opens(pressure: float, spring: float, band: float, area: Callable[..., Any], spilled: Flow, written: object) -> Callable[..., Any]:
    """Spring setting of a regulator that was set at a flow, as a function of the liquid it was set with.

    On the bench the return is free and the reference open, so that the whole setting drives the flow.
    """
    def opening_pressure(liquid: RatingLiquid) -> float:
        passes = SEAT * area(liquid) * sqrt(2.0 * pressure / liquid.density)
        opening = spilled.volume(liquid.density) / passes
        if opening >= 0.98:
            raise CircuitError(f"'set_flow' is {quoted(written)}, but wide open the regulator passes {passes * 3.6e6:.0f} L/h at its setting",
                               "check wide_open and set_flow", key="set_flow", value=written)
        lifted = opening / sqrt(1.0 - opening * opening)
        found: float = spring - band * (lifted - 0.25 * _CORNER * _CORNER / lifted)
        return found

    return opening_pressure


@builder
def reducing_regulator(set: str, *, wide_open: object, reference: str = "ambient", senses: object = None, droop: str = "1 psi",
                       seat_share: int = 0, rated_with: object = None, rise: object = None, name: str | None = None) -> Piece:
    """A dead-head regulator: it throttles the supply (inlet) down to a set pressure behind it (outlet). Nothing returns.

    Parameters
    ----------
    set : regulated side above reference at lock-up, where flow just ceases, "6 psi". With a `seat_share` s it is the spring's
        part of it: lock-up is then (set + s × supply above reference) / (1 + s)
    wide_open : its drop at a flow with the spring screwed home, "2 psi at 40 gph"
    reference : "ambient", "manifold" or a junction
    senses : junction whose pressure it feels; its own outlet unless given
    droop : fall below lock-up that opens it to 71 %
    seat_share : seat area over diaphragm area, for a needle that the supply pushes open
    rated_with : liquid of the flows; the circuit's own unless given (only the density counts)
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> reducing_regulator("6 psi", wide_open="2 psi at 40 gph").elements[0].kind
    'reducing regulator'
    """
    numbers: dict[str, Number] = {"set_pressure": above_zero(set, "pressure_difference", "set"), "full_area": wide_open_area(wide_open),
               "band": above_zero(droop, "pressure_difference", "droop"), "discharge_coefficient": SEAT,
               "seat_share": share_of_one(seat_share, "seat_share", _MOST_SEAT)}
    element = Element("reducing regulator", numbers, senses=(_sensed(senses, "senses", OUTLET), _sensed(reference, "reference", None)),
                      rating=rating(rated_with))
    return Piece([element], rise=length_or_none(rise, "rise"))
