"""`Limits`: where a warning begins. Rules of thumb of the trade, each of which the builder may change."""

from dataclasses import dataclass

from flarenut.results import COMMON_PRACTICE
from flarenut.units import Quantity


@dataclass(frozen=True)
class Limit:
    """One limit: its preset as text, its kind and what it guards."""

    preset: str
    kind: str
    meaning: str


LIMITS = {
    "suction_margin": Limit("5 kPa", "pressure_difference", "least static pressure above vapour pressure on the way to a pump"),
    "inlet_vacuum": Limit("2 inHg vacuum", "pressure_gauge", "lowest pressure at a pump's inlet"),
    "return_rise_injection": Limit("3 psi", "pressure_difference", "return back-pressure over the tank, fuel injection"),
    "return_rise_carburettor": Limit("1 psi", "pressure_difference", "return back-pressure over the tank, carburettor"),
    "carburettor_below": Limit("15 psi", "pressure_difference", "a fuel regulator set below this feeds a carburettor"),
    "fuel_filter_drop": Limit("5 psi", "pressure_difference", "drop across a fuel filter at which to change it"),
    "suction_velocity": Limit("1.5 m/s", "velocity", "fastest flow in a line before a pump"),
    "return_velocity": Limit("3 m/s", "velocity", "fastest flow in a return line"),
    "feed_velocity": Limit("6 m/s", "velocity", "fastest flow in a line after a pump"),
    "regulator_creep": Limit("4 psi", "pressure_difference", "most that a regulator's pressure may climb over where it opens"),
    "injector_pressure": Limit("2", "dimensionless", "pressure across injectors, times what they were rated at"),
    "regulator_shortfall": Limit("5 %", "fraction", "share of its setting that a regulated pressure may fall short"),
}


class Limits:
    """The limits that checks go by.

    Parameters
    ----------
    **changes : a name of `LIMITS` and a value with its unit

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
            setattr(self, name, Quantity.of(changes.get(name, limit.preset), limit.kind, name=name))

    def source(self, name):
        """Where a limit comes from."""
        return "set by you" if name in self._changed else COMMON_PRACTICE

    def __repr__(self):
        return "\n".join(f"{name:<24} {getattr(self, name)!s:<18} {limit.meaning} ({self.source(name)})"
                         for name, limit in LIMITS.items())
