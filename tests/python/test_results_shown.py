"""Answers as shown: tables, terminals, HTML, JSON and findings; what was not solved shows a cause and no number.

The circuit comes straight from the compiled core, and so do the figures that the cells are set against.
"""

import io
import json
import math
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

import flarenut as fn
import results_example as example
from flarenut import checks
from flarenut.circuit import cases as words_of_cases
from flarenut.cli import main
from flarenut.results import Answer, Finding, Layout, conditions, merged, ranked
from flarenut.units import KINDS, Quantity

AMBIENT = 101325.0
PSI = 6894.757293168


@pytest.fixture(scope="module")
def answer():
    return example.answer()


@pytest.fixture(scope="module")
def half_solved():
    """The same answer with its full-power case not converged."""
    real = example.answer()
    solutions = {name: case.solution for name, case in real.items()}
    solutions["full power"] = example.Unsolved(solutions["full power"])
    return Answer(example.layout(), solutions)


# ---- tables ----

def rows_of(table):
    return {row.heading: row for _, rows in table.sections for row in rows}


def test_the_table_holds_what_builders_ask_first_with_its_unit(answer):
    rows = rows_of(answer.table())
    for heading in ("rail pressure [psig]", "pressure across injectors [psi]", "return back-pressure, after regulator [psig]",
                    "fuel pump flow [gal/h]", "fuel pump pressure rise [psi]", "fuel pump inlet vacuum [inHg]",
                    "fuel pump suction margin [psi]", "manifold pressure [inHg vacuum]", "regulator", "fuel pump"):
        assert heading in rows, heading
    solution = answer["idle"].solution
    across = (solution.pressure_of("rail") - solution.pressure_of("manifold")) / PSI
    assert rows["pressure across injectors [psi]"].cells[0] == f"{across:.1f}"
    assert rows["manifold pressure [inHg vacuum]"].cells == ["17.7", "0", "17.7"]  # 60 kPa over 3386.389 Pa per inHg
    assert rows["regulator"].cells == ["regulating"] * 3
    after = solution.ends("return hose")[0]
    assert rows["return back-pressure, after regulator [psig]"].values[0].si == pytest.approx(after.static - AMBIENT, rel=1e-12)


def test_the_metric_table_says_the_same_in_metric(answer):
    us, metric = rows_of(answer.table("us")), rows_of(answer.table("metric"))
    assert float(metric["rail pressure [barg]"].cells[1]) * 1e5 / PSI == pytest.approx(
        float(us["rail pressure [psig]"].cells[1]), abs=0.15)
    assert "fuel pump suction margin [kPa]" in metric and "fuel pump inlet vacuum [kPa]" in metric
    assert [row.key for _, rows in answer.table("us").sections for row in rows] == \
           [row.key for _, rows in answer.table("metric").sections for row in rows]


@pytest.mark.parametrize("units", ["us", "metric"])
def test_what_is_of_one_kind_has_one_unit_in_a_table(units):
    """A big pump (300 gal/h) beside small injectors (8 gal/h), a rail at 3 bar beside a tank at 2 kPa. Suction keeps its own unit."""
    car = fn.Circuit("large and small (invented)", fluid="gasoline")
    car.tank("cell", level="8 in")
    car.run("feed", "cell", "rail", [fn.formula_pump("95 psi", "500 gph", name="pump"), fn.filter("1 psi at 100 gph"), fn.hose("-10", "9 ft", spec="ptfe")])
    car.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient", wide_open="10 psi at 400 gph", name="regulator"),
                                       fn.hose("-10", "9 ft", spec="ptfe")])
    car.injectors("bank", "rail", count=4, flow="130 cc/min at 3 bar")
    rows = [row for row in rows_of(car.solve().table(units)).values() if isinstance(row.values[0], Quantity)]
    of_kind = {}
    for row in rows:
        if "suction" not in row.label and "vacuum" not in row.label:
            of_kind.setdefault(row.values[0].kind, set()).add(row.unit)
    assert of_kind["volume_flow"] == {"gal/h" if units == "us" else "L/h"} and of_kind["pressure_gauge"] == {"psig" if units == "us" else "barg"}
    assert all(len(found) == 1 for found in of_kind.values())
    cell = next(row for row in rows if row.label == "cell pressure")
    assert float(cell.cells[0]) == pytest.approx(cell.values[0].to(cell.unit), rel=0.005)  # small in its unit, and three figures all the same


