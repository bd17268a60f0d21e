"""Heat of coolers and exchangers as a builder asks for it, through the public interface, against `ht`, CoolProp and SciPy.

A cooler is known by its rating and asked away from it; an exchanger by its sides. Films inside are `ht`'s (line_heat_judge.py), the arrangement is
`ht.effectiveness_NTU_method`. Bounds: 0.3 %, for the judge takes the liquid at the middle between inlet and outlet, the engine at the mean of
its way (docs/theory/heat_transfer.md). What a tank loses through its walls is a closed form in tests/python/test_heat_words.py; laminar exchangers in
all arrangements stand in tests/python/test_vehicle.py, random oil circuits with coolers in tests/campaigns/test_judge.py. All invented.
"""

import math
from functools import cache

import ht
import pytest
from CoolProp import CoolProp as props
from line_heat_judge import ICE, nusselt_inside, water
from scipy.optimize import brentq

import flarenut as fn

LITRES = 1.0 / 60000.0  # [m3/s] of 1 L/min
FACE, STILL = 0.3 * 0.19, 0.1  # [m2]; the draught of a warm core where nothing blows [m/s], docs/parts/air_core.md
AREA, BORE, WAY = 0.9, 0.003, 0.3  # wetted area [m2], bore and length of a passage [m]
RATED_FLOW, RATED_HEAT, RATED_IN, RATED_AIR, RATED_SPEED = 20.0, 5000.0, 90.0, 35.0, 5.0
WITHIN = 0.003  # of the heat; seen: 0.2 %


def oil():
    """The project's own, which is judged against published tables elsewhere; water is CoolProp's."""
    liquid = fn.fluid("SAE 10W-40").liquid
    return (lambda t: liquid.at(t).density, lambda t: liquid.at(t).viscosity, lambda t: liquid.heat_at(t).specific_heat, lambda t: liquid.heat_at(t).conductivity)


LIQUIDS = {"water": lambda: water()[:4], "SAE 10W-40": oil}


def film(liquid, mass_flow, kelvin, area, bore, way):
    """(h A) inside plain passages [W/K], and the specific heat there."""
    _, viscosity, specific_heat, conductivity = (one(kelvin) for one in liquid)
    reynolds = 4.0 * mass_flow * way / (area * viscosity)
    return nusselt_inside(reynolds, viscosity * specific_heat / conductivity, bore / way) * conductivity / bore * area, specific_heat


def air_at(celsius):
    """Density and specific heat of dry air, CoolProp."""
    return (props.PropsSI(letter, "T", celsius + ICE, "P", 101325.0, "Air") for letter in "DC")


def cooler_heat(name, mass_flow, inlet, air, speed, outside):
    """Heat [W] of the core in cross flow, neither mixed, `outside` being its conductance to the air at the rating's face speed."""
    liquid = LIQUIDS[name]()
    density, specific_heat = air_at(air)
    conductance = outside * (density * speed / (1.204 * RATED_SPEED)) ** 0.6
    mean, heat = inlet + ICE, 0.0
    for _ in range(60):
        inside, cp = film(liquid, mass_flow, mean, AREA, BORE, WAY)
        heat = ht.effectiveness_NTU_method(mh=mass_flow, mc=density * speed * FACE, Cph=cp, Cpc=specific_heat, subtype="crossflow", Thi=inlet, Tci=air,
                                           UA=1.0 / (1.0 / inside + 1.0 / conductance))["Q"]
        newer = inlet + ICE - 0.5 * heat / (mass_flow * cp)
        if abs(newer - mean) < 1e-6:
            break
        mean = newer
    return heat


@cache
def outside_of(name):
    """Conductance to the air with which the core gives its rating back, its flow at the rating's own temperature."""
    mass_flow = RATED_FLOW * LITRES * LIQUIDS[name]()[0](RATED_IN + ICE)
    return brentq(lambda outside: cooler_heat(name, mass_flow, RATED_IN, RATED_AIR, RATED_SPEED, outside) - RATED_HEAT, 100.0, 1e5)


