"""A drive as people and programs see it: refusals, moments, table, findings, Dataset, picture; and what stays valid when it ends early."""

import re
import types

import matplotlib
import numpy
import pytest

matplotlib.use("Agg")

import flarenut as fn  # noqa: E402
from flarenut.results.rows import Ask, Row  # noqa: E402
from flarenut.studies.over_time_series import Series  # noqa: E402
from flarenut.studies.over_time_words import clock  # noqa: E402
from flarenut.units import Quantity  # noqa: E402

from over_time_example import DRIVE, car  # noqa: E402


@pytest.fixture(scope="module")
def drive():
    return fn.over_time(car(), DRIVE, units="metric")


def _given():
    rinse = fn.Circuit("rinse line", fluid="water")
    rinse.tank("drum", level="1 m")
    rinse.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size")])
    rinse.case("open")
    return rinse


SLIPS = {
    "given temperatures": (lambda: fn.over_time(_given(), [("1 min", "open")]), ["temperatures are given", "heat_capacity"]),
    "no capacity": (lambda: fn.over_time(car(None), DRIVE), ["sump", "heat_capacity", "5 kg of oil", "10 kJ/K"]),
    "unknown case": (lambda: fn.over_time(car(), [("1 min", "twon")]), ["twon", "row 1", "town"]),
    "below zero": (lambda: fn.over_time(car(), [("1 min", "town"), ("-3 min", "track")]), ["row 2 of drive", "-3 min", "above zero"]),
    "no time": (lambda: fn.over_time(car(), [("town", "1 min")]), ["row 1 of drive", "town"]),
    "too short": (lambda: fn.over_time(car(), [("0.5 s", "town")]), ["row 1", "0.5 s", "less than 1 s"]),
    "not rows": (lambda: fn.over_time(car(), ["town"]), ["row 1", "how long and which case"]),
    "nothing": (lambda: fn.over_time(car(), []), ["drive", "how long each case lasts"]),
    "every": (lambda: fn.over_time(car(), DRIVE, every="0 s"), ["every", "above zero"]),
    "too many": (lambda: fn.over_time(car(), DRIVE, every="1 ms"), ["1,680,000", "longer 'every'"]),
    "start": (lambda: fn.over_time(car(), DRIVE, start="900 C"), ["start", "900 C"]),
    "start of another kind": (lambda: fn.over_time(car(), DRIVE, start="3 bar"), ["start", "a temperature"]),
    "units": (lambda: fn.over_time(car(), DRIVE, units="imperial"), ["imperial", "metric"]),
    "no circuit": (lambda: fn.over_time("car", DRIVE), ["not a circuit"]),
}


@pytest.mark.parametrize("slip", SLIPS)
def test_slips_are_told_by_their_word(slip):
    call, words = SLIPS[slip]
    with pytest.raises(ValueError) as caught:
        call()
    assert all(word in str(caught.value) for word in words), str(caught.value)


def test_the_moments_are_those_asked_for(drive):
    assert drive.complete and drive.why_not == ""
    assert drive.times[:3] == pytest.approx([0, 10, 20]) and drive.times[-1] == 1680
    assert numpy.all(numpy.diff(drive.times) > 0) and len(drive) == len(drive.cases) == 1680 / 10 + 3
    assert drive.moment("3 min").name == "cold start" and drive.moment("191 s").name == "town"
    uneven = fn.over_time(car(), [("25 s", "town"), ("30 s", "town")], every="10 s")
    assert uneven.times == pytest.approx([0, 10, 20, 25, 25.2, 35, 45, 55])
    with pytest.raises(ValueError, match="between 0 s and 28 min"):
        drive.moment("2 h")


def test_a_case_changes_pressures_at_once_and_temperatures_slowly(drive):
    change = drive.cases.index("track")
    before, after = drive.moments[change - 1], drive.moments[change]
    assert after.part("pump").flow.si == pytest.approx(3 * before.part("pump").flow.si, rel=0.2)
    assert after.at("gallery").gauge.si > before.at("gallery").gauge.si + 0.1e5
    assert after.at("sump").temperature.si == pytest.approx(before.at("sump").temperature.si, abs=0.2)


def test_the_circuit_stays_as_it_was_and_a_second_drive_is_the_same(drive):
    oil = car()
    before = oil.solve()["track"].at("sump").temperature.si
    again = fn.over_time(oil, DRIVE)
    assert oil.solve()["track"].at("sump").temperature.si == before
    assert numpy.array_equal(again.temperature("sump").si, drive.temperature("sump").si)


def test_a_shorter_every_moves_no_temperature(drive):
    finer = fn.over_time(car(), DRIVE, every="2 s")
    at = numpy.isin(finer.times, drive.times)
    assert numpy.abs(finer.temperature("sump").si[at] - drive.temperature("sump").si).max() < 0.5


