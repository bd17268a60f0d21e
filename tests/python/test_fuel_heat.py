"""Heat in a return-style fuel circuit: the pump's power and what the rail takes up go round to the tank, and warm it until its walls keep up.

The circuit is invented. Energy is summed by hand over the whole loop.
"""

import flarenut as fn
import pytest

FUEL = {"name": "gasoline", "reid": "7 psia"}


def car(rail="150 W", loss="12 W/K", **hose):
    circuit = fn.Circuit("return style (invented)", fluid=fn.fluid(**FUEL), fluid_temperature="25 C", air_temperature="30 C", invented=True)
    circuit.tank("cell", level="200 mm", temperature="found", heat_loss=loss)
    circuit.junction("rail", heat=rail)
    circuit.run("feed", "cell", "rail", [fn.formula_pump("7 bar", "300 L/h", name="pump"), fn.hose("-6", "3 m", spec="ptfe", name="feed hose")])
    circuit.run("return", "rail", "cell", [fn.bypass_regulator("3 bar", reference="manifold", wide_open="2 bar at 400 L/h", name="regulator"),
                                           fn.hose("-6", "3 m", spec="ptfe", name="return hose", **hose)])
    circuit.injectors("bank", "rail", count=4, flow="400 cc/min at 3 bar", duty="5 %")
    circuit.case("idle", duty="3 %", manifold="18 inHg vacuum")
    circuit.case("full", duty="85 %", manifold="0 psi")
    return circuit


def given_off(case, loss, air=303.15):
    return loss * (case.at("cell").temperature.si - air)


def burnt(case):
    """Energy that the injected fuel takes along over that of the tank [W]: specific heat, and of the pressure what does not warm it.

    α of gasoline 1.1e-3 /K (handbook, from memory), so that a third of Δp/ρ goes into temperature.
    """
    rail, tank = case.at("rail"), case.at("cell")
    flow, kelvin = case.part("bank").mass_flow.si, tank.temperature.si
    heat = fn.fluid(**FUEL).heat_at(f"{rail.temperature.si} K").specific_heat.si * (rail.temperature.si - kelvin)
    density = case.liquid_in("feed hose")["density"]
    return flow * (heat + (1 - 1.1e-3 * kelvin) * (rail.total.si - tank.total.si) / density)


@pytest.mark.parametrize("name", ["idle", "full"])
def test_the_tank_gives_off_what_pump_and_rail_put_in_and_nobody_burns(name):
    case = car().solve()[name]
    put_in = case.part("pump").power.si + 150.0
    assert given_off(case, 12.0) == pytest.approx(put_in - burnt(case), rel=0.005)


def test_the_pumps_power_is_its_flow_work_over_a_fifth():
    part = car().solve()["idle"].part("pump")
    assert part.power.si == pytest.approx(part.flow.si * part.rise.si / 0.2, rel=1e-3)


def test_idle_warms_the_tank_most_as_it_returns_most():
    answer = car().solve()
    assert answer["idle"].at("cell").temperature.si > answer["full"].at("cell").temperature.si + 3
    assert answer["idle"].part("regulator").mass_flow.si > answer["full"].part("regulator").mass_flow.si


def test_a_returnless_circuit_spares_the_tank_and_lets_the_rail_get_hot():
    circuit = car(rail="20 W")
    circuit.take_out("return")
    circuit.take_out("feed")
    circuit.run("pumping", "cell", "after pump", [fn.formula_pump("7 bar", "300 L/h", name="pump")])
    circuit.run("spill", "after pump", "cell", [fn.bypass_regulator("3 bar", reference="ambient", wide_open="2 bar at 400 L/h", name="in-tank regulator")])
    circuit.run("feed", "after pump", "rail", [fn.hose("-6", "3 m", spec="ptfe", name="feed hose")])
    inside, returned = circuit.solve("idle")["idle"], car(rail="20 W").solve("idle")["idle"]
    assert given_off(inside, 12.0) == pytest.approx(inside.part("pump").power.si + 20.0 - burnt(inside), rel=0.005)
    assert inside.at("rail").temperature.si > inside.at("cell").temperature.si + 10  # hardly any fuel passes to take up its heat
    assert returned.at("rail").temperature.si < returned.at("cell").temperature.si + 2