def test_an_inlet_above_ambient_has_no_vacuum():
    deep = example.answer({"idle": example.CASES["idle"]}, position=0.8)  # the pump high above the liquid
    flooded = example.answer({"idle": example.CASES["idle"]}, position=-0.5)
    vacuum = rows_of(deep.table())["fuel pump inlet vacuum [inHg]"]
    assert float(vacuum.cells[0]) == pytest.approx(-deep["idle"].solution.suction("fuel pump").inlet_gauge / 3386.389, abs=6e-3)
    assert rows_of(flooded.table())["fuel pump inlet vacuum [inHg]"].cells == ["none"]


def test_a_small_figure_beside_a_large_one_keeps_its_digits(answer):
    flow = rows_of(answer.table("metric"))["injectors flow [L/h]"]
    for value, cell in zip(flow.values, flow.cells):
        assert float(cell) == pytest.approx(value.to("L/h"), abs=0.05)
    assert len({len(cell.partition(".")[2]) for cell in flow.cells}) == 1  # and the row lines up


def test_text_columns_line_up_and_split_where_the_width_ends(answer):
    lines = answer.table(rows=["rail", "feed hose.drop"]).text().splitlines()
    head = next(line for line in lines if "hot restart" in line)
    row = next(line for line in lines if "rail pressure" in line)
    assert len(head) == len(row)
    narrow = answer.table(rows=["rail"]).text(width=45)
    assert max(map(len, narrow.splitlines()[:8])) <= 45
    for case in example.CASES:
        assert narrow.count(case) == 1


@pytest.mark.parametrize("width", [60, 80, 100, 140])
@pytest.mark.parametrize("units", ["us", "metric"])
def test_at_any_width_every_cell_stands_under_its_case(answer, width, units):
    table = answer.table(units)
    lines = table.text(width).splitlines()
    assert max(map(len, lines)) <= width
    heads = [i - 1 for i, line in enumerate(lines) if line and set(line) == {"-"}]
    found = []
    for start, after in zip(heads, [*heads[1:], len(lines)]):
        ends = {i: lines[start].index(case) + len(case) for i, case in enumerate(table.cases) if case in lines[start]}
        found += ends
        block, at = lines[start + 2:after], 0
        for _, rows in table.sections:
            for row in rows:
                words = row.heading.split()
                at = next(i for i in range(at, len(block)) if block[i].split()[:1] == words[:1])
                last = next(i for i in range(at, at + 4) if all(block[i][:end].endswith(row.cells[case]) for case, end in ends.items()))
                at = last + 1
    assert found == [0, 1, 2]  # every case once, in order


def test_a_long_name_wraps_with_its_unit_and_a_long_cell_in_its_column():
    names = {"return hose": "x" * 70}
    long = example.answer(changes={"titles": names, "circuit": "w" * 90})
    assert max(map(len, long.table(rows=["x" * 70 + ".drop", "rail"]).text(60).splitlines())) <= 60
    narrow = long.table().text(45).splitlines()
    assert any(line.startswith("  injectors [psi]") for line in narrow) and not any(line.lstrip().startswith("[") for line in narrow)


def test_a_terminal_decides_the_width(answer, monkeypatch):
    monkeypatch.setenv("COLUMNS", "72")
    assert max(map(len, str(answer.table()).splitlines())) <= 72
    monkeypatch.delenv("COLUMNS")
    assert str(answer.table()) == answer.table().text(110)


def test_rich_breaks_no_row_on_a_narrow_terminal(answer):
    rich_console = pytest.importorskip("rich.console")
    console = rich_console.Console(width=70, record=True, file=io.StringIO())
    console.print(answer.table())
    assert [line.rstrip() for line in console.export_text().splitlines()] == answer.table().text(70).splitlines()


