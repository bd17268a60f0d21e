"""A transmission whose cooler tube lies in the radiator's tank: pressures by hand sums, the order of coolers, warming up, the bypass.

The invented truck of docs/guide/examples/truck is balanced as a whole: what is put in is what the air takes.
"""

import math
from pathlib import Path

import pytest

import flarenut as fn

TRUCK = Path(__file__).resolve().parents[2] / "docs/guide/examples/truck"
DENSITY, SHARP = 840.0, 0.60  # [kg/m3]; what passes a sharp edge


def transmission(order="tank first", bypass="2 bar", fluid="ATF"):
    """Pan of given temperature, pump, converter, coolers in either order, lubrication into the case."""
    box = fn.Circuit("transmission", fluid=fluid, fluid_temperature="80 C", air_temperature="20 C")
    box.tank("pan", level="60 mm", temperature="110 C")
    box.fixed("case")
    box.junction("line", bore="12 mm")
    box.junction("converter out", bore="9 mm")
    box.junction("between coolers", bore="9 mm")
    box.junction("cooler return", bore="9 mm")
    box.run("suction", "pan", "line", [fn.displacement_pump(displacement="8 cc/rev", speed="1500 rpm", name="front pump",
                                                       volumetric_efficiency="99.8 % at 6 bar, 1500 rpm, 8 cP")])
    box.run("pressure valve", "line", "pan", [fn.relief_valve(opens_at="6 bar", wide_open="3 bar at 80 L/min", name="pressure valve",
                                                              rated_with="own at 80 C")])
    box.run("converter", "line", "converter out", [fn.orifice(bore="4 mm", name="converter feed")])
    tank = [fn.core("0.25 bar at 10 L/min", rated_with="own at 80 C", name="cooler tube")]
    air = [fn.cooler("5 kW at 10 L/min", rated_inlet="110 C", rated_air="30 C at 4 m/s", face=["280 mm", "190 mm"],
                     drop="0.35 bar at 10 L/min", rated_with="own at 80 C", name="air cooler", fan="4 m/s")]
    first, second = (tank, air) if order == "tank first" else (air, tank)
    box.run("first cooler", "converter out", "between coolers", first)
    box.run("second cooler", "between coolers", "cooler return", second)
    box.run("cooler bypass", "converter out", "cooler return", [fn.relief_valve(opens_at=bypass, wide_open="0.6 bar at 15 L/min", name="cooler bypass",
                                                                                rated_with="own at 80 C")])
    box.run("lubrication", "cooler return", "case", [fn.orifice(bore="3.4 mm", name="lubrication")])
    return box


def coolant():
    """Coolant of given temperature through a radiator tank, at 30 L/min or so."""
    loop = fn.Circuit("coolant", fluid="ethylene glycol 50 %", air_temperature="20 C")
    loop.tank("header", level="3 m", temperature="85 C")
    loop.run("tank", "header", "ambient", [fn.core("0.2 bar at 30 L/min", name="radiator tank", rated_with="own at 85 C"), fn.orifice(bore="14 mm")])
    return loop


def car(order="tank first", **words):
    vehicle = fn.Vehicle("invented car", transmission(order, **words), coolant())
    vehicle.exchanger("tank cooler", ("transmission", "cooler tube"), ("coolant", "radiator tank"),
                      first_side={"tubes": 1, "bore": "12 mm", "length": "600 mm", "enhancement": 6},
                      second_side={"area": "0.03 m2", "bore": "20 mm", "length": "600 mm", "enhancement": 5})
    vehicle.case("hot", **{"transmission.pan.temperature": "120 C"})
    vehicle.case("cold start of the gearbox", **{"transmission.pan.temperature": "5 C", "air_temperature": "5 C"})
    vehicle.case("as warm as the coolant", **{"transmission.pan.temperature": "85 C"})
    return vehicle


@pytest.fixture(scope="module")
def tank_first():
    return car().solve()


@pytest.fixture(scope="module")
def air_first():
    return car("air first").solve()


def celsius(answer, case, place):
    return answer["transmission"][case].at(place).temperature.to("C")


