"""Every example that people read is run: docstrings, and the first circuit of the README."""

import doctest
import importlib
import pkgutil
import re
from pathlib import Path

import pytest

import flarenut

ROOT = Path(__file__).resolve().parents[2]
MODULES = [module.name for module in pkgutil.walk_packages(flarenut.__path__, "flarenut.")
           if not module.name.endswith(("__main__", "_core")) and "._core" not in module.name]


@pytest.mark.parametrize("name", ["flarenut", *MODULES])
def test_examples_in_docstrings(name):
    failures, _ = doctest.testmod(importlib.import_module(name), optionflags=doctest.NORMALIZE_WHITESPACE)
    assert failures == 0


def test_the_modules_do_hold_examples():
    finder = doctest.DocTestFinder(exclude_empty=True)
    examples = sum(len(test.examples) for name in MODULES for test in finder.find(importlib.import_module(name)))
    assert examples > 40


def test_the_first_circuit_of_the_readme(capsys, monkeypatch, tmp_path):
    pytest.importorskip("xarray")
    code, sizes, bought = re.findall(r"```python\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.DOTALL)
    assert len(code.strip().splitlines()) <= 20
    names = {}
    exec(compile(code, "README.md", "exec"), names)  # noqa: S102 - our own text
    printed = capsys.readouterr().out
    assert "rail pressure [psig]" in printed
    idle = float(re.search(r"'idle': ([0-9.]+)", printed)[1])
    assert idle > 50.0  # the -4 return line is too small, which is the point of the example
    exec(compile(sizes, "README.md", "exec"), names)  # noqa: S102
    assert "smallest that passes" in capsys.readouterr().out
    assert (names["answer"]["status"] == 0).all() and names["answer"].sizes["return hose.size"] == 3
    monkeypatch.chdir(tmp_path)
    exec(compile(bought, "README.md", "exec"), names)  # noqa: S102
    assert "hose end -8 37 flare female" in capsys.readouterr().out and "<svg" in (tmp_path / "schematic.svg").read_text(encoding="utf-8")
