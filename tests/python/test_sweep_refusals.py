"""What goes wrong with a sweep: names, values, combinations, memory, Ctrl-C."""

import signal
import subprocess
import sys
import threading

import flarenut as fn
import numpy
import pytest
from sweep_example import small_car

pytest.importorskip("xarray", reason="sweeps answer with xarray")
pytestmark = pytest.mark.filterwarnings("ignore:.* solves are refused and have no numbers")  # their points are looked at here


@pytest.mark.parametrize("vary, words", [
    ({"return hose.sise": ["-6"]}, "did you mean 'size'"),
    ({"return hoze.size": ["-6"]}, "did you mean 'return hose.size'"),
    ({"vlots": [12]}, "did you mean 'volts'"),
    ({"rail.levle": ["2 in"]}, "'rail' has no 'levle' to vary"),
    ({"cell": ["8 in"]}, "say what of it: cell.level, cell.vent"),
    ({"altitude": ["0 ft"], "ambient_pressure": ["90 kPaa"]}, "say the same thing"),
    ({"power": ["100 hp"]}, "needs specific_consumption"),
    ({"return hose.size": "-6"}, "square brackets"),
    ({"return hose.size": []}, "at least one value"),
    ({"return hose.size": ["-6", "-99"]}, "sweep over 'return hose.size': '-99'"),
    ({"return hose.length": ["4 ft", "4 psi"]}, "sweep over 'return hose.length': '4 psi'"),
    ({"volts": ["12 V", "12 psi"]}, "sweep over 'volts': '12 psi'"),
    ({"fluid": ["E85", "E850"]}, "sweep over 'fluid': 'E850'"),
    ({"pump": ["large"]}, "not a part to put in the place of 'pump'"),
    ({"duty": ["10 %", "150 %"]}, "sweep over 'duty': '150 %': 'duty' is '150 %', outside its range: give 0 to 100 %"),
    ({"filter_loading": [0.5, 2]}, "sweep over 'filter_loading': 0.5: 'filter_loading' is 0.5, outside its range: give 1 to 10000"),
    ({"volts": [12, 1e9]}, "sweep over 'volts': 1000000000.0: 'volts' is 1000000000.0, outside its range: give 0 to 60 V"),
    ({"volts": ["-5 V", 12]}, "sweep over 'volts': '-5 V': 'volts' is '-5 V', below 0 V: write how many volts there are"),
    ({"pump.volts": [-5]}, "below zero"),
    ({"regulator.set": ["43 psi", "90000 psi"]}, "sweep over 'regulator.set': '90000 psi'"),
    ({"volts": [12, 14], "pump.volts": [12, 13]}, "'volts' and 'pump.volts' say the same thing, and no other part follows 'volts'"),
    ({"filter_loading": [1], "filter.loading": [2]}, "say the same thing"),
    ({("volts", "duty"): [(12, "3 %"), (13,)]}, "one value for each of 2 names"),
    ({"volts": [12], ("volts", "duty"): [(12, "3 %")]}, "varied twice"),
    ({"volts": fn.between("11 V", "14 V")}, "how many points are drawn"),
    ("volts", "write {"),
])
def test_bad_input_names_the_axis_the_value_and_the_cure(vary, words):
    with pytest.raises(fn.CircuitError) as refusal:
        fn.sweep(small_car(), vary)
    assert words in str(refusal.value)


@pytest.mark.parametrize("outputs, words", [
    ("rial.gauge", "did you mean 'rail.gauge'"), ("rail.guage", "did you mean 'gauge'"), ("return hose", "say what of it"),
    ("return hose.dorp", "did you mean 'drop'"), ("return hose.suction_margin", "no 'suction_margin' to read"), ("status", "is no output"),
])
def test_an_unknown_output_names_the_nearest(outputs, words):
    with pytest.raises(fn.CircuitError, match=words):
        fn.sweep(small_car(), {"volts": [12]}, outputs=outputs)


def test_other_refusals():
    with pytest.raises(fn.CircuitError, match="nothing between one fluid and another"):
        fn.sweep(small_car(), {"fluid": fn.between(10, 85)}, samples=3)
    for keys, words in (({"cases": "idel"}, "did you mean 'idle'"), ({"units": "si units"}, "write 'si'"), ({"samples": 5}, "nothing is drawn"), ({"threads": -1}, "0 takes one for each core"),
                        ({"outputs": "volts"}, "is no output")):
        with pytest.raises(fn.CircuitError, match=words):
            fn.sweep(small_car(), {"volts": [12]}, **keys)
    for ends, words in ((("11 V", "14 psi"), "different units"), (("14 V", "11 V"), "not below"), (("-4 to", "x"), "no number|different")):
        with pytest.raises(fn.CircuitError, match=words):
            fn.between(*ends)


