"""Which part, which number and which words a rule chooses where there are several. All circuits are invented; limits are common practice, no source."""

from dataclasses import replace
from types import SimpleNamespace

import pytest
import test_heat_checks as heat
import test_oil_checks as oil
import test_rating_findings as ratings
import test_regulator_checks as regulators
import test_sound_circuits as sound
from altered_case import altered
from checks_example import pump, still
from test_checks import remark

import flarenut as fn
from flarenut import checks
from flarenut.checks import heat_states, ratings_service, suction
from flarenut.results import Layout
from flarenut.units import Quantity


def told(case, code, **limits):
    found = [one for one in checks.case_findings(case, checks.Limits(**limits)) if one.code == code]
    assert len(found) <= 1, found
    return found[0] if found else None


# ---- what the page of findings says of each liquid ----

def test_limits_on_temperature_rise_with_their_grades():
    def graded(family):
        return list(checks.limits.temperatures_for(Layout("x", family=family)))

    assert graded("oil") == [("oil_temperature_road", "watch"), ("oil_temperature_track", "fix"), ("oil_temperature_alarm", "stop")]
    assert graded("transmission fluid") == [("transmission_temperature", "watch"), ("transmission_temperature_alarm", "stop")]
    assert graded("hydraulic fluid") == [("hydraulic_temperature", "watch")] and graded("gear oil") == graded("fuel") == []
    limits, end = checks.Limits(), checks.limits.hottest_for
    assert end(Layout("x", family="oil"), limits) == limits.oil_temperature_alarm and end(Layout("x", family="hydraulic fluid"), limits) is None
    assert end(Layout("x", family="transmission fluid"), limits) == limits.transmission_temperature_alarm
    assert [end(Layout("x", family=family), limits).to("C") for family in ("coolant", "water")] == [pytest.approx(120.0)] * 2 and end(Layout("x", family="fuel"), limits) is None


ALWAYS, OWN = "engineering estimate", {"burns": "Hot oil burns skin", "metal": "they hold metal", "fuel": "Fuel burns", "test": "Leak-test", "brakes": "sole basis",
                                       "steam": "Never open a hot cooling"}
SAID = {"fuel": ["fuel", "test"], "oil": ["burns", "metal"], "other oil": ["burns", "metal"], "transmission fluid": ["burns"], "hydraulic fluid": ["burns"],
        "gear oil": ["burns"], "brake fluid": ["brakes"], "coolant": ["steam"], "water": ["steam"], "": []}


def cautions(cases, family):
    class Answer(dict):
        layout = Layout("x", family=family)
    return checks.cautions_for(Answer(enumerate(cases)))


@pytest.mark.parametrize("family", SAID)
def test_cautions_are_those_of_the_liquid_and_no_others(family):
    said = cautions([], family)
    assert [next(key for key, words in OWN.items() if words in one) for one in said[:-1]] == SAID[family] and ALWAYS in said[-1]


class Cool(SimpleNamespace):
    converged, part_names, ambient = True, ("line",), SimpleNamespace(si=1e5)

    def liquid_in(self, part):
        return {"temperature": self.mean}

    def ends(self, part):
        return [SimpleNamespace(temperature=kelvin) for kelvin in self.both]


def cool(mean=300.0, both=(300.0, 300.0), pressure=1e5, **words):
    return Cool(mean=mean, both=both, solution=SimpleNamespace(pressure=[1e5, pressure]), **words)


@pytest.mark.parametrize("case, hot, jet", [
    (cool(), False, False), (cool(mean=333.15), True, False), (cool(mean=333.14), False, False), (cool(both=(333.15, 300.0)), True, False),
    (cool(both=(300.0, 333.15)), True, False), (cool(pressure=1e5 + 690e3), False, True), (cool(pressure=1e5 + 690e3 - 1.0), False, False),
    (cool(mean=400.0, pressure=1e7, converged=False), False, False)])
