"""Heat through the walls of lines and of pumps, as the engine's numbers and as answers worked out by hand.

Every circuit is invented. Sums by hand take specific heat from the fluid itself.
"""

import flarenut as fn
import pytest
from heat_bench import WATER, bench, capacity_rate


# ---- walls of lines ----

def test_a_line_cools_towards_the_air_as_an_exponential():
    """Twice the length squares the share of the difference that is left, as long as the film stays the same."""
    left = []
    for length in ("2 m", "4 m"):
        case = bench([fn.hose(bore="8 mm", length=length, air="8 m/s", name="hose")], supply="0.5 L/min")["as written"]
        left.append((case.part("hose").temperature_out.si - 293.15) / 40.0)
    assert 0.3 < left[0] < 0.95 and left[1] == pytest.approx(left[0] ** 2, rel=0.03)
    case = bench([fn.hose(bore="8 mm", length="2 m", air="8 m/s", name="hose")], supply="0.5 L/min")["as written"]
    by_hand = capacity_rate(case, "hose") * 40.0 * (1.0 - left[0])
    assert case.part("hose").heat.si == pytest.approx(by_hand, rel=0.01)


def test_a_sleeve_and_still_air_hold_heat_in_and_hot_air_brings_it():
    def heat(**words):
        return bench([fn.hose(bore="8 mm", length="2 m", name="hose", **words)], supply="2 L/min")["as written"].part("hose").heat.si

    assert heat() == 0.0
    bare, still, sleeved, hot = heat(air="10 m/s"), heat(air="still"), heat(air="10 m/s", sleeve="6 mm"), heat(air="10 m/s", air_rise="80 K")
    assert bare > still > 0 and bare > 1.3 * sleeved > 0 and hot == pytest.approx(-bare, rel=0.05)  # air at 100 C against liquid at 60 C


@pytest.mark.parametrize("words", [{"air_rise": "20 K"}, {"sleeve": "5 mm"}])
def test_a_wall_without_its_air_is_asked_for_it(words):
    with pytest.raises(fn.CircuitError, match="nothing is said of the air") as refusal:
        fn.hose("-8", "1 m", spec="ptfe", **words)
    assert refusal.value.key in words and "still" in refusal.value.cure


# ---- pumps and throttling ----

@pytest.mark.parametrize(("efficiency", "share"), [(None, 0.2), ("60 %", 0.6)])
def test_a_pump_warms_its_liquid_by_what_is_no_flow_work(efficiency, share):
    words = {} if efficiency is None else {"overall_efficiency": efficiency}
    circuit = fn.Circuit("pump (invented)", fluid=WATER, fluid_temperature="20 C", temperatures="found")
    circuit.tank("drum", level="0.5 m")
    circuit.run("line", "drum", "ambient", [fn.formula_pump("6 bar", "10 L/min", name="pump", **words), fn.orifice("2 mm", name="jet")])
    part = circuit.solve()["as written"].part("pump")
    work = part.flow.si * part.rise.si
    assert part.power.si == pytest.approx(work / share, rel=1e-3)
    # Specific heat of water at 20 C, and its expansion, by which pressure alone warms it: T α = 293 · 2.07e-4 (handbook, from memory).
    warmed = (part.power.si - work + 0.0607 * work) / (part.mass_flow.si * 4182.0)
    assert -part.temperature_drop.si == pytest.approx(warmed, rel=0.02)


@pytest.mark.parametrize("value", ["0 %", "0.5 %", "120 %", "x"])
def test_an_efficiency_that_is_none_is_refused(value):
    with pytest.raises(ValueError, match="overall_efficiency"):
        fn.displacement_pump("18 cc/rev", speed="3000 rpm", overall_efficiency=value)
