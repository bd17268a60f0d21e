"""A circuit whose temperatures are found, as one unreduced system: pressures and temperatures of places, flows and mean temperatures of parts.

The balance is that of docs/theory/heat_transfer.md, "The balance of a circuit". SciPy's root finder begins at the judge's own isothermal root and one
level temperature; the engine's answer is never looked at.
"""

from typing import NamedTuple

import numpy as np
from scipy.optimize import root

from judge_heat_laws import Core, Oil, cross_flow, cross_flow_by_library, nusselt, nusselt_by_library
from judge_laws import LAWS
from judge_library import LIBRARY_LAWS
from judge_system import GRAVITY, PRESSURE, System, solve

KELVINS = 10.0  # what temperatures are counted in


class HeatFound(NamedTuple):
    """Gauge pressures [Pa], flows [kg/s], temperatures of places [K], heat of coolers from the liquid [W], their Reynolds numbers."""

    pressures: dict
    flows: dict
    temperatures: dict
    heats: dict
    reynolds: dict
    how: str


class HeatSystem:
    """`air(kelvin)` gives density and specific heat of the air."""

    def __init__(self, described, air, by_library=False):
        self.d, self.oil = described, Oil(**described.oil)
        self.laws = LIBRARY_LAWS if by_library else LAWS
        judges = (cross_flow_by_library, nusselt_by_library) if by_library else (cross_flow, nusselt)
        self.flat = System(described.plumbing, self.laws)
        self.places, self.free, self.flow = described.plumbing.places, self.flat.free, self.flat.flow
        self.warm = self.free + ([] if described.sump else ["sump"])
        self.parts = described.plumbing.parts
        density, specific_heat = air(described.air)
        speed = (described.fan**2 + 0.1**2) ** 0.5
        self.cores, self.blown = {}, {}
        for part in self.parts:
            if part.kind == "core":
                self.cores[part.name] = Core(part.numbers, self.oil, air(part.numbers["rated_air"]), *judges)
                self.blown[part.name] = (density * speed, density * speed * part.numbers["face_area"] * specific_heat)

    def split(self, x):
        """Gauge pressures, flows, temperatures of places, mean temperatures of parts."""
        n, m, t = len(self.free), len(self.parts), len(self.warm)
        # A tank holds the weight of its liquid at the temperature that it has.
        temperatures = dict(zip(self.warm, x[n + m:n + m + t] * KELVINS))
        if self.d.sump:
            temperatures["sump"] = self.d.sump
        pressures = dict(zip(self.free, x[:n] * PRESSURE))
        pressures["sump"] = self.oil.density(temperatures["sump"]) * GRAVITY * self.places["sump"]["level"]
        return pressures, x[n:n + m] * self.flow, temperatures, x[n + m + t:] * KELVINS

    def residuals(self, x):
        oil, (p, q, t, means) = self.oil, self.split(x)
        laws, mean_rows = [], []
        mass, energy = dict.fromkeys(self.places, 0.0), dict.fromkeys(self.places, 0.0)
        for part, flow, mean in zip(self.parts, q, means):
            law = self.laws[part.kind](part.numbers, oil.state(mean))
            laws.append(law.mismatch((p[part.start], p[part.end]), (flow,))[0] / PRESSURE)
            mass[part.start] -= flow
            mass[part.end] += flow
            up, down = (part.start, part.end) if flow > 0 else (part.end, part.start)
            size, inlet = max(abs(flow), 1e-9 * self.flow), t[up]
            taken, share, said = self._taken(part, size, inlet, mean)
            stored = 0.0 if said is None else self._stored(size, inlet, mean, said, p[down])
            power = 0.0
            if part.kind == "positive displacement pump":
                power = max(flow * (p[part.end] - p[part.start]), 0.0) / (oil.density(mean) * self.d.efficiency)
            cp = oil.specific_heat(inlet)
            if said is not None:
                cp += 0.5 / max(share, 0.5) * (oil.specific_heat(mean) - cp)
            rise = ((taken + power) / size + oil.per_pressure(inlet) * (p[up] - p[down])) / cp
            mean_rows.append((inlet + share * rise - mean) / KELVINS)
            energy[down] += size * (oil.enthalpy(inlet, p[up]) - oil.enthalpy(t[down], p[down])) + taken + stored + power
        energy["sump"] += self.d.heat + self.d.loss * (self.d.air - t["sump"])
        scale = self.flow * 2000.0 * KELVINS
        return np.array([*laws, *(mass[name] / self.flow for name in self.free), *(energy[name] / scale for name in self.warm), *mean_rows])

    def _taken(self, part, flow, inlet, mean):
        """Heat into the stream by its wall [W], its mean share, and what the law says at one specific heat (None without a law)."""
        if part.name not in self.cores:
            return 0.0, 0.5, None
        per_degree, share = self.cores[part.name].per_degree(flow, mean, self.blown[part.name])
        said = per_degree * (self.d.air - inlet)
        leaving = inlet + said / (flow * self.oil.specific_heat(mean))
        return flow * (self.oil.enthalpy(leaving, 0.0) - self.oil.enthalpy(inlet, 0.0)), share, said

    def _stored(self, flow, inlet, mean, said, gauge):
        """What the stream takes up more because it leaves under pressure [W]."""
        leaving = inlet + said / (flow * self.oil.specific_heat(mean))
        return flow * gauge * (self.oil.per_pressure(leaving) - self.oil.per_pressure(inlet))

    def start(self, kelvin):
        """The isothermal root at one temperature, everything as warm as that."""
        plumbing = self.d.plumbing._replace(fluid=self.oil.state(kelvin))
        found = solve(plumbing, self.laws)
        if found is None:
            return None
        return np.array([*(found.pressures[name] / PRESSURE for name in self.free), *(found.flows[part.name][0] / self.flow for part in self.parts),
                         *([kelvin / KELVINS] * (len(self.warm) + len(self.parts)))])

    def slopes(self, x):
        columns = []
        for i in range(len(x)):
            step = 1e-6 * max(abs(x[i]), 1e-3)
            above, below = x.copy(), x.copy()
            above[i] += step
            below[i] -= step
            columns.append((self.residuals(above) - self.residuals(below)) / (2 * step))
        return np.array(columns).T

    def is_root(self, pressures, flows, temperatures, bound=1e-6):
        """Whether an answer solves these equations: with its mean temperatures found, Newton's step from it moves next to nothing."""
        k = len(self.parts)
        inlets = [temperatures[part.start if flows[part.name] > 0 else part.end] / KELVINS for part in self.parts]
        x = np.array([*(pressures[name] / PRESSURE for name in self.free), *(flows[part.name] / self.flow for part in self.parts),
                      *(temperatures[name] / KELVINS for name in self.warm), *inlets])
        for _ in range(30):
            x[-k:] -= np.linalg.solve(self.slopes(x)[-k:, -k:], self.residuals(x)[-k:])
        step = np.linalg.solve(self.slopes(x), self.residuals(x))
        return bool(np.max(np.abs(step)) < bound * np.max(np.abs(x)))

    def polished(self, x, how):
        for _ in range(8):
            step = -np.linalg.solve(self.slopes(x), self.residuals(x))
            if not np.all(np.isfinite(step)) or np.max(np.abs(step)) > 20:
                return None
            x = x + step
            if np.max(np.abs(step)) < 1e-11 * np.max(np.abs(x)):
                break
        return self.found(x, how) if np.max(np.abs(step)) < 1e-8 * np.max(np.abs(x)) else None

    def found(self, x, how):
        p, q, t, means = self.split(x)
        heats, reynolds = {}, {}
        for part, flow, mean in zip(self.parts, q, means):
            if part.kind == "core":
                up, down = (part.start, part.end) if flow > 0 else (part.end, part.start)
                taken, _, said = self._taken(part, abs(flow), t[up], mean)
                heats[part.name] = -taken - self._stored(abs(flow), t[up], mean, said, p[down])
                reynolds[part.name] = 4 * abs(flow) * part.numbers["passage_length"] / (part.numbers["inside_area"] * self.oil.viscosity(mean))
        return HeatFound(p, {part.name: (float(flow),) for part, flow in zip(self.parts, q)}, t, heats, reynolds, how)


def solve_heat(described, air, by_library=False):
    """A root of the whole, or None: from several level temperatures, by SciPy's hybr and lm."""
    system = HeatSystem(described, air, by_library)
    for method in ("hybr", "lm"):
        for kelvin in (353.15, 320.0, 390.0, 300.0, 410.0):
            try:
                start = system.start(kelvin)
                if start is None:
                    continue
                with np.errstate(all="ignore"):
                    end = root(system.residuals, start, method=method, tol=1e-12).x
                found = system.polished(end, f"{method} from {kelvin:.0f} K")
            except (OverflowError, ValueError, ZeroDivisionError, TypeError, np.linalg.LinAlgError):
                continue
            if found is not None:
                return found
    return None
