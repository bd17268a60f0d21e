"""Builders of parts: words to the engine's numbers, each against a sum by hand that is written beside it.

Units by definition (NIST SP 811): inch 0.0254 m, psi 6894.757 Pa, US gallon 3.785411784 L, lb 0.45359237 kg.
"""

from math import pi, radians, sqrt

import pytest

import flarenut as fn
from flarenut.circuit import parts, parts_notes
from flarenut.circuit.parts_multiport import injectors, tee
from flarenut.circuit.file import read
from flarenut.circuit.parts_notes import assumed_of

INCH, PSI, GALLON, POUND = 0.0254, 6894.757293168, 3.785411784e-3, 0.45359237
GPH, GPM, LPH = GALLON / 3600, GALLON / 60, 1e-3 / 3600
WATER = fn.constant_fluid(density="1000 kg/m3", viscosity="1 cP")


def numbers(piece, element=0, fluid=WATER):
    return piece.elements[element].si(fluid)


HAND = {
    "hose: bore of -8 PTFE is 13/32 in": (lambda: fn.hose("-8", "11 ft", spec="ptfe", bends=[90, 90, 45]),
                                          {"bore": 13 / 32 * INCH, "length": 11 * 12 * INCH, "bend_angle": radians(225), "bend_radius": 5 * 13 / 32 * INCH}),
    "hose: full-size is dash over 16": (lambda: fn.hose("-6", "1 m", spec="full-size"), {"bore": 6 / 16 * INCH, "roughness": 10e-6, "bend_angle": 0}),
    "hose: a measured bore beats the dash": (lambda: fn.hose("-8", "1 m", spec="ptfe", bore="8.7 mm"), {"bore": 8.7e-3, "roughness": 1.5e-6}),
    "hose: a short one bends tighter": (lambda: fn.hose(bore="10 mm", length="50 mm", bends=[90]), {"bend_radius": 0.05 / (pi / 2)}),
    "tube: outside less two walls": (lambda: fn.tube("3/8 in", "9 ft"), {"bore": (0.375 - 2 * 0.035) * INCH, "roughness": 1.5e-6}),
    "tube: metric with its wall": (lambda: fn.tube("10 mm", "1 m", wall="1 mm", bends=[90, 45]),
                                   {"bore": 8e-3, "bend_angle": radians(135), "bend_radius": 30e-3}),
    "tube: dash is its outside": (lambda: fn.tube("-6", "1 m", wall="0.049 in"), {"bore": (0.375 - 0.098) * INCH}),
    "passage: corners are 1.1 each": (lambda: fn.passage("5/16 in", "4 in", corners=2, extra_loss=0.5), {"bore": 5 / 16 * INCH, "extra_loss": 2.7}),
    "passage: rough as sand of 10 um": (lambda: fn.passage("8 mm", "4 in"), {"roughness": 10e-6}),
    "passage: a roughness of its own": (lambda: fn.passage("8 mm", "4 in", roughness="25 um"), {"roughness": 25e-6}),
    "straight": (lambda: fn.straight(bore="9 mm", length="30 mm"), {"bore": 9e-3, "length": 0.03, "roughness": 10e-6}),
    "adapter: a short bore of its narrower end": (lambda: fn.adapter(["-8 O-ring boss male", "-8 37 flare male"], length="2 in"),
                                                  {"bore": 0.391 * INCH, "length": 2 * INCH, "roughness": 10e-6}),  # fitting_bores.csv
    "elbow: Darby's long radius elbow": (lambda: fn.elbow(bore="10 mm", form="swept"),
                                         {"laminar_constant": 800, "turbulent_constant": 0.071, "size_constant": 4.2}),
    "reducer": (lambda: fn.reducer("10 mm", "3/8 in", cone_angle=30), {"inlet_bore": 0.01, "outlet_bore": 0.375 * INCH, "included_angle": radians(30)}),
    "reducer: sudden": (lambda: fn.reducer("10 mm", "8 mm"), {"included_angle": pi}),
    "pickup: a tube standing in": (lambda: fn.pickup("10 mm"), {"bore": 0.01, "entrance_loss": 0.78}),
    "pickup: a loss of one's own": (lambda: fn.pickup("10 mm", edge=0.3), {"entrance_loss": 0.3}),
    "orifice": (lambda: fn.orifice("1.2 mm", line_bore="8 mm"), {"bore": 1.2e-3, "line_bore": 8e-3}),
    "valve: Kv 1 is 1 m3/h of water at 1 bar": (lambda: fn.valve(kv=1), {"flow_coefficient": 1 / 3600 * sqrt(999.1 / 1e5)}),
    "valve: Cv 1 is 1 gpm of water at 1 psi": (lambda: fn.valve(cv=1, opening="40 %"), {"flow_coefficient": GPM * sqrt(999.1 / PSI), "opening": 0.4}),
    "valve: rated": (lambda: fn.valve(rated="2 psi at 3 gpm"), {"flow_coefficient": 3 * GPM * sqrt(1000 / (2 * PSI))}),
    "check valve: cracking is in its rating": (lambda: fn.check_valve("1 psi", rated="3 psi at 300 L/h"),
                                               {"cracking_pressure": PSI, "full_area": 300 * LPH / (0.7 * sqrt(2 * 2 * PSI / 1000))}),
    "check valve: by bore": (lambda: fn.check_valve(bore="8 mm"), {"cracking_pressure": 0.5 * PSI, "full_area": pi / 4 * 64e-6}),
    "relief valve": (lambda: fn.relief_valve("60 psi", wide_open="10 psi at 8 gpm", override="5 psi"),
                     {"set_pressure": 60 * PSI, "band": 5 * PSI, "full_area": 8 * GPM / (0.7 * sqrt(2 * 10 * PSI / 1000))}),
    "bypass regulator": (lambda: fn.bypass_regulator("43.5 psi", reference="manifold", wide_open="30 psi at 400 L/h", seat_share="2 %"),
                         {"set_pressure": 0.98 * 43.5 * PSI, "band": 2 * PSI, "seat_share": 0.02, "full_area": 400 * LPH / (0.7 * sqrt(2 * 30 * PSI / 1000))}),
    "reducing regulator": (lambda: fn.reducing_regulator("6 psi", wide_open="2 psi at 40 gph", droop="0.5 psi"),
                           {"set_pressure": 6 * PSI, "band": 0.5 * PSI, "full_area": 40 * GPH / (0.7 * sqrt(2 * 2 * PSI / 1000))}),
    "filter: seven tenths straight": (lambda: fn.filter("1.5 psi at 100 gph", loading=3), {
        "linear": 0.7 * 1.5 * PSI / (100 * GPH), "quadratic": 0.3 * 1.5 * PSI / (100 * GPH) ** 2, "loading": 3, "rating_viscosity": 1e-3}),
    # 0.6 = 50 a + 2500 b and 1.5 = 100 a + 10000 b: b = (0.015 - 0.012) / 50 = 6e-5, a = 0.012 - 50 b = 0.009 [psi, gph]
    "filter: two ratings": (lambda: fn.filter(["0.6 psi at 50 gph", "1.5 psi at 100 gph"]),
                            {"linear": 0.009 * PSI / GPH, "quadratic": 6e-5 * PSI / GPH**2}),
    "filter: bypass": (lambda: fn.filter("2 psi at 8 gpm", bypass="12 psi", bypass_flow="8 psi at 6 gpm"),
                       {"bypass_pressure": 12 * PSI, "bypass_area": 6 * GPM / (0.7 * sqrt(2 * 8 * PSI / 1000))}),
    "strainer: three tenths straight": (lambda: fn.strainer("0.3 psi at 100 gph"), {"linear": 0.3 * 0.3 * PSI / (100 * GPH)}),
    "resistance": (lambda: fn.resistance("5 psi at 3 gpm", exponent=1.75), {
        "rated_drop": 5 * PSI, "rated_flow": 3 * GPM, "exponent": 1.75}),
    "formula pump: a square law": (lambda: fn.formula_pump("95 psi", "420 L/h", volts_lost="0.5 V"), {
        "shutoff_rise": 95 * PSI, "linear": 0, "quadratic": 95 * PSI / (420 * LPH) ** 2, "volts": 13.0, "rated_volts": 13.5}),
    # through half the flow at 60 of 96: fall 36 = a/2 + b/4 and a + b = 96 give a = 48, b = 48 [psi per free flow]
    "formula pump: through a point": (lambda: fn.formula_pump("96 psi", "400 L/h", through="60 psi at 200 L/h"), {
        "linear": 48 * PSI / (400 * LPH), "quadratic": 48 * PSI / (400 * LPH) ** 2}),
    # a third of the flow at two thirds of the rise is on the straight line between both ends
    "formula pump: a straight line": (lambda: fn.formula_pump("96 psi", "300 L/h", through="64 psi at 100 L/h"), {"linear": 96 * PSI / (300 * LPH)}),
    "displacement pump": (lambda: fn.displacement_pump("18 cc/rev", speed="3000 rpm", ratio=0.5, volumetric_efficiency="88 % at 4 bar, 1500 rpm, 12 cP"), {
        "displacement": 18e-6, "speed": 25, "rated_efficiency": 0.88, "rated_rise": 4e5, "rated_speed": 25, "rated_viscosity": 0.012}),
    "centrifugal pump": (lambda: fn.centrifugal_pump([["0 L/min", "1.2 bar"], ["150 L/min", "0.4 bar"]], rated_speed="3000 rpm", speed="1500 rpm", ratio=1.2),
                         {"speed": 30, "rated_speed": 50}),
    "thermostat": (lambda: fn.thermostat("82 C", "203 F", bore="12 mm", bleed="8 %"), {
        "start_temperature": 355.15, "full_temperature": 368.15, "full_area": pi / 4 * 144e-6, "bleed": 0.08}),
    "thermostat: wide open 12 C on": (lambda: fn.thermostat("180 F", rated="1 psi at 8 gpm"), {
        "full_temperature": (180 + 459.67) / 1.8 + 12, "full_area": 8 * GPM / (0.7 * sqrt(2 * PSI / 1000)), "bleed": 0.1}),
    "bypass thermostat": (lambda: fn.bypass_thermostat("82 C", "95 C", bore="10 mm"), {
        "start_temperature": 355.15, "full_temperature": 368.15, "full_area": pi / 4 * 1e-4, "bleed": 0.01}),
    # 60 L/min is 1e-3 m3/s: 0.2 of 10 kPa is viscous, 2000 / (1e-3 * 1e-3), and 8000 / (1000 * 1e-6) inertial
    "core: a fifth viscous of a thin liquid": (lambda: fn.core("10 kPa at 60 L/min"), {"viscous": 2e9, "inertial": 8e6}),
    "core: half of a thick one": (lambda: fn.core("10 kPa at 60 L/min", rated_with={"density": "800 kg/m3", "viscosity": "5 cP"}, bore="16 mm"), {
        "viscous": 5000 / (5e-3 * 1e-3), "inertial": 5000 / (800 * 1e-6), "inlet_bore": 0.016, "outlet_bore": 0.016}),
    # 3 = a + b and 8 = 2 a + 4 b give a = 2, b = 1 [kPa at 6 L/min]
    "core: two drops": (lambda: fn.core(["3 kPa at 6 L/min", "8 kPa at 12 L/min"]), {"viscous": 2000 / (1e-3 * 1e-4), "inertial": 1000 / (1000 * 1e-8)}),
    # at one flow, 1 cP and 4 cP: 3 = a + b and 9 = 4 a + b
    "core: two liquids": (lambda: fn.core(["3 kPa at 6 L/min", "9 kPa at 6 L/min"], rated_with=[
        {"density": "1000 kg/m3", "viscosity": "1 cP"}, {"density": "1000 kg/m3", "viscosity": "4 cP"}]),
        {"viscous": 2000 / (1e-3 * 1e-4), "inertial": 1000 / (1000 * 1e-8)}),
    "core: laminar passages": (lambda: fn.core(passages=50, passage_bore="2 mm", passage_length="200 mm", end_loss=2), {
        "viscous": 128 * 0.2 / (pi * 16e-12 * 50), "inertial": 2 / (2 * (50 * pi / 4 * 4e-6) ** 2)}),
    "cooler: its drop is that of a core": (lambda: fn.cooler("9 kW at 60 L/min", rated_inlet="90 C", rated_air="35 C at 5 m/s", face="0.06 m2",
                                                             drop="10 kPa at 60 L/min"), {"viscous": 2e9, "inertial": 8e6}),
    "bearings": (lambda: fn.bearings(5, "55 mm", "20 mm", "0.056 mm", speed="3000 rpm", ratio=0.5, film_viscosity="60 %"), {
        "count": 5, "diameter": 0.055, "land_width": 8.5e-3, "radial_clearance": 28e-6, "eccentricity": 0.8, "speed": 25, "film_viscosity": 0.6}),
    # four bores long: K Re = 12 π + 256, over 1 / 0.64, and twice that for four of them together
    "squirters": (lambda: fn.squirters(4, "1.5 mm", opens="2 bar"), {
        "cracking_pressure": 2e5, "full_area": pi * 2.25e-6, "discharge_coefficient": 0.8, "viscous_reynolds": 2 * 0.64 * (12 * pi + 256)}),
    "tee": (lambda: tee(bore="9 mm", branch_bore="6 mm", angle=45), {"run1_bore": 9e-3, "run2_bore": 9e-3, "branch_bore": 6e-3, "branch_angle": pi / 4}),
    "injectors": (lambda: injectors(6, "1000 cc/min at 3 bar", duty="80 %"), {
        "count": 6, "rated_flow": 1e-3 / 60, "rated_pressure": 3e5, "duty": 0.8, "rating_density": 683.8}),
    "injectors: at sign": (lambda: injectors(4, "500 cc/min @ 4 bar"), {"rated_flow": 5e-4 / 60, "rated_pressure": 4e5}),
    "injectors: a flow alone is at 3 bar": (lambda: injectors(4, "500 cc/min"), {"rated_flow": 5e-4 / 60, "rated_pressure": 3e5}),
    "injectors by mass, 43.5 psi": (lambda: injectors(8, "42 lb/h at 43.5 psi", rated_with={"density": "720 kg/m3"}), {
        "rated_flow": 42 * POUND / 3600 / 720, "rated_pressure": 43.5 * PSI}),
}


