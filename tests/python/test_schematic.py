"""Schematics: what stands on them is what the circuit and its answer say; names are never markup; findings have words beside colours."""

import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest

import flarenut as fn
from flarenut.circuit.piece import Element, Piece, builder
from flarenut.results import SEVERITIES, Answer, Finding
from flarenut.results.finding import SEVERITY_COLOURS
from flarenut.schematic import Schematic, Schematics
from flarenut.schematic import schematic as by_its_room

from schematic_geometry import SVG, Sheet


def demo(name="return_style_e85"):
    return fn.load(str(files("flarenut").joinpath(f"demo/{name}.toml")))


@pytest.fixture(scope="module")
def car():
    return demo()


@pytest.fixture(scope="module")
def answer(car):
    return car.solve()


def words(svg):
    return [text.text for text in ET.fromstring(svg).iter(f"{SVG}text")]


def tips(svg):
    """What is told when a symbol is pointed at, in the order drawn."""
    symbols = [group for group in ET.fromstring(svg).iter(f"{SVG}g") if group.get("class") == "symbol"]
    return [symbol.find(f"{SVG}title").text for symbol in symbols if symbol.find(f"{SVG}title") is not None]


def tags(svg):
    return [group.find(f"{SVG}text").text for group in ET.fromstring(svg).iter(f"{SVG}g") if group.get("class") == "tag"]


# ---- what it says ----

def test_every_part_place_and_run_is_on_it(car):
    shown = words(fn.schematic(car).svg)
    for name in ("feed", "return", "cell", "rail", "manifold", "pump sock", "pump", "feed hose", "fuel filter", "engine bay hose", "regulator",
                 "return hose", "return port", "injector bank"):
        assert name in shown
    joined = " ".join(shown)
    assert "-8 ptfe 11 ft 3 bends" in joined and "elbow -8 90°" in joined and "43.5 psi" in joined and "6 × 1000 cc/min at 3 bar" in joined


def test_parts_stand_in_the_order_of_flow(car):
    """The feed of the demonstration leaves its tank to the right, the return comes back to it from the right, below."""
    sheet = Sheet(fn.schematic(car).svg)
    place = {text.name: text for text in sheet.texts}
    feed = [place[name].left + place[name].right for name in ("cell", "pump sock", "pump", "feed hose", "fuel filter", "engine bay hose", "rail")]
    assert feed == sorted(feed)
    back = [place[name].left + place[name].right for name in ("regulator", "return hose", "return port", "cell")]
    assert back == sorted(back, reverse=True)
    assert place["regulator"].top > place["pump"].top


@pytest.mark.parametrize("units", ["us", "metric"])
def test_pressures_and_flows_are_those_of_the_case(car, answer, units):
    for case in answer:
        shown = words(fn.schematic(car, answer, case=case, units=units).svg)
        for place in ("cell", "rail", "manifold"):  # a vacuum is told as one; pressures of one drawing have one unit
            gauge = answer[case].at(place).gauge
            assert (gauge.show(units) if gauge.to("Pag") < 0.0 else gauge.show(unit={"us": "psig", "metric": "barg"}[units])) in shown
        for run in ("feed", "return"):
            assert answer[case].run(run).flow.show(units) in shown
        assert answer[case].part("injector bank").flow.show(units) in shown


def test_without_a_case_the_numbers_are_those_of_the_first(car, answer):
    svg = fn.schematic(car, answer).svg
    assert answer["idle"].at("rail").gauge.show() in words(svg) and "Pressures and flows of case 'idle'." in " ".join(words(svg))


def test_temperatures_stand_where_they_are_found():
    car = demo("oil_cooler_six")
    answer = car.solve("hot track")
    shown = words(fn.schematic(car, answer, units="metric").svg)
    assert answer["hot track"].at("gallery").temperature.show("metric") in shown and answer["hot track"].at("sump").temperature.show("metric") in shown


def arrows(svg):
    """Which way every arrow on a line looks, 1 to the right."""
    return [-1 if "scale(-1" in group.get("transform") else 1 for group in ET.fromstring(svg).iter(f"{SVG}g")
            if group.get("class") == "symbol" and group.get("data-key") == "" and len(group) >= 1]


