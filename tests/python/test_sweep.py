"""Sweeps: every point equals what the circuit, changed to it, reads in a single solve."""

import itertools
import json
import re
import time

import flarenut as fn
import numpy
import pytest
from flarenut import units
from sweep_example import CLOSE, READINGS, assert_same, curves, demo, small_car

xarray = pytest.importorskip("xarray", reason="sweeps answer with xarray")


# ---- points are those of single solves ----

def test_words_of_parts_and_conditions_equal_changed_circuits():
    answer = fn.sweep(small_car(), {"return hose.size": ["-4", "-6", "-8"], "return hose.length": ["5 ft", "12 ft", "20 ft"],
                                    "volts": ["11 V", "12.5 V", "14 V"]}, outputs=[*READINGS, "regulator.regime"])
    assert dict(answer.sizes) == {"return hose.size": 3, "return hose.length": 3, "volts": 3, "case": 3}
    for size, length, volts in (("-4", 5, 11), ("-6", 20, 14), ("-8", 12, 12.5), ("-4", 20, 14)):
        car = small_car()
        car.change("return hose", size=size, length=f"{length} ft")
        for case in car.cases.values():
            case.conditions["volts"] = f"{volts} V"
        for case in car.solve().values():
            assert_same(answer, {"return hose.size": size, "return hose.length": length, "volts": volts}, case)


def test_a_swept_word_beats_that_of_a_case_and_what_a_case_says_by_name_still_beats_what_is_swept_of_all():
    car = small_car()
    car.case("by name", duty="3 %", manifold="0 psi", **{"pump.volts": "10 V", "return hose.size": "-4"})
    answer = fn.sweep(car, {"volts": ["12 V", "14 V"], "return hose.size": ["-6", "-8"]}, cases="by name", outputs=list(READINGS))
    car.cases["by name"].conditions["return hose.size"] = "-8"
    case = car.solve("by name")["by name"]
    for volts in (12, 14):
        assert_same(answer, {"volts": volts, "return hose.size": "-8"}, case)


def test_the_volts_of_all_pumps_and_the_lost_volts_of_one_are_worked_out_together():
    answer = fn.sweep(small_car(), {"volts": ["11 V", "14 V"], "pump.volts_lost": ["0 V", "1 V"]}, cases="idle", outputs=["pump.flow"])
    car = small_car()
    car.change("pump", volts_lost="1 V")
    car.cases["idle"].conditions["volts"] = "14 V"
    assert_same(answer, {"volts": 14, "pump.volts_lost": 1}, car.solve("idle")["idle"])
    assert answer["pump.flow"].values.ravel().tolist() == sorted(set(answer["pump.flow"].values.ravel()), key=list(answer["pump.flow"].values.ravel()).index)


@pytest.mark.parametrize("name, value, apply", [
    ("manifold", "7 psi boost", None), ("duty", "40 %", None), ("fluid_temperature", "45 C", None), ("tank_level", "3 in", None),
    ("tank_vent", "-0.5 psi", None), ("filter_loading", 4, None), ("altitude", "6000 ft", None), ("ambient_pressure", "90 kPaa", None),
    ("acceleration", "0.5 g", None),
    ("regulator.set", "50 psi", lambda car: car.change("regulator", set="50 psi")),
    ("cell.level", "5 in", lambda car: car.change("cell", level="5 in")),
    ("return hose.bends", [90, 90, 90, 90], lambda car: car.change("return hose", bends=[90] * 4)),
    ("return hose.spec", "push-on", lambda car: car.change("return hose", spec="push-on")),
    ("feed hose.rise", "10 in", lambda car: car.change("feed hose", rise="10 in")),
    ("fluid", "E10", "fluid"),
])
def test_every_sort_of_name(name, value, apply):
    car = small_car("E10" if apply == "fluid" else "E85")
    if apply == "fluid":
        pass
    elif apply:
        apply(car)
    else:
        for case in car.cases.values():
            case.conditions[name] = value
    before = repr(small_car().solve())
    swept = small_car()
    answer = fn.sweep(swept, {name: [value]}, cases="full power", outputs=list(READINGS)).isel({name: 0})
    assert_same(answer, {}, car.solve("full power")["full power"])
    assert repr(swept.solve()) == before and swept.fluid.name == "E85"


