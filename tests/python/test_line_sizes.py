"""The table of line sizes: every number against a circuit built with that size and solved by itself, and against sums by hand."""

import functools
import re
from importlib.resources import files
from math import pi
from pathlib import Path

import pytest

import flarenut as fn
from flarenut import catalog
from flarenut.checks import LIMITS, Limits, review
from flarenut.checks.suction import vapour_band
from flarenut.results.boiling import boils_at

PSI, INCH = 6894.757293168361, 0.0254
EXAMPLES = Path(__file__).resolve().parents[2] / "docs/guide/examples"


def demo():
    return fn.load(str(files("flarenut").joinpath("demo/return_style_e85.toml")))


@pytest.fixture(scope="module")
def table():
    return fn.line_sizes(demo(), "return hose")


def alone(size, line="return hose"):
    """The demonstration with another size, changed and solved by itself."""
    car = demo()
    car.change(line, size=size)
    return car.solve()


def value(row, key):
    found = row.cells[key].value
    return getattr(found, "si", found)


def test_the_rows_are_the_sizes_of_the_specification_of_the_line(table):
    dashes = [int(row["dash"]) for row in catalog.table("hose_bores.csv") if row["spec"] == "ptfe"]
    assert [row.size for row in table.rows] == [f"-{dash}" for dash in sorted(dashes)]
    assert table.row("-6").bore.si == pytest.approx(5 / 16 * INCH)  # AC 43.13-1B and others: a -6 of this family has 5/16 in
    assert [row.size for row in table.rows if row.written] == ["-6"]


@pytest.mark.parametrize("size", ["-4", "-6", "-10"])
def test_every_number_is_that_of_a_circuit_solved_by_itself(table, size):
    answer, row = alone(size), table.row(size)
    idle, power, hot = (answer[name] for name in ("idle", "full power", "hot restart"))
    near = {"rel": 1e-7, "abs": 1e-2}
    assert value(row, "pressure") == pytest.approx(power.at("rail").gauge.si, **near)
    over = idle.at("rail").total.si - idle.at("manifold").total.si - 43.5 * PSI  # the valve stands at the rail's height
    assert value(row, "rise_over_setting") == pytest.approx(over, **near)
    behind = max(case.at("return:1").against(case.at("cell")).si for case in answer.values())  # in the widest bore there, as a gauge has it
    assert value(row, "back_pressure") == pytest.approx(behind, **near)
    assert row.cells["back_pressure"].case == "idle"
    assert value(row, "inlet_vacuum") == pytest.approx(max(case.part("pump").suction.vacuum.si for case in answer.values()), **near)
    assert value(row, "suction_margin") == pytest.approx(hot.part("pump").suction.margin.si, **near)
    assert [row.cells[key].case for key in ("pressure", "rise_over_setting", "suction_margin", "degrees_to_boiling")] == [
        "full power", "idle", "hot restart", "hot restart"]


def warmed(line, **around):
    """Fuel that a pump warms and a bare return cools; one wall says the air around it."""
    car = fn.Circuit("warmed", "E10", temperatures="found", invented=True)
    car.tank("tank", level="0.2 m", temperature="found", heat_loss="4 W/K", heat_capacity="60 kJ/K")
    car.junction("rail", height="0.5 m", heat="150 W")
    car.run("feed", "tank", "rail", [fn.formula_pump(dead_head="7.5 bar", free_flow="260 L/h", through="3.5 bar at 160 L/h", name="pump")])
    car.run("return", "rail", "tank", [fn.bypass_regulator(set="3 bar", reference="ambient", wide_open="2 bar at 400 L/h"), line(**around, name="line")])
    car.injectors("bank", at="rail", count=4, flow="220 cc/min at 3 bar")
    car.case("idle", duty="4 %", air_temperature="35 C")
    return car


_TUBE, _HOSE = functools.partial(fn.tube, length="4 m"), functools.partial(fn.hose, length="4 m", spec="ptfe")


@pytest.mark.parametrize("line, size, other", [(_TUBE, "6 mm x 1 mm", "8 mm x 1 mm"), (_HOSE, "-6", "-10")])
@pytest.mark.parametrize("around", [{"air": "5 m/s"}, {"air": "5 m/s", "air_rise": "10 K"}, {"air": "still", "sleeve": "3 mm"}])
def test_a_line_of_another_size_lies_in_the_same_air(line, size, other, around):
    """What the wall passes and how warm the tank becomes are those of the circuit with that size solved by itself."""
    row = fn.line_sizes(warmed(line, size=size, **around), "line", [other]).row(other).answer["idle"]
    alone = warmed(line, size=other, **around).solve()["idle"]
    assert row.part("line").heat.si == pytest.approx(alone.part("line").heat.si, rel=1e-6) and row.part("line").heat.si > 30.0
    assert row.at("tank").temperature.si == pytest.approx(alone.at("tank").temperature.si, abs=1e-4)


def test_a_line_that_loses_nothing_cools_as_the_widest_does():
    """One of 10 cm would be a cooler of its own, so that a warm tank were read as cured by a wider line."""
    from flarenut.studies.blueprint import put
    from flarenut.studies.line_choices import without_loss

    car = warmed(_TUBE, size="10 mm x 1 mm", air="5 m/s")
    widest = car.solve()["idle"]
    compiled = car.compiled()
    put(car, compiled, "line", without_loss(compiled.pieces["line"], 8e-3).piece)
    car.keep_compiled(None)
    wide = car.solve()["idle"]
    assert wide.part("line").heat.si == pytest.approx(widest.part("line").heat.si, rel=0.25)  # it is slow in there
    assert wide.part("line").velocity.si == pytest.approx(widest.part("line").velocity.si / 9.0, rel=0.05)  # its losses go with the square


def test_a_line_that_goes_by_points_keeps_its_length_and_how_far_it_turns():
    points = [["0 ft", "0 ft", "0 ft"], ["3 ft", "0 ft", "0 ft"], ["3 ft", "2 ft", "0 ft"]]
    car = fn.Circuit("by points", "E10", invented=True)
    car.tank("tank", level="1 ft")
    car.tank("can")
    car.run("hose", "tank", "can", [fn.hose("-8", spec="ptfe", way=points, name="hose")])
    car.case("draining")
    table = fn.line_sizes(car, "hose")
    here, wider = (table.row(size).answer["draining"].part("hose") for size in ("-8", "-10"))
    assert wider.flow.si > 1.3 * here.flow.si and table.row("-8").written
    assert value(table.row("-10"), "volume") / value(table.row("-8"), "volume") == pytest.approx((table.row("-10").bore.si / table.row("-8").bore.si) ** 2)


