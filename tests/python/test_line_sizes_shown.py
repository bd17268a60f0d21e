"""The table of line sizes as it is shown and kept: text, HTML, CSV; and the guide that speaks of it."""

import csv
import re
from importlib.resources import files
from pathlib import Path

import pytest

import flarenut as fn
from flarenut.checks import Limits

PSI = 6894.757293168361
GUIDE = Path(__file__).resolve().parents[2] / "docs/guide/line_sizes.md"


def demo():
    return fn.load(str(files("flarenut").joinpath("demo/return_style_e85.toml")))


@pytest.fixture(scope="module")
def table():
    return fn.line_sizes(demo(), "return hose")


@pytest.mark.parametrize("width", [60, 80, 110, 160])
def test_the_text_fits_and_every_column_has_its_unit(table, width):
    text = table.text(width)
    assert max(map(len, text.splitlines())) <= width
    for unit in ("[in]", "[psig]", "[psi]", "[inHg]", "[F]", "[ft/s]", "[in3]"):
        assert unit in text
    metric = table.text(width, units="metric")
    for unit in ("[mm]", "[barg]", "[bar]", "[C]", "[m/s]", "[mL]"):
        assert unit in metric and "kPa" not in metric
    assert "invented" in text and "at most 3.00" in text and "common practice, no source" in " ".join(text.split())


def test_html_holds_every_number_and_no_markup_of_a_name():
    car = demo()
    car.name = "<b>invented & loud</b>"
    page = fn.line_sizes(car, "return hose")._repr_html_()
    assert "&lt;b&gt;invented &amp; loud&lt;/b&gt;" in page and "<b>" not in page
    assert page.count("<tr") == 10 and "smallest that passes all else" in page and "Smallest that passes all else: -8 ptfe" in page and "3.65 (-0.646)" in page
    assert "http" not in page and "<script" not in page


def left_to(row, key):
    return row.cells[key].margin.to("psi")


def test_what_to_do_stands_above_the_table(table):
    left_out, first, second, third, *_ = table.summary()
    assert left_out.startswith("No size keeps the limit of rise over setting (at most 4.00 psi), nor would a line that lost nothing")  # once, and first
    assert table.text(200).count("rise over setting (at most") == 1 and "not of this line" not in table.text(200)
    text, page = table.text(118), table.html()
    assert first == "Smallest that passes all else: -8 ptfe, bore 0.406 in."
    assert second == f"Return back-pressure: {left_to(table.row('-8'), 'back_pressure'):.2f} psi left to its limit of 3.00 psi, in idle."
    over, back = (-left_to(table.row("-6"), key) for key in ("rise_over_setting", "back_pressure"))
    assert third == f"Next smaller, -6 ptfe (now): fails rise over setting by {over:.2f} psi, in idle; return back-pressure by {back:.3f} psi, in idle."
    assert re.search(r'font-weight:600">(.+?)<', page.partition("rise over setting (")[2])[1] == first
    for shown, begins in ((text, "-3 ptfe"), (page, "<table")):
        assert 0 < shown.index(first) < shown.index(second) < shown.index("Next smaller") < shown.index(begins)
    assert table.summary("metric")[2].startswith("Return back-pressure: 0.143 bar left to its limit of 0.207 bar")  # 2.08 and 3 psi
    assert max(map(len, table.text(60).splitlines())) <= 60


def test_the_line_as_it_is_and_tables_without_a_size_that_passes_are_told_of():
    wide = demo()
    wide.change("return hose", size="-16")
    found = fn.line_sizes(wide, "return hose", ["-6", "-8", "-16"]).summary()
    assert found[1].startswith("Smallest that passes all else: -8 ptfe") and found[4] == "As it is, -16 ptfe (now): passes all else."
    narrow = fn.line_sizes(demo(), "return hose", ["-3", "-4"]).summary()
    assert narrow[0].startswith("None of these sizes passes: try wider ones") and narrow[-1].startswith("The widest, -6 ptfe (now): fails ")
    assert not any("As it is" in line for line in narrow)
    wide.change("return hose", size="-8")
    least = fn.line_sizes(wide, "return hose", ["-8", "-10"]).summary()
    assert "No smaller one was tried." in least and not any("Next smaller" in line for line in least)
    feed = fn.line_sizes(demo(), "feed hose").summary()
    assert any(line.startswith("As it is, -8 ptfe (now): ") for line in feed)


