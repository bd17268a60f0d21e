"""What the wall of a hose or tube is, where heat passes it."""

from ..units import parse
from ..units.errors import quoted
from .amounts import not_below_zero
from .errors import CircuitError
from .piece import HeatLaw

# Thickness [m], conductivity [W/(m K)] and emissivity of the usual walls (handbook values from memory): rubber with braid, steel.
_WALLS = {"hose": {"wall_thickness": 3e-3, "wall_conductivity": 0.2, "emissivity": 0.9},
          "tube": {"wall_thickness": 0.9e-3, "wall_conductivity": 50.0, "emissivity": 0.5}}


def wall_of(kind: str, air: str | None, air_rise: str | None, sleeve: str | None, thickness: float | None = None) -> HeatLaw | None:
    """The `HeatLaw` of a line's wall; None where nothing is said of the air around it.

    Parameters
    ----------
    kind : "hose" or "tube"
    air : speed across it, or "still"; None: no heat passes
    air_rise : above the air of the case
    sleeve : thickness over the wall
    thickness : of the wall [m], where it is known
    """
    if air is None:
        for key, value in (("air_rise", air_rise), ("sleeve", sleeve)):
            if value is not None:
                raise CircuitError(f"{key!r} is {quoted(value)}, and nothing is said of the air around", 'write air="still", or its speed, "5 m/s"',
                                   key=key, value=value)
        return None
    numbers = dict(_WALLS[kind])
    if thickness is not None and thickness >= 0.0:
        numbers["wall_thickness"] = thickness
    numbers["air_speed"] = 0.0 if air == "still" else not_below_zero(air, "velocity", "air")
    if air_rise is not None:
        numbers["air_rise"] = parse(air_rise, "temperature_difference", name="air_rise")
    if sleeve is not None:
        numbers["sleeve_thickness"] = not_below_zero(sleeve, "length", "sleeve")
    return HeatLaw("line wall", numbers)
