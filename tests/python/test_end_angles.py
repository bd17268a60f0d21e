"""Angles of hose ends and clocking, against what one sees with a hose in the hand. Forward, left, up."""

import flarenut as fn
import pytest
from flarenut.hardware.angles import clocking, proposed, standard_turns

FORWARD, BACK, LEFT, RIGHT, UP, DOWN = (1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0), (0, 0, 1), (0, 0, -1)
STRAIGHT = [(0, 0, 0), (2, 0, 0)]
SLANT = 0.5 ** 0.5


@pytest.mark.parametrize("face, needed, turn, left", [
    (FORWARD, 0, 0, 0), (UP, 90, 90, 0), (LEFT, 90, 90, 0), ((SLANT, 0, SLANT), 45, 45, 0), (BACK, 180, 90, 90), ((0.9397, 0, 0.3420), 20, 0, 20),
    ((0.8660, 0.5, 0), 30, 45, 15)])
def test_an_end_turns_from_where_its_port_faces_to_where_the_hose_goes(face, needed, turn, left):
    found = proposed(STRAIGHT, face, 0.01, False)
    assert (found.needed, found.turn, found.left) == pytest.approx((needed, turn, left), abs=0.01)


def test_the_outlet_is_judged_by_the_way_back():
    assert proposed(STRAIGHT, BACK, 0.01, True).turn == 0.0 and proposed(STRAIGHT, UP, 0.01, True).turn == 90.0


def test_a_corner_close_to_the_seat_is_the_ends_own_and_a_far_one_is_not():
    near, far = ([(0, 0, 0), (0, 0, rise), (2, 0, rise)] for rise in (0.06, 0.5))
    assert proposed(near, UP, 0.01, False).turn == 90.0 and proposed(far, UP, 0.01, False).turn == 0.0


def test_the_angles_are_those_of_the_table():
    assert standard_turns() == (0.0, 45.0, 90.0)


@pytest.mark.parametrize("points, faces, angle", [
    (STRAIGHT, (UP, UP), 0), (STRAIGHT, (UP, DOWN), 180), (STRAIGHT, (LEFT, LEFT), 0), (STRAIGHT, (LEFT, RIGHT), 180),
    # Looking forward along the hose, the near nut down: one to the right stands counter-clockwise by 90 degrees, at three o'clock. It faces left.
    (STRAIGHT, (UP, LEFT), 90), (STRAIGHT, (UP, RIGHT), 270),
    (STRAIGHT, (UP, (0, SLANT, SLANT)), 45),
    # Round a corner in the plane of the nuts, and round one across it: the hose carries its nuts with it.
    ([(0, 0, 0), (1, 0, 0), (1, 1, 0)], (UP, UP), 0), ([(0, 0, 0), (1, 0, 0), (1, 1, 0)], (UP, DOWN), 180),
    ([(0, 0, 0), (1, 0, 0), (1, 0, 1)], (UP, BACK), 0), ([(0, 0, 0), (1, 0, 0), (1, 0, 1)], (UP, FORWARD), 180), ([(0, 0, 0), (1, 0, 0), (1, 1, 0)], (UP, FORWARD), 270),
    # Forward, left, up, then down to a port that faces forward: three bends in three planes.
    ([(0, 0, 0), (1, 0, 0), (1, 1, 0), (1, 1, 1)], (UP, FORWARD), 270)])
def test_clocking_by_hand(points, faces, angle):
    assert clocking(points, faces, 0.01) == pytest.approx(angle, abs=1e-6)


def test_clocking_is_the_same_from_either_end():
    points = [(0, 0, 0), (1, 0, 0), (1.2, 0.7, 0.3), (1.5, 0.9, 1.4)]
    faces = (0.1, 0.2, 0.97468), (0.8, -0.6, 0.0)
    there, back = clocking(points, faces, 0.01), clocking(points[::-1], faces[::-1], 0.01)
    assert there == pytest.approx(back, abs=1e-5) and 0 < there < 360


def test_an_end_that_points_along_the_hose_has_no_clocking():
    assert clocking(STRAIGHT, (FORWARD, UP), 0.01) is None and clocking(STRAIGHT, (None, UP), 0.01) is None


def car(way, faces, ends=None, **more):
    made = fn.Circuit("car", fluid="gasoline", invented=True)
    made.tank("cell", level="9 in")
    made.junction("rail", demand="60 L/h")
    made.run("feed", "cell", "rail", [fn.hose("-6", spec="ptfe", standard="SAE 100R14", way=way, ends=ends, name="hose")],
             meets=["-6 37 flare male", "-6 37 flare male"], faces=faces, **more)
    return made


