"""Air, and refrigerants along their boiling curve: properties to read gauges and size by hand. Neither flows in a circuit."""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

from .. import units
from .._core import fluids as core
from ..units import Quantity
from ..units.errors import says_its_name
from .boiling import absolute_pressure
from .errors import FluidError
from .records import kelvin, rows

if TYPE_CHECKING:
    from .. import _core


class AirState:
    """Properties of air: density, viscosity, kinematic_viscosity, specific_heat, conductivity, expansion (by volume) and
    temperature, as quantities."""

    __slots__ = ("density", "viscosity", "kinematic_viscosity", "specific_heat", "conductivity", "expansion", "temperature")

    def __init__(self, state: core.AirState) -> None:
        self.density = Quantity(state.density, "density")
        self.viscosity = Quantity(state.viscosity, "dynamic_viscosity")
        self.kinematic_viscosity = Quantity(state.kinematic_viscosity, "kinematic_viscosity")
        self.specific_heat = Quantity(state.specific_heat, "specific_heat")
        self.conductivity = Quantity(state.conductivity, "thermal_conductivity")
        self.expansion = Quantity(state.expansion, "thermal_expansion")
        self.temperature = Quantity(state.temperature, "temperature")

    def __repr__(self) -> str:
        return "AirState(" + ", ".join(f"{word}={getattr(self, word)}" for word in self.__slots__) + ")"


@says_its_name
def air(temperature: object, pressure: str = "1.01325 bara") -> AirState:
    """Dry air at a temperature, -73 to 726 C, and a pressure up to 10 bar absolute ("2 bara"; "15 psig" counts from sea level).

    Within 0.03 % of its equations of state at one atmosphere and 0.4 % to 10 bar; moist air is up to 3 % lighter at 40 C.

    >>> round(air("25 C").density.to("kg/m3"), 3)
    1.184
    """
    return AirState(core.air_at(units.parse(temperature, "temperature", name="temperature"),
                                absolute_pressure(pressure)))


class SaturationState:
    """Liquid and vapour side by side: temperature, pressure (absolute), liquid_density, vapour_density, latent_heat."""

    __slots__ = ("temperature", "pressure", "liquid_density", "vapour_density", "latent_heat")

    def __init__(self, state: core.SaturationState) -> None:
        self.temperature = Quantity(state.temperature, "temperature")
        self.pressure = Quantity(state.pressure, "pressure_absolute")
        self.liquid_density = Quantity(state.liquid_density, "density")
        self.vapour_density = Quantity(state.vapour_density, "density")
        self.latent_heat = Quantity(state.latent_heat, "specific_energy")

    def __repr__(self) -> str:
        return "SaturationState(" + ", ".join(f"{word}={getattr(self, word)}" for word in self.__slots__) + ")"


class Refrigerant:
    """What `refrigerant("R-134a")` hands out."""

    def __init__(self, name: str, saturation: core.Saturation, source: str) -> None:
        self.name = name
        self.saturation = saturation
        self.source = source

    def at(self, temperature: object) -> SaturationState:
        """Pressure, densities and heat of vaporisation at a temperature."""
        return SaturationState(self.saturation.at(units.parse(temperature, "temperature", name="temperature")))

    def boiling_point(self, pressure: str) -> Quantity:
        """The temperature at which it boils and condenses under a pressure.

        "45 psig", as a service gauge reads, counts from the standard atmosphere; "60 psia" is absolute; a plain "45 psi" is
        refused. In the mountains add the ambient of the place yourself and write psia.

        >>> print(refrigerant("R-134a").boiling_point("45 psig"))
        49.6 F
        """
        return Quantity(self.saturation.temperature(absolute_pressure(pressure)), "temperature")

    @property
    def range(self) -> tuple[Quantity, ...]:
        """Coldest and hottest temperature of its data."""
        return tuple(Quantity(limit, "temperature") for limit in self.saturation.range)

    def __repr__(self) -> str:
        return f"Refrigerant({self.name!r})"


@cache
def refrigerant_names() -> tuple[str, ...]:
    """("R-134a", "R-1234yf")."""
    return tuple(dict.fromkeys(row["fluid"] for row in rows("refrigerants.csv")))


def refrigerants_on_file() -> str:
    """Words for a refrigerant that is not: none is called near to it, for charging by another's pressures hurts people."""
    return ("known are " + ", ".join(refrigerant_names()) + "; neither stands in for another refrigerant, whose pressures, oil and seals "
            "differ: go by the label under the hood")


def _plain(name: str) -> str:
    return re.sub(r"[\s\-_]+", "", name.lower())


@cache
def _refrigerant(shown: str) -> Refrigerant:
    table = [row for row in rows("refrigerants.csv") if row["fluid"] == shown]
    temperatures = [kelvin(float(row["T_degC"])) for row in table]

    def law(scale: str, column: str, factor: float = 1.0) -> _core.fluids.Law:
        return core.table(scale, temperatures, [float(row[column]) * factor for row in table], column)

    saturation = core.Saturation(shown, law("saturation", "saturation_pressure_kPa_abs", 1e3), law("plain", "liquid_density_kg_m3"),
                                 law("saturation", "vapour_density_kg_m3"), temperatures[0], temperatures[-1])
    return Refrigerant(shown, saturation, table[0]["source"])


def refrigerant(name: str) -> Refrigerant:
    """A refrigerant along its boiling curve, -40 to 90 C.

    Pressurised refrigerant freezes skin and eyes and displaces air, and R-1234yf burns: work on a charged system belongs to
    people licensed for it, with recovery equipment.

    >>> round(refrigerant("R-134a").at("25 C").pressure.to("kPaa"))
    665
    >>> round(refrigerant("r1234yf").boiling_point("10 bara").to("C"), 1)
    39.3
    """
    by_plain = {_plain(shown): shown for shown in refrigerant_names()}
    found = by_plain.get(_plain(name)) if isinstance(name, str) else None
    if found is None:
        raise FluidError(name, f"unknown refrigerant {name!r}", refrigerants_on_file())
    return _refrigerant(found)


def refuse_gas(name: str) -> None:
    """Raises when the name is that of air or of a refrigerant, which are no liquids of a circuit."""
    plain = _plain(name)
    if plain in ("air", "dryair"):
        raise FluidError(name, "air is a gas, and circuits carry liquids", 'for its properties write air("20 C")')
    for shown in refrigerant_names():
        if plain in (_plain(shown), _plain(shown)[1:]):
            raise FluidError(name, f"{shown} boils on its way, and circuits carry one liquid without vapour",
                             f'for its pressures, densities and heat of vaporisation write refrigerant("{shown}")')
