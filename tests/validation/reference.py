"""What the validation tests share: rows of the reference files, and small circuits through the compiled engine."""

import csv
import math
import re
from functools import partial
from pathlib import Path

from flarenut import _core as core

DATA = Path(__file__).parent.parent / "data"


def read(folder: str, file: str) -> list[dict[str, str]]:
    with open(DATA / folder / file, encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


rows, fluid_rows, hardware_rows = partial(read, "hydraulics"), partial(read, "fluids"), partial(read, "hardware")


def inputs(row: dict[str, str]) -> dict[str, float]:
    """The numbers of 'D=0.02 m; rho=1000 kg/m3'. Every piece must be a number with a name."""
    found = {}
    for piece in row["inputs_SI"].split(";"):
        match = re.fullmatch(r"\s*(.+?)=(-?[\d.]+(?:e[+-]?\d+)?)(?:\s+\S+)?\s*", piece)
        if match is None:
            raise ValueError(f"{row['case_id']}: cannot read input '{piece}'")
        found[match[1]] = float(match[2])
    return found


def published(row: dict[str, str]) -> float:
    return float(row["published_value_SI"])


def area(bore: float) -> float:
    return math.pi / 4 * bore**2


def liquid(density: float = 1000.0, viscosity: float = 1e-3):
    return core.fluids.constant_liquid("test liquid", density, viscosity)


def square_law(drop: float, flow: float, density: float = 1000.0) -> tuple[str, dict[str, float]]:
    """A resistance through one point, loss with the square of the flow: fixed friction factors, fixed K."""
    return power_law(drop, flow, 2.0, density)


def power_law(drop: float, flow: float, exponent: float, density: float = 1000.0,
              viscosity: float = 1e-3) -> tuple[str, dict[str, float]]:
    return "resistance", {"rated_drop": drop, "rated_flow": flow, "exponent": exponent, "rating_density": density,
                          "rating_viscosity": viscosity}


def fixed_friction(f: float, length: float, bore: float, flow: float, density: float = 1000.0, extra: float = 0.0):
    """A line of constant Darcy factor, rated at the flow expected in it."""
    velocity = flow / area(bore)
    return square_law((f * length / bore + extra) * density * velocity**2 / 2, flow, density)


def line(bore: float, length: float, roughness: float = 0.0, extra: float = 0.0) -> tuple[str, dict[str, float]]:
    return "line", {"bore": bore, "length": length, "roughness": roughness, "extra_loss": extra}


class Circuit:
    """A circuit of one liquid, by names. Boundaries are gauge pressures [Pa]; flows out are volume flows [m3/s]."""

    def __init__(self, density: float = 1000.0, viscosity: float = 1e-3):
        self.density = density
        self.network = core.Network()
        self.network.liquid(liquid(density, viscosity))
        self._junctions: dict[str, int] = {}

    def held(self, name: str, gauge: float) -> "Circuit":
        self._junctions[name] = self.network.fixed(name, gauge)
        return self

    def junction(self, name: str, outflow: float = 0.0) -> "Circuit":
        self._junctions[name] = self.network.junction(name, demand=outflow * self.density)
        return self

    def part(self, name: str, start: str, end: str, what: tuple[str, dict[str, float]]) -> "Circuit":
        kind, numbers = what
        self.network.part(name, kind, [self._junctions[start], self._junctions[end]], numbers=numbers)
        return self

    def solve(self, symmetric: bool = False) -> "Answer":
        """With `symmetric`, by the way that large networks go."""
        plan = core.Plan(self.network, symmetric_from=1) if symmetric else core.Plan(self.network)
        solution = plan.solve(cold=True)
        assert (plan.workspace_bytes > 0) == symmetric
        assert solution.converged, solution.message
        assert solution.mass_closure <= 1e-12
        return Answer(solution, self.density)


class Answer:
    def __init__(self, solution, density: float):
        self.solution = solution
        self.density = density

    def flow(self, part: str) -> float:
        """Volume flow [m3/s]."""
        return self.solution.flow_of(part) / self.density

    def gauge(self, junction: str) -> float:
        return self.solution.pressure_of(junction) - self.solution.ambient


def passed_between(drop: float, what: tuple[str, dict[str, float]], density: float, viscosity: float) -> float:
    """Volume flow of one part between two held pressures [m3/s]."""
    circuit = Circuit(density, viscosity).held("from", drop).held("to", 0.0).part("part", "from", "to", what)
    return circuit.solve().flow("part")


def drop_at(flow: float, what: tuple[str, dict[str, float]], density: float, viscosity: float) -> float:
    """Pressure that one part costs at a volume flow [Pa]."""
    supply = 2e7  # so high that what is left after any example's drop is still a pressure
    circuit = Circuit(density, viscosity).held("from", supply).junction("to", flow).part("part", "from", "to", what)
    return supply - circuit.solve().gauge("to")
