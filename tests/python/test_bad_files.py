"""What a wrong file is told beyond the fault itself: what is asked about, slips that come together, cures that can be copied, files that cannot be read."""

import ast
import re
from pathlib import Path

import flarenut as fn
import pytest
from flarenut.catalog import tube_words
from flarenut.circuit.file import FileError, read, trade
from flarenut.units import parse
from file_example import GOOD, refused


def test_a_closed_end_is_asked_about_unless_a_heading_says_it():
    spur = '[[run]]\nname = "spur"\nfrom = "rail"\nto = "gauge line"\nparts = [{part = "hose", bore = "3 mm", length = "2 ft"}]\n'
    error = refused(GOOD + spur)
    assert [problem.path for problem in error.problems] == [("run", 2, "to")]
    assert '[junction."gauge line"]' in error.problems[0].hint
    loaded = read(GOOD + spur + '[junction."gauge line"]\n', "wagon.toml")
    assert loaded.circuit.solve().run("spur", "idle").mass_flow.si == pytest.approx(0.0, abs=1e-12)


def test_a_missing_tank_is_one_slip_and_told_once():
    text = GOOD.replace('[tank.cell]\nlevel = "8 in"\n', "").replace("volts = 13.5", 'volts = 13.5\ntank_level = "2 in"')
    error = refused(text)
    assert [problem.path for problem in error.problems] == [("run", 0, "from")]
    error = refused(text.replace('to = "cell"', 'to = "ambient"'))  # nothing returns to it: the feed begins at a closed end
    assert [problem.path for problem in error.problems] == [("run", 0, "from")]
    assert "is [tank.cell] missing?" in str(error) and "[junction.cell]" in str(error)


def test_what_is_drawn_from_open_air_or_a_given_pressure_needs_no_tank():
    drum = GOOD.replace('[tank.cell]\nlevel = "8 in"\n', "").replace('from = "cell"', 'from = "ambient"').replace('to = "cell"', 'to = "ambient"')
    assert read(drum, "wagon.toml").circuit.solve().converged
    assert read(GOOD.replace('[tank.cell]\nlevel = "8 in"\n', '[fixed.cell]\npressure = "3 psi"\n'), "wagon.toml").circuit.solve().converged


def test_units_of_the_file_decide_whether_a_cure_speaks_of_inches():
    metric = GOOD.replace('units = "us"', 'units = "metric"').replace('level = "8 in"', "level = 8")
    assert "'8 mm'" in str(refused(metric)) and "5/16" not in str(refused(metric))


def test_units_of_the_file_decide_which_come_first_in_what_is_wrong():
    """-80 F is -62.2 C; the sign belongs to both."""
    cold = GOOD.replace("volts = 13.5", 'fluid_temperature = "-80 F"')
    assert "temperature -80.0 F (-62.2 C) is below -" in str(refused(cold))
    assert "temperature -62.2 C (-80.0 F) is below -" in str(refused(cold.replace('units = "us"', 'units = "metric"')))


QUOTED_LENGTH = re.compile(r"""(?P<quote>['"])(?P<text>[^'"]*\d (?:mm|in)\b[^'"]*)(?P=quote)""")


def cures_with_a_quoted_length():
    """Every text of the package that offers a length in quotes, apart from what documents a function."""
    for path in sorted(Path(trade.__file__).resolve().parents[2].rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        documents = {id(node.body[0].value) for node in ast.walk(tree) if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef))
                     and node.body and isinstance(node.body[0], ast.Expr)}
        for node in ast.walk(tree):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in documents and QUOTED_LENGTH.search(node.value):
                yield node.value


def test_a_quoted_length_of_a_cure_can_be_copied_into_the_file_in_either_unit():
    cures = list(cures_with_a_quoted_length())
    assert sum(" mm" in cure for cure in cures) > 5  # of hoses, tubes, fittings, check valves, and of units alone
    for cure in cures:
        shown = trade.in_both_units(cure)
        quoted = [found["text"] for found in QUOTED_LENGTH.finditer(shown)]
        lengths = [text for text in quoted if tube_words(text) is None]  # raises where diameter by wall make no tube
        for length in lengths:
            parse(length, "length")  # raises where it is no length
        for metric, inches in zip(lengths, lengths[1:]):
            if f"{metric}' or '{inches}" in shown or f'{metric}" or "{inches}' in shown:
                assert parse(metric, "length") == pytest.approx(parse(inches, "length"), rel=0.01), shown
        assert not re.search(r"""mm \([^)]*\)['"]""", shown), shown


