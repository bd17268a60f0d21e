"""Runs the tests that touch a line against a mutant of it, each in a process of its own, forked where all but the mutated room is loaded."""

import importlib
import importlib.util
import io
import os
import random
import signal
import sys
import time
from collections import Counter
from contextlib import redirect_stderr, redirect_stdout
from importlib.machinery import SourceFileLoader
from pathlib import Path
from typing import NamedTuple

from mutants_python import Mutant, code_of, mutants_of
from tool_places import ROOT, Outcome, need_module, package_folder, say

SOURCES = ROOT / "python" / "flarenut"
EQUIVALENT = Path(__file__).parent / "equivalent_mutants.txt"
LONGEST = 120.0  # s that the tests of one mutant may take; an endless loop counts as killed
MOST = 120  # tests that are run against one mutant: a dozen let live what their neighbours kill
BEFORE = ("numpy", "pytest", "matplotlib.figure", "flarenut.circuit", "flarenut.circuit.file", "flarenut.circuit.vehicle", "flarenut.hardware")


class Lines(NamedTuple):
    """What coverage.py kept of one file: line -> test functions that ran it."""

    tests: dict[int, set[str]]

    def of(self, mutant: Mutant) -> set[str]:
        """Tests that run the mutant's statement. What runs only when the module is imported or a fixture made belongs to all that run the file."""
        found = set().union(*(self.tests.get(line, set()) for line in range(mutant.lines[0], mutant.lines[1] + 1)))
        return set().union(*self.tests.values()) - {""} if found == {""} else found - {""}


def lines_of(data: Path, source: Path) -> Lines:
    from coverage import CoverageData

    kept = CoverageData(str(data))
    kept.read()
    path = next((path for path in kept.measured_files() if Path(path).resolve() == source.resolve()), None)
    contexts = _contexts(kept, path) if path else {}
    return Lines({line: {_function(one) for one in tests} for line, tests in contexts.items()})


def _contexts(kept, path):
    """Line -> contexts; branches keep arcs, whose ends are lines."""
    return kept.contexts_by_lineno(path)


def _function(context: str) -> str:
    """"tests.python.test_x.test_y" or "test_x.test_y" -> "test_x.py::test_y"; a method keeps its class."""
    words = context.split(".")
    at = next((place for place, word in enumerate(words) if word.startswith("test_")), None)
    return "" if at is None or at + 1 >= len(words) else f"{words[at]}.py::" + "::".join(words[at + 1:])


class _Wrong(SourceFileLoader):
    """Loads a module from its file with the mutant in it."""

    def __init__(self, name, path, mutant):
        super().__init__(name, path)
        self.mutant = mutant

    def get_code(self, fullname):
        return code_of(self.mutant)


class _Finder:
    def __init__(self, mutant):
        relative = mutant.path.relative_to(SOURCES).with_suffix("")
        parts = [part for part in relative.parts if part != "__init__"]
        self.mutant, self.name, self.is_package = mutant, ".".join(("flarenut", *parts)), relative.name == "__init__"

    def find_spec(self, name, path=None, target=None):
        if name != self.name:
            return None
        where = str(self.mutant.path)
        return importlib.util.spec_from_file_location(name, where, loader=_Wrong(name, where, self.mutant),
                                                      submodule_search_locations=[str(self.mutant.path.parent)] if self.is_package else None)


def preload(room: str) -> None:
    """Loads what every mutant needs and no mutant changes."""
    sys.path.insert(0, str(package_folder()))
    sys.path.insert(0, str(ROOT / "tests" / "python"))
    os.chdir(ROOT)
    for name in BEFORE:
        importlib.import_module(name)
    loaded = [name for name in sys.modules if name.startswith(f"flarenut.{room}")]
    if loaded:
        raise RuntimeError(f"{loaded} is loaded before it is mutated")


