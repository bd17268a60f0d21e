"""Oils by their SAE grade: engine oils (J300) and gear oils (J306). Those that go by their use are in `service_oils`.

A grade allows a range and says little of the cold, so each liquid carries the band of its grade, ends where nobody promises
that it still flows, and says in its finding what its curve rests on down there.
"""

import re
from collections.abc import Sequence
from functools import cache
from typing import Any

from . import cold as cold_words
from .._core import fluids as core
from .errors import FluidError
from .oils import index_of, index_table
from .properties import Fluid
from .records import kelvin, rows
from .samples import kinematic, mean, middle, spread, two_points

STRAIGHT_ENGINE_LIMIT, STRAIGHT_GEAR_LIMIT = -20.0, -15.0  # degC; pour points of straight grades, -9 to -30 degC (memory)
GUESSED_INDEX_BAND = 0.10  # of viscosity at 40 C, where only that at 100 C is the grade's and the index is of like oils


def split_grade(grade: str) -> tuple[str, str]:
    """("10W", "40") of "10W-40", ("", "30") of "30"."""
    winter, _, hot = grade.rpartition("-")
    return winter, hot


# ---- engine oils -----------------------------------------------------------------------------------------------

@cache
def engine_oil_grades() -> tuple[str, ...]:
    """Grades with at least one sample on file, in the file's order."""
    return tuple(dict.fromkeys(row["sae_grade"] for row in rows("engine_oils.csv")))


def _limits(file: str, grade: str) -> dict[str, str] | None:
    return next((row for row in rows(file) if row["grade"] == grade), None)


def _row(file: str, grade: str) -> dict[str, str]:
    """`_limits` of a grade that is known to have some."""
    found = _limits(file, grade)
    assert found is not None, f"{grade} is in no row of {file}"
    return found


def _allowed(file: str, winter: str, hot: str) -> tuple[float, float]:
    """`_hot_range` of a grade whose halves are known to go together."""
    found = _hot_range(file, winter, hot)
    assert found is not None, f"{winter} and {hot} exclude each other"
    return found


def _hot_range(file: str, winter: str, hot: str) -> tuple[float, float] | None:
    """Least and most viscosity at 100 C [mm2/s] that both halves of a grade allow, or None where they exclude each other."""
    limits, cold = _limits(file, hot), _limits(file, winter) if winter else None
    if limits is None or (winter and cold is None):
        return None
    least = max(float(limits["kv100_min_mm2_s"]), float(cold["kv100_min_mm2_s"]) if cold else 0.0)
    most = float(limits["kv100_max_exclusive_mm2_s"] or 1.3 * least)  # the thickest gear grade has no upper limit
    return (least, most) if least < most else None


def _like(samples: Sequence[dict[str, str]], winter: str) -> list[dict[str, str]]:
    """Samples of the same winter grade, or straight ones for a straight grade; of the next thinner where there are none."""
    winters = [w for w in ("70W", "75W", "80W", "85W", "0W", "5W", "10W", "15W", "20W", "25W", "")]
    start = winters.index(winter)
    for other in [winter, *reversed(winters[:start]), *winters[start:]]:
        found = [s for s in samples if split_grade(s["sae_grade"])[0] == other]
        if found:
            return found
    raise AssertionError("no samples at all")


def _from_grade(file: str, grade: str, samples: Sequence[dict[str, str]], density_column: str) -> tuple[float, float, float, str]:
    """Viscosities of a grade without samples: the middle of its range at 100 C, with the index and density of like oils."""
    winter, hot = split_grade(grade)
    least, most = _allowed(file, winter, hot)
    like = _like(samples, winter)
    index = mean(index_of(float(s["kv40_mm2_s"]), float(s["kv100_mm2_s"])) for s in like)
    kv100 = 0.5 * (least + most)
    source = (f"middle of the grade at 100 degC; viscosity index {index:.0f} and density of {len(like)} sampled oils "
              f"({', '.join(s['sample'] for s in like)})")
    return core.viscosity_40_from_index(index_table(), kv100, index), kv100, mean(float(s[density_column]) for s in like), source


