"""Short form of the independent judge: 60 random circuits, each part's law alone, and that the judge can tell a wrong answer."""

import sys
from math import pi
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parent))

pytest.importorskip("scipy")
pytest.importorskip("fluids")

import flarenut as fn  # noqa: E402
from judge_compare import ask, differences, is_root, judge  # noqa: E402
from judge_laws import LAWS  # noqa: E402
from judge_system import solve  # noqa: E402
from plumbing import Part, Plumbing  # noqa: E402
from random_plumbing import random_plumbing  # noqa: E402
from run_judge import FORMS, Tally, run  # noqa: E402


def test_random_circuits_agree_with_both_judges():
    tally = run(FORMS["short"], 1000, Tally())
    counts = tally.counts
    judged = sum(count for outcome, count in counts.items() if outcome.startswith("pages"))
    refused = sum(count for outcome, count in counts.items() if outcome.startswith("pages' laws: engine refused in words, judge agrees"))
    assert judged == FORMS["short"]
    assert counts["pages' laws: agrees within 1e-6"] + refused == judged, tally.told
    by_library = sum(count for outcome, count in counts.items() if outcome.startswith("library's laws: agrees"))
    not_asked = sum(count for outcome, count in counts.items() if outcome.startswith("library's laws: not asked"))
    assert by_library + not_asked == counts["pages' laws: agrees within 1e-6"], tally.told
    assert by_library >= judged // 2


def test_no_kind_is_without_a_judge():
    drawn = {part.kind for seed in range(150) for part in random_plumbing(seed).parts}
    assert drawn <= set(LAWS)
    assert {"bypass regulator", "reducing regulator", "relief valve", "check valve", "tee", "centrifugal pump", "filter with bypass"} <= drawn


def test_the_judge_tells_a_wrong_answer():
    plumbing = random_plumbing(1000)
    engine, found = ask(plumbing), solve(plumbing)
    assert is_root(plumbing, engine)
    name = max(engine.pressures, key=engine.pressures.get)
    wrong = engine._replace(pressures={**engine.pressures, name: 1.00001 * engine.pressures[name]})
    assert differences(plumbing, wrong, found)[0] > 1e-6
    assert not is_root(plumbing, wrong)


def test_a_law_that_is_a_thousandth_off_is_seen():
    plumbing = random_plumbing(1000)
    thicker = plumbing._replace(fluid={**plumbing.fluid,
                                       "viscosity": 1.001 * plumbing.fluid["viscosity"], "density": 1.001 * plumbing.fluid["density"]})
    assert differences(plumbing, ask(plumbing), solve(thicker))[0] > 1e-6
    assert judge(plumbing)[0].outcome == "agrees within 1e-6"


FLUID = {"density": 850.0, "viscosity": 0.02}


def _one_part(part, flow):
    """Drop that the engine tells of one part at a mass flow [kg/s] [Pa]."""
    car = fn.Circuit("one part", fluid=fn.constant_fluid(density="850 kg/m3", viscosity="0.02 Pa s"))
    car.junction("bench", height="0 m", supply=f"{flow!r} kg/s")
    car.fixed("end", height="0 m")
    car.run("way", "bench", "end", [part])
    return next(iter(car.solve().values())).at("bench").total.to("Pa") - 101325.0


@pytest.mark.parametrize("flow", [0.002, 0.05, 0.3, 0.9])
def test_kinds_that_random_circuits_lack_follow_their_pages(flow):
    bearings = fn.bearings(count=5, diameter="55 mm", width="20 mm", clearance="0.06 mm", speed="3000 rpm", film_viscosity=0.6)
    row = {"count": 5, "diameter": 0.055, "radial_clearance": 3e-5, "land_width": 0.0085, "eccentricity": 0.8, "speed": 50.0, "film_viscosity": 0.6}
    assert _one_part(bearings, flow) == pytest.approx(_judged("bearings", row, flow), rel=1e-6)
    points = {"flow": [1e-4, 3e-4, 7e-4], "pressure_drop": [1e4, 6e4, 2.5e5], "rating_viscosity": 0.001, "rating_density": 800.0}
    table = fn.measured_part(points=[[f"{q!r} m3/s", f"{p!r} Pa"] for q, p in zip(points["flow"], points["pressure_drop"])],
                             rated_with={"density": "800 kg/m3", "viscosity": "0.001 Pa s"})
    assert _one_part(table, flow) == pytest.approx(_judged("measured table", points, flow), rel=1e-6)


def _judged(kind, numbers, flow):
    places = {"bench": {"kind": "junction", "elevation": 0.0, "demand": -flow}, "end": {"kind": "fixed", "elevation": 0.0, "gauge": 0.0}}
    return solve(Plumbing(0, FLUID, places, (Part(kind, "one", "bench", "end", numbers),))).pressures["bench"]


def test_a_line_of_the_judge_is_hagen_and_poiseuille_at_rest():
    numbers = {"bore": 0.01, "length": 2.0, "roughness": 1e-5}
    law = LAWS["line"](numbers, FLUID)
    assert law.mismatch((0.0, 0.0), (1e-3,))[0] == pytest.approx(-128 * 0.02 * 2.0 * 1e-3 / 850.0 / (pi * 0.01**4), rel=1e-12)


def test_random_oil_circuits_with_coolers_agree_with_both_judges():
    pytest.importorskip("ht")
    from judge_heat_compare import judge_heat
    from random_heat import random_heat

    tally = run(12, 0, Tally(), judge_heat, random_heat)
    refused = tally.counts["pages' laws: engine refused in words, judge agrees: no root where the oil is known"]
    assert tally.counts["pages' laws: agrees within 1e-6"] + refused == 12, tally.told
    assert refused <= 3
    asked = 12 - refused - tally.counts["library's laws: not asked: a cooler in transition"]
    assert tally.counts["library's laws: agrees within 0.3 %"] == asked >= 6, tally.told


def test_oil_under_pressure_leaves_a_cooler_no_colder_than_its_air():
    car = fn.Circuit("trickle under pressure", fluid=fn.oil(kv40="46 mm2/s", kv100="7 mm2/s", density="870 kg/m3"), invented=True)
    car.fixed("pressed", pressure="200 bar", temperature="100 C", height="0 m")
    car.fixed("drain", height="0 m")
    cooler = fn.cooler("60 W/K at 5 L/min", face="0.06 m2", drop="0.1 bar at 5 L/min", rated_with="own at 60 C", rated_air="30 C at 5 m/s", name="cooler")
    car.run("way", "pressed", "drain", [cooler, fn.orifice(bore="0.12 mm", name="jet")])
    car.case("cold", air_temperature="0 C", fan="5 m/s", fluid_temperature="60 C")
    assert car.solve()["cold"].at("way:1").temperature.to("C") > -1e-3
