"""A cure that is a size is tried in the engine before it is recommended, and its number is that of a circuit written so.

All circuits are invented.
"""

import re
from math import pi

import flarenut as fn
import pytest
from flarenut import checks

WIDTH, DROP = 280.0, 0.4  # [mm], [bar at 20 L/min]


def oil(size=1.0, rated=8.0, air=1.0, gallery=False, units="metric", film="50 %"):
    """Oil of an engine through a cooler with thermostats round it into bearings; the cooler so many times as large."""
    car = fn.Circuit("oil (invented)", fluid="SAE 5W-40", air_temperature="20 C", units=units)
    car.tank("sump", level="90 mm", temperature="found", heat_share="6 %", heat_loss="10 W/K")
    car.fixed("crankcase", height="150 mm", drains_to="sump")
    car.run(
        "pumping",
        "sump",
        "out",
        [fn.tube("1 in", "250 mm", wall="0.065 in", name="pick-up pipe"), fn.displacement_pump("10 cc/rev", speed="3000 rpm", name="pump")],
    )
    car.run("relief", "out", "sump", [fn.relief_valve("4.5 bar", wide_open="2 bar at 60 L/min", rated_with="own at 100 C", name="relief")])
    feels = {"senses": "gallery"} if gallery else {}
    car.run("round it", "out", "gallery", [fn.bypass_thermostat("80 C", "92 C", bore="14 mm", name="bypass", **feels)])
    car.run(
        "cooling",
        "out",
        "gallery",
        [
            fn.thermostat("80 C", "92 C", bore="14 mm", name="thermostat", **feels),
            fn.hose("-8", "1.5 m", spec="ptfe", name="hose out"),
            (
                fn.cooler(
                    f"{rated} kW at 20 L/min",
                    rated_inlet="110 C",
                    rated_air="30 C at 5 m/s",
                    face=[f"{WIDTH} mm", "180 mm"],
                    drop=f"{DROP} bar at 20 L/min",
                    rated_with="own at 100 C",
                    wind_share=0.3 * air,
                    name="oil cooler",
                )
                if size == 1.0
                else twice_tested(size, rated)
            ),
            fn.hose("-8", "1.5 m", spec="ptfe", name="hose back"),
        ],
    )
    car.run(
        "mains",
        "gallery",
        "crankcase",
        [fn.bearings(9, diameter="50 mm", width="18 mm", clearance="0.055 mm", speed="3000 rpm", film_viscosity=film, name="mains")],
    )
    car.case("full speed", speed="6500 rpm", engine_power="110 kW", vehicle_speed="45 m/s")
    return car


def twice_tested(size, rated):
    """The core of so many times the rows: rated at so many times the flow it has so many times the heat, at the same drop."""
    return fn.cooler(
        f"{rated * size} kW at {20 * size} L/min",
        rated_inlet="110 C",
        rated_air="30 C at 5 m/s",
        face=[f"{WIDTH * size} mm", "180 mm"],
        drop=f"{DROP} bar at {20 * size} L/min",
        rated_with="own at 100 C",
        wind_share=0.3,
        name="oil cooler",
    )


def told(car, code="liquid too hot"):
    (finding,) = [one for one in car.solve().findings if one.code == code]
    return finding


def sump(car):
    return car.solve()["full speed"].at("sump").temperature.to("C")


def number(finding, what):
    """The number that is told of something tried."""
    place = [one.strip() for one in finding.what.split("tried: ")[1].split(", ")]
    key = next(one for one in place if one.startswith(what)).split("{")[1].rstrip("}")
    return finding.numbers[key].to("C")


def test_a_larger_cooler_is_no_cure_where_the_sump_gets_hotter_with_it():
    finding = told(oil())
    larger, smaller = sump(oil(1.25)), sump(oil(0.8))
    assert larger > sump(oil()) + 2 and smaller < sump(oil()) - 2  # the engine's word, of circuits written so
    assert (
        "no larger cooler and no more air" in finding.cure
        and "a smaller cooler" in finding.cure
        and not finding.cure.startswith("a larger")
    )
    assert number(finding, "oil cooler a quarter larger") == pytest.approx(larger, abs=0.02)
    assert number(finding, "a fifth smaller") == pytest.approx(smaller, abs=0.02)
    assert "times as thick as it comes in" in finding.what and f"oil cooler a quarter larger {larger:.0f} C" in finding.text()


