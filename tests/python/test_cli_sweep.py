"""`flarenut sweep`: the sweeps of a circuit file against single solves, its table, its files, and its ends."""

import json
import os
import re
import signal
import subprocess
import sys
import tomllib
from importlib.resources import files
from pathlib import Path

import flarenut as fn
import numpy
import pytest
from flarenut.circuit.file import read
from flarenut.cli import ctrl_c, main, out_files, sweep_progress
from flarenut.cli.parts import SWEEP_EXAMPLE

xarray = pytest.importorskip("xarray", reason="sweeps answer with xarray")
DEMO = files("flarenut").joinpath("demo", "return_style_e85.toml").read_text(encoding="utf-8")
PLAIN = DEMO[:DEMO.index("# What would another size")]
FAMILIES = '''
[sweep.hoses]
vary."return hose.size" = ["-4", "-6", "-8"]
vary.volts = {from = 12, to = 13, step = 0.5}
cases = ["idle", "hot restart"]
outputs = ["rail.gauge", "return hose.drop", "regulator.regime"]
'''


@pytest.fixture
def car(tmp_path):
    """Writes the demo circuit with sweeps of its own and returns the name of the file."""
    def write(sweeps=FAMILIES, text=PLAIN):
        path = tmp_path / "car.toml"
        path.write_text(text + sweeps, encoding="utf-8")
        return str(path)

    return write


def run(capsys, *words):
    code = main(["sweep", *map(str, words)])
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return code, out, err


def rows_of(out, first):
    """Cells of the rows that begin with a value."""
    return [line.split() for line in out.splitlines() if line.split()[:1] == [first]]


# ---- answers ----

def test_the_table_shows_what_single_solves_read(capsys, car):
    code, out, err = run(capsys, car())
    assert (code, err) == (0, "")
    single = fn.load(car(""))
    for size in ("-4", "-6", "-8"):
        single.change("return hose", size=size)
        rows = rows_of(out, size)
        assert [row[1] for row in rows] == ["12", "12", "12.5", "12.5", "13", "13"]
        for row, (volts, name) in zip(rows, [(volts, name) for volts in (12, 12.5, 13) for name in ("idle", "hot restart")], strict=True):
            single.cases[name].conditions["volts"] = volts
            case = single.solve(name)[name]
            shown = row[3:] if name == "idle" else row[4:]
            assert float(shown[0]) == pytest.approx(case.at("rail").gauge.to("psi"), abs=0.051)
            assert float(shown[1]) == pytest.approx(case.part("return hose").drop.to("psi"), abs=0.051)
            assert " ".join(shown[2:]) == case.part("regulator").regime
    assert "[psig]" in out and "invented circuit" in out and "verify by measurement" in out


def test_files_hold_the_dataset_of_the_same_sweep_in_python(capsys, car, tmp_path):
    table, netcdf = tmp_path / "a.csv", tmp_path / "a.nc"
    code, out, err = run(capsys, car(), "--out", table, "--out", netcdf, "--units", "metric")
    assert (code, err) == (0, "") and str(table) in out and str(netcdf) in out and "regime" not in out
    expected = fn.sweep(fn.load(car()), {"return hose.size": ["-4", "-6", "-8"], "volts": [12, 12.5, 13]}, ["idle", "hot restart"],
                        ["rail.gauge", "return hose.drop", "regulator.regime"], units="metric")
    for path in (table, netcdf):
        found = fn.load_sweep(path)
        xarray.testing.assert_equal(found, expected)
        assert found["rail.gauge"].attrs["units"] == "barg"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a.csv", "a.nc", "car.toml"]


@pytest.mark.parametrize("spelling, values", [
    ("{from = 11, to = 12, step = 0.1}", [11, 11.1, 11.2, 11.3, 11.4, 11.5, 11.6, 11.7, 11.8, 11.9, 12]),
    ('{from = "14 V", to = "11 V", step = "1.2 V"}', ["14 V", "12.8 V", "11.6 V"]), ("{from = 12, to = 12, step = 1}", [12]),
    ('["12 V", 13]', ["12 V", 13]), ("{flat = 11, full = 13}", {"flat": 11, "full": 13}),
])
def test_every_way_to_write_values(spelling, values):
    (names, found), = read(PLAIN + f"[sweep.x]\nvary.volts = {spelling}\n").sweeps["x"].steps
    assert names == ("volts",) and found == values and [type(one) for one in found] == [type(one) for one in values]


