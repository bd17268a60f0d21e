"""Restrictors and valves that no pressure commands but their own: orifice, valve, check valve, relief valve."""

from __future__ import annotations

from collections.abc import Callable
from math import pi, sqrt
from typing import TYPE_CHECKING, Any

from ..units import parse
from ..units.errors import quoted
from .amounts import above_zero, drop_at_flow, length_or_none, orifice_area, share_of_one
from .amounts import rated_with as rating
from .errors import CircuitError
from .piece import Element, Piece, builder

if TYPE_CHECKING:
    from .piece import Number

SEAT = 0.7  # discharge coefficient that areas are worked back with; the engine's preset, so that only the product counts
WATER = 999.1  # [kg/m3] at 15 °C; Kv and Cv are defined with water (IEC 60534-1, from memory)
_KV = (parse("1 m3/h", "volume_flow"), 1e5)
_CV = (parse("1 gpm", "volume_flow"), parse("1 psi", "pressure_difference"))


@builder
def orifice(bore: object, *, length: object = None, line_bore: object = None, discharge_coefficient: object = None, rise: object = None,
            name: str | None = None) -> Piece:
    """A restrictor: a jet, a drilled plate, a pill. What it costs for good, not what a meter reads between its taps.

    Parameters
    ----------
    bore : diameter of the hole, "1.2 mm"
    length : of the hole. From 2 to 10 bores it is a short tube; shorter, or left out, a sharp-edged plate
    line_bore : of the line on both sides; much wider unless given
    discharge_coefficient : measured, 0.6 to 0.95; that of a sharp edge unless given; plates only
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> orifice("1 mm").elements[0].kind, orifice("1 mm", length="4 mm").elements[0].kind
    ('orifice', 'short tube orifice')
    """
    hole = above_zero(bore, "length", "bore")
    numbers = {"bore": hole, "line_bore": 0.0 if line_bore is None else above_zero(line_bore, "length", "line_bore")}
    long = None if length is None else above_zero(length, "length", "length")
    if long is not None and long > 10.001 * hole:
        raise CircuitError(f"'length' is {quoted(length)}, more than 10 bores: that is a line", "write it as a passage", key="length", value=length)
    if long is not None and long >= 1.999 * hole:
        if discharge_coefficient is not None:
            raise CircuitError("a short tube has its own discharge coefficient, by its length", "leave one of the two off",
                               key="discharge_coefficient", value=discharge_coefficient)
        element = Element("short tube orifice", {**numbers, "length": long})
    else:
        share = 0.0 if discharge_coefficient is None else above_zero(discharge_coefficient, "fraction", "discharge_coefficient")
        element = Element("orifice", {**numbers, "discharge_coefficient": share})
    return Piece([element], rise=length_or_none(rise, "rise"))


@builder
def valve(*, cv: float | None = None, kv: object = None, rated: object = None, opening: float = 1.0, bore: object = None,
          leak: float | None = None, rated_with: object = None, rise: object = None, name: str | None = None) -> Piece:
    """A cock, needle valve or solenoid known by what it passes. Give one of `cv`, `kv` and `rated`.

    Parameters
    ----------
    cv : US gal/min of water at 1 psi
    kv : m3/h of water at 1 bar
    rated : a drop at a flow wide open, "2 psi at 3 gpm"
    opening : share of its coefficient, "50 %"; 0 shut, 1 wide open
    bore : of its ports, for the velocity head there
    leak : share passed when shut; 0.00001 unless given
    rated_with : liquid of `rated`; the circuit's own unless given
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> round(valve(kv=1).elements[0].numbers["flow_coefficient"] * 1e6, 2)
    27.77
    """
    numbers = {"flow_coefficient": _flow_coefficient(cv, kv, rated),
               "opening": share_of_one(opening, "opening")}
    if bore is not None:
        numbers["bore"] = above_zero(bore, "length", "bore")
    if leak is not None:
        numbers["leak"] = above_zero(leak, "fraction", "leak")
    return Piece([Element("valve", numbers, rating=rating(rated_with))], rise=length_or_none(rise, "rise"))


