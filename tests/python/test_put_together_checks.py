"""How a circuit is put together decides what is said of it: what leads on, what stands beside, what somebody said. All circuits are invented."""

from math import pi
from types import SimpleNamespace

import pytest
import test_brake_findings as brakes
import test_check_valve_checks as valves
import test_edge_checks as edges
import test_heat_checks as heat
import test_heat_unsaid as unsaid
import test_injector_checks as injectors
import test_rating_findings as ratings
import test_regulator_checks as regulators
import test_sound_circuits as sound
from altered_case import altered
from checks_example import pump, still
from test_heat_rules_checks import COLD, second, state

import flarenut as fn
from flarenut import checks
from flarenut.checks.oil import drawing_places
from flarenut.units import Quantity


def told(case, code, **limits):
    found = [one for one in checks.case_findings(case, checks.Limits(**limits)) if one.code == code]
    assert len(found) <= 1, found
    return found[0] if found else None


def test_a_case_without_an_answer_is_told_why_and_what_is_seen_without_one_if_that_is_asked():
    circuit = fn.Circuit("stuck (invented)", fluid="water")
    circuit.tank("drum", level="6 ft")
    circuit.run("line", "drum", "ambient", [fn.hose(bore="10 mm", length="1 m")])
    case = circuit.solve()["as written"]
    unsolved = altered(case)
    unsolved.solution._solution = type("Unsolved", (), {"converged": False, "message": "it would not", "number": case.solution.number, "part_names": case.part_names,
                                                        "junction_names": case.junction_names, "kind_of": case.solution.kind_of, "ends": case.solution.ends})()
    assert [one.code for one in checks.case_findings(unsolved)] == ["not solved", "unusual size"]
    assert [one.code for one in checks.case_findings(unsolved, rules=(checks.closed_ends,))] == ["not solved"]
    assert [one.code for one in checks.case_findings(unsolved, rules=(checks.ratings.too_hot,))] == ["not solved"]


# ---- oil: where an engine draws ----

def engine(*parts, drain=(), displacement="6 cc/rev"):
    """A pump through a gallery to its bearings."""
    circuit = fn.Circuit("oil (invented)", fluid="SAE 10W-40", fluid_temperature="100 C")
    circuit.tank("pan", level="4 in")
    circuit.run("pumping", "pan", "gallery", [fn.displacement_pump(displacement, speed="2000 rpm", name="pump"), fn.filter(drop="2 psi at 8 gpm", name="filter", **sound.OIL)])
    circuit.run("mains", "gallery", "crankcase" if drain else "pan", [*parts, fn.resistance(drop="55 psi at 2 gpm", name="bearings", **sound.OIL)])
    if drain:
        circuit.run("drain", "crankcase", "pan", list(drain))
    return circuit.solve()["as written"]


def places(case):
    return [case.junction_names[place] for place in drawing_places(case, "pump")]


def test_an_engine_draws_before_the_last_part_that_resists():
    assert places(engine()) == ["gallery"]
    through = engine(fn.orifice("3 mm", name="restrictor"), fn.hose("-8", "1 ft", spec="ptfe", name="hose"))
    (place,) = places(through)
    assert place == through.junction_names[through.ends("bearings")[0].junction] != "gallery"
    assert places(engine(drain=[fn.hose("-12", "2 ft", spec="full-size", name="drain hose")])) == ["gallery"]
    cooled = engine(drain=[fn.core("0.3 bar at 30 L/min", rated_with="own at 100 C", name="cooler")])
    assert places(cooled) == []  # a jet that lets oil back through a cooler is a bleed


