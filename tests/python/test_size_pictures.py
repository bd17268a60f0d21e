"""Pictures of sizes beyond a return line: what stands at rail and pump for a feed, and several specifications beside each other."""

import json
from importlib.resources import files
from itertools import combinations
from pathlib import Path

import matplotlib
import numpy as np
import pytest

matplotlib.use("Agg")
pytest.importorskip("xarray", reason="these pictures are of labelled answers")

import flarenut as fn  # noqa: E402
from flarenut.checks import Limits  # noqa: E402

PSI, INHG, FOOT = 6894.757293168361, 3386.389, 0.3048  # inHg: conventional millimetre of mercury, 133.322 Pa
OIL = Path(__file__).resolve().parents[2] / "docs/guide/examples/oil_cooler.toml"


def demo():
    return fn.load(str(files("flarenut").joinpath("demo/return_style_e85.toml")))


def rail_pump():
    """A pump on the frame rail, which has to draw through a line."""
    car = fn.Circuit("frame-rail pump (invented)", fluid="gasoline class A")
    car.tank("cell", level="4 in")
    car.run("suction", "cell", "pump in", [fn.strainer("0.3 psi at 100 gph"), fn.hose("-8", "6 ft", spec="ptfe", bends=[90, 90], name="suction hose")])
    car.run("feed", "pump in", "rail", [fn.formula_pump("95 psi", "420 L/h", through="65 psi at 230 L/h", name="pump"),
                                        fn.hose("-8", "9 ft", spec="ptfe", name="feed hose")])
    car.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="manifold", wide_open="30 psi at 400 L/h", name="regulator"),
                                       fn.hose("-8", "12 ft", spec="ptfe")])
    car.injectors("bank", "rail", count=6, flow="550 cc/min at 3 bar")
    car.fuel_cases(hot="40 C")
    return car


@pytest.fixture(scope="module")
def suction():
    return fn.line_sizes(rail_pump(), "suction hose")


@pytest.fixture(scope="module")
def several():
    return fn.line_sizes(demo(), "return hose", specs=["ptfe", "full-size", "tube"])


def titles(ax):
    return [panel.get_title(loc="left") for panel in ax.child_axes]


def drawn(panel):
    return next(line.get_ydata() for line in panel.get_lines() if len(line.get_xdata()) > 2)


def test_a_line_to_a_pump_shows_vacuum_margin_degrees_and_velocity_of_single_solves(suction):
    ax = fn.size_picture(suction)
    assert [title.split(" [")[0] for title in titles(ax)] == ["pump inlet vacuum", "suction margin", "suction side, degrees to boiling",
                                                             "velocity in the line"]
    assert [title.split("[")[1].split("]")[0] for title in titles(ax)] == ["inHg", "psi", "F", "ft/s"]
    names = [label.get_text() for label in ax.child_axes[-1].get_xticklabels()]
    for size in ("-6", "-10"):
        car = rail_pump()
        car.change("suction hose", size=size)
        answer, place = car.solve(), names.index(size) - 1  # a -3 has no answer, and no point
        pump = [case.part("pump").suction for case in answer.values()]
        heights = [drawn(panel)[place] for panel in ax.child_axes]
        assert heights[0] == pytest.approx(max(one.vacuum.si for one in pump) / INHG, rel=1e-5)
        assert heights[1] == pytest.approx(min(one.margin.si for one in pump) / PSI, rel=1e-6)  # the hot one
        assert heights[3] == pytest.approx(max(case.part("suction hose").velocity.si for case in answer.values()) / FOOT, rel=1e-6)
        assert heights[2] == pytest.approx(suction.row(size).cells["degrees_to_boiling"].value.si * 1.8, rel=1e-6)
    assert "No answer with -3" in ax.texts[0].get_text().replace("\n", " ")


def test_a_feed_shows_pressure_loss_and_velocity_with_what_is_left():
    table = fn.line_sizes(demo(), "feed hose")
    ax, best = fn.size_picture(table, units="metric"), table.smallest()
    assert [title.split(" · ")[0] for title in titles(ax)] == ["rail pressure [barg]", "lost in the line [bar]", "velocity in the line [m/s]"]
    names = [label.get_text() for label in ax.child_axes[-1].get_xticklabels()]
    car = demo()
    car.change("feed hose", size="-6")
    assert drawn(ax.child_axes[0])[names.index("-6")] == pytest.approx(car.solve()["full power"].at("rail").gauge.to("bar"), rel=1e-6)
    left = best.cells["pressure"].margin.to("bar")
    assert f"{left:.3f} bar left at {best.size}" in titles(ax)[0] and "in full power" in titles(ax)[0] and "at least 3.5" in titles(ax)[0]
    note = ax.texts[0].get_text().replace("\n", " ")
    assert f"Smallest size that passes all else: {best.size}" in note
    assert "Rise over setting and return back-pressure do not depend on this size: look elsewhere" in note
    bold = [label.get_text() for label in ax.child_axes[-1].get_xticklabels() if label.get_fontweight() == "bold"]
    assert bold == [best.size]
    for panel in ax.child_axes:
        (band,) = [patch for patch in panel.patches if patch.get_width() < 1.0]
        assert band.get_x() < names.index(best.size) < band.get_x() + band.get_width()


