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
# # Plumbing a fuel system from tank to rail: parts, cost, weight
#
# **The wagon, its parts, prices and all numbers are invented.** A builder has a pump, a filter, a regulator and a rail on the bench, and a
# sketch of the way from the tank to the rail and back. What ends does it take? Do they seal? What do they cost in pressure? Which family of
# hose is worth its money and its weight? At the end stand a cut list, a bill and a sheet for the bench.
#
# > **An engineering estimate, not a certification.** Fuel burns. Relieve the pressure before you open a line, keep ignition away, leak-test
# > with liquid and never with full-pressure air. Local codes, inspectors and licensed practice come first.

# %%
import tempfile
from pathlib import Path

import matplotlib.pyplot as plt

import flarenut as fn

DEAD_HEAD = "110 psi"  # what the pump builds up against a shut line

PRICES = """item,price,unit,currency,weight,cut_off
hose -10 ptfe*,12.50,ft,USD,0.17 lb,
hose -6 ptfe*,7.50,ft,USD,0.10 lb,
hose -8 ptfe*,9.50,ft,USD,0.13 lb,
hose -6 medium-pressure*,5.20,ft,USD,0.22 lb,
hose -8 medium-pressure*,6.40,ft,USD,0.28 lb,
hose -6 push-on*,2.60,ft,USD,0.12 lb,
hose -8 push-on*,3.10,ft,USD,0.16 lb,
hose end *,11.00,each,USD,0.13 lb,1.1 in
adapter *,8.00,each,USD,0.16 lb,
support clamp *,1.20,each,USD,0.03 lb,
O-ring *,0.40,each,USD,0.003 lb,
sock,14.00,each,USD,0.1 lb,
pump,140.00,each,USD,2.4 lb,
filter,38.00,each,USD,0.6 lb,
regulator,95.00,each,USD,0.9 lb,
injectors,52.00,each,USD,0.15 lb,
"""


def wagon():
    """The wagon as it is sketched: the ports are known, and the builder has ideas about the feed hose."""
    car = fn.Circuit("wagon, tank to rail", fluid="E10", invented=True)
    car.tank("tank", level="10 in")
    car.junction("rail", position=["9 ft", "0 ft", "18 in"], bore="11 mm")
    ptfe = {"spec": "ptfe", "standard": "SAE 100R14"}
    car.run("feed", "tank", "rail", [
        fn.strainer("0.2 psi at 100 gph", ends=["", "-10 37 flare male"], name="sock"),
        fn.hose("-10", "16 in", **ptfe, name="suction hose"),
        fn.formula_pump(DEAD_HEAD, "180 gph", through="60 psi at 115 gph", volts_lost="0.4 V",
                        ends=["-10 O-ring boss female", "-6 O-ring boss female"], name="pump"),
        fn.hose("-6", "20 in", bends=[90], **ptfe, name="pump hose"),
        fn.filter("1.2 psi at 100 gph", ends=["-6 O-ring boss female"] * 2, name="filter"),
        fn.hose("-6", "9 ft", bends=[90, 45], **ptfe, ends=["-6 37 flare female", "-6 37 flare male"], sealant="tape", name="feed hose")],
        meets=["", "-6 O-ring boss female"])
    car.run("return", "rail", "tank", [
        fn.bypass_regulator("43.5 psi", reference="manifold", band="1.5 psi", wide_open="16 psi at 120 gph",
                            ends=["-6 O-ring boss female"] * 2, name="regulator"),
        fn.hose("-6", "10 ft", bends=[90, 90], **ptfe, name="return hose")], meets=["-6 O-ring boss female", "3/8 NPT female"])
    car.injectors("injectors", "rail", count=6, flow="900 cc/min at 3 bar")
    car.fuel_cases(hot="45 C")
    return car


car = wagon()
print(car)

# %% [markdown]
# ## Does it screw together?
#
# Every joint is looked at before anything is bought. The rail has a boss for an O-ring. The builder means to screw the flared nose of the
# feed hose straight into it, since the thread is the same. He means to help it with tape.

# %%
first_audit = fn.audit(car)
for finding in first_audit.findings:
    print(f"{finding}\n")
assert not first_audit.passes and first_audit.counts()["refused"] == 1

# %% [markdown]
# The thread takes hold, and nothing seals: a cone has nothing to sit on in a boss. That is the mistake that sprays fuel on an engine. Tape
# does not cure it, and on a flare it does harm of its own.
#
# ## Which ends and adapters does it take?
#
# So the ends of the feed hose are left open, and flarenut proposes all of them. What was said of the ports stays.

