"""What a table of sizes concludes beyond its columns: findings that a size brings or cures, limits that no size keeps, passes that are thin."""

from ..checks import review

_SEVERE = ("stop", "fix")
# Column -> findings that say the same of a case as the column does.
_SAME = {"pressure": ("regulator starved", "regulator short", "injector pressure low", "boost not followed", "pressure where drawn"),
         "rise_over_setting": ("regulator creep", "regulator wide open"), "back_pressure": ("return rise",),
         "inlet_vacuum": ("inlet vacuum",), "suction_margin": ("suction margin", "boils in the tank")}
# The fastest line of the circuit may be another than that of the table, whose velocity has a column.
_OF_ANY_LINE = ("suction velocity", "feed velocity", "return velocity")
# What a size may add to a miss that is not its own, as a share of the limit: little where that limit is much, or guards against boiling.
_ADDED, _ADDED_ELSE = {"pressure": 0.02, "suction_margin": 0.1}, 0.25
_THIN = 0.02  # of a limit: rules of thumb, and what goes into an answer, are no nearer


def severe(answer, limits):
    """What says STOP or FIX of an answer: (rule, place, case) -> finding."""
    found = [one for one in review(answer, limits) if one.severity in _SEVERE and one.code not in _OF_ANY_LINE]
    return {(one.code, one.where, one.case): one for one in found}


def shared(rows, wide):
    """Keys of the findings that every size has, and a line that loses nothing as well: no size would cure them."""
    every = [row.severe for row in (*rows, wide) if not row.refusal]
    return {key for key in every[0] if all(key in found for found in every)} if every else set()


def past_any_size(rows):
    """Keys of columns that fail in every row, the widest by more than all that its line loses: nothing that a line could do about it."""
    rows = [row for row in rows if not row.refusal]
    if not rows:
        return []
    widest = _widest(rows)
    return [key for key in widest.fails if key != "velocity" and all(key in row.fails for row in rows)
            and -widest.cells[key].margin.si > widest.cells["lost"].value.si]


def excused(rows):
    """(specification, size, key) of rows that fail what no size passes, and make it hardly worse than the widest does."""
    keys, rows = past_any_size(rows), [row for row in rows if not row.refusal]
    return {(row.spec, row.size, key) for key in keys for row in rows
            if _widest(rows).cells[key].spare - row.cells[key].spare <= _ADDED.get(key, _ADDED_ELSE)}


def _widest(rows):
    return max(rows, key=lambda row: row.bore.si)


def said_by(findings, keys):
    """Those of some findings that one of some columns says already, and those that none does."""
    codes = {code for key in keys for code in _SAME.get(key, ())}
    return [one for one in findings if one.code in codes], [one for one in findings if one.code not in codes]


def thin_passes(table):
    """(row that passes, smaller row that hardly fails, keys of the columns that tell them apart) of each specification that has such."""
    for spec in dict.fromkeys(row.spec for row in table.rows):
        chosen = table.smallest(spec)
        if chosen is None:
            continue
        near = {key for key, cell in chosen.cells.items() if cell.spare is not None and 0.0 <= cell.spare < _THIN}
        others = [row for row in table.rows if row.spec == spec and not row.refusal and row.bore.si < chosen.bore.si
                  and _hardly_fails(row, near, table.blamed(row))]
        if others:
            other = min(others, key=lambda row: row.bore.si)
            yield chosen, other, table.blamed(other)


def _hardly_fails(row, near, failing):
    return bool(failing) and set(failing) <= near and all(row.cells[key].spare > -_THIN for key in failing) and \
        not said_by(row.findings, failing)[1]
