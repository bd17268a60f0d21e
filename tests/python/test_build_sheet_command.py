"""`flarenut sheet`, and the guide to build sheets."""

import re
from pathlib import Path

import pytest
from sheet_page import Page

from flarenut.catalog import end
from flarenut.cli import main

FILE = """
[circuit]
name = "invented"
fluid = "gasoline"
units = "metric"
[tank.cell]
level = "9 in"
[junction.rail]
demand = "60 L/h"
[[run]]
name = "feed"
from = "cell"
to = "rail"
meets = ["-8 O-ring boss female", ""]
parts = [{part = "hose", size = "-6", length = "3 ft", spec = "ptfe", name = "feed hose"}]
"""


@pytest.fixture
def file(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "car.toml").write_text(FILE, encoding="utf-8")
    return tmp_path


def test_the_command_writes_the_page_beside_where_it_runs(file, capsys):
    assert main(["sheet", "car.toml"]) == 0
    assert capsys.readouterr().out == "build sheet written to car_sheet.html\n"
    made = Page((file / "car_sheet.html").read_text(encoding="utf-8"))
    assert made.row("Runs, in the order the liquid meets them", "feed hose")[4].endswith("\xa0mm\xa0less\xa0ends")  # the units of the file
    assert "Put in where nothing was said" not in made.text


def test_the_command_takes_a_name_units_date_and_prices_and_proposes_ends(file, capsys):
    (file / "prices.csv").write_text("item,price\nhose end *,12.5\n", encoding="utf-8")
    assert main(["sheet", "car.toml", "--out", "page.html", "--units", "us", "--fit", "--date", "May Day", "--prices", "prices.csv"]) == 0
    made = Page((file / "page.html").read_text(encoding="utf-8"))
    assert "May Day" in made.text and "25.00" in made.text
    assert any(str(end("-8 O-ring boss male")) in row[1] for row in made.table("Put in")[1:])


@pytest.mark.parametrize("words, said", [
    (["--out", "page.pdf"], "end it in .html"), (["--out", "nowhere/page.html"], "there is no folder"), (["--prices", "none.csv"], "there is no such file")])
def test_the_command_refuses_before_it_works(file, capsys, words, said):
    assert main(["sheet", "car.toml", *words]) == 2
    assert said in capsys.readouterr().err
    assert sorted(path.name for path in file.iterdir()) == ["car.toml"]


def test_the_guide_runs_and_names_the_sections(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    guide = (Path(__file__).resolve().parents[2] / "docs/guide/build_sheet.md").read_text(encoding="utf-8")
    (code,) = re.findall(r"```python\n(.*?)```", guide, re.DOTALL)
    exec(compile(code, "build_sheet.md", "exec"), {})  # noqa: S102 - our own text
    made = Page((tmp_path / "first_sheet.html").read_text(encoding="utf-8"))
    rows = [row.split(" | ")[0].strip("| ") for row in guide.splitlines() if row.startswith("| ")][1:]
    assert rows == [title for level, title in made.headings if level == 2]
