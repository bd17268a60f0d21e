"""Wrong calls from Python: each must be told where it is wrong, what is wrong and how to cure it, by the word that was written."""

import re

import flarenut as fn
import pytest

# Wrong calls from Python: the call and what its message must say.
CALLS = {
    "unknown argument": (lambda: fn.hose("-8", lenght="11 ft"), ["lenght", "length"]),
    "bare number": (lambda: fn.hose("-8", 11, spec="ptfe"), ["length", "without a unit"]),
    "wrong kind": (lambda: fn.hose("-8", "11 psi", spec="ptfe"), ["pressure", "a length"]),
    "tube walls": (lambda: fn.tube("3/8 in", "9 ft", wall="0.2 in"), ["wall", "no bore"]),
    "elbow form": (lambda: fn.elbow("-8", 90, form="bent"), ["form", "forged"]),
    "elbow angle": (lambda: fn.elbow("-8", 270), ["angle", "180"]),
    "two coefficients": (lambda: fn.valve(cv=2, kv=2), ["cv", "kv"]),
    "valve beyond open": (lambda: fn.valve(cv=2, opening=50), ["opening", "50 %"]),
    "check valve drop": (lambda: fn.check_valve("3 psi", rated="2 psi at 300 L/h"), ["rated", "cracking"]),
    "relief second step": (lambda: fn.relief_valve("60 psi", wide_open="10 psi at 8 gpm", second_opens_at="80 psi"), ["second_wide_open"]),
    "pump on water": (lambda: fn.electric_pump([{"volts": 12}]), ["points"]),
    "pump word": (lambda: fn.electric_pump([{"voltage": 12, "points": []}]), ["voltage", "volts"]),
    "two charts at one voltage": (lambda: fn.electric_pump([{"volts": 12, "points": [["0 gph", "9 psi"], ["1 gph", "1 psi"]]}] * 2), ["two charts"]),
    "formula through": (lambda: fn.formula_pump("95 psi", "420 L/h", through="99 psi at 10 L/h"), ["through"]),
    "flow by mass": (lambda: fn.formula_pump("95 psi", "420 lb/h"), ["by mass", "L/h"]),
    "corners": (lambda: fn.passage("8 mm", "100 mm", corners=1.5), ["corners"]),
    "exponent": (lambda: fn.resistance("5 psi at 3 gpm", exponent=3), ["exponent", "between 1 and 2"]),
    "table that falls": (lambda: fn.measured_part([["1 gpm", "5 psi"], ["2 gpm", "4 psi"]], rated_with="water"), ["rise"]),
    "fluid": (lambda: fn.Circuit("x", fluid="deisel"), ["deisel", "diesel"]),
    "attribute": (lambda: fn.nothing, ["nothing"]),
}


@pytest.mark.parametrize("slip", CALLS)
def test_every_wrong_call_is_told_its_fault(slip):
    call, told = CALLS[slip]
    with pytest.raises((ValueError, AttributeError)) as caught:
        call()
    assert all(word in str(caught.value) for word in told), str(caught.value)


def test_the_engine_refuses_a_part_by_the_key_that_its_builder_wrote():
    car = fn.Circuit("car", fluid="gasoline")
    car.tank("cell")
    car.run("line", "cell", "ambient", [fn.relief_valve("20000 psi", wide_open="10 psi at 8 gpm", name="relief")])
    with pytest.raises(fn.CircuitError) as caught:
        car.solve()
    assert (caught.value.place, caught.value.key, caught.value.value) == ("relief", "opens_at", "20000 psi")
    assert caught.value.cure == "give 0.145 to 14504 psi, and check its unit"  # 1e3 to 1e8 Pa, 6894.757 Pa to the psi


def plumbed():
    car = fn.Circuit("car", fluid="gasoline")
    car.tank("cell")
    car.junction("rail", demand="2 gph")
    car.run("line", "cell", "rail", [fn.formula_pump("60 psi", "90 gph", volts_lost="1 V", name="pump"), fn.filter("1 psi at 90 gph", name="filter"),
                                     fn.hose("-8", "3 ft", spec="ptfe", name="hose")])
    car.run("spill", "rail", "cell", [fn.relief_valve("40 psi", wide_open="5 psi at 90 gph", name="relief")])
    return car


