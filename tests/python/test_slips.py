"""Slips that the engine takes for what they say: sizes of no vehicle, ends that meet nothing. They are asked about, never refused."""

import flarenut as fn
import pytest
from flarenut import checks
from flarenut.circuit.file import read
from test_bad_input import GOOD


def asked(case, code="unusual size"):
    return [one for one in case.findings if one.code == code]


def line(part, level="8 in"):
    car = fn.Circuit("slips (invented)", fluid="water")
    car.tank("drum", level=level)
    car.run("line", "drum", "ambient", [part])
    return car.solve()["as written"]


@pytest.mark.parametrize("part, word, both", [
    (fn.hose(bore="8 in", length="3 ft"), "bore", ("8.00 in", "203 mm")), (fn.passage("0.5 mm", "20 in"), "bore", ("0.0197 in", "0.500 mm")),
    (fn.hose("-8", "140 ft", spec="ptfe"), "length", ("140 ft", "42.7 m")), (fn.tube(bore="1.5 mm", length="2 m"), "bore", ("0.0591 in", "1.50 mm"))])
def test_a_line_of_no_vehicle_is_asked_about_in_both_units(part, word, both):
    (found,) = asked(line(part))
    assert found.severity == "watch" and f"a {word} of " in found.text() and "is its unit right?" in found.text()
    for units, shown in (("us", both), ("metric", both[::-1])):
        assert f"{shown[0]} ({shown[1]})" in found.text(units)


@pytest.mark.parametrize("part", [fn.hose("-3", "49 ft", spec="ptfe"), fn.hose(bore="59 mm", length="3 ft"), fn.passage("1 mm", "30 mm"),
                                  fn.tube("3/16 in", "20 ft")])
def test_lines_of_vehicles_are_not_asked_about(part):
    """A jet is narrow and short; brake tube is 3/16 in, 3.3 mm inside with a wall of 0.028 in."""
    assert not asked(line(part))


def test_a_tank_deeper_than_any_vehicle_has_is_asked_about():
    part = fn.hose("-8", "3 ft", spec="ptfe")
    (found,) = asked(line(part, level="6 ft"))
    assert found.where == "drum" and "6.00 ft (1.83 m)" in found.text()
    assert not asked(line(part, level="3.9 ft"))


def test_an_end_of_a_python_circuit_that_meets_nothing_is_asked_about():
    """A circuit file is asked before it is solved; from Python the engine takes the end for closed."""
    def car(**words):
        found = fn.Circuit("spur (invented)", fluid="gasoline")
        found.tank("cell", level="8 in")
        found.run("feed", "cell", "rail", [fn.hose("-8", "11 ft", spec="ptfe")])
        found.run("on", "rail", "ambient", [fn.hose("-6", "2 ft", spec="ptfe")])
        if words:
            found.junction("rial", **words.pop("said", {}))
        found.run("spur", "rail", "rial", [fn.hose("-4", "2 ft", spec="ptfe")])
        return found.solve()["as written"]

    (found,) = asked(car(), "closed end")
    assert (found.severity, found.where) == ("watch", "spur") and "nothing else meets at 'rial'" in found.text()
    assert not asked(car(said={}), "closed end")  # a junction of its own: it is meant
    assert not asked(car(said={"demand": "1 gph"}), "closed end")


def test_a_size_that_no_case_changes_has_no_worst_case():
    loaded = read(GOOD.replace('"11 ft"', '"140 ft"') + '\n[case.hot]\nvolts = 12\nmanifold = "0 psi"\n', "wagon.toml")
    (told,) = [text for _, text in loaded.circuit.solve().table().findings if "is its unit right?" in text]
    assert told.startswith("WATCH: feed hose, idle / hot: a length of 140 ft (42.7 m), longer than 50.0 ft")


def test_a_circuit_without_slips_is_asked_nothing():
    answer = read(GOOD, "wagon.toml").circuit.solve()
    assert checks.review(answer, rules=(checks.sizes, checks.closed_ends)) == []


@pytest.mark.parametrize(("bore", "asked"), [("24.9 mm", False), ("2.2 in", True), ("2.2 mm", False)])
def test_a_restrictor_as_wide_as_a_line_is_asked_about(bore, asked):
    circuit = fn.Circuit("oil (invented)", fluid="SAE 10W-40", fluid_temperature="80 C")
    circuit.tank("sump", level="80 mm")
    circuit.run("round", "sump", "out", [fn.displacement_pump("10 cc/rev", speed="3000 rpm", name="pump")])
    circuit.run("way", "out", "sump", [fn.orifice(bore, name="restrictor")])
    found = [one for one in circuit.solve()["as written"].findings if one.code == "unusual size"]
    assert [one.where for one in found] == (["restrictor"] if asked else [])
