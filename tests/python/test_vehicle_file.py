"""Vehicle files: what they hold, what they refuse and where, and the command that solves them."""

import json
import os
import shutil
from pathlib import Path

import pytest

import flarenut as fn
from flarenut.cli import main

TRUCK = Path(__file__).resolve().parents[2] / "docs/guide/examples/truck"
CIRCUIT = """[circuit]
name = "{name} (invented)"
fluid = "water"
[tank.tank]
level = "1 m"
[[run]]
name = "way"
from = "tank"
to = "ambient"
parts = [{{part = "tube", name = "tube", bore = "8 mm", length = "2 m"}}, {{part = "elbow", name = "elbow", size = "-8", angle = 90, form = "swept"}}]
"""
VEHICLE = """[vehicle]
name = "pair (invented)"
units = "metric"

[circuit.hot]
file = "hot.toml"

[circuit.cold]
file = "cold.toml"

[exchanger.cooler]
first = ["hot", "tube"]
second = ["cold", "tube"]

[case.one]
"hot.fluid_temperature" = "90 C"
"cold.fluid_temperature" = "20 C"
"""


@pytest.fixture
def folder(tmp_path):
    for name in ("hot", "cold"):
        (tmp_path / f"{name}.toml").write_text(CIRCUIT.format(name=name))
    (tmp_path / "vehicle.toml").write_text(VEHICLE)
    return tmp_path


def refusal(folder, old="", new="", *, count=1):
    assert VEHICLE.count(old) >= 1
    (folder / "vehicle.toml").write_text(VEHICLE.replace(old, new, count))
    with pytest.raises(fn.FileError) as caught:
        fn.load(folder / "vehicle.toml")
    return caught.value


def line_of(text):
    return next(number for number, line in enumerate(VEHICLE.splitlines(), 1) if text in line)


def test_a_vehicle_file_is_the_vehicle_that_python_would_make(folder):
    read = fn.load(folder / "vehicle.toml")
    made = fn.Vehicle("pair")
    for name in ("hot", "cold"):
        made.add(fn.load(folder / f"{name}.toml"), name)
    made.exchanger("cooler", ("hot", "tube"), ("cold", "tube"))
    made.case("one", **{"hot.fluid_temperature": "90 C", "cold.fluid_temperature": "20 C"})
    heats = [vehicle.solve().exchanger("cooler", "one").heat.si for vehicle in (read, made)]
    assert heats[0] > 1000.0
    assert heats[0] == pytest.approx(heats[1], rel=1e-12)
    assert read.source == str(folder / "vehicle.toml")
    assert read.solve()["hot"].layout.source == str(folder / "hot.toml")


@pytest.mark.parametrize(("old", "new", "line", "said"), [
    ('first = ["hot", "tube"]', 'first = ["hut", "tube"]', 'first =', "did you mean 'hot'?"),
    ('first = ["hot", "tube"]', 'first = ["hot", "tub"]', 'first =', "did you mean 'tube'?"),
    ('first = ["hot", "tube"]', 'first = ["hot", "elbow"]', '[exchanger', "'first_side' is missing"),
    ('first = ["hot", "tube"]', 'frist = ["hot", "tube"]', 'first =', "did you mean 'first'?"),
    ('second = ["cold", "tube"]', 'second = ["cold", "tube"]\narrangement = "counter"', 'second =', "counterflow"),
    ('[exchanger.cooler]', '[exchangers.cooler]', '[exchanger', "did you mean 'exchanger'?"),
    ('units = "metric"', 'units = "metrick"', 'units', 'write units = "metric"'),
    ('file = "hot.toml"', 'file = "warm.toml"', 'hot.toml', "no file 'warm.toml' beside this one"),
    ('file = "hot.toml"', 'file = "../hot.toml"', 'hot.toml', "leads out of the folder"),
    ('file = "hot.toml"', 'file = "/etc/passwd"', 'hot.toml', "leads out of the folder"),
    ('file = "hot.toml"', 'file = 3', 'hot.toml', 'write file = "coolant.toml"'),
    ('"hot.fluid_temperature" = "90 C"', '"hot.fluid_temprature" = "90 C"', 'hot.fluid', "did you mean 'fluid_temperature'?"),
    ('"hot.fluid_temperature" = "90 C"', '"hot.fluid_temperature" = "90 psi"', 'hot.fluid', "temperature"),
    ('"hot.fluid_temperature" = "90 C"', '"hot.tube.length" = "9 parsec"', 'hot.fluid', "hot.tube.length"),
    ('"hot.fluid_temperature" = "90 C"', '"speed" = "900 rpm"', 'hot.fluid', "no circuit has anything to set"),
])
def test_a_slip_is_told_by_file_and_line(folder, old, new, line, said):
    error = refusal(folder, old, new)
    problem = error.problems[0]
    assert len(error.problems) == 1
    assert said in str(error)
    below = 1 if "\n" in new else 0
    assert problem.span.line == line_of(line) + below
    assert str(error).startswith(f"{folder / 'vehicle.toml'}:{problem.span.line}:")


def test_several_slips_are_told_together(folder):
    error = refusal(folder, '"hot.fluid_temperature" = "90 C"\n"cold.fluid_temperature" = "20 C"',
                    '"hot.fluid_temperature" = "90 psi"\n"cold.fluid_temperature" = "20 kg"\n"hot.tube.bore" = "8 s"')
    assert len(error.problems) == 3


