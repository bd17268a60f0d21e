"""What belongs into brakes and onto the pressure side of steering, and what does not. All circuits are invented."""

import pytest

import flarenut as fn
from flarenut import catalog, checks
from flarenut.catalog.tube_ratings import tubes_for


def bench(line, fluid="DOT 4", circuit="front brakes (invented)", name="line under test"):
    built = fn.Circuit(circuit, fluid=fluid, invented=True)
    built.fixed("master", pressure="60 psi")
    built.run(name, "master", "ambient", [line, fn.orifice("0.5 mm", name="jet")])
    return built


def found(circuit, code="brake line"):
    case = circuit.solve()["as written"]
    assert case.converged, case.cause
    return [one for one in checks.case_findings(case) if one.code == code]


@pytest.mark.parametrize("material", ["3003-O", "5052-O", "6061-T6"])
@pytest.mark.parametrize("size, wall", [("3/16 in", "0.028 in"), ("3/16 in", "0.065 in"), ("1/4 in", "0.083 in")])
def test_aluminium_is_no_brake_tube_however_thick(material, size, wall):
    (one,) = found(bench(fn.tube(size, "4 ft", wall=wall, material=material)))
    assert one.severity == "stop" and "aluminium" in one.text() and "verify before use" in one.text() and "copper-nickel" in one.cure


@pytest.mark.parametrize("material", ["SAE J527", "copper-nickel", "304 stainless", "316"])
def test_brake_tube_is_left_alone(material):
    """tube_use.csv: double-wall steel, 90/10 copper-nickel, annealed stainless (trade, from memory)."""
    assert found(bench(fn.tube("3/16 in", "4 ft", wall="0.028 in", material=material))) == []
    assert catalog.tube_material(material).name in tubes_for("brake")[0]


def test_plain_steel_tube_in_the_brakes_is_asked_about():
    (one,) = found(bench(fn.tube("3/16 in", "4 ft", wall="0.028 in", material="steel")))
    assert one.severity == "watch" and "double-wall" in one.text()


def test_plain_copper_is_no_material_and_copper_nickel_is_not_its_next_best():
    with pytest.raises(catalog.CatalogError, match="plain copper tube is not kept") as refused:
        catalog.tube_material("copper")
    assert "did you mean" not in refused.value.hint and "another material" in refused.value.hint


@pytest.mark.parametrize("material, severity, words", [("copper", "stop", "whatever its wall"), ("brass", "fix", "none of the tubes")])
def test_a_material_of_ones_own_is_no_way_round(tmp_path, material, severity, words):
    path = tmp_path / "shop.toml"
    path.write_text(f"[[material]]\nmaterial = '{material}'\ndensity = '8900 kg/m3'\ntensile = '250 MPa'\n")
    catalog.use(path)
    try:
        (one,) = found(bench(fn.tube("3/16 in", "4 ft", wall="0.065 in", material=material)))
        assert one.severity == severity and words in one.text()
    finally:
        catalog.forget()


def test_a_brake_tube_that_is_too_thin_is_weak_still():
    (one,) = found(bench(fn.tube("1/2 in", "4 ft", wall="0.010 in", material="304 stainless")))
    assert one.severity == "stop" and "panic stop" in one.text() and one.limit.to("MPa") == pytest.approx(10.0)


@pytest.mark.parametrize("line, severities, words", [
    (fn.hose("-4", "3 ft", spec="push-on"), ["stop", "fix"], "push-on"),
    (fn.hose("-4", "1 ft", spec="full-size"), ["fix"], "nothing says that this hose is brake hose"),
    (fn.hose(bore="3.2 mm", length="1 ft"), ["fix"], "nothing says that this hose is brake hose"),
    (fn.hose(bore="3.2 mm", length="1 ft", maker_pressure="3000 psi"), ["fix"], "nothing says that this hose is brake hose"),
    (fn.hose("-3", "1 ft", spec="ptfe"), ["fix"], "FMVSS 106"),
    (fn.tube("3/16 in", "4 ft"), ["fix"], "nothing says what this tube is made of")])
def test_brakes_are_judged_without_a_word_on_hardware(line, severities, words):
    mine = found(bench(line))
    assert [one.severity for one in mine] == severities and words in mine[0].text()
    others = {one.code for one in bench(line).solve()["as written"].findings}
    assert line.shop.said or not others & {"rating unknown", "over working pressure"}  # other rules still wait for a word


@pytest.mark.parametrize("circuit, name, count", [
    ("brakes and clutch", "front left", 1), ("clutch side of the pedal box", "front left", 1), ("brakes and clutch", "clutch line", 0)])
def test_a_clutch_is_known_by_its_line_not_by_its_circuit(circuit, name, count):
    assert len(found(bench(fn.hose("-4", "1 ft", spec="push-on"), circuit=f"{circuit} (invented)", name=name))) == count


@pytest.mark.parametrize("fluid, circuit, count", [
    ("hydraulic fluid MIL-PRF-5606", "brakes", 1), ("hydraulic fluid MIL-PRF-5606", "Front_brake", 1), ("ISO VG 10", "braking", 1),
    ("hydraulic fluid MIL-PRF-5606", "landing gear", 0), ("hydraulic fluid MIL-PRF-5606", "brakeman's lift", 0), ("power steering fluid", "brakes", 0),
    ("water", "brake cooling", 0)])
