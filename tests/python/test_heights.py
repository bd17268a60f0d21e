"""Where places are: rises along runs, level runs, tees, and what contradicts. Heads are rho g h with g = 9.80665 m/s2 (ISO 80000-3)."""

import itertools

import pytest

import flarenut as fn
from flarenut.circuit.compile import positions_of

HEAVY = 9.80665 * 800.0  # Pa per metre of the liquid below


def standpipes():
    return fn.Circuit("standpipes", fluid=fn.constant_fluid(density="800 kg/m3", viscosity="1 cP"))


def pipe(rise=None, length="3 m", **words):
    return fn.hose(bore="10 mm", length=length, rise=rise, **words)


def gauge(circuit, place, case="as written"):
    return circuit.solve()[case].at(place).gauge.si


def test_heights_add_up_over_runs_and_over_the_pieces_inside_them():
    pipes = standpipes()
    pipes.tank("low", height="0.2 m")
    pipes.run("one", "low", "middle", [pipe("0.4 m"), pipe(), pipe("-0.1 m")])
    pipes.run("two", "middle", "top", [pipe("1 m")])
    answer = pipes.solve()["as written"]
    for place, climbed in (("one:1", 0.4), ("one:2", 0.4), ("middle", 0.3), ("top", 1.3)):
        assert answer.at(place).gauge.si == pytest.approx(-HEAVY * climbed, rel=1e-9, abs=1e-6)


def test_a_run_that_says_nothing_lies_straight_between_its_ends_by_length():
    pipes = standpipes()
    pipes.tank("low")
    pipes.junction("top", height="2 m")
    pipes.run("riser", "low", "top", [pipe(length="1 m"), pipe(length="3 m")])
    assert gauge(pipes, "riser:1") == pytest.approx(-HEAVY * 0.5, rel=1e-9)


def test_a_run_may_be_written_downwards():
    pipes = standpipes()
    pipes.tank("low")
    pipes.run("drop", "top", "low", [pipe("-1.5 m")])
    assert gauge(pipes, "top") == pytest.approx(-HEAVY * 1.5, rel=1e-9)


@pytest.mark.parametrize("order", list(itertools.permutations(range(3))))
def test_the_order_in_which_runs_are_written_does_not_matter(order):
    """Two hoses side by side, of which one says how much it climbs, and one beyond them that says nothing."""
    runs = [("said", "low", "top", [pipe("0.7 m")]), ("unsaid", "low", "top", [pipe()]), ("beyond", "top", "end", [pipe()])]
    pipes = standpipes()
    pipes.tank("low")
    for number in order:
        pipes.run(*runs[number])
    assert gauge(pipes, "end") == pytest.approx(-HEAVY * 0.7, rel=1e-9)


def test_the_ends_of_a_tee_are_one_place():
    pipes = standpipes()
    pipes.tank("low", level="5 m")
    pipes.run("riser", "low", "fork", [pipe("1 m")])
    pipes.tee("split", "left", "right", "fork", bore="10 mm")
    pipes.run("left leg", "left", "left end", [pipe()])
    pipes.run("right leg", "right", "rail", [pipe("0.5 m")])
    pipes.injectors("bank", "rail", count=1, flow="100 cc/min at 3 bar", duty=0)
    answer = pipes.solve()["as written"]
    assert answer.at("left end").gauge.si == pytest.approx(HEAVY * 4.0, rel=1e-9)
    assert answer.at("rail").gauge.si == pytest.approx(HEAVY * 3.5, rel=1e-4)  # shut injectors seep a trace
    positions = positions_of(pipes)
    assert positions["left"] == positions["right"] == positions["fork"] == (0.0, 0.0, 1.0) and positions["rail"] == (0.0, 0.0, 1.5)


def test_injectors_feel_the_manifold_and_not_the_height_of_their_rail():
    flows = []
    for height in ("0 m", "10 m"):
        pipes = standpipes()
        pipes.fixed("rail", "3 bar", height=height)
        pipes.injectors("bank", "rail", count=4, flow="400 cc/min at 3 bar")
        flows.append(pipes.solve()["as written"].part("bank").mass_flow.si)
    assert flows[0] == flows[1]


