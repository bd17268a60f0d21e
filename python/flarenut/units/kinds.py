"""Kinds: what a value is, beyond its unit. A pressure is absolute, gauge or a difference; a temperature a point or a step."""

from math import pi

from .errors import UnitError, nearest

_Preferred = tuple[tuple[float, str], ...]  # rows of (from this SI size upwards, unit); the first row serves all smaller values


class Kind:
    """One kind of value.

    `words` as in a sentence ("a gauge pressure"), `si` the SI unit as Pint, astropy and unyt all read it, `example` a
    value to show in a message, `plain` whether a number without a unit is taken, `scale` what turns the dimension's
    SI value into the kind's (only the per-turn kinds differ from 1).
    """

    __slots__ = ("name", "dimension", "words", "si", "example", "reference", "plain", "scale", "us", "metric")

    def __init__(self, name: str, dimension: str, words: str, si: str, example: str, us: _Preferred, metric: _Preferred,
                 reference: str | None = None, plain: bool = False, scale: float = 1.0) -> None:
        self.name = name
        self.dimension = dimension
        self.words = words
        self.si = si
        self.example = example
        self.us = us
        self.metric = metric
        self.reference = reference
        self.plain = plain
        self.scale = scale

    def __repr__(self) -> str:
        return f"Kind({self.name!r})"


