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
# # Where does my oil pressure go when it is hot?
#
# **The truck, the parts and all numbers are invented.** It is an old pickup with an oil cooler. Cold it shows two bar at once. On the road
# it shows more. After a long climb, at idle with hot oil, the needle lies near the peg. Nothing leaks.
#
# Is it the pump? The cooler and its thin hoses? The squirters under the pistons? Or the bearings? Every cure costs money, and some cost a lot.
# So we look where the pressure goes before we buy.
#
# > **An engineering estimate, not a certification.** Hot oil burns skin. An engine that loses its oil pressure is ruined in seconds: if the needle
# > falls, stop it. Verify with a gauge that you trust. Local codes, inspectors and licensed practice come first.

# %%
import matplotlib.pyplot as plt

import flarenut as fn

WANTED, WORTH_A_WORD = "1.2 bar", "10 kPa"
RATED = "SAE 10W-40 at 100 C"


def truck(oil="SAE 10W-40", pump="13 cc/rev", clearance="0.10 mm", squirters_open="1.5 bar", fan="1 m/s", hose="-8"):
    """The pickup as it stands, or with one thing changed."""
    car = fn.Circuit("pickup that runs hot", fluid=oil, fluid_temperature="90 C", air_temperature="35 C", invented=True)
    car.tank("sump", level="120 mm", temperature="found", heat_share="5 %", heat_loss="14 W/K")
    car.fixed("crankcase", height="250 mm", drains_to="sump")
    car.junction("pump out", height="50 mm", bore="20 mm")
    car.junction("filter out", height="150 mm", bore="20 mm")
    car.junction("gallery", height="250 mm", bore="14 mm")
    car.run("suction", "sump", "pump out", [
        fn.strainer("1.5 kPa at 40 L/min", rated_with=RATED, name="pick-up screen"),
        fn.passage("28 mm", "250 mm", corners=1, name="pick-up pipe"),
        fn.displacement_pump(pump, speed="3000 rpm", name="oil pump")])
    car.run("relief", "pump out", "sump", [fn.relief_valve("4.5 bar", wide_open="2 bar at 80 L/min", rated_with=RATED, name="relief valve")])
    car.run("filtering", "pump out", "filter out", [fn.filter("0.3 bar at 40 L/min", rated_with=RATED, bypass="1.6 bar", name="oil filter")])
    line = {"size": hose, "length": "5 ft", "spec": "ptfe", "bends": [90, 90], "air": "still", "air_rise": "30 K"}
    car.run("cooling", "filter out", "gallery", [
        fn.hose(**line, name="hose to cooler"),
        fn.cooler("6 kW at 20 L/min", rated_inlet="110 C", rated_air="35 C at 5 m/s", face=["260 mm", "180 mm"], drop="0.25 bar at 20 L/min",
                  rated_with=RATED, fan=fan, name="oil cooler"),
        fn.hose(**line, name="hose from cooler")])
    car.run("bottom end", "gallery", "crankcase", [
        fn.passage("12 mm", "450 mm", corners=1, name="gallery bore"),
        fn.bearings(11, "58 mm", "22 mm", clearance, film_viscosity="60 %", speed="3000 rpm", name="mains and rods")])
    car.run("pistons", "gallery", "crankcase", [fn.squirters(8, "1.5 mm", opens=squirters_open, name="squirters")])
    car.run("head", "gallery", "crankcase", [
        fn.orifice("3 mm", name="head restrictor"),
        fn.bearings(10, "30 mm", "20 mm", "0.06 mm", ratio=0.5, speed="3000 rpm", name="cam bearings")])
    car.case("cold start", speed="1000 rpm", air_temperature="-10 C", engine_power="5 kW", **{"sump.temperature": "-10 C"})
    car.case("warm idle", speed="750 rpm", engine_power="6 kW", **{"sump.temperature": "90 C"})
    car.case("hot idle", speed="750 rpm", engine_power="6 kW", **{"sump.temperature": "120 C"})
    car.case("long climb", speed="3200 rpm", engine_power="110 kW", vehicle_speed="20 m/s")
    return car


CURES = {  # from cheap to dear
    "squirters that open at 2 bar": {"squirters_open": "2 bar"}, "wide hoses": {"hose": "-12"}, "a fan on the cooler": {"fan": "4 m/s"},
    "thicker oil": {"oil": "SAE 20W-50"}, "a larger pump": {"pump": "17 cc/rev"}, "new bearings": {"clearance": "0.06 mm"}}

today = truck().solve()
today.table(units="metric", rows=["gallery", "pump out", "sump.temperature", "gallery.temperature", "oil pump.flow", "relief valve.regime", "squirters.regime"])

# %% [markdown]
# ## Where it goes on the way
#
# From the pump to the crankcase, in every case.

# %%
figure, ax = plt.subplots(figsize=(11, 6.5), layout="constrained")
fn.pressure_ladder(today, runs=["filtering", "cooling", "bottom end"], units="metric", ax=ax);

# %%
idle = today["hot idle"]
pump_out, gallery = idle.at("pump out").gauge.to("barg"), idle.at("gallery").gauge.to("barg")
flows = {part: idle.part(part).flow.to("L/min") for part in ("oil pump", "relief valve", "mains and rods", "squirters", "cam bearings")}
print(f"Hot idle: {pump_out:.2f} bar at the pump, {gallery:.2f} at the gallery. Filter, cooler and hoses take {pump_out - gallery:.2f} bar of it.")
print(f"The relief is {idle.part('relief valve').regime}, the squirters are {idle.part('squirters').regime}.")
for part, flow in flows.items():
    print(f"  {part}: {flow:.2f} L/min")