# ---- heat ----

@pytest.mark.parametrize("which", ["tank_first", "air_first"])
def test_coolant_cools_hot_fluid_and_warms_cold_fluid(which, request):
    answer = request.getfixturevalue(which)
    hot, cold = (answer.exchanger("tank cooler", case) for case in ("hot", "cold start of the gearbox"))
    assert hot.heat.si > 100.0
    assert cold.heat.si < -100.0
    assert hot.first.temperature_out.si < hot.first.temperature_in.si
    assert cold.first.temperature_out.si > cold.first.temperature_in.si
    assert hot.second.temperature_out.si > hot.second.temperature_in.si
    assert cold.second.temperature_out.si < cold.second.temperature_in.si
    for case in answer.cases:
        reading = answer.exchanger("tank cooler", case)
        assert reading.first.heat.si == pytest.approx(-reading.second.heat.si, rel=1e-9)
        # No outlet passes the other's inlet: of friction the fluid is warmed by 25 kPa / (840 · 2100), 0.02 K.
        assert 0.0 <= reading.share_of_most <= 1.0 or abs(reading.first.temperature_in.si - reading.second.temperature_in.si) < 0.5


def test_the_tank_last_brings_back_fluid_nearer_to_the_coolant(tank_first, air_first):
    """Air at 20 C cools below the coolant at 85 C, a radiator tank cannot: the cooler that comes last has the last word."""
    assert celsius(tank_first, "hot", "cooler return") < celsius(air_first, "hot", "cooler return")
    assert celsius(air_first, "hot", "cooler return") < 120.0
    cold = "cold start of the gearbox"
    assert 5.0 < celsius(tank_first, cold, "cooler return") < celsius(air_first, cold, "cooler return") < 85.0
    # Hot: the tank moves the most heat where the fluid comes hottest, and that is first.
    assert tank_first.exchanger("tank cooler", "hot").heat.si > air_first.exchanger("tank cooler", "hot").heat.si


def test_fluid_as_warm_as_the_coolant_passes_the_tank_as_it_is(tank_first):
    assert abs(tank_first.exchanger("tank cooler", "as warm as the coolant").heat.si) < 0.01 * tank_first.exchanger("tank cooler", "hot").heat.si


def test_each_stream_s_heat_is_its_flow_times_its_specific_heat_times_its_change(tank_first):
    """By hand from solved flows; cp at the mean temperature holds to 0.1 % over some kelvin, friction adds 0.02 K."""
    reading = tank_first.exchanger("tank cooler", "hot")
    for one, circuit, part in ((reading.first, "transmission", "cooler tube"), (reading.second, "coolant", "radiator tank")):
        specific_heat = tank_first[circuit]["hot"].solution.liquid_in(part)["specific_heat"]
        change = one.temperature_in.si - one.temperature_out.si
        assert one.mass_flow.si * specific_heat * change == pytest.approx(one.heat.si, abs=one.mass_flow.si * specific_heat * 0.03)


# ---- pressure ----

def test_converter_out_stands_as_high_as_orifice_and_coolers_ask():
    """A liquid that changes with nothing, by hand: lubrication is an orifice, the coolers are a viscous and an inertial half of their rated
    drop at 10 L/min (the preset split of an oil)."""
    box = transmission(bypass="9 bar", fluid=fn.constant_fluid(density="840 kg/m3", viscosity="8 cP", specific_heat="2100 J/kg/K"))
    vehicle = fn.Vehicle("by hand", box, coolant())
    vehicle.exchanger("tank cooler", ("transmission", "cooler tube"), ("coolant", "radiator tank"),
                      first_side={"tubes": 1, "bore": "12 mm", "length": "600 mm"}, second_side={"area": "0.03 m2", "bore": "20 mm", "length": "600 mm"})
    case = vehicle.solve()["transmission"]["as written"]
    flow = case.part("lubrication").volume_flow.si
    relieved = case.part("pressure valve").volume_flow.si
    assert flow + relieved == pytest.approx(8e-6 * 1500 / 60, rel=3e-3)  # the pump's 12 L/min, of which 0.2 % slip
    assert 0.0 < relieved < flow
    share = flow / (10 / 6e4)
    coolers = sum(rated * (0.5 * share + 0.5 * share**2) for rated in (25e3, 35e3))
    area = SHARP * math.pi / 4 * 3.4e-3**2
    lubrication = 0.5 * DENSITY * (flow / area) ** 2  # within 2 %: contraction of a sharp edge, 0.60 (ISO 5167-2)
    assert case.at("cooler return").total.si - 101325.0 == pytest.approx(lubrication, rel=0.02)
    assert case.at("converter out").total.si - case.at("cooler return").total.si == pytest.approx(coolers, rel=1e-3)


