"""Friction of straight and curved bores: experiments, and published values of the laws."""

import math

from published_case import Bound, Case, MeasuredSet, how_of
from reference import rows

from flarenut._core import correlations as ours

TOPIC = "friction"
# No published law holds for these: they are counted and printed, not judged.
NOT_JUDGED = {"transition Re": "between laminar and turbulent flow: no published law holds",
              "transitionally rough (5<k+<70)": "sand roughness between smooth and rough: Colebrook and White lies 10 to 35 % above it by design"}
SETS = {(row["dataset"], row["regime"]): MeasuredSet(int(row["rows"]), float(row["median_percent"]), float(row["percentile_95_percent"]),
                                                     row["reason"])
        for row in rows("friction_sets.csv")}


def set_name(dataset: str, regime: str) -> str:
    return f"{dataset}: {regime}"


def factor(row: dict[str, str]) -> float:
    """Ours at a measured point. Smooth-wall rows are judged with the roughness set to zero."""
    return ours.friction_factor(float(row["Re"]), 0.0 if row["regime"] == "smooth" else float(row["k_over_D"]))


def experiments():
    for row in rows("friction_experiments.csv"):
        regime = row["regime"]
        measured = SETS.get((row["dataset"], regime))
        bound = Bound(math.nan, why=measured.why, kind="set") if measured else None
        yield Case(TOPIC, set_name(row["dataset"], regime) if measured else f"measured, not judged: {regime}", f"{row['row_id']}, Re {row['Re']}",
                   row["source"], row["how"], float(row["darcy_f_measured"]), "Darcy f", factor(row), bound,
                   "" if measured else NOT_JUDGED[regime])


def laws():
    exact = Bound(1e-4, why="values computed from the equation by an independent solver, six digits: 0.01 %")
    for row in rows("friction_colebrook.csv"):
        re, rough = float(row["Re"]), float(row["eps_over_D"])
        yield Case(TOPIC, "Colebrook and White", f"Re {row['Re']}, roughness {row['eps_over_D']}", row["source"], how_of(row),
                   float(row["darcy_f_Colebrook_White"]), "Darcy f", ours.friction_factor(re, rough), exact)
    for row in rows("friction_laminar.csv"):
        yield Case(TOPIC, "Hagen and Poiseuille", f"Re {row['Re']}, roughness 0.03", row["source"], how_of(row), float(row["darcy_f_64_over_Re"]),
                   "Darcy f", ours.friction_factor(float(row["Re"]), 0.03), Bound(1e-12, why="64/Re, to round-off"))


def curved():
    exact = Bound(1e-4, why="values computed from the equation by others: 0.01 %")
    for row in rows("friction_curved_tube.csv"):
        re, curvature, law = float(row["Re"]), float(row["tube_d_over_coil_D"]), row["correlation"]
        name, published = f"{law}, d/D {row['tube_d_over_coil_D']}, Re {row['Re']}", float(row["darcy_f_curved"] or "nan")
        label = TOPIC, "curved bore", name, row["source"], how_of(row)
        if row["regime"] == "critical Re":
            yield Case(*label, re, "Re", ours.curved_critical_reynolds(curvature), Bound(1e-5, why="Ito's own form, five digits"))
        elif law == "White 1929":
            yield Case(*label, published, "Darcy f", ours.curved_friction_times_reynolds(re, 0.0, curvature) / re, exact)
        elif law.startswith("Ito 1959"):
            yield Case(*label, published, "Darcy f", ours.ito_turbulent_friction_factor(re, curvature), exact)
            yield Case(TOPIC, "curved bore", f"{name}, on Colebrook and White", row["source"], how_of(row), published, "Darcy f",
                       ours.curved_friction_times_reynolds(re, 0.0, curvature) / re,
                       Bound(0.013, why="our law keeps Colebrook and White underneath, Ito's Blasius: up to 1.3 %"))
        else:
            yield Case(*label, published, "Darcy f", ours.curved_friction_times_reynolds(re, 0.0, curvature) / re, None,
                       "another laminar correlation, not built; it contradicts White below a Dean number of 100")


def cases():
    yield from experiments()
    yield from laws()
    yield from curved()
