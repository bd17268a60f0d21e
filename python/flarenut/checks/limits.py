"""`Limits`: where a warning begins. Rules of thumb of the trade, each of which the builder may change."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from flarenut.results import COMMON_PRACTICE
from flarenut.units import Quantity, UnitError
from flarenut.units.errors import quoted, said_of

if TYPE_CHECKING:
    from ..results.layout import Layout

_HANDBOOK = "handbook value, from memory"
_MEMORY = "hose standards, from memory"


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
    "fuel_filter_drop": Limit("5 psi", "pressure_difference", "friction loss of a fuel filter, without the height between its ends, at which to change it"),
    "suction_velocity": Limit("1.5 m/s", "velocity", "fastest flow of fuel in a line before a pump"),
    "return_velocity": Limit("3 m/s", "velocity", "fastest flow of fuel in a return line"),
    "feed_velocity": Limit("6 m/s", "velocity", "fastest flow of fuel in a line after a pump"),
    "oil_suction_velocity": Limit("1.5 m/s", "velocity", "fastest flow of engine or gear oil before a pump"),
    "oil_feed_velocity": Limit("4 m/s", "velocity", "fastest flow of engine oil after a pump"),
    # Hydraulics: 2 to 4 ft/s before a pump, 10 to 15 back to the tank, 20 to 25 under high pressure.
    "hydraulic_suction_velocity": Limit("4 ft/s", "velocity", "fastest flow of hydraulic fluid before a pump"),
    "hydraulic_return_velocity": Limit("15 ft/s", "velocity", "fastest flow of hydraulic fluid in a return line"),
    "hydraulic_feed_velocity": Limit("25 ft/s", "velocity", "fastest flow of hydraulic fluid after a pump"),
    "coolant_feed_velocity": Limit("3 m/s", "velocity", "fastest flow of coolant or water, before a pump or after it"),
    "settling_share": Limit("50 %", "fraction", "share of a line over which laminar flow may still be settling", _HANDBOOK),
    "regulator_creep": Limit("4 psi", "pressure_difference", "most that a regulator's pressure may climb over where it opens"),
    "injector_pressure": Limit("2", "dimensionless", "pressure across injectors, times what they were rated at"),
    "regulator_shortfall": Limit("5 %", "fraction", "share of its setting that a regulated pressure may fall short"),
    "reducing_shortfall": Limit("10 %", "fraction", "share of its setting that a reducing regulator may droop while it regulates"),
    "injector_pressure_least": Limit("75 %", "fraction", "pressure across injectors, of what they were rated at"),
    "unregulated_pressure": Limit("1.25", "dimensionless", "pressure across injectors without a regulator, times what they were rated at"),
    "boost_not_followed": Limit("10 %", "fraction", "boost that a regulator on open air may not follow, of its setting"),
    "injector_duty": Limit("85 %", "fraction", "share of the time that injectors may be open"),
    "pump_least_flow": Limit("5 %", "fraction", "least flow of an injection pump, of its free flow, that carries its heat away"),
    # Pumps are charted at 12 to 14 V; a booster gives up to half more.
    "pump_volts_over": Limit("25 %", "fraction", "volts of a pump over the highest that its charts or figures were taken at", "judgement, no source"),
    "float_valve_pressure": Limit("10 psi", "pressure_difference", "highest pressure at a carburettor"),
    # Fuel injection hose of SAE J30 R9 and R14 is made for 100 psi.
    "fuel_line_pressure": Limit("100 psi", "pressure_difference", "highest pressure in fuel hose and filters", _MEMORY),
    # Engines relieve at 65 to 100 psi, racing ones somewhat higher.
    "oil_relief_setting": Limit("120 psi", "pressure_difference", "highest pressure at which an engine's oil relief opens"),
    # Spin-on cans and cooler cores leak or burst from about 250 psi on, and engines relieve far lower.
    "oil_filter_pressure": Limit("150 psi", "pressure_difference", "highest pressure in an engine oil filter"),
    # Push-on hose for oil is sold for 250 psi; crimped and braided hose for several times that.
    "oil_line_pressure": Limit("250 psi", "pressure_difference", "highest pressure in engine oil hose and coolers"),
    "oil_consumer_share": Limit("25 %", "fraction", "least share of an oil pump's flow that reaches the engine"),
    "oil_pressure_floor": Limit("5 psi", "pressure_difference", "least engine oil pressure at any speed; about where a warning lamp lights"),
    "oil_pressure_per_1000_rpm": Limit("10 psi", "pressure_difference", "least engine oil pressure for each 1000 rpm"),
    "oil_pressure_enough": Limit("50 psi", "pressure_difference", "engine oil pressure that is enough however fast the engine turns"),
    # Sump or main gallery: 180 to 220 F on the road, 230 to 260 F on a track, trouble from 275 F.
    "oil_temperature_least": Limit("180 F", "temperature", "coolest engine oil in steady running that gets rid of water and fuel"),
    "oil_temperature_road": Limit("220 F", "temperature", "hottest engine oil in sump or gallery on the road"),
    "oil_temperature_track": Limit("260 F", "temperature", "hottest engine oil in sump or gallery on a track"),
    "oil_temperature_alarm": Limit("275 F", "temperature", "engine oil in sump or gallery that no engine should be driven with"),
    "transmission_temperature_least": Limit("140 F", "temperature", "coolest transmission fluid in steady running that shifts and locks up as it should"),
    "transmission_temperature": Limit("220 F", "temperature", "hottest transmission fluid at its pump"),
    "transmission_temperature_alarm": Limit("260 F", "temperature", "transmission fluid at its pump that is spoilt within hours"),
    "hydraulic_temperature": Limit("180 F", "temperature", "hottest hydraulic fluid at its pump"),
    "coolant_boiling_margin": Limit("10 K", "temperature_difference", "least distance of coolant or water from boiling, at its pressure there"),
    "line_heat_share": Limit("20 %", "fraction", "share of all heat put into a liquid that its lines take up from hot air", "judgement, no source"),
    "oil_inlet_stop": Limit("20 inHg vacuum", "pressure_gauge", "vacuum at an oil pump's inlet from which hardly any oil follows"),
}

# What is judged -> family of liquid -> limit. A family that is not named has no limit that we know of, and is not judged.
BY_FAMILY = {
    "inlet_vacuum": {"fuel": "inlet_vacuum", "oil": "oil_inlet_vacuum", "plain oil": "oil_inlet_vacuum", "hydraulic": "oil_inlet_vacuum"},
    "suction_velocity": {"fuel": "suction_velocity", "oil": "oil_suction_velocity", "plain oil": "oil_suction_velocity",
                         "hydraulic": "hydraulic_suction_velocity",
                         "coolant": "coolant_feed_velocity", "water": "coolant_feed_velocity"},
    "return_velocity": {"fuel": "return_velocity", "hydraulic": "hydraulic_return_velocity"},
    "feed_velocity": {"fuel": "feed_velocity", "oil": "oil_feed_velocity", "hydraulic": "hydraulic_feed_velocity",
                      "coolant": "coolant_feed_velocity", "water": "coolant_feed_velocity"},
}


# Family of liquid -> limit on static pressure -> what it is for. Hydraulic hose is rated from hundreds to thousands of psi: not judged.
CEILINGS = {
    "fuel": {"fuel_line_pressure": "hose or filter"},
    "oil": {"oil_filter_pressure": "filter", "oil_line_pressure": "hose or cooler"},
}


# Family of a liquid -> the one whose limits it shares. Gear oil, and oil of which nobody said what it is for, share some with engine oil.
_SHARES = {"transmission fluid": "hydraulic", "hydraulic fluid": "hydraulic", "gear oil": "plain oil", "other oil": "plain oil"}


def _family(layout: Layout) -> str:
    return _SHARES.get(layout.family, layout.family)


# Family of liquid -> (limit on its temperature, severity beyond it), rising.
TEMPERATURES = {
    "oil": (("oil_temperature_road", "watch"), ("oil_temperature_track", "fix"), ("oil_temperature_alarm", "stop")),
    "transmission fluid": (("transmission_temperature", "watch"), ("transmission_temperature_alarm", "stop")),
    "hydraulic fluid": (("hydraulic_temperature", "watch"),),
}
# Family of liquid -> limit under which it runs too cool.
LEAST = {"oil": "oil_temperature_least", "transmission fluid": "transmission_temperature_least"}


def least_temperature_for(layout: Layout) -> str | None:
    """Name of the limit under which a circuit's liquid runs too cool, or None where none is known."""
    return LEAST.get(layout.family)


