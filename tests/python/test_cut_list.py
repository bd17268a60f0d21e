"""Cut lists: lengths by hand sums, take-up of ends and supports by the tables' rows."""

import csv
import itertools
from math import pi, radians, tan

import flarenut as fn
import pytest
from flarenut.catalog import cutting, end, supports
from flarenut.circuit import CircuitError
from flarenut.hardware.cut_list_view import tape
from flarenut.hardware.cut_tube import planes_of
from hardware_example import car

INCH = 0.0254


def alone(*parts):
    """A circuit of one run."""
    made = fn.Circuit("bench", fluid="water")
    made.run("line", "one", "other", list(parts))
    return made


@pytest.fixture(scope="module")
def cuts():
    return fn.cut_list(car())


# ---- hose ----

def test_a_straight_hose_is_cut_with_slack_and_without_what_its_ends_take_up(cuts):
    hose = cuts["pump hose"]
    assert [step.length.to("in") for step in hose.steps] == pytest.approx([0.065 * 60, -1.86, -2.62])  # -8 PTFE, straight and 90 deg: table 4-22
    assert hose.cut.to("in") == pytest.approx(60 + 3.9 - 1.86 - 2.62)
    assert hose.unknown_ends == 0 and "TM 1-1500-204-23-2" in hose.steps[1].source


def test_slack_is_what_both_handbooks_say_and_the_builder_may_say_another():
    rule = supports.slack()
    assert (rule.low, rule.high) == (0.05, 0.08) and set(rule.source.split(";")) == {"S10", "S42"}
    hose = fn.hose("-6", "50 in", spec="ptfe", name="hose")
    assert fn.cut_list(alone(hose))["hose"].cut.to("in") == pytest.approx(50 * 1.065)
    assert fn.cut_list(alone(hose), slack="8 %")["hose"].cut.to("in") == pytest.approx(54.0)
    assert fn.cut_list(alone(hose), slack="0 %")["hose"].cut.to("in") == pytest.approx(50.0)
    with pytest.raises(CircuitError, match="outside 0 to 20 %"):
        fn.cut_list(alone(hose), slack="30 %")


def test_a_hose_with_bends_gets_no_slack_and_is_told_how_its_length_changes(cuts):
    hose = cuts["suction hose"]
    assert hose.cut.to("in") == pytest.approx(14.0) and not hose.steps
    assert [one.to("in") for one in hose.change] == pytest.approx([0.04 * 14, 0.02 * 14])  # -4 to +2 %
    assert "engine hose 13/16 in shorter to 3/8 in longer" in cuts.text("us", 200)  # 19 5/8 in
    assert "suction hose 9/16 in shorter" not in cuts.text("us", 200)  # nothing presses it


def test_ends_that_nobody_knows_take_nothing_off_and_the_list_says_so(cuts):
    hose = cuts["engine hose"]
    assert hose.unknown_ends == 2 and hose.cut.si == hose.length.si
    text = cuts.text("us", 400)
    assert "take off what the maker of the ends says" in text and "not known of suction hose, engine hose, gauge hose" in text
    assert [round(one.to("in"), 2) for one in hose.like] == [0.94, 1.86]  # of the two families, for scale


def test_a_length_that_lacks_what_ends_take_up_does_not_stand_bare(cuts):
    cells = {label.partition(",")[0]: row for _, label, row in cuts.tables("us").tables[0].lines_of_rows() if row}
    assert cells["suction hose"][3] == "14 in less ends" and cells["gauge hose"][3] == "31 15/16 in less ends"  # 30 in and 6.5 %
    assert "less" not in cells["pump hose"][3] + cells["tank hose"][3]  # by the table of its standard; clamped
    half = fn.cut_list(alone(fn.hose("-6", "20 in", spec="push-on", bends=[90], ends=["-6 37 flare female", "-6 barb female"], name="hose")))
    assert " 20 in less one end " in half.text("us", 200) and " 508 mm less one end " in half.text("metric", 200)


