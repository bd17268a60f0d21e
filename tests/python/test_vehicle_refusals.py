"""What a vehicle refuses: place, key, value and cure."""

import pytest

import flarenut as fn
from flarenut import CircuitError


def circuit(name, **words):
    made = fn.Circuit(name, fluid="water", **words)
    made.tank("tank", level="1 m")
    made.run("way", "tank", "ambient", [fn.tube(bore="8 mm", length="2 m", name="tube"), fn.hose("-8", "1 m", spec="ptfe", air="still", name="hose in air")])
    return made


def pair():
    return fn.Vehicle("pair", circuit("one"), circuit("two"))


def refusal(function, *arguments, **words):
    with pytest.raises(CircuitError) as caught:
        function(*arguments, **words)
    return caught.value


@pytest.mark.parametrize(("first", "second", "words", "key", "said"), [
    (("one", "tube"), ("three", "tube"), {}, "second", "no circuit 'three'"),
    (("one", "tube"), "tube", {}, "second", "name a circuit and a part"),
    (("one", "tube"), ("two", "tube"), {"arrangement": "counter flow"}, "arrangement", "did you mean 'counterflow'?"),
    (("one", "tube"), ("two", "tube"), {"first_side": "plates"}, "first_side", "write what it is made of"),
    (("one", "tube"), ("two", "tube"), {"first_side": {"plates": 8, "gap": "2 mm", "width": "60 mm"}}, "first_side", "lacks its 'length'"),
    (("one", "tube"), ("two", "tube"), {"second_side": {"area": "0.2 m2", "bore": "4 mm", "lenght": "1 m"}}, "second_side", "did you mean 'length'?"),
    (("one", "tube"), ("two", "tube"), {"second_side": {"tubes": 2.5, "bore": "4 mm", "length": "1 m"}}, "second_side.tubes", "whole number"),
    (("one", "tube"), ("two", "tube"), {"wall_resistance": -1}, "wall_resistance", "below zero"),
])
def test_words_of_an_exchanger_are_judged_as_they_are_written(first, second, words, key, said):
    error = refusal(pair().exchanger, "cooler", first, second, **words)
    assert error.place == "exchanger 'cooler'"
    assert error.key == key
    assert said in str(error)


@pytest.mark.parametrize(("part", "said"), [("tub", "did you mean 'tube'?"), ("hose in air", "gives its heat to the air as it is")])
def test_parts_of_an_exchanger_are_looked_for_when_it_is_solved(part, said):
    vehicle = pair()
    vehicle.exchanger("cooler", ("one", part), ("two", "tube"))
    error = refusal(vehicle.solve)
    assert (error.place, error.key, error.value) == ("exchanger 'cooler'", "first", part)
    assert said in str(error)


def test_one_part_belongs_to_one_exchanger():
    vehicle = pair()
    for name in ("cooler", "second cooler"):
        vehicle.exchanger(name, ("one", "tube"), ("two", "tube"))
    error = refusal(vehicle.solve)
    assert error.place == "exchanger 'second cooler'"
    assert "already belongs to exchanger 'cooler'" in str(error)


def test_a_side_needs_its_passages_where_its_part_is_no_line():
    vehicle = fn.Vehicle("pair", circuit("one"))
    other = circuit("two")
    other.run("core way", "tank", "ambient", [fn.core("0.1 bar at 10 L/min", name="core")])
    vehicle.add(other)
    vehicle.exchanger("cooler", ("one", "tube"), ("two", "core"))
    error = refusal(vehicle.solve)
    assert (error.place, error.key) == ("exchanger 'cooler'", "second_side")
    assert "plates" in error.cure


def test_circuits_are_circuits_with_names_of_their_own():
    vehicle = pair()
    assert "not a circuit" in str(refusal(vehicle.add, "coolant"))
    assert "used twice" in str(refusal(vehicle.add, circuit("one")))
    assert "in the vehicle already" in str(refusal(vehicle.add, vehicle.circuits["one"], "again"))
    assert refusal(vehicle.exchanger, "one", ("one", "tube"), ("two", "tube")).key == "name"
    error = refusal(vehicle.add, circuit("three", temperatures="given"))
    assert (error.place, error.key) == ("circuit 'three'", "temperatures")
    assert "no circuits" in str(refusal(fn.Vehicle("empty").solve))


@pytest.mark.parametrize(("word", "value", "said"), [
    ("spede", "900 rpm", "did you mean 'speed'?"),
    ("speed", "900 rpm", "no circuit has anything to set 'speed' on"),
    ("tube.length", "3 m", "does not begin with a circuit"),
    ("one.altitude", "1000 m", "all circuits stand in it"),
    ("one.tube.lenght", "3 m", "did you mean 'length'?"),
    ("one.fluid_temperature", "3 m", "fluid_temperature"),
    ("one.tube.length", "2000 km", "outside its range"),
    ("engine_power", "50 kW", "no circuit has anything to set 'engine_power' on"),
    ("cooler.plates", 9, "an exchanger has no 'plates' to change"),
    ("cooler.wall_resistance", -1, "below zero"),
])
def test_a_condition_that_no_circuit_stands_is_told_by_case_and_word_as_written(word, value, said):
    vehicle = pair()
    vehicle.exchanger("cooler", ("one", "tube"), ("two", "tube"))

    def both():
        vehicle.case("hot", **{word: value})
        vehicle.solve()

    error = refusal(both)
    assert error.place == "case 'hot'"
    assert error.key == word
    assert error.value == value
    assert said in str(error)
    vehicle.cases.clear()
    assert vehicle.solve().converged  # nothing of the refused case is left


def test_cases_are_asked_for_by_name():
    vehicle = pair()
    vehicle.case("hot", fluid_temperature="60 C")
    assert "did you mean 'hot'?" in str(refusal(vehicle.solve, "hto"))
    assert "used twice" in str(refusal(vehicle.case, "hot"))


def test_circuits_that_stand_in_other_air_need_the_vehicle_s_word():
    apart = [circuit("one"), circuit("two", air_temperature="35 C")]
    error = refusal(fn.Vehicle("apart", *apart).solve)
    assert error.key == "air_temperature"
    assert "say air_temperature of the vehicle" in str(error)
    assert fn.Vehicle("together", circuit("one"), circuit("two", air_temperature="35 C"), air_temperature="30 C").solve().converged


def test_a_loop_without_a_way_out_for_its_heat_is_told_by_circuit_and_place():
    vehicle = fn.Vehicle("shut in")
    for name, heat in (("oil", "2 kW"), ("water", None)):
        loop = fn.Circuit(name, fluid="water")
        loop.tank("sump", level="0.5 m", temperature="found", heat=heat)
        loop.run("round", "sump", "far", [fn.displacement_pump(displacement="20 cc/rev", speed="1000 rpm", name="pump")])
        loop.run("back", "far", "sump", [fn.tube(bore="10 mm", length="2 m", name="tube")])
        vehicle.add(loop)
    vehicle.exchanger("cooler", ("oil", "tube"), ("water", "tube"))
    answer = vehicle.solve()
    assert not answer.converged
    cause = answer["oil"]["as written"].cause
    assert "(2.00 kW) of heat" in cause
    assert "water: " in cause or "oil: " in cause
    assert answer["water"]["as written"].cause == cause
    assert "not solved" in str(answer)
