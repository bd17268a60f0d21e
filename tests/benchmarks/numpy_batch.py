"""The same circuit for a whole block of scenarios at once: what vectorised NumPy can do, as a peer for the engine's batch.

Arrays are (parts, scenarios), so that every law is a handful of NumPy calls over all like parts and all scenarios. Newton
runs on the 19 pressures: lines, filters, pump and check valve keep their flow as in `peers` and give it up by their own
slope; injectors and regulator, whose law can be turned around by hand, state their flow outright. Rows that have
converged are taken out. The linear systems go to `np.linalg.solve`, all at once, or to an elimination written for the
pattern of this circuit, that does each operation on all scenarios.

Made for the file's ordinary ranges, where it converges for all of 100,000 random rows; of its extreme ranges it loses many.
"""

import math

import numpy as np
import peers
from numpy_systems import FROM, MANIFOLD, PLACE, TANK, TO
from peers import N, PARTS

IMPEDANCES = 20  # parts that keep their flow as an unknown: lines, filters, pump, check valve stand first in the file
LINES, FILTERS, INJECTORS = slice(0, 16), slice(16, 18), slice(20, 28)
PUMP, CHECK, REGULATOR = peers.PUMP, peers.CHECK, peers.REGULATOR
RETURNS = np.flatnonzero(peers.RETURNS)
LOG = 2.0 / math.log(10.0)
SEEP = 1e12 + peers.CHECK_VISCOUS
CRACK_CORNER = 0.1 * peers.CRACK
CRACK_LIFT = 0.25 * 0.01 * peers.CRACK
TOLERANCE = 1e-9

for _kind, _place in ((LINES, peers.LINES), (FILTERS, peers.FILTERS), (INJECTORS, peers.INJECTORS)):
    assert list(range(_kind.start, _kind.stop)) == _place.tolist()


def start_pattern():
    """(29, 9): flows that balance at every junction for a given pump flow and eight injector flows, split most evenly."""
    given = np.zeros((9, len(PARTS)))
    given[0, PUMP] = 1.0
    given[1:, INJECTORS] = np.eye(8)
    return np.linalg.pinv(np.vstack([peers.OUT, given]))[:, N:]


START = start_pattern()


