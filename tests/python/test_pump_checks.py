"""Checks on electric pumps, by charts as by formula: each against what was written on the chart."""

import pytest

import flarenut as fn
from flarenut import checks

PSI, LITRE_PER_HOUR = 6894.757293168361, 1e-3 / 3600
# Invented. What stands on a chart at no flow and at no pressure is what the checks have to find again.
CHARTS = [{"volts": 12, "points": [["0 L/h", "80 psi"], ["150 L/h", "60 psi"], ["320 L/h", "0 psi"]]},
          {"volts": 13.5, "points": [["0 L/h", "100 psi"], ["200 L/h", "60 psi"], ["400 L/h", "0 psi"]]}]
PUMPS = {"charted": lambda: fn.electric_pump(CHARTS, name="pump"), "by formula": lambda: fn.formula_pump("100 psi", "400 L/h", name="pump")}


def told(case, code, limits=None):
    found = [one for one in checks.case_findings(case, limits) if one.code == code]
    assert len(found) <= 1, found
    return found[0] if found else None


def car(pump, set="43.5 psi", back=True, **conditions):
    circuit = fn.Circuit("car (invented)", fluid="E85")
    circuit.tank("cell", level="8 in")
    circuit.run("feed", "cell", "rail", [PUMPS[pump](), fn.hose("-8", "11 ft", spec="ptfe")])
    if back:
        circuit.run("return", "rail", "cell", [fn.bypass_regulator(set, reference="manifold", name="regulator"), fn.hose("-6", "12 ft", spec="ptfe")])
    circuit.injectors("bank", "rail", count=6, flow="1000 cc/min at 3 bar")
    circuit.case("run", **{"volts": "13.5 V", "duty": "5 %", "manifold": "0 psi", **conditions})
    return circuit.solve()["run"]


@pytest.mark.parametrize("pump", PUMPS)
def test_a_setting_beyond_the_chart_at_no_flow_is_asked_about(pump):
    found = told(car(pump, "435 psi"), "regulator set above the pump")
    assert found.severity == "stop" and found.limit.to("psi") == pytest.approx(100.0, rel=1e-4) and found.value.to("psi") == pytest.approx(435.0)
    assert told(car(pump, "95 psi"), "regulator set above the pump") is None
    assert told(car(pump, "105 psi"), "regulator set above the pump") is not None


@pytest.mark.parametrize("pump", PUMPS)
def test_low_volts_are_no_slip_of_the_setting_and_high_ones_raise_more(pump):
    assert told(car(pump, "90 psi", volts="11 V"), "regulator set above the pump") is None
    found = told(car(pump, "435 psi", volts="15 V"), "regulator set above the pump")
    assert found.limit.to("psi") == pytest.approx(100.0 * (15 / 13.5) ** 2, rel=1e-4)  # affinity: rise goes with the square of the volts


@pytest.mark.parametrize("pump", PUMPS)
def test_next_to_no_flow_is_held_against_the_free_flow_of_the_chart(pump):
    case = car(pump, back=False, duty="2 %")
    flow = case.solution.flow_of("pump") / case.liquid_in("pump")["density"]
    found = told(case, "pump near dead head")
    assert found.severity == "watch" and found.value.si == pytest.approx(flow / (400 * LITRE_PER_HOUR), rel=1e-3) and found.value.si < 0.05
    assert told(car(pump, duty="2 %"), "pump near dead head") is None  # with a return


def test_between_two_charts_the_free_flow_lies_between_theirs():
    case = car("charted", back=False, duty="2 %", volts="12.7 V")
    flow = case.solution.flow_of("pump") / case.liquid_in("pump")["density"]
    assert 320 < flow / told(case, "pump near dead head").value.si / LITRE_PER_HOUR < 400


@pytest.mark.parametrize("pump, known", [("charted", "its charts"), ("by formula", "its figures")])
def test_volts_far_over_what_a_pump_was_measured_at_are_told(pump, known):
    found = told(car(pump, volts="40 V"), "pump volts")
    assert found.severity == "stop" and found.where == "pump" and found.value.si == pytest.approx(40 / 13.5 - 1.0)
    assert known in found.text() and "40.0 V" in found.text() and "13.5 V" in found.text() and "check the number" in found.cure
    assert told(car(pump, volts="18 V"), "pump volts").severity == "watch"  # a booster of pump volts
    for volts in ("14.8 V", "16.5 V", "12 V", "0 V"):
        assert told(car(pump, volts=volts), "pump volts") is None
    assert told(car(pump, volts="14.8 V"), "pump volts", checks.Limits(pump_volts_over="5 %")).severity == "watch"


def test_a_chart_that_a_case_puts_in_is_the_one_that_counts():
    circuit = fn.Circuit("truck (invented)", fluid="diesel")
    circuit.tank("tank", level="8 in")
    circuit.run("feed", "tank", "ambient", [PUMPS["charted"](), fn.hose("-8", "11 ft", spec="ptfe")])
    circuit.case("twelve", volts="28 V")
    circuit.case("twenty-four", volts="28 V", **{"pump.curves": [{**chart, "volts": 2 * chart["volts"]} for chart in CHARTS]})
    answer = circuit.solve()
    assert told(answer["twelve"], "pump volts").severity == "stop" and told(answer["twenty-four"], "pump volts") is None
