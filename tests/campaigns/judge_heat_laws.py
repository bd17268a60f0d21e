"""Properties of an oil and the heat of an air core, from docs/theory/fluids.md, heat_transfer.md and docs/parts/air_core.md by another hand.

`Oil` is an oil by two viscosities, `Core` a cooler by its rating: heat per degree and where its liquid's mean lies. The same with `ht` for the
library's judge.
"""

from math import exp, log, log10, sqrt

import ht
from scipy.optimize import brentq

ZERO = 273.15
PER_WATER = 999.1  # [kg/m3], what relative densities are counted in


class Oil:
    """Viscosity by ASTM D341, density by D1250 (lubricants), specific heat and conductivity by Cragoe; temperatures in K."""

    def __init__(self, kv40, kv100, density):
        double_log = lambda centistokes: log10(log10(centistokes + 0.7))  # noqa: E731
        self.b = (double_log(kv40) - double_log(kv100)) / (log10(373.15) - log10(313.15))
        self.a = double_log(kv40) + self.b * log10(313.15)
        self.rho15, self.slope = density, 0.6278 / density
        self.d = density / PER_WATER

    def density(self, t):
        x = self.slope * (t - ZERO - 15.0)
        return self.rho15 * exp(-x * (1 + 0.8 * x))

    def expansion(self, t):
        return self.slope * (1 + 1.6 * self.slope * (t - ZERO - 15.0))

    def viscosity(self, t):
        return (10 ** (10 ** (self.a - self.b * log10(t))) - 0.7) * 1e-6 * self.density(t)

    def specific_heat(self, t):
        return (1684.8 + 3.391 * (t - ZERO)) / sqrt(self.d)

    def conductivity(self, t):
        return 0.1172 * (1 - 0.00054 * (t - ZERO)) / self.d

    def per_pressure(self, t):
        """Enthalpy per pressure [J/kg/Pa]."""
        return (1 - self.expansion(t) * t) / self.density(t)

    def enthalpy(self, t, gauge):
        warm = t - ZERO
        return warm * (1684.8 + 3.391 / 2 * warm) / sqrt(self.d) + self.per_pressure(t) * gauge

    def state(self, t):
        return {"density": self.density(t), "viscosity": self.viscosity(t)}


def cross_flow(ua, c1, c2):
    """Heat per inlet difference of cross flow, neither mixed: (C1 C2/UA) times the mean of the lesser of two Poisson numbers."""
    total, n = 0.0, 0
    px = x = exp(-ua / c1)
    py = y = exp(-ua / c2)
    while True:  # P(X ≥ n + 1) P(Y ≥ n + 1)
        more = max(1 - x, 0.0) * max(1 - y, 0.0)
        total += more
        n += 1
        if more < 1e-17 or n > 2000:
            return c1 * c2 / ua * total
        px *= ua / c1 / n
        py *= ua / c2 / n
        x, y = x + px, y + py


def cross_flow_by_library(ua, c1, c2):
    least, most = min(c1, c2), max(c1, c2)
    return least * ht.effectiveness_from_NTU(NTU=ua / least, Cr=least / most, subtype="crossflow")


def nusselt(re, pr, d_over_l):
    """Hausen, Gnielinski with Petukhov's friction, and the step between."""
    graetz = re * pr * d_over_l
    slow = 3.6568 + 0.0668 * graetz / (1 + 0.04 * graetz ** (2 / 3))
    if re <= 2300:
        return slow
    f = (0.790 * log(re) - 1.64) ** -2 / 8
    quick = f * (re - 1000) * pr / (1 + 12.7 * sqrt(f) * (pr ** (2 / 3) - 1)) * (1 + d_over_l ** (2 / 3))
    x = min((re - 2300) / 1700, 1.0)
    return slow + x**3 * (10 - 15 * x + 6 * x * x) * (quick - slow)


def nusselt_by_library(re, pr, d_over_l):
    if re <= 2300:
        return ht.laminar_entry_thermal_Hausen(Re=re, Pr=pr, L=1.0, Di=d_over_l)
    if re < 4000:
        return nusselt(re, pr, d_over_l)
    return ht.turbulent_Gnielinski(Re=re, Pr=pr, fd=(0.790 * log(re) - 1.64) ** -2) * (1 + d_over_l ** (2 / 3))


class Core:
    """A cooler with plain passages; `outside` is found such that it gives its rating back. Air: (density, specific heat)."""

    def __init__(self, n, oil, rated_air, exchange=cross_flow, film=nusselt):
        self.n, self.oil, self.exchange, self.film = n, oil, exchange, film
        inlet, flow = n["rated_inlet"], n["rated_flow"] * oil.density(n["rated_inlet"])
        blown = (rated_air[0] * n["rated_speed"], rated_air[0] * n["rated_speed"] * n["face_area"] * rated_air[1])
        self.outside = 1.0

        def short(log_outside):
            self.outside = exp(log_outside)
            mean = inlet
            for _ in range(100):
                heat, share = self.per_degree(flow, mean, blown)
                newer = inlet - share * heat * (inlet - n["rated_air"]) / (flow * oil.specific_heat(mean))
                if abs(newer - mean) < 1e-11:
                    break
                mean = newer
            return heat - n["heat_per_degree"]

        self.outside = exp(brentq(short, 0.0, 18.0, xtol=1e-13, rtol=1e-15))

    def per_degree(self, flow, mean, blown):
        """Heat per degree between both inlets [W/K], and the share of its way that the liquid's mean has made.

        `blown`: mass speed and heat capacity rate of the air.
        """
        n, oil = self.n, self.oil
        mu, k, cp = oil.viscosity(mean), oil.conductivity(mean), oil.specific_heat(mean)
        re = 4 * flow * n["passage_length"] / (n["inside_area"] * mu)
        film = self.film(re, mu * cp / k, n["passage_bore"] / n["passage_length"]) * k * n["inside_area"] / n["passage_bore"]
        outside = self.outside * (blown[0] / (1.204 * n["rated_speed"])) ** 0.6
        ua, c1, c2 = 1 / (1 / film + 1 / outside), flow * cp, blown[1]
        heat = self.exchange(ua, c1, c2)
        s1, s2 = heat / c1, heat / c2
        excess = 1 - heat / ua - 0.5 * (s1 + s2)
        return heat, 0.5 + excess * s1**2 / (s1**3 + s2**3 + 1e-12)
