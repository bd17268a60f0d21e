"""The way out: SI numbers in a person's unit, and as text."""

from .errors import UnitError
from .kinds import REFERENCE_PHRASES, Kind, kind_named
from .table import UNITS
from .text import Numbers, canonical, look_up, read_text, split_number

SYSTEMS = ("us", "metric")


def in_unit(value_si: Numbers, unit: str, kind: str) -> Numbers:
    """An SI value, or an array of them, in the unit named. The inverse of `parse`; public as ``units.to``.

    Parameters
    ----------
    value_si : float or numpy array, SI; NaN (not solved) stays NaN
    unit : spelling of a unit, as `parse` reads it; "" for the plain number of a kind that takes one
    kind : one of `KINDS`

    Raises
    ------
    UnitError : unknown unit, or a unit of another kind

    >>> round(in_unit(300000.0, "psi", "pressure_difference"), 3)
    43.511
    >>> in_unit(-33863.89, "inHg vacuum", "pressure_gauge")
    10.0
    """
    wanted = kind_named(kind)
    if not isinstance(unit, str):
        raise UnitError("unit", unit, f"'unit' is {unit!r}, not text", f"write e.g. '{preferred_unit(wanted.name)}'")
    if not unit.strip():
        if wanted.plain:
            return value_si
        raise UnitError("unit", unit, f"{wanted.words} has no plain number", f"name a unit, e.g. '{preferred_unit(wanted.name)}'")
    found = look_up(canonical(unit), wanted, "unit", unit)
    number: Numbers = value_si / found.factor - found.offset if wanted.reference == "point" else value_si / wanted.scale / found.factor
    return number


def known_units(kind: str) -> list[str]:
    """The units read for a kind, one spelling each.

    >>> known_units("kinematic_viscosity")
    ['cSt', 'mm2/s', 'm2/s', 'St']
    """
    wanted = kind_named(kind)
    names = []
    for unit in UNITS[wanted.dimension].values():
        if unit.reference in (None, wanted.reference) and unit.name not in names:
            names.append(unit.name)
    return names


def preferred_unit(kind: str, system: str = "us", near: float = 0.0) -> str:
    """The unit a kind is shown in, for values about the size of `near` [SI].

    >>> preferred_unit("pressure_gauge", "metric", near=3e5)
    'barg'
    >>> preferred_unit("power", "metric", near=2e3), preferred_unit("power", "metric", near=20.0)
    ('kW', 'W')
    """
    wanted = kind_named(kind)
    if system not in SYSTEMS:
        raise UnitError("system", system, f"'system' is {system!r}", "write 'us' or 'metric'")
    chosen = ""
    for least, unit in wanted.us if system == "us" else wanted.metric:
        if least == 0 or abs(near) >= least * (1 - 1e-9):
            chosen = unit
    return chosen


# Metric pressures are in bar; a single one smaller than this, 0.0001 bar, would be told with an exponent, and is told in Pa.
_TOLD_IN_BAR = 10.0
_TOLD_IN_PASCAL = {"pressure_absolute": "Paa", "pressure_gauge": "Pag", "pressure_difference": "Pa"}
# What a vacuum is read in: in the US on a dial of its own, by the trade's usage; elsewhere as every other pressure.
VACUUM_DIALS = {"us": "inHg", "metric": "bar"}


def vacuum_unit(system: str) -> str:
    """The unit of a gauge pressure that is told as a vacuum.

    >>> vacuum_unit("us"), vacuum_unit("metric")
    ('inHg vacuum', 'bar vacuum')
    """
    preferred_unit("pressure_gauge", system)  # refuses an unknown system
    return f"{VACUUM_DIALS[system]} vacuum"


_NO_DEGREE = 5e-4  # the zero of C and of F is a place like any other: what is as near to it is there
VACUUM_SHOWN_BELOW = -170.0  # Pa gauge, 0.05 inHg: shallower than this reads as zero on any gauge


