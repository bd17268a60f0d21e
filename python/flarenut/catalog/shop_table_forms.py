"""Columns of a shop's own tables, and reading their cells: a number under a column that names its unit, or a text with its unit."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from ..units import UnitError, dash, parse
from ..units.errors import nearest
from ..units.letters import code_of, unseen

UNITS: dict[str, dict[str, float | None]] = {
    "length": {"in": 0.0254, "mm": 1e-3, "um": 1e-6},
    "pressure_difference": {"psi": 6894.757293168, "MPa": 1e6, "kPa": 1e3, "bar": 1e5, "inHg": 3386.389, "GPa": 1e9},
    "temperature": {"C": None, "F": None, "K": None},
    "density": {"kg_m3": 1.0},
}
_PRESSURE = "pressure_difference"
KINDS: dict[str, dict[str, str]] = {
    "hose": {"standard": "text", "spec": "text", "dash": "dash", "construction": "text", "liner": "text", "bore": "length", "outside": "length",
             "working": _PRESSURE, "proof": _PRESSURE, "burst": _PRESSURE, "bend_radius": "length", "temperature_min": "temperature",
             "temperature_max": "temperature", "vacuum": _PRESSURE, "roughness": "length"},
    "tube": {"od": "length", "wall": "length", "material": "text", "working": _PRESSURE, "usual": "text"},
    "material": {"material": "text", "density": "density", "tensile": _PRESSURE, "yield": _PRESSURE, "youngs": _PRESSURE, "poisson": "plain",
                 "roughness": "length"},
    "compatibility": {"material": "text", "fluid": "text", "verdict": "text", "reason": "text"},
}
EVERYWHERE = {"source": "text", "how": "text", "note": "text"}
NEEDED = {"hose": ("standard",), "tube": ("od", "wall"), "material": ("material", "density", "tensile"),
          "compatibility": ("material", "fluid", "verdict")}
VERDICTS = ("yes", "limited", "no")
_RANGES = {"bore": (1e-4, 0.5), "outside": (1e-4, 0.6), "bend_radius": (1e-3, 10.0), "roughness": (0.0, 5e-3), "od": (1e-3, 0.5),
           "wall": (1e-5, 0.1), "working": (1e3, 1e9), "proof": (1e3, 2e9), "burst": (1e3, 4e9), "vacuum": (1e3, 101325.0),
           "temperature_min": (50.0, 500.0), "temperature_max": (250.0, 1000.0), "density": (500.0, 25000.0), "tensile": (1e6, 5e9),
           "yield": (1e6, 5e9), "youngs": (1e7, 1e12), "poisson": (0.0, 0.5)}  # [SI]
_SAME = 0.01  # two columns of one value, in inches and in millimetres, agree within that


class TableProblem(NamedTuple):
    """One thing wrong in a shop's table."""

    file: str
    line: int | None
    column: str
    reason: str
    cure: str

    def __str__(self) -> str:
        place = self.file + (f", line {self.line}" if self.line else "") + (f", column '{self.column}'" if self.column else "")
        return f"{place}: {self.reason}" + (f". Cure: {self.cure}" if self.cure else "")


class Refused(ValueError):
    """A cell that cannot be read: column, reason, cure."""

    def __init__(self, column: str, reason: str, cure: str) -> None:
        super().__init__(reason)
        self.column, self.reason, self.cure = column, reason, cure


def column_of(kind: str, heading: str) -> tuple[str, str | None]:
    """(field, unit) of a column's heading, "working_psi" -> ("working", "psi"); the unit None where cells bring theirs.

    Raises `Refused` for a heading that the kind of table does not have.
    """
    fields = {**KINDS[kind], **EVERYWHERE}
    name = heading.strip()
    if name in fields:
        return name, None
    for field in sorted(fields, key=len, reverse=True):
        unit = name[len(field) + 1:]
        if name.startswith(field + "_") and unit in UNITS.get(fields[field], ()):
            return field, unit
    known = [field if fields[field] not in UNITS else f"{field}_{next(iter(UNITS[fields[field]]))}" for field in fields]
    close = nearest(name, [*fields, *known])
    raise Refused(heading, f"a table of {kind} has no column '{heading}'", (f"did you mean '{close}'? " if close else "") + "there are " + ", ".join(known))


