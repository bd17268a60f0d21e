"""Tees: our momentum balance beside two published laws, which differ from each other by as much as from ours (docs/theory/junctions.md)."""

import math

from fluids import fittings
from published_case import Bound, Case

from flarenut._core import correlations as ours

TOPIC = "tees"
SHARES = (0.1, 0.3, 0.5, 0.7, 0.9)
CRANE = {("combining", "run"): fittings.K_run_converging_Crane, ("combining", "branch"): fittings.K_branch_converging_Crane,
         ("dividing", "run"): fittings.K_run_diverging_Crane, ("dividing", "branch"): fittings.K_branch_diverging_Crane}


def crane(way: str, leg: str, share: float) -> float:
    """K of the handbook's fit, equal bores, 90 degrees; on the velocity of the leg that carries everything."""
    return CRANE[way, leg](D_run=1.0, D_branch=1.0, Q_run=1 - share, Q_branch=share, angle=90.0)


def head_changes(share: float, way: str) -> dict[str, float]:
    """Ours, equal bores of 1 m2, no viscosity: K of run and branch."""
    shape = ours.tee_shape(1.0, 1.0, 1.0, math.pi / 2)
    if way == "combining":  # run1 and branch in, run2 out
        drops = ours.junction_drops(shape, 1 - share, -1.0, 0.0)
        to_out = {"run": drops.run1_to_run2, "branch": drops.run1_to_run2 - drops.run1_to_branch}
    else:  # run1 in
        drops = ours.junction_drops(shape, 1.0, share - 1.0, 0.0)
        to_out = {"run": drops.run1_to_run2, "branch": drops.run1_to_branch}
    return {leg: 2 * drop for leg, drop in to_out.items()}


def gardel_dividing(leg: str, share: float) -> float:
    """A. Gardel, Bulletin technique de la Suisse romande 83 (1957), equal bores, sharp edges, 90 degrees (from memory)."""
    if leg == "run":
        return 0.03 * (1 - share) ** 2 + 0.35 * share**2 - 0.2 * share * (1 - share)
    return 0.95 * (1 - share) ** 2 + 1.3 * share**2 + 0.8 * share * (1 - share)


GARDEL = {"run": 0.1, "branch": 0.15}  # velocity heads


def cases():
    for leg, heads in GARDEL.items():
        for share in SHARES:
            yield Case(TOPIC, "equal bores, 90 degrees, another judge", f"dividing, {leg}, {100 * share:.0f} % in the branch",
                       "Gardel 1957", "memory",
                       gardel_dividing(leg, share), "K", head_changes(share, "dividing")[leg],
                       Bound(0.0, heads, "another law from experiments: 0.15 (branch) and 0.1 (run) velocity heads", "band"))
    for way, leg in CRANE:
        for share in SHARES:
            yield Case(TOPIC, "equal bores, 90 degrees", f"{way}, {leg}, {100 * share:.0f} % in the branch",
                       "HB-TP410 (2009) Eq. 2-35 and after, by `fluids`",
                       "seen, value computed from the equation", crane(way, leg, share), "K", head_changes(share, way)[leg],
                       Bound(0.0, 0.3 * (1 + share**2), "another method; published tees scatter by the band: 0.3 of the velocity heads of main leg and branch",
                             "band"))
