"""Pictures of the dossier: our curve over the published points, one picture per topic. The same bytes on the same machine."""

import numpy as np
from matplotlib.figure import Figure
from verification_counts import ROOT  # noqa: F401 - it puts the folder of the cases on the way

import cases_heat_tables
import cases_networks
import cases_tees
from cases_friction import experiments
from reference import rows
from verification_property_pictures import density, torque, tubes, vapour_pressure, viscosity

from flarenut._core import correlations, heat_transfer
from flarenut.plotting.frame import dress, legend
from flarenut.plotting.palette import COLOURS, DASHES, FAINT, INK, MARKERS

SIZE = (9.0, 5.2)


def dots(ax, x, y, number, label, size=4.0):
    """Published points: hollow, so that a curve under them shows."""
    ax.plot(x, y, MARKERS[(number + 2 * (number // 6)) % 6], markersize=size, markerfacecolor="none", markeredgewidth=0.9,
            color=COLOURS[number % 6], label=label, linestyle="none")


def curve(ax, x, y, number, label=None):
    ax.plot(x, y, color=COLOURS[number % 6], linestyle=DASHES[number % 6], linewidth=1.5, label=label)


def figure():
    made = Figure(figsize=SIZE, layout="constrained")
    return made, made.subplots()


def friction():
    made, ax = figure()
    sets = {}
    for case, row in zip(experiments(), rows("friction_experiments.csv")):
        name = row["dataset"].split(" (")[0].replace("Nikuradse sand-roughened pipe",
                                                     "sand-roughened pipe").replace("Huebscher 8 in round galvanised duct, air", "Huebscher, galvanised duct")
        sets.setdefault(name, []).append((float(row["Re"]), case.published))
    for number, (name, points) in enumerate(sets.items()):
        dots(ax, *zip(*points), number, name, 3.5)
    reynolds = np.geomspace(10, 4e7, 400)
    for roughness in (0.0, 1 / 1014, 1 / 504, 1 / 252, 1 / 120, 1 / 61.2, 1 / 30):
        ax.plot(reynolds, [correlations.friction_factor(re, roughness) for re in reynolds], color=INK, linewidth=1.0,
                label="flarenut, smooth and the sands' roughness" if roughness == 0.0 else None)
    ax.set(xscale="log", yscale="log", ylim=(0.006, 8))
    dress(ax, title="Friction factor: measured pipes and ours",
          note="Sand grains between smooth and rough lie under the curves by nature: they are not judged.",
          x="Reynolds number", y="Darcy friction factor")
    legend(ax)
    return made


def local_losses():
    made, ax = figure()
    ratio = np.linspace(0.0, 1.0, 101)
    curve(ax, ratio, [correlations.sudden_expansion_loss(b) for b in ratio], 0, "flarenut, sudden enlargement")
    curve(ax, ratio, [correlations.sudden_contraction_loss(b) for b in ratio], 1, "flarenut, sudden contraction")
    for number, word in enumerate(("enlargement", "contraction")):
        table = [row for row in rows("fitting_constants.csv") if row["method"] == "K" and f"sudden {word}" in row["fitting"]]
        dots(ax, [float(row["fitting"].split("d/D=")[1].split()[0]) for row in table], [float(row["K_at_Re1e5_size_1in"]) for row in table], number,
             f"published, {word}", 6)
    beta = np.linspace(0.2, 0.75, 60)
    curve(ax, beta, [correlations.orifice_meter_coefficient(1e6, b, 0.1, correlations.TapPositions(0.0, 0.0)) for b in beta], 2,
          "flarenut, orifice C, corner taps, Re 1e6")
    plates = [row for row in rows("orifice_C_ISO5167.csv") if row["taps"] == "corner" and float(row["Re_D"]) == 1e6 and float(row["D_m"]) == 0.1]
    dots(ax, [float(row["beta_d_over_D"]) for row in plates], [float(row["C_discharge_computed"]) for row in plates], 2, "ISO 5167-2, the same", 6)
    dress(ax, title="Local losses: steps of size and orifice plates", note="", x="small bore over large bore, d/D",
          y="K on the small bore; coefficient of discharge")
    legend(ax)
    return made


def tees():
    made = Figure(figsize=SIZE, layout="constrained")
    fine = np.linspace(0.02, 0.98, 60)
    for ax, way in zip(made.subplots(1, 2, sharey=True), ("combining", "dividing")):
        for number, leg in enumerate(("run", "branch")):
            ours = np.array([cases_tees.head_changes(share, way)[leg] for share in fine])
            band = 0.3 * (1 + fine**2)
            ax.fill_between(fine, ours - band, ours + band, color=COLOURS[number], alpha=0.12, linewidth=0)
            curve(ax, fine, ours, number, f"flarenut, {leg}, and its band")
            dots(ax, fine[::4], [cases_tees.crane(way, leg, share) for share in fine[::4]], number, f"handbook's fit, {leg}", 5)
            if way == "dividing":
                ax.plot(fine[::4], [cases_tees.gardel_dividing(leg, share) for share in fine[::4]], "x", color=COLOURS[number],
                        markersize=5, label=f"Gardel 1957, {leg}")
        dress(ax, title=f"Tee, {way} flow", note="equal bores, 90 degrees", x="share of the flow in the branch",
              y="K on the whole flow's velocity" if way == "combining" else "")
        ax.legend(fontsize=8, frameon=False, loc="upper left")
        ax.set_ylim(-1.5, 3.1)
    return made


def networks():
    made, ax = figure()
    ends = [1e-4, 2.0]
    ax.plot(ends, ends, color=FAINT, linewidth=1.2, label="alike")
    for number, case in enumerate(cases_networks.CASES):
        found = list(cases_networks.published_cases(case, cases_networks.solved(case)))
        for group, words, size in (("flows", "flow, m3/s", 5.5), ("head losses", "head lost, m", 9)):
            points = [(abs(one.published), abs(one.ours)) for one in found if one.group == group]
            if points:
                dots(ax, *zip(*points), number, f"{case}, {words}", size)
    ax.set(xscale="log", yscale="log")
    dress(ax, title="Networks: flows and head losses", note="Published, and ours; exceptions are hand iterations that stopped early.",
          x="published", y="ours")
    legend(ax)
    return made


def exchangers():
    made, ax = figure()
    fine = np.linspace(0.0, 5.2, 80)
    table = rows("effectiveness_NTU.csv")
    for number, (name, law) in enumerate(cases_heat_tables.ARRANGEMENTS.items()):
        ratios = {float(row["Cr"]) for row in table if row["arrangement"] == name}
        ratio = max(ratios)
        curve(ax, fine, [heat_transfer.effectiveness(law, ntu, ratio) for ntu in fine], number, f"{name}, ratio {ratio:g}")
        points = [(float(row["NTU"]), float(row["effectiveness"])) for row in table if row["arrangement"] == name and float(row["Cr"]) == ratio]
        dots(ax, *zip(*points), number, None, 5)
    none = [(float(row["NTU"]), float(row["effectiveness"])) for row in table if row["arrangement"] == "counterflow" and float(row["Cr"]) == 0]
    ax.plot(fine, -np.expm1(-fine), color=FAINT, linewidth=1.5, label="any, ratio 0")
    ax.plot(*zip(*none), "o", color=FAINT, markersize=4, linestyle="none")
    dress(ax, title="Exchangers: effectiveness over NTU", note="Lines: flarenut. Points: closed forms as evaluated by others.", x="NTU",
          y="effectiveness")
    ax.set_xlim(0, 5.2)
    legend(ax)
    return made


def films():
    made, ax = figure()
    table = rows("internal_convection_values.csv")
    names = ("Gnielinski, smooth, Petukhov f", "Hausen laminar, constant wall temperature")
    keys = sorted({(row["correlation"], float(row["Pr"]), row["L_over_D"]) for row in table if row["correlation"] in names})
    for number, (name, prandtl, length) in enumerate(keys):
        points = sorted((float(row["Re"]), float(row["Nu"])) for row in table if (row["correlation"], float(row["Pr"]), row["L_over_D"]) == (name, prandtl, length))
        low, high = (100, 2300) if length else (4000, 1.2e6)
        fine = np.geomspace(low, high, 60)
        curve(ax, fine, [heat_transfer.tube_nusselt(re, prandtl, 1 / float(length) if length else 0.0) for re in fine], number)
        dots(ax, *zip(*points), number, f"Pr {prandtl:g}" + (f", L/D {length}, laminar" if length else ", turbulent"), 5)
    ax.set(xscale="log", yscale="log")
    dress(ax, title="Films inside tubes: Nusselt number", note="Lines: flarenut's law. Points: Hausen and Gnielinski as evaluated by others; under Re 4000 the law leaves Gnielinski's.",
          x="Reynolds number", y="Nusselt number")
    legend(ax)
    return made


PICTURES = {"friction": friction, "local_losses": local_losses, "tees": tees, "networks": networks, "exchangers": exchangers, "films": films,
            "viscosity": viscosity, "density": density, "vapour_pressure": vapour_pressure, "tubes": tubes, "torque": torque}


def draw_all(folder):
    for name, draw in PICTURES.items():
        path = folder / f"{name}.png"
        draw().savefig(path, dpi=100, metadata={"Software": None})
        yield path
