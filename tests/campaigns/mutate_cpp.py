"""Runs the tests of the correlations against the mutants of their headers: those that name the header first, the others that include it after.

Each test file becomes one program with all mutants in it (`switches_cpp`), run first as the headers are: that says which tests pass at all, which
places each of them reaches, and how long it may take. Then each mutant is switched on in turn, and asked are only the tests that reach it, until one
fails. What cannot be switched is compiled by itself, in a folder that comes first on the include path; headers of correlations include one another by
their full path, so that the wrong one is seen by all.

Only the tests of tests/cpp/correlations are asked, without the rest of the engine: a survivor here may still be found by the laws of parts or by the
published tables under tests/validation.
"""

import random
import re
import subprocess
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import NamedTuple

import switches_cpp
from mutants_cpp import Mutant, mutants_of
from mutation_verdicts import Verdicts
from tool_places import BUILD, ROOT, Outcome, ToolMissing, run, say

import cpp_build  # tool_places puts its folder on the path

HEADERS = ROOT / "cpp" / "flarenut" / "correlations"
TESTS = ROOT / "tests" / "cpp" / "correlations"
# Reading past the end of an array ends a program under these assertions, as it does under the sanitizers.
FLAGS = ("-std=c++20", "-O1", "-fno-math-errno", "-w", "-D_GLIBCXX_ASSERTIONS", f"-DFLARENUT_TEST_DATA=\"{ROOT}/tests/data\"")
WORKERS = 2  # compilers or tests at a time
LEAST_TIME, TIMES_USUAL = 20.0, 20.0  # s that a test may take against a mutant, and how often its usual time, whichever is more


class Program(NamedTuple):
    """The program of one test file, as it ran against the headers as they are."""

    path: Path
    reached: frozenset[int]
    seconds: float
    passes: bool


def includes(path: Path) -> set[str]:
    return set(re.findall(r'#include "(flarenut/[^"]+)"', path.read_text(encoding="utf-8")))


def reach(path: Path) -> set[str]:
    """Every header of the engine that a file includes, at any remove."""
    found, waiting = set(), [path]
    while waiting:
        for name in includes(waiting.pop()) - found:
            found.add(name)
            waiting.append(ROOT / "cpp" / name)
    return found


def tests_of(header: Path) -> list[Path]:
    """Tests that include a header, the one that bears its name first, then those that include it by themselves."""
    name = f"flarenut/correlations/{header.name}"
    having = [path for path in sorted(TESTS.glob("test_*.cpp")) if name in reach(path)]
    return sorted(having, key=lambda path: (path.stem != f"test_{header.stem}", name not in includes(path)))


class Compiler:
    """Compiles test files into programs of their own, with Catch2's main."""

    def __init__(self):
        self.folder = BUILD / "mutants"
        self.folder.mkdir(parents=True, exist_ok=True)
        cpp_build.configure_tests()
        lines = (cpp_build.BUILD / "build.ninja").read_text(encoding="utf-8")
        flags = re.search(r"build CMakeFiles/flarenut_tests\.dir/tests/cpp/correlations/test_friction\.cpp\.o:.*?\n\n", lines, re.DOTALL)
        linked = re.search(r"build flarenut_tests:.*?\n\n", lines, re.DOTALL)
        if not flags or not linked:
            raise ToolMissing("CMake's own files do not name the test of friction")
        self.catch = [word for one in re.findall(r"-isystem \S+", flags[0]) for word in one.split()]
        self.libraries = [word for word in re.search(r"LINK_LIBRARIES = (.*)", linked[0])[1].split() if "flarenut" not in word]

    def compile(self, test: Path, program: Path, first: Path | None = None) -> str:
        """What the compiler complains of; nothing where it made the program."""
        where = [f"-I{folder}" for folder in ([first] if first else [])] + [f"-I{ROOT}/cpp", f"-I{ROOT}/tests/cpp"]
        done = run([cpp_build.compiler(), *FLAGS, *where, *self.catch, test, "-o", program, *self.libraries])
        return done.stderr[-2000:] or "no program" if done.returncode else ""

    def switch(self, every: list[Mutant]) -> Path:
        """Writes the headers with all mutants in them; the folder that holds them."""
        folder = self.folder / "switched"
        (folder / "flarenut" / "correlations").mkdir(parents=True, exist_ok=True)
        _keep(folder / "wrong_switches.hpp", switches_cpp.switches(len(every)))
        for path in sorted(HEADERS.glob("*.hpp")):
            mine = {number: mutant for number, mutant in enumerate(every) if mutant.path == path and switches_cpp.may_switch(mutant)}
            _keep(folder / "flarenut" / "correlations" / path.name, switches_cpp.switched(path.read_text(encoding="utf-8"), mine))
        return folder


