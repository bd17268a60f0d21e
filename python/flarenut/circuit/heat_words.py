"""What is said of heat at places and of the circuit as a whole, read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from .. import units
from ..units.errors import nearest, quoted
from .amounts import above_zero, at_point
from .errors import CircuitError

if TYPE_CHECKING:
    from .cases import Case
    from .circuit import Circuit

FOUND = "found"


def temperatures_said(value: object) -> str | None:
    """ "found", "given", or None where nothing is said.

    >>> temperatures_said("found"), temperatures_said(None)
    ('found', None)
    """
    if value in (None, FOUND, "given"):
        return value
    close = nearest(str(value), (FOUND, "given"))
    raise CircuitError(
        f"'temperatures' is {quoted(value)}",
        f'write "{close or FOUND}": they are found with pressures and flows, or given by the case',
        key="temperatures",
        value=value,
    )


def heat_of_place(*, temperature: object = None, heat: object = None, heat_loss: object = None, heat_share: object = None,
                  friction_heat: object = None, heat_capacity: object = None, tank: bool = False) -> dict[str, Any]:
    """Fields of a `Junction` for what is said of heat there."""
    said: dict[str, Any] = {}
    if isinstance(temperature, str) and temperature.strip() == FOUND:
        if not tank:
            raise CircuitError(
                "'temperature' is 'found', and that is for tanks",
                "leave it off: what passes a place is found anyhow; a temperature "
                "said here is that of liquid that comes in from outside",
                key="temperature",
                value=temperature,
            )
        said["found"] = True
    elif tank and is_meant_found(temperature):
        raise meant_found(temperature)
    elif temperature is not None:
        said["temperature"] = units.parse(temperature, "temperature", name="temperature")
    if heat is not None:
        said["heat"] = bounded(units.parse(heat, "power", name="heat"), "heat", heat)
    if heat_loss is not None:
        loss = not_negative(heat_loss, "thermal_conductance", "heat_loss",
                            "it is how many watts are lost for each degree over the air: write it without the sign")
        said["heat_loss"] = bounded(loss, "heat_loss", heat_loss)
    if heat_share is not None:
        said["heat_share"] = not_negative(heat_share, "fraction", "heat_share", "it is a share of the engine's power, 0.04 or 4 %")
        if said["heat_share"] > 1.0:
            raise CircuitError(f"'heat_share' is {quoted(heat_share)}, more than all of the engine's power", "write it as 0.04 or 4 %",
                               key="heat_share", value=heat_share)
    if friction_heat is not None:
        said["friction"] = friction_of(friction_heat)
    if heat_capacity is not None:
        capacity = not_negative(heat_capacity, "heat_capacity", "heat_capacity", "it is how many joules warm it by a degree")
        said["heat_capacity"] = bounded(capacity, "heat_capacity", heat_capacity)
    return said


_MOST = {
    "heat": (1e7, "10000 kW"),
    "heat_loss": (1e6, "1000000 W/K"),
    "heat_capacity": (1e9, "1000000 kJ/K"),
    "friction_heat": (1e7, "10000 kW"),
}  # as the engine's


def bounded(number: float, key: str, value: object) -> float:
    """A number of a place [SI] that is within what the engine takes; else a refusal."""
    most, words = _MOST[key]
    if abs(number) > most:
        raise CircuitError(
            f"{key!r} is {quoted(value)}, beyond {words}, the most that is taken of a place",
            "check the number and its unit",
            key=key,
            value=value,
        )
    return number


def friction_of(value: object) -> tuple[float, float]:
    """Heat [W] and the engine speed [turns a second, as the engine has it] it was said at: "3 kW at 6000 rpm"."""
    key, example = "friction_heat", "3 kW at 6000 rpm"
    pair = at_point(value, key, example)
    if len(pair) != 2:
        raise CircuitError(f"{key!r} is {quoted(value)}, more than a power and a speed", f"write it e.g. '{example}'", key=key, value=value)
    return bounded(not_negative(pair[0], "power", key, "an engine rubs whichever way it turns"), key, value), above_zero(
        pair[1], "turn_rate", key
    )


def engine_heat(circuit: Circuit, conditions: Mapping[str, object]) -> dict[str, float]:
    """Numbers of the plan for the heat [W] that an engine puts in at places: what is said there, its share of the power, what rubs at this speed.

    Films of oil are sheared: their drag grows with the speed, and the heat of it with its square (Petroff's law for bearings; whole engines are found
    between the powers of 1.5 and 2: common practice, no source).

    Parameters
    ----------
    circuit : `Circuit`
    conditions : word -> value as written
    """
    power = units.parse(conditions["engine_power"], "power", name="engine_power") if "engine_power" in conditions else 0.0
    speed = units.parse(conditions["speed"], "turn_rate", name="speed") if "speed" in conditions else 0.0
    found = {}
    for name, place in circuit.junctions.items():
        rubbed = 0.0 if place.friction is None else place.friction[0] * (speed / place.friction[1]) ** 2
        if place.friction is not None or place.heat_share:
            found[f"{name}.heat"] = place.heat + place.heat_share * power + rubbed
    return found


def is_meant_found(value: object) -> bool:
    """Whether somebody who writes this wants a temperature to be found: a word, no number.

    >>> is_meant_found("find"), is_meant_found("solve for it"), is_meant_found("80 C")
    (True, True, False)
    """
    return isinstance(value, str) and bool(value.strip()) and not any(letter.isdigit() for letter in value)


def meant_found(value: object) -> CircuitError:
    """The error for it."""
    return CircuitError(
        f"'temperature' is {quoted(value)}",
        f"did you mean '{FOUND}'? it follows from what returns there; or write how warm it is, '180 F'",
        key="temperature",
        value=value,
    )


def not_negative(value: object, kind: str, key: str, cure: str) -> float:
    """A value in SI; below zero it is refused."""
    number: float = units.parse(value, kind, name=key)
    if number < 0.0:
        raise CircuitError(f"{key!r} is {quoted(value)}, below zero", cure, key=key, value=value)
    return number


def as_given(circuit: Circuit, case: Case) -> Case:
    """A case for a solve at given temperatures: what it says of the temperature of a tank that would be found is that of all its liquid.

    Parameters
    ----------
    circuit : `Circuit`
    case : `Case`; it stays as it is
    """
    said = {f"{name}.temperature": name for name, junction in circuit.junctions.items() if junction.found}
    of_tank = [value for word, value in case.conditions.items() if word in said and value != FOUND]
    if not of_tank or "fluid_temperature" in case.conditions:
        return case
    return replace(case, conditions={**case.conditions, "fluid_temperature": of_tank[0]})
