"""The conditions of a case as people read them: every one with its unit, in the units of the table.

What the builder wrote stays as written where it is at home in those units. A word that a case does not say is read from
what the engine solved with, so that no place of the table is empty.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Protocol

from flarenut.units import UnitError, show
from flarenut.units.display import SAID, as_said
from flarenut.units.table import UNITS
from flarenut.units.text import split_number

if TYPE_CHECKING:
    from .case import CaseResult

# Word of a case, or of a part by name ("pump.volts"), and what it is given as. A word not listed here finds its kind by its unit.
KINDS_OF_WORDS = {
    "volts": "voltage", "speed": "turn_rate", "duty": "fraction", "fluid_temperature": "temperature",
    "ambient_pressure": "pressure_absolute", "altitude": "length", "manifold": "pressure_gauge", "tank_level": "length",
    "tank_vent": "pressure_gauge", "acceleration": "acceleration", "power": "power", "specific_consumption": "specific_consumption",
    "vehicle_speed": "velocity", "fan": "velocity", "air_temperature": "temperature", "engine_power": "power", "heat": "power",
    "heat_loss": "thermal_conductance", "heat_capacity": "heat_capacity", "temperature": "temperature", "air_rise": "temperature_difference",
    "level": "length", "vent": "pressure_gauge", "pressure": "pressure_gauge", "opening": "fraction",
}
_BY_UNIT = ("pressure_difference", "pressure_gauge", "length", "volume_flow", "mass_flow", "temperature", "rotation", "power")
_NEAR = {"altitude": 1.0}  # size that the unit is chosen for [SI], of what is never small
_UNITS = {"vehicle_speed": {"us": "mph", "metric": "km/h"}}  # of words for which people have a unit of their own
_TIMES_CLEAN = ("filter_loading", "loading")  # a filter's resistance over that of a clean one
# Word of a case -> the number of the plan that it sets; a pattern where it sets one of every tank or device.
_NUMBERS = {"fluid_temperature": "liquid.temperature", "ambient_pressure": "ambient.pressure", "manifold": "manifold.gauge",
            "air_temperature": "air.temperature"}
_NUMBERS_OF_TANKS = {"tank_level": "level", "tank_vent": "vent"}
AS_BUILT = "as in circuit"
ASSUMED = ", assumed"


class Driving(Protocol):
    """What a word of a case makes of its value: that times a factor, and an offset."""

    @property
    def factor(self) -> float: ...
    @property
    def offset(self) -> float: ...
    @property
    def number(self) -> str: ...


def label_of(name: str, texts: Sequence[str]) -> str:
    """The words of a condition's row. `texts` are what the cases say of it."""
    words = " ".join(filter(None, str(name).rpartition(".")[::2])).replace("_", " ")  # "sump.heat" is a key
    if name == "acceleration":
        return f"{words}: forward, left, up" if any("," in str(text) for text in texts) else f"{words}, forward"
    return f"{words} (clean: 1)" if str(name).rpartition(".")[2] in _TIMES_CLEAN else words


def kept_as_written(cases: Iterable[CaseResult], name: str, system: str) -> bool:
    """Whether a condition may stand in the units that it was written in: not where the row would have several."""
    return len({_unit_in(text_of(case, name, system)) for case in cases} - {""}) < 2


def _unit_in(text: str) -> str:
    """The unit of a text that is one value; a vacuum and a boost stand beside each other, each as its dial has it.

    >>> _unit_in("9e1 km/h"), _unit_in("3/8 in"), _unit_in("10 psi boost"), _unit_in("5 psi at 90 gph"), _unit_in("as in circuit")
    ('km/h', 'in', 'psi', '', '')
    """
    try:
        unit = split_number(text.removesuffix(ASSUMED), "")[1]
    except UnitError:  # words, or several numbers
        return ""
    for word in SAID:
        unit = unit.removesuffix(word)
    unit = unit[:-1] if unit[-1:] in ("a", "g") and unit[:-1] in UNITS["pressure"] else unit
    return unit if unit != "inHg" and any(unit in units for units in UNITS.values()) else ""


def text_of(case: CaseResult, name: str, system: str, *, keep: bool = True) -> str:
    """What a case says of a condition, or what holds there, with its unit. `keep`: see `said`."""
    if name == "fluid_temperature" and holds_nothing(case):
        return "found"
    written = case.conditions.get(name, "")
    if isinstance(written, (list, tuple)):
        written = ", ".join(map(str, written))
    written = str(written).strip()
    if written:
        return said(name, written, system, keep)
    return _solved_with(case, name, system) + ASSUMED * (name == "air_temperature" and air_assumed(case))


