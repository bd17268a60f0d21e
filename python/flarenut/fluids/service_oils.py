"""Oils that go by their use: transmission fluids, steering and hydraulic fluids, and ISO VG grades."""

from functools import cache

from . import cold as cold_words
from .._core import fluids as core
from .oils import index_table
from .properties import Fluid
from .records import kelvin, rows, toml
from .samples import kinematic, mean, middle, reach, two_points

_ATF = {"ATF": "", "mineral ATF": "older mineral", "synthetic ATF": "synthetic ATF", "low-viscosity ATF": "low-viscosity"}


def transmission_fluids() -> tuple[str, ...]:
    """Names of the kinds of automatic transmission fluid on file."""
    return tuple(_ATF)


@cache
def transmission_fluid(name: str) -> Fluid:
    """The mean of the sampled transmission fluids of a kind; in the cold it follows their measured viscosities at -40 C."""
    samples = [row for row in rows("atf.csv") if row["type"].startswith(_ATF[name])]
    kv40, kv100, density = (mean(float(s[c]) for s in samples) for c in ("kv40_mm2_s", "kv100_mm2_s", "density_kg_m3"))
    cold = [kinematic(-40.0, float(s["rotational_minus40C_mPa_s"]), float(s["density_kg_m3"])) for s in samples
            if s["rotational_minus40C_mPa_s"]]
    liquid = core.oil(name, two_points(kv40, kv100), density, kelvin(-40.0),
                      f"mean of {len(samples)} data sheets ({', '.join(s['sample'] for s in samples)}): {samples[0]['source']}",
                      "seen; derived (mean)", max(0.10, *(reach(float(s[c]) for s in samples) for c in ("kv40_mm2_s", "kv100_mm2_s"))), 0.03,
                      cold_samples=middle(cold),
                      cold_caution=cold_words.of_transmission_fluids(len(cold)),
                      cold_reason="transmission fluids are measured at -40 degC, colder nobody states them; warm the fluid")
    return Fluid(liquid, (f"{name}: mean of {len(samples)} sampled fluids. Give the two viscosities of your own when you have them.",))


def used_oils() -> dict[str, str]:
    """Name to key of the oils in hydraulic_fluids.toml."""
    return {entry["name"]: key for key, entry in toml("hydraulic_fluids.toml").items()}


@cache
def used_oil(key: str) -> Fluid:
    """Steering, tractor and aircraft hydraulic fluids."""
    entry = toml("hydraulic_fluids.toml")[key]
    density = entry["density_15"]
    cold = [kinematic(t, v, density) for t, v in entry.get("cold_mPa_s", ())]
    cold += [(kelvin(t), v * 1e-6) for t, v in entry.get("cold_mm2_s", ())]
    limit = entry["cold_limit_C"]
    liquid = core.oil(entry["name"], [(kelvin(t), v * 1e-6) for t, v in entry["points"]], density, kelvin(limit), entry["source"],
                      entry["how"], entry["grade_band"], entry["density_band"], cold_samples=cold,
                      cold_caution=cold_words.BEYOND_SAMPLES if cold else "",
                      cold_reason=f"nothing is on file for it below {limit:g} degC; warm the fluid")
    return Fluid(liquid, (entry["note"],))


@cache
def industrial_grades() -> tuple[str, ...]:
    """ISO 3448 viscosity grades that ASTM D2270 can carry to 100 C, as texts."""
    return tuple(row["iso_vg"] for row in rows("iso_3448_grades.csv") if float(row["kv40_mid_mm2_s"]) >= 10)


@cache
def industrial_oil(grade: str) -> Fluid:
    """An ISO VG grade: its mid-point viscosity at 40 C, a viscosity index of 100 and 875 kg/m3 taken."""
    row = next(r for r in rows("iso_3448_grades.csv") if r["iso_vg"] == grade)
    nominal, least, most = (float(row[f"kv40_{word}_mm2_s"]) for word in ("mid", "min", "max"))
    hot = core.viscosity_100_from_index(index_table(), nominal, 100.0)
    liquid = core.oil(f"ISO VG {grade}", two_points(nominal, hot), 875.0,
                      source="ISO 3448 mid-point; viscosity index 100 by ASTM D2270",
                      how=f"{row['how']}; common practice (index and density)", grade_band=(most - least) / (most + least),
                      density_band=0.03)
    return Fluid(liquid, (f"ISO VG {grade} taken with a viscosity index of 100 and 875 kg/m3 at 15 C.",))