def is_engine_grade(grade: str) -> bool:
    """Whether J300 knows such an oil: "10W-40", "30"; its two halves must not exclude each other."""
    winter, hot = split_grade(grade)
    return not hot.endswith("W") and _hot_range("sae_j300_limits.csv", winter, hot) is not None


@cache
def engine_oil(grade: str) -> Fluid:
    """An oil of an SAE J300 grade: the mean of the sampled oils, or the middle of the grade where none was sampled.

    Two oils of one grade may differ as far as SAE J300 lets them at 100 C; half of that is the band of viscosity, and half
    the spread over all sampled oils that of density. The cold end is the grade's pumping temperature.
    """
    winter, hot = split_grade(grade)
    samples = [row for row in rows("engine_oils.csv") if row["sae_grade"] == grade]
    least, most = _allowed("sae_j300_limits.csv", winter, hot)
    band = (most - least) / (most + least)
    if samples:
        kv40, kv100, density = (mean(float(s[c]) for s in samples) for c in ("kv40_mm2_s", "kv100_mm2_s", "density_kg_m3"))
        source = f"mean of {len(samples)} data sheets ({', '.join(s['sample'] for s in samples)}): {samples[0]['source']}"
        notes = (f"Typical SAE {grade}: mean of {len(samples)} sampled oils. Give the two viscosities of your own oil when you have them.",)
    else:
        kv40, kv100, density, source = _from_grade("sae_j300_limits.csv", grade, rows("engine_oils.csv"), "density_kg_m3")
        band += GUESSED_INDEX_BAND
        notes = (f"SAE {grade}, none sampled: the middle of the grade. Give the two viscosities of your own oil when you have them.",)
    cold = [kinematic(float(s["mrv_T_degC"]), float(s["mrv_mPa_s"]), float(s["density_kg_m3"])) for s in samples if s["mrv_mPa_s"]]
    liquid = core.oil(f"SAE {grade}", two_points(kv40, kv100), density, source=source, how="seen; derived (mean)", grade_band=band,
                      density_band=spread(float(s["density_kg_m3"]) for s in rows("engine_oils.csv")),
                      cold_samples=middle(cold), **_engine_cold(winter, bool(cold)))
    return Fluid(liquid, notes)


def _engine_cold(winter: str, sampled: bool) -> dict[str, Any]:
    """Where a grade ends in the cold, why, and what its curve rests on below its data."""
    if not winter:
        return {"pour_point": kelvin(STRAIGHT_ENGINE_LIMIT),
                "cold_reason": "a straight grade promises nothing in the cold, and near there it stops pouring; choose a W grade",
                "cold_caution": "carried by ASTM D341; a straight grade thickens faster than that near its pour point"}
    limits = _row("sae_j300_limits.csv", winter)
    celsius = float(limits["pumping_T_degC"])
    promise = f"SAE J300 lets a {winter} oil reach {limits['pumping_mrv_max_mPa_s']} mPa s at {celsius:g} degC"
    rests = ("whose pumping viscosity it follows" if sampled else
             "carried by ASTM D341, which has missed pumping viscosities by -42 to +58 %")
    return {"pour_point": kelvin(celsius), "cold_caution": cold_words.of_grade(rests, promise),
            "cold_reason": f"{promise}, and promises nothing colder; choose a lower W grade or warm the oil"}


# ---- gear oils -------------------------------------------------------------------------------------------------

@cache
def gear_oil_grades() -> tuple[str, ...]:
    """J306 grades with at least one sample on file."""
    return tuple(dict.fromkeys(row["sae_grade"] for row in rows("gear_oils.csv")))


def is_gear_grade(grade: str) -> bool:
    """Whether J306 knows such an oil: "75W-90", "140"."""
    winter, hot = split_grade(grade)
    return not hot.endswith("W") and _hot_range("sae_j306_limits.csv", winter, hot) is not None


