"""Names of pieces, kept while others are put in between."""

from __future__ import annotations

import copy
from typing import TYPE_CHECKING
from collections.abc import Sequence

from ..circuit.compile import piece_names
from .joints import named_pieces

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.piece import Piece
    from ..circuit.places import Run


def names_in(circuit: Circuit, run: Run) -> list[str]:
    """Names that the pieces of a run go by."""
    names = piece_names(circuit)
    return [names[run.name, place] for place in range(len(run.pieces))]


def keep_names(run: Run, names: Sequence[str]) -> None:
    """Pieces keep the names they go by, though others come between."""
    for place, (piece, name) in enumerate(zip(run.pieces, names)):
        if piece.name is None:
            run.pieces[place] = named(piece, name)


def named(piece: Piece, name: str) -> Piece:
    """A piece of that name; the piece itself stays as it is."""
    other = copy.copy(piece)
    other.name = name
    return other


def free_name(circuit: Circuit, name: str) -> str:
    """A name that nothing of a circuit has: the one asked for, or with a number."""
    taken, tried, number = {*named_pieces(circuit), *circuit.junctions}, name, 1
    while tried in taken:
        number += 1
        tried = f"{name} {number}"
    return tried