def test_a_combination_that_cannot_be_is_refused_with_its_reason_and_the_others_are_solved():
    vary = {"return hose.spec": ["ptfe", "push-on"], "return hose.size": ["-6", "-16"], "volts": [12, 13]}
    specs = {(spec, size): works(spec, size) for spec in vary["return hose.spec"] for size in vary["return hose.size"]}
    assert set(specs.values()) == {True, False}  # the catalogue has one and not the other
    answer = fn.sweep(small_car(), vary, cases="idle", outputs="rail.gauge")
    for (spec, size), fine in specs.items():
        found = answer.sel({"return hose.spec": spec, "return hose.size": size})
        assert (fn.words_of(found["status"]) == ("solved" if fine else "refused")).all()
        assert numpy.isnan(found["rail.gauge"]).all() == (not fine)
        assert all(("return hose" in reason) == (not fine) for reason in fn.words_of(found["reason"]).values.ravel())


def works(spec, size):
    try:
        small_car().change("return hose", spec=spec, size=size)
        return True
    except ValueError:
        return False


def test_a_number_out_of_range_is_refused_at_its_points_alone():
    vary = {"fluid_temperature": ["20 C", "300 C", "320 C"], "volts": [12, 13]}
    with pytest.warns(fn.SweepWarning, match="^4 of 6 solves are refused and have no numbers; 2 of them: .*temperature: 572 F") as told:
        fn.sweep(small_car(), vary, cases="idle", outputs="rail.gauge")
    assert len(told) == 1
    answer = fn.sweep(small_car(), {"fluid_temperature": ["20 C", "300 C"]}, cases="idle", outputs="rail.gauge")
    assert answer["status"].values.ravel().tolist() == [0, 2]
    assert numpy.isnan(answer["rail.gauge"].values.ravel()[1]) and "temperature" in str(fn.words_of(answer["reason"]).values.ravel()[1])


def test_a_sweep_without_an_answer_says_why_once():
    with pytest.warns(fn.SweepWarning, match="none of 2 solves has an answer; .*temperature") as told:
        answer = fn.sweep(small_car(), {"fluid_temperature": ["300 C", "400 C"]}, cases="idle", outputs="rail.gauge")
    assert len(told) == 1 and numpy.isnan(answer["rail.gauge"]).all()


def test_an_answer_too_large_is_refused_before_it_is_begun(monkeypatch):
    from flarenut.studies import memory

    monkeypatch.setattr(memory, "available", lambda: 10_000_000)
    with pytest.raises(fn.CircuitError, match=r"1,000,000 points in 1 cases with 1 outputs need .* ask for fewer outputs"):
        fn.sweep(small_car(), {"volts": list(numpy.linspace(11, 14, 1000)), "manifold": [f"{p} kPag" for p in range(1000)]}, cases="idle",
                 outputs="rail.gauge")
    drawn = []
    monkeypatch.setattr("flarenut.studies.axes.drawn", lambda *arguments: drawn.append(arguments))
    with pytest.raises(fn.CircuitError, match=r"1,000,000,000 samples of 1 value need 32.0 GB of memory to draw, and 10.0 MB are free: draw fewer"):
        fn.sweep(small_car(), {"volts": fn.between(11, 14)}, cases="idle", samples=10**9, outputs="rail.gauge")
    assert drawn == []  # refused before anything is drawn


def test_progress_counts_up_to_the_whole():
    told = []
    fn.sweep(small_car(), {"volts": [11, 12, 13]}, outputs="rail.gauge", progress=lambda done, count: told.append((done, count)))
    assert told[-1] == (9, 9) and told == sorted(told)


def test_ctrl_c_leaves_what_was_solved():
    vary = {"volts": list(numpy.linspace(11, 14, 300)), "manifold": [f"{p} psi" for p in numpy.linspace(-5, 15, 600)]}

    def press(done, count):
        if done:
            signal.raise_signal(signal.SIGINT)

    with pytest.raises(fn.SweepInterrupted) as stop:
        fn.sweep(small_car(), vary, cases="idle", outputs="rail.gauge", progress=press)
    partial = stop.value.partial
    status = fn.words_of(partial["status"])
    assert isinstance(stop.value, KeyboardInterrupt) and "in .partial" in str(stop.value)
    assert (status == "solved").any() and (status == "not reached").any()
    assert (numpy.isnan(partial["rail.gauge"]) == (status == "not reached")).all()


