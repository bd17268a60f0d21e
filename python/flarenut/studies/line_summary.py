"""What a table of line sizes comes to, in a few lines to read first: the smallest that passes, by how much, and what the next smaller fails."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from ..results import merged
from ..units import preferred_unit
from .line_words import (
    beside_the_columns, briefly, causes_in_words, hair_in_words, heading, label, limit_in_words, margin_unit, number_of,
    past_mending_in_words, thin_in_words, unit_of,
)
from .line_verdicts import hair_passes, said_by, thin_passes

if TYPE_CHECKING:
    from .line_cells import Cell
    from .line_columns import Column
    from .line_sizes import LineSize, LineSizes


def summary_of(table: LineSizes, system: str) -> list[str]:
    """Lines, the most important first."""
    if not any(row.tightest for row in table.rows):
        return ["No limit is known to judge these sizes by." if any(not row.refusal for row in table.rows) else "None of these sizes is solved."]
    best, thinly = table.smallest(), list(thin_passes(table))
    as_good = next((f"; {_sized(other, system)}, is as good a buy: they differ by less than our numbers are close" for chosen, other, _ in thinly
                    if chosen is best), "")
    smallest = {spec: table.smallest(spec) for spec in table.specs}
    told = [one for row in smallest.values() if row for one in (row, _next_smaller(table, row))]
    if best is None:
        widest = _widest(table)
        told = [widest]
        found = ["None of these sizes passes: try wider ones, a shorter line, or look at the parts beside it.",
                 *([f"The widest{_that_is_solved(table, widest)}, {_failing(table, widest, system)}."] if widest else []),
                 *([f"{table.ends_below[0].upper()}{table.ends_below[1:]}."] if table.ends_below else [])]
    elif len(smallest) == 1:
        found = [f"Smallest that passes{_all_else(table, best)}: {_sized(best, system)}{as_good}.", *_why(table, best, system)]
    else:
        found = [f"Smallest bore that passes{_all_else(table, best)}, of all specifications: {_sized(best, system)}{as_good}."]
        found += [f"{spec}: {' '.join([f'{_sized(row, system)}.', *_why(table, row, system)]) if row else 'none of its sizes passes.'}"
                  for spec, row in smallest.items()]
    thin = [thin_in_words(table, *one, system) for one in thinly]
    hair = [hair_in_words(table, *one, system) for one in hair_passes(table)]
    if best is not None and (keys := table.hairs_past_mending(best)):
        hair.append(past_mending_in_words(table, best, keys, system))
    # What no size mends says first what "all else" leaves out; where none passes there is no such.
    out = [*_left_out(table, system), *_standing(table, system)]
    head = [*out, found[0]] if best is not None else [found[0], *out]
    return [*head, *hair, *thin, *found[1:], *_written(table, told, system)]


def is_headline(line: str) -> bool:
    """Whether a line of the summary is the answer that a reader looks for."""
    return line.startswith(("Smallest ", "None of these sizes ", "No limit is known "))


def _left_out(table: LineSizes, system: str) -> Iterator[str]:
    """The limits that are nothing this line could keep: told once, before what passes all else."""

    def limits_of(columns: Sequence[Column]) -> str:
        return " and ".join(f"{heading(table, column)} ({limit_in_words(table, column, system)} {unit_of(column, system)})"
                            for column in columns)

    beyond, others = ([column for column in table.columns if column.key in keys] for keys in (table.beyond, table.elsewhere))
    if beyond:
        yield (f"No size keeps the limit{'s' * (len(beyond) > 1)} of {limits_of(beyond)}, nor would a line that lost nothing: another part "
               f"has to change for it. {'They are' if beyond[1:] else 'It is'} left out below, unless a size makes it much worse.")
    if others:
        choked = [row for row in table.rows if not row.refusal and table.chokes(row)]
        belong, them = ("they belong", "them") if others[1:] else ("it belongs", "it")
        yield (f"Left out below, as {belong} elsewhere: {limits_of(others)}. {causes_in_words(others)} A wider {table.line} does not cure {them}, "
               f"and a narrow one only by choking the flow{_losses(table, choked, system)}.")


def _that_is_solved(table: LineSizes, widest: LineSize) -> str:
    """Said where wider ones have no answer."""
    return " that is solved" if any(row.bore.si > widest.bore.si for row in table.rows) else ""


def _all_else(table: LineSizes, row: LineSize) -> str:
    return " all else" if row.fails or table.shared or table.elsewhere else ""


def _standing(table: LineSizes, system: str) -> Iterator[str]:
    """What stands whatever the size: STOP in full, FIX by name."""
    found = beside_the_columns(table)
    for one, cases in merged([one for one in found if one.severity == "stop"]):
        yield f"Whatever the size of this line, and left out below: {one.text(system, cases=cases)}"
    if others := briefly([one for one in found if one.severity != "stop"]):
        yield f"No size cures {'; '.join(others)}: left out below; see the notes."


def _sized(row: LineSize, system: str) -> str:
    unit = preferred_unit("length", system)
    return f"{label(row)}, bore {row.bore.to(unit):.{3 if unit == 'in' else 1}f} {unit}"


def _why(table: LineSizes, row: LineSize, system: str) -> Iterator[str]:
    """What is left to the limits that decide, and what the next smaller of its specification fails."""
    smaller = _next_smaller(table, row)
    decide = [key for key in (table.blamed(smaller) if smaller and not smaller.refusal else ()) if row.cells[key].passes]
    limited = {key: cell for key, cell in row.cells.items() if cell.limit is not None and cell.passes}
    for key in decide or ([min(limited, key=lambda one: limited[one].tightness)] if limited else []):
        if limited[key].by_a_hair:
            continue  # that is told above
        column, cell = _column(table, key), limited[key]
        yield (f"{_margin(table, column, cell, system)} left to its limit of {number_of(cell.limit, unit_of(column, system))} "
               f"{unit_of(column, system)}{_in_case(cell)}.")
    yield f"Next smaller, {_failing(table, smaller, system)}." if smaller else "No smaller one was tried."


def _next_smaller(table: LineSizes, row: LineSize) -> LineSize | None:
    return max((one for one in table.rows if one.spec == row.spec and one.bore.si < row.bore.si), key=lambda one: one.bore.si, default=None)


def _column(table: LineSizes, key: str) -> Column:
    return next(column for column in table.columns if column.key == key)


def _margin(table: LineSizes, column: Column, cell: Cell, system: str) -> str:
    """"return back-pressure: 2.08 psi"."""
    unit = margin_unit(column, system)
    words = heading(table, column)
    return f"{words[0].upper()}{words[1:]}: {number_of(cell.margin, unit).lstrip('-')} {unit}"


def _failing(table: LineSizes, row: LineSize, system: str) -> str:
    """"-6 ptfe (now): fails return back-pressure by 0.646 psi, in idle"."""
    if row.refusal:
        return f"{label(row)}: not solved"
    _, others = said_by(row.findings, table.blamed(row))
    told = [f"{heading(table, column)} by {_margin(table, column, row.cells[column.key], system).rpartition(': ')[2]}{_in_case(row.cells[column.key])}"
            for column in table.columns if column.key in table.blamed(row)]
    told += briefly(others)
    if table.chokes(row):
        shut = table.left_shut(row)
        told.append(f"by choking the flow ({_loss(table, row, system)} lost in it{f'; nothing is left to spill for {shut}' if shut else ''})")
    return f"{label(row)}: fails {'; '.join(told)}" if told else f"{label(row)}: passes{_all_else(table, row)}"


def _in_case(cell: Cell) -> str:
    return f", in {cell.where}" if cell.where else ""


def _widest(table: LineSizes) -> LineSize | None:
    return max((row for row in table.rows if not row.refusal), key=lambda row: row.bore.si, default=None)


def _written(table: LineSizes, told: Sequence[LineSize | None], system: str) -> list[str]:
    """What becomes of the line as it is."""
    now = next((row for row in table.rows if row.written and not any(row is one for one in told)), None)
    return [f"As it is, {_failing(table, now, system)}."] if now else []


def _losses(table: LineSizes, rows: Sequence[LineSize], system: str) -> str:
    told = ", ".join(f"{label(row)} loses {_loss(table, row, system)}" for row in rows)
    return f": {told}" if told else ""


def _loss(table: LineSizes, row: LineSize, system: str) -> str:
    unit = unit_of(_column(table, "lost"), system)
    return f"{number_of(row.cells['lost'].value, unit)} {unit}"
