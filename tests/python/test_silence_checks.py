"""Where rules keep quiet though a number would speak: temperatures that were given, a network that nobody wrote in words, what is not known.

Each case here is one in which the rule speaks, but for that. All circuits are invented.
"""

import importlib
import pkgutil
from dataclasses import is_dataclass, replace

import pytest
import results_example as example
import test_check_valve_checks as valves
import test_fuel_pressure_checks as fuel
import test_heat_checks as heat
import test_heat_plumbing_checks as plumbing
import test_heat_unsaid as unsaid
import test_injector_checks as injectors
import test_rating_findings as ratings
import test_regulator_checks as regulators
import test_slips as slips
from altered_case import altered
from test_exact_limits_checks import told
from test_which_is_named_checks import cold_start

import flarenut as fn
from flarenut import checks
from flarenut.checks import heat_freezing
from flarenut.checks import regulators as rules
from flarenut.checks import written

MODULES = [f"flarenut.checks.{one.name}" for one in pkgutil.iter_modules(checks.__path__)]


# ---- temperatures that were given ----

def held_shut():
    """A thermostat that is shut with liquid hot enough elsewhere."""
    case = heat.engine(parts=[fn.thermostat("90 C", bore="12 mm", name="thermostat")], **{"sump.temperature": "20 C"})
    return altered(case, ends={"mains": {0: {"flow": 1.0, "temperature": 401.0}}}, numbers={"thermostat.full_temperature": 400.0},
                   regimes={"thermostat": "shut"})


def idle_share():
    circuit = fn.Circuit("sump (invented)", fluid="SAE 10W-40", air_temperature="20 C")
    circuit.tank("sump", level="80 mm", temperature="found", heat_share="4 %", heat_loss="25 W/K")
    circuit.run("line", "sump", "ambient", [fn.displacement_pump("10 cc/rev", speed="2000 rpm", name="pump"), fn.orifice("3 mm")])
    return circuit.solve()["as written"]


def warm_for_nothing():
    circuit = fn.Circuit("bench (invented)", fluid="water", fluid_temperature="40 C", temperatures="found")
    circuit.tank("drum", level="1 m")
    circuit.junction("tap", demand="1 L/min", temperature="60 C")
    circuit.run("line", "drum", "tap", [fn.hose("-8", "3 m", spec="full-size")])
    return circuit.solve()["as written"]


def late():
    six = unsaid.engine()
    cooling = next(name for name, piece in six.compiled().pieces.items() if piece.word == "thermostat")
    six.case("late", **{**six.cases["hot idle"].conditions, f"{cooling}.opens": "118 C", f"{cooling}.full": "130 C"})
    return six.solve("late")["late"]


def hot_line():
    hose = fn.hose(bore="10 mm", length="3 m", air="5 m/s", air_rise="150 K", name="hot hose")
    return heat.engine("100 W", parts=[hose], **{"sump.temperature": "80 C"})


OF_HEAT = {
    "liquid too hot": lambda: heat.engine(**{"sump.temperature": "120 C"}), "oil runs cool": lambda: heat.engine("300 W"),
    "thermostat does not open": held_shut,
    "cooler without air": lambda: heat.engine("2 kW", parts=[heat.cooler()], **{"sump.temperature": "120 C"}), "heat from lines": hot_line,
    "engine power unsaid": idle_share, "temperature without effect": warm_for_nothing,
    "air temperature unsaid": lambda: unsaid.fuel().solve()["one"],
    "fluid temperature without effect": lambda: unsaid.fuel("25 C", fluid_temperature="45 C").solve()["one"],
    "settled by the air": lambda: cold_start(1),
    "no way back": lambda: plumbing.engine(plumbing.OPEN).solve("hot idle")["hot idle"],
    "thermostats exchanged": lambda: plumbing.engine(plumbing.EXCHANGED).solve("hot idle")["hot idle"], "thermostats apart": late,
    "transmission fluid runs cool": lambda: plumbing.gearbox("700 W")}
