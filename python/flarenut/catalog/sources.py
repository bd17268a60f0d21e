"""Sources in words: what the keys of the tables' `source` column stand for (SOURCES.md)."""

import re
from functools import cache
from importlib.resources import files

VERIFY = "from memory: verify before use"


@cache
def _documents():
    text = (files(__package__) / "SOURCES.md").read_text(encoding="utf-8")
    return {key: words.strip() for key, words in re.findall(r"^\| ([SMD]\d+) \|\s*(.+?)\s*\|", text, re.MULTILINE)}


def source_words(keys):
    """The documents that "S1;S2" stands for, in words; what is no key stays as it is.

    >>> source_words("S8")
    'FAA AC 43.13-1B (1998), paragraphs 9-30 and after, page 9-20'
    """
    parts = (part.strip() for part in keys.split(";"))
    return "; ".join(dict.fromkeys(re.sub(r",? from memory.*$", "", _documents().get(part, part)) for part in parts if part))


def said(source, how):
    """A source as findings and tables show it: what was not read there says so.

    >>> said("M3", "memory")
    'SAE J30 and J2064 classes, from memory: verify before use'
    >>> said("common practice", "common practice")
    'common practice, no source'
    """
    words = source_words(source)
    if "memory" in how:
        return f"{words}, {VERIFY}"
    return "common practice, no source" if how == "common practice" else words
