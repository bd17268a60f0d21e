"""Where sources differ on what stands on the sheet: both statements, and the one that is used."""

from ..catalog import source_in_words
from .tables import table

_USED = {"first": "the first", "second": "the second"}


def disputes_section(found, sources):
    """A table of `catalog.Disagreement`s."""
    rows = [[one.topic, one.first, one.second, _USED.get(one.use, one.use) or "each in its place", sources.mark(source_in_words(one.source, one.how))]
            for one in found]
    return table("What one source says, and another", ["on", "first", "second", "used here", "source"], [("", rows)])
