"""The same 48 equations for general-purpose solvers: NumPy residual and Jacobian, and a CasADi expression for KINSOL.

Unknowns: gauge pressures of the 19 free junctions in bar, then the 29 volume flows in 1e-5 m³/s. Residuals: laws in
bar, balances in 1e-5 m³/s, so that 1e-9 is the tolerance of the file. Written in impedance form, as the engine is:
the peers too are given the equations at their best.
"""

import math

import numpy as np
from fuel29 import (DENSITY, PARTS, PUMP_LINEAR, PUMP_RISE, PUMP_SQUARE, PUMP_VOLTS, VISCOSITY,
                    area_of_conductance, free_junctions)

PRESSURE, FLOW = 1e5, 1e-5
NAMES = free_junctions()
N, B = len(NAMES), len(PARTS)


def places(kind):
    return np.array([i for i, part in enumerate(PARTS) if part["kind"] == kind])


LINES, FILTERS, INJECTORS = places("line"), places("filter"), places("injector")
PUMP, CHECK, REGULATOR = (int(places(kind)[0]) for kind in ("pump", "check valve", "bypass regulator"))
BORE = np.array([PARTS[i]["bore_m"] for i in LINES])
RETURNS = np.array([PARTS[i]["name"].startswith("return") for i in LINES])
LENGTH, ROUGHNESS, LOSS = (np.array([PARTS[i][key] for i in LINES]) for key in ("length_m", "roughness_m", "loss_K"))
FILTER_LINEAR, FILTER_SQUARE = (np.array([PARTS[i][key] for i in FILTERS])
                                for key in ("linear_Pa_s_per_m3", "quadratic_Pa_s2_per_m6"))
INJECTOR_SQUARE = PARTS[INJECTORS[0]]["at_pressure_Pa"] / PARTS[INJECTORS[0]]["flow_m3_per_s_full_duty"] ** 2
CRACK, CHECK_SQUARE = PARTS[CHECK]["cracking_Pa"], PARTS[CHECK]["quadratic_Pa_s2_per_m6"]
SET, BAND = PARTS[REGULATOR]["set_Pa"], PARTS[REGULATOR]["band_Pa"]
WIDE_OPEN = PARTS[REGULATOR]["wide_open_Q_m3_per_s_per_sqrt_Pa"]
SENSED = NAMES.index(PARTS[REGULATOR]["senses"])


def laminar_floor(area):
    """Volume flow at Reynolds 10 on the diameter of an area, as the engine's seats take it [m³/s]."""
    return math.sqrt(math.pi / 4 * area) * VISCOSITY * 10.0 / DENSITY


INJECTOR_AREA = PARTS[INJECTORS[0]]["flow_m3_per_s_full_duty"] * math.sqrt(DENSITY / (2 * PARTS[INJECTORS[0]]["at_pressure_Pa"]))
INJECTOR_LINEAR = laminar_floor(INJECTOR_AREA)
REGULATOR_LINEAR = laminar_floor(area_of_conductance(WIDE_OPEN ** -2))
CHECK_VISCOUS = CHECK_SQUARE * 0.1 * laminar_floor(area_of_conductance(CHECK_SQUARE))
LEAK, CORNER = 1e-4, 0.02
PUMP_FLOOR = 1e-9 * PUMP_SQUARE * math.sqrt(PUMP_RISE / PUMP_SQUARE)  # what a driven pump keeps as slope at rest

# Incidence: +1 where a flow leaves a free junction, and the pressure difference each part sees.
OUT = np.zeros((N, B))
for b, part in enumerate(PARTS):
    if part["from"] in NAMES:
        OUT[NAMES.index(part["from"]), b] += 1.0
    if part["to"] in NAMES:
        OUT[NAMES.index(part["to"]), b] -= 1.0
TO_MANIFOLD = np.array([part["to"] == "manifold" for part in PARTS], float)


def friction(reynolds, relative):
    """f·Re and its slope: 64 to Reynolds 2000, Colebrook-White from 4000, the engine's C² blend between."""
    re = np.maximum(reynolds, 2000.0)
    a, b = relative / 3.7, 2.51 / re
    x = -2.0 * np.log10(a + b * 7.0)
    for _ in range(3):
        inside = a + b * x
        x -= (x + 2.0 * np.log10(inside)) / (1.0 + 2.0 / math.log(10.0) * b / inside)
    f = 1.0 / (x * x)
    inner = 2.0 / math.log(10.0) * b / (a + b * x)
    slope_x = inner * x / re / (1.0 + inner)
    turbulent, turbulent_slope = f * re, f - 2.0 * re * slope_x / x ** 3
    t = np.clip((re - 2000.0) / 2000.0, 0.0, 1.0)
    weight, weight_slope = t ** 3 * (10 + t * (6 * t - 15)), 30 * t * t * (t - 1) ** 2 / 2000.0
    value = 64.0 + weight * (turbulent - 64.0)
    slope = weight_slope * (turbulent - 64.0) + weight * turbulent_slope
    return value, np.where(reynolds > 2000.0, slope, 0.0)


