"""Quotes that a line opens and does not close, closes and did not open, or that a text processor bent."""

import re

CURLY = "\u201c\u201d\u201e\u201f\u2018\u2019\u201a\u201b"
_BENT = re.compile(f"[{CURLY}]")
_STRAIGHT = str.maketrans(dict.fromkeys(CURLY, '"'))
_UNQUOTED = re.compile(r"([A-Za-z0-9_-]+)\s*=\s*([^=,\[\]{}\"']*)$")


def fault_of(line: str) -> tuple[int, str, str] | None:
    """(column from 1, what is wrong, cure) of the first wrong quote of a line that is not TOML; None when all are right.

    >>> fault_of('{part = "hose, size = "-8"}')[:2]
    (9, 'the quote that opens here is not closed')
    >>> fault_of('size = -8", length = "11 ft"')[1:]
    ('the quote that closes here was not opened', 'open the quotes as well: size = "-8"; inches are written "3/8 in"')
    >>> fault_of('name = "a" # 3/8"') is None
    True
    """
    at, outside = 0, ""
    while at < len(line) and line[at] != "#":
        mark = line[at]
        if mark in CURLY:
            return _bent(line, at)
        if mark not in "\"'":
            outside += mark
            at += 1
            continue
        start, stop = at, _end(line, at)
        if stop is None or not _goes_on(line[stop:]):
            return _unbalanced(line, start, stop, outside)
        at = stop
        outside = ""
    return None


def _end(line: str, start: int) -> int | None:
    """Where the text that opens at `start` ends, one behind its closing quote; None when it does not."""
    at, mark = start + 1, line[start]
    while at < len(line) and line[at] != mark:
        at += 2 if mark == '"' and line[at] == "\\" else 1
    return at + 1 if at < len(line) else None


def _goes_on(rest: str) -> bool:
    """True when what stands behind a closed text may stand there."""
    rest = rest.lstrip()
    return not rest or rest[0] in ",]}=.#"


def _unbalanced(line: str, start: int, end: int | None, outside: str) -> tuple[int, str, str]:
    inside = line[start + 1:] if end is None else line[start + 1:end - 1]
    bent = _BENT.search(inside) if end is None else None
    if bent:
        return _bent(line, start + 1 + bent.start())
    bare = _UNQUOTED.search(outside)
    if bare and bare[2].strip():
        whole = f'{bare[1]} = "{bare[2].strip()}"'
        return start + 1, "the quote that closes here was not opened", f'open the quotes as well: {whole}; inches are written "3/8 in"'
    if end is not None and not re.search(r"[,=\[\]{}]", inside):
        if re.match(r"\s*[A-Za-z0-9_-]+\s*=", line[end:]):
            return end, "no comma stands between two keys", "put a comma here"
        if re.match(r"\s*;", line[end:]):
            return end, "text goes on behind the quote that closes it", "delete the ;"
        cure = 'write inches as in: "3/8 in"' if line[start] == '"' else 'a text that holds a \' stands in double quotes: "..."'
        return end, "text goes on behind the quote that closes it", cure
    kept = re.split(r"[,\]}=#\"]", inside, maxsplit=1)[0].strip()
    return start + 1, "the quote that opens here is not closed", f'close the quotes, as in "{kept}", and write inches as in: "3/8 in"'


def _bent(line: str, at: int) -> tuple[int, str, str]:
    straight = line.translate(_STRAIGHT).strip()
    cure = 'replace curly quotes, \u201c \u201d, which text processors make, by plain ones, " "'
    return at + 1, "a curly quote", f"{cure}: {straight}" if len(straight) < 60 else cure
