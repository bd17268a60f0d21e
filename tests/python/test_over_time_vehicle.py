"""Vehicles in the course of time: they settle where a steady solve says, heat that leaves one circuit enters the other. The truck is invented."""

from pathlib import Path

import flarenut as fn
import numpy
import pytest
from flarenut.circuit.file import FileError, read
from flarenut.cli import main

FOLDER = Path(__file__).resolve().parents[2] / "docs" / "guide" / "examples" / "truck"
STORED = (("coolant", "expansion tank", "5 kJ/K"), ("coolant", "engine out", "90 kJ/K"), ("transmission", "pan", "25 kJ/K"), ("engine oil", "sump", "30 kJ/K"))
DRIVE = '\n[drive.morning]\ncases = [["2 min", "winter morning"], ["4 min", {speed = "2200 rpm", engine_power = "45 kW", vehicle_speed = "30 m/s"}]]\n'


def truck(stored=STORED):
    vehicle = fn.load(FOLDER / "vehicle.toml")
    for circuit, place, capacity in stored:
        vehicle.circuits[circuit].change(place, heat_capacity=capacity)
    return vehicle


@pytest.fixture(scope="module")
def warmed():
    return fn.over_time(truck(), [("6 min", "winter morning"), ("10 min", "motorway")], units="metric")


def test_it_settles_where_a_steady_solve_says():
    vehicle = truck()
    long, steady = fn.over_time(vehicle, [("3 h", "motorway")], every="10 min", start="50 C"), vehicle.solve("motorway")
    for circuit, place in (("coolant", "engine out"), ("transmission", "pan"), ("engine oil", "sump")):
        assert long[circuit].moments[-1].at(place).temperature.si == pytest.approx(steady[circuit]["motorway"].at(place).temperature.si, abs=0.02)
    assert long.series("plate cooler.heat").si[-1] == pytest.approx(steady.exchanger("plate cooler", "motorway").heat.si, rel=1e-3)


def test_what_the_exchanger_takes_from_oil_goes_into_the_coolant_and_the_sump_warms_by_what_is_left(warmed):
    oil, coolant = warmed.series("engine oil.oil cooler, oil side.heat").si, warmed.series("coolant.oil cooler, coolant side.heat").si
    numpy.testing.assert_allclose(oil, -coolant, atol=1e-6 * numpy.abs(oil).max())
    numpy.testing.assert_array_equal(warmed.series("plate cooler.heat").si, oil)
    # heat into the sump less what leaves it, summed by hand over the motorway, against what it stores
    part, engine = [k for k, case in enumerate(warmed.cases) if case == "motorway"][1:], warmed["engine oil"]
    sump = warmed.temperature("engine oil.sump").si
    put = numpy.array([one.number("sump.heat") + one.part("oil pump").power.si for one in engine.moments])
    air = numpy.array([one.number("air.temperature") for one in engine.moments])
    lines = numpy.array([sum(one.solution.heat_of(name) for name in one.part_names) for one in engine.moments])  # exchanger among them
    net = put + lines - engine.moments[0].number("sump.conductance") * (sump - air)
    times = warmed.times[part]
    summed = float(numpy.sum(0.5 * (net[part][1:] + net[part][:-1]) * numpy.diff(times)))
    assert 30e3 * (sump[part][-1] - sump[part][0]) == pytest.approx(summed, rel=0.05)  # the oil in its lines stores a little, too


def test_everything_begins_as_warm_as_the_air_and_the_thermostat_is_told_with_its_circuit(warmed):
    assert warmed.start.to("C") == pytest.approx(-5.0) and warmed.temperature("transmission.pan").si[0] == pytest.approx(268.15)
    told = warmed.events()
    assert told[0].startswith("Drive: winter morning to 6 min, motorway to 16 min.") and any(one.startswith("coolant: thermostat begins to open at ") for one in told)
    assert warmed.opens("coolant.thermostat").si == pytest.approx(warmed["coolant"].opens("thermostat").si) and warmed.reaches("engine oil.sump", "300 C") is None
    assert warmed.complete and not warmed.why_not and len(warmed.findings["transmission"]) > 0


