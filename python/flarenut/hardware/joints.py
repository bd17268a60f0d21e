"""Joints of a circuit: where two things are screwed together, and what each of them offers there.

Along a run every piece meets the next one. The ends of a run meet the ports that the run says it `meets`; those of a tee where there is one;
else, where just two runs come together and neither says that it meets a port there, each other. Mouths in tanks are no fittings: what stands beside one meets the port of the tank.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from ..circuit.compile import piece_names
from ..catalog import End

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.piece import Piece
    from ..circuit.places import Run

FITTINGS = ("adapter", "straight", "elbow", "reducer")  # words of parts that only join others
_MOUTHS = ("opening", "pickup")
_DRILLED = ("passage", "bearings", "squirters")
_SCREWED = (*FITTINGS, "hose", "tube")  # always a thing of its own


@dataclass(frozen=True)
class Side:
    """One of the two things of a joint."""

    name: str  # of the part, the tee or the place
    word: str  # of its builder; "place" for a tank or a junction
    end: End | None  # what it offers; None where nobody said
    index: int = 0  # which of its ends

    @property
    def told(self) -> End:
        """What it offers, of a side that is known to say it."""
        assert self.end is not None, f"'{self.name}' does not say its end"
        return self.end


class Joint(NamedTuple):
    """Two things that meet in a run."""

    run: str
    one: Side
    other: Side

    @property
    def place(self) -> str:
        """In words: "feed hose to fuel filter"."""
        return f"{self.one.name} to {self.other.name}"


def joints_of(circuit: Circuit) -> list[Joint]:
    """Every `Joint` of a circuit, run by run; holes that are drilled into each other are none."""
    names = piece_names(circuit)
    found, met = [], set()
    for run in circuit.runs.values():
        sides = _sides(run, names)
        if not sides:
            continue
        for at_end in (False, True):
            place = run.end if at_end else run.start
            own = sides[-1][1] if at_end else sides[0][0]
            other = _other_side(circuit, run, at_end, names)
            if other is not None and (other.word == "place" or place not in met):
                pair = (own, other) if at_end else (other, own)
                found.append((run.name, len(sides) if at_end else 0, Joint(run.name, *pair)))
                if other.word not in ("place", "tee"):
                    met.add(place)
        found += [(run.name, number, Joint(run.name, before[1], after[0])) for number, (before, after) in enumerate(zip(sides, sides[1:]), 1)]
    order = list(circuit.runs)
    return [joint for _, _, joint in sorted(found, key=lambda one: (order.index(one[0]), one[1])) if not _is_drilled(joint)]


def _is_drilled(joint: Joint) -> bool:
    """Whether nothing is screwed together: a drilled passage with what lies in the same block, of which nobody says that it has an end."""
    sides = (joint.one, joint.other)
    return any(side.word in _DRILLED for side in sides) and all(side.end is None and side.word not in _SCREWED for side in sides)


def _sides(run: Run, names: Mapping[tuple[str, int], str]) -> list[tuple[Side, Side]]:
    """Inlet and outlet `Side` of every piece of a run that is a thing of its own."""
    found = []
    for place, piece in enumerate(run.pieces):
        if piece.word not in _MOUTHS:
            name = names[run.name, place]
            first, last = (Side(name, piece.word, piece.shop.ends[index], index) for index in (0, 1))
            found.append((first, last))
    return found


def _other_side(circuit: Circuit, run: Run, at_end: bool, names: Mapping[tuple[str, int], str]) -> Side | None:
    """What the beginning or the end of a run is screwed into; None where there is nothing to screw into."""
    place, port = (run.end, run.meets[1]) if at_end else (run.start, run.meets[0])
    if port is not None:
        return Side(place, "place", port)
    for name, (piece, ends) in circuit.multiport.items():
        if piece.word == "tee" and place in ends:
            return Side(name, "tee", piece.shop.ends[ends.index(place)] if len(piece.shop.ends) == 3 else None, ends.index(place))
    if place == "ambient":
        return None
    others = [(one, end) for one in circuit.runs.values() for end in (False, True)
              if (one is not run or end != at_end) and (one.end if end else one.start) == place]
    if circuit.junctions[place].kind == "free" and len(others) == 1 and others[0][0].meets[1 if others[0][1] else 0] is None:
        sides = _sides(others[0][0], names)
        return (sides[-1][1] if others[0][1] else sides[0][0]) if sides else None
    return Side(place, "place", None)


def named_pieces(circuit: Circuit) -> dict[str, Piece]:
    """Name of every piece of a circuit -> the piece."""
    found = {name: circuit.runs[run].pieces[place] for (run, place), name in piece_names(circuit).items()}
    return {**found, **{name: piece for name, (piece, _) in circuit.multiport.items()}}
