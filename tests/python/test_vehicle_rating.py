"""Exchangers by a rating: heat at two flows and two inlet temperatures, given back by the vehicle that stands at them."""

import math

import pytest

import flarenut as fn
from flarenut import CircuitError

RATING = {"heat": "6 kW", "rated_first": "20 L/min at 120 C", "rated_second": "40 L/min at 85 C"}


def stand(oil_in="120 C", coolant_in="85 C", oil_flow="20 L/min", coolant_flow="40 L/min", **words):
    """A test stand: both liquids come at a known flow and temperature."""
    vehicle = fn.Vehicle("stand (invented)")
    for name, fluid, temperature, flow in (("oil", "SAE 10W-40", oil_in, oil_flow), ("coolant", "ethylene glycol 50 %", coolant_in, coolant_flow)):
        circuit = fn.Circuit(name, fluid=fluid)
        inlet = circuit.fluid.at(temperature).density.si
        amount = float(flow.split()[0]) / 6e4 * inlet  # [kg/s]: a supply by volume would count at 15 C
        circuit.junction("in", supply=f"{amount} kg/s", temperature=temperature)
        circuit.run("way", "in", "ambient", [fn.core("0.3 bar at 40 L/min", rated_with="own at 90 C", name=f"{name} side")])
        vehicle.add(circuit)
    vehicle.exchanger("cooler", ("oil", "oil side"), ("coolant", "coolant side"), **words)
    return vehicle


def heat_of(vehicle):
    return vehicle.solve().exchanger("cooler", "as written").heat.si


@pytest.mark.parametrize("words", [
    {}, {"first_share": "75 %"}, {"arrangement": "cross flow"}, {"arrangement": "parallel flow", "first_share": "60 %"},
    {"first_side": {"plates": 10, "length": "150 mm", "width": "70 mm", "gap": "2 mm"}},
    {"second_side": {"area": "0.2 m2", "bore": "5 mm", "length": "150 mm"}},
    {"first_side": {"enhancement": 3}},
])
def test_the_rating_comes_back(words):
    """Within 0.1 %: friction of 0.1 bar warms the oil by 5 mK, and cp is that of the mean."""
    assert heat_of(stand(**RATING, **words)) == pytest.approx(6000.0, rel=1e-3)


def test_a_rating_that_warms_the_first_stream_comes_back_too():
    turned = {"heat": "3 kW", "rated_first": "20 L/min at 40 C", "rated_second": "40 L/min at 90 C"}
    assert heat_of(stand(oil_in="40 C", coolant_in="90 C", **turned)) == pytest.approx(-3000.0, rel=1e-3)


def test_heat_goes_with_the_inlet_difference_and_falls_with_flow_and_cold():
    """Half the difference is half the heat, but that colder oil is thicker, and its film worse; less flow is less."""
    rated = heat_of(stand(**RATING))
    half = heat_of(stand(oil_in="102.5 C", **RATING))
    assert 0.4 * rated < half < 0.5 * rated
    assert 0.5 * rated < heat_of(stand(oil_flow="10 L/min", **RATING)) < rated
    assert 0.5 * rated < heat_of(stand(coolant_flow="20 L/min", **RATING)) < rated


def test_the_side_with_the_resistance_decides():
    """Where most resistance lies on the oil's side, less coolant does less harm."""
    losses = [heat_of(stand(coolant_flow="15 L/min", first_share=share, first_side={"enhancement": 4}, **RATING)) for share in ("80 %", "20 %")]
    assert losses[0] > losses[1]


def test_dirt_comes_on_top_of_a_rating():
    """With R in the wall UA falls from UA0 to 1/(1/UA0 + R): counterflow by its closed form, at the capacity rates of the rating."""
    dirty = stand(wall_resistance=0.002, **RATING).solve()
    rates = [dirty[name]["as written"].part(f"{name} side").mass_flow.si * dirty[name]["as written"].solution.liquid_in(f"{name} side")["specific_heat"]
             for name in ("oil", "coolant")]
    least, ratio = min(rates), min(rates) / max(rates)
    effectiveness = 6000.0 / 35.0 / least
    clean = least * math.log((1.0 - effectiveness * ratio) / (1.0 - effectiveness)) / (1.0 - ratio)
    falling = math.exp(-1.0 / (1.0 / clean + 0.002) / least * (1.0 - ratio))
    expected = (1.0 - falling) / (1.0 - ratio * falling) * least * 35.0
    # 2 %: the oil leaves warmer than at the rating, so that its film is better.
    assert dirty.exchanger("cooler", "as written").heat.si == pytest.approx(expected, rel=0.02)
    assert expected < 5500.0


@pytest.mark.parametrize(("words", "key", "said"), [
    ({"rated_second": None}, "rated_second", "the rating lacks its 'rated_second'"),
    ({"heat": "60 kW"}, "heat", "carries up to"),
    ({"heat": "-6 kW"}, "heat", "above zero"),
    ({"rated_first": "20 L/min"}, "rated_first", "20 L/min"),
    ({"rated_first": "20 L/min at 85 C"}, "rated_first", "same temperature"),
    ({"first_share": "100 %"}, "first_share", "first_share"),
    ({"first_side": {"area": "100 m2", "bore": "4 mm", "length": "150 mm"}}, "first_side", "times as well"),
])
def test_a_rating_that_cannot_be_is_told_by_its_key(words, key, said):
    with pytest.raises(CircuitError) as caught:
        stand(**{**RATING, **words}).solve()
    assert caught.value.place == "exchanger 'cooler'"
    assert caught.value.key == key
    assert said in str(caught.value)
