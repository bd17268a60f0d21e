"""The engine's sentences in units of the trade: it speaks in SI, "1609.34 m is outside 0 to 1000 m"."""

import re

from .. import units

RANGE = re.compile(r"(?P<value>\S+)(?P<unit> .+?)? is outside (?P<least>\S+) to (?P<most>\S+)")
_RAW = re.compile(r"(?<![\w.-])(-?\d[\d.]*(?:e[+-]?\d+)?) (m3/s|W/K|m2|Pa|W|m|degC)(?![\w/])")
_STEP = re.compile(r"\bover (\d[\d.]*) K\b")  # between two temperatures
_DEGREES = re.compile(r"(-?[\d.]+) degC \([\d.]+ K\) is outside (-?[\d.]+) to (-?[\d.]+) degC \([\d.]+ to [\d.]+ K\)")
_BOTH = re.compile(r"(-?\d[\d.e+-]* \S+) \((-?\d[\d.e+-]* [^\s()]+)\)")  # as `in_both_systems` writes it
KINDS_OF_UNITS = {"m": "length", "Pa": "pressure_difference", "V": "voltage", "K": "temperature", "1/s": "turn_rate", "m3/s": "volume_flow",
                  "kg/s": "mass_flow", "Pa s": "dynamic_viscosity", "kg/m3": "density", "rad": "angle", "m/s2": "acceleration", "m2": "area",
                  "m/s": "velocity", "W": "power", "W/K": "thermal_conductance", "J/K": "heat_capacity"}
KINDS_OF_FIELDS = {"vent": "pressure_gauge", "gauge": "pressure_gauge", "pressure": "pressure_absolute",
                   "displacement": "displacement_per_turn", "air_rise": "temperature_difference",
                   **dict.fromkeys(("fan_speed", "vehicle_speed", "air_speed", "reference_speed", "still_speed"), "velocity"),
                   **dict.fromkeys(("duty", "opening", "seat_share", "turbulent_share", "leak", "rated_efficiency"), "fraction")}


def in_both_systems(value: float, kind: str | None, unit: str) -> str:
    """A value in trade units of both systems where they differ."""
    if kind is None:
        return f"{value:g} {unit}".strip()
    return units.in_both(value, kind)


def in_trade_units(trouble: str, field: str = "") -> str:
    """The engine's sentence with its pascals, metres, kelvins watts and cubic metres per second in units of the trade.

    >>> in_trade_units("1609.34 m is outside 0 to 1000 m")
    '5280 ft (1609 m) is outside 0 in (0 mm) to 3281 ft (1000 m)'
    >>> in_trade_units("temperature -51.1 degC is below -40 degC")
    'temperature -60.0 F (-51.1 C) is below -40.0 F (-40.0 C)'
    >>> in_trade_units("-100 degC (173.15 K) is outside -73.15 to 726.85 degC (200 to 1000 K)")
    '-148 F (-100 C) is outside -99.7 F (-73.2 C) to 1340 F (727 C)'
    >>> in_trade_units("60000 W is more than the rated flows can carry over 75 K")
    '80.5 hp (60.0 kW) is more than the rated flows can carry over 135 F (75.0 C)'
    """
    degrees = _DEGREES.fullmatch(trouble)
    if degrees is not None:
        value, least, most = (in_both_systems(float(one) + 273.15, "temperature", "K") for one in degrees.groups())
        return f"{value} is outside {least} to {most}"
    match = RANGE.match(trouble)
    if match is not None:
        unit = (match["unit"] or "").strip()
        kind = KINDS_OF_FIELDS.get(field, KINDS_OF_UNITS.get(unit))
        value, least, most = (in_both_systems(float(match[word]), kind, unit) for word in ("value", "least", "most"))
        return f"{value} is outside {least} to {most}" + trouble[match.end():].removeprefix(match["unit"] or "")

    def shown(match: re.Match[str]) -> str:
        number, unit = float(match[1]), match[2]
        return in_both_systems(number + 273.15, "temperature", "K") if unit == "degC" else in_both_systems(number, KINDS_OF_UNITS[unit], unit)

    trouble = _STEP.sub(lambda match: f"over {in_both_systems(float(match[1]), 'temperature_difference', 'K')}", trouble)
    return _RAW.sub(shown, trouble)


def metric_first(sentence: str) -> str:
    """A sentence of `in_trade_units` for somebody who measures in metric units.

    >>> metric_first("temperature -58.0 F (-50.0 C) is below -40.0 F (-40.0 C)")
    'temperature -50.0 C (-58.0 F) is below -40.0 C (-40.0 F)'
    """
    return _BOTH.sub(r"\2 (\1)", sentence)