def test_names_that_run_along_together_and_parts_that_are_exchanged(capsys, car, tmp_path):
    out = tmp_path / "a.nc"
    path = car('[sweep.x]\ntogether."return hose.size" = ["-4", "-6"]\ntogether."feed hose.size" = ["-8", "-10"]\ncases = "idle"\noutputs = "rail.gauge"\n'
               'vary."fuel filter" = {open = {part = "filter", drop = "1 psi at 100 gph"}, tight = {part = "filter", drop = "9 psi at 100 gph"}}\n')
    assert run(capsys, path, "--out", out)[0] == 0
    found = fn.load_sweep(out)
    assert found["rail.gauge"].dims == ("return hose.size + feed hose.size", "fuel filter", "case")
    single = fn.load(path)
    single.change("return hose", size="-6")
    single.change("feed hose", size="-10")
    single.change("fuel filter", drop="9 psi at 100 gph", loading=1)
    rail = found["rail.gauge"].sel({"fuel filter": "tight"}).values[1, 0]
    assert rail == pytest.approx(single.solve("idle").at("rail", "idle").gauge.to("psi"), rel=1e-9)


def test_several_sweeps_each_have_a_file_and_one_may_be_asked_for(capsys, car, tmp_path):
    path = car(FAMILIES + '[sweep."what scatters?"]\nvary.volts = {between = ["11 V", "14 V"]}\nsamples = 5\nseed = 1\noutputs = "rail.gauge"\n')
    assert run(capsys, path, "--out", tmp_path / "a.csv")[0] == 0
    assert {one.name for one in tmp_path.iterdir()} == {"a-hoses.csv", "a-what-scatters.csv", "car.toml"}
    code, out, _ = run(capsys, path, "--only", "What Scatters?")
    assert code == 0 and "hoses" not in out and len(rows_of(out, out.split("---\n")[1].split()[0])) == 3  # a row for each case
    run(capsys, car("".join(f'[sweep."{name}"]\nvary.volts = [{volts}]\noutputs = "pump.flow"\n' for name, volts in (("a b", 12), ("a-b", 13)))),
        "--out", tmp_path / "s.csv")
    assert [float(fn.load_sweep(tmp_path / f"s-{name}.csv")["volts"][0]) for name in ("a-b", "a-b-2")] == [12, 13]  # two names, two files
    code, out, err = run(capsys, car(), "--only", "hosse")
    assert (code, out) == (2, "") and "did you mean 'hoses'?" in err


def test_limits_mark_cells_and_count_rows(capsys, car):
    code, out, _ = run(capsys, car(FAMILIES + 'limits."return hose.drop" = {most = "1 bar"}\nlimits."pump.flow" = {least = "90 gph"}\n'))
    assert code == 0
    answer = fn.sweep(fn.load(car()), {"return hose.size": ["-4", "-6", "-8"], "volts": [12, 12.5, 13]}, ["idle", "hot restart"],
                      ["return hose.drop", "pump.flow"])
    high, low = answer["return hose.drop"].values > 1e5, answer["pump.flow"].values < 90 * 3.785411784e-3 / 3600  # US gallon: NIST SP 811
    assert 0 < high.sum() and 0 < low.sum() and 0 < (~high & ~low).sum()
    assert f"{(~high & ~low).sum()} of 18 rows keep them all" in out
    assert f"at most 14.5 psi: {high.sum()} above (>)" in out and f"at least 90 gal/h: {low.sum()} below (<)" in out
    assert sum(line.count(" >") for line in out.split("Limits")[0].splitlines()) == high.sum()
    assert sum(line.count(" <") for line in out.split("Limits")[0].splitlines()) == low.sum()


BOILING = """
[sweep.hot]
vary.fluid_temperature = ["20 C", "85 C"]
cases = ["idle", "full power"]
outputs = ["rail.gauge", "pump.flow"]
limits."rail.gauge" = {least = "10 psi"}
"""


