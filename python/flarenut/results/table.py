"""`Table`: rows by case, as aligned text, HTML, or for a terminal library that asks for it."""

from .finding import merged
from .rows import NOT_SOLVED, Row, asks_for, certificate_rows, default_sections

_GAUGE_UNITS = ("psig", "kPag", "barg")


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

    def __init__(self, title, cases, sections, certificate=(), notes=(), findings=(), cautions=()):
        self.title, self.cases, self.sections = title, list(cases), list(sections)
        self.certificate, self.notes = list(certificate), list(notes)
        self.findings, self.cautions = list(findings), list(cautions)

    def lines_of_rows(self):
        """(heading or None, label with unit, cells) for every line, section headings included, to render anywhere."""
        lines = []
        for heading, rows in self.sections:
            if heading:
                lines.append((heading, "", []))
            lines += [(None, row.heading, row.cells) for row in rows]
        if self.certificate:
            lines.append(("Solve", "", []))
            lines += [(None, label, cells) for label, cells in self.certificate]
        return lines

    def text(self, width=110):
        """Aligned plain text. Columns that do not fit the width continue in a second block."""
        parts = [self.title, ""] if self.title else []
        parts += self._blocks(width)
        parts += [f"  {line}" for line in _wrapped(self.notes, width - 2)]
        if self.findings:
            parts += ["", "What to look at, worst first"]
            parts += [f"  {line}" for line in _wrapped([text for _, text in self.findings], width - 2)]
        if self.cautions:
            parts += ["", "Cautions"] + [f"  {line}" for line in _wrapped(self.cautions, width - 2)]
        return "\n".join(parts)

    def _blocks(self, width):
        lines = self.lines_of_rows()
        first = max([len(label) + 2 for _, label, _ in lines] + [len(heading or "") for heading, _, _ in lines] + [4])
        widths = [max([len(case)] + [len(cells[i]) for _, _, cells in lines if cells]) + 2
                  for i, case in enumerate(self.cases)]
        parts, at = [], 0
        while True:
            upto = at + 1
            while upto < len(widths) and first + sum(widths[at:upto + 1]) <= width:
                upto += 1
            chosen = range(at, min(upto, len(widths)))
            parts.append((" " * first + "".join(f"{self.cases[i]:>{widths[i]}}" for i in chosen)).rstrip())
            parts.append("-" * (first + sum(widths[i] for i in chosen)))
            for heading, label, cells in lines:
                line = heading if heading else f"  {label:<{first - 2}}" + "".join(f"{cells[i]:>{widths[i]}}" for i in chosen)
                parts.append(line.rstrip())
            parts.append("")
            at = upto
            if at >= len(widths):
                return parts

    __str__ = text

    def __repr__(self):
        return self.text()

    def html(self):
        """HTML for a notebook: inline style only, nothing fetched."""
        from .html import table_html

        return table_html(self)

    def _repr_html_(self):
        from .html import safely

        return safely(self.html, self)

    def __rich__(self):  # asked for by the terminal library `rich`, which is therefore there
        from rich.console import Group
        from rich.table import Table as RichTable
        from rich.text import Text

        colours = {"stop": "bold red", "fix": "bold yellow", "watch": "cyan", "note": ""}
        grid = RichTable(title=self.title or None, title_justify="left", box=None, pad_edge=False)
        grid.add_column("")
        for case in self.cases:
            grid.add_column(Text(case), justify="right")
        for heading, label, cells in self.lines_of_rows():
            if heading:
                grid.add_row(Text(heading, style="bold"))
            else:
                grid.add_row(Text(f"  {label}"), *(Text(cell, style="red" if cell == NOT_SOLVED else "") for cell in cells))
        below = [Text(line, style="dim") for line in self.notes]
        if self.findings:
            below += [Text(""), Text("What to look at, worst first", style="bold")]
            below += [Text(text, style=colours[severity]) for severity, text in self.findings]
        if self.cautions:
            below += [Text(""), Text("Cautions", style="bold"), *(Text(line) for line in self.cautions)]
        return Group(grid, Text(""), *below)


def _wrapped(lines, width):
    from textwrap import wrap

    return [part for line in lines for part in wrap(line, max(width, 40), subsequent_indent="    ")]


def table_of(answer, units, rows):
    """The `Table` of an answer; see `Answer.table`."""
    if units not in ("us", "metric"):
        raise ValueError(f"'units' is {units!r}: write 'us' or 'metric'")
    layout, cases = answer.layout, list(answer.values())
    title = " · ".join(word for word in (layout.circuit, layout.fluid, "invented circuit" if layout.invented else "") if word)
    if not cases:
        return Table(title, [], [], notes=["no case to solve: add one, e.g. case('idle', ...)"])
    asked = default_sections(answer) if rows is None else [("", asks_for(answer, [rows] if isinstance(rows, str) else rows))]
    sections = [(heading, [Row(ask, cases, units) for ask in asks]) for heading, asks in asked]
    notes = [f"{NOT_SOLVED}, {case.name}: {case.cause}" for case in cases if not case.converged]
    gauge = [unit for unit in _GAUGE_UNITS if any(row.unit == unit for _, section in sections for row in section)]
    if gauge:
        verb = "is" if len(gauge) == 1 else "are"
        notes.append(f"{' and '.join(gauge)} {verb} static pressure above the ambient, as a gauge there shows it."
                     + _ambient_note(cases))
    if rows is not None:
        return Table(title, list(answer), sections, notes=notes)
    certificate, findings = certificate_rows(cases), merged(answer.findings)
    lines = [(found.severity, found.text(units, cases=in_cases)) for found, in_cases in findings]
    return Table(title, list(answer), sections, certificate, notes, lines, answer.cautions)


def _ambient_note(cases):
    ambients = {case.name: f"{case.ambient.to('psi'):.2f} psia ({case.ambient.to('kPa'):.1f} kPa)" for case in cases}
    if len(set(ambients.values())) == 1:
        return f" Ambient {next(iter(ambients.values()))}."
    return " Ambient " + ", ".join(f"{text} ({name})" for name, text in ambients.items()) + "."

