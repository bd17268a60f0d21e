"""The words of circuit files: a part's keys are the arguments of its builder function, a heading's those of its method.

There is no second list of keys: what a signature says, a file may say. A trailing underscore, which Python needs in
`from_`, is not written in files.
"""

from __future__ import annotations

import functools
import inspect
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from ..circuit import Circuit
    from ..vehicle import Vehicle


class Key(NamedTuple):
    """One key a table may hold."""

    word: str  # as written in files
    argument: str  # as the function calls it
    needed: bool
    preset: int | str | tuple[()] | None  # what stands for it when it is left out; None for a needed key


def keys_of(function: type[Circuit] | type[Vehicle] | Callable[..., Any], *, without: tuple[str, ...] = ()) -> Mapping[str, Key]:
    """Keys that a function takes, by the word used in files, in the order of its signature.

    >>> def lift(from_, height="1 ft"): ...
    >>> [(key.word, key.needed) for key in keys_of(lift).values()]
    [('from', True), ('height', False)]
    """
    return _keys_of(_plain(function), tuple(without))


def _plain(function: Callable[..., Any]) -> Callable[..., Any]:
    """The function of a method: bound methods are made anew whenever they are asked for."""
    found: Callable[..., Any] = getattr(function, "__func__", function)
    return found


@functools.lru_cache(maxsize=256)  # asked for every table of a file
def _keys_of(function: Callable[..., Any], without: tuple[str, ...]) -> Mapping[str, Key]:
    keys: dict[str, Key] = {}
    for parameter in inspect.signature(function).parameters.values():
        if parameter.kind in (parameter.VAR_POSITIONAL, parameter.VAR_KEYWORD) or parameter.name in ("self", *without):
            continue
        needed = parameter.default is parameter.empty
        word = parameter.name.rstrip("_")
        keys[word] = Key(word, parameter.name, needed, None if needed else parameter.default)
    return MappingProxyType(keys)


def takes_any_key(function: Callable[..., Any]) -> bool:
    """True when the function takes keys beyond those named, as cases do."""
    return _takes_any_key(_plain(function))


@functools.lru_cache(maxsize=256)
def _takes_any_key(function: Callable[..., Any]) -> bool:
    return any(p.kind is p.VAR_KEYWORD for p in inspect.signature(function).parameters.values())
