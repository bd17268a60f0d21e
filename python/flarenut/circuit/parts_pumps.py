"""Pumps: electric by charts or by formula, positive displacement, centrifugal."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from ..units import UnitError, parse
from ..units.errors import quoted
from .amounts import RatingLiquid, above_zero, at_point, drop_at_flow, flow, length_or_none, not_below_zero, orifice_area, share_of_one, yes_or_no
from .amounts import rated_with as rating
from .curves import charts_of, points_of
from .errors import CircuitError
from .parts_valves import SEAT, check_valve
from .piece import Element, Piece, builder

if TYPE_CHECKING:
    from .amounts import Flow

ROUNDING = 1e-9  # what a straight line through three figures may be off by
LEAST_SQUARE = 1.0  # [Pa s2/m6], the least the engine takes: nothing
# Flow work over the power that reaches the liquid, which warms it by the rest (common practice, no source). An electric fuel pump
# runs in its fuel, so its motor's losses count too: 15 to 30 % of the watts at its terminals.
OVERALL = {"electric": "20 %", "gear": "75 %", "impeller": "45 %"}
VOLTS = "13.5 V"  # at the pump with the engine running (common practice, no source)
# Of the liquid that fuel pumps are charted with: a mineral spirit near 20 °C, 760 to 780 kg/m3 from memory (common practice, no
# source). The n-heptane of injector benches is another liquid, and 11 % lighter.
TEST_DENSITY = "770 kg/m3"


@builder
def electric_pump(curves: Sequence[Sequence[str] | Mapping[str, object]], *, rated_volts: str = VOLTS, volts: object = VOLTS,
                  volts_lost: str = "0 V", check_valve: bool = False, relief: str | None = None, impeller: bool = False,
                  rated_with: str = TEST_DENSITY, overall_efficiency: str = OVERALL["electric"], power: object = None,
                  rise: object = None, name: str | None = None) -> Piece:
    """An electric fuel pump by its maker's charts, at one or more voltages.

    Parameters
    ----------
    curves : charts, [{"volts": 13.5, "points": [["0 L/h", "95 psi"], ["255 L/h", "60 psi"]]}, ...], or the points of one
        chart at `rated_volts`. With "flow": "L/h" and "pressure": "psi" in a chart its points may be bare numbers
    rated_volts : of a chart that does not say its own
    volts : at the battery end of its wiring, when a case says nothing
    volts_lost : in its wiring, "0.4 V"; taken off every voltage that is set. With charts, volts count at the pump
    check_valve : False where it has none or the charts include it; True adds one that costs 1.5 psi at the charts' top
        flow; or the arguments of a `check_valve`
    relief : rise at which its own relief valve opens, "100 psi"; none, or in the charts already, unless given
    impeller : True where its rise goes with density (centrifugal); displacement types do not
    rated_with : liquid of the charts; matters for an impeller and for flows by mass. Calibration fluid, a mineral spirit of
        770 kg/m3 (common practice, no source), unless given
    overall_efficiency : flow work over the power that reaches the liquid; the rest warms it where temperatures are found. 20 % unless
        given, its motor standing in the fuel (common practice, no source)
    power : at its terminals, "150 W", volts times amperes as measured; all of it warms the fuel that it moves, in place of what
        `overall_efficiency` says; near dead head the only right way
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> pump = electric_pump([["0 L/h", "95 psi"], ["255 L/h", "60 psi"], ["340 L/h", "40 psi"]], check_valve=True)
    >>> [element.kind for element in pump.elements]
    ['electric pump', 'check valve']
    """
    liquid = _fixed_liquid(rated_with)
    columns = charts_of(curves, volts=rated_volts, density=liquid.density)
    lost = not_below_zero(volts_lost, "voltage", "volts_lost")
    numbers = {"volts": max(not_below_zero(volts, "voltage", "volts") - lost, 0.0),
               "density_share": float(yes_or_no(impeller, "impeller")), "test_density": liquid.density,
               "relief_set_pressure": 0.0 if relief is None else above_zero(relief, "pressure_difference", "relief")}
    elements = [Element("electric pump", numbers, columns, drives={"volts": ("volts", 1.0, -lost)}, warmth=_warmth(overall_efficiency, power))]
    if check_valve is not False:
        elements.append(_check_valve(check_valve, max(columns["curve_flow"])))
    return Piece(elements, rise=length_or_none(rise, "rise"))


_make_check_valve = check_valve  # the builder below has an argument of the same name


def _warmth(efficiency: str, power: object = None) -> dict[str, float]:
    """What warms a pump's stream: its efficiency, or the power that it takes in."""
    share = share_of_one(efficiency, "overall_efficiency")
    if share < 0.01:
        raise CircuitError(f"'overall_efficiency' is {quoted(efficiency)}, below 1 %", "write the share of its power that is flow work, as 20 %",
                           key="overall_efficiency", value=efficiency)
    return {"efficiency": share, "power": 0.0 if power is None else above_zero(power, "power", "power")}


