"""Reading the tables, and the error for what is not in them."""

from __future__ import annotations

import csv
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from importlib.resources import files
from typing import ParamSpec, Protocol, TypeVar, cast


class Cached(Protocol):
    """A cache that can be emptied."""

    def cache_clear(self) -> None: ...


class CatalogError(ValueError):
    """Something that the catalogue does not hold.

    Parameters
    ----------
    name : the key it was asked under ("spec", "size")
    value : what was asked for
    reason : what is wrong, a sentence without its full stop
    hint : what to write instead

    >>> str(CatalogError("spec", "ptfee", "no hose specification 'ptfee'", "did you mean 'ptfe'?"))
    "no hose specification 'ptfee': did you mean 'ptfe'?"
    """

    def __init__(self, name: str, value: object, reason: str, hint: str = "") -> None:
        super().__init__(f"{reason}: {hint}" if hint else reason)
        self.name = name
        self.value = value
        self.reason = reason
        self.hint = hint

    def __reduce__(self) -> tuple[type[CatalogError], tuple[str, object, str, str]]:
        return type(self), (self.name, self.value, self.reason, self.hint)


Given = ParamSpec("Given")
Made = TypeVar("Made")

_own: dict[str, tuple[dict[str, str], ...]] = {}  # file name of a table -> rows of the user's own, newest first
_remembering: list[Cached] = []  # caches that were made from tables


def remembered(function: Callable[Given, Made]) -> Callable[Given, Made]:
    """As `functools.cache`, forgotten when rows of a user's own come or go."""
    caching = cache(function)
    _remembering.append(caching)
    return cast("Callable[Given, Made]", caching)  # what caches takes anything that can be hashed, and says so


@remembered
def table(name: str) -> tuple[dict[str, str], ...]:
    """A table as a tuple of dicts of texts, by its file name: ``table("hose_bores.csv")``.

    A user's own rows stand before those built in, and in place of those of the same thing.
    """
    own = _own.get(name, ())
    taken = {_thing(name, row) for row in own}
    return (*own, *(row for row in built_in(name) if _thing(name, row) not in taken)) if own else built_in(name)


_THINGS = {"hose_bores.csv": ("spec", "dash"), "hose_ratings.csv": ("standard", "dash"), "tube_sizes.csv": ("od_mm", "wall_mm"),
           "materials.csv": ("material",), "compatibility.csv": ("material", "fluid")}


def _thing(name: str, row: dict[str, str]) -> int | tuple[str | float, ...]:
    """What a row is of; a number to a hundredth of a millimetre, as inches and millimetres of one size differ by less."""
    texts = [row[column] for column in _THINGS.get(name, ())]
    return tuple(round(float(text), 2) if column.endswith("_mm") else text.lower() for column, text in zip(_THINGS.get(name, ()), texts)) or id(row)


@cache
def built_in(name: str) -> tuple[dict[str, str], ...]:
    """A table without the user's own rows."""
    text = (files(__package__) / name).read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def own_rows(name: str) -> tuple[dict[str, str], ...]:
    """The user's own rows of a table; those of tables that are not built in as well ("tube_ratings")."""
    return _own.get(name, ())


def put_own(tables: Mapping[str, Sequence[dict[str, str]]]) -> None:
    """Puts in the user's own rows in place of all that were: table -> rows. What was worked out from tables is forgotten."""
    _own.clear()
    _own.update({name: tuple(rows) for name, rows in tables.items() if rows})
    for caching in _remembering:
        caching.cache_clear()
