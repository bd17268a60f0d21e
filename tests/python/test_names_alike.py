"""One way to name a reading: in a table, in the course of a drive, and in a sweep, with the same number behind it."""

import pytest

import flarenut as fn
from flarenut.results import NoSuchName

SUCTION = ["pump.suction_margin", "pump.suction_degrees_to_boiling", "pump.suction_inlet", "pump.suction_vacuum", "pump.suction_npsh_available"]


def bath(temperature="90 C", fluid="water"):
    """Invented: water of a given warmth drawn by a small pump through a wide line, so that its inlet is about as the tank."""
    made = fn.Circuit("warm bath (invented)", fluid=fluid, invented=True)
    made.tank("bath", level="100 mm", temperature="found", heat="10 W", heat_capacity="40 kJ/K")
    made.run("round", "bath", "far end", [fn.tube(bore="12 mm", length="0.5 m", name="suction pipe"),
                                          fn.displacement_pump("0.5 cc/rev", speed="1000 rpm", name="pump")])
    made.run("back", "far end", "bath", [fn.tube(bore="12 mm", length="0.5 m", name="back pipe")])
    made.case("warm", fluid_temperature=temperature, **{"bath.temperature": temperature})
    return made


@pytest.fixture(scope="module")
def answer():
    return bath().solve("warm")


@pytest.mark.parametrize("name", [*SUCTION, "pump.inlet.gauge", "round.drop", "suction pipe.outlet.absolute", "suction pipe.outlet.temperature"])
def test_a_reading_has_one_name_and_one_number_in_a_table_a_drive_and_a_sweep(answer, name):
    (_, (row,)), = answer.table(rows=[name], units="metric").sections
    swept = fn.sweep(bath(), {"bath.level": ["100 mm"]}, "warm", [name])[name]
    drive = fn.over_time(bath(), [("2 s", "warm")], every="1 s", units="metric")
    driven = drive.series(name)
    assert swept.attrs["kind"] == row.values[0].kind == driven.kind
    assert row.values[0].si == pytest.approx(float(swept.values.squeeze()), rel=1e-6, abs=1e-3)
    assert driven.si[0] == pytest.approx(row.values[0].si, rel=2e-3, abs=20.0)  # it begins as warm as it is held here
    assert drive.to_dataset([name])[name].attrs["kind"] == driven.kind
    assert drive.table(rows=[name]).sections[0][1][0].values


def test_degrees_to_boiling_are_those_of_the_steam_table(answer):
    """At sea level water boils at 99.97 C (IAPWS, 101.325 kPa); the pump's inlet stands a little over that pressure, under 100 mm of water."""
    assert answer.part("pump", "warm").suction.degrees_to_boiling.to("C") == pytest.approx(99.97 - 90.0, abs=0.35)
    boiling = bath("99 C").solve("warm").part("pump", "warm").suction
    assert boiling.degrees_to_boiling.to("C") == pytest.approx(0.97, abs=0.35) and boiling.margin.si > 0.0


def test_an_oil_has_no_degrees_to_boiling_and_says_so():
    answer = bath(fluid="SAE 10W-40").solve("warm")
    assert "no value" in answer.table(rows=["pump.suction_degrees_to_boiling"]).text()


def test_a_row_may_be_asked_for_by_what_the_table_calls_it(answer):
    table = answer.table(units="metric", rows=["pump.margin", "pump suction margin", "pump.suction_margin"])
    cells = [row.cells for row in table.sections[0][1]]
    assert cells[0] == cells[1] == cells[2] and {row.unit for row in table.sections[0][1]} == {"bar"}


@pytest.mark.parametrize("name, words", [("bath", "bath pressure"), ("bath.gauge", "bath pressure"), ("bath.total", "bath pressure, total"),
                                         ("suction pipe.outlet", "suction pipe outlet pressure"), ("suction pipe.outlet.gauge", "suction pipe outlet pressure"),
                                         ("pump.outlet.gauge", "pump outlet pressure (total)"),
                                         ("pump.outlet", "pump outlet pressure (total)"), ("pump.outlet.static", "pump outlet pressure (total)"),
                                         ("pump.inlet.absolute", "pump inlet pressure, absolute (total)"),
                                         ("pump.outlet.total", "pump outlet pressure, total"), ("suction pipe.outlet.vapour_margin", "suction pipe outlet vapour margin")])
def test_a_reading_is_called_alike_in_a_table_a_sweep_and_a_drive_and_says_where_it_is_total(answer, name, words):
    (_, (row,)), = answer.table(rows=[name]).sections
    assert row.label == words
    if name != "bath":
        swept = fn.sweep(bath(), {"bath.level": ["100 mm"]}, "warm", [name], units="metric")[name]
        drive = fn.over_time(bath(), [("2 s", "warm")], every="1 s").to_dataset([name], "metric")[name]
        assert swept.attrs["long_name"] == drive.attrs["long_name"] == words


def test_an_end_without_a_bore_reads_total_pressure_above_the_gauge_there_by_the_speed_head(answer):
    """1/2 rho v^2 of the pipe behind the pump, by hand."""
    case = answer["warm"]
    pump, pipe, place = case.part("pump").outlet, case.part("back pipe").inlet, case.at("far end")
    head = 0.5 * case.liquid_in("pump")["density"] * pipe.velocity.si**2
    assert pump.gauge.si - place.gauge.si == pytest.approx(head, rel=1e-6) and head > 1.0
    assert pump.gauge.si == pytest.approx(pump.total.si - case.ambient.si) and place.gauge.si == pytest.approx(pipe.gauge.si)
    assert pump.basis == "no bore of its own: total pressure" and pipe.basis == "the part's own bore"


