"""Pictures of sizes, pumps, demand and suction: what is drawn is what single solves give, nothing overlaps, everything has its unit."""

import json
import re
from importlib.resources import files
from itertools import combinations
from pathlib import Path

import matplotlib
import numpy as np
import pytest

matplotlib.use("Agg")
pytest.importorskip("xarray", reason="these pictures are of labelled answers")

import flarenut as fn  # noqa: E402

pytestmark = [pytest.mark.filterwarnings("ignore:in .* solves the liquid boils somewhere"),  # suction is drawn until it does
              pytest.mark.filterwarnings("ignore:.* solves are refused and have no numbers")]

PSI, LITRE_PER_HOUR, GALLON_PER_HOUR = 6894.757293168361, 1e-3 / 3600, 3.785411784e-3 / 3600
GUIDE = Path(__file__).resolve().parents[2] / "docs/guide/pictures.md"
CASES = ("idle", "full power", "hot restart")
CHART = [[0, 142], [130, 120], [235, 100], [318, 80], [382, 60], [435, 40], [480, 20]]  # of the demonstration's pump at 13.5 V


def demo():
    return fn.load(str(files("flarenut").joinpath("demo/return_style_e85.toml")))


def lines_of(ax):
    return {line.get_label(): line for line in ax.get_lines() if not line.get_label().startswith("_")}


@pytest.fixture(scope="module")
def table():
    return fn.line_sizes(demo(), "return hose")


@pytest.fixture(scope="module")
def pump_lines():
    return fn.pump_and_system(demo(), drives=["10 V", "11.5 V", "12.5 V", "13.5 V"])


# ---- sizes ----

@pytest.mark.parametrize("units, unit, si", [("us", "psi", PSI), ("metric", "bar", 1e5)])
def test_sizes_are_drawn_with_what_single_solves_give(table, units, unit, si):
    ax = fn.size_picture(table, units=units)
    drawn = lines_of(ax)
    back, rise = drawn["return back-pressure\nin idle"].get_ydata(), drawn["rise over setting\nin idle"].get_ydata()
    names = [label.get_text() for label in ax.get_xticklabels()]
    for size in ("-4", "-6", "-12"):
        car = demo()
        car.change("return hose", size=size)
        idle = car.solve("idle")["idle"]
        assert back[names.index(size)] == pytest.approx(idle.at("return:1").against(idle.at("cell")).si / si, rel=1e-6)
        over = idle.at("rail").total.si - idle.at("manifold").total.si - 43.5 * PSI
        assert rise[names.index(size)] == pytest.approx(over / si, rel=1e-6)
    assert ax.get_ylabel() == f"return back-pressure and rise over setting [{unit}]" or ax.get_ylabel().replace("\n", " ").endswith(f"[{unit}]")


def test_the_smallest_size_is_marked_with_its_margin(table):
    ax = fn.size_picture(table)
    left = 3.0 - table.row("-8").cells["back_pressure"].value.to("psi")
    words = " ".join(text.get_text() for text in ax.texts).replace("\n", " ")
    assert f"Smallest size that passes all else: -8, {left:.2f} psi left to the limit of return back-pressure" in words
    assert "No size keeps the limit of rise over setting" in words and "smallest that passes all else" in words
    (band,) = [patch for patch in ax.patches if patch.get_width() < 1.0]
    place = [label.get_text() for label in ax.get_xticklabels()].index("-8")
    assert band.get_x() < place < band.get_x() + band.get_width()
    assert {"its limit, 3.00 psi", "its limit, 4.00 psi"} <= set(lines_of(ax))
    assert {"91.5 ↑", "65.2 ↑", "34.4 ↑", "24.4 ↑"} == {text.get_text() for text in ax.texts if "↑" in text.get_text()}  # beyond the picture
    none = fn.size_picture(fn.line_sizes(demo(), "return hose", ["-3", "-4"]))
    assert any("None of these sizes passes" in text.get_text() for text in none.texts)


# ---- pumps ----

def test_the_curve_on_the_bench_is_the_chart_of_the_pump(pump_lines):
    """At every point of the chart, as the builder wrote it, within half a per cent of the pump's top rise."""
    curve = pump_lines.sel(drive="13.5 V")
    flow, rise = curve["curve_flow"].values / LITRE_PER_HOUR, curve["curve_rise"].values / PSI
    assert (np.diff(flow) > 0).all() and flow[0] < 1.0 and flow[-1] > 500.0
    for litres, psi in CHART:
        assert np.interp(litres, flow, rise) == pytest.approx(psi, abs=0.005 * 142)


