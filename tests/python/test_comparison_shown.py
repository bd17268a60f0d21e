"""A comparison as text, HTML, tables for programs and pictures: numbers are those of the cells, every one has its unit, nothing overlaps."""

import csv
import re
from html.parser import HTMLParser
from itertools import combinations
from types import SimpleNamespace

import matplotlib
import numpy
import pytest

matplotlib.use("Agg")

import flarenut as fn  # noqa: E402
from matplotlib.figure import Figure  # noqa: E402

from flarenut.plotting.loop import _tell, _told  # noqa: E402
from comparison_example import CASES, bleed, engine, rigs, variants  # noqa: E402

PSI = 6894.757293168361
NUMBERS = [("gallery_temperature", "oil at gallery", "C"), ("gallery_pressure", "gallery pressure", "barg"), ("cooler_drop", "drop across coolers", "bar"),
           ("cooler_heat", "heat given off by coolers", "kW"), ("cooler_flow", "flow through coolers", "L/min"),
           ("relief_share", "share of pump flow through relief", "%"), ("cooler_pressure", "highest pressure in coolers", "barg")]


@pytest.fixture(scope="module")
def compared():
    return fn.compare(variants(), units="metric", rating="10 bar")


# ---- words ----

def test_the_text_fits_its_width_and_has_a_table_for_each_case(compared):
    for width in (80, 110, 140):
        text = compared.text(width)
        assert max(map(len, text.splitlines())) <= width
        assert [line for line in text.splitlines() if line.startswith("== ")] == ["== all cases ==", *(f"== {case} ==" for case in CASES)]
        assert all(text.count(f"\n{name} ") >= len(CASES) for name in compared.variants)
    assert str(compared) == compared.text() and "estimate" in text and "invented" in text.splitlines()[0]


def test_every_number_of_the_text_has_its_unit_above_it_and_is_that_of_the_cell(compared):
    text = compared.text(2000)
    block = text.partition("== hot track ==")[2].partition("== ")[0].splitlines()
    row = next(line for line in block if line.startswith("after the filter "))
    units = next(line for line in block if line.strip().startswith("[C]")).split()
    temperature, sump, pressure = row.removeprefix("after the filter").split()[:3]
    assert units[:3] == ["[C]", "[C]", "[barg]"]
    assert float(temperature) == round(compared.value("after the filter", "hot track", "gallery_temperature").to("C"), 1)
    assert float(sump) == round(compared.value("after the filter", "hot track", "sump_temperature").to("C"), 1)
    assert float(pressure) == round(compared.value("after the filter", "hot track", "gallery_pressure").to("barg"), 2)
    assert set(next(line for line in block if line.startswith("no cooler ")).removeprefix("no cooler").split()) == {"not", "solved"}


def test_the_same_in_the_units_of_the_other_system(compared):
    us = compared.text(2000, units="us")
    assert "[F]" in us and "[psig]" in us and "[hp]" in us and not re.search(r"\[(C|barg|kW|kPa|bar|L/min)\]", us)
    assert f"{compared.value('bleed', 'hot track', 'gallery_pressure').to('psig'):.1f}" in us
    assert " F warmer" in us and " psi lower" in us and " bar" not in us.replace("barg", "")


def test_the_reading_says_who_wins_by_how_much_and_what_it_costs(compared):
    first, second, cost, *_ = compared.reading("full speed")
    best, most = compared.best("full speed"), compared.best("full speed", "pressure")
    cell = {name: (compared.value(name, "full speed", "gallery_temperature"), compared.value(name, "full speed", "gallery_pressure")) for name in ("bleed", best, most)}
    warmer = cell["bleed"][0].si - cell[best][0].si
    assert first.startswith(f"Oil at gallery: coolest with '{best}', {cell[best][0].to('C'):.1f} C; 'bleed' {warmer:.1f} C warmer; too near to tell from it: ")
    assert second.startswith(f"Pressure at gallery: highest with '{most}', {cell[most][1].to('barg'):.2f} barg; ") and most == "bleed"
    lost = (cell[most][1].si - cell[best][1].si) / 1e5
    drop = compared.value(best, "full speed", "cooler_drop").to("bar")
    shown = [fn.units.digits(one) for one in (drop, lost)]
    assert cost.startswith(f"'{best}' costs {shown[0]} bar across its coolers, and {shown[1]} bar of the pressure that 'bleed' has at gallery; ")
    flow = [f"{compared.value(name, 'full speed', 'gallery_share').to('%'):.0f} %" for name in (best, most)]
    assert cost.endswith(f"{flow[0]} of the pump's flow comes to gallery, with 'bleed' {flow[1]}.")


