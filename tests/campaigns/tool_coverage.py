"""Lines and branches that the tests run: of Python by coverage.py under tests/python, of C++ by gcov under the Catch2 and law suites."""

import json
import os
import sys
from pathlib import Path


import tool_cpp
from tool_places import BUILD, ROOT, Outcome, need_module, package_folder, run, say, sources_first

GOAL = 95.0  # per cent of lines
SETTINGS = """[run]
branch = {branches}
source_pkgs = {package}
patch = subprocess
parallel = True
data_file = {data}
[report]
exclude_also =
    raise AssertionError
"""
PYTHON_COVERAGE = (sys.executable, "-m", "coverage")
PYTHON = BUILD / "coverage-python"
OUTSIDE = ("-p", "no:cacheprovider")


def measure_python(tests=("tests/python",), package: str = "flarenut", folder: Path = PYTHON) -> Path:
    """Runs tests under coverage.py, subprocesses too; gives the data file, which says for every line of a package which tests ran it.
    Of the whole package all tests have to pass.
    """
    need_module("coverage")
    folder.mkdir(parents=True, exist_ok=True)
    for old in folder.glob("data*"):
        old.unlink()
    settings = folder / "coveragerc"
    settings.write_text(SETTINGS.format(data=folder / "data", package=package, branches=package == "flarenut"), encoding="utf-8")
    package_folder()
    say("running the Python tests under coverage ...")
    python = [*PYTHON_COVERAGE, "run", "--rcfile", settings, "-m", "pytest", "-p", "coverage_of_cases", *tests, "-q", *OUTSIDE]
    done = run(python, env={"PYTHONPATH": f"{package_folder()}{os.pathsep}{Path(__file__).parent}"})
    (folder / "tests.txt").write_text(done.stdout + done.stderr, encoding="utf-8")
    if done.returncode not in ((0,) if package == "flarenut" else (0, 1)):
        raise RuntimeError(f"the tests do not pass under coverage: see {folder / 'tests.txt'}")
    run([*PYTHON_COVERAGE, "combine", "--rcfile", settings], env=sources_first())
    return folder / "data"


def python_report() -> dict:
    """coverage.py's own summary as data."""
    path = PYTHON / "report.json"
    run([*PYTHON_COVERAGE, "json", "--rcfile", PYTHON / "coveragerc", "-o", path], env=sources_first(), check=True)
    return json.loads(path.read_text(encoding="utf-8"))


def coverage(form: str, seed: int) -> Outcome:
    """Lines and branches of both languages; the files that are run least."""
    measure_python()
    counts, notes = _python(python_report())
    if form != "short":
        more, others = _cpp()
        counts, notes = {**counts, **more}, (*notes, *others)
    return Outcome(counts, notes, all(counts[name] >= GOAL for name in counts if name.endswith("lines, per cent")))


def _python(report: dict) -> tuple[dict, tuple[str, ...]]:
    total = report["totals"]
    branches = 100 * total["covered_branches"] / total["num_branches"]
    counts = {"Python: lines": total["num_statements"], "Python: lines, per cent": round(total["percent_statements_covered"], 2),
              "Python: branches": total["num_branches"], "Python: branches, per cent": round(branches, 2)}
    low = sorted((one["summary"]["percent_statements_covered"], name, one["missing_lines"]) for name, one in report["files"].items())
    return counts, tuple(f"{name}: {share:.0f} % of lines; not run: {_spans(missing)}" for share, name, missing in low if share < GOAL)


def _spans(lines: list[int]) -> str:
    """[3, 4, 5, 9] -> "3-5, 9"."""
    spans = []
    for line in lines:
        if spans and line == spans[-1][1] + 1:
            spans[-1][1] = line
        else:
            spans.append([line, line])
    return ", ".join(str(first) if first == last else f"{first}-{last}" for first, last in spans)


def _cpp() -> tuple[dict, tuple[str, ...]]:
    """Of cpp/flarenut, by the build that the sanitizers share; what belongs to another processor's instruction set is left to its files."""
    need_module("gcovr")
    done = tool_cpp.checked_run()
    if done.status:
        raise RuntimeError(done.stdout[-2000:] + done.stderr[-2000:])
    folder = BUILD / "checked"
    path = folder / "coverage.json"
    # A line of a template counts once, whichever number type runs it. Threads that count at once may leave a count below zero.
    run([sys.executable, "-m", "gcovr", "--root", ROOT, "--filter", "cpp/flarenut/", "--exclude-throw-branches", "--exclude-unreachable-branches",
         "--merge-mode-functions", "separate", "--merge-lines", "--gcov-ignore-parse-errors=negative_hits.warn_once_per_file",
         "--json-summary", path, folder], check=True)
    report = json.loads(path.read_text(encoding="utf-8"))
    counts = {"C++: lines": report["line_total"], "C++: lines, per cent": report["line_percent"],
              "C++: branches": report["branch_total"], "C++: branches, per cent": report["branch_percent"]}
    low = sorted((one["line_percent"], one["filename"]) for one in report["files"] if one["line_total"])
    return counts, tuple(f"{name}: {share:.0f} % of lines" for share, name in low if share < GOAL)