def test_the_operating_points_lie_on_both_curves(pump_lines):
    for case, drive in zip(CASES, ("13.5 V", "13.5 V", "11.5 V")):
        here, pump = pump_lines.sel(case=case), pump_lines.sel(drive=drive)
        flow, rise = float(here["flow"]), float(here["rise"])
        assert np.interp(flow, pump["curve_flow"], pump["curve_rise"]) == pytest.approx(rise, rel=0.01)
        order = np.argsort(here["system_flow"].values)
        assert np.interp(flow, here["system_flow"].values[order], here["system_rise"].values[order]) == pytest.approx(rise, rel=0.01)
        single = demo().solve(case)[case].part("pump")
        assert (flow, rise) == pytest.approx((single.flow.si, single.rise.si), rel=1e-7)
        assert str(here["case_drive"].item()) == drive


def test_the_line_of_the_circuit_is_made_of_single_solves(pump_lines):
    """With other volts the circuit answers with a pair of flow and rise; each lies on its line, within its own bends."""
    here = pump_lines.sel(case="full power")
    flows, rises = here["system_flow"].values, here["system_rise"].values
    order = np.argsort(flows)
    for volts in ("9 V", "11 V", "14 V"):
        car = demo()
        car.cases["full power"].conditions["volts"] = volts
        single = car.solve("full power")["full power"].part("pump")
        assert np.interp(single.flow.si, flows[order], rises[order]) == pytest.approx(single.rise.si, rel=0.01)


@pytest.mark.parametrize("units, flow, rise", [("us", ("gal/h", GALLON_PER_HOUR), ("psi", PSI)), ("metric", ("L/h", LITRE_PER_HOUR), ("bar", 1e5))])
def test_pump_curves_are_drawn_in_the_units_asked_for(pump_lines, units, flow, rise):
    ax = fn.pump_picture(pump_lines, units=units)
    assert ax.get_xlabel() == f"pump flow [{flow[0]}]" and ax.get_ylabel() == f"pump pressure rise [{rise[0]}]"
    marks = {line.get_label(): line for line in ax.get_lines() if line.get_label().endswith("works here")}
    for case in CASES:
        (x,), (y,) = marks[f"_{case} works here"].get_data()
        assert x == pytest.approx(float(pump_lines["flow"].sel(case=case)) / flow[1]) and y == pytest.approx(float(pump_lines["rise"].sel(case=case)) / rise[1])
    assert {"10 V", "11.5 V", "12.5 V", "13.5 V"} <= {text.get_text() for text in ax.texts}
    told = [text.get_text() for text in ax.get_legend().get_texts()]
    assert told == ["pump at the volts named", "idle\nat 13.5 V", "full power\nat 13.5 V", "hot restart\nat 11.5 V"]


def test_a_pump_without_volts_has_no_curve_and_is_named_so():
    texts = [text.get_text() for text in fn.pump_picture(fn.pump_and_system(demo(), drives=["0 V", "5 V", "13 V"])).texts]
    assert texts[:5] == ["0 V: no rise", "5 V", "11.5 V", "13 V", "13.5 V"]  # those of the cases beside those asked for


def test_a_driven_pump_takes_its_speeds():
    """A pump of 11 cc a turn at 3000 rpm moves 33 L/min less what slips back, which at no rise is nothing."""
    oil = fn.load(str(GUIDE.parent / "examples" / "oil_cooler.toml"))
    lines = fn.pump_and_system(oil, drives=["1000 rpm", "3000 rpm"], cases="hot idle")
    assert list(lines["drive"].values) == ["850 rpm", "1000 rpm", "3000 rpm"] and lines.attrs["driven_by"] == "speed"
    free = [float(lines["curve_flow"].sel(drive=drive).max()) * 60e3 for drive in ("1000 rpm", "3000 rpm")]
    assert free == pytest.approx([11.0, 33.0], rel=0.01)
    assert "at 850 rpm" in fn.pump_picture(lines).get_legend().get_texts()[1].get_text()


def test_which_pump_is_asked_where_there_are_none_or_no_such():
    with pytest.raises(fn.CircuitError, match="did you mean 'pump'"):
        fn.pump_and_system(demo(), "pmup")
    with pytest.raises(fn.CircuitError, match="no case 'idel'"):
        fn.pump_and_system(demo(), cases="idel")


