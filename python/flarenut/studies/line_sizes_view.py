"""A table of line sizes for people and programs: text, HTML, CSV, xarray Dataset."""

from __future__ import annotations

import json
from collections.abc import Sequence
from html import escape
from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from ..results.columns import blocks_of, screen_width
from ..results.csv_file import csv_file
from ..units import KINDS, Quantity, preferred_unit
from .line_summary import is_headline, summary_of
from .line_words import briefly, cases_in_words, heading, label, limit_in_words, margin_unit, shown, title, unit_of, verdict

if TYPE_CHECKING:
    from xarray import Dataset
    from .line_cells import Cell
    from .line_columns import Column
    from .line_sizes import LineSize, LineSizes

_WORDS = 13  # characters of a heading before it wraps
_GAP = 2


# ---- text ----

def as_text(table: LineSizes, width: int | None, system: str) -> str:
    """See `LineSizes.text`."""
    width = max(width or screen_width(), 40)
    labels = [label(row) for row in table.rows]
    left = max(map(len, [*labels, "worst case"])) + 2
    lines = [*wrap(title(table), width), "", *(line for told in summary_of(table, system) for line in wrap(told, width, subsequent_indent="    ")), ""]
    columns = [_bores(table, system), *(_text_column(table, column, system) for column in table.columns)]
    for block in blocks_of(columns, width - left, _width):
        lines += _block(block, labels, left) + [""]
    lines += [line for row in table.rows for line in wrap(f"{label(row)}: {verdict(table, row)}", width, subsequent_indent="    ")]
    lines.append("")
    return "\n".join(lines + [f"  {line}" for note in table.notes_in(system) for line in wrap(note, width - 2, subsequent_indent="    ")])


def _bores(table: LineSizes, system: str) -> tuple[list[str], str, str, list[str]]:
    unit = preferred_unit("length", system)
    return wrap("bore", _WORDS) + [f"[{unit}]"], "", "", [f"{row.bore.to(unit):.{3 if unit == 'in' else 1}f}" for row in table.rows]


def _text_column(table: LineSizes, column: Column, system: str) -> tuple[list[str], str, str, list[str]]:
    """(heading lines, limit, case, cells)"""
    unit = unit_of(column, system)
    cells = [_cell(row, column, system) for row in table.rows]
    return (wrap(heading(table, column), _WORDS) + ([f"[{unit}]"] if unit else []), limit_in_words(table, column, system),
            cases_in_words(table, column), cells)


def _cell(row: LineSize, column: Column, system: str) -> str:
    if row.refusal:
        return "not solved"
    return shown(row.cells[column.key], column, system) if column.key in row.cells else "–"


def _width(column: tuple[list[str], str, str, list[str]]) -> int:
    words, limit, case, cells = column
    return max(map(len, [*words, limit, *wrap(case, _WORDS), *cells])) + _GAP


def _block(columns: Sequence[tuple[list[str], str, str, list[str]]], labels: Sequence[str], left: int) -> list[str]:
    widths = [_width(column) for column in columns]
    lines = _stacked("", [words for words, *_ in columns], left, widths)
    lines += _stacked("limit", [[limit] for _, limit, _, _ in columns], left, widths)
    lines += _stacked("worst case", [wrap(case, _WORDS) or [""] for _, _, case, _ in columns], left, widths)
    lines.append("-" * (left + sum(widths)))
    for place, name in enumerate(labels):
        lines += _stacked(name, [[cells[place]] for *_, cells in columns], left, widths)
    return lines


def _stacked(name: str, texts: Sequence[Sequence[str]], left: int, widths: Sequence[int]) -> list[str]:
    """Lines of one row whose texts may be several lines high; they stand on the last."""
    height = max(map(len, texts))
    padded = [[""] * (height - len(text)) + list(text) for text in texts]
    names = [""] * (height - 1) + [name]
    return [(f"{names[i]:<{left}}" + "".join(f"{text[i]:>{width}}" for text, width in zip(padded, widths))).rstrip() for i in range(height)]


# ---- HTML ----

_BOLD = ' style="font-weight:600"'
_CELL = "padding:2px 10px;border:none;text-align:right;white-space:nowrap"
_LABEL = "padding:2px 10px;border:none;text-align:left;white-space:nowrap;font-weight:400"


def as_html(table: LineSizes, system: str) -> str:
    """See `LineSizes.html`."""
    heads = ["bore [" + preferred_unit("length", system) + "]"]
    for column in table.columns:
        unit = unit_of(column, system)
        small = " · ".join(filter(None, [limit_in_words(table, column, system), cases_in_words(table, column)]))
        heads.append(escape(heading(table, column)) + (f" [{escape(unit)}]" if unit else "") +
                     f'<br><span style="opacity:.75;font-size:.85em;font-weight:400">{escape(small)}</span>')
    head = "".join(f'<th scope="col" style="padding:2px 10px;border:none;text-align:right;vertical-align:bottom">{one}</th>' for one in [*heads, ""])
    body = "".join(_html_row(table, row, system) for row in table.rows)
    said = "".join(f'<div{_BOLD if is_headline(one) else ""}>{escape(one)}</div>' for one in summary_of(table, system))
    notes = "".join(f'<div style="opacity:.75;font-size:.9em">{escape(note)}</div>' for note in table.notes_in(system))
    return (f'<div style="line-height:1.35;overflow-x:auto"><div style="font-weight:600;font-size:1.1em">{escape(title(table))}</div>{said}'
            '<table style="border-collapse:collapse;font-variant-numeric:tabular-nums"><thead><tr style="border-bottom:1px solid currentColor">'
            f'<th style="border:none"></th>{head}</tr></thead><tbody>{body}</tbody></table>{notes}</div>')


