"""Wrong hose and tube draw the right finding, right ones none. All circuits are invented; ratings are those of the tables."""

import pytest

import flarenut as fn
from flarenut import catalog, checks

CODES = {"over working pressure", "clamps over pressure", "line too hot", "pressure and heat together", "line too cold", "hose may collapse",
         "hose collapses", "too short to bend", "bent too tight", "liquid and line", "brake line", "clutch line", "steering hose", "hose in tank",
         "oil cooler hose", "fuel through the wall", "rating unknown", "two kinds of hose", "heat not counted", "dead head over pressure",
         "relief behind the line"}
FUEL_PUMP = {"dead_head": "95 psi", "free_flow": "150 gph", "through": "60 psi at 85 gph"}


def ptfe(size="-8", length="4 ft", **more):
    return fn.hose(size, length, **{"spec": "ptfe", "standard": "SAE 100R14", **more})


def steady(line, pressure="50 psi", fluid="gasoline", temperature="20 C", name="line under test", to="0 psi", elsewhere=(), **words):
    """A line between a place of given pressure and a jet that holds most of it."""
    circuit = fn.Circuit(words.pop("circuit", "bench (invented)"), fluid=fluid, fluid_temperature=temperature, invented=True, **words)
    circuit.fixed("supply", pressure=pressure)
    circuit.fixed("sink", pressure=to)
    circuit.run(name, "supply", "sink", [line, *elsewhere, fn.orifice("0.5 mm", name="jet")])
    return circuit


def drawn(line, fluid="gasoline", level="-1 m", **words):
    """A pump that lifts liquid through a line."""
    circuit = fn.Circuit("lift (invented)", fluid=fluid, invented=True, **words)
    circuit.tank("cell", level="0 m", position=["0 m", "0 m", level])
    circuit.fixed("rail", pressure="0 psi")
    circuit.junction("inlet", position=["0 m", "0 m", "0 m"])
    circuit.run("pick-up", "cell", "inlet", [line])
    circuit.run("feed", "inlet", "rail", [fn.displacement_pump("2 cc/rev", speed="1000 rpm", name="pump"), ptfe("-6", "1 m")])
    return circuit


def pumped(pump, lines, teed=None, fluid="gasoline", spill=None, **words):
    """A pump that feeds a rail through lines; a regulator behind the rail spills, and where said another straight after the pump."""
    circuit = fn.Circuit("return style (invented)", fluid=fluid, invented=True, fluid_temperature="20 C", **words)
    circuit.tank("cell", level="8 in")
    circuit.run("supply", "cell", "pump out", [pump])
    circuit.run("feed", "pump out", "rail", lines)
    circuit.run("return", "rail", "cell", [spill or fn.bypass_regulator("43.5 psi", reference="ambient", name="regulator")])
    if teed is not None:
        circuit.run("spill", "pump out", "cell", teed)
    return circuit


def strong_pump(dead_head="140 psi", **more):
    return fn.formula_pump(dead_head, "160 gph", through="60 psi at 95 gph", name="pump", **more)


def rubber(**more):
    return fn.hose(bore="8 mm", length="3 ft", **{"standard": "SAE 30R9", "name": "rubber hose", **more})


def gear_pump():
    return fn.displacement_pump("2 cc/rev", speed="1500 rpm", volumetric_efficiency="90 % at 60 psi, 1500 rpm, 0.5 cP", name="pump")


def found(circuit, **limits):
    """Rating findings of a circuit's only case."""
    case = circuit.solve()["as written"]
    assert case.converged, case.cause
    return [one for one in checks.case_findings(case, checks.Limits(**limits)) if one.code in CODES]


