"""The guide to placements: its code is run as it stands, in order, and what it prints is held to what stands below it."""

import re
from pathlib import Path

import pytest
from guide_runner import run_guide

pytest.importorskip("xarray", reason="the guide hands out a Dataset")
pytest.importorskip("matplotlib", reason="the guide draws")
GUIDE = Path(__file__).resolve().parents[2] / "docs/guide/placement.md"
SHOWN = 0.01  # relative, of a printed number: a figure in the third place


def test_the_code_of_the_guide_prints_what_it_says(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    text = GUIDE.read_text(encoding="utf-8")
    assert run_guide(GUIDE, capsys, lambda _: {"rel": SHOWN, "abs": 0.02}) >= 5
    images = re.findall(r"\(\.\./images/([a-z-]+\.png)\)", text)
    assert len(images) == 2
    for name in images:
        assert (tmp_path / name).stat().st_size > 10_000 and (GUIDE.parents[1] / "images" / name).exists()
    assert (tmp_path / "placements.csv").read_text(encoding="utf-8").startswith("case,variant,oil at gallery [F]")


def test_the_links_of_the_guide_lead_somewhere():
    for path in re.findall(r"\]\(([^)#]+)\)", GUIDE.read_text(encoding="utf-8")):
        assert (GUIDE.parent / path).exists(), path