# The one place where the units of a system are chosen: tables, findings, studies and pictures ask `preferred_unit`, or `shared_units` where
# numbers stand beside each other. A metric pressure is in bar however small, so that no two places of a circuit tell it in two units; only
# `show` tells one by itself in Pa where bar would take an exponent.
_US_FLOW = ((0, "gal/h"), (200 * 1.0515e-6, "gal/min"))
_METRIC_FLOW = ((0, "L/h"), (1000 / 3.6e6, "L/min"))
_ALL = (
    Kind("pressure_absolute", "pressure", "an absolute pressure", "Pa", "14.7 psia",
         ((0, "psia"),), ((0, "bara"),), "absolute"),
    Kind("pressure_gauge", "pressure", "a gauge pressure", "Pa", "43.5 psig",
         ((0, "psig"),), ((0, "barg"),), "gauge"),
    Kind("pressure_difference", "pressure", "a pressure difference", "Pa", "43.5 psi",
         ((0, "psi"),), ((0, "bar"),), "difference"),
    Kind("bulk_modulus", "pressure", "a bulk modulus", "Pa", "1.5 GPa", ((0, "psi"),), ((0, "MPa"),), "none"),
    Kind("temperature", "temperature", "a temperature", "K", "185 F", ((0, "F"),), ((0, "C"),), "point"),
    Kind("temperature_difference", "temperature", "a temperature difference", "K", "20 F",
         ((0, "F"),), ((0, "C"),), "difference"),
    Kind("length", "length", "a length", "m", "8 mm", ((0, "in"), (0.9144, "ft")), ((0, "mm"), (1.0, "m"))),
    Kind("area", "area", "an area", "m**2", "20 mm2", ((0, "in2"), (0.0929, "ft2")), ((0, "mm2"), (1e-3, "cm2"), (1.0, "m2"))),
    Kind("volume", "volume", "a volume", "m**3", "5 L",
         ((0, "in3"), (9.46e-4, "gal")), ((0, "mL"), (1e-3, "L"))),
    Kind("time", "time", "a time", "s", "10 s", ((0, "s"), (600, "min"), (7200, "h")), ((0, "s"), (600, "min"), (7200, "h"))),
    Kind("mass", "mass", "a mass", "kg", "2 kg", ((0, "lb"),), ((0, "g"), (1.0, "kg"))),
    Kind("density", "density", "a density", "kg/m**3", "740 kg/m3", ((0, "lb/gal"),), ((0, "kg/m3"),)),
    Kind("dynamic_viscosity", "dynamic_viscosity", "a dynamic viscosity", "Pa*s", "0.5 cP", ((0, "cP"),), ((0, "mPa s"),)),
    Kind("kinematic_viscosity", "kinematic_viscosity", "a kinematic viscosity", "m**2/s", "10.5 cSt",
         ((0, "cSt"),), ((0, "mm2/s"),)),
    Kind("volume_flow", "volume_flow", "a volume flow", "m**3/s", "240 L/h", _US_FLOW, _METRIC_FLOW),
    Kind("mass_flow", "mass_flow", "a mass flow", "kg/s", "180 kg/h", ((0, "lb/h"),), ((0, "kg/h"),)),
    Kind("velocity", "velocity", "a velocity", "m/s", "1.5 m/s", ((0, "ft/s"),), ((0, "m/s"),)),
    Kind("rotation", "rotation", "a speed of rotation", "rad/s", "800 rpm", ((0, "rpm"),), ((0, "rpm"),)),
    Kind("turn_rate", "rotation", "a speed of rotation", "rad/s", "800 rpm", ((0, "rpm"),), ((0, "rpm"),),
         scale=1 / (2 * pi)),
    Kind("displacement", "displacement", "a displacement", "m**3/rad", "12 cc/rev", ((0, "in3/rev"),), ((0, "cc/rev"),)),
    Kind("displacement_per_turn", "displacement", "a displacement", "m**3/rad", "12 cc/rev",
         ((0, "in3/rev"),), ((0, "cc/rev"),), scale=2 * pi),
    Kind("power", "power", "a power", "W", "300 hp", ((0, "W"), (745.7, "hp")), ((0, "W"), (1e3, "kW"))),
    Kind("voltage", "voltage", "a voltage", "V", "13.5 V", ((0, "V"),), ((0, "V"),), plain=True),
    Kind("current", "current", "a current", "A", "12 A", ((0, "A"),), ((0, "A"),)),
    Kind("resistance", "resistance", "an electrical resistance", "ohm", "0.1 ohm", ((0, "ohm"),), ((0, "ohm"),)),
    Kind("torque", "torque", "a torque", "N*m", "20 N m", ((0, "lb ft"),), ((0, "N m"),)),
    Kind("force", "force", "a force", "N", "450 N", ((0, "lbf"),), ((0, "N"), (1e4, "kN"))),
    Kind("energy", "energy", "an energy", "J", "5 kJ", ((0, "BTU"),), ((0, "J"), (1e3, "kJ"), (1e6, "MJ"))),
    Kind("specific_energy", "specific_energy", "a specific energy", "J/kg", "43 MJ/kg",
         ((0, "BTU/lb"),), ((0, "kJ/kg"), (1e6, "MJ/kg"))),
    Kind("specific_heat", "specific_heat", "a specific heat", "J/(kg*K)", "2000 J/kg/K", ((0, "BTU/lb/F"),), ((0, "J/kg/K"),)),
    Kind("thermal_conductivity", "thermal_conductivity", "a thermal conductivity", "W/(m*K)", "0.13 W/m/K",
         ((0, "BTU/h/ft/F"),), ((0, "W/m/K"),)),
    Kind("thermal_conductance", "thermal_conductance", "a thermal conductance", "W/K", "120 W/K",
         ((0, "BTU/h/F"),), ((0, "W/K"),)),
    Kind("heat_capacity", "heat_capacity", "a heat capacity", "J/K", "12 kJ/K", ((0, "BTU/F"),), ((0, "J/K"), (1e3, "kJ/K"))),
    Kind("thermal_expansion", "thermal_expansion", "a thermal expansion", "1/K", "0.00095 1/K", ((0, "1/F"),), ((0, "1/K"),)),
    Kind("acceleration", "acceleration", "an acceleration", "m/s**2", "1.5 g", ((0, "g"),), ((0, "g"),)),
    Kind("angle", "angle", "an angle", "rad", "90 deg", ((0, "deg"),), ((0, "deg"),)),
    Kind("fraction", "ratio", "a fraction", "", "85 %", ((0, "%"),), ((0, "%"),), plain=True),
    Kind("dimensionless", "ratio", "a plain number", "", "0.8", ((0, ""),), ((0, ""),), plain=True),
    Kind("flow_coefficient_cv", "flow_coefficient_cv", "a flow coefficient Cv", "", "1.2",
         ((0, "Cv"),), ((0, "Cv"),), plain=True),
    Kind("flow_coefficient_kv", "flow_coefficient_kv", "a flow coefficient Kv", "", "1.0",
         ((0, "Kv"),), ((0, "Kv"),), plain=True),
    Kind("specific_consumption", "specific_consumption", "a specific consumption", "kg/J", "0.55 lb/hp/h",
         ((0, "lb/hp/h"),), ((0, "g/kWh"),)),
)

