"""Checks on how much pressure stands in hoses and filters of no rating that was said: usual ones are held up."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from flarenut.results import Finding
from flarenut.units import Quantity

from .limits import ceilings_for
from .ratings_lines import bears
from .roles import is_tank
from .written import notes_of

if TYPE_CHECKING:
    from ..results.case import CaseResult
    from .limits import Limits

_STOP_FROM = 2.0  # times the ceiling: burst is usually 3 to 4 times the working pressure of a new hose, less when hot or old
_STILL = 1e-5  # kg/s: seepage


def pressure_ceiling(case: CaseResult, limits: Limits) -> Iterator[Finding]:
    """The highest static pressure in lines, and in filters, against what usual ones for this liquid are made for."""
    for name, what in ceilings_for(case.layout).items():
        limit = getattr(limits, name)  # over ambient
        found = {part: over for part in _parts(case, what) if (over := _static(case, part)) > limit.si}
        if not found:
            continue
        worst = max(found, key=found.__getitem__)
        others = list(dict.fromkeys(case.layout.title(part) for part in found if part != worst))
        also = f"; also in {', '.join(others)}" if others else ""
        stops = found[worst] > _STOP_FROM * limit.si and not (case.layout.family == "fuel" and _sprays(case))
        yield Finding("pressure ceiling", "stop" if stops else "watch", case.layout.title(worst), case.name,
                      f"{{value}} inside, above the {{limit}} that a usual {what} for this liquid is made for{also}",
                      Quantity(found[worst], "pressure_gauge"), Quantity(limit.si, "pressure_gauge"), limits.source(name),
                      f"lower the pressure, or take a {what} rated for it, hot, and say its rating as the limit {name}",
                      hurt=found[worst] / limit.si - 1.0)


def _sprays(case: CaseResult) -> bool:
    """True for liquid sprayed through nozzles without injectors, water and methanol say: its pumps are sold with tube for their pressure."""
    return not case.injectors and any(abs(case.ends(jet)[0].flow) > _STILL and case.is_held(case.ends(jet)[1].junction)
                                      and not is_tank(case, case.ends(jet)[1].junction)
                                      for jet in case.parts_of_kind("orifice", "short tube orifice"))


def _parts(case: CaseResult, what: str) -> list[str]:
    notes = notes_of(case)
    rated = {*(notes.rated_pressures if notes else ()), *bears(case)}  # these have rules of their own
    lines = [part for part in case.parts_of_kind("line", "measured table", "core") if part not in rated]
    filters = [part for part in case.filters if part not in rated]
    return {"filter": filters, "hose or cooler": lines, "hose or filter": [*lines, *filters]}[what]


def _static(case: CaseResult, part: str) -> float:
    return max(end.static for end in case.ends(part)) - case.ambient.si
