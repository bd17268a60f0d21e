"""Checks on tank and suction: each speaks where its limit is passed and keeps quiet where it is not; its number is worked here again.

The limits themselves are common practice, no source.
"""

from math import inf, nextafter
from types import SimpleNamespace

import flarenut as fn
import pytest
import results_example as example
from altered_case import altered
from checks_example import codes, finding, one_case, still
from test_checks import remark

from flarenut import checks
from flarenut.checks import suction
from flarenut.units import Quantity

AMBIENT, PSI = 101325.0, 6894.757293168


# ---- suction ----

def test_the_suction_margin_is_watched_and_boiling_stops():
    lifted = {"return_bore": 0.0095, "position": 0.8}  # the pump well above the liquid, so that it alone comes near to boiling
    margin = one_case(**lifted).suction("fuel pump").margin.si
    quiet, close, boils = (one_case(vapour_pressure=example.VAPOUR_PRESSURE + margin - left, **lifted)
                           for left in (5001.0, 4000.0, -1000.0))
    assert finding(quiet, "suction margin") is None
    assert finding(close, "suction margin").severity == "fix"
    assert finding(close, "suction margin").value.si == pytest.approx(4000.0, abs=1.0)  # the flow does not depend on it
    stopped = finding(boils, "suction margin")
    assert stopped.severity == "stop" and "boils on the way to the pump" in stopped.text()
    assert finding(boils, "below vapour pressure") is None  # said once


def test_a_stopped_pump_sucks_at_nothing():
    case = one_case({"fuel pump.volts": 0.0}, vapour_pressure=99e3)
    assert case.solution.regime_of("fuel pump") == "stopped"
    assert finding(case, "suction margin") is None and finding(case, "inlet vacuum") is None


@pytest.mark.parametrize(("height", "speaks"), [(-0.1, False), (0.9, False), (1.4, True)])
def test_two_inches_of_mercury_at_the_inlet(height, speaks):
    case = one_case(position=height)  # 1.2 m of lift of this fuel is 8.8 kPa; 2 inHg are 6.8
    inlet = case.solution.suction("fuel pump").inlet_gauge
    assert speaks == (inlet < -2 * 3386.389)
    found = finding(case, "inlet vacuum")
    assert (found is not None) == speaks
    if speaks:
        assert found.value.to("inHg vacuum") == pytest.approx(-inlet / 3386.389, rel=1e-12)


def test_boiling_elsewhere_is_said_with_the_worst_place_first():
    """A return that climbs 3 m over the tank: rho g h is 22 kPa, of the 101 that stand on the tank."""
    car = still(vapour="90 kPaa")
    car.tank("cell", level="0 m")
    car.run("feed", "cell", "rail", [fn.formula_pump("80 psi", "300 L/h", name="pump"), fn.hose(bore="9 mm", length="3 m", rise="0 m")])
    car.run("return", "rail", "cell", [fn.orifice("2 mm", name="spill"), fn.hose(bore="15 mm", length="4 m", rise="3 m", name="up"),
                                       fn.hose(bore="15 mm", length="4 m", rise="-3 m", name="down")])
    case = car.solve()["as written"]
    found = finding(case, "below vapour pressure")
    assert found.severity == "stop" and found.where in ("up", "down") and "also at" in found.text()
    assert found.value.si == pytest.approx(AMBIENT - 750 * 9.80665 * 3.0, rel=0.01) and found.limit.si == pytest.approx(90e3, rel=1e-9)
    assert "boils in the tank" not in codes(case) and "suction margin" not in codes(case)


def test_liquid_that_boils_in_its_tank_is_not_blamed_on_the_line():
    """The pressure on the liquid decides, not that at the pick-up below it: 0.2 m of liquid is 1.5 kPa."""
    case = one_case(vapour_pressure=AMBIENT + 1000.0)
    found = finding(case, "boils in the tank")
    assert found.severity == "stop" and found.where == "tank"
    assert found.value.si == pytest.approx(AMBIENT + 1000.0) and found.limit.si == pytest.approx(AMBIENT)
    assert "no wider line" in found.cure and not any("widen" in one.cure for one in case.findings)
    assert not {"suction margin", "below vapour pressure"} & set(codes(case))
    assert finding(one_case(vapour_pressure=AMBIENT - 10.0), "boils in the tank") is None
    assert finding(one_case({"tank.vent": 5e3}, vapour_pressure=AMBIENT + 1000.0), "boils in the tank") is None  # under a cap


