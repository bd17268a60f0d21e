"""The audit of a circuit's joints: which of them seal, which do not and why, and what to put between.

It needs no solve. A joint is judged where both its sides say what they offer; the others are counted.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from ..catalog import End
from ..circuit.circuit import Circuit
from ..circuit.made_of import line_of, made_of
from ..circuit.spoken import may_brake, under_a_foot
from ..results.finding import merged, ranked
from ..units import settled
from .audit_rules import findings_of
from .audit_view import joint_listing
from .joints import Joint, joints_of, named_pieces
from .mating import Mating, mate

if TYPE_CHECKING:
    from ..circuit.piece import Piece
    from ..circuit.vehicle import Vehicle
    from ..results.finding import Finding
    from ..results.listing import Listing
    from .joints import Side


class CheckedJoint(NamedTuple):
    """A joint and what becomes of it; no `mating` where a side does not say what it offers. `circuit`: its name, in a vehicle."""

    joint: Joint
    mating: Mating | None
    circuit: str = ""

    @property
    def verdict(self) -> str:
        """"seals", "refused", "adapter", or "not said"."""
        return "not said" if self.mating is None else self.mating.verdict


class Audit:
    """What `audit` finds.

    Attributes
    ----------
    name : of the circuit or vehicle
    joints : list of `CheckedJoint`, run by run
    findings : list of `Finding`, worst first; they hold for every case
    units : "us" or "metric", for what is shown
    """

    def __init__(self, name: str, joints: Sequence[CheckedJoint], findings: Sequence[Finding], units: str | None = None) -> None:
        self.name, self.joints, self.units = name, list(joints), settled(units)
        self.findings = ranked([replace(one, units=self.units) for one in findings])

    @property
    def passes(self) -> bool:
        """True where no finding says STOP or FIX."""
        return not any(one.severity in ("stop", "fix") for one in self.findings)

    def counts(self) -> dict[str, int]:
        """Verdict -> how many joints."""
        return {verdict: sum(one.verdict == verdict for one in self.joints) for verdict in ("seals", "adapter", "refused", "not said")}

    def listing(self, units: str | None = None) -> Listing:
        """The joints as a `Listing`: what meets what, thread, seal, what goes on the thread, torque; sources and advice below, once each."""
        return joint_listing(self, settled(units, self))

    def text(self, units: str | None = None, width: int | None = None) -> str:
        """Findings first, then the joints."""
        units = settled(units, self)
        counted = ", ".join(f"{number} {_COUNTED[verdict]}" for verdict, number in self.counts().items() if number)
        told = [one.text(units) for one, _ in merged(self.findings)] or ["Nothing to find fault with."]
        return "\n".join([f"Audit of {self.name}: {len(self.joints)} joints: {counted}" if self.joints else f"Audit of {self.name}: no joints", "", *told, "",
                          joint_listing(self, units, narrow=True).text(width), "", JOINTS_ONLY])

    def __str__(self) -> str:
        return self.text()

    def __repr__(self) -> str:
        return self.text()


JOINTS_ONLY = "Joints only: whether hose and tube bear their pressure, heat and liquid is told by 'flarenut solve', and both stand on a build sheet."
OF_SERVICE = {"brakes": "brakes", "clutch": "a clutch"}
_COUNTED = {"seals": "seal", "adapter": "need an adapter", "refused": "refused", "not said": "do not say both sides"}


def audit(plumbing: Circuit | Vehicle) -> Audit:
    """Judges every joint of a circuit, or of every circuit of a vehicle.

    Parameters
    ----------
    plumbing : `Circuit` or `Vehicle`

    Returns
    -------
    Audit

    Examples
    --------
    >>> import flarenut as fn
    >>> car = fn.Circuit("car", fluid="gasoline")
    >>> car.tank("cell")
    >>> car.run("feed", "cell", "ambient", [fn.hose("-6", "3 ft", spec="ptfe", ends=["-6 37 flare male", ""], name="hose")],
    ...         meets=["-6 O-ring boss female", ""])
    >>> print(fn.audit(car).findings[0].what.split(":")[0])
    -6 37 flare male screws into -6 O-ring boss female, both 9/16-18, and nothing seals
    """
    members = getattr(plumbing, "circuits", None)
    if members is None:
        assert isinstance(plumbing, Circuit), "what is no vehicle is a circuit"
        checked = _checked(plumbing, "")
        return Audit(plumbing.name, checked, findings_of(plumbing, checked), plumbing.units)
    joints, findings = [], []
    for name, circuit in members.items():
        checked = _checked(circuit, name)
        joints += checked
        findings += findings_of(circuit, checked, f"{name}: ")
    return Audit(plumbing.name, joints, findings, plumbing.units)


def _checked(circuit: Circuit, name: str) -> list[CheckedJoint]:
    pieces = named_pieces(circuit)
    joints = [joint._replace(one=_clamped(joint.one, joint.other, pieces), other=_clamped(joint.other, joint.one, pieces)) for joint in joints_of(circuit)]
    return [CheckedJoint(joint, _mating(circuit, joint, pieces), name) for joint in joints]


def _clamped(side: Side, faced: Side, pieces: Mapping[str, Piece]) -> Side:
    """A side that is a clamped hose on a barb offers its plain end, though nobody wrote it."""
    piece = pieces.get(side.name)
    if piece is None or piece.word != "hose":
        return side
    made = made_of(piece)
    if side.end is not None:  # its own bore counts, not that of its size
        plain = (side.told.form, side.told.sex, side.end.bore) == ("barb", "female", None)
        return replace(side, end=side.told._replace(bore=line_of(piece).bore)) if plain else side
    if piece.shop.clamped is not True or faced.end is None or faced.told.form != "barb":
        return side
    return side if made is None or made.dash is None else replace(side, end=End("barb", f"-{made.dash}", "female", bore=made.bore))


def _mating(circuit: Circuit, joint: Joint, pieces: Mapping[str, Piece]) -> Mating | None:
    run, sides = circuit.runs[joint.run], (joint.one, joint.other)
    if any(side.end is None for side in sides):
        return None
    words = {side.word for side in sides}
    line = "hose" if "hose" in words else "tube" if "tube" in words else "fitting"
    materials = [word for side in sides for word in _materials(side, pieces)]
    serves = under_a_foot(circuit, run, f"{joint.one.name} {joint.other.name}")
    tube = next((word for side in sides if side.word == "tube" and (word := pieces[side.name].shop.material)), "")
    made = mate(joint.one.told, joint.other.told, line=line, materials=materials, brakes=may_brake(circuit, run), foot=bool(serves), tube=tube)
    if made.verdict == "seals" and serves and joint.one.told.form == "barb":
        return made._replace(verdict="refused", reason=f"{made.reason}; and no clamp holds behind the pedal of {OF_SERVICE[serves]}")
    return made


def _materials(side: Side, pieces: Mapping[str, Piece]) -> list[str]:
    """What is said of the material of a side: of its end, of its part, or of both, as of the nut and of the tube in it; "" where neither is."""
    part = pieces[side.name].shop.material if side.name in pieces else None
    return [word for word in (side.told.material, part) if word] or [""]
