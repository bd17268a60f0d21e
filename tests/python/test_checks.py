"""Checks on devices, what is assumed, limits and cautions: a rule speaks where its limit is passed and keeps quiet where it is not.

The limits themselves are common practice, no source.
"""

from types import SimpleNamespace

import flarenut as fn
import pytest
import results_example as example
from flarenut import checks
from flarenut.results import Finding, Layout
from flarenut.units import KINDS, UnitError
from checks_example import IDLE, finding, one_case, pump, still

AMBIENT, PSI = 101325.0, 6894.757293168


def test_a_sound_circuit_has_nothing_to_look_at():
    case = one_case(return_bore=0.0095)
    assert [one.text() for one in case.findings] == []


# ---- devices ----

def test_a_regulator_with_nothing_to_spill_starves_the_engine():
    case = one_case({"injectors.duty": 1.0, "fuel pump.volts": 11.0, "manifold.gauge": 150e3, "injectors.count": 12.0})
    assert case.solution.regime_of("regulator") == "shut"
    found = finding(case, "regulator starved")
    held = case.solution.pressure_of("rail") - case.solution.pressure_of("manifold")
    assert found.severity == "stop" and found.value.si == pytest.approx(43.5 * PSI - held, rel=1e-9)
    assert "nothing is left to spill" in found.text() and "setting of 43.5 psi" in found.text()


def test_a_regulator_wide_open_lets_the_pressure_climb():
    case = one_case({"regulator.full_area": 3e-6}, return_bore=0.0055)
    assert case.solution.regime_of("regulator") == "wide open"
    found = finding(case, "regulator wide open")
    held = case.solution.pressure_of("rail") - case.solution.pressure_of("manifold")
    assert found.severity == "fix" and found.value.si == pytest.approx(held - 43.5 * PSI, rel=1e-9)
    rise = finding(case, "return rise")
    assert rise.severity == "fix" and "all of it adds" in rise.text()
    unknown = one_case({"regulator.full_area": 3e-6}, {"senses": {}})
    assert finding(unknown, "regulator at a stop").severity == "fix"


def remark(code, subject, value=0.0, limit=0.0):
    return SimpleNamespace(code=code, subject=subject, value=value, limit=limit)


def reported(remarks, kind="electric pump", family="fuel"):
    """Findings of the device rule for remarks put on, for what this circuit does not do by itself."""
    case = SimpleNamespace(name="idle", solution=SimpleNamespace(remarks=remarks), layout=Layout("x", family=family), regulators=[],
                           parts_of_kind=lambda *kinds: [], kind_of=lambda part: kind, liquid_in=lambda part: {"temperature": 370.0})
    return list(checks.devices.remarks(case, checks.Limits()))


REMARKS = [
    ("dead-headed pump", "electric pump", "fuel", "stop"), ("pump beyond the end of its curve", "electric pump", "fuel", "fix"),
    ("reversed flow", "injector bank", "fuel", "fix"), ("bypass open", "filter with bypass", "oil", "fix"),
    ("beyond measured data", "electric pump", "fuel", "watch"), ("pump curve with a hump", "electric pump", "fuel", "note"),
    ("heat beyond measured data", "measured table", "oil", "watch"),
    ("relief open", "electric pump", "fuel", "fix"), ("relief open", "relief valve", "fuel", "fix"),
    ("relief open", "relief valve", "oil", "watch"), ("valve wide open", "relief valve", "fuel", "fix"),
    ("something new", "line", "fuel", "note"),
]


@pytest.mark.parametrize(("code", "kind", "family", "severity"), REMARKS)
def test_each_remark_of_the_engine_is_passed_on(code, kind, family, severity):
    (found,) = reported([remark(code, "part")], kind, family)
    assert found.severity == severity and found.where == "part" and found.text().startswith(severity.upper())


@pytest.mark.parametrize(("code", "kind"), [("valve shut", "check valve"), ("valve shut", "relief valve"),
                                            ("valve wide open", "check valve"), ("below vapour pressure", "line")])
