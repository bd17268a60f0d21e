"""Side by side in one run: the engine, SciPy's `root` and KINSOL on the 29-branch circuit.

    python tests/benchmarks/run_fuel29.py [--repeats 15] [--turns 7]

Every solver reaches the same residual (1e-9 of a bar, and of 1e-5 m³/s) on the same equations. Medians over repeats;
what counts is the ratio within one run. It does not prove anything about other circuits, nor about solvers tuned by
hand for this one. KINSOL runs through CasADi's interface, dense, analytic Jacobian, called on many copies at a time so
that Python's share of each call is small; SciPy calls back into NumPy, as its users do. Batches of random rows have their
own peers, in `batch_peers`. All runs on one thread.
"""

import argparse
import platform
import statistics
import subprocess
import sys
import time

import one_thread  # noqa: F401  before NumPy
import batch_peers
import numpy as np
from fuel29 import CIRCUIT, Numbers, engine_plan
from peers import Peer, cold_start, kinsol
from scipy.optimize import root

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


def gradient_sentence(repeats):
    """One output's slopes with every number of the plan, against one warm solve from the other scenario's answer."""
    plan = engine_plan()
    numbers = Numbers(plan)
    count = 500
    rows = numbers.rows(*np.array([NOMINAL, STEP] * (count // 2)).T)
    if hasattr(plan, "gradient_each"):
        reports = [plan.gradient_each(numbers.indices, rows, "pressure", "n16") for _ in range(repeats)]
        gradient, solve = (statistics.median(r[key] for r in reports) / count for key in ("gradient_seconds", "solve_seconds"))
        ratio = statistics.median(r["gradient_seconds"] / r["solve_seconds"] for r in reports)
        return (f"one gradient with all {len(plan.names)} numbers: {gradient * 1e6:.1f} µs, {ratio:.2f} warm solves "
                f"of {solve * 1e6:.1f} µs")
    plan.resolve()
    seconds = median_seconds(lambda: [plan.gradient("pressure", "n16") for _ in range(100)] and 100, repeats)
    return f"one gradient with all {len(plan.names)} numbers, called from Python, names and dictionary included: {seconds * 1e6:.1f} µs"


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
    parser.add_argument("--turns", type=int, default=7, help="of the batches")
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
    print(gradient_sentence(arguments.repeats))
    batch_peers.report(arguments.turns)
    return 0


if __name__ == "__main__":
    sys.exit(main())
