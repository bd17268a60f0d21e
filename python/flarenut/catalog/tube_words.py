"""Sizes of tube as the trade writes them, outside diameter by wall in one: "3/8 in x 0.035 in", "10x1 mm"."""

from __future__ import annotations

import re

from ..units import UnitError, dash, parse
from ..units.errors import quoted
from .rows import CatalogError

_BY = r"\s*[xX×*]\s*"  # between diameter and wall
_ONE = r"(?P<number>\d+[\s-]+\d+/\d+|\d+/\d+|\d+\.?\d*|\.\d+)\s*(?P<unit>[A-Za-zµ\"″]*?)\s*(?:OD|O\.D\.|outside|wall)?"
_THINNEST = 1.0 / 100.0  # of the outside diameter: thin coolant tube of 54 x 0.9 mm has 1/60, 3 in x 0.035 in 1/86 (common practice, no source)
_WIDEST = 0.11  # [m]: wider than tube on a vehicle (judgement)
_INCH_MARKS = ("\"", "″")
_DOTTED = r"(?<=[\d\s])(in|inch|mm)\.(?=\s|$|[xX×*])"  # "3/8 in. x 0.035 in."
_GAUGE = r"(?i)\s*(?:\d{1,2}\s*(?:ga|gauge|gage|g|swg|bwg|awg)\.?|(?:#|no\.?|ga\.?|gauge|gage|swg|bwg)\s*\d{1,2})\s*(?:wall)?\s*"
_AS_TRADED = "write outside diameter and wall with their units, '3/8 in x 0.035 in' or '10 mm x 1 mm', or the wall under its own key 'wall'"


def tube_words(size: object) -> tuple[str, str] | None:
    """Outside diameter and wall of a tube as texts, where its size tells both as the trade writes them; None where it tells no two things.

    A unit that only one of the two bears is that of both, where that makes a tube; a dash may stand for the diameter.

    Raises
    ------
    CatalogError : two things of which one is no length, a wall that leaves no bore, or one unit for two that would make no tube

    >>> tube_words("3/8 x 0.035 in"), tube_words("25x1.5 mm"), tube_words("3/8 in")
    (('3/8 in', '0.035 in'), ('25 mm', '1.5 mm'), None)
    """
    if not isinstance(size, str) or not re.match(r"\s*[-−–.\d]", size):
        return None
    parts = [re.sub(_DOTTED, r"\1", part) for part in re.split(_BY, plain_inches(size).strip())]
    if len(parts) == 1:
        return None
    if len(parts) == 2:
        refuse_gauge(parts[1], "size", size)
    read = [re.fullmatch(_ONE, part) for part in parts]
    outside, wall = read if len(read) == 2 else (None, None)
    if wall is None or (outside is None and not _is_dash(parts[0])):
        raise CatalogError("size", size, f"'size' is {quoted(size)}, which is no outside diameter by wall", _AS_TRADED)
    unit = wall["unit"] or (outside["unit"] if outside else "")
    if not unit:
        raise CatalogError("size", size, f"'size' is {quoted(size)}, and its wall has no unit", _AS_TRADED)
    said = parts[0] if outside is None else _written(outside, unit), _written(wall, unit)
    across = dash(said[0]) / 16 * 0.0254 if outside is None else _length(said[0], size)
    thick = _length(said[1], size)
    if outside is not None and not (outside["unit"] and wall["unit"]) and (thick < _THINNEST * across or _is_bare_dash(outside, unit)):
        raise CatalogError("size", size, f"'size' is {quoted(size)}, which would be {said[1]} of wall on {said[0]}: only one of the two bears a unit",
                           "write both units; a dash is written with its sign, '-6 x 0.035 in'")
    if across > _WIDEST:
        raise CatalogError("size", size, f"'size' is {quoted(size)}: {said[0]} is wider than tube on a vehicle", "check the unit of the outside diameter")
    if 2.0 * thick >= across:
        raise CatalogError("size", size, f"'size' is {quoted(size)}: two walls of {said[1]} leave no bore in a tube of {said[0]}",
                           "the outside diameter comes first, then the wall: check both and their units")
    return said


def plain_inches(size: str) -> str:
    """A size with one mark for inches, however many a keyboard made of it: 3/8'' is 3/8"."""
    return size.replace("’", "'").replace("′", "'").replace("''", '"')


def refuse_gauge(wall: object, key: str, size: object) -> None:
    """Raises where a wall is told by the number of a gauge, which is another thickness in each standard of gauges."""
    if isinstance(wall, str) and re.fullmatch(_GAUGE, wall):
        raise CatalogError(key, size, f"'{key}' is {quoted(size)}, and {quoted(wall.strip())} is a wall by gauge: gauges differ by standard, so "
                           "that the number alone is no thickness",
                           "write the wall in inches or millimetres, as measured or as its maker says it, '0.035 in'")


def _written(one: re.Match[str], unit: str) -> str:
    """Number and unit of one of the two, an inch in letters."""
    own = one["unit"] or unit
    return f"{one['number']} {'in' if own in _INCH_MARKS else own}"


def _is_bare_dash(outside: re.Match[str], unit: str) -> bool:
    """Whether a whole number before a wall in inches may as well be a dash without its sign."""
    return not outside["unit"] and unit in ("in", *_INCH_MARKS) and outside["number"].isdigit() and int(outside["number"]) > 1


def _is_dash(text: str) -> bool:
    try:
        return dash(text) > 0
    except UnitError:
        return False


def _length(text: str, size: str) -> float:
    try:
        return float(parse(text, "length", name="size"))
    except UnitError as error:
        raise CatalogError("size", size, f"'size' is {quoted(size)}, and {quoted(text)} is no length", _AS_TRADED) from error
