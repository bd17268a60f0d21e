"""Bearings that pass too little because their film is taken for as cold as the oil that comes in.

A gallery that is fed through a cooler has cold oil, and the film in its bearings is far hotter: `film_viscosity` says by how much
thinner. Left at 1, the bearings hold all the oil back that should carry heat through the cooler, and no cooler cures that.
"""

from __future__ import annotations

from math import nan
from typing import TYPE_CHECKING, NamedTuple

from flarenut.units import Quantity

if TYPE_CHECKING:
    from ..results.case import CaseResult

_USUAL = 0.6  # of the viscosity that comes in: the middle of 50 to 70 % (common practice, no source; docs/parts/bearings.md)
_AS_COLD = 0.9  # of it: a film of as much is taken for as cold (judgement)
_MOST = 0.8  # of what the pump raises: what takes that much decides how much oil passes (judgement)


class ColdFilm(NamedTuple):
    """Rows of bearings that take nearly all the pressure with a film as cold as what comes in."""

    parts: list[str]
    share: float  # of what the pump raises, of the one that takes the most
    comes_in: float  # [K], at the one that is fed with the coldest oil
    as_hot: float  # film_viscosity of a film as hot as the hottest liquid of the case

    @property
    def hotter(self) -> list[tuple[float, str]]:
        """(film_viscosity, what it is called) of hotter films worth a try."""
        found = [(_USUAL, "")] + ([(self.as_hot, ", that of a film as hot as the hottest oil")] if self.as_hot < _USUAL else [])
        return [(share, f"film_viscosity {100.0 * share:.0f} %{words}") for share, words in found]


def cold_film(case: CaseResult) -> ColdFilm | None:
    """The `ColdFilm` of a case; None where bearings do not decide how much oil passes, or have a film of their own."""
    raised = max((case.ends(pump)[1].total - case.ends(pump)[0].total for pump in case.pumps), default=0.0)
    shares = {part: _across(case, part) / raised for part in case.parts_of_kind("bearings") if raised > 0.0 and _taken_for_cold(case, part)}
    parts = [part for part, share in shares.items() if share > _MOST]
    if not parts:
        return None
    coldest = min(parts, key=lambda part: case.ends(part)[0].temperature)
    into, hottest = case.ends(coldest)[0], max(float(case.solution.temperature_of(name)) for name in case.junction_names)
    liquid = case.layout.liquids[case.layout.liquid_of.get(coldest, 0)]
    thinner = liquid.at(hottest, into.static).viscosity / liquid.at(into.temperature, into.static).viscosity
    return ColdFilm(parts, max(shares[part] for part in parts), into.temperature, thinner)


def told_of_film(film: ColdFilm, titles: str) -> tuple[str, dict[str, Quantity]]:
    """(words, numbers) to go with a finding of hot oil, for bearings by their titles."""
    return (f"; {{film share}} of what the pump raises is lost in {titles}, the film there taken for as viscous as the oil that comes in, of "
            "{film oil}",
            {"film share": Quantity(film.share, "fraction"), "film oil": Quantity(film.comes_in, "temperature")})


def unsaid(titles: str) -> str:
    """The cure, for bearings by their titles."""
    return (f"say film_viscosity of {titles}: a film some 20 degrees Celsius hotter than the oil that comes in has 50 to 70 % of its "
            "viscosity, one behind a cooler less; size the cooler after that")


def _taken_for_cold(case: CaseResult, part: str) -> bool:
    return case.number(f"{part}.film_viscosity", nan) >= _AS_COLD


def _across(case: CaseResult, part: str) -> float:
    into, out = case.ends(part)[:2]
    return float(into.total - out.total)
