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
# # Where does the oil cooler go?
#
# **The car, the parts and all numbers are invented.** It is a coupe with a straight six that now goes to track days. The oil gets too hot.
# A cooler lies on the bench, with its rating: heat, flow, air. There are as many opinions on where to plumb it as people in the shop.
#
# After the filter or before it? In the main flow, or in a bleed back to the sump? With a thermostat or without? Behind the radiator, where
# there is room, or in front of it? And which hose? Every answer is tried in the same four cases, and the sums decide.
#
# > **An engineering estimate, not a certification.** Hot oil burns skin, and a hose that lets go over an exhaust is a fire. Verify by measurement.
# > Local codes, inspectors and licensed practice come first.

# %%
from importlib.resources import files

import matplotlib.pyplot as plt

import flarenut as fn

HOTTEST, PRESSURE_KEPT, HOSE_MAY_COST = "110 C", "0.3 bar", "0.5 bar"
LINES = ("hose to cooler", "hose from cooler", "elbow out", "elbow back")
SIZES = ("-6", "-8", "-10", "-12")


def after_filter():
    """The engine with the cooler after the filter, behind a thermostat; in front of the radiator."""
    return fn.load(str(files("flarenut.demo") / "oil_cooler_six.toml"))


def before_filter():
    """Filter and cooler change places."""
    car = after_filter().copy("cooler before the filter")
    filtering, cooling, round_it = (car.take_out(run) for run in ("filtering", "cooling", "round the cooler"))
    car.run("cooling", "filter in", "cooled", cooling)
    car.run("round the cooler", "filter in", "cooled", round_it)
    car.run("filtering", "cooled", "gallery", filtering)
    return car


def no_thermostat():
    """All oil goes through the cooler, at any temperature."""
    car = after_filter().copy("no thermostat")
    car.take_out("round the cooler")
    car.run("cooling", "filter out", "gallery", [part for part in car.take_out("cooling") if part.name != "thermostat"])
    return car


def bleed():
    """The cooler gets what a 4 mm jet lets past, and gives it back to the sump."""
    car = after_filter().copy("bleed back to the sump")
    filtering, cooling, _ = (car.take_out(run) for run in ("filtering", "cooling", "round the cooler"))
    car.run("filtering", "filter in", "gallery", filtering)
    car.run("cooling", "filter in", "sump", [fn.orifice("4 mm", name="bleed jet"), *cooling])
    return car


def no_cooler():
    """As it left the works."""
    car = after_filter().copy("no cooler")
    filtering, _, _ = (car.take_out(run) for run in ("filtering", "cooling", "round the cooler"))
    car.run("filtering", "filter in", "gallery", filtering)
    return car


PLUMBED = {"after the filter": after_filter, "before the filter": before_filter, "no thermostat": no_thermostat, "bleed": bleed, "no cooler": no_cooler}
after_filter()

# %% [markdown]
# ## Five ways to plumb it
#
# Each row is a whole engine, solved with temperature, pressure and flow together. Below each table stands what it comes to.

# %%
ways = fn.compare({name: make() for name, make in PLUMBED.items()}, units="metric")
ways

# %% [markdown]
# Without a cooler there is no answer at speed, and the reason is told: more heat goes in than can get out before the oil is ruined. So a cooler
# it has to be. The picture shows where each of the others cools.

# %%
figure, ax = plt.subplots(figsize=(11, 7.5), layout="constrained")
fn.temperature_loop(ways, units="metric", ax=ax);

# %% [markdown]
# The bleed takes as much heat out as the others. But it cools the sump and not the oil on its way to the bearings: that one is a dozen
# degrees hotter. And at idle it steals flow that the bearings need.

# %%
figure, ax = plt.subplots(figsize=(11, 7.5), layout="constrained")
fn.pressure_loop(ways, units="metric", ax=ax);

# %% [markdown]
# ## Which of them will do
#
# Three rules of ours. Oil at the gallery at most 110 C in every hot case. A cold start that leaves the gallery within 0.3 bar of the best.
# And where two are alike, the one whose cooler and hoses see less pressure.

# %%
hot_cases = [case for case in ways.cases if case != "cold start"]


def gallery(table, name, case):
    return table.value(name, case, "gallery_temperature")


def pressure(table, name, case):
    return table.value(name, case, "gallery_pressure")


hottest, kept = fn.Quantity.of(HOTTEST, "temperature").si, fn.Quantity.of(PRESSURE_KEPT, "pressure_difference").si
best_cold = max(pressure(ways, name, "cold start").si for name in ways.variants)
will_do = []
for name in ways.variants:
    lost = [case for case in hot_cases if ways.why_not(name, case)]
    too_hot = [case for case in hot_cases if case not in lost and gallery(ways, name, case).si > hottest]
    cold_loss = best_cold - pressure(ways, name, "cold start").si
    print(f"{name}: " + (f"no steady state in {', '.join(lost)}" if lost else f"over {HOTTEST} in {', '.join(too_hot)}" if too_hot else
                         f"{cold_loss / 1e5:.2f} bar less at a cold start" if cold_loss > kept else "will do"))
    if not lost and not too_hot and cold_loss <= kept:
        will_do.append(name)

