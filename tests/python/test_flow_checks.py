"""Checks on return lines, filters and velocities: each speaks where its limit is passed; its number is worked here again.

The limits themselves are common practice, no source.
"""

import math

import flarenut as fn
import pytest
import results_example as example
from flarenut import _core, checks
from flarenut.results import Answer, Layout
from checks_example import codes, finding, one_case, still

AMBIENT, PSI = 101325.0, 6894.757293168


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


def returning(up, bore="7 mm", *more):
    """A return-style circuit whose tank stands `up` metres above its regulator."""
    car = still("tall (invented)")
    car.family = "fuel"
    car.tank("cell", level="0 m", height=f"{up} m")
    car.junction("rail", height="0 m")
    car.run("feed", "cell", "rail", [fn.formula_pump("80 psi", "300 L/h", name="pump"), fn.hose(bore="9 mm", length="9 m")])
    car.run("return", "rail", "cell", [fn.bypass_regulator("40 psi", reference="ambient", wide_open="10 psi at 400 L/h", name="regulator"),
                                       fn.hose(bore=bore, length="9 m", name="return hose"), *more])
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


def test_the_friction_loss_of_a_filter_is_without_its_height_and_its_pressure_difference_with_it():
    car = still("standing filter")
    car.family = "fuel"
    car.fixed("top", "1 bar")
    car.run("line", "top", "ambient", [fn.filter("1 psi at 100 gph", rise="8 m", name="tall"), fn.orifice("1 mm", name="jet"),
                                       fn.hose(bore="8 mm", length="9 m", rise="-8 m")])
    answer = car.solve()
    case = answer["as written"]
    assert case.part("tall").drop.to("psi") > 5.0 and "filter drop" not in codes(case)
    (row,) = [line for line in str(answer.table(units="us")).splitlines() if line.strip().startswith("tall pressure difference")]
    assert float(row.split()[-1]) == pytest.approx(case.part("tall").drop.to("psi"), rel=0.01)
    strict = finding(case, "filter drop", checks.Limits(fuel_filter_drop="0.01 psi"))
    assert strict.value.si == pytest.approx(case.part("tall").drop.si - case.liquid_in("tall")["density"] * 9.80665 * 8.0, abs=1.0)
    assert f"friction loss {strict.value.to('psi'):.4f} psi" in strict.text("us")


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


@pytest.mark.parametrize("filtered", [False, True])
def test_a_filter_in_a_return_is_one_of_its_cures(filtered):
    case = returning(0, "7 mm", *([fn.filter(drop="1 psi at 300 L/h", name="filter", rated_with="own at 20 C")] if filtered else []))
    found = finding(case, "return rise", checks.Limits(return_rise_injection="1 psi"))
    assert ("no filter in the return" in found.cure) is filtered
