"""A table of line sizes in words: headings, values with their margins, what becomes of a size, how to read it all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from ..results import merged
from ..units import Quantity, digits, in_one, preferred_unit
from .line_cells import NO_CLOSER
from .line_verdicts import said_by

if TYPE_CHECKING:
    from ..results.finding import Finding
    from .line_cells import Cell
    from .line_columns import Column
    from .line_sizes import LineSize, LineSizes


_CAUSES = {"rise_over_setting": "the return line and the regulator", "back_pressure": "the return line and the regulator",
           "inlet_vacuum": "the lines and the strainer before the pump", "suction_margin": "the lines and the strainer before the pump"}
_NO_CLOSER = f"Our numbers are no closer than {100 * NO_CLOSER:.0f} % (judgement: measured friction bounds losses by 1 to 6 %)."


def unit_of(column: Column, system: str) -> str:
    """Unit of a column; "" for a plain number."""
    return column.units.get(system) or (preferred_unit(column.kind, system) if column.kind else "")


def heading(table: LineSizes, column: Column) -> str:
    """Words of a column."""
    return column.words.format(place=table.places[0] if len(table.places) == 1 else "worst-fed place")


def margin_unit(column: Column, system: str) -> str:
    """Unit of its margins: of a gauge pressure without the letter."""
    unit = unit_of(column, system)
    return unit.removesuffix("g") if column.kind == "pressure_gauge" else unit


def _digits(number: float) -> str:
    return "0.000" if abs(number) < 5e-4 else digits(number)


def number_of(value: float | Quantity | None, unit: str) -> str:
    return "" if value is None else _digits(value.to(unit) if isinstance(value, Quantity) else value)


def shown(cell: Cell, column: Column, system: str) -> str:
    """"5.39 (-1.39)": a value and its margin to the limit."""
    if column.below_zero and cell.si < 0.0:
        number = column.below_zero
    else:
        number = " ".join(filter(None, [cell.bound, number_of(cell.value, unit_of(column, system))]))
    if cell.margin is None:
        return number
    left = _digits(cell.margin.to(margin_unit(column, system)))
    return f"{number} ({left})" if left.startswith("-") else f"{number} ({'+' if cell.passes else '-'}{left})"


def limit_in_words(table: LineSizes, column: Column, system: str) -> str:
    """"at most 4.00"; from the lowest to the highest where it goes by the case or the place that is worst for a size."""
    cells = [row.cells[column.key] for row in table.rows if column.key in row.cells]
    limited = sorted((cell for cell in cells if cell.limit is not None), key=lambda cell: cell.limit.si if cell.limit is not None else 0.0)
    if not limited:
        return ""
    ends = dict.fromkeys(number_of(cell.limit, unit_of(column, system)) for cell in (limited[0], limited[-1]))
    return f"{'at most' if limited[0].at_most else 'at least'} {' to '.join(ends)}"


def cases_in_words(table: LineSizes, column: Column) -> str:
    """Which case the values are of; "by size" where sizes differ in that."""
    found = list(dict.fromkeys(row.cells[column.key].where for row in table.rows if column.key in row.cells))
    return found[0] if len(found) == 1 else "by size"


def verdict(table: LineSizes, row: LineSize) -> str:
    """What becomes of a size, in words."""
    if row.refusal:
        return "not solved"
    _, others = said_by(row.findings, table.blamed(row))
    own = [column for column in table.columns if column.key in table.blamed(row)]
    not_own = [column for column in table.columns if column.key in row.fails and column not in own]
    fails = ", ".join([*(heading(table, column) for column in own), *briefly(others), *(['chokes the flow'] if table.chokes(row) else [])])
    else_too = " all else" if not_own or table.elsewhere or table.shared else ""
    missed = [heading(table, column) for column in not_own if column.key not in table.beyond]  # those stand once, at the top
    what = f" all but {' and '.join(missed)} (not of this line)" if missed else else_too
    passes = f"passes{what}" if row.tightest else "no limit is known to judge it by"
    hair = [heading(table, column) for column in table.columns if column.key in table.hairs(row)]
    passes += f", by a hair: {' and '.join(hair)}" if hair else ""
    words = f"fails: {fails}" if fails else passes
    if row is not table.smallest(row.spec):
        return words
    several = len(table.specs) > 1
    mark = f"smallest{f' {row.spec}' * several} that passes{else_too}"
    return f"{words} <- {mark}" + (", and the smallest bore of all" if several and row is table.smallest() else "")


def briefly(findings: Sequence[Finding]) -> list[str]:
    """"STOP injector pressure low (bank R, idle / full power)", one for each rule and place."""
    found: dict[tuple[str, str], list[str]] = {}
    for one in findings:
        found.setdefault((f"{one.severity.upper()} {one.code}", one.where), []).append(one.case)
    return [f"{words} ({', '.join(filter(None, [where, ' / '.join(cases)]))})" for (words, where), cases in found.items()]


def label(row: LineSize) -> str:
    """Size with its specification."""
    return f"{row.size} {row.spec}" + (" (now)" if row.written else "")


def title(table: LineSizes) -> str:
    """What the table is of."""
    return " · ".join(filter(None, [f"sizes of {table.line}", table.circuit, table.fluid, "invented circuit" if table.invented else ""]))


def notes_of(table: LineSizes, system: str) -> list[str]:
    """How to read it, what no size cures, and what is too near to choose by."""
    found = ["In brackets: what is left to the limit; below nothing it is passed. (now): the line as the circuit has it. "
             "Limits are rules of thumb of the trade (common practice, no source) unless set by you."]
    for column in table.columns:
        words = heading(table, column)
        if cases_in_words(table, column) == "by size":
            by_case = _grouped((row.cells[column.key].where, row) for row in table.rows if column.key in row.cells)
            found.append(f"Worst case of {words}: " + "; ".join(f"{case} for {sizes}" for case, sizes in by_case.items()) + ".")
    found += [f"With every size that does not choke the flow, and with a line that lost nothing too, so it is left out of which is the smallest: "
              f"{one.text(system, cases=cases)}" for one, cases in merged([one for one in beside_the_columns(table) if one.severity != "stop"])]
    return [*found, *_unsolved(table, system)]


def _unsolved(table: LineSizes, system: str) -> Iterator[str]:
    """Why sizes have no answer, each reason once, with the sizes and the cases that it holds for."""
    for cause in dict.fromkeys(row.cause or row.refusal for row in table.rows if row.refusal):
        sizes = _grouped((", ".join(row.lost), row) for row in table.rows if cause in (row.cause, row.refusal))
        told = "; ".join(f"{those}: not solved in {cases}" if cases else those for cases, those in sizes.items())
        yield f"{told}: {in_one(cause, system)}."


def beside_the_columns(table: LineSizes) -> list[Finding]:
    """Findings that stand whatever the size, without those that a column says already. A STOP is said in full all the same."""
    unsaid = said_by(table.shared, [*table.beyond, *table.elsewhere])[1]
    return [one for one in table.shared if one.severity == "stop" or one in unsaid]


def causes_in_words(columns: Sequence[Column]) -> str:
    """Where to look for what is wrong in some columns that this line does not cure."""
    return " ".join(f"Look at {cause}." for cause in dict.fromkeys(_CAUSES.get(column.key, "the other parts") for column in columns))


def thin_in_words(table: LineSizes, chosen: LineSize, other: LineSize, keys: Sequence[str], system: str) -> str:
    """Two sizes that a limit parts by less than our numbers are close."""
    told = []
    for column in (column for column in table.columns if column.key in keys):
        unit = unit_of(column, system)
        values = [number_of(row.cells[column.key].value, unit) for row in (other, chosen)]
        told.append(f"{heading(table, column)}, {' against '.join(values)} {unit} at a limit of {number_of(chosen.cells[column.key].limit, unit)}")
    return (f"{label(other)} and {label(chosen)} differ in {'; '.join(told)}: that is too small a difference to buy by. "
            f"{label(other)} passes all else.")


def hair_in_words(table: LineSizes, chosen: LineSize, keys: Sequence[str], wider: LineSize | None, system: str) -> str:
    """A size that passes by less than our numbers are close, and the next one that leaves more."""
    next_up = "No wider size that passes and leaves more was tried."
    if wider is not None:
        leaves = []
        for column in (column for column in table.columns if column.key in keys):
            unit = margin_unit(column, system)
            leaves.append(f"{number_of(wider.cells[column.key].margin, unit)} {unit}{f' of {heading(table, column)}' * (len(keys) > 1)}")
        next_up = f"The next size up that passes and leaves more, {label(wider)}, leaves {' and '.join(leaves)}."
    return f"{label(chosen)} passes by a hair: {_narrowly(table, chosen, keys, system)}. {_NO_CLOSER} {next_up}"


def past_mending_in_words(table: LineSizes, chosen: LineSize, keys: Sequence[str], system: str) -> str:
    """Limits that a size keeps by a hair, in which a wider one leaves no more."""
    look = causes_in_words([column for column in table.columns if column.key in keys])
    narrowly = _narrowly(table, chosen, keys, system)
    return f"By a hair, and no wider {table.line} mends it: {narrowly}, with {label(chosen)}. {_NO_CLOSER} {look}"


def _narrowly(table: LineSizes, row: LineSize, keys: Sequence[str], system: str) -> str:
    """By how much a size keeps the limits of some columns."""
    told = []
    for column in (column for column in table.columns if column.key in keys):
        cell, unit = row.cells[column.key], margin_unit(column, system)
        of = "the fall that is allowed" if cell.allowed else "its limit"
        margin = digits(cell.margin.to(unit)) if cell.margin is not None else ""  # however small
        where = f", in {cell.where}" if cell.where else ""
        told.append(f"{heading(table, column)} by {margin} {unit}, {_percent(cell.tightness)} of {of}{where}")
    return "; ".join(told)


def _percent(share: float) -> str:
    return f"{100 * share:.2g} %" if share >= 1e-4 else "under 0.01 %"


def _grouped(pairs: Iterator[tuple[str, LineSize]]) -> dict[str, str]:
    """What rows have in common -> their sizes in words."""
    groups: dict[str, list[str]] = {}
    for common, row in pairs:
        groups.setdefault(common, []).append(row.size.partition(" x ")[0])
    return {common: ", ".join(dict.fromkeys(sizes)) for common, sizes in groups.items()}