# %%
car.change("feed hose", ends=["", ""], sealant=None)
made = fn.fitted(car)
print(made)
second_audit = fn.audit(made.circuit)
assert second_audit.passes and second_audit.counts()["refused"] == second_audit.counts()["adapter"] == 0

# %%
second_audit.listing()

# %% [markdown]
# One joint is left that nobody can judge: the sock in the tank. Measure what its port is, and say so.
#
# ## What do the ends cost in pressure?
#
# A hose end is narrower than its hose, and so is an adapter. The same wagon, once as if hoses just met, once with what was put in.

# %%
bare, real = car.solve(), made.circuit.solve()
PLACES = {"behind the pump": lambda case: case.part("pump").outlet.gauge, "rail": lambda case: case.at("rail").gauge,
          "behind the regulator": lambda case: case.part("regulator").outlet.gauge}
for name in real:
    print(f"{name}: " + "; ".join(f"{place} {read(real[name])} with ends, {read(bare[name])} without" for place, read in PLACES.items()))
cost = {name: real[name].part("pump").rise.to("psi") - bare[name].part("pump").rise.to("psi") for name in real}
print(f"The pump has to work {max(cost.values()):.2f} psi harder at most. The regulator hides it from the rail.")
assert 0 < max(cost.values()) < 2

# %%
figure, ax = plt.subplots(figsize=(13, 7), layout="constrained")
fn.pressure_ladder(real, ax=ax);

# %%
figure, ax = plt.subplots(figsize=(9, 3.8), layout="constrained")
width = 0.38
for number, (place, read) in enumerate(PLACES.items()):
    for step, (case, look) in enumerate(zip(real, ("0.25", "0.5", "0.75"))):
        ax.bar(number + (step - 1) * width / 1.4, read(real[case]).to("psi") - read(bare[case]).to("psi"), width / 1.5, color=look,
               label=case if number == 0 else None)
ax.set_xticks(range(len(PLACES)), list(PLACES))
ax.set(ylabel="more with ends and adapters [psi]", title="What ends and adapters cost in pressure (invented wagon)")
ax.grid(axis="y", alpha=0.3)
ax.legend(frameon=False);

# %% [markdown]
# On the pressure side it is little. Before a pump, in a return line that is tight already, or in a drain it is not.
#
# ## Three families of hose, side by side
#
# PTFE in steel braid, rubber with a braid of wire in it, and push-on hose. The prices come from a file that the builder keeps. Here it is
# made up and lies in a folder that is thrown away.

# %%
with tempfile.TemporaryDirectory() as folder:
    path = Path(folder) / "prices.csv"
    path.write_text(PRICES, encoding="utf-8")
    prices = fn.prices(path)

FAMILIES = {"PTFE": {"spec": "ptfe", "standard": "SAE 100R14"}, "rubber": {"spec": "medium-pressure", "standard": "MIL-H-8794"},
            "push-on": {"spec": "push-on", "standard": "SAE 30R9"}}
CHOICES = {f"{family} {size}": {"size": size, **words} for family, words in FAMILIES.items() for size in ("-6", "-8")}
LINES = ["pump hose", "feed hose", "return hose"]
side_by_side = fn.hardware_choices(car, LINES, CHOICES, prices=prices, fit=True)
side_by_side

# %%
figure, ax = plt.subplots(figsize=(8, 4.8), layout="constrained")
for family, look in zip(FAMILIES, ("o", "s", "^")):
    found = [(side_by_side[name].bill.total.dry.to("lb"), side_by_side[name].bill.total.cost, name) for name in CHOICES if name.startswith(family)]
    ax.plot([weight for weight, _, _ in found], [cost for _, cost, _ in found], look, markersize=9, label=family)
    for weight, cost_of_it, name in found:
        ax.annotate(name, (weight, cost_of_it), textcoords="offset points", xytext=(8, 4))
ax.margins(0.15)
ax.set(xlabel="all parts, dry [lb]", ylabel="all parts [USD]", title="Weight and cost of the whole system (invented prices)")
ax.grid(alpha=0.3)
ax.legend(frameon=False);

# %% [markdown]
# ## What must the hose behind the pump bear?
#
# Not just what the gauge shows. A pinched line or a stuck regulator, and everything behind the pump sees all that the pump can build up. So
# the builder asks that the hose there bears the dead head of the pump.

# %%
dead_head = fn.Quantity.of(DEAD_HEAD, "pressure_difference").to("psi")


def bears(words):
    """Working pressure of a choice by its standard [psi]."""
    return fn.catalog.hose_rating(words["standard"], int(words["size"].strip("-"))).working / fn.Quantity.of("1 psi", "pressure_difference").si


