"""Cells of a shop's table: what stands in each row of a CSV or TOML text, and on which line."""

import csv
import re
import tomllib
from collections.abc import Iterator, Sequence
from typing import Any, Protocol, TypeAlias

from ..units.errors import nearest
from .shop_table_forms import KINDS, Refused, TableProblem, column_of


class Reader(Protocol):
    """What reads the lines of a CSV text."""

    line_num: int

    def __iter__(self) -> Iterator[list[str]]: ...


Cells: TypeAlias = tuple[str, int | None, list[tuple[str, Any]], dict[str, int]]  # kind, line, (heading, cell), heading or key -> line


def csv_rows(text: str, file: str, problems: list[TableProblem]) -> list[Cells]:
    """(kind, line, [(heading, cell)], line of a heading) of each row of a CSV text."""
    first = next((line for line in text.splitlines() if line.strip() and not line.lstrip().startswith("#")), "")
    reader = csv.reader(text.splitlines(), delimiter=";" if first.count(";") > first.count(",") else ",")
    found: list[Cells] = []
    headings: list[str] | None = None
    kind: str | None = None
    for line, cells in _lines_of(reader, file, problems):
        if not any(cell.strip() for cell in cells) or cells[0].lstrip().startswith("#"):
            continue
        if headings is None or kind is None:
            headings = [cell.strip() for cell in cells]
            kind = _kind_of(headings, file, line, problems)
            if kind is None:
                return []
            twice = [name for name in dict.fromkeys(headings) if headings.count(name) > 1]
            problems += [TableProblem(file, line, name, "this heading stands twice", "one column for each") for name in twice]
            if twice:
                return []
            continue
        if len(cells) != len(headings):
            problems.append(TableProblem(file, line, "", f"the line has {len(cells)} cells, the heading {len(headings)}",
                                         'a text with a comma stands in quotes, as in "rubber, one wire braid"'))
            continue
        found.append((kind, line, [(name, cell.strip()) for name, cell in zip(headings, cells) if cell.strip()], {}))
    return found


def _lines_of(reader: Reader, file: str, problems: list[TableProblem]) -> Iterator[tuple[int, list[str]]]:
    """(line, cells) of each row, up to one that the reader does not take."""
    try:
        yield from ((reader.line_num, cells) for cells in reader)
    except csv.Error as error:
        problems.append(TableProblem(file, reader.line_num, "", f"the line cannot be read: {error}", "a quote that is opened is closed in the same cell"))


def _kind_of(headings: Sequence[str], file: str, line: int, problems: list[TableProblem]) -> str | None:
    """What a CSV table is of, by its headings; tells of headings that it does not have."""
    marks = {"compatibility": {"fluid", "verdict"}, "hose": {"standard", "spec"}, "tube": {"od", "od_in", "od_mm"},
             "material": {"tensile", "tensile_MPa", "tensile_psi"}}
    kind = next((kind for kind, some in marks.items() if some & {*headings}), None)
    if kind is None:
        problems.append(TableProblem(file, line, headings[0] if headings else "", "the headings tell of no table that is known",
                                     "a hose table has 'standard', a tube table 'od_in' and 'wall_in', a table of materials 'tensile_MPa', "
                                     "one of liquids 'fluid' and 'verdict'"))
        return None
    wrong = [_refused(file, line, kind, name) for name in headings]
    problems += [one for one in wrong if one]
    return None if any(wrong) else kind


def _refused(file: str, line: int, kind: str, heading: str) -> TableProblem | None:
    try:
        column_of(kind, heading)
    except Refused as refusal:
        return TableProblem(file, line, refusal.column, refusal.reason, refusal.cure)
    return None


def toml_rows(text: str, file: str, problems: list[TableProblem]) -> list[Cells]:
    """(kind, line, [(key, value)], key -> line) of each table of a TOML text."""
    try:
        tables = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        at = re.search(r"line (\d+)", str(error))
        problems.append(TableProblem(file, int(at[1]) if at else None, "", f"this is no TOML: {error}", 'texts stand in quotes: standard = "SAE 100R14"'))
        return []
    except RecursionError:
        problems.append(TableProblem(file, None, "", "brackets are nested too deeply", "close the brackets opened before"))
        return []
    except (ValueError, OverflowError) as error:  # a date that no calendar has, a number beyond reading
        problems.append(TableProblem(file, None, "", f"the file holds a value that cannot be read: {error}", "correct the value"))
        return []
    places = _toml_places(text)
    found: list[Cells] = []
    for name, rows in tables.items():
        if name not in KINDS or not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
            close = nearest(name, KINDS)
            begins = re.compile(rf"\s*(\[+\s*)?{re.escape(name)}\b")
            line = next((number for number, words in enumerate(text.splitlines(), 1) if begins.match(words)), None)
            cure = (f"did you mean '[[{close}]]'? " if close else "") + "there are " + ", ".join(f"[[{kind}]]" for kind in KINDS)
            problems.append(TableProblem(file, line, name, f"'{name}' is no table of rows", cure))
            continue
        for row, (line, keys) in zip(rows, places.get(name, [(None, {})] * len(rows))):
            found.append((name, line, list(row.items()), keys))
    return found


def _toml_places(text: str) -> dict[str, list[tuple[int, dict[str, int]]]]:
    """kind -> [(line of its [[heading]], key -> line)]."""
    places: dict[str, list[tuple[int, dict[str, int]]]] = {}
    keys: dict[str, int] = {}
    for number, line in enumerate(text.splitlines(), 1):
        heading = re.match(r"\s*\[\[\s*(\w+)\s*\]\]", line)
        key = re.match(r"\s*\"?([\w-]+)\"?\s*=", line)
        if heading:
            keys = {}
            places.setdefault(heading[1], []).append((number, keys))
        elif key:
            keys[key[1]] = number
    return places
