"""What builders read: names of their own, amounts that can be, sentences that end once, cures for parts that are there. Circuits are invented."""

import re

import flarenut as fn
import pytest
from flarenut import units
from flarenut.circuit.file import read_file
from flarenut.units import KINDS
from flarenut.units.kinds import MOST

# ---- names that the program made ----


def van(displacement="18 cc/rev"):
    """A gearbox cooled by coolant; its pump may ask for more than comes through its screen."""
    water = fn.Circuit("coolant", fluid="water")
    water.junction("in", supply="40 L/min", temperature="60 C")
    water.run("through", "in", "ambient", [fn.core("0.02 bar at 100 L/min", name="end tank")])
    box = fn.Circuit("gearbox", fluid="ATF")
    box.tank("pan", level="60 mm", temperature="found", heat="1 kW", heat_capacity="20 kJ/K")
    box.run("suction", "pan", "far", [fn.strainer("3 kPa at 25 L/min", rated_with="own at 80 C", name="screen"),
                                      fn.displacement_pump(displacement, speed="2000 rpm", name="front pump")])
    box.run(
        "cooling",
        "far",
        "pan",
        [fn.core("0.2 bar at 10 L/min", rated_with="own at 80 C", name="tank tube"), fn.hose(bore="8 mm", length="1 m", name="hose home")],
    )
    both = fn.Vehicle("van (invented)", water, box)
    side = {"area": "0.02 m2", "bore": "8 mm", "length": "400 mm"}
    both.exchanger("tank cooler", first=("gearbox", "tank tube"), second=("coolant", "end tank"), first_side=side, second_side=side)
    both.case("hill", **{"gearbox.pan.temperature": "0 C"})
    return both


MADE_BY_THE_PROGRAM = re.compile(r"'[^']*\w:\d+'")


def test_a_vehicle_without_an_answer_names_places_by_the_part_before_them():
    whole = van("400 cc/rev")
    answer = whole.solve("hill")
    causes = [answer[circuit]["hill"].cause for circuit in ("coolant", "gearbox")]
    raw = answer["gearbox"]["hill"].solution.message
    assert MADE_BY_THE_PROGRAM.search(raw), "the engine speaks of a place inside of a run, or this shows nothing"
    for told in [*causes, str(fn.over_time(whole, [("2 min", "hill")], every="1 min", start="0 C"))]:
        assert not MADE_BY_THE_PROGRAM.search(told) and "the outlet of 'gearbox: screen'" in told
    with pytest.warns(fn.SweepWarning) as told:
        fn.sweep(whole, {"gearbox.front pump.speed": ["2000 rpm", "2100 rpm"]}, cases="hill", outputs=["gearbox.pan.temperature"])
    assert "the outlet of 'gearbox: screen'" in str(told[0].message) and not MADE_BY_THE_PROGRAM.search(str(told[0].message))


def test_a_loop_is_called_by_what_lies_in_it():
    loop = fn.Circuit("loop (invented)", fluid="water", temperatures="found")
    loop.tank("drum", level="1 m", temperature="found", heat="1 kW")
    loop.run("out", "drum", "far", [fn.formula_pump("1 bar", "20 L/min", name="pump"), fn.core("0.2 bar at 10 L/min", name="heater")])
    loop.run("home", "far", "drum", [fn.hose(bore="10 mm", length="1 m", name="hose home")])
    case = loop.solve()["as written"]
    assert MADE_BY_THE_PROGRAM.search(case.solution.message) and "the loop that 'hose home' lies in" in case.cause


# ---- amounts that can be ----

@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_quantity_has_an_upper_limit_that_is_told(kind):
    most, words = MOST[kind]
    unit = units.known_units(kind)[0] if KINDS[kind].dimension != "ratio" and not KINDS[kind].plain else ""
    for sign in ("", "-") if KINDS[kind].reference not in ("point", "absolute", "gauge") else ("",):
        written = f"{sign}1e300 {unit}".strip() if kind != "fraction" else f"{sign}1e300 %"
        with pytest.raises(units.UnitError) as refused:
            units.parse(written, kind, name="word")
        assert (
            "'word'" in str(refused.value)
            and words in refused.value.reason
            and "1e300" in refused.value.reason
            and "check the number" in refused.value.hint
        )
    example = units.parse(KINDS[kind].example, kind)
    assert 0 < abs(example) < most / 10


def amounts_of(text):
    """(start, end) of the number of every amount of a circuit file."""
    return [match.span("number") for match in re.finditer(r'(?<=[\[=,("])\s*"(?P<number>\d+(?:\.\d+)?) (?P<unit>[A-Za-z%][\w/%]*)', text)]


FILE = """
[circuit]
name = "all amounts"
invented = true
fluid = "SAE 10W-40"
air_temperature = "20 C"
[tank.sump]
level = "90 mm"
temperature = "found"
heat_share = "6 %"
heat_loss = "10 W/K"
heat_capacity = "14 kJ/K"
heat = "200 W"
[fixed.crankcase]
height = "150 mm"
drains_to = "sump"
[junction.gallery]
height = "100 mm"
bore = "12 mm"
heat = "10 W"
[[run]]
name = "pumping"
from = "sump"
to = "gallery"
parts = [
  {part = "displacement_pump", name = "oil pump", displacement = "10 cc/rev", speed = "3000 rpm"},
  {part = "filter", name = "filter", drop = "0.3 bar at 20 L/min", rated_with = "own at 100 C", bypass = "1.2 bar"},
  {part = "thermostat", name = "thermostat", opens = "60 C", full = "72 C", bore = "14 mm"},
  {part = "hose", name = "hose", size = "-8", spec = "ptfe", length = "1.5 m", air = "5 m/s", air_rise = "10 K", sleeve = "2 mm"},
  {part = "cooler", name = "cooler", heat = "8 kW at 20 L/min", rated_inlet = "110 C", rated_air = "30 C at 5 m/s", face = ["280 mm", "180 mm"], drop = "0.4 bar at 20 L/min", rated_with = "own at 100 C", rated_pressure = "9 bar", fan = "3 m/s"},
]
[[run]]
name = "relief"
from = "gallery"
to = "sump"
parts = [{part = "relief_valve", name = "relief", opens_at = "4.5 bar", wide_open = "2 bar at 60 L/min", rated_with = "own at 100 C"}]
[[run]]
name = "mains"
from = "gallery"
to = "crankcase"
parts = [{part = "bearings", name = "mains", count = 9, diameter = "50 mm", width = "18 mm", clearance = "0.055 mm", speed = "3000 rpm"}]
[case.road]
speed = "2500 rpm"
engine_power = "20 kW"
air_temperature = "25 C"
vehicle_speed = "20 m/s"
altitude = "300 m"
"""


