"""Heat that a hose or tube gives to its air, by the open libraries `ht` and CoolProp alone: nothing of the engine's laws is asked.

The line is cut into steps by SciPy's integrator. At each the outside's temperature is the root of

    (T - T_outside) / (film inside + layers) = pi d (h_air + h_glow) (T_outside - T_air)        [W/m]

and the stream loses that much per metre, and gains what its friction turns into heat. Layers are those that docs/parts/line_wall.md gives as usual.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache
from typing import NamedTuple

import ht
import numpy as np
from CoolProp import CoolProp as props
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

ICE = 273.15
GRAVITY = 9.80665


class Liquid(NamedTuple):
    """Properties in SI, each a function of kelvin."""

    density: Callable[[float], float]
    viscosity: Callable[[float], float]
    specific_heat: Callable[[float], float]
    conductivity: Callable[[float], float]
    expansion: Callable[[float], float]


class Line(NamedTuple):
    """Bore, layers (thickness, conductivity) from the inside out, emissivity, length: SI."""

    bore: float
    layers: tuple[tuple[float, float], ...]
    emissivity: float
    length: float

    @property
    def outside(self) -> float:
        return self.bore + 2.0 * sum(thickness for thickness, _ in self.layers)


class Air(NamedTuple):
    """Temperature [K], speed across the line [m/s], pressure [Pa]."""

    kelvin: float
    speed: float
    pressure: float = 101325.0


class Found(NamedTuple):
    """Heat from the stream [W], its outlet temperature [K]."""

    heat: float
    outlet: float


def water() -> Liquid:
    """CoolProp: the reference equation of state of water, at 3 bar, where it stays liquid."""
    return Liquid(*(_rows(letter, "Water", 3e5, 274.0, 400.0) for letter in ("D", "V", "C", "L", "isobaric_expansion_coefficient")))


@cache
def _rows(letter: str, name: str, pressure: float, least: float, most: float) -> Callable[[float], float]:
    """A property of CoolProp over kelvin: straight between rows 1 K apart, which is some 1e-5 of it; a march asks thousands of times."""
    kelvins = np.arange(least, most, 1.0)
    values = props.PropsSI(letter, "T", kelvins, "P", pressure, name)
    return lambda kelvin: float(np.interp(kelvin, kelvins, values, left=math.nan, right=math.nan))


# ---- films outside ---------------------------------------------------------------------------------------------

def still(diameter: float, surface: float, air: Air) -> float:
    """Churchill and Chu 1975, ht.Nu_horizontal_cylinder_Churchill_Chu [W/(m2 K)]."""
    return _rising(ht.conv_free_immersed.Nu_horizontal_cylinder_Churchill_Chu, diameter, surface, air)


def still_by_morgan(diameter: float, surface: float, air: Air) -> float:
    """Morgan 1975, ht.Nu_horizontal_cylinder_Morgan [W/(m2 K)]."""
    return _rising(ht.conv_free_immersed.Nu_horizontal_cylinder_Morgan, diameter, surface, air)


def _rising(law: Callable[..., float], diameter: float, surface: float, air: Air) -> float:
    viscosity, conductivity, prandtl, film = _air_at(surface, air)
    grashof = GRAVITY / film * abs(surface - air.kelvin) * diameter**3 / viscosity**2
    return float(law(Pr=prandtl, Gr=max(grashof, 1e-9))) * conductivity / diameter


def wind(diameter: float, surface: float, air: Air) -> float:
    """Churchill and Bernstein 1977, ht.Nu_cylinder_Churchill_Bernstein [W/(m2 K)]."""
    return _blown(ht.conv_external.Nu_cylinder_Churchill_Bernstein, diameter, surface, air)


def wind_by_whitaker(diameter: float, surface: float, air: Air) -> float:
    """Whitaker 1972, ht.Nu_cylinder_Whitaker [W/(m2 K)]."""
    return _blown(ht.conv_external.Nu_cylinder_Whitaker, diameter, surface, air)


def _blown(law: Callable[..., float], diameter: float, surface: float, air: Air) -> float:
    viscosity, conductivity, prandtl, _ = _air_at(surface, air)
    return float(law(Re=air.speed * diameter / viscosity, Pr=prandtl)) * conductivity / diameter


def _air_at(surface: float, air: Air) -> tuple[float, float, float, float]:
    """Kinematic viscosity, conductivity, Prandtl number of dry air half way between surface and air (CoolProp), and that temperature."""
    film = 0.5 * (surface + air.kelvin)
    density, viscosity, conductivity, heat = (_rows(one, "Air", air.pressure, 220.0, 480.0)(film) for one in "DVLC")
    return viscosity / density, conductivity, viscosity * heat / conductivity, film


def together(diameter: float, surface: float, air: Air) -> float:
    """Wind and rising air by their fourth powers (Incropera, section 9.9, from memory), as docs/theory/heat_transfer.md says."""
    rising = still(diameter, surface, air)
    return rising if air.speed == 0.0 else (rising**4 + wind(diameter, surface, air) ** 4) ** 0.25


def by_others(diameter: float, surface: float, air: Air) -> float:
    """Other published laws of the same films: the larger of wind and rising air, as handbooks advise."""
    rising = still_by_morgan(diameter, surface, air)
    return rising if air.speed == 0.0 else max(rising, wind_by_whitaker(diameter, surface, air))


# ---- the line --------------------------------------------------------------------------------------------------

def nusselt_inside(reynolds: float, prandtl: float, bore_over_length: float) -> float:
    """Hausen 1943 up to Re 2300, Gnielinski 1976 from 4000 with Petukhov's smooth friction (ht), in between the page's weight."""
    slow = ht.conv_internal.laminar_entry_thermal_Hausen(Re=reynolds, Pr=prandtl, L=1.0, Di=bore_over_length)
    if reynolds <= 2300.0:
        return float(slow)
    friction = (0.790 * math.log(reynolds) - 1.64) ** -2
    quick = ht.conv_internal.turbulent_Gnielinski(Re=reynolds, Pr=prandtl, fd=friction) * (1.0 + bore_over_length ** (2 / 3))
    x = min((reynolds - 2300.0) / 1700.0, 1.0)
    return float(slow + x**3 * (10.0 - 15.0 * x + 6.0 * x * x) * (quick - slow))


def judged(line: Line, liquid: Liquid, mass_flow: float, inlet: float, air: Air, *, drop: float = 0.0, film=together) -> Found:
    """Marches along a line. `drop` [Pa] is its friction, which warms the stream."""
    layers, inner = 0.0, line.bore
    for thickness, conductivity in line.layers:
        layers += ht.conduction.R_cylinder(inner, inner + 2.0 * thickness, conductivity, 1.0)
        inner += 2.0 * thickness

    def lost(kelvin: float) -> float:
        """Heat from a metre [W/m]."""
        mu, k, cp = liquid.viscosity(kelvin), liquid.conductivity(kelvin), liquid.specific_heat(kelvin)
        reynolds = 4.0 * mass_flow / (math.pi * line.bore * mu)
        inside = 1.0 / (math.pi * k * nusselt_inside(reynolds, mu * cp / k, line.bore / line.length)) + layers

        def left(surface: float) -> float:
            glow = ht.radiation.q_rad(line.emissivity, surface, air.kelvin)
            given = math.pi * line.outside * (film(line.outside, surface, air) * (surface - air.kelvin) + glow)
            return (kelvin - surface) / inside - given

        low, high = sorted((kelvin, air.kelvin))
        surface = brentq(left, low + 1e-9, high - 1e-9, xtol=1e-7)
        return (kelvin - surface) / inside

    def along(_: float, state: list[float]) -> list[float]:
        kelvin = state[0]
        out = lost(kelvin)
        rubbed = drop / line.length * mass_flow / liquid.density(kelvin) * (1.0 - liquid.expansion(kelvin) * kelvin)
        return [(rubbed - out) / (mass_flow * liquid.specific_heat(kelvin)), out]

    end = solve_ivp(along, (0.0, line.length), [inlet, 0.0], rtol=1e-6, atol=1e-5).y[:, -1]
    return Found(float(end[1]), float(end[0]))