def test_what_cannot_be_told_apart_is_not_told_apart():
    found = fn.compare({"one": engine(), "the same": engine()}, units="metric")
    for case in CASES:
        told = found.reading(case)
        assert told[0].startswith("Oil at gallery: all within 2.0 C of ") and told[1].startswith("Pressure at gallery: all within 0.100 bar of ")
        assert not any("costs" in one for one in told)
    assert found.reading()[0] == "Temperature chooses in no case." and "Pressure chooses in no case." in found.reading()


def test_the_summary_names_who_wins_where(compared):
    told = " ".join(compared.reading())
    assert "By pressure at gallery: " in told and "'bleed' in full speed, hot track" in told
    assert "'no cooler' is out of the running, or without an answer, in full speed, hot track." in told
    assert told.startswith("Over all cases, by temperature at gallery: ")


def test_the_sentence_over_all_cases_says_who_is_least_behind_and_what_that_costs(compared):
    """Worked out again from the cells: the most that each is warmer than the best of a case, and the most that the winner lacks in pressure."""
    choosing = [case for case in CASES if compared.verdict(case).by_temperature.beaten]
    running = [name for name in compared.variants if all(compared.value(name, case, "gallery_pressure") for case in CASES)]
    rise = {name: max(abs(compared.value(name, case, "gallery_temperature").si - compared.value(compared.best(case), case, "gallery_temperature").si)
                      for case in choosing) for name in running}
    leaders = [name for name in running if rise[name] <= 2.0]
    assert leaders and "no cooler" not in running and len(leaders) < len(running)

    def lack(name):
        return max((compared.value(compared.best(case, "pressure"), case, "gallery_pressure").si - compared.value(name, case, "gallery_pressure").si) for case in CASES)

    winner = min(leaders, key=lack)
    first, second, *_ = compared.reading()
    assert all(f"'{name}'" in first for name in leaders) and "best, or too near the best to tell, in every case" in first
    after = min((name for name in running if name not in leaders), key=rise.get)
    assert f"next comes '{after}', up to {rise[after]:.1f} C off" in first
    assert second.startswith(f"In pressure '{winner}' costs the least of these: up to {lack(winner) / 1e5:.3f} bar of the pressure that 'bleed' has at gallery (")
    drop = max(compared.value(winner, case, "cooler_drop").si for case in CASES)
    assert f"up to {drop / 1e5:.3f} bar across its coolers" in second


def test_a_table_of_all_cases_marks_the_best_of_each(compared):
    glance = compared.text(110).partition("== all cases ==")[2].partition("== cold start ==")[0]
    temperatures, pressures = glance.split("gallery pressure [barg]")
    for text, by, key, unit, places in ((temperatures, "temperature", "gallery_temperature", "C", 1), (pressures, "pressure", "gallery_pressure", "barg", 2)):
        for name in compared.variants:
            row = next(line for line in text.splitlines() if line.startswith(f"{name} ")).removeprefix(name).replace("not solved", "-").split()
            for case, cell in zip(CASES, row, strict=True):
                value, verdict = compared.value(name, case, key), compared.verdict(case)
                ranking = verdict.by_temperature if by == "temperature" else verdict.by_pressure
                assert cell.endswith("*") == (bool(ranking.beaten) and name in (ranking.best, *ranking.alike))
                assert cell == "-" or float(cell.rstrip("*")) == round(value.to(unit), places)
    one = fn.compare({"after": engine(), "bleed": bleed()}, "hot idle")
    assert "all cases" not in one.text() and "Over all cases" not in " ".join(one.reading())


