"""`parse` and `dash`: what the rest of the package calls to turn words into SI numbers."""

import re
from functools import lru_cache
from math import isfinite
from typing import Any

from . import foreign
from .errors import UnitError, quoted
from .kinds import DENSITY_TWINS, KINDS, Kind, kind_named
from .quantity import Quantity
from .text import check_plain, find_unit, no_unit, read_text, split_number


@lru_cache(maxsize=8192)
def _cached(text: str, kind: str) -> float:
    return read_text(text, kind_named(kind), "value")


def parse(value: object, kind: str, *, name: str = "value", density: float | str | Quantity | None = None) -> Any:
    """The SI value of a text, a quantity or, where the kind takes one, a plain number.

    Parameters
    ----------
    value : text such as "43.5 psi" or "11 ft 6 in"; a `Quantity`; a quantity of Pint, astropy or unyt, single or array;
        something labelled with a ``units`` text and ``values``; or a plain number for voltages, fractions and plain numbers
    kind : one of `KINDS` ("pressure_gauge", "length", ...), or "flow" for either a mass or a volume flow
    name : what to call the value in messages
    density : [kg/m3] or text. Lets a mass stand for a volume and the reverse (flows, amounts, viscosities)

    Returns
    -------
    float, or a numpy array of the same shape for an array quantity, in SI: Pa, K, m, m2, m3, s, kg, kg/m3, Pa s, m2/s,
    m3/s, kg/s, m/s, rad/s, W, V, A, N m, N, J, rad, m3/rad, kg/J, ratios as numbers. "turn_rate" gives turns per second
    and "displacement_per_turn" m3 per turn. Kind "flow" returns a pair, the value and "mass" [kg/s] or "volume" [m3/s].

    Raises
    ------
    UnitError : no unit, an unknown unit, a unit of another kind, not a finite number, or a value that cannot exist

    >>> round(parse("43.5 psi", "pressure_gauge"))
    299922
    >>> round(parse("11 ft 6 in", "length"), 9)
    3.5052
    >>> parse("10 inHg vacuum", "pressure_gauge")
    -33863.89
    >>> parse("43 psig", "pressure_absolute", name="vapour pressure")
    Traceback (most recent call last):
    ...
    flarenut.units.errors.UnitError: '43 psig' is a gauge pressure; 'vapour pressure' wants an absolute pressure: \
add the ambient pressure and write it e.g. '14.7 psia'
    """
    if type(value) is str and kind in KINDS:
        try:
            return _cached(value, kind)
        except UnitError:
            pass  # said again below, this time with the caller's name
    if kind == "flow":
        return _flow_of_text(value, name) if type(value) is str else _flow(value, name)
    wanted = kind_named(kind)
    try:
        return _read(value, wanted, name)
    except UnitError:
        if wanted.name not in DENSITY_TWINS:
            raise
        twin = KINDS[DENSITY_TWINS[wanted.name]]
        other = _read_or_none(value, twin, name)
        if other is None:
            raise
    if density is None:
        raise UnitError(name, value, f"{quoted(value)} is {twin.words}; '{name}' wants {wanted.words}",
                        f"give {wanted.words} such as '{wanted.example}', or pass the density")
    if not isinstance(density, (int, float)) or isinstance(density, bool):
        density = float(parse(density, "density", name="density"))
    if not (isfinite(density) and density > 0):
        raise UnitError("density", density, f"'density' is {density}", "it must be above zero, e.g. '740 kg/m3'")
    return other * density if wanted.name in ("mass_flow", "mass", "dynamic_viscosity") else other / density


@lru_cache(maxsize=1024)
def _flow_of_text(text: str, name: str) -> tuple[Any, str]:
    """As `_flow`, which finds what a text is by being refused: here its unit says it first."""
    try:
        spelling = split_number(text, name)[1]
    except UnitError:
        return _flow(text, name)
    for kind, word in (("mass_flow", "mass"), ("volume_flow", "volume")):
        if find_unit(spelling, kind) is not None:
            return read_text(text, KINDS[kind], name), word
    return _flow(text, name)


