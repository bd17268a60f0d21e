"""Comparing whole circuits: energy and mass by hand, who wins and why, what is refused."""

import pytest

import flarenut as fn
from comparison_example import CASES, bleed, core, engine, no_cooler, no_thermostat, rigs, variants
from flarenut.studies.comparison_verdicts import outside

KELVIN = 273.15


@pytest.fixture(scope="module")
def compared():
    return fn.compare(variants(), units="metric")


@pytest.fixture(scope="module")
def coolers():
    return fn.compare(rigs(), at="feed")


def si(comparison, variant, case, key):
    return comparison.value(variant, case, key).si


# ---- physics, by hand ----

@pytest.mark.parametrize("variant", ["after the filter", "before the filter", "no thermostat", "bleed"])
@pytest.mark.parametrize("case", ["hot idle", "full speed", "hot track"])
def test_heat_given_off_is_flow_times_specific_heat_times_drop(compared, variant, case):
    cooler = compared.answers[variant][case].part("oil cooler")
    middle = 0.5 * (cooler.temperature_in.si + cooler.temperature_out.si)
    specific_heat = fn.fluid("SAE 10W-40").at(f"{middle - KELVIN} C").specific_heat.si
    by_hand = cooler.mass_flow.si * specific_heat * cooler.temperature_drop.si
    assert si(compared, variant, case, "cooler_heat") == pytest.approx(by_hand, rel=0.01)


@pytest.mark.parametrize("variant", ["after the filter", "before the filter", "no thermostat", "bleed"])
def test_what_the_engine_and_the_pump_put_in_goes_out_by_cooler_lines_and_sump(compared, variant):
    """Steady at full speed: 5 % of 180 kW and the pump's work in; coolers, hoses and the sump's 12 W/K to air of 25 C out."""
    case = compared.answers[variant]["full speed"]
    put_in = 0.05 * 180e3 + case.part("oil pump").power.si
    hoses = case.part("hose to cooler").heat.si + case.part("hose from cooler").heat.si
    sump = 12.0 * (si(compared, variant, "full speed", "sump_temperature") - 25.0 - KELVIN)
    # Flow that loses pressure is warmed by it; what leaves the relief and the bearings carries it to the sump, so nothing is lost on the way.
    assert si(compared, variant, "full speed", "cooler_heat") + hoses + sump == pytest.approx(put_in, rel=0.01)


@pytest.mark.parametrize("case", ["hot idle", "full speed", "hot track"])
def test_what_the_pump_gives_is_shared_out(compared, case):
    share = {key: {name: si(compared, name, case, key) for name in ("after the filter", "bleed")} for key in ("gallery_share", "relief_share", "cooler_share")}
    assert share["gallery_share"]["after the filter"] + share["relief_share"]["after the filter"] == pytest.approx(1.0, abs=1e-6)
    assert sum(shares["bleed"] for shares in share.values()) == pytest.approx(1.0, abs=1e-6)  # its cooler feeds the sump, not the gallery


def test_coolers_side_by_side_lose_a_quarter_and_in_series_twice_of_what_one_loses(coolers):
    """Drops that go with flow squared, 1 bar at 20 L/min and 100 C; the flow is given. Oil that is cooled more is a little heavier."""
    drop = {name: si(coolers, name, "warm", "cooler_drop") for name in coolers.variants}
    oil, one = fn.fluid("SAE 10W-40"), coolers.seen("one", "warm").coolers
    rated, warm = (oil.at(f"{kelvin - KELVIN} C").density.si for kelvin in (100.0 + KELVIN, 0.5 * (one.inlet + one.outlet)))
    by_hand = 1e5 * (one.mass_flow / (20e-3 / 60.0)) ** 2 / (rated * warm)  # as flow squared over density
    assert drop["one"] == pytest.approx(by_hand, rel=0.005)
    assert drop["side by side"] / drop["one"] == pytest.approx(0.25, rel=0.01)
    assert drop["in series"] / drop["one"] == pytest.approx(2.0, rel=0.01)


def test_a_thick_drop_that_goes_with_flow_is_halved_side_by_side():
    made = rigs()
    drops = ["0.25 bar at 10 L/min", "0.5 bar at 20 L/min"]  # all viscous
    for name, circuit in made.items():
        circuit.take_out("left")
        circuit.run("left", "feed", "drain", [core("left one", drops), *([core("left two", drops)] if name == "in series" else [])])
        if name == "side by side":
            circuit.take_out("right")
            circuit.run("right", "feed", "drain", [core("right one", drops)])
    found = fn.compare(made, at="feed")
    # Slower oil is cooled further and grows thicker, so that it is a little more than half.
    assert 0.5 < si(found, "side by side", "warm", "cooler_drop") / si(found, "one", "warm", "cooler_drop") < 0.62


