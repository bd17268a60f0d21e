"""Water that stands in the frost is told of; what flows past is not."""

import pytest

import flarenut as fn

BODY = """
[circuit]
name = "a heater branch on a cold morning"
invented = true
fluid = "{fluid}"
units = "metric"
air_temperature = "-10 C"

[fixed.engine]
pressure = "1 bar"
temperature = "80 C"
[fixed.drain]
pressure = "0 bar"

[junction."behind the cock"]

[[run]]
name = "cock"
from = "engine"
to = "behind the cock"
parts = [{{part = "valve", name = "heater cock", rated = "0.2 bar at 20 L/min", opening = {opening}, leak = 1e-5}}]
[[run]]
name = "branch"
from = "behind the cock"
to = "drain"
parts = [{{part = "hose", name = "heater hose", bore = "16 mm", length = "3 m", roughness = "0.01 mm", air = "5 m/s"}}]
"""


@pytest.mark.parametrize(("fluid", "opening", "told"), [("water", 0.0, True), ("water", 1.0, False), ("ethylene glycol 50 %", 0.0, False), ("SAE 5W-30", 0.0, False)])
def test_water_that_all_but_stands_in_the_frost_is_told_of(tmp_path, fluid, opening, told):
    (tmp_path / "branch.toml").write_text(BODY.format(fluid=fluid, opening=opening), encoding="utf-8")
    case = fn.load(tmp_path / "branch.toml").solve()["as written"]
    assert case.converged, case.cause
    found = [finding for finding in case.findings if finding.code == "ice"]
    assert [finding.where for finding in found] == (["heater hose"] if told else [])
    if told:
        assert "as cold as 0 C" in found[0].text() and "glycol" in found[0].cure
