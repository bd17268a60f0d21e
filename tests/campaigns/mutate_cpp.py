"""Compiles the tests of a correlation against a mutant of its header, and runs them: those that name the header first, the others that
include it after.

A mutant stands in a folder that comes first on the include path; headers of correlations include one another by their full path, so that the
wrong one is seen by all. Only the tests of tests/cpp/correlations are asked, without the rest of the engine: a survivor here may still be
found by the laws of parts or by the published tables under tests/validation.
"""

import random
import re
import subprocess
import tempfile
import time
from collections import Counter
from pathlib import Path

from mutants_cpp import Mutant, mutants_of
from mutate_python import key, known_equivalent, outcome
from tool_places import BUILD, ROOT, Outcome, ToolMissing, run, say

import cpp_build  # tool_places puts its folder on the path

HEADERS = ROOT / "cpp" / "flarenut" / "correlations"
TESTS = ROOT / "tests" / "cpp" / "correlations"
FLAGS = ("-std=c++20", "-O0", "-fno-math-errno", "-w", f"-DFLARENUT_TEST_DATA=\"{ROOT}/tests/data\"")
LONGEST = 120.0  # s


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
    """Compiles one test file into a program of its own, with Catch2's main and the precompiled header made once."""

    def __init__(self):
        self.folder = BUILD / "mutants"
        self.folder.mkdir(parents=True, exist_ok=True)
        self.catch = self._catch()
        self.first = self._first()

    def _catch(self) -> list[str]:
        """Flags of Catch2, as CMake finds it for the test program."""
        cpp_build.configure_tests()
        lines = (cpp_build.BUILD / "build.ninja").read_text(encoding="utf-8")
        flags = re.search(r"build CMakeFiles/flarenut_tests\.dir/tests/cpp/correlations/test_friction\.cpp\.o:.*?\n\n", lines, re.DOTALL)
        linked = re.search(r"build flarenut_tests:.*?\n\n", lines, re.DOTALL)
        if not flags or not linked:
            raise ToolMissing("CMake's own files do not name the test of friction")
        found = re.findall(r"-isystem \S+", flags[0])
        self.libraries = [word for word in re.search(r"LINK_LIBRARIES = (.*)", linked[0])[1].split() if "flarenut" not in word]
        return [word for one in found for word in one.split()]

    def _first(self) -> list[str]:
        """Flags that put Catch's header, compiled once, before each test: it is half of the time that a test takes."""
        header = self.folder / "first.hpp"
        header.write_text(f'#include "{ROOT}/tests/cpp/catch_shim.hpp"\n#include "flarenut/autodiff/dual.hpp"\n', encoding="utf-8")
        done = run([cpp_build.compiler(), *FLAGS, f"-I{ROOT}/cpp", *self.catch, "-x", "c++-header", header, "-o", f"{header}.gch"])
        if done.returncode:
            raise cpp_build.BuildFailed(done.stderr[-2000:])
        return ["-include", str(header)]

    def compile(self, test: Path, program: Path, first: Path | None = None) -> bool:
        where = [f"-I{folder}" for folder in ([first] if first else [])] + [f"-I{ROOT}/cpp", f"-I{ROOT}/tests/cpp"]
        return run([cpp_build.compiler(), *FLAGS, *self.first, *where, *self.catch, test, "-o", program, *self.libraries]).returncode == 0


def _passes(program: Path) -> bool:
    try:
        return subprocess.run([program], capture_output=True, timeout=LONGEST).returncode == 0
    except subprocess.TimeoutExpired:
        return False


def judge(compiler: Compiler, mutant: Mutant, tests: list[Path]) -> str:
    with tempfile.TemporaryDirectory(dir=compiler.folder) as folder:
        wrong = Path(folder) / "flarenut" / "correlations" / mutant.path.name
        wrong.parent.mkdir(parents=True)
        wrong.write_text(mutant.source, encoding="utf-8")
        program = Path(folder) / "program"
        for number, test in enumerate(tests):
            if not compiler.compile(test, program, Path(folder)):
                return "does not compile" if number == 0 else "killed"
            if not _passes(program):
                return "killed"
    return "survived" if tests else "not run"


def run_mutants(sample: int | None, seed: int, seconds: float | None = None) -> Outcome:
    every = [mutant for path in sorted(HEADERS.glob("*.hpp")) for mutant in mutants_of(path)]
    chosen = every if sample is None or sample >= len(every) else random.Random(seed).sample(every, sample)
    equivalent, compiler, kinds, survivors = known_equivalent(), Compiler(), Counter(), []
    begin = time.monotonic()
    try:
        for number, mutant in enumerate(chosen, start=1):
            if seconds is not None and time.monotonic() - begin > seconds:
                break
            verdict = "equivalent" if key(mutant) in equivalent else judge(compiler, mutant, tests_of(mutant.path))
            kinds[verdict] += 1
            if verdict in ("survived", "not run"):
                survivors.append(f"{verdict}: {mutant.told}")
                say(f"  {number}/{len(chosen)} {survivors[-1]}")
    except KeyboardInterrupt:
        say("stopped; what was judged so far:")
    ruled_out = kinds.pop("does not compile", 0)
    result = outcome("correlations", len(every), kinds, survivors)
    return result._replace(counts={**result.counts, "did not compile, not counted": ruled_out})