def test_readings(drive):
    assert drive.at("gallery").gauge.to("bar")[1680.0] == pytest.approx(drive.series("gallery").to("bar")[-1])
    assert drive.part("oil cooler").heat.to("kW")[1680.0] == pytest.approx(drive.series("oil cooler.heat").to("kW")[-1])
    assert drive.reaches("sump", "0 C").si < drive.reaches("sump", "80 C").si < drive.times[-1]
    assert drive.opens().si == pytest.approx(drive.reaches("pump out", "82 C").si, abs=10)
    assert drive.tanks == ["sump"] and drive.thermostats == ["thermostat"] and drive.coolers == ["oil cooler"]
    assert "sump.temperature" in repr(drive.temperature("sump"))
    for name in ("galery", "pump.nothing"):
        with pytest.raises(KeyError):
            drive.series(name)
    with pytest.raises(ValueError, match="no thermostat 'stat'"):
        drive.opens("stat")


def test_the_table_shows_both_ends_of_every_case(drive):
    text = drive.text(width=110)
    for words in ("0 s, cold start begins", "3 min, cold start", "3 min, town begins", "28 min, track", "sump [C]", "thermostat begins to open at",
                  "Everything begins at -10.0 C", "over time", "invented"):
        assert words in text
    assert max(map(len, text.splitlines())) <= 110
    picked = drive.table(["0 s", "20 min"], units="us", rows=["sump.temperature", "oil cooler.heat"])
    (_, (sump, cooler)), = picked.sections
    assert picked.cases == ["0 s, cold start begins", "20 min, track"] and sump.unit == "F"
    assert [one.si for one in sump.values] == [drive.moments[0].at("sump").temperature.si, drive.moment("20 min").at("sump").temperature.si]
    assert cooler.values[1].si == drive.moment("20 min").part("oil cooler").heat.si
    assert "<table" in drive._repr_html_() and "thermostat begins to open" in drive._repr_html_()


def test_findings_are_the_worst_with_their_time(drive):
    found = {one.code: one for one in drive.findings}
    assert len({(one.code, one.where) for one in drive.findings}) == len(drive.findings)
    assert "oil runs cool" not in found  # that is about where a steady state settles
    hot, sump = found["liquid too hot"], drive.temperature("sump")
    assert hot.time == hot.ends == 1680.0 and hot.value.si == sump.si.max()
    road = fn.checks.Limits().oil_temperature_road.si
    assert hot.begins - 10 <= sump.crosses(road) <= hot.begins
    assert found["relief open"].begins == 0.0 and hot.case == "15 min 30 s to 28 min, worst at 28 min (track)"
    mine = fn.over_time(car(), DRIVE[:2], limits=fn.checks.Limits(oil_temperature_road="5 C"), every="30 s")
    assert "liquid too hot" in {one.code for one in mine.findings}


def test_a_finding_is_as_a_solve_of_that_moment_would_have_it(drive):
    from flarenut.checks import case_findings

    for one in drive.findings[:5]:
        here = drive.moments[int(numpy.flatnonzero(drive.times == one.time)[0])]
        assert one.sentence() in [other.sentence() for other in case_findings(here)]


@pytest.mark.parametrize("ending", [".nc", ".csv"])
def test_a_dataset_is_kept_and_comes_back(drive, tmp_path, ending):
    xarray = pytest.importorskip("xarray")
    if ending == ".nc":
        pytest.importorskip("h5netcdf")
    dataset = drive.to_dataset()
    drive.save(tmp_path / f"drive{ending}")
    xarray.testing.assert_allclose(fn.load_sweep(tmp_path / f"drive{ending}"), dataset)
    assert dataset["sump.temperature"].dims == ("time",) and dataset["time"].attrs["units"] == "s"
    assert dataset["sump.temperature"].sel(time=600, method="nearest") == drive.moment("10 min").at("sump").temperature.si
    assert set(dataset["case"].values.tolist()) == {"cold start", "town", "track"}
    assert fn.words_of(dataset["thermostat.regime"]).values[0] == "shut"
    assert drive.to_dataset(["gallery.gauge"], units="us")["gallery.gauge"].attrs["units"] == "psig"


def test_ctrl_c_leaves_what_was_reached(drive):
    def stop(done, whole):
        assert whole == 1680
        if done >= 300:
            raise KeyboardInterrupt

    with pytest.raises(fn.OverTimeInterrupted) as caught:
        fn.over_time(car(), DRIVE, progress=stop)
    partial = caught.value.partial
    assert partial.times[-1] == 300 and not partial.complete and "5 min" in partial.why_not
    assert numpy.array_equal(partial.temperature("sump").si, drive.temperature("sump").si[:len(partial)])
    assert "ends early" in partial.text() and "300 s of 1680 s" in str(caught.value)


