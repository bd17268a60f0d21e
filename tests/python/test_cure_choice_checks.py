"""Which cure of hot or cool liquid is named, by what there is and by what was tried: cases and trials put together by hand, numbers that are no circuit's."""

from math import nan, nextafter
from types import SimpleNamespace

import pytest

from flarenut.checks import heat_cures, heat_measures
from flarenut.units import Quantity

NOW = 400.0
AIR = "more air through it (duct, fan, a place out of warm air)"
OTHER = "colder or more liquid on the other side of TUBE"


class Case(SimpleNamespace):
    """A case of named parts: `kinds`, what each gives off, and numbers of the plan."""

    name, finds_temperatures, junction_names, pumps = "hot", True, ("sump", "gallery"), ()

    def number(self, name, default=None):
        return self.numbers.get(name, default)

    def kind_of(self, part):
        return self.kinds[part]

    def parts_of_kind(self, kind):
        return [part for part, own in self.kinds.items() if own == kind]

    def ends(self, part):
        return self.all_ends.get(part, [])

    @property
    def part_names(self):
        return list(self.kinds)


class Trial:
    """What a change brings, by its word: "size 1.25", "air 0.8", "longer 1.25", "wider 1.25", "feeling gallery"; no answer to any other."""

    def __init__(self, **brings):
        self.brings = {what.replace("_", " ").replace("p", "."): value for what, value in brings.items()}
        self.parts = {}

    def tried(self, parts, **change):
        ((word, times),) = change.items()
        self.parts[word] = list(parts)
        found = self.brings.get(f"{word} {times}", NOW)
        return None if found is None else SimpleNamespace(value=found)

    coolers = walls = lines = tried

    def feeling(self, pair, place):
        return SimpleNamespace(value=self.brings.get("feeling", NOW))


def case(kinds, gives=None, numbers=None, trial=None, regimes=None, family="oil", runs=None, pairs=(), ends=None, **notes):
    faces = {f"{part}.face_area": 0.05 for part, kind in kinds.items() if kind == "cooler"}
    kinds = {part: "core" if kind == "cooler" else kind for part, kind in kinds.items()}
    liquid = SimpleNamespace(at=lambda kelvin, pressure: SimpleNamespace(viscosity={340.0: 0.01, 330.0: 0.02, 329.0: 0.0201,
                                                                                    285.0: 0.06}[kelvin]))
    layout = SimpleNamespace(title=str.upper, junction_title=str.upper, family=family, runs=runs or {}, liquid_of={}, liquids=[liquid],
                             notes={"hot": SimpleNamespace(trial=trial, thermostat_pairs=pairs, **notes)})
    solution = SimpleNamespace(heat_of=lambda part: -(gives or {}).get(part, 0.0), regime_of=(regimes or {}).get)
    return Case(kinds=kinds, numbers={**faces, "air.temperature": 280.0, **(numbers or {})}, layout=layout, solution=solution, value=NOW,
                all_ends=ends or {})


MEASURE = heat_measures.Measure(lambda one: one.value, lambda found: Quantity(found, "temperature"), 1.0)


def cured(*args, **words):
    return heat_cures.cooling_for(case(*args, **words), MEASURE)


def kelvins(cooling):
    return [number.si for name, number in cooling.numbers.items() if name.startswith("tried")]


# ---- exchangers that give heat to another liquid ----

@pytest.mark.parametrize("trial, cure", [
    (None, f"a larger exchanger; {OTHER}"), (Trial(), f"{OTHER}, or more of this one through it; no larger exchanger"),
    (Trial(longer_1p25=390.0), f"a larger exchanger, longer; {OTHER}"),
    (Trial(size_1p25=390.0), f"a larger exchanger, of more passages; {OTHER}"),
    (Trial(longer_1p25=390.0, size_1p25=395.0), f"a larger exchanger, longer or of more passages; {OTHER}"),
    (Trial(longer_1p25=395.0, size_1p25=390.0), f"a larger exchanger, of more passages or longer; {OTHER}"),
    (Trial(longer_1p25=399.0), f"{OTHER}, or more of this one through it; no larger exchanger"),
    (Trial(longer_1p25=nextafter(399.0, 0.0)), f"a larger exchanger, longer; {OTHER}")])
