"""Sweeps of whole vehicles: each point against a vehicle solved by itself. The truck is invented."""

from pathlib import Path

import flarenut as fn
import pytest

pytest.importorskip("xarray", reason="sweeps answer with xarray")
TRUCK = Path(__file__).resolve().parents[2] / "docs" / "guide" / "examples" / "truck" / "vehicle.toml"
OUTPUTS = ["coolant.engine out.temperature", "coolant.water pump.flow", "coolant.water pump.suction_margin", "coolant.thermostat.regime",
           "plate cooler.heat", "plate cooler.first.temperature_in"]


@pytest.fixture(scope="module")
def truck():
    return fn.load(TRUCK)


def test_every_point_is_what_the_vehicle_reads_when_its_case_says_so(truck):
    vary = {"vehicle_speed": ["8 m/s", "16 m/s"], ("coolant.upper pipe.bore", "plate cooler.wall_resistance"): [("38 mm", 0), ("25 mm", 0.002)]}
    found = fn.sweep(truck, vary, "towing uphill", OUTPUTS)
    assert set(fn.words_of(found["status"]).values.ravel()) == {"solved"} and found["residual"].max() <= 1e-10
    other = fn.load(TRUCK)
    conditions = other.cases["towing uphill"].conditions
    for speed in (0, 1):
        for row, (bore, wall) in enumerate((("38 mm", 0), ("25 mm", 0.002))):
            name = f"{speed} {row}"
            other.case(name, **{**conditions, "vehicle_speed": ["8 m/s", "16 m/s"][speed], "coolant.upper pipe.bore": bore,
                                "plate cooler.wall_resistance": wall})
            single = other.solve(name)
            coolant, exchanger = single["coolant"][name], single.exchanger("plate cooler", name)
            point = found.isel({"vehicle_speed": speed, found["coolant.upper pipe.bore"].dims[0]: row, "case": 0})
            assert float(point["coolant.engine out.temperature"]) == pytest.approx(coolant.at("engine out").temperature.si, abs=1e-6)
            assert float(point["coolant.water pump.flow"]) == pytest.approx(coolant.part("water pump").flow.si, rel=1e-8)
            assert float(point["coolant.water pump.suction_margin"]) == pytest.approx(coolant.part("water pump").suction.margin.si, rel=1e-8)
            assert str(fn.words_of(point["coolant.thermostat.regime"]).values) == coolant.part("thermostat").regime
            assert float(point["plate cooler.heat"]) == pytest.approx(exchanger.heat.si, rel=1e-8)
            assert float(point["plate cooler.first.temperature_in"]) == pytest.approx(exchanger.first.temperature_in.si, abs=1e-6)
    assert found["plate cooler.heat"].attrs["kind"] == "power" and "38 mm" not in truck.cases


def test_without_outputs_temperatures_and_heat_of_all_circuits_are_read_and_files_hold_them(truck, tmp_path):
    found = fn.sweep(truck, {"fan": ["0 m/s", "4 m/s"]}, cases=["motorway"], units="metric")
    for name in ("coolant.radiator.heat", "engine oil.sump.temperature", "transmission.pan.temperature", "tank cooler.heat", "margin_to_boiling"):
        assert found[name].notnull().all()
    assert float(found["margin_to_boiling"].min()) > 0.0
    for name in ("a.csv", "a.nc"):
        fn.save_sweep(found, tmp_path / name)
        assert fn.load_sweep(tmp_path / name)["tank cooler.heat"].values.tolist() == found["tank cooler.heat"].values.tolist()


def test_refused_points_say_why_and_a_word_that_no_point_accepts_is_an_error(truck):
    with pytest.warns(fn.SweepWarning, match="refused"), pytest.warns(fn.SweepWarning, match="its rating does not"):
        found = fn.sweep(truck, {"coolant.radiator.face": [["300 mm", "200 mm"], ["620 mm", "460 mm"]]}, "motorway", ["coolant.radiator.heat"])
    assert fn.words_of(found["status"]).values.ravel().tolist() == ["refused", "solved"]
    assert "more than the rated flows can carry" in str(fn.words_of(found["reason"]).values.ravel()[0])
    with pytest.raises(fn.CircuitError, match="write width and height"):
        fn.sweep(truck, {"coolant.radiator.face": ["x"]}, "motorway")