def test_flow_and_heat_of_several_coolers_are_counted_once(coolers):
    flow = {name: coolers.seen(name, "warm").coolers.mass_flow for name in coolers.variants}
    assert flow["in series"] == pytest.approx(flow["one"], rel=1e-6) and flow["side by side"] == pytest.approx(flow["one"], rel=1e-6)
    for name in ("in series", "side by side"):
        case = coolers.answers[name]["warm"]
        parts = ["left one", "left two"] if name == "in series" else ["left one", "right one"]
        assert si(coolers, name, "warm", "cooler_heat") == pytest.approx(sum(case.part(part).heat.si for part in parts), rel=1e-9)
    heat = {name: si(coolers, name, "warm", "cooler_heat") for name in coolers.variants}
    assert heat["one"] < heat["in series"] < 2.0 * heat["one"]  # the second meets cooler oil
    warm = coolers.seen("in series", "warm").coolers
    assert warm.inlet == pytest.approx(100.0 + KELVIN, abs=0.5) and warm.outlet < coolers.seen("one", "warm").coolers.outlet


def test_a_cooler_behind_the_radiator_or_out_of_the_wind_gives_off_less_and_the_gallery_loses_pressure_with_heat():
    made = {"in front": engine(), "behind the radiator": engine(), "out of the wind": engine()}
    made["behind the radiator"].change("oil cooler", air_rise="25 K")
    made["out of the wind"].change("oil cooler", wind_share="8 %")
    found = fn.compare(made, ["hot track"])
    warmth = {name: si(found, name, "hot track", "gallery_temperature") for name in made}
    assert warmth["in front"] + 2.0 < warmth["behind the radiator"] and warmth["in front"] + 2.0 < warmth["out of the wind"]
    # Colder oil is thicker, and the same bearings hold it back more; at hot idle, with the relief shut, that is seen by itself.
    idle = fn.compare({name: circuit for name, circuit in made.items()}, ["hot idle"])
    assert si(idle, "in front", "hot idle", "gallery_temperature") < si(idle, "behind the radiator", "hot idle", "gallery_temperature") - 2.0
    assert si(idle, "in front", "hot idle", "gallery_pressure") > si(idle, "behind the radiator", "hot idle", "gallery_pressure")
    assert found.best("hot track") == "in front"


def test_values_are_those_of_plain_solving(compared):
    for name, make in (("after the filter", engine), ("bleed", bleed), ("no thermostat", no_thermostat)):
        case = make().solve("hot track")["hot track"]
        assert si(compared, name, "hot track", "gallery_pressure") == case.at("gallery").gauge.si
        assert si(compared, name, "hot track", "gallery_temperature") == case.at("gallery").temperature.si
        assert si(compared, name, "hot track", "sump_temperature") == case.at("sump").temperature.si
        assert si(compared, name, "hot track", "cooler_drop") == pytest.approx(case.part("oil cooler").drop.si, rel=1e-12)
        assert si(compared, name, "hot track", "cooler_flow") == pytest.approx(case.part("oil cooler").flow.si, rel=1e-12)
        assert compared.value(name, "hot track", "relief") == case.part("relief valve").regime
    assert compared.value("bleed", "hot track", "filter out pressure") is None and si(compared, "after the filter", "hot track", "filter out pressure") > 4e5


def test_the_demonstration_is_of_usual_size():
    """Common practice, no source: gallery 1 to 2 bar at hot idle and about 4 bar at speed, oil 80 to 120 C, a cooler of 3 to 10 kW."""
    answer = engine().solve()
    idle, fast, track = (answer[case] for case in CASES[1:])
    assert 1e5 < idle.at("gallery").gauge.si < 2e5
    assert all(3.5e5 < case.at("gallery").gauge.si < 5e5 for case in (fast, track))
    assert all(80 < case.at("sump").temperature.to("C") < 120 and 3e3 < case.part("oil cooler").heat.si < 10e3 for case in (idle, fast, track))
    assert answer["cold start"].part("thermostat").regime == "shut" and answer["hot track"].part("thermostat").regime == "wide open"
    assert len(track.part_names) >= 25 and answer.converged and not any(one.severity == "stop" for one in answer.findings)


# ---- who wins ----

def test_who_wins_is_who_is_coolest_in_the_heat_and_has_the_most_pressure(compared):
    for case in ("full speed", "hot track"):
        solved = [name for name in compared.variants if compared.seen(name, case)]
        assert compared.best(case, "pressure") == max(solved, key=lambda name: si(compared, name, case, "gallery_pressure"))
        coolest = min(solved, key=lambda name: si(compared, name, case, "gallery_temperature"))
        assert compared.best(case) == coolest
        ranking = compared.verdict(case).by_temperature
        gaps = {name: abs(si(compared, name, case, "gallery_temperature") - si(compared, coolest, case, "gallery_temperature")) for name in solved}
        assert set(ranking.alike) == {name for name in solved if 0 < gaps[name] <= 2.0} and set(ranking.beaten) == {name for name in solved if gaps[name] > 2.0}


