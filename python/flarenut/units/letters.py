"""Letters that no word needs and no eye sees: they move a terminal's cursor, colour it, or turn the direction of what follows, so that one name
reads as another. Line ends and tabs are not among them, nor is any letter of any script.
"""

import re

# Text until first used, as the patterns of units are. Control letters; line and paragraph separators; what turns directions; halves of pairs.
_UNSEEN = "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff\ufffe\uffff]"


def unseen(text: str) -> int | None:
    """Place of the first such letter, or None.

    >>> unseen("11 ft"), unseen("red \\x1b[31m")
    (None, 4)
    """
    found = None if text.isascii() and text.isprintable() else re.search(_UNSEEN, text)
    return None if found is None else found.start()


def visible(text: str) -> str:
    """The text with a mark in place of every such letter: for messages, which may quote anything.

    >>> visible("red \\x1b[31m") == "red \ufffd[31m"
    True
    """
    return re.sub(_UNSEEN, "\ufffd", text)


def code_of(letter: str) -> str:
    """How the letter is called in tables of letters.

    >>> code_of("\\x1b")
    'U+001B'
    """
    return f"U+{ord(letter):04X}"
