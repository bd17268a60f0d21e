"""An outlet never passes the air that warms or cools it, however large the cooler and however far the liquid has to go."""

import flarenut as fn
import pytest


def trickle(oil, air):
    car = fn.Circuit("bench", fluid="SAE 15W-50")
    car.fixed("supply", pressure="1 bar", temperature=oil)
    car.run("line", "supply", "ambient", [
        fn.cooler("12 kW at 7 gpm", rated_inlet="240 F", rated_air="95 F at 6 m/s", face="0.06 m2", drop="7 psi at 7 gpm", rated_with="own at 100 C", name="cooler"),
        fn.orifice("0.8 mm")])
    car.case("road", air_temperature=air, vehicle_speed="100 km/h")
    return car.solve()["road"].part("cooler")


@pytest.mark.parametrize("oil, air", [("-7 C", "27 C"), ("120 C", "30 C"), ("60 C", "-20 C"), ("0 C", "40 C")])
def test_a_trickle_comes_as_near_to_the_air_as_can_be_and_no_farther(oil, air):
    cooler = trickle(oil, air)
    warm, outside = (fn.Quantity.of(one, "temperature").si for one in (oil, air))
    leaves = cooler.ends[1].temperature.si
    left = (leaves - outside) / (warm - outside)  # share of the way that it has not come
    throttled = 0.1 / abs(warm - outside)  # 1 bar lost warms oil by less than 0.1 K
    assert -throttled < left < 0.05


def test_half_glycol_that_comes_all_the_way_leaves_as_warm_as_the_air():
    # Its specific heat grows along a curve, so that no straight mean of it closes the way from 129 to -1 degC: one was 0.18 K past the air.
    car = fn.Circuit("bench", fluid="ethylene glycol 50 %")
    car.fixed("supply", pressure="3 bar", temperature="129 C")
    car.run("line", "supply", "ambient", [
        fn.cooler("12 kW at 7 gpm", rated_inlet="240 F", rated_air="95 F at 6 m/s", face="0.06 m2", drop="7 psi at 7 gpm", rated_with="own at 100 C", name="cooler"),
        fn.orifice("0.1 mm")])
    car.case("road", air_temperature="-1 C", vehicle_speed="100 km/h")
    leaves = car.solve()["road"].part("cooler").ends[1].temperature.si
    assert leaves == pytest.approx(273.15 - 1.0, abs=1e-4)