KINDS = {kind.name: kind for kind in _ALL}

# Kind -> the most that is taken of it either way [SI], and how a message says that: far beyond anything on wheels, and far below where sums overflow.
MOST: dict[str, tuple[float, str]] = {
    "pressure_absolute": (1e13, "10 TPa"),
    "pressure_gauge": (1e13, "10 TPa"),
    "pressure_difference": (1e13, "10 TPa"),
    "bulk_modulus": (1e13, "10 TPa"),
    "temperature": (1e7, "10000000 K"),
    "temperature_difference": (1e7, "10000000 K"),
    "length": (1e9, "1000000 km"),
    "area": (1e12, "1000000 km2"),
    "volume": (1e12, "1000 km3"),
    "time": (1e10, "300 years"),
    "mass": (1e9, "1000000 t"),
    "density": (1e9, "1e9 kg/m3"),
    "dynamic_viscosity": (1e9, "1e12 cP"),
    "kinematic_viscosity": (1e9, "1e15 cSt"),
    "volume_flow": (1e7, "1e7 m3/s"),
    "mass_flow": (1e9, "1e9 kg/s"),
    "velocity": (1e7, "10000 km/s"),
    "rotation": (1e9, "9.5e9 rpm"),
    "turn_rate": (1e9, "6e10 rpm"),
    "displacement": (1e9, "6e9 m3/rev"),
    "displacement_per_turn": (1e9, "1e9 m3/rev"),
    "power": (1e10, "10 GW"),
    "voltage": (1e12, "1e12 V"),
    "current": (1e9, "1e9 A"),
    "resistance": (1e12, "1e12 ohm"),
    "torque": (1e9, "1e9 N m"),
    "force": (1e10, "1e10 N"),
    "energy": (1e15, "1e15 J"),
    "specific_energy": (1e12, "1e12 J/kg"),
    "specific_heat": (1e10, "1e10 J/kg/K"),
    "thermal_conductivity": (1e9, "1e9 W/m/K"),
    "thermal_conductance": (1e10, "1e10 W/K"),
    "heat_capacity": (1e12, "1e12 J/K"),
    "thermal_expansion": (1e9, "1e9 1/K"),
    "acceleration": (1e7, "1e6 g"),
    "angle": (1e7, "6e8 deg"),
    "fraction": (1e9, "1e9"),
    "dimensionless": (1e12, "1e12"),
    "flow_coefficient_cv": (1e9, "1e9"),
    "flow_coefficient_kv": (1e9, "1e9"),
    "specific_consumption": (1e9, "1e9 kg/J"),
}

# Mass-like and volume-like twins: the first is density times the second.
DENSITY_TWINS = {"mass_flow": "volume_flow", "mass": "volume", "dynamic_viscosity": "kinematic_viscosity"}
DENSITY_TWINS.update({volume: mass for mass, volume in list(DENSITY_TWINS.items())})

DIMENSION_WORDS: dict[str, str] = {}  # how a message calls a unit that belongs to no single kind
for _kind in _ALL:
    DIMENSION_WORDS.setdefault(_kind.dimension, _kind.words)
DIMENSION_WORDS.update(pressure="a pressure", ratio="a ratio")

REFERENCE_PHRASES = {"absolute": "an absolute pressure", "gauge": "a gauge pressure", "difference": "a pressure difference"}


def kind_named(kind: str) -> Kind:
    """The `Kind` of that name; an unknown name is an error with the nearest right one."""
    found = KINDS.get(kind)
    if found is None:
        close = nearest(str(kind), KINDS)
        hint = f"did you mean '{close}'?" if close else "the kinds are " + ", ".join(KINDS)
        raise UnitError("kind", kind, f"unknown kind '{kind}'", hint)
    return found