def _fixed_liquid(written: object) -> RatingLiquid:
    """The liquid of a rating that is not the circuit's own."""
    if written is None:
        raise CircuitError("the charts need their liquid", 'leave rated_with off, or write rated_with="gasoline"', key="rated_with")
    found: RatingLiquid = rating(written)(_NoFluid)
    return found


class _NoFluid:
    """Stands for the circuit's fluid where a rating has to name its own."""

    name = "the circuit's liquid"

    class liquid:
        @staticmethod
        def at(*_: object) -> None:
            raise CircuitError("the charts need a liquid of their own", 'write rated_with="gasoline at 20 C"', key="rated_with")


def _check_valve(given: bool, top_flow: float) -> Element:
    if given is True:
        cracking = parse("0.5 psi", "pressure_difference")
        drop = parse("1.5 psi", "pressure_difference") - cracking
        numbers = {"cracking_pressure": cracking, "full_area": lambda liquid: orifice_area(drop, top_flow, liquid.density, SEAT)}
        return Element("check valve", numbers, suffix=" check valve", rating=rating(None))
    if not isinstance(given, dict):
        raise CircuitError(f"'check_valve' is {quoted(given)}", 'it is true, false, or its own keys: {opens_at = "1 psi", rated = "3 psi at 300 L/h"}',
                           key="check_valve", value=given)
    element = _make_check_valve(**given).elements[0]
    element.suffix = " check valve"
    return element


@builder
def formula_pump(dead_head: str, free_flow: str, *, through: str | None = None, rated_volts: str = VOLTS, volts: object = VOLTS,
                 volts_lost: str = "0 V", overall_efficiency: str = OVERALL["electric"], power: str | None = None, rise: object = None,
                 name: str | None = None) -> Piece:
    """An electric pump known by two or three figures: a parabola of rise over flow, moved with the volts.

    Parameters
    ----------
    dead_head : rise at no flow, "95 psi"
    free_flow : flow at no rise, "420 L/h"
    through : one point between, "60 psi at 240 L/h"; a plain square law unless given
    rated_volts : of these figures
    volts, volts_lost : see `electric_pump`
    overall_efficiency, power : see `electric_pump`
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> formula_pump("95 psi", "420 L/h", through="60 psi at 240 L/h").elements[0].kind
    'quadratic pump'
    """
    top, most = above_zero(dead_head, "pressure_difference", "dead_head"), _by_volume(flow(free_flow, "free_flow"), "free_flow", free_flow)
    linear, square = 0.0, top / most**2
    if through is not None:
        pressure, passing = drop_at_flow(through, "through", "60 psi at 240 L/h")
        share = _by_volume(passing, "through", through) / most
        if not (pressure < top and share < 1):
            raise CircuitError(f"'through' is {quoted(through)}, outside dead head and free flow", "it is a point between the two",
                               key="through", value=through)
        bent = ((top - pressure) / top - share**2) / (share - share**2)  # share of the fall that is straight
        if not 0 <= bent <= 1 + ROUNDING:
            raise CircuitError(f"'through' is {quoted(through)}: no falling parabola passes there", "check the three figures, or give charts",
                               key="through", value=through)
        linear, square = bent * top / most, max((1 - bent) * top / most**2, LEAST_SQUARE)
    lost = not_below_zero(volts_lost, "voltage", "volts_lost")
    numbers = {"shutoff_rise": top, "linear": linear, "quadratic": square, "rated_volts": above_zero(rated_volts, "voltage", "rated_volts"),
               "volts": max(not_below_zero(volts, "voltage", "volts") - lost, 0.0)}
    return Piece([Element("quadratic pump", numbers, drives={"volts": ("volts", 1.0, -lost)}, warmth=_warmth(overall_efficiency, power))], rise=length_or_none(rise, "rise"))


def _by_volume(amount: Flow, key: str, written: object) -> float:
    if amount.basis == "mass":
        raise CircuitError(f"{key!r} is {quoted(written)}, by mass; this pump is known by volume", "write it in L/h, gph or cc/min",
                           key=key, value=written)
    return amount.amount


