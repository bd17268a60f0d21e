"""Words of coolers: their rating or table, as the engine's numbers and as answers worked out by hand.

Every circuit is invented. Sums by hand take specific heat from the fluid itself.
"""

from math import pi

import flarenut as fn
import pytest
from heat_bench import WATER, at_rating, bench, capacity_rate, rated


@pytest.mark.parametrize("words", [{}, {"inside_share": "20 %"}, {"wetted_area": "0.5 m2"}, {"wetted_area": "2 m2"}, {"face": "0.08 m2"},
                                   {"passage_bore": "2 mm", "passage_length": "0.6 m", "inside_share": "20 %"}])
def test_a_cooler_gives_its_rating_back_whatever_it_is_made_of(words):
    """20 L/min are meant at 90 C and the supply counts at 15 C, so that 20.7 L/min of it is the rating's mass: 999.1 / 965.3 kg/m3 (IAPWS, from memory)."""
    case = at_rating(rated(**words), supply=f"{20 * 965.3 / 999.1} L/min")["rating"]
    assert case.part("cooler").heat.si == pytest.approx(9000, rel=0.002)  # of a breath of natural draught beside the fan
    drop = case.part("cooler").temperature_drop.si
    assert capacity_rate(case, "cooler") * drop == pytest.approx(case.part("cooler").heat.si, rel=1e-3)


@pytest.mark.parametrize("words", [{"wetted_area": "0.5 m2"}, {"inside_share": "20 %"}, {"inside_share": "50 %"}])
def test_a_rating_is_of_a_clean_core_and_fouling_takes_from_it(words):
    clean, *dirty = (at_rating(rated(fouling=fouling, **words))["rating"].part("cooler").heat.si for fouling in (0, 2e-4, 4e-4, 0.01))
    assert clean > dirty[0] > dirty[1] > 0.8 * clean
    assert dirty[2] < 0.5 * clean
    law = rated(fouling=4e-4, **words).elements[0].heat.si(fn.fluid(WATER))
    assert law["fouling"] == 4e-4
    assert {**law, "fouling": 0.0} == rated(**words).elements[0].heat.si(fn.fluid(WATER))


def test_nobody_has_to_know_the_passages_and_they_are_such_as_are_made():
    """Of oil 2 to 5 times as good as plain bores (common practice, no source), of a radiator with thick coolant much the same; some hundred passages, not thousands."""
    oil = rated(rated_inlet="110 C").elements[0].heat.si(fn.fluid("SAE 10W-40"))
    radiator = fn.cooler("60 kW at 120 L/min", rated_inlet="95 C", rated_air="35 C at 6 m/s", face=["600 mm", "400 mm"], drop="10 kPa at 120 L/min",
                         inside_share="20 %").elements[0].heat.si(fn.fluid("ethylene glycol 50 %"))
    for law, enhancement in ((oil, (2, 5)), (radiator, (1, 6))):
        assert law["inside_area"] == pytest.approx(7 * law["face_area"])
        assert enhancement[0] < law["enhancement"] < enhancement[1]
        assert 100 < law["inside_area"] / (pi * law["passage_bore"] * law["passage_length"]) < 1000


def test_a_share_that_no_passages_have_is_refused_with_the_numbers_by_whoever_said_it():
    fine = {"passage_bore": "2 mm", "passage_length": "0.6 m"}
    with pytest.raises(fn.CircuitError, match=r"4.29 ft2 \(3990 cm2\) wetted, 7 times the face, they would have to do 0.119526 times as well") as refusal:
        rated(**fine, inside_share="50 %").elements[0].heat.si(fn.fluid(WATER))
    assert (refusal.value.key, refusal.value.value) == ("inside_share", "50 %") and "a smaller share" in refusal.value.cure
    with pytest.raises(fn.CircuitError) as refusal:
        rated(**fine).elements[0].heat.si(fn.fluid(WATER))
    assert refusal.value.key == "heat" and "20 % of a radiator" in refusal.value.cure


def test_heat_per_degree_is_a_rating_60_degrees_over_its_air():
    one = rated(rated_inlet="95 C").elements[0].heat.si(fn.fluid(WATER))
    other = fn.cooler("150 W/K at 20 L/min", rated_air="35 C at 5 m/s", face=["300 mm", "190 mm"], drop="20 kPa at 20 L/min").elements[0].heat
    assert other.si(fn.fluid(WATER)) == pytest.approx(one, rel=1e-9)


def test_air_and_speed_of_a_rating_are_read_in_either_order_and_unit():
    one = rated().elements[0].heat.si(fn.fluid(WATER))
    for air in ("5 m/s at 35 C", ["35 C", "5 m/s"], "95 F at 11.184681 mph"):
        assert rated(rated_air=air).elements[0].heat.si(fn.fluid(WATER)) == pytest.approx(one, rel=1e-6)