def test_a_rail_stands_where_its_runs_say_though_its_manifold_is_written_without_a_height():
    pipes = standpipes()
    pipes.tank("low", level="5 m", height="1 m")
    pipes.fixed("manifold", "-0.5 bar")
    pipes.run("feed", "low", "rail", [pipe()])
    pipes.injectors("bank", "rail", count=1, flow="100 cc/min at 3 bar", duty=0)
    assert gauge(pipes, "rail") == pytest.approx(HEAVY * 5.0, rel=1e-4)


def test_a_given_pressure_without_a_height_stands_at_nought_as_a_tank_does():
    """The other end says 2 m: rho g h is lost on the way up, whichever end of the run is the one that speaks."""
    for backwards in (False, True):
        pipes = standpipes()
        pipes.fixed("supply", "1 bar")
        pipes.junction("top", height="2 m")
        pipes.run("line", *(("top", "supply") if backwards else ("supply", "top")), [pipe()])
        assert gauge(pipes, "top") == pytest.approx(1e5 - HEAVY * 2.0, rel=1e-9)
    pipes = standpipes()
    pipes.tank("high", height="2 m")
    pipes.fixed("drain", "0 psi")
    pipes.run("down", "high", "drain", [pipe()])
    assert pipes.solve()["as written"].part("down hose").flow.si > 0.0  # level with the tank nothing would flow


def test_a_given_pressure_without_a_height_stands_where_a_run_says():
    pipes = standpipes()
    pipes.tank("low", height="0.5 m")
    pipes.run("up", "low", "top", [pipe("1 m")])
    pipes.run("over", "top", "nozzle", [pipe("-0.2 m")])
    pipes.run("beyond", "nozzle", "second nozzle", [pipe("0.4 m")])
    pipes.run("level", "second nozzle", "third nozzle", [pipe()])
    for name in ("third nozzle", "nozzle", "second nozzle"):
        pipes.fixed(name, "1 bar")
    positions = positions_of(pipes)
    assert [round(positions[name][2], 9) for name in ("nozzle", "second nozzle", "third nozzle")] == [1.3, 1.7, 0.0]


def test_two_given_pressures_stand_apart_by_what_their_run_climbs_and_the_first_at_nought():
    pipes = standpipes()
    pipes.fixed("supply", "1 bar")
    pipes.fixed("drain", "0 bar")
    pipes.run("line", "supply", "drain", [pipe("-0.7 m")])
    assert positions_of(pipes) == {"supply": (0.0, 0.0, 0.0), "drain": (0.0, 0.0, -0.7)}


def test_open_air_that_only_a_run_names_is_where_its_line_ends():
    pipes = standpipes()
    pipes.tank("high", height="2 m")
    pipes.run("spout", "high", "ambient", [pipe()])
    assert positions_of(pipes)["ambient"] == (0.0, 0.0, 2.0)


def loop(second_rise, end=None):
    pipes = standpipes()
    pipes.tank("low")
    if end:
        pipes.junction("top", height=end)
    pipes.run("one", "low", "top", [pipe("1 m")])
    pipes.run("two", "low", "top", [pipe(second_rise)])
    return pipes


def test_two_ways_that_agree_are_no_contradiction():
    assert gauge(loop("1 m", end="1 m"), "top") == pytest.approx(-HEAVY, rel=1e-9)
    assert gauge(loop("39.37 in"), "top") == pytest.approx(-HEAVY, rel=1e-9)  # rounded by the trade


@pytest.mark.parametrize("end, told", [(None, "run 'two'.*climb 1.200 m from 'low' to 1.200 m, but 'top' comes out by another way at 1.000 m"),
                                       ("0.8 m", "run 'one'.*climb 1.000 m from 'low' to 1.000 m, but 'top' stands at 0.800 m")])
