"""Nothing on a schematic lies on anything else: judged on the SVG text itself, by the boxes of words, tags and symbols and by every line."""

import ast
import random
import re
from importlib.resources import files
from pathlib import Path

import pytest

pytest.importorskip("matplotlib", reason="words are measured with its font")

import flarenut as fn  # noqa: E402
from flarenut.results import Finding  # noqa: E402
from flarenut.schematic import graph, letters, symbols  # noqa: E402
from flarenut.schematic.arrange import arranged  # noqa: E402

from schematic_geometry import Sheet, width  # noqa: E402

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted((ROOT / "docs/guide/examples").glob("*.toml"))
DEMOS = ("return_style_e85", "oil_cooler_six")
LETTER = (10.0 * 72, 7.5 * 72)  # points that a landscape sheet of letter paper, 11 by 8.5 in, leaves within half an inch of margin


def demo(name):
    return fn.load(str(files("flarenut").joinpath(f"demo/{name}.toml")))


def made_by_notebooks():
    """(name, circuit) of every circuit that a function of a notebook makes without being told anything."""
    for path in sorted((ROOT / "notebooks").glob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        kept = [node for node in tree.body if isinstance(node, (ast.Import, ast.ImportFrom, ast.FunctionDef))
                or isinstance(node, ast.Assign) and all(isinstance(target, (ast.Name, ast.Tuple)) for target in node.targets) and _is_plain(node.value)]
        space = {}
        exec(compile(ast.Module(kept, []), str(path), "exec"), space)
        for node in kept:
            if isinstance(node, ast.FunctionDef) and len(node.args.args) == len(node.args.defaults):
                made = space[node.name]()
                if isinstance(made, fn.Circuit):
                    yield f"{path.stem}, {node.name}", made
    yield "choosing_a_pump, coupe", _coupe()


def _is_plain(value):
    try:
        ast.literal_eval(value)
    except ValueError:
        return False
    return True


def _coupe():
    """The circuit of the notebook on pumps, whose charts are read there from a table: with a pump by formula in its place."""
    path = ROOT / "notebooks/choosing_a_pump.py"
    tree = ast.parse(path.read_text(encoding="utf-8"))
    (made,) = [node for node in tree.body if isinstance(node, ast.FunctionDef) and node.name == "coupe"]
    plain = [node for node in tree.body if isinstance(node, ast.Assign) and _is_plain(node.value)]
    space = {"fn": fn, "pump": lambda *_: fn.formula_pump("95 psi", "150 gph", name="pump"), "OHMS": 0.0}
    exec(compile(ast.Module([*plain, made], []), str(path), "exec"), space)
    return space["coupe"]("small", "E85")


NOTEBOOKS = dict(made_by_notebooks())


def test_the_notebooks_make_circuits():
    assert {name.split(",")[0] for name in NOTEBOOKS} == {path.stem for path in (ROOT / "notebooks").glob("*.py")}


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
@pytest.mark.parametrize("solved", [False, True], ids=["plain", "solved"])
def test_nothing_overlaps_in_the_examples(path, solved):
    car = fn.load(str(path))
    assert Sheet(fn.schematic(car, car.solve() if solved else None, units="metric").svg).troubles() == []


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("units", ["us", "metric"])
def test_nothing_overlaps_and_nothing_crosses_in_the_demonstrations(name, units):
    car = demo(name)
    answer = car.solve()
    for sheet in (Sheet(fn.schematic(car).svg), *(Sheet(fn.schematic(car, answer, case=case, units=units).svg) for case in answer)):
        assert sheet.troubles() == [] and sheet.bows == []


@pytest.mark.parametrize("name", NOTEBOOKS)
def test_nothing_overlaps_in_the_circuits_of_notebooks(name):
    assert Sheet(fn.schematic(NOTEBOOKS[name]).svg).troubles() == []


def test_nothing_overlaps_in_a_vehicle():
    truck = fn.load(str(ROOT / "docs/guide/examples/truck/vehicle.toml"))
    for drawing in fn.schematic(truck, truck.solve(), units="metric").values():
        assert Sheet(drawing.svg).troubles() == []


# ---- random circuits ----

PIECES = (lambda name: fn.hose("-8", "3 ft", spec="ptfe", bends=[90], name=name), lambda name: fn.tube("3/8 in", "9 ft", name=name),
          lambda name: fn.elbow("-8", 90, name=name), lambda name: fn.filter("1 psi at 100 gph", bypass="10 psi", name=name),
          lambda name: fn.orifice("2 mm", name=name), lambda name: fn.check_valve(bore="8 mm", name=name),
          lambda name: fn.formula_pump("95 psi", "150 gph", name=name), lambda name: fn.reducer("-8", "-6", name=name),
          lambda name: fn.reducing_regulator("40 psi", wide_open="3 psi at 100 gph", reference="manifold", name=name),
          lambda name: fn.thermostat("80 C", bore="15 mm", name=name), lambda name: fn.passage("8 mm", "100 mm", name=name))
SYLLABLES = ("mi", "W", "feed-", "il", " to ", "oil ", "MW", "é", "漢字", "lll", "return ", "Ω", "q")


def a_name(chance, most):
    return "".join(chance.choice(SYLLABLES) for _ in range(chance.randint(1, most))).strip() or "x"


def random_circuit(seed, places, longest=6):
    """Places joined at random, loops among them, runs of one to nine parts, names of any length, tees, injectors and demands."""
    chance = random.Random(seed)
    car, taken = fn.Circuit(f"random {seed}", fluid="water"), set()

    def fresh(stem):
        name = f"{a_name(chance, longest)} {stem}"
        while name in taken:
            name += "'"
        taken.add(name)
        return name

    def parts():
        return [chance.choice(PIECES)(fresh("part") if chance.random() < 0.6 else None) for _ in range(chance.choice((1, 1, 2, 3, 3, 5, 9)))]

    known = [fresh("tank")]
    car.tank(known[0], level="1 m")
    for number in range(places):
        name = fresh("place")
        kind = chance.random()
        if kind < 0.15:
            car.tank(name, level="1 m")
        elif kind < 0.3:
            car.junction(name, bore="8 mm", demand="5 gph")
        elif kind < 0.4:
            car.fixed(name, "3 psi")
        car.run(fresh("run"), chance.choice(known[-4:]), name, parts())
        known.append(name)
    for number in range(places // 2):
        car.run(fresh("loop"), *chance.sample(known, 2), parts())
    if places > 5:
        car.tee(fresh("tee"), *chance.sample(known, 3), size="-8")
        car.injectors(fresh("injectors"), chance.choice(known), count=4, flow="500 cc/min")
    return car


def random_findings(seed, car):
    from flarenut.circuit.compile import piece_names

    chance = random.Random(seed)
    names = [*piece_names(car).values(), *car.junctions, *car.multiport]
    return [Finding("made up", chance.choice(("stop", "fix", "watch", "note")), chance.choice(names), "hot", "it leaks") for _ in range(8)]


@pytest.mark.parametrize("seed", range(20))
def test_nothing_overlaps_in_random_circuits(seed):
    car = random_circuit(seed, 1 + seed % 14)
    sheet = Sheet(fn.schematic(car, findings=random_findings(seed, car)).svg)
    assert sheet.troubles() == []
    parts = sum(len(run.pieces) for run in car.runs.values())
    assert len([one for one in sheet.symbols if one.name in symbols.SYMBOLS]) == parts + (seed % 14 > 4)


@pytest.mark.parametrize("parts", [1, 4, 5, 30, 60, 200])
def test_nothing_overlaps_in_one_long_run(parts):
    car = fn.Circuit("chain", fluid="water")
    car.tank("drum", level="1 m")
    car.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="ptfe", name=f"hose {number}") for number in range(parts)])
    sheet = Sheet(fn.schematic(car).svg)
    assert sheet.troubles() == []
    if parts < 100:
        assert sheet.bows == [] and sheet.width < 1300 and sheet.height < 1000


