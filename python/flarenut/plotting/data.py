"""Numbers of a labelled answer in the unit to draw them in, and its dimensions told apart: along the axis, one line each, or fixed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy

from ..units import KINDS, UnitError, parse, preferred_unit, to

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from xarray import DataArray, Dataset

SYSTEMS = ("us", "metric")
# Last word of a swept name -> kind, for coordinates that are numbers in a unit as written.
_KINDS = {"fluid_temperature": "temperature", "power": "power", "duty": "fraction", "volts": "voltage", "speed": "turn_rate",
          "tank_level": "length", "level": "length", "length": "length", "altitude": "length"}
_WORDS = {"fluid_temperature": "fluid temperature", "duty": "injector duty", "volts": "volts", "power": "engine power"}


def checked(units: str) -> str:
    """A system of units, or ValueError."""
    if units not in SYSTEMS:
        raise ValueError(f"'units' is {units!r}: write 'us' or 'metric'")
    return units


def numbers_of(variable: DataArray, units: str, wanted: dict[str, str] | None = None) -> tuple[NDArray[numpy.float64], str]:
    """(values, unit) of an output, in the unit of the system for values of its size, or in that of `wanted` (system -> unit).

    Raises
    ------
    ValueError : the variable holds places in a list of words, or nothing at all
    """
    kind, values = variable.attrs.get("kind"), numpy.asarray(variable.values, dtype=float)
    if "words" in variable.attrs:
        raise ValueError(f"'{variable.name}' holds words, not numbers")
    if not numpy.isfinite(values).any():
        raise ValueError(f"'{variable.name}' has no answer at any point; see its reason")
    if not kind:
        return values, ""
    written, plain = variable.attrs["units"], KINDS[kind].si or "1"
    if written != plain:  # back to SI: a unit is a straight line
        zero = to(0.0, written, kind)
        values = (values - zero) / (to(1.0, written, kind) - zero)
    unit = (wanted or {}).get(units) or preferred_unit(kind, units, float(numpy.nanmax(numpy.abs(values))))
    return to(values, unit, kind), unit


def coordinate_of(dataset: Dataset, name: str, units: str) -> tuple[NDArray[numpy.float64] | None, str, str]:
    """(numbers, unit, words) of a coordinate; numbers are None where it holds texts that are no numbers."""
    variable = dataset[name]
    written = variable.attrs.get("units", "")
    word = name.rpartition(".")[2]
    words = _WORDS.get(name, spoken(name))
    if variable.dtype.kind not in "fi":
        return None, "", words
    kind = _KINDS.get(word)
    if kind is None:
        return variable.values.astype(float), "" if written == "1" else written, words
    try:
        si = numpy.array([parse(f"{value!r} {written}" if written != "1" else float(value), kind) for value in variable.values.tolist()])
    except UnitError:
        return variable.values.astype(float), "" if written == "1" else written, words
    unit = preferred_unit(kind, units, float(numpy.abs(si).max()))
    return to(si, unit, kind), unit, words


def laid_out(dataset: Dataset, output: str, over: str, lines: str | None) -> tuple[DataArray, str]:
    """The variable `output` with the dimensions (lines, over), in order, and the name of the dimension of lines ("" where there is one line).

    A dimension with one value is dropped; any other that is not named must be picked by the caller.

    Raises
    ------
    ValueError : no such output or dimension, or a dimension left over
    """
    if output not in dataset:
        raise ValueError(f"the answer has no {output!r}; it has {', '.join(map(str, dataset.data_vars))}")
    variable = dataset[output]
    if over not in variable.dims:
        raise ValueError(f"{over!r} is no dimension of {output!r}: {', '.join(map(str, variable.dims))}")
    if lines is None:
        lines = next((str(one) for one in variable.dims if one != over and variable.sizes[one] > 1), "")
    elif lines not in variable.dims:
        raise ValueError(f"{lines!r} is no dimension of {output!r}: {', '.join(map(str, variable.dims))}")
    for name in [one for one in variable.dims if one not in (over, lines)]:
        if variable.sizes[name] > 1:
            raise ValueError(f"{name!r} has {variable.sizes[name]} values and one picture shows one: pick it first, .sel({{{name!r}: ...}})")
        variable = variable.isel({name: 0})
    return variable.transpose(*([lines] if lines else []), over), lines


def spoken(name: str) -> str:
    """A swept name as people say it: "return hose size"."""
    return name.replace(".", " ").replace("_", " ")


def names_of(dataset: Dataset, lines: str, units: str) -> list[str]:
    """Words for each line: texts as they are, numbers with their unit as written."""
    if not lines:
        return [""]
    if dataset[lines].dtype.kind not in "fi":
        return [str(one) for one in dataset[lines].values]
    numbers, unit = dataset[lines].values, dataset[lines].attrs.get("units", "1")
    if unit == "1":  # as people say it: 3 %, not 0.03
        read, unit, _ = coordinate_of(dataset, lines, units)
        numbers = numbers if read is None else read
    return [f"{number:.4g} {unit}".strip() for number in numbers]


def fixed_words(dataset: Dataset, variable: DataArray, units: str) -> str:
    """What was held still, "full power": the coordinates that have one value, in words for the small print."""
    found = []
    for name in map(str, dataset.dims):
        if name not in variable.dims and dataset.sizes[name] == 1:
            text = names_of(dataset, name, units)[0]
            found.append(text if name == "case" else f"{spoken(name)} {text}")
    return ", ".join(found)
