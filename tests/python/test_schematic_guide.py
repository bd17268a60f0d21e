"""The guide on schematics: its examples run, its picture is the one they make, its words are those of the function."""

import inspect
import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from flarenut.schematic import schematic

ROOT = Path(__file__).resolve().parents[2]
GUIDE = (ROOT / "docs/guide/schematic.md").read_text(encoding="utf-8")
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    made = tmp_path_factory.mktemp("schematic")
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(made)
        found = {}
        for block in re.findall(r"```python\n(.*?)```", GUIDE, re.DOTALL):
            exec(compile(block, "docs/guide/schematic.md", "exec"), found)
    return made


def test_the_examples_write_their_files(folder):
    written = {path.relative_to(folder).as_posix() for path in folder.rglob("*.svg")}
    assert written == {"schematic-e85.svg", "oil.svg", "drawings/oil.svg", "drawings/water.svg"}


def test_the_picture_is_the_one_that_the_guide_makes(folder):
    """By its words and symbols: where they stand may differ in a hundredth on another machine."""

    def told(path):
        root = ET.parse(path).getroot()
        return sorted(one.text for one in root.iter(f"{SVG}text")), sorted(one.get("data-key") for one in root.iter(f"{SVG}g") if one.get("data-key"))

    assert told(ROOT / "docs/images/schematic-e85.svg") == told(folder / "schematic-e85.svg")


def test_every_word_of_the_function_stands_in_the_guide():
    asked = [name for name in inspect.signature(schematic).parameters if name != "circuit"]
    assert re.findall(r"^\| `(\w+)` \|", GUIDE, re.MULTILINE) == asked
