"""Where sources differ on what stands on the sheet: both statements, and the one that is used."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ..catalog import source_in_words
from .tables import table

if TYPE_CHECKING:
    from ..catalog.assembly import Disagreement
    from .markup import Markup
    from .sources import Sources

_USED = {"first": "the first", "second": "the second"}


def disputes_section(found: Sequence[Disagreement], sources: Sources) -> Markup:
    """A table of `catalog.Disagreement`s."""
    rows = [[one.topic, one.first, one.second, _USED.get(one.use, one.use) or "each in its place", sources.mark(source_in_words(one.source, one.how))]
            for one in found]
    return table("What one source says, and another", ["on", "first", "second", "used here", "source"], [("", rows)])
