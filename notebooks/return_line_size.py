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
# # Which return line? Rail pressure at idle stands too high
#
# **The truck, the parts and all numbers are invented.** It is a pickup with a return-style fuel system and one pump in the tank. The gauge
# on the rail reads far too much at idle. Backing off the regulator's screw does not bring it down. At full power the reading is right.
#
# Is it the return line? Which size and which family of hose cures it? And what does it not cure?
#
# > **An engineering estimate, not a certification.** Fuel burns. Relieve the pressure before you open a line, keep ignition away, leak-test
# > with liquid, and verify with a gauge. Local codes, inspectors and licensed practice come first.

# %%
import matplotlib.pyplot as plt

import flarenut as fn
from flarenut.studies.sliders import Sliders

SETTING, NARROW_SEAT, WIDE_SEAT = "43.5 psi", "34 psi at 107 gph", "20 psi at 107 gph"


def truck():
    """The pickup as it stands today."""
    car = fn.Circuit("pickup with a small return line", fluid="E10", invented=True)
    car.tank("tank", level="9 in")
    car.junction("rail", position=["9 ft", "0 ft", "18 in"], bore="11 mm")
    car.run("feed", "tank", "rail", [
        fn.strainer("0.3 psi at 100 gph", name="sock"),
        fn.formula_pump("110 psi", "150 gph", through="60 psi at 100 gph", volts_lost="0.4 V", name="pump"),
        fn.hose("-8", "12 ft", spec="ptfe", bends=[90, 90, 45], name="feed hose"),
        fn.filter("1.2 psi at 100 gph", name="filter")])
    car.run("return", "rail", "tank", [
        fn.bypass_regulator(SETTING, reference="manifold", band="1.5 psi", wide_open=NARROW_SEAT, name="regulator"),
        fn.hose("-4", "14 ft", spec="ptfe", bends=[90, 90, 90], name="return hose")])
    car.injectors("injectors", "rail", count=8, flow="550 cc/min at 3 bar")
    car.fuel_cases(hot="45 C")
    return car


car = truck()
today = car.solve()
today.table(rows=["rail", "injectors.drop", "regulator.outlet", "regulator.flow", "return hose.velocity", "regulator.regime"])

# %% [markdown]
# `regulator.outlet` is the pressure in the return, right behind the regulator. That is the one to look at. A gauge teed in there costs
# little and tells the same.

# %%
idle = today["idle"]
rail, across, behind = idle.at("rail").gauge, idle.part("injectors").drop, idle.part("regulator").outlet.gauge
over = across.to("psi") - fn.Quantity.of(SETTING, "pressure_difference").to("psi")
print(f"At idle the rail reads {rail}. Across the injectors stand {across}; the regulator is set to {SETTING}.")
print(f"That is {over:.1f} psi too much. Behind the regulator the return pushes back with {behind}.")
print(f"The regulator is {idle.part('regulator').regime}. It can open no further, so backing off its screw does nothing.")
full = today["full power"].part("injectors").drop.to("psi") - fn.Quantity.of(SETTING, "pressure_difference").to("psi")
print(f"At full power {full:.1f} psi are over: it regulates as it should.")
assert idle.part("regulator").regime == "wide open" and over > 10 and 0 < full < 2

# %% [markdown]
# ## Where the pressure goes on the way home
#
# Idle is the worst case for a return line. The engine drinks next to nothing, so all that the pump gives has to go back.

# %%
figure, ax = plt.subplots(figsize=(10, 6), layout="constrained")
fn.pressure_ladder(today, runs=["return"], ax=ax);

# %% [markdown]
# ## Every size, in three families of hose
#
# A dash size is not a bore. The same -6 is narrow in smooth PTFE, wider in braided rubber, and widest in push-on hose. So we try each.
# In brackets stands what is left to the limit; a minus means that the limit is passed.

# %%
FAMILIES, SIZES = ["ptfe", "braided-rubber", "push-on"], ["-4", "-6", "-8", "-10"]
with_old_seat = fn.line_sizes(car, "return hose", SIZES, FAMILIES)
with_old_seat

# %% [markdown]
# One column is short with every size: the suction margin at the hot restart. That is the warm tank, which no return line cools. It wants
# cooler or less volatile fuel, and is left out of the choice.

# %%
figure, ax = plt.subplots(figsize=(10, 6), layout="constrained")
fn.size_picture(with_old_seat, ax=ax);

