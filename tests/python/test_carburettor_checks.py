"""Fuel pressure on the float valve of a carburettor, which is taken to stand where no injectors are written. Common practice, no source."""

import pytest

import flarenut as fn
from flarenut import checks


def told(case, limits=None):
    found = [one for one in checks.case_findings(case, limits) if one.code == "float valve pressure"]
    assert len(found) <= 1, found
    return found[0] if found else None


def bowl(dead_head, set=None, fluid="gasoline class A", injectors=False):
    circuit = fn.Circuit("carburettor (invented)", fluid=fluid)
    circuit.tank("main", level="8 in")
    circuit.junction("bowl", demand="10 gph")
    regulator = [fn.reducing_regulator(set, wide_open="0.3 psi at 60 gph", name="regulator")] if set else []
    circuit.run("feed", "main", "bowl", [fn.formula_pump(dead_head, "90 gph", name="pump"), *regulator])
    if injectors:
        circuit.injectors("bank", "bowl", count=4, flow="300 cc/min at 3 bar", duty="30 %", to="ambient")
    return circuit.solve()["as written"]


def test_an_injection_pump_straight_onto_a_carburettor_stops_and_says_what_is_assumed():
    case = bowl("95 psi")
    found = told(case)
    assert found.severity == "stop" and found.where == "bowl" and found.value.si == pytest.approx(case.at("bowl").gauge.si)
    assert found.limit.to("psi") == pytest.approx(10.0) and "no injectors are written" in found.text() and "write them" in found.cure


def test_a_carburettors_own_pump_and_a_regulator_are_left_alone():
    assert told(bowl("7 psi")) is None and told(bowl("95 psi", "6 psi")) is None
    assert told(bowl("7 psi"), checks.Limits(float_valve_pressure="4 psi")).source == "set by you"


def test_a_regulator_of_injection_injectors_and_diesel_speak_against_a_carburettor():
    assert told(bowl("95 psi", "43.5 psi")) is None
    assert told(bowl("95 psi", injectors=True)) is None
    assert told(bowl("95 psi", fluid="diesel")) is None
