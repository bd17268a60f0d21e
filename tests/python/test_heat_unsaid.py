"""What nobody said of heat, or said to no effect, is told: the air, a fluid_temperature, thermostats that do not fit each other, a unit.

Every circuit is invented.
"""

from dataclasses import replace
from importlib.resources import files

import flarenut as fn
import pytest
from flarenut.checks.heat_unsaid import fluid_temperature_idle
from flarenut.circuit.file import read
from flarenut.results import Finding
from flarenut.units import Quantity

ENGINE = files("flarenut").joinpath("demo", "oil_cooler_six.toml").read_text(encoding="utf-8")


def told(case, code):
    return [one for one in case.findings if one.code == code]


def fuel(air=None, heat="150 W", **conditions):
    """A return circuit whose fuel gives its heat to the air by the tank's walls alone."""
    car = fn.Circuit("fuel (invented)", fluid="gasoline", **({} if air is None else {"air_temperature": air}))
    car.tank("cell", level="8 in", temperature="found", heat_loss="40 W/K", heat_capacity="40 kJ/K")
    car.junction("rail", heat=heat)
    car.run("feed", "cell", "rail", [fn.formula_pump("7 bar", "300 L/h", name="pump")])
    car.run("return", "rail", "cell", [fn.bypass_regulator("3 bar", reference="ambient", name="regulator")])
    car.case("one", **conditions)
    return car


# ---- the air ----

def test_air_that_nobody_said_is_told_with_its_number_and_how_much_hangs_on_it():
    case = fuel().solve()["one"]
    (finding,) = told(case, "air temperature unsaid")
    given_off = 40.0 * (case.at("cell").temperature.si - 293.15)
    assert finding.severity == "watch" and finding.value.to("C") == pytest.approx(20.0) and "air_temperature" in finding.cure and "cell" in finding.what
    assert finding.numbers["moved"].si == pytest.approx(given_off, rel=1e-9)
    assert given_off == pytest.approx(150.0 + case.part("pump").power.si, rel=1e-6)  # all that goes in
    assert "68 F, assumed" in str(fuel().solve().table(units="us"))


@pytest.mark.parametrize("car", [fuel("20 C"), fuel(air_temperature="20 C")])
def test_air_that_circuit_or_case_says_is_not(car):
    answer = car.solve()
    assert not told(answer["one"], "air temperature unsaid") and "assumed" not in str(answer.table(rows=["cell.temperature"]))


def test_nothing_goes_by_the_air_where_temperatures_are_given():
    assert not told(fuel().solve(temperatures="given")["one"], "air temperature unsaid")
    assert not told(fn.load(files("flarenut").joinpath("demo", "oil_cooler_six.toml")).solve("hot idle")["hot idle"], "air temperature unsaid")


def test_a_copy_and_a_vehicle_know_that_nobody_said_it():
    assert told(fuel().copy().solve()["one"], "air temperature unsaid")
    for air, count in ((None, 1), ("30 C", 0)):
        car = fn.Vehicle("car (invented)", fuel(), **({} if air is None else {"air_temperature": air}))
        car.case("one")
        assert len(told(car.solve()["fuel (invented)"]["one"], "air temperature unsaid")) == count


# ---- fluid_temperature ----

def test_a_fluid_temperature_that_moves_nothing_is_told_and_not_shown_as_if_it_held():
    hot, cold = (fuel("25 C", fluid_temperature=degrees).solve() for degrees in ("45 C", "10 C"))
    assert hot["one"].at("cell").temperature.si == pytest.approx(cold["one"].at("cell").temperature.si, abs=1e-6)
    (finding,) = told(hot["one"], "fluid temperature without effect")
    assert finding.severity == "watch" and '"cell.temperature" = "45 C"' in finding.cure
    row = next(line for line in str(hot.table(units="metric")).splitlines() if "fluid temperature" in line)
    assert "found" in row and "45" not in row
    given = fuel("25 C", fluid_temperature="45 C").solve(temperatures="given")
    assert not told(given["one"], "fluid temperature without effect") and "45 C" in str(given.table(units="metric"))


