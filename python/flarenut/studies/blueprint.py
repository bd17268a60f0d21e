"""A circuit as data: to copy it, to send it to another process, to keep it beside an answer."""

from __future__ import annotations

import copy
import json
import pickle
from collections.abc import Callable
from dataclasses import asdict, replace
from typing import TYPE_CHECKING, Any

from ..circuit import Circuit, CircuitError, Vehicle
from ..circuit.cases import Case
from ..circuit.changes import put_piece
from ..circuit.places import Junction
from ..units import Quantity

if TYPE_CHECKING:
    from ..circuit.compile import Compiled
    from ..circuit.piece import Piece


def copied(circuit: Circuit) -> Circuit:
    """A circuit of its own that can be changed. Refuses what is no circuit."""
    if not isinstance(circuit, Circuit):
        raise CircuitError(f"{circuit!r} is not a circuit", whole_or_part(circuit), key="circuit", value=circuit)
    return circuit.copy()


def whole_or_part(circuit: Circuit) -> str:
    """A cure for something that is not a circuit."""
    if isinstance(circuit, Vehicle):
        name = next(iter(circuit.circuits), "coolant")
        return f"hand one of its circuits, vehicle.circuits['{name}'], which is then judged without the others; fn.sweep takes whole vehicles"
    return "make it with fn.Circuit, fn.load or copy()"


def with_fluid(circuit: Circuit, fluid: Any) -> Circuit:
    """A copy of a circuit that holds another liquid. Demands keep their mass flow."""
    fresh, other = Circuit(circuit.name, fluid, invented=circuit.invented, **circuit.conditions), copied(circuit)
    other.fluid, other.family = fresh.fluid, fresh.family
    return other


def put(circuit: Circuit, compiled: Compiled, name: str, piece: Piece) -> None:
    """Puts a piece in the place of the one of that name, which it takes over. `compiled` is of the circuit that it was copied from."""
    piece, old = copy.copy(piece), compiled.pieces[name]
    numbered = old.name is None and piece.name is None and old.word == piece.word  # both are called by their words alone, in order
    piece.name = None if numbered else name
    put_piece(circuit, compiled, name, piece)


def packed(circuit: Circuit) -> bytes:
    """A circuit as bytes for another process; made anew there from the words of its parts."""
    recipe = {
        "circuit": (circuit.name, circuit.fluid, circuit.invented, circuit.conditions, circuit.source, circuit.temperatures,
                    circuit.service),
        "junctions": [asdict(junction) for junction in circuit.junctions.values()],
        "runs": [(replace(run, pieces=[]), [_words(piece) for piece in run.pieces]) for run in circuit.runs.values()],
        "multiport": [(name, _words(piece), ends) for name, (piece, ends) in circuit.multiport.items()],
        "cases": [(case.name, case.conditions) for case in circuit.cases.values()],
    }
    try:
        return pickle.dumps(recipe)
    except Exception as error:
        raise CircuitError(f"the circuit cannot be sent to other processes: {error}", "sweep it without 'executor'", place=circuit.name,
                           key="executor") from error


def _words(piece: Piece) -> tuple[Callable[..., Piece] | None, dict[str, Any], str | None]:
    return piece._make, piece.given, piece.name


def unpacked(data: bytes) -> Circuit:
    """The circuit of `packed`, not compiled."""
    recipe = pickle.loads(data)
    name, fluid, invented, conditions, source, temperatures, service = recipe["circuit"]
    circuit = Circuit(name, fluid, invented=invented, temperatures=temperatures, service=service or None, **conditions)
    circuit.source = source
    circuit.junctions = {words["name"]: Junction(**words) for words in recipe["junctions"]}
    circuit.runs = {run.name: replace(run, pieces=[_made(piece) for piece in pieces]) for run, pieces in recipe["runs"]}
    circuit.multiport = {part: (_made(piece), list(ends)) for part, piece, ends in recipe["multiport"]}
    circuit.cases = {case: Case(case, dict(words)) for case, words in recipe["cases"]}
    return circuit


def _made(words: tuple[Callable[..., Piece], dict[str, Any], str | None]) -> Piece:
    make, given, name = words
    piece = make(**given)
    piece.name = name
    return piece


def described(circuit: Circuit) -> dict[str, list[dict[str, str | list[dict[str, Any]]]] | dict[str, Any]]:
    """A circuit as plain data in the layout of circuit files, with places in SI: what is kept beside an answer."""
    def places(kind: str) -> dict[str, dict[str, float | tuple[float, ...] | None]]:
        return {name: {key: value for key, value in asdict(junction).items() if key not in ("name", "kind", "implied")}
                for name, junction in circuit.junctions.items() if junction.kind == kind and not junction.implied}

    found: dict[str, list[dict[str, str | list[dict[str, Any]]]] | dict[str, Any]] = json.loads(json.dumps({
                                                                                  "circuit": {"name": circuit.name, "fluid": circuit.fluid.name, "invented": circuit.invented, "source": circuit.source, **circuit.conditions},
                                                                                  "tank": places("tank"), "fixed": places("fixed"), "junction": places("free"),
                                                                                  "run": [{"name": run.name, "from": run.start, "to": run.end, "parts": [_told(piece) for piece in run.pieces]} for run in circuit.runs.values()],
                                                                                  "multiport": {name: {**_told(piece), "ends": list(ends)} for name, (piece, ends) in circuit.multiport.items()},
                                                                                  "case": {case.name: case.conditions for case in circuit.cases.values()},
                                                                              }, default=_plain, ensure_ascii=False))
    return found


def _told(piece: Piece) -> dict[str, Any]:
    return {"part": piece.word, **({"name": piece.name} if piece.name else {}), **piece.given}


def _plain(value: object) -> Any | str:
    if isinstance(value, Quantity):
        return repr(value)
    return getattr(value, "name", None) or str(value)
