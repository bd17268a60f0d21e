"""`Limits`: where a warning begins. Rules of thumb of the trade, each of which the builder may change."""

from dataclasses import dataclass

from flarenut.results import COMMON_PRACTICE
from flarenut.units import Quantity, UnitError
from flarenut.units.errors import quoted

_HANDBOOK = "handbook value, from memory"


@dataclass(frozen=True)
class Limit:
    """One limit: its preset as text, its kind and what it guards."""

    preset: str
    kind: str
    meaning: str
    source: str = COMMON_PRACTICE


LIMITS = {
    "suction_margin": Limit("5 kPa", "pressure_difference", "least static pressure above vapour pressure on the way to a pump"),
    "inlet_vacuum": Limit("2 inHg vacuum", "pressure_gauge", "lowest pressure at a fuel pump's inlet"),
    "oil_inlet_vacuum": Limit("5 inHg vacuum", "pressure_gauge", "lowest pressure at an oil or hydraulic pump's inlet, running warm"),
    "return_rise_injection": Limit("3 psi", "pressure_difference", "return back-pressure over the tank, fuel injection"),
    "return_rise_carburettor": Limit("1 psi", "pressure_difference", "return back-pressure over the tank, carburettor"),
    "carburettor_below": Limit("15 psi", "pressure_difference", "a fuel regulator set below this feeds a carburettor"),
    "fuel_filter_drop": Limit("5 psi", "pressure_difference", "drop across a fuel filter at which to change it"),
    "suction_velocity": Limit("1.5 m/s", "velocity", "fastest flow of fuel in a line before a pump"),
    "return_velocity": Limit("3 m/s", "velocity", "fastest flow of fuel in a return line"),
    "feed_velocity": Limit("6 m/s", "velocity", "fastest flow of fuel in a line after a pump"),
    "oil_suction_velocity": Limit("1.5 m/s", "velocity", "fastest flow of engine oil before a pump"),
    "oil_feed_velocity": Limit("4 m/s", "velocity", "fastest flow of engine oil after a pump"),
    # Hydraulics: 2 to 4 ft/s before a pump, 10 to 15 back to the tank, 20 to 25 under high pressure.
    "hydraulic_suction_velocity": Limit("4 ft/s", "velocity", "fastest flow of hydraulic fluid before a pump"),
    "hydraulic_return_velocity": Limit("15 ft/s", "velocity", "fastest flow of hydraulic fluid in a return line"),
    "hydraulic_feed_velocity": Limit("25 ft/s", "velocity", "fastest flow of hydraulic fluid after a pump"),
    "coolant_feed_velocity": Limit("3 m/s", "velocity", "fastest flow of coolant or water after a pump"),
    "settling_share": Limit("50 %", "fraction", "share of a line over which laminar flow may still be settling", _HANDBOOK),
    "regulator_creep": Limit("4 psi", "pressure_difference", "most that a regulator's pressure may climb over where it opens"),
    "injector_pressure": Limit("2", "dimensionless", "pressure across injectors, times what they were rated at"),
    "regulator_shortfall": Limit("5 %", "fraction", "share of its setting that a regulated pressure may fall short"),
}

# What is judged -> family of liquid -> limit. A family that is not named has no limit that we know of, and is not judged.
BY_FAMILY = {
    "inlet_vacuum": {"fuel": "inlet_vacuum", "oil": "oil_inlet_vacuum", "hydraulic": "oil_inlet_vacuum"},
    "suction_velocity": {"fuel": "suction_velocity", "oil": "oil_suction_velocity", "hydraulic": "hydraulic_suction_velocity"},
    "return_velocity": {"fuel": "return_velocity", "hydraulic": "hydraulic_return_velocity"},
    "feed_velocity": {"fuel": "feed_velocity", "oil": "oil_feed_velocity", "hydraulic": "hydraulic_feed_velocity",
                      "coolant": "coolant_feed_velocity", "water": "coolant_feed_velocity"},
}


def limit_for(layout, judged):
    """Name of the limit for a circuit's liquid, or None where none is known."""
    family = layout.family
    if family in ("transmission fluid", "hydraulic fluid") or (family == "oil" and layout.fluid.lower().startswith("iso vg")):
        family = "hydraulic"
    return BY_FAMILY[judged].get(family)


class Limits:
    """The limits that checks go by.

    Parameters
    ----------
    **changes : a name of `LIMITS` and a value with its unit, above nothing; a vacuum, or a gauge pressure that is not nought

    Raises
    ------
    ValueError : no such limit
    UnitError : the value is none of its kind, or leaves nothing to compare with

    >>> limits = Limits(return_rise_injection="5 psi")
    >>> str(limits.return_rise_injection), limits.source("return_rise_injection"), limits.source("suction_margin")
    ('5.00 psi', 'set by you', 'common practice, no source')
    """

    def __init__(self, **changes):
        for name in changes:
            if name not in LIMITS:
                from difflib import get_close_matches

                close = get_close_matches(name, LIMITS, n=1)
                hint = f"did you mean '{close[0]}'?" if close else "the limits are " + ", ".join(LIMITS)
                raise ValueError(f"no limit '{name}': {hint}")
        self._changed = frozenset(changes)
        for name, limit in LIMITS.items():
            setattr(self, name, _usable(name, changes.get(name, limit.preset), limit))

    def source(self, name):
        """Where a limit comes from."""
        return "set by you" if name in self._changed else LIMITS[name].source

    def __repr__(self):
        return "\n".join(f"{name:<24} {getattr(self, name)!s:<18} {limit.meaning} ({self.source(name)})"
                         for name, limit in LIMITS.items())


def _usable(name, written, limit):
    """A limit as a `Quantity`. How far something is beyond it is told as a share of it, so it may not be nothing."""
    found = Quantity.of(written, limit.kind, name=name)
    if found.si == 0.0 or (found.si < 0.0 and limit.kind != "pressure_gauge"):
        raise UnitError(name, written, f"limit '{name}' is {quoted(written)}, which nothing can be measured against",
                        f"give a small one where all is to be told, e.g. {_SMALL[limit.kind]!r}; it is usually {limit.preset!r}")
    return found


_SMALL = {"pressure_difference": "0.01 psi", "pressure_gauge": "0.01 inHg vacuum", "velocity": "0.01 m/s", "fraction": "0.1 %",
          "dimensionless": "0.01"}
