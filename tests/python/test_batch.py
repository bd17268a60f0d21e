"""`Plan.batch`: many rows of numbers at once, each as a single solve would have it; what is wrong is refused before or in its row."""

import math

import numpy
import pytest

import results_example as example
from flarenut import _core

SOLVED, REFUSED, NOT_REACHED = 0, 2, 3
VARIED = ["injectors.duty", "manifold.gauge", "fuel pump.volts", "return hose.bore"]
ROWS = numpy.array([[duty, gauge, volts, bore] for duty in (0.03, 0.7) for gauge in (-60e3, 0.0, 70e3) for volts in (11.0, 13.5)
                    for bore in (0.005, 0.0062)])


@pytest.fixture
def plan():
    return _core.Plan(example.network())


def indices(plan, names=VARIED):
    return [plan.index(name) for name in names]


def readings(plan):
    """Reading asked for -> what a single solution says of it."""
    solution = plan.solve(cold=True)  # places are counted as it lists them
    rail = list(solution.junction_names).index("rail")
    pump, hose, regulator = (list(solution.part_names).index(name) for name in ("fuel pump", "return hose", "regulator"))
    return {
        ("total", rail, 0): lambda one: one.pressure[rail], ("flow", pump, 0): lambda one: one.flow_of("fuel pump"),
        ("end_total", hose, 1): lambda one: one.ends("return hose")[1].total, ("static", hose, 0): lambda one: one.ends("return hose")[0].static,
        ("end_flow", hose, 1): lambda one: one.ends("return hose")[1].flow, ("velocity", hose, 0): lambda one: one.ends("return hose")[0].velocity,
        ("suction_margin", pump, 0): lambda one: one.suction("fuel pump").margin,
        ("suction_gauge", pump, 0): lambda one: one.suction("fuel pump").inlet_gauge,
        ("regime", regulator, 0): lambda one: _core.regime_names().index(one.regime_of("regulator")),
        ("density", hose, 0): lambda one: one.liquid_in("return hose")["density"],
        ("vapour_pressure", hose, 0): lambda one: one.liquid_in("return hose")["vapour_pressure"],
        ("ambient", 0, 0): lambda one: one.ambient, ("number", plan.index("fuel pump.volts"), 0): lambda one: one.number("fuel pump.volts"),
    }


def test_every_row_reads_as_a_single_cold_solve_of_it(plan):
    asked = readings(plan)
    found = plan.batch(indices(plan), ROWS, list(asked))
    assert found["values"].shape == (len(ROWS), len(asked)) and set(found["status"]) == {SOLVED} and not found["interrupted"]
    assert set(found["reason"]) == {-1} and found["reasons"] == [] and max(found["residual"]) < 1e-6 and min(found["iterations"]) >= 0
    single = plan.copy()
    for row, values in zip(ROWS, found["values"], strict=True):
        single.set_many(dict(zip(VARIED, map(float, row))))
        one = single.solve(cold=True)
        wanted = [read(one) for read in asked.values()]
        assert list(values) == pytest.approx(wanted, rel=1e-7, abs=1e-9), row


def test_a_batch_leaves_the_plan_as_it_was(plan):
    before = {name: plan.get(plan.index(name)) for name in plan.names}
    alone = plan.solve(cold=True).pressure
    plan.batch(indices(plan), ROWS, [("total", 0, 0)])
    assert {name: plan.get(plan.index(name)) for name in plan.names} == before
    assert numpy.array_equal(plan.solve(cold=True).pressure, alone)


def test_answers_do_not_hang_on_how_many_threads_there_are(plan):
    one, three = (plan.batch(indices(plan), ROWS, list(readings(plan)), threads=threads, block=4)["values"] for threads in (1, 3))
    assert numpy.array_equal(one, three)