@pytest.mark.parametrize("gpm, drawn", [(0.24, ["gallery"]), (0.26, ["gallery", "turbocharger"])])
def test_what_draws_less_than_a_quarter_of_the_most_says_nothing_of_the_engine(gpm, drawn):
    circuit = fn.Circuit("oil (invented)", fluid="SAE 10W-40", fluid_temperature="100 C")
    circuit.tank("pan", level="4 in")
    circuit.junction("gallery", demand="1 gpm")
    circuit.junction("turbocharger", demand=f"{gpm} gpm")
    circuit.run("pumping", "pan", "out", [fn.displacement_pump("6 cc/rev", speed="2000 rpm", name="pump")])
    circuit.run("relief", "out", "pan", [fn.relief_valve("40 psi", wide_open="15 psi at 10 gpm", name="relief")])
    for place in ("gallery", "turbocharger"):
        circuit.run(f"to {place}", "out", place, [fn.hose("-8", "1 ft", spec="ptfe", name=f"{place} hose")])
    assert sorted(places(circuit.solve()["as written"])) == drawn


# ---- check valves, dead heads ----

def test_a_check_valve_behind_a_stopped_pump_is_as_it_should_be():
    case = valves.spilling("rail", "outlet", fn.hose(bore="8 mm", length="2 m"), fn.orifice("1 mm", name="jet"))
    assert "nothing flows behind it" in told(case, "check valve backwards").what
    assert told(altered(case, regimes={"pump": "stopped"}), "check valve backwards") is None


def shut(beside):
    """A pump against a closed line, and where said a reducing regulator that is shut, behind that pump or behind another."""
    car = still("shut lines", vapour="0 Paa")
    car.tank("cell", level="0.2 m")
    car.junction("end")
    car.junction("bowl", demand="0 L/h")
    car.run("feed", "cell", "end", [pump()])
    if beside == "behind another":
        car.run("other feed", "cell", "other", [pump("other pump")])
    if beside:
        car.run("to the bowl", "end" if beside == "behind it" else "other", "bowl", [fn.reducing_regulator("6 psi", wide_open="2 psi at 40 gph", name="regulator")])
    return {one.where: one.severity for one in checks.case_findings(car.solve()["as written"]) if one.code == "dead-headed pump"}


def test_a_pump_that_stands_against_a_regulator_is_told_milder_than_one_against_a_shut_line():
    assert shut("behind it") == {"pump": "watch"} and shut("behind another") == {"pump": "stop", "other pump": "watch"}


# ---- injectors ----

@pytest.mark.parametrize("across, severity, words", [(225000.0, "watch", "still over"), (224999.0, "stop", "under"), (225001.0, "watch", "still over")])
def test_injectors_with_three_quarters_of_their_rating_left_are_watched(across, severity, words):
    case = injectors.car(reference="ambient", manifold="20 psi boost")
    inlet = 240000.0
    found = told(altered(case, ends={"bank": {0: {"total": inlet + across}, 1: {"total": inlet}}}), "boost not followed")
    assert found.severity == severity and f"across the injectors, {words}" in found.what


def test_seepage_itself_is_drawn():
    case = regulators.carburettor("0.01 gph")
    for flow, code in ((1e-5, "regulator all but closed"), (0.99e-5, "regulator shut")):
        bent = altered(case, ends={"regulator": {0: {"flow": flow}}}, regimes={"regulator": "shut"})
        assert checks.regulators.locked(bent, "regulator") is (code == "regulator shut")


# ---- brakes, clutches, steering ----

def test_a_clutch_is_known_by_the_run_that_its_line_is_in():
    made = fn.Circuit("pedals (invented)", fluid="DOT 4", invented=True)
    made.fixed("master", pressure="60 psi")
    for run in ("front left", "clutch line", "rear"):
        made.run(run, "master", "ambient", [fn.hose("-4", "1 ft", spec="push-on", name=f"hose {run[:5]}"), fn.orifice("0.5 mm", name=f"jet {run[:5]}")])
    case = made.solve()["as written"]
    found = {code: sorted(one.where for one in checks.case_findings(case) if one.code == code) for code in ("brake line", "clutch line")}
    assert found == {"brake line": ["hose front", "hose rear"], "clutch line": ["hose clutc"]}


@pytest.mark.parametrize("pressure, count", [("9.99 MPa", 1), ("10 MPa", 0)])
def test_brake_hose_that_bears_a_panic_stop_is_left_alone(pressure, count):
    hose = fn.hose(bore="3.2 mm", length="1 ft", standard="FMVSS 106", maker_pressure=pressure)
    assert len(brakes.found(brakes.bench(hose))) == count


