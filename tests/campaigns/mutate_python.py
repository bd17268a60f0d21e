"""Runs the tests that touch a line against a mutant of it, each time in a process of its own, forked where all tests are read and loaded."""

import gc
import importlib
import os
import random
import resource
import signal
import sys
import time
from pathlib import Path
from typing import NamedTuple

from measured_lines import SOURCES, Lines, lines_of, short
from mutants_python import Mutant, mutants_of
from mutation_verdicts import Verdicts
from tool_places import ROOT, Outcome, need_module, package_folder, say
from wrong_python import functions_now, put_in

TESTS = ROOT / "tests" / "python"
LONGEST = 120  # s of the processor that the tests of one mutant may take; an endless loop counts as killed
WAITED = 1800.0  # s on the clock, for a mutant that waits
MOST = 300  # tests that are asked at most; few mutants outlive the first dozens
WORKERS = 2
UNFIT = 71  # status of a process whose module does not load with its mutant


class Ended(NamedTuple):
    """How a run of tests ended: the status of its process, and the first test that failed."""

    status: int
    failed: str

    @property
    def endless(self) -> bool:
        return self.status in (-signal.SIGXCPU, -signal.SIGKILL)


class _Child:
    """A process of its own that runs tests up to the first that fails, with a mutant put in or with none."""

    def __init__(self, mutant: Mutant | None, items: list):
        self.mutant, self.items = mutant, items
        self.reader, writer = os.pipe()
        self.deadline = time.monotonic() + WAITED
        self.process = os.fork()
        if self.process == 0:
            self._run(writer)
        os.close(writer)

    def _run(self, writer):
        status = 70
        try:
            resource.setrlimit(resource.RLIMIT_CPU, (LONGEST, LONGEST + 5))
            signal.signal(signal.SIGINT, signal.default_int_handler)  # a tool in the background is deaf to Ctrl-C, which some tests press
            silence = os.open(os.devnull, os.O_RDWR)
            for stream in (0, 1, 2):
                os.dup2(silence, stream)
            status = UNFIT
            if self.mutant is not None:
                put_in(self.mutant, sys.modules[_module(self.mutant.path)])
            first, status = _First(), 70
            for item, after in zip(self.items, [*self.items[1:], None]):
                item.config.pluginmanager.register(first)
                item.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
                item.config.pluginmanager.unregister(first)
                if first.failed:
                    os.write(writer, item.nodeid.encode())
                    break
            status = int(first.failed)
        finally:
            os._exit(status)

    def ended(self) -> Ended | None:
        """None while it runs."""
        done, status = os.waitpid(self.process, os.WNOHANG)
        if not done:
            if time.monotonic() > self.deadline:
                os.kill(self.process, signal.SIGKILL)
            return None
        with os.fdopen(self.reader, encoding="utf-8") as pipe:
            failed = pipe.read()
        return Ended(os.waitstatus_to_exitcode(status), failed)


class _First:
    """A plugin of pytest that knows whether a test has failed."""

    failed = False

    def pytest_runtest_logreport(self, report):
        self.failed = self.failed or report.failed


def _module(path: Path) -> str:
    parts = [part for part in path.relative_to(SOURCES).with_suffix("").parts if part != "__init__"]
    return ".".join(("flarenut", *parts))


class Loop:
    """A plugin of pytest: reads all tests once, then runs those that are asked against each mutant. A test that also fails without a mutant,
    which is tried as soon as one fails, tells nothing and is not asked again."""

    def __init__(self, chosen: list[Mutant], lines: dict[Path, Lines], verdicts: Verdicts, seconds: float | None):
        self.waiting, self.lines, self.verdicts = list(reversed(chosen)), lines, verdicts
        self.ends = None if seconds is None else time.monotonic() + seconds
        self.fails: dict[str, bool] = {}

    def pytest_runtestloop(self, session):
        self.items = {short(item.nodeid): item for item in session.items}
        functions_now()
        gc.freeze()  # a child that sweeps up what its parent has would copy it all
        running: list[_Child] = []
        while running or (self.waiting and not self._late()):
            while len(running) < WORKERS and self.waiting and not self._late():
                running += self._begin(self.waiting.pop())
            for child in list(running):
                if (ended := child.ended()) is not None:
                    running.remove(child)
                    running += self._judge(child, ended)
            time.sleep(0.005)
        return True

    def _late(self):
        return self.ends is not None and time.monotonic() > self.ends

    def _begin(self, mutant) -> list[_Child]:
        near = [self.items[test] for test in self.lines[mutant.path].near(mutant) if test in self.items]
        items = [item for item in near[:MOST] if not self.fails.get(item.nodeid)]
        if items:
            return [_Child(mutant, items)]
        self.verdicts.add(mutant, "not run")
        return []

    def _judge(self, child, ended) -> list[_Child]:
        """The verdict, or a process that tries once more."""
        if ended.status in (0, UNFIT):
            self.verdicts.add(child.mutant, "does not compile" if ended.status else "survived")
            return []
        blamed = [item for item in child.items if item.nodeid == ended.failed] or child.items
        names = [item.nodeid for item in blamed]
        if any(name not in self.fails for name in names):
            failed = _wait(_Child(None, blamed)).status != 0
            self.fails.update(dict.fromkeys(names, failed))
        if not all(self.fails[name] for name in names):
            self.verdicts.add(child.mutant, "endless" if ended.endless else "killed")
            return []
        left = [item for item in child.items if item not in blamed]
        if left:
            return [_Child(child.mutant, left)]
        self.verdicts.add(child.mutant, "not run")
        return []


def _wait(child: _Child) -> Ended:
    while (ended := child.ended()) is None:
        time.sleep(0.005)
    return ended


def run_mutants(measures: Path, tests: list[Path], room: str, sample: int | None, seed: int, seconds: float | None = None) -> Outcome:
    """Judges a sample (None: all) of the mutants of a room by test files; the folder of `measures` says which tests run which line."""
    need_module("coverage")
    import pytest

    files = sorted((SOURCES / room).rglob("*.py"))
    every = [mutant for path in files for mutant in mutants_of(path)]
    chosen = every if sample is None or sample >= len(every) else random.Random(seed).sample(every, sample)
    verdicts = Verdicts(f"flarenut.{room}", len(every))
    sys.path.insert(0, str(package_folder()))
    for path in files:
        importlib.import_module(_module(path))
    loop = Loop(chosen, {path: lines_of(measures, path) for path in files}, verdicts, seconds)
    try:
        pytest.main(["-q", "-s", "-p", "no:cacheprovider", "-p", "no:hypothesispytest", *map(str, tests)], plugins=[loop])
    except KeyboardInterrupt:
        say("stopped; what was judged so far:")
    verdicts.notes += [f"{name} fails without a wrong and was not asked" for name, fails in loop.fails.items() if fails]
    return verdicts.outcome()
