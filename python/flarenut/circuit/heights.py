"""Where the junctions of a circuit are: given positions, and heights gained along runs.

A run that says how much it rises carries its height from one end to the other; one that says nothing lies straight
between its ends. Two ways to one junction must agree. A place of given pressure that nothing is said of stands at the origin, as
a tank does: were it level with its neighbour, the column between the two would be lost without a word.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from .errors import CircuitError

if TYPE_CHECKING:
    from .piece import Piece

AGREE_WITHIN = 1e-3  # metres: less than anyone measures


def rises_of(pieces: Sequence[Piece]) -> list[float] | None:
    """Height gained by each piece [m], or None when the run says nothing about heights."""
    if all(piece.rise is None for piece in pieces):
        return None
    return [piece.rise or 0.0 for piece in pieces]


def place_ends(runs: Sequence[tuple[str, str, str, list[Piece]]], positions: dict[str, tuple[float, float, float]],
               joined: Sequence[tuple[str, str]] = (), grounded: Sequence[str] = ()) -> None:
    """Positions of the ends of all runs; `positions` holds those given, and is filled up.

    Runs that say how much they rise speak first, in whichever order they are written; then what is `grounded` and still has
    no place gets the origin; runs that say nothing are level where nothing else tells. A place that nothing tells of is at the
    origin.

    runs : list of (name, from, to, pieces)
    joined : pairs of junctions that are one place: ends of a tee
    grounded : places of given pressure that the builder wrote; open air that only a run names is where its line ends
    """
    given = set(positions)
    links = [(start, end, sum(rises_of(pieces) or [0.0]), rises_of(pieces) is not None) for _, start, end, pieces in runs]
    links = sorted(links + [(one, other, 0.0, True) for one, other in joined], key=lambda link: not link[3])
    while links:
        link = next((link for link in links if link[0] in positions or link[1] in positions), None)
        told = link is not None and link[3]
        waiting = None if told else next((name for name in grounded if name not in positions), None)
        if waiting is not None:  # one at a time: a run may say where the next one is
            positions[waiting] = (0.0, 0.0, 0.0)
            continue
        if link is None:
            positions[links[0][0]] = (0.0, 0.0, 0.0)
            continue
        links.remove(link)
        start, end, rise, _ = link
        if start in positions:
            positions.setdefault(end, _raised(positions[start], rise))
        else:
            positions[start] = _raised(positions[end], -rise)
    for name, start, end, pieces in runs:
        _refuse_contradiction(name, start, end, rises_of(pieces), positions, given)


def _refuse_contradiction(name: str, start: str, end: str, rises: Sequence[float] | None,
                          positions: Mapping[str, tuple[float, float, float]], given: set[str]) -> None:
    if rises is None:
        return
    found = positions[start][2] + sum(rises)
    if abs(found - positions[end][2]) > AGREE_WITHIN:
        how = "stands" if end in given else "comes out by another way"
        cure = "give either the heights of its ends or the rise of its parts"
        if end == "ambient":
            cure += "; open air at another height is a fixed place of its own"
        raise CircuitError(f"its parts climb {sum(rises):.3f} m from '{start}' to {found:.3f} m, but '{end}' {how} at "
                           f"{positions[end][2]:.3f} m", cure, place=f"run '{name}'", key="rise")


def between(start: tuple[float, float, float], end: tuple[float, float, float],
            pieces: Sequence[Piece]) -> list[tuple[float, float, float]]:
    """Positions of the junctions inside a run, one fewer than its pieces."""
    rises = rises_of(pieces)
    lengths = [piece.length for piece in pieces]
    whole = sum(lengths)
    inside: list[tuple[float, float, float]] = []
    gone, climbed = 0.0, 0.0
    for number, piece in enumerate(pieces[:-1]):
        gone += lengths[number]
        share = gone / whole if whole > 0.0 else (number + 1) / len(pieces)
        point = [a + share * (b - a) for a, b in zip(start, end)]
        if rises is not None:
            climbed += rises[number]
            point[2] = start[2] + climbed
        inside.append((point[0], point[1], point[2]))
    return inside


def _raised(position: tuple[float, float, float], rise: float) -> tuple[float, float, float]:
    return (position[0], position[1], position[2] + rise)