def test_of_an_exchanger_the_size_that_helps_most_is_named_first_and_none_where_none_helps(trial, cure):
    found = cured({"tube": "core"}, {"tube": 500.0}, trial=trial)
    assert found.cure == cure and len(kelvins(found)) == (2 if trial else 0) and ("tried" in found.beside) == bool(trial)


@pytest.mark.parametrize("watts, walls", [(20.0, False), (20.1, True), (-500.0, False)])
def test_twenty_watts_are_no_cooling_to_speak_of(watts, walls):
    cure = f"a larger exchanger; {OTHER}" if walls else "a cooler: nothing here is made to take its heat away"
    assert cured({"tube": "core"}, {"tube": watts}).cure == cure
    assert ("more of PIPE" in cured({"pipe": "line"}, {"pipe": watts}).cure) is walls


@pytest.mark.parametrize("family, thing", [("oil", "a cooler"), ("coolant", "a radiator"), ("water", "a radiator"),
                                           ("transmission fluid", "a cooler")])
def test_what_cools_water_is_called_a_radiator(family, thing):
    assert cured({"pump": "electric pump"}, family=family).cure == f"{thing}: nothing here is made to take its heat away"


# ---- lines alone ----

@pytest.mark.parametrize("trial, words", [(None, ", or more of PIPE"), (Trial(longer_1p25=390.0), ", or more of PIPE"),
                                          (Trial(longer_1p25=399.5), "; no more length of PIPE"),
                                          (Trial(longer_1p25=410.0), "; no more length of PIPE"),
                                          (Trial(longer_1p25=None), "; no more length of PIPE")])
def test_more_of_a_line_is_named_where_it_was_not_tried_in_vain(trial, words):
    found = cured({"pipe": "line"}, {"pipe": 100.0}, trial=trial)
    assert found.cure == f"a cooler with fins, more air{words}" and ("PIPE a quarter longer" in found.beside) == bool(trial)
    assert ("no steady state" in found.beside) == (found.beside != "" and not kelvins(found))


# ---- thermostats to look at ----

@pytest.mark.parametrize("stat, bypass, words", [
    ("wide open", "shut", ""), ("shut", "shut", "; look whether STAT opens"), ("regulating", "shut", "; look whether STAT opens"),
    ("wide open", "wide open", "; look how much goes round the cooler by ROUND"),
    ("shut", "regulating", "; look whether STAT opens and how much goes round the cooler by ROUND")])
def test_a_thermostat_is_looked_at_where_it_is_not_as_hot_liquid_has_it(stat, bypass, words):
    found = cured({"pump": "electric pump", "stat": "thermostat", "round": "thermostat bypass"}, regimes={"stat": stat, "round": bypass})
    assert found.cure == f"a cooler: nothing here is made to take its heat away{words}"


# ---- coolers that air blows through ----

COOLER = {"coil": "cooler"}


@pytest.mark.parametrize("brings, cure, tried", [
    ({"size_1p25": 390.0}, "a larger cooler", [390.0]),
    ({"size_1p25": 390.0, "air_1p25": 395.0}, f"a larger cooler, or {AIR}", [390.0, 395.0]),
    ({"size_1p25": 390.0, "air_1p25": 405.0}, "a larger cooler", [390.0, 405.0]),
    ({"size_1p25": 390.0, "air_1p25": 399.0}, "a larger cooler", [390.0, 399.0])])
def test_a_larger_cooler_is_named_where_it_helps_and_air_beside_it_where_it_does(brings, cure, tried):
    """Of air that moves nothing, as none blows, nothing is told."""
    found = cured(COOLER, trial=Trial(**brings))
    assert found.cure == cure and kelvins(found) == tried and "now" not in found.numbers


LINES = {"coil": "cooler", "hose": "line", "far hose": "line"}
RUNS = {"cooling": ["hose", "coil"], "elsewhere": ["far hose"]}
AS_LARGE = "it is as large as helps where it stands; a place for it that more of the liquid passes, or less heat put in"


