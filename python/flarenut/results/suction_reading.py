"""How far the liquid on its way to a pump is from boiling, and what a vacuum gauge at the pump shows."""

from __future__ import annotations

from math import isnan, nan
from typing import TYPE_CHECKING

from flarenut.units import Quantity

from .boiling import degrees_to_boiling
from .readings import Read

if TYPE_CHECKING:
    from .engine import EngineLiquid, EngineSuction


class SuctionReading(Read):
    """The way from the pick-up to a pump. `at` names the part where the margin is least."""

    __slots__ = ("at", "_ambient", "_head", "_inlet", "_kelvin", "_liquid", "_margin")

    def __init__(self, suction: EngineSuction, at: str, ambient: float, liquid: EngineLiquid | None = None, kelvin: float = nan,
                 units: str | None = None) -> None:
        self.units = units
        self.at, self._liquid, self._kelvin = at, liquid, kelvin
        self._margin, self._inlet = float(suction.margin), float(suction.inlet_gauge)
        self._head, self._ambient = float(suction.npsh_available), float(ambient)

    @property
    def margin(self) -> Quantity:
        """Least static pressure above vapour pressure on the way."""
        return self._made(self._margin, "pressure_difference")

    @property
    def degrees_to_boiling(self) -> Quantity:
        """How many degrees warmer the liquid may be, where the margin is least, before it is used up; below zero it boils.

        NaN of liquids without boiling data, as oils. Where the data end before it boils, the degrees up to there: at least so many.
        """
        return self._made(degrees_to_boiling(self._liquid, self._margin, self._kelvin)[0], "temperature_difference")

    @property
    def degrees_bound(self) -> str:
        """Whether the boiling data end first: "over" where `degrees_to_boiling` is a least one, "under" where a most, else ""."""
        return degrees_to_boiling(self._liquid, self._margin, self._kelvin)[1]

    @property
    def inlet(self) -> Quantity:
        """Static gauge pressure at the pump's inlet."""
        return self._made(self._inlet, "pressure_gauge", ambient=self._ambient)

    @property
    def vacuum(self) -> Quantity:
        """Inlet pressure below the ambient; negative when above it."""
        return self._made(-self._inlet, "pressure_difference")

    @property
    def npsh_available(self) -> Quantity:
        """Net positive suction head available, total head over vapour pressure."""
        return self._made(self._head, "length")

    def __str__(self) -> str:
        return "not solved" if isnan(self._margin) else f"margin {self.margin} at {self.at}, inlet {self.inlet}"

    def __repr__(self) -> str:
        return f"<suction: {self}>"