# ---- demand and suction ----

def test_rail_pressure_over_duty_is_that_of_single_solves():
    duties = ["3 %", "40 %", "85 %"]
    answer = fn.sweep(demo(), {"duty": duties, "return hose.size": ["-4", "-8"]}, cases="full power", outputs=["rail.gauge"])
    ax = fn.demand_picture(answer)
    assert ax.get_xlabel() == "injector duty [%]" and ax.get_ylabel() == "rail pressure [psig]"
    for size in ("-4", "-8"):
        line = lines_of(ax)[size]
        assert list(line.get_xdata()) == pytest.approx([3.0, 40.0, 85.0])
        for duty, height in zip(duties, line.get_ydata()):
            car = demo()
            car.change("return hose", size=size)
            car.cases["full power"].conditions["duty"] = duty
            assert height == pytest.approx(car.solve("full power")["full power"].at("rail").gauge.to("psi"), rel=1e-7)
    assert ax.get_legend().get_title().get_text() == "return hose size" and "full power" in ax.texts[0].get_text()
    metric = fn.demand_picture(fn.in_units(answer, "us"), units="metric")
    assert lines_of(metric)["-8"].get_ydata() == pytest.approx(np.array(lines_of(ax)["-8"].get_ydata()) * PSI / 1e5, rel=1e-9)
    assert metric.get_ylabel().endswith("[barg]")


def test_power_is_an_axis_too_and_points_without_answer_are_told():
    car = demo()
    car.cases["full power"].conditions.pop("duty")
    car.cases["full power"].conditions["specific_consumption"] = "0.65 lb/hp/h"
    answer = fn.sweep(car, {"power": ["200 hp", "300 hp", "400 hp"]}, cases="full power", outputs=["rail.gauge"])
    ax = fn.demand_picture(answer, units="metric")
    assert ax.get_xlabel() == "engine power [kW]" and ax.get_legend() is None
    (line,) = ax.get_lines()
    assert list(line.get_xdata()) == pytest.approx([149.14, 223.71, 298.28], rel=1e-4)
    gone = fn.sweep(demo(), {"duty": ["3 %", "85 %"], "fluid_temperature": ["20 C", "300 C"]}, cases="idle", outputs=["rail.gauge"])
    assert any("2 of 4 points have no answer" in text.get_text() for text in fn.demand_picture(gone, over="duty").texts)


def test_the_margin_falls_to_nothing_where_the_circuit_boils():
    celsius = list(range(20, 75, 5))
    answer = fn.sweep(demo(), {"fluid_temperature": [f"{one} C" for one in celsius]}, outputs=["pump.suction_margin"])
    ax = fn.suction_picture(answer, limit="5 kPa", units="metric")
    assert ax.get_xlabel() == "fluid temperature [C]" and ax.get_ylabel() == "pump suction margin [bar]"
    for case in CASES:
        (label,) = [one for one in lines_of(ax) if one.startswith(f"{case}\n")]
        boils = float(re.search(r"boils from (\d+) C", label)[1])
        single = []
        for one in (boils - 1, boils + 1):
            car = demo()
            car.cases[case].conditions["fluid_temperature"] = f"{one} C"
            single.append(car.solve(case)[case].part("pump").suction.margin.si)
        assert single[0] > 0.0 > single[1]
        heights = lines_of(ax)[label].get_ydata()
        car = demo()
        car.cases[case].conditions["fluid_temperature"] = "40 C"
        assert heights[celsius.index(40)] == pytest.approx(car.solve(case)[case].part("pump").suction.margin.to("bar"), rel=1e-7)
    assert "the liquid boils" in [text.get_text() for text in ax.texts]
    assert list(lines_of(ax)["limit, 0.0500 bar"].get_ydata()) == pytest.approx([0.05] * len(celsius))
    us = fn.suction_picture(answer, limit="5 kPa")
    assert us.get_xlabel() == "fluid temperature [F]" and "limit, 0.725 psi" in lines_of(us)
    assert list(us.get_lines()[0].get_xdata())[:2] == pytest.approx([68.0, 77.0])


def limit_line(ax):
    (label,) = [one for one in lines_of(ax) if one.startswith("limit of the checks")]
    return lines_of(ax)[label], " ".join(label.split())