def test_one_hot_place_in_one_case_is_enough_for_a_caution(case, hot, jet):
    """From 60 C on, and from 690 kPa over ambient on."""
    said = " ".join(cautions([cool(), case], "oil"))
    assert ("Let it cool" in said) is hot and ("pin-hole" in said) is jet
    assert not {"coolant", "water"} & {family for family in SAID if "Let it cool" in " ".join(cautions([cool(mean=400.0)], family))}


# ---- devices ----

def reported(code, kind, family, kelvin=370.0, fluid=""):
    case = SimpleNamespace(name="idle", solution=SimpleNamespace(remarks=[remark(code, "part")]), layout=Layout("x", fluid=fluid, family=family), regulators=[],
                           parts_of_kind=lambda *kinds: [], kind_of=lambda part: kind, liquid_in=lambda part: {"temperature": kelvin})
    (found,) = checks.devices.remarks(case, checks.Limits())
    return found


@pytest.mark.parametrize("family, kelvin, severity", [("oil", 313.14, "watch"), ("oil", 313.15, "fix"), ("transmission fluid", 313.14, "watch"), ("fuel", 270.0, "fix")])
def test_a_bypass_is_usual_below_forty_degrees_but_for_fuel(family, kelvin, severity):
    found = reported("bypass open", "filter with bypass", family, kelvin)
    assert found.severity == severity and ("usual when cold" in found.what) == (severity == "watch") == ("warm, it should be shut" in found.cure)


@pytest.mark.parametrize("family, words", [("oil", "sets the oil pressure here"), ("hydraulic fluid", "sets the pressure here"), ("fuel", "in steady running")])
def test_a_relief_is_said_to_be_open_or_wide_open(family, words):
    for code, how in (("relief open", "relief open"), ("valve wide open", "relief wide open")):
        found = reported(code, "relief valve", family)
        assert found.what.startswith(how) and words in found.what
    own = reported("relief open", "electric pump", family)
    assert own.severity == "fix" and "the pump's own relief" in own.what


# ---- suction ----

def moved(into="drum"):
    circuit = fn.Circuit("two tanks (invented)", fluid="water")
    circuit.tank("cell", level="4 in")
    circuit.tank("drum", level="4 in", height="5 in")
    circuit.run("transfer", "cell", into, [fn.formula_pump("20 psi", "100 gph", name="pump")])
    return circuit.solve()["as written"]


def test_a_pump_draws_from_the_tank_before_it_alone():
    case = moved()
    assert [case.junction_names[place] for place in suction.sources_of(case, "pump")] == ["cell"]
    assert set(suction.surface_pressures(case).values()) == {case.ambient.si}


def test_each_of_two_pumps_is_held_against_its_own_limit_of_vacuum():
    """One near a full vacuum, and one at twice the usual limit: what is said of the first is not the limit of the second."""
    circuit = fn.Circuit("two pumps (invented)", fluid="SAE 10W-40", fluid_temperature="100 C")
    circuit.tank("pan", level="4 in")
    for name in ("first", "second"):
        circuit.run(name, "pan", "ambient", [fn.hose(bore="25 mm", length="1 ft", name=f"{name} hose"),
                                             fn.displacement_pump("5 cc/rev", speed="1500 rpm", name=f"{name} pump"), fn.orifice("6 mm", name=f"{name} jet")])
    case = circuit.solve()["as written"]
    depths = {"first pump": 22 * 3386.389, "second pump": 10 * 3386.389}
    case.suction = lambda name: SimpleNamespace(inlet=Quantity(-depths[name], "pressure_gauge"), margin=Quantity(1e6, "pressure_difference"), at=name)
    found = {one.where: one for one in checks.case_findings(case) if one.code == "inlet vacuum"}
    assert found["first pump"].severity == "stop" and found["first pump"].limit.to("inHg vacuum") == pytest.approx(20.0)
    assert found["second pump"].severity == "fix" and found["second pump"].limit.to("inHg vacuum") == pytest.approx(5.0)
    assert found["second pump"].hurt == pytest.approx(1.0) and "a cold start may go deeper" in found["second pump"].what


# ---- a blocked way ----

