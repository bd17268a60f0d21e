"""Reads a schematic back from its SVG text and says where things lie on each other. Words are measured with the metrics of the font that ships
with matplotlib, whose letters are wider than those of the faces that viewers usually have."""

import re
import xml.etree.ElementTree as ET
from functools import cache
from itertools import combinations
from pathlib import Path
from typing import NamedTuple

SVG = "{http://www.w3.org/2000/svg}"
ON_LINES = ("joined", "place", "fixed", "tee")  # symbols that lines run into from every side
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


class Box(NamedTuple):
    kind: str
    name: str
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other, slack=0.0):
        return (self.left < other.right - slack and other.left < self.right - slack and self.top < other.bottom - slack
                and other.top < self.bottom - slack)


@cache
def letters(bold):
    import matplotlib
    from matplotlib.ft2font import FT2Font

    name = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
    font = FT2Font(str(Path(matplotlib.get_data_path()) / "fonts/ttf" / name))
    font.set_size(100.0, 72)
    return font


@cache
def width(text, size, bold=False):
    """Advance width of a line of text, kerning left out: it only ever draws letters together by hundredths. A letter that the font has not
    is taken as wide as it is high, as those of East Asia are."""
    font = letters(bold)
    return sum(font.load_char(ord(letter)).linearHoriAdvance / 65536 / 100.0 if font.get_char_index(ord(letter)) else 1.0 for letter in text) * size


def moved(element, at):
    """(x, y, scale x, scale y) of what stands in a group that stands at `at`."""
    x, y, wide, tall = at
    found = re.match(r"translate\(([-\d.]+),([-\d.]+)\)(?: scale\(([-\d.]+),([-\d.]+)\))?", element.get("transform", "translate(0,0)"))
    shift_x, shift_y, scale_x, scale_y = (float(one) if one else 1.0 for one in found.groups())
    return x + shift_x * wide, y + shift_y * tall, wide * scale_x, tall * scale_y