def test_the_limit_drawn_is_that_of_the_checks():
    """The finding begins where the drawn margin goes under the drawn limit, and names that limit."""
    celsius = list(range(20, 75, 5))
    ax = fn.suction_picture(fn.sweep(demo(), {"fluid_temperature": [f"{one} C" for one in celsius]}, outputs=["pump.suction_margin"]), units="metric")
    limit, words = limit_line(ax)
    assert words == "limit of the checks, 0.0690 to 0.171 bar"
    assert "with what the fuel's vapour pressure may be off by" in " ".join(text.get_text() for text in ax.texts).replace("\n", " ")
    (label,) = [one for one in lines_of(ax) if one.startswith("idle\n")]
    begins = float(re.search(r"under the limit from (\d+) C", label)[1])
    for warmth in [*celsius, begins - 2, begins + 2]:
        car = demo()
        car.cases["idle"].conditions["fluid_temperature"] = f"{warmth} C"
        found = [one for one in car.solve("idle")["idle"].findings if one.code == "suction margin"]
        assert bool(found) == (warmth > begins) or car.solve("idle")["idle"].findings[0].code == "boils in the tank"
        if found and warmth in celsius:
            assert limit.get_ydata()[celsius.index(warmth)] == pytest.approx(found[0].limit.to("bar"), rel=1e-9)


def test_a_limit_of_your_own_goes_through_the_sweep_and_fluids_have_each_theirs():
    from flarenut.checks import Limits

    swept = {"fluid_temperature": ["20 C", "30 C", "40 C"]}
    usual, mine = (limit_line(fn.suction_picture(fn.sweep(demo(), swept, cases="idle", outputs=["pump.suction_margin"], limits=limits), units="metric"))[0]
                   for limits in (None, Limits(suction_margin="12 kPa")))
    assert list(np.subtract(mine.get_ydata(), usual.get_ydata())) == pytest.approx([0.07] * 3)
    several = fn.suction_picture(fn.sweep(demo(), {**swept, "fluid": ["E85", "E10"]}, cases="idle", outputs=["pump.suction_margin"]), units="metric")
    assert "each its own" in limit_line(several)[1]
    dotted = [line for line in several.get_lines() if line.get_label().startswith(("limit", "_limit"))]
    assert len({line.get_color() for line in dotted}) == 2
    water = fn.Circuit("rinse line (invented)", fluid="water")
    water.tank("drum", level="1 m")
    water.run("line", "drum", "ambient", [fn.formula_pump("30 psi", "4 gpm", name="pump"), fn.hose("-8", "3 m", spec="full-size")])
    line, words = limit_line(fn.suction_picture(fn.sweep(water, swept, outputs=["pump.suction_margin"]), units="metric"))
    assert list(line.get_ydata()) == pytest.approx([0.05] * 3) and words == "limit of the checks, 0.0500 bar"  # what is known well has no band


def test_an_answer_without_limits_has_none_drawn():
    answer = fn.sweep(demo(), {"fluid_temperature": ["20 C", "30 C"]}, cases="idle", outputs=["pump.suction_margin"]).drop_vars("pump.suction_limit")
    assert not [one for one in lines_of(fn.suction_picture(answer)) if "limit" in one]


def test_points_that_boil_are_hollow_and_off_the_lines_over_demand():
    car = demo()
    car.change("feed hose", size="-6")
    answer = fn.sweep(car, {"duty": ["3 %", "40 %", "95 %"], "fluid_temperature": ["40 C", "72 C"]}, cases="full power", outputs=["rail.gauge"])
    margin = answer["margin_to_boiling"].transpose("fluid_temperature", "case", "duty").values[:, 0]
    assert (margin[0] > 0).all() and (margin[1] <= 0).all()  # the one cool, the other not to be had
    ax = fn.demand_picture(answer)
    cool, hot = (lines_of(ax)[label] for label in ("40 C", "72 C"))
    assert np.isfinite(cool.get_ydata()).all() and np.isnan(hot.get_ydata()).all()
    hollow = [line for line in ax.get_lines() if line.get_label() == "_boils" and len(line.get_xdata())]
    assert len(hollow) == 1 and hollow[0].get_color() == hot.get_color() and hollow[0].get_markerfacecolor() == "white"
    assert list(hollow[0].get_xdata()) == pytest.approx([3.0, 40.0, 95.0])
    told = [" ".join(text.get_text().split()) for text in ax.get_legend().get_texts()]
    assert told == ["40 C", "72 C", "hollow: the liquid boils, not to be had"]
    assert any("In 3 of 6 points the liquid boils somewhere" in text.get_text() for text in ax.texts)