def test_a_measured_bore_is_shown_in_the_units_asked_for(tmp_path):
    bore = 3 / 8 * 25.4  # [mm]; the inch is 25.4 mm by definition
    hose = fn.hose("-6", "20 in", spec="push-on", ends=["-6 37 flare female", f"-6 barb female, bore {bore} mm"], name="hose")
    cuts = fn.cut_list(alone(hose))
    assert "outlet -6 barb female, bore 0.375 in." in cuts.text("us", 200) and "outlet -6 barb female, bore 9.525 mm." in cuts.text("metric", 200)
    for units, said in (("us", "bore 0.375 in"), ("metric", "bore 9.525 mm")):
        cuts.to_csv(tmp_path / "cuts.csv", units)
        (row,) = csv.DictReader((tmp_path / "cuts.csv").read_text(encoding="utf-8").splitlines())
        assert row["outlet"].endswith(said) and end(row["outlet"]).bore == pytest.approx(bore * 1e-3)


def test_the_price_file_says_what_ends_take_up_and_beats_the_tables(tmp_path):
    from hardware_example import PRICES

    file = tmp_path / "mine.csv"
    file.write_text(PRICES, encoding="utf-8")
    own = fn.cut_list(car(), file)
    assert own["pump hose"].cut.to("in") == pytest.approx(60 * 1.065 - 1.1 - 1.3)
    assert own["engine hose"].unknown_ends == 0 and own["engine hose"].cut.to("in") == pytest.approx(own["engine hose"].length.to("in") - 2.2)
    assert "take up what mine.csv says" in own.text("us", 200)


@pytest.mark.parametrize("parts, ends, shares", [
    # before the pump, after it, behind the regulator
    (["before", "pump", "after", "spill", "back"], ("cell", "ambient"), {"before": 2.5, "after": 6.5, "back": 2.5}),
    # between two pumps
    (["pump", "between", "second pump"], ("cell", "ambient"), {"between": 6.5}),
    # no pump: what presses it is not known
    (["before", "after"], ("cell", "other"), {"before": 6.5, "after": 6.5})])
def test_slack_leaves_out_the_shortening_where_nothing_presses(parts, ends, shares):
    """5 to 8 % of the handbooks, 6.5 % in the middle; 4 % of it is the shortening under pressure of AC 43.13-1B, which leaves 2.5 %."""
    made = {"pump": lambda: fn.formula_pump("95 psi", "120 gph", name="pump"),
            "second pump": lambda: fn.formula_pump("95 psi", "120 gph", name="second pump"), "spill": lambda: fn.relief_valve("50 psi", wide_open="70 psi at 300 L/h", name="spill")}
    bench = fn.Circuit("bench", fluid="SAE 10W-40")
    bench.tank("cell", level="8 in")
    bench.run("line", *ends, [made[part]() if part in made else fn.hose("-8", "100 in", spec="full-size", name=part) for part in parts])
    assert {row.name: row.cut.to("in") - 100 for row in fn.cut_list(bench).hoses} == pytest.approx(shares)
    assert [row.cut.to("in") for row in fn.cut_list(bench, slack="5 %").hoses] == pytest.approx([105.0] * len(shares))  # the setting beats the rule


def test_around_a_loop_every_hose_counts_as_pressed():
    bench = fn.Circuit("bench", fluid="50 % ethylene glycol")
    bench.run("one", "a", "b", [fn.hose("-12", "100 in", spec="full-size", name="before"), fn.formula_pump("20 psi", "20 gpm", name="pump")])
    bench.run("other", "b", "a", [fn.hose("-12", "100 in", spec="full-size", name="after")])
    assert [row.cut.to("in") for row in fn.cut_list(bench).hoses] == pytest.approx([106.5, 106.5])


