"""Operating cases: what each word moves, which of two words wins, and what is refused."""

import pytest

import flarenut as fn

PSI = 6894.757293168


def bench():
    """Two pumps side by side, one rail, two banks."""
    car = fn.Circuit("two pumps (invented)", fluid="gasoline class A")
    car.tank("cell", level="8 in")
    car.run("feed", "cell", "rail", [fn.formula_pump("95 psi", "420 L/h", volts_lost="0.5 V", name="main"),
                                     fn.hose("-6", "10 ft", spec="ptfe", name="feed hose"),
                                     fn.filter("1.5 psi at 100 gph", name="big filter")])
    car.run("helper", "cell", "rail", [fn.formula_pump("95 psi", "420 L/h", name="second"), fn.strainer("0.5 psi at 100 gph", name="sock"),
                                       fn.check_valve(rated="2 psi at 300 L/h")])
    car.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="manifold", name="regulator")])
    car.injectors("left bank", "rail", count=4, flow="550 cc/min at 3 bar")
    car.injectors("right bank", "rail", count=4, flow="550 cc/min at 3 bar")
    return car


def solved(car, **conditions):
    name = f"case {len(car.cases)}"
    car.case(name, **conditions)
    return car.solve(name)[name]


def test_volts_are_those_at_the_battery_and_each_pump_loses_its_own():
    case = solved(bench(), volts="12 V")
    assert case.number("main.volts") == pytest.approx(11.5) and case.number("second.volts") == pytest.approx(12.0)
    assert solved(bench(), volts="0.2 V").number("main.volts") == 0.0  # never below nothing


def test_speed_turns_every_pump_by_its_ratio():
    engine = fn.Circuit("oil (invented)", fluid=fn.constant_fluid(density="850 kg/m3", viscosity="10 cP"))
    engine.tank("sump", level="4 in")
    engine.run("oil", "sump", "gallery", [fn.displacement_pump("18 cc/rev", speed="1000 rpm", ratio=0.5, name="pump")])
    engine.run("leak", "gallery", "ambient", [fn.orifice("4 mm", name="bearings")])
    engine.run("relief", "gallery", "sump", [fn.relief_valve("60 psi", wide_open="10 psi at 8 gpm")])
    engine.case("cruise", speed="3000 rpm")
    engine.case("geared", **{"speed": "3000 rpm", "pump.ratio": 0.25})
    engine.case("named", **{"pump.speed": "600 rpm", "speed": "3000 rpm"})
    answer = engine.solve()
    assert [answer[name].number("pump.speed") for name in answer] == pytest.approx([25.0, 12.5, 5.0])


def test_duty_and_loading_reach_every_bank_and_filter_and_no_strainer():
    case = solved(bench(), duty="30 %", filter_loading=4)
    assert [case.number(f"{bank} bank.duty") for bank in ("left", "right")] == [0.3, 0.3]
    assert case.number("big filter.loading") == 4.0 and case.number("sock.loading") == 1.0


@pytest.mark.parametrize("conditions", [{"volts": "12 V", "main.volts": "9 V"}, {"main.volts": "9 V", "volts": "12 V"}])
def test_what_is_said_of_one_part_beats_what_is_said_of_all(conditions):
    case = solved(bench(), **conditions)
    assert case.number("main.volts") == pytest.approx(8.5) and case.number("second.volts") == pytest.approx(12.0)


@pytest.mark.parametrize("conditions", [{"volts": "12 V", "main.volts_lost": "2 V"}, {"main.volts_lost": "2 V", "volts": "12 V"}])
def test_a_word_beside_a_general_one_keeps_it(conditions):
    assert solved(bench(), **conditions).number("main.volts") == pytest.approx(10.0)


def test_two_words_of_one_part_both_hold_whatever_their_order():
    words = {"feed hose.length": "4 ft", "feed hose.bends": [90, 45]}
    one, other = solved(bench(), **words), solved(bench(), **dict(reversed(words.items())))
    for case in (one, other):
        assert case.number("feed hose.length") == pytest.approx(4 * 0.3048)
        assert case.number("feed hose.bend_angle") == pytest.approx(2.35619449)
    assert one.at("rail").total.si == other.at("rail").total.si


def test_one_tank_beats_all_tanks_and_the_case_beats_the_circuit():
    car = bench()
    car.tank("surge", level="3 in")
    car.run("overflow", "surge", "cell", [fn.hose("-8", "1 ft", spec="ptfe")])
    case = solved(car, **{"surge.level": "1 in", "tank_level": "2 in"})
    assert case.number("surge.level") == pytest.approx(0.0254) and case.number("cell.level") == pytest.approx(0.0508)
    high = fn.Circuit("high", fluid="water", altitude="2000 m")
    high.tank("drum", level="1 m")
    high.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="ptfe")])
    high.case("as it is")
    high.case("lower", altitude="0 m")
    high.case("by barometer", ambient_pressure="95 kPaa")
    answer = high.solve()
    # US Standard Atmosphere 1976, table of pressure at 2000 m geometric altitude: 79501 Pa (geopotential 1999 m: 79505)
    assert answer["as it is"].ambient.si == pytest.approx(79501, rel=3e-4)
    assert answer["lower"].ambient.si == 101325.0 and answer["by barometer"].ambient.si == pytest.approx(95e3)