def _keep(path: Path, text: str) -> None:
    """Writes what is not there yet, so that what depends on it is not compiled again in vain."""
    if not path.exists() or path.read_text(encoding="utf-8") != text:
        path.write_text(text, encoding="utf-8")


def _run(program: Path, seconds: float, **options: str) -> str:
    """"survived", "killed", "endless" or "does not compile"."""
    try:
        done = run([program, "--abort"], env=options, timeout=seconds)
    except subprocess.TimeoutExpired:
        return "endless"
    return {0: "survived", switches_cpp.OTHER_TYPE: "does not compile"}.get(done.returncode, "killed")


def program_of(compiler: Compiler, test: Path, switched: Path | None) -> Program:
    """A test compiled and run as the headers are; with mutants to switch on, or without."""
    path = compiler.folder / (test.stem if switched else f"{test.stem}-plain")
    headers = [ROOT / "cpp" / name for name in reach(test)] + list(switched.rglob("*.hpp") if switched else ())
    made = path.stat().st_mtime if path.exists() else 0.0
    if made < max(source.stat().st_mtime for source in [test, *TESTS.parent.rglob("*.hpp"), *headers]) and (trouble := compiler.compile(test, path, switched)):
        raise cpp_build.BuildFailed(f"{test.name} does not compile:\n{trouble}")
    told, begin = path.with_suffix(".reached"), time.monotonic()
    told.unlink(missing_ok=True)
    verdict = _run(path, 600.0, FLARENUT_REACHED=str(told))
    reached = frozenset(int(line) for line in told.read_text(encoding="utf-8").split()) if told.exists() else frozenset()
    return Program(path, reached, time.monotonic() - begin, verdict == "survived")


def judge_switched(number: int, mutant: Mutant, programs: dict[Path, Program]) -> str:
    asked = [programs[test] for test in tests_of(mutant.path) if programs[test].passes and number in programs[test].reached]
    for program in asked:
        verdict = _run(program.path, max(LEAST_TIME, TIMES_USUAL * program.seconds), FLARENUT_WRONG=str(number))
        if verdict != "survived":
            return verdict
    return "survived" if asked else "not run"


def judge_alone(compiler: Compiler, mutant: Mutant) -> str:
    """Compiles the tests against this one mutant. A mutant that some test does not compile with is none, and a test that fails without it
    tells nothing.
    """
    with tempfile.TemporaryDirectory(dir=compiler.folder) as folder:
        wrong = Path(folder) / "flarenut" / "correlations" / mutant.path.name
        wrong.parent.mkdir(parents=True)
        wrong.write_text(mutant.source, encoding="utf-8")
        for test in tests_of(mutant.path):
            program = Path(folder) / "program"
            if compiler.compile(test, program, Path(folder)):
                return "does not compile"
            verdict = _run(program, 10.0 * LEAST_TIME)
            if verdict != "survived" and program_of(compiler, test, None).passes:
                return verdict
    return "survived"


def run_mutants(sample: int | None, seed: int, seconds: float | None = None, headers: str = "*") -> Outcome:
    """Judges a sample (None: all) of the mutants of the correlations, or of those headers whose stem matches."""
    every = [mutant for path in sorted(HEADERS.glob("*.hpp")) for mutant in mutants_of(path)]
    numbers = [number for number, mutant in enumerate(every) if mutant.path.match(f"{headers}.hpp")]
    chosen = numbers if sample is None or sample >= len(numbers) else random.Random(seed).sample(numbers, sample)
    compiler, verdicts = Compiler(), Verdicts("correlations", len(every))
    switched = compiler.switch(every)
    tests = sorted({test for number in chosen for test in tests_of(every[number].path)})
    say(f"compiling {len(tests)} tests and running them without a wrong ...")
    with ThreadPoolExecutor(WORKERS) as pool:
        programs = dict(zip(tests, pool.map(lambda test: program_of(compiler, test, switched), tests)))
        verdicts.notes += [f"{test.name} fails without a wrong and was not asked" for test in tests if not programs[test].passes]

        def judge(number):
            if seconds is not None and time.monotonic() - begin > seconds:
                return None
            mutant = every[number]
            return judge_switched(number, mutant, programs) if switches_cpp.may_switch(mutant) else judge_alone(compiler, mutant)

        begin = time.monotonic()
        try:
            for number, verdict in zip(chosen, pool.map(judge, chosen)):
                if verdict is not None:
                    verdicts.add(every[number], verdict)
        except KeyboardInterrupt:
            pool.shutdown(cancel_futures=True)
            say("stopped; what was judged so far:")
    return verdicts.outcome()