@pytest.mark.parametrize("name", ["W" * 300, "many words " * 40, "a-b_c/" * 30, "\u200b", "漢" * 60])
def test_names_of_any_length_keep_their_place(name):
    car = fn.Circuit(name, fluid="water")
    car.tank(name + "1", level="1 m")
    car.run(name + "2", name + "1", name + "4", [fn.hose("-8", "3 m", spec="ptfe", name=name + "3"), fn.orifice("2 mm")])
    car.run(name + "5", name + "4", "ambient", [fn.orifice("2 mm", name=name + "6")])
    assert Sheet(fn.schematic(car, car.solve()).svg).troubles() == []


# ---- that the judge is no pushover ----

def words_moved(svg, name, to):
    """The troubles of a sheet on which the words `name` stand elsewhere."""
    found = re.search(rf'<text x="[-\d.]+" y="[\d.]+"( font-size="11"[^>]*>{name}</text>)', svg)
    return Sheet(svg.replace(found[0], f'<text x="{to[0]:.1f}" y="{to[1]:.1f}"{found[1]}')).troubles()


def test_words_on_words_symbols_lines_and_over_the_edge_are_found():
    svg = fn.schematic(demo("return_style_e85"), findings=[Finding("made up", "stop", "regulator", "idle", "it leaks")]).svg
    sheet, shift = Sheet(svg), [float(one) for one in re.search(r'<g transform="translate\(([\d.]+),([\d.]+)\)">', svg).groups()]
    assert sheet.troubles() == []

    def onto(box):
        return 0.5 * (box.left + box.right) - shift[0], 0.5 * (box.top + box.bottom) + 4 - shift[1]

    place = {one.name: one for one in [*sheet.texts, *sheet.tags, *sheet.symbols]}
    for name in ("pump", "strainer", "STOP", "filter", "electric_pump", "injectors"):
        told = words_moved(svg, "feed hose", onto(place[name]))
        assert any("feed hose" in one and name in one for one in told), name
    start, end = max(sheet.pipes, key=lambda pipe: abs(pipe[0][1] - pipe[1][1]))
    assert "a line runs through text 'feed hose'" in words_moved(svg, "feed hose", (start[0] - shift[0], 0.5 * (start[1] + end[1]) - shift[1]))
    assert "text 'feed hose' reaches over the edge" in words_moved(svg, "feed hose", (10.0 - shift[0], 0.0))
    (hose,) = [text for text in sheet.texts if text.name == "feed hose"]
    assert hose.right - hose.left == pytest.approx(width("feed hose", 11))


