"""How tight: torque of joints, flats past seated, and what the sources say otherwise; 37 degree flares and O-ring bosses here, the rest in torque_more.

Where several sources give the same joint, the overlap of their bands is taken, or the lower band where they do not overlap. The values of the
softer material apply to the whole joint. Most of the tables are from memory: every value says so.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING

from .rows import CatalogError, table
from .torque_more import more_torque, turns_of
from .torque_types import Flats, Torque, halved

if TYPE_CHECKING:
    from .ends import End
    from collections.abc import Callable

SINGLE_VALUE_BAND = 0.10  # the tolerance that the makers print with their list of O-ring boss torques (S29, S30)
LINES = ("hose", "tube", "fitting", "")
_TUBE_NUT, _HOSE_NUT = "37 deg flare tube nut", "37 deg hose coupling nut"
_SWIVEL, _FLARE_NUT = "37 deg flare swivel nut", "37 deg flare nut"
_BOSS, _BOSS_HIGH = "O-ring boss fitting", "O-ring straight-thread fitting"
_SOFT = re.compile(r"alumin|6061|5052|3003|brass|bronze|copper|nylon|plastic|zinc")
_HARD = re.compile(r"steel|stainless|iron\b|\b304\b|\b316\b|\b321\b")


def joint_material(*words: str) -> str:
    """"aluminium" or "steel": which values hold for a joint of parts of these materials.

    Values for aluminium apply where either part is of aluminium, and here also for brass, copper and plastic, which are soft too (common
    practice, no source). A material that is not said or not known counts as soft: too little torque weeps at the leak test, too much cracks.

    >>> joint_material("304 stainless", "6061-T6 aluminium"), joint_material("steel", "steel"), joint_material("steel", "")
    ('aluminium', 'steel', 'aluminium')
    """
    hard = words and all(_HARD.search(word.lower()) and not _SOFT.search(word.lower()) for word in words)
    return "steel" if hard else "aluminium"


def may_be_steel(*words: str) -> bool:
    """Whether a joint of these materials is of steel on both sides as far as is said: some are not, and none of those said is soft.

    >>> may_be_steel("304 stainless", ""), may_be_steel("brass", ""), may_be_steel("steel", "steel")
    (True, False, False)
    """
    return any(not word for word in words or ("",)) and all(joint_material(word) == "steel" for word in words if word)


def fitting_material(word: object) -> str:
    """A material of fittings, ports and hose ends as written, if it is known whether it is hard or soft.

    Raises
    ------
    CatalogError : neither a metal nor a plastic of fittings

    >>> fitting_material("Stainless steel")
    'stainless steel'
    """
    said = word.strip().lower() if isinstance(word, str) else ""
    if not said or not (_HARD.search(said) or _SOFT.search(said)):
        raise CatalogError("material", word, f"{word!r} is no material of fittings", "there are steel, stainless, aluminium, brass, copper, zinc, nylon")
    return said


@cache
def torque_of(end: End, line: str = "", material: str = "aluminium") -> Torque | None:
    """The `Torque` of a joint at an `End`; None where the tables hold none.

    Parameters
    ----------
    end : either end of the joint; taper pipe threads have no torque but turns, see `flats_of`
    line : "tube" for a nut on flared hard line, "hose" for the nut of a hose end, "fitting" for the swivel nut of an adapter, "" where
        it is not known: the lowest of the three
    material : "aluminium" or "steel", of the softer part: see `joint_material`

    Raises
    ------
    CatalogError : another line or material

    >>> from flarenut.catalog import end
    >>> found = torque_of(end("-6 37 flare male"), "tube", "aluminium")
    >>> round(found.low, 2), round(found.high, 2), found.how
    (12.43, 14.12, 'mixed')
    """
    if line not in LINES:
        raise CatalogError("line", line, f"no torque for a line '{line}'", "say hose, tube, fitting or nothing")
    if material not in ("aluminium", "steel"):
        raise CatalogError("material", material, f"no torque for '{material}'", "say aluminium or steel; joint_material() tells which")
    if end.form == "37 flare":
        found = _flare(end.size, line, material)
        return found and found._replace(others=_others(found, end.size, (_TUBE_NUT, _HOSE_NUT, _SWIVEL, _FLARE_NUT)))
    if end.form == "O-ring boss":
        found = _boss(end.size, material)
        return found and found._replace(others=_others(found, end.size, (_BOSS, _BOSS_HIGH)))
    return more_torque(end.form, end.size, material)


def _flare(dash: str, line: str, material: str) -> Torque | None:
    """Nut of a tube, of a hose or of an adapter; the lowest of them where it is not known which.

    The printed values for hose ends of steel or aluminium are of aircraft fittings; where a side is soft those for aluminium ends on adapters hold.
    """
    soft = material == "aluminium"
    kinds: dict[str, Callable[[], Torque | None]] = {"tube": lambda: _agreed(dash, _TUBE_NUT, material), "hose": lambda: _hose_nut(dash, soft),
             "fitting": lambda: halved(_agreed(dash, _FLARE_NUT, "steel")) if soft else _agreed(dash, _SWIVEL, "steel")}
    found = kinds[line]() if line else None
    if found is None:
        every = [one for kind in kinds.values() if (one := kind()) is not None]
        found = min(every, key=lambda one: one.high, default=None)
    return found


def _hose_nut(dash: str, soft: bool) -> Torque | None:
    """Aluminium by a table of its own, but never above steel; steel by the one whose column is called "steel or aluminium hose end"."""
    found = _agreed(dash, _HOSE_NUT, "steel")
    if soft:
        own = more_torque("37 flare", dash, "aluminium")
        return own._replace(high=found.high, source=f"{own.source};{found.source}") if own and found and found.high < own.high else own
    return found._replace(material="steel hose end on steel") if found else _agreed(dash, _FLARE_NUT, "steel")  # -3 has no row of its own


def _boss(dash: str, material: str) -> Torque | None:
    """The list that two machine makers print; a workshop manual has nearly twice as much for fittings of high pressure."""
    found = _agreed(dash, _BOSS, "steel")
    if found is None:
        return None
    found = found._replace(low=found.low * (1 - SINGLE_VALUE_BAND), high=found.high * (1 + SINGLE_VALUE_BAND),
                           note="printed value with its tolerance of 10 %; fittings of a higher pressure class take more")
    return halved(found) if material == "aluminium" else found


@cache
def torque_rows() -> tuple[tuple[str, Torque], ...]:
    """Every row of fitting_torque.csv as (dash, `Torque`), in its order."""
    return tuple((row["dash"], Torque(float(row["torque_min_Nm"]), float(row["torque_max_Nm"]), row["joint"], row["tube_or_fitting_material"],
                                      row["source"], row["how"], row["note"])) for row in table("fitting_torque.csv"))


def _is_of(row: Torque, material: str) -> bool:
    soft, hard = "alumin" in row.material, "steel" in row.material or "ferrous" in row.material
    return soft == hard or (soft if material == "aluminium" else hard)  # both or neither named: a row for either


def _agreed(dash: str, joint: str, material: str) -> Torque | None:
    """What the sources of a joint agree on; None without a row."""
    rows = [row for size, row in torque_rows() if size == dash and row.joint == joint and _is_of(row, material)]
    return agreed(rows) if rows else None


def agreed(rows: Sequence[Torque]) -> Torque:
    """The band that all of several `Torque` allow, else the lowest of them. A row that was read and says just that stands for all.

    >>> read = Torque(11.0, 14.0, "nut", "steel", "S6", "seen")
    >>> agreed([read, Torque(12.0, 15.0, "nut", "steel", "M8", "memory")])[:2], agreed([read, Torque(20.0, 30.0, "nut", "steel", "S7", "seen")])[:2]
    ((12.0, 14.0), (11.0, 14.0))
    """
    low, high = max(row.low for row in rows), min(row.high for row in rows)
    if low > high:
        return min(rows, key=lambda row: row.high)
    seen = [row for row in rows if row.how == "seen" and (row.low, row.high) == (low, high)]
    if seen:
        return seen[0]
    hows = {row.how for row in rows}
    return rows[0]._replace(low=low, high=high, source=";".join(dict.fromkeys(row.source for row in rows)),
                            how=hows.pop() if len(hows) == 1 else "mixed",
                            note="the band that all sources allow" if len(rows) > 1 else rows[0].note)


def _others(chosen: Torque, dash: str, joints: tuple[str, ...]) -> tuple[Torque, ...]:
    """Rows of the tables for the same size that say something else of the same material, each band once."""
    soft = "alumin" in chosen.material
    differing, shown = [], {_rounded(chosen)}
    for size, row in torque_rows():
        if size != dash or row.joint not in joints or row.joint == chosen.joint == _BOSS:  # that one is the chosen, with its tolerance
            continue
        if soft and row.joint in (_FLARE_NUT, _BOSS_HIGH):
            row = halved(row) or row
        elif not _is_of(row, "aluminium" if soft else "steel"):
            continue
        if _rounded(row) not in shown:
            shown.add(_rounded(row))
            differing.append(row)
    return tuple(differing)


def _rounded(torque: Torque) -> tuple[float, float]:
    return round(torque.low, 3), round(torque.high, 3)


@cache
def flats_of(end: End, line: str = "", material: str = "aluminium") -> Flats | None:
    """The `Flats` past seated of a joint at an `End`, of a taper pipe thread its turns past finger tight; None where the tables hold none.

    `line` and `material` as in `torque_of`; flats are those of every material.

    >>> from flarenut.catalog import end
    >>> found = flats_of(end("-6 37 flare male"), "hose")
    >>> found.low, found.high, found.unit
    (1.0, 1.5, 'flats past seated')
    >>> flats_of(end("1/4 NPT male"), material="steel")[:2]
    (2.0, 3.0)
    """
    turns = turns_of(end.form, end.size, material)
    if turns is not None:
        return turns
    angle = {"37 flare": "37", "45 flare": "45"}.get(end.form)
    joint = f"{angle} deg flared tube" if line == "tube" else f"{angle} deg hose and fitting"
    for row in table("fitting_turns_flats.csv"):
        if (row["dash"], row["joint"]) == (end.size, joint):
            low, _, high = row["flats_past_seated"].partition(" to ")
            return Flats(_mixed_number(low), _mixed_number(high), joint, row["source"], row["how"])
    return None


def _mixed_number(text: str) -> float:
    """"1-1/2" as 1.5."""
    whole, _, part = text.rpartition("-")
    top, _, bottom = part.partition("/")
    return float(whole or 0) + float(top) / float(bottom or 1)
