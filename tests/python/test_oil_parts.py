"""Parts of oil circuits in a circuit: thermostats by the liquid's temperature, cores in cold and warm oil, what a gallery feeds.

Every circuit is invented. What a part passes is worked out again by hand from what the case says of its liquid.
"""

from math import pi, sqrt

import pytest

import flarenut as fn
from flarenut import checks

OIL = "SAE 10W-40"
HOT = "SAE 10W-40 at 100 C"


def bench(parts, pressure="3 bar", *, supply=None, to="ambient", temperature="100 C", fluid=OIL, **cases):
    """A run from a place of given pressure, or with a given flow, to the open air or another place."""
    circuit = fn.Circuit("bench (invented)", fluid=fluid, fluid_temperature=temperature)
    if supply:
        circuit.junction("stand", supply=supply)
    else:
        circuit.fixed("stand", pressure)
    if to == "pan":
        circuit.tank("pan", level="0 mm", height="-400 mm")
    circuit.run("line", "stand", to, parts)
    for name, conditions in cases.items():
        circuit.case(name, **conditions)
    return circuit.solve()


def volume(case, part):
    return case.solution.flow_of(part) / case.liquid_in(part)["density"]


def lost(case, part):
    ends = case.ends(part)
    return ends[0].total - ends[-1].total


# ---- thermostats ----

def cooled(**thermostat):
    circuit = fn.Circuit("sandwich plate (invented)", fluid=OIL)
    circuit.junction("filter", supply="25 L/min")
    words = {"opens": "82 C", "full": "95 C", "bore": "12 mm", **thermostat}
    circuit.run("cooling", "filter", "gallery", [fn.thermostat(**words, name="thermostat"),
                                                 fn.core("40 kPa at 20 L/min", rated_with=HOT, name="cooler")])
    circuit.run("round", "filter", "gallery", [fn.bypass_thermostat("82 C", "95 C", bore="12 mm", name="bypass leg")])
    circuit.run("engine", "gallery", "ambient", [fn.orifice("8 mm", name="engine")])
    for degrees in (40, 88.5, 110):
        circuit.case(f"{degrees}", fluid_temperature=f"{degrees} C")
    return circuit.solve()


def test_a_three_way_thermostat_leads_cold_oil_round_the_cooler_and_hot_oil_through_it():
    answer = cooled()
    regimes = [(answer[case].solution.regime_of("thermostat"), answer[case].solution.regime_of("bypass leg")) for case in answer]
    assert regimes == [("shut", "wide open"), ("regulating", "regulating"), ("wide open", "shut")]
    through = [answer[case].solution.flow_of("cooler") / answer[case].solution.flow_of("engine") for case in answer]
    assert through[0] < 0.15 and 0.3 < through[1] < 0.7 and through[2] > 0.95
    for case in answer.values():
        assert case.solution.flow_of("cooler") + case.solution.flow_of("bypass leg") == pytest.approx(case.solution.flow_of("engine"), rel=1e-9)
    assert "regulating" in answer.table().text()


def test_a_shut_thermostat_bleeds_its_share_of_an_orifice():
    case = bench([fn.thermostat("120 C", bore="12 mm", name="thermostat")])["as written"]
    density, viscosity = (case.liquid_in("thermostat")[word] for word in ("density", "viscosity"))
    free = 0.1 * 0.7 * pi / 4 * 0.012**2 * sqrt(2 * density * lost(case, "thermostat"))
    least = 0.25 * pi * 0.012 * 10 * viscosity  # below it the law is a straight line
    assert case.solution.flow_of("thermostat") == pytest.approx(sqrt(free**2 + least**2 / 4) - least / 2, rel=1e-6)


@pytest.mark.parametrize("full", ["82 C", "70 C", "178 F"])
def test_a_thermostat_that_is_wide_open_before_it_opens_is_refused(full):
    with pytest.raises(fn.CircuitError) as refusal:
        fn.thermostat("82 C", full, bore="12 mm")
    assert refusal.value.key == "full" and "swap the two" in refusal.value.cure


def test_a_case_that_turns_a_thermostats_range_upside_down_is_told_so():
    with pytest.raises(ValueError, match="full"):
        bench([fn.thermostat("82 C", "95 C", bore="12 mm", name="thermostat")], odd={"thermostat.opens": "99 C"})


# ---- cores ----

def test_a_core_costs_a_viscous_and_an_inertial_part_by_hand():
    """The drop is 6 psi at 20 L/min with oil at 100 C, half of it viscous."""
    answer = bench([fn.core("6 psi at 20 L/min", rated_with=HOT, name="cooler")], supply="20 L/min",
                   cold={"fluid_temperature": "65 F"}, warm={"fluid_temperature": "120 F"}, hot={"fluid_temperature": "100 C"})
    psi = 6894.757293168
    hot = answer["hot"].liquid_in("cooler")
    for case in answer.values():
        liquid, flow = case.liquid_in("cooler"), volume(case, "cooler") / (20e-3 / 60)
        by_hand = 3 * psi * (flow * liquid["viscosity"] / hot["viscosity"] + flow**2 * liquid["density"] / hot["density"])
        assert lost(case, "cooler") == pytest.approx(by_hand, rel=1e-3)  # oil under pressure is a little thicker


