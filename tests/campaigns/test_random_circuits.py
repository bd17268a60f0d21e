"""The short form of the campaign of random circuits, what its watch does, and circuits that hypothesis makes up and shrinks."""

import io
import os
import sys
import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parent))

import workers  # noqa: E402
from certificate import certificate  # noqa: E402
from certificate_heat import energy  # noqa: E402
from faults import FAULTS  # noqa: E402
from plumbing import to_circuit  # noqa: E402
from random_circuits import ENERGY, GOOD, MASS, examine, faulty, heated, sound  # noqa: E402
from random_heated import random_heated, solved  # noqa: E402
from random_plumbing import FAMILIES, random_plumbing  # noqa: E402
from run_random_circuits import campaign  # noqa: E402


def test_every_random_circuit_is_solved_with_its_certificate_or_says_why_not():
    told = io.StringIO()
    tally, whole = campaign(800, 7000, 2, told)
    assert whole and tally.failures == [], told.getvalue()
    assert tally.total == 800
    assert tally.outcomes["solved"] > 370 and tally.outcomes["heat solved"] > 95 and tally.outcomes["told in words"] < 40, tally.outcomes
    assert tally.outcomes["file agrees"] > 60 and sum(tally.planted.values()) == 200


@pytest.mark.parametrize("kind", list(FAULTS))
def test_a_planted_fault_is_told_by_its_right_name(kind):
    for seed in range(3):
        for by_file in (False, True):
            outcome = faulty(seed, by_file, kind)
            assert outcome.became == "told rightly", outcome.detail


# Two faults in one circuit: a cock that is shut by chance, and the planted one. Both have to be told.
@pytest.mark.parametrize(("seed", "by_file", "kind"), [
    (4038, True, "reversed check valve"), (15659, False, "disconnected return"), (22259, False, "disconnected return"),
    (18495, False, "regulator backwards"), (301138, False, "humped pump curve"), (403278, True, "too great a demand"),
    (47639, True, "regulator backwards"), (123259, False, "too great a demand"), (134936, False, "disconnected return"),
    (227117, True, "too much heat"), (314335, True, "shut valve behind a supply"), (322759, False, "shut valve behind a supply"),
    (265298, True, "too much heat"), (30475, True, "too great a demand"), (701016, False, "too much heat"), (1303817, False, "too much heat")])
def test_a_planted_fault_behind_a_shut_cock_is_told_too(seed, by_file, kind):
    outcome = faulty(seed, by_file, kind)
    assert outcome.became == "told rightly", outcome.detail


# Demands behind a cock that is shut, where nothing but the round-off of absurd pressures is left; a coolant close to either end of what is known; a
# trickle at the edge of standing still; a core whose rating cannot be.
@pytest.mark.parametrize(("seed", "became"), [
    (3771, "told in words"), (18631, "told in words"), (9731, "heat solved"), (201951, "heat solved"), (200490, "heat solved"),
    (416912, "heat solved"), (202970, "told in words"),
    # A trickle that turns with the warmth that it brings; water that would freeze; a trickle of half glycol.
    (65290, "told in words"), (86390, "told in words"), (135072, "told in words"), (205431, "told in words"), (263611, "heat solved"),
    (33912, "heat solved"), (38811, "heat solved"), (143050, "heat solved"), (70190, "heat solved"),
    # A trickle under pressure past a wall; a dead head whose pump warms next to nothing for days.
    (249052, "told in words"), (618610, "heat solved"),
    # A trickle of a tenth of a milligram an hour that stops at the warmth of where it goes and starts again at that of halfway.
    (1049832, "told in words"),
    # Half glycol over 130 K, whose specific heat bends.
    (1329412, "heat solved"),
    # All but shut: a nanogram a second, which stands.
    (2108291, "heat solved")])
def test_heated_circuits_once_failed_are_told_or_solved(seed, became):
    outcome = heated(seed)
    assert outcome.became == became, outcome.detail


@settings(max_examples=60, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(seed=st.integers(10**6, 10**9), parts=st.integers(3, 60), family=st.sampled_from(FAMILIES))
def test_circuits_of_any_size_and_family_are_certified(seed, parts, family):
    plumbing = random_plumbing(seed, parts, family)
    case = to_circuit(plumbing).solve()["as written"]
    if case.converged:
        found = certificate(plumbing, case.solution)
        assert found.faults == () and found.mass < 1e-12 and found.loop < 1e-9, found
    else:
        assert "would have to" in case.cause


def test_a_wrong_answer_has_no_certificate():
    plumbing = random_plumbing(1)
    heavier = plumbing._replace(fluid={**plumbing.fluid, "density": plumbing.fluid["density"] * 1.001})
    assert certificate(plumbing, to_circuit(plumbing).solve()["as written"].solution).loop < 1e-9
    assert certificate(plumbing, to_circuit(heavier).solve()["as written"].solution).loop > 1e-7


def _energies(drawn):
    return [energy(drawn.facts[name], case.solution, ("shared core",)) for name, case in solved(drawn)[0].items()]


@pytest.mark.parametrize(("seed", "family"), [(1, "oil"), (3, "coolant"), (5, "return"), (9, "vehicle")])
def test_a_wrong_answer_has_no_certificate_of_energy(seed, family):
    drawn = random_heated(seed, family)
    for found in _energies(drawn):
        assert found.faults == () and found.mass < MASS and found.worst < ENERGY, found
    name, facts = next(iter(drawn.facts.items()))
    more = drawn._replace(facts={**drawn.facts, name: facts._replace(put={place: heat * 1.001 for place, heat in facts.put.items()})})
    assert _energies(more)[0].worst > 1e-6
    higher = drawn._replace(facts={**drawn.facts, name: facts._replace(heights={place: height * 1.01 for place, height in facts.heights.items()})})
    assert _energies(higher)[0].worst > 10 * ENERGY


# An expansion tank on one hose with a wall; circuits behind a shut cock, where seepage decides how warm it is.
@pytest.mark.parametrize(("seed", "became"), [(216, "heat solved"), (316, "heat solved"), (7030, "heat solved"), (1043, "told in words"), (827, "told in words")])
def test_what_stands_still_settles_or_is_told(seed, became):
    outcome = heated(seed)
    assert outcome.became == became, outcome


def test_powers_and_walls_are_judged():
    drawn = random_heated(0, "oil")
    facts = drawn.facts["oil"]
    weaker = drawn._replace(facts={"oil": facts._replace(efficiency={pump: 1.01 * one for pump, one in facts.efficiency.items()})})
    assert any("are asked" in fault for fault in _energies(weaker)[0].faults)
    bare = drawn._replace(facts={"oil": facts._replace(sinks={})})
    assert not facts.sinks or any("has no wall" in fault for fault in _energies(bare)[0].faults)


def test_the_same_seed_makes_the_same_circuit():
    assert random_plumbing(5) == random_plumbing(5) != random_plumbing(6)
    assert random_heated(5).told == random_heated(5).told != random_heated(6).told
    assert sound(5) == sound(5) and examine(5).became in GOOD


def _dies_and_hangs(seed):
    if seed == 3:
        os._exit(9)
    if seed == 6:
        time.sleep(30)
    return seed


def test_a_circuit_that_kills_or_holds_up_its_process_is_counted_and_the_rest_goes_on(monkeypatch):
    monkeypatch.setattr(workers, "HANG", 1.0)
    came = []
    assert workers.run(_dies_and_hangs, 0, 10, 2, came.append)
    assert sorted(one for one in came if isinstance(one, int)) == [0, 1, 2, 4, 5, 7, 8, 9]
    assert set(came) >= {("crash", 3), ("hang", 6)}
