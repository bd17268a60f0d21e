"""What pictures say where it is hard to say it: drives that ended early, narrow stretches, far points, limits, gear pumps; read back by extents as drawn."""

import matplotlib
import numpy
import pytest

matplotlib.use("Agg")

from importlib.resources import files  # noqa: E402

import flarenut as fn  # noqa: E402

pytest.importorskip("xarray", reason="pictures of studies read Datasets")

from flarenut.cli import main  # noqa: E402
from flarenut.plotting.sweep_lines import sweep_lines  # noqa: E402
from over_time_example import car  # noqa: E402
from test_one_choice_of_units import foreign, fuel, oil, texts_of  # noqa: E402
from test_pictures_apart import bench, covering, words_of  # noqa: E402

SYSTEMS = ("us", "metric")
LIMITS = {"us": "176 F", "metric": "80 C"}


def outside(ax):
    """Words that leave the figure."""
    figure = ax.get_figure(root=True)
    figure.draw_without_rendering()
    renderer, (wide, high) = figure._get_renderer(), figure.bbox.size
    boxes = [(one.get_text(), one.get_window_extent(renderer)) for one in words_of(ax)]
    return [text for text, box in boxes if box.x0 < -1 or box.y0 < -1 or box.x1 > wide + 1 or box.y1 > high + 1]


def told(ax):
    return " ".join(" ".join(one.get_text().split()) for one in words_of(ax))


# ---- drives ----

@pytest.fixture(scope="module")
def early():
    hot = car()
    hot.case("burning", speed="3000 rpm", **{"sump.heat": "60 kW"})
    return fn.over_time(hot, [("1 min", "town"), ("30 min", "burning"), ("5 min", "town")])


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_drive_that_ended_early_shows_where_and_says_why_in_the_units_asked_for(early, system):
    ax = fn.time_picture(early, marks=["80 C"], units=system)
    said, reached, left = told(ax), early.times[-1], foreign(texts_of(ax), system)
    assert reached < early.legs[-1].ends and "It ends at 1 min 30 s of 36 min" in said and "would get hotter than" in said and left == []
    assert "no answer beyond" in said and LIMITS[system] in said
    ends = [line for line in ax.lines if len(set(line.get_xdata())) == 1 and line.get_linewidth() == 2.0]
    assert [line.get_xdata()[0] for line in ends] == [pytest.approx(reached)] and ax.get_xlim()[1] > 1.2 * reached
    assert covering(ax) == [] and outside(ax) == []


def test_a_drive_without_any_answer_is_a_picture_of_why():
    made = oil("metric")
    made.run("suction", "sump", "well", [fn.tube(bore="3 mm", length="3 m", name="straw"), fn.displacement_pump("50 cc/rev", speed="3000 rpm", name="second pump")])
    made.run("suction back", "well", "sump", [fn.tube(bore="12 mm", length="2 m")])
    drive = fn.over_time(made, [("2 min", "idle"), ("5 min", "idle")], start="-25 C")
    assert not len(drive)
    for system in SYSTEMS:
        ax = fn.time_picture(drive, marks=["80 C"], units=system)
        assert "Nothing of 7 min was reached" in told(ax) and "no answer from the beginning on" in told(ax)
        assert foreign(texts_of(ax).replace("[min]", ""), system) == [] and covering(ax) == [] and outside(ax) == [] and not ax.lines


def test_a_whole_drive_has_no_ending_and_its_marks_stand_clear_of_lines():
    ax = fn.time_picture(fn.over_time(bench(), [("5 min", "cold start")], every="5 s", start="60 C"), marks=["75 C", "80 C"], units="metric")
    assert "ends at" not in told(ax) and ax.get_xlim()[1] == pytest.approx(300.0 / 60.0)
    renderer = ax.figure._get_renderer()
    numbers = [one for one in ax.texts if one.get_text() in ("75 C", "80 C")]
    paths = [line.get_transform().transform_path(line.get_path()) for line in ax.lines]
    assert len(numbers) == 2 and not any(path.intersects_bbox(one.get_window_extent(renderer), filled=False) for one in numbers for path in paths)


