"""A cock that stands shut is told before what it brings about, where it is in a pump's way; beside a way that is open it is worth a look."""

import flarenut as fn
import pytest
from altered_case import altered
from flarenut import checks


def found(case, code):
    return [one for one in checks.case_findings(case) if one.code == code]


def fuel(opening):
    """A return system whose rail stands in the vacuum of a manifold, with a cock in its feed."""
    circuit = fn.Circuit("fuel (invented)", fluid="gasoline", fluid_temperature="20 C")
    circuit.tank("cell", level="200 mm")
    circuit.fixed("manifold", pressure="-60 kPa")
    circuit.run("feed", "cell", "rail", [fn.formula_pump("6 bar", "200 L/h", name="pump"), fn.valve(rated="0.1 bar at 200 L/h", opening=opening, name="feed cock"),
                                         fn.hose(bore="8 mm", length="3 m", name="feed hose")])
    circuit.run("spill", "rail", "cell", [fn.bypass_regulator("3 bar", wide_open="1 bar at 300 L/h", reference="manifold", name="regulator")])
    circuit.injectors("bank", at="rail", to="manifold", count=4, flow="200 cc/min at 3 bar", duty="2 %")
    return circuit.solve()["as written"]


def test_a_shut_cock_in_the_only_way_of_a_pump_is_told_first_and_no_regulator_is_called_backwards():
    case = fuel("0 %")
    first = checks.case_findings(case)[0]
    assert (first.code, first.severity, first.where) == ("stands shut", "stop", "feed cock") and "pump can send nothing any other way" in first.text()
    before, behind = case.ends("feed cock")
    assert first.value.si == pytest.approx(before.total - behind.total) and first.hurt == 2.0 * checks.reach.ROOT and not found(case, "regulator backwards")
    assert not found(fuel("100 %"), "stands shut") and not found(fuel("1 %"), "stands shut")


@pytest.mark.parametrize(("opening", "severity"), [("0 %", "watch"), ("50 %", None)])
def test_beside_a_way_that_is_open_it_is_worth_a_look(opening, severity):
    circuit = fn.Circuit("heater (invented)", fluid="water", fluid_temperature="80 C")
    circuit.tank("header", level="200 mm")
    circuit.run("round", "header", "back", [fn.formula_pump("1 bar", "60 L/min", name="pump"), fn.hose(bore="20 mm", length="1 m", name="hose")])
    circuit.run("radiator", "back", "header", [fn.orifice("10 mm", name="radiator")])
    circuit.run("heater", "back", "header", [fn.valve(rated="0.1 bar at 20 L/min", opening=opening, name="heater cock")])
    assert [one.severity for one in found(circuit.solve()["as written"], "stands shut")] == ([severity] if severity else [])


def test_where_there_is_no_answer_a_shut_cock_is_named():
    circuit = fn.Circuit("oil (invented)", fluid="SAE 10W-40", fluid_temperature="80 C", air_temperature="20 C")
    circuit.tank("sump", level="80 mm", temperature="found", heat_loss="1 W/K", heat="20 kW")
    circuit.run("round", "sump", "out", [fn.displacement_pump("10 cc/rev", speed="3000 rpm", name="pump")])
    circuit.run("way", "out", "sump", [fn.orifice("6 mm", name="jet")])
    circuit.run("cooling", "out", "sump", [fn.valve(rated="0.1 bar at 20 L/min", opening="0 %", name="cooler cock"), fn.cooler(
        heat="300 W/K at 20 L/min", rated_air="30 C at 10 m/s", face="0.05 m2", drop="0.3 bar at 20 L/min", rated_with="own at 100 C", fan="10 m/s", name="cooler")])
    case = circuit.solve()["as written"]
    assert not case.converged and "'cooler cock' stands shut: is that meant?" in case.cause


@pytest.mark.parametrize(("flow", "severity"), [(1.4e-6, "stop"), (1.5e-6, "stop"), (1.6e-6, "watch"), (0.0, "watch"), (-1.4e-6, "stop")])
def test_a_pump_that_moves_half_as_much_again_as_a_shut_cock_seeps_has_another_way(flow, severity):
    case = altered(fuel("0 %"), ends={"feed cock": {0: {"flow": 1e-6}}, "pump": {1: {"flow": flow}}})
    (told,) = found(case, "stands shut")
    assert told.severity == severity and ("look here before anything else" in told.what) == (severity == "stop")
    assert told.cure == ("open it" if severity == "stop" else "open it; if it is meant to be shut, all is well")


@pytest.mark.parametrize(("share", "is_told"), [(0.099, False), (0.1, True), (-0.101, True), (-0.099, False)])
def test_a_tenth_of_what_the_pump_lifts_is_worth_a_look(share, is_told):
    ends = {"pump": {0: {"total": 1e5}, 1: {"total": 6e5}}, "feed cock": {0: {"total": 2e5}, 1: {"total": 2e5 - share * 5e5}}}
    assert bool(found(altered(fuel("0 %"), ends=ends), "stands shut")) is is_told


def test_a_cock_without_a_pump_drives_nothing():
    circuit = fn.Circuit("drum (invented)", fluid="water")
    circuit.tank("drum", level="1 m")
    circuit.run("tap", "drum", "ambient", [fn.valve(rated="0.1 bar at 20 L/min", opening="0 %", name="tap cock")])
    assert not found(circuit.solve()["as written"], "stands shut")


def engine(opening="0 %", round_to=None):
    """Oil that reaches its engine through a cooler behind a cock; a spring valve lets it back to the sump, or leads it round the cooler."""
    circuit = fn.Circuit("oil (invented)", fluid="SAE 10W-40", fluid_temperature="100 C", units="metric")
    circuit.tank("sump", level="120 mm")
    circuit.run("pumping", "sump", "pump out", [fn.displacement_pump("24 cc/rev", speed="900 rpm", name="pump")])
    circuit.run("relief", "pump out", round_to or "sump", [fn.relief_valve("4 bar", wide_open="1 bar at 40 L/min", name="relief")])
    circuit.run("cooling", "pump out", "gallery", [fn.valve(kv=3, opening=opening, name="cock"), fn.core("0.4 bar at 20 L/min", rated_with="own at 100 C", name="cooler")])
    circuit.run("mains", "gallery", "sump", [fn.orifice("3 mm", name="clearances")])
    return circuit.solve()["as written"]


def test_a_shut_cock_before_a_cooler_that_all_oil_passes_is_the_cure_of_the_pressure_that_is_missing():
    case = engine()
    first = checks.case_findings(case)[0]
    assert (first.code, first.severity, first.where) == ("stands shut", "stop", "cock") and "no other way" not in first.what
    assert "pump can send nothing any other way but by its relief, which lets all go: look here before anything else" in first.what
    for code in ("oil pressure", "oil spilled"):
        assert [one.cure for one in found(case, code)] == ["open cock"], code
    assert "opens far too low" not in found(case, "oil spilled")[0].what
    said = " ".join(one.cure for one in case.findings)
    assert "thicker" not in said and "thinner" not in said and "displacement" not in said


def test_a_relief_that_leads_round_the_cooler_is_a_way_of_its_own():
    case = engine(round_to="gallery")
    assert [one.severity for one in found(case, "stands shut")] == ["watch"] and case.at("gallery").gauge.si > 1e4
    assert not any("open cock" in one.cure for one in found(case, "oil pressure"))
    assert not found(engine("100 %"), "stands shut") and not any("cock" in one.cure for one in found(engine("100 %"), "oil pressure"))
