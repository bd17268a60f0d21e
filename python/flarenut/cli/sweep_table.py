"""The table of a sweep: a row for each point and case, or the first rows and the extremes of a long one."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from itertools import zip_longest
from textwrap import wrap
from typing import TYPE_CHECKING, Any

import numpy

from .sweep_notes import COUNTS, MARGIN, boiling, notes_of, reasons_of, unasked

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from xarray import DataArray, Dataset

MOST_ROWS, FIRST_ROWS = 40, 10  # a sweep of more rows shows the first few, and the extremes of all
_MOST_LINES = 100  # of rows in all blocks; beyond, nobody reads them on a screen
_MOST_REASONS = 4
_LEAST_COLUMN, _GAP, _LEFT = 9, 2, 2
_ALWAYS = ("status", "iterations", "residual", "reason")
_NOT_REACHED = "not reached"
_NOTHING = "–"


def table(answer: Dataset, limits: Mapping[str, tuple[float | None, ...]], width: int, asked: Sequence[str] = ()) -> tuple[list[str], bool]:
    """Lines of the table, and whether all rows stand in it.

    Parameters
    ----------
    answer : Dataset of a sweep, in the units to be shown
    limits : output -> (least, most), in the unit of the output; either may be None
    width : columns of the screen
    asked : outputs that were asked for by name; the margin to boiling is shown where it is among them, or has limits
    """
    view = View(answer, limits, asked)
    blocks = _blocks(view, range(min(view.count, MOST_ROWS)), width)
    whole = view.count <= FIRST_ROWS or view.count <= MOST_ROWS and view.count * len(blocks) <= _MOST_LINES
    first = range(FIRST_ROWS) if view.missed == view.count else numpy.flatnonzero(view.reached)[:FIRST_ROWS].tolist()
    blocks = blocks if whole else _blocks(view, first, width)
    lines = [line for block in blocks for line in ("", *block)][1:]
    if not whole:
        met = view.count - view.missed
        more = f"{met - len(first):,} more rows{' that were reached' * bool(view.missed)}; " if met > len(first) else ""
        left = f"{view.missed:,} were not reached" if view.missed else ""
        which = f"the {met:,} that were reached" if view.missed else f"all {view.count:,}"
        lines += [f"  ... and {more}{left}".rstrip("; "), "", f"Lowest and highest of {which}", *_extremes(view, width)]
    return [*lines, *_notes(view, width), *_reasons(view, width), *_limit_lines(view, width)], whole


class View:
    """Columns of a sweep's Dataset, row by row: the last dimension is the fastest."""

    def __init__(self, answer: Dataset, limits: Mapping[str, tuple[float | None, ...]], asked: Sequence[str] = ()) -> None:
        self.answer, self.limits = answer, limits
        self.dims = answer["status"].dims
        self.shape = answer["status"].shape
        self.count = answer["status"].size
        self.status = answer["status"].values.ravel()
        shown = [str(name) for name, one in answer.coords.items() if name != "sample" and (name != "case" or one.size > 1)] or ["case"]
        self.inputs = sorted(shown, key=lambda name: self.dims.index(answer[name].dims[0]))  # the case stands last, as it turns fastest
        self.boils = boiling(answer).ravel()
        self.reached = self.status != json.loads(answer["status"].attrs["words"]).index(_NOT_REACHED)
        self.missed = int((~self.reached).sum())
        hidden = {*_ALWAYS, *COUNTS, *({MARGIN} - {*asked}), *unasked(answer, asked)} - {*limits}
        self.outputs = [str(name) for name in answer.data_vars if name not in hidden]
        self.columns = {str(name): Column(answer[name], limits.get(name, (None, None)), _bounds(answer, name)) for name in self.outputs}

    def place(self, row: int) -> dict[str, int]:
        """Place along each dimension."""
        return {str(name): int(at) for name, at in zip(self.dims, numpy.unravel_index(row, self.shape))}

    def input(self, name: str, row: int) -> str:
        """Cell of what was varied."""
        one = self.answer[name]
        value = one.values[self.place(row)[str(one.dims[0])]]
        return f"{value:.{4 if one.dims == ('sample',) else 6}g}" if one.dtype.kind == "f" else str(value)

    def point(self, row: int) -> str:
        """A point in a few words: "-4, 11 V, idle"."""
        return ", ".join(f"{self.input(name, row)} {_unit(self.answer[name])}".strip() for name in self.inputs)

    def state(self, row: int) -> str:
        """What became of a point; "" where it has a sound answer."""
        if not self.status[row]:
            return "boils" if self.boils[row] else ""
        found: str = json.loads(self.answer["status"].attrs["words"])[self.status[row]]
        return found