class Block:
    """The scenarios of a block that have not converged yet."""

    def __init__(self, rows):
        count = len(rows)
        bore = np.repeat(peers.BORE[:, None], count, 1)
        bore[RETURNS] = rows[:, :2].T
        area = math.pi / 4 * bore ** 2
        viscous = peers.VISCOSITY / (2 * bore ** 2 * area)
        self.wall = viscous * peers.LENGTH[:, None]
        self.per_flow = peers.DENSITY * bore / (peers.VISCOSITY * area)
        self.rough = peers.ROUGHNESS[:, None] / (3.7 * bore)
        self.square = np.empty((IMPEDANCES, count))
        self.square[LINES] = peers.LOSS[:, None] * peers.DENSITY / (2 * area ** 2)
        self.square[FILTERS] = peers.FILTER_SQUARE[:, None]
        self.square[PUMP] = peers.PUMP_SQUARE
        self.square[CHECK] = 0.0
        self.volts = rows[:, 2] / peers.PUMP_VOLTS
        self.duty = np.ascontiguousarray(rows[:, 3:11].T)
        manifold = rows[:, 11]
        self.row = np.arange(count)
        self.start(manifold)

    def start(self, manifold):
        """Pump against the set pressure, injectors at their duty, the surplus through the regulator."""
        v, head = self.volts, peers.SET + manifold + 0.5 * peers.BAND
        injected = self.duty * math.sqrt(peers.SET / peers.INJECTOR_SQUARE)
        spare = np.maximum(peers.PUMP_RISE * v * v - 1.1 * head, 0.0)
        linear = peers.PUMP_LINEAR * v + peers.PUMP_FLOOR
        pumped = 2 * spare / (linear + np.sqrt(linear * linear + 4 * (peers.PUMP_SQUARE + peers.CHECK_SQUARE) * spare))
        pumped = np.maximum(pumped, injected.sum(0) + 1e-7)
        self.flow = START @ np.vstack([pumped, injected])
        self.pressure = np.empty((N + 2, len(manifold)))
        self.pressure[:N] = head
        self.pressure[[PLACE[name] for name in ("n0", "n1", "n17", "n18")]] = 0.0
        self.pressure[TANK], self.pressure[MANIFOLD] = 0.0, manifold
        opening = np.minimum(self.flow[REGULATOR] / (peers.WIDE_OPEN * np.sqrt(head)), 0.9)
        bands = opening / np.sqrt(1 - opening * opening)
        self.pressure[peers.SENSED] = peers.SET + manifold + bands * peers.BAND
        self.bands = bands
        reynolds = np.maximum(np.abs(self.flow[LINES]) * self.per_flow, 2000.0)
        self.root = -LOG * np.log(self.rough + 2.51 * 7.0 / reynolds)  # 1/√f, carried from one step to the next

    def keep(self, chosen):
        for name, values in vars(self).items():
            setattr(self, name, values[..., chosen])

    def friction(self, size):
        """f·Re and d(f·Re·Q)/dQ of all lines. One Newton step on Colebrook-White from the root before: both converge together."""
        reynolds = np.maximum(size * self.per_flow, 2000.0)
        b = 2.51 / reynolds
        inside = self.rough + b * self.root
        inner = LOG * b / inside
        self.root -= (self.root + LOG * np.log(inside)) / (1.0 + inner)
        turbulent = reynolds / (self.root * self.root)
        t = np.minimum(reynolds * (1 / 2000.0) - 1.0, 1.0)
        square = t * t
        weight = square * t * (10.0 + t * (6.0 * t - 15.0))
        excess = turbulent - 64.0
        value = 64.0 + weight * excess
        slope = square * (t - 1.0) ** 2 * reynolds * excess * (30 / 2000.0) + weight * turbulent * ((1.0 - inner) / (1.0 + inner))
        return value, value + slope

    def evaluate(self):
        """Residuals [Pa] and slopes of the parts that keep their flow; flows and conductances of the others."""
        q, p = self.flow[:IMPEDANCES], self.pressure
        size = np.abs(q)
        linear, slope = np.empty_like(q), np.empty_like(q)
        value, steep = self.friction(size[LINES])
        np.multiply(value, self.wall, out=linear[LINES])
        np.multiply(steep, self.wall, out=slope[LINES])
        linear[FILTERS] = slope[FILTERS] = peers.FILTER_LINEAR[:, None]
        linear[PUMP] = slope[PUMP] = peers.PUMP_LINEAR * self.volts + peers.PUMP_FLOOR
        linear[CHECK] = slope[CHECK] = 0.0
        grown = self.square * size
        residual = p[FROM[:IMPEDANCES]] - p[TO[:IMPEDANCES]] - (linear + grown) * q
        slope += 2.0 * grown
        residual[PUMP] += peers.PUMP_RISE * self.volts * self.volts
        self.check_valve(residual, slope)
        conductance = np.empty((len(PARTS) + 1, q.shape[1]))
        np.divide(1.0, slope, out=conductance[:IMPEDANCES])
        self.injectors(conductance)
        limited = self.regulator(conductance)
        return residual, conductance, limited

    def check_valve(self, residual, slope):
        q = self.flow[CHECK]
        positive = np.maximum(q, 0.0)
        forward = peers.CRACK - CRACK_LIFT + peers.CHECK_SQUARE * positive * positive + peers.CHECK_VISCOUS * q
        above = (forward - SEEP * q) / CRACK_CORNER
        root = np.sqrt(above * above + 1.0)
        forward_slope = 2 * peers.CHECK_SQUARE * positive + peers.CHECK_VISCOUS
        residual[CHECK] -= forward - 0.5 * CRACK_CORNER * (above + root) + CRACK_LIFT
        slope[CHECK] = forward_slope - 0.5 * (1.0 + above / root) * (forward_slope - SEEP)

    def injectors(self, conductance):
        share = self.duty * self.duty * (1 / peers.INJECTOR_SQUARE)
        squares = share * (self.pressure[FROM[INJECTORS]] - self.pressure[MANIFOLD])
        linear = (self.duty + 1e-3) * peers.INJECTOR_LINEAR
        root = np.sqrt(linear * linear + 4.0 * np.abs(squares))
        self.flow[INJECTORS] = 2.0 * squares / (linear + root)
        conductance[INJECTORS] = share / root

    def regulator(self, conductance):
        """The opening is linearised no farther from the one before than its bend allows; returns where that bound."""
        wants = (self.pressure[peers.SENSED] - self.pressure[MANIFOLD] - peers.SET) * (1 / peers.BAND)
        was = self.bands
        bands = np.clip(wants, np.where(was > 0.04, 0.125 * was, -np.inf), np.maximum(4.0 * was, 0.0) + 0.5)
        self.bands = bands
        root = np.sqrt(bands * bands + peers.CORNER ** 2)
        lifted = 0.5 * (bands + root)
        stem = 1.0 / np.sqrt(1.0 + lifted * lifted)
        opening = lifted * stem + peers.LEAK
        opening_slope = lifted / root * stem ** 3
        drop = self.pressure[FROM[REGULATOR]] - self.pressure[TO[REGULATOR]]
        scaled = opening * peers.WIDE_OPEN
        squares = scaled * scaled * drop
        spread = np.sqrt(peers.REGULATOR_LINEAR ** 2 + 4.0 * np.abs(squares))
        by_bands = 2.0 * scaled * peers.WIDE_OPEN * drop * opening_slope / spread
        beyond = wants - bands
        self.flow[REGULATOR] = 2.0 * squares / (peers.REGULATOR_LINEAR + spread) + by_bands * beyond
        conductance[REGULATOR] = scaled * scaled / spread
        conductance[-1] = by_bands * (1 / peers.BAND)
        return beyond != 0.0

    def step(self, residual, conductance, imbalance, solve):
        moved = residual * conductance[:IMPEDANCES]
        change = np.zeros_like(self.pressure)
        change[:N] = solve(conductance, -imbalance - peers.OUT[:, :IMPEDANCES] @ moved)
        self.pressure += change
        moved += conductance[:IMPEDANCES] * (change[FROM[:IMPEDANCES]] - change[TO[:IMPEDANCES]])
        self.flow[:IMPEDANCES] += moved


