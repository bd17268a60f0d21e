"""Words of heat: what places, lines, coolers and pumps say of it, as the engine's numbers and as answers worked out by hand.

Every circuit is invented. Sums by hand take specific heat from the fluid itself.
"""

from math import pi

import flarenut as fn
import pytest
WATER = "water"


def bench(parts, *, supply="10 L/min", warm="60 C", air="20 C", fluid=WATER, **cases):
    """A known flow of a known temperature through parts into the open air."""
    circuit = fn.Circuit("bench (invented)", fluid=fluid, fluid_temperature="40 C", air_temperature=air, temperatures="found")
    circuit.junction("stand", supply=supply, temperature=warm)
    circuit.run("line", "stand", "ambient", parts)
    for name, conditions in cases.items():
        circuit.case(name, **conditions)
    return circuit.solve()


def capacity_rate(case, part):
    """[W/K], at the mean temperature in a part."""
    kelvin = case.liquid_in(part)["temperature"]
    return case.solution.flow_of(part) * fn.fluid(case.layout.fluid).heat_at(f"{kelvin} K").specific_heat.si


def rated(**words):
    return fn.cooler("9 kW at 20 L/min", **{"rated_inlet": "90 C", "rated_air": "35 C at 5 m/s", "face": ["300 mm", "190 mm"],
                                           "drop": "20 kPa at 20 L/min", "name": "cooler", **words})


# ---- coolers ----

def at_rating(cooler, supply="20 L/min", warm="90 C", air="35 C", fluid=WATER, **more):
    return bench([cooler], supply=supply, warm=warm, air=air, fluid=fluid, **{"rating": {"fan": "5 m/s"}, **more})


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


# ---- walls of lines ----

def test_a_line_cools_towards_the_air_as_an_exponential():
    """Twice the length squares the share of the difference that is left, as long as the film stays the same."""
    left = []
    for length in ("2 m", "4 m"):
        case = bench([fn.hose(bore="8 mm", length=length, air="8 m/s", name="hose")], supply="0.5 L/min")["as written"]
        left.append((case.part("hose").temperature_out.si - 293.15) / 40.0)
    assert 0.3 < left[0] < 0.95 and left[1] == pytest.approx(left[0] ** 2, rel=0.03)
    case = bench([fn.hose(bore="8 mm", length="2 m", air="8 m/s", name="hose")], supply="0.5 L/min")["as written"]
    by_hand = capacity_rate(case, "hose") * 40.0 * (1.0 - left[0])
    assert case.part("hose").heat.si == pytest.approx(by_hand, rel=0.01)


def test_a_sleeve_and_still_air_hold_heat_in_and_hot_air_brings_it():
    def heat(**words):
        return bench([fn.hose(bore="8 mm", length="2 m", name="hose", **words)], supply="2 L/min")["as written"].part("hose").heat.si

    assert heat() == 0.0
    bare, still, sleeved, hot = heat(air="10 m/s"), heat(air="still"), heat(air="10 m/s", sleeve="6 mm"), heat(air="10 m/s", air_rise="80 K")
    assert bare > still > 0 and bare > 1.3 * sleeved > 0 and hot == pytest.approx(-bare, rel=0.05)  # air at 100 C against liquid at 60 C


@pytest.mark.parametrize("words", [{"air_rise": "20 K"}, {"sleeve": "5 mm"}])
def test_a_wall_without_its_air_is_asked_for_it(words):
    with pytest.raises(fn.CircuitError, match="nothing is said of the air") as refusal:
        fn.hose("-8", "1 m", spec="ptfe", **words)
    assert refusal.value.key in words and "still" in refusal.value.cure


# ---- pumps and throttling ----

@pytest.mark.parametrize(("efficiency", "share"), [(None, 0.2), ("60 %", 0.6)])
def test_a_pump_warms_its_liquid_by_what_is_no_flow_work(efficiency, share):
    words = {} if efficiency is None else {"overall_efficiency": efficiency}
    circuit = fn.Circuit("pump (invented)", fluid=WATER, fluid_temperature="20 C", temperatures="found")
    circuit.tank("drum", level="0.5 m")
    circuit.run("line", "drum", "ambient", [fn.formula_pump("6 bar", "10 L/min", name="pump", **words), fn.orifice("2 mm", name="jet")])
    part = circuit.solve()["as written"].part("pump")
    work = part.flow.si * part.rise.si
    assert part.power.si == pytest.approx(work / share, rel=1e-3)
    # Specific heat of water at 20 C, and its expansion, by which pressure alone warms it: T α = 293 · 2.07e-4 (handbook, from memory).
    warmed = (part.power.si - work + 0.0607 * work) / (part.mass_flow.si * 4182.0)
    assert -part.temperature_drop.si == pytest.approx(warmed, rel=0.02)