class Column:
    """One output: its heading, and its cells in as many decimals as tell its values apart."""

    def __init__(self, variable: DataArray, limits: tuple[float | None, ...], bounds: NDArray[numpy.float64] | None = None) -> None:
        self.bounds = bounds
        self.words = json.loads(variable.attrs["words"]) if "words" in variable.attrs else None
        self.values = variable.values.ravel()
        self.limits = limits
        self.title, self.unit = variable.attrs.get("long_name", variable.name), _unit(variable)
        self.heading = f"{self.title} [{self.unit}]" if self.unit else self.title
        good = self.values[numpy.isfinite(self.values)] if self.words is None else self.values[:0]
        self.places = _places(good) if len(good) else 0

    def number(self, value: float) -> str:
        """A value as text."""
        return f"{value:.3g}" if self.places is None else f"{value:z,.{self.places}f}"

    def cell(self, row: int) -> str:
        value = self.values[row]
        if self.words is not None:
            return self.words[value] if value >= 0 else _NOTHING
        text = self.number(value) if value == value else _NOTHING
        if self.bounds is not None and self.bounds[row] in _BOUNDS:
            text = f"{_BOUNDS[self.bounds[row]]} {text}"
        return text + (f" {self.mark(value)}" if self.limits != (None, None) else "")

    def mark(self, value: float) -> str:
        """"<" below the least, ">" above the most that is allowed."""
        least, most = self.limits
        return "<" if least is not None and value < least else ">" if most is not None and value > most else " "


_BOUNDS = {1.0: "over", -1.0: "under"}


def _bounds(answer: Dataset, name: str) -> NDArray[numpy.float64] | None:
    """Which degrees to boiling are only a bound, row by row; None of anything else."""
    beside = f"{name.rpartition('.')[0]}.suction_degrees_bound"
    return answer[beside].values.ravel() if name.endswith(".suction_degrees_to_boiling") and beside in answer else None


def _unit(variable: DataArray) -> str:
    unit = variable.attrs.get("units", "")
    return "" if unit == "1" else unit


def _places(values: NDArray[numpy.float64]) -> int | None:
    """Decimals: three figures for the largest, and more where the values lie close together; None for tiny ones."""
    largest, span = float(numpy.abs(values).max()), float(values.max() - values.min())
    if 0.0 < largest < 1e-3:
        return None
    places = 0 if largest >= 99.95 else 1 if largest >= 9.995 else 2 if largest >= 0.9995 else 3
    for _ in range(2):
        places += 1e-9 * largest < span < 20 * 10.0**-places
    return places


# ---- rows ----

def _blocks(view: View, rows: Sequence[int], width: int) -> list[list[str]]:
    """The rows, in as many blocks as the width wants; what was varied begins each."""
    left = [_fitted(_heading(view, name), [view.input(name, row) for row in rows], right=view.answer[name].dtype.kind in "fiu") for name in view.inputs]
    if any(states := [view.state(row) for row in rows]):
        left.append(_fitted("", states, right=False))
    taken = _LEFT + sum(one[0] + _GAP for one in left)
    blocks: list[list[Any]] = [[]]
    room = width - taken
    for name in view.outputs:
        column = _fitted(view.columns[name].heading, [view.columns[name].cell(row) for row in rows], right=True)
        if column[0] + _GAP > room and blocks[-1]:
            blocks.append([])
            room = width - taken
        blocks[-1].append(column)
        room -= column[0] + _GAP
    return [_drawn([*left, *block]) for block in blocks]


def _heading(view: View, name: str) -> str:
    unit = _unit(view.answer[name])
    return name.replace(".", " ").replace("_", " ") + (f" [{unit}]" if unit else "")


def _fitted(heading: str, cells: Sequence[str], *, right: bool) -> tuple[int, list[str], Sequence[str], bool]:
    """(width, lines of the heading, cells, whether they stand to the right)."""
    name, bracket, unit = heading.rpartition(" [")
    pieces = [*name.split(), f"[{unit}"] if bracket else heading.split()
    width = max([_LEAST_COLUMN, *map(len, pieces), *map(len, cells)]) if right else max([4, *map(len, pieces), *map(len, cells)])
    lines = wrap(name if bracket else heading, width, break_on_hyphens=False)
    if bracket and lines and len(lines[-1]) + len(unit) + 2 <= width:
        lines[-1] += f" [{unit}"
    elif bracket:
        lines.append(f"[{unit}")
    return max([0, *map(len, lines), *map(len, cells)]), lines, cells, right


