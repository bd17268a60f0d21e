"""Files that mean harm or are merely broken: a clear error or an answer, within bounded memory and time."""

import os
import resource
import subprocess
import sys
from pathlib import Path

import pytest

import flarenut as fn
from flarenut import _core, catalog
from flarenut.catalog.shop_tables import ShopTableError
from flarenut.circuit.file import FileError, read
from flarenut.hardware.prices import prices

DEMO = (Path(fn.__file__).parent / "demo" / "return_style_e85.toml").read_text(encoding="utf-8")
MEMORY, SECONDS = 2 << 30, 120  # a child that wants more is ended
LINE = '[circuit]\nname = "bench (invented)"\nfluid = "water"\n[tank.drum]\nlevel = "1 m"\n[[run]]\nname = "line"\nfrom = "drum"\nto = "ambient"\nparts = [%s]\n'
HOSE = '{part = "hose", bore = "10 mm", length = "1 m"}'


def told(words, folder, *, files=()):
    """The command in a child with little memory and time: exit code, output, messages."""
    for name, data in files:
        (folder / name).write_bytes(data)

    def limits():
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))

    done = subprocess.run([sys.executable, "-m", "flarenut", *words], cwd=folder, capture_output=True, text=True, errors="replace", timeout=SECONDS,
                          preexec_fn=limits, env={**os.environ, "OPENBLAS_NUM_THREADS": "1"})
    assert "Traceback" not in done.stderr, done.stderr[-2000:]
    return done.returncode, done.stdout, done.stderr


DEEP = b"a = " + b"[" * 100_000
HUGE_INTEGER = b"[circuit]\nname = 'x'\nfluid = 'water'\nlevel = " + b"9" * 5000
WRONG = {
    "100 MB": (b"# nothing\n" * 10_500_000, "larger than 2 MB"), "nested": (DEEP, "nested too deeply"), "empty": (b"", "heading [circuit] is missing"),
    "tables in tables": (b"[" + b".".join([b"a"] * 50_000) + b"]\nx = 1\n", "nested too deeply"),
    "tables in tables, and a slip": (b"[" + b".".join([b"a"] * 50_000) + b"]\nx = \n", "is not TOML"), "huge integer": (HUGE_INTEGER, "cannot be read"),
    "surrogate": (b'name = "\xed\xa0\x80"', "not UTF-8"), "escaped surrogate": (b'name = "\\ud800"', "is not TOML"), "zero bytes": (b"\0" * 1000, "is not TOML"),
    "sixteen bits": ("[circuit]".encode("utf-16"), "not UTF-8"), "key twice": (DEMO.replace("fluid =", 'fluid = "E85"\nfluid =', 1).encode(), "given twice"),
    "escape for a terminal": (LINE.replace("bench", "\\u001b[31mbench").replace("%s", HOSE).encode(), "invisible letter U+001B"),
    "direction turned": (LINE.replace("line", "\\u202eenil").replace("%s", HOSE).encode(), "invisible letter U+202E"),
}


@pytest.mark.parametrize("case", WRONG)
def test_a_broken_file_is_refused_in_words(case, tmp_path):
    data, words = WRONG[case]
    code, _, err = told(["solve", "car.toml"], tmp_path, files=[("car.toml", data)])
    assert code == 2 and words in err and "\x1b" not in err and len(err) < 20_000, (code, err[:500])


def test_what_is_no_file_is_refused_in_words(tmp_path):
    code, _, err = told(["solve", "."], tmp_path)
    assert code == 2 and "is a folder" in err
    (tmp_path / "loop.toml").symlink_to("loop.toml")
    assert told(["solve", "loop.toml"], tmp_path)[0] == 2
    code, _, err = told(["solve", "/dev/zero"], tmp_path)
    assert code == 2 and "larger than" in err


@pytest.mark.skipif(os.geteuid() == 0, reason="root reads every file")
def test_an_unreadable_file_is_refused_in_words(tmp_path):
    (tmp_path / "car.toml").write_bytes(DEMO.encode())
    (tmp_path / "car.toml").chmod(0)
    code, _, err = told(["solve", "car.toml"], tmp_path)
    assert code == 2 and "cannot be read" in err


NUMBERS = ("nan", "inf", "-inf", "1e999", '"nan m"', '"inf m"', '"1e308 km"', '"1e-320 mm"', '"-1 m"', "5e-324", "99999999999999999999", "true", "[]", "{}", '""',
           '"0 m"', '"1e5 m"', '"\u0661 m"', "1979-05-27")


