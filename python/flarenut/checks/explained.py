"""What a part that is in backwards brings about: its own finding tells the cause, and what comes of it is left out or points there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from flarenut.results import Finding

_ROOTS = ("pump backwards", "check valve backwards")
# What a pump that another pushes against makes all others do.
_OF_A_PUMP = ("reversed flow", "dead-headed pump", "pump near dead head", "pump beyond the end of its curve", "beyond measured data")


def without_effects(found: Sequence[Finding]) -> list[Finding]:
    """The findings of one case, without those that a STOP on a pump in backwards explains, all of that pump among them;
    a dead-headed pump has the cure of a check valve in backwards."""
    roots = [one for one in found if one.code in _ROOTS and one.severity == "stop"]
    turned = {one.where for one in roots if one.code == "pump backwards"}
    dropped = _OF_A_PUMP if turned else ()
    cure = "; ".join(dict.fromkeys(f"turn {one.where} round" for one in roots))
    kept = [one for one in found if one in roots or one.code == "assumed" or not (one.code in dropped or one.where in turned)]
    return [replace(one, cure=cure) if roots and one.code == "dead-headed pump" else one for one in kept]
