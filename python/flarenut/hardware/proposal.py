"""`Proposal`: one thing that is put in, or that was left open."""

from typing import NamedTuple

from ..units import Quantity
from .items import end_in


class Proposal(NamedTuple):
    """In words: where, and what. `parts` stand at the {} of the words: `catalog.End`s, and lengths [`Quantity`], which are shown in either system."""

    where: str
    words: str
    parts: tuple = ()

    @property
    def what(self):
        """In words, bores in mm."""
        return self.said("metric")

    def said(self, system):
        """In words, lengths and bores in "us" or "metric" units."""
        if not self.parts:
            return self.words
        return self.words.format(*(_length(part, system) if isinstance(part, Quantity) else end_in(part, system) for part in self.parts))


def _length(length, system):
    return f"{length.to('ft'):.3g} ft" if system == "us" else f"{length.to('mm'):.0f} mm"
