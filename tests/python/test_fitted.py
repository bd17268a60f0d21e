"""What `fitted` puts in: barbs of clamped hose, sleeves of metric tube, bulkhead unions where lines pass walls."""

from math import pi

import flarenut as fn
import pytest
from flarenut import catalog
from flarenut.circuit import CircuitError
from flarenut.circuit.file import read
from flarenut.hardware.joints import joints_of

INCH, FOOT = 0.0254, 0.3048


def feed(parts, meets=("", ""), fluid="gasoline class A", **case):
    car = fn.Circuit("car", fluid=fluid)
    car.tank("cell", level="9 in")
    car.junction("rail", demand="60 L/h")
    car.run("feed", "cell", "rail", parts, meets=list(meets))
    return car


def pieces(made, run="feed"):
    return {piece.name: piece for piece in made.circuit.runs[run].pieces}


def ends(piece):
    return [str(one) if one else "" for one in piece.shop.ends]


def said(made):
    return [f"{one.where}: {one.what}" for one in made.proposals]


# ---- clamped hose ----

def test_a_clamped_hose_gets_barbs_of_its_size_and_no_flare():
    made = fn.fitted(feed([fn.hose("-6", "2 ft", spec="push-on", clamped=True, name="hose")]))
    bore = catalog.hose_bore(6, "push-on").bore
    assert [(one.form, one.size, one.sex, one.bore) for one in pieces(made)["hose"].shop.ends] == [("barb", "-6", "female", pytest.approx(bore))] * 2
    assert [one.kind for one in pieces(made)["hose"].elements] == ["line"]  # pushed over a barb the hose is as wide as it is
    assert all("nothing is said" in one.what for one in made.open) and fn.audit(made.circuit).passes  # what it is pushed onto is left open


def test_it_meets_a_flare_by_a_barb_and_a_tube_by_its_bead():
    made = fn.fitted(feed([fn.hose("-6", "2 ft", spec="push-on", clamped=True, name="hose"), fn.tube("3/8 in", "3 ft", name="pipe")], ["-6 37 flare male", "-6 37 flare male"]))
    assert "cell to hose: adapter, -6 37 flare female to -6 barb male" in said(made)
    assert ends(pieces(made)["pipe"]) == ["-6 barb male", "-6 37 flare female"]
    audit = fn.audit(made.circuit)
    assert audit.passes and audit.counts()["seals"] == 4 and not audit.findings, audit.text()


def test_a_bead_that_does_not_fit_the_hose_is_none():
    made = fn.fitted(feed([fn.hose("-6", "2 ft", spec="push-on", clamped=True, name="hose"), fn.tube("10 mm", "3 ft", wall="1 mm", name="pipe")]))
    assert ends(pieces(made)["pipe"])[0] == "-6 37 flare female"  # a hose of 9.5 mm is not forced on 10 mm
    assert "hose to pipe: adapter, -6 barb male to -6 37 flare male" in said(made)


def test_a_tee_between_clamped_hoses_has_barbs():
    car = fn.Circuit("car", fluid="water")
    car.tank("cell", level="9 in")
    for name, end in (("one", "a"), ("other", "b")):
        car.junction(end, demand="1 L/min")
        car.run(name, "fork", end, [fn.hose("-6", "2 ft", spec="push-on", clamped=True)])
    car.run("in", "cell", "fork", [fn.hose("-8", "2 ft", spec="ptfe")])
    made = fn.fitted(car)
    tee, _ = made.circuit.multiport["fork tee"]
    assert sorted(map(str, tee.shop.ends)) == ["-6 barb male", "-6 barb male", "-8 37 flare male"]
    assert fn.audit(made.circuit).counts()["seals"] == 3


def test_hose_that_takes_no_clamp_gets_no_barb_and_is_told():
    made = fn.fitted(feed([fn.hose("-6", "2 ft", spec="ptfe", clamped=True, name="hose")]))
    assert ends(pieces(made)["hose"]) == ["", ""] and any("must not be clamped" in one.what for one in made.open)


# ---- metric tube ----

# ISO 8434-2: metric tube on the 37 degree fitting of a dash size, from memory: verify before use. Check from outside: the tube that a fitting
# takes is within a millimetre of the inch tube that names its dash.
METRIC = {6: 4, 8: 5, 10: 6, 12: 8, 16: 10, 20: 12, 25: 16}