# ---- conditions ----

def circuit_with(**conditions):
    car = fn.Circuit("bench (invented)", fluid=fn.constant_fluid(density="740 kg/m3", viscosity="0.5 cP"))
    car.tank("cell", level="9 in")
    car.run("feed", "cell", "rail", [fn.filter(drop="1.2 psi at 100 gph", name="main filter"), fn.hose("-6", "4 ft", spec="ptfe", name="line")])
    car.injectors("bank", "rail", count=6, flow="1000 cc/min at 3 bar")
    car.case("one", **conditions)
    car.case("other")
    return car


def cells_of(car, units):
    return {row.key.removeprefix("condition."): row.cells for row in rows_of(car.solve().table(units)).values()
            if row.key.startswith("condition.")}


SHOWN = {  # condition -> as written, in US units, in metric; 1 psi is 6.894757 kPa, 1 inHg 3.386389 kPa (NIST SP 811, from memory)
    "duty": (0.03, "3 %", "3 %"),
    "manifold": ("10 psi boost", "10 psi boost", "0.69 bar boost"),
    "fluid_temperature": ("30 C", "86 F", "30 C"),
    "tank_level": ("2 in", "2 in", "51 mm"),
    "tank_vent": ("-1 psi", "-1 psi", "6.9 kPa vacuum"),
    "altitude": ("5000 ft", "5000 ft", "1524 m"),
    "filter_loading": (3, "3 ×", "3 ×"),
    "line.length": ("4 ft", "4 ft", "1.2 m"),
    "main filter.drop": ("5 psi at 90 gph", "5 psi at 90 gph", "34 kPa at 341 L/h"),
    "line.size": ("-8", "-8", "-8"),
}


@pytest.mark.parametrize("word", SHOWN)
def test_a_condition_has_its_unit_in_the_system_of_the_table(word):
    written, us, metric = SHOWN[word]
    car = circuit_with(**{word: written})
    assert cells_of(car, "us")[word][0] == us
    assert cells_of(car, "metric")[word][0] == metric


def test_words_of_pressure_stay_through_a_change_of_units():
    assert conditions.said("manifold", "18 inHg vacuum", "metric") == "61 kPa vacuum"
    assert conditions.said("manifold", "60 kPa vacuum", "us") == "18 inHg vacuum"
    assert conditions.said("manifold", "1.2 bar boost", "us") == "17 psi boost"
    assert conditions.said("volts", "13.5", "us") == conditions.said("pump.volts", "13.5", "metric") == "13.5 V"
    assert conditions.said("ambient_pressure", "90 kPaa", "us") == "13.1 psia"


@pytest.mark.parametrize("written, us, metric", [("0 ft", "0 ft", "0 m"), ("0 m", "0 ft", "0 m"), ("2 ft", "2 ft", "0.61 m"), ("-50 ft", "-50 ft", "-15 m"),
                                                 ("1200 m", "3937 ft", "1200 m")])
def test_an_altitude_is_told_in_metres_or_feet_however_low(written, us, metric):
    assert [conditions.said("altitude", written, system) for system in ("us", "metric")] == [us, metric]
    assert conditions.said("tank_level", "0 ft", "metric") == "0 mm"


def test_what_a_case_does_not_say_is_shown_as_it_was_solved_with():
    car = circuit_with(tank_level="2 in", duty="85 %")
    cells = cells_of(car, "metric")
    assert cells["tank_level"] == ["51 mm", "229 mm"]  # 9 in
    assert cells["duty"] == ["85 %", "100 %"]
    assert cells_of(circuit_with(**{"cell.level": "2 in"}), "us")["cell.level"] == ["2 in", "9 in"]
    assert cells_of(circuit_with(acceleration="0.5 g"), "us")["acceleration"] == ["0.5 g", "0 g"]
    assert cells_of(circuit_with(**{"line.length": "4 ft"}), "us")["line.length"] == ["4 ft", conditions.AS_BUILT]


