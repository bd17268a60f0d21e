"""The guide to cutting and cost: its code is run as it stands, with its price file, and what it prints is held to what stands below it."""

import re
from pathlib import Path

import pytest

GUIDE = Path(__file__).resolve().parents[2] / "docs/guide/cutting_and_cost.md"
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def test_the_code_of_the_guide_prints_what_it_says(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    text = GUIDE.read_text(encoding="utf-8")
    (prices,) = re.findall(r"```csv\n(.*?)```", text, re.DOTALL)
    Path("prices.csv").write_text(prices, encoding="utf-8")
    names, printed, compared = {"__name__": "__main__"}, "", 0
    for kind, block in re.findall(r"```(python|text)\n(.*?)```", text, re.DOTALL):
        if kind == "python":
            exec(compile(block, GUIDE.name, "exec"), names)  # noqa: S102 - our own text
            printed = capsys.readouterr().out
        else:
            compared += 1
            assert words(printed) == words(block)
            for ours, theirs in zip(NUMBER.findall(printed), NUMBER.findall(block)):
                assert float(ours) == pytest.approx(float(theirs), rel=0.01, abs=0.02)  # a figure in the third place
    assert compared == 3


def words(text):
    """Without numbers and the room that they take."""
    return [line for line in (" ".join(NUMBER.sub("#", line).split()).strip("- ") for line in text.splitlines()) if line]
