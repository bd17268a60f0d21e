"""What nobody said is asked about, or told as assumed: vacuum or boost, an idle without a manifold, the law of a cooler."""

from types import SimpleNamespace

import flarenut as fn
import pytest
from flarenut.circuit import unsolved

MERCURY = 3386.389  # Pa to the inch (NIST SP 811, appendix B, from memory)


def car(**words):
    found = fn.Circuit("unsaid (invented)", fluid=words.pop("fluid", "gasoline"))
    found.tank("cell", level="8 in")
    found.run("feed", "cell", "rail", [fn.formula_pump("95 psi", "150 gph", name="pump"), fn.hose("-8", "11 ft", spec="ptfe")])
    found.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="manifold", wide_open="30 psi at 400 L/h", name="regulator")])
    found.injectors("bank", "rail", count=6, flow="550 cc/min at 3 bar")
    return found


def assumed(case, units="us"):
    return next((one.text(units) for one in case.findings if one.code == "assumed"), "")


# ---- the manifold ----

@pytest.mark.parametrize("written", ["18 inHg", "18 in Hg", '18 "Hg', "450 mmHg"])
def test_mercury_that_says_neither_vacuum_nor_boost_is_asked_about(written):
    found = car()
    found.case("idle", manifold=written)
    with pytest.raises(fn.CircuitError) as caught:
        found.solve()
    assert caught.value.key == "manifold" and "above the ambient, or below it?" in caught.value.reason
    assert f"'{written} vacuum' or '{written} boost'" in caught.value.cure
    with pytest.raises(fn.CircuitError, match="or below it"):
        car().fixed("manifold", written)


@pytest.mark.parametrize("written, gauge", [("18 inHg vacuum", -18 * MERCURY), ("18 inHg boost", 18 * MERCURY), ("-18 inHg", -18 * MERCURY),
                                            ("10 psi", 68947.57), ("0 inHg", 0.0)])
def test_a_manifold_that_says_which_way_is_read(written, gauge):
    found = car()
    found.case("idle", manifold=written, duty="3 %", volts=13.5)
    assert found.solve()["idle"].number("manifold.gauge") == pytest.approx(gauge, abs=0.01)


def test_a_case_without_a_manifold_lists_it_as_assumed():
    found = car()
    found.case("idle", duty="3 %", volts=13.5)
    found.case("said", duty="3 %", volts=13.5, manifold="18 inHg vacuum")
    answer = found.solve()
    assert "manifold" in assumed(answer["idle"]) and "pressure that of the open air" in assumed(answer["idle"])
    assert "open air" not in assumed(answer["said"])


def test_a_manifold_of_the_circuit_is_no_assumption():
    found = car()
    found.fixed("manifold", "5 psi boost")
    found.case("idle", duty="3 %", volts=13.5)
    assert "open air" not in assumed(found.solve()["idle"])


# ---- parts ----

@pytest.mark.parametrize("fluid, words, told", [("SAE 10W-40", {}, True), ("SAE 10W-40", {"exponent": 1.2, "rated_with": "own at 100 C"}, False),
                                                ("gasoline", {}, False), ("water", {}, False)])
def test_the_square_law_of_a_resistance_is_told_where_the_liquid_may_be_thick(fluid, words, told):
    works = fn.Circuit("cooler (invented)", fluid=fluid)
    works.tank("pan", vent="20 psi")
    works.run("line", "pan", "ambient", [fn.resistance("5 psi at 3 gpm", name="cooler", **words)])
    assert ("exponent 2" in assumed(works.solve()["as written"])) == told


def test_presets_are_told_in_the_units_of_the_table():
    """30 psi are 2.068 bar, 2 psi are 13.8 kPa; 400 L/h are 105.7 US gallons of 3.785 L an hour."""
    found = car()
    found.run("spill", "rail", "cell", [fn.bypass_regulator("80 psi", reference="ambient", name="second")])
    case = found.solve()["as written"]
    assert "second wide_open 30 psi at 106 gal/h, band 2 psi" in assumed(case)
    assert "second wide_open 2.1 bar at 400 L/h, band 0.14 bar" in assumed(case, "metric")


