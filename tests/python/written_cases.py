"""Cases whose findings stand written out in tests/data/findings, every word and number of them, so that no rule changes what it says unseen.

    python tests/python/written_findings.py   # writes them anew; then read what has changed, against docs/guide/findings.md

They are the last guard, not the first: where a rule begins to speak is held by the tests that are named after it. All circuits are invented.
"""

from dataclasses import replace

import test_blame_checks as blame
import test_brake_findings as brakes
import test_carburettor_checks as carburettors
import test_check_valve_checks as valves
import test_edge_checks as edges
import test_flow_checks as flows
import test_fuel_pressure_checks as fuel
import test_heat_checks as heat
import test_heat_unsaid as unsaid
import test_heat_plumbing_checks as plumbing
import test_injector_checks as injectors
import test_line_checks as lines
import test_oil_checks as oil
import test_other_states as states
import test_pump_checks as pumps
import test_rating_findings as ratings
import test_regulator_checks as regulators
import test_relief_checks as reliefs
import test_slips as slips
import test_sound_circuits as sound
import test_volatility_checks as volatility
import test_which_is_named_checks as named
from checks_example import one_case

import flarenut as fn
from flarenut import checks
from flarenut.units import Quantity

# Limits at which nearly all there is to judge is told of.
_FAR = {"suction_margin": 5e5, "oil_pressure_floor": 2e5, "oil_pressure_per_1000_rpm": 5e5, "oil_pressure_enough": 5e5, "inlet_vacuum": 5e4,
        "oil_inlet_vacuum": 5e4, "oil_consumer_share": 0.999, "injector_pressure_least": 0.999, "settling_share": 0.999, "pump_least_flow": 0.999,
        "coolant_boiling_margin": 80.0, "oil_temperature_least": 420.0, "transmission_temperature_least": 420.0, "carburettor_below": 1e5,
        "oil_inlet_stop": -2e4}
_NEAR = {"pressure_difference": 70.0, "velocity": 0.01, "fraction": 1e-3, "dimensionless": 0.01, "temperature": 280.0}


def strict():
    return checks.Limits(**{name: Quantity(_FAR.get(name, _NEAR.get(limit.kind)), limit.kind) for name, limit in checks.LIMITS.items()})


def last(circuit):
    """The last of its cases."""
    return list(circuit.solve().values())[-1]


SOUND = {made.__name__.replace("_", " "): lambda made=made: last(made()) for made in sound.SOUND}

LINES = {name: lambda circuit=circuit: last(circuit) for name, (circuit, *_) in ratings.WRONG.items()} | {
    f"right: {made.__name__.replace('_', ' ')}": lambda made=made: last(made()) for made in ratings.RIGHT} | {
    f"held: {name}": lambda circuit=circuit: last(circuit) for name, circuit in ratings.HELD.items()} | {
    "steering on heater hose": lambda: last(ratings.steering(fn.hose(bore="9.5 mm", length="3 ft", standard="J189", name="pressure hose"))),
    "steering on hose of no pressure": lambda: last(ratings.steering(fn.hose(bore="9.5 mm", length="3 ft", standard="MIL-DTL-6000", name="pressure hose"))),
    "maker's figure, hot": lambda: last(ratings.steady(ratings.ptfe(maker_pressure="200 psi"), "190 psi", "SAE 10W-40", "155 C")),
    "maker's figure, cold": lambda: last(ratings.steady(ratings.ptfe(maker_pressure="35 psi"), "50 psi")),
    "PTFE, hot": lambda: last(ratings.steady(ratings.ptfe(), "40 psi", "SAE 10W-40", "158 C")),
    "bent by a measured outside": lambda: last(ratings.steady(fn.hose("-6", spec="MIL-H-8794", standard="MIL-H-8794", bend_radius="4.2 in", way=[
        ["0 in"] * 3, ["20 in", "0 in", "0 in"], ["20 in", "20 in", "0 in"]]), "6 psi", "diesel")),
    "two hoses of unknown rating": lambda: last(ratings.steady(ratings.ptfe(), "6 psi", elsewhere=[
        fn.hose("-8", "1 ft", spec="full-size", name="one"), fn.hose("-8", "1 ft", spec="braided-rubber", name="two"), fn.tube("3/8 in", "1 ft", name="bare")])),
    "bores that a standard allows": lambda: last(ratings.steady(fn.hose("-6", "4 ft", spec="SAE 100R2", standard="SAE 100R2", name="two"), "60 psi", "ISO VG 46",
                                                                elsewhere=[fn.hose("-6", "1 ft", spec="SAE 100R2", name="one")])),
    "clamps and a dead head": lambda: last(ratings.pumped(ratings.strong_pump(), [fn.hose(*ratings.HOSE_8, spec="SAE 100R6", clamped=True)])),
    "a maker's figure and a dead head": lambda: last(ratings.pumped(ratings.strong_pump(), [ratings.ptfe(maker_pressure="120 psi")])),
    "own rating in E85, push-on": lambda: last(ratings.steady(fn.hose("-8", "1 ft", spec="push-on", maker_pressure="250 psi"), "6 psi", "E85")),
    "own rating in E85, braided": lambda: last(ratings.steady(fn.hose("-8", "1 ft", spec="braided-rubber", maker_pressure="250 psi"), "6 psi", "E85")),
    "own rating in E85, a bore": lambda: last(ratings.steady(fn.hose(bore="9 mm", length="1 ft", maker_pressure="250 psi"), "6 psi", "E85")),
    "tube of its maker's figure": lambda: last(ratings.steady(fn.tube("3/8 in", "1 ft", maker_pressure="250 psi"), "6 psi", "E85")),
}