@pytest.mark.parametrize("what", HAND)
def test_words_become_the_numbers_of_a_sum_by_hand(what):
    make, wanted = HAND[what]
    found = numbers(make())
    for field, value in wanted.items():
        assert found[field] == pytest.approx(value, rel=1e-9), field


def test_every_part_that_a_run_takes_has_a_sum_here():
    from flarenut.circuit.parts import PARTS

    summed = {what.partition(":")[0].replace(" ", "_") for what in HAND}
    assert set(PARTS) - summed <= {"opening", "electric_pump", "measured_part"}  # these have their own tests below


def test_a_hose_without_its_specification_is_told_every_bore_of_its_dash():
    """11/32 in is that of braided rubber and high-pressure hose, which is what most builders have in hand."""
    with pytest.raises(fn.CircuitError) as refusal:
        fn.hose("-6", "1 m")
    for family in ("9.5 mm (3/8 in) as 'full-size' or 'push-on'", "8.7 mm (11/32 in) as 'braided-rubber' or 'high-pressure'",
                   "7.9 mm (5/16 in) as 'undersize', 'ptfe', 'medium-pressure' or 'refrigerant'"):
        assert family in refusal.value.cure
    assert refusal.value.key == "spec"


def test_every_builder_shows_an_example():
    from flarenut.circuit.parts import PARTS

    for function in (*PARTS.values(), tee, injectors):
        assert ">>> " in function.__doc__ and f"{function.__name__}(" in function.__doc__, function.__name__


