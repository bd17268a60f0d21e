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
    """[(run, pump piece)] of pumps that nothing can feed, and that deliver to where a tank is, or another pump: their ends were swapped.

    One-way devices, other pumps and injectors are passed only the way that they let liquid go. Where a check valve met from behind is all that
    keeps liquid from a pump, it is not the pump.
    """
    ways = _ways(circuit)
    feeds = {name for name, junction in circuit.junctions.items() if junction.kind != "free" or junction.demand < 0.0}
    found = []
    for run in circuit.runs.values():
        pumps = [piece for piece in run.pieces if _is_pump(piece)]
        if not pumps:
            continue
        rest = [way for way in ways if way[3] is not run]
        past_checks = [(end, start, one_way and not _checks_alone(of)) for start, end, one_way, of in rest]
        if not feeds & _reached(run.start, past_checks):
            plain = _reached(run.end, [(start, end, False) for start, end, one_way, _ in rest if not one_way])
            fed_behind = feeds & _reached(run.end, past_checks)
            found += [(run, piece) for piece in pumps if fed_behind or any(circuit.junctions[name].kind == "tank" for name in plain)]
    return found


def pumps_from_what_is_fed(circuit: Circuit) -> list[tuple[Run, Piece]]:
    """[(run, pump piece)] of pumps before which stands what is to be fed, injectors or a place that draws, and behind which a tank is open.

    A place may draw from the tank before a pump: it tells nothing where one is open there, too. Nothing is said of a pump that another delivers
    to: it may be there to help the return along.
    """
    held = {name for name, junction in circuit.junctions.items() if junction.kind != "free"}
    injected = {ends[0] for piece, ends in circuit.multiport.values() if piece.word == "injectors"}
    drawing = {name for name, junction in circuit.junctions.items() if junction.demand > 0.0}
    delivered = {run.end for run in circuit.runs.values() if any(_is_pump(piece) for piece in run.pieces)}
    found = []
    for run in circuit.runs.values():
        pumps = [piece for piece in run.pieces if _is_pump(piece)]
        plain = [(one, other, False) for one, other, one_way, of in _ways(circuit) if of is not run and (not one_way or _checks_alone(of))
                 and not {one, other} & held]
        if not pumps or run.start in held:
            continue
        before = _reached(run.start, plain)
        behind = _reached(run.end, plain)
        others = [set(way[:2]) for way in _ways(circuit) if way[3] is not run and not way[2]]

        def tank_at(end: str, reached: set[str], others: list[set[str]] = others) -> bool:
            met = ({end} | {name for ends in others if ends & reached for name in ends}) & held
            return any(circuit.junctions[name].kind == "tank" for name in met)

        turned = before & injected or before & drawing and not tank_at(run.start, before)
        if turned and not behind & (injected | drawing) and not before & delivered and tank_at(run.end, behind):
            found += [(run, piece) for piece in pumps]
    return found


def pumps_against_runs(circuit: Circuit) -> list[tuple[Run, Piece]]:
    """[(run, pump piece)] of pumps that draw from where all other runs begin, and deliver to where all others end."""
    met = {end for _, ends in circuit.multiport.values() for end in ends}
    met |= {name for name, one in circuit.junctions.items() if one.kind != "free"}
    found = []
    for run in circuit.runs.values():
        others = [other for other in circuit.runs.values() if other is not run]
        before, behind = ([other for other in others if place in (other.start, other.end)] for place in (run.start, run.end))
        against = all(other.start == run.start for other in before) and all(other.end == run.end for other in behind)
        if before and behind and against and not {run.start, run.end} & met:
            found += [(run, piece) for piece in run.pieces if _is_pump(piece)]
    return found


def _ways(circuit: Circuit) -> list[tuple[str, str, bool, Run | None]]:
    """(from, to, whether it leads that way only, run or None) of all that joins two places."""
    ways: list[tuple[str, str, bool, Run | None]] = [(run.start, run.end, _is_one_way(run), run) for run in circuit.runs.values()]
    for piece, ends in circuit.multiport.values():
        ways += [(one, other, piece.word != "tee", None) for number, one in enumerate(ends) for other in ends[number + 1:]]
    return ways


def _checks_alone(run: Run | None) -> bool:
    """Whether check valves are all that makes a run lead one way only."""
    return run is not None and all(piece.word == "check_valve" or not (_is_pump(piece) or piece.word in _DEVICES) for piece in run.pieces)


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
