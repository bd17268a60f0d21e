"""Words of time and size pictures, read back by their extents as drawn: none covers another, none leaves the picture."""

import re

import matplotlib
import numpy
import pytest

matplotlib.use("Agg")

from matplotlib.figure import Figure  # noqa: E402
from matplotlib.transforms import Affine2D  # noqa: E402

import flarenut as fn  # noqa: E402

xarray = pytest.importorskip("xarray", reason="pictures of studies read Datasets")

from flarenut.plotting.sweep_lines import sweep_lines  # noqa: E402


def corners(text, renderer):
    """Corners of words as they stand, leaning ones too [pixels]."""
    lean = text.get_rotation()
    text.set_rotation(0.0 if lean % 90.0 else lean)
    box = text.get_window_extent(renderer)
    text.set_rotation(lean)
    found = numpy.array([[box.x0, box.y0], [box.x1, box.y0], [box.x1, box.y1], [box.x0, box.y1]])
    if lean % 90.0 == 0.0:
        return found
    assert text.get_rotation_mode() == "anchor"
    x, y = text.get_transform().transform(text.get_unitless_position())
    return Affine2D().rotate_deg_around(x, y, lean).transform(found)


def covers(one, other):
    """Whether two convex shapes overlap by more than a pixel."""
    for shape in (one, other):
        for edge in numpy.roll(shape, -1, axis=0) - shape:
            normal = numpy.array([-edge[1], edge[0]]) / max(numpy.hypot(*edge), 1e-9)
            a, b = one @ normal, other @ normal
            if a.max() - 1.0 <= b.min() or b.max() - 1.0 <= a.min():
                return False
    return True


def words_of(axes):
    """Every text of Axes and of those inside of them that is seen."""
    legend = axes.get_legend()
    found = [*axes.texts, axes.title, axes._left_title, axes._right_title, *(legend.get_texts() if legend else [])]
    if axes.axison:
        for axis in (axes.xaxis, axes.yaxis):
            low, high = sorted(axis.get_view_interval())
            found += [axis.label, *(tick.label1 for tick in axis.get_major_ticks() if low - 1e-9 <= tick.get_loc() <= high + 1e-9)]
    return [one for one in found if one.get_visible() and one.get_text().strip()] + [one for child in axes.child_axes for one in words_of(child)]


def covering(axes):
    """Pairs of words that cover each other."""
    figure = axes.get_figure(root=True)
    figure.draw_without_rendering()
    renderer = figure._get_renderer()
    shown = [(one.get_text(), corners(one, renderer)) for ax in figure.axes for one in words_of(ax)]
    return [(name, other) for number, (name, shape) in enumerate(shown) for other, its in shown[number + 1:] if covers(shape, its)]


# ---- over time ----

def bench(seconds_apart=0.0):
    """Invented: oil through two thermostats, that open together or some degrees apart."""
    made = fn.Circuit("bench (invented)", fluid="SAE 10W-40", invented=True, units="metric")
    made.tank("sump", level="5 in", temperature="found", heat="2 kW", heat_loss="20 W/K", heat_capacity="10 kJ/K")
    made.run("round", "sump", "gallery", [fn.displacement_pump("10 cc/rev", speed="2000 rpm", name="pump"), fn.tube(bore="14 mm", length="1 m", name="pipe")])
    opens = 75.0 + seconds_apart
    made.run("first way", "gallery", "sump", [fn.thermostat("75 C", "85 C", bore="12 mm", name="thermostat of the first cooler")])
    made.run("second way", "gallery", "sump", [fn.thermostat(f"{opens} C", f"{opens + 10} C", bore="12 mm", name="thermostat of the second cooler")])
    made.run("always", "gallery", "sump", [fn.orifice("4 mm", name="jet")])
    for name in ("cold start", "slowly through the village", "up the long hill with a trailer"):
        made.case(name, air_temperature="20 C")
    return made


DRIVES = {"even": [("5 min", "cold start"), ("5 min", "slowly through the village"), ("5 min", "up the long hill with a trailer")],
          "narrow": [("20 s", "cold start"), ("30 s", "slowly through the village"), ("14 min", "up the long hill with a trailer"), ("15 s", "cold start")],
          "many": [(f"{20 + 30 * (number % 3)} s", name) for number, name in enumerate(["cold start", "slowly through the village"] * 8)]}


@pytest.mark.parametrize("drive", DRIVES)
@pytest.mark.parametrize("apart", [0.0, 1.0])
@pytest.mark.parametrize("size", [None, (6.0, 4.0)])
def test_no_words_of_a_time_picture_cover_each_other(drive, apart, size):
    found = fn.over_time(bench(apart), DRIVES[drive], every="5 s", start="60 C")
    ax = None if size is None else Figure(figsize=size, layout="constrained").subplots()
    ax = fn.time_picture(found, marks=["80 C"], ax=ax)
    assert covering(ax) == []
    told = " ".join(" ".join(one.get_text().split()) for one in words_of(ax))
    for _, case in DRIVES[drive]:
        assert case[:10] in told  # above its band, or below as too short for that
    assert "begins to open" in told