@pytest.mark.parametrize("value", ["0 %", "0.5 %", "120 %", "x"])
def test_an_efficiency_that_is_none_is_refused(value):
    with pytest.raises(ValueError, match="overall_efficiency"):
        fn.displacement_pump("18 cc/rev", speed="3000 rpm", overall_efficiency=value)


# ---- places ----

def sump(**words):
    """Oil round a sump: pump, orifice, crankcase that drains back."""
    circuit = fn.Circuit("sump (invented)", fluid="SAE 10W-40", fluid_temperature="60 C", air_temperature="20 C")
    circuit.tank("sump", level="80 mm", **{"temperature": "found", "heat_loss": "25 W/K", **words})
    circuit.fixed("crankcase", height="200 mm", drains_to="sump")
    circuit.run("line", "sump", "crankcase", [fn.displacement_pump("10 cc/rev", speed="2000 rpm", name="pump"), fn.orifice("3 mm", name="jet")])
    return circuit


def test_a_sump_settles_where_its_walls_lose_what_goes_in():
    circuit = sump(heat="1 kW")
    circuit.case("plain")
    circuit.case("more", **{"sump.heat": "2 kW", "sump.heat_loss": "40 W/K"})
    answer = circuit.solve()
    for name, heat, loss in (("plain", 1000.0, 25.0), ("more", 2000.0, 40.0)):
        case = answer[name]
        wanted = (heat + case.part("pump").power.si) / loss  # throttled work stays in the oil
        assert case.at("sump").temperature.si - 293.15 == pytest.approx(wanted, rel=0.002)
        assert case.at("crankcase").temperature.si == pytest.approx(case.at("sump").temperature.si, abs=1e-6)  # one node: it drains there


def test_engine_power_puts_shares_of_it_into_places_and_a_word_by_name_beats_it():
    circuit = sump(heat="200 W", heat_share="4 %")
    circuit.case("share", engine_power="50 kW")
    circuit.case("by name", engine_power="50 kW", **{"sump.heat": "700 W"})
    circuit.case("unsaid")
    answer = circuit.solve()
    assert [case.number("sump.heat") for case in answer.values()] == pytest.approx([200 + 0.04 * 50e3, 700, 200])
    assert [bool([one for one in case.findings if one.code == "engine power unsaid"]) for case in answer.values()] == [False, False, True]
    assert "engine_power = \"60 kW\"" in next(one.cure for one in answer["unsaid"].findings if one.code == "engine power unsaid")


def test_a_case_may_say_how_warm_the_sump_is_as_at_a_cold_start_and_the_next_finds_it():
    circuit = sump(heat="1 kW")
    circuit.case("cold", **{"sump.temperature": "-10 C"})
    circuit.case("warm")
    answer = circuit.solve()
    assert answer["cold"].at("sump").temperature.to("C") == pytest.approx(-10, abs=1e-9)
    assert answer["warm"].at("sump").temperature.to("C") == pytest.approx(sump(heat="1 kW").solve()["as written"].at("sump").temperature.to("C"))
    row = next(row for _, rows in [*answer.table("metric").sections] for row in rows if row.key == "condition.sump.temperature")
    assert row.cells == ["-10 C", "found"]


def test_given_temperatures_hold_the_liquid_at_the_cases_and_leave_the_circuit_as_it_was():
    circuit = sump(heat="1 kW")
    found = circuit.solve()["as written"].at("sump").temperature.si
    answer = circuit.solve(temperatures="given")
    given = answer["as written"]
    assert given.at("sump").temperature.to("C") == pytest.approx(60) and not given.finds_temperatures
    assert "Temperatures" not in answer.table("us").text() and found > 335
    pytest.importorskip("xarray")
    swept = fn.sweep(circuit, {"sump.heat": ["1 kW"]}, outputs="sump.temperature")
    assert float(swept["sump.temperature"].values.item()) == pytest.approx(found, abs=1e-6)


def test_nothing_of_heat_said_means_given_temperatures():
    plain = fn.Circuit("plain (invented)", fluid=WATER)
    plain.tank("drum", level="1 m")
    plain.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size")])
    assert not plain.solve()["as written"].finds_temperatures
    told = plain.copy()
    told.temperatures = "found"
    assert told.solve()["as written"].finds_temperatures