_CLUTCH = {"fluid": "DOT 4", "circuit": "clutch (invented)", "name": "clutch line"}
BRAKES = {what: lambda line=line, more=more: last(brakes.bench(line, **more)) for what, (line, more) in {
    "aluminium": (fn.tube("3/16 in", "4 ft", wall="0.028 in", material="3003-O"), {}),
    "thick aluminium": (fn.tube("1/4 in", "4 ft", wall="0.083 in", material="6061-T6"), {}),
    "plain steel": (fn.tube("3/16 in", "4 ft", wall="0.028 in", material="steel"), {}),
    "thin stainless": (fn.tube("1/2 in", "4 ft", wall="0.010 in", material="304 stainless"), {}),
    "tube of nothing said": (fn.tube("3/16 in", "4 ft"), {}),
    "brake tube": (fn.tube("3/16 in", "4 ft", material="SAE J527"), {}),
    "long push-on": (fn.hose("-4", "3 ft", spec="push-on"), {}),
    "hose of no standard": (fn.hose("-4", "1 ft", spec="full-size"), {}),
    "PTFE": (fn.hose("-3", "1 ft", spec="ptfe"), {}),
    "coolant hose": (fn.hose(bore="6 mm", length="12 in", standard="MIL-DTL-6000"), {}),
    "fuel hose": (fn.hose(bore="5 mm", length="12 in", standard="30R9"), {}),
    "clamped": (fn.hose(bore="3.2 mm", length="12 in", standard="FMVSS 106", clamped=True), {}),
    "brake hose": (fn.hose(bore="3.2 mm", length="12 in", standard="FMVSS 106"), {}),
    "clutch: clamped": (fn.hose("-4", "12 in", spec="SAE 100R1", clamped=True), _CLUTCH),
    "clutch: push-on": (fn.hose("-4", "12 in", spec="push-on"), _CLUTCH),
    "clutch: nothing known": (fn.hose("-4", "12 in", spec="full-size"), _CLUTCH),
    "clutch: weak": (fn.hose("-4", "12 in", spec="SAE 100R1", maker_pressure="900 psi"), _CLUTCH),
    "clutch: aluminium": (fn.tube("1/4 in", "12 in", wall="0.035 in", material="5052-O"), _CLUTCH),
    "clutch: steel": (fn.tube("1/4 in", "12 in", wall="0.035 in", material="steel"), _CLUTCH),
    "no brakes": (fn.hose(bore="5 mm", length="1 ft", standard="30R9"), {"fluid": "power steering fluid", "circuit": "brakes (invented)"}),
}.items()} | {
    "said: all a clutch": lambda: last(brakes.box(whole="clutch")), "said: the third a clutch": lambda: last(brakes.box(third="clutch")),
    "said: others a clutch": lambda: last(brakes.box(whole="clutch", third="brakes")), "said: other": lambda: last(brakes.box(whole="other")),
    "steering on push-on": lambda: last(brakes.steering(fn.hose("-6", "3 ft", spec="push-on"))),
    "steering on PTFE": lambda: last(brakes.steering(fn.hose("-6", "3 ft", spec="ptfe"))),
}

