"""`flarenut drive`: the drives of a circuit file against `fn.over_time`, its files, and its ends."""

import json
import re
import signal

import flarenut as fn
import numpy
import pytest
from flarenut.circuit.file import read
from flarenut.cli import main, sweep_progress
from test_drive_file import DRIVE, ENGINE

xarray = pytest.importorskip("xarray", reason="rows are written by xarray")


@pytest.fixture
def engine(tmp_path):
    """Writes the engine with drives of its own and returns the name of the file."""
    def write(drives=DRIVE, text=ENGINE):
        path = tmp_path / "engine.toml"
        path.write_text(text + drives, encoding="utf-8")
        return str(path)

    return write


def run(capsys, *words):
    code = main(["drive", *map(str, words)])
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err and "fault of the program" not in err
    return code, out, err


def followed(rows=(("1 min", "cold start"), ("4 min", "hot idle")), **more):
    return fn.over_time(read(ENGINE).circuit, list(rows), **more)


def test_the_table_is_that_of_the_same_drive_in_python(capsys, engine):
    code, out, err = run(capsys, engine())
    assert (code, err) == (0, "") and out == followed(units="metric").text() + "\n"
    assert "Drive: cold start to 1 min, hot idle to 5 min" in out and "What to look at, worst first" in out and "invented circuit" in out


def test_moments_and_readings_are_chosen_and_findings_stay(capsys, engine):
    code, out, err = run(capsys, engine(DRIVE + 'times = ["0 s", "3 min"]\noutputs = ["sump.temperature", "gallery.gauge"]\nevery = "30 s"\n'))
    drive = followed(every="30 s", units="metric")
    rows = [line for line in out.splitlines() if line.startswith("  sump temperature")]
    assert (code, err) == (0, "") and len(rows) == 1 and "0 s, cold start begins" in out and "3 min, hot idle" in out
    assert float(rows[0].split()[-1]) == pytest.approx(drive.moment("3 min").at("sump").temperature.to("C"), abs=0.51)
    assert "Drive: cold start" in out and "What to look at" in out and "pump out" not in out.split("What to look at")[0]


def test_files_hold_what_was_followed_in_the_units_asked_for(capsys, engine, tmp_path):
    table, netcdf, picture = (tmp_path / name for name in ("a.csv", "a.nc", "a.png"))
    code, out, err = run(capsys, engine(), "morning", "--out", table, "--out", netcdf, "--out", picture, "--units", "us")
    assert (code, err) == (0, "") and all(str(one) in out for one in (table, netcdf, picture)) and "sump pressure" not in out
    drive = followed()
    for path in (table, netcdf):
        found = fn.load_sweep(path)
        assert found["sump.temperature"].attrs["units"] == "F"
        numpy.testing.assert_allclose(found["sump.temperature"].values, drive.temperature("sump").to("F"))
        assert found["case"].values.tolist() == drive.cases
    assert picture.read_bytes()[:4] == b"\x89PNG"


def test_several_drives_write_files_of_their_own_and_one_may_be_chosen(capsys, engine, tmp_path):
    path = engine(DRIVE + '[drive.short]\ncases = [["30 s", "hot track"]]\n')
    assert run(capsys, path, "--out", tmp_path / "a.csv")[0] == 0
    assert {one.name for one in tmp_path.glob("*.csv")} == {"a-morning.csv", "a-short.csv"}
    code, out, _ = run(capsys, path, "--only", "short")
    assert code == 0 and "hot track to 30 s" in out and "cold start" not in out
    code, out, err = run(capsys, path, "shrot")
    assert code == 2 and "did you mean 'short'" in err and out == ""


@pytest.mark.parametrize("drives, text, told", [
    ("", ENGINE, "there is no drive in it"),
    (DRIVE, ENGINE.replace('heat_capacity = "16 kJ/K"\n', ""), "tank 'sump' has no heat_capacity"),
    (DRIVE.replace('"cold start"', '{spede = "1000 rpm"}'), ENGINE, "did you mean 'speed'?"),
    (DRIVE.replace('"cold start"', '{speed = "-3 rpm"}'), ENGINE, "speed"),
    (DRIVE.replace("1 min", "0.2 s"), ENGINE, "less than 1 s"),
    (DRIVE + 'every = "1 ms"', ENGINE, "write a longer 'every'"),
    (DRIVE + 'start = "900 C"', ENGINE, "900 C"),
    (DRIVE + 'outputs = ["sump.temprature"]', ENGINE, "sump.temperature"),
    (DRIVE + 'times = ["2 h"]', ENGINE, "ask for a time between"),
])
def test_what_cannot_be_followed_is_told_with_line_and_cure(capsys, engine, drives, text, told):
    code, out, err = run(capsys, engine(drives, text))
    assert code == 2 and told in err and "cure: " in err and out == ""
    if drives:
        assert "engine.toml:" in err and "^" in err


