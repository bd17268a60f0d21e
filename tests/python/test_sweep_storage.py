"""Sweeps that are kept: what is loaded is what was saved, and what is needed for it is told."""

import csv
import json
import signal
import subprocess
import sys

import flarenut as fn
import numpy
import pytest
from sweep_example import small_car

pytest.importorskip("xarray", reason="sweeps answer with xarray")
pytestmark = pytest.mark.filterwarnings("ignore:.* solves are refused and have no numbers")  # their points are looked at here


def kept_sweep():
    car = small_car()
    return fn.sweep(car, {("feed hose.size", "return hose.size"): [("-8", "-4"), ("-8", "-6")], "volts": ["11 V", "13 V"],
                          "fluid_temperature": ["20 C", "300 C"]}, cases=["idle", "full power"], outputs=["rail.gauge", "regulator.regime", "return hose.drop"])


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
    assert rows[-1].startswith('"# flarenut sweep') and len(rows) == 2 + answer["status"].size
    assert "rail.gauge [Pa]" in rows[0] and any(row.startswith('"idle"') for row in rows)
    assert '"solved"' in rows[1] and '"regulating"' in rows[1]  # words for whoever opens it in a spreadsheet
    assert any('"refused"' in row and "temperature" in row for row in rows[1:-1])
    assert '"-8","-4"' in rows[1]  # sizes are texts


def test_every_row_of_a_table_has_as_many_cells_as_its_heading_but_the_last_which_is_one(tmp_path):
    fn.save_sweep(kept_sweep(), tmp_path / "answer.csv")
    with open(tmp_path / "answer.csv", encoding="utf-8", newline="") as lines:
        heading, *rows, last = csv.reader(lines)
    assert {len(row) for row in rows} == {len(heading)} and len(last) == 1
    pandas = pytest.importorskip("pandas")
    read = pandas.read_csv(tmp_path / "answer.csv", skipfooter=1, engine="python")
    answer = kept_sweep()
    assert read["rail.gauge [Pa]"].count() == int((answer["status"] == 0).sum())
    assert sorted(read["rail.gauge [Pa]"].dropna()) == sorted(answer["rail.gauge"].values[numpy.isfinite(answer["rail.gauge"].values)])


def test_a_table_with_its_header_first_is_read_too(tmp_path):
    """As tables were written before."""
    answer = kept_sweep()
    fn.save_sweep(answer, tmp_path / "answer.csv")
    *rows, last = (tmp_path / "answer.csv").read_text(encoding="utf-8").splitlines()
    (tmp_path / "old.csv").write_text("\n".join([last[1:-1].replace('""', '"'), *rows]) + "\n", encoding="utf-8")
    assert fn.load_sweep(tmp_path / "old.csv").identical(answer)


def test_points_that_were_not_reached_take_no_rows_and_are_there_again(tmp_path):
    vary = {"volts": list(numpy.linspace(11, 14, 300)), "manifold": [f"{p} psi" for p in numpy.linspace(-5, 15, 600)]}

    def press(done, count):
        if done:
            signal.raise_signal(signal.SIGINT)

    with pytest.raises(fn.SweepInterrupted) as stop:
        fn.sweep(small_car(), vary, cases=["idle", "full power"], outputs=["rail.gauge", "regulator.regime"], progress=press)
    partial = stop.value.partial
    reached = int((partial["status"] != 3).sum())
    assert 0 < reached < partial["status"].size
    fn.save_sweep(partial, tmp_path / "part.csv")
    assert len((tmp_path / "part.csv").read_text(encoding="utf-8").splitlines()) == 2 + reached
    assert fn.load_sweep(tmp_path / "part.csv").identical(partial)


@pytest.mark.parametrize("part", [{"case": 0}, {"volts": 0}, {"volts": 0, "case": 1, "feed hose.size + return hose.size": 0, "fluid_temperature": 0}])
def test_a_part_of_a_sweep_is_kept_too(tmp_path, part):
    answer = kept_sweep().isel(part)
    fn.save_sweep(answer, tmp_path / "part.csv")
    assert fn.load_sweep(tmp_path / "part.csv").identical(answer)


def test_a_table_without_any_row_is_read_too(tmp_path):
    answer = kept_sweep()
    answer["status"][:], answer["reason"][:], answer["regulator.regime"][:], answer["iterations"][:] = 3, 0, -1, 0
    for name in ("rail.gauge", "return hose.drop", "margin_to_boiling", "residual"):
        answer[name][:] = numpy.nan
    fn.save_sweep(answer, tmp_path / "nothing.csv")
    assert fn.load_sweep(tmp_path / "nothing.csv").identical(answer)


def test_words_along_an_axis_are_texts_that_can_be_drawn():
    pytest.importorskip("matplotlib")
    answer = fn.sweep(small_car(), {"return hose.size": ["-4", "-6"]}, cases="idle", outputs="rail.gauge")
    assert answer["return hose.size"].dtype.kind == answer["case"].dtype.kind == "U"
    from matplotlib.figure import Figure

    (line,) = answer["rail.gauge"].sel(case="idle").plot(ax=Figure().subplots())
    assert line.get_ydata().tolist() == answer["rail.gauge"].values.ravel().tolist()


def test_files_that_cannot_be(tmp_path):
    (tmp_path / "other.csv").write_text("a,b\n1,2\n")
    with pytest.raises(fn.CircuitError, match="no folder .* make it first"):
        fn.save_sweep(kept_sweep(), tmp_path / "nowhere" / "answer.csv")
    with pytest.raises(FileNotFoundError, match="there is no file .*nope.nc' to load a sweep from"):
        fn.load_sweep(tmp_path / "nope.nc")
    (tmp_path / "junk.nc").write_bytes(b"junk")
    with pytest.raises(fn.CircuitError, match="no NetCDF file that save_sweep wrote"):
        fn.load_sweep(tmp_path / "junk.nc")
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
