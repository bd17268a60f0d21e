"""Heat of an oil circuit's hoses and cooler, in plain Python from the equations in the heat laws' documentation.

A law returns (heat into the stream [W], mean share): the stream's mean temperature is inlet + share·(outlet − inlet). `n` is the part's
numbers by field [SI], `flow` a magnitude [kg/s]; `mu`, `cp`, `k` are viscosity, specific heat and conductivity at the mean temperature.
"""

import math

import numpy as np
from oil_laws import smooth_step
from scipy.optimize import brentq
from scipy.special import gammainc

from flarenut import _core

STEFAN_BOLTZMANN = 5.670374419e-8
GRAVITY = 9.80665


def tube_nusselt(reynolds, prandtl, bore_over_length):
    """Hausen up to Re 2300, Gnielinski from 4000, joined between."""
    graetz = reynolds * prandtl * bore_over_length
    laminar = 3.6568 + 0.0668 * graetz / (1 + 0.04 * graetz ** (2 / 3))
    if reynolds <= 2300.0:
        return laminar
    eighth = (0.790 * math.log(reynolds) - 1.64) ** -2 / 8
    turbulent = (eighth * (reynolds - 1000) * prandtl / (1 + 12.7 * math.sqrt(eighth) * (prandtl ** (2 / 3) - 1))
                 * (1 + bore_over_length ** (2 / 3)))
    return laminar + smooth_step((reynolds - 2300) / 1700) * (turbulent - laminar)


def outer_film(surface, air, pressure, diameter, wind, emissivity):
    """G' [W/(m K)] of the outside of a line: wind, rising air, radiation."""
    state = _core.fluids.air_at((surface + air) / 2, pressure)
    nu, diffusivity = state.viscosity / state.density, state.conductivity / (state.density * state.specific_heat)
    prandtl = nu / diffusivity
    reynolds = wind * diameter / nu
    forced = 0.3 + (0.62 * reynolds / (reynolds ** 2 + 0.02 ** 2) ** 0.25 * prandtl ** (1 / 3) / (1 + (0.4 / prandtl) ** (2 / 3)) ** 0.25
                    * (1 + (reynolds / 282000) ** (5 / 8)) ** 0.8)
    rayleigh = GRAVITY * state.expansion * (surface - air) * diameter ** 3 / (nu * diffusivity)
    still = (0.60 + 0.387 * (rayleigh ** 2 + 1e-6) ** (1 / 12) / (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)) ** 2
    film = state.conductivity / diameter * (forced ** 4 + still ** 4) ** 0.25
    glow = emissivity * STEFAN_BOLTZMANN * (surface + air) * (surface ** 2 + air ** 2)
    return math.pi * diameter * (film + glow)


def line_wall(n, air, pressure, flow, inlet, mean, mu, cp, k):
    bore, length, air = n["bore"], n["length"], air + n["air_rise"]
    hose = bore + 2 * n["wall_thickness"]
    outside = hose + 2 * n["sleeve_thickness"]
    nusselt = tube_nusselt(4 * flow / (math.pi * bore * mu), mu * cp / k, bore / length if length > bore else 1.0)
    within = (1 / (math.pi * k * nusselt) + math.log(hose / bore) / (2 * math.pi * n["wall_conductivity"])
              + math.log(outside / hose) / (2 * math.pi * n["sleeve_conductivity"]))

    def film(surface):
        return outer_film(surface, air, pressure, outside, n["air_speed"], n["emissivity"])
    surface = mean
    if abs(mean - air) > 1e-9:
        surface = brentq(lambda t: film(t) * (t - air) - (mean - t) / within, min(mean, air), max(mean, air), xtol=1e-12, rtol=1e-14)
    conductance, rate = length / (within + 1 / film(surface)), flow * cp
    gone = -math.expm1(-conductance / rate)
    return rate * gone * (air - inlet), 1 / gone - rate / conductance


def cross_flow(conductance, first, second):
    """Heat per degree of inlet difference, neither stream mixed: the lesser of two Poisson numbers, by incomplete gamma functions."""
    small, large = min(first, second), max(first, second)
    a = conductance / small
    b = a * small / large
    counts = np.arange(1.0, 40.0 + 3 * (a + b))
    return small * float(np.sum(gammainc(counts, a) * gammainc(counts, b))) / b


def air_core(n, air, pressure, flow, inlet, mean, mu, cp, k):
    air = air + n["air_rise"]
    state = _core.fluids.air_at(air, pressure)
    speed = math.sqrt((n["ram_share"] * n["vehicle_speed"]) ** 2 + n["fan_speed"] ** 2 + n["still_speed"] ** 2)
    bore, length, area = n["passage_bore"], n["passage_length"], n["inside_area"]
    nusselt = tube_nusselt(4 * flow * length / (area * mu), mu * cp / k, bore / length if length > bore else 1.0)
    inside = n["enhancement"] * nusselt * k * area / bore
    outside = n["outside_conductance"] * (state.density * speed / (1.204 * n["reference_speed"])) ** n["speed_exponent"]
    conductance = 1 / (1 / inside + n["fouling"] / area + 1 / outside)
    rate, air_rate = flow * cp, state.density * speed * n["face_area"] * state.specific_heat
    moved = cross_flow(conductance, rate, air_rate)
    own, other = moved / rate, moved / air_rate
    excess = 1 - moved / conductance - (own + other) / 2  # 1 − σ1 s1 − σ2 s2 = K/UA, σ − ½ as the squares of the shares
    return moved * (air - inlet), 0.5 + excess * own ** 2 / (own ** 3 + other ** 3)


HEAT_LAWS = {"line wall": line_wall, "air core": air_core}
