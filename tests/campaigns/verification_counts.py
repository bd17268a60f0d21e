"""What is counted of the published cases, and where their sources are explained."""

import re
import sys
from collections import Counter
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests" / "validation"))
from all_cases import TOPICS, all_cases  # noqa: E402,F401 - the cases live beside the tests that judge them
from published_case import Case  # noqa: E402

EXPLAINED_IN = {"hydraulics": ("tests/data/hydraulics/SOURCES.md",), "fluids": ("tests/data/fluids/SOURCES.md",),
                "hardware": ("python/flarenut/catalog/SOURCES.md", "tests/data/hardware/SOURCES.md")}
ORIGINS = ("printed in the source", "computed by others from the source's equation", "worked out from other rows",
           "from memory of the source", "common practice")


def explained(folder: str) -> dict[str, str]:
    """Key of a source and its title, from the tables of SOURCES.md. One line may explain several keys; the tests' own file has the last word."""
    found = {}
    for path in EXPLAINED_IN[folder]:
        for keys, title in re.findall(r"^\| ([A-Z][^|]*?) \| ([^|]+?) \|", (ROOT / path).read_text(encoding="utf-8"), re.MULTILINE):
            found.update(dict.fromkeys(keys.split(", "), title))
    return found


KEYS = {folder: explained(folder) for folder in EXPLAINED_IN}


def sources_of(case: Case) -> list[tuple[str, str]]:
    """(folder, key) of each source that a case names by a key that is explained; the words themselves where it names none."""
    folder = TOPICS[case.topic]
    words = case.source.replace(" (recalculated)", "")
    keys = [key for key in dict.fromkeys(re.findall(r"[A-Z]{2}-[A-Z]*\d*(?:-\d+)*|\b[SMD]\d+b?\b", words)) if key in KEYS[folder]]
    return [(folder, key) for key in keys] or [(folder, words or "not named")]


def told(case: Case) -> str:
    """The source in short: what a key's own list explains is not said again in every row."""
    return re.sub(r"(\b[SMD]\d+b?) \([^;]*?\)(?=$|;| \(recalculated\))", r"\1",
                  case.source) if sources_of(case)[0][1] in KEYS[TOPICS[case.topic]] else (
        case.source if len(case.source) < 90 else case.source.partition(" (")[0])


def origin(case: Case) -> str:
    """One of ORIGINS. What rests on memory in any part counts as memory."""
    how = case.how
    if "memory" in how:
        return ORIGINS[3]
    if how == "common practice":
        return ORIGINS[4]
    if how.startswith("derived") or "recalculated" in case.source:
        return ORIGINS[2]
    return ORIGINS[1] if "computed" in how or "evaluated" in how else ORIGINS[0]


class Tally(NamedTuple):
    cases: int
    sources: int
    in_per_cent: int
    within_one: int
    within_two: int
    exceptions: int
    failed: int
    not_judged: int
    kinds: Counter


def tally(cases: list[Case]) -> Tally:
    """Counts over judged cases; differences are rounded to 1e-9 so that no machine's last bit moves a count."""
    judged = [case for case in cases if case.judged]
    shares = [round(abs(case.difference), 9) for case in judged if case.in_per_cent]
    return Tally(len(judged), len({source for case in cases for source in sources_of(case)}), len(shares), sum(share <= 0.01 for share in shares),
                 sum(share <= 0.02 for share in shares), len(exceptions(judged)), sum(not case.holds for case in judged), len(cases) - len(judged),
                 Counter(case.bound.kind for case in judged))


def exceptions(cases: list[Case]) -> list[Case]:
    """Judged rows whose bound is wider than their neighbours' for a reason that is printed."""
    return [case for case in cases if case.judged and case.reason]


def beyond_two(cases: list[Case]) -> list[Case]:
    """Judged cases more than 2 % off that are no exceptions."""
    return [case for case in cases if case.judged and not case.reason and case.in_per_cent and round(abs(case.difference), 9) > 0.02]