def test_a_fluid_temperature_without_a_tank_to_say_it_of_is_left_out():
    case = fuel("25 C", fluid_temperature="45 C").solve()["one"]
    case.layout = replace(case.layout, notes={"one": replace(case.layout.notes["one"], mixing=(), moment=())})
    (finding,) = [one for one in fluid_temperature_idle(case, None)]
    assert finding.cure == 'leave it out; or solve(temperatures="given") holds the liquid everywhere at it'


def test_a_fluid_temperature_of_what_comes_in_is_in_order():
    bench = fn.Circuit("bench (invented)", fluid="water", air_temperature="20 C", temperatures="found")
    bench.junction("stand", supply="10 L/min")
    bench.run("line", "stand", "ambient", [fn.tube(bore="10 mm", length="2 m", air="still", name="tube")])
    bench.case("hot", fluid_temperature="60 C")
    case = bench.solve()["hot"]
    assert case.at("stand").temperature.to("C") == pytest.approx(60.0, abs=0.01) and not told(case, "fluid temperature without effect")


# ---- the steady state ----

def test_fuel_that_boils_in_the_end_is_told_to_take_its_time_and_what_warms_it():
    car = fuel("45 C", heat="1 kW")
    (finding,) = told(car.solve()["one"], "boils in the tank")
    assert "steady state, which may take hours" in finding.what and "over_time" in finding.cure
    assert "rail 1.00 kW" in finding.text("metric") and "pump" in finding.what
    moment = fuel("45 C", heat="1 kW", **{"cell.temperature": "90 C"}).solve()["one"]
    assert "steady state" not in told(moment, "boils in the tank")[0].what
    drive = fn.over_time(car, [("2 h", "one")], every="10 min", start="20 C")
    assert not any("steady state" in one.what for one in drive.findings if one.code == "boils in the tank")


# ---- thermostats ----

def engine(*changes):
    """The six with its oil cooler; `changes` are pairs of texts."""
    text = ENGINE
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return read(text).circuit


def test_thermostats_whose_ranges_lie_apart_are_told_with_both_ranges_whatever_sets_them():
    six = engine()
    assert not any(told(case, "thermostats apart") for case in six.solve().values())
    both = [name for name, piece in six.compiled().pieces.items() if piece.word in ("thermostat", "bypass_thermostat")]
    cooling, around = sorted(both, key=lambda name: six.compiled().pieces[name].word == "bypass_thermostat")
    six.case("late", **{**six.cases["hot idle"].conditions, f"{cooling}.opens": "118 C", f"{cooling}.full": "130 C"})
    six.case("early", **{**six.cases["hot idle"].conditions, f"{cooling}.opens": "50 C", f"{cooling}.full": "62 C"})
    answer = six.solve(["late", "early"])
    (late,), (early,) = (told(answer[name], "thermostats apart") for name in ("late", "early"))
    assert cooling in late.where and around in late.where and "both ways are nearly shut" in late.what and "both ways are open" in early.what
    shut_from = answer["late"].number(f"{around}.full_temperature")
    assert shut_from < answer["late"].part(around).inlet.temperature.si < 391.15 and "as here" in late.what and late.severity == "fix"
    assert "118 C to 130 C" in late.text("metric") and "the same temperatures" in late.cure and early.severity == "watch"


def test_a_range_within_a_few_degrees_is_in_order():
    six = engine()
    cooling = next(name for name, piece in six.compiled().pieces.items() if piece.word == "thermostat")
    opens = six.plan.get(six.plan.index(f"{cooling}.start_temperature")) + 3.0
    six.case("near", **{**six.cases["hot idle"].conditions, f"{cooling}.opens": f"{opens} K", f"{cooling}.full": f"{opens + 12.0} K"})
    assert not told(six.solve("near")["near"], "thermostats apart")


