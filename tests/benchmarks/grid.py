"""A square grid of lines, for the benchmark of large networks and its test. Invented, and drawn anew from a seed.

Corners stand in a square and are joined to their neighbours; every corner of the first row hangs on a main of given pressure, and
every corner takes its share out. Bores, lengths and shares are random. A column of any size carries half a kilogram per second, so
that lines next to the mains are turbulent and those at the far side laminar, with all between.
"""

import math
import os

import numpy as np

DENSITY, VISCOSITY, ROUGHNESS = 1000.0, 1e-3, 1e-4
BORES = (0.05, 0.08, 0.10, 0.15, 0.20)
MAIN_GAUGE, AMBIENT = 5e5, 101325.0
TOLERANCE, PRESSURE_SCALE, FLOW_SCALE, MASS_TOLERANCE = 1e-9, 1e5, 1e-5 * DENSITY, 1e-12  # as the engine accepts


class Grid:
    """The columns that describe the network: about `lines` lines."""

    def __init__(self, lines: int, seed: int = 1):
        side = self.side = max(2, round((1 + math.sqrt(1 + 8 * lines)) / 4))  # 2 side² − side lines
        random = np.random.default_rng(seed)
        corner = np.arange(side * side, dtype=np.int32).reshape(side, side)
        self.corners = side * side
        mains = self.corners + np.arange(side, dtype=np.int32)  # places of given pressure come after the corners
        self.starts = np.concatenate([corner[:, :-1].ravel(), corner[:-1].ravel(), mains])
        self.ends = np.concatenate([corner[:, 1:].ravel(), corner[1:].ravel(), corner[0]])
        self.lines = len(self.starts)
        self.bore = random.choice(BORES, self.lines)
        self.length = random.uniform(20.0, 200.0, self.lines)
        self.demand = random.uniform(0.0, 1.0 / side, self.corners)

    def network(self, core):
        network = core.Network()
        network.liquid(core.fluids.constant_liquid("water", DENSITY, VISCOSITY))
        network.junctions("corner", self.corners, self.demand)
        for column in range(self.side):
            network.fixed(f"main {column}", MAIN_GAUGE)
        network.lines("street", self.starts, self.ends, bore=self.bore, length=self.length, roughness=ROUGHNESS)
        return network


def friction(reynolds, relative):
    """f·Re and its slope: 64 to Reynolds 2000, Colebrook-White from 4000, the engine's blend between. Stated anew in NumPy."""
    re = np.maximum(reynolds, 2000.0)
    a, b = relative / 3.7, 2.51 / re
    x = -2.0 * np.log10(a + b * 7.0)
    for _ in range(2):
        inside = a + b * x
        x -= (x + 2.0 * np.log10(inside)) / (1.0 + 2.0 / math.log(10.0) * b / inside)
    f = 1.0 / (x * x)
    inner = 2.0 / math.log(10.0) * b / (a + b * x)
    turbulent, turbulent_slope = f * re, f - 2.0 * inner / (1.0 + inner) * f
    share = np.clip((re - 2000.0) / 2000.0, 0.0, 1.0)
    weight, weight_slope = share**3 * (10 + share * (6 * share - 15)), 30 * share**2 * (1 - share) ** 2 / 2000.0
    return 64.0 + weight * (turbulent - 64.0), weight_slope * (turbulent - 64.0) + weight * turbulent_slope


