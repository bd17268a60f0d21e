"""Findings about heat: each speaks where its limit is passed, with number, limit and cure, and keeps quiet where it is not.

Limits are common practice, no source. Every circuit is invented.
"""

import flarenut as fn
import pytest
from flarenut import checks

OIL = "SAE 10W-40"


def found(case, code, **limits):
    return [one for one in checks.case_findings(case, checks.Limits(**limits)) if one.code == code]


def one(case, code, **limits):
    (finding,) = found(case, code, **limits)
    return finding


def engine(heat="1 kW", fluid=OIL, parts=(), sump=None, **conditions):
    """A pump from a sump through a main gallery into a crankcase that drains to it."""
    circuit = fn.Circuit("oil (invented)", fluid=fluid, fluid_temperature="80 C", air_temperature="20 C")
    circuit.tank("sump", level="80 mm", **{"temperature": "found", "heat_loss": "20 W/K", "heat": heat, **(sump or {})})
    circuit.fixed("crankcase", height="200 mm", drains_to="sump")
    circuit.run("pumping", "sump", "pump out", [fn.displacement_pump("10 cc/rev", speed="2000 rpm", name="pump"), *parts])
    circuit.run("relief", "pump out", "sump", [fn.relief_valve("5 bar", wide_open="2 bar at 60 L/min", name="relief", rated_with="own at 100 C")])
    circuit.run("mains", "pump out", "crankcase", [fn.orifice("3.2 mm", name="mains")])
    circuit.case("one", **conditions)
    return circuit.solve()["one"]


@pytest.mark.parametrize(("degrees", "severity", "limit"), [(95, None, None), (110, "watch", 220), (130, "fix", 260), (140, "stop", 275)])
def test_hot_oil_is_told_by_how_hot_it_is(degrees, severity, limit):
    """20 W/K lose what goes in, pump's power and all, so that the heat for a temperature is known but for that."""
    power = engine(f"{20 * (degrees - 20)} W").part("pump").power.si
    case = engine(f"{20 * (degrees - 20) - power} W")
    assert case.at("sump").temperature.to("C") == pytest.approx(degrees, abs=1.0)
    if severity is None:
        assert not found(case, "liquid too hot")
        return
    told = one(case, "liquid too hot")
    assert (told.severity, round(told.limit.to("F"))) == (severity, limit)
    assert told.value.to("C") == pytest.approx(degrees, abs=1.0) and told.source == "common practice, no source" and "cooler" in told.cure
    assert f"{limit} F" in told.text("us") and " C" in told.text("metric")
    assert one(case, "liquid too hot", oil_temperature_road="150 F", oil_temperature_track="160 F", oil_temperature_alarm="170 F").source == "set by you"


def test_oil_that_settles_cool_is_noted_but_not_where_a_case_says_how_warm_it_is():
    told = one(engine("300 W"), "oil runs cool")
    assert told.severity == "note" and told.limit.to("F") == pytest.approx(180) and told.value.to("F") < 175
    assert not found(engine("300 W", **{"sump.temperature": "-10 C"}), "oil runs cool") and not found(engine("1.5 kW"), "oil runs cool")


@pytest.mark.parametrize(("fluid", "degrees", "severity"), [("ATF", 90, None), ("ATF", 110, "watch"), ("ATF", 130, "stop"), ("ISO VG 46", 90, "watch"),
                                                            ("gear oil 75W-90", 130, None)])
def test_other_fluids_have_limits_of_their_own_or_none(fluid, degrees, severity):
    case = engine(fluid=fluid, **{"sump.temperature": f"{degrees} C"})
    told = [one.severity for one in found(case, "liquid too hot")]
    assert told == ([severity] if severity else [])


def test_a_temperature_that_was_given_is_not_judged():
    circuit = fn.Circuit("given (invented)", fluid=OIL, fluid_temperature="150 C")
    circuit.tank("sump", level="80 mm")
    circuit.run("line", "sump", "ambient", [fn.displacement_pump("10 cc/rev", speed="2000 rpm"), fn.orifice("3 mm")])
    assert not found(circuit.solve()["as written"], "liquid too hot")


