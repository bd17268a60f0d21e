"""The verification dossier as text: counts, exceptions, tables by topic, campaigns, limits, sources. Every number is computed."""

import ast
import csv
import io
from collections import Counter

from records import FOLDER, read_all
from verification_counts import KEYS, ORIGINS, ROOT, TOPICS, beyond_two, exceptions, origin, sources_of, tally, told
from verification_tables import group_tables, line, number, off
from verification_words import ASSERTED_IN_CPP, CAMPAIGNS, LIBRARIES, NOT_BUILT, NOT_PROVEN

PICTURES = {"friction": ("friction",), "local losses": ("local_losses",), "tees": ("tees",), "networks": ("networks",), "exchangers": ("exchangers",),
            "films": ("films",), "fuels": ("vapour_pressure",), "oils": ("viscosity",), "brake fluids and coolants": ("density",),
            "tubes and hoses": ("tubes",), "torque and flats": ("torque",)}
HEAD = """# Verification

What flarenut computes beside what others have published, and what is not proven. This page is written by
`python tests/campaigns/run_verification.py`; no number on it is typed by hand, and a test writes it anew and compares. The same cases are
judged one by one in `tests/validation`; all rows stand in [cases.csv](verification/cases.csv).

A *case* is one published value, or a value that others computed from a published equation, and ours. *Difference* is ours over theirs, less one.
A worked example or closed form holds within 2 % or its source's own rounding; a fluid within the uncertainty that it states itself; a measured set
is judged over all its rows, by median and 95th percentile. A row that needs a wider bound than its neighbours is an *exception*, with its reason.
Most bounds of exceptions were set a little past what we miss: such a row guards against change, and is no agreement with its source. *From memory
of the source* is a figure that who wrote the row knew and did not see in print; where nothing else stands beside it, it proves as much as that.
"""


def write_text(cases) -> str:
    parts = [HEAD, in_numbers(cases), by_topic(cases), listed_exceptions(cases), not_judged(cases)]
    parts += [topic_section(topic, [case for case in cases if case.topic == topic]) for topic in TOPICS]
    parts += [elsewhere(), campaigns(), limits(), sources(cases)]
    return "\n".join(part.rstrip("\n") + "\n" for part in parts)


def table(head, rows) -> str:
    return "\n".join([line(head), line(["---"] * len(head)), *map(line, rows)]) + "\n"


def in_numbers(cases) -> str:
    total, kinds = tally(cases), tally(cases).kinds
    own = tally([case for case in cases if not (case.judged and case.bound.kind == "data")])
    beyond = Counter(case.bound.kind for case in beyond_two(cases))
    origins = Counter(origin(case) for case in cases if case.judged)
    rows = [("cases judged", total.cases), ("sources", total.sources), ("failed", total.failed), ("exceptions, listed below", total.exceptions),
            ("rows kept and not judged, listed below", total.not_judged), ("judged each by itself", kinds["row"]),
            ("judged by an uncertainty that we state", kinds["band"]), ("judged with their measured set", kinds["set"]),
            ("read back from our own data: they show only that the program gives what it was told", kinds["data"]),
            ("compared in per cent (not words, degrees, or coefficients that pass through zero)", total.in_per_cent),
            ("of these within 1 %", share(total.within_one, total.in_per_cent)), ("of these within 2 %", share(total.within_two, total.in_per_cent)),
            ("without those read back: within 1 %", share(own.within_one, own.in_per_cent)),
            ("without those read back: within 2 %", share(own.within_two, own.in_per_cent)),
            ("beyond 2 %, inside an uncertainty that we state", beyond["band"]), ("beyond 2 %, single rows of measured sets", beyond["set"]),
            ("beyond 2 %, by the rounding of the printed figure", beyond["row"] + beyond["data"])]
    rows += [(f"values {what}", origins[what]) for what in ORIGINS]
    return "## In numbers\n\n" + table(("what", "count"), rows)


def share(part, whole) -> str:
    return f"{part} of {whole} ({100 * part / whole:.1f} %)" if whole else "0"


def by_topic(cases) -> str:
    rows = []
    for topic in TOPICS:
        found = tally([case for case in cases if case.topic == topic])
        rows.append((f"[{topic}](#{topic.replace(' ', '-')})", found.cases, found.sources, found.in_per_cent, found.within_one, found.within_two,
                     found.exceptions, found.failed, found.not_judged))
    return "## By topic\n\n" + table(("topic", "cases", "sources", "in per cent", "within 1 %", "within 2 %", "exceptions", "failed",
                                      "not judged"), rows)