def test_a_line_that_does_not_reach_boiling_says_so():
    cool = fn.sweep(demo(), {"fluid_temperature": ["20 C", "30 C"]}, cases="idle", outputs=["pump.suction_margin"])
    assert list(lines_of(fn.suction_picture(cool)))[0] == "no boiling by the data"
    hot = fn.sweep(demo(), {"fluid_temperature": ["70 C", "80 C"]}, cases="idle", outputs=["pump.suction_margin"])
    assert list(lines_of(fn.suction_picture(hot)))[0] == "boils everywhere here"


def test_points_without_an_answer_are_left_out_of_what_boils_and_counted():
    def drawn(*celsius):
        answer = fn.sweep(demo(), {"fluid_temperature": [f"{one} C" for one in celsius]}, cases="idle", outputs=["pump.suction_margin"])
        ax = fn.suction_picture(answer, units="metric")
        return list(lines_of(ax))[0], " ".join(text.get_text() for text in ax.texts).replace("\n", " ")

    label, words = drawn(20, 40, 300)
    assert label == "no boiling by the data" and "1 of 3 points have no answer" in words
    label, words = drawn(20, 40, 60, 70, 300)
    assert label.splitlines()[0].startswith("under the limit from") and drawn(60, 70)[0].splitlines()[0] == "under the limit throughout"
    assert label.splitlines()[1] == drawn(60, 70)[0].splitlines()[1] and "boils from" in label and "1 of 5 points have no answer" in words
    assert "no answer" not in drawn(60, 70)[1]
    answer = fn.sweep(demo(), {"fluid_temperature": ["55 C", "60 C", "65 C"]}, cases="idle", outputs=["pump.suction_margin"])
    whole = [float(one) for one in answer["pump.suction_margin"].squeeze()]
    answer["pump.suction_margin"][{"fluid_temperature": 1}] = np.nan
    between = 55 + 10 * whole[0] / (whole[0] - whole[2])  # by the points on both sides of the one that is missing
    assert list(lines_of(fn.suction_picture(answer, units="metric")))[0].splitlines()[-1] == f"boils from {between:.0f} C"


def test_what_cannot_be_drawn_is_refused():
    answer = fn.sweep(demo(), {"duty": ["3 %", "85 %"], "return hose.size": ["-6", "-8"]}, outputs=["rail.gauge", "regulator.regime"])
    for question, told in [({"lines": "return hose.size"}, "'case' has 3 values and one picture shows one: pick it first"),
                           ({"output": "rial.gauge"}, "the answer has no 'rial.gauge'"), ({"over": "volts"}, "'volts' is no dimension"),
                           ({"units": "si"}, "write 'us' or 'metric'"), ({"output": "regulator.regime", "lines": "case"}, "pick it first")]:
        with pytest.raises(ValueError, match=re.escape(told)):
            fn.demand_picture(answer, **question)
    with pytest.raises(ValueError, match="holds words"):
        fn.demand_picture(answer.sel(case="idle"), output="regulator.regime")
    with pytest.raises(ValueError, match="say 'over'"):
        fn.demand_picture(answer.isel(duty=0, drop=True))


# ---- all of them ----

def pictures(count, *, long=False):
    """Every picture, of a circuit with so many cases; with long names for all that has one."""
    car = demo()
    car.name = "invented coupe with the twin tank conversion and a remote swirl pot behind the rear axle, second try" if long else car.name
    car.cases.clear()
    names = [f"hot restart after a long heat soak in the pits, number {number}" if long else f"case {number}" for number in range(count)]
    for number, name in enumerate(names):
        car.case(name, volts=f"{13.5 - 0.6 * number} V", duty=f"{3 + 18 * number} %", manifold=f"{2 * number} psi", fluid_temperature=f"{25 + 7 * number} C")
    hoses = {f"{size}{' of the smooth liner with tight bends' if long else ''}": fn.hose(size, "12 ft", spec="ptfe", name="return hose")
             for size in ["-4", "-5", "-6", "-8", "-10"][:count]}
    specs = ["ptfe", "full-size", "tube"] if long else None
    yield fn.size_picture(fn.line_sizes(car, "return hose", specs=specs))
    yield fn.pump_picture(fn.pump_and_system(car))
    yield fn.demand_picture(fn.sweep(car, {"duty": ["3 %", "50 %", "95 %"], "return hose": hoses}, cases=names[0], outputs=["rail.gauge"]))
    yield fn.suction_picture(fn.sweep(car, {"fluid_temperature": ["20 C", "50 C", "70 C"]}, outputs=["pump.suction_margin"]))


