"""Brake hose and brake lines: how much hose swells, what hose must bear, and pedal travel by hand sum.

Brakes can hurt: the numbers are for comparing layouts. Defer to the vehicle's rules and to who is licensed to judge them.
"""

from collections.abc import Sequence
import re

from .compatibility import fluid_class
from .rows import CatalogError, table

_BRAKES = re.compile(r"(?<![a-z])brak(e|es|ing)(?![a-z])")
_OILS_OF_BRAKES = ("mineral brake fluid", "hydraulic oil")  # classes of liquid: what mineral brake systems are filled with


def is_of_brakes(family: str, fluid: str, circuit: str) -> bool:
    """Whether a circuit is one of brakes, where nobody says what it serves: by the family of its liquid; where that is an oil, by both names.

    >>> is_of_brakes("brake fluid", "DOT 4", "pedals"), is_of_brakes("hydraulic fluid", "MIL-PRF-5606", "front brakes")
    (True, True)
    """
    named = _BRAKES.search(f"{circuit} {fluid}".lower())
    return family == "brake fluid" or bool(named) and fluid_class(fluid) in _OILS_OF_BRAKES


def hose_expansion(bore: float, pressure: float, kind: str = "regular") -> float:
    """Most that a metre of brake hose may swell [m3/m] at a pressure [Pa], by the limits of FMVSS 106; from none in proportion between their rows.

    Parameters
    ----------
    bore : [m]; up to 3.2 mm, or up to 5 mm
    kind : "regular" or "low" expansion

    >>> round(hose_expansion(3.175e-3, 6.8948e6, "low") * 1e6, 4)
    1.0827
    """
    size = "1/8 in (3 mm) or less" if bore <= 3.2e-3 else "3/16 in (4 to 5 mm)"
    if bore > 5.1e-3:
        raise CatalogError("bore", bore, f"no swelling is kept of brake hose of {bore * 1e3:.1f} mm", "it goes up to 3/16 in, 5 mm")
    knots = sorted((float(row["test_pressure_MPa"]) * 1e6, float(row["max_expansion_mL_per_m"]) * 1e-6)
                   for row in table("brake_hose_expansion.csv") if row["hose_id"] == size and row["hose_type"] == kind)
    if not knots:
        raise CatalogError("kind", kind, f"no brake hose of kind {kind!r}", "there are regular and low")
    if pressure > knots[-1][0]:
        raise CatalogError("pressure", pressure, f"no swelling is kept above {knots[-1][0] / 1e6:.1f} MPa", "brake hose is tested up to there")
    for (low, before), (high, after) in zip([(0.0, 0.0), *knots], knots):
        if pressure <= high:
            return before + (pressure - low) / (high - low) * (after - before)
    raise AssertionError("unreachable: it is no higher than the last of the knots")


def brake_figure(name: str) -> dict[str, str]:
    """Row of a figure of brake systems, by a part of its name.

    >>> brake_figure("DOT 4 dry")["value"]
    '230'
    """
    rows = table("brake_system.csv")
    found = next((row for row in rows if name.lower() in row["item"].lower()), None)
    if found is None:
        raise CatalogError("item", name, f"no item {name!r}", "there are " + "; ".join(row["item"] for row in rows))
    return found


def pedal_travel(ratio: float, free_stroke: float, cylinder_area: float, volumes: Sequence[float]) -> float:
    """Travel of the pedal [m]: pedal ratio times what the cylinder's piston goes to fill the volumes that give way [m3].

    volumes : of clearance, hose, tube, fluid and caliper, in one circuit

    >>> round(pedal_travel(5.0, 1.5e-3, 3.879e-4, [7.52e-6]) * 1e3)
    104
    """
    return ratio * (free_stroke + sum(volumes) / cylinder_area)
