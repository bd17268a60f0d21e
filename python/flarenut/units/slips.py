"""Which known unit a misspelt one was meant for. Only slips of the pen count: one letter more or less may be another unit, a thousand times as large."""

import re
from collections.abc import Mapping

from .table import Unit

_SPELLED_OUT = 4  # letters; a shorter spelling is a sign, and signs that differ by a letter are different units
_MINUTES = ("m", "mn")  # what people write after "per"


def meant_unit(spelling: str, known: Mapping[str, Unit]) -> Unit | None:
    """The one of the known units that a misspelt one stands for; None where it may as well be another.

    >>> from flarenut.units.table import UNITS
    >>> meant_unit("inc", UNITS["length"]).name, meant_unit("miles", UNITS["length"]), meant_unit("cfh", UNITS["volume_flow"])
    ('in', None, None)
    """
    words = _words(spelling)
    if not words:
        return None
    candidates = [(one, other) for one in known if len(other := _words(one)) == len(words)]
    for alike in (_same_word, _same_but_typing):
        found = [one for one, other in candidates if all(alike(*pair) for pair in zip(words, other))]
        if found:
            longer = [one for one in known if one not in found and one.lower().startswith(spelling.lower())]
            return known[found[0]] if len({abs(known[one].factor) for one in found + longer}) == 1 else None
    return None


def _words(spelling: str) -> list[str]:
    """A unit as its words and what stands between them; its letters in lower case but for the first, which tells milli from mega."""
    parts = re.findall(r"[^\W\d_]+|[^\sA-Za-z]", spelling.replace("sq ", "sq").replace("cu ", "cu"))
    folded = [part[0] + part[1:].lower() if part[0] in "mM" else part.lower() for part in parts]
    return ["min" if part in _MINUTES and folded[index - 1:index] == ["/"] else part for index, part in enumerate(folded)]


def _same_word(word: str, other: str) -> bool:
    """The same, but for a plural or a letter struck twice: "gals", "psii"."""
    return word in (other, other + "s") or (len(other) > 1 and word in _struck_twice(other))


def _struck_twice(other: str) -> list[str]:
    return [other[:at] + other[at] + other[at:] for at in range(1, len(other))]


def _same_but_typing(word: str, other: str) -> bool:
    """Broken off, or two letters in the wrong order; of words spelled out also one letter wrong, missing or too many, but not the first."""
    if _same_word(word, other):
        return True
    if not (word.isalpha() and other.isalpha()) or min(len(word), len(other)) < 3:
        return False
    if other.startswith(word):
        return True
    if any(word == other[:at] + other[at + 1] + other[at] + other[at + 2:] for at in range(len(other) - 1)):
        return True
    return len(other) > _SPELLED_OUT and word[0] == other[0] and _one_letter_off(word, other)


def _one_letter_off(word: str, other: str) -> bool:
    short, long = sorted((word, other), key=len)
    if len(long) - len(short) > 1:
        return False
    at = next((index for index, (one, two) in enumerate(zip(short, long)) if one != two), len(short))
    return short[at + (len(short) == len(long)):] == long[at + 1:]