# ---- coolers ----

def cooler(**words):
    return fn.cooler("6 kW at 20 L/min", **{"rated_inlet": "110 C", "rated_air": "35 C at 5 m/s", "face": ["300 mm", "190 mm"], "drop": "0.4 bar at 20 L/min",
                                           "rated_with": "own at 100 C", "name": "cooler", **words})


def test_a_cooler_is_held_against_the_pressure_it_is_sold_for_on_a_cold_start():
    cold = {"sump.temperature": "-10 C"}
    case = engine(parts=[cooler(rated_pressure="3 bar")], **cold)
    inside = max(end.static for end in case.ends("cooler")) - case.ambient.si
    told = one(case, "cooler pressure")
    assert told.where == "cooler" and told.value.si == pytest.approx(inside) and told.limit.si == pytest.approx(3e5) and told.source == "its rated_pressure"
    assert told.severity == ("stop" if inside > 4.5e5 else "fix") and "thermostat" in told.cure
    assert told.hurt == pytest.approx(inside / 3e5 - 1)
    assert not found(engine(parts=[cooler(rated_pressure="100 bar")], **cold), "cooler pressure")
    assert not found(engine(parts=[cooler()], **cold), "cooler pressure")


def test_a_cooler_that_knows_its_rating_is_not_held_against_a_usual_one():
    cold = {"sump.temperature": "-10 C"}
    unsaid, said = (found(engine(parts=[cooler(rated_pressure=rated)], **cold), "pressure ceiling", oil_line_pressure="10 psi") for rated in (None, "100 bar"))
    assert unsaid and not said


def test_a_cooler_that_hot_oil_passes_without_air_is_told():
    told = one(engine("2 kW", parts=[cooler()]), "cooler without air")
    assert told.severity == "watch" and told.where == "cooler" and told.value.si > 0 and "vehicle_speed" in told.cure
    for blown in ({"fan": "3 m/s"}, {"vehicle_speed": "20 m/s"}, {"sump.temperature": "20 C"}):
        assert not found(engine("2 kW", parts=[cooler()], **blown), "cooler without air"), blown
    assert found(engine("2 kW", parts=[cooler(wind_share=0)], vehicle_speed="20 m/s"), "cooler without air")


def coils(length, air="10 C"):
    """Two coils side by side between a pump and the engine, the sump held at 150 C; nothing keeps cold oil out of them."""
    circuit = fn.Circuit("coils (invented)", fluid="SAE 20W-50", air_temperature=air)
    circuit.tank("sump", level="100 mm", temperature="found", heat_loss="15 W/K")
    circuit.fixed("crankcase", height="200 mm", drains_to="sump")
    circuit.run("pumping", "sump", "split", [fn.displacement_pump("20 cc/rev", speed="3000 rpm", name="pump")])
    circuit.run("relief", "split", "sump", [fn.relief_valve("5 bar", wide_open="2 bar at 60 L/min", name="relief", rated_with="own at 100 C")])
    for side in ("left", "right"):
        circuit.run(side, "split", "joint", [fn.tube(bore="4 mm", length=length, air="40 m/s", name=f"{side} coil")])
    circuit.run("mains", "joint", "crankcase", [fn.orifice("3.2 mm", name="mains")])
    circuit.case("one", **{"sump.temperature": "150 C"})
    return circuit.solve(other_states=False)["one"]


