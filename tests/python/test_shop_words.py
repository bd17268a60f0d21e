"""Shop words: ends, ways, adapters; what they cost against the same written out part by part, and the geometry of a way by hand."""

from math import hypot, pi, tan

import pytest

import flarenut as fn
from flarenut.catalog import end
from flarenut.circuit.file import read
from flarenut.circuit.way import way_of
from flarenut.hardware.joints import joints_of

EIGHT = 0.391 * 0.0254  # bore of a -8 fitting [m], fitting_bores.csv (from memory of the standard)


def line(parts, **more):
    car = fn.Circuit("line", fluid="gasoline")
    car.tank("cell", level="0 in")
    car.junction("rail", demand="300 L/h")
    car.fixed("supply", pressure="60 psi")
    car.run("feed", "supply", "rail", parts, **more)
    return car


def drop(car):
    answer = car.solve()["as written"]
    return answer.at("supply").total.si - answer.at("rail").total.si


def test_hose_ends_cost_what_the_same_steps_and_turns_cost_as_parts_of_their_own():
    ends = ["-8 37 flare female, 90 deg", "-8 37 flare female, 45 deg"]
    with_ends = drop(line([fn.hose("-8", "3 m", spec="full-size", ends=ends)]))
    bore = f"{EIGHT * 1e3!r} mm"
    apart = drop(line([fn.elbow(bore=bore, angle=90, form="swept"), fn.reducer(bore, "0.5 in"), fn.hose("-8", "3 m", spec="full-size"),
                       fn.reducer("0.5 in", bore), fn.elbow(bore=bore, angle=45, form="swept")]))
    plain = drop(line([fn.hose("-8", "3 m", spec="full-size")]))
    assert with_ends == pytest.approx(apart, rel=1e-9) and with_ends > 1.05 * plain


def test_a_measured_bore_of_an_end_beats_the_table_and_an_unknown_one_costs_nothing():
    plain = drop(line([fn.hose("-8", "3 m", spec="full-size")]))
    assert drop(line([fn.hose("-8", "3 m", spec="full-size", ends=["", ""])])) == plain
    assert drop(line([fn.hose("-8", "3 m", spec="full-size", ends=["-8 37 flare female, bore 12.7 mm", ""])])) == pytest.approx(plain, rel=1e-12)
    assert drop(line([fn.hose("-8", "3 m", spec="full-size", ends=["-8 37 flare female, bore 8 mm", ""])])) > drop(
        line([fn.hose("-8", "3 m", spec="full-size", ends=["-8 37 flare female", ""])]))


def test_an_adapter_is_its_narrow_bore_its_steps_and_its_turn():
    ten = 0.484 * 0.0254  # bore of a -10 fitting [m], likewise
    made = drop(line([fn.adapter(["-10 O-ring boss male", "-8 37 flare male, 90 deg"])]))
    narrow = f"{EIGHT * 1e3!r} mm"
    apart = drop(line([fn.reducer(f"{ten * 1e3!r} mm", narrow), fn.straight(bore=narrow), fn.elbow(bore=narrow, angle=90)]))
    assert made == pytest.approx(apart, rel=1e-9)
    with pytest.raises(fn.CircuitError, match="no table has the bore"):
        fn.adapter(["banjo M12x1.5", "banjo M14x1.5"])


