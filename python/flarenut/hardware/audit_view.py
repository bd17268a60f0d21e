"""The joints of an audit as a `Listing`; sources and advice stand below it, once each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..catalog import end_forms, source_in_words
from ..results import Listing
from .mating import NO_TABLE

if TYPE_CHECKING:
    from ..catalog.torque_types import Flats, Torque
    from .audit import Audit, CheckedJoint
    from .joints import Joint
    from .mating import Mating

ESTIMATE = "An engineering estimate from tables: measure threads and seats before assembly, and follow the codes that apply and licensed practice."
_ON_IT = "on the thread"
_ON_THREAD = {"needed": "sealant", "optional": "sealant, if any", "none": "no sealant"}
_VERDICTS = {"seals": "seals", "adapter": "needs an adapter", "refused": "REFUSED", "not said": "not said"}
_INCH_POUND, _FOOT_POUND = 0.112984829, 1.355817948  # torque [N m] in these units


def joint_listing(audit: Audit, units: str, *, narrow: bool = False) -> Listing:
    """See `Audit.listing`. `narrow`, for a screen, says of every kind of joint once, below, what goes on its thread and what torque it takes in steel."""
    sources: list[str] = []
    advice: dict[str, str] = {}
    steel: dict[str, str] = {}
    rows = [_row(one, units, sources, advice, steel if narrow else None) for one in audit.joints]
    notes = [f"{form}: {said}." for form, said in advice.items()]
    if steel:
        notes.append(f"If both are of steel: {'; '.join(f'{kind} {said}' for kind, said in steel.items())}.")
    if any(one.mating is not None and one.mating.torque is not None for one in audit.joints):
        notes.append("Torque is that of the softer of the two; a material that is not said counts as soft, and in brakes and clutches is not guessed: write "
                     "'material' of the parts; of a port, behind its words: '-8 O-ring boss female, aluminium'.")
    notes += [f"[{number}] {source}" for number, source in enumerate(sources, 1)]
    headings = ["joint", "offered", "verdict", "thread", "seal", _ON_IT, "torque", "source"]
    left_out = headings.index(_ON_IT) if narrow else None
    headings, *rows = ([cell for number, cell in enumerate(row) if number != left_out] for row in (headings, *rows))
    return Listing(f"Joints of {audit.name}", headings, rows, notes=[*notes, ESTIMATE])


def _row(checked: CheckedJoint, units: str, sources: list[str], advice: dict[str, str], steel: dict[str, str] | None) -> list[str]:
    """Cells of a joint. Where there is a dictionary for it, `steel` is told what holds in steel by kind of joint, and the row is not."""
    joint, mating = checked.joint, checked.mating
    offered = "\n".join(str(side.end) if side.end else "(not said)" for side in (joint.one, joint.other))
    place = f"{checked.circuit}: {joint.place}" if checked.circuit else joint.place
    verdict = _VERDICTS[checked.verdict]
    if mating is None:
        return [place, offered, verdict, "", "", "", "", ""]
    if mating.verdict == "seals":
        advice.setdefault(_form_of(joint), mating.sealant)
    where = [_number(sources, source_in_words(mating.source, mating.how))]
    for told in (mating.torque, mating.steel_torque, mating.flats, mating.steel_flats):
        if told is not None:
            where.append(_number(sources, source_in_words(told.source, told.how)))
    shown = mating if steel is None else mating._replace(steel_torque=None, steel_flats=None)
    tightened = "\n".join(filter(None, [tightening(shown, units), turning_words(shown)]))
    if steel is not None and (in_steel := torque_words(mating.steel_torque, units) or flats_words(mating.steel_flats)):
        steel[f"{joint.one.told.size} {_form_of(joint)}"] = in_steel
    where += [_number(sources, said) for said in other_torques(mating.torque, units)]
    return [place, offered, verdict, mating.thread, mating.seal, _ON_THREAD.get(mating.takes_sealant, ""), tightened, " ".join(f"[{number}]" for number in dict.fromkeys(where))]


def other_torques(torque: Torque | None, units: str) -> list[str]:
    """What other sources print for the same kind of joint, each in a sentence."""
    if torque is None:
        return []
    same = [one for one in torque.others if one.joint == torque.joint or "37 deg" not in torque.joint]
    return [f"another source has {torque_words(one, units)} for a joint of its size{'' if one.joint == torque.joint else f', {one.joint}'}: "
            f"{source_in_words(one.source, one.how)}" for one in same]


def turning_words(mating: Mating) -> str:
    """How far a joint is turned: "or 1.25 to 1.75 flats past seated"; of a pipe thread its turns, and those of steel where nobody says of what it is."""
    found = [words for one, before in ((mating.flats, ""), (mating.steel_flats, "if both are of steel: ")) if (words := flats_words(one, before))]
    return f"{'or ' if mating.torque is not None else ''}{', '.join(found)}" if found else ""


def flats_words(flats: Flats | None, before: str = "") -> str:
    """`Flats` as a text: "1.25 to 1.75 flats past seated"; "" for none."""
    if flats is None:
        return ""
    low, high = f"{flats.low:g}", f"{flats.high:g}"
    printed, _, _ = flats.note.partition(";")  # a row for one material that is taken for another says so
    return f"{before}{low if low == high else f'{low} to {high}'} {flats.unit}{f', {printed}' if printed.startswith('printed for') else ''}"


def _form_of(joint: Joint) -> str:
    """The more demanding form of the two, as `mate` judges it."""
    forms = list(end_forms())
    return min((side.told.form for side in (joint.one, joint.other)), key=forms.index)


def _number(sources: list[str], source: str) -> int:
    if source not in sources:
        sources.append(source)
    return sources.index(source) + 1


def torque_words(torque: Torque | None, units: str) -> str:
    """A `Torque` as a text; "" for none. In US units for either wrench, in one order throughout, so that no row is read in the wrong one.

    >>> from flarenut.catalog import end, torque_of
    >>> torque_words(torque_of(end("-8 37 flare male"), "hose"), "metric"), torque_words(torque_of(end("-4 O-ring boss male")), "us")
    ('31 to 40 N m, aluminium', '49 to 59 in-lb = 4.0 to 4.9 ft-lb, aluminium')
    """
    if torque is None:
        return ""
    if units == "metric":
        return f"{_band(torque, 1.0)} N m, {torque.material}"
    pounds = [f"{_band(torque, per)} {unit}" for per, unit in ((_INCH_POUND, "in-lb"), (_FOOT_POUND, "ft-lb"))]
    return f"{' = '.join(pounds)}, {torque.material}"


def _band(torque: Torque, per: float) -> str:
    low, high = (f"{value / per:.0f}" if value / per >= 10 else f"{value / per:.1f}" for value in (torque.low, torque.high))
    return low if low == high else f"{low} to {high}"


def tightening(mating: Mating, units: str) -> str:
    """Torque of a joint, and what it is if both sides are of steel where nobody says so."""
    if mating.untold:
        return mating.untold
    if mating.torque is None:
        untold = mating.verdict == "seals" and mating.thread and not (mating.flats or mating.steel_flats)
        return NO_TABLE if untold else ""
    steel = torque_words(mating.steel_torque, units)
    return "\n".join(filter(None, [torque_words(mating.torque, units), steel and f"if both are of steel: {steel}"]))