def test_rows_that_boil_are_marked_counted_and_keep_no_limit(capsys, car, tmp_path):
    code, out, err = run(capsys, car(BOILING))
    assert (code, err) == (0, "")
    single = fn.load(car(""))
    for name in ("idle", "full power"):
        single.cases[name].conditions["fluid_temperature"] = "85 C"
    assert all("boil" in str(list(answer.findings)) for answer in [single.solve("idle"), single.solve("full power")])
    assert all("boils" in row for row in rows_of(out, "85")) and not any("boils" in row for row in rows_of(out, "20"))
    assert "The liquid boils somewhere in 2 of 4" in out and "Limits: 2 of 4 rows keep them all; the 2 in which the liquid boils do not" in out
    assert "margin to boiling" not in out
    code, out, err = run(capsys, car(BOILING.replace('"pump.flow"]', '"margin_to_boiling"]')))
    shown = [float(row[-1]) for row in rows_of(out, "85")]
    assert code == 0 and "margin to" in out and len(shown) == 2 and max(shown) < 0
    code, out, err = run(capsys, car(BOILING), "--out", tmp_path / "a.csv")
    assert (code, err) == (0, "") and "The liquid boils somewhere in 2 of 4" in out
    assert (fn.load_sweep(tmp_path / "a.csv")["margin_to_boiling"] < 0).sum() == 2


def test_points_that_boil_are_hollow_and_the_legend_says_why(car):
    pytest.importorskip("matplotlib")
    from flarenut.plotting.sweep_lines import BOILS, sweep_lines

    with pytest.warns(fn.SweepWarning, match="in 2 of 6"):
        answer = fn.sweep(fn.load(car("")), {"fluid_temperature": ["20 C", "30 C", "85 C"]}, ["idle", "full power"], "rail.gauge", units="us")
    ax = sweep_lines(answer, "rail.gauge")
    full = {line.get_label(): line for line in ax.get_lines()}
    assert numpy.isfinite(full["idle"].get_ydata()).tolist() == [True, True, False]
    hollow = [line for line in ax.get_lines() if line.get_markerfacecolor() == "none"]
    assert [line.get_ydata().tolist() for line in hollow] == [answer["rail.gauge"].values[2:, 0].tolist(), answer["rail.gauge"].values[2:, 1].tolist()]
    words = [text.get_text() for text in ax.get_legend().get_texts()]
    assert words.count(BOILS) == 1 and "idle" in words


def test_lines_of_which_all_points_boil_are_told_apart_by_their_marks_and_named_by_them(car):
    pytest.importorskip("matplotlib")
    from flarenut.plotting.sweep_lines import BOILS, sweep_lines

    with pytest.warns(fn.SweepWarning, match="in 18 of 18"):
        answer = fn.sweep(fn.load(car("")), {"volts": [12, 13, 14], "return hose.size": ["-4", "-6", "-8"], "fluid_temperature": ["85 C"]},
                          ["idle", "full power"], "rail.gauge", units="us")
    ax = sweep_lines(answer, "rail.gauge")
    drawn = [line for line in ax.get_lines() if len(line.get_xdata()) and numpy.isfinite(line.get_ydata()).any()]
    assert len(drawn) == 6 and all(line.get_markerfacecolor() == "none" for line in drawn)
    assert len({(line.get_marker(), line.get_color()) for line in drawn}) == 6
    legend = ax.get_legend()
    assert len(legend.get_texts()) == 7 and [text.get_text() for text in legend.get_texts()].count(BOILS) == 1
    assert all(one.get_linestyle() == "None" and one.get_markerfacecolor() == "none" for one in legend.legend_handles)


# ---- the table on a screen ----

@pytest.mark.parametrize("width", [80, 120])
def test_no_line_is_wider_than_the_screen(capsys, car, monkeypatch, width):
    monkeypatch.setenv("COLUMNS", str(width))
    _, out, _ = run(capsys, car(FAMILIES + '[sweep.all]\nvary.duty = ["3 %", "50 %"]\n[sweep.long]\nvary.volts = {from = 11, to = 14, step = 0.05}\n'
                                'vary.fluid_temperature = ["20 C", "300 C"]\n'))
    long = [line for line in out.splitlines() if len(line) > width and not line.startswith(("sweep '", "All rows"))]
    assert long == []


