"""Circuits made from others: a copy of its own, and a run taken out to be plumbed elsewhere."""

from __future__ import annotations

import copy
from dataclasses import replace
from typing import TYPE_CHECKING

from .errors import CircuitError, meant

if TYPE_CHECKING:
    from .circuit import Circuit
    from .piece import Piece


def copy_of(circuit: Circuit, name: str | None = None) -> Circuit:
    """A circuit of its own that can be changed; pieces are shared, since nothing alters a piece in place."""
    other = copy.copy(circuit)
    other.keep_compiled(None)
    other.name = circuit.name if name is None else str(name)
    other.junctions = {one: replace(junction) for one, junction in circuit.junctions.items()}
    other.runs = {one: replace(run, pieces=list(run.pieces)) for one, run in circuit.runs.items()}
    other.multiport, other.cases, other.conditions = dict(circuit.multiport), dict(circuit.cases), dict(circuit.conditions)
    other.set_aside = dict(circuit.set_aside)
    return other


def take_out(circuit: Circuit, run: str) -> list[Piece]:
    """Takes a run out of a circuit and gives its parts. Places that nothing meets any more are set aside, with all that was said of them."""
    if run not in circuit.runs:
        raise CircuitError(f"there is no run '{run}'", meant(run, circuit.runs), place="take_out", key="run", value=run)
    taken = circuit.runs.pop(run)
    for end in (taken.start, taken.end):
        if circuit.junctions[end].kind == "free" and end not in _needed(circuit):
            circuit.set_aside[end] = circuit.junctions.pop(end)
    circuit.keep_compiled(None)
    return list(taken.pieces)


def _needed(circuit: Circuit) -> set[str]:
    """Places that something meets, or goes by."""
    pieces = [piece for run in circuit.runs.values() for piece in run.pieces] + [piece for piece, _ in circuit.multiport.values()]
    felt = {place for piece in pieces for element in piece.elements for place in (*element.senses, element.feels)}
    return {one for one in felt if isinstance(one, str)} | {end for run in circuit.runs.values() for end in (run.start, run.end)} | {end for _, ends in circuit.multiport.values() for end in ends}
