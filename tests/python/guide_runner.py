"""Runs the code blocks of a guide in order and compares what they print with the text blocks that follow: words alike, numbers near."""

import re

import pytest

NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def run_guide(guide, capsys, near):
    """How many text blocks were compared. `near` gives the bounds for a number of the guide: {"rel": ..., "abs": ...}."""
    names, printed, compared = {"__name__": "__main__"}, "", 0
    for kind, block in re.findall(r"```(python|text)\n(.*?)```", guide.read_text(encoding="utf-8"), re.DOTALL):
        if kind == "python":
            exec(compile(block, guide.name, "exec"), names)  # noqa: S102 - our own text
            printed = capsys.readouterr().out
            continue
        compared += 1
        assert words(printed) == words(block)
        for ours, theirs in zip(NUMBER.findall(printed), NUMBER.findall(block), strict=True):
            assert float(ours) == pytest.approx(float(theirs), **near(float(theirs)))
    return compared


def words(text):
    """Without numbers and the room that they take."""
    return [line for line in (" ".join(NUMBER.sub("#", line).split()).strip("- ") for line in text.splitlines()) if line]
