"""The oil circuit: the engine against SciPy on its equations stated anew, and against random circuits in random weather.

Times are measured by `run_oil.py`; here nothing asserts a time.
"""

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
import oil_circuit  # noqa: E402
import oil_peer  # noqa: E402
import oil_scenarios  # noqa: E402


@pytest.fixture(scope="module")
def circuit():
    return oil_circuit.OilCircuit()


@pytest.mark.parametrize("case", oil_circuit.CASES)
def test_scipy_finds_the_engines_answer_on_equations_stated_anew(circuit, case):
    """SciPy `root`, method hybr (MINPACK), from the engine's answer put up to 5 % off; film of the hoses' outside without the engine's curves."""
    peer = oil_peer.OilPeer(circuit, case)
    engine = peer.of_engine(circuit.solve(case))
    found = None
    for seed in range(1, 9):  # the peer's iteration does not always get there
        guess = peer.disturbed(engine, seed=seed)
        assert peer.differences(guess, engine)["place"] > 0.3
        found = peer.solve(guess)
        if np.max(np.abs(found.fun)) < 1e-10:
            break
    assert np.max(np.abs(found.fun)) < 1e-10
    off = peer.differences(found.x, engine)
    # What is left is the curve of enthalpy along a part, which the engine takes by its middle.
    assert off["pressure"] < 2e-6 and off["flow"] < 1e-6
    assert off["place"] < 5e-4 and off["mean"] < 2e-3


def test_peer_jacobian_is_the_slope_of_its_residual(circuit):
    peer = oil_peer.OilPeer(circuit, "hot track")
    x = peer.of_engine(circuit.solve("hot track"))
    jacobian, step = peer.jacobian(x), 1e-5
    differences = np.array([(peer.residual(x + step * e) - peer.residual(x - step * e)) / (2 * step) for e in np.eye(len(x))]).T
    assert np.max(np.abs(jacobian - differences) / (1.0 + np.abs(differences))) < 1e-3


def test_benchmark_rows_solve_found_and_given(circuit):
    """What `run_oil` times: cases in rows, with temperatures found and with the whole liquid at the sump's."""
    sump = {case: circuit.solve(case).temperature_of("sump") for case in oil_circuit.CASES}
    try:
        for found in (True, False):
            circuit.plan.follows_heat = found
            report = circuit.plan.solve_each(*circuit.rows(oil_circuit.CASES, 1, None if found else sump), "cold")
            assert all(report["converged"]), report["message"]
            assert max(report["residual"]) <= 1e-10
    finally:
        circuit.plan.follows_heat = True


def test_random_oil_circuits_in_random_weather():
    outcomes, worst, failures, evaluations, _ = oil_scenarios.run(10, 20, seed=7)
    assert not failures
    assert sum(outcomes.values()) == 200 and outcomes["solved"] > 150
    assert len(evaluations) == outcomes["solved"]
    assert worst["residual"] <= 1e-10 and worst["energy_closure"] <= 1e-9 and worst["mass_closure"] <= 1e-12
