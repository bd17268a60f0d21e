"""What is wrong with a circuit file, and how it is shown: place, line with a caret, reason, cure."""

from __future__ import annotations

import unicodedata
from textwrap import wrap
from typing import TYPE_CHECKING, TypeAlias

from ...units.letters import visible

if TYPE_CHECKING:
    from .positions import Span

_WIDEST = 110  # columns of a quoted line; longer ones are cut around the caret
_MOST_SHOWN = 20  # more problems than this are counted, not shown


Steps: TypeAlias = tuple[str | int, ...]  # keys and indices down to a value of a file


class Problem:
    """One thing wrong in a file.

    Parameters
    ----------
    reason : what is wrong, a sentence without its full stop
    hint : what to write instead; may be empty
    path : keys and indices down to the value
    on : "key" or "value": which of the two the caret points at
    place : the same place in shop words, "run 'feed', part 2 (hose)"; may be empty
    span : line, column and width, where they are known already
    also : path of another place that is part of it, such as the first use of a name; its line is told
    """

    def __init__(self, reason: str, hint: str = "", *, path: Steps = (), on: str = "value", place: str = "",
                 span: Span | None = None, also: Steps | None = None) -> None:
        self.reason = reason
        self.hint = hint
        self.path = tuple(path)
        self.on = on
        self.place = place
        self.span = span
        self.also = also
        self.also_line: int | None = None
        self.guess: str | None = None  # the name that was meant, where one is thought of

    def __repr__(self) -> str:
        return f"Problem({self.reason!r}, path={self.path!r})"


class FileError(ValueError):
    """A circuit file that cannot be used. `problems` lists everything found, in the order of the lines.

    Parameters
    ----------
    file : name of the file, as messages show it
    problems : list of `Problem`
    text : the text of the file, for quoting lines; None where it could not be read
    """

    def __init__(self, file: str, problems: list[Problem], text: str | None = None) -> None:
        self.file = str(file)
        self.text = text
        if text is not None:
            from .positions import Positions  # only errors pay for the second pass

            places = Positions(text)
            for problem in problems:
                if problem.span is None:
                    whole_part = (*problem.path, "part")  # a part as a whole is shown by its word
                    problem.span = places.value(whole_part) if places.knows(whole_part) else \
                        (places.key if problem.on == "key" else places.value)(problem.path)
                if problem.also is not None:
                    problem.also_line = places.key(problem.also).line
            problems = sorted(problems, key=lambda problem: problem.span[:2] if problem.span else (0, 0))
            self._line_text = places.line_text
        self.problems = list(problems)
        super().__init__(visible(self._words()))

    def __reduce__(self) -> tuple[type[FileError], tuple[str, list[Problem], str | None]]:
        return type(self), (self.file, self.problems, self.text)

    def _words(self) -> str:
        shown = [self._one(problem) for problem in self.problems[:_MOST_SHOWN]]
        if len(self.problems) > _MOST_SHOWN:
            shown.append(f"and {len(self.problems) - _MOST_SHOWN} more problems")
        return "\n\n".join(shown)

    def _one(self, problem: Problem) -> str:
        at = "" if problem.span is None else f":{problem.span.line}:{problem.span.column}"
        where = f" {problem.place}:" if problem.place else ""
        other = "" if problem.also_line is None else f"; the other use is in line {problem.also_line}"
        lines = [f"{self.file}{at}:{where} {problem.reason}{other}"]
        if problem.span is not None:
            lines += _quote(self._line_text(problem.span.line), problem.span)
        if problem.hint:
            lines += wrap(f"cure: {problem.hint}", _WIDEST, initial_indent="  ", subsequent_indent="        ", break_long_words=False,
                          break_on_hyphens=False)
        return "\n".join(lines)


def _quote(text: str, span: Span) -> list[str]:
    """The line and a row of carets under the span, cut to a readable width."""
    start, stop = span.column - 1, span.column - 1 + span.width
    first = max(0, min(start - 30, len(text) - _WIDEST)) if len(text) > _WIDEST else 0
    cut = text[first:first + _WIDEST]
    lead = "..." if first else ""
    shown = lead + "".join(letter if letter.isprintable() or letter == "\t" else "?" for letter in cut)
    if first + _WIDEST < len(text):
        shown += "..."
    under = " " * len(lead) + "".join("\t" if letter == "\t" else " " * _width(letter) for letter in cut[:start - first])
    carets = "^" * max(1, sum(_width(letter) for letter in cut[start - first:stop - first]))
    number = f"{span.line:6d}"
    return [f"{number} | {shown}", f"{' ' * len(number)} | {under}{carets}"]


def _width(letter: str) -> int:
    """Columns a letter takes on a terminal."""
    if unicodedata.combining(letter):
        return 0
    return 2 if unicodedata.east_asian_width(letter) in "WF" else 1