@pytest.mark.parametrize("gauge, share", [("40 psi", 6.5), ("0 psi", 2.5)])
def test_a_place_held_above_the_air_presses_the_hose_before_a_pump_and_behind_a_valve(gauge, share):
    bench = fn.Circuit("bench", fluid="gasoline class A")
    bench.fixed("lift pump", pressure=gauge)
    bench.run("feed", "lift pump", "rail", [fn.hose("-8", "100 in", spec="ptfe", name="fed hose"), fn.formula_pump("95 psi", "120 gph", name="pump")])
    bench.run("spill", "rail", "lift pump", [fn.relief_valve("60 psi", wide_open="80 psi at 300 L/h", name="valve"), fn.hose("-8", "100 in", spec="ptfe", name="spilt hose")])
    assert [row.cut.to("in") - 100 for row in fn.cut_list(bench).hoses] == pytest.approx([share, share])


def test_slack_behind_a_regulator_that_stands_on_a_run_of_its_own():
    bench = fn.Circuit("bench", fluid="gasoline class A")
    bench.tank("cell", level="8 in")
    bench.run("feed", "cell", "rail", [fn.formula_pump("95 psi", "120 gph", name="pump"), fn.hose("-8", "100 in", spec="ptfe", name="feed hose")])
    bench.run("return", "rail", "mid", [fn.bypass_regulator("43 psi", reference="manifold", name="regulator")])
    bench.run("home", "mid", "cell", [fn.hose("-8", "100 in", spec="ptfe", name="home hose")])
    assert {row.name: round(row.cut.to("in"), 6) for row in fn.cut_list(bench).hoses} == {"feed hose": 106.5, "home hose": 102.5}
    text = " ".join(fn.cut_list(bench).text(width=300).split())
    assert "Slack: 2.5 %, as it is run straight before a pump or behind what spills: home hose (less the 4 %" in text and "common practice, no source" in text


def test_a_brake_hose_is_ordered_and_not_cut(tmp_path):
    bench = fn.Circuit("invented brakes", fluid="DOT 4")
    bench.run("front", "master", "caliper", [fn.hose("-3", "15 in", spec="ptfe", standard="FMVSS 106", ends=["M10x1 bubble flare female", "banjo M10x1"], name="left hose")])
    cuts = fn.cut_list(bench)
    row = cuts["left hose"]
    assert row.made_up and row.cut.to("in") == pytest.approx(15.0) and row.steps == () and row.unknown_ends == 0
    text = " ".join(cuts.text(width=300).split())
    assert "Brake hose: order made up, do not cut" in text and "order 15 in made up" in text and "at full lock both ways" in text and "less ends" not in text
    cuts.to_csv(tmp_path / "cuts.csv")
    written, = csv.DictReader((tmp_path / "cuts.csv").read_text(encoding="utf-8").splitlines())
    assert (written["cut to [in]"], written["order made up [in]"]) == ("", "15")


def test_a_clamped_hose_has_no_ends_to_take_off(cuts):
    hose = cuts["tank hose"]
    assert hose.hose_clamps == 2 and hose.unknown_ends == 0
    assert hose.cut.to("in") == pytest.approx(20 * 1.025)  # behind the regulator


def test_the_row_that_does_not_fit_its_neighbours_is_kept_and_not_used():
    rows = cutting.table("hose_end_cutoffs.csv")
    assert [(row["dash"], row["turn_deg"]) for row in rows if row["used"] != "yes"] == [("8", "45")]
    assert cutting.end_cut_off("MIL-H-27267", 8, 45.0) is None and cutting.end_cut_off("MIL-H-27267", 8, 90.0) is not None
    for turn in ("0", "45", "90"):  # what is used grows with the size
        used = [float(row["high_in"]) for row in rows if row["standards"] == "MIL-H-27267" and row["turn_deg"] == turn and row["used"] == "yes"]
        assert used == sorted(used)