def test_either_order_asks_the_same_pressure_of_a_liquid_that_does_not_change():
    fluid = fn.constant_fluid(density="840 kg/m3", viscosity="8 cP", specific_heat="2100 J/kg/K")
    one, other = (fn.Vehicle("v", transmission(order, fluid=fluid)).solve()["transmission"]["as written"].at("converter out").total.si
                  for order in ("tank first", "air first"))
    assert one == pytest.approx(other, rel=1e-9)


def test_cold_thick_fluid_goes_round_the_coolers(tank_first):
    hot, cold = (tank_first["transmission"][case] for case in ("hot", "cold start of the gearbox"))
    assert hot.part("cooler bypass").regime == "shut"
    assert cold.part("cooler bypass").regime == "relieving"
    share = cold.part("cooler bypass").mass_flow.si / cold.part("lubrication").mass_flow.si
    assert 0.05 < share < 1.0
    # Both ways join: mass is kept, and the bypass has the drop of the coolers.
    assert cold.part("cooler bypass").mass_flow.si + cold.part("cooler tube").mass_flow.si == pytest.approx(cold.part("lubrication").mass_flow.si, rel=1e-9)
    assert cold.part("cooler bypass").drop.si == pytest.approx(cold.part("cooler tube").drop.si + cold.part("air cooler").drop.si, rel=1e-6, abs=50.0)


def test_the_bypass_keeps_cold_fluid_colder():
    cold = "cold start of the gearbox"
    with_bypass, without = (car(bypass=opens).solve() for opens in ("2 bar", "9 bar"))
    assert celsius(with_bypass, cold, "cooler return") < celsius(without, cold, "cooler return")
    assert with_bypass["transmission"][cold].at("converter out").gauge.si < without["transmission"][cold].at("converter out").gauge.si


# ---- the whole truck ----

def truck():
    """The invented truck of the guide."""
    return fn.load(TRUCK / "vehicle.toml")


def test_the_truck_gives_to_the_air_what_is_put_in():
    answer = truck().solve()
    assert answer.converged
    shares = {"towing uphill": (140e3, 35.0), "motorway": (45e3, 25.0)}
    for case, (power, air) in shares.items():
        put_in = (0.55 + 0.04 + 0.05) * power  # of the engine's power, as the files say
        pumps = {"coolant": "water pump", "transmission": "front pump", "engine oil": "oil pump"}
        put_in += sum(answer[circuit][case].part(pump).power.si for circuit, pump in pumps.items())
        given = answer["coolant"][case].part("radiator").heat.si + answer["transmission"][case].part("air cooler").heat.si
        for circuit, tank, loss in (("transmission", "pan", 10.0), ("engine oil", "sump", 12.0)):
            given += loss * (answer[circuit][case].at(tank).temperature.to("C") - air)
        assert given == pytest.approx(put_in, rel=1e-6)


def test_oil_that_comes_colder_than_the_coolant_is_warmed_by_it():
    vehicle = truck()
    vehicle.case("oil still cold", speed="1500 rpm", engine_power="20 kW", **{"engine oil.sump.temperature": "30 C"})
    reading = vehicle.solve("oil still cold").exchanger("plate cooler", "oil still cold")
    assert reading.heat.si < -500.0
    assert reading.first.temperature_out.si > reading.first.temperature_in.si