# what is changed, its word, as written, what is told
OUT_OF_RANGE = [
    ("hose", "length", "5280 ft", "hose: 'length' is '5280 ft', outside its range: give 0 to 3281 ft"),  # 1000 m
    ("hose", "length", "2000 m", "hose: 'length' is '2000 m', outside its range: give 0 to 1000 m"),
    ("relief", "opens_at", "2000 bar", "relief: 'opens_at' is '2000 bar', outside its range: give 0.01 to 1000 bar"),
    ("pump", "dead_head", "90000 psi", "pump: 'dead_head' is '90000 psi', outside its range: give 0.0145 to 14504 psi"),
    ("cell", "level", "40 ft", "cell: 'level' is '40 ft', outside its range: give 0 to 32.8 ft"),  # 10 m
    ("rail", "supply", "1e9 gph", "rail: 'supply' is '1e9 gph', which makes 6.22e+09 lb/h (2.82e+09 kg/h)"),
    ("filter", "loading", 20000, "filter: 'loading' is 20000, outside its range: give 1 to 10000")]


@pytest.mark.parametrize("name, word, written, told", OUT_OF_RANGE)
def test_a_change_out_of_range_is_told_by_its_word_and_in_its_unit(name, word, written, told):
    car = plumbed()
    before = list(car.solve()["as written"].solution.pressure)
    with pytest.raises(fn.CircuitError) as refusal:
        car.change(name, **{word: written})
    assert str(refusal.value).startswith(told) and (refusal.value.place, refusal.value.key, refusal.value.value) == (name, word, written)
    assert list(car.solve()["as written"].solution.pressure) == before


@pytest.mark.parametrize("name, word, written, told", OUT_OF_RANGE)
def test_so_is_a_word_of_a_part_in_a_case(name, word, written, told):
    car = plumbed()
    car.case("wrong", **{f"{name}.{word}": written})
    with pytest.raises(fn.CircuitError) as refusal:
        car.solve()
    assert str(refusal.value).startswith(told.replace(f"{name}: '{word}'", f"case 'wrong': '{name}.{word}'")) and refusal.value.key == f"{name}.{word}"


@pytest.mark.parametrize("conditions, told", [
    ({"volts": "62 V"}, "'volts' is '62 V', which makes 61.0 V, outside its range: check the figures"),  # 1 V is lost in the wires
    ({"pump.volts": 90}, "'pump.volts' is 90, which makes 89.0 V"),
    ({"tank_level": "12 m"}, "'tank_level' is '12 m', outside its range: give 0 to 10 m"),
    ({"tank_level": "12 m", "cell.level": "2 in", "filter_loading": 0.5}, "'filter_loading' is 0.5, outside its range: give 1 to 10000"),
    ({"ambient_pressure": "0.1 psia"}, "'ambient_pressure' is '0.1 psia', outside its range: give 0.145 to 1450 psia"),
    ({"acceleration": "500 g"}, "'acceleration' is '500 g', outside its range: give -102 to 102 g"),  # 1000 m/s2
    ({"fluid_temperature": "300 C"}, "'fluid_temperature' is '300 C': temperature 572 F (300 C) is above 248 F (120 C)")])
def test_a_condition_out_of_range_is_told_by_its_word(conditions, told):
    car = plumbed()
    car.case("wrong", **conditions)
    with pytest.raises(fn.CircuitError) as refusal:
        car.solve()
    assert str(refusal.value).startswith(f"case 'wrong': {told}") and refusal.value.value == conditions[refusal.value.key]


@pytest.mark.parametrize("field, key, written, told", [
    ("band", "override", None, "relief: 'override' comes to a band of 29008 psi (2000 bar), outside its range"),
    ("band", "band", None, "relief: 'band' comes to 29008 psi (2000 bar), outside its range"),
    ("band", "override", "5 psi at 3 gpm", "relief: 'override' is '5 psi at 3 gpm', which makes a band of 29008 psi (2000 bar), outside its range")])
def test_a_value_that_came_of_something_else_is_told_in_plain_english(field, key, written, told):
    from flarenut import _core
    from flarenut.circuit.ranges import in_words

    refusal = _core.InputError("relief: band is outside its range")
    refusal.place, refusal.field, refusal.trouble = "relief", field, "2e+08 Pa is outside 10 to 1e+07 Pa; lower it"
    error = in_words(refusal, key, written)
    assert str(error).startswith(told) and "the band may be 0.00145 psi (0.0001 bar) to 1450 psi (100 bar)" in error.cure
    assert (error.place, error.key, error.value) == ("relief", key, written)


