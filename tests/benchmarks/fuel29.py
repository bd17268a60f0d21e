"""The 29-branch return-style fuel circuit of `tests/data/benchmark/fuel29.json`, for the engine and for its peers.

The data are invented and serve benchmarks only. All solvers are given the same laws: the engine's line friction
(laminar 64/Re, Colebrook-White, blended between Reynolds 2000 and 4000), the engine's rounded corners for check valve
and regulator. `Peer` states them anew in NumPy, from the file and the parts' documentation, not through the engine.
"""

import json
import math
from pathlib import Path

import numpy as np

from flarenut import _core

DATA = Path(__file__).parent.parent / "data" / "benchmark" / "fuel29.json"
CIRCUIT = json.loads(DATA.read_text())
DENSITY = CIRCUIT["fluid"]["density_kg_per_m3"]
VISCOSITY = CIRCUIT["fluid"]["dynamic_viscosity_Pa_s"]
PARTS = CIRCUIT["parts"]
AMBIENT = 101325.0
SEAT = 0.7  # discharge coefficient by which conductances are written as areas
PUMP_RISE, PUMP_LINEAR, PUMP_SQUARE, PUMP_VOLTS = 6.5e5, 2.5e9, 4e13, 13.5  # the file's formula, as numbers


def free_junctions():
    names = {part[end] for part in PARTS for end in ("from", "to")} - {"tank", "manifold"}
    return sorted(names, key=lambda name: int(name[1:]))


def area_of_conductance(quadratic):
    """Seat area that costs `quadratic`·Q² [Pa s²/m⁶] at the file's density."""
    return math.sqrt(DENSITY / (2 * quadratic)) / SEAT


def engine_plan():
    """The circuit compiled by the engine."""
    network = _core.Network()
    network.liquid(_core.fluids.constant_liquid("benchmark fuel", DENSITY, VISCOSITY))
    index = {name: network.junction(name) for name in free_junctions()}
    index["tank"] = network.tank("tank")
    index["manifold"] = network.fixed("manifold")
    for part in PARTS:
        ends = [index[part["from"]], index[part["to"]]]
        _add(network, part, ends, index)
    return _core.Plan(network)


def _add(network, part, ends, index):
    kind = part["kind"]
    if kind == "line":
        numbers = {"bore": part["bore_m"], "length": part["length_m"], "roughness": part["roughness_m"],
                   "extra_loss": part["loss_K"]}
        network.part(part["name"], "line", ends, numbers=numbers)
    elif kind == "filter":
        numbers = {"linear": part["linear_Pa_s_per_m3"], "quadratic": part["quadratic_Pa_s2_per_m6"],
                   "rating_viscosity": VISCOSITY, "rating_density": DENSITY}
        network.part(part["name"], "filter", ends, numbers=numbers)
    elif kind == "pump":
        numbers = {"volts": 13.5, "rated_volts": PUMP_VOLTS, "shutoff_rise": PUMP_RISE, "linear": PUMP_LINEAR,
                   "quadratic": PUMP_SQUARE}
        network.part(part["name"], "quadratic pump", ends, numbers=numbers)
    elif kind == "check valve":
        numbers = {"cracking_pressure": part["cracking_Pa"], "viscous_reynolds": 1.0, "seepage_resistance": 1e12,
                   "full_area": area_of_conductance(part["quadratic_Pa_s2_per_m6"]), "discharge_coefficient": SEAT}
        network.part(part["name"], "check valve", ends, numbers=numbers)
    elif kind == "injector":
        numbers = {"rated_flow": part["flow_m3_per_s_full_duty"], "rated_pressure": part["at_pressure_Pa"],
                   "rating_density": DENSITY, "duty": 0.5}
        network.part(part["name"], "injector bank", ends, numbers=numbers)
    else:
        numbers = {"set_pressure": part["set_Pa"], "band": part["band_Pa"], "discharge_coefficient": SEAT,
                   "full_area": area_of_conductance(part["wide_open_Q_m3_per_s_per_sqrt_Pa"] ** -2)}
        senses = [index[part["senses"]], index[part["reference"]]]
        network.part(part["name"], "bypass regulator", ends, senses, numbers)


class Numbers:
    """The numbers that scenarios change, as columns for `solve_each`."""

    def __init__(self, plan, everything=False):
        lines = [part["name"] for part in PARTS if part["kind"] == "line"]
        injectors = [part["name"] for part in PARTS if part["kind"] == "injector"]
        filters = [part["name"] for part in PARTS if part["kind"] == "filter"]
        self.returns = [plan.index(f"{name}.bore") for name in lines if name.startswith("return")]
        self.volts = [plan.index("pump.volts")]
        self.duties = [plan.index(f"{name}.duty") for name in injectors]
        self.manifold = [plan.index("manifold.gauge")]
        self.bores = [plan.index(f"{name}.bore") for name in lines if not name.startswith("return")] if everything else []
        self.loadings = [plan.index(f"{name}.loading") for name in filters] if everything else []
        self.indices = self.returns + self.volts + self.duties + self.manifold + self.bores + self.loadings

    def rows(self, return_bore, volts, duty, manifold, bores=None, loadings=None):
        """One row per scenario; arguments are arrays of one value (or one row of values) per scenario."""
        def spread(values, places):
            values = np.asarray(values, float)
            return np.broadcast_to(values.reshape(len(values), -1), (len(values), len(places)))
        columns = [spread(return_bore, self.returns), spread(volts, self.volts), spread(duty, self.duties),
                   spread(manifold, self.manifold)]
        if self.bores:
            columns += [spread(bores, self.bores), spread(loadings, self.loadings)]
        return np.ascontiguousarray(np.hstack(columns))


def random_rows(numbers, count, extreme, seed):
    """Random scenarios in the file's ordinary or extreme ranges."""
    random = np.random.default_rng(seed)
    uniform = random.uniform
    if extreme:
        bore = np.exp(uniform(math.log(1e-3), math.log(12e-3), count))
        volts = np.where(uniform(size=count) < 0.1, 0.0, uniform(0.0, 18.0, count))
        duty = np.where(uniform(size=count) < 0.2, 1e-6, uniform(0.0, 1.0, count))
        manifold = uniform(*CIRCUIT["extreme_ranges"]["manifold_Pa"], count)
    else:
        ranges = CIRCUIT["ordinary_ranges"]
        bore, volts, duty, manifold = (uniform(*ranges[key], count)
                                       for key in ("return_bore_m", "volts", "duty", "manifold_Pa"))
    bores = uniform(4e-3, 16e-3, (count, len(numbers.bores)))
    loadings = uniform(1.0, 5.0, (count, len(numbers.loadings)))
    return numbers.rows(bore, volts, duty, manifold, bores, loadings)
