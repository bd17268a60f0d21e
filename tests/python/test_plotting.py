"""The pressure ladder: what is drawn is what was solved, every mark is labelled, nothing leaks into global style."""

import matplotlib
import pytest

matplotlib.use("Agg")

import flarenut as fn  # noqa: E402
from flarenut.circuit.file import read  # noqa: E402
from importlib.resources import files  # noqa: E402


@pytest.fixture(scope="module")
def answer():
    return read(files("flarenut").joinpath("demo/return_style_e85.toml").read_text(), "demo").circuit.solve()


@pytest.mark.parametrize("units, unit", [("us", "psi"), ("metric", "bar")])
def test_the_ladder_draws_the_pressures_of_the_answer(answer, units, unit):
    ax = fn.pressure_ladder(answer, units=units)
    lines = {line.get_label(): line for line in ax.get_lines() if not line.get_label().startswith("_")}
    assert list(lines) == list(answer)
    for case, line in lines.items():
        drawn = line.get_ydata()
        feed = answer.layout.runs["feed"]
        assert len(drawn) == len(feed) + 1
        ends = [answer[case].part(feed[0]).inlet, *(answer[case].part(part).outlet for part in feed)]
        for height, end in zip(drawn, ends):
            total = end.total.si - answer[case].ambient.si
            assert height == pytest.approx(total / {"psi": 6894.757293168361, "bar": 1e5}[unit], rel=1e-9, abs=1e-9)
    assert f"[{unit}]" in ax.get_ylabel()
    assert "invented" in ax.get_title()


def test_names_under_the_axis_do_not_overlap(answer):
    ax = fn.pressure_ladder(answer)
    ax.figure.savefig("/dev/null", format="png")
    boxes = [label.get_window_extent() for label in ax.get_xticklabels()]
    anchors = [box.x1 for box in boxes]
    assert all(b - a > 12 for a, b in zip(anchors, anchors[1:]))  # pixels between the ends of slanted names
    assert all(label.get_text() for label in ax.get_xticklabels())


def test_it_draws_on_the_axes_it_is_given_and_on_one_case(answer):
    from matplotlib.figure import Figure

    before = dict(matplotlib.rcParams)
    ax = Figure().subplots()
    assert fn.pressure_ladder(answer["idle"], runs="return", ax=ax) is ax
    assert len(ax.get_legend().get_texts()) == 1
    assert dict(matplotlib.rcParams) == before


def test_what_cannot_be_drawn_is_refused(answer):
    with pytest.raises(ValueError, match="no run 'retrun'; the runs are feed, return"):
        fn.pressure_ladder(answer, runs=["retrun"])