def test_velocity_reynolds_and_volume_are_those_of_sums_by_hand(table):
    for row in table.rows:
        case = row.answer[row.cells["velocity"].case]
        bore, liquid = row.bore.si, case.liquid_in("return hose")
        flow = case.part("return hose").flow.si
        assert flow == max(one.part("return hose").flow.si for one in row.answer.values())
        assert value(row, "velocity") == pytest.approx(flow / (pi / 4 * bore**2), rel=1e-9)
        assert value(row, "reynolds") == pytest.approx(4 * flow * liquid["density"] / (pi * bore * liquid["viscosity"]), rel=1e-9)
        assert value(row, "volume") == pytest.approx(pi / 4 * bore**2 * 12 * 12 * INCH, rel=1e-9)
        assert row.cells["volume"].case == ""
    assert value(table.row("-8"), "volume") / INCH**3 == pytest.approx(pi / 4 * 0.40625**2 * 144, rel=1e-9)


def test_what_a_line_loses_leaves_its_height_out():
    """The return hose falls from the rail towards the tank; what friction costs is what the ranking of its run says."""
    for row in fn.line_sizes(demo(), "return hose", ["-4", "-8"]).rows:
        share = next(one for one in row.answer[row.cells["lost"].case].losses("return").shares if one.part == "return hose")
        assert value(row, "lost") == pytest.approx(share.loss.si, rel=1e-9)


def test_degrees_to_boiling_lead_to_the_temperature_at_which_it_boils(table):
    """Warmed by that much, the circuit solves to a margin of nothing: under 3 % of what it was, as flow hardly changes."""
    row = table.row("-6")
    cell, car = row.cells["degrees_to_boiling"], demo()
    before = row.answer[cell.case].part("pump").suction.margin.si
    car.cases["hot restart"].conditions["fluid_temperature"] = f"{55 + cell.value.si} C"
    after = car.solve("hot restart")["hot restart"].part("pump").suction.margin.si
    assert cell.value.si == pytest.approx(7.9, abs=0.3) and abs(after) < 0.03 * before
    static = car.solve("hot restart")["hot restart"].part("pump").inlet.static.si
    assert car.fluid.at(f"{55 + cell.value.si} C").vapour_pressure.si == pytest.approx(static, rel=0.01)


@pytest.mark.parametrize("kilopascal, celsius", [(12.352, 50.0), (47.414, 80.0), (101.42, 100.0)])
def test_water_boils_where_the_steam_tables_have_it(kilopascal, celsius):
    """Saturation pressures of IAPWS tables, from memory; the record of water holds them within 1 %, a third of a degree."""
    kelvin, bound = boils_at(fn.fluid("water").liquid, kilopascal * 1e3)
    assert kelvin - 273.15 == pytest.approx(celsius, abs=0.33) and bound == ""


def test_a_pressure_beyond_the_data_gives_the_bound_and_says_so():
    low, high = fn.fluid("water").liquid.outer_limit
    assert boils_at(fn.fluid("water").liquid, 1e7) == (high, "over")
    assert boils_at(fn.fluid("water").liquid, 0.0) == (low, "under")


def test_margins_are_what_is_left_to_the_limits(table):
    for row in table.rows:
        back, rise, margin = (row.cells[key] for key in ("back_pressure", "rise_over_setting", "suction_margin"))
        assert back.margin.si == pytest.approx(3.0 * PSI - back.value.si) and back.passes == (back.value.si <= 3.0 * PSI)
        assert rise.margin.si == pytest.approx(4.0 * PSI - rise.value.si)
        hot = row.answer["hot restart"]  # the limit, and what the vapour pressure of the blend may be off
        assert margin.margin.si == pytest.approx(margin.value.si - 5e3 - vapour_band(hot, "pump")) and vapour_band(hot, "pump") > 3e3
        rail = row.answer["full power"].at("rail")  # 5 % under 43.5 psi, over the manifold's 10 psi of boost; a gauge shows the speed head less
        assert row.cells["pressure"].limit.si == pytest.approx((0.95 * 43.5 + 10.0) * PSI - (rail.total.si - rail.absolute.si), abs=1.0)
        assert row.fails == [key for key, cell in row.cells.items() if cell.limit is not None and cell.margin.si < 0.0]
    assert [LIMITS[name].preset for name in ("return_rise_injection", "regulator_creep", "suction_margin")] == ["3 psi", "4 psi", "5 kPa"]


def test_the_smallest_that_passes_leaves_out_what_no_line_cures(table):
    """The regulator is nearly wide open by itself: at -20 hardly anything is lost, and the rail still stands more than 4 psi over."""
    assert table.beyond == ["rise_over_setting"] and table.smallest().size == "-8"
    assert not table.smallest().passes and "No size keeps the limit of rise over setting" in str(table)
    words = re.search(r"^-8 ptfe: (.*)$", table.text(140), re.MULTILINE)[1]
    assert words == "passes all else <- smallest that passes all else"
    kind = fn.line_sizes(demo(), "return hose", limits=Limits(regulator_creep="6 psi"))
    assert kind.beyond == [] and kind.smallest().size == "-8" and kind.smallest().passes
    assert [row.size for row in kind.rows if row.passes] == ["-8", "-10", "-12", "-16", "-20"]
    wide = fn.line_sizes(demo(), "return hose", limits=Limits(regulator_creep="6 psi", return_rise_injection="4 psi"))
    assert wide.smallest().size == "-6"


def test_narrow_lines_only_are_not_said_to_be_past_cure():
    found = fn.line_sizes(demo(), "return hose", ["-3", "-4"], limits=Limits(regulator_creep="6 psi"))
    narrow = [row for row in found.rows if not row.written]
    assert all("back_pressure" in row.fails for row in narrow) and found.beyond == [] and found.smallest() is None
    assert "None of these sizes passes" in str(found) and "smallest that passes" not in str(found)


