"""Where the tools find things, how they run a command, and what each of them hands back."""

import importlib.util
import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
BUILD = ROOT / ".build"
sys.path.insert(0, str(ROOT / "tests"))  # for cpp_build and catch_report


class Outcome(NamedTuple):
    """What a tool found: counts in the order in which they are read, sentences, whether its goal is met, and how long that took [s], where a
    run serves several tools.
    """

    counts: dict[str, int | float]
    notes: tuple[str, ...] = ()
    met: bool = True
    seconds: float | None = None


class ToolMissing(Exception):
    """Something this machine lacks, and how to get it."""


def say(text: str) -> None:
    print(text, file=sys.stderr, flush=True)


def need_module(name: str) -> None:
    if importlib.util.find_spec(name) is None:
        raise ToolMissing(f"Python has no '{name}' (pip install '.[tools]')")


def run(command, *, env=None, cwd=ROOT, timeout=None, **options) -> subprocess.CompletedProcess:
    """A command with its output kept; `env` is added to the environment."""
    if os.name == "posix":  # a shell starts what it puts in the background deaf to Ctrl-C, which some tests press
        options.setdefault("preexec_fn", lambda: signal.signal(signal.SIGINT, signal.default_int_handler))
    return subprocess.run([str(word) for word in command], cwd=cwd, env={**os.environ, **(env or {})}, stdin=subprocess.DEVNULL,
                          capture_output=True, text=True, errors="replace", timeout=timeout, **options)


def package_folder(build: Path = BUILD) -> Path:
    """A folder to import `flarenut` from: links to the sources, and the compiled module of the installed package.

    The tools read and change the sources; an installed copy would hide them.
    """
    found = importlib.util.find_spec("flarenut")  # that of _core would import the package
    folders = found.submodule_search_locations if found else None
    core = next((path.resolve() for folder in folders or () for path in Path(folder).glob("_core.*") if path.suffix in (".so", ".pyd")), None)
    if core is None:
        raise ToolMissing("flarenut is not installed (pip install '.[test]')")
    folder = build / "package"
    package = folder / "flarenut"
    package.mkdir(parents=True, exist_ok=True)
    for source in [*(ROOT / "python" / "flarenut").iterdir(), core]:
        link = package / source.name
        if source.name != "__pycache__" and (not link.is_symlink() or link.resolve() != source):
            link.unlink(missing_ok=True)
            link.symlink_to(source)
    return folder


def sources_first() -> dict[str, str]:
    """Environment in which `import flarenut` is that of the sources."""
    return {"PYTHONPATH": str(package_folder())}