def test_a_case_fits_one_block_and_all_columns_are_there_for_the_asking(compared):
    block = compared.text(110).partition("== hot track ==")[2]
    assert sum(line.startswith("after the filter ") for line in block.splitlines()) == 1
    assert "relief" not in block.partition("Oil at gallery")[0] and 'text(columns="all")' in block
    whole = compared.text(2000, columns="all").partition("== hot track ==")[2]
    row = next(line for line in whole.splitlines() if line.startswith("after the filter "))
    assert "relieving" in row and "Not shown" not in whole
    gauged = fn.compare({"after": engine(), "bleed": bleed()}, "hot idle", gauges=["filter in"])
    assert "filter in" in gauged.text(110).partition("Oil at")[0] and "pump out" not in gauged.text(110).partition("Oil at")[0]
    with pytest.raises(fn.CircuitError, match='columns="all"'):
        compared.text(columns="most")


def test_what_cannot_be_told_from_warm_enough_counts_as_warm():
    """A window that ends 1 K over the coolest of two: nearer than 2 K is as good as in it, and then the cooler one wins."""
    cases = fn.compare({"after": engine(), "bleed": bleed()}, "full speed", units="metric")
    least = cases.value("after", "full speed", "gallery_temperature").to("C")
    for above, how in ((1.0, "coolest with"), (3.0, "nearest to warm with")):
        found = fn.compare({"after": engine(), "bleed": bleed()}, "full speed", units="metric", warm=(f"{least + above} C", "130 C"))
        assert how in found.reading("full speed")[0]
    cold = fn.compare({"after": engine(), "bleed": bleed()}, "cold start", units="metric").reading("cold start")[0]
    assert "all cold" in cold and "wanted" not in cold


# ---- HTML ----

class Page(HTMLParser):
    def __init__(self, text):
        super().__init__()
        self.tables, self.cells, self.open, self.bold = 0, [], [], []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        if tag not in ("br",):
            self.open.append(tag)
        self.tables += tag == "table"
        if tag == "td":
            self.bold.append("font-weight:700" in dict(attrs)["style"])

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if self.open and self.open[-1] == "td":
            self.cells.append(data)


def test_the_page_has_the_same_cells_and_fetches_nothing(compared):
    page = Page(compared.html())
    assert page.tables == len(CASES) and page.open == []
    assert len(page.bold) == len(CASES) * len(compared.variants) * len(compared.columns) and any(page.bold)
    assert f"{compared.value('bleed', 'hot track', 'gallery_temperature').to('C'):.1f}" in page.cells
    assert "http" not in compared.html() and "<script" not in compared.html()
    assert compared._repr_html_() == compared.html() and "[psig]" in compared.html(units="us")


def test_names_are_shown_as_they_are_and_never_as_markup():
    found = fn.compare({"<b>one</b>": engine(), "2 > 1 & so": bleed()}, "hot idle")
    assert "<b>" not in found.html() and "&lt;b&gt;one&lt;/b&gt;" in found.html() and "2 &gt; 1 &amp; so" in found.html()
    assert "<b>one</b>" in found.text()


# ---- for programs ----