def two_rails():
    """Eight injectors on two rails; the regulator sits on the left one, so nothing feels what the hose to the right one costs."""
    car = fn.Circuit("two rails (invented)", fluid="E10", invented=True)
    car.tank("cell", level="8 in")
    car.run("feed", "cell", "Y", [fn.formula_pump("95 psi", "150 gph", through="60 psi at 85 gph", name="pump"), fn.hose("-8", "11 ft", spec="ptfe")])
    car.run("left", "Y", "rail L", [fn.hose("-8", "2 ft", spec="ptfe", name="hose L")])
    car.run("right", "Y", "rail R", [fn.hose("-8", "9 ft", spec="ptfe", name="hose R")])
    car.run("return", "rail L", "cell", [
        fn.bypass_regulator("43.5 psi", reference="manifold", wide_open="15 psi at 500 L/h", name="regulator"), fn.hose("-8", "12 ft", spec="ptfe")])
    for side in "LR":
        car.injectors(f"bank {side}", f"rail {side}", count=4, flow="550 cc/min at 3 bar")
    car.case("idle", duty="3 %", manifold="18 inHg vacuum")
    car.case("full power", duty="85 %", manifold="0 psi")
    return car


def test_of_two_rails_that_is_read_which_has_least_left():
    found = fn.line_sizes(two_rails(), "hose R", ["-3", "-6"])
    cell, power = found.row("-3").cells["pressure"], found.row("-3").answer["full power"]
    assert found.places == ("rail L", "rail R") and (cell.case, cell.place) == ("full power", "rail R")
    assert cell.value.si == pytest.approx(power.at("rail R").gauge.si) and not cell.passes and found.smallest().size == "-6"
    across = power.at("rail R").total.si - power.at("manifold").total.si  # rated at 3 bar, of which three quarters are the least
    assert cell.margin.si == pytest.approx(across - 0.75 * 3e5)
    (told,) = [one for one in review(found.row("-3").answer) if one.severity == "stop"]
    assert told.code == "injector pressure low" and told.where == "bank R"
    words = re.search(r"^-3 ptfe: (.*)$", found.text(200), re.MULTILINE)[1]
    assert words == "fails: worst-fed place pressure" and "full power, rail R for -3" in str(found)


def low_volts():
    car = fn.Circuit("low volts (invented)", fluid="E85", invented=True)
    car.tank("cell", level="8 in")
    car.run("feed", "cell", "rail", [fn.formula_pump("95 psi", "150 gph", through="60 psi at 85 gph", name="pump"),
                                     fn.hose("-8", "11 ft", spec="ptfe", name="feed hose"), fn.filter("1.2 psi at 100 gph")])
    car.run("return", "rail", "cell", [
        fn.bypass_regulator("43.5 psi", reference="manifold", wide_open="15 psi at 500 L/h", name="regulator"), fn.hose("-8", "12 ft", spec="ptfe")])
    car.injectors("bank", "rail", count=6, flow="1000 cc/min at 3 bar")
    car.case("full power", volts="13.5 V", duty="80 %", manifold="0 psi")
    car.case("cruise, low volts", volts="8.8 V", duty="15 %", manifold="0 psi")
    return car


def test_pressure_is_read_in_the_case_that_has_least_left_not_in_that_which_draws_most():
    found = fn.line_sizes(low_volts(), "feed hose", ["-4", "-8"])
    for row in found.rows:
        cell = row.cells["pressure"]
        (starved,) = [one for one in review(row.answer) if one.code == "regulator starved"]
        assert cell.case == starved.case == "cruise, low volts" and not row.passes
        assert -cell.margin.si == pytest.approx(starved.value.si - starved.limit.si)
    assert found.beyond == ["pressure"] and "No size keeps the limit of rail pressure" in str(found)
    car = low_volts()
    car.cases["full power"].conditions["volts"] = "0 V"
    car.cases["full power"].conditions["duty"] = "0 %"
    car.cases["cruise, low volts"].conditions["volts"] = "13.5 V"
    assert fn.line_sizes(car, "feed hose", ["-8"]).row("-8").passes  # with the engine off nothing is asked of the pressure
    del car.cases["cruise, low volts"]
    assert fn.line_sizes(car, "feed hose", ["-8"]).row("-8").cells["pressure"].limit is None
    oil = fn.load(str(EXAMPLES / "oil_cooler.toml"))
    oil.case("parked", speed="0 rpm")
    assert fn.line_sizes(oil, "hose to cooler", ["-12"], at="gallery").row("-12").cells["pressure"].case != "parked"


EASY = {"regulator_creep": "500 psi", "return_rise_injection": "500 psi", "return_velocity": "50 m/s"}


def test_a_stop_that_other_sizes_do_not_have_fails_a_size_and_is_named():
    found = fn.line_sizes(demo(), "return hose", limits=Limits(**EASY))
    row = found.row("-3")
    assert row.fails == [] and not row.passes and {one.severity for one in row.findings} == {"stop", "fix"}
    words = re.search(r"^-3 ptfe: (.*)$", found.text(400), re.MULTILINE)[1]
    assert words == "fails: STOP injector pressure (injector bank, idle), FIX regulator wide open (regulator, idle / hot restart)"
    assert found.row("-6").passes and found.row("-6").findings == [] and found.shared == [] and found.smallest().size == "-5"


def test_what_a_wider_line_would_cure_is_held_against_all_sizes_that_were_tried():
    car = demo()
    car.change("return hose", size="-3")
    found = fn.line_sizes(car, "return hose", ["-3"], limits=Limits(**EASY))
    assert found.shared == [] and "injector pressure" in {one.code for one in found.row("-3").findings} and found.smallest() is None


def test_what_every_size_is_told_is_a_note_and_leaves_the_choice():
    car = demo()
    car.cases["full power"].conditions["duty"] = "100 %"
    found = fn.line_sizes(car, "return hose", ["-6", "-8"], limits=Limits(regulator_creep="6 psi"))
    assert found.smallest().size == "-8" and found.row("-8").passes and [one.code for one in found.shared] == ["injector duty"]
    assert "With every size" in str(found) and "FIX: injector bank, full power: open 100 % of the time" in " ".join(str(found).split())


def test_a_size_that_makes_much_worse_what_none_keeps_is_not_the_smallest():
    """The tank alone leaves too little to boiling on the hot day; a thin tube before the pump takes half of that."""
    found = fn.line_sizes(fn.load(str(EXAMPLES / "carburettor.toml")), "feed tube 1")
    thin, chosen = found.row("1/4 in"), found.smallest()
    assert found.beyond == ["suction_margin"] == thin.fails == chosen.fails and chosen.size == "5/16 in x 0.035 in"
    assert found.blamed(thin) == ["suction_margin"] and found.blamed(chosen) == []


