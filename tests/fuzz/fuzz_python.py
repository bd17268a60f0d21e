"""One Python target under atheris, which steers by coverage: ``python tests/fuzz/fuzz_python.py TARGET --seconds 60 --seed 1 --folder DIR``.

Inputs are changed by the fuzzer's own means, and half of the time as texts (`mutation.py`). New inputs and what broke a target go into the folder.
The last line says how many were run; exit code 3: atheris is not installed.
"""

import argparse
import random
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))

try:
    import atheris
except ImportError:
    print("atheris is not installed: pip install 'flarenut[fuzz]'")
    sys.exit(3)

with atheris.instrument_imports(include=["flarenut", "tomllib"]):
    from mutation import mutated
    from seeds import seeds
    from targets import TARGETS


def main():
    words = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    words.add_argument("target", choices=TARGETS)
    words.add_argument("--seconds", type=int, default=60)
    words.add_argument("--seed", type=int, default=1)
    words.add_argument("--folder", type=Path, required=True)
    chosen = words.parse_args()
    target, begin, rng = TARGETS[chosen.target], seeds(chosen.target), random.Random(chosen.seed)
    kept = chosen.folder / chosen.target
    kept.mkdir(parents=True, exist_ok=True)
    for number, data in enumerate(begin):
        (kept / f"seed{number:03d}").write_bytes(data)

    def changed(data, most, _):
        made = mutated(bytes(data), rng, begin) if rng.random() < 0.5 else atheris.Mutate(data, max(len(data), 1))
        return made[:most]

    atheris.Setup([sys.argv[0], f"-max_total_time={chosen.seconds}", f"-seed={chosen.seed}", "-timeout=60", "-report_slow_units=60", "-rss_limit_mb=3000", "-max_len=20000",
                   f"-artifact_prefix={chosen.folder}/{chosen.target}-", "-print_final_stats=1", str(kept)], lambda data: target(data) and None,
                  custom_mutator=changed)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