def test_straight_behind_an_end_is_held_against_two_diameters():
    bore = fn.hose("-8", "1 m", spec="ptfe").main.numbers["bore"]
    def hose(first):
        return fn.hose("-8", spec="ptfe", bend_radius="2 in", name="hose", way=[["0 in"] * 3, [f"{first} in", "0 in", "0 in"], [f"{first} in", "20 in", "0 in"]])

    short, long = (fn.cut_list(alone(hose(first)))["hose"] for first in (2.5, 3.5))  # the bend of 90 deg begins 2 in before the corner
    assert short.wanted.si == pytest.approx(2 * bore) and short.wanted_is_least
    assert [short.behind[0].to("in"), long.behind[0].to("in")] == pytest.approx([0.5, 1.5])
    assert (short.kinked, long.kinked) == (("inlet",), ())
    assert "FIX: hose: 1/2 in straight behind its inlet end" in fn.cut_list(alone(hose(2.5))).text("us", 200)


def test_the_outside_diameter_counts_where_a_standard_says_it():
    hose = fn.hose("-8", spec="medium-pressure", standard="MIL-H-8794", bend_radius="3 in", name="hose", ends=["-8 37 flare female"] * 2,
                   way=[["0 in"] * 3, ["5 in", "0 in", "0 in"], ["5 in", "20 in", "0 in"]])
    cut = fn.cut_list(alone(hose))["hose"]
    assert cut.wanted.to("in") == pytest.approx(2 * 0.77) and not cut.wanted_is_least  # outside 0.77 in: AC 43.13-1B table 9-3
    assert cut.behind[0].to("in") == pytest.approx(2.0 - 0.94)  # of the 2 in before the bend the end itself takes 0.94
    assert cut.kinked == ("inlet",)


def test_a_corner_that_is_in_an_angled_end_is_no_bend_behind_it():
    def hose(end):
        return fn.hose("-8", spec="ptfe", bend_radius="1 in", name="hose", ends=["-8 37 flare female", end],
                       way=[["0 in"] * 3, ["20 in", "0 in", "0 in"], ["20 in", "1.2 in", "0 in"]])

    assert fn.cut_list(alone(hose("-8 37 flare female")))["hose"].kinked == ("outlet",)
    assert fn.cut_list(alone(hose("-8 37 flare female, 90 deg")))["hose"].kinked == ()


@pytest.mark.parametrize("inches, clamps", [(40, 0), (47.9, 0), (48, 1), (49, 2), (72, 2), (73, 3), (100, 4)])
def test_hose_needs_no_clamp_under_48_inches_and_one_every_24_from_there_on(inches, clamps):
    cut = fn.cut_list(alone(fn.hose("-6", f"{inches} in", spec="ptfe", name="hose")))["hose"]
    assert cut.supports.count == clamps
    if clamps:
        assert inches / (clamps + 1) <= 24 < inches / clamps


# ---- tube (published bends: tests/validation/cases_tubes.py) ----

def test_straights_of_a_published_rack_of_7_by_5_inches():
    """A builder's page bends 1/4 in tube in a 5/8 in bender: of sides of 7 and 5 in, 5.75 and 3.75 in stay straight between two bends (S112)."""
    way = [["0 in"] * 3, ["3 in", "0 in", "0 in"], ["3 in", "7 in", "0 in"], ["-2 in", "7 in", "0 in"], ["-2 in", "2 in", "0 in"]]
    bends = fn.cut_list(alone(fn.tube("1/4 in", wall="0.035 in", way=way, bend_radius="5/8 in", name="rack")))["rack"].bends
    assert [round(bend.straight.to("in"), 3) for bend in bends[1:]] == [5.75, 3.75]


def test_a_tube_by_points_is_the_legs_less_what_corners_are_longer_than_bends(cuts):
    tube = cuts["hard line"]
    radius = 3 * 0.5  # outside diameters, as nobody said another
    each = 2 * radius * tan(radians(45)) - radius * pi / 2
    assert tube.corners.to("in") == pytest.approx(70.0) and tube.deduction.to("in") == pytest.approx(2 * each)
    assert tube.length.to("in") == pytest.approx(70 - 2 * each)
    assert tube.cut.to("in") == pytest.approx(70 - 2 * each + 2 / 32, abs=2e-3)  # two single flares
    assert sum(bend.deduction.si for bend in tube.bends) == pytest.approx(tube.deduction.si)


