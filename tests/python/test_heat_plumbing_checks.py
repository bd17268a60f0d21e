"""Slips in the plumbing of heat: oil that finds no way back, thermostats in each other's place, a bleed that is no consumer, fluid that runs cool.

Every circuit is invented. How cold fluid may be is common practice, no source.
"""

from importlib.resources import files

import flarenut as fn
import pytest
from flarenut import checks
from flarenut.checks.oil import drawing_places
from flarenut.circuit.file import read

ENGINE = files("flarenut").joinpath("demo", "oil_cooler_six.toml").read_text(encoding="utf-8")
OPEN = ENGINE.replace('drains_to = "sump"', "", 1)
EXCHANGED = ENGINE.replace('{part = "bypass_thermostat"', '{part = "-"').replace('{part = "thermostat"', '{part = "bypass_thermostat"').replace(
    '{part = "-"', '{part = "thermostat"')


def engine(text=ENGINE):
    return read(text).circuit


def told(case, code):
    return [one for one in case.findings if one.code == code]


# ---- no way back ----

def test_oil_that_runs_out_for_good_is_told_with_how_much_and_the_word_that_is_missing():
    case = engine(OPEN).solve("hot idle")["hot idle"]
    (finding,) = told(case, "no way back")
    gone = sum(case.solution.flow_of(part) for part in ("main bearings", "rod bearings", "piston squirters", "chain jet", "cam bearings", "lifter leakage"))
    assert finding.value.si == pytest.approx(gone / case.liquid_in("main bearings")["density"], rel=0.02)  # densities differ with temperature
    assert (finding.severity, finding.where) == ("fix", "crankcase") and 'drains_to = "sump"' in finding.cure and "[fixed.crankcase]" in finding.cure
    assert case.findings[0].code == "no way back"


def test_a_case_that_it_leaves_without_an_answer_asks_for_the_word():
    case = engine(OPEN).solve("full speed")["full speed"]
    assert not case.converged and "'crankcase' does not come back to 'sump': is drains_to = \"sump\" missing?" in case.cause


def test_open_air_and_a_demand_have_no_way_back_either():
    to_air = engine(ENGINE.replace('to = "crankcase"\nparts = [{part = "orifice", bore = "1.2 mm", name = "chain jet"}]',
                                   'to = "ambient"\nparts = [{part = "orifice", bore = "2.5 mm", name = "chain jet"}]'))
    (finding,) = told(to_air.solve("hot track")["hot track"], "no way back")
    assert finding.where == "ambient" and "a fixed place of its own" in finding.cure
    turbo = engine(ENGINE.replace('[junction.head]', '[junction.head]\ndemand = "2 L/min"'))
    assert [one.where for one in told(turbo.solve("hot track")["hot track"], "no way back")] == ["head"]


def test_what_comes_back_and_what_is_meant_to_leave_are_not_spoken_of():
    assert not any(told(case, "no way back") for case in engine().solve().values())
    fuel = fn.Circuit("fuel (invented)", fluid="gasoline", air_temperature="30 C")
    fuel.tank("cell", level="8 in", temperature="found", heat_loss="5 W/K")
    fuel.run("feed", "cell", "rail", [fn.formula_pump("7 bar", "300 L/h", name="pump")])
    fuel.run("return", "rail", "cell", [fn.bypass_regulator("3 bar", reference="manifold", name="regulator")])
    fuel.injectors("bank", "rail", count=4, flow="400 cc/min at 3 bar")
    fuel.run("leak", "rail", "ambient", [fn.orifice("1 mm")])
    assert not told(fuel.solve()["as written"], "no way back")


# ---- thermostats ----

def test_thermostats_in_each_other_s_place_are_told_solved_or_not():
    answer = engine(EXCHANGED).solve(["hot idle", "hot track"])
    (finding,) = told(answer["hot idle"], "thermostats exchanged")
    assert finding.severity == "fix" and finding.where == "thermostat" and "oil cooler" in finding.what and "thermostat, way round" in finding.what
    assert not answer["hot track"].converged and "are the two exchanged?" in answer["hot track"].cause
    assert not any(told(case, "thermostats exchanged") for case in engine().solve().values())


