"""What a line does for the pumps is told by where its liquid goes, and decides how fast it may flow. The limits are common practice, no source."""

from types import SimpleNamespace

import pytest

import test_sound_circuits as sound

import flarenut as fn
from flarenut.checks.lines import roles_of
from flarenut.checks.roles import _consumers


def told(case, code):
    found = [one for one in case.findings if one.code == code]
    assert len(found) <= 1, found
    return found[0] if found else None


def role(case, part):
    found = [role for role, parts in roles_of(case).items() if part in parts]
    assert len(found) <= 1, found
    return found[0] if found else None


def cooled(thin=None):
    """A closed coolant loop; `thin`: which of its hoses is 0.8 in instead of 1.5 in."""
    circuit = fn.Circuit("coolant (invented)", fluid="water", fluid_temperature="95 C")
    circuit.tank("header", level="4 in", vent="13 psi", height="20 in")
    circuit.run("fill", "header", "pump in", [fn.hose("-6", "2 ft", spec="full-size", name="header hose")])
    circuit.run("pump run", "pump in", "block in", [fn.centrifugal_pump(
        [["0 gpm", "18 psi"], ["30 gpm", "16 psi"], ["60 gpm", "10 psi"], ["80 gpm", "3 psi"]], rated_speed="5000 rpm", speed="3000 rpm",
        name="pump")])
    circuit.run("block run", "block in", "block out", [fn.resistance(drop="8 psi at 40 gpm", name="block")])
    hoses = {name: fn.hose(bore="0.8 in" if name == thin else "1.5 in", length="2 ft", name=name) for name in ("upper hose", "lower hose")}
    circuit.run("radiator run", "block out", "pump in", [hoses["upper hose"], fn.resistance(drop="4 psi at 40 gpm", name="radiator"),
                                                         hoses["lower hose"]])
    return circuit.solve()["as written"]


def test_a_closed_loop_is_cut_at_its_last_consumer():
    case = cooled()
    assert role(case, "upper hose") == "feed" and role(case, "lower hose") == "suction" and role(case, "header hose") in ("suction", None)
    assert not [one.text() for one in case.findings if one.severity in ("stop", "fix")]


@pytest.mark.parametrize(("thin", "code"), [("upper hose", "feed velocity"), ("lower hose", "suction velocity")])
def test_a_thin_hose_anywhere_in_a_coolant_loop_is_heard_of(thin, code):
    case = cooled(thin)
    found = told(case, code)
    assert found.where == thin and found.severity == "watch" and found.value.si > 3.0
    assert found.value.si == pytest.approx(max(end.velocity for end in case.solution.ends(thin)))


def hydraulic(back="-8", pressure="-10", cooler=False):
    """20 gpm of hydraulic oil through a valve and back."""
    circuit = fn.Circuit("hydraulics (invented)", fluid="ISO VG 46", fluid_temperature="50 C")
    circuit.tank("reservoir", level="4 in", height="20 in")
    circuit.run("suction", "reservoir", "pump out", [fn.hose(bore="1.5 in", length="2 ft", name="suction hose"), fn.displacement_pump(
        "20 cc/rev", speed="2500 rpm", volumetric_efficiency="92 % at 1000 psi, 1500 rpm, 25 cP", name="pump")])
    circuit.run("relief run", "pump out", "reservoir", [fn.relief_valve("1200 psi", wide_open="50 psi at 5 gpm", name="relief")])
    more = [fn.resistance(drop="8 psi at 10 gpm", rated_with="ISO VG 46 at 40 C", name="cooler"),
            fn.hose("-12", "2 ft", spec="full-size", name="last hose")] if cooler else []
    circuit.run("work", "pump out", "reservoir", [
        fn.hose(pressure, "4 ft", spec="full-size", name="pressure hose"), fn.valve(rated="400 psi at 10 gpm", name="valve"),
        fn.hose(back, "4 ft", spec="full-size", name="back hose"), *more])
    return circuit.solve()["as written"]