def test_lines_over_lines_and_through_symbols_are_found():
    def judged(data):
        return Sheet(f'<svg xmlns="http://www.w3.org/2000/svg" width="300" height="300" text-anchor="middle"><g class="pipes">{data}</g>'
                     '<g class="symbol" data-key="hose" transform="translate(200,200)"><circle cx="0" cy="0" r="10"/></g></svg>').troubles()

    assert judged('<path d="M 0 10 L 100 10"/><path d="M 50 50 L 50 90"/>') == []
    assert judged('<path d="M 0 10 L 100 10"/><path d="M 60 10 L 200 10"/>') == ["two lines lie on each other"]
    assert judged('<path d="M 0 50 L 100 50"/><path d="M 50 10 L 50 90"/>') == ["two lines cross without a bow"]
    assert judged('<path d="M 0 50 L 45 50 Q 50 40 55 50 L 100 50"/><path d="M 50 10 L 50 90"/>') == []
    assert judged('<path d="M 0 50 L 100 60"/>') == ["a line is neither level nor upright"]
    assert judged('<path d="M 150 200 L 250 200"/>') == ["a line runs through symbol 'hose'"]


# ---- widths and symbols ----

@pytest.mark.parametrize("text", ["".join(map(chr, range(32, 127))), "".join(map(chr, range(0xa0, 0x180))), "°×·–—…→↔²³½µΩΔ", "Ж д я", "€"])
def test_no_letter_is_wider_than_it_is_taken_for(text):
    for letter in text:
        assert letters.width_of(letter, 10) >= width(letter, 10) - 0.006, letter
        assert letters.width_of(letter, 10, bold=True) >= width(letter, 10, bold=True) - 0.006, letter


