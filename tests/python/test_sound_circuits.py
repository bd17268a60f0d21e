"""Sound circuits, as builders plumb them, draw no STOP and no FIX: a warning that is wrong teaches to overlook the next one.

All of them are invented. Each row is one way to plumb; its cases are those it should bear.
"""

import pytest

import flarenut as fn

OIL = {"rated_with": "SAE 10W-40 at 100 C"}


def pump(name="pump", **more):
    return fn.formula_pump(dead_head="95 psi", free_flow="150 gph", through="60 psi at 85 gph", name=name, **more)


def ptfe(size, length, name=None):
    return fn.hose(size, length, spec="ptfe", name=name)


def wide(length, bore="1.25 in", name=None):
    return fn.hose(bore=bore, length=length, name=name)


def fuel(name, fluid="E10", level="8 in"):
    circuit = fn.Circuit(f"{name} (invented)", fluid=fluid, invented=True)
    circuit.tank("cell", level=level)
    return circuit


def injection_cases(circuit, boost="0 psi", idle="18 inHg vacuum"):
    circuit.case("idle", duty="3 %", manifold=idle, fluid_temperature="30 C")
    circuit.case("full power", duty="80 %", manifold=boost, fluid_temperature="35 C")
    return circuit


# ---- fuel injection ----

def return_style():
    circuit = fuel("return style")
    circuit.run("feed", "cell", "rail", [pump(), ptfe("-8", "11 ft"), fn.filter(drop="0.8 psi at 100 gph")])
    circuit.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="manifold", wide_open="15 psi at 500 L/h", name="regulator"),
                                           ptfe("-8", "12 ft")])
    circuit.injectors("bank", "rail", count=6, flow="550 cc/min at 3 bar")
    return injection_cases(circuit, "10 psi boost")


def dead_head():
    circuit = fuel("dead head", "gasoline class A")
    circuit.run("feed", "cell", "rail", [pump(), fn.filter(drop="0.8 psi at 100 gph"), fn.reducing_regulator(
        "43.5 psi", reference="ambient", wide_open="3 psi at 100 gph", droop="1 psi", name="regulator"), ptfe("-8", "11 ft")])
    circuit.injectors("bank", "rail", count=6, flow="300 cc/min at 3 bar")
    injection_cases(circuit)
    for duty in ("0 %", "0.01 %", "0.1 %"):
        circuit.case(f"prime, {duty}", duty=duty, manifold="0 psi")
    return circuit


def regulator_in_the_tank():
    circuit = fuel("regulator in the tank", "gasoline class A")
    circuit.run("module", "cell", "tee", [pump(), fn.filter(drop="0.8 psi at 100 gph")])
    circuit.run("spill", "tee", "cell", [fn.bypass_regulator("58 psi", reference="ambient", wide_open="15 psi at 500 L/h", name="regulator")])
    circuit.run("feed", "tee", "rail", [ptfe("-6", "11 ft")])
    circuit.injectors("bank", "rail", count=6, flow="300 cc/min at 4 bar")
    return injection_cases(circuit)


def returnless_with_boost():
    circuit = fuel("returnless, boost that its computer corrects for")
    circuit.run("module", "cell", "tee", [fn.formula_pump("120 psi", "160 gph", name="pump"), ptfe("-8", "1 ft")])
    circuit.run("spill", "tee", "cell", [fn.bypass_regulator("72 psi", reference="ambient", wide_open="15 psi at 500 L/h", name="regulator")])
    circuit.run("feed", "tee", "rail", [ptfe("-8", "11 ft")])
    circuit.injectors("bank", "rail", count=6, flow="550 cc/min at 4 bar")
    return injection_cases(circuit, "12 psi boost")


def two_pumps():
    circuit = fuel("two pumps, the second off at idle", "E85")
    for side in "ab":
        circuit.run(f"pump run {side}", "cell", "joint", [pump(f"pump {side}"), fn.check_valve(rated="2 psi at 300 L/h", name=f"check {side}")])
    circuit.run("feed", "joint", "rail", [ptfe("-10", "11 ft"), fn.filter(drop="0.6 psi at 100 gph")])
    circuit.run("return", "rail", "cell", [fn.bypass_regulator("43.5 psi", reference="manifold", wide_open="10 psi at 600 L/h", name="regulator"),
                                           ptfe("-10", "12 ft")])
    circuit.injectors("bank", "rail", count=8, flow="1000 cc/min at 3 bar")
    circuit.case("idle", duty="3 %", manifold="18 inHg vacuum", fluid_temperature="30 C", **{"pump b.volts": "0 V"})
    circuit.case("full power", duty="80 %", manifold="12 psi boost", fluid_temperature="35 C")
    return circuit