def test_each_specification_has_its_smallest_and_one_is_the_smallest_of_all():
    table = fn.line_sizes(demo(), "return hose", specs=["ptfe", "full-size", "tube"])
    best = min((table.smallest(spec) for spec in table.specs), key=lambda row: row.bore.si)
    _, first, *others = table.summary()
    assert first == f"Smallest bore that passes all else, of all specifications: {best.size} {best.spec}, bore {best.bore.to('in'):.3f} in."
    assert [line.partition(":")[0] for line in others[:3]] == table.specs
    marks = [line for line in " ".join(table.text(118).split()).split("<- ")[1:]]
    assert len(marks) == 3 and all(mark.startswith(f"smallest {spec} that passes") for mark, spec in zip(marks, table.specs, strict=True))
    assert [", and the smallest bore of all" in mark for mark in marks] == [spec == best.spec for spec in table.specs]


def test_the_csv_holds_the_same_numbers(table, tmp_path):
    table.to_csv(tmp_path / "sizes.csv", units="metric")
    rows = list(csv.DictReader((tmp_path / "sizes.csv").read_text(encoding="utf-8").splitlines()))
    assert len(rows) == len(table.rows)
    for found, row in zip(rows, table.rows):
        assert float(found["return back-pressure [bar]"]) == pytest.approx(row.cells["back_pressure"].value.si / 1e5, rel=1e-8)
        assert float(found["return back-pressure, margin [bar]"]) == pytest.approx((3.0 * PSI - row.cells["back_pressure"].value.si) / 1e5, rel=1e-8)
        assert float(found["rail pressure, margin [bar]"]) == pytest.approx(row.cells["pressure"].margin.si / 1e5, rel=1e-8)
        assert found["rail pressure, case"] == "full power" and float(found["liquid in the line [mL]"]) == pytest.approx(row.cells["volume"].value.si * 1e6, rel=1e-8)


def test_the_code_and_the_table_of_the_guide(tmp_path, monkeypatch, capsys):
    pytest.importorskip("xarray", reason="the guide makes a Dataset")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "120")
    text = GUIDE.read_text(encoding="utf-8")
    names, printed = {}, []
    for block in re.findall(r"```python\n(.*?)```", text, re.DOTALL):
        exec(compile(block, GUIDE.name, "exec"), names)  # noqa: S102 - our own text
        printed.append(capsys.readouterr().out)
    shown = re.search(r"```text\n(.*?)```", text, re.DOTALL)[1]
    assert shown.split() == printed[0].split()
    assert "gallery" in printed[4] and (tmp_path / "return_hose.csv").exists() and (tmp_path / "return-sizes.png").stat().st_size > 10_000


def test_a_stop_that_no_size_cures_stands_in_full_though_a_column_tells_of_it():
    car = fn.Circuit("hot ethanol", fluid="E10", invented=True)
    car.tank("tank", level="6 in", height="-4 in")
    car.junction("rail", height="24 in")
    car.run("feed", "tank", "rail", [fn.formula_pump("110 psi", "140 gph", through="58 psi at 75 gph", volts_lost="0.5 V", name="pump"),
                                     fn.hose("-6", "14 ft", spec="ptfe", name="feed hose")])
    car.run("return", "rail", "tank", [fn.bypass_regulator("58 psi", reference="manifold", wide_open="30 psi at 120 gph", name="reg"),
                                       fn.hose("-6", "14 ft", spec="ptfe", name="return hose")])
    car.injectors("bank", "rail", count=4, flow="650 cc/min at 3 bar")
    car.fuel_cases()
    stops = [one for one in car.solve().findings if one.severity == "stop" and "boils in the tank" in str(one)]
    table = fn.line_sizes(car, "feed hose", ["-4", "-6"], specs="ptfe")
    told = " ".join(table.text(110).split())
    assert stops and "Whatever the size of this line, and left out below: STOP" in told and "boils in the tank" in told
    drawn = " ".join(text.get_text() for text in fn.size_picture(table).texts).replace("\n", " ")
    assert "Whatever the size of this line, STOP" in drawn and "hot restart" in drawn


