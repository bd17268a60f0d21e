"""A table of line sizes for people and programs: text, HTML, CSV, xarray Dataset."""

import csv
from html import escape
from textwrap import wrap

from ..results import merged
from ..results.columns import screen_width
from ..units import KINDS, Quantity, digits, preferred_unit
from .line_verdicts import said_by, thin_passes

_WORDS = 13  # characters of a heading before it wraps
_GAP = 2
_MARK = "smallest that passes"


def unit_of(column, system):
    """Unit of a column; "" for a plain number."""
    return column.units.get(system) or (preferred_unit(column.kind, system) if column.kind else "")


def heading(table, column):
    """Words of a column."""
    return column.words.format(place=table.places[0] if len(table.places) == 1 else "worst-fed place")


def margin_unit(column, system):
    """Unit of its margins: of a gauge pressure without the letter."""
    unit = unit_of(column, system)
    return unit.removesuffix("g") if column.kind == "pressure_gauge" else unit


def _digits(number):
    return "0.000" if abs(number) < 5e-4 else digits(number)


def _number(value, unit):
    return _digits(value.to(unit) if isinstance(value, Quantity) else value)


def shown(cell, column, system):
    """"5.39 (-1.39)": a value and its margin to the limit."""
    number = " ".join(filter(None, [cell.bound, _number(cell.value, unit_of(column, system))]))
    if cell.margin is None:
        return number
    left = _digits(cell.margin.to(margin_unit(column, system)))
    return f"{number} ({left})" if left.startswith("-") else f"{number} ({'+' if cell.passes else '-'}{left})"


def limit_in_words(table, column, system):
    """"at most 4.00"; from the lowest to the highest where it goes by the case or the place that is worst for a size."""
    cells = [row.cells[column.key] for row in table.rows if column.key in row.cells]
    limited = sorted((cell for cell in cells if cell.limit is not None), key=lambda cell: cell.limit.si)
    if not limited:
        return ""
    ends = dict.fromkeys(_number(cell.limit, unit_of(column, system)) for cell in (limited[0], limited[-1]))
    return f"{'at most' if limited[0].at_most else 'at least'} {' to '.join(ends)}"


def cases_in_words(table, column):
    """Which case the values are of; "by size" where sizes differ in that."""
    found = list(dict.fromkeys(row.cells[column.key].where for row in table.rows if column.key in row.cells))
    return found[0] if len(found) == 1 else "by size"


def verdict(table, row):
    """What becomes of a size, in words."""
    if row.refusal:
        return "not solved"
    marked = row is table.smallest(row.spec)
    _, others = said_by(row.findings, table.blamed(row))
    fails = ", ".join([*(heading(table, column) for column in table.columns if column.key in row.fails), *_briefly(others)])
    words = f"fails: {fails}" if fails else "passes" if row.tightest else "no limit is known to judge it by"
    mark = f" <- {_MARK}" + (" all else" if fails else "") if marked else ""
    return words + mark


def _briefly(findings):
    """"STOP injector pressure low (bank R, idle / full power)", one for each rule and place."""
    found = {}
    for one in findings:
        found.setdefault((f"{one.severity.upper()} {one.code}", one.where), []).append(one.case)
    return [f"{words} ({', '.join(filter(None, [where, ' / '.join(cases)]))})" for (words, where), cases in found.items()]


def label(row):
    """Size with its specification."""
    return f"{row.size} {row.spec}" + (" (now)" if row.written else "")


def title(table):
    """What the table is of."""
    return " · ".join(filter(None, [f"sizes of {table.line}", table.circuit, table.fluid, "invented circuit" if table.invented else ""]))


def notes_of(table, system):
    """How to read it, what no size cures, and what is too near to choose by."""
    found = ["In brackets: what is left to the limit; below nothing it is passed. (now): the line as the circuit has it. "
             "Limits are rules of thumb of the trade (common practice, no source) unless set by you."]
    if not table.smallest() and any(row.tightest for row in table.rows):
        found.append("None of these sizes passes: try wider ones, a shorter line, or look at the parts beside it.")
    for column in table.columns:
        words = heading(table, column)
        if column.key in table.beyond:
            found.append(f"No size keeps the limit of {words}, and a line that lost nothing would not either: another part has to change for it. "
                         "It is left out of which size is the smallest, unless a size makes it much worse.")
        if cases_in_words(table, column) == "by size":
            by_case = _grouped((row.cells[column.key].where, row) for row in table.rows if column.key in row.cells)
            found.append(f"Worst case of {words}: " + "; ".join(f"{case} for {sizes}" for case, sizes in by_case.items()) + ".")
    _, others = said_by(table.shared, table.beyond)
    found += [f"With every size, and with a line that lost nothing too, so it is left out of which is the smallest: "
              f"{one.text(system, cases=cases)}" for one, cases in merged(others)]
    found += [_thin_in_words(table, *one, system) for one in thin_passes(table)]
    found += [f"{sizes}: {reason}." for reason, sizes in _grouped((row.refusal, row) for row in table.rows if row.refusal).items()]
    return found