def test_boost_moves_rail_over_ambient_and_not_rail_over_manifold():
    """With the reference hose on, a stiff regulator carries the rail along; the injectors feel no difference."""
    car = bench()
    car.change("regulator", band="0.1 psi")
    none, boost = solved(car, manifold="0 psi", duty=0.9), solved(car, manifold="10 psi", duty=0.9)
    assert boost.at("rail").gauge.to("psi") - none.at("rail").gauge.to("psi") == pytest.approx(10.0, abs=0.1)
    assert boost.part("left bank").flow.si == pytest.approx(none.part("left bank").flow.si, rel=2e-3)


def test_power_burns_by_both_banks_and_the_duty_is_found():
    case = solved(bench(), power="250 hp", specific_consumption="0.5 lb/hp/h", manifold="0 psi")
    passed = sum(case.part(f"{bank} bank").mass_flow.to("lb/h") for bank in ("left", "right"))
    assert passed == pytest.approx(125.0, rel=1e-8)
    assert 0.0 < case.number("left bank.duty") == case.number("right bank.duty") < 1.0
    assert not [one for one in case.findings if one.code == "injectors too small"]


def test_power_beyond_the_injectors_is_said_with_what_is_asked_and_what_passes():
    case = solved(bench(), power="2000 hp", specific_consumption="0.5 lb/hp/h")
    (found,) = [one for one in case.findings if one.code == "injectors too small"]
    assert case.number("left bank.duty") == 1.0 and found.severity == "stop"
    assert found.limit.to("lb/h") == pytest.approx(1000.0)
    assert found.value.si == pytest.approx(sum(case.part(f"{bank} bank").mass_flow.si for bank in ("left", "right")))
    assert "larger injectors" in found.text() and "left bank, right bank" in found.where


REFUSED = [
    ({"volt": "12 V"}, "volt", "did you mean 'volts'"), ({"volts": "12 psi"}, "volts", "volt"), ({"volts": -5}, "volts", "below 0 V"),
    ({"volts": "-0.1 V"}, "volts", "how many volts there are"), ({"manifold": 10}, "manifold", "unit"),
    ({"fluid_temperature": "400 C"}, "", ""), ({"fluid_temperature": 60}, "fluid_temperature", "unit"), ({"speed": "3000 rpm"}, "speed", "no pump driven by speed"),
    ({"duty": "130 %"}, "", ""), ({"power": "300 hp"}, "power", "specific_consumption"), ({"specific_consumption": "0.5 lb/hp/h"}, "specific_consumption", "power"),
    ({"power": "300 hp", "specific_consumption": "0.5 lb/hp/h", "duty": 0.5}, "power", "duty"),
    ({"altitude": "0 m", "ambient_pressure": "1 bara"}, "altitude", "leave one of them out"),
    ({"acceleration": ["1 g", "0 g"]}, "acceleration", "three"), ({"acceleration": 1}, "acceleration", "unit"),
    ({"main.colour": "red"}, "main.colour", "colour"), ({"mian.volts": "9 V"}, "mian.volts", "did you mean 'main'"),
    ({"cell.size": "-8"}, "cell.size", "level"), ({"feed hose.length": "-3 ft"}, "feed hose.length", "above zero"),
    ({"feed hose.rise": "1 ft"}, "feed hose.rise", "numbers only"), ({"regulator.reference": "ambient"}, "regulator.reference", "numbers only"),
    ({"tank_level": "2 psi"}, "tank_level", "length"), ({"tank_vent": "-1 psia"}, "tank_vent", ""), ({"ambient_pressure": "0 psig"}, "ambient_pressure", "")]


@pytest.mark.parametrize("conditions, key, told", REFUSED)
def test_a_wrong_condition_names_its_case_and_its_word_and_leaves_the_circuit_as_it_was(conditions, key, told):
    car = bench()
    car.case("plain")
    before = list(car.solve("plain")["plain"].solution.pressure)
    with pytest.raises(fn.CircuitError) as refusal:
        car.case("wrong", **conditions)
        car.solve("wrong")
    assert refusal.value.place == "case 'wrong'" and told in str(refusal.value)
    assert not key or refusal.value.key == key
    assert list(car.solve("plain")["plain"].solution.pressure) == before


def test_a_circuit_without_the_thing_is_told_so():
    line = fn.Circuit("line", fluid="water")
    line.fixed("supply", "2 bar")
    line.run("line", "supply", "ambient", [fn.hose("-8", "3 m", spec="ptfe")])
    for word, value in (("volts", 12), ("duty", 0.5), ("filter_loading", 2), ("tank_level", "1 in"), ("manifold", "0 psi")):
        with pytest.raises(fn.CircuitError, match="has no"):
            solved(line, **{word: value})
    with pytest.raises(fn.CircuitError, match="no injectors"):
        solved(line, power="300 hp", specific_consumption="0.5 lb/hp/h")