def test_an_arrow_turns_where_liquid_runs_against_the_run():
    """Water runs from the higher tank to the lower one, whichever way the run is written."""
    line = fn.Circuit("two drums", fluid="water")
    line.tank("low", level="0.1 m")
    line.tank("high", level="0.1 m", height="2 m")
    line.run("line", "low", "high", [fn.hose("-8", "3 m", spec="ptfe")])
    answer = line.solve()
    assert answer["as written"].run("line").flow.si < 0
    (plain,), (found,) = arrows(fn.schematic(line).svg), arrows(fn.schematic(line, answer).svg)
    assert found == -plain
    assert answer["as written"].run("line").flow.show().removeprefix("-") in words(fn.schematic(line, answer).svg)


def test_demands_are_arrows_with_their_flow():
    roadster = fn.Circuit("roadster", fluid="gasoline class A")
    roadster.tank("main", level="10 in")
    roadster.junction("bowl", demand="9 gph")
    roadster.run("feed", "main", "bowl", [fn.formula_pump("8 psi", "45 gph", name="pump")])
    roadster.case("idle", **{"bowl.demand": "0.4 gph"})
    assert "draws 9.00 gal/h" in words(fn.schematic(roadster).svg)
    assert "draws 0.400 gal/h" in words(fn.schematic(roadster, roadster.solve()).svg)
    bench = fn.Circuit("bench", fluid="water")
    bench.junction("tap", supply="5 L/min")
    bench.run("line", "tap", "ambient", [fn.hose("-8", "3 m", spec="ptfe")])
    assert "fed 300 L/h" in words(fn.schematic(bench, units="metric").svg)


def test_a_line_that_goes_by_points_shows_its_length():
    car = fn.Circuit("by points", fluid="water")
    car.tank("drum", level="1 m")
    corners = [["0 m", "0 m", "0 m"], ["2 m", "0 m", "0 m"], ["2 m", "1 m", "0 m"]]
    car.run("line", "drum", "ambient", [fn.hose("-8", spec="ptfe", way=corners, name="long one")])
    length = car.runs["line"].pieces[0].length
    assert fn.Quantity(length, "length").show("metric") in " ".join(words(fn.schematic(car, units="metric").svg))


def test_case_that_is_not_solved_says_so(car, answer):
    class Unsolved:
        """The engine's solution of a case as it is when the numbers would not close."""

        converged, message = False, "no answer"

        def __init__(self, solved):
            self._solved = solved

        def __getattr__(self, name):
            return getattr(self._solved, name)

    broken = Answer(answer.layout, {"idle": Unsolved(answer["idle"].solution)})
    svg = fn.schematic(car, broken).svg
    assert "which is not solved" in " ".join(words(svg)) and "STOP" in tags(svg) and not any("psig" in word for word in words(svg))
    assert Sheet(svg).troubles() == []


# ---- findings ----

def finding(severity, where, what="it is too hot", case="idle"):
    return Finding("made up", severity, where, case, what)


@pytest.mark.parametrize("severity", SEVERITIES)
@pytest.mark.parametrize("where", ["feed hose", "rail", "cell", "injector bank", "pump check valve", "feed elbow", "feed"])
def test_a_finding_has_its_word_and_its_colour_at_the_part(car, severity, where):
    svg = fn.schematic(car, findings=[finding(severity, where)]).svg
    assert tags(svg) == [severity.upper()] * 2  # at the part, and in the key
    assert svg.count(SEVERITY_COLOURS[severity]) >= 2
    (told,) = [tip for tip in tips(svg) if "it is too hot" in tip]
    assert told.startswith({"pump check valve": "pump", "feed": "run feed"}.get(where, where))
    assert f"{severity.upper()}: {where}, idle: it is too hot" in told


def test_the_worst_finding_of_a_part_is_its_tag(car):
    svg = fn.schematic(car, findings=[finding("note", "feed hose"), finding("stop", "feed hose", "it bursts"), finding("watch", "feed hose")]).svg
    assert tags(svg) == ["STOP", "STOP"]
    (told,) = [tip for tip in tips(svg) if tip.startswith("feed hose")]
    assert [line[:4] for line in told.split("\n")[1:]] == ["STOP", "WATC", "NOTE"]


def test_findings_of_several_places_stand_at_each_and_names_may_hold_commas():
    car = fn.Circuit("commas", fluid="water")
    car.tank("drum", level="1 m")
    car.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="ptfe", name="hose, long"), fn.hose("-8", "3 m", spec="ptfe", name="other hose")])
    assert tags(fn.schematic(car, findings=[finding("fix", "hose, long, other hose")]).svg).count("FIX") == 2  # other hose, and the key
    assert tags(fn.schematic(car, findings=[finding("fix", "hose, long")]).svg).count("FIX") == 2
    assert tags(fn.schematic(car, findings=[finding("fix", "drum, other hose")]).svg).count("FIX") == 3


