"""Strength of tube and hose, and figures of lines, against the published tables and worked examples of tests/data/hardware."""

import re
from math import pi

from published_case import Bound, Case
from reference import hardware_rows as rows

import flarenut as fn
from flarenut import catalog
from flarenut.catalog import brakes
from flarenut.catalog.tube_formulas import b31_3, barlow, bore_strain, lame, weight_per_metre

TOPIC = "tubes and hoses"
INCH, PSI = 0.0254, 6894.757293168
GALLON_PER_MINUTE = 3.785411784e-3 / 60.0
STEEL, STAINLESS = rows("tube_pressure_steel.csv"), rows("tube_pressure_stainless_metric.csv")
BARLOW, MATERIALS, SIZES = rows("tube_pressure_barlow_10ksi.csv"), rows("tube_pressure_by_material.csv"), rows("tube_sizes.csv")
EXAMPLES = {row["id"]: row for row in rows("worked_examples.csv")}
OWN_TABLE = ("steel J525",)  # its published table beats the strength
AS_COMPUTED = Bound(1e-4, why="computed with the formula by others, five figures")


def _case(group, name, row, published, unit, value, bound, reason=""):
    return Case(TOPIC, group, name, row["source"], row["how"], published, unit, value, bound, reason)


def _inches(row):
    return float(row["od_in"]), float(row["wall_in"]), f"{row['od_in']} x {row['wall_in']} in"


def steel():
    """A fitting maker's table, printed to 50 psi: Lame at 12,500 psi. No row is farther off than its rounding: 25 psi, and 2 psi more in one."""
    for row in STEEL:
        od, wall, name = _inches(row)
        yield _case("steel tube, the law of its table", name, row, float(row["working_psi"]), "psi", lame(12_500.0, od, wall),
                    Bound(0.0, 27.0, "printed to 50 psi: 27 psi"))
        yield _case("steel tube, the law of its table", f"{name}, Lame", row, float(row["lame_recalculated_psi"]), "psi",
                    lame(12_500.0, od, wall), AS_COMPUTED)
        yield _case("steel tube, the law of its table", f"{name}, Barlow", row, float(row["barlow_same_stress_psi"]), "psi",
                    barlow(12_500.0, od, wall), AS_COMPUTED)
        for material in ("steel", "SAE J525", "low-carbon steel"):
            yield _case("ratings of steel tube", f"{material}, {name}", row, float(row["working_psi"]), "psi",
                        catalog.tube_rating(material, od * INCH, wall * INCH).working / PSI,
                        Bound(1e-4, why="the table itself, through the words", kind="data"))


def stainless():
    """An instrumentation tube catalogue: 20,000 psi, greatest diameter and least wall. ASTM A269 (memory) allows a diameter 0.13 mm over and a
    wall 15 % under in sizes below 1/2 in."""
    for row in STAINLESS:
        od, wall, printed = float(row["od_mm"]), float(row["wall_mm"]), float(row["working_MPa"])
        name = f"{row['od_mm']} x {row['wall_mm']} mm"
        yield _case("stainless tube, the law of its table", name, row, printed, "MPa", b31_3(137.9, od + 0.13, 0.85 * wall),
                    Bound(0.06, why="printed in whole tens of bar, 1 to 5 % under the law: 6 %", kind="band"))
        for material in ("304", "316"):
            yield _case("ratings of stainless tube", f"{material}, {name}", row, printed, "MPa",
                        catalog.tube_rating(material, od * 1e-3, wall * 1e-3).working / 1e6,
                        Bound(1e-6, why="the table itself, through the words", kind="data"))


def bursting():
    """A tube stockist's table, printed to 50 psi, and not always to the nearest: 1,173 psi stands there as 1,200."""
    for row in BARLOW:
        od, wall, name = _inches(row)
        value = barlow(10_000.0, od, wall)
        yield _case("bursting, Barlow at 10,000 psi", name, row, float(row["pressure_psi_at_10ksi"]), "psi", value,
                    Bound(0.0, 27.0, "printed to 50 psi: 27 psi"))
        yield _case("bursting, Barlow at 10,000 psi", f"{name}, recalculated", row, float(row["barlow_recalculated_psi"]), "psi", value, AS_COMPUTED)


def by_strength():
    """Computed rows, whose stress is rounded by up to 0.4 % (110 MPa / 4 as 27.6)."""
    for row in MATERIALS:
        od, wall, name = _inches(row)
        stress, name = float(row["allowable_stress_MPa"]), f"{row['material']}, {name}"
        yield _case("a quarter of the strength, Lame and Barlow", f"{name}, Lame", row, float(row["lame_MPa"]), "MPa",
                    lame(stress, od, wall), AS_COMPUTED)
        yield _case("a quarter of the strength, Lame and Barlow", f"{name}, Barlow", row, float(row["barlow_MPa"]), "MPa",
                    barlow(stress, od, wall), AS_COMPUTED)
        if row["material"] not in OWN_TABLE:
            yield _case("ratings by strength", name, row, float(row["lame_MPa"]), "MPa",
                        catalog.tube_rating(row["material"], od * INCH, wall * INCH).working / 1e6,
                        Bound(4e-3, why="the rows' stress is rounded by up to 0.4 %"))


