"""Random circuits: every one is solved with its certificate, or says in words why not; planted faults are told by their right name.

    python tests/campaigns/run_random_circuits.py --form short|medium|long [--seed N] [--processes 2] [--record]
"""

import sys
import time

import records
from random_circuits import Outcome, Tally, examine
from workers import run, stopped_note, words_of_command

FORMS = {"short": 600, "medium": 24_000, "long": 200_000}


def campaign(count, seed, processes, told=sys.stderr):
    """The `Tally` of a run, and whether it came to its end."""
    tally, last = Tally(), [time.monotonic()]

    def each(came):
        outcome = came if isinstance(came, Outcome) else Outcome(came[1], "sound", came[0])
        tally.add(outcome)
        if outcome in tally.failures[-1:]:
            print(f"seed {outcome.seed}, {outcome.what}: {outcome.became}: {outcome.detail}", file=told)
        if time.monotonic() - last[0] > 10:
            last[0] = time.monotonic()
            print(progress(tally, count), file=told)

    return tally, run(examine, seed, count, processes, each)


def progress(tally, count):
    """How far a run has come, in words."""
    became = ", ".join(f"{many} {what}" for what, many in tally.outcomes.most_common())
    return f"{tally.total} of {count} circuits: {became}; {len(tally.failures) or 'none'} failed so far"


def main():
    chosen = words_of_command(__doc__.splitlines()[0], FORMS)
    begin = time.perf_counter()
    tally, whole = campaign(chosen.count, chosen.seed, chosen.processes)
    seconds = time.perf_counter() - begin
    for name, count in tally.counts().items():
        print(f"{name:40}{count:>12.4g}" if isinstance(count, float) else f"{name:40}{count:>12}")
    for kind, count in sorted(tally.planted.items()):
        missed = sum(one.what == kind for one in tally.failures)
        print(f"  planted: {kind:31}{count:>12}" + (f"   {missed} not told rightly" if missed else ""))
    kept = None
    if chosen.record and tally.total:
        notes = [] if whole else [stopped_note(tally.total, chosen.count)]
        title, name = "Random circuits and planted faults", "random_circuits"
        if chosen.form != "long":  # kept beside that
            title, name = f"{title}, a shorter run of later", f"{name}_since"
        kept = records.write(records.record(name, title, chosen.form, chosen.command, seconds, tally.counts(), notes))
    print(records.verdict("random circuits", tally.total, len(tally.failures), kept, chosen.count))
    return 1 if tally.failures or not whole else 0


if __name__ == "__main__":
    sys.exit(main())
