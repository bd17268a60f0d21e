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
    assert page.count("<tr") == 10 and "smallest that passes all else" in page and "3.65 (-0.646)" in page
    assert "http" not in page and "<script" not in page


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
    assert "gallery" in printed[3] and (tmp_path / "return_hose.csv").exists() and (tmp_path / "return-sizes.png").stat().st_size > 10_000
