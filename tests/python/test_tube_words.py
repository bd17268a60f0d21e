"""Sizes of tube as the trade writes them, outside diameter by wall in one, where a size of tube is asked for."""

import re
from importlib.resources import files
from pathlib import Path

import pytest

import flarenut as fn
from flarenut.catalog import CatalogError, tube_words

OIL = Path(__file__).parents[2] / "docs/guide/examples/oil_cooler.toml"


def demo():
    return fn.load(str(files("flarenut").joinpath("demo/return_style_e85.toml")))


def bore_of(size, **words):
    """Bore of a tube in millimetres."""
    return fn.tube(size, "1 m", **words).main.numbers["bore"] * 1e3


@pytest.mark.parametrize("size, bore", [  # outside diameter less two walls, in the head
    ("25 mm x 1.5 mm", 22.0),
    ("25x1.5 mm", 22.0),
    ("25 mm x 1.5", 22.0),
    ("10 × 1 mm", 8.0),
    ("10mm O.D. X 1mm wall", 8.0),
    ("3/8 in x 0.035 in", 0.305 * 25.4),
    ("3/8 x 0.035 in", 0.305 * 25.4),
    ('3/8" x .035"', 0.305 * 25.4),
    ("3/8'' x 0.035''", 0.305 * 25.4),
    ("3/8’’ x .035’’", 0.305 * 25.4),
    ("3/8 in. x 0.035 in.", 0.305 * 25.4),
    ("10 mm. x 1 mm.", 8.0),
    ("3/8''", 0.305 * 25.4),
    ("-6 x 0.035 in", 0.305 * 25.4),
    ("1-1/4 x 0.049 in", 1.152 * 25.4),
    ("1 1/4 in x 0.049 in", 1.152 * 25.4),
])
def test_a_size_of_tube_may_tell_diameter_and_wall_in_one(size, bore):
    assert bore_of(size) == pytest.approx(bore, rel=1e-12)


def test_each_of_the_two_can_then_be_changed_by_itself():
    line = fn.tube("10x1 mm", "1 m")
    assert line.given["size"] == "10 mm" and line.given["wall"] == "1 mm"
    assert line.changed(wall="1.5 mm").main.numbers["bore"] == pytest.approx(0.007)
    assert line.changed(size="12 mm").main.numbers["bore"] == pytest.approx(0.010)  # the wall stays, as where it is written apart
    assert line.changed(size="12 x 1.5 mm").main.numbers["bore"] == pytest.approx(0.009)  # and goes where the new size tells its own


def test_a_wall_said_twice_is_no_trouble_where_both_say_the_same():
    assert bore_of("3/8 in x 0.035 in", wall="0.889 mm") == pytest.approx(0.305 * 25.4)
    with pytest.raises(fn.CircuitError, match=re.escape("'size' is '3/8 in x 0.035 in' and 'wall' is '0.049 in': two walls of one tube: leave one")):
        bore_of("3/8 in x 0.035 in", wall="0.049 in")


@pytest.mark.parametrize("size, told", [
    ("10 x 1", "'size' is '10 x 1', and its wall has no unit: write outside diameter and wall with their units, '3/8 in x 0.035 in'"),
    ("-6 x 0.035", "and its wall has no unit"),
    ("0.035 in x 3/8 in", "two walls of 3/8 in leave no bore in a tube of 0.035 in: the outside diameter comes first"),
    ("10 mm x 5 mm", "leave no bore"),
    ("10 mm x 1 mm x 2 m", "which is no outside diameter by wall"),
    ("10 mm x", "which is no outside diameter by wall"),
    ("10 zz x 1 mm", "'10 zz' is no length"),
    ("10 mm x 1 zz", "'1 zz' is no length"),
    ("25 mm", "no tube of 25 mm outside diameter in the table: give its 'wall' or its 'bore'; nearest in the table: "
              "3/4 in (19.05 mm) and 1 in (25.4 mm), of 3/16 in, 1/4 in"),
    ("35 mm", "nearest in the table: 1 in (25.4 mm), of"),
    ("4 mm", "nearest in the table: 4.75 mm, of"),
])
def test_what_tells_no_tube_is_refused_with_what_there_is(size, told):
    with pytest.raises(CatalogError, match=re.escape(told)) as refused:
        bore_of(size)
    assert "did you mean" not in str(refused.value)  # no other tube is what somebody meant


@pytest.mark.parametrize("wall", ["20 ga", "20ga.", "20 gauge", "20 SWG", "20 BWG", "#20", "20 gage wall"])
def test_a_wall_by_gauge_is_refused_for_gauges_differ(wall):
    """No. 20 is 0.035 in as Birmingham gauge of tube, and 0.036 in as the wire gauge of the Imperial Standard (from memory)."""
    told = re.escape(f"and '{wall}' is a wall by gauge: gauges differ by standard") + ".*" + "write the wall in inches or millimetres"
    with pytest.raises(CatalogError, match=told):
        bore_of(f"3/8 in x {wall}")
    with pytest.raises(CatalogError, match="'wall' is .*gauges differ by standard"):
        bore_of("3/8 in", wall=wall)