def in_a_row(first, beside=False):
    """A pump before another, and where said a third that has to do with neither."""
    circuit = fn.Circuit("two pumps (invented)", fluid="gasoline", invented=True)
    circuit.tank("cell", level="8 in")
    circuit.run("lift", "cell", "between", [first, ratings.ptfe("-8", "3 ft")])
    circuit.run("feed", "between", "rail", [fn.formula_pump("90 psi", "160 gph", name="main pump"), ratings.rubber(standard="SAE 30R7")])
    circuit.run("return", "rail", "cell", [fn.bypass_regulator("20 psi", reference="ambient", wide_open="2 psi at 400 gph", name="regulator")])
    if beside:
        circuit.run("beside", "cell", "ambient", [fn.formula_pump("500 psi", "20 gph", name="third pump"), ratings.ptfe("-4", "1 ft"), fn.orifice("0.5 mm")])
    return circuit.solve()["as written"]


@pytest.mark.parametrize("beside", [False, True])
def test_a_pump_that_does_not_feed_adds_nothing_to_a_dead_head(beside):
    """60 and 90 psi, and 8 in of gasoline over the first are 0.22 psi."""
    found = told(in_a_row(fn.formula_pump("60 psi", "200 gph", name="lift pump"), beside), "dead head over pressure")
    assert found.value.to("psi") == pytest.approx(150.22, abs=0.05) and found.where == "rubber hose"


def test_what_a_feeding_pump_reaches_is_left_out_where_nobody_knows_it():
    gear = fn.displacement_pump("6 cc/rev", speed="1500 rpm", volumetric_efficiency="90 % at 60 psi, 1500 rpm, 0.5 cP", name="lift pump")
    case = in_a_row(gear)
    found, inlet = told(case, "dead head over pressure"), case.ends("main pump")[0].total - case.ambient.si
    assert found.value.si == pytest.approx(max(inlet, 0.0) + Quantity.of("90 psi", "pressure_difference").si, rel=1e-3)


# ---- oil ----

def test_without_a_word_on_its_ratio_an_engine_turns_as_its_pump():
    case = oil.engine("1000 rpm", displacement="12 cc/rev")
    assert told(case, "oil pressure").limit.to("psi") == pytest.approx(10.0)
    case.layout = replace(case.layout, notes={})
    found = told(case, "oil pressure", oil_pressure_per_1000_rpm="40 psi")
    assert found.limit.to("psi") == pytest.approx(20.0) and found.numbers["speed"].to("rpm") == pytest.approx(500.0)


# ---- regulators ----

@pytest.mark.parametrize("senses, itself", [(("rail", "rail"), True), (("rail", "regulator inlet"), True), (("regulator inlet", "rail"), True), (("rail", "manifold"), False),
                                            (("rail", "cell"), False), (("rail",), False), (("rail", "nowhere"), False), (("nowhere", "rail"), False), ((), False)])
def test_a_regulator_senses_its_own_supply_where_lines_alone_join_the_two(senses, itself):
    case = regulators.car()
    case.layout = replace(case.layout, senses={"regulator": senses})
    assert checks.regulators.senses_itself(case, "regulator") is itself


# ---- hose and tube ----

def test_what_cannot_be_judged_is_known_without_a_word_on_hardware():
    case = ratings.steady(fn.hose("-8", "4 ft", spec="full-size", name="hose"), "6 psi").solve()["as written"]
    assert ratings_service.unjudged(case) == {"hose": (("pressure", "temperature"), ratings_service.unjudged(case)["hose"][1])} and told(case, "rating unknown") is None


@pytest.mark.parametrize("line, reason", [
    (fn.tube(bore="8 mm", length="4 ft", material="steel", name="line"), "no outside diameter is said"),
    (fn.tube("3/8 in", "4 ft", mass="1 kg", name="line"), "no material is said"),
    (fn.hose(bore="9 mm", length="4 ft", mass="1 kg", name="line"), "no standard is said")])
def test_why_there_is_no_rating_is_said(line, reason):
    assert reason in told(ratings.steady(line, "6 psi").solve()["as written"], "rating unknown").what