HOSE_8, TUBE = ("-8", "4 ft"), ("3/8 in", "4 ft")
WRONG = {
    # pressure
    "carburettor hose on injection pressure": (
        steady(fn.hose(bore="8 mm", length="4 ft", standard="SAE 30R7"), "58 psi"),
        "over working pressure", "fix", "SAE 30R7 bears"),
    "wide carburettor hose at 45 psi": (
        steady(fn.hose("-8", "4 ft", spec="push-on", standard="30R7"), "45 psi"),
        "over working pressure", "fix", "35.0 psig"),
    "carburettor hose on twice its rating": (
        steady(fn.hose(bore="8 mm", length="4 ft", standard="SAE 30R7"), "110 psi"),
        "over working pressure", "stop", "burst"),
    "injection hose on a diesel rail": (
        steady(fn.hose(bore="8 mm", length="4 ft", standard="SAE 30R9"), "200 psi", "diesel"),
        "over working pressure", "stop", "SAE 30R9"),
    "push-on oil hose on hydraulics": (
        steady(fn.hose(*HOSE_8, spec="SAE 100R6", standard="SAE 100R6"), "450 psi", "ISO VG 46"),
        "over working pressure", "fix", "12.5 %"),
    "return hose on hydraulic pressure": (
        steady(fn.hose(*HOSE_8, spec="SAE 100R3", standard="SAE 100R3"), "2500 psi", "ISO VG 46"),
        "over working pressure", "stop", "SAE 100R3"),
    "hot PTFE hose": (steady(ptfe(length="4 ft"), "900 psi", "SAE 10W-40", "155 C"), "over working pressure", "fix", "at 311 F"),
    "its maker says less": (steady(ptfe(maker_pressure="200 psi"), "250 psi", "ISO VG 46"), "over working pressure", "fix", "its maker's figure"),
    "soft coil tube on hydraulics": (
        steady(fn.tube(*TUBE, material="3003-O aluminium"), "1000 psi", "ISO VG 46"),
        "over working pressure", "fix", "3003-O aluminium"),
    "steel tube on very high pressure": (
        steady(fn.tube(*TUBE, material="steel"), "3000 psi", "ISO VG 46"),
        "over working pressure", "fix", "2550 psig"),
    "aluminium tube, hot": (
        steady(fn.tube(*TUBE, material="6061-T6"), "2000 psi", "SAE 10W-40", "145 C"),
        "over working pressure", "fix", "at 293 F"),
    "a filter over its maker's figure": (
        steady(ptfe(), "100 psi", elsewhere=[fn.filter("1 psi at 50 gph", maker_pressure="60 psi", name="glass filter")]),
        "over working pressure", "stop",
                                         "its maker states"),
    "hose on clamps at 130 psi": (
        steady(fn.hose(*HOSE_8, spec="SAE 100R6", standard="SAE 100R6", clamped=True), "130 psi", "SAE 10W-40"),
        "clamps over pressure", "fix", "blow off"),
    "hose on clamps at 300 psi": (
        steady(fn.hose(*HOSE_8, spec="SAE 100R6", standard="SAE 100R6", clamped=True), "300 psi", "SAE 10W-40"),
        "clamps over pressure", "stop", "blow off"),
    "fuel hose on a pump's dead head": (pumped(strong_pump(), [rubber()]), "dead head over pressure", "watch", "opens below"),
    "gear pump with its relief behind a hose": (pumped(gear_pump(), [rubber()]), "relief behind the line", "watch", "straight after the pump"),
    # temperature
    "rubber hose on a hot turbo drain": (
        steady(fn.hose(*HOSE_8, spec="SAE 100R5", standard="SAE 100R5"), "40 psi", "SAE 10W-40", "130 C"),
        "line too hot", "stop", "54.0 F above"),
    "a few degrees too many": (
        steady(fn.hose(*HOSE_8, spec="SAE 100R5", standard="SAE 100R5"), "40 psi", "SAE 10W-40", "108 C"),
        "line too hot", "fix", "212 F"),
    "cooler hose of class 1 at 140 C": (
        steady(fn.hose(bore="10 mm", length="4 ft", standard="SAE J1532 type A class 1"), "40 psi", "ATF", "140 C"),
        "line too hot", "fix", "257 F"),
    "aluminium tube beyond its heat": (steady(fn.tube(*TUBE, material="6061"), "40 psi", "SAE 10W-40", "152 C"), "line too hot", "fix", "6061-T6"),
    "hot oil at half of what soft tube bears cold": (
        steady(fn.tube(*TUBE, material="5052-O"), "900 psi", "SAE 10W-40", "110 C"),
        "heat not counted", "watch", "not known"),
    "hot oil in copper-nickel tube": (
        steady(fn.tube(*TUBE, material="copper-nickel"), "60 psi", "SAE 10W-40", "110 C"),
        "heat not counted", "note", "199 F"),
    "aircraft hose at both limits": (
        steady(fn.hose("-12", "4 ft", spec="MIL-H-8794", standard="MIL-H-8794"), "1400 psi", "ISO VG 46", "115 C"),
        "pressure and heat together", "fix",
                                     "do not go together"),
    "cold refrigerant hose": (
        steady(fn.hose(bore="8 mm", length="4 ft", standard="J51", maker_pressure="400 psi"), "40 psi", "diesel No. 1", "-35 C"),
        "line too cold", "fix", "cracks"),
    # suction
    "soft hose before a pump": (
        drawn(fn.hose("-6", "3 ft", spec="push-on", standard="30R7"), level="-1.2 m"),
        "hose may collapse", "fix", "1.50 ft"),
    "clamped rubber hose before a pump": (
        drawn(fn.hose(bore="10 mm", length="3 ft", standard="MIL-DTL-6000"), level="-1.2 m"),
        "hose may collapse", "fix", "collapse"),
    "unrated push-on hose before a pump": (
        drawn(fn.hose("-6", "3 ft", spec="push-on", clamped=True), level="-1.2 m"),
        "hose may collapse", "fix", "soft hose"),
    "suction hose beyond its vacuum": (
        drawn(fn.hose("-12", "3 ft", spec="SAE 100R4", standard="SAE 100R4"), "ISO VG 46", "-10 m"),
        "hose collapses", "stop", "inHg vacuum"),
    # bends
    "hose kinked": (steady(ptfe(bends=[90], bend_radius="2 in")), "bent too tight", "stop", "it kinks"),
    "hose bent somewhat tight": (steady(ptfe(bends=[90], bend_radius="4 in")), "bent too tight", "fix", "5.25 in"),
    "tube kinked": (steady(fn.tube(*TUBE, bends=[90], bend_radius="0.6 in", material="steel")), "bent too tight", "stop", "it kinks"),
    "tube flattened": (steady(fn.tube(*TUBE, bends=[90], bend_radius="1 in", material="steel")), "bent too tight", "watch", "flattens"),
    "hose too short for its turns": (steady(ptfe(length="12 in", bends=[90, 90])), "too short to bend", "watch", "angled hose ends"),
    "hose far too short for its turns": (steady(ptfe(length="5 in", bends=[90, 90])), "too short to bend", "stop", "it kinks"),
    # liquids
    "E85 in nitrile hose": (steady(fn.hose(bore="8 mm", length="4 ft", standard="30R7"), "6 psi", "E85"), "liquid and line", "stop", "tenth"),
    "E85 in injection hose": (
        steady(fn.hose(bore="8 mm", length="4 ft", standard="30R9"), "45 psi", "E85"),
        "liquid and line", "watch", "its maker must"),
    "methanol in hydraulic hose": (
        steady(fn.hose(*HOSE_8, spec="SAE 100R5", standard="SAE 100R5"), "6 psi", "methanol"),
        "liquid and line", "watch", "top-end lubricant"),
    "E30 in hydraulic hose": (steady(fn.hose(*HOSE_8, spec="SAE 100R5", standard="SAE 100R5"), "6 psi", "E30"), "liquid and line", "stop", "nitrile"),
    "gasoline in coolant hose": (steady(fn.hose(bore="16 mm", length="4 ft", standard="SAE J20"), "6 psi"), "liquid and line", "stop", "EPDM"),
    "coolant in fuel hose": (
        steady(fn.hose(bore="16 mm", length="4 ft", standard="30R9"), "6 psi", "ethylene glycol 50 %"),
        "liquid and line", "watch", "fluorocarbon"),
    "transmission fluid in brake hose": (
        steady(fn.hose(bore="3 mm", length="1 ft", standard="FMVSS 106"), "60 psi", "ATF"),
        "liquid and line", "stop", "oil swells"),
    "methanol in aluminium tube": (steady(fn.tube(*TUBE, material="5052-O"), "6 psi", "methanol"), "liquid and line", "watch", "flush it"),
    "gasoline in copper-nickel tube": (steady(fn.tube("3/16 in", "4 ft", material="copper-nickel"), "6 psi"), "liquid and line", "watch", "gum"),
    "brake fluid in nitrile hose": (
        steady(fn.hose("-4", "12 in", spec="SAE 100R5", standard="SAE 100R5"), "100 psi", "DOT 4"),
        "liquid and line", "stop", "glycol ether"),
    # brakes
    "fuel hose in the brakes": (
        steady(fn.hose(bore="5 mm", length="12 in", standard="30R9"), "60 psi", "DOT 4"),
        "brake line", "stop", "panic stop"),
    "PTFE hose in the brakes that is no brake hose": (steady(ptfe("-3", "12 in"), "60 psi", "DOT 4"), "brake line", "fix", "FMVSS 106"),
    "brake hose where hard line belongs": (
        steady(fn.hose(bore="3.2 mm", length="6 ft", standard="FMVSS 106"), "60 psi", "DOT 4"),
        "brake line", "fix", "hard line belongs"),
    "clamps in the brakes": (
        steady(fn.hose(bore="3.2 mm", length="12 in", standard="FMVSS 106", clamped=True), "60 psi", "DOT 4"),
        "brake line", "stop", "blow off"),
    "soft tube in the brakes": (
        steady(fn.tube("3/16 in", "4 ft", wall="0.028 in", material="3003-O"), "60 psi", "DOT 4"),
        "brake line", "stop", "brake circuit"),
    "coolant hose in the brakes": (
        steady(fn.hose(bore="6 mm", length="12 in", standard="MIL-DTL-6000"), "60 psi", "DOT 3"),
        "brake line", "stop", "no working pressure"),
    # fuel cells and coolers
    "plain fuel hose in a tank": (
        steady(fn.hose(bore="8 mm", length="12 in", standard="30R9"), "45 psi", name="in-tank hose"),
        "hose in tank", "stop", "30R10"),
    "auxiliary cooler hose as main cooler hose": (
        steady(fn.hose(bore="10 mm", length="4 ft", standard="J1532 type B"), "40 psi", "ATF", "90 C"),
        "oil cooler hose", "watch", "50,000"),
    "much vapour through a wall": (
        steady(fn.hose(bore="8 mm", length="4 ft", standard="30R7"), "6 psi"),
        "fuel through the wall", "note", "closed space"),
    "bore of one hose, rating of another": (steady(ptfe(standard="SAE 100R2"), "6 psi", "diesel"), "two kinds of hose", "fix", "one of the two is wrong"),
    "a size that no rating is kept of": (steady(ptfe("-5"), "6 psi"), "rating unknown", "note", "no rating of -5"),
    "hose of no standard": (steady(fn.hose(*HOSE_8, spec="full-size", mass="0.4 kg"), "6 psi"), "rating unknown", "note", "several ratings"),
}


