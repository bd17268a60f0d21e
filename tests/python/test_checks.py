"""Every rule speaks where its limit is passed and keeps quiet where it is not; its number is worked here again.

The limits themselves are common practice, no source.
"""

import math
from types import SimpleNamespace

import pytest

import results_example as example
import flarenut as fn
from flarenut import _core, checks
from flarenut.results import Answer, Finding, Layout
from flarenut.units import KINDS, UnitError

AMBIENT, PSI = 101325.0, 6894.757293168
IDLE = {"idle": example.CASES["idle"]}


def one_case(conditions=None, changes=None, **numbers):
    return example.answer({"idle": {**example.CASES["idle"], **(conditions or {})}}, changes, **numbers)["idle"]


def finding(case, code, limits=None):
    found = [one for one in checks.case_findings(case, limits) if one.code == code]
    assert len(found) <= 1, found
    return found[0] if found else None


def test_a_sound_circuit_has_nothing_to_look_at():
    case = one_case(return_bore=0.0095)
    assert [one.text() for one in case.findings] == []


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


def still(name="siphon", vapour="0 Paa", **words):
    """A circuit of a thin liquid of 750 kg/m3 that boils at a pressure of its own."""
    return fn.Circuit(name, fluid=fn.constant_fluid("750 kg/m3", "0.5 cP", vapour_pressure=vapour, name="gasoline-like liquid"), **words)


def codes(case):
    return [one.code for one in case.findings]


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


# ---- lines and filters ----

SPEEDS = {"fuel": (1.5, 3.0, 6.0), "oil": (1.5, None, 4.0), "transmission fluid": (1.2192, 4.572, 7.62), "hydraulic fluid": (1.2192, 4.572, 7.62),
          "coolant": (3.0, None, 3.0), "water": (3.0, None, 3.0), "brake fluid": (None, None, None), "": (None, None, None)}


@pytest.mark.parametrize("family", SPEEDS)
def test_how_fast_a_line_may_flow_depends_on_the_liquid(family):
    """Hydraulics: 4, 15 and 25 ft/s. All of them are common practice, no source."""
    narrow = one_case(changes={"family": family}, feed_bore=0.0028, return_bore=0.004)
    narrow_found = [finding(narrow, f"{role} velocity") for role in ("return", "feed")]
    wanted = SPEEDS[family]
    speeds = [max(narrow.solution.ends(part)[0].velocity for part in parts) for parts in (["return hose"], ["feed hose", "engine bay hose"])]
    for found, limit, speed in zip(narrow_found, wanted[1:], speeds):
        assert (found is not None) == (limit is not None and speed > limit)
        if found:
            assert found.limit.to("m/s") == pytest.approx(limit)
    name = checks.limits.limit_for(narrow.layout, "suction_velocity")
    assert (None if name is None else getattr(checks.Limits(), name).to("m/s")) == (None if wanted[0] is None else pytest.approx(wanted[0]))
    assert checks.limits.limit_for(Layout("x", fluid="ISO VG 46", family="hydraulic fluid"), "return_velocity") == "hydraulic_return_velocity"
    assert {limit.source for name, limit in checks.LIMITS.items() if name.endswith("velocity")} == {"common practice, no source"}


def returning(up, bore="7 mm"):
    """A return-style circuit whose tank stands `up` metres above its regulator."""
    car = still("tall (invented)")
    car.family = "fuel"
    car.tank("cell", level="0 m", height=f"{up} m")
    car.junction("rail", height="0 m")
    car.run("feed", "cell", "rail", [fn.formula_pump("80 psi", "300 L/h", name="pump"), fn.hose(bore="9 mm", length="9 m")])
    car.run("return", "rail", "cell", [fn.bypass_regulator("40 psi", reference="ambient", wide_open="10 psi at 400 L/h", name="regulator"),
                                       fn.hose(bore=bore, length="9 m", name="return hose")])
    return car.solve()["as written"]


