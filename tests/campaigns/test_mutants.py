"""Mutants: all small wrongs of a source, put in one at a time, and an honest count of those that a test tells."""

import os
import subprocess
import sys
import types

import measured_lines
import mutants_cpp
import mutants_python
import pytest
import switches_cpp
import wrong_python
from mutation_verdicts import Verdicts, key, known_equivalent
from tool_places import ROOT

import cpp_build

SOURCE = '''
LEAST = 2.0


def rule(case, limit):
    """Words, with 1 < 2 in them."""
    for value in case:
        if value <= limit and not value < LEAST:
            yield value - 1
'''


def test_mutants_of_python_are_all_the_small_wrongs_of_a_source(tmp_path):
    path = tmp_path / "rule.py"
    path.write_text(SOURCE, encoding="utf-8")
    told = [mutant.what for mutant in mutants_python.mutants_of(path)]
    assert sorted(told) == sorted(["2.0 becomes 2.2", "condition always True", "condition always False", "'and' becomes 'or'",
                                   "'<=' becomes '<'", "'<=' becomes '>'", "'not' left out", "'<' becomes '<='", "'<' becomes '>='", "'-' becomes '+'", "1 becomes 2",
                                   "statement left out: yield (value - 1)"])


def test_what_type_checkers_alone_read_is_left_alone(tmp_path):
    path = tmp_path / "rule.py"
    path.write_text("from typing import TYPE_CHECKING\n\nif TYPE_CHECKING:\n    WIDE = 1 < 2\nLEAST: int = 3\n", encoding="utf-8")
    assert [mutant.what for mutant in mutants_python.mutants_of(path)] == ["3 becomes 4"]


def test_every_mutant_of_python_is_another_program(tmp_path):
    path = tmp_path / "rule.py"
    path.write_text(SOURCE, encoding="utf-8")
    right = _given(compile(SOURCE, "rule", "exec"))
    others = [_given(mutants_python.code_of(mutant)) for mutant in mutants_python.mutants_of(path)]
    assert right == [1.0, 2.0] and right not in others


def _given(code):
    names = {}
    exec(code, names)
    return list(names["rule"]([1.0, 2.0, 3.0, 4.0], 3.0) or ())


HEADER = """#include "a < b"
template <class T>
T law(T x) { return x < 2.0 ? std::max(x, T(0.5)) : x * x; }  // 3.0 * x
"""


def test_mutants_of_a_header_leave_words_brackets_and_includes_alone(tmp_path):
    path = tmp_path / "law.hpp"
    path.write_text(HEADER, encoding="utf-8")
    found = mutants_cpp.mutants_of(path)
    assert [mutant.what for mutant in found] == ["'<' becomes '<='", "'<' becomes '>='", "'std::max(' becomes 'std::min('", "'*' becomes '/'",
                                                 "'2.0' becomes '2.2'", "'0.5' becomes '0.55'"]
    assert "x <= 2.0" in found[0].source and found[0].source.count("\n") == 3


PROGRAM = """#include <cstdio>
#include "law.hpp"
int main() { for (double x : {0.5, 1.0, 2.0, 3.0}) std::printf("%.17g ", law(x)); }
"""


def made(folder, header):
    """What a program that includes a header prints, compiled by itself."""
    (folder / "law.hpp").write_text(header, encoding="utf-8")
    (folder / "main.cpp").write_text(PROGRAM, encoding="utf-8")
    (folder / "a < b").write_text("#include <algorithm>\n", encoding="utf-8")
    done = subprocess.run([cpp_build.compiler(), "-std=c++20", "-w", f"-I{folder}", folder / "main.cpp", "-o", folder / "program"], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return folder / "program"


def printed(program, **said):
    return subprocess.run([program], env={**os.environ, **said}, capture_output=True, text=True, check=True).stdout


def test_switched_on_a_mutant_does_what_it_does_compiled_by_itself(tmp_path):
    try:
        cpp_build.compiler()
    except cpp_build.ToolMissing as trouble:
        pytest.skip(str(trouble))
    path = tmp_path / "once.hpp"
    path.write_text("#pragma once\n" + HEADER, encoding="utf-8")
    mutants = mutants_cpp.mutants_of(path)
    (tmp_path / "wrong_switches.hpp").write_text(switches_cpp.switches(len(mutants)), encoding="utf-8")
    program = made(tmp_path, switches_cpp.switched(path.read_text(encoding="utf-8"), dict(enumerate(mutants))))
    switched = [printed(program, FLARENUT_WRONG=str(number)) for number in range(len(mutants))]
    right = printed(program, FLARENUT_REACHED=str(tmp_path / "reached"))
    assert {int(line) for line in (tmp_path / "reached").read_text(encoding="utf-8").split()} >= {0, 2, 3, 4, 5}
    assert right == "0.5 1 4 9 " and right not in switched
    assert switched == [printed(made(tmp_path, mutant.source)) for mutant in mutants]


def put(mutant, module):
    """What the module's rule gives once the mutant is in it, as someone has it who took the rule before."""
    rule, limits = module.rule, list(module.TABLE)
    wrong_python.put_in(mutant, module)
    return limits, list(rule([1.0, 2.0, 3.0, 4.0], 3.0) or ()), list(module.TABLE)


def test_a_mutant_put_into_a_loaded_module_is_that_of_a_module_loaded_with_it(tmp_path):
    path = tmp_path / "rule_under_test.py"
    path.write_text(SOURCE.strip() + "\n\n\nTABLE = (1.5, LEAST)\n", encoding="utf-8")
    for mutant in mutants_python.mutants_of(path):
        module = sys.modules["rule_under_test"] = types.ModuleType("rule_under_test")
        exec(compile(path.read_text(encoding="utf-8"), str(path), "exec"), vars(module))
        wrong_python.functions_now()
        loaded = {"__name__": "rule_under_test"}
        exec(mutants_python.code_of(mutant), loaded)
        before, given, table = put(mutant, module)
        assert before == [1.5, 2.0] and table == list(loaded["TABLE"]), mutant.what
        assert given == list(loaded["rule"]([1.0, 2.0, 3.0, 4.0], 3.0) or ()), mutant.what
    del sys.modules["rule_under_test"]


ASKED = """
import rule_of_a_share as room
def test_that_tells(): assert room.SHARE == 0.5
def test_that_fails_anyway(): assert False
def test_that_tells_nothing(): assert True
"""


VERDICTS = {("tells",): "killed", ("tells_nothing",): "survived", ("fails_anyway",): "not run", ("fails_anyway", "tells_nothing"): "survived",
            ("fails_anyway", "tells"): "killed", (): "not run"}


def test_a_test_that_fails_without_a_mutant_kills_none(tmp_path):
    path, source = tmp_path / "test_asked.py", tmp_path / "rule_of_a_share.py"
    path.write_text(ASKED, encoding="utf-8")
    source.write_text("SHARE = 0.5\n", encoding="utf-8")
    program = f"""
import sys; sys.path[:0] = [{str(ROOT / "tests" / "campaigns")!r}, {str(tmp_path)!r}]
from pathlib import Path
import measured_lines, mutants_python, mutate_python, pytest, rule_of_a_share
from mutation_verdicts import Verdicts
mutate_python._module = lambda path: path.stem
source = Path({str(source)!r})
for asked in {list(VERDICTS)!r}:
    verdicts = Verdicts("room", 1, {{}})
    lines = {{source: measured_lines.Lines({{1: {{"test_asked.py::test_that_" + name for name in asked}}}})}}
    loop = mutate_python.Loop(mutants_python.mutants_of(source), lines, verdicts, None)
    pytest.main(["-q", "-s", "-p", "no:cacheprovider", {str(path)!r}, "--rootdir", {str(tmp_path)!r}], plugins=[loop])
    print("verdicts", *verdicts.kinds)
"""
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True)
    assert [line for line in done.stdout.splitlines() if line.startswith("verdicts")] == [f"verdicts {one}" for one in VERDICTS.values()], done.stderr


