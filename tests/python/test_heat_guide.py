"""The guide to heat and the page of the cooler: what they show is read and solved, and says what they say."""

import re
import tomllib
from pathlib import Path

import flarenut as fn
from flarenut.circuit.shop import COMMON
import pytest
from flarenut import checks
from flarenut.circuit import parts
from flarenut.circuit.file import read

DOCS = Path(__file__).parents[2] / "docs"
GUIDE = (DOCS / "guide" / "heat.md").read_text(encoding="utf-8")
PAGE = (DOCS / "parts" / "cooler.md").read_text(encoding="utf-8")


def blocks(text, kind):
    return re.findall(rf"```{kind}\n(.*?)```", text, re.DOTALL)


@pytest.fixture(scope="module")
def car():
    (text,) = blocks(GUIDE, "toml")
    return read(text, "heat.toml").circuit


def test_the_circuit_of_the_guide_shows_what_the_guide_names(car):
    answer = car.solve()
    assert answer.converged and all(case.finds_temperatures for case in answer.values())
    text = answer.table("metric").text()
    for words in ("Temperatures", "Heat", "oil cooler in", "oil cooler, heat given off", "pump, power into the liquid", "sump, heat put in", "energy closure"):
        assert words in text, words
    cold, motorway, track = (answer[name].at("sump").temperature.to("C") for name in ("cold start", "motorway", "track"))
    assert cold == pytest.approx(-10) and 70 < motorway < track < 125
    assert not [one for one in answer.findings if one.severity in ("stop", "fix")]
    assert 0.5 < answer["track"].part("pump").power.to("kW") < 3  # "a heater of a kilowatt or two"


def test_the_code_of_the_guide_runs(car):
    pytest.importorskip("xarray")
    (code,) = blocks(GUIDE, "text")
    names = {"car": car, "fn": fn}
    for line in code.strip().splitlines():
        exec(line, names)  # noqa: S102 - our own text
    assert names["case"].part("oil cooler").heat.to("kW") > 1


def test_a_bar_throttled_warms_oil_by_what_the_guide_says():
    warmed = fn.fluid("SAE 10W-40").heat_at("100 C").warming("1 bar").si
    told = float(re.search(r"1 bar throttled warms oil by ([\d.]+) K", GUIDE)[1])
    assert told == pytest.approx(warmed, abs=0.006)


def test_presets_that_the_guide_and_the_page_tell_are_those_of_the_words():
    from flarenut.circuit import parts_coolers, parts_pumps

    for preset in parts_pumps.OVERALL.values():
        assert preset in GUIDE
    assert f"{parts_coolers.INSIDE_SHARE} of an oil cooler" in PAGE
    assert f"{parts_coolers.PASSAGE_BORE} and {parts_coolers.PASSAGE_LENGTH} unless given" in PAGE


def test_every_key_of_a_cooler_stands_on_its_page():
    piece = parts.cooler(heat_table={"flow": ["1 L/min"], "air_speed": ["1 m/s"], "heat_per_degree": [["1 W/K"]]}, face="0.1 m2", drop="1 psi at 1 L/min")
    assert not [key for key in piece.keys if f"`{key}`" not in PAGE and key != "rise" and key not in COMMON]


def test_the_coolers_of_the_page_are_taken():
    lines = [line for block in blocks(PAGE, "toml") for line in block.splitlines()]
    assert len(lines) == 3
    for line in lines:
        words = tomllib.loads(f"part = {line}")["part"]
        assert words.pop("part") == "cooler"
        law = fn.cooler(**words).elements[0].heat
        assert law.si(fn.fluid("SAE 10W-40")) and law.kind == ("heat table" if "heat_table" in words else "air core")


def test_links_to_findings_lead_to_their_section():
    assert "## Heat" in (DOCS / "guide" / "findings.md").read_text(encoding="utf-8")
    assert {"oil_temperature_road", "coolant_boiling_margin"} <= set(checks.LIMITS)