def test_csv_and_frame_and_dataset_hold_the_same_numbers(compared, tmp_path):
    pytest.importorskip("xarray")
    compared.to_csv(tmp_path / "table.csv")
    with open(tmp_path / "table.csv", encoding="utf-8", newline="") as file:
        rows = {(row["case"], row["variant"]): row for row in csv.DictReader(file)}
    frame, data = compared.to_dataframe(), compared.to_dataset()
    assert list(rows) == list(frame.index) == [(case, name) for case in CASES for name in compared.variants]
    for key, words, unit in NUMBERS:
        head = f"{words} [{unit}]"
        value = compared.value("bleed", "full speed", key)
        assert float(rows["full speed", "bleed"][head]) == pytest.approx(value.to(unit), rel=1e-8)
        assert frame.loc[("full speed", "bleed"), head] == pytest.approx(value.to(unit), rel=1e-12)
        assert float(data[key].sel(variant="bleed", case="full speed")) == value.si and data[key].attrs["units"] != ""
    assert rows["full speed", "no cooler"]["gallery pressure [barg]"] == "" and "no steady state" in rows["full speed", "no cooler"]["not solved"]
    assert numpy.isnan(data["gallery_pressure"].sel(variant="no cooler", case="hot track")) and "no steady state" in str(
        data["not_solved"].sel(variant="no cooler", case="hot track").values)
    assert rows["full speed", "bleed"]["relief"] == "relieving" == str(data["relief"].sel(variant="bleed", case="full speed").values)


def test_the_frame_is_in_the_units_asked_for(compared):
    pytest.importorskip("pandas")
    frame = compared.to_dataframe(units="us")
    assert frame.loc[("hot idle", "bleed"), "gallery pressure [psig]"] == pytest.approx(compared.value("bleed", "hot idle", "gallery_pressure").si / PSI)


# ---- pictures ----

@pytest.mark.parametrize("draw, kind", [(fn.temperature_loop, "C"), (fn.pressure_loop, "barg")])
def test_lines_go_through_what_the_cases_have(compared, draw, kind):
    ax = draw(compared, units="metric")
    panels = ax.child_axes
    assert [panel.get_title(loc="left") for panel in panels] == list(CASES)
    track = panels[3]
    names = [label.get_text().replace("\n", " ") for label in track.get_xticklabels()]
    case = compared.answers["after the filter"]["hot track"]
    line = track.get_lines()[0]
    at = {names[int(round(x))]: y for x, y in zip(line.get_xdata(), line.get_ydata())}
    gallery, cooler = case.at("gallery"), case.part("oil cooler")
    if kind == "C":
        want = {"sump": case.at("sump").temperature.to("C"), "gallery": gallery.temperature.to("C"), "cooler in": cooler.temperature_in.to("C"),
                "cooler out": cooler.temperature_out.to("C"), "back in sump": case.at("sump").temperature.to("C")}
    else:
        want = {"gallery": gallery.gauge.to("barg"), "cooler in": cooler.inlet.gauge.to("barg"), "cooler out": cooler.outlet.gauge.to("barg"),
                "pump out": case.part("oil pump").outlet.gauge.to("barg")}
    for name, value in want.items():
        assert at[name] == pytest.approx(value, rel=1e-6, abs=1e-6), name
    assert all(f"[{kind}]" in panel.get_ylabel() for panel in panels[::2]) and "invented" in ax.get_title(loc="left")


def test_a_cooler_that_does_not_feed_the_gallery_is_drawn_apart_and_a_filter_behind_it_has_its_own_place(compared):
    aside, main = compared.loop("bleed", "full speed").aside, compared.loop("bleed", "full speed").main
    assert set(aside) == {"cooler in", "cooler out"} and not set(aside) & set(main)
    assert "filter out, after cooler" in compared.loop("before the filter", "full speed").main
    assert list(compared.loop("before the filter", "full speed").main)[2:5] == ["cooler in", "cooler out", "filter out, after cooler"]
    assert compared.loop("no cooler", "full speed") is None and "cooler in" not in compared.loop("no cooler", "hot idle").main


