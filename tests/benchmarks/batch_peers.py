"""Many random rows: the engine's batch beside vectorised NumPy, a SciPy loop and KINSOL, per core, taking turns.

What is timed is processor time of the whole process, not the clock, so that neighbours on the machine take little part in it;
every contestant runs on one thread. Each begins every row anew, but for the engine's chains. Peers are judged by the
residual of the laws stated in `peers` (1e-9 of a bar, and of 1e-5 m³/s), after their time is taken; the engine by its own
certificate, and then what `peers` says of its answers is told.

"Cold" says that no row knows of another. The engine then starts from the answer at the circuit's own numbers, moved along its
slopes; the NumPy peers from a guess made by hand for this circuit and each row, and one of them from the engine's start as well.
"""

import contextlib
import os
import statistics
import sys
import time

import numpy as np
import peers
from fuel29 import AMBIENT, CIRCUIT, DENSITY, PARTS, Numbers, engine_plan, random_rows
from numpy_batch import TOLERANCE, Block, NumpyBatch
from numpy_reference import ReferenceBatch
from numpy_systems import DenseSolve, PatternSolve
from scipy.optimize import root

from flarenut import _core

BLOCKS = (512, 1024, 2048, 4096, 8192)
SEED = 1


class Engine:
    """The batch, one thread, two readings a row; block 1 starts every row cold, 64 goes on from the row before."""

    def __init__(self, kernel, block, ordered=False):
        self.plan = engine_plan()
        self.numbers = Numbers(self.plan)
        self.kernel, self.block, self.ordered = kernel, block, ordered
        self.rows = grid_rows(self.numbers) if ordered else random_rows(self.numbers, 20480, False, SEED)
        self.count = len(self.rows)
        self.readings = [("total", self.plan.junction_index("n9"), 0), ("flow", self.plan.part_index("pump"), 0)]
        way = "every row cold" if block == 1 else f"in chains of {block}" + (", rows of a grid" if ordered else "")
        self.label = f"flarenut batch, {kernel}, {way}"

    def run(self, readings=None):
        return self.plan.batch(self.numbers.indices, self.rows, readings or self.readings, threads=1, block=self.block,
                               kernel=self.kernel)

    def failures(self, report):
        return int(np.count_nonzero(report["status"]))

    def peer_residuals(self, count=1000):
        """What the peers' laws say of the engine's answers: worst scaled residual of each of some rows."""
        everything = [("total", self.plan.junction_index(name), 0) for name in peers.NAMES]
        everything += [("flow", self.plan.part_index(part["name"]), 0) for part in PARTS]
        pressure, flow = np.split(self.run(everything)["values"][:count], [peers.N], axis=1)
        return worst_residuals(self.rows, np.hstack([(pressure - AMBIENT) / peers.PRESSURE, flow / DENSITY / peers.FLOW]))


class Vectorised:
    """`numpy_batch` with the block that is fastest here, found by trial."""

    def __init__(self, systems, name, batch=NumpyBatch):
        self.rows = random_rows(Numbers(engine_plan()), 16384, False, SEED)
        self.count = len(self.rows)
        trials = {block: batch(systems, block) for block in BLOCKS}
        seconds = {block: min(processor_seconds(lambda t=trial: t.solve(self.rows)) for _ in range(2))
                   for block, trial in trials.items()}
        best = min(seconds, key=seconds.get)
        self.batch, self.label = trials[best], f"NumPy, {name}, blocks of {best}"

    def run(self):
        return self.batch.solve(self.rows)

    def failures(self, answer):
        pressure, flow, _ = answer
        some = slice(0, 1000)
        worst = worst_residuals(self.rows[some], np.hstack([pressure[some] / peers.PRESSURE, flow[some] / peers.FLOW]))
        # Its friction root is one step of round-off behind its flow: a hair's breadth is allowed.
        return int(np.count_nonzero(~(worst <= 1.01 * TOLERANCE)) + np.count_nonzero(np.isnan(pressure[1000:, 0])))


class Loop:
    """SciPy's `root`, analytic Jacobian, row after row."""

    def __init__(self, method, options, guesses, begin, count=150):
        self.rows = random_rows(Numbers(engine_plan()), count, False, SEED)
        self.count, self.method, self.options = count, method, options
        self.guesses = guesses(self.rows)
        self.label = f"SciPy root {method}, {begin}"

    def run(self):
        return [root(peers.Peer.of_row(row).evaluate, guess, jac=True, method=self.method, options=self.options).x
                for row, guess in zip(self.rows, self.guesses)]

    def failures(self, answers):
        return int(np.count_nonzero(~(worst_residuals(self.rows, answers) <= TOLERANCE)))


class Mapped:
    """KINSOL through CasADi, dense, analytic Jacobian, all rows by one call."""

    def __init__(self, guesses, begin, count=400):
        rows = random_rows(Numbers(engine_plan()), count, False, SEED)
        solver, self.function = peers.kinsol()
        self.solver, self.count = solver.map(count, "serial"), count
        self.rows, self.scenarios, self.guesses = rows, np.ascontiguousarray(rows[:, [0, 2, 3, 11]].T), guesses(rows).T
        self.label = f"KINSOL dense, {begin}"

    def run(self):
        with silenced():
            return np.array(self.solver(self.guesses, self.scenarios)).T

    def failures(self, answers):
        return int(np.count_nonzero(~(worst_residuals(self.rows, answers) <= TOLERANCE)))


