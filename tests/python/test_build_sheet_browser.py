"""The build sheet in a real browser: no error, every section seen, narrow windows and paper, colours as they come out."""

import struct

import browser
import pytest
from sheet_example import hostile, truck, vehicle

import flarenut as fn

pytestmark = pytest.mark.skipif(browser.PATH is None, reason=f"no browser on PATH: {', '.join(browser.NAMES)}; apt-get install chromium brings one")

DESK, PHONE = 1200, 375
A4, LETTER = 718, 740  # widths of paper less the page's margins of 10 mm [px at 96 to the inch]: 210 mm (ISO 216) and 8.5 in
SECTIONS = ["What this is", "Findings, worst first", "Schematic", "Runs, ends and cut lengths", "Joints", "Operating cases", "What the lines bear", "Bill",
            "Test with liquid before use", "Cautions", "Where sources differ", "Tick and sign", "Sources"]

LOOK = """
const box = (one) => one.getBoundingClientRect();
const level = (one) => Number(one.tagName[1]);
const headings = [...document.querySelectorAll("h1, h2, h3, h4, h5, h6")];
const shown = (one) => one.checkVisibility() && box(one).height > 0;
const number = (colour) => colour.match(/[\\d.]+/g).map(Number);
const linear = (part) => part / 255 <= 0.03928 ? part / 255 / 12.92 : ((part / 255 + 0.055) / 1.055) ** 2.4;
const luminance = ([r, g, b]) => 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
const contrast = (a, b) => { const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y); return (high + 0.05) / (low + 0.05); };
const opaque = (colour) => number(colour).length < 4 || number(colour)[3] === 1;
const clear = (colour) => number(colour).length === 4 && number(colour)[3] === 0;
function paper(one) {
  for (let at = one; at; at = at.parentElement) {
    const colour = getComputedStyle(at).backgroundColor;
    if (!clear(colour)) return number(colour);
  }
  return [255, 255, 255];
}
function behind(text) {  // a word in a drawing: on the filling of its own tag, else on the sheet
  const tag = text.closest("g.tag");
  return tag ? number(getComputedStyle(tag.querySelector("rect")).fill) : [255, 255, 255];
}
const own = (one) => [...one.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim());
const faint = [];
for (const one of document.body.querySelectorAll("*")) {
  if (!own(one) || !shown(one) || one.closest("title, desc")) continue;
  const style = getComputedStyle(one), drawn = one.namespaceURI.endsWith("svg");
  const ratio = drawn ? contrast(number(style.fill), behind(one)) : contrast(number(style.color), paper(one));
  if (ratio < 4.5 || !opaque(drawn ? style.fill : style.color) || style.opacity !== "1") faint.push([one.textContent.slice(0, 40), ratio]);
}
const boxes = [...document.querySelectorAll(".scroll")];
const wide = [...document.body.querySelectorAll("*")].filter((one) => shown(one) && !one.closest(".scroll > *") && box(one).right > innerWidth + 1);
return {
  width: innerWidth, page: document.documentElement.scrollWidth, title: document.title,
  headings: headings.filter(shown).map((one) => [level(one), one.textContent]),
  sections: [...document.querySelectorAll("main section")].map((one) => [box(one).top, box(one).height]),
  faint, wide: wide.map((one) => one.tagName + " " + one.textContent.slice(0, 40)),
  boxes: boxes.length, scrolling: boxes.filter((one) => one.scrollWidth > one.clientWidth + 1).map((one) => one.getAttribute("aria-label")),
  escaping: boxes.filter((one) => box(one).right > innerWidth + 1 || box(one).left < -1).length,
  tables: document.querySelectorAll(".scroll > table").length, loose: document.querySelectorAll("table:not(.scroll > table)").length,
  small: [...document.body.querySelectorAll("p, li, td, th, dd")].filter((one) => shown(one) && parseFloat(getComputedStyle(one).fontSize) < PX).length,
  drawing: [...document.querySelectorAll("figure svg")].map((one) => [box(one).width, box(one).height]),
  links: [...document.querySelectorAll("a")].filter((one) => !document.getElementById(one.hash.slice(1))).length,
  ran: document.querySelectorAll("img, iframe, object, embed").length,
};
"""
ON_SCREEN, ON_PAPER = LOOK.replace("PX", "12"), LOOK.replace("PX", "9")

SHEETS = {"fuel": lambda: fn.build_sheet(fn.fitted(truck()), date="the invented day"), "hostile": lambda: fn.build_sheet(hostile()),
          "vehicle": lambda: fn.build_sheet(vehicle(), units="metric")}


@pytest.fixture(scope="module", params=SHEETS)
def sheet(request):
    return request.param, SHEETS[request.param]().html


