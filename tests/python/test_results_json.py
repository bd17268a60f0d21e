"""Answers as JSON: SI with units said, mass that closes, nothing where nothing was solved.

The circuit comes straight from the compiled core, and so do the figures that the cells are set against.
"""

import json

import pytest
import flarenut as fn
import results_example as example

AMBIENT = 101325.0


@pytest.fixture(scope="module")
def answer():
    return example.answer()


@pytest.fixture(scope="module")
def half_solved():
    return example.half_solved()


def test_the_json_holds_the_same_shares(answer):
    feed = json.loads(answer.to_json())["cases"]["idle"]["feed"]
    assert [(one["part"], one["friction_loss_Pa"]) for one in feed["parts"]] == [(one.part, one.loss.si) for one in answer["idle"].feed.shares]
    assert feed["height_loss_Pa"] is None


def test_an_unsolved_case_is_null_in_json(half_solved):
    case = json.loads(half_solved.to_json())["cases"]["full power"]
    assert case["certificate"]["status"] == "not converged"
    assert case["certificate"]["cause"] == "the line 'feed hose' would not settle {1 < 2}"
    rail, hose = case["junctions"]["rail"], case["parts"]["feed hose"]
    assert rail["gauge_pressure_Pa"] is None and rail["total_pressure_Pa_abs"] is None
    assert hose["mass_flow_kg_per_s"] is None and hose["regime"] is None and hose["ends"][0]["velocity_m_per_s"] is None
    assert case["parts"]["fuel pump"]["suction"]["margin_Pa"] is None


# ---- JSON ----

UNIT_ENDINGS = ("_Pa", "_Pa_abs", "_m", "_m_per_s", "_kg_per_s", "_m3_per_s", "_K", "_Pa_s", "_kg_per_m3")
BARE_NUMBERS = {"reynolds", "iterations", "evaluations", "residual", "mass_closure", "flarenut_answer", "si", "share"}


def numbers_in(node, key=""):
    if isinstance(node, dict):
        for name, value in node.items():
            yield from numbers_in(value, name)
    elif isinstance(node, list):
        for value in node:
            yield from numbers_in(value, key)
    elif isinstance(node, (int, float)) and not isinstance(node, bool):
        yield key, node


def test_json_is_si_and_every_number_says_its_unit(answer):
    found = json.loads(answer.to_json())
    case, solution = found["cases"]["idle"], answer["idle"].solution
    assert case["junctions"]["rail"]["total_pressure_Pa_abs"] == solution.pressure_of("rail")
    assert case["parts"]["regulator"]["mass_flow_kg_per_s"] == solution.flow_of("regulator")
    assert case["certificate"]["iterations"] == solution.iterations
    assert found["runs"] == example.RUNS and found["invented"] is True
    for key, _ in numbers_in(found):
        assert key in BARE_NUMBERS or key.endswith(UNIT_ENDINGS), key
    assert all(one["value"] is None or one["value"]["unit"] for one in found["findings"])
    assert found == json.loads(json.dumps(answer.to_dict()))


def test_mass_closes_in_the_json_at_every_free_place(answer):
    case = json.loads(answer.to_json())["cases"]["full power"]
    into = dict.fromkeys(case["junctions"], 0.0)
    for part in case["parts"].values():
        for end in part["ends"]:
            into[end["junction"]] -= end["mass_flow_in_kg_per_s"]
    largest = max(abs(part["mass_flow_kg_per_s"]) for part in case["parts"].values())
    for name, balance in into.items():
        if not case["junctions"][name]["held"]:
            assert abs(balance) <= 1e-12 * largest


def test_temperatures_and_heat_are_told_where_they_are_found_and_null_where_given():
    circuit = fn.Circuit("sump (invented)", fluid="SAE 10W-40", air_temperature="20 C")
    circuit.tank("sump", level="80 mm", temperature="found", heat="1 kW", heat_loss="25 W/K")
    circuit.run("line", "sump", "mid", [fn.displacement_pump("10 cc/rev", speed="2000 rpm", name="pump"), fn.hose("-8", "1 m", spec="ptfe", air="still", name="hose")])
    circuit.run("back", "mid", "sump", [fn.orifice("3 mm")])
    found, given = (circuit.solve(temperatures=how).to_dict()["cases"]["as written"] for how in (None, "given"))
    case = circuit.solve()["as written"]
    assert found["junctions"]["sump"]["temperature_K"] == case.at("sump").temperature.si
    assert found["parts"]["hose"]["heat_given_off_W"] == case.part("hose").heat.si > 0 and found["parts"]["hose"]["pump_power_W"] is None
    assert found["parts"]["pump"]["pump_power_W"] == case.part("pump").power.si > 0
    assert found["parts"]["hose"]["ends"][0]["temperature_K"] > found["parts"]["hose"]["ends"][1]["temperature_K"]
    assert 0 <= found["certificate"]["energy_closure"] <= 1e-9
    assert given["certificate"]["energy_closure"] is None and given["parts"]["hose"]["heat_given_off_W"] is None
    assert given["junctions"]["sump"]["temperature_K"] == pytest.approx(293.15)