def _thin_in_words(table, chosen, other, keys, system):
    """Two sizes that a limit parts by less than it is worth."""
    told = []
    for column in (column for column in table.columns if column.key in keys):
        unit = unit_of(column, system)
        values = [_number(row.cells[column.key].value, unit) for row in (other, chosen)]
        told.append(f"{heading(table, column)}, {' against '.join(values)} {unit} at a limit of {_number(chosen.cells[column.key].limit, unit)}")
    return (f"{label(other)} and {label(chosen)} differ in {'; '.join(told)}: that is too small a difference to buy by. "
            f"{label(other)} passes all else.")


def _grouped(pairs):
    """What rows have in common -> their sizes in words."""
    groups = {}
    for common, row in pairs:
        groups.setdefault(common, []).append(row.size.partition(" x ")[0])
    return {common: ", ".join(dict.fromkeys(sizes)) for common, sizes in groups.items()}


# ---- text ----

def as_text(table, width, system):
    """See `LineSizes.text`."""
    width = max(width or screen_width(), 40)
    labels = [label(row) for row in table.rows]
    left = max(map(len, [*labels, "worst case"])) + 2
    lines = [*wrap(title(table), width), ""]
    columns = [_bores(table, system), *(_text_column(table, column, system) for column in table.columns)]
    for block in _blocks(columns, width - left):
        lines += _block(block, labels, left) + [""]
    lines += [line for row in table.rows for line in wrap(f"{label(row)}: {verdict(table, row)}", width, subsequent_indent="    ")]
    lines.append("")
    return "\n".join(lines + [f"  {line}" for note in table.notes_in(system) for line in wrap(note, width - 2, subsequent_indent="    ")])


def _bores(table, system):
    unit = preferred_unit("length", system)
    return wrap("bore", _WORDS) + [f"[{unit}]"], "", "", [f"{row.bore.to(unit):.{3 if unit == 'in' else 1}f}" for row in table.rows]


def _text_column(table, column, system):
    """(heading lines, limit, case, cells)"""
    unit = unit_of(column, system)
    cells = [_cell(row, column, system) for row in table.rows]
    return (wrap(heading(table, column), _WORDS) + ([f"[{unit}]"] if unit else []), limit_in_words(table, column, system),
            cases_in_words(table, column), cells)


def _cell(row, column, system):
    if row.refusal:
        return "not solved"
    return shown(row.cells[column.key], column, system) if column.key in row.cells else "–"


def _width(column):
    words, limit, case, cells = column
    return max(map(len, [*words, limit, *wrap(case, _WORDS), *cells])) + _GAP


def _blocks(columns, room):
    blocks, left = [], 0
    for column in columns:
        if blocks and _width(column) <= left:
            blocks[-1].append(column)
            left -= _width(column)
        else:
            blocks.append([column])
            left = room - _width(column)
    return blocks


def _block(columns, labels, left):
    widths = [_width(column) for column in columns]
    lines = _stacked("", [words for words, *_ in columns], left, widths)
    lines += _stacked("limit", [[limit] for _, limit, _, _ in columns], left, widths)
    lines += _stacked("worst case", [wrap(case, _WORDS) or [""] for _, _, case, _ in columns], left, widths)
    lines.append("-" * (left + sum(widths)))
    for place, name in enumerate(labels):
        lines += _stacked(name, [[cells[place]] for *_, cells in columns], left, widths)
    return lines


def _stacked(name, texts, left, widths):
    """Lines of one row whose texts may be several lines high; they stand on the last."""
    height = max(map(len, texts))
    padded = [[""] * (height - len(text)) + list(text) for text in texts]
    names = [""] * (height - 1) + [name]
    return [(f"{names[i]:<{left}}" + "".join(f"{text[i]:>{width}}" for text, width in zip(padded, widths))).rstrip() for i in range(height)]


# ---- HTML ----

_CELL = "padding:2px 10px;border:none;text-align:right;white-space:nowrap"
_LABEL = "padding:2px 10px;border:none;text-align:left;white-space:nowrap;font-weight:400"


