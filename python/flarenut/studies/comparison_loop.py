"""Round the loop from sump to sump: temperature and pressure at the places of every oil circuit, in the order that the oil meets them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..results.paths import BYPASSED

if TYPE_CHECKING:
    from .. import _core
    from ..results.readings import Reading
    from .comparison_columns import Seen
    from ..results.engine import EngineEnd

# The filter has two of them: before a cooler, and after one.
STATIONS = ("sump", "pump out", "filter out", "cooler in", "cooler out", "filter out, after cooler", "gallery", "back in sump")
_PASSES = 0.01  # of the pump's flow: less through a cooler is no way of the oil


class Loop:
    """One variant in one case.

    Attributes
    ----------
    main : station -> (temperature [K], static gauge pressure [Pa]) on the way of the oil that reaches the gallery
    aside : the same of a cooler in a branch of its own, such as a bleed back to the sump; empty without one
    round_it : share of the oil on that way that goes round the cooler, where that is nearly all; else None. "cooler in" and "cooler out"
        are then where the ways part and meet again, for what is lost between them is lost on the way round
    """

    def __init__(self, seen: Seen) -> None:
        self.seen, case = seen, seen.case
        self._ambient = case.ambient.si
        sump, gallery = case.at(seen.sites.sump), seen.gallery
        self.main = {"sump": self._of(sump)}
        self.aside: dict[str, tuple[float, float]] = {}
        self.round_it: float | None = None
        pumps = seen.pumps()
        if pumps:
            self.main["pump out"] = self._end(case.ends(pumps[0])[-1])
        filters = seen.filters()
        if filters:
            station = "filter out, after cooler" if self._cooled_before(filters[-1]) else "filter out"
            self.main[station] = self._end(case.ends(filters[-1])[-1])
        self._coolers()
        self.main["gallery"], self.main["back in sump"] = self._of(gallery), self._of(sump)
        self.main = {station: self.main[station] for station in STATIONS if station in self.main}

    def _of(self, reading: Reading) -> tuple[float, float]:
        return reading.temperature.si, reading.gauge.si

    def _end(self, end: _core.End | EngineEnd) -> tuple[float, float]:
        return float(end.temperature), float(end.static) - self._ambient

    def _coolers(self) -> None:
        coolers, share = self.seen.coolers, self.seen.share(self.seen.coolers.mass_flow)
        flows, before_gallery = self.seen.case.flows, self.seen.before_gallery()
        main = [part for part in coolers.parts if part in before_gallery]  # past any other goes oil that never comes to the gallery
        least = min((flows.goes_round(part) for part in main), default=0.0)
        if least > BYPASSED:
            self.round_it = least
            ends = flows.branch_of(main[0])[0], flows.branch_of(main[-1])[1]
            self.main["cooler in"], self.main["cooler out"] = (self._of(self.seen.case.reading(end)) for end in ends)
            return
        if not coolers.parts or share is None or share.si < _PASSES:
            return
        into = self.main if main else self.aside
        into["cooler in"], into["cooler out"] = ((coolers.inlet, coolers.inlet_static - self._ambient),
                                                 (coolers.outlet, coolers.outlet_static - self._ambient))

    def _cooled_before(self, part: str) -> bool:
        return bool(set(self.seen.coolers.parts) & set(self.seen.case.flows.reached(self.seen.case.ends(part)[0].junction, up=True)))

