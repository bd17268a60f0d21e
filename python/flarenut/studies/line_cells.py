"""One value of a table of line sizes, and what all sizes of it are judged by."""

from dataclasses import dataclass
from math import inf

from ..checks import Limits
from ..units import Quantity

# A share of what a limit allows: a margin that is less is less than our numbers are worth. Friction lies within 1 to 6 % of nineteen in twenty of what was
# measured in turbulent flow (docs/verification.md, measured sets), coefficients of fittings, bores and viscosities no nearer to those at hand.
WORTH = 0.05


@dataclass(frozen=True)
class Cell:
    """One value of one size, from the case that is worst for it."""

    value: Quantity | float
    case: str = ""
    limit: Quantity | None = None
    at_most: bool = True  # whether the limit is an upper one
    bound: str = ""  # "over" where the value is no more than a least one
    place: str = ""  # where there are several, that which is worst
    allowed: float | None = None  # [SI] what the limit allows, where that is not the limit itself: how far a pressure may fall from where it is held

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
        """The margin as a share of what the limit allows; without end where there is no limit. Our numbers are worth no more than `WORTH` of it."""
        return self.spare if self.allowed is None else self.left / self.allowed

    @property
    def by_a_hair(self) -> bool:
        """Whether the limit is kept by less than our numbers are worth."""
        return 0.0 <= self.tightness < WORTH

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