def temperatures_for(layout: Layout) -> tuple[tuple[str, str], ...]:
    """Limits on the temperature of a circuit's liquid, each with its severity; none where none is known."""
    return TEMPERATURES.get(layout.family, ())


_HOTTEST_COOLANT = Quantity(393.15, "temperature")  # 120 C: coolant under the usual cap boils soon after (judgement, no source)


def hottest_for(layout: Layout, limits: Limits) -> Quantity | None:
    """The temperature at which a circuit's liquid is at its end, as a `Quantity`; None where none is known."""
    names = temperatures_for(layout)
    return getattr(limits, names[-1][0]) if len(names) > 1 else _HOTTEST_COOLANT if layout.family in ("coolant", "water") else None


def limit_for(layout: Layout, judged: str) -> str | None:
    """Name of the limit for a circuit's liquid, or None where none is known."""
    return BY_FAMILY[judged].get(_family(layout))


def ceilings_for(layout: Layout) -> dict[str, str]:
    """Name of each limit on pressure for a circuit's liquid, and what parts it is for."""
    return CEILINGS.get(_family(layout), {})


def is_engine_oil(layout: Layout) -> bool:
    """True for oil of an SAE engine grade, or that is called engine oil."""
    return _family(layout) == "oil"


def is_oil(layout: Layout) -> bool:
    """True for oil of any use."""
    return _family(layout) in ("oil", "plain oil", "hydraulic")


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

    if TYPE_CHECKING:
        def __getattr__(self, name: str) -> Quantity: ...  # one for each of `LIMITS`

    def __init__(self, **changes: str) -> None:
        for name in changes:
            if name not in LIMITS:
                from difflib import get_close_matches

                close = get_close_matches(name, LIMITS, n=1)
                hint = f"did you mean '{close[0]}'?" if close else "the limits are " + ", ".join(LIMITS)
                raise ValueError(f"no limit '{name}': {hint}")
        self._changed = frozenset(changes)
        for name, limit in LIMITS.items():
            try:
                setattr(self, name, _usable(name, changes.get(name, limit.preset), limit))
            except UnitError as error:
                raise said_of(error, "Limits") from None

    def source(self, name: str) -> str:
        """Where a limit comes from."""
        return "set by you" if name in self._changed else LIMITS[name].source

    def __repr__(self) -> str:
        return "\n".join(f"{name:<24} {getattr(self, name)!s:<18} {limit.meaning} ({self.source(name)})"
                         for name, limit in LIMITS.items())


def _usable(name: str, written: str, limit: Limit) -> Quantity:
    """A limit as a `Quantity`. How far something is beyond it is told as a share of it, so it may not be nothing."""
    found = Quantity.of(written, limit.kind, name=name)
    if found.si == 0.0 or (found.si < 0.0 and limit.kind != "pressure_gauge"):
        raise UnitError(name, written, f"limit '{name}' is {quoted(written)}, which nothing can be measured against",
                        f"give a small one where all is to be told, e.g. {_SMALL[limit.kind]!r}; it is usually {limit.preset!r}")
    return found


_SMALL = {"pressure_difference": "0.01 psi", "pressure_gauge": "0.01 inHg vacuum", "velocity": "0.01 m/s", "fraction": "0.1 %",
          "dimensionless": "0.01", "temperature": "100 F", "temperature_difference": "1 K"}
