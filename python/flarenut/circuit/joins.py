"""Who meets whom in a circuit: sets of places that parts join, and what can flow into them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .circuit import Circuit
    from .piece import Piece
    from .places import Run

_DEVICES = ("check_valve", "bypass_regulator", "reducing_regulator", "relief_valve")


def groups_of(links: Iterable[Sequence[str]], is_free: Callable[..., Any]) -> list[set[str]]:
    """Places of no given pressure that parts join, without passing through a tank or open air.

    links : lists of the places that one part or run joins
    is_free : whether a place has no given pressure, by its name
    """
    groups: list[set[str]] = []
    for link in links:
        free = {end for end in link if is_free(end)}
        apart = [group for group in groups if not group & free]
        joined = free.union(*(group for group in groups if group & free))
        groups = [*apart, joined] if joined else apart
    return groups


def backward_runs(circuit: Circuit) -> list[Run]:
    """Runs whose pump empties into a tank a set of places that nothing can flow into: from and to were swapped.

    A line without a one-way device may flow either way, so that where one leads out of the set, or anything leads in, nothing is said.

    Returns
    -------
    list of `Run`
    """
    held = {name for name, junction in circuit.junctions.items() if junction.kind != "free"}
    links = [[run.start, run.end] for run in circuit.runs.values()] + [ends for _, ends in circuit.multiport.values()]
    found = []
    for group in groups_of(links, lambda end: end not in held):
        leads = [run for run in circuit.runs.values() if {run.start, run.end} & group and {run.start, run.end} & held]
        only_out = all(run.start in group and _is_one_way(run) for run in leads)
        tees = [ends for piece, ends in circuit.multiport.values() if piece.word == "tee" and set(ends) & group and set(ends) & held]
        if only_out and not tees and not any(circuit.junctions[name].demand < 0.0 for name in group):
            found += [run for run in leads if circuit.junctions[run.end].kind == "tank" and any(_is_pump(piece) for piece in run.pieces)]
    return found


def backward_pumps(circuit: Circuit) -> list[tuple[Run, Piece]]:
    """[(run, pump piece)] of pumps that nothing can feed, and that deliver to where a tank is: their ends were swapped.

    One-way devices, other pumps and injectors are passed only the way that they let liquid go.
    """
    ways: list[tuple[str, str, bool, Run | None]] = [(run.start, run.end, _is_one_way(run), run) for run in circuit.runs.values()]
    for piece, ends in circuit.multiport.values():
        ways += [(one, other, piece.word != "tee", None) for number, one in enumerate(ends) for other in ends[number + 1:]]
    feeds = {name for name, junction in circuit.junctions.items() if junction.kind != "free" or junction.demand < 0.0}
    found = []
    for run in circuit.runs.values():
        pumps = [piece for piece in run.pieces if _is_pump(piece)]
        if not pumps:
            continue
        rest = [way for way in ways if way[3] is not run]
        if not feeds & _reached(run.start, [(end, start, one_way) for start, end, one_way, _ in rest]):
            plain = _reached(run.end, [(start, end, False) for start, end, one_way, _ in rest if not one_way])
            found += [(run, piece) for piece in pumps if any(circuit.junctions[name].kind == "tank" for name in plain)]
    return found


def _reached(start: str, ways: Sequence[tuple[str, str, bool]]) -> set[str]:
    """Places that are reached from one; ways are (from, to, whether it leads that way only)."""
    reached, waiting = {start}, [start]
    while waiting:
        here = waiting.pop()
        new = {end for begin, end, _ in ways if begin == here} | {begin for begin, end, one_way in ways if end == here and not one_way}
        waiting += new - reached
        reached |= new
    return reached


def _is_pump(piece: Piece) -> bool:
    return piece.word.endswith("pump")


def _is_one_way(run: Run) -> bool:
    return any(_is_pump(piece) or piece.word in _DEVICES for piece in run.pieces)
