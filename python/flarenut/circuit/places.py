"""Junctions and runs as a circuit keeps them, and the reading of where they are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from .. import units
from ..units.errors import UnitError, quoted
from ..units.text import look_up, split_number
from .errors import CircuitError

if TYPE_CHECKING:
    from ..catalog.ends import End
    from .piece import Piece

OPEN_AIR = ("ambient", "manifold")  # places that are open air until somebody says otherwise


@dataclass
class Junction:
    """A place where parts meet. kind: "free", "tank" or "fixed"; numbers in SI."""

    name: str
    kind: str = "free"
    position: tuple[float, float, float] | None = None  # metres: forward, left, up
    bore: float | None = None  # of the gauge tapping [m]
    demand: float = 0.0  # mass flow taken out [kg/s]
    pressure: float = 0.0  # fixed: gauge [Pa]
    level: float = 0.0  # tank: liquid above the pick-up [m]
    vent: float = 0.0  # tank: above the liquid, gauge [Pa]
    pickup: tuple[float, float] = (0.0, 0.0)  # tank: forward and left of the middle of the liquid [m]
    temperature: float | None = None  # of what comes in here from outside [K]; None: as warm as the circuit's liquid
    found: bool = False  # tank: its temperature follows from what returns to it
    heat: float = 0.0  # put in here [W]
    heat_loss: float = 0.0  # to the air around [W/K]
    heat_share: float = 0.0  # of the engine's power that is put in here
    friction: None = None  # heat that is put in here at an engine speed: [W], [1/s]
    heat_capacity: float = 0.0  # of liquid and metal [J/K]
    drains_to: str | None = None  # tank that what flows out here falls back into
    implied: bool = False  # made because a run names it, not by the builder

    @property
    def passes_heat(self) -> bool:
        """Whether anything is said here that asks for temperatures to be found."""
        return self.found or self.temperature is not None or self.drains_to is not None or any(
            (self.heat, self.heat_loss, self.heat_share, self.friction, self.heat_capacity))


@dataclass
class Run:
    """Parts in series from one junction to another."""

    name: str
    start: str
    end: str
    pieces: list[Piece] = field(default_factory=list)
    meets: tuple[End | None, ...] = (None, None)  # ports that its two ends are screwed into: `catalog.End`, or None where nothing is said
    faces: tuple[tuple[float, float, float] | None, ...] = (None, None)  # which way these ports face: unit vectors (forward, left, up), or None
    service: str = ""  # what it serves, of `spoken.SERVICES`, where that is said of it


def manifold_pressure(value: object, key: str) -> float:
    """Gauge pressure [Pa] of an intake manifold. A bare "18 inHg" is asked about: gauges count both vacuum and boost in it.

    >>> round(manifold_pressure("18 inHg vacuum", "manifold")), round(manifold_pressure("10 psi", "manifold"))
    (-60955, 68948)
    """
    pressure: float = units.parse(value, "pressure_gauge", name=key)
    if isinstance(value, str) and pressure > 0.0:
        said = " ".join(value.split())
        if _of_a_vacuum_gauge(value):
            raise CircuitError(f"'{key}' is {quoted(value)}: above the ambient, or below it?", f"write '{said} vacuum' or '{said} boost'",
                               key=key, value=value)
    return pressure


def _of_a_vacuum_gauge(text: str) -> bool:
    """True for a value in a column of mercury that says neither vacuum nor boost."""
    spelling = split_number(text, "manifold")[1]
    try:
        return look_up(f"{spelling} vacuum", units.KINDS["pressure_gauge"], "manifold", text).name in ("inHg vacuum", "mmHg vacuum")
    except UnitError:
        return False  # it says something already


def position_of(name: str, position: Sequence[str] | None, height: str | None) -> tuple[float, float, float] | None:
    """Position [m] from what a builder wrote: three lengths, or just a height; None when neither is said."""
    if position is not None and height is not None:
        raise CircuitError("'height' is given beside 'position'", "give one of them; height is the third of position", place=name, key="height")
    if height is not None:
        return (0.0, 0.0, units.parse(height, "length", name="height"))
    if position is None:
        return None
    if not isinstance(position, (list, tuple)) or len(position) != 3:
        raise CircuitError(f"'position' is {position!r}", 'write three lengths, forward, left and up: ["8 ft", "0 ft", "20 in"]', place=name,
                           key="position", value=position)
    return tuple(units.parse(value, "length", name="position") for value in position)


def pickup_of(name: str, value: Sequence[str] | None) -> tuple[float, float]:
    """How far forward and left of the middle of the liquid a pick-up lies [m]."""
    if value is None:
        return (0.0, 0.0)
    if not isinstance(value, (list, tuple)) or len(value) != 2:
        raise CircuitError(f"'pickup' is {value!r}", 'write two lengths, forward and left: ["-8 in", "0 in"]', place=name, key="pickup", value=value)
    return tuple(units.parse(one, "length", name="pickup") for one in value)
