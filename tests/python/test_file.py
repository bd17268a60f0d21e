"""Circuit files: the scanner against the standard TOML reader, and files against circuits built by hand."""

import doctest
import importlib
import pickle
import re
import tomllib
import unicodedata
from pathlib import Path

import flarenut as fn
import pytest
from flarenut.circuit.file import FileError, Problem, ill_posed, read
from flarenut.circuit.file.positions import Positions, Span
from hypothesis import given, settings
from hypothesis import strategies as st

# ---- the scanner, judged by tomllib: every path that tomllib finds must be known, and its text must read as its value ----

BARE = st.text("abcXYZ019_-", min_size=1, max_size=4)
LETTERS = st.characters(codec="utf-8", exclude_categories=("Cc", "Cs"))
WORDS = st.text(LETTERS, max_size=8)


def basic(text):
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


@st.composite
def keys(draw):
    word = draw(st.one_of(BARE, WORDS))
    return word if word and all(letter in "abcXYZ019_-" for letter in word) and draw(st.booleans()) else basic(word)


def joined(draw, items, opening, closing, gap):
    space = st.sampled_from(gap)
    return opening + draw(space) + (draw(space) + "," + draw(space)).join(items) + draw(space) + closing


@st.composite
def scalars(draw):
    word = draw(WORDS)
    return draw(st.sampled_from([
        basic(word), '"""' + basic(word)[1:-1] + '\n # ] } , """', "'" + word.replace("'", "") + "'", "'''a'b\n" + word.replace("'", "") + "'''",
        '"""a ""b"" """', "42", "-8", "3.5e-2", "inf", "true", "1979-05-27 07:32:00", "1979-05-27T00:32:00.5-07:00", "07:32:00", "0x1F", '""', "''"]))


@st.composite
def pairs(draw, values, gap):
    """Distinct dotted keys with values, as texts."""
    names = draw(st.lists(keys(), max_size=3, unique_by=lambda key: tomllib.loads(f"{key}=1").popitem()[0]))
    made = []
    for name in names:
        dotted = draw(st.sampled_from(["", ".x", " . 'y z' . 9"]))
        made.append(f"{name}{dotted}{draw(st.sampled_from(gap))}={draw(st.sampled_from(gap))}{draw(values)}")
    return made


@st.composite
def values(draw, depth=2):
    if depth == 0 or draw(st.integers(0, 2)) == 0:
        return draw(scalars())
    inner = values(depth - 1)
    if draw(st.booleans()):
        return joined(draw, draw(st.lists(inner, max_size=3)), "[", "]", ["", " ", "\n", " # a, ] } \"c'\n", "\t"])
    return joined(draw, draw(pairs(inner, ["", " "])), "{", "}", ["", " ", "\t"])


@st.composite
def documents(draw):
    blocks = ["\n".join(draw(pairs(values(), ["", " "])))]
    for number in range(draw(st.integers(0, 4))):
        heading = draw(st.sampled_from([f"[t{number}]", f"[ t{number} . \"q r\" ]", "[[list]]", "[[ list ]] # c", "[[list]]\n[[list.deep]]",
                                        f"[[list]]\n[list.sub{number}]"]))
        blocks.append(heading + "\n" + "\n".join(draw(pairs(values(), ["", "  "]))))
    return draw(st.sampled_from(["", "# first\n\n"])) + draw(st.sampled_from(["\n", "\r\n"])).join(blocks) + draw(st.sampled_from(["", "\n"]))


def leaves(value, path=()):
    """(path, value) of everything inside, tables and lists included."""
    inside = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, item in inside:
        yield (*path, key), item
        yield from leaves(item, (*path, key))


@settings(max_examples=120, deadline=None)
@given(documents())
def test_the_scanner_finds_every_key_and_value_that_the_standard_reader_finds(text):
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return  # a key given twice by chance
    places = Positions(text)
    plain = text.replace("\r\n", "\n")
    for path, value in leaves(table):
        assert places.knows(path), (path, text)
        if path in places._values:
            start, stop = places._values[path]
            assert repr(tomllib.loads("v = " + plain[start:stop])["v"]) == repr(value)
    assert places.repeats == []