def test_an_exchanged_pump_brings_its_charts_and_its_check_valve():
    small, large = (fn.electric_pump(curves(scale), name="pump", check_valve=scale > 1) for scale in (0.9, 1.2))
    answer = fn.sweep(small_car(), {"pump": {"small": small, "large": large}, "volts": [12.0, 13.5], "pump.volts_lost": ["0 V", "0.5 V"]},
                      cases="idle", outputs=[*READINGS, "pump check valve.drop"])
    assert answer["pump"].values.tolist() == ["small", "large"]
    for label, scale in (("small", 0.9), ("large", 1.2)):
        car = fn.Circuit("invented", fluid="E85")
        car.tank("cell", level="8 in")
        car.junction("rail", bore="11 mm")
        car.run("feed", "cell", "rail", [
            fn.strainer("0.3 psi at 100 gph", name="sock"), fn.electric_pump(curves(scale), name="pump", check_valve=scale > 1, volts_lost="0.5 V"),
            fn.hose("-8", "11 ft", spec="ptfe", bends=[90, 90, 45], name="feed hose"), fn.filter("1.2 psi at 100 gph", name="filter")])
        car.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="manifold", name="regulator"),
                                           fn.hose("-6", "12 ft", spec="ptfe", bends=[90, 90], name="return hose")])
        car.injectors("bank", "rail", count=6, flow="1000 cc/min at 3 bar")
        car.fuel_cases(volts=13.5)
        assert_same(answer, {"pump": label, "volts": 13.5, "pump.volts_lost": 0.5}, car.solve("idle")["idle"])
    gone = answer["pump check valve.drop"]
    assert numpy.isnan(gone.sel(pump="small")).all() and not numpy.isnan(gone.sel(pump="large")).any()
    assert (answer["status"] == 0).all()


def test_a_length_that_moves_heights_is_compiled_anew():
    answer = fn.sweep(demo(), {"feed hose.length": ["6 ft", "30 ft"], "volts": [12, 14]}, cases="idle", outputs=["feed:3.gauge", "rail.gauge"])
    car = demo()
    car.change("feed hose", length="30 ft")
    car.cases["idle"].conditions["volts"] = 14
    case, found = car.solve("idle")["idle"], answer.sel({"feed hose.length": 30, "volts": 14, "case": "idle"})
    assert float(found["feed:3.gauge"]) == pytest.approx(case.at("feed:3").gauge.si, rel=CLOSE)
    assert float(found["rail.gauge"]) == pytest.approx(case.at("rail").gauge.si, rel=CLOSE)


def test_the_widest_bore_at_a_place_is_found_row_by_row():
    answer = fn.sweep(demo(), {"engine bay hose.size": ["-4", "-6", "-10"], "fuel filter.loading": [1, 2]}, cases="full power",
                      outputs=["feed:6.gauge", "feed:6.velocity"])
    for size in ("-4", "-6", "-10"):
        car = demo()
        car.change("engine bay hose", size=size)
        car.change("fuel filter", loading=2)
        case = car.solve("full power")["full power"]
        found = answer.sel({"engine bay hose.size": size, "fuel filter.loading": 2, "case": "full power"})
        assert float(found["feed:6.gauge"]) == pytest.approx(case.at("feed:6").gauge.si, rel=CLOSE)
        assert float(found["feed:6.velocity"]) == pytest.approx(case.at("feed:6").velocity.si, rel=CLOSE)


def test_names_in_brackets_run_along_together():
    rows = [("-6", "-4"), ("-8", "-6"), ("-10", "-8")]
    answer = fn.sweep(small_car(), {("feed hose.size", "return hose.size"): rows, "volts": [12, 14]}, cases="idle", outputs=list(READINGS))
    assert answer.sizes["feed hose.size + return hose.size"] == 3 and answer["return hose.size"].values.tolist() == ["-4", "-6", "-8"]
    car = small_car()
    car.change("feed hose", size="-10")
    car.change("return hose", size="-8")
    car.cases["idle"].conditions["volts"] = 14
    assert_same(answer.isel({"feed hose.size + return hose.size": 2}), {"volts": 14}, car.solve("idle")["idle"])


def test_power_is_met_by_duty_at_every_point():
    car = small_car()
    car.case("road", volts=13.5, manifold="0 psi", power="300 hp", specific_consumption="0.6 lb/hp/h")
    answer = fn.sweep(car, {"power": ["100 hp", "300 hp", "2000 hp"], "return hose.size": ["-4", "-8"]}, cases="road",
                      outputs=[*READINGS, "bank.mass_flow"])
    for power, size in itertools.product((100, 300, 2000), ("-4", "-8")):
        single = small_car()
        single.change("return hose", size=size)
        single.case("road", volts=13.5, manifold="0 psi", power=f"{power} hp", specific_consumption="0.6 lb/hp/h")
        assert_same(answer, {"power": power, "return hose.size": size}, single.solve("road")["road"])
    asked = units.parse("300 hp", "power") * units.parse("0.6 lb/hp/h", "specific_consumption")
    assert float(answer["bank.mass_flow"].sel({"power": 300, "return hose.size": "-8"}).item()) == pytest.approx(asked, rel=2e-9)