def test_charts_of_a_pump_are_sorted_by_volts_and_flow_with_units_apart_or_written():
    piece = fn.electric_pump([{"volts": 13.5, "flow": "gph", "pressure": "psi", "points": [[70, 60], [0, 95], [110, 30]]},
                              {"volts": "12 V", "points": [["0 L/h", "80 psi"], ["40 psi", "255 L/h"]]}], volts_lost="0.4 V", relief="100 psi")
    columns, found = piece.elements[0].columns, numbers(piece)
    assert columns["curve_volts"] == [12.0, 13.5] and columns["curve_points"] == [2.0, 3.0]
    assert columns["curve_flow"] == pytest.approx([0, 255 * LPH, 0, 70 * GPH, 110 * GPH])
    assert columns["curve_rise"] == pytest.approx([80 * PSI, 40 * PSI, 95 * PSI, 60 * PSI, 30 * PSI])
    assert found["volts"] == pytest.approx(13.1) and found["relief_set_pressure"] == pytest.approx(100 * PSI)


def test_the_check_valve_in_a_pump_costs_a_psi_and_a_half_at_its_top_flow():
    piece = fn.electric_pump([["0 L/h", "95 psi"], ["340 L/h", "40 psi"]], check_valve=True)
    found = numbers(piece, 1)
    flow = 340 * LPH
    assert found["cracking_pressure"] + 0.5 * 1000 * (flow / (0.7 * found["full_area"])) ** 2 == pytest.approx(1.5 * PSI)


