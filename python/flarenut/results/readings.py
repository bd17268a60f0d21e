"""What a gauge, a flow meter and a tape measure would find: at a place, at an end of a part, across a part.

A gauge at a tapping shows the static pressure there: total less the dynamic head of that bore (kinetic-energy
factor 1), above the ambient. A device whose bore nobody knows, such as a pump, a regulator or a filter, has no dynamic head at
its ends: what is read there is total pressure. Values of a case that did not converge are NaN.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import isnan, nan, pi
from typing import TYPE_CHECKING

from flarenut.units import Quantity

if TYPE_CHECKING:
    from .engine import EngineEnd
    from .suction_reading import SuctionReading


def _known(value: float) -> float:
    return value if value == value else -1.0


class Read:
    """What was read in one case; `units` is the system that its numbers are shown in, None where nobody said one."""

    __slots__ = ("units",)
    units: str | None
    def _made(self, si: float, kind: str, ambient: float | None = None) -> Quantity:
        return Quantity(si, kind, ambient, self.units)


class Reading(Read):
    """Pressure at one place of one case.

    Parameters
    ----------
    where, case : names to show
    static, total : [Pa abs]
    ambient : [Pa abs]
    velocity : mean velocity in the bore of the tapping [m/s]
    bore : of the tapping [m]; 0 where so wide that static and total agree
    basis : which bore that is, in words
    kelvin : temperature of the liquid there [K]; NaN where it is not known
    units : system that it is shown in
    """

    __slots__ = ("where", "case", "basis", "_ambient", "_bore", "_kelvin", "_static", "_total", "_velocity")

    def __init__(self, where: str, case: str, static: float, total: float, ambient: float, velocity: float = 0.0, bore: float = 0.0,
                 basis: str = "", kelvin: float = nan, units: str | None = None) -> None:
        self.units = units
        self.where, self.case, self.basis, self._kelvin = where, case, basis, float(kelvin)
        self._static, self._total, self._ambient = float(static), float(total), float(ambient)
        self._velocity, self._bore = float(velocity), float(bore)

    def _pressure(self, absolute: float, kind: str) -> Quantity:
        shift = self._ambient if kind == "pressure_gauge" else 0.0
        return self._made(absolute - shift, kind, ambient=self._ambient)

    @property
    def gauge(self) -> Quantity:
        """Static pressure above the ambient, as a gauge here shows it."""
        return self._pressure(self._static, "pressure_gauge")

    @property
    def absolute(self) -> Quantity:
        """Static pressure, absolute."""
        return self._pressure(self._static, "pressure_absolute")

    static = absolute

    @property
    def total(self) -> Quantity:
        """Total pressure, absolute: what a gauge would show if the flow were brought to rest."""
        return self._pressure(self._total, "pressure_absolute")

    @property
    def velocity(self) -> Quantity:
        """Mean velocity in the bore here."""
        return self._made(self._velocity, "velocity")

    @property
    def temperature(self) -> Quantity:
        """Of the liquid here; at the end of a part, of what passes there."""
        return self._made(self._kelvin, "temperature")

    @property
    def bore(self) -> Quantity:
        """Bore that the static pressure belongs to; 0: wide."""
        return self._made(self._bore, "length")

    def against(self, other: Reading) -> Quantity:
        """What a gauge between here and another place reads: static pressure here less there.

        `other` is another `Reading` of the same case, or a pressure as `Quantity`.
        """
        if isinstance(other, Reading):
            there = other._static
        elif isinstance(other, Quantity) and other.kind == "pressure_absolute":
            there = other.si
        elif isinstance(other, Quantity) and other.kind == "pressure_gauge":
            there = other.si + self._ambient
        else:
            raise TypeError(f"'{self.where}' can be set against another reading or a pressure, not {type(other).__name__}")
        return self._made(self._static - there, "pressure_difference")

    def __str__(self) -> str:
        return "not solved" if isnan(self._static) else str(self.gauge)

    def __repr__(self) -> str:
        return f"<{self.where}, {self.case}: {self}>"


class EndReading(Reading):
    """One end of a part: a reading with the flow there. `vapour_margin` is static less vapour pressure.

    `gauge` and `absolute` are static pressure in the bore of the part itself. Where it has none, as pumps, regulators and filters, they are
    total pressure, and lie above what `at` reads at the same place, in the widest bore that meets there, by the speed head of that; `basis`
    says which. Nor is their velocity known then, nor the Reynolds number: NaN.
    """

    __slots__ = ("junction", "reynolds", "_flow", "_margin", "_density")

    def __init__(
        self, where: str, case: str, end: EngineEnd, junction: str, ambient: float, density: float, units: str | None = None
    ) -> None:
        known = end.bore > 0.0
        super().__init__(where, case, end.static, end.total, ambient, end.velocity if known else nan, end.bore,
                         "the part's own bore" if known else "no bore of its own: total pressure", end.temperature, units)
        self.junction = junction
        self.reynolds = float(end.reynolds) if known else nan
        self._flow, self._margin, self._density = float(end.flow), float(end.vapour_margin), float(density)

    @property
    def mass_flow(self) -> Quantity:
        """Mass flow into the part at this end."""
        return self._made(self._flow, "mass_flow")

    @property
    def volume_flow(self) -> Quantity:
        """Volume flow into the part at this end."""
        return self._made(self._flow / self._density, "volume_flow")

    @property
    def vapour_margin(self) -> Quantity:
        """Static pressure above vapour pressure."""
        return self._made(self._margin, "pressure_difference")


class PartReading(Read):
    """A part, or a row of parts in series, in one case. Inlet and outlet follow the direction written.

    Parameters
    ----------
    name, case : names to show
    kind, regime : of the engine's part; of the first that switches, in a row of parts
    ends : `EndReading` of every port; inlet is the first, outlet the last
    density : of the liquid in it [kg/m3]
    suction : `SuctionReading` for a pump, else None
    heat, power : into its stream, without a pump's power, and that [W]
    hole, viscosity : bore of what is a hole, else 0 [m], and that of the liquid in it [Pa s]
    """

    __slots__ = ("name", "case", "kind", "regime", "ends", "suction", "_density", "_heat", "_power", "_hole", "_viscosity")

    def __init__(self, name: str, case: str, kind: str, regime: str, ends: Sequence[EndReading], density: float,
                 suction: SuctionReading | None = None, heat: float = 0.0, power: float = 0.0, units: str | None = None,
                 hole: float = 0.0, viscosity: float = nan) -> None:
        self.units = units
        self.name, self.case, self.kind, self.regime = name, case, kind, regime
        self._hole, self._viscosity = hole, viscosity
        self._heat, self._power = float(heat), float(power)
        self.ends, self.suction, self._density = tuple(ends), suction, float(density)

    @property
    def inlet(self) -> EndReading:
        """Reading at the first port."""
        return self.ends[0]

    @property
    def outlet(self) -> EndReading:
        """Reading at the last port."""
        return self.ends[-1]

    @property
    def drop(self) -> Quantity:
        """Total pressure lost from inlet to outlet, height included; negative across a pump."""
        return self._made(self.inlet._total - self.outlet._total, "pressure_difference")

    @property
    def rise(self) -> Quantity:
        """Total pressure gained from inlet to outlet, height included: what a pump does."""
        return self._made(self.outlet._total - self.inlet._total, "pressure_difference")

    @property
    def heat(self) -> Quantity:
        """Heat that its stream gives off; below zero it is warmed."""
        return self._made(-self._heat, "power")

    @property
    def power(self) -> Quantity:
        """Power that a pump puts into the liquid."""
        return self._made(self._power, "power")

    @property
    def temperature_in(self) -> Quantity:
        """Of what passes the inlet."""
        return self.inlet.temperature

    @property
    def temperature_out(self) -> Quantity:
        """Of what passes the outlet."""
        return self.outlet.temperature

    @property
    def temperature_drop(self) -> Quantity:
        """From inlet to outlet; below zero it is warmed."""
        return self._made(self.inlet._kelvin - self.outlet._kelvin, "temperature_difference")

    @property
    def mass_flow(self) -> Quantity:
        """Mass flow in at the inlet; negative runs backwards."""
        return self.inlet.mass_flow

    @property
    def flow(self) -> Quantity:
        """Volume flow in at the inlet; negative runs backwards."""
        return self.inlet.volume_flow

    volume_flow = flow

    @property
    def velocity(self) -> Quantity:
        """In the hole of an orifice or jet, else the higher of those at its ends; NaN of a device whose bore nobody knows."""
        speed = velocity_in(self._hole, self.inlet._flow, self._density) if self._hole else max((end._velocity for end in self.ends), key=_known)
        return self._made(speed, "velocity")

    @property
    def reynolds(self) -> float:
        """The Reynolds number there."""
        if self._hole:
            return reynolds_in(self._hole, self.inlet._flow, self._viscosity)
        return max((end.reynolds for end in self.ends), key=_known)

    def __str__(self) -> str:
        if isnan(self.inlet._total):
            return "not solved"
        return f"{self.flow}, {self.inlet} to {self.outlet}, drop {self.drop}, {self.regime}"

    def __repr__(self) -> str:
        return f"<{self.name}, {self.case}: {self}>"


def reading_in_bore(where: str, case: str, total: float, flow: float, density: float, bore: float, ambient: float,
                    kelvin: float, units: str | None = None) -> Reading:
    """Reading at a place whose tapping sits in a given bore [m], from total pressure and the flow passing [kg/s]."""
    velocity = velocity_in(bore, flow, density)
    static = total - 0.5 * density * velocity * velocity
    return Reading(where, case, static, total, ambient, velocity, bore, "the bore given for this place", kelvin, units)


def velocity_in(bore: float, flow: float, density: float) -> float:
    """Mean velocity in a bore [m/s].

    >>> round(velocity_in(0.01, 0.1, 1000.0), 4)
    1.2732
    """
    return abs(flow) / (density * 0.25 * pi * bore * bore) if density == density else nan


def reynolds_in(bore: float, flow: float, viscosity: float) -> float:
    """Reynolds number of a flow [kg/s] in a bore; the viscosity is the dynamic one [Pa s].

    >>> round(reynolds_in(0.01, 0.1, 0.001))
    12732
    """
    return abs(flow) / (viscosity * 0.25 * pi * bore)
