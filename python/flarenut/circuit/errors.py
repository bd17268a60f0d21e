"""What a circuit that cannot be built raises."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from ..units.display import SYSTEMS
from ..units.errors import nearest
from .engine_units import in_trade_units


class CircuitError(ValueError):
    """Something in a circuit that cannot be built or changed.

    Parameters
    ----------
    reason : what is wrong, a sentence without its full stop
    cure : what to write instead; may be empty
    place : the part, junction, run or case that is to blame ("feed", "feed: pump"); may be empty
    key : the argument to blame; may be empty
    value : that argument as it was given

    The text of the error is ``place: reason: cure``.

    >>> str(CircuitError("no junction 'rial'", "did you mean 'rail'?", place="feed"))
    "feed: no junction 'rial': did you mean 'rail'?"
    """

    def __init__(self, reason: str, cure: str = "", *, place: str = "", key: str = "", value: object = None) -> None:
        super().__init__(": ".join(word for word in (place, reason, cure) if word))
        self.reason = reason
        self.cure = cure
        self.place = place
        self.key = key
        self.value = value

    def __reduce__(self) -> tuple[Callable[..., Any], tuple[str, str, str, str, object]]:
        return _rebuilt, (self.reason, self.cure, self.place, self.key, self.value)

    def at(self, place: str) -> CircuitError:
        """The same error with its place said, where it did not know it."""
        return self if self.place else CircuitError(self.reason, self.cure, place=place, key=self.key, value=self.value)


def _rebuilt(reason: str, cure: str, place: str, key: str, value: object) -> CircuitError:
    return CircuitError(reason, cure, place=place, key=key, value=value)


def meant(word: str, known: Sequence[str] | Mapping[str, object], *, listed: bool = True) -> str:
    """A cure: the nearest known word, and what there is.

    >>> meant("lenght", ["size", "length"])
    "did you mean 'length'? there are size, length"
    """
    known = [str(one) for one in known]
    close = nearest(str(word), known)
    parts = [f"did you mean '{close}'?"] if close else []
    if listed and known:
        parts.append("there are " + ", ".join(known))
    return " ".join(parts)


def located(error: ValueError, place: str) -> CircuitError:
    """An error of any layer below as a `CircuitError` with the place said; its key, value, reason and cure stay.

    Parameters
    ----------
    error : `UnitError`, `CatalogError`, `FluidError`, `CircuitError` or the engine's `InputError`
    place : where it happened
    """
    if isinstance(error, CircuitError):
        return error.at(place)
    reason = getattr(error, "reason", None)
    if reason is not None:
        return CircuitError(reason, getattr(error, "hint", ""), place=place, key=getattr(error, "name", ""),
                            value=getattr(error, "value", None))
    field, trouble = getattr(error, "field", ""), getattr(error, "trouble", "")
    trouble, _, cure = trouble.rpartition("; ") if "; " in trouble else (trouble, "", "")  # the engine's way to say a cure
    if trouble:
        trouble, cure = in_trade_units(trouble, field), in_trade_units(cure)
    return CircuitError(f"{field} {trouble}".strip() or str(error), cure, place=place, key=field)


def units_said(units: str | None) -> str | None:
    """A system of units as a circuit or vehicle says it; anything but "us", "metric" and None is refused."""
    if units is not None and units not in SYSTEMS:
        raise CircuitError(f"'units' is {units!r}", "write 'us' or 'metric'", key="units", value=units)
    return units
