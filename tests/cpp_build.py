"""Builds the C++ side for the tests: once per run, into a folder that stays, so that the next run is incremental.

A tool that is missing skips what needs it, visibly; under continuous integration (the variable CI is set) or with
`--strict-cpp` it is an error instead.
"""

import os
import shutil
import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
BUILD = ROOT / ".build" / "tests"
CMAKE_MISSING = ("was not found", "were not found", "No CMAKE_CXX_COMPILER could be found")
LONGEST_BUILD = 1800  # s; a stuck compiler must not hang the run


class ToolMissing(Exception):
    """Something the machine lacks: not a fault of the code under test."""


class BuildFailed(Exception):
    """The code does not configure, compile or link."""


def compiler() -> str:
    """The C++ compiler that CMake would take."""
    wanted = os.environ.get("CXX", "g++")
    found = shutil.which(wanted)
    if found is None:
        raise ToolMissing(f"C++ compiler '{wanted}' was not found (apt-get install g++)")
    return found


def require_tools() -> None:
    compiler()
    for tool, package in {"cmake": "cmake", "ninja": "ninja-build"}.items():
        if shutil.which(tool) is None:
            raise ToolMissing(f"'{tool}' was not found (apt-get install {package})")


def run(command: list, **options) -> subprocess.CompletedProcess:
    return subprocess.run([str(word) for word in command], stdin=subprocess.DEVNULL, capture_output=True, text=True,
                          errors="replace", timeout=LONGEST_BUILD, **options)


def configure(source: Path, build: Path, *settings: str) -> None:
    """Configures; starts afresh when an older configuration in that folder stands in the way."""
    require_tools()
    command = ["cmake", "-S", source, "-B", build, "-G", "Ninja", *(f"-D{setting}" for setting in settings)]
    done = run(command)
    if done.returncode and (build / "CMakeCache.txt").exists():
        done = run([*command, "--fresh"])
    if done.returncode:
        trouble = ToolMissing if any(phrase in done.stderr for phrase in CMAKE_MISSING) else BuildFailed
        raise trouble(f"{source} does not configure:\n{done.stderr.strip()}")


def build(folder: Path, target: str = "all") -> None:
    jobs = os.environ.get("CMAKE_BUILD_PARALLEL_LEVEL", "2")  # a file takes up to 1 GB to compile
    done = run(["cmake", "--build", folder, "--parallel", jobs, "--target", target])
    if done.returncode:
        raise BuildFailed(f"'{target}' does not build:\n{compiler_words(done.stdout)}")


def compiler_words(output: str, most_lines: int = 80) -> str:
    """What went wrong, without the progress lines and the command lines."""
    lines = [line for line in output.splitlines() if not line.startswith(("[", "ninja: "))]
    start = next((i for i, line in enumerate(lines) if line.startswith("FAILED") or "error" in line), 0)
    return "\n".join(line[:400] for line in lines[start:start + most_lines])


def configure_tests() -> None:
    configure(ROOT, BUILD, "FLARENUT_BUILD_TESTS=ON", "FLARENUT_STRICT=ON", "FLARENUT_BUILD_PYTHON=OFF",
              "CMAKE_BUILD_TYPE=Release")


def build_test_program() -> Path:
    configure_tests()
    build(BUILD, "flarenut_tests")
    return BUILD / "flarenut_tests"


def build_replay(target: str) -> Path:
    """The program that runs a fuzz target over kept inputs, from the same build."""
    configure_tests()
    build(BUILD, f"fuzz_{target}_replay")
    return BUILD / f"fuzz_{target}_replay"


def install_library(prefix: Path) -> None:
    """The engine and its headers as another C++ project would have them, from the same build."""
    configure_tests()
    build(BUILD, "flarenut")
    done = run(["cmake", "--install", BUILD, "--prefix", prefix])
    if done.returncode:
        raise BuildFailed(f"the library does not install:\n{done.stderr}")