def pumped(pump, **conditions):
    """A case that says something of a pump, one that says the same as the circuit does, and one that says nothing."""
    car = fn.Circuit("bench (invented)", fluid=fn.constant_fluid(density="740 kg/m3", viscosity="0.5 cP"))
    car.tank("cell", level="9 in")
    car.run("feed", "cell", "ambient", [pump, fn.orifice("2 mm", name="spill")])
    car.case("said", **conditions)
    car.case("other")
    return car


CHART = [["0 L/h", "95 psi"], ["255 L/h", "60 psi"], ["340 L/h", "40 psi"]]
DRIVEN = {  # pump, its own word, what the circuit has
    "volts at the battery": (lambda: fn.electric_pump(CHART, volts_lost="0.7 V", name="pump"), "volts", "13.5 V"),
    "volts of a formula": (lambda: fn.formula_pump("95 psi", "420 L/h", volts="12.6 V", volts_lost="0.4 V", name="pump"), "volts", "12.6 V"),
    "speed of the engine": (lambda: fn.displacement_pump("10 cc/rev", speed="3000 rpm", ratio=0.5, name="pump"), "speed", "3000 rpm"),
}


@pytest.mark.parametrize("of_all", [False, True])
@pytest.mark.parametrize("which", DRIVEN)
def test_what_drives_a_pump_is_shown_as_it_would_be_written_and_not_as_the_pump_has_it(which, of_all):
    pump, word, value = DRIVEN[which]
    name = word if of_all else f"pump.{word}"
    car = pumped(pump(), **{name: value})
    said, other = (case.solution for case in car.solve().values())
    assert said.flow_of("pump") == other.flow_of("pump")
    assert cells_of(car, "us")[name] == [value, value]


def test_a_wire_or_pulley_that_only_one_case_changes_counts_in_that_case_alone():
    car = pumped(DRIVEN["volts at the battery"][0](), **{"pump.volts_lost": "2 V"})
    car.case("third", **{"pump.volts": "11 V"})
    assert cells_of(car, "us")["pump.volts"] == ["13.5 V", "13.5 V", "11 V"]


def test_a_pump_whose_wiring_leaves_it_no_volts_tells_none():
    car = pumped(fn.electric_pump(CHART, volts="0.5 V", volts_lost="0.7 V", name="pump"), **{"pump.volts": "13.5 V"})
    assert cells_of(car, "us")["pump.volts"] == ["13.5 V", conditions.AS_BUILT]


def test_pumps_of_different_volts_are_told_by_none():
    car = pumped(fn.electric_pump(CHART, volts="12 V", name="pump"), volts="13.5 V")
    car.run("second", "cell", "ambient", [fn.electric_pump(CHART, volts="13 V"), fn.orifice("2 mm")])
    assert cells_of(car, "us")["volts"] == ["13.5 V", conditions.AS_BUILT]


KINDS_BY_NATURE = {"altitude": "length", "manifold": "pressure_gauge", "acceleration": "acceleration", "power": "power",
                   "specific_consumption": "specific_consumption"}  # words that the circuit reads one by one


def test_every_word_of_a_case_has_the_kind_that_it_is_read_as():
    kinds = {word: kind for word, (kind, _) in words_of_cases.DRIVES.items()}
    kinds |= {word: kind for table in (words_of_cases.SURROUNDINGS, words_of_cases.TANKS) for word, (_, kind) in table.items()}
    assert set(KINDS_BY_NATURE) == set(words_of_cases.OTHERS) and not set(kinds) & set(KINDS_BY_NATURE)
    wanted = {**kinds, **KINDS_BY_NATURE}
    assert set(wanted) == set(words_of_cases.WORDS)
    assert {word: conditions.KINDS_OF_WORDS.get(word) for word in wanted} == {**wanted, "filter_loading": None}