@contextlib.contextmanager
def silenced():
    """Without the lines that CasADi writes past Python for every row that fails; such rows are counted instead."""
    sys.stderr.flush()
    kept, nowhere = os.dup(2), os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 2)
    try:
        yield
    finally:
        os.dup2(kept, 2)
        os.close(kept)
        os.close(nowhere)


def grid_rows(numbers):
    """Rows as a sweep over a product has them: 8 manifold pressures, 8 return bores, 16 duties, 20 voltages, the last fastest."""
    axes = [np.linspace(*CIRCUIT["ordinary_ranges"][key], count)
            for key, count in (("manifold_Pa", 8), ("return_bore_m", 8), ("duty", 16), ("volts", 20))]
    manifold, bore, duty, volts = (axis.ravel() for axis in np.meshgrid(*axes, indexing="ij"))
    return numbers.rows(bore, volts, duty, manifold)


def fixed_guess(rows):
    return np.tile(peers.cold_start(), (len(rows), 1))


def guess_of_the_row(rows):
    """Where `numpy_batch` begins: flows that balance, by what pump and injectors of the row would do at the set pressure."""
    block = Block(rows)
    return np.vstack([block.pressure[:peers.N] / peers.PRESSURE, block.flow / peers.FLOW]).T


def worst_residuals(rows, answers):
    return np.array([np.max(np.abs(peers.Peer.of_row(row).evaluate(x)[0])) for row, x in zip(rows, answers)])


def processor_seconds(action):
    begin = time.process_time()
    action()
    return time.process_time() - begin


def contestants():
    kernels = _core.batch_kernels()
    fast = [Engine(kernels[0], 1), Engine(kernels[0], 64), Engine(kernels[0], 64, ordered=True)] if kernels[0] != "single" else []
    engines = [Engine("single", 1), Engine("single", 64), *fast]
    loops = [Loop("hybr", {"xtol": 1e-13}, fixed_guess, "a fixed guess"),
             Loop("hybr", {"xtol": 1e-13}, guess_of_the_row, "the row's own guess"),
             Loop("lm", {"xtol": 1e-15, "ftol": 1e-15}, guess_of_the_row, "the row's own guess")]
    return engines, [Vectorised(DenseSolve(), "np.linalg.solve"), Vectorised(PatternSolve(), "elimination by pattern"),
                     Vectorised(DenseSolve(), "np.linalg.solve, the engine's start", ReferenceBatch), *loops,
                     Mapped(fixed_guess, "a fixed guess"), Mapped(guess_of_the_row, "the row's own guess")]


def take_turns(turns):
    """([engines], [peers], {contestant: [rows per second of each turn]}, {contestant: failures})."""
    engines, others = contestants()
    rates, failures = {}, {}
    for turn in range(turns):
        for one in (*engines, *others):
            answers = []
            seconds = processor_seconds(lambda one=one, answers=answers: answers.append(one.run()))
            rates.setdefault(one, []).append(one.count / seconds)
            if turn == 0:
                failures[one] = one.failures(answers[0])
    return engines, others, rates, failures


def report(turns):
    engines, others, rates, failures = take_turns(turns)
    print("batches of random ordinary rows, one thread each, rows per second of processor time, taking turns:")
    for one in (*engines, *others):
        samples = rates[one]
        print(f"  {one.label:49} {statistics.median(samples):9.0f}  ({min(samples):.0f} to {max(samples):.0f})   "
              f"missed the tolerance: {failures[one]} of {one.count}")
    print("how many times as many rows the engine solves, median of the ratios of each turn (least to most):")
    print(f"  {'':38}" + "".join(f"{f'{one.kernel}, {_way(one)}':>21}" for one in engines))
    for other in others:
        ratios = [sorted(a / b for a, b in zip(rates[one], rates[other])) for one in engines]
        cells = [f"{_short(statistics.median(r))} ({_short(r[0])}-{_short(r[-1])})" for r in ratios]
        print(f"  {other.label.split(', blocks')[0]:38}" + "".join(f"{cell:>21}" for cell in cells))
    print("  Rows of a grid are solved by the engine alone; peers have the random ones.")
    worst = engines[0].peer_residuals()
    print("  The engine's certificate measures a law by what a bar and 1e-5 m³/s would make of it together. By a bar alone, as its")
    print(f"  peers are judged, its worst residual is {worst.max():.1e}, and {100 * np.mean(worst > TOLERANCE):.1f} % of rows are over "
          f"{TOLERANCE:.0e}.")


def _way(engine):
    return "cold" if engine.block == 1 else "grid" if engine.ordered else f"chained {engine.block}"


def _short(ratio):
    return f"{ratio:.0f}" if ratio >= 20 else f"{ratio:.1f}" if ratio >= 3 else f"{ratio:.2f}"