FILE = '''# our wagon
[circuit]
name = "a" # hi
tuning."c d".e = 1
[tank.cell]
level="8 in"
[[run]]
parts = [
  {part = "hose", size = "-8", bends = [90, 45]}, # c ] }
  # {part = "no"}
\t{part = "electric_pump", curves = [{volts = 12, points = [["50 L/h", "60 psi"]]}]},
]
[[run]]
[[run.parts]]
part = """one
two"""
[case."full \\u0041power"]
volts = 12
'''
PLACES = [  # path, (line, column, width) of the key, of the value: counted by hand in FILE
    (("circuit",), (2, 2, 7), None), (("circuit", "name"), (3, 1, 4), (3, 8, 3)),
    (("circuit", "tuning", "c d", "e"), (4, 14, 1), (4, 18, 1)), (("circuit", "tuning", "c d"), (4, 8, 5), None),
    (("tank", "cell"), (5, 7, 4), None), (("tank", "cell", "level"), (6, 1, 5), (6, 7, 6)),
    (("run", 0), (7, 1, 7), None), (("run", 0, "parts", 0), None, (9, 3, 46)),
    (("run", 0, "parts", 0, "size"), (9, 19, 4), (9, 26, 4)), (("run", 0, "parts", 0, "bends", 1), None, (9, 45, 2)),
    (("run", 0, "parts", 1, "curves", 0, "volts"), (11, 38, 5), (11, 46, 2)),
    (("run", 0, "parts", 1, "curves", 0, "points", 0, 1), None, (11, 71, 8)),
    (("run", 1), (13, 1, 7), None), (("run", 1, "parts", 0, "part"), (15, 1, 4), (15, 8, 6)),
    (("case", "full Apower", "volts"), (18, 1, 5), (18, 9, 2)),
]


@pytest.mark.parametrize(("path", "key", "value"), PLACES)
def test_places_counted_by_hand(path, key, value):
    places = Positions(FILE)
    assert key is None or places.key(path) == key
    assert value is None or places.value(path) == value


def test_a_path_that_is_not_there_is_answered_with_its_nearest_ancestor():
    places = Positions(FILE)
    assert places.key(("tank", "cell", "vent")) == (5, 7, 4)
    assert places.value(("run", 0, "parts", 0, "size", 3)) == (9, 26, 4)
    assert places.key(("nothing",)) == (1, 1, 1)


def test_a_broken_text_keeps_what_was_found_before_the_fault():
    places = Positions('[tank.cell]\nlevel = "8 in"\nvent = "8 in\n[run]')
    assert places.value(("tank", "cell", "level")) == (2, 9, 6)
    assert not places.knows(("run",))


@pytest.mark.parametrize("text", ["a = 1\nb = 2\na = 3", "[t]\n[u]\n[t]", "a.b = 1\na.b = 2", "x = {q = 1, q = 2}", "a.b = 1\na = 2"])
def test_keys_given_twice_are_noticed(text):
    with pytest.raises(tomllib.TOMLDecodeError):
        tomllib.loads(text)
    assert len(Positions(text).repeats) == 1


@given(st.text(st.sampled_from('[]{}="\'#.,\n\r\t ab1\\é'), max_size=40))
def test_any_text_at_all_is_scanned_without_an_exception(text):
    places = Positions(text)
    assert places.key(("a",)).line >= 1


# ---- files against circuits built by hand ----

WASH = '''[circuit]
name = "rinse line"
fluid = "water"
altitude = "1000 ft"

[tank."rain drum"]
level = "1 m"
height = "2 m"

[fixed.nozzle]
pressure = "0.2 bar"

[[run]]
name = "line"
from = "rain drum"
to = "split"

[[run.parts]]
part = "pickup"
bore = "12 mm"

[[run.parts]]
part = "hose"
size = "-8"
length = "3 m"
spec = "full-size"
bends = [90]
name = "drum hose"

[[run]]
name = "left"
from = "split"
to = "nozzle"
parts = [{part = "tube", size = "10 mm", wall = "1 mm", length = "2 m"}]

[[run]]
name = "right"
from = "branch"
to = "ambient"
parts = [{part = "valve", cv = 0.4, name = "tap"}]

[[tee]]
name = "fork"
run1 = "split"
run2 = "dead end"
branch = "branch"
bore = "9 mm"

[junction."dead end"]

[case.open]
fluid_temperature = "15 C"

[case."half shut"]
"tap.opening" = "50 %"
"drum hose.length" = "4 m"
'''


