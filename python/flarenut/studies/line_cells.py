"""One value of a table of line sizes, and what all sizes of it are judged by."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from ..checks import Limits
from ..units import Quantity

# A share of what a limit allows: our numbers are no closer than that. Five hundredths are judgement. Friction measured in turbulent flow
# bounds losses by 1 to 6 % in nineteen of twenty points (docs/verification.md, measured sets); fittings, bores and viscosities are known
# no better.
NO_CLOSER = 0.05
# A share of what a limit allows: a size that leaves no more than that beyond another does not mend a narrow pass. Judgement too.
_MENDS = 0.01


@dataclass(frozen=True)
class Cell:
    """One value of one size, from the case that is worst for it."""

    value: Quantity | float
    case: str = ""
    limit: Quantity | None = None
    at_most: bool = True  # whether the limit is an upper one
    bound: str = ""  # "over" where the value is no more than a least one
    place: str = ""  # where there are several, that which is worst
    # [SI] what the limit allows, where that is not the limit itself: how far a pressure may fall from where it is held. 0 where it may not.
    allowed: float | None = None

    @property
    def margin(self) -> Quantity | None:
        """How much is left to the limit, negative where it is passed; None where there is none."""
        if self.limit is None or not isinstance(self.value, Quantity):
            return None
        left = (self.limit.si - self.value.si) * (1 if self.at_most else -1)
        return Quantity(left, "pressure_difference" if self.value.kind.startswith("pressure") else self.value.kind)

    @property
    def spare(self) -> float:
        """The margin as a share of the limit; without end where there is none."""
        return inf if self.limit is None else self.left / abs(self.limit.si or 1.0)

    @property
    def tightness(self) -> float:
        """The margin as a share of what the limit allows, of the limit itself where that is nothing; endless where there is no limit."""
        return self.left / self.allowed if self.allowed else self.spare

    @property
    def by_a_hair(self) -> bool:
        """Whether the limit is kept by less than our numbers are close."""
        return 0.0 <= self.tightness < NO_CLOSER

    def leaves_more_than(self, other: Cell) -> bool:
        """Whether so much more is left to the limit that it counts."""
        return self.tightness - other.tightness > _MENDS

    @property
    def passes(self) -> bool:
        """False where a limit is passed."""
        return self.limit is None or self.left >= 0.0

    @property
    def left(self) -> float:
        """The margin in SI; without end where there is no limit."""
        margin = self.margin
        return inf if margin is None else margin.si

    @property
    def si(self) -> float:
        """The value in SI."""
        return self.value.si if isinstance(self.value, Quantity) else self.value

    @property
    def where(self) -> str:
        """Case and place in words."""
        return ", ".join(filter(None, [self.case, self.place]))


@dataclass(frozen=True)
class Judge:
    """What all sizes of a table are judged by."""

    line: str
    places: tuple[str, ...]  # where the fed pressure is read; empty for none
    limits: Limits
    role: str  # "suction", "feed", "return" or ""
