"""Answers as shown: tables, terminals, HTML; what was not solved shows a cause and no number.

The circuit comes straight from the compiled core, and so do the figures that the cells are set against.
"""

import html
import io
import json
import math
import re
from html.parser import HTMLParser
from pathlib import Path

import flarenut as fn
import pytest
import results_example as example
from flarenut.cli import main
from flarenut.results import Answer
from flarenut.units import Quantity
from results_example import rows_of

PSI = 6894.757293168
AMBIENT = 101325.0


@pytest.fixture(scope="module")
def answer():
    return example.answer()


@pytest.fixture(scope="module")
def half_solved():
    return example.half_solved()


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
    assert "fuel pump suction margin [bar]" in metric and "fuel pump inlet vacuum [bar]" in metric
    assert [row.key for _, rows in answer.table("us").sections for row in rows] == \
           [row.key for _, rows in answer.table("metric").sections for row in rows]


@pytest.mark.parametrize("units", ["us", "metric"])
def test_what_is_of_one_kind_has_one_unit_in_a_table(units):
    """A big pump (300 gal/h) beside small injectors (8 gal/h), a rail at 3 bar beside a tank at 2 kPa. In US units suction keeps its own."""
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
    for units, heading, pascals in (("us", "fuel pump inlet vacuum [inHg]", 3386.389), ("metric", "fuel pump inlet vacuum [bar]", 1e5)):  # as dials have it
        vacuum = rows_of(deep.table(units))[heading]
        assert float(vacuum.cells[0]) == pytest.approx(-deep["idle"].solution.suction("fuel pump").inlet_gauge / pascals, abs=6e-3)
        assert rows_of(flooded.table(units))[heading].cells == ["none"]


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


# ---- what people read first ----

def test_the_readme_shows_what_the_demonstration_prints(capsys, monkeypatch, tmp_path):
    monkeypatch.delenv("COLUMNS", raising=False)
    assert main(["demo", "--out", str(tmp_path)]) == 0
    printed = capsys.readouterr().out
    readme = (Path(__file__).resolve().parents[2] / "README.md").read_text(encoding="utf-8")
    (shown,) = re.findall(r"```text\n(.*?)```", readme, re.DOTALL)

    def certain(text):  # what rounding leaves of the equations hangs on the processor's instructions
        return re.sub(r"\b\d(\.\d)?e-1\d\b", "rounding", text)
    assert certain(printed.partition("\nCautions\n")[0]) == certain(shown)


def test_rows_can_be_chosen_by_name(answer):
    table = answer.table(rows=["rail", "rail.absolute", "feed hose.velocity", "regulator.regime", "feed hose.inlet"])
    rows = rows_of(table)
    assert list(rows) == ["rail pressure [psig]", "rail pressure, absolute [psia]", "feed hose velocity [ft/s]",
                          "regulator regime", "feed hose inlet pressure [psig]"]
    assert table.findings == [] and not table.certificate


def test_the_table_carries_certificate_findings_and_cautions(answer):
    table = answer.table()
    solution = answer["idle"].solution
    assert solution.rung == "cold start" and dict(table.certificate)["how solved"][0] == "from scratch"  # no engine is cold here
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


def test_beside_gauges_it_is_said_once_that_differences_are_of_total_pressure(answer):
    """And only where both stand: a gauge at each end would differ from what is shown by the difference of the speed heads."""
    words = "Drops, rises and losses are of total pressure"
    assert answer.table().text(width=200).count(words) == 1 and words in answer.table("metric").text(width=200)
    assert words not in answer.table(rows=["rail"]).text(width=200) and words in answer.table(rows=["rail", "fuel pump.rise"]).text(width=200)
    part = answer["idle"].part("feed hose")
    total = part.inlet.total.si - part.outlet.total.si
    assert part.drop.si == pytest.approx(total)


# ---- not solved ----

def test_an_unsolved_case_shows_its_cause_and_no_number(half_solved):
    assert not half_solved.converged
    assert math.isnan(half_solved["full power"].at("rail").gauge.si)
    assert str(half_solved["full power"].part("feed hose")) == "not solved"
    table = half_solved.table()
    shown = [(label, cells) for heading, label, cells in table.lines_of_rows() if heading is None]
    assert {(label, cells[1]) for label, cells in shown if cells[1] != "–"} == {("answer", "not solved"), ("how solved", "not solved")}
    assert shown[0] == ("answer", ["solved", "not solved", "solved"]) and all(cells[0] not in ("–", "not solved") for _, cells in shown)
    text = half_solved.table().text(width=200)
    assert text.count("would not settle {1 < 2}") == 1 and "STOP: full power: not solved: the line 'feed hose' would not settle {1 < 2}" in text
    assert "not solved, full power: the line 'feed hose' would not settle {1 < 2}" in half_solved.table(rows=["rail"]).notes  # no findings there
    (finding,) = [one for one in half_solved.findings if one.code == "not solved"]
    assert finding.severity == "stop" and half_solved.findings[0] is finding
    assert finding.sentence() == "not solved: the line 'feed hose' would not settle {1 < 2}"


