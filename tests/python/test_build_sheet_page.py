"""The page of a build sheet: names stay names, it fetches nothing, it reads well aloud, its colours stand out."""

import re
from pathlib import Path

import pytest
from sheet_example import HOSTILE, hostile, truck, vehicle, wrong
from sheet_page import Page

import flarenut as fn
from flarenut.report import style
from flarenut.results.finding import SEVERITY_COLOURS


@pytest.fixture(scope="module", params=[truck, wrong, hostile, vehicle], ids=lambda made: made.__name__)
def any_page(request):
    return Page(fn.build_sheet(request.param()).html)


# ---- that it is sound HTML, reads well aloud, and that names stay names ----

def test_names_stay_text():
    html = fn.build_sheet(hostile()).html
    made = Page(html)
    assert {tag for tag, _, _ in made.elements}.isdisjoint({"script", "img", "i", "u", "s", "b"})
    assert not [key for _, attributes, _ in made.elements for key in attributes if key.startswith("on")]
    assert made.headings[0][1] == HOSTILE.replace("\u202e", "\ufffd").replace("\x07", "\ufffd")
    for name in ("<i>cell</i>", "<u>rail</u>", "<s>feed</s>", "<img src=x onerror=alert(1)>", 'a"><b>filter', '<b onclick="x">hot</b>'):
        assert name in made.text
    assert "\u202e" not in html and html.count("</style>") == html.count("</title>") - html.count("<title>") + 1 == 1


def test_it_fetches_nothing_and_runs_nothing(any_page):
    assert any_page.all("script") == any_page.all("link") == any_page.all("iframe") == []
    for _, attributes, _ in any_page.elements:
        assert not any(key in attributes for key in ("src", "srcset", "data"))
        assert attributes.get("href", "#").startswith("#")


def test_style_fetches_nothing():
    (style_text,) = re.findall(r"<style>(.*?)</style>", fn.build_sheet(hostile()).html, re.DOTALL)
    assert "url(" not in style_text and "@import" not in style_text


def test_it_has_a_language_a_title_and_landmarks(any_page):
    assert any_page.all("html") == [{"lang": "en"}]
    assert [len(any_page.all(tag)) for tag in ("title", "header", "nav", "main", "footer", "h1")][1:] == [1] * 5
    assert {"name": "viewport", "content": "width=device-width, initial-scale=1"} in any_page.all("meta")


def test_headings_go_down_one_step_at_a_time(any_page):
    levels = [level for level, _ in any_page.headings]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after <= before + 1 for before, after in zip(levels, levels[1:]))
    assert all(title.strip() for _, title in any_page.headings)


def test_tables_have_captions_and_headings_that_say_what_they_head(any_page):
    assert any_page.tables and all(caption for caption, _ in any_page.tables)
    assert all(attributes.get("scope") in ("col", "row", "rowgroup") for attributes in any_page.all("th"))
    assert not any(cell == "" for _, rows in any_page.tables for cell in rows[0])
    for caption, rows in any_page.tables:
        width = len(rows[0])
        assert all(len(row) in (width, 1) for row in rows), caption


def test_drawings_are_told_in_words(any_page):
    for place, (tag, attributes, around) in enumerate(any_page.elements):
        if tag == "svg":
            assert attributes["role"] == "img" and [any_page.elements[place + step][0] for step in (1, 2)] == ["title", "desc"]
            assert "figure" in around


def test_names_of_places_are_used_once_and_links_lead_somewhere(any_page):
    names = [attributes["id"] for _, attributes, _ in any_page.elements if "id" in attributes]
    assert len(names) == len(set(names))
    leading = {attributes["href"][1:] for attributes in any_page.all("a")} | {attributes["aria-labelledby"] for attributes in any_page.all("section")}
    assert leading <= set(names)


def test_what_scrolls_can_be_reached_by_keyboard_and_has_a_name(any_page):
    boxes = [attributes for attributes in any_page.all("div") if "scroll" in attributes.get("class", "")]
    assert boxes and all(one["tabindex"] == "0" and one["aria-label"] for one in boxes)


def luminance(colour):
    """Relative luminance, WCAG 2.1."""
    def linear(part):
        return part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(int(colour[place:place + 2], 16) / 255) for place in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_colours_stand_out():
    """4.5 to 1 for text, WCAG 2.1, 1.4.3."""
    assert round(contrast("#ffffff", "#000000"), 6) == 21.0  # the formula's own bound
    for ink in (style.INK, style.QUIET, style.LINK):
        for paper in (style.PAPER, style.SHADE):
            assert contrast(ink, paper) >= 4.5
    assert all(contrast(colour, style.PAPER) >= 4.5 for colour in SEVERITY_COLOURS.values())


def test_a_wide_drawing_lies_across_its_sheet_of_paper(monkeypatch):
    from flarenut.report import page

    demo = fn.load(Path(fn.__file__).parent / "demo/oil_cooler_six.toml")
    assert 950 < page.drawing_width(fn.build_sheet(demo).html[fn.build_sheet(demo).html.index("<svg"):]) < 1400
    assert 'class="lying"' not in fn.build_sheet(demo).html  # such a one is read on an upright page
    monkeypatch.setattr(page, "_STANDING", 900)
    assert 'class="lying"><h2 id="schematic">' in fn.build_sheet(demo).html and 'class="lying"' not in fn.build_sheet(wrong()).html