@pytest.mark.parametrize("word", KINDS_BY_NATURE)
def test_the_circuit_reads_a_word_as_that_kind_and_no_other(word):
    right, wrong = KINDS[KINDS_BY_NATURE[word]].example, "3 mL" if word != "power" else "3 mm"
    beside = {"power": {"specific_consumption": "0.6 lb/hp/h"}, "specific_consumption": {"power": "600 hp"}}.get(word, {})
    words_of_cases.overrides_of(circuit_with(), {word: right, **beside}, "case 'one'")
    with pytest.raises(ValueError, match=f"'{word}'"):
        words_of_cases.overrides_of(circuit_with(), {word: wrong, **beside}, "case 'one'")


def test_conditions_are_shown_of_a_case_without_an_answer():
    real = example.answer({"idle": example.CASES["idle"]})
    lost = Answer(example.layout(), {"idle": example.Unsolved(real["idle"].solution)}, {"idle": {"volts": "13.5"}})
    rows = rows_of(lost.table())
    assert rows["volts"].cells == ["13.5 V"] and rows["rail pressure"].cells == ["not solved"]


def test_the_ambient_is_said_in_the_units_of_the_table_first(answer):
    assert "Ambient 14.70 psia = 101.3 kPaa." in "\n".join(answer.table("us").notes)
    up = "\n".join(circuit_with(altitude="5000 ft").solve().table("metric").notes)
    assert "Ambient one: 84.3 kPaa = 12.23 psia; other: 101.3 kPaa = 14.70 psia." in up  # US Standard Atmosphere 1976, from memory
    assert "Ambient 101.3 kPaa = 14.70 psia." in "\n".join(answer.table("metric").notes)


def test_a_flow_that_is_drawn_says_what_a_volume_counts_as(answer):
    car = fn.Circuit("bowl (invented)", fluid="water")
    car.tank("drum", level="1 m")
    car.junction("bowl", demand="9 gph")
    car.run("feed", "drum", "bowl", [fn.hose("-6", "3 m", spec="ptfe")])
    (note,) = [note for note in car.solve().table().notes if "15 C" in note]
    assert "bowl" in note and "by volume" in note
    assert not any("15 C" in note for note in answer.table().notes)


def test_the_table_ranks_what_the_parts_of_the_feed_cost(answer):
    rows = rows_of(answer.table())
    (heading, asked) = next((heading, rows) for heading, rows in answer.table().sections if heading.startswith("Where"))
    assert heading == "Where the pressure goes, tank to rail (height included)"
    feed = answer["idle"].feed
    for one in feed.shares:
        cell = rows[f"{one.part} [psi]"].cells[0]
        number, share, sign = cell.split()
        assert float(number) == pytest.approx(one.loss.to("psi"), rel=0.02, abs=6e-4) and sign == "%"
        assert float(share) == pytest.approx(100 * one.share, abs=0.51)
    most = [max(value.si for value in row.values) for row in asked]
    assert most == sorted(most, reverse=True)


def test_two_rails_alike_are_one_way_in_every_case():
    car = fn.Circuit("two rails (invented)", fluid="water")
    car.tank("drum", level="1 m", vent="3 bar")
    car.run("feed", "drum", "split", [fn.hose("-8", "3 m", spec="ptfe")])
    car.tee("tee", "split", "left in", "right in", size="-8")
    for side, length in (("left", "0.5 m"), ("right", "2 m")):
        car.run(side, f"{side} in", f"{side} rail", [fn.hose("-6", length, spec="ptfe")])
        car.injectors(f"{side} bank", f"{side} rail", count=4, flow="1000 cc/min at 3 bar")
    car.case("some", duty="10 %")
    car.case("most", duty="95 %")
    (heading, rows) = next(section for section in car.solve().table().sections if section[0].startswith("Where"))
    assert heading == "Where the pressure goes, drum to left rail"
    assert all("–" not in cell for row in rows for cell in row.cells)
    assert not any("height" in row.heading for row in rows)  # all on one level: nothing to say


def test_the_json_holds_the_same_shares(answer):
    feed = json.loads(answer.to_json())["cases"]["idle"]["feed"]
    assert [(one["part"], one["friction_loss_Pa"]) for one in feed["parts"]] == [(one.part, one.loss.si) for one in answer["idle"].feed.shares]
    assert feed["height_loss_Pa"] is None


