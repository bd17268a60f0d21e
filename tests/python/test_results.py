"""Answers in the builder's words: readings against Bernoulli and sums worked here, and what is refused.

The circuit comes straight from the compiled core, and so do the figures that the words are set against.
"""

import doctest
import importlib
import math
import pickle
import pkgutil

import pytest

import flarenut as fn
import results_example as example
from flarenut import checks, results
from flarenut.results import ByCase, NoSuchName
from flarenut.units import Quantity, UnitError

AMBIENT = 101325.0


@pytest.fixture(scope="module")
def answer():
    return example.answer()


# ---- readings ----

def test_a_gauge_shows_total_less_dynamic_head_of_its_bore_above_ambient(answer):
    solution, reading = answer["idle"].solution, answer["idle"].at("feed:4")
    total, flow = solution.pressure_of("feed:4"), solution.flow_of("feed hose")
    velocity = flow / (example.DENSITY * math.pi / 4 * 0.0087**2)  # continuity in the only bore that meets there
    assert reading.gauge.si == pytest.approx(total - example.DENSITY * velocity**2 / 2 - AMBIENT, rel=1e-12)  # Bernoulli
    assert reading.total.si == total
    assert reading.velocity.si == pytest.approx(velocity, rel=1e-12)
    assert reading.gauge.to("psia") == pytest.approx(reading.absolute.to("psi"), rel=1e-12)
    assert reading.absolute.si - reading.gauge.si == pytest.approx(AMBIENT, rel=1e-12)
    assert reading.basis == "the bore of feed hose"


def test_a_bore_given_for_a_place_beats_the_hose_that_meets_it(answer):
    wide = example.answer(changes={"bores": {"rail": 0.014}})["full power"]
    solution = wide.solution
    velocity = solution.flow_of("engine bay hose") / (example.DENSITY * math.pi / 4 * 0.014**2)  # all that arrives at the rail
    expected = solution.pressure_of("rail") - example.DENSITY * velocity**2 / 2 - AMBIENT
    assert wide.at("rail").gauge.si == pytest.approx(expected, rel=1e-12)
    assert wide.at("rail").gauge.si > answer["full power"].at("rail").gauge.si
    assert wide.at("rail").bore.to("mm") == pytest.approx(14)


def test_tanks_and_fixed_places_are_still(answer):
    tank = answer["idle"].at("tank")
    assert tank.gauge.si == pytest.approx(example.DENSITY * 9.80665 * 0.2, rel=1e-9)  # hydrostatics: 0.2 m over the pick-up
    assert tank.absolute == tank.total
    assert answer["idle"].at("manifold").gauge.si == pytest.approx(-60e3)


def test_a_bore_of_nothing_known_is_wide_and_says_so(answer):
    between_devices = answer["idle"].at("pump out")  # pump and check valve state no bore
    assert between_devices.absolute == between_devices.total
    assert "taken as wide" in between_devices.basis


def test_against_gives_the_difference_of_two_gauges(answer):
    case = answer["idle"]
    across = case.at("rail").against(case.at("manifold"))
    assert across.kind == "pressure_difference"
    assert across.si == pytest.approx(case.at("rail").gauge.si + 60e3, rel=1e-12)
    assert case.at("rail").against(Quantity(-60e3, "pressure_gauge")).si == pytest.approx(across.si, rel=1e-12)
    assert case.at("rail").against(Quantity(41325.0, "pressure_absolute")).si == pytest.approx(across.si, rel=1e-12)
    with pytest.raises(TypeError, match="'rail' can be set against another reading or a pressure, not float"):
        case.at("rail").against(2.0)


def test_a_reading_refuses_units_of_another_kind(answer):
    with pytest.raises(UnitError):
        answer["idle"].at("rail").gauge.to("L/h")
    with pytest.raises(TypeError, match="would lose its unit"):
        float(answer["idle"].at("rail").gauge)


# ---- parts ----

def test_a_part_reads_what_the_engine_found(answer):
    case = answer["full power"]
    hose, flow = case.part("feed hose"), case.solution.flow_of("feed hose")
    start, stop = case.solution.ends("feed hose")
    assert hose.mass_flow.si == flow
    assert hose.flow.to("L/h") == pytest.approx(flow / example.DENSITY * 3.6e6, rel=1e-12)
    assert hose.drop.si == pytest.approx(start.total - stop.total, rel=1e-12)
    assert hose.reynolds == pytest.approx(4 * flow / (math.pi * 0.0087 * example.VISCOSITY), rel=1e-12)  # definition of Re
    assert (hose.kind, hose.regime) == ("line", "turbulent")
    assert (hose.inlet.junction, hose.outlet.junction) == ("feed:4", "feed:5")
    assert hose.inlet.gauge.si == pytest.approx(start.static - AMBIENT, rel=1e-12)


