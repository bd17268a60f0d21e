"""What an oil is for decides which rules judge it; its name or its grade tells. Grades by SAE J300 (engines) and J306 (gears), from memory."""

import pytest

import flarenut as fn
from flarenut.circuit.families import family_of

ENGINE_RULES = ("relief setting", "pressure ceiling", "oil spilled", "oil pressure")


@pytest.mark.parametrize(("name", "family"), [
    ("SAE 10W-40", "oil"), ("SAE 0W-20", "oil"), ("SAE 30", "oil"), ("engine oil", "oil"), ("diesel engine oil", "oil"), ("motor oil 15W-40", "oil"),
    ("ATF", "transmission fluid"), ("power steering fluid", "transmission fluid"), ("gear oil", "gear oil"), ("SAE 75W-90", "gear oil"),
    ("SAE 90", "gear oil"), ("ISO VG 46", "hydraulic fluid"), ("hydraulic oil", "hydraulic fluid"), ("oil", "other oil"), ("hot oil", "other oil"),
    ("gasoline class A", "fuel"), ("E85", "fuel"), ("E30", "fuel"), ("diesel", "fuel"), ("methanol", "fuel"), ("50 % glycol", "coolant"),
    ("water", "water"), ("something else", "")])
def test_a_name_tells_the_family(name, family):
    assert family_of(name) == family


def steering(name):
    """A full lock: the relief lets all go at 1200 psi."""
    circuit = fn.Circuit("steering (invented)", fluid=fn.oil(kv40="34 cSt", kv100="7.2 cSt", **({"name": name} if name else {})), fluid_temperature="50 C")
    circuit.tank("reservoir", level="4 in", height="20 in")
    circuit.run("suction", "reservoir", "pump out", [fn.hose("-12", "2 ft", spec="full-size"), fn.displacement_pump(
        "10 cc/rev", speed="900 rpm", volumetric_efficiency="92 % at 1000 psi, 1500 rpm, 25 cP", name="pump")])
    circuit.run("relief run", "pump out", "reservoir", [fn.relief_valve("1200 psi", wide_open="50 psi at 5 gpm", override="60 psi", name="relief")])
    circuit.run("work", "pump out", "reservoir", [fn.hose("-6", "4 ft", spec="full-size", name="pressure hose"),
                                                  fn.valve(rated="3000 psi at 0.05 gpm", name="steering valve"), fn.hose("-8", "4 ft", spec="full-size")])
    return circuit.solve()["as written"]


@pytest.mark.parametrize("name", ["ATF", "power steering fluid", "hydraulic oil", "gear oil", None])
def test_rules_for_engines_leave_other_oil_alone(name):
    case = steering(name)
    codes = [one.code for one in case.findings]
    assert not set(ENGINE_RULES) & set(codes)
    (relief,) = (one for one in case.findings if one.code == "relief open")
    assert relief.severity == "watch" and "engine" not in relief.text() and "full lock" in relief.cure
    assert ("oil of unknown use" in codes) == (name is None)


def test_the_same_oil_called_engine_oil_is_judged_as_such():
    codes = [one.code for one in steering("engine oil").findings]
    assert {"relief setting", "pressure ceiling", "oil spilled"} <= set(codes) and "oil of unknown use" not in codes
