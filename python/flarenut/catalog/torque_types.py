"""What tables of tightening give: `Torque` and `Flats`; and half of a torque, for softer parts."""

from __future__ import annotations

from typing import NamedTuple

HALVED_BY = "half of the steel value, as the workshop manual S31 says of non-ferrous parts"
PAST_SEATED = "flats past seated"


class Torque(NamedTuple):
    """A band of torque [N m] for one joint. `others`: what the tables say of it otherwise, to be shown beside it."""

    low: float
    high: float
    joint: str
    material: str
    source: str
    how: str
    note: str = ""
    others: tuple[Torque, ...] = ()


class Flats(NamedTuple):
    """How far a nut turns after its seats touch, in flats of its hexagon, six to a turn; or a pipe thread past finger tight, in turns: see `unit`."""

    low: float
    high: float
    joint: str
    source: str
    how: str
    unit: str = PAST_SEATED
    note: str = ""


def halved(steel: Torque | None) -> Torque | None:
    """Half of a `Torque` of steel, for softer parts; None of None.

    >>> halved(Torque(43.0, 57.0, "nut", "steel", "S31", "seen"))[:4]
    (21.5, 28.5, 'nut', 'aluminium')
    """
    if steel is None:
        return None
    source = ";".join(dict.fromkeys([*steel.source.split(";"), "S31"]))
    how = steel.how if steel.how in ("memory", "mixed") else "derived"
    return steel._replace(low=steel.low / 2, high=steel.high / 2, material="aluminium", source=source, how=how, note=HALVED_BY)