@pytest.mark.parametrize("outside, dash", METRIC.items())
def test_metric_tube_is_flared_to_its_dash_with_a_sleeve_for_it(outside, dash):
    made = fn.fitted(feed([fn.tube(f"{outside} mm", "3 ft", wall="1 mm", name="pipe")]))
    assert ends(pieces(made)["pipe"]) == [f"-{dash} 37 flare female"] * 2
    assert f"sleeve for metric tube of {outside} mm" in said(made)[0] and "ISO 8434-2" in said(made)[0] and "from memory: verify before use" in said(made)[0]
    assert abs(outside - dash / 16 * 25.4) < 1.0
    assert fn.bill(made.circuit).count(f"tube nut and sleeve -{dash} 37 flare, for {outside} mm tube") == 2


def test_a_diameter_without_a_size_of_flare_is_left_open():
    made = fn.fitted(feed([fn.tube("9 mm", "3 ft", wall="1 mm", name="pipe")]))
    assert any("no size of flare is known for its diameter" in one.what for one in made.open) and not made.proposals


def test_inch_tube_needs_no_sleeve_of_its_own():
    assert said(fn.fitted(feed([fn.tube("3/8 in", "3 ft", name="pipe")]))) == [f"pipe: {side} end, -6 37 flare female" for side in ("inlet", "outlet")]


# ---- bulkheads ----

def through(walls="firewall at 4 ft", **words):
    given = {"length": "11 ft", "bends": [90, 90, 45], **words}
    return feed([fn.hose("-8", spec="ptfe", name="feed hose", through=walls, **given)], ["-8 37 flare male", "-6 37 flare male"])


def test_a_hose_is_parted_at_the_wall_by_a_bulkhead_union():
    car = through(rise="22 in", mass="1.1 kg", extra_loss=2.2)
    made = fn.fitted(car)
    one, union, other = list(pieces(made).values())[:3]
    assert [piece.name for piece in (one, union, other)] == ["feed hose", "feed hose firewall bulkhead", "feed hose after firewall"]
    assert ends(one) == ends(other) == ["-8 37 flare female"] * 2 and ends(union) == ["-8 37 flare male"] * 2
    assert [piece.length / FOOT for piece in (one, other)] == pytest.approx([4.0, 7.0]) and [piece.rise / INCH for piece in (one, other)] == pytest.approx([8.0, 14.0])
    # three bends at a quarter, a half and three quarters of 11 ft: 2.75, 5.5 and 8.25 ft
    assert [piece.main.numbers["bend_angle"] for piece in (one, other)] == pytest.approx([pi / 2, pi / 2 + pi / 4])
    assert [piece.shop.mass for piece in (one, other)] == pytest.approx([0.4, 0.7]) and [piece.main.numbers["extra_loss"] for piece in (one, other)] == pytest.approx([0.8, 1.4])
    assert not one.shop.through and not other.shop.through and other.given["spec"] == "ptfe"
    assert car.runs["feed"].pieces[0].shop.through[0].at == pytest.approx(4 * FOOT)  # the circuit itself stays as it was
    assert made.circuit.solve()["as written"].converged
    assert not fn.fitted(made.circuit).proposals


def test_joints_audit_and_size_steps_follow():
    made = fn.fitted(through())
    assert [joint.place for joint in joints_of(made.circuit)] == [
        "cell to feed hose", "feed hose to feed hose firewall bulkhead", "feed hose firewall bulkhead to feed hose after firewall",
        "feed hose after firewall to adapter at rail", "adapter at rail to rail"]
    audit = fn.audit(made.circuit)
    assert audit.counts() == {"seals": 5, "adapter": 0, "refused": 0, "not said": 0} and audit.passes
    assert [(one.code, one.where) for one in audit.findings] == [("size steps", "feed")] and "the size changes on the way" in audit.findings[0].what
    bill = fn.bill(made.circuit)
    assert bill.count("bulkhead union -8 37 flare male to -8 37 flare male") == 1 and bill.count("hose end -8 37 flare female for ptfe") == 4


@pytest.mark.parametrize("words", [{"clamped": True}, {"ends": ["-6 barb female", ""]}])
def test_a_clamped_hose_is_joined_at_the_wall_by_one_barbed_union(words):
    """Counted by hand: one union and four clamps; no adapter and no hose end."""
    made = fn.fitted(feed([fn.hose("-6", "6 ft", spec="push-on", through="firewall at 3 ft", name="hose", **words)], ["-6 barb male", "-6 barb male"]))
    assert list(pieces(made)) == ["hose", "hose firewall bulkhead", "hose after firewall"] and ends(pieces(made)["hose firewall bulkhead"]) == ["-6 barb male"] * 2
    bill = fn.bill(made)
    assert [bill.count(item) for item in ("bulkhead union -6 barb male to -6 barb male", "hose clamp*", "hose end*", "adapter*")] == [1, 4, 0, 0]
    assert fn.audit(made.circuit).counts()["seals"] == 4 and made.open == [] and made.circuit.solve()["as written"].converged