@pytest.mark.parametrize("size, words", [("10x1 mm", {}), ("10 mm", {"wall": "1 mm"})])
def test_a_bore_that_contradicts_diameter_and_wall_is_refused_with_both(size, words):
    assert bore_of(size, bore="8.2 mm", **words) == pytest.approx(8.2)  # a measured bore beside a nominal wall
    with pytest.raises(fn.CircuitError, match=re.escape("'bore' is '9 mm', and a tube of 10 mm with a wall of 1 mm has 8 mm inside: leave out 'bore'")):
        bore_of(size, bore="9 mm", **words)
    assert bore_of("10 mm", bore="8.6 mm") == pytest.approx(8.6)  # no wall said: what is measured holds


@pytest.mark.parametrize("asked", ["8 x", "8x", "x8", "-8 x"])
def test_a_wrong_size_of_hose_is_answered_with_sizes_of_hose(asked):
    with pytest.raises(fn.CircuitError) as refused:
        fn.line_sizes(demo(), "return hose", sizes=[asked], specs=["ptfe"])
    text = str(refused.value)
    assert f"'{asked}' is no size of ptfe" in text and "-4, -5, -6" in text and "outside diameter" not in text and "wall" not in text


def test_a_size_of_hose_is_no_two_lengths():
    with pytest.raises(fn.CircuitError, match=re.escape("two lengths, and a hose goes by the dash of its size: write size=\"-6\"")):
        fn.hose("10 x 16 mm", "1 m", spec="ptfe")


def test_a_length_that_is_two_is_told_so():
    for written in ("10x1 mm", "3/8 in x 0.035 in", "10 mm x 1"):
        with pytest.raises(fn.UnitError, match=re.escape(f"'bore' is '{written}', two lengths in one: give one; outside diameter, wall and bore")):
            fn.passage(written, "1 m")


def test_other_sizes_tell_no_wall():
    assert [tube_words(size) for size in ("3/8 in", "-6", "M10x1", None, 8)] == [None] * 5


def test_a_circuit_file_takes_them_too_and_says_where_one_is_wrong(tmp_path):
    file = tmp_path / "oil.toml"

    def loaded(size):
        file.write_text(OIL.read_text().replace('{part = "tube", bore = "25 mm",', f'{{part = "tube", size = "{size}",'))
        return fn.load(str(file))

    (line,) = [piece for piece in loaded("28x1.5 mm").runs["suction"].pieces if piece.word == "tube"]
    assert line.main.numbers["bore"] == pytest.approx(0.025)
    with pytest.raises(fn.FileError, match=re.escape("'size' is '28 x 1.5', and its wall has no unit")) as refused:
        loaded("28 x 1.5")
    assert "suction" in str(refused.value)


def test_a_choice_of_line_takes_them_too():
    changed = demo()
    changed.change("return hose", bore="8 mm", size=None, spec=None)
    found = fn.line_sizes(changed, "return hose", ["3/8x0.035 in", '1/2" x 0.049"', "10x1 mm", "35x1.5 mm"], ["tube", "metric tube"])
    assert [(row.spec, row.size) for row in found.rows if row.spec != "as written"] == [
        ("tube", "3/8 in x 0.035 in"), ("tube", "1/2 in x 0.049 in"), ("metric tube", "10 mm x 1 mm"), ("metric tube", "35 mm x 1.5 mm")]


def test_a_size_of_tube_of_another_specification_is_told_under_which_it_is():
    with pytest.raises(fn.CircuitError, match=re.escape("for 25x1.5 mm name its specification, specs=['metric tube']")):
        fn.line_sizes(demo(), "return hose", ["25x1.5 mm"], "tube")
    with pytest.raises(fn.CircuitError, match=re.escape("line_sizes: 'size' is '10 x 1', and its wall has no unit")):
        fn.line_sizes(demo(), "return hose", ["10 x 1"], "tube")


@pytest.mark.parametrize("bore", ["12 mm", "0.375 in"])
def test_a_bore_as_wide_as_the_tube_is_outside_is_refused(bore):
    with pytest.raises(fn.CircuitError, match="no wider outside") as refused:
        fn.tube("3/8 in", "1 m", bore=bore)
    assert refused.value.key == "bore"


@pytest.mark.parametrize("size, reason", [
    ("6 x 0.035 in", "only one of the two bears a unit"), ("3 x 0.035 in", "only one of the two bears a unit"), ('8 x 0.028"', "only one of the two bears a unit"),
    ("10 mm x 0.035", "only one of the two bears a unit"), ("10 m x 1 mm", "wider than tube on a vehicle"), ("10 ft x 0.035 in", "wider than tube")])
def test_no_inch_is_taken_for_a_dash_nor_a_millimetre_for_an_inch(size, reason):
    with pytest.raises(CatalogError, match=reason):
        tube_words(size)


def test_one_unit_for_two_does_where_it_makes_a_tube():
    assert tube_words("54 x 0.9 mm") == ("54 mm", "0.9 mm") and tube_words("3/8 in x 0.035") == ("3/8 in", "0.035 in")
    assert tube_words("-6 x 0.035 in") == ("-6", "0.035 in") and tube_words("1 x 0.065 in") == ("1 in", "0.065 in")