class Peer:
    """Residual and Jacobian at one scenario."""

    def __init__(self, return_bore, volts, duty, manifold):
        self.bore = np.where(RETURNS, return_bore, BORE)
        self.volts, self.duty, self.manifold = volts / PUMP_VOLTS, duty, manifold

    @classmethod
    def of_row(cls, row):
        """From a row of `fuel29.random_rows`, whose injectors and return lines are alike."""
        return cls(row[0], row[2], row[3], row[11])

    def evaluate(self, x):
        p, q = x[:N] * PRESSURE, x[N:] * FLOW
        drop = OUT.T @ p - TO_MANIFOLD * self.manifold
        loss, slope = np.empty(B), np.empty(B)

        flow = q[LINES]
        area = math.pi / 4 * self.bore ** 2
        per_flow = DENSITY * self.bore / (VISCOSITY * area)
        fre, fre_slope = friction(np.abs(flow) * per_flow, ROUGHNESS / self.bore)
        wall = VISCOSITY * LENGTH / (2 * self.bore ** 2 * area)
        extra = LOSS * DENSITY / (2 * area ** 2)
        loss[LINES] = (fre * wall + extra * np.abs(flow)) * flow
        slope[LINES] = fre * wall + fre_slope * per_flow * np.abs(flow) * wall + 2 * extra * np.abs(flow)

        flow = q[FILTERS]
        loss[FILTERS] = (FILTER_LINEAR + FILTER_SQUARE * np.abs(flow)) * flow
        slope[FILTERS] = FILTER_LINEAR + 2 * FILTER_SQUARE * np.abs(flow)

        flow, v = q[PUMP], self.volts
        loss[PUMP] = -(PUMP_RISE * v * v - (PUMP_LINEAR * v + PUMP_FLOOR) * flow - PUMP_SQUARE * flow * abs(flow))
        slope[PUMP] = PUMP_LINEAR * v + PUMP_FLOOR + 2 * PUMP_SQUARE * abs(flow)

        flow = q[CHECK]
        corner, lift = 0.1 * CRACK, 0.25 * 0.01 * CRACK
        forward = CRACK - lift + CHECK_SQUARE * max(flow, 0.0) ** 2 + CHECK_VISCOUS * flow
        seep = 1e12 + CHECK_VISCOUS
        above = (forward - seep * flow) / corner
        root = math.sqrt(above * above + 1.0)
        share = 0.5 * (1.0 + above / root)
        forward_slope = 2 * CHECK_SQUARE * max(flow, 0.0) + CHECK_VISCOUS
        loss[CHECK] = forward - 0.5 * (above + root) * corner + lift
        slope[CHECK] = forward_slope - share * (forward_slope - seep)

        weight = np.ones(B)  # of the pressure drop in the law
        flow, duty = q[INJECTORS], self.duty
        weight[INJECTORS] = duty * duty
        linear = (duty + 1e-3) * INJECTOR_LINEAR
        loss[INJECTORS] = INJECTOR_SQUARE * (np.abs(flow) + linear) * flow
        slope[INJECTORS] = INJECTOR_SQUARE * (2 * np.abs(flow) + linear)

        flow = q[REGULATOR]
        bands = (p[SENSED] - self.manifold - SET) / BAND
        lifted = 0.5 * (bands + math.sqrt(bands * bands + CORNER ** 2))
        lifted_slope = 0.5 * (1 + bands / math.sqrt(bands * bands + CORNER ** 2))
        opening = lifted / math.sqrt(1 + lifted * lifted) + LEAK
        opening_slope = lifted_slope / (1 + lifted * lifted) ** 1.5 / BAND
        weight[REGULATOR] = opening * opening
        loss[REGULATOR] = (abs(flow) + REGULATOR_LINEAR) * flow / WIDE_OPEN ** 2
        slope[REGULATOR] = (2 * abs(flow) + REGULATOR_LINEAR) / WIDE_OPEN ** 2

        residual = np.concatenate([(weight * drop - loss) / PRESSURE, OUT @ q / FLOW])
        by_pressure = weight[:, None] * OUT.T
        by_pressure[REGULATOR, SENSED] += 2 * opening * opening_slope * drop[REGULATOR]
        jacobian = np.zeros((N + B, N + B))
        jacobian[:B, :N] = by_pressure
        jacobian[:B, N:][np.diag_indices(B)] = -slope * FLOW / PRESSURE
        jacobian[B:, N:] = OUT
        return residual, jacobian


