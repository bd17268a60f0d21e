"""Where each key and value stands in the text of a TOML file.

The standard reader hands out values without their places, so this scanner walks the text a second time, and only once
there is something to complain about. It checks nothing: the reader has accepted the text already, or has refused it, and
then what lies before the fault is enough. Paths are tuples of keys and, inside arrays, of indices.

>>> places = Positions('[[run]]\\nparts = [{part = "hose"}]')
>>> places.key(("run", 0, "parts", 0, "part"))
Span(line=2, column=11, width=4)
>>> places.value(("run", 0, "parts", 0, "part"))
Span(line=2, column=18, width=6)
"""

from __future__ import annotations

from collections.abc import Sequence
import re
from bisect import bisect_right
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from .problems import Steps

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_SPACE = re.compile(r"[ \t]*")
_SPACE_AND_LINES = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
_SCALAR = re.compile(r"[^,\]}\n#]*")
_QUOTED = re.compile(r'"""(?:[^\\]|\\.)*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'', re.DOTALL)
_ESCAPE = re.compile(r'\\(?:u([0-9A-Fa-f]{4})|U([0-9A-Fa-f]{8})|([btnfr"\\]))')
_ESCAPED = {"b": "\b", "t": "\t", "n": "\n", "f": "\f", "r": "\r", '"': '"', "\\": "\\"}


_MOST_WORDS = 100  # of a dotted key; the path of each is kept


class Span(NamedTuple):
    """A stretch of one line: line and column count from 1."""

    line: int
    column: int
    width: int


def _past(pattern: re.Pattern[str], text: str, at: int) -> int:
    """Where a pattern that matches anything, if only nothing, ends."""
    found = pattern.match(text, at)
    assert found is not None, "the pattern matches the empty text"
    return found.end()


class Positions:
    """Places of the keys and values of one text; `key`, `value` and `table` look them up by path.

    A path the text does not hold is answered with its nearest ancestor that it does, and at last with the first line.
    `repeats` lists (path, first offset, second offset) of keys written twice, in the order met.
    """

    def __init__(self, text: str) -> None:
        self._text = text.replace("\r\n", "\n")
        self._starts = [0] + [match.end() for match in re.finditer("\n", self._text)]
        self._keys: dict[tuple[int | str, ...], tuple[int, int]] = {}
        self._values: dict[tuple[int | str, ...], tuple[int, int]] = {}  # path -> (start, end), offsets into the text
        self._declared: set[Steps] = set()  # paths of [headers]
        self._counts: dict[Steps, int] = {}  # path of an array of tables -> how many so far
        self.repeats: list[tuple[Steps, int, int]] = []
        try:
            self._scan()
        except (_Stuck, RecursionError):
            pass  # a fault in the text: what was found before it stays

    # ---- looking up ----

    def key(self, path: Steps) -> Span:
        """Span of the key at the end of the path; of the value for an item of an array."""
        return self._nearest(path, (self._keys, self._values))

    def value(self, path: Steps) -> Span:
        """Span of the value at the end of the path; of the key where it has no value of its own, as a table."""
        return self._nearest(path, (self._values, self._keys))

    def knows(self, path: Steps) -> bool:
        return path in self._keys or path in self._values

    def span(self, start: int, end: int) -> Span:
        """Span of two offsets, cut at the end of the first line."""
        line = bisect_right(self._starts, start)
        line_end = self._text.find("\n", start)
        stop = min(end, line_end if line_end >= 0 else len(self._text))
        return Span(line, start - self._starts[line - 1] + 1, max(1, stop - start))

    def line_text(self, line: int) -> str:
        """Text of a line, counted from 1."""
        lines = self._text.split("\n")
        return lines[line - 1] if 1 <= line <= len(lines) else ""

    def _nearest(self, path: Steps, tables: Sequence[dict[Steps, tuple[int, int]]]) -> Span:
        path = tuple(path)
        while path:
            for table in tables:
                if path in table:
                    return self.span(*table[path])
            path = path[:-1]
        return Span(1, 1, 1)

    # ---- scanning ----

    def _scan(self) -> None:
        table: Steps = ()
        at, end = 0, len(self._text)
        while True:
            at = _past(_SPACE_AND_LINES, self._text, at)
            if at >= end:
                return
            if self._text.startswith("[[", at):
                at, table = self._array_header(at)
            elif self._text[at] == "[":
                at, table = self._header(at)
            else:
                at = self._pair(at, table)

    def _header(self, at: int) -> tuple[int, Steps]:
        parts, at = self._dotted(at + 1)
        path: Steps = ()
        for word, start, stop in parts:
            path = self._last_item(path) + (word,)
            self._mark_header(path, start, stop)
        if path in self._values or path in self._declared or path in self._counts:
            self.repeats.append((path, self._keys[path][0], parts[-1][1]))
        self._declared.add(path)
        return self._expect("]", at), self._last_item(path)

    def _array_header(self, at: int) -> tuple[int, Steps]:
        opening = at
        parts, at = self._dotted(at + 2)
        path: Steps = ()
        for word, start, stop in parts:
            path = self._last_item(path) + (word,)
            self._mark_header(path, start, stop)
        item = self._counts.get(path, 0)
        self._counts[path] = item + 1
        at = self._expect("]", self._expect("]", at))
        self._keys[path + (item,)] = (opening, at)
        return at, path + (item,)

    def _last_item(self, path: Steps) -> Steps:
        return path + (self._counts[path] - 1,) if path in self._counts else path

    def _mark_header(self, path: Steps, start: int, stop: int) -> None:
        if path not in self._keys:
            self._keys[path] = (start, stop)

    def _pair(self, at: int, table: Steps) -> int:
        parts, at = self._dotted(at)
        path = table
        for word, start, stop in parts:
            path += (word,)
            if path in self._values or (len(path) == len(table) + len(parts) and path in self._keys):
                self.repeats.append((path, (self._keys if path in self._keys else self._values)[path][0], start))
            self._keys.setdefault(path, (start, stop))
        at = _past(_SPACE, self._text, self._expect("=", at))
        return self._value(at, path)

    def _value(self, at: int, path: Steps) -> int:
        start, opener = at, self._text[at:at + 1]
        if opener == "[":
            at = self._array(at, path)
        elif opener == "{":
            at = self._inline_table(at, path)
        elif opener in ("'", '"'):
            match = _QUOTED.match(self._text, at)
            if match is None:
                raise _Stuck
            at = match.end()
        else:
            at += len(self._text[at:_past(_SCALAR, self._text, at)].rstrip())
            if at == start:
                raise _Stuck
        self._values.setdefault(path, (start, at))
        return at

    def _array(self, at: int, path: Steps) -> int:
        at, item = at + 1, 0
        while True:
            at = _past(_SPACE_AND_LINES, self._text, at)
            if self._text[at:at + 1] == "]":
                return at + 1
            at = self._value(at, path + (item,))
            item += 1
            at = _past(_SPACE_AND_LINES, self._text, at)
            if self._text[at:at + 1] == ",":
                at += 1
            elif self._text[at:at + 1] != "]":
                raise _Stuck

    def _inline_table(self, at: int, path: Steps) -> int:
        at += 1
        while True:  # lines inside are allowed by newer TOML
            at = _past(_SPACE_AND_LINES, self._text, at)
            if self._text[at:at + 1] == "}":
                return at + 1
            at = self._pair(at, path)
            at = _past(_SPACE_AND_LINES, self._text, at)
            if self._text[at:at + 1] == ",":
                at += 1
            elif self._text[at:at + 1] != "}":
                raise _Stuck

    def _dotted(self, at: int) -> tuple[list[tuple[str, int, int]], int]:
        """Words of a dotted key as (word, start, end), and the offset behind it."""
        parts = []
        while True:
            at = _past(_SPACE, self._text, at)
            quoted = self._text[at:at + 1] in ("'", '"')
            match = (_QUOTED if quoted else _BARE_KEY).match(self._text, at)
            if match is None:
                raise _Stuck
            word = match.group()
            if quoted:
                word = _ESCAPE.sub(_unescape, word[1:-1]) if word[0] == '"' else word[1:-1]
            parts.append((word, at, match.end()))
            if len(parts) > _MOST_WORDS:
                raise _Stuck
            at = _past(_SPACE, self._text, match.end())
            if self._text[at:at + 1] != ".":
                return parts, at
            at += 1

    def _expect(self, mark: str, at: int) -> int:
        if self._text[at:at + 1] != mark:
            raise _Stuck
        return at + 1


class _Stuck(Exception):
    """The text is not TOML from here on."""


def _unescape(match: re.Match[str]) -> str:
    four, eight, letter = match.groups()
    if letter:
        return _ESCAPED[letter]
    code = int(four or eight, 16)
    return chr(code) if code <= 0x10FFFF else "?"