def holds_nothing(case: CaseResult) -> bool:
    """Whether the `fluid_temperature` of a case moves nothing, as temperatures are found."""
    return case.finds_temperatures and getattr(case.layout.notes.get(case.name), "fluid_temperature_idle", False)


def air_assumed(case: CaseResult) -> bool:
    """Whether anything of a case goes by air whose temperature nobody said."""
    return case.finds_temperatures and bool(getattr(case.layout.notes.get(case.name), "by_unsaid_air", ()))


@lru_cache(maxsize=4096)  # a preset of many parts is shown in many places, and words that are no value cost a search for near ones
def said(name: str, text: str, system: str, keep: bool = True) -> str:
    """One condition as it was written, in the units of a system; words that are no value stay as they are.

    `keep`: what is at home in the system stays in the unit that it was written in; else all is in the one that the word is shown in.

    >>> said("volts", "13.5", "us"), said("pump.duty", "0.85", "us"), said("tank_level", "2 in", "metric")
    ('13.5 V', '85 %', '51 mm')
    >>> said("regulator.set", "45 psi", "metric"), said("filter.drop", "5 psi at 90 gph", "metric"), said("return hose.size", "-8", "us")
    ('3.1 bar', '0.34 bar at 341 L/h', '-8')
    >>> said("vehicle_speed", "25 m/s", "metric"), said("vehicle_speed", "25 m/s", "metric", keep=False)
    ('25 m/s', '90 km/h')
    >>> said("vehicle_speed", "25 m/s", "us"), said("vehicle_speed", "60 mph", "metric"), said("oil cooler.fan", "3 m/s", "us")
    ('56 mph', '97 km/h', '9.8 ft/s')
    """
    joint = next((one for one in (" at ", ", ") if one in text), None)
    if joint:
        return joint.join(said(name, piece.strip(), system, keep) for piece in text.split(joint))
    word = str(name).rpartition(".")[2]
    if word in _TIMES_CLEAN:
        return f"{text} ×"
    for kind in (KINDS_OF_WORDS[word],) if word in KINDS_OF_WORDS else _BY_UNIT:
        try:
            return as_said(text, kind, system, near=_NEAR.get(word, 0.0), unit=_UNITS.get(word, {}).get(system), keep=keep)
        except UnitError:
            continue
    return text


def _solved_with(case: CaseResult, name: str, system: str) -> str:
    """The value that a case left as the circuit has it, where there is one, and only one, of it."""
    word = str(name).rpartition(".")[2]
    if name == "acceleration" and not any(case.number(f"acceleration.{axis}", 0.0) for axis in "xyz"):
        return "0 g"
    found = {float(f"{value:.9g}") for value in _values_of(case, str(name), word) if value is not None}  # one NaN: a temperature to be found
    if len(found) != 1:
        return AS_BUILT
    if name in _TIMES_CLEAN:
        return f"{found.pop():g} ×"
    value = found.pop()
    if value != value and word == "temperature":
        return "found"
    number, unit = show(value, KINDS_OF_WORDS[word], system, unit=_UNITS.get(word, {}).get(system)).split(" ", 1)
    return f"{number.rstrip('0').rstrip('.') if '.' in number else number} {unit}"


def _values_of(case: CaseResult, name: str, word: str) -> list[float | None]:
    """What the numbers of the plan that a word sets would be set by [SI]; None where that cannot be told."""
    driven: Mapping[str, Mapping[str, Driving]] = getattr(case.layout.notes.get(case.name), "driven", {})
    if word == name:
        of_parts = [words[word] for words in driven.values() if word in words]
    else:
        part = name.removesuffix(f".{word}")
        of_parts = [driven[part][word]] if word in driven.get(part, {}) else []
    if of_parts:
        return [_undone(case.number(one.number), one) for one in of_parts]
    if word != name:
        return [case.number(name)] if word in KINDS_OF_WORDS else []
    if name in _NUMBERS:
        return [case.number(_NUMBERS[name])]
    return [case.number(f"{place}.{_NUMBERS_OF_TANKS[name]}") for place in case.junction_names] if name in _NUMBERS_OF_TANKS else []


def _undone(number: float | None, driven: Driving) -> float | None:
    """The value that drives a number: engine speed behind a pulley, battery volts behind a wire. A pump without volts tells none."""
    if number is None or driven.factor == 0.0 or (number == 0.0 and driven.offset < 0.0):
        return None
    return (number - driven.offset) / driven.factor