def test_a_swept_duty_takes_the_place_of_a_power():
    car = small_car()
    car.case("road", volts=13.5, manifold="0 psi", power="300 hp", specific_consumption="0.6 lb/hp/h")
    answer = fn.sweep(car, {"duty": ["20 %", "60 %"]}, cases="road", outputs=list(READINGS))
    single = small_car()
    single.case("road", volts=13.5, manifold="0 psi", duty="60 %")
    assert_same(answer, {"duty": 60}, single.solve("road")["road"])


def test_without_cases_a_circuit_is_swept_as_written_and_without_names_it_is_one_point():
    car = fn.Circuit("rinse line", fluid="water")
    car.tank("drum", level="1 m")
    car.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size", name="hose")])
    assert fn.sweep(car, {"hose.length": ["3 m"]})["case"].values.tolist() == ["as written"]
    answer = fn.sweep(car, outputs="hose.flow")
    assert dict(answer.sizes) == {"case": 1}
    assert float(answer["hose.flow"].item()) == pytest.approx(car.solve()["as written"].part("hose").flow.si, rel=CLOSE)


def test_random_samples_lie_between_their_ends_are_repeatable_and_equal_single_solves():
    vary = {"volts": fn.between("11 V", "14 V"), "return hose.length": fn.between("5 ft", "20 ft"), "return hose.size": ["-6", "-8"]}
    answer = fn.sweep(small_car(), vary, cases="idle", samples=50, seed=7, outputs=list(READINGS))
    assert dict(answer.sizes) == {"return hose.size": 2, "sample": 50, "case": 1}
    assert answer.equals(fn.sweep(small_car(), vary, cases="idle", samples=50, seed=7, outputs=list(READINGS)))
    volts = answer["volts"].values
    assert 11 <= volts.min() < 11.1 and 13.9 < volts.max() <= 14 and answer["volts"].attrs["units"] == "V"
    strata = numpy.floor((volts - 11) / 3 * 50).astype(int)
    assert sorted(strata) == list(range(50))  # what makes a Latin hypercube one: a value in every fiftieth
    for sample in (0, 33):
        car = small_car()
        car.change("return hose", size="-8", length=f"{float(answer['return hose.length'][sample])!r} ft")
        car.cases["idle"].conditions["volts"] = float(volts[sample])
        assert_same(answer, {"return hose.size": "-8", "sample": sample}, car.solve("idle")["idle"])


@pytest.mark.parametrize("word, low, high", [
    ("regulator.set", "38 psi", "50 psi"), ("return hose.length", "5 ft", "20 ft"), ("filter.loading", 1, 4), ("fluid_temperature", "50 F", "110 F"),
    ("altitude", "0 ft", "9000 ft"), ("pump.volts_lost", "0 V", "13.4 V"), ("cell.level", "1 in", "9 in"), ("regulator.set_flow", "50 L/h", "200 L/h"),
])
def test_many_drawn_values_are_those_that_single_solves_read(word, low, high):
    """Whether the word's number is a straight line of what is written, as a length's, or not, as an altitude's."""
    answer = fn.sweep(small_car(), {word: fn.between(low, high)}, cases="idle", samples=100, seed=3, outputs=list(READINGS))
    assert (answer["status"] == 0).all()
    for sample in (0, 41, 99):
        number, unit = float(answer[word][sample]), answer[word].attrs["units"]
        car = small_car()
        car.cases["idle"].conditions[word] = number if unit == "1" else f"{number!r} {unit}"
        assert_same(answer, {"sample": sample}, car.solve("idle")["idle"])


@pytest.mark.parametrize("sampling", ["sobol", "plain"])
def test_other_samplings(sampling):
    answer = fn.sweep(small_car(), {"manifold": fn.between("-5 psi", "15 psi"), "duty": fn.between("3 %", "85 %")}, cases="idle", samples=20,
                      seed=1, sampling=sampling, outputs="rail.gauge")
    assert (answer["status"] == 0).all() and answer["manifold"].min() >= -5 and answer["manifold"].max() <= 15
    assert "seed 1" in json.loads(answer.attrs["options"])["sampling"]


def test_answers_do_not_depend_on_threads():
    vary = {"volts": list(numpy.linspace(11, 14, 30)), "return hose.size": ["-4", "-6", "-8"], "manifold": ["-5 psi", "0 psi", "5 psi"]}
    one, two = (fn.sweep(small_car(), vary, threads=threads) for threads in (1, 3))
    assert one.identical(two)


