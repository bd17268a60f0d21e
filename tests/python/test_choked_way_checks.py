"""The part that takes most of what is lost before a pump or behind a regulator is named as the cure, after it was tried. All circuits are invented."""

import flarenut as fn
import pytest
from flarenut import checks


def found(case, code):
    return [one for one in checks.case_findings(case) if one.code == code]


def swap(*choke, bore="11 mm", before=()):
    """A return system whose rail stands higher than its tank, so that height helps the return; `choke` is what its return has too much of."""
    car = fn.Circuit("swap (invented)", fluid="gasoline", units="us", invented=True)
    car.tank("cell", level="10 in")
    car.junction("rail", height="22 in")
    car.run("feed", "cell", "rail", [*before, fn.formula_pump("100 psi", "120 gph", through="43 psi at 80 gph", name="pump"),
                                     fn.hose(bore="8 mm", length="13 ft", name="feed hose")])
    car.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="manifold", wide_open="30 psi at 400 L/h", name="regulator"), *choke,
                                       fn.hose(bore=bore, length="14 ft", name="return hose")])
    car.injectors("bank", at="rail", count=8, flow="36 lb/h at 43.5 psi")
    car.case("idle", volts="14 V", duty="3 %", manifold="18 inHg vacuum")
    return car.solve()["idle"]


CHOKES = {
    "a jet": (fn.orifice("1.2 mm", name="choke"), "take choke out, or give it a larger bore", "without it"),
    "a short tube": (fn.orifice("1.2 mm", length="5 mm", name="choke"), "take choke out, or give it a larger bore", "without it"),
    "a filter": (fn.filter("30 psi at 60 gph", name="choke"), "clean or change choke, or fit a larger one", "without it"),
    "a cock": (fn.valve(cv=3, opening="3 %", name="choke"), "open choke", "with it wide open"),
    "a small cock": (fn.valve(cv=0.1, name="choke"), "a larger cock in place of choke, or none", "without it"),
    "a check valve": (fn.check_valve("30 psi", bore="8 mm", name="choke"), "a check valve of larger seat and lighter spring in place of choke", "without it"),
    "a cooler": (fn.core("30 psi at 60 gph", name="choke"), "a part that passes more in place of choke", "without it"),
    "one drop": (fn.resistance("30 psi at 60 gph", name="choke"), "a part that passes more in place of choke", "without it"),
    "a bench test": (fn.measured_part([["20 gph", "4 psi"], ["100 gph", "90 psi"]], name="choke"), "a part that passes more in place of choke", "without it"),
}


def back_pressure(case):
    return case.reading(case.ends("regulator")[1].junction).against(case.at("cell"))


@pytest.mark.parametrize("what", CHOKES)
def test_what_chokes_a_return_is_named_and_is_the_cure_of_all_that_it_brings_about(what):
    choke, cure, how = CHOKES[what]
    case, free = swap(choke), swap()
    (rise,) = found(case, "return rise")
    assert rise.cure == cure and f"; choke takes {{share}} of what is lost on the way: {how} {{freed}}" in rise.what
    # The number is that of the circuit without it: on the scale of what was there, and of what the gauge beside a wide hose shows.
    assert rise.numbers["freed"].si == pytest.approx(back_pressure(free).si, abs=0.01 * back_pressure(case).si + 700)
    assert back_pressure(free).si < 0.1 * rise.value.si and rise.numbers["share"].si > 0.9
    for one in [*found(case, "regulator wide open"), *found(case, "injector pressure")]:
        assert one.cure == cure and "choke" in one.what
    assert "nearer to the height" not in " ".join(one.cure for one in case.findings)


def test_a_return_of_far_too_narrow_a_line_is_told_to_be_wider():
    """Half again as wide hardly moves it, and height helps the return: neither is it brought nearer to the tank, nor is a wider line no help."""
    (rise,) = found(swap(bore="1 mm"), "return rise")
    twice = back_pressure(swap(bore="2 mm"))
    assert rise.cure == "a wider or shorter return hose" and "return hose takes {share} of what is lost on the way: twice as wide in bore, it is {freed}" in rise.what
    assert rise.numbers["freed"].si == pytest.approx(twice.si, rel=0.01)


def test_of_two_that_share_none_is_named_and_height_that_helps_is_not_blamed():
    pair = [fn.filter("20 psi at 60 gph", name=name) for name in ("one", "two")]
    (rise,) = found(swap(*pair), "return rise")
    assert "takes" not in rise.what and rise.cure.startswith("fewer parts that resist in the return, or less flow; no wider line helps")


BEFORE = {
    "a sock": (fn.strainer("0.3 psi at 100 gph", loading=20, name="choke"), "clean or change choke, or fit a larger one"),
    "a cock": (fn.valve(cv=3, opening="15 %", name="choke"), "open choke"),
    "a foot valve": (fn.check_valve("1.5 psi", bore="8 mm", name="choke"), "a check valve of larger seat and lighter spring in place of choke"),
}


@pytest.mark.parametrize("what", BEFORE)
def test_what_chokes_a_pump_s_inlet_is_named_and_no_line_where_there_is_none(what):
    choke, cure = BEFORE[what]
    case, free = swap(before=[choke]), swap(before=[fn.valve(cv=3, name="wide open")] if what == "a cock" else [])
    (vacuum,) = found(case, "inlet vacuum")
    assert vacuum.cure == cure and "choke takes {share} of what is lost on the way" in vacuum.what
    assert vacuum.numbers["freed"].si == pytest.approx(free.suction("pump").inlet.si, abs=300)


def test_a_part_whose_loss_is_most_but_not_all_is_told_with_what_else_helps():
    case = swap(before=[fn.valve(cv=3, opening="12 %", name="choke"), fn.hose(bore="8 mm", length="4 ft", name="tail")])
    (vacuum,) = found(case, "inlet vacuum")
    assert vacuum.value.si < vacuum.numbers["freed"].si < vacuum.limit.si
    assert vacuum.cure.startswith("open choke; then raise the tank level") and "widen or shorten the line" in vacuum.cure


def test_a_pump_without_a_line_before_it_is_not_told_to_widen_one():
    from flarenut.checks.suction import _cures

    assert "line" not in _cures(swap(), "pump") and "widen" in _cures(swap(before=[fn.hose(bore="8 mm", length="1 ft", name="short")]), "pump")
