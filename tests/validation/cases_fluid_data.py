"""Water, alcohols, fuels and blends of the catalogue against published tables. Sources: tests/data/fluids/SOURCES.md and the `source` column."""

from published_case import Bound, Case
from reference import fluid_rows as rows

from flarenut._core import fluids as core
from flarenut.fluids import fluid
from flarenut.fluids.records import ethanol_blend, gasoline_record

ICE = 273.15
PSI = 6894.757
BAND = "the uncertainty that the fluid itself states there"


def band_of(made, word, celsius):
    return Bound(made.band(word, f"{celsius} C"), why=BAND, kind="band")


def _case(topic, group, name, row, published, unit, value, bound, reason=""):
    return Case(topic, group, name, row["source"], row["how"], published, unit, value, bound, reason)


# ---- water -----------------------------------------------------------------------------------------------------

WATER = {"density_kg_m3": ("density", 1.0, "kg/m3"), "specific_heat_cp_J_kgK": ("specific heat", 1.0, "J/(kg K)"),
         "dynamic_viscosity_Pa_s": ("viscosity", 1.0, "Pa s"), "thermal_conductivity_W_mK": ("conductivity", 1.0, "W/(m K)"),
         "isothermal_bulk_modulus_GPa": ("bulk modulus", 1e9, "GPa"), "saturation_pressure_kPa": ("vapour pressure", 1e3, "kPa")}


def water():
    for row in rows("water.csv"):
        celsius = float(row["T_degC"])
        state = fluid("water").liquid.at(celsius + ICE, float(row["p_kPa_abs"]) * 1e3)
        for column, (word, factor, unit) in WATER.items():
            boiled = celsius == 90 and word == "bulk modulus"
            bound = Bound(0.002 if word == "bulk modulus" else 0.001, why="reference equations, as rounded: 0.1 %, bulk modulus 0.2 %", kind="data")
            yield _case("water and alcohols", f"water, {word}", f"{row['T_degC']} C", row, float(row[column]), unit,
                        getattr(state, word.replace(" ", "_")) / factor, None if boiled else bound,
                        "an evaluation on the vapour side of the table's own equation: no liquid value" if boiled else "")


# ---- alcohols --------------------------------------------------------------------------------------------------

SATURATION = {"saturation_pressure_kPa": ("vapour pressure", 1e3, "kPa"), "liquid_density_kg_m3": ("density", 1.0, "kg/m3"),
              "liquid_cp_J_kgK": ("specific heat", 1.0, "J/(kg K)"), "liquid_dynamic_viscosity_Pa_s": ("viscosity", 1.0, "Pa s"),
              "liquid_thermal_conductivity_W_mK": ("conductivity", 1.0, "W/(m K)")}
# Outside the outer limits (-40 to 120 C), so not ours to answer.
BEYOND = {("ethanol", "151.85"), ("methanol", "-43.15"), ("methanol", "136.85")}
STAND_INS = {"n-heptane", "n-octane", "toluene"}


def alcohols():
    for row in rows("pure_fuels_saturation.csv"):
        left_out = ("a stand-in, no fluid of ours" if row["fluid"] in STAND_INS
                    else "outside our outer limits, -40 to 120 C: refused" if (row["fluid"], row["T_degC"]) in BEYOND else "")
        celsius = float(row["T_degC"])
        made = None if left_out else fluid(row["fluid"])
        state = None if left_out else made.liquid.at(celsius + ICE, max(float(row["saturation_pressure_kPa"]) * 1e3, 101325))
        for column, (word, factor, unit) in SATURATION.items():
            if row[column]:
                yield _case("water and alcohols", f"alcohols, {word}", f"{row['fluid']} {row['T_degC']} C", row, float(row[column]), unit,
                            None if left_out else getattr(state, word.replace(" ", "_")) / factor,
                            None if left_out else band_of(made, word, celsius), left_out)


def alcohols_under_pressure():
    """Density and tangent bulk modulus up to 10 MPa: this is what checks the Murnaghan form and K'."""
    for row in rows("bulk_modulus.csv"):
        if row["fluid"] in ("ethanol", "methanol"):
            state = fluid(row["fluid"]).liquid.at(float(row["T_degC"]) + ICE, float(row["p_kPa_abs"]) * 1e3)
            name = f"{row['fluid']} {row['T_degC']} C {row['p_kPa_abs']} kPa"
            yield _case("water and alcohols", "alcohols under pressure, density", name, row, float(row["original"].split()[1]), "kg/m3",
                        state.density,
                        Bound(0.001, why="reference equations: 0.1 %"))
            yield _case("water and alcohols", "alcohols under pressure, bulk modulus", name, row, float(row["bulk_modulus_GPa"]), "GPa",
                        state.bulk_modulus / 1e9, Bound())


