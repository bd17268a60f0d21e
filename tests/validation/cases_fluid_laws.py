"""Every row of correlation_checks.csv whose correlation flarenut has, reproduced within 0.1 %.

The rows carry published values with their sources (tests/data/fluids/SOURCES.md); `computed_value` is the correlation
evaluated independently. Where a correlation misses the published value, the miss is the correlation's own.
"""

import re

from published_case import Bound, Case
from reference import fluid_rows as rows

from flarenut._core import fluids as core
from flarenut.fluids import fluid, refrigerant
from flarenut.fluids.oils import index_table

ICE = 273.15
PSI = 6894.757
NUMBER = r"(-?\d+(?:\.\d+)?(?:e[+-]?\d+)?)"

# Correlations that stay out, and why.
NOT_IMPLEMENTED = {
    "C08": "Roelands: pressures here stay below 20 MPa, where Barus differs from it by less than oils differ from each other",
    "C10": "Vogel constants of SAE grades, from memory: oils come from sampled viscosities; test_fluid_families.py holds them beside these",
    "C17": "Gambill: one mixing rule is enough, and Refutas is the one in the refining literature for fuels this thin",
    "C22": "chart factors of one handbook: the charts were not read, so there is nothing to compute; aerated_modulus stands in",
}


CHECKS = rows("correlation_checks.csv")


def numbers(text):
    return [float(n) for n in re.findall(NUMBER, text)]


def points(text):
    """(degC, viscosity) pairs of '40 degC 404; 100 degC 28'."""
    return [(float(t), float(v)) for t, v in re.findall(rf"{NUMBER} degC {NUMBER}", text)]


def walther(pairs, ice=ICE, thin=False):
    (t1, v1), (t2, v2) = pairs
    return core.walther(t1 + ice, v1 * 1e-6, t2 + ice, v2 * 1e-6, thin)


def target(row):
    """The temperature asked for, stated after 'at' in the inputs or in the name of the case."""
    stated = re.search(rf"at {NUMBER} degC", row["inputs"].split("density")[0]) or re.search(rf"(?:at )?{NUMBER} degC", row["case"])
    return float(stated[1])


def c01(row):
    inputs, case = row["inputs"], row["case"]
    if case.startswith("worked sheet"):  # the sheet takes 273 K for 0 degC; the second and third rows say 'same'
        law = walther([(40, 32), (100, 5.4)], ice=273.0)
        if case.endswith((": A", ": B")):
            return law.constants[case[-1]]
        return law.at(80 + 273.0) * 1e6
    if "mPa.s" in inputs or "dynamic viscosity" in case:  # dynamic viscosities, kinematic by the D1250 density
        density = core.lubricant_density(float(re.search(rf"density {NUMBER}", inputs)[1]))
        if "mPa.s" in inputs:
            dynamic = [(30.0, float(re.search(rf"30 degC {NUMBER}", inputs)[1])),
                       (100.0, float(re.search(rf"100 degC {NUMBER}", inputs)[1]))]
            pairs = [(t, v / density.at(t + ICE) * 1e3) for t, v in dynamic]
            at = 60.0
        else:
            pairs, at = points(inputs)[:2], -40.0
        return walther(pairs).at(at + ICE) * density.at(at + ICE) * 1e3
    return walther(points(inputs)[:2]).at(target(row) + ICE) * 1e6


def c02(row):
    return walther(points(row["inputs"])[:2], thin=True).at(20 + ICE) * 1e6


def index(row):
    u, y = (float(re.search(rf"{letter} {NUMBER}", row["inputs"])[1]) for letter in "UY")
    return core.viscosity_index(index_table(), u, y)


def c09(row):
    oil = row["case"].split(": Vogel")[0]
    measured = [(float(r["T_degC"]) + ICE, float(r["dynamic_viscosity_mPa_s"]) * 1e-3)
                for r in rows("pressure_viscosity.csv") if r["oil"] == oil]
    found = core.vogel([t for t, _ in measured], [v for _, v in measured]).constants
    return [found["a"], found["b"], found["c"] - ICE]


def c11(row):
    inputs, case = row["inputs"], row["case"]
    if "expansion" in case:
        density = 745.0 if "gasoline" in case else 840.0
        return core.petroleum_density(density).constants["expansion"]
    if case.startswith("worked"):
        law = (core.lubricant_density if "engine oil" in case else core.petroleum_density)(numbers(case)[0])
        return [law.at(t + ICE) for t in numbers(inputs)]
    return core.petroleum_density(811.5).at(numbers(case)[-1] + ICE)


def c12(row):
    return core.lubricant_density(870.0).constants["expansion"] * 870.0 / 0.34878


def c13(row):
    reid, fahrenheit = numbers(row["case"])
    return core.refined_stock(reid * 6894.757, 3.0).at((fahrenheit + 459.67) / 1.8) / 6894.757


def c16(row):
    return core.refutas(0.6, 5.0, 20.0)


def c25(row):
    law = core.mineral_oil_bulk_modulus(85e-6)
    return [law.at(t + ICE) / 1e9 for t in (20, 50, 100)]


def petroleum(law):
    def evaluate(row):
        gravity = float(re.search(r" (0\.\d+)", row["case"])[1])
        return law(gravity).at(float(re.search(rf"T {NUMBER} degC", row["inputs"])[1]) + ICE)
    return evaluate