def test_a_pump_rises_and_tells_of_its_suction(answer):
    case = answer["hot restart"]
    pump, found = case.part("fuel pump"), case.solution.suction("fuel pump")
    assert pump.rise.si == -pump.drop.si > 0
    assert pump.suction.margin.si == found.margin
    assert pump.suction.vacuum.si == -pump.suction.inlet.si == -found.inlet_gauge
    # Static pressure at the inlet less vapour pressure is the most that the margin can be.
    assert found.margin <= AMBIENT + found.inlet_gauge - example.VAPOUR_PRESSURE + 1e-9
    assert pump.suction.npsh_available.si == pytest.approx(
        (case.solution.pressure_of("feed:2") - example.VAPOUR_PRESSURE) / (example.DENSITY * 9.80665), rel=1e-9)
    assert case.part("feed hose").suction is None


def test_a_run_adds_up_its_parts(answer):
    case = answer["idle"]
    assert case.run("return").drop.si == pytest.approx(
        case.part("regulator").drop.si + case.part("return hose").drop.si, rel=1e-12)
    assert case.run("return").regime == "regulating"  # the part that switches speaks for the run


def test_pieces_that_became_several_parts_read_as_one():
    titles = {"feed hose": "front half", "filter": "front half"}
    case = example.answer(changes={"titles": titles})["idle"]
    both = case.part("Front half")
    assert both.drop.si == pytest.approx(case.part("feed hose").drop.si + case.part("filter").drop.si, rel=1e-12)
    apart = example.answer(changes={"titles": {"feed hose": "hose", "return hose": "hose"}})["idle"]
    with pytest.raises(NoSuchName, match="no single part 'hose': say which of 'feed hose', 'return hose'"):
        apart.part("hose")


# ---- where the pressure goes ----

def test_the_feed_names_every_part_between_tank_and_rail_by_what_it_costs(answer):
    case = answer["full power"]
    feed = case.feed
    assert (feed.start, feed.stop) == ("tank", "rail")
    assert {one.part for one in feed.shares} == set(example.RUNS["feed"]) - {"fuel pump"}  # a pump costs nothing
    losses = [one.loss.si for one in feed.shares]
    assert losses == sorted(losses, reverse=True)
    for one in feed.shares:
        assert one.loss.si == pytest.approx(case.part(one.part).drop.si, rel=1e-9)  # no places known: height is within
        assert one.share == pytest.approx(one.loss.si / feed.loss.si, rel=1e-12)
    assert sum(one.share for one in feed.shares) == pytest.approx(1.0, rel=1e-12)
    assert feed.height is None
    # Pressure closes along the way: tank, plus what the pump gives, less what the parts take, is the rail.
    tank, rail = case.at("tank").total.si, case.at("rail").total.si
    assert tank + case.part("fuel pump").rise.si - feed.loss.si == pytest.approx(rail, rel=1e-9)


def test_height_is_kept_apart_from_friction():
    places = {name: (0.0, 0.0, -0.1) for name in ("feed:1", "feed:2", "pump out", "feed:4", "feed:5", "feed:6")}
    places |= {"tank": (0.0, 0.0, 0.0), "rail": (0.0, 0.0, 0.1)}
    flat, high = example.answer()["idle"].feed, example.answer(changes={"positions": places})["idle"].feed
    assert high.height.si == pytest.approx(example.DENSITY * 9.80665 * 0.1, rel=1e-9)  # hydrostatics from tank to rail
    losses = {one.part: one.loss.si for one in high.shares}
    within = {one.part: one.loss.si for one in flat.shares}
    assert within["engine bay hose"] - losses["engine bay hose"] == pytest.approx(example.DENSITY * 9.80665 * 0.2, rel=1e-9)
    assert losses["pick-up hose"] - within["pick-up hose"] == pytest.approx(example.DENSITY * 9.80665 * 0.1, rel=1e-9)
    assert losses["filter"] == within["filter"]
    assert "height: " in str(high) and "height: " not in str(flat)