@pytest.mark.parametrize("left", [-1000.0, 3000.0])  # boils in the tank; leaves too little margin there
@pytest.mark.parametrize("family", ["fuel", "oil", "brake fluid", "coolant", "water", ""])
def test_pressure_in_a_tank_is_advised_for_a_cooling_system_alone(family, left):
    """A fuel cell or filler that is not made to hold pressure bursts or sprays (common practice, no source)."""
    case = one_case(changes={"family": family}, vapour_pressure=AMBIENT - left)
    found = finding(case, "boils in the tank" if left < 0.0 else "suction margin")
    assert "cool" in found.cure
    assert ("pressure cap of the system's rating" in found.cure) == (family == "coolant")
    assert ("never pressurise a tank that is not built and approved for it" in found.cure) == (family != "coolant")
    assert "under pressure" not in found.cure


def test_what_a_warm_tank_leaves_is_told_apart_from_what_the_line_costs():
    near = finding(one_case(vapour_pressure=AMBIENT - 3000.0), "suction margin")
    assert near.numbers["tank"].si == pytest.approx(3000.0, abs=1e-6) and "widen" not in near.cure and "cool" in near.cure
    lifted = finding(one_case(vapour_pressure=AMBIENT - 6000.0, position=1.0), "suction margin")  # 1.2 m of lift: 8.8 kPa
    assert lifted.value.si < 0.0 and "tank" not in lifted.numbers and "widen" in lifted.cure


def test_spray_into_the_manifold_may_boil():
    case = one_case(vapour_pressure=60e3, return_bore=0.0095)  # the manifold stands at 41 kPa
    assert case.at("manifold").absolute.si < 60e3
    assert finding(case, "below vapour pressure") is None


def lifting(family, level_below, **words):
    """One case of the example circuit as if it held another liquid, with its pump that far above the tank."""
    return one_case(changes={"family": family, **words}, position=level_below)


@pytest.mark.parametrize(("family", "fluid", "vacuum"), [
    ("fuel", "x", 2.0), ("oil", "SAE 10W-40", 5.0), ("hydraulic fluid", "ISO VG 46", 5.0), ("transmission fluid", "x", 5.0),
    ("coolant", "x", None), ("water", "x", None), ("brake fluid", "x", None), ("", "x", None)])
def test_the_deepest_vacuum_depends_on_the_liquid(family, fluid, vacuum):
    """5 inHg (17 kPa): 2.4 m of lift of 750 kg/m3. What no limit is known of is not judged."""
    shallow, deep = (finding(lifting(family, height, fluid=fluid), "inlet vacuum") for height in (1.6, 2.6))
    assert (deep is None) == (vacuum is None) and (shallow is None) == (vacuum != 2.0)
    if deep:
        assert deep.limit.to("inHg vacuum") == pytest.approx(vacuum)


def sucking(margin, inlet=0.0, at="fuel pump", vapour=45e3, **changes):
    """The example circuit with a margin and a gauge pressure before its pump [Pa]."""
    case = altered(one_case(changes=changes), liquids={"fuel pump": {"vapour_pressure": vapour}})
    case.suction = lambda pump: SimpleNamespace(margin=Quantity(margin, "pressure_difference"), inlet=Quantity(inlet, "pressure_gauge"),
                                                at=at)
    return case


@pytest.mark.parametrize("margin, severity", [(5000.0, None), (4999.0, "fix"), (0.5, "fix"), (0.0, "stop"), (-0.5, "stop")])
def test_the_suction_margin_is_short_under_its_limit_and_boils_from_nought_on(margin, severity):
    found = finding(sucking(margin), "suction margin", checks.Limits(suction_margin=Quantity(5000.0, "pressure_difference")))
    assert (found.severity if found else None) == severity
    assert found is None or found.hurt == pytest.approx(1.0 - margin / 5000.0) and ("boils on the way" in found.what) == (severity == "stop")


def test_of_a_liquid_whose_vapour_pressure_is_known_no_band_is_told():
    found = finding(sucking(100.0), "suction margin")
    assert not {"band", "least"} & {*found.numbers} and "may be off" not in found.what and found.cure.endswith(", cool the liquid")
    thick = finding(sucking(100.0, family="oil", fluid="SAE 10W-40"), "suction margin")
    assert "cool the liquid" not in thick.cure and "warm the oil" in thick.cure


def test_the_place_of_least_margin_is_named_where_it_is_not_the_pump():
    elsewhere, there = (finding(sucking(100.0, at=place), "suction margin").what for place in ("strainer", "fuel pump"))
    assert " at strainer," in elsewhere and " at " not in there.split(",")[0]


@pytest.mark.parametrize("left, tank", [(4999.0, True), (5000.0, False), (5001.0, False)])
def test_what_a_tank_leaves_counts_under_the_limit(left, tank):
    found = finding(sucking(100.0, vapour=AMBIENT - left), "suction margin",
                    checks.Limits(suction_margin=Quantity(5000.0, "pressure_difference")))
    assert ("tank" in found.numbers) is tank and ("no more than {tank}" in found.what) is tank and (found.cure.startswith("cool the fuel")) is tank
    assert not tank or found.numbers["tank"].si == pytest.approx(left)