def test_a_long_sweep_shows_its_first_rows_its_extremes_and_where_to_get_the_rest(capsys, car):
    path = car('[sweep.long]\nvary.volts = {from = 11, to = 14, step = 0.05}\ncases = "idle"\noutputs = ["pump.flow", "regulator.regime"]\n')
    code, out, _ = run(capsys, path)
    assert code == 0 and "... and 51 more rows" in out and f'flarenut sweep {path} --only "long" --out' in out
    answer = fn.sweep(fn.load(path), {"volts": [round(11 + 0.05 * i, 2) for i in range(61)]}, "idle", ["pump.flow", "regulator.regime"], units="us")
    lowest, highest = re.search(r"(\S+) at 11 V\n", out)[1], re.search(r"(\S+) at 14 V\n", out)[1]
    for text, number in ((lowest, answer["pump.flow"].min()), (highest, answer["pump.flow"].max())):
        assert float(text) == pytest.approx(float(number), abs=0.51)
    assert re.search(r"regulator regime +.*regulating \d+", out)
    assert len(rows_of(out, "11.45")) == 1 and not rows_of(out, "11.5")


def test_points_without_an_answer_are_marked_and_their_reason_told_once(capsys, car):
    code, out, err = run(capsys, car('[sweep.x]\nvary.fluid_temperature = ["20 C", "300 C"]\noutputs = "rail.gauge"\n'))
    assert (code, err) == (0, "")
    assert [row[-1] for row in rows_of(out, "300")] == ["–"] * 3 and all("refused" in row for row in rows_of(out, "300"))
    assert "Without an answer: 3 of 6" in out and out.count("is above") == 1


@pytest.mark.parametrize("limits", ["", 'limits."rail.gauge" = {least = "40 psi"}\n'])
def test_a_sweep_without_any_answer_says_why_once_and_exits_1(capsys, car, tmp_path, limits):
    path = car(f'[sweep.x]\nvary.fluid_temperature = ["300 C", "400 C"]\noutputs = "rail.gauge"\n{limits}')
    code, out, err = run(capsys, path, "--out", tmp_path / "a.csv")
    assert code == 1 and err.count("\n") == 1 and "none of 6 solves has an answer" in err and "temperature" in err
    assert (fn.load_sweep(tmp_path / "a.csv")["status"] == 2).all() and str(tmp_path / "a.csv") in out


# ---- pictures ----

def test_a_picture_draws_the_values_with_units_and_a_legend(capsys, car, tmp_path):
    pytest.importorskip("matplotlib")
    from flarenut.plotting.sweep_lines import MOST_LINES, sweep_lines

    picture = tmp_path / "a.png"
    code, out, _ = run(capsys, car(), "--out", picture)
    assert code == 0 and picture.read_bytes()[:8] == b"\x89PNG\r\n\x1a\n" and str(picture) in out
    answer = fn.sweep(fn.load(car()), {"return hose.size": ["-4", "-6", "-8"], "volts": [12, 13]}, ["idle", "hot restart"],
                      ["rail.gauge", "regulator.regime"], units="us")
    ax = sweep_lines(answer, "rail.gauge", limits=(40.0, None))
    drawn = {line.get_label(): line.get_ydata() for line in ax.get_lines() if len(line.get_xdata()) == 3}
    assert set(drawn) == {f"volts {volts} V, {case}" for volts in (12, 13) for case in ("idle", "hot restart")}
    for label, heights in drawn.items():
        volts, case = label.removeprefix("volts ").split(" V, ")
        assert heights.tolist() == answer["rail.gauge"].sel({"volts": int(volts), "case": case}).values.tolist()
    assert [tick.get_text() for tick in ax.get_xticklabels()] == ["-4", "-6", "-8"]
    assert "[psig]" in ax.get_ylabel() and ax.get_xlabel() == "return hose size" and ax.get_legend() is not None
    assert [text.get_text() for text in ax.texts] == ["at least\n40 psig"]
    many = fn.sweep(fn.load(car()), {"volts": [12, 13], "duty": [0.05 * i for i in range(1, 18)]}, ["idle", "full power"], "rail.gauge", units="metric")
    ax = sweep_lines(many, "rail.gauge")
    assert 2 <= len(ax.get_lines()) <= MOST_LINES and f"{len(ax.get_lines())} of 34 lines shown" in ax.get_title(loc="left")
    assert ax.get_xlabel() == "volts [V]" and ax.get_lines()[0].get_xdata().tolist() == [12, 13] and "[barg]" in ax.get_ylabel()
    assert any("idle" in line.get_label() for line in ax.get_lines()) and any("full power" in line.get_label() for line in ax.get_lines())
    for wrong, words in (("regulator.regime", "holds words"), ("rial", "no reading 'rial'")):
        with pytest.raises(ValueError, match=words):
            sweep_lines(answer, wrong)


