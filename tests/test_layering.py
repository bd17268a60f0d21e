"""Who may know whom. Below, a room may use what stands to its right and itself, never the reverse; any other edge
fails here. The last tests show that a breach of each rule is caught.
"""

import ast
import re
import subprocess
from sys import stdlib_module_names as STANDARD_LIBRARY
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]

CPP = {
    "base": set(),
    "autodiff": {"base"},
    "units": {"autodiff", "base"},
    "fluids": {"units", "autodiff", "base"},
    "correlations": {"units", "autodiff", "base"},
    "parts": {"correlations", "fluids", "units", "autodiff", "base"},
    "solver": {"base"},
    "heat": {"parts", "correlations", "fluids", "units", "autodiff", "base"},
    "network": {"heat", "parts", "correlations", "fluids", "units", "autodiff", "base"},
    "lanes": {"parts", "correlations", "fluids", "units", "autodiff", "base"},
    "analysis": {"lanes", "network", "solver", "heat", "parts", "correlations", "fluids", "units", "autodiff", "base"},
}
CPP_LIBRARIES = {"boost": {"units"}, "Eigen": {"solver"}, "pybind11": set(), "immintrin.h": {"lanes"}}

# Rooms of the Python package that are settled; every one may be imported by the package's front door.
PYTHON = {
    "units": set(),
    "demo": set(),  # a circuit file and nothing else
    "catalog": {"units"},
    "fluids": {"units", "catalog", "_core"},
    "results": {"units"},
    "circuit": {"fluids", "catalog", "units", "results", "_core"},
    "hardware": {"circuit", "catalog", "fluids", "units", "results"},
    "checks": {"circuit", "fluids", "catalog", "units", "results"},
    "studies": {"hardware", "checks", "circuit", "fluids", "catalog", "units", "results", "_core"},
    "plotting": {"results", "units"},
    "schematic": {"circuit", "results", "units"},
    "report": {"hardware", "schematic", "checks", "results", "circuit", "catalog", "plotting", "units"},
    "cli": {"studies", "hardware", "checks", "circuit", "fluids", "catalog", "units", "results", "plotting", "schematic", "report",
            "demo"},
}
OUTSIDE_RESULTS = {"numpy", "rich"}  # beside the standard library; rich only to show a table
TOP_LEVEL = {"CMakeLists.txt", "pyproject.toml", "README.md", "DEVELOPERS.md", "LICENSE",
             "cpp", "python", "notebooks", "tests", "docs"}

INCLUDE = re.compile(r'^[ \t]*#[ \t]*include[ \t]*([<"])([^">]+)[">]', re.MULTILINE)


def cpp_breaches(room: str, text: str) -> list[str]:
    """What a file in that room includes and may not."""
    breaches = []
    for bracket, path in INCLUDE.findall(text):
        head, _, rest = path.partition("/")
        if head == "flarenut":
            target = rest.partition("/")[0]
            if target != room and target not in CPP[room]:
                breaches.append(f"{room} may not include {target} ({path})")
        elif head in CPP_LIBRARIES:
            if room not in CPP_LIBRARIES[head]:
                breaches.append(f"{room} may not include {head} ({path})")
        elif bracket == '"':
            breaches.append(f"write includes from the root: flarenut/{room}/{path}")
        elif rest or "." in path:
            breaches.append(f"{room} may not include {path}: neither ours nor the standard library's")
    return breaches


def imported(text: str, package: tuple[str, ...]) -> list[str]:
    """Full dotted names of all modules that the text imports, relative ones resolved, wherever they stand."""
    names = []
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            names += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = list(package[: len(package) - node.level + 1]) if node.level else []
            base += node.module.split(".") if node.module else []
            names += [".".join([*base, alias.name]) for alias in node.names]
    return names


def python_breaches(room: str, text: str, package: tuple[str, ...]) -> list[str]:
    breaches = []
    for name in imported(text, package):
        head, _, rest = name.partition(".")
        target = rest.partition(".")[0]
        if head == "flarenut":
            if target not in PYTHON and target != "_core":
                if not target.startswith("__"):  # __version__ and the like
                    breaches.append(f"{room} may not import from the package's front door ({name})")
            elif target != room and target not in PYTHON[room]:
                breaches.append(f"{room} may not import {target} ({name})")
        elif room == "results" and head not in OUTSIDE_RESULTS and head not in STANDARD_LIBRARY:
            breaches.append(f"{room} may not import {name}")
    return breaches


def top_level_breaches(tracked: list[str]) -> list[str]:
    names = {path.partition("/")[0] for path in tracked}
    return sorted(name for name in names if name not in TOP_LEVEL and not name.startswith("."))


