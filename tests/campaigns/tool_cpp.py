"""Builds of the C++ suites that watch themselves: sanitizers, lines counted, and valgrind over a short run."""

import hashlib
import json
import re
import shutil
import time
from pathlib import Path
from typing import NamedTuple

from tool_places import BUILD, ROOT, Outcome, ToolMissing, run, say

import cpp_build  # noqa: E402  tool_places puts its folder on the path

# One build and one run of it serve three tools: addresses, undefined behaviour and leaks are watched, and lines are counted. Without
# optimisation a line is a line, and compiling takes half as long.
CHECKED = ("CMAKE_BUILD_TYPE=Checked", "CMAKE_CXX_FLAGS=-O0 -g1 --coverage", "FLARENUT_SANITIZE=address,undefined")
THREADS = ("CMAKE_BUILD_TYPE=Checked", "CMAKE_CXX_FLAGS=-O0 -g1", "FLARENUT_SANITIZE=thread")
WATCHED_THREADS = "batch:*,lanes:*"  # cases that run with several threads, and the sources that hold them
THREADED_SOURCES = "/analysis/test_batch|/lanes/"
HELGRIND_PASSES = Path(__file__).with_name("helgrind.supp")
LONGEST = 4 * 3600  # s
LEAK = "ERROR: LeakSanitizer"
SEEN = re.compile(r"runtime error: .*|ERROR: AddressSanitizer: \S+|WARNING: ThreadSanitizer: .*|ERROR: LeakSanitizer: .*")


def build(name: str, *settings: str, target: str = "flarenut_tests") -> Path:
    """The test program of a folder of its own under .build."""
    cpp_build.LONGEST_BUILD = LONGEST
    say(f"building .build/{name} (many minutes the first time) ...")
    try:
        cpp_build.configure(ROOT, BUILD / name, "FLARENUT_BUILD_TESTS=ON", "FLARENUT_BUILD_PYTHON=OFF", *settings)
        cpp_build.build(BUILD / name, target)
    except cpp_build.ToolMissing as trouble:
        raise ToolMissing(str(trouble)) from None
    return BUILD / name / target


def watched(program: Path, cases: str, options: dict[str, str]) -> Outcome:
    """Runs the suite; every distinct complaint of a sanitizer is one sentence."""
    say(f"running {program.relative_to(ROOT)} ...")
    done = run([program, *([cases] if cases else [])], env=options, timeout=LONGEST)
    return complaints(done.stdout, done.stderr, done.returncode)


class Run(NamedTuple):
    """What one run of a program said, and how long it took [s]."""

    program: str
    stdout: str
    stderr: str
    status: int
    seconds: float


def checked_run() -> Run:
    """The run that `sanitize`, `leaks` and `coverage` share. It is kept beside the program, and done again once that has changed."""
    program = build("checked", *CHECKED)
    kept = program.with_name("run.json")
    mark = hashlib.sha256(program.read_bytes()).hexdigest()
    if kept.exists() and (found := Run(**json.loads(kept.read_text(encoding="utf-8")))).program == mark:
        return found
    for old in program.parent.rglob("*.gcda"):
        old.unlink()
    say(f"running {program.relative_to(ROOT)} ...")
    begin = time.monotonic()
    done = run([program], env={"ASAN_OPTIONS": "detect_leaks=1", "UBSAN_OPTIONS": "print_stacktrace=1:halt_on_error=0"}, timeout=LONGEST)
    result = Run(mark, done.stdout, done.stderr, done.returncode, time.monotonic() - begin)
    kept.write_text(json.dumps(result._asdict()), encoding="utf-8")
    return result


def complaints(stdout: str, stderr: str, status: int) -> Outcome:
    told = tuple(dict.fromkeys(SEEN.findall(stdout + stderr)))
    passed = re.search(r"All tests passed \((\d+) assertions? in (\d+) test cases?\)", stdout)
    notes = told if passed else (*told, f"the suite did not pass (exit status {status}): {stdout.strip()[-300:]}")
    counts = {"test cases": int(passed[2]) if passed else 0, "assertions": int(passed[1]) if passed else 0, "complaints": len(told)}
    return Outcome(counts, notes, bool(passed) and not told and status == 0)


def sanitize(form: str, seed: int) -> Outcome:
    """Addresses and undefined behaviour over the Catch2 and law suites."""
    return said_of(checked_run(), leaks=False)


def leaks(form: str, seed: int) -> Outcome:
    """Memory that nobody gives back, over the same suites."""
    return said_of(checked_run(), leaks=True)


def said_of(done: Run, leaks: bool) -> Outcome:
    """The complaints of leaks, or all others. The program ends with an error where it leaks, and all else may be well."""
    lines = [line for line in done.stderr.splitlines() if (LEAK in line) == leaks or not SEEN.search(line)]
    other = not leaks and LEAK in done.stderr
    result = complaints(done.stdout, "\n".join(lines), 0 if other else done.status)
    return result._replace(seconds=done.seconds)


def threads(form: str, seed: int) -> Outcome:
    """Races, over the cases that use several threads."""
    every = form == "long"
    program = build("threads-long" if every else "threads", *THREADS, *([] if every else [f"FLARENUT_TESTS_OF={THREADED_SOURCES}"]))
    return watched(program, "" if every else WATCHED_THREADS, {"TSAN_OPTIONS": "second_deadlock_stack=1"})


def valgrind(form: str, seed: int) -> Outcome:
    """memcheck over cases of the release build: what is read before it is written."""
    # A test replaces `operator new` to count; what is inlined of that does not match valgrind's own, and the address sanitizer sees the rest.
    return _under_valgrind(form, ("--leak-check=full", "--errors-for-leak-kinds=definite", "--show-mismatched-frees=no"),
                           "steady:*,friction:*,orifice:*,relief valve:*")


def races(form: str, seed: int) -> Outcome:
    """helgrind over batches of the release build in several threads."""
    return _under_valgrind(form, ("--tool=helgrind", f"--suppressions={HELGRIND_PASSES}"), "batch: the same to the bit*,batch: stopping*")


def _under_valgrind(form: str, options: tuple[str, ...], few: str) -> Outcome:
    if shutil.which("valgrind") is None:
        raise ToolMissing("valgrind was not found (apt-get install valgrind)")
    program = build("tests", "CMAKE_BUILD_TYPE=Release", "FLARENUT_STRICT=ON")
    say("running under valgrind ...")
    done = run(["valgrind", "--error-exitcode=9", *options, program, *([] if form == "long" else [few])], timeout=LONGEST)
    errors = re.search(r"ERROR SUMMARY: (\d+) errors from (\d+) contexts", done.stderr)
    result = complaints(done.stdout, "", done.returncode)
    found = int(errors[2]) if errors else -1
    notes = result.notes if not found else (*result.notes, *said_by_valgrind(done.stderr))
    return Outcome({**result.counts, "complaints": found}, notes, result.met and found == 0)


def said_by_valgrind(stderr: str) -> list[str]:
    """The first lines of what it says of each fault, without its numbers of processes."""
    lines = [re.sub(r"^==\d+== ?", "", line) for line in stderr.splitlines()]
    faults = [i for i, line in enumerate(lines) if line.startswith("   at ")]
    return [" ".join(line.strip() for line in lines[max(i - 1, 0):i + 6] if line.strip()) for i in faults]
