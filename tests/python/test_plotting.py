"""The pressure ladder: what is drawn is what was solved, every mark is labelled, nothing leaks into global style."""

from importlib.resources import files
from itertools import combinations

import matplotlib
import numpy as np
import pytest

matplotlib.use("Agg")

import flarenut as fn  # noqa: E402
from flarenut.circuit.file import read  # noqa: E402
from flarenut.plotting.palette import COLOURS, style  # noqa: E402


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
    looks = [style(number) for number in range(len(COLOURS))]
    assert len({(str(look["linestyle"]), look["marker"]) for look in looks}) == len(looks)
