"""Devices written backwards are told by their own name, and not by that of the part that suffers from it."""

import pytest

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


def _fuel(*, pump="right", foot="", booster="", spill=False):
    """Cell, check valve or hose, pump, rail with injectors; the return has a regulator, or a jet alone. Each device may be turned round."""
    car = fn.Circuit("fuel (invented)", fluid="gasoline")
    car.tank("cell", level="8 in")

    def run(name, start, end, pieces, way):
        car.run(name, *((start, end) if way == "right" else (end, start)), pieces)

    inlet = fn.check_valve("0.1 psi", bore="10 mm", name="foot valve") if foot else fn.hose(bore="10 mm", length="0.5 m")
    run("suction", "cell", "fed", [inlet], foot or "right")
    run("pumping", "fed", "pumped", [fn.formula_pump("95 psi", "420 L/h", name="pump")], pump)
    if booster:
        run("boosting", "pumped", "boosted", [fn.formula_pump("120 psi", "420 L/h", name="booster")], booster)
    car.run("feed", "boosted" if booster else "pumped", "rail", [fn.hose(bore="8 mm", length="2 m", name="feed hose")])
    device = fn.orifice("2.5 mm", name="jet") if spill else fn.bypass_regulator("43.5 psi", reference="ambient", name="regulator")
    car.run("return", "rail", "cell", [device, fn.hose(bore="8 mm", length="2 m", name="return hose")])
    car.injectors("bank", at="rail", count=6, flow="500 cc/min at 3 bar", duty="60 %")
    return car


def _first(car):
    case = car.solve()["as written"]
    return case, case.findings[0]


@pytest.mark.parametrize("spill", [False, True])
def test_a_pump_in_backwards_is_told_before_what_it_brings_about_and_has_a_cure(spill):
    case, first = _first(_fuel(pump="turned", spill=spill))
    assert not case.converged and first.code == "not solved" and first.where == "pump"
    assert "are its two ends swapped?" in case.cause and "too narrow" not in case.cause and "injector" not in case.cause
    assert first.cure.startswith("swap the two ends of its run, 'pumping'")


@pytest.mark.parametrize("spill", [False, True])
def test_a_check_valve_before_the_pump_in_backwards_is_told_first_and_the_pump_is_not_blamed(spill):
    case, first = _first(_fuel(foot="turned", spill=spill))
    assert not case.converged and first.where == "foot valve" and "swapped" not in case.cause
    assert case.cause.startswith("look first at the check valve 'foot valve', which is shut: is it the wrong way round?")
    assert first.cure.startswith("turn it round")


@pytest.mark.parametrize("spill", [False, True])
def test_a_pump_in_backwards_that_pushes_its_foot_valve_shut_is_told_and_the_valve_is_not(spill):
    case, first = _first(_fuel(pump="turned", foot="right", spill=spill))
    assert case.converged and (first.code, first.severity, first.where) == ("pump backwards", "stop", "pump") and "swap" in first.cure
    assert not {"check valve backwards", "reversed flow", "dead-headed pump"} & {one.code for one in case.findings}


def test_of_two_pumps_in_a_row_the_one_that_faces_the_other_is_told_and_what_it_explains_is_not():
    lost, first = _first(_fuel(booster="turned"))
    assert not lost.converged and first.where == "booster" and "nothing can feed pump 'booster'" in lost.cause and "boosting" in first.cure
    car = _fuel(booster="turned")
    car.case("boost", manifold="30 psi boost")  # what comes back by the injectors lets it settle
    case = car.solve()["boost"]
    first = case.findings[0]
    assert case.converged
    assert (first.code, first.severity, first.where) == ("pump backwards", "stop", "booster") and first.cure
    codes = [one.code for one in case.findings]
    assert not {"reversed flow", "beyond measured data", "dead-headed pump", "suction margin", "inlet vacuum"} & set(codes)
    assert all("larger pump" not in one.cure for one in case.findings)
    assert "pump backwards" not in {one.code for one in _fuel(booster="right").solve().findings}


def test_a_pump_that_drives_a_loop_against_its_runs_is_asked_about():
    """A closed loop settles either way: only how its runs are written tells."""
    for ends, told in ((("out", "in"), True), (("in", "out"), False)):
        car = fn.Circuit("loop (invented)", fluid="water")
        car.tank("header", level="0.5 m")
        car.run("pumping", *ends, [fn.formula_pump("1 bar", "100 L/min", name="water pump")])
        car.run("block", "out", "back", [fn.hose(bore="20 mm", length="1 m")])
        car.run("radiator", "back", "in", [fn.hose(bore="20 mm", length="2 m")])
        car.run("filling", "header", "in", [fn.hose(bore="12 mm", length="0.5 m")])
        found = [one for one in car.solve().findings if one.code == "pump backwards"]
        assert bool(found) == told and (not told or "block and radiator" in found[0].text() and found[0].cure)


def test_a_pump_against_a_shut_cock_is_not_told_to_turn_a_valve_of_another_way():
    """Two ways from one tank: on the one a cock is shut, on the other a check valve is in backwards."""
    car = fn.Circuit("two ways (invented)", fluid="gasoline")
    for tank in ("cell", "aft cell", "side cell"):
        car.tank(tank, level="8 in")
    car.run("transfer", "cell", "aft cell", [fn.formula_pump("10 psi", "100 L/h", name="transfer pump"), fn.hose(bore="8 mm", length="1 m"),
                                             fn.valve(cv=5, opening="0 %", name="cock")])
    car.run("out", "a", "side cell", [fn.hose(bore="8 mm", length="1 m")])
    car.run("pumping", "cell", "b", [fn.formula_pump("20 psi", "100 L/h", name="lift pump")])
    car.run("check", "a", "b", [fn.check_valve("0.1 psi", bore="10 mm", name="check")])
    cures = {one.where: one.cure for one in car.solve()["as written"].findings if one.code == "dead-headed pump"}
    assert cures == {"transfer pump": "open cock", "lift pump": "turn check round"}