def test_a_circuit_without_a_regulator_has_its_picture_too():
    ax = fn.size_picture(fn.line_sizes(fn.load(str(OIL)), "hose to cooler", ["-10", "-12"]))
    assert "velocity in the line [m/s]" in titles(ax)[-1] and "lost in the line" in titles(ax)[-2]


def test_each_specification_has_its_line_and_its_smallest_and_one_is_the_smallest_of_all(several):
    ax, data = fn.size_picture(several), several.to_dataset()
    each, best = json.loads(data.attrs["smallest_of_each"]), data.attrs["smallest"]
    assert each == {spec: f"{several.smallest(spec).size} {spec}" for spec in several.specs} and best in each.values()
    names = [label.get_text() for label in ax.get_xticklabels()]
    bands = {int(round(patch.get_x() + 0.32)): patch.get_alpha() for patch in ax.patches if patch.get_width() < 1.0}
    assert sorted(bands) == sorted(names.index(name) for name in each.values())
    assert [alpha for place, alpha in bands.items() if place == names.index(best)][0] == max(bands.values()) > sorted(bands.values())[-2]
    told = [" ".join(text.get_text().split()) for text in ax.get_legend().get_texts()]
    assert set(several.specs) <= set(told) and {"smallest bore of all", "smallest of each other specification"} <= set(told)
    note = ax.texts[0] if "Smallest" in ax.texts[0].get_text() else next(text for text in ax.texts if "Smallest" in text.get_text())
    said = note.get_text().replace("-\n", "-").replace("\n", " ")
    assert f"Smallest bore that passes all else: {best}, " in said and said.endswith(f"Of each: {', '.join(each.values())}")
    for line in [line for line in ax.get_lines() if len(line.get_xdata()) > 2]:  # a line joins sizes of one specification alone
        assert len({several.to_dataset().sortby("bore")["specification"].values[int(place)] for place in line.get_xdata()}) == 1


def test_a_specification_none_of_whose_sizes_passes_is_told_of():
    limits = Limits(return_rise_injection="0.8 psi", regulator_creep="6 psi")  # between a -8 hose and the wider tube of that dash
    ax = fn.size_picture(fn.line_sizes(demo(), "return hose", ["-8"], ["ptfe", "tube"], limits=limits))
    note = next(text for one in ax.texts if "Of each" in (text := one.get_text().replace("\n", " ")))
    assert "Smallest bore that passes: 1/2 in x 0.035 in tube" in note and note.endswith("Of each: none of ptfe, 1/2 in x 0.035 in tube")


@pytest.mark.parametrize("make, line, specs", [(rail_pump, "suction hose", ["ptfe", "tube"]), (rail_pump, "suction hose", None), (demo, "feed hose", None)])
def test_names_of_panels_stand_apart_and_inside(make, line, specs):
    car = make()
    car.cases = {f"{name} after a long heat soak in the pits": case for name, case in car.cases.items()}
    for name, case in car.cases.items():
        case.name = name
    ax = fn.size_picture(fn.line_sizes(car, line, specs=specs))
    ax.figure.savefig("/dev/null", format="png")
    words = [*ax.texts, ax._left_title, *(panel._left_title for panel in ax.child_axes), ax.child_axes[-1].xaxis.label, *ax.get_legend().get_texts()]
    boxes = [(text.get_text(), text.get_window_extent()) for text in words if text.get_text()]
    frame = ax.figure.bbox
    for text, box in boxes:
        assert box.x0 >= frame.x0 - 1 and box.x1 <= frame.x1 + 1 and box.y0 >= frame.y0 - 1 and box.y1 <= frame.y1 + 1, text
    for (one, box), (other, beside) in combinations(boxes, 2):
        over = min(box.x1, beside.x1) - max(box.x0, beside.x0), min(box.y1, beside.y1) - max(box.y0, beside.y0)
        assert min(over) < 2.5, (one, other)


def test_a_table_with_nothing_to_draw_is_refused(suction):
    data = suction.to_dataset()
    bare = data.drop_vars([name for name in data.data_vars if str(name).split()[0] in ("inlet_vacuum", "suction_margin", "degrees_to_boiling", "velocity")])
    with pytest.raises(ValueError, match="none of pressure, velocity, back-pressure or suction margin"):
        fn.size_picture(bare)


def test_limits_that_go_by_the_case_are_drawn_size_by_size(suction):
    panel = fn.size_picture(suction).child_axes[1]
    data = suction.to_dataset().sortby("bore")
    wanted = data["suction_margin limit"].values / PSI
    (limit,) = [line for line in panel.get_lines() if line.get_label().startswith("its limit")]
    assert list(limit.get_ydata()) == pytest.approx(list(wanted[np.isfinite(wanted)])) and np.ptp(limit.get_ydata()) > 0.1
