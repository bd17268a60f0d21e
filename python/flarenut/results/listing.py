"""`Listing`: rows of texts under headings, as aligned text, HTML or CSV. What is longer than its column wraps."""

import csv
import io
from collections.abc import Sequence
from html import escape
from textwrap import wrap

from .columns import screen_width
from .csv_file import plain_cell
from .html import safely

_GAP = 2
_LEAST = 8  # characters that a column is not made narrower than


class Listing:
    """Rows of texts.

    Parameters
    ----------
    title : text; "" for none
    headings : of the columns
    rows : each as many texts as there are headings
    right : numbers of the columns that stand on the right: those of figures
    notes : lines to read below

    >>> print(Listing("Bolts", ["what", "count"], [["M6", "4"], ["M8 long", "12"]], right=[1]).text(40))
    Bolts
    <BLANKLINE>
    what     count
    --------------
    M6           4
    M8 long     12
    """

    def __init__(self, title: str, headings: Sequence[str], rows: Sequence[Sequence[str]], *, right: Sequence[int] = (),
                 notes: Sequence[str] = ()) -> None:
        self.title, self.headings, self.rows = title, list(headings), [list(row) for row in rows]
        self.right, self.notes = frozenset(right), list(notes)

    def text(self, width: int | None = None) -> str:
        """Aligned plain text no wider than `width` characters; unless given the terminal's, or 110 where there is none."""
        width = width or screen_width()
        widths = self._widths(width)
        lines = [*wrap(self.title, width), ""] if self.title else []
        lines += self._lines(self.headings, widths)
        lines.append("-" * min(sum(widths) + _GAP * (len(widths) - 1), width))
        several = any(len(wrap(cell, one)) > 1 for row in self.rows for cell, one in zip(row, widths))
        for number, row in enumerate(self.rows):
            lines += [""] if several and number else []
            lines += self._lines(row, widths)
        return "\n".join([*lines, *([""] if self.notes else []), *(f"  {line}" for note in self.notes for line in wrap(note, width - 2, subsequent_indent="  "))])

    def _widths(self, width: int) -> list[int]:
        """Of the columns: as wide as their texts, the widest ones narrowed until all fit."""
        wanted = [max(len(line) for cell in column for line in (cell.split("\n") or [""])) for column in zip(self.headings, *self.rows)]
        least = [min(one, max(_LEAST, *(len(word) for cell in column for word in cell.split()), 1)) for one, column in zip(wanted, zip(self.headings, *self.rows))]
        room = width - _GAP * (len(wanted) - 1)
        while sum(wanted) > room and any(one > low for one, low in zip(wanted, least)):
            widest = max((number for number in range(len(wanted)) if wanted[number] > least[number]), key=lambda number: wanted[number])
            wanted[widest] -= 1
        return [max(one, 1) for one in wanted]

    def _lines(self, cells: Sequence[str], widths: Sequence[int]) -> list[str]:
        wrapped = [[line for part in cell.split("\n") for line in (wrap(part, one) or [""])] for cell, one in zip(cells, widths)]
        height = max(map(len, wrapped), default=1)
        wrapped = [column + [""] * (height - len(column)) for column in wrapped]
        sides = [">" if number in self.right else "<" for number in range(len(widths))]
        return [(" " * _GAP).join(f"{text:{side}{one}}" for text, side, one in zip(texts, sides, widths)).rstrip() for texts in zip(*wrapped)]

    def __str__(self) -> str:
        return self.text()

    __repr__ = __str__

    def html(self) -> str:
        """HTML for a notebook or a page: inline style only, nothing fetched."""
        head = "".join(f'<th scope="col" style="{self._style(number)};font-weight:600">{escape(one)}</th>' for number, one in enumerate(self.headings))
        body = "".join("<tr>" + "".join(f'<td style="{self._style(number)}">{escape(cell)}</td>' for number, cell in enumerate(row)) + "</tr>" for row in self.rows)
        title = f'<div style="font-weight:600;font-size:1.1em">{escape(self.title)}</div>' if self.title else ""
        notes = "".join(f'<div style="opacity:.75;font-size:.9em">{escape(note)}</div>' for note in self.notes)
        return (f'<div style="max-width:75em;line-height:1.35;overflow-x:auto">{title}<table style="border-collapse:collapse;font-variant-numeric:tabular-nums">'
                f'<thead><tr style="border-bottom:1px solid currentColor">{head}</tr></thead><tbody>{body}</tbody></table>{notes}</div>')

    def _repr_html_(self) -> str:
        return safely(self.html, self)

    def _style(self, number: int) -> str:
        return f"padding:2px 10px;border:none;vertical-align:top;text-align:{'right' if number in self.right else 'left'}"

    def csv(self) -> str:
        """Comma-separated text with the headings first."""
        made = io.StringIO()
        csv.writer(made, lineterminator="\n").writerows([plain_cell(cell) for cell in row] for row in (self.headings, *self.rows))
        return made.getvalue()