@pytest.mark.parametrize("inhg, family, fluid, severity, limit", [
    (-2.001, "fuel", "x", "fix", 2.0), (-1.999, "fuel", "x", None, None), (-5.001, "oil", "SAE 10W-40", "fix", 5.0),
    (-19.999, "oil", "SAE 10W-40", "fix", 5.0),
    (-20.001, "oil", "SAE 10W-40", "stop", 20.0), (-20.001, "hydraulic fluid", "ISO VG 46", "fix", 5.0)])
def test_vacuum_before_a_pump_is_told_beyond_its_limit_and_of_engine_oil_stops_near_a_full_one(inhg, family, fluid, severity, limit):
    found = finding(sucking(1e5, inhg * 3386.389, family=family, fluid=fluid), "inlet vacuum")
    assert (found.severity if found else None) == severity
    if found:
        assert found.limit.to("inHg vacuum") == pytest.approx(limit) and found.hurt == pytest.approx(-inhg / limit - 1.0, abs=1e-3)
        assert ("foam" in found.what) == (severity == "stop") and ("a cold start may go deeper" in found.what) == (severity == "fix" and family != "fuel")


def test_a_vacuum_of_the_limit_itself_is_borne_and_a_pump_that_stands_draws_none():
    usual, stop = checks.Limits().inlet_vacuum.si, checks.Limits().oil_inlet_stop.si
    assert finding(sucking(1e5, usual), "inlet vacuum") is None
    assert finding(sucking(1e5, nextafter(usual, -inf)), "inlet vacuum").severity == "fix"
    oily = {"family": "oil", "fluid": "SAE 10W-40"}
    assert [finding(sucking(1e5, pascal, **oily), "inlet vacuum").severity for pascal in (stop, nextafter(stop, -inf))] == ["fix", "stop"]
    standing = sucking(-1e3, -50e3)
    standing.solution._regimes["fuel pump"] = "stopped"
    assert finding(standing, "inlet vacuum") is None and finding(standing, "suction margin") is None


def boiling(*remarks, tank=45e3):
    case = altered(one_case(), liquids={part: {"vapour_pressure": tank} for part in one_case().part_names})
    case.solution.remarks = list(remarks)
    return finding(case, "below vapour pressure")


def below(part, value, limit=60e3):
    return remark("below vapour pressure", part, value, limit)


def test_of_places_that_boil_the_one_farthest_under_its_vapour_pressure_is_named_first():
    found = boiling(below("feed hose", 55e3), below("regulator", 30e3), below("return hose", 50e3))
    assert found.where == "regulator" and "; also at feed hose, return hose" in found.what
    assert (found.value.si, found.limit.si, found.hurt) == (30e3, 60e3, pytest.approx(0.5))
    assert boiling(below("pick-up hose", 30e3), below("fuel pump", 30e3)) is None
    assert "also" not in boiling(below("filter", 30e3), below("strainer", 20e3)).what


@pytest.mark.parametrize("pascal, told_of", [(AMBIENT - 5001.0, True), (AMBIENT - 4999.0, False)])
def test_where_the_tank_boils_places_well_below_it_alone_are_told(pascal, told_of):
    case = altered(one_case(), liquids={part: {"vapour_pressure": AMBIENT + 1.0} for part in one_case().part_names})
    case.solution.remarks = [below("return hose", pascal, AMBIENT + 1.0)]
    found = finding(case, "below vapour pressure", checks.Limits(suction_margin=Quantity(5000.0, "pressure_difference")))
    assert (found is not None) is told_of and suction.boiling_tanks(case)


@pytest.mark.parametrize("pascal, told_of", [(74e3, True), (76e3, False), (90e3, False)])
def test_of_two_tanks_that_boil_that_of_the_lower_pressure_decides(pascal, told_of, monkeypatch):
    monkeypatch.setattr(suction, "boiling_tanks", lambda case: [(0, 101e3, 102e3), (1, 80e3, 102e3)])
    found = boiling(below("return hose", pascal, 102e3))
    assert (found is not None) is told_of


def fed(fluid, tank=True, strainer=True):
    circuit = fn.Circuit("lift (invented)", fluid=fluid, fluid_temperature="40 C")
    circuit.tank("cell", level="4 in") if tank else circuit.fixed("cell", "1 psi")
    mesh = fn.filter(drop="0.1 psi at 3 gpm", name="strainer", rated_with="own at 40 C")
    gears = fn.displacement_pump("5 cc/rev", speed="1500 rpm", volumetric_efficiency="90 % at 60 psi, 1500 rpm, 2 cP", name="pump")
    circuit.run("suction", "cell", "inlet", [fn.hose(bore="16 mm", length="1 m"), *([mesh] if strainer else [])])
    circuit.run("feed", "inlet", "ambient", [gears, fn.orifice("3 mm")])
    return circuit.solve()["as written"]