@pytest.mark.parametrize("brings, cure", [
    ({}, f"no larger cooler and no more air: {AS_LARGE}"), ({"air_1p25": 390.0}, f"{AIR}; no larger cooler"),
    ({"size_0p8": 390.0}, "a smaller cooler; no larger cooler and no more air"),
    ({"air_0p8": 390.0}, "less air (a cover); no larger cooler and no more air"),
    ({"air_1p25": 395.0, "air_0p8": 390.0}, f"{AIR}; no larger cooler"),
    ({"air_1p25": 395.0, "size_0p8": 390.0}, f"a smaller cooler, or {AIR}; no larger cooler"),
    ({"size_0p8": 395.0, "wider_1p25": 390.0}, "wider lines to and from the cooler, or a smaller cooler; no larger cooler and no more air"),
    ({"size_0p8": 390.0, "wider_1p25": 395.0},
     "a smaller cooler, or wider lines to and from the cooler; no larger cooler and no more air")])
def test_where_a_larger_cooler_is_no_cure_what_helps_most_is_named_first(brings, cure):
    trial = Trial(**brings)
    assert cured(LINES, runs=RUNS, trial=trial).cure == cure and trial.parts["wider"] == ["hose"]
    alone = Trial()
    assert cured(COOLER, trial=alone).cure.startswith("no larger cooler") and "wider" not in alone.parts


def pair(feels=None):
    return SimpleNamespace(opens="stat", shuts="round", feels=feels)


def with_a_pair(one, stop=1, further=False):
    """A thermostat before the cooler and its fellow round it, whose ways meet again at a gallery; or not."""
    kinds = {"coil": "cooler", "stat": "thermostat", "round": "thermostat bypass", "third": "thermostat"}
    runs = {"cooling": ["stat", "coil"], "round it": ["round"], "elsewhere": ["coil"], **({"back": ["stat"]} if further else {})}
    ends = {part: [SimpleNamespace(junction=place, flow=0.1, temperature=340.0, static=1e5) for place in (0, last)]
            for part, last in (("coil", 1), ("round", stop), ("stat", 1))}
    return case(kinds, runs=runs, trial=Trial(feeling=390.0), pairs=(one,),
                regimes={"stat": "wide open", "round": "shut", "third": "wide open"}, ends=ends)


def test_thermostats_feel_the_mixed_liquid_where_they_are_a_pair_that_goes_by_what_enters_it():
    def place(*args, **words):
        return heat_cures._mixed_by(with_a_pair(*args, **words))

    assert place(pair()) == (["stat", "round"], "gallery")
    assert place(pair("gallery")) == place(pair(), stop=0) == place(pair(), further=True) == ([], None)
    mixed = 'thermostats that feel where both ways meet again (senses = "gallery"); no larger'
    assert heat_cures.cooling_for(with_a_pair(pair()), MEASURE).cure.startswith(mixed)
    assert "meet again" not in heat_cures.cooling_for(with_a_pair(pair("gallery")), MEASURE).cure
    bare = with_a_pair(pair())
    bare.layout.notes = {}
    assert heat_cures._mixed_by(bare) == ([], None)


# ---- thick oil ----

def ends_of(into, out):
    return {"coil": [SimpleNamespace(temperature=into, static=1e5, flow=0.1), SimpleNamespace(temperature=out, static=1e5, flow=-0.1)]}


@pytest.mark.parametrize("out, told_of", [(330.0, False), (329.0, True)])
def test_oil_twice_as_thick_where_it_leaves_is_told_of_where_a_larger_cooler_makes_it_worse(out, told_of):
    held = ": it holds itself back, and takes less heat away the more it is cooled"
    worse, alike, better = (cured(COOLER, ends=ends_of(340.0, out), trial=Trial(size_1p25=kelvin)) for kelvin in (405.0, 401.0, 390.0))
    assert (held in worse.beside) is told_of and ("leaving" in worse.numbers) is told_of
    assert held not in alike.beside and held not in better.beside
    untried = cured(COOLER, ends=ends_of(340.0, out))
    assert untried.cure == f"a larger cooler, or {AIR}" + ("; oil that thick holds itself back, and a larger one may make it worse: solve it with both" if told_of else "")


