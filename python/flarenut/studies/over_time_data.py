"""A drive for programs: an xarray Dataset over time, as a sweep's."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy

from .. import __version__
from ..circuit import CircuitError
from ..results.warmth import coolers_of
from ..units import KINDS
from .blueprint import described
from .dataset import SYSTEMS, in_units, xarray
from .outputs import bound_beside, words_for
from .ends import DEGREES, bounds_in_numbers
from .over_time_drive import PLACE

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from xarray import Dataset
    from .over_time_answer import OverTime
    from .over_time_series import Series
    from .over_time_vehicle import VehicleOverTime

_OF_PUMPS = ("flow", "rise", "power", "suction_margin")


def default_names(over: OverTime) -> list[str]:
    """Readings that matter in time."""
    case, layout = over.moments[0], over.layout
    places = [name for name in layout.named if name != "ambient"]
    gauges = [name for name in places if not case.is_held(case.junction_names.index(name))]
    return [*(f"{name}.temperature" for name in places), *(f"{name}.gauge" for name in gauges),
            *(f"{layout.title(part)}.{word}" for part in case.pumps for word in _OF_PUMPS),
            *(f"{layout.title(part)}.heat" for part in coolers_of(over.moments)), *(f"{name}.regime" for name in over.thermostats)]


def dataset_of(over: OverTime, names: str | Sequence[str] | None, units: str) -> Dataset:
    """See `OverTime.to_dataset`."""
    library = xarray()
    if units not in SYSTEMS:
        raise CircuitError(f"'units' is {units!r}", "write 'si', 'us' or 'metric'", place=PLACE, key="units", value=units)
    if not over.moments:
        raise CircuitError("nothing was reached", over.why_not, place=PLACE)
    data = _variables(over, [names] if isinstance(names, str) else names or default_names(over))
    coordinates = {"time": ("time", over.times, {"long_name": "time from the beginning", "units": "s"}),
                   "case": ("time", numpy.array(over.cases, dtype=str), {"long_name": "operating case"})}
    told = {
        "title": f"{over.circuit} over time",
        "flarenut": __version__,
        "circuit": json.dumps(described(over.plumbing), ensure_ascii=False),
        "drive": json.dumps([[leg.ends - leg.begins, leg.case] for leg in over.legs], ensure_ascii=False),
        "start": over.start.si,
        "complete": int(over.complete),
        "why_not": over.why_not_in(None),
        "unit_system": "si",
        "shown_in": over.units,
    }
    return in_units(library.Dataset(data, coordinates, told), units)


def dataset_of_vehicle(over: VehicleOverTime, names: str | Sequence[str] | None, units: str) -> Dataset:
    """See `VehicleOverTime.to_dataset`."""
    library, first = xarray(), next(iter(over.values()))
    if not first.moments:
        raise CircuitError("nothing was reached", over.why_not, place=PLACE)
    if names is None:
        names = [f"{circuit}.{name}" for circuit, one in over.items() for name in default_names(one)] + [
            f"{name}.heat" for name in over.exchangers
        ]
    data = _variables(over, [names] if isinstance(names, str) else names)
    coordinates = {"time": ("time", over.times, {"long_name": "time from the beginning", "units": "s"}),
                   "case": ("time", numpy.array(over.cases, dtype=str), {"long_name": "operating case"})}
    whole = {"vehicle": over.vehicle, "circuits": {name: described(one.plumbing) for name, one in over.items()}}
    told = {"title": f"{over.vehicle} over time", "flarenut": __version__, "circuit": json.dumps(whole, ensure_ascii=False),
            "drive": json.dumps([[leg.ends - leg.begins, leg.case] for leg in over.legs], ensure_ascii=False), "start": over.start.si,
            "complete": int(over.complete), "why_not": over.why_not_in(None), "unit_system": "si", "shown_in": over.units}
    return in_units(library.Dataset(data, coordinates, told), units)


def _variables(over: OverTime | VehicleOverTime, names: Sequence[str]) -> dict[str, tuple[Any, ...]]:
    """Name -> variable, and beside degrees to boiling which of them are only a bound."""
    data: dict[str, tuple[Any, ...]] = {}
    for name in names:
        series = over.series(name)
        data[name] = ("time", *_variable(series))
        if name.endswith(DEGREES):
            data[bound_beside(name)] = (
                "time",
                bounds_in_numbers(series.bounds, series.si),
                {"long_name": words_for(bound_beside(name), ""), "units": "1"},
            )
    return data


def _variable(series: Series) -> tuple[NDArray[Any], dict[str, str]]:
    if any(isinstance(one, str) for one in series.values):
        words = list(dict.fromkeys(map(str, series.values)))
        return (numpy.array([words.index(str(one)) for one in series.values], dtype=numpy.int16),
                {"long_name": series.name.replace(".", " "), "words": json.dumps(words, ensure_ascii=False)})
    kind = {"kind": series.kind} if series.kind else {}
    return series.si, {
        "long_name": words_for(series.name, series.kind, series.total),
        "units": (KINDS[series.kind].si if series.kind else "") or "1",
        **kind,
    }
