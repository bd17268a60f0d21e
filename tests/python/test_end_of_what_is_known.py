"""A stream that leaves a part where what is known of its liquid ends is told of: its temperature ends there, too."""

import flarenut as fn
import pytest


@pytest.mark.parametrize(("rise", "told"), [("230 K", True), ("30 K", False)])
def test_oil_that_leaves_a_hose_beside_a_turbine_hotter_than_it_is_known_for_is_told_of(rise, told):
    circuit = fn.Circuit("drain (invented)", fluid="SAE 10W-40", air_temperature="20 C")
    circuit.fixed("hot", "1 bar", temperature="140 C")
    circuit.fixed("out", "0 bar")
    circuit.run("way", "hot", "out", [fn.orifice("0.4 mm"), fn.hose(bore="8 mm", length="3 m", name="hose", air="10 m/s", air_rise=rise)])
    case = circuit.solve()["as written"]
    assert case.converged, case.cause
    assert [one.where for one in case.findings if one.code == "end of what is known"] == (["hose"] if told else [])
