"""The engine as an installed C++ package: the example of the guide, built and run by a project that knows nothing else."""

import re

import pytest
from cpp_build import ROOT

GUIDE = "docs/guide/cpp.md"
EXAMPLE = "docs/guide/cpp_example.cpp"


def blocks(text, language):
    return re.findall(rf"^```{language}\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)


def test_the_guide_shows_the_example_as_it_is():
    shown = blocks((ROOT / GUIDE).read_text(encoding="utf-8"), "cpp")
    assert shown == [(ROOT / EXAMPLE).read_text(encoding="utf-8")]


def test_the_example_is_short():
    lines = [line for line in (ROOT / EXAMPLE).read_text(encoding="utf-8").splitlines()
             if line.strip() and not line.startswith(("#include", "using"))]
    assert len(lines) <= 30


def test_an_installed_copy_builds_and_runs_the_example(cmake, require, tmp_path):
    require(cmake.install_library, tmp_path / "prefix")
    project = tmp_path / "project"
    project.mkdir()
    (listing,) = blocks((ROOT / GUIDE).read_text(encoding="utf-8"), "cmake")
    (project / "CMakeLists.txt").write_text(listing)
    (project / "cpp_example.cpp").write_bytes((ROOT / EXAMPLE).read_bytes())
    require(cmake.configure, project, tmp_path / "build", f"CMAKE_PREFIX_PATH={tmp_path / 'prefix'}")
    cmake.build(tmp_path / "build")
    done = cmake.run([tmp_path / "build" / "rail"])
    assert done.returncode == 0, done.stderr
    rail = float(re.fullmatch(r"rail (\S+) psi gauge\n", done.stdout).group(1))
    # Force balance on the diaphragm: set pressure above the manifold, plus at most the excess that opens the valve wide
    # (five bands of 20 kPa = 14.5 psi at the utmost; one band, 2.9 psi, bounds a pump of this size).
    spring = 43.5 - 10.0 * 3386.389 / 6894.757
    assert spring < rail < spring + 2.9
    assert rail == pytest.approx(39.7, abs=0.05), "the guide quotes this figure"
