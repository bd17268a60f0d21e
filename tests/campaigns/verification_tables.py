"""How numbers and tables of the dossier are written: five figures, long tables by what lies farthest off."""

import math
from collections import defaultdict

from cases_friction import SETS, set_name  # found by verification_counts, which is imported first
from published_case import Case, median, percentile_95
from verification_counts import told

LONGEST = 12  # rows of a group that are shown whole
WORST = 5
_SETS = {set_name(*key): found for key, found in SETS.items()}


def number(value) -> str:
    """Five figures: what machines and instruction sets agree on. Ends of a range that are not there are left out."""
    if value is None:
        return "none"
    if isinstance(value, str):
        return value
    if isinstance(value, tuple):
        least, most = value
        return f"below {number(most)}" if least <= 1e-300 else f"{number(least)} or more" if most >= 1e300 else f"{number(least)} to {number(most)}"
    text = f"{value:.5g}"
    return "0" if float(text) == 0 else text


def off(case: Case) -> str:
    """The difference: in per cent, or in the unit where a share says nothing."""
    if not case.judged and (case.ours is None or isinstance(case.published, str)):
        return ""
    if isinstance(case.published, str):
        return "alike" if case.holds else "not alike"
    if case.in_per_cent or (not case.judged and case.difference is not None):
        return _signed(100 * case.difference, "%")
    return _signed(case.away, "velocity heads" if case.unit == "K" else case.unit)


def _signed(value, unit) -> str:
    text = f"{value:+.2f}"
    if not float(text) and abs(value) > 1e-6:
        text = f"{value:+.1e}"
        if abs(value) < 5e-5:
            text = "0.00"  # round-off and sixth figures differ from machine to machine
    return f"{'0.00' if not float(text) else text} {unit}"


def size(case: Case) -> float:
    """What cases are ranked by, rounded so that no machine's last bit turns the order round."""
    return round(abs(case.difference) if case.in_per_cent else abs(case.away), 8)


def line(cells) -> str:
    return "| " + " | ".join(cell(one) for one in cells) + " |"


def cell(value) -> str:
    return str(value).replace("|", "\\|").replace("\n", " ")


def group_tables(cases, table):
    groups = defaultdict(list)
    for case in cases:
        groups[case.group].append(case)
    measured = {name: group for name, group in groups.items() if name in _SETS}
    if measured:
        yield _measured_sets(measured, table)
    for name, group in groups.items():
        if name not in measured and any(case.judged for case in group):
            yield _group(name, group, table)


def _measured_sets(groups, table) -> str:
    head = ("measured set", "rows", "median difference", "allowed", "95th percentile", "allowed", "worst", "why the bounds")
    rows = []
    for name, group in groups.items():
        shares, found = [100 * case.difference for case in group], _SETS[name]
        rows.append((name, len(group), f"{median(shares):+.2f} %", f"{found.median:g} %", f"{percentile_95(shares):.2f} %",
                     f"{found.percentile_95:g} %",
                     f"{max(shares, key=abs):+.2f} %", found.why))
    return "### measured sets\n\n" + table(head, rows)


def _group(name, group, table) -> str:
    judged = [case for case in group if case.judged]
    whys = dict.fromkeys(case.bound.why for case in judged if case.bound.why != "listed")
    text = f"### {name}\n\nJudged by: {'; '.join(whys)}.\n\n"
    if len(judged) <= LONGEST:
        return text + _rows(judged, table)
    shares = [100 * case.difference for case in judged if case.in_per_cent]
    words = f"{len(judged)} cases"
    if shares:
        middle, far = median(map(abs, shares)), percentile_95(shares)
        words += f"; size of the difference: median {_share(middle)}, 95th percentile {_share(far)}, worst {_share(max(map(abs, shares)))}"
    worst = sorted(judged, key=lambda case: -size(case))[:WORST]
    if not any(size(case) for case in worst) or isinstance(worst[0].published, str):
        return f"{text}{words}; all alike.\n" if all(case.away == 0 for case in judged) else f"{text}{words}; none off by as much as 1e-8.\n"
    return f"{text}{words}. The farthest off:\n\n" + _rows(worst, table)


def _share(value) -> str:
    return f"{value:.2f} %" if value >= 0.005 else "under 0.01 %" if not math.isclose(value, 0.0, abs_tol=1e-12) else "0"


def _rows(cases, table) -> str:
    rows = [(case.name, told(case), case.how, number(case.published), number(case.ours), case.unit, off(case),
             "exception" if case.reason else "pass" if case.holds else "FAIL")
            for case in cases]
    return table(("case", "source", "how", "published", "ours", "unit", "difference", "verdict"), rows)
