"""The pressure ladder: what is drawn is what was solved, every mark is labelled, nothing leaks into global style."""

from importlib.resources import files
from itertools import combinations
from pathlib import Path

import matplotlib
import numpy as np
import pytest

matplotlib.use("Agg")

import flarenut as fn  # noqa: E402
from flarenut.circuit.file import read  # noqa: E402
from flarenut.plotting.palette import COLOURS, style  # noqa: E402
from flarenut.results import Answer  # noqa: E402


EXAMPLES = Path(__file__).resolve().parents[2] / "docs" / "guide" / "examples"


@pytest.fixture(scope="module")
def answer():
    return read(files("flarenut").joinpath("demo/return_style_e85.toml").read_text(), "demo").circuit.solve()


def panels(ax):
    """(stretches, rankings) of a ladder."""
    stretches = [panel for panel in ax.child_axes if panel.get_lines() and panel.get_lines()[0].get_xdata()[0] == 0 and "share" not in panel.get_xlabel()]
    return stretches, [panel for panel in ax.child_axes if "share" in panel.get_xlabel()]


def lines_of(panel):
    return {line.get_label(): line for line in panel.get_lines() if not line.get_label().startswith("_")}


@pytest.mark.parametrize("units, unit", [("us", "psi"), ("metric", "bar")])
def test_the_ladder_draws_the_pressures_of_the_answer(answer, units, unit):
    ax = fn.pressure_ladder(answer, units=units)
    stretches, _ = panels(ax)
    runs = answer.layout.runs
    expected = [runs["feed"][:1], runs["feed"][2:], runs["return"][1:]]  # parted at the pump and at the regulator
    assert len(stretches) == len(expected)
    for panel, parts in zip(stretches, expected):
        assert [label.get_text() for label in panel.get_xticklabels()] == parts
        assert list(lines_of(panel)) == list(answer)
        for case, line in lines_of(panel).items():
            ends = [answer[case].part(parts[0]).inlet, *(answer[case].part(part).outlet for part in parts)]
            for height, end in zip(line.get_ydata(), ends, strict=True):
                total = end.total.si - answer[case].ambient.si
                assert height == pytest.approx(total / {"psi": 6894.757293168361, "bar": 1e5}[unit], rel=1e-9, abs=1e-9)
    words = " ".join(text.get_text() for text in ax.texts)
    assert f"total pressure above ambient [{unit}]" == stretches[0].get_ylabel() and "a gauge reads less" in words
    assert "pump\n" in words and "regulator\n" in words and unit in words
    assert "invented" in ax.get_title()


def test_the_return_has_a_scale_of_its_own(answer):
    *_, back = panels(fn.pressure_ladder(answer))[0]
    drawn = [height for line in lines_of(back).values() for height in line.get_ydata()]
    low, high = back.get_ylim()
    assert max(drawn) - min(drawn) > 0.7 * (high - low)


def test_the_shares_are_ranked_and_are_those_of_the_answer(answer):
    _, rankings = panels(fn.pressure_ladder(answer))
    for panel, run in zip(rankings, ("feed", "return"), strict=True):
        names = [label.get_text() for label in panel.get_yticklabels()]
        losses = {part: max(one.loss.si for case in answer.values() for one in case.losses(run).shares if one.part == part) for part in names}
        assert list(losses.values()) == sorted(losses.values(), reverse=True)
        marks = [(line.get_xdata()[0], line.get_ydata()[0]) for line in panel.get_lines() if line.get_linestyle() == "None"]
        for case in answer.values():
            for one in case.losses(run).shares:
                assert any(x == pytest.approx(100 * one.share) and names[y] == one.part for x, y in marks)


def test_a_pump_that_ends_its_run_stands_between_that_run_and_the_next():
    shown = fn.load(str(EXAMPLES / "oil_cooler.toml")).solve()
    ax = fn.pressure_ladder(shown)
    stretches, rankings = panels(ax)
    assert [panel.get_title(loc="left") for panel in stretches] == list(shown.layout.runs)
    assert any(text.get_text().startswith("oil pump\n+") for text in ax.texts)
    (ranking,) = rankings
    names = [label.get_text() for label in ranking.get_yticklabels()]
    assert names[0] == "engine" and "oil pump" not in names and "relief valve" not in names  # neither is on the way as a loss


def eighteen(cases):
    """An invented circuit of eighteen parts, solved."""
    car = fn.Circuit("eighteen", fluid="E85", invented=True)
    car.tank("cell", level="8 in")
    elbow = {"size": "-8", "angle": 90, "form": "forged"}
    car.run("feed", "cell", "rail", [fn.strainer(drop="0.3 psi at 100 gph", name="pump sock"), fn.formula_pump(
        dead_head="95 psi", free_flow="150 gph", through="60 psi at 85 gph", name="pump"), fn.elbow(**elbow), fn.hose("-8", "4 ft", spec="ptfe"),
        fn.filter(drop="1.2 psi at 100 gph", name="main fuel filter ten micron"), fn.elbow(**elbow), fn.hose("-8", "9 ft", spec="ptfe"),
        fn.elbow(**elbow), fn.hose("-8", "2 ft", spec="ptfe"), fn.strainer(drop="0.4 psi at 100 gph", name="last chance screen"), fn.elbow(**elbow)])
    car.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient", wide_open="30 psi at 400 L/h", name="regulator"), fn.elbow(**elbow),
                                       fn.hose("-6", "9 ft", spec="ptfe"), fn.elbow(**elbow), fn.hose("-6", "3 ft", spec="ptfe"), fn.elbow(**elbow),
                                       fn.opening("-6", name="return port")])
    for number in range(cases):
        car.case(f"condition {number + 1:02d}{' of them all' if cases > 5 else ''}", fluid_temperature=f"{5 * number} C")
    return car.solve()


