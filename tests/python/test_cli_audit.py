"""`flarenut audit`, and what `flarenut solve` says of joints."""

import csv

import pytest
from flarenut.cli import main

CIRCUIT = """[circuit]
name = "wagon"
fluid = "gasoline"
[tank.cell]
level = "9 in"
[junction.rail]
demand = "20 gph"
[[run]]
name = "feed"
from = "cell"
to = "rail"
meets = ["{port}", ""]
parts = [{{part = "hose", size = "-6", length = "3 ft", spec = "ptfe", name = "hose"{ends}}}]
"""


@pytest.fixture
def told(tmp_path, capsys):
    """Exit code and output of a command on a circuit file."""
    def run(command, *words, port="-6 O-ring boss female", ends=', ends = ["-6 37 flare male", ""]'):
        path = tmp_path / "wagon.toml"
        path.write_text(CIRCUIT.format(port=port, ends=ends), encoding="utf-8")
        code = main([command, str(path), *map(str, words)])
        return code, *capsys.readouterr()

    return run


def test_an_audit_prints_what_does_not_seal_and_its_code_says_so(told, tmp_path):
    code, out, err = told("audit", "--csv", tmp_path / "joints.csv")
    assert code == 3 and "STOP: cell to hose" in out and "Joints only" in out and not err
    rows = list(csv.DictReader((tmp_path / "joints.csv").read_text(encoding="utf-8").splitlines()))
    assert rows[0]["verdict"] == "REFUSED" and rows[0]["thread"] == "9/16-18"


def test_what_is_proposed_is_printed_and_audited(told):
    code, out, _ = told("audit", "--fit", ends="")
    assert code == 0 and "adapter, -6 O-ring boss male to -6 37 flare male" in out and "2 seal" in out


def test_an_adapter_between_two_that_were_said_is_told_with_what_is_wrong(told):
    _, out, _ = told("audit", "--fit")
    listed = out.split("Put in because these two do not seal")[1].split("Audit of")[0]
    assert "cell to hose: adapter" in listed and "as written STOP" in listed and "; or change the hose end of" in listed


def test_a_solve_says_that_joints_are_wrong_and_fails_on_a_stop_of_theirs(told):
    code, out, err = told("solve", "--fail-on-stop")
    assert code == 3 and "Joints: 1 STOP" in out and "flarenut audit" in out and "STOP findings of joints stand: cell to hose" in err
    code, out, _ = told("solve", "--fail-on-stop", port="-6 37 flare male", ends=', ends = ["-6 37 flare female", ""]')
    assert code == 0 and "Joints:" not in out


def test_a_file_that_cannot_be_written_is_told_in_words(told):
    with_no_folder = told("audit", "--csv", "/nowhere/joints.csv")
    assert with_no_folder[0] == 2 and "cure" in with_no_folder[2] and "Traceback" not in with_no_folder[2]
