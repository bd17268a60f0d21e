"""A displacement pump wants a relief that liquid can reach, the right way round and of a sane setting; and nothing bears any pressure.

The limits are common practice, no source, but the 100 psi of fuel hose: SAE J30 R9 and R14, from memory.
"""

import pytest

import flarenut as fn
from flarenut import checks

PSI = 6894.757293168361


def oiled(relief="pump out", *, fluid="SAE 10W-40", opens_at="65 psi", second=(), speed="2000 rpm", temperature="100 C", straight=(),
          after=()):
    """Gear pump, filter, hose, engine. `relief`: where it begins, or None; `second`: the same for a second one; `straight`: parts after
    the pump; `after`: runs more."""
    circuit = fn.Circuit("oil (invented)", fluid=fluid, fluid_temperature=temperature)
    circuit.tank("pan", level="4 in")
    circuit.run("pump run", "pan", "pump out", [fn.displacement_pump("16 cc/rev", speed=speed, ratio=0.5, name="oil pump"), *straight])
    circuit.run("main", "pump out", "gallery", [fn.filter(drop="5 psi at 8 gpm", rated_with="SAE 10W-40 at 100 C", name="filter"),
                                                fn.hose("-10", "4 ft", spec="full-size", name="hose")])
    circuit.run("engine", "gallery", "pan", [fn.resistance(drop="55 psi at 6 gpm", rated_with="SAE 10W-40 at 100 C", name="bearings")])
    if relief:
        ends = ("pan", "pump out") if relief == "backwards" else (relief, "pan")
        circuit.run("relief run", *ends, [fn.relief_valve(opens_at, wide_open="15 psi at 10 gpm", name="relief")])
    for start, stop in second:
        circuit.run("second", start, stop, [fn.relief_valve(opens_at, wide_open="15 psi at 10 gpm", name="second relief")])
    return circuit.solve()["as written"]


def told(case, code):
    found = [one for one in case.findings if one.code == code]
    assert len(found) <= 1, found
    return found[0] if found else None


RELIEF = ("no relief", "relief out of reach", "relief backwards", "relief setting", "pressure ceiling")


def test_a_pump_with_a_relief_at_its_outlet_is_left_alone():
    case = oiled()
    assert not any(told(case, code) for code in RELIEF)


def test_a_displacement_pump_without_relief_stops_and_comes_before_what_it_brings_about():
    case = oiled(None, temperature="-10 C")
    found = told(case, "no relief")
    assert found.severity == "stop" and found.where == "oil pump" and case.findings[0] is found
    inlet, outlet = case.solution.ends("oil pump")
    assert found.numbers["rise"].si == pytest.approx(outlet.total - inlet.total) and "relief valve" in found.cure


def test_warm_and_slow_it_is_told_all_the_same():
    assert told(oiled(None, speed="800 rpm"), "no relief").severity == "stop"


def test_a_relief_behind_the_filter_is_out_of_reach_and_one_behind_a_bare_hose_is_not():
    found = told(oiled("gallery"), "relief out of reach")
    assert found.severity == "fix" and "filter" in found.what and "relief" in found.what and told(oiled("gallery"), "no relief") is None
    assert not any(told(oiled(straight=[fn.hose("-10", "3 ft", spec="full-size", name="first hose")]), code) for code in RELIEF)


def test_a_check_valve_is_passed_the_way_it_opens():
    case = oiled(straight=[fn.check_valve(rated="3 psi at 5 gpm", name="check")])
    assert told(case, "no relief") is None and told(case, "relief out of reach") is None


def test_a_relief_written_backwards_stops():
    case = oiled("backwards")
    found = told(case, "relief backwards")
    inlet, outlet = case.solution.ends("relief")
    assert found.severity == "stop" and found.numbers["over"].si == pytest.approx(outlet.total - inlet.total)
    assert told(case, "no relief") is None  # said once


def test_a_pair_of_reliefs_one_for_each_way_is_left_alone():
    case = oiled(second=[("pan", "pump out")])
    assert told(case, "relief backwards") is None and told(case, "no relief") is None


def test_a_bypass_regulator_guards_a_pump_as_well():
    circuit = fn.Circuit("pump that an engine drives (invented)", fluid="gasoline class A")
    circuit.tank("cell", level="8 in")
    circuit.run("feed", "cell", "rail", [fn.displacement_pump("5 cc/rev", speed="2000 rpm", turbulent_share="50 %",
                                                              volumetric_efficiency="90 % at 60 psi, 3000 rpm, 0.5 cP", name="pump")])
    circuit.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient", name="regulator")])
    case = circuit.solve()["as written"]
    assert not any(told(case, code) for code in RELIEF)