@pytest.mark.parametrize("cases", [0, 1, 5])
def test_words_do_not_overlap_nor_leave_the_picture(answer, cases):
    from matplotlib.figure import Figure

    shown = eighteen(cases) if cases else answer
    figure = Figure(figsize=(10, 6), layout="constrained")
    ax = fn.pressure_ladder(shown, ax=figure.subplots())
    figure.savefig("/dev/null", format="png")
    stretches, rankings = panels(ax)
    names = [label for panel in stretches for label in panel.get_xticklabels()]
    ends = [label.get_window_extent().x1 for label in names]
    assert all(label.get_text() for label in names)
    assert all(b - a > 12 for a, b in zip(ends, ends[1:]))  # pixels between the ends of slanted names
    assert min(label.get_window_extent().y0 for label in names) > max(panel.get_window_extent().y1 for panel in rankings)
    frame = figure.bbox
    for text in [*names, *ax.texts, *(text for panel in rankings for text in (*panel.texts, *panel.get_yticklabels()))]:
        box = text.get_window_extent()
        assert box.x0 >= frame.x0 - 1 and box.x1 <= frame.x1 + 1 and box.y0 >= frame.y0 - 1 and box.y1 <= frame.y1 + 1, text.get_text()
    left, right = rankings
    assert max(text.get_window_extent().x1 for text in left.texts) < min(label.get_window_extent().x0 for label in right.get_yticklabels())


@pytest.mark.parametrize("cases, size", [(8, (10, 6)), (20, (10, 6)), (8, (6.4, 4.8))])
def test_many_cases_of_long_names_take_no_width_from_the_plot(cases, size):
    from matplotlib.figure import Figure

    def width(ax):
        ax.figure.savefig("/dev/null", format="png")
        stretches, _ = panels(ax)
        return stretches[-1].get_window_extent().x1 - stretches[0].get_window_extent().x0

    alone, ax = (fn.pressure_ladder(eighteen(number), ax=Figure(figsize=size, layout="constrained").subplots()) for number in (1, cases))
    figure, (stretches, _) = ax.figure, panels(ax)
    assert width(ax) > 0.97 * width(alone)
    legend, frame = ax.get_legend().get_window_extent(), figure.bbox
    (below,) = (text.get_window_extent().y0 for text in ax.texts if "gauge" in text.get_text())
    assert legend.x0 >= frame.x0 and legend.x1 <= frame.x1 + 1 and legend.y1 <= below + 1
    for panel in stretches:
        title = panel._left_title.get_window_extent()
        assert panel.get_window_extent().height > 0.1 * frame.height
        assert not (panel.get_title(loc="left") and title.overlaps(legend)), panel.get_title(loc="left")
    assert len(ax.get_legend().get_texts()) == cases


def test_it_draws_on_the_axes_it_is_given_and_on_one_case(answer):
    from matplotlib.figure import Figure

    before = dict(matplotlib.rcParams)
    ax = Figure().subplots()
    assert fn.pressure_ladder(answer["idle"], runs="return", ax=ax) is ax
    assert len(ax.get_legend().get_texts()) == 1
    assert dict(matplotlib.rcParams) == before


class Unsolved:
    """The engine's answer to a case, as if it had none."""

    converged = False

    def __init__(self, solution):
        self._solution = solution

    def __getattr__(self, name):
        return getattr(self._solution, name)


@pytest.mark.parametrize("count, told", [(1, ["idle: not solved"]), (3, ["a: not solved", "b: not solved", "c: not solved"]), (4, ["4 more cases: not solved"])])
def test_a_case_without_an_answer_is_named_in_the_legend(answer, count, told):
    solution, lost = answer["full power"].solution, ["idle"] if count == 1 else list("abcd")[:count]
    some = Answer(answer.layout, {**{name: Unsolved(solution) for name in lost}, "full power": solution})
    ax = fn.pressure_ladder(some)
    assert [text.get_text() for text in ax.get_legend().get_texts()] == ["full power", *told]
    handles = ax.get_legend().legend_handles
    assert handles[0].get_linestyle() != "None" and all(one.get_linestyle() == "None" and one.get_marker() == "" for one in handles[1:])