def test_a_core_costs_threefold_more_at_65_F_than_at_120_F_as_its_page_says():
    part = fn.core("6 psi at 20 L/min", rated_with=HOT).elements[0].si(fn.fluid(OIL))
    flow, drops = 20e-3 / 60, []
    for fahrenheit in (65, 120):
        state = fn.fluid(OIL).liquid.at((fahrenheit + 459.67) / 1.8, 101325.0)
        drops.append((part["viscous"] * state.viscosity * flow + part["inertial"] * state.density * flow**2) / 6894.757293168)
    assert drops == pytest.approx([64, 17.2], rel=0.01) and drops[0] / drops[1] == pytest.approx(3.7, rel=0.01)


def test_a_core_of_two_liquids_passes_both_drops():
    part = fn.core(["6 psi at 20 L/min", "15 psi at 20 L/min"], rated_with=[HOT, "SAE 10W-40 at 40 C"]).elements[0]
    found = part.si(fn.fluid(OIL))
    for celsius, psi in ((100, 6), (40, 15)):
        state = fn.fluid(OIL).liquid.at(celsius + 273.15, 101325.0)
        flow = 20e-3 / 60
        assert found["viscous"] * state.viscosity * flow + found["inertial"] * state.density * flow**2 == pytest.approx(psi * 6894.757, rel=1e-6)


REFUSED = [({"drop": ["2 psi at 8 L/min", "20 psi at 16 L/min"], "rated_with": HOT}, "drop", "passes both"),
           ({"drop": ["2 psi at 8 L/min"] * 2, "rated_with": HOT}, "drop", "passes both"),
           ({"drop": "2 psi at 8 L/min", "passages": 40}, "drop", "one of the two"), ({}, "drop", "one of the two"),
           ({"passages": 40, "passage_bore": "2 mm"}, "passage_length", "passage_length"),
           ({"drop": "2 psi at 8 L/min", "flow": "8 L/min"}, "flow", "goes with passages"),
           ({"drop": "2 psi at 8 L/min", "rated_with": [HOT, HOT]}, "rated_with", "for 1 drop"),
           ({"drop": "2 psi at 8 L/min"}, "rated_with", "without its temperature")]


@pytest.mark.parametrize(("words", "key", "said"), REFUSED)
def test_a_core_that_cannot_be_is_refused_by_its_key(words, key, said):
    with pytest.raises(fn.CircuitError, match=said) as refusal:
        fn.core(**words).elements[0].si(fn.fluid(OIL))
    assert refusal.value.key == key


def test_turbulent_passages_meet_blasius_at_the_flow_told():
    """40 tubes of 5 mm and 0.5 m with water at 20 C; f = 0.3164 / Re^(1/4) (Blasius 1913)."""
    part = fn.core(passages=40, passage_bore="5 mm", passage_length="500 mm", flow="100 L/min", rated_with="water at 20 C")
    found = part.elements[0].si(fn.fluid("water"))
    state, flow = fn.fluid("water").liquid.at(293.15, 101325.0), 0.1 / 60
    speed = flow / (40 * pi / 4 * 25e-6)
    reynolds = state.density * speed * 5e-3 / state.viscosity
    assert reynolds > 8000
    by_hand = (0.3164 / reynolds**0.25 * 100 + 1.5) * 0.5 * state.density * speed**2
    assert found["viscous"] * state.viscosity * flow + found["inertial"] * state.density * flow**2 == pytest.approx(by_hand, rel=0.03)


# ---- what a gallery feeds ----

def mains(**words):
    return fn.bearings(5, "55 mm", "20 mm", "0.056 mm", **{"name": "mains", **words})


def test_bearings_pass_the_textbooks_flow_and_more_when_they_turn():
    answer = bench([mains()], still={"speed": "0 rpm"}, turning={"speed": "6000 rpm"})
    still, turning = answer["still"], answer["turning"]
    viscosity = still.liquid_in("mains")["viscosity"]
    by_hand = 5 * pi * 27.5e-3 * 28e-6**3 * lost(still, "mains") * (1 + 1.5 * 0.8**2) / (3 * viscosity * 8.5e-3)
    assert volume(still, "mains") == pytest.approx(by_hand, rel=1e-9)
    dragged = 5 * pi * 55e-3 * 100 * 8.5e-3 * 28e-6 * 0.8
    assert volume(turning, "mains") == pytest.approx(by_hand + dragged * by_hand / (dragged + by_hand), rel=1e-9)