def test_random_samples_are_dots_over_what_was_drawn_first(car):
    pytest.importorskip("matplotlib")
    from flarenut.plotting.sweep_lines import sweep_lines

    answer = fn.sweep(fn.load(car()), {"volts": fn.between("11 V", "14 V"), "duty": fn.between(0.1, 0.8)}, "idle", "pump.flow", samples=20, seed=3)
    (line,) = sweep_lines(answer, "pump.flow").get_lines()
    assert line.get_linestyle() == "None" and line.get_xdata().tolist() == answer["volts"].values.tolist()
    assert line.get_ydata().tolist() == answer["pump.flow"].values[:, 0].tolist()


def test_of_samples_there_is_a_panel_for_each_thing_drawn_and_six_panels_unless_outputs_are_named(capsys, car, tmp_path, monkeypatch):
    pytest.importorskip("matplotlib")
    from flarenut.plotting import sweep_lines

    drawn, draw = [], sweep_lines.sweep_lines
    monkeypatch.setattr(sweep_lines, "sweep_lines", lambda answer, name, **words: drawn.append(draw(answer, name, **words)))
    two = '[sweep.x]\nvary.volts = {between = ["11 V", "14 V"]}\nvary.duty = {between = [0.1, 0.8]}\nsamples = 20\nseed = 1\ncases = "idle"\n'
    assert run(capsys, car(two + 'outputs = "pump.flow"\n'), "--out", tmp_path / "a.svg")[0] == 0
    assert [ax.get_xlabel() for ax in drawn] == ["volts [V]", "duty"]
    assert drawn[1].get_lines()[0].get_xdata().tolist() != drawn[0].get_lines()[0].get_xdata().tolist()
    assert "panels are drawn" not in (tmp_path / "a.svg").read_text(encoding="utf-8")
    drawn.clear()
    assert run(capsys, car(two), "--out", tmp_path / "b.svg")[0] == 0
    assert len(drawn) == 6 and re.search(r"6 of \d+ panels are drawn", (tmp_path / "b.svg").read_text(encoding="utf-8"))


def test_the_legend_of_a_picture_says_of_what_its_numbers_are(car):
    pytest.importorskip("matplotlib")
    from flarenut.plotting.sweep_lines import sweep_lines

    answer = fn.sweep(fn.load(car("")), {"volts": [12, 13], "filter_loading": [1, 3]}, ["idle", "full power"], "pump.flow")
    words = [text.get_text() for text in sweep_lines(answer, "pump.flow").get_legend().get_texts()]
    assert words == ["filter loading 1, idle", "filter loading 1, full power", "filter loading 3, idle", "filter loading 3, full power"]
    over = sweep_lines(answer, "pump.flow", over="filter_loading")
    assert over.get_xlabel() == "filter loading" and {line.get_label() for line in over.get_lines()} >= {"volts 12 V, idle", "volts 13 V, full power"}
    with pytest.raises(ValueError, match="no 'filter' to draw over"):
        sweep_lines(answer, "pump.flow", over="filter")


# ---- wrong input ----

