"""Rows of a shop's own table as rows of the built-in tables. What a row leaves out it takes from the built-in one of the same hose."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeAlias

from .hose_ratings import design_ratio, hose_rating, hose_standard
from .hoses import hose_bores_of, hose_spec
from .rows import CatalogError
from .sources import source_in_words
from .tube_ratings import tube_material

if TYPE_CHECKING:
    from .hose_ratings import HoseRating
    from .shop_tables import ShopTable

_SMOOTH, _RUBBER = "1.5", "10"  # roughness of liners [um], as hose_specs.csv
_RATED = ("working", "proof", "burst", "bend_radius", "temperature_min", "temperature_max", "vacuum", "outside", "construction", "liner")


Values: TypeAlias = Mapping[str, Any]  # field -> value in SI, as read
Specs: TypeAlias = dict[str, tuple[dict[str, str], list[dict[str, str]]]]  # new families: their row, and the bores they share


def rows_of(shop: ShopTable) -> dict[str, list[dict[str, str]]]:
    """Table -> rows of a `ShopTable`. Asks the catalogue, which must hold the built-in rows alone."""
    found: dict[str, list[dict[str, str]]] = {}
    specs: Specs = {}
    for row in shop.rows:
        origin = {"source": row.values.get("source") or f"{Path(shop.path).name}, line {row.line}", "how": row.values.get("how") or "yours",
                  "note": row.values.get("note", "")}
        for name, made in _MAKERS[row.kind](row.values, origin, specs):
            found.setdefault(name, []).append(made)
    for made, copied in specs.values():
        found.setdefault("hose_specs.csv", []).append(made)
        found.setdefault("hose_bores.csv", []).extend(copied)
    return found


def _hose(values: Values, origin: dict[str, str], specs: Specs) -> Iterator[tuple[str, dict[str, str]]]:
    if values.get("bore") and values.get("dash"):
        spec = _spec_of(values, origin, specs)
        yield "hose_bores.csv", {"spec": spec, "dash": str(values["dash"]), "bore_in": _text(values["bore"] / 0.0254),
                                 "bore_mm": _text(values["bore"] * 1e3), **origin}
    if not any(values.get(name) is not None for name in _RATED):
        return
    standard, known = _standard_of(values["standard"]), _known(values)
    if values.get("dash") or values.get("bore"):
        yield "hose_ratings.csv", {**_rating_row(standard, values, known), **_with_rest(origin, values, known)}
    else:
        yield "hose_classes.csv", {**_class_row(standard, values, known), **_with_rest(origin, values, known)}


# What a row may leave out -> field of the built-in `HoseRating` that it is taken from. A liner is also known from a construction.
_FIELDS = {"working": "working", "burst": "burst", "bend_radius": "bend_radius", "temperature_min": "coldest",
           "temperature_max": "hottest", "vacuum": "vacuum", "outside": "outside", "liner": "liner"}


def _with_rest(origin: dict[str, str], values: Values, known: HoseRating | None) -> dict[str, str]:
    """Source, how and note of a row: of its own, and of what it takes from the built-in row."""
    if _from_burst(values, known) is not None:
        ratio = f"{design_ratio('all other liquids')[0]:g}"
        note = f"no working pressure is said: its burst pressure over {ratio}, the design ratio of hose ({source_in_words('S24', 'seen')})"
        origin = {**origin, "note": "; ".join(text for text in (origin["note"], note) if text)}
    if known is None or not any(_is_taken(values, known, *one) for one in _FIELDS.items()):
        return origin
    documents = source_in_words(known.source, "seen")
    note = "; ".join(text for text in (origin["note"], f"what it leaves out as {known.standard}: {known.note}") if text)
    return {"source": f"{origin['source']}; the rest from {documents}", "how": "mixed" if _remembered(known.how) else origin["how"], "note": note}


def _is_taken(values: Values, known: HoseRating, name: str, field: str) -> bool:
    own = values.get(name) if name != "liner" else values.get("liner") or values.get("construction")
    return own is None and getattr(known, field) is not None


def _remembered(how: str) -> bool:
    return "memory" in how or how == "mixed"


def _from_burst(values: Values, known: HoseRating | None) -> float | None:
    """Working pressure [Pa] that follows from a burst pressure alone, by the design ratio of hose; None where one is said or kept."""
    if values.get("burst") is None or values.get("working") is not None or getattr(known, "working", None) is not None:
        return None
    burst: float = values["burst"]
    return burst / design_ratio("all other liquids")[0]


def _standard_of(word: str) -> str:
    try:
        return hose_standard(word)
    except CatalogError:
        return word


def _known(values: Values) -> HoseRating | None:
    """The built-in rating of the same hose; None where there is none."""
    try:
        return hose_rating(values["standard"], values.get("dash"), values.get("bore"))
    except CatalogError:
        return None


def _spec_of(values: Values, origin: dict[str, str], specs: Specs) -> str:
    """The family that a bore belongs to: that of its name, else a new one. A standard that shares a family with others gets one of its own."""
    word: str = values["standard"]
    try:
        family = hose_spec(word)
    except CatalogError:
        family = None
    if family is not None and word.lower() == family.name.lower():
        return family.name
    if word not in specs:
        liner = values.get("liner") or (family.liner if family else "smooth rubber")
        roughness = _text(values["roughness"] * 1e6) if "roughness" in values else _text(family.roughness * 1e6) if family else \
            _SMOOTH if "ptfe" in liner.lower() else _RUBBER
        made = {"spec": word, "spellings": "", "liner": liner, "roughness_um": roughness,
                "what": values.get("construction", "hose of a shop's own table"), **origin}
        specs[word] = (made, [{**row, "spec": word} for row in (hose_bores_of(family.name) if family else ())])
    return word


def _rating_row(standard: str, values: Values, known: HoseRating | None) -> dict[str, str]:
    row = {"standard": standard, "construction": values.get("construction") or (known.construction if known else "hose"),
           "liner": values.get("liner") or (known.liner if known else ""), "dash": str(values.get("dash") or "")}
    for name, column, scale in (("bore", "bore_mm", 1e3), ("outside", "outside_mm", 1e3), ("working", "working_MPa", 1e-6),
                                ("proof", "proof_MPa", 1e-6), ("burst", "burst_MPa", 1e-6), ("bend_radius", "bend_radius_mm", 1e3),
                                ("vacuum", "vacuum_kPa", 1e-3)):
        row[column] = _scaled(_first(values.get(name), getattr(known, name, None)), scale)
    if values.get("working") is not None and values.get("proof") is None:
        row["proof_MPa"] = ""  # that of the table goes with the table's working pressure
    row["working_MPa"] = row["working_MPa"] or _scaled(_from_burst(values, known), 1e-6)
    return {**row, **_temperatures(values, known)}


def _class_row(standard: str, values: Values, known: HoseRating | None) -> dict[str, str]:
    row = {"standard": standard, "use": values.get("construction") or (known.construction if known else "hose"), "clamped": "",
           "bore_max_mm": "",
           "liner": values.get("liner") or (known.liner if known else "nitrile rubber"), "permeation_g_m2_day": ""}
    for name in ("working", "proof", "burst"):
        row[f"{name}_MPa"] = _scaled(_first(values.get(name), getattr(known, name, None)), 1e-6)
    row["working_MPa"] = row["working_MPa"] or _scaled(_from_burst(values, known), 1e-6)
    return {**row, **_temperatures(values, known)}


def _temperatures(values: Values, known: HoseRating | None) -> dict[str, str]:
    found = {}
    for name, field in (("temperature_min", "coldest"), ("temperature_max", "hottest")):
        kelvin = _first(values.get(name), getattr(known, field, None))
        found[f"{name}_C"] = "" if kelvin is None else _text(kelvin - 273.15)
    return found


def _first(own: float | None, known: float | None) -> float | None:
    return own if own is not None else known


def _scaled(number: float | None, scale: float) -> str:
    return "" if number is None else _text(number * scale)


def _text(number: float) -> str:
    return f"{number:.9g}"


def _tube(values: Values, origin: dict[str, str], specs: Specs) -> Iterator[tuple[str, dict[str, str]]]:
    shown = f"{values['od'] * 1e3:g} mm"
    yield "tube_sizes.csv", {"od": shown, "od_mm": _text(values["od"] * 1e3), "wall_in": _text(values["wall"] / 0.0254),
                             "wall_mm": _text(values["wall"] * 1e3),
                             "usual": "yes" if values.get("usual", "").lower() in ("yes", "true", "x") else "", **origin}
    if values.get("working"):
        material = tube_material_name(values.get("material", ""))
        yield "tube_ratings", {"material": material, "od_mm": _text(values["od"] * 1e3), "wall_mm": _text(values["wall"] * 1e3),
                               "working_MPa": _text(values["working"] * 1e-6), **origin}


def tube_material_name(word: str) -> str:
    """The catalogue's name of a tube material; the word itself where it is one of the shop's own."""
    try:
        return tube_material(word).name
    except CatalogError:
        return word


def _material(values: Values, origin: dict[str, str], specs: Specs) -> Iterator[tuple[str, dict[str, str]]]:
    scaled = {"density_kg_m3": ("density", 1.0), "youngs_GPa": ("youngs", 1e-9), "poisson": ("poisson", 1.0), "yield_MPa": ("yield", 1e-6),
              "tensile_MPa": ("tensile", 1e-6), "roughness_um": ("roughness", 1e6)}
    numbers = {column: _scaled(values.get(name), scale) for column, (name, scale) in scaled.items()}
    yield "materials.csv", {"material": values["material"], **numbers, **origin}


def _compatibility(values: Values, origin: dict[str, str], specs: Specs) -> Iterator[tuple[str, dict[str, str]]]:
    yield "compatibility.csv", {"material": values["material"], "fluid": values["fluid"], "verdict": values["verdict"],
                                "reason": values.get("reason", ""), **origin}


_MAKERS: dict[str, Callable[[Values, dict[str, str], Specs], Iterator[tuple[str, dict[str, str]]]]] = {"hose": _hose, "tube": _tube, "material": _material, "compatibility": _compatibility}
