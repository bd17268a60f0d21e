"""A stand that parts of heat are tried on: a known flow of a known temperature. Every circuit is invented."""

import flarenut as fn

WATER = "water"


def bench(parts, *, supply="10 L/min", warm="60 C", air="20 C", fluid=WATER, **cases):
    """A known flow of a known temperature through parts into the open air."""
    circuit = fn.Circuit("bench (invented)", fluid=fluid, fluid_temperature="40 C", air_temperature=air, temperatures="found")
    circuit.junction("stand", supply=supply, temperature=warm)
    circuit.run("line", "stand", "ambient", parts)
    for name, conditions in cases.items():
        circuit.case(name, **conditions)
    return circuit.solve()


def capacity_rate(case, part):
    """[W/K], at the mean temperature in a part."""
    kelvin = case.liquid_in(part)["temperature"]
    return case.solution.flow_of(part) * fn.fluid(case.layout.fluid).heat_at(f"{kelvin} K").specific_heat.si


def rated(**words):
    return fn.cooler("9 kW at 20 L/min", **{"rated_inlet": "90 C", "rated_air": "35 C at 5 m/s", "face": ["300 mm", "190 mm"],
                                           "drop": "20 kPa at 20 L/min", "name": "cooler", **words})


def at_rating(cooler, supply="20 L/min", warm="90 C", air="35 C", fluid=WATER, **more):
    return bench([cooler], supply=supply, warm=warm, air=air, fluid=fluid, **{"rating": {"fan": "5 m/s"}, **more})
