"""clang-tidy over the engine, by the checks in .clang-tidy, which says why each family is in or out."""

import re
import shutil
import signal
import subprocess
import tempfile
import threading
import time
from collections import deque
from pathlib import Path

import workers
from tool_places import BUILD, ROOT, Outcome, ToolMissing, say

import cpp_build  # tool_places puts its folder on the path

NAMES = ("clang-tidy-19", "clang-tidy-16", "clang-tidy")
FEW = ("cpp/flarenut/solver/fixed_lu.cpp", "cpp/flarenut/network/plan.cpp", "cpp/flarenut/parts/line.cpp", "cpp/flarenut/fluids/liquid.cpp")
# The kernels' options are g++'s own; clang reads the code without them.
OPTIONS = ("--quiet", *(f"--extra-arg={word}" for word in ("-Wno-unknown-warning-option", "-Wno-ignored-optimization-argument",
                                                            "-Qunused-arguments")))


def linter(settings: Path = ROOT / ".clang-tidy") -> str:
    tool = next((found for name in NAMES if (found := shutil.which(name))), None)
    if tool is None:
        raise ToolMissing("clang-tidy was not found (apt-get install clang-tidy-19)")
    checks = subprocess.run([tool, f"--config-file={settings}", "--list-checks"], stdin=subprocess.DEVNULL, capture_output=True, text=True)
    if "bugprone-unchecked-optional-access" not in checks.stdout:  # an old one, or one that would look for what it takes by itself
        raise ToolMissing(f"{tool} does not understand {settings.name} (apt-get install clang-tidy-19)")
    return tool


def each_file(command, files, processes: int):
    """(file, exit status, what was said) of each as it ends, `processes` at a time. None goes on once nobody asks."""
    waiting, running = deque(files), {}
    try:
        while waiting or running:
            while waiting and len(running) < processes:
                path, said = waiting.popleft(), tempfile.TemporaryFile("w+", encoding="utf-8", errors="replace")
                running[path] = subprocess.Popen([*map(str, command), str(path)], cwd=ROOT, stdin=subprocess.DEVNULL, stdout=said,
                                                 stderr=subprocess.STDOUT, start_new_session=True), said
            ended = [path for path, (process, _) in running.items() if process.poll() is not None]
            for path in ended:
                process, said = running.pop(path)
                with said:
                    said.seek(0)
                    text = said.read()
                yield path, process.returncode, text
            if not ended:
                time.sleep(0.02)
    finally:
        for process, said in running.values():
            process.kill()
            process.wait()
            said.close()


def complaints(path: Path, status: int, said: str, root: Path = ROOT) -> dict[tuple[str, int, int, str], str]:
    """By file, line, column and check. A linter that does not end well complains, too, whatever it said."""
    told = re.findall(rf"^{re.escape(str(root))}/(\S+?):(\d+):(\d+): (?:warning|error): (.*) \[([\w.,-]+)\]$", said, re.MULTILINE)
    found = {(name, int(line), int(column), check): words for name, line, column, words, check in told}
    if status and not found:
        last = said.strip().splitlines()[-1:] or ["nothing was said"]
        found[str(path.relative_to(root)), 0, 0, "status"] = f"the linter ended with {status}: {last[0]}"
    return found


def examine(command, files, processes: int, root: Path = ROOT) -> Outcome:
    """Complaints, each once however many files include the header. Ctrl-C and a polite kill end it with what was found till then."""
    if threading.current_thread() is threading.main_thread():
        signal.signal(signal.SIGTERM, signal.default_int_handler)
    found, done, begin = {}, 0, time.monotonic()
    try:
        for path, status, said in each_file(command, files, processes):
            new = complaints(path, status, said, root)
            found, done = {**found, **new}, done + 1
            say(f"  {done}/{len(files)}, {time.monotonic() - begin:.0f} s: {path.relative_to(root)}, {len(new)} complaints")
        notes = ()
    except KeyboardInterrupt:
        notes = (workers.stopped_note(done, len(files)),)
    notes += tuple(f"{name}:{line}: {words} [{check}]" for (name, line, _, check), words in sorted(found.items()))
    return Outcome({"files": done, "complaints": len(found)}, notes, not notes)


def tidy(form: str, seed: int, processes: int = 2) -> Outcome:
    command = [linter(), "-p", BUILD / "tidy", *OPTIONS]
    cpp_build.configure(ROOT, BUILD / "tidy", "CMAKE_EXPORT_COMPILE_COMMANDS=ON", "FLARENUT_BUILD_TESTS=OFF", "FLARENUT_BUILD_PYTHON=OFF",
                        "CMAKE_BUILD_TYPE=Release", "FLARENUT_WHOLE_MOVES=OFF")  # what g++ alone knows
    files = [ROOT / name for name in FEW] if form == "short" else sorted((ROOT / "cpp" / "flarenut").rglob("*.cpp"))
    return examine(command, files, processes)
