"""A circuit as Python and notebooks show it: what it is called, what is in it, which cases it must stand."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .circuit import Circuit
    from .piece import Piece


def counted(circuit: Circuit) -> str:
    """One line: "<circuit 'my wagon': E85, 2 runs, 7 parts, 4 places, 3 cases>"."""
    parts = sum(len(run.pieces) for run in circuit.runs.values()) + len(circuit.multiport)
    counts = (_many(len(circuit.runs), "run"), _many(parts, "part"), _many(len(circuit.junctions), "place"), _many(len(circuit.cases), "case"))
    return f"<circuit {circuit.name!r}: {circuit.fluid.name}, {', '.join(counts)}>"


def page(circuit: Circuit) -> str:
    """The same with the names of all: HTML with inline style only."""
    rows = [("runs", [f"{run.name}: {run.start} → {run.end}, {', '.join(_called(piece) for piece in run.pieces)}" for run in circuit.runs.values()]),
            ("tees and injectors", [f"{name}: {', '.join(ends)}" for name, (_, ends) in circuit.multiport.items()]),
            ("places", [", ".join(circuit.junctions)] if circuit.junctions else []), ("cases", [", ".join(circuit.cases)] if circuit.cases else [])]
    body = "".join(f'<tr><th scope="row" style="text-align:left;vertical-align:top;padding:2px 10px;border:none;font-weight:600">{heading}</th>'
                   f'<td style="text-align:left;padding:2px 10px;border:none">{"<br>".join(map(escape, lines))}</td></tr>'
                   for heading, lines in rows if lines)
    invented = " · invented circuit" if circuit.invented else ""
    return (f'<div style="font-weight:600">{escape(circuit.name)} · {escape(circuit.fluid.name)}{invented}</div>'
            f'<table style="border-collapse:collapse"><tbody>{body}</tbody></table>')


def _called(piece: Piece) -> str:
    word = piece.word.replace("_", " ")
    return f"{word} '{piece.name}'" if piece.name else word


def _many(number: int, word: str) -> str:
    return f"{number} {word}" if number == 1 else f"{number} {word}s"