class Peer:
    """Newton on the same equations with NumPy laws and SciPy's `splu` of the node matrix, step by step as the engine goes."""

    ORDERS = {
        "COLAMD": {"permc_spec": "COLAMD"},
        "MMD_AT_PLUS_A, symmetric mode": {"permc_spec": "MMD_AT_PLUS_A", "diag_pivot_thresh": 0.0, "options": {"SymmetricMode": True}},
    }

    def __init__(self, grid: Grid, order: str):
        from scipy.sparse import csc_matrix

        self.grid, self.order = grid, self.ORDERS[order]
        n, a, b = grid.corners, grid.starts, grid.ends
        inner = a < n  # the other lines hang on a main
        # Where each line's conductance goes in the matrix, found once: the numbers of a step are then one weighted count.
        rows = np.concatenate([b, a[inner], a[inner], b[inner]])
        columns = np.concatenate([b, a[inner], b[inner], a[inner]])
        pattern = csc_matrix((np.ones(len(rows)), (rows, columns)), shape=(n, n))
        pattern.sort_indices()
        keys = np.repeat(np.arange(n, dtype=np.int64), np.diff(pattern.indptr)) * n + pattern.indices
        self.slot = np.searchsorted(keys, columns.astype(np.int64) * n + rows)
        self.matrix, self.inner = pattern, inner
        area = math.pi / 4 * grid.bore**2
        self.per_flow = grid.bore / (VISCOSITY * area)
        self.wall = VISCOSITY * grid.length / (2 * DENSITY * grid.bore**2 * area)
        self.relative = ROUGHNESS / grid.bore
        self.pressure = np.full(n + grid.side, AMBIENT)
        self.pressure[n:] += MAIN_GAUGE
        self.flow = np.zeros(grid.lines)
        self.start_flow = DENSITY * area * 1.5
        self.iterations = 0

    def laws(self):
        grid, flow = self.grid, self.flow
        first = self.iterations == 0  # every line as the linear resistance that it is at its start flow
        at = self.start_flow if first else flow
        reynolds = np.abs(at) * self.per_flow
        value, by_reynolds = friction(reynolds, self.relative)
        slope = self.wall * (value if first else value + by_reynolds * reynolds)
        residual = self.pressure[grid.starts] - self.pressure[grid.ends] - (0.0 if first else value * self.wall * flow)
        n = grid.corners
        balance = grid.demand + np.bincount(grid.starts, flow, n + grid.side)[:n] - np.bincount(grid.ends, flow, n)
        return residual, slope, balance

    def step(self) -> bool:
        """One linearisation, and one step unless it is satisfied. Returns whether it is."""
        from scipy.sparse.linalg import splu

        residual, slope, balance = self.laws()
        worst = np.max(np.abs(residual) / (2 * PRESSURE_SCALE + slope * FLOW_SCALE))
        self.worst = worst, np.max(np.abs(balance)) / max(np.max(np.abs(self.flow)), np.max(self.grid.demand))
        if self.worst[0] <= TOLERANCE and self.worst[1] <= MASS_TOLERANCE:
            return True
        grid, n, gain = self.grid, self.grid.corners, 1.0 / slope
        inside = gain[self.inner]
        self.matrix.data = np.bincount(self.slot, np.concatenate([gain, inside, -inside, -inside]), len(self.matrix.data))
        shift = gain * residual
        right = np.bincount(grid.ends, shift, n) - np.bincount(grid.starts, shift, n + grid.side)[:n] - balance
        move = np.zeros(n + grid.side)
        move[:n] = splu(self.matrix, **self.order).solve(right)
        self.flow = self.flow + gain * (residual + move[grid.starts] - move[grid.ends])
        self.pressure = self.pressure + move
        self.iterations += 1
        return False


def memory() -> dict[str, int]:
    """Bytes of this process in memory: now, and at most so far. Nothing where the system does not tell."""
    try:
        with open("/proc/self/status", encoding="ascii") as stream:
            lines = dict(line.split(":", 1) for line in stream if ":" in line)
    except OSError:
        return {}
    return {"now": int(lines["VmRSS"].split()[0]) * 1024, "peak": int(lines["VmHWM"].split()[0]) * 1024}


def processor() -> str:
    try:
        with open("/proc/cpuinfo", encoding="utf-8") as stream:
            return next(line.split(":", 1)[1].strip() for line in stream if line.startswith("model name"))
    except (OSError, StopIteration):
        return os.uname().machine
