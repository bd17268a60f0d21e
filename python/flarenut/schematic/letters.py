"""How wide words come out, and how they are broken into lines: the layout has to know before anybody draws them.

Widths are advance widths of DejaVu Sans in thousandths of the letter size, read from the font's own table. Of the faces that a viewer is
asked for it is the widest, so that in the others words take less room than is kept for them.
"""

import re
from collections.abc import Iterator
from unicodedata import combining, east_asian_width

FONTS = "Arial, Helvetica, 'Liberation Sans', 'DejaVu Sans', sans-serif"
_ASCII = (318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337,
          838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989,
          685, 611, 685, 390, 337, 390, 838, 500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521,
          392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838)
_BOLD = 1.27  # no letter of the bold face is wider than this many times its plain one
TIED = "\u00a0"  # a space that no line ends at, as between number and unit
_OTHER, _WIDE = 1100, 1300  # accented letters, signs; letters that stand in squares, pictures


def letter_width(letter: str) -> int:
    """Thousandths of the letter size; never less than it takes."""
    place = ord(" " if letter == TIED else letter) - 32
    if 0 <= place < len(_ASCII):
        return _ASCII[place]
    if combining(letter):
        return 0
    return _WIDE if east_asian_width(letter) in "WF" or ord(letter) >= 0x2190 else _OTHER


def width_of(text: str, size: int, bold: bool = False) -> float:
    """Width of a line of text in letters of that size.

    >>> round(width_of("feed hose", 10), 1), width_of("", 10)
    (49.2, 0.0)
    """
    return sum(map(letter_width, text)) * size * (_BOLD if bold else 1.0) / 1000


def lines_of(text: str, size: int, width: float, most: int = 3) -> list[str]:
    """The text broken into lines no wider than `width`, `most` at most; what is left out is marked by an ellipsis.

    >>> lines_of("hose from the cooler", 10, 60)
    ['hose from', 'the cooler']
    >>> lines_of("unbreakable", 10, 30, most=2)
    ['unbre', 'aka…']
    """
    lines, line = [], ""
    for word in _pieces(" ".join(re.split("[ \t\r\n\f\v]+", text.strip())), size, width):
        longer = f"{line} {word}" if line and not word.startswith("\0") else line + word
        longer = longer.replace("\0", "")
        if line and width_of(longer, size) > width:
            lines.append(line)
            line = word.replace("\0", "")
        else:
            line = longer
    lines += [line] if line else []
    if len(lines) > most:
        lines = lines[:most]
        lines[-1] = shortened(lines[-1] + " …", size, width)
    return lines


def shortened(text: str, size: int, width: float) -> str:
    """The text, its end left off for an ellipsis where it is too wide."""
    if width_of(text, size) <= width:
        return text
    while text and width_of(text + "…", size) > width:
        text = text[:-1].rstrip(" …")
    return text + "…"


def _pieces(text: str, size: int, width: float) -> Iterator[str]:
    """Words; one too wide for a line in parts: at its ties, then wherever it has to be, and those but the first are marked as going on."""
    for word in text.split(" "):
        tied = word.replace(TIED, " ").split(" ") if width_of(word, size) > width else [word]
        for part in tied:
            first = True
            while part:
                count = len(part)
                while count > 1 and width_of(part[:count], size) > width:
                    count -= 1
                yield part[:count] if first else "\0" + part[:count]
                part, first = part[count:], False
