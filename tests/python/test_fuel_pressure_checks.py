"""Fuel pressure that is wrong because of how the regulator is put in, or that none is: each said as what it is."""

import pytest

import flarenut as fn

PSI = 6894.757293168361


def car(returning=True, *, start="rail", end="cell", return_size="-6", wide_open="10 psi at 400 L/h", duty=0.03):
    circuit = fn.Circuit("test bench (invented)", fluid="E85")
    circuit.tank("cell", level="8 in")
    circuit.run("feed", "cell", "rail", [fn.formula_pump("95 psi", "150 gph", through="60 psi at 85 gph", name="pump"),
                                         fn.hose("-8", "11 ft", spec="ptfe")])
    if returning:
        circuit.run("return", start, end, [fn.bypass_regulator("43.5 psi", reference="ambient", wide_open=wide_open, name="regulator"),
                                           fn.hose(return_size, "12 ft", spec="ptfe")])
    circuit.injectors("bank", "rail", count=6, flow="1000 cc/min at 3 bar", duty=duty, to="ambient")
    return circuit.solve()["as written"]


def codes(case):
    return [finding.code for finding in case.findings]


def test_a_regulator_put_in_backwards_is_said_to_be_so_and_no_larger_pump_is_advised():
    case = car(start="cell", end="rail")
    (found,) = [finding for finding in case.findings if finding.code == "regulator backwards"]
    assert found.severity == "stop" and case.findings[0].severity == "stop"
    assert "in backwards" in found.text() and "return rise" not in codes(case)
    assert not any("larger pump" in finding.cure for finding in case.findings)
    supply, back = case.solution.ends("regulator")
    assert found.numbers["over"].si == pytest.approx(back.total - supply.total)


def test_no_regulator_at_all_is_heard_of():
    case = car(returning=False)
    (found,) = [finding for finding in case.findings if finding.code == "injector pressure"]
    rail, manifold = case.solution.ends("bank")
    assert found.value.si == pytest.approx(rail.total - manifold.total)
    assert found.limit.si == pytest.approx(2 * 3e5)


def test_a_sound_return_system_draws_none_of_them():
    case = car()
    assert case.solution.regime_of("regulator") == "regulating"
    assert not {"regulator backwards", "regulator creep", "injector pressure"} & set(codes(case))


def test_creep_is_told_as_the_regulators_own_doing():
    case = car(wide_open="34 psi at 340 L/h", return_size="-8")
    over = case.solution.pressure_of("rail") - case.ambient.si - 43.5 * PSI
    assert case.solution.regime_of("regulator") == "regulating" and over > 4 * PSI
    (found,) = [finding for finding in case.findings if finding.code == "regulator creep"]
    assert found.value.si == pytest.approx(over, rel=1e-6)
    assert "larger seat" in found.cure