def listed_exceptions(cases) -> str:
    rows = [(case.topic, case.name, told(case), number(case.published), f"{number(case.ours)} {case.unit}", off(case),
             f"{100 * case.bound.relative:.3g} %", case.reason)
            for case in exceptions(cases)]
    return "## Exceptions\n\n" + table(("topic", "case", "source", "published", "ours", "difference", "bound", "reason"), rows)


def not_judged(cases) -> str:
    counts = Counter((case.topic, case.reason) for case in cases if not case.judged)
    return "## Rows kept and not judged\n\n" + table(("topic", "rows", "reason"),
                                                     [(topic, count, reason) for (topic, reason), count in counts.items()])


def topic_section(topic, cases) -> str:
    text = f"## {topic}\n\n"
    for name in PICTURES.get(topic, ()):
        text += f"![{topic}: ours over what is published](verification/{name}.png)\n\n"
    return text + "\n".join(group_tables(cases, table))


def elsewhere() -> str:
    text = "## Judged elsewhere\n\nPublished cases that only the C++ tests judge: asserted there, value not printed here.\n\n"
    text += table(("test", "file in tests/cpp", "source"), [(one.title, one.file, one.source) for one in ASSERTED_IN_CPP])
    text += "\nSecond judges: open libraries that carry published correlations independently, compared over ranges.\n\n"
    rows = [(library, name.removeprefix("test_").replace("_", " "), said) for file, library in LIBRARIES.items() for name, said in judged_by(file)]
    return text + table(("library", "test", "what it says"), rows)


def judged_by(file):
    """Names and first lines of the tests of a file that compares with a library."""
    tree = ast.parse((ROOT / "tests" / "validation" / file).read_text(encoding="utf-8"))
    for node in tree.body:
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_") and "wrong_numbers" not in node.name and "docstrings" not in node.name:
            yield node.name, " ".join((ast.get_docstring(node) or "").split())


def campaigns(folder=FOLDER) -> str:
    kept = {record.name: record for record in read_all(folder)}
    text = "## Campaigns\n\nLong runs that look for what single cases miss. What stands here is the last run that was kept, of the program as it was on "
    text += "that day. The short form of each runs with the tests, the medium one takes some ten minutes, the long one up to hours.\n"
    for name in [*CAMPAIGNS, *(name for name in kept if name not in CAMPAIGNS)]:
        record = kept.get(name)
        if record is None:
            text += f"\n### {CAMPAIGNS[name].partition(':')[0]}\n\n{CAMPAIGNS[name].partition(': ')[2].capitalize()}. **Not yet run and kept.**\n"
            continue
        text += f"\n### {record.title}\n\n`{record.command}`, {record.form} form, {record.date}, {record.seconds:.0f} s.\n\n"
        text += table(("what", "count"), [(what, str(count) if isinstance(count, int) else number(count)) for what, count in record.counts.items()])
        text += "".join(f"\n- {note}" for note in record.notes) + "\n"
    return text


def limits() -> str:
    text = "## What is not built\n\n" + "\n".join(f"- **{one.what}**: {one.why}" for one in NOT_BUILT)
    return text + "\n\n## What is not proven\n\n" + "\n".join(f"- **{one.what}**: {one.why}" for one in NOT_PROVEN) + "\n"


def sources(cases) -> str:
    counts = Counter(source for case in cases for source in sources_of(case))
    rows = [(folder, key if key in KEYS[folder] else "", KEYS[folder].get(key, key), counts[folder, key])
            for folder, key in sorted(counts, key=lambda one: (list(KEYS).index(one[0]), one[1]))]
    return "## Sources\n\nWhere each was read is told in the `SOURCES.md` beside the data.\n\n" + table(("field", "key", "source", "cases"), rows)


def write_csv(cases) -> str:
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(("topic", "group", "case", "source", "how", "published", "unit", "ours", "difference", "judged", "bound", "verdict", "reason"))
    for case in cases:
        bound = case.bound
        allowed = "" if not case.judged or bound.kind == "set" else f"{bound.relative:.6g} or {bound.absolute:.6g}" if bound.absolute else f"{bound.relative:.6g}"
        verdict = "not judged" if not case.judged else "with its set" if bound.kind == "set" else "pass" if case.holds else "FAIL"
        writer.writerow((case.topic, case.group, case.name, told(case), case.how, number(case.published), case.unit, number(case.ours), off(case),
                         bound.kind if case.judged else "", allowed, verdict, case.reason))
    return stream.getvalue()


