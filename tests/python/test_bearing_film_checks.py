"""Bearings with a film taken for as cold as the oil that comes in: they hold back what should pass the cooler. All circuits are invented.

What is told of a hotter film is held to circuits written with it, and its viscosity to the oil's own.
"""

import flarenut as fn
import pytest
from flarenut.results.certificate import certificate_rows
from test_tried_cures import oil


def solved(film, sump="120 C", **words):
    car = oil(film=film)
    del car.cases["full speed"]
    held = {} if sump is None else {"sump.temperature": sump}
    car.case("full speed", **{"speed": "6500 rpm", "engine_power": "110 kW", "vehicle_speed": "45 m/s", **held, **words})
    return car.solve()["full speed"]


def hot(case):
    (finding,) = [one for one in case.findings if one.code == "liquid too hot"]
    return finding


def given_off(case):
    return -sum(float(case.solution.heat_of(part)) for part in case.part_names)


def shown(finding, which):
    return finding.numbers[f"film tried {which}"].si


def test_bearings_with_a_film_as_cold_as_their_oil_are_named_before_any_cooler():
    case = solved(1)
    finding = hot(case)
    assert "lost in mains, the film there taken for as viscous as the oil that comes in" in finding.what
    assert finding.cure.startswith("say film_viscosity of mains: ") and "larger cooler" not in finding.cure
    ends, (pump,) = case.ends("mains"), case.pumps
    raised = case.ends(pump)[1].total - case.ends(pump)[0].total
    assert finding.numbers["film share"].si == pytest.approx((ends[0].total - ends[1].total) / raised, rel=1e-12)
    assert finding.numbers["film oil"].si == pytest.approx(case.at("gallery").temperature.si, abs=1e-6)


def test_a_hotter_film_has_the_number_of_a_circuit_written_with_it():
    case = solved(1)
    oil_ = fn.fluid("SAE 5W-40")
    hottest = max(float(case.solution.temperature_of(name)) for name in case.junction_names)
    as_hot = oil_.at(f"{hottest} K").viscosity.si / oil_.at(case.at("gallery").temperature).viscosity.si
    assert shown(hot(case), 0) == pytest.approx(given_off(solved("60 %")), rel=1e-6) and shown(hot(case), 0) > given_off(case)
    assert shown(hot(case), 1) == pytest.approx(given_off(solved(as_hot)), rel=1e-3)
    assert f"film_viscosity {100 * as_hot:.0f} %, that of a film as hot as the hottest oil" in hot(case).what


@pytest.mark.parametrize(("film", "named"), [(1, True), ("90 %", True), ("89 %", False), ("60 %", False)])
def test_a_film_that_is_said_thinner_leaves_the_cooler_to_be_judged(film, named):
    found = hot(solved(film))
    assert ("film_viscosity" in found.cure) == named and ("a thermostat or a bypass" in found.cure) != named


def test_bearings_that_do_not_take_the_pressure_are_not_named():
    """Arctic air: the oil stands in the cooler, which takes the pressure itself."""
    case = solved(1, "130 C", air_temperature="-20 C")
    (pump,) = case.pumps
    (into, out), raised = case.ends("mains"), case.ends(pump)[1].total - case.ends(pump)[0].total
    assert into.total - out.total < 0.8 * raised and "film" not in hot(case).what + hot(case).cure


def idling(clearance, film="50 %", drop="0.2 bar at 20 L/min"):
    car = fn.Circuit("oil at idle (invented)", fluid="SAE 5W-40", fluid_temperature="115 C", units="metric")
    car.tank("sump", level="90 mm")
    car.run("pumping", "sump", "gallery", [fn.displacement_pump("14 cc/rev", speed="750 rpm", name="pump"),
                                           fn.filter(drop=drop, rated_with="own at 100 C", name="filter")])
    car.run("mains", "gallery", "sump", [fn.bearings(9, "50 mm", "20 mm", clearance, speed="750 rpm", film_viscosity=film, name="mains")])
    car.run("relief", "gallery", "sump", [fn.relief_valve("5 bar", wide_open="2 bar at 60 L/min", name="relief")])
    return car.solve()["as written"]


def test_low_pressure_at_idle_says_what_passes_the_bearings():
    """All that the pump moves goes through the mains: a sum of masses, whatever the bearings' law; the shut relief drips."""
    case = idling("0.15 mm")
    (finding,) = [one for one in case.findings if one.code == "oil pressure"]
    assert finding.numbers["passed"].si == pytest.approx(1.0, rel=1e-4) and finding.numbers["film"].si == 0.5
    assert "passes through mains, at film_viscosity {film}" in finding.what
    assert finding.cure.startswith("look whether clearance and film_viscosity are right of mains; hot: ")
    assert not [one for one in idling("0.04 mm").findings if one.code == "oil pressure"]


def test_a_heat_balance_without_an_answer_shows_no_number_of_it():
    """What is not solved has no energy closure: a dash, never "nan"."""
    case = solved(1, None)
    assert not case.converged and case.solution.energy_closure != case.solution.energy_closure
    rows = dict(certificate_rows([case, solved("60 %")]))
    assert rows["energy closure"][0] == "–" and rows["how solved"][0] == "not solved" and float(rows["energy closure"][1]) < 1e-6