def surge_tank():
    circuit = fuel("surge tank, lift pump with a regulator on open air")
    circuit.tank("surge tank", level="8 in", height="4 in")
    circuit.run("lift", "cell", "lift tee", [fn.formula_pump("12 psi", "160 gph", name="lift pump"), ptfe("-8", "3 ft")])
    circuit.run("lift return", "lift tee", "cell", [
        fn.bypass_regulator("4 psi", reference="ambient", wide_open="2 psi at 500 L/h", name="lift regulator"), ptfe("-8", "3 ft")])
    circuit.run("fill", "lift tee", "surge tank", [fn.orifice("3 mm", name="restrictor"), ptfe("-8", "1 ft")])
    circuit.run("feed", "surge tank", "rail", [pump(), ptfe("-8", "11 ft"), fn.filter(drop="0.8 psi at 100 gph")])
    circuit.run("return", "rail", "surge tank", [
        fn.bypass_regulator("43.5 psi", reference="manifold", wide_open="15 psi at 500 L/h", name="regulator"), ptfe("-8", "12 ft")])
    circuit.injectors("bank", "rail", count=6, flow="550 cc/min at 3 bar")
    return injection_cases(circuit, "12 psi boost")


def two_rails():
    circuit = fuel("two rails")
    circuit.run("feed", "cell", "front", [pump(), ptfe("-8", "11 ft"), fn.filter(drop="0.8 psi at 100 gph")])
    for side in "LR":
        circuit.run(f"into {side}", "front", f"rail {side}", [ptfe("-8", "2 ft")])
        circuit.run(f"out of {side}", f"rail {side}", "back", [ptfe("-8", "2 ft")])
        circuit.injectors(f"bank {side}", f"rail {side}", count=4, flow="400 cc/min at 3 bar")
    circuit.run("return", "back", "cell", [fn.bypass_regulator("43.5 psi", reference="manifold", wide_open="15 psi at 500 L/h", name="regulator"),
                                           ptfe("-8", "12 ft")])
    return injection_cases(circuit)


# ---- carburettors, other fuel ----

def carburettor():
    circuit = fuel("carburettor, dead head", "gasoline class A")
    circuit.junction("bowl", height="20 in", demand="12 gph")
    circuit.run("feed", "cell", "bowl", [fn.formula_pump("12 psi", "70 gph", name="pump"), ptfe("-6", "11 ft"), fn.filter(drop="0.5 psi at 70 gph"),
                                         fn.reducing_regulator("6 psi", wide_open="2 psi at 40 gph", name="regulator")])
    for demand in ("12 gph", "0.5 gph", "0.01 gph", "0.001 gph"):
        circuit.case(demand, **{"bowl.demand": demand})
    return circuit


def carburettor_with_return():
    circuit = fuel("carburettor, regulator on the tank", "gasoline class A", "20 in")
    circuit.junction("bowl", demand="20 gph")
    circuit.run("module", "cell", "tee", [fn.formula_pump("14 psi", "80 gph", name="pump")])
    circuit.run("spill", "tee", "cell", [fn.bypass_regulator("6 psi", reference="ambient", wide_open="2 psi at 400 L/h", name="regulator")])
    circuit.run("feed", "tee", "bowl", [ptfe("-8", "8 ft")])
    circuit.case("full throttle")
    return circuit


def blow_through():
    circuit = fuel("blow-through carburettor, bypass regulator", "gasoline class A")
    circuit.fixed("bonnet", "0 psi")
    circuit.junction("bowl", height="20 in", demand="40 gph")
    circuit.run("feed", "cell", "tee", [fn.formula_pump("30 psi", "140 gph", name="pump"), ptfe("-8", "11 ft"), fn.filter(drop="0.5 psi at 100 gph")])
    circuit.run("to the bowl", "tee", "bowl", [ptfe("-8", "1 ft")])
    circuit.run("return", "tee", "cell", [fn.bypass_regulator("6.5 psi", reference="bonnet", wide_open="2 psi at 500 L/h", name="regulator"),
                                          ptfe("-10", "12 ft")])
    circuit.case("idle", **{"bowl.demand": "0.5 gph"})
    circuit.case("boost", **{"bonnet.pressure": "10 psi"})
    return circuit


