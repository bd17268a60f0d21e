"""What starves or blocks a fuel circuit is told first, and no size is recommended against it. All circuits are invented."""

import flarenut as fn
import pytest
from altered_case import altered
from flarenut import checks


def found(case, code):
    return [one for one in checks.case_findings(case) if one.code == code]


def hauler(feed=(), back=(), valve=None, pump=("90 psi", "75 gal/h"), flow="1000 cc/min at 43.5 psi"):
    """A return system of eight injectors whose engine asks for 450 lb/h in boost. `valve`: a check valve between feed and rail, by its ends."""
    car = fn.Circuit("hauler (invented)", fluid="gasoline", units="us", invented=True)
    car.tank("cell", level="7 in")
    car.junction("rail", height="22 in")
    hose = fn.hose("-6", "12 ft", spec="ptfe", name="feed hose")
    car.run("feed", "cell", "bay" if valve else "rail", [fn.formula_pump(*pump, name="pump"), hose, *feed])
    if valve:
        car.run("bay line", *valve, [fn.check_valve(bore="8 mm", name="check")])
    car.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="manifold", wide_open="20 psi at 400 L/h", name="regulator"),
                                       fn.hose("-6", "13 ft", spec="ptfe", bends=[90], name="return hose"), *back])
    car.injectors("bank", at="rail", count=8, flow=flow)
    car.case("idle", volts="13.8 V", duty="2 %", manifold="18 inHg vacuum")
    car.case("pull", volts="13.2 V", manifold="12 psi boost", power="750 hp", specific_consumption="0.6 lb/hp/h")
    return car.solve()


def cock(name, opening=0.0):
    return fn.valve(cv=2, opening=opening, name=name)


STARVED = {
    "a jet": ({"feed": [fn.orifice("0.0025 in", name="pill")]}, "unusual size", "pill", "check the bore of pill"),
    "a hose": ({"feed": [fn.hose(bore="0.3 mm", length="10 ft", name="thread")]}, "unusual size", "thread", "check the bore of thread"),
    "a cock": ({"feed": [cock("feed cock")]}, "stands shut", "feed cock", "open feed cock"),
    "a check valve": ({"valve": ("rail", "bay")}, "check valve backwards", "check", "turn check round"),
}


@pytest.mark.parametrize("what", STARVED)
def test_what_shuts_the_feed_is_told_first_and_is_the_cure_of_all_that_it_starves(what):
    words, code, where, cure = STARVED[what]
    answer = hauler(**words)
    for case in answer.values():
        first = case.findings[0]
        assert (first.code, first.severity, first.where) == (code, "stop", where), [str(one) for one in case.findings]
        assert case.solution.regime_of("regulator") == "shut" and not found(case, "return rise")
        assert [one.cure for one in found(case, "regulator starved")] == [cure]
        assert "arger" not in " ".join(one.cure for one in case.findings)
    (small,) = found(answer["pull"], "injectors too small")
    assert small.cure == cure and "larger ones would get no more" in small.what
    assert 0.0 <= small.value.si and 990.0 < small.hurt <= 999.0 + 1e-6  # less than a thousandth ranks no higher
    assert {one.cure for one in found(answer["pull"], "injector duty")} <= {cure}  # where a hair seeps back, how long they open is not found


def test_a_regulator_that_spills_nothing_has_no_back_pressure():
    """A tank that is high and blown full of pressure presses back on it; only once it spills is that its return's doing."""
    case = hauler(back=[fn.orifice("2 mm", name="narrow")], pump=("90 psi", "160 gal/h"))["idle"]
    assert found(case, "return rise")
    assert not found(altered(case, regimes={"regulator": "shut"}), "return rise")
    assert not found(altered(case, ends={"regulator": {0: {"flow": 0.0}}}), "return rise")
    assert found(altered(case, ends={"regulator": {0: {"flow": 1e-9}}}), "return rise")


BLOCKED = {"a cock": (lambda: [cock("return cock")], "return cock", "open return cock"),
           "a check valve": (None, "check", "turn round check")}


def blocked_by_check():
    car = fn.Circuit("hauler (invented)", fluid="gasoline", units="us", invented=True)
    car.tank("cell", level="7 in")
    car.run("feed", "cell", "rail", [fn.formula_pump("90 psi", "75 gal/h", name="pump"), fn.hose("-6", "12 ft", spec="ptfe", name="feed hose")])
    car.run("return", "rail", "behind", [fn.bypass_regulator("43.5 psi", reference="manifold", wide_open="20 psi at 400 L/h", name="regulator"),
                                         fn.hose("-6", "13 ft", spec="ptfe", bends=[90], name="return hose")])
    car.run("last", "cell", "behind", [fn.check_valve(bore="8 mm", name="check")])
    car.injectors("bank", at="rail", count=8, flow="1000 cc/min at 43.5 psi")
    car.case("idle", volts="13.8 V", duty="2 %", manifold="18 inHg vacuum")
    return car.solve()


