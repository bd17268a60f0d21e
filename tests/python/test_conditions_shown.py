"""Conditions of cases as tables show them: each with its unit, in the system of the table, as written or as it was solved with."""

import flarenut as fn
import pytest
import results_example as example
from flarenut.circuit import case_words, cases
from flarenut.results import Answer, conditions
from flarenut.units import KINDS
from results_example import rows_of

PSI = 6894.757293168


@pytest.fixture(scope="module")
def answer():
    return example.answer()


# ---- conditions ----

def circuit_with(**conditions):
    car = fn.Circuit("bench (invented)", fluid=fn.constant_fluid(density="740 kg/m3", viscosity="0.5 cP"))
    car.tank("cell", level="9 in", heat_share="1 %" if "engine_power" in conditions else None)
    car.run("feed", "cell", "rail", [fn.filter(drop="1.2 psi at 100 gph", name="main filter"), fn.hose("-6", "4 ft", spec="ptfe", name="line")])
    car.injectors("bank", "rail", count=6, flow="1000 cc/min at 3 bar")
    car.case("one", **conditions)
    car.case("other")
    return car


def cells_of(car, units):
    return {row.key.removeprefix("condition."): row.cells for row in rows_of(car.solve().table(units)).values()
            if row.key.startswith("condition.")}


SHOWN = {  # condition -> as written, in US units, in metric; 1 psi is 6.894757 kPa, 1 inHg 3.386389 kPa (NIST SP 811, from memory)
    "duty": (0.03, "3 %", "3 %"),
    "manifold": ("10 psi boost", "10 psi boost", "0.69 bar boost"),
    "fluid_temperature": ("30 C", "86 F", "30 C"),
    "tank_level": ("2 in", "2 in", "51 mm"),
    "tank_vent": ("-1 psi", "-1 psi", "0.069 bar vacuum"),
    "altitude": ("5000 ft", "5000 ft", "1524 m"),
    "filter_loading": (3, "3 ×", "3 ×"),
    "line.length": ("4 ft", "4 ft", "1.2 m"),
    "main filter.drop": ("5 psi at 90 gph", "5 psi at 90 gph", "0.34 bar at 341 L/h"),
    "line.size": ("-8", "-8", "-8"),
}


@pytest.mark.parametrize("word", SHOWN)
def test_a_condition_has_its_unit_in_the_system_of_the_table(word):
    written, us, metric = SHOWN[word]
    car = circuit_with(**{word: written})
    assert cells_of(car, "us")[word][0] == us
    assert cells_of(car, "metric")[word][0] == metric


def test_words_of_pressure_stay_through_a_change_of_units():
    assert conditions.said("manifold", "18 inHg vacuum", "metric") == "0.61 bar vacuum"
    assert conditions.said("manifold", "60 kPa vacuum", "us") == "18 inHg vacuum"
    assert conditions.said("manifold", "1.2 bar boost", "us") == "17 psi boost"
    assert conditions.said("volts", "13.5", "us") == conditions.said("pump.volts", "13.5", "metric") == "13.5 V"
    assert conditions.said("ambient_pressure", "90 kPaa", "us") == "13.1 psia"


@pytest.mark.parametrize("written, us, metric", [("0 ft", "0 ft", "0 m"), ("0 m", "0 ft", "0 m"), ("2 ft", "2 ft", "0.61 m"), ("-50 ft", "-50 ft", "-15 m"),
                                                 ("1200 m", "3937 ft", "1200 m")])
def test_an_altitude_is_told_in_metres_or_feet_however_low(written, us, metric):
    assert [conditions.said("altitude", written, system) for system in ("us", "metric")] == [us, metric]
    assert conditions.said("tank_level", "0 ft", "metric") == "0 mm"


@pytest.mark.parametrize("written, us, metric", [("25 m/s", "56 mph", "25 m/s"), ("60 mph", "60 mph", "97 km/h"), ("100 km/h", "62.1 mph", "100 km/h"),
                                                 ("88 ft/s", "88 ft/s", "97 km/h")])