# ---- what it looks like ----

def test_defaults_are_the_rows_of_the_results_table_with_units_and_words():
    answer = fn.sweep(demo(), {"volts": [12, 13]})
    shown = demo().solve().table(units="us")
    assert answer["rail.gauge"].attrs == {"long_name": "rail pressure (gauge)", "units": "Pa", "kind": "pressure_gauge"}
    assert {"injector bank.drop", "pump.flow", "pump.suction_margin", "fuel filter.drop", "regulator.regime"} <= set(answer.data_vars)
    labels = {row.label for section in shown.sections for row in section[1]} if hasattr(shown, "sections") else {str(shown)}
    assert all(any(words.removesuffix(" regime").removesuffix(" (gauge)") in label for label in labels) for words in
               (answer[name].attrs["long_name"] for name in answer.data_vars if "." in name and not name.endswith(".suction_limit")))
    assert fn.in_units(answer, "us")["rail.gauge"].attrs["long_name"] == "rail pressure"  # psig says it
    assert fn.in_units(fn.in_units(answer, "us"), "si")["rail.gauge"].attrs == answer["rail.gauge"].attrs
    assert {"status", "iterations", "residual", "reason"} <= set(answer.data_vars)
    assert answer["volts"].attrs == {"long_name": "volts", "units": "V"}
    assert float(answer["residual"].max()) <= 1e-9


def test_coordinates_hold_what_was_written():
    answer = fn.sweep(small_car(), {"return hose.length": ["4 ft", "6.5 ft"], "return hose.size": ["-4", "-6"], "cell.level": ["8 in", "0.1 m"]},
                      cases="idle", outputs="rail.gauge")
    assert answer["return hose.length"].values.tolist() == [4, 6.5] and answer["return hose.length"].attrs["units"] == "ft"
    assert answer["return hose.size"].values.tolist() == ["-4", "-6"] and "units" not in answer["return hose.size"].attrs
    assert answer["cell.level"].values.tolist() == ["8 in", "0.1 m"]


def test_units_of_people_and_back():
    si = fn.sweep(small_car(), {"volts": [12, 14]}, outputs=["rail.gauge", "pump.flow", "regulator.regime"])
    us = fn.sweep(small_car(), {"volts": [12, 14]}, outputs=["rail.gauge", "pump.flow", "regulator.regime"], units="us")
    assert us["rail.gauge"].attrs["units"] == "psig" and us.attrs["unit_system"] == "us"
    numpy.testing.assert_allclose(us["rail.gauge"], si["rail.gauge"] / 6894.757293168, rtol=1e-12)
    numpy.testing.assert_allclose(us["pump.flow"], si["pump.flow"] / 3.785411784e-3 * 3600, rtol=1e-12)  # the gallon is 3.785411784 L
    assert fn.in_units(us, "metric")["rail.gauge"].attrs["units"] == "barg"
    xarray.testing.assert_allclose(fn.in_units(fn.in_units(us, "metric"), "si"), si, rtol=1e-12)
    assert us["regulator.regime"].equals(si["regulator.regime"])


def test_coordinates_are_named_as_a_person_says_them():
    answer = fn.sweep(small_car(), {"regulator.set": ["43 psi"], "fluid_temperature": ["20 C"], "return hose.size": ["-6"], "volts": [12]},
                      cases="idle", outputs="rail.gauge")
    assert {name: one.attrs["long_name"] for name, one in answer.coords.items() if name != "case"} == {
        "regulator.set": "regulator setting", "fluid_temperature": "fluid temperature", "return hose.size": "return hose size", "volts": "volts"}


def test_vacuum_at_a_pump_is_in_inches_of_mercury_as_its_dial_or_in_bar():
    answer = fn.sweep(small_car(), {"volts": [12]}, cases="idle", outputs=["pump.suction_vacuum"])
    pascals = float(answer["pump.suction_vacuum"].item())
    us, metric = fn.in_units(answer, "us")["pump.suction_vacuum"], fn.in_units(answer, "metric")["pump.suction_vacuum"]
    assert (us.attrs["units"], metric.attrs["units"], answer["pump.suction_vacuum"].attrs["units"]) == ("inHg", "bar", "Pa")
    assert float(us.item()) == pytest.approx(pascals / 3386.389, rel=1e-6)  # inch of mercury at 0 C: NIST SP 811, table B.8
    assert float(metric.item()) == pytest.approx(pascals / 1e5, rel=1e-12)


# ---- liquid that boils ----

