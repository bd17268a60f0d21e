"""The one error of the unit layer, and the search for the nearest right word."""

from collections.abc import Callable, Iterable
from functools import wraps
from typing import ParamSpec, TypeVar


class UnitError(ValueError):
    """A value whose unit is missing, unknown or of the wrong kind.

    Parameters
    ----------
    name : what the value is called where it was written ("bore")
    value : the value as it was given
    reason : what is wrong with it, a sentence without its full stop
    hint : what to write instead; may be empty

    The text of the error is ``reason: hint``.

    >>> str(UnitError("bore", 8, "'bore' is 8, a number without a unit", "write '8 mm'"))
    "'bore' is 8, a number without a unit: write '8 mm'"
    """

    def __init__(self, name: str, value: object, reason: str, hint: str = "") -> None:
        super().__init__(f"{reason}: {hint}" if hint else reason)
        self.name = name
        self.value = value
        self.reason = reason
        self.hint = hint

    def __reduce__(self) -> tuple[type["UnitError"], tuple[str, object, str, str]]:  # the default would rebuild it from the message alone and fail
        return type(self), (self.name, self.value, self.reason, self.hint)


Refusal = TypeVar("Refusal", bound=ValueError)
Given = ParamSpec("Given")
Found = TypeVar("Found")


def said_of(error: Refusal, place: str) -> Refusal:
    """The same error, whose text names the call that it comes of. Its reason stays without: a file, a run or a case says a better place.

    >>> str(said_of(UnitError("bore", 8, "'bore' is 8, a number without a unit", "write '8 mm'"), "hose"))
    "hose: 'bore' is 8, a number without a unit: write '8 mm'"
    """
    if not getattr(error, "place", "") and error.args and not str(error.args[0]).startswith(f"{place}: "):
        error.args = (f"{place}: {error.args[0]}", *error.args[1:])
    return error


def says_its_name(function: Callable[Given, Found]) -> Callable[Given, Found]:
    """Makes a function that people call by itself name itself in what it refuses of its arguments."""

    @wraps(function)
    def called(*args: Given.args, **keys: Given.kwargs) -> Found:
        try:
            return function(*args, **keys)
        except UnitError as error:
            raise said_of(error, function.__name__) from None

    return called


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word closest to `word`, or None when nothing is close.

    >>> nearest("psii", ["psi", "bar", "kPa"])
    'psi'
    """
    from difflib import get_close_matches  # only errors pay for this import

    by_fold: dict[str, str] = {}
    for candidate in known:
        by_fold.setdefault(candidate.lower(), candidate)
    found = get_close_matches(word.lower(), by_fold, n=1, cutoff=0.6)
    return by_fold[found[0]] if found else None


def quoted(value: object) -> str:
    """A value as a message shows it: text in quotes, everything else short."""
    text = repr(value) if isinstance(value, str) else str(value)
    return text if len(text) <= 60 else text[:57] + "..."