def test_height_in_a_return_is_told_apart_from_what_its_line_costs():
    """What stands in the line is rho g h, whatever flows. What flows costs nearly the same on the level: the pump of the tall
    circuit starts 2 m higher, so a little more flows."""
    limits = checks.Limits(return_rise_injection="1 psi")
    level, tall, deep = (returning(up) for up in (0, 2, -1))
    lost = finding(level, "return rise", limits)
    assert "height" not in lost.text() and "wider" in lost.cure
    risen = finding(tall, "return rise", limits)
    assert risen.numbers["head"].si == pytest.approx(750 * 9.80665 * 2.0, rel=1e-9)
    assert risen.numbers["lost"].si + risen.numbers["head"].si == pytest.approx(risen.value.si)
    assert risen.numbers["lost"].si == pytest.approx(lost.value.si, rel=0.06) and "height up to the tank" in risen.text()
    fallen = finding(deep, "return rise", limits)
    assert fallen.numbers["lost"].si - fallen.numbers["head"].si == pytest.approx(fallen.value.si) and "gives back" in fallen.text()


def test_a_rise_that_is_all_height_is_not_blamed_on_the_line():
    found = finding(returning(3, bore="25 mm"), "return rise")  # 22 kPa of height; the limit is 3 psi, 20.7 kPa
    assert "no wider line helps" in found.cure and found.numbers["lost"].si < 0.05 * found.value.si


def test_the_drop_of_a_filter_is_without_its_height():
    car = still("standing filter")
    car.family = "fuel"
    car.fixed("top", "1 bar")
    car.run("line", "top", "ambient", [fn.filter("1 psi at 100 gph", rise="8 m", name="tall"), fn.orifice("1 mm", name="jet"),
                                       fn.hose(bore="8 mm", length="9 m", rise="-8 m")])
    case = car.solve()["as written"]
    assert case.part("tall").drop.to("psi") > 5.0 and "filter drop" not in codes(case)

def test_return_rise_over_the_tank():
    case = one_case()
    after, tank = case.solution.ends("return hose")[0].static, case.solution.pressure_of("tank")
    found = finding(case, "return rise")
    assert found.value.si == pytest.approx(after - tank, rel=1e-12) and after - tank > 3 * PSI
    assert found.limit.to("psi") == pytest.approx(3.0) and found.source == "common practice, no source"
    assert found.severity == "watch" and "still holds" in found.text()
    assert found.hurt == pytest.approx((after - tank) / (3 * PSI) - 1.0, rel=1e-12)
    assert finding(one_case(changes={"family": "oil"}), "return rise") is None
    assert finding(case, "return rise", checks.Limits(return_rise_injection="9 psi")) is None


def test_a_carburettor_bears_less_return_rise():
    """A return that an injected engine bears: under 3 psi, over 1."""
    network = example.network(return_bore=0.0095)
    plan = _core.Plan(network)
    plan.set_many({**example.CASES["idle"], "regulator.set_pressure": 6 * PSI})
    injected = Answer(example.layout(), {"idle": plan.solve(cold=True)})["idle"]
    rise = injected.at("return:1").against(injected.at("tank")).si
    limits = checks.Limits(return_rise_carburettor=f"{0.9 * rise} Pa", return_rise_injection=f"{1.1 * rise} Pa")
    assert finding(injected, "return rise", limits) is None
    carburettor = Answer(example.layout(), {"idle": injected.solution})["idle"]
    carburettor.injectors = []  # the same circuit, were a bowl fed by a demand instead
    found = finding(carburettor, "return rise", limits)
    assert found.severity == "fix" and found.limit.si == pytest.approx(0.9 * rise)


@pytest.mark.parametrize(("role", "part", "bores"), [
    ("feed", "feed hose", {"feed_bore": 0.0038}), ("return", "return hose", {"return_bore": 0.0055})])
def test_velocities_are_continuity_against_the_limit_of_their_role(role, part, bores):
    case = one_case(**bores)
    bore = next(iter(bores.values()))
    speed = case.solution.flow_of(part) / (example.DENSITY * math.pi / 4 * bore**2)
    over, under = (checks.Limits(**{f"{role}_velocity": f"{speed * share} m/s"}) for share in (0.999, 1.001))
    found = finding(case, f"{role} velocity", over)
    assert found.where in (part, "engine bay hose") and found.severity == "watch"
    assert found.value.si == pytest.approx(speed, rel=1e-9) and found.limit.si == pytest.approx(0.999 * speed)
    assert ("also in" in found.text()) == (role == "feed")  # two hoses of one bore before the rail
    assert finding(case, f"{role} velocity", under) is None


