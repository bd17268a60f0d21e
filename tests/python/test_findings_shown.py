"""Findings as data and as sentences: ranked, merged, in one unit, and replaced by ones of one's own."""

import pytest
import results_example as example
from flarenut import checks
from flarenut.results import Answer, Finding, Layout, merged, ranked
from flarenut.units import Quantity


@pytest.fixture(scope="module")
def answer():
    return example.answer()


# ---- findings as data ----

def test_findings_rank_by_severity_then_by_how_far_they_are_over():
    made = [Finding("a", "watch", "x", "idle", "", hurt=9.0), Finding("b", "stop", "x", "idle", "", hurt=0.1),
            Finding("c", "watch", "x", "idle", "", hurt=10.0), Finding("a", "watch", "x", "full", "", hurt=20.0)]
    assert [(one.code, one.case) for one in ranked(made)] == [("b", "idle"), ("a", "full"), ("c", "idle"), ("a", "idle")]
    assert [(one.code, cases) for one, cases in merged(made)] == [("b", ["idle"]), ("a", ["full", "idle"]), ("c", ["idle"])]
    apart = [Finding("rise", "watch", "regulator", "idle", "{value}, wide open", Quantity(4e4, "pressure_difference"), hurt=2.0),
             Finding("rise", "watch", "regulator", "full", "{value}, still holds", Quantity(3e4, "pressure_difference"), hurt=1.0),
             Finding("rise", "watch", "regulator", "hot", "{value}, still holds", Quantity(2e4, "pressure_difference"), hurt=0.5)]
    assert [one.text(cases=cases) for one, cases in merged(apart)] == [
        "WATCH: regulator, idle: 5.80 psi, wide open.", "WATCH: regulator, full (worst) / hot: 4.35 psi, still holds."]
    with pytest.raises(ValueError, match="severity 'bad' of finding 'a' is not one of stop, fix, watch, note"):
        Finding("a", "bad", "x", "idle", "")


def test_what_holds_of_two_places_alike_is_said_once_and_names_both():
    def of(where, case, number):
        return Finding("high", "fix", where, case, "{value} across", Quantity(number, "pressure_difference"), cure="a regulator")

    alike = [of(bank, case, number) for bank in ("left bank", "right bank") for case, number in (("idle", 8e5), ("hot", 7e5))]
    (line,) = [one.text(cases=cases) for one, cases in merged(alike)]
    assert line == "FIX: left bank, right bank, idle (worst) / hot: 116 psi across. Cure: a regulator."  # 8e5 Pa / 6894.757
    assert len(merged([of("left bank", "idle", 8e5), of("right bank", "idle", 7e5)])) == 2  # not the same number
    assert len(merged([of("left bank", "idle", 8e5), of("right bank", "hot", 8e5)])) == 2  # not the same case


def test_a_finding_shows_value_and_limit_in_one_unit():
    finding = Finding("return rise", "watch", "regulator", "idle", "{value} over {limit}",
                      Quantity(168e3, "pressure_difference"), Quantity(20.7e3, "pressure_difference"))
    assert finding.sentence("metric") == "1.68 bar over 0.207 bar"
    vacuum = Finding("inlet", "fix", "pump", "idle", "{value} beyond {limit}",
                     Quantity(-9e3, "pressure_gauge"), Quantity(-6772.778, "pressure_gauge"))
    assert vacuum.sentence("us") == "2.66 inHg vacuum beyond 2.00 inHg vacuum"


def test_findings_of_ones_own_replace_those_of_the_rules(answer):
    mine = [Finding("mine", "note", "rail", "idle", "looked at")]
    other = answer.with_findings(mine)
    assert other.findings == mine and other["full power"].findings == []
    assert other["idle"].solution is answer["idle"].solution
    assert answer.findings == checks.review(answer)


def test_a_layout_is_no_more_than_a_name_at_the_least():
    solution = example.answer()["idle"].solution
    bare = Answer("just solved", {"idle": solution})
    assert isinstance(bare.layout, Layout) and bare.circuit == "just solved"
    assert "rail pressure [psig]" in str(bare.table())