def test_a_cooler_that_nearly_all_the_oil_goes_round_is_drawn_as_bypassed(compared):
    """At a cold start the thermostat lets its bleed through, a hundredth; what is lost between the ends of the cooler is lost on the way round."""
    for name in ("after the filter", "before the filter"):
        case, loop = compared.answers[name]["cold start"], compared.loop(name, "cold start")
        through, past = (abs(case.ends(part)[0].flow) for part in ("oil cooler", "plate passage"))
        assert loop.round_it == pytest.approx(past / (past + through), rel=1e-6) and loop.round_it > 0.98
        assert case.flows.goes_round("hose to cooler") == pytest.approx(loop.round_it, rel=1e-6)  # so are the lines to it
        parts_at, meets_at = (("filter out", "gallery") if name == "after the filter" else ("filter in", "cooled"))
        assert [loop.main[one][1] for one in ("cooler in", "cooler out")] == [case.at(place).gauge.si for place in (parts_at, meets_at)]
        assert not loop.aside and compared.loop(name, "full speed").round_it is None and "cooler in" in compared.loop(name, "full speed").main
    others = [compared.loop(name, "cold start") for name in ("no thermostat", "bleed", "no cooler")]
    assert [loop.round_it for loop in others] == [None] * 3
    cold, hot = (" ".join(panel.get_title(loc="right").split()) for panel in fn.pressure_loop(compared, cases=["cold start", "hot track"]).child_axes)
    assert cold == "99 % of the oil goes round the cooler in 2 of 5 variants" and "goes round" not in hot
    fewer = SimpleNamespace(round_it=0.98), SimpleNamespace(round_it=None)
    assert _told(dict(zip(("after", "bleed"), fewer))) == "98 % of the oil goes round the cooler in after"
    assert _told({"after": fewer[0], "before": fewer[0]}) == "98 % of the oil goes round the cooler"
    for case, last in (("cold start", "variants"), ("a cold start on a winter morning", "")):  # beside the name of the case, or above it
        panel = Figure().subplots()
        panel.set_title(case, loc="left")
        _tell(panel, "99 % of the oil goes round the cooler in 2 of 5 variants")
        lines = panel.get_title(loc="right").split("\n")
        assert max(map(len, lines)) <= 38 and lines[-1].endswith(last) and (lines[-1] == "") == (last == "")
    warm = fn.temperature_loop(compared, cases=["cold start"]).child_axes[0].get_title(loc="right").split("\n")
    assert warm[:2] == ["99 % of the oil goes round the cooler", "in 2 of 5 variants"] and warm[2].startswith("every line below")  # set apart
    hollow = [line for line in fn.pressure_loop(compared, cases=["cold start"]).child_axes[0].get_lines() if line.get_linestyle() == "None"]
    assert len(hollow) == 2 and all(len(line.get_xdata()) == 2 and line.get_markerfacecolor() == "white" for line in hollow)


def test_consumers_side_by_side_are_no_bypass_of_each_other_nor_is_the_way_round_a_bypass_of_itself(compared):
    for case in compared.answers["after the filter"].values():
        rounds = {part for part in case.part_names if case.flows.goes_round(part) > 0.5}
        assert rounds <= {"thermostat", "elbow out", "hose to cooler", "oil cooler", "hose from cooler", "elbow back"}
        assert bool(rounds) == (case.name == "cold start")


def test_a_ladder_says_of_a_bypassed_part_how_much_goes_round_it():
    answer = engine().solve(["cold start", "hot track"])
    (cooling,) = [one for one in fn.pressure_ladder(answer, runs=["cooling"]).child_axes if one.get_xticklabels()][:1]
    labels = [label.get_text() for label in cooling.get_xticklabels()]
    assert labels[0] == "thermostat\n99 % goes round it" and "goes round" not in "".join(labels[1:])
    cold, hot = ([line for line in cooling.get_lines() if line.get_label() == name] for name in ("cold start", "hot track"))
    assert numpy.isnan(cold[0].get_ydata()).sum() == len(labels) and not numpy.isnan(hot[0].get_ydata()).any()