def _flow(value: object, name: str) -> tuple[Any, str]:
    for kind, word in (("mass_flow", "mass"), ("volume_flow", "volume")):
        found = _read_or_none(value, KINDS[kind], name)
        if found is not None:
            return found, word
    try:
        _read(value, KINDS["volume_flow"], name)
    except UnitError as error:
        reason = error.reason.replace("a volume flow", "a flow")
        raise UnitError(name, value, reason, error.hint.replace("a volume flow", "a flow")) from None
    raise AssertionError("unreachable: the volume flow was just refused")


def _read_or_none(value: object, kind: Kind, name: str) -> Any:
    try:
        return _read(value, kind, name)
    except UnitError:
        return None


def _read(value: object, kind: Kind, name: str) -> Any:
    if isinstance(value, str):
        return read_text(value, kind, name)
    if isinstance(value, Quantity):
        return value.as_kind(kind.name, name=name)
    if foreign.has_unit(value):
        return foreign.to_si(value, kind, name)
    return _plain_number(value, kind, name)


def _plain_number(value: object, kind: Kind, name: str) -> Any:
    number = foreign.plain(value, kind, name)
    if not kind.plain:
        if kind.dimension == "length" and type(number) is int and -64 <= number < 0:
            raise UnitError(name, value, f"'{name}' is {value}, which looks like a dash size, not a length",
                            f"write the dash size in quotes under the size key, '{value}', or give a length, e.g. '8.7 mm'")
        raise no_unit(value, kind, name)
    if isinstance(number, int):
        number = float(number)
    for extreme in foreign.extremes(number):
        check_plain(extreme, kind, name, value)
    return number


_DASH = r"\s*(?:[-−–](\d{1,2})|(\d{1,2})\s*dash)\s*"
LARGEST_DASH = 64  # 4 in; sizes on sale end near 32


def dash(value: object, *, name: str = "size") -> int:
    """The dash size of a text: the outside diameter of the tube in sixteenths of an inch. It is not a bore.

    Parameters
    ----------
    value : text, "-6", "-06" or "6 dash"
    name : what to call the value in messages

    Returns
    -------
    int, sixteenths of an inch

    Raises
    ------
    UnitError : anything else, also a bare number or a length

    >>> dash("-6")
    6
    """
    if isinstance(value, str):
        match = re.fullmatch(_DASH, value)
        if match:
            number = int(match[1] or match[2])
            if 1 <= number <= LARGEST_DASH:
                return number
            raise UnitError(name, value, f"'{name}' is {quoted(value)}; a dash size lies between -1 and -{LARGEST_DASH}",
                            "it counts sixteenths of an inch, so '-6' is 3/8 in tube")
        try:
            _, spelling = split_number(value, name)
        except UnitError:
            spelling = ""
        if spelling and find_unit(spelling, "length") is not None:
            raise UnitError(name, value, f"'{name}' is {quoted(value)}, a length, and a dash size is wanted",
                            "write the dash size as '-6', or give the length under its own key")
        if spelling and re.match(r"\s*-\d", value):
            raise UnitError(name, value, f"'{name}' is {quoted(value)}: a dash size stands alone",
                            f"write '-{abs(int(split_number(value, name)[0]))}' and leave the rest off")
    elif type(value) is int and value != 0:
        raise UnitError(name, value, f"'{name}' is the bare number {value}", f"write the dash size in quotes, '-{abs(value)}'")
    raise UnitError(name, value, f"'{name}' is {quoted(value)}, not a dash size", _dash_meant(value))


def _dash_meant(value: object) -> str:
    """How to write a dash size that stands in "8", "#8" or "8AN"."""
    numbers = re.findall(r"\d+", value) if isinstance(value, str) and not re.search(r"[./]", value) else []
    if len(numbers) == 1 and 1 <= int(numbers[0]) <= LARGEST_DASH:
        return f"write it as '-{int(numbers[0])}'"
    return "write it as '-6' or '6 dash'"