@pytest.mark.parametrize("name", WRONG)
def test_a_wrong_line_draws_its_finding(name):
    circuit, code, severity, words = WRONG[name]
    mine = [one for one in found(circuit) if one.code == code]
    assert len(mine) == 1, [str(one) for one in found(circuit)]
    (one,) = mine
    assert one.severity == severity and words in one.text(), one.text()
    assert one.case == "as written" and one.where
    assert one.cure or one.severity == "note"
    if one.limit is not None:
        assert one.source and one.hurt > 0.0 and one.value is not None


def test_there_are_wrong_circuits_enough():
    assert len(WRONG) >= 25 and {code for _, code, _, _ in WRONG.values()} == CODES - {"steering hose", "clutch line"}


def steering(hose):
    circuit = fn.Circuit("power steering (invented)", fluid="power steering fluid", fluid_temperature="70 C", invented=True)
    circuit.tank("reservoir", level="10 cm")
    circuit.run("pressure side", "reservoir", "gear", [fn.displacement_pump("10 cc/rev", speed="900 rpm", name="steering pump"), hose])
    circuit.run("return side", "gear", "reservoir", [fn.orifice("4 mm", name="gear valve"),
                                                     fn.hose(bore="10 mm", length="3 ft", standard="J189", clamped=True, name="return hose")])
    return circuit