def test_what_is_as_it_should_be_is_left_alone(code, kind):
    assert reported([remark(code, "part")], kind) == []


def test_remarks_of_the_engine_are_those_known_here():
    """Every code the engine can send is spoken of in words of our own, not passed on raw."""
    from pathlib import Path
    import re

    source = Path(__file__).parents[2].joinpath("cpp/flarenut/analysis/readings.cpp").read_text()
    codes = set(re.findall(r'remarks\.push_back\(\{"([^"]+)"', source))
    assert len(codes) >= 10
    for code in codes:
        for kind in ("bypass regulator", "electric pump", "relief valve", "line"):
            case = one_case()
            real, case._kinds = case.solution, dict.fromkeys(case.part_names, kind)
            case.junction_names  # noqa: B018 - kept before the solution is exchanged
            case.solution = SimpleNamespace(converged=True, remarks=[remark(code, "regulator", 1.0, 1.0)], pressure_of=real.pressure_of,
                                            number=real.number, ends=real.ends, liquid_in=real.liquid_in)
            for found in checks.devices.remarks(case, checks.Limits()):
                assert found.what != code, f"{code} of a {kind} is passed on raw"


def test_a_fluid_outside_its_data_is_said_once_per_property():
    car = fn.Circuit("cold", fluid="E85")
    car.tank("tank", level="8 in")
    car.run("line", "tank", "ambient", [fn.hose(bore="8 mm", length="1 m"), fn.hose(bore="8 mm", length="1 m")])
    car.case("mild", fluid_temperature="20 C")
    car.case("arctic", fluid_temperature="-39 C")
    answer = car.solve()
    assert not [one for one in answer["mild"].findings if one.code == "fluid out of range"]
    arctic = [one for one in answer["arctic"].findings if one.code == "fluid out of range"]
    assert arctic and all(one.value.to("C") == pytest.approx(-39) and one.limit.si > one.value.si for one in arctic)
    assert len({one.what for one in arctic}) == len(arctic)


# ---- what is assumed, what moves nothing ----

def test_presets_that_nobody_spoke_against_are_listed_in_one_line():
    car = still("presets (invented)")
    car.tank("cell", level="8 in")
    car.run("feed", "cell", "rail", [pump(), fn.hose(bore="9 mm", length="3 m")])
    car.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient", name="regulator")])
    car.injectors("bank", "rail", count=4, flow="300 cc/min at 3 bar")
    bare = finding(car.solve()["as written"], "assumed")
    assert bare.severity == "note" and bare.where == "pump, regulator, bank, manifold"
    for words in ("pump volts 13.5 V", "regulator wide_open 30 psi at 106 gal/h, band 2 psi", "bank duty 100 %", "common practice, no source"):
        assert words in bare.text()
    car.case("said", volts="12 V", duty="5 %", manifold="0 psi", **{"regulator.band": "3 psi"})
    assert "duty" not in (said := finding(car.solve()["said"], "assumed")).text() and "volts" not in said.text()
    assert said.where == "regulator" and "wide_open" in said.text() and "band" not in said.text()
    car.change("regulator", wide_open="20 psi at 300 L/h")
    assert finding(car.solve()["said"], "assumed") is None


def launched(acceleration, **tank):
    car = still("launch")
    car.tank("cell", level="0 m", **tank)
    car.fixed("end", "-0.1 psi", position=["0 m", "0 m", "0 m"])
    car.run("out", "cell", "end", [fn.hose(bore="8 mm", length="2 m")])
    car.case("launch", acceleration=acceleration)
    return finding(car.solve("launch")["launch"], "acceleration without effect")


def test_an_acceleration_without_places_is_said_to_move_nothing():
    found = launched("0.9 g")
    assert found.severity == "watch" and "0.900 g forward" in found.text() and "position" in found.cure
    assert launched("0 g") is None
    assert launched("0.9 g", position=["-3 m", "0 m", "0 m"]) is None and launched("0.9 g", pickup=["-1 m", "0 m"]) is None
    corner = launched(["0.5 g", "1 g", "0 g"], position=["-3 m", "0 m", "0 m"])
    assert "to the left" in corner.text() and "forward moves" not in corner.text() and "0.5" not in corner.text()