@pytest.mark.parametrize("part, offered", [
    ('{part = "elbow", angle = 90, form = "forged"}', ["9.9 mm", "0.39 in"]), ('{part = "hose", length = "1 m"}', ["10.3 mm", "0.406 in"]),
    ('{part = "tube", length = "1 m"}', ["7.7 mm", "0.303 in"]), ('{part = "check_valve", opens_at = "1 psi"}', ["8 mm", "5/16 in"])])
def test_the_bore_that_a_part_is_told_to_give_is_one_it_takes(part, offered):
    run = '[circuit]\nname = "bench (invented)"\nfluid = "water"\n[tank.drum]\n[[run]]\nname = "line"\nfrom = "drum"\nto = "ambient"\nparts = [%s]\n'
    with pytest.raises(FileError) as error:
        read(run % part)
    found = re.search(r'bore="([^"]*)" or "([^"]*)"', str(error.value))
    assert list(found.groups()) == offered
    for length in offered:
        read(run % part.replace("}", f', bore = "{length}"}}'))


def test_many_slips_are_told_together_in_the_order_of_the_lines():
    text = GOOD
    for old, new in (('"8 in"', '"8 inc"'), ('"10 mm"', '"ten"'), ('length = "11 ft"', 'lenght = "11 ft"'), ('"1.2 psi at 100 gph"', '"1.2 psi"'),
                     ('size = "-6"', "size = -6"), ("volts = 13.5", 'vlots = 13.5')):
        text = text.replace(old, new)
    lines = [problem.span.line for problem in refused(text).problems]
    assert set(lines) >= {7, 11, 19, 20, 29}
    assert lines == sorted(lines)


def test_two_wrong_values_of_one_part_are_both_told():
    error = refused(GOOD.replace('bends = [90, 45]', 'bends = ["x"], extra_loss = "much", roughness = "3 psi"'))
    assert {problem.path[-1] for problem in error.problems} >= {"extra_loss", "roughness"}


def test_a_slip_does_not_bring_others_that_are_its_own_doing():
    assert len(refused(GOOD.replace('length = "11 ft"', 'lenght = "11 ft"')).problems) == 1
    assert len(refused(GOOD.replace('size = "-8"', "size = -8")).problems) == 1
    assert len(refused(GOOD.replace('"gasoline"', '"gasolin"')).problems) == 1


def test_a_hundred_slips_are_counted_beyond_the_first_twenty():
    error = refused(GOOD + "".join(f'[tank.t{number}]\nlevel = {number}\n' for number in range(100)))
    assert len(error.problems) == 100
    assert str(error).endswith("and 80 more problems")


@pytest.mark.parametrize("name", ["nothing.toml", "."])
def test_a_file_that_cannot_be_read(name, tmp_path):
    with pytest.raises(FileError, match="no such file|is a folder"):
        fn.load(tmp_path / name)


def test_a_missing_file_is_answered_with_the_nearest_name(tmp_path):
    (tmp_path / "wagon.toml").write_text(GOOD, encoding="utf-8")
    with pytest.raises(FileError, match="did you mean '.*wagon.toml'"):
        fn.load(tmp_path / "wagom.toml")


@pytest.mark.parametrize(("data", "told"), [
    (b"\xff\xfe[\x00", "not UTF-8"), (b'[circuit]\nname = "caf\xe9"', r"line 2, column 12: byte 0xe9"), (b"x = 1\n" * 400_000, "larger than 2 MB"),
    (b"", r"heading \[circuit\] is missing"), (b"x = " + b"[" * 5000, "nested too deeply"), (b"d = 2001-02-30", "is not TOML|cannot be read"),
    (b'[circuit]\nname = "a\x1b[31m"', "invisible character"),
])
def test_files_that_are_not_text(data, told, tmp_path):
    path = tmp_path / "wagon.toml"
    path.write_bytes(data)
    with pytest.raises(FileError, match=told) as caught:
        fn.load(path)
    assert "\x1b" not in str(caught.value)


def test_a_byte_order_mark_and_windows_lines_are_read(tmp_path):
    path = tmp_path / "wagon.toml"
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert fn.load(path).name == "test car"
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").replace('"8 in"', '"8 inc"').encode())
    with pytest.raises(FileError, match=r"wagon\.toml:7:9"):
        fn.load(path)