def test_a_finding_of_a_joint_stands_at_both_its_sides(car):
    """As an audit of joints names them; "hose to cooler" is a name with the same word in it."""
    assert tags(fn.schematic(car, findings=[finding("stop", "feed hose to fuel filter")]).svg) == ["STOP"] * 3
    assert tags(fn.schematic(car, findings=[finding("stop", "return into cell")]).svg) == ["STOP"] * 2
    six = demo("oil_cooler_six")
    told = [tip.split(":")[0] for tip in tips(fn.schematic(six, findings=[finding("stop", "hose to cooler to oil cooler")]).svg) if "STOP" in tip]
    assert sorted(told) == ["hose to cooler", "oil cooler"]


def test_an_audit_of_joints_is_drawn():
    """A 37 degree male end in an O-ring boss: the same thread, and nothing seals (what `mate` says of it)."""
    car = fn.Circuit("wrong seat", fluid="E85")
    car.tank("cell", level="8 in")
    car.run("feed", "cell", "rail", [fn.hose("-6", "3 ft", spec="ptfe", ends=["", "-6 37 flare male"], name="hose"),
                                     fn.filter("1 psi at 100 gph", ends=["-6 O-ring boss female", ""], name="filter")])
    found = fn.audit(car).findings
    assert any(one.severity == "stop" and one.where == "hose to filter" for one in found)
    told = {tip.split(":")[0] for tip in tips(fn.schematic(car, findings=found).svg) if "STOP" in tip}
    assert told == {"hose", "filter"}


def test_findings_of_no_place_stand_in_the_heading(car):
    svg = fn.schematic(car, findings=[finding("watch", "", "the fluid is strange")]).svg
    assert tags(svg) == ["WATCH", "WATCH"] and "the fluid is strange" in " ".join(words(svg))


def test_findings_are_those_of_the_answer_and_of_the_case_when_one_is_given(car, answer):
    everything, hot = fn.schematic(car, answer).svg, fn.schematic(car, answer, case="hot restart").svg
    assert any(one.severity == "watch" and one.where == "regulator" for one in answer.findings)
    assert "WATCH" in tags(everything)
    assert [one for one in answer["hot restart"].findings if one.severity == "watch"] == [] and "WATCH" not in tags(hot)
    assert tags(fn.schematic(car, answer, findings=[]).svg) == []


# Sight without one kind of cone, full strength: matrices on linear sRGB of G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, A physiologically-based
# model for simulation of color vision deficiency, 2009 (from memory).
SIGHT = {"all cones": np.eye(3),
         "no red": [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
         "no green": [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]],
         "no blue": [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]}


def linear(colour):
    """sRGB to linear light, IEC 61966-2-1."""
    parts = np.array([int(colour[place:place + 2], 16) / 255 for place in (1, 3, 5)])
    return np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)