# ---- check valves ----

def test_a_pump_with_a_check_valve_of_its_own_is_called_by_the_engines_name_where_both_have_one_title():
    from flarenut.checks.check_valves import _called

    titles = SimpleNamespace(layout=SimpleNamespace(title={"pump": "fuel pump", "pump check": "fuel pump", "check": "check"}.__getitem__))
    assert _called(titles, "pump", "pump check") == "pump" and _called(titles, "pump", "check") == "fuel pump"


@pytest.mark.parametrize("regime, flow, told_of", [("dead-headed", 1.0, True), ("pumping", 0.99e-5, True), ("pumping", 1.01e-5, False),
                                                   ("pumping", 1e-5, False), ("stopped", 0.0, False)])
def test_a_pump_that_moves_nothing_and_runs_works_against_a_check_valve(regime, flow, told_of):
    car = still("valves")
    car.tank("cell", level="0.2 m")
    car.run("feed", "cell", "outlet", [pump()])
    car.run("valve", "rail", "outlet", [fn.check_valve(bore="6 mm", name="check")])
    car.run("out", "rail", "ambient", [fn.orifice("1 mm", name="jet")])
    case = altered(car.solve()["as written"], ends={"pump": {port: {"flow": flow} for port in (0, 1)}}, regimes={"pump": regime})
    assert ("pump works against it" in (found.what if (found := told(case, "check valve backwards")) else "")) is told_of


# ---- heat ----

class Warmed(SimpleNamespace):
    """A case in which some parts and places put in heat."""

    name, finds_temperatures = "one", True

    def number(self, name, default=None):
        return self.given.get(name, default)

    def parts_of_kind(self, kind):
        return list(self.lines)


def warmed(**heats):
    lines = {name: heat for name, heat in heats.items() if name.startswith("line")}
    pumps = {name: heat for name, heat in heats.items() if name.startswith("pump")}
    given = {f"{name}.heat": heat for name, heat in heats.items() if name.startswith("place")}
    notes = SimpleNamespace(steady=True, mixing=("tank",))
    return Warmed(given=given, lines=lines, pumps=list(pumps), junction_names=[name.removesuffix(".heat") for name in given] + ["tank"],
                  solution=SimpleNamespace(power_of=pumps.get, heat_of=lines.get),
                  layout=SimpleNamespace(title=str.upper, junction_title=str.upper, notes={"one": notes}))


@pytest.mark.parametrize("heats, named", [
    ({}, []), ({"pump": 19.9}, []), ({"pump": 20.0}, ["PUMP 20.0"]), ({"pump": 30.0, "place": 400.0}, ["PUMP 30.0", "PLACE 400.0"]),
    ({"pump": 30.0, "place": 400.0, "line": 50.0, "line2": 45.0}, ["PLACE 400.0", "LINE 50.0", "LINE2 45.0"]), ({"line": -500.0, "place": 90.0}, ["PLACE 90.0"]),
    ({"pump": 25.0, "pump2": 25.0, "pump3": 25.0, "pump4": 25.0}, ["PUMP 25.0", "PUMP2 25.0", "PUMP3 25.0"])])
def test_what_warms_a_tank_is_named_by_the_three_that_warm_it_most(heats, named):
    words, numbers = heat_states.settles_there(warmed(**heats), "tank")
    for name, number in numbers.items():
        words = words.replace("{" + name + "}", f"{number.si}")
    told_of = words.partition("what warms it is ")[2]
    assert told_of == ", ".join(named) and words.startswith("; it is the steady state") and ("what warms" in words) == bool(named)
    assert heat_states.settles_there(warmed(**heats), "another") == ("", {})


