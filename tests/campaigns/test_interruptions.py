"""What is stopped in the middle: a full disk, a worker that dies, Ctrl-C, two who write the same file. No half-written file passes as whole."""

import multiprocessing
import os
import resource
import signal
import subprocess
import sys
import time
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "python"))

import flarenut as fn
from flarenut.results.whole_file import whole_file, write_whole
from sweep_example import small_car

pytest.importorskip("xarray", reason="sweeps answer with xarray")
pytestmark = pytest.mark.filterwarnings("ignore::flarenut.studies.SweepWarning")
SMALL = {"volts": [12.0, 13.0], "return hose.size": ["-4", "-6"]}


def writers():
    """name of a file -> what writes it, for everything of the package that writes one."""
    car = small_car()
    rows = fn.sweep(car, SMALL)
    bill = fn.bill(car)
    return {"sweep.csv": lambda path: fn.save_sweep(rows, path), "sweep.nc": lambda path: fn.save_sweep(rows, path),
            "sheet.html": fn.build_sheet(car).save, "drawing.svg": fn.schematic(car).save, "bill.csv": bill.to_csv, "cuts.csv": bill.cuts.to_csv,
            "sizes.csv": fn.line_sizes(car, "return hose").to_csv, "compared.csv": fn.compare({"as it is": car, "again": car.copy()}, at="rail", sump="cell").to_csv}


def full_disk(write, path, largest):
    """`write(path)` in a child that may write no file larger than so many bytes; its exit code: 0 written, 1 refused, else killed or strange."""
    child = os.fork()
    if child == 0:
        code = 3
        try:
            sys.stderr = open(os.devnull, "w")
            os.dup2(sys.stderr.fileno(), 2)
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (largest, largest))
            write(path)
            code = 0
        except (OSError, RuntimeError):
            code = 1
        finally:
            os._exit(code)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