FUEL = {
    "bowl far short": lambda: regulators.carburettor("62 gph", dead_head="8 psi", wide_open="0.3 psi at 60 gph", droop="1 psi"),
    "bowl short": lambda: regulators.carburettor("40 gph", dead_head="9 psi", wide_open="0.6 psi at 60 gph"),
    "bowl starved": lambda: regulators.carburettor("80 gph", dead_head="9 psi"),
    "launch": lambda: regulators.carburettor("10 gph", ahead="4 ft", acceleration="1.5 g"),
    "set above the pump": lambda: regulators.carburettor(set="60 psi"),
    "pump off, drawn": lambda: regulators.carburettor(volts="0 V"),
    "own supply": lambda: regulators.car(reference="rail"),
    "own supply by a line": lambda: regulators.car(reference="regulator inlet"),
    "ten times too high": lambda: regulators.car("435 psi"),
    "pump off": lambda: regulators.car(volts="0 V", duty="0 %"),
    "pump off, injecting": lambda: regulators.car(volts="0 V", duty="50 %"),
    "boost not felt": lambda: injectors.car(reference="ambient", manifold="20 psi boost"),
    "little boost not felt": lambda: injectors.car(reference="ambient", manifold="7 psi boost"),
    "open return": lambda: injectors.car("hose"),
    "set low": lambda: injectors.car(set="30 psi"),
    "starved": lambda: injectors.car(duty="80 %", volts="8 V"),
    "no return": lambda: injectors.car(None, duty="2 %"),
    "no regulator": lambda: injectors.car(None, dead_head="70 psi"),
    "spills too little": lambda: injectors.car(return_size="-3", dead_head="130 psi", duty="2 %"),
    "backwards": lambda: injectors.car(start="cell", end="rail", duty="2 %"),
    "reference at the rail": lambda: injectors.car(reference="rail", duty="2 %"),
    "set ten times": lambda: injectors.car(set="435 psi", duty="2 %"),
    "nearly open": lambda: injectors.car(duty="90 %", flow="300 cc/min at 3 bar"),
    "all open": lambda: injectors.car(duty="100 %", flow="300 cc/min at 3 bar"),
    "creep": lambda: fuel.car(wide_open="34 psi at 340 L/h", return_size="-8"),
    "creep over a flow": lambda: fuel.car(wide_open="34 psi at 340 L/h", return_size="-8", set_flow="200 L/h"),
    "starved over a flow": lambda: fuel.car(duty=1.0, volts="8 V", set_flow="200 L/h"),
    "wide open over a flow": lambda: fuel.car(wide_open="40 psi at 200 L/h", set_flow="100 L/h"),
    "creep with a seat": lambda: fuel.car(seat_share="10 %", wide_open="34 psi at 340 L/h"),
    "bowl all but closed": lambda: fuel.bowl("0.4 gph"), "bowl shut": lambda: fuel.bowl("0 gph"), "bowl with a seat": lambda: fuel.bowl("0 gph", seat_share="10 %"),
    "tap above": lambda: last(fuel.tapped(2.0, wide_open="40 psi at 340 L/h")),
    "pump of injection on a bowl": lambda: carburettors.bowl("95 psi"),
    "float valve": lambda: carburettors.bowl("40 psi", "12 psi"),
    "charted, far too high": lambda: pumps.car("charted", "435 psi", volts="15 V"),
    "charted, no return": lambda: pumps.car("charted", back=False, duty="2 %"),
    "charted, many volts": lambda: pumps.car("charted", volts="18 V"), "by formula, too many volts": lambda: pumps.car("by formula", volts="22 V"),
    "one rail starved": lambda: blame.uneven("62 psi"), "one rail starved, regulator a hair short": lambda: blame.uneven("66 psi"),
    "fuel at 130 psi": lambda: reliefs.fuelled("130 psi"), "fuel at 250 psi": lambda: reliefs.fuelled("250 psi"),
    "spray": lambda: edges.jetted("manifold pipe"), "spray into its tank": lambda: edges.jetted("cell"),
    "held from behind": lambda: edges.held_shut(99.0),
    "return level": lambda: flows.returning(0), "return up": lambda: flows.returning(2), "return down": lambda: flows.returning(-1, "5 mm"),
    "return all height": lambda: flows.returning(3, "25 mm"),
    "class A boils": lambda: volatility.tank("gasoline class A", "60 C"), "E10 boils": lambda: volatility.tank("E10", "60 C"),
    "class A nearly boils": lambda: volatility.tank("gasoline class A", "51 C"), "water boils": lambda: volatility.tank("water", "110 C"),
    "narrow pick-up": lambda: volatility.tank("gasoline class A", "10 C", bore="5.5 mm"),
    "water near boiling before its pump": lambda: volatility.tank("water", "99 C"),
    "check valve against a pump": lambda: last(valves.backwards()),
    "check valve cuts off": lambda: valves.spilling("rail", "outlet", fn.hose(bore="8 mm", length="2 m"), fn.orifice("1 mm", name="jet")),
    "E85, cold": lambda: volatility.tank("E85", "-39 C"),
}

