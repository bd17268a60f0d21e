"""What is left unsaid of heat, and what is said to no effect: the air that takes up heat, a `fluid_temperature` where temperatures are found."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .circuit import Circuit
    from .piece import Piece


class Preset(str):
    """What stands for a condition that nobody said; one that somebody says is a plain text.

    >>> Preset("20 C") == "20 C", isinstance("20 C", Preset)
    (True, False)
    """


USUAL_AIR = Preset("20 C")


def by_unsaid_air(circuit: Circuit, conditions: Mapping[str, object], pieces: Mapping[str, Piece]) -> tuple[str, ...]:
    """Names of engine parts and places that give heat to air whose temperature nobody said; () where it is said.

    Parameters
    ----------
    circuit : `Circuit`
    conditions : of circuit and case, word -> value as written
    pieces : name -> `Piece`, as they are in the case
    """
    if not circuit.finds_temperatures or not isinstance(conditions.get("air_temperature"), Preset):
        return ()
    parts = [name + element.suffix for name, piece in pieces.items() for element in piece.elements if element.heat is not None]
    return (*parts, *(name for name, place in circuit.junctions.items() if place.heat_loss or f"{name}.heat_loss" in conditions))


def mixing_tanks(circuit: Circuit, conditions: Mapping[str, object]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """(found, given): tanks whose temperature follows from what returns, and those that would, but that the case gives a temperature."""
    found = [name for name, place in circuit.junctions.items() if place.found]
    given = tuple(name for name in found if conditions.get(f"{name}.temperature", "found") != "found")
    return tuple(name for name in found if name not in given), given


def fluid_temperature_idle(circuit: Circuit, conditions: Mapping[str, object]) -> bool:
    """Whether `fluid_temperature` moves nothing: temperatures are found, and no liquid comes in that is as warm as it says.

    Places that liquid may come in from without a temperature of their own: tanks, places of given pressure that a run meets, supplies.
    """
    ends = {end for run in circuit.runs.values() for end in (run.start, run.end)}
    return circuit.finds_temperatures and not any(
        place.temperature is None and f"{name}.temperature" not in conditions and not place.found and place.drains_to is None and
        (place.kind == "tank" or (place.kind == "fixed" and name in ends) or place.demand < 0.0 or f"{name}.supply" in conditions)
        for name, place in circuit.junctions.items())
