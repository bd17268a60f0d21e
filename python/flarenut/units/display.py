"""The way out: SI numbers in a person's unit, and as text."""

from .errors import UnitError
from .kinds import REFERENCE_PHRASES, kind_named
from .table import UNITS
from .text import canonical, look_up

SYSTEMS = ("us", "metric")


def in_unit(value_si, unit, kind):
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
    kind = kind_named(kind)
    if not isinstance(unit, str):
        raise UnitError("unit", unit, f"'unit' is {unit!r}, not text", f"write e.g. '{preferred_unit(kind.name)}'")
    if not unit.strip():
        if kind.plain:
            return value_si
        raise UnitError("unit", unit, f"{kind.words} has no plain number", f"name a unit, e.g. '{preferred_unit(kind.name)}'")
    found = look_up(canonical(unit), kind, "unit", unit)
    if kind.reference == "point":
        return value_si / found.factor - found.offset
    return value_si / kind.scale / found.factor


def known_units(kind):
    """The units read for a kind, one spelling each.

    >>> known_units("kinematic_viscosity")
    ['cSt', 'mm2/s', 'm2/s', 'St']
    """
    kind = kind_named(kind)
    names = []
    for unit in UNITS[kind.dimension].values():
        if unit.reference in (None, kind.reference) and unit.name not in names:
            names.append(unit.name)
    return names


def preferred_unit(kind, system="us", near=0.0):
    """The unit a kind is shown in, for values about the size of `near` [SI].

    >>> preferred_unit("pressure_gauge", "metric", near=3e5), preferred_unit("pressure_gauge", "metric", near=-2e4)
    ('barg', 'kPag')
    """
    kind = kind_named(kind)
    if system not in SYSTEMS:
        raise UnitError("system", system, f"'system' is {system!r}", "write 'us' or 'metric'")
    chosen = ""
    for least, unit in kind.us if system == "us" else kind.metric:
        if least == 0 or abs(near) >= least * (1 - 1e-9):
            chosen = unit
    return chosen


VACUUM_SHOWN_BELOW = -170.0  # Pa gauge, 0.05 inHg: shallower than this reads as zero on any gauge


def show(value_si, kind, system="us", *, ambient=None, unit=None):
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
    """
    if ambient is not None:
        if kind != "pressure_absolute":
            raise UnitError("ambient", ambient, f"{kind_named(kind).words} needs no ambient to be shown",
                            "leave the ambient out")
        value_si, kind = value_si - ambient, "pressure_gauge"
    unit = _shown_unit(value_si, kind, system) if unit is None else _with_reference(unit, kind)
    if value_si != value_si:
        return "no value"
    text = digits(in_unit(value_si, unit, kind))
    return f"{text} {unit}" if unit else text


def _shown_unit(value_si, kind, system):
    if kind == "pressure_gauge" and value_si < VACUUM_SHOWN_BELOW:
        preferred_unit(kind, system)  # refuses an unknown system
        return "inHg vacuum" if system == "us" else "kPa vacuum"
    return preferred_unit(kind, system, value_si)


def _with_reference(unit, kind):
    """Gauge and absolute are always said: "psi" is shown as "psig" or "psia"."""
    kind = kind_named(kind)
    if kind.dimension != "pressure" or kind.reference not in ("absolute", "gauge"):
        return unit
    found = look_up(canonical(unit), kind, "unit", unit)
    if found.reference is not None:
        return unit
    for candidate in UNITS["pressure"].values():
        if candidate.reference == kind.reference and candidate.factor == found.factor:
            return candidate.name
    raise AssertionError(f"unreachable: every pressure unit has a form that says {REFERENCE_PHRASES[kind.reference]}")


def digits(number):
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
