"""A price file that a builder keeps: what things cost, and where they know it, what they weigh and what hose ends take up.

CSV with a heading line, or TOML with one [[item]] each. Keys: `item`, a name of the bill in which * stands for anything and ? for one letter;
`price`, a bare number; `unit`, "each", "ft" or "m"; `currency`, any text, the same throughout; `weight`, "0.12 lb" of one, of a foot or of a
metre as `unit` says; `cut_off`, what a hose end takes up of its assembly's length, "1.1 in"; `note`.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from ..circuit.file.problems import FileError, Problem
from .price_file import read_rows

UNITS = {"each": None, "ft": 0.3048, "m": 1.0}  # length that a price or a weight is for [m]


@dataclass(frozen=True)
class PriceRow:
    """One line of a price file. Numbers in SI but the price, which is in the file's currency."""

    item: str
    price: float | None = None
    unit: str = "each"
    weight: float | None = None  # [kg] of one unit
    cut_off: float | None = None  # [m]
    note: str = ""
    line: int = 0

    @property
    def closeness(self) -> tuple[int, bool]:
        """How much of an item's name the row spells out: the more, the nearer it is meant."""
        return len(re.sub(r"[*?]", "", self.item)), "*" not in self.item and "?" not in self.item

    def means(self, name: str) -> bool:
        """Whether it is a price of the thing of that name."""
        return _pattern(self.item).fullmatch(_folded(name)) is not None


class Prices:
    """What a price file holds.

    Parameters
    ----------
    rows : `PriceRow`s
    currency : text to show with costs; "" where none is said
    name : of the file, as bills show it
    """

    def __init__(self, rows: Sequence[PriceRow], currency: str = "", name: str = "price list") -> None:
        self.rows, self.currency, self.name = tuple(rows), currency, name
        self._by_closeness = sorted(self.rows, key=lambda row: row.closeness, reverse=True)

    def price(self, *names: str, by_piece: bool = False) -> PriceRow | None:
        """The `PriceRow` that gives a thing its price; where several mean it, the one that spells out most of its name. None where none does.

        Of what is bought `by_piece` a row by length says the price only where no other does: "hose * ptfe*" means hose, and not its ends.

        >>> rows = [PriceRow("hose end -8 *", 12.0), PriceRow("hose end *", 9.0)]
        >>> Prices(rows).price("hose end -8 37 flare female").price, Prices(rows).price("tee -8")
        (12.0, None)
        """
        return self._first(names, "price", by_piece)

    def rivals(self, *names: str, by_piece: bool = False) -> list[PriceRow]:
        """Other `PriceRow`s with another price for the thing, which are no wider than the one that counts: nobody can tell which is meant.

        >>> rows = [PriceRow("hose end * for ptfe*", 12.0), PriceRow("hose end *, 90 deg", 9.0), PriceRow("hose end *", 7.0)]
        >>> [row.item for row in Prices(rows).rivals("hose end -8 37 flare female for ptfe, 90 deg")]  # "hose end *" is the rule, the others exceptions
        ['hose end *, 90 deg']
        """
        chosen = self.price(*names, by_piece=by_piece)
        if chosen is None:
            return []
        return [row for row in self._by_closeness if row is not chosen and row.price is not None and any(row.means(name) for name in names)
                and (row.price, row.unit) != (chosen.price, chosen.unit) and (UNITS[row.unit] is None) == (UNITS[chosen.unit] is None) and not row.means(chosen.item)]

    def weight(self, *names: str, by_piece: bool = False) -> PriceRow | None:
        """The `PriceRow` that says what a thing weighs, found as its price is; None where none does."""
        return self._first(names, "weight", by_piece)

    def cut_off(self, *names: str) -> float | None:
        """What a hose end takes up of the length of its assembly [m]; None where no row says."""
        row = self._first(names, "cut_off", True)
        return None if row is None else row.cut_off

    def nearest(self, name: str) -> str | None:
        """The item of the file that is spelled most like a name; None where nothing is close."""
        from ..units.errors import nearest

        return nearest(name, [row.item for row in self.rows])

    def _first(self, names: tuple[str, ...], what: str, by_piece: bool) -> PriceRow | None:
        found = [row for row in self._by_closeness if getattr(row, what) is not None and any(row.means(name) for name in names)]
        return next((row for row in found if not by_piece or UNITS[row.unit] is None), found[0] if found else None)

    def __repr__(self) -> str:
        return f"<prices of {len(self.rows)} items from {self.name}>"


def prices(path: str | Path) -> Prices:
    """The `Prices` of a file that a builder keeps.

    Parameters
    ----------
    path : name of a .csv or .toml file; docs/guide/cutting_and_cost.md shows both

    Raises
    ------
    FileError : the file cannot be used; its text names file, line, column, what is wrong and the cure, for every problem
    """
    name = str(path)
    if Path(name).suffix.lower() not in (".csv", ".toml"):
        raise FileError(name, [Problem("is neither .csv nor .toml", "end the name of a price file in one of the two")])
    if not Path(name).exists():
        raise FileError(name, [Problem("there is no such file", "check the name and the folder")])
    rows, currency = read_rows(name, PriceRow, tuple(UNITS))
    return Prices(rows, currency, Path(name).name)


def prices_of(given: str | Prices | Path | None) -> Prices | None:
    """`Prices` of what a caller gave: themselves, the name of a file, or None."""
    return given if given is None or isinstance(given, Prices) else prices(given)


def _folded(name: str) -> str:
    return " ".join(name.lower().split())


def _pattern(item: str) -> re.Pattern[str]:
    return re.compile("".join({"*": ".*", "?": "."}.get(letter, re.escape(letter)) for letter in _folded(item)))