def test_words_of_heat_change_as_others_do():
    circuit = sump(heat="1 kW", heat_share="4 %")
    circuit.case("one", engine_power="50 kW")

    def degrees():
        return circuit.solve("one")["one"].at("sump").temperature.to("C")

    first = degrees()
    circuit.change("sump", heat_loss="40 W/K", heat="1.2 kW")
    assert degrees() < first - 20 and circuit.solve("one")["one"].number("sump.heat") == pytest.approx(1200 + 0.04 * 50e3)
    circuit.change("sump", heat_share="2 %")
    assert circuit.solve("one")["one"].number("sump.heat") == pytest.approx(1200 + 0.02 * 50e3)
    settled = degrees()
    circuit.change("sump", temperature="80 C")
    assert settled > 81 and degrees() == pytest.approx(80) and circuit.copy().solve("one")["one"].at("sump").temperature.to("C") == pytest.approx(80)
    circuit.change("sump", temperature="found")
    assert degrees() == pytest.approx(settled, abs=1e-6) and circuit.copy().solve("one")["one"].at("sump").temperature.to("C") == pytest.approx(degrees())
    with pytest.raises(fn.CircuitError, match="more than all of the engine's power"):
        circuit.change("sump", heat_share="200 %")


def test_a_share_makes_a_circuit_find_its_temperatures_and_found_is_for_tanks_made_so():
    plain = fn.Circuit("plain (invented)", fluid=WATER)
    plain.tank("drum", level="1 m")
    plain.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size")])
    assert not plain.solve()["as written"].finds_temperatures
    plain.change("drum", heat_share="1 %")
    assert plain.solve()["as written"].finds_temperatures
    with pytest.raises(fn.CircuitError, match="was not made so"):
        plain.change("drum", temperature="found")


BAD_PLACES = [
    (lambda c: c.tank("t", heat_loss="-3 W/K"), "heat_loss", "below zero", "without the sign"),
    (lambda c: c.tank("t", heat_share="400 %"), "heat_share", "more than all of the engine's power", "4 %"),
    (lambda c: c.tank("t", heat_share="-4 %"), "heat_share", "below zero", ""), (lambda c: c.tank("t", heat_capacity="-1 kJ/K"), "heat_capacity", "below zero", ""),
    (lambda c: c.tank("t", temperature="fond"), "temperature", "", ""), (lambda c: c.tank("t", heat="3 psi"), "heat", "", ""),
    (lambda c: c.fixed("f", temperature="found"), "temperature", "for tanks", "leave it off"),
    (lambda c: c.junction("j", temperature="found"), "temperature", "for tanks", "leave it off")]


@pytest.mark.parametrize(("call", "key", "said", "cure"), BAD_PLACES)
def test_heat_of_a_place_that_cannot_be_is_refused_by_its_key(call, key, said, cure):
    with pytest.raises(ValueError, match=key) as refusal:
        call(fn.Circuit("x", fluid=WATER))
    assert said in str(refusal.value) and cure in str(refusal.value)


def test_a_mistyped_choice_of_temperatures_is_met_with_the_right_one():
    with pytest.raises(fn.CircuitError, match='write "found"'):
        fn.Circuit("x", fluid=WATER, temperatures="fuond")
    with pytest.raises(fn.CircuitError, match='write "given"'):
        sump().solve(temperatures="givne")


@pytest.mark.parametrize(("drains", "said"), [("samp", "did you mean 'sump'"), ("crankcase", "which is no tank")])
def test_what_drains_to_no_tank_is_told(drains, said):
    circuit = fn.Circuit("x", fluid=WATER)
    circuit.tank("sump", temperature="found")
    circuit.fixed("crankcase", drains_to=drains)
    circuit.run("line", "sump", "crankcase", [fn.formula_pump("3 bar", "10 L/min"), fn.orifice("2 mm")])
    with pytest.raises(fn.CircuitError, match=said) as refusal:
        circuit.solve()
    assert refusal.value.key == "drains_to" and refusal.value.place == "crankcase"


def test_heat_with_no_way_out_is_told_in_watts():
    case = sump(heat="3 kW", heat_loss="0 W/K").solve()["as written"]
    assert not case.converged and "4.02 hp (3.00 kW) of heat go into the loop of" in case.cause and "none can get out" in case.cause