def test_tables_pictures_and_files_are_of_all_circuits(warmed, tmp_path):
    pytest.importorskip("xarray")
    text = warmed.text(110)
    assert text.count("Drive: ") == 1 and text.count("over time") >= 4 and "plate cooler heat" in text and max(map(len, text.splitlines())) <= 110
    some = warmed.table(["1 min"], rows=["engine oil.sump.temperature", "plate cooler.heat"]).text(110)
    assert "sump temperature [C]" in some and "plate cooler heat [W]" in some and "----\n\n  Drive" not in some and "pan temperature" not in some and "begins to open" in some
    assert "transmission" in some and "front pump" in some  # findings of those that are not asked for, too
    warmed.save(tmp_path / "a.csv")
    found = fn.load_sweep(tmp_path / "a.csv")
    assert found["coolant.engine out.temperature"].values.tolist() == warmed.temperature("coolant.engine out").si.tolist()
    assert found["tank cooler.heat"].sizes["time"] == len(warmed.times)
    labels = [text.get_text().replace("\n", " ") for text in fn.time_picture(warmed, units="metric").get_legend().get_texts()]
    assert "engine oil.sump" in labels and "transmission.pan" in labels


def test_why_a_drive_of_a_vehicle_ends_early_is_told_once_for_all_its_circuits():
    drive = fn.over_time(truck(), [("1 min", "winter morning"), ("60 min", {"speed": "2200 rpm", "engine_power": "400 kW", "vehicle_speed": "1 m/s"})], every="1 min")
    assert not drive.complete
    shown = " ".join(drive.text(110).split())
    assert shown.count("the drive ends early") == 1 and shown.count("It ends early") == 1
    assert all(any(one.code == "not solved" for one in found) for found in drive.findings.values())  # each knows it, by itself


def test_slips_are_told_with_the_circuit():
    with pytest.raises(fn.CircuitError, match="circuit 'coolant': tank 'expansion tank' has no heat_capacity"):
        fn.over_time(truck(()), [("1 min", "motorway")])
    with pytest.raises(fn.CircuitError, match="did you mean 'motorway'"):
        fn.over_time(truck(), [("1 min", "motorwya")])
    with pytest.raises(fn.CircuitError, match="900 C"):
        fn.over_time(truck(), [("1 min", "motorway")], start="900 C")
    short = fn.over_time(truck(), [("10 s", "motorway")])
    for refused, told in ((lambda: short.series("sump.temperature"), "does not begin with"), (lambda: short.series("plate cooler.heet"), "did you mean 'heat'"),
                          (lambda: short["colant"], "did you mean 'coolant'")):
        with pytest.raises(fn.CircuitError, match=told):
            refused()


def test_ctrl_c_keeps_what_was_reached():
    def press(done, whole):
        if done > 60:
            raise KeyboardInterrupt

    with pytest.raises(fn.OverTimeInterrupted) as stop:
        fn.over_time(truck(), [("10 min", "motorway")], progress=press)
    partial = stop.value.partial
    assert not partial.complete and 60 < partial.times[-1] < 100 and numpy.isfinite(partial.temperature("coolant.engine out").si).all()


# ---- files ----

@pytest.fixture
def file(tmp_path):
    """Writes the truck with heat capacities and drives, and returns the name of the vehicle file."""
    def write(drives=DRIVE, stored=True):
        for one in FOLDER.glob("*.toml"):
            text = one.read_text(encoding="utf-8")
            text = text.replace('temperature = "found"', 'temperature = "found"\nheat_capacity = "20 kJ/K"') if stored else text
            (tmp_path / one.name).write_text(text + (drives if one.name == "vehicle.toml" else ""), encoding="utf-8")
        return str(tmp_path / "vehicle.toml")

    return write


