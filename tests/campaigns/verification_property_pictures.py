"""Pictures of fluids and hardware: our curves over published points and bands."""

import numpy as np
from cases_oils import ICE, kinematic
from matplotlib.figure import Figure
from reference import fluid_rows, hardware_rows

from flarenut.catalog import end, table, torque_of, tube_rating
from flarenut.catalog.tube_formulas import lame
from flarenut.fluids import fluid
from flarenut.plotting.frame import dress, legend
from flarenut.plotting.palette import COLOURS, DASHES, FAINT, INK, MARKERS

INCH, PSI = 0.0254, 6894.757293168
DASH_SIZES = (3, 4, 6, 8, 10, 12, 16)


def _figure():
    made = Figure(figsize=(9.0, 5.2), layout="constrained")
    return made, made.subplots()


def _over_temperature(ax, made, ask, number, label, low=None):
    """Ours from where the fluid begins to 130 C, or as far as it goes."""
    least = max(made.outer_limit[0].to("C"), -40.0 if low is None else low)
    celsius = np.linspace(least + 0.01, min(made.outer_limit[1].to("C"), 130.0) - 0.01, 80)
    ax.plot(celsius, [ask(made, one) for one in celsius], color=COLOURS[number % 6], linestyle=DASHES[number % 6], linewidth=1.5, label=label)


def _points(ax, x, y, number, label=None):
    ax.plot(x, y, MARKERS[number % 6], markersize=5, markerfacecolor="none", markeredgewidth=0.9, color=COLOURS[number % 6],
            linestyle="none", label=label)


def viscosity():
    made, ax = _figure()
    samples = fluid_rows("engine_oils_typical.csv")
    for number, grade in enumerate(("0W-20", "5W-30", "10W-40", "20W-50")):
        _over_temperature(ax, fluid(f"SAE {grade}"), kinematic, number, f"SAE {grade}", -20)
        rows = [row for row in samples if row["sae_grade"] == grade]
        _points(ax, [40] * len(rows) + [100] * len(rows), [float(row[c]) for c in ("kv40_mm2_s", "kv100_mm2_s") for row in rows], number)
    _over_temperature(ax, fluid("ATF"), kinematic, 4, "ATF", -20)
    rows = [row for row in fluid_rows("atf_typical.csv") if row["kv40_mm2_s"]]
    _points(ax, [40] * len(rows) + [100] * len(rows), [float(row[c]) for c in ("kv40_mm2_s", "kv100_mm2_s") for row in rows], 4)
    _over_temperature(ax, fluid("ethylene glycol 50 %"), kinematic, 5, "ethylene glycol 50 %")
    rows = [row for row in fluid_rows("glycol_coolants.csv") if row["glycol"] == "ethylene glycol" and row["vol_percent"] == "50"]
    _points(ax, [float(row["T_degC"]) for row in rows], [float(row["kinematic_viscosity_mm2_s"]) for row in rows], 5)
    ax.set_yscale("log")
    dress(ax, title="Kinematic viscosity over temperature", note="Lines: flarenut. Points: sampled oils and fluids; tables of the coolant.",
          x="temperature [C]", y="kinematic viscosity [mm2/s]")
    legend(ax)
    return made


def _density(made, celsius):
    return made.liquid.at(celsius + ICE).density


def density():
    made, ax = _figure()
    glycols = fluid_rows("glycol_coolants.csv")
    for number, (glycol, percent) in enumerate((("ethylene glycol", "30"), ("ethylene glycol", "50"), ("propylene glycol", "50"))):
        _over_temperature(ax, fluid(f"{glycol} {percent} %"), _density, number, f"{glycol} {percent} %")
        rows = [row for row in glycols if (row["glycol"], row["vol_percent"]) == (glycol, percent)]
        _points(ax, [float(row["T_degC"]) for row in rows], [float(row["density_kg_m3"]) for row in rows], number)
    _over_temperature(ax, fluid("water"), _density, 3, "water")
    rows = fluid_rows("water.csv")
    _points(ax, [float(row["T_degC"]) for row in rows], [float(row["density_kg_m3"]) for row in rows], 3)
    alcohols = fluid_rows("pure_fuels_saturation.csv")
    for number, name in ((4, "ethanol"), (5, "methanol")):
        _over_temperature(ax, fluid(name), _density, number, name)
        rows = [row for row in alcohols if row["fluid"] == name and -40 < float(row["T_degC"]) < 120]
        _points(ax, [float(row["T_degC"]) for row in rows], [float(row["liquid_density_kg_m3"]) for row in rows], number)
    dress(ax, title="Density over temperature", note="Lines: flarenut. Points: published tables.", x="temperature [C]", y="density [kg/m3]")
    legend(ax)
    return made


