"""Keeping a sweep: NetCDF, or CSV as a long table. What is loaded is the Dataset that was saved."""

import csv
import io
import json
from pathlib import Path

import numpy

from ..circuit import CircuitError
from .dataset import xarray

_SLASH = "∕"  # stands for "/" in a file, where NetCDF reads "/" as a group
_BESIDE = "coordinates_beside"  # attribute of a file: coordinates that are no dimensions
_FIRST = "# flarenut sweep, header as JSON: "


def save_sweep(dataset, path):
    """Writes the Dataset of a sweep with its circuit, options and version.

    Parameters
    ----------
    dataset : of `sweep`
    path : "answer.nc" for NetCDF, "answer.csv" for a table with one row per point and case

    Raises
    ------
    CircuitError : another ending of the name
    ImportError : NetCDF without h5netcdf

    An example stands in docs/guide/sweeps.md.
    """
    path = Path(path)
    if _ending(path) == ".nc":
        _need_h5netcdf()
        beside = [name for name in dataset.coords if name not in dataset.dims]
        flat = _plain(dataset.reset_coords(beside).assign_attrs({_BESIDE: beside}))  # NetCDF lists coordinates by words without spaces
        _renamed(flat, "/", _SLASH).to_netcdf(path, engine="h5netcdf")
    else:
        _write_csv(_plain(dataset), path)


def load_sweep(path):
    """The Dataset that `save_sweep` wrote.

    Parameters
    ----------
    path : "answer.nc" or "answer.csv"

    Raises
    ------
    CircuitError : another ending of the name, or a table that `save_sweep` did not write
    FileNotFoundError : there is no such file

    An example stands in docs/guide/sweeps.md.
    """
    path = Path(path)
    if _ending(path) == ".csv":
        return _read_csv(path)
    _need_h5netcdf()
    with xarray().open_dataset(path, engine="h5netcdf") as found:
        dataset = found.load()
    for variable in dataset.variables.values():
        variable.encoding = {}
    dataset.encoding = {}
    dataset = _renamed(dataset, _SLASH, "/")
    texts = {name: dataset[name].astype(object) for name, one in dataset.variables.items() if one.dtype.kind in "UT"}
    dataset = dataset.assign(texts)
    return dataset.set_coords(json.loads(dataset.attrs.pop(_BESIDE, "[]")))


save, load = save_sweep, load_sweep


def _ending(path):
    ending = path.suffix.lower()
    if ending not in (".nc", ".csv"):
        raise CircuitError(f"'{path}' ends in neither .nc nor .csv", "name the file answer.nc or answer.csv", place="sweep", key="path", value=str(path))
    return ending


def _need_h5netcdf():
    try:
        import h5netcdf  # noqa: F401 - xarray finds it by name
        import h5py  # noqa: F401 - which newer ones of it ask for by name
    except ImportError:
        raise ImportError("NetCDF files need h5netcdf with h5py, which are not installed: pip install 'flarenut[sweep]', or save as .csv") from None


def _renamed(dataset, old, new):
    return dataset.rename({name: name.replace(old, new) for name in {*dataset.variables, *dataset.dims} if old in name})


def _plain(dataset):
    """The Dataset with attributes that a file can hold: texts and numbers; anything else as JSON text."""
    found = dataset.copy()
    for holder in (found, *found.variables.values()):
        holder.attrs = {key: value if isinstance(value, (str, int, float)) and not isinstance(value, bool) else json.dumps(value)
                        for key, value in holder.attrs.items()}
    return found


def _write_csv(dataset, path):
    header = {"attributes": dataset.attrs, "sizes": dict(dataset.sizes),
              "coordinates": {name: {"dimensions": one.dims, "type": _type(one), "values": one.values.tolist(), "attributes": one.attrs}
                              for name, one in dataset.coords.items()},
              "outputs": {name: {"dimensions": one.dims, "type": _type(one), "attributes": one.attrs} for name, one in dataset.data_vars.items()}}
    order = list(dataset.sizes)
    along = {name: one for name, one in dataset.coords.items()}
    whole = {**along, **dataset.data_vars}
    columns = [_cells(one.broadcast_like(dataset[_largest(dataset)]).transpose(*order).values.ravel().tolist() if order else [one.values.item()],
                      one.attrs) for one in whole.values()]
    with open(path, "w", encoding="utf-8", newline="") as out:
        out.write(_FIRST + json.dumps(header, ensure_ascii=True) + "\n")
        table = csv.writer(out)
        table.writerow([_heading(name, one.attrs) for name, one in whole.items()])
        table.writerows(zip(*columns, strict=True))


def _largest(dataset):
    return next(iter(dataset.data_vars))


def _heading(name, attributes):
    """Of a column, with its unit: for whoever opens the table in a spreadsheet."""
    unit = attributes.get("units", "1")
    return name if unit == "1" else f"{name} [{unit}]"


def _cells(values, attributes):
    """As a table shows them: words for what is a place in a list of words, nothing where there is no answer."""
    if "words" in attributes:
        words = json.loads(attributes["words"])
        return [words[int(value)] if value >= 0 else "" for value in values]
    return ["" if value != value else repr(value) if isinstance(value, float) else value for value in values]


def _values(cells, told):
    """What `_cells` made of an output."""
    if "words" in told["attributes"]:
        places = {word: place for place, word in enumerate(json.loads(told["attributes"]["words"]))}
        nothing = "nan" if told["type"].startswith("float") else -1
        return [places[cell] if cell else nothing for cell in cells]
    return [cell or "nan" for cell in cells] if told["type"].startswith("float") else cells


def _type(variable):
    return "text" if variable.dtype.kind in "OUT" else str(variable.dtype)


def _read_csv(path):
    with open(path, encoding="utf-8", newline="") as lines:
        first = lines.readline()
        if not first.startswith(_FIRST):
            raise CircuitError(f"'{path}' was not written by save_sweep", "load the file as a table of your own", place="sweep", key="path",
                               value=str(path))
        rows = list(csv.reader(io.StringIO(lines.read(), newline="")))
    header = json.loads(first.removeprefix(_FIRST))
    columns = dict(zip(rows[0], zip(*rows[1:]), strict=True))
    sizes = header["sizes"]
    coordinates = {name: (one["dimensions"], _array(one["values"], one["type"]), one["attributes"]) for name, one in header["coordinates"].items()}
    outputs = {}
    for name, one in header["outputs"].items():
        shaped = _array(_values(columns[_heading(name, one["attributes"])], one), one["type"]).reshape(list(sizes.values()))
        outputs[name] = xarray().Variable(list(sizes), shaped, one["attributes"]).transpose(*one["dimensions"])
    return xarray().Dataset(outputs, coordinates, header["attributes"])


def _array(values, sort):
    if sort == "text":
        return numpy.array([str(value) for value in values], dtype=object)
    return numpy.array(values, dtype=float).astype(sort)
