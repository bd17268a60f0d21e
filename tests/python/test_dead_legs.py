"""Legs in which nothing flows: an expansion tank on one hose. How warm it is in them must not go by the sign of the last digit of their flow."""

import flarenut as fn
import pytest


def _loop(fluid, high, wind, loss):
    car = fn.Circuit("expansion tank on one hose (invented)", fluid=fluid, fluid_temperature="80 C", air_temperature="5 C")
    car.tank("header", height=f"{high} m", level="0.2 m", vent="1 bar", temperature="found", heat_loss=f"{loss} W/K")
    for name, height in (("inlet", 0.0), ("out", 0.1), ("hot", 0.4)):
        car.junction(name, height=f"{height} m", **({"heat": "600 W"} if name == "hot" else {}))
    car.run("pumping", "inlet", "out", [fn.centrifugal_pump([["0 L/min", "0.6 bar"], ["60 L/min", "0.3 bar"], ["100 L/min", "0.02 bar"]], rated_speed="3000 rpm",
                                                            speed="3000 rpm", name="pump")])
    car.run("up", "out", "hot", [fn.hose(bore="20 mm", length="1 m", name="up")])
    car.run("back", "hot", "inlet", [fn.hose(bore="16 mm", length="6 m", air="15 m/s", name="back")])
    car.run("leg", "header", "inlet", [fn.hose(bore="12 mm", length=f"{high + 0.3} m", air=wind, name="leg")])
    return car


@pytest.mark.parametrize("fluid", ["ethylene glycol 50 %", "water"])
@pytest.mark.parametrize(("high", "wind", "loss"), [(0.4, "still", 15), (0.8, "2 m/s", 28), (1.5, "9 m/s", 5), (0.5, "still", 30)])
def test_an_expansion_tank_on_one_hose_settles(fluid, high, wind, loss):
    case = _loop(fluid, high, wind, loss).solve()["as written"]
    assert case.converged, case.cause
    assert abs(case.part("leg").mass_flow.to("kg/s")) < 1e-12
    assert case.at("header").temperature.to("C") == pytest.approx(5.0, abs=0.01)  # nothing warms it