@pytest.mark.parametrize("standard, severity", [("J189", "stop"), ("30R9", "stop"), ("SAE 100R6", "stop"), ("J190", None)])
def test_the_pressure_side_of_steering_wants_pressure_hose(standard, severity):
    circuit = steering(fn.hose(bore="9.5 mm", length="3 ft", standard=standard, name="pressure hose"))
    mine = [one for one in found(circuit) if one.code == "steering hose"]
    assert [one.severity for one in mine] == ([] if severity is None else [severity])
    assert all(one.where == "pressure hose" and "J190" in one.cure for one in mine)


def return_style():
    circuit = fn.Circuit("return style (invented)", fluid="E10", invented=True, fluid_temperature="35 C")
    circuit.tank("cell", level="8 in")
    circuit.run("suction", "cell", "inlet", [fn.hose("-10", "16 in", spec="push-on", standard="30R9", name="suction hose")])
    circuit.run("feed", "inlet", "rail", [fn.formula_pump(**FUEL_PUMP, name="pump"),
                                          ptfe("-8", "11 ft", bends=[90, 90], bend_radius="6 in", name="feed hose")])
    circuit.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient", name="regulator"),
                                           ptfe("-6", "9 ft", name="return hose")])
    circuit.injectors("injectors", "rail", count=8, flow="42 lb/h", duty="60 %", to="ambient")
    return circuit


def brakes():
    circuit = fn.Circuit("front brakes (invented)", fluid="DOT 4", invented=True)
    circuit.fixed("master", pressure="1200 psi")
    circuit.fixed("caliper", pressure="1199 psi")
    circuit.run("front left", "master", "caliper", [fn.tube("3/16 in", "5 ft", material="SAE J527", bends=[90, 90], bend_radius="0.75 in"),
                                                    fn.hose(bore="3.2 mm", length="14 in", standard="FMVSS 106")])
    return circuit


def clutch():
    return steady(ptfe("-4", "5 ft"), "300 psi", "DOT 4", name="clutch line", circuit="brakes and clutch (invented)")


def hose_beside_a_pump_in_the_tank():
    return steady(ptfe(), "58 psi", circuit="pump in the tank (invented)", elsewhere=[fn.hose(bore="8 mm", length="1 ft", standard="30R9")])


def e85():
    return steady(fn.tube("3/8 in", "9 ft", material="304 stainless", bends=[90, 45], bend_radius="1.5 in"), "60 psi", "E85",
                  elsewhere=[ptfe("-6", "2 ft")])


def oil_cooler():
    return steady(ptfe("-10", "4 ft", name="cooler hose"), "120 psi", "SAE 10W-40", "130 C", circuit="oil cooler (invented)")


def coolant():
    return steady(fn.hose(bore="16 mm", length="3 ft", standard="SAE J20", maker_pressure="40 psi"), "15 psi", "ethylene glycol 50 %", "100 C")


def transmission():
    return steady(fn.hose(bore="10 mm", length="4 ft", standard="J1532 type B", name="auxiliary cooler hose"), "60 psi", "ATF", "90 C")


def hydraulics():
    return steady(fn.hose("-8", "4 ft", spec="SAE 100R2", standard="SAE 100R2", bends=[90], bend_radius="8 in"), "2500 psi", "ISO VG 46", "60 C",
                  elsewhere=[fn.tube("1/2 in", "6 ft", wall="0.065 in", material="steel", bends=[90], bend_radius="1.75 in")])


def lift():
    return drawn(fn.hose("-12", "3 ft", spec="SAE 100R4", standard="SAE 100R4"), "ISO VG 46")


def in_tank():
    return steady(fn.hose(bore="8 mm", length="8 in", standard="30R10"), "58 psi", name="in-tank hose")


def nothing_said_of_hardware():
    return steady(fn.hose("-8", "4 ft", spec="full-size"), "900 psi", "ISO VG 46", "150 C")  # nothing is said of its hardware


def steering_with_pressure_hose():
    return steering(fn.hose(bore="9.5 mm", length="3 ft", standard="J190"))


RIGHT = [return_style, brakes, clutch, hose_beside_a_pump_in_the_tank, e85, oil_cooler, coolant, transmission, hydraulics, lift, in_tank,
         nothing_said_of_hardware, steering_with_pressure_hose]


@pytest.mark.parametrize("make", RIGHT)
def test_right_lines_draw_none(make):
    assert [str(one) for one in found(make())] == []


def test_a_rating_that_is_said_takes_the_place_of_what_is_usual():
    """PTFE hose at 150 psi is no news; without a word on its hardware a usual fuel hose is held up."""
    plain, said = (steady(fn.hose("-8", "4 ft", spec="ptfe", **more), "150 psi").solve()["as written"] for more in ({}, {"standard": "SAE 100R14"}))
    assert "pressure ceiling" in [one.code for one in plain.findings] and "pressure ceiling" not in [one.code for one in said.findings]
    assert not CODES & {one.code for one in said.findings}


def test_numbers_limit_and_margin_of_a_finding():
    """30R9: 0.69 MPa = 100.08 psi (memory). 120 psi at the supply are 120 psi in the hose but for its flow's speed, which a jet of 0.5 mm keeps low."""
    circuit = steady(fn.hose(bore="8 mm", length="4 ft", standard="SAE 30R9"), "120 psi")
    (one,) = [one for one in found(circuit) if one.code == "over working pressure"]
    assert one.value.to("psi") == pytest.approx(120.0, abs=0.1) and one.limit.to("psi") == pytest.approx(100.08, abs=0.01)
    assert one.hurt == pytest.approx(one.value.si / one.limit.si - 1.0) and " % above the 100 psig" in one.text()
    assert "from memory: verify before use" in one.source


