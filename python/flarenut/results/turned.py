"""An engine's cause that asks whether a part is the wrong way round: that question stands first, for what else it tells comes of it."""

from __future__ import annotations

import re
from typing import NamedTuple

_DRAWS = re.compile(r" ?The (?P<kind>pump) '(?P<name>[^']+)' draws from [^:?]*: is it the wrong way round\?")
_LOST = re.compile(
    r" ?(?:Most of the pressure is lost in|Shut(?:, too,)? on the way:) the (?P<kind>check valve|[a-z -]*pump) '(?P<name>[^']+)',"
    r" (?:which is [a-z -]+|with more pressure at its outlet than at its inlet): is it the wrong way round\?"
)


class Asked(NamedTuple):
    """A cause with its question first; the kind and the engine's name of the part that is asked about."""

    message: str
    kind: str
    name: str


def asked_first(message: str) -> Asked | None:
    """The cause of an engine that asks whether a pump or a check valve is the wrong way round; None where it does not.

    >>> asked_first("the way is shut. Most of the pressure is lost in the check valve 'foot', which is shut: is it the wrong way round?").message
    "look first at the check valve 'foot', which is shut: is it the wrong way round? If not: the way is shut"
    """
    found = _DRAWS.search(message) or _LOST.search(message)
    if found is None:
        return None
    question = re.sub(r"^ ?(?:Most of the pressure is lost in|Shut(?:, too,)? on the way:) ", "", found[0]).strip()
    question = question.removeprefix("The ") if question.startswith("The ") else f"look first at {question}"
    before, after = message[: found.start()].rstrip(" ."), message[found.end() :].strip(" .;")
    rest = ". ".join(words[0].upper() + words[1:] if number else words for number, words in enumerate(filter(None, (before, after))))
    return Asked(question + (f" If not: {rest}" if rest else ""), found["kind"], found["name"])


def cure_of(asked: Asked) -> str:
    """How a part that is the wrong way round is turned."""
    if asked.kind == "check valve":
        return "turn it round: liquid passes from the inlet, which is written first, to the outlet"
    return "swap the two ends of its run, so that it leads from the tank to what it feeds"
