"""Ambient pressure and temperature from altitude: U.S. Standard Atmosphere 1976, a standard day."""

from .. import units
from .._core import fluids as core
from ..units import Quantity


def standard_pressure(altitude: object) -> Quantity:
    """Ambient pressure at an altitude between -2000 and 11000 m; weather moves the real one by about 3 %.

    >>> standard_pressure("5000 ft").to("kPaa").__round__(1)
    84.3
    """
    return Quantity(core.standard_pressure(units.parse(altitude, "length", name="altitude")), "pressure_absolute")


def standard_temperature(altitude: str) -> Quantity:
    """Air temperature of a standard day at an altitude between -2000 and 11000 m.

    >>> round(standard_temperature("5000 ft").to("C"), 1)
    5.1
    """
    return Quantity(core.standard_temperature(units.parse(altitude, "length", name="altitude")), "temperature")
