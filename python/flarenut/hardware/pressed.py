"""Which lines stand without pressure, by where they lie, as nothing is solved: before a pump, and behind what spills.

A line is before a pump where liquid comes to it through the line and does not come from a pump: around a closed loop it does, and all of the
loop counts as pressed. Behind a bypass regulator or a relief valve pressure has been let go, as far as the next tank or pump. A line that reaches
a place held above the air counts as pressed, and so does whatever is not clearly one of the two, since hose that is cut too short cannot be cut again.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, AbstractSet, TypeAlias

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.piece import Piece

_SPILLS = ("bypass_regulator", "relief_valve")


def without_pressure(circuit: Circuit) -> set[tuple[str, int]]:
    """Set of (run, place of a piece in it) that stand before a pump, or behind what spills.

    >>> import flarenut as fn
    >>> car = fn.Circuit("invented", fluid="gasoline class A")
    >>> car.tank("cell")
    >>> car.run("feed", "cell", "ambient", [fn.hose("-8", "2 ft", spec="ptfe"), fn.formula_pump("95 psi", "120 gph"), fn.hose("-6", "9 ft", spec="ptfe")])
    >>> without_pressure(car)
    {('feed', 0)}
    """
    steps, joined = _steps(circuit), [ends for _, ends in circuit.multiport.values()]
    held = {name for name, place in circuit.junctions.items() if place.kind != "free"}
    pumps = {key for key, (_, _, piece) in steps.items() if piece.word.endswith("pump")}
    spills = {key for key, (_, _, piece) in steps.items() if piece.word in _SPILLS}
    before = _reached({steps[key][0] for key in pumps}, steps, joined, held, pumps | spills, up=True)
    after = _reached({steps[key][1] for key in pumps}, steps, joined, held, pumps | spills)
    spilt = _reached({steps[key][1] for key in spills}, steps, joined, held, pumps)
    above = {name for name, place in circuit.junctions.items() if max(place.pressure, place.vent) > 0.0}
    fed = _reached(above, steps, joined, held - above, pumps | spills) | _reached(above, steps, joined, held - above, pumps | spills, up=True)
    return (before | spilt) - after - fed


Place: TypeAlias = "str | tuple[str, int]"
Step: TypeAlias = "tuple[Place, Place, Piece]"


def _steps(circuit: Circuit) -> dict[tuple[str, int], Step]:
    """(run, place) -> where a piece begins, where it ends, the piece. Places inside a run have no names, and go by their number."""
    found: dict[tuple[str, int], Step] = {}
    for run in circuit.runs.values():
        last = len(run.pieces)
        for place, piece in enumerate(run.pieces):
            begin, end = (run.start if at == 0 else run.end if at == last else (run.name, at) for at in (place, place + 1))
            found[run.name, place] = (begin, end, piece)
    return found


def _reached(begin: AbstractSet[Place], steps: Mapping[tuple[str, int], Step], joined: Sequence[Sequence[str]],
             held: set[str], closed: set[tuple[str, int]], *, up: bool = False) -> set[tuple[str, int]]:
    """Pieces that liquid comes through on its way from places, or to them where `up`; not through those that are closed, nor through tanks."""
    places: set[Place] = set()
    found: set[tuple[str, int]] = set()
    new: set[Place] = set(begin)
    while new:
        at = new.pop()
        places.add(at)
        if at in held:
            continue
        beside: set[Place] = {end for ends in joined if at in ends for end in ends}
        for key, (start, end, _) in steps.items():
            here, there = (end, start) if up else (start, end)
            if here == at and key not in closed:
                found.add(key)
                beside.add(there)
        new |= beside - places
    return found
