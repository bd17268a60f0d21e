"""A hose to its `HoseCut`: slack where it is run straight, what its ends take up, straight behind them, clamps."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from ..catalog import supports as rules
from ..catalog.cutting import cut_offs_like, end_cut_off
from ..units import Quantity
from .cut_parts import HoseCut, Step, supports
from .items import end_item
from .lines import outside_of

if TYPE_CHECKING:
    from ..catalog.cutting import CutOff
    from ..catalog.ends import End
    from ..circuit.made_of import MadeOf
    from .lines import Line
    from .prices import Prices

_SIDES = ("inlet", "outlet")
SOCKET = 1.0  # outside diameters of hose that a socket or a barb holds, at least (common practice, no source)


class _TakenUp(NamedTuple):
    """What an end takes up of the length of its assembly."""

    step: Step | None
    known: bool
    like: tuple[CutOff, ...] = ()  # `CutOff`s of other families
    shortest: float = 0.0  # [m]: the least of any family of that size, straight where the end is not said


def hose_cut(line: Line, circuit: str, prices: Prices | None, slack: float | None) -> HoseCut:
    """The `HoseCut` of a `Line`.

    Parameters
    ----------
    circuit : name of its circuit
    prices : `Prices`, which may hold what ends take up, or None
    slack : share of the length of a hose that is run straight, or None for the middle of the catalogue's
    """
    made = line.made
    if line.made_up:
        return _made_up(line, circuit)
    taken = [_taken_up(side, end, made, prices) for side, end in zip(_SIDES, line.ends)]
    steps = [_slack(line, slack)] if not line.angles else []
    steps += [one.step for one in taken if one.step is not None]
    like = [cut for one in taken for cut in one.like]
    outside, change = outside_of(made), rules.length_change()
    wanted = rules.straight_behind_end().low * (outside or made.bore)
    behind, least = _behind(line, taken), 2.0 * SOCKET * (outside or made.bore)
    return HoseCut(line.name, line.run, circuit, line.size, made.dash, _length(made.length), line.ends, tuple(steps),
                   supports(made.length, rules.support_spacing(), rules.clamp_from_length().high), not line.angles, barbs(made),
                   tuple(None if one is None else _length(one) for one in behind), _length(wanted), outside is None,
                   tuple(side for side, straight in zip(_SIDES, behind) if straight is not None and straight < wanted),
                   (_length(-change.low * made.length), _length(change.high * made.length)), sum(not one.known for one in taken),
                   (_length(min(cut.low for cut in like)), _length(max(cut.high for cut in like))) if like else (), _length(least),
                   _likely(made, steps, taken), pressed=line.pressed)


def barbs(made: MadeOf) -> int:
    """How many ends of a hose are clamped on barbs."""
    return sum(is_clamped(made, end) for end in made.shop.ends)


def is_clamped(made: MadeOf, end: End | None) -> bool:
    """Whether this end of a hose has no hose end, but is clamped on a barb."""
    return end.form == "barb" if end is not None else made.shop.clamped


def _made_up(line: Line, circuit: str) -> HoseCut:
    """A hose of brakes: bought as long as its way, with its ends, and not cut. What wheels and suspension move is in its way."""
    length = line.made.length
    return HoseCut(line.name, line.run, circuit, line.size, line.made.dash, _length(length), line.ends,
                   supports=supports(length, rules.support_spacing(), rules.clamp_from_length().high), straight=not line.angles, pressed=False, made_up=True, instead=line.instead)


def _slack(line: Line, share: float | None) -> Step:
    """What is added to a straight hose: the middle of what handbooks say; without pressure less, as nothing shortens it; what was asked for beats both."""
    rule, shortens = rules.slack(), rules.length_change()
    usual = f"5 to 8 % is usual; {rule.said}"
    if share is not None:
        part, where, source = share, "", ""
    elif line.pressed:
        part, where, source = 0.5 * (rule.low + rule.high), " and under pressure", usual
    else:
        part, where = 0.5 * (rule.low + rule.high) + shortens.low, " before a pump or behind what spills"
        source = f"less the {-shortens.low * 100:.3g} % that pressure shortens hose by, {shortens.said}: leaving them out is common practice, no source"
    return Step(f"slack: {part * 100:.3g} %, as it is run straight{where}", _length(part * line.made.length), source)


def _taken_up(side: str, end: End | None, made: MadeOf, prices: Prices | None) -> _TakenUp:
    if is_clamped(made, end):
        return _TakenUp(None, True)  # the hose reaches over the barb, and its length counts with it
    own = prices.cut_off(end_item(end, made)) if prices is not None else None
    if prices is not None and own is not None:
        return _TakenUp(Step(f"{side} end takes up", _length(-own), prices.name), True)
    table = None if end is None else end_cut_off(made.shop.standard, made.dash, end.turn)
    if table is not None:
        return _TakenUp(Step(f"{side} end takes up", _length(-table.low), f"{table.said} (reusable ends for {made.shop.standard})"), True)
    like = () if made.dash is None else tuple(cut_offs_like(made.dash, 0 if end is None else end.turn))
    return _TakenUp(None, False, () if end is None else like, min((cut.low for cut in like), default=0.0))


def _likely(made: MadeOf, steps: Sequence[Step], taken: Sequence[_TakenUp]) -> Quantity | None:
    """What is left to cut with the shortest ends that the tables have; None where what all of them take up is known."""
    if all(one.known for one in taken):
        return None
    return _length(made.length + sum(step.length.si for step in steps) - sum(one.shortest for one in taken))


def _behind(line: Line, taken: Sequence[_TakenUp]) -> list[float] | tuple[None, None]:
    """Straight hose behind both ends [m], without what the ends themselves take up; None where the way does not bend behind one."""
    if line.way is None or not line.way.turns:
        return None, None
    own = (-one.step.length.si if one.step is not None else 0.0 for one in taken)
    return [max(straight - length, 0.0) for straight, length in zip((line.way.straights[0], line.way.straights[-1]), own)]


def _length(metres: float) -> Quantity:
    return Quantity(metres, "length")
