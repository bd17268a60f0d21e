"""clang-tidy over the engine, by the checks in .clang-tidy, which says why each family is in or out."""

import re
import shutil

from tool_places import BUILD, ROOT, Outcome, ToolMissing, run, say

import cpp_build  # tool_places puts its folder on the path

NAMES = ("clang-tidy", "clang-tidy-19", "clang-tidy-16", "clang-tidy-14")
FEW = ("cpp/flarenut/solver/fixed_lu.cpp", "cpp/flarenut/network/plan.cpp", "cpp/flarenut/parts/line.cpp", "cpp/flarenut/fluids/liquid.cpp")


def tidy(form: str, seed: int) -> Outcome:
    """Complaints, each once however many files include the header."""
    tool = next((found for name in NAMES if (found := shutil.which(name))), None)
    if tool is None:
        raise ToolMissing("clang-tidy was not found (apt-get install clang-tidy)")
    cpp_build.configure(ROOT, BUILD / "tidy", "CMAKE_EXPORT_COMPILE_COMMANDS=ON", "FLARENUT_BUILD_TESTS=OFF", "FLARENUT_BUILD_PYTHON=OFF",
                        "CMAKE_BUILD_TYPE=Release")
    files = [ROOT / name for name in FEW] if form == "short" else sorted((ROOT / "cpp" / "flarenut").rglob("*.cpp"))
    found = {}
    for number, path in enumerate(files, start=1):
        say(f"  {number}/{len(files)} {path.relative_to(ROOT)}")
        # The kernels' options are g++'s own; clang reads the code without them.
        done = run([tool, "-p", BUILD / "tidy", "--quiet", "--extra-arg=-Wno-unknown-warning-option",
                    "--extra-arg=-Wno-ignored-optimization-argument", "--extra-arg=-Qunused-arguments", path])
        for line in done.stdout.splitlines():
            told = re.match(rf"{re.escape(str(ROOT))}/(\S+?):(\d+):\d+: (?:warning|error): (.*) \[([\w.,-]+)\]", line)
            if told:
                found[told[1], told[2], told[4]] = told[3]
    notes = tuple(f"{name}:{line}: {words} [{check}]" for (name, line, check), words in sorted(found.items()))
    return Outcome({"files": len(files), "complaints": len(found)}, notes, not found)
