"""`Fluid`: what `fluid("E85")` hands out."""

from __future__ import annotations

import functools
from collections.abc import Callable
from html import escape
from typing import TYPE_CHECKING, Any, ParamSpec

from .. import units
from .._core import fluids as core
from ..units import Quantity
from .boiling import absolute_pressure, boiling_point
from .errors import FluidError
from .records import ICE_POINT

if TYPE_CHECKING:
    from .. import _core

FREEZING_SHOWN = 0.05  # K, half of the tenth that freezing points are shown in


class State:
    """Properties at one temperature and pressure, as quantities: ``state.density.to("lb/gal")``."""

    __slots__ = ("density", "viscosity", "kinematic_viscosity", "specific_heat", "conductivity", "bulk_modulus",
                 "vapour_pressure", "temperature")

    def __init__(self, state: _core.fluids.LiquidState) -> None:
        self.density = Quantity(state.density, "density")
        self.viscosity = Quantity(state.viscosity, "dynamic_viscosity")
        self.kinematic_viscosity = Quantity(state.viscosity / state.density, "kinematic_viscosity")
        self.specific_heat = Quantity(state.specific_heat, "specific_heat")
        self.conductivity = Quantity(state.conductivity, "thermal_conductivity")
        self.bulk_modulus = Quantity(state.bulk_modulus, "bulk_modulus")
        self.vapour_pressure = Quantity(state.vapour_pressure, "pressure_absolute")
        self.temperature = Quantity(state.temperature, "temperature")

    def __repr__(self) -> str:
        return "State(" + ", ".join(f"{word}={getattr(self, word)}" for word in self.__slots__) + ")"


class HeatState:
    """What an energy balance asks for: specific_heat, conductivity, expansion (by volume) and enthalpy, as quantities.

    `enthalpy` counts from 0 C and one atmosphere; `warming(drop)` is by how much the liquid warms when it loses that much
    pressure in a restriction, giving neither work nor heat away.
    """

    __slots__ = ("specific_heat", "conductivity", "expansion", "enthalpy", "_warming_per_pressure")

    def __init__(self, state: _core.fluids.HeatState) -> None:
        self.specific_heat = Quantity(state.specific_heat, "specific_heat")
        self.conductivity = Quantity(state.conductivity, "thermal_conductivity")
        self.expansion = Quantity(state.expansion, "thermal_expansion")
        self.enthalpy = Quantity(state.enthalpy, "specific_energy")
        self._warming_per_pressure = state.warming_per_pressure

    def warming(self, drop: str) -> Quantity:
        """Temperature rise over a pressure drop without work or heat given, "30 psi"."""
        pascal = units.parse(drop, "pressure_difference", name="drop")
        return Quantity(self._warming_per_pressure * pascal, "temperature_difference")

    def __repr__(self) -> str:
        return "HeatState(" + ", ".join(f"{word}={getattr(self, word)}" for word in self.__slots__[:4]) + ")"


Given = ParamSpec("Given")


class Description:
    """A table of a fluid's properties: data range, outer limit, band, source. Prints as text, shows as HTML.

    `rows` is a tuple of dicts with the keys property, data, outer_limit (both in K), band (a fraction), source, how.
    """

    _HEADINGS = ("property", "data", "outer limit", "band", "source", "how")

    def __init__(self, title: str, notes: tuple[str, ...], rows: tuple[dict[str, Any], ...]) -> None:
        self.title = title
        self.notes = notes
        self.rows = rows

    def _cells(self) -> list[tuple[str, ...]]:
        def span(pair: tuple[float, float]) -> str:
            low, high = (kelvin - ICE_POINT for kelvin in pair)
            return f"{low:.0f} to {high:.0f} C"

        return [(r["property"], span(r["data"]), span(r["outer_limit"]), f"±{100 * r['band']:.2g} %", r["source"], r["how"])
                for r in self.rows]

    def __str__(self) -> str:
        cells = [self._HEADINGS, *self._cells()]
        widths = [max(len(row[i]) for row in cells) for i in range(4)]
        lines = ["  ".join([*(row[i].ljust(widths[i]) for i in range(4)), f"{row[4]} [{row[5]}]"]) for row in cells]
        return "\n".join([self.title, *self.notes, *lines])

    __repr__ = __str__

    def _repr_html_(self) -> str:
        head = "".join(f"<th>{word}</th>" for word in self._HEADINGS)
        body = "".join("<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>" for row in self._cells())
        notes = "".join(f"<p>{escape(note)}</p>" for note in self.notes)
        return f"<h4>{escape(self.title)}</h4>{notes}<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