def test_a_cooler_full_of_thick_oil_is_told_as_such_tried_or_not():
    for trial in (None, Trial()):
        found = cured(COOLER, ends=ends_of(340.0, 285.0), trial=trial)
        assert found.cure == heat_cures.CURE and ": hardly any passes" in found.beside and found.numbers["leaving"].si == 285.0
    helped = cured(COOLER, ends=ends_of(340.0, 285.0), trial=Trial(size_0p8=390.0))
    assert helped.cure == "a smaller cooler; no larger cooler and no more air" and ": hardly any passes; tried: " in helped.beside


# ---- measures ----

@pytest.mark.parametrize("given, out, counts", [(nan, 330.0, 1.0), (350.0, 330.0, 0.05 * 600.0), (350.0, 285.0, 0.5 * 600.0),
                                                (nan, 285.0, 1.0)])
def test_a_kelvin_counts_and_where_the_temperature_is_given_a_share_of_the_heat(given, out, counts):
    one = case(COOLER, {"coil": 600.0}, {"sump.temperature": given}, ends=ends_of(340.0, out))
    one.solution.temperature_of = {"sump": 393.0}.get
    measure = heat_measures.by_temperature(one, "sump")
    assert measure.counts == pytest.approx(counts) and measure.of(one) == (393.0 if given != given else -600.0)
    assert measure.shown(measure.of(one)) == (Quantity(393.0, "temperature") if given != given else Quantity(600.0, "power"))
    assert bool(measure.words) == (given == given)


def test_what_is_tried_is_shown_beside_what_the_case_has_where_that_is_not_what_is_told():
    measure = heat_measures.Measure(lambda one: one.value, lambda found: Quantity(found, "power"), 1.0, "; so warm, {now} goes off")
    found = heat_cures.cooling_for(case(COOLER, trial=Trial(size_1p25=390.0, air_1p25=None)), measure)
    assert found.numbers == {"tried 0": Quantity(390.0, "power"), "now": Quantity(NOW, "power")}
    assert found.beside == "; so warm, {now} goes off; tried: COIL a quarter larger {tried 0}, a quarter more air no steady state"


def test_how_far_from_boiling_a_liquid_is_counts_by_the_kelvin(monkeypatch):
    measure = heat_measures.by_boiling()
    monkeypatch.setattr(heat_measures, "boiling_margin", {"near": SimpleNamespace(kelvin=Quantity(7.0, "temperature_difference"))}.get)
    assert measure.of("near") == -7.0 and measure.shown(-7.0) == Quantity(7.0, "temperature_difference") and measure.counts == 1.0
    assert measure.of("nowhere") != measure.of("nowhere")


def test_of_a_circuit_that_nobody_wrote_in_words_nothing_is_tried():
    one = case(COOLER, trial=Trial(size_1p25=390.0))
    one.layout.notes = {}
    assert heat_cures.cooling_for(one, MEASURE) == heat_cures.Cooling("", f"a larger cooler, or {AIR}")


# ---- liquid that runs cool ----

@pytest.mark.parametrize("kinds, cure", [
    ({"pipe": "line"}, "less air round PAN and the lines, or a sleeve over them"),
    ({"stat": "thermostat"}, "less air round PAN and the lines, or a sleeve over them"),
    ({"coil": "cooler"}, "a thermostat or a bypass before COIL, or a cover over it in winter"),
    ({"coil": "cooler", "stat": "thermostat"}, "a thermostat that opens later than STAT, or a cover over it in winter"),
    ({"tube": "core"}, "warmer liquid on the other side of TUBE, or that one last on the way"),
    ({"coil": "cooler", "tube": "core"},
     "a thermostat or a bypass before COIL, or a cover over it in winter, or warmer liquid on the other side of TUBE, or that one last on the way")])
def test_what_runs_cool_is_kept_warm_by_what_there_is(kinds, cure):
    gives = {part: 500.0 for part, kind in kinds.items() if kind != "thermostat"}
    assert heat_cures.warmer_for(case(kinds, gives), "pan") == cure
