"""Findings of a sweep's points: each is what the circuit, changed to that point and solved by itself, is told; and pumps with far too many volts."""

import json

import flarenut as fn
import pytest
from flarenut import checks
from sweep_example import demo, small_car

pytest.importorskip("xarray", reason="sweeps answer with xarray")
pytestmark = [pytest.mark.filterwarnings("ignore:in .* solves the liquid boils"),
              pytest.mark.filterwarnings("ignore:.* solves are refused and have no numbers")]

SIZES, VOLTS = ["-4", "-8"], ["9 V", "13.5 V"]


def counted(findings):
    graded = [one.severity for one in findings]
    return graded.count("stop"), graded.count("fix"), f"{findings[0].severity.upper()} {findings[0].code}" if findings else "none"


def at(answer, **point):
    here = answer.sel(point)
    return int(here["findings_stop"]), int(here["findings_fix"]), str(fn.words_of(here["worst_finding"]).item())


def test_each_point_has_the_findings_of_a_single_solve():
    answer = fn.sweep(demo(), {"return hose.size": SIZES, "volts": VOLTS, "fluid_temperature": ["20 C", "70 C"]}, outputs=["rail.gauge"], findings=True)
    seen = set()
    for size in SIZES:
        for volts in VOLTS:
            for warmth in ("20 C", "70 C"):
                car = demo()
                car.change("return hose", size=size)
                for case in car.cases.values():
                    case.conditions |= {"volts": volts, "fluid_temperature": warmth}
                for name, case in car.solve().items():
                    here = at(answer, **{"return hose.size": size, "volts": float(volts[:-2]), "fluid_temperature": float(warmth[:-2]), "case": name})
                    assert here == counted(checks.case_findings(case)), (size, volts, warmth, name)
                    seen.add(here)
    assert len(seen) > 3 and any(stops for stops, _, _ in seen) and any(fixes for _, fixes, _ in seen)


def test_exchanged_parts_liquids_and_a_power_to_be_burnt_are_looked_at_too():
    car = small_car()
    del car.cases["full power"].conditions["duty"]
    car.cases["full power"].conditions |= {"power": "400 hp", "specific_consumption": "0.65 lb/hp/h"}
    pumps = {"small": fn.formula_pump("60 psi", "150 L/h", name="pump"), "large": fn.formula_pump("95 psi", "600 L/h", name="pump")}
    answer = fn.sweep(car, {"pump": pumps, "fluid": ["E10", "E85"], "power": ["200 hp", "900 hp"]}, cases="full power", outputs=["rail.gauge"], findings=True)
    seen = set()
    for label, pump in pumps.items():
        for fluid in ("E10", "E85"):
            for power in (200.0, 900.0):
                other = small_car(fluid)
                other.change("pump", dead_head=pump.given["dead_head"], free_flow=pump.given["free_flow"], through=None, volts_lost="0 V")
                del other.cases["full power"].conditions["duty"]
                other.cases["full power"].conditions |= {"power": f"{power} hp", "specific_consumption": "0.65 lb/hp/h"}
                here = at(answer, pump=label, fluid=fluid, power=power, case="full power")
                assert here == counted(checks.case_findings(other.solve("full power")["full power"])), (label, fluid, power)
                seen.add(here[2])
    assert len(seen) > 1


def test_limits_of_your_own_count():
    swept = {"return hose.size": ["-6"]}
    usual = fn.sweep(demo(), swept, cases="idle", outputs=["rail.gauge"], findings=True)
    strict = fn.sweep(demo(), swept, cases="idle", outputs=["rail.gauge"], findings=True, limits=checks.Limits(fuel_filter_drop="1 psi"))
    assert int(strict["findings_fix"].item()) == int(usual["findings_fix"].item()) + 1


def test_of_many_points_some_are_looked_at_and_the_others_say_so():
    volts = [11 + 0.1 * place for place in range(30)]
    with pytest.warns(fn.SweepWarning, match="findings are those of 7 of 30 solved points, spread evenly; findings=30 looks at all"):
        answer = fn.sweep(small_car(), {"volts": volts}, cases="idle", outputs=["rail.gauge"], findings=7)
    looked = answer["findings_stop"].values.ravel() >= 0
    assert looked.sum() == 7 and looked[0] and looked[-1]
    assert (fn.words_of(answer["worst_finding"]).values.ravel() == "").tolist() == (~looked).tolist()
    assert "7 of 30" in json.loads(answer.attrs["notes"])[0]


def test_points_without_an_answer_are_not_looked_at_and_a_table_keeps_findings(tmp_path):
    answer = fn.sweep(small_car(), {"fluid_temperature": ["20 C", "300 C"]}, cases="idle", outputs=["rail.gauge"], findings=True)
    assert (answer["findings_stop"].values.ravel() >= 0).tolist() == [True, False]
    for name in ("kept.csv", "kept.nc"):
        if name.endswith(".nc"):
            pytest.importorskip("h5py")
        fn.save_sweep(answer, tmp_path / name)
        assert fn.load_sweep(tmp_path / name).identical(answer)


def test_without_asking_there_are_none_and_a_wrong_request_is_refused():
    assert not [name for name in fn.sweep(small_car(), {"volts": [12]}, outputs=["rail.gauge"]).data_vars if "finding" in str(name)]
    for asked in (0, -3, "all", 2.5):
        with pytest.raises(fn.CircuitError, match="'findings' is .* how many points are looked at, findings=500"):
            fn.sweep(small_car(), {"volts": [12]}, findings=asked)


def test_stopped_while_it_looks_the_points_so_far_are_kept():
    def tell(done, count):
        if count == 4 and done == 2 and answers:
            raise KeyboardInterrupt
        answers.append(done) if done == count else None

    answers = []
    with pytest.raises(fn.SweepInterrupted) as stop:
        fn.sweep(small_car(), {"volts": [11, 12, 13, 14]}, cases="idle", outputs=["rail.gauge"], findings=True, progress=tell)
    assert (stop.value.partial["findings_stop"].values.ravel() >= 0).tolist() == [True, True, False, False]
    assert (stop.value.partial["status"] == 0).all()


@pytest.mark.parametrize("make, known", [(demo, 13.5), (small_car, 13.5)])
def test_a_pump_far_over_its_volts_is_told_of(make, known):
    with pytest.warns(fn.SweepWarning, match=rf"'pump' is driven at up to (40|39.6) V, far over the {known} V it was measured at"):
        answer = fn.sweep(make(), {"volts": [12, 40]}, cases="idle", outputs=["pump.flow"])
    assert "far over" in answer.attrs["notes"]
    for fine in ({"volts": [12, 15]}, {"manifold": ["0 psi", "5 psi"]}):
        assert json.loads(fn.sweep(make(), fine, cases="idle", outputs=["pump.flow"]).attrs["notes"]) == []


def test_volts_that_a_case_or_a_part_says_count_as_well():
    car = small_car()
    car.case("slip", volts="24 V", duty="3 %")
    with pytest.warns(fn.SweepWarning, match="up to 23.6 V"):
        fn.sweep(car, {"manifold": ["0 psi", "5 psi"]}, cases="slip", outputs=["pump.flow"])
    with pytest.warns(fn.SweepWarning, match="far over the 12 V"):
        fn.sweep(small_car(), {"pump.rated_volts": ["12 V"], "pump.volts": ["20 V"]}, cases="idle", outputs=["pump.flow"])