@pytest.mark.parametrize("cooler", [False, True])
def test_what_comes_back_from_a_consumer_is_a_return_though_a_cooler_stands_in_it(cooler):
    case = hydraulic(cooler=cooler)
    assert role(case, "suction hose") == "suction" and role(case, "pressure hose") == "feed" and role(case, "back hose") == "return"
    assert not cooler or role(case, "last hose") == "return"
    found = told(case, "return velocity")
    assert 15.0 < found.value.to("ft/s") < 25.0 and found.limit.to("ft/s") == pytest.approx(15.0) and "back hose" in found.text()
    assert told(case, "feed velocity") is None and told(hydraulic("-12", cooler=cooler), "return velocity") is None


def test_what_fills_a_tank_that_another_pump_draws_from_is_no_return():
    circuit = fn.Circuit("surge tank (invented)", fluid="E10")
    circuit.tank("cell", level="8 in")
    circuit.tank("surge tank", level="8 in", height="4 in")
    circuit.run("lift", "cell", "surge tank", [fn.formula_pump("12 psi", "160 gph", name="lift pump"), fn.orifice("4 mm", name="fill"),
                                               fn.hose("-8", "3 ft", spec="ptfe", name="fill hose")])
    circuit.run("feed", "surge tank", "rail", [fn.formula_pump("95 psi", "150 gph", name="pump"), fn.hose("-8", "9 ft", spec="ptfe", name="feed hose")])
    circuit.run("return", "rail", "surge tank", [fn.bypass_regulator("43.5 psi", reference="ambient", name="regulator"),
                                                 fn.hose("-8", "9 ft", spec="ptfe", name="return hose")])
    case = circuit.solve()["as written"]
    assert [role(case, part) for part in ("fill hose", "feed hose", "return hose")] == ["feed", "feed", "return"]


def test_a_return_that_joins_the_line_to_the_pump_stays_a_return():
    circuit = fn.Circuit("return to the pick-up (invented)", fluid="E10")
    circuit.tank("cell", level="8 in")
    circuit.run("pick-up", "cell", "pump in", [fn.hose("-10", "2 ft", spec="ptfe", name="pick-up hose")])
    circuit.run("feed", "pump in", "rail", [fn.hose("-10", "1 ft", spec="ptfe", name="joint hose"), fn.formula_pump("95 psi", "150 gph", name="pump"),
                                            fn.hose("-8", "9 ft", spec="ptfe", name="feed hose")])
    circuit.run("return", "rail", "pump in", [fn.bypass_regulator("43.5 psi", reference="ambient", name="regulator"),
                                              fn.hose("-8", "9 ft", spec="ptfe", name="return hose")])
    circuit.injectors("bank", "rail", count=6, flow="550 cc/min at 3 bar", duty="50 %", to="ambient")
    case = circuit.solve()["as written"]
    assert [role(case, part) for part in ("pick-up hose", "joint hose", "feed hose", "return hose")] == ["suction", "suction", "feed", "return"]


def test_a_regulator_that_spills_straight_into_its_tank_has_no_return_to_rise():
    circuit = fn.Circuit("regulator in the tank (invented)", fluid="gasoline class A")
    circuit.tank("cell", level="8 in")
    circuit.run("module", "cell", "tee", [fn.formula_pump("95 psi", "150 gph", through="60 psi at 85 gph", name="pump"),
                                          fn.filter(drop="0.8 psi at 100 gph")])
    circuit.run("spill", "tee", "cell", [fn.bypass_regulator("58 psi", reference="ambient", wide_open="15 psi at 500 L/h", name="regulator")])
    circuit.run("feed", "tee", "rail", [fn.hose("-6", "11 ft", spec="ptfe")])
    circuit.injectors("bank", "rail", count=6, flow="300 cc/min at 4 bar", duty="3 %", to="ambient")
    assert told(circuit.solve()["as written"], "return rise") is None


def test_the_line_back_to_a_tank_that_a_pump_stands_in_is_a_return():
    circuit = fn.Circuit("pump in its tank (invented)", fluid="power steering fluid", fluid_temperature="70 C")
    circuit.tank("reservoir", level="10 cm")
    circuit.run("out", "reservoir", "gear", [fn.displacement_pump("10 cc/rev", speed="900 rpm", name="pump"), fn.hose("-6", "3 ft", spec="ptfe", name="out hose")])
    circuit.run("home", "gear", "reservoir", [fn.orifice("4 mm", name="gear valve"), fn.hose("-6", "3 ft", spec="ptfe", name="home hose")])
    case = circuit.solve()["as written"]
    assert [role(case, part) for part in ("out hose", "home hose")] == ["feed", "return"]


