"""The two command lines of the README are what they say, and `.ci/run` runs the second word for word."""

import os
import re
import subprocess
import tomllib

from cpp_build import ROOT


def commands():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    return [line for block in re.findall(r"^```sh\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)
            for line in block.splitlines() if line.startswith("apt-get")]


def test_there_are_two_and_they_end_in_the_demo_and_in_pytest():
    first, second = commands()
    assert first.endswith("flarenut demo") and second.endswith("pytest")


def test_their_extras_exist():
    extras = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["optional-dependencies"]
    wanted = {name for line in commands() for names in re.findall(r"'\.\[(.*?)\]'", line) for name in names.split(",")}
    assert wanted and wanted <= set(extras)


def run_ci(tmp_path, readme, status):
    """Runs a copy of `.ci/run` beside that README, with an `apt-get` that only writes down what it was asked."""
    for name, text in {"README.md": readme, ".ci/run": (ROOT / ".ci/run").read_text(encoding="utf-8"),
                       "bin/apt-get": f'#!/bin/sh\necho "asked: $DEBIAN_FRONTEND $*"\nexit {status}\n'}.items():
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text)
        path.chmod(0o755)
    return subprocess.run(["bash", tmp_path / ".ci/run"], capture_output=True, text=True, stdin=subprocess.DEVNULL,
                          env={**os.environ, "PATH": f"{tmp_path / 'bin'}:{os.environ['PATH']}"})


def test_ci_runs_the_second_word_for_word(tmp_path):
    done = run_ci(tmp_path, (ROOT / "README.md").read_text(encoding="utf-8"), status=7)
    assert f"+ {commands()[1]}" in done.stdout.splitlines()
    assert done.stdout.splitlines()[-1] == "asked: noninteractive update"
    assert done.returncode == 7


def test_ci_refuses_a_readme_without_the_line(tmp_path):
    done = run_ci(tmp_path, "# nothing\n", status=0)
    assert done.returncode == 2 and "exactly one command line" in done.stderr


def test_ci_passes_success_through(tmp_path):
    done = run_ci(tmp_path, "apt-get update && echo pytest\n", status=0)
    assert done.returncode == 0 and done.stdout.splitlines()[-1] == "pytest"
