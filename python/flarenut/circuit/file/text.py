"""Bytes to a checked TOML table: what can be wrong before a single key has been looked at."""

import re
import sys
import tomllib
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from ...units.errors import nearest
from ...units.letters import code_of, unseen
from .positions import Positions, Span
from .problems import FileError, Problem, Steps
from .quotes import fault_of

DEEPEST = 30  # tables in tables; a sweep's values are six down
LARGEST = 2_000_000  # bytes; a circuit of a whole vehicle is a hundredth of it

_AT = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$")
_HEADING = re.compile(r"""\s*\[\[?[\w."' -]+\]\]?\s*(?:#.*)?$""")
_SPACED_KEY = re.compile(r"^\s*([A-Za-z][\w-]*(?: +[\w.-]+)+)\s*=")
_BARE_WORDS = re.compile(r"""^\s*(?:\{.*?|.*?[,{]\s*)?([A-Za-z0-9_-]+)\s*=\s*([^\s"'\[{#][^,}\]#]*?)\s*(?:[,}\]#].*)?$""")


def read_text(path: str | Path) -> str:
    """Text of a file; "-" is standard input. Raises `FileError` saying why it cannot be read."""
    name = str(path)
    try:
        if name == "-":
            data, name = sys.stdin.buffer.read(LARGEST + 1), "standard input"
        else:
            with open(path, "rb") as file:
                data = file.read(LARGEST + 1)
    except FileNotFoundError:
        raise FileError(name, [Problem("there is no such file", _similar(Path(path)))]) from None
    except IsADirectoryError:
        raise FileError(name, [Problem("is a folder, not a file", "name a circuit file inside it, '....toml'")]) from None
    except (OSError, ValueError) as error:  # ValueError: a zero byte in the name
        why = getattr(error, "strerror", None) or str(error)
        raise FileError(name, [Problem(f"cannot be read: {why}", "check the name and the permissions")]) from None
    if len(data) > LARGEST:
        raise FileError(name, [Problem(f"is larger than {LARGEST // 10**6} MB", "a circuit file is a few kilobytes of text")])
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = data[:error.start]
        line = before.count(b"\n") + 1
        column = len(before.rpartition(b"\n")[2].decode("utf-8-sig", "replace")) + 1
        problem = Problem(f"line {line}, column {column}: byte 0x{data[error.start]:02x} is not UTF-8 text",
                          "save the file as UTF-8 text; a spreadsheet or word-processor file does not work")
        raise FileError(name, [problem]) from None


def read_table(text: str, name: str) -> dict[str, Any]:
    """The table that the TOML text holds. Raises `FileError` with line, caret and the likeliest cure."""
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise FileError(name, [_syntax_problem(text, str(error))], text) from None
    except RecursionError:
        raise FileError(name, [Problem("brackets are nested too deeply", "close the brackets opened before")]) from None
    except (ValueError, OverflowError) as error:  # a date that no calendar has, a number beyond reading
        raise FileError(name, [Problem(f"holds a value that cannot be read: {error}", "correct the value")]) from None
    if _deeper_than(table, DEEPEST):
        raise FileError(name, [Problem("tables are nested too deeply", "write each heading as docs/guide/circuit_files.md has it")])
    problems = [_unseen_problem(path, on, letter) for path, on, letter in _unseen_letters(table)]
    if problems:
        raise FileError(name, problems, text)
    return table


def _deeper_than(table: dict[str, Any],
                 levels: int) -> bool:
    """Whether tables and lists are nested deeper; whoever walks a text with a path to each value would need room for all of them."""
    layer: list[Any] = [table]
    for _ in range(levels):
        layer = [inner for one in layer for inner in (one.values() if isinstance(one, dict) else one) if isinstance(inner, (dict, list))]
        if not layer:
            return False
    return True


def _unseen_letters(table: dict[str, Any]) -> Iterator[tuple[Steps, str, str]]:
    """(path, "key" or "value", letter) of what is written as an escape and would reach names and pages unseen."""
    waiting: list[tuple[Steps, Any]] = [((), table)]
    while waiting:
        path, value = waiting.pop()
        if isinstance(value, str) and (at := unseen(value)) is not None:
            yield path, "value", value[at]
        elif isinstance(value, dict):
            yield from (((*path, key), "key", key[at]) for key in value if (at := unseen(key)) is not None)
            waiting += [((*path, key), item) for key, item in value.items()]
        elif isinstance(value, list):
            waiting += [((*path, number), item) for number, item in enumerate(value)]


def _unseen_problem(path: Steps, on: str, letter: str) -> Problem:
    return Problem(f"holds the invisible letter {code_of(letter)}", "delete it: it would make the text read as something else", path=path, on=on)


def _similar(path: Path) -> str:
    try:
        names = [entry.name for entry in path.parent.iterdir() if entry.suffix == ".toml"]
    except OSError:
        names = []
    close = nearest(path.name, names)
    return f"did you mean '{path.with_name(close)}'?" if close else "check the name; 'flarenut demo' needs no file"