def test_a_weak_hose_on_clamps_is_told_of_once():
    """30R9 and SAE J189 on clamps bear 0.69 MPa each; the hose is spoken of, not its clamps."""
    for standard in ("30R9", "J189"):
        circuit = steady(fn.hose(bore="8 mm", length="4 ft", standard=standard, clamped=True), "120 psi", "ATF" if standard == "J189" else "gasoline")
        assert [one.code for one in found(circuit)] == ["over working pressure"]


def test_heat_counts_in_ptfe_hose_as_in_the_table():
    """-8 100R14: 1,000 psi cold; at 155 C, 35 of the 84 K from 1 at 120 to 0.67 at 204: 862.5 psi."""
    (one,) = [one for one in found(steady(ptfe(), "900 psi", "SAE 10W-40", "155 C")) if one.code == "over working pressure"]
    assert one.limit.to("psi") == pytest.approx(862.5, rel=1e-3)


def test_the_worse_hose_comes_first_and_a_maker_beats_the_table():
    mild, bad = ptfe("-8", "4 ft", maker_pressure="240 psi", name="mild"), ptfe("-8", "4 ft", maker_pressure="200 psi", name="bad")
    ranked = [one for one in found(steady(mild, "250 psi", "ISO VG 46", elsewhere=[bad])) if one.code == "over working pressure"]
    assert [one.where for one in ranked] == ["bad", "mild"] and all(one.source == "its maker's figure" for one in ranked)
    assert found(steady(ptfe(maker_pressure="2500 psi"), "2000 psi", "ISO VG 46")) == []


@pytest.mark.parametrize("line, words", [
    (fn.hose("-6", "4 ft", spec="MIL-H-8794", standard="MIL-H-8794", bends=[90], bend_radius="4.2 in"), "4.33 in for MIL-H-8794 (4.00 in to the inside"),
    (fn.hose("-6", "4 ft", spec="MIL-H-8794", standard="MIL-H-8794", bends=[90], bend_radius="4.4 in"), ""),
    (fn.hose("-6", spec="MIL-H-8794", standard="MIL-H-8794", way=[["0 in"] * 3, ["20 in", "0 in", "0 in"], ["20 in", "20 in", "0 in"]],
             bend_radius="4.2 in"), "half its outside diameter"),
    (ptfe(bends=[90], bend_radius="5.4 in"), "at least half its bore"), (ptfe(bends=[90], bend_radius="5.5 in"), "")])
def test_the_radius_that_hose_is_sold_by_is_to_the_inside_of_its_bend(line, words):
    """AC 43.13-1B table 9-3: MIL-H-8794 -6 bends at 4.00 in and is 0.67 in thick, so its centreline at 4.335 in. SAE J343 spaces the ends of a
    half circle at 2 r + d. Of -8 100R14 only the bore is kept, 13/32 in: 5.25 + 0.203 in at least."""
    mine = [one for one in found(steady(line, "6 psi", "diesel")) if one.code == "bent too tight"]
    assert len(mine) == (1 if words else 0) and all(words in one.text() for one in mine), [one.text() for one in mine]


@pytest.mark.parametrize("material, celsius, count", [("3003-O", 92, 0), ("3003-O", 95, 1), ("304 stainless", 110, 0), ("steel", 110, 0), ("6061", 90, 0)])
def test_heat_is_told_of_only_where_no_factor_is_known(material, celsius, count):
    """pressure_derating.csv: 6061-T6 begins to lose strength at 93 C (ASME B31.3, from memory)."""
    mine = found(steady(fn.tube(*TUBE, material=material), "40 psi", "SAE 10W-40", f"{celsius} C"))
    assert [one.code for one in mine] == ["heat not counted"] * count


def test_a_standard_may_allow_a_smaller_bore_than_is_taken():
    """EN 853 and ISO 1436 (memory): -6 has 9.3 to 10.1 mm, nominal 9.525: (9.525 / 9.3)^5 = 1.127."""
    hoses = [fn.hose("-6", "1 ft", spec="SAE 100R2", name="one"), fn.hose("-6", "1 ft", spec="SAE 100R2", bore="9.4 mm", name="measured"),
             fn.hose("-8", "1 ft", spec="SAE 100R1", name="wide"), ptfe(name="other")]
    circuit = steady(fn.hose("-6", "4 ft", spec="SAE 100R2", standard="SAE 100R2", name="two"), "60 psi", "ISO VG 46", elsewhere=hoses)
    six, eight = [one for one in circuit.solve()["as written"].findings if one.code == "bore may be less"]
    assert {six.where, eight.where} == {"two, one", "wide"}
    mine = six if "one" in six.where else eight
    assert mine.severity == "note" and "0.366 in to 0.398 in where 0.375 in" in mine.text() and "12.7 %" in mine.text()


def test_one_note_for_all_hose_of_unknown_rating():
    circuit = steady(ptfe(), "6 psi", elsewhere=[fn.hose("-8", "1 ft", spec="full-size", name="one"),
                                                 fn.hose("-8", "1 ft", spec="braided-rubber", name="two"), fn.tube("3/8 in", "1 ft", name="nobody asked")])
    (one,) = found(circuit)
    assert one.code == "rating unknown" and one.where == "one, two" and "not judged for pressure and temperature" in one.text()