@pytest.mark.parametrize("number", NUMBERS)
def test_an_absurd_number_is_refused_at_its_place_or_solved(number):
    text = LINE.replace("%s", '{part = "hose", bore = "10 mm", length = ' + number + "}")
    try:
        answer = read(text, "bench.toml").circuit.solve()
    except FileError as error:
        assert error.problems[0].span.line == 10 and "length" in str(error)
        return
    except ValueError as error:
        assert "length" in str(error), error
        return
    assert all(case.converged or case.cause for case in answer.values())
    assert number in ('"0 m"', '"1e5 m"', '"\u0661 m"', '"1e-320 mm"')


def test_letters_of_every_script_may_stand_in_names():
    text = LINE.replace("line", "\u05e7\u05d5 \u0635\u0641 \u7ba1").replace("%s", HOSE)
    assert "\u05e7\u05d5" in read(text, "bench.toml").circuit.solve().table("us").text()


def test_a_circuit_of_very_many_parts_is_too_large_a_file_and_solved_as_rows(tmp_path):
    many = LINE.replace("%s", ",\n".join([HOSE] * 1_000_000)).encode()
    code, _, err = told(["solve", "many.toml"], tmp_path, files=[("many.toml", many)])
    assert code == 2 and "larger than 2 MB" in err
    network = _core.Network()
    with pytest.raises(ValueError, match="at most 100000000"):
        network.junctions("corner", 2**31 - 1)


# ---- paths ----

def outside(tmp_path):
    inner = tmp_path / "inner"
    inner.mkdir()
    (tmp_path / "secret.csv").write_text("standard,dash,bore_mm\nshop hose,6,8.7\n")
    (tmp_path / "secret.toml").write_text(LINE.replace("%s", HOSE))
    return inner


PATHS = ("../secret", "/etc/passwd", "inner/../../secret", "..", ".", "", "..\\secret", "link", "sec\\u0000ret", "~/secret", "file:///etc/passwd", "/dev/zero", "folder")


@pytest.mark.parametrize("name", PATHS)
@pytest.mark.parametrize("kind", ["table", "circuit"])
def test_a_file_that_a_file_names_lies_beside_it(kind, name, tmp_path):
    inner, ending = outside(tmp_path), ".csv" if kind == "table" else ".toml"
    (inner / f"link{ending}").symlink_to(tmp_path / f"secret{ending}")
    (inner / f"folder{ending}").mkdir()
    written = f"{name}{ending}" if name not in ("..", ".", "", "/etc/passwd", "/dev/zero", "file:///etc/passwd") else name
    text = LINE.replace("%s", HOSE).replace("[tank", f'tables = ["{written}"]\n[tank', 1) if kind == "table" else \
        f'[vehicle]\nname = "van (invented)"\n[circuit.one]\nfile = "{written}"\n'
    path = inner / "car.toml"
    path.write_text(text.replace("\\s", "\\\\s"))
    try:
        with pytest.raises(FileError) as caught:
            fn.load(path)
    finally:
        catalog.forget()
    assert "8.7" not in str(caught.value) and "root:" not in str(caught.value)


# ---- tables ----

@pytest.mark.parametrize("data", [b"[" * 100_000, b"x = " + b"[" * 100_000, b"x = " + b"9" * 5000, b"d = 2001-02-30", b"\xff\xfe", b"#" * 3_000_000, b"",
                                  b"[[hose]]\nstandard = {a = 1}\ndash = 6\nbore_mm = {a = 1}\n", b"[[hose]]\nstandard = 'x'\ndash = 6\nbore_mm = " + b"9" * 400,
                                  b"[[hose]]\nstandard = \"x\\u001b[31m\"\ndash = 6\nbore_mm = 8\n"])
@pytest.mark.parametrize("ending", ["toml", "csv"])
def test_a_broken_table_of_the_shop_is_refused_in_words(data, ending, tmp_path):
    path = tmp_path / f"shop.{ending}"
    path.write_bytes(data)
    with pytest.raises(ShopTableError) as caught:
        catalog.use(path)
    assert caught.value.problems and "\x1b" not in str(caught.value)


