"""Exchangers: walls between a part of one circuit and a part of another, in a builder's words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import pi
from typing import TYPE_CHECKING, Any, NamedTuple

from .. import _core
from ..units import parse
from ..units.errors import nearest, quoted
from .amounts import above_zero, at_point, count_of, flow, not_below_zero, share_of_one
from .engine_units import in_trade_units
from .errors import CircuitError, meant
from .piece import HeatLaw

if TYPE_CHECKING:
    from ..fluids.properties import Fluid
    from .amounts import Flow

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
    ends: tuple[tuple[str, str], tuple[str, str]]  # (circuit, part) of the first and of the second stream
    given: dict[str, Any]  # key -> value as written
    law: HeatLaw  # its numbers are a function of both `Stream`s

    @property
    def circuits(self) -> tuple[str, ...]:
        """Names of the two circuits."""
        return tuple(circuit for circuit, _ in self.ends)

    def changed(self, **words: object) -> Exchanger:
        """The same with other words; which parts it joins stays."""
        for key, value in words.items():
            if key not in KEYS:
                raise CircuitError(f"an exchanger has no {key!r} to change", meant(key, KEYS), key=key, value=value)
        given = {key: value for key, value in {**self.given, **words}.items() if value is not None}
        return replace(self, given=given, law=_law(**given))


@dataclass(frozen=True)
class Stream:
    """What an exchanger should know of one of its parts: the circuit's `Fluid`, and the numbers of a part that is a line, else None."""

    fluid: Fluid
    line: dict[str, float] | None


KEYS = ("first_side", "second_side", "arrangement", "wall_resistance", "heat", "rated_first", "rated_second", "first_share")
PASSAGE = {"bore": 4e-3, "length": 0.15}  # [m] of a plate cooler, where a rating stands for the rest (common practice, no source)
_STANDARD = 101325.0


def exchanger(name: str, first: object, second: object, **given: Any) -> Exchanger:
    """The `Exchanger` of a name, two ends and the words of `Vehicle.exchanger`."""
    return Exchanger(name, (end_of(first, "first"), end_of(second, "second")), given, _law(**given))


def end_of(value: object, key: str) -> tuple[str, str]:
    """(circuit, part) as written."""
    if isinstance(value, (list, tuple)) and len(value) == 2 and all(isinstance(one, str) and one.strip() for one in value):
        return value[0], value[1]
    raise CircuitError(f"{key!r} is {quoted(value)}", 'name a circuit and a part of it: ["transmission", "cooler tube"]', key=key, value=value)


def _law(first_side: object = None, second_side: object = None, arrangement: object = "counterflow",
         wall_resistance: object = 0, heat: object = None, rated_first: object = None, rated_second: object = None,
         first_share: object = "50 %") -> HeatLaw:
    sides = (side_of(first_side, "first_side"), side_of(second_side, "second_side"))
    said = {"arrangement": arrangement_number(arrangement)}
    resistance = not_below_zero(wall_resistance, "dimensionless", "wall_resistance")
    rating = _rating(heat, rated_first, rated_second, first_share)

    def numbers(streams: Sequence[Stream]) -> dict[str, float]:
        fields: dict[str, float] = {}
        for end, side, stream in zip(("first", "second"), sides, streams):
            fields |= _fields(end, side, stream.line, rated=rating is not None)
        if rating is not None:
            fields = _rated(heat, rating, fields, [stream.fluid.liquid for stream in streams], said)
        return {**fields, **said, "wall_resistance": resistance}

    return HeatLaw("liquid exchanger", numbers)


class _Rating(NamedTuple):
    """What both streams were rated at: heat [W], share, and (flow, inlet [K]) of each."""

    heat: float
    first_share: float
    streams: list[tuple[Flow, float]]


def _rating(heat: object, rated_first: object, rated_second: object, first_share: object) -> _Rating | None:
    """Heat [W], share, and (flow, inlet [K]) of both streams of a rating; None without one."""
    given = {"heat": heat, "rated_first": rated_first, "rated_second": rated_second}
    missing = [key for key, value in given.items() if value is None]
    share = share_of_one(first_share, "first_share")
    if len(missing) == 3:
        return None
    if missing:
        raise CircuitError(f"the rating lacks its '{missing[0]}'", 'write heat="8 kW", rated_first="20 L/min at 120 C", rated_second="60 L/min at 90 C"',
                           key=missing[0])
    streams = []
    for key in ("rated_first", "rated_second"):
        pieces = at_point(given[key], key, "20 L/min at 120 C")
        if len(pieces) != 2:
            raise CircuitError(f"{key!r} is {quoted(given[key])}", "write flow and inlet temperature, '20 L/min at 120 C'", key=key, value=given[key])
        streams.append((flow(pieces[0], key), parse(pieces[1], "temperature", name=key)))
    return _Rating(above_zero(heat, "power", "heat"), share, streams)


def _rated(heat: object, rating: _Rating, fields: dict[str, float],
           liquids: Sequence[_core.fluids.Liquid], said: dict[str, float]) -> dict[str, float]:
    """Fields of an exchanger that gives its rating back."""
    numbers: dict[str, Any] = {"heat": rating.heat, "first_share": rating.first_share, **said}
    for end, (amount, inlet), liquid in zip(("first", "second"), rating.streams, liquids):
        numbers |= {f"{end}_flow": amount.volume(liquid.at(inlet, _STANDARD).density), f"{end}_inlet": inlet}
    try:
        first, second = liquids
        return _core.heat_transfer.exchanger_of_rating(first, second, **{**fields, **numbers})
    except _core.InputError as refusal:
        key = {"first_flow": "rated_first", "first_inlet": "rated_first", "second_flow": "rated_second", "second_inlet": "rated_second"}.get(
            refusal.field, refusal.field)
        trouble, _, cure = refusal.trouble.partition("; ")
        trouble = in_trade_units(trouble)
        raise CircuitError(f"'heat' is {quoted(heat)}: {trouble}" if key == "heat" else f"{key!r} {trouble}", cure or "check the rating", key=key,
                           value=heat if key == "heat" else None) from None


def arrangement_number(value: object) -> float:
    """The engine's number of an arrangement."""
    if value in ARRANGEMENTS:
        return float(ARRANGEMENTS[value])
    close = nearest(str(value), ARRANGEMENTS)
    raise CircuitError(f"'arrangement' is {quoted(value)}", (f"did you mean '{close}'? " if close else "") + "there are " + "; ".join(ARRANGEMENTS),
                       key="arrangement", value=value)


def side_of(words: Any, key: str) -> dict[str, float] | None:
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

    def length(word: str) -> float:
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


def _fields(end: str, side: dict[str, float] | None, line: Mapping[str, float] | None, rated: bool = False) -> dict[str, float]:
    """Fields of the engine's law for one side. `line` are the numbers of a part that is a line, else None; a rating says what else lacks."""
    if side is None or "bore" not in side:
        if line is None and rated:
            return {f"{end}_{field}": number for field, number in {**PASSAGE, **(side or {})}.items()}
        if line is None:
            raise CircuitError(f"'{end}_side' is missing, and its part is no line whose bore and length would do", f"write {end}_side = {_EXAMPLE}", key=f"{end}_side")
        side = {"bore": line["bore"], "length": line["length"], "area": pi * line["bore"] * line["length"], "enhancement": 1.0, **(side or {})}
    return {f"{end}_{field}": number for field, number in side.items()}