def show(value_si: float, kind: str, system: str = "us", *, ambient: float | None = None, unit: str | None = None) -> str:
    """Text for a person: "43.5 psig", "10.0 inHg vacuum", "240 L/h". What it writes, `parse` reads back.

    Parameters
    ----------
    value_si : float, SI; NaN becomes "no value"
    kind : one of `KINDS`
    system : "us" or "metric"
    ambient : absolute pressure around [Pa]; with it an absolute pressure is shown as gauge
    unit : show in this unit instead of the preferred one

    >>> show(299922.0, "pressure_gauge"), show(299922.0, "pressure_gauge", "metric"), show(-6773.0, "pressure_gauge")
    ('43.5 psig', '3.00 barg', '2.00 inHg vacuum')
    >>> show(5.0, "pressure_difference", "metric"), show(5.0, "pressure_gauge", "metric"), show(10.0, "pressure_difference", "metric")
    ('5.00 Pa', '5.00 Pag', '0.0001 bar')
    """
    if ambient is not None:
        if kind != "pressure_absolute":
            raise UnitError("ambient", ambient, f"{kind_named(kind).words} needs no ambient to be shown",
                            "leave the ambient out")
        value_si, kind = value_si - ambient, "pressure_gauge"
    unit = _shown_unit(value_si, kind, system) if unit is None else _with_reference(unit, kind)
    if value_si != value_si:
        return "no value"
    number = in_unit(value_si, unit, kind)
    text = digits(0.0 if kind == "temperature" and abs(number) < _NO_DEGREE else number)
    return f"{text} {unit}" if unit else text


def _shown_unit(value_si: float, kind: str, system: str) -> str:
    if kind == "pressure_gauge" and value_si < VACUUM_SHOWN_BELOW:
        return vacuum_unit(system)
    if system == "metric" and kind in _TOLD_IN_PASCAL and 0.0 < abs(value_si) < _TOLD_IN_BAR:
        return _TOLD_IN_PASCAL[kind]
    return preferred_unit(kind, system, value_si)


def _with_reference(unit: str, kind: str) -> str:
    """Gauge and absolute are always said: "psi" is shown as "psig" or "psia"."""
    wanted = kind_named(kind)
    if wanted.dimension != "pressure" or wanted.reference not in ("absolute", "gauge"):
        return unit
    found = look_up(canonical(unit), wanted, "unit", unit)
    if found.reference is not None:
        return unit
    for candidate in UNITS["pressure"].values():
        if candidate.reference == wanted.reference and candidate.factor == found.factor:
            return candidate.name
    raise AssertionError(f"unreachable: every pressure unit has a form that says {REFERENCE_PHRASES[wanted.reference]}")


def digits(number: float) -> str:
    """Three figures, without an exponent where a person would not write one; whole numbers above a hundred stay whole.

    >>> digits(43.511), digits(1015.3), digits(0.52349), digits(-0.0)
    ('43.5', '1015', '0.523', '0')
    """
    size = abs(number)
    if size == 0:
        return "0"
    if size < 1e-3 or size >= 1e7:
        return f"{number:.3g}"
    places = 0 if size >= 99.95 else 1 if size >= 9.995 else 2 if size >= 0.9995 else 3
    if size < 0.09995:
        places = 4 if size >= 0.009995 else 5
    return f"{number:.{places}f}"


# Units a person of either system uses beside those that values are shown in; letters for gauge and absolute left off.
_AT_HOME = {
    "us": ("psi", "ksi", "inHg", "inH2O", "in", "ft", "yd", "thou", "gal/h", "gal/min", "gph", "gpm", "lb/h", "F", "ft/s", "ft/min", "mph",
           "hp", "lb/hp/h", "in3/rev", "gal", "lb", "lb/gal"),
    "metric": ("bar", "mbar", "kPa", "MPa", "Pa", "mm", "cm", "m", "L/h", "L/min", "mL/min", "cc/min", "kg/h", "g/s", "C", "K", "m/s",
               "km/h", "W", "kW", "g/kWh", "cc/rev", "L", "kg", "kg/m3"),
}
SAID = (" boost", " vacuum", " vac", " depression")  # words that a pressure keeps through a change of units


