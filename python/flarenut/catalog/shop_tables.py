"""A shop's own tables: rows of hose, tube, materials and what takes which liquid, beside the built-in ones and before them.

The form stands in docs/guide/hardware_tables.md: a CSV file with the columns of the built-in tables, or TOML. A file is taken
whole or not at all.
"""

from __future__ import annotations

import csv
import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, Protocol, TypeAlias

from ..units.errors import nearest
from ..units.letters import code_of, unseen, visible
from .rows import CatalogError, put_own
from .shop_rows import rows_of
from .shop_table_forms import KINDS, Refused, TableProblem, checked, column_of, merged_value, value_of
from .tube_ratings import tube_material

if TYPE_CHECKING:
    from _csv import reader

_MOST_SHOWN = 20
LARGEST = 2_000_000  # bytes; a table of every hose there is is a tenth of it


class Reader(Protocol):
    """What reads the lines of a CSV text."""

    line_num: int

    def __iter__(self) -> Iterator[list[str]]: ...


Cells: TypeAlias = tuple[str, int | None, list[tuple[str, Any]], dict[str, int]]  # kind, line, (heading, cell), heading or key -> line


class ShopTableError(ValueError):
    """A table that cannot be used. `problems` lists everything wrong with it, by line."""

    def __init__(self, problems: Sequence[TableProblem]) -> None:
        self.problems = sorted(problems, key=lambda one: (one.file, one.line or 0))
        shown = [visible(str(one)) for one in self.problems[:_MOST_SHOWN]]
        more = len(self.problems) - _MOST_SHOWN
        super().__init__("\n".join([*shown, f"and {more} more problems"] if more > 0 else shown))

    def __reduce__(self) -> tuple[type[ShopTableError], tuple[list[TableProblem]]]:
        return type(self), (self.problems,)


class ShopRow(NamedTuple):
    """One row of a shop's table: kind ("hose", "tube", "material", "compatibility"), line, and field -> value in SI."""

    kind: str
    line: int | None
    values: dict[str, Any]


class ShopTable(NamedTuple):
    """A shop's table as read: nothing of it is in use yet."""

    path: str
    rows: tuple[ShopRow, ...]


_used: dict[str, ShopTable] = {}  # path -> ShopTable, the last one first to be asked


def use(path: str | Path | ShopTable) -> ShopTable:
    """Puts the rows of a shop's table before the built-in ones, for the whole program; reading it again replaces what it held before.

    Parameters
    ----------
    path : of a CSV or TOML file; or a `ShopTable` that was read already

    Returns
    -------
    ShopTable

    Raises
    ------
    ShopTableError : with all problems, each with file, line, column, reason and cure; nothing of the file is in use then

    >>> import tempfile, pathlib
    >>> file = pathlib.Path(tempfile.mkdtemp(), "shop.csv")
    >>> _ = file.write_text("standard,dash,bore_mm,working_psi\\nshop hose,6,8.7,300\\n")
    >>> from flarenut import catalog
    >>> used = catalog.use(file)
    >>> round(catalog.hose_rating("shop hose", 6).working / 6894.757), round(catalog.hose_bore(6, "shop hose").bore * 1e3, 2)
    (300, 8.7)
    >>> catalog.forget()
    """
    read = path if isinstance(path, ShopTable) else read_shop_table(path)
    before = dict(_used)
    _used.pop(read.path, None)
    _used[read.path] = read
    try:
        _put_all()
    except Exception:
        _used.clear()
        _used.update(before)
        _put_all()
        raise
    return read


def forget(path: str | Path | None = None) -> None:
    """Takes a shop's table out of use again; all of them without a path."""
    for one in [path] if path is not None else list(_used):
        _used.pop(str(one), None)
    _put_all()


def used_tables() -> list[str]:
    """Paths of the tables in use, the one that is asked first first."""
    return list(reversed(_used))


