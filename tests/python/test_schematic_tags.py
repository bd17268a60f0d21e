"""What the tags of a schematic say of cases, and in which units its pressures stand."""

import re

import flarenut as fn


def test_a_tag_that_is_urgent_names_its_cases():
    """What a STOP or FIX stands in is read off the drawing, without pointing at it."""
    car = circuit_with_stops()
    answer = car.solve()
    urgent = [one for one in answer.findings if one.severity in ("stop", "fix") and one.where == "tank"]
    assert urgent and {one.case for one in urgent} == {"hot"}
    svg = fn.schematic(car, answer).svg
    assert "STOP in hot" in re.sub(r"<[^>]*>", " ", svg).replace("\u00a0", " ")
    assert "STOP in hot at tank." in svg  # for those who hear it
    quiet = fn.schematic(car, car.solve("cold")).svg
    assert "STOP in" not in quiet


def circuit_with_stops():
    """Invented: fuel that boils in its tank in one of two cases."""
    car = fn.Circuit("two cases (invented)", fluid="E10", invented=True)
    car.tank("tank", level="6 in")
    car.run("feed", "tank", "ambient", [fn.formula_pump("90 psi", "90 gph", through="58 psi at 40 gph", name="pump"), fn.orifice("1.5 mm", name="jet")])
    car.case("cold", fluid_temperature="10 C", volts=13.5)
    car.case("hot", fluid_temperature="60 C", volts=13.5)
    return car


def test_pressures_of_a_drawing_have_one_unit():
    svg = fn.schematic(circuit_with_stops(), circuit_with_stops().solve("cold"), units="metric").svg
    units = set(re.findall(r"\d (barg|kPag)<", svg))
    assert units == {"barg"}