def test_every_number_of_a_part_is_known_by_a_key_that_the_part_takes():
    from flarenut.circuit.file.sections import part_words
    from flarenut.circuit.ranges import key_of

    nobody_writes = {"discharge_coefficient", "laminar_constant", "turbulent_constant", "size_constant"}
    for word, build in part_words().items():
        piece = build(**USUAL[word])
        for element in piece.elements:
            if word == "straight":
                nobody_writes.add("roughness")
            idle = {field for field, number in element.numbers.items() if number == 0.0}
            for field in {*element.numbers, *element.columns} - nobody_writes - idle:
                assert key_of(field, piece.given, piece.keys) in piece.keys, (word, field)


@pytest.mark.parametrize("piece", [
    fn.cooler("9 kW at 20 L/min", rated_inlet="110 C", rated_air="35 C at 5 m/s", face="0.06 m2", drop="6 psi at 20 L/min", rated_with="water at 20 C"),
    fn.cooler(heat_table={"flow": ["10 L/min"], "air_speed": ["3 m/s"], "heat_per_degree": [["60 W/K"]]}, face="0.06 m2", drop="6 psi at 20 L/min"),
    fn.hose("-8", "1 m", spec="ptfe", air="5 m/s", air_rise="20 K", sleeve="4 mm"), fn.tube("1/2 in", "1 m", air="still")])
def test_every_number_of_a_heat_law_is_known_by_a_key_that_the_part_takes(piece):
    from flarenut.circuit.ranges import key_of

    nobody_writes = {"emissivity", "wall_conductivity", "wall_thickness", "speed_exponent", "enhancement", "still_speed"}
    law = piece.elements[0].heat
    driven = {number for number, *_ in piece.elements[0].drives.values()}
    for field in {*law.si(fn.fluid("water")), *law.columns} - nobody_writes - driven:
        assert key_of(field, piece.given, piece.keys) in piece.keys, field


# Any value of any type under any key of any part must be refused in words, or taken; never anything else.
USUAL = {
    "hose": {"size": "-8", "length": "11 ft", "spec": "ptfe"}, "tube": {"size": "3/8 in", "length": "9 ft"},
    "passage": {"bore": "8 mm", "length": "100 mm"}, "straight": {"size": "-8"},
    "adapter": {"ends": ["-10 O-ring boss male", "-8 37 flare male, 90 deg"]}, "elbow": {"size": "-8"},
    "reducer": {"inlet": "10 mm", "outlet": "5 mm"}, "pickup": {"bore": "10 mm"}, "opening": {"bore": "8 mm"}, "orifice": {"bore": "1 mm"},
    "valve": {"cv": 2.5}, "check_valve": {"rated": "3 psi at 300 L/h"}, "relief_valve": {"opens_at": "60 psi", "wide_open": "10 psi at 8 gpm"},
    "bypass_regulator": {"set": "43.5 psi", "reference": "manifold"}, "reducing_regulator": {"set": "6 psi", "wide_open": "2 psi at 40 gph"},
    "electric_pump": {"curves": [["0 L/h", "95 psi"], ["255 L/h", "60 psi"]]}, "formula_pump": {"dead_head": "95 psi", "free_flow": "420 L/h"},
    "displacement_pump": {"displacement": "18 cc/rev", "speed": "3000 rpm"},
    "centrifugal_pump": {"points": [["0 gpm", "18 psi"], ["40 gpm", "6 psi"]], "rated_speed": "3000 rpm", "speed": "800 rpm"},
    "filter": {"drop": "1.5 psi at 100 gph"}, "strainer": {"drop": "0.3 psi at 100 gph"}, "resistance": {"drop": "5 psi at 3 gpm"},
    "measured_part": {"points": [["1 gpm", "0.5 psi"], ["3 gpm", "3.6 psi"]], "rated_with": "water"},
    "core": {"drop": "6 psi at 20 L/min"},
    "cooler": {"heat": "9 kW at 20 L/min", "rated_inlet": "110 C", "rated_air": "35 C at 5 m/s", "face": ["300 mm", "190 mm"],
               "drop": "6 psi at 20 L/min", "rated_with": "water at 20 C"},
    "thermostat": {"opens": "82 C", "bore": "12 mm"}, "bypass_thermostat": {"opens": "82 C", "bore": "12 mm"},
    "bearings": {"count": 5, "diameter": "55 mm", "width": "20 mm", "clearance": "0.056 mm"}, "squirters": {"count": 4, "bore": "1.5 mm"},
}