class NumpyBatch:
    """Solves rows of `fuel29.random_rows` block by block, every row from its own cold start.

    `solve` returns pressures [Pa gauge], flows [m³/s] (NaN where not converged) and Newton steps. `tolerance`: of a bar, and
    of 1e-5 m³/s.
    """

    def __init__(self, solve_systems, block, tolerance=TOLERANCE, most_steps=40):
        self.solve_systems, self.block, self.tolerance, self.most_steps = solve_systems, block, tolerance, most_steps
        self.make_block = Block

    def solve(self, rows):
        pressure, flow = np.full((len(rows), N), np.nan), np.full((len(rows), len(PARTS)), np.nan)
        steps = np.zeros(len(rows), int)
        for first in range(0, len(rows), self.block):
            part = slice(first, first + self.block)
            self._solve_block(rows[part], pressure[part], flow[part], steps[part])
        return pressure, flow, steps

    def _solve_block(self, rows, pressure, flow, steps):
        block = self.make_block(rows)
        for step in range(self.most_steps + 1):
            residual, conductance, limited = block.evaluate()
            imbalance = peers.OUT @ block.flow
            done = ((np.abs(residual).max(0) <= self.tolerance * peers.PRESSURE)
                    & (np.abs(imbalance).max(0) <= self.tolerance * peers.FLOW) & ~limited)
            if done.any():
                rows_done = block.row[done]
                pressure[rows_done], flow[rows_done] = block.pressure[:N, done].T, block.flow[:, done].T
                steps[rows_done] = step
                left = np.flatnonzero(~done)
                if not len(left):
                    return
                block.keep(left)
                residual, conductance, imbalance = residual[:, left], conductance[:, left], imbalance[:, left]
            block.step(residual, conductance, imbalance, self.solve_systems)
        steps[block.row] = self.most_steps
