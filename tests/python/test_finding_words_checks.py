"""What a finding says of itself where it depends on the case: its cure, whose figure it is, that it keeps silent where a circuit ends nowhere.

All circuits are invented.
"""

import pytest
import test_injector_checks as injectors
from test_brake_findings import bench
from test_brake_findings import found as braking
from test_rating_findings import found as rated
from test_rating_findings import steady

import flarenut as fn
from flarenut import checks

HOSE = {"spec": "full-size", "mass": "0.4 kg"}


def one(findings, code):
    mine = [finding for finding in findings if finding.code == code]
    assert len(mine) <= 1, mine
    return mine[0] if mine else None


@pytest.mark.parametrize("psi, told", [(900, True), (999, True), (1001, False)])
def test_clutch_hose_bears_a_thousand_psi_or_is_told_by_how_far_it_falls_short(psi, told):
    hose = fn.hose("-4", "12 in", spec="SAE 100R1", standard="SAE 100R1", maker_pressure=f"{psi} psi")
    (finding,) = braking(bench(hose, "DOT 4", "clutch (invented)", "clutch line"), "clutch line") or (None,)
    assert (finding is not None) == told
    if told:
        assert finding.severity == "fix" and finding.value.to("psi") == pytest.approx(psi)
        assert finding.limit.to("psi") == pytest.approx(1000.0, rel=1e-3) and finding.hurt == pytest.approx(finding.limit.to("psi") / psi - 1.0)


@pytest.mark.parametrize("words, unjudged, cures", [
    (HOSE, "pressure and temperature", ("maker_pressure", "standard =")), ({**HOSE, "maker_pressure": "400 psi"}, "temperature", ("standard =",))])
def test_what_is_not_judged_asks_for_what_is_missing_alone(words, unjudged, cures):
    finding = one(rated(steady(fn.hose("-8", "4 ft", **words), "6 psi")), "rating unknown")
    assert f"not judged for {unjudged}" in finding.text()
    assert [word for word in ("maker_pressure", "standard =") if word in finding.cure] == list(cures)


def test_a_return_that_leads_nowhere_has_no_back_pressure():
    circuit = fn.Circuit("forgotten return (invented)", fluid="gasoline")
    circuit.tank("cell", level="8 in")
    circuit.run("feed", "cell", "rail", [fn.formula_pump("80 psi", "300 L/h", name="pump"), fn.hose("-6", "3 m", spec="ptfe", name="feed hose")])
    circuit.run("return", "rail", "nowhere", [fn.bypass_regulator("40 psi", reference="ambient", name="regulator"), fn.hose("-6", "3 m", spec="ptfe", name="return hose")])
    circuit.injectors("bank", "rail", count=6, flow="400 cc/min at 3 bar", duty="20 %", to="ambient")
    case = circuit.solve()["as written"]
    assert one(checks.case_findings(case), "return rise") is None and one(checks.case_findings(case), "closed end") is not None


def test_a_return_into_a_demand_is_held_against_no_tank():
    circuit = fn.Circuit("given return (invented)", fluid="gasoline")
    circuit.tank("cell", level="8 in")
    circuit.junction("bleed", demand="20 L/h")
    circuit.run("feed", "cell", "rail", [fn.formula_pump("80 psi", "300 L/h", name="pump"), fn.hose("-6", "3 m", spec="ptfe", name="feed hose")])
    circuit.run("return", "rail", "bleed", [fn.bypass_regulator("40 psi", reference="ambient", name="regulator"), fn.hose("-6", "3 m", spec="ptfe", name="return hose")])
    circuit.injectors("bank", "rail", count=6, flow="400 cc/min at 3 bar", duty="20 %", to="ambient")
    case = circuit.solve()["as written"]
    assert case.converged and one(checks.case_findings(case), "return rise") is None