def test_presets_are_the_figures_of_the_trade():
    limits = checks.Limits()
    assert [getattr(limits, f"{role}_velocity").to("m/s") for role in ("suction", "return", "feed")] == [1.5, 3.0, 6.0]
    assert limits.suction_margin.to("kPa") == pytest.approx(5.0) and limits.inlet_vacuum.to("inHg vacuum") == pytest.approx(2.0)
    assert [round(getattr(limits, name).to("psi"), 9) for name in
            ("return_rise_injection", "return_rise_carburettor", "fuel_filter_drop")] == [3.0, 1.0, 5.0]


def test_a_fast_suction_line_is_the_graver():
    case = one_case(return_bore=0.0095)
    speed = case.solution.ends("pick-up hose")[0].velocity
    found = finding(case, "suction velocity", checks.Limits(suction_velocity=f"{speed * 0.9} m/s"))
    assert found.severity == "fix" and found.where == "pick-up hose" and found.source == "set by you"


def test_a_loaded_fuel_filter_is_told_of():
    clean, loaded = one_case(return_bore=0.0095), one_case({"filter.loading": 8.0}, return_bore=0.0095)
    assert finding(clean, "filter drop") is None
    found = finding(loaded, "filter drop")
    start, stop = loaded.solution.ends("filter")
    assert found.where == "filter" and found.value.si == pytest.approx(start.total - stop.total, rel=1e-12)
    assert found.value.to("psi") > 5.0


# ---- devices ----

def test_a_regulator_with_nothing_to_spill_starves_the_engine():
    case = one_case({"injectors.duty": 1.0, "fuel pump.volts": 11.0, "manifold.gauge": 150e3, "injectors.count": 12.0})
    assert case.solution.regime_of("regulator") == "shut"
    found = finding(case, "regulator starved")
    held = case.solution.pressure_of("rail") - case.solution.pressure_of("manifold")
    assert found.severity == "stop" and found.value.si == pytest.approx(43.5 * PSI - held, rel=1e-9)
    assert "nothing is left to spill" in found.text() and "setting of 43.5 psi" in found.text()


def test_a_regulator_wide_open_lets_the_pressure_climb():
    case = one_case({"regulator.full_area": 3e-6}, return_bore=0.0055)
    assert case.solution.regime_of("regulator") == "wide open"
    found = finding(case, "regulator wide open")
    held = case.solution.pressure_of("rail") - case.solution.pressure_of("manifold")
    assert found.severity == "fix" and found.value.si == pytest.approx(held - 43.5 * PSI, rel=1e-9)
    rise = finding(case, "return rise")
    assert rise.severity == "fix" and "all of it adds" in rise.text()
    unknown = one_case({"regulator.full_area": 3e-6}, {"senses": {}})
    assert finding(unknown, "regulator at a stop").severity == "fix"


def remark(code, subject, value=0.0, limit=0.0):
    return SimpleNamespace(code=code, subject=subject, value=value, limit=limit)


def reported(remarks, kind="electric pump", family="fuel"):
    """Findings of the device rule for remarks put on, for what this circuit does not do by itself."""
    case = SimpleNamespace(name="idle", solution=SimpleNamespace(remarks=remarks), layout=Layout("x", family=family), regulators=[],
                           parts_of_kind=lambda *kinds: [], kind_of=lambda part: kind, liquid_in=lambda part: {"temperature": 370.0})
    return list(checks.devices.remarks(case, checks.Limits()))


REMARKS = [
    ("dead-headed pump", "electric pump", "fuel", "stop"), ("pump beyond the end of its curve", "electric pump", "fuel", "fix"),
    ("reversed flow", "injector bank", "fuel", "fix"), ("bypass open", "filter with bypass", "oil", "fix"),
    ("beyond measured data", "electric pump", "fuel", "watch"), ("pump curve with a hump", "electric pump", "fuel", "note"),
    ("relief open", "electric pump", "fuel", "fix"), ("relief open", "relief valve", "fuel", "fix"),
    ("relief open", "relief valve", "oil", "watch"), ("valve wide open", "relief valve", "fuel", "fix"),
    ("something new", "line", "fuel", "note"),
]


