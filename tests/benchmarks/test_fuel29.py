"""The 29-branch circuit: the engine against general-purpose solvers on the same equations, and against random numbers.

Times are measured by `run_fuel29.py`; here nothing asserts a time.
"""

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
import fuel29  # noqa: E402
import numpy_batch  # noqa: E402
import numpy_systems  # noqa: E402
import peers  # noqa: E402
import robustness  # noqa: E402

CASES = {"nominal": (0.006, 13.5, 0.5, 0.0), "warm step": (0.0061, 13.5, 0.52, 0.0), "idle": (0.0075, 14.0, 0.03, -6e4),
         "boost, small return": (0.004, 12.0, 0.9, 1.3e5)}


def engine_answer(scenario):
    plan = fuel29.engine_plan()
    numbers = fuel29.Numbers(plan)
    row = numbers.rows(*[[value] for value in scenario])[0]
    for index, value in zip(numbers.indices, row):
        plan.set(index, value)
    solution = plan.solve()
    assert solution.converged
    pressure = [solution.pressure_of(name) - fuel29.AMBIENT for name in peers.NAMES]
    flow = [solution.flow_of(part["name"]) / fuel29.DENSITY for part in fuel29.PARTS]
    return np.array([*np.array(pressure) / peers.PRESSURE, *np.array(flow) / peers.FLOW])


@pytest.mark.parametrize("name", CASES)
def test_scipy_finds_the_engines_answer_on_laws_stated_anew(name):
    """SciPy 1.11 or later, `root` method hybr (MINPACK), on the NumPy statement of the same laws."""
    from scipy.optimize import root

    engine = engine_answer(CASES[name])
    peer = peers.Peer(*CASES[name])
    found = root(peer.evaluate, engine, jac=True, options={"xtol": 1e-13})
    assert np.max(np.abs(found.fun)) < 1e-9
    assert np.max(np.abs(found.x - engine)) < 1e-5  # 1 Pa, and 1e-10 m³/s


@pytest.mark.parametrize("name", CASES)
def test_peer_jacobian_is_the_slope_of_its_residual(name):
    peer, x = peers.Peer(*CASES[name]), engine_answer(CASES[name])
    _, jacobian = peer.evaluate(x)
    step = 1e-6
    differences = np.array([(peer.evaluate(x + step * e)[0] - peer.evaluate(x - step * e)[0]) / (2 * step)
                            for e in np.eye(len(x))]).T
    assert np.max(np.abs(jacobian - differences)) < 1e-5 * np.max(np.abs(jacobian))


def test_kinsol_finds_the_engines_answer():
    """KINSOL (SUNDIALS) through CasADi, dense, analytic Jacobian, from its own cold start."""
    pytest.importorskip("casadi")
    solver, function = peers.kinsol()
    found = np.array(solver(peers.cold_start(), CASES["nominal"])).ravel()
    assert np.max(np.abs(np.array(function(found, CASES["nominal"])))) < 1e-9
    assert np.max(np.abs(found - engine_answer(CASES["nominal"]))) < 1e-5


def test_nominal_answer_of_the_file():
    """The file's own answer, by another friction law (Churchill 1977) and corner; it says about 1 %."""
    solution = fuel29.engine_plan()
    numbers = fuel29.Numbers(solution)
    for index, value in zip(numbers.indices, numbers.rows(*[[value] for value in CASES["nominal"]])[0]):
        solution.set(index, value)
    solution = solution.solve()
    published = fuel29.CIRCUIT["nominal_answer"]
    for name, pressure in published["gauge_pressure_Pa"].items():
        assert solution.pressure_of(name) - fuel29.AMBIENT == pytest.approx(pressure, rel=0.012)
    for name, flow in published["flow_L_per_h"].items():
        assert solution.flow_of(name) / fuel29.DENSITY * 3.6e6 == pytest.approx(flow, rel=0.01)


