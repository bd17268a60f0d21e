"""Side by side in one run: an oil circuit with temperatures found, with temperatures given, and its equations stated anew for SciPy.

    python tests/benchmarks/run_oil.py [--turns 15] [--count 100]

The circuit is the invented six of the demo file: 26 parts, 27 flows, 18 free places, its four cases. (a) the engine finds pressures, flows
and temperatures, cold; (b) the engine with the whole liquid at the sump's temperature that (a) found, cold; (c) SciPy `root`, hybr, on the
equations of `oil_peer`, with a Jacobian by differences part by part. (a) and (b) get every number of the case anew in every row. Rows differ
by a thousandth in speed; and, the other way to time it, in air by 0.01 K too, after which heat laws are made anew, in (b) as well, where
nobody asks them. (c) starts from its cold start, and where that fails from the engine's answer disturbed by up to 5 %. Times are the
processor's, of this process; (a), (b), (c) take turns; medians. What counts is the ratio within one run.
"""

import argparse
import platform
import statistics
import sys
import time

import one_thread  # noqa: F401  before NumPy
import numpy as np
from oil_circuit import CASES, OilCircuit
from oil_peer import OilPeer
from run_fuel29 import processor

SOLVED = 1e-10  # worst scaled residual that counts as an answer of SciPy


def seconds(action):
    begin = time.process_time()
    result = action()
    return time.process_time() - begin, result


def peer_answer(peer, engine):
    """(SciPy's answer, where from, how its start is called): the cold start, else the first disturbance of the engine's answer that does."""
    for name, guess in [("cold", peer.cold_start()), *((f"5 % off, {seed}", peer.disturbed(engine, seed)) for seed in range(1, 20))]:
        found = peer.solve(guess)
        if np.max(np.abs(found.fun)) < SOLVED:
            return found, guess, name
    raise SystemExit("SciPy found nothing")


class Case:
    """One case before its three solvers."""

    def __init__(self, circuit, name, count):
        self.circuit, self.name, self.count = circuit, name, count
        self.solution = circuit.solve(name)
        self.peer = OilPeer(circuit, name)
        self.engine = self.peer.of_engine(self.solution)
        self.scipy, self.guess, self.start = peer_answer(self.peer, self.engine)
        sump = {name: self.solution.temperature_of("sump")}
        self.rows = {(what, air): circuit.rows([name], count // 2, None if what == "found" else sump, air_moves=air == "moved")
                     for what in ("found", "given") for air in ("kept", "moved")}
        self.times = {way: [] for way in (*self.rows, "scipy")}
        self.evaluations = {}

    def turn(self):
        """(a) and (b) once each with either kind of rows, and (c); per solve."""
        for way, (indices, rows) in self.rows.items():
            self.circuit.plan.follows_heat = way[0] == "found"
            spent, report = seconds(lambda i=indices, r=rows: self.circuit.plan.solve_each(i, r, "cold"))
            if not all(report["converged"]):
                raise SystemExit(f"{self.name}: {report['message']}")
            self.times[way].append(spent / len(rows))
            self.evaluations[way[0]] = statistics.median(report["evaluations"])
        self.circuit.plan.follows_heat = True
        self.times["scipy"].append(seconds(lambda: self.peer.solve(self.guess))[0])

    def times_line(self):
        middle = {way: statistics.median(samples) * 1e6 for way, samples in self.times.items()}
        line = f"{self.name:12}"
        for air in ("kept", "moved"):
            a, b = self.times["found", air], self.times["given", air]
            line += f"{middle['found', air]:8.0f}{middle['given', air]:8.0f}{statistics.median(x / y for x, y in zip(a, b)):9.2f}"
        line += f"{middle['scipy']:10.0f}{middle['scipy'] / middle['found', 'kept']:9.0f}   "
        return line + (f"{self.evaluations['found']:.0f}, {self.evaluations['given']:.0f}, {self.scipy.nfev} and {self.scipy.njev} Jacobians; "
                       f"{self.start}")

    def differences_line(self):
        """Of the peer from the engine."""
        off = self.peer.differences(self.scipy.x, self.engine)
        return f"{self.name:12}" + "".join(f"{off[key]:12.1e}" for key in ("pressure", "flow", "place", "mean"))


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--turns", type=int, default=15)
    parser.add_argument("--count", type=int, default=100, help="rows of the engine in a turn")
    chosen = parser.parse_args()
    circuit = OilCircuit()
    cases = [Case(circuit, name, chosen.count) for name in CASES]
    for _ in range(chosen.turns):
        for case in cases:
            case.turn()
    print(f"processor: {processor()}, Python {platform.python_version()}; {len(circuit.parts)} parts, {len(circuit.free)} free places, "
          f"{cases[0].peer.count} unknowns of the peer; {chosen.turns} turns of {chosen.count} rows")
    print(f"{'':12}{'speed moves':>25}{'speed and air move':>25}")
    print(f"{'':12}" + 2 * f"{'(a) µs':>8}{'(b) µs':>8}{'(a)/(b)':>9}" + f"{'(c) µs':>10}{'(c)/(a)':>9}   evaluations (a), (b), (c); start of (c)")
    for case in cases:
        print(case.times_line())
    print(f"largest difference of (c) from (a)\n{'':12}{'pressure':>12}{'flow':>12}{'place K':>12}{'mean K':>12}")
    for case in cases:
        print(case.differences_line())
    return 0


if __name__ == "__main__":
    sys.exit(main())