def test_a_bench_test_keeps_its_points_and_the_liquid_it_was_made_with():
    piece = fn.measured_part([["3 gpm", "3.6 psi"], ["1 gpm", "0.5 psi"]], rated_with={"density": "850 kg/m3", "viscosity": "10 cSt"})
    assert piece.elements[0].columns["flow"] == pytest.approx([GPM, 3 * GPM])
    assert piece.elements[0].columns["pressure_drop"] == pytest.approx([0.5 * PSI, 3.6 * PSI])
    assert numbers(piece) == pytest.approx({"rating_viscosity": 850 * 10e-6, "rating_density": 850})


SLIPS = [(lambda: fn.filter("1.2 psi at 1e9 gph"), "drop", "a flow of .*L/min.*check the flow"),
         (lambda: fn.strainer(["0.1 psi at 50 gph", "0.3 psi at 9e8 gph"]), "drop", "a flow of"),
         (lambda: fn.filter("2 psi at 8 gpm", bypass="12 psi", bypass_flow="8 psi at 8e-9 gpm"), "bypass_flow", "a flow of"),
         (lambda: fn.resistance("90000 psi at 3 gpm"), "drop", "a drop of 90000 psi.*may be .* to 14504 psi = 1000 bar"),
         (lambda: fn.resistance("1e-9 psi at 3 gpm"), "drop", "check the drop"),
         (lambda: fn.filter("1 psi at 1e9 kg/h"), "drop", "a flow of"),
         (lambda: fn.measured_part([["1 gpm", "1 psi"], ["3e9 gpm", "5 psi"]]), "points", "a flow of")]