def test_a_liquid_beyond_its_data_is_named():
    circuit = fn.Circuit("cold (invented)", fluid="SAE 10W-40", fluid_temperature="-28 C")
    circuit.fixed("supply", "60 psi")
    circuit.run("line", "supply", "ambient", [fn.hose(bore="10 mm", length="1 m", name="hose")])
    found = [finding for finding in checks.case_findings(circuit.solve()["as written"]) if finding.code == "fluid out of range"]
    assert found and all(finding.where == "SAE 10W-40" and finding.severity == "watch" for finding in found)
    assert all(finding.value.to("C") == pytest.approx(-28.0) and finding.limit.to("C") > -28.0 for finding in found)


def cautions(temperature, pressure, fluid="SAE 10W-40"):
    circuit = fn.Circuit("bench (invented)", fluid=fluid, fluid_temperature=temperature)
    circuit.fixed("supply", pressure)
    circuit.run("line", "supply", "ambient", [fn.hose(bore="10 mm", length="1 m", name="hose"), fn.orifice("1 mm", name="jet")])
    return " ".join(checks.cautions_for(circuit.solve()))


@pytest.mark.parametrize("temperature, pressure, hot, jet", [("59.99 C", "689.9 kPa", False, False), ("60.01 C", "689.9 kPa", True, False),
                                                             ("59.99 C", "690.1 kPa", False, True), ("60.01 C", "690.1 kPa", True, True)])
def test_hot_liquid_and_jets_that_pierce_skin_bring_their_cautions(temperature, pressure, hot, jet):
    """60 C burns skin within seconds; a pin-hole jet from about 100 psi, 690 kPa (common practice, no source)."""
    said = cautions(temperature, pressure)
    assert ("hot enough to burn skin" in said) == hot and ("force liquid through the skin" in said) == jet
    assert "follow local codes" in said and "Hot oil burns skin" in said


def test_hot_coolant_has_a_caution_of_its_own_instead():
    assert "Never open a hot cooling system" in cautions("80 C", "50 kPa", "water") and "hot enough to burn" not in cautions("80 C", "50 kPa", "water")


def test_hose_of_no_standard_is_called_hose():
    (finding,) = braking(bench(fn.hose("-4", "12 in", maker_pressure="900 psi", **HOSE), "DOT 4", "clutch (invented)", "clutch line"), "clutch line")
    assert "hose bears 900 psig" in finding.text()


def test_a_carburettors_pump_may_stand_near_its_dead_head():
    circuit = fn.Circuit("carburettor (invented)", fluid="gasoline class A")
    circuit.tank("main", level="8 in")
    circuit.junction("bowl", demand="1 gph")
    circuit.run("feed", "main", "bowl", [fn.formula_pump("6 psi", "90 gph", name="pump")])
    case = circuit.solve()["as written"]
    assert one(checks.case_findings(case, checks.Limits(pump_least_flow="50 %")), "pump near dead head") is None


@pytest.mark.parametrize("boost, words", [("20 psi boost", ", under"), ("6 psi boost", ", still over")])
def test_boost_that_is_not_followed_is_told_with_what_is_left(boost, words):
    finding = one(checks.case_findings(injectors.car(reference="ambient", manifold=boost)), "boost not followed")
    assert f"across the injectors{words}" in finding.text() and finding.severity == ("stop" if words == ", under" else "watch")
    assert finding.hurt == pytest.approx(finding.numbers["boost"].si / 3e5)


def test_a_filter_of_its_own_rating_is_not_held_against_a_usual_one():
    circuit = steady(fn.hose(bore="8 mm", length="4 ft", name="hose"), "150 psi", elsewhere=[fn.filter("1 psi at 50 gph", maker_pressure="400 psi", name="own filter")])
    case = circuit.solve()["as written"]
    ceiling = one(checks.case_findings(case, checks.Limits(fuel_line_pressure="100 psi")), "pressure ceiling")
    assert ceiling is not None and "own filter" not in ceiling.text()
