"""`Proposal`: one thing that is put in, or that was left open; and what stands in place of a joint that was said and does not seal."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from ..units import Quantity
from .items import end_in

if TYPE_CHECKING:
    from ..catalog.ends import End
    from ..results.finding import Finding


class Proposal(NamedTuple):
    """In words: where, and what. `parts` stand at the {} of the words: `catalog.End`s, and lengths [`Quantity`], which are shown in either system.

    `clash`: the `Finding` of the joint as written, where both its ends were said and do not go together; `instead`: what else would mend it."""

    where: str
    words: str
    parts: tuple[End | Quantity, ...] = ()
    clash: Finding | None = None
    instead: str = ""

    @property
    def what(self) -> str:
        """In words, bores in mm."""
        return self.said("metric")

    def said(self, system: str) -> str:
        """In words, lengths and bores in "us" or "metric" units."""
        if not self.parts:
            return self.words
        return self.words.format(*(_length(part, system) if isinstance(part, Quantity) else end_in(part, system) for part in self.parts))

    def clashed(self, system: str) -> str:
        """The finding of the joint as written, and what mends it but the adapter."""
        assert self.clash is not None, "it is asked of one that clashes"
        return f"as written {self.clash.severity.upper()}: {self.clash.sentence(system)}; or {self.instead}"


def _length(length: Quantity, system: str) -> str:
    return f"{length.to('ft'):.3g} ft" if system == "us" else f"{length.to('mm'):.0f} mm"