@cache
def gear_oil(grade: str) -> Fluid:
    """A gear oil of an SAE J306 grade, made like `engine_oil`; the cold end is where J306 lets it reach 150 000 mPa s."""
    winter, hot = split_grade(grade)
    samples = [row for row in rows("gear_oils.csv") if row["sae_grade"] == grade]
    least, most = _allowed("sae_j306_limits.csv", winter, hot)
    band = (most - least) / (most + least)
    if samples:
        kv40, kv100, density = (mean(float(s[c]) for s in samples) for c in ("kv40_mm2_s", "kv100_mm2_s", "density_15C_kg_m3"))
        source = f"mean of {len(samples)} data sheets ({', '.join(s['sample'] for s in samples)}): {samples[0]['source']}"
        notes = (f"Typical SAE {grade} gear oil: mean of {len(samples)} sampled oils.",)
    else:
        kv40, kv100, density, source = _from_grade("sae_j306_limits.csv", grade, rows("gear_oils.csv"), "density_15C_kg_m3")
        band += GUESSED_INDEX_BAND
        notes = (f"SAE {grade} gear oil, none sampled: the middle of the grade.",)
    celsius = float(_row("sae_j306_limits.csv", winter)["T_max_for_150000_mPa_s_degC"]) if winter else STRAIGHT_GEAR_LIMIT
    promise = (f"SAE J306 lets a {winter} oil reach 150000 mPa s at {celsius:g} degC" if winter else
               "a straight grade promises nothing in the cold")
    liquid = core.oil(f"gear oil {grade}", two_points(kv40, kv100), density, kelvin(celsius), source, "seen; derived (mean)", band,
                      spread(float(s["density_15C_kg_m3"]) for s in rows("gear_oils.csv")),
                      cold_caution=cold_words.of_grade("carried by ASTM D341, which does not know an oil's thickener", promise),
                      cold_reason=(f"{promise}; choose a lower W grade or warm the oil" if celsius >= -40.0 else
                                   "no gear oil on file was measured so cold; warm the oil"))
    return Fluid(liquid, notes)


# ---- words -----------------------------------------------------------------------------------------------------

_GRADE = re.compile(r"(?P<kind>engineoil|motoroil|gearoil|oil)?(?:sae)?(?P<winter>\d+w)?(?P<hot>\d+)"
                    r"(?P<after>gearoil|engineoil|motoroil|oil)?")


def graded(name: str, plain: str) -> Fluid | None:
    """The oil of any J300 or J306 grade, said with or without SAE, "gear oil" or "engine oil"; None when it is no grade.

    A grade that the standard does not have is refused, with those it has.
    """
    found = _GRADE.fullmatch(plain)
    if not found or not (found["winter"] or found["kind"] or found["after"] or "sae" in plain):
        return None
    grade = (found["winter"].upper() + "-" if found["winter"] else "") + found["hot"]
    said = (found["kind"] or "") + (found["after"] or "")
    if is_engine_grade(grade) and "gear" not in said:
        return engine_oil(grade)
    if is_gear_grade(grade) and "engine" not in said and "motor" not in said:
        return gear_oil(grade)
    raise FluidError(name, f"'{name}' is no SAE grade of engine or gear oil", grades_there_are())


def grades_after(winter: str) -> tuple[()] | tuple[Any, ...]:
    """The whole grades that begin with a winter grade: those of "10W" are SAE 10W-16 and up, of "75W" gear oils."""
    for file, known, shown in (("sae_j300_limits.csv", is_engine_grade, "SAE"), ("sae_j306_limits.csv", is_gear_grade, "gear oil")):
        found = [f"{shown} {winter}-{row['grade']}" for row in rows(file) if known(f"{winter}-{row['grade']}")]
        if found:
            return tuple(dict.fromkeys(found))
    return ()


def grades_there_are() -> str:
    """Both lists of SAE grades, in words."""
    def words(file: str) -> str:
        names = list(dict.fromkeys(row["grade"] for row in rows(file)))
        return "/".join(n for n in names if n.endswith("W")) + " before " + ", ".join(n for n in names if not n.endswith("W"))

    return (f"engine oils (SAE J300) are {words('sae_j300_limits.csv')}, gear oils (SAE J306) {words('sae_j306_limits.csv')}; "
            'or give two viscosities: oil(kv40="95 cSt", kv100="14 cSt")')