def test_straights_and_bends_make_up_the_tube_and_each_begins_where_the_sum_says(cuts):
    tube = cuts["hard line"]
    assert [bend.straight.to("in") for bend in tube.bends] == pytest.approx([18.5, 7.0]) and tube.last.to("in") == pytest.approx(38.5)
    total = sum(bend.straight.si + bend.uses.si for bend in tube.bends) + tube.last.si
    assert total == pytest.approx(tube.length.si)
    flare = cutting.flare_allowance("37 flare").length
    assert tube.bends[0].begins.si == pytest.approx(flare + 18.5 * INCH)
    assert tube.bends[1].begins.si == pytest.approx(flare + 18.5 * INCH + tube.bends[0].uses.si + 7.0 * INCH)


def test_the_length_that_is_given_is_developed_already(cuts):
    tube = cuts["return line"]
    assert tube.length.to("in") == pytest.approx(108) and tube.corners is None and tube.deduction is None
    assert [round(bend.angle.to("deg")) for bend in tube.bends] == [90, 90, 45]
    assert all(bend.straight is None and bend.begins is None for bend in tube.bends)
    assert "its length is taken as developed" in cuts.text("us", 200)


def test_a_point_on_a_straight_leg_parts_nothing():
    bare, more = (fn.cut_list(alone(fn.tube("1/4 in", wall="0.035 in", way=way, name="tube")))["tube"] for way in (
        [["0 in"] * 3, ["10 in", "0 in", "0 in"], ["10 in", "10 in", "0 in"]],
        [["0 in"] * 3, ["4 in", "0 in", "0 in"], ["10 in", "0 in", "0 in"], ["10 in", "5 in", "0 in"], ["10 in", "10 in", "0 in"]]))
    assert len(more.bends) == 1 and more.cut.si == pytest.approx(bare.cut.si)
    assert [more.bends[0].straight.si, more.last.si] == pytest.approx([bare.bends[0].straight.si, bare.last.si])


def test_planes_turn_as_seen_along_the_tube():
    forward, up = [(0, 0, 0), (1, 0, 0)], [(1, 0, 1)]
    ahead, back, left, right = (planes_of([*forward, *up, one])[1].to("deg") for one in ((2, 0, 1), (0, 0, 1), (1, 1, 1), (1, -1, 1)))
    assert abs(ahead) == pytest.approx(180) and back == pytest.approx(0)  # a Z and a U
    # Seen from below, looking up, with the way it came from on the left: a U goes back to the left, the vehicle's left is down, its right is up.
    assert (left, right) == (pytest.approx(-90), pytest.approx(90))


def test_bending_as_the_list_says_leads_back_to_the_points():
    """Outside check: walk along the tube by straights, angles and turns of plane, and come out where the last point is."""
    import numpy

    points = numpy.array([[0, 0, 0], [20, 0, 0], [20, 0, 10], [33, 9, 10], [40, 12, -6], [41, 30, 2]]) * INCH
    way = [[f"{value} m" for value in point] for point in points]
    tube = fn.cut_list(alone(fn.tube("1/4 in", wall="0.035 in", way=way, bend_radius="0.75 in", name="tube")))["tube"]
    ahead = (points[1] - points[0]) / numpy.linalg.norm(points[1] - points[0])
    normal = numpy.cross(points[1] - points[0], points[2] - points[1])
    normal /= numpy.linalg.norm(normal)
    here = points[0].copy()

    def turned(vector, axis, angle):
        return vector * numpy.cos(angle) + numpy.cross(axis, vector) * numpy.sin(angle) + axis * (axis @ vector) * (1 - numpy.cos(angle))

    for bend in tube.bends:
        if bend.turn is not None:
            normal = turned(normal, ahead, bend.turn.si)
        here = here + bend.straight.si * ahead
        centre = here + tube.radius.si * numpy.cross(normal, ahead)
        here = centre + turned(here - centre, normal, bend.angle.si)
        ahead = turned(ahead, normal, bend.angle.si)
    assert here + tube.last.si * ahead == pytest.approx(points[-1], abs=1e-9)