def test_cold_oil_is_won_by_the_warmest():
    made = variants()
    found = fn.compare({"thermostat": made["after the filter"], "no thermostat": made["no thermostat"]}, ["hot idle"], warm=("120 C", "130 C"), same_temperature="0.01 K")
    warmest = max(found.variants, key=lambda name: si(found, name, "hot idle", "gallery_temperature"))
    assert found.best("hot idle") == warmest and "warmest, as all are cold" in found.reading("hot idle")[0]
    assert outside(found.bounds, 110.0 + KELVIN) == pytest.approx(-10.0) and outside(found.bounds, 135.0 + KELVIN) == pytest.approx(5.0)


def test_without_a_cooler_there_is_no_steady_state_and_the_case_stands_all_the_same(compared):
    """It has no fan for the word "fan" and no cooler for the vehicle's speed; what is said of them is not its concern."""
    assert compared.seen("no cooler", "hot idle") is not None
    assert compared.value("no cooler", "hot track", "gallery_pressure") is None
    why = compared.why_not("no cooler", "hot track")
    assert "no steady state" in why and any(f"'no cooler' is not solved: {why}" in told for told in compared.reading("hot track"))
    with pytest.raises(fn.CircuitError, match="fan"):
        no_cooler().solve("hot idle")


def test_a_variant_that_cannot_be_built_says_why_and_the_others_go_on():
    lame = engine()
    lame.junction("nowhere", bore="5 mm")
    found = fn.compare({"sound": engine(), "lame": lame, "bleed": bleed()}, ["hot idle"])
    assert found.why_not("lame", "hot idle").startswith("nowhere: ") and found.best("hot idle") == "sound"
    assert "lame" not in found.answers and any("'lame' is not solved: " in told and "nowhere" in told for told in found.reading("hot idle"))


def test_a_stop_of_one_variant_rules_it_out_and_a_stop_of_all_rules_out_none():
    thirsty = engine()
    thirsty.change("pick-up pipe", bore="13.2 mm")
    found = fn.compare({"as it is": engine(), "thin pick-up": thirsty}, ["hot track"])
    verdict = found.verdict("hot track")
    assert list(verdict.stops) == ["thin pick-up"] and verdict.running == ["as it is"] and not verdict.shared
    assert all(one.severity == "stop" for one in verdict.stops["thin pick-up"])
    assert any(told.startswith("'thin pick-up' is out of the running: STOP for ") for told in found.reading("hot track"))
    both = fn.compare({"thin pick-up": thirsty, "the same": thirsty.copy()}, ["hot track"]).verdict("hot track")
    assert both.shared and not both.stops and len(both.running) == 2


def test_a_cooler_beyond_its_rating_is_out_of_the_running(compared):
    highest = {name: si(compared, name, "full speed", "cooler_pressure") for name in ("after the filter", "before the filter", "bleed")}
    assert highest["bleed"] < highest["after the filter"] < highest["before the filter"]
    between = f"{0.5e-5 * (highest['after the filter'] + highest['before the filter'])} bar"
    found = fn.compare({"after": engine(), "before": variants()["before the filter"]}, ["full speed"], rating=between, units="metric")
    assert found.verdict("full speed").burst == ["before"]
    assert any("'before' is out of the running: " in told and "in a cooler made for" in told for told in found.reading("full speed"))


def test_a_coolers_own_rating_beats_the_one_for_all():
    made = {"strong": engine(), "weak": engine()}
    made["weak"].change("oil cooler", rated_pressure="4 bar")
    found = fn.compare(made, ["full speed"], rating="20 bar")
    assert found.verdict("full speed").burst == ["weak"] and found.verdict("full speed").running == ["strong"]
    highest = si(found, "weak", "full speed", "cooler_pressure")
    assert si(found, "weak", "full speed", "cooler_strain") == pytest.approx(highest / 4e5) and si(found, "strong", "full speed", "cooler_strain") == pytest.approx(
        si(found, "strong", "full speed", "cooler_pressure") / 20e5)
    unsaid = fn.compare({"one": engine(), "other": bleed()}, ["full speed"])
    assert "cooler_strain" not in [column.key for column in unsaid.columns] and not unsaid.verdict("full speed").burst