# ---- what people read first ----

def test_the_readme_shows_what_the_demonstration_prints(capsys, monkeypatch, tmp_path):
    monkeypatch.delenv("COLUMNS", raising=False)
    assert main(["demo", "--out", str(tmp_path)]) == 0
    printed = capsys.readouterr().out
    readme = (Path(__file__).resolve().parents[2] / "README.md").read_text(encoding="utf-8")
    (shown,) = re.findall(r"```text\n(.*?)```", readme, re.DOTALL)
    assert printed.partition("\nCautions\n")[0] == shown


def test_rows_can_be_chosen_by_name(answer):
    table = answer.table(rows=["rail", "rail.absolute", "feed hose.velocity", "regulator.regime", "feed hose.inlet"])
    rows = rows_of(table)
    assert list(rows) == ["rail pressure [psig]", "rail pressure, absolute [psia]", "feed hose velocity [ft/s]",
                          "regulator regime", "feed hose inlet [psig]"]
    assert table.findings == [] and not table.certificate


def test_the_table_carries_certificate_findings_and_cautions(answer):
    table = answer.table()
    solution = answer["idle"].solution
    assert dict(table.certificate)["solved by"][0] == solution.rung
    assert dict(table.certificate)["iterations"][0] == str(solution.iterations)
    text = table.text()
    assert "What to look at, worst first" in text and "Cautions" in text and "engineering estimate" in text
    assert answer.certificate["idle"]["residual"] == solution.residual <= 1e-9
    assert answer.certificate["idle"]["mass_closure"] <= 1e-12


def test_rich_renders_the_same_cells(answer):
    rich_console = pytest.importorskip("rich.console")
    console = rich_console.Console(width=140, record=True, file=io.StringIO())
    console.print(answer.table())
    text = console.export_text()
    for row in rows_of(answer.table()).values():
        assert row.heading in text
        assert all(cell in text for cell in row.cells)


# ---- not solved ----

def test_an_unsolved_case_shows_its_cause_and_no_number(half_solved):
    assert not half_solved.converged
    assert math.isnan(half_solved["full power"].at("rail").gauge.si)
    assert str(half_solved["full power"].part("feed hose")) == "not solved"
    for row in rows_of(half_solved.table()).values():
        assert row.cells[1] == "not solved" and row.cells[0] != "not solved"
    text = half_solved.table().text(width=200)
    assert text.count("would not settle {1 < 2}") == 1 and "STOP: full power: not solved: the line 'feed hose' would not settle {1 < 2}" in text
    assert "not solved, full power: the line 'feed hose' would not settle {1 < 2}" in half_solved.table(rows=["rail"]).notes  # no findings there
    (finding,) = [one for one in half_solved.findings if one.code == "not solved"]
    assert finding.severity == "stop" and half_solved.findings[0] is finding
    assert finding.sentence() == "not solved: the line 'feed hose' would not settle {1 < 2}"


def test_an_unsolved_case_is_null_in_json(half_solved):
    case = json.loads(half_solved.to_json())["cases"]["full power"]
    assert case["certificate"]["status"] == "not converged"
    assert case["certificate"]["cause"] == "the line 'feed hose' would not settle {1 < 2}"
    rail, hose = case["junctions"]["rail"], case["parts"]["feed hose"]
    assert rail["gauge_pressure_Pa"] is None and rail["total_pressure_Pa_abs"] is None
    assert hose["mass_flow_kg_per_s"] is None and hose["regime"] is None and hose["ends"][0]["velocity_m_per_s"] is None
    assert case["parts"]["fuel pump"]["suction"]["margin_Pa"] is None


def test_an_answer_without_cases_says_so():
    assert "no case to solve" in str(Answer("empty", {}))
    assert json.loads(Answer("empty", {}).to_json())["cases"] == {}


# ---- JSON ----

UNIT_ENDINGS = ("_Pa", "_Pa_abs", "_m", "_m_per_s", "_kg_per_s", "_m3_per_s", "_K", "_Pa_s", "_kg_per_m3")
BARE_NUMBERS = {"reynolds", "iterations", "evaluations", "residual", "mass_closure", "flarenut_answer", "si", "share"}


