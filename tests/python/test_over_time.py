"""Circuits in the course of time, judged by closed forms and by energy summed by hand. All circuits are invented.

A lump: T = T_end + (T_start - T_end) exp(-t K / C), where K is what is lost per degree, C what is stored, T_end = air + heat / K.
"""

from math import pi

import flarenut as fn
import numpy
import pytest

FUEL = {"name": "gasoline", "reid": "7 psia"}
BENCH = {"density": "850 kg/m3", "viscosity": "8 cP", "specific_heat": "2 kJ/kg/K"}


def bench(capacity="20 kJ/K", heat="2 kW", loss="20 W/K", bore="12 mm"):
    """A constant liquid pumped round through 4 m of tube."""
    car = fn.Circuit("bench (invented)", fluid=fn.constant_fluid(**BENCH), fluid_temperature="15 C", air_temperature="25 C", invented=True)
    car.tank("sump", level="100 mm", temperature="found", heat=heat, heat_loss=loss, heat_capacity=capacity)
    car.run("out", "sump", "far", [fn.displacement_pump("10 cc/rev", speed="1500 rpm", name="pump"), fn.tube(bore=bore, length="2 m", name="there")])
    car.run("home", "far", "sump", [fn.tube(bore=bore, length="2 m", name="and back")])
    car.case("heating", speed="1500 rpm")
    car.case("resting", speed="1500 rpm", **{"sump.heat": "0 W"})
    return car


def lump(time, begin, end, time_constant):
    return end + (begin - end) * numpy.exp(-numpy.asarray(time) / time_constant)


def test_a_lump_warms_as_its_closed_form_says():
    drive = fn.over_time(bench(), [("90 min", "heating")], every="1 min", start="15 C")
    stored = 20e3 + 2 * 2.0 * 0.25 * pi * 0.012**2 * 850 * 2000  # and the liquid in both tubes
    end = 298.15 + (2000.0 + drive.moments[0].part("pump").power.si) / 20.0
    found, wanted = drive.temperature("sump").si, lump(drive.times, 288.15, end, stored / 20.0)
    assert drive.complete and len(drive) == 91
    assert numpy.abs(found - wanted).max() < 0.01 * (end - 288.15)
    assert found[0] == 288.15 and found[-1] - wanted[-1] == pytest.approx(0.0, abs=0.1)


def test_after_the_heat_is_off_it_cools_to_what_the_pump_alone_puts_in():
    drive = fn.over_time(bench(), [("20 min", "heating"), ("120 min", "resting")], every="1 min", start="15 C")
    change = next(k for k, case in enumerate(drive.cases) if case == "resting")
    stored = 20e3 + 2 * 2.0 * 0.25 * pi * 0.012**2 * 850 * 2000
    end = 298.15 + drive.moments[-1].part("pump").power.si / 20.0
    found = drive.temperature("sump").si
    wanted = lump(drive.times[change:] - 1200.0, found[change], end, stored / 20.0)
    assert numpy.abs(found[change:] - wanted).max() < 0.01 * (found[change] - end)
    assert drive.reaches("sump", "60 C").si < 1200.0
    assert drive.reaches("sump", "200 C") is None


def test_liquid_in_lines_stores_heat():
    thin, thick = (fn.over_time(bench(bore=bore, capacity="2 kJ/K"), [("5 min", "heating")], start="15 C") for bore in ("12 mm", "40 mm"))
    for drive, bore in ((thin, 0.012), (thick, 0.040)):
        stored = 2e3 + 4.0 * 0.25 * pi * bore**2 * 850 * 2000
        end = 298.15 + (2000.0 + drive.moments[0].part("pump").power.si) / 20.0
        wanted = lump(300.0, 288.15, end, stored / 20.0)
        # lines are mixed one by one and passed in turn: the lump is an approximation of them, better the less of it they are
        assert drive.temperature("sump").si[-1] == pytest.approx(wanted, abs=0.05 * (end - 288.15))
    assert thin.temperature("sump").si[-1] > thick.temperature("sump").si[-1] + 5


def oil(bleed="0.5 %"):
    """An oil circuit with a cooler behind a thermostat."""
    car = fn.Circuit("warm-up (invented)", fluid="SAE 5W-30", air_temperature="20 C", invented=True)
    car.tank("sump", level="100 mm", temperature="found", heat="3 kW", heat_loss="10 W/K", heat_capacity="15 kJ/K")
    car.run("pumping", "sump", "split", [fn.displacement_pump("8 cc/rev", speed="2000 rpm", name="pump")])
    car.run("round", "split", "sump", [fn.bypass_thermostat("85 C", "97 C", bore="16 mm", name="round it")])
    car.run("cooling", "split", "sump", [fn.thermostat("85 C", "97 C", bore="16 mm", bleed=bleed, name="thermostat"),
                                         fn.cooler("6 kW at 15 L/min", rated_inlet="110 C", rated_air="35 C at 5 m/s", face=["300 mm", "190 mm"],
                                                   drop="0.4 bar at 15 L/min", rated_with="own at 100 C", name="cooler")])
    car.case("road", speed="2000 rpm", vehicle_speed="25 m/s")
    return car


