"""Title, key and small print around a drawing."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from .graph import DETAIL, LINE, tag_width
from .letters import lines_of, width_of
from .place import Placed, Words
from .svg import clean, document, drawing, symbol, tag, words
from .symbols import ARROW, DRAWN, FED, FIXED, GAUGE, MEETING, PILOT, SYMBOLS, TANK, TEE, Symbol, boxed, path

if TYPE_CHECKING:
    from .graph import Link
    from .place import Drawing

MARGIN, TITLE, LEAST_WIDTH = 18, 16, 560
ESTIMATE = "Engineering estimate; defer to local codes and licensed practice."
MEANING = {"stop": "it hurts, or the answer does not hold", "fix": "it works and should not stay", "watch": "look at it", "note": "know it"}
_SCALE, _CELL = 0.56, 166
_PLACES = {"tank": TANK, "gauge": GAUGE, "fixed": FIXED, "tee": TEE, "joined": MEETING, "drawn": DRAWN, "fed": FED}
_PILOT = Symbol(17, 2, 2, (path("M -17 0 L 17 0", dash=PILOT),), "pilot line, senses only")
_CROSSING = Symbol(17, 12, 8, (path("M 0 -12 L 0 12"), path("M -17 0 L -5 0 Q 0 -10 5 0 L 17 0")), "lines crossing, not joined")
_PILOTED = ("relief_valve", "bypass_regulator", "reducing_regulator")


def key_of(found: Drawing, links: Sequence[Link]) -> list[Symbol]:
    """Symbols of the key, each once, in the order of the drawing: parts, then places and lines."""
    used = [one.key for one in found.symbols]
    parts: dict[str, Symbol] = {}
    for name in used:
        one = boxed(34, 22) if name == "box" else SYMBOLS.get(name)
        if one is not None:
            parts.setdefault(one.means, one)
    entries = [*parts.values(), *(one for name, one in _PLACES.items() if name in used)]
    if any(item.is_arrow for link in links for item in link.items):
        entries.append(ARROW)
    if any(name.startswith(_PILOTED) for name in used):
        entries.append(_PILOT)
    return entries + ([_CROSSING] if found.crossings else [])


class Sheet:
    """Writes a drawing with all that belongs round it. `notes` are (severity or "", text), findings of the circuit as a whole."""

    def __init__(self, found: Drawing, links: Sequence[Link], *, title: str, subtitle: str, description: str,
                 notes: Sequence[tuple[str, str]], severities: Sequence[str]) -> None:
        self.found, self.title, self.description = found, title, description
        self.width = max(found.right - found.left + 2 * MARGIN, LEAST_WIDTH)
        self.body: list[str] = []
        self.y: float = MARGIN
        self._heading(subtitle, notes)
        shift = (self.width - (found.right - found.left)) / 2 - found.left
        self.offset = (shift, self.y)
        self.body += [f'<g transform="translate({shift:.1f},{self.y:.1f})">', *drawing(found), "</g>"]
        self.y += found.height + 14
        self._key(key_of(found, links), severities)

    def text(self) -> str:
        """The SVG document."""
        return document(self.width, self.y + MARGIN - 6, self.title, self.description, self.body)

    def _say(self, text: str, x: float, y: float, size: int, quiet: bool = False) -> None:
        self.body.append(words(Words(text, x, y, size, "start", quiet)))

    def _heading(self, subtitle: str, notes: Sequence[tuple[str, str]]) -> None:
        room = self.width - 2 * MARGIN
        self.body.append('<g class="heading" stroke="none">')
        for line in lines_of(self.title, TITLE, room, most=2):
            self._say(line, MARGIN, self.y + TITLE - 2, TITLE)
            self.y += TITLE + 4
        for line in lines_of(subtitle, DETAIL, room, most=4):
            self._say(line, MARGIN, self.y + DETAIL, DETAIL, quiet=True)
            self.y += LINE + 1
        for severity, text in notes:
            half = tag_width(severity) / 2
            self.body.append(tag(severity, MARGIN + half, self.y + 9))
            for line in lines_of(text, DETAIL, room - 2 * half - 8, most=2):
                self._say(line, MARGIN + 2 * half + 8, self.y + 12.5, DETAIL)
                self.y += LINE
            self.y += 4
        self.body.append("</g>")
        self.y += 12

    def _key(self, entries: Sequence[Symbol], severities: Sequence[str]) -> None:
        """Symbols in columns, words beside them; below, severities and the caution."""
        columns = max(1, int((self.width - 2 * MARGIN) // _CELL))
        cell = (self.width - 2 * MARGIN) / columns
        self.body.append(f'<path d="M {MARGIN} {self.y:.1f} L {self.width - MARGIN:.1f} {self.y:.1f}" stroke-width="0.6" fill="none"/>')
        self.body.append('<g class="key" fill="none">')
        self.y += 8
        for start in range(0, len(entries), columns):
            row = entries[start:start + columns]
            over, under = (max(9, *(getattr(one, side) * _SCALE for one in row)) if len(row) > 1 else max(9, getattr(row[0], side) * _SCALE)
                           for side in ("over", "under"))
            for number, one in enumerate(row):
                x, y = MARGIN + cell * number + 22, self.y + over
                self.body.append(symbol(Placed(one, x, y, key="key"), _SCALE))
                self._key_words(one.means, x + 24, y, cell - 50)
            self.y += over + under + 7
        self.body.append("</g>")
        self._severities(severities)

    def _key_words(self, text: str, x: float, y: float, room: float) -> None:
        lines = lines_of(text, DETAIL, room, most=2)
        for number, line in enumerate(lines):
            self.body.append(f'<text x="{x:.1f}" y="{y + 3.5 + 11.5 * (number - (len(lines) - 1) / 2):.1f}" font-size="{DETAIL}" text-anchor="start" '
                             f'fill="#22282e" stroke="none">{clean(line)}</text>')

    def _severities(self, severities: Sequence[str]) -> None:
        self.body.append('<g stroke="none">')
        x: float = MARGIN
        self.y += 4
        for one in severities:
            half = tag_width(one) / 2
            wide = 2 * half + 8 + width_of(MEANING[one], DETAIL) + 20
            if x > MARGIN and x + wide > self.width - MARGIN:
                x, self.y = MARGIN, self.y + 18
            self.body.append(tag(one, x + half, self.y + 6))
            self._say(MEANING[one], x + 2 * half + 8, self.y + 9.5, DETAIL)
            x += wide
        self.y += 20 if severities else 0
        for line in lines_of(ESTIMATE, DETAIL, self.width - 2 * MARGIN):
            self._say(line, MARGIN, self.y + DETAIL, DETAIL, quiet=True)
            self.y += LINE
        self.body.append("</g>")