def test_more_air_and_thermostats_that_feel_the_mixed_oil_are_tried_likewise():
    finding = told(oil())
    assert number(finding, "a quarter more air") == pytest.approx(sump(oil(air=1.25)), abs=0.02) and sump(oil(air=1.25)) > sump(oil())
    assert number(finding, "thermostat and bypass going by gallery") == pytest.approx(sump(oil(gallery=True)), abs=0.02)
    assert 'senses = "gallery"' in finding.cure and sump(oil(gallery=True)) < sump(oil()) - 2


@pytest.mark.parametrize("rated", [3.0, 4.0])
def test_a_larger_cooler_is_the_cure_where_it_cools_and_its_number_is_told(rated):
    finding = told(oil(rated=rated))
    larger = sump(oil(1.25, rated))
    assert larger < sump(oil(rated=rated)) - 5 and finding.cure.startswith("a larger cooler, or more air")
    assert number(finding, "oil cooler a quarter larger") == pytest.approx(larger, abs=0.02)


@pytest.mark.parametrize("rated", [3, 4, 5, 6, 7, 8, 10, 12, 16])
def test_no_size_is_ever_recommended_that_the_engine_says_makes_it_worse(rated):
    hot = [one for one in oil(rated=rated).solve().findings if one.code == "liquid too hot"]
    for finding in hot:
        now, larger, smaller = sump(oil(rated=rated)), sump(oil(1.25, rated)), sump(oil(0.8, rated))
        assert finding.cure.startswith("a larger cooler") == (larger < now - 1.0)
        assert ("a smaller cooler" in finding.cure) == (smaller < now - 1.0 and not larger < now - 1.0)
    assert hot or rated in (5, 6)


def test_where_a_case_says_how_warm_the_sump_is_heat_is_what_is_told():
    car = oil(rated=4.0)
    car.cases["full speed"].conditions["sump.temperature"] = "120 C"
    finding, case = told(car), car.solve()["full speed"]
    given = -sum(case.solution.heat_of(part) for part in case.part_names)
    assert finding.numbers["now"].si == pytest.approx(given) and "so warm, " in finding.what and finding.cure.startswith("a larger cooler")


def test_findings_are_those_of_the_circuit_as_it_was_solved():
    car, other = oil(), oil()
    answer = car.solve()
    car.change("oil cooler", heat="3 kW at 20 L/min")
    car.cases["full speed"].conditions["engine_power"] = "40 kW"
    assert [one.text() for one in answer.findings] == [one.text() for one in other.solve().findings]


def test_a_moment_of_a_drive_is_not_tried_and_says_what_it_cannot_know():
    car = oil()
    car.change("sump", heat_capacity="14 kJ/K")
    drive = fn.over_time(car, [("30 min", "full speed")], every="5 min", start="100 C")
    (finding,) = [one for one in checks.case_findings(drive.moment("30 min")) if one.code == "liquid too hot"]
    assert "tried" not in finding.what and "may make it worse" in finding.cure


# ---- cures by what is there ----

def gearbox(parts=(), heat="800 W"):
    car = fn.Circuit("gearbox (invented)", fluid="ATF", air_temperature="20 C", units="metric")
    car.tank("pan", level="60 mm", temperature="found", heat=heat, heat_loss="8 W/K")
    car.run("out", "pan", "far", [fn.displacement_pump("10 cc/rev", speed="1500 rpm", name="front pump")])
    car.run("home", "far", "pan", [fn.tube(bore="12 mm", length="2 m"), *parts])
    return car


def test_a_gearbox_without_cooler_is_told_to_get_one_and_of_no_duct_fan_or_thermostat():
    cure = told(gearbox()).cure
    assert cure.startswith("a cooler") and not any(word in cure for word in ("duct", "fan", "thermostat", "larger", "air"))


