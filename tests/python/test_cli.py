"""The command line: what it prints, writes and returns; and that no end of it is a traceback."""

import json
import os
import re
import signal
import subprocess
import sys
from importlib.resources import files
from pathlib import Path

import flarenut as fn
import pytest
from flarenut.cli import main
from test_bad_input import GOOD

EXAMPLES = Path(__file__).resolve().parents[2] / "docs" / "guide" / "examples"
DEMO = files("flarenut").joinpath("demo", "return_style_e85.toml")


@pytest.fixture
def wagon(tmp_path):
    """Writes a circuit file and returns its name."""
    def write(text=GOOD):
        path = tmp_path / "wagon.toml"
        path.write_text(text, encoding="utf-8")
        return str(path)

    return write


def run(capsys, *words):
    """Exit code, standard output, standard error."""
    code = main([str(word) for word in words])
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return code, out, err


def process(*words, **keywords):
    return subprocess.Popen([sys.executable, "-m", "flarenut", *map(str, words)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, **keywords)


# ---- solve ----

def test_solve_prints_the_cases_side_by_side(capsys, wagon):
    code, out, err = run(capsys, "solve", wagon(GOOD + '\n[case."full power"]\nduty = "80 %"\nmanifold = "0 psi"\n'))
    assert (code, err) == (0, "")
    heading = next(line for line in out.splitlines() if "idle" in line)
    assert heading.split() == ["idle", "full", "power"]
    for word in ("rail pressure", "pressure across injectors", "return back-pressure", "pump flow", "suction margin", "regulator", "Cautions"):
        assert word in out, word


def test_units_come_from_the_option_then_the_file_then_us(capsys, wagon):
    assert "rail pressure [psig]" in run(capsys, "solve", wagon())[1]
    assert "rail pressure [psig]" in run(capsys, "solve", wagon(GOOD.replace('units = "us"', "")))[1]
    assert "rail pressure [barg]" in run(capsys, "solve", wagon(GOOD.replace('units = "us"', 'units = "metric"')))[1]
    assert "rail pressure [barg]" in run(capsys, "solve", wagon(), "--units", "metric")[1]
    assert "rail pressure [psig]" in run(capsys, "solve", wagon(GOOD.replace('units = "us"', 'units = "metric"')), "--units", "us")[1]


def test_json_is_one_strict_object_in_si_and_agrees_with_python(capsys, wagon):
    path = wagon()
    code, out, err = run(capsys, "solve", path, "--json")
    assert (code, err) == (0, "")

    def no_constant(name):
        raise AssertionError(f"{name} is not JSON")

    answer = json.loads(out, parse_constant=no_constant)
    assert answer == json.loads(fn.load(path).solve().to_json())


def test_only_the_cases_asked_for(capsys, wagon):
    path = wagon(GOOD + '\n[case."full power"]\nduty = "80 %"\n[case.cruise]\nduty = "20 %"\n')
    out = run(capsys, "solve", path, "--case", "Full Power", "--case", "cruise")[1]
    heading = next(line for line in out.splitlines() if "cruise" in line)
    assert heading.split() == ["full", "power", "cruise"]
    code, out, err = run(capsys, "solve", path, "--case", "idel")
    assert (code, out) == (2, "")
    assert "no case 'idel': did you mean 'idle'?" in err


def test_a_file_from_standard_input(wagon):
    for text, code, told in ((GOOD, 0, ""), (GOOD.replace('"8 in"', '"8 inc"'), 2, "standard input:7:9")):
        solving = process("solve", "-", stdin=subprocess.PIPE)
        out, err = solving.communicate(text, timeout=60)
        assert solving.returncode == code
        assert told in err and "Traceback" not in err
        assert ("rail pressure" in out) == (code == 0)


def test_a_wrong_file_ends_with_2_and_says_everything_on_standard_error(capsys, wagon):
    code, out, err = run(capsys, "solve", wagon(GOOD.replace('"8 in"', '"8 inc"').replace('lenght', 'x').replace('"11 ft"', '"11 fet"')), "--json")
    assert (code, out) == (2, "")
    assert "wagon.toml:7:9: tank 'cell': 'level' is '8 inc': unknown unit 'inc'" in err
    assert "wagon.toml:19:" in err and err.count("cure:") == 2


def test_an_ill_posed_circuit_ends_with_1_and_the_cause(capsys, wagon):
    text = GOOD.replace('name = "return"\nfrom = "rail"\nto = "cell"', 'name = "return"\nfrom = "loop a"\nto = "loop b"')
    text = text.replace('reference = "manifold"', 'reference = "ambient"') + '[junction."loop a"]\n[junction."loop b"]\n'
    code, out, err = run(capsys, "solve", wagon(text))
    assert (code, out) == (1, "")
    assert "no path to a fixed pressure" in err and "loop" in err


def test_a_missing_tank_and_an_idle_place_are_bad_input(capsys, wagon):
    for old, new, told in (('[tank.cell]\nlevel = "8 in"', "", "is [tank.cell] missing?"), ("[junction.rail]", "[junction.rial]", "did you mean 'rail'?")):
        code, out, err = run(capsys, "solve", wagon(GOOD.replace(old, new)))
        assert (code, out) == (2, "") and told in err


def test_a_picture(capsys, wagon, tmp_path):
    pytest.importorskip("matplotlib")
    picture = tmp_path / "ladder.png"
    code, out, _ = run(capsys, "solve", wagon(), "--plot", picture)
    assert code == 0 and f"pressure ladder written to {picture}" in out
    assert picture.read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"
    code, out, err = run(capsys, "solve", wagon(), "--json", "--plot", picture)
    assert code == 0 and json.loads(out) and "written to" in err
    for wrong, told in ((tmp_path / "none" / "a.png", "there is no folder"), (tmp_path / "a.bmp", "end it in .png"), (tmp_path, "not the name of a picture")):
        code, out, err = run(capsys, "solve", wagon(), "--plot", wrong)
        assert (code, out) == (2, "") and told in err


def test_a_case_without_a_solution_ends_with_1_and_its_cause(capsys):
    """A stand-in for the answer: the engine is not made to fail here."""
    from types import SimpleNamespace

    from flarenut.cli.solve import code_of, write_ladder

    lost = {"idle": SimpleNamespace(name="idle", converged=False, cause_in=lambda units: "worst at 'rail'", turn_round=("", ""))}
    assert code_of(lost, "wagon.toml", "us") == 1
    assert "wagon.toml: case 'idle' is not solved: worst at 'rail'" in capsys.readouterr().err
    alike = lost | {"hot": SimpleNamespace(name="hot", converged=False, cause_in=lambda units: "worst at 'rail'", turn_round=("", ""))}
    assert code_of(alike, "wagon.toml", "us") == 1
    assert capsys.readouterr().err == "wagon.toml: cases 'idle', 'hot' are not solved: worst at 'rail'\n"  # once
    write_ladder(lost, "none.png", "us", sys.stdout)
    assert "no picture" in capsys.readouterr().err and not Path("none.png").exists()


HOT = """
[circuit]
name = "short of a cooler (invented)"
invented = true
units = "metric"
fluid = "SAE 10W-40"
[tank.sump]
level = "5 in"
temperature = "found"
heat_loss = "10 W/K"
heat = "200 kW"
[[run]]
name = "round"
from = "sump"
to = "gallery"
parts = [{part = "displacement_pump", displacement = "5 cc/rev", speed = "1000 rpm", name = "pump"}, {part = "tube", bore = "12 mm", length = "2 m"}]
[[run]]
name = "back"
from = "gallery"
to = "sump"
parts = [{part = "tube", bore = "12 mm", length = "2 m"}]
[case.idle]
air_temperature = "20 C"
"""


@pytest.mark.parametrize("words, told, other", [((), "160 C", "320 F"), (("--units", "us"), "320 F", "160 C"), (("--units", "metric"), "160 C", "320 F")])
@pytest.mark.parametrize("more", [(), ("--json",)])
def test_a_cause_on_standard_error_is_told_in_the_units_asked_for(capsys, wagon, words, told, other, more):
    """SAE 10W-40 is known up to 160 C, 320 F; the file says metric."""
    code, _, err = run(capsys, "solve", wagon(HOT), *words, *more)
    assert code == 1 and told in err and other not in err


def test_a_stop_finding_ends_with_3_where_that_is_asked_for(capsys, wagon):
    """Gasoline at 66 C (150 F) boils in an open tank: its vapour pressure is above the 101 kPa that stand on it."""
    hot = wagon(GOOD.replace("volts = 13.5", 'volts = 13.5\nfluid_temperature = "66 C"'))
    code, out, err = run(capsys, "solve", hot)
    assert code == 0 and "STOP: cell" in out and err == ""
    code, out, err = run(capsys, "solve", hot, "--fail-on-stop")
    assert code == 3 and "STOP: cell" in out and "STOP findings stand: cell, idle" in err
    assert run(capsys, "solve", wagon(), "--fail-on-stop")[0] == 0


# ---- demo and examples ----

def test_the_demo_shows_what_it_promises(capsys, tmp_path):
    pytest.importorskip("matplotlib")
    code, out, err = run(capsys, "demo", "--out", tmp_path / "new")
    assert (code, err) == (0, "")
    for word in ("invented", "idle", "full power", "hot restart", "rail pressure", "pressure across injectors", "return back-pressure", "pump flow",
                 "suction margin", "regulator", "What to look at", "Cautions"):
        assert word in out, word
    picture = tmp_path / "new" / "flarenut-pressure-ladder.png"
    assert picture.stat().st_size > 10_000 and str(picture) in out
    copy = tmp_path / "new" / DEMO.name
    assert copy.read_text(encoding="utf-8") == DEMO.read_text(encoding="utf-8")
    copy.write_text("mine", encoding="utf-8")
    run(capsys, "demo", "--out", tmp_path / "new", "--units", "metric")
    assert copy.read_text(encoding="utf-8") == "mine"


def test_the_demo_leaves_only_its_picture_where_no_folder_is_named(capsys, tmp_path, monkeypatch):
    pytest.importorskip("matplotlib")
    monkeypatch.chdir(tmp_path)
    assert run(capsys, "demo")[0] == 0
    assert [path.name for path in tmp_path.iterdir()] == ["flarenut-pressure-ladder.png"]


def test_the_demo_in_numbers():
    """The regulator holds its set pressure above the manifold at idle: set 43.5 psi, the pump's surplus opens it a little further."""
    answer = fn.load(str(DEMO)).solve()
    assert answer.converged
    for case in ("idle", "full power", "hot restart"):
        across = answer.part("injector bank", case).drop.to("psi")
        assert 42.0 < across < 52.0, case
        taken = answer.part("injector bank", case).mass_flow.si
        pumped = answer.part("pump", case).mass_flow.si
        returned = answer.part("regulator", case).mass_flow.si
        assert pumped == pytest.approx(taken + returned, rel=1e-9)
    assert answer.part("pump", "idle").flow.si > answer.part("pump", "full power").flow.si  # boost: more pressure, less flow
    assert answer.part("pump", "hot restart").flow.si < answer.part("pump", "idle").flow.si  # fewer volts


def test_the_demo_says_that_it_is_invented():
    assert "INVENTED" in DEMO.read_text(encoding="utf-8")
    assert fn.load(str(DEMO)).invented


@pytest.mark.parametrize("name", ["carburettor.toml", "oil_cooler.toml", "coolant.toml"])
def test_the_examples_solve(capsys, name):
    path = EXAMPLES / name
    assert "INVENTED" in path.read_text(encoding="utf-8")
    code, out, err = run(capsys, "solve", path)
    assert (code, err) == (0, ""), out
    assert "invented" in out


def test_the_carburettor_example_holds_its_regulator():
    """Dead-head: what the bowl takes is what the pump gives, and with no flow the regulator locks up at its setting, 5.5 psi."""
    answer = fn.load(str(EXAMPLES / "carburettor.toml")).solve()
    for case, demand in (("idle", "0.4 gph"), ("full throttle", "9 gph")):
        wanted = fn.units.parse(demand, "volume_flow") * fn.fluid("gasoline class A").at("15 C").density.si
        assert answer.part("pump", case).mass_flow.si == pytest.approx(wanted, rel=1e-6)
    assert 4.5 < answer.part("regulator", "idle").outlet.gauge.to("psi") < 5.6


def test_the_oil_example_bypasses_only_when_cold():
    answer = fn.load(str(EXAMPLES / "oil_cooler.toml")).solve()
    assert "bypass" in str(answer.part("oil filter", "cold start").regime)
    assert "bypass" not in str(answer.part("oil filter", "hot idle").regime)
    cold, hot = answer.part("cooler", "cold start"), answer.part("cooler", "hot idle")
    assert cold.drop.si / cold.flow.si > 5 * hot.drop.si / hot.flow.si  # 10 C against 110 C: thick oil in a laminar core


def test_the_coolant_example_is_held_by_its_thermostat_and_draws_no_warning():
    answer = fn.load(str(EXAMPLES / "coolant.toml")).solve()
    assert [answer.part("thermostat", case).regime for case in answer] == ["regulating", "regulating", "wide open"]
    assert 82 < answer["motorway"].at("engine out").temperature.to("C") < 95 < answer["climb on a hot day"].at("engine out").temperature.to("C") < 105
    assert {one.severity for one in answer.findings} == {"note"}


# ---- words ----

def test_parts_lists_every_part_and_heading(capsys):
    from flarenut.circuit.file.sections import headings, part_words

    code, out, _ = run(capsys, "parts")
    assert code == 0
    for word in (*part_words(), *headings()):
        line = next(line for line in out.splitlines() if line.split()[:1] == [word])
        assert len(line.split()) > 2, f"{word} is not described"


def test_parts_of_one_word_lists_its_keys(capsys):
    from flarenut.circuit.file.sections import headings, part_words
    from flarenut.circuit.file.words import keys_of

    for word, function in {**part_words(), **{word: function for word, (function, _) in headings().items()}}.items():
        code, out, _ = run(capsys, "parts", word)
        assert code == 0
        listed = [line.split()[0] for line in out.splitlines() if line.startswith("  ") and line.split()]
        hidden = {"name"} if f"[{word}.NAME]" in out else set()
        for key in keys_of(function):
            assert key in listed or key in hidden, (word, key)
    assert "length" in run(capsys, "parts", "hose")[1]
    code, out, err = run(capsys, "parts", "hoose")
    assert (code, out) == (2, "") and "did you mean 'hose'?" in err


def test_parts_speaks_of_files_and_answers_by_itself(capsys):
    from flarenut.circuit.file.sections import headings, part_words

    for word in (*part_words(), *headings()):
        out = run(capsys, "parts", word)[1]
        assert "see `" not in out and "flarenut." not in out and "True" not in out and "False" not in out, word
        assert all(line.count("default") <= 1 for line in out.splitlines()), word
    assert re.search(r'units +"us" or "metric", in which answers, findings, studies and pictures of it are shown', run(capsys, "parts", "circuit")[1])
    assert "at the battery end of its wiring" in run(capsys, "parts", "formula_pump")[1]


def test_the_examples_of_conditions_are_taken(capsys, wagon):
    """Every value that `flarenut parts case` shows is put into a case and solved."""
    from flarenut.circuit.cases import WORDS
    from flarenut.cli.parts import CONDITIONS

    assert set(CONDITIONS) == set(WORDS)
    out = run(capsys, "parts", "case")[1]
    turned = '[[run]]\nname = "scavenge"\nfrom = "cell"\nto = "rail"\nparts = [{part = "displacement_pump", displacement = "1 cc/rev", speed = "300 rpm"}]\n'
    cooler = ('[[run]]\nname = "cooling"\nfrom = "rail"\nto = "cell"\nparts = [{part = "cooler", heat = "10 W/K at 2 gpm", rated_air = "95 F at 10 mph", '
              'face = ["6 in", "8 in"], drop = "2 psi at 2 gpm"}, {part = "orifice", bore = "0.5 mm"}]\n')
    cooled = GOOD.replace('[tank.cell]\n', '[tank.cell]\nheat_share = "0.1 %"\n') + cooler
    for word, (_, examples) in CONDITIONS.items():
        for example in examples.split(" or "):
            assert example in next(line for line in out.splitlines() if line.split()[:1] == [word])
            beside = "".join(f"{one} = {CONDITIONS[one][1]}\n" for one in ("power", "specific_consumption")
                             if one != word and word in ("power", "specific_consumption"))
            text = (cooled if word in ("vehicle_speed", "fan", "engine_power") else GOOD) + turned + f"[case.tried]\n{word} = {example}\n{beside}"
            code, _, err = run(capsys, "solve", wagon(text), "--case", "tried")
            assert code == 0, (word, example, err)


@pytest.mark.parametrize(("words", "told"), [
    ([], "usage: flarenut"), (["slove", "x"], "slove"), (["solve"], "FILE.toml"), (["solve", "x.toml", "--jsno"], "did you mean '--json'?"),
    (["solve", "x.toml", "--units", "imperial"], "imperial"), (["demo", "extra"], "extra"), (["solve", "nothing.toml"], "there is no such file"),
    (["solve", "."], "is a folder"), (["solve", "a\0b"], "cannot be read"), (["demo", "--out", __file__], "is not a folder"),
])
def test_wrong_words_end_with_2(capsys, words, told):
    code, out, err = run(capsys, *words)
    assert (code, out) == (2, "")
    assert told in err


def test_version_and_help(capsys):
    assert run(capsys, "--version")[:2] == (0, f"flarenut {fn.__version__}\n")
    code, out, _ = run(capsys, "solve", "--help")
    assert code == 0 and "--plot" in out and "exit codes" in out


# ---- ends ----

def test_asking_for_the_version_loads_nothing_heavy():
    loaded = subprocess.run([sys.executable, "-c", "import sys; from flarenut.cli import main; main(['--version']); print(*sys.modules)"],
                            check=True, capture_output=True, text=True).stdout.split()
    assert not {"numpy", "matplotlib", "rich", "flarenut._core", "flarenut.circuit"} & set(loaded)


@pytest.mark.skipif(os.name != "posix", reason="pipes and signals of this kind are POSIX")
def test_a_closed_pipe_is_quiet(wagon):
    reader, writer = os.pipe()
    os.close(reader)
    try:
        ended = subprocess.run([sys.executable, "-m", "flarenut", "solve", wagon()], stdout=writer, stderr=subprocess.PIPE, text=True, timeout=60)
    finally:
        os.close(writer)
    assert (ended.returncode, ended.stderr) == (141, "")


@pytest.mark.skipif(os.name != "posix", reason="pipes and signals of this kind are POSIX")
def test_ctrl_c_ends_with_130():
    # Waits for its input. A parent that ignores the signal, as a shell's background job does, would hand that down.
    waiting = process("solve", "-", stdin=subprocess.PIPE, preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler))
    waiting.stdin.write("#\n" * 100_000)  # more than a pipe holds: it comes back when the program reads
    waiting.stdin.flush()
    waiting.send_signal(signal.SIGINT)
    out, err = waiting.communicate(timeout=30)
    assert (waiting.returncode, out) == (130, "")
    assert "stopped" in err and "Traceback" not in err


