"""What a relief valve does, as a table of devices tells it: one that is about to open lets liquid go before it is past its setting."""

from __future__ import annotations

from math import sqrt
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .case import CaseResult

CRACKING = "cracking"
_LIFTED = 1e-3  # of what it passes wide open: the rounded corner of the opening reaches that a tenth of a band below the setting


def device_state(case: CaseResult, part: str) -> str:
    """The regime of a device; "cracking" for a relief valve that is shut by its setting and lets by more than its leak does."""
    regime = str(case.solution.regime_of(part))
    if regime != "shut" or case.kind_of(part) != "relief valve":
        return regime
    inlet, outlet = case.ends(part)[:2]
    full = case.number(f"{part}.discharge_coefficient", 0.0) * (case.number(f"{part}.full_area", 0.0) + case.number(f"{part}.second_area", 0.0))
    passes_open = full * sqrt(2.0 * case.liquid_in(part)["density"] * max(inlet.total - outlet.total, 0.0))
    return CRACKING if inlet.flow > (case.number(f"{part}.leak", 0.0) + _LIFTED) * passes_open > 0.0 else regime
