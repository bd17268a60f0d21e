"""Joints of a circuit: what is screwed into what, thread, seal, torque, what goes on the thread, and what the source of each is."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..catalog import end_forms, source_in_words
from ..hardware.audit_view import other_torques, tightening, turning_words
from .markup import element, joined
from .tables import end_words, notes, table

if TYPE_CHECKING:
    from ..hardware.audit import Audit, CheckedJoint
    from ..hardware.joints import Joint
    from ..hardware.mating import Mating
    from .markup import Markup
    from .sources import Sources

_ON_THREAD = {"needed": "sealant that the liquid does not dissolve", "optional": "sealant, if any", "none": "no sealant"}
_VERDICTS = {"adapter": "Needs an adapter", "refused": "REFUSED"}
_HEADINGS = ["joint", "offered", "thread", "what seals it", "on the thread", "torque", "source"]


def joints_section(audit: Audit, units: str, sources: Sources) -> Markup:
    """The joints of an `Audit` of one circuit."""
    if not audit.joints:
        return element("p", "No two things of this circuit are screwed together.")
    advice: dict[str, str] = {}
    groups: dict[str, list[list[str | Markup]]] = {}
    said = [one for one in audit.joints if one.joint.one.end or one.joint.other.end]
    for checked in said:
        groups.setdefault(checked.joint.run, []).append(_row(checked, units, sources, advice))
    made = table("Joints, run by run", _HEADINGS, list(groups.items()), tick="tight") if said else ""
    return joined(made, notes([*(f"{form}: {said}." for form, said in advice.items()), *_about(audit)]))


def _row(checked: CheckedJoint, units: str, sources: Sources, advice: dict[str, str]) -> list[str | Markup]:
    joint, mating = checked.joint, checked.mating
    place = joined(joint.one.name, f"\nto {joint.other.name}")
    offered = joined(*(joined(end_words(side.end, units) if side.end else "not said", "\n" if side is joint.one else "") for side in (joint.one, joint.other)))
    if mating is None:
        return [place, offered, "", "not known", "", "", ""]
    seal = mating.seal
    if mating.verdict != "seals":
        seal = joined(element("strong", _VERDICTS[mating.verdict]), f": {mating.reason}")
    elif mating.sealant:
        advice.setdefault(_form_of(joint), mating.sealant)
    stated = (mating, mating.torque, mating.steel_torque, mating.flats, mating.steel_flats)
    told = list(dict.fromkeys(source_in_words(one.source, one.how) for one in stated if one is not None))
    told += other_torques(mating.torque, units)
    return [place, offered, mating.thread, seal, _ON_THREAD.get(mating.takes_sealant, ""), _tightening(mating, units), sources.mark(*told)]


def _tightening(mating: Mating, units: str) -> str:
    """Torque, and turns of flats where they are known."""
    return "\n".join(word for word in (tightening(mating, units), turning_words(mating)) if word)


def _form_of(joint: Joint) -> str:
    """The more demanding form of the two, as the audit has it."""
    forms = list(end_forms())
    return min((side.end.form for side in (joint.one, joint.other) if side.end is not None), key=forms.index)


def _about(audit: Audit) -> Iterator[str]:
    unsaid = [one.joint.place for one in audit.joints if not (one.joint.one.end or one.joint.other.end)]
    if unsaid:
        yield f"Nothing is said of either side of {len(unsaid)} of {len(audit.joints)} joints: {'; '.join(unsaid)}."
    if any(one.verdict == "not said" for one in audit.joints):
        yield ("Not known: where a side does not say what it offers, nobody can tell thread, seal and torque. Say it with 'ends' of the part or 'meets' "
               "of the run.")
    if len(unsaid) == len(audit.joints):
        return
    yield ("Offered: the upper line is of the first thing named, the lower of the second. Torque is for clean threads, oiled or dry as the table that is "
           "cited has it, and that of the softer of the two; a material that is not said counts as soft. Mark each nut once it is tight.")
