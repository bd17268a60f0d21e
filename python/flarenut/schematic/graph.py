"""A circuit as nodes and links: places where lines meet, and what lies in series between two of them, with the room that each takes.

A run of many parts is cut into shorter links by bends, nodes that nothing is written at, so that it can be laid in several rows.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import ceil
from typing import Any

from .letters import lines_of, width_of
from .symbols import ARROW, SYMBOLS, Symbol, boxed

NAME, DETAIL = 11, 10  # letter sizes
LINE = 12.5  # from one line of words to the next
TAG_HEIGHT, TAG_SIZE = 14, 10
LABEL_WIDTH = 96
_LEAD_WIDTH = 84
_AIR = 5  # left free to either side of what stands in a row
_CHUNK = 4  # parts of a run that stay together in a row


@dataclass
class Item:
    """One thing on a link: a symbol, words under it, a tag and a pilot's word over it."""

    symbol: Symbol
    label: list[tuple[str, int]]  # (text, letter size), from top to bottom
    name: str = ""  # what answers and findings call it
    tag: str = ""  # severity of its worst finding
    pilot: str = ""  # where a dashed line over it goes
    tip: str = ""  # told when it is pointed at
    is_arrow: bool = False
    backwards: bool = False  # an arrow against the direction written
    word: str = ""  # written inside a plain box
    key: str = ""  # of its symbol

    def __post_init__(self) -> None:
        words = max((width_of(text, size) for text, size in self.label), default=0.0)
        self.under_half = max(words / 2, self.symbol.half if self.symbol.under > 6 else 0)
        self.over_half = max(self.symbol.half, width_of(self.pilot, DETAIL) / 2, tag_width(self.tag) / 2)
        self.half = max(self.under_half, self.over_half, self.symbol.half) + _AIR
        self.over = self.symbol.over + 12 * bool(self.pilot) + (TAG_HEIGHT + 3) * bool(self.tag)
        self.under = max(self.symbol.under + 4, 10) + LINE * len(self.label)


@dataclass
class Node:
    """A place where links meet. kind: that of the junction, or "tee" or "bend"."""

    name: str
    kind: str
    label: list[tuple[str, int]] = field(default_factory=list)  # over its upper end; of a tank under its symbol
    tag: str = ""
    tip: str = ""
    gauge: bool = False
    flow: tuple[str, bool] | None = None  # (words, comes in) of what is drawn here

    def __post_init__(self) -> None:
        words = max((width_of(text, size) for text, size in self.label), default=0.0) / 2
        words = max(words, tag_width(self.tag) / 2)
        tall = LINE * len(self.label) + (TAG_HEIGHT + 3) * bool(self.tag)
        if self.kind == "bend":
            self.over_half = self.under_half = self.over = self.under = 0.0
        elif self.kind == "tank":
            self.over_half, self.over, self.under_half, self.under = 0.0, 0.0, max(words, 19), 38 + tall
        else:
            self.over_half, self.over = max(words, 9 * self.gauge), tall + 7 + 22 * self.gauge
            self.under_half, self.under = (max(width_of(self.flow[0], DETAIL) / 2, 5), 48) if self.flow else (0.0, 0.0)


@dataclass
class Link:
    """What lies in series between two nodes. `start` and `end` are places in the list of nodes; the first link of a run holds its arrow."""

    start: int
    end: int
    items: list[Item]
    run: str = ""

    def __post_init__(self) -> None:
        self.width = sum(2 * item.half for item in self.items)
        self.over = max((item.over for item in self.items), default=0.0)
        self.under = max((item.under for item in self.items), default=0.0)
        self.clear_start, self.clear_end = _clear(self.items), _clear(self.items[::-1])


def _clear(items: Sequence[Item]) -> tuple[float, float]:
    """(over, under) the line: how far from the end of a link nothing stands."""
    found = []
    for reach in ("over_half", "under_half"):
        free = 0.0
        for item in items:
            if item.is_arrow and not item.tag and reach == "over_half":
                free += 2 * item.half
                continue
            free += item.half - getattr(item, reach)
            break
        found.append(free)
    return found[0], found[1]


def tag_width(tag: str) -> float:
    """Width of the box of a tag."""
    return width_of(tag.upper(), TAG_SIZE, bold=True) + 8 if tag else 0.0


def labelled(name: str, *details: str, width: int = LABEL_WIDTH) -> list[tuple[str, int]]:
    """Lines of a label: the name in the larger letters, everything else below it."""
    lines = [(line, NAME) for line in lines_of(name, NAME, width)]
    for detail in details:
        lines += [(line, DETAIL) for line in lines_of(detail, DETAIL, width)]
    return lines


def part_item(key: str | None, title: str, details: Sequence[str], **more: Any) -> Item:
    """The `Item` of a part; without a symbol of its own, `key` None, a plain box with its `word`."""
    if key is None:
        word = lines_of(more["word"], DETAIL, LABEL_WIDTH - 10, most=1)[0]
        return Item(boxed(max(width_of(word, DETAIL) + 10, 34), 24), labelled(title, *details), key="box", **{**more, "word": word})
    return Item(SYMBOLS[key], labelled(title, *details), key=key, **{**more, "word": ""})


def arrow_item(run: str, flow: str = "", backwards: bool = False, when: str = "", **more: str) -> Item:
    """What leads a run: an arrow, its name and its flow, and the tag of what is found of the whole run, with the cases of it."""
    label = [(line, DETAIL) for text in (run, flow, when) for line in lines_of(text, DETAIL, _LEAD_WIDTH, most=2)]
    return Item(ARROW, label, is_arrow=True, backwards=backwards, **more)


def links_of_run(nodes: list[Node], start: int, end: int, items: Sequence[Item], run: str, backwards: bool = False) -> list[Link]:
    """The links of a run, which adds its bends to the nodes. `items` begin with the run's arrow."""
    lead, parts = items[:1], items[1:]
    pieces = max(1, ceil(len(parts) / _CHUNK))
    size = ceil(len(parts) / pieces)
    links, here = [], start
    for number in range(pieces):
        last = number == pieces - 1
        if not last:
            nodes.append(Node(f"{run}, bend {number + 1}", "bend"))
        there = end if last else len(nodes) - 1
        head = lead if number == 0 else [Item(ARROW, [], is_arrow=True, backwards=backwards)]
        links.append(Link(here, there, [*head, *parts[number * size:(number + 1) * size]], run))
        here = there
    return links

