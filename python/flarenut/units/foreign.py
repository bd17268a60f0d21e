"""Quantities of other libraries, read by their shape: Pint, astropy, unyt, and anything with a ``units`` text.

None of these libraries is imported. Whole arrays are converted at once. Three traps are watched:

* temperatures: a point and a difference are told apart by the unit's name, and converted by our own arithmetic;
* turns: Pint holds a radian to be 1, so that hertz would pass for rad/s and cc for cc/rev, off by 2 pi. A kind that
  counts angle wants a unit that names an angle, and no other kind takes one;
* user units: a Pint "psig" that someone defined is taken as gauge, as its name says.
"""

import re
import sys
from typing import Any

from .errors import UnitError, quoted
from .kinds import Kind
from .table import Unit
from .text import canonical, check_plain, check_range, find_unit, look_up, no_unit
from .text import to_si as own_to_si

_ANGLE = r"radian|\bm?rad\b|rev|turn|cycle|deg(?!ree_[CFRK])(?![CFRK_])|rpm|rps"
_ANGULAR = ("rotation", "displacement", "angle")


def has_unit(value: object) -> bool:
    """True for an object that carries a unit, whichever library made it."""
    if hasattr(value, "units"):
        return hasattr(value, "magnitude") or hasattr(value, "values") or hasattr(value, "value")
    return hasattr(value, "unit") and hasattr(value, "value")


def to_si(value: Any, kind: Kind, name: str) -> Any:
    """SI value of such an object: a float, or a float64 array of the same shape."""
    unit = value.units if hasattr(value, "units") else value.unit
    unit_name = _long_name(unit)
    shown = f"{_short(value)} {unit_name}".strip()
    if kind.dimension == "temperature":
        known = find_unit(canonical(unit_name), "temperature")
        if known is not None:
            _check_temperature(known, kind, name, value, shown)
            return _finish(own_to_si(_numbers(_raw(value), name, shown), known, kind, name, shown), kind, name, shown)
    own = find_unit(canonical(unit_name), kind.dimension)
    if own is not None and own.reference is not None:
        look_up(canonical(unit_name), kind, name, shown)  # raises when, say, a user's own "psig" meets another kind
    if isinstance(unit, str):  # labelled data: no arithmetic of its own, so our table reads the label
        known = look_up(canonical(unit), kind, name, shown) if unit.strip() else None
        numbers = _numbers(_raw(value), name, shown)
        if known is None:
            if not kind.plain:
                raise no_unit(shown, kind, name)
            return _plain_range(numbers, kind, name, shown)
        return _finish(own_to_si(numbers, known, kind, name, shown), kind, name, shown)
    if bool(re.search(_ANGLE, unit_name)) != (kind.dimension in _ANGULAR):
        wants = "a unit counting an angle, such as rpm or cc/rev" if kind.dimension in _ANGULAR else "no angle in its unit"
        raise UnitError(name, value, f"'{name}' is {shown}; {kind.words} wants {wants}", f"write it e.g. '{kind.example}'")
    numbers = _numbers(_converted(value, kind, name, shown), name, shown) * kind.scale
    if unit_name in ("", "dimensionless"):
        return _plain_range(numbers, kind, name, shown)
    return _finish(numbers, kind, name, shown)


def _plain_range(numbers: Any, kind: Kind, name: str, shown: str) -> Any:
    for extreme in extremes(numbers):
        check_plain(extreme, kind, name, shown)
    return _finish(numbers, kind, name, shown)


def _long_name(unit: Any) -> str:
    """Pint prints units short or long as its user chose; the "D" format is always long."""
    try:
        return format(unit, "D") if hasattr(unit, "dimensionality") else str(unit)
    except (TypeError, ValueError):
        return str(unit)


def _raw(value: Any) -> Any:
    for attribute in ("magnitude", "values", "value"):
        if hasattr(value, attribute):
            return getattr(value, attribute)
    raise AssertionError("unreachable: has_unit asked for one of these")


