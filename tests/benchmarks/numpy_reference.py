"""The engine's start for the NumPy peers: one answer of the circuit at its own numbers, moved along its slopes to each row's numbers.

The answer and its slopes are the engine's, found once; what the peers do with them is what `analysis/lane_reference.cpp` does.
"""

import numpy as np
import peers
from fuel29 import AMBIENT, DENSITY, PARTS, Numbers, engine_plan
from numpy_batch import Block, NumpyBatch
from peers import N

LEAST_SHARE, MOST_SHARE = 0.05, 3.0


class Reference:
    def __init__(self):
        plan = engine_plan()
        numbers = Numbers(plan).indices
        self.numbers = np.array([plan.get(index) for index in numbers])
        plan.resolve()
        outputs = [("pressure", name) for name in peers.NAMES] + [("flow", part["name"]) for part in PARTS]
        names = [plan.names[index] for index in numbers]
        self.slopes = np.array([[slopes[name] for name in names] for slopes in (plan.gradient(*output) for output in outputs)])
        self.slopes[N:] /= DENSITY
        readings = [("total", plan.junction_index(name), 0) for name in peers.NAMES]
        readings += [("flow", plan.part_index(part["name"]), 0) for part in PARTS]
        values = plan.batch(numbers, self.numbers[None, :], readings, threads=1, block=1, kernel="single")["values"][0]
        self.answer = np.concatenate([values[:N] - AMBIENT, values[N:] / DENSITY])[:, None]

    def at(self, rows):
        moved = self.answer + self.slopes @ (rows - self.numbers).T
        bounds = np.sort([LEAST_SHARE * self.answer[N:], MOST_SHARE * self.answer[N:]], axis=0)
        return moved[:N], np.clip(moved[N:], *bounds)


class ReferenceBlock(Block):
    reference = None

    def __init__(self, rows):
        self._rows = rows
        super().__init__(rows)

    def start(self, manifold):
        super().start(manifold)
        self.pressure[:N], self.flow = self.reference.at(self.__dict__.pop("_rows"))
        wants = (self.pressure[peers.SENSED] - manifold - peers.SET) / peers.BAND
        self.bands = np.clip(wants, -0.5, 5.0)
        self.pressure[peers.SENSED] = peers.SET + manifold + self.bands * peers.BAND


class ReferenceBatch(NumpyBatch):
    """`NumpyBatch` with that start."""

    def __init__(self, *arguments, **options):
        super().__init__(*arguments, **options)
        if ReferenceBlock.reference is None:
            ReferenceBlock.reference = Reference()
        self.make_block = ReferenceBlock
