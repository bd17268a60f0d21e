"""Random scenarios on the 29-branch circuit: does every one converge, and if not, does it say why?

    python tests/benchmarks/robustness.py [--count 20000] [--seed 1]

Ordinary ranges, the same with every bore from 4 to 16 mm and filters loaded 1 to 5 times, and the file's extreme ranges;
each from a cold start, warm from another random scenario's answer, and from all pressures at zero.
"""

import argparse
import sys
from collections import Counter

from fuel29 import Numbers, engine_plan, random_rows

STARTS = ("cold", "warm", "zero")
RANGES = {"ordinary": (False, False), "ordinary, all bores and filters": (True, False), "extreme": (False, True)}


def run(ranges, start, count, seed):
    """The certificate of every scenario, as `solve_each` reports it."""
    everything, extreme = RANGES[ranges]
    plan = engine_plan()
    numbers = Numbers(plan, everything)
    return plan.solve_each(numbers.indices, random_rows(numbers, count, extreme, seed), start)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--count", type=int, default=20000)
    parser.add_argument("--seed", type=int, default=1)
    chosen = parser.parse_args()
    print(f"{chosen.count} scenarios each, seed {chosen.seed}")
    print(f"{'ranges':34}{'start':7}{'failures':>9}{'evaluations':>12}{'mass closure':>14}  rungs")
    worst = 0
    for ranges in RANGES:
        for start in STARTS:
            report = run(ranges, start, chosen.count, chosen.seed)
            failures = [m for ok, m in zip(report["converged"], report["message"]) if not ok]
            closure = max(m for ok, m in zip(report["converged"], report["mass_closure"]) if ok)
            rungs = ", ".join(f"{rung} {count}" for rung, count in Counter(report["rung"]).most_common())
            mean = sum(report["evaluations"]) / chosen.count
            print(f"{ranges:34}{start:7}{len(failures):9}{mean:12.2f}{closure:14.1e}  {rungs}")
            for message in failures[:10]:
                print(f"    {message}")
            worst = max(worst, len(failures) if ranges != "extreme" else 0)
    return 1 if worst else 0


if __name__ == "__main__":
    sys.exit(main())
