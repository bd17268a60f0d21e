"""What a place is joined to, whatever flows: on a few parts between numbered places, drawn here.

      0 (tank) --pump-- 1 --hose-- 2 --check--> 3 --valve-- 4 (tank) --drain-- 5
                                    \\--tee (three ends: 2, 6, 7)
"""

from types import SimpleNamespace

import pytest

from flarenut.checks import reach

PARTS = {"pump": (0, 1), "hose": (1, 2), "check": (2, 3), "valve": (3, 4), "drain": (4, 5), "tee": (2, 6, 7)}


class Case(SimpleNamespace):
    junction_names = tuple("abcdefgh")

    def is_held(self, place):
        return place in (0, 4)

    def ends(self, part):
        return [SimpleNamespace(junction=place) for place in PARTS[part]]

    def meeting(self, place):
        return [(part, end) for part in PARTS for end in self.ends(part) if end.junction == place]

    def kind_of(self, part):
        return "check valve" if part == "check" else part

    def number(self, name, default=None):
        return self.numbers.get(name, default)


@pytest.mark.parametrize("start, stops, places, parts", [
    (1, (), {0, 1, 2, 3, 4, 6, 7}, {"pump", "hose", "check", "valve", "tee"}), (1, ("pump",), {1, 2, 3, 4, 6, 7}, {"hose", "check", "valve", "tee"}),
    (1, ("pump", "tee", "check"), {1, 2}, {"hose"}), (5, (), {4, 5}, {"drain"}), (0, (), {0}, set()), (3, ("check",), {3, 4}, {"valve"}),
    (6, ("hose",), {2, 3, 4, 6, 7}, {"check", "valve", "tee"})])
def test_what_is_joined_ends_at_tanks_and_at_what_stops(start, stops, places, parts):
    assert reach.joined(Case(), start, stops) == (places, parts)


@pytest.mark.parametrize("start, stops, places", [
    (1, ("pump",), {1, 2, 3, 4, 6, 7}), (3, (), {3, 4}), (3, ("valve",), {3}), (2, ("hose", "tee"), {2, 3, 4}), (5, (), {4, 5}), (4, (), {4}),
    (7, ("pump", "check"), {1, 2, 6, 7})])
def test_what_is_pressed_passes_a_check_valve_the_way_it_opens_alone(start, stops, places):
    assert reach.pressed(Case(), start, stops) == places


@pytest.mark.parametrize("regimes, off", [({}, False), ({"a": "stopped"}, True), ({"a": "stopped", "b": "pumping"}, False), ({"a": "stopped", "b": "stopped"}, True),
                                          ({"a": "pumping"}, False)])
def test_a_circuit_is_off_when_all_its_pumps_stand(regimes, off):
    assert reach.is_off(Case(pumps=list(regimes), solution=SimpleNamespace(regime_of=regimes.get))) is off


def test_liquid_is_drawn_where_a_demand_is_above_nothing():
    assert reach.drawn_at(Case(numbers={"a.demand": 0.0, "c.demand": 0.5, "d.demand": -0.5, "h.demand": 1e-9})) == [2, 7]