def blow_through_dead_head():
    circuit = fuel("blow-through carburettor, reducing regulator", "gasoline class A")
    circuit.fixed("plenum", "0 psi")
    circuit.junction("bowl", height="20 in", demand="12 gph")
    circuit.run("feed", "cell", "bowl", [fn.formula_pump("35 psi", "70 gph", name="pump"), ptfe("-6", "11 ft"), fn.reducing_regulator(
        "6 psi", wide_open="2 psi at 40 gph", reference="plenum", name="regulator")])
    circuit.case("light load")
    circuit.case("boost", **{"plenum.pressure": "8 psi"})
    return circuit


def diesel_lift():
    circuit = fuel("diesel lift", "diesel", "10 in")
    circuit.junction("injection pump", demand="20 gph", height="20 in")
    circuit.run("feed", "cell", "injection pump", [fn.formula_pump("20 psi", "150 gph", name="lift"), ptfe("-8", "10 ft"), fn.filter(drop="1 psi at 100 gph")])
    circuit.run("return", "injection pump", "cell", [fn.bypass_regulator("12 psi", reference="ambient", wide_open="5 psi at 500 L/h", name="regulator"),
                                                     ptfe("-8", "10 ft")])
    circuit.case("full", fluid_temperature="30 C")
    return circuit


def belt_driven_fuel():
    circuit = fuel("belt-driven pump, filter, poppet", "methanol", "14 in")
    circuit.run("feed", "cell", "block", [fn.hose("-16", "3 ft", spec="full-size"), fn.displacement_pump(
        "12 cc/rev", speed="7000 rpm", ratio=0.5, volumetric_efficiency="90 % at 60 psi, 3000 rpm, 0.5 cP", turbulent_share="50 %", name="pump"),
        fn.hose("-10", "2 ft", spec="full-size"), fn.filter(drop="1 psi at 10 gpm", name="filter")])
    circuit.run("poppet run", "block", "cell", [fn.relief_valve("60 psi", wide_open="10 psi at 10 gpm", name="poppet"), fn.hose("-10", "4 ft", spec="full-size")])
    circuit.run("nozzles", "block", "ambient", [fn.orifice("6 mm", name="nozzle")])
    circuit.case("launch", speed="7000 rpm", fluid_temperature="25 C")
    return circuit


def methanol_injection():
    circuit = fuel("methanol through a nozzle", "methanol")
    circuit.fixed("manifold pipe", "15 psi")
    circuit.run("feed", "cell", "tee", [fn.formula_pump("220 psi", "80 gph", name="pump"), fn.hose(bore="4 mm", length="10 ft", name="hose")])
    circuit.run("nozzle run", "tee", "manifold pipe", [fn.orifice("0.8 mm", name="nozzle")])
    circuit.case("boost", fluid_temperature="25 C")
    return circuit


def transfer():
    circuit = fuel("transfer", "diesel", "10 in")
    circuit.tank("main", level="10 in", height="10 in")
    circuit.run("hose run", "cell", "main", [fn.formula_pump("20 psi", "100 gph", name="transfer pump"), ptfe("-8", "10 ft")])
    circuit.case("filling", fluid_temperature="20 C")
    return circuit


# ---- oil ----

def wet_sump(fluid="SAE 10W-40"):
    circuit = fn.Circuit("wet sump (invented)", fluid=fluid, invented=True)
    circuit.tank("pan", level="4 in")
    circuit.run("suction", "pan", "pump out", [fn.tube(bore="1.1 in", length="8 in"), fn.displacement_pump("18 cc/rev", speed="3000 rpm", ratio=0.5, name="pump")])
    circuit.run("relief run", "pump out", "pan", [fn.relief_valve("65 psi", wide_open="15 psi at 10 gpm", name="relief")])
    circuit.run("main", "pump out", "gallery", [fn.filter(drop="2 psi at 8 gpm", bypass="12 psi", name="filter", **OIL), fn.hose("-12", "4 ft", spec="full-size")])
    circuit.run("engine", "gallery", "pan", [fn.resistance(drop="55 psi at 6 gpm", exponent=1.2, name="bearings", **OIL)])
    circuit.case("hot idle", speed="800 rpm", fluid_temperature="110 C")
    circuit.case("hot cruise", speed="3000 rpm", fluid_temperature="100 C")
    circuit.case("hot and fast", speed="6500 rpm", fluid_temperature="120 C")
    return circuit


