"""Tees where three runs meet in a plain place: one with a hose or tube among them: no tank, no rail with injectors, no drilled gallery,
nothing that says ports of its own."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ..circuit.made_of import made_of
from ..circuit.spoken import under_a_foot
from .proposal import Proposal

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.places import Run


def put_tees(circuit: Circuit, proposals: list[Proposal], left: list[Proposal]) -> None:
    """Puts a tee into every place that needs one; `left` is told of places where more than three runs meet."""
    for name in list(circuit.junctions):
        meeting = _meeting(circuit, name)
        if meeting is None:
            continue
        if len(meeting) > 3:
            left.append(Proposal(name, f"{len(meeting)} runs meet here: say the tees or the block that joins them"))
        elif len(meeting) == 3 and any(_barb(*one) and under_a_foot(circuit, one[0]) for one in meeting):
            left.append(Proposal(name, "its tee: no clamp and no barb holds behind the pedal of brakes or a clutch"))
        elif len(meeting) == 3:
            proposals.append(_put(circuit, name, meeting))


def _meeting(circuit: Circuit, name: str) -> list[tuple[Run, bool]] | None:
    """Runs that meet in a place as (run, whether it ends there); None where no tee belongs."""
    place = circuit.junctions[name]
    if place.kind != "free" or place.demand or place.passes_heat or any(name in ends for _, ends in circuit.multiport.values()):
        return None
    meeting = [(run, at_end) for run in circuit.runs.values() for at_end in (False, True) if (run.end if at_end else run.start) == name]
    beside = [run.pieces[-1 if at_end else 0] for run, at_end in meeting]
    if any(run.meets[at_end] is not None for run, at_end in meeting) or any(piece.word == "passage" for piece in beside):
        return None  # it has ports of its own, or holes are drilled into each other
    return meeting if any((made := made_of(piece)) is not None and made.dash for piece in beside) else None


def _put(circuit: Circuit, name: str, meeting: Sequence[tuple[Run, bool]]) -> Proposal:
    """The first run that comes in and the first that goes out run straight through; the third is the branch."""
    ordered = sorted(meeting, key=lambda one: not one[1])  # those that end here first
    straight, through, branch = (ordered[0], ordered[-1], ordered[1]) if ordered[1][1] else (ordered[0], ordered[1], ordered[2])
    places = [name, f"{name} through", f"{name} branch"]
    for (run, at_end), place in zip((straight, through, branch), places):
        if at_end:
            run.end = place
        else:
            run.start = place
    size = f"-{max((dash for run, at_end in meeting if (dash := _dash(run, at_end))))}"
    ends = [_barb(*one) or f"{size} 37 flare male" for one in (straight, through, branch)]
    circuit.tee(f"{name} tee", *places, size=size, ends=ends)
    said = ends[0] if len(set(ends)) == 1 else f"{' to '.join(ends[:2])} with {ends[2]} on its branch"
    return Proposal(name, f"tee, {said}, straight from {straight[0].name} to {through[0].name}, {branch[0].name} on its branch")


def _barb(run: Run, at_end: bool) -> str | None:
    """The barb of a tee for a hose that is clamped there; None for any other line."""
    piece = run.pieces[-1 if at_end else 0]
    end = piece.shop.ends[1 if at_end else 0]
    if piece.word != "hose" or not (piece.shop.clamped and end is None or end is not None and (end.form, end.sex) == ("barb", "female")):
        return None
    dash = _dash(run, at_end)
    return f"{end.size} barb male" if end is not None else f"-{dash} barb male" if dash is not None else None


def _dash(run: Run, at_end: bool) -> int | None:
    line = made_of(run.pieces[-1 if at_end else 0])
    return line.dash if line is not None else None
