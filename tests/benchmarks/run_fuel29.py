"""Side by side in one run: the engine, SciPy's `root` and KINSOL on the 29-branch circuit.

    python tests/benchmarks/run_fuel29.py [--repeats 15] [--markdown]

Every solver reaches the same residual (1e-9 of a bar, and of 1e-5 m³/s) on the same equations. Medians over repeats;
what counts is the ratio within one run. It does not prove anything about other circuits, nor about solvers tuned by
hand for this one. KINSOL runs through CasADi's interface, dense, analytic Jacobian, called on many copies at a time so
that Python's share of each call is small; SciPy calls back into NumPy, as its users do.
"""

import argparse
import platform
import statistics
import subprocess
import sys
import time

import numpy as np
from fuel29 import CIRCUIT, Numbers, engine_plan, random_rows
from peers import Peer, cold_start, kinsol
from scipy.optimize import root

from flarenut import _core

KEYS = ("return_bore_m", "volts", "duty", "manifold_Pa")
NOMINAL = [CIRCUIT["nominal"][key] for key in KEYS]
STEP = [CIRCUIT["warm_step"][key] for key in KEYS]
TOLERANCE = 1e-9


def median_seconds(action, repeats):
    samples = []
    for _ in range(repeats):
        begin = time.perf_counter()
        divisor = action()
        samples.append((time.perf_counter() - begin) / divisor)
    return statistics.median(samples)


def engine_times(repeats):
    plan = engine_plan()
    numbers = Numbers(plan)
    count = 500
    cold = numbers.rows(*np.array([NOMINAL, STEP] * (count // 2)).T)
    times = {}
    for start in ("cold", "warm"):
        samples = []
        for _ in range(repeats):
            report = plan.solve_each(numbers.indices, cold, start)
            if not all(report["converged"]) or max(report["residual"]) > TOLERANCE:
                raise SystemExit("the engine missed the tolerance")
            samples.append(report["seconds"] / count)
        times[start] = statistics.median(samples)
    return times


def batch_rates(repeats, count=20000):
    """{(kernel, block): solves per second} of random ordinary rows on one thread; block 1 starts every row cold."""
    plan = engine_plan()
    numbers = Numbers(plan)
    rows = random_rows(numbers, count, False, 1)
    outputs = [("total", plan.junction_index("n9"), 0), ("flow", plan.part_index("pump"), 0)]
    seconds = {}
    for _ in range(repeats):
        for kernel in _core.batch_kernels():  # by turns: neighbours trouble all alike
            if kernel == "plain" and len(_core.batch_kernels()) > 2:
                continue  # there for its bits, not for its speed
            for block in (1, 64):
                report = plan.batch(numbers.indices, rows, outputs, threads=1, block=block, kernel=kernel)
                if report["status"].any() or report["residual"].max() > TOLERANCE:
                    raise SystemExit("the engine missed the tolerance in a batch")
                seconds.setdefault((kernel, block), []).append(report["seconds"])
    return {key: count / statistics.median(samples) for key, samples in seconds.items()}


def python_resolve_time(repeats):
    """From Python: eleven new numbers, one warm solve, one reading."""
    plan = engine_plan()
    numbers = Numbers(plan)
    rows = numbers.rows(*np.array([NOMINAL, STEP]).T).tolist()
    plan.resolve()
    rail = plan.junction_index("n16")

    def action(count=200):
        for i in range(count):
            for index, value in zip(numbers.indices, rows[i % 2]):
                plan.set(index, value)
            plan.resolve()
            plan.last_pressure(rail)
        return count
    return median_seconds(action, repeats)


def scipy_times(repeats):
    nominal, step = Peer(*NOMINAL), Peer(*STEP)
    begin = cold_start()

    def solve(peer, guess):
        found = root(peer.evaluate, guess, jac=True, method="hybr", options={"xtol": 1e-13})
        if np.max(np.abs(found.fun)) > TOLERANCE:
            raise SystemExit(f"SciPy missed the tolerance: {np.max(np.abs(found.fun))}")
        return found.x
    answer = solve(nominal, begin)
    return {"cold": median_seconds(lambda: solve(nominal, begin) is not None or 1, repeats),
            "warm": median_seconds(lambda: solve(step, answer) is not None or 1, repeats)}, answer


def kinsol_times(repeats, answer):
    solver, function = kinsol()
    count = 200
    many = solver.map(count, "serial")
    begin = cold_start()
    times = {}
    for name, scenario, guess in (("cold", NOMINAL, begin), ("warm", STEP, answer)):
        guesses, scenarios = np.tile(guess, (count, 1)).T, np.tile(scenario, (count, 1)).T
        found = np.array(many(guesses, scenarios))
        residual = np.max(np.abs(np.array(function(found[:, 0], scenario))))
        if residual > TOLERANCE:
            raise SystemExit(f"KINSOL missed the tolerance ({name}): {residual}")
        times[name] = median_seconds(lambda g=guesses, s=scenarios: many(g, s) is None or count, repeats)
    return times


def processor():
    try:
        text = subprocess.run(["lscpu"], capture_output=True, text=True, check=True).stdout
        return next(line.split(":", 1)[1].strip() for line in text.splitlines() if line.startswith("Model name"))
    except (OSError, StopIteration, subprocess.CalledProcessError):
        return platform.processor() or platform.machine()


def measure(repeats=15):
    """Times in seconds: {"engine": {"cold":…, "warm":…}, "SciPy": …, "KINSOL": …, "resolve": …}."""
    scipy, answer = scipy_times(repeats)
    return {"engine": engine_times(repeats), "SciPy": scipy, "KINSOL": kinsol_times(repeats, answer),
            "resolve": python_resolve_time(repeats)}


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--repeats", type=int, default=15)
    arguments = parser.parse_args()
    times = measure(arguments.repeats)
    print(f"processor: {processor()}, Python {platform.python_version()}")
    print(f"{'solver':34} {'cold µs':>9} {'warm µs':>9} {'cold ratio':>11} {'warm ratio':>11}")
    labels = {"engine": "flarenut core", "SciPy": "SciPy root, analytic Jacobian",
              "KINSOL": "KINSOL dense, analytic Jacobian"}
    for key, label in labels.items():
        cold, warm = times[key]["cold"], times[key]["warm"]
        print(f"{label:34} {cold * 1e6:9.1f} {warm * 1e6:9.1f} {cold / times['engine']['cold']:10.1f}x "
              f"{warm / times['engine']['warm']:10.1f}x")
    print(f"from Python, new numbers and one warm solve: {times['resolve'] * 1e6:.1f} µs")
    print("batches of random rows, one thread, solves per second:")
    rates = batch_rates(max(3, arguments.repeats // 3))
    for kernel in dict.fromkeys(kernel for kernel, _ in rates):
        cold, chained = rates[kernel, 1], rates[kernel, 64]
        print(f"  {kernel:10} cold {cold:9.0f} ({cold / rates['single', 1]:.1f}x)   each from the row before, 64 in a chain "
              f"{chained:9.0f} ({chained / rates['single', 64]:.1f}x)")
    return 0


if __name__ == "__main__":
    sys.exit(main())