def test_where_oil_has_thickened_in_the_coolers_a_larger_one_is_no_cure():
    """Long coils: the oil leaves as cold as the air, hundreds of times as thick (ASTM D341 of 20W-50 from 150 C to 10 C), and next to none passes."""
    case = coils("20 m")
    assert case.part("left coil").ends[-1].temperature.to("C") == pytest.approx(10, abs=1) and case.part("left coil").heat.to("W") < 100
    told = one(case, "liquid too hot")
    assert told.severity == "stop" and told.cure.startswith("a thermostat or a bypass") and "cools it no further" in told.cure
    assert "left coil and right coil" in told.text("metric") and "with the air at 10" in told.text("metric") and "hardly any passes" in told.what
    assert one(case, "oil spilled").severity == "stop"
    short = coils("12 m")  # warm oil runs through these; longer ones let less through, and 12 m is about the length that gives the most
    told = one(short, "liquid too hot")
    assert short.part("left coil").heat.to("kW") > 1 and told.cure.startswith("a cooler with fins") and "no more length" in told.cure and "hardly" not in told.what
    assert "or more of left coil" in one(coils("3 m"), "liquid too hot").cure


# ---- thermostats ----

def test_a_thermostat_that_feels_a_cold_place_is_told_of_the_hot_one():
    circuit = fn.Circuit("wrong place (invented)", fluid=OIL, fluid_temperature="90 C", air_temperature="10 C")
    circuit.tank("sump", level="80 mm", temperature="found", heat="6 kW", heat_loss="10 W/K")
    circuit.fixed("crankcase", height="200 mm", drains_to="sump")
    circuit.run("pumping", "sump", "gallery", [fn.displacement_pump("10 cc/rev", speed="2000 rpm", name="pump")])
    circuit.run("mains", "gallery", "crankcase", [fn.orifice("3.2 mm")])
    circuit.run("to cooler", "gallery", "cold side", [fn.orifice("2 mm"), cooler(fan="8 m/s")])
    circuit.run("from cooler", "cold side", "sump", [fn.thermostat("90 C", "100 C", bore="12 mm", bleed="2 %", name="thermostat")])
    circuit.case("one")
    told = one(circuit.solve()["one"], "thermostat does not open")
    assert told.severity == "fix" and told.limit.to("C") == pytest.approx(100) and told.value.to("C") > 100 and "senses" in told.cure
    circuit.change("thermostat", senses="gallery")
    assert not found(circuit.solve()["one"], "thermostat does not open")


def test_a_thermostat_that_is_shut_in_cold_oil_is_as_it_should_be():
    assert not found(engine(parts=[fn.thermostat("90 C", bore="12 mm")], **{"sump.temperature": "20 C"}), "thermostat does not open")


# ---- coolant ----

def heated(fluid, degrees, pressure="0 psi", flow="20 L/min"):
    circuit = fn.Circuit("hot (invented)", fluid=fluid, temperatures="found")
    circuit.junction("jacket", supply=flow, temperature=f"{degrees} C")
    circuit.fixed("end", pressure)
    circuit.run("line", "jacket", "end", [fn.hose(bore="20 mm", length="1 m", name="hose")])
    return circuit.solve()["as written"]


def test_coolant_near_boiling_is_told_in_degrees_and_pascals():
    """Water boils at 100 C under one atmosphere and holds 70.1 kPa at 90 C (steam tables, from memory)."""
    case = heated("water", 95, flow="2 L/min")
    told = one(case, "near boiling")
    assert told.severity == "fix" and told.value.si == pytest.approx(5.0, abs=0.2) and told.limit.si == pytest.approx(10)
    assert told.numbers["pascal"].si == pytest.approx(101325 - 84.5e3, rel=0.03)  # 84.5 kPa at 95 C
    assert not found(heated("water", 88), "near boiling") and not found(heated("water", 95, "15 psi"), "near boiling")
    assert found(heated("water", 88), "near boiling", coolant_boiling_margin="15 K")


def test_glycol_under_a_cap_boils_far_later_and_boiling_itself_is_a_stop():
    """Half glycol boils at about 107 C under one atmosphere, and at 129 C under a 15 psi cap (common practice, no source)."""
    told = one(heated("ethylene glycol 50 %", 102), "near boiling")
    assert told.value.si == pytest.approx(5.5, abs=2.0)
    case = heated("ethylene glycol 50 %", 118, "15 psi")
    assert not found(case, "near boiling") and not found(case, "below vapour pressure")
    boiling = heated("ethylene glycol 50 %", 118)
    assert found(boiling, "below vapour pressure") and not found(boiling, "near boiling")