def as_html(table, system):
    """See `LineSizes.html`."""
    heads = ["bore [" + preferred_unit("length", system) + "]"]
    for column in table.columns:
        unit = unit_of(column, system)
        small = " · ".join(filter(None, [limit_in_words(table, column, system), cases_in_words(table, column)]))
        heads.append(escape(heading(table, column)) + (f" [{escape(unit)}]" if unit else "") +
                     f'<br><span style="opacity:.75;font-size:.85em;font-weight:400">{escape(small)}</span>')
    head = "".join(f'<th scope="col" style="padding:2px 10px;border:none;text-align:right;vertical-align:bottom">{one}</th>' for one in [*heads, ""])
    body = "".join(_html_row(table, row, system) for row in table.rows)
    notes = "".join(f'<div style="opacity:.75;font-size:.9em">{escape(note)}</div>' for note in table.notes_in(system))
    return (f'<div style="line-height:1.35;overflow-x:auto"><div style="font-weight:600;font-size:1.1em">{escape(title(table))}</div>'
            '<table style="border-collapse:collapse;font-variant-numeric:tabular-nums"><thead><tr style="border-bottom:1px solid currentColor">'
            f'<th style="border:none"></th>{head}</tr></thead><tbody>{body}</tbody></table>{notes}</div>')


def _html_row(table, row, system):
    unit = preferred_unit("length", system)
    cells = [f'<td style="{_CELL}">{row.bore.to(unit):.{3 if unit == "in" else 1}f}</td>']
    for column in table.columns:
        cell = row.cells.get(column.key)
        bold = ";font-weight:700" if cell is not None and not cell.passes else ""
        cells.append(f'<td style="{_CELL}{bold}">{escape(_cell(row, column, system))}</td>')
    marked = ";outline:2px solid currentColor" if row is table.smallest(row.spec) else ""
    return (f'<tr style="border:none{marked}"><th scope="row" style="{_LABEL}">{escape(label(row))}</th>{"".join(cells)}'
            f'<td style="{_CELL};text-align:left">{escape(verdict(table, row))}</td></tr>')


# ---- data ----

def write_csv(table, path, system):
    """See `LineSizes.to_csv`."""
    bore = preferred_unit("length", system)
    heads = ["specification", "size", f"bore [{bore}]"]
    for column in table.columns:
        words = heading(table, column)
        heads += [_with_unit(words, unit_of(column, system)), _with_unit(f"{words}, margin", margin_unit(column, system)), f"{words}, case"]
    with open(path, "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow([*heads, "verdict"])
        for row in table.rows:
            cells = [text for column in table.columns for text in _csv_cells(row.cells.get(column.key), column, system)]
            writer.writerow([row.spec, row.size, f"{row.bore.to(bore):.6g}", *cells, verdict(table, row)])


def _with_unit(words, unit):
    return f"{words} [{unit}]" if unit else words


def _csv_cells(cell, column, system):
    if cell is None:
        return ["", "", ""]
    number = cell.value.to(unit_of(column, system)) if isinstance(cell.value, Quantity) else cell.value
    return [f"{number:.9g}", "" if cell.margin is None else f"{cell.margin.to(margin_unit(column, system)):.9g}", cell.where]


def as_dataset(table):
    """See `LineSizes.to_dataset`."""
    from .dataset import xarray

    library, data = xarray(), {}
    for column in table.columns:
        cells = [row.cells.get(column.key) for row in table.rows]
        attrs = {"long_name": heading(table, column), "kind": column.kind, "units": (KINDS[column.kind].si or "1") if column.kind else "1"}
        data[column.key] = "size", [float("nan") if one is None else getattr(one.value, "si", one.value) for one in cells], attrs
        if any(one is not None and one.limit is not None for one in cells):
            limits = [float("nan") if one is None or one.limit is None else one.limit.si for one in cells]
            data[f"{column.key} limit"] = "size", limits, {**attrs, "long_name": f"limit of {attrs['long_name']}"}
        data[f"{column.key} case"] = "size", ["" if one is None else one.case for one in cells], {"long_name": f"case of {attrs['long_name']}"}
    data["passes"] = "size", [row.passes for row in table.rows], {"long_name": "every limit is kept"}
    several = len({row.spec for row in table.rows}) > 1
    names = {id(row): f"{row.size} {row.spec}" if several else row.size for row in table.rows}
    coordinates = {"size": list(names.values()), "specification": ("size", [row.spec for row in table.rows]),
                   "bore": ("size", [row.bore.si for row in table.rows], {"units": "m", "kind": "length"})}
    best = table.smallest()
    return library.Dataset(data, coordinates, {"title": title(table), "line": table.line, "circuit": table.circuit, "invented": int(table.invented),
                                               "smallest": "" if best is None else names[id(best)],
                                               "beyond": list(table.beyond)})