print(f"{100 * flows['mains and rods'] / flows['oil pump']:.0f} % of what the pump gives runs out of the mains and rods.")
assert idle.part("relief valve").regime == "shut" and flows["mains and rods"] > 0.8 * flows["oil pump"]

# %% [markdown]
# A quarter of a bar is lost on the way. But while the relief is shut, that is the pump's trouble and not the gallery's: the pump gives the same
# oil with every turn, and pushes as hard as it must. What comes to the gallery is a flow, and its pressure is what the bearings hold back of
# it. The pump turns slowly, the oil is thin, and it runs out of worn bearings as fast as it comes.
#
# ## How much of it is the heat

# %%
CELSIUS = [60, 70, 80, 90, 100, 110, 120, 130]
swept = {name: fn.sweep(truck(clearance=clearance), {"sump.temperature": [f"{one} C" for one in CELSIUS]}, cases="hot idle",
                        outputs=["gallery.gauge"], units="metric")["gallery.gauge"].sel(case="hot idle").values
         for name, clearance in (("worn, 0.10 mm", "0.10 mm"), ("as new, 0.06 mm", "0.06 mm"))}
figure, ax = plt.subplots(figsize=(9, 4.5), layout="constrained")
for (name, values), look in zip(swept.items(), ("o-", "s--")):
    ax.plot(CELSIUS, values, look, label=f"bearings {name}")
ax.axhline(fn.Quantity.of(WANTED, "pressure_gauge").to("barg"), color="0.4", linewidth=1, label=f"wanted, {WANTED}")
ax.set(xlabel="oil in the sump [C]", ylabel="gallery at idle [barg]", ylim=(0, None), title="Idle pressure over the heat of the oil (invented truck)")
ax.grid(alpha=0.3)
ax.legend(frameon=False);

# %% [markdown]
# Where a line bends, the squirters begin to open: above that they hold the pressure down. Below it there is nothing but bearings and oil.
#
# ## Six cures, in four cases

# %%
cures = fn.compare({"as it is": truck(), **{name: truck(**words) for name, words in CURES.items()}}, units="metric", warm=("70 C", "115 C"))
cures

# %%
figure, ax = plt.subplots(figsize=(11, 7.5), layout="constrained")
fn.pressure_loop(cures, units="metric", ax=ax);

# %%
def at_idle(name):
    return cures.value(name, "hot idle", "gallery_pressure").si


wanted, worth = fn.Quantity.of(WANTED, "pressure_gauge").si, fn.Quantity.of(WORTH_A_WORD, "pressure_difference").si
stopped = {name: [case for case in cures.cases if any(one.severity == "stop" for one in cures.answers[name][case].findings)] for name in cures.variants}
for name in CURES:
    gained = at_idle(name) - at_idle("as it is")
    told = "nothing worth a word" if gained < worth else f"{gained / 1e5:.2f} bar more"
    print(f"{name}: {told}, {at_idle(name) / 1e5:.2f} bar at hot idle" + (f"; but STOP in {', '.join(stopped[name])}" if stopped[name] else ""))

# %% [markdown]
# Thicker oil brings more than the fan or the pump. But in the cold the pump can no longer draw it, and then there is no oil at all. The
# larger pump works at idle, and on the climb its surplus goes over the relief. Wide hoses help on the climb, where the pressure was not
# short: there the relief is open, and less is lost before the gallery. Squirters that open later help only where they are open.
#
# ## Decision
#
# The cheapest cure that gives what is wanted at hot idle, with no STOP in any case. And the cheapest that helps until it is done.

# %%
good = [name for name in CURES if not stopped[name]]
cure = next(name for name in good if at_idle(name) >= wanted)
until_then = next(name for name in good if at_idle(name) - at_idle("as it is") >= worth)
wrong = [finding for finding in cures.answers[cure].findings if finding.severity in ("stop", "fix")]
for finding in wrong:
    print(f"{finding}\n")
assert cures.verdict("hot idle").by_pressure.best == cure

# %% tags=["decision"]
decision = {"cure": cure, "until then": until_then, "bar at hot idle": round(at_idle(cure) / 1e5, 1),
            "still to mend": sorted({f"{finding.where}: {finding.code}" for finding in wrong})}
decision

# %%
print(f"The pressure goes through the worn clearances. The cure is {cure}: {at_idle(cure) / 1e5:.1f} bar at hot idle, today {at_idle('as it is') / 1e5:.1f}.")
print(f"Until then: {until_then}, {at_idle(until_then) / 1e5:.1f} bar. No hose and no squirter brings it back.")
for line in sorted({f"{finding.where} still has a {finding.severity.upper()} for {finding.code}" for finding in wrong}):
    print(f"It is not all: the {line}.")

# %% [markdown]
# **Before you take the engine apart:** put a gauge that you trust into the gallery, read it at a hot idle, and read the oil's temperature beside
# it. Check that the relief is not stuck open, and that the screen is clean: both look the same on the dash.
#
# **After:** measure every clearance on the bench. Flow goes with its cube, so that a tenth more is a third more oil.