def suction(outside="30 mm", wall="1.5 mm"):
    """Invented: cold, thick oil through a pick-up pipe wider than any metric tube that is listed."""
    oil = fn.Circuit("thick oil (invented)", fluid="SAE 10W-40", fluid_temperature="-5 C", invented=True, units="metric")
    oil.tank("sump", level="100 mm")
    oil.run("suction", "sump", "gallery", [fn.tube(outside, "0.6 m", wall=wall, name="pick-up pipe"),
                                           fn.displacement_pump("16 cc/rev", speed="2500 rpm", name="pump"), fn.orifice("6 mm", name="jet")])
    oil.run("back", "gallery", "sump", [fn.tube("12 mm", "0.5 m", wall="1 mm")])
    oil.case("cold")
    return oil


@pytest.fixture(scope="module")
def ends_below():
    return fn.line_sizes(suction(), "pick-up pipe", specs="metric tube")


def test_rows_stand_by_bore_though_the_list_ends_below_the_line_as_it_is(ends_below):
    bores = [row.bore.si for row in ends_below.rows]
    assert bores == sorted(bores) and ends_below.rows[-1].written


def test_the_headline_says_that_the_list_ends_and_how_to_go_on(ends_below):
    told = ends_below.summary()
    assert told[0].startswith("None of these sizes passes")
    assert "Metric tube is listed up to 15 mm x 1.5 mm, narrower than the line as it is: name wider ones with their wall" in " ".join(told)
    named = re.search(r'sizes=\["(.+?)"\]', " ".join(told))[1]
    wider = fn.line_sizes(suction(), "pick-up pipe", ["30 mm x 1.5 mm", named])  # what it says to write is taken
    assert wider.rows[-1].size == named and wider.rows[-1].bore.si > wider.rows[0].bore.si
    assert "listed up to" not in " ".join(wider.summary())
    with pytest.raises(fn.CircuitError, match="is no size of"):
        fn.line_sizes(suction(), "pick-up pipe", ["35 mm"], specs="metric tube")  # without its wall


def test_sizes_without_an_answer_are_told_once_with_their_cases(ends_below):
    lost = [row for row in ends_below.rows if row.refusal]
    assert lost and all(row.lost == ("cold",) for row in lost)
    told = [note for note in ends_below.notes if ": not solved in " in note]
    causes = {row.refusal for row in lost}
    assert len(told) == len(causes) and all(row.size.partition(" x ")[0] in " ".join(told) for row in lost)
    assert any("No answer with" in text.get_text() for text in fn.size_picture(ends_below).texts)


def test_a_row_and_the_headline_say_the_same_of_what_no_line_cures(table):
    """The size that the headline names as the smallest that passes all else does not fail in its row."""
    best = table.smallest()
    assert best.fails == ["rise_over_setting"] and "rise_over_setting" in table.beyond
    told = " ".join(str(table).split())
    assert f"Smallest that passes all else: {best.size} ptfe" in told and f"{best.size} ptfe: fails" not in told
    assert f"{best.size} ptfe: passes all else <- smallest that passes all else" in told


def test_a_difference_too_small_to_buy_by_stands_in_the_headline():
    car = demo()
    rises = {row.size: row.cells["rise_over_setting"].value.to("psi") for row in fn.line_sizes(car, "return hose", ["-12", "-16"]).rows}
    between = 0.5 * (rises["-12"] + rises["-16"])
    found = fn.line_sizes(car, "return hose", ["-10", "-12", "-16"], limits=Limits(regulator_creep=f"{between} psi"))
    told = [line for line in found.summary() if "too small a difference to buy by" in line]
    assert len(told) == 1 and found.summary().index(told[0]) <= 2
    assert not any("to buy by" in note for note in found.notes)


def test_an_inlet_above_the_ambient_has_no_vacuum_here_as_in_the_table_of_the_cases():
    car = fn.Circuit("high tank (invented)", fluid="gasoline")
    car.tank("cell", level="8 in", vent="1 psi")
    car.run("feed", "cell", "rail", [fn.formula_pump("80 psi", "300 L/h", name="pump"), fn.hose("-6", "3 ft", spec="ptfe", name="feed hose")])
    car.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient", name="regulator"), fn.hose(bore="9 mm", length="3 ft")])
    (row,) = [row for _, rows in car.solve().table().sections for row in rows if row.key == "pump.vacuum"]
    table = fn.line_sizes(car, "feed hose", sizes=["-6"])
    line = next(line for line in table.text(width=200).splitlines() if line.startswith("-6 ptfe"))
    assert row.cells == ["none"] and " none (+" in line and "below ambient" not in table.text()
    assert table.row("-6").cells["inlet_vacuum"].value.si < -6e3  # the number stays for programs
