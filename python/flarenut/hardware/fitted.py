"""A circuit with the ends and adapters that it needs, put in where nobody said them: what has to be bought, and what it costs in pressure.

Where a line passes a wall it is parted by a bulkhead union; where three runs meet in a plain place a tee is put. Every hose gets hose ends of
its own size, every hard line flared ends, every clamped hose its barbs; where the port that one meets is of another form or size, the adapter
between the two is put in as a part of the run. The engine then counts what all of them lose.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from ..catalog import End, source_in_words
from ..catalog.tubes import flare_dash
from ..circuit.made_of import line_of
from ..circuit.spoken import may_brake, under_a_foot
from ..units import settled
from .angles import clocking_note, clocking_words, clockings, faces_in, proposed
from .audit import audit
from .audit_rules import RESERVOIR, takes_a_clamp
from .end_findings import NEEDS_WAY, NEEDS_WAY_CURE
from .fitted_adapters import LINES, put_adapters
from .fitted_bulkheads import put_bulkheads
from .fitted_tees import put_tees
from .joints import joints_of
from .mating import mate
from .nuts import misfit
from .proposal import Proposal

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.made_of import MadeOf
    from ..circuit.piece import Piece

CLASHING = "Put in because these two do not seal"
_CLASHES = ("joint does not seal", "joint needs an adapter", "joint does not fit")


class Fitted:
    """What `fitted` makes.

    Attributes
    ----------
    circuit : the `Circuit` with its ends and adapters, a copy
    proposals : list of `Proposal`: what was put in
    clashing : those of them that stand between two ends which were both said and do not go together, each with its `clash`
    open : list of `Proposal`: what could not be told, and why
    clockings : name of every hose with two angled ends whose ports are known -> angle between them [deg], as `angles.CLOCKING_RULE` says
    """

    def __init__(self, circuit: Circuit, proposals: list[Proposal], left: list[Proposal]) -> None:
        self.circuit, self.proposals, self.open = circuit, proposals, left
        self.clockings = clockings(circuit)

    @property
    def clashing(self) -> list[Proposal]:
        """Proposals in place of a joint that was said and does not go together."""
        return [one for one in self.proposals if one.clash is not None]

    @property
    def unsaid(self) -> list[Proposal]:
        """Proposals where nothing was said."""
        return [one for one in self.proposals if one.clash is None]

    def text(self, units: str | None = None) -> str:
        """Every proposal on a line of its own, lengths in "us" or "metric" units; those of the circuit unless given."""
        units = settled(units, self.circuit)
        lines = [f"{self.circuit.name}: {len(self.proposals)} put in, {len(self.open)} left open", ""]
        lines += [f"  {one.where}: {one.said(units)}" for one in self.unsaid]
        lines += (
            ["", CLASHING, *(f"  {one.where}: {one.said(units)}\n    {one.clashed(units)}" for one in self.clashing)]
            if self.clashing
            else []
        )
        lines += ["", "Left open", *(f"  {one.where}: {one.said(units)}" for one in self.open)] if self.open else []
        if self.clockings:
            lines += [
                "",
                "Hoses with two angled ends",
                *(f"  {name}: {clocking_words(angle)}" for name, angle in self.clockings.items()),
                f"  {clocking_note()}",
            ]
        return "\n".join([*lines, "", "Check every thread and seat before buying: an engineering estimate from tables."])

    def __str__(self) -> str:
        return self.text()

    def __repr__(self) -> str:
        return self.text()


def fitted(circuit: Circuit, name: str | None = None) -> Fitted:
    """A copy of a circuit with hose ends, tube ends and adapters where none were said; what was said stays.

    Parameters
    ----------
    circuit : `Circuit`
    name : what to call the copy; as the circuit unless given

    Returns
    -------
    Fitted

    Examples
    --------
    >>> import flarenut as fn
    >>> car = fn.Circuit("car", fluid="gasoline")
    >>> car.tank("cell")
    >>> car.run("feed", "cell", "ambient", [fn.hose("-6", "3 ft", spec="ptfe", name="hose")], meets=["-8 O-ring boss female", ""])
    >>> made = fn.fitted(car)
    >>> [one.what for one in made.proposals][-1]
    'adapter, -8 O-ring boss male to -6 37 flare male'
    """
    made = circuit.copy(name)
    proposals: list[Proposal] = []
    left: list[Proposal] = []
    clashes = {one.where: one for one in audit(circuit).findings if one.code in _CLASHES}
    put_bulkheads(made, proposals, left)
    put_tees(made, proposals, left)
    _ends_of_lines(made, proposals, left)
    put_adapters(made, clashes, proposals, left)
    return Fitted(made, proposals, left)


# ---- ends of lines ----

def _ends_of_lines(circuit: Circuit, proposals: list[Proposal], left: list[Proposal]) -> None:
    for clamped in (True, False):  # what a clamped hose is pushed onto follows from the hose
        _ends_of_some(circuit, clamped, proposals, left)


def _ends_of_some(circuit: Circuit, clamped: bool, proposals: list[Proposal] | list[Proposal],
                  left: list[Proposal]) -> None:
    offered = _offers(circuit)
    for run in circuit.runs.values():
        for place, piece in enumerate(run.pieces):
            if piece.word not in LINES or None not in piece.shop.ends or piece.shop.clamped is not clamped:
                continue
            name = offered.names[run.name, place]
            foot = under_a_foot(circuit, run, name)
            ends = [
                said
                or _turned(
                    _end_of(foot, bool(foot) or may_brake(circuit, run), piece, offered.facing.get((name, index)), left, name),
                    piece,
                    offered.faces.get((name, index)),
                    index,
                )
                for index, said in enumerate(piece.shop.ends)
            ]
            if ends == list(piece.shop.ends):
                continue
            new = {index: end for index, end in enumerate(ends) if end is not None and piece.shop.ends[index] is None}
            pushed = {"clamped": True} if piece.word == "hose" and any(one.form == "barb" for one in new.values()) else {}
            run.pieces[place] = piece.changed(ends=["" if one is None else str(one) for one in ends], **pushed)
            run.pieces[place].name = name
            if piece.word == "hose" and piece.shop.way is None and any((name, index) in offered.faces for index in new):
                left.append(Proposal(name, f"angles of its ends: {NEEDS_WAY}; {NEEDS_WAY_CURE}"))
            proposals += [
                Proposal(
                    name,
                    f"{'inlet' if index == 0 else 'outlet'} end, {{}}{_sleeve(piece, end)}{_bent(piece, end, offered.faces.get((name, index)), index)}",
                    (end,),
                )
                for index, end in new.items()
            ]
    circuit.keep_compiled(None)


class _Offers(NamedTuple):
    names: dict[tuple[str, int], str]  # (run, place) -> name
    faces: dict[
        tuple[str, int], tuple[float, float, float]
    ]  # (name of a piece, which of its ends) -> direction that the port faces which it meets
    facing: dict[tuple[str, int], End | None]  # (name of a piece, which of its ends) -> End that stands opposite, or None


def _offers(circuit: Circuit) -> _Offers:
    from ..circuit.compile import piece_names

    facing = {}
    for joint in joints_of(circuit):
        facing[joint.one.name, joint.one.index] = joint.other.end
        facing[joint.other.name, joint.other.index] = joint.one.end
    return _Offers(piece_names(circuit), faces_in(circuit), facing)


def _end_of(foot: str, as_port: bool, piece: Piece, opposite: End | None, left: list[Proposal], name: str) -> End | None:
    """The end that a line should have; the one that its counterpart takes where that is one for lines, else a 37 degree flare of its own size.

    `foot`: where a pedal presses it, brakes or clutch. `as_port`: whether it is flared as its port is."""
    line, on_barb = line_of(piece), opposite is not None and opposite.form == "barb"
    if foot and (on_barb or piece.word == "hose" and piece.shop.clamped):
        _leave(left, name, f"{_NO_BARB}: say a hose with crimped ends, or flared tube, and a port for it; {RESERVOIR}")
        return None
    if piece.word == "hose" and (piece.shop.clamped or opposite is not None and on_barb and opposite.sex == "male"):
        return _clamped_end(piece, line, opposite if opposite is not None and on_barb and opposite.sex == "male" else None, left, name)
    own = _of_brakes(opposite) if as_port else None
    if own is not None and piece.word == "tube" and own.form in ("37 flare", "45 flare") and own.sex == "male":
        own = None  # the nut of such a tube is female: a nut of a hose against it takes a union
    why = misfit(own, line)[0] if own is not None and piece.word == "tube" else ""
    if why:
        _leave(left, name, f"the nut of its port: {why}; another port or tube, or an adapter")
    if own is not None:
        return None if why else own
    dash = line.dash if line.dash is not None or line.outside is None else flare_dash(line.outside)
    if dash is None:
        left.append(Proposal(name, "its ends: nothing is known of its size but its bore" if line.outside is None else
                             "its ends: no size of flare is known for its diameter; say which, with sleeves for metric tube"))
        return None
    if piece.word == "tube" and on_barb:
        bead = End("barb", f"-{line.dash}" if line.dash is not None else f"{(line.outside or 0.0) * 1e3:.4g} mm", "male")
        if opposite is not None and mate(bead, opposite).verdict == "seals":
            return bead  # for the hose to be clamped on
    made = End("37 flare", f"-{dash}", "female")
    if opposite is not None and opposite.opposite is not None and opposite.form in ("37 flare", "45 flare") and opposite.sex == "male" \
            and opposite.size == made.size:
        return opposite.opposite
    return made


_NO_BARB = "its ends: no clamp and no barb holds behind the pedal of brakes or a clutch"


def _leave(left: list[Proposal], name: str, why: str) -> None:
    """Leaves something open, once for both ends."""
    if Proposal(name, why) not in left:
        left.append(Proposal(name, why))


def _turned(end: End | None, piece: Piece, face: tuple[float, float, float] | None, index: int) -> End | None:
    """An end of a hose with the standard angle that leaves it the least bend; as it is where no way or no direction of its port is said."""
    if end is None or piece.word != "hose" or end.form == "barb" or face is None or piece.shop.way is None:
        return end
    return end._replace(turn=proposed(piece.shop.way, face, line_of(piece).bore, index == 1).turn)


def _bent(piece: Piece, end: End, face: tuple[float, float, float] | None, index: int) -> str:
    """What the hose has left to bend behind an end, where that is to be seen."""
    if piece.word != "hose" or face is None or piece.shop.way is None:
        return ""
    needed = proposed(piece.shop.way, face, line_of(piece).bore, index == 1).needed
    left = abs(needed - end.turn)  # a clamped end is straight
    return f"; {needed:.0f} degrees are wanted, the hose bends by {left:.0f} behind it" if round(left) > 0 else ""


def _clamped_end(piece: Piece, line: MadeOf, barb: End | None, left: list[object] | list[Proposal], name: str) -> End | None:
    """The plain end of a hose on its clamp: of the size of the barb that it meets, else of its own."""
    if not takes_a_clamp(piece):
        left.append(
            Proposal(
                name, f"{barb or 'a barb'} takes a clamped hose, and this one must not be clamped: rubber hose, or a port of another form"
            )
        )
        return None
    if barb is None and line.dash is None:
        left.append(Proposal(name, "its barbs: nothing is known of its size but its bore"))
        return None
    return End("barb", barb.size if barb else f"-{line.dash}", "female", bore=line.bore)


def _sleeve(piece: Piece, end: End) -> str:
    """What a flared end of metric tube needs beside its nut."""
    line = line_of(piece)
    if line.word != "tube" or line.dash is not None or end.form != "37 flare":
        return ""
    return f", sleeve for metric tube of {(line.outside or 0.0) * 1e3:.4g} mm ({source_in_words('M41', 'memory')})"


def _of_brakes(opposite: End | None) -> End | None:
    """Brake lines are flared as their port is: no other end may stand there."""
    if opposite is None or opposite.opposite is None or "flare" not in opposite.form:
        return None
    return opposite.opposite