def test_slow_oil_and_slow_air_hide_heat_that_a_rating_promises():
    words = {"rated_with": "own at 90 C"}
    answer = at_rating(rated(**words), fluid="SAE 10W-40", supply="18 L/min", slow={"fan": "2 m/s"}, wind={"vehicle_speed": "25 m/s"})
    rating, slow, wind = (answer[name].part("cooler").heat.si for name in ("rating", "slow", "wind"))
    assert 2 / 5 * rating < slow < 0.8 * rating
    assert wind == pytest.approx(rating, rel=1e-9)  # 20 % of 25 m/s is 5 m/s
    trickle = at_rating(rated(**words), fluid="SAE 10W-40", supply="2 L/min")["rating"].part("cooler").heat.si
    assert rating / 9 < trickle < 0.6 * rating


def test_warm_air_before_a_cooler_takes_from_its_heat():
    alone, behind = (at_rating(rated(air_rise=rise))["rating"].part("cooler").heat.si for rise in (None, "27.5 K"))
    assert behind == pytest.approx(alone / 2, rel=0.06)  # half of 55 K, and warm air is thinner by 9 %


TABLE = {"flow": ["10 L/min", "20 L/min"], "air_speed": ["2 m/s", "6 m/s"], "heat_per_degree": [["60 W/K", "85 W/K"], ["80 W/K", "120 W/K"]]}


def by_table(**words):
    return fn.cooler(**{"heat_table": TABLE, "face": "0.06 m2", "drop": "20 kPa at 20 L/min", "name": "cooler", **words})


def test_a_table_gives_its_points_back():
    """Still air counts 0.1 m/s beside the fan, root of squares: of 2 m/s 0.1 %."""
    case = bench([by_table()], supply="10.0 L/min", warm="60 C", air="20 C", slow={"fan": "2 m/s"}, fast={"fan": "6 m/s"})
    for name, per_degree in (("slow", 60), ("fast", 85)):
        assert case[name].part("cooler").heat.si == pytest.approx(40 * per_degree, rel=0.02)  # 10 L/min at 15 C is 10.15 at 60 C


def test_a_table_may_be_changed_or_swept_whole_or_by_a_case():
    half = {**TABLE, "heat_per_degree": [["30 W/K", "42.5 W/K"], ["40 W/K", "60 W/K"]]}
    circuit = fn.Circuit("bench (invented)", fluid=WATER, air_temperature="20 C", temperatures="found")
    circuit.junction("stand", supply="15 L/min", temperature="60 C")
    circuit.run("line", "stand", "ambient", [by_table(fan="4 m/s")])
    circuit.case("one")
    whole = circuit.solve("one")["one"].part("cooler").heat.si
    circuit.change("cooler", heat_table=half)
    assert circuit.solve("one")["one"].part("cooler").heat.si == pytest.approx(whole / 2, rel=1e-3)
    pytest.importorskip("xarray")
    swept = fn.sweep(circuit, {"cooler.heat_table": {"half": half, "whole": TABLE}}, cases="one", outputs="cooler.heat")["cooler.heat"].values.ravel()
    assert swept == pytest.approx([whole / 2, whole], rel=1e-3)
    circuit.case("other", **{"cooler.heat_table": TABLE})
    plan = circuit.plan
    answer = circuit.solve()
    assert [answer[name].part("cooler").heat.si for name in ("one", "other")] == pytest.approx([whole / 2, whole], rel=1e-3)
    assert circuit.solve("one")["one"].part("cooler").heat.si == answer["one"].part("cooler").heat.si  # nothing is left of the other
    swept = fn.sweep(circuit, {"cooler.fan": ["4 m/s"]}, cases=["one", "other"], outputs="cooler.heat")["cooler.heat"].values.ravel()
    assert swept == pytest.approx([whole / 2, whole], rel=1e-3)
    circuit.change("cooler", heat_table={"flow": ["15 L/min"], "air_speed": ["4 m/s"], "heat_per_degree": [["60 W/K"]]})  # a table of another size
    assert circuit.solve("one")["one"].part("cooler").heat.si == pytest.approx(40 * 60, rel=0.02)
    assert circuit.plan is plan


def test_a_table_of_a_case_that_cannot_be_is_refused_and_nothing_is_left_of_it():
    circuit = fn.Circuit("bench (invented)", fluid=WATER, air_temperature="20 C", temperatures="found")
    circuit.junction("stand", supply="15 L/min", temperature="60 C")
    circuit.run("line", "stand", "ambient", [by_table(fan="4 m/s")])
    circuit.case("one")
    before = circuit.solve("one")["one"].part("cooler").heat.si
    circuit.case("wrong", **{"cooler.heat_table": {**TABLE, "heat_per_degree": [["85 W/K", "60 W/K"], ["120 W/K", "80 W/K"]]}})
    with pytest.raises(fn.CircuitError, match="falls where the face speed rises") as refusal:
        circuit.solve("wrong")
    assert refusal.value.place == "case 'wrong'" and refusal.value.key == "cooler.heat_table"
    circuit.case("a rating", **{"cooler.heat_table": None, "cooler.heat": "3 kW at 20 L/min", "cooler.rated_inlet": "90 C", "cooler.rated_air": "35 C at 5 m/s"})
    with pytest.raises(fn.CircuitError, match="how heat passes"):
        circuit.solve("a rating")
    assert circuit.solve("one")["one"].part("cooler").heat.si == before


