"""The invented six's oil circuit of the demo file, as numbers: who stands between which places, and what its four cases set.

Engine and peer get the same numbers, read from the compiled plan. What the numbers mean is each side's own business.
"""

from dataclasses import dataclass
from pathlib import Path

import numpy as np

import flarenut as fn
from flarenut.circuit.cases import overrides_of

FILE = Path(fn.__file__).parent / "demo" / "oil_cooler_six.toml"
CASES = ("cold start", "hot idle", "full speed", "hot track")


@dataclass(frozen=True)
class Placed:
    """A part and where it stands."""

    name: str
    kind: str
    heat: str | None  # kind of its heat law
    start: str
    end: str
    flows: int


class OilCircuit:
    """Parts, places and cases of the demo file; `numbers(case)` is every number of the plan by name [SI]."""

    def __init__(self):
        self.car = fn.load(FILE)
        compiled = self.car.compiled()
        self.plan, self.liquid = compiled.plan, self.car.fluid.liquid
        self.heights = {name: position[2] for name, position in compiled.layout.positions.items()}
        self.parts = [part for run, names in compiled.layout.runs.items() for part in self._placed(run, names, compiled)]
        self.drains = {name: junction.drains_to for name, junction in self.car.junctions.items() if junction.drains_to}
        self.fixed = [name for name, junction in self.car.junctions.items() if junction.kind != "free"]
        self.free = [name for name in self.heights if name not in self.fixed]
        self.written = {name: self.plan.get(self.plan.index(name)) for name in self.plan.names}

    def _placed(self, run, names, compiled):
        ends = [self.car.runs[run].start, *(f"{run}:{i}" for i in range(1, len(names))), self.car.runs[run].end]
        for name, start, end in zip(names, ends, ends[1:]):
            piece, number = compiled.elements[name]
            element = compiled.pieces[piece].elements[number]
            assert element.feels is None and not element.columns, "the peer knows no sensing parts and no tables"
            yield Placed(name, element.kind, element.heat and element.heat.kind, start, end, 2 if element.kind == "filter with bypass" else 1)

    def changes(self, case):
        """Numbers that a case sets [SI]."""
        return overrides_of(self.car, {**self.car.conditions, **self.car.cases[case].conditions}, case).numbers

    def numbers(self, case):
        return {**self.written, **self.changes(case)}

    def solve(self, case):
        """The engine's answer, cold."""
        self.plan.set_many(self.numbers(case))
        solution = self.plan.solve(cold=True)
        assert solution.converged, solution.message
        return solution

    def rows(self, cases, count, sump=None, air_moves=True):
        """Indices, and rows of all numbers that any case sets, `count` pairs of each case in turn. The speeds of a pair's rows differ
        by a thousandth, and the air by 0.01 K if it moves, so that every row is refreshed. `sump`: by case, the temperature of the whole
        liquid [K] where temperatures are given."""
        names = sorted({name for case in self.car.cases for name in self.changes(case)} | {"liquid.temperature"})
        wider = np.array([1e-3 * name.endswith(".speed") for name in names])
        warmer = np.array([0.01 * (air_moves and name == "air.temperature") for name in names])
        rows = []
        for case in cases:
            numbers = self.numbers(case)
            if sump:
                numbers["liquid.temperature"] = sump[case]
            row = np.array([numbers[name] for name in names])
            rows += [row, row * (1 + wider) + warmer] * count
        return [self.plan.index(name) for name in names], np.array(rows)
