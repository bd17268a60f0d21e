"""What variants are compared by: one function a column, from a solved case to its value."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Callable

from ..results import FILTERS
from ..units import Quantity
from .comparison_coolers import CoolersOfCase

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from ..results.paths import Step

_SEVERE = ("stop", "fix")


@dataclass(frozen=True)
class Sites:
    """Where variants are read, by the names of places."""

    gallery: str
    sump: str
    gauges: tuple[str, ...] = ()


@dataclass(frozen=True)
class Column:
    """One column. `read` takes a `Seen` and gives a `Quantity`, words, or None where there is no such thing."""

    key: str
    words: str
    kind: str  # of `units.KINDS`; "" for words
    read: Callable[..., Any]


class Seen:
    """One variant in one case, solved: what the columns read from."""

    def __init__(self, case: CaseResult, coolers: Sequence[str], sites: Sites, rating: float | None = None) -> None:
        self.case, self.sites = case, sites
        self.coolers = CoolersOfCase(case, coolers, rating)
        self.gallery = case.at(sites.gallery)
        self.pumped = sum(abs(case.ends(pump)[-1].flow) for pump in self.pumps())

    def before_gallery(self) -> dict[str, Step]:
        """Parts that feed the gallery."""
        return self.case.flows.reached(self._place(), up=True)

    def pumps(self) -> list[str]:
        """Those that feed the gallery; all where none is found to."""
        up = self.before_gallery()
        return [pump for pump in self.case.pumps if pump in up] or self.case.pumps

    def filters(self) -> list[str]:
        """Those that the pumps press through; strainers before them are none."""
        after = {part for pump in self.pumps() for part in self.case.flows.reached(self.case.ends(pump)[-1].junction, up=False)}
        return [part for part in self.case.parts_of_kind(*FILTERS) if part in after]

    def _place(self) -> int:
        return self.case.junction_names.index(self.sites.gallery)

    @property
    def into_gallery(self) -> float:
        """Flow that comes to the gallery [kg/s]."""
        return sum(max(-end.flow, 0.0) for _, end in self.case.meeting(self._place()))

    def share(self, flow: float) -> Quantity | None:
        """A flow [kg/s] as a share of what the pumps give; None without pumps."""
        return Quantity(flow / self.pumped, "fraction") if self.pumped > 0.0 else None

    def spilled(self) -> float | None:
        """Flow through relief valves [kg/s]; None without any."""
        valves = self.case.parts_of_kind("relief valve")
        return sum(abs(self.case.ends(valve)[0].flow) for valve in valves) if valves else None

    def regimes(self, parts: Sequence[str]) -> str:
        """States of some parts, each once; "none" where there is none."""
        found = dict.fromkeys(str(self.case.solution.regime_of(part)) for part in parts)
        return ", ".join({"passive": "filtering"}.get(one, one) for one in found) or "none"

    def severe(self) -> str:
        """"1 STOP, 2 FIX"."""
        counts = {one: sum(finding.severity == one for finding in self.case.findings) for one in _SEVERE}
        return ", ".join(f"{count} {one.upper()}" for one, count in counts.items() if count) or "none"


def columns_of(sites: Sites, coolers: bool, rated: bool, heat: bool) -> list[Column]:
    """The `Column`s for some `Sites`. `coolers`: whether any variant has one; `rated`: whether a pressure is known that any is made for; `heat`:
    whether any finds temperatures."""
    found = [Column("gallery_temperature", f"oil at {sites.gallery}", "temperature", lambda seen: seen.gallery.temperature),
             Column("sump_temperature", f"oil at {sites.sump}", "temperature", lambda seen: seen.case.at(sites.sump).temperature)] if heat else []
    found.append(Column("gallery_pressure", f"{sites.gallery} pressure", "pressure_gauge", lambda seen: seen.gallery.gauge))
    found += [Column(f"{place} pressure", f"{place} pressure", "pressure_gauge", lambda seen, place=place: _gauge(seen.case, place))
              for place in sites.gauges]
    if coolers:
        found += [Column("cooler_drop", "drop across coolers", "pressure_difference", lambda seen: _cooled(seen, "drop", "pressure_difference")),
                  *([Column("cooler_heat", "heat given off by coolers", "power", lambda seen: _cooled(seen, "heat", "power"))] if heat else []),
                  Column("cooler_flow", "flow through coolers", "volume_flow", lambda seen: _cooled(seen, "flow", "volume_flow")),
                  Column("cooler_share", "coolers' share of pump flow", "fraction", lambda seen: seen.share(seen.coolers.mass_flow) if seen.coolers.parts else None),
                  Column("cooler_pressure", "highest pressure in coolers", "pressure_gauge", _highest),
                  *([Column("cooler_strain", "that pressure, of coolers' rating", "fraction", _strain)] if rated else [])]
    found += [Column("gallery_share", f"share of pump flow to {sites.gallery}", "fraction", lambda seen: seen.share(seen.into_gallery)),
              Column("relief_share", "share of pump flow through relief", "fraction", lambda seen: None if seen.spilled() is None else seen.share(seen.spilled())),
              Column("relief", "relief", "", lambda seen: seen.regimes(seen.case.parts_of_kind("relief valve"))),
              Column("filter", "filter", "", lambda seen: seen.regimes(seen.filters())),
              Column("thermostat", "thermostat", "", lambda seen: seen.regimes(seen.case.parts_of_kind("thermostat"))),
              Column("findings", "to mend", "", lambda seen: seen.severe())]
    return found


def _cooled(seen: Seen, what: str, kind: str) -> Quantity | None:
    return Quantity(getattr(seen.coolers, what), kind) if seen.coolers.parts else None


def _highest(seen: Seen) -> Quantity | None:
    if not seen.coolers.parts:
        return None
    ambient = seen.case.ambient.si
    return Quantity(seen.coolers.highest - ambient, "pressure_gauge", ambient=ambient)


def _strain(seen: Seen) -> Quantity | None:
    return Quantity(seen.coolers.strained[0] / seen.coolers.strained[1], "fraction") if seen.coolers.strained else None


def _gauge(case: CaseResult, place: str) -> Quantity | None:
    return case.at(place).gauge if place in case.junction_names else None
