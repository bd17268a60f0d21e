"""`Piece`: what a builder function makes: one thing of the shop, as one or more parts of the engine.

A piece keeps the words it was made from, so that one of them can be changed and the rest kept. Numbers that depend on the
liquid something was rated with are functions of that liquid: it is often the circuit's own, known only later.
"""

from __future__ import annotations

import functools
import inspect
import re
from typing import TYPE_CHECKING, Any, TypeAlias, overload
from collections.abc import Callable, Mapping, Sequence

from ..catalog import CatalogError
from ..units import UnitError
from ..units.errors import said_of
from .errors import CircuitError, meant
from .shop import Shop, documented, parameters, shop_of

if TYPE_CHECKING:
    from ..fluids.properties import Fluid

Number: TypeAlias = "float | Callable[[Any], float]"  # SI, or a function of the liquid that something was rated with

SUPPLY, OUTLET = object(), object()  # what a device senses when nothing else is said: the junction at its port 0 or 1


class HeatLaw:
    """How a part of the engine passes heat: one of the engine's kinds of heat laws.

    `numbers` are field -> SI number, or a function of the circuit's `Fluid` giving all of them.
    """

    __slots__ = ("kind", "numbers", "columns")

    def __init__(self, kind: str, numbers: dict[str, float] | Callable[[Any], dict[str, float]],
                 columns: Mapping[str, Sequence[float]] | None = None) -> None:
        self.kind, self.numbers, self.columns = kind, numbers, columns or {}

    def si(self, fluid: Fluid) -> dict[str, float]:
        """Its numbers in a circuit of that `Fluid`."""
        return dict(self.numbers(fluid) if callable(self.numbers) else self.numbers)


class Element:
    """One part of the engine, still without name and junctions.

    Parameters
    ----------
    kind : the engine's kind
    numbers : field -> SI number, or a function of a `RatingLiquid` giving one
    columns : column -> list of SI numbers
    suffix : what its name adds to the piece's; "" for the main one
    senses : junction names, or SUPPLY or OUTLET for its own ends
    rating : function of the circuit's fluid giving the `RatingLiquid`; None when no number needs one
    drives : case condition -> (field, factor): "speed" sets "speed" times the pulley ratio
    heat : `HeatLaw`, or None where it passes none; only where temperatures are found
    warmth : "heat" [W], "efficiency" of a pump, "heat_capacity" [J/K] -> number; likewise
    feels : junction whose temperature it stands at, as a thermostat's element does; None for its own stream's
    """

    __slots__ = ("kind", "numbers", "columns", "suffix", "senses", "rating", "drives", "heat", "warmth", "feels")

    def __init__(self, kind: str, numbers: Mapping[str, float | Callable[..., Any]], columns: Mapping[str, Sequence[float]] | None = None,
                 *, suffix: str = "", senses: tuple[object, ...] = (), rating: Callable[..., Any] | None = None,
                 drives: Mapping[str, tuple[str, float, float]] | None = None, heat: HeatLaw | None = None,
                 warmth: dict[str, float] | None = None, feels: object = None) -> None:
        self.kind = kind
        self.numbers = numbers
        self.columns = columns or {}
        self.suffix = suffix
        self.senses = tuple(senses)
        self.rating = rating
        self.drives = drives or {}
        self.heat, self.warmth, self.feels = heat, warmth or {}, feels

    def si(self, fluid: Fluid) -> dict[str, float]:
        """Numbers of this element for a circuit of that `Fluid`: every field given, in SI."""
        if not any(callable(number) for number in self.numbers.values()):
            return {field: number for field, number in self.numbers.items() if not callable(number)}
        assert self.rating is not None, "a number of a liquid has its liquid"
        liquid = self.rating(fluid)
        return {field: number(liquid) if callable(number) else number for field, number in self.numbers.items()}