def _room_of(path: Path, root: Path) -> str:
    return path.relative_to(root).parts[0].removesuffix(".py")


CPP_FILES = sorted(path for path in (ROOT / "cpp/flarenut").rglob("*") if path.suffix in (".hpp", ".cpp"))
PYTHON_ROOT = ROOT / "python" / "flarenut"
FRONT_DOOR = {"__init__", "__main__", "_core", "py"}
PYTHON_FILES = [path for path in sorted(PYTHON_ROOT.rglob("*.py")) if _room_of(path, PYTHON_ROOT) not in FRONT_DOOR]


def test_every_room_is_known():
    assert {_room_of(path, ROOT / "cpp/flarenut") for path in CPP_FILES} == set(CPP)
    assert {_room_of(path, PYTHON_ROOT) for path in PYTHON_FILES} <= set(PYTHON)


@pytest.mark.parametrize("room", CPP)
def test_cpp_includes(room):
    files = [path for path in CPP_FILES if _room_of(path, ROOT / "cpp/flarenut") == room]
    breaches = {str(path.relative_to(ROOT)): cpp_breaches(room, path.read_text(encoding="utf-8")) for path in files}
    assert files and {path: found for path, found in breaches.items() if found} == {}


@pytest.mark.parametrize("room", PYTHON)
def test_python_imports(room):
    breaches = {}
    for path in PYTHON_FILES:
        if _room_of(path, PYTHON_ROOT) == room:
            package = path.relative_to(PYTHON_ROOT.parent).parts[:-1]
            found = python_breaches(room, path.read_text(encoding="utf-8"), package)
            if found:
                breaches[str(path.relative_to(ROOT))] = found
    assert breaches == {}


def test_nothing_in_the_engine_knows_the_bindings():
    assert [str(path) for path in CPP_FILES if "bindings/" in path.read_text(encoding="utf-8")] == []


def test_top_level():
    try:
        listing = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    except (OSError, subprocess.CalledProcessError) as trouble:
        pytest.skip(f"not a git checkout, so nothing says which files belong to the project: {trouble}")
    assert top_level_breaches(listing.splitlines()) == []


@pytest.mark.parametrize("room, line", [
    ("fluids", '#include "flarenut/correlations/friction.hpp"'),
    ("correlations", '#include "flarenut/fluids/liquid.hpp"'),
    ("parts", '#include "flarenut/network/plan.hpp"'),
    ("solver", '#include "flarenut/units/quantities.hpp"'),
    ("network", '  #  include "flarenut/solver/newton.hpp"'),
    ("parts", "#include <Eigen/Core>"),
    ("base", "#include <boost/units/quantity.hpp>"),
    ("analysis", "#include <pybind11/pybind11.h>"),
    ("analysis", '#include "bindings.hpp"'),
    ("base", "#include <sys/stat.h>"),
])
def test_a_wrong_include_is_caught(room, line):
    assert len(cpp_breaches(room, f"#pragma once\n#include <vector>\n{line}\n")) == 1


@pytest.mark.parametrize("room, line", [
    ("units", "from flarenut.circuit import Circuit"),
    ("results", "from .._core import solve"),
    ("results", "import scipy.optimize"),
    ("circuit", "from flarenut.checks import review"),
    ("circuit", "def late():\n    from .. import plotting"),
    ("plotting", "from flarenut import circuit"),
    ("checks", "import flarenut._core"),
    ("checks", "from ..hardware.mating import mate"),
    ("hardware", "from ..checks import limits"),
    ("circuit", "from flarenut import hardware"),
    ("catalog", "from ..hardware.mating import mate"),
    ("schematic", "from ..hardware import mating"),
    ("cli", "from .._core import network"),
    ("studies", "from flarenut.cli import main"),
    ("fluids", "from flarenut import Circuit"),
])
def test_a_wrong_import_is_caught(room, line):
    assert len(python_breaches(room, f"import math\n{line}\n", ("flarenut", room))) == 1


def test_relative_imports_are_resolved():
    package = ("flarenut", "circuit", "file")
    assert imported("from ...units.errors import nearest", package) == ["flarenut.units.errors.nearest"]
    assert imported("from .words import keys_of", package) == ["flarenut.circuit.file.words.keys_of"]
    assert imported("from .. import parts", package) == ["flarenut.circuit.parts"]


def test_a_stray_file_is_caught():
    assert top_level_breaches(["README.md", ".ci/run", "cpp/a.hpp", "scratch.py", "build/x"]) == ["build", "scratch.py"]