def test_a_drive_that_gets_too_hot_ends_there_and_says_why():
    oil = car()
    oil.case("burning", speed="3000 rpm", **{"sump.heat": "60 kW"})
    drive = fn.over_time(oil, [("1 min", "town"), ("30 min", "burning"), ("5 min", "town")])
    assert not drive.complete and "burning" in drive.why_not and 60 < drive.times[-1] < 1860
    assert numpy.isfinite(drive.temperature("sump").si).all()
    assert drive.findings[0].code == "not solved" and drive.findings[0].severity == "stop"


def test_the_picture_has_a_line_for_what_differs_and_a_band_for_each_case(drive):
    ax = fn.time_picture(drive, units="metric", marks=["82 C"])
    lines = {line.get_label(): line for line in ax.get_lines() if not line.get_label().startswith("_")}
    assert list(lines)[0] == "sump" and 2 <= len(lines) <= 6
    assert numpy.allclose(lines["sump"].get_ydata(), drive.temperature("sump").to("C"))
    assert numpy.allclose(lines["sump"].get_xdata(), drive.times / 60)
    said = [text.get_text() for text in ax.texts]
    assert {"cold start", "town", "track"} <= set(said) and any("begins to open" in one.replace("\n", " ") for one in said)
    assert "invented" in ax.get_title(loc="left") and ax.get_ylabel() == "temperature [C]"
    only = fn.time_picture(drive, "oil cooler")
    assert [line.get_label() for line in only.get_lines() if not line.get_label().startswith("_")] == ["oil cooler"]
    with pytest.raises(ValueError, match="nowhere"):
        fn.time_picture(drive, "nowhere")


def heated(watts="90 kW"):
    """Invented: oil with nothing that cools it, from just above freezing."""
    made = fn.Circuit("short of a cooler (invented)", fluid="SAE 10W-40", invented=True)
    made.tank("sump", level="5 in", temperature="found", heat="3 kW", heat_capacity="10 kJ/K")
    made.run("round", "sump", "gallery", [fn.displacement_pump("5 cc/rev", speed="1000 rpm", name="pump"), fn.tube(bore="12 mm", length="2 m")])
    made.run("back", "gallery", "sump", [fn.tube(bore="12 mm", length="2 m")])
    made.case("idle", air_temperature="20 C")
    made.case("burning", air_temperature="20 C", **{"sump.heat": watts})
    return made


def test_a_drive_that_ends_early_says_after_when_and_in_which_row():
    """A row is named by its place and its case or its conditions, and no finding begins with an empty place."""
    drive = fn.over_time(heated(), [("1 min", "idle"), ("10 min", {"sump.heat": "90 kW", "air_temperature": "68 F"})], every="10 s", start="40 C", units="metric")
    assert not drive.complete
    assert re.match(r"past \d.* there is no answer, in row 2 of the drive \(sump.heat 90 kW, air temperature 20 C\): ", drive.why_not)
    first = drive.findings[0]
    assert str(first).startswith(f"STOP: {clock(drive.times[-1])}: the drive ends early, for there is no answer past that, in row 2 of the drive")
    assert not any(": :" in str(one) for one in drive.findings)
    assert "'after pump'" not in drive.why_not and "the outlet of 'pump' would get hotter than 160 C" in drive.why_not  # nobody wrote that place
    shown = " ".join(drive.text(110).split())
    assert shown.count("would get hotter than") == 1 and f"It ends early, past {clock(drive.times[-1])}: why stands under" in shown
    assert "idle to 1 min, row 2 (sump heat 90 kW, air temperature 20 C) to 11 min" in drive.events()[0]


def test_a_series_is_shown_in_the_units_of_its_drive():
    for units, unit in (("us", " F "), ("metric", " C ")):
        drive = fn.over_time(heated(), [("1 min", "idle")], every="10 s", start="0 C", units=units)
        assert unit in repr(drive.temperature("sump")) and unit in repr(drive.series("gallery.temperature"))


def test_a_temperature_that_is_next_to_nothing_reads_as_nothing():
    """0 C is a place on a scale: what round-off leaves of it has the digits of its column."""
    near = Quantity(273.15 + 2.28e-9, "temperature")
    assert near.show("metric") == "0 C" and near.show("us") == "32.0 F"
    ask = Ask("header.temperature", "header", lambda case: case)
    row = Row(ask, [types.SimpleNamespace(converged=True)] * 3, "metric", [near, Quantity(273.15 + 88.4, "temperature"), Quantity(273.15 - 0.3, "temperature")])
    assert row.cells == ["0.0", "88.4", "-0.3"]
    assert "e-" not in repr(Series("header.temperature", [0.0, 1.0], [near, near], "metric"))
    step = Quantity(2.28e-9, "temperature_difference")
    assert Row(ask, [types.SimpleNamespace(converged=True)], "metric", [step]).cells == ["0"]
