"""What a hard line bears: working pressure by material, diameter and wall, from a published table where there is one, else from
its strength; bend radius, smallest bore, weight.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from ..units.errors import nearest
from .derating import tube_factor
from .rows import CatalogError, own_rows, remembered, table
from .sources import said_of, source_in_words
from .tube_formulas import barlow, lame, weight_per_metre
from .tubes import CLOSE

_SAFETY = 4.0  # tensile strength over the stress allowed, as hydraulic hose (common practice)
USUAL_BEND, LEAST_BEND = 3.0, 2.0  # outside diameters: ordinary bender work, and the least (common practice)


class TubeMaterial(NamedTuple):
    """A material of tubes. `density` [kg/m3], `youngs`, `yield_strength` and `tensile` [Pa], least of its standard."""

    name: str
    density: float
    youngs: float
    poisson: float
    yield_strength: float
    tensile: float
    source: str
    how: str


class TubeRating(NamedTuple):
    """What a tube is made for. Pressures [Pa] over the air around, lengths [m]; None where no table says.

    `working` at the temperature asked for, `cold` at room temperature, `burst` a thin-wall estimate, `basis` what it rests on.
    """

    material: str
    od: float
    wall: float
    working: float
    cold: float
    burst: float
    factor: float
    basis: str
    bend_radius: float  # of the centreline: by table, else 3 outside diameters
    bend_radius_least: float  # 2 outside diameters: tighter kinks
    bore_least: float | None  # after forming and flaring, where a table says
    weight: float  # [kg/m], empty
    source: str
    how: str
    note: str

    @property
    def said(self) -> str:
        """Its source as findings and lists show it: what is from memory says so."""
        return said_of(self)


_SPELLINGS = {
    "3003-O aluminium": "3003|3003-o|coil aluminium|soft aluminium",
    "3003-H14 aluminium": "3003-h14",
    "5052-O aluminium": "5052|5052-o",
    "6061-T6 aluminium": "6061|6061-t6",
    "low-carbon steel tube SAE J525/J524": "steel|mild steel|carbon steel|low-carbon steel|hydraulic steel|j525|j524|sae j525|sae j524|"
                                           "j526|sae j526|j356|sae j356|steel j525",
    "double-wall brazed steel SAE J527": "j527|sae j527|brake steel|double-wall steel|brazed steel|double-wall brazed steel|steel j527",
    "304 stainless annealed": "304|304 stainless|stainless 304|stainless|stainless steel|304 ss|304/316 stainless",
    "316 stainless annealed": "316|316 stainless|stainless 316|316l|316 ss|316 stainless steel",
    "90/10 copper-nickel C70600": "copper-nickel|cupro-nickel|90/10|90/10 copper-nickel|c70600|copper nickel|cuni|nickel-copper|nickel copper",
}
_ALUMINIUM = ("3003-O aluminium", "5052-O aluminium", "6061-T6 aluminium")


def _plain(word: str) -> str:
    return re.sub(r"[\s_./(),-]+|\btube\b|\bannealed\b|\balloy\b", "", word.lower().replace("aluminum", "aluminium"))


@remembered
def _materials() -> dict[str, TubeMaterial]:
    found: dict[str, TubeMaterial] = {}
    for row in table("materials.csv"):
        if row["tensile_MPa"]:
            name = row["material"]
            material = TubeMaterial(name, float(row["density_kg_m3"]), float(row["youngs_GPa"] or "nan") * 1e9, float(row["poisson"] or "nan"),
                                    float(row["yield_MPa"] or "nan") * 1e6, float(row["tensile_MPa"]) * 1e6, row["source"], row["how"])
            for word in (name, *_SPELLINGS.get(name, "").split("|")):
                found.setdefault(_plain(word), material)
                found.setdefault(_plain(word).replace("aluminium", ""), material)
                if word[:4].isdigit():
                    found.setdefault(_plain(word + "aluminium"), material)
    found.pop("", None)
    return found


def tube_materials() -> list[str]:
    """Names of the materials that tubes are rated in.

    >>> tube_materials()[0]
    '3003-O aluminium'
    """
    return list(dict.fromkeys(material.name for material in _materials().values()))


def tube_material(word: str) -> TubeMaterial:
    """The `TubeMaterial` of what people write: "304 stainless", "steel", "3003", "copper-nickel".

    Raises
    ------
    CatalogError : an unknown one, with the nearest known; "aluminium", whose alloys differ threefold

    >>> tube_material("304 stainless").name, tube_material("6061").name
    ('304 stainless annealed', '6061-T6 aluminium')
    """
    if not isinstance(word, str) or not word.strip():
        raise CatalogError("material", word, f"{word!r} is no tube material", 'write material="304 stainless"')
    known = _materials()
    plain = next((one for one in (_plain(word), _plain(word).replace("aluminium", "")) if one in known), None)
    if plain is not None:
        return known[plain]
    if _plain(word) == "copper":
        raise CatalogError("material", word, "plain copper tube is not kept: it work-hardens, and cracks where it shakes or is flared",
                           "90/10 copper-nickel is another material; for fuel and oil steel or aluminium tube")
    if _plain(word) == "aluminium":
        raise CatalogError("material", word, "aluminium tube is of several alloys, whose strengths differ threefold",
                           f"say which: {', '.join(_ALUMINIUM)}")
    close = nearest(word, [*tube_materials(), *(spelling for row in _SPELLINGS.values() for spelling in row.split("|"))])
    raise CatalogError("material", word, f"no tube material {word!r}",
                       (f"did you mean '{close}'? " if close else "") + "there are " + ", ".join(tube_materials()))


@remembered
def tube_rating(material: str, od: float, wall: float, temperature: float | None = None) -> TubeRating:
    """The `TubeRating` of a straight tube of given size, from the published table of its material where it holds the size.

    Else by Lame's formula with a quarter of the least tensile strength. Bends thin the wall, and fatigue is not in it.

    Parameters
    ----------
    material : "304 stainless", "steel", "SAE J527", "3003-O" ...
    od, wall : [m]
    temperature : of the wall [K]; room temperature unless given

    Raises
    ------
    CatalogError : no such material; two walls that leave no bore

    >>> rating = tube_rating("steel", 0.375 * 0.0254, 0.035 * 0.0254)
    >>> round(rating.working / 6894.757), rating.basis
    (2550, 'table of steel tube at 12,500 psi')
    """
    made_of = tube_material(material)
    if not 0.0 < 2.0 * wall < od:
        raise CatalogError("wall", wall, f"a wall of {wall * 1e3:g} mm leaves no bore in a tube of {od * 1e3:g} mm",
                           "check the wall and its unit")
    cold, basis, source, how, note = _cold(made_of, od, wall)
    factor, hot_source, hot_how, hot_note = tube_factor(made_of.name, temperature)
    if factor != 1.0:
        source, how = f"{source}; {hot_source}", how if "memory" in how else hot_how
    radius = bend_radius(made_of.name, od)
    notes = "; ".join(text for text in (note, hot_note if factor != 1.0 or not hot_source else "") if text)
    return TubeRating(made_of.name, od, wall, factor * cold, cold, barlow(made_of.tensile, od, wall), factor, basis, radius, LEAST_BEND * od,
                      bore_after_forming(made_of.name, od, wall), weight_per_metre(od, wall, made_of.density), source, how, notes)


def _cold(made_of: TubeMaterial, od: float, wall: float) -> tuple[float, str, str, str, str]:
    for row in own_rows("tube_ratings"):
        if row["material"] in ("", made_of.name) and _is(row, od, wall):
            return float(row["working_MPa"]) * 1e6, "a table of your own", row["source"], row["how"], row["note"]
    for words, name, basis in (("J525/J524", "tube_pressure_steel.csv", "table of steel tube at 12,500 psi"),
                               ("stainless", "tube_pressure_stainless_metric.csv", "table of metric stainless tube at 20,000 psi")):
        if words in made_of.name:
            for row in table(name):
                if _is(row, od, wall):
                    return float(row["working_MPa"]) * 1e6, basis, row["source"], row["how"], row["note"]
    return lame(made_of.tensile / _SAFETY, od, wall), "Lame's formula with a quarter of the tensile strength", made_of.source, made_of.how, ""


def _is(row: dict[str, str], od: float, wall: float) -> bool:
    return abs(float(row["od_mm"]) * 1e-3 - od) < CLOSE and abs(float(row["wall_mm"]) * 1e-3 - wall) < CLOSE


def bend_radius(material: str, od: float) -> float:
    """Usual least bend radius [m] of a tube's centreline: by table for aluminium and steel, 3 outside diameters elsewhere.

    >>> round(bend_radius("steel", 0.5 * 0.0254) / 0.0254, 2)
    1.75
    """
    kind = "aluminium alloy" if "aluminium" in material else "steel" if "steel" in material or "stainless" in material else ""
    for row in table("tube_bend_radius.csv"):
        if row["material"] == kind and abs(float(row["od_mm"]) * 1e-3 - od) < CLOSE:
            return float(row["radius_mm"]) * 1e-3
    return USUAL_BEND * od


def bore_after_forming(material: str, od: float, wall: float) -> float | None:
    """Smallest bore [m] that forming and flaring may leave, a go-gauge size; None where the table has no such tube.

    >>> round(bore_after_forming("6061 aluminium", 0.009525, 0.0012446) / 0.0254, 2)
    0.24
    """
    kind = {"6061": "6061 aluminium", "annealed": "annealed stainless", "hard": "1/8-hard stainless"}
    wanted = next((name for word, name in kind.items() if word in material), None)
    return next((float(row["bore_min_mm"]) * 1e-3 for row in table("tube_min_id.csv") if row["material"] == wanted and _is(row, od, wall)), None)


def tube_use(use: str) -> list[dict[str, str]]:
    """Rows of what tube is used for a purpose, by a part of the purpose's name: material, sizes, source, how.

    >>> [row["material"] for row in tube_use("brake")]
    ['double-wall copper-brazed steel SAE J527', '90/10 copper-nickel', '304 / 316 stainless annealed']
    """
    return [row for row in table("tube_use.csv") if use.lower() in row["use"].lower()]


def tubes_for(use: str) -> tuple[list[str], str]:
    """(names of the materials that serve a purpose, source in words), by a part of the purpose's name.

    >>> "90/10 copper-nickel C70600" in tubes_for("brake")[0], "6061-T6 aluminium" in tubes_for("brake")[0]
    (True, False)
    """
    rows = tube_use(use)
    names = [name for row in rows for name in row["catalogue"].split("|") if name]
    return names, source_in_words("; ".join(dict.fromkeys(row["source"] for row in rows)), "memory")