def test_an_exhaust_beside_the_return_is_told_and_a_sleeve_helps():
    hot = {"air": "5 m/s", "air_rise": "120 K"}
    bare, sleeved = car(**hot).solve()["idle"], car(**hot, sleeve="8 mm").solve()["idle"]
    told = [one for one in bare.findings if one.code == "heat from lines"]
    assert told and told[0].where == "return hose" and told[0].numbers["heat"].si == pytest.approx(-bare.part("return hose").heat.si, rel=1e-9)
    assert -sleeved.part("return hose").heat.si < 0.7 * -bare.part("return hose").heat.si
    assert sleeved.at("cell").temperature.si < bare.at("cell").temperature.si


def test_hot_fuel_is_told_to_boil_where_it_does_and_a_cooler_in_the_return_mends_it():
    hot = car(rail="300 W", loss="6 W/K").solve()["idle"]
    codes = {one.code for one in hot.findings}
    assert codes & {"boils in the tank", "suction margin"}
    circuit = car(rail="300 W", loss="6 W/K")
    regulator, hose = circuit.take_out("return")
    circuit.run("return", "rail", "cell", [regulator, hose, fn.cooler("12 W/K at 3 L/min", rated_air="30 C at 4 m/s", face=["200 mm", "100 mm"],
                                                                    drop="3 kPa at 3 L/min", wetted_area="0.15 m2", name="fuel cooler")])
    circuit.cases.clear()
    circuit.case("idle", duty="3 %", manifold="18 inHg vacuum", fan="4 m/s")
    cooled = circuit.solve()["idle"]
    assert cooled.at("cell").temperature.si < hot.at("cell").temperature.si - 10
    whole = given_off(cooled, 6.0) + cooled.part("fuel cooler").heat.si
    assert whole == pytest.approx(cooled.part("pump").power.si + 300.0 - burnt(cooled), rel=0.005)


def metered(**pump):
    circuit = fn.Circuit("bench", fluid=fn.fluid(**FUEL), temperatures="found")
    circuit.tank("cell", level="200 mm", temperature="25 C")
    circuit.run("line", "cell", "ambient", [fn.formula_pump("7 bar", "300 L/h", name="pump", **pump), fn.orifice("1 mm", name="jet")])
    circuit.case("as it is")
    circuit.case("hot wire", **{"pump.power": "240 W"})
    return circuit


def test_all_of_the_power_at_the_terminals_goes_into_what_the_pump_moves():
    answer = metered(power="120 W").solve()
    for case, power in (("as it is", 120.0), ("hot wire", 240.0)):
        pump = answer[case].part("pump")
        before, after = (fn.fluid(**FUEL).heat_at(f"{end.temperature.si} K", ).enthalpy.si for end in pump.ends)
        alpha = 1.1e-3 * pump.ends[0].temperature.si  # of the pressure what does not warm it, as above
        risen = after - before + (1 - alpha) * pump.rise.si / answer[case].liquid_in("pump")["density"]
        assert pump.mass_flow.si * risen == pytest.approx(power, rel=0.01) and pump.power.si == pytest.approx(power)


def test_power_beats_the_efficiency_and_is_taken_back_by_leaving_it_out():
    circuit = metered(power="120 W", overall_efficiency="50 %")
    assert circuit.solve()["as it is"].part("pump").power.si == pytest.approx(120.0)
    circuit.change("pump", power=None)
    pump = circuit.solve()["as it is"].part("pump")
    assert pump.power.si == pytest.approx(pump.flow.si * pump.rise.si / 0.5, rel=1e-3)
    with pytest.raises(ValueError, match="above zero"):
        metered(power="0 W")