@pytest.mark.parametrize("line, fluid, temperature, judged", [
    (fn.hose("-8", "1 ft", spec="push-on", maker_pressure="250 psi"), "SAE 10W-40", "155 C", [("rating unknown", "note", "not judged for temperature:")]),
    (fn.hose("-8", "1 ft", spec="push-on", maker_pressure="250 psi"), "E85", "20 C",
     [("liquid and line", "watch", "fluorocarbon rubber takes it"), ("rating unknown", "note", "not judged for temperature:")]),
    (fn.hose("-8", "1 ft", spec="braided-rubber", maker_pressure="250 psi"), "E85", "20 C",
     [("liquid and line", "stop", "its liner is not said"), ("rating unknown", "note", "not judged for temperature:")]),
    (ptfe("-5", standard=None, maker_pressure="250 psi"), "E85", "20 C", [("rating unknown", "note", "not judged for temperature:")]),
    (ptfe("-5", spec="SAE 100R5", standard=None, maker_pressure="250 psi"), "E85", "20 C",
     [("liquid and line", "stop", "SAE 100R5 hose"), ("rating unknown", "note", "not judged for temperature:")]),
    (fn.hose(bore="9 mm", length="1 ft", maker_pressure="250 psi"), "E85", "20 C", [("rating unknown", "note", "for temperature and liquid: no standard")]),
    (fn.tube("3/8 in", "1 ft", maker_pressure="250 psi"), "E85", "20 C", [("rating unknown", "note", "for temperature and liquid: no material")]),
    (fn.hose(bore="9 mm", length="1 ft", mass="1 kg"), "E85", "20 C", [("rating unknown", "note", "for pressure, temperature and liquid")])])
def test_a_makers_pressure_alone_tells_neither_temperature_nor_liquid(line, fluid, temperature, judged):
    mine = found(steady(line, "6 psi", fluid, temperature))
    assert [(one.code, one.severity) for one in mine] == [one[:2] for one in judged]
    assert all(words in one.text() for one, (*_, words) in zip(mine, judged)), [one.text() for one in mine]
    assert "maker_pressure" in mine[-1].cure or line.shop.maker_pressure is not None


def test_a_table_of_ones_own_counts(tmp_path):
    path = tmp_path / "shop.csv"
    path.write_text("standard,dash,bore_mm,working_psi,temperature_max_C,liner,source\nshop hose,8,11,225,150,fluorocarbon rubber,printed on it\n")
    catalog.use(path)
    try:
        assert found(steady(fn.hose("-8", "4 ft", spec="shop hose", standard="shop hose"), "200 psi")) == []
        (one,) = found(steady(fn.hose("-8", "4 ft", spec="shop hose", standard="shop hose"), "250 psi"))
        assert one.code == "over working pressure" and one.source == "printed on it" and one.limit.to("psi") == pytest.approx(225.0)
    finally:
        catalog.forget()


def test_circuits_of_a_vehicle_are_judged_too():
    oil, water = fn.Circuit("oil (invented)", fluid="SAE 10W-40"), fn.Circuit("water (invented)", fluid="water")
    oil.tank("hot oil", level="1 m", temperature="120 C")
    oil.run("oil side", "hot oil", "ambient", [fn.hose("-8", "1 m", spec="SAE 100R5", standard="SAE 100R5", name="oil hose"),
                                               fn.tube(bore="8 mm", length="2 m", name="inner tube")])
    water.tank("cold water", level="1 m", temperature="20 C")
    water.run("water side", "cold water", "ambient", [fn.tube(bore="12 mm", length="2 m", name="outer tube")])
    bench = fn.Vehicle("double tube (invented)", oil, water)
    bench.exchanger("double tube", first=("oil (invented)", "inner tube"), second=("water (invented)", "outer tube"))
    case = bench.solve()["oil (invented)"]["as written"]
    (one,) = [one for one in case.findings if one.code in CODES]
    assert one.code == "line too hot" and one.where == "oil hose" and one.limit.to("C") == pytest.approx(100.0)


def test_a_circuit_file_is_judged_by_the_same_words(tmp_path):
    file = tmp_path / "line.toml"
    file.write_text("""
[circuit]
name = "feed (invented)"
fluid = "gasoline"

[fixed.supply]
pressure = "58 psi"

[[run]]
name = "feed"
from = "supply"
to = "ambient"
parts = [{part = "hose", bore = "8 mm", length = "4 ft", standard = "SAE 30R7"}, {part = "orifice", bore = "0.5 mm"}]
""")
    case = fn.load(file).solve()["as written"]
    assert "over working pressure" in [one.code for one in case.findings]


def test_cases_are_judged_each_by_its_own():
    circuit = steady(fn.hose(*HOSE_8, spec="SAE 100R5", standard="SAE 100R5"), "40 psi", "SAE 10W-40", "90 C")
    circuit.case("warm", fluid_temperature="95 C")
    circuit.case("track", fluid_temperature="125 C")
    answer = circuit.solve()
    assert [name for name in ("warm", "track") if any(one.code == "line too hot" for one in answer[name].findings)] == ["track"]


@pytest.mark.parametrize("length, level, expected", [("17 in", "-1.2 m", 0), ("19 in", "-1.2 m", 1), ("3 ft", "-0.2 m", 0)])
def test_short_soft_hose_and_little_suction_are_left_alone(length, level, expected):
    """MIL-DTL-6000: longer than 18 in; under 1 inHg nothing is said."""
    line = fn.hose("-10", length, spec="push-on", standard="30R7")
    assert len([one for one in found(drawn(line, level=level)) if one.code == "hose may collapse"]) == expected


