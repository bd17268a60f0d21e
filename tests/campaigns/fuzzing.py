"""Running the fuzz targets: the C++ ones with libFuzzer, the Python ones with atheris, and all Python ones plainly, by seed, without either."""

import random
import re
import shutil
import signal
import subprocess
import sys
import time
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
FUZZ = ROOT / "tests" / "fuzz"
CPP_TARGETS = ("network", "batch")
COMPILERS = ("clang++", "clang++-19", "clang++-16")  # from Debian; clang 14 ends with a fault of its own on the lanes
SLOWEST = 60  # s that one input may take


class Outcome(NamedTuple):
    """What became of a target: inputs run, what they came to, and what broke it. `skipped` says why it was not run."""

    target: str
    inputs: int = 0
    coverage: int = 0
    results: dict = {}
    breaches: tuple = ()
    skipped: str = ""


class TooSlow(Exception):
    """An input took too long."""


@contextmanager
def watched(seconds):
    """Ends what takes longer, where the system can."""
    def ring(*_):
        raise TooSlow(f"took more than {seconds} s")

    if not hasattr(signal, "SIGALRM"):
        yield
        return
    before = signal.signal(signal.SIGALRM, ring)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def plainly(target, count, seed):
    """So many inputs of a Python target: the seeds, then seeds with changes. The same seed, the same inputs."""
    sys.path.insert(0, str(FUZZ))
    from mutation import mutated
    from seeds import seeds
    from targets import TARGETS

    begin, rng, results, breaches = seeds(target), random.Random(f"{target} {seed}"), {}, []
    for number in range(count):
        data = begin[number] if number < len(begin) else mutated(rng.choice(begin), rng, begin)
        try:
            with watched(SLOWEST):
                result = TARGETS[target](data)
        except (Exception, SystemExit) as breach:
            result = "broken"
            breaches.append((data, f"{type(breach).__name__}: {breach}"))
        results[result] = results.get(result, 0) + 1
    return Outcome(target, count, 0, results, tuple(breaches))


def with_atheris(target, seconds, seed, folder):
    """A Python target steered by coverage; skipped where atheris is not installed."""
    before = _artefacts(target, folder)
    done = _run([sys.executable, FUZZ / "fuzz_python.py", target, "--seconds", seconds, "--seed", seed, "--folder", folder], seconds)
    if done.returncode == 3:
        return Outcome(target, skipped=done.stdout.strip())
    return _told(target, done, _artefacts(target, folder) - before)


def with_libfuzzer(target, seconds, seed, folder, build):
    """A C++ target under libFuzzer with the sanitizers of address and undefined behaviour; `build` is where it was built."""
    corpus, kept = folder / target, FUZZ / "corpus" / target
    corpus.mkdir(parents=True, exist_ok=True)
    before = _artefacts(target, folder)
    done = _run([build / f"fuzz_{target}", f"-max_total_time={seconds}", f"-seed={seed}", f"-timeout={SLOWEST}", f"-report_slow_units={SLOWEST}", "-rss_limit_mb=3000", "-max_len=2048",
                 "-len_control=10", "-print_final_stats=1", f"-artifact_prefix={folder}/{target}-", corpus, *([kept] if kept.is_dir() else [])], seconds)
    return _told(target, done, _artefacts(target, folder) - before)


def build_cpp(folder):
    """Builds the C++ targets with clang; returns the folder, or why it cannot be."""
    compiler = next((found for word in COMPILERS if (found := shutil.which(word)) and _makes_fuzzers(found)), None)
    if compiler is None or not shutil.which("cmake") or not shutil.which("ninja"):
        return "clang with libFuzzer, from 16 on, cmake and ninja are needed: apt-get install clang-19 libclang-rt-19-dev cmake ninja-build"
    settings = ["-DFLARENUT_BUILD_FUZZERS=ON", f"-DCMAKE_CXX_COMPILER={compiler}", "-DCMAKE_BUILD_TYPE=RelWithDebInfo", "-DCMAKE_CXX_FLAGS=-Wno-sign-conversion",
                "-DCMAKE_CXX_FLAGS_RELWITHDEBINFO=-O1 -g1"]
    subprocess.run(["cmake", "-S", ROOT, "-B", folder, "-G", "Ninja", *settings], check=True, stdout=subprocess.DEVNULL)
    subprocess.run(["cmake", "--build", folder, "--parallel", "2", "--target", *(f"fuzz_{one}" for one in CPP_TARGETS)], check=True, stdout=subprocess.DEVNULL)
    return folder


def _makes_fuzzers(compiler):
    version = subprocess.run([compiler, "-dumpversion"], capture_output=True, text=True).stdout
    program = "extern \"C\" int LLVMFuzzerTestOneInput(const unsigned char*, unsigned long) { return 0; }"
    made = subprocess.run([compiler, "-fsanitize=fuzzer,address", "-x", "c++", "-", "-o", "/dev/null"], input=program, capture_output=True, text=True)
    return version.split(".")[0].isdigit() and int(version.split(".")[0]) >= 16 and made.returncode == 0


def _run(command, seconds):
    return subprocess.run([str(word) for word in command], capture_output=True, text=True, errors="replace", timeout=10 * seconds + 600)


def _artefacts(target, folder):
    """Inputs that broke it, this time or before."""
    return {path.name for path in folder.glob(f"{target}-*")}


def _told(target, done, kept):
    """An `Outcome` out of what a fuzzer printed, and the inputs that it kept."""
    words = done.stdout + done.stderr
    coverage = [int(one) for one in re.findall(r"cov: (\d+)", words)]
    inputs = [int(one) for one in re.findall(r"stat::number_of_executed_units: (\d+)|Done (\d+) runs", words) for one in one if one]
    broken = re.findall(r"ERROR: .*|a promise is broken: .*|runtime error: .*|Uncaught Python exception: .*|AssertionError.*", words)
    breaches = tuple((name, "; ".join(broken[:3])) for name in sorted(kept)) or ((("", words[-500:]),) if done.returncode else ())
    return Outcome(target, inputs[-1] if inputs else 0, max(coverage, default=0), {}, breaches)


def seconds_since(begin):
    return time.monotonic() - begin
