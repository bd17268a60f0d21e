"""Where the stretches of a ladder stand: beside each other, and in several rows where they would crowd."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from textwrap import wrap
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .ladder import _Stretch

_PART, _GAP, _DEVICE, _LETTER = 0.40, 0.60, 0.45, 0.088  # inches: a part, the room for the scale of the next, a device's name there, a letter of a title
_NARROWEST, _WIDEST = 0.6, 1.5  # of a stretch in parts; how much wider than needed those of a row may become
_FULL = 1.15  # of its room: so far a single row may be squeezed before another is made
_BETWEEN = 1.62  # inches below a row: names of parts, and the title of the next
_LEAST = 0.9  # inches of height that a row needs
_FOOT, _HEAD = 2.57, 0.60  # inches: below the lowest row, above the highest
_USUAL = 8.8  # inches of width
ROW = 3.1  # inches that one row more adds to a figure of its own


@dataclass
class Place:
    """Room of one stretch, in shares of the Axes."""

    stretch: _Stretch
    left: float
    bottom: float
    width: float
    height: float
    first: bool  # of its row
    gap: float  # before it


def _need(stretch: _Stretch) -> float:
    return max(_PART * max(len(stretch.parts), _NARROWEST), _LETTER * max(map(len, stretch.run.split())))


def _lead(stretch: _Stretch, before: _Stretch | None) -> float:
    return 0.0 if before is None else _GAP + _DEVICE * bool(stretch.before or before.after)


def rows_of(stretches: Sequence[_Stretch], room: float) -> list[list[_Stretch]]:
    """Stretches in rows that have so many inches; one row where they fit with some squeezing.

    >>> class Stretch:
    ...     def __init__(self, parts):
    ...         self.parts, self.run, self.before, self.after = range(parts), "feed", None, None
    >>> [len(row) for row in rows_of([Stretch(3), Stretch(4)], 8.0)], [len(row) for row in rows_of([Stretch(6)] * 5, 8.0)]
    ([2], [2, 2, 1])
    """
    if _length(stretches) <= _FULL * room and all(map(_fits, stretches)):
        return [list(stretches)]
    rows: list[list[_Stretch]] = [[]]
    for stretch in stretches:
        if rows[-1] and _length([*rows[-1], stretch]) > room:
            rows.append([])
        rows[-1].append(stretch)
    return rows


def _fits(stretch: _Stretch) -> bool:
    """Whether the title of a stretch needs no more room than its parts and the gap behind it."""
    return _LETTER * len(stretch.run) <= _PART * max(len(stretch.parts), _NARROWEST) + _GAP


def _length(stretches: Sequence[_Stretch]) -> float:
    return sum(_lead(one, before) + _need(one) for one, before in zip(stretches, [None, *stretches]))


def fewer(rows: list[list[_Stretch]], most: int) -> list[list[_Stretch]]:
    """Rows laid together until there are at most so many."""
    while len(rows) > most:
        pairs = [(len(one) + len(other), number) for number, (one, other) in enumerate(zip(rows, rows[1:]))]
        number = min(pairs)[1]
        rows = [*rows[:number], rows[number] + rows[number + 1], *rows[number + 2:]]
    return rows


def folded_title(stretch: _Stretch, share: float) -> str:
    """The name of a run, in two lines where it would reach into the next; `share` is the width of its stretch, of Axes of the usual width."""
    return in_lines(stretch.run, share * _USUAL + _GAP)


def in_lines(name: str, inches: float) -> str:
    """A name in at most two lines of so many inches; what does not fit is cut, and marked so.

    >>> in_lines("round the cooler", 1.0), in_lines("transmission cooler and filter", 1.0)
    ('round the\\ncooler', 'transmissi…\\ncooler and…')
    """
    room = max(int(inches / _LETTER), 5)
    lines = wrap(name, room, break_long_words=False)
    if len(lines) > 2:
        lines = [lines[0], " ".join(lines[1:])]
    return "\n".join(line if len(line) <= room else line[: room - 1].rstrip() + "…" for line in lines)


def most_rows(inches: float) -> int:
    """How many rows Axes of so many inches in height hold."""
    return max(1, int((inches - _FOOT - _HEAD + _BETWEEN) / (_LEAST + _BETWEEN)))


def places_of(rows: Sequence[Sequence[_Stretch]], width: float, height: float, legend: float) -> list[Place]:
    """A list of `Place`s for rows in Axes of so many inches; `legend` is what more rows of it take of the height [share]."""
    inches = (height * (1.0 - legend) - _FOOT - _HEAD - _BETWEEN * (len(rows) - 1)) / len(rows)
    found = []
    for number, row in enumerate(rows):
        bottom = (_FOOT + (len(rows) - 1 - number) * (inches + _BETWEEN)) / height
        leads = [_lead(one, before) for one, before in zip(row, [None, *row])]
        needs = [_need(one) for one in row]
        squeezed = min(1.0, width / (sum(leads) + sum(needs)))
        wider = max(squeezed, min((width - sum(leads)) / sum(needs), _WIDEST))
        left = 0.0
        for stretch, lead, need in zip(row, leads, needs):
            left += squeezed * lead
            found.append(Place(stretch, left / width, bottom, need * wider / width, inches / height, stretch is row[0], squeezed * lead / width))
            left += need * wider
    return found


def foot(height: float) -> float:
    """What stands below the rows, against what it is of Axes of the usual height: a scale for shares of those."""
    return _FOOT / 0.49 / height