@pytest.mark.parametrize(("code", "kind", "family", "severity"), REMARKS)
def test_each_remark_of_the_engine_is_passed_on(code, kind, family, severity):
    (found,) = reported([remark(code, "part")], kind, family)
    assert found.severity == severity and found.where == "part" and found.text().startswith(severity.upper())


@pytest.mark.parametrize(("code", "kind"), [("valve shut", "check valve"), ("valve shut", "relief valve"),
                                            ("valve wide open", "check valve"), ("below vapour pressure", "line")])
def test_what_is_as_it_should_be_is_left_alone(code, kind):
    assert reported([remark(code, "part")], kind) == []


def test_remarks_of_the_engine_are_those_known_here():
    """Every code the engine can send is spoken of in words of our own, not passed on raw."""
    from pathlib import Path
    import re

    source = Path(__file__).parents[2].joinpath("cpp/flarenut/analysis/readings.cpp").read_text()
    codes = set(re.findall(r'remarks\.push_back\(\{"([^"]+)"', source))
    assert len(codes) >= 10
    for code in codes:
        for kind in ("bypass regulator", "electric pump", "relief valve", "line"):
            case = one_case()
            real, case._kinds = case.solution, dict.fromkeys(case.part_names, kind)
            case.junction_names  # noqa: B018 - kept before the solution is exchanged
            case.solution = SimpleNamespace(remarks=[remark(code, "regulator", 1.0, 1.0)], pressure_of=real.pressure_of,
                                            number=real.number, ends=real.ends, liquid_in=real.liquid_in)
            for found in checks.devices.remarks(case, checks.Limits()):
                assert found.what != code, f"{code} of a {kind} is passed on raw"


def test_a_fluid_outside_its_data_is_said_once_per_property():
    car = fn.Circuit("cold", fluid="E85")
    car.tank("tank", level="8 in")
    car.run("line", "tank", "ambient", [fn.hose(bore="8 mm", length="1 m"), fn.hose(bore="8 mm", length="1 m")])
    car.case("mild", fluid_temperature="20 C")
    car.case("arctic", fluid_temperature="-39 C")
    answer = car.solve()
    assert not [one for one in answer["mild"].findings if one.code == "fluid out of range"]
    arctic = [one for one in answer["arctic"].findings if one.code == "fluid out of range"]
    assert arctic and all(one.value.to("C") == pytest.approx(-39) and one.limit.si > one.value.si for one in arctic)
    assert len({one.what for one in arctic}) == len(arctic)


# ---- check valves ----

def valved(*pieces):
    car = still("valves")
    car.tank("cell", level="0.2 m")
    car.run("feed", "cell", "rail", list(pieces))
    car.run("out", "rail", "ambient", [fn.orifice("1 mm", name="jet")])
    return car


def pump(name="pump", top="80 psi"):
    return fn.formula_pump(top, "300 L/h", name=name)


def backwards():
    """A check valve as written the wrong way round: a run of its own, towards the pump."""
    car = still("valves")
    car.tank("cell", level="0.2 m")
    car.run("feed", "cell", "outlet", [pump()])
    car.run("valve", "rail", "outlet", [fn.check_valve(bore="6 mm", name="check")])
    car.run("out", "rail", "ambient", [fn.orifice("1 mm", name="jet")])
    return car


def test_a_check_valve_that_a_pump_pushes_shut_is_asked_about():
    case = backwards().solve()["as written"]
    found = finding(case, "check valve backwards")
    inlet, outlet = case.ends("check")
    assert found.severity == "fix" and found.where == "check" and "written backwards" in found.text()
    assert "pump works against" in found.text()
    assert found.numbers["over"].si == pytest.approx(outlet.total - inlet.total) and found.numbers["over"].to("psi") > 70


def spilling(start, end, *beyond, to="ambient"):
    """A pump whose own relief takes all its flow where a check valve before the rail holds it back."""
    car = still("spill")
    car.tank("cell", level="0.2 m")
    car.run("feed", "cell", "outlet", [pump()])
    car.run("spill", "outlet", "cell", [fn.relief_valve("40 psi", wide_open="10 psi at 300 L/h", name="relief")])
    car.run("valve", start, end, [fn.check_valve(bore="6 mm", name="check")])
    car.run("out", "rail", to, list(beyond))
    return car.solve()["as written"]