@pytest.mark.parametrize("lines, at, told", [
    ('vary."return hose.sise" = ["-4"]', "2:6", "did you mean 'size'?"), ('vary."retrun hose.size" = ["-4"]', "2:6", "did you mean 'return hose.size'?"),
    ('vary."return hose.size" = ["-4", "-99"]', "2:34", "'-99'"), ('vary."return hose.size" = "-4"', "2:27", "one value, not a list"),
    ('vary.volts = [11]\nlimits."rail.gauge" = {least = "60 psi", most = "40 psi"}', "3:23", "is above its most"),
    ('vary.volts = [11]\nlimits."rail.gauge" = {least = "60 psi", most = "1 bar"}', "3:23", "is above its most"),
    ("vary.duty = ['150 %']", "2:14", "give 0 to 100 %"), ('vary.volts = [12]\nvary."pump.volts" = [12]', "2:6", "say the same thing"),
    ("vary.vlots = [11]", "2:6", "did you mean 'volts'?"), ("vari.volts = [11]", "2:1", "did you mean 'vary'?"),
    ("vary.volts = {from = 11, to = 14, stpe = 1}", "2:35", "did you mean 'step'?"), ("vary.volts = {from = 11, to = 14}", "2:14", "'step' is missing"),
    ('vary.volts = {from = "11 V", to = 14, step = 1}', "2:35", "one unit"), ("vary.volts = {from = 1, to = 2, step = 0}", "2:40", "above zero"),
    ("vary.volts = {from = 1, to = 2, step = 1e-9}", "2:40", "1,000,000,001 values"),
    ('vary."return hose.size" = {from = "-4", to = "-8", step = 2}', "2:35", "listed one by one"),
    ('vary.volts = {betwen = ["11 V", "14 V"]}', "2:15", "did you mean 'between'?"), ('vary.volts = {between = ["11 V", "14 V"]}', "2:14", "add samples"),
    ('vary.volts = {between = ["11 V", "14 psi"]}\nsamples = 3', "2:25", "different units"), ("vary.volts = [11]\nsamples = 3", "3:1", "nothing is drawn"),
    ("vary.volts = [11]\nseed = -1", "3:8", "whole number"), ('vary.volts = [11]\nsampling = "sobl"', "3:12", "did you mean 'sobol'?"),
    ('vary.volts = [11]\noutputs = ["pump.flow", "rial.gauge"]', "3:25", "did you mean 'rail.gauge'?"),
    ('vary.volts = [11]\ncases = "idel"', "3:9", "did you mean 'idle'?"), ("vary.volts = [11]\noutputs = []", "3:11", "names in quotes"),
    ('vary.volts = [11]\nlimits."rail.gauge" = {leest = "3 psi"}', "3:24", "did you mean 'least'?"),
    ('vary.volts = [11]\nlimits."rail.gauge" = {least = "3 ft"}', "3:32", "gauge pressure"),
    ('vary.volts = [11]\nlimits."rial.gauge" = {least = "3 psi"}', "3:8", "did you mean 'rail.gauge'?"),
    ('vary.volts = [11]\nlimits."regulator.regime" = {least = 1}', "3:29", "not a number"),
    ("vary = 5", "2:8", "names with values"), ("vary.volts = []", "2:14", "empty"), ("", "1:8", "nothing varies"),
    ('vary.pump = ["x"]', "2:14", "write each as a part"), ('vary.pump = [{part = "formula_pmp"}]', "2:22", "did you mean 'formula_pump'?"),
    ('together."return hose.size" = ["-4"]', "2:1", "names one thing alone"), ("together = [3]", "2:13", "name two or more"),
    ('together."return hose.size" = ["-4"]\ntogether."feed hose.size" = ["-4", "-6"]', "3:29", "give both as many"),
    ('vary.volts = [12]\ntogether.volts = [12]\ntogether.duty = [0.1]', "3:1", "varies twice"),
    ("vary.volts = [1979-05-27]", "2:15", "no value"),
])
def test_what_is_wrong_is_told_with_its_place_and_exits_2(capsys, car, lines, at, told):
    path = car(f"[sweep.x]\n{lines}\n")
    code, out, err = run(capsys, path)
    line, column = map(int, at.split(":"))
    assert (code, out) == (2, "")
    assert f"car.toml:{PLAIN.count(chr(10)) + line}:{column}: sweep 'x': " in err and told in err, err
    assert "cure: " in err


def test_wrong_options_and_missing_libraries(capsys, car, tmp_path, monkeypatch):
    for sweeps, words, told in (("", (), "flarenut parts sweep"), ("[sweep", (), "is not TOML"), (FAMILIES, ("--out", "a.bmp"), "end it in .csv"),
                                (FAMILIES, ("--out", tmp_path / "no" / "a.csv"), "no folder"), (FAMILIES, ("--out", tmp_path / "no" / "a.png"), "no folder"),
                                (FAMILIES, ("--threads", "-1"), "whole number"), (FAMILIES, ("--threads", "x"), "invalid int"),
                                (FAMILIES, ("--oot", "a.csv"), "did you mean '--out'?")):
        code, out, err = run(capsys, car(sweeps), *words)
        assert (code, out) == (2, "") and told in err, words
    from flarenut.cli import out_files, sweep
    from importlib.util import find_spec

    monkeypatch.setattr(out_files, "find_spec", lambda name: None if name == "h5netcdf" else find_spec(name))
    code, out, err = run(capsys, car(), "--out", tmp_path / "a.nc")
    assert (code, out) == (2, "") and "pip install 'flarenut[sweep]'" in err
    monkeypatch.setattr(sweep, "find_spec", lambda name: None)
    code, out, err = run(capsys, car())
    assert (code, out) == (2, "") and "pip install 'flarenut[sweep]'" in err