def engine_oil_by_viscosities():
    return wet_sump(fn.oil(kv40="95 cSt", kv100="14 cSt", name="engine oil"))


def dry_sump():
    circuit = fn.Circuit("dry sump (invented)", fluid="SAE 10W-40", invented=True)
    circuit.tank("oil tank", level="14 in", height="10 in")
    circuit.tank("sump", level="1 in")
    circuit.run("pressure run", "oil tank", "pump out", [wide("4 ft"), fn.displacement_pump("20 cc/rev", speed="3000 rpm", ratio=0.5, name="pressure stage")])
    circuit.run("relief run", "pump out", "oil tank", [fn.relief_valve("70 psi", wide_open="15 psi at 12 gpm", name="relief")])
    circuit.run("main", "pump out", "gallery", [fn.filter(drop="2 psi at 10 gpm", bypass="15 psi", name="filter", **OIL), fn.hose("-12", "4 ft", spec="full-size")])
    circuit.run("engine", "gallery", "sump", [fn.resistance(drop="55 psi at 7 gpm", exponent=1.2, name="bearings", **OIL)])
    circuit.run("scavenge", "sump", "oil tank", [
        fn.strainer(drop="0.3 psi at 12 gpm", **OIL), wide("2 ft"), fn.displacement_pump("30 cc/rev", speed="3000 rpm", ratio=0.5, name="scavenge stage"),
        wide("6 ft"), fn.resistance(drop="6 psi at 10 gpm", name="core", **OIL), wide("3 ft")])
    circuit.case("hot idle", speed="900 rpm", fluid_temperature="110 C")
    circuit.case("hot", speed="5000 rpm", fluid_temperature="110 C")
    return circuit


def scavenge_alone(*last):
    circuit = fn.Circuit("scavenge stage alone (invented)", fluid="SAE 10W-40", invented=True)
    circuit.tank("oil tank", level="14 in", height="10 in")
    circuit.tank("sump", level="1 in")
    circuit.run("scavenge", "sump", "oil tank", [wide("2 ft"), fn.displacement_pump("30 cc/rev", speed="3000 rpm", ratio=0.5, name="scavenge stage"),
                                                 wide("6 ft"), *last])
    circuit.case("hot", fluid_temperature="110 C")
    return circuit


def scavenge_with_cooler():
    return scavenge_alone(fn.resistance(drop="6 psi at 10 gpm", name="oil cooler", **OIL))


def scavenge_with_screen():
    return scavenge_alone(fn.strainer(drop="0.3 psi at 12 gpm", **OIL))


def differential_cooler():
    circuit = fn.Circuit("differential cooler (invented)", fluid=fn.oil(kv40="95 cSt", kv100="14 cSt", name="gear oil 75W-90"), invented=True)
    circuit.tank("housing", level="3 in")
    circuit.tank("fill port", level="0.1 in", height="4 in")
    circuit.run("loop", "housing", "fill port", [wide("2 ft"), fn.displacement_pump("6 cc/rev", speed="1500 rpm", name="cooler pump"),
                                                 fn.hose("-10", "3 ft", spec="full-size"),
                                                 fn.resistance(drop="5 psi at 2 gpm", exponent=1.3, rated_with="SAE 50 at 100 C", name="core"),
                                                 fn.hose("-10", "3 ft", spec="full-size")])
    circuit.case("hot", fluid_temperature="110 C")
    return circuit


def steering(fluid):
    circuit = fn.Circuit("power steering (invented)", fluid=fluid, invented=True)
    circuit.tank("reservoir", level="4 in", height="20 in")
    circuit.run("suction", "reservoir", "pump out", [fn.hose("-12", "2 ft", spec="full-size"), fn.displacement_pump(
        "10 cc/rev", speed="1500 rpm", volumetric_efficiency="92 % at 1000 psi, 1500 rpm, 25 cP", name="pump")])
    circuit.run("relief run", "pump out", "reservoir", [fn.relief_valve("1200 psi", wide_open="50 psi at 5 gpm", override="60 psi", name="relief")])
    circuit.run("work", "pump out", "reservoir", [fn.hose("-6", "4 ft", spec="full-size"), fn.valve(rated="40 psi at 3 gpm", name="steering valve"),
                                                  fn.hose("-8", "4 ft", spec="full-size")])
    circuit.case("straight on", speed="1500 rpm", fluid_temperature="50 C")
    circuit.case("parking", speed="900 rpm", fluid_temperature="50 C", **{"steering valve.rated": "900 psi at 2 gpm"})
    circuit.case("full lock", speed="900 rpm", fluid_temperature="50 C", **{"steering valve.rated": "3000 psi at 0.05 gpm"})
    return circuit