def test_a_stopped_sweep_of_several_cases_has_points_with_all_of_them():
    vary = {"volts": list(numpy.linspace(11, 14, 300)), "manifold": [f"{p} psi" for p in numpy.linspace(-5, 15, 600)]}

    def press(done, count):
        if done > 100_000:
            signal.raise_signal(signal.SIGINT)

    with pytest.raises(fn.SweepInterrupted) as stop:
        fn.sweep(small_car(), vary, cases=["idle", "full power"], outputs="rail.gauge", progress=press)
    reached = stop.value.partial["status"] != 3
    whole = int(reached.all("case").sum())
    assert whole > 40_000 and not reached.all()


def test_ctrl_c_from_a_terminal_stops_a_sweep_in_a_script():
    code = ("import flarenut as fn, numpy, sys; sys.path.insert(0, sys.argv[1]); from sweep_example import small_car\n"
            "def told(done, count):\n    print('running', flush=True)\n"
            "fn.sweep(small_car(), {'volts': list(numpy.linspace(11, 14, 3000)), 'duty': list(numpy.linspace(0.1, 0.9, 1000))}, progress=told)")
    running = subprocess.Popen([sys.executable, "-c", code, __file__.rpartition("/")[0]], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    limit = threading.Timer(120, running.kill)
    limit.start()
    assert "running" in running.stdout.readline()
    running.send_signal(signal.SIGINT)
    _, told = running.communicate()
    limit.cancel()
    assert "SweepInterrupted: stopped after" in told and running.returncode != 0


def test_random_samples_that_are_refused_share_their_reason():
    answer = fn.sweep(small_car(), {"regulator.set": fn.between("20 psi", "50 psi")}, cases="idle", samples=40, seed=1, outputs="rail.gauge")
    refused = answer["regulator.set"] < 33  # 1.1 times what is taken for the wide open regulator
    assert ((answer["status"].sel(case="idle") == 2) == refused).all() and refused.any() and not refused.all()
    assert len(set(fn.words_of(answer["reason"]).values.ravel())) == 2


def test_samples_outside_of_a_range_share_one_reason():
    answer = fn.sweep(small_car(), {"filter_loading": fn.between(0, 2)}, cases="idle", samples=40, seed=1, outputs="rail.gauge")
    refused = answer["filter_loading"] < 1
    assert ((answer["status"].sel(case="idle") == 2) == refused).all() and refused.any() and not refused.all()
    (reason,) = set(fn.words_of(answer["reason"]).values.ravel()) - {""}
    assert "'filter_loading' is the value drawn, outside its range: give 1 to 10000" in reason


def test_volts_of_all_pumps_and_of_one_of_two_are_swept_together():
    car = small_car()
    car.run("second feed", "cell", "rail", [fn.formula_pump("95 psi", "200 L/h", name="second pump")])
    answer = fn.sweep(car, {"volts": [12.0, 13.5], "pump.volts": [12.0, 13.5]}, cases="full power", outputs=["second pump.flow", "pump.flow"])
    assert (answer["second pump.flow"].diff("volts") > 0).all() and (answer["pump.flow"].diff("pump.volts") > 0).all()


def test_a_part_that_a_case_cannot_do_without_is_refused_for_that_part_alone():
    parts = {"pump": fn.formula_pump("95 psi", "300 L/h"), "hose": fn.hose("-6", "3 ft", spec="ptfe")}
    answer = fn.sweep(small_car(), {"pump": parts}, cases="idle", outputs="rail.gauge")
    assert fn.words_of(answer["status"]).values.ravel().tolist() == ["solved", "refused"]
    assert "no electric pump to set 'volts' on" in str(fn.words_of(answer["reason"]).values.ravel()[1])


def test_what_a_case_says_wrongly_is_blamed_on_the_case():
    car = small_car()
    car.case("bad", **{"pump.volts": "12 psi"})
    with pytest.raises(fn.CircuitError, match="case 'bad'"):
        fn.sweep(car, {"volts": [12]})


@pytest.mark.parametrize("names", [("tank_level", "fluid_temperature"), ("fluid_temperature", "tank_level")])
def test_a_temperature_that_the_liquid_refuses_troubles_no_other_point(names):
    points = {"tank_level": [f"{4 + 0.5 * i} in" for i in range(40)], "fluid_temperature": [f"{20 + i} C" for i in range(40)]}
    points["fluid_temperature"][3] = "-120 C"
    rows = [tuple(points[name][i] for name in names) for i in range(40)]
    answer = fn.sweep(small_car(), {names: rows}, cases="idle", outputs=["pump.flow"])
    assert numpy.flatnonzero(answer["status"].values.ravel()).tolist() == [3]


def test_what_is_no_executor_is_refused_in_words():
    with pytest.raises(fn.CircuitError, match="'executor' is 4: hand a pool with `submit`.*'threads'"):
        fn.sweep(small_car(), {"return hose.size": ["-6", "-8"]}, executor=4)