def test_where_no_case_is_solved_no_unit_stands_without_a_number_and_nothing_is_said_to_close():
    table = two_causes().solve().table()
    shown = {label: cells for heading, label, cells in table.lines_of_rows() if heading is None}
    assert all(set(shown[label]) == {"–"} for label in ("worst residual", "mass closure", "energy closure", "pump inlet vacuum", "pump flow"))
    assert not [label for label, cells in shown.items() if "[" in label and set(cells) == {"–"}]
    assert "\n\n\nWhat to look at" not in table.text()


def two_causes(units=None):
    """Invented: no cooler, and two loads of 100 kW and 200 kW that the sump cannot give off, up to 10 W/K beside them."""
    made = fn.Circuit("short of a cooler (invented)", fluid="SAE 10W-40", invented=True, units=units)
    made.tank("sump", level="5 in", temperature="found", heat="3 kW", heat_capacity="10 kJ/K", heat_loss="10 W/K")
    made.run("round", "sump", "gallery", [fn.displacement_pump("5 cc/rev", speed="1000 rpm", name="pump"), fn.tube(bore="12 mm", length="2 m")])
    made.run("back", "gallery", "sump", [fn.tube(bore="12 mm", length="2 m")])
    for name, heat in (("climb", "100 kW"), ("race", "200 kW"), ("again", "200 kW")):
        made.case(name, air_temperature="20 C", **{"sump.heat": heat})
    return made


@pytest.mark.parametrize("units", ["us", "metric"])
def test_cases_that_fail_of_different_causes_each_say_their_own(units):
    made = two_causes()
    answer = made.solve()
    causes = [answer[name].cause_in(units) for name in ("climb", "race")]
    assert not any(case.converged for case in answer.values()) and causes[0] != causes[1] and answer["again"].cause_in(units) == causes[1]
    stops = [text for severity, text in answer.table(units).findings if severity == "stop"]
    assert sorted(stops) == [f"STOP: climb: not solved: {causes[0]}.", f"STOP: race / again: not solved: {causes[1]}."]
    assert [one.text(units) for one in answer.findings if one.code == "not solved"] == [
        f"STOP: {name}: not solved: {causes[name != 'climb']}." for name in ("climb", "race", "again")]
    sheet = html.unescape(fn.build_sheet(made, units=units).html)
    assert all(sheet.count(f"ot solved: {cause}") == 1 for cause in causes)


def test_an_answer_without_cases_says_so():
    assert "no case to solve" in str(Answer("empty", {}))
    assert json.loads(Answer("empty", {}).to_json())["cases"] == {}


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
    assert "&lt;script&gt;filter pressure difference" in nasty._repr_html_()
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


def test_where_nothing_pumps_the_flow_is_shown_all_the_same():
    """A jet of 2 mm under 2 bar passes 0.6 to 0.65 of what Torricelli's speed would carry through its hole (handbooks, from memory)."""
    bench = fn.Circuit("jet bench", "water", units="metric", invented=True)
    bench.fixed("head", pressure="2 bar")
    bench.run("spray", "head", "ambient", [fn.orifice("2 mm", name="jet")])
    answer = bench.solve()
    rows = {line.split("  ")[1].strip(): line.split()[-1] for line in str(answer.table()).splitlines() if line.startswith("  ") and "[" in line}
    speed = float(rows["jet velocity [m/s]"])
    assert float(rows["spray flow [L/h]"]) == pytest.approx(speed * math.pi / 4 * 2e-3**2 * 3.6e6, rel=5e-3)
    assert 0.58 < speed / math.sqrt(2 * 2e5 / 998.0) < 0.66
    assert " velocity" not in str(example.answer().table())  # where something pumps, it is not asked first


def test_a_sweep_of_what_nothing_pumps_has_its_flow_unasked():
    pytest.importorskip("xarray")
    bench = fn.Circuit("drain", "water", invented=True)
    bench.tank("can", level="0.3 m")
    bench.run("drain", "can", "ambient", [fn.hose(bore="8 mm", length="2 m", rise="-1 m", name="hose")])
    found = fn.sweep(bench, {"can.level": ["0.1 m", "0.3 m"]})
    assert float(found["drain.flow"][1, 0]) == pytest.approx(next(iter(bench.solve().values())).run("drain").flow.si)
    assert "hose.velocity" in found


@pytest.mark.parametrize("watts, cells", [((0.8, 41.7, 11484.0), ["0.00107", "0.0559", "15.4"]), ((0.0, 700.0, 11484.0), ["0", "0.939", "15.4"]),
                                          ((745.0, 7457.0, 11484.0), ["1.0", "10.0", "15.4"])])
def test_a_cell_of_a_row_has_two_figures_or_more(watts, cells):
    """Decimals are those of the largest of a row: 0.056 hp beside 15.4 hp stood as 0.1 hp. 1 hp is 745.7 W."""
    from types import SimpleNamespace

    from flarenut.results.rows import Ask, Row

    cases = [SimpleNamespace(converged=True, power=Quantity(one, "power")) for one in watts]
    assert Row(Ask("cooler.heat", "cooler", lambda case: case.power, {"us": "hp"}), cases, "us").cells == cells
