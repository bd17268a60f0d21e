"""Calling a builder with the keys of one table, and turning what it refuses into problems with a path."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, TypeVar

from ...units.errors import nearest, quoted
from .problems import Problem, Steps
from .words import keys_of, takes_any_key

if TYPE_CHECKING:
    from ..circuit import Circuit
    from .words import Key

MEANT = {  # what people write -> the key that says it, where the spelling alone would not lead there
    "id": "bore", "inside_diameter": "bore", "inner_diameter": "bore", "diameter": "bore", "dash": "size", "type": "part", "kind": "part",
    "start": "from", "end": "to", "elevation": "height", "depth": "level", "head": "level", "voltage": "volts", "number": "count",
    "temperature": "fluid_temperature", "set_pressure": "set", "cracking_pressure": "opens_at", "crack": "opens_at", "pressure_drop": "drop",
    "rpm": "speed", "curve": "curves", "boost": "manifold",
}


Made = TypeVar("Made")


def arguments(function: type[Circuit] | Callable[..., Any], table: dict[str, Any], path: Steps, place: str,
              problems: list[Problem], *, without: tuple[str, ...] = (), beside: tuple[str, ...] = ()) -> dict[str, Any] | None:
    """Arguments for `function` out of a table; keys that it does not take and keys it lacks become problems.

    `without` are arguments that files say elsewhere, `beside` keys that the table may hold and the function does not take.
    Returns None when something the function needs is missing.
    """
    keys = keys_of(function, without=without)
    given, complete, misspelt = {}, True, set()
    for word, value in table.items():
        if word in keys:
            given[keys[word].argument] = value
        elif takes_any_key(function):
            given[word] = value
        else:
            problems.append(unknown_key(word, [*keys, *beside], path, place))
            misspelt.add(_meant(word, keys))
    for key in keys.values():
        if key.needed and key.argument not in given:
            complete = False
            if key.word not in misspelt:
                problems.append(Problem(f"the key '{key.word}' is missing", f"add {key.word} = ...; see {_help(place)}",
                                        path=path, on="key", place=place))
    return given if complete else None


def unknown_key(word: str, keys: Sequence[str] | dict[str, str | None], path: Steps, place: str, *,
                what: str = "key") -> Problem:
    """The problem of a key that is not known here, with the nearest right word."""
    close = _meant(word, keys)
    hint = (f"did you mean '{close}'? " if close else "") + (f"the {what}s here are {', '.join(keys)}" if keys else "nothing can be set here")
    return Problem(f"unknown {what} {quoted(word)}", hint, path=(*path, word), on="key", place=place)


def _meant(word: str, keys: Collection[str]) -> str | None:
    close = MEANT.get(word.lower().replace(" ", "_").replace("-", "_"))
    return close if close in keys else nearest(word, keys)


def attempt(function: Callable[..., Made], given: dict[str, Any], path: Steps, place: str, problems: list[Problem]) -> Made | None:
    """``function(**given)``, or None with its refusals in `problems`.

    A builder stops at the first thing it refuses. So that a file with three wrong values is answered with three
    problems, a refused key that could be left out is left out and the builder asked again; what it then misses is not the
    file's fault and not told. Nor is it after a key that was not understood.
    """
    given, first = dict(given), not any(problem.path[:-1] == path and problem.on == "key" for problem in problems)
    words = {key.argument: key for key in keys_of(function).values()}
    table = {_word(words, argument): value for argument, value in given.items()}
    whole = True
    while True:
        try:
            made = function(**given)
            return made if whole else None
        except ValueError as error:  # unit, circuit, fluid and core errors are all of this family
            left = {word: value for word, value in table.items() if any(_word(words, one) == word for one in given)}
            problem = problem_of(error, path, place, left)
        key = problem.path[len(path)] if len(problem.path) > len(path) else None
        if key is not None or first:
            problems.append(problem)
        argument = next((one for one in given if _word(words, one) == key), None)
        if argument is None or (argument in words and words[argument].needed):
            return None
        del given[argument]
        whole = first = False


def problem_of(error: ValueError, path: Steps, place: str, table: Mapping[str, Any]) -> Problem:
    """A refusal as a problem whose path goes as deep as the error tells."""
    written = next((word for word in (getattr(error, attribute, None) for attribute in ("key", "field", "name")) if word), "")
    name = str(written)
    trouble = getattr(error, "trouble", None)  # the engine's way: the field stands apart from what is wrong with it
    reason = getattr(error, "reason", None) or (f"{name} {trouble}".strip() if trouble else str(error))
    hint = next((word for word in (getattr(error, attribute, "") for attribute in ("cure", "hint")) if word), "")
    if not hint and "; " in reason:  # the engine says its cure behind a semicolon
        reason, _, hint = reason.rpartition("; ")
    value = getattr(error, "value", None)
    deeper: Steps = ()
    for word in (name, name.rstrip("_"), name.replace(" ", "_"), name.split("[")[0].split(".")[0].split(" ")[0]):
        if word in table:
            deeper = (word, *(_within(table[word], value) or ()))
            break
    else:
        deeper = _within(table, written if value is None else value) or ()  # a fluid's error is named after what was written
    if name and not deeper and name not in reason:
        reason = f"{name}: {reason}"
    return Problem(reason, hint, path=(*path, *deeper), on="value", place=place)


def _within(table: Any, value: object) -> tuple[int | str, ...] | None:
    """Path down to the one item equal to `value`, or None when there is none or more than one."""
    if isinstance(table, (dict, list)) and value is not None:
        found = [trail for trail, item in _walk(table) if type(item) is type(value) and item == value]
        if len(found) == 1:
            return found[0]
    return None


def _walk(table: dict[str, Any] | list[Any], trail: Steps = ()) -> Iterator[tuple[Steps, Any]]:
    pairs: Iterable[tuple[str | int, Any]] = table.items() if isinstance(table, dict) else enumerate(table)
    for key, item in pairs:
        yield (*trail, key), item
        if isinstance(item, (dict, list)):
            yield from _walk(item, (*trail, key))


def _word(words: Mapping[str, Key], argument: str) -> str:
    return words[argument].word if argument in words else argument


def _help(place: str) -> str:
    """Where the keys of a place are listed: of "run 'feed', part 2 (hose)" those of hose, of "tank 'main'" those of tank."""
    return f"'flarenut parts {place.rpartition('(')[2].rstrip(')') if place.endswith(')') else place.split(' ')[0]}'"