def value_of(kind: str, heading: str, cell: object) -> tuple[str, float | str]:
    """(field, SI value) of a cell. Raises `Refused`."""
    field, unit = column_of(kind, heading)
    what = {**KINDS[kind], **EVERYWHERE}[field]
    if isinstance(cell, (list, dict)):
        raise Refused(heading, "this is a list or a table", "write one value")
    if isinstance(cell, str) and (at := unseen(cell)) is not None:  # as TOML writes it with an escape
        raise Refused(heading, f"the cell holds the invisible letter {code_of(cell[at])}", "delete it")
    if what == "text":
        return field, _text(heading, cell, field)
    if what == "dash":
        return field, _dash(heading, cell)
    number = _plain(heading, cell) if unit or what == "plain" else _with_unit(heading, cell, what)
    if unit in ("C", "F", "K"):
        number = {"C": number + 273.15, "F": (number + 459.67) / 1.8, "K": number}[unit]
    elif unit and (scale := UNITS[what][unit]) is not None:
        number *= scale
    low, high = _RANGES[field]
    if not low <= number <= high:
        raise Refused(heading, f"{cell!r} is out of range", f"'{field}' lies between {low:g} and {high:g} in SI; check its unit")
    return field, number


def _text(heading: str, cell: object, field: str) -> str:
    text = ("yes" if cell else "") if isinstance(cell, bool) else str(cell).strip()
    if field == "verdict" and text not in VERDICTS:
        raise Refused(heading, f"{text!r} is no verdict", "write yes, limited or no")
    return text


def _dash(heading: str, cell: object) -> int:
    try:
        text = str(cell).strip()
        number = int(text) if text.removeprefix("-").isdigit() else dash(text, name="dash")
    except (UnitError, ValueError):
        raise Refused(heading, f"{cell!r} is no dash size", "write 6 or -6") from None
    if not 1 <= abs(number) <= 64:
        raise Refused(heading, f"{cell!r} is no dash size", "dash sizes go from 1 to 64")
    return abs(number)


def _plain(heading: str, cell: object) -> float:
    try:
        if isinstance(cell, bool) or not isinstance(cell, (str, int, float)):
            raise ValueError
        number = float(cell)
    except (ValueError, TypeError, OverflowError):  # TypeError: a list or table of TOML; OverflowError: a whole number beyond all others
        comma = "," in str(cell)
        raise Refused(heading, f"{cell!r} is no number", "write a point, not a comma, in numbers" if comma else
                      "the heading names the unit, so the cell holds a number alone, such as 250") from None
    if number != number or abs(number) == float("inf"):
        raise Refused(heading, f"{cell!r} is no finite number", "leave the cell empty where nothing is known")
    return number


def _with_unit(heading: str, cell: object, what: str) -> float:
    try:
        number: float = parse(cell if isinstance(cell, str) else str(cell), what, name=heading)
        return number
    except UnitError as error:
        units = ", ".join(f"{heading}_{unit}" for unit in UNITS[what])
        raise Refused(heading, error.reason, f"{error.hint}; or name the unit in the heading: {units}") from None


def checked(kind: str, found: Mapping[str, Any]) -> list[Refused]:
    """Problems of a whole row, as `Refused` list: what is missing, or does not go together. `found`: field -> value."""
    wrong = [Refused(need, f"no '{need}' is said", f"every row of a {kind} table has one") for need in NEEDED[kind] if not found.get(need)]
    pairs = (("working", "proof"), ("working", "burst"), ("proof", "burst"), ("temperature_min", "temperature_max"), ("bore", "outside"))
    for low, high in pairs:
        if found.get(low) and found.get(high) and found[low] >= found[high]:
            wrong.append(Refused(high, f"'{high}' is not above '{low}'", "check both and their units"))
    if kind == "tube" and found.get("od") and found.get("wall") and 2.0 * found["wall"] >= found["od"]:
        wrong.append(Refused("wall", "two walls leave no bore", "check the wall and its unit"))
    if kind == "hose" and len({*found} - {*EVERYWHERE, "standard", "dash", "construction"}) == 0:
        wrong.append(Refused("standard", "the row says nothing of its hose",
                             "give a bore, a working pressure, a bend radius, temperatures or a vacuum"))
    return wrong


def merged_value(field: str, heading: str, old: float, new: float) -> float:
    """One value of two columns that say the same in two units. Raises `Refused` where they disagree."""
    if abs(old - new) > _SAME * max(abs(old), abs(new)):
        raise Refused(heading, f"this says another '{field}' than the column before it", "correct one, or leave it empty")
    return old
