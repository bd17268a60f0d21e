"""Rules on heat at their own numbers, on cases put together by hand: coolers full of thick oil, second states and their mirrors, oil that runs out."""

from types import SimpleNamespace

import pytest

from flarenut.checks import heat_congealed, heat_plumbing, heat_states, reach

AIR = 280.0


class Case(SimpleNamespace):
    """A case that knows what it is told, and nothing else."""

    name, finds_temperatures, junction_names, pumps = "winter", True, (), ()

    def number(self, name, default=None):
        return self.numbers.get(name, default)

    def ends(self, part):
        return self.all_ends[part]

    def meeting(self, place):
        return [(part, end) for part, ends in self.all_ends.items() for end in ends if end.junction == place]

    def liquid_in(self, part):
        return {"density": 800.0}

    @property
    def part_names(self):
        return list(self.all_ends)


def end(temperature=300.0, flow=0.1, junction=0):
    return SimpleNamespace(temperature=temperature, flow=flow, junction=junction, static=1e5)


def layout(**more):
    """Titles in capitals; a liquid whose viscosity is told by its temperature."""
    return SimpleNamespace(title=str.upper, junction_title=str.upper, liquid_of={}, **more)


# ---- congealed coolers: 40 K from where it enters, within 10 K of its air, 5 times as thick ----

def cooling(into=340.0, out=285.0, times=6.0, flow=0.1, rise=None, air=AIR, third=False, **words):
    warm, cold = end(into, flow), end(out, -flow)
    ends = [warm, cold, cold] if third else [warm, cold] if flow >= 0.0 else [cold, warm]
    liquid = SimpleNamespace(at=lambda kelvin, pressure: SimpleNamespace(viscosity={into: 0.01, out: 0.01 * times}[kelvin]))
    if flow < 0.0:
        ends = [end(out, flow), end(into, -flow)]
    numbers = {} if air is None else {"air.temperature": air}
    return Case(numbers=numbers | ({} if rise is None else {"coil.air_rise": rise}), all_ends={"coil": ends}, layout=layout(liquids=[liquid]), **words)


@pytest.mark.parametrize("words, told", [
    ({}, True), ({"flow": -0.1}, True), ({"flow": 0.0}, True), ({"into": 285.0 + 40.0}, True), ({"into": 285.0 + 39.9}, False), ({"out": AIR + 9.9}, True),
    ({"out": AIR + 10.0}, False), ({"times": 5.0}, False), ({"times": 5.01}, True), ({"times": 1 / 6.0}, False), ({"out": AIR + 14.9, "rise": 5.0}, True),
    ({"out": AIR + 15.0, "rise": 5.0}, False), ({"rise": 0.0}, True), ({"third": True}, False), ({"air": None}, False), ({"finds_temperatures": False}, False)])
def test_a_cooler_full_of_thick_oil_is_known_by_three_numbers(words, told):
    found = heat_congealed.congealed(cooling(**words))
    assert bool(found) == told
    if told:
        assert (found[0].part, found[0].leaving.si, found[0].thicker) == ("coil", words.get("out", 285.0), pytest.approx(words.get("times", 6.0)))


def test_the_coldest_cooler_is_named_first_and_what_is_said_of_it():
    case = cooling()
    liquid = SimpleNamespace(at=lambda kelvin, pressure: SimpleNamespace(viscosity=0.01 if kelvin > 320.0 else 0.08 if kelvin > 283.0 else 0.1))
    case.all_ends = {"left": [end(340.0), end(285.0)], "right": [end(340.0), end(282.0)]}
    case.layout.liquids = [liquid]
    found = heat_congealed.congealed(case)
    words, numbers = heat_congealed.told_of(case, found)
    assert [one.part for one in found] == ["right", "left"] and "RIGHT and LEFT" in words and "10 times as thick" in words
    assert numbers["leaving"].si == 282.0 and numbers["air"].si == AIR
    assert heat_congealed.told_of(case, []) == ("", {})


# ---- second states ----

def state(*differences):
    return [SimpleNamespace(where=where, here=here, there=there) for where, here, there in differences]


def second(*states, **notes):
    notes = SimpleNamespace(**{"other_states": states, "not_searched": "", **notes})
    case = Case(layout=SimpleNamespace(title=str.upper, notes={"winter": notes}))
    return list(heat_states.second_state(case, None)), list(heat_states.not_searched(case, None))


COLD = (("left", 350.0, 290.0), ("right", 350.0, 360.0))


def test_a_second_state_is_told_by_its_numbers_and_ranks_by_fifty_kelvin():
    (found,), none = second(state(*COLD))
    assert found.severity == "watch" and found.where == "LEFT, RIGHT" and found.hurt == pytest.approx(60.0 / 50.0) and none == []
    assert {name: number.si for name, number in found.numbers.items()} == {"here 0": 350.0, "there 0": 290.0, "here 1": 350.0, "there 1": 360.0}
    assert "mirror" not in found.text() and "LEFT" in found.what and found.what.count("in place of") == 2