def test_margin_to_boiling_is_the_least_of_all_ends_and_boiling_is_warned_of_once():
    vary = {"fluid_temperature": ["20 C", "85 C", "300 C"]}
    words = "^in 1 of 3 solves the liquid boils somewhere: their numbers are not to be had; see margin_to_boiling$"
    with pytest.warns(fn.SweepWarning) as told:
        answer = fn.sweep(small_car(), vary, cases="idle", outputs="pump.flow")
    assert len(told) == 2 and told[0].filename == __file__ and re.search(words, str(told[0].message))
    assert "1 of 3 solves are refused" in str(told[1].message)
    margin = answer["margin_to_boiling"].sel(case="idle")
    assert margin.attrs["units"] == "Pa" and margin.attrs["kind"] == "pressure_difference" and numpy.isnan(margin.values[2])
    assert int(answer["status"][1, 0]) == 0  # solved as if it were liquid, which is why it is said
    for place, temperature in enumerate(vary["fluid_temperature"][:2]):
        car = small_car()
        car.cases["idle"].conditions["fluid_temperature"] = temperature
        case = car.solve("idle")["idle"]
        least = min(end.vapour_margin for part in case.part_names for end in case.ends(part)
                    if case.junction_names[end.junction] not in ("manifold", "ambient"))
        assert float(margin[place]) == pytest.approx(least, rel=CLOSE, abs=1e-4)
    assert margin[0] > 0 > margin[1]
    us = fn.in_units(answer, "us")["margin_to_boiling"]
    assert us.attrs["units"] == "psi" and float(us[0, 0]) == pytest.approx(float(margin[0]) / 6894.757293168, rel=1e-9)


def test_a_sweep_in_which_nothing_boils_is_quiet_and_may_be_asked_for_the_margin():
    answer = fn.sweep(small_car(), {"volts": [12]}, cases="idle", outputs=["margin_to_boiling", "rail.gauge"])  # warnings are errors here
    assert list(answer.data_vars)[:2] == ["margin_to_boiling", "rail.gauge"] and (answer["margin_to_boiling"] > 0).all()


def test_time_outside_of_the_engine_is_printed(capsys, monkeypatch):
    from flarenut.studies import batches

    inside, batch = [], batches._batch

    def timed(*arguments):
        begin = time.perf_counter()
        found = batch(*arguments)
        inside.append(time.perf_counter() - begin)
        return found

    monkeypatch.setattr(batches, "_batch", timed)
    vary = {"volts": list(numpy.linspace(11, 14.5, 100)), "manifold": list(map("{} psi".format, numpy.linspace(0, 15, 83))),
            "return hose.size": ["-4", "-6", "-8", "-10"]}
    begin = time.perf_counter()
    answer = fn.sweep(demo(), vary)
    whole = time.perf_counter() - begin
    assert (answer["status"] == 0).all() and answer["status"].size == 99600
    with capsys.disabled():
        print(f"\nsweep of {answer['status'].size:,} solves: {whole:.2f} s, {100 * (1 - sum(inside) / whole):.1f} % of it outside the engine's batches")


@pytest.mark.parametrize("own", [{}, {"name": "another"}])
def test_an_exchanged_part_is_read_by_the_name_of_its_place(own):
    """The part put there carries no name, or another; what is asked of the place is what it gives."""
    car = fn.Circuit("named pump (invented)", fluid="E10", invented=True)
    car.tank("cell", level="8 in")
    car.run("feed", "cell", "rail", [fn.formula_pump("95 psi", "420 L/h", name="main pump"), fn.hose("-8", "11 ft", spec="ptfe")])
    car.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient", wide_open="15 psi at 500 L/h"), fn.hose("-8", "12 ft", spec="ptfe")])
    pumps = {"small": fn.formula_pump("95 psi", "300 L/h", **own), "large": fn.formula_pump("95 psi", "500 L/h", **own)}
    found = fn.sweep(car, {"main pump": pumps}, outputs=["main pump.flow", "main pump.suction_margin"])
    flows = found["main pump.flow"].values.ravel()
    assert numpy.isfinite(found["main pump.suction_margin"].values).all() and (found["status"].values == 0).all()
    for flow, most in zip(flows, (300, 500)):
        alone = fn.Circuit("alone (invented)", fluid="E10", invented=True)
        alone.tank("cell", level="8 in")
        alone.run("feed", "cell", "rail", [fn.formula_pump("95 psi", f"{most} L/h", name="p"), fn.hose("-8", "11 ft", spec="ptfe")])
        alone.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient", wide_open="15 psi at 500 L/h"),
                                             fn.hose("-8", "12 ft", spec="ptfe")])
        assert flow == pytest.approx(alone.solve()["as written"].part("p").flow.si, rel=1e-9)