def test_a_launch_moves_height_and_leaves_friction_as_it_was():
    car = fn.Circuit("launch (invented)", fluid=fn.constant_fluid(density="740 kg/m3", viscosity="0.5 cP"))
    car.tank("cell", vent="3 bar")
    car.junction("bowl", position=["3 m", "0 m", "0.5 m"], demand="60 kg/h")
    car.run("feed", "cell", "bowl", [fn.hose(bore="8 mm", length="2 m", name="rear"), fn.hose(bore="6 mm", length="2 m", name="front")])
    car.case("parked")
    car.case("launch", acceleration="1.2 g")
    parked, launch = (case.feed for case in car.solve().values())
    assert parked.height.si == pytest.approx(740 * 9.80665 * 0.5, rel=1e-9)  # rho g h
    assert launch.height.si == pytest.approx(740 * 9.80665 * (0.5 + 1.2 * 3.0), rel=1e-9)  # rho (g h + a d)
    for still, moving in zip(parked.shares, launch.shares, strict=True):  # the same flow in the same bore
        assert still.part == moving.part and still.loss.si == pytest.approx(moving.loss.si, rel=1e-7)
    assert [one.part for one in parked.shares] == ["front", "rear", "feed out of cell"]


def test_a_run_ranks_its_own_parts_and_a_case_without_an_answer_ranks_none(answer):
    back = answer["idle"].losses("return")
    assert [one.part for one in back.shares] == ["return hose"] and back.shares[0].share == 1.0  # what a regulator takes is left over
    lost = results.Answer(example.layout(), {"idle": example.Unsolved(answer["idle"].solution)})
    assert lost["idle"].feed is None and lost["idle"].losses("feed") is None


# ---- by case ----

def test_numbers_of_several_cases_say_their_unit_and_stay_a_dict(answer):
    pressures = answer.at("rail").gauge.to("psi")
    idle = answer["idle"].at("rail").gauge
    assert repr(pressures).startswith(f"{{'idle': {idle.show(unit='psi').split()[0]} psi, 'full power': ")
    assert pressures["idle"] == idle.to("psi") and isinstance(pressures, dict)
    assert repr(pickle.loads(pickle.dumps(pressures))) == repr(pressures)
    assert "tank to rail" in repr(answer.feed) and "full power\n  tank to rail" in repr(answer.feed)


def test_one_question_answers_for_every_case(answer):
    pressures = answer.at("rail").gauge.to("psi")
    assert pressures == {name: case.at("rail").gauge.to("psi") for name, case in answer.items()}
    assert list(pressures) == list(example.CASES)
    assert answer.part("fuel pump").regime == dict.fromkeys(example.CASES, "pumping")
    assert answer.part("fuel pump").suction.margin.to("kPa")["idle"] == answer["idle"].part("fuel pump").suction.margin.to("kPa")
    assert answer.at("rail", case="idle").gauge == answer.case("idle").at("rail").gauge
    assert "gauge" in dir(answer.at("rail"))
    assert str(answer["idle"].at("rail").gauge) in repr(answer.at("rail"))


def test_by_case_knows_its_one_value_and_refuses_where_there_are_more(answer):
    assert ByCase({"idle": 3}).only == 3
    with pytest.raises(ValueError, match=r"there are 3 cases: ask for one, e.g. \['idle'\]"):
        _ = answer.at("rail").only


def test_whatever_is_asked_shows_itself_in_words(answer):
    case = answer["idle"]
    for one in (case, case.at("rail"), case.part("feed hose"), case.part("fuel pump").suction, case.feed, *answer.findings[:1]):
        assert " object at " not in repr(one) and "Quantity(" not in repr(one)
    assert repr(case.part("fuel pump").suction).startswith("<suction: margin ")
    assert repr(answer.findings[0]) == f"<{answer.findings[0].text()}>"


WRONG_NAMES = [
    (lambda a: a["idel"], "no case 'idel': did you mean 'idle'?"),
    (lambda a: a.at("rial"), "no place 'rial': did you mean 'rail'?"),
    (lambda a: a.at("rail")["idel"], "no case 'idel': did you mean 'idle'?"),
    (lambda a: a.part("fed hose"), "no part 'fed hose': did you mean 'feed hose'?"),
    (lambda a: a.run("retrun"), "no run 'retrun': did you mean 'return'?"),
    (lambda a: a.at("feed hose"), "it is a part, so ask for part('feed hose').inlet or .outlet"),
    (lambda a: a.table(rows=["feed hose"]), "say what of it, e.g. 'feed hose.drop' or 'feed hose.flow'"),
    (lambda a: a.table(rows=["feed hose.dorp"]), "did you mean 'feed hose.drop'?"),
    (lambda a: a.table(rows=["rail.guage"]), "did you mean 'rail.gauge'?"),
    (lambda a: a.table(rows=["riel"]), "no row 'riel': did you mean 'rail'?"),
    (lambda a: a.table(units="imperial"), "'units' is 'imperial': write 'us' or 'metric'"),
]