@pytest.mark.parametrize("start", robustness.STARTS)
@pytest.mark.parametrize("ranges", robustness.RANGES)
def test_twenty_thousand_random_scenarios(ranges, start):
    report = robustness.run(ranges, start, 20000, seed=20261125)
    failures = [message for ok, message in zip(report["converged"], report["message"]) if not ok]
    assert len(failures) <= (10 if ranges == "extreme" else 0), failures
    assert all(failures), "a failure without a cause in words"
    good = np.array(report["converged"])
    assert np.max(np.array(report["residual"])[good]) <= 1e-9
    assert np.max(np.array(report["mass_closure"])[good]) <= 1e-12


@pytest.mark.parametrize("systems", [numpy_systems.DenseSolve, numpy_systems.PatternSolve])
def test_numpy_finds_the_batchs_answers_on_random_rows(systems):
    """NumPy, all rows of a block at once, carried on beyond the common tolerance, which the engine's answers may use up:
    1e-9 of a bar is worth some 1e-4 Pa here, and 1e-11 m³/s where two rails share a flow."""
    plan = fuel29.engine_plan()
    numbers = fuel29.Numbers(plan)
    rows = fuel29.random_rows(numbers, 600, False, 20261125)
    readings = [("total", plan.junction_index(name), 0) for name in peers.NAMES]
    readings += [("flow", plan.part_index(part["name"]), 0) for part in fuel29.PARTS]
    engine = plan.batch(numbers.indices, rows, readings, threads=1, block=1)
    assert not engine["status"].any()
    pressure, flow, _ = numpy_batch.NumpyBatch(systems(), 256, tolerance=1e-12).solve(rows)
    engine_pressure, engine_flow = np.split(engine["values"], [peers.N], axis=1)
    assert np.max(np.abs(pressure + fuel29.AMBIENT - engine_pressure) / engine_pressure) < 2e-9
    assert np.max(np.abs(flow - engine_flow / fuel29.DENSITY)) < 1e-10


def test_numpy_meets_the_common_tolerance_on_laws_stated_apart():
    rows = fuel29.random_rows(fuel29.Numbers(fuel29.engine_plan()), 600, False, 4)
    pressure, flow, _ = numpy_batch.NumpyBatch(numpy_systems.PatternSolve(), 256).solve(rows)
    scaled = np.hstack([pressure / peers.PRESSURE, flow / peers.FLOW])
    worst = [np.max(np.abs(peers.Peer.of_row(row).evaluate(x)[0])) for row, x in zip(rows, scaled)]
    assert np.max(worst) < 1.01e-9  # its own friction may still be one last step of round-off away


def test_numpy_converges_on_twenty_thousand_random_rows():
    rows = fuel29.random_rows(fuel29.Numbers(fuel29.engine_plan()), 20000, False, 20261125)
    pressure, flow, steps = numpy_batch.NumpyBatch(numpy_systems.PatternSolve(), 4096).solve(rows)
    assert np.isfinite(pressure).all() and np.isfinite(flow).all()
    assert np.max(steps) < 40


def test_numpy_says_nothing_where_it_did_not_converge():
    rows = fuel29.random_rows(fuel29.Numbers(fuel29.engine_plan()), 20, False, 1)
    pressure, flow, steps = numpy_batch.NumpyBatch(numpy_systems.DenseSolve(), 20, most_steps=1).solve(rows)
    assert np.isnan(pressure).all() and np.isnan(flow).all() and (steps == 1).all()


@pytest.mark.parametrize("method, options", [("hybr", {"xtol": 1e-13}), ("lm", {"xtol": 1e-15, "ftol": 1e-15})])
def test_scipy_in_a_loop_reaches_the_common_tolerance(method, options):
    import batch_peers

    loop = batch_peers.Loop(method, options, batch_peers.guess_of_the_row, "the row's own guess", count=10)
    assert loop.failures(loop.run()) == 0
    assert loop.failures(loop.guesses) == 10  # the guess is none of the answers


def test_kinsol_on_many_rows_reaches_the_common_tolerance():
    pytest.importorskip("casadi")
    import batch_peers

    mapped = batch_peers.Mapped(batch_peers.fixed_guess, "a fixed guess", count=20)
    assert mapped.failures(mapped.run()) == 0
    assert mapped.failures(mapped.guesses.T) == 20
