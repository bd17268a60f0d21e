"""Sanitizers and tools over the engine and its words, one by name.

    python tests/campaigns/run_tools.py types|stubs|coverage|mutate|mutate-cpp|sanitize|leaks|threads|races|valgrind|tidy|wide
        [--form short|medium|long] [--seed N] [--minutes N] [--processes N] [--record]

`--minutes` ends the trying of mutants after that time; what was judged till then counts, and how many these were is said.
`--processes`: files that the linter reads at a time, two if nothing is said.
`--record` keeps the result for the verification dossier. The exit status is 1 where the goal of the tool is not met, 2 where this machine
lacks it.
"""

import argparse
import sys
import time

import records
import tool_coverage
import tool_cpp
import tool_mutate
import tool_tidy
import tool_types
import tool_wide
from tool_places import ToolMissing, say

TOOLS = {
    "types": (tool_types.types, "Types of the Python sources, strictly"),
    "stubs": (tool_types.stubs, "Stub of the compiled module against the module"),
    "coverage": (tool_coverage.coverage, "Lines and branches that the tests run"),
    "mutate": (tool_mutate.python, "Wrongs put into the checks, and whether a test notices"),
    "mutate-cpp": (tool_mutate.cpp, "Wrongs put into the correlations, and whether a test notices"),
    "sanitize": (tool_cpp.sanitize, "Addresses and undefined behaviour of the C++ suites"),
    "leaks": (tool_cpp.leaks, "Memory not given back by the C++ suites"),
    "threads": (tool_cpp.threads, "Races in the C++ cases with several threads"),
    "valgrind": (tool_cpp.valgrind, "Memory read before it is written, by valgrind"),
    "races": (tool_cpp.races, "Races in batches of several threads, by valgrind"),
    "tidy": (tool_tidy.tidy, "C++ sources under a linter"),
    "wide": (tool_wide.wide, "Kernels for AVX-512 in an emulated processor"),
}


def main(words=None) -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("tool", choices=TOOLS)
    parser.add_argument("--form", choices=("short", "medium", "long"), default="medium")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--minutes", type=float)
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--record", action="store_true")
    asked = parser.parse_args(words)
    tool, title = TOOLS[asked.tool]
    own = {"minutes": asked.minutes} if asked.tool.startswith("mutate") else {"processes": asked.processes} if asked.tool == "tidy" else {}
    begin = time.monotonic()
    try:
        result = tool(asked.form, asked.seed, **own)
    except ToolMissing as trouble:
        say(str(trouble))
        return 2
    seconds = result.seconds or time.monotonic() - begin
    for what, count in result.counts.items():
        print(f"{what}: {count:g}")
    for note in result.notes:
        print(f"  {note}")
    kept = None
    if asked.record:
        command = f"python tests/campaigns/run_tools.py {asked.tool} --form {asked.form} --seed {asked.seed}"
        command += f" --minutes {asked.minutes:g}" if asked.minutes else ""
        kept = records.write(records.record(f"tools_{asked.tool}", title, asked.form, command, seconds, result.counts, result.notes))
    print(f"{asked.tool}: {'goal met' if result.met else 'goal NOT met'}; " + (f"record: {kept}" if kept else "no record was kept, --record keeps one"))
    return 0 if result.met else 1


if __name__ == "__main__":
    sys.exit(main())
