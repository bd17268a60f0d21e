"""Which tests run which line of a room: measured by coverage.py once, and added to by the test files that are new or have changed.

Each measure keeps the sources that it was made of; a line that has moved since is found again by its text, so that a change of a source asks for no new
measure. What is new in a source belongs to the tests that run its function, else its file.
"""

import re
import shutil
from collections import Counter
from difflib import SequenceMatcher
from pathlib import Path
from typing import NamedTuple

import tool_coverage
from mutants_python import Mutant
from tool_places import ROOT

SOURCES = ROOT / "python" / "flarenut"
OWN = re.compile("check|finding|slips|sound_circuits|unsaid|states|line_roles")  # of a test file's name


class Lines(NamedTuple):
    """What coverage.py kept of one file: line -> tests that ran it, "test_x.py::test_y[case]"."""

    tests: dict[int, set[str]]
    source: tuple[str, ...] = ()

    def near(self, mutant: Mutant) -> list[str]:
        """Tests that run the mutant's statement, one of each way through its function by turns, that of the fewest lines as well as that of the most.
        Of a way those named after the module and the function, or of files named after checks or findings, come first, of these those that run what few
        others run. What runs when the module is imported belongs to those that run a line which names what it makes, else to all that run the file.
        """
        lines = range(mutant.lines[0], mutant.lines[1] + 1)
        if made := re.match(r"(?:def )?(\w+)", self.source[mutant.lines[0] - 1] if self.source else ""):
            names = re.compile(rf"\b{made[1]}\b")
            lines = [number for number, line in enumerate(self.source, start=1) if line.startswith(" ") and names.search(line)]
        around = {other for line in lines for other in self._around(line)}
        found = self._of(lines) - {""} or self._of(around) - {""} or self._of(self.tests) - {""}
        weight, run, way = Counter(), Counter(), {}
        for line, tests in self.tests.items():  # a short function has no line of its own that few run: then those of its module tell
            weight.update(dict.fromkeys(tests, (1000.0 if line in around else 1.0) / max(len(tests), 1)))
            run.update(tests)
            for test in tests if line in around else ():
                way.setdefault(test, []).append(line)
        ways: dict[tuple[int, ...], list[str]] = {}
        for test in sorted(found):
            ways.setdefault(tuple(sorted(way.get(test, ()))), []).append(test)
        turn = {}
        words = {word.rstrip("s") for word in f"{mutant.path.stem}_{self._function(mutant.lines[0])}".split("_")} - {"", "check"}
        for same in ways.values():  # by turns one named after the place, one that runs what few others run, and one that runs little else
            rare, plain = _by_turns(sorted(same, key=lambda test: -weight[test])), sorted(same, key=lambda test: (run[test], not _is_own(test)))
            named = sorted(rare, key=lambda test: -sum(word in test for word in words))
            for rank, test in enumerate(dict.fromkeys(one for three in zip(named, rare, plain) for one in three)):
                turn[test] = (rank, -weight[test], test)
        return sorted(found, key=turn.__getitem__)

    def _around(self, line: int) -> range:
        """Lines of the function that holds one: from the last line before it that is not indented, to the next."""
        bare = [number for number, text in enumerate(self.source, start=1) if text[:1] not in ("", " ", ")", "#")]
        return range(max((one for one in bare if one <= line), default=line) + 1, min((one for one in bare if one > line), default=len(self.source) + 1))

    def _function(self, line: int) -> str:
        """Name of the function that holds a line; "" outside of any."""
        found = (re.match(r" *def (\w+)", text) for text in reversed(self.source[:line]))
        return next((one[1] for one in found if one), "")

    def _of(self, lines) -> set[str]:
        return set().union(*(self.tests.get(line, ()) for line in lines))


def _is_own(test: str) -> bool:
    """Whether it is of a file named after checks or findings."""
    return bool(OWN.search(test.partition("::")[0]))


def _by_turns(tests: list[str]) -> list[str]:
    """One of each file, then the second of each; first those of files named after checks or findings."""
    files, turn = Counter(), {}
    for test in tests:
        files[name := test.partition("::")[0]] += 1
        turn[test] = (not _is_own(test), files[name])
    return sorted(tests, key=turn.__getitem__)


def measure(tests: list[Path], room: str, folder: Path) -> Path:
    """The folder of measures, with one more of the test files that none has seen as they are now."""
    seen = {name: path.stat().st_mtime for path in _measures(folder) for name in (path / "tests").read_text(encoding="utf-8").split()}
    asked = [path for path in tests if path.stat().st_mtime > seen.get(path.name, 0.0)]
    if asked:
        made = folder / f"{len(_measures(folder)):04d}"
        shutil.copytree(SOURCES / room, made / "sources", ignore=shutil.ignore_patterns("__pycache__"), dirs_exist_ok=True)
        tool_coverage.measure_python(asked, f"flarenut.{room}", made)
        (made / "tests").write_text("\n".join(path.name for path in asked), encoding="utf-8")
    return folder


def _measures(folder: Path) -> list[Path]:
    return sorted(path.parent for path in folder.glob("*/tests"))


def lines_of(folder: Path, source: Path) -> Lines:
    """`Lines` of a source as it stands, of all measures in a folder; of a test file that several have seen the last counts."""
    now, tests, later = source.read_text(encoding="utf-8").splitlines(), {}, set()
    for path in reversed(_measures(folder)):
        then, contexts = path / "sources" / source.name, _contexts(path / "data", source)
        moved = _moved(then.read_text(encoding="utf-8").splitlines(), now) if then.exists() else {}
        for line, names in contexts.items():
            if line in moved:
                tests.setdefault(moved[line], set()).update(name for name in map(short, names) if name.partition("::")[0] not in later)
        later |= {*(path / "tests").read_text(encoding="utf-8").split()}
    return Lines(tests, tuple(now))


def _moved(then: list[str], now: list[str]) -> dict[int, int]:
    """Number of a line then -> its number now, of lines that still stand."""
    return {block.a + place + 1: block.b + place + 1 for block in SequenceMatcher(None, then, now, autojunk=False).get_matching_blocks()
            for place in range(block.size)}


def _contexts(data: Path, source: Path) -> dict[int, list[str]]:
    from coverage import CoverageData

    kept = CoverageData(str(data))
    kept.read()
    path = next((path for path in kept.measured_files() if Path(path).resolve() == source.resolve()), None)
    return kept.contexts_by_lineno(path) if path else {}


def short(name: str) -> str:
    """pytest's name of a test without the folders of its file."""
    path, sign, rest = name.partition("::")
    return path.rpartition("/")[2] + sign + rest