def test_a_check_valve_that_cuts_off_all_that_a_pump_feeds_is_asked_about():
    case = spilling("rail", "outlet", fn.hose(bore="8 mm", length="2 m"), fn.orifice("1 mm", name="jet"))
    assert case.solution.regime_of("pump") != "dead-headed"
    assert "nothing flows behind it" in finding(case, "check valve backwards").text()
    assert finding(spilling("outlet", "rail", fn.orifice("1 mm", name="jet")), "check valve backwards") is None
    make_up = spilling("rail", "outlet", fn.hose(bore="8 mm", length="2 m"), to="cell")  # a hose from the tank: it may be meant
    assert make_up.solution.regime_of("check") == "shut" and finding(make_up, "check valve backwards") is None


def test_check_valves_that_do_their_duty_are_left_alone():
    right = valved(pump(), fn.check_valve(bore="6 mm", name="check")).solve()["as written"]
    assert "check valve backwards" not in codes(right)
    pair = valved(pump("strong"), fn.check_valve(bore="6 mm", name="check"))
    pair.run("helper", "cell", "rail", [pump("weak", "30 psi"), fn.check_valve(bore="6 mm", name="second check")])
    case = pair.solve()["as written"]  # the weak pump is dead-headed at the inlet of its valve, which the strong one shuts
    assert case.solution.regime_of("second check") == "shut" and "check valve backwards" not in codes(case)
    pair.case("off", **{"weak.volts": "0 V"})
    assert "check valve backwards" not in codes(pair.solve("off")["off"])


def test_without_pumps_a_check_valve_that_stops_everything_is_asked_about():
    def drum(start, end):
        car = still("drum")
        car.tank("cell", level="0.2 m", height="3 m")
        car.fixed("drip", "0 psi", height="0 m")
        car.run("valve", start, end, [fn.check_valve("0.5 psi", bore="6 mm", name="check")])
        car.run("out", "below", "drip", [fn.hose(bore="8 mm", length="4 m")])
        return car.solve()["as written"]

    assert finding(drum("below", "cell"), "check valve backwards").where == "check"
    assert finding(drum("cell", "below"), "check valve backwards") is None


# ---- what is assumed, what moves nothing ----

def test_presets_that_nobody_spoke_against_are_listed_in_one_line():
    car = still("presets (invented)")
    car.tank("cell", level="8 in")
    car.run("feed", "cell", "rail", [pump(), fn.hose(bore="9 mm", length="3 m")])
    car.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient", name="regulator")])
    car.injectors("bank", "rail", count=4, flow="300 cc/min at 3 bar")
    bare = finding(car.solve()["as written"], "assumed")
    assert bare.severity == "note" and bare.where == "pump, regulator, bank, manifold"
    for words in ("pump volts 13.5 V", "regulator wide_open 30 psi at 106 gal/h, band 2 psi", "bank duty 100 %", "common practice, no source"):
        assert words in bare.text()
    car.case("said", volts="12 V", duty="5 %", manifold="0 psi", **{"regulator.band": "3 psi"})
    assert "duty" not in (said := finding(car.solve()["said"], "assumed")).text() and "volts" not in said.text()
    assert said.where == "regulator" and "wide_open" in said.text() and "band" not in said.text()
    car.change("regulator", wide_open="20 psi at 300 L/h")
    assert finding(car.solve()["said"], "assumed") is None


def launched(acceleration, **tank):
    car = still("launch")
    car.tank("cell", level="0 m", **tank)
    car.fixed("end", "-0.1 psi", position=["0 m", "0 m", "0 m"])
    car.run("out", "cell", "end", [fn.hose(bore="8 mm", length="2 m")])
    car.case("launch", acceleration=acceleration)
    return finding(car.solve("launch")["launch"], "acceleration without effect")