@pytest.mark.parametrize("size, material, inches", [("3/16 in", "steel", 14), ("1/4 in", "3003-O", 13.5), ("3/8 in", "304 stainless", 20), ("1/2 in", "6061-T6", 19),
                                                    ("5/8 in", "steel", 25.5), ("3/4 in", "5052-O", 24)])
def test_tube_is_held_as_often_as_the_table_says(size, material, inches):
    """FAA general maintenance handbook, from memory: the rows of support_and_slack.csv."""
    cut = fn.cut_list(alone(fn.tube(size, "10 ft", wall="0.035 in", material=material, name="tube")))["tube"]
    assert cut.supports.spacing.to("in") == pytest.approx(inches) and "verify before use" in cut.supports.source
    assert 120 / (cut.supports.count + 1) <= inches < 120 / cut.supports.count


@pytest.mark.parametrize("form, what", [("37 flare", "single flare"), ("45 flare", "single flare"), ("inverted flare", "double flare")])
def test_flares_add_what_their_allowance_says(form, what):
    cut = fn.cut_list(alone(fn.tube("3/8 in", "50 in", ends=[f"-6 {form} {'male' if form == 'inverted flare' else 'female'}", ""], name="tube")))["tube"]
    (step,) = cut.steps
    allowance = cutting.flare_allowance(form)
    assert step.words == f"inlet {what}" and step.length.si == allowance.length and cut.cut.si == pytest.approx(50 * INCH + allowance.length)
    assert "verify before use" in step.source or "common practice" in step.source


# ---- shown ----

@pytest.mark.parametrize("metres, us, metric", [(3.5, "137 13/16 in", "3500 mm"), (0.0254, "1 in", "25 mm"), (0.0, "0 in", "0 mm"), (-0.0127, "-1/2 in", "-13 mm")])
def test_lengths_as_a_tape_is_read(metres, us, metric):
    length = fn.Quantity(metres, "length")
    assert (tape(length, "us"), tape(length, "metric")) == (us, metric)


def test_no_length_is_shown_without_a_unit(cuts):
    for units, unit in (("us", " in"), ("metric", " mm")):
        for row in itertools.chain.from_iterable(table.lines_of_rows() for table in cuts.tables(units).tables):
            _, label, cells = row
            for cell in cells:
                bare = cell.lstrip("+-").replace(" ", "").replace("/", "")
                assert not bare.isdigit() or cell == cells[-1], (label, cells)  # the last column counts clamps
                assert unit in cell or not any(letter.isdigit() for letter in cell) or "not known" in cell or "deg" in cell or cell == cells[-1], cell


def test_html_and_csv_say_the_same(cuts, tmp_path):
    assert "pump hose" in cuts._repr_html_() and "<table" in cuts._repr_html_()
    cuts.to_csv(tmp_path / "cuts.csv", "metric")
    rows = {row["line"]: row for row in csv.DictReader((tmp_path / "cuts.csv").read_text(encoding="utf-8").splitlines())}
    assert list(rows) == [cut.name for cut in cuts]
    for cut in cuts:
        assert float(rows[cut.name]["cut to [mm]"]) == pytest.approx(cut.cut.to("mm"), rel=1e-5)
        total = float(rows[cut.name]["way [mm]"]) + float(rows[cut.name]["added [mm]"]) - float(rows[cut.name]["taken off [mm]"])
        assert total == pytest.approx(float(rows[cut.name]["cut to [mm]"]), rel=1e-5)


def test_a_line_that_is_not_there_is_told_with_the_nearest(cuts):
    with pytest.raises(CircuitError, match="did you mean 'pump hose'"):
        cuts["pump hoze"]
    with pytest.raises(CircuitError, match="no circuit and no vehicle"):
        fn.cut_list("car")
    with pytest.raises(CircuitError, match="'us' or 'metric'"):
        fn.cut_list(car(), units="imperial")