def test_what_does_not_fit_into_memory_is_refused_with_the_number(capsys, car, monkeypatch):
    from flarenut.studies import memory

    monkeypatch.setattr(memory, "available", lambda: 10_000_000)
    code, out, err = run(capsys, car('[sweep.x]\nvary.volts = {from = 11, to = 14, step = 0.001}\nvary.duty = {from = 0.1, to = 0.9, step = 0.001}\n'))
    assert (code, out) == (2, "") and "2,403,801 points in 3 cases" in err and "are free" in err and "sweep 'x'" in err
    code, out, err = run(capsys, car('[sweep.x]\nvary.volts = {between = ["11 V", "14 V"]}\nsamples = 9000000000000\n'))
    assert (code, out) == (2, "") and "9,000,000,000,000 samples" in err and "are free" in err and "car.toml" in err and "cure: draw fewer" in err


def test_an_ill_posed_circuit_exits_1(capsys, tmp_path):
    path = tmp_path / "loop.toml"
    path.write_text('[circuit]\nname = "loop"\nfluid = "water"\n[[run]]\nname = "out"\nfrom = "here"\nto = "there"\n'
                    'parts = [{part = "formula_pump", dead_head = "1 bar", free_flow = "10 L/min"}]\n[[run]]\nname = "back"\nfrom = "there"\nto = "here"\n'
                    'parts = [{part = "hose", bore = "8 mm", length = "1 m", name = "hose"}]\n[sweep.x]\nvary."hose.length" = ["1 m"]\n')
    code, out, err = run(capsys, path)
    assert (code, out) == (1, "") and "no path to a fixed pressure" in err


# ---- Ctrl-C and progress ----

@pytest.mark.skipif(os.name != "posix", reason="signals of this kind are POSIX")
@pytest.mark.parametrize("with_file", [True, False])
def test_ctrl_c_leaves_what_was_solved_and_exits_130(capsys, car, tmp_path, monkeypatch, with_file):
    class Press(sweep_progress.Progress):
        def __call__(self, done, count):
            if done and not hasattr(self, "pressed"):
                self.pressed = True
                signal.raise_signal(signal.SIGINT)

    monkeypatch.setattr(sweep_progress, "Progress", Press)
    path = car('[sweep.x]\nvary.volts = {from = 11, to = 14, step = 0.001}\nvary.duty = {from = 0.1, to = 0.9, step = 0.02}\ncases = "idle"\noutputs = "rail.gauge"\nlimits."rail.gauge" = {least = "1 psi"}\n'
               '[sweep.later]\nvary.volts = [12]\n')
    out_file = tmp_path / "a.csv"
    code, out, err = run(capsys, path, *(["--only", "x", "--out", out_file] if with_file else []))
    assert code == 130 and "stopped" in err and "123,041" in err and "later" not in out
    if not with_file:
        assert re.search(r"[\d,]+: not reached", out)
        said = re.search(r"Limits: ([\d,]+) of ([\d,]+) rows that were\s+reached keep them all; ([\d,]+)", out)
        kept, rows, missed = (int(text.replace(",", "")) for text in said.groups())
        assert f"... and {rows - 10:,} more rows that were reached; {missed:,} were not reached" in out
        assert f"Lowest and highest of the {rows:,} that were reached" in out
        assert "not reached" not in " ".join(out.splitlines()[2:14])  # rows shown are those that were
        assert kept == rows and rows + missed == 123041 and missed > 0
        return
    found = fn.load_sweep(out_file)
    reached = int((found["status"] != 3).sum())
    assert f"{123041 - reached:,} were not reached" in err and len(out_file.read_text(encoding="utf-8").splitlines()) == reached + 2
    assert set(numpy.unique(fn.words_of(found["status"]))) == {"solved", "not reached"} and str(out_file) in err
    assert (numpy.isfinite(found["rail.gauge"]) == (found["status"] == 0)).all()