def _converted(value: Any, kind: Kind, name: str, shown: str) -> Any:
    target = kind.si or "dimensionless"
    try:
        if hasattr(value, "magnitude"):  # Pint
            return value.to(target).magnitude
        if hasattr(value, "unit"):  # astropy
            return value.to_value(kind.si)
        return value.to(target).value  # unyt
    except Exception as error:  # each library has its own error class, and importing them to name it is the cost avoided
        raise UnitError(name, value, f"'{name}' is {shown}; it wants {kind.words}", f"write it e.g. '{kind.example}'") from error


def _check_temperature(unit: Unit, kind: Kind, name: str, value: object, shown: str) -> None:
    is_step = unit.reference == "difference"
    if kind.reference == "point" and is_step:
        raise UnitError(name, value, f"'{name}' is {shown}, a temperature difference; it wants {kind.words}",
                        f"write it e.g. '{kind.example}'")
    if kind.reference == "difference" and not is_step and unit.offset:
        raise UnitError(name, value,
                        f"'{name}' is {shown}, a temperature on a scale with its own zero; it wants {kind.words}",
                        f"use a delta unit or kelvin, or write text, e.g. '{kind.example}'")


def _numbers(raw: Any, name: str, shown: str) -> Any:
    """A float, or a float64 array, of a library's bare values."""
    if isinstance(raw, bool) or getattr(getattr(raw, "dtype", None), "kind", "f") not in "fiuO":
        raise UnitError(name, raw, f"'{name}' is {shown}, not a real number", "give a number and a unit")
    if getattr(raw, "ndim", 0):
        numpy = sys.modules["numpy"]  # the array came from there
        return numpy.array(raw, dtype=float, subok=False)
    try:
        return float(raw)
    except (TypeError, ValueError):
        raise UnitError(name, raw, f"'{name}' is {shown}, not a real number", "give a number and a unit") from None


def _finish(numbers: Any, kind: Kind, name: str, shown: str) -> Any:
    check_finite(numbers, shown, name)
    for extreme in extremes(numbers):
        check_range(extreme, kind, name, shown)
    return numbers


def extremes(numbers: Any) -> tuple[float, ...]:
    """Smallest and largest of a number or an array, to check a whole array against limits by two of its values."""
    if isinstance(numbers, float):
        return (numbers,)
    return (float(numbers.min()), float(numbers.max())) if numbers.size else ()


def check_finite(numbers: Any, shown: object, name: str) -> None:
    """Refuse NaN and infinity, in a number or anywhere in an array."""
    if isinstance(numbers, float):
        finite = numbers - numbers == 0
    else:
        finite = bool(sys.modules["numpy"].isfinite(numbers).all())
    if not finite:
        raise UnitError(name, shown, f"'{name}' is {quoted(shown)}, which holds a value that is not finite", "remove it")


def plain(value: Any, kind: Kind, name: str) -> Any:
    """The int, float or float64 array in an object without a unit; anything else is an error."""
    if type(value) in (int, float):
        if not -sys.float_info.max <= value <= sys.float_info.max:  # also catches NaN, and integers no float can hold
            raise UnitError(name, value, f"'{name}' is {quoted(value)}, not a finite number", f"give e.g. '{kind.example}'")
        return value
    dtype = getattr(value, "dtype", None)
    if dtype is not None and getattr(dtype, "kind", "") in "fiu" and hasattr(value, "astype"):
        if not getattr(value, "ndim", 0):
            return plain(value.item(), kind, name)
        numbers = value.astype(float)
        check_finite(numbers, value, name)
        return numbers
    what = "true or false" if isinstance(value, bool) or getattr(dtype, "kind", "") == "b" else f"a {type(value).__name__}"
    if value is None:
        what = "missing"
    raise UnitError(name, value, f"'{name}' is {quoted(value)}, {what}, not a number with a unit",
                    f"write e.g. '{kind.example}'")


def _short(value: Any) -> str:
    raw = _raw(value)
    return f"{raw}" if not getattr(raw, "ndim", 0) else f"an array of {raw.size} values in"
