"""Names of pieces, kept while others are put in between."""

import copy

from ..circuit.compile import piece_names
from .joints import named_pieces


def names_in(circuit, run):
    """Names that the pieces of a run go by."""
    names = piece_names(circuit)
    return [names[run.name, place] for place in range(len(run.pieces))]


def keep_names(run, names):
    """Pieces keep the names they go by, though others come between."""
    for place, (piece, name) in enumerate(zip(run.pieces, names)):
        if piece.name is None:
            run.pieces[place] = named(piece, name)


def named(piece, name):
    """A piece of that name; the piece itself stays as it is."""
    other = copy.copy(piece)
    other.name = name
    return other


def free_name(circuit, name):
    """A name that nothing of a circuit has: the one asked for, or with a number."""
    taken, tried, number = {*named_pieces(circuit), *circuit.junctions}, name, 1
    while tried in taken:
        number += 1
        tried = f"{name} {number}"
    return tried