def alcohol_densities():
    for row in rows("correlation_checks.csv"):
        if row["correlation"] == "pure-fuel equation of state" and "toluene" not in row["case"]:
            name, kelvin = row["case"].split()[0], float(row["case"].split(" at ")[1].split()[0])
            yield _case("water and alcohols", "alcohols, saturated density", row["case"], row, float(row["published_value"]), "kg/m3",
                        fluid(name).liquid.at(kelvin).density, Bound(0.005, why="two published equations differ by less: 0.5 %"))


def antoine():
    """The law on its constants; and our tables by the published value, not by the constants, which miss it by up to 3.5 %."""
    for row in rows("antoine_constants.csv"):
        if not row["check_T_degC"]:
            continue
        celsius, name = float(row["check_T_degC"]), f"{row['fluid']} {row['check_T_degC']} C ({row['source'].split()[0]})"
        law = core.antoine_mmhg(*(float(row[c]) for c in "ABC"))
        yield _case("water and alcohols", "Antoine's law", name, row, float(row["computed_kPa"]), "kPa", law.at(celsius + ICE) / 1e3,
                    Bound(1e-3, why="the law evaluated independently: 0.1 %"))
        if row["fluid"] in ("ethanol", "methanol", "water"):
            made = fluid(row["fluid"])
            yield _case("water and alcohols", "boiling pressures", name, row, float(row["check_published_kPa"]), "kPa",
                        made.liquid.at(celsius + ICE).vapour_pressure / 1e3, band_of(made, "vapour pressure", celsius))


# ---- gasoline and diesel ---------------------------------------------------------------------------------------

def vapour_pressures():
    for row in rows("vapour_pressure_ap42.csv"):
        gasoline = row["fluid"].startswith("gasoline")
        made = fluid("gasoline", reid=f"{row['fluid'].split()[-1]} psi") if gasoline else fluid("diesel")
        bound = Bound(why="the table is rounded to 0.1 psi: 2 %") if gasoline else Bound(0.001, why="0.1 %")
        yield _case("fuels", "vapour pressure", f"{row['fluid']} {row['T_degF']} F", row, float(row["true_vapour_pressure_kPa"]), "kPa",
                    made.liquid.at((float(row["T_degF"]) + 459.67) / 1.8).vapour_pressure / 1e3, bound)


def stand_in_name(row):
    share = 100 * float(row["ethanol_volume_share"])
    return f"{row['gasoline_reid_psi']} psi" + (f" E{share:.0f}" if share else "") + f", {row['T_degC']} C"


def stand_in_mixtures():
    """Hot gasoline beside an ideal mixture of nine hydrocarbons with handbook vapour pressures; blends beside group contributions, nothing fitted."""
    for row in rows("stand_in_gasoline.csv"):
        share, celsius, reid = float(row["ethanol_volume_share"]), float(row["T_degC"]), row["gasoline_reid_psi"]
        if share:
            liquid = core.Liquid(f"E{100 * share:g}", gasoline_record(float(reid) * PSI), ethanol_blend(share))
            bound = Bound(liquid.band(5, celsius + ICE), why=BAND, kind="band")
        else:
            made = fluid("gasoline", reid=f"{reid} psi")
            liquid, bound = made.liquid, band_of(made, "vapour pressure", celsius)
        yield _case("fuels", "vapour pressure of blends, a mixture as judge" if share else "vapour pressure of hot gasoline, a mixture as judge",
                    stand_in_name(row), row, float(row["bubble_pressure_kPa"]), "kPa", liquid.at(celsius + ICE).vapour_pressure / 1e3, bound)


FUEL_NAMES = {"gasoline": "gasoline", "E10": "E10", "E85": "E85", "ethanol": "ethanol", "methanol": "methanol",
              "diesel No. 2": "diesel", "diesel EN 590 temperate": "diesel", "diesel EN 590 arctic class 0": "diesel No. 1",
              "diesel ASTM D975 No. 2-D": "diesel", "diesel ASTM D975 No. 1-D": "diesel No. 1",
              "jet fuel JP-8 (kerosene, near No. 1 diesel)": "diesel No. 1"}