def test_oil_is_brake_fluid_where_its_circuit_is_called_brakes(fluid, circuit, count):
    mine = found(bench(fn.hose(bore="5 mm", length="1 ft", standard="30R9"), fluid, f"{circuit} (invented)"))
    assert [one.severity for one in mine] == ["stop"] * count


def test_mineral_fluid_of_ones_own():
    oil = fn.oil("14 cSt", "5 cSt", density="850 kg/m3", name="mineral clutch fluid")
    assert [one.severity for one in found(bench(fn.tube("3/16 in", "4 ft", material="6061"), oil))] == ["stop"]
    assert found(bench(fn.tube("3/16 in", "4 ft", material="6061"), oil, "winch (invented)")) == []


def steering(hose):
    circuit = fn.Circuit("power steering (invented)", fluid="power steering fluid", fluid_temperature="70 C", invented=True)
    circuit.tank("reservoir", level="10 cm")
    circuit.run("pressure side", "reservoir", "gear", [fn.displacement_pump("10 cc/rev", speed="900 rpm", name="steering pump"), hose])
    circuit.run("return side", "gear", "reservoir", [fn.orifice("4 mm", name="gear valve"), fn.hose("-6", "3 ft", spec="push-on")])
    return circuit


@pytest.mark.parametrize("spec, severities", [("push-on", ["stop"]), ("ptfe", []), ("full-size", [])])
def test_steering_is_judged_without_a_word_on_hardware(spec, severities):
    assert [one.severity for one in found(steering(fn.hose("-6", "3 ft", spec=spec)), "steering hose")] == severities


# ---- what a builder says that lines serve ----

def box(**more):
    """A pedal box: `service` of its circuit, and of the run of the third line."""
    made = fn.Circuit("pedals (invented)", fluid="DOT 4", invented=True, service=more.get("whole"))
    made.fixed("cylinder", pressure="300 psi")
    for number, name in enumerate(("front", "rear", "slave")):
        made.junction(f"{name} end", demand="0.1 L/min")
        made.run(name, "cylinder", f"{name} end", [fn.hose("-4", "1 ft", spec="push-on", name=f"{name} hose")], service=more.get("third") if number == 2 else None)
    return made


@pytest.mark.parametrize("words, lines", [
    ({}, {"front hose", "rear hose", "slave hose"}), ({"third": "clutch"}, {"front hose", "rear hose"}), ({"whole": "clutch"}, set()),
    ({"whole": "clutch", "third": "brakes"}, {"slave hose"}), ({"whole": "other"}, set()), ({"whole": "brakes"}, {"front hose", "rear hose", "slave hose"})])
def test_what_a_line_serves_is_said_of_run_or_circuit_and_beats_its_liquid(words, lines):
    mine = found(box(**words))
    assert {one.where for one in mine} == lines
    assert all(('service = "clutch"' in one.cure) == (not words.get("whole") and one.where != "slave hose" or not words) for one in mine)


def test_a_line_that_says_brakes_is_judged_in_any_liquid():
    made = bench(fn.hose("-4", "1 ft", spec="push-on"), "water", "winch (invented)")
    assert found(made) == []
    said = fn.Circuit("winch (invented)", fluid="water", invented=True, service="brakes")
    said.fixed("supply", pressure="300 psi")
    said.junction("end", demand="0.1 L/min")
    said.run("line", "supply", "end", [fn.hose("-4", "1 ft", spec="push-on")])
    assert [one.severity for one in found(said)] == ["stop"]


def test_an_unknown_service_is_told_with_the_nearest():
    with pytest.raises(ValueError, match="did you mean 'clutch'"):
        fn.Circuit("x", fluid="DOT 4", service="cluch")
    with pytest.raises(ValueError, match="brakes, clutch, steering, other"):
        box(third=7)


def test_neither_brakes_nor_a_clutch_are_clamped():
    def audited(service):
        made = fn.Circuit("pedals (invented)", fluid="DOT 4", invented=True)
        made.tank("reservoir")
        made.run("feed", "reservoir", "ambient", [fn.hose("-4", "1 ft", spec="push-on", ends=["barb -4 clamped"] * 2, clamped=True, name="hose")],
                 meets=["barb -4", ""], service=service)
        return [one.code for one in fn.audit(made).findings if one.severity == "stop"]

    assert audited(None) == ["no end for brakes"] == audited("brakes") and audited("clutch") == ["no end for a clutch"] and audited("other") == []


def test_a_circuit_sent_to_other_processes_keeps_its_words():
    from flarenut.studies.blueprint import packed, unpacked

    made = box(whole="clutch", third="brakes")
    made.run("more", "cylinder", "ambient", [fn.hose("-4", "1 ft", spec="ptfe")], meets=["-4 37 flare male", ""], faces=["up", ""])
    other = unpacked(packed(made))
    assert other.service == "clutch" and other.runs["slave"].service == "brakes"
    assert other.runs["more"].meets == made.runs["more"].meets and other.runs["more"].faces == ((0.0, 0.0, 1.0), None)
