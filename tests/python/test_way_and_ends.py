"""Ways by points: corners that angled hose ends make are no bends of the hose; points on a straight leg part nothing."""

from math import pi

import flarenut as fn
import pytest
from flarenut.catalog import hose_rating
from flarenut.circuit import CircuitError
from flarenut.circuit.way import corners_of, parted, way_of

INCH = 0.0254
ELBOW, STRAIGHT = "-8 37 flare female, 90 deg, bore 9 mm", "-8 37 flare female, bore 9 mm"
DROP = [["0 in", "0 in", "1.5 in"], ["0 in", "0 in", "0 in"], ["30 in", "0 in", "0 in"]]


def hose(way=None, ends=(ELBOW, STRAIGHT), **words):
    return fn.hose("-8", spec="ptfe", standard="SAE 100R14", way=way, ends=list(ends), name="hose", **words)


def alone(line):
    made = fn.Circuit("bench", fluid="water")
    made.fixed("high", pressure="30 psi")
    made.junction("low", demand="400 L/h")
    made.run("feed", "high", "low", [line])
    return made


def numbers(piece):
    return [{key: pytest.approx(value, rel=1e-12) for key, value in element.numbers.items()} for element in piece.elements]


@pytest.mark.parametrize("radius", ["1.2 in", "4 in", None])
def test_a_corner_made_by_an_angled_end_is_lost_once_and_bends_no_hose(radius):
    by_way, by_length = hose(DROP, bend_radius=radius), hose(length="30 in", rise="-1.5 in")
    assert numbers(by_way) == [element.numbers for element in by_length.elements]  # the turn of its end, and 30 in of straight hose
    assert by_way.rise == pytest.approx(-1.5 * INCH)
    found = alone(by_way).solve()
    assert not [one for one in found.findings if one.code in ("bent too tight", "too short to bend")]


def test_the_same_corner_is_bent_where_no_end_makes_it():
    bent = hose(DROP, ends=[STRAIGHT] * 2, bend_radius="1.2 in")
    assert bent.main.numbers["bend_angle"] == pytest.approx(pi / 2)
    kinks, = (one for one in alone(bent).solve().findings if one.code == "bent too tight")
    assert kinks.severity == "stop"
    with pytest.raises(CircuitError, match="bends of 102 mm radius take 102 mm"):
        hose(DROP, ends=[STRAIGHT] * 2, bend_radius="4 in")


def test_it_is_cut_as_a_straight_assembly_measured_from_the_corner():
    cuts = [fn.cut_list(alone(line))["hose"] for line in (hose(DROP), hose(length="30 in"))]
    assert cuts[0].length.to("in") == pytest.approx(30.0)
    assert [one.cut.si for one in cuts] == pytest.approx([cuts[0].cut.si] * 2) and cuts[0].straight and cuts[0].steps == cuts[1].steps
    assert cuts[0].kinked == () and cuts[0].behind == (None, None)


def test_an_end_at_either_side_takes_the_corner_beside_it_and_the_hose_keeps_the_others():
    way = [["0 in", "0 in", "2 in"], ["0 in"] * 3, ["20 in", "0 in", "0 in"], ["20 in", "30 in", "0 in"], ["20 in", "30 in", "-2 in"]]
    both = hose(way, ends=[ELBOW, ELBOW], bend_radius="5.5 in")
    assert both.main.numbers["bend_angle"] == pytest.approx(pi / 2)
    assert both.main.numbers["length"] / INCH == pytest.approx(50 - 2 * 5.5 + 5.5 * pi / 2)  # by hand: one bend of 90 degrees between 20 and 30 in
    cut = fn.cut_list(alone(both))["hose"]
    assert not cut.straight and [one.to("in") for one in cut.behind] == pytest.approx([14.5, 24.5]) and cut.unknown_ends == 2  # up to its corners
    outlet = hose(way, ends=[STRAIGHT, ELBOW], bend_radius="1 in")
    assert outlet.main.numbers["bend_angle"] == pytest.approx(pi)


