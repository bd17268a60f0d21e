"""What a campaign says last: what was run, how many failed, where the record went."""

import doctest
import sys

import pytest
import records
import run_judge
import run_random_circuits
import run_symmetries
from random_circuits import Outcome, Tally


def last_line(module, words, monkeypatch, capsys):
    monkeypatch.setattr(sys, "argv", [f"{module.__name__}.py", *words])
    module.main()
    return capsys.readouterr().out.strip().splitlines()[-1]


def test_the_examples_of_the_last_line_hold():
    found = doctest.testmod(records)
    assert found.attempted >= 2 and not found.failed


@pytest.mark.parametrize("module, what", [(run_random_circuits, "random circuits"), (run_symmetries, "random circuits, each by up to")])
def test_a_campaign_ends_with_its_verdict(module, what, monkeypatch, capsys):
    said = last_line(module, ["--count", "2", "--processes", "1"], monkeypatch, capsys)
    assert said.startswith(f"2 {what}") and said.endswith("examined, none failed; no record was kept, --record keeps one")


def test_a_record_that_is_kept_is_named(monkeypatch, capsys, tmp_path):
    monkeypatch.setattr(records.write, "__defaults__", (tmp_path,))
    said = last_line(run_random_circuits, ["--count", "2", "--processes", "1", "--record"], monkeypatch, capsys)
    assert said == f"2 random circuits examined, none failed; record: {tmp_path / 'random_circuits_since.json'}"


def test_the_judge_ends_with_its_verdict(monkeypatch, capsys):
    monkeypatch.setitem(run_judge.FORMS, "short", 1)
    said = last_line(run_judge, ["--form", "short"], monkeypatch, capsys)
    assert said == "1 circuits by another hand examined, none failed; no record was kept, --record keeps one"


def test_progress_is_told_in_words():
    tally = Tally()
    for seed, became in enumerate(("solved", "solved", "told in words", "crash")):
        tally.add(Outcome(seed, "sound", became))
    assert run_random_circuits.progress(tally, 600) == "4 of 600 circuits: 2 solved, 1 told in words, 1 crash; 1 failed so far"
