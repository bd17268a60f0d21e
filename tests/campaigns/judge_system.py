"""A circuit's equations as a whole, unreduced, and SciPy's root finders on them from the judge's own starts.

Unknown are the gauge pressure of every free place and every flow of every part; the equations are every part's law and every free place's
mass balance (docs/theory/shapes.md, "What a circuit adds up"). Nothing here comes from the engine, its answer least of all.
"""

from math import pi
from statistics import median
from typing import NamedTuple

import numpy as np
from scipy.optimize import root

from judge_basics import Law
from judge_laws import LAWS

GRAVITY = 9.80665
PRESSURE = 1e5  # [Pa], what pressures are counted in
MOUTHS = {"line": ("bore", "bore"), "three-k fitting": ("bore", "bore"), "two-k fitting": ("bore", "bore"), "size step": ("inlet_bore", "outlet_bore")}
STANDING_IN = 0.78  # entrance loss of a mouth that nobody wrote


class Element(NamedTuple):
    """A part in the system: its law, the places it goes by, what their heights add [Pa], its flows, and how flows leave and enter places."""

    part: object
    law: Law
    places: tuple
    lifts: tuple
    first: int
    ways: tuple  # (place, flow, sign)


class Found(NamedTuple):
    """A root: gauge pressures of places [Pa], flows of parts [kg/s] (all that pass it, or a tee's two), how it was found, how good it is."""

    pressures: dict
    flows: dict
    how: str
    closing: float


def with_mouths(part, places, laws, fluid):
    """The law of a part, with the mouth that stands where a line, fitting or step begins or ends in a tank (docs/guide/circuits.md)."""
    law = laws[part.kind](part.numbers, fluid)
    for kind, end, place in (("opening", 0, part.start), ("return opening", 1, part.end)):
        if part.kind in MOUTHS and places[place]["kind"] == "tank":
            mouth = laws[kind]({"bore": part.numbers[MOUTHS[part.kind][end]], "entrance_loss": STANDING_IN}, fluid)
            law = _in_series(law, mouth)
    return law


def _in_series(law, more):
    return Law(lambda p, q: (law.mismatch(p, q)[0] + more.mismatch((0.0, 0.0), q)[0],), 1, law.dry)


