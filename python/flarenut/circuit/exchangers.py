"""Exchangers: walls between a part of one circuit and a part of another, in a builder's words."""

from dataclasses import dataclass, replace
from math import pi

from ..units.errors import nearest, quoted
from .amounts import above_zero, count_of, not_below_zero
from .errors import CircuitError, meant
from .piece import HeatLaw

# How the streams run past each other -> its number for the engine, cpp/flarenut/heat/liquid_exchanger.hpp.
ARRANGEMENTS = {"counterflow": 0, "parallel flow": 1, "cross flow": 2, "cross flow, first mixed": 3, "cross flow, second mixed": 4,
                "cross flow, both mixed": 5, "shell and tube": 6}
# What one side is made of -> its keys beside `enhancement`.
_SHAPES = {"plates": ("plates", "length", "width", "gap"), "tubes": ("tubes", "bore", "length"), "area": ("area", "bore", "length")}
_EXAMPLE = '{plates = 10, length = "150 mm", width = "70 mm", gap = "2 mm"}'


@dataclass(frozen=True)
class Exchanger:
    """One exchanger: whose parts share it, and what it was said to be. Made by `exchanger`."""

    name: str
    ends: tuple  # (circuit, part) of the first and of the second stream
    given: dict  # key -> value as written
    law: HeatLaw  # its numbers are a function of the bore and length of both parts, where they have them

    @property
    def circuits(self):
        """Names of the two circuits."""
        return tuple(circuit for circuit, _ in self.ends)

    def changed(self, **words):
        """The same with other words; which parts it joins stays."""
        for key, value in words.items():
            if key not in KEYS:
                raise CircuitError(f"an exchanger has no {key!r} to change", meant(key, KEYS), key=key, value=value)
        given = {**self.given, **words}
        return replace(self, given=given, law=_law(**given))


KEYS = ("first_side", "second_side", "arrangement", "wall_resistance")


def exchanger(name, first, second, **given):
    """The `Exchanger` of a name, two ends and the words of `Vehicle.exchanger`."""
    return Exchanger(name, (end_of(first, "first"), end_of(second, "second")), given, _law(**given))


def end_of(value, key):
    """(circuit, part) as written."""
    if isinstance(value, (list, tuple)) and len(value) == 2 and all(isinstance(one, str) and one.strip() for one in value):
        return tuple(value)
    raise CircuitError(f"{key!r} is {quoted(value)}", 'name a circuit and a part of it: ["transmission", "cooler tube"]', key=key, value=value)


def _law(first_side=None, second_side=None, arrangement="counterflow", wall_resistance=0):
    sides = {"first": side_of(first_side, "first_side"), "second": side_of(second_side, "second_side")}
    number = arrangement_number(arrangement)
    resistance = not_below_zero(wall_resistance, "dimensionless", "wall_resistance")

    def numbers(lines):
        return {**_fields("first", sides["first"], lines[0]), **_fields("second", sides["second"], lines[1]),
                "wall_resistance": resistance, "arrangement": number}

    return HeatLaw("liquid exchanger", numbers)


def arrangement_number(value):
    """The engine's number of an arrangement."""
    if value in ARRANGEMENTS:
        return float(ARRANGEMENTS[value])
    close = nearest(str(value), ARRANGEMENTS)
    raise CircuitError(f"'arrangement' is {quoted(value)}", (f"did you mean '{close}'? " if close else "") + "there are " + "; ".join(ARRANGEMENTS),
                       key="arrangement", value=value)


def side_of(words, key):
    """Bore [m], length [m], wetted area [m2] and enhancement of one side; None where its part, a line, has them.

    >>> side = side_of({"plates": 10, "length": "150 mm", "width": "70 mm", "gap": "2 mm"}, "first_side")
    >>> {word: round(number, 6) for word, number in side.items()}
    {'bore': 0.004, 'length': 0.15, 'area': 0.21, 'enhancement': 1.0}
    """
    if words is None:
        return None
    if not isinstance(words, dict):
        raise CircuitError(f"{key!r} is {quoted(words)}", f"write what it is made of: {_EXAMPLE}", key=key, value=words)
    shape = next((keys for word, keys in _SHAPES.items() if word in words), ())
    for word in words:
        if word not in (*shape, "enhancement"):
            known = (*shape, "enhancement") if shape else sorted({one for keys in _SHAPES.values() for one in keys} | {"enhancement"})
            raise CircuitError(f"{key!r} takes no '{word}'" + (f" beside '{shape[0]}'" if shape else ""), meant(word, known), key=key, value=words)
    missing = [word for word in shape if word not in words]
    if missing:
        raise CircuitError(f"{key!r} lacks its '{missing[0]}'", f"a side by its {shape[0]} has {', '.join(shape)}", key=key, value=words)
    enhancement = above_zero(words.get("enhancement", 1), "dimensionless", f"{key}.enhancement")
    if not shape:
        return {"enhancement": enhancement}

    def length(word):
        return above_zero(words[word], "length", f"{key}.{word}")

    if shape[0] == "plates":
        bore, along = 2.0 * length("gap"), length("length")
        area = 2.0 * count_of(words["plates"], f"{key}.plates") * along * length("width")
    elif shape[0] == "tubes":
        bore, along = length("bore"), length("length")
        area = count_of(words["tubes"], f"{key}.tubes") * pi * bore * along
    else:
        bore, along, area = length("bore"), length("length"), above_zero(words["area"], "area", f"{key}.area")
    return {"bore": bore, "length": along, "area": area, "enhancement": enhancement}


def _fields(end, side, line):
    """Fields of the engine's law for one side. `line` are the numbers of a part that is a line, else None."""
    if side is None or "bore" not in side:
        if line is None:
            raise CircuitError(f"'{end}_side' is missing, and its part is no line whose bore and length would do", f"write {end}_side = {_EXAMPLE}", key=f"{end}_side")
        side = {"bore": line["bore"], "length": line["length"], "area": pi * line["bore"] * line["length"], "enhancement": 1.0, **(side or {})}
    return {f"{end}_{field}": number for field, number in side.items()}
