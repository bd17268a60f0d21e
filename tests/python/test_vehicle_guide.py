"""The guide on vehicles: its examples run, and print what stands there."""

import re
import shutil
from pathlib import Path

import pytest

import flarenut as fn
from flarenut.cli import main

ROOT = Path(__file__).resolve().parents[2]
GUIDE = (ROOT / "docs/guide/vehicles.md").read_text(encoding="utf-8")


@pytest.fixture
def names(monkeypatch, capsys):
    monkeypatch.chdir(ROOT)
    found, printed = {}, []
    for block in re.findall(r"```python\n(.*?)```", GUIDE, re.DOTALL):
        exec(compile(block, "docs/guide/vehicles.md", "exec"), found)
        printed.append(capsys.readouterr().out)
    return found, printed


def test_the_examples_print_what_the_guide_shows(names):
    _, printed = names
    shown = re.findall(r"```text\n(.*?)```", GUIDE, re.DOTALL)
    assert len(shown) == len(printed) == 5
    assert [text.rstrip() for text in printed] == [text.rstrip() for text in shown]


def test_the_guide_s_vehicle_is_that_of_its_file(names):
    found, _ = names
    file = fn.load(ROOT / "docs/guide/examples/truck/vehicle.toml")
    one, other = (answer.exchanger("plate cooler", "towing uphill").heat.si for answer in (found["answer"], file.solve("towing uphill")))
    assert one == pytest.approx(other, rel=1e-9)


def test_every_key_of_an_exchanger_stands_in_the_guide():
    from flarenut.circuit.exchangers import ARRANGEMENTS, KEYS

    for key in KEYS:
        assert f"`{key}`" in GUIDE
    assert all(word.split(",")[0] in GUIDE for word in ARRANGEMENTS)


def test_the_guide_s_toml_is_a_vehicle_file(tmp_path):
    swept, whole = re.findall(r"```toml\n(.*?)```", GUIDE, re.DOTALL)
    (tmp_path / "vehicle.toml").write_text(whole)
    for name in ("coolant", "transmission"):
        (tmp_path / f"{name}.toml").write_text((ROOT / f"docs/guide/examples/truck/{name}.toml").read_text())
    assert fn.load(tmp_path / "vehicle.toml").solve().converged
    assert main(["sweep", str(truck_with(tmp_path / "truck", swept))]) == 0


def truck_with(folder, more):
    """The guide's truck with something more in its file; where that file is."""
    shutil.copytree(ROOT / "docs/guide/examples/truck", folder)
    path = folder / "vehicle.toml"
    path.write_text(f"{path.read_text(encoding='utf-8')}\n{more}", encoding="utf-8")
    return path