def test_a_word_that_no_case_has_is_refused_where_it_is_written():
    found = fn.Circuit("words (invented)", fluid="gasoline")
    with pytest.raises(fn.CircuitError) as caught:
        found.case("idle", volt=3)
    assert (caught.value.place, caught.value.key, caught.value.value) == ("case 'idle'", "volt", 3)
    assert "did you mean 'volts'?" in caught.value.cure and not found.cases
    found.case("idle", **{"pump.volts": 12})  # the pump may come later


# ---- more than can reach a place ----

def bowl(asked, vent="5 psi", rise=None):
    works = fn.Circuit("bowl (invented)", fluid=fn.constant_fluid("1000 kg/m3", "1 cP", vapour_pressure="0 Paa", name="water-like liquid"))
    works.tank("drum", vent=vent)
    works.junction("bowl", demand=asked)
    works.run("line", "drum", "bowl", [fn.resistance("5 psi at 3 gpm", name="line", rise=rise)])
    works.case("much")
    works.case("little", **{"bowl.demand": "1 gpm"})
    return works


def test_a_demand_that_cannot_be_met_says_how_much_can_be_had():
    """The 5 psi on the tank drive 3 gpm through what loses 5 psi at 3 gpm; with 5/4 of it, 3 √(5/4) = 3.35 gpm."""
    for vent, told in (("5 psi", "about 180 gal/h (681 L/h) can be had at 'bowl'"), ("6.25 psi", "about 3.35 gal/min")):
        answer = bowl("90 gpm", vent).solve()
        assert not answer["much"].converged and told in answer["much"].cause
        assert told.replace(" (681 L/h)", "") in answer.findings[0].text("us")  # a finding has one system, a cause both where none is chosen
        alone = bowl("1 gpm", vent).solve()["little"]
        assert answer["little"].at("bowl").total.si == alone.at("bowl").total.si  # the search leaves nothing behind
        assert "can be had" not in answer["little"].cause


@pytest.mark.parametrize(("demand", "told"), [("90 gpm", "even 1/10 of what is asked for at 'bowl' is too much"), ("9 gpm", "more liquid is asked for at 'bowl' than"), ("1 gpm", "")])
def test_what_did_not_settle_is_told_as_too_great_a_demand_only_where_the_engine_says_so_of_less(demand, told):
    works = bowl(demand)
    case = works.solve()["much"]
    failed = SimpleNamespace(message="the line 'line' would not settle", number=case.solution.number, converged=False, finds_temperatures=False, part_names=())
    words = unsolved.beside_the_cause(works, failed)
    assert unsolved.says_it_all(failed, words) == bool(told) and ("fall below absolute zero" in words) == bool(told)
    assert words.startswith(told) if told else words == ""


def test_nothing_is_said_to_be_had_where_nothing_can():
    """3 m of water are 29 kPa, of which 5 psi lift 34 kPa: 4 m are too many."""
    assert "can be had" in bowl("90 gpm", rise="3 m").solve()["much"].cause
    assert "can be had" not in bowl("90 gpm", rise="4 m").solve()["much"].cause


def test_a_feed_written_backwards_is_named_in_the_cause():
    found = fn.Circuit("backwards (invented)", fluid="gasoline")
    found.tank("cell", level="8 in")
    found.junction("rail", demand="9 gph")
    found.run("feed", "rail", "cell", [fn.formula_pump("95 psi", "150 gph", name="pump"), fn.check_valve(rated="1 psi at 100 gph")])
    case = found.solve()["as written"]
    assert not case.converged
    assert "look at run 'feed', whose pump draws from 'rail', which nothing feeds, and delivers into tank 'cell'" in case.cause