# %%
highest = {name: max(ways.value(name, case, "cooler_pressure").si for case in ways.cases) for name in will_do}
place = min(highest, key=highest.get)
for name in will_do:
    print(f"{name}: up to {highest[name] / 1e5:.1f} bar in the cooler")
print(f"By heat and by pressure at the gallery nothing parts them. The cooler {place} sees less pressure.")
assert all({*will_do} <= {ways.best(case), *ways.verdict(case).by_temperature.alike} for case in ways.cases)

# %% [markdown]
# What the sums do not know: before the filter, dirt from the cooler is caught; after it, dirt goes to the bearings. A cooler after the filter
# has to be new or spotless. If yours has been on an engine that failed, put it on the shelf.
#
# ## In front of the radiator or behind it
#
# Behind the radiator the air is 25 C warmer, and there is less of it. In a wheel arch it is cool, but slow: a share of the road's speed that is
# common practice and no more.

# %%
def moved(name, **words):
    car = PLUMBED[place]().copy(name)
    if words:
        car.change("oil cooler", **words)
    return car


air = fn.compare({"in front": moved("in front"), "wheel arch": moved("wheel arch", wind_share="8 %"),
                  "behind the radiator": moved("behind the radiator", air_rise="25 K", wind_share="10 %")}, units="metric")
for case in hot_cases:
    print(case, *air.reading(case), sep="\n  ", end="\n\n")

# %%
spots = [name for name in air.variants if all(name in air.verdict(case).running and gallery(air, name, case).si <= hottest for case in hot_cases)]
spot = spots[0]
assert spots == ["in front"]
print(f"Only {spot} of the radiator keeps the oil under {HOTTEST} in every case.")

# %% [markdown]
# ## Which hose
#
# All of the engine's oil goes through it. Temperature hardly feels the hose. Pressure does.

# %%
def hosed(size):
    car = PLUMBED[place]().copy(size)
    for line in LINES:
        car.change(line, size=size)
    return car


hoses = fn.compare({size: hosed(size) for size in SIZES}, units="metric")
cost = {size: max(pressure(hoses, SIZES[-1], case).si - pressure(hoses, size, case).si for case in hot_cases) for size in SIZES}
for size in SIZES:
    print(f"{size}: up to {cost[size] / 1e5:.2f} bar less at the gallery than with {SIZES[-1]}, oil up to "
          f"{max(gallery(hoses, size, case).to('C') for case in hot_cases):.0f} C")
hose = next(size for size in SIZES if cost[size] <= fn.Quantity.of(HOSE_MAY_COST, "pressure_difference").si)

# %% [markdown]
# ## What else is wrong
#
# The choice above is about the cooler. These are all STOP and FIX of the engine as it would then stand, in all cases.

# %%
chosen = hosed(hose).solve()
wrong = [finding for finding in chosen.findings if finding.severity in ("stop", "fix")]
for finding in wrong:
    print(f"{finding}\n")
print(f"{len(wrong)} to mend. No place of the cooler cures what the way to the pump causes.")

# %% [markdown]
# ## Decision

# %% tags=["decision"]
hot_oil = {case: round(chosen[case].at("gallery").temperature.to("C")) for case in hot_cases}
decision = {"cooler": place, "spot": spot, "hose": hose, "oil at the gallery": hot_oil,
            "still to mend": sorted({f"{finding.where}: {finding.code}" for finding in wrong})}
decision

# %%
print(f"Plumb the cooler {place}, behind its thermostat, {spot} of the radiator, with {hose} hose.")
for case in hot_cases:
    print(f"Then expect in {case}: {chosen[case].at('gallery').temperature.to('C'):.0f} C and {chosen[case].at('gallery').gauge.to('barg'):.1f} bar at the gallery, "
          f"{chosen[case].at('sump').temperature.to('C'):.0f} C in the sump.")
for line in sorted({f"{finding.where} still has a {finding.severity.upper()} for {finding.code}" for finding in wrong}):
    print(f"It is not all: the {line}.")
assert all(temperature <= 110 for temperature in hot_oil.values())

# %% [markdown]
# **Before you drill:** a rating of a cooler holds for its own air. Measure once, on the road: oil in, oil out, flow, air. Give both hoses slack
# and keep them off edges and exhaust.
#
# **After:** fill cooler and hoses before the first start, check the level again when the thermostat has opened once, and look for leaks cold and
# hot. Read the gallery at a hot idle: if it is far off what stands above, something else is in the way.
