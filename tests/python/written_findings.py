"""The findings of a case as they stand in tests/data/findings: a block for each, every word and number that a builder may see, and what ranks it."""

import sys
from pathlib import Path

FOLDER = Path(__file__).parents[1] / "data" / "findings"
MARK = "=== "
SHOWN_IN_BOTH = ("unusual size", "assumed")  # what they show depends on the units beyond a plain quantity


def block(finding):
    """A finding in lines of text."""
    rows = [f"{finding.severity.upper()} {finding.code} | {finding.where} | {finding.case} | hurt {finding.hurt:.4g}", f"  {finding.sentence('us')}"]
    rows += [f"  metric: {finding.sentence('metric')}"] if finding.code in SHOWN_IN_BOTH else []
    rows += [f"  limit: {finding.source}"] if finding.source else []
    return "\n".join([*rows, *([f"  cure: {finding.cure}"] if finding.cure else [])])


def said_of(case, limits):
    """What is said of a case, as it stands in the files."""
    from flarenut import checks

    return "\n".join(block(one) for one in checks.case_findings(case, limits)) or "nothing"


def kept(group):
    """Name of a case -> what is written of it."""
    text = (FOLDER / f"{group}.txt").read_text(encoding="utf-8")
    pairs = (part.partition("\n") for part in text.split(MARK)[1:])
    return {name: said.strip("\n") for name, _, said in pairs}


def main():
    import written_cases

    FOLDER.mkdir(exist_ok=True)
    for group, cases in written_cases.GROUPS.items():
        if sys.argv[1:] and group not in sys.argv[1:]:
            continue
        limits = written_cases.strict() if group in written_cases.STRICT else None
        text = "\n\n".join(f"{MARK}{name}\n{said_of(make(), limits)}" for name, make in cases.items())
        (FOLDER / f"{group}.txt").write_text(f"Written by tests/python/written_findings.py. All circuits are invented.\n\n{text}\n", encoding="utf-8")


if __name__ == "__main__":
    sys.exit(main())
