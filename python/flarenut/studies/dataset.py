"""The answer of a sweep as an xarray Dataset: names, dimensions, units and words."""

from __future__ import annotations

import json
from math import nan
from typing import TYPE_CHECKING, Any
from types import ModuleType
from collections.abc import Mapping, Sequence

import numpy

from ..circuit import CircuitError
from ..units import KINDS, UnitError, preferred_unit, shared_units
from ..units import to as in_unit
from ..units.display import VACUUM_DIALS
from ..units.table import UNITS
from ..units.text import split_number
from .axes import CASE, SAMPLE
from .batches import STATUS
from .ends import REGIME

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from xarray import DataArray, Dataset
    from .axes import Axis, Dimension
    from .ledger import Ledger

SI, SYSTEMS = "si", ("si", "us", "metric")
_OF_A_DIAL = ".suction_vacuum"  # as tables of single solves have it
_SPOKEN = {"set": "setting", "spec": "family"}  # words of parts that alone say little
_PLAIN_UNITS = {"volts": "V"}  # a condition that takes numbers without a unit


def xarray() -> ModuleType:
    """The library, or an error that says how to get it."""
    try:
        import xarray as library
    except ImportError:
        raise ImportError("a sweep answers with an xarray Dataset, and xarray is not installed: pip install 'flarenut[sweep]'") from None
    return library


def dataset_of(ledger: Ledger, dimensions: Sequence[Dimension], structural: Sequence[Dimension], numeric: Sequence[Dimension],
               cases: Sequence[str], labels: dict[str, str], attributes: dict[str, str]) -> Dataset:
    """The Dataset of a `Ledger`.

    dimensions : all, in the order wanted
    structural, numeric : those over which variants and points are numbered
    cases : names
    labels : output -> words for people
    """
    library = xarray()
    order = [*structural, CASE, *numeric]
    sizes = [*(len(dimension) for dimension in structural), len(cases), *(len(dimension) for dimension in numeric)]
    wanted: list[str | Dimension] = [*dimensions, CASE]
    names = [_dimension_name(dimension) for dimension in wanted]

    def variable(values: NDArray[Any], attrs: dict[str, str]) -> tuple[list[str], NDArray[Any], dict[str, str]]:
        axes = [next(place for place, one in enumerate(order) if one is dimension) for dimension in wanted]
        return names, values.reshape(sizes).transpose(axes), attrs

    data = {name: variable(values, _attributes(ledger.kinds[name], labels[name])) for name, values in ledger.values.items()}
    data |= {name: variable(values, attrs) for name, (values, attrs) in ledger.extra.items()}
    data["status"] = variable(ledger.status, {"long_name": "what became of the point", "words": _json(STATUS)})
    data["iterations"] = variable(ledger.iterations, {"long_name": "iterations of the solve", "units": "1"})
    data["residual"] = variable(ledger.residual, {"long_name": "worst scaled residual of any part", "units": "1"})
    data["reason"] = variable(ledger.reason, {"long_name": "why there is no answer; -1 where there is one", "words": _json(ledger.reasons)})
    coordinates = {CASE: (CASE, _texts(cases), {"long_name": "operating case"})}
    for dimension in dimensions:
        coordinates |= _coordinates(dimension)
    found: Dataset = library.Dataset(data, coordinates, {**attributes, "unit_system": SI})
    return found


def _dimension_name(dimension: str | Dimension) -> str:
    return dimension if isinstance(dimension, str) else dimension.name


def _json(value: Sequence[str]) -> str:
    return json.dumps(value, ensure_ascii=False)


def _texts(values: Sequence[str | Sequence[str]] | list[float | str | list[str]]) -> NDArray[numpy.str_]:
    return numpy.array([str(value) for value in values], dtype=str)


def _attributes(kind: str, label: str) -> dict[str, str]:
    from .. import _core

    if kind == REGIME:
        return {"long_name": label, "words": _json(list(_core.regime_names()))}
    return {"long_name": _in_pascals(label, kind), "units": KINDS[kind].si or "1", "kind": kind} if kind else {"long_name": label, "units": "1"}


_GAUGE = " (gauge)"


def _in_pascals(label: str, kind: str) -> str:
    """The words of an output in SI: of a gauge pressure they say so, since pascals do not, and "psig" does."""
    return label + _GAUGE if kind == "pressure_gauge" and "gauge" not in label else label


def _coordinates(dimension: Dimension) -> dict[str, tuple[str, NDArray[Any], dict[str, str]]]:
    found = {axis.name: (dimension.name, *_coordinate(axis)) for axis in dimension.axes}
    if dimension.name == SAMPLE:
        found[SAMPLE] = SAMPLE, numpy.arange(len(dimension)), {"long_name": "number of the random sample"}
    return found


