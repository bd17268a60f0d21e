"""The guide to drives: its code is run as it stands, in order, and what it prints is held to what stands below it."""

import re
from pathlib import Path

import pytest
from guide_runner import run_guide

pytest.importorskip("xarray", reason="the guide hands out a Dataset")
pytest.importorskip("matplotlib", reason="the guide draws")
GUIDE = Path(__file__).resolve().parents[2] / "docs/guide/over_time.md"
SHOWN = 0.02  # relative, of a printed number, two or three figures long


def test_the_code_of_the_guide_prints_what_it_says(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "docs").symlink_to(GUIDE.parents[1])
    text = GUIDE.read_text(encoding="utf-8")
    assert run_guide(GUIDE, capsys, lambda number: {"rel": SHOWN, "abs": 1.0 if abs(number) >= 20 else 0.05}) == 7
    (image,) = re.findall(r"\(\.\./images/([a-z-]+\.png)\)", text)
    assert (tmp_path / image).stat().st_size > 10_000 and (GUIDE.parents[1] / "images" / image).exists()
    assert (tmp_path / "drive.csv").read_text(encoding="utf-8").startswith('"time [s]"')


def test_the_links_of_the_guide_lead_somewhere():
    for path in re.findall(r"\]\(([^)#]+)\)", GUIDE.read_text(encoding="utf-8")):
        assert (GUIDE.parent / path).exists(), path
