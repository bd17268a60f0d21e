"""Values that vary in a sweep of a circuit file: lists, ranges, ends to draw between, values with labels."""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Any

from ... import units
from ...units import KINDS
from ...units.errors import UnitError, nearest, quoted
from ...units.text import split_number
from .call import unknown_key
from .problems import Problem, Steps

_ROUND_OFF = Decimal("1e-9")  # of a step: what converting a unit leaves
MOST_VALUES = 1_000_000  # in one range; more is a slip of the pen
_RANGE, _DRAWN = ("from", "to", "step"), ("between",)
_HOW = 'write a list, ["-6", "-8"], or {from = 11, to = 14, step = 0.5}, or {between = ["11 V", "14 V"]}'


@dataclass(frozen=True)
class Ends:
    """Values to be drawn between two ends, as written."""

    low: object
    high: object


class Values:
    """Reads the values of one sweep; what is wrong goes among the problems.

    Parameters
    ----------
    piece : function of (table, path, place) that makes a part, or None with what is wrong among the problems
    place : what messages call the sweep
    problems : list of `Problem`, filled up
    """

    def __init__(self, piece: Callable[..., Any], place: str, problems: list[Problem]) -> None:
        self.piece, self.place, self.problems = piece, place, problems

    def refuse(self, reason: str, hint: str, path: Steps) -> None:
        self.problems.append(Problem(reason, hint, path=path, place=self.place))

    def read(self, values: object, path: Steps) -> Any:
        """A list, a dict of label -> value, or `Ends`; None with what is wrong among the problems."""
        before = len(self.problems)
        if isinstance(values, list) and values:
            found: Any = [self.value(one, (*path, number)) for number, one in enumerate(values)]
            if path[2] == "vary" and all(isinstance(one, list) for one in found):
                found = {", ".join(map(str, one)): one for one in found}  # a label as a builder says it, without brackets
        elif isinstance(values, dict) and values and any(word in values for word in (*_RANGE, *_DRAWN)):
            found = self.spanned(values, path)
        elif isinstance(values, dict) and len(values) == 1 and nearest(next(iter(values)), (*_RANGE, *_DRAWN)):
            self.problems.append(unknown_key(next(iter(values)), (*_RANGE, *_DRAWN), path, self.place))
            return None
        elif isinstance(values, dict) and values and "part" not in values:
            found = {label: self.value(one, (*path, label)) for label, one in values.items()}
        else:
            what = "the list of values is empty" if values == [] else f"{quoted(values)} is one value, not a list of them"
            self.refuse(what, _HOW, path)
            return None
        return found if len(self.problems) == before else None

    def value(self, one: object, path: Steps) -> Any:
        if isinstance(one, dict) and "part" in one:
            return self.piece(one, path, self.place)
        if not isinstance(one, (str, int, float, list)):
            self.refuse(f"{quoted(one)} is no value that a part or case takes", _HOW, path)
        return one

    def spanned(self, table: dict[str, Any], path: Steps) -> Ends | list[float | str] | None:
        words = _DRAWN if "between" in table else _RANGE
        unknown = [word for word in table if word not in words]
        missing = [word for word in words if word not in table]
        for word in unknown:
            self.problems.append(unknown_key(word, words, path, self.place))
        if missing and not unknown:
            self.refuse(f"the key '{missing[0]}' is missing", "write {from = 11, to = 14, step = 0.5}", path)
        if missing or unknown:
            return None
        if words is _DRAWN:
            ends = table["between"]
            if isinstance(ends, list) and len(ends) == 2:
                return Ends(*ends)
            self.refuse(f"'between' is {quoted(ends)}, not two ends", 'write {between = ["11 V", "14 V"]}', (*path, "between"))
            return None
        return self.stepped(table, path)

    def stepped(self, table: dict[str, Any], path: Steps) -> list[float | str] | None:
        numbers, names = {}, {}
        for word in _RANGE:
            try:
                numbers[word], names[word] = _decimal(table[word])
            except (UnitError, InvalidOperation, TypeError, AttributeError):
                self.refuse(f"'{word}' is {quoted(table[word])}, which is no number to count with",
                            'write numbers with one unit, {from = "5 ft", to = "20 ft", step = "5 ft"}; sizes are listed one by one',
                            (*path, word))
                return None
            if names[word] != names["from"]:
                converted = _in_unit_of(table[word], names["from"], step=word == "step")
                if converted is None:
                    self.refuse(
                        f"'{word}' is {quoted(table[word])} and 'from' {quoted(table['from'])}",
                        "write all three in one unit, or in units of one kind",
                        (*path, word),
                    )
                    return None
                numbers[word] = converted
        first, last, step = (numbers[word] for word in _RANGE)
        if step <= 0:
            self.refuse(f"'step' is {quoted(table['step'])}", "write a step above zero; from and to say which way it goes", (*path, "step"))
            return None
        count = int(abs(last - first) / step + _ROUND_OFF) + 1
        if count > MOST_VALUES:
            self.refuse(f"these are {count:,} values, above {MOST_VALUES:,}", "write a larger step", (*path, "step"))
            return None
        signed = step if last >= first else -step
        return [_written(first + place * signed, names["from"]) for place in range(count)]


def _decimal(value: object) -> tuple[Decimal, str]:
    """Number and unit of an end; a text needs a unit, since "-8" is a size. Decimal, so that 11.1 + 0.1 is 11.2."""
    number: object
    if isinstance(value, str):
        number, unit = split_number(value, "value")
        if not unit:
            raise UnitError("value", value, "has no unit", "")
    elif isinstance(value, bool):
        raise TypeError
    else:
        number, unit = value, ""
    found = Decimal(repr(number))
    if not found.is_finite():
        raise TypeError
    return found, unit


def _in_unit_of(value: object, unit: str, *, step: bool) -> Decimal | None:
    """A text in another unit of its kind, that of 'from'; a step of a temperature is a difference. None where the two have no kind in common."""
    for kind in (one for one in KINDS if unit and isinstance(value, str)):
        if step and kind == "temperature":
            continue
        try:
            return Decimal(f"{units.to(units.parse(value, kind), unit, kind):.12g}")
        except UnitError:
            continue
    return None


def _written(number: Decimal, unit: str) -> float | str:
    if unit:
        return f"{number.normalize():f} {unit}"
    return int(number) if number == number.to_integral_value() else float(number)
