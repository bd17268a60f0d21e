"""Oils by the two viscosities on a data sheet, and a liquid given by constant numbers. Grades are in grades.py."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from typing import TYPE_CHECKING

from .. import units
from .._core import fluids as core
from ..units.errors import says_its_name
from .errors import FluidError
from .properties import Fluid, remembered
from .records import rows

if TYPE_CHECKING:
    from .. import _core


@remembered
@says_its_name
def oil(kv40: str | None = None, kv100: str | None = None, *, density: str = "870 kg/m3", points: Mapping[str, str] | Iterable[tuple[str, str]] | None = None,
        pour_point: str | None = None, name: str = "oil") -> Fluid:
    """An oil from its data sheet.

    Between and beyond the points viscosity follows ASTM D341. From 40 and 100 C alone it reads far too thin in the cold for
    multigrades and transmission fluids, by up to 3.4 times at -40 C: `range_findings` says so from 20 K below the coldest
    point. Give a low-temperature point when the sheet has one; a rotational or pumping viscosity in mPa s is divided by the density.

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
    pairs = [(t, v, key) for t, v, key in (("40 C", kv40, "kv40"), ("100 C", kv100, "kv100")) if v is not None]
    if points is not None:
        pairs += [(t, v, f"points, viscosity at {t}") for t, v in (points.items() if isinstance(points, Mapping) else points)]
    si = [(units.parse(t, "temperature", name="points, temperature"), units.parse(v, "kinematic_viscosity", name=key)) for t, v, key in pairs]
    if len(si) < 2:
        raise FluidError(name, f"'{name}' has {len(si)} viscosity; an oil needs two or more",
                         'write kv40="95 cSt", kv100="14 cSt", or points={"40 C": "95 cSt", ...}')
    pour = None if pour_point is None else units.parse(pour_point, "temperature", name="pour_point")
    return Fluid(core.oil(name, si, units.parse(density, "density", name="density"), pour))


@remembered
@says_its_name
def constant_fluid(density: str, viscosity: str, *, vapour_pressure: str | None = None, specific_heat: str | None = None,
                   conductivity: str | None = None, bulk_modulus: object = None, name: str = "constant fluid") -> Fluid:
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
    def optional(value: object, kind: str, word: str) -> float | None:
        return None if value is None else units.parse(value, kind, name=word)

    rho = units.parse(density, "density", name="density")
    return Fluid(core.constant_liquid(
        name, rho, units.parse(viscosity, "dynamic_viscosity", name="viscosity", density=rho),
        optional(vapour_pressure, "pressure_absolute", "vapour_pressure") or 0.0,
        optional(specific_heat, "specific_heat", "specific_heat"),
        optional(conductivity, "thermal_conductivity", "conductivity"),
        optional(bulk_modulus, "bulk_modulus", "bulk_modulus")))


@cache
def index_table() -> _core.fluids.ViscosityIndexTable:
    """The table of ASTM D2270 for the engine."""
    table = rows("d2270.csv")
    return core.ViscosityIndexTable(*([float(row[c]) for row in table]
                                      for c in ("kv100_mm2_s", "L_kv40_mm2_s", "H_kv40_mm2_s")))


@says_its_name
def viscosity_index(kv40: float | str, kv100: float | str) -> float:
    """Viscosity index by ASTM D2270 from kinematic viscosity at 40 C and 100 C.

    >>> round(viscosity_index("73.30 cSt", "8.86 cSt"))
    92
    """
    nu40 = units.parse(kv40, "kinematic_viscosity", name="kv40")
    nu100 = units.parse(kv100, "kinematic_viscosity", name="kv100")
    return index_of(nu40 * 1e6, nu100 * 1e6)


def index_of(kv40: float, kv100: float) -> float:
    """The same from plain mm2/s."""
    return core.viscosity_index(index_table(), kv40, kv100)
