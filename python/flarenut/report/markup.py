"""HTML out of words: whatever is not `Markup` already is escaped on its way in, so that no name can become markup."""

from __future__ import annotations

import re
from html import escape

# Control letters, and those that turn the direction of what follows.
_NOT_IN_A_PAGE = re.compile("[^\t\n\r -~\u00a0-\u2029\u202f-\u2065\u206a-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_PLAIN = re.compile(r"[A-Za-z0-9 .,]")
_EMPTY = ("br", "meta")  # elements without an end


class Markup(str):
    """Text that is HTML, and made by this room."""

    __slots__ = ()


def safe(value: object) -> Markup:
    """HTML of a value: `Markup` as it is, anything else escaped, its line ends kept.

    >>> safe("bore < 8 mm"), safe(Markup("<br>"))
    ('bore &lt; 8 mm', '<br>')
    """
    if isinstance(value, Markup):
        return value
    return Markup(escape(_NOT_IN_A_PAGE.sub("\ufffd", str(value)), quote=True).replace("\n", "<br>"))


def made_elsewhere(text: str) -> Markup:
    """HTML or SVG that another room made and escaped, without letters that have no place in a page."""
    return Markup(_NOT_IN_A_PAGE.sub("\ufffd", text))


def joined(*parts: str | Markup) -> Markup:
    """Parts one after the other."""
    return Markup("".join(map(safe, parts)))


def element(name: str, /, *children: str | Markup, **attributes: object) -> Markup:
    """An element. `class_` is its class, an underscore in a name a hyphen; an attribute that is None is left out.

    >>> element("p", "1 < 2", class_="note")
    '<p class="note">1 &lt; 2</p>'
    """
    words = "".join(f' {key.rstrip("_").replace("_", "-")}="{safe(value)}"' for key, value in attributes.items() if value is not None)
    return Markup(f"<{name}{words}>") if name in _EMPTY else Markup(f"<{name}{words}>{joined(*children)}</{name}>")


def style_text(text: str) -> str:
    """A text as it may stand between quotes in a style sheet, where a page's own escapes do not count.

    >>> style_text('a"}<b')
    'a\\\\22 \\\\7d \\\\3c b'
    """
    return "".join(letter if _PLAIN.match(letter) else f"\\{ord(letter):x} " for letter in _NOT_IN_A_PAGE.sub("\ufffd", str(text)))


def identity(*words: str) -> str:
    """A name for a place in the page, out of plain words: letters, digits and hyphens.

    >>> identity("circuit 2", "joints")
    'circuit-2-joints'
    """
    return "-".join(re.sub(r"[^a-z0-9]+", "-", word.lower()).strip("-") for word in words if word)