# ---- limits and cautions ----

def test_limits_are_quantities_that_may_be_changed():
    limits = checks.Limits(return_rise_injection="5 psi")
    assert limits.return_rise_injection.to("psi") == pytest.approx(5.0)
    assert limits.source("return_rise_injection") == "set by you"
    assert limits.source("suction_margin") == "common practice, no source"
    assert all(limit.kind in KINDS and str(getattr(limits, name)) in repr(limits) for name, limit in checks.LIMITS.items())
    with pytest.raises(ValueError, match="no limit 'return_rise_injecton': did you mean 'return_rise_injection'?"):
        checks.Limits(return_rise_injecton="5 psi")
    with pytest.raises(UnitError, match="feed_velocity"):
        checks.Limits(feed_velocity="5 psi")


@pytest.mark.parametrize("name", checks.LIMITS)
def test_a_limit_of_nothing_is_refused_and_the_small_one_it_offers_is_not(name):
    limit = checks.LIMITS[name]
    nothing = {"dimensionless": "0", "fraction": "0 %", "velocity": "0 m/s", "temperature": "0 K", "temperature_difference": "0 K"}.get(limit.kind, "0 psi")
    with pytest.raises(UnitError, match=f"limit '{name}' is '{nothing}'") as refused:
        checks.Limits(**{name: nothing})
    offered = refused.value.hint.split("'")[1]
    small = checks.Limits(**{name: offered})
    assert getattr(small, name).si != 0.0
    checks.case_findings(one_case(), small)  # whatever it finds, it can be ranked
    if limit.kind not in ("pressure_gauge", "temperature"):  # which may be below nought in their units
        with pytest.raises(UnitError):
            checks.Limits(**{name: f"-{limit.preset}"})


def test_a_pump_that_wants_pressure_at_its_inlet_is_heard_of_and_the_worse_off_comes_first():
    limits = checks.Limits(inlet_vacuum="2 psi")
    low, lower = (finding(one_case(position=height), "inlet vacuum", limits) for height in (-0.5, 1.0))
    assert low.value.si > lower.value.si and 0.0 < low.hurt < lower.hurt


def test_review_goes_by_the_limits_given_and_the_answer_keeps_them():
    answer = example.answer()
    assert "return rise" in {one.code for one in answer.findings}
    eased = answer.with_findings(checks.review(answer, checks.Limits(return_rise_injection="9 psi")))
    assert "return rise" not in {one.code for one in eased.findings}
    assert "return back-pressure 7" in answer.table().text(width=300) and "above 3.00 psi" not in eased.table().text(width=300)


def test_rules_of_ones_own_can_be_asked():
    def too_hot(case, limits):
        yield Finding("mine", "note", "", case.name, "looked")

    assert [one.code for one in checks.review(example.answer(IDLE), rules=(too_hot,))] == ["mine"]


@pytest.mark.parametrize(("family", "words"), [
    ("fuel", "Fuel burns"), ("oil", "Hot oil burns skin"), ("brake fluid", "Never take this as the sole basis"),
    ("coolant", "Never open a hot cooling system"), ("", "engineering estimate")])
def test_cautions_follow_the_liquid_and_always_defer(family, words):
    said = checks.cautions_for(example.answer(IDLE, {"family": family}))
    assert any(words in line for line in said)
    assert "local codes" in said[-1] and "licensed practice" in said[-1] and "not a certification" in said[-1]


def test_heat_and_pressure_bring_their_own_cautions():
    mild = " ".join(checks.cautions_for(example.answer(IDLE)))
    hot = " ".join(checks.cautions_for(example.answer({"idle": {**IDLE["idle"], "liquid.temperature": 370.0}})))
    pressed = " ".join(checks.cautions_for(example.answer({"idle": {**IDLE["idle"], "tank.vent": 400e3, "regulator.set_pressure": 900e3}})))
    assert "Let it cool" not in mild and "Let it cool" in hot
    assert "pin-hole" not in mild and "pin-hole" in pressed
