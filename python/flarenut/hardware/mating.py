"""Whether two ends seal. Every pair is decided: it seals, it is refused with the reason, or an adapter joins it.

Two ends seal when they are of one family, one size and opposite sexes. Everything else follows from their threads: the same thread or
nearly the same with another seal is the dangerous pair, because it can be screwed together.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Any, NamedTuple

from ..catalog.ends import End, end, end_forms, end_sizes
from ..catalog.threads import NEAR_RULE, relation, thread_of
from ..catalog.torque import flats_of, joint_material, may_be_steel, torque_of
from ..catalog.torque_types import Flats, Torque
from ..catalog.torque_more import beside_brakes, is_aluminium, is_soft_tube, without_brake_pipe
from .adapters import adapter_between
from .sealants import sealant_for
from .spigots import hose_fits, in_millimetres

if TYPE_CHECKING:
    from ..catalog.ends import EndForm
    from ..catalog.threads import Thread


class Mating(NamedTuple):
    """What becomes of two ends. `reason` and `sealant` are sentences without their full stop.

    `verdict` is "seals", "refused", or "adapter": nothing of them takes hold, and a standard adapter joins them. A dangerous pair is refused
    even where an adapter would join it, and then names that too. `takes_sealant`: "needed", "optional" or "none".
    """

    verdict: str
    reason: str
    thread: str = ""
    seal: str = ""
    sealant: str = ""
    takes_sealant: str = ""
    torque: Torque | None = None
    steel_torque: Torque | None = None  # where a material is not said: what holds if both sides are of steel
    flats: Flats | None = None
    steel_flats: Flats | None = None  # turns of a pipe thread, likewise
    adapter: tuple[End, End] | None = None  # (the end that meets the first, the end that meets the second)
    source: str = ""
    how: str = ""
    danger: bool = False
    untold: str = ""  # why there is no torque, where somebody can mend that


SAY_MATERIAL = "say the material: where a pedal presses none is guessed"
NO_TABLE = "no table has it: as the maker says"
NO_SOFT_TUBE = "no figure: this tube has no place behind a pedal"


def mate(first: str | End, second: str | End, *, line: str = "", materials: Sequence[str] = (), brakes: bool = True,
         foot: bool = False, tube: str = "") -> Mating:
    """The `Mating` of two ends. In either order it is the same, save that its adapter is turned round.

    Parameters
    ----------
    first, second : `End`, or its words: "-8 37 flare male"
    line : "hose", "tube" (flared hard line), "fitting" or "" where it is not known: which torque and which flats apply
    materials : of both parts, "6061-T6 aluminium", "steel"; the softer decides the torque, and what is not said counts as soft
    brakes : False where it is known that the line does not brake: torque printed for brakes then gives way to any other of the same joint
    foot : True in brakes and clutches: a material that is not said is not taken as soft then, and what is said of the other part holds. No
        torque of aluminium is given where nobody says aluminium; that of a brake pipe or bolt is, which names what it is for
    tube : material said of a tube in the joint: torque printed for brake pipe holds for none of aluminium or plain copper

    Raises
    ------
    CatalogError : words that are no end, another line

    >>> joint = mate("-6 37 flare female", "-6 37 flare male", line="hose")
    >>> joint.verdict, joint.thread, joint.seal
    ('seals', '9/16-18', 'metal cone at 37 degrees')
    >>> wrong = mate("-6 37 flare male", "-6 O-ring boss female")
    >>> wrong.verdict, wrong.danger
    ('refused', True)
    >>> str(wrong.adapter[0]), str(wrong.adapter[1])
    ('-6 37 flare female', '-6 O-ring boss male')
    """
    one, other = (end(side) if isinstance(side, str) else side for side in (first, second))
    if _rank(other) < _rank(one):
        turned = mate(other, one, line=line, materials=materials, brakes=brakes, foot=foot, tube=tube)
        return turned._replace(adapter=turned.adapter and turned.adapter[::-1])
    found = _mate(one, other)
    if found.verdict != "seals":
        return found
    plain, soft = _straight(one), joint_material(*materials)
    said = [word for word in materials if word]
    guessed = foot and len(said) < max(len(materials), 1)

    def torque(material: str) -> Torque | None:
        printed = torque_of(plain, line, material)
        printed = printed if brakes else beside_brakes(printed)
        return without_brake_pipe(printed) if is_soft_tube(tube) else printed

    printed = torque(joint_material(*said) if guessed and said else soft)
    made: dict[str, Any] = {"torque": printed, "flats": flats_of(plain, line, soft)}
    if foot and is_soft_tube(tube):
        return found._replace(untold=NO_SOFT_TUBE)
    if foot and printed is not None and not any(map(is_aluminium, said)):
        others = tuple(band for band in printed.others if not is_aluminium(band.material))
        made |= {"torque": None, "untold": SAY_MATERIAL if guessed else NO_TABLE} if is_aluminium(printed.material) else {
            "torque": printed._replace(others=others)}
    if may_be_steel(*materials):
        steel = {"steel_torque": None if guessed else torque("steel"), "steel_flats": flats_of(plain, line, "steel")}
        made |= {key: band if _differs(band, made[key[6:]]) else None for key, band in steel.items()}
    return found._replace(**made)


def _differs(one: Torque | Flats | None, other: Torque | Flats | None) -> bool:
    """Whether two bands are not the same numbers for the same thing."""
    return one is not None and (other is None or one[:2] != other[:2])


def _rank(one: End) -> tuple[bool, str, str, float, float, str]:
    """Male before female, then by name: one order for both ways round."""
    return one.sex == "female", one.form, one.size, one.turn, one.bore or 0.0, one.material


def _straight(one: End) -> End:
    return End(one.form, one.size, one.sex)


@lru_cache(maxsize=65536)
def _mate(first: End, second: End) -> Mating:
    """Verdict without torque. `first` is the male where there is one."""
    if _seals(first, second):
        return _sealed(first, second)
    threads = (thread_of(first), thread_of(second))
    goes = relation(thread_of(first), thread_of(second)) if {first.sex, second.sex} == {"male", "female"} else ""
    adapter, remark = adapter_between(_straight(first), _straight(second), _seals)
    reason = _reason(first, second, goes) + (f"; {remark}" if remark else "")
    known = [thread for thread in threads if thread is not None]
    named = " against ".join(dict.fromkeys(thread.designation for thread in known)) if len(known) == len(threads) else ""
    source, how = _support(first, second, goes)
    return Mating("adapter" if adapter and not goes else "refused", reason, named, adapter=adapter, source=source, how=how, danger=bool(goes))


def _seals(first: End, second: End) -> bool:
    """One family, one size, opposite sexes; a hose also has to fit the spigot it is clamped on."""
    forms = end_forms()
    if forms[first.form].family != forms[second.form].family or {first.sex, second.sex} != {"male", "female"}:
        return False
    if first.form == "barb":
        male, female = (first, second) if first.sex == "male" else (second, first)
        return hose_fits(male, female).fits
    return first.size == second.size


def _sealed(first: End, second: End) -> Mating:
    """The more demanding form of a family says what seals: NPT in NPTF is a plain NPT joint."""
    forms = end_forms()
    form = min((forms[first.form], forms[second.form]), key=lambda one: list(forms).index(one.name))
    thread = thread_of(End(form.name, first.size))
    reason, source, how = f"{_named(first)} and {_named(second)} belong together: {form.seals_on}", form.source, form.how
    if form.name == "barb":
        fit = hose_fits(first, second)
        reason, source, how = f"{reason}; {fit.said}", fit.source, fit.how
    named = thread.designation if thread else ""
    return Mating("seals", reason, named, form.seals_on, sealant_for(form), form.sealant, source=source, how=how)


def _named(one: End) -> str:
    """An end without its turn, bore and material, which do not decide what it joins."""
    return str(_straight(one))


def _reason(first: End, second: End, goes: str) -> str:
    """Why they do not seal; `goes` is the relation of their threads, "" where nothing takes hold."""
    one, other = end_forms()[first.form], end_forms()[second.form]
    threads = (thread_of(first), thread_of(second))
    pair = f"{_named(first)} and {_named(second)}"
    seals = f"the one seals on {one.seals_on}, the other on {other.seals_on}"
    if "plain tube" in (one.name, other.name):
        return f"{pair}: a cut tube has no seat and no thread; flare it with nut and sleeve already on, or bead it for a clamped hose"
    own, its = threads
    if goes == "same" and own is not None:
        return f"{_named(first)} screws into {_named(second)}, both {own.designation}, and nothing seals: {seals}"
    if goes == "near" and own is not None and its is not None:
        return f"{_named(first)} can be forced into {_named(second)} and does not seal: {_difference(own, its)}"
    if one.name == other.name == "barb" and first.sex != second.sex:
        return f"{pair}: {hose_fits(first, second).said}"
    if first.sex == second.sex:
        return f"{pair} are both {first.sex}: {_both(one, other, first.sex)}"
    if one.family == other.family:
        return f"{pair} are of two sizes"
    if own is None or its is None:
        return f"{pair} have no thread in common: {seals}"
    return f"{pair} do not go together: {own.designation} against {its.designation}"


def _both(one: EndForm, other: EndForm, sex: str) -> str:
    words = list(dict.fromkeys((getattr(one, sex), getattr(other, sex))))
    return f"two times the {words[0]}" if len(words) == 1 else f"{words[0]}, and {words[1]}"


def _difference(male: Thread, female: Thread) -> str:
    """Both threads with what differs, and how it shows in the hand."""
    shown = " against ".join(f"{one.designation} ({in_millimetres(one.major)}, pitch {in_millimetres(one.pitch)})" for one in (male, female))
    if male.angle != female.angle:
        return f"{shown}, flanks of {male.angle:g} against {female.angle:g} degrees"
    return shown + ("; it starts loosely and strips" if male.major < female.major else "; it starts tight and strips")


def _support(first: End, second: End, goes: str) -> tuple[str, str]:
    """Source and how of a refusal: of the threads where they decide, else of the forms."""
    threads = [thread for thread in (thread_of(first), thread_of(second)) if thread is not None]
    rows: Sequence[Thread | EndForm] = threads if len(threads) == 2 else [end_forms()[one.form] for one in (first, second)]
    keys = ";".join(dict.fromkeys(key for row in rows for key in row.source.split(";")))
    hows = {row.how for row in rows}
    return f"{keys};{NEAR_RULE}" if goes == "near" else keys, hows.pop() if len(hows) == 1 else "mixed"


def clashes() -> Iterator[object]:
    """Every pair of ends that can be screwed together and does not seal, as (male, female, `Mating`), found from the threads alone.

    >>> next(str(joint.thread) for male, female, joint in clashes() if male.form == "37 flare" and female.form == "45 flare")
    '5/16-24'
    """
    ends = [End(form, size, sex) for form in end_forms() for size in end_sizes(form) for sex in end_forms()[form].sexes]
    for male in (one for one in ends if one.sex == "male"):
        for female in (one for one in ends if one.sex == "female"):
            joint = _mate(male, female)
            if joint.danger:
                yield male, female, joint