def steering_on_hydraulic_oil():
    return steering("ISO VG 46")


def steering_on_oil_by_viscosities():
    return steering(fn.oil(kv40="34 cSt", kv100="7.2 cSt"))


def steering_on_transmission_fluid():
    return steering(fn.oil(kv40="34 cSt", kv100="7.2 cSt", name="ATF"))


# ---- water ----

def coolant():
    circuit = fn.Circuit("coolant loop (invented)", fluid="water", invented=True)
    circuit.tank("header", level="4 in", vent="13 psi", height="20 in")
    circuit.run("fill", "header", "pump in", [fn.hose("-6", "2 ft", spec="full-size")])
    circuit.run("pump run", "pump in", "block in", [fn.centrifugal_pump(
        [["0 gpm", "18 psi"], ["30 gpm", "16 psi"], ["60 gpm", "10 psi"], ["80 gpm", "3 psi"]], rated_speed="5000 rpm", speed="5000 rpm", name="pump")])
    circuit.run("block run", "block in", "block out", [fn.resistance(drop="8 psi at 40 gpm", name="block")])
    circuit.run("radiator run", "block out", "pump in", [wide("2 ft", "1.5 in"), fn.resistance(drop="4 psi at 40 gpm", name="radiator"), wide("2 ft", "1.5 in")])
    circuit.case("hot idle", speed="1000 rpm", fluid_temperature="90 C")
    circuit.case("hot and fast", speed="5000 rpm", fluid_temperature="95 C")
    return circuit


def rinse():
    circuit = fn.Circuit("rinse (invented)", fluid="water", invented=True)
    circuit.tank("drum", level="18 in")
    circuit.run("feed", "drum", "tee", [fn.formula_pump("60 psi", "4 gpm", name="pump"), fn.hose("-8", "20 ft", spec="full-size")])
    for side in "LR":
        circuit.run(f"nozzle run {side}", "tee", "ambient", [fn.hose("-6", "6 ft", spec="full-size"), fn.orifice("2 mm", name=f"nozzle {side}")])
    circuit.case("on", fluid_temperature="15 C")
    return circuit


SOUND = (return_style, dead_head, regulator_in_the_tank, returnless_with_boost, two_pumps, surge_tank, two_rails, carburettor, carburettor_with_return,
         blow_through, blow_through_dead_head, diesel_lift, belt_driven_fuel, methanol_injection, transfer, wet_sump, engine_oil_by_viscosities, dry_sump,
         scavenge_alone, scavenge_with_cooler, scavenge_with_screen, differential_cooler, steering_on_hydraulic_oil, steering_on_oil_by_viscosities,
         steering_on_transmission_fluid, coolant, rinse)


@pytest.mark.parametrize("made", SOUND, ids=lambda made: made.__name__)
def test_a_sound_circuit_draws_no_stop_and_no_fix(made):
    answer = made().solve()
    assert all(case.converged for case in answer.values())
    assert [f"{case.name}: {one.text()}" for case in answer.values() for one in case.findings if one.severity in ("stop", "fix")] == []


@pytest.mark.parametrize(("made", "code"), [
    (regulator_in_the_tank, "return rise"), (surge_tank, "boost not followed"), (scavenge_alone, "no relief"), (dead_head, "injector pressure"),
    (steering_on_oil_by_viscosities, "relief setting"), (two_rails, "injector pressure low"), (dry_sump, "oil pressure"),
    (scavenge_with_cooler, "oil pressure"), (steering_on_transmission_fluid, "pump slip assumed"), (coolant, "suction velocity")])
def test_nor_does_it_draw_a_milder_word_of_these(made, code):
    assert not any(one.code == code for case in made().solve().values() for one in case.findings)
