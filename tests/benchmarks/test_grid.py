"""The grid of the large-network benchmark at small sizes: the engine against NumPy laws with SciPy's factors, and the program itself.

Times are measured by `run_grid.py`; here nothing asserts a time.
"""

import sys
from pathlib import Path

import numpy as np
import pytest

from flarenut import _core as core

sys.path.insert(0, str(Path(__file__).parent))
import grid as grids  # noqa: E402
import run_grid  # noqa: E402


@pytest.mark.parametrize("order", grids.Peer.ORDERS)
@pytest.mark.parametrize("lines", [50, 4000])
def test_scipy_finds_the_engines_answer_on_laws_stated_anew(lines, order):
    grid = grids.Grid(lines)
    plan = core.Plan(grid.network(core), symmetric_from=1)
    answer = plan.solve(cold=True)
    assert plan.in_rows and answer.converged and answer.iterations <= 12
    peer = grids.Peer(grid, order)
    for _ in range(25):
        if peer.step():
            break
    assert peer.worst[0] <= grids.TOLERANCE
    # The engine's friction is within 2e-8 of Colebrook-White (`correlations/friction.hpp`), and the rest is round-off.
    assert np.max(np.abs(peer.flow - answer.flow)) <= 1e-7 * np.max(np.abs(peer.flow))
    assert np.max(np.abs(peer.pressure - answer.pressure)) <= 1e-7 * grids.MAIN_GAUGE


def test_the_grid_has_every_regime():
    grid = grids.Grid(4000)
    answer = core.Plan(grid.network(core), symmetric_from=1).solve(cold=True)
    reynolds = np.abs(answer.flow) * 4 / (np.pi * grid.bore * grids.VISCOSITY)
    assert (reynolds < 2000).any() and (reynolds > 4000).any() and ((reynolds > 2000) & (reynolds < 4000)).any()


def test_the_benchmark_runs_and_reports(capsys):
    results = run_grid.run([60, 4000], repeats=1, peer_steps=2, with_peer=True, with_memory=True)
    printed = capsys.readouterr().out
    assert [result["lines"] for result in results] == [grids.Grid(60).lines, grids.Grid(4000).lines]
    for result in results:
        assert result["iterations"] <= 12 and result["iteration"] > 0 and result["ratio"] > 0
    assert "MMD_AT_PLUS_A" in printed and "an iteration grows as n^" in printed
    if grids.memory():
        assert "bytes per line" in printed and results[1]["memory"]["process"] > results[1]["workspace"] > 0