def creeping(**words):
    car = fn.Circuit("creep (invented)", fluid="E85", invented=True)
    car.tank("cell", level="8 in")
    car.run("feed", "cell", "rail", [
        fn.formula_pump("95 psi", "250 gph", through="60 psi at 140 gph", name="pump"), fn.hose("-10", "11 ft", spec="ptfe")])
    car.run("return", "rail", "cell", [
        fn.bypass_regulator("43.5 psi", reference="manifold", wide_open="22 psi at 400 L/h", name="regulator", **words),
        fn.hose("-6", "12 ft", spec="ptfe", name="return hose")])
    car.injectors("bank", "rail", count=6, flow="300 cc/min at 3 bar")
    car.case("overrun", volts="13.2 V", duty="1 %", manifold="20 inHg vacuum")
    car.case("boost", volts="14.2 V", duty="5 %", manifold="10 psi")
    return car


def test_the_rise_is_read_where_it_is_worst_not_where_most_is_spilled():
    row = fn.line_sizes(creeping(), "return hose", ["-6"]).row("-6")
    rises = {name: case.at("rail").total.si - case.at("manifold").total.si - 43.5 * PSI for name, case in row.answer.items()}
    spilled = {name: case.part("regulator").flow.si for name, case in row.answer.items()}
    assert max(rises, key=rises.get) == "overrun" and max(spilled, key=spilled.get) == "boost"
    assert row.cells["rise_over_setting"].case == "overrun" and value(row, "rise_over_setting") == pytest.approx(rises["overrun"], rel=1e-7)


@pytest.mark.parametrize("words", [{"set_flow": "200 L/h"}, {"seat_share": "5 %"}])
def test_the_rise_is_that_of_the_finding_on_creep(words):
    """Over where it opens: below a setting that was read off at a flow, and moved by the return where the seat has a share."""
    car, tight = creeping(**words), Limits(regulator_creep="0.1 psi")
    del car.cases["overrun"]  # in which it is wide open, and no longer creeps
    row = fn.line_sizes(car, "return hose", ["-6"], limits=tight).row("-6")
    (told,) = [one for one in review(row.answer, tight) if one.code == "regulator creep"]
    plain = row.answer["boost"].at("rail").total.si - row.answer["boost"].at("manifold").total.si - 43.5 * PSI
    assert value(row, "rise_over_setting") == pytest.approx(told.value.si) and abs(told.value.si - plain) > 0.05 * PSI


@pytest.mark.parametrize("celsius", [38, 41, 43, 44, 45, 46])
def test_a_margin_that_the_check_finds_too_small_is_too_small_in_the_table(celsius):
    """The check adds what the vapour pressure of the fuel may be off to its limit."""
    car = fn.Circuit("warm (invented)", fluid="E10", invented=True)
    car.tank("cell", level="8 in")
    car.run("feed", "cell", "rail", [fn.hose("-8", "3 ft", spec="ptfe", name="suction hose"),
                                     fn.formula_pump("95 psi", "150 gph", through="60 psi at 85 gph", name="pump"),
                                     fn.hose("-8", "11 ft", spec="ptfe")])
    car.run("return", "rail", "cell", [
        fn.bypass_regulator("43.5 psi", reference="ambient", wide_open="15 psi at 500 L/h"), fn.hose("-8", "12 ft", spec="ptfe")])
    car.injectors("bank", "rail", count=6, flow="300 cc/min at 3 bar")
    car.case("hot", fluid_temperature=f"{celsius} C", duty="5 %")
    row = fn.line_sizes(car, "suction hose", ["-8"]).row("-8")
    told = [one for one in review(row.answer) if one.code == "suction margin"]
    assert ("suction_margin" in row.fails) == bool(told) == (celsius > 43)
    for one in told:
        assert row.cells["suction_margin"].limit.si == pytest.approx(one.limit.si)


def test_a_regulator_that_spills_straight_into_its_tank_has_no_back_pressure():
    car = fn.Circuit("in the tank (invented)", fluid="gasoline class A", invented=True)
    car.tank("cell", level="8 in")
    car.run("module", "cell", "T", [fn.formula_pump("95 psi", "150 gph", through="60 psi at 85 gph", name="pump"), fn.filter("0.8 psi at 100 gph")])
    car.run("spill", "T", "cell", [fn.bypass_regulator("58 psi", reference="ambient", wide_open="15 psi at 500 L/h", name="regulator")])
    car.run("feed", "T", "rail", [fn.hose("-6", "11 ft", spec="ptfe", name="feed hose")])
    car.injectors("bank", "rail", count=6, flow="300 cc/min at 4 bar")
    car.case("idle", duty="3 %", manifold="18 inHg vacuum")
    found = fn.line_sizes(car, "feed hose", ["-4", "-6"])
    keys = [column.key for column in found.columns]
    assert "back_pressure" not in keys and "rise_over_setting" in keys
    assert {row.cells["velocity"].limit.si for row in found.rows} == {6.0}


def test_what_comes_back_from_a_hydraulic_consumer_is_judged_as_a_return():
    """15 ft/s back to the tank, 25 under pressure (trade rules of hydraulics, from memory)."""
    car = fn.Circuit("hydraulics (invented)", fluid="ISO VG 46", fluid_temperature="50 C", invented=True)
    car.tank("reservoir", level="4 in", height="20 in")
    car.run("suction", "reservoir", "outlet", [fn.hose("-20", "2 ft", spec="full-size", name="suction hose"),
                                               fn.displacement_pump("20 cc/rev", speed="2000 rpm", name="pump")])
    car.run("relief", "outlet", "reservoir", [fn.relief_valve("1200 psi", wide_open="50 psi at 5 gpm", override="60 psi", name="relief")])
    car.run("work", "outlet", "reservoir", [fn.hose("-10", "4 ft", spec="full-size", name="pressure hose"),
                                            fn.valve(rated="400 psi at 10 gpm", name="valve"),
                                            fn.hose("-10", "4 ft", spec="full-size", name="back hose")])
    for line, feet in [("suction hose", 4), ("pressure hose", 25), ("back hose", 15)]:
        row = fn.line_sizes(car, line, ["-10"]).row("-10")
        assert row.cells["velocity"].limit.si == pytest.approx(feet * 12 * INCH)