def c21(row):
    """Entrained air: the chart's case in psi, and the worked one in GPa over gauge pressures in MPa."""
    if row["case"].startswith("air factor"):
        liquid, exponent = 300000 * PSI, float(row["case"].split("n=")[1])
        return core.aerated_modulus(liquid, 0.02, 500 * PSI + 101325, exponent) / liquid
    return [core.aerated_modulus(1.5e9, 0.01, mega * 1e6 + 101325, 1.4) / 1e9 for mega in (0.1, 0.5, 1, 5, 10)]


def c23(row):
    modulus, expansion, warming = numbers(row["inputs"].replace("psi", ""))
    return core.trapped_pressure_rise(modulus, expansion, warming)


def c24(row):
    """The row gives the slow modulus of water at 20 degC from the fast one, rho c^2 with 1482.35 m/s (water.csv)."""
    any_modulus, density, expansion = 2e9, 998.2072, float(row["inputs"].split()[-2])
    gap = 1 / any_modulus - 1 / core.isentropic_modulus(any_modulus, 293.15, expansion, density, 4184.05)
    return 1 / (1 / (density * 1482.35**2) + gap) / 1e9


def boiling_curve(row):
    """Saturation pressure [kPa] or density [kg/m3] of a refrigerant at the temperature in the case or the inputs."""
    celsius = numbers(row["case"])[-1] if "point" not in row["case"] else numbers(row["inputs"])[0]
    state = refrigerant(row["correlation"].split()[0]).at(f"{celsius} C")
    return state.liquid_density.si if "density" in row["case"] else state.pressure.si / 1e3


def pure_fuel(row):
    name, kelvin = row["case"].split()[0], float(row["case"].split(" at ")[1].split()[0])
    return fluid(name).liquid.at(kelvin).density


def glycol(row):
    """Density, viscosity or freezing point of a half-and-half mix; specific heat at 20 degC, as the row computes it."""
    made = fluid(row["case"][:2] + " 50 %")
    state, heat = made.liquid.at(20 + ICE), made.liquid.heat_at(20 + ICE)
    if "freezing" in row["case"]:
        return made.freezing_point.to("C")
    if "viscosity" in row["case"]:
        return state.viscosity * 1e3
    return heat.specific_heat if "specific heat" in row["case"] else state.density


IMPLEMENTED = {"C01": c01, "C02": c02, "C04": index, "C05": index, "C09": c09, "C11": c11, "C12": c12, "C13": c13,
               "C16": c16, "C25": c25, "C26": petroleum(core.petroleum_specific_heat),
               "C27": petroleum(core.petroleum_conductivity), "C21": c21, "C23": c23, "C24": c24,
               "R-134a equation of state": boiling_curve, "R-1234yf equation of state": boiling_curve,
               "pure-fuel equation of state": pure_fuel, "glycol table cross-check": glycol}

# Rows whose own table or fluid we do not carry, or that we answer from another source, with the reason.
EXCEPTIONS = {
    "saturation pressure at -80 degC": "colder than our data, -40 degC, and than any vehicle",
    "liquid density at -80 degC": "colder than our data, -40 degC, and than any vehicle",
    "toluene liquid density at 320 K": "a stand-in, no fluid of ours",
    "toluene liquid density at 350 K": "a stand-in, no fluid of ours",
}


EXACT = Bound(1e-3, why="the law evaluated independently: 0.1 %")


def answers(row):
    """Ours, as a list: some rows ask for several numbers."""
    found = IMPLEMENTED[row["correlation"]](row)
    return found if isinstance(found, list) else [found]


def _name(row):
    return f"{row['correlation']} {row['case']}"


def evaluated(row):
    """Ours against the law as evaluated independently, number for number."""
    expected, values = numbers(row["computed_value"]), answers(row)
    if len(expected) != len(values):
        raise ValueError(f"{_name(row)}: {len(values)} answers for {len(expected)} numbers")
    for place, (wanted, value) in enumerate(zip(expected, values), 1):
        yield Case("fluid laws", "evaluated independently", _name(row) + (f" ({place} of {len(values)})" if len(values) > 1 else ""), row["source"],
                   f"{row['how']}, value computed from the equation", wanted, row["published_unit"], value, EXACT)


def as_published(row):
    """Ours against the published figure. Where the law itself misses it, by as much as the independent evaluation of the law does."""
    miss = abs(float(row["deviation_percent"])) / 100
    unsaid = "stated index and stated viscosities of the sheet disagree" if "VI from stated" in row["case"] else "two published tables differ"
    own = "" if row["correlation"].startswith("glycol") else "the law's own miss: "
    reason = own + (row["note"] or unsaid) if miss > 0.02 else ""
    return Case("fluid laws", "as published", _name(row), row["source"], row["how"], float(row["published_value"]), row["published_unit"],
                answers(row)[0],
                Bound(max(0.02, miss + 2e-3), why="2 %, or what the law itself misses by"), reason)


def left_out(row):
    why = NOT_IMPLEMENTED.get(row["correlation"]) or EXCEPTIONS[row["case"]]
    return Case("fluid laws", "not carried", _name(row), row["source"], row["how"], row["published_value"] or row["computed_value"],
                row["published_unit"],
                None, None, why)


def cases():
    for row in CHECKS:
        if row["correlation"] in NOT_IMPLEMENTED or row["case"] in EXCEPTIONS:
            yield left_out(row)
            continue
        yield from evaluated(row)
        if re.fullmatch(NUMBER, row["published_value"]):
            yield as_published(row)