class Piece:
    """One thing of the shop: a hose, a pump with its check valve, a regulator.

    Parameters
    ----------
    elements : `Element` list, in series
    length : along the line [m]; 0 for devices. Heights that are not said are shared out by it
    rise : height gained from inlet to outlet [m]; None when not said

    `word` ("hose"), `given` (argument -> value as written), `name` and `shop` (its `Shop`) are put in by the builder function.
    """

    __slots__ = ("elements", "length", "rise", "word", "given", "name", "shop", "_make")

    def __init__(self, elements: Sequence[Element], length: float = 0.0, rise: float | None = None) -> None:
        self.elements = list(elements)
        self.length = length
        self.rise = rise
        self.word, self.shop = "", Shop()
        self.given: dict[str, Any] = {}
        self.name: str | None = None
        self._make: Callable[..., Piece] | None = None

    @property
    def main(self) -> Element:
        """The element that bears its name."""
        return next(element for element in self.elements if not element.suffix)

    @property
    def shape(self) -> tuple[tuple[object, ...], ...]:
        """What cannot change without compiling anew: the elements' kinds, their senses, which columns they and their heat have."""
        return tuple(
            (e.kind, e.suffix, e.senses, tuple(e.columns), e.heat and (e.heat.kind, tuple(e.heat.columns)), e.feels) for e in self.elements
        )

    @property
    def keys(self) -> list[str]:
        """The arguments its builder takes, but its name."""
        assert self._make is not None, "a builder made it"
        return list(_keys_of(self._make))

    def changed(self, **keys: object) -> Piece:
        """This piece made anew with some arguments changed; the name stays. Raises what the builder raises."""
        assert self._make is not None, "a builder made it"
        known, keys = self.keys, vars(self._make)["spelled"](keys)
        for key, value in keys.items():
            if key not in known:
                raise CircuitError(f"{self.word} has no {key!r} to change", meant(key, known), key=key, value=value)
            beaten_by = "bore" if key in ("size", "spec", "wall") and self.given.get("bore") is not None else None
            if beaten_by and "bore" not in keys:
                raise CircuitError(f"it has a measured bore, which beats {key!r}", "change 'bore', or give bore=None as well",
                                   key=key, value=value)
        piece = self._make(**{**self.given, **keys})
        piece.name = self.name
        return piece

    def with_elements(self, change: Callable[[Element], Element]) -> Piece:
        """This piece with each element changed, and so whatever is made of it later by `changed`."""
        assert self._make is not None, "a builder made it"
        make, piece = self._make, Piece([change(element) for element in self.elements], self.length, self.rise)
        piece.word, piece.given, piece.name, piece.shop = self.word, self.given, self.name, self.shop
        piece._make = functools.wraps(make)(lambda *args, **keys: make(*args, **keys).with_elements(change))
        return piece

    def __repr__(self) -> str:
        written = ", ".join(f"{key}={value!r}" for key, value in self.given.items())
        return f"{self.word}({written})"


@functools.cache  # asked at every change of a part
def _keys_of(make: Callable[..., Any]) -> tuple[str, ...]:
    return tuple(key for key in inspect.signature(make).parameters if key != "name")


def _as_written(words: dict[str, Any]) -> dict[str, Any]:
    return words