def test_an_acceleration_without_places_is_said_to_move_nothing():
    found = launched("0.9 g")
    assert found.severity == "watch" and "0.900 g forward" in found.text() and "position" in found.cure
    assert launched("0 g") is None
    assert launched("0.9 g", position=["-3 m", "0 m", "0 m"]) is None and launched("0.9 g", pickup=["-1 m", "0 m"]) is None
    corner = launched(["0.5 g", "1 g", "0 g"], position=["-3 m", "0 m", "0 m"])
    assert "to the left" in corner.text() and "forward moves" not in corner.text() and "0.5" not in corner.text()


# ---- limits and cautions ----

def test_limits_are_quantities_that_may_be_changed():
    limits = checks.Limits(return_rise_injection="5 psi")
    assert limits.return_rise_injection.to("psi") == pytest.approx(5.0)
    assert limits.source("return_rise_injection") == "set by you"
    assert limits.source("suction_margin") == "common practice, no source"
    assert all(limit.kind in KINDS and str(getattr(limits, name)) in repr(limits) for name, limit in checks.LIMITS.items())
    with pytest.raises(ValueError, match="no limit 'return_rise_injecton': did you mean 'return_rise_injection'?"):
        checks.Limits(return_rise_injecton="5 psi")
    with pytest.raises(UnitError, match="feed_velocity"):
        checks.Limits(feed_velocity="5 psi")


@pytest.mark.parametrize("name", checks.LIMITS)
def test_a_limit_of_nothing_is_refused_and_the_small_one_it_offers_is_not(name):
    limit = checks.LIMITS[name]
    nothing = {"dimensionless": "0", "fraction": "0 %", "velocity": "0 m/s"}.get(limit.kind, "0 psi")
    with pytest.raises(UnitError, match=f"limit '{name}' is '{nothing}'") as refused:
        checks.Limits(**{name: nothing})
    offered = refused.value.hint.split("'")[1]
    small = checks.Limits(**{name: offered})
    assert getattr(small, name).si != 0.0
    checks.case_findings(one_case(), small)  # whatever it finds, it can be ranked
    if limit.kind != "pressure_gauge":
        with pytest.raises(UnitError):
            checks.Limits(**{name: f"-{limit.preset}"})


def test_a_pump_that_wants_pressure_at_its_inlet_is_heard_of_and_the_worse_off_comes_first():
    limits = checks.Limits(inlet_vacuum="2 psi")
    low, lower = (finding(one_case(position=height), "inlet vacuum", limits) for height in (-0.5, 1.0))
    assert low.value.si > lower.value.si and 0.0 < low.hurt < lower.hurt


def test_review_goes_by_the_limits_given_and_the_answer_keeps_them():
    answer = example.answer()
    assert "return rise" in {one.code for one in answer.findings}
    eased = answer.with_findings(checks.review(answer, checks.Limits(return_rise_injection="9 psi")))
    assert "return rise" not in {one.code for one in eased.findings}
    assert "return back-pressure 7" in answer.table().text(width=300) and "above 3.00 psi" not in eased.table().text(width=300)


def test_rules_of_ones_own_can_be_asked():
    def too_hot(case, limits):
        yield Finding("mine", "note", "", case.name, "looked")

    assert [one.code for one in checks.review(example.answer(IDLE), rules=(too_hot,))] == ["mine"]


@pytest.mark.parametrize(("family", "words"), [
    ("fuel", "Fuel burns"), ("oil", "Hot oil burns skin"), ("brake fluid", "Never take this as the sole basis"),
    ("coolant", "Never open a hot cooling system"), ("", "engineering estimate")])
def test_cautions_follow_the_liquid_and_always_defer(family, words):
    said = checks.cautions_for(example.answer(IDLE, {"family": family}))
    assert any(words in line for line in said)
    assert "local codes" in said[-1] and "licensed practice" in said[-1] and "not a certification" in said[-1]


def test_heat_and_pressure_bring_their_own_cautions():
    mild = " ".join(checks.cautions_for(example.answer(IDLE)))
    hot = " ".join(checks.cautions_for(example.answer({"idle": {**IDLE["idle"], "liquid.temperature": 370.0}})))
    pressed = " ".join(checks.cautions_for(example.answer({"idle": {**IDLE["idle"], "tank.vent": 400e3, "regulator.set_pressure": 900e3}})))
    assert "Let it cool" not in mild and "Let it cool" in hot
    assert "pin-hole" not in mild and "pin-hole" in pressed
