"""A thermostat between liquid that is pushed and the way out: shut at the usual start temperature, open in the answer."""

import pytest

import flarenut as fn


def pushed(temperature, bleed, start, flow="10 L/min"):
    """Oil of a known temperature and flow through a thermostat that begins to open at 80 C and is wide open at 90 C (invented)."""
    circuit = fn.Circuit("bench", fluid="SAE 10W-40", fluid_temperature=start, air_temperature="20 C", temperatures="found", invented=True)
    circuit.fixed("out", "0 bar", temperature=start)
    circuit.junction("in", supply=flow, temperature=temperature)
    circuit.run("way", "in", "out", [fn.hose(bore="12 mm", length="1 m"), fn.thermostat("80 C", full="90 C", rated="0.2 bar at 40 L/min", bleed=bleed, name="stat"),
                                     fn.hose(bore="12 mm", length="1 m")])
    return circuit.solve()["as written"]


@pytest.mark.parametrize("start", ["20 C", "-20 C"])
@pytest.mark.parametrize("bleed", ["1 %", "0.1 %", "0.01 %"])
def test_hot_oil_opens_the_thermostat_that_it_is_pushed_against(bleed, start):
    """Nothing cools it on the way, so it comes out as hot as it went in, but for what its drops put into it: 1 bar is some 0.05 K."""
    case = pushed("95 C", bleed, start)
    assert case.converged, case.cause
    assert case.part("stat").regime == "wide open"
    assert case.part("stat").temperature_out.to("C") == pytest.approx(95.0, abs=0.2)
    assert case.at("in").gauge.to("bar") < 1.0


def test_oil_colder_than_it_opens_at_is_told_of():
    """At 60 C it stays shut: no pressure in use gets 10 L/min through a ten-thousandth of its opening."""
    case = pushed("60 C", "0.01 %", "20 C")
    assert not case.converged and "more liquid is pushed in than can get out" in case.cause and "stat" in case.cause