OIL = {
    "no relief, cold": lambda: reliefs.oiled(None, temperature="-10 C"), "no relief, slow": lambda: reliefs.oiled(None, speed="800 rpm"),
    "relief behind the filter": lambda: reliefs.oiled("gallery"), "relief backwards": lambda: reliefs.oiled("backwards"),
    "a pair of reliefs": lambda: reliefs.oiled(second=[("pan", "pump out")]),
    "relief set high": lambda: reliefs.oiled(opens_at="130 psi", speed="800 rpm"), "relief set in bar": lambda: reliefs.oiled(opens_at="65 bar", speed="800 rpm"),
    "hydraulic": lambda: reliefs.oiled(fluid="ISO VG 46", opens_at="1200 psi", temperature="50 C"),
    "cold start": lambda: oil.engine("1800 rpm", "-18 C", suction="1.5 in", hose="-6"),
    "weak relief": lambda: oil.engine("4000 rpm", opens_at="6 psi"),
    "small pump": lambda: oil.engine("1000 rpm", displacement="12 cc/rev"), "far too small": lambda: oil.engine("3000 rpm", displacement="4 cc/rev"),
    "under the floor": lambda: oil.engine("400 rpm", displacement="9 cc/rev"), "narrow hose": lambda: oil.engine("6000 rpm", hose="-4"),
    "narrow pick-up, cold": lambda: oil.engine("800 rpm", "-18 C", suction="0.5 in", displacement="10 cc/rev"),
    "pick-up, cold": lambda: oil.engine("800 rpm", "-18 C", suction="0.7 in"),
    "bypass, cold": lambda: oil.engine("1000 rpm", "-10 C", suction="2 in", bypass="12 psi"),
    "bypass, warm": lambda: oil.engine("7000 rpm", suction="2 in", bypass="0.3 psi"),
    "slip guessed": lambda: edges.slipping(600.0), "settling": lambda: lines.oiled("0.5 m"),
    "settling, two lines": lambda: lines.oiled(second=fn.hose(bore="15.9 mm", length="1 m", name="tail")),
    "scavenge with a cooler": lambda: last(sound.scavenge_with_cooler()), "scavenge with a screen": lambda: last(sound.scavenge_with_screen()),
    "oil beyond its data": lambda: _cold_oil("SAE 10W-40", "-28 C"),
}