def builder(function: Callable[..., Piece], spelled: Callable[[dict[str, Any]], dict[str, Any]] = _as_written) -> Callable[..., Piece]:
    """Makes a function that returns a `Piece` keep the words it was called with; its own name is the word.

    `spelled` makes several words of one that tells several things, "3/8 in x 0.035 in", so that each can be changed by itself.
    Arguments that the function does not take raise a `CircuitError` with the nearest right one.
    """
    own = inspect.signature(function)
    words = {one.name: one for one in parameters() if one.name not in own.parameters}
    signature = own.replace(parameters=[*own.parameters.values(), *words.values()])
    order = tuple(signature.parameters)
    leading = tuple(name for name, one in signature.parameters.items() if one.kind is one.POSITIONAL_OR_KEYWORD)
    needed = frozenset(name for name, one in signature.parameters.items() if one.default is one.empty)

    def _bound(args: tuple[Any, ...], keys: dict[str, Any]) -> dict[str, Any] | None:
        """What `signature.bind` gives, at a tenth of its cost; None where that has something to say, or an argument is no plain one."""
        given = dict(zip(leading, args)) | keys
        if len(args) > len(leading) or len(given) < len(args) + len(keys) or not needed <= given.keys():
            return None
        return {name: given[name] for name in order if name in given}

    @functools.wraps(function)
    def make(*args: object, **keys: object) -> Piece:
        word = function.__name__
        for key, value in keys.items():
            if key not in signature.parameters:
                raise CircuitError(f"{word} takes no {key!r}", meant(key, signature.parameters), key=key, value=value)
        try:
            given = _bound(args, keys) or dict(signature.bind(*args, **keys).arguments)
        except TypeError as error:
            raise CircuitError(f"{word}: {error}", f"it is written {word}{_short(signature)}") from None
        try:
            given = spelled(given)
            piece = function(**{key: value for key, value in given.items() if key not in words})
            piece.shop = shop_of(given, word)
        except UnitError as error:
            raise said_of(_sharper(error, word, given), _called(word, given)) from None
        except (CircuitError, CatalogError) as error:
            raise said_of(error, _called(word, given)) from None
        piece.word, piece.given, piece._make = word, given, make
        piece.name = checked_name(given.get("name"))
        return piece

    vars(make)["spelled"], vars(make)["__signature__"], make.__doc__ = spelled, signature, documented(function.__doc__)
    return make


def _called(word: str, given: Mapping[str, Any]) -> str:
    """The call of a part, for a message that nobody else gives a place: "hose", "hose 'feed hose'"."""
    name = given.get("name")
    return f"{word} {name!r}" if isinstance(name, str) and name else word


def _sharper(error: UnitError, word: str, given: Mapping[str, Any]) -> UnitError:
    """A refused unit with the cure that fits this part, where the unit alone cannot tell it."""
    hint = ""
    if error.name == "bends" and isinstance(given.get("bends"), str):
        listed = re.fullmatch(r"[\d.]+([\s,;/]+[\d.]+)*", given["bends"].strip())
        angles = ", ".join(re.findall(r"[\d.]+", given["bends"])) if listed else "90, 90, 45"
        hint = f"bends are a list of angles in degrees, without quotes: [{angles}]"
    elif "wants a pressure difference" in error.reason and re.search("(gauge|absolute) pressure; ", error.reason):
        plain = re.sub(r"(?<=[A-Za-z])[ga]\b|\s*vacuum", "", str(error.value))  # "60 psig": the same unit without what it counts from
        what = "a pump's rise is the difference between its outlet and its inlet" if word.endswith("pump") else \
            f"'{error.name}' is the difference between two places"
        hint = f"{what}: write '{plain}'" if "gauge" in error.reason.split(";")[0] else \
            f"{what}: take the other pressure off, and write it without the 'a', as in '43.5 psi'"
    return UnitError(error.name, error.value, error.reason, hint) if hint else error


def _short(signature: inspect.Signature) -> str:
    needed = [f"{name}=" * (p.kind is p.KEYWORD_ONLY) or name for name, p in signature.parameters.items() if p.default is p.empty]
    words = needed or [f"{name}=" for name in list(signature.parameters)[:1]]  # nothing is needed: one of what may be said
    return "(" + ", ".join([*words, "..."]) + ")"


@overload
def checked_name(name: str) -> str: ...


@overload
def checked_name(name: object) -> str | None: ...


def checked_name(name: object) -> str | None:
    """A name as given, if it can be one; None stays None."""
    if name is None:
        return None
    if not isinstance(name, str) or not name.strip():
        raise CircuitError(f"a name is a text, not {name!r}", "write name=\"feed hose\"", key="name", value=name)
    if name in ("liquid", "acceleration", "air"):
        raise CircuitError(f"the name {name!r} is taken by the surroundings of the circuit", "choose another", key="name", value=name)
    return name
