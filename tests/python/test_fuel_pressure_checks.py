"""Fuel pressure that is wrong because of how the regulator is put in, or that none is: each said as what it is."""

import pytest

import flarenut as fn
from flarenut import checks

PSI = 6894.757293168361


def car(returning=True, *, start="rail", end="cell", return_size="-6", wide_open="10 psi at 400 L/h", duty=0.03, volts="13.5 V", **words):
    circuit = fn.Circuit("test bench (invented)", fluid="E85")
    circuit.tank("cell", level="8 in")
    circuit.run("feed", "cell", "rail", [fn.formula_pump("95 psi", "150 gph", through="60 psi at 85 gph", volts=volts, name="pump"),
                                         fn.hose("-8", "11 ft", spec="ptfe")])
    if returning:
        circuit.run("return", start, end, [fn.bypass_regulator("43.5 psi", reference="ambient", wide_open=wide_open, name="regulator", **words),
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


@pytest.mark.parametrize(("code", "words"), [
    ("regulator creep", {"wide_open": "34 psi at 340 L/h", "return_size": "-8"}),
    ("regulator starved", {"duty": 1.0, "volts": "8 V"}),
    ("regulator wide open", {"wide_open": "40 psi at 200 L/h", "set_flow": "100 L/h"})])
def test_findings_name_the_pressure_and_the_flow_that_were_written(code, words):
    """43.5 psi at 200 L/h; where it just opens is lower and said to be that."""
    case = car(**{"set_flow": "200 L/h", **words})
    (found,) = [finding for finding in case.findings if finding.code == code]
    assert found.numbers["setting"].to("psi") == pytest.approx(43.5)
    assert found.numbers["set_flow"].to("L/h") == pytest.approx(100 if code == "regulator wide open" else 200)
    opens = case.number("regulator.set_pressure")
    assert opens < 43.4 * PSI and found.numbers["turns_at"].si == pytest.approx(opens)
    held = case.solution.pressure_of("rail") - case.ambient.si
    assert "43.5 psi" in found.text() and ("just opens" in found.text()) == (code != "regulator wide open")
    over = held - (43.5 * PSI if code == "regulator wide open" else opens)
    assert found.value.si == pytest.approx(-over if code == "regulator starved" else over, rel=1e-6)


def test_with_a_seat_share_it_opens_by_as_much_lower_as_the_return_pushes():
    """Force balance at the seat: (1 - s) p_supply + s p_return = p_reference + (1 - s) set."""
    case = car(seat_share="10 %", wide_open="34 psi at 340 L/h")
    (found,) = [finding for finding in case.findings if finding.code == "regulator creep"]
    pushed = case.solution.ends("regulator")[1].total - case.ambient.si
    assert pushed > 0.0
    assert found.numbers["setting"].to("psi") == pytest.approx(43.5)
    assert found.numbers["turns_at"].si == pytest.approx(43.5 * PSI - pushed * 0.1 / 0.9, rel=1e-9)


def bowl(drawn, seat_share=0):
    circuit = fn.Circuit("carburettor (invented)", fluid="gasoline class A")
    circuit.tank("main", level="10 in")
    circuit.junction("bowl", demand=drawn)
    circuit.run("feed", "main", "bowl", [
        fn.formula_pump("8 psi", "45 gph", through="6 psi at 20 gph", name="pump"),
        fn.reducing_regulator("5.5 psi", wide_open="1 psi at 40 gph", seat_share=seat_share, name="regulator")])
    return circuit.solve()["as written"]


def test_a_reducing_regulator_that_flows_is_not_said_to_be_shut():
    case = bowl("0.4 gph")
    (found,) = [finding for finding in case.findings if finding.code.startswith("regulator")]
    assert found.code == "regulator all but closed" and found.severity == "note" and "nothing is drawn" not in found.text()
    assert found.numbers["flow"].to("gal/h") == pytest.approx(0.4, rel=0.02)  # by volume at 15 C
    assert found.numbers["held"].to("psi") == pytest.approx(5.5, rel=0.01)
    assert found.numbers["before"].to("psi") == pytest.approx((case.solution.ends("regulator")[0].total - case.ambient.si) / PSI)


def test_a_reducing_regulator_that_passes_nothing_is_shut():
    case = bowl("0 gph")
    (found,) = [finding for finding in case.findings if finding.code.startswith("regulator")]
    assert found.code == "regulator shut" and "nothing is drawn" in found.text()


def test_the_push_of_the_supply_raises_lock_up():
    """Force balance at the needle: p_out = p_reference + set + s (p_supply - p_out)."""
    case = bowl("0 gph", seat_share="10 %")
    held, supply = (case.solution.ends("regulator")[port].total - case.ambient.si for port in (1, 0))
    assert checks.written.setting_of(case, "regulator").turns_at == pytest.approx((5.5 * PSI + 0.1 * supply) / 1.1, rel=1e-9)
    assert held >= (5.5 * PSI + 0.1 * supply) / 1.1 * 0.999


def tapped(height, **words):
    """A regulator beside the tank whose sensing line, full of 740 kg/m3, leads to a tap so many metres above it."""
    circuit = fn.Circuit("tall (invented)", fluid=fn.constant_fluid("740 kg/m3", "0.5 cP", name="gasoline-like liquid"))
    circuit.tank("cell", level="0 m")
    circuit.junction("rail", height="0 m")
    circuit.junction("tap", height=f"{height} m")
    circuit.run("feed", "cell", "rail", [fn.formula_pump("95 psi", "150 gph", through="60 psi at 85 gph", name="pump")])
    circuit.run("gauge line", "rail", "tap", [fn.hose(bore="6 mm", length="3 m")])
    circuit.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient", senses="tap", name="regulator", **words)])
    circuit.run("draw", "rail", "ambient", [fn.orifice("0.5 mm", name="spill")])
    return circuit


@pytest.mark.parametrize("height", [0.0, 2.0, -1.5])
def test_what_a_regulator_feels_is_the_pressure_at_its_own_height(height):
    """The column in the sensing line, rho g h = 740 x 9.80665 x 2 = 14.5 kPa, is back at the valve: nothing flows in the line."""
    creeping = tapped(height, wide_open="40 psi at 340 L/h").solve()["as written"]
    (found,) = [one for one in creeping.findings if one.code == "regulator creep"]
    rail = creeping.solution.pressure_of("rail") - creeping.ambient.si
    assert found.value.si == pytest.approx(rail - 43.5 * PSI, rel=1e-6)
    assert creeping.solution.pressure_of("tap") - creeping.ambient.si == pytest.approx(rail - 740 * 9.80665 * height, rel=1e-6)


def test_a_starved_regulator_is_short_by_what_lacks_at_the_valve():
    circuit = tapped(2.0)
    circuit.change("spill", bore="3.4 mm")
    case = circuit.solve()["as written"]
    (found,) = [one for one in case.findings if one.code == "regulator starved"]
    lacking = 43.5 * PSI - (case.solution.pressure_of("rail") - case.ambient.si)
    assert lacking > 0.0 and found.value.si == pytest.approx(lacking, rel=1e-6)


def test_the_return_pushes_at_a_seat_from_the_height_of_the_valve():
    """A regulator of 1 m from inlet to outlet: at its seat the return stands rho g h over what it has at the outlet."""
    circuit = tapped(0.0, seat_share="10 %", wide_open="40 psi at 340 L/h", rise="1 m")
    circuit.junctions["cell"].position = (0.0, 0.0, 1.0)
    case = circuit.solve()["as written"]
    (found,) = [one for one in case.findings if one.code == "regulator creep"]
    at_seat = case.solution.ends("regulator")[1].total - case.ambient.si + 740 * 9.80665
    assert found.numbers["turns_at"].si == pytest.approx(43.5 * PSI - at_seat * 0.1 / 0.9, rel=1e-9)
