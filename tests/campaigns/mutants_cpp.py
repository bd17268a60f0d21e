"""Small wrongs put into C++ headers one at a time, in their text: another operator, a boundary moved, a number off."""

import re
from collections import Counter
from pathlib import Path
from typing import NamedTuple

# Operators as clang-format sets them, with a space on either side, so that template brackets and pointers are left alone.
OPERATORS = {" < ": (" <= ", " >= "), " <= ": (" < ", " > "), " > ": (" >= ", " <= "), " >= ": (" > ", " < "), " == ": (" != ",),
             " != ": (" == ",), " + ": (" - ",), " - ": (" + ",), " * ": (" / ",), " / ": (" * ",), " && ": (" || ",), " || ": (" && ",)}
CALLS = {"std::min(": "std::max(", "std::max(": "std::min(", "sqrt(": "cbrt(", "exp(": "expm1("}
TOKEN = re.compile("|".join(re.escape(word) for word in sorted({*OPERATORS, *CALLS}, key=len, reverse=True)))
NUMBER = re.compile(r"(?<![\w.<\"])(?:\d+\.\d*|\.\d+)(?:e[+-]?\d+)?(?![\w.])|(?<![\w.])\d+e[+-]?\d+(?![\w.])")
WORDS = re.compile(r'"(?:[^"\\]|\\.)*"|//.*$')
OFF = 1.1  # what a number is multiplied by; nothing becomes one


class Mutant(NamedTuple):
    path: Path
    line: int
    what: str
    text: str
    start: int  # column of what is replaced, its end, and what stands there instead
    end: int
    instead: str
    nth: int = 1  # of the same change in lines of the same text, for the list of those that no test can tell

    @property
    def told(self) -> str:
        return f"{self.path.parent.name}/{self.path.name}:{self.line}: {self.what} in `{self.text}`"

    @property
    def source(self) -> str:
        """The whole file with this one wrong in it."""
        lines = self.path.read_text(encoding="utf-8").split("\n")
        line = lines[self.line - 1]
        lines[self.line - 1] = line[:self.start] + self.instead + line[self.end:]
        return "\n".join(lines)


def mutants_of(path: Path) -> list[Mutant]:
    """Every mutant of a header; comments, words in quotes, includes and templates' own lines are left alone."""
    found, seen = [], Counter()
    for number, line in enumerate(path.read_text(encoding="utf-8").split("\n"), start=1):
        code = WORDS.sub(lambda match: " " * len(match[0]), line)
        if re.match(r"\s*(#|template\b|using\b|namespace\b|static_assert)", code):
            continue
        for match in TOKEN.finditer(code):
            for instead in OPERATORS.get(match[0], (CALLS.get(match[0]),)):
                found.append(_mutant(path, number, line, match, instead))
        for match in NUMBER.finditer(code):
            value = float(match[0])
            found.append(_mutant(path, number, line, match, repr(value * OFF if value else 1.0)))
    return [numbered(mutant, seen) for mutant in found]


def numbered(mutant, seen: Counter):
    """The mutant with its number among those that read the same."""
    seen[mutant.what, mutant.text] += 1
    return mutant._replace(nth=seen[mutant.what, mutant.text])


def _mutant(path, number, line, match, instead):
    return Mutant(path, number, f"'{match[0].strip()}' becomes '{instead.strip()}'", line.strip(), match.start(), match.end(), instead)