def _cold_oil(fluid, temperature):
    circuit = fn.Circuit("cold (invented)", fluid=fluid, fluid_temperature=temperature)
    circuit.fixed("supply", "60 psi")
    circuit.run("line", "supply", "ambient", [fn.hose(bore="10 mm", length="1 m", name="hose")])
    return last(circuit)


def _demo(case, text=plumbing.ENGINE):
    return plumbing.engine(text).solve(case)[case]


_HOT_HOSE = {"air": "5 m/s", "air_rise": "150 K", "name": "hot hose"}
HEAT = {
    "110 C": lambda: heat.engine(**{"sump.temperature": "110 C"}), "130 C": lambda: heat.engine(**{"sump.temperature": "130 C"}),
    "140 C": lambda: heat.engine(**{"sump.temperature": "140 C"}), "cool": lambda: heat.engine("300 W"),
    "ATF at 110 C": lambda: heat.engine(fluid="ATF", **{"sump.temperature": "110 C"}), "ATF at 130 C": lambda: heat.engine(fluid="ATF", **{"sump.temperature": "130 C"}),
    "cool ATF": lambda: heat.engine("100 W", fluid="ATF"), "ISO VG 46 at 90 C": lambda: heat.engine(fluid="ISO VG 46", **{"sump.temperature": "90 C"}),
    "cold cooler": lambda: heat.engine(parts=[heat.cooler(rated_pressure="3 bar")], **{"sump.temperature": "-10 C"}),
    "cooler without air": lambda: heat.engine("2 kW", parts=[heat.cooler()], **{"sump.temperature": "120 C"}),
    "coils full of thick oil": lambda: heat.coils("20 m"), "coils": lambda: heat.coils("12 m"),
    "water at 95 C": lambda: heat.heated("water", 95, flow="2 L/min"), "glycol that boils": lambda: heat.heated("ethylene glycol 50 %", 118),
    "hot hose": lambda: heat.engine("100 W", parts=[fn.hose(bore="10 mm", length="3 m", **_HOT_HOSE)], sump={"heat_loss": "10 W/K"}),
    "oil that runs out": lambda: _demo("hot idle", plumbing.OPEN), "oil that runs out too fast": lambda: _demo("full speed", plumbing.OPEN),
    "thermostats exchanged": lambda: _demo("hot idle", plumbing.EXCHANGED),
    "open tank at 105 C": lambda: _standing("0 psi"),
}


def _standing(cap):
    circuit = fn.Circuit("header (invented)", fluid="water", fluid_temperature="105 C")
    circuit.tank("header", level="4 in", vent=cap)
    circuit.fixed("low", "-2 psi")
    circuit.run("drain", "header", "low", [fn.hose(bore="10 mm", length="1 m", name="hose")])
    return last(circuit)


REST = {
    "wide bore": lambda: slips.line(fn.hose(bore="8 in", length="3 ft")), "narrow passage": lambda: slips.line(fn.passage("0.5 mm", "20 in")),
    "long hose": lambda: slips.line(fn.hose("-8", "140 ft", spec="ptfe")), "deep drum": lambda: slips.line(fn.hose("-8", "3 ft", spec="ptfe"), level="6 ft"),
}

SELDOM = {
    "second state": lambda: states.two_coolers().solve()["winter"],
    "cold start": lambda: named.cold_start(1), "cold start, two lines": lambda: named.cold_start(2),
    "air unsaid": lambda: last(unsaid.fuel()), "fluid temperature idle": lambda: last(unsaid.fuel("25 C", fluid_temperature="45 C")),
    "fuel boils in the end": lambda: last(unsaid.fuel("45 C", heat="1 kW")),
    "thermostats apart, shut": lambda: _apart("118 C", "130 C"), "thermostats apart, open": lambda: _apart("50 C", "62 C"),
    "thermostat too hot": lambda: _apart("180 C", "195 C"),
    "power unsaid": lambda: _loop(heat_share="5 %"), "launch": lambda: _launched("0.9 g"), "launch and corner": lambda: _launched(["0.5 g", "1 g", "0 g"]),
    "closed end": lambda: _spur(), "regulator before the pump": lambda: _misplaced(), "pump backwards": lambda: _backward_pump(),
    "too small injectors": lambda: _asked(1.25), "regulator at a stop": lambda: one_case({"regulator.full_area": 3e-6}, {"senses": {}}),
    "temperature without effect": lambda: _idle_temperature(),
}