def test_names_of_cases_stand_over_the_lines():
    ax = fn.time_picture(fn.over_time(bench(), DRIVES["narrow"], every="5 s", start="60 C"))
    ax.figure.draw_without_rendering()
    renderer = ax.figure._get_renderer()
    names = [one.get_window_extent(renderer) for one in ax.texts if one.get_visible() and "begins" not in one.get_text()]
    tops = [ax.transData.transform((0.0, line.get_ydata().max()))[1] for line in ax.lines if len(line.get_ydata()) > 2]
    assert names and min(box.y0 for box in names) > max(tops)


# ---- sizes ----

def fuel():
    """Invented."""
    car = fn.Circuit("return (invented)", fluid="E10", invented=True)
    car.tank("tank", level="6 in", height="-4 in")
    car.junction("rail", height="24 in")
    car.run("feed", "tank", "rail", [fn.formula_pump("110 psi", "140 gph", through="58 psi at 75 gph", name="pump"),
                                     fn.hose("-6", "14 ft", spec="ptfe", name="feed hose")])
    car.run("return", "rail", "tank", [fn.bypass_regulator("58 psi", reference="manifold", wide_open="30 psi at 120 gph", name="regulator"),
                                       fn.hose("-6", "14 ft", spec="ptfe", name="return hose")])
    car.injectors("bank", "rail", count=4, flow="650 cc/min at 3 bar")
    car.case("idle", volts=13.5, duty=0.03)
    car.case("full power", volts=13.5, duty=0.85)
    return car


@pytest.mark.parametrize("line, specs", [("return hose", ["ptfe"]), ("return hose", ["ptfe", "tube", "full-size"]), ("feed hose", ["ptfe"]),
                                         ("feed hose", ["ptfe", "tube", "metric tube"])])
@pytest.mark.parametrize("size", [None, (12.0, 7.0)])
def test_no_words_of_a_size_picture_cover_each_other(line, specs, size):
    table = fn.line_sizes(fuel(), line, specs=specs)
    ax = None if size is None else Figure(figsize=size, layout="constrained").subplots()
    assert covering(fn.size_picture(table, ax=ax)) == []


# ---- sweeps ----

PUMPS = {"small": fn.formula_pump("90 psi", "90 gph", through="58 psi at 40 gph"), "big": fn.formula_pump("120 psi", "200 gph", through="58 psi at 110 gph")}


def test_what_has_no_order_has_marks_that_no_line_joins():
    swept = fn.sweep(fuel(), {"pump": PUMPS, "volts": [12, 13.5]}, outputs=["rail.gauge"], units="us")
    ax = sweep_lines(swept, "rail.gauge")
    drawn = [line for line in ax.lines if len(line.get_xdata())]
    assert drawn and all(line.get_linestyle() in ("None", "") and line.get_marker() not in ("", "None") for line in drawn)
    looks = {(line.get_color(), line.get_marker()) for line in drawn}
    across = [tuple(numpy.round(line.get_xdata(), 6)) for line in drawn]
    assert len(looks) == len(drawn) == len(set(across))  # told apart by colour and mark, and beside each other
    assert all(abs(x - round(x)) < 0.45 for places in across for x in places)
    for line, name in zip(drawn, [(volts, case) for volts in range(2) for case in range(2)], strict=True):
        assert line.get_ydata() == pytest.approx(swept["rail.gauge"].isel(volts=name[0], case=name[1]).values)


def test_sizes_have_an_order_and_lines():
    ax = sweep_lines(fn.sweep(fuel(), {"return hose.size": ["-4", "-6", "-8"]}, outputs=["rail.gauge"], units="us"), "rail.gauge")
    assert all(line.get_linestyle() != "None" for line in ax.lines)


def test_points_without_an_answer_are_counted_above_with_their_reason():
    with pytest.warns(fn.SweepWarning):
        swept = fn.sweep(fuel(), {"fluid_temperature": ["20 C", "40 C", "250 C"]}, "idle", ["rail.gauge"], units="metric")
    told = " ".join(sweep_lines(swept, "rail.gauge").get_title(loc="left").split())
    assert re.search(r"1 of 3 points has no answer and is not drawn: .*250 C is above 120 C", told) and "F (" not in told
    whole = fn.sweep(fuel(), {"fluid_temperature": ["20 C", "40 C"]}, "idle", ["rail.gauge"], units="metric")
    assert "no answer" not in sweep_lines(whole, "rail.gauge").get_title(loc="left")
