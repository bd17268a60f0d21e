"""The reduced linear systems of `numpy_batch`, 19 pressures each, for a whole block: assembled from conductances and solved."""

import numpy as np
import peers
from peers import N, PARTS

TANK, MANIFOLD = N, N + 1  # rows of the pressures behind those of the free junctions
PLACE = {**{name: i for i, name in enumerate(peers.NAMES)}, "tank": TANK, "manifold": MANIFOLD}
FROM, TO = (np.array([PLACE[part[end]] for part in PARTS]) for end in ("from", "to"))


def entries_by_conductance():
    """{(row, column): [(conductance, sign)]} of the reduced matrix. Conductance 29 is the regulator's by what it senses."""
    entries = {}
    for b in range(len(PARTS)):
        for row, row_sign in ((FROM[b], 1.0), (TO[b], -1.0)):
            for column, sign in ((FROM[b], 1.0), (TO[b], -1.0)):
                if row < N and column < N:
                    entries.setdefault((row, column), []).append((b, row_sign * sign))
    for row, sign in ((FROM[peers.REGULATOR], 1.0), (TO[peers.REGULATOR], -1.0)):
        entries.setdefault((row, peers.SENSED), []).append((len(PARTS), sign))
    return entries


def share_matrix(entries, order):
    """Entries of the reduced matrix, in this order, from the conductances."""
    shares = np.zeros((len(order), len(PARTS) + 1))
    for row, entry in enumerate(order):
        for conductance, sign in entries.get(entry, ()):
            shares[row, conductance] += sign
    return shares


class DenseSolve:
    """All systems of a block by one call of `np.linalg.solve`."""

    def __init__(self):
        entries = entries_by_conductance()
        self.order = list(entries)
        self.shares = share_matrix(entries, self.order)
        self.flat = np.array([row * N + column for row, column in self.order])

    def __call__(self, conductance, right):
        matrix = np.zeros((right.shape[1], N * N))
        matrix[:, self.flat] = conductance.T @ self.shares.T
        return np.linalg.solve(matrix.reshape(-1, N, N), right.T[:, :, None])[:, :, 0].T


class PatternSolve:
    """Gauss without pivoting on the entries that are not zero, each operation on all scenarios at once.

    The node with the fewest neighbours left goes next; the order is found once, from the circuit.
    """

    def __init__(self):
        entries = entries_by_conductance()
        neighbours = {n: {c for r, c in entries if r == n and c != n} for n in range(N)}
        pivots, pattern, left = [], set(entries), set(range(N))
        while left:
            pivot = min(left, key=lambda n: (len(neighbours[n] & left), n))
            left.discard(pivot)
            around = sorted(neighbours[pivot] & left)
            pivots.append((pivot, around))
            for n in around:
                neighbours[n] |= set(around) - {n}
                pattern |= {(n, other) for other in around}
        order = sorted(pattern)
        self.shares = share_matrix(entries, order)
        place = {entry: i for i, entry in enumerate(order)}
        self.down, self.up = [], []
        for pivot, around in pivots:
            rows = [(n, place[n, pivot], [(place[n, m], place[pivot, m]) for m in around]) for n in around]
            self.down.append((pivot, place[pivot, pivot], rows))
            self.up.append((pivot, place[pivot, pivot], [(m, place[pivot, m]) for m in around]))
        self.up.reverse()

    def __call__(self, conductance, right):
        values = self.shares @ conductance
        x = right
        factor, product = np.empty_like(x[0]), np.empty_like(x[0])
        for pivot, diagonal, rows in self.down:
            np.divide(1.0, values[diagonal], out=values[diagonal])
            for n, below, pairs in rows:
                np.multiply(values[below], values[diagonal], out=factor)
                for target, source in pairs:
                    np.multiply(factor, values[source], out=product)
                    values[target] -= product
                np.multiply(factor, x[pivot], out=product)
                x[n] -= product
        for pivot, diagonal, pairs in self.up:
            for m, source in pairs:
                np.multiply(values[source], x[m], out=product)
                x[pivot] -= product
            x[pivot] *= values[diagonal]
        return x