def test_a_slip_in_a_circuit_s_file_is_told_in_that_file(folder):
    (folder / "cold.toml").write_text(CIRCUIT.format(name="cold").replace('bore = "8 mm"', 'bore = "8 kg"'))
    with pytest.raises(fn.FileError) as caught:
        fn.load(folder / "vehicle.toml")
    assert str(caught.value).startswith(f"{folder / 'cold.toml'}:")
    assert "'bore'" in str(caught.value)


def test_a_link_out_of_the_folder_is_not_followed(folder, tmp_path_factory):
    outside = tmp_path_factory.mktemp("elsewhere") / "hot.toml"
    shutil.move(folder / "hot.toml", outside)
    os.symlink(outside, folder / "hot.toml")
    with pytest.raises(fn.FileError, match="leads out of the folder"):
        fn.load(folder / "vehicle.toml")


def test_a_vehicle_does_not_hold_a_vehicle(folder):
    (folder / "vehicle.toml").write_text(VEHICLE.replace('file = "hot.toml"', 'file = "vehicle.toml"'))
    with pytest.raises(fn.FileError, match="is a vehicle file, where a circuit is asked for"):
        fn.load(folder / "vehicle.toml")


def test_too_many_circuits_are_refused(folder):
    more = "".join(f'[circuit.n{number}]\nfile = "hot.toml"\n' for number in range(25))
    (folder / "vehicle.toml").write_text(VEHICLE + more)
    with pytest.raises(fn.FileError, match="more than 20 circuits"):
        fn.load(folder / "vehicle.toml")


def test_a_circuit_with_given_temperatures_is_refused_at_its_line(folder):
    (folder / "hot.toml").write_text(CIRCUIT.format(name="hot").replace('fluid = "water"', 'fluid = "water"\ntemperatures = "given"'))
    with pytest.raises(fn.FileError) as caught:
        fn.load(folder / "vehicle.toml")
    assert caught.value.problems[0].span.line == line_of("[circuit.hot]")
    assert "temperatures" in str(caught.value)


# ---- the command ----

def test_the_command_shows_every_circuit_and_the_exchangers(capsys):
    assert main(["solve", str(TRUCK / "vehicle.toml")]) == 0
    shown = capsys.readouterr().out
    for words in ("coolant of an invented truck", "transmission of an invented truck", "engine oil of an invented truck", "invented truck · exchangers",
                  "heat, transmission to coolant [kW]", "converter out pressure"):
        assert words in shown


def test_the_command_hands_out_json_with_the_heat_of_exchangers(capsys):
    assert main(["solve", str(TRUCK / "vehicle.toml"), "--json", "--case", "motorway"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert list(answer["circuits"]) == ["coolant", "transmission", "engine oil"]
    cooler = answer["exchangers"]["tank cooler"]
    assert cooler["first"] == ["transmission", "cooler tube"]
    assert list(cooler["cases"]) == ["motorway"]
    one = cooler["cases"]["motorway"]
    assert one["heat_W"] > 0.0
    assert one["first_out_K"] < one["first_in_K"]
    assert one["second_out_K"] > one["second_in_K"]
    assert answer["circuits"]["coolant"]["cases"]["motorway"]["junctions"]["engine out"]["total_pressure_Pa_abs"] > 1e5


def test_the_command_names_file_and_line_of_a_slip(folder, capsys):
    (folder / "vehicle.toml").write_text(VEHICLE.replace('["hot", "tube"]', '["hut", "tube"]'))
    assert main(["solve", str(folder / "vehicle.toml")]) == 2
    assert f"vehicle.toml:{line_of('first =')}:" in capsys.readouterr().err


def test_a_vehicle_from_standard_input_has_no_folder(monkeypatch, capsys):
    import io
    import sys

    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(VEHICLE.encode())))
    assert main(["solve", "-"]) == 2
    assert "standard input lies in no folder" in capsys.readouterr().err


def test_a_picture_of_a_vehicle_is_refused_before_the_solve(tmp_path, capsys):
    pytest.importorskip("matplotlib")
    assert main(["solve", str(TRUCK / "vehicle.toml"), "--plot", str(tmp_path / "ladder.png")]) == 2
    assert "one circuit" in capsys.readouterr().err
    assert not (tmp_path / "ladder.png").exists()


def test_a_vehicle_without_a_steady_temperature_ends_in_one(folder, capsys):
    for name in ("hot", "cold"):
        loop = CIRCUIT.format(name=name).replace('level = "1 m"', 'level = "1 m"\ntemperature = "found"\nheat = "2 kW"').replace('to = "ambient"', 'to = "far"')
        (folder / f"{name}.toml").write_text(loop + '[[run]]\nname = "back"\nfrom = "far"\nto = "tank"\n'
                                             'parts = [{part = "displacement_pump", displacement = "20 cc/rev", speed = "1000 rpm"}]\n')
    (folder / "vehicle.toml").write_text(VEHICLE.partition("[case.one]")[0])
    assert main(["solve", str(folder / "vehicle.toml")]) == 1
    assert "none can get out" in capsys.readouterr().err