def _syntax_problem(text: str, words: str) -> Problem:
    match = _AT.search(words)
    reason = words[:match.start()] if match else words
    places = Positions(text)
    lines = text.replace("\r\n", "\n").split("\n")
    if match and match[1]:
        line, column = int(match[1]), int(match[2])
    else:
        line = max((number for number, content in enumerate(lines, 1) if content.strip()), default=1)
        column = len(lines[line - 1].rstrip()) + 1
    if places.repeats and ("overwrite" in reason or "twice" in reason or "mutate" in reason or "redefine" in reason):
        return _repeat_problem(places)
    if column > 1 and column > len(lines[line - 1]) and line > 1 and not lines[line - 1].strip():
        column = 1
    content = lines[line - 1] if line <= len(lines) else ""
    single = _run_in_single_brackets(lines, line, reason)
    if single is not None:
        return single
    swallowed = _text_without_end(lines, line)
    if swallowed is not None:
        return swallowed
    wrong = fault_of(content)
    if wrong is not None:
        return Problem(f"is not TOML: {wrong[1]}", wrong[2], span=Span(line, wrong[0], 1))
    return Problem(f"is not TOML: {_lower(reason)}", _syntax_cure(content, column, reason), span=Span(line, column, 1))


def _run_in_single_brackets(lines: Sequence[str], line: int, reason: str) -> Problem | None:
    """[run] above [[run]]: the reader stumbles over the second, and the first is wrong."""
    listed = re.match(r"\s*\[\[\s*(\w+)\s*\]\]", lines[line - 1]) if "verwrite" in reason and line <= len(lines) else None
    for number, content in enumerate(lines[:line - 1], 1):
        wrong = re.match(rf"\s*(\[\s*{listed[1]}\s*\])", content) if listed else None
        if wrong and listed:
            return Problem(f"is not TOML: [{listed[1]}] stands in single brackets here, and in double ones in line {line}",
                           f"write it [[{listed[1]}]] each time", span=Span(number, wrong.start(1) + 1, len(wrong[1])))
    return None


def _text_without_end(lines: Sequence[str], line: int) -> Problem | None:
    """Three quotes open a text of many lines; where nothing closes it, it swallows all that follows."""
    for mark in ('"""', "'''"):
        opened = [number for number, content in enumerate(lines, 1) if content.count(mark) % 2]
        if len(opened) % 2 and opened[-1] <= line:
            column = lines[opened[-1] - 1].rindex(mark) + 1
            return Problem("is not TOML: three quotes open a text of many lines, and nothing closes it",
                           'write one quote on each side, as in "11 ft"', span=Span(opened[-1], column, 3))
    return None


def _repeat_problem(places: Positions) -> Problem:
    path, first, second = places.repeats[0]
    words = ".".join(str(word) for word in path if isinstance(word, str))
    line = places.span(first, first + 1).line
    return Problem(f"'{words}' is given twice; the first stands in line {line}",
                   "keep one of the two; several runs are written with double brackets, [[run]]",
                   span=places.span(second, second + max(1, len(str(path[-1])))))


def _syntax_cure(content: str, column: int, reason: str) -> str:
    spaced = _SPACED_KEY.match(content)
    if spaced and "'='" in reason:
        return f'put a key with spaces in quotes: "{spaced[1]}" = ...' if "." in spaced[1] else f"a key is one word: {spaced[1].replace(' ', '_')} = ..."
    bare = _BARE_WORDS.match(content)
    if bare and bare[2].lower() in ("true", "false", "yes", "no", "on", "off"):
        return f"write {bare[1]} = {'true' if bare[2].lower() in ('true', 'yes', 'on') else 'false'}, in small letters and without quotes"
    if bare and _unreadable(bare[2]):
        return f'put words and units in quotes: {bare[1]} = "{bare[2].strip()}"'
    if "nclosed array" in reason and "{" in content and content.count("[") > content.count("]"):
        return "close the bracket ] of the list, as in [90, 90, 45]"
    before = content[:column - 1]
    if before.count("{") > before.count("}"):
        return "a table in braces {...} stands on one line, with commas between its keys and none behind the last"
    if _HEADING.match(content) and "nvalid value" in reason:
        return "close the bracket ] of the list that begins above this heading"
    if content.lstrip().startswith("[") and "=" not in content:
        if "overwrite" in reason or "twice" in reason:
            return "the same heading stands above in another form; runs are written [[run]] each time, tanks [tank.main]"
        return "a heading is written [tank.main] or [[run]]; a name with spaces goes in quotes, [case.\"full power\"]"
    if re.search(r"=\s*[+-]?\d+,\d+\s*$", content):
        return "write the decimal mark as a point, e.g. 13.5"
    if "after a statement" in reason and content[column - 1:column] == ",":
        return "outside braces every key has a line of its own, without a comma"
    if re.search(r"=\s*(#.*)?$", content):
        return 'give the key a value, e.g. length = "11 ft", or delete the line'
    if "escape" in reason:
        return "inside quotes a backslash has a meaning of its own; leave it out"
    if "character" in reason and column <= len(content) and not content[column - 1].isprintable():
        return "delete the invisible character at the caret"
    if content.count('"') % 2:
        return 'close the quotes, and write inches as in: "3/8 in"'
    if "Unclosed array" in reason:
        return "close the bracket ], and put commas between the items"
    if ":" in content and "=" not in content:
        return 'a key and its value are joined by =, e.g. length = "11 ft"'
    if "=" not in content and content.strip():
        return 'each line is a heading, key = value, or a comment after #'
    return 'a line reads key = "value with unit"; check quotes, commas and brackets on this line and the one before'


def _unreadable(word: str) -> bool:
    try:
        tomllib.loads(f"value = {word}")
    except (tomllib.TOMLDecodeError, ValueError):
        return True
    return False


def _lower(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]
