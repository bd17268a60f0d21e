"""Runs of a circuit piece by piece: what each is, what its ends are, what it is cut to; then how the cut lengths come about."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ..circuit.compile import piece_names
from ..hardware.cut_list_view import cut_words
from ..hardware.items import end_in
from .markup import Markup, joined
from .tables import BOX, end_words, shown, table

if TYPE_CHECKING:
    from ..catalog.ends import End
    from ..circuit.circuit import Circuit
    from ..circuit.piece import Piece
    from ..circuit.places import Run
    from ..hardware.cut_list import CutList
    from ..hardware.cut_parts import HoseCut, TubeCut
    from ..results.table import Table

_UNSAID = "not said"
_NOT_MADE = ("opening", "pickup", "passage", "bearings", "squirters")  # what is there already


def runs_section(circuit: Circuit, cuts: CutList, units: str) -> Markup:
    """The runs, tees and injectors of a circuit, and its cut list."""
    names, rows_of = piece_names(circuit), {cut.name: cut for cut in cuts.rows}
    groups = []
    for run in circuit.runs.values():
        rows = [_row(names[run.name, place], piece, rows_of.get(names[run.name, place]), units) for place, piece in enumerate(run.pieces)]
        groups.append((_heading(run, units), rows))
    groups.append(("between runs", [_of_several(name, piece, ends, units) for name, (piece, ends) in circuit.multiport.items()]))
    made = table("Runs, in the order the liquid meets them", ["part", "what it is", "inlet end", "outlet end", "cut to", "made"], groups, right=(4,))
    if not len(cuts):
        return made
    cut_tables = cuts.tables(units).tables
    listed = [shown(one, _caption(number, one, cuts), "line" if number < _plain(cuts) else "bend") for number, one in enumerate(cut_tables)]
    return joined(made, *listed)


def _heading(run: Run, units: str) -> str:
    ports = [f"{place}: {end_in(port, units)}" for place, port in zip((run.start, run.end), run.meets) if port is not None]
    return f"{run.name}: {run.start} to {run.end}" + (f" (ports: {'; '.join(ports)})" if ports else "")


def _row(name: str, piece: Piece, cut: HoseCut | TubeCut | None, units: str) -> list[str | Markup]:
    word = piece.word.replace("_", " ")
    if cut is not None:
        return [name, f"{word} {cut.size}", *(_end(end, _UNSAID, units) for end in piece.shop.ends), cut_words(cut, units, piece.word), BOX]
    return [name, f"{word}{_size(piece)}", *(_end(end, "", units) for end in piece.shop.ends[:2]), "", Markup("") if piece.word in _NOT_MADE else BOX]


def _of_several(name: str, piece: Piece, ends: Sequence[str], units: str) -> list[str | Markup]:
    told = piece.shop.ends if len(piece.shop.ends) == len(ends) else [None] * len(ends)
    offered = joined(*(joined("\n" if number else "", f"{place}: ", _end(end, _UNSAID, units)) for number, (place, end) in enumerate(zip(ends, told))))
    return [name, f"{piece.word.replace('_', ' ')}{_size(piece)}", offered, "", "", BOX]


def _end(end: End | None, unsaid: str, units: str) -> str | Markup:
    return unsaid if end is None else end_words(end, units)


def _size(piece: Piece) -> str:
    """Size and angle of a fitting, as written."""
    given = piece.given
    words = [str(given[key]) for key in ("size", "bore") if given.get(key) is not None][:1]
    if given.get("inlet") is not None and given.get("outlet") is not None:
        words = [f"{given['inlet']} to {given['outlet']}"]
    if isinstance(given.get("angle"), (int, float)) and piece.word in ("elbow", "bend"):
        words.append(f"{given['angle']} deg")
    return f" {', '.join(words)}" if words else ""


def _plain(cuts: CutList) -> int:
    """How many tables of a cut list are of lines; those of single tubes' bends follow."""
    return bool(cuts.hoses) + bool(cuts.tubes)


def _caption(number: int, found: Table, cuts: CutList) -> str:
    if number >= _plain(cuts):
        return found.title
    return "How hoses are cut" if number == 0 and cuts.hoses else "How tubes are cut"
