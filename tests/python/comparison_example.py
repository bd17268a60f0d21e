"""Invented circuits to compare: the demonstration's engine plumbed in several ways, and a rig of coolers at a given flow."""

from importlib.resources import files

import flarenut as fn

CASES = ("cold start", "hot idle", "full speed", "hot track")
OUT_OF_TWO = ["0.25 bar at 10 L/min", "1 bar at 20 L/min"]  # a drop that goes with flow squared, and nothing else


def engine():
    return fn.load(str(files("flarenut").joinpath("demo/oil_cooler_six.toml")))


def taken_apart(name):
    """A copy of the engine without filter and cooler, and their parts."""
    car = engine().copy(name)
    return car, *(car.take_out(run) for run in ("filtering", "cooling", "round the cooler"))


def cooler_first():
    car, filtering, cooling, around = taken_apart("cooler before the filter")
    car.run("cooling", "filter in", "cooled", cooling)
    car.run("round the cooler", "filter in", "cooled", around)
    car.run("filtering", "cooled", "gallery", filtering)
    return car


def no_thermostat():
    car = engine().copy("no thermostat")
    car.take_out("round the cooler")
    car.run("cooling", "filter out", "gallery", [part for part in car.take_out("cooling") if part.name != "thermostat"])
    return car


def bleed():
    car, filtering, cooling, _ = taken_apart("cooler in a bleed back to the sump")
    car.run("filtering", "filter in", "gallery", filtering)
    car.run("cooling", "filter in", "sump", [fn.orifice("4 mm", name="bleed jet"), *cooling])
    return car


def no_cooler():
    car, filtering, _, _ = taken_apart("no cooler")
    car.run("filtering", "filter in", "gallery", filtering)
    return car


def variants():
    return {"after the filter": engine(), "before the filter": cooler_first(), "no thermostat": no_thermostat(), "bleed": bleed(), "no cooler": no_cooler()}


def core(name, drop=OUT_OF_TWO):
    return fn.cooler("6 kW at 20 L/min", rated_inlet="110 C", rated_air="35 C at 5 m/s", face=["250 mm", "180 mm"], drop=drop,
                     rated_with="SAE 10W-40 at 100 C", fan="5 m/s", name=name)


def rig(plumbing):
    """Oil of 100 C at a given flow through "one" cooler, two "in series" or two "side by side", into a drain."""
    made = fn.Circuit("rig of coolers", fluid="SAE 10W-40", air_temperature="35 C", invented=True)
    made.tank("drain", temperature="100 C")
    made.junction("feed", supply="20 L/min", temperature="100 C", height="0 m")
    for run in ("left", "right") if plumbing == "side by side" else ("left",):
        made.run(run, "feed", "drain", [core(f"{run} one"), *([core(f"{run} two")] if plumbing == "in series" else [])])
    made.case("warm", fluid_temperature="100 C")
    return made


def rigs():
    return {name: rig(name) for name in ("one", "in series", "side by side")}