def words_in(ax):
    """Every text that is shown with its box, tick labels that lean apart left out: their boxes cross though they do not."""
    legend = ax.get_legend()
    texts = [*ax.texts, ax.title, ax._left_title, ax.xaxis.label, ax.yaxis.label, *(legend.get_texts() + [legend.get_title()] if legend else [])]
    shown = [(label, axis[0] <= label.get_position()[place] <= axis[1]) for place, (labels, axis) in enumerate(
        [(ax.get_xticklabels(), ax.get_xlim()), (ax.get_yticklabels(), sorted(ax.get_ylim()))]) for label in labels]
    ticks = [label for label, inside in shown if inside and not label.get_rotation()]
    return [(text.get_text(), text.get_window_extent()) for text in [*texts, *ticks] if text.get_visible() and text.get_text()]


@pytest.mark.parametrize("count, long", [(1, False), (5, False), (5, True)])
def test_words_do_not_overlap_nor_leave_the_picture(count, long):
    for ax in pictures(count, long=long):
        ax.figure.savefig("/dev/null", format="png")
        words, frame = words_in(ax), ax.figure.bbox
        assert len(words) > 8
        for text, box in words:
            assert box.x0 >= frame.x0 - 1 and box.x1 <= frame.x1 + 1 and box.y0 >= frame.y0 - 1 and box.y1 <= frame.y1 + 1, text
        for (one, box), (other, beside) in combinations(words, 2):
            over = min(box.x1, beside.x1) - max(box.x0, beside.x0), min(box.y1, beside.y1) - max(box.y0, beside.y0)
            assert min(over) < 2.5, (one, other)  # pixels: boxes hold a little air above and below the letters
        assert ax.get_legend() is None or ax.get_legend().get_window_extent().x0 > ax.get_window_extent().x1  # it covers no line
        assert "[" in ax.get_ylabel() and "invented" in ax.get_title(loc="left").replace("\n", " ")


def test_pictures_draw_on_the_axes_given_and_leave_style_alone(table, pump_lines):
    from matplotlib.figure import Figure

    answer = fn.sweep(demo(), {"duty": ["3 %", "85 %"], "fluid_temperature": ["20 C", "40 C"]}, cases="idle", outputs=["rail.gauge", "pump.suction_margin"])
    before = dict(matplotlib.rcParams)
    for draw, shown in [(fn.size_picture, table), (fn.size_picture, table.to_dataset()), (fn.pump_picture, pump_lines),
                        (fn.demand_picture, answer), (fn.suction_picture, answer.isel(duty=0))]:
        ax = Figure().subplots()
        assert draw(shown, ax=ax) is ax
    assert dict(matplotlib.rcParams) == before


def test_an_invented_circuit_is_marked_where_its_name_does_not_say(table):
    car = demo()
    car.name = "coupe"
    answer = fn.sweep(car, {"duty": ["3 %", "85 %"]}, cases="idle", outputs=["rail.gauge"])
    assert json.loads(answer.attrs["circuit"])["circuit"]["invented"] is True
    assert "coupe (invented)" in fn.demand_picture(answer).get_title(loc="left")
    assert "coupe (invented)" in fn.pump_picture(fn.pump_and_system(car, cases="idle")).get_title(loc="left")


def test_the_code_of_the_guide(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    names = {}
    for block in re.findall(r"```python\n(.*?)```", GUIDE.read_text(encoding="utf-8"), re.DOTALL):
        exec(compile(block, GUIDE.name, "exec"), names)  # noqa: S102 - our own text
    shown = re.findall(r"\(\.\./images/([a-z-]+\.png)\)", GUIDE.read_text(encoding="utf-8"))
    assert len(shown) == 4
    for name in shown:
        assert (tmp_path / name).stat().st_size > 10_000 and (GUIDE.parents[1] / "images" / name).exists()