def test_what_is_to_mend_stands_in_one_line(compared):
    assert re.search(r"(\d+ STOP, \d+ FIX|\d+ STOP|\d+ FIX)", compared.text(110)) and not re.search(r"STOP,\s*$", compared.text(110), re.MULTILINE)


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("draw", [fn.temperature_loop, fn.pressure_loop])
@pytest.mark.parametrize("cases", [CASES, CASES[:1], CASES[:2], CASES[:3]])
def test_panels_words_and_legend_keep_apart(compared, draw, units, cases):
    ax = draw(compared, cases=list(cases), units=units)
    ax.figure.savefig("/dev/null", format="png")
    boxes = [panel.get_tightbbox() for panel in ax.child_axes] + [ax.get_legend().get_window_extent()]
    frame = ax.figure.bbox
    for box in boxes:
        assert box.x0 >= frame.x0 - 1 and box.x1 <= frame.x1 + 1 and box.y0 >= frame.y0 - 1 and box.y1 <= frame.y1 + 1
    for one, other in combinations(boxes, 2):
        assert min(min(one.x1, other.x1) - max(one.x0, other.x0), min(one.y1, other.y1) - max(one.y0, other.y0)) < 1.0
    for panel in ax.child_axes:  # slanted names: lines of writing lie further apart than letters are high
        labels = [label for label in panel.get_xticklabels() if label.get_text()]
        slant = numpy.sin(numpy.radians(labels[0].get_rotation()))
        places = panel.transData.transform([(tick, 0.0) for tick in panel.get_xticks()])[:, 0]
        height = labels[0].get_fontsize() * ax.figure.dpi / 72.0
        assert (numpy.diff(places) * slant > height).all()
    styles = [(line.get_color(), str(line.get_linestyle()), line.get_marker()) for line in ax.get_legend().get_lines()]
    assert len(set(styles[:len(compared.variants)])) == len(compared.variants)


def test_pictures_draw_on_the_axes_given_and_leave_style_alone(compared):
    from matplotlib.figure import Figure

    before = dict(matplotlib.rcParams)
    ax = Figure(figsize=(11, 7)).subplots()
    assert fn.temperature_loop(compared, ax=ax) is ax and dict(matplotlib.rcParams) == before


@pytest.mark.parametrize("words, wrong", [({"units": "imperial"}, "us.*metric"), ({"cases": ["idle"]}, "no case 'idle'"), ({"cases": []}, "nothing to draw")])
def test_what_cannot_be_drawn_is_refused(compared, words, wrong):
    with pytest.raises(ValueError, match=wrong):
        fn.pressure_loop(compared, **words)


def test_nothing_solved_is_nothing_to_draw():
    lame, other = engine(), engine()
    for circuit in (lame, other):
        circuit.junction("nowhere")
    found = fn.compare({"lame": lame, "other": other}, ["hot idle"])
    assert "not solved" in found.text() and found.best("hot idle") is None
    assert found.reading() == ["'lame' is out of the running, or without an answer, in hot idle.",
                               "'other' is out of the running, or without an answer, in hot idle."]
    with pytest.raises(ValueError, match="nothing to draw"):
        fn.temperature_loop(found)


def test_a_rig_without_pump_and_filter_is_drawn_all_the_same():
    ax = fn.temperature_loop(fn.compare(rigs(), at="feed"))
    assert [label.get_text() for label in ax.child_axes[0].get_xticklabels()][0] == "drain"


def test_a_variant_with_a_second_steady_state_is_told_with_its_case():
    """Two long coils side by side in icy wind, as in test_other_states: one may go dead. One coil has one state."""
    from test_other_states import two_coolers

    found = fn.compare({"side by side": two_coolers(2), "one": two_coolers(1)}, at="joint")
    held = {name: [one.code for one in found.answers[name]["winter"].findings].count("second steady state") for name in found.variants}
    assert held == {"side by side": 1, "one": 0}
    text = " ".join(found.text(width=400).split())
    assert "WATCH: 'side by side' has a second steady state in winter" in text and "WATCH: 'side by side' has a second steady state here" in text
    assert "second steady state in winter" in found.html() and "'one' has a second" not in text