def test_more_heat_than_can_get_out_is_told_by_the_place_that_gets_too_hot_in_degrees_of_the_trade():
    case = sump(heat="40 kW").solve()["as written"]
    assert not case.converged and "it would still take up" in case.cause and "degC" not in case.cause
    assert case.findings[0].code == "not solved" and "'line:" not in case.findings[0].text()


def test_conditions_of_heat_that_set_nothing_are_refused():
    plain = fn.Circuit("plain (invented)", fluid=WATER)
    plain.tank("drum", level="1 m")
    plain.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size")])
    for word, value in (("engine_power", "10 kW"), ("vehicle_speed", "10 m/s"), ("fan", "3 m/s"), ("drum.heat", "1 kW")):
        plain.cases.clear()
        plain.case("one", **{word: value})
        with pytest.raises(fn.CircuitError, match=word.rpartition(".")[2]):
            plain.solve()
    heated = sump(heat_share="4 %")
    heated.case("one", engine_power="-10 kW")
    with pytest.raises(fn.CircuitError, match="below zero"):
        heated.solve()


def test_the_certificate_says_how_well_heat_closes():
    answer = sump(heat="1 kW").solve()
    assert 0.0 < answer["as written"].certificate["energy_closure"] <= 1e-9 and "energy closure" in answer.table().text()


def test_given_temperatures_take_what_a_case_says_of_a_tank_that_would_be_found():
    circuit = sump(heat="1 kW")
    circuit.case("hot", **{"sump.temperature": "105 C"})
    circuit.case("as said", **{"sump.temperature": "105 C", "fluid_temperature": "60 C"})
    answer = circuit.solve(temperatures="given")
    assert answer["hot"].at("sump").temperature.to("C") == pytest.approx(105)
    assert answer["as said"].at("sump").temperature.to("C") == pytest.approx(60)


def rubbing(**more):
    car = fn.Circuit("engine", fluid="SAE 10W-40")
    car.tank("sump", "10 cm", temperature="found", heat_loss="100 W/K", heat="100 W", heat_share="4 %", friction_heat="3 kW at 6000 rpm", **more)
    car.run("round", "sump", "sump side", [fn.displacement_pump("18 cc/rev", speed="3000 rpm", ratio=0.5, overall_efficiency=1.0), fn.hose("-12", "1 m", spec="full-size")])
    car.run("back", "sump side", "sump", [fn.hose("-12", "1 m", spec="full-size")])
    return car


@pytest.mark.parametrize("conditions, heat", [
    ({"speed": "3000 rpm"}, 100 + 3000 / 4), ({"speed": "6000 rpm", "engine_power": "100 kW"}, 100 + 4000 + 3000), ({"engine_power": "100 kW"}, 100 + 4000),
    ({"speed": "6000 rpm", "sump.heat": "2 kW"}, 2000)])
def test_what_rubs_warms_the_oil_with_the_square_of_the_speed_beside_its_share_of_the_power(conditions, heat):
    car = rubbing()
    car.case("running", **conditions)
    from flarenut.circuit.cases import overrides_of

    found = overrides_of(car, {**car.conditions, **car.cases["running"].conditions}, "running").numbers
    assert found["sump.heat"] == pytest.approx(heat)
    assert car.solve()["running"].converged


def test_friction_heat_is_swept_with_the_speed_and_changed_like_other_words():
    car = rubbing()
    hot = fn.sweep(car, {"speed": ["2000 rpm", "4000 rpm", "6000 rpm"]}, outputs=["sump.temperature"])
    found = [float(one) for one in hot["sump.temperature"].values.ravel()]
    for speed, swept in zip(("2000 rpm", "4000 rpm", "6000 rpm"), found):
        one = rubbing()
        one.case("at", speed=speed)
        assert swept == pytest.approx(one.solve()["at"].at("sump").temperature.to(hot["sump.temperature"].attrs["units"]), abs=1e-6)
    car.change("sump", friction_heat="6 kW at 6000 rpm")
    assert car.junctions["sump"].friction[0] == 6000.0


@pytest.mark.parametrize("said, told", [("3 kW", "3 kW at 6000 rpm"), ("-3 kW at 6000 rpm", "below zero"), ("3 kW at 0 rpm", "above zero"), ("3 psi at 6000 rpm", "power")])
def test_friction_heat_that_is_none_is_told(said, told):
    with pytest.raises(ValueError) as refusal:
        fn.Circuit("x", fluid="SAE 10W-40").tank("sump", friction_heat=said)
    assert told in str(refusal.value)