def steered(fluid, name, service=None, **more):
    circuit = fn.Circuit(name, fluid=fluid, fluid_temperature="70 C", invented=True)
    circuit.tank("reservoir", level="10 cm")
    circuit.run("pressure side", "reservoir", "gear", [fn.displacement_pump("10 cc/rev", speed="900 rpm", name="pump"), fn.hose("-6", "3 ft", spec="push-on", name="hose", **more)],
                service=service)
    circuit.run("return side", "gear", "reservoir", [fn.orifice("4 mm", name="gear valve"), fn.hose("-6", "3 ft", spec="push-on", name="back hose")])
    return [one.where for one in checks.case_findings(circuit.solve()["as written"]) if one.code == "steering hose"]


@pytest.mark.parametrize("fluid, name, service, where", [
    ("power steering fluid", "rack (invented)", None, ["hose"]), ("ISO VG 46", "power steering (invented)", None, ["hose"]), ("ISO VG 46", "winch (invented)", None, []),
    ("ISO VG 46", "winch (invented)", "steering", ["hose"]), ("power steering fluid", "rack (invented)", "other", []), ("ISO VG 46", "power steering (invented)", "other", [])])
def test_steering_is_known_by_its_liquid_its_name_or_what_somebody_says(fluid, name, service, where):
    assert steered(fluid, name, service) == where


def test_hose_of_the_steering_that_bears_enough_is_left_alone_and_held_by_clamps_never():
    assert steered("power steering fluid", "rack (invented)", maker_pressure="6.9 MPa") == [] and steered("power steering fluid", "rack (invented)", maker_pressure="6.8 MPa") == ["hose"]
    assert steered("power steering fluid", "rack (invented)", maker_pressure="20 MPa", clamped=True) == ["hose"]


# ---- hose and tube ----

def test_hoses_that_let_vapour_through_are_told_by_what_is_known_of_each():
    """SAE 30R7 and 30R9 are told apart, two of a kind together."""
    hoses = [fn.hose(bore="8 mm", length="1 ft", standard=standard, name=f"{standard} {number}") for standard in ("30R7", "30R9") for number in (1, 2)]
    case = ratings.steady(hoses[0], "6 psi", elsewhere=hoses[1:]).solve()["as written"]
    found = sorted(one.where for one in checks.case_findings(case) if one.code == "fuel through the wall")
    assert found and all({word.split()[0] for word in where.split(", ")} != {"30R7", "30R9"} for where in found) and any("30R7 1, 30R7 2" == where for where in found)


# ---- heat ----

def test_what_several_states_have_exchanged_is_told_of_all_of_them():
    swapped = (("right", 350.0, 290.0), ("left", 350.0, 360.0))
    (found,), _ = second(state(*COLD), state(*swapped), state(*COLD))
    assert "with LEFT and RIGHT exchanged" in found.text()


def test_less_than_a_watt_from_a_line_counts_as_well():
    hoses = [fn.hose(bore="10 mm", length="1 m", name=f"hose {number}") for number in range(2)]
    case = heat.engine("100 W", parts=hoses, sump={"heat_loss": "10 W/K"})
    bent = altered(case, heats={"hose 0": 30.0, "hose 1": 0.9, **{part: 0.0 for part in case.parts_of_kind("line") if part not in ("hose 0", "hose 1")}})
    found = told(bent, "heat from lines", line_heat_share="1 %")
    assert found.numbers["heat"].si == pytest.approx(30.9) and found.where == "hose 0"


def test_thermostats_are_not_held_against_each_other_where_temperatures_are_given():
    six = unsaid.engine()
    cooling = next(name for name, piece in six.compiled().pieces.items() if piece.word == "thermostat")
    six.case("late", **{**six.cases["hot idle"].conditions, f"{cooling}.opens": "118 C", f"{cooling}.full": "130 C"})
    assert told(six.solve("late")["late"], "thermostats apart") is not None
    assert told(six.solve("late", temperatures="given")["late"], "thermostats apart") is None


