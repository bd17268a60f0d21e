"""Tables of constants of fittings, definitions of valve coefficients, orifice and short-tube coefficients, a relief valve's spring."""

import math

from published_case import Bound, Case, how_of
from reference import passed_between, rows

from flarenut._core import correlations as ours

TOPIC = "local losses"
INCH, PSI, GALLON_PER_MINUTE = 0.0254, 6894.757293168362, 3.785411784e-3 / 60
AS_PRINTED = Bound(1e-6, why="arithmetic on the table's constants")


def _case(group, name, row, published, unit, value, bound, reason=""):
    return Case(TOPIC, group, name, row["source"], how_of(row), published, unit, value, bound, reason)


# Where a table's K is printed: Reynolds number, bore in inches, column.
PLACES = ((1e3, 1.0, "K_at_Re1000_size_1in"), (1e5, 1.0, "K_at_Re1e5_size_1in"), (1e5, 0.5, "K_at_Re1e5_size_0.5in"))


def constants():
    """Two-K and three-K fittings at three places."""
    for row in rows("fitting_constants.csv"):
        if row["method"] not in ("2-K", "3-K"):
            continue
        k_one, k = float(row["K1"]), float(row["Kinf_or_Ki_or_L_over_D_or_K"])
        for reynolds, inches, column in PLACES:
            bore = inches * INCH
            value = (ours.two_k_times_reynolds(reynolds, bore, k_one, k) if row["method"] == "2-K"
                     else ours.three_k_times_reynolds(reynolds, bore, k_one, k, float(row["Kd"]))) / reynolds
            group = "two-K fittings" if row["method"] == "2-K" else "three-K fittings"
            yield _case(group, f"{row['row_id']} {row['fitting']}, Re {reynolds:.0e}, {inches:g} in", row, float(row[column]), "K", value, AS_PRINTED)


def equivalent_lengths():
    """fT of the handbook from its own definition: fully rough, 0.0018 in, schedule 40 bores of 1.049 and 0.622 in."""
    bound = Bound(0.05, why="the handbook's printed fT is rounded and differs between editions by one in the last place: 5 %", kind="band")
    for row in rows("fitting_constants.csv"):
        if row["method"] == "L/D":
            for bore, inches, column in ((1.049, 1.0, PLACES[1][2]), (0.622, 0.5, PLACES[2][2])):
                value = ours.equivalent_length_times_reynolds(ours.fully_rough_friction_factor(0.0018 / bore),
                                                              float(row["Kinf_or_Ki_or_L_over_D_or_K"]))
                yield _case("equivalent lengths", f"{row['row_id']} {row['fitting']}, {inches:g} in", row, float(row[column]), "K", value, bound)


def _plain_loss(fitting):
    """K of a step, an entrance or an exit; None where the row is a bare number for one valve or elbow."""
    if "d/D=" in fitting:
        ratio = float(fitting.split("d/D=")[1].split()[0])
        return ours.sudden_expansion_loss(ratio) if "enlargement" in fitting else ours.sudden_contraction_loss(ratio)
    if fitting.startswith("entrance rounded"):
        return ours.rounded_entrance_loss(float(fitting.split("=")[1]))
    return {"entrance, sharp, flush": ours.sharp_entrance_loss, "exit into a large space": ours.exit_loss}.get(fitting)


def steps_and_ends():
    for row in rows("fitting_constants.csv"):
        if row["method"] == "K":
            value = _plain_loss(row["fitting"])
            yield _case("steps, entrances, exits", f"{row['row_id']} {row['fitting']}", row, float(row["Kinf_or_Ki_or_L_over_D_or_K"]), "K", value,
                        Bound(1e-9, why="the printed constant or closed form itself") if value is not None else None,
                        "" if value is not None else "a bare number for one valve or elbow: data of the catalogue, no formula to check")


def _taps(name, bore):
    return ours.TapPositions(*{"corner": (0.0, 0.0), "D and D/2": (1.0, 0.47), "flange": (0.0254 / bore, 0.0254 / bore)}[name])


