"""A comparison for people: text and HTML. All cases at a glance, then a table for each case, a row for each variant."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from textwrap import wrap
from typing import TYPE_CHECKING

from ..results.columns import blocks_of, screen_width
from ..units import Quantity, digits, preferred_unit
from .comparison_overall import OF_PRESSURE, OF_TEMPERATURE, marked
from .comparison_reading import reading_of, said, summary_of

if TYPE_CHECKING:
    from .comparison import Comparison
    from .comparison_columns import Column
    from .comparison_verdicts import Ranking

_WORDS = 11  # characters of a heading before it wraps
_LONGEST_CELL = 16  # likewise of a cell: "12 STOP, 10 FIX" is one thing
# What a text shows of a case unless all is asked for: who is how warm, at what cost. Beside it gauges that were asked for.
_MATTER = (
    "gallery_temperature",
    "sump_temperature",
    "gallery_pressure",
    "cooler_drop",
    "cooler_heat",
    "gallery_share",
    "thermostat",
    "findings",
)
_GAP = 2
_PAD = "\u00a0"  # in the place of a mark; a space would be wrapped away
_LONGEST_LABEL = 30
NONE, NOT_SOLVED = "–", "not solved"


def title(comparison: Comparison) -> str:
    """What is compared."""
    return " · ".join(filter(None, [f"{len(comparison.variants)} variants in {len(comparison.cases)} cases" if comparison.cases[1:] else
                                    f"{len(comparison.variants)} variants", "invented circuits" if comparison.invented else ""]))


def unit_of(comparison: Comparison, column: Column, system: str) -> str:
    """Unit of a column, the same in every case: that of its largest value."""
    if not column.kind:
        return ""
    sizes = [abs(value.si) for name in comparison.variants for case in comparison.cases
             if isinstance(value := comparison.value(name, case, column.key), Quantity)]
    return preferred_unit(column.kind, system, max(sizes, default=0.0))


def notes_of(comparison: Comparison, system: str) -> list[str]:
    """How to read it."""
    bounds = comparison.bounds
    low, high = (said(one, "temperature", system) for one in bounds.warm)
    share = f" or {100 * bounds.same_share:g} % (the more)" if bounds.same_share else ""
    told = [
        f"Alike: nearer than {said(bounds.same_temperature, 'temperature_difference', system)}, "
        f"{said(bounds.same_pressure, 'pressure_difference', system)}{share}. Oil at {comparison.sites.gallery} is wanted at {low} to {high}."
    ]
    if any(column.key == "cooler_drop" for column in comparison.columns):
        told.append("Of several coolers: drop along the chain that loses the most, flow into those that come first, heat of all.")
    if bounds.rating is not None:
        told.append(f"The rating of coolers that have none of their own: {said(bounds.rating, 'pressure_gauge', system)}.")
    return [*told, "An engineering estimate: verify by measurement, and follow the codes that apply."]


# ---- text ----

def as_text(comparison: Comparison, width: int | None, system: str, whole: bool = False) -> str:
    """See `Comparison.text`."""
    width = max(width or screen_width(), 40)
    columns = [one for one in comparison.columns if whole or one.key in _MATTER or one.key in comparison.asked]
    lines = [*wrap(title(comparison), width), ""]
    lines += [line for told in summary_of(comparison, system, beside_table=True) for line in wrap(told, width, subsequent_indent="    ")]
    if comparison.cases[1:]:
        lines += ["", "== all cases ==", "", *_overview(comparison, width, system)]
    for case in comparison.cases:
        lines += ["", f"== {case} ==", ""]
        unsolved = {number for number, name in enumerate(comparison.variants) if comparison.seen(name, case) is None}
        cells = {column.key: ["" if number in unsolved else shown(comparison, name, case, column, system)
                              for number, name in enumerate(comparison.variants)] for column in columns}
        lines += _table(comparison, [(_heading(comparison, column, system), cells[column.key]) for column in columns], width, unsolved)
        lines += [
            line
            for told in reading_of(comparison, comparison.verdict(case), system)
            for line in wrap(told, width, subsequent_indent="    ")
        ]
    left_out = [one.words for one in comparison.columns if one not in columns]
    notes = notes_of(comparison, system) + (
        [f"Not shown: {', '.join(left_out)}; text(columns=\"all\") and to_csv have them."] if left_out else []
    )
    return "\n".join([*lines, "", *(f"  {line}" for note in notes for line in wrap(note, width - 2, subsequent_indent="    "))])


def _overview(comparison: Comparison, width: int, system: str) -> list[str]:
    """Temperature and pressure at the gallery in every case, the best of a case marked."""
    lines, stars = [], False
    for column in (one for one in comparison.columns if one.key in (OF_TEMPERATURE, OF_PRESSURE)):
        cells = [
            [
                shown(comparison, name, case, column, system) + ("*" if marked(comparison, case, column.key, name) else _PAD)
                for name in comparison.variants
            ]
            for case in comparison.cases
        ]
        stars = stars or any("*" in cell for case in cells for cell in case)
        lines += [f"{column.words} [{unit_of(comparison, column, system)}]"]
        lines += _table(comparison, [(wrap(case, _WORDS), own) for case, own in zip(comparison.cases, cells)], width)
    return [*lines, *(["* best of its case, or too near the best to tell"] if stars else [])]


def _table(comparison: Comparison, columns: Sequence[tuple[list[str], list[str]]], width: int,
           unsolved: tuple[object, ...] | set[int] = ()) -> list[str]:
    """Lines of a table with a row for each variant. `columns` are (lines of the heading, cells); `unsolved` rows say so across them."""
    labels = [wrap(name, _LONGEST_LABEL) for name in comparison.variants]
    left = max(len(line) for label in labels for line in label) + 1
    lines = []
    for block in blocks_of(columns, width - left, _width):
        widths = [_width(column) for column in block]
        lines += _stacked([""], [words for words, _ in block], left, widths)
        lines.append("-" * (left + sum(widths)))
        for number, label in enumerate(labels):
            if number in unsolved:
                lines += [*label[:-1], f"{label[-1]:<{left}}{' ' * _GAP}{NOT_SOLVED}"]
                continue
            lines += _stacked(label, [wrap(cells[number], _LONGEST_CELL) or [""] for _, cells in block], left, widths)
        lines.append("")
    return lines


def _heading(comparison: Comparison, column: Column, system: str) -> list[str]:
    unit = unit_of(comparison, column, system)
    return wrap(column.words, _WORDS) + ([f"[{unit}]"] if unit else [])


def shown(comparison: Comparison, name: str, case: str, column: Column, system: str) -> str:
    """A cell as text."""
    if comparison.seen(name, case) is None:
        return NOT_SOLVED
    value = comparison.value(name, case, column.key)
    if value is None:
        return NONE
    return number_of(value, unit_of(comparison, column, system)) if isinstance(value, Quantity) else value


def number_of(value: Quantity, unit: str) -> str:
    """Three figures; next to nothing is nothing."""
    number = value.to(unit)
    if unit in ("C", "F"):
        return f"{number:.1f}"
    return "0" if abs(number) < 5e-4 else digits(number)


def _width(column: tuple[list[str], list[str]] | tuple[str | list[str], ...]) -> int:
    words, cells = column
    return max(map(len, [*words, *(line for cell in cells for line in wrap(cell, _LONGEST_CELL))])) + _GAP


def _stacked(label: list[str], texts: Sequence[Sequence[str]], left: int, widths: Sequence[int]) -> list[str]:
    """Lines of one row whose texts may be several lines high; they stand on the last."""
    height = max(map(len, [label, *texts]))
    padded = [[""] * (height - len(text)) + list(text) for text in texts]
    names = [*label, *[""] * (height - len(label))] if len(label) > 1 else [""] * (height - 1) + label
    return [(f"{names[i]:<{left}}" + "".join(f"{text[i]:>{width}}" for text, width in zip(padded, widths))).rstrip() for i in range(height)]


# ---- HTML ----

_CELL = "padding:2px 8px;border:none;text-align:right"
_LABEL = "padding:2px 8px;border:none;text-align:left;font-weight:400;min-width:9em"


def as_html(comparison: Comparison, system: str) -> str:
    """See `Comparison.html`."""
    said = "".join(f"<div>{escape(one)}</div>" for one in summary_of(comparison, system))
    cases = "".join(_case_html(comparison, case, system) for case in comparison.cases)
    notes = "".join(f'<div style="opacity:.75;font-size:.9em">{escape(note)}</div>' for note in notes_of(comparison, system))
    return (f'<div style="line-height:1.35;overflow-x:auto"><div style="font-weight:600;font-size:1.1em">{escape(title(comparison))}</div>'
            f"{said}{cases}{notes}</div>")


def _case_html(comparison: Comparison, case: str, system: str) -> str:
    verdict, heads = comparison.verdict(case), []
    for column in comparison.columns:
        unit = unit_of(comparison, column, system)
        heads.append('<th scope="col" style="padding:2px 8px;border:none;text-align:right;vertical-align:bottom;font-weight:600">'
                     f"{escape(column.words)}{f' [{escape(unit)}]' if unit else ''}</th>")
    best = {"gallery_temperature": _first(verdict.by_temperature), "gallery_pressure": _first(verdict.by_pressure)}
    rows = []
    for name in comparison.variants:
        cells = []
        for column in comparison.columns:
            bold = ";font-weight:700" if name in best.get(column.key, ()) else ""
            cells.append(f'<td style="{_CELL}{bold}">{escape(shown(comparison, name, case, column, system))}</td>')
        rows.append(f'<tr style="border:none"><th scope="row" style="{_LABEL}">{escape(name)}</th>{"".join(cells)}</tr>')
    told = "".join(f"<div>{escape(one)}</div>" for one in reading_of(comparison, verdict, system))
    return (f'<div style="font-weight:600;margin-top:10px">{escape(case)}</div>'
            '<table style="border-collapse:collapse;font-variant-numeric:tabular-nums;font-size:.92em"><thead>'
            f'<tr style="border-bottom:1px solid currentColor"><th style="border:none"></th>{"".join(heads)}</tr></thead>'
            f'<tbody>{"".join(rows)}</tbody></table>{told}')


def _first(ranking: Ranking) -> tuple[str, ...]:
    """Who is marked: the best and those as good, where anybody is worse."""
    return (ranking.order[0], *ranking.alike) if ranking.beaten else ()
