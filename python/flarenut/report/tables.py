"""Tables of a sheet: a caption, headings that say what they head, and a box of their own to scroll in where the page is narrow."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING
from collections.abc import Iterator, Sequence

from ..hardware.items import end_in
from .findings import badged
from .markup import Markup, element, joined

if TYPE_CHECKING:
    from ..catalog.ends import End
    from ..results.table import Table

MOST_COLUMNS = 6  # of cases beside each other: more of them go into tables of their own, so that paper takes them
_SHORT = 14  # rows of a table that is kept on one page of paper
_KEPT = 16  # letters of a figure with its unit that stay on one line
BLANK = Markup('<span class="blank" role="img" aria-label="to write in"></span>')
BOX = Markup('<span class="box" role="img" aria-label="to tick"></span>')


def table(caption: str, headings: Sequence[str], groups: Sequence[tuple[str, list[list[str | Markup]]]], *,
          right: tuple[int, ...] | range = (), tick: str = "", tall: bool = False) -> Markup:
    """A table as HTML.

    Parameters
    ----------
    caption : what it shows
    headings : of the columns
    groups : list of (heading of a group or "", rows); the first cell of a row names it
    right : numbers of the columns that stand on the right
    tick : heading of a last column of boxes to tick; "" for none
    tall : with room to write in
    """
    headings = [*headings, *([tick] if tick else [])]
    head = element("thead", element("tr", *(element("th", one, scope="col", class_=_class(number, right, tick and number == len(headings) - 1))
                                            for number, one in enumerate(headings))))
    bodies = (element("tbody", *_rows(heading, rows, len(headings), right, tick)) for heading, rows in groups if rows)
    width = "wide" if len(headings) > 6 else "middle" if len(headings) > 4 else ""
    kind = " ".join(word for word in (width, "tall" if tall else "") if word) or None
    made = element("table", element("caption", caption), head, *bodies, class_=kind)
    short = sum(len(rows) for _, rows in groups) <= _SHORT
    return element("div", made, class_="scroll short" if short else "scroll", role="region", aria_label=caption, tabindex="0")


def _class(number: int, right: tuple[int, ...] | range, ticked: bool | str = False) -> str | None:
    return "tick" if ticked else "right" if number in right else None


def _rows(heading: str, rows: Sequence[Sequence[str | Markup]], span: int, right: tuple[int, ...] | range, tick: str) -> Iterator[Markup]:
    if heading:
        yield element("tr", element("th", heading, scope="rowgroup", colspan=span), class_="group")
    for first, *others in rows:
        cells = [element("td", _figure(cell) if number in right else cell, class_=_class(number, right)) for number, cell in enumerate(others, 1)]
        yield element("tr", element("th", first, scope="row"), *cells, *([element("td", BOX, class_="tick")] if tick else []))


def end_words(end: End, units: str = "metric") -> Markup:
    """An end in words that stay on one line, up to its turn and bore.

    >>> from flarenut.catalog import end
    >>> end_words(end("-8 37 flare male"))
    '<span class="wholly">-8 37 flare male</span>'
    """
    kept, comma, more = end_in(end, units).partition(",")
    return joined(element("span", kept, class_="wholly"), comma, more)


def _figure(cell: str | Markup) -> str | Markup:
    """A figure with its unit on one line; several blanks, which line figures up, stay as wide as figures."""
    if isinstance(cell, Markup):
        return cell
    lined = re.sub(" {2,}", lambda blanks: "\u2007" * len(blanks[0]), cell)
    return lined.replace(" ", "\u00a0") if len(cell) <= _KEPT or lined != cell else lined


def shown(found: Table, caption: str, first: str, *, tick: str = "") -> Markup:
    """A `results.Table` as HTML: its rows, many columns in several tables, then what it has found and its notes.

    Parameters
    ----------
    found : `results.Table`
    caption : what it shows
    first : heading of its first column
    tick : as in `table`
    """
    parts = []
    for begin in range(0, len(found.cases), MOST_COLUMNS):
        chosen = slice(begin, begin + MOST_COLUMNS)
        groups = [(heading, [[row.heading, *row.cells[chosen]] for row in rows]) for heading, rows in found.sections]
        headings = [first, *found.cases[chosen]]
        said = caption if not begin else f"{caption}, more of them"
        parts.append(table(said, headings, groups, right=range(1, len(headings)), tick=tick))
    return joined(*parts, badged(found.findings), notes(found.notes))


def notes(lines: Sequence[str]) -> Markup:
    """Lines to read below a table."""
    return element("ul", *(element("li", line) for line in lines), class_="notes") if lines else Markup("")
