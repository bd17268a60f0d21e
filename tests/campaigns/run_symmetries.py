"""Symmetries of random circuits: names, order, units, direction, pieces and datum do not matter; slopes are those of differences.

    python tests/campaigns/run_symmetries.py --form short|medium|long [--seed N] [--processes 2] [--record]
"""

import sys
import time
from typing import NamedTuple

import records
from symmetries import ONE_WAY, SAME, gradients
from workers import run, stopped_note, words_of_command

FORMS = {"short": 60, "medium": 2_000, "long": 20_000}
BOUND, SLOPE = 1e-9, 1e-4
CHECKS = {**SAME, **ONE_WAY, "gradient against differences": gradients}


class Outcome(NamedTuple):
    seed: int
    found: dict  # check -> worst difference, None, or what it raised


def examine(seed):
    found = {}
    for name, check in CHECKS.items():
        try:
            found[name] = check(seed)
        except Exception as error:  # the campaign goes on, and counts it
            found[name] = f"{type(error).__name__}: {error}"[:300]
    return Outcome(seed, found)


def bound_of(name):
    return SLOPE if name.startswith("gradient") else BOUND


def campaign(count, seed, processes, told=sys.stderr):
    """({check: (done, worst)}, failures as (seed, check, what), circuits looked at, whether it came to its end)."""
    done, worst, failures, examined, last = dict.fromkeys(CHECKS, 0), dict.fromkeys(CHECKS, 0.0), [], [0], [time.monotonic()]

    def each(came):
        examined[0] += 1
        if not isinstance(came, Outcome):
            failures.append((came[1], "all", came[0]))
            return
        for name, found in came.found.items():
            if found is None:
                continue
            done[name] += 1
            if isinstance(found, str) or not found <= bound_of(name):
                failures.append((came.seed, name, found))
                print(f"seed {came.seed}: {name}: {found}", file=told)
            else:
                worst[name] = max(worst[name], found)
        if time.monotonic() - last[0] > 10:
            last[0] = time.monotonic()
            print(f"{examined[0]} of {count} circuits; {len(failures) or 'no'} checks failed so far", file=told)

    whole = run(examine, seed, count, processes, each)
    return {name: (done[name], worst[name]) for name in CHECKS}, failures, examined[0], whole


def main():
    chosen = words_of_command(__doc__.splitlines()[0], FORMS)
    begin = time.perf_counter()
    table, failures, examined, whole = campaign(chosen.count, chosen.seed, chosen.processes)
    counts = {}
    for name, (done, worst) in table.items():
        missed = sum(check == name for _, check, _ in failures)
        print(f"{name:32}{done:>8} circuits, worst{' excess' if name not in SAME else ''} {worst:.1e}, bound {bound_of(name):.0e}, {missed} failed")
        counts |= {f"{name}, circuits": done, f"{name}, worst": worst}
    counts["failures"] = len(failures)
    kept = None
    if chosen.record and examined:
        kept = records.write(records.record("symmetries", "Symmetries, monotone sense and gradients of random circuits", chosen.form, chosen.command,
                                            time.perf_counter() - begin, counts, [] if whole else [stopped_note(examined, chosen.count)]))
    print(records.verdict(f"random circuits, each by up to {len(CHECKS)} checks,", examined, len({seed for seed, _, _ in failures}), kept, chosen.count))
    return 1 if failures or not whole else 0


if __name__ == "__main__":
    sys.exit(main())