def test_a_drive_that_ends_early_shows_what_lies_before_and_says_why(capsys, engine):
    hot = ENGINE.replace('face = ["290 mm", "190 mm"]', 'face = ["290 mm", "190 mm"], wind_share = "0.1 %"').replace("16 kJ/K", "2 kJ/K")
    code, out, err = run(capsys, engine('[drive.hot]\ncases = [["40 min", "hot track"]]\ntimes = ["0 s", "30 min"]\n', hot))
    assert code == 1 and "It ends early, past " in out and "ends early: past " in err
    told = " ".join(f"{out} {err}".split())
    assert told.count("there is no answer past that") == 1 and told.count("would get hotter than") + told.count("no steady state") <= 1  # its reason, once
    assert "why stands under what to look at" in told and "; standard output says why" in err
    quiet = run(capsys, engine('[drive.hot]\ncases = [["40 min", "hot track"]]\n', hot), "--json")[2]
    assert "standard output" not in quiet and "there is no answer" in quiet  # nothing but numbers stands on standard output


@pytest.mark.parametrize("with_file", [False, True])
def test_ctrl_c_keeps_what_was_reached(capsys, engine, tmp_path, monkeypatch, with_file):
    class Press(sweep_progress.Progress):
        def __call__(self, done, count):
            if done > 100:
                signal.raise_signal(signal.SIGINT)

    monkeypatch.setattr(sweep_progress, "Progress", Press)
    out_file = tmp_path / "a.csv"
    code, out, err = run(capsys, engine(), *(["--out", out_file] if with_file else []))
    assert code == 130 and "stopped at 1 min 50 s" in err
    if with_file:
        found, drive = fn.load_sweep(out_file), followed()
        assert found["time"].values[-1] == 110.0 and not found.attrs["complete"]
        assert found["sump.temperature"].values.tolist() == pytest.approx(drive.temperature("sump").to("C")[:found.sizes["time"]])
    else:
        assert "1 min 50 s, hot idle" in out


def test_json_holds_what_python_has_in_si(capsys, engine):
    moment = followed().moments[0]
    names = ["sump.temperature", "gallery.gauge", f"{moment.layout.title(moment.pumps[0])}.suction_margin"]
    code, out, err = run(capsys, engine(f"{DRIVE}outputs = {json.dumps(names)}\n"), "--json")
    assert (code, err) == (0, "")
    (told,) = json.loads(out)["drives"].values()
    drive = followed(units="metric")
    assert told["times_s"] == drive.times.tolist() and told["cases"] == drive.cases and told["complete"] is True
    assert list(told["readings"]) == names
    for name, reading in told["readings"].items():
        assert reading["values"] == pytest.approx(drive.series(name).si.tolist()) and reading["kind"] == drive.series(name).kind
    assert told["readings"]["sump.temperature"]["unit"] == "K"
    assert [one["code"] for one in told["findings"]] == [one.code for one in drive.findings]
    assert told["legs"][0] == {"case": "cold start", "begins_s": 0.0, "ends_s": 60.0, "conditions": {}}


def test_json_beside_a_file_stays_one_object(capsys, engine, tmp_path):
    code, out, err = run(capsys, engine(), "--json", "--out", tmp_path / "drive.csv")
    assert code == 0 and json.loads(out)["flarenut_drives"] == 1 and "written to" in err and (tmp_path / "drive.csv").exists()


@pytest.mark.parametrize("minutes, code", [(1, 3), (3, 1)])
def test_a_stop_that_stands_at_any_moment_fails_where_that_is_asked(capsys, engine, minutes, code):
    """A minute of it ends whole, with oil too hot; in three it gets hotter than it is known for, and a drive without an answer counts for more."""
    hot = DRIVE.replace("[drive", '[case."stop and go"]\nspeed = "6500 rpm"\nengine_power = "250 kW"\nair_temperature = "45 C"\n\n[drive', 1)
    hot = re.sub(r"cases = .*", f'cases = [["{minutes} min", "stop and go"]]\nstart = "110 C"', hot)
    drive = fn.over_time(read(ENGINE + hot).circuit, [(f"{minutes} min", "stop and go")], start="110 C")
    assert drive.complete == (code == 3) and any((one.severity, one.code) == ("stop", "liquid too hot") for one in drive.findings)
    failed, _, err = run(capsys, engine(hot), "--fail-on-stop")
    assert failed == code and "STOP findings stand: " in err and "sump, 0 s to" in err and ("ends early" in err) == (code == 1)
    assert run(capsys, engine(hot))[0] == (0 if code == 3 else 1) and run(capsys, engine(), "--fail-on-stop")[0] == 0
