"""Mouths: what the end of a line in a tank or in open air costs, put in where the run does not write it.

A line that ends in a tank loses its velocity head there, and one that draws from a tank pays for the turn into it, whether
or not anybody thinks of it. A run that begins or ends with a `pickup` or an `opening` of its own is left alone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from .parts_fittings import EDGES
from .piece import Piece

if TYPE_CHECKING:
    from .circuit import Circuit
    from .places import Run

_WRITTEN = ("opening", "return opening")
# Engine kind -> its bores at inlet and outlet. Devices have none: what they lose is in their own figures.
_BORES = {"line": ("bore", "bore"), "three-k fitting": ("bore", "bore"), "size step": ("inlet_bore", "outlet_bore")}


@dataclass
class Mouth:
    """One such end: the engine part that stands for it, and the piece whose bore it has."""

    name: str
    kind: str
    piece: Piece
    at_end: bool

    def numbers(self, numbers: Sequence[Mapping[str, float]]) -> dict[str, float]:
        """Its numbers [SI], from those of each element of the piece."""
        element = self.piece.elements[-1 if self.at_end else 0]
        bore = numbers[-1 if self.at_end else 0][_BORES[element.kind][self.at_end]]
        return {"bore": bore, "entrance_loss": EDGES["standing in"]}


def mouth_of(circuit: Circuit, run: Run, at_end: bool, taken: Sequence[str] = ()) -> Mouth | None:
    """The `Mouth` of a run's beginning or end; None where it meets no tank or open air, or says it itself."""
    place = run.end if at_end else run.start
    if circuit.junctions[place].kind != "tank" and place != "ambient":
        return None
    piece = run.pieces[-1 if at_end else 0]
    kind = piece.elements[-1 if at_end else 0].kind
    if kind in _WRITTEN or kind not in _BORES:
        return None
    name = f"{run.name} into {place}" if at_end else f"{run.name} out of {place}"
    while name in taken:
        name += " (mouth)"
    return Mouth(name, "return opening" if at_end else "opening", piece, at_end)