@pytest.mark.parametrize("make, key, told", SLIPS)
def test_a_rating_that_no_part_of_a_vehicle_has_is_refused_with_what_it_may_be(make, key, told):
    with pytest.raises(fn.CircuitError, match=told) as refusal:
        make()
    assert refusal.value.key == key and "may be" in refusal.value.cure


def test_ratings_from_a_drip_to_a_flood_pass():
    for drop in ("0.01 psi at 0.1 gph", "300 bar at 1 L/min", "1 psi at 2000 gpm", "5 Pa at 10 kg/h"):
        assert fn.filter(drop).elements and fn.resistance(drop).elements
    assert fn.measured_part([["0 gpm", "0 psi"], ["1 gpm", "0.5 psi"]]).elements


def test_a_measured_square_law_reads_high_below_its_first_point_by_what_its_help_says():
    """Within the points it is the square law itself."""
    asked = fn.Circuit("bench", fluid=WATER)
    asked.tank("cell")
    asked.junction("end", demand="4 L/min")
    asked.run("line", "cell", "end", [fn.measured_part([[f"{q} L/min", f"{0.1 * q * q} psi"] for q in (4, 8, 12)], name="part")])
    for flow, factor in ((8, 1.0), (4, 1.0), (2, 1.75), (1, 3.6)):
        asked.change("end", demand=f"{flow} L/min")
        assert asked.solve()["as written"].part("part").drop.si == pytest.approx(factor * 0.1 * flow**2 * PSI, rel=0.01)
    assert "1.75" in fn.measured_part.__doc__ and "3.6" in fn.measured_part.__doc__


def test_an_opening_gives_its_velocity_head_away():
    works = fn.Circuit("end", fluid=WATER)
    works.junction("in", supply="1 kg/s")
    works.run("end", "in", "ambient", [fn.opening("20 mm", name="end")])
    head = 0.5 * 1000 * (1e-3 / (pi / 4 * 0.02**2)) ** 2
    assert works.solve()["as written"].part("end").drop.si == pytest.approx(head, rel=1e-3)


