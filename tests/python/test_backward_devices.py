"""Devices written backwards are told by their own name, and not by that of the part that suffers from it."""

import flarenut as fn


def _codes(car):
    return {(one.code, one.where) for one in car.solve()["as written"].findings}


def test_a_reversed_oil_pump_is_blamed_and_not_its_relief():
    car = fn.Circuit("oil (invented)", fluid="SAE 10W-40", fluid_temperature="90 C")
    car.tank("sump", level="100 mm")
    car.fixed("crankcase", height="0 m")
    car.run("suction", "sump", "inlet", [fn.filter("0.5 bar at 5 L/min", rated_with="own at 90 C"), fn.hose(bore="14 mm", length="0.5 m")])
    car.run("pumping", "out", "inlet", [fn.displacement_pump("8 cc/rev", speed="1500 rpm", name="pump")])
    car.run("relief", "out", "sump", [fn.relief_valve("1 bar", wide_open="2 bar at 40 L/min", name="relief")])
    car.run("gallery", "out", "crankcase", [fn.orifice("8 mm")])
    case = car.solve()["as written"]
    pressed = case.part("relief").outlet.total.si - case.part("relief").inlet.total.si
    assert case.converged and pressed > 1e4  # what made the relief look backwards
    found = _codes(car)
    assert ("pump backwards", "pump") in found and "relief backwards" not in {code for code, _ in found}


def test_a_regulator_written_backwards_is_told_though_the_return_bears_less_than_half_its_setting():
    car = fn.Circuit("return (invented)", fluid="gasoline")
    car.tank("cell", level="8 in")
    car.run("feed", "cell", "rail", [fn.formula_pump("80 psi", "420 L/h", name="pump"), fn.hose(bore="8 mm", length="2 m")])
    car.run("relief", "rail", "cell", [fn.relief_valve("20 psi", wide_open="5 psi at 400 L/h", name="relief"), fn.hose(bore="8 mm", length="1 m")])
    car.run("return", "cell", "before", [fn.hose(bore="8 mm", length="1 m")])
    car.run("regulating", "before", "rail", [fn.bypass_regulator("75 psi", reference="ambient", name="regulator")])
    car.solve()
    assert ("regulator backwards", "regulator") in _codes(car)