def test_legs_are_followed_through_places_where_nothing_branches_off():
    parted = EXCHANGED.replace('"elbow out"},\n', '"elbow out"},\n]\n\n[[run]]\nname = "cooling on"\nfrom = "half way"\nto = "gallery"\nparts = [\n').replace(
        'name = "cooling"\nfrom = "filter out"\nto = "gallery"', 'name = "cooling"\nfrom = "filter out"\nto = "half way"')
    assert told(engine(parted).solve("hot idle")["hot idle"], "thermostats exchanged")


def test_a_coolant_loop_with_its_short_way_is_in_order():
    from pathlib import Path

    coolant = fn.load(Path(__file__).resolve().parents[2] / "docs" / "guide" / "examples" / "coolant.toml")
    assert not any(told(case, "thermostats exchanged") or told(case, "no way back") for case in coolant.solve().values())


# ---- where an engine draws its oil ----

def bled(jet_first):
    car = engine().copy("bleed")
    filtering, cooling, _ = (car.take_out(run) for run in ("filtering", "cooling", "round the cooler"))
    jet = fn.orifice("4 mm", name="bleed jet")
    car.run("filtering", "filter in", "gallery", filtering)
    car.run("cooling", "filter in", "sump", [jet, *cooling] if jet_first else [*cooling, jet])
    return car


@pytest.mark.parametrize("jet_first", [True, False])
def test_a_jet_that_bleeds_oil_through_a_cooler_is_not_where_the_engine_draws(jet_first):
    case = bled(jet_first).solve("hot track")["hot track"]
    assert case.solution.flow_of("bleed jet") > 0.25 * case.solution.flow_of("main bearings")  # else it would count for little anyhow
    jet = case.ends("bleed jet")[0].junction
    places = drawing_places(case, "oil pump")
    assert places and jet not in places and any(case.ends("main bearings")[0].junction == place for place in places)


def test_a_consumer_behind_a_cooler_in_the_main_flow_stays_one():
    car = fn.Circuit("in line (invented)", fluid="SAE 10W-40", fluid_temperature="100 C")
    car.tank("sump", level="4 in")
    car.run("pumping", "sump", "out", [fn.displacement_pump("12 cc/rev", speed="3000 rpm", name="pump")])
    car.run("relief", "out", "sump", [fn.relief_valve("5 bar", wide_open="2 bar at 60 L/min", name="relief", rated_with="own at 100 C")])
    car.run("main", "out", "sump", [fn.core("0.3 bar at 30 L/min", rated_with="own at 100 C", name="cooler"), fn.orifice("4 mm", name="engine")])
    case = car.solve()["as written"]
    assert drawing_places(case, "pump") == [case.ends("engine")[0].junction]


# ---- transmission fluid ----

def gearbox(heat, fluid="ATF", **conditions):
    car = fn.Circuit("gearbox (invented)", fluid=fluid, air_temperature="0 C")
    car.tank("pan", level="3 in", temperature="found", heat=heat, heat_loss="20 W/K")
    car.run("out", "pan", "far", [fn.displacement_pump("10 cc/rev", speed="1500 rpm", name="pump")])
    car.run("home", "far", "pan", [fn.tube(bore="12 mm", length="2 m")])
    car.case("cruise", **conditions)
    return car.solve()["cruise"]


def test_transmission_fluid_that_settles_cool_is_noted_with_what_it_does():
    case = gearbox("700 W")
    (finding,) = told(case, "transmission fluid runs cool")
    assert case.at("pan").temperature.to("F") < 130 and finding.value.si == case.at("pan").temperature.si
    assert finding.severity == "note" and finding.limit.to("F") == pytest.approx(140) and finding.source == "common practice, no source"
    assert "converter" in finding.text() and "round pan" in finding.cure and "cooler" not in finding.cure and "radiator" not in finding.cure  # it has none


def test_warm_fluid_a_given_temperature_and_other_fluids_are_not_spoken_of():
    code = "transmission fluid runs cool"
    assert gearbox("1.3 kW").at("pan").temperature.to("F") > 140 and not told(gearbox("1.3 kW"), code)
    assert not told(gearbox("700 W", **{"pan.temperature": "10 C"}), code) and not told(gearbox("700 W", "ISO VG 46"), code)
    assert not [one for one in checks.case_findings(gearbox("700 W"), checks.Limits(transmission_temperature_least="100 F")) if one.code == code]
