# ---
# jupyter:
#   jupytext:
#     text_representation:
#       extension: .py
#       format_name: percent
#   kernelspec:
#     display_name: Python 3 (ipykernel)
#     language: python
#     name: python3
# ---

# %% [markdown]
# # Which pump? At real volts, and against boost
#
# **The car, the pumps and all numbers are invented.** It is a coupe with a turbocharger and a return-style system. The builder runs it on E10
# today and wants E85 for the track. Three pumps fit the tank. Each is sold by one figure: its flow at low pressure on a good supply.
#
# That figure is not what arrives. The regulator adds boost to its setting, the wiring eats volts, filters load up, and E85 wants more
# gallons for the same power. Which pump holds in the worst case, with what margin? And what does half a volt less do?
#
# > **An engineering estimate, not a certification.** Fuel burns, and an engine that runs lean under boost breaks. Relieve the pressure before
# > you open a line, keep ignition away, verify pressure and mixture by measurement. Local codes, fuses and wire sizes, inspectors and
# > licensed practice come first.

# %%
import matplotlib.pyplot as plt

import flarenut as fn

# Charts as on the pumps' sheets: volts at the pump -> gallons per hour and psi. Invented, of usual shape.
CHARTS = {
    "small": {10.5: [[0, 100], [28, 82], [44, 62], [55, 42], [66, 20]], 12.0: [[0, 124], [32, 102], [51, 77], [65, 52], [77, 25]],
              13.5: [[0, 150], [37, 123], [58, 93], [74, 63], [88, 30]]},
    "middle": {10.5: [[0, 104], [37, 85], [58, 64], [74, 44], [88, 21]], 12.0: [[0, 128], [43, 105], [68, 80], [87, 54], [103, 26]],
               13.5: [[0, 155], [50, 127], [78, 96], [99, 65], [118, 31]]},
    "large": {10.5: [[0, 110], [47, 91], [74, 68], [94, 46], [112, 22]], 12.0: [[0, 137], [55, 112], [86, 85], [110, 57], [131, 27]],
              13.5: [[0, 165], [63, 135], [99, 102], [126, 69], [150, 33]]},
}
AMPS = {"small": 11.0, "middle": 15.0, "large": 21.0}  # at work, invented
OHMS = 0.035  # wire, plugs, relay and earth, there and back; measure yours: volts lost, over amps

FUELS = {"E10": "0.62 lb/hp/h", "E85": "0.88 lb/hp/h"}  # fuel burnt for each horsepower, with boost (common practice, no source)
POWER, BOOST, SETTING = "550 hp", "20 psi boost", "58 psi"
GOOD, BAD = "13.8 V", "13.0 V"  # at the battery: charging well; fans and lamps on
LEAST_MARGIN = 0.10  # of what the engine burns, still spilled by the regulator. Our wish: pumps wear, sheets flatter


def pump(name, ohms=OHMS):
    """One of the three, with what it loses in the wiring."""
    charts = [{"volts": volts, "flow": "gph", "pressure": "psi", "points": points} for volts, points in CHARTS[name].items()]
    return fn.electric_pump(charts, check_valve=True, volts_lost=f"{AMPS[name] * ohms:.3f} V", name="pump")


def coupe(name, fuel, ohms=OHMS):
    """The coupe with that pump and fuel."""
    car = fn.Circuit("coupe with a turbocharger", fluid=fuel, invented=True)
    car.tank("tank", level="8 in")
    car.junction("rail", position=["10 ft", "0 ft", "20 in"], bore="11 mm")
    car.run("feed", "tank", "rail", [
        fn.strainer("0.3 psi at 100 gph", name="sock"), pump(name, ohms),
        fn.hose("-8", "13 ft", spec="ptfe", bends=[90, 90, 45], name="feed hose"),
        fn.filter("1.2 psi at 100 gph", name="filter")])
    car.run("return", "rail", "tank", [
        fn.bypass_regulator(SETTING, reference="manifold", wide_open="25 psi at 110 gph", band="2 psi", name="regulator"),
        fn.hose("-8", "13 ft", spec="ptfe", bends=[90, 90], name="return hose")])
    car.injectors("injectors", "rail", count=6, flow="1300 cc/min at 3 bar")
    full = {"power": POWER, "specific_consumption": FUELS[fuel], "manifold": BOOST}
    car.case("good day", volts=GOOD, **full)
    car.case("bad day", volts=BAD, fluid_temperature="45 C", tank_level="2 in", filter_loading=3, **full)
    return car


# %% [markdown]
# ## What reaches the pump
#
# Volts at the pump are volts at the battery less amps times ohms. A bigger pump draws more, so it loses more in the same wire.

