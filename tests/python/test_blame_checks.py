"""A rule blames the part that is at fault, and still speaks beside a sound one: limits are common practice, no source."""

import pytest

import flarenut as fn

import test_sound_circuits as sound


def told(case, code):
    found = [one for one in case.findings if one.code == code]
    assert len(found) <= 1, found
    return found[0] if found else None


# ---- injectors ----

def uneven(setting):
    """A regulator at the rail L; the rail R hangs on a hose far too thin."""
    circuit = fn.Circuit("two rails (invented)", fluid="E10")
    circuit.tank("cell", level="8 in")
    circuit.run("feed", "cell", "front", [sound.pump(), sound.ptfe("-8", "11 ft")])
    circuit.run("into L", "front", "rail L", [sound.ptfe("-8", "2 ft")])
    circuit.run("into R", "front", "rail R", [sound.ptfe("-3", "20 ft")])
    circuit.run("return", "rail L", "cell", [fn.bypass_regulator(setting, reference="ambient", wide_open="15 psi at 500 L/h", name="regulator"),
                                             sound.ptfe("-8", "12 ft")])
    for side in "LR":
        circuit.injectors(f"bank {side}", f"rail {side}", count=4, flow="800 cc/min at 3 bar")
    circuit.case("full power", duty="85 %", manifold="0 psi")
    return circuit.solve()["full power"]


@pytest.mark.parametrize("setting", ["62 psi", "64 psi", "66 psi"])
def test_a_regulator_a_hair_short_does_not_silence_injectors_that_starve_elsewhere(setting):
    case = uneven(setting)
    found = told(case, "injector pressure low")
    assert (case.solution.regime_of("regulator") == "shut") == (setting != "62 psi")
    assert found.severity == "stop" and found.where == "bank R" and found.value.to("psi") < 25.0


def test_a_surge_tank_behind_a_lift_regulator_is_judged_by_the_regulator_of_its_rail():
    """Starved, the rail's own regulator is named, and the lift regulator on open air is not."""
    circuit = sound.surge_tank()
    circuit.change("pump", dead_head="50 psi", free_flow="60 gph", through=None)
    case = circuit.solve()["full power"]
    assert told(case, "regulator starved").where == "regulator" and told(case, "boost not followed") is None
    circuit.change("regulator", reference="ambient")
    found = told(circuit.solve()["full power"], "boost not followed")
    assert "reference of regulator is ambient" in found.text() and "lift" not in found.text()


def test_a_lift_regulator_does_not_stand_in_for_the_one_that_is_missing():
    circuit = fn.Circuit("no regulator at the rail (invented)", fluid="E10")
    circuit.tank("cell", level="8 in")
    circuit.tank("surge tank", level="8 in", height="4 in")
    circuit.run("lift", "cell", "tee", [fn.formula_pump("12 psi", "160 gph", name="lift pump")])
    circuit.run("lift return", "tee", "cell", [fn.bypass_regulator("4 psi", reference="ambient", wide_open="2 psi at 500 L/h", name="lift regulator")])
    circuit.run("fill", "tee", "surge tank", [fn.orifice("3 mm", name="restrictor")])
    circuit.run("feed", "surge tank", "rail", [sound.pump(), sound.ptfe("-8", "11 ft")])
    circuit.injectors("bank", "rail", count=6, flow="550 cc/min at 3 bar", duty="2 %", to="ambient")
    found = told(circuit.solve()["as written"], "injector pressure")
    assert "nothing limits" in found.text() and "a return with a regulator" in found.cure


@pytest.mark.parametrize(("returns", "severity"), [(True, "stop"), (False, "fix")])
def test_a_rail_without_return_may_have_a_computer_that_knows_the_boost(returns, severity):
    circuit = fn.Circuit("boost (invented)", fluid="E10")
    circuit.tank("cell", level="8 in")
    circuit.run("feed", "cell", "tee", [fn.formula_pump("120 psi", "160 gph", name="pump"), sound.ptfe("-8", "3 ft")])
    circuit.run("spill", "tee", "cell", [fn.bypass_regulator("58 psi", reference="ambient", wide_open="15 psi at 500 L/h", name="regulator")])
    circuit.run("on", "tee", "dead rail", [sound.ptfe("-8", "8 ft")])
    circuit.injectors("bank", "tee" if returns else "dead rail", count=6, flow="550 cc/min at 4 bar")
    circuit.case("boost", duty="60 %", manifold="20 psi boost")
    found = told(circuit.solve()["boost"], "boost not followed")
    assert found.severity == severity and "unless its computer corrects for it" in found.text()


@pytest.mark.parametrize(("setting", "speaks"), [("43.5 psi", False), ("100 psi", True)])
def test_at_no_flow_it_is_the_setting_that_counts_and_not_what_creeps_by_the_seat(setting, speaks):
    circuit = sound.dead_head()
    circuit.change("regulator", set=setting)
    circuit.change("pump", dead_head="130 psi", free_flow="150 gph", through=None)
    case = circuit.solve()["prime, 0 %"]
    assert case.at("rail").gauge.to("psi") > 87.0  # twice 3 bar
    assert (told(case, "injector pressure") is not None) == speaks
    shut = told(case, "regulator shut")
    assert shut.severity == "note" and "creep" in shut.text()
    assert told(case, "dead-headed pump").severity == "watch"