def by_hand():
    made = fn.Circuit("rinse line", fluid="water", altitude="1000 ft")
    made.tank("rain drum", level="1 m", height="2 m")
    made.fixed("nozzle", pressure="0.2 bar")
    made.junction("dead end")
    made.run("line", "rain drum", "split", [fn.pickup("12 mm"), fn.hose("-8", "3 m", spec="full-size", bends=[90], name="drum hose")])
    made.run("left", "split", "nozzle", [fn.tube("10 mm", "2 m", wall="1 mm")])
    made.run("right", "branch", "ambient", [fn.valve(cv=0.4, name="tap")])
    made.tee("fork", "split", "dead end", "branch", bore="9 mm")
    made.case("open", fluid_temperature="15 C")
    made.case("half shut", **{"tap.opening": "50 %", "drum hose.length": "4 m"})
    return made


def test_a_file_makes_the_circuit_that_python_makes(tmp_path):
    path = tmp_path / "rinse.toml"
    path.write_text(WASH, encoding="utf-8")
    from_file, from_python = fn.load(path), by_hand()
    assert from_file.source == str(path)
    assert sorted(from_file.plan.names) == sorted(from_python.plan.names)
    one, other = from_file.solve(), from_python.solve()
    assert one.converged and list(one) == ["open", "half shut"]
    for case in one:
        for name in ("line", "left", "right"):
            assert one.run(name, case).mass_flow.si == other.run(name, case).mass_flow.si != 0.0
    assert one.part("tap", "half shut").mass_flow.si < one.part("tap", "open").mass_flow.si


def test_a_file_without_a_case_is_solved_as_written():
    assert list(read(WASH[:WASH.index("[case.open]")]).circuit.solve()) == ["as written"]


def test_the_file_of_the_guide_reads_and_solves():
    guide = (Path(__file__).resolve().parents[2] / "docs" / "guide" / "circuit_files.md").read_text(encoding="utf-8")
    blocks = re.findall(r"```toml\n(.*?)```", guide, re.DOTALL)
    assert blocks
    for block in blocks:
        assert read(block, "guide.toml").circuit.solve().converged


LOOP = '''[circuit]
name = "loop"
fluid = "water"
[[run]]
name = "out"
from = "here"
to = "there"
parts = [{part = "formula_pump", dead_head = "1 bar", free_flow = "10 L/min"}]
[[run]]
name = "back"
from = "there"
to = "here"
parts = [{part = "hose", bore = "8 mm", length = "1 m"}]
'''


@pytest.mark.parametrize(("text", "line", "told"), [
    (LOOP, 6, "here: has no path to a fixed pressure"),
    (LOOP, 6, "is a tank missing? it is written [tank.here]"),
])
def test_what_compiling_refuses_is_traced_to_its_line(text, line, told):
    loaded = read(text, "rinse.toml")
    with pytest.raises(ValueError) as caught:
        loaded.circuit.solve()
    assert ill_posed(caught.value)
    error = loaded.error(caught.value)
    assert told in str(error)
    assert error.problems[0].span.line == line, str(error)


def test_file_errors_can_be_sent_between_processes():
    with pytest.raises(FileError) as caught:
        read(WASH.replace('"1 m"', '"1 mile"', 1), "rinse.toml")
    copy = pickle.loads(pickle.dumps(caught.value))
    assert str(copy) == str(caught.value) and copy.problems[0].span == caught.value.problems[0].span


@pytest.mark.parametrize("line", ['\t{part = "hose", size = "-7"}', 'x = "日本語", size = "-7"', "y = \"" + "-" * 300 + "\", size = \"-7\""])
def test_carets_stand_under_what_they_mean(line):
    at = line.index('"-7"')
    shown = str(FileError("f.toml", [Problem("wrong", "right", span=Span(1, at + 1, 4))], line)).splitlines()
    quoted, carets = shown[1].split("| ", 1)[1], shown[2].split("| ", 1)[1]
    assert carets.strip() == "^^^^"
    before = carets[:carets.index("^")]
    columns = 0
    for place, letter in enumerate(quoted):  # walk the shown line as a terminal does
        if columns == sum(1 for _ in before):
            break
        columns += 2 if unicodedata.east_asian_width(letter) in "WF" else 1
    assert quoted[place:place + 4] == '"-7"'
    assert [letter for letter in before if letter == "\t"] == [letter for letter in quoted[:place] if letter == "\t"]