class Sheet:
    """`texts`, `tags`, `symbols` as boxes; `pipes` as straight pieces ((x, y), (x, y)); `bows` as boxes of the bows over crossed lines."""

    def __init__(self, svg):
        self.root = ET.fromstring(svg)
        self.texts, self.tags, self.symbols, self.pipes, self.bows = [], [], [], [], []
        self.width, self.height = float(self.root.get("width")), float(self.root.get("height"))
        self._walk(self.root, (0.0, 0.0, 1.0, 1.0), {"anchor": self.root.get("text-anchor")})

    def _walk(self, element, at, style, inside=""):
        for child in element:
            tag, here = child.tag.removeprefix(SVG), child.get("class", inside)
            if tag == "text" and inside != "tag":
                self.texts.append(self._text(child, at, style))
            elif tag == "rect" and inside == "tag":
                x, y, w, h = (float(child.get(one)) for one in ("x", "y", "width", "height"))
                self.tags.append(Box("tag", element.find(f"{SVG}text").text, x + at[0], y + at[1], x + w + at[0], y + h + at[1]))
            elif tag == "path" and inside == "pipes":
                self._pipe(child.get("d"), at)
            elif tag == "g" and child.get("class") == "symbol":
                self.symbols.append(self._symbol(child, moved(child, at)))
            elif tag == "g":
                self._walk(child, moved(child, at), style, here)

    @staticmethod
    def _text(element, at, style):
        size, text = float(element.get("font-size")), element.text or ""
        wide = width(text, size, element.get("font-weight") == "bold")
        x, y = float(element.get("x")) + at[0], float(element.get("y")) + at[1]
        left = x if element.get("text-anchor", style["anchor"]) == "start" else x - wide / 2
        return Box("text", text, left, y - 0.76 * size, left + wide, y + 0.24 * size)

    def _pipe(self, data, at):
        points = []
        for letter, rest in re.findall(r"([MLQ])([^MLQ]*)", data):
            numbers = [float(one) for one in NUMBER.findall(rest)]
            found = [(x + at[0], y + at[1]) for x, y in zip(numbers[::2], numbers[1::2])]
            if letter == "L":
                self.pipes.append((points[-1], found[0]))
            elif letter == "Q":
                self.bows.append(Box("bow", "", points[-1][0], found[0][1], found[1][0], found[1][1]))
            points.append(found[-1])

    @staticmethod
    def _symbol(element, at):
        xs, ys = [], []
        for one in element:
            if one.tag == f"{SVG}circle":
                x, y, radius = (float(one.get(key)) for key in ("cx", "cy", "r"))
                xs += [x - radius, x + radius]
                ys += [y - radius, y + radius]
            elif one.tag == f"{SVG}path":
                points = _points(one.get("d"))
                xs, ys = xs + [x for x, _ in points], ys + [y for _, y in points]
        x, y, wide, tall = at
        xs, ys = sorted(x + one * wide for one in (min(xs), max(xs))), sorted(y + one * tall for one in (min(ys), max(ys)))
        return Box("symbol", element.get("data-key"), xs[0], ys[0], xs[1], ys[1])

    # ---- what lies on what ----

    def troubles(self):
        """Every overlap, as a sentence; none on a good sheet."""
        return [*self._boxes(), *self._words_on_lines(), *self._lines_through_symbols(), *self._lines_on_lines(), *self._outside()]

    def _boxes(self):
        for one, other in combinations([*self.texts, *self.tags, *self.symbols], 2):
            if "symbol" in (one.kind, other.kind) and "box" in (one.name, other.name) and one.kind != other.kind:
                box, word = (one, other) if one.kind == "symbol" else (other, one)
                if word.kind == "text" and box.left <= word.left and word.right <= box.right and box.top <= word.top and word.bottom <= box.bottom:
                    continue  # the word of a plain box stands in it
            if one.meets(other, slack=0.3):
                yield f"{one.kind} '{one.name}' lies on {other.kind} '{other.name}'"

    def _words_on_lines(self):
        for word in [*self.texts, *self.tags]:
            for start, end in self.pipes:
                if word.meets(_box(start, end)):
                    yield f"a line runs through {word.kind} '{word.name}'"
            for bow in self.bows:
                if word.meets(bow):
                    yield f"a bow runs through {word.kind} '{word.name}'"

    def _lines_through_symbols(self):
        for symbol in self.symbols:
            if symbol.name in ON_LINES:
                continue
            for start, end in self.pipes:
                if symbol.meets(_box(start, end), slack=0.6):
                    yield f"a line runs through symbol '{symbol.name}'"

    def _lines_on_lines(self):
        flat = [_box(*one) for one in self.pipes if one[0][1] == one[1][1]]
        upright = [_box(*one) for one in self.pipes if one[0][0] == one[1][0]]
        yield from ("two lines lie on each other" for several in (flat, upright) for one, other in combinations(several, 2)
                    if min(one.right, other.right) - max(one.left, other.left) > 0.5 - _thick(one, other, "left", "right")
                    and min(one.bottom, other.bottom) - max(one.top, other.top) > 0.5 - _thick(one, other, "top", "bottom"))
        for one in flat:
            for other in upright:
                if one.left + 0.5 < other.left < one.right - 0.5 and other.top + 0.5 < one.top < other.bottom - 0.5:
                    yield "two lines cross without a bow"
        if len(flat) + len(upright) < len(self.pipes):
            yield "a line is neither level nor upright"

    def _outside(self):
        for one in [*self.texts, *self.tags, *self.symbols]:
            if one.left < 0 or one.top < 0 or one.right > self.width or one.bottom > self.height:
                yield f"{one.kind} '{one.name}' reaches over the edge"


def _thick(one, other, low, high):
    """Lines have no thickness across: there they lie on each other where they stand in one place."""
    return 1.0 if getattr(one, low) == getattr(one, high) and getattr(other, low) == getattr(other, high) else 0.0


def _box(start, end):
    return Box("line", "", min(start[0], end[0]), min(start[1], end[1]), max(start[0], end[0]), max(start[1], end[1]))


def _points(data):
    """Points that a path goes through, curves in twenty steps."""
    points = []
    for letter, rest in re.findall(r"([MLQ])([^MLQZ]*)", data):
        numbers = [float(one) for one in NUMBER.findall(rest)]
        found = list(zip(numbers[::2], numbers[1::2]))
        if letter == "Q":
            (begin, (bend, end)) = points[-1], found
            found = [tuple((1 - t) ** 2 * a + 2 * t * (1 - t) * b + t * t * c for a, b, c in zip(begin, bend, end))
                     for t in (n / 20 for n in range(1, 21))]
        points += found
    return points
