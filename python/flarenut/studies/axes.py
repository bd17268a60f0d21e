"""What a sweep varies: names with their values, and the dimensions that they span."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, TypeAlias

from ..circuit import CASE_WORDS, CircuitError
from ..circuit.case_words import word_meant
from ..circuit.changes import OF_JUNCTIONS
from ..circuit.errors import meant
from ..circuit.piece import Piece
from ..units.errors import quoted
from .between import Between, between, drawn
from .memory import refuse_draw

if TYPE_CHECKING:
    import numpy
    from ..circuit.circuit import Circuit
    from numpy.typing import NDArray

    Vary: TypeAlias = Mapping[str | tuple[str, ...], Sequence[object] | Mapping[str, Sequence[str] | Piece] | Between]

__all__ = ["Axis", "Dimension", "axes_of", "between", "find_axis", "read_axes"]
SAMPLE, CASE = "sample", "case"


@dataclass
class Axis:
    """One name that varies.

    `sort` is "fluid", "part" (one exchanged whole), "word" (of a part), "place" (a word of a tank or junction) or "condition".
    """

    name: str
    values: Sequence[Any]  # what the circuit is given, one per place of its dimension
    labels: Sequence[Any]  # what the coordinate shows, one per value
    sort: str = ""
    owner: str = ""  # the part or junction
    key: str = ""  # its word
    span: Between | None = None  # where the values are drawn from, for random samples
    numbers: NDArray[numpy.float64] | None = None  # of drawn values, in the unit of the ends

    @property
    def probes(self) -> Sequence[Any]:
        """Values that stand for all when something must be found out that is the same between them."""
        return [self.span.low, self.span.high] if self.span else self.values


@dataclass
class Dimension:
    """One dimension of the answer, with the axes that run along it together."""

    name: str
    axes: list[Axis] = field(default_factory=list)

    def __len__(self) -> int:
        return len(self.axes[0].values)


def read_axes(circuit: Circuit, vary: Vary, samples: int | None = None, seed: int | None = None, sampling: str = "latin") -> tuple[list[Dimension], str]:
    """The `Dimension` list of what a builder wrote of a circuit, and how samples were drawn ("" without). Raises `CircuitError`."""
    return axes_of(vary, lambda axis: find_axis(circuit, axis), samples, seed, sampling)


def axes_of(vary: Vary, find: Callable[[Axis], None], samples: int | None, seed: int | None, sampling: str) -> tuple[list[Dimension], str]:
    """As `read_axes`; `find` says what an axis varies, or raises."""
    if not isinstance(vary, dict):
        raise CircuitError(f"what to vary is {quoted(vary)}", 'write {"return hose.size": ["-6", "-8"]}', place="sweep")
    dimensions, spans = [], []
    for key, values in vary.items():
        if isinstance(values, Between):
            spans.append(Axis(_text(key), [], [], span=values))
        elif isinstance(key, tuple):
            dimensions.append(_zipped(key, values))
        else:
            dimensions.append(Dimension(_text(key), [_axis(key, values)]))
    how = ""
    if spans:
        how = _draw(spans, samples, seed, sampling)
        dimensions.append(Dimension(SAMPLE, spans))
    elif samples is not None:
        raise CircuitError("'samples' is given, but nothing is drawn at random", 'write e.g. {"volts": between("11 V", "14 V")}', place="sweep",
                           key="samples", value=samples)
    axes = [axis for dimension in dimensions for axis in dimension.axes]
    _refuse_doubles([axis.name for axis in axes])
    for axis in axes:
        find(axis)
    return dimensions, how


def _text(key: str) -> str:
    if not isinstance(key, str) or not key.strip():
        raise CircuitError(f"{quoted(key)} is no name of anything to vary", 'write e.g. "return hose.size", or several names in round brackets',
                           place="sweep")
    return key


def _listed(name: str, values: Any) -> list[Any]:
    """Values as a list of plain Python things."""
    if isinstance(values, (str, bytes, Piece)) or not hasattr(values, "__iter__"):
        raise CircuitError(f"{quoted(values)} is one value, not a list of them", "write them in square brackets, even one", place=_at(name),
                           key=name, value=values)
    found = [value.item() if hasattr(value, "item") else value for value in values]
    if not found:
        raise CircuitError("the list of values is empty", "give at least one value", place=_at(name), key=name, value=values)
    return found


def _axis(name: str, values: Any) -> Axis:
    if isinstance(values, dict):
        return Axis(_text(name), _listed(name, values.values()), [str(label) for label in values])
    found = _listed(name, values)
    return Axis(name, found, [_label(value, number) for number, value in enumerate(found, 1)])


def _label(value: Any, number: int) -> Any:
    if isinstance(value, Piece):
        return value.name or f"{value.word} {number}"
    if isinstance(value, (list, tuple, dict)):
        return _in_words(value)
    return getattr(value, "name", value) if not isinstance(value, (str, int, float)) else value


def _in_words(value: Any) -> str:
    """A value of several, as a builder says it.

    >>> _in_words(["560 mm", "420 mm"]), _in_words([90, 45]), _in_words({"area": "0.1 m2", "bore": "4 mm"}), _in_words([["60 W/K", "85 W/K"], ["80 W/K", "120 W/K"]])
    ('560 mm x 420 mm', '90, 45', 'area 0.1 m2, bore 4 mm', '60 W/K, 85 W/K; 80 W/K, 120 W/K')
    """
    if isinstance(value, dict):
        return ", ".join(f"{key} {_in_words(one)}" for key, one in value.items())
    if not isinstance(value, (list, tuple)):
        return str(value)
    if any(isinstance(one, (list, tuple)) for one in value):
        return "; ".join(", ".join(map(_in_words, one)) if isinstance(one, (list, tuple)) else _in_words(one) for one in value)
    measured = len(value) in (2, 3) and all(isinstance(one, str) and re.fullmatch(r"[\d.,/ -]+ ?[a-zA-Z]+", one) for one in value)
    return (" x " if measured else ", ").join(map(str, value))


def _zipped(names: tuple[str, ...], values: Any) -> Dimension:
    if isinstance(values, dict):
        raise CircuitError("values of several names together come as a list", 'write [("-6", "-6"), ("-8", "-6")]', place=_at(" + ".join(names)))
    title = " + ".join(_text(name) for name in names)
    rows = _listed(title, values)
    for row in rows:
        if not isinstance(row, (tuple, list)) or len(row) != len(names):
            raise CircuitError(f"{quoted(row)} is not one value for each of {len(names)} names", f"write {len(names)} values in round brackets",
                               place=_at(title), key=title, value=row)
    return Dimension(title, [_axis(name, [row[place] for row in rows]) for place, name in enumerate(names)])


def _draw(spans: Sequence[Axis], samples: int | None, seed: int | None, sampling: str) -> str:
    if type(samples) is not int or samples < 1:
        raise CircuitError(f"'samples' is {quoted(samples)}", "say how many points are drawn, a whole number above zero: samples=1000", place="sweep",
                           key="samples", value=samples)
    refuse_draw(samples, len(spans))
    shares, how = drawn(len(spans), samples, seed, sampling)
    for column, axis in enumerate(spans):
        assert axis.span is not None, "what is drawn has ends"
        axis.numbers = axis.span.numbers(shares[:, column])
        axis.values = axis.labels = axis.span.written(axis.numbers)
    return how


def _refuse_doubles(names: Sequence[str]) -> None:
    for name in names:
        if names.count(name) > 1:
            raise CircuitError(f"'{name}' is varied twice", "name it once", place="sweep", key=name)
        if name in (CASE, SAMPLE):
            raise CircuitError(f"'{name}' is the name of a dimension of every answer", "give the part another name", place="sweep", key=name)


def _at(name: str) -> str:
    return f"sweep over '{name}'"


def find_axis(circuit: Circuit, axis: Axis) -> None:
    """Says what an axis varies; raises `CircuitError` with the nearest right name."""
    pieces, name = circuit.compiled().pieces, axis.name
    owner, _, key = name.rpartition(".")
    if name in pieces:
        axis.sort, axis.owner = "part", name
        _need_pieces(circuit, axis)
    elif owner in pieces:
        axis.sort, axis.owner, axis.key = "word", owner, key
        if key not in pieces[owner].keys:
            raise CircuitError(f"{pieces[owner].word} has no '{key}' to vary", meant(key, pieces[owner].keys), place=_at(name), key=name)
    elif owner in circuit.junctions:
        axis.sort, axis.owner, axis.key = "place", owner, key
        known = OF_JUNCTIONS[circuit.junctions[owner].kind]
        if key not in known:
            raise CircuitError(f"'{owner}' has no '{key}' to vary", meant(key, known), place=_at(name), key=name)
    elif name == "fluid":
        axis.sort = "fluid"
    elif name in CASE_WORDS:
        axis.sort, axis.key = "condition", name
    elif name in circuit.junctions:
        words = list(OF_JUNCTIONS[circuit.junctions[name].kind])
        raise CircuitError(f"'{name}' is a place", f"say what of it: {', '.join(f'{name}.{word}' for word in words)}", place=_at(name), key=name)
    else:
        raise CircuitError(f"there is no '{name}' to vary", _nearest(circuit, name), place="sweep", key=name)
    if axis.span and axis.sort in ("fluid", "part"):
        raise CircuitError(f"there is nothing between one {axis.sort} and another", "write a list of them", place=_at(name), key=name)


def _need_pieces(circuit: Circuit, axis: Axis) -> None:
    for value in axis.values:
        if not isinstance(value, Piece):
            keys = circuit.compiled().pieces[axis.name].keys
            raise CircuitError(f"{quoted(value)} is not a part to put in the place of '{axis.name}'",
                               f"make it with a builder, or vary one of its words: {', '.join(f'{axis.name}.{key}' for key in keys[:4])} ...",
                               place=_at(axis.name), key=axis.name, value=value)
        if axis.name in circuit.multiport and value.word != circuit.multiport[axis.name][0].word:
            raise CircuitError(f"{value!r} has other ends than '{axis.name}', made by {circuit.multiport[axis.name][0].word}",
                               "vary its words instead", place=_at(axis.name), key=axis.name, value=value)


def _nearest(circuit: Circuit, name: str) -> str:
    pieces = circuit.compiled().pieces
    owners = {**{owner: piece.keys for owner, piece in pieces.items()},
              **{place: list(OF_JUNCTIONS[junction.kind]) for place, junction in circuit.junctions.items()}}
    words = [*CASE_WORDS, "fluid", *pieces, *(f"{owner}.{key}" for owner, keys in owners.items() for key in keys)]
    close = f"did you mean '{said}'?" if "." not in name and (said := word_meant(name)) else meant(name, words, listed=False)
    return " ".join(filter(None, [close, f"there are conditions ({', '.join(CASE_WORDS)}), fluid, and words of {', '.join(owners)}"]))