def _drawn(columns: Sequence[tuple[int, list[str], Sequence[str], bool]]) -> list[str]:
    height = max(len(lines) for _, lines, _, _ in columns)
    rows = [[([""] * (height - len(lines)) + lines)[level] for _, lines, _, _ in columns] for level in range(height)]
    rule = "-" * (_LEFT + sum(column[0] + _GAP for column in columns) - _GAP)
    cells = [[column[2][row] for column in columns] for row in range(len(columns[0][2]))]
    return [*(_line(row, columns) for row in rows), rule, *(_line(row, columns) for row in cells)]


def _line(cells: Sequence[str], columns: Sequence[tuple[int, list[str], Sequence[str], bool]]) -> str:
    gap = " " * _GAP
    return (" " * _LEFT + gap.join(f"{cell:>{one[0]}}" if one[3] else f"{cell:<{one[0]}}" for cell, one in zip(cells, columns))).rstrip()


# ---- below the rows ----

def _extremes(view: View, width: int) -> list[str]:
    lines = []
    label = min(max((len(one.heading) for one in view.columns.values()), default=0), 2 * width // 5)
    for column in view.columns.values():
        if column.words is not None:
            counts = numpy.bincount(column.values[column.values >= 0], minlength=len(column.words))
            said = [", ".join(f"{word} {count:,}" for word, count in zip(column.words, counts) if count) or "no answer"]
        elif numpy.isfinite(column.values).any():
            ends = int(numpy.nanargmin(column.values)), int(numpy.nanargmax(column.values))
            texts = [column.number(column.values[row]) for row in ends]
            wide = max(map(len, texts))  # no-break spaces, which wrapping leaves
            said = [f"{text:\u00a0>{wide}} at {view.point(row)}" + ", where it boils" * bool(view.boils[row]) for text, row in zip(texts, ends)]
        else:
            said = ["not known" if (view.status == 0).any() else "no answer"]
        told = [line for text in said for line in wrap(text, width - label - 4, subsequent_indent="  ")]
        names = wrap(column.heading.replace(" [", "\u00a0["), label)
        lines += [f"  {name:<{label}}  {text}".replace("\u00a0", " ").rstrip() for name, text in zip_longest(names, told, fillvalue="")]
    return lines


def _notes(view: View, width: int) -> list[str]:
    return [line for words in notes_of(view.answer) for line in ("", *wrap(words, width))]


def _reasons(view: View, width: int) -> list[str]:
    found = reasons_of(view.answer)
    if not found:
        return []
    lines = ["", f"Without an answer: {sum(count for _, count in found):,} of {view.count:,}"]
    for words, count in found[:_MOST_REASONS]:
        lines += wrap(f"{count:,}: {words}", width - _LEFT, initial_indent="  ", subsequent_indent="      ")
    if len(found) > _MOST_REASONS:
        lines.append(f"  and for {len(found) - _MOST_REASONS} more reasons")
    return lines


def _limit_lines(view: View, width: int) -> list[str]:
    if not view.limits:
        return []
    inside, lines = (view.status == 0) & ~view.boils, []
    for name, (least, most) in view.limits.items():
        column = view.columns[name]
        said = " and ".join(f"{word} {end:.4g} {column.unit}".rstrip() for word, end in (("at least", least), ("at most", most)) if end is not None)
        below = column.values < (-numpy.inf if least is None else least)
        above = column.values > (numpy.inf if most is None else most)
        inside &= ~below & ~above
        marks = [f"{int(found.sum()):,} {word}" for found, word in ((below, "below (<)"), (above, "above (>)")) if found.any()]
        lines += wrap(f"{column.title}: {said}: {', '.join(marks) or 'none outside'}", width - _LEFT, initial_indent="  ", subsequent_indent="      ")
    missed = view.missed
    rows = f"{view.count - missed:,} rows that were reached" if missed else f"{view.count:,} rows"
    left = f"; {missed:,} were not reached" if missed else ""
    boiling = int(view.boils.sum())
    boils = f"; the {boiling:,} in which the liquid boils do not" if boiling > 1 else "; the one in which the liquid boils does not" if boiling else ""
    return ["", *wrap(f"Limits: {int(inside.sum()):,} of {rows} keep them all{boils}{left}", width), *lines]
