"""Times as people say them."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .over_time_answer import OverTime


def clock(seconds: float) -> str:
    """A time in words, to the second.

    >>> clock(0.001), clock(45), clock(180), clock(200), clock(3900)
    ('0 s', '45 s', '3 min', '3 min 20 s', '1 h 5 min')
    """
    whole = int(round(seconds))
    hours, minutes, rest = whole // 3600, whole // 60 % 60, whole % 60
    told = [f"{hours} h" if hours else "", f"{minutes} min" if minutes else "", f"{rest} s" if rest else ""]
    return " ".join(filter(None, told)) or "0 s"


def label(over: OverTime, number: int) -> str:
    """What a moment is called at the head of a column."""
    leg, time = over.legs_at[number], over.times[number]
    return f"{clock(time)}, {leg.case}" + (" begins" if number == 0 or over.legs_at[number - 1] is not leg else "")