def test_a_cell_without_end_is_refused_in_words(tmp_path):
    path = tmp_path / "shop.csv"
    path.write_text('standard,dash,bore_mm\n"' + "x" * 200_000 + '",6,8.7\n')
    with pytest.raises(ShopTableError, match="cannot be read"):
        catalog.use(path)


@pytest.mark.parametrize("data", [b"item,price\nhose\x1b[31m,1\n", b"[" * 100_000, b"", b"\xff", b"item,price\n" + b"x,1e999\n", b"item,price\nx,nan\n", b"=1+1,2\n"])
@pytest.mark.parametrize("ending", ["toml", "csv"])
def test_a_broken_price_file_is_refused_in_words(data, ending, tmp_path):
    path = tmp_path / f"prices.{ending}"
    path.write_bytes(data)
    with pytest.raises(FileError) as caught:
        prices(path)
    assert "\x1b" not in str(caught.value)


# ---- what leaves ----

EVIL = '<script>alert(1)</script>"\'&]]>'


def evil_car():
    car = fn.Circuit(EVIL, fluid="water")
    car.tank("drum" + EVIL, level="1 m")
    car.run(EVIL, "drum" + EVIL, "ambient", [fn.hose("-8", "3 m", spec="ptfe", name="=cmd|' /C calc'!A0" + EVIL)])
    car.case("@" + EVIL)
    return car


def test_names_stay_text_in_pages_drawings_and_notebooks():
    car = evil_car()
    answer = car.solve()
    shown = [fn.build_sheet(car).html, fn.schematic(car, answer).svg, answer.table("us").html(), fn.bill(car).html("us"), fn.audit(car).listing("us").html(),
             answer._repr_html_()]
    assert all("<script" not in page and "alert(1)" in page for page in shown)


def test_no_cell_of_a_table_is_a_formula(tmp_path):
    car = evil_car()
    fn.bill(car).to_csv(tmp_path / "bill.csv")
    fn.bill(car).cuts.to_csv(tmp_path / "cuts.csv")
    (tmp_path / "audit.csv").write_text(fn.audit(car).listing("us").csv())
    fn.save_sweep(fn.sweep(car, {"drum" + EVIL + ".level": {"=1+1": "1 m", "-2+3": "2 m", "-8 high": "3 m"}}), tmp_path / "rows.csv")
    import csv

    found = [cell for path in sorted(tmp_path.glob("*.csv")) for row in csv.reader(path.read_text(encoding="utf-8").splitlines()) for cell in row]
    assert not [cell for cell in found if cell[:1] in ("=", "@")] and "'=1+1" in found and "'-2+3" in found and "-8 high" in found
    assert any(cell.startswith("'=cmd") for cell in found)


# ---- the engine's own doors ----

def small_plan():
    network = _core.Network()
    network.liquid(fn.fluid("water").liquid)
    air, tank = network.fixed("air"), network.tank("tank", level=1.0)
    network.part("line", "line", [tank, air], [], {"bore": 0.01, "length": 1.0})
    return _core.Plan(network)


def test_heat_beside_rows_is_refused_and_reads_no_memory_of_others():
    """Found by fuzzing: places of tanks beside rows are not their indices."""
    network = _core.Network()
    network.liquid(fn.fluid("water").liquid)
    corners = network.junctions("corner", 5)
    tank = network.tank("tank", level=1.0)
    for door in (lambda: network.let_mix(tank), lambda: network.drain(tank, corners[0]), lambda: network.put_heat_at(corners[3], 1.0)):
        with pytest.raises(ValueError, match="network of rows"):
            door()


@pytest.mark.parametrize("flow", [-1, 1, 2, 1000, 2**31 - 1])
def test_a_slope_of_a_flow_that_there_is_not_is_refused(flow):
    plan = small_plan()
    with pytest.raises(ValueError, match="has no such internal flow"):
        plan.gradient("flow", "line", flow)


@pytest.mark.parametrize("number", [-1, 10**6, 2**31 - 1])
def test_a_number_that_there_is_not_is_refused(number):
    plan = small_plan()
    for door in (lambda: plan.get(number), lambda: plan.set(number, 1.0), lambda: plan.solve_each([number], [[1.0]]), lambda: plan.last_pressure(number),
                 lambda: plan.batch([number], [[1.0]], [("total", 0, 0)]), lambda: plan.batch([0], [[1.0]], [("total", number, 0)])):
        with pytest.raises((ValueError, IndexError)):
            door()
