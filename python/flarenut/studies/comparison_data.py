"""A comparison for programs: CSV, pandas DataFrame, xarray Dataset."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..results.csv_file import csv_file
from ..units import KINDS, Quantity, preferred_unit
from .comparison_view import unit_of

if TYPE_CHECKING:
    from pandas import DataFrame
    from xarray import Dataset
    from .comparison import Comparison
    from .comparison_columns import Column


def _head(comparison: Comparison, column: Column, system: str) -> str:
    unit = unit_of(comparison, column, system)
    return f"{column.words} [{unit}]" if unit else column.words


def _rows(comparison: Comparison, system: str) -> Iterator[tuple[str, str, dict[str, float | str | None]]]:
    """(case, variant, {heading: number or words or None}) of every case and variant."""
    for case in comparison.cases:
        for name in comparison.variants:
            cells: dict[str, float | str | None] = {}
            for column in comparison.columns:
                value = comparison.value(name, case, column.key)
                cells[_head(comparison, column, system)] = (
                    value.to(unit_of(comparison, column, system)) if isinstance(value, Quantity) else value
                )
            yield case, name, cells | {"not solved": comparison.why_not(name, case)}


def write_csv(comparison: Comparison, path: str, system: str) -> None:
    """See `Comparison.to_csv`."""
    heads = [_head(comparison, column, system) for column in comparison.columns]
    with csv_file(path) as writer:
        writer.writerow(["case", "variant", *heads, "not solved"])
        for case, name, cells in _rows(comparison, system):
            writer.writerow([case, name, *(_cell(cells[head]) for head in heads), cells["not solved"]])


def _cell(value: float | str | None) -> str:
    return "" if value is None else value if isinstance(value, str) else f"{value:.9g}"


def as_dataframe(comparison: Comparison, system: str) -> DataFrame:
    """See `Comparison.to_dataframe`."""
    import pandas

    rows = list(_rows(comparison, system))
    index = pandas.MultiIndex.from_tuples([(case, name) for case, name, _ in rows], names=["case", "variant"])
    return pandas.DataFrame([cells for _, _, cells in rows], index=index)


def as_dataset(comparison: Comparison) -> Dataset:
    """See `Comparison.to_dataset`."""
    from .dataset import xarray

    data: dict[str, tuple[tuple[str, str], list[list[float]] | list[list[str]], dict[str, str]]] = {}
    for column in comparison.columns:
        values = [[comparison.value(name, case, column.key) for case in comparison.cases] for name in comparison.variants]
        if column.kind:
            attrs = {"long_name": column.words, "kind": column.kind, "units": KINDS[column.kind].si or "1",
                     **{f"units_{system}": preferred_unit(column.kind, system) for system in ("us", "metric")}}
            data[column.key] = (
                ("variant", "case"),
                [[one.si if isinstance(one, Quantity) else float("nan") for one in row] for row in values],
                attrs,
            )
        else:
            data[column.key] = (
                ("variant", "case"),
                [[one if isinstance(one, str) else "" for one in row] for row in values],
                {"long_name": column.words},
            )
    data["not_solved"] = (
        ("variant", "case"),
        [[comparison.why_not(name, case) for case in comparison.cases] for name in comparison.variants],
        {"long_name": "why there is no answer"},
    )
    found: Dataset = xarray().Dataset(
        data,
        {"variant": comparison.variants, "case": comparison.cases},
        {
            "gallery": comparison.sites.gallery,
            "sump": comparison.sites.sump,
            "invented": int(comparison.invented),
            "unit_system": "si",
            "shown_in": comparison.units,
        },
    )
    return found
