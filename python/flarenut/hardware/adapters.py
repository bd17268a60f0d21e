"""Which adapter joins two ends that do not seal: one body with the opposite of each."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import TYPE_CHECKING, Any

from ..catalog.ends import end_forms
from ..catalog.rows import table
from ..catalog.threads import nominal_tube

if TYPE_CHECKING:
    from ..catalog.ends import End

LARGEST_STEP = 2.0  # tube sizes that one body steps over, as a ratio: -4 to -8 (common practice, no source)
LARGEST_STEP_OF_PIPE = 3.0  # where one of its ends is a pipe thread: -6 to 1/8 NPT stands on every shelf (common practice, no source)
_HUB = "37 flare"  # the form that most others have an adapter to


@cache
def _pairs() -> frozenset[frozenset[str]]:
    return frozenset(frozenset((row["first"], row["second"])) for row in table("adapters.csv"))


def is_usual(one: str, other: str) -> bool:
    """Whether adapters in one piece are usual between two forms.

    >>> is_usual("37 flare", "NPT"), is_usual("bubble flare", "O-ring boss")
    (True, False)
    """
    forms = end_forms()
    return frozenset((forms[one].family, forms[other].family)) in _pairs()


def adapter_between(first: End, second: End, seals: Callable[..., Any]) -> tuple[tuple[End, End] | None, str]:
    """The two ends of the adapter that joins two ends, or None; and what is to be said where there is none.

    `seals` judges two ends: an adapter is only named when both its joints do.
    """
    if first.opposite is None or second.opposite is None:
        return None, ""  # the reason has said it
    if {(one.form, one.sex) for one in (first, second)} == {("barb", "male")}:
        return None, "a piece of hose with two clamps joins them"
    if first.form == second.form == "barb" and first.sex != second.sex:
        return None, ""
    for one in (first, second):
        if one.opposite is None or one.opposite.sex not in end_forms()[one.form].on_adapter:
            return None, _without(one)
    if not is_usual(first.form, second.form):
        through = is_usual(first.form, _HUB) and is_usual(second.form, _HUB)
        return None, ("no adapter in one piece is usual between them" + (f": two that meet in a {_HUB}" if through else ""))
    sizes = sorted(nominal_tube(one) for one in (first, second))
    if sizes[1] > largest_step(first, second) * sizes[0] * 1.001:
        return None, "the step of size is too large for one adapter: take two"
    adapter = (first.opposite, second.opposite)
    return (adapter, "") if seals(first, adapter[0]) and seals(second, adapter[1]) else (None, "")


def largest_step(first: End, second: End) -> float:
    """How many times the smaller tube the larger one may be, of the ends of one adapter."""
    return LARGEST_STEP_OF_PIPE if any(end_forms()[one.form].sizes == "pipe" for one in (first, second)) else LARGEST_STEP


def _without(one: End) -> str:
    """What to do about an end that no fitting can meet."""
    if one.form == "barb":
        return f"{one} takes a clamped hose and nothing else"
    return f"{one} needs its own threaded port with a flat face; change the hose end or the port"