@pytest.mark.parametrize("vary, more, told", [
    ({"coolant.radiator.fac": [1]}, {}, "did you mean 'face'"), ({"radiator.face": [1]}, {}, "begins with its circuit"),
    ({"colant.radiator.face": [1]}, {}, "did you mean 'coolant'"), ({"coolant.fluid": ["water"]}, {}, "vary a word of it"),
    ({"coolant.radiator": [1]}, {}, "a part as a whole"), ({"speed": ["900 rpm"]}, {"cases": "hil"}, "there is no case 'hil'"),
    ({"altitude": ["0 m"], "ambient_pressure": ["1 bar"]}, {}, "say the same thing"), ({"speed": ["900 rpm"]}, {"findings": True}, "solve the points"),
    ({"speed": ["900 rpm"]}, {"outputs": "coolant.engine uot.temperature"}, "there is no reading"),
    ({"speed": ["900 rpm"]}, {"outputs": "plate cooler.heet"}, "did you mean 'heat'"), ({"speed": ["900 rpm"]}, {"outputs": "sump"}, "does not begin with"),
])
def test_slips_are_told_in_words(truck, vary, more, told):
    with pytest.raises(fn.CircuitError, match=told):
        fn.sweep(truck, vary, **more)


def test_ctrl_c_keeps_what_was_solved(truck):
    def press(done, count):
        if done == 2:
            raise KeyboardInterrupt

    with pytest.raises(fn.SweepInterrupted) as stop:
        fn.sweep(truck, {"fan": ["0 m/s", "2 m/s", "4 m/s"]}, "motorway", ["coolant.radiator.heat"], progress=press)
    assert fn.words_of(stop.value.partial["status"]).values.ravel().tolist() == ["solved", "solved", "not reached"]
    assert stop.value.partial["coolant.radiator.heat"].isnull().values.ravel().tolist() == [False, False, True]


def test_what_takes_one_circuit_says_so_of_a_vehicle(truck):
    for refused in (lambda: fn.compare({"one": truck, "other": fn.load(TRUCK)}), lambda: fn.line_sizes(truck, "upper pipe")):
        with pytest.raises(fn.CircuitError, match=r"vehicle.circuits\['coolant'\]"):
            refused()


def test_a_rated_radiator_whose_face_alone_varies_is_told(truck, recwarn):
    """In fast air the bigger face of the same rating shows hotter coolant; with a rating of its own it cools."""
    faces, fast = [["620 mm", "460 mm"], ["900 mm", "600 mm"]], {"vehicle_speed": ["30 m/s"]}
    with pytest.warns(fn.SweepWarning, match="'coolant.radiator.face' varies and its rating does not.*vary 'coolant.radiator.heat' along"):
        alone = fn.sweep(truck, {"coolant.radiator.face": faces, **fast}, "towing uphill", "coolant.engine out.temperature")
    small, big = alone["coolant.engine out.temperature"].values.ravel()
    assert big > small and "its rating does not" in alone.attrs["notes"]
    recwarn.clear()
    both = fn.sweep(truck, {("coolant.radiator.face", "coolant.radiator.heat"): list(zip(faces, ["130 kW at 160 L/min", "200 kW at 160 L/min"])), **fast},
                    "towing uphill", "coolant.engine out.temperature")
    assert not recwarn.list and both["coolant.engine out.temperature"].values.ravel()[1] < small


def test_a_circuit_by_itself_is_told_too(truck):
    circuit = truck.circuits["coolant"].copy()
    with pytest.warns(fn.SweepWarning, match="'radiator.face' varies and its rating does not"):
        fn.sweep(circuit, {"radiator.face": [["620 mm", "460 mm"], ["700 mm", "500 mm"]]}, outputs="radiator.flow")