def cold_start():
    """A sensible guess: supply side just above the set pressure, return side at ambient, flows as a builder would say."""
    pressure = np.full(N, SET + 0.5 * BAND)
    for name in ("n0", "n1", "n17", "n18"):
        pressure[NAMES.index(name)] = 0.0
    flow = np.full(B, 5e-5)
    flow[INJECTORS] = 3e-6
    return np.concatenate([pressure / PRESSURE, flow / FLOW])


def kinsol(linear_solver="dense"):
    """KINSOL through CasADi: residual and analytic Jacobian as CasADi expressions, one function of (guess, scenario)."""
    import casadi as ca

    x, scenario = ca.SX.sym("x", N + B), ca.SX.sym("scenario", 4)
    return_bore, v, duty, manifold = scenario[0], scenario[1] / PUMP_VOLTS, scenario[2], scenario[3]
    p, q = x[:N] * PRESSURE, x[N:] * FLOW
    drop = ca.mtimes(ca.DM(OUT).T, p) - ca.DM(TO_MANIFOLD) * manifold
    laws = []
    for b, part in enumerate(PARTS):
        flow, size = q[b], ca.fabs(q[b])
        if b in LINES:
            i = int(np.nonzero(LINES == b)[0][0])
            bore = return_bore if RETURNS[i] else BORE[i]
            area = math.pi / 4 * bore ** 2
            reynolds = size * DENSITY * bore / (VISCOSITY * area)
            re = ca.fmax(reynolds, 2000.0)
            a, bb = ROUGHNESS[i] / bore / 3.7, 2.51 / re
            root = -2 * ca.log10(a + bb * 7.0)
            for _ in range(3):
                inside = a + bb * root
                root = root - (root + 2 * ca.log10(inside)) / (1 + 2 / math.log(10) * bb / inside)
            t = ca.fmin((re - 2000.0) / 2000.0, 1.0)
            fre = 64 + t ** 3 * (10 + t * (6 * t - 15)) * (re / root ** 2 - 64)
            laws.append(drop[b] - (fre * VISCOSITY * LENGTH[i] / (2 * bore ** 2 * area)
                                   + LOSS[i] * DENSITY / (2 * area ** 2) * size) * flow)
        elif b in FILTERS:
            i = int(np.nonzero(FILTERS == b)[0][0])
            laws.append(drop[b] - (FILTER_LINEAR[i] + FILTER_SQUARE[i] * size) * flow)
        elif b in INJECTORS:
            laws.append(duty ** 2 * drop[b] - INJECTOR_SQUARE * (size + (duty + 1e-3) * INJECTOR_LINEAR) * flow)
        elif b == PUMP:
            laws.append(drop[b] + PUMP_RISE * v * v - (PUMP_LINEAR * v + PUMP_FLOOR) * flow - PUMP_SQUARE * flow * size)
        elif b == CHECK:
            corner, lift, seep = 0.1 * CRACK, 0.25 * 0.01 * CRACK, 1e12 + CHECK_VISCOUS
            forward = CRACK - lift + CHECK_SQUARE * ca.fmax(flow, 0) ** 2 + CHECK_VISCOUS * flow
            above = (forward - seep * flow) / corner
            laws.append(drop[b] - (forward - 0.5 * (above + ca.sqrt(above ** 2 + 1)) * corner + lift))
        else:
            bands = (p[SENSED] - manifold - SET) / BAND
            lifted = 0.5 * (bands + ca.sqrt(bands ** 2 + CORNER ** 2))
            opening = lifted / ca.sqrt(1 + lifted ** 2) + LEAK
            laws.append(opening ** 2 * drop[b] - (size + REGULATOR_LINEAR) * flow / WIDE_OPEN ** 2)
    residual = ca.vertcat(ca.vertcat(*laws) / PRESSURE, ca.mtimes(ca.DM(OUT), q) / FLOW)
    function = ca.Function("circuit", [x, scenario], [residual])
    options = {"linear_solver_type": linear_solver, "abstol": 1e-9, "max_iter": 200, "error_on_fail": False,
               "strategy": "linesearch"}
    return ca.rootfinder("kinsol", "kinsol", function, options), function
