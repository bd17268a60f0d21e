"""`Proposal`: one thing that is put in, or that was left open; and what stands in place of a joint that was said and does not seal."""

from typing import NamedTuple

from ..units import Quantity
from .items import end_in


class Proposal(NamedTuple):
    """In words: where, and what. `parts` stand at the {} of the words: `catalog.End`s, and lengths [`Quantity`], which are shown in either system.

    `clash`: the `Finding` of the joint as written, where both its ends were said and do not go together; `instead`: what else would mend it."""

    where: str
    words: str
    parts: tuple = ()
    clash: object = None
    instead: str = ""

    @property
    def what(self):
        """In words, bores in mm."""
        return self.said("metric")

    def said(self, system):
        """In words, lengths and bores in "us" or "metric" units."""
        if not self.parts:
            return self.words
        return self.words.format(*(_length(part, system) if isinstance(part, Quantity) else end_in(part, system) for part in self.parts))

    def clashed(self, system):
        """The finding of the joint as written, and what mends it but the adapter."""
        return f"as written {self.clash.severity.upper()}: {self.clash.sentence(system)}; or {self.instead}"


def _length(length, system):
    return f"{length.to('ft'):.3g} ft" if system == "us" else f"{length.to('mm'):.0f} mm"