def test_a_case_may_carry_another_curve_and_the_next_one_does_not():
    car = fn.Circuit("curves (invented)", fluid="water")
    weak, strong = ([["0 L/h", f"{p} psi"], ["300 L/h", f"{q} psi"]] for p, q in ((40, 10), (80, 30)))
    car.tank("drum")
    car.run("line", "drum", "ambient", [fn.electric_pump(weak, name="pump"), fn.hose(bore="6 mm", length="3 m")])
    car.case("weak")
    car.case("strong", **{"pump.curves": strong})
    answer = car.solve()
    assert answer["strong"].part("pump").flow.si > 1.05 * answer["weak"].part("pump").flow.si
    assert car.solve("weak")["weak"].part("pump").flow.si == answer["weak"].part("pump").flow.si
    car.change("pump", curves=strong)
    assert car.solve("weak")["weak"].part("pump").flow.si == answer["strong"].part("pump").flow.si


def test_fuel_cases_may_be_set_word_by_word():
    car = bench()
    car.fuel_cases(boost="12 psi", volts="14 V", hot="70 C")
    assert list(car.cases) == ["idle", "full power", "hot restart"]
    answer = car.solve()
    assert answer["full power"].number("manifold.gauge") == pytest.approx(12 * PSI)
    assert answer["idle"].number("second.volts") == 14.0
    assert answer["idle"].number("manifold.gauge") < -60e3  # 18 inHg
    assert answer["hot restart"].number("manifold.gauge") == 0.0  # an engine that does not run yet draws no vacuum
    assert answer["hot restart"].number("liquid.temperature") == pytest.approx(343.15)


def charted(counts, top=300):
    """A pump with two charts of so many points, up to a top flow [L/h]."""
    car = fn.Circuit("charts (invented)", fluid="water")
    car.tank("drum")
    car.run("line", "drum", "ambient", [fn.electric_pump(charts(counts, top), name="pump", volts="12.5 V"), fn.hose(bore="6 mm", length="3 m")])
    return car


def charts(counts, top=300):
    return [{"volts": volts, "flow": "L/h", "pressure": "psi", "points": [[top * i / (n - 1), volts * 5 * (1 - 0.8 * i / (n - 1))] for i in range(n)]}
            for volts, n in zip((12, 13.5), counts)]


def test_charts_may_share_their_points_out_otherwise():
    car = charted((3, 4))
    car.solve()
    car.change("pump", curves=charts((4, 3), top=500))
    assert list(car.solve()["as written"].solution.pressure) == list(charted((4, 3), top=500).solve()["as written"].solution.pressure)


def test_charts_that_the_engine_refuses_leave_volts_and_charts_as_they_were():
    car = charted((3, 3))
    before = list(car.solve()["as written"].solution.pressure)
    with pytest.raises(fn.CircuitError, match="pump"):
        wrong = [{**chart, "volts": volts} for chart, volts in zip(charts((3, 3), top=200), (13.5, 12))]  # less from more volts
        car.change("pump", curves=wrong, volts="11 V")
    assert list(car.solve()["as written"].solution.pressure) == before
    assert car.plan.get(car.plan.index("pump.volts")) == 12.5


def test_an_answer_keeps_the_settings_it_was_solved_with():
    car = bench()
    car.case("plain", duty=0.5)
    car.case("other", duty=0.5, **{"regulator.set": "50 psi", "regulator.set_flow": "100 L/h"})
    before = car.solve()
    car.change("regulator", set="58 psi")
    after = car.solve()

    def written(answer, case):
        pressure, flow = answer.layout.notes[case].settings["regulator"]
        return pressure / PSI, flow

    assert written(before, "plain") == (pytest.approx(43.5), None) and written(after, "plain") == (pytest.approx(58.0), None)
    assert written(before, "other") == (pytest.approx(50.0), pytest.approx(100e-3 / 3600)) == written(after, "other")


def test_volts_of_one_pump_by_name_slow_it_as_volts_of_all_do_and_leave_its_chart_alone():
    """A chart belongs to the volts it was taken at. To say "9 V" of the pump is not to say that its chart was taken at 9 V."""
    car = fn.Circuit("one chart (invented)", fluid="gasoline class A")
    car.tank("cell", vent="2 psi")
    car.run("line", "cell", "ambient", [fn.electric_pump([["0 L/h", "95 psi"], ["340 L/h", "40 psi"]], name="pump"), fn.orifice("2 mm")])
    car.case("all", volts="9 V")
    car.case("by name", **{"pump.volts": "9 V"})
    car.case("chart taken at 12 V", **{"pump.rated_volts": "12 V"})
    answer = car.solve()
    flows = {name: case.part("line orifice").flow.si for name, case in answer.items()}
    assert flows["by name"] == pytest.approx(flows["all"], rel=1e-12)
    assert flows["chart taken at 12 V"] > 1.2 * flows["all"]  # 13.5 V on a chart of 12 V: faster than charted