BY_NOTES = ("engine power unsaid", "air temperature unsaid", "fluid temperature without effect", "settled by the air", "no way back",
            "thermostats exchanged",
            "thermostats apart")


@pytest.mark.parametrize("code", OF_HEAT)
def test_a_temperature_that_was_given_says_nothing_of_heat(code):
    case = OF_HEAT[code]()
    assert told(case, code) is not None
    given = altered(case, finds_temperatures=False)
    given.solution._solution = case.solution  # the readings stay
    assert told(given, code) is None


@pytest.mark.parametrize("code", OF_HEAT)
def test_a_circuit_that_nobody_wrote_in_words_is_judged_by_its_numbers_alone(code):
    case = OF_HEAT[code]()
    case.layout = replace(case.layout, notes={})
    assert (told(case, code) is None) == (code in BY_NOTES)


def stood():
    circuit = fn.Circuit("bench (invented)", fluid="water", fluid_temperature="40 C", temperatures="found")
    circuit.junction("stand", supply="10 L/min", temperature="40 C")
    circuit.run("line", "stand", "ambient", [fn.tube(bore="10 mm", length="2 m", name="tube")])
    return circuit.solve()["as written"]


@pytest.mark.parametrize("rule, end, port, code", [(heat_freezing.ice, 0, 0, "ice"), (heat_freezing.ice, 0, 1, "ice"),
                                                   (heat_freezing.beyond_known, 1, 1, "end of what is known")])
def test_a_twentieth_of_a_kelvin_from_its_end_a_liquid_is_at_it_if_that_was_found(rule, end, port, code):
    case, limits = stood(), checks.Limits()
    last = case.layout.liquids[0].outer_limit[end]
    for off, at_it in ((0.049, True), (0.05, True), (0.051, False), (-5.0, True)):
        kelvin = last + (off if end == 0 else -off)
        found = list(rule(altered(case, ends={"tube": {port: {"temperature": kelvin}}}), limits))
        assert [one.code for one in found] == ([code] if at_it else [])
        assert all((one.where, one.limit.si, one.hurt) == ("tube", last, checks.reach.ROOT if code == "ice" else 1.0) for one in found)
        assert not list(rule(altered(case, ends={"tube": {port: {"temperature": kelvin}}}, finds_temperatures=False), limits))


def test_what_comes_in_as_hot_as_it_is_known_and_ice_are_no_end_of_what_is_known():
    case, limits = stood(), checks.Limits()
    coldest, hottest = case.layout.liquids[0].outer_limit
    standing = {port: {"temperature": hottest, "flow": 0.0} for port in (0, 1)}
    assert not list(heat_freezing.beyond_known(altered(case, ends={"tube": standing}), limits))
    for port, kelvin in ((0, hottest), (1, coldest)):
        assert not list(heat_freezing.beyond_known(altered(case, ends={"tube": {port: {"temperature": kelvin}}}), limits))


# ---- nothing is known ----

@pytest.mark.parametrize("make, code", [
    (lambda: slips.line(fn.hose(bore="80 mm", length="1 m", name="line")), "unusual size"),
    (lambda: slips.line(fn.hose("-8", "3 ft", spec="ptfe"), level="6 ft"), "unusual size"),
    (lambda: ratings.steady(ratings.rubber(), "120 psi").solve()["as written"], "over working pressure"),
    (lambda: ratings.steady(ratings.ptfe(), "100 psi", elsewhere=[fn.filter("1 psi at 50 gph", maker_pressure="60 psi",
                                                                            name="filter")]).solve()["as written"],
     "over working pressure"),
    (lambda: heat.engine("2 kW", parts=[heat.cooler(rated_pressure="10 kPa")]), "cooler pressure")])
def test_sizes_and_ratings_are_judged_of_what_somebody_wrote(make, code):
    case = make()
    assert told(case, code) is not None
    case.layout = replace(case.layout, notes={})
    assert told(case, code) is None


def test_a_network_without_words_is_reviewed_as_well():
    assert not {one.code for one in example.answer().findings} & {*BY_NOTES, "unusual size", "closed end", "assumed"}


