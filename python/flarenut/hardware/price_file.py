"""Reading a price file: every row checked, and all that is wrong told together with its line and column."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any
from collections.abc import Iterable, Mapping

from ..circuit.file.positions import Positions, Span
from ..circuit.file.problems import FileError, Problem
from ..circuit.file.text import read_table, read_text
from ..units import UnitError, parse
from ..units.errors import nearest, quoted
from ..units.letters import code_of, unseen
from .items import bought_by_length
from .price_csv import Cell, cells_of

if TYPE_CHECKING:
    from .prices import PriceRow

KEYS = ("item", "price", "unit", "currency", "weight", "cut_off", "note")
_FOR_EXAMPLE = {"price": "9.50", "weight": "0.12 lb", "cut_off": "1.1 in"}


def read_rows(name: str, make: type[PriceRow], units: tuple[str, ...]) -> tuple[list[PriceRow], str]:
    """(rows, currency) of a file.

    Parameters
    ----------
    name : of the file
    make : what makes a row of its keys
    units : that a price may be for
    """
    text = read_text(name)
    problems: list[Problem] = []
    written, currency = _of_toml(text, name, problems) if name.lower().endswith(".toml") else _of_csv(text, problems)
    reader = _Reader(make, units, problems, currency)
    rows = [row for cells, line in written if (row := reader.row(cells, line)) is not None]
    if not problems and not rows:
        problems.append(Problem("holds no item", 'add one, such as: hose end -8 *, 9.50', span=Span(1, 1, 1)))
    if problems:
        raise FileError(name, problems, text)
    return rows, reader.currency.value if reader.currency else ""


class _Reader:
    """Cells of one row after another to rows."""

    def __init__(self, make: type[PriceRow], units: tuple[str, ...], problems: list[Problem], currency: Cell | None) -> None:
        self.make, self.units, self.problems, self.currency = make, units, problems, currency
        self.seen: dict[str, int] = {}

    def row(self, cells: Mapping[str, Cell], line: int) -> PriceRow | None:
        """A row, or None where something is wrong with it."""
        before = len(self.problems)
        item = cells.get("item")
        if item is None or not isinstance(item.value, str) or not item.value.strip():
            self._wrong("the row names no item", "write a name of the bill, such as 'hose end -8 *'",
                        item.span if item else next((cell.span for cell in cells.values()), Span(line, 1, 1)))
            return None
        self._once(item, line)
        values: dict[str, Any] = {"item": item.value.strip(), "unit": self._unit(cells.get("unit")), "price": self._price(cells.get("price")),
                  "weight": self._measured(cells.get("weight"), "mass"), "cut_off": self._measured(cells.get("cut_off"), "length"),
                  "note": str(cells["note"].value) if "note" in cells else "", "line": line}
        self._currency(cells.get("currency"))
        self._by_length(item, cells)
        if len(self.problems) == before and all(values[key] is None for key in ("price", "weight", "cut_off")):
            self._wrong(f"{quoted(values['item'])} has no price, no weight and no cut_off", "write one of them, or delete the row", item.span)
            return None
        return self.make(**values) if len(self.problems) == before else None

    def _wrong(self, reason: str, cure: str, span: Span) -> None:
        self.problems.append(Problem(reason, cure, span=span))

    def _once(self, item: Cell, line: int) -> None:
        key = " ".join(item.value.lower().split())
        if key in self.seen:
            self._wrong(f"{quoted(item.value)} stands in line {self.seen[key]} already", "keep one of the two", item.span)
        self.seen.setdefault(key, line)

    def _unit(self, cell: Cell | None) -> str:
        if cell is None:
            return "each"
        word = str(cell.value).strip().lower()
        if word not in self.units:
            close = nearest(word, self.units) or {"foot": "ft", "feet": "ft", "metre": "m", "meter": "m", "pc": "each", "pcs": "each", "piece": "each"}.get(word)
            self._wrong(f"'unit' is {quoted(cell.value)}", (f"did you mean '{close}'? " if close else "") + f"there are {', '.join(self.units)}", cell.span)
        return word

    def _by_length(self, item: Cell, cells: Mapping[str, Cell]) -> None:
        """A price of hose or tube that nobody says the length of would be taken for the whole of it, however long."""
        told = next((cells[key] for key in ("price", "weight") if key in cells), None)
        if told is not None and "unit" not in cells and bought_by_length(item.value):
            self._wrong(f"{quoted(item.value)} means hose or tube, and the row does not say for what length it is",
                        f"give it a 'unit': {', '.join(unit for unit in self.units if unit != 'each')}; or 'each' for an assembly made to length", told.span)

    def _price(self, cell: Cell | None) -> float | None:
        if cell is None:
            return None
        said: object = cell.value
        number = said if isinstance(said, (int, float)) and not isinstance(said, bool) else _number(str(said))
        if number is None or not 0.0 <= number < 1e9:
            self._wrong(f"'price' is {quoted(cell.value)}, not a bare number", "write it as 9.50; what money it is goes into 'currency'", cell.span)
        return number

    def _measured(self, cell: Cell | None, kind: str) -> float | None:
        if cell is None:
            return None
        key = "weight" if kind == "mass" else "cut_off"
        try:
            found: float = parse(cell.value, kind, name=key)
        except UnitError as error:
            self._wrong(error.reason, error.hint, cell.span)
            return None
        if not 0.0 < found < 1e4:
            self._wrong(f"{key!r} is {quoted(cell.value)}, not above zero", f"write it e.g. '{_FOR_EXAMPLE[key]}', or leave it out", cell.span)
        return found

    def _currency(self, cell: Cell | None) -> None:
        if cell is None:
            return
        if self.currency is None:
            self.currency = Cell(str(cell.value).strip(), cell.span)
        elif str(cell.value).strip() != self.currency.value:
            self._wrong(f"'currency' is {quoted(cell.value)}, and {quoted(self.currency.value)} in line {self.currency.span.line}",
                        "a file is of one currency: convert the price, or keep two files", cell.span)


def _number(text: str) -> float | None:
    """A bare number; None for anything else: a comma may part thousands or decimals.

    >>> _number("9.50"), _number("$ 9.50"), _number("1,250")
    (9.5, None, None)
    """
    return float(text) if re.fullmatch(r"\s*\d+(\.\d+)?\s*", text) else None


# ---- TOML ----

def _of_toml(text: str, name: str, problems: list[Problem]) -> tuple[list[tuple[dict[str, Cell], int]], Cell | None]:
    """([(cells by key, line)], currency or None)."""
    table = read_table(text, name)
    places = Positions(text)
    found, currency = [], None
    for key, value in table.items():
        if key == "currency":
            currency = Cell(str(value), places.value((key,)))
        elif key != "item":
            problems.append(_unknown(key, ("currency", "item"), places.key((key,))))
    listed = table.get("item", [])
    if not isinstance(listed, list) or not all(isinstance(one, dict) for one in listed):
        problems.append(Problem("'item' is not written as a heading", "write [[item]] in double brackets, once for each", span=places.key(("item",))))
        return [], currency
    for number, one in enumerate(listed):
        path = ("item", number)
        for key in one:
            if key not in ("name", *KEYS[1:]):
                problems.append(_unknown(key, ("name", *KEYS[1:]), places.key((*path, key))))
        cells = {"item" if key == "name" else key: Cell(value, places.value((*path, key))) for key, value in one.items() if key in ("name", *KEYS[1:])}
        found.append((cells or {"note": Cell("", places.key(path))}, places.key(path).line))
    return found, currency


def _unknown(key: str, known: Iterable[str], span: Span) -> Problem:
    close = nearest(key, known)
    return Problem(f"there is no key {quoted(key)}", (f"did you mean '{close}'? " if close else "") + f"there are {', '.join(known)}", span=span)


# ---- CSV ----

def _of_csv(text: str, problems: list[Problem]) -> tuple[list[tuple[dict[str, Cell], int]], None]:
    """([(cells by key, line)], None)."""
    at = unseen(text)
    if at is not None:
        line, column = text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at)
        problems.append(Problem(f"holds the invisible letter {code_of(text[at])}", "delete it", span=Span(line, column, 1)))
        return [], None
    rows, mark, found = cells_of(text)
    problems += found
    if not rows:
        return [], None
    head = [cell.value.strip().lower().replace(" ", "_") for cell in rows[0]]
    for number, (key, cell) in enumerate(zip(head, rows[0])):
        if key and key not in KEYS:
            problems.append(_unknown(cell.value.strip(), KEYS, cell.span))
        elif key in head[:number]:
            problems.append(Problem(f"the column {quoted(key)} stands twice", "keep one of the two", span=cell.span))
    if "item" not in head:
        problems.append(Problem("the heading has no column 'item'", f"begin the file with a line such as: {','.join(KEYS[:4])}", span=rows[0][0].span))
        return [], None
    listed = []
    for row in rows[1:]:
        if len(row) > len(head):
            problems.append(Problem(f"the row has {len(row)} cells, the heading {len(head)}", "put a text that holds a comma in quotes", span=row[len(head)].span))
            continue
        cells = {key: Cell(cell.value.strip(), cell.span) for key, cell in zip(head, row) if key in KEYS and cell.value.strip()}
        if mark == ";" and "price" in cells:
            cells["price"] = Cell(cells["price"].value.replace(",", "."), cells["price"].span)  # where cells are parted so, numbers have a comma
        listed.append((cells, row[0].span.line))
    return listed, None
