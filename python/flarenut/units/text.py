"""Reading one value written as text: split number from unit, find the unit, check it against the kind."""

import re
from functools import lru_cache
from math import isfinite
from typing import Any, TypeVar

from .errors import UnitError, quoted
from .kinds import DIMENSION_WORDS, MOST, REFERENCE_PHRASES, Kind
from .slips import meant_unit
from .table import UNITS, Unit

Numbers = TypeVar("Numbers", bound=Any)  # a float, or an array of them

# Patterns stay text until first used: compiling them would be half the cost of importing the package.
_DECIMAL = r"(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"
_NUMBER = (r"\s*(?P<sign>[+-]?)\s*(?:(?:(?P<whole>\d+)[\s-]+)?(?P<top>\d+)\s*/\s*(?P<bottom>\d+)(?![\d.])"
           rf"|(?P<decimal>{_DECIMAL}))\s*")
_FEET = r"(?i:feet|foot|ft\.?|')(?![A-Za-z/])\s*"
_DASH_SIZE = r"\s*(?:-\s*\d{1,2}(?:\s*dash)?|\d{1,2}\s*dash)\s*"
_LETTERS = {"¼": " 1/4", "½": " 1/2", "¾": " 3/4",
            "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8", "²": "2", "³": "3",
            "−": "-", "–": "-", "″": '"', "“": '"', "”": '"', "′": "'", "’": "'", "·": " ", "⋅": " ", "×": " ",
            "°": "deg", "º": "deg", "\u00b5": "u", "\u03bc": "u", "\u03a9": "ohm", "\u2126": "ohm", "Δ": "delta",
            "\u00a0": " ", "\u202f": " "}  # no-break spaces; micro and ohm have two code points each
_PLAIN_LETTERS = str.maketrans(_LETTERS)


def plain_letters(text: str) -> str:
    """A text with one letter for each sign; two marks of a foot are one of an inch.

    >>> plain_letters("3/8''"), plain_letters("½″")
    ('3/8"', ' 1/2"')
    """
    return text.translate(_PLAIN_LETTERS).replace("''", '"')


@lru_cache(maxsize=1024)  # the same few units again and again
def canonical(unit: str) -> str:
    """A unit's spelling with one form for powers, products and spaces.

    >>> canonical("ft·lb"), canonical("m^3 / h"), canonical("lb per hr."), canonical("° F")
    ('ft lb', 'm3/h', 'lb/hr', 'deg F')
    """
    unit = plain_letters(unit).replace("**", "").replace("^", "")
    unit = re.sub(r"\bper\b", "/", unit)
    unit = re.sub(r"[*.]|(?<=[A-Za-z])-(?=[A-Za-z])", " ", unit)
    return re.sub(r"\s*([/()])\s*", _tight, " ".join(unit.split()))


def _tight(match: re.Match[str]) -> str:
    return match.group(1)


_FOLDED: dict[str, dict[str, str]] = {}  # dimension -> lower-case spelling -> Unit, filled when a spelling first misses


def _same_but_prefix(text: str, spelling: str) -> bool:
    """True when upper or lower case decides between milli and mega: 'mpa' or 'mPa' is not safely 'MPa'."""
    if text[0] == spelling[0] or spelling[0] not in "mM":
        return False
    return text[0] == "m" or text[1:] == spelling[1:] or spelling.startswith("mPa")


def find_unit(spelling: str, dimension: str) -> Unit | None:
    """The unit of that canonical spelling in a dimension, or None. Case is forgiven except between milli and mega."""
    known = UNITS[dimension]
    unit = known.get(spelling)
    if unit is None and spelling:
        if dimension not in _FOLDED:
            folded: dict[str, str] = {}
            _FOLDED[dimension] = folded
            for right in known:
                folded.setdefault(right.lower(), right)
        meant = _FOLDED[dimension].get(spelling.lower())
        if meant is not None and meant != "K" and not _same_but_prefix(spelling, meant):
            unit = known[meant]
    return unit