def van(area=0.02, length=400, drop="0.2 bar at 10 L/min", heat="2 kW"):
    """A gearbox whose fluid is cooled by water at 85 C; one stream's passages of 8 mm, the other's of 20 mm."""
    water = fn.Circuit("coolant", fluid="water", units="metric")
    water.junction("in", supply="40 L/min", temperature="85 C")
    water.run("through", "in", "ambient", [fn.core("0.02 bar at 100 L/min", name="end tank")])
    both = fn.Vehicle("van (invented)", units="metric")
    both.add(water, "coolant")
    both.add(gearbox([fn.core(drop, rated_with="own at 80 C", name="tank tube")], heat), "gearbox")
    sides = [{"area": f"{area} m2", "bore": bore, "length": f"{length} mm"} for bore in ("8 mm", "20 mm")]
    both.exchanger("tank cooler", first=("gearbox", "tank tube"), second=("coolant", "end tank"), first_side=sides[0], second_side=sides[1])
    both.case("hill")
    return both.solve()["gearbox"]["hill"]


def test_a_gearbox_cooled_by_coolant_is_told_of_its_exchanger_which_is_tried():
    case, longer = van(), van(0.025, 500, "0.25 bar at 10 L/min")
    (finding,) = [one for one in case.findings if one.code == "liquid too hot"]
    assert "fan" not in finding.cure and "thermostat" not in finding.cure and finding.cure.startswith("a larger exchanger, longer; colder")
    assert finding.numbers["tried 0"].to("C") == pytest.approx(longer.at("pan").temperature.to("C"), abs=0.1)
    assert longer.at("pan").temperature.to("C") < case.at("pan").temperature.to("C") - 1


def reynolds(case, area, bore=0.008, length=0.4):
    passages = area / (pi * bore * length)
    return 4.0 * case.solution.flow_of("tank tube") / (passages * pi * bore * case.liquid_in("tank tube")["viscosity"])


def test_more_passages_in_which_the_fluid_turns_laminar_are_no_cure():
    few, many = van(0.02, heat="1.5 kW"), van(0.05, heat="1.5 kW")
    assert reynolds(few, 0.02) > 2500 and reynolds(many, 0.05) < 2000  # turbulent film takes far more heat than laminar
    assert many.at("pan").temperature.si > few.at("pan").temperature.si + 3
    (finding,) = [one for one in van().findings if one.code == "liquid too hot"]
    assert "of more passages" not in finding.cure and "a quarter more passages" in finding.what


# ---- wider lines ----

def test_the_velocity_that_a_wider_line_brings_is_that_of_the_line_so_written():
    finding = told(oil(), "suction velocity")
    car = oil()
    car.change("pick-up pipe", size=None, wall=None, bore=f"{1.25 * (25.4 - 2 * 0.065 * 25.4)} mm")
    case = car.solve()["full speed"]
    assert "a quarter wider" in finding.what and finding.cure == "a wider line before the pump"
    fastest = max(end.velocity for end in case.ends("pick-up pipe"))
    assert finding.numbers["wider"].si == pytest.approx(fastest, rel=0.02) and finding.numbers["wider"].si < finding.value.si / 1.4


def test_what_is_wider_is_said():
    """The bores of the way to the pump, or of the one line: and the number is that of the engine with those and no others wider."""
    fast, deep = told(oil(), "suction velocity"), [one for one in oil().solve().findings if one.code == "inlet vacuum"]
    assert "; also in pumping out of sump; each a quarter wider in bore brings it to {wider}" in fast.what
    for finding in deep:
        assert "a quarter wider in bore" in finding.what

    def fuel(wider):
        made = fn.Circuit("return (invented)", fluid="gasoline")
        made.tank("cell", level="8 in")
        made.run("feed", "cell", "rail", [fn.formula_pump("95 psi", "420 L/h", name="pump"), fn.hose(bore="10 mm", length="3 m")])
        made.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient", wide_open="30 psi at 400 L/h", name="regulator"),
                                            fn.hose(bore=f"{5 * wider} mm", length="3 m", bends=[90], bend_radius="40 mm", name="return hose"),
                                            fn.hose(bore=f"{6 * wider} mm", length="0.5 m", name="tank hose"),
                                            fn.filter("0.1 bar at 400 L/h", name="return filter")])
        return made

    finding = told(fuel(1.0), "return rise")
    assert "; all lines on the way a quarter wider in bore bring it to {wider}" in finding.what
    wide = fuel(1.25).solve()["as written"]
    way = wide.reading(wide.ends("regulator")[1].junction).against(wide.at("cell"))
    assert finding.numbers["wider"].si == pytest.approx(way.si, rel=1e-6)