def test_the_drive_of_a_vehicle_file_is_that_of_python(file, capsys, tmp_path):
    path = file(DRIVE + 'outputs = ["engine oil.sump.temperature", "plate cooler.heat"]\n')
    assert main(["drive", path, "--out", str(tmp_path / "a.csv"), "--out", str(tmp_path / "a.png")]) == 0
    assert "coolant: thermostat begins to open" in capsys.readouterr().out and (tmp_path / "a.png").stat().st_size > 10_000
    loaded = fn.load(path)
    drive = fn.over_time(loaded, [("2 min", "winter morning"), ("4 min", {"speed": "2200 rpm", "engine_power": "45 kW", "vehicle_speed": "30 m/s"})])
    found = fn.load_sweep(tmp_path / "a.csv")
    assert found["engine oil.sump.temperature"].values == pytest.approx(drive.temperature("engine oil.sump").to("C")) and "row 2" not in loaded.cases
    assert main(["drive", path]) == 0 and "plate cooler heat [kW]" in capsys.readouterr().out


@pytest.mark.parametrize("drives, stored, told", [
    (DRIVE.replace("winter morning", "winter mornign"), True, "did you mean 'winter morning'?"),
    (DRIVE, False, "circuit 'coolant': tank 'expansion tank' has no heat_capacity"),
    (DRIVE + 'outputs = "sump.temperature"', True, "does not begin with a circuit"), (DRIVE.replace("speed = ", "spede = ", 1), True, "did you mean 'speed'?"),
    ("", True, "there is no drive in it")])
def test_a_wrong_drive_of_a_vehicle_is_told_with_its_cure(file, capsys, drives, stored, told):
    assert main(["drive", file(drives, stored)]) == 2
    out, err = capsys.readouterr()
    assert told in err and "cure: " in err and out == "" and ("vehicle.toml:" in err)


def test_a_drive_is_read_with_the_vehicle(file):
    text = Path(file()).read_text(encoding="utf-8")
    assert list(read(text, "vehicle.toml", Path(file()).parent).drives) == ["morning"]
    with pytest.raises(FileError, match="cases' is missing"):
        read(text + "[drive.other]\n", "vehicle.toml", Path(file()).parent)


def test_findings_of_two_circuits_alike_stand_below_each_and_that_the_drive_ends_early_is_said_once():
    def axle():
        circuit = fn.Circuit("axle (invented)", fluid="SAE 10W-40", air_temperature="20 C", temperatures="found")
        circuit.tank("sump", level="80 mm", temperature="found", heat="2.6 kW", heat_loss="10 W/K", heat_capacity="8 kJ/K")
        circuit.run("pumping", "sump", "gallery", [fn.displacement_pump("12 cc/rev", speed="3000 rpm", name="pump"), fn.hose(bore="8 mm", length="1 m", name="hose")])
        circuit.run("back", "gallery", "sump", [fn.orifice("3 mm", name="jet")])
        circuit.case("road", speed="3000 rpm")
        return circuit

    vehicle = fn.Vehicle("twin (invented)", units="metric")
    for name in ("front", "rear"):
        vehicle.add(axle(), name)
    vehicle.case("road", speed="3000 rpm")
    drive = fn.over_time(vehicle, [("10 min", "road")], every="1 min")
    assert not drive.complete and [one.code for one in drive.findings["front"]] == [one.code for one in drive.findings["rear"]]
    front, rear = (table.findings for table in drive.table().tables[:2])
    stops = {one.code for one in drive.findings["rear"] if one.severity == "stop"}
    assert {"not solved", "no relief"} <= stops and sum(severity == "stop" for severity, _ in rear) == len(stops) - 1
    assert rear == [one for one in front if "the drive ends early" not in one[1]] and len(rear) == len(front) - 1
    assert [table.title.partition(" · ")[0] for table in drive.table().tables[:2]] == ["front", "rear"]
