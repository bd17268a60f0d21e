"""Where rows come from, in words: the keys of the tables to the documents that SOURCES.md lists."""

import re
from functools import cache
from importlib.resources import files
from typing import Protocol

FROM_MEMORY = "from memory: verify before use"
_IN_WORDS = {"memory": FROM_MEMORY, "mixed": f"partly {FROM_MEMORY}", "derived": f"derived from it: {FROM_MEMORY.partition(': ')[2]}"}
_COMMON = "common practice, no source"


@cache
def documents() -> dict[str, str]:
    """What every key of `source` stands for.

    >>> documents()["S7"]
    'US Army TM 9-2320-364-20-4, table 2-67 recommended flats rotation'
    """
    text = (files(__package__) / "SOURCES.md").read_text(encoding="utf-8")
    return {key: words.strip() for key, words in re.findall(r"^\| ([SMD]\d+) \|\s*(.+?)\s*\|", text, re.MULTILINE)}


def source_in_words(source: str, how: str = "seen") -> str:
    """A row's `source` with its keys written out, ending in "from memory: verify before use" where it is.

    >>> source_in_words("M10", "memory")
    '33 CFR 183.558 table 8, remaining rows, from memory: verify before use'
    >>> source_in_words("common practice", "common practice")
    'common practice, no source'
    """
    if how == "common practice":
        return _COMMON
    parts = (part.strip() for part in source.split(";"))
    words = "; ".join(dict.fromkeys(re.sub(r",? from memory.*$", "", documents().get(part, part)) for part in parts if part))
    ending = _IN_WORDS.get(how, FROM_MEMORY if "memory" in how else "")
    return words if not ending or ending in words else f"{words}, {ending}" if words else ending


class Sourced(Protocol):
    """A row that says where it comes from, by the keys of its table."""

    @property
    def source(self) -> str: ...
    @property
    def how(self) -> str: ...


def said_of(row: Sourced) -> str:
    """A row's source as findings and lists show it: what is from memory says so."""
    return source_in_words(row.source, row.how)