def test_two_ways_that_disagree_are_refused_by_both_heights(end, told):
    with pytest.raises(fn.CircuitError, match=told) as refusal:
        loop("1.2 m", end).solve()
    assert refusal.value.key == "rise" and "rise of its parts" in refusal.value.cure


def test_open_air_at_two_heights_is_told_how_to_be_written():
    pipes = standpipes()
    pipes.tank("low", level="1 m")
    pipes.run("one", "low", "ambient", [pipe("0.1 m")])
    pipes.run("two", "low", "ambient", [pipe("0.5 m")])
    with pytest.raises(fn.CircuitError, match="open air at another height is a fixed place of its own"):
        pipes.solve()


@pytest.mark.parametrize("words, told", [
    ({"position": ["1 m", "0 m"]}, "write three lengths"), ({"position": "1 m"}, "write three lengths"),
    ({"position": [1, 0, 0]}, "no unit|unit"), ({"height": 2}, "unit"), ({"height": "2 psi"}, "length"),
    ({"height": "1 m", "position": ["0 m", "0 m", "1 m"]}, "give one of them")])
def test_places_that_cannot_be_are_refused(words, told):
    with pytest.raises(ValueError, match=told):
        standpipes().junction("rail", **words)


def test_acceleration_along_every_axis_is_its_own_head():
    """p = -rho a.x for a column at rest in the vehicle: forward and left push liquid back and right, up makes it heavier."""
    pipes = standpipes()
    pipes.tank("low")
    pipes.junction("far", position=["2 m", "0.5 m", "1 m"])
    pipes.run("line", "low", "far", [pipe()])
    cases = {"launch": ("1 g", (1, 0, 0)), "braking": ("-1 g", (-1, 0, 0)), "left turn": (["0 g", "1 g", "0 g"], (0, 1, 0)),
             "bump": (["0 g", "0 g", "2 g"], (0, 0, 2)), "all": (["0.3 g", "-0.4 g", "0.5 g"], (0.3, -0.4, 0.5))}
    for name, (written, _) in cases.items():
        pipes.case(name, acceleration=written)
    answer = pipes.solve()
    for name, (_, (ahead, left, up)) in cases.items():
        assert answer[name].at("far").gauge.si == pytest.approx(-HEAVY * (ahead * 2 + left * 0.5 + (1 + up) * 1), rel=1e-9)


def test_positions_told_of_an_answer_are_those_the_engine_stands_on():
    """At rest pressure falls by rho g h from place to place, also inside of a run and between the parts of one piece."""
    pipes = standpipes()
    pipes.tank("low", height="0.2 m")
    pipes.run("riser", "low", "top", [pipe("0.4 m"), fn.electric_pump([["0 L/h", "1 psi"], ["9 L/h", "0.5 psi"]], check_valve=True, rise="0.3 m"),
                                      pipe(), pipe("-0.1 m")])
    pipes.run("level", "low", "end", [pipe(), pipe()])
    answer = pipes.solve()["as written"]
    positions = answer.layout.positions
    assert set(positions) == set(answer.junction_names)
    for name in ("low", "riser:1", "end", "level:1"):
        assert answer.at(name).total.si - answer.at("low").total.si == pytest.approx(-HEAVY * (positions[name][2] - 0.2), abs=1e-3)
    assert [round(positions[f"riser:{i}"][2], 9) for i in (1, 2, 3, 4)] == [0.6, 0.6, 0.9, 0.9]


def test_where_a_manifold_stands_does_not_make_an_acceleration_count():
    """All that holds liquid stands 3 m back, so that a launch moves nothing; the manifold holds gas, wherever it is."""
    pipes = standpipes()
    pipes.tank("low", level="5 m", position=["-3 m", "0 m", "0 m"])
    pipes.run("feed", "low", "rail", [pipe()])
    pipes.injectors("bank", "rail", count=1, flow="100 cc/min at 3 bar", duty=0.5)
    pipes.case("launch", acceleration="1 g")
    assert "acceleration without effect" in [one.code for one in pipes.solve()["launch"].findings]
