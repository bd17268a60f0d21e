"""Invented circuits that build sheets are made of in tests: one with its hardware said, one that is wrong, one with names out of a nightmare."""

import flarenut as fn

HOSTILE = '<script>console.error("run")</script> & "quoted" \'car\' </style></title> \u202e\x07'


SIDE = {"area": "0.2 m2", "bore": "4 mm", "length": "150 mm"}


def truck(name="invented pickup, tank to rail", fluid="E10"):
    """A return-style fuel system whose ends, materials and standards are said."""
    car = fn.Circuit(name, fluid=fluid, invented=True)
    car.tank("tank", level="9 in")
    car.junction("rail", position=["8 ft", "0 ft", "20 in"], bore="11 mm")
    car.run("feed", "tank", "rail", [
        fn.strainer("0.3 psi at 100 gph", name="sock"),
        fn.hose("-8", "18 in", spec="ptfe", standard="SAE 100R14", ends=["-8 37 flare female"] * 2, name="suction hose"),
        fn.formula_pump("110 psi", "150 gph", through="60 psi at 100 gph", ends=["-8 37 flare male", "-6 37 flare male"], name="pump"),
        fn.tube("3/8 in", way=[[0, 0, 0], ["7 ft", 0, 0], ["7 ft", "4 in", "20 in"]], bend_radius="1.5 in", material="304 stainless",
                ends=["-6 37 flare female"] * 2, name="long line"),
        fn.filter("1.2 psi at 100 gph", ends=["-6 37 flare male"] * 2, mass="0.5 lb", name="filter"),
        fn.hose("-6", "30 in", spec="ptfe", standard="SAE 100R14", bends=[90], ends=["-6 37 flare female"] * 2, name="bay hose")],
        meets=["", "-6 37 flare male"])
    car.run("return", "rail", "tank", [
        fn.bypass_regulator("43.5 psi", reference="manifold", band="2 psi", wide_open="20 psi at 107 gph", ends=["-6 37 flare male"] * 2, name="regulator"),
        fn.hose("-6", "12 ft", spec="push-on", standard="SAE 30R9", bends=[90, 90], ends=["-6 37 flare female"] * 2, name="return hose")],
        meets=["", "-6 37 flare male"])
    car.injectors("bank", "rail", count=6, flow="550 cc/min at 3 bar")
    car.fuel_cases(hot="45 C")
    return car


def wrong():
    """A flare nose screwed into an O-ring boss, and two sizes that want an adapter."""
    car = fn.Circuit("invented mistake", fluid="gasoline", invented=True)
    car.tank("cell", level="9 in")
    car.junction("rail", demand="60 L/h")
    car.run("feed", "cell", "rail", [fn.hose("-6", "3 ft", spec="ptfe", name="hose", ends=["-6 37 flare male", "-6 37 flare female"]),
                                     fn.filter("1 psi at 90 gph", name="filter", ends=["-8 37 flare male", ""])], meets=["-6 O-ring boss female", ""])
    return car


def hostile():
    """Every name that a builder may choose holds markup."""
    car = fn.Circuit(HOSTILE, fluid="gasoline")
    car.tank("<i>cell</i>", level="9 in")
    car.junction("<u>rail</u>", demand="60 L/h")
    car.run("<s>feed</s>", "<i>cell</i>", "<u>rail</u>", [
        fn.hose("-6", "3 ft", spec="ptfe", name="<img src=x onerror=alert(1)>", ends=["-6 37 flare female"] * 2),
        fn.filter("1 psi at 90 gph", name="a\"><b>filter", ends=["-6 37 flare male"] * 2)])
    car.case('<b onclick="x">hot</b>', fluid_temperature="40 C")
    return car


def vehicle():
    """Three circuits; oil and coolant share a cooler."""
    car = fn.Vehicle("invented truck", invented=True)
    oil = fn.Circuit("oil", fluid="SAE 10W-40")
    oil.tank("sump", level="0.1 m", temperature="110 C")
    oil.run("oil loop", "sump", "gallery", [
        fn.displacement_pump("20 cc/rev", speed="2000 rpm", volumetric_efficiency="90 % at 60 psi, 2000 rpm, 10 cP", name="oil pump"),
        fn.hose("-10", "3 ft", spec="full-size", standard="SAE 100R1", ends=["-10 37 flare female"] * 2, name="oil hose"),
        fn.core("4 psi at 20 L/min", rated_with="own at 100 C", name="plates, oil side", ends=["-10 37 flare male"] * 2)])
    oil.run("oil back", "gallery", "sump", [fn.orifice("4 mm", name="bearings")])
    water = fn.Circuit("coolant", fluid="50 % ethylene glycol")
    water.tank("header", level="0.3 m", vent="10 psi", temperature="80 C")
    water.run("coolant way", "header", "ambient", [fn.hose("-12", "4 ft", spec="full-size", name="coolant hose"),
                                                   fn.core("1 psi at 20 L/min", name="plates, coolant side")])
    for circuit in (oil, water, _of_fuel()):
        car.add(circuit)
    car.exchanger("plate cooler", first=("oil", "plates, oil side"), second=("coolant", "plates, coolant side"), first_side=SIDE, second_side=SIDE)
    car.case("cruise", fluid_temperature="40 C", **{"oil.fluid_temperature": "100 C"})
    return car


def _of_fuel():
    made = truck("fuel")
    made.cases.clear()
    return made
