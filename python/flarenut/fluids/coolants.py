"""Glycol and water at a share by volume: "ethylene glycol 50 %", "PG 40", "50/50 coolant"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING

from .._core import fluids as core
from .errors import FluidError
from .properties import Fluid
from .records import ICE_POINT, kelvin, property_law, rows, toml

if TYPE_CHECKING:
    from .. import _core

_SHORT = {"ethylene glycol": "ethylene glycol", "eg": "ethylene glycol", "meg": "ethylene glycol", "propylene glycol": "propylene glycol",
          "pg": "propylene glycol", "mpg": "propylene glycol", "glycol": "ethylene glycol", "coolant": "ethylene glycol",
          "antifreeze": "ethylene glycol"}
_KIND = "|".join(sorted(_SHORT, key=len, reverse=True))
_SHARE = r"(?P<share>\d+(?:\.\d+)?)\s*(?:%|vol\.?\s*%|percent|per cent|(?:/|:)\s*(?P<rest>\d+(?:\.\d+)?))?"
_WORDS = tuple(re.compile(rf"\s*{order}\s*") for order in (rf"(?P<kind>{_KIND})[\s\-]*{_SHARE}", rf"{_SHARE}\s*(?P<kind>{_KIND})"))
SHOWN_SHARES = (30, 40, 50, 60)


def coolant_names() -> tuple[str, ...]:
    """The shares with tables of their own; any share up to 60 % is known."""
    return tuple(f"{glycol} {share} %" for glycol in ("ethylene glycol", "propylene glycol") for share in SHOWN_SHARES)


def coolant(name: str) -> Fluid | None:
    """The coolant that a name says, or None when it says none.

    A glycol without a share is refused, for nobody can guess it; plain "coolant" is taken as half ethylene glycol.
    """
    said = name.lower().strip()
    if said == "coolant":
        return glycol_coolant("ethylene glycol", 50.0, ("'coolant' taken as half ethylene glycol, half water by volume.",))
    if said in _SHORT:
        raise FluidError(name, f"'{name}' does not say how much glycol there is", f'write its share by volume: "{_SHORT[said]} 50 %"')
    for words in _WORDS:
        found = words.fullmatch(said)
        if found:
            share = float(found["share"])
            if found["rest"] is not None:
                if share + float(found["rest"]) == 0.0:
                    raise FluidError(name, f"'{name}' mixes nothing with nothing", 'write "50/50"')
                share *= 100.0 / (share + float(found["rest"]))
            return glycol_coolant(_SHORT[found["kind"]], share)
    return None


@cache
def glycol_coolant(glycol: str, percent: float, notes: tuple[str, ...] = ()) -> Fluid:
    """Glycol in water, per cent by volume, above 0 and up to 60."""
    entry = toml("coolants.toml")
    facts = entry[glycol.replace(" ", "_")]
    freezing = [row for row in rows("glycol_freezing.csv") if row["glycol"] == glycol]
    liquid = core.glycol_coolant(
        f"{glycol} {percent:g} %", percent / 100, _columns(glycol),
        freezing_share=[float(row["vol_percent"]) / 100 for row in freezing],
        freezing_temperature=[kelvin(float(row["freezing_point_degC"])) for row in freezing],
        mass_share=[float(row["mass_percent"]) / 100 for row in freezing],
        glycol_molar_mass=facts["molar_mass"], water_vapour_pressure=property_law("water.toml", "water", "vapour_pressure"),
        bulk_modulus=property_law("coolants.toml", glycol.replace(" ", "_"), "bulk_modulus"),
        data_most=kelvin(entry["data_most_C"]), hottest=kelvin(entry["hottest_C"]), lean_band=entry["lean_band"],
        source=rows("glycol_coolants.csv")[0]["source"])
    return Fluid(liquid, (*notes, f"Inhibited {glycol}, {percent:g} % by volume; freezes at {liquid.outer_limit[0] - ICE_POINT:.3g} C."))


def _columns(glycol: str) -> list[_core.fluids.GlycolColumn]:
    """The published shares, and plain water as the leanest."""
    def law(scale: str, table: Sequence[dict[str, str]], column: str, place: str) -> _core.fluids.Law:
        return core.table(scale, [kelvin(float(r["T_degC"])) for r in table], [float(r[column]) for r in table], place)

    water = [property_law("water.toml", "water", word) for word in ("density", "viscosity", "specific_heat", "conductivity")]
    columns = [core.GlycolColumn(0.0, *water)]
    for share in SHOWN_SHARES:
        table = [r for r in rows("glycol_coolants.csv") if r["glycol"] == glycol and float(r["vol_percent"]) == share]
        columns.append(core.GlycolColumn(
            share / 100, law("plain", table, "density_kg_m3", "density"), law("saturation", table, "dynamic_viscosity_Pa_s", "viscosity"),
            law("plain", table, "specific_heat_J_kgK", "specific heat"), law("plain", table, "thermal_conductivity_W_mK", "conductivity")))
    return columns
