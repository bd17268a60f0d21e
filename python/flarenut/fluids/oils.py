"""Oils by grade or by the two viscosities on a data sheet, and a liquid given by constant numbers."""

from functools import cache

from .. import units
from .._core import fluids as core
from .errors import FluidError
from .properties import Fluid, remembered
from .records import kelvin, rows

_15_C = kelvin(15.0)


@remembered
def oil(kv40=None, kv100=None, *, density="870 kg/m3", points=None, pour_point=None, name="oil"):
    """An oil from its data sheet.

    Between and beyond the points viscosity follows ASTM D341. From 40 and 100 C alone it reads far too thin below
    about -20 C for multigrades; give a low-temperature point when the sheet has one.

    Parameters
    ----------
    kv40, kv100 : kinematic viscosity at 40 C and 100 C, "95 cSt"
    density : at 15 C
    points : further or other viscosities, ``{"-20 C": "4500 cSt"}`` or pairs
    pour_point : below it the oil is refused; -40 C unless given
    name : name in messages

    Returns
    -------
    Fluid

    >>> sample = oil(kv40="95 cSt", kv100="14 cSt", density="865 kg/m3")
    >>> round(sample.at("100 C").kinematic_viscosity.to("cSt"), 2)
    14.0
    """
    pairs = [("40 C", kv40), ("100 C", kv100)]
    pairs = [(t, v) for t, v in pairs if v is not None]
    if points is not None:
        pairs += list(points.items()) if hasattr(points, "items") else list(points)
    si = [(units.parse(t, "temperature", name="temperature of a viscosity"),
           units.parse(v, "kinematic_viscosity", name=f"viscosity at {t}")) for t, v in pairs]
    if len(si) < 2:
        raise FluidError(name, f"'{name}' has {len(si)} viscosity; an oil needs two or more",
                         'write kv40="95 cSt", kv100="14 cSt", or points={"40 C": "95 cSt", ...}')
    pour = None if pour_point is None else units.parse(pour_point, "temperature", name="pour_point")
    return Fluid(core.oil(name, si, units.parse(density, "density", name="density"), pour))


@remembered
def constant_fluid(density, viscosity, *, vapour_pressure=None, specific_heat=None, conductivity=None,
                   bulk_modulus=None, name="constant fluid"):
    """A liquid that changes neither with temperature nor, unless a bulk modulus is given, with pressure.

    Parameters
    ----------
    density : "740 kg/m3"
    viscosity : dynamic, "0.5 cP", or kinematic, "0.68 cSt"
    vapour_pressure : absolute; zero unless given, so that suction margin is then measured to vacuum
    specific_heat, conductivity, bulk_modulus : 2000 J/kg/K, 0.13 W/m/K and 1.5 GPa are assumed
    name : name in messages

    >>> plain = constant_fluid(density="740 kg/m3", viscosity="0.68 cSt")
    >>> round(plain.at("20 C").viscosity.to("cP"), 4)
    0.5032
    """
    def optional(value, kind, word):
        return None if value is None else units.parse(value, kind, name=word)

    rho = units.parse(density, "density", name="density")
    return Fluid(core.constant_liquid(
        name, rho, units.parse(viscosity, "dynamic_viscosity", name="viscosity", density=rho),
        optional(vapour_pressure, "pressure_absolute", "vapour_pressure") or 0.0,
        optional(specific_heat, "specific_heat", "specific_heat"),
        optional(conductivity, "thermal_conductivity", "conductivity"),
        optional(bulk_modulus, "bulk_modulus", "bulk_modulus")))


@cache
def engine_oil_grades():
    """Grades with at least one sample on file, in the file's order."""
    return tuple(dict.fromkeys(row["sae_grade"] for row in rows("engine_oils.csv")))


def engine_oil(grade):
    """The middle of the sampled oils of an SAE J300 grade: means of viscosity and density.

    Two oils of one grade may differ as far as SAE J300 lets them at 100 C; half of that is the band of viscosity, and half
    the spread over all sampled oils that of density.
    """
    samples = [row for row in rows("engine_oils.csv") if row["sae_grade"] == grade]

    def mean(column):
        return sum(float(row[column]) for row in samples) / len(samples)

    hot = grade.split("W-")[-1]
    limits = next(row for row in rows("sae_j300_limits.csv") if row["grade"] == hot)
    least, most = float(limits["kv100_min_mm2_s"]), float(limits["kv100_max_exclusive_mm2_s"])
    names = ", ".join(row["sample"] for row in samples)
    densities = [float(row["density_kg_m3"]) for row in rows("engine_oils.csv")]
    source = f"mean of {len(samples)} data sheets ({names}): {samples[0]['source']}"
    liquid = core.oil(f"SAE {grade}", [(kelvin(40.0), mean("kv40_mm2_s") * 1e-6), (kelvin(100.0), mean("kv100_mm2_s") * 1e-6)],
                      mean("density_kg_m3"), source=source, how="seen; derived (mean)",
                      grade_band=(most - least) / (most + least),
                      density_band=(max(densities) - min(densities)) / (max(densities) + min(densities)))
    notes = (f"Typical SAE {grade}: mean of {len(samples)} sampled oils. Give the two viscosities of your own oil when you have them.",)
    return Fluid(liquid, notes)


@cache
def index_table():
    """The table of ASTM D2270 for the engine."""
    table = rows("d2270.csv")
    return core.ViscosityIndexTable(*([float(row[c]) for row in table]
                                      for c in ("kv100_mm2_s", "L_kv40_mm2_s", "H_kv40_mm2_s")))


def viscosity_index(kv40, kv100):
    """Viscosity index by ASTM D2270 from kinematic viscosity at 40 C and 100 C.

    >>> round(viscosity_index("73.30 cSt", "8.86 cSt"))
    92
    """
    nu40 = units.parse(kv40, "kinematic_viscosity", name="kv40")
    nu100 = units.parse(kv100, "kinematic_viscosity", name="kv100")
    return core.viscosity_index(index_table(), nu40 * 1e6, nu100 * 1e6)


@cache
def industrial_grades():
    """ISO 3448 viscosity grades that ASTM D2270 can carry to 100 C, as texts."""
    return tuple(row["iso_vg"] for row in rows("iso_3448_grades.csv") if float(row["kv40_mid_mm2_s"]) >= 10)


def industrial_oil(grade):
    """An ISO VG grade: its mid-point viscosity at 40 C, a viscosity index of 100 and 875 kg/m3 taken."""
    row = next(r for r in rows("iso_3448_grades.csv") if r["iso_vg"] == grade)
    middle, least, most = (float(row[f"kv40_{word}_mm2_s"]) for word in ("mid", "min", "max"))
    hot = core.viscosity_100_from_index(index_table(), middle, 100.0)
    liquid = core.oil(f"ISO VG {grade}", [(kelvin(40.0), middle * 1e-6), (kelvin(100.0), hot * 1e-6)], 875.0,
                      source="ISO 3448 mid-point; viscosity index 100 by ASTM D2270",
                      how=f"{row['how']}; common practice (index and density)", grade_band=(most - least) / (most + least),
                      density_band=0.03)
    return Fluid(liquid, (f"ISO VG {grade} taken with a viscosity index of 100 and 875 kg/m3 at 15 C.",))
