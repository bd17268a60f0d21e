"""Sweeps over heat: what is swept and read is what single solves give, with units and words."""

from contextlib import nullcontext

import flarenut as fn
import pytest

pytest.importorskip("xarray")

OUTPUTS = ["gallery.temperature", "sump.temperature", "oil cooler.heat", "oil cooler.temperature_in", "oil cooler.temperature_out",
           "oil cooler.temperature_drop", "pump.power", "oil cooler.inlet.temperature", "energy_closure"]


def oil(**sump):
    """Sump, pump, cooler behind a thermostat and round it, gallery; invented."""
    circuit = fn.Circuit("oil (invented)", fluid="SAE 10W-40", fluid_temperature="80 C", air_temperature="20 C")
    circuit.tank("sump", level="80 mm", **{"temperature": "found", "heat_loss": "15 W/K", "heat_share": "5 %", **sump})
    circuit.fixed("crankcase", height="200 mm", drains_to="sump")
    circuit.junction("gallery")
    circuit.run("pumping", "sump", "pump out", [fn.displacement_pump("12 cc/rev", speed="3000 rpm", name="pump")])
    circuit.run("round", "pump out", "gallery", [fn.bypass_thermostat("85 C", "97 C", bore="12 mm", name="bypass leg")])
    circuit.run("cooling", "pump out", "gallery", [
        fn.thermostat("85 C", "97 C", bore="12 mm", name="thermostat"),
        fn.cooler("9 kW at 20 L/min", rated_inlet="110 C", rated_air="35 C at 5 m/s", face=["300 mm", "190 mm"], drop="0.4 bar at 20 L/min",
                  rated_with="own at 100 C", name="oil cooler")])
    circuit.run("mains", "gallery", "crankcase", [fn.orifice("4 mm", name="mains")])
    circuit.case("road", engine_power="60 kW", vehicle_speed="25 m/s")
    return circuit


SWEPT = [{"vehicle_speed": ["10 m/s", "30 m/s"], "air_temperature": ["-10 C", "40 C"]}, {"engine_power": ["30 kW", "90 kW"], "fan": ["0 m/s", "4 m/s"]},
         {"sump.heat": ["1 kW", "5 kW"], "sump.heat_loss": ["5 W/K", "30 W/K"]}, {"oil cooler.inside_share": ["30 %", "60 %"]},
         {"oil cooler.face": [["300 mm", "190 mm"], ["400 mm", "190 mm"]], "sump.temperature": ["20 C", "90 C"]},
         {"pump.overall_efficiency": ["60 %", "90 %"], "thermostat.opens": ["75 C", "85 C"]}, {"fluid": ["SAE 5W-30", "SAE 20W-50"]}]


@pytest.mark.parametrize("vary", SWEPT, ids=lambda vary: ", ".join(vary))
def test_a_sweep_over_heat_agrees_with_single_solves(vary):
    import itertools

    read = [name for name in OUTPUTS if name not in vary]
    with pytest.warns(fn.SweepWarning, match="its rating does not") if "oil cooler.face" in vary else nullcontext():
        answer = fn.sweep(oil(), vary, outputs=read)
    names = list(vary)
    for places in itertools.product(*(range(len(values)) for values in vary.values())):
        values = {name: vary[name][place] for name, place in zip(names, places)}
        car = oil()
        if "fluid" in values:
            car.fluid = fn.fluid(values.pop("fluid"))
            car.compile_anew()
        car.case("single", **{**car.cases["road"].conditions, **values})
        case = car.solve("single")["single"]
        cooler = case.part("oil cooler")
        single = dict(zip(OUTPUTS, (case.at("gallery").temperature, case.at("sump").temperature, cooler.heat, cooler.temperature_in, cooler.temperature_out,
                                    cooler.temperature_drop, case.part("pump").power, cooler.inlet.temperature)))
        point = answer.isel(dict(zip(names, places))).sel(case="road")
        for name in read[:-1]:
            assert float(point[name]) == pytest.approx(single[name].si, rel=1e-6, abs=1e-3), (name, values)
        assert 0.0 <= float(point["energy_closure"]) <= 1e-9


def test_outputs_of_heat_have_units_and_words_and_go_over_to_other_units():
    answer = fn.sweep(oil(), {"engine_power": ["30 kW", "90 kW"]}, outputs=OUTPUTS)
    said = {name: (answer[name].attrs["units"], answer[name].attrs["long_name"]) for name in OUTPUTS}
    assert said["gallery.temperature"] == ("K", "gallery temperature") and said["oil cooler.heat"] == ("W", "oil cooler heat given off")
    assert said["pump.power"] == ("W", "pump power into the liquid") and said["oil cooler.temperature_drop"][0] == "K"
    assert answer["engine_power"].attrs == {"long_name": "engine power", "units": "kW"}
    us = fn.in_units(answer, "us")["gallery.temperature"]
    assert us.attrs["units"] == "F" and float(us[0, 0]) == pytest.approx(float(answer["gallery.temperature"][0, 0]) * 1.8 - 459.67)


def test_a_sweep_shows_temperatures_and_heat_unasked_where_they_are_found():
    answer = fn.sweep(oil(), {"engine_power": ["30 kW", "90 kW"]})
    for name in ("sump.temperature", "gallery.temperature", "oil cooler.temperature_in", "oil cooler.temperature_out", "oil cooler.heat", "pump.power"):
        assert name in answer and answer[name].attrs["long_name"], name
    assert not any("boiling.margin" in name or name.endswith(".temperature.gauge") for name in answer)


def test_the_suction_limit_of_a_sweep_goes_by_the_temperature_found():
    circuit = fn.Circuit("fuel (invented)", fluid=fn.fluid("gasoline", reid="7 psia"), fluid_temperature="10 C")
    circuit.tank("cell", level="200 mm", temperature="found", heat_loss="10 W/K", heat="100 W")
    circuit.run("feed", "cell", "rail", [fn.formula_pump("7 bar", "300 L/h", name="pump")])
    circuit.run("return", "rail", "cell", [fn.orifice("1.5 mm")])
    answer = fn.sweep(circuit, {"cell.heat": ["0 W", "100 W"]}, outputs="pump.suction_margin")
    from flarenut import checks
    from flarenut.checks.suction import least_margin

    circuit.case("cool", **{"cell.heat": "0 W"})
    circuit.case("hot", **{"cell.heat": "100 W"})
    asked = [least_margin(case, "pump", checks.Limits()) for case in circuit.solve().values()]
    assert asked[1] > 1.1 * asked[0]
    assert answer["pump.suction_limit"].values.ravel() == pytest.approx(asked, rel=1e-6)


def test_a_reading_of_heat_that_is_none_is_met_with_the_right_word():
    for name, close in (("sump.temprature", "temperature"), ("oil cooler.heet", "heat"), ("pump.powr", "power")):
        with pytest.raises(fn.CircuitError, match=f"did you mean '{close}'"):
            fn.sweep(oil(), {"engine_power": ["30 kW"]}, outputs=name)


def test_points_without_a_steady_temperature_have_their_reason():
    answer = fn.sweep(oil(heat_loss="0 W/K"), {"engine_power": ["60 kW", "600 kW"], "vehicle_speed": ["25 m/s"]}, outputs="gallery.temperature")
    status = fn.words_of(answer["status"]).values.ravel().tolist()
    assert status == ["solved", "not solved"]
    assert "would still take up" in fn.words_of(answer["reason"]).values.ravel()[1]
