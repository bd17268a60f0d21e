"""clang-tidy over the engine, by the checks in .clang-tidy, which says why each family is in or out."""

import hashlib
import json
import re
import shutil
import signal
import subprocess
import tempfile
import threading
import time
from collections import deque
from functools import cache
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


@cache
def included(path: Path) -> frozenset[Path]:
    """The engine's own headers that a file includes, and those that these include."""
    found, waiting = set(), [path]
    while waiting:
        for name in re.findall(r'^#include "(flarenut/[^"]+)"', waiting.pop().read_text(encoding="utf-8"), re.MULTILINE):
            header = ROOT / "cpp" / name
            if header not in found and header.exists():
                found.add(header)
                waiting.append(header)
    return frozenset(found)


def marks(tool: str, folder: Path, files) -> dict[str, str]:
    """Of each file what the linter's word on it hangs on: its text and those of its headers, how it is compiled, what is looked for, by whom."""
    told = json.loads((folder / "compile_commands.json").read_text(encoding="utf-8"))
    commands = {Path(one["file"]): one["command"].replace(str(ROOT), "") for one in told}
    version = subprocess.run([tool, "--version"], stdin=subprocess.DEVNULL, capture_output=True, text=True).stdout
    common = [version, *OPTIONS, (ROOT / ".clang-tidy").read_text(encoding="utf-8")]

    def mark(path: Path) -> str:
        texts = [one.read_text(encoding="utf-8") for one in (path, *sorted(included(path)))]
        return hashlib.sha256("\0".join([*common, commands[path], *texts]).encode()).hexdigest()

    return {str(path.relative_to(ROOT)): mark(path) for path in files}


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


def examine(command, files, processes: int, root: Path = ROOT, clean=lambda path: None) -> Outcome:
    """Complaints, each once however many files include the header. Ctrl-C and a polite kill end it with what was found till then.

    `clean` is told of each file of which nothing was said.
    """
    if threading.current_thread() is threading.main_thread():
        signal.signal(signal.SIGTERM, signal.default_int_handler)
    found, done, begin = {}, 0, time.monotonic()
    try:
        for path, status, said in each_file(command, files, processes):
            new = complaints(path, status, said, root)
            found, done = {**found, **new}, done + 1
            if not new:
                clean(path)
            say(f"  {done}/{len(files)}, {time.monotonic() - begin:.0f} s: {path.relative_to(root)}, {len(new)} complaints")
        notes = ()
    except KeyboardInterrupt:
        notes = (workers.stopped_note(done, len(files)),)
    notes += tuple(f"{name}:{line}: {words} [{check}]" for (name, line, _, check), words in sorted(found.items()))
    return Outcome({"files": done, "complaints": len(found)}, notes, not notes)


def tidy(form: str, seed: int, processes: int = 2) -> Outcome:
    """A file that was clean, and nothing of what that hangs on has changed, is not read again, except in the long form."""
    folder = BUILD / "tidy"
    command = [linter(), "-p", folder, *OPTIONS]
    cpp_build.configure(ROOT, folder, "CMAKE_EXPORT_COMPILE_COMMANDS=ON", "FLARENUT_BUILD_TESTS=OFF", "FLARENUT_BUILD_PYTHON=OFF",
                        "CMAKE_BUILD_TYPE=Release", "FLARENUT_WHOLE_MOVES=OFF")  # what g++ alone knows
    files = [ROOT / name for name in FEW] if form == "short" else sorted((ROOT / "cpp" / "flarenut").rglob("*.cpp"))
    kept, now = folder / "clean.json", marks(command[0], folder, files)
    were_clean = json.loads(kept.read_text(encoding="utf-8")) if kept.exists() and form != "long" else {}
    changed = [path for path in files if were_clean.get(name := str(path.relative_to(ROOT))) != now[name]]

    def clean(path: Path) -> None:
        name = str(path.relative_to(ROOT))
        were_clean[name] = now[name]
        kept.write_text(json.dumps(were_clean), encoding="utf-8")

    found = examine(command, changed, processes, clean=clean)
    return found._replace(counts={**found.counts, "files": found.counts["files"] + len(files) - len(changed)})