def judge(mutant: Mutant | None, tests: list[str], longest: float = LONGEST) -> str:
    """"killed", "survived" or "endless", of these tests against a mutant (or against the sources as they are)."""
    child = os.fork()
    if child == 0:
        _run_tests(mutant, tests)
    deadline = time.monotonic() + longest
    while time.monotonic() < deadline:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return "survived" if os.waitstatus_to_exitcode(status) == 0 else "killed"
        time.sleep(0.02)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return "endless"


def _run_tests(mutant, tests):
    """In the child: ends the process with pytest's own status."""
    import pytest

    status = 70
    try:
        if mutant is not None:
            sys.meta_path.insert(0, _Finder(mutant))
        silence = os.open(os.devnull, os.O_WRONLY)
        os.dup2(silence, 1)
        os.dup2(silence, 2)
        with redirect_stdout(io.StringIO()), redirect_stderr(io.StringIO()):
            status = int(pytest.main(["-x", "-q", "-p", "no:cacheprovider", "-p", "no:hypothesispytest", *tests]))
    finally:
        os._exit(status)


def known_equivalent() -> dict[tuple[str, str, str], str]:
    """(file, change, line) -> why no test can tell it from the right one."""
    found = {}
    for row in EQUIVALENT.read_text(encoding="utf-8").splitlines() if EQUIVALENT.exists() else ():
        if row.strip() and not row.startswith("#"):
            path, what, text, why = (word.strip() for word in row.split(" | "))
            found[path, what, text] = why
    return found


def key(mutant: Mutant) -> tuple[str, str, str]:
    return f"{mutant.path.parent.name}/{mutant.path.name}", mutant.what, mutant.text


def run_mutants(data: Path, room: str, sample: int | None, seed: int, seconds: float | None = None) -> Outcome:
    """Judges a sample (None: all) of the mutants of a room; `data` says which tests run which line."""
    need_module("coverage")
    files = sorted((SOURCES / room).rglob("*.py"))
    every = [mutant for path in files for mutant in mutants_of(path)]
    chosen = every if sample is None or sample >= len(every) else random.Random(seed).sample(every, sample)
    lines, equivalent = {path: lines_of(data, path) for path in files}, known_equivalent()
    preload(room)
    kinds, survivors, begin = Counter(), [], time.monotonic()
    try:
        for number, mutant in enumerate(chosen, start=1):
            if seconds is not None and time.monotonic() - begin > seconds:
                break
            verdict = _verdict(mutant, lines[mutant.path].of(mutant), equivalent)
            kinds[verdict] += 1
            if verdict in ("survived", "not run"):
                survivors.append(f"{verdict}: {mutant.told}")
                say(f"  {number}/{len(chosen)} {survivors[-1]}")
    except KeyboardInterrupt:
        say("stopped; what was judged so far:")
    return outcome(f"flarenut.{room}", len(every), kinds, survivors)


def _verdict(mutant, tests, equivalent):
    if key(mutant) in equivalent:
        return "equivalent"
    if not tests:
        return "not run"
    return judge(mutant, [f"tests/python/{test}" for test in few(tests, mutant.path.stem)])


def few(tests: set[str], stem: str) -> list[str]:
    """At most `MOST` tests: those whose file bears the module's name first, the others evenly from the rest. Fewer tests can only leave a
    mutant alive that another would have killed.
    """
    near = sorted(tests, key=lambda test: (not any(word in test.partition("::")[0] for word in stem.split("_")), test))
    if len(near) <= MOST:
        return near
    rest = near[MOST // 2:]
    return near[:MOST // 2] + rest[::-(-len(rest) // (MOST // 2))]


def outcome(what: str, every: int, kinds: Counter, survivors: list[str], goal: float = 0.9) -> Outcome:
    killed, counted = kinds["killed"] + kinds["endless"], sum(kinds.values()) - kinds["equivalent"]
    share = killed / counted if counted else 0.0
    counts = {f"mutants of {what}": every, "judged": sum(kinds.values()), "killed": killed, "survived": kinds["survived"],
              "in lines that no test runs": kinds["not run"], "equivalent, left out of the share": kinds["equivalent"],
              "killed, per cent": round(100 * share, 1)}
    return Outcome(counts, tuple(survivors), share >= goal)