def test_proposals_are_said_in_either_system():
    made = fn.fitted(feed([fn.hose("-6", "6 ft", spec="push-on", clamped=True, through="firewall at 3 ft", name="hose")], ["-6 barb male", "-6 barb male"]))
    us, metric = made.text("us"), made.text("metric")
    assert "3 ft along" in us and "bore 0.375 in" in us and " mm" not in us
    assert "914 mm along" in metric and "bore 9.525 mm" in metric and " in " not in metric.replace("put in", "").replace("in from", "")


def test_an_adapter_is_named_after_the_port_that_it_is_screwed_into():
    made = fn.fitted(feed([fn.hose("-8", "3 ft", spec="ptfe", name="feed hose"), fn.filter("1 psi at 90 gph", ends=["-6 O-ring boss female"] * 2, name="filter"),
                           fn.hose("-8", "3 ft", spec="ptfe", name="bay hose")], ["-8 37 flare male", "-6 37 flare male"]))
    assert [name for name in pieces(made) if name.startswith("adapter")] == ["adapter at filter inlet", "adapter at filter outlet", "adapter at rail"]


def test_a_run_that_meets_a_port_leaves_the_next_run_a_port_of_its_own():
    # The feed is screwed into one port of the rail; the return starts at another, of which nobody says what it is.
    def car(**more):
        made = feed([fn.hose("-8", "3 ft", spec="ptfe", name="feed hose")], ["-8 37 flare male", "-8 O-ring boss female"])
        made.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="manifold", ends=["-6 O-ring boss female"] * 2, name="regulator"),
                                            fn.hose("-6", "3 ft", spec="ptfe", name="return hose")], **more)
        return made

    assert "rail to regulator" in [joint.place for joint in joints_of(car())]
    silent, said = fn.fitted(car()), fn.fitted(car(meets=["-6 O-ring boss female", "-6 37 flare male"]))
    assert [one.where for one in silent.open] == ["rail to regulator", "return hose to cell"] and fn.audit(silent.circuit).counts()["refused"] == 0
    assert not said.open and fn.audit(said.circuit).passes
    assert [fn.audit(one.circuit).counts()["adapter"] for one in (silent, said)] == [0, 0]


def test_said_ends_stay_at_the_outer_ends():
    made = fn.fitted(through(ends=["-8 37 flare female, 45 deg", "-8 37 flare female, 90 deg"]))
    assert ends(pieces(made)["feed hose"]) == ["-8 37 flare female, 45 deg", "-8 37 flare female"]
    assert ends(pieces(made)["feed hose after firewall"]) == ["-8 37 flare female", "-8 37 flare female, 90 deg"]


def test_several_walls_in_any_order_and_a_grommet_that_parts_nothing():
    made = fn.fitted(through(["firewall at 8 ft", "floor at 2 ft", "bracket at 5 ft, grommet"], bends=[]))
    assert list(pieces(made))[:5] == ["feed hose", "feed hose floor bulkhead", "feed hose after floor", "feed hose firewall bulkhead", "feed hose after firewall"]
    assert [piece.length / FOOT for piece in pieces(made).values() if piece.word == "hose"] == pytest.approx([2.0, 6.0, 3.0])
    kept, = pieces(made)["feed hose after floor"].shop.through
    assert kept.grommet and kept.at / FOOT == pytest.approx(3.0) and fn.bill(made.circuit).count("grommet for -8 ptfe, outside not known") == 1
    assert "line through a wall" not in [one.code for one in fn.audit(made.circuit).findings]