@pytest.mark.skipif(not hasattr(os, "fork"), reason="limits of a child process are set with fork")
@pytest.mark.filterwarnings("ignore:.*fork:DeprecationWarning")
def test_a_disk_that_is_full_leaves_the_file_that_was_there_and_nothing_else(tmp_path):
    ends = {}
    for name, write in writers().items():
        path = tmp_path / name
        write(path)
        before, whole = path.read_bytes(), path.stat().st_size
        ends[name] = full_disk(write, path, whole // 2)
        assert path.read_bytes() == before, name
        path.unlink()
        full_disk(write, path, whole // 2)
        assert list(tmp_path.iterdir()) == [], name
    assert set(ends.values()) == {1} and len(ends) == 8, ends


def test_a_writer_that_is_stopped_in_the_middle_leaves_the_file_that_was_there(tmp_path):
    path = tmp_path / "answer.csv"
    write_whole(path, "before\n")
    with pytest.raises(KeyboardInterrupt), whole_file(path) as part:
        part.write_text("half of")
        raise KeyboardInterrupt
    assert path.read_text() == "before\n" and list(tmp_path.iterdir()) == [path]


def test_a_link_and_the_rights_of_a_file_outlive_its_new_content(tmp_path):
    path, link = tmp_path / "answer.csv", tmp_path / "latest.csv"
    write_whole(path, "one")
    path.chmod(0o640)
    link.symlink_to(path)
    write_whole(link, "two")
    assert link.is_symlink() and path.read_text() == "two" and path.stat().st_mode & 0o777 == 0o640
    write_whole(os.devnull, "to nobody")
    assert not Path(os.devnull).is_file()


WRITE_OVER_AND_OVER = """
import sys, time
from flarenut.results.whole_file import write_whole
letter, path, end = sys.argv[1], sys.argv[2], time.monotonic() + 1.5
while time.monotonic() < end:
    write_whole(path, letter * 200_000)
"""


def test_two_who_write_the_same_file_never_mix(tmp_path):
    path = tmp_path / "same.csv"
    both = [subprocess.Popen([sys.executable, "-c", WRITE_OVER_AND_OVER, letter, str(path)]) for letter in "ab"]
    seen, looks = set(), 0
    while any(one.poll() is None for one in both):
        if path.exists():
            text = path.read_text()
            seen.add((len(text), "".join(sorted(set(text)))))
            looks += 1
        time.sleep(0.002)
    assert all(one.returncode == 0 for one in both) and looks > 10
    assert seen <= {(200_000, "a"), (200_000, "b")} and seen
    assert [one.name for one in tmp_path.iterdir()] == ["same.csv"]


@pytest.mark.parametrize("name", ["kept.csv", "kept.nc"])
def test_a_kept_sweep_that_is_cut_short_is_not_loaded(name, tmp_path):
    if name.endswith(".nc"):
        pytest.importorskip("h5netcdf")
    path = tmp_path / name
    fn.save_sweep(fn.sweep(small_car(), SMALL), path)
    data = path.read_bytes()
    for share in (0.0, 0.1, 0.5, 0.9, 0.999):
        path.write_bytes(data[:int(len(data) * share)])
        with pytest.raises(fn.CircuitError, match="save_sweep"):
            fn.load_sweep(path)


def stop_self(*arguments):
    os.kill(os.getpid(), signal.SIGKILL)


def test_a_worker_that_is_killed_ends_the_sweep_with_an_error_and_no_answer(monkeypatch):
    with ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("spawn")) as pool:
        pool.submit(int).result()
        broken = pool.submit(stop_self)
        with pytest.raises(BrokenProcessPool):
            broken.result()
        with pytest.raises((BrokenProcessPool, fn.CircuitError, RuntimeError)):
            fn.sweep(small_car(), SMALL, executor=pool)


SOLVE_FOR_LONG = """
import sys
import flarenut as fn
from flarenut.cli import main
print("ready", flush=True)
sys.exit(main(sys.argv[1:]))
"""
MANY = '\n[sweep.many]\nvary."return hose.length" = {from = "1 ft", to = "30 ft", step = "0.01 ft"}\nvary.volts = {from = 11, to = 14, step = 0.01}\n'


def stopped(words, after):
    """The command, stopped with Ctrl-C so many seconds after it began: exit code, output, messages."""
    child = subprocess.Popen([sys.executable, "-c", SOLVE_FOR_LONG, *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    child.stdout.readline()
    time.sleep(after)
    child.send_signal(signal.SIGINT)
    out, err = child.communicate(timeout=120)
    return child.returncode, out, err


def test_ctrl_c_ends_a_sweep_of_the_command_with_what_was_solved_or_nothing(tmp_path):
    car = tmp_path / "car.toml"
    demo = Path(fn.__file__).parent / "demo" / "return_style_e85.toml"
    car.write_text(demo.read_text(encoding="utf-8") + MANY, encoding="utf-8")
    kept = tmp_path / "rows.csv"
    code, _, err = stopped(["sweep", str(car), "--only", "many", "--threads", "1", "--out", str(kept)], 4.0)
    assert code == 130 and "Traceback" not in err, err
    left = [one.name for one in tmp_path.iterdir() if one.name not in ("car.toml", "rows.csv")]
    assert left == []
    if kept.exists():  # it was far enough for rows to keep
        assert fn.load_sweep(kept).sizes


def test_ctrl_c_ends_a_solve_without_a_traceback(tmp_path):
    car = tmp_path / "car.toml"
    demo = Path(fn.__file__).parent / "demo" / "return_style_e85.toml"
    cases = "".join(f"\n[case.number{one}]\nvolts = 13.5\n" for one in range(3000))
    car.write_text(demo.read_text(encoding="utf-8") + cases, encoding="utf-8")
    code, out, err = stopped(["solve", str(car)], 2.0)
    assert code == 130 and out == "" and err.strip() == "flarenut: stopped"
