"""Cells of a comma-separated text with the places they stand in, which the standard library's reader does not tell."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from ..circuit.file.positions import Span
from ..circuit.file.problems import Problem

_COMMENT = "#"


class Cell(NamedTuple):
    """One value of a file, and where it stands."""

    value: str
    span: Span


def cells_of(text: str) -> tuple[list[list[Cell]], str, list[Problem]]:
    """(rows of `Cell`s, the mark between them, problems). Lines that begin with # are comments, empty rows are left out.

    Commas part the cells, or semicolons where the first line has more of them, as spreadsheets of much of Europe write.

    >>> rows, mark, problems = cells_of('item,price\\n"hose end -8, 90 deg",9.50\\n')
    >>> rows[1][0].value, rows[1][1].span, mark, problems
    ('hose end -8, 90 deg', Span(line=2, column=23, width=4), ',', [])
    """
    whole = text.replace("\r\n", "\n")
    first = next((line for line in whole.split("\n") if line.strip() and not line.startswith(_COMMENT)), "")
    mark = ";" if first.count(";") > first.count(",") else ","
    problems: list[Problem] = []
    rows = [row for row in _rows(whole, mark, problems) if any(cell.value.strip() for cell in row)]
    return rows, mark, problems


def _rows(whole: str, mark: str, problems: list[Problem]) -> Iterator[list[Cell]]:
    """Quotes may hold marks and doubled quotes, and end in the line that they begin in: an open one spoils no more than its row."""
    pattern = re.compile(rf'[ \t]*"((?:[^"\n]|"")*)"[ \t]*(?={mark}|$)|([^{mark}]*)')
    for number, line in enumerate(whole.split("\n"), 1):
        if line.startswith(_COMMENT):
            continue
        at = 0
        row: list[Cell] = []
        while at <= len(line):
            match = pattern.match(line, at)
            assert match is not None, "the pattern takes an empty cell too"
            span = Span(number, at + 1, max(1, len(match[0])))
            if match[1] is None and match[2].lstrip().startswith('"'):
                problems.append(Problem("a text in quotes does not end before the next cell",
                                        "close the quotes; a quote inside of quotes is written twice", span=span))
                row = []
                break
            row.append(Cell(match[2] if match[1] is None else match[1].replace('""', '"'), span))
            at = match.end() + 1
        yield row