def as_said(text: str, kind: str, system: str = "us", *, near: float = 0.0, unit: str | None = None, keep: bool = True) -> str:
    """A value in a person's own words, in the units of a system: kept where its unit is at home there, else converted.

    Parameters
    ----------
    text : what was written, as `parse` reads it; a plain number of a kind that takes one is given its unit
    kind : one of `KINDS`
    system : "us" or "metric"
    near : size [SI] that the unit is chosen for where the value is smaller: an altitude of nothing is 0 m, not 0 mm
    unit : to convert to, in place of the one that the kind is shown in
    keep : False converts what is at home there as well, so that it can stand beside others

    Raises
    ------
    UnitError : the text is no value of that kind

    >>> as_said("10 psi boost", "pressure_gauge", "metric"), as_said("18 inHg vacuum", "pressure_gauge", "metric")
    ('0.69 bar boost', '0.61 bar vacuum')
    >>> as_said("10 psi boost", "pressure_gauge"), as_said("30 C", "temperature"), as_said("0.03", "fraction")
    ('10 psi boost', '86 F', '3 %')
    """
    found = kind_named(kind)
    preferred_unit(kind, system)  # refuses an unknown system
    si = read_text(text, found, "value")
    size, spelling = split_number(text, "value")
    if not spelling:
        return " ".join(f"{in_unit(si, preferred_unit(kind, system), kind):.6g} {preferred_unit(kind, system)}".split())
    if keep and _at_home(spelling, found, system):
        return " ".join(text.split())
    if found.dimension == "pressure":
        return _pressure_said(si, spelling, found, system, text)
    unit = unit or preferred_unit(kind, system, max(abs(si), near))
    return f"{_as_fine(in_unit(si, unit, kind), text)} {unit}"


def at_home(unit: str, system: str) -> bool:
    """Whether people of a system use a unit, gauge or absolute or neither.

    >>> at_home("psig", "us"), at_home("bara", "metric"), at_home("psi", "metric")
    (True, True, False)
    """
    return unit in _AT_HOME[system] or (unit[-1:] in "ga" and unit[:-1] in _AT_HOME[system])


def _at_home(spelling: str, kind: Kind, system: str) -> bool:
    """Whether a unit belongs to the system. Where both systems show a kind alike, every unit does."""
    if kind.us == kind.metric:
        return True
    unit = look_up(spelling, kind, "unit", spelling)
    names = [name for name in _AT_HOME[system] if name in UNITS[kind.dimension]]
    return any(abs(unit.factor) == UNITS[kind.dimension][name].factor and unit.offset == UNITS[kind.dimension][name].offset
               for name in names)


def _pressure_said(si: float, spelling: str, kind: Kind, system: str, text: str) -> str:
    """A pressure keeps the word it came with, "boost" or "vacuum"; without one it says gauge or absolute by itself."""
    word = next((one for one in SAID if spelling.endswith(one)), "")
    if kind.reference == "gauge" and (si < 0 or word in SAID[1:]):
        unit = vacuum_unit(system)
    else:
        unit = preferred_unit(kind.name, system, si)
        if word and kind.reference == "gauge":
            unit = unit.removesuffix("g") + word
    return f"{_as_fine(in_unit(si, unit, kind.name), text, 3 if kind.reference == 'absolute' else 2)} {unit}"


def _as_fine(number: float, text: str, least: int = 2) -> str:
    """As many figures as were written, `least` anyway, and no rounding of whole units: a conversion adds no certainty."""
    from math import floor, log10

    written = "".join(letter for letter in text.split()[0].lower().partition("e")[0] if letter.isdigit()).lstrip("0")
    places = max(0, max(least, len(written)) - 1 - floor(log10(abs(number)))) if number else 0
    return f"{number:.{places}f}"
