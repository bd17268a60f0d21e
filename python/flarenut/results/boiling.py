"""At which temperature a liquid boils under a pressure, and how many degrees there are to it."""

from __future__ import annotations

from math import nan
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .engine import EngineLiquid

_ANY = 101325.0  # [Pa]; vapour pressure does not go by it


def is_known(liquid: EngineLiquid) -> bool:
    """Whether the vapour pressure of a liquid is known over temperature: oils have none, and that of a constant liquid stays."""
    low, high = (liquid.at(kelvin, _ANY).vapour_pressure for kelvin in liquid.outer_limit)
    return high > max(low, 0.0)


def boils_at(liquid: EngineLiquid, pressure: float) -> tuple[float, str]:
    """Temperature [K] at which the vapour pressure of a liquid reaches a pressure [Pa abs], and whether that is a bound.

    A liquid that does not boil inside its outer limits gives the limit, and "over" or "under" beside it; else "".

    Parameters
    ----------
    liquid : the engine's, `Fluid.liquid`
    pressure : [Pa abs]

    >>> from flarenut.fluids import fluid
    >>> kelvin, bound = boils_at(fluid("water").liquid, 101325.0)
    >>> round(kelvin - 273.15, 1), bound
    (100.0, '')
    """
    found = liquid.boiling_temperature(pressure) if pressure > 0.0 else None
    if found is not None:
        return found, ""
    low, high = liquid.outer_limit
    return (low, "under") if liquid.at(low, _ANY).vapour_pressure >= pressure else (high, "over")


def degrees_to_boiling(liquid: EngineLiquid | None, margin: float, kelvin: float) -> tuple[float, str]:
    """How many degrees [K] a liquid may still warm before a pressure margin is used up, and whether that is a bound.

    NaN for a liquid whose vapour pressure is not known over temperature, as of oils.

    Parameters
    ----------
    liquid : the engine's, or None
    margin : static pressure above vapour pressure [Pa]
    kelvin : how warm the liquid is where the margin is that [K]

    >>> from flarenut.fluids import fluid
    >>> water = fluid("water").liquid
    >>> round(degrees_to_boiling(water, 101325.0 - water.at(363.15, 101325.0).vapour_pressure, 363.15)[0], 1)
    10.0
    """
    if liquid is None or margin != margin or kelvin != kelvin or not is_known(liquid):
        return nan, ""
    boils, bound = boils_at(liquid, margin + liquid.at(kelvin, _ANY).vapour_pressure)
    return boils - kelvin, bound