@pytest.mark.parametrize(("question", "words"), WRONG_NAMES)
def test_a_wrong_name_is_told_the_right_one(answer, question, words):
    with pytest.raises((NoSuchName, ValueError)) as refusal:
        question(answer)
    assert words in str(refusal.value)


def test_a_refusal_survives_pickling():
    error = NoSuchName("case", "idel", ["idle"])
    assert str(pickle.loads(pickle.dumps(error))) == str(error)


def test_an_answer_is_a_mapping_that_lacks_what_it_lacks(answer):
    assert "idle" in answer and "idel" not in answer and answer.get("idel") is None
    assert len(answer) == 3 and answer.converged


def modules():
    for package in (results, checks):
        yield package
        for found in pkgutil.iter_modules(package.__path__, package.__name__ + "."):
            yield importlib.import_module(found.name)


def test_examples_in_docstrings_hold():
    outcomes = [doctest.testmod(module) for module in modules()]
    assert sum(outcome.failed for outcome in outcomes) == 0
    assert sum(outcome.attempted for outcome in outcomes) >= 10


def watering(level="1 m", bore="3.5 mm"):
    """A strainer whose bore nobody knows, a hose and a jet in a row."""
    can = fn.Circuit("watering can", "water", invented=True)
    can.tank("drum", level=level)
    can.run("line", "drum", "ambient", [fn.filter(drop="0.1 bar at 10 L/min", name="strainer"), fn.hose(bore="12.7 mm", length="3 m", name="hose"),
                                        fn.orifice(bore, name="jet")])
    can.case("open")
    return can


def test_velocity_is_that_of_the_hole_or_not_known():
    """Flow over the area of the bore, by hand; what has no bore has no velocity, which is not the same as none."""
    answer = watering().solve()
    case = answer["open"]
    jet, hose, strainer = (case.part(name) for name in ("jet", "hose", "strainer"))
    assert jet.velocity.si == pytest.approx(jet.flow.si / (math.pi / 4 * 3.5e-3**2)) and jet.velocity.si > 2.0
    liquid = case.liquid_in("jet")
    assert jet.reynolds == pytest.approx(jet.velocity.si * 3.5e-3 * liquid["density"] / liquid["viscosity"])
    assert hose.velocity.si == pytest.approx(hose.flow.si / (math.pi / 4 * 12.7e-3**2))
    assert all(math.isnan(number) for number in (strainer.velocity.si, strainer.reynolds, strainer.inlet.velocity.si, jet.outlet.reynolds))
    shown = str(answer.table(rows=["strainer.velocity", "strainer.reynolds", "strainer.inlet.velocity", "jet.velocity"]))
    assert [line.split()[-1] for line in shown.splitlines() if "strainer" in line] == ["–"] * 3
    part = next(one for one in answer.to_dict()["cases"]["open"]["parts"].values() if one["title"] == "strainer")
    assert part["ends"][0]["velocity_m_per_s"] is None and part["ends"][0]["reynolds"] is None


def test_a_sweep_has_the_velocity_of_a_single_solve():
    pytest.importorskip("xarray")
    names = ["jet.velocity", "jet.reynolds", "hose.velocity", "strainer.velocity", "strainer.inlet.reynolds"]
    swept = fn.sweep(watering(), {"jet.bore": ["2 mm", "3.5 mm"], "drum.level": ["1 m", "2 m"]}, outputs=names)
    for i, bore in enumerate(("2 mm", "3.5 mm")):
        for j, level in enumerate(("1 m", "2 m")):
            case = watering(level, bore).solve()["open"]
            row = [float(swept[name].values[i, j, 0]) for name in names]
            alone = [case.part("jet").velocity.si, case.part("jet").reynolds, case.part("hose").velocity.si, math.nan, math.nan]
            assert row == pytest.approx(alone, rel=1e-6, nan_ok=True)