def test_a_demand_that_cannot_be_met_exits_1_in_words(capsys, wagon):
    path = wagon(GOOD + '\n[junction."far end"]\ndemand = "9000 gph"\n[[run]]\nname = "spur"\nfrom = "rail"\nto = "far end"\n'
                 'parts = [{part = "hose", bore = "4 mm", length = "9 ft"}]\n')
    code, out, err = run(capsys, "solve", path)
    assert code == 1
    assert "below absolute zero" in err and "'far end' cannot be met" in err
    assert "psia" not in err and "Traceback" not in err


def test_a_fault_of_ours_is_told_as_one(capsys, wagon, monkeypatch):
    from flarenut.cli import solve

    def fall(*_):
        raise ZeroDivisionError("oops")

    monkeypatch.delenv("FLARENUT_TRACEBACK", raising=False)
    monkeypatch.setattr(solve, "read_file", fall)
    code, out, err = run(capsys, "solve", wagon())
    assert (code, out) == (70, "")
    assert "fault of the program" in err and "ZeroDivisionError" in err
    monkeypatch.setenv("FLARENUT_TRACEBACK", "1")
    with pytest.raises(ZeroDivisionError):
        main(["solve", wagon()])


@pytest.mark.skipif(os.name != "posix" or not hasattr(os, "geteuid"), reason="needs /dev/full")
def test_a_full_disk_is_told():
    if not Path("/dev/full").exists():
        pytest.skip("no /dev/full here")
    with open("/dev/full", "w", encoding="utf-8") as full:
        ended = subprocess.run([sys.executable, "-m", "flarenut", "parts"], stdout=full, stderr=subprocess.PIPE, text=True, timeout=60,
                               env={key: value for key, value in os.environ.items() if key != "PYTHONUNBUFFERED"})
    assert ended.returncode == 2 and "cannot write" in ended.stderr and "Traceback" not in ended.stderr


def test_a_terminal_without_degree_signs_still_prints(wagon):
    path = wagon(GOOD.replace("test car", "test car 20 °C"))
    ended = subprocess.run([sys.executable, "-m", "flarenut", "solve", path], capture_output=True, timeout=60,
                           env={**os.environ, "PYTHONIOENCODING": "ascii"})
    assert ended.returncode == 0 and b"rail pressure" in ended.stdout