def test_what_cannot_be_drawn_is_refused(answer):
    with pytest.raises(ValueError, match="no run 'retrun'; the runs are feed, return"):
        fn.pressure_ladder(answer, runs=["retrun"])
    with pytest.raises(ValueError, match="'units' is 'imperial': write 'us' or 'metric'"):
        fn.pressure_ladder(answer, units="imperial")


# Machado, Oliveira and Fernandes 2009, severity 1.0; from memory
COLOUR_BLIND = {
    "sees all": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "protan": ((0.152286, 1.052583, -0.204868), (0.114503, 0.786281, 0.099216), (-0.003882, -0.048116, 1.051998)),
    "deutan": ((0.367322, 0.860646, -0.227968), (0.280085, 0.672501, 0.047413), (-0.011820, 0.042940, 0.968881)),
    "tritan": ((1.255528, -0.076749, -0.178779), (-0.078411, 0.930809, 0.147602), (0.004733, 0.691367, 0.303900)),
}


def lab(colour, eye):
    """CIELAB of a hex colour as that eye sees it (IEC 61966-2-1 and CIE 1976; from memory)."""
    encoded = np.array([int(colour[i:i + 2], 16) / 255 for i in (1, 3, 5)])
    linear = np.where(encoded <= 0.04045, encoded / 12.92, ((encoded + 0.055) / 1.055) ** 2.4)
    seen = np.clip(np.array(COLOUR_BLIND[eye]) @ linear, 0, 1)
    to_xyz = np.array([[0.4124564, 0.3575761, 0.1804375], [0.2126729, 0.7151522, 0.0721750], [0.0193339, 0.1191920, 0.9503041]])
    ratio = to_xyz @ seen / np.array([0.95047, 1.0, 1.08883])
    f = np.where(ratio > 0.008856, np.cbrt(ratio), 7.787 * ratio + 16 / 116)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


@pytest.mark.parametrize("eye", COLOUR_BLIND)
def test_colours_stay_apart_for_every_eye(eye):
    """A CIELAB distance of 10 is told apart side by side without effort (common practice, no source)."""
    for one, other in combinations(COLOURS, 2):
        assert np.linalg.norm(lab(one, eye) - lab(other, eye)) > 12, (one, other)


def test_no_two_cases_differ_by_colour_alone():
    looks = [style(number) for number in range(36)]
    assert {look["color"] for look in looks[:6]} == set(COLOURS)
    assert len({(str(look["linestyle"]), look["marker"]) for look in looks}) == len(looks)
    assert len({(str(look["linestyle"]), look["color"]) for look in looks}) == len(looks)  # of lines too short for a marker


def test_a_colour_that_comes_again_has_another_dash_and_another_marker():
    looks = [style(number) for number in range(len(COLOURS) ** 2)]
    for number, look in enumerate(looks[len(COLOURS):], len(COLOURS)):
        before = looks[number - len(COLOURS)]
        assert look["color"] == before["color"] and look["linestyle"] != before["linestyle"] and look["marker"] != before["marker"]
    assert len({(look["color"], look["linestyle"]) for look in looks}) == len({(look["linestyle"], look["marker"]) for look in looks}) == len(looks)


@pytest.mark.parametrize("name", ["demo/oil_cooler_six.toml", "coolant.toml"])
def test_many_runs_stand_in_rows_and_no_word_covers_another(name):
    """An oil circuit has more runs than one row holds: the figure grows, every run has its title, and titles, names and scales keep apart."""
    root = Path(__file__).resolve().parents[2]
    circuit = fn.load(root / "python" / "flarenut" / name if "/" in name else root / "docs" / "guide" / "examples" / name)
    ax = fn.pressure_ladder(circuit.solve(), units="metric")
    assert ax.figure.get_figheight() > 6.0
    ax.figure.savefig("/dev/null", format="png")
    stretches, rankings = panels(ax)
    titles = [panel._left_title for panel in stretches if panel.get_title(loc="left")]
    assert [title.get_text().replace("\n", " ") for title in titles] == list(circuit.runs)
    assert len({round(panel.get_position().y0, 3) for panel in stretches}) > 1
    frame = ax.figure.bbox
    upright = [*titles, *(label for panel in stretches for label in panel.get_yticklabels() if label.get_text()), *rankings[0].get_yticklabels()]
    boxes = [text.get_window_extent() for text in upright]
    for box in boxes:
        assert box.x0 >= frame.x0 - 1 and box.x1 <= frame.x1 + 1 and box.y0 >= frame.y0 - 1 and box.y1 <= frame.y1 + 1
    for title, box in zip(titles, boxes):
        assert not any(box.overlaps(other.get_window_extent()) for other in titles if other is not title), title.get_text()
    by_row = {}
    for panel in stretches:
        by_row.setdefault(round(panel.get_position().y0, 3), []).extend(label.get_window_extent().x1 for label in panel.get_xticklabels())
    assert all(b - a > 12 for ends in by_row.values() for a, b in zip(ends, ends[1:]))  # pixels between the ends of slanted names
    lowest = min(label.get_window_extent().y0 for panel in stretches for label in panel.get_xticklabels())
    assert lowest > max(panel.get_window_extent().y1 for panel in rankings)