def test_the_file_of_all_amounts_has_an_answer(tmp_path):
    (tmp_path / "car.toml").write_text(FILE, encoding="utf-8")
    assert fn.load(str(tmp_path / "car.toml")).solve().converged and len(amounts_of(FILE)) >= 40


@pytest.mark.parametrize("number", range(len(amounts_of(FILE))))
def test_no_amount_of_a_circuit_may_be_beyond_all_bounds(number, tmp_path):
    start, end = amounts_of(FILE)[number]
    path = tmp_path / "car.toml"
    path.write_text(f"{FILE[:start]}1e200{FILE[end:]}", encoding="utf-8")
    with pytest.raises(ValueError) as refused:
        fn.load(str(path)).solve()
    told = str(refused.value)
    assert "1e200" in told and ("check" in told or "give" in told or "cure" in told), told
    key = re.findall(r"[\w.\"]+(?= = )", FILE[:start].split("\n")[-1])[-1].strip('"')
    assert key in told


@pytest.mark.parametrize("words, most", [({"heat": "11000 kW"}, "10000 kW"), ({"heat": "-1.1e7 W"}, "10000 kW"), ({"heat_loss": "2e6 W/K"}, "1000000 W/K"),
                                         ({"heat_capacity": "2e9 J/K"}, "1000000 kJ/K"), ({"friction_heat": "20000 kW at 6000 rpm"}, "10000 kW")])
def test_heat_at_a_place_is_bounded_as_the_engine_bounds_it(words, most):
    """So bounded is what a case may set: cpp/flarenut/network/heat_side.cpp."""
    key, value = next(iter(words.items()))
    car = fn.Circuit("hot (invented)", fluid="SAE 10W-40")
    with pytest.raises(ValueError, match=f"'{key}' is '{value}', beyond {most}.*check the number"):
        car.tank("sump", level="4 in", **words)


# ---- sentences ----

def test_a_finding_that_asks_has_no_full_stop_behind_its_question_mark():
    finding = fn.results.Finding("not solved", "stop", "", "road", "not solved: are the two exchanged?", cure="swap them")
    assert finding.text() == "STOP: road: not solved: are the two exchanged? Cure: swap them."


def test_no_hot_engine_is_said_to_be_solved_by_a_cold_start():
    tank = fn.Circuit("rinse (invented)", fluid="water")
    tank.tank("drum", level="1 m")
    tank.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size")])
    tank.case("hot idle", fluid_temperature="90 C")
    assert "cold start" not in str(tank.solve()) and "from scratch" in str(tank.solve())


# ---- sweeps ----

def swept(spoken, tmp_path):
    path = tmp_path / "car.toml"
    path.write_text(f'{FILE}\n[sweep.mine]\n{spoken}\noutputs = ["gallery.gauge"]\n', encoding="utf-8")
    return read_file(path)


@pytest.mark.parametrize("spoken, values", [
    ('vary."hose.length" = {from = "1 ft", to = "914.4 mm", step = "1 ft"}', ["1 ft", "2 ft", "3 ft"]),
    ('vary."mains.diameter" = {from = "2 in", to = "76.2 mm", step = "12.7 mm"}', ["2 in", "2.5 in", "3 in"]),
    ('vary.air_temperature = {from = "0 C", to = "68 F", step = "10 K"}', ["0 C", "10 C", "20 C"])])
def test_a_range_may_be_written_in_several_units_of_a_kind(spoken, values, tmp_path):
    ((_, found),) = swept(spoken, tmp_path).sweeps["mine"].steps
    assert list(found) == values


def test_a_range_of_two_kinds_is_refused_at_its_place(tmp_path):
    with pytest.raises(ValueError, match=r"'to' is '3 psi' and 'from' '1 ft'"):
        swept('vary."hose.length" = {from = "1 ft", to = "3 psi", step = "1 ft"}', tmp_path)


# ---- cures of what is there ----

def starved(strainer):
    car = fn.Circuit("starved (invented)", fluid="gasoline")
    car.tank("cell", level="4 in")
    parts = [fn.hose(bore="5 mm", length="2 m", name="thin hose"), fn.formula_pump("60 psi", "100 gal/h", name="pump")]
    car.run("feed", "cell", "ambient", [fn.strainer("0.3 psi at 60 gal/h", name="sock"), *parts] if strainer else parts)
    return [one.cure for one in car.solve().findings if one.code in ("suction margin", "inlet vacuum")]


def test_a_strainer_is_to_be_cleaned_only_where_there_is_one():
    assert (
        starved(True)
        and all("strainer" in cure for cure in starved(True))
        and starved(False)
        and not any("strainer" in cure for cure in starved(False))
    )