def test_doctests_of_the_loader_and_the_command_line():
    for name in ("circuit.file.positions", "circuit.file.words", "circuit.file.joins", "circuit.file.quotes", "circuit.file.trade", "circuit.ranges",
                 "circuit.engine_units", "cli.parts"):
        assert doctest.testmod(importlib.import_module(f"flarenut.{name}")).failed == 0


# ---- sweeps ----

SWEPT = WASH + '''
[sweep.wide]
cases = "open"
vary."tap.cv" = {from = 0.4, to = 0.2, step = 0.1}
[[sweep.wide.together]]
"drum hose.size" = ["-6", "-8"]
"drum hose.length" = {from = "3 m", to = "4 m", step = "1 m"}
[[sweep.wide.together]]
fluid_temperature = ["15 C", "30 C"]
"rain drum.level" = ["1 m", "0.5 m"]
'''


def test_a_sweep_of_a_file_is_read_in_the_order_written():
    loaded = read(SWEPT, "rinse.toml")
    made = loaded.sweeps["wide"]
    assert made.steps == [(("tap.cv",), [0.4, 0.3, 0.2]), (("drum hose.size", "drum hose.length"), [("-6", "3 m"), ("-8", "4 m")]),
                          (("fluid_temperature", "rain drum.level"), [("15 C", "1 m"), ("30 C", "0.5 m")])]
    assert made.cases == "open" and made.outputs is None and loaded.circuit.solve().converged  # a solve passes sweeps by
    assert read(WASH).sweeps == {}


def test_what_is_wrong_with_a_sweep_comes_together_with_all_else():
    with pytest.raises(FileError) as caught:
        read(SWEPT.replace('"1 m"', '"1 mile"', 1).replace('cases = "open"', "cases = 3\nsample = 4").replace('["-6", "-8"]', '["-6"]'), "rinse.toml")
    told = [(problem.path, problem.reason) for problem in caught.value.problems]
    assert [path for path, _ in told] == [("tank", "rain drum", "level"), ("sweep", "wide", "cases"), ("sweep", "wide", "sample"),
                                          ("sweep", "wide", "together", 0, "drum hose.length")]
    assert all(problem.span.line > 1 for problem in caught.value.problems)


@pytest.mark.parametrize("text, told", [
    ("[sweep]\nvary.volts = [1]", "give it one in the heading: [sweep.main]"), ("[[sweep]]\nvary.volts = [1]", "write the heading as [sweep.main]"),
    ("sweep = 3", "write the heading as [sweep.main]"), ("[sweeps.x]", "did you mean 'sweep'?")])
def test_a_wrong_heading_of_a_sweep_is_told_the_right_one(text, told):
    with pytest.raises(FileError) as caught:
        read(text + "\n" + WASH if text.startswith("sweep =") else WASH + text)
    assert told in str(caught.value)


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(["vary", "vary.volts", "together", "together.volts", "cases", "outputs", "limits", "limits.'a.b'", "samples", "seed", "sampling",
                        "vary.volts.from", "vary.volts.between", "limits.a.least"]), values())
def test_any_value_under_any_key_of_a_sweep_is_read_or_refused(key, value):
    try:
        tomllib.loads(text := WASH + f"[sweep.x]\n{key} = {value}\n")
    except tomllib.TOMLDecodeError:
        return
    try:
        assert read(text).sweeps["x"].steps
    except FileError as error:
        assert all("sweep 'x'" in problem.place for problem in error.problems)


def test_the_sweeps_of_the_guides_are_taken():
    from flarenut.cli.parts import SWEEP_EXAMPLE

    guide = (Path(__file__).resolve().parents[2] / "docs" / "guide" / "circuit_files.md").read_text(encoding="utf-8")
    blocks = [block for block in re.findall(r"```text\n(.*?)```", guide, re.DOTALL) if block.startswith("[sweep.")]
    assert len(blocks) == 2
    for block in (*blocks, SWEEP_EXAMPLE):
        assert all(made.steps for made in read(WASH + block).sweeps.values())
