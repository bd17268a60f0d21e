"""The words of operating cases, what each sets, and which of them is to blame for a number that the engine refuses."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING
from collections.abc import Mapping

from ..units import parse
from ..units.errors import nearest
from .errors import CircuitError, located
from .ranges import in_words, key_of

if TYPE_CHECKING:
    from .circuit import Circuit

# Condition -> what it is given as, and the parts it sets: those whose elements say that they follow it.
DRIVES = {"volts": ("voltage", "electric pump"), "speed": ("turn_rate", "pump driven by speed"), "duty": ("fraction", "injectors"),
          "filter_loading": ("dimensionless", "filter"), "vehicle_speed": ("velocity", "cooler or line in the wind of the drive"),
          "fan": ("velocity", "cooler with a fan")}
SURROUNDINGS = {"fluid_temperature": ("liquid.temperature", "temperature"), "ambient_pressure": ("ambient.pressure", "pressure_absolute"),
                "air_temperature": ("air.temperature", "temperature")}
OWN_WORD = {"filter_loading": "loading"}  # word of a part that says the same, where it has another name
TANKS = {"tank_level": ("level", "length"), "tank_vent": ("vent", "pressure_gauge")}
OTHERS = ("altitude", "manifold", "acceleration", "power", "specific_consumption", "engine_power")
WORDS = (*DRIVES, *SURROUNDINGS, *TANKS, *OTHERS)

_MEANT = {  # what people write -> the word that says it, where the spelling alone would lead elsewhere or nowhere
    **dict.fromkeys(("car_speed", "road_speed", "ground_speed", "speed_of_vehicle", "speed_of_car", "driving_speed", "wind", "wind_speed", "air_speed"),
                    "vehicle_speed"),
    **dict.fromkeys(("rpm", "engine_speed", "engine_rpm", "revs", "pump_speed"), "speed"), "fan_speed": "fan", "voltage": "volts", "boost": "manifold",
    **dict.fromkeys(("ambient_temperature", "outside_temperature", "weather"), "air_temperature"), "power_of_engine": "engine_power",
    **dict.fromkeys(("temperature", "oil_temperature", "fuel_temperature", "coolant_temperature", "liquid_temperature"), "fluid_temperature"),
}


def word_meant(word: str) -> str | None:
    """The condition that somebody means by a word that is none; None where nothing is close.

    >>> word_meant("car speed"), word_meant("altitud"), word_meant("colour")
    ('vehicle_speed', 'altitude', None)
    """
    return _MEANT.get(str(word).lower().replace(" ", "_").replace("-", "_")) or nearest(str(word), WORDS)


def cure_for(word: str) -> str:
    """What to do about a condition that a circuit has nothing to set by."""
    if word == "engine_power":
        return 'say who takes up a share of it: heat_share = "5 %" of the sump, of engine oil 3 to 8 %, or of the place behind the block, of coolant 50 to ' \
               "100 % (common practice, no source); or leave engine_power out, and say 'heat' there"
    return "leave it out"


def takes(circuit: Circuit, word: str) -> bool:
    """Whether a circuit has anything that a word of a case, said of no part by name, could set."""
    if word in DRIVES:
        pieces = [piece for run in circuit.runs.values() for piece in run.pieces] + [piece for piece, _ in circuit.multiport.values()]
        rubs = word == "speed" and any(junction.friction for junction in circuit.junctions.values())
        return rubs or any(word in element.drives for piece in pieces for element in piece.elements)
    kinds = {name: junction.kind for name, junction in circuit.junctions.items()}
    if word in TANKS:
        return "tank" in kinds.values()
    if word == "manifold":
        return kinds.get("manifold") == "fixed"
    if word == "engine_power":
        return any(junction.heat_share for junction in circuit.junctions.values())
    if word in ("power", "specific_consumption"):
        return any(piece.word == "injectors" for piece, _ in circuit.multiport.values())
    return True


def refused_condition(circuit: Circuit, conditions: Mapping[str, object],
                      refusal: ValueError) -> CircuitError:
    """A refusal as a `CircuitError` about the condition that set the number, as its builder wrote it, where one did; else as `located` has it.

    Parameters
    ----------
    circuit : compiled
    conditions : word -> value as written
    refusal : what the engine, or a layer above it, raised
    """
    word = _of_that_temperature(conditions, refusal) or _word_of(circuit, conditions, getattr(refusal, "place", ""), getattr(refusal, "field", ""))
    if word is not None:
        return in_words(refusal, word, conditions[word])
    error, owner = located(refusal, ""), getattr(refusal, "place", "")
    return CircuitError(f"{owner}: {error.reason}", error.cure, key=error.key) if owner in circuit.compiled().elements else error


_DEGREES = re.compile(r"(?:temperature )?(-?[\d.]+) degC")


def _of_that_temperature(conditions: Mapping[str, object], refusal: ValueError) -> str | None:
    """The condition that says, of one place, the very temperature that a liquid's data refuse; None where none does."""
    found = _DEGREES.match(getattr(refusal, "trouble", ""))
    told = found[1] if found else ""
    for word, value in conditions.items() if told else ():
        if word.endswith(".temperature") and abs(parse(value, "temperature", name=word) - 273.15 - float(told)) < 0.1:
            return word
    return None


def _word_of(circuit: Circuit, conditions: Mapping[str, object], owner: str, field: str) -> str | None:
    """The condition that sets a field of a part or place; None where none does. What is said by name comes first."""
    compiled = circuit.compiled()
    if not field:
        return None
    if owner in compiled.elements:
        name, number = compiled.elements[owner]
        own = {word.rpartition(".")[2]: value for word, value in conditions.items() if word.rpartition(".")[0] == name}
        drives = compiled.pieces[name].elements[number].drives
        general = [word for word, (driven, *_) in drives.items() if driven == field]
    else:
        name, own = owner, {word.rpartition(".")[2]: value for word, value in conditions.items() if word.rpartition(".")[0] == owner}
        general = [word for word, (number, _) in TANKS.items() if number == field and getattr(circuit.junctions.get(owner), "kind", "") == "tank"]
        general += ("fluid_temperature",) if field == "temperature" else _OF_SURROUNDINGS.get(owner, ())
    by_name = key_of(field, own)
    return next((word for word in (f"{name}.{by_name}", *general) if word in conditions), None)


_OF_SURROUNDINGS = {"ambient": ("ambient_pressure", "altitude"), "acceleration": ("acceleration",),
                    "manifold": ("manifold",)}
