"""At which temperature a liquid boils under a pressure: the root of its vapour pressure."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .. import _core
    from ..results.engine import EngineLiquid

_WITHIN = 1e-6  # K
_ANY = 101325.0  # [Pa]; vapour pressure does not go by it


def is_known(liquid: EngineLiquid) -> bool:
    """Whether the vapour pressure of a liquid is known over temperature: oils have none, and that of a constant liquid stays."""
    low, high = (liquid.at(kelvin, _ANY).vapour_pressure for kelvin in liquid.outer_limit)
    return high > max(low, 0.0)


def boils_at(liquid: EngineLiquid, pressure: float) -> tuple[float, str]:
    """Temperature [K] at which the vapour pressure of a liquid reaches a pressure [Pa abs], and whether that is a bound.

    The vapour pressure climbs with temperature, so the root is bracketed by the liquid's outer limits and halved down to. A liquid
    that does not boil inside them gives the limit, and "over" or "under" beside it; else "".

    Parameters
    ----------
    liquid : the engine's, `Fluid.liquid`
    pressure : [Pa abs]

    >>> from flarenut.fluids import fluid
    >>> kelvin, bound = boils_at(fluid("water").liquid, 101325.0)
    >>> round(kelvin - 273.15, 1), bound
    (100.0, '')
    """
    low, high = liquid.outer_limit

    def over(kelvin: float) -> float:
        return liquid.at(kelvin, _ANY).vapour_pressure - pressure

    if over(low) >= 0.0:
        return low, "under"
    if over(high) <= 0.0:
        return high, "over"
    while high - low > _WITHIN:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if over(middle) > 0.0 else (middle, high)
    return 0.5 * (low + high), ""