@pytest.fixture(scope="module")
def looked(sheet, tmp_path_factory):
    """Width -> what was seen of the sheet in a window of it, and what the console was told."""
    folder, (_, html) = tmp_path_factory.mktemp("browser"), sheet
    return {width: browser.seen(html, folder, width, ON_SCREEN) for width in (DESK, PHONE)}


def on_paper(html):
    """The page with the style that it has on paper, to be looked at in a window as wide as what is printed on."""
    assert html.count("@media print") == 1
    return html.replace("@media print", "@media all").replace("@media (max-width", "@media (max-height: 0px) and (max-width")


def test_the_browser_shows_what_is_wrong_when_it_is(tmp_path):
    """The looking itself: an error, a page that is too wide, grey on grey and a table out of its box are seen."""
    bad = ('<!DOCTYPE html><html lang="en"><head><title>bad</title></head><body style="margin:0"><h1 style="color:#999;background:#bbb">grey</h1>'
           '<main><section><div style="width:2000px">wide</div><table><tr><td style="font-size:6px">loose</td></tr></table></section></main>'
           '<script>console.error("told"); nothing.there</script></body></html>')
    found, console = browser.seen(bad, tmp_path, PHONE, ON_SCREEN)
    assert found["width"] == PHONE and found["page"] >= 2000 and found["loose"] == 1 and found["small"] == 1
    assert [text for text, _ in found["faint"]] == ["grey"] and any("wide" in one for one in found["wide"])
    assert any("told" in line for line in console) and any("nothing is not defined" in line for line in console)


def test_no_error_reaches_the_console(looked):
    assert [console for _, console in looked.values()] == [[], []]


def test_all_sections_are_seen_in_order(sheet, looked):
    name, _ = sheet
    for found, _ in looked.values():
        titles = [title for level, title in found["headings"] if level == (3 if name == "vehicle" else 2)]
        wanted = SECTIONS[1:10] * 3 if name == "vehicle" else SECTIONS
        assert [title for title in titles if title != "Put in where nothing was said"] == wanted
        tops = [top for top, _ in found["sections"]]
        assert tops == sorted(tops) and all(height > 20 for _, height in found["sections"])


def test_headings_go_down_one_step_at_a_time_as_seen(looked):
    for found, _ in looked.values():
        levels = [level for level, _ in found["headings"]]
        assert levels[0] == 1 and all(after <= before + 1 for before, after in zip(levels, levels[1:]))


def test_the_page_is_no_wider_than_the_window(looked):
    for width, (found, _) in looked.items():
        assert found["width"] == width and found["page"] <= width
        assert found["wide"] == [] and found["escaping"] == 0


def test_wide_tables_scroll_inside_their_own_box_on_a_phone(looked):
    found, _ = looked[PHONE]
    assert found["loose"] == 0 and found["tables"] >= 8
    assert any(label.startswith("Joints") for label in found["scrolling"])
    assert all(width >= 300 for width, _ in found["drawing"])


def test_text_stands_out_from_what_is_behind_it(looked):
    for found, _ in looked.values():
        assert found["faint"] == []


def test_no_text_is_too_small_and_every_link_leads_somewhere(looked):
    for found, _ in looked.values():
        assert found["small"] == 0 and found["links"] == 0


def test_names_run_nothing_and_fetch_nothing(sheet, looked):
    name, _ = sheet
    for found, console in looked.values():
        assert found["ran"] == 0 and console == []
        assert ("<script>" in found["title"]) == (name == "hostile")


@pytest.mark.parametrize("paper", [A4, LETTER])
def test_nothing_is_cut_off_on_paper(sheet, paper, tmp_path):
    found, _ = browser.seen(on_paper(sheet[1]), tmp_path, paper, ON_PAPER)
    assert found["page"] <= paper and found["wide"] == [] and found["scrolling"] == []
    assert found["faint"] == [] and found["small"] == 0
    assert all(width <= paper and height <= 860 for width, height in found["drawing"])  # 225 mm


def test_it_can_be_photographed(tmp_path):
    picture = browser.screenshot(SHEETS["fuel"]().html, tmp_path, PHONE)
    data = picture.read_bytes()
    assert data[:8] == b"\x89PNG\r\n\x1a\n" and struct.unpack(">I", data[16:20])[0] == PHONE


def test_a_sheet_of_a_fuel_system_prints_on_six_pages(tmp_path):
    """The example of the guide to build sheets: three lines, sixteen joints, three cases."""
    import re
    from pathlib import Path

    guide = (Path(__file__).resolve().parents[2] / "docs/guide/build_sheet.md").read_text(encoding="utf-8")
    names = {}
    exec(re.search(r"```python\n(.*?)sheet.save", guide, re.DOTALL)[1], names)  # noqa: S102 - our own text
    assert 3 <= browser.printed_pages(names["sheet"].html, tmp_path) <= 6
