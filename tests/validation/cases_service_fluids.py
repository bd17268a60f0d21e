"""Brake fluids, coolants, air, refrigerants and the standard atmosphere against their published rows."""

from cases_oils import ICE, band_of, kinematic
from published_case import Bound, Case
from reference import fluid_rows as rows

from flarenut.fluids import air, fluid, refrigerant, standard_pressure


def _case(topic, group, name, row, published, unit, value, bound, reason=""):
    return Case(topic, group, name, row["source"], row["how"], published, unit, value, bound, reason)


# ---- brake fluids ------------------------------------------------------------------------------------------------

def brake_limits():
    """A brake fluid stands at the least boiling points of its grade, and within its limits of viscosity."""
    at_limit = Bound(0.0, 0.01, "the limit itself", "data")
    for row in rows("brake_fluid_limits.csv"):
        made, wet, name = fluid(row["fluid"]), fluid(row["fluid"] + " wet"), row["fluid"]
        label = "brake fluids and coolants", "brake fluids, limits of the grade"
        yield _case(*label, f"{name}, dry boiling point", row, float(row["erbp_dry_min_degC"]), "C", made.boiling_point().to("C"), at_limit)
        yield _case(*label, f"{name}, wet boiling point", row, float(row["erbp_wet_min_degC"]), "C", wet.boiling_point().to("C"), at_limit)
        yield _case(*label, f"{name}, -40 C", row, (1e-300, float(row["kv_minus40_max_mm2_s"])), "mm2/s", kinematic(made, -40),
                    Bound(1e-4, why="the limit itself"))
        yield _case(*label, f"{name}, 100 C", row, (float(row["kv100_min_mm2_s"]), 1e300), "mm2/s", kinematic(made, 100),
                    Bound(0.0, why="the limit itself"))


BRAKE_WORDS = {"density": ("density", lambda m, c: m.liquid.at(c + ICE).density), "kinematic viscosity": ("viscosity", kinematic),
               "isothermal bulk modulus": ("bulk modulus", lambda m, c: m.liquid.at(c + ICE).bulk_modulus / 1e9),
               "specific heat": ("specific heat", lambda m, c: m.liquid.heat_at(c + ICE).specific_heat),
               "thermal conductivity": ("conductivity", lambda m, c: m.liquid.heat_at(c + ICE).conductivity),
               "volumetric thermal expansion": ("density", lambda m, c: m.liquid.heat_at(c + ICE).expansion)}
# Boiling points of that sheet are of a better fluid than the grade's least; air and water contents are not carried.
BRAKE_ELSE = {"dry boiling point": "of a better fluid than the grade's least, which ours is",
              "wet boiling point": "of a better fluid than the grade's least, which ours is",
              "dissolved air at 1 atm and room temperature": "no property of ours", "water content of the wet boiling test": "no property of ours"}


def brake_names(row):
    return ["DOT 5"] if "silicone" in row["fluid"] else ["DOT 4"] if row["fluid"].startswith("DOT 4") else ["DOT 3", "DOT 4", "DOT 5.1"]


def a_range(text):
    """(least, most) of '1050-1100', a number of '-5.5' or '7'."""
    if text.startswith("-") or "-" not in text:
        return float(text)
    least, most = text.split("-")
    return float(least), float(most)


def brake_properties():
    label = "brake fluids and coolants", "brake fluids, properties"
    for row in rows("brake_fluid_properties.csv"):
        name = f"{row['property']}" + (f" {row['T_degC']} C" if row["T_degC"] else "")
        if row["property"] in BRAKE_ELSE:
            yield _case(*label, f"{row['fluid']}, {name}", row, row["value"], row["unit"], None, None, BRAKE_ELSE[row["property"]])
            continue
        word, ask = BRAKE_WORDS[row["property"]]
        for fluid_name in brake_names(row):
            made, celsius = fluid(fluid_name), float(row["T_degC"])
            yield _case(*label, f"{fluid_name}, {name}", row, a_range(row["value"]), row["unit"], ask(made, celsius), band_of(made, word, celsius))


# ---- coolants ----------------------------------------------------------------------------------------------------

def glycols():
    for row in rows("glycol_coolants.csv"):
        made, celsius = fluid(f"{row['glycol']} {row['vol_percent']} %"), float(row["T_degC"])
        state, warm = made.liquid.at(celsius + ICE), made.liquid.heat_at(celsius + ICE)
        for word, value, column, share, unit in (
                ("density", state.density, "density_kg_m3", 1e-3, "kg/m3"),
                ("specific heat", warm.specific_heat, "specific_heat_J_kgK", 1e-3, "J/(kg K)"),
                ("conductivity", warm.conductivity, "thermal_conductivity_W_mK", 4e-3, "W/(m K)"),
                ("viscosity", state.viscosity, "dynamic_viscosity_Pa_s", 0.02, "Pa s")):
            yield _case("brake fluids and coolants", f"glycol mixes, {word}", f"{row['glycol']} {row['vol_percent']} %, {row['T_degC']} C", row,
                        float(row[column]), unit, value, Bound(share,
                                                               why="the table's own roundness: 0.1 %, conductivity 0.4 %, viscosity 2 %",
                                                               kind="data"))


