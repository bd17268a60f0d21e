"""`flarenut sweep --findings`, and what a table tells of volts that no pump is made for."""

from importlib.resources import files

import flarenut as fn
import pytest
from flarenut.cli import main

pytest.importorskip("xarray", reason="sweeps answer with xarray")
DEMO = files("flarenut").joinpath("demo", "return_style_e85.toml").read_text(encoding="utf-8")
PLAIN = DEMO[:DEMO.index("# What would another size")]
SWEEP = '''
[sweep.volts]
vary.volts = ["12 V", "40 V"]
cases = ["idle", "full power"]
outputs = ["rail.gauge"]
'''


@pytest.fixture
def car(tmp_path):
    path = tmp_path / "car.toml"
    path.write_text(PLAIN + SWEEP, encoding="utf-8")
    return path


def run(capsys, *words):
    code = main(["sweep", *map(str, words)])
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err and code == 0 and err == ""
    return out


def test_the_worst_finding_of_each_row_stands_beside_it(capsys, car):
    out = run(capsys, car, "--findings")
    single, rows = fn.load(str(car)), [line for line in out.splitlines() if line.split()[:1] in (["12"], ["40"])]
    for row, (volts, name) in zip(rows, [(volts, name) for volts in (12, 40) for name in ("idle", "full power")], strict=True):
        single.cases[name].conditions["volts"] = volts
        worst = single.solve(name)[name].findings[0]
        assert row.endswith(f"{worst.severity.upper()} {worst.code}")
    said = " ".join(out.split())
    assert "worst finding" in said and "Findings of 4 points: 2 have a STOP, 0 a FIX and no STOP; worst most often: STOP pump volts in 2" in said


def test_without_it_none_are_shown_but_volts_far_over_the_charts_are_told(capsys, car, tmp_path):
    out = run(capsys, car)
    assert "finding" not in out.lower()
    assert "'pump' is driven at up to 40 V, far over the 13.5 V it was measured at" in " ".join(out.split())
    out = run(capsys, car, "--out", tmp_path / "rows.csv")
    assert "far over the 13.5 V" in " ".join(out.split())


def test_files_have_the_findings_and_pictures_do_not_draw_them(capsys, car, tmp_path):
    pytest.importorskip("matplotlib")
    out = run(capsys, car, "--findings", "--out", tmp_path / "rows.csv", "--out", tmp_path / "picture.svg")
    assert "Findings of 4 points" in " ".join(out.split())
    kept = fn.load_sweep(tmp_path / "rows.csv")
    assert [int(one) > 0 for one in kept["findings_stop"].values.ravel()] == [False, False, True, True]
    assert "findings" not in (tmp_path / "picture.svg").read_text(encoding="utf-8")
