"""What an arrangement needs of room, and how well it reads. Asked hundreds of times by the search, so it is one pass over plain lists."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .graph import Link, Node

PAGE = (1080.0, 610.0)  # width and height that a landscape sheet of letter or A4 shows at full size, beside title and key
GAP, ROW_GAP = 12.0, 9.0
_LEAST_PAD, _AIR = 9.0, 5.0  # of a line before the first thing on it; between what stands on it and the words at its end

# Weights, by looking at drawings: a crossing is worth a tenth of the sheet, a row that a place reaches over a hundredth.
_SIZE, _AREA, _CROSSING, _RAIL, _TANK = 55.0, 6.0, 5.0, 0.55, 0.7
_SMALL = 0.8  # share of a sheet under which smaller is no better
_BACK, _DRAWN_BACK, _RETURN_BACK = 1.6, 4.0, 0.4  # a link from right to left; one from a tank; one to a tank
_RETURN_ON = 2.0  # a link to a tank from left to right
_FEED_LOW, _RETURN_HIGH = 0.12, 0.06  # for each row that a feed lies lower, or a return higher


class Measures:
    """Room and cost of one arrangement. Lists by link: `left`, `right` (columns), `pads` ((at left, at right) free length). By node: `top`,
    `bottom` (rows). By row: `over`, `under` its line. By column: `gaps` to the next, `places`. And `crossings`, `cost`."""

    __slots__ = ("left", "right", "pads", "top", "bottom", "over", "under", "gaps", "places", "crossings", "cost")

    left: list[int]
    right: list[int]
    pads: list[tuple[float, float]]
    top: list[int]
    bottom: list[int]
    over: list[float]
    under: list[float]
    gaps: list[float]
    places: list[float]
    crossings: int
    cost: float


class Scale:
    """Weighs arrangements of the same nodes and links."""

    def __init__(self, nodes: Sequence[Node], links: Sequence[Link]) -> None:
        self.links = [(link.start, link.end, link.width, link.over, link.under, *link.clear_start, *link.clear_end, nodes[link.start].kind == "tank",
                       nodes[link.end].kind == "tank") for link in links]
        self.nodes = [(node.over_half, node.under_half, node.over, node.under) for node in nodes]
        self.tanks = [number for number, node in enumerate(nodes) if node.kind == "tank"]

    def measures(self, columns: Sequence[int], rows: Sequence[int], limit: float = inf) -> Measures | None:
        """The `Measures` of nodes in these columns and links in these rows; None as soon as it is sure that the cost is above the limit."""
        found = Measures()
        self._reaches(found, rows)
        self._rows(found, rows)
        self._links(found, columns, rows)
        tall = (sum(found.over) + sum(found.under) + ROW_GAP * len(set(rows))) / PAGE[1]
        cost = _AREA * tall + _CROSSING * found.crossings + _RAIL * (sum(found.bottom) - sum(found.top)) + self._order(columns, rows)
        if cost + _SIZE * max(tall, _SMALL) > limit:
            return None
        self._pads(found, columns, rows)
        self._columns(found, columns)
        wide = found.places[-1] / PAGE[0]
        found.cost = cost + _AREA * wide + _SIZE * max(wide, tall, _SMALL)
        return found

    def whole(self, columns: Sequence[int], rows: Sequence[int]) -> Measures:
        """The `Measures` whatever they cost."""
        found = self.measures(columns, rows)
        assert found is not None, "no cost is above infinity"
        return found

    def _reaches(self, found: Measures, rows: Sequence[int]) -> None:
        top, bottom = [1 << 30] * len(self.nodes), [-1] * len(self.nodes)
        for (start, end, *_), row in zip(self.links, rows):
            for node in (start, end):
                if row < top[node]:
                    top[node] = row
                if row > bottom[node]:
                    bottom[node] = row
        found.top, found.bottom = top, bottom

    def _rows(self, found: Measures, rows: Sequence[int]) -> None:
        """What each row needs over and under its line; nothing where it is empty."""
        over, under = [0.0] * (max(rows) + 1), [0.0] * (max(rows) + 1)
        for (_, _, _, above, below, *_), row in zip(self.links, rows):
            if above > over[row]:
                over[row] = above
            if below > under[row]:
                under[row] = below
        for (_, _, above, below), top, bottom in zip(self.nodes, found.top, found.bottom):
            if above > over[top]:
                over[top] = above
            if below > under[bottom]:
                under[bottom] = below
        found.over, found.under = over, under

    def _links(self, found: Measures, columns: Sequence[int], rows: Sequence[int]) -> None:
        """Between which columns each link lies, and how many it crosses."""
        upright = [0] * (max(rows) + 1)
        for column, top, bottom in zip(columns, found.top, found.bottom):
            bit = 1 << column
            for row in range(top, bottom + 1):
                upright[row] |= bit
        left, right, crossed = [], [], 0
        for (start, end, *_), row in zip(self.links, rows):
            one, other = columns[start], columns[end]
            if one > other:
                one, other = other, one
            crossed += (upright[row] & ((1 << other) - (2 << one))).bit_count()
            left.append(one)
            right.append(other)
        found.left, found.right, found.crossings = left, right, crossed

    def _pads(self, found: Measures, columns: Sequence[int], rows: Sequence[int]) -> None:
        """What each link has to leave free for the words at its ends."""
        top, bottom, nodes, pads = found.top, found.bottom, self.nodes, []
        for (start, end, _, _, _, over_start, under_start, over_end, under_end, _, _), row in zip(self.links, rows):
            first = last = _LEAST_PAD
            over, under, *_ = nodes[start]
            if over and row == top[start] and over + _AIR - over_start > first:
                first = over + _AIR - over_start
            if under and row == bottom[start] and under + _AIR - under_start > first:
                first = under + _AIR - under_start
            over, under, *_ = nodes[end]
            if over and row == top[end] and over + _AIR - over_end > last:
                last = over + _AIR - over_end
            if under and row == bottom[end] and under + _AIR - under_end > last:
                last = under + _AIR - under_end
            pads.append((first, last) if columns[start] < columns[end] else (last, first))
        found.pads = pads

    def _columns(self, found: Measures, columns: Sequence[int]) -> None:
        """Least distances between columns, and where they stand when all is as close as that."""
        count, nodes, top, bottom = len(columns), self.nodes, found.top, found.bottom
        order = [0] * count
        for node, column in enumerate(columns):
            order[column] = node
        ending: list[list[tuple[int, float]]] = [[] for _ in columns]
        for (_, _, width, *_), left, right, (first, last) in zip(self.links, found.left, found.right, found.pads):
            ending[right].append((left, width + first + last))
        gaps, places, here = [], [0.0], 0.0
        for column in range(1, count):
            one, other = order[column - 1], order[column]
            (over_one, under_one, *_), (over_other, under_other, *_) = nodes[one], nodes[other]
            over = over_one + over_other if top[one] == top[other] else max(over_one, over_other)
            under = under_one + under_other if bottom[one] == bottom[other] else max(under_one, under_other)
            gaps.append(GAP + (over if over > under else under))
            here += gaps[-1]
            for left, width in ending[column]:
                if places[left] + width > here:
                    here = places[left] + width
            places.append(here)
        found.gaps, found.places = gaps, places

    def _order(self, columns: Sequence[int], rows: Sequence[int]) -> float:
        """What it costs to read links from right to left, and tanks that do not stand to the left."""
        cost = _TANK * sum([columns[tank] for tank in self.tanks])
        for (start, end, *_, leaves_tank, returns), row in zip(self.links, rows):
            back = columns[start] > columns[end]
            if returns:
                cost += (_RETURN_BACK if back else _RETURN_ON) - _RETURN_HIGH * row
            else:
                cost += ((_DRAWN_BACK if leaves_tank else _BACK) if back else 0.0) + (_FEED_LOW * row if leaves_tank else 0.0)
        return cost