WAY = [["0 m", "0 m", "0 m"], ["2 m", "0 m", "0 m"]]


def test_fitted_turns_the_ends_counts_them_in_the_bill_and_tells_the_clocking():
    made = fn.fitted(car(WAY, ["up", "left"]))
    assert [one.what for one in made.proposals] == ["inlet end, -6 37 flare female, 90 deg", "outlet end, -6 37 flare female, 90 deg"]
    assert made.clockings == {"hose": pytest.approx(90.0)} and "hose: clocking 90 degrees" in made.text() and "counter-clockwise" in made.text()
    assert fn.bill(made).count("hose end -6 37 flare female for ptfe, SAE 100R14, 90 deg") == 2
    assert "clocking 90 degrees" in fn.cut_list(made.circuit).text(width=200)
    straight = fn.fitted(car(WAY, ["forward", "back"]))
    assert not straight.clockings and "clocking" not in straight.text() and fn.bill(straight).count("hose end *, 90 deg") == 0
    assert "clocking" not in fn.cut_list(straight.circuit).text(width=200).lower()
    assert not fn.fitted(made.circuit).proposals
    assert made.circuit.solve()["as written"].at("rail").gauge.si < straight.circuit.solve()["as written"].at("rail").gauge.si  # two turns cost


def test_what_is_said_stays_and_what_is_not_known_is_straight():
    said = fn.fitted(car(WAY, ["up", "left"], ends=["-6 37 flare female, 45 deg", ""]))
    assert [str(one) for one in said.circuit.runs["feed"].pieces[0].shop.ends] == ["-6 37 flare female, 45 deg", "-6 37 flare female, 90 deg"]
    assert [one.turn for one in fn.fitted(car(WAY, None)).circuit.runs["feed"].pieces[0].shop.ends] == [0.0, 0.0]
    half = fn.fitted(car(WAY, [[3, 0, 1], ""]))
    assert half.proposals[0].what == "inlet end, -6 37 flare female; 18 degrees are wanted, the hose bends by 18 behind it" and not half.clockings


def test_a_direction_is_seen_through_straight_adapters_and_ports_of_parts():
    made = fn.Circuit("car", fluid="gasoline", invented=True)
    made.tank("cell", level="9 in")
    made.junction("rail", demand="60 L/h")
    made.run("feed", "cell", "rail", [
        fn.electric_pump([["0 L/h", "95 psi"], ["255 L/h", "60 psi"]], name="pump", ends=["", "-6 O-ring boss female"], faces=["", "up"]),
        fn.hose("-6", spec="ptfe", way=WAY, name="hose")], meets=["", "-8 O-ring boss female"], faces=["", "down"])
    first = fn.fitted(made)
    assert first.clockings == {"hose": pytest.approx(180.0)} and len([one for one in first.proposals if "adapter" in one.what]) == 2
    assert [one.turn for one in first.circuit.runs["feed"].pieces[2].shop.ends] == [90.0, 90.0]
    turned = fn.Circuit("car", fluid="gasoline", invented=True)
    turned.tank("cell", level="9 in")
    turned.run("feed", "cell", "ambient", [fn.adapter(["-6 O-ring boss male", "-6 37 flare male, 90 deg"], name="elbow"), fn.hose("-6", spec="ptfe", way=WAY, name="hose")],
               meets=["-6 O-ring boss female", ""], faces=["up", ""])
    assert fn.fitted(turned).circuit.runs["feed"].pieces[1].shop.ends[0].turn == 0.0  # behind an angled adapter nobody knows


def eyed(way, faces, **more):
    made = fn.Circuit("car", fluid="gasoline", invented=True)
    made.tank("cell", level="9 in")
    made.run("feed", "cell", "ambient", [fn.hose("-6", way=way, name="hose", **more)], faces=faces, meets=more.get("clamped") and ["-6 barb male", ""] or
             ["banjo M12x1.5 female", "-6 37 flare male"])
    return made


def test_behind_an_eye_no_direction_is_known():
    """It leaves across its bolt, to whichever side it is turned: a straight end goes there, and an elbow behind it would be one too many."""
    made = fn.fitted(eyed(WAY, ["up", "left"], spec="ptfe"))
    assert [one.turn for one in made.circuit.runs["feed"].pieces[-1].shop.ends] == [0.0, 90.0] and not made.clockings


