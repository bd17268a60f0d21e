"""The fuzzing campaign: ``python tests/campaigns/run_fuzz.py --form short|medium|long [--seed N] [--only python|cpp] [--record] [--folder DIR]``.

short: every Python target plainly, by seed. medium: ten minutes for each language, steered by coverage. long: an hour for each.
Ctrl-C and a polite kill stop it, and what was done so far is recorded. What broke a target lies in the folder; its smallest case belongs into tests/fuzz/corpus and into a test.
"""

import argparse
import signal
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "fuzz"))

import fuzzing
import records

PLAIN = {"circuit_file": 400, "command": 250, "units_text": 3000, "price_file": 1500, "shop_table": 1500, "kept_sweep": 1500, "engine": 1500}
LANGUAGES = {"python": "Python", "cpp": "C++"}
MINUTES = {"short": 0, "medium": 10, "long": 60}


def main():
    words = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    words.add_argument("--form", choices=MINUTES, default="short")
    words.add_argument("--seed", type=int, default=1)
    words.add_argument("--only", choices=("python", "cpp"), help="one of the two languages")
    words.add_argument("--record", action="store_true")
    words.add_argument("--folder", type=Path, default=fuzzing.ROOT / ".build" / "fuzz")
    chosen = words.parse_args()
    begin, found, notes = time.monotonic(), [], []
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    try:
        for outcome in outcomes(chosen):
            found.append(outcome)
            print(line(outcome), file=sys.stderr, flush=True)
    except KeyboardInterrupt:
        print("stopped; what was done so far:", file=sys.stderr)
        notes.append("stopped before its end")
    counts = {"inputs": sum(one.inputs for one in found), "targets run": sum(not one.skipped for one in found),
              "targets skipped": sum(bool(one.skipped) for one in found), "broken promises": sum(len(one.breaches) for one in found)}
    print(", ".join(f"{name}: {count}" for name, count in counts.items()))
    kept = None
    if chosen.record:
        command = f"python tests/campaigns/run_fuzz.py --form {chosen.form} --seed {chosen.seed}" + (f" --only {chosen.only}" if chosen.only else "")
        name, title = ("fuzz_" + chosen.only, f" of {LANGUAGES[chosen.only]} alone") if chosen.only else ("fuzz", "")
        kept = records.write(records.record(name, "Hostile input, by fuzzing" + title, chosen.form, command, fuzzing.seconds_since(begin), counts, [*(line(one) for one in found), *notes]))
    print(records.verdict("inputs", counts["inputs"], counts["broken promises"], kept) + ("; stopped before its end" if notes else ""))
    return 1 if counts["broken promises"] else 0


def outcomes(chosen):
    """One `Outcome` after the other."""
    python, cpp = chosen.only != "cpp", chosen.only != "python"
    for target, count in PLAIN.items() if python else ():
        yield fuzzing.plainly(target, count, chosen.seed)
    seconds = 60 * MINUTES[chosen.form]
    if not seconds:
        return
    chosen.folder.mkdir(parents=True, exist_ok=True)
    for target in PLAIN if python else ():
        yield fuzzing.with_atheris(target, seconds // len(PLAIN), chosen.seed, chosen.folder)
    build = fuzzing.build_cpp(chosen.folder / "clang") if cpp else ""
    for target in fuzzing.CPP_TARGETS if cpp else ():
        if isinstance(build, str):
            yield fuzzing.Outcome(target, skipped=build)
        else:
            yield fuzzing.with_libfuzzer(target, seconds // len(fuzzing.CPP_TARGETS), chosen.seed, chosen.folder, build)


def line(outcome):
    """An outcome in words."""
    if outcome.skipped:
        return f"{outcome.target}: skipped: {outcome.skipped}"
    came_to = ", ".join(f"{count} {word}" for word, count in sorted(outcome.results.items()))
    steered = f", coverage {outcome.coverage}" if outcome.coverage else ""
    broken = "".join(f"\n  BROKEN {data!r:.200}: {words}" for data, words in outcome.breaches[:5])
    return f"{outcome.target}: {outcome.inputs} inputs{f' ({came_to})' if came_to else ''}{steered}, {len(outcome.breaches)} broken promises{broken}"


if __name__ == "__main__":
    sys.exit(main())
