"""Importing is light: nothing heavy comes in that a solve does not need. Times are printed, not judged."""

import statistics
import subprocess
import sys

import pytest

HEAVY = ("pint", "matplotlib", "scipy", "pandas", "astropy", "unyt", "rich", "hypothesis", "casadi")
CODE = {
    "the front door": "import flarenut",
    "circuits": "import flarenut, flarenut.circuit",
    "a solve": """
import flarenut as fn
car = fn.Circuit("car", fluid="E85")
car.tank("cell", level="8 in")
car.run("line", "cell", "ambient", [fn.hose("-8", "11 ft", spec="ptfe")])
assert car.solve().converged
""",
}


def run(code, *options):
    return subprocess.run([sys.executable, *options, "-c", code], capture_output=True, text=True, check=True)


@pytest.mark.parametrize("what", CODE)
def test_nothing_heavy_is_imported(what):
    shown = run(CODE[what] + "\nimport sys; print(' '.join(sorted({name.partition('.')[0] for name in sys.modules})))").stdout.split()
    assert "flarenut" in shown and not set(HEAVY) & set(shown)


def test_the_front_door_leaves_the_engine_and_numpy_for_later():
    shown = run("import flarenut, sys; print(' '.join(sys.modules))").stdout.split()
    assert "flarenut._core" not in shown and "numpy" not in shown


def test_every_name_of_the_front_door_is_there():
    import flarenut

    for name in dir(flarenut):
        assert getattr(flarenut, name) is not None
    with pytest.raises(AttributeError, match="no attribute 'hoes'"):
        flarenut.hoes


def test_time_to_import_is_printed(capsys):
    times = []
    for _ in range(3):
        told = run(CODE["circuits"], "-X", "importtime").stderr
        rows = [line.split("|") for line in told.splitlines() if line.count("|") == 2]
        times.append(sum(int(row[1]) for row in rows if row[2].strip() in ("flarenut", "flarenut.circuit") and row[2].startswith(" flarenut")))
    assert all(times)
    with capsys.disabled():
        print(f"\nimport of flarenut and flarenut.circuit: {statistics.median(times) / 1000:.0f} ms, median of {len(times)}")
