"""A relief valve just under its setting: the rounded corner of its opening, worked by hand, and what the table of devices calls it."""

from math import pi, sqrt

import flarenut as fn
import pytest

BAND = 0.5e5


def oil(bands, width="1 bar at 40 L/min"):
    """A relief held so many bands over its setting of 4 bar, in oil of 850 kg/m3."""
    circuit = fn.Circuit("relief (invented)", fluid=fn.constant_fluid("850 kg/m3", "5 cP"), units="metric")
    circuit.fixed("main", f"{4e5 + bands * BAND} Pa")
    circuit.run("spill", "main", "ambient", [fn.relief_valve("4 bar", wide_open=width, override="0.5 bar", name="relief")])
    return circuit.solve()


def opening(x):
    """As the page of the part has it."""
    lifted = 0.5 * (x + sqrt(x * x + 0.02**2))
    return lifted / sqrt(1.0 + lifted**2)


@pytest.mark.parametrize(("bands", "by_hand"), [(0.0, 0.01), (-0.1, 0.001), (-1.0, 0.0001)])
def test_the_corner_at_the_setting_is_as_the_page_says(bands, by_hand):
    case = oil(bands)["as written"]
    assert opening(bands) == pytest.approx(by_hand, rel=0.02)
    area = 40e-3 / 60 * sqrt(850 / (2 * 1e5)) / 0.7
    least = 10 * 5e-3 * pi * sqrt(4 * area / pi) / 4  # [kg/s], Reynolds 10 in the area
    square = (opening(bands) + 1e-4) ** 2 * (4e5 + bands * BAND) * 2 * 850 * (0.7 * area) ** 2  # q|q| + q_l q
    passed = 0.5 * (sqrt(least**2 + 4 * square) - least)
    assert case.part("relief").ends[0].mass_flow.si == pytest.approx(passed, rel=1e-3)


@pytest.mark.parametrize(("bands", "shown"), [(-2.0, "shut"), (-0.2, "shut"), (-0.05, "cracking"), (-0.001, "cracking"), (0.05, "relieving")])
def test_a_relief_that_lets_liquid_go_is_not_called_shut(bands, shown):
    answer = oil(bands)
    lines = [line.strip() for line in str(answer).splitlines()]
    told = lines[lines.index("Devices") + 1].split()
    assert told == ["relief", shown] and answer["as written"].part("relief").regime == ("relieving" if shown == "relieving" else "shut")
