"""Boiling points, and the pressures they are asked for in: gauge or absolute has to be said, for guessing wrong is an atmosphere off."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .. import units
from ..units import Quantity, UnitError
from ..units.text import find_unit, split_number
from .errors import FluidError
from .records import ICE_POINT

if TYPE_CHECKING:
    from .. import _core

ATMOSPHERE = 101325.0  # Pa, the standard atmosphere (exact by definition)
ROUNDED = 0.01  # of an atmosphere: "14.7 psia" and "1.02 bara" are one atmosphere as people round it
_ABSOLUTE_BY_NATURE = ("atm", "torr")


def absolute_pressure(value: str, name: str = "pressure") -> float:
    """[Pa] absolute of a pressure that says which it is: "29.7 psia" as it is, "15 psig" over the standard atmosphere.

    A plain "15 psi" is refused: gauges and pressure caps count from the ambient, tables of properties from nothing.
    Quantities of other libraries, which have no letter for it, are taken as absolute.

    >>> round(absolute_pressure("15 psig")), round(absolute_pressure("14.7 psia"))
    (204746, 101353)
    >>> absolute_pressure("15 psi")
    Traceback (most recent call last):
    ...
    flarenut.units.errors.UnitError: 'pressure' is '15 psi', which says neither gauge nor absolute: write '15 psig' for what a \
gauge or a pressure cap says (counted from the air around, taken at sea level) or '15 psia' for an absolute pressure
    """
    gauge = value.kind == "pressure_gauge" and value.ambient is None if isinstance(value, Quantity) else _says_gauge(value, name)
    if not gauge:
        found: float = units.parse(value, "pressure_absolute", name=name)
        return found
    pascal: float = ATMOSPHERE + units.parse(value, "pressure_gauge", name=name)
    if pascal < 0:
        raise UnitError(name, value, f"'{name}' is '{value}', deeper than full vacuum at sea level", "check the number and the unit")
    return pascal


def _says_gauge(value: str, name: str) -> bool:
    """Whether a text says a gauge pressure; one that says neither is refused."""
    if not isinstance(value, str):
        return False
    spelling = split_number(value, name)[1]
    unit = find_unit(spelling, "pressure")
    if unit is None or unit.reference is not None or unit.name in _ABSOLUTE_BY_NATURE:
        return unit is not None and unit.reference == "gauge"
    said = " ".join(value.split())
    lettered = spelling[-3:] in ("psi", "bar", "kPa", "MPa")  # "psig" reads well, "inHgg" does not
    gauge, absolute = (said + "g", said + "a") if lettered else (said + " gauge", said + " absolute")
    raise UnitError(name, value, f"'{name}' is '{said}', which says neither gauge nor absolute",
                    f"write '{gauge}' for what a gauge or a pressure cap says (counted from the air around, taken at sea level) "
                    f"or '{absolute}' for an absolute pressure")


def boiling_point(liquid: _core.fluids.Liquid, pascal: float) -> float | None:
    """[K] at which a liquid boils, or None for one without any boiling data; a pressure beyond its data is refused in words."""
    found = liquid.boiling_temperature(pascal)
    if found is None and abs(pascal / ATMOSPHERE - 1.0) <= ROUNDED:
        found = liquid.boiling_temperature(ATMOSPHERE)
    if found is not None:
        return found
    cold, hot = liquid.outer_limit
    least, most = (liquid.at(kelvin, ATMOSPHERE).vapour_pressure for kelvin in (cold, hot))
    if least == most:  # none at all, as of oils, or a constant without a curve
        return None
    end, side, limit, kelvin = ("end", "above", most, hot) if pascal > most else ("begin", "below", least, cold)
    raise FluidError(liquid.name, f"{liquid.name}: its boiling data {end} at {kelvin - ICE_POINT:.0f} C, {_shown(limit)}; "
                     f"{side} that pressure, as at {_shown(pascal)}, its boiling point is not known")


def _shown(pascal: float) -> str:
    return f"{units.show(pascal, 'pressure_absolute', 'metric')} ({units.show(pascal, 'pressure_absolute', 'us')})"
