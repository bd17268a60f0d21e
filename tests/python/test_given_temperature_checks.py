"""A temperature that the case gives is told as given, and a cooler that no air blows through is not told to be larger. All circuits are invented."""

import flarenut as fn
import pytest


def idling(**words):
    """Engine oil through a cooler, its sump at 116 C unless its heat is said."""
    made = fn.Circuit("idling (invented)", fluid="SAE 10W-40", units="metric", air_temperature="30 C", invented=True)
    made.tank("sump", level="120 mm", temperature="found", heat="1 kW")
    made.run("round", "sump", "gallery", [fn.displacement_pump("12 cc/rev", speed="900 rpm", name="pump"), fn.cooler(
        heat="10 kW at 20 L/min", rated_air="30 C at 10 m/s", rated_inlet="110 C", face=["300 mm", "200 mm"], drop="0.3 bar at 20 L/min",
        rated_with="own at 100 C", name="cooler")])
    made.run("engine", "gallery", "sump", [fn.resistance("2 bar at 10 L/min", name="clearances")])
    made.case("hot", **words)
    return made.solve()["hot"]


def hot(case):
    (found,) = [one for one in case.findings if one.code == "liquid too hot"]
    return found


@pytest.mark.parametrize(("words", "given"), [({"sump.temperature": "116 C"}, True), ({"sump.heat": "0.5 kW"}, False)])
def test_a_temperature_that_was_given_is_told_as_given(words, given):
    finding = hot(idling(**words))
    assert (", as you gave it, above" in finding.what) is given


def test_a_cooler_that_no_air_blows_through_is_to_get_air_and_not_to_be_larger():
    """By draught alone a quarter more of next to nothing is nothing; with air it takes several times as much."""
    still, blown = idling(**{"sump.temperature": "116 C"}), idling(**{"sump.temperature": "116 C", "cooler.fan": "5 m/s"})
    finding = hot(still)
    assert finding.cure.startswith("air through cooler: a fan, or the vehicle moving") and "larger" not in finding.cure and "tried" not in finding.what
    assert blown.part("cooler").heat.si > 4.0 * still.part("cooler").heat.si
    assert "larger cooler" in hot(blown).cure and "tried" in hot(blown).what
