"""One value of a table of line sizes, and what all sizes of it are judged by."""

from dataclasses import dataclass

from ..checks import Limits
from ..units import Quantity


@dataclass(frozen=True)
class Cell:
    """One value of one size, from the case that is worst for it."""

    value: Quantity | float
    case: str = ""
    limit: Quantity | None = None
    at_most: bool = True  # whether the limit is an upper one
    bound: str = ""  # "over" where the value is no more than a least one
    place: str = ""  # where there are several, that which is worst

    @property
    def margin(self):
        """How much is left to the limit, negative where it is passed; None where there is none."""
        if self.limit is None:
            return None
        left = (self.limit.si - self.value.si) * (1 if self.at_most else -1)
        return Quantity(left, "pressure_difference" if self.value.kind.startswith("pressure") else self.value.kind)

    @property
    def spare(self):
        """The margin as a share of the limit; None where there is none."""
        return None if self.limit is None else self.margin.si / abs(self.limit.si or 1.0)

    @property
    def passes(self):
        """False where a limit is passed."""
        return self.limit is None or self.margin.si >= 0.0

    @property
    def where(self):
        """Case and place in words."""
        return ", ".join(filter(None, [self.case, self.place]))


@dataclass(frozen=True)
class Judge:
    """What all sizes of a table are judged by."""

    line: str
    places: tuple  # where the fed pressure is read; empty for none
    limits: Limits
    role: str  # "suction", "feed", "return" or ""