def test_limits_of_your_own_change_what_says_stop():
    mine = fn.checks.Limits(oil_pressure_floor="4 bar")
    found = fn.compare({"after": engine(), "bleed": bleed()}, ["hot idle"], limits=mine)
    assert found.verdict("hot idle").shared and "STOP for oil pressure (head) with every variant" in " ".join(found.reading("hot idle"))


def test_the_variants_stay_as_they_were():
    made = {"after": engine(), "bleed": bleed()}
    before = {name: repr(circuit) for name, circuit in made.items()}
    cases = {name: dict(circuit.cases) for name, circuit in made.items()}
    fn.compare(made, "hot idle")
    assert {name: repr(circuit) for name, circuit in made.items()} == before and {name: circuit.cases for name, circuit in made.items()} == cases


def test_circuits_of_given_temperatures_are_compared_by_pressure_alone():
    found = fn.compare({name: _given(circuit) for name, circuit in (("after", engine()), ("bleed", bleed()))}, ["hot idle"])
    assert "gallery_temperature" not in [column.key for column in found.columns] and found.best("hot idle") is None
    assert found.best("hot idle", "pressure") == "after"


def _given(circuit):
    circuit.temperatures = "given"
    circuit.case("warm", speed="850 rpm")
    circuit.cases = {"hot idle": circuit.cases["warm"].__class__("hot idle", {"speed": "850 rpm"})}
    return circuit


# ---- refusals ----

def other_case():
    car = engine()
    car.cases["hot idle"].conditions["engine_power"] = "12 kW"
    return car


def another_case():
    car = engine()
    car.case("towing", speed="2500 rpm", engine_power="90 kW")
    return car


@pytest.mark.parametrize("arguments, words, wrong", [
    (lambda: ({"alone": engine()},), {}, "nothing to compare.*two circuits or more by name"),
    (lambda: ([engine(), bleed()],), {}, "nothing to compare"),
    (lambda: ({"a": (car := engine()), "b": car},), {}, "'a' and 'b' are one and the same circuit: make one of them with copy"),
    (lambda: ({"a": engine(), "b": engine().solve("hot idle")},), {}, "'b' is .*, not a circuit"),
    (lambda: ({"a": engine(), " ": bleed()},), {}, "a variant is called ' '"),
    (lambda: ({"a": engine(), "b": other_case()},), {}, "case 'hot idle' differs: 'a' says 8 kW of engine_power, 'b' 12 kW"),
    (lambda: ({"a": engine(), "b": another_case()},), {}, "'b' has a case 'towing' that 'a' lacks"),
    (lambda: ({"a": another_case(), "b": engine()},), {}, "'b' has no case 'towing'"),
    (lambda: ({"a": engine(), "b": bleed()},), {"cases": "hot idel"}, "'a' has no case 'hot idel'"),
    (lambda: ({"a": engine(), "b": bleed()},), {"at": "galery"}, "'a' has no place 'galery': did you mean 'gallery'"),
    (lambda: ({"a": engine(), "b": bleed()},), {"at": "filter out"}, "'b' has no place 'filter out'"),
    (lambda: ({"a": engine(), "b": bleed()},), {"gauges": ["filter uot"]}, "no variant has a place 'filter uot': did you mean 'filter out'"),
    (lambda: ({"a": engine(), "b": bleed()},), {"units": "imperial"}, "write 'us' or 'metric'"),
    (lambda: ({"a": engine(), "b": bleed()},), {"warm": "90 C"}, "from how warm to how warm"),
    (lambda: ({"a": engine(), "b": bleed()},), {"warm": ("110 C", "80 C")}, "write the colder first"),
    (lambda: ({"a": engine(), "b": bleed()},), {"rating": "10 kg"}, "rating|pressure"),
])
def test_what_cannot_be_compared_is_refused(arguments, words, wrong):
    with pytest.raises((fn.CircuitError, fn.UnitError), match=wrong):
        fn.compare(*arguments(), **{"cases": None, **words})


def test_an_unclear_gallery_is_asked_for():
    with pytest.raises(fn.CircuitError, match="not clear which place is to be judged: name it"):
        fn.compare(rigs())


@pytest.mark.parametrize("ask, wrong", [
    (lambda one: one.value("aftr the filter", "hot idle", "relief"), "no variant 'aftr the filter': did you mean 'after the filter'"),
    (lambda one: one.value("bleed", "idle", "relief"), "no case 'idle'"), (lambda one: one.value("bleed", "hot idle", "drop"), "no column 'drop'"),
    (lambda one: one.best("hot idle", "price"), "'by' is 'price'"), (lambda one: one.verdict("idle"), "no case 'idle'"),
    (lambda one: one.text(units="si"), "write 'us' or 'metric'"),
])
def test_what_is_not_there_to_ask_is_refused(compared, ask, wrong):
    with pytest.raises(fn.CircuitError, match=wrong):
        ask(compared)
