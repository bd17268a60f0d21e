"""The guide to sweeps: its code is run as it stands, in order."""

import re
from pathlib import Path

import pytest

pytest.importorskip("xarray", reason="sweeps answer with xarray")
pytest.importorskip("h5py", reason="the guide keeps its answer as NetCDF")
GUIDE = Path(__file__).resolve().parents[2] / "docs/guide/sweeps.md"


@pytest.mark.filterwarnings("ignore:in 1 of 3 solves the liquid boils")  # the last section shows it
@pytest.mark.filterwarnings("ignore:.* solves are refused and have no numbers")  # and one before it this
def test_the_code_of_the_guide(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    blocks = re.findall(r"```python\n(.*?)```", GUIDE.read_text(encoding="utf-8"), re.DOTALL)
    names = {"__name__": "__main__"}
    printed = []
    for block in blocks:
        exec(compile(block, GUIDE.name, "exec"), names)  # noqa: S102 - our own text
        printed.append(capsys.readouterr().out)
    assert "rail pressure" in printed[0] and "regulator regime" in printed[1] and "feed hose.size + return hose.size" in printed[2]
    assert "pump suction margin" in printed[3]
    assert "refused" in printed[4] and "temperature" in printed[4]
    margins, flows = (re.findall(r"-?[\d.]+(?=[ \]])|nan", line) for line in printed[-3].splitlines())
    assert [float(text) > 0 for text in margins] == [True, True, False] and [text == "nan" for text in flows] == [False, False, True]
    assert re.search(r"(STOP|FIX|WATCH) [a-z]", printed[-2])
    assert "STOP" in printed[-1] and "boil" in printed[-1]
    assert printed[-4].startswith("True") and (tmp_path / "sweep.nc").exists()