def orifices():
    for row in rows("orifice_C_ISO5167.csv"):
        bore, reynolds, beta = float(row["D_m"]), float(row["Re_D"]), float(row["beta_d_over_D"])
        value = ours.orifice_meter_coefficient(reynolds, beta, bore, _taps(row["taps"], bore))
        yield _case("orifice plates", f"{row['taps']} taps, d/D {row['beta_d_over_D']}, Re {row['Re_D']}", row,
                    float(row["C_discharge_computed"]), "coefficient",
                    value, Bound(1e-4, why="values computed from the standard's equation by others: 0.01 %"))


def short_tubes():
    for row in rows("orifice_Cd_short_tube.csv"):
        element, bound, reason = row["element"], Bound(0.03, why="rounded textbook values: 3 %", kind="band"), ""
        if element.startswith("short tube, sharp entry"):
            value = ours.short_tube_coefficient(float(row["Re_d"]), float(row["L_over_d"]))
            bound = Bound(1e-3, why="values computed from the published fit by others: 0.1 %")
        elif element.startswith(("thin sharp-edged orifice", "sharp-edged round")):
            value = ours.sharp_orifice_coefficient(0.0)
        elif element == "short tube L/d=2.5 to 3, full bore":
            value = ours.short_tube_coefficient(1e6, 2.75)
        else:
            value, bound, reason = None, None, "a tube that projects into its tank: no part of ours"
        yield _case("short tubes and holes", f"{element}, Re {row['Re_d']}", row, float(row["Cd"]), "Cd", value, bound, reason)


def definitions():
    """Of Kv and Cv: rows that hold a constant. Those that are a sentence are held to it by flowing water, in tests/cpp/correlations/test_valve.cpp."""
    water, bar, kilopascal = ours.valve_water_density, 1e5, 1e3

    def kv_flow(drop):  # m3/h of a valve of Kv 1
        return 3600 * ours.valve_area_from_kv(1.0) * math.sqrt(drop / water)

    def cv_flow(drop):  # m3/s of a valve of Cv 1
        return ours.valve_area_from_cv(1.0) * math.sqrt(drop / water)

    printed, density = Bound(1e-3, why="as many figures as the standard prints: 0.1 %"), "water of 1000 kg/m3 there, 999.1 with us: 0.06 %"
    values = {"Cv/Kv": (ours.cv_from_valve_area(ours.valve_area_from_kv(1.0)), Bound(1e-6, why="six figures")),
              "Kv in SI: Q = Av sqrt(dp/rho)": (ours.valve_area_from_kv(1.0), Bound(6e-4, why=density)),
              "K from Cv": (ours.loss_from_valve_area(math.pi / 4 * INCH**2, ours.valve_area_from_cv(1.0)),
                            Bound(2e-4, why="water of 999 kg/m3 there")),
              "N1 (Kv, m3/h, bar)": (kv_flow(bar), printed), "N1 (Kv, m3/h, kPa)": (kv_flow(kilopascal), printed),
              "N1 (Cv, m3/h, kPa)": (3600 * cv_flow(kilopascal), printed),
              "N1 (Cv, gpm, psi)": (cv_flow(PSI) / GALLON_PER_MINUTE, printed)}
    for row in rows("valve_coefficient_definitions.csv"):
        if row["computed_constant"]:
            yield _case("valve coefficients", row["item"], row, float(row["computed_constant"]), "constant", *values[row["item"]])


def relief_valve():
    """A relief valve of the published cracking and full-flow pressures: at the second a band is used up, and it is 71 % open."""
    table = {row["result_name"]: row for row in rows("relief_valve_examples.csv")}
    cracking, full = (float(table[name]["published_value_SI"]) for name in ("cracking pressure", "full-flow pressure"))
    numbers = {"set_pressure": cracking, "band": full - cracking, "full_area": 1e-5, "discharge_coefficient": 0.7}
    share = passed_between(full, ("relief valve", numbers), 880.0, 1e-4) / (0.7 * 1e-5 * math.sqrt(2 * full / 880.0))
    yield _case("relief valve", "RV01 share open at the full-flow pressure", table["full-flow pressure"], 1 / math.sqrt(2), "of wide open",
                share, Bound())


def cases():
    for part in (constants, equivalent_lengths, steps_and_ends, orifices, short_tubes, definitions, relief_valve):
        yield from part()
