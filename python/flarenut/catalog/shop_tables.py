"""A shop's own tables: rows of hose, tube, materials and what takes which liquid, beside the built-in ones and before them.

The form stands in docs/guide/hardware_tables.md: a CSV file with the columns of the built-in tables, or TOML. A file is taken
whole or not at all.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

from ..units.letters import code_of, unseen, visible
from .rows import CatalogError, put_own
from .shop_rows import rows_of
from .shop_table_forms import Refused, TableProblem, checked, merged_value, value_of
from .shop_table_text import csv_rows, toml_rows
from .tube_ratings import tube_material

_MOST_SHOWN = 20
LARGEST = 2_000_000  # bytes; a table of every hose there is is a tenth of it


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
    cells = toml_rows(text, str(path), problems) if path.suffix.lower() == ".toml" else csv_rows(text, str(path), problems)
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