class System:
    """Equations of one plumbing under a set of laws."""

    def __init__(self, plumbing, laws=LAWS, soft=0.0):
        self.plumbing, self.fluid = plumbing, plumbing.fluid
        places = plumbing.places
        self.free = [name for name, place in places.items() if place["kind"] == "junction"]
        self.index = {name: i for i, name in enumerate(self.free)}
        self.held = {name: self._held(place) for name, place in places.items() if place["kind"] != "junction"}
        self.flow = self.flow_scale(plumbing)
        self.elements, count = [], len(self.free)
        for part in plumbing.parts:
            part = part._replace(numbers=softened(part, soft, self.flow, self.fluid)) if soft else part
            law = with_mouths(part, places, laws, self.fluid)
            seen = [part.start, part.end] + [part.numbers[key] for key in ("branch", "sensed", "reference") if key in part.numbers]
            base = places[part.start]["elevation"]
            lifts = [0.0 if i in law.dry else self.fluid["density"] * GRAVITY * (places[name]["elevation"] - base) for i, name in enumerate(seen)]
            ways = [(part.start, flow, -1.0) for flow in range(law.flows)]
            ways += [(part.numbers["branch"] if part.kind == "tee" and flow == 1 else part.end, flow, 1.0) for flow in range(law.flows)]
            self.elements.append(Element(part, law, tuple(seen), tuple(lifts), count, tuple(ways)))
            count += law.flows
        self.size = count
        self.balances = np.zeros((len(self.free), count))
        for element in self.elements:
            for place, flow, sign in element.ways:
                if place in self.index:
                    self.balances[self.index[place], element.first + flow] += sign
        self.drawn = np.array([places[name]["demand"] for name in self.free]) / self.flow

    def _held(self, place):
        if place["kind"] == "tank":
            return place["vent_gauge"] + self.fluid["density"] * GRAVITY * place["level"]
        return place["gauge"]

    @staticmethod
    def flow_scale(plumbing):
        """A middling mass flow of the circuit: 1.5 m/s in its bores, else 10 g/s."""
        bores = [part.numbers[key] for part in plumbing.parts for key in ("bore", "inlet_bore") if part.kind in MOUTHS and key in part.numbers]
        return median(plumbing.fluid["density"] * 0.25 * pi * bore**2 * 1.5 for bore in bores) if bores else 0.01

    def pressure_at(self, name, x):
        return x[self.index[name]] * PRESSURE if name in self.index else self.held[name]

    def _mismatch(self, element, x):
        p = [self.pressure_at(name, x) + lift for name, lift in zip(element.places, element.lifts)]
        q = [value * self.flow for value in x[element.first:element.first + element.law.flows]]
        return p, q, element.law.mismatch(p, q)

    def residuals(self, x):
        """Of laws in units of 1 bar, then of balances in the middling flow."""
        laws = [value / PRESSURE for element in self.elements for value in self._mismatch(element, x)[2]]
        return np.array([*laws, *(self.balances @ x - self.drawn)])

    def slopes(self, x):
        """Jacobian, of each law by differences in its own few arguments."""
        matrix = np.zeros((self.size, self.size))
        row = 0
        for element in self.elements:
            p, q, _ = self._mismatch(element, x)
            rows = slice(row, row + element.law.flows)
            for i, name in enumerate(element.places):
                if name in self.index:
                    step = 1e-6 * max(abs(p[i]), 1e3)
                    matrix[rows, self.index[name]] += self._difference(lambda v: element.law.mismatch([*p[:i], v, *p[i + 1:]], q), p[i], step)
            for j in range(element.law.flows):
                step = 1e-6 * max(abs(q[j]), 1e-6 * self.flow)
                by_flow = self._difference(lambda v: element.law.mismatch(p, [*q[:j], v, *q[j + 1:]]), q[j], step)
                matrix[rows, element.first + j] += by_flow * self.flow / PRESSURE
            row += element.law.flows
        matrix[row:] = self.balances
        return matrix

    @staticmethod
    def _difference(function, at, step):
        return (np.array(function(at + step)) - np.array(function(at - step))) / (2 * step)

    def closing(self, x):
        """The step that Newton would still take from `x`: nothing at a root."""
        matrix, residuals = self.slopes(x), self.residuals(x)
        try:
            return -np.linalg.solve(matrix, residuals)
        except np.linalg.LinAlgError:
            return np.full(self.size, np.inf)

    def pack(self, pressures, flows):
        """Unknowns of an answer by names; flows as in `Found`."""
        x = np.zeros(self.size)
        for name, i in self.index.items():
            x[i] = pressures[name] / PRESSURE
        for element in self.elements:
            for j, value in enumerate(flows[element.part.name]):
                x[element.first + j] = value / self.flow
        return x

    def found(self, x, how, closing):
        pressures = {name: float(x[i] * PRESSURE) for name, i in self.index.items()}
        flows = {e.part.name: tuple(float(v * self.flow) for v in x[e.first:e.first + e.law.flows]) for e in self.elements}
        return Found(pressures, flows, how, closing)


def softened(part, soft, flow, fluid):
    """Numbers of a device made milder by `soft`, 0 to 1, for continuation: what is shut leaks, what is stiff gives."""
    n = dict(part.numbers)

    def towards(key, mild, preset=None):
        n[key] = n.get(key, preset) ** (1 - soft) * mild**soft

    if part.kind in ("relief valve", "bypass regulator", "reducing regulator", "filter with bypass"):
        towards("leak", 0.7, 1e-4)
        band = "bypass_band" if part.kind == "filter with bypass" else "band"
        n[band] *= 10.0**soft
    elif part.kind == "check valve":
        towards("seepage_resistance", max(1e5 * fluid["density"] / flow, 1e7), 1e13)
    elif part.kind == "valve":
        towards("leak", 0.5)
    elif part.kind == "injector bank":
        n["duty"] = max(n["duty"], 0.5 * soft)
    elif part.kind == "positive displacement pump":
        n["rated_efficiency"] *= 1 - 0.6 * soft
    return n