@pytest.mark.parametrize("other, count", [
    ((("right", 350.0, 290.0), ("left", 350.0, 360.0)), 1), ((("right", 350.49, 290.49), ("left", 350.0, 360.0)), 1),
    ((("right", 350.51, 290.0), ("left", 350.0, 360.0)), 2), ((("right", 350.0, 290.0), ("left", 350.0, 360.51)), 2),
    ((("right", 349.49, 290.0), ("left", 350.0, 360.0)), 2), ((("right", 350.0, 289.49), ("left", 350.0, 360.0)), 2),
    ((("right", 350.0, 290.0), ("third", 350.0, 360.0)), 2)])
def test_a_mirror_is_the_same_numbers_at_the_same_parts_within_half_a_kelvin(other, count):
    found, _ = second(state(*COLD), state(*other))
    assert len(found) == count
    assert ("mirror image with LEFT and RIGHT exchanged" in found[0].text()) == (count == 1)


def test_only_what_changes_places_is_exchanged():
    (found,), _ = second(state(*COLD, ("sump", 340.0, 330.0)), state(("right", 350.0, 290.0), ("left", 350.0, 360.0), ("sump", 340.0, 330.0)))
    assert "with LEFT and RIGHT exchanged" in found.text() and found.where == "LEFT, RIGHT, SUMP"


def test_a_search_that_failed_is_noted_and_nobody_is_told_of_states_where_temperatures_are_given():
    _, (note,) = second(not_searched="it took too long")
    assert note.severity == "note" and "it took too long" in note.text()
    case = Case(finds_temperatures=False, layout=SimpleNamespace(title=str.upper, notes={"winter": SimpleNamespace(other_states=[state(*COLD)], not_searched="")}))
    assert list(heat_states.second_state(case, None)) == [] and list(heat_states.not_searched(Case(layout=SimpleNamespace()), None)) == []


# ---- oil that runs out ----

def running_out(lost, into=0.0, moved=1.0, place="crankcase", demand=None, **words):
    """A pump moves so much, of which some leaves at a place for good, and some comes in at another."""
    ends = {"pump": [end(flow=moved, junction=0), end(flow=-moved, junction=1)], "mains": [end(flow=lost, junction=1), end(flow=-lost, junction=2)],
            "supply": [end(flow=into, junction=3), end(flow=-into, junction=0)]}
    notes = SimpleNamespace(no_way_back=(place, "filler"))
    case = Case(numbers={} if demand is None else {f"{place}.demand": demand}, all_ends=ends, junction_names=("sump", "gallery", place, "filler"), pumps=("pump",),
                layout=layout(notes={"winter": notes}), **words)
    return list(heat_plumbing.no_way_back(case, None))


@pytest.mark.parametrize("words, told", [
    ({"lost": 0.0101}, True), ({"lost": 0.01}, False), ({"lost": 0.5, "into": 0.495}, False), ({"lost": 0.5, "into": 0.48}, True), ({"lost": -0.5}, False),
    ({"lost": 0.02, "into": 0.01}, False), ({"lost": 0.5, "into": 0.48, "moved": 4.0}, False), ({"lost": 0.5, "moved": 0.0}, False),
    ({"lost": 0.5, "moved": -1.0}, True), ({"lost": 0.5, "finds_temperatures": False}, False)])
def test_a_hundredth_of_what_pumps_move_is_a_drip_and_more_is_told(words, told):
    found = running_out(**words)
    assert bool(found) == told
    if told:
        assert found[0].value.si == pytest.approx(words["lost"] / 800.0) and found[0].severity == "fix" and found[0].hurt == reach.ROOT and found[0].where == "CRANKCASE"


@pytest.mark.parametrize("place, demand, cure", [("crankcase", None, "say drains_to"), ("ambient", None, "a fixed place of its own"),
                                                 ("crankcase", 0.5, "a fixed place of its own")])
def test_the_cure_of_oil_that_runs_out_goes_by_where_it_does(place, demand, cure):
    (found,) = running_out(0.5, place=place, demand=demand)
    assert cure in found.cure


def test_a_drip_beside_what_runs_out_is_not_counted():
    """A hundredth itself is a drip; a little more is added up, and the cure is of the place that loses most."""
    drip, more = (running_out(0.5, into=-share)[0] for share in (0.01, 0.0101))
    assert drip.value.si == pytest.approx(0.5 / 800.0) and more.value.si == pytest.approx(0.5101 / 800.0) and more.where == "CRANKCASE"
    (other,) = running_out(0.2, into=-0.5)
    assert other.where == "FILLER" and other.value.si == pytest.approx(0.7 / 800.0)


