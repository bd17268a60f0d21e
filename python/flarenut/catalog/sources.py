"""Where rows come from, in words: the keys of the tables to the documents that SOURCES.md lists."""

import re
from functools import cache
from importlib.resources import files

FROM_MEMORY = "from memory: verify before use"
_IN_WORDS = {"memory": FROM_MEMORY, "mixed": f"partly {FROM_MEMORY}", "common practice": "common practice",
             "derived": f"derived from it: {FROM_MEMORY.partition(': ')[2]}"}


@cache
def documents():
    """What every key of `source` stands for.

    >>> documents()["S7"]
    'US Army TM 9-2320-364-20-4, table 2-67 recommended flats rotation'
    """
    text = (files(__package__) / "SOURCES.md").read_text(encoding="utf-8")
    return dict(re.findall(r"^\| ([SM]\d+) \| (.*?) \|$", text, re.MULTILINE))


def source_in_words(source, how="seen"):
    """A row's `source` with its keys written out, ending in "from memory: verify before use" where it is.

    >>> source_in_words("M10", "memory")
    '33 CFR 183.558 table 8, remaining rows, from memory: verify before use'
    >>> source_in_words("common practice, no source")
    'common practice, no source'
    """
    words = []
    for key in re.split(r"; ?", source):
        words.append(documents().get(key, key).removesuffix(", from memory"))
    said = "; ".join(word for word in words if word)
    ending = _IN_WORDS.get(how, "")
    return said if not ending or said.startswith(ending) or ending in said else f"{said}, {ending}" if said else ending