def test_a_circuit_without_lines_has_an_empty_list():
    empty = fn.cut_list(alone(fn.orifice("2 mm")))
    assert len(empty) == 0 and "no hose and no tube" in empty.text()


# ---- a hose that is too short for its own ends ----

def short(inches, ends=("-8 37 flare female, 90 deg", "-8 37 flare female, 90 deg"), **words):
    bench = fn.Circuit("bench", fluid="gasoline class A")
    bench.fixed("supply", pressure="60 psi")
    bench.junction("rail", demand="60 L/h")
    words = words or {"outside": "0.7 in"}
    bench.run("feed", "supply", "rail", [fn.hose("-8", spec="ptfe", way=[["0 in"] * 3, [f"{inches} in", "0 in", "0 in"]], ends=list(ends), name="hose", **words)],
              meets=["-8 37 flare male"] * 2, faces=["up", "up"])
    return bench


@pytest.fixture
def ends_of_two(tmp_path):
    file = tmp_path / "ends.csv"
    file.write_text("item,price,unit,currency,weight,cut_off\nhose end -8 *,10,each,EUR,50 g,2.1 in\n", encoding="utf-8")
    return file


def test_a_cut_below_what_two_sockets_hold_is_told_wherever_it_stands(ends_of_two, tmp_path):
    """By hand: 3 in and 6.5 % of slack less 2 x 2.1 in are -1.005 in; two sockets hold 2 x 0.7 = 1.4 in."""
    made = fn.cut_list(short(3), ends_of_two)
    assert made["hose"].cut.to("in") == pytest.approx(-1.005) and made["hose"].least.to("in") == pytest.approx(1.4)
    found, = made.findings
    assert (found.code, found.severity, found.where) == ("hose too short", "fix", "hose")
    assert "TOO SHORT: -1 in" in made.text("us", 200) and "FIX: hose: its ends leave -1.01 in of hose to cut, less than the 1.40 in" in made.text("us", 300)
    made.to_csv(tmp_path / "cuts.csv")
    row, = csv.DictReader((tmp_path / "cuts.csv").read_text(encoding="utf-8").splitlines())
    assert row["finding"].startswith("FIX: hose: its ends leave")
    page = fn.build_sheet(short(3), prices=ends_of_two).html
    assert "TOO SHORT" in page.replace("\xa0", " ") and page.count("Its ends leave") == 1 and "its ends leave" in page  # among the findings, and below the cut list


@pytest.mark.parametrize("inches, wrong", [(5.2, True), (5.3, False)])
def test_it_is_wrong_as_long_as_the_sockets_do_not_get_their_hose(inches, wrong, ends_of_two):
    """(1.4 + 4.2) / 1.065 = 5.26 in."""
    made = fn.cut_list(short(inches), ends_of_two)
    assert made["hose"].too_short is wrong and bool(made.findings) is wrong


def test_where_nobody_knows_what_ends_take_up_it_may_be_too_short():
    """Military ends of -8 at 90 degrees take up 1.16 in at the least in the tables (see `end_cut_off`)."""
    from flarenut.catalog.cutting import cut_offs_like

    least = 2 * min(cut.low for cut in cut_offs_like(8, 90)) / 0.0254
    border = (1.4 + least) / 1.065
    short_of, beyond = (fn.cut_list(short(border + more)) for more in (-0.05, 0.05))
    assert [one.severity for one in short_of.findings] == ["watch"] and beyond.findings == []
    assert "less ends" in short_of.text("us", 200) and "WATCH: hose: with the shortest military ends" in short_of.text("us", 300)


def test_a_clamped_hose_wants_hose_on_its_two_barbs():
    bench = fn.Circuit("bench", fluid="water")
    bench.run("line", "a", "ambient", [fn.hose("-8", "1 in", spec="push-on", outside="0.7 in", clamped=True, ends=["barb -8 clamped"] * 2, name="hose")])
    assert [one.code for one in fn.cut_list(bench, slack="0 %").findings] == ["hose too short"]