strong = [name for name, words in CHOICES.items() if bears(words) >= dead_head]
for name, words in CHOICES.items():
    print(f"{name}: bears {bears(words):.0f} psi{'' if name in strong else ', less than the pump can do'}")
cheapest = min(strong, key=lambda name: side_by_side[name].bill.total.cost)
print(f"\nThe cheapest that bears {DEAD_HEAD}: {cheapest}.")

# %% [markdown]
# The ratings are from memory of the standards, as the answer says wherever it shows them: look them up before you rely on them.
#
# ## The return line is another matter
#
# It is open to the tank. It never sees what the pump can do. So the cheap hose may go there. But it must not push back with more than 3 psi
# at idle, when nearly all the fuel goes home.

# %%
whole = car.copy()
for line in ("pump hose", "feed hose"):
    whole.change(line, **CHOICES[cheapest])
returns = fn.hardware_choices(whole, "return hose", CHOICES, prices=prices, at="rail", fit=True)


def pushes_back(answer):
    """Pressure behind the regulator over that in the tank, at idle [psi]."""
    idle = answer["idle"]
    return idle.part("regulator").outlet.gauge.to("psi") - idle.at("tank").gauge.to("psi")


wide = [name for name in CHOICES if pushes_back(returns[name].answer) <= 3.0]
for name in CHOICES:
    print(f"{name}: pushes back with {pushes_back(returns[name].answer):.2f} psi{'' if name in wide else ', more than 3'}; "
          f"{returns.cost_change(name):+.2f} {prices.currency}, {returns.weight_change(name).to('lb'):+.2f} lb against the PTFE of the sketch")
back_home = min(wide, key=lambda name: returns[name].bill.total.cost)
print(f"\nThe cheapest that lets it home: {back_home}.")
assert back_home in wide and pushes_back(returns["as written"].answer) > 3.0

# %% [markdown]
# ## What to cut and what to buy

# %%
whole.change("return hose", **CHOICES[back_home])
final = fn.fitted(whole)
fn.cut_list(final.circuit, prices)

# %%
bill = fn.bill(final.circuit, prices)
bill

# %% [markdown]
# ## The whole of it

# %%
answer = final.circuit.solve()
fn.schematic(final.circuit, answer)

# %% [markdown]
# The sheet for the bench holds all this on one page that prints: joints with their torque, boxes to tick, test pressures, cautions. Write it
# with `sheet.save("wagon.html")`.

# %%
sheet = fn.build_sheet(final, answer=answer, prices=prices, date="the day it was drawn")
print(sheet)
assert "Tick and sign" in sheet.html

# %% [markdown]
# ## What else is wrong
#
# STOP means do not run it so, FIX means mend it. These are all of both, of all cases and all joints.

# %%
wrong = [finding for finding in [*fn.audit(final.circuit).findings, *answer.findings] if finding.severity in ("stop", "fix")]
for finding in wrong:
    print(f"{finding}\n")
print(f"{len(wrong)} to mend.")

# %% [markdown]
# ## Decision
#
# What goes behind the pump, what goes into the return, what all of it costs and weighs, and what is still to mend.

# %% tags=["decision"]
decision = {"behind the pump": cheapest, "return": back_home, "adapters": bill.count("adapter *"), "hose ends": bill.count("hose end *"),
            "cost": round(bill.total.cost, 2), "pounds": round(bill.total.dry.to("lb"), 1), "unpriced": bill.total.unpriced,
            "still to mend": [f"{finding.where}, {finding.case}: {finding.code}" for finding in wrong]}
decision

# %%
print(f"Buy {bill.count('hose end *')} hose ends and {bill.count('adapter *')} adapters; {bill.total.cost:.2f} {prices.currency} and "
      f"{bill.total.dry.to('lb'):.1f} lb for everything between tank and rail.")
print(f"Expect {answer.at('rail', 'full power').gauge} at the rail at full power, and {answer.at('rail', 'idle').gauge} at idle.")
for finding in wrong:
    print(f"It is not all: at the {finding.case} the {finding.where} still has a {finding.severity.upper()} for {finding.code}.")
    print("No hose cures it: it is the warm tank.")
assert bill.total.unpriced == 0 and {one.code for one in wrong} <= {one.code for one in bare.findings}

# %% [markdown]
# **Before you cut:** measure threads and seats, and the bore of the hose in your hand. Ask the makers of hose and ends what they bear
# together. Say the port of the sock.
#
# **After:** test every hose by itself with liquid, then the whole of it at its own pressure. Fuel hose must be rated for your fuel.
