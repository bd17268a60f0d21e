"""Sweeps that are kept: what is loaded is what was saved, and what is needed for it is told."""

import json
import subprocess
import sys

import flarenut as fn
import pytest
from sweep_example import small_car

pytest.importorskip("xarray", reason="sweeps answer with xarray")


def kept_sweep():
    car = small_car()
    return fn.sweep(car, {("feed hose.size", "return hose.size"): [("-8", "-4"), ("-8", "-6")], "volts": ["11 V", "13 V"],
                          "fluid_temperature": ["20 C", "900 C"]}, cases=["idle", "full power"], outputs=["rail.gauge", "regulator.regime", "return hose.drop"])


@pytest.mark.parametrize("ending", ["nc", "csv"])
def test_what_is_loaded_is_what_was_saved(tmp_path, ending):
    if ending == "nc":
        pytest.importorskip("h5netcdf")
    answer = kept_sweep()
    fn.save_sweep(answer, tmp_path / f"answer.{ending}")
    found = fn.load_sweep(tmp_path / f"answer.{ending}")
    assert found.identical(answer) and list(found.data_vars) == list(answer.data_vars)
    assert {name: one.dtype.kind for name, one in found.variables.items()} == {name: one.dtype.kind for name, one in answer.variables.items()}
    circuit = json.loads(found.attrs["circuit"])
    assert circuit["circuit"]["fluid"] == "E85" and circuit["run"][1]["parts"][1]["size"] == "-6" and found.attrs["flarenut"] == fn.__version__
    assert fn.words_of(found["status"]).equals(fn.words_of(answer["status"]))


def test_samples_and_names_with_a_slash_are_kept_too(tmp_path):
    pytest.importorskip("h5netcdf")
    car = fn.Circuit("rinse", fluid="water")
    car.tank("drum", level="1 m")
    car.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size", name="hose 1/2")])
    answer = fn.sweep(car, {"hose 1/2.length": fn.between("1 m", "9 m"), "tank_level": ["1 m", "2 ft"]}, samples=5, seed=1, outputs="hose 1/2.flow")
    for ending in ("nc", "csv"):
        fn.save_sweep(answer, tmp_path / f"answer.{ending}")
        assert fn.load_sweep(tmp_path / f"answer.{ending}").identical(answer), ending


def test_a_table_has_a_row_for_every_point_and_case(tmp_path):
    answer = kept_sweep()
    fn.save_sweep(answer, tmp_path / "answer.csv")
    rows = (tmp_path / "answer.csv").read_text(encoding="utf-8").splitlines()
    assert rows[0].startswith("# flarenut sweep") and len(rows) == 2 + answer["status"].size
    assert "rail.gauge [Pa]" in rows[1] and any(row.startswith("idle") or ",idle," in row for row in rows[2:])
    assert ",solved," in rows[2] and ",regulating," in rows[2]  # words for whoever opens it in a spreadsheet
    assert any(",refused," in row and "temperature" in row for row in rows[2:])


def test_files_that_cannot_be(tmp_path):
    (tmp_path / "other.csv").write_text("a,b\n1,2\n")
    for call in (lambda: fn.save_sweep(kept_sweep(), tmp_path / "answer.xls"), lambda: fn.load_sweep(tmp_path / "other.csv")):
        with pytest.raises(fn.CircuitError):
            call()


def test_a_missing_library_is_named_with_its_cure():
    code = ("import sys; sys.modules['xarray'] = None\nimport flarenut as fn\n"
            "car = fn.Circuit('a', fluid='water'); car.tank('drum'); car.run('line', 'drum', 'ambient', [fn.hose('-8', '3 m', spec='ptfe')])\n"
            "fn.sweep(car, {'tank_level': ['1 m']})")
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True).stderr
    assert "pip install 'flarenut[sweep]'" in told.splitlines()[-1]


def test_importing_studies_fetches_neither_xarray_nor_scipy():
    code = "import sys, flarenut; flarenut.sweep, flarenut.between; print('xarray' in sys.modules, 'scipy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split() == ["False", "False"]


def test_without_scipy_samples_are_plain_random_numbers_and_say_so():
    code = ("import sys, json; sys.modules['scipy'] = None\nimport flarenut as fn\n"
            "car = fn.Circuit('a', fluid='water'); car.tank('drum'); car.run('line', 'drum', 'ambient', [fn.hose('-8', '3 m', spec='ptfe')])\n"
            "answer = fn.sweep(car, {'tank_level': fn.between('1 m', '2 m')}, samples=5, seed=1)\n"
            "print(json.loads(answer.attrs['options'])['sampling'], float(answer['tank_level'].min()) >= 1)")
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert shown.strip() == "plain random numbers (SciPy is not installed), seed 1 True"
