"""A `Table` as lines of aligned text for a given width: names wrap first, then columns go on in a further block."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Sequence
from shutil import get_terminal_size
from textwrap import wrap
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from .table import Table

Block = TypeVar("Block")  # a column, however it is made
_UNKNOWN_WIDTH, _WIDEST = 110, 140  # characters: where no terminal says, and what an eye still follows along
_LEAST_LABEL, _LEAST_WIDTH = 26, 40
_GAP = 2


def screen_width() -> int:
    """Width to lay out for: of the terminal, up to 140; 110 where the output is no terminal and COLUMNS does not say."""
    return min(get_terminal_size((_UNKNOWN_WIDTH, 24)).columns if sys.stdout.isatty() else _columns_said(), _WIDEST)


def _columns_said() -> int:
    said = os.environ.get("COLUMNS", "")
    return int(said) if said.isdigit() and int(said) else _UNKNOWN_WIDTH


def laid_out(table: Table, width: int) -> list[tuple[str, str]]:
    """(style, line) from top to bottom; style is "title", "cases", "rule", "heading", "row", "note", a severity or ""."""
    width = max(width, _LEAST_WIDTH)
    lines = [("title", line) for line in wrap(table.title, width)] + ([("", "")] if table.title else [])
    lines += _blocks(table, width) if table.cases or table.sections else []
    lines += _listed([("note", note) for note in table.notes], width)
    if table.findings:
        lines += [("", "")] * (lines[-1:] != [("", "")])
        lines += [("heading", "What to look at, worst first"), *_listed(table.findings, width)]
    if table.cautions:
        lines += [("", ""), ("heading", "Cautions"), *_listed([("", caution) for caution in table.cautions], width)]
    return lines


def _listed(entries: Sequence[tuple[str, str]], width: int) -> list[tuple[str, str]]:
    return [(style, f"  {line}") for style, text in entries for line in wrap(text, width - 2, subsequent_indent="    ")]


def _blocks(table: Table, width: int) -> list[tuple[str, str]]:
    rows = table.lines_of_rows()
    widths = [max([len(case), *(len(cells[i]) for _, _, cells in rows if cells)]) + _GAP for i, case in enumerate(table.cases)]
    widths = [min(one, width - _LEAST_LABEL) for one in widths]
    full = max([len(label) + 2 for _, label, _ in rows] + [4])
    label, blocks = _divided(full, widths, width)
    lines = []
    for block in blocks or [[]]:
        taken = label + sum(widths[i] for i in block)
        lines += [("cases", line) for line in _row("", [table.cases[i] for i in block], label, [widths[i] for i in block])]
        lines.append(("rule", "-" * min(taken, width)))
        for heading, words, cells in rows:
            if heading:
                lines += [("heading", line) for line in wrap(heading, width, subsequent_indent="  ")]
            else:
                lines += [("row", line) for line in _row(words, [cells[i] for i in block], label, [widths[i] for i in block])]
        lines.append(("", ""))
    return lines


def _divided(full: int, widths: Sequence[int], width: int) -> tuple[int, list[list[int]]]:
    """Width of the names, and the columns of each block: as few blocks as can be, then as few wrapped names as can be."""
    narrow = min(full, _LEAST_LABEL)
    blocks = _packed(widths, width - narrow)
    room = min((width - sum(widths[i] for i in block) for block in blocks), default=full)
    return max(narrow, min(full, room)), _evened(blocks, widths, width - narrow)


def _packed(widths: Sequence[int], room: int) -> list[list[int]]:
    blocks: list[list[int]] = []
    left = 0
    for i, one in enumerate(widths):
        if blocks and one <= left:
            blocks[-1].append(i)
            left -= one
        else:
            blocks.append([i])
            left = room - one
    return blocks


def _evened(blocks: list[list[int]], widths: Sequence[int], room: int) -> list[list[int]]:
    """As many blocks, of as many columns each as can be: 3 and 2 rather than 4 and 1."""
    each = -(-len(widths) // max(len(blocks), 1))
    even = [list(range(at, min(at + each, len(widths)))) for at in range(0, len(widths), each or 1)]
    return even if all(sum(widths[i] for i in block) <= room for block in even) else blocks


def _row(words: str, cells: Sequence[str], label: int, widths: Sequence[int]) -> list[str]:
    """Lines of one row. What is too long for its column wraps; the cells stand on the last line, beside the unit of the name."""
    columns = [_wrapped_name(words, label - 4), *(wrap(cell, max(one - _GAP, 1)) if len(cell) > one - _GAP else [cell]
                                                 for cell, one in zip(cells, widths))]
    if len(words) <= label - 2:
        columns[0] = [words]
    height = max(map(len, columns))
    columns = [[""] * (height - len(column)) + column for column in columns]
    return [("  " + "".join([f"{name:<{label - 2}}", *(f"{cell:>{one}}" for cell, one in zip(rest, widths))])).rstrip()
            for name, *rest in zip(*columns)]


def _wrapped_name(words: str, width: int) -> list[str]:
    """A name over several lines; its unit stays with the word before it."""
    name, bracket, unit = words.rpartition(" [")
    whole = f"{name}\u00a0[{unit.replace(' ', chr(0xa0))}" if bracket else words
    return [line.replace("\u00a0", " ") for line in wrap(whole, max(width, 1))] or [""]


def blocks_of(columns: Sequence[Block], room: int, width_of: Callable[[Block], int]) -> list[list[Block]]:
    """Columns in blocks that are each no wider than `room`, in their order; one that is wider than that stands alone.

    >>> blocks_of(["aa", "bbb", "c"], 5, len)
    [['aa', 'bbb'], ['c']]
    """
    blocks: list[list[Block]] = []
    left = 0
    for column in columns:
        width = width_of(column)
        if blocks and width <= left:
            blocks[-1].append(column)
            left -= width
        else:
            blocks.append([column])
            left = room - width
    return blocks