def dead_heads(circuit):
    return [one for one in found(circuit) if one.code == "dead head over pressure"]


@pytest.mark.parametrize("volts, reached", [("13.5 V", 140.0), ("12 V", 140.0 * (12 / 13.5) ** 2), ("11 V", None)])
def test_the_dead_head_of_a_formula_goes_with_the_square_of_the_volts(volts, reached):
    """Affinity laws: 140 psi at 13.5 V are 110.6 at 12 V and 93.0 at 11 V, and SAE 30R9 bears 0.69 MPa = 100.08 psi (memory).
    8 in of gasoline, 0.75 of water, over the pump's inlet are 0.22 psi."""
    mine = dead_heads(pumped(strong_pump(volts=volts), [rubber()]))
    assert len(mine) == (reached is not None)
    for one in mine:
        assert one.where == "rubber hose" and one.value.to("psi") == pytest.approx(reached + 0.22, abs=0.03)
        assert one.limit.to("psi") == pytest.approx(100.08, abs=0.01) and "with the way on blocked the pump reaches" in one.text()
        assert one.hurt == pytest.approx(one.value.si / one.limit.si - 1.0)


def test_each_case_is_judged_by_its_own_volts():
    circuit = pumped(strong_pump(), [rubber()])
    circuit.case("cranking", volts="10 V")
    circuit.case("running", volts="13.5 V")
    answer = circuit.solve()
    mine = {name: [one.code for one in answer[name].findings] for name in ("cranking", "running")}
    assert [name for name, codes in mine.items() if "dead head over pressure" in codes] == ["running"]


IMPELLER = {"points": [["0 L/min", "120 psi"], ["8 L/min", "60 psi"]], "rated_speed": "6000 rpm", "speed": "6000 rpm", "name": "pump"}
CHART = [["0 L/h", "130 psi"], ["255 L/h", "60 psi"], ["340 L/h", "40 psi"]]


@pytest.mark.parametrize("pump, reached", [
    (fn.electric_pump(CHART, name="pump"), 130.0),
    (fn.electric_pump(CHART, check_valve=True, name="pump"), 130.0),
    (fn.electric_pump(CHART, relief="80 psi", name="pump"), None),  # its own relief opens below
    (fn.electric_pump(CHART, volts="11 V", name="pump"), None),  # 130 (11 / 13.5)^2 = 86 psi
    (fn.centrifugal_pump(**IMPELLER, rated_with="gasoline"), 120.0),
    (fn.centrifugal_pump(**IMPELLER, rated_with="gasoline", ratio=0.9), None)])  # 120 x 0.9^2 = 97 psi
def test_the_dead_head_of_a_curve_is_its_rise_at_no_flow(pump, reached):
    mine = dead_heads(pumped(pump, [rubber()]))
    assert [one.value.to("psi") for one in mine] == ([] if reached is None else [pytest.approx(reached + 0.22, abs=0.1)])


def test_what_feeds_the_pump_adds_to_its_dead_head():
    """95 psi of its own and 20 psi before it: above 100.08 psi, which neither reaches alone."""
    circuit = fn.Circuit("pressed (invented)", fluid="gasoline", invented=True)
    circuit.fixed("supply", pressure="20 psi")
    circuit.fixed("sink", pressure="0 psi")
    circuit.run("feed", "supply", "sink", [strong_pump("95 psi"), rubber(), fn.orifice("2.5 mm", name="jet")])
    (one,) = dead_heads(circuit)
    assert one.value.to("psi") == pytest.approx(115.0, abs=0.1)


RELIEF = fn.relief_valve("70 psi", wide_open="10 psi at 3 gpm", name="relief")
HELD = {
    "relief teed off behind the pump": pumped(strong_pump(), [rubber()], teed=[RELIEF]),
    "regulator teed off behind the pump": pumped(strong_pump(), [rubber()], teed=[fn.bypass_regulator("60 psi", reference="ambient", name="first")]),
    "open bleed to the tank": pumped(strong_pump(), [rubber()], teed=[fn.orifice("1 mm", name="bleed")]),
    "hose that bears it": pumped(strong_pump(), [ptfe("-6")]),
    "its maker says that it bears it": pumped(strong_pump(), [rubber(maker_pressure="150 psi")]),
    "hose behind a reducing regulator": pumped(strong_pump(), [
        ptfe("-6"), fn.reducing_regulator("50 psi", reference="ambient", wide_open="10 psi at 100 gph", name="first"), rubber()]),
    "nothing said of hardware": pumped(strong_pump(), [fn.hose(bore="8 mm", length="3 ft")]),
    "weak pump": pumped(strong_pump("95 psi"), [rubber()]),
    "gear pump, relief straight after it": pumped(gear_pump(), [rubber()], teed=[RELIEF]),
}


@pytest.mark.parametrize("name", HELD)
def test_a_blocked_way_is_no_news_where_something_holds_the_pressure(name):
    assert not {one.code for one in found(HELD[name])} & {"dead head over pressure", "relief behind the line"}