def vapour_pressure():
    made, ax = _figure()
    ask = lambda one, celsius: one.liquid.at(celsius + ICE).vapour_pressure / 1e3  # noqa: E731
    printed, mixed = fluid_rows("vapour_pressure_ap42.csv"), fluid_rows("stand_in_gasoline.csv")
    for number, reid in enumerate(("7", "10", "13")):
        _over_temperature(ax, fluid("gasoline", reid=f"{reid} psi"), ask, number, f"gasoline, Reid {reid} psi", 0)
        rows = [row for row in printed if row["fluid"] == f"gasoline RVP {reid}"]
        _points(ax, [float(row["T_degC"]) for row in rows], [float(row["true_vapour_pressure_kPa"]) for row in rows], number)
        rows = [row for row in mixed if float(row["gasoline_reid_psi"]) == float(reid) and float(row["ethanol_volume_share"]) == 0]
        ax.plot([float(row["T_degC"]) for row in rows], [float(row["bubble_pressure_kPa"]) for row in rows], "x", color=COLOURS[number],
                markersize=5, linestyle="none")
    alcohols = fluid_rows("pure_fuels_saturation.csv")
    for number, name in ((3, "ethanol"), (4, "methanol")):
        _over_temperature(ax, fluid(name), ask, number, name, 0)
        rows = [row for row in alcohols if row["fluid"] == name and 0 < float(row["T_degC"]) < 120]
        _points(ax, [float(row["T_degC"]) for row in rows], [float(row["saturation_pressure_kPa"]) for row in rows], number)
    _over_temperature(ax, fluid("water"), ask, 5, "water", 0)
    rows = [row for row in fluid_rows("water.csv") if float(row["T_degC"]) > 5]
    _points(ax, [float(row["T_degC"]) for row in rows], [float(row["saturation_pressure_kPa"]) for row in rows], 5)
    ax.set(yscale="log", ylim=(1, 1000))
    dress(ax, title="Vapour pressure over temperature", note="Lines: flarenut. Points: published tables; crosses: a mixture of nine hydrocarbons, evaluated by others.",
          x="temperature [C]", y="vapour pressure [kPa, absolute]")
    legend(ax)
    return made


def tubes():
    made, ax = _figure()
    steel = hardware_rows("tube_pressure_steel.csv")
    for number, wall in enumerate(("0.028", "0.035", "0.049", "0.065")):
        rows = [row for row in steel if float(row["wall_in"]) == float(wall)]
        ods = sorted(float(row["od_in"]) for row in rows)
        fine = np.linspace(ods[0], ods[-1], 40) if len(ods) > 1 else np.array(ods)
        ax.plot(fine, [lame(12_500.0, od, float(wall)) for od in fine], color=FAINT,
                linewidth=1.2)
        ax.plot(ods, [tube_rating("steel", od * INCH, float(wall) * INCH).working / PSI for od in ods], color=COLOURS[number],
                linestyle=DASHES[number], linewidth=1.5,
                label=f"steel, wall {wall} in")
        _points(ax, [float(row["od_in"]) for row in rows], [float(row["working_psi"]) for row in rows], number)
    metric = hardware_rows("tube_pressure_stainless_metric.csv")
    ax.plot([float(row["od_mm"]) / 25.4 for row in metric], [tube_rating("304", float(row["od_mm"]) * 1e-3, float(row["wall_mm"]) * 1e-3).working / PSI for row in metric],
            "_", color=INK, markersize=11, linestyle="none", label="stainless, metric")
    _points(ax, [float(row["od_mm"]) / 25.4 for row in metric], [float(row["working_MPa"]) * 1e6 / PSI for row in metric], 5)
    ax.set_ylim(bottom=0)
    dress(ax, title="Working pressure of tube", note="Lines and dashes: flarenut. Points: published tables, which it takes where they reach. Grey: Lame's law at 12,500 psi.",
          x="outside diameter [in]", y="working pressure [psi]")
    legend(ax)
    return made


def torque():
    made = Figure(figsize=(9.0, 5.2), layout="constrained")
    more = [{**row, "dash": row["size"], "tube_or_fitting_material": row["material"]} for row in table("fitting_torque_more.csv") if row["form"] == "37 flare"]
    rows = more + [row for row in table("fitting_torque.csv") if row["joint"].startswith("37")]
    for ax, material in zip(made.subplots(1, 2, sharey=True), ("aluminium", "steel")):
        for place, dash in enumerate(DASH_SIZES):
            _chosen(ax, place, dash, material)
            shown = [row for row in rows if int(row["dash"][1:]) == dash and ("aluminium" in row["tube_or_fitting_material"]) >= (material == "aluminium")
                     and (material == "aluminium" or row["tube_or_fitting_material"] not in ("aluminium", "aluminium alloy tube"))]
            for offset, row in enumerate(shown):
                ax.plot([place + 0.12 + 0.07 * offset] * 2, [float(row["torque_min_Nm"]), float(row["torque_max_Nm"])], "_-", color=INK,
                        linewidth=0.8, markersize=4,
                        label="published rows" if dash == 6 and not offset else None)
        ax.set(yscale="log")
        ax.set_xticks(range(len(DASH_SIZES)), [f"-{dash}" for dash in DASH_SIZES])
        dress(ax, title=f"37 degree joints, {material}", note="", x="dash size", y="torque [N m]" if material == "aluminium" else "")
        ax.legend(fontsize=8, frameon=False, loc="upper left")
    return made


def _chosen(ax, place, dash, material):
    """Our band for each kind of nut, left of what is published."""
    for number, (line, words) in enumerate((("tube", "tube nut"), ("hose", "hose nut"), ("fitting", "swivel nut"))):
        found = torque_of(end(f"-{dash} AN male"), line, material)
        if found:
            ax.plot([place - 0.34 + 0.15 * number] * 2, [found.low, max(found.high, 1.03 * found.low)], color=COLOURS[number], linewidth=3.5,
                    solid_capstyle="butt", label=f"flarenut, {words}" if dash == 6 else None)
