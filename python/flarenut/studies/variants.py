"""Circuits that a sweep needs beside the one given: another fluid, an exchanged part, words that are more than numbers."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from ..circuit import CircuitError
from ..circuit.changes import changes_of
from ..circuit.compile import places_of
from ..circuit.errors import located
from ..units.errors import quoted
from .axes import Axis
from .blueprint import copied, put, with_fluid

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.piece import Piece
    from .axes import Dimension


@dataclass
class Variant:
    """One compiled circuit of a sweep, or why there is none."""

    circuit: Circuit | None = None
    words: dict[str, object] = field(default_factory=dict)  # words it stands for, which beat those of a case
    refusal: CircuitError | None = None

    @property
    def plumbed(self) -> Circuit:
        """Its circuit; raises why there is none."""
        if self.circuit is None:
            raise self.refusal or CircuitError("no circuit was made of it", "vary other words", place="sweep")
        return self.circuit


def is_structural(circuit: Circuit, axis: Axis) -> bool:
    """Whether an axis needs circuits of its own, because its values are more than numbers of the plan."""
    if axis.sort in ("fluid", "part"):
        return True
    return axis.sort == "word" and any(_is_more_than_numbers(circuit, axis, value) for value in axis.probes)


def _is_more_than_numbers(circuit: Circuit, axis: Axis, value: str | Sequence[str] | int | list[str]) -> bool:
    compiled = circuit.compiled()
    old = compiled.pieces[axis.owner]
    try:
        new = old.changed(**{axis.key: value})
        if new.shape != old.shape or new.rise != old.rise:
            return True
        if changes_of(circuit, axis.owner, new).columns != changes_of(circuit, axis.owner, old).columns:
            return True
        return new.length != old.length and _moves_places(circuit, axis.owner, new)
    except ValueError:
        return False  # said where the value is used, with all that goes with it


def _moves_places(circuit: Circuit, name: str, piece: Piece) -> bool:
    trial = copied(circuit)
    put(trial, circuit.compiled(), name, piece)
    return places_of(trial) != places_of(circuit)


def variants_of(circuit: Circuit, dimensions: Sequence[Dimension]) -> list[Variant]:
    """The `Variant` of every combination of the structural dimensions, in the order of their product.

    A value that no combination accepts raises `CircuitError` naming it.
    """
    made: list[Variant] = []
    refused: dict[tuple[str, int], tuple[Axis, list[CircuitError | None]]] = {}
    for places in itertools.product(*(range(len(dimension)) for dimension in dimensions)):
        chosen = {axis.name: (axis, place) for dimension, place in zip(dimensions, places) for axis in dimension.axes}
        try:
            made.append(_variant(circuit, chosen))
        except ValueError as error:
            error = located(error, "")
            words = told({name: axis.values[place] for name, (axis, place) in chosen.items()}, {name: axis for name, (axis, _) in chosen.items()})
            made.append(Variant(refusal=CircuitError(error.reason, error.cure, place=words, key=error.key, value=error.value)))
        for name, (axis, place) in chosen.items():
            refused.setdefault((name, place), (axis, []))[1].append(made[-1].refusal)
    for (_, place), (axis, refusals) in refused.items():
        found = [one for one in refusals if one is not None]
        if len(found) == len(refusals):
            raise blamed(axis, place, found[0])
    return made


def blamed(axis: Axis, place: int, error: ValueError) -> CircuitError:
    """A refusal that names the axis and its value."""
    error = located(error, "")
    return CircuitError(f"{axis.labels[place]!r}: {error.reason}", error.cure, place=f"sweep over '{axis.name}'", key=axis.name,
                        value=axis.values[place])


def told(chosen: Mapping[str, object], axes: Mapping[str, Axis]) -> str:
    """A combination in words: "return hose.size '-6', return hose.length". Of drawn values just the name, so that reasons stay few."""
    return ", ".join(name if axes[name].span else f"{name} {quoted(value)}" for name, value in chosen.items())


def _variant(circuit: Circuit, chosen: Mapping[str, tuple[Axis, int]]) -> Variant:
    values = {name: axis.values[place] for name, (axis, place) in chosen.items()}
    compiled = circuit.compiled()
    other = with_fluid(circuit, values["fluid"]) if _sort(chosen, "fluid") else copied(circuit)
    pieces = {name: values[name] for name in _sort(chosen, "part")}
    words: dict[str, dict[str, Any]] = {}
    for name in _sort(chosen, "word"):
        words.setdefault(chosen[name][0].owner, {})[chosen[name][0].key] = values[name]
    for owner, some in words.items():
        try:
            pieces[owner] = pieces.get(owner, compiled.pieces[owner]).changed(**some)
        except ValueError as error:
            raise located(error, owner) from None
    for owner, piece in pieces.items():
        put(other, compiled, owner, piece)
    other.compiled()
    return Variant(other, {name: value for name, value in values.items() if chosen[name][0].sort in ("word", "place", "condition")})


def _sort(chosen: dict[str, tuple[Axis, int]] | Mapping[str, tuple[Axis, int]], sort: str) -> list[str]:
    return [name for name, (axis, _) in chosen.items() if axis.sort == sort]