# %%
for name, amps in AMPS.items():
    lost = amps * OHMS
    print(f"{name:<7} draws {amps:.0f} A and loses {lost:.2f} V: at {GOOD} it sees {fn.Quantity.of(GOOD, 'voltage').si - lost:.2f} V, "
          f"at {BAD} {fn.Quantity.of(BAD, 'voltage').si - lost:.2f} V")

# %% [markdown]
# ## Where the largest pump works
#
# Grey: the pump alone, at several volts at the battery, its wiring included. Coloured: what the car asks of it. The flat stretch is the
# regulator holding its setting on top of the boost. Where the lines cross, there it works.

# %%
figure, ax = plt.subplots(figsize=(10, 5.5), layout="constrained")
fn.pump_picture(fn.pump_and_system(coupe("large", "E85"), drives=["11 V", "12 V", "13 V", "13.8 V"]), ax=ax);

# %% [markdown]
# ## All pumps, both fuels, both days
#
# What the engine burns follows from its power. The regulator spills the rest: that spill is the margin. When nothing is left to spill, the
# rail falls short.

# %%
days = {(name, fuel): coupe(name, fuel).solve() for name in CHARTS for fuel in FUELS}


def margin(case):
    """What the regulator still spills, as a share of what the engine burns; nothing where it has lost hold."""
    held = case.part("regulator").regime == "regulating"
    return case.part("regulator").flow.si / case.part("injectors").flow.si if held else 0.0


def short(case):
    """How far the rail is under setting and boost [psi]."""
    return max(fn.Quantity.of(SETTING, "pressure_difference").to("psi") - case.part("injectors").drop.to("psi"), 0.0)


print(f"{'pump':<8}{'fuel':<6}{'day':<10}{'rail':>10}{'engine burns':>16}{'spilled':>12}{'margin':>9}{'rail short':>12}")
for (name, fuel), answer in days.items():
    for day, case in answer.items():
        spilled = case.part("regulator").flow if margin(case) else "nothing"
        print(f"{name:<8}{fuel:<6}{day:<10}{case.at('rail').gauge!s:>10}{case.part('injectors').flow!s:>16}{spilled!s:>12}"
              f"{margin(case):>8.0%} {short(case):>8.1f} psi")

# %% [markdown]
# A short rail is worse than it looks. The injectors have to stay open longer to pass the same fuel. Once they are open all the time,
# the engine runs lean.

# %% [markdown]
# ## Margin over volts
#
# Volts at the battery, on the bad day. The dotted lines stand at the bad day's volts and half a volt below.

# %%
VOLTS = [f"{tenths / 10:.1f} V" for tenths in range(115, 141)]
HALF = "0.5 V"
bad = fn.Quantity.of(BAD, "voltage").si
less = bad - fn.Quantity.of(HALF, "voltage").si


def margins(name, fuel, ohms=OHMS):
    """Margin at each of `VOLTS` on the bad day."""
    answer = fn.sweep(coupe(name, fuel, ohms), {"volts": VOLTS}, cases="bad day",
                      outputs=["regulator.flow", "regulator.regime", "injectors.flow"], units="us").sel(case="bad day")
    share = answer["regulator.flow"] / answer["injectors.flow"]
    return share.where(fn.words_of(answer["regulator.regime"]) == "regulating", 0.0)


over_volts = {(name, fuel): margins(name, fuel) for name in CHARTS for fuel in FUELS}
figure, axes = plt.subplots(1, 2, figsize=(11, 4.6), sharey=True, layout="constrained")
for ax, fuel in zip(axes, FUELS):
    for name, look in zip(CHARTS, ("^-.", "s--", "o-")):
        one = over_volts[name, fuel]
        ax.plot(one["volts"], 100 * one, look, markersize=4, label=f"{name} pump")
    for volts in (less, bad):
        ax.axvline(volts, color="0.3", linestyle=":", linewidth=1.2)
        ax.text(volts, 97, f"{volts:.1f} V ", ha="right", va="top", fontsize=9, color="0.3", rotation=90)
    ax.axhline(100 * LEAST_MARGIN, color="0.5", linewidth=1, label=f"our wish, {LEAST_MARGIN:.0%}")
    ax.set(title=f"{fuel}, {POWER}, {BOOST} (invented)", xlabel="volts at the battery [V]", ylim=(-2, 100))
    ax.grid(alpha=0.3)
axes[0].set_ylabel("margin: spilled over burnt [%]")
axes[0].legend(frameon=False, loc="upper left", fontsize=9);

# %%
for name in CHARTS:
    one = over_volts[name, "E85"]
    now, then = (float(one.sel(volts=volts, method="nearest")) for volts in (bad, less))
    print(f"{name:<7} E85, bad day: {now:.0%} at {bad:.1f} V, {then:.0%} with {HALF} less")

