"""Checks on tank and suction: each speaks where its limit is passed and keeps quiet where it is not; its number is worked here again.

The limits themselves are common practice, no source.
"""

import flarenut as fn
import pytest
import results_example as example
from checks_example import codes, finding, one_case, still

AMBIENT, PSI = 101325.0, 6894.757293168


# ---- suction ----

def test_the_suction_margin_is_watched_and_boiling_stops():
    lifted = {"return_bore": 0.0095, "position": 0.8}  # the pump well above the liquid, so that it alone comes near to boiling
    margin = one_case(**lifted).suction("fuel pump").margin.si
    quiet, close, boils = (one_case(vapour_pressure=example.VAPOUR_PRESSURE + margin - left, **lifted)
                           for left in (5001.0, 4000.0, -1000.0))
    assert finding(quiet, "suction margin") is None
    assert finding(close, "suction margin").severity == "fix"
    assert finding(close, "suction margin").value.si == pytest.approx(4000.0, abs=1.0)  # the flow does not depend on it
    stopped = finding(boils, "suction margin")
    assert stopped.severity == "stop" and "boils on the way to the pump" in stopped.text()
    assert finding(boils, "below vapour pressure") is None  # said once


def test_a_stopped_pump_sucks_at_nothing():
    case = one_case({"fuel pump.volts": 0.0}, vapour_pressure=99e3)
    assert case.solution.regime_of("fuel pump") == "stopped"
    assert finding(case, "suction margin") is None and finding(case, "inlet vacuum") is None


@pytest.mark.parametrize(("height", "speaks"), [(-0.1, False), (0.9, False), (1.4, True)])
def test_two_inches_of_mercury_at_the_inlet(height, speaks):
    case = one_case(position=height)  # 1.2 m of lift of this fuel is 8.8 kPa; 2 inHg are 6.8
    inlet = case.solution.suction("fuel pump").inlet_gauge
    assert speaks == (inlet < -2 * 3386.389)
    found = finding(case, "inlet vacuum")
    assert (found is not None) == speaks
    if speaks:
        assert found.value.to("inHg vacuum") == pytest.approx(-inlet / 3386.389, rel=1e-12)


def test_boiling_elsewhere_is_said_with_the_worst_place_first():
    """A return that climbs 3 m over the tank: rho g h is 22 kPa, of the 101 that stand on the tank."""
    car = still(vapour="90 kPaa")
    car.tank("cell", level="0 m")
    car.run("feed", "cell", "rail", [fn.formula_pump("80 psi", "300 L/h", name="pump"), fn.hose(bore="9 mm", length="3 m", rise="0 m")])
    car.run("return", "rail", "cell", [fn.orifice("2 mm", name="spill"), fn.hose(bore="15 mm", length="4 m", rise="3 m", name="up"),
                                       fn.hose(bore="15 mm", length="4 m", rise="-3 m", name="down")])
    case = car.solve()["as written"]
    found = finding(case, "below vapour pressure")
    assert found.severity == "stop" and found.where in ("up", "down") and "also at" in found.text()
    assert found.value.si == pytest.approx(AMBIENT - 750 * 9.80665 * 3.0, rel=0.01) and found.limit.si == pytest.approx(90e3, rel=1e-9)
    assert "boils in the tank" not in codes(case) and "suction margin" not in codes(case)


def test_liquid_that_boils_in_its_tank_is_not_blamed_on_the_line():
    """The pressure on the liquid decides, not that at the pick-up below it: 0.2 m of liquid is 1.5 kPa."""
    case = one_case(vapour_pressure=AMBIENT + 1000.0)
    found = finding(case, "boils in the tank")
    assert found.severity == "stop" and found.where == "tank"
    assert found.value.si == pytest.approx(AMBIENT + 1000.0) and found.limit.si == pytest.approx(AMBIENT)
    assert "no wider line" in found.cure and not any("widen" in one.cure for one in case.findings)
    assert not {"suction margin", "below vapour pressure"} & set(codes(case))
    assert finding(one_case(vapour_pressure=AMBIENT - 10.0), "boils in the tank") is None
    assert finding(one_case({"tank.vent": 5e3}, vapour_pressure=AMBIENT + 1000.0), "boils in the tank") is None  # under a cap


@pytest.mark.parametrize("left", [-1000.0, 3000.0])  # boils in the tank; leaves too little margin there
@pytest.mark.parametrize("family", ["fuel", "oil", "brake fluid", "coolant", "water", ""])
def test_pressure_in_a_tank_is_advised_for_a_cooling_system_alone(family, left):
    """A fuel cell or filler that is not made to hold pressure bursts or sprays (common practice, no source)."""
    case = one_case(changes={"family": family}, vapour_pressure=AMBIENT - left)
    found = finding(case, "boils in the tank" if left < 0.0 else "suction margin")
    assert "cool" in found.cure
    assert ("pressure cap of the system's rating" in found.cure) == (family == "coolant")
    assert ("never pressurise a tank that is not built and approved for it" in found.cure) == (family != "coolant")
    assert "under pressure" not in found.cure


def test_what_a_warm_tank_leaves_is_told_apart_from_what_the_line_costs():
    near = finding(one_case(vapour_pressure=AMBIENT - 3000.0), "suction margin")
    assert near.numbers["tank"].si == pytest.approx(3000.0, abs=1e-6) and "widen" not in near.cure and "cool" in near.cure
    lifted = finding(one_case(vapour_pressure=AMBIENT - 6000.0, position=1.0), "suction margin")  # 1.2 m of lift: 8.8 kPa
    assert lifted.value.si < 0.0 and "tank" not in lifted.numbers and "widen" in lifted.cure


def test_spray_into_the_manifold_may_boil():
    case = one_case(vapour_pressure=60e3, return_bore=0.0095)  # the manifold stands at 41 kPa
    assert case.at("manifold").absolute.si < 60e3
    assert finding(case, "below vapour pressure") is None


def lifting(family, level_below, **words):
    """One case of the example circuit as if it held another liquid, with its pump that far above the tank."""
    return one_case(changes={"family": family, **words}, position=level_below)


@pytest.mark.parametrize(("family", "fluid", "vacuum"), [
    ("fuel", "x", 2.0), ("oil", "SAE 10W-40", 5.0), ("hydraulic fluid", "ISO VG 46", 5.0), ("transmission fluid", "x", 5.0),
    ("coolant", "x", None), ("water", "x", None), ("brake fluid", "x", None), ("", "x", None)])
def test_the_deepest_vacuum_depends_on_the_liquid(family, fluid, vacuum):
    """5 inHg (17 kPa): 2.4 m of lift of 750 kg/m3. What no limit is known of is not judged."""
    shallow, deep = (finding(lifting(family, height, fluid=fluid), "inlet vacuum") for height in (1.6, 2.6))
    assert (deep is None) == (vacuum is None) and (shallow is None) == (vacuum != 2.0)
    if deep:
        assert deep.limit.to("inHg vacuum") == pytest.approx(vacuum)
