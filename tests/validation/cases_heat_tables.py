"""Tables of closed forms: effectiveness of exchangers, films inside passages."""

from published_case import Bound, Case, how_of
from reference import rows

from flarenut._core import heat_transfer as ours

LAW = ours.Arrangement
ARRANGEMENTS = {"counterflow": LAW.counterflow, "parallel flow": LAW.parallel_flow, "crossflow, both unmixed (exact)": LAW.cross_flow_unmixed,
                "crossflow, Cmin mixed": LAW.cross_flow_first_mixed, "crossflow, Cmax mixed": LAW.cross_flow_second_mixed,
                "one shell pass, 2,4,.. tube passes": LAW.shell_and_tube}


def effectiveness():
    for row in rows("effectiveness_NTU.csv"):
        ntu, ratio = float(row["NTU"]), float(row["Cr"])
        value = (ours.effectiveness(ARRANGEMENTS[row["arrangement"]], ntu, ratio) if row["arrangement"] in ARRANGEMENTS
                 else ours.cross_flow_unmixed_approximation(ntu, ratio))
        yield Case("exchangers", "effectiveness", f"{row['arrangement']}, NTU {row['NTU']}, ratio {row['Cr']}", row["source"], how_of(row),
                   float(row["effectiveness"]), "effectiveness", value,
                   Bound(0.0, 5.1e-6, "values computed from the closed forms by others, five decimals"))


def films():
    for row in rows("internal_convection_values.csv"):
        name, re, pr = row["correlation"], float(row["Re"]), float(row["Pr"])
        graetz = re * pr / float(row["L_over_D"]) if row["L_over_D"] else 0.0
        value = {"Gnielinski, smooth, Petukhov f": lambda: ours.gnielinski_nusselt(re, pr, ours.petukhov_friction_factor(re)),
                 "Dittus-Boelter heating n=0.4": lambda: ours.dittus_boelter_nusselt(re, pr, True),
                 "Sieder-Tate turbulent, mu/mu_w=1.5": lambda: ours.sieder_tate_turbulent_nusselt(re, pr, 1.5),
                 "Hausen laminar, constant wall temperature": lambda: ours.hausen_nusselt(graetz, 3.66),
                 "Sieder-Tate laminar, mu/mu_w=1": lambda: ours.sieder_tate_laminar_nusselt(graetz, 1.0)}[name]()
        at = f", L/D {row['L_over_D']}" if row["L_over_D"] else ""
        yield Case("films", "inside tubes", f"{name}, Re {re:g}, Pr {pr:g}{at}", row["source"], how_of(row), float(row["Nu"]), "Nu", value,
                   Bound(0.0, 6e-5, "values computed from the published forms by others, four decimals"))


# Shah and London 1978, rounded as textbooks print them: developed laminar flow in rectangles, by height over width.
RECTANGLES = {"wall of one temperature": (ours.rectangle_nusselt_constant_wall, {1.0: 2.98, 0.5: 3.39, 0.25: 4.44, 0.0: 7.54}),
              "even flux": (ours.rectangle_nusselt_constant_flux, {1.0: 3.61, 0.5: 4.12, 0.25: 5.33, 0.0: 8.23})}


def rectangles():
    for wall, (law, table) in RECTANGLES.items():
        for aspect, published in table.items():
            yield Case("films", "rectangles", f"laminar, {wall}, height over width {aspect:g}", "BK-INC Table 8.1", "memory", published,
                       "Nu", law(aspect),
                       Bound(0.003, why="three figures printed: 0.3 %"))


def cases():
    yield from effectiveness()
    yield from films()
    yield from rectangles()