def split_number(text: str, name: str, example: str = "8 mm") -> tuple[float, str]:
    """Number and unit spelling of one value; feet and inches are added up to feet."""
    plain = plain_letters(text)
    match = re.match(_NUMBER, plain)
    if match is None:
        what = "is empty" if not plain.strip() else f"is {quoted(text)}, which does not start with a number"
        raise UnitError(name, text, f"'{name}' {what}", f"write a number and a unit, e.g. '{example}'")
    size, rest = _magnitude(match, text, name), plain[match.end():]
    feet = re.match(_FEET, rest)
    inches = re.match(_NUMBER, rest[feet.end():]) if feet else None
    if feet and inches and not inches["sign"]:
        if find_unit(canonical(rest[feet.end() + inches.end():]), "length") is UNITS["length"]["in"]:
            size, rest = size + _magnitude(inches, text, name) / 12, "ft"
        elif rest[feet.end() - 1].isspace() or rest[0] == "'":  # "11 ft 6", but not the powers in "20 ft2" and "3 ft3/min"
            raise UnitError(name, text, f"'{name}' is {quoted(text)}, feet followed by something that is not inches",
                            "write '11 ft 6 in'")
    size = -size if match["sign"] == "-" else size
    if not isfinite(size):
        raise UnitError(name, text, f"'{name}' is {quoted(text)}, beyond what a number can hold", "check the exponent")
    if rest[:1] == ",":
        raise UnitError(name, text, f"'{name}' is {quoted(text)}, with a comma in the number",
                        "write the decimal mark as a point and thousands without a mark, e.g. '3.5' or '1000'")
    if re.match(r"[\d.+-]", rest) and not re.match(r"1\s*/\s*[A-Za-z]", rest):  # "1/K" is a unit
        raise UnitError(name, text, f"'{name}' is {quoted(text)}, which holds more than one number",
                        "give one value and one unit; a mixed fraction is written '1 1/2 in'")
    return size, canonical(rest)


def _magnitude(match: re.Match[str], text: str, name: str) -> float:
    if match["decimal"] is not None:
        return float(match["decimal"])
    if float(match["bottom"]) == 0:
        raise UnitError(name, text, f"'{name}' is {quoted(text)}, a fraction over zero", "correct the fraction")
    return float(match["whole"] or 0) + float(match["top"]) / float(match["bottom"])


def look_up(spelling: str, kind: Kind, name: str, value: object) -> Unit:
    """The unit a value of this kind is given in; anything unknown or of another kind raises `UnitError`."""
    unit = find_unit(spelling, kind.dimension)
    if unit is None:
        raise _unknown(spelling, kind, name, value)
    if unit.reference is not None and unit.reference != kind.reference:
        given = REFERENCE_PHRASES[unit.reference] if kind.dimension == "pressure" else "a temperature difference"
        raise UnitError(name, value, f"{quoted(value)} is {given}; '{name}' wants {kind.words}", _cure(unit, kind))
    return unit


def _cure(unit: Unit, kind: Kind) -> str:
    if kind.reference == "absolute" and unit.reference == "gauge":
        return f"add the ambient pressure and write it e.g. '{kind.example}'"
    if kind.reference == "gauge" and unit.reference == "absolute":
        return f"take the ambient pressure off and write it e.g. '{kind.example}'"
    return f"write it e.g. '{kind.example}'"


def _unknown(spelling: str, kind: Kind, name: str, value: object) -> UnitError:
    shown = quoted(value)
    exact = [dimension for dimension in UNITS if spelling in UNITS[dimension]]
    for dimension in exact or UNITS:
        if dimension != kind.dimension and find_unit(spelling, dimension) is not None:
            if kind.dimension in _PER_TIME and dimension in ("volume", "mass"):
                return _no_time(shown, spelling, kind, name, value)
            return UnitError(name, value, f"{shown} is {DIMENSION_WORDS[dimension]}; '{name}' wants {kind.words}",
                             f"write it e.g. '{kind.example}'")
    right = _FOLDED.get(kind.dimension, {}).get(spelling.lower())
    if right is not None:
        prefix = "m is a thousandth, M a million" if {right[0], spelling[0]} == {"m", "M"} else "the unit has its own"
        hint = f"did you mean '{right}'? Upper and lower case matter: {prefix}"
    elif kind.dimension == "length" and re.search(r"(^|[A-Za-z\"'] ?)[xX] ?\d", spelling):
        return UnitError(name, value, f"'{name}' is {shown}, two lengths in one", "give one; outside diameter, wall and bore have keys of their own")
    elif spelling.startswith(("+/-", "±")) or re.search(r"(^| )(to|at) .*\d", spelling):
        return UnitError(name, value, f"'{name}' is {shown}, which holds more than one value",
                         f"give one value and one unit, e.g. '{kind.example}'")
    else:
        fitting = {word: unit for word, unit in UNITS[kind.dimension].items() if unit.reference in (None, kind.reference)}
        close = meant_unit(spelling, fitting)
        hint = f"did you mean '{close.name}'?" if close else f"{kind.words} is written e.g. '{kind.example}'"
    return UnitError(name, value, f"'{name}' is {shown}: unknown unit '{spelling}'", hint)