def middling_start(system):
    """Pressures and flows of a network of straight lines: each law by its chord from rest to the middling flow."""
    rows, right, row = np.zeros((system.size, system.size)), np.zeros(system.size), 0
    for element in system.elements:
        flows = element.law.flows
        for j in range(flows):
            unit = [system.flow if k == j else 0.0 for k in range(flows)]
            level = [0.0] * len(element.places)
            rest, moving = element.law.mismatch(level, [0.0] * flows)[j], element.law.mismatch(level, unit)[j]
            pushed = list(level)
            other = 2 if j == 1 and element.part.kind == "tee" else 1
            pushed[0], lower = 1e5, element.places[other]
            opening = max((element.law.mismatch(pushed, [0.0] * flows)[j] - rest) / 1e5, 1e-3)
            for place, sign, lift in ((element.places[0], 1.0, 0.0), (lower, -1.0, element.lifts[other])):
                if place in system.index:
                    rows[row, system.index[place]] += sign * opening
                    right[row] -= sign * opening * lift / PRESSURE
                else:
                    right[row] -= sign * opening * (system.held[place] + lift) / PRESSURE
            rows[row, element.first + j] = min((moving - rest) / PRESSURE, -1e-9)
            right[row] -= rest / PRESSURE
            row += 1
    rows[row:], right[row:] = system.balances, system.drawn
    return np.linalg.lstsq(rows, right, rcond=None)[0]


def polished(system, x, how):
    """The root near `x`, by a few plain Newton steps, or None when there is none."""
    step = system.closing(x)
    for _ in range(12):
        size = float(np.max(np.abs(step)))
        if not np.isfinite(size) or size > 1e4:
            return None
        x = x + step
        step = system.closing(x)
        if float(np.max(np.abs(step))) < 1e-11 * (1.0 + float(np.max(np.abs(x)))):
            break
    size = float(np.max(np.abs(step))) / (1.0 + float(np.max(np.abs(x))))
    return system.found(x, how, size) if size < 1e-8 else None


def root_from(system, x, method):
    """Where SciPy's root finder ends from `x`, rows scaled by their slopes there."""
    weight = 1.0 / np.maximum(np.abs(system.slopes(x)).sum(axis=1), 1e-12)
    options = {"maxfev": 400} if method == "hybr" else {"maxiter": 300}
    with np.errstate(all="ignore"):
        return root(lambda v: system.residuals(v) * weight, x, jac=lambda v: system.slopes(v) * weight[:, None], method=method, tol=1e-12, options=options).x


def solve(plumbing, laws=LAWS):
    """A root of the plumbing's equations by the judge's own ways, or None."""
    system = System(plumbing, laws)
    start = middling_start(system)
    for method in ("hybr", "lm"):
        try:
            found = polished(system, root_from(system, start, method), method)
        except (OverflowError, ValueError, ZeroDivisionError, np.linalg.LinAlgError):
            found = None
        if found:
            return found
    return continued(plumbing, laws)


def continued(plumbing, laws, steps=40):
    """From milder devices to the true ones, each root the start of the next."""
    mild = System(plumbing, laws, 1.0)
    x, soft, stride = middling_start(mild), 1.0, 0.25
    for method in ("hybr", "lm"):
        first = _try(mild, x, method)
        if first is not None:
            x = first
            break
    else:
        return None
    for _ in range(steps):
        wanted = max(soft - stride, 0.0)
        system = System(plumbing, laws, wanted)
        newer = _try(system, x, "hybr")
        if newer is None:
            newer = _try(system, x, "lm")
        if newer is None:
            stride *= 0.4
            if stride < 1e-3:
                return None
            continue
        x, soft, stride = newer, wanted, stride * 1.5
        if soft == 0.0:
            return polished(system, x, "continuation")
    return None


def _try(system, x, method):
    try:
        found = polished(system, root_from(system, x, method), method)
    except (OverflowError, ValueError, ZeroDivisionError, np.linalg.LinAlgError):
        return None
    return None if found is None else system.pack(found.pressures, found.flows)