def test_a_line_that_has_moved_is_found_again_by_its_text():
    then, now = ["import a", "", "def rule():", "    one()", "    two()"], ["import a", "", "SHARE = 2", "", "def rule():", "    two()", "    three()"]
    assert measured_lines._moved(then, now) == {1: 1, 2: 2, 3: 5, 5: 6}


def test_of_each_way_through_a_function_one_test_is_asked_before_the_second_of_any(tmp_path):
    path = tmp_path / "rule.py"
    path.write_text("def rule(case):\n    if case is None:\n        return 1.5\n    return 2.5\n", encoding="utf-8")
    tests = {2: {"test_a_checks.py::test_none", "test_b.py::test_none", "test_a_checks.py::test_some", "test_a_checks.py::test_other"},
             3: {"test_a_checks.py::test_none", "test_b.py::test_none"}, 4: {"test_a_checks.py::test_some", "test_a_checks.py::test_other"}}
    lines = measured_lines.Lines(tests, tuple(path.read_text(encoding="utf-8").splitlines()))
    branch = next(mutant for mutant in mutants_python.mutants_of(path) if mutant.what == "condition always True")
    first, second, *rest = lines.near(branch)
    assert {first, second} & tests[3] and {first, second} & tests[4] and "test_b.py::test_none" in rest


def test_the_share_of_the_killed_leaves_out_what_is_no_wrong_and_counts_what_no_test_reaches(tmp_path):
    path = tmp_path / "rule.py"
    path.write_text(SOURCE, encoding="utf-8")
    mutants = mutants_python.mutants_of(path)
    verdicts = Verdicts("checks", 50, {key(mutants[0]): "no reason", key(mutants[1]): "wrongly listed"})
    for mutant, verdict in zip(mutants, ["survived", "killed", "killed", "killed", "endless", "survived", "not run", "does not compile"]):
        verdicts.add(mutant, verdict)
    counts = verdicts.outcome().counts
    assert counts["killed"] == 4 and counts["of these by the limit of time"] == 1 and counts["equivalent, not counted"] == 1
    assert counts["killed, per cent"] == pytest.approx(66.7) and not verdicts.outcome().met and verdicts.outcome(0.66).met
    assert sum("listed as equivalent, yet" in note for note in verdicts.notes) == 1 and sum("endless" in note for note in verdicts.notes) == 1


def test_changes_that_read_the_same_are_told_apart(tmp_path):
    path = tmp_path / "law.hpp"
    path.write_text("double law(double x) { return x * x * x; }\n", encoding="utf-8")
    assert [key(mutant)[1] for mutant in mutants_cpp.mutants_of(path)] == ["'*' becomes '/'", "'*' becomes '/' (2)"]


def test_a_mutant_said_to_be_equivalent_is_still_there():
    """Each row of the list names a change that the sources still have, and says why."""
    every = set()
    for folder, pattern, mutants_of in (("python/flarenut/checks", "*.py", mutants_python.mutants_of),
                                        ("cpp/flarenut/correlations", "*.hpp", mutants_cpp.mutants_of)):
        every |= {key(mutant) for path in (ROOT / folder).glob(pattern) for mutant in mutants_of(path)}
    known = known_equivalent()
    assert set(known) <= every and all(len(why) > 10 for why in known.values())
