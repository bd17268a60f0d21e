"""The table of line sizes as it is shown and kept: text, HTML, CSV; and the guide that speaks of it."""

import csv
import re
from importlib.resources import files
from pathlib import Path

import pytest

import flarenut as fn

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
    for unit in ("[mm]", "[barg]", "[kPa]", "[C]", "[m/s]", "[mL]"):
        assert unit in metric
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
    first, second, third, *_ = table.summary()
    text, page = table.text(118), table.html()
    assert first == "Smallest that passes all else: -8 ptfe, bore 0.406 in."
    assert second == f"Return back-pressure: {left_to(table.row('-8'), 'back_pressure'):.2f} psi left to its limit of 3.00 psi, in idle."
    over, back = (-left_to(table.row("-6"), key) for key in ("rise_over_setting", "back_pressure"))
    assert third == f"Next smaller, -6 ptfe (now): fails rise over setting by {over:.2f} psi, in idle; return back-pressure by {back:.3f} psi, in idle."
    for shown, begins in ((text, "-3 ptfe"), (page, "<table")):
        assert 0 < shown.index(first) < shown.index(second) < shown.index("Next smaller") < shown.index(begins)
    assert table.summary("metric")[1].startswith("Return back-pressure: 14.3 kPa left to its limit of 20.7 kPa")  # 2.08 and 3 psi
    assert max(map(len, table.text(60).splitlines())) <= 60


def test_the_line_as_it_is_and_tables_without_a_size_that_passes_are_told_of():
    wide = demo()
    wide.change("return hose", size="-16")
    found = fn.line_sizes(wide, "return hose", ["-6", "-8", "-16"]).summary()
    assert found[0].startswith("Smallest that passes all else: -8 ptfe") and found[3] == "As it is, -16 ptfe (now): passes all else."
    narrow = fn.line_sizes(demo(), "return hose", ["-3", "-4"]).summary()
    assert narrow[0].startswith("None of these sizes passes: try wider ones") and narrow[1].startswith("The widest, -6 ptfe (now): fails ")
    assert not any("As it is" in line for line in narrow)
    wide.change("return hose", size="-8")
    least = fn.line_sizes(wide, "return hose", ["-8", "-10"]).summary()
    assert "No smaller one was tried." in least and not any("Next smaller" in line for line in least)
    feed = fn.line_sizes(demo(), "feed hose").summary()
    assert any(line.startswith("As it is, -8 ptfe (now): ") for line in feed)


def test_each_specification_has_its_smallest_and_one_is_the_smallest_of_all():
    table = fn.line_sizes(demo(), "return hose", specs=["ptfe", "full-size", "tube"])
    best = min((table.smallest(spec) for spec in table.specs), key=lambda row: row.bore.si)
    first, *others = table.summary()
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
        assert float(found["return back-pressure [kPa]"]) == pytest.approx(row.cells["back_pressure"].value.si / 1e3, rel=1e-8)
        assert float(found["return back-pressure, margin [kPa]"]) == pytest.approx((3.0 * PSI - row.cells["back_pressure"].value.si) / 1e3, rel=1e-8)
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
    assert stops and "Whatever the size of this line, and left out of all else: STOP" in told and "boils in the tank" in told
    drawn = " ".join(text.get_text() for text in fn.size_picture(table).texts).replace("\n", " ")
    assert "Whatever the size of this line, STOP" in drawn and "hot restart" in drawn
