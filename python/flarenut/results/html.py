"""Tables as HTML for notebooks: inline style, colours that work on light and dark pages, nothing fetched."""

from __future__ import annotations

from collections.abc import Callable
from html import escape
from typing import TYPE_CHECKING

from .finding import SEVERITY_COLOURS
from .rows import NOT_SOLVED

if TYPE_CHECKING:
    from .table import Table

_CELL = "padding:2px 10px;border:none;text-align:right;white-space:nowrap"
_LABEL = "padding:2px 10px 2px 16px;border:none;text-align:left"


def safely(render: Callable[[], str], shown: object) -> str:
    """HTML, or the plain text of the object should rendering fail: a display must never raise."""
    try:
        return render()
    except Exception as error:
        try:
            return f"<pre>{escape(object.__repr__(shown))}\ncould not be shown: {escape(str(error))}</pre>"
        except Exception:
            return "<pre>could not be shown</pre>"


def table_html(table: Table) -> str:
    """HTML of a `Table`."""
    span = len(table.cases) + 1
    head = "".join(f'<th scope="col" style="{_CELL};font-weight:600">{escape(case)}</th>' for case in table.cases)
    body = []
    for heading, label, cells in table.lines_of_rows():
        if heading:
            body.append(f'<tr><th scope="rowgroup" colspan="{span}" style="padding:8px 10px 2px 10px;border:none;'
                        f'text-align:left;font-weight:600">{escape(heading)}</th></tr>')
            continue
        shown = "".join(_cell(cell) for cell in cells)
        body.append(f'<tr><th scope="row" style="{_LABEL};font-weight:400">{escape(label)}</th>{shown}</tr>')
    parts = ['<div style="max-width:75em;line-height:1.35;overflow-x:auto">']
    if table.title:
        parts.append(f'<div style="font-weight:600;font-size:1.1em">{escape(table.title)}</div>')
    parts.append('<table style="border-collapse:collapse;font-variant-numeric:tabular-nums">'
                 f'<thead><tr style="border-bottom:1px solid currentColor"><th style="border:none"></th>{head}</tr></thead>'
                 f'<tbody>{"".join(body)}</tbody></table>')
    parts += [f'<div style="opacity:.75;font-size:.9em">{escape(note)}</div>' for note in table.notes]
    if table.findings:
        parts.append('<div style="font-weight:600;margin-top:8px">What to look at, worst first</div>'
                     f'<ul style="list-style:none;padding-left:0;margin:2px 0">{"".join(map(_finding, table.findings))}</ul>')
    if table.cautions:
        lines = "".join(f"<li>{escape(line)}</li>" for line in table.cautions)
        parts.append('<details open style="margin-top:8px"><summary style="font-weight:600">Cautions</summary>'
                     f'<ul style="margin:2px 0">{lines}</ul></details>')
    return "".join(parts) + "</div>"


def _cell(text: str) -> str:
    style = _CELL + (";font-style:italic" if text == NOT_SOLVED else "")
    return f'<td style="{style}">{escape(text)}</td>'


def _finding(entry: tuple[str, str]) -> str:
    severity, text = entry
    badge = (f'<span style="background:{SEVERITY_COLOURS[severity]};color:#fff;border-radius:3px;padding:0 6px;'
             f'font-size:.85em">{severity.upper()}</span>')
    return f'<li style="margin:2px 0">{badge} {escape(text.removeprefix(severity.upper() + ": "))}</li>'