# %%
line = with_old_seat.smallest()


def rise(row):
    return row.cells["rise_over_setting"].value.to("psi")


def back(row):
    return row.cells["back_pressure"].value.to("psi")


was, widest = with_old_seat.row("-4", "ptfe"), max(with_old_seat.rows, key=lambda row: row.bore.si)
print(f"Smallest return line that passes all else: {line.size} {line.spec}, bore {line.bore.to('in'):.3f} in.")
print(f"It takes the back-pressure from {back(was):.1f} to {back(line):.1f} psi,")
print(f"and what the rail stands over the setting from {rise(was):.1f} to {rise(line):.1f} psi.")
print(f"A {widest.size} {widest.spec}, the widest of all, would leave {rise(widest):.1f} psi.")

# %% [markdown]
# ## What the line does in the other cases
#
# Next to nothing. At full power the injectors drink most of the flow, so little goes back. At a hot restart the pump runs on low volts
# and gives less. A return line is sized at idle.

# %%
rows = [(row.spec, row.size) for row in sorted(with_old_seat.rows, key=lambda row: row.bore.si)]
cases = fn.sweep(car, {("return hose.spec", "return hose.size"): rows}, outputs=["injectors.drop"], units="us")
drops = cases["injectors.drop"]
bores = sorted(row.bore.to("in") for row in with_old_seat.rows)
figure, ax = plt.subplots(figsize=(9, 4.5), layout="constrained")
for case, look in zip(drops["case"].values, ("o-", "s--", "^-.")):
    ax.plot(bores, drops.sel(case=case).values, look, label=case)
ax.axhline(fn.Quantity.of(SETTING, "pressure_difference").to("psi"), color="0.4", linewidth=1, label=f"setting, {SETTING}")
ax.set(xlabel="bore of the return hose [in]", ylabel="pressure across the injectors [psi]",
       title="What the return line does in each case (invented truck)")
ax.grid(alpha=0.3)
ax.legend(frameon=False);

# %%
wide_enough = [number for number, bore in enumerate(bores) if bore >= line.bore.to("in") - 1e-9]
for case in drops["case"].values:
    one = drops.sel(case=case).values
    print(f"{case}: {one[rows.index(('ptfe', '-4'))]:.1f} psi with today's line, {one[wide_enough[0]]:.1f} with the one chosen, "
          f"{one[wide_enough[-1]]:.1f} with the widest")
    assert case == "idle" or one.max() - one.min() < 1

# %% [markdown]
# ## What a wider line does not cure
#
# The regulator. Its seat is a hole, and a hole passes so much and no more. When it stands nearly wide open, each further gallon lifts the
# rail. This is called creep. No line cures it, however wide. A larger seat does, or a smaller pump.

# %%
wider = truck()
wider.change("regulator", wide_open=WIDE_SEAT)
with_wide_seat = fn.line_sizes(wider, "return hose", SIZES, FAMILIES)
chosen = with_wide_seat.smallest()
left = with_wide_seat.row(chosen.size, chosen.spec)
creep_limit = fn.checks.Limits().regulator_creep.to("psi")
print(f"Today's regulator: its seat drops {NARROW_SEAT} wide open. With the widest hose the rail still stands {rise(widest):.1f} psi over the setting.")
print(f"That is more than the usual {creep_limit:.0f} psi. What is left is the regulator's own.")
print(f"A regulator with a larger seat, {WIDE_SEAT}: {rise(left):.1f} psi with the {chosen.size} {chosen.spec}.")
assert rise(widest) > creep_limit > rise(left)
assert with_old_seat.beyond == ["rise_over_setting", "suction_margin"] and with_wide_seat.beyond == ["suction_margin"]

# %%
seats = {"today's seat": with_old_seat, "larger seat": with_wide_seat}
figure, ax = plt.subplots(figsize=(9, 4.8), layout="constrained")
for (seat, table), look in zip(seats.items(), ("o-", "s--")):
    found = sorted((row.bore.to("in"), rise(row)) for row in table.rows)
    ax.plot(*zip(*found), look, label=seat)
ax.axhline(creep_limit, color="0.4", linewidth=1, label=f"usual limit, {creep_limit:.0f} psi (common practice, no source)")
ax.set(ylim=(0, 12), xlabel="bore of the return hose [in]", ylabel="rail over the setting at idle [psi]",
       title="A wider line helps down to where the regulator itself begins (invented truck)")
