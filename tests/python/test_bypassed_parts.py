"""How much of the liquid goes round a part: what is beside it, and what is only fed from the same place. All circuits are invented."""

import flarenut as fn
import pytest
from comparison_example import engine


def coolant(*, closed, cock=1.0):
    """An engine whose radiator stands behind a thermostat, with a plain hose round it, and a heater behind a cock; cold."""
    car = fn.Circuit("coolant (invented)", fluid="water", fluid_temperature="20 C", invented=True)
    car.tank("bottle", level="100 mm")
    car.run("bottle hose", *(("bottle", "pump in") if closed else ("pump in", "bottle")), [fn.hose(bore="32 mm", length="1 m")])
    car.run("pumping", "pump in" if closed else "bottle", "engine out",
            [fn.formula_pump("20 psi", "8000 L/h", name="pump"), fn.resistance("0.2 bar at 80 L/min", name="engine block")])
    car.run("cooling", "engine out", "pump in",
            [fn.thermostat("90 C", bore="30 mm", bleed="1 %", name="thermostat"), fn.resistance("0.1 bar at 80 L/min", name="radiator")])
    car.run("round", "engine out", "pump in", [fn.hose(bore="20 mm", length="0.5 m", name="bypass hose")])
    car.run("heater run", "engine out", "pump in", [fn.valve(rated="0.1 bar at 15 L/min", opening=cock, name="heater cock"),
                                                    fn.resistance("0.3 bar at 10 L/min", name="heater core")])
    return car.solve()


def flow(case, part):
    return abs(case.ends(part)[0].flow)


@pytest.mark.parametrize("closed", [True, False])
def test_a_shut_thermostat_sends_the_liquid_round_the_radiator_also_in_a_closed_loop(closed):
    case = coolant(closed=closed)["as written"]
    round_it = sum(flow(case, part) for part in ("bypass hose", "heater core"))
    share = round_it / (round_it + flow(case, "radiator"))
    assert share > 0.98
    assert [case.flows.goes_round(part) for part in ("thermostat", "radiator")] == pytest.approx([share] * 2, rel=1e-6)
    assert [case.flows.goes_round(part) for part in ("pump", "engine block", "bypass hose", "heater core", "heater cock")] == [0.0] * 5


@pytest.mark.parametrize("opening, told", [(1.0, False), (0.2, False), (0.05, True), (0.0, True)])
def test_a_heater_beside_the_radiator_is_bypassed_only_where_its_cock_is_nearly_shut(opening, told):
    answer = coolant(closed=False, cock=opening)
    case = answer["as written"]
    beside = sum(flow(case, part) for part in ("bypass hose", "radiator"))
    share = beside / (beside + flow(case, "heater core"))
    assert share > 0.9 and case.flows.goes_round("heater core") == pytest.approx(share if told else 0.0, rel=1e-6)
    words = "".join(label.get_text() for panel in fn.pressure_ladder(answer, runs=["heater run"]).child_axes
                    for label in panel.get_xticklabels())
    assert (" goes round it" in words) == told


@pytest.mark.parametrize("behind", [[], [fn.hose(bore="16 mm", length="0.3 m", name="relief hose")]])
def test_a_relief_at_the_gallery_is_no_way_round_the_bearings_whatever_follows_it(behind):
    """Both end in the pan: what the relief passes never comes to the bearings, and meets their oil in no line."""
    car = fn.Circuit("oil (invented)", fluid="SAE 10W-40", fluid_temperature="-20 C", invented=True)
    car.tank("pan", level="4 in")
    car.run("pumping", "pan", "gallery", [fn.displacement_pump("30 cc/rev", speed="3000 rpm", name="pump")])
    relief = fn.relief_valve("5 bar", wide_open="2 bar at 100 L/min", name="relief", rated_with="own at 100 C")
    car.run("relief run", "gallery", "pan", [relief, *behind])
    bearings = fn.bearings(5, diameter="50 mm", width="18 mm", clearance="0.055 mm", speed="3000 rpm", name="bearings")
    car.run("mains", "gallery", "pan", [bearings])
    car.run("bleed", "gallery", "pan", [fn.orifice("1.5 mm", name="jet"),
                                        fn.core("0.3 bar at 10 L/min", rated_with="own at 100 C", name="cooler")])
    case = car.solve()["as written"]
    assert flow(case, "relief") > 0.9 * flow(case, "pump")
    assert {case.flows.goes_round(part) for part in case.part_names} == {0.0}