def numbers_in(node, key=""):
    if isinstance(node, dict):
        for name, value in node.items():
            yield from numbers_in(value, name)
    elif isinstance(node, list):
        for value in node:
            yield from numbers_in(value, key)
    elif isinstance(node, (int, float)) and not isinstance(node, bool):
        yield key, node


def test_json_is_si_and_every_number_says_its_unit(answer):
    found = json.loads(answer.to_json())
    case, solution = found["cases"]["idle"], answer["idle"].solution
    assert case["junctions"]["rail"]["total_pressure_Pa_abs"] == solution.pressure_of("rail")
    assert case["parts"]["regulator"]["mass_flow_kg_per_s"] == solution.flow_of("regulator")
    assert case["certificate"]["iterations"] == solution.iterations
    assert found["runs"] == example.RUNS and found["invented"] is True
    for key, _ in numbers_in(found):
        assert key in BARE_NUMBERS or key.endswith(UNIT_ENDINGS), key
    assert all(one["value"] is None or one["value"]["unit"] for one in found["findings"])
    assert found == json.loads(json.dumps(answer.to_dict()))


def test_mass_closes_in_the_json_at_every_free_place(answer):
    case = json.loads(answer.to_json())["cases"]["full power"]
    into = dict.fromkeys(case["junctions"], 0.0)
    for part in case["parts"].values():
        for end in part["ends"]:
            into[end["junction"]] -= end["mass_flow_in_kg_per_s"]
    largest = max(abs(part["mass_flow_kg_per_s"]) for part in case["parts"].values())
    for name, balance in into.items():
        if not case["junctions"][name]["held"]:
            assert abs(balance) <= 1e-12 * largest


# ---- HTML ----

class Balanced(HTMLParser):
    """Fails on tags that do not close in order; collects what would be fetched."""

    def __init__(self):
        super().__init__()
        self.open, self.fetched = [], []

    def handle_starttag(self, tag, attributes):
        self.open.append(tag)
        self.fetched += [name for name, _ in attributes if name in ("src", "href")]

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


def test_html_is_well_formed_fetches_nothing_and_escapes(answer):
    nasty = example.answer(changes={"circuit": "<b>& 'wagon'", "titles": {"filter": "<script>filter"}})
    for shown in (answer._repr_html_(), nasty._repr_html_(), answer.table(rows=["rail"])._repr_html_()):
        reader = Balanced()
        reader.feed(shown)
        reader.close()
        assert reader.open == [] and reader.fetched == [] and "url(" not in shown
    assert "&lt;script&gt;filter drop" in nasty._repr_html_()
    assert "<script>" not in nasty._repr_html_() and "<b>" not in nasty._repr_html_()
    assert "rail pressure [psig]" in answer._repr_html_() and "Cautions" in answer._repr_html_()


def test_a_display_never_raises():
    class Broken:
        converged, status, ambient = True, "converged", AMBIENT

        def __getattr__(self, name):
            raise RuntimeError("core <gone>")

    broken = Answer("broken", {"idle": Broken()})
    assert "could not be shown: core &lt;gone&gt;" in broken._repr_html_()
    assert "broken" in repr(broken)


def test_a_circuit_says_what_is_in_it():
    car = fn.Circuit("wagon <1>", fluid="E85", invented=True)
    assert repr(car) == "<circuit 'wagon <1>': E85, 0 runs, 0 parts, 0 places, 0 cases>" and "<1>" not in car._repr_html_()
    car.tank("cell", level="8 in")
    car.run("feed", "cell", "rail", [fn.hose("-8", "11 ft", spec="ptfe", name="feed hose"), fn.filter("1 psi at 100 gph")])
    car.injectors("bank", "rail", count=4, flow="440 cc/min at 3 bar")
    car.case("idle", duty="3 %")
    assert repr(car) == "<circuit 'wagon <1>': E85, 1 run, 3 parts, 3 places, 1 case>"  # the manifold is a place
    page = car._repr_html_()
    for words in ("wagon &lt;1&gt;", "invented", "feed: cell → rail, hose &#x27;feed hose&#x27;, filter", "bank: rail, manifold", "idle"):
        assert words in page
    assert "http" not in page and not re.search(r"<(script|link|img)", page)


