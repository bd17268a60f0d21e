"""What an engine's main gallery feeds: bearings and piston squirters."""

from math import pi, sqrt

from ..units import parse
from ..units.errors import quoted
from .amounts import above_zero, count_of, length_or_none, not_below_zero, share_of_one
from .errors import CircuitError
from .piece import Element, Piece, builder

_NOZZLE = 0.8  # discharge coefficient of a nozzle a few bores long (common practice, no source; a mouthpiece has 0.82, from memory)
_THIN_HOLE = 12 * pi  # K Re of creeping flow through a thin hole: R. A. Sampson 1891
_LAMINAR = 64.0  # f Re: Hagen-Poiseuille


@builder
def bearings(count: int, diameter: str, width: str, clearance: str, *, groove: str = "3 mm", eccentricity: float = 0.8,
             speed: str = "0 rpm", ratio: float = 1, film_viscosity: object = 1, rise: object = None, name: str | None = None) -> Piece:
    """A row of like journal bearings that a gallery feeds and that drip into the sump: mains, rods, a camshaft. Last in its run.

    Parameters
    ----------
    count : how many
    diameter : of the journal, "55 mm"
    width : of the shell, "20 mm"
    clearance : oil clearance as it is measured, bore less journal, across the diameter, "0.056 mm" or "0.0022 in": twice the radial gap.
        Flow goes with its cube
    groove : width of the oil groove round the shell, between its two lands
    eccentricity : how far off centre the journal runs, of its clearance: 0 in the middle, loaded ones 0.7 to 0.95 (common practice, no source)
    speed : of what turns them, "3000 rpm"; a case may set it. At rest what the turning journal drags out is left out
    ratio : turns of the journal per turn of that; 0.5 of a camshaft
    film_viscosity : viscosity in the film over that in the gallery. A film 15 to 25 C (27 to 45 F) hotter has "50 %" to "70 %"
        (common practice, no source)
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> round(bearings(5, "55 mm", "20 mm", "0.056 mm").elements[0].numbers["radial_clearance"] * 1e6, 3)
    28.0
    """
    whole, between = above_zero(width, "length", "width"), not_below_zero(groove, "length", "groove")
    if between >= whole:
        raise CircuitError(f"'groove' is {quoted(groove)}, no less than the {quoted(width)} of the shell", "check the two",
                           key="groove", value=groove)
    turns = above_zero(ratio, "dimensionless", "ratio")
    numbers = {"count": count_of(count, "count"), "diameter": above_zero(diameter, "length", "diameter"), "land_width": 0.5 * (whole - between),
               "radial_clearance": 0.5 * above_zero(clearance, "length", "clearance"),
               "eccentricity": share_of_one(eccentricity, "eccentricity", 0.99),
               "speed": turns * parse(speed, "turn_rate", name="speed"),
               "film_viscosity": above_zero(film_viscosity, "fraction", "film_viscosity")}
    return Piece([Element("bearings", numbers, drives={"speed": ("speed", turns, 0.0)})], rise=length_or_none(rise, "rise"))


@builder
def squirters(count: int, bore: object, *, opens: str = "1.5 bar", length: object = None, rise: object = None,
              name: str | None = None) -> Piece:
    """Piston squirters: oil jets under the pistons, each behind a ball that opens when the gallery has pressure. Last in their run.

    Parameters
    ----------
    count : how many, all alike
    bore : of one nozzle, "1.5 mm"
    opens : gallery pressure at which they begin to spray, "1.5 bar" (preset: common practice, no source)
    length : of a nozzle; four bores unless given. Of cold oil it takes a share of the drop
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> squirters(4, "1.5 mm").elements[0].kind
    'check valve'
    """
    jets, hole = count_of(count, "count"), above_zero(bore, "length", "bore")
    long = 4.0 * hole if length is None else above_zero(length, "length", "length")
    # Reynolds number in one nozzle at which viscous and square loss are equal: (12 π + 64 L/d) / Re = 1/C². The engine counts it on the
    # diameter of all nozzles' area together, which is √count wider, and so are both.
    equal = (_THIN_HOLE + _LAMINAR * long / hole) * _NOZZLE**2
    numbers = {"cracking_pressure": above_zero(opens, "pressure_difference", "opens"), "full_area": jets * 0.25 * pi * hole**2,
               "discharge_coefficient": _NOZZLE, "viscous_reynolds": sqrt(jets) * equal}
    return Piece([Element("check valve", numbers)], rise=length_or_none(rise, "rise"))