_PER_TIME = ("volume_flow", "mass_flow")


def _no_time(shown: str, spelling: str, kind: Kind, name: str, value: object) -> UnitError:
    """The error for an amount that should flow: "440 cc" for "440 cc/min"."""
    rates = [rate for rate in ("/min", "/h") if find_unit(spelling + rate, "volume_flow") or find_unit(spelling + rate, "mass_flow")]
    written = " or ".join(f"'{str(value).strip()}{rate}'" for rate in rates)
    amount = DIMENSION_WORDS["mass" if find_unit(spelling, "mass") else "volume"]
    return UnitError(name, value, f"{shown} is {amount} without a time; '{name}' wants {kind.words}",
                     f"say per minute or per hour: write {written}")


def no_unit(value: object, kind: Kind, name: str) -> UnitError:
    """The error for a number without a unit."""
    return UnitError(name, value, f"'{name}' is {quoted(value)}, a number without a unit; it wants {kind.words}",
                     f"give it a unit, e.g. '{kind.example}'")


def read_text(text: str, kind: Kind, name: str) -> float:
    """SI value of one text for a `Kind`. Uncached; see `reading.parse`."""
    if kind.dimension == "length" and re.fullmatch(_DASH_SIZE, text.translate(_PLAIN_LETTERS)):
        raise UnitError(name, text, f"'{name}' is {quoted(text)}, a dash size (the outside diameter of a tube in sixteenths "
                        "of an inch), not a length",
                        "give it under the size key, or give the measured length with its unit, e.g. '8.7 mm'")
    size, spelling = split_number(text, name, kind.example)
    if not spelling:
        if not kind.plain:
            raise no_unit(text, kind, name)
        return check_plain(size, kind, name, text)
    return check_range(to_si(size, look_up(spelling, kind, name, text), kind, name, text), kind, name, text)


def to_si(number: Numbers, unit: Unit, kind: Kind, name: str, value: object) -> Numbers:
    """SI value of a number in a unit already checked against the kind."""
    if unit.factor < 0 and number < 0:
        raise UnitError(name, value, f"'{name}' is {quoted(value)}: vacuum already counts downwards from the ambient",
                        "write vacuum without the minus sign")
    si: Numbers = (number + unit.offset) * unit.factor if kind.reference == "point" else number * unit.factor * kind.scale
    return si


def check_plain(number: float, kind: Kind, name: str, value: object) -> float:
    """A plain number for a kind that takes one. A fraction beyond 1 is more likely per cent left unsaid."""
    if kind.name == "fraction" and not -1.0 <= number <= 1.0:
        raise UnitError(name, value, f"'{name}' is {quoted(value)}, a fraction beyond 1",
                        f"write '{number:g} %' for per cent")
    check_most(number, kind, name, value)
    return number


def check_most(si: float, kind: Kind, name: str, value: object) -> None:
    """Refuse what is beyond anything on wheels: a slip of the exponent or of the unit."""
    most, words = MOST[kind.name]
    if abs(si) > most:
        raise UnitError(name, value, f"'{name}' is {quoted(value)}, beyond {words}, the most that is taken of {kind.words}",
                        f"check the number and its unit, e.g. '{kind.example}'")


DEEPEST_VACUUM = -110e3  # Pa gauge; no barometer on earth has stood higher (108.5 kPa, from memory), so none is deeper


def check_range(si: float, kind: Kind, name: str, value: object) -> float:
    """Refuse what cannot exist: beyond all numbers, below absolute zero, below nothing, deeper than full vacuum."""
    if not isfinite(si):  # the number was, and its unit made it too large
        raise UnitError(name, value, f"'{name}' is {quoted(value)}, beyond what a number can hold", "check the exponent")
    if kind.reference == "point" and si < 0:
        raise UnitError(name, value, f"'{name}' is {quoted(value)}, below absolute zero", "check the number and the unit")
    if kind.reference == "absolute" and si < 0:
        raise UnitError(name, value, f"'{name}' is {quoted(value)}, an absolute pressure below zero",
                        "a pressure below ambient is a gauge pressure, e.g. '10 inHg vacuum'")
    if kind.reference == "gauge" and si < DEEPEST_VACUUM:
        raise UnitError(name, value,
                        f"'{name}' is {quoted(value)}, deeper than full vacuum (about 30 inHg or 101 kPa below ambient)",
                        "check the number and the unit")
    check_most(si, kind, name, value)
    return si


