"""A circuit to sweep, and the readings of single solves that every point of a sweep has to equal."""

import flarenut as fn
import pytest

CLOSE = 1e-9  # relative: both are solved to 1e-9 of the residual, and a last Newton step leaves less
# The same of what is large in such a circuit: a gauge pressure is a difference of absolute ones, a leak what is left of a pump's flow.
NEAR = {"Pa": 1e-4, "m/s": 1e-9, "m**3/s": 1e-13, "kg/s": 1e-10}


def small_car(fluid="E85", *, length="12 ft", size="-6", **pump):
    """An invented return-style circuit: level, so that a length is a number of the plan."""
    car = fn.Circuit("invented", fluid=fluid, invented=True)
    car.tank("cell", level="8 in")
    car.junction("rail", bore="11 mm")
    car.run("feed", "cell", "rail", [
        fn.strainer("0.3 psi at 100 gph", name="sock"),
        fn.formula_pump("95 psi", "420 L/h", through="65 psi at 230 L/h", volts_lost="0.4 V", name="pump", **pump),
        fn.hose("-8", "11 ft", spec="ptfe", bends=[90, 90, 45], name="feed hose"),
        fn.filter("1.2 psi at 100 gph", name="filter")])
    car.run("return", "rail", "cell", [
        fn.bypass_regulator("43.5 psi", reference="manifold", name="regulator"),
        fn.hose(size, length, spec="ptfe", bends=[90, 90], name="return hose")])
    car.injectors("bank", "rail", count=6, flow="1000 cc/min at 3 bar")
    car.fuel_cases()
    return car


def demo():
    from importlib.resources import files

    return fn.load(str(files("flarenut.demo") / "return_style_e85.toml"))


def curves(scale):
    points = [[0, 120 * scale], [200 * scale, 80 * scale], [350 * scale, 40 * scale], [450 * scale, 0]]
    return [{"volts": volts, "flow": "L/h", "pressure": "psi", "points": [[volts / 12 * flow, volts / 12 * rise] for flow, rise in points]}
            for volts in (11.0, 12.5, 14.0)]


READINGS = {
    "rail.gauge": lambda case: case.at("rail").gauge.si,
    "rail.total": lambda case: case.at("rail").total.si,
    "feed:2.gauge": lambda case: case.at("feed:2").gauge.si,
    "return:1.velocity": lambda case: case.at("return:1").velocity.si,
    "return hose.drop": lambda case: case.part("return hose").drop.si,
    "return hose.velocity": lambda case: case.part("return hose").velocity.si,
    "return hose.reynolds": lambda case: case.part("return hose").reynolds,
    "return.drop": lambda case: case.run("return").drop.si,
    "pump.flow": lambda case: case.part("pump").flow.si,
    "pump.rise": lambda case: case.part("pump").rise.si,
    "pump.suction_margin": lambda case: case.part("pump").suction.margin.si,
    "pump.suction_vacuum": lambda case: case.part("pump").suction.vacuum.si,
    "pump.suction_npsh_available": lambda case: case.part("pump").suction.npsh_available.si,
    "feed hose.inlet": lambda case: case.part("feed hose").inlet.gauge.si,
    "feed hose.outlet.vapour_margin": lambda case: case.part("feed hose").outlet.vapour_margin.si,
    "feed hose.mass_flow": lambda case: case.part("feed hose").mass_flow.si,
    "bank.drop": lambda case: case.part("bank").drop.si,
}


def assert_same(answer, point, case):
    """Every reading of a point of a sweep is that of a single solve."""
    found = answer.sel(point).sel(case=case.name)
    assert int(found["status"]) == 0
    for name, read in READINGS.items():
        if name in answer:
            near = 1e-4 if name.endswith("reynolds") else NEAR.get(answer[name].attrs["units"], 0.0)
            assert float(found[name]) == pytest.approx(read(case), rel=CLOSE, abs=near), name
    if "regulator.regime" in answer:
        assert str(fn.words_of(answer["regulator.regime"]).sel(point).sel(case=case.name).item()) == case.part("regulator").regime