def test_oil_warms_as_a_lump_until_its_thermostat_opens_and_then_settles_where_a_steady_solve_says():
    drive = fn.over_time(oil(), [("60 min", "road")], every="5 s", start="40 C")
    shut = drive.times < drive.opens().si
    put_in = 3000.0 + numpy.mean([one.part("pump").power.si - one.part("cooler").heat.si for one, is_shut in zip(drive.moments, shut) if is_shut])
    wanted = lump(drive.times[shut], 313.15, 293.15 + put_in / 10.0, 15e3 / 10.0)
    found = drive.temperature("sump").si
    assert shut.sum() > 20 and numpy.abs(found[shut] - wanted).max() < 0.01 * (358.15 - 313.15)
    assert drive.opens("thermostat") == drive.opens()
    assert numpy.interp(drive.opens().si, drive.times, drive.temperature("split").si) == pytest.approx(358.15, abs=0.05)
    settled = oil().solve()["road"]
    assert found[-1] == pytest.approx(settled.at("sump").temperature.si, abs=0.05)
    assert drive.moments[-1].part("cooler").heat.si == pytest.approx(settled.part("cooler").heat.si, rel=0.005)
    regimes = drive.series("thermostat.regime").values
    assert regimes[0] == "shut" and regimes[-1] != "shut"


def fuel(loss="6 W/K", rail="150 W"):
    """A return-style circuit: 40 L of fuel in its cell, a pump that stands in it, a rail over a warm engine."""
    capacity = 40.0 * fn.fluid(**FUEL).at("25 C").density.si / 1000.0 * fn.fluid(**FUEL).heat_at("25 C").specific_heat.si
    car = fn.Circuit("return style (invented)", fluid=fn.fluid(**FUEL), fluid_temperature="25 C", air_temperature="30 C", invented=True)
    car.tank("cell", level="200 mm", temperature="found", heat_loss=loss, heat_capacity=f"{capacity} J/K")
    car.junction("rail", heat=rail)
    car.run("feed", "cell", "rail", [fn.formula_pump("7 bar", "300 L/h", name="pump"), fn.hose("-6", "3 m", spec="ptfe", name="feed hose")])
    car.run("return", "rail", "cell", [fn.bypass_regulator("3 bar", reference="manifold", wide_open="2 bar at 400 L/h", name="regulator"),
                                       fn.hose("-6", "3 m", spec="ptfe", name="return hose")])
    car.injectors("bank", "rail", count=4, flow="400 cc/min at 3 bar", duty="5 %")
    car.case("idle", duty="3 %", manifold="18 inHg vacuum")
    car.case("by power", power="100 hp", specific_consumption="0.5 lb/hp/h", manifold="0 psi")
    return car, capacity


def net_heat(case, loss, air=303.15):
    """What goes into the tank [W]: pump and rail, less what the burnt fuel takes along beyond that of the tank, less the loss.

    α of gasoline 1.1e-3 /K (handbook, from memory): of the pressure of burnt fuel Δp/ρ (1 - αT) is energy that warms nothing.
    """
    cell, hot = case.at("cell"), case.at("rail")
    burnt, kelvin = case.part("bank").mass_flow.si, cell.temperature.si
    taken = fn.fluid(**FUEL).heat_at(f"{hot.temperature.si} K").specific_heat.si * (hot.temperature.si - kelvin)
    taken += (1 - 1.1e-3 * kelvin) * (hot.total.si - cell.total.si) / case.liquid_in("feed hose")["density"]
    return case.part("pump").power.si + 150.0 - burnt * taken - loss * (kelvin - air)


def test_fuel_warms_by_what_goes_in_over_what_it_stores():
    car, stored = fuel()
    drive = fn.over_time(car, [("1 h", "idle")], every="1 min", start="25 C")
    lines = 2 * 3.0 * 0.25 * pi * 0.0087**2 * 740 * 2000  # of -6 hose, 8.7 mm; under 1 % of the tank
    cell = drive.temperature("cell").si
    for k in (5, 20, 40, 59):
        rate = (cell[k + 1] - cell[k - 1]) / (drive.times[k + 1] - drive.times[k - 1])
        assert rate == pytest.approx(net_heat(drive.moments[k], 6.0) / (stored + lines), rel=0.01)
    gained = numpy.trapezoid([net_heat(one, 6.0) for one in drive.moments], drive.times) if hasattr(numpy, "trapezoid") else numpy.trapz(
        [net_heat(one, 6.0) for one in drive.moments], drive.times)
    assert cell[-1] - cell[0] == pytest.approx(gained / (stored + lines), rel=0.01)
    assert cell[-1] > cell[0] + 8


def test_after_many_hours_as_much_goes_out_as_in():
    car, _ = fuel()
    drive = fn.over_time(car, [("30 h", "idle")], every="30 min", start="25 C")
    assert net_heat(drive.moments[-1], 6.0) == pytest.approx(0.0, abs=3.0)
    assert drive.temperature("cell").si[-1] == pytest.approx(car.solve("idle")["idle"].at("cell").temperature.si, abs=0.3)