def test_the_speed_of_a_vehicle_is_told_as_its_driver_reads_it_and_that_of_air_or_liquid_is_not(written, us, metric):
    """1 mile per hour is 0.44704 m/s, 1 ft 0.3048 m."""
    assert [conditions.said("vehicle_speed", written, system) for system in ("us", "metric")] == [us, metric]
    assert conditions.said("oil cooler.vehicle_speed", written, "us") == us
    assert [conditions.said("fan", "3 m/s", system) for system in ("us", "metric")] == ["9.8 ft/s", "3 m/s"]
    assert fn.units.preferred_unit("velocity") == "ft/s"


def test_a_vehicle_that_stands_as_nothing_else_is_said_is_told_in_the_same_unit():
    car = fn.Circuit("bench (invented)", fluid="SAE 10W-40", temperatures="found")
    car.junction("stand", supply="15 L/min", temperature="90 C")
    car.run("line", "stand", "ambient", [fn.cooler("9 kW at 20 L/min", rated_inlet="110 C", rated_air="35 C at 5 m/s", face=["300 mm", "190 mm"],
                                                   drop="0.5 bar at 20 L/min", rated_with="own at 100 C", fan="3 m/s")])
    car.case("road", vehicle_speed="25 m/s")
    car.case("standing")
    assert cells_of(car, "us")["vehicle_speed"] == ["56 mph", "0 mph"]
    assert cells_of(car, "metric")["vehicle_speed"] == ["90 km/h", "0 km/h"]  # one row, one unit


def test_what_a_case_does_not_say_is_shown_as_it_was_solved_with():
    car = circuit_with(tank_level="2 in", duty="85 %")
    cells = cells_of(car, "metric")
    assert cells["tank_level"] == ["51 mm", "229 mm"]  # 9 in
    assert cells["duty"] == ["85 %", "100 %"]
    assert cells_of(circuit_with(**{"cell.level": "2 in"}), "us")["cell.level"] == ["2 in", "9 in"]
    assert cells_of(circuit_with(acceleration="0.5 g"), "us")["acceleration"] == ["0.5 g", "0 g"]
    assert cells_of(circuit_with(**{"line.length": "4 ft"}), "us")["line.length"] == ["4 ft", conditions.AS_BUILT]


def pumped(pump, **conditions):
    """A case that says something of a pump, one that says the same as the circuit does, and one that says nothing."""
    car = fn.Circuit("bench (invented)", fluid=fn.constant_fluid(density="740 kg/m3", viscosity="0.5 cP"))
    car.tank("cell", level="9 in")
    car.run("feed", "cell", "ambient", [pump, fn.orifice("2 mm", name="spill")])
    car.case("said", **conditions)
    car.case("other")
    return car


CHART = [["0 L/h", "95 psi"], ["255 L/h", "60 psi"], ["340 L/h", "40 psi"]]


DRIVEN = {  # pump, its own word, what the circuit has
    "volts at the battery": (lambda: fn.electric_pump(CHART, volts_lost="0.7 V", name="pump"), "volts", "13.5 V"),
    "volts of a formula": (lambda: fn.formula_pump("95 psi", "420 L/h", volts="12.6 V", volts_lost="0.4 V", name="pump"), "volts", "12.6 V"),
    "speed of the engine": (lambda: fn.displacement_pump("10 cc/rev", speed="3000 rpm", ratio=0.5, name="pump"), "speed", "3000 rpm"),
}


@pytest.mark.parametrize("of_all", [False, True])
@pytest.mark.parametrize("which", DRIVEN)
def test_what_drives_a_pump_is_shown_as_it_would_be_written_and_not_as_the_pump_has_it(which, of_all):
    pump, word, value = DRIVEN[which]
    name = word if of_all else f"pump.{word}"
    car = pumped(pump(), **{name: value})
    said, other = (case.solution for case in car.solve().values())
    assert said.flow_of("pump") == other.flow_of("pump")
    assert cells_of(car, "us")[name] == [value, value]


