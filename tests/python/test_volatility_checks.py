"""Boiling before a pump and in a tank: what the vapour pressure may be off by, what stands for the fuel at hand, what cures it.

A class of gasoline is the most that ASTM D4814 allows; how far vapour pressures may be off is told in docs/theory/fluids.md.
"""

import pytest

import flarenut as fn
from flarenut import checks

PSI = 6894.757293168361


def told(case, code, limits=None):
    found = [one for one in checks.case_findings(case, limits) if one.code == code]
    assert len(found) <= 1, found
    return found[0] if found else None


def tank(fluid, temperature, altitude="0 ft", bore="10 mm"):
    circuit = fn.Circuit("warm tank (invented)", fluid=fluid, fluid_temperature=temperature, altitude=altitude)
    circuit.tank("cell", level="2 in")
    circuit.run("feed", "cell", "rail", [fn.tube(bore=bore, length="4 ft", name="pick-up"), fn.formula_pump("95 psi", "150 gph", name="pump")])
    circuit.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient", name="regulator")])
    return circuit.solve()["as written"]


def test_a_class_of_gasoline_that_boils_is_said_to_be_the_most_of_its_class():
    found = told(tank("gasoline class A", "60 C"), "boils in the tank")
    assert found.severity == "stop" and "the most that ASTM D4814 allows" in found.text() and 'reid="7 psia"' in found.text()
    blend = told(tank("E10", "60 C"), "boils in the tank")
    assert "its own Reid vapour pressure" in blend.text()


def test_where_the_tank_leaves_too_little_margin_the_class_is_named_as_well():
    found = told(tank("gasoline class A", "51 C"), "suction margin")
    assert found.severity == "fix" and "tank" in found.numbers and "the most that ASTM D4814 allows" in found.text()
    assert "class allows" not in told(tank(fn.fluid("gasoline", reid="9 psia"), "51 C"), "suction margin").text()


def test_a_fuel_of_given_reid_pressure_is_told_nothing_of_classes():
    own = fn.fluid("gasoline", reid="9 psia")
    assert "class" not in told(tank(own, "60 C"), "boils in the tank").text()
    assert told(tank(fn.fluid("gasoline", reid="6 psia"), "60 C"), "boils in the tank") is None  # as the finding says it would help


def test_hot_water_is_not_told_of_a_less_volatile_fuel_and_no_tank_is_to_be_pressurised():
    found = told(tank("water", "110 C"), "boils in the tank")
    assert "fuel" not in found.text() and "coolant" in found.cure and "never pressurise a tank" in found.cure


@pytest.mark.parametrize(("fluid", "temperature", "band"), [("gasoline class A", "42 C", 0.05), ("E10", "40 C", 0.05)])
def test_the_band_of_a_fuels_vapour_pressure_is_added_to_the_margin_that_is_asked(fluid, temperature, band):
    case = tank(fluid, temperature)
    margin, vapour = case.suction("pump").margin.si, case.liquid_in("pump")["vapour_pressure"]
    kept = fn.fluid(fluid).band("vapour pressure", temperature)
    assert kept >= band
    just_less, just_more = (checks.Limits(suction_margin=f"{(margin - kept * vapour) * share} Pa") for share in (0.999, 1.001))
    assert margin - kept * vapour > 0.0 and told(case, "suction margin", just_less) is None
    found = told(case, "suction margin", just_more)
    assert found.severity == "fix" and found.numbers["band"].si == pytest.approx(kept * vapour)
    assert "may be off" in found.text() and found.numbers["least"].si == pytest.approx((margin - kept * vapour) * 1.001)


def test_water_and_oil_keep_their_bare_limit():
    case = tank("water", "90 C")
    margin = case.suction("pump").margin.si
    found = told(case, "suction margin", checks.Limits(suction_margin=f"{margin * 1.001} Pa"))
    assert "may be off" not in found.text() and found.limit.si == pytest.approx(margin * 1.001)
    assert told(case, "suction margin", checks.Limits(suction_margin=f"{margin * 0.999} Pa")) is None


def test_a_vacuum_of_fuel_is_not_cured_by_cooling():
    found = told(tank("gasoline class A", "10 C", bore="5.5 mm"), "inlet vacuum")
    assert found.severity == "fix" and "cool" not in found.cure and "widen" in found.cure
