"""Liquid that boils in its tank: its vapour pressure against what stands on it, which a cap adds to.

Vapour pressure of water at 105 C: 120.9 kPa (IAPWS, steam tables).
"""

import pytest

import flarenut as fn
from flarenut import checks


def standing(cap, celsius=105.0):
    circuit = fn.Circuit("header (invented)", fluid="water", fluid_temperature=f"{celsius} C")
    circuit.tank("header", level="4 in", vent=cap)
    circuit.fixed("low", "-2 psi")
    circuit.run("drain", "header", "low", [fn.hose(bore="10 mm", length="1 m", name="hose")])
    case = circuit.solve()["as written"]
    return next((one for one in checks.case_findings(case) if one.code == "boils in the tank"), None)


def test_water_above_its_boiling_point_boils_in_an_open_tank_and_not_under_a_cap():
    open_tank = standing("0 psi")
    assert open_tank.severity == "stop" and open_tank.where == "header"
    assert open_tank.value.si == pytest.approx(120.9e3, rel=5e-3) and open_tank.limit.si == pytest.approx(101325.0)
    assert open_tank.hurt == pytest.approx(open_tank.value.si / 101325.0 - 1.0)
    assert standing("5 psi") is None and standing("0 psi", 95.0) is None


def test_a_cap_holds_up_to_its_own_pressure():
    over = standing("0 psi").value.si - 101325.0
    assert standing(f"{over * (1.0 + 1e-6)!r} Pa") is None
    found = standing(f"{over * (1.0 - 1e-3)!r} Pa")
    assert found.limit.si == pytest.approx(101325.0 + over * (1.0 - 1e-3)) and found.hurt == pytest.approx(over * 1e-3 / found.limit.si, rel=1e-3)