def _coordinate(axis: Axis) -> tuple[NDArray[Any], dict[str, str]]:
    """Values as written, and attributes: numbers where all are numbers in one unit, else texts."""
    attrs = {"long_name": _spoken(axis.name)}
    if axis.numbers is not None and axis.span is not None:
        return axis.numbers, {**attrs, "units": axis.span.unit or _PLAIN_UNITS.get(axis.key, "1")}
    if all(isinstance(label, (int, float)) and not isinstance(label, bool) for label in axis.labels):
        return numpy.array(axis.labels), {**attrs, "units": _PLAIN_UNITS.get(axis.key, "1")}
    split = [found for label in axis.labels if (found := _number(label)) is not None]
    if len(split) == len(axis.labels) and len({unit for _, unit in split}) == 1:
        return numpy.array([number for number, _ in split]), {**attrs, "units": split[0][1]}
    return _texts(axis.labels), attrs


def _spoken(name: str) -> str:
    """A name as a person says it: "regulator setting", "fluid temperature"."""
    owner, _, word = name.rpartition(".")
    return f"{owner} {_SPOKEN.get(word, word)}".replace("_", " ").strip() if owner else name.replace("_", " ")


def _number(label: str | Sequence[str] | float | list[str]) -> tuple[float, str] | None:
    """(number, unit) of a text that is one number with a unit; None for any other, such as a dash size."""
    if not isinstance(label, str):
        return None
    try:
        number, unit = split_number(label, "value")
    except UnitError:
        return None
    return (number, unit) if unit and any(unit in known for known in UNITS.values()) else None


def words_of(variable: DataArray) -> DataArray:
    """The words of a variable that holds places in a list of words: status, reason, a regime. -1 becomes "".

    Parameters
    ----------
    variable : of a sweep's Dataset, ``answer["regulator.regime"]``

    Raises
    ------
    CircuitError : the variable holds numbers

    >>> import flarenut as fn
    >>> rinse = fn.Circuit("rinse line", fluid="water")
    >>> rinse.tank("drum", level="1 m")
    >>> rinse.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size", name="hose")])
    >>> words_of(fn.sweep(rinse, {"tank_level": ["1 m", "2 m"]})["status"]).values.ravel().tolist()
    ['solved', 'solved']
    """
    if "words" not in variable.attrs:
        raise CircuitError(f"'{variable.name}' holds numbers, not words", "ask for status, reason, or the regime of a part")
    words = numpy.array([*json.loads(variable.attrs["words"]), ""], dtype=object)
    found = variable.copy(data=words[variable.values.astype(int)])
    found.attrs = {key: value for key, value in variable.attrs.items() if key != "words"}
    return found


def in_units(dataset: Dataset, system: str) -> Dataset:
    """The same Dataset with its outputs in other units; coordinates stay as written.

    Parameters
    ----------
    dataset : of `sweep` or `load_sweep`
    system : "us", "metric" or "si"; each output takes the unit in which results tables show values of its size. Pressures have one unit,
        and so have flows and power; the vacuum before a pump keeps that of its dial

    Raises
    ------
    CircuitError : an unknown system

    >>> import flarenut as fn
    >>> rinse = fn.Circuit("rinse line", fluid="water")
    >>> rinse.tank("drum", level="1 m")
    >>> rinse.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size", name="hose")])
    >>> in_units(fn.sweep(rinse, {"tank_level": ["1 m", "2 m"]}, outputs="hose.flow"), "us")["hose.flow"].attrs["units"]
    'gal/min'
    """
    if system not in SYSTEMS:
        raise CircuitError(f"'units' is {system!r}", "write 'si', 'us' or 'metric'", place="sweep", key="units", value=system)
    if system == SI == dataset.attrs.get("unit_system"):
        return dataset
    plain = {str(name): (variable, _in_si(variable)) for name, variable in dataset.data_vars.items() if "kind" in variable.attrs}
    shared = {} if system == SI else shared_units([(variable.attrs["kind"], _largest(values)) for name, (variable, values) in plain.items()
                                                   if not name.endswith(_OF_A_DIAL)], system)
    changed = {name: _converted(variable, values, system, shared) for name, (variable, values) in plain.items()}
    return dataset.assign(changed).assign_attrs(unit_system=system)


def _in_si(variable: DataArray) -> NDArray[numpy.float64]:
    kind, unit = variable.attrs["kind"], variable.attrs["units"]
    values: NDArray[numpy.float64] = variable.values
    if unit == (KINDS[kind].si or "1"):
        return values
    zero = in_unit(0.0, unit, kind)  # a unit is a straight line
    return (values - zero) / (in_unit(1.0, unit, kind) - zero)


def _largest(values: NDArray[numpy.float64]) -> float:
    sizes = numpy.abs(values[numpy.isfinite(values)])
    return float(sizes.max()) if sizes.size else nan


def _converted(variable: DataArray, values: NDArray[numpy.float64], system: str, shared: Mapping[str, str]) -> DataArray:
    kind, label = variable.attrs["kind"], variable.attrs.get("long_name", str(variable.name)).removesuffix(_GAUGE)
    if system == SI:
        return variable.copy(data=values).assign_attrs(units=KINDS[kind].si or "1", long_name=_in_pascals(label, kind))
    largest = _largest(values)
    usual = shared.get(kind) or preferred_unit(kind, system, largest if largest == largest else 0.0)
    wanted = VACUUM_DIALS[system] if str(variable.name).endswith(_OF_A_DIAL) else usual
    return variable.copy(data=in_unit(values, wanted, kind)).assign_attrs(units=wanted, long_name=label)