@pytest.mark.skipif(os.name != "posix", reason="signals of this kind are POSIX")
@pytest.mark.parametrize("stopped", [True, False])
@pytest.mark.parametrize("insists", [True, False])
def test_ctrl_c_while_files_are_written_loses_nothing_unless_one_insists(capfd, car, tmp_path, monkeypatch, stopped, insists):
    class Press(sweep_progress.Progress):
        def __call__(self, done, count):
            if stopped and 0 < done < count and not hasattr(self, "pressed"):
                self.pressed = True
                signal.raise_signal(signal.SIGINT)

    def write(out, how):
        for _ in range(3):  # keys repeat
            signal.raise_signal(signal.SIGINT)
        if insists:
            now[0] += 5.0
            signal.raise_signal(signal.SIGINT)
        put_file(out, how)

    now, put_file = [100.0], out_files.put_file
    monkeypatch.setattr(ctrl_c, "monotonic", lambda: now[0])
    monkeypatch.setattr(sweep_progress, "Progress", Press)
    monkeypatch.setattr("flarenut.cli.sweep.put_file", write)
    path = car('[sweep.x]\nvary.volts = {from = 11, to = 14, step = 0.001}\nvary.duty = {from = 0.1, to = 0.9, step = 0.05}\ncases = "idle"\noutputs = "rail.gauge"\n')
    out_file = tmp_path / "a.csv"
    code, out, err = run(capfd, path, "--out", out_file)
    assert err.count("what was solved is being kept") == 1 and "press Ctrl-C once more to leave without it" in err
    assert (f"stopped: writing what was solved to {out_file}" in err) is stopped
    assert out_file.exists() is not insists and code == (130 if stopped or insists else 0)
    if not insists:
        assert int((fn.load_sweep(out_file)["status"] != 3).sum()) == (51017 - missed(err) if stopped else 51017)
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


def missed(err):
    return int(re.search(r"([\d,]+) were not reached", err)[1].replace(",", ""))


@pytest.mark.skipif(os.name != "posix", reason="terminals of this kind are POSIX")
@pytest.mark.parametrize("rich", [True, False])
def test_a_bar_is_shown_on_a_terminal_and_nowhere_else(monkeypatch, rich):
    import io

    class Terminal(io.StringIO):
        def isatty(self):
            return True

    if rich:
        pytest.importorskip("rich")
    else:
        monkeypatch.setitem(sys.modules, "rich.console", None)
    for stream in (Terminal(), io.StringIO()):
        clock = iter([0.0, 0.9, 2.0, 3.0, 4.0, 5.0])
        monkeypatch.setattr(sweep_progress, "monotonic", lambda clock=clock: next(clock))
        bar = sweep_progress.Progress("sweep 'x'", stream)
        bar(5, 2000)
        assert stream.getvalue() == ""  # within the first second
        for done in (500, 1000, 2000):
            bar(done, 2000)
        bar.close()
        shown = stream.getvalue()
        assert ("sweep 'x'" in shown) == stream.isatty()
        if stream.isatty() and not rich:
            assert "50 %, 1,000 of 2,000" in shown and shown.endswith("\r")


def test_nothing_of_a_bar_reaches_a_pipe(car):
    ended = subprocess.run([sys.executable, "-m", "flarenut", "sweep", car()], capture_output=True, text=True, timeout=120)
    assert (ended.returncode, ended.stderr) == (0, "") and "hoses" in ended.stdout


# ---- words ----

def test_the_example_of_the_help_the_demo_and_the_schema_are_taken(capsys, car):
    assert run(capsys, car(SWEEP_EXAMPLE))[0] == 0
    assert main(["parts", "sweep"]) == 0 and SWEEP_EXAMPLE.splitlines()[1] in capsys.readouterr().out
    code, out, err = run(capsys, car("", DEMO))
    assert (code, err) == (0, "") and "return line size" in out
    assert main(["schema"]) == 0
    keys = json.loads(capsys.readouterr().out)["properties"]["sweep"]["additionalProperties"]["properties"]
    for text in (DEMO, PLAIN + SWEEP_EXAMPLE):
        assert all(set(one) <= set(keys) for one in tomllib.loads(text)["sweep"].values())


def test_the_table_of_the_guide_is_what_the_demo_file_gives(capsys, car, monkeypatch):
    monkeypatch.setenv("COLUMNS", "110")
    guide = (Path(__file__).resolve().parents[2] / "docs" / "guide" / "command_line.md").read_text(encoding="utf-8")
    block = next(one for one in re.findall(r"```text\n(.*?)```", guide, re.DOTALL) if one.startswith("sweep '"))
    assert run(capsys, car("", DEMO))[1] == block
