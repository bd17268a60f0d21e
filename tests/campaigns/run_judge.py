"""The independent judge: random circuits solved by the engine and by SciPy on equations written out by another hand.

    python tests/campaigns/run_judge.py --form short|medium|long [--seed 0] [--record]

short: 60 circuits, as in the suite; medium: 600; long: 2,000. Ctrl-C prints what was done so far.
"""

import argparse
import sys
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))

from judge_compare import judge  # noqa: E402
from random_plumbing import random_plumbing  # noqa: E402
from records import record, verdict, write  # noqa: E402

FORMS = {"short": 60, "medium": 600, "long": 2000}  # circuits
FAILED = ("differs", "engine refused, judge found a root")  # where both are roots, or the judge finds none, nobody is shown to be wrong


class Tally:
    """Outcomes of both judges, with the worst difference of those that agree and every verdict that does not."""

    def __init__(self):
        self.counts, self.worst, self.told, self.ways = Counter(), {}, [], Counter()

    def add(self, judge_name, verdict):
        self.counts[f"{judge_name}: {verdict.outcome}"] += 1
        if verdict.how:
            self.ways[verdict.how] += 1
        if verdict.outcome.startswith("agrees"):
            self.worst[judge_name] = max(self.worst.get(judge_name, (0.0, 0, "")), (verdict.worst, verdict.seed, verdict.where))
        elif not verdict.outcome.startswith("not asked"):
            self.told.append((judge_name, verdict))


def run(circuits, seed, tally, judged=judge, draw=random_plumbing, progress=lambda done: None):
    """Judges circuits one after the other; `progress` is told after each."""
    for number in range(circuits):
        pages, library = judged(draw(seed + number))
        tally.add("pages' laws", pages)
        if library is not None:
            tally.add("library's laws", library)
        progress(number + 1)
    return tally


def report(tally, file=sys.stdout):
    for name in sorted(tally.counts):
        print(f"{tally.counts[name]:6d}  {name}", file=file)
    for name, (worst, seed, where) in tally.worst.items():
        print(f"worst of {name}: {worst:.2e} at {where!r}, seed {seed}", file=file)
    print("ways to a root: " + ", ".join(f"{how} {count}" for how, count in tally.ways.most_common()), file=file)
    for name, verdict in tally.told:
        print(f"  {name}, seed {verdict.seed}: {verdict.outcome} {verdict.worst:.2e} {verdict.where[:160]}", file=file)


def main(name="judge", title="Independent judge: the same circuits by another hand", told=__doc__, forms=FORMS, judged=judge, draw=random_plumbing):
    """The command line of this campaign, and of run_judge_heat."""
    parser = argparse.ArgumentParser(description=told, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--form", choices=forms, default="medium")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--record", action="store_true")
    said = parser.parse_args()
    circuits = forms[said.form]
    tally, begin, done = Tally(), time.perf_counter(), 0

    def progress(number):
        nonlocal done
        done = number
        if number % 50 == 0:
            print(f"{number} of {circuits} circuits, {time.perf_counter() - begin:.0f} s", file=sys.stderr)

    try:
        run(circuits, said.seed, tally, judged, draw, progress)
    except KeyboardInterrupt:
        print(f"stopped after {done} circuits", file=sys.stderr)
    report(tally)
    kept = None
    if said.record and done == circuits:
        notes = [f"Largest difference of {laws}: {worst:.1e}." for laws, (worst, _, _) in tally.worst.items()]
        notes += [f"Seed {verdict.seed}, {laws}: {verdict.outcome}." for laws, verdict in tally.told
                  if verdict.outcome.startswith(("differs", "judge found nothing"))]
        command = f"python tests/campaigns/run_{name}.py --form {said.form} --seed {said.seed}"
        kept = write(record(name, title, said.form, command, time.perf_counter() - begin,
                            {"circuits": done, **dict(sorted(tally.counts.items()))}, notes))
    print(verdict("circuits by another hand", done, len({one.seed for _, one in tally.told if one.outcome in FAILED}), kept, circuits))


if __name__ == "__main__":
    main()