def test_what_runs_out_is_a_volume_by_the_density_of_most_of_it():
    ends = {"pump": [end(flow=1.0), end(flow=-1.0, junction=1)], "cams": [end(flow=0.1, junction=1), end(flow=-0.1, junction=2)],
            "mains": [end(flow=0.5, junction=1), end(flow=-0.5, junction=2)],
            "drain": [end(flow=0.2, junction=2), end(flow=-0.2, junction=0)]}
    case = Case(numbers={}, all_ends=ends, junction_names=("sump", "gallery", "crankcase"), pumps=("pump",),
                layout=layout(notes={"winter": SimpleNamespace(no_way_back=("crankcase",))}))
    case.liquid_in = {"mains": {"density": 800.0}, "cams": {"density": 700.0}, "drain": {"density": 600.0}}.get
    (found,) = heat_plumbing.no_way_back(case, None)
    assert found.value.si == pytest.approx(0.4 / 800.0)


# ---- thermostats: 0.3 of one wide open is as good as shut, and within that of two both stand open ----

def apart(opens, shuts=(350.0, 360.0), bleed=0.0, at=355.0, feels=None, **words):
    numbers = {f"{name}.{end}_temperature": kelvin for name, ends in (("stat", opens), ("round", shuts))
               for end, kelvin in zip(("start", "full"), ends)}
    notes = SimpleNamespace(thermostat_pairs=(SimpleNamespace(opens="stat", shuts="round", feels=feels),))
    case = Case(numbers=numbers | ({"stat.bleed": bleed} if bleed else {}), all_ends={"round": [end(at)]},
                junction_names=("sump", "gallery"), layout=layout(notes={"winter": notes}),
                solution=SimpleNamespace(temperature_of={"gallery": 352.0, "sump": 300.0}.get), **words)
    return list(heat_plumbing.thermostats_apart(case, None))


@pytest.mark.parametrize("later, told", [(6.9, None), (7.1, "nearly shut"), (30.0, "nearly shut"), (-6.9, None),
                                         (-7.1, "open, and what goes round"), (-30.0, "open, and what goes round")])
def test_ranges_that_lie_less_than_seven_tenths_apart_leave_one_way_open(later, told):
    """Ranges of 10 K: where the second begins, the first has gone as far as they lie apart."""
    found = apart((350.0 + later, 360.0 + later))
    assert bool(found) == bool(told) and all(told in one.what for one in found)
    if found:
        low, high = sorted((350.0, 360.0, 350.0 + later, 360.0 + later))[1:3]
        assert found[0].value.si == pytest.approx(0.5 * (low + high)) and found[0].where == "STAT, ROUND"
        assert {name: one.si for name, one in found[0].numbers.items()} == {"opens from": 350.0 + later, "opens to": 360.0 + later,
                                                                            "shuts from": 350.0, "shuts to": 360.0}


@pytest.mark.parametrize("bleed, told", [(0.28, True), (0.32, False)])
def test_a_bleed_keeps_a_way_open(bleed, told):
    assert bool(apart((380.0, 390.0), bleed=bleed)) is told


@pytest.mark.parametrize("bleed, told", [(0.7, False), (0.71, True)])
def test_seven_tenths_beside_a_way_that_is_wide_open_are_not_both_open_yet(bleed, told):
    assert 0.7 + 1.0 == 2.0 - heat_plumbing._NEARLY and bool(apart((380.0, 390.0), (370.0, 375.0), bleed=bleed)) is told


@pytest.mark.parametrize("opens, at, feels, grade", [
    ((380.0, 390.0), 370.0, None, "fix"), ((380.0, 390.0), 340.0, None, "watch"), ((380.0, 390.0), 400.0, None, "watch"),
    ((320.0, 330.0), 340.0, None, "watch"),
    ((380.0, 390.0), 370.0, "gallery", "watch"), ((380.0, 390.0), 340.0, "nowhere", "watch"), ((380.0, 390.0), 370.0, "nowhere", "fix")])
def test_both_ways_nearly_shut_as_here_are_a_fix(opens, at, feels, grade):
    (found,) = apart(opens, at=at, feels=feels)
    assert found.severity == grade and (", as here" in found.what) == (grade == "fix" or (opens[0] < 350.0 and 330.0 < at < 350.0))


@pytest.mark.parametrize("opens, told", [(410.0, True), (400.0, False), (390.0, False)])
def test_a_thermostat_that_opens_where_its_liquid_ends_is_told(opens, told):
    case = Case(numbers={"stat.start_temperature": opens}, all_ends={"stat": []}, layout=layout(family="oil"),
                parts_of_kind=lambda kind: ["stat"])
    limits = SimpleNamespace(oil_temperature_alarm=SimpleNamespace(si=400.0))
    found = list(heat_plumbing.opens_too_hot(case, limits))
    assert bool(found) is told and all(one.hurt == reach.ROOT and one.severity == "fix" and one.value.si == opens for one in found)
    case.finds_temperatures = False
    assert not list(heat_plumbing.opens_too_hot(case, limits))