def test_a_cooler_at_its_rated_pressure_itself_bears_it():
    case = edges.cooled(2e5)
    assert case.ambient.si == 101325.0
    same = altered(case, ends={"cooler": {port: {"static": 301325.0} for port in (0, 1)}})
    assert told(same, "cooler pressure") is None


# ---- carburettors ----

def test_a_vacuum_at_the_reference_of_a_regulator_is_no_boost_and_one_set_as_high_as_for_injection_feeds_none():
    circuit = sound.blow_through_dead_head()
    circuit.case("overrun", **{"plenum.pressure": "-2 psi"})
    case = circuit.solve()["overrun"]
    found = told(case, "float valve pressure", float_valve_pressure="1 psi")
    assert found.value.kind == "pressure_gauge" and not found.numbers and found.value.si == pytest.approx(case.at("bowl").gauge.si)
    setting = checks.written.setting_of(case, "regulator").pressure
    assert told(case, "float valve pressure", float_valve_pressure="1 psi", carburettor_below=Quantity(setting, "pressure_difference")) is None


# ---- bends ----

@pytest.mark.parametrize("way, left", [(None, 2.0 - pi / 2.0), ("by points", 2.0)])
def test_what_its_ends_turn_is_out_of_the_bends_of_a_way_by_points_already(way, left):
    shop = SimpleNamespace(ends=(SimpleNamespace(turn=90.0), None, SimpleNamespace(turn=0.0)))
    assert checks.ratings._bent_itself(SimpleNamespace(line=SimpleNamespace(way=way, bend_angle=2.0, shop=shop))) == pytest.approx(left)


# ---- heights ----

def test_a_manifold_that_injectors_spray_into_weighs_nothing():
    """It stands off forward, and an acceleration forward moves nothing all the same; a pick-up that stands off says that it does."""
    car = fn.Circuit("launch (invented)", fluid="gasoline")
    car.tank("cell", level="8 in", position=["0 ft", "0 ft", "0 ft"])
    car.fixed("plenum", "0 psi", position=["6 ft", "0 ft", "0 ft"])
    car.junction("rail", position=["0 ft", "0 ft", "1 ft"])
    car.run("feed", "cell", "rail", [fn.formula_pump("60 psi", "100 gph", name="pump")])
    car.injectors("bank", "rail", count=4, flow="400 cc/min at 3 bar", to="plenum")
    car.case("launch", acceleration="0.9 g")
    case = car.solve()["launch"]
    assert sorted(checks.written._wet_places(case)) == ["cell", "rail"] and told(case, "acceleration without effect") is not None
    assert told(altered(case, numbers={"cell.pickup_forward": 0.1}), "acceleration without effect") is None


def test_a_jet_beside_the_bearings_on_a_branch_without_a_cooler_is_no_bleed():
    """As piston squirters are: the engine draws there as well. With a cooler straight before it, and no branch between, it is one."""
    def beside(*parts):
        circuit = fn.Circuit("oil (invented)", fluid="SAE 10W-40", fluid_temperature="100 C")
        circuit.tank("pan", level="4 in")
        circuit.run("pumping", "pan", "gallery", [fn.displacement_pump("10 cc/rev", speed="3000 rpm", name="pump")])
        circuit.run("relief", "gallery", "pan", [fn.relief_valve("5 bar", wide_open="2 bar at 60 L/min", name="relief", rated_with="own at 100 C")])
        circuit.run("mains", "gallery", "pan", [fn.bearings(5, diameter="50 mm", width="18 mm", clearance="0.055 mm", speed="3000 rpm", name="bearings")])
        circuit.run("squirters", "gallery", "pan", [*parts, fn.orifice("3 mm", name="jet")])
        case = circuit.solve()["as written"]
        assert case.solution.flow_of("jet") > case.solution.flow_of("bearings")
        return case.ends("jet")[0].junction in drawing_places(case, "pump")

    assert beside(fn.hose("-8", "1 ft", spec="ptfe", name="hose")) and beside()
    assert not beside(fn.core("0.3 bar at 30 L/min", rated_with="own at 100 C", name="cooler"))