@pytest.mark.parametrize("seat", [0, "2 %", "20 %"])
def test_a_regulator_set_at_a_flow_holds_its_setting_at_that_flow(seat):
    """Its return is open to the air, so that the seat takes its share of the diaphragm from the supply and gives nothing back."""
    works = fn.Circuit("bench", fluid=WATER)
    works.junction("supply", supply=f"{200 * LPH * 1000} kg/s")
    works.run("spill", "supply", "ambient", [fn.bypass_regulator("43.5 psi", reference="ambient", set_flow="200 L/h", seat_share=seat)])
    assert works.solve()["as written"].at("supply").gauge.to("psi") == pytest.approx(43.5, rel=1e-6)


IMPOSSIBLE = {
    "viscous_share": lambda: fn.filter("1.5 psi at 100 gph", viscous_share="150 %"), "opening": lambda: fn.valve(cv=1, opening="150 %"),
    "seat_share": lambda: fn.bypass_regulator("43.5 psi", reference="ambient", seat_share="60 %"),
    "second_opens_at": lambda: fn.relief_valve("60 psi", wide_open="9 psi at 8 gpm", second_opens_at="30 psi", second_wide_open="9 psi at 8 gpm"),
    "volumetric_efficiency": lambda: fn.displacement_pump("18 cc/rev", speed="3000 rpm", volumetric_efficiency="120 % at 60 psi, 3000 rpm, 10 cP"),
    "turbulent_share": lambda: fn.displacement_pump("18 cc/rev", speed="3000 rpm", turbulent_share=0.95),
    "through": lambda: fn.formula_pump("96 psi", "400 L/h", through="40 psi at 200 L/h"),
}


@pytest.mark.parametrize("key", IMPOSSIBLE)
def test_what_cannot_be_is_refused_under_the_word_it_was_written_as(key):
    with pytest.raises(fn.CircuitError, match=f"'{key}' is ") as refusal:
        IMPOSSIBLE[key]()
    assert refusal.value.key == key and refusal.value.cure


@pytest.mark.parametrize("angle", [None, [], {}, True, b"x"])
def test_an_angle_of_a_tee_that_is_none_is_refused_like_any_other_value(angle):
    with pytest.raises(fn.units.UnitError, match="'angle'"):
        tee(bore="9 mm", angle=angle)


BARE = {
    "hose length": lambda: fn.hose("-8", 11, spec="ptfe"), "hose bore": lambda: fn.hose(bore=8.7, length="1 m"), "dash": lambda: fn.hose(8, "1 m", spec="ptfe"),
    "bend radius": lambda: fn.hose(bore="8 mm", length="1 m", bends=[90], bend_radius=2), "rise": lambda: fn.hose(bore="8 mm", length="1 m", rise=1),
    "roughness": lambda: fn.hose(bore="8 mm", length="1 m", roughness=10), "tube": lambda: fn.tube(10, "1 m", wall="1 mm"),
    "wall": lambda: fn.tube("10 mm", "1 m", wall=1), "passage": lambda: fn.passage(8, "1 m"), "straight": lambda: fn.straight("-8", 1),
    "elbow": lambda: fn.elbow(bore=8), "reducer": lambda: fn.reducer(10, 8), "opening": lambda: fn.opening(8), "orifice": lambda: fn.orifice(1.2),
    "rating": lambda: fn.filter("1.5 at 100 gph"), "its flow": lambda: fn.filter("1.5 psi at 100"), "bypass": lambda: fn.filter("2 psi at 8 gpm", bypass=12),
    "resistance": lambda: fn.resistance("5 at 3"), "setting": lambda: fn.bypass_regulator(43.5, reference="ambient"),
    "band": lambda: fn.bypass_regulator("43.5 psi", reference="ambient", band=2), "droop": lambda: fn.reducing_regulator("6 psi", wide_open="2 psi at 9 gph", droop=1),
    "opens at": lambda: fn.relief_valve(60, wide_open="10 psi at 8 gpm"), "cracking": lambda: fn.check_valve(0.5, bore="8 mm"),
    "points": lambda: fn.electric_pump([[0, 95], [255, 60]]), "points of a test": lambda: fn.measured_part([[1, 2], [3, 5]]),
    "dead head": lambda: fn.formula_pump(95, "420 L/h"), "free flow": lambda: fn.formula_pump("95 psi", 420), "displacement": lambda: fn.displacement_pump(18, speed="3000 rpm"),
    "speed": lambda: fn.displacement_pump("18 cc/rev", speed=3000), "injectors": lambda: injectors(6, 1000), "tee": lambda: tee(bore=9),
    "absolute for a difference": lambda: fn.bypass_regulator("43.5 psia", reference="ambient"), "gauge for a difference": lambda: fn.relief_valve("60 psig", wide_open="1 psi at 1 gpm"),
    "length for a pressure": lambda: fn.check_valve("3 ft", bore="8 mm"), "area for a length": lambda: fn.orifice("1 mm2"),
}