def read_shop_table(path: str | Path) -> ShopTable:
    """A `ShopTable` from a CSV or TOML file, checked. Raises `ShopTableError` with all its problems."""
    path = Path(path)
    try:
        text = _text_of(path)
    except UnicodeDecodeError:
        raise ShopTableError([TableProblem(str(path), None, "", "the file is not UTF-8 text",
                                           "save it as UTF-8, or as CSV UTF-8 from a spreadsheet")]) from None
    except (OSError, ValueError) as error:  # ValueError: a zero byte in the name
        why = getattr(error, "strerror", None) or str(error)
        raise ShopTableError([TableProblem(str(path), None, "", f"the file cannot be read: {why}", "check its name")]) from None
    problems = [] if (at := unseen(text)) is None else [
        TableProblem(str(path), text.count("\n", 0, at) + 1, "", f"the line holds the invisible letter {code_of(text[at])}", "delete it")]
    if problems:
        raise ShopTableError(problems)
    cells = _toml_rows(text, str(path), problems) if path.suffix.lower() == ".toml" else _csv_rows(text, str(path), problems)
    rows = [row for row in (_row(str(path), kind, line, values, keys, problems) for kind, line, values, keys in cells) if row is not None]
    if not problems and not rows:
        problems.append(TableProblem(str(path), None, "", "the file holds no rows", "a heading line and one line for each hose or tube"))
    _doubles(str(path), rows, problems)
    _materials(str(path), rows, problems)
    if problems:
        raise ShopTableError(problems)
    return ShopTable(str(path), tuple(rows))


def _text_of(path: Path) -> str:
    """Text of a file, with plain line ends. No more of it is read than a table may have, whatever the name leads to."""
    with open(path, "rb") as file:
        data = file.read(LARGEST + 1)
    if len(data) > LARGEST:
        raise ShopTableError([TableProblem(str(path), None, "", f"the file is larger than {LARGEST // 10**6} MB", "a table of hose is a few kilobytes")])
    return data.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")


def _csv_rows(text: str, file: str, problems: list[TableProblem]) -> list[Cells]:
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


def _toml_rows(text: str, file: str, problems: list[TableProblem]) -> list[Cells]:
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


def _row(file: str, kind: str, line: int | None, cells: Sequence[tuple[str, Any]], lines: dict[str, int],
         problems: list[TableProblem]) -> ShopRow | None:
    """The `ShopRow` of a row's cells; None, with problems told, where it cannot be read."""
    found: dict[str, Any] = {}
    wrong: list[Refused] = []
    for heading, cell in cells:
        try:
            field, value = value_of(kind, heading, cell)
            found[field] = merged_value(field, heading, found[field], value) if isinstance(value, float) and field in found else value
        except Refused as refusal:
            wrong.append(refusal)
    if "spec" in found:
        found.setdefault("standard", found.pop("spec"))
    if not wrong:
        wrong = checked(kind, found)
    problems += [TableProblem(file, lines.get(one.column, line), one.column, one.reason, one.cure) for one in wrong]
    return None if wrong else ShopRow(kind, line, found)


def _materials(file: str, rows: Sequence[ShopRow], problems: list[TableProblem]) -> None:
    """Tubes of a material that neither this file nor the catalogue has."""
    own = {row.values["material"].lower() for row in rows if row.kind == "material"}
    for row in rows:
        word = row.values.get("material", "")
        if row.kind != "tube" or not word or word.lower() in own:
            continue
        try:
            tube_material(word)
        except CatalogError as error:
            problems.append(TableProblem(file, row.line, "material", error.reason, f"{error.hint}; or add it to a table of materials"))


_KEYS = {"hose": ("standard", "dash", "bore"), "tube": ("od", "wall", "material"), "material": ("material",), "compatibility": ("material", "fluid")}


def _doubles(file: str, rows: Sequence[ShopRow], problems: list[TableProblem]) -> None:
    seen: dict[tuple[str, ...], int | None] = {}
    for row in rows:
        values = row.values
        keys = ("standard", "dash") if row.kind == "hose" and values.get("dash") is not None else _KEYS[row.kind]
        key = (row.kind, *(str(values.get(name, "")).lower() for name in keys))
        if key in seen:
            problems.append(TableProblem(file, row.line, keys[0], f"the row of line {seen[key]} is of the same {row.kind}", "keep one of them"))
        seen.setdefault(key, row.line)


def _put_all() -> None:
    """All tables in use into the catalogue, the last one used first."""
    put_own({})  # what a row leaves out comes from the built-in rows alone
    tables: dict[str, list[dict[str, str]]] = {}
    for shop in reversed(_used.values()):
        for name, rows in rows_of(shop).items():
            tables.setdefault(name, []).extend(rows)
    put_own(tables)
