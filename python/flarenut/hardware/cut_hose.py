"""A hose to its `HoseCut`: slack where it is run straight, what its ends take up, straight behind them, clamps."""

from typing import NamedTuple

from ..catalog import supports as rules
from ..catalog.cutting import cut_offs_like, end_cut_off
from ..catalog.hose_ratings import hose_rating
from ..catalog.rows import CatalogError
from ..units import Quantity
from .cut_parts import HoseCut, Step, supports
from .items import end_item

_SIDES = ("inlet", "outlet")


class _TakenUp(NamedTuple):
    """What an end takes up of the length of its assembly."""

    step: Step | None
    known: bool
    like: tuple = ()  # `CutOff`s of other families


def hose_cut(line, circuit, prices, slack):
    """The `HoseCut` of a `Line`.

    Parameters
    ----------
    circuit : name of its circuit
    prices : `Prices`, which may hold what ends take up, or None
    slack : share of the length of a hose that is run straight, or None for the middle of the catalogue's
    """
    made = line.made
    taken = [_taken_up(side, end, made, prices) for side, end in zip(_SIDES, line.ends)]
    steps = [_slack(made.length, slack)] if not line.angles else []
    steps += [one.step for one in taken if one.step is not None]
    like = [cut for one in taken for cut in one.like]
    outside, change = _outside(made), rules.length_change()
    wanted = rules.straight_behind_end().low * (outside or made.bore)
    behind = _behind(line, taken)
    return HoseCut(line.name, line.run, circuit, line.size, made.dash, _length(made.length), line.ends, tuple(steps),
                   supports(made.length, rules.support_spacing(), rules.clamp_from_length().high), not line.angles, barbs(made),
                   tuple(None if one is None else _length(one) for one in behind), _length(wanted), outside is None,
                   tuple(side for side, straight in zip(_SIDES, behind) if straight is not None and straight < wanted),
                   (_length(-change.low * made.length), _length(change.high * made.length)), sum(not one.known for one in taken),
                   (_length(min(cut.low for cut in like)), _length(max(cut.high for cut in like))) if like else ())


def barbs(made):
    """How many ends of a hose are clamped on barbs."""
    return sum(is_clamped(made, end) for end in made.shop.ends)


def is_clamped(made, end):
    """Whether this end of a hose has no hose end, but is clamped on a barb."""
    return end.form == "barb" if end is not None else made.shop.clamped


def _slack(length, share):
    rule = rules.slack()
    part = 0.5 * (rule.low + rule.high) if share is None else share
    return Step(f"slack: {part * 100:.3g} %, as it is run straight", _length(part * length), rule.said if share is None else "")


def _taken_up(side, end, made, prices):
    if is_clamped(made, end):
        return _TakenUp(None, True)  # the hose reaches over the barb, and its length counts with it
    own = prices.cut_off(end_item(end, made)) if prices is not None else None
    if own is not None:
        return _TakenUp(Step(f"{side} end takes up", _length(-own), prices.name), True)
    table = None if end is None else end_cut_off(made.shop.standard, made.dash, end.turn)
    if table is not None:
        return _TakenUp(Step(f"{side} end takes up", _length(-table.low), f"{table.said} (reusable ends for {made.shop.standard})"), True)
    return _TakenUp(None, False, () if end is None or made.dash is None else tuple(cut_offs_like(made.dash, end.turn)))


def _behind(line, taken):
    """Straight hose behind both ends [m], without what the ends themselves take up; None where the way does not bend behind one."""
    if line.way is None or not line.way.turns:
        return None, None
    own = (-one.step.length.si if one.step is not None else 0.0 for one in taken)
    return [max(straight - length, 0.0) for straight, length in zip((line.way.straights[0], line.way.straights[-1]), own)]


def _outside(made):
    """Outside diameter of a hose [m] by its standard; None where no table has it."""
    try:
        return None if made.shop.standard is None else hose_rating(made.shop.standard, made.dash, made.bore).outside
    except CatalogError:
        return None


def _length(metres):
    return Quantity(metres, "length")