@pytest.mark.parametrize("what", BLOCKED)
def test_what_stands_shut_on_the_way_back_is_named_and_no_wider_line_is(what):
    back, name, cure = BLOCKED[what]
    case = (hauler(back=back()) if back else blocked_by_check())["idle"]
    assert case.solution.regime_of("regulator") == "wide open"
    for code in ("return rise", "regulator wide open", "injector pressure"):
        (one,) = found(case, code)
        assert f"{name} stands shut on its way back to the tank" in one.what and one.cure == cure, one
        assert "quarter wider" not in one.what and "still holds" not in one.what
    if back:
        first = case.findings[0]
        assert (first.where, first.severity) == (name, "stop") and "regulator can let nothing off by it" in first.what


def test_a_shut_cock_beside_an_open_way_back_blocks_nothing():
    car = fn.Circuit("two ways back (invented)", fluid="gasoline")
    car.tank("cell", level="7 in")
    car.run("feed", "cell", "rail", [fn.formula_pump("90 psi", "75 gal/h", name="pump"), fn.hose("-6", "12 ft", spec="ptfe", name="hose")])
    car.run("spill", "rail", "back", [fn.bypass_regulator("43.5 psi", reference="ambient", wide_open="20 psi at 400 L/h", name="regulator")])
    car.run("narrow", "back", "cell", [fn.orifice("1.5 mm", name="jet")])
    car.run("shut", "back", "cell", [cock("return cock")])
    case = car.solve()["as written"]
    assert checks.shut_cocks.shut_on_return(case, "regulator") == []
    (one,) = found(case, "stands shut")
    assert one.severity == "watch" and "what lies behind it" in one.what


def test_a_cock_that_is_open_and_a_jet_that_takes_less_are_left_alone():
    case = hauler(feed=[cock("feed cock", 1.0), fn.orifice("4 mm", name="pill")], back=[cock("return cock", 1.0)])["idle"]
    assert not found(case, "stands shut") and not found(case, "unusual size")


@pytest.mark.parametrize(("share", "told"), [(0.81, True), (0.79, False)])
def test_a_jet_chokes_what_it_feeds_from_four_fifths_of_the_lift(share, told):
    case = hauler(feed=[fn.orifice("0.0025 in", name="pill")])["idle"]
    ends = {"pump": {0: {"total": 1e5}, 1: {"total": 6e5}}, "pill": {0: {"total": 6e5}, 1: {"total": 6e5 - share * 5e5}}}
    assert bool(found(altered(case, ends=ends), "unusual size")) is told


def test_a_bleed_to_the_tank_feeds_nothing():
    """It spends all of the pressure, as it should."""
    car = fn.Circuit("bleed (invented)", fluid="gasoline")
    car.tank("cell", level="7 in")
    car.run("feed", "cell", "rail", [fn.formula_pump("60 psi", "75 gal/h", name="pump")])
    car.run("bleed", "rail", "cell", [fn.orifice("1 mm", name="bleed")])
    car.run("spill", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient", wide_open="20 psi at 400 L/h", name="regulator")])
    case = car.solve()["as written"]
    assert case.part("bleed").drop.to("psi") > 40.0 and not found(case, "unusual size")


def test_injectors_that_are_not_fed_ask_for_more_pump_by_flow_and_pressure():
    """450 lb/h of gasoline by its own density, at 43.5 psi over 12 psi of boost: what the pump has to give at the rail."""
    case = hauler()["pull"]
    (small,) = found(case, "injectors too small")
    density = case.liquid_in("bank")["density"]
    assert small.numbers["pump_flow"].si == pytest.approx(750 * 0.6 * 0.45359237 / 3600 / density)
    assert small.numbers["pump_pressure"].to("psi") == pytest.approx(55.5, abs=0.1)
    assert small.cure.startswith("a pump of that flow at that pressure") and "larger injectors" not in small.cure
    assert "under its setting" in small.what
    (both,) = found(hauler(flow="500 cc/min at 43.5 psi", pump=("70 psi", "75 gal/h"))["pull"], "injectors too small")
    assert both.cure.endswith("and larger injectors as well")  # 8 of 500 cc/min pass 63 gal/h at their rated pressure, under the 73 asked


def test_injectors_that_are_fed_and_too_small_are_told_so():
    case = hauler(pump=("90 psi", "160 gal/h"), flow="500 cc/min at 43.5 psi")["pull"]
    (small,) = found(case, "injectors too small")
    assert small.cure == "larger injectors, more of them, or more fuel pressure across them" and "under its setting" not in small.what
    assert [one.cure for one in found(case, "injector duty")] == ["larger injectors, or more pressure across them"]
