"""What height and acceleration do to liquid that stands still: the one copy of it on this side of the engine.

The engine carries these columns in its laws; here they are told apart from friction, for shares and findings.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from flarenut.units.table import GRAVITY

if TYPE_CHECKING:
    from .case import CaseResult


def at_rest(case: CaseResult, there: int, here: int, density: float) -> float | None:
    """Pressure at one junction over another if the liquid between them stood still in the vehicle [Pa]: rho (g - a) . reach.

    Parameters
    ----------
    case : `CaseResult`
    there, here : places in `junction_names`
    density : of the liquid between them [kg/m3]

    Returns
    -------
    float, negative where `there` is the higher; None when the circuit does not know where both are
    """
    names = [case.junction_names[one] for one in (there, here)]
    if any(name not in case.layout.positions for name in names):
        return None
    forward, left, up = [case.number(f"acceleration.{axis}", 0.0) for axis in "xyz"]
    reach = (a - b for a, b in zip(*(case.layout.positions[name] for name in names)))
    found: float | None = density * sum(pull * way for pull, way in zip((-forward, -left, -GRAVITY - up), reach))
    return found
