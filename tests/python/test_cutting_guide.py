"""The guide to cutting and cost: its code is run as it stands, with its price file, and what it prints is held to what stands below it."""

import re
from pathlib import Path

from guide_runner import run_guide

GUIDE = Path(__file__).resolve().parents[2] / "docs/guide/cutting_and_cost.md"


def test_the_code_of_the_guide_prints_what_it_says(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    text = GUIDE.read_text(encoding="utf-8")
    (prices,) = re.findall(r"```csv\n(.*?)```", text, re.DOTALL)
    Path("prices.csv").write_text(prices, encoding="utf-8")
    assert run_guide(GUIDE, capsys, lambda _: {"rel": 0.01, "abs": 0.02}) == 3  # a figure in the third place
