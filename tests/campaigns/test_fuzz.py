"""The short form of fuzzing: kept and changed inputs, by seed; steered by coverage for a few seconds where the tools are there."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parent))
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "fuzz"))

import cpp_build
import fuzzing
from conftest import lack
from targets import TARGETS

COUNTS = {"circuit_file": 40, "command": 25, "units_text": 600, "price_file": 300, "shop_table": 300, "kept_sweep": 300, "engine": 400}
REACHED = {"circuit_file": {"refused", "solved"}, "command": {"code 0", "code 2"}, "units_text": {"done"}, "price_file": {"refused", "read"},
           "shop_table": {"refused", "used"}, "kept_sweep": {"refused", "loaded"}, "engine": {"refused", "used"}}
pytestmark = pytest.mark.filterwarnings("ignore")  # of numbers beyond reading, which the inputs are full of


@pytest.mark.parametrize("target", COUNTS)
def test_nothing_breaks_a_target(target):
    found = fuzzing.plainly(target, COUNTS[target], seed=1)
    assert found.breaches == ()
    assert REACHED[target] <= set(found.results), "the inputs no longer come to what they are to show"


@pytest.mark.parametrize("target", fuzzing.CPP_TARGETS)
def test_kept_inputs_replay_in_cpp(target, pytestconfig):
    try:
        program = cpp_build.build_replay(target)
    except cpp_build.ToolMissing as trouble:
        lack(pytestconfig, str(trouble))
    kept = sorted((fuzzing.FUZZ / "corpus" / target).iterdir())
    done = cpp_build.run([program, *kept])
    assert done.returncode == 0, done.stderr[-2000:]
    assert done.stdout == f"replayed {len(kept)}\n" and len(kept) >= 8


def test_every_target_is_run():
    assert set(COUNTS) == set(TARGETS) == set(REACHED)


def test_a_breach_is_seen(monkeypatch):
    def broken(data):
        raise KeyError("a fault of the program")

    monkeypatch.setitem(TARGETS, "units_text", broken)
    assert len(fuzzing.plainly("units_text", 3, seed=1).breaches) == 3


def test_atheris_finds_nothing_in_a_few_seconds(tmp_path):
    found = fuzzing.with_atheris("circuit_file", 10, 1, tmp_path)
    if found.skipped:
        pytest.skip(found.skipped)
    assert found.inputs > 0 and found.breaches == ()
