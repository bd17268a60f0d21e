"""The guide to drives: its code is run as it stands, in order, and what it prints is held to what stands below it."""

import re
from pathlib import Path

import pytest

pytest.importorskip("xarray", reason="the guide hands out a Dataset")
pytest.importorskip("matplotlib", reason="the guide draws")
GUIDE = Path(__file__).resolve().parents[2] / "docs/guide/over_time.md"
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
SHOWN = 0.02  # relative, of a printed number, two or three figures long


def test_the_code_of_the_guide_prints_what_it_says(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "docs").symlink_to(GUIDE.parents[1])
    text = GUIDE.read_text(encoding="utf-8")
    names, printed, compared = {"__name__": "__main__"}, "", 0
    for kind, block in re.findall(r"```(python|text)\n(.*?)```", text, re.DOTALL):
        if kind == "python":
            exec(compile(block, GUIDE.name, "exec"), names)  # noqa: S102 - our own text
            printed = capsys.readouterr().out
        else:
            compared += 1
            assert words(printed) == words(block)
            for ours, theirs in zip(NUMBER.findall(printed), NUMBER.findall(block), strict=True):
                assert float(ours) == pytest.approx(float(theirs), rel=SHOWN, abs=1.0 if abs(float(theirs)) >= 20 else 0.05)
    assert compared == 7
    (image,) = re.findall(r"\(\.\./images/([a-z-]+\.png)\)", text)
    assert (tmp_path / image).stat().st_size > 10_000 and (GUIDE.parents[1] / "images" / image).exists()
    assert (tmp_path / "drive.csv").read_text(encoding="utf-8").startswith('"time [s]"')


def words(text):
    """Without numbers and the room that they take."""
    return [line for line in (" ".join(NUMBER.sub("#", line).split()).strip("- ") for line in text.splitlines()) if line]


def test_the_links_of_the_guide_lead_somewhere():
    for path in re.findall(r"\]\(([^)#]+)\)", GUIDE.read_text(encoding="utf-8")):
        assert (GUIDE.parent / path).exists(), path
