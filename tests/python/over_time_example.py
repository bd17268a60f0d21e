"""An invented oil circuit with a cooler behind a thermostat, followed through a drive."""

import flarenut as fn

DRIVE = [("3 min", "cold start"), ("10 min", "town"), ("15 min", "track")]


def car(capacity="14 kJ/K"):
    oil = fn.Circuit("oil of an invented four", fluid="SAE 10W-40", air_temperature="10 C", invented=True)
    oil.tank("sump", level="100 mm", temperature="found", heat_share="6 %", heat_loss="12 W/K", heat_capacity=capacity)
    oil.fixed("crankcase", height="200 mm", drains_to="sump")
    oil.junction("gallery", bore="12 mm")
    oil.run("pumping", "sump", "pump out", [fn.pickup(bore="32 mm"), fn.displacement_pump("12 cc/rev", speed="3000 rpm", name="pump")])
    oil.run("relief", "pump out", "sump", [fn.relief_valve("5 bar", wide_open="2 bar at 80 L/min", rated_with="own at 100 C")])
    oil.run("round", "pump out", "gallery", [fn.bypass_thermostat("82 C", "95 C", bore="14 mm")])
    oil.run("cooling", "pump out", "gallery", [
        fn.thermostat("82 C", "95 C", bore="14 mm", name="thermostat"),
        fn.cooler("9 kW at 20 L/min", rated_inlet="110 C", rated_air="35 C at 5 m/s", face=["300 mm", "190 mm"], drop="0.5 bar at 20 L/min",
                  rated_with="own at 100 C", rated_pressure="10 bar", name="oil cooler")])
    oil.run("mains", "gallery", "crankcase", [fn.bearings(count=13, diameter="54 mm", width="20 mm", clearance="0.06 mm", speed="3000 rpm",
                                                          film_viscosity="50 %", name="mains and rods")])
    oil.case("cold start", **{"sump.temperature": "-10 C"}, speed="1000 rpm", engine_power="5 kW", air_temperature="-10 C")
    oil.case("town", speed="2000 rpm", engine_power="15 kW", vehicle_speed="10 m/s")
    oil.case("track", speed="6000 rpm", engine_power="150 kW", vehicle_speed="30 m/s", air_temperature="30 C")
    return oil