# One table holds 1.04 mm2/s at 0 C; two others (-20 and 20 C) and Perry's put it near 0.96, and its ethanol density is wrong too.
OUTLIERS = {("methanol", "kinematic viscosity", "0"): "one table alone holds 1.04 mm2/s; two others, at -20 and 20 C, and a handbook put it near 0.96"}
NOT_CARRIED = {"boiling range", "latent heat of vaporisation", "freezing point", "flash point"}
FUEL_WORDS = {"density": ("density", lambda s: s.density), "kinematic viscosity": ("viscosity", lambda s: s.viscosity / s.density * 1e6),
              "specific heat": ("specific heat", lambda s: s.specific_heat), "thermal conductivity": ("conductivity", lambda s: s.conductivity),
              "isothermal bulk modulus": ("bulk modulus", lambda s: s.bulk_modulus),
              "Reid vapour pressure": ("vapour pressure", lambda s: s.vapour_pressure / 1e3)}


def fuel_case(row):
    made, word = fluid(FUEL_NAMES[row["fluid"]]), row["property"]
    name = f"{row['fluid']}, {word}" + (f" {row['T_degC']} C" if row["T_degC"] else "")

    def case(published, value, bound, reason="", unit=row["unit_SI"]):
        return _case("fuels", "published ranges", name, row, published, unit, value, bound, reason)

    if word in NOT_CARRIED:
        return case(row["value_original"], None, None, "no property of ours")
    least, most = float(row["value_min"]), float(row["value_max"])
    if word == "stoichiometric air-fuel ratio":
        return case((least, most), made.stoichiometric_air_fuel_ratio, Bound(0.001, why="0.1 %"))
    if word == "lower heating value":
        return case((least, most), made.lower_heating_value.si / 1e6, Bound(0.001, why="0.1 %"))
    if word == "boiling point":
        return case(101.325, made.liquid.at(least + ICE).vapour_pressure / 1e3,
                    Bound(0.03, why="vapour pressure at the boiling point: 3 %, a kelvin", kind="band"),
                    unit="kPa there")
    celsius = float(row["T_degC"])
    state = made.liquid.at(celsius + ICE)
    if word == "volumetric thermal expansion":
        warmer = made.liquid.at(celsius + ICE + 1.0)
        return case(least, 1 - warmer.density / state.density, Bound(0.11, why="sources of expansion differ by 17 %: 11 %", kind="band"))
    name_of, ask = FUEL_WORDS[word]
    reason = OUTLIERS.get((row["fluid"], word, row["T_degC"]), "")
    bound = Bound(0.09, why="listed") if reason else band_of(made, name_of, celsius)
    return case((least, most) if most > least else least, ask(state), bound, reason)


# ---- blends ----------------------------------------------------------------------------------------------------

def reid(note):
    """In kPa, as the table has it."""
    return round(100.0 * float(note.split("Reid vapour pressure ")[1].split(" bar")[0]), 6)


def ethanol_mass_share(made):
    """From the heating value, which mixes by mass: w = (LHV - LHV_gasoline)/(LHV_ethanol - LHV_gasoline)."""
    pure, base = fluid("ethanol").lower_heating_value.si, fluid("gasoline").lower_heating_value.si
    return (made.lower_heating_value.si - base) / (pure - base)


def blend_case(row):
    made, quantity = fluid(row["blend"]), row["quantity"]
    state = made.liquid.at(15 + ICE if "15" in quantity else 20 + ICE)
    if quantity == "vapour pressure":
        published, value, bound = tuple(float(v) for v in row["value"].split("-")), reid(made.notes[0]), Bound(0.0, why="the range itself")
    elif quantity == "RVP change against base gasoline":
        published, value = float(row["value"]), reid(made.notes[0]) - reid(fluid("gasoline class A").notes[0])
        bound = Bound(0.0, 0.6, "0.6 kPa", "band")
    else:
        value, share = {"density": lambda: (state.density, 0.002), "ethanol": lambda: (ethanol_mass_share(made), 0.002),
                        "stoichiometric": lambda: (made.stoichiometric_air_fuel_ratio, 0.001),
                        "lower": lambda: (made.lower_heating_value.si / 1e6, 0.001),
                        "kinematic": lambda: (state.viscosity / state.density * 1e6, 0.002)}[quantity.split()[0]]()
        # The table takes ethanol as 794 kg/m3, ours is 794.7.
        published, bound = float(row["value"]), Bound(share, why="mixing rules with slightly other pure fuels: 0.1 to 0.2 %")
    return _case("fuels", "blends", f"{row['blend']}, {quantity}", row, published, row["unit"], value, bound)


def cases():
    for part in (water, alcohols, alcohols_under_pressure, alcohol_densities, antoine, vapour_pressures, stand_in_mixtures):
        yield from part()
    yield from map(fuel_case, rows("fuels_properties.csv"))
    yield from map(blend_case, rows("blends.csv"))