def test_a_pass_too_thin_to_buy_by_is_told_with_the_size_that_passes_all_else(table):
    rises = {row.size: row.cells["rise_over_setting"].value.to("psi") for row in table.rows}
    between = 0.5 * (rises["-12"] + rises["-16"])
    assert 1.0 < rises["-10"] / between < 1.02 < rises["-8"] / between
    found = fn.line_sizes(demo(), "return hose", limits=Limits(regulator_creep=f"{between} psi"))
    words = " ".join(str(found).split())
    assert found.smallest().size == "-16" and found.row("-10").fails == ["rise_over_setting"]
    told = f"{rises['-10']:.2f} against {rises['-16']:.2f} psi at a limit of {between:.2f}"
    assert f"-10 ptfe and -16 ptfe differ in rise over setting, {told}" in words
    assert "too small a difference to buy by. -10 ptfe passes all else" in words
    bores = [f"{found.row(size).bore.to('in'):.3f}" for size in ("-16", "-10")]
    assert found.summary()[0] == (f"Smallest that passes: -16 ptfe, bore {bores[0]} in; -10 ptfe, bore {bores[1]} in, is as good a buy: "
                                  "they differ by less than our numbers are close.")
    for beyond, thin in ((1.03, True), (1.051, False)):  # so far the -8 misses the limit, which the -16 keeps by less than 5 %
        limit = rises["-8"] / beyond
        assert 0.0 < 1.0 - rises["-16"] / limit < 0.05
        other = fn.line_sizes(demo(), "return hose", ["-8", "-16"], limits=Limits(regulator_creep=f"{limit} psi"))
        assert other.smallest().size == "-16" and ("to buy by" in " ".join(str(other).split())) == thin


def test_a_size_that_passes_by_less_than_our_numbers_are_worth_says_so_with_what_the_next_leaves(table):
    """0.04 % of a velocity is no margin: friction alone is known within some 5 % (docs/verification.md, measured sets)."""
    speeds = {row.size: row.cells["velocity"].value.to("ft/s") for row in table.rows}
    limits = Limits(regulator_creep="10 psi", return_velocity=f"{1.0004 * speeds['-8']} ft/s")
    found = fn.line_sizes(demo(), "return hose", ["-6", "-8", "-10"], limits=limits)
    told = found.summary()[1]
    assert found.smallest().size == "-8" and told.startswith("-8 ptfe passes by a hair: velocity in the line by 0.00180 ft/s, 0.04 % of its limit, in idle")
    left = 1.0004 * speeds["-8"] - speeds["-10"]
    assert "Our numbers are no closer than 5 % (judgement: " in told
    assert told.endswith(f"The next size up that passes and leaves more, -10 ptfe, leaves {left:.2f} ft/s.")
    assert "-8 ptfe: passes, by a hair: velocity in the line" in str(found) and not any("0.00180" in line for line in found.summary()[2:])
    assert "by a hair" in fn.size_picture(found).texts[0].get_text() or any("by a hair" in one.get_text() for one in fn.size_picture(found).texts)
    wide = fn.line_sizes(demo(), "return hose", ["-6", "-8", "-10"], limits=Limits(regulator_creep="10 psi", return_velocity=f"{1.06 * speeds['-8']} ft/s"))
    assert wide.smallest().size == "-8" and "hair" not in str(wide)
    alone = fn.line_sizes(demo(), "return hose", ["-6", "-8"], limits=limits)
    assert "No wider size that passes and leaves more was tried." in alone.summary()[1]


@pytest.mark.parametrize("which, look", [("return_rise_injection", "Look at the return line and the regulator."),
                                         ("suction_margin", "Look at the lines and the strainer before the pump.")])
def test_what_a_wider_line_does_not_mend_is_no_hair_of_its_size(which, look):
    """A wider feed brings more back to the return, and hardly moves what is left before the pump."""
    key = {"return_rise_injection": "back_pressure"}.get(which, which)
    roomy = {"regulator_creep": "10 psi", "return_rise_injection": "10 psi"}
    free = fn.line_sizes(demo(), "feed hose", ["-6", "-8", "-10"], limits=Limits(**roomy))
    cell = free.row("-8").cells[key]
    near = 1.02 * cell.value.si if key == "back_pressure" else 5e3 + cell.left - 0.02 * cell.value.si  # 5 kPa: the preset, without the band of the fuel
    found = fn.line_sizes(demo(), "feed hose", ["-6", "-8", "-10"], limits=Limits(**{**roomy, which: f"{near} Pa"}))
    cells = [row.cells[key] for row in found.rows]
    assert all(one.by_a_hair for one in cells) and all(here.left >= wider.left - 1.0 for here, wider in zip(cells, cells[1:]))
    words = " ".join(str(found).split())
    assert f"By a hair, and no wider feed hose mends it: {'return back-pressure' if key == 'back_pressure' else 'suction margin'} by" in words
    assert look in words and "passes, by a hair" not in words and "The next size up" not in words
    assert found.hairs(found.smallest()) == [] and found.hairs_past_mending(found.smallest()) == [key]
    assert found.to_dataset().attrs["by_a_hair"] == []


def test_the_next_size_is_that_which_leaves_more_not_one_that_passes_by_the_same_hair(table):
    speed = table.row("-8").cells["velocity"].value.to("ft/s")
    found = fn.line_sizes(demo(), "return hose", ["-8", "-10"], limits=Limits(regulator_creep="10 psi", return_velocity=f"{1.0004 * speed} ft/s"))
    from dataclasses import replace
    from flarenut.studies.line_verdicts import hair_passes, past_mending

    wide = found.row("-10")
    limit = found.row("-8").cells["velocity"].limit
    wide.cells["velocity"] = replace(wide.cells["velocity"], value=fn.units.Quantity((1.0 - 0.0104) * limit.si, "velocity"))
    assert [one[2] for one in hair_passes(found)] == [wide] and past_mending(found.rows, wide) == {("ptfe", "-10", "velocity")}
    wide.cells["velocity"] = replace(wide.cells["velocity"], value=fn.units.Quantity((1.0 - 0.0103) * limit.si, "velocity"))
    assert [one[2] for one in hair_passes(found)] == [None]
    assert past_mending(found.rows, wide) == {("ptfe", "-8", "velocity"), ("ptfe", "-10", "velocity")}


@pytest.mark.parametrize("least, passes", [("100 %", True), ("130 %", False)])
def test_injectors_may_be_asked_for_all_of_what_they_are_rated_at_and_more(least, passes):
    found = fn.line_sizes(demo(), "feed hose", ["-8"], limits=Limits(injector_pressure_least=least)).row("-8")
    cell, full = found.cells["pressure"], found.answer["full power"]
    across = full.at("rail").total.si - full.at("manifold").total.si
    assert cell.case == "full power" and cell.passes is passes
    assert cell.left == pytest.approx(across - float(least[:-2]) / 100 * 3e5)
    assert cell.tightness == pytest.approx(cell.left / (cell.limit.si if passes else 0.3 * 3e5)) and cell.by_a_hair is passes