def test_names_of_cases_are_not_struck_through_by_the_grid():
    ax = fn.time_picture(fn.over_time(bench(), [("3 min", "cold start"), ("3 min", "slowly through the village")], every="5 s", start="60 C"))
    grounds = {one.get_text(): one.get_bbox_patch() for one in ax.texts if "begins" not in one.get_text()}
    assert len(grounds) == 2 and all(patch is not None and patch.get_alpha() in (None, 1.0) for patch in grounds.values())


# ---- ladder ----

@pytest.mark.parametrize("names", [("round the cooler", "cooling"), ("transmission cooler and its filter", "lubrication"), ("a", "b")])
@pytest.mark.parametrize("system", SYSTEMS)
def test_names_of_runs_stand_apart(names, system):
    made = fn.Circuit("two ways (invented)", fluid="water", invented=True)
    made.tank("drum", level="1 m")
    made.run("to the fork", "drum", "fork", [fn.hose("-8", "1 m", spec="ptfe")])
    made.run(names[0], "fork", "joint", [fn.orifice("5 mm", name="jet")])
    made.run(names[1], "fork", "joint", [fn.hose("-6", "1 m", spec="ptfe", name=f"hose {number}") for number in range(4)])
    made.run("away", "joint", "ambient", [fn.orifice("6 mm", name="last jet")])
    ax = fn.pressure_ladder(made.solve(), units=system)
    titles = [" ".join(child.get_title(loc="left").split()) for child in ax.child_axes]
    assert names[0][:8] in " ".join(titles) and names[1] in titles
    assert covering(ax) == [] and outside(ax) == []


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("file", ["return_style_e85.toml", "oil_cooler_six.toml"])
def test_words_of_the_ladders_of_the_demonstrations_stand_apart(file, system):
    ax = fn.pressure_ladder(fn.load(str(files("flarenut.demo") / file)).solve(), units=system)
    assert covering(ax) == [] and outside(ax) == []


# ---- sizes, pumps ----

def test_an_arrow_to_what_lies_beyond_points_up_beside_an_upright_number():
    ax = fn.size_picture(fn.line_sizes(fuel("us", "us"), "return hose", specs=["ptfe", "tube"]))
    arrows = [one for one in ax.texts if one.get_text() == "↑"]
    numbers = [one for one in ax.texts if one.get_rotation() == 90.0]
    assert arrows and len(arrows) == len(numbers) and all(one.get_rotation() == 0.0 for one in arrows)
    assert all(float(one.get_text()) > ax.get_ylim()[1] for one in numbers)
    assert covering(ax) == []


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("file, drives", [("return_style_e85.toml", ["10 V", "12 V"]), ("oil_cooler_six.toml", ["1500 rpm"])])
def test_every_mark_lies_on_a_curve_that_is_drawn_and_named(file, drives, system):
    """Also of cases whose volts or speed nobody asked for, in the liquid as warm as the case has it, and of a pump that could push far more than it is asked."""
    lines = fn.pump_and_system(fn.load(str(files("flarenut.demo") / file)), drives=drives)
    ax = fn.pump_picture(lines, units=system)
    said = [one.get_text() for one in ax.texts]
    assert set(drives) <= set(said) and covering(ax) == [] and outside(ax) == []
    curves = [line for line in ax.lines if line.get_label() == "_pump"]
    for case, drive in zip(lines["case"].values, lines["case_drive"].values):
        mark = next(line for line in ax.lines if line.get_label() == f"_{case} works here")
        (x,), (y,) = mark.get_data()
        off = [abs(numpy.interp(y, curve.get_ydata()[::-1], curve.get_xdata()[::-1]) / x - 1.0) for curve in curves]
        assert str(drive) in said and min(off) < 0.02, case
    highest = max(line.get_ydata()[0] for line in ax.lines if line.get_label().endswith("works here"))
    assert highest > 0.2 * ax.get_ylim()[1]