@builder
def displacement_pump(displacement: str, *, speed: str, ratio: float = 1, volumetric_efficiency: str = "90 % at 60 psi, 3000 rpm, 10 cP",
                      turbulent_share: int = 0, overall_efficiency: str = OVERALL["gear"], rise: object = None,
                      name: str | None = None) -> Piece:
    """A gear, gerotor or vane pump: the same volume every turn, less what slips back. It wants a relief valve.

    Parameters
    ----------
    displacement : volume per turn of the pump, "18 cc/rev"
    speed : of what drives it, usually the engine, "3000 rpm"; a case may set it
    ratio : turns of the pump per turn of its drive; 0.5 from a camshaft
    volumetric_efficiency : "90 % at 60 psi, 3000 rpm, 10 cP": share delivered, at a rise, a pump speed and a viscosity
        (a usual one with hot oil unless given; common practice, no source)
    turbulent_share : share of that slip that goes with the root of pressure: 0 for oil, towards "50 %" for thin liquids
    overall_efficiency : flow work over the power that reaches the liquid; the rest warms it where temperatures are found. 75 % unless
        given (common practice, no source)
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> displacement_pump("18 cc/rev", speed="3000 rpm").elements[0].numbers["speed"]
    50.0
    """
    share, drop, rated_speed, viscosity = _efficiency(volumetric_efficiency)
    turns = above_zero(ratio, "dimensionless", "ratio")
    numbers = {"displacement": above_zero(displacement, "displacement_per_turn", "displacement"),
               "speed": turns * parse(speed, "turn_rate", name="speed"), "rated_efficiency": share, "rated_rise": drop,
               "rated_speed": rated_speed, "rated_viscosity": viscosity,
               "turbulent_share": share_of_one(turbulent_share, "turbulent_share", 0.9)}
    return Piece([Element("positive displacement pump", numbers, drives={"speed": ("speed", turns, 0.0)}, warmth=_warmth(overall_efficiency))], rise=length_or_none(rise, "rise"))


_LEAST_SHARE, _MOST_SHARE = 0.1, 0.999  # as the engine has it
_ROUNDING = 1e-9  # of a percentage turned into a share


def _efficiency(written: object) -> tuple[float, ...]:
    """Share, rise [Pa], turns per second and viscosity [Pa s] of "90 % at 60 psi, 3000 rpm, 10 cP", conditions in any order."""
    key, example = "volumetric_efficiency", "90 % at 60 psi, 3000 rpm, 10 cP"
    first, *rest = at_point(written, key, example)
    found = {}
    for piece in rest:
        for kind in ("pressure_difference", "turn_rate", "dynamic_viscosity"):
            try:
                found[kind] = above_zero(piece, kind, key)
                break
            except UnitError as error:
                refusal = error
        else:
            raise CircuitError(refusal.reason, f"write it e.g. '{example}'", key=key, value=written)
    missing = [words for kind, words in (("pressure_difference", "the rise"), ("turn_rate", "the pump's speed"),
                                         ("dynamic_viscosity", "the viscosity")) if kind not in found]
    if missing:
        raise CircuitError(f"{key!r} is {quoted(written)}, without {' and '.join(missing)}", f"write it e.g. '{example}'", key=key, value=written)
    share = above_zero(first, "fraction", key)
    if not _LEAST_SHARE - _ROUNDING <= share <= _MOST_SHARE + _ROUNDING:
        raise CircuitError(f"{key!r} is {quoted(written)}: the share delivered lies between 10 and 99.9 %", "some always slips back; check the share",
                           key=key, value=written)
    return min(max(share, _LEAST_SHARE), _MOST_SHARE), found["pressure_difference"], found["turn_rate"], found["dynamic_viscosity"]


@builder
def centrifugal_pump(points: Sequence[Sequence[str]], *, rated_speed: str, speed: str, ratio: float = 1, rated_with: str = "water",
                     overall_efficiency: str = OVERALL["impeller"], rise: object = None, name: str | None = None) -> Piece:
    """An impeller pump by its curve at one speed: coolant and transfer pumps. Not for thick cold oil.

    Parameters
    ----------
    points : [["0 L/min", "1.2 bar"], ["150 L/min", "0.4 bar"], ...]
    rated_speed : of the curve, at the pump
    speed : of what drives it, "3000 rpm"; a case may set it
    ratio : turns of the pump per turn of its drive
    rated_with : liquid of the curve
    overall_efficiency : flow work over the power that reaches the liquid; the rest warms it where temperatures are found. 45 % unless
        given (common practice, no source)
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> centrifugal_pump([["0 gpm", "18 psi"], ["40 gpm", "6 psi"]], rated_speed="3000 rpm", speed="800 rpm").elements[0].kind
    'centrifugal pump'
    """
    liquid: RatingLiquid = _fixed_liquid(rated_with)
    turns = above_zero(ratio, "dimensionless", "ratio")
    flows, rises = points_of(points, "points", density=liquid.density, falling=True)
    numbers = {"speed": turns * parse(speed, "turn_rate", name="speed"), "rated_speed": above_zero(rated_speed, "turn_rate", "rated_speed"),
               "rated_density": liquid.density}
    return Piece([Element("centrifugal pump", numbers, {"curve_flow": flows, "curve_rise": rises},
                          drives={"speed": ("speed", turns, 0.0)}, warmth=_warmth(overall_efficiency))], rise=length_or_none(rise, "rise"))