def lab(light):
    """CIE 1976 L*a*b* for a white of D65."""
    to_xyz = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
    ratio = to_xyz @ np.clip(light, 0.0, 1.0) / np.array([0.9505, 1.0, 1.089])
    f = np.where(ratio > (6 / 29) ** 3, np.cbrt(ratio), ratio * (29 / 6) ** 2 / 3 + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


@pytest.mark.parametrize("sight", SIGHT)
def test_colours_of_severities_stay_apart(sight):
    """By at least 15 units of L*a*b*, of which one is about the least that is seen (common practice, no source)."""
    seen = [lab(np.array(SIGHT[sight]) @ linear(SEVERITY_COLOURS[one])) for one in SEVERITIES]
    apart = [np.linalg.norm(one - other) for place, one in enumerate(seen) for other in seen[place + 1:]]
    assert min(apart) > 15.0


@pytest.mark.parametrize("severity", SEVERITIES)
def test_white_words_read_on_every_severity(severity):
    """Contrast of at least 4.5 to 1, WCAG 2.1 success criterion 1.4.3."""
    luminance = np.array([0.2126, 0.7152, 0.0722]) @ linear(SEVERITY_COLOURS[severity])
    assert 1.05 / (luminance + 0.05) >= 4.5


# ---- words from outside ----

def test_names_are_never_markup():
    bad = "<script>alert('x')</script> & \"quoted\""
    car = fn.Circuit(bad, fluid="water")
    car.tank("tank</text>", level="1 m")
    car.run("run <b>", "tank</text>", "ambient", [fn.hose("-8", "3 m", spec="ptfe", name="<svg onload=x>"),
                                                  fn.hose("-8", "3 m", spec="ptfe", name="]]>&amp;")])
    drawing = fn.schematic(car, car.solve(), findings=[finding("fix", "<svg onload=x>", "</title><script>")])
    root = ET.fromstring(drawing.svg)
    assert {one.tag.removeprefix(SVG) for one in root.iter()} <= {"svg", "title", "desc", "rect", "g", "path", "circle", "text"}
    assert not re.search("<script|<svg onload|<b>", drawing.svg)
    assert root.find(f"{SVG}title").text.startswith(bad)
    assert {"tank</text>", "run <b>", "]]>&amp;"} <= set(words(drawing.svg)) and "<svg onload=x>" in " ".join(words(drawing.svg))


def test_letters_that_xml_cannot_hold_are_replaced():
    car = fn.Circuit("bell \x07 and \x00", fluid="water")
    car.tank("drum\x1b", level="1 m")
    car.run("line", "drum\x1b", "ambient", [fn.hose("-8", "3 m", spec="ptfe", name="half \ud800 pair")])
    assert ET.fromstring(fn.schematic(car).svg.encode("utf-8")).find(f"{SVG}title").text.startswith("bell \ufffd and \ufffd")


def test_it_is_told_in_words_too(car, answer):
    root = ET.fromstring(fn.schematic(car, answer).svg)
    assert root.get("role") == "img" and root.find(f"{SVG}title").text == f"{car.name} · {car.fluid.name}"
    told = root.find(f"{SVG}desc").text
    assert "return: from rail to cell through regulator, return elbow, return hose, return port." in told and "WATCH at regulator." in told


def test_the_caution_stands_on_every_sheet(car):
    assert "Engineering estimate; defer to local codes and licensed practice." in words(fn.schematic(car).svg)


# ---- symbols ----

def swirl_pot(size=None, *, name=None):
    """A part that there is no symbol for."""
    numbers = {"bore": 0.05, "length": 0.2, "extra_loss": 0.0, "roughness": 1e-5, "bend_angle": 0.0, "bend_radius": 0.0}
    return Piece([Element("line", numbers)], length=0.2)


def test_a_part_without_a_symbol_is_a_box_with_its_word():
    make = builder(swirl_pot)
    car = fn.Circuit("with a pot", fluid="water")
    car.tank("drum", level="1 m")
    car.run("line", "drum", "ambient", [make("-16", name="first pot"), make("-16")])
    svg = fn.schematic(car, car.solve()).svg
    boxes = [group for group in ET.fromstring(svg).iter(f"{SVG}g") if group.get("class") == "symbol" and group.get("data-key") == "box"]
    assert len(boxes) == 2 and words(svg).count("swirl pot") == 2
    assert "first pot" in words(svg) and "swirl pot -16" in words(svg) and "other part, by its word" in words(svg)
    assert Sheet(svg).troubles() == []


def test_the_key_names_what_is_on_the_sheet_and_no_more(car):
    said = set(words(fn.schematic(car).svg))
    assert {"flexible hose", "filter or strainer", "pump, electric motor", "elbow", "mouth of a line", "injectors", "tank, vented", "pressure gauge",
            "direction of flow", "pilot line, senses only"} <= said
    assert not {"relief valve", "cooler, radiator", "hard line", "lines crossing, not joined", "tee or wye", "other part, by its word"} & said


def test_a_reference_to_the_manifold_is_a_pilot_line_and_one_to_open_air_is_none():
    def keys(reference):
        car = fn.Circuit("rail", fluid="E10")
        car.tank("cell", level="8 in")
        car.run("feed", "cell", "rail", [fn.formula_pump("95 psi", "150 gph")])
        car.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference=reference, wide_open="15 psi at 500 L/h", name="regulator")])
        return {group.get("data-key") for group in ET.fromstring(fn.schematic(car).svg).iter(f"{SVG}g") if group.get("class") == "symbol"}

    assert "bypass_regulator, referenced" in keys("manifold") and "bypass_regulator" in keys("ambient")


# ---- how it is asked for ----