@pytest.mark.parametrize("text, size, wide", [("hose from the oil cooler", 10, 60), ("W" * 40, 10, 60), ("a bb ccc dddd", 11, 30), ("", 10, 50)])
def test_lines_keep_within_their_width(text, size, wide):
    lines = letters.lines_of(text, size, wide, most=50)
    assert all(letters.width_of(line, size) <= wide for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    cut = letters.lines_of(text, size, wide, most=1)
    assert len(cut) <= 1 and (cut == lines or cut[0].endswith("…") and letters.width_of(cut[0], size) <= wide)


@pytest.mark.parametrize("key", symbols.SYMBOLS)
def test_symbols_keep_within_what_they_say(key):
    """A symbol's lines lie within its half width, over and under; its group as it is drawn says how far they go."""
    from flarenut.schematic.place import Placed
    from flarenut.schematic.svg import symbol

    one = symbols.SYMBOLS[key]
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" width="300" height="300" text-anchor="middle">{symbol(Placed(one, 100, 100, key=key))}</svg>'
    (box,) = Sheet(svg).symbols
    assert 100 - one.half - 0.01 <= box.left and box.right <= 100 + one.half + 0.01
    assert 100 - one.over - 0.01 <= box.top and box.bottom <= 100 + one.under + 0.01
    assert "A" not in svg.split("d=")[1] and one.means


# ---- the sheet ----

@pytest.mark.parametrize("name", DEMOS)
def test_letters_stay_readable_on_a_printed_sheet(name):
    """The smallest letters of the demonstrations, of which one has 30 parts, are 5 points high or more on landscape letter paper, as fine print is."""
    car = demo(name)
    sheet = Sheet(fn.schematic(car, car.solve()).svg)
    smallest = min(float(text.get("font-size")) for text in sheet.root.iter("{http://www.w3.org/2000/svg}text"))
    assert smallest * min(LETTER[0] / sheet.width, LETTER[1] / sheet.height) >= 5.0


def test_the_search_makes_drawings_smaller_and_less_crossed():
    """Against where it begins, over ten random circuits: fewer crossings, and never worse by its own measure."""
    from flarenut.schematic.arrange import Arrangement
    from flarenut.schematic.draw import _Graph
    from flarenut.schematic.told import Told

    before = after = 0
    for seed in range(8, 18):
        car = random_circuit(seed, 9)
        nodes, links = _Graph(car, Told(car, None, None, None, "us"), {}).made()
        begun, found = Arrangement(nodes, links), arranged(nodes, links)
        assert found.measures.cost <= begun.measures.cost
        before, after = before + begun.measures.crossings, after + found.measures.crossings
    assert after < 0.6 * before


def test_links_in_one_row_lie_beside_each_other():
    for seed in range(6):
        nodes, links = [graph.Node(f"n{number}", "free") for number in range(8)], []
        chance = random.Random(seed)
        for one, other in [*zip(range(7), range(1, 8)), *(chance.sample(range(8), 2) for _ in range(9))]:
            links.append(graph.Link(one, other, []))
        found = arranged(nodes, links)
        measures = found.measures
        spans = sorted(zip(found.rows, measures.left, measures.right))
        assert all(one[0] != other[0] or one[2] <= other[1] for one, other in zip(spans, spans[1:]))
        assert sorted(found.columns) == list(range(8))