@pytest.mark.parametrize("fluid, words, wider_line, cures", [
    ("gasoline", {}, True,
     "raise the tank level, lower the pump, widen or shorten the line before it, clean the strainer, check the tank vent"),
    ("gasoline", {}, False, "raise the tank level, lower the pump, clean the strainer, check the tank vent"),
    ("gasoline", {"tank": False, "strainer": False}, True, "lower the pump, widen or shorten the line before it"),
    ("SAE 10W-40", {}, True,
     "warm the oil before raising the revs, oil that is thinner when cold, a larger and shorter pick-up line, a wider strainer; if it is warm, "
     "lower the pump or raise the level"),
    ("SAE 10W-40", {}, False,
     "warm the oil before raising the revs, oil that is thinner when cold, a wider strainer; if it is warm, lower the pump or raise the level; "
     "no wider line helps"),
    ("SAE 10W-40", {"tank": False, "strainer": False}, True,
     "warm the oil before raising the revs, oil that is thinner when cold, a larger and shorter pick-up line; "
     "if it is warm, lower the pump")])
def test_what_helps_before_a_pump_is_of_what_stands_there(fluid, words, wider_line, cures):
    assert suction._cures(fed(fluid, **words), "pump", wider_line) == cures


def test_the_way_to_a_pump_is_its_own():
    """Of two that feed one place; one draws from a tank and from a place of given pressure."""
    circuit = fn.Circuit("two pumps (invented)", fluid="gasoline")
    circuit.tank("cell", level="4 in")
    circuit.fixed("main", "0.1 psi")
    for name in ("first", "second"):
        circuit.run(f"to {name}", "cell", f"{name} inlet", [fn.hose(bore="16 mm", length="1 m", name=f"{name} hose"),
                                                            fn.filter(drop="0.1 psi at 3 gpm", name=f"{name} strainer")])
        circuit.run(f"{name} feed", f"{name} inlet", "rail", [fn.formula_pump("20 psi", "100 gph", name=name)])
    circuit.run("from the main", "main", "second inlet", [fn.hose(bore="16 mm", length="1 m", name="main hose")])
    circuit.run("jet run", "rail", "ambient", [fn.orifice("2 mm", name="jet")])
    case = circuit.solve()["as written"]
    assert [part for part in suction._way_to(case, "first") if case.kind_of(part) in ("line", "filter")] == ["first strainer", "first hose"]
    assert {"main hose", "second hose", "second strainer"} <= {*suction._way_to(case, "second")}
    assert "check the tank vent" in suction._cures(case, "second")


@pytest.mark.parametrize("fluid, family, words", [
    ("E85", "fuel", "E85 is taken as mixed"), ("E5", "fuel", "E5 is taken as mixed"), ("E85", "oil", ""), ("Euro fuel", "fuel", ""),
    ("85", "fuel", ""), ("gasoline", "fuel", ""),
    ("gasoline class A", "fuel", "taken at the most that ASTM D4814 allows")])
def test_fuels_whose_vapour_pressure_is_taken_for_them_say_so(fluid, family, words):
    said = suction._volatility(SimpleNamespace(layout=SimpleNamespace(fluid=fluid, family=family)))
    assert words in said and bool(said) == bool(words)


def test_liquid_of_a_tank_is_judged_by_the_most_volatile_that_stands_there():
    case = one_case()
    vapour = {part: {"vapour_pressure": 40e3} for part in case.part_names}
    tank = case.junction_names.index("tank")
    (first, *_, last) = [part for part, _ in case.meeting(tank)]
    assert first != last
    for part in (first, last):
        assert suction._vapour_in(altered(case, liquids={**vapour, part: {"vapour_pressure": 50e3}}), tank) == 50e3


def test_the_vacuum_at_a_pump_is_what_a_gauge_before_it_shows():
    """Static pressure in the bore that feeds it, by Bernoulli: a pump has no bore of its own, and at its end there is total pressure alone."""
    circuit = fn.Circuit("lift (invented)", fluid="gasoline")
    circuit.tank("cell", level="0 in")
    circuit.run("suction", "cell", "inlet", [fn.hose(bore="8 mm", length="0.3 m", name="suction hose")])
    circuit.run("feed", "inlet", "ambient", [fn.formula_pump("60 psi", "400 L/h", name="pump"), fn.orifice("2.2 mm")])
    case = circuit.solve()["as written"]
    inlet, hose = case.part("pump").suction.inlet.si, case.part("suction hose")
    assert inlet == case.at("inlet").gauge.si
    speed_head = case.part("pump").inlet.gauge.si - inlet
    density = hose.mass_flow.si / hose.volume_flow.si
    assert speed_head == pytest.approx(0.5 * density * hose.velocity.si**2, rel=1e-6) and speed_head > 500.0