def test_the_margin_is_a_row_of_the_table():
    case = heated("water", 80)
    from flarenut.results.warmth import boiling_margin

    least = boiling_margin(case)
    assert least.kelvin.si == pytest.approx(20, abs=0.3) and least.temperature.to("C") == pytest.approx(80, abs=0.1) and least.where
    assert boiling_margin(engine("1 kW")) is None


# ---- lines and shares ----

def test_lines_beside_an_exhaust_are_told_where_their_heat_matters():
    hot = fn.hose(bore="10 mm", length="3 m", air="5 m/s", air_rise="150 K", name="hot hose")
    case = engine("100 W", parts=[hot], sump={"heat_loss": "10 W/K"})
    told = one(case, "heat from lines")
    taken, whole = -case.part("hot hose").heat.si, 100 - case.part("hot hose").heat.si + case.part("pump").power.si
    assert told.value.si == pytest.approx(taken / whole, rel=1e-6) and told.where == "hot hose" and "sleeve" in told.cure
    assert not found(engine("8 kW", parts=[hot], sump={"heat_loss": "100 W/K"}), "heat from lines")
    assert not found(engine("100 W", parts=[fn.hose(bore="10 mm", length="3 m", air="5 m/s")]), "heat from lines")


def test_a_liquid_beyond_its_data_is_told_once_and_where_it_is_farthest_out():
    circuit = fn.Circuit("cold (invented)", fluid=OIL, air_temperature="60 C", temperatures="found")
    circuit.junction("stand", supply="2 L/min", temperature="-15 C")
    circuit.run("line", "stand", "ambient", [fn.hose(bore="10 mm", length="1 m", air="5 m/s", name=f"hose {number}") for number in range(4)])
    case = circuit.solve()["as written"]
    means = [case.liquid_in(f"hose {number}")["temperature"] for number in range(4)]
    told = [finding for finding in found(case, "fluid out of range") if finding.what.startswith("viscosity")]
    assert len(set(means)) == 4 and [finding.value.si for finding in told] == pytest.approx([min(means)])


def test_a_temperature_said_where_no_liquid_comes_in_is_told_to_move_nothing():
    circuit = fn.Circuit("slip (invented)", fluid="water", temperatures="found")
    circuit.tank("drum", level="1 m")
    circuit.junction("rail", temperature="90 C")
    circuit.junction("stand", supply="1 L/min", temperature="60 C")
    circuit.run("line", "drum", "rail", [fn.hose(bore="10 mm", length="1 m")])
    circuit.run("other", "stand", "rail", [fn.hose(bore="10 mm", length="1 m")])
    circuit.run("out", "rail", "ambient", [fn.hose(bore="10 mm", length="1 m")])
    told = one(circuit.solve()["as written"], "temperature without effect")
    assert told.where == "rail" and told.value.to("C") == pytest.approx(90) and "supply" in told.cure


# ---- cautions ----

def test_hot_liquids_bring_their_cautions():
    hot, cool = (engine(heat).layout for heat in ("1 kW", "1 kW"))
    assert hot.family == cool.family == "oil"

    def cautions(case):
        class Answer(dict):
            layout = case.layout
        return " ".join(checks.cautions_for(Answer(one=case)))

    assert "hot enough to burn skin" in cautions(engine("1.5 kW")) and "Hot oil burns skin" in cautions(engine("1.5 kW"))
    assert "hot enough to burn skin" not in cautions(engine("100 W", sump={"heat_loss": "60 W/K"}))
    assert "Never open a hot cooling system" in cautions(heated("ethylene glycol 50 %", 90))
    assert "hot enough to burn skin" in cautions(heated("diesel", 70)) and "hot enough" not in cautions(heated("diesel", 40))
