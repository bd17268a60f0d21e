"""Circuits that a sweep needs beside the one given: another fluid, an exchanged part, words that are more than numbers."""

import itertools
from dataclasses import dataclass, field

from ..circuit import CircuitError
from ..circuit.changes import changes_of
from ..circuit.compile import places_of
from ..circuit.errors import located
from ..units.errors import quoted
from .axes import Axis
from .blueprint import copied, put, with_fluid


@dataclass
class Variant:
    """One compiled circuit of a sweep, or why there is none."""

    circuit: object = None
    words: dict = field(default_factory=dict)  # words it stands for, which beat those of a case
    refusal: CircuitError | None = None


def is_structural(circuit, axis):
    """Whether an axis needs circuits of its own, because its values are more than numbers of the plan."""
    if axis.sort in ("fluid", "part"):
        return True
    return axis.sort == "word" and any(_is_more_than_numbers(circuit, axis, value) for value in axis.probes)


def _is_more_than_numbers(circuit, axis, value):
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


def _moves_places(circuit, name, piece):
    trial = copied(circuit)
    put(trial, circuit.compiled(), name, piece)
    return places_of(trial) != places_of(circuit)


def variants_of(circuit, dimensions):
    """The `Variant` of every combination of the structural dimensions, in the order of their product.

    A value that no combination accepts raises `CircuitError` naming it.
    """
    made, refused = [], {}
    for places in itertools.product(*(range(len(dimension)) for dimension in dimensions)):
        chosen = {axis.name: (axis, place) for dimension, place in zip(dimensions, places) for axis in dimension.axes}
        try:
            made.append(_variant(circuit, chosen))
        except ValueError as error:
            error = located(error, "")
            place = told({name: axis.values[place] for name, (axis, place) in chosen.items()}, {name: axis for name, (axis, _) in chosen.items()})
            made.append(Variant(refusal=CircuitError(error.reason, error.cure, place=place, key=error.key, value=error.value)))
        for name, (axis, place) in chosen.items():
            refused.setdefault((name, place), (axis, []))[1].append(made[-1].refusal)
    for (_, place), (axis, refusals) in refused.items():
        if all(refusals):
            raise blamed(axis, place, refusals[0])
    return made


def blamed(axis, place, error):
    """A refusal that names the axis and its value."""
    error = located(error, "")
    return CircuitError(f"{axis.labels[place]!r}: {error.reason}", error.cure, place=f"sweep over '{axis.name}'", key=axis.name,
                        value=axis.values[place])


def told(chosen, axes):
    """A combination in words: "return hose.size '-6', return hose.length". Of drawn values just the name, so that reasons stay few."""
    return ", ".join(name if axes[name].span else f"{name} {quoted(value)}" for name, value in chosen.items())


def _variant(circuit, chosen):
    values = {name: axis.values[place] for name, (axis, place) in chosen.items()}
    compiled = circuit.compiled()
    other = with_fluid(circuit, values["fluid"]) if _sort(chosen, "fluid") else copied(circuit)
    pieces = {name: values[name] for name in _sort(chosen, "part")}
    words = {}
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


def _sort(chosen: dict[str, tuple[Axis, int]], sort):
    return [name for name, (axis, _) in chosen.items() if axis.sort == sort]