@pytest.mark.parametrize(("opens_at", "severity"), [("65 psi", None), ("119 psi", None), ("130 psi", "fix"), ("65 bar", "stop")])
def test_a_relief_set_in_the_wrong_unit_is_heard_of(opens_at, severity):
    found = told(oiled(opens_at=opens_at, speed="800 rpm"), "relief setting")
    assert (found.severity if found else None) == severity
    if severity == "stop":
        assert found.value.to("psi") == pytest.approx(942.7, abs=0.1) and "bar or psi" in found.cure


def test_hydraulic_oil_may_be_relieved_higher():
    case = oiled(fluid="ISO VG 46", opens_at="1200 psi", temperature="50 C")
    assert told(case, "relief setting") is None and told(case, "pressure ceiling") is None


@pytest.mark.parametrize(("times", "severity"), [(0.99, "stop"), (1.01, "watch"), (2.5, None)])
def test_pressure_in_a_filter_is_held_against_what_cans_bear(times, severity):
    """Twice the ceiling is a stop: with the ceiling half or the whole of the pressure, and above it."""
    case = oiled(None, speed="6000 rpm", temperature="40 C")
    static = max(end.static for end in case.solution.ends("filter")) - case.ambient.si
    limits = checks.Limits(oil_filter_pressure=f"{static * times / (2 if times < 2 else 1) / PSI} psi", oil_line_pressure="9000 psi")
    found = [one for one in checks.case_findings(case, limits) if one.code == "pressure ceiling"]
    assert [one.severity for one in found] == ([severity] if severity else [])
    if found:
        assert found[0].where == "filter" and found[0].value.si == pytest.approx(static) and found[0].source == "set by you"


def fuelled(dead_head):
    circuit = fn.Circuit("fuel (invented)", fluid="gasoline class A")
    circuit.tank("cell", level="8 in")
    circuit.run("feed", "cell", "rail", [fn.formula_pump(dead_head, "120 gph", name="pump"), fn.hose("-8", "11 ft", spec="ptfe", name="hose")])
    circuit.injectors("bank", "rail", count=6, flow="400 cc/min at 3 bar", duty="2 %", to="ambient")
    return circuit.solve()["as written"]


def test_fuel_hose_has_a_ceiling_of_its_own():
    found, quiet = told(fuelled("130 psi"), "pressure ceiling"), told(fuelled("90 psi"), "pressure ceiling")
    assert found.severity == "watch" and found.limit.to("psi") == pytest.approx(100.0) and "hose" in found.where and quiet is None
    assert told(fuelled("250 psi"), "pressure ceiling").severity == "stop"


@pytest.mark.parametrize("fluid, first, beside, severity", [
    ("diesel", "filter", False, "watch"), ("diesel", "valve", False, "fix"), ("diesel", "filter", True, "fix"),
    ("SAE 10W-40", "filter", False, "fix")])
def test_before_a_relief_filters_alone_of_a_thin_liquid_are_hardly_in_the_way(fluid, first, beside, severity):
    made = {"filter": fn.filter(drop="1 psi at 8 gpm", rated_with=f"{fluid} at 40 C", name="filter"),
            "valve": fn.valve(rated="4 psi at 3 gpm", name="valve")}
    circuit = fn.Circuit("transfer (invented)", fluid=fluid, fluid_temperature="40 C")
    circuit.tank("drum", level="4 in")
    circuit.run("pumping", "drum", "out", [fn.displacement_pump("5 cc/rev", speed="1500 rpm",
                                                                volumetric_efficiency="90 % at 60 psi, 1500 rpm, 2 cP", name="pump")])
    circuit.run("to the relief", "out", "after", [made[first]])
    circuit.run("relief run", "after", "drum", [fn.relief_valve("65 psi", wide_open="15 psi at 10 gpm", name="relief")])
    if beside:
        circuit.run("beside", "out", "elsewhere", [made["valve"]])
        circuit.junction("elsewhere", demand="0.5 gpm")
    found = told(circuit.solve()["as written"], "relief out of reach")
    assert found.severity == severity and f"stands behind {first}{', valve' if beside else ''}:" in found.what
    mild = severity == "watch"
    assert ("change the filter in time" in found.cure) is mild and ("or hardly lets cold liquid by" in found.what) is not mild and (found.hurt > 0.0) is not mild


def test_a_relief_that_one_pump_presses_on_is_itself_backwards_though_another_draws_from_there():
    circuit = fn.Circuit("two pumps (invented)", fluid="diesel", fluid_temperature="40 C")
    circuit.tank("drum", level="4 in")
    circuit.fixed("accumulator", "300 psi")
    circuit.run("lift", "drum", "between", [fn.formula_pump("20 psi", "100 gph", name="lift pump")])
    circuit.run("feed", "between", "ambient", [fn.formula_pump("20 psi", "100 gph", name="feed pump"), fn.orifice("2 mm", name="jet")])
    circuit.run("relief run", "between", "accumulator", [fn.relief_valve("65 psi", wide_open="15 psi at 10 gpm", name="relief")])
    case = circuit.solve()["as written"]
    assert told(case, "relief backwards").where == "relief" and told(case, "pump backwards") is None