@pytest.mark.parametrize("what", BARE)
def test_nothing_loses_its_unit_and_no_unit_of_another_kind_passes(what):
    with pytest.raises(ValueError) as refusal:
        BARE[what]()
    assert len(str(refusal.value)) > 20


@pytest.mark.parametrize("word, told", [({"lenght": "1 m"}, "did you mean 'length'"), ({"spec": "ptef"}, "did you mean 'ptfe'"), ({"size": "-7"}, "-7"),
                                        ({"spec": None}, "say which 'spec'"), ({"size": None}, "needs its size or its bore"),
                                        ({"length": None}, "length is missing"), ({"rise": "3 m"}, "more than its length"), ({"bends": [0]}, "above 0")])
def test_a_wrong_word_of_a_hose_is_answered_with_its_cure(word, told):
    with pytest.raises(ValueError, match=told):
        fn.hose(**{"size": "-8", "length": "2 m", "spec": "ptfe", **word})


def test_a_thick_liquid_must_say_at_which_temperature_a_rating_was_made():
    oil = fn.fluid("SAE 10W-40")
    with pytest.raises(ValueError, match="thick.*own at 100 C"):
        numbers(fn.filter("2 psi at 8 gpm"), fluid=oil)
    warm = numbers(fn.filter("2 psi at 8 gpm", rated_with="own at 100 C"), fluid=oil)
    assert warm["rating_viscosity"] == pytest.approx(oil.at("100 C").viscosity.si, rel=1e-6)


def assumed(piece, family="fuel", **conditions):
    return assumed_of(piece, conditions, family)


def test_charts_are_taken_to_be_of_calibration_fluid_and_that_is_told_where_it_counts():
    """A mineral spirit, 760 to 780 kg/m3 (from memory): not the n-heptane of injector benches, 684 kg/m3."""
    by_volume, by_mass = ([["0 L/h", "95 psi"], ["255 L/h", "60 psi"]], [["0 lb/h", "95 psi"], ["400 lb/h", "60 psi"]])
    assert numbers(fn.electric_pump(by_volume, impeller=True))["test_density"] == 770.0
    assert fn.electric_pump(by_mass).elements[0].columns["curve_flow"][1] == pytest.approx(400 * 0.45359237 / 3600 / 770)
    told = "rated_with charts taken at 770 kg/m3"
    assert told not in assumed(fn.electric_pump(by_volume)) and told in assumed(fn.electric_pump(by_volume, impeller=True))
    assert told in assumed(fn.electric_pump(by_mass)) and told not in assumed(fn.electric_pump(by_mass, rated_with="740 kg/m3"))


