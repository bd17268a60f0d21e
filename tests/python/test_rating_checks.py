"""What hose and tube are made for is held at its own number: pressure, heat, cold, vacuum, bends, lengths.

Circuits are invented; the numbers are those of the tables in the catalogue (SAE J30 and others) and of the rules as the guide to findings tells them.
"""

import pytest
from test_rating_findings import HOSE_8, TUBE, WRONG, drawn, found, ptfe, steady

import flarenut as fn

PSI, INCH = 6894.757293168361, 0.0254
EDGE = 1e-4


def one(circuit, code):
    mine = [finding for finding in found(circuit) if finding.code == code]
    assert len(mine) <= 1, mine
    return mine[0] if mine else None


PRESSURES = {  # line, liquid and heat, code, what it bears [psi] by its table
    "SAE J30 R7 of 8 mm": (lambda: fn.hose(bore="8 mm", length="4 ft", standard="SAE 30R7"), {}, "over working pressure", 50.0),
    "SAE J30 R7 of 1/2 in": (lambda: fn.hose("-8", "4 ft", spec="push-on", standard="30R7"), {}, "over working pressure", 35.0),
    "SAE J30 R9": (lambda: fn.hose(bore="8 mm", length="4 ft", standard="SAE 30R9"), {"fluid": "diesel"}, "over working pressure", 100.0),
    "SAE 100R6 of 1/2 in": (lambda: fn.hose(*HOSE_8, spec="SAE 100R6", standard="SAE 100R6"), {"fluid": "ISO VG 46"}, "over working pressure", 400.0),
    "by its maker": (lambda: ptfe(maker_pressure="200 psi"), {"fluid": "ISO VG 46"}, "over working pressure", 200.0),
}


@pytest.mark.parametrize("name", PRESSURES)
def test_pressure_is_held_against_what_a_line_bears(name):
    line, words, code, psi = PRESSURES[name]
    bears = one(steady(line(), f"{4.0 * psi!r} psi", **words), code).limit.si / PSI
    assert bears == pytest.approx(psi, rel=0.015)  # the tables keep megapascals, rounded
    at = {times: one(steady(line(), f"{times * bears!r} psi", **words), code) for times in (1.0 - EDGE, 1.0 + EDGE, 1.5 * (1.0 - EDGE), 1.5 * (1.0 + EDGE), 3.0)}
    assert at[1.0 - EDGE] is None and at[1.0 + EDGE].severity == "fix"
    assert at[1.5 * (1.0 - EDGE)].severity == "fix" and at[1.5 * (1.0 + EDGE)].severity == "stop"
    for times in (1.0 + EDGE, 3.0):
        assert at[times].value.si == pytest.approx(times * bears * PSI, rel=1e-4) and at[times].hurt == pytest.approx(at[times].value.si / at[times].limit.si - 1.0)
        assert at[times].numbers["over"].si == pytest.approx(at[times].hurt) and " bears at " not in at[times].text()  # it is cold


def test_clamps_hold_what_their_standard_says_however_much_the_hose_bears():
    def clamped(psi):
        return steady(fn.hose(*HOSE_8, spec="SAE 100R6", standard="SAE 100R6", clamped=True), f"{psi!r} psi", "SAE 10W-40")

    holds = one(clamped(300.0), "clamps over pressure").limit.si / PSI
    at = {times: one(clamped(times * holds), "clamps over pressure") for times in (1.0 - EDGE, 1.0 + EDGE, 1.5 * (1.0 - EDGE), 1.5 * (1.0 + EDGE), 2.0)}
    assert [None if finding is None else finding.severity for finding in at.values()] == [None, "fix", "fix", "stop", "stop"]
    assert at[2.0].hurt == pytest.approx(1.0, abs=1e-4) and at[2.0].numbers["over"].si == pytest.approx(1.0, abs=1e-4)


def test_heat_is_held_against_what_a_hose_is_made_for():
    """SAE 100R5 to 100 C (212 F): fifteen degrees more are a stop; ten degrees count as once beyond it."""
    def hot(celsius):
        return one(steady(fn.hose(*HOSE_8, spec="SAE 100R5", standard="SAE 100R5"), "40 psi", "SAE 10W-40", f"{celsius!r} C"), "line too hot")

    at = {celsius: hot(celsius) for celsius in (99.99, 100.01, 110.0, 114.99, 115.01)}
    assert [None if finding is None else finding.severity for finding in at.values()] == [None, "fix", "fix", "fix", "stop"]
    assert at[110.0].hurt == pytest.approx(1.0) and at[110.0].limit.to("C") == pytest.approx(100.0) and at[110.0].numbers["beyond"].si == pytest.approx(10.0)