# %% [markdown]
# ## How much power each pump carries
#
# The same bad day on E85, with the power turned up. The rail holds until the pump has nothing to spare. Then it falls away.
# Where a line runs flat again at the bottom, the injectors are open all the time: there is no more power there, only a lean engine.

# %%
powers = fn.sweep(coupe("small", "E85"), {"power": [f"{power} hp" for power in range(250, 801, 25)], "pump": {name: pump(name) for name in CHARTS}},
                  cases="bad day", outputs=["rail.gauge"], units="us")
figure, ax = plt.subplots(figsize=(10, 5.2), layout="constrained")
fn.demand_picture(powers, ax=ax);

# %% [markdown]
# ## The way to the pump
#
# A pump that has enough to give can still starve. What it sucks must stay liquid: the pressure at its inlet has to stay above the vapour
# pressure of the fuel, warm tank and all. That is the suction margin. It shrinks with heat, and as a bigger pump pulls more through the sock.

# %%
print(f"{'pump':<8}{'fuel':<6}{'day':<10}{'suction margin':>16}")
for (name, fuel), answer in days.items():
    for day, case in answer.items():
        print(f"{name:<8}{fuel:<6}{day:<10}{case.part('pump').suction.margin!s:>16}")

# %% [markdown]
# ## The smallest pump that holds, and what the checks say of it
#
# It keeps our margin on the bad day, on the fuel that asks the most. STOP means do not run it so, FIX means mend it.

# %%
worst = {name: min(margin(case) for fuel in FUELS for case in days[name, fuel].values()) for name in CHARTS}
passing = [name for name, share in worst.items() if share >= LEAST_MARGIN]
chosen = passing[0]
wrong = [(fuel, finding) for fuel in FUELS for finding in days[chosen, fuel].findings if finding.severity in ("stop", "fix")]
for fuel, finding in wrong:
    print(f"{chosen} pump on {fuel}: {finding}\n")
print(f"{len(wrong)} to mend with the {chosen} pump.")

# %% [markdown]
# ## Decision

# %% tags=["decision"]
decision = {"pump": chosen, "margin": round(worst[chosen], 3), "fuel": "E85", "day": "bad day",
            "still to mend": [f"{fuel}, {finding.case}, {finding.where}: {finding.code}" for fuel, finding in wrong]}
assert margin(days[chosen, "E85"]["bad day"]) == worst[chosen]
decision

# %%
thick = 0.5 * OHMS
rewired = margins(chosen, "E85", thick)
now, then, with_wire = (float(one.sel(volts=bad if at is None else at, method="nearest"))
                        for one, at in ((over_volts[chosen, "E85"], None), (over_volts[chosen, "E85"], less), (rewired, less)))
gone = [float(volts) for volts, share in zip(over_volts[chosen, "E85"]["volts"], over_volts[chosen, "E85"]) if not share]
print(f"Take the {chosen} pump for its flow. On E85, on the bad day, at {bad:.1f} V, {now:.0%} is left to spill.")
print(f"With {HALF} less it is {then:.0%}. At {max(gone):.1f} V nothing is left, and the rail begins to fall.")
print(f"Halve the resistance of the wiring and even at {less:.1f} V {with_wire:.0%} is left. A relay at the pump and thick wire are cheap.")
for name in CHARTS:
    if name not in passing:
        fuel, day, case = max(((fuel, day, case) for fuel in FUELS for day, case in days[name, fuel].items()), key=lambda one: short(one[2]))
        print(f"The {name} pump: {worst[name]:.0%} left in its worst case, {fuel} on a {day}; the rail is {short(case):.1f} psi short.")
for fuel, finding in wrong:
    print(f"Not yet sound: on {fuel}, on the {finding.case}, the {finding.where} has a {finding.severity.upper()} for {finding.code}.")
    others = ", ".join(f"{name} {days[name, fuel][finding.case].part('pump').suction.margin}" for name in CHARTS)
    print(f"No pump of the three is out of it ({others}): cool the fuel, or run one that boils later.")
assert now > then and with_wire > then and max(gone) < less and {finding.code for _, finding in wrong} <= {"suction margin"}

# %% [markdown]
# **Before you buy:** measure the volts at the pump's own terminals with the pump at work, not at the battery. Ask for the chart at your pressure,
# and for the volts it was made at. Pump, hose and seals must be rated for your fuel. Fuse and wire for the pump's amps.
#
# **After:** log rail pressure less manifold pressure through a full pull. It should stay level. If it sags towards the top, lift your foot: the
# pump, the volts or the filter are at their end.