VALUES = ["", "x", "-8", "11 ft", "0", "nan", "1e400 mm", "5 psi at", "at", "5 psi at 3 gpm", "own at x", "water at 500 C", 0, -1, 3, 10**30, 1.5,
          float("nan"), float("inf"), True, [], [[]], ["a", "b"], [["0 gpm", "1 psi"], ["1 gpm", "x"]], {}, {"a": 1}, [{"volts": []}],
          [{"points": [[1, 2], [3, 1]], "flow": 3, "pressure": 4}], {"density": [], "viscosity": {}}, {"opens_at": []}, "99999999999999999999999 in"]


def test_every_part_has_its_usual_values_here():
    from flarenut.circuit.file.sections import part_words

    assert set(USUAL) == set(part_words())


@pytest.mark.parametrize("word", USUAL)
def test_no_value_at_all_brings_a_part_down(word):
    from flarenut.circuit.file.sections import part_words
    from flarenut.circuit.file.words import keys_of

    build = part_words()[word]
    build(**USUAL[word])
    for key in keys_of(build).values():
        refusals = 0
        for value in VALUES:
            try:
                build(**{**USUAL[word], key.argument: value})
            except ValueError as error:  # what else is raised fails the test
                refusals += 1
                assert str(error)
        assert refusals, f"{key.word} takes anything"


def test_a_bore_of_nothing_is_refused_with_place_key_value_limit_and_cure_wherever_it_is_said():
    """A gauge tapping without a bore was taken in silence for one that is wide."""
    said = "'bore' is '0 mm', which is not above zero: check the number and its unit, e.g. '8 mm'"
    for call, place in ((lambda: fn.hose(bore="0 mm", length="1 m", name="feed hose"), "hose 'feed hose'"), (lambda: fn.orifice("0 mm"), "orifice"),
                        (lambda: fn.Circuit("x", "gasoline").junction("rail", bore="0 mm"), "junction 'rail'")):
        with pytest.raises(fn.CircuitError) as refused:
            call()
        assert str(refused.value).startswith(f"{place}: {said}") and (refused.value.key, refused.value.value) == ("bore", "0 mm")
    car = fn.Circuit("x (invented)", fluid="gasoline")
    car.tank("cell", level="8 in")
    car.run("feed", "cell", "rail", [fn.formula_pump("80 psi", "300 L/h"), fn.hose(bore="8 mm", length="1 m", name="feed hose")])
    car.run("return", "rail", "cell", [fn.orifice("3 mm")])
    car.case("idle", **{"feed hose.bore": "0 mm"})
    with pytest.raises(fn.CircuitError, match=re.escape(f"case 'idle': feed hose.bore: {said}")):
        car.solve()


@pytest.mark.parametrize("call, told", [
    (lambda: fn.hose(bore="8", length="1 m"), "hose: 'bore' is '8', a number without a unit"),
    (lambda: fn.check_valve("3", bore="8 mm", name="foot valve"), "check_valve 'foot valve': 'opens_at' is '3'"),
    (lambda: fn.Circuit("x", "gasoline").tank("cell", level="8"), "tank 'cell': 'level' is '8'"),
    (lambda: fn.Circuit("x", "gasoline").fixed("bench", "3"), "fixed 'bench': 'pressure' is '3'"),
    (lambda: fn.constant_fluid("800", "1 cP"), "constant_fluid: 'density' is '800'"),
    (lambda: fn.oil("95", "14 cSt"), "oil: 'kv40' is '95'"),
    (lambda: fn.air("20"), "air: 'temperature' is '20'"),
    (lambda: fn.checks.Limits(return_rise_injection="5"), "Limits: 'return_rise_injection' is '5'"),
])
def test_a_value_without_its_unit_names_the_call_and_its_argument(call, told):
    with pytest.raises(fn.UnitError) as refused:
        call()
    assert str(refused.value).startswith(told)
    assert not refused.value.reason.startswith(told.partition(":")[0])  # a run, a case or a file says its own place
