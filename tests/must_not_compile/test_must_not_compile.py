"""Mistakes that the types must catch: each file here fails to compile, and for the reason it states.

The first line is `// expect: <regular expression>` and must be found in an error that g++ reports for a line of the
file itself, not for something deep in a header. The same file with
CONTROL defined holds the mistake put right and must compile: so a missing header or a typing error cannot pass for
the wanted refusal.
"""

import os
import re
import subprocess
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

HERE = Path(__file__).parent
INCLUDE = HERE.parents[1] / "cpp"
CASES = sorted(HERE.glob("*.cpp"))
EXPECT = "// expect: "


def compile_only(cxx, source, *flags):
    command = [cxx, "-std=c++20", "-fsyntax-only", "-fdiagnostics-color=never", f"-I{INCLUDE}", *flags, str(source)]
    return subprocess.run(command, stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=300,
                          env={**os.environ, "LC_ALL": "C"})


def judge(cxx, source) -> str:
    """What is wrong with a case; empty when it is refused for the reason it states and its control compiles."""
    first = source.read_text(encoding="utf-8").splitlines()[0]
    if not first.startswith(EXPECT):
        return f"the first line must be '{EXPECT}<regular expression>'"
    with ThreadPoolExecutor(2) as both:
        control = both.submit(compile_only, cxx, source, "-DCONTROL")
        mistake = compile_only(cxx, source)
    if control.result().returncode:
        return f"the control does not compile:\n{control.result().stderr[:2000]}"
    if mistake.returncode == 0:
        return "the mistake compiles"
    errors = [line for line in mistake.stderr.splitlines() if re.match(re.escape(str(source)) + r":\d+:\d+: error: ", line)]
    if not any(re.search(first.removeprefix(EXPECT), error) for error in errors):
        return f"refused, but not with /{first.removeprefix(EXPECT)}/:\n{mistake.stderr[:4000]}"
    return ""


@pytest.mark.parametrize("source", CASES, ids=[case.stem for case in CASES])
def test_the_mistake_is_refused(cxx, source):
    assert judge(cxx, source) == ""


def test_there_are_cases():
    assert len(CASES) >= 8


@pytest.mark.parametrize("text, complaint", [
    ("int main() { return 0; }\n", "the first line must be"),
    ("// expect: conversion\nint main() { return 0; }\n", "the mistake compiles"),
    ("// expect: conversion\nint main() { return nowhere; }\n", "the control does not compile"),
    ("// expect: no such words\nint main() {\n#ifndef CONTROL\n  return nowhere;\n#endif\n}\n", "refused, but not with"),
])
def test_the_judge_catches_a_bad_case(cxx, tmp_path, text, complaint):
    source = tmp_path / "case.cpp"
    source.write_text(text)
    assert judge(cxx, source).startswith(complaint)