def _html_row(table: LineSizes, row: LineSize, system: str) -> str:
    unit = preferred_unit("length", system)
    cells = [f'<td style="{_CELL}">{row.bore.to(unit):.{3 if unit == "in" else 1}f}</td>']
    for column in table.columns:
        cell = row.cells.get(column.key)
        bold = ";font-weight:700" if cell is not None and not cell.passes else ""
        cells.append(f'<td style="{_CELL}{bold}">{escape(_cell(row, column, system))}</td>')
    marked = ";outline:2px solid currentColor" if row is table.smallest(row.spec) else ""
    return (f'<tr style="border:none{marked}"><th scope="row" style="{_LABEL}">{escape(label(row))}</th>{"".join(cells)}'
            f'<td style="{_CELL};text-align:left">{escape(verdict(table, row))}</td></tr>')


# ---- data ----

def write_csv(table: LineSizes, path: Path, system: str) -> None:
    """See `LineSizes.to_csv`."""
    bore = preferred_unit("length", system)
    heads = ["specification", "size", f"bore [{bore}]"]
    for column in table.columns:
        words = heading(table, column)
        heads += [_with_unit(words, unit_of(column, system)), _with_unit(f"{words}, margin", margin_unit(column, system)), f"{words}, case"]
    with csv_file(path) as writer:
        writer.writerow([*heads, "verdict"])
        for row in table.rows:
            cells = [text for column in table.columns for text in _csv_cells(row.cells.get(column.key), column, system)]
            writer.writerow([row.spec, row.size, f"{row.bore.to(bore):.6g}", *cells, verdict(table, row)])


def _with_unit(words: str, unit: str) -> str:
    return f"{words} [{unit}]" if unit else words


def _csv_cells(cell: Cell | None, column: Column, system: str) -> list[str]:
    if cell is None:
        return ["", "", ""]
    number = cell.value.to(unit_of(column, system)) if isinstance(cell.value, Quantity) else cell.value
    return [f"{number:.9g}", "" if cell.margin is None else f"{cell.margin.to(margin_unit(column, system)):.9g}", cell.where]


def as_dataset(table: LineSizes) -> Dataset:
    """See `LineSizes.to_dataset`."""
    from .dataset import xarray

    library = xarray()
    data: dict[str, tuple[str, list[float] | list[str] | list[bool], dict[str, Any]]] = {}
    for column in table.columns:
        cells = [row.cells.get(column.key) for row in table.rows]
        attrs = {"long_name": heading(table, column), "kind": column.kind, "units": (KINDS[column.kind].si or "1") if column.kind else "1",
                 **{f"units_{system}": unit_of(column, system) for system in ("us", "metric")}}
        data[column.key] = "size", [float("nan") if one is None else one.si for one in cells], attrs
        if any(one is not None and one.limit is not None for one in cells):
            limits = [float("nan") if one is None or one.limit is None else one.limit.si for one in cells]
            upper = next(one.at_most for one in cells if one is not None and one.limit is not None)
            data[f"{column.key} limit"] = "size", limits, {**attrs, "long_name": f"limit of {attrs['long_name']}", "at_most": int(upper)}
        data[f"{column.key} case"] = "size", ["" if one is None else one.case for one in cells], {"long_name": f"case of {attrs['long_name']}"}
    data["passes"] = "size", [row.passes for row in table.rows], {"long_name": "every limit is kept"}
    several = len(table.specs) > 1
    names = {id(row): f"{row.size} {row.spec}" if several else row.size for row in table.rows}
    coordinates = {"size": list(names.values()), "specification": ("size", [row.spec for row in table.rows]),
                   "bore": ("size", [row.bore.si for row in table.rows], {"units": "m", "kind": "length"})}
    smallest, best = {spec: names.get(id(table.smallest(spec)), "") for spec in table.specs}, table.smallest()
    hair = table.hairs(best) if best else []
    found: Dataset = library.Dataset(data, coordinates, {"title": title(table), "line": table.line, "role": table.role, "circuit": table.circuit,
                                                         "invented": int(table.invented), "smallest": names.get(id(table.smallest()), ""),
                                                         "smallest_of_each": json.dumps(smallest, ensure_ascii=False), "beyond": list(table.beyond),
                                                         "by_a_hair": hair,
                                                         "elsewhere": list(table.elsewhere), "all_else": int(bool(table.elsewhere or table.shared)),
                                                         "shown_in": table.units, "stops": briefly([one for one in table.shared if one.severity == "stop"])})
    return found