def test_heat_beyond_its_table_is_told():
    def told(**conditions):
        circuit = fn.Circuit("bench (invented)", fluid=WATER, air_temperature="20 C", temperatures="found")
        circuit.junction("stand", supply="15 L/min", temperature="60 C")
        circuit.run("line", "stand", "ambient", [by_table(fan="4 m/s")])
        circuit.case("one", **conditions)
        return [found for found in circuit.solve().findings if found.code == "heat beyond measured data"]

    assert told() == []
    for conditions in ({"stand.supply": "25 L/min"}, {"stand.supply": "8 L/min"}, {"fan": "7 m/s"}, {"fan": "1 m/s"}):
        (found,) = told(**conditions)
        assert (found.severity, found.where) == ("watch", "cooler") and "beyond the table of its test" in found.text()


def test_air_that_no_table_stands_in_is_told_of_the_cooler():
    circuit = fn.Circuit("bench (invented)", fluid=WATER, air_temperature="-40 C", temperatures="found")
    circuit.junction("stand", supply="15 L/min", temperature="60 C")
    circuit.run("line", "stand", "ambient", [by_table(fan="4 m/s", air_rise="-60 K")])
    with pytest.raises(fn.CircuitError, match="cooler: air temperature -148 F .-100 C. is outside -99.7 F"):
        circuit.solve()
    circuit.change("cooler", air_rise="-10 K")
    assert circuit.solve()["as written"].converged


BAD_COOLERS = [
    ({"heat": None}, "heat", "one of the two"), ({"heat_table": TABLE}, "heat_table", "one of the two"), ({"drop": None}, "drop", "says nothing of pressure"),
    ({"rated_inlet": None}, "rated_inlet", "inlet temperature is missing"), ({"rated_inlet": "30 C"}, "rated_inlet", "no warmer than"),
    ({"rated_air": None}, "rated_air", "without its air"), ({"rated_air": "5 m/s at 6 m/s"}, "rated_air", "without a temperature"),
    ({"heat": "9 kW"}, "heat", "9 kW at 20 L/min"), ({"heat": "100 W/K at 20 L/min"}, "rated_inlet", "the same at every"),
    ({"face": "wide"}, "face", "width and height"), ({"inside_share": "20 %", "wetted_area": "1 m2"}, "inside_share", "beside 'wetted_area'"),
    ({"heat": "90 kW at 20 L/min"}, "heat", "more than the rated flows can carry"), ({"rated_with": "740 kg/m3"}, "rated_with", "."),
    ({"rated_pressure": "-3 psi"}, "rated_pressure", "not above zero"), ({"fan": "-1 m/s"}, "fan", "below zero")]


@pytest.mark.parametrize(("words", "key", "said"), BAD_COOLERS)
def test_a_cooler_that_cannot_be_is_refused_by_its_key(words, key, said):
    given = {"heat": "9 kW at 20 L/min", "rated_inlet": "90 C", "rated_air": "35 C at 5 m/s", "face": ["300 mm", "190 mm"], "drop": "20 kPa at 20 L/min"}
    with pytest.raises(ValueError, match=said) as refusal:
        fn.cooler(**{**given, **words}).elements[0].heat.si(fn.fluid(WATER))
    assert getattr(refusal.value, "key", None) == key or key in str(refusal.value)


BAD_TABLES = [
    ({**TABLE, "flow": ["20 L/min", "10 L/min"]}, "does not rise"), ({**TABLE, "heat_per_degree": [["60 W/K", "85 W/K"]]}, "1 rows of heat for 2 flows"),
    ({**TABLE, "heat_per_degree": [["60 W/K"], ["80 W/K"]]}, "a value for each air speed"), ({"flow": ["1 L/min"]}, "not flows, air speeds and heat"),
    ({**TABLE, "heat_per_degree": [["85 W/K", "60 W/K"], ["120 W/K", "80 W/K"]]}, "falls where the face speed rises"), ("60 W/K", "not flows, air speeds")]


@pytest.mark.parametrize(("table", "said"), BAD_TABLES)
def test_a_table_that_cannot_be_is_refused(table, said):
    with pytest.raises(fn.CircuitError, match=said) as refusal:
        bench([by_table(heat_table=table)])
    assert refusal.value.key == "heat_table"


@pytest.mark.parametrize("key", ["rated_inlet", "rated_air", "inside_share", "wetted_area", "passage_bore", "passage_length", "fouling"])
def test_words_of_a_rating_beside_a_table_are_refused(key):
    with pytest.raises(fn.CircuitError, match="goes with a rating") as refusal:
        by_table(**{key: 1})
    assert refusal.value.key == key