def test_a_wire_or_pulley_that_only_one_case_changes_counts_in_that_case_alone():
    car = pumped(DRIVEN["volts at the battery"][0](), **{"pump.volts_lost": "2 V"})
    car.case("third", **{"pump.volts": "11 V"})
    assert cells_of(car, "us")["pump.volts"] == ["13.5 V", "13.5 V", "11 V"]


def test_a_pump_whose_wiring_leaves_it_no_volts_tells_none():
    car = pumped(fn.electric_pump(CHART, volts="0.5 V", volts_lost="0.7 V", name="pump"), **{"pump.volts": "13.5 V"})
    assert cells_of(car, "us")["pump.volts"] == ["13.5 V", conditions.AS_BUILT]


def test_pumps_of_different_volts_are_told_by_none():
    car = pumped(fn.electric_pump(CHART, volts="12 V", name="pump"), volts="13.5 V")
    car.run("second", "cell", "ambient", [fn.electric_pump(CHART, volts="13 V"), fn.orifice("2 mm")])
    assert cells_of(car, "us")["volts"] == ["13.5 V", conditions.AS_BUILT]


KINDS_BY_NATURE = {"altitude": "length", "manifold": "pressure_gauge", "acceleration": "acceleration", "power": "power",
                   "specific_consumption": "specific_consumption", "engine_power": "power"}  # words that the circuit reads one by one


def test_every_word_of_a_case_has_the_kind_that_it_is_read_as():
    kinds = {word: kind for word, (kind, _) in case_words.DRIVES.items()}
    kinds |= {word: kind for table in (case_words.SURROUNDINGS, case_words.TANKS) for word, (_, kind) in table.items()}
    assert set(KINDS_BY_NATURE) == set(case_words.OTHERS) and not set(kinds) & set(KINDS_BY_NATURE)
    wanted = {**kinds, **KINDS_BY_NATURE}
    assert set(wanted) == set(case_words.WORDS)
    assert {word: conditions.KINDS_OF_WORDS.get(word) for word in wanted} == {**wanted, "filter_loading": None}


@pytest.mark.parametrize("word", KINDS_BY_NATURE)
def test_the_circuit_reads_a_word_as_that_kind_and_no_other(word):
    right, wrong = KINDS[KINDS_BY_NATURE[word]].example, "3 mL" if not word.endswith("power") else "3 mm"
    beside = {"power": {"specific_consumption": "0.6 lb/hp/h"}, "specific_consumption": {"power": "600 hp"}}.get(word, {})
    car = circuit_with(**{word: right, **beside})
    cases.overrides_of(car, {word: right, **beside}, "case 'one'")
    with pytest.raises(ValueError, match=f"'{word}'"):
        cases.overrides_of(car, {word: wrong, **beside}, "case 'one'")


def test_conditions_are_shown_of_a_case_without_an_answer():
    real = example.answer({"idle": example.CASES["idle"]})
    lost = Answer(example.layout(), {"idle": example.Unsolved(real["idle"].solution)}, {"idle": {"volts": "13.5"}})
    rows = rows_of(lost.table())
    assert rows["volts"].cells == ["13.5 V"] and rows["rail pressure"].cells == ["–"] and rows["answer"].cells == ["not solved"]


def test_the_ambient_is_said_in_the_units_of_the_table_first(answer):
    assert "Ambient 14.70 psia." in "\n".join(answer.table("us").notes)
    up = "\n".join(circuit_with(altitude="5000 ft").solve().table("metric").notes)
    assert "Ambient one: 0.843 bara; other: 1.013 bara." in up  # US Standard Atmosphere 1976, from memory
    assert "Ambient 1.013 bara." in "\n".join(answer.table("metric").notes)


def test_a_flow_that_is_drawn_says_what_a_volume_counts_as(answer):
    car = fn.Circuit("bowl (invented)", fluid="water")
    car.tank("drum", level="1 m")
    car.junction("bowl", demand="9 gph")
    car.run("feed", "drum", "bowl", [fn.hose("-6", "3 m", spec="ptfe")])
    (note,) = [note for note in car.solve().table().notes if "15 C" in note]
    assert "bowl" in note and "by volume" in note
    assert not any("15 C" in note for note in answer.table().notes)
