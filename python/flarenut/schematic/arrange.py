"""Which column each node stands in and which row each link lies in: found by a search that is the same every time.

Every node has a column to itself, where it is a vertical line from the topmost to the lowest of its links; every link is a horizontal line in a
row. Whatever the order of columns, that is a drawing: only its size, its crossings and the way it reads differ, and those are what is sought.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import log
from random import Random
from typing import TYPE_CHECKING

from .weigh import PAGE, Scale

if TYPE_CHECKING:
    from .graph import Link, Node
    from .weigh import Measures

_WORK = 75000  # links and nodes weighed, all tries together
_TRIES = (80, 2000)  # no more for each link and node; nor at all
_HEAT = 3.0  # at the start: what a change may cost and still be taken one time in three


class Arrangement:
    """`columns`: node -> column; `rows`: link -> row."""

    def __init__(self, nodes: Sequence[Node], links: Sequence[Link]) -> None:
        self.nodes, self.links = nodes, links
        self.scale = Scale(nodes, links)
        self.at: list[list[int]] = [[] for _ in nodes]
        for number, link in enumerate(links):
            self.at[link.start].append(number)
            self.at[link.end].append(number)
        self.columns, self.rows = min(_beginnings(nodes, links), key=lambda one: self.scale.whole(*one).cost)

    @property
    def measures(self) -> Measures:
        """Room that it needs; see `Measures`."""
        return self.scale.whole(self.columns, self.rows)

    def squeezed(self) -> None:
        """Takes empty rows out."""
        order = {row: number for number, row in enumerate(sorted(set(self.rows)))}
        self.rows = [order[row] for row in self.rows]


def arranged(nodes: Sequence[Node], links: Sequence[Link], tries: int | None = None) -> Arrangement:
    """The best `Arrangement` that the search meets with."""
    best, size = Arrangement(nodes, links), len(nodes) + len(links)
    if len(links) > 1:
        best = _improved(best, tries or min(_WORK // size, _TRIES[0] * size, _TRIES[1]))
    best.squeezed()
    return best


def _improved(state: Arrangement, tries: int) -> Arrangement:
    """Annealing: small changes, worse ones taken too at first, ever less of them later."""
    chance, cost = Random(len(state.links)), state.measures.cost
    best, kept = cost, (list(state.columns), list(state.rows))
    for turn in range(tries):
        columns, rows = list(state.columns), list(state.rows)
        _change(state, chance)
        limit = cost - _HEAT * (1.0 - turn / tries) ** 2 * log(1.0 - chance.random())
        tried = state.scale.measures(state.columns, state.rows, limit)
        if tried is not None and tried.cost <= limit:
            cost = tried.cost
            state.squeezed()
            if cost < best - 1e-9:
                best, kept = cost, (list(state.columns), list(state.rows))
        else:
            state.columns, state.rows = columns, rows
    state.columns, state.rows = kept
    return state


def _change(state: Arrangement, chance: Random) -> None:
    """One small change. Links never come to lie over each other: what is in the way gets a row of its own."""
    kind = chance.random()
    if kind < 0.5 and len(state.nodes) > 2:
        node = chance.randrange(len(state.nodes))
        _move_node(state, node, chance)
        _settle(state, state.at[node])
    elif kind < 0.92:
        link = chance.randrange(len(state.links))
        state.rows[link] = _wanted_row(state, link, chance)
        _settle(state, [link])
    else:
        one, other = chance.randrange(max(state.rows) + 1), chance.randrange(max(state.rows) + 1)
        state.rows = [other if row == one else one if row == other else row for row in state.rows]


def _move_node(state: Arrangement, node: int, chance: Random) -> None:
    """To another column; those between close up."""
    here, last = state.columns[node], len(state.nodes) - 1
    there = min(max(here + chance.choice((-3, -2, -1, 1, 2, 3)), 0), last) if chance.random() < 0.6 else chance.randint(0, last)
    step = 1 if here < there else -1
    state.columns = [there if number == node else column - step if min(here, there) <= column <= max(here, there) else column
                     for number, column in enumerate(state.columns)]


def _wanted_row(state: Arrangement, link: int, chance: Random) -> int:
    """A row for a link: near those of its neighbours, or any, the one below the last too."""
    rows, ends = state.rows, state.links[link]
    if chance.random() < 0.6:
        neighbour = chance.choice(state.at[chance.choice((ends.start, ends.end))])
        found: int = max(0, rows[neighbour] + chance.choice((-1, 0, 0, 1)))
        return found
    return chance.randint(0, max(rows) + 1)


def _settle(state: Arrangement, moved: Sequence[int]) -> None:
    """Links that were moved stay in their rows where those are free; else they take the next free row on either side, or a new one between."""
    columns, rows = state.columns, state.rows
    spans = [(1 << max(columns[link.start], columns[link.end])) - (1 << min(columns[link.start], columns[link.end])) for link in state.links]
    loose, taken = set(moved), [0] * (max(rows) + 2)
    for number, row in enumerate(rows):
        if number not in loose:
            taken[row] |= spans[number]
    for number in moved:
        row = rows[number]
        for free in (row, row + 1, row - 1):
            if 0 <= free < len(taken) and not taken[free] & spans[number]:
                break
        else:
            free = row + 1
            for other, at in enumerate(rows):
                rows[other] = at + 1 if at >= free else at
            taken.insert(free, 0)
        taken[free] |= spans[number]
        rows[number] = free
        while len(taken) < max(rows) + 2:
            taken.append(0)


def _beginnings(nodes: Sequence[Node], links: Sequence[Link]) -> Iterator[tuple[list[int], list[int]]]:
    """(columns, rows) to begin from: along the longest way from a tank, all in line, or folded at the edges of the sheet."""
    order, depth = _along(nodes, links)
    plain = sorted(order, key=depth.__getitem__)
    longest = max(depth) or 1.0
    for folds in range(1, min(len(nodes), 12)):
        length = longest / folds + 1.0
        bands = [int(one // length) for one in depth]
        across = [one % length if band % 2 == 0 else length - one % length for one, band in zip(depth, bands)]
        columns = _numbered(sorted(plain, key=across.__getitem__))
        yield columns, _first_rows(columns, links, [min(bands[link.start], bands[link.end]) for link in links])
        if length < PAGE[0]:
            break


def _numbered(order: Sequence[int]) -> list[int]:
    columns = [0] * len(order)
    for column, node in enumerate(order):
        columns[node] = column
    return columns


def _along(nodes: Sequence[Node], links: Sequence[Link]) -> tuple[list[int], list[float]]:
    """Nodes in an order in which links lead on, loops cut where they close; and the length of the longest way to each."""
    ahead: list[list[tuple[int, float]]] = [[] for _ in nodes]
    for link in links:
        ahead[link.start].append((link.end, link.width + 20.0))
    order: list[int] = []
    seen: set[int] = set()
    entered = {link.end for link in links}
    for root in sorted(range(len(nodes)), key=lambda one: (nodes[one].kind != "tank", one in entered, one)):
        if root not in seen:
            _visit(root, ahead, seen, order)
    order.reverse()
    rank = {node: number for number, node in enumerate(order)}
    depth = [0.0] * len(nodes)
    for node in order:
        for following, width in ahead[node]:
            if rank[following] > rank[node]:
                depth[following] = max(depth[following], depth[node] + width)
    return order, depth


def _visit(root: int, ahead: Sequence[Sequence[tuple[int, float]]], seen: set[object] | set[int], order: list[object] | list[int]) -> None:
    """Depth first, without recursion: a run may have hundreds of bends."""
    stack = [(root, iter(ahead[root]))]
    seen.add(root)
    while stack:
        here, rest = stack[-1]
        following = next((one for one, _ in rest if one not in seen), None)
        if following is None:
            order.append(here)
            stack.pop()
        else:
            seen.add(following)
            stack.append((following, iter(ahead[following])))


def _first_rows(columns: Sequence[int], links: Sequence[Link], bands: Sequence[int]) -> list[int]:
    """Each link in the topmost row of its band where it is free to lie, what leads on before what leads back."""
    spans = [sorted((columns[link.start], columns[link.end])) for link in links]
    back = [columns[link.start] > columns[link.end] for link in links]
    rows = [0] * len(links)
    taken: list[int] = []
    first, band_now = 0, None
    for number in sorted(range(len(links)), key=lambda one: (bands[one], back[one], spans[one])):
        if bands[number] != band_now:
            first, band_now = len(taken), bands[number]
        left, right = spans[number]
        between = (1 << right) - (1 << left)
        row = next((one for one in range(first, len(taken)) if not taken[one] & between), len(taken))
        if row == len(taken):
            taken.append(0)
        taken[row] |= between
        rows[number] = row
    return rows