OF_SOUND = {  # circuit -> suction; return; feed
    "return_style": "; return hose, return into cell; feed hose, feed filter", "dead_head": "; ; feed filter, feed hose",
    "regulator_in_the_tank": "; ; module filter, feed hose", "two_rails": "; return hose, return into cell; feed hose, feed filter, into L hose, into R hose, out of L hose, out of R hose",
    "surge_tank": "; lift return hose, lift return into cell, return hose, return into surge tank; lift hose, fill hose, fill into surge tank, feed hose, feed filter",
    "blow_through": "; return hose, return into cell; feed hose, feed filter, to the bowl hose", "transfer": "; ; hose run hose, hose run into main",
    "belt_driven_fuel": "feed hose 1, feed out of cell; poppet run hose, poppet run into cell; feed hose 2, filter",
    "wet_sump": "suction tube, suction out of pan; ; filter, main hose, bearings",
    "dry_sump": "pressure run hose, pressure run out of oil tank, scavenge hose 1, scavenge strainer; ; filter, main hose, bearings, scavenge hose 2, core, scavenge hose 3, "
                "scavenge into oil tank",
    "scavenge_with_cooler": "scavenge hose 1, scavenge out of sump; ; scavenge hose 2, oil cooler",
    "differential_cooler": "loop hose 1, loop out of housing; loop hose 3, loop into fill port; loop hose 2, core",
    "steering_on_hydraulic_oil": "suction hose, suction out of reservoir; work hose 2, work into reservoir; work hose 1",
    "coolant": "radiator run hose 2; ; block, radiator run hose 1, radiator", "rinse": "; ; feed hose, nozzle run L hose, nozzle run R hose"}


@pytest.mark.parametrize("name", OF_SOUND)
def test_each_line_of_a_sound_circuit_has_the_role_that_a_builder_would_give_it(name):
    found = roles_of(list(getattr(sound, name)().solve().values())[-1])
    assert "; ".join(", ".join(sorted(found[role])) for role in ("suction", "return", "feed")) == "; ".join(
        ", ".join(sorted(filter(None, part.strip().split(", ")))) for part in OF_SOUND[name].split(";"))


@pytest.mark.parametrize("share, last", [(0.24, "engine"), (0.26, "jet")])
def test_what_resists_a_quarter_of_the_greatest_is_a_consumer(share, last):
    """12 psi before a jet; the hose between the two is a return where the jet takes too little to be the last consumer."""
    circuit = fn.Circuit("two in a row (invented)", fluid="ISO VG 46", fluid_temperature="50 C")
    circuit.tank("reservoir", level="4 in")
    circuit.run("work", "reservoir", "home", [fn.displacement_pump("10 cc/rev", speed="1500 rpm", volumetric_efficiency="92 % at 1000 psi, 1500 rpm, 25 cP", name="pump"),
                                              fn.resistance(drop="100 psi at 4 gpm", exponent=2, name="engine"), fn.hose("-12", "1 ft", spec="full-size", name="between"),
                                              fn.resistance(drop=f"{100 * share} psi at 4 gpm", exponent=2, name="jet")])
    circuit.run("back", "home", "reservoir", [fn.hose("-12", "1 ft", spec="full-size", name="after")])
    case = circuit.solve()["as written"]
    drops = [case.ends(part)[0].total - case.ends(part)[1].total for part in ("engine", "jet")]
    assert drops[1] / drops[0] == pytest.approx(share, rel=1e-2)
    assert (role(case, "between"), role(case, "after")) == (("feed" if last == "jet" else "return"), "return")


@pytest.mark.parametrize(("drop", "count"), [(25.0, 2), (24.99, 1), (-25.0, 2)])
def test_a_quarter_of_the_greatest_drop_itself_is_a_consumer(drop, count):
    totals = {"bearings": (100.0, 0.0), "cooler": (drop, 0.0), "hose": (90.0, 0.0)}
    case = SimpleNamespace(kind_of={"bearings": "bearings", "cooler": "core", "hose": "line"}.get,
                           ends=lambda part: [SimpleNamespace(total=total) for total in totals[part]])
    assert _consumers(case, dict.fromkeys(totals)) == {*[*totals][:count]}