def test_a_relief_round_a_filter_is_a_way_round_it():
    """Cold oil lifts it: it leaves the filter's way before the filter and comes back behind it."""
    car = fn.Circuit("oil (invented)", fluid="SAE 10W-40", fluid_temperature="-20 C", invented=True)
    car.tank("pan", level="4 in")
    car.run("pumping", "pan", "dirty", [fn.displacement_pump("30 cc/rev", speed="1000 rpm", name="pump")])
    car.run("filtering", "dirty", "clean", [fn.filter("0.3 bar at 30 L/min", rated_with="own at 100 C", name="filter")])
    bypass = fn.relief_valve("0.8 bar", wide_open="0.5 bar at 60 L/min", name="bypass", rated_with="own at 100 C")
    car.run("round it", "dirty", "clean", [bypass, fn.hose(bore="16 mm", length="0.2 m", name="passage")])
    car.run("mains", "clean", "pan", [fn.hose(bore="20 mm", length="0.3 m", name="way back")])
    case = car.solve()["as written"]
    share = flow(case, "passage") / (flow(case, "passage") + flow(case, "filter"))
    assert share > 0.1 and case.flows.goes_round("filter") == pytest.approx(share, rel=1e-6)
    assert [case.flows.goes_round(part) for part in ("bypass", "passage", "way back", "pump")] == [0.0] * 4


def test_a_relief_that_dumps_into_the_inlet_of_the_pump_is_no_way_round_the_filter():
    """What it passes comes by again, through the pump."""
    car = fn.Circuit("oil (invented)", fluid="SAE 10W-40", fluid_temperature="-20 C", invented=True)
    car.tank("pan", level="4 in")
    car.run("suction", "pan", "pump in", [fn.hose(bore="32 mm", length="0.2 m", name="pick-up")])
    car.run("pumping", "pump in", "pump out", [fn.displacement_pump("10 cc/rev", speed="1000 rpm", name="pump")])
    relief = fn.relief_valve("1 bar", wide_open="2 bar at 60 L/min", name="relief", rated_with="own at 100 C")
    car.run("relief run", "pump out", "pump in", [relief])
    car.run("filtering", "pump out", "clean", [fn.filter("0.3 bar at 5 L/min", rated_with="own at 100 C", name="filter")])
    car.run("beside", "pump out", "clean", [fn.orifice("1 mm", name="jet")])
    car.run("home", "clean", "pan", [fn.hose(bore="20 mm", length="0.3 m", name="home hose")])
    case = car.solve()["as written"]
    assert flow(case, "relief") > 0.1 * flow(case, "pump")
    assert {case.flows.goes_round(part) for part in case.part_names} == {0.0}


def bleed_beside_relief(joined):
    """The engine of the comparison, its cooler in a bleed to the sump that forks off where the relief does; or both home by one line."""
    car = engine().copy("bleed beside relief")
    filtering, cooling, relief = (car.take_out(run) for run in ("filtering", "cooling", "relief"))
    car.take_out("round the cooler")
    home = "home" if joined else "sump"
    car.run("filtering", "filter in", "gallery", filtering)
    car.run("cooling", "pump out", home, [fn.orifice("1.4 mm", name="bleed jet"), *[part for part in cooling if part.name != "thermostat"]])
    car.run("relief", "pump out", home, [*relief, fn.hose(bore="16 mm", length="0.2 m", name="relief passage")])
    if joined:
        car.run("home", "home", "sump", [fn.hose(bore="20 mm", length="0.3 m", name="home hose")])
    return car


@pytest.mark.parametrize("joined", [False, True])
def test_a_bleed_cooler_beside_the_relief_is_no_station_on_the_way_to_the_gallery(joined):
    compared = fn.compare({"engine": engine(), "bleed": bleed_beside_relief(joined)}, units="metric", cases=["cold start"])
    case, loop = compared.answers["bleed"]["cold start"], compared.loop("bleed", "cold start")
    assert flow(case, "relief passage") > 10.0 * flow(case, "oil cooler")
    assert loop.round_it is None and "cooler in" not in loop.main and set(loop.aside) == {"cooler in", "cooler out"}
    assert compared.loop("engine", "cold start").round_it > 0.98
