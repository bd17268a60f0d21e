"""A known flow that comes in at a junction: set in a case, by `change`, in a sweep and in a file, as the demand of a junction is."""

import pytest

import flarenut as fn
from flarenut.circuit.file import FileError

DENSITY_15 = 999.1  # water at 15 °C [kg/m3], IAPWS tables, from memory
GPH = 3.785411784e-3 / 3600

BENCH = """
[circuit]
name = "flow bench (invented)"
fluid = "water"

[junction.bench]
supply = "10 gph"

[[run]]
name = "line"
from = "bench"
to = "ambient"
parts = [{part = "hose", size = "-6", length = "4 ft", spec = "ptfe"}]

[case.slow]
"bench.supply" = "20 gph"

[case."as it is"]

[case.drawn]
"bench.demand" = "5 gph"
"""


def bench(**words):
    rig = fn.Circuit("flow bench (invented)", fluid="water")
    rig.junction("bench", **(words or {"supply": "10 gph"}))
    rig.run("line", "bench", "ambient", [fn.hose("-6", "4 ft", spec="ptfe", name="hose")])
    return rig


def flow_of(case):
    return case.part(case.layout.runs["line"][0]).mass_flow.si


def test_a_case_sets_the_supply_and_the_others_keep_that_of_the_circuit(tmp_path):
    path = tmp_path / "bench.toml"
    path.write_text(BENCH, encoding="utf-8")
    for rig in (bench(), fn.load(str(path))):
        if not rig.cases:
            rig.case("slow", **{"bench.supply": "20 gph"})
            rig.case("as it is")
            rig.case("drawn", **{"bench.demand": "5 gph"})
        answer = rig.solve()
        found = [flow_of(answer[name]) / (DENSITY_15 * GPH) for name in ("slow", "as it is", "drawn")]
        assert found == pytest.approx([20.0, 10.0, -5.0], rel=1e-4)
        assert flow_of(rig.solve("as it is")["as it is"]) / (DENSITY_15 * GPH) == pytest.approx(10.0, rel=1e-4)  # nothing is left behind


def test_by_mass_and_from_then_on_by_change():
    rig = bench()
    rig.change("bench", supply="50 lb/h")
    assert flow_of(rig.solve()["as written"]) == pytest.approx(50 * 0.45359237 / 3600, rel=1e-9)
    rig.change("bench", demand="5 lb/h")
    assert flow_of(rig.solve()["as written"]) == pytest.approx(-5 * 0.45359237 / 3600, rel=1e-9)


def test_a_swept_supply_takes_the_place_of_the_demand_of_a_case():
    pytest.importorskip("xarray")
    rig = bench()
    rig.case("drawn", **{"bench.demand": "5 gph"})
    answer = fn.sweep(rig, {"bench.supply": ["10 lb/h", "20 lb/h", "0 lb/h"]}, outputs=["hose.mass_flow"])
    assert list(answer["hose.mass_flow"].values.ravel() / (0.45359237 / 3600)) == pytest.approx([10.0, 20.0, 0.0], abs=1e-6)
    with pytest.raises(fn.CircuitError, match="'bench.supply' and 'bench.demand' say the same thing"):
        fn.sweep(rig, {"bench.supply": ["10 gph"], "bench.demand": ["2 gph"]})
    drawn = fn.sweep(rig, {"bench.supply": fn.between("10 lb/h", "20 lb/h")}, samples=80, seed=1, outputs=["hose.mass_flow"])
    assert list(drawn["hose.mass_flow"].values.ravel() / (0.45359237 / 3600)) == pytest.approx(list(drawn["bench.supply"].values), rel=1e-9)


REFUSED = [({"bench.supply": "-3 gph"}, "bench.supply", "below zero: it is what comes in: write it without the sign"),
           ({"bench.supply": "3 gph", "bench.demand": "2 gph"}, "bench.supply", "'supply' is given beside 'demand': liquid either comes in"),
           ({"bench.supply": 3}, "bench.supply", "without a unit"), ({"bench.supply": "3 psi"}, "bench.supply", "psi"),
           ({"bench.suply": "3 gph"}, "bench.suply", "did you mean 'supply'"), ({"ambient.supply": "3 gph"}, "ambient.supply", "pressure")]


@pytest.mark.parametrize("conditions, key, told", REFUSED)
def test_what_is_wrong_names_the_case_and_the_word(conditions, key, told):
    rig = bench()
    with pytest.raises(fn.CircuitError) as refusal:
        rig.case("wrong", **conditions)
        rig.solve("wrong")
    assert refusal.value.key == key and refusal.value.place == "case 'wrong'" and told in str(refusal.value)
    assert flow_of((rig.case("fine"), rig.solve("fine"))[1]["fine"]) == pytest.approx(10 * GPH * DENSITY_15, rel=1e-4)


@pytest.mark.parametrize("line, told", [('"bench.supply" = "-3 gph"', "below zero"), ('"bench.suply" = "3 gph"', "did you mean 'supply'"),
                                        ('"bench.supply" = 3', "without a unit")])
def test_a_file_points_at_the_line(tmp_path, line, told):
    path = tmp_path / "bench.toml"
    path.write_text(BENCH.replace('"bench.supply" = "20 gph"', line), encoding="utf-8")
    with pytest.raises(FileError) as refusal:
        fn.load(str(path))
    assert "bench.toml:16:" in str(refusal.value) and told in str(refusal.value) and "case 'slow'" in str(refusal.value)


def test_a_file_with_both_points_at_one_of_them(tmp_path):
    path = tmp_path / "bench.toml"
    path.write_text(BENCH.replace('"bench.supply" = "20 gph"', '"bench.demand" = "3 gph"\n"bench.supply" = "20 gph"'), encoding="utf-8")
    with pytest.raises(FileError) as refusal:
        fn.load(str(path))
    assert "bench.toml:17:" in str(refusal.value) and "'supply' is given beside 'demand'" in str(refusal.value)


def test_change_refuses_both_and_changes_nothing():
    rig = bench()
    with pytest.raises(fn.CircuitError, match="bench: 'supply' is given beside 'demand'"):
        rig.change("bench", supply="3 gph", demand="2 gph")
    assert flow_of(rig.solve()["as written"]) == pytest.approx(10 * GPH * DENSITY_15, rel=1e-4)