def test_cold_is_held_against_what_a_hose_is_made_for():
    def cold(celsius):
        return one(steady(fn.hose(bore="8 mm", length="4 ft", standard="J51", maker_pressure="400 psi"), "40 psi", "diesel No. 1", f"{celsius!r} C"), "line too cold")

    least = cold(-38.0).limit.to("C")
    assert cold(least + 0.01) is None and cold(least - 0.01).severity == "fix"
    assert cold(least - 5.0).hurt == pytest.approx(0.5) and cold(least - 5.0).numbers["beyond"].si == pytest.approx(5.0)


def test_pressure_and_heat_are_told_together_from_a_tenth_and_ten_degrees_off():
    def both(psi, celsius):
        return one(steady(fn.hose("-12", "4 ft", spec="MIL-H-8794", standard="MIL-H-8794"), f"{psi!r} psi", "ISO VG 46", f"{celsius!r} C"),
                   "pressure and heat together")

    first = both(1400.0, 115.0)
    bears, top = first.limit.si / PSI, first.numbers["top"].to("C")
    assert both(0.9 * bears * (1.0 - EDGE), top - 1.0) is None and both(0.9 * bears * (1.0 + EDGE), top - 1.0).severity == "fix"
    assert both(0.95 * bears, top - 10.01) is None and both(0.95 * bears, top - 9.99) is not None
    assert both(bears * (1.0 + EDGE), top - 1.0) is None and both(0.95 * bears, top + 0.01) is None  # told of by itself
    assert both(0.95 * bears, top - 1.0).hurt == pytest.approx(0.95, rel=1e-4)


def test_hot_tube_of_unknown_strength_is_watched_from_half_of_what_it_bears_cold():
    def tube(psi, celsius=110.0):
        return one(steady(fn.tube(*TUBE, material="5052-O"), f"{psi!r} psi", "SAE 10W-40", f"{celsius!r} C"), "heat not counted")

    first = tube(900.0)
    cold, from_heat = first.numbers["cold"].si / PSI, first.limit.to("C")
    assert tube(0.5 * cold * (1.0 - EDGE)).severity == "note" and tube(0.5 * cold * (1.0 + EDGE)).severity == "watch"
    assert tube(0.25 * cold).hurt == pytest.approx(0.25, rel=1e-3)
    assert tube(60.0, from_heat - 0.01) is None and tube(60.0, from_heat + 0.01).severity == "note"


def test_soft_hose_before_a_pump_may_be_eighteen_inches_long():
    def soft(inches=36.0, level=-1.2):
        return one(drawn(fn.hose("-6", f"{inches!r} in", spec="push-on", standard="30R7"), level=f"{level!r} m"), "hose may collapse")

    assert soft(17.99) is None and soft(18.01).severity == "fix"
    deep = soft()
    assert deep.limit.si == pytest.approx(18 * INCH) and deep.value.si == pytest.approx(36 * INCH)
    assert deep.hurt == pytest.approx(-deep.numbers["vacuum"].si / 3386.389 / 10.0, rel=1e-3)  # inches of mercury, a tenth of each
    per_metre = -(soft(level=-1.2).numbers["vacuum"].si - soft(level=-1.0).numbers["vacuum"].si) / 0.2
    level = -1.0 + (-soft(level=-1.0).numbers["vacuum"].si - 3386.389) / per_metre
    assert soft(level=level + 0.01) is None and soft(level=level - 0.01) is not None


def test_suction_hose_is_held_against_the_vacuum_it_is_rated_for():
    def sucked(level):
        return one(drawn(fn.hose("-12", "3 ft", spec="SAE 100R4", standard="SAE 100R4"), "ISO VG 46", f"{level!r} m"), "hose collapses")

    deep = sucked(-10.0)
    assert deep.hurt == pytest.approx(deep.value.si / deep.limit.si - 1.0) and deep.hurt > 0.0 and deep.severity == "stop"
    per_metre = (sucked(-10.0).value.si - sucked(-10.5).value.si) / 0.5
    level = -10.0 + (deep.limit.si - deep.value.si) / per_metre
    assert sucked(level + 0.02) is None and sucked(level - 0.02).hurt == pytest.approx(0.0, abs=5e-3)


