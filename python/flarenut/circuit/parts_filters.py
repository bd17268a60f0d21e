"""Filters and strainers, and what is known by one drop or by a bench test."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from ..units import show
from ..units.errors import quoted
from .amounts import above_zero, drop_at_flow, length_or_none, need_viscosity, orifice_area, share_of_one
from .amounts import rated_with as rating
from .curves import points_of
from .errors import CircuitError
from .parts_valves import SEAT
from .piece import Element, Piece, builder

if TYPE_CHECKING:
    from .amounts import Flow
    from .piece import Number

LEAST_LINEAR = 1e3  # [Pa s/m3], the least the engine takes: nothing

# What a rating may be; beyond it the unit or a power of ten is wrong. From a drip to far more than any vehicle pumps, from what no
# gauge shows to what bursts any hose (judgement, no source).
_FLOWS = (1e-9, 0.2)  # [m3/s]
_DROPS = (1.0, 1e8)  # [Pa]


@builder
def filter(drop: object, *, viscous_share: object = None, loading: float = 1, bypass: object = None,
           bypass_flow: object = None, rated_with: object = None, rise: object = None, name: str | None = None) -> Piece:
    """A filter by its rated drop, clean. With `bypass` it lets liquid round the element when that costs too much.

    Parameters
    ----------
    drop : clean, "1.5 psi at 100 gph"; two of them, ["0.6 psi at 50 gph", "1.5 psi at 100 gph"], also tell the split below
    viscous_share : share of the rated drop that goes with flow and viscosity, as the element's does; the rest goes with
        flow squared, as the ports' does. 0.7 for a pleated element unless given (common practice, no source)
    loading : resistance of the element now over clean: 1 clean, 3 to 10 when due for change
    bypass : drop at which the bypass opens, "12 psi"; none unless given
    bypass_flow : what the bypass passes wide open, "8 psi at 8 gpm"; the rated flow at half the bypass pressure unless given
    rated_with : liquid of the rating, "SAE 10W-30 at 100 C", "gasoline", {"density": ..., "viscosity": ...}; the circuit's
        own at 20 C unless given, which only thin liquids may leave unsaid
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> filter("1.5 psi at 100 gph").elements[0].kind, filter("2 psi at 8 gpm", bypass="12 psi").elements[0].kind
    ('filter', 'filter with bypass')
    """
    return _filter(drop, viscous_share, 0.7, loading, bypass, bypass_flow, rated_with, rise, {"filter_loading": ("loading", 1.0, 0.0)})


@builder
def strainer(drop: object, *, viscous_share: object = None, loading: int = 1, rated_with: object = None, rise: object = None,
             name: str | None = None) -> Piece:
    """A screen: a pump's sock, a pick-up's gauze, a last-chance screen. As a filter, but mostly square law.

    Parameters
    ----------
    drop : clean, "0.3 psi at 100 gph"; or two of them
    viscous_share : as for `filter`; 0.3 unless given (common practice, no source)
    loading : resistance of the screen now over clean; not moved by a case's filter_loading
    rated_with : as for `filter`
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> strainer("0.3 psi at 100 gph").word
    'strainer'
    """
    return _filter(drop, viscous_share, 0.3, loading, None, None, rated_with, rise, {})


def _filter(drop: object, viscous_share: object, usual_share: float, loading: float, bypass: object, bypass_flow: object,
            rated: object, rise: object, drives: Mapping[str, tuple[str, float, float]]) -> Piece:
    pairs = [rated_drop(one, "drop") for one in each_drop(drop)]
    if len(pairs) == 2 and viscous_share is not None:
        raise CircuitError("two drops tell the viscous share by themselves", "leave viscous_share off", key="viscous_share", value=viscous_share)
    share = usual_share if viscous_share is None else share_of_one(viscous_share, "viscous_share")
    within = above_zero(loading, "dimensionless", "loading")
    numbers: dict[str, Number] = {"linear": lambda liquid: _split(pairs, share, liquid.density, drop)[0],
               "quadratic": lambda liquid: _split(pairs, share, liquid.density, drop)[1],
               "rating_viscosity": lambda liquid: need_viscosity(liquid), "rating_density": lambda liquid: liquid.density,
              "loading": within}
    if within < 1:
        raise CircuitError(f"'loading' is {quoted(loading)}, less than clean", "a clean element is 1", key="loading", value=loading)
    kind = "filter"
    if bypass is not None:
        opens_at = above_zero(bypass, "pressure_difference", "bypass")
        across, passing = (0.5 * opens_at, pairs[-1][1]) if bypass_flow is None else rated_drop(bypass_flow, "bypass_flow", "8 psi at 8 gpm")
        kind = "filter with bypass"
        numbers |= {"bypass_pressure": opens_at, "discharge_coefficient": SEAT,
                    "bypass_area": lambda liquid: orifice_area(across, passing.volume(liquid.density), liquid.density, SEAT)}
    elif bypass_flow is not None:
        raise CircuitError("'bypass_flow' without a 'bypass'", 'say at which drop it opens, e.g. bypass="12 psi"', key="bypass_flow", value=bypass_flow)
    return Piece([Element(kind, numbers, rating=rating(rated, viscosity_matters=True), drives=drives)], rise=length_or_none(rise, "rise"))


def rated_drop(value: object, key: str, example: str = "1.5 psi at 100 gph") -> tuple[float, Flow]:
    """`drop_at_flow`, of what a part of a vehicle may be rated at; anything else is a slip and is refused."""
    lost, flow = drop_at_flow(value, key, example)
    _refuse_slip(lost, flow.volume(1000.0), key, value)
    return lost, flow


def _refuse_slip(lost: float, flow: float, key: str, value: object) -> None:
    for number, (least, most), kind, what in ((flow, _FLOWS, "volume_flow", "flow"), (lost, _DROPS, "pressure_difference", "drop")):
        if not least <= number <= most:
            low, high, said = (" = ".join(dict.fromkeys(show(one, kind, system) for system in ("us", "metric")))
                               for one in (least, most, number))
            raise CircuitError(f"'{key}' is {quoted(value)}: a {what} of {said}, which no part of a vehicle has",
                               f"check the {what} and its unit; it may be {low} to {high}", key=key, value=value)


def is_two(drop: object) -> bool:
    """True for two ratings; a pressure and a flow apart are one."""
    return isinstance(drop, (list, tuple)) and len(drop) == 2 and all(
        isinstance(one, (list, tuple)) or (isinstance(one, str) and (" at " in one or "@" in one)) for one in drop)


def each_drop(drop: object) -> list[object]:
    """The rating, or both of two."""
    return list(drop) if isinstance(drop, (list, tuple)) and is_two(drop) else [drop]


def _split(pairs: Sequence[tuple[float, Flow]], share: float, density: float, written: object) -> tuple[float, float]:
    """Linear [Pa s/m3] and quadratic [Pa s2/m6] part of one or two rated drops."""
    if len(pairs) == 1:
        drop, flow = pairs[0][0], pairs[0][1].volume(density)
        return max(share * drop / flow, LEAST_LINEAR), (1 - share) * drop / flow**2
    (drop1, q1), (drop2, q2) = [(drop, flow.volume(density)) for drop, flow in pairs]
    square = (drop2 / q2 - drop1 / q1) / (q2 - q1) if q1 != q2 else -1.0
    linear = drop1 / q1 - square * q1
    if square < 0 or linear < 0:
        raise CircuitError(f"'drop' is {quoted(written)}: no sum of a straight and a square law passes both", "check the two ratings",
                           key="drop", value=written)
    return max(linear, LEAST_LINEAR), square


@builder
def resistance(drop: object, *, exponent: float = 2, rated_with: object = None, rise: object = None, name: str | None = None) -> Piece:
    """Anything known by one drop at one flow: a cooler, a gallery, a quick coupling.

    Parameters
    ----------
    drop : "5 psi at 3 gpm"
    exponent : power of the flow, 1 (creeping) to 2 (square law); two rated points give it: ln(drops' ratio)/ln(flows' ratio)
    rated_with : liquid of the rating; the circuit's own at 20 C unless given
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> resistance("5 psi at 3 gpm").elements[0].kind
    'resistance'
    """
    lost, flow = rated_drop(drop, "drop", "5 psi at 3 gpm")
    power = above_zero(exponent, "dimensionless", "exponent")
    if not 1 <= power <= 2:
        raise CircuitError(f"'exponent' is {quoted(exponent)}; it lies between 1 and 2", "1 is creeping flow, 2 the square law",
                           key="exponent", value=exponent)
    numbers: dict[str, Number] = {"rated_drop": lost, "rated_flow": lambda liquid: flow.volume(liquid.density), "exponent": power,
               "rating_density": lambda liquid: liquid.density,
               "rating_viscosity": (lambda liquid: need_viscosity(liquid)) if power < 2 else lambda liquid: liquid.viscosity or 1e-3}
    return Piece([Element("resistance", numbers, rating=rating(rated_with, viscosity_matters=power < 2))], rise=length_or_none(rise, "rise"))


@builder
def measured_part(points: Sequence[Sequence[str]], *, rated_with: object = None, rise: object = None,
                  name: str | None = None) -> Piece:
    """Any passive part by a bench test: points of flow and drop, read at equal Reynolds number for other liquids.

    Parameters
    ----------
    points : [["1 gpm", "0.5 psi"], ["3 gpm", "3.6 psi"], ...], flows by volume. Below the first of them the drop falls in proportion to
        the flow, which for a square law reads high: by 1.75 at half its flow, by 3.6 at a quarter. Measure down to the least you need
    rated_with : liquid of the test, which has to be named with its temperature when it is thick
    rise : height gained

    Raises
    ------
    CircuitError, UnitError : with key, value and cure

    >>> measured_part([["1 gpm", "0.5 psi"], ["3 gpm", "3.6 psi"]], rated_with="water").elements[0].kind
    'measured table'
    """
    flows, drops = points_of(points, "points", density=None)
    for flow, lost in zip(flows, drops):
        if flow and lost:  # what is nothing is judged elsewhere
            _refuse_slip(lost, flow, "points", points)
    if any(after <= before for before, after in zip(drops, drops[1:])):
        raise CircuitError("'points' has a drop that does not rise with flow", "check the points; more flow costs more", key="points", value=points)
    numbers = {"rating_viscosity": lambda liquid: need_viscosity(liquid), "rating_density": lambda liquid: liquid.density}
    return Piece([Element("measured table", numbers, {"flow": flows, "pressure_drop": drops},
                          rating=rating(rated_with, viscosity_matters=True))], rise=length_or_none(rise, "rise"))
