"""What a line pays at a tank although nobody wrote it: the turn into it, and the velocity head it loses there.

Loss coefficients: Crane Technical Paper 410, pipe entrance 0.78 (standing in) and 0.5 (flush), exit 1.0; memory for the page.
"""

from math import pi

import pytest

import flarenut as fn

DENSITY = 800.0
FLOW = "300 L/h"
VELOCITY = 300e-3 / 3600 / (pi / 4 * 8e-3**2)
HEAD = 0.5 * DENSITY * VELOCITY**2
WATERY = {"density": "800 kg/m3", "viscosity": "0.01 cP"}  # so thin that viscous shares do not show


def line(*, pieces, start="supply", end="cell", supply="20 psi"):
    circuit = fn.Circuit("line (invented)", fluid=fn.constant_fluid(**WATERY))
    circuit.tank("cell")
    circuit.fixed("supply", pressure=supply)
    circuit.run("line", start, end, pieces)
    return circuit


def hose(**words):
    return fn.hose(bore="8 mm", length="1 m", name="hose", **words)


def test_a_line_into_a_tank_loses_its_velocity_head_and_reads_the_tank_there():
    case = line(pieces=[hose()]).solve()["as written"]
    moving = case.part("hose").outlet.velocity.si
    assert case.part("line into cell").drop.si == pytest.approx(0.5 * DENSITY * moving**2, rel=1e-3)
    assert case.part("hose").outlet.gauge.si == pytest.approx(0.0, abs=0.005 * DENSITY * moving**2)  # submerged: as the tank


def test_drawing_from_a_tank_costs_the_turn_into_the_line():
    circuit = fn.Circuit("suction (invented)", fluid=fn.constant_fluid(**WATERY))
    circuit.tank("cell")
    circuit.junction("end", demand=FLOW)
    circuit.run("suction", "cell", "end", [hose()])
    case = circuit.solve()["as written"]
    assert case.part("hose").inlet.velocity.si == pytest.approx(VELOCITY, rel=1e-9)
    assert case.part("suction out of cell").drop.si == pytest.approx(0.78 * HEAD, rel=2e-3)


def test_a_mouth_that_is_written_is_not_put_in_again():
    written = line(pieces=[hose(), fn.opening("8 mm")]).solve()["as written"]
    assert "line into cell" not in written.part_names
    implied = line(pieces=[hose()]).solve()["as written"]
    assert implied.part("hose").flow.si == pytest.approx(written.part("hose").flow.si, rel=1e-9)


@pytest.mark.parametrize("last", [lambda: fn.reducer("8 mm", "6 mm"), lambda: fn.elbow(bore="6 mm")])
def test_the_bore_that_counts_is_the_last_one(last):
    case = line(pieces=[hose(), last()]).solve()["as written"]
    assert case.solution.number("line into cell.bore") == pytest.approx(6e-3)


def test_devices_and_places_of_given_pressure_get_none():
    circuit = line(pieces=[hose(), fn.orifice("2 mm")])
    assert [name for name in circuit.solve()["as written"].part_names if "into" in name or "out of" in name] == []


def test_a_jet_into_open_air_stands_at_ambient_pressure():
    case = line(pieces=[hose()], end="ambient").solve()["as written"]
    assert case.part("hose").outlet.gauge.si == pytest.approx(0.0, abs=0.005 * DENSITY * case.part("hose").outlet.velocity.si ** 2)


def test_a_mouth_follows_the_bore_of_its_line_through_changes_and_cases():
    circuit = line(pieces=[hose()])
    circuit.case("wide", **{"hose.bore": "12 mm"})
    plan = circuit.plan
    wide = circuit.solve()["wide"]
    assert wide.solution.number("line into cell.bore") == pytest.approx(12e-3)
    circuit.change("hose", bore="10 mm")
    assert circuit.plan is plan
    circuit.case("as now")
    assert circuit.solve()["as now"].solution.number("line into cell.bore") == pytest.approx(10e-3)