def _flow_coefficient(cv: float | None, kv: object, rated: object) -> Number:
    """Av = Q √(ρ/Δp) [m2], from exactly one of the three."""
    if sum(one is not None for one in (cv, kv, rated)) != 1:
        raise CircuitError("a valve needs one of cv, kv and rated", 'write cv=2.5, or rated="2 psi at 3 gpm"', key="rated")
    if rated is not None:
        drop, flow = drop_at_flow(rated, "rated", "2 psi at 3 gpm")
        return lambda liquid: flow.volume(liquid.density) * sqrt(liquid.density / drop)
    number, (unit, drop) = (above_zero(cv, "flow_coefficient_cv", "cv"), _CV) if cv is not None else \
        (above_zero(kv, "flow_coefficient_kv", "kv"), _KV)
    found: Number = number * unit * sqrt(WATER / drop)
    return found


@builder
def check_valve(opens_at: object = "0.5 psi", *, rated: object = None, bore: object = None, rated_with: object = None,
                rise: object = None, name: str | None = None) -> Piece:
    """A check valve: free from inlet to outlet, shut the other way. Give `rated` or `bore`.

    Parameters
    ----------
    opens_at : cracking pressure; half a psi is a light spring
    rated : its whole drop at a flow, cracking included, "2 psi at 300 L/h"
    bore : of its seat, when nothing is known of its flow
    rated_with : liquid of `rated`; the circuit's own unless given
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> check_valve("1 psi", rated="3 psi at 300 L/h").word
    'check_valve'
    """
    cracking = above_zero(opens_at, "pressure_difference", "opens_at")
    numbers = {"cracking_pressure": cracking, "full_area": _seat(rated, bore, cracking)}
    return Piece([Element("check valve", numbers, rating=rating(rated_with))], rise=length_or_none(rise, "rise"))


def _seat(rated: object, bore: object, cracking: float) -> Number:
    if (rated is None) == (bore is None):
        raise CircuitError("a check valve needs one of rated and bore", 'write rated="2 psi at 300 L/h", or bore="8 mm"', key="rated")
    if bore is not None:
        return 0.25 * pi * above_zero(bore, "length", "bore") ** 2
    drop, flow = drop_at_flow(rated, "rated", "2 psi at 300 L/h")
    if drop <= cracking:
        raise CircuitError(f"'rated' is {quoted(rated)}, no more than it takes to open it", "the rated drop includes the cracking pressure",
                           key="rated", value=rated)
    return lambda liquid: orifice_area(drop - cracking, flow.volume(liquid.density), liquid.density, SEAT)


@builder
def relief_valve(opens_at: object, *, wide_open: object, override: str = "7 psi", second_opens_at: object = None, second_wide_open: object = None,
                 rated_with: object = None, rise: object = None, name: str | None = None) -> Piece:
    """A relief valve, of one step or two: from a pressure passage (inlet) to sump, tank or pump inlet (outlet).

    Parameters
    ----------
    opens_at : drop across it at which it just opens, "60 psi"
    wide_open : what it passes with its spring held open, "10 psi at 8 gpm"
    override : rise above `opens_at` that opens it to 71 %
    second_opens_at, second_wide_open : of the second port of a two-step valve
    rated_with : liquid of the flows; the circuit's own unless given (only the density counts)
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> relief_valve("60 psi", wide_open="10 psi at 8 gpm").elements[0].kind
    'relief valve'
    """
    if (second_opens_at is None) != (second_wide_open is None):
        raise CircuitError("a second step needs both second_opens_at and second_wide_open", "give the one that is missing",
                           key="second_opens_at" if second_opens_at is None else "second_wide_open")
    first = above_zero(opens_at, "pressure_difference", "opens_at")
    numbers: dict[str, Number] = {"set_pressure": first, "full_area": wide_open_area(wide_open),
               "band": above_zero(override, "pressure_difference", "override"), "discharge_coefficient": SEAT}
    if second_opens_at is not None:
        second = numbers["second_set_pressure"] = above_zero(second_opens_at, "pressure_difference", "second_opens_at")
        if second <= first:
            raise CircuitError(f"'second_opens_at' is {quoted(second_opens_at)}, no more than the {quoted(opens_at)} of the first step",
                               "the second step opens later; swap the two, or leave it off", key="second_opens_at", value=second_opens_at)
        numbers["second_area"] = wide_open_area(second_wide_open, "second_wide_open")
    return Piece([Element("relief valve", numbers, rating=rating(rated_with))], rise=length_or_none(rise, "rise"))


def wide_open_area(value: object, key: str = "wide_open") -> Callable[..., Any]:
    """Area of an opening by what it passes wide open, as a function of the liquid of that test."""
    drop, flow = drop_at_flow(value, key, "10 psi at 8 gpm")
    return lambda liquid: orifice_area(drop, flow.volume(liquid.density), liquid.density, SEAT)