def test_bearings_drip_so_that_a_low_sump_does_not_pull():
    low = bench([mains()], to="pan")["as written"]
    here = bench([mains()])["as written"]
    assert volume(low, "mains") == pytest.approx(volume(here, "mains"), rel=1e-9)


def test_a_groove_as_wide_as_its_shell_and_a_gap_that_is_none_are_refused():
    with pytest.raises(fn.CircuitError) as refusal:
        mains(groove="20 mm")
    assert refusal.value.key == "groove"
    with pytest.raises(ValueError, match="clearance"):
        bench([fn.bearings(5, "55 mm", "20 mm", "1.5 mm")])


def test_squirters_hold_below_their_pressure_and_spray_above_as_nozzles():
    shut = bench([fn.squirters(4, "1.5 mm", name="squirters")], "1.2 bar")["as written"]
    assert shut.solution.regime_of("squirters") == "shut" and volume(shut, "squirters") < 2e-8  # seepage, 70 mL/h
    case = bench([fn.squirters(4, "1.5 mm", name="squirters")], "4 bar")["as written"]
    density, viscosity = (case.liquid_in("squirters")[word] for word in ("density", "viscosity"))
    speed = volume(case, "squirters") / (4 * pi / 4 * 1.5e-3**2)
    reynolds = density * speed * 1.5e-3 / viscosity
    by_hand = 1.5e5 + 0.5 * density * speed**2 * (1 / 0.8**2 + (12 * pi + 64 * 4) / reynolds)
    assert lost(case, "squirters") == pytest.approx(by_hand, rel=0.003)  # the rounding at the seat


# ---- a relief into the pump's inlet, in two steps ----

FILE = """
[circuit]
name = "engine oil (invented)"
fluid = "SAE 10W-40"
fluid_temperature = "110 C"
[tank.sump]
level = "80 mm"
[[run]]
name = "suction"
from = "sump"
to = "pump inlet"
parts = [{part = "tube", bore = "25 mm", length = "250 mm"}]
[[run]]
name = "pressure"
from = "pump inlet"
to = "gallery"
parts = [{part = "displacement_pump", displacement = "11 cc/rev", speed = "5000 rpm", name = "oil pump"}]
[[run]]
name = "relief"
from = "gallery"
to = "pump inlet"
parts = [{part = "relief_valve", opens_at = "5.5 bar", wide_open = "1 bar at 60 L/min", override = "0.3 bar", name = "relief valve"}]
[[run]]
name = "mains"
from = "gallery"
to = "sump"
parts = [{part = "bearings", count = 5, diameter = "60 mm", width = "22 mm", clearance = "0.056 mm", film_viscosity = "60 %", name = "mains"}]
[[run]]
name = "jets"
from = "gallery"
to = "sump"
parts = [{part = "squirters", count = 4, bore = "1.3 mm", name = "squirters"}]
[case."low step"]
"relief valve.opens_at" = "2.5 bar"
[case."high step"]
"""


def test_a_relief_dumps_into_the_pumps_inlet_at_the_step_that_a_case_says(tmp_path):
    path = tmp_path / "oil.toml"
    path.write_text(FILE)
    answer = fn.load(path).solve()
    for name, step in (("low step", 2.5e5), ("high step", 5.5e5)):
        case = answer[name]
        assert case.solution.regime_of("relief valve") == "relieving"
        assert step < lost(case, "relief valve") < step + 0.6e5
        flows = {part: case.solution.flow_of(part) for part in ("oil pump", "relief valve", "mains", "squirters")}
        assert flows["oil pump"] == pytest.approx(flows["relief valve"] + flows["mains"] + flows["squirters"], rel=1e-9)
        # The sump gives only what the engine uses; the rest goes round.
        assert case.solution.flow_of("suction tube") == pytest.approx(flows["mains"] + flows["squirters"], rel=1e-6)
        assert not [one.code for one in checks.case_findings(case) if one.severity in ("fix", "stop")]


def test_oil_pressure_is_judged_where_the_bearings_draw(tmp_path):
    path = tmp_path / "oil.toml"
    path.write_text(FILE.replace('"2.5 bar"', '"0.8 bar"'))
    case = fn.load(path).solve()["low step"]
    found = [one for one in checks.case_findings(case) if one.code == "oil pressure"]
    assert [one.where for one in found] == ["gallery"]


def test_a_core_between_pump_and_relief_is_in_the_way_of_the_relief(tmp_path):
    path = tmp_path / "oil.toml"
    core = '{part = "core", drop = "0.4 bar at 20 L/min", rated_with = "SAE 10W-40 at 100 C"}'
    path.write_text(FILE.replace('name = "oil pump"}]', f'name = "oil pump"}}, {core}]'))
    case = fn.load(path).solve()["high step"]
    assert "relief out of reach" in {one.code for one in checks.case_findings(case)}
