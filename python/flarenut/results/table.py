"""`Table`: rows by case, as aligned text, HTML, or for a terminal library that asks for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, Protocol

from flarenut.units import in_one

from .certificate import certificate_rows
from .columns import laid_out, screen_width
from .finding import merged
from .named import asks_for
from .rows import NOT_SOLVED, default_sections, rows_of, solved_row

if TYPE_CHECKING:
    from rich.console import Console, ConsoleOptions
    from rich.text import Text
    from ..units.quantity import Quantity
    from .answer import Answer
    from .case import CaseResult

_GAUGE_UNITS = ("psig", "barg")
_DIFFERENCES = (".drop", ".rise", ".loss")  # what rows of differences of pressure end with
_OF_TOTAL = "Drops, rises and losses are of total pressure: they count the speed head, which a gauge does not show."


class TableRow(Protocol):
    """A line of a table: what it is of, with its unit, and one text for each column."""

    @property
    def heading(self) -> str: ...
    @property
    def cells(self) -> Sequence[str]: ...


class Table:
    """A case × location table.

    Attributes
    ----------
    title : text
    cases : case names, the columns
    sections : list of (heading, list of `Row`)
    notes : lines to read below the rows
    findings : list of (severity, text), worst first
    cautions : list of text
    """

    def __init__(self, title: str, cases: Sequence[str], sections: Sequence[tuple[str, Sequence[TableRow]]],
                 certificate: Sequence[tuple[str, list[str]]] = (), notes: Sequence[str] = (), findings: Sequence[tuple[str, str]] = (),
                 cautions: Sequence[str] = ()) -> None:
        self.title, self.cases, self.sections = title, list(cases), list(sections)
        self.certificate, self.notes = list(certificate), list(notes)
        self.findings, self.cautions = list(findings), list(cautions)

    def lines_of_rows(self) -> list[tuple[str | None, str, Sequence[str]]]:
        """(heading or None, label with unit, cells) for every line, section headings included, to render anywhere."""
        lines: list[tuple[str | None, str, Sequence[str]]] = []
        for heading, rows in self.sections:
            if heading:
                lines.append((heading, "", []))
            lines += [(None, row.heading, row.cells) for row in rows]
        if self.certificate:
            lines.append(("Solve", "", []))
            lines += [(None, label, cells) for label, cells in self.certificate]
        return lines

    def text(self, width: int | None = None) -> str:
        """Aligned plain text no wider than `width` characters; unless given the terminal's, or 110 where there is none.

        Long names wrap. Columns that do not fit all the same continue in a second block.
        """
        return "\n".join(line for _, line in laid_out(self, width or screen_width()))

    def __str__(self) -> str:
        return self.text()

    def __repr__(self) -> str:
        return self.text()

    def html(self) -> str:
        """HTML for a notebook: inline style only, nothing fetched."""
        from .html import table_html

        return table_html(self)

    def _repr_html_(self) -> str:
        from .html import safely

        return safely(self.html, self)

    def __rich_console__(
        self, console: Console, options: ConsoleOptions
    ) -> Iterator[Text]:  # asked for by the terminal library `rich`, which is therefore there
        from rich.text import Text

        for style, line in laid_out(self, options.max_width):
            shown = Text(line, style=_STYLES.get(style, ""), no_wrap=True, overflow="ignore")
            shown.highlight_words([NOT_SOLVED], "red")
            yield shown


_STYLES = {"title": "bold", "heading": "bold", "cases": "bold", "note": "dim", "stop": "bold red", "fix": "bold yellow", "watch": "cyan"}


def table_of(answer: Answer, units: str, rows: Sequence[str] | None) -> Table:
    """The `Table` of an answer; see `Answer.table`."""
    if units not in ("us", "metric"):
        raise ValueError(f"'units' is {units!r}: write 'us' or 'metric'")
    layout, cases = answer.layout, list(answer.values())
    title = " · ".join(word for word in (layout.circuit, layout.fluid, "invented circuit" if layout.invented else "") if word)
    if not cases:
        return Table(title, [], [], notes=["no case to solve: add one, e.g. case('idle', ...)"])
    asked = default_sections(answer, units) if rows is None else [("", asks_for(answer, [rows] if isinstance(rows, str) else rows))]
    sections = solved_row(cases, units) + rows_of(asked, cases, units)
    findings = merged(answer.findings) if rows is None else []
    notes = [] if any(found.severity == "stop" and NOT_SOLVED in found.what for found, _ in findings) else _causes(cases, units)
    gauge = [unit for unit in _GAUGE_UNITS if any(row.unit == unit for _, section in sections for row in section)]
    if gauge:
        verb = "is" if len(gauge) == 1 else "are"
        notes.append(f"{' and '.join(gauge)} {verb} static pressure above the ambient, as a gauge there shows it."
                     + _ambient_note(cases, gauge[0]) + (f" {_OF_TOTAL}" if _shows_differences(sections) else ""))
    drawn = list(dict.fromkeys(place for case in cases for place in case.demands))
    if drawn:
        notes.append(
            f"Flow drawn at {', '.join(drawn)}: what is written by volume counts as liquid at 15 C, and its mass holds in every case."
        )
    if rows is not None:
        return Table(title, list(answer), sections, notes=notes)
    lines = [(found.severity, found.text(units, cases=in_cases, shared=units_of(sections))) for found, in_cases in findings]
    return Table(title, list(answer), sections, certificate_rows(cases), notes, lines, [in_one(one, units) for one in answer.cautions])


_FAMILIES = (  # kinds of which a table and what is told beside it have one unit -> the unit that its rows show -> that of each kind
    (
        ("pressure_gauge", "pressure_difference", "pressure_absolute"),
        {one: (f"{one}g", one, f"{one}a") for one in ("bar", "psi")},
    ),
    (("volume_flow",), {one: (one,) for one in ("L/min", "L/h", "gal/min", "gal/h")}),
    (("power",), {one: (one,) for one in ("kW", "W", "hp")}),
)


def units_of(sections: Sequence[tuple[str, Sequence[Any]]]) -> dict[str, str]:
    """Kind -> the unit that rows of a table have for it, of pressures, flows and power.

    >>> from types import SimpleNamespace as Row
    >>> units_of([("Pressures", [Row(unit="barg")]), ("Pumps", [Row(unit="L/min")])])
    {'pressure_gauge': 'barg', 'pressure_difference': 'bar', 'pressure_absolute': 'bara', 'volume_flow': 'L/min'}
    """
    shown = {row.unit for _, rows in sections for row in rows}
    found: dict[str, str] = {}
    for kinds, spelled in _FAMILIES:
        unit = next((one for one in spelled if shown & {one, f"{one}g"}), None)
        if unit is not None:
            found |= dict(zip(kinds, spelled[unit]))
    return found


def _shows_differences(sections: Sequence[tuple[str, Sequence[Any]]]) -> bool:
    """Whether a number of total pressure stands beside what gauges show: of parts and injectors, whose ends may differ in bore."""
    return any(row.unit and row.key.endswith(_DIFFERENCES) for _, rows in sections for row in rows)


def _causes(cases: Sequence[CaseResult], units: str) -> list[str]:
    """Why cases are not solved, each reason once."""
    lost: dict[str, list[str]] = {}
    for case in cases:
        if not case.converged:
            lost.setdefault(case.cause_in(units), []).append(case.name)
    return [f"{NOT_SOLVED}, {' / '.join(names)}: {cause}" for cause, names in lost.items()]


def _ambient_note(cases: Sequence[CaseResult], gauge: str) -> str:
    found: dict[str, list[str]] = {}
    for case in cases:
        found.setdefault(_beside(case.ambient, gauge), []).append(case.name)
    if len(found) == 1:
        return f" Ambient {next(iter(found))}."
    return " Ambient " + "; ".join(f"{', '.join(names)}: {text}" for text, names in found.items()) + "."


def _beside(pressure: Quantity, gauge: str) -> str:
    """An absolute pressure beside gauge pressures in a unit."""
    unit = gauge.removesuffix("g")
    return f"{pressure.to(unit):.{ {'psi': 2, 'bar': 3}.get(unit, 1)}f} {unit}a"