def test_a_cooler_behind_a_shut_cock_is_told_to_be_opened_and_not_sized():
    def van(opening):
        made = fn.Circuit("cocked (invented)", fluid="SAE 10W-40", units="metric", air_temperature="25 C", invented=True)
        made.tank("sump", level="120 mm", temperature="found", heat="2.6 kW", heat_loss="30 W/K")
        made.run("round", "sump", "split", [fn.displacement_pump("12 cc/rev", speed="3000 rpm", name="pump")])
        made.run("plain", "split", "sump", [fn.resistance("2 bar at 30 L/min", name="engine")])
        made.run("cooling", "split", "sump", [fn.valve(rated="0.1 bar at 30 L/min", opening=opening, name="cock"), twice_tested(1.0, 8.0)])
        made.case("full speed", speed="3000 rpm", **{"oil cooler.fan": "5 m/s"})
        return made

    shut, open_ = van(0).solve()["full speed"], van(1).solve()["full speed"]
    (hot,) = [one for one in shut.findings if one.code == "liquid too hot"]
    assert "next to nothing passes oil cooler" in hot.what and "tried" not in hot.what and hot.cure.startswith("open cock, which stands shut")
    assert "larger" not in hot.cure and "as large as helps" not in hot.cure
    assert abs(open_.ends("oil cooler")[0].flow) > 0.01 * abs(open_.ends("pump")[0].flow)
    assert not any("next to nothing passes" in one.what for one in open_.findings)


def test_a_return_line_that_stands_high_over_its_regulator_is_told_that_no_wider_one_helps():
    def fuel(bore, height):
        car = fn.Circuit("return (invented)", fluid="gasoline", units="metric")
        car.tank("cell", level="100 mm", height=height)
        car.run(
            "feed",
            "cell",
            "rail",
            [fn.formula_pump("6 bar", "300 L/h", name="pump"), fn.hose(bore="10 mm", length="3 m", name="feed hose")],
        )
        car.run(
            "return",
            "rail",
            "cell",
            [
                fn.bypass_regulator("3 bar", reference="ambient", wide_open="2 bar at 400 L/h", name="regulator"),
                fn.hose(bore=bore, length="3 m", name="return hose"),
            ],
        )
        return car

    thin = told(fuel("4 mm", "0 m"), "return rise")
    wide = fuel("5 mm", "0 m").solve()["as written"]
    assert thin.cure.startswith("a wider") and thin.numbers["wider"].si == pytest.approx(
        wide.reading(wide.ends("regulator")[1].junction).against(wide.at("cell")).si, rel=0.02)


def test_the_guide_says_what_a_quarter_more_bore_is_in_dashes_and_the_finding_does_not():
    """A dash is a sixteenth of an inch of the tube it fits: from -4 to -6 the bore grows by two thirds, which "about a dash size" hid."""
    from pathlib import Path

    from flarenut.catalog import hose_bore

    guide = (Path(__file__).resolve().parents[2] / "docs/guide/findings.md").read_text(encoding="utf-8")
    told = re.search(r"about the step from -6 to -8 \(in smooth hose ([\d.]+) times; from -4 to -6 it is ([\d.]+)\)", guide)
    steps = [hose_bore(large, "ptfe").bore / hose_bore(small, "ptfe").bore for small, large in ((6, 8), (4, 6))]
    assert told and [f"{step:.2f}" for step in steps] == [told[1], told[2]]