def test_a_clamped_hose_makes_all_of_the_angle_itself():
    first = fn.fitted(eyed(WAY, [[SLANT, 0, SLANT], ""], spec="push-on", clamped=True)).proposals[0].what
    assert first.endswith("45 degrees are wanted, the hose bends by 45 behind it")


@pytest.mark.parametrize("faces, said", [
    (["forwards", ""], "did you mean 'forward'"), (["up"], "a list of 2 directions"), ("up", "a list of 2 directions"), ([[0, 0, 0], ""], "not all 0"), ([["1 in", 0, 0], ""], "no direction")])
def test_wrong_directions_are_told(faces, said):
    with pytest.raises(fn.CircuitError, match=said):
        car(WAY, faces)
    with pytest.raises(fn.CircuitError, match="no ports that face"):
        fn.hose("-6", "1 ft", spec="ptfe", faces=["up", "up"])


# ---- ends that are said, against the way ----

def found_in(made):
    return [one for one in fn.audit(made).findings if one.code in ("end and way", "faces without a way")]


@pytest.mark.parametrize("faces, turns, severities, degrees", [
    (["up", "left"], (0, 0), ["watch", "watch"], [90, 90]), (["up", "left"], (45, 45), ["watch", "watch"], [45, 45]), (["up", "left"], (90, 90), [], []),
    (["forward", "back"], (0, 0), [], []), (["forward", "back"], (90, 0), ["watch"], [90]), (["back", "back"], (90, 0), ["watch"], [90]),
    (["back", "back"], (0, 0), ["fix"], [180]), ([[1, 0, 0.1], "back"], (0, 0), [], [])])
def test_an_end_that_leaves_the_hose_to_bend_is_told(faces, turns, severities, degrees):
    """What the hose bends behind an end is the angle between its port and its way less that of the end; nobody bends it back on itself."""
    found = found_in(car(WAY, faces, [f"-6 37 flare female{f', {turn} deg' if turn else ''}" for turn in turns]))
    assert [one.severity for one in found] == severities
    assert [f"bend by {angle} degrees" in one.what for one, angle in zip(found, degrees)] == [True] * len(degrees)


@pytest.mark.parametrize("leg, severity", [(2.0, "watch"), (0.02, "fix")])
def test_it_is_to_be_mended_where_the_leg_is_shorter_than_the_bend(leg, severity):
    """A bend of 90 degrees takes its radius off the leg: more than 20 mm for any -6 hose of SAE 100R14 (least radius of the catalogue)."""
    from flarenut import catalog

    assert catalog.hose_rating("SAE 100R14", 6).bend_centreline > 0.02
    found, = found_in(car([["0 m", "0 m", "0 m"], [f"{leg} m", "0 m", "0 m"]], ["up", "back"], ["-6 37 flare female"] * 2))
    assert found.severity == severity and "an end of 90 degrees" in found.cure


def test_an_angled_end_that_makes_its_corner_is_right_and_points_as_the_port_faces():
    way = [["0 m", "0 m", "0 m"], ["0 m", "0 m", "0.05 m"], ["2 m", "0 m", "0.05 m"]]
    ends = ["-6 37 flare female, 90 deg", "-6 37 flare female"]
    assert found_in(car(way, ["up", "back"], ends)) == []
    aside, = found_in(car(way, ["left", "back"], ends))
    assert "faces 90 degrees aside" in aside.what


def test_what_is_proposed_leaves_nothing_to_bend_and_the_audit_agrees():
    assert found_in(fn.fitted(car(WAY, ["up", "left"])).circuit) == []
    bent, = found_in(fn.fitted(car(WAY, ["back", "back"])).circuit)
    assert "bend by 90 degrees" in bent.what


def test_faces_of_a_hose_without_a_way_are_told():
    made = fn.Circuit("car", fluid="gasoline", invented=True)
    made.tank("cell", level="9 in")
    made.junction("rail", demand="60 L/h")
    made.run("feed", "cell", "rail", [fn.hose("-6", "3 ft", spec="ptfe", name="hose")], meets=["-6 37 flare male"] * 2, faces=["up", "left"])
    found, = found_in(made)
    assert found.severity == "note" and "'way'" in found.cure and found.where == "hose"
    assert any("angles of its ends" in one.what for one in fn.fitted(made).open)
