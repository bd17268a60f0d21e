"""Sweeps that a vehicle's file describes: the command's rows are those of Python; what is wrong is told with its line."""

import shutil
from pathlib import Path

import pytest

import flarenut as fn
from flarenut.cli import main

pytest.importorskip("xarray", reason="sweeps answer with xarray")

TRUCK = Path(__file__).resolve().parents[2] / "docs/guide/examples/truck"
SWEEP = """
[sweep.radiator]
vary."coolant.radiator.face" = [["620 mm", "460 mm"], ["700 mm", "500 mm"]]
vary.vehicle_speed = ["8 m/s", "16 m/s"]
cases = "towing uphill"
outputs = ["coolant.engine out.temperature", "plate cooler.heat"]
limits."coolant.engine out.temperature" = {most = "100 C"}
"""


@pytest.fixture
def swept(tmp_path):
    folder = tmp_path / "truck"
    shutil.copytree(TRUCK, folder)
    path = folder / "vehicle.toml"
    own = path.read_text(encoding="utf-8")

    def written(sweep=SWEEP):
        path.write_text(own + sweep, encoding="utf-8")
        return str(path)

    return written


def test_the_command_gives_the_numbers_that_python_gives(swept, tmp_path, capsys):
    path, out = swept(), tmp_path / "rows.csv"
    assert main(["sweep", path, "--out", str(out), "--units", "metric"]) == 0
    out_text = capsys.readouterr().out
    assert "4 of 4 solves" in out_text and "varies and its rating does not" in " ".join(out_text.split())
    with pytest.warns(fn.SweepWarning, match="its rating does not"):
        wanted = fn.sweep(fn.load(path), {"coolant.radiator.face": [["620 mm", "460 mm"], ["700 mm", "500 mm"]], "vehicle_speed": ["8 m/s", "16 m/s"]},
                          cases="towing uphill", outputs=["plate cooler.heat"], units="metric")["plate cooler.heat"].values.ravel()
    found = fn.load_sweep(out)["plate cooler.heat"].values.ravel()
    assert found == pytest.approx(wanted, rel=1e-12) and len(set(found)) == 4


def test_the_table_marks_what_lies_beyond_a_limit(swept, capsys):
    assert main(["sweep", swept(), "--units", "metric"]) == 0
    out = capsys.readouterr().out
    assert "at most 100 C: 2 above" in out and "invented vehicle" in out and "invented circuit" not in out


def test_a_limit_is_read_though_the_first_case_has_no_answer(swept, capsys):
    path = Path(swept(SWEEP.replace('"towing uphill"', '"motorway"')))
    path.write_text(path.read_text(encoding="utf-8").replace('"140 kW"', '"900 kW"'), encoding="utf-8")
    assert not fn.load(path).solve("towing uphill")["coolant"]["towing uphill"].converged
    assert main(["sweep", str(path), "--units", "metric"]) == 0
    assert "at most 100 C: none outside" in capsys.readouterr().out


@pytest.mark.parametrize(("old", "new", "blamed", "told"), [
    ("vary.vehicle_speed", "vary.vehicle_sped", "vehicle_sped", "did you mean 'vehicle_speed'?"),
    ("coolant.radiator.face", "coolant.radiatr.face", "radiatr", "did you mean"),
    ("towing uphill", "towing", "cases =", "there is no case 'towing'"),
    ("plate cooler.heat", "plate cooler.het", "outputs =", "has no 'het' to read"),
    ("[sweep.radiator]", "[sweep]", "[sweep]", "[sweep.NAME]"),
    ('vary.vehicle_speed = ["8 m/s", "16 m/s"]', 'vary."engine oil.oil cooler" = [{part = "core"}]', "oil cooler", "a part as a whole cannot vary"),
])
def test_a_wrong_sweep_of_a_vehicle_is_told_with_its_line_and_cure(swept, capsys, old, new, blamed, told):
    assert SWEEP.count(old) >= 1
    path = swept(SWEEP.replace(old, new, 1))
    assert main(["sweep", path]) == 2
    out, err = capsys.readouterr()
    number = next(number for number, line in enumerate(Path(path).read_text(encoding="utf-8").splitlines(), 1) if blamed in line and number > 40)
    assert out == "" and "cure: " in err and told in err.replace("\n        ", " ") and f"vehicle.toml:{number}:" in err


def test_solve_and_drive_pass_sweeps_by(swept, capsys):
    assert main(["solve", swept()]) == 0
    assert "plate cooler" in capsys.readouterr().out


def test_findings_of_a_vehicle_are_refused_by_the_option_with_a_cure_for_the_command(swept, capsys):
    path = swept()
    assert main(["sweep", path, "--findings"]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.startswith("flarenut: --findings: ") and f"'flarenut solve {path}'" in err and "vehicle.solve()" not in err and "vehicle.toml:" not in err
