"""Conditions whose number is a straight line of what is written: many values are worked out from two.

A random sample of 100 000 volts is 100 000 texts; reading each takes longer than solving it.
"""

import numpy

from ..circuit.cases import overrides_of

# Conditions that units alone lie between: a factor, and an offset for temperatures and for volts lost in the leads.
STRAIGHT = ("volts", "speed", "duty", "fluid_temperature", "ambient_pressure", "manifold", "tank_level", "tank_vent", "filter_loading")


def straight_rows(circuit, axes, still, place):
    """Names and rows of a group of one such condition drawn between two ends, or None where every value has to be read."""
    if len(axes) != 1 or axes[0].span is None or axes[0].key not in STRAIGHT or axes[0].sort != "condition":
        return None
    axis = axes[0]
    try:
        low, high = (overrides_of(circuit, {**still, axis.name: end}, place).numbers for end in (axis.span.low, axis.span.high))
    except ValueError:
        return None  # some values may do: read each
    names = list(low)
    first, last = (numpy.array([found[name] for name in names]) for found in (low, high))
    if axis.key == "volts" and (numpy.minimum(first, last) <= 0.0).any():
        return None  # leads may take all of the volts, and less than none there is not
    start, stop = axis.span.ends
    shares = (axis.numbers - start) / (stop - start)
    return names, first + shares[:, None] * (last - first)