@pytest.mark.parametrize("fan", [1.5, 5.0, 12.0])
@pytest.mark.parametrize(("flow", "warm", "air"), [(20.0, 90.0, 35.0), (8.0, 110.0, 20.0), (40.0, 75.0, -10.0)])
@pytest.mark.parametrize("name", LIQUIDS)
def test_a_cooler_away_from_its_rating(name, flow, warm, air, fan):
    """ht: films of plain passages, cross flow with neither stream mixed; the air's side by its mass flow to the power of 0.6 (docs/parts/cooler.md)."""
    circuit = fn.Circuit("core in air (invented)", fluid=name, air_temperature=f"{air} C", temperatures="found", invented=True)
    circuit.junction("stand", supply=f"{flow} L/min", temperature=f"{warm} C")
    circuit.run("way", "stand", "ambient", [fn.cooler(
        f"{RATED_HEAT} W at {RATED_FLOW} L/min", rated_inlet=f"{RATED_IN} C", rated_air=f"{RATED_AIR} C at {RATED_SPEED} m/s", face=["300 mm", "190 mm"],
        wetted_area=f"{AREA} m2", passage_bore=f"{BORE} m", passage_length=f"{WAY} m", drop="20 kPa at 20 L/min", rated_with="own at 100 C", name="cooler")])
    circuit.case("blown", fan=f"{fan} m/s")
    part = circuit.solve()["blown"].part("cooler")
    theirs = cooler_heat(name, part.mass_flow.si, warm, air, math.hypot(fan, STILL), outside_of(name))
    assert part.heat.si == pytest.approx(theirs, rel=WITHIN)
    cooled, middle = part.temperature_in.si - part.temperature_out.si, 0.5 * (part.temperature_in.si + part.temperature_out.si)
    rubbed = part.drop.si * part.flow.si  # friction gives some of it back to the stream
    assert cooled * part.mass_flow.si * LIQUIDS[name]()[2](middle) == pytest.approx(theirs - rubbed, rel=0.01)


@pytest.mark.parametrize(("arrangement", "subtype"), [("counterflow", "counterflow"), ("parallel flow", "parallel"), ("cross flow", "crossflow")])
@pytest.mark.parametrize(("oil_flow", "water_flow"), [(10.0, 30.0), (30.0, 60.0), (60.0, 15.0)])
def test_an_exchanger_of_oil_and_turbulent_water(arrangement, subtype, oil_flow, water_flow):
    """ht: Hausen, Gnielinski, effectiveness_NTU_method; liquids that change with temperature."""
    sides = {"oil": (0.5, 0.004, 0.4), "water": (0.1, 0.006, 0.4)}  # wetted area, bore, way
    circuits = []
    for name, fluid, flow, warm in (("oil", "SAE 10W-40", oil_flow, 120.0), ("water", "water", water_flow, 40.0)):
        circuit = fn.Circuit(name, fluid=fluid, temperatures="found", invented=True)
        circuit.junction("stand", supply=f"{flow} L/min", temperature=f"{warm} C")
        circuit.run("way", "stand", "ambient", [fn.core(f"1 kPa at {flow} L/min", rated_with="own at 100 C", name="side")])
        circuits.append(circuit)
    vehicle = fn.Vehicle("bench (invented)", *circuits)
    vehicle.exchanger("plates", ("oil", "side"), ("water", "side"), arrangement=arrangement, **{
        f"{end}_side": {"area": f"{area} m2", "bore": f"{bore} m", "length": f"{way} m"}
        for end, (area, bore, way) in zip(("first", "second"), sides.values())})
    answer = vehicle.solve()
    flows = {name: answer[name]["as written"].part("side").mass_flow.si for name in sides}
    means, heat = {"oil": 120.0 + ICE, "water": 40.0 + ICE}, 0.0
    for _ in range(60):
        oil_film, water_film = (film(LIQUIDS[fluid](), flows[name], means[name], *sides[name]) for name, fluid in (("oil", "SAE 10W-40"), ("water", "water")))
        heat = ht.effectiveness_NTU_method(mh=flows["oil"], mc=flows["water"], Cph=oil_film[1], Cpc=water_film[1], subtype=subtype, Thi=120.0, Tci=40.0,
                                           UA=1.0 / (1.0 / oil_film[0] + 1.0 / water_film[0]))["Q"]
        means = {"oil": 120.0 + ICE - 0.5 * heat / flows["oil"] / oil_film[1], "water": 40.0 + ICE + 0.5 * heat / flows["water"] / water_film[1]}
    one = answer.exchanger("plates", "as written")
    assert one.heat.si == pytest.approx(heat, rel=WITHIN)
    assert abs(one.second.heat.si) == pytest.approx(one.heat.si, rel=1e-9)