def test_a_way_is_parted_at_its_distance_and_keeps_its_length_and_its_angled_end():
    way = [["0 in", "0 in", "2 in"], ["0 in"] * 3, ["30 in", "0 in", "0 in"], ["30 in", "30 in", "0 in"], ["30 in", "30 in", "12 in"]]
    words = {"length": None, "bends": (), "way": way, "bend_radius": "4 in", "ends": ["-8 37 flare female, 90 deg", ""]}
    whole = fn.hose("-8", spec="ptfe", way=way, bend_radius="4 in", ends=words["ends"])
    made = fn.fitted(through("firewall at 20 in", **words))
    one, _, other = list(pieces(made).values())[:3]
    assert one.length / INCH == pytest.approx(20.0) and one.length + other.length == pytest.approx(whole.length)
    assert one.main.numbers["bend_angle"] == 0.0 and other.main.numbers["bend_angle"] == pytest.approx(pi) and one.shop.way[0] == whole.shop.way[0]
    assert one.rise + other.rise == pytest.approx(whole.rise)
    bent = fn.fitted(through("firewall at 28 in", **words))  # the bend begins at 26 in
    assert any("bends: say a place where it is straight" in left.what for left in bent.open) and "feed hose firewall bulkhead" not in pieces(bent)


def test_tubes_are_parted_too_and_brake_pipe_is_left_to_its_builder():
    made = fn.fitted(feed([fn.tube("12 mm", "3 m", wall="1 mm", bends=[90], through=["firewall at 1 m"], name="pipe")]))
    assert list(pieces(made)) == ["pipe", "pipe firewall bulkhead", "pipe after firewall"] and ends(pieces(made)["pipe firewall bulkhead"]) == ["-8 37 flare male"] * 2
    brakes = fn.fitted(feed([fn.tube("3/16 in", "3 m", through="firewall at 1 m", name="pipe")], fluid="DOT 4"))
    assert list(pieces(brakes)) == ["pipe"] and any("bulkhead" in one.what for one in brakes.open)


def test_the_audit_notes_a_line_through_a_wall_without_either():
    found, = (one for one in fn.audit(through()).findings if one.code == "line through a wall")
    assert found.severity == "note" and found.where == "feed hose" and "the firewall at 4 ft (1219 mm)" in found.what
    assert not [one for one in fn.audit(through("firewall at 4 ft, grommet")).findings if one.code == "line through a wall"]


@pytest.mark.parametrize("walls, told", [("firewall at 12 ft", "passes the firewall at 12 ft (3658 mm), and the line is 11 ft (3353 mm) long"), ("firewall at 11 ft", "11 ft"),
                                         ("firewall", "firewall at 4 ft"), ("firewall at 4", "unit"), (["firewall at 4 ft", 3], "firewall at 4 ft"), ("floor at -1 ft", "above")])
def test_walls_that_are_none_are_refused(walls, told):
    with pytest.raises(ValueError) as refusal:
        through(walls)
    assert told in str(refusal.value) and "through" in str(refusal.value)


def test_only_lines_pass_walls_and_files_know_the_word():
    with pytest.raises(CircuitError, match="takes no 'through'"):
        fn.filter("1 psi at 90 gph", through="firewall at 1 ft")
    car = read("""[circuit]
name = "x"
fluid = "water"
[tank.cell]
[[run]]
name = "line"
from = "cell"
to = "ambient"
parts = [{part = "hose", size = "-8", length = "3 ft", spec = "ptfe", through = ["firewall at 1 ft", "floor at 2 ft, grommet"]}]
""", "x.toml").circuit
    assert [(wall.what, wall.grommet) for wall in car.runs["line"].pieces[0].shop.through] == [("firewall", False), ("floor", True)]


# ---- both ends said, and they do not go together ----

def clash():
    """37 against 45 degree of one size and thread: -8, 3/4-16, the pair that screws together and does not seal."""
    return feed([fn.hose("-8", "3 ft", spec="ptfe", ends=["-8 37 flare female", ""], name="hose")], ["-8 45 flare male", "-8 37 flare male"])


def test_an_adapter_between_two_that_were_said_keeps_their_finding_in_sight():
    found, = (one for one in fn.audit(clash()).findings if one.where == "cell to hose")
    made = fn.fitted(clash())
    one, = made.clashing
    assert one.where == "cell to hose" and one.clash.severity == found.severity and one.clash.what == found.what
    assert one.instead == "change the hose end of hose to -8 45 flare female" and [other.where for other in made.unsaid] == ["hose"]
    before, after = made.text().split("Put in because these two do not seal")
    assert "cell to hose" not in before and f"as written {found.severity.upper()}: " in after and "or change the hose end of hose" in after
    assert fn.audit(made.circuit).passes


def test_an_adapter_to_an_end_that_was_put_in_stands_in_place_of_nothing_said():
    made = fn.fitted(feed([fn.hose("-8", "3 ft", spec="ptfe", name="hose")], ["-6 37 flare male", "-8 37 flare male"]))
    assert not made.clashing and any("adapter" in one.what for one in made.unsaid) and "do not seal" not in made.text()