def weights():
    """Geometry, and the formula of a sheet, 10.79 (D - t) t lb/ft for stainless, which takes 8 080 kg/m3: 1 % apart."""
    for row in SIZES:
        od, wall = float(row["od_mm"]) * 1e-3, float(row["wall_mm"]) * 1e-3
        name = f"{row['od_mm']} x {row['wall_mm']} mm"
        for material, column in (("6061", "aluminium"), ("steel", "steel"), ("304", "stainless")):
            yield _case("weights of tube", f"{material}, {name}", row, float(row[f"weight_{column}_kg_per_m"]), "kg/m",
                        catalog.tube_rating(material, od, wall).weight, Bound(2e-4, why="geometry, four figures"))
        yield Case(TOPIC, "weights of tube", f"stainless by the sheet's formula, {name}", "S64", "seen, value computed from the equation",
                   10.79 * (od - wall) * wall / INCH**2 * 0.45359237 / 0.3048, "kg/m", weight_per_metre(od, wall, 8000.0),
                   Bound(0.012, why="the sheet takes 8 080 kg/m3, we 8 000: 1.2 %"))


def hoses():
    for row in catalog.table("hose_ratings.csv"):
        yield _case("ratings of hose", f"{row['standard']} -{row['dash']}", row, float(row["working_psi"]), "psi",
                    catalog.hose_rating(row["standard"], int(row["dash"])).working / PSI,
                    Bound(2e-4, why="the table itself, through the words", kind="data"))


def brake_hoses():
    """Swelling at the pressures of the table that limits it. Rows of a measured hose are no limit."""
    for row in catalog.table("brake_hose_expansion.csv"):
        if row["hose_type"] != "measured":
            found = brakes.hose_expansion(3e-3 if "1/8" in row["hose_id"] else 4.7e-3, float(row["test_pressure_MPa"]) * 1e6, row["hose_type"])
            yield _case("swelling of brake hose", f"{row['hose_id']}, {row['hose_type']}, {row['test_pressure_psi']} psi", row,
                        float(row["max_expansion_mL_per_m"]), "mL/m", found * 1e6, Bound(1e-6, why="the table itself", kind="data"))


def pedal_volumes():
    """Worked example 'pedal-A': steel tube, hose, fluid, clearance and calipers, one by one [m3]."""
    pressure, od, wall = 10e6, 0.1875 * INCH, 0.028 * INCH
    tube_bore, hose_bore = pi / 4 * (od - 2 * wall) ** 2, pi / 4 * (0.125 * INCH) ** 2
    swell = bore_strain(pressure, od, wall, 205e9, 0.29) * tube_bore * 3.0
    hose = 0.33e-6 / 0.3048 * 2 * 0.4 * pressure / (1000 * PSI)
    fluid = (3.0 * tube_bore + 0.8 * hose_bore + 70e-6) * pressure / 1800e6
    return [swell, hose, fluid, 2 * pi / 4 * 0.054**2 * 0.15e-3, 5.0e-6]


def tube_swelling():
    """Of 3/16 x 0.028 in steel at 10 MPa: strain of the bore, ends closed and held."""
    od, wall = 0.1875 * INCH, 0.028 * INCH
    return bore_strain(10e6, od, wall, 205e9, 0.29), bore_strain(10e6, od, wall, 205e9, 0.29, ends_held=True)


def examples():
    """Flows at a velocity; swelling of a brake tube; travel of a pedal."""
    for name, row in EXAMPLES.items():
        if name.startswith("vel-"):
            bore, speed = map(float, re.fullmatch(r"ID ([\d.]+) in; ([\d.]+) ft/s", row["inputs"]).groups())
            yield _case("worked examples", f"{row['problem']}, {row['inputs']}", row, float(row["answer"]), "gal/min",
                        pi / 4 * (bore * INCH) ** 2 * speed * 0.3048 / GALLON_PER_MINUTE, Bound(0.0, 0.05, "rounded to 0.1 gal/min"))
    one_percent = Bound(0.01, why="1 %, as the example asks")
    row = EXAMPLES["tube-strain steel 3/16 x 0.028"]
    yield _case("worked examples", row["problem"], row, float(row["answer"]), "mL/m",
                tube_swelling()[0] * pi / 4 * (0.1875 - 2 * 0.028) ** 2 * INCH**2 * 1e6, one_percent)
    row = EXAMPLES["pedal-A"]
    yield _case("worked examples", row["problem"], row, float(row["answer"]), "mm",
                brakes.pedal_travel(5.0, 1.5e-3, pi / 4 * 0.022225**2, pedal_volumes()) * 1e3, one_percent)


def bend(row):
    """Length in a bend, or from its corner to its beginning [mm], of a cut list whose tube goes round one corner."""
    radius, angle = float(row["radius_mm"]), float(row["angle_deg"])
    far = 10 * radius + 1
    forward, left = {90.0: (far, far), 45.0: (far + far * 2**-0.5, far * 2**-0.5), 30.0: (far + far * 0.75**0.5, far / 2),
                     120.0: (far - far / 2, far * 0.75**0.5)}[angle]
    made = fn.Circuit("bench", fluid="water")
    made.run("line", "one", "other", [fn.tube("1/4 in", wall="0.035 in", bend_radius=f"{radius} mm", name="tube",
                                           way=[["0 mm"] * 3, [f"{far} mm", "0 mm", "0 mm"], [f"{forward} mm", f"{left} mm", "0 mm"]])])
    (only,) = fn.cut_list(made)["tube"].bends
    return only, only.uses.to("mm") if row["what"] == "tube in a bend" else far - only.straight.to("mm")


def bends():
    for row in rows("bend_lengths.csv"):
        bound = {"rounded": 0.005, "rounded to 0.01 in": 0.254 / 2, "1e-4": 1e-4 * float(row["radius_mm"])}[row["tolerance"]]
        yield _case("bends of tube", f"{row['what']}, radius {row['radius_mm']} mm, {row['angle_deg']} degrees", row, float(row["answer_mm"]), "mm",
                    bend(row)[1], Bound(0.0, bound, "the last figure that the source prints"))


def cases():
    for part in (steel, stainless, bursting, by_strength, weights, hoses, brake_hoses, examples, bends):
        yield from part()