@pytest.mark.parametrize("shortfall, least, rated, tightest", [
    ("5 %", "75 %", 3.0, "regulator"),  # the rail stands over both: all that is allowed is left, and the regulator is the nearer in pascals
    ("50 %", "75 %", 3.9, "injectors"),
    ("5 %", "10 %", 8.0, "injectors"),  # 38 of 90 % are left of the injectors', nearly all of the regulator's few pascals
    ("0.1 %", "95 %", 3.9, "injectors")])  # passed by more than all that is allowed
def test_of_the_limits_on_a_place_that_which_has_the_least_share_left_is_shown(shortfall, least, rated, tightest):
    """Of the regulator at 43.5 psi, and of the injectors."""
    car = demo()
    for bank in car.solve()["idle"].injectors:
        car.change(bank, flow=f"1000 cc/min at {rated} bar")
    limits = Limits(regulator_shortfall=shortfall, injector_pressure_least=least)
    row = fn.line_sizes(car, "feed hose", ["-8"], limits=limits).row("-8")
    cell = row.cells["pressure"]
    case = row.answer[cell.case]
    across = case.at("rail").total.si - case.at("manifold").total.si
    lefts = {"regulator": (across - (1 - limits.regulator_shortfall.si) * 43.5 * PSI, limits.regulator_shortfall.si * 43.5 * PSI),
             "injectors": (across - limits.injector_pressure_least.si * rated * 1e5, (1 - limits.injector_pressure_least.si) * rated * 1e5)}
    shares = {name: left / allowed for name, (left, allowed) in lefts.items()}
    assert cell.left == pytest.approx(lefts[tightest][0], abs=1.0) and cell.allowed == pytest.approx(lefts[tightest][1], rel=1e-6), shares
    assert all(shares[tightest] <= one or one > 1.0 for one in shares.values())


def test_of_a_fed_pressure_a_hair_is_a_share_of_how_far_it_may_fall(table):
    """A rail that is held stands within 5 % of its setting by that alone: no hair. 2 % of the fall that is allowed is one."""
    assert not any(row.cells["pressure"].by_a_hair for row in table.rows) and all(0.0 < row.cells["pressure"].spare < 0.06 for row in table.rows)
    cell = table.row("-8").cells["pressure"]
    assert cell.allowed == pytest.approx(0.05 * 43.5 * PSI, rel=1e-6)  # of the regulator: the injectors' limit is farther off, and the rail above both
    from dataclasses import replace

    near = replace(cell, limit=fn.units.Quantity(cell.value.si - 0.04 * cell.allowed, "pressure_gauge"))
    off = replace(cell, limit=fn.units.Quantity(cell.value.si - 0.06 * cell.allowed, "pressure_gauge"))
    assert near.by_a_hair and not off.by_a_hair and near.passes and off.passes


def test_a_tube_in_place_of_a_hose_keeps_its_length_and_bends():
    found = fn.line_sizes(demo(), "return hose", ["-8", "1/2 in x 0.049 in", "-6"], ["tube", "full-size"])
    assert [(row.spec, row.size) for row in found.rows] == [
        ("ptfe", "-6"), ("tube", "3/8 in x 0.035 in"), ("tube", "1/2 in x 0.049 in"), ("tube", "1/2 in x 0.035 in"), ("full-size", "-6"), ("full-size", "-8")]
    car = demo()
    other = fn.Circuit(car.name, car.fluid, invented=True)
    other.junctions, other.cases = car.junctions, car.cases
    for run in car.runs.values():
        parts = [fn.tube("1/2 in", "12 ft", wall="0.049 in", bends=[90, 90], name="return hose") if piece.name == "return hose" else piece
                 for piece in run.pieces]
        other.run(run.name, run.start, run.end, parts)
    other.multiport = car.multiport
    row, answer = found.row("1/2 in x 0.049 in"), other.solve()
    assert value(row, "rise_over_setting") == pytest.approx(
        answer["idle"].at("rail").total.si - answer["idle"].at("manifold").total.si - 43.5 * PSI, rel=1e-7)
    assert value(row, "volume") == pytest.approx(pi / 4 * ((0.5 - 2 * 0.049) * INCH) ** 2 * 144 * INCH)


def test_a_feed_is_judged_by_the_limit_of_feeds_and_a_suction_line_by_that_of_suction():
    carburettor = fn.load(str(EXAMPLES / "carburettor.toml"))
    suction = fn.line_sizes(carburettor, "feed tube 1")
    feed = fn.line_sizes(carburettor, "frame line")
    assert {row.cells["velocity"].limit.si for row in suction.rows} == {1.5} and {row.cells["velocity"].limit.si for row in feed.rows} == {6.0}
    keys = [column.key for column in suction.columns]
    assert "rise_over_setting" not in keys and "back_pressure" not in keys and "degrees_to_boiling" in keys  # nothing returns
    assert suction.row("3/16 in").fails == ["pressure", "suction_margin"] and suction.smallest().size == "5/16 in x 0.035 in"
    assert feed.places == ("float bowl",)
    for row in feed.rows:  # a regulator that still regulates may droop by a tenth, 0.55 psi
        least = min(row.answer.values(), key=lambda case: case.at("float bowl").gauge.si)
        cell = row.cells["pressure"]
        assert cell.case == least.name and cell.value.si == pytest.approx(least.at("float bowl").gauge.si)
        assert cell.passes == (not any(one.code == "regulator short" for one in least.findings))


def test_oil_is_not_said_to_boil_and_a_relief_that_spills_into_the_sump_makes_no_return_of_its_feed():
    oil = fn.load(str(EXAMPLES / "oil_cooler.toml"))
    found = fn.line_sizes(oil, "hose to cooler", at="gallery")
    keys = [column.key for column in found.columns]
    assert "degrees_to_boiling" not in keys and "back_pressure" not in keys and "pressure" in keys
    assert {row.cells["velocity"].limit.si for row in found.rows} == {4.0} and found.smallest().size == "-10"
    least = min(case.at("gallery").gauge.si for case in found.row("-12").answer.values())
    assert value(found.row("-12"), "pressure") == pytest.approx(least)
    assert "pressure" not in [column.key for column in fn.line_sizes(oil, "hose to cooler", ["-12"]).columns]  # nothing says where


