"""What a table of sizes concludes beyond its columns: findings that a size brings or cures, limits that no size keeps, passes that are thin."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from ..checks import review
from .line_cells import NO_CLOSER

if TYPE_CHECKING:
    from ..checks.limits import Limits
    from ..results.answer import Answer
    from ..results.finding import Finding
    from .line_sizes import LineSize, LineSizes

_SEVERE = ("stop", "fix")
# Column -> findings that say the same of a case as the column does.
_SAME = {"pressure": ("regulator starved", "regulator short", "injector pressure low", "boost not followed", "pressure where drawn"),
         "rise_over_setting": ("regulator creep", "regulator wide open"), "back_pressure": ("return rise",),
         "inlet_vacuum": ("inlet vacuum",), "suction_margin": ("suction margin", "boils in the tank")}
# The fastest line of the circuit may be another than that of the table, whose velocity has a column.
_OF_ANY_LINE = ("suction velocity", "feed velocity", "return velocity")
# What a size may add to a miss that is not its own, as a share of the limit: little where that limit is much, or guards against boiling.
_ADDED, _ADDED_ELSE = {"pressure": 0.02, "suction_margin": 0.1}, 0.25


def severe(answer: Answer, limits: Limits) -> dict[tuple[str, str, str], Finding]:
    """What says STOP or FIX of an answer: (rule, place, case) -> finding."""
    found = [one for one in review(answer, limits) if one.severity in _SEVERE and one.code not in _OF_ANY_LINE]
    return {(one.code, one.where, one.case): one for one in found}


def shared(rows: Sequence[LineSize], wide: LineSize) -> set[tuple[str, str, str]]:
    """Keys of the findings that the widest size has, and a line that loses nothing as well: that a narrow one lacks them is no cure."""
    rows = [row for row in rows if not row.refusal]
    if not rows:
        return set()
    every = [row.severe for row in (rows if wide.refusal else (_widest(rows), wide))]
    return {key for key in every[0] if all(key in found for found in every)}


def past_any_size(rows: Sequence[LineSize], wide: LineSize) -> list[str]:
    """Keys of columns that fail in every row, and with a line that loses nothing: nothing that a line could do about it."""
    return [key for key in _past_widening(rows, wide) if all(key in row.fails for row in rows if not row.refusal)]


def elsewhere(rows: Sequence[LineSize], wide: LineSize) -> list[str]:
    """Keys of columns that fail in the widest row and with a line that loses nothing, while a narrower one keeps them: it chokes the flow."""
    return [key for key in _past_widening(rows, wide) if any(key not in row.fails for row in rows if not row.refusal)]


def _past_widening(rows: Sequence[LineSize], wide: LineSize) -> list[str]:
    """Where a line that loses nothing has no answer, the widest has to fail by more than all that it loses."""
    rows = [row for row in rows if not row.refusal]
    if not rows:
        return []
    widest = _widest(rows)
    fails = [key for key in widest.fails if key != "velocity"]
    if not wide.refusal:
        return [key for key in fails if key in wide.fails]
    return [key for key in fails if -widest.cells[key].left > widest.cells["lost"].si]


def excused(rows: Sequence[LineSize], wide: LineSize) -> set[tuple[str, str, str]]:
    """(specification, size, key) of rows that fail what no widening cures, and make it hardly worse than a line that loses nothing."""
    keys, rows = _past_widening(rows, wide), [row for row in rows if not row.refusal]
    least = _widest(rows) if wide.refusal and rows else wide
    return {(row.spec, row.size, key) for key in keys for row in rows if key in row.cells
            and least.cells[key].spare - row.cells[key].spare <= _ADDED.get(key, _ADDED_ELSE)}


def choked(rows: Sequence[LineSize], wide: LineSize, line: str) -> dict[tuple[str, str], str]:
    """(specification, size) -> what it leaves shut, or "", of rows that take flow, and so better what is the matter `elsewhere` by much, which
    mends nothing; or that leave a regulator nothing to spill which has something to spill with a line that loses nothing."""
    keys, rows = elsewhere(rows, wide), [row for row in rows if not row.refusal]
    least = _widest(rows) if wide.refusal and rows else wide
    found = {}
    for row in rows:
        betters = any(key in row.cells and row.cells[key].spare - least.cells[key].spare > _ADDED.get(key, _ADDED_ELSE) for key in keys)
        shut = _leaves_shut(row, least)
        if (betters or shut) and _takes_flow(row, least, line):
            found[row.spec, row.size] = shut
    return found


_TAKES = 0.05  # of the flow that a line without loss has: less is no choking (judgement)


def _takes_flow(row: LineSize, least: LineSize, line: str) -> bool:
    if row.answer is None or least.answer is None:
        return True  # not known
    return any(abs(case.part(line).flow.si) < (1.0 - _TAKES) * abs(least.answer[name].part(line).flow.si) for name, case in row.answer.items())


def _leaves_shut(row: LineSize, least: LineSize) -> str:
    """"regulator, in full power": the first that a size leaves nothing to spill; "" for none."""
    if row.answer is None or least.answer is None:
        return ""
    return next((f"{case.layout.title(one)}, in {name}" for name, case in row.answer.items() for one in case.parts_of_kind("bypass regulator")
                 if case.solution.regime_of(one) == "shut" != least.answer[name].solution.regime_of(one)), "")


def past_mending(rows: Sequence[LineSize], wide: LineSize) -> set[tuple[str, str, str]]:
    """(specification, size, key) of limits that a size keeps by a hair, where no wider one leaves more, nor a line that loses nothing."""
    solved = [row for row in rows if not row.refusal]
    found = set()
    for row in solved:
        wider = [*(one for one in solved if one.bore.si > row.bore.si), *([] if wide.refusal else [wide])]
        found |= {(row.spec, row.size, key) for key, cell in row.cells.items() if cell.by_a_hair and wider
                  and not any(key in one.cells and one.cells[key].leaves_more_than(cell) for one in wider)}
    return found


def _widest(rows: Sequence[LineSize]) -> LineSize:
    return max(rows, key=lambda row: row.bore.si)


def said_by(findings: Sequence[Finding], keys: Sequence[str]) -> tuple[list[Finding], list[Finding]]:
    """Those of some findings that one of some columns says already, and those that none does."""
    codes = {code for key in keys for code in _SAME.get(key, ())}
    return [one for one in findings if one.code in codes], [one for one in findings if one.code not in codes]


def thin_passes(table: LineSizes) -> Iterator[tuple[LineSize, LineSize, list[str]]]:
    """(row that passes, smaller row that hardly fails, keys of the columns that tell them apart) of each specification that has such."""
    for spec in dict.fromkeys(row.spec for row in table.rows):
        chosen = table.smallest(spec)
        if chosen is None:
            continue
        near = {key for key, cell in chosen.cells.items() if cell.by_a_hair}
        others = [row for row in table.rows if row.spec == spec and not row.refusal and row.bore.si < chosen.bore.si
                  and _hardly_fails(table, row, near, table.blamed(row))]
        if others:
            other = min(others, key=lambda row: row.bore.si)
            yield chosen, other, table.blamed(other)


def _hardly_fails(table: LineSizes, row: LineSize, near: set[object] | set[str], failing: Sequence[str]) -> bool:
    narrowly = all(row.cells[key].tightness > -NO_CLOSER for key in failing)
    return bool(failing) and not table.chokes(row) and set(failing) <= near and narrowly and not said_by(row.findings, failing)[1]


def hair_passes(table: LineSizes) -> Iterator[tuple[LineSize, list[str], LineSize | None]]:
    """(smallest that passes, keys of the columns that it passes by a hair and a wider one by more, the next wider that passes and leaves
    more in all of them or None) of each specification that has such."""
    for spec in table.specs:
        chosen = table.smallest(spec)
        keys = table.hairs(chosen) if chosen else []
        if chosen is not None and keys:
            wider = [row for row in table.rows if row.spec == spec and row.bore.si > chosen.bore.si and table.is_choice(row)
                     and all(key in row.cells and row.cells[key].leaves_more_than(chosen.cells[key]) for key in keys)]
            yield chosen, keys, min(wider, key=lambda row: row.bore.si, default=None)