# ---- carburettors ----

def test_boost_is_taken_off_what_a_float_valve_bears_and_no_more():
    circuit = sound.blow_through()
    circuit.change("regulator", set="14 psi")
    found = told(circuit.solve()["boost"], "float valve pressure")
    assert found.value.to("psi") == pytest.approx(14.0, abs=2.0) and found.numbers["boost"].to("psi") == pytest.approx(10.0)
    assert "over the 10.0 psig" in found.text()


# ---- displacement pumps ----

def test_a_dry_sump_without_its_relief_is_not_taken_for_a_scavenge_stage():
    circuit = fn.Circuit("dry sump without relief (invented)", fluid="SAE 10W-40", fluid_temperature="100 C")
    circuit.tank("oil tank", level="14 in", height="10 in")
    circuit.tank("sump", level="1 in")
    circuit.run("pressure run", "oil tank", "gallery", [fn.displacement_pump("20 cc/rev", speed="1500 rpm", name="pressure stage")])
    circuit.run("engine", "gallery", "sump", [fn.resistance(drop="55 psi at 7 gpm", name="bearings", **sound.OIL)])
    circuit.run("scavenge", "sump", "oil tank", [fn.displacement_pump("30 cc/rev", speed="1500 rpm", name="scavenge stage")])
    found = told(circuit.solve()["as written"], "no relief")
    assert found.severity == "stop" and found.where == "pressure stage"


def test_low_oil_pressure_of_a_dry_sump_is_heard_of_where_its_bearings_drain_to_the_sump():
    circuit = sound.dry_sump()
    circuit.change("pressure stage", displacement="6 cc/rev")
    found = told(circuit.solve()["hot"], "oil pressure")
    assert found.severity == "stop" and found.where == "gallery"


@pytest.mark.parametrize(("fluid", "severity"), [("methanol", "watch"), ("SAE 10W-40", "fix")])
def test_a_filter_before_the_relief_hardly_blocks_for_thin_liquid(fluid, severity):
    circuit = fn.Circuit("pump, filter, relief (invented)", fluid=fluid)
    circuit.tank("tank", level="8 in")
    circuit.run("feed", "tank", "block", [fn.displacement_pump("12 cc/rev", speed="3000 rpm", name="pump"),
                                          fn.filter(drop="1 psi at 10 gpm", rated_with=f"{fluid} at 20 C", name="filter")])
    circuit.run("relief run", "block", "tank", [fn.relief_valve("60 psi", wide_open="10 psi at 10 gpm", name="relief")])
    assert told(circuit.solve()["as written"], "relief out of reach").severity == severity


@pytest.mark.parametrize(("asked", "speaks"), [("60 psi at 3 gpm", False), ("900 psi at 2 gpm", True)])
def test_a_preset_of_60_psi_is_not_trusted_at_hydraulic_pressure(asked, speaks):
    circuit = fn.Circuit("steering (invented)", fluid="ISO VG 46", fluid_temperature="50 C")
    circuit.tank("reservoir", level="4 in", height="20 in")
    circuit.run("suction", "reservoir", "pump out", [fn.displacement_pump("10 cc/rev", speed="1500 rpm", name="pump")])
    circuit.run("relief run", "pump out", "reservoir", [fn.relief_valve("1200 psi", wide_open="50 psi at 5 gpm", name="relief")])
    circuit.run("work", "pump out", "reservoir", [fn.valve(rated=asked, name="valve")])
    case = circuit.solve()["as written"]
    inlet, outlet = case.solution.ends("pump")
    found = told(case, "pump slip assumed")
    assert (found is not None) == speaks == (outlet.total - inlet.total > 3 * 60 * 6894.757)
    if speaks:
        assert found.severity == "watch" and found.value.si == pytest.approx(outlet.total - inlet.total) and "volumetric_efficiency" in found.cure


# ---- hoses ----

@pytest.mark.parametrize(("nozzle", "severity"), [(True, "watch"), (False, "stop")])
def test_twice_the_ceiling_is_a_stop_but_for_nozzles(nozzle, severity):
    circuit = fn.Circuit("methanol (invented)", fluid="methanol")
    circuit.tank("cell", level="8 in")
    circuit.junction("draw", demand=None if nozzle else "5 gph")
    circuit.run("feed", "cell", "draw", [fn.formula_pump("220 psi", "80 gph", name="pump"), fn.hose(bore="4 mm", length="10 ft", name="hose")])
    if nozzle:
        circuit.run("nozzle run", "draw", "ambient", [fn.orifice("0.8 mm", name="nozzle")])
    assert told(circuit.solve()["as written"], "pressure ceiling").severity == severity