def coolant():
    loop = fn.Circuit("cooling (invented)", fluid="water", fluid_temperature="90 C", invented=True)
    loop.fixed("header", "1 bar")
    loop.run("lower", "header", "pump in", [fn.hose("-20", "0.5 m", spec="full-size", name="lower hose")])
    loop.run("drive", "pump in", "engine", [fn.centrifugal_pump([["0 L/min", "1.2 bar"], ["100 L/min", "0.9 bar"], ["180 L/min", "0.3 bar"]],
                                                                rated_speed="5000 rpm", speed="5000 rpm", name="pump")])
    loop.run("upper", "engine", "header", [fn.resistance("0.4 bar at 100 L/min", name="block"), fn.hose("-16", "0.6 m", spec="full-size", name="upper hose")])
    loop.case("idle", speed="1000 rpm")
    loop.case("full", speed="5000 rpm")
    return loop


def test_coolant_boils_before_its_pump_where_the_hose_is_narrow():
    found = fn.line_sizes(coolant(), "lower hose")
    assert found.row("-20").written and found.row("-20").passes and "suction_margin" in found.row("-6").fails
    assert {row.cells["velocity"].limit.si for row in fn.line_sizes(coolant(), "upper hose").rows} == {3.0}
    cell = found.row("-20").cells["degrees_to_boiling"]
    static = value(found.row("-20"), "suction_margin") + found.row("-20").answer["full"].liquid_in("pump")["vapour_pressure"]
    assert fn.fluid("water").at(f"{90 + cell.value.si} C").vapour_pressure.si == pytest.approx(static, rel=1e-6)


def test_without_a_limit_nothing_passes_and_without_a_draw_the_regulator_says_where_pressure_matters():
    drain = fn.Circuit("drain (invented)", fluid="water", invented=True)
    drain.tank("drum", level="1 m")
    drain.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size", name="drain hose")])
    found = fn.line_sizes(drain, "drain hose")
    assert found.smallest() is None and found.text().count("no limit is known to judge it by") == len(found.rows)
    assert "passes" not in found.text().replace("below nothing it is passed", "")
    bench = fn.Circuit("bench (invented)", fluid="gasoline", invented=True)
    bench.tank("cell", level="8 in")
    bench.run("feed", "cell", "rail", [fn.formula_pump("95 psi", "420 L/h", name="pump"), fn.hose("-6", "11 ft", spec="ptfe", name="feed hose")])
    bench.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient", name="regulator"), fn.opening("-6")])
    found = fn.line_sizes(bench, "feed hose", ["-6"])
    assert found.places == ("rail",) and value(found.row("-6"), "pressure") == pytest.approx(bench.solve()["as written"].at("rail").gauge.si)


def test_a_size_without_an_answer_says_why_and_has_no_numbers():
    oil = fn.load(str(EXAMPLES / "oil_cooler.toml"))
    found = fn.line_sizes(oil, "suction tube", ["6 mm", "15 mm"], "metric tube")
    row = found.row("6 mm")
    assert row.cells == {} and not row.passes and "not solved in" in row.refusal and "cold start" in row.refusal
    assert "not solved" in found.text(160) and row.refusal.split(":")[0] in " ".join(found.text(400).split())
    assert found.row("15 mm").cells and found.smallest() is None


def test_fittings_that_are_named_take_the_size_of_the_line():
    """All three in -8, as if the circuit had been written so; -6 is the line as written and stays."""
    found = fn.line_sizes(demo(), "return hose", ["-6", "-8"], fittings=["return elbow", "return port"])
    car = demo()
    car.change("return hose", size="-8")
    car.change("return elbow", size="-8")
    car.change("return port", bore="-8")
    idle = car.solve()["idle"]
    over = idle.at("rail").total.si - idle.at("manifold").total.si - 43.5 * PSI
    assert value(found.row("-8"), "rise_over_setting") == pytest.approx(over, rel=1e-7)
    assert value(found.row("-8"), "back_pressure") < value(fn.line_sizes(demo(), "return hose", ["-8"]).row("-8"), "back_pressure") - 200.0
    assert value(found.row("-6"), "back_pressure") == pytest.approx(value(fn.line_sizes(demo(), "return hose", ["-8"]).row("-6"), "back_pressure"))
    assert "stay as written" not in found.text() and "return port" not in " ".join(found.notes)
    tubes = fn.line_sizes(demo(), "return hose", ["1/2 in"], "tube", fittings=["return elbow"]).row("1/2 in").answer["idle"]
    assert tubes.part("return elbow").inlet.bore.si == pytest.approx(catalog.fitting_bore(8))
    metric = fn.line_sizes(demo(), "return hose", ["12 mm"], "metric tube", fittings=["return elbow"])
    assert "has no dash size" in metric.row("12 mm").refusal and "has no dash size" in " ".join(str(metric).split())
    odd = fn.line_sizes(demo(), "return hose", ["0.8 in x 0.035 in"], "tube", fittings=["return elbow"])  # 12.8 sixteenths
    assert "has no dash size" in next(row.refusal for row in odd.rows if row.spec == "tube")


def test_a_line_without_a_name_of_its_own_is_found_by_the_name_it_is_shown_under():
    car = demo()
    for run in car.runs.values():
        run.pieces = [piece.changed() for piece in run.pieces]
        for piece in run.pieces:
            piece.name = None if piece.word == "hose" else piece.name
    found = fn.line_sizes(car, "return hose", ["-8", "1/2 in"], ["ptfe", "tube"])
    assert value(found.row("-8"), "rise_over_setting") == pytest.approx(value(fn.line_sizes(demo(), "return hose").row("-8"), "rise_over_setting"), rel=1e-7)
    assert [piece.name for run in car.runs.values() for piece in run.pieces if piece.word == "hose"] == [None] * 3  # none is renamed


def test_the_circuit_stays_as_it_is():
    car = demo()
    before = car.solve()["idle"].at("rail").total.si
    fn.line_sizes(car, "feed hose", specs="tube")
    assert car.solve()["idle"].at("rail").total.si == before and car.compiled().pieces["feed hose"].word == "hose"


@pytest.mark.parametrize("words, told", [
    ({"line": "retrun hose"}, "did you mean 'return hose'"),
    ({"line": "pump"}, "the lines are feed hose, engine bay hose, return hose"),
    ({"line": "return hose", "specs": "ptfee"}, "did you mean 'ptfe'"),
    ({"line": "return hose", "sizes": ["-8", "-7"]}, "'-7' is no size of ptfe: ptfe: -3, -4"),
    ({"line": "return hose", "at": "rial"}, "did you mean 'rail'"),
    ({"line": "return hose", "units": "si"}, "write 'us' or 'metric'"),
    ({"line": "return hose", "fittings": ["return port", "retrun elbow"]}, "did you mean 'return elbow'"),
    ({"line": "return hose", "fittings": "regulator"}, "no fitting that comes by dash size"),
])
def test_what_cannot_be_is_refused_with_a_cure(words, told):
    with pytest.raises(fn.CircuitError, match=re.escape(told)):
        fn.line_sizes(demo(), **words)


