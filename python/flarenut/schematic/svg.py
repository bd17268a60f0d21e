"""The sheet as SVG text: escaped words, plain shapes, nothing fetched and no script."""

from __future__ import annotations

import re
from collections.abc import Sequence
from html import escape
from typing import TYPE_CHECKING

from ..results.finding import SEVERITY_COLOURS
from .graph import TAG_HEIGHT, TAG_SIZE, tag_width
from .letters import FONTS, TIED

if TYPE_CHECKING:
    from .place import Drawing, Placed, Words
    from .symbols import Shape

INK, QUIET, PAPER = "#22282e", "#4f5a64", "#ffffff"  # on paper over 14 : 1 and over 6 : 1
_TINTS = {"stop": "#fbe9e7", "fix": "#fdf0e2", "watch": "#e8f1fa", "note": PAPER}
# Not of XML, and what turns the direction of letters about, so that a name reads as it was written.
_NOT_IN_XML = re.compile("[^\t\n\r\u0020-\u2029\u202f-\u2065\u206a-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def clean(text: str) -> str:
    """The text as it may stand in an XML document."""
    return escape(_NOT_IN_XML.sub("\ufffd", str(text)), quote=True)


def colours_of(tag: str) -> tuple[str, str]:
    """(stroke, filling) of a part with a finding of that severity."""
    return (INK, PAPER) if tag in ("", "note") else (SEVERITY_COLOURS[tag], _TINTS[tag])


def shape(one: Shape, ink: str, paper: str) -> str:
    """One `Shape` as an element."""
    fill = {"none": "none", "paper": paper, "ink": ink}[one.fill]
    if not isinstance(one.data, str):
        x, y, radius = one.data
        return f'<circle cx="{x:g}" cy="{y:g}" r="{radius:g}" fill="{fill}"/>'
    dash = f' stroke-dasharray="{one.dash}"' if one.dash else ""
    return f'<path d="{one.data}" fill="{fill}"{dash}/>'


def symbol(placed: Placed, scale: float = 1.0) -> str:
    """A placed symbol as a group, with what is told when it is pointed at."""
    ink, paper = colours_of(placed.tag)
    turn = f" scale({placed.faces * scale:g},{scale:g})" if placed.faces * scale != 1 or scale != 1 else ""
    tip = f"<title>{clean(placed.tip)}</title>" if placed.tip else ""
    width = ' stroke-width="2.4"' if placed.tag in ("stop", "fix") else ""
    shapes = "".join(shape(one, ink, paper) for one in placed.symbol.shapes)
    return (f'<g class="symbol" data-key="{clean(placed.key)}" transform="translate({placed.x:.1f},{placed.y:.1f}){turn}" stroke="{ink}"{width}>'
            f"{tip}{shapes}</g>")


def words(one: Words) -> str:
    """A line of text."""
    fill = f' fill="{QUIET}"' if one.quiet else ""
    anchor = "" if one.anchor == "middle" else f' text-anchor="{one.anchor}"'
    return f'<text x="{one.x:.1f}" y="{one.y:.1f}" font-size="{one.size:g}"{anchor}{fill}>{clean(one.text.replace(TIED, " "))}</text>'


def tag(severity: str, x: float, y: float) -> str:
    """The word of a severity in its colour."""
    width = tag_width(severity)
    return (f'<g class="tag"><rect x="{x - width / 2:.1f}" y="{y - TAG_HEIGHT / 2:.1f}" width="{width:.1f}" height="{TAG_HEIGHT}" rx="2.5" '
            f'fill="{SEVERITY_COLOURS[severity]}"/><text x="{x:.1f}" y="{y + 3.6:.1f}" font-size="{TAG_SIZE}" font-weight="bold" fill="{PAPER}">'
            f"{severity.upper()}</text></g>")


def drawing(found: Drawing) -> list[str]:
    """A `Drawing` as groups: lines first, so that symbols lie on them."""
    pipes = "".join(f'<path d="{data}"/>' for data in found.pipes)
    return [f'<g class="pipes" fill="none">{pipes}</g>', *map(symbol, found.symbols), '<g class="words" stroke="none">', *map(words, found.words),
            *(tag(*one) for one in found.tags), "</g>"]


def document(width: float, height: float, title: str, description: str, body: Sequence[str]) -> str:
    """A whole SVG document; the words of title and description are read aloud by readers of the screen."""
    head = (f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.0f}" height="{height:.0f}" viewBox="0 0 {width:.0f} {height:.0f}" role="img" '
            f'style="max-width:100%;height:auto;background:{PAPER}" font-family="{clean(FONTS)}" text-anchor="middle" fill="{INK}" stroke="{INK}" '
            'stroke-width="1.5" stroke-linejoin="round" stroke-linecap="round">')
    return "\n".join([head, f"<title>{clean(title)}</title>", f"<desc>{clean(description)}</desc>",
                      f'<rect width="{width:.0f}" height="{height:.0f}" fill="{PAPER}" stroke="none"/>', *body, "</svg>", ""])