def test_a_row_that_is_no_number_or_out_of_range_is_refused_and_troubles_no_other(plan):
    rows = ROWS[:4].copy()
    rows[1, 2], rows[2, 3], rows[3, 0] = math.nan, -1.0, math.inf
    clean = plan.batch(indices(plan), ROWS[:1], [("total", 0, 0), ("ambient", 0, 0)])
    found = plan.batch(indices(plan), rows, [("total", 0, 0), ("ambient", 0, 0)])
    assert list(found["status"]) == [SOLVED, REFUSED, REFUSED, REFUSED]
    assert numpy.isnan(found["values"][1:]).all() and numpy.isnan(found["residual"][1:]).all()
    assert found["values"][0] == pytest.approx(clean["values"][0])
    told = [found["reasons"][place] for place in found["reason"][1:]]
    assert ["volts" in told[0], "bore" in told[1], "duty" in told[2]] == [True] * 3, told


@pytest.mark.parametrize("outputs, told", [
    ([("pressure", 0, 0)], "'pressure' is not a reading"), ([("total", 0, 0), ("", 0, 0)], "'' is not a reading"),
    ([("total", 10**6, 0)], "does not have"), ([("flow", -1, 0)], "does not have"), ([("static", 0, 9)], "pick-up hose.*no such port"),
    ([("number", 10**6, 0)], "does not have")])
def test_a_reading_that_is_none_of_the_plans_is_refused_before_anything_is_solved(plan, outputs, told):
    with pytest.raises(_core.InputError, match=told):
        plan.batch(indices(plan), ROWS, outputs)


@pytest.mark.parametrize("values", [ROWS[0], ROWS[:, :3], numpy.zeros((2, 5)), numpy.zeros((2, 2, 4)), numpy.zeros(())])
def test_rows_of_the_wrong_shape_are_refused(plan, values):
    with pytest.raises(_core.InputError, match="one row per scenario and one column per index"):
        plan.batch(indices(plan), values, [("total", 0, 0)])


@pytest.mark.parametrize("index", [-1, 10**6])
def test_a_number_that_the_plan_has_not_is_refused(plan, index):
    with pytest.raises(_core.InputError):
        plan.batch([index], numpy.zeros((1, 1)), [("total", 0, 0)])


def test_rows_in_any_memory_order_and_of_whole_numbers_are_read_alike(plan):
    wide = plan.batch(indices(plan), ROWS, [("total", 0, 0), ("flow", 2, 0)])["values"]
    assert numpy.array_equal(wide, plan.batch(indices(plan), numpy.asfortranarray(ROWS), [("total", 0, 0), ("flow", 2, 0)])["values"])
    volts = plan.batch(indices(plan, ["fuel pump.volts"]), numpy.array([[12], [13]]), [("number", plan.index("fuel pump.volts"), 0)])
    assert volts["values"].tolist() == [[12.0], [13.0]]


def test_no_rows_and_no_readings_are_no_trouble(plan):
    nothing = plan.batch(indices(plan), numpy.zeros((0, 4)), [("total", 0, 0)])
    assert nothing["values"].shape == (0, 1) and not nothing["interrupted"]
    unread = plan.batch(indices(plan), ROWS[:3], [])
    assert unread["values"].shape == (3, 0) and list(unread["status"]) == [SOLVED] * 3


def test_progress_is_told_and_ends_with_all_rows(plan):
    told = []
    plan.batch(indices(plan), ROWS, [("total", 0, 0)], progress=lambda done, count: told.append((done, count)))
    assert told[-1] == (len(ROWS), len(ROWS)) and [done for done, _ in told] == sorted(done for done, _ in told)
    assert {count for _, count in told} == {len(ROWS)}


def test_what_progress_raises_comes_out_and_the_plan_is_still_good(plan):
    def refuse(done, count):
        raise RuntimeError("enough")

    with pytest.raises(RuntimeError, match="enough"):
        plan.batch(indices(plan), ROWS, [("total", 0, 0)], progress=refuse)
    assert plan.solve(cold=True).converged