def test_the_margin_at_the_pump_shrinks_as_vapour_pressure_grows():
    car, _ = fuel()
    drive = fn.over_time(car, [("1 h", "idle")], every="5 min", start="25 C")
    margin, vapour = drive.series("pump.suction_margin").si, numpy.array([fn.fluid(**FUEL).at(f"{one} K").vapour_pressure.si for one in drive.temperature("cell").si])
    assert (numpy.diff(margin) < 0).all()
    assert margin[0] - margin[-1] == pytest.approx(vapour[-1] - vapour[0], rel=0.05)  # suction losses hardly change


def test_a_power_burns_its_fuel_at_every_moment():
    car, _ = fuel()
    drive = fn.over_time(car, [("2 min", "idle"), ("10 min", "by power")], every="30 s")
    burnt = [one.part("bank").mass_flow.si for one in drive.moments if one.name == "by power"]
    assert burnt == pytest.approx([100 * 0.5 * 0.45359237 / 3600] * len(burnt), rel=1e-3)


def test_the_exact_start_is_what_the_first_case_says():
    car = oil()
    car.case("cold", speed="1000 rpm", fluid_temperature="50 C", **{"sump.temperature": "-5 C"})
    assert fn.over_time(car, [("10 s", "cold")]).temperature("sump").to("C")[0] == pytest.approx(-5.0)
    assert fn.over_time(car, [("10 s", "cold")], start="5 C").temperature("sump").to("C")[0] == pytest.approx(5.0)
    warm = fn.over_time(car, [("10 s", "road"), ("5 min", "cold")], start="60 C").temperature("sump")
    assert warm.to("C").min() > 59  # what a case says of the sump is left out: it is followed
    assert fn.over_time(car, [("10 s", "road")]).temperature("sump").to("C")[0] == pytest.approx(20.0)


def test_the_first_case_may_be_given_by_power():
    car, _ = fuel()
    drive = fn.over_time(car, [("2 min", "by power"), ("1 min", "idle"), ("1 min", "by power")], every="20 s")
    wanted = 100 * 0.5 * 0.45359237 / 3600
    burnt = [(one.name, one.part("bank").mass_flow.si) for one in drive.moments]
    assert drive.complete and burnt[0][1] == pytest.approx(wanted, rel=1e-8)
    assert all(flow == pytest.approx(wanted, rel=0.003) for name, flow in burnt if name == "by power")
    assert all(flow < 0.9 * wanted for name, flow in burnt if name == "idle")


def test_a_chart_that_a_case_changes_is_taken_back_in_the_next():
    def chart(flow):
        return [{"volts": 13.5, "points": [["0 L/h", "6 bar"], [f"{flow} L/h", "3 bar"], [f"{1.5 * flow} L/h", "0.5 bar"]]}]

    car = fn.Circuit("two charts (invented)", fluid="gasoline", invented=True)
    car.tank("cell", level="0.3 m", temperature="found", heat_capacity="20 kJ/K", heat_loss="3 W/K")
    car.run("feed", "cell", "rail", [fn.electric_pump(chart(200), name="pump")])
    car.run("return", "rail", "cell", [fn.orifice("2 mm")])
    car.case("weak", volts="13.5 V")
    car.case("strong", volts="13.5 V", **{"pump.curves": chart(300)})
    flow = fn.over_time(car, [("1 min", "weak"), ("1 min", "strong"), ("1 min", "weak")], every="30 s").series("pump.flow").to("L/h")
    assert flow[3:6].min() > 1.1 * flow[:3].max() and flow[6:] == pytest.approx(flow[:3], rel=2e-3)


def test_a_tank_of_given_temperature_keeps_it_and_feeds_one_that_is_followed():
    car = fn.Circuit("two tanks (invented)", fluid=fn.constant_fluid(**BENCH), air_temperature="20 C", invented=True)
    car.tank("hot", level="2 m", temperature="60 C")
    car.tank("mixed", level="0.1 m", temperature="found", heat_capacity="100 kJ/K")
    car.run("in", "hot", "mixed", [fn.tube(bore="8 mm", length="2 m", name="inlet")])
    car.run("out", "mixed", "ambient", [fn.tube(bore="8 mm", length="1 m", rise="-1 m")])
    car.case("filling")
    drive = fn.over_time(car, [("20 min", "filling")], every="1 min", start="10 C")
    stored_per_second = drive.moments[-1].part("inlet").mass_flow.si * 2000.0
    lines = 0.25 * pi * 0.008**2 * 2.0 * 850 * 2000
    wanted = lump(drive.times, 283.15, 333.15, (100e3 + lines) / stored_per_second)
    assert numpy.abs(drive.temperature("mixed").si - wanted).max() < 0.01 * 50
    assert drive.series("inlet.temperature_in").si[1:] == pytest.approx(numpy.full(len(drive) - 1, 333.15), abs=0.01)
