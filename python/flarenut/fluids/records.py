"""Data files to the engine's liquid records. Laws and fits are the engine's; here names are matched and units turned.

A record in a TOML file has six property tables. Each says its law by name, that law's numbers, the temperatures its
data reach (``data_C``), its band inside them and per kelvin outside, its source and how the source was got. Temperatures
are in degC, viscosities of `points` in mm2/s, the rest SI.
"""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Callable, Mapping
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from .._core import fluids as core
from .errors import FluidError

if TYPE_CHECKING:
    from .. import _core

ICE_POINT = 273.15  # K
PROPERTIES = ("density", "viscosity", "specific_heat", "conductivity", "bulk_modulus", "vapour_pressure")


def kelvin(celsius: float) -> float:
    """[degC] to [K]."""
    return celsius + ICE_POINT


@cache
def toml(file: str) -> dict[str, Any]:
    """A data file, as nested dicts."""
    return tomllib.loads((files(__package__) / "data" / file).read_text(encoding="utf-8"))


@cache
def rows(file: str) -> tuple[dict[str, str], ...]:
    """A data file with a header line, as a tuple of dicts of texts."""
    text = (files(__package__) / "data" / file).read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def _walther_thin(entry: Mapping[str, Any], _place: str) -> _core.fluids.Law:
    (first_t, first_nu), (second_t, second_nu) = entry["points"]
    return core.walther(kelvin(first_t), first_nu * 1e-6, kelvin(second_t), second_nu * 1e-6, True)


_LAWS: dict[str, Callable[[Mapping[str, Any], str], core.Law]] = {
    "table": lambda e, place: core.table(e["scale"], [kelvin(t) for t in e["T_C"]], [float(v) for v in e["value"]], place),
    "polynomial": lambda e, place: core.polynomial(kelvin(e["reference_C"]), e["coefficients"]),
    "exponential": lambda e, place: core.exponential(kelvin(e["reference_C"]), e["value"], e["rate"]),
    "petroleum density": lambda e, place: core.petroleum_density(e["density_15"]),
    "walther thin": _walther_thin,
    "petroleum specific heat": lambda e, place: core.petroleum_specific_heat(e["specific_gravity"]),
    "boiling point": lambda e, place: core.boiling_line(kelvin(e["boiling_C"]), e["heat_over_RT"]),
    # The Reid pressure belongs to a class or to the user; any stands here until `LiquidRecord.with_reid`.
    "refined stock": lambda e, place: core.refined_stock(62e3, e["distillation_slope"]),
}


def _property(entry: Mapping[str, Any], place: str) -> _core.fluids.Property:
    law = _LAWS.get(str(entry["law"]))
    if law is None:
        raise FluidError(place, f"{place} has the unknown law '{entry['law']}'", "the laws are " + ", ".join(_LAWS))
    least, most = entry["data_C"]
    return core.Property(law(entry, place), kelvin(least), kelvin(most), entry["band"], entry["band_per_K"],
                         entry["source"], entry["how"], entry.get("cold_caution", ""))


def property_law(file: str, key: str, word: str) -> _core.fluids.Law:
    """The law alone of one property of one fluid of a data file."""
    entry = toml(file)[key][word]
    return _LAWS[entry["law"]](entry, f"{key}.{word}")


def record(file: str, key: str, name: str | None = None) -> _core.fluids.LiquidRecord:
    """The engine's record of one fluid of a data file.

    Parameters
    ----------
    file : data file, "water.toml"
    key : table in it, "water"
    name : name the liquid goes by; the file's own unless given
    """
    entry = toml(file)[key]
    least, most = entry["outer_limit_C"]
    return core.LiquidRecord(
        name or entry["name"],
        [_property(entry[word], f"{key}.{word}") for word in PROPERTIES],
        entry["viscosity_basis"] == "kinematic",
        entry["modulus_per_pressure"],
        entry.get("viscosity_per_pressure", 0.0),
        kelvin(least),
        kelvin(most),
        entry.get("stoichiometric_air_fuel_ratio"),
        entry.get("lower_heating_value"),
        entry.get("cold_reason", ""),
        entry.get("hot_reason", ""),
        entry.get("freezes", False),
    )


def gasoline_record(reid: float, name: str | None = None) -> _core.fluids.LiquidRecord:
    """Gasoline of a Reid vapour pressure [Pa]."""
    return record("petroleum_fuels.toml", "gasoline", name).with_reid(reid)


def ethanol_blend(share: float) -> _core.fluids.AlcoholBlend:
    """The engine's blend of ethanol with gasoline at a volume share, its Wilson constants fitted to the data file."""
    entry = toml("blends.toml")
    bands = [entry["rule_band"][word] for word in core.property_names]
    rules = [entry["rule"][word] for word in core.property_names]
    blend = core.AlcoholBlend(record("alcohols.toml", "ethanol"), share, entry["ethanol_molar_mass"],
                              entry["gasoline_molar_mass"], bands, rules)
    points = [(p["ethanol"], p["gasoline_reid"] * 1e3, p["blend_reid"] * 1e3) for p in (entry["lean"], entry["rich"])]
    blend.fit_wilson(gasoline_record(points[0][1]), *points)
    return blend