@pytest.mark.parametrize("senses", [(), ("behind",), ("nowhere", "ambient"), ("behind", "nowhere")])
def test_a_regulator_of_which_nobody_knows_what_it_holds_falls_not_short(senses):
    case = regulators.carburettor("62 gph", dead_head="8 psi", wide_open="0.3 psi at 60 gph", droop="1 psi")
    assert [one.code for one in rules.falls_short(case, checks.Limits())] == ["regulator short"]
    case.layout = replace(case.layout, senses={"regulator": senses})
    assert list(rules.falls_short(case, checks.Limits())) == []
    (stuck,) = rules.at_stop(case, checks.Limits(), "regulator", "valve wide open")
    assert stuck.code == "regulator at a stop" and stuck.what == "is wide open: it holds no pressure"


def test_a_regulator_whose_pumps_all_stand_falls_not_short():
    case = regulators.carburettor("62 gph", dead_head="8 psi", wide_open="0.3 psi at 60 gph", droop="1 psi")
    assert list(rules.falls_short(altered(case, regimes={"pump": "stopped"}), checks.Limits())) == []


def test_without_notes_a_setting_is_where_the_spring_holds_the_seat():
    """The spring over what the seat's own area takes from the supply side: 3 bar over 1 - 0.1."""
    case = fuel.car()
    bent = altered(case, numbers={"regulator.set_pressure": 3e5, "regulator.seat_share": 0.1})
    bent.layout = replace(bent.layout, notes={})
    found = written.setting_of(bent, "regulator")
    assert found.pressure == pytest.approx(3e5 / 0.9) and found.flow is None
    behind = bent.ends("regulator")[1].total - bent.ambient.si
    assert found.turns_at == pytest.approx((3e5 - 0.1 * behind) / 0.9, rel=1e-3)
    reducing = altered(regulators.carburettor(), numbers={"regulator.set_pressure": 4e4, "regulator.seat_share": 0.05})
    reducing.layout = replace(reducing.layout, notes={})
    before = reducing.ends("regulator")[0].total - reducing.ambient.si
    assert written.setting_of(reducing, "regulator").pressure == 4e4
    assert written.setting_of(reducing, "regulator").turns_at == pytest.approx((4e4 + 0.05 * before) / 1.05, rel=1e-6)


# ---- pumps that stand, valves that are even ----

@pytest.mark.parametrize("duty, severity", [("0 %", "note"), ("5 %", "stop"), ("100 %", "stop")])
def test_a_pump_that_is_off_stops_where_injectors_ask_for_fuel(duty, severity):
    case = injectors.car(duty=duty, volts="0 V")
    (found,) = [one for one in checks.case_findings(case) if one.code == "pump off"]
    assert found.severity == severity and ("liquid is asked for" in found.what) == (severity == "stop")


def test_a_shut_check_valve_with_no_more_behind_it_than_before_it_is_not_backwards():
    case = valves.backwards().solve()["as written"]
    before, behind = case.ends("check")[0].total, case.ends("check")[1].total
    at = [told(altered(case, ends={"check": {1: {"total": total}}}), "check valve backwards")
          for total in (behind, before + 1e-3, before, before - 1e4)]
    assert [one is not None for one in at] == [True, True, False, False]
    assert at[0].numbers["over"].si == behind - before


def test_a_dead_head_that_nobody_knows_is_not_held_against_a_hose():
    case = ratings.pumped(ratings.strong_pump(), [ratings.rubber()]).solve()["as written"]
    assert told(case, "dead head over pressure") is not None
    case.kind_of = lambda part, own=case.kind_of: "electric pump" if part == "pump" else own(part)  # without charts
    assert told(case, "dead head over pressure") is None


@pytest.mark.parametrize("module, name", [(module.__name__, name) for module in map(importlib.import_module, MODULES)
                                          for name, one in vars(module).items()
                                          if is_dataclass(one) and one.__module__ == module.__name__])
def test_what_rules_hand_on_is_not_altered_afterwards(module, name):
    assert vars(importlib.import_module(module))[name].__dataclass_params__.frozen