def _apart(opens, full):
    six = unsaid.engine()
    cooling = next(name for name, piece in six.compiled().pieces.items() if piece.word == "thermostat")
    six.case("apart", **{**six.cases["hot idle"].conditions, f"{cooling}.opens": opens, f"{cooling}.full": full})
    return six.solve("apart")["apart"]


def _loop(**sump):
    car = fn.Circuit("oil (invented)", fluid="SAE 10W-40", air_temperature="25 C")
    car.tank("sump", level="90 mm", temperature="found", heat_loss="10 W/K", **sump)
    car.run("pumping", "sump", "out", [fn.displacement_pump("5 cc/rev", speed="600 rpm", name="pump")])
    car.run("back", "out", "sump", [fn.orifice("3 mm")])
    return last(car)


def _launched(acceleration):
    car = fn.Circuit("launch (invented)", fluid="water")
    car.tank("cell", level="0.1 m")
    car.run("out", "cell", "ambient", [fn.hose(bore="8 mm", length="2 m", name="hose")])
    car.case("launch", acceleration=acceleration)
    return last(car)


def _spur():
    car = fn.Circuit("spur (invented)", fluid="gasoline")
    car.tank("cell", level="8 in")
    car.run("feed", "cell", "rail", [fn.hose("-8", "11 ft", spec="ptfe")])
    car.run("on", "rail", "ambient", [fn.hose("-6", "2 ft", spec="ptfe")])
    car.run("spur", "rail", "rial", [fn.hose("-4", "2 ft", spec="ptfe")])
    return last(car)


def _misplaced():
    car = fn.Circuit("misplaced (invented)", fluid="gasoline class A")
    car.tank("main", level="8 in")
    car.junction("bowl", demand="20 gph")
    car.run("feed", "main", "bowl", [fn.reducing_regulator("6 psi", wide_open="0.3 psi at 60 gph", name="regulator"), fn.formula_pump("8 psi", "90 gph", name="pump")])
    return last(car)


def _backward_pump():
    car = fn.Circuit("pump the wrong way (invented)", fluid="SAE 10W-40", fluid_temperature="90 C")
    car.tank("sump", level="100 mm")
    car.fixed("crankcase", height="0 m")
    car.run("suction", "sump", "inlet", [fn.filter("0.5 bar at 5 L/min", rated_with="own at 90 C"), fn.hose(bore="14 mm", length="0.5 m")])
    car.run("pumping", "out", "inlet", [fn.displacement_pump("8 cc/rev", speed="1500 rpm", name="pump")])
    car.run("relief", "out", "sump", [fn.relief_valve("1 bar", wide_open="2 bar at 40 L/min", name="relief")])
    car.run("gallery", "out", "crankcase", [fn.orifice("8 mm")])
    return last(car)


def _asked(share):
    """A case whose power burns so many times what its injectors pass."""
    case = injectors.car(duty="100 %", flow="300 cc/min at 3 bar")
    case.layout = replace(case.layout, fuel_asked={"run": share * sum(float(case.solution.flow_of(bank)) for bank in case.injectors)})
    return case


def _idle_temperature():
    car = fn.Circuit("slip (invented)", fluid="water", temperatures="found")
    car.tank("drum", level="1 m")
    car.junction("rail", temperature="90 C")
    car.junction("stand", supply="1 L/min", temperature="60 C")
    for name, start, stop in (("line", "drum", "rail"), ("other", "stand", "rail"), ("out", "rail", "ambient")):
        car.run(name, start, stop, [fn.hose(bore="10 mm", length="1 m")])
    return last(car)


GROUPS = {"seldom": SELDOM, "sound": SOUND, "lines": LINES, "brakes": BRAKES, "fuel": FUEL, "oil": OIL, "heat": HEAT, "rest": REST}
STRICT = ("sound",)  # groups that are asked with limits at which nearly all is told of
