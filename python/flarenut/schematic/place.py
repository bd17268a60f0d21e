"""Where everything of an arrangement stands on the sheet: columns and rows in units, parts along their lines, words at their places."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeAlias

from .weigh import ROW_GAP
from .graph import DETAIL, LINE, TAG_HEIGHT
from .symbols import DRAWN, FED, FIXED, GAUGE, MEETING, TANK, TEE

if TYPE_CHECKING:
    from .arrange import Arrangement
    from .graph import Item, Node
    from .symbols import Symbol

_BESIDE = 9.0  # from a line that is crossed to the nearest part
_HOP = 5.0  # half the width of the bow over a line that is crossed
_BASE = 9.5  # from the top of a line of words to the feet of its letters


@dataclass
class Placed:
    """A symbol on the sheet. `faces` is 1, or -1 where liquid enters from the right."""

    symbol: Symbol
    x: float
    y: float
    faces: int = 1
    tag: str = ""
    tip: str = ""
    word: str = ""
    key: str = ""


@dataclass
class Words:
    """A line of text: where its feet stand and where it is anchored, "middle" or "start"."""

    text: str
    x: float
    y: float
    size: float
    anchor: str = "middle"
    quiet: bool = False


@dataclass
class Drawing:
    """All that is drawn, and how far it reaches."""

    symbols: list[Placed] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)
    tags: list[tuple[str, float, float]] = field(default_factory=list)  # (severity, x and y of its middle)
    pipes: list[str] = field(default_factory=list)  # path data
    left: float = 0.0
    right: float = 0.0
    height: float = 0.0
    crossings: int = 0


def placed(arrangement: Arrangement) -> Drawing:
    """The `Drawing` of an arrangement; its corner is at (left, 0)."""
    return _Placing(arrangement).drawing()


Stretch: TypeAlias = "tuple[int, int, tuple[float, float], list[Item]]"  # left column, right column, pads, items from left to right


class _Placing:
    def __init__(self, arrangement: Arrangement) -> None:
        self.state, self.nodes, self.links = arrangement, arrangement.nodes, arrangement.links
        self.needs, self.rows = arrangement.measures, arrangement.rows
        self.spans = list(zip(self.needs.left, self.needs.right))
        self.reaches = list(zip(self.needs.top, self.needs.bottom))
        self.node_at = {column: node for node, column in enumerate(arrangement.columns)}
        self.crossed = [self._crossed(number) for number in range(len(self.links))]
        self.column_x, self.stretches = self._columns()
        self.row_y, self.height = self._row_places()
        self.found = Drawing(height=self.height)

    # ---- where columns and rows lie ----

    def _crossed(self, number: int) -> list[int]:
        """Columns whose lines a link crosses, from left to right."""
        (left, right), row = self.spans[number], self.rows[number]
        return [column for column in range(left + 1, right) if self.reaches[self.node_at[column]][0] <= row <= self.reaches[self.node_at[column]][1]]

    def _columns(self) -> tuple[list[float], list[list[tuple[int, int, tuple[float, float], list[Item]]]]]:
        """Place of each column; and for each link its stretches: (left column, right column, pads, items from left to right)."""
        needs = [(column, column + 1, gap) for column, gap in enumerate(self.needs.gaps)]
        whole = [self._whole(number) for number in range(len(self.links))]
        places = _least(len(self.nodes), needs + [_need(one) for one in whole])
        stretches = [[one] if not self.crossed[number] else self._split(one, self.crossed[number], places) for number, one in enumerate(whole)]
        needs += [_need(one) for several in stretches for one in several]
        return _eased(_least(len(self.nodes), needs), needs, self.spans), stretches

    def _whole(self, number: int) -> Stretch:
        left, right = self.spans[number]
        items = self.links[number].items
        return left, right, self.needs.pads[number], items[::-1] if self._back(number) else items

    def _back(self, number: int) -> bool:
        return self.state.columns[self.links[number].start] > self.state.columns[self.links[number].end]

    def _split(self, whole: Stretch, crossed: Sequence[int], places: Sequence[float]) -> list[Stretch]:
        """The parts of a link shared out among the stretches between the lines that it crosses, each to where it would stand anyway."""
        left, right, pads, items = whole
        marks = [left, *crossed, right]
        shares: list[list[Item]] = [[] for _ in marks[1:]]
        middles = _spread(items, places[left] + pads[0], places[right] - pads[1])
        for item, middle in zip(items, middles):
            shares[sum(places[column] <= middle for column in crossed)].append(item)
        return [(one, other, (pads[0] if one == left else _BESIDE, pads[1] if other == right else _BESIDE), share)
                for one, other, share in zip(marks, marks[1:], shares)]

    def _row_places(self) -> tuple[list[float], float]:
        places, here = [], 0.0
        for above, below in zip(self.needs.over, self.needs.under):
            places.append(here + above)
            here += above + below + ROW_GAP
        return places, here - ROW_GAP

    # ---- drawing ----

    def drawing(self) -> Drawing:
        for number in range(len(self.links)):
            self._link(number)
        for number, node in enumerate(self.nodes):
            self._node(number, node)
        outer = [x for node, x in zip(self.nodes, map(self._x, range(len(self.nodes)))) for x in (x - _half(node), x + _half(node))]
        self.found.left, self.found.right = min(outer), max(outer)
        return self.found

    def _x(self, node: int) -> float:
        return self.column_x[self.state.columns[node]]

    def _link(self, number: int) -> None:
        y, faces = self.row_y[self.rows[number]], -1 if self._back(number) else 1
        here, data = self.column_x[self.spans[number][0]], []
        data.append(f"M {here:.1f} {y:.1f}")
        for left, right, pads, items in self.stretches[number]:
            start, end = self.column_x[left], self.column_x[right]
            if left != self.spans[number][0]:
                data.append(f"L {start - _HOP:.1f} {y:.1f} Q {start:.1f} {y - 2 * _HOP:.1f} {start + _HOP:.1f} {y:.1f}")
                self.found.crossings += 1
            for item, x in zip(items, _spread(items, start + pads[0], end - pads[1])):
                data.append(f"L {x - item.symbol.half:.1f} {y:.1f} M {x + item.symbol.half:.1f} {y:.1f}")
                self._item(item, x, y, -faces if item.backwards else faces)
        data.append(f"L {self.column_x[self.spans[number][1]]:.1f} {y:.1f}")
        self.found.pipes.append(" ".join(data))

    def _item(self, item: Item, x: float, y: float, faces: int) -> None:
        self.found.symbols.append(Placed(item.symbol, x, y, faces, item.tag, item.tip, item.word, item.key))
        self._under(item.label, x, y + max(item.symbol.under + 4, 10), quiet=item.is_arrow)
        above = y - item.symbol.over - 2
        if item.word:
            self.found.words.append(Words(item.word, x, y + 3.5, DETAIL))
        if item.pilot:
            self.found.words.append(Words(item.pilot, x, above - 1, DETAIL))
            above -= 12
        if item.tag:
            self.found.tags.append((item.tag, x, above - TAG_HEIGHT / 2))

    def _under(self, label: Sequence[tuple[str, int]], x: float, y: float, quiet: bool = False) -> None:
        for number, (text, size) in enumerate(label):
            self.found.words.append(Words(text, x, y + _BASE + LINE * number, size, quiet=quiet))

    def _node(self, number: int, node: Node) -> None:
        x, (top, bottom) = self._x(number), self.reaches[number]
        high, low = self.row_y[top], self.row_y[bottom]
        below = self._below(node, x, low)
        if high < low or below > low:
            self.found.pipes.append(f"M {x:.1f} {high:.1f} L {x:.1f} {below:.1f}")
        if node.kind == "bend":
            return
        if node.kind in ("fixed", "tee"):
            self.found.symbols.append(Placed(FIXED if node.kind == "fixed" else TEE, x, high, tag=node.tag, tip=node.tip, key=node.kind))
        self._dots(number, node, x, skip=high if node.kind in ("fixed", "tee") else None)
        if node.kind != "tank":
            self._above(node, x, high)

    def _below(self, node: Node, x: float, low: float) -> float:
        """What hangs under a place; returns how far its line reaches down."""
        if node.kind == "tank":
            self.found.symbols.append(Placed(TANK, x, low + 24, tag=node.tag, tip=node.tip, key="tank"))
            top = low + 40
            if node.tag:
                self.found.tags.append((node.tag, x, top + 2 + TAG_HEIGHT / 2))
                top += TAG_HEIGHT + 3
            self._under(node.label, x, top)
            return low + 12
        if node.flow:
            words, comes_in = node.flow
            self.found.symbols.append(Placed(FED if comes_in else DRAWN, x, low + 20, key="fed" if comes_in else "drawn"))
            self._under([(words, DETAIL)], x, low + 33)
            return low + 8
        return low

    def _above(self, node: Node, x: float, high: float) -> None:
        feet = high - 8
        if node.gauge:
            self.found.pipes.append(f"M {x:.1f} {high:.1f} L {x:.1f} {high - 8:.1f}")
            self.found.symbols.append(Placed(GAUGE, x, high - 17, key="gauge"))
            feet = high - 30
        for text, size in reversed(node.label):
            self.found.words.append(Words(text, x, feet, size))
            feet -= LINE
        if node.tag:
            self.found.tags.append((node.tag, x, feet + LINE - _BASE - 2 - TAG_HEIGHT / 2))

    def _dots(self, number: int, node: Node, x: float, skip: float | None) -> None:
        """A dot wherever three lines or more meet at a place, and a small one at a place on a line."""
        top, bottom = self.reaches[number]
        for row in sorted({self.rows[link] for link in self.state.at[number]}):
            y = self.row_y[row]
            if y == skip:
                continue
            meeting = sum(self.rows[link] == row for link in self.state.at[number]) + (row > top) + (row < bottom)
            meeting += (row == top and node.gauge) + (row == bottom and (node.kind == "tank" or node.flow is not None))
            if meeting > 2 or (row == top and node.kind != "tank"):
                tag, tip = ("", "") if node.kind == "tank" or row > top else (node.tag, node.tip)
                self.found.symbols.append(Placed(MEETING, x, y, tag=tag, tip=tip, key="joined" if meeting > 2 else "place"))


def _half(node: Node) -> float:
    return max(node.over_half, node.under_half, 4.0)


def _need(stretch: tuple[int, int, tuple[float, float], list[Item]]) -> tuple[int, int, float]:
    left, right, pads, items = stretch
    return left, right, sum(pads) + sum(2 * item.half for item in items)


def _least(columns: int, needs: Sequence[tuple[int, int, float]]) -> list[float]:
    """Places of columns, each as far left as the needs (left, right, distance) allow."""
    to: list[list[tuple[int, float]]] = [[] for _ in range(columns)]
    for left, right, distance in needs:
        to[right].append((left, distance))
    places = [0.0] * columns
    for column in range(1, columns):
        places[column] = max(places[left] + distance for left, distance in to[column])
    return places


def _eased(places: list[float], needs: Sequence[tuple[int, int, float]], spans: Sequence[tuple[int, int]]) -> list[float]:
    """The same with columns that have room moved right, where more links go right from them than left."""
    limits: list[list[tuple[int, float]]] = [[] for _ in places]
    for left, right, distance in needs:
        limits[left].append((right, distance))
    for column in range(len(places) - 2, -1, -1):
        free = min(places[right] - distance for right, distance in limits[column])
        pull = sum((left == column) - (right == column) for left, right in spans)
        if pull > 0:
            places[column] = free
        elif pull == 0 and column:
            places[column] = 0.5 * (places[column] + free)
    return places


def _spread(items: Sequence[Item], start: float, end: float) -> list[float]:
    """Middles of items between two ends, from left to right: arrows stay at the end they stand at, the rest share what room is left."""
    room = end - start - sum(2 * item.half for item in items)
    loose = sum(not item.is_arrow for item in items)
    gap, here, middles = max(room, 0.0) / (loose + 1), start, []
    for number, item in enumerate(items):
        if item.is_arrow and number == len(items) - 1 and number:
            here = end - 2 * item.half
        elif not item.is_arrow:
            here += gap
        middles.append(here + item.half)
        here += 2 * item.half
    return middles

