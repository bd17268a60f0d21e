"""Files that commands write: whole or not at all, and the refusals that they share."""

import os
from pathlib import Path

import pytest
from flarenut.cli import main
from flarenut.cli.guard import Refusal
from flarenut.cli.out_files import put_file, put_text

EXAMPLES = Path(__file__).resolve().parents[2] / "docs" / "guide" / "examples"
CAR, TRUCK = EXAMPLES / "carburettor.toml", EXAMPLES / "truck" / "vehicle.toml"


def run(capsys, *words):
    code = main([str(word) for word in words])
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return code, out, err


def half(path):
    """Writes half of a file, and then the disk is full."""
    path.write_text("half", encoding="utf-8")
    raise OSError(28, "No space left on device")


def test_what_cannot_be_written_whole_leaves_the_old_file(tmp_path):
    target = tmp_path / "car.csv"
    target.write_text("old", encoding="utf-8")
    with pytest.raises(Refusal, match="No space left on device\n  cure: "):
        put_file(target, half)
    assert target.read_text(encoding="utf-8") == "old" and os.listdir(tmp_path) == ["car.csv"]
    put_text(target, "new")
    assert target.read_text(encoding="utf-8") == "new" and os.listdir(tmp_path) == ["car.csv"]


def test_a_link_stays_a_link_and_a_device_is_written_into(tmp_path):
    target, link = tmp_path / "real.csv", tmp_path / "link.csv"
    link.symlink_to(target)
    put_text(link, "new")
    assert link.is_symlink() and target.read_text(encoding="utf-8") == "new"
    put_text(Path(os.devnull), "gone")
    assert not Path(os.devnull).is_file()


@pytest.mark.parametrize("words, written", [
    (["audit", CAR, "--csv", "made.csv"], ["made.csv"]), (["bill", CAR, "--cut-list", "--csv", "made.csv"], ["made-cuts.csv", "made.csv"]),
    (["sheet", CAR, "--out", "made.html"], ["made.html"]), (["solve", CAR, "--plot", "made.png"], ["made.png"])])
def test_every_command_puts_its_files_in_place_as_a_whole(capsys, monkeypatch, tmp_path, words, written):
    monkeypatch.chdir(tmp_path)
    placed, replace = [], os.replace
    monkeypatch.setattr(os, "replace", lambda part, out: (placed.append(Path(out).name), replace(part, out)))
    run(capsys, *words)
    assert sorted(placed) == written == sorted(os.listdir(tmp_path))


@pytest.mark.parametrize("command", ["audit", "bill", "sheet"])
def test_fit_of_a_vehicle_is_refused_in_the_same_words(capsys, monkeypatch, tmp_path, command):
    monkeypatch.chdir(tmp_path)
    code, out, err = run(capsys, command, TRUCK, "--fit")
    assert (code, out) == (2, "") and err.endswith("ends are proposed for one circuit, and this is a vehicle of 3\n  cure: name the file of one circuit\n")
    assert os.listdir(tmp_path) == []