@pytest.mark.parametrize("name, near", [("pump.suction.margin", "pump.suction_margin"), ("pump.sucton_margin", "pump.suction_margin"),
                                        ("round.dropp", "round.drop"), ("bath.gauga", "bath.gauge")])
def test_a_slip_in_a_name_is_met_with_the_nearest_right_one(answer, name, near):
    with pytest.raises(NoSuchName, match=f"did you mean '{near}'"):
        answer.table(rows=[name])


def test_what_is_no_pump_has_no_suction(answer):
    with pytest.raises(NoSuchName):
        answer.table(rows=["back pipe.suction_margin"])
    with pytest.raises(NoSuchName, match="it is a part"):
        answer.table(rows=["pump"])


def cooled_on_the_way():
    """Invented: hot water boils first behind a narrow pipe; a long one in the wind cools it before it comes to the pump."""
    made = fn.Circuit("cooled on the way (invented)", fluid="water", units="metric", invented=True, air_temperature="20 C")
    made.tank("bath", level="100 mm", temperature="found", heat="10 W", heat_capacity="40 kJ/K")
    made.run("round", "bath", "far end", [fn.tube(bore="6 mm", length="0.5 m", name="narrow pipe"),
                                          fn.tube(bore="12 mm", length="4 m", name="long pipe", air="10 m/s"),
                                          fn.displacement_pump("3 cc/rev", speed="1000 rpm", name="pump")])
    made.run("back", "far end", "bath", [fn.tube(bore="12 mm", length="0.5 m", name="back pipe")])
    made.case("warm", **{"bath.temperature": "90 C"})
    return made


def test_degrees_to_boiling_count_from_the_warmth_of_where_the_margin_is_least():
    """Warmed by them, the liquid there has the vapour pressure of the static pressure there; that of the pump is 5 K cooler."""
    made = cooled_on_the_way()
    answer = made.solve("warm")
    pump, hot = answer.part("pump", "warm"), answer.part("narrow pipe", "warm").outlet
    assert pump.suction.at == "narrow pipe" and pump.inlet.temperature.si < hot.temperature.si - 5.0
    boils = fn.fluid("water").at(f"{hot.temperature.to('C') + pump.suction.degrees_to_boiling.si} C").vapour_pressure.si
    assert boils == pytest.approx(hot.static.si, rel=1e-4) and pump.suction.margin.si == pytest.approx(hot.vapour_margin.si, rel=1e-9)
    swept = fn.sweep(made, {"bath.level": ["100 mm"]}, "warm", ["pump.suction_degrees_to_boiling"])["pump.suction_degrees_to_boiling"]
    assert float(swept.values.squeeze()) == pytest.approx(pump.suction.degrees_to_boiling.si, rel=1e-6)
    row = fn.line_sizes(made, "back pipe", ["1/2 in x 0.035 in"], "tube").row("1/2 in x 0.035 in")
    assert row.cells["degrees_to_boiling"].value.si == pytest.approx(row.answer["warm"].part("pump").suction.degrees_to_boiling.si, rel=1e-9)
    assert row.cells["degrees_to_boiling"].value.si == pytest.approx(pump.suction.degrees_to_boiling.si, rel=1e-3)


def under_a_cap():
    """Invented: water at 20 C under 7 bar gauge boils at 170 C (IAPWS), where the data of water have long ended; without a cap at 100 C."""
    made = bath("20 C")
    made.case("cap", fluid_temperature="20 C", tank_vent="7 bar", **{"bath.temperature": "20 C"})
    return made


def test_where_the_boiling_data_end_first_a_table_and_json_say_that_degrees_are_a_least_number():
    answer = under_a_cap().solve(["cap", "warm"])
    (_, (row,)), = answer.table(rows=["pump.suction_degrees_to_boiling"], units="metric").sections
    end = fn.fluid("water").liquid.outer_limit[1] - 293.15
    assert row.cells[0] == f"over {end:.0f}" and not row.cells[1].startswith("over") and 79.0 < float(row.cells[1]) < 82.0
    told = [case["parts"]["pump"]["suction"]["degrees_to_boiling_bound"] for case in answer.to_dict()["cases"].values()]
    assert told == ["over", None]


def test_a_sweep_and_a_drive_say_so_too():
    from flarenut.cli.sweep_table import View

    name, beside = "pump.suction_degrees_to_boiling", "pump.suction_degrees_bound"
    swept = fn.sweep(under_a_cap(), {"bath.level": ["100 mm"]}, ["cap", "warm"], [name], units="metric")
    assert swept[beside].values.ravel().tolist() == [1.0, 0.0]
    view = View(swept, {}, [name])
    assert view.outputs == [name] and view.columns[name].cell(0).startswith("over ") and not view.columns[name].cell(1).startswith("over")
    drive = fn.over_time(under_a_cap(), [("2 s", "cap")], every="1 s", units="metric")
    assert set(drive.series(name).bounds) == {"over"} and "over 105" in repr(drive.series(name))
    assert drive.to_dataset([name])[beside].values.tolist() == [1.0, 1.0, 1.0]
    assert set(drive.to_dict([name])["readings"][name]["bounds"]) == {"over"} and "over 105" in drive.table(rows=[name]).text()
