"""Adapters between ends that do not seal on each other, put in as parts of their runs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from ..circuit.errors import CircuitError
from ..circuit.parts_fittings import adapter
from ..circuit.spoken import under_a_foot
from .fitted_names import free_name, keep_names, names_in
from .joints import FITTINGS, joints_of, named_pieces
from .mating import mate
from .proposal import Proposal

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.piece import Piece
    from ..results.finding import Finding
    from .joints import Joint
    from .mating import Mating

LINES = ("hose", "tube")


def put_adapters(circuit: Circuit, clashes: Mapping[str, Finding], proposals: list[Proposal], left: list[Proposal]) -> None:
    """Puts an adapter into every joint that wants one and has one."""
    pieces = named_pieces(circuit)
    for joint in joints_of(circuit):
        if joint.one.end is None or joint.other.end is None:
            if joint.one.end is not None or joint.other.end is not None:
                bare = joint.one if joint.one.end is None else joint.other
                left.append(Proposal(joint.place, f"nothing is said of what '{bare.name}' offers there"))
            continue
        mating = mate(joint.one.end, joint.other.end)
        if mating.verdict == "seals":
            continue
        barbs = [end for end in (joint.one.end, joint.other.end, *(mating.adapter or ())) if end.form == "barb"]
        if barbs and under_a_foot(circuit, circuit.runs[joint.run], f"{joint.one.name} {joint.other.name}"):
            left.append(Proposal(joint.place, f"'{barbs[0]}': no clamp and no barb holds behind the pedal of brakes or a clutch"))
            continue
        if mating.adapter is None:
            left.append(Proposal(joint.place, mating.reason))
            continue
        if _put_in(circuit, joint, mating, pieces):
            clash = clashes.get(joint.place)
            proposals.append(Proposal(joint.place, "adapter, {} to {}", mating.adapter, clash, _instead(joint) if clash is not None else ""))
        else:
            left.append(Proposal(joint.place, "adapter, {} to {}, which loses what no table tells", mating.adapter))
    circuit.keep_compiled(None)


def _instead(joint: Joint) -> str:
    """What mends a joint without an adapter: another end on the line that stands in it."""
    for side, faced in ((joint.one, joint.other), (joint.other, joint.one)):
        if side.word in LINES and faced.word not in LINES:
            named = "" if faced.told.opposite is None else f" to {str(faced.told.opposite._replace(turn=side.told.turn))}"
            return f"change the {side.word} end of {side.name}{named}"
    return "change one of the two ends"


def _short_name(joint: Joint) -> str:
    """What an adapter is called in tables: by the port that it is screwed into, "adapter at filter inlet"; its two ends are told beside it."""
    side = joint.other if joint.one.word in LINES and joint.other.word not in LINES else joint.one
    port = "" if side.word in ("place", "tee", *FITTINGS) else (" inlet", " outlet")[side.index]
    return f"adapter at {side.name}{port}"


def _put_in(circuit: Circuit, joint: Joint, mating: Mating, pieces: Mapping[str, Piece]) -> bool:
    """Puts the adapter of a joint into its run. False where no bore of it is known."""
    try:
        part = adapter([str(end) for end in mating.adapter or ()], name=free_name(circuit, _short_name(joint)))
    except CircuitError:
        return False
    run = circuit.runs[joint.run]
    names = [piece.name or name for piece, name in zip(run.pieces, names_in(circuit, run))]
    at = names.index(joint.other.name) if joint.other.name in names else names.index(joint.one.name) + 1
    keep_names(run, names)
    run.pieces.insert(at, part)
    return True
