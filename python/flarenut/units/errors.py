"""The one error of the unit layer, and the search for the nearest right word."""

from collections.abc import Iterable


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