def test_a_way_is_as_long_as_its_legs_less_what_its_corners_cut_off():
    way = way_of([(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 0.8, 0.0), (1.0, 0.8, 0.5)], 0.1)
    assert way.length == pytest.approx(2.3 - 2 * (2 - pi / 2) * 0.1) and way.rise == 0.5
    assert way.turns == pytest.approx([pi / 2, pi / 2]) and way.straights == pytest.approx([0.9, 0.6, 0.4])
    slant = way_of([(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (2.0, 1.0, 0.0)], 0.2)  # 45 degrees
    assert slant.length == pytest.approx(1.0 + hypot(1, 1) - 2 * 0.2 * tan(pi / 8) + 0.2 * pi / 4)


def test_a_hose_that_goes_by_points_is_the_hose_of_their_length_bends_and_rise():
    way = [["0 in", "0 in", "0 in"], ["40 in", "0 in", "0 in"], ["40 in", "20 in", "0 in"], ["40 in", "20 in", "10 in"]]
    hose = fn.hose("-8", spec="ptfe", way=way, bend_radius="5 in")
    numbers = hose.main.numbers
    assert numbers["length"] == pytest.approx((70 - 2 * (2 - pi / 2) * 5) * 0.0254) and numbers["bend_angle"] == pytest.approx(pi)
    assert hose.rise == pytest.approx(10 * 0.0254)
    tube = fn.tube("3/8 in", way=way, bend_radius="2 in")
    assert tube.main.numbers["length"] == pytest.approx((70 - 2 * (2 - pi / 2) * 2) * 0.0254)


WRONG = {
    "corner that does not fit": (lambda: fn.hose("-8", spec="ptfe", way=[["0 in", "0 in", "0 in"], ["3 in", "0 in", "0 in"], ["3 in", "30 in", "0 in"]],
                                                 bend_radius="5 in"), ["point 1 to point 2", "bend_radius"]),
    "back on itself": (lambda: fn.tube("3/8 in", way=[["0 in"] * 3, ["9 in", "0 in", "0 in"], ["0 in"] * 3]), ["back on itself", "point 2"]),
    "length beside": (lambda: fn.hose("-8", "3 ft", spec="ptfe", way=[["0 in"] * 3, ["9 in", "0 in", "0 in"]]), ["'length'", "'way'"]),
    "one point": (lambda: fn.hose("-8", spec="ptfe", way=[["0 in"] * 3]), ["two or more"]),
    "no end": (lambda: fn.hose("-8", "3 ft", spec="ptfe", ends=["-8 37 flare famale", ""]), ["ends", "female"]),
    "one end": (lambda: fn.hose("-8", "3 ft", spec="ptfe", ends=["-8 37 flare female"]), ["list of 2"]),
    "sealant": (lambda: fn.straight("-8", sealant="tpae"), ["sealant", "tape"]),
    "mass": (lambda: fn.filter("1 psi at 90 gph", mass="0 kg"), ["mass", "above zero"]),
    "tee": (lambda: fn.Circuit("x", fluid="water").tee("t", "a", "b", "c", size="-8", ends=["-8 37 flare male"] * 2), ["list of 3", "tee 't'"]),
    "meets": (lambda: line([fn.hose("-8", "3 ft", spec="ptfe")], meets=["-8 37 flare", ""]), ["run 'feed'", "meets", "male"]),
}


@pytest.mark.parametrize("slip", WRONG)
def test_wrong_shop_words_are_told(slip):
    call, told = WRONG[slip]
    with pytest.raises(ValueError) as refusal:
        call()
    assert all(word in str(refusal.value) for word in told), str(refusal.value)


def test_shop_words_stay_when_other_words_are_changed_and_are_known_to_files():
    hose = fn.hose("-8", "3 ft", spec="ptfe", ends=["-8 37 flare female", ""], mass="0.4 kg").changed(length="4 ft")
    assert hose.shop.ends == (end("-8 37 flare female"), None) and hose.shop.mass == 0.4
    car = read("""[circuit]
name = "x"
fluid = "water"
[tank.cell]
[[run]]
name = "line"
from = "cell"
to = "ambient"
meets = ["-8 O-ring boss female", ""]
parts = [{part = "adapter", ends = ["-8 O-ring boss male", "-8 37 flare male"]},
         {part = "hose", size = "-8", length = "3 ft", spec = "ptfe", ends = ["-8 37 flare female", ""], sealant = "none"}]
""", "x.toml").circuit
    assert car.runs["line"].meets[0] == end("-8 O-ring boss female")
    assert [(str(joint.one.end), str(joint.other.end)) for joint in joints_of(car)] == [
        ("-8 O-ring boss female", "-8 O-ring boss male"), ("-8 37 flare male", "-8 37 flare female")]


def test_joints_are_found_along_runs_through_tees_and_where_two_runs_come_together():
    car = fn.Circuit("joints", fluid="gasoline")
    car.tank("cell", level="9 in")
    car.junction("log", demand="50 L/h")
    car.junction("end of log", demand="50 L/h")
    car.run("feed", "cell", "half way", [fn.hose("-8", "3 ft", spec="ptfe", name="first")])
    car.run("on", "half way", "fork", [fn.hose("-8", "3 ft", spec="ptfe", name="second")])
    car.tee("fork tee", "fork", "straight", "side", size="-8", ends=["-8 37 flare male"] * 3)
    car.run("one", "straight", "log", [fn.hose("-6", "1 ft", spec="ptfe", name="third")])
    car.run("other", "side", "end of log", [fn.hose("-6", "1 ft", spec="ptfe", name="fourth")])
    found = [joint.place for joint in joints_of(car)]
    assert found == ["cell to first", "first to second", "second to fork tee", "fork tee to third", "third to log", "fork tee to fourth",
                     "fourth to end of log"]
    assert [joint.one.index for joint in joints_of(car) if joint.one.word == "tee"] == [1, 2]


def test_a_standard_tells_the_bore_and_the_liner_where_no_family_does():
    by_standard, by_family = fn.hose("-6", "3 ft", standard="SAE 100R14").main.numbers, fn.hose("-6", "3 ft", spec="ptfe").main.numbers
    assert by_standard == by_family
    assert fn.hose("-6", "3 ft", standard="SAE 30R9").main.numbers["bore"] == pytest.approx(3 / 8 * 0.0254)  # fuel hose is sold by its bore
    with pytest.raises(fn.CircuitError, match="no bore of its own"):
        fn.hose("-6", "3 ft")
