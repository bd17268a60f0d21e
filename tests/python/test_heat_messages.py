"""What is said of slips about heat: the likely word, the cure, and units of the trade. Every circuit is invented."""

import flarenut as fn
import pytest


def loop(sump=None, cooler=None, fluid="SAE 10W-40"):
    """Oil that a pump moves round through a cooler."""
    car = fn.Circuit("loop (invented)", fluid=fluid, air_temperature="77 F")
    car.tank("sump", level="4 in", **{"temperature": "found", "heat": "3 kW", **(sump or {})})
    car.run("out", "sump", "far", [fn.displacement_pump("10 cc/rev", speed="1500 rpm", name="pump")])
    car.run("home", "far", "sump", [fn.cooler(name="cooler", **{"heat": "200 W/K at 5 gpm", "rated_air": "95 F at 1000 ft/min", "face": ["12 in", "8 in"],
                                                                 "drop": "7 psi at 5 gpm", "rated_with": "own at 100 C", **(cooler or {})})])
    car.case("one", vehicle_speed="45 mph")
    return car


@pytest.mark.parametrize("word, meant", [("car_speed", "vehicle_speed"), ("road_speed", "vehicle_speed"), ("speed_of_vehicle", "vehicle_speed"),
                                         ("rpm", "speed"), ("engine_speed", "speed"), ("fan_speed", "fan"), ("outside_temperature", "air_temperature"),
                                         ("altitud", "altitude")])
def test_a_condition_by_another_name_is_understood(word, meant):
    for refused in (lambda: loop().case("two", **{word: "40 mph"}), lambda: fn.sweep(loop(), {word: ["40 mph"]}),
                    lambda: fn.Vehicle("v", loop()).case("two", **{word: "40 mph"})):
        with pytest.raises(fn.CircuitError, match=f"did you mean '{meant}'"):
            refused()


@pytest.mark.parametrize("written", ["find", "fond", "to be found", "unknown"])
def test_a_temperature_in_words_is_taken_for_found(written):
    with pytest.raises(fn.CircuitError, match="did you mean 'found'"):
        loop(sump={"temperature": written})
    car = loop()
    car.case("two", **{"sump.temperature": written})
    with pytest.raises(fn.CircuitError, match="did you mean 'found'"):
        car.solve("two")


def test_a_text_without_a_number_is_answered_with_an_example_of_its_kind():
    with pytest.raises(fn.UnitError, match="e.g. '185 F'"):
        loop().junction("far", temperature="warm")
    with pytest.raises(ValueError, match="e.g. '120 W/K'"):
        loop(sump={"heat_loss": "little"})


def test_power_without_a_share_of_it_is_answered_with_the_share():
    car = loop()
    car.case("two", engine_power="60 kW")
    with pytest.raises(fn.CircuitError, match='heat_share = "5 %"'):
        car.solve("two")
    truck = fn.Vehicle("truck", loop())
    truck.case("two", engine_power="60 kW")
    with pytest.raises(fn.CircuitError, match='heat_share = "5 %"'):
        truck.solve("two")


def test_a_rating_that_cannot_be_speaks_in_units_of_the_trade_of_both_systems():
    with pytest.raises(fn.CircuitError) as told:
        loop(cooler={"heat": "60 kW at 5 gpm", "rated_inlet": "230 F"}).solve()
    assert "80.5 hp (60.0 kW) is more than the rated flows can carry over 135 F (75.0 C)" in str(told.value)
    assert " W" not in str(told.value).replace("kW", "")
    with pytest.raises(fn.CircuitError) as told:
        loop(fluid="water", cooler={"heat": "9 kW at 20 L/min", "rated_inlet": "95 C", "rated_air": "35 C at 5 m/s", "rated_with": None,
                                    "passage_bore": "2 mm", "passage_length": "0.6 m"}).solve()
    assert "BTU/h/F (" in str(told.value) and " W/K)" in str(told.value) and "ft2 (" in str(told.value)


def test_no_steady_state_says_how_hot_it_was_tried():
    """60 kW into a loop whose cooler moves 200 W/K: hotter than oil may be. How far the search went is told as that, not as the end of all."""
    case = loop(sump={"heat": "60 kW"}).solve()["one"]
    assert not case.converged
    assert "no steady state within what is known of the liquid was found: with 'sump' at" in case.cause and "the hottest that was tried" in case.cause


def test_a_sweep_says_of_a_point_without_an_answer_what_a_solve_says():
    pytest.importorskip("xarray", reason="sweeps answer with xarray")
    with pytest.warns(fn.SweepWarning, match="none of 1"):
        found = fn.sweep(loop(), {"sump.heat": ["60 kW"]}, outputs=["sump.temperature"])
    assert fn.words_of(found["status"]).values.ravel().tolist() == ["not solved"]
    assert "not solved" in loop(sump={"heat": "60 kW"}).solve().table().text()


def test_in_cold_air_thick_oil_in_the_cooler_is_named_too():
    def cause(air):
        car = loop(sump={"heat": "60 kW"})
        car.case("two", vehicle_speed="45 mph", air_temperature=air)
        return car.solve()["two"].cause

    assert "oil may thicken in 'cooler'" in cause("32 F") and "a thermostat or a bypass" in cause("32 F")
    assert "thicken" not in cause("77 F") and "Look at the heat put in" in cause("77 F")