def glycol_freezing():
    for row in rows("glycol_freezing.csv"):
        if row["vol_percent"] != "0":
            own = row["source"] == "S29"
            yield _case("brake fluids and coolants", "glycol mixes, freezing", f"{row['glycol']} {row['vol_percent']} %", row,
                        float(row["freezing_point_degC"]), "C",
                        fluid(f"{row['glycol']} {row['vol_percent']} %").freezing_point.to("C"),
                        Bound(0.0, 0.05 if own else 0.7, "0.05 K; two further tables, rounded or of pure glycol: 0.7 K", "data" if own else "band"))


def coolant_limits():
    label = "brake fluids and coolants", "coolants, boiling and stiffness"
    for row in rows("coolant_limits.csv"):
        made, name = fluid(row["fluid"].replace(" vol %", " %")), f"{row['fluid']}, {row['property']}"
        if row["property"] == "isothermal bulk modulus":
            yield _case(*label, name, row, a_range(row["value"]), row["unit"], made.liquid.at(float(row["T_degC"]) + ICE).bulk_modulus / 1e9,
                        Bound(0.0, why="the range itself"))
        elif row["property"] == "vapour pressure":
            yield _case(*label, name, row, float(row["value"].removeprefix("about ")), row["unit"],
                        made.liquid.at(100 + ICE).vapour_pressure / 1e3, Bound())
        else:
            yield _case(*label, f"{name}, {row['p_kPa_abs']} kPa", row, a_range(row["value"]), row["unit"],
                        made.boiling_point(f"{row['p_kPa_abs']} kPaa").to("C"), Bound(0.0, 0.5, "half a kelvin"))


# ---- air and refrigerants ----------------------------------------------------------------------------------------

def air_table():
    label = "air and refrigerants", "air"
    for row in rows("air.csv"):
        state, name = air(f"{row['T_degC']} C", f"{row['p_kPa_abs']} kPaa"), f"{row['T_degC']} C"
        bound = Bound(3e-4, why="reference equations; their air weighs 28.9586 g/mol, ours 28.9644: 0.03 %, conductivity 0.01 %")
        yield _case(*label, f"density, {name}", row, float(row["density_kg_m3"]), "kg/m3", state.density.si, bound)
        yield _case(*label, f"kinematic viscosity, {name}", row, float(row["kinematic_viscosity_mm2_s"]), "mm2/s",
                    state.kinematic_viscosity.to("mm2/s"), bound)
        yield _case(*label, f"conductivity, {name}", row, float(row["thermal_conductivity_W_mK"]), "W/(m K)", state.conductivity.si,
                    bound._replace(relative=1e-4))


def refrigerants():
    label = "air and refrigerants", "refrigerants, saturation"
    for row in rows("refrigerants_saturation.csv"):
        celsius, name = float(row["T_degC"]), f"{row['fluid']}, {row['T_degC']} C"
        left_out = "colder than our data" if celsius <= -45 else "the critical point: liquid and vapour become one, refused" if row["note"] == "critical point" else ""
        if left_out:
            yield _case(*label, name, row, float(row["saturation_pressure_kPa_abs"]), "kPa", None, None, left_out)
            continue
        state = refrigerant(row["fluid"]).at(f"{row['T_degC']} C")
        why = "reference equations, as rounded: 0.1 %, vapour 0.3 %"
        yield _case(*label, f"{name}, pressure", row, float(row["saturation_pressure_kPa_abs"]), "kPa", state.pressure.si / 1e3,
                    Bound(1e-3, why=why, kind="data"))
        if row["liquid_density_kg_m3"]:
            yield _case(*label, f"{name}, liquid density", row, float(row["liquid_density_kg_m3"]), "kg/m3", state.liquid_density.si,
                        Bound(1e-3, why=why, kind="data"))
            yield _case(*label, f"{name}, vapour density", row, float(row["vapour_density_kg_m3"]), "kg/m3", state.vapour_density.si,
                        Bound(3e-3, why=why, kind="data"))


# U.S. Standard Atmosphere 1976, table I, geometric altitude (from memory).
ATMOSPHERE = {0: 101.325, 1000: 89.876, 2000: 79.501, 3000: 70.121, 5000: 54.048, 8000: 35.651, 10000: 26.500}


def atmosphere():
    for metres, kilopascals in ATMOSPHERE.items():
        yield Case("air and refrigerants", "standard atmosphere", f"{metres} m", "U.S. Standard Atmosphere 1976, table I", "memory",
                   kilopascals, "kPa",
                   standard_pressure(f"{metres} m").to("kPaa"), Bound(0.0, 0.002, "three decimals printed: 0.002 kPa"))


def cases():
    for part in (brake_limits, brake_properties, glycols, glycol_freezing, coolant_limits, air_table, refrigerants, atmosphere):
        yield from part()
