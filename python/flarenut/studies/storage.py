"""Keeping a sweep: NetCDF, or CSV as a long table. What is loaded is the Dataset that was saved."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Hashable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypedDict

import numpy

from ..circuit import CircuitError
from ..results.csv_file import plain_cell
from ..results.whole_file import whole_file
from .batches import NOT_REACHED
from .dataset import xarray

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from xarray import DataArray, Dataset, Variable

_SLASH = "∕"  # stands for "/" in a file, where NetCDF reads "/" as a group
_BESIDE = "coordinates_beside"  # attribute of a file: coordinates that are no dimensions
_FIRST = "# flarenut sweep, header as JSON: "
_NUMBERS = ("bool", "float32", "float64", *(f"{sign}int{bits}" for sign in ("", "u") for bits in (8, 16, 32, 64)))
_MOST_ROWS = 200_000_000  # that a table may say it left out


class _Column(TypedDict):
    """What the header of a table tells of a coordinate or an output; a coordinate has its values there."""

    dimensions: list[str]
    type: str
    attributes: dict[str, Any]
    values: Any


class _Absent(TypedDict, total=False):
    """Rows that were not reached, [start, stop] each, and output -> value of all of them."""

    rows: list[list[int]]
    values: dict[str, Any]


class _Header(TypedDict):
    """What the last cell of a table tells of it, beside its rows."""

    attributes: dict[str, Any]
    sizes: dict[str, int]
    coordinates: dict[str, _Column]
    outputs: dict[str, _Column]
    not_reached: _Absent


def save_sweep(dataset: Dataset, path: str | Path) -> None:
    """Writes the Dataset of a sweep with its circuit, options and version.

    Parameters
    ----------
    dataset : of `sweep`
    path : "answer.nc" for NetCDF, "answer.csv" for a table with one row per point and case; points that were not
        reached have none. The last line of a table, one cell, is for `load_sweep`

    Raises
    ------
    CircuitError : another ending of the name, a folder that there is not
    ImportError : NetCDF without h5netcdf

    An example stands in docs/guide/sweeps.md.
    """
    path = Path(path)
    ending = _ending(path)
    if not path.parent.is_dir():
        raise CircuitError(f"there is no folder '{path.parent}' to save '{path.name}' in", "make it first, or name another", place="sweep", key="path",
                           value=str(path))
    if ending == ".nc":
        _need_h5netcdf()
        beside = [name for name in dataset.coords if name not in dataset.dims]
        flat = _plain(dataset.reset_coords(beside).assign_attrs({_BESIDE: beside}))  # NetCDF lists coordinates by words without spaces
        _write_netcdf(_renamed(flat, "/", _SLASH), path)
    else:
        _write_csv(_plain(dataset), path)


def load_sweep(path: str | Path) -> Dataset:
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
    ending = _ending(path)
    if not path.is_file():
        raise FileNotFoundError(f"there is no file '{path}' to load a sweep from; name one that save_sweep wrote")
    if ending == ".nc":
        _need_h5netcdf()
    try:
        return _read_csv(path) if ending == ".csv" else _read_netcdf(path)
    except CircuitError:
        raise
    except (OSError, ValueError, LookupError, TypeError, AttributeError, RuntimeError, OverflowError, MemoryError, csv.Error):
        # Cut short, changed by hand, or another file of that ending: whatever it is that does not fit, this is not what was saved.
        raise CircuitError(f"'{path}' is no {'NetCDF file' if ending == '.nc' else 'table'} that save_sweep wrote, or only a part of one",
                           "save the sweep again", place="sweep", key="path", value=str(path)) from None


def _read_netcdf(path: Path) -> Dataset:
    with xarray().open_dataset(path, engine="h5netcdf") as found:
        dataset = found.load()
    for variable in dataset.variables.values():
        variable.encoding = {}
    dataset.encoding = {}
    dataset = _renamed(dataset, _SLASH, "/")
    dataset = dataset.assign({name: dataset[name].astype(str) for name, one in dataset.variables.items() if one.dtype.kind in "OUT"})
    return dataset.set_coords(json.loads(dataset.attrs.pop(_BESIDE, "[]")))


save, load = save_sweep, load_sweep


def _ending(path: Path) -> str:
    ending = path.suffix.lower()
    if ending not in (".nc", ".csv"):
        raise CircuitError(f"'{path}' ends in neither .nc nor .csv", "name the file answer.nc or answer.csv", place="sweep", key="path", value=str(path))
    return ending


def _need_h5netcdf() -> None:
    try:
        import h5netcdf  # noqa: F401 - xarray finds it by name
        import h5py  # noqa: F401 - which newer ones of it ask for by name
    except ImportError:
        raise ImportError("NetCDF files need h5netcdf with h5py, which are not installed: pip install 'flarenut[sweep]', or save as .csv") from None


def _renamed(dataset: Dataset, old: str, new: str) -> Dataset:
    return dataset.rename({name: str(name).replace(old, new) for name in {*dataset.variables, *dataset.dims} if old in str(name)})


def _plain(dataset: Dataset) -> Dataset:
    """The Dataset with attributes that a file can hold: texts and numbers; anything else as JSON text."""
    found = dataset.copy()
    holders: list[Dataset | Variable] = [found, *found.variables.values()]
    for holder in holders:
        holder.attrs = {key: value if isinstance(value, (str, int, float)) and not isinstance(value, bool) else json.dumps(value)
                        for key, value in holder.attrs.items()}
    return found


def _write_netcdf(dataset: Dataset, path: Path) -> None:
    """Made in memory and written as bytes: the library that makes it may end the whole program where the disk is full."""
    import h5netcdf
    from xarray.backends import H5NetCDFStore

    made = io.BytesIO()
    with h5netcdf.File(made, "w") as file:
        dataset.dump_to_store(H5NetCDFStore(file))
    with whole_file(path) as part, open(part, "wb") as out:
        out.write(made.getbuffer())


def _write_csv(dataset: Dataset, path: Path) -> None:
    """A heading, a row for every point and case that was reached, and last one cell with all that the rows do not tell."""
    order, like = list(dataset.sizes), dataset[_largest(dataset)]
    outputs = {str(name): _in_rows(one, like, order) for name, one in dataset.data_vars.items()}
    absent, alike = _unreached(outputs)
    header = {"attributes": dataset.attrs, "sizes": dict(dataset.sizes),
              "coordinates": {name: {"dimensions": one.dims, "type": _type(one), "values": one.values.tolist(), "attributes": one.attrs}
                              for name, one in dataset.coords.items()},
              "outputs": {name: {"dimensions": one.dims, "type": _type(one), "attributes": one.attrs} for name, one in dataset.data_vars.items()},
              "not_reached": {"rows": _runs(absent), "values": alike}}
    whole: dict[str, DataArray] = {str(name): one for name, one in {**dataset.coords, **dataset.data_vars}.items()}
    columns = [_in_rows(one.copy(data=_cells(one.values, one.attrs)), like, order)[~absent] for one in dataset.coords.values()]  # a cell made once
    columns += [_cells(values[~absent], whole[name].attrs) for name, values in outputs.items()]
    with whole_file(path) as part, open(part, "w", encoding="utf-8", newline="") as out:
        out.write(",".join(_quoted(_heading(name, whole[name].attrs)) for name in whole) + "\n")
        out.writelines(",".join(row) + "\n" for row in zip(*columns, strict=True))
        out.write(_quoted(_FIRST + json.dumps(header, ensure_ascii=True)) + "\n")


def _quoted(text: str) -> str:
    return '"' + str(plain_cell(text)).replace('"', '""') + '"'


def _unreached(outputs: Mapping[str, NDArray[Any]]) -> tuple[NDArray[numpy.bool_], dict[str, int | None]]:
    """Which rows were not reached, and output -> value of all of them; a table does without rows that are all alike."""
    absent = outputs["status"] == NOT_REACHED if "status" in outputs else numpy.zeros(len(next(iter(outputs.values()))), bool)
    if not absent.any():
        return absent, {}
    first = int(absent.argmax())
    for values in outputs.values():
        absent = absent & ((values == values[first]) | ((values != values) & (values[first] != values[first])))
    return absent, {name: None if values[first] != values[first] else values[first].item() for name, values in outputs.items()}


def _runs(marked: NDArray[numpy.bool_]) -> list[list[int]]:
    """[start, stop] of every run of marked rows."""
    edges = numpy.flatnonzero(numpy.diff(numpy.concatenate([[0], marked.astype(numpy.int8), [0]])))
    return [[int(start), int(stop)] for start, stop in edges.reshape(-1, 2)]


def _largest(dataset: Dataset) -> str:
    return str(next(iter(dataset.data_vars)))


def _heading(name: str, attributes: dict[str, str]) -> str:
    """Of a column, with its unit: for whoever opens the table in a spreadsheet."""
    unit = attributes.get("units", "1")
    return name if unit == "1" else f"{name} [{unit}]"


def _cells(values: NDArray[Any], attributes: dict[str, str]) -> NDArray[numpy.object_]:
    """As a table shows them: words for what is a place in a list of words, nothing where there is no answer. Texts stand in quotes."""
    if "words" in attributes:
        words = numpy.array([*map(_quoted, json.loads(attributes["words"])), ""], dtype=object)
        found: NDArray[numpy.object_] = words[numpy.where(values >= 0, values, -1).astype(int)]  # the last one is the empty cell
        return found
    cells = numpy.empty(values.size, dtype=object)
    cells[:] = list(map(_quoted if values.dtype.kind in "OUT" else repr, values.ravel().tolist()))
    if values.dtype.kind == "f":
        cells[numpy.isnan(values.ravel())] = ""
    return cells.reshape(values.shape)


def _in_rows(one: DataArray, like: DataArray, order: Sequence[Hashable]) -> NDArray[Any]:
    """Values of a coordinate or an output, one for every row."""
    found: NDArray[Any] = one.broadcast_like(like).transpose(*order).values.ravel()
    return found


def _values(cells: tuple[str, ...], told: _Column) -> Sequence[int | str]:
    """What `_cells` made of an output."""
    if "words" in told["attributes"]:
        places = {plain_cell(word): place for place, word in enumerate(json.loads(told["attributes"]["words"]))}
        nothing = "nan" if told["type"].startswith("float") else -1
        return [places[cell] if cell else nothing for cell in cells]
    return [cell or "nan" for cell in cells] if told["type"].startswith("float") else cells


def _type(variable: DataArray) -> str:
    return "text" if variable.dtype.kind in "OUT" else str(variable.dtype)


def _read_csv(path: Path) -> Dataset:
    text = path.read_text(encoding="utf-8")
    header, table = _parted(text)
    if header is None:
        raise CircuitError(f"'{path}' was not written by save_sweep", "load the file as a table of your own", place="sweep", key="path",
                           value=str(path))
    rows = list(csv.reader(io.StringIO(table, newline="")))
    columns = dict(zip(rows[0], zip(*rows[1:]) if rows[1:] else [()] * len(rows[0]), strict=True))
    sizes, absent = header["sizes"], header.get("not_reached", _Absent(rows=[]))
    coordinates = {name: (one["dimensions"], _array(one["values"], one["type"]), one["attributes"]) for name, one in header["coordinates"].items()}
    outputs = {}
    for name, one in header["outputs"].items():
        found = _filled(_array(_values(columns[str(plain_cell(_heading(name, one["attributes"])))], one), one["type"]), name, absent)
        outputs[name] = xarray().Variable(list(sizes), found.reshape(list(sizes.values())), one["attributes"]).transpose(*one["dimensions"])
    made: Dataset = xarray().Dataset(outputs, coordinates, header["attributes"])
    return made


def _parted(text: str) -> tuple[_Header | None, str]:
    """Header and table of a file: it stands in the last line, or in the first of files from before. None without."""
    first, _, rest = text.partition("\n")
    if first.startswith(_FIRST):
        return json.loads(first.removeprefix(_FIRST)), rest
    table, _, last = text.rstrip("\r\n").rpartition("\n")
    last = last[1:-1].replace('""', '"')
    return (json.loads(last.removeprefix(_FIRST)), table) if last.startswith(_FIRST) else (None, text)


def _filled(found: NDArray[Any], name: str, absent: _Absent) -> NDArray[Any]:
    """Values of the rows in the table, with those of rows that were not reached in their places."""
    if not absent["rows"]:
        return found
    count = len(found) + sum(stop - start for start, stop in absent["rows"])
    if not 0 <= count <= _MOST_ROWS:
        raise ValueError(count)
    here = numpy.ones(count, bool)
    for start, stop in absent["rows"]:
        here[start:stop] = False
    value = absent["values"][name]
    whole = numpy.full(len(here), numpy.nan if value is None else value, found.dtype)
    whole[here] = found
    return whole


def _array(values: object, sort: str) -> NDArray[Any]:
    if sort == "text":
        return numpy.array(values, dtype=str)
    if sort not in _NUMBERS:
        raise ValueError(sort)
    return numpy.array(values, dtype=float).astype(sort)