ax.grid(alpha=0.3)
ax.legend(frameon=False);

# %% [markdown]
# Where the lines run flat, more hose buys nothing. How high they lie there is up to the regulator. The smallest hose stands far above
# the picture.

# %% [markdown]
# ## Try it by hand
#
# Move a slider: the truck is solved again at once, with the larger seat. It starts on the line just found. Follow the pressure behind
# the regulator. Sliders need a running notebook.

# %%
STATIONS = {"pump": lambda case: case.part("pump").outlet.gauge, "rail": lambda case: case.at("rail").gauge,
            "behind regulator": lambda case: case.part("regulator").outlet.gauge, "tank": lambda case: case.at("tank").gauge}
LOOKS = {"idle": {"marker": "o"}, "full power": {"marker": "s", "linestyle": "--"}, "hot restart": {"marker": "^", "linestyle": "-."}}


def draw(picture, answer):
    """Gauge pressure from the pump to the tank, a line for each case."""
    if picture.is_new:
        picture.axes.set_xticks(range(len(STATIONS)), list(STATIONS))
        picture.axes.set(ylim=(-2, 70), ylabel="pressure [psig]", title="From pump to tank (invented truck)")
        picture.axes.grid(alpha=0.3)
    for name, case in answer.items():
        up = [read(case).to("psi") for read in STATIONS.values()]
        picture.line(name, range(len(up)), up, **LOOKS[name])
        picture.say(f"{name}: rail {case.at('rail').gauge}, across the injectors {case.part('injectors').drop}, "
                    f"behind the regulator {case.part('regulator').outlet.gauge}")


wider.change("return hose", size=chosen.size, spec=chosen.spec)
of_its_family = [row.size for row in with_wide_seat.rows if row.spec == chosen.spec]
sliders = Sliders(wider, {"return hose.size": of_its_family, "return hose.length": fn.between("4 ft", "20 ft"),
                          "volts": fn.between("11 V", "14.5 V"), "regulator.set": fn.between("38 psi", "60 psi")},
                  draw, start={"return hose.size": chosen.size, "volts": "13.5 V"})
assert not sliders.trouble and sliders.values["return hose.size"] == chosen.size
sliders

# %% [markdown]
# ## What else is wrong
#
# The choice above is about one line. Before you buy it, read what the checks say of the truck as it would then stand: STOP means do not
# run it so, FIX means mend it. These are all of both, in all cases.

# %%
wrong = [finding for finding in chosen.answer.findings if finding.severity in ("stop", "fix")]
for finding in wrong:
    print(f"{finding}\n")
print(f"{len(wrong)} to mend. No return line cures what no return line causes: the warm tank stays near boiling with every hose above.")

# %% [markdown]
# ## Decision
#
# The line, the regulator, and what is still to mend when both are in.

# %% tags=["decision"]
decision = {"size": chosen.size, "spec": chosen.spec, "regulator wide open": WIDE_SEAT,
            "still to mend": [f"{finding.where}, {finding.case}: {finding.code}" for finding in wrong]}
assert (line.size, line.spec) == (chosen.size, chosen.spec) and not with_wide_seat.blamed(chosen)
decision

# %%
after = chosen.answer["idle"]
print(f"Fit a {chosen.size} {chosen.spec} return line, bore {chosen.bore.to('in'):.3f} in, and a regulator with the larger seat.")
print(f"Then expect at idle: rail {after.at('rail').gauge} (today {rail}),")
print(f"behind the regulator {after.part('regulator').outlet.gauge} (today {behind}).")
print(f"The line alone would leave the rail {rise(line):.1f} psi over the setting. Line and regulator together leave {rise(left):.1f} psi.")
for finding in wrong:
    print(f"It is not all: at the {finding.case} the {finding.where} still has a {finding.severity.upper()} for {finding.code}. It is there today too.")
assert {(one.where, one.case, one.code) for one in wrong} <= {(one.where, one.case, one.code) for one in today.findings}

# %% [markdown]
# **Before you cut:** measure the bore of the hose in your hand; families differ, and so do makers. Check that fittings and the tank's return
# port are as wide as the hose. Fuel hose must be rated for your fuel.
#
# **After:** leak-test with liquid. Read the rail and the gauge behind the regulator at idle. If they are far off what stands above, something
# else is in the way: a crushed hose, a check valve, a return tube that ends in a small hole.