# ---- sweeps ----

def test_limits_are_told_with_their_number_and_apart():
    swept = fn.sweep(fuel("metric", "metric"), {"volts": [12, 13, 14]}, "idle", outputs=["rail.gauge"], units="metric")
    for limits, words in (((3.0, None), ["at least\n3 barg"]), ((None, 4.5), ["at most\n4.5 barg"]), ((3.98, 4.0), ["at least\n3.98 barg", "at most\n4 barg"])):
        ax = sweep_lines(swept, "rail.gauge", limits=limits)
        assert [one.get_text() for one in ax.texts] == words
        assert covering(ax) == [] and outside(ax) == []


def test_values_of_several_are_told_as_a_builder_says_them():
    swept = fn.sweep(fuel("us", "us"), {"return hose.bends": [[90], [90, 90, 45]]}, "idle", outputs=["rail.gauge"])
    assert swept["return hose.bends"].values.tolist() == ["90", "90, 90, 45"]
    ax = sweep_lines(swept, "rail.gauge")
    assert [one.get_text() for one in ax.get_xticklabels()] == ["90", "90, 90, 45"]


def test_a_limit_of_what_no_case_answers_is_not_called_a_plain_number(tmp_path, capsys):
    """A vehicle knows what a reading is measured in by a case with an answer; where none has one, that is said."""
    (tmp_path / "oil.toml").write_text("""[circuit]
name = "oil (invented)"
fluid = "SAE 10W-40"
[tank.sump]
level = "5 in"
temperature = "found"
heat = "3 kW"
[[run]]
name = "round"
from = "sump"
to = "gallery"
parts = [{part = "displacement_pump", displacement = "5 cc/rev", speed = "1000 rpm", name = "pump"}, {part = "tube", bore = "12 mm", length = "2 m", name = "pipe"}]
[[run]]
name = "back"
from = "gallery"
to = "sump"
parts = [{part = "tube", bore = "12 mm", length = "2 m", name = "back pipe"}]
""", encoding="utf-8")
    path = tmp_path / "vehicle.toml"
    path.write_text("""[vehicle]
name = "hot box (invented)"
[circuit.oil]
file = "oil.toml"
[case.idle]
air_temperature = "20 C"
[sweep.x]
vary."oil.pipe.bore" = ["10 mm", "12 mm"]
limits."oil.gallery.temperature" = {most = "120 C"}
outputs = ["oil.gallery.temperature"]
""", encoding="utf-8")
    assert main(["sweep", str(path)]) != 0
    said = " ".join(capsys.readouterr().err.split())
    assert "plain number" not in said and "no case has an answer" in said and "oil.gallery.temperature" in said


def test_a_long_legend_of_the_command_stays_in_the_picture(tmp_path, monkeypatch, capsys):
    source = (files("flarenut.demo") / "return_style_e85.toml").read_text(encoding="utf-8").partition("[sweep.")[0]
    path = tmp_path / "car.toml"
    path.write_text(source + """[sweep.many]
vary.volts = [11, 12, 13]
vary."return hose.size" = ["-4", "-6", "-8"]
vary."feed hose.length" = ["1 m", "5 m"]
outputs = "rail.gauge"
""", encoding="utf-8")
    kept = []
    monkeypatch.setattr(matplotlib.figure.Figure, "savefig", lambda figure, to, **_: (kept.append(figure), to.write_bytes(b"picture")))
    assert main(["sweep", str(path), "--out", str(tmp_path / "many.png")]) == 0
    (figure,) = kept
    figure.draw_without_rendering()
    (legend,) = figure.legends
    box = legend.get_window_extent(figure._get_renderer())
    assert len(legend.get_texts()) == 12 and box.x0 >= 0 and box.x1 <= figure.bbox.width and box.y0 >= 0 and box.height < 0.5 * figure.bbox.height