@pytest.mark.parametrize("watts, severity", [(10.0, "note"), (19.9, "note"), (20.2, "watch"), (20.0, "note")])
def test_air_that_nobody_said_is_watched_from_twenty_watts_on(watts, severity):
    from test_heat_unsaid import fuel

    case = fuel().solve()["one"]
    lost = 40.0 * (float(case.solution.temperature_of("cell")) - 293.15)
    found = told(altered(case, numbers={"cell.conductance": 40.0 * watts / lost}), "air temperature unsaid")
    if watts == 20.0:  # to the last bit
        notes = case.layout.notes["one"]
        case.layout = replace(case.layout, notes={"one": replace(notes, by_unsaid_air=("pump",))})
        found = told(altered(case, heats={"pump": -20.0}), "air temperature unsaid")
    assert found.severity == severity and found.numbers["moved"].si == pytest.approx(watts) and found.hurt == pytest.approx(watts / 1e3)


def cold_start(hoses, **words):
    car = fn.Circuit("oil (invented)", fluid="SAE 10W-40", air_temperature="25 C")
    car.tank("sump", level="90 mm", temperature="found", heat_loss="10 W/K")
    car.run("pumping", "sump", "out", [fn.displacement_pump("5 cc/rev", speed="600 rpm", name="pump")])
    car.run("relief", "out", "sump", [fn.relief_valve("1 bar", wide_open="1 bar at 60 L/min", name="relief", rated_with="own at 100 C")])
    for number in range(hoses):
        car.run(f"cooling {number}", "out", "sump", [fn.orifice("0.6 mm"), fn.hose("-8", f"{2 + number} m", spec="ptfe", air="still", air_rise="20 K", name=f"hose {number}")])
    car.case("start", **{"sump.temperature": "-10 C", "air_temperature": "-10 C", **words})
    return car.solve()["start"]


def test_others_that_the_air_settled_are_named_beside_the_one_that_it_warms_most():
    one, two = (told(cold_start(count), "settled by the air") for count in (1, 2))
    assert one.where == "hose 0" and "also" not in one.what and two.where == "hose 1" and "also hose 0:" in two.what and two.what.count("hose 1") == 0


@pytest.mark.parametrize("into, out, told_of", [(263.15, 268.16, True), (263.15, 268.14, False), (265.0, 269.9, False),
                                                (264.0, 269.1, True), (250.0, 268.14, False),
                                                (265.0, 270.0, False), (260.0, 268.15, False)])
def test_a_line_is_settled_by_the_air_from_five_kelvins_over_its_tank_and_over_what_comes_in(into, out, told_of):
    case = cold_start(1)
    ends = {"hose 0": {0: {"temperature": into, "flow": 1e-3}, 1: {"temperature": out, "flow": -1e-3}}}
    assert (told(altered(case, ends=ends), "settled by the air") is not None) is told_of
    turned = {"hose 0": {0: {"temperature": out, "flow": -1e-3}, 1: {"temperature": into, "flow": 1e-3}}}
    assert (told(altered(case, ends=turned), "settled by the air") is not None) is told_of


def test_a_thermostat_of_given_temperatures_or_of_a_liquid_without_an_end_is_not_asked_about():
    def thermostat(fluid, **how):
        circuit = fn.Circuit("bench (invented)", fluid=fluid, temperatures="found", fluid_temperature="40 C")
        circuit.junction("stand", supply="10 L/min", temperature="40 C")
        circuit.run("line", "stand", "ambient", [fn.thermostat("180 C", "190 C", bore="12 mm", bleed="5 %", name="thermostat")])
        return told(circuit.solve(**how)["as written"], "thermostat opens too hot")

    assert thermostat("SAE 10W-40").severity == "fix" and thermostat("SAE 10W-40", temperatures="given") is None and thermostat("gear oil 75W-90") is None


def test_heat_from_lines_is_of_all_heat_put_in_and_at_its_limit_is_kept():
    hose = fn.hose(bore="10 mm", length="3 m", air="5 m/s", air_rise="150 K", name="hot hose")
    case = heat.engine("100 W", parts=[hose], sump={"heat_loss": "10 W/K"})
    share = told(case, "heat from lines", line_heat_share="1 %").value
    assert told(case, "heat from lines", line_heat_share=share) is None
    assert told(sound.rinse().solve(temperatures="given")["on"], "heat from lines", line_heat_share="0.1 %") is None