class Fluid:
    """A liquid with its name, notes and data pedigree.

    `liquid` is the engine's object; a circuit hands it down. Everything else is for people.

    Parameters
    ----------
    liquid : the engine's liquid
    notes : sentences on what was assumed (class, sample, Reid pressure)
    """

    __slots__ = ("liquid", "notes", "made")

    def __init__(self, liquid: _core.fluids.Liquid, notes: tuple[str, ...] = ()) -> None:
        self.liquid = liquid
        self.notes = tuple(notes)
        self.made: tuple[Callable[..., Fluid], tuple[object, ...], dict[str, object]] | None = None  # (function, arguments, keys) that make it again in another process

    def __reduce__(self) -> tuple[Callable[..., Fluid], tuple[Callable[..., Fluid], tuple[object, ...], dict[str, object]]]:
        if self.made is None:
            raise TypeError(f"{self.name}: a liquid that was not made by fluid, oil or constant_fluid cannot be sent")
        function, arguments, keys = self.made
        return _made_again, (function, arguments, keys)

    @property
    def name(self) -> str:
        """Name in messages and tables."""
        return self.liquid.name

    @property
    def stoichiometric_air_fuel_ratio(self) -> float | None:
        """kg of air for each kg of fuel, or None for what does not burn as fuel."""
        return self.liquid.stoichiometric_air_fuel_ratio

    @property
    def lower_heating_value(self) -> Quantity | None:
        """A specific energy, or None."""
        value = self.liquid.lower_heating_value
        return None if value is None else Quantity(value, "specific_energy")

    @property
    def outer_limit(self) -> tuple[Quantity, ...]:
        """Coldest and hottest temperature at which properties are given at all."""
        return tuple(Quantity(kelvin, "temperature") for kelvin in self.liquid.outer_limit)

    def _kelvin(self, temperature: str | Quantity) -> float:
        """[K] of a temperature as said. The freezing point in whole degrees, as tables print it, is the freezing point where it is
        one to a tenth; where it is not, the refusal shows the tenths, for "-16 C is below -16 C" helps nobody."""
        kelvin: float = units.parse(temperature, "temperature", name="temperature")
        freezing = self.liquid.outer_limit[0]
        if not self.liquid.freezes or not isinstance(kelvin, float) or not freezing - 1.0 < kelvin < freezing:
            return kelvin
        if freezing - kelvin < FREEZING_SHOWN:
            return freezing
        raise FluidError(self.name, f"{self.name}: temperature: {kelvin - ICE_POINT:.1f} degC is below {freezing - ICE_POINT:.1f} degC, where ice "
                         "begins to form", "warm it, or take a coolant with more glycol")

    def at(self, temperature: str, pressure: str = "1.01325 bara") -> State:
        """Properties at a temperature and absolute pressure, each text with a unit or a quantity.

        Outside the data but inside the outer limit the value is given; ask `range_findings` whether it is.
        Beyond the outer limit an error names the limit.
        """
        return State(self.liquid.at(self._kelvin(temperature),
                                    units.parse(pressure, "pressure_absolute", name="pressure")))

    def heat_at(self, temperature: str, pressure: str = "1.01325 bara") -> HeatState:
        """What an energy balance asks for at a temperature and absolute pressure; limits as of `at`."""
        return HeatState(self.liquid.heat_at(self._kelvin(temperature),
                                             units.parse(pressure, "pressure_absolute", name="pressure")))

    def boiling_point(self, pressure: str = "1 atm") -> Quantity | None:
        """Where it boils under a pressure, absolute ("29.7 psia") or over the standard atmosphere ("15 psig", a 15 psi cap at sea level).

        None for liquids without any boiling data, as oils. A pressure within 1 % of one atmosphere counts as one where the
        data end there. Raises `FluidError` beyond the data and `UnitError` for a pressure that says neither gauge nor absolute.

        >>> from flarenut.fluids import fluid
        >>> print(fluid("DOT 4").boiling_point("14.7 psia"), fluid("water").boiling_point("15 psig"))
        446 F 250 F
        """
        found = boiling_point(self.liquid, absolute_pressure(pressure))
        return None if found is None else Quantity(found, "temperature")

    @property
    def freezing_point(self) -> Quantity | None:
        """Where ice begins to form in a coolant; None for liquids without one on file."""
        return Quantity(self.liquid.outer_limit[0], "temperature") if self.liquid.freezes else None

    def range_findings(self, temperature: str) -> list[_core.fluids.RangeFinding]:
        """Which properties are carried beyond their data at this temperature, each with `.message`; may be empty."""
        return self.liquid.range_findings(self._kelvin(temperature))

    def band(self, property: str, temperature: Quantity) -> float:
        """Relative uncertainty (0.05 is ±5 %) of a property, named as in `describe`, at a temperature."""
        names = core.property_names
        word = property.replace("_", " ")
        if word not in names:
            raise ValueError(f"unknown property '{property}': the properties are " + ", ".join(names))
        return self.liquid.band(names.index(word), self._kelvin(temperature))

    def describe(self) -> Description:
        """Table of property, data range, outer limit, band in the middle of the data, source and how it was got."""
        return Description(self.name, self.notes, tuple(
            {"property": d.property, "data": d.data, "outer_limit": self.liquid.outer_limit, "band": d.band,
             "source": d.source, "how": d.how} for d in self.liquid.describe()))

    def __repr__(self) -> str:
        return f"Fluid({self.name!r})"

    def _repr_html_(self) -> str:
        return self.describe()._repr_html_()


def band_of(liquid: object, property: str, kelvin: float) -> float | None:
    """Relative uncertainty of a property of the engine's liquid at a temperature [K]; None for what is none of its liquids."""
    return Fluid(liquid).band(property, Quantity(kelvin, "temperature")) if isinstance(liquid, core.Liquid) else None


def remembered(function: Callable[Given, Fluid]) -> Callable[Given, Fluid]:
    """Makes a function that returns a `Fluid` leave in it how it was made, so that it can be sent to another process."""
    @functools.wraps(function)
    def make(*arguments: Given.args, **keys: Given.kwargs) -> Fluid:
        made = function(*arguments, **keys)
        if made.made is None:
            made.made = make, arguments, keys
        return made

    return make


def _made_again(function: Callable[..., Fluid], arguments: tuple[object, ...], keys: dict[str, object]) -> Fluid:
    return function(*arguments, **keys)
