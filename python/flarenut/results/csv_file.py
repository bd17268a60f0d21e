"""Tables as comma-separated files: put in place as a whole, and with no cell that a spreadsheet would take for a formula."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, TextIO
from pathlib import Path

from .whole_file import whole_file

if TYPE_CHECKING:
    from collections.abc import Iterable

_FORMULA = r"\s*(?:[=@]|[+-](?![\w .,/%°'\"-]*$))"  # of what begins with a sign, sizes ("-8 hose") and numbers are none


def plain_cell(value: object) -> object:
    """A cell as it may stand in a table: a text that a spreadsheet would work out gets an apostrophe before it.

    >>> plain_cell("=1+1"), plain_cell("-8 hose"), plain_cell("-2.5"), plain_cell("-1+cmd|' /C x'!A0"), plain_cell(3.5)
    ("'=1+1", '-8 hose', '-2.5', "'-1+cmd|' /C x'!A0", 3.5)
    """
    return f"'{value}" if isinstance(value, str) and value[:1] in "=@+- \t\r\n" and re.match(_FORMULA, value) else value


class Rows:
    """Writes rows to an open file."""

    def __init__(self, file: TextIO) -> None:
        self._writer = csv.writer(file)

    def writerow(self, cells: Sequence[object]) -> None:
        self._writer.writerow([plain_cell(cell) for cell in cells])

    def writerows(self, rows: Iterable[Sequence[object]]) -> None:
        for row in rows:
            self.writerow(row)


@contextmanager
def csv_file(path: str | Path) -> Iterator[Rows]:
    """`Rows` of a file that is put in place once all are written."""
    with whole_file(path) as part, open(part, "w", newline="", encoding="utf-8") as file:
        yield Rows(file)