PRESETS = [
    (fn.bypass_regulator("43.5 psi", reference="manifold"), "fuel", {}, ["wide_open 30 psi at 400 L/h", "band 2 psi"]),
    (fn.bypass_regulator("43.5 psi", reference="manifold", band="2 psi", wide_open="20 psi at 400 L/h"), "fuel", {}, []),
    (injectors(6, "1000 cc/min"), "fuel", {}, ["duty 100 %"]), (injectors(6, "1000 cc/min"), "fuel", {"duty": 0.5}, []),
    (injectors(6, "1000 cc/min"), "fuel", {"power": "300 hp"}, []), (injectors(6, "1000 cc/min", duty="80 %"), "fuel", {}, []),
    (fn.formula_pump("95 psi", "420 L/h"), "fuel", {}, ["volts 13.5 V"]), (fn.formula_pump("95 psi", "420 L/h"), "fuel", {"volts": 12}, []),
    (fn.formula_pump("95 psi", "420 L/h", volts="13.5 V"), "fuel", {}, []), (injectors(6, "1000 cc/min", duty=1.0), "fuel", {}, []),
    (fn.relief_valve("60 psi", wide_open="10 psi at 8 gpm"), "oil", {}, ["override 7 psi"]),
    (fn.displacement_pump("18 cc/rev", speed="3000 rpm"), "oil", {}, ["volumetric_efficiency 90 % at 60 psi, 3000 rpm, 10 cP"]),
    (fn.filter("2 psi at 8 gpm", bypass="12 psi"), "oil", {}, ["viscous_share 70 %", "bypass_flow the rated flow at half of 'bypass'"]),
    (fn.filter(["0.6 psi at 50 gph", "1.5 psi at 100 gph"]), "oil", {}, []), (fn.filter("2 psi at 8 gpm"), "fuel", {}, []),
    (fn.core("6 psi at 20 L/min"), "oil", {}, ["viscous_share 50 % of oil, 20 % of a thin liquid"]),
    (fn.core(["2 psi at 8 L/min", "6 psi at 20 L/min"]), "oil", {}, []),
    (fn.core(passages=60, passage_bore="2.5 mm", passage_length="250 mm"), "oil", {}, []),
    (fn.thermostat("82 C", bore="12 mm"), "oil", {}, ["full 12 C above 'opens'", "bleed 10 %"]),
    (fn.bearings(5, "55 mm", "20 mm", "0.056 mm", eccentricity=0.7), "oil", {}, ["film_viscosity that of the gallery"]),
    (fn.hose(bore="8 mm", length="1 m"), "fuel", {}, [])]


@pytest.mark.parametrize("piece, family, conditions, told", PRESETS)
def test_presets_that_move_an_answer_are_told_until_part_or_case_speaks(piece, family, conditions, told):
    assert assumed(piece, family, **conditions) == told


def test_a_file_that_writes_the_preset_itself_has_said_it():
    told = {}
    for written in ("", ', volts = "13.5 V"'):
        text = """
            [circuit]
            name = "bench (invented)"
            fluid = "gasoline class A"
            [tank.cell]
            [[run]]
            name = "feed"
            from = "cell"
            to = "ambient"
            parts = [{part = "formula_pump", dead_head = "95 psi", free_flow = "420 L/h", name = "pump"%s}, {part = "orifice", bore = "2 mm"}]
            """ % written
        told[written] = read(text).circuit.solve().layout.notes["as written"].assumed
    assert list(told.values()) == [{"pump": ["volts 13.5 V"]}, {}]


def test_presets_told_are_those_that_builders_have():
    """Each key that is told of is an argument of its builder, so that the cure can be written."""
    import inspect

    builders = {**parts.PARTS, "injectors": injectors}
    for word, keys in parts_notes._PRESETS.items():
        assert set(keys) <= set(inspect.signature(builders[word]).parameters), word


def test_the_limits_that_a_displacement_pump_tells_of_its_efficiency_are_taken():
    for share, number in (("99.9 %", 0.999), ("10 %", 0.1), ("0.999", 0.999)):
        pump = fn.displacement_pump("18 cc/rev", speed="3000 rpm", volumetric_efficiency=f"{share} at 60 psi, 3000 rpm, 10 cP", name="pump")
        assert pump.elements[0].numbers["rated_efficiency"] == number
        car = fn.Circuit("bench (invented)", fluid="SAE 10W-40")
        car.tank("sump", level="100 mm")
        car.run("line", "sump", "ambient", [pump, fn.orifice("5 mm")])
        car.case("one")
        assert car.solve()["one"].part("pump").flow.si > 0
    for share in ("99.91 %", "9.99 %"):
        with pytest.raises(fn.CircuitError, match="between 10 and 99.9 %"):
            fn.displacement_pump("18 cc/rev", speed="3000 rpm", volumetric_efficiency=f"{share} at 60 psi, 3000 rpm, 10 cP")