def test_fahrenheit_written_as_celsius_is_asked_about_solved_or_not():
    six = engine()
    for name, piece in list(six.compiled().pieces.items()):
        if piece.word in ("thermostat", "bypass_thermostat"):
            six.change(name, opens="180 C", full="195 C")
    six.case("far too much", **{**six.cases["hot track"].conditions, "sump.heat": "60 kW"})
    answer = six.solve()
    solved = [case for case in answer.values() if case.converged]
    for case in solved:
        (finding,) = told(case, "thermostat opens too hot")
        assert finding.severity == "fix" and "180 C or at 180 F?" in finding.what and finding.limit.to("F") == pytest.approx(275.0)
    hot = [case for case in answer.values() if not case.converged]
    assert all("is still shut at" in case.cause and "180 C or at 180 F?" in case.cause for case in hot) and solved and hot


# ---- a moment ----

def test_a_line_that_hardly_anything_passes_at_a_cold_start_is_said_to_have_settled():
    words = {"sump.temperature": "-10 C", "air_temperature": "-10 C"}
    car = fn.Circuit("oil (invented)", fluid="SAE 10W-40", air_temperature="25 C")
    car.tank("sump", level="90 mm", temperature="found", heat_loss="10 W/K")
    car.run("pumping", "sump", "out", [fn.displacement_pump("5 cc/rev", speed="600 rpm", name="pump")])
    car.run("relief", "out", "sump", [fn.relief_valve("1 bar", wide_open="1 bar at 60 L/min", name="relief", rated_with="own at 100 C")])
    car.run("cooling", "out", "sump", [fn.orifice("0.6 mm"), fn.hose("-8", "2 m", spec="ptfe", air="still", air_rise="20 K", name="hose")])
    car.case("start", **words)
    car.case("cold around", **words, **{"hose.air_rise": "0 K"})
    answer = car.solve()
    (finding,) = told(answer["start"], "settled by the air")
    assert finding.severity == "note" and finding.where == "hose" and finding.numbers["into"].si + 5.0 < finding.value.si < 283.15 + 0.1
    assert not told(answer["cold around"], "settled by the air")


# ---- words ----

def test_what_rubs_is_not_denied_where_the_power_is_unsaid():
    car = fn.Circuit("oil (invented)", fluid="SAE 10W-40", air_temperature="25 C")
    car.tank("sump", level="90 mm", temperature="found", heat_loss="10 W/K", heat_share="5 %", friction_heat="1 kW at 3000 rpm")
    car.run("pumping", "sump", "out", [fn.displacement_pump("5 cc/rev", speed="600 rpm", name="pump")])
    car.run("back", "out", "sump", [fn.orifice("3 mm")])
    car.case("one", speed="3000 rpm")
    (finding,) = told(car.solve()["one"], "engine power unsaid")
    assert "of the share no heat is put in" in finding.what and car.solve()["one"].number("sump.heat") == pytest.approx(1000.0)


def test_a_case_said_twice_tells_how_it_is_changed():
    for owner in (fuel(), fn.Vehicle("car (invented)", fuel())):
        owner.cases.clear()
        owner.case("one")
        with pytest.raises(fn.CircuitError) as refused:
            owner.case("one")
        assert "cases['one'].conditions['volts'] = '12 V'" in str(refused.value) and "del cases['one']" in str(refused.value)
        del owner.cases["one"]
        owner.case("one")


@pytest.mark.parametrize(("value", "shown", "limit"), [(1.502, "1.502 m/s", "1.500 m/s"), (1.6, "1.60 m/s", "1.50 m/s"), (1.50003, "1.50003 m/s", "1.50000 m/s"),
                                                       (1.5, "1.50 m/s", "1.50 m/s")])
def test_a_value_a_hair_above_its_limit_is_shown_to_be_above_it(value, shown, limit):
    one = Finding("x", "fix", "line", "idle", "{value} in it, above {limit}", Quantity(value, "velocity"), Quantity(1.5, "velocity"))
    assert one.sentence("metric") == f"{shown} in it, above {limit}"


def test_the_command_tells_the_keys_of_a_vehicle_s_headings(capsys):
    from flarenut.cli import main

    for word, keys in (("vehicle", ["air_temperature", "altitude"]), ("exchanger", ["first_side", "wall_resistance", "rated_first"])):
        assert main(["parts", word]) == 0
        out = capsys.readouterr().out
        assert all(key in out for key in keys) and "docs/guide/vehicles.md" in out