def test_one_corner_is_made_by_one_end_and_another_angle_or_a_far_corner_by_none():
    assert hose(DROP, ends=[ELBOW, ELBOW]).main.numbers["length"] == pytest.approx(30 * INCH)
    assert hose(DROP, ends=["-8 37 flare female, 45 deg", STRAIGHT], bend_radius="1 in").main.numbers["bend_angle"] == pytest.approx(pi / 2)
    near = [["0 in", "0 in", "1.5 in"], ["0 in"] * 3, ["30 in", "0 in", "4 in"]]  # 90 less 7.6 degrees
    assert hose(near).main.numbers["bend_angle"] == 0.0
    far = [["0 in", "0 in", "12 in"], ["0 in"] * 3, ["30 in", "0 in", "0 in"]]  # no end reaches a foot
    assert hose(far).main.numbers["bend_angle"] == pytest.approx(pi / 2)


def test_an_angled_end_spares_no_hose_that_goes_by_points_its_own_bends():
    way = [["0 in", "0 in", "1 in"], ["0 in"] * 3, ["3 in", "0 in", "0 in"], ["3 in", "4.2 in", "0 in"], ["6 in", "4.2 in", "0 in"]]
    line = hose(way, bend_radius=None)
    assert line.main.numbers["bend_angle"] == pytest.approx(pi) and line.main.numbers["length"] < 9 * INCH  # widest bend: under 2.9 in
    least = hose_rating("SAE 100R14", 8).bend_radius
    assert least > 3 * INCH
    assert "too short to bend" in [one.code for one in alone(line).solve().findings]


def test_an_angled_end_of_unknown_bore_turns_the_liquid_all_the_same():
    ends = ["banjo M12x1.5, 90 deg", "banjo M12x1.5"]
    assert [element.kind for element in hose(DROP, ends=ends).elements] == ["three-k fitting", "line"]


# ---- points on straight legs ----

def test_straights_are_one_more_than_bends_wherever_points_lie():
    plain = way_of([(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 1.0, 0.0)], 0.1)
    more = way_of([(0.0, 0.0, 0.0), (0.3, 0.0, 0.0), (0.95, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 0.4, 0.0), (1.0, 1.0, 0.0)], 0.1)
    assert plain.straights == pytest.approx((0.9, 0.9))
    assert more.straights == pytest.approx(plain.straights) and more.turns == pytest.approx(plain.turns)
    assert more.length == pytest.approx(plain.length) and corners_of(more.points) == [1]


def test_a_point_on_the_leg_beside_a_bend_does_not_refuse_the_bend():
    way = [["0 in"] * 3, ["9 in", "0 in", "0 in"], ["10 in", "0 in", "0 in"], ["10 in", "10 in", "0 in"]]
    assert fn.tube("1/4 in", wall="0.035 in", way=way, bend_radius="2 in").length / INCH == pytest.approx(20 - 4 + pi)


def test_points_are_told_by_their_own_numbers():
    with pytest.raises(CircuitError, match="from point 1 to point 3 there are 25 mm"):
        way_of([(0.0, 0.0, 0.0), (0.01, 0.0, 0.0), (0.025, 0.0, 0.0), (0.025, 1.0, 0.0)], 0.1)
    with pytest.raises(CircuitError, match="turns back on itself at point 2"):
        way_of([(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.5, 0.0, 0.0)], 0.1)


def test_a_way_is_parted_where_it_is_straight_and_nothing_is_lost():
    points = [(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 1.0, 0.0), (1.0, 1.0, 2.0)]
    way = way_of(points, 0.1)
    for at in (0.2, 1.5, 2.5):
        one, other = (way_of(listed, 0.1) for listed in parted(way, at))
        assert one.length == pytest.approx(at) and one.length + other.length == pytest.approx(way.length)
    assert parted(way, 0.95) is None and parted(way, 0.0) is None and parted(way, way.length + 1.0) is None