# ---- findings as data ----

def test_findings_rank_by_severity_then_by_how_far_they_are_over():
    made = [Finding("a", "watch", "x", "idle", "", hurt=9.0), Finding("b", "stop", "x", "idle", "", hurt=0.1),
            Finding("c", "watch", "x", "idle", "", hurt=10.0), Finding("a", "watch", "x", "full", "", hurt=20.0)]
    assert [(one.code, one.case) for one in ranked(made)] == [("b", "idle"), ("a", "full"), ("c", "idle"), ("a", "idle")]
    assert [(one.code, cases) for one, cases in merged(made)] == [("b", ["idle"]), ("a", ["full", "idle"]), ("c", ["idle"])]
    apart = [Finding("rise", "watch", "regulator", "idle", "{value}, wide open", Quantity(4e4, "pressure_difference"), hurt=2.0),
             Finding("rise", "watch", "regulator", "full", "{value}, still holds", Quantity(3e4, "pressure_difference"), hurt=1.0),
             Finding("rise", "watch", "regulator", "hot", "{value}, still holds", Quantity(2e4, "pressure_difference"), hurt=0.5)]
    assert [one.text(cases=cases) for one, cases in merged(apart)] == [
        "WATCH: regulator, idle: 5.80 psi, wide open.", "WATCH: regulator, full (worst) / hot: 4.35 psi, still holds."]
    with pytest.raises(ValueError, match="severity 'bad' of finding 'a' is not one of stop, fix, watch, note"):
        Finding("a", "bad", "x", "idle", "")


def test_what_holds_of_two_places_alike_is_said_once_and_names_both():
    def of(where, case, number):
        return Finding("high", "fix", where, case, "{value} across", Quantity(number, "pressure_difference"), cure="a regulator")

    alike = [of(bank, case, number) for bank in ("left bank", "right bank") for case, number in (("idle", 8e5), ("hot", 7e5))]
    (line,) = [one.text(cases=cases) for one, cases in merged(alike)]
    assert line == "FIX: left bank, right bank, idle (worst) / hot: 116 psi across. Cure: a regulator."  # 8e5 Pa / 6894.757
    assert len(merged([of("left bank", "idle", 8e5), of("right bank", "idle", 7e5)])) == 2  # not the same number
    assert len(merged([of("left bank", "idle", 8e5), of("right bank", "hot", 8e5)])) == 2  # not the same case


def test_a_finding_shows_value_and_limit_in_one_unit():
    finding = Finding("return rise", "watch", "regulator", "idle", "{value} over {limit}",
                      Quantity(168e3, "pressure_difference"), Quantity(20.7e3, "pressure_difference"))
    assert finding.sentence("metric") == "1.68 bar over 0.207 bar"
    vacuum = Finding("inlet", "fix", "pump", "idle", "{value} beyond {limit}",
                     Quantity(-9e3, "pressure_gauge"), Quantity(-6772.778, "pressure_gauge"))
    assert vacuum.sentence("us") == "2.66 inHg vacuum beyond 2.00 inHg vacuum"


def test_findings_of_ones_own_replace_those_of_the_rules(answer):
    mine = [Finding("mine", "note", "rail", "idle", "looked at")]
    other = answer.with_findings(mine)
    assert other.findings == mine and other["full power"].findings == []
    assert other["idle"].solution is answer["idle"].solution
    assert answer.findings == checks.review(answer)


def test_a_layout_is_no_more_than_a_name_at_the_least():
    solution = example.answer()["idle"].solution
    bare = Answer("just solved", {"idle": solution})
    assert isinstance(bare.layout, Layout) and bare.circuit == "just solved"
    assert "rail pressure [psig]" in str(bare.table())