@pytest.mark.parametrize("line, kind", [(ptfe, "hose"), (lambda **bend: fn.tube(*TUBE, material="steel", **bend), "tube")])
def test_a_bend_is_held_against_its_least_radius(line, kind):
    def bent(metre):
        return one(steady(line(bends=[90], bend_radius=f"{metre!r} m")), "bent too tight")

    least = bent(0.02).limit.si
    assert bent(least * 0.9995) is None  # a thousandth is rounding
    near = bent(least * 0.998)
    assert near.severity == ("fix" if kind == "hose" else "watch") and near.numbers["under"].si == pytest.approx(0.002) and near.hurt == pytest.approx(1 / 0.998 - 1.0)
    if kind == "hose":
        assert bent(least * 0.501).severity == "fix" and bent(least * 0.499).severity == "stop" and bent(least * 0.5).hurt == pytest.approx(1.0)
        assert near.numbers["sold"].si < least  # hose is sold by the inside of its bend


def test_a_hose_that_turns_has_to_be_long_enough_for_it():
    """Two right angles are half a circle: length over pi is the radius at most."""
    def turned(inches, **more):
        return one(steady(ptfe(length=f"{inches!r} in", bends=[90, 90], **more)), "too short to bend")

    first = turned(12.0)
    least = first.limit.si / INCH
    assert first.value.si == pytest.approx(12.0 * INCH / 3.14159265)
    assert turned(least * 3.14159265 * 0.9995) is None and turned(least * 3.14159265 * 0.998).severity == "watch"
    assert turned(least * 3.14159265 * 0.501).severity == "watch" and turned(least * 3.14159265 * 0.499).severity == "stop"
    assert turned(least * 3.14159265 * 0.5).hurt == pytest.approx(1.0, rel=1e-4)


def test_brake_hose_to_a_wheel_is_two_feet_long_at_most():
    def flexible(inches):
        return one(steady(fn.hose(bore="3.2 mm", length=f"{inches!r} in", standard="FMVSS 106"), "60 psi", "DOT 4"), "brake line")

    assert flexible(23.99) is None and flexible(24.01).severity == "fix"
    assert flexible(36.0).hurt == pytest.approx(0.5) and flexible(36.0).limit.si == pytest.approx(24 * INCH)


def over(one):
    return one.value.si / one.limit.si - 1.0


def under(one):
    return one.limit.si / one.value.si - 1.0


RANKS = {  # how far beyond its limit each of these says it is
    "over working pressure": over, "clamps over pressure": over, "hose collapses": over, "dead head over pressure": over,
    "line too hot": lambda one: (one.value.si - one.limit.si) / 10.0, "line too cold": lambda one: (one.limit.si - one.value.si) / 10.0,
    "bent too tight": under, "too short to bend": under, "pressure and heat together": lambda one: one.value.si / one.limit.si,
    "two kinds of hose": lambda one: abs(over(one)), "steering hose": under, "clutch line": under,
}
# Of what has no number: an open danger counts as once beyond a limit, what may be as half of that, what is for the maker to say as a tenth.
UNMEASURED = {"hose in tank": {"stop": 1.0}, "oil cooler hose": {"watch": 0.5}, "relief behind the line": {"watch": 0.5}, "liquid and line": {"stop": 1.0, "watch": 0.1},
              "fuel through the wall": {"note": 0.0}, "rating unknown": {"note": 0.0}}


@pytest.mark.parametrize("name", WRONG)
def test_a_finding_ranks_by_how_far_it_is_beyond_its_limit(name):
    circuit, code, severity, _ = WRONG[name]
    finding = one(circuit, code)
    if code in UNMEASURED:
        assert finding.hurt == UNMEASURED[code][severity]
    elif code == "brake line":
        assert finding.hurt == pytest.approx(1.0 if finding.limit is None else over(finding) if finding.limit.kind == "length" else under(finding))
    elif code not in ("hose may collapse", "heat not counted"):  # above
        assert finding.hurt == pytest.approx(RANKS[code](finding))
    assert finding.numbers is not None and all(number.si >= 0.0 or number.kind == "pressure_gauge" for number in finding.numbers.values())