def test_a_hose_between_the_pump_and_its_relief_is_not_held_by_it():
    """A block before the relief cuts it off: each line on the way to it, and none on the branch beside."""
    teed = pumped(strong_pump(), [rubber(name="feed hose")], teed=[rubber(name="relief hose"), RELIEF])
    assert dead_heads(teed) == []  # each branch is open as the other is blocked
    before = fn.Circuit("return style (invented)", fluid="gasoline", invented=True)
    before.tank("cell", level="8 in")
    before.run("supply", "cell", "tee", [strong_pump(), rubber(name="pump hose")])
    before.run("feed", "tee", "rail", [rubber(name="feed hose")])
    before.run("spill", "tee", "cell", [RELIEF])
    before.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient", name="regulator")])
    assert [one.where for one in dead_heads(before)] == ["pump hose"]


def test_clamps_and_a_makers_figure_count_against_a_dead_head():
    """SAE J189 grants hose on clamps 0.69 MPa = 100.08 psi; -8 100R6 alone bears 400 psi."""
    (clamped,) = dead_heads(pumped(strong_pump(), [fn.hose(*HOSE_8, spec="SAE 100R6", clamped=True)]))
    assert "its clamps hold" in clamped.text() and clamped.limit.to("psi") == pytest.approx(100.08, abs=0.01)
    (made,) = dead_heads(pumped(strong_pump(), [ptfe(maker_pressure="120 psi")]))
    assert "the 120 psig that its maker states" in made.text() and made.source == "its maker's figure"


def test_a_line_over_its_rating_as_it_runs_is_told_of_once():
    circuit = pumped(strong_pump(), [rubber()], spill=fn.bypass_regulator("110 psi", reference="ambient", name="regulator"))
    assert [one.code for one in found(circuit) if "pressure" in one.code] == ["over working pressure"]


STRAIGHT, ELBOW = "-8 37 flare female", "-8 37 flare female, 90 deg"


@pytest.mark.parametrize("length, bends, ends, grade", [
    ("5 in", [90, 90], [STRAIGHT, STRAIGHT], "stop"),  # 5 / pi = 1.59 in of 5.45
    ("8.5 in", [90, 90], [STRAIGHT, STRAIGHT], "stop"),  # 2.71 in
    ("8.7 in", [90, 90], [STRAIGHT, STRAIGHT], "watch"),  # 2.77 in; half of 5.453 is 2.727
    ("17.2 in", [90, 90], [STRAIGHT, STRAIGHT], None),  # 5.475 in
    ("20 in", [90, 90, 90, 45], [STRAIGHT, ELBOW], "watch"),  # 225 degrees are left: 5.09 in
    ("22 in", [90, 90, 90, 45], [STRAIGHT, ELBOW], None),  # 5.60 in
    ("22 in", [90, 90, 90, 45], [STRAIGHT, STRAIGHT], "watch"),  # 4.00 in
    ("15 in", [90, 90, 90, 45], [ELBOW, ELBOW], None),  # 135 degrees: 6.37 in
    ("5 in", [90, 90], [ELBOW, ELBOW], None), ("2 in", [90], [ELBOW, ELBOW], None)])
def test_ends_take_as_much_of_the_bends_as_they_turn(length, bends, ends, grade):
    """-8 100R14: 5.25 in to the inside of the bend (memory), and half its bore of 13/32 in."""
    mine = [one for one in found(steady(ptfe(length=length, bends=bends, ends=ends), "6 psi", "diesel")) if one.code == "too short to bend"]
    assert [one.severity for one in mine] == ([] if grade is None else [grade])


def test_a_makers_figure_is_called_his_and_not_the_standards():
    (cold,) = [one for one in found(steady(ptfe(maker_pressure="35 psi"), "50 psi")) if one.code == "over working pressure"]
    assert "above the 35.0 psig that its maker states" in cold.text() and "100R14" not in cold.text()
    (hot,) = [one for one in found(steady(ptfe(maker_pressure="200 psi"), "190 psi", "SAE 10W-40", "155 C")) if one.code == "over working pressure"]
    assert "that 311 F leaves of what its maker states" in hot.text() and hot.limit.to("psi") == pytest.approx(0.8625 * 200.0, rel=1e-3)


@pytest.mark.parametrize("surge, reached", [(False, 60.0 + 90.0), (True, 90.0)])
def test_two_pumps_in_a_row_add_their_dead_heads_but_not_across_a_tank(surge, reached):
    """Nothing flows through either; 8 in of gasoline more are 0.22 psi."""
    circuit = fn.Circuit("two pumps (invented)", fluid="gasoline", invented=True)
    circuit.tank("cell", level="8 in")
    circuit.tank("surge", level="8 in") if surge else circuit.junction("surge")
    circuit.run("lift", "cell", "surge", [fn.formula_pump("60 psi", "200 gph", name="lift pump"), ptfe("-8", "3 ft")])
    circuit.run("feed", "surge", "rail", [fn.formula_pump("90 psi", "160 gph", name="main pump"), rubber(standard="SAE 30R7")])
    regulator = fn.bypass_regulator("20 psi", reference="ambient", wide_open="2 psi at 400 gph", name="regulator")
    circuit.run("return", "rail", "surge" if surge else "cell", [regulator])
    (one,) = dead_heads(circuit)
    assert one.value.to("psi") == pytest.approx(reached + 0.22, abs=0.05) and "main pump reaches" in one.text()


@pytest.mark.parametrize("spec", ["SAE 30R7", "30R7"])
def test_a_spec_that_is_a_standard_speaks_of_hardware(spec):
    car = fn.Circuit("car", fluid="E85")
    car.fixed("pump", pressure="65 psi")
    car.junction("rail", demand="20 gph")
    car.run("feed", "pump", "rail", [fn.hose("-6", "3 ft", spec=spec, name="hose")])
    assert {"stop"} <= {one.severity for one in car.solve().findings}
