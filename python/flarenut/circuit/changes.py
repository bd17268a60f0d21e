"""Changing words of the parts and places of a circuit: numbers of its plan where that is enough, a new plan where it is not."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import nan
from typing import TYPE_CHECKING

from .. import units
from .compile import all_numbers_of, columns_of, numbers_of, places_of
from .errors import CircuitError, located, meant
from .heat_words import FOUND, heat_of_place, is_meant_found, meant_found
from .places import manifold_pressure
from .ranges import in_words, key_of

if TYPE_CHECKING:
    from .circuit import Circuit
    from .compile import Compiled
    from .piece import Piece

# Words of junctions that may change: kind -> word -> (number of the plan, kind of quantity).
_OF_HEAT = {"temperature": ("temperature", "temperature"), "heat": ("heat", "power"), "heat_loss": ("conductance", "thermal_conductance"),
            "heat_capacity": ("heat_capacity", "heat_capacity")}
OF_JUNCTIONS = {"tank": {"level": ("level", "length"), "vent": ("vent", "pressure_gauge"), **_OF_HEAT},
                "fixed": {"pressure": ("gauge", "pressure_gauge"), "temperature": _OF_HEAT["temperature"]},
                "free": {"demand": ("demand", "mass_flow"), "supply": ("demand", "mass_flow"), **_OF_HEAT}}


@dataclass
class Overrides:
    """What a change or a case sets: numbers of the plan [SI], measured columns, and a fuel demand to be met by duty [kg/s]."""

    numbers: dict[str, float] = field(default_factory=dict)
    columns: dict[str, dict[str, list[float]]] = field(default_factory=dict)  # part -> {column: values}
    demand: float | None = None
    pieces: dict[str, Piece] = field(default_factory=dict)  # those that a case makes anew, by name


def changed_piece(circuit: Circuit, name: str, words: Mapping[str, object]) -> Piece:
    """The piece of a part with some of its words changed; raises `CircuitError` for an unknown part or word."""
    pieces = circuit.compiled().pieces
    if name not in pieces:
        raise CircuitError(f"there is no part or junction '{name}'", meant(name, [*pieces, *circuit.junctions]), place=name)
    try:
        return pieces[name].changed(**words)
    except ValueError as error:
        raise located(error, name) from None


def changes_of(circuit: Circuit, name: str, piece: Piece) -> Overrides:
    """The `Overrides` that put a piece in the place of the one of that name."""
    found = Overrides()
    together = numbers_of(circuit, piece, name)
    for mouth in circuit.compiled().mouths.get(name, ()):
        found.numbers |= {f"{mouth.name}.{one}": si for one, si in mouth.numbers(together).items()}
    found.numbers |= all_numbers_of(circuit, piece, name)
    for element in piece.elements:
        columns = columns_of(circuit, element)
        if columns:
            found.columns[name + element.suffix] = columns
    return found


def junction_number(circuit: Circuit, name: str, key: str, value: object) -> tuple[str, float]:
    """Number of the plan and its SI value for one changed word of a junction."""
    words = OF_JUNCTIONS[circuit.junctions[name].kind]
    if key not in words:
        raise CircuitError(f"'{name}' has no '{key}' to change", meant(key, words), key=key, value=value)
    number, kind = words[key]
    if key in _OF_HEAT and not circuit.finds_temperatures:
        raise CircuitError(f"'{name}' is given '{key}' in a circuit of given temperatures", 'write temperatures = "found" for the circuit', key=key,
                           value=value)
    if kind == "mass_flow":
        flow = flow_of_place(circuit, value, key)
        return number, flow if key == "demand" else -flow
    if key == "temperature" and isinstance(value, str) and value.strip() == FOUND:
        if not circuit.junctions[name].found:
            raise CircuitError(f"'temperature' is 'found', and '{name}' was not made so", 'make the tank with temperature="found"', key=key, value=value)
        return number, nan
    if key == "temperature" and circuit.junctions[name].kind == "tank" and is_meant_found(value):
        raise meant_found(value)
    if (name, key) == ("manifold", "pressure"):
        return number, manifold_pressure(value, key)
    return number, units.parse(value, kind, name=key, density=circuit.liquid_density())


def refuse_supply_beside_demand(words: Mapping[str, object], place: str = "") -> None:
    """Raises where both are said of one junction: to the engine they are one number."""
    if words.get("demand") is not None and words.get("supply") is not None:
        raise CircuitError("'supply' is given beside 'demand'", "liquid either comes in here or is taken out: give one of them", place=place,
                           key="supply", value=words["supply"])


def flow_of_place(circuit: Circuit, value: object, key: str) -> float:
    """Mass flow [kg/s] that is taken out of a place or put in. Below zero it is refused: a sign that slipped in turns a pump round."""
    flow: float = units.parse(value, "mass_flow", name=key, density=circuit.liquid_density())
    if flow < 0.0:
        cure = "it is what is taken out: write it without the sign; liquid that comes in from outside is the 'supply' of a junction" \
            if key == "demand" else "it is what comes in: write it without the sign"
        raise CircuitError(f"{key!r} is {value!r}, below zero", cure, key=key, value=value)
    return flow


def change(circuit: Circuit, name: str, words: Mapping[str, object]) -> None:
    """See `Circuit.change`."""
    if not words:
        raise CircuitError("nothing to change is given", 'write change("return hose", size="-6")', place=name)
    if name in circuit.junctions:
        _change_junction(circuit, name, words)
    else:
        _change_piece(circuit, name, changed_piece(circuit, name, words), words)


def _change_junction(circuit: Circuit, name: str, words: Mapping[str, object]) -> None:
    try:
        refuse_supply_beside_demand(words)
        of_engine = {key: value for key, value in words.items() if key in ("heat_share", "friction_heat") and circuit.junctions[name].kind != "fixed"}
        engine = heat_of_place(heat_share=of_engine.get("heat_share"), friction_heat=of_engine.get("friction_heat"))
        words = {key: value for key, value in words.items() if key not in of_engine}
        found = {key: junction_number(circuit, name, key, value) for key, value in words.items()}
    except ValueError as error:
        raise located(error, name) from None
    _set(circuit.compiled(), name, Overrides({f"{name}.{number}": si for number, si in found.values()}), {}, words)
    for key, (_, si) in found.items():
        setattr(circuit.junctions[name], "demand" if key == "supply" else key, None if si != si else si)
    if engine:
        before = circuit.finds_temperatures
        for key, value in engine.items():  # of which cases make heat
            setattr(circuit.junctions[name], key, value)
        if circuit.finds_temperatures != before:
            circuit.compile_anew()


def _change_piece(circuit: Circuit, name: str, piece: Piece, words: Mapping[str, object]) -> None:
    compiled = circuit.compiled()
    old, junctions = compiled.pieces[name], dict(circuit.junctions)
    before = places_of(circuit)
    _put(circuit, compiled, name, piece)
    try:
        if piece.shape == old.shape and places_of(circuit) == before:
            _set(compiled, name, changes_of(circuit, name, piece), changes_of(circuit, name, old).columns, {**piece.given, **words})
        else:  # the engine takes heights, senses and kinds of parts when it compiles
            circuit.compile_anew()
    except ValueError:
        _put(circuit, compiled, name, old)
        circuit.junctions = junctions
        circuit.keep_compiled(compiled)
        raise


def _put(circuit: Circuit, compiled: Compiled, name: str, piece: Piece) -> None:
    compiled.pieces[name] = piece
    put_piece(circuit, compiled, name, piece)


def put_piece(circuit: Circuit, compiled: Compiled, name: str, piece: Piece) -> None:
    """Writes a piece into a circuit in the place of the one of that name. `compiled` says where that is."""
    if name in circuit.multiport:
        circuit.multiport[name] = (piece, circuit.multiport[name][1])
    for (run, place), known in compiled.piece_at.items():
        if known == name:
            circuit.runs[run].pieces[place] = piece
    circuit.need_references(piece, name)


def _set(compiled: Compiled, name: str, found: Overrides, columns_before: Mapping[str, Mapping[str, Sequence[float]]],
         words: Mapping[str, object]) -> None:
    """Sets the plan to numbers and columns from now on: all of them, or none when the engine refuses one, which is told by its word."""
    plan = compiled.plan
    before = {number: compiled.base[number] for number in found.numbers}
    try:
        plan.set_many(found.numbers)
        for part, columns in found.columns.items():
            plan.set_columns(part, columns)
    except ValueError as error:
        plan.set_many(before)
        for part, before_it in columns_before.items():
            plan.set_columns(part, before_it)
        raise _worded(error, name, words) from None
    compiled.base.update(found.numbers)


def _worded(refusal: ValueError, name: str, words: Mapping[str, object]) -> CircuitError:
    """What the engine refuses, by the word that set it: key -> value as written."""
    key = key_of(getattr(refusal, "field", ""), words)
    return in_words(refusal, key, words[key], place=name) if key in words else located(refusal, name)