def test_a_line_by_its_bore_is_asked_for_its_specification():
    car = demo()
    car.change("return hose", bore="8 mm", size=None, spec=None)
    with pytest.raises(fn.CircuitError, match="say which, specs="):
        fn.line_sizes(car, "return hose")
    assert [row.size for row in fn.line_sizes(car, "return hose", ["-8"], "ptfe").rows] == ["bore 8 mm", "-8"]


def test_a_narrow_feed_that_chokes_the_pump_is_no_cure_of_the_return():
    """Losing 30 psi it sends so little to the rail that the regulator and its return cope; both stay too small for the pump."""
    found = fn.line_sizes(demo(), "feed hose")
    narrow, words = found.row("-4"), " ".join(str(found).split())
    assert narrow.fails == [] and value(narrow, "lost") > 25 * PSI and found.row("-20").fails == found.elsewhere == ["rise_over_setting", "back_pressure"]
    assert found.chokes(narrow) and found.smallest().size == "-6" and value(found.smallest(), "lost") < 4 * PSI
    assert "Left out below, as they belong elsewhere: rise over setting (at most 4.00 psi) and return back-pressure" in words
    assert "Look at the return line and the regulator." in words and "-4 ptfe: fails: chokes the flow" in words
    assert "-8 ptfe (now): passes all but rise over setting and return back-pressure (not of this line)" in words
    assert found.to_dataset().attrs["elsewhere"] == found.elsewhere


def hill_wagon(bore, cases=("idle", "full power")):
    """A return system by the bore of its return line."""
    car = fn.Circuit("hill wagon (invented)", fluid="gasoline", units="us", invented=True)
    car.tank("cell", level="10 in")
    car.junction("rail", height="22 in")
    car.run("feed", "cell", "rail", [fn.formula_pump("100 psi", "120 gph", through="43 psi at 80 gph", name="pump"),
                                     fn.tube("3/8 in x 0.035 in", length="13 ft", bends=[90, 90, 45, 45], name="feed line")])
    car.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="manifold", name="regulator"),
                                       fn.tube(bore, length="14 ft", bends=[90, 90, 90], name="return line")])
    car.injectors("bank", at="rail", count=8, flow="36 lb/h at 43.5 psi")
    words = {"idle": {"volts": 14, "duty": "3 %", "manifold": "18 inHg vacuum"}, "full power": {"volts": 13.5, "duty": "80 %", "manifold": "0 psi"}}
    for name in cases:
        car.case(name, **words[name])
    return car


def passed(found, row, case):
    return found.row(row).answer[case].part("feed line").flow.si


def test_a_feed_is_not_said_to_choke_where_the_return_is_too_small_and_the_flow_is_the_same():
    found = fn.line_sizes(hill_wagon("1/4 in x 0.035 in"), "feed line")
    ample, narrow = found.row("3/8 in"), found.row("1/4 in")
    assert "rise_over_setting" in found.elsewhere and not found.chokes(ample) and found.is_choice(ample)
    assert passed(found, "3/8 in", "idle") > 0.98 * passed(found, "1 in", "idle")
    assert found.chokes(narrow) and passed(found, "1/4 in", "idle") < 0.95 * passed(found, "1 in", "idle")
    for row in found.rows:  # a tube of 1 in loses next to nothing
        if found.chokes(row):
            assert min(passed(found, row.size, case) / passed(found, "1 in", case) for case in ("idle", "full power")) < 0.951, row.size


def test_a_feed_that_leaves_the_regulator_nothing_to_spill_chokes():
    """It keeps every limit by a little, and sets the rail's pressure itself, losing 40 psi at idle."""
    found = fn.line_sizes(hill_wagon("3/8 in x 0.035 in"), "feed line")
    thin = found.row("3/16 in")
    assert thin.fails == [] and thin.findings == [] and found.elsewhere == [] and value(thin, "lost") > 35 * PSI
    assert thin.answer["full power"].part("regulator").regime == "shut" and found.row("1/4 in").answer["full power"].part("regulator").regime == "regulating"
    assert found.chokes(thin) and found.left_shut(thin) == "regulator, in full power" and found.smallest().size == "1/4 in x 0.035 in"
    assert "lost in it; nothing is left to spill for regulator, in full power)" in " ".join(str(found).split())
    idle = fn.line_sizes(hill_wagon("3/8 in x 0.035 in", ["idle"]), "feed line")
    assert not any(idle.chokes(row) for row in idle.rows) and idle.left_shut(idle.row("3/16 in")) == ""


def oil_without_relief():
    oil = fn.Circuit("no relief (invented)", fluid="ISO VG 46", fluid_temperature="30 C", invented=True)
    oil.tank("sump", level="3 in")
    oil.run("suction", "sump", "outlet", [fn.tube("1/2 in", "40 in", wall="0.065 in", name="suction tube"),
                                          fn.displacement_pump("11 cc/rev", speed="3000 rpm", name="oil pump")])
    oil.run("cooler", "outlet", "gallery", [fn.hose("-10", "4 ft", spec="full-size", name="cooler hose")])
    oil.run("bearings", "gallery", "sump", [fn.resistance("60 psi at 1 gpm", name="engine")])
    oil.case("cold", speed="2000 rpm")
    return oil


@pytest.mark.parametrize("sizes", [None, ["-8", "-10"]])
def test_what_is_wrong_before_the_pump_is_no_reason_for_a_wider_hose_after_it(sizes):
    found = fn.line_sizes(oil_without_relief(), "cooler hose", sizes, at="gallery")
    assert all("inlet_vacuum" in row.fails for row in found.rows) and found.beyond == ["inlet_vacuum"]
    assert found.smallest() is not None and "try wider" not in str(found)


def test_a_stop_that_every_size_has_stands_at_the_top():
    found = fn.line_sizes(oil_without_relief(), "cooler hose", at="gallery")
    _, second, *others = found.summary()
    assert any(one.startswith("Smallest that passes all else: ") for one in others)
    assert second.startswith("Whatever the size of this line, and left out below: STOP: oil pump") and "no relief valve" in second
    assert str(found).count("no relief valve after it") == 1


@pytest.mark.parametrize("empty", ["sizes", "specs"])
def test_an_empty_list_is_no_question(empty):
    with pytest.raises(fn.CircuitError, match=f"'{empty}' is an empty list"):
        fn.line_sizes(demo(), "return hose", **{empty: []})
