"""[drive.NAME] of circuit files: read, refused with line and cure, known to `parts` and `schema`."""

import re
from importlib.resources import files
from pathlib import Path

import flarenut as fn
import pytest
from flarenut.circuit.file import FileError, read
from flarenut.cli import main
from flarenut.cli.parts import DRIVE_EXAMPLE
from flarenut.cli.schema import as_schema

PLAIN = files("flarenut").joinpath("demo", "oil_cooler_six.toml").read_text(encoding="utf-8")
ENGINE = PLAIN.replace('heat_share = "5 %"', 'heat_capacity = "16 kJ/K"\nheat_share = "5 %"', 1)
DRIVE = '\n[drive.morning]\ncases = [["1 min", "cold start"], ["4 min", "hot idle"]]\n'


def refusals(text):
    with pytest.raises(FileError) as caught:
        read(ENGINE + text, "engine.toml")
    return caught.value.problems


def test_a_drive_is_read_and_a_solve_passes_it_by():
    made = read(ENGINE + DRIVE + 'every = "5 s"\nmarks = "80 C"\n').drives["morning"]
    assert made.cases == [["1 min", "cold start"], ["4 min", "hot idle"]] and made.every == "5 s" and made.start is None
    assert read(ENGINE).drives == {} and list(read(ENGINE + DRIVE).circuit.cases) == list(read(ENGINE).circuit.cases)


@pytest.mark.parametrize("old, new, path, told", [
    ('"cold start"]', '"cold strat"]', ("cases", 0, 1), "did you mean 'cold start'?"),
    ('"1 min", "cold start"', '"cold start", "1 min"', ("cases", 0), "exchange them"),
    ('"1 min"', '"1 metre"', ("cases", 0, 0), "metre"),
    ('["1 min", "cold start"], ', '["1 min"], ', ("cases", 0), "write how long and which case"),
    ('[["1 min", "cold start"], ["4 min", "hot idle"]]', '["1 min", "cold start"]', ("cases",), "brackets of its own"),
    ('[["1 min", "cold start"], ["4 min", "hot idle"]]', '"cold start"', ("cases",), "write how long and which case"),
    ('"hot idle"]', "7]", ("cases", 1, 1), "name a case, or write conditions"),
    ("cases =", "case =", ("case",), "did you mean 'cases'?"),
    ("\ncases", '\nevery = "soon"\ncases', ("every",), "soon"),
    ("\ncases", '\nstart = "10 bar"\ncases', ("start",), "bar"),
    ("\ncases", '\nmarks = ["80 C", "hot"]\ncases', ("marks", 1), "hot"),
    ("\ncases", "\noutputs = 3\ncases", ("outputs",), "write a list in quotes"),
    ("\ncases", '\ntimes = ["5 psi"]\ncases', ("times", 0), "psi"),
])
def test_what_is_wrong_is_told_with_its_line_and_a_cure(old, new, path, told):
    problems = refusals(DRIVE.replace(old, new, 1))
    assert [problem.path for problem in problems] == [("drive", "morning", *path)]
    assert told in f"{problems[0].reason} {problems[0].hint}" and problems[0].hint
    assert problems[0].span.line > len(ENGINE.splitlines()) and "drive 'morning'" in problems[0].place


def test_all_that_is_wrong_is_told_together():
    problems = refusals(DRIVE.replace('"cold start"', '"cold"').replace('"4 min"', '"4 psi"') + 'evry = "3 s"\n')
    assert [problem.path[2:] for problem in problems] == [("cases", 0, 1), ("cases", 1, 0), ("evry",)]


@pytest.mark.parametrize("text, told", [("[drive]\nevery = '3 s'\n", "[drive.main]"), ("[[drive]]\nevery = '3 s'\n", "[drive.main]"),
                                        ("[drives.x]\n", "did you mean 'drive'?"), ("[drive.x]\n", "the key 'cases' is missing")])
def test_a_wrong_heading_is_told_the_right_one(text, told):
    assert any(told in f"{problem.reason} {problem.hint}" for problem in refusals("\n" + text))


def test_conditions_may_stand_in_place_of_a_case():
    rows = [("1 min", "cold start"), ("2 min", {"speed": "2000 rpm", "engine_power": "12 kW", "vehicle_speed": "12 m/s"})]
    engine, named = read(ENGINE).circuit, read(ENGINE).circuit
    named.case("town", **rows[1][1])
    drive, same = fn.over_time(engine, rows), fn.over_time(named, [rows[0], ("2 min", "town")])
    assert drive.legs[1].case == "row 2" and "row 2" not in engine.cases
    assert drive.temperature("sump").si.tolist() == same.temperature("sump").si.tolist()
    with pytest.raises(fn.CircuitError, match="spede"):
        fn.over_time(engine, [("1 min", {"spede": "2000 rpm"})])


def test_the_words_of_drives_are_listed_and_their_examples_taken(capsys):
    assert main(["parts", "drive"]) == 0
    told = capsys.readouterr().out
    assert all(word in told for word in ("[drive.NAME]", "cases", "every", "start", "times", "outputs", "marks")) and DRIVE_EXAMPLE.splitlines()[0] in told
    schema = as_schema()["properties"]["drive"]["additionalProperties"]
    assert schema["required"] == ["cases"] and schema["additionalProperties"] is False
    guide = (Path(__file__).resolve().parents[2] / "docs" / "guide" / "circuit_files.md").read_text(encoding="utf-8")
    blocks = [block for block in re.findall(r"```text\n(.*?)```", guide, re.DOTALL) if block.startswith("[drive.")]
    assert len(blocks) == 1
    for block in (*blocks, DRIVE_EXAMPLE):
        assert read(ENGINE + "\n" + block).drives