def test_the_room_and_the_function_are_both_to_be_called(car):
    import flarenut.schematic as room

    assert by_its_room(car).svg == fn.schematic(car).svg == room(car).svg


def test_the_same_circuit_gives_the_same_drawing(car):
    code = ("import flarenut as fn; from importlib.resources import files; from hashlib import sha256; "
            "print(sha256(fn.schematic(fn.load(str(files('flarenut') / 'demo/return_style_e85.toml'))).svg.encode()).hexdigest())")
    from hashlib import sha256

    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip()
    assert told == sha256(fn.schematic(car).svg.encode()).hexdigest()


def test_it_shows_itself_and_saves(car, tmp_path):
    drawing = fn.schematic(car)
    assert isinstance(drawing, Schematic) and drawing._repr_svg_() == drawing.svg and car.name in repr(drawing)
    saved = drawing.save(tmp_path / "car.svg")
    assert saved.read_text(encoding="utf-8") == drawing.svg
    with pytest.raises(fn.CircuitError, match="end the name in .svg"):
        drawing.save(tmp_path / "car.png")


def test_of_a_vehicle_there_is_a_drawing_for_each_circuit(tmp_path):
    oil, water = fn.Circuit("oil", fluid="SAE 10W-40"), fn.Circuit("water", fluid="water")
    oil.tank("hot oil", level="1 m", temperature="120 C")
    oil.run("oil side", "hot oil", "ambient", [fn.tube(bore="8 mm", length="2 m", name="inner tube")])
    water.tank("cold water", level="1 m", temperature="20 C")
    water.run("water side", "cold water", "ambient", [fn.tube(bore="12 mm", length="2 m", name="outer tube")])
    bench = fn.Vehicle("bench", oil, water)
    bench.exchanger("double tube", first=("oil", "inner tube"), second=("water", "outer tube"))
    answer = bench.solve()
    drawings = fn.schematic(bench, answer, findings={"oil": [finding("fix", "inner tube")]})
    assert isinstance(drawings, Schematics) and list(drawings) == ["oil", "water"] and "2" not in repr(drawings)
    assert "exchanges heat with oil" in " ".join(words(drawings["water"].svg)) and tags(drawings["oil"].svg) and not tags(drawings["water"].svg)
    assert answer["oil"]["as written"].run("oil side").flow.show() in words(drawings["oil"].svg)
    assert [path.name for path in drawings.save(tmp_path / "sheets")] == ["oil.svg", "water.svg"]
    assert drawings._repr_html_().count("<svg ") == 2
    with pytest.raises(fn.CircuitError, match=r"answer\['its name'\]"):
        fn.schematic(oil, answer)
    with pytest.raises(fn.CircuitError, match="what is drawn is a vehicle"):
        fn.schematic(bench, answer["oil"])
    with pytest.raises(fn.CircuitError, match="did you mean 'oil'"):
        fn.schematic(bench, findings={"oyl": []})


@pytest.mark.parametrize("ask, told", [
    (lambda car, answer: fn.schematic("car"), "is not a circuit"),
    (lambda car, answer: fn.schematic(car, answer, case="idel"), "did you mean 'idle'"),
    (lambda car, answer: fn.schematic(car, case="idle"), "there is no answer that holds it"),
    (lambda car, answer: fn.schematic(car, {"idle": 1}), "not the answer of a circuit"),
    (lambda car, answer: fn.schematic(car, answer, units="imperial"), "write 'us' or 'metric'"),
    (lambda car, answer: fn.schematic(demo("oil_cooler_six"), answer), "the answer knows no place"),
    (lambda car, answer: fn.schematic(car, findings=["hot"]), "give a list of findings"),
    (lambda car, answer: fn.schematic(fn.Circuit("empty", fluid="water")), "nothing to draw"),
])
def test_what_cannot_be_drawn_is_refused_in_words(car, answer, ask, told):
    with pytest.raises(fn.CircuitError, match=re.escape(told)):
        ask(car, answer)


def test_docstring_examples():
    import doctest

    from flarenut.schematic import draw, letters
    from flarenut.schematic import words as texts

    for module in (draw, letters, texts):
        result = doctest.testmod(module)
        assert result.attempted and not result.failed


def test_findings_of_ones_own_may_be_none_of_a_vehicle():
    truck = fn.load(str(Path(__file__).resolve().parents[2] / "docs/guide/examples/truck/vehicle.toml"))
    assert list(fn.schematic(truck, truck.solve(), findings=[])) == list(truck.circuits)
