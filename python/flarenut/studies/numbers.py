"""From the words of a case and of the axes to numbers of the plan: each group of words worked out once per value, then combined.

Words that set the same numbers belong together: size and length of one hose, the volts of all pumps and the words of one of
them. Each such group is worked out over the product of its own axes; the groups are independent, so that a point of the sweep
is one row of each.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy

from ..circuit import CircuitError
from ..circuit.case_words import refused_condition
from ..circuit.case_words import DRIVES, SURROUNDINGS, TANKS
from ..circuit.cases import overrides_of
from ..circuit.heat_words import engine_heat
from ..results import INJECTORS
from ..units.errors import quoted
from .axes import SAMPLE
from .straight import straight_rows
from .variants import blamed, told

if TYPE_CHECKING:
    from .. import _core
    from ..circuit.cases import Case
    from ..circuit.changes import Overrides
    from ..circuit.circuit import Circuit
    from ..circuit.compile import Compiled
    from .axes import Axis, Dimension

RIVALS = {"altitude": ("ambient_pressure",), "ambient_pressure": ("altitude",), "duty": ("power", "specific_consumption"),
          "power": ("duty",), "specific_consumption": ("duty",)}  # words that say the same thing: that of the sweep holds
_FLOWS_OF_PLACES = ("demand", "supply")
_OWN_WORD = {"filter_loading": "loading"}  # word of a part that says what a condition says, where it has another name
_OUTSIDE = ", outside its range"  # ends what `in_words` says of a number
_MADE = re.compile(", which makes .*(?=, outside its range)")  # of the value drawn
DEMAND = "demand"  # stands among the numbers for the fuel that a power burns [kg/s]


@dataclass
class Group:
    """Words that set the same numbers, worked out for every combination of their axes."""

    dimensions: list[int]  # places among the sweep's number dimensions, ascending
    shape: tuple[int, ...]
    names: list[str]  # numbers of the plan, and perhaps DEMAND
    rows: numpy.ndarray  # (combinations, names) [SI]
    refusals: dict[int, CircuitError] = field(default_factory=dict)  # combination -> why it has no row
    columns: dict[str, dict[str, list[float]]] = field(default_factory=dict)  # part -> measured columns that a case gives it

    @property
    def first_good(self) -> int:
        """The first combination that is not refused."""
        return next(number for number in range(len(self.rows)) if number not in self.refusals)


def rivals_of(circuit: Circuit, name: str) -> tuple[str, ...]:
    """Words that say the same thing as a word does."""
    owner, _, key = name.rpartition(".")
    if owner in circuit.junctions and key in _FLOWS_OF_PLACES:
        return tuple(f"{owner}.{other}" for other in _FLOWS_OF_PLACES if other != key)
    return RIVALS.get(name, ())


def refuse_rivals(circuit: Circuit, names: Sequence[str]) -> None:
    """Raises where two swept words say the same thing."""
    for name in names:
        for rival in rivals_of(circuit, name):
            if rival in names:
                raise CircuitError(f"'{name}' and '{rival}' say the same thing", "vary one of them", place="sweep", key=name)


def refuse_said_twice(circuit: Circuit, names: Sequence[str]) -> None:
    """Raises where a swept condition is said again, by swept words of its own, of every part that follows it."""
    compiled = circuit.compiled()
    for name in (one for one in names if one in DRIVES):
        owners = {compiled.elements[whole][0] for whole, drives in _drives(compiled) if name in drives}
        again = [f"{owner}.{_OWN_WORD.get(name, name)}" for owner in sorted(owners)]
        if again and set(again) <= set(names):
            raise CircuitError(f"'{name}' and '{again[0]}' say the same thing, and no other part follows '{name}'", "vary one of them", place="sweep",
                               key=name)


def conditions_of(circuit: Circuit, case: Case, swept: Sequence[str]) -> dict[str, Any]:
    """Fixed words that hold beside the swept ones, in the order of precedence, and rivals of swept words left out."""
    conditions = {**circuit.conditions, **case.conditions}
    if "altitude" in case.conditions and "ambient_pressure" in case.conditions and not {"altitude", "ambient_pressure"} & set(swept):
        raise CircuitError("'altitude' and 'ambient_pressure' both say how heavy the air is", "leave one of them out",
                           place=f"case '{case.name}'", key="altitude", value=case.conditions["altitude"])
    if "ambient_pressure" in case.conditions:
        conditions.pop("altitude", None)
    beaten = {rival for word in swept for rival in rivals_of(circuit, word)}
    return {word: value for word, value in conditions.items() if word not in beaten or word in swept}


def touched(circuit: Circuit, word: str) -> set[str]:
    """Numbers of the plan that a word may set; DEMAND for fuel by power."""
    compiled = circuit.compiled()
    owner, _, _ = word.rpartition(".")
    if owner in compiled.pieces:
        prefixes = tuple(f"{whole}." for whole, (name, _) in compiled.elements.items() if name == owner)
        prefixes += tuple(f"{mouth.name}." for mouth in compiled.mouths.get(owner, ()))
        return {number for number in compiled.base if number.startswith(prefixes)}
    if owner in circuit.junctions:
        return {number for number in compiled.base if number.startswith(f"{owner}.")}
    if word in DRIVES:
        rubbing = engine_heat(circuit, {}) if word == "speed" and circuit.finds_temperatures else ()
        return {*rubbing, *(f"{whole}.{drives[word][0]}" for whole, drives in _drives(compiled) if word in drives)}
    if word in SURROUNDINGS:
        return {SURROUNDINGS[word][0]}
    if word in TANKS:
        return {f"{tank}.{TANKS[word][0]}" for tank, junction in circuit.junctions.items() if junction.kind == "tank"}
    if word in ("power", "specific_consumption"):
        return {DEMAND, *touched(circuit, "duty")}
    if word == "engine_power":
        return set(engine_heat(circuit, {}))
    return {"altitude": {"ambient.pressure"}, "manifold": {"manifold.gauge"},
            "acceleration": {f"acceleration.{axis}" for axis in "xyz"}}.get(word, {word})


def _drives(compiled: Compiled) -> list[tuple[str, Mapping[str, tuple[str, float, float]]]]:
    return [(whole, compiled.pieces[name].elements[number].drives) for whole, (name, number) in compiled.elements.items()]


def banks_of(compiled: Compiled) -> list[str]:
    """Engine names of the injector banks."""
    return [whole for whole, (name, number) in compiled.elements.items() if compiled.pieces[name].elements[number].kind == INJECTORS]


def groups_of(circuit: Circuit, fixed: Mapping[str, object], dimensions: Sequence[Dimension], place: str,
              known: dict[tuple[tuple[str, str | None], ...], Group]) -> Iterator[Group]:
    """The `Group` list of fixed words (word -> value) and the axes of the number dimensions.

    place : the case, for messages
    known : groups that other cases of this circuit have worked out; filled up

    Raises `CircuitError`: of a fixed word with the place (the case), of an axis with its value, when no combination accepts it.
    """
    axes = {axis.name: axis for dimension in dimensions for axis in dimension.axes}
    sets: list[tuple[set[str], list[str]]] = []  # (numbers touched, words)
    for word in [*(one for one in fixed if one not in axes), *axes]:
        numbers, words, apart = touched(circuit, word), [word], []
        for others, their_words in sets:
            if numbers & others:
                numbers, words = numbers | others, [*their_words, *words]
            else:
                apart.append((others, their_words))
        sets = [*apart, (numbers, words)]
    for _, words in sets:
        key = tuple((word, None if word in axes else repr(fixed[word])) for word in words)
        if key not in known:
            known[key] = _group(circuit, words, fixed, axes, dimensions, place)
        yield known[key]


def _group(circuit: Circuit, words: Sequence[str], fixed: Mapping[str, object], axes: Mapping[str, Axis], dimensions: Sequence[Dimension],
           place: str) -> Group:
    mine = [axes[word] for word in words if word in axes]
    where = [number for number, dimension in enumerate(dimensions) if any(axis in mine for axis in dimension.axes)]
    shape = tuple(len(dimensions[number]) for number in where)
    still = {word: fixed[word] for word in words if word not in axes}
    position = {axis.name: next(p for p, number in enumerate(where) if axis in dimensions[number].axes) for axis in mine}
    plan = circuit.compiled().plan.copy() if mine else None
    quick = straight_rows(circuit, mine, still, place, lambda one: _in_range(plan, one))
    if quick is not None:
        names, rows, columns = quick
        return Group(where, shape, names, rows, columns=columns)
    found: list[Overrides | None] = []
    refusals: dict[int, CircuitError] = {}
    for combination in itertools.product(*map(range, shape)):
        chosen = {axis.name: axis.values[combination[position[axis.name]]] for axis in mine}
        try:
            one = overrides_of(circuit, {**still, **chosen}, place)
            _in_range(plan, one)
            found.append(one)
        except ValueError as error:
            error = refused_condition(circuit, {**still, **chosen}, error)
            if not mine or error.key in still:
                raise
            refusals[len(found)] = CircuitError(*_without_drawn(error, mine, chosen), place=told(chosen, axes), key=error.key, value=error.value)
            found.append(None)
    _refuse_dead_values(mine, position, shape, refusals, dimensions, where)
    return _table(where, shape, found, refusals)


def _in_range(plan: _core.Plan | None, overrides: Overrides) -> None:
    """Raises for numbers that the engine takes from nobody."""
    if plan is not None:
        plan.set_many(overrides.numbers)


def _without_drawn(error: CircuitError, axes: Sequence[Axis],
                   chosen: Mapping[str, object]) -> tuple[str, str]:
    """Reason and cure that do not tell a drawn value, so that a thousand samples have one reason and not a thousand."""
    reason, cure = error.reason, error.cure
    for axis in axes:
        if axis.span:
            reason = _MADE.sub("", reason.replace(quoted(chosen[axis.name]), "the value drawn"))
            cure = "draw between other ends" if re.search(r"\d", cure or "") and not reason.endswith(_OUTSIDE) else cure  # which tells the range
    return reason, cure


def _table(where: list[int], shape: tuple[int, ...], found: Sequence[Overrides | None], refusals: dict[int, CircuitError]) -> Group:
    good = next(one for one in found if one is not None)
    names = [*good.numbers, *([DEMAND] if good.demand is not None else [])]
    rows = numpy.full((len(found), len(names)), numpy.nan)
    for number, one in enumerate(found):
        if one is None:
            continue
        if one.columns != good.columns or list(one.numbers) != list(good.numbers):
            refusals[number] = CircuitError("this combination changes more than numbers", "vary the words one at a time")
            continue
        rows[number] = [*one.numbers.values(), *([one.demand] if one.demand is not None else [])]
    return Group(where, shape, names, rows, refusals, good.columns)


def _refuse_dead_values(axes: Sequence[Axis], position: dict[str, int], shape: tuple[int, ...], refusals: Mapping[int, CircuitError],
                        dimensions: Sequence[Dimension], where: Sequence[int]) -> None:
    """Raises for a value that every combination refuses; of random samples, when all are refused."""
    if not refusals:
        return
    refused = numpy.zeros(int(numpy.prod(shape)), bool)
    refused[list(refusals)] = True
    refused = refused.reshape(shape)
    blame = sorted(axes, key=lambda axis: not _names(axis, next(iter(refusals.values()))))
    for axis in blame:
        place = position[axis.name]
        dead = refused.all(axis=tuple(other for other in range(len(shape)) if other != place))
        if dead.all() if dimensions[where[place]].name == SAMPLE else dead.any():
            value = int(numpy.flatnonzero(dead)[0])
            raise blamed(axis, value, next(error for number, error in refusals.items() if numpy.unravel_index(number, shape)[place] == value))


def _names(axis: Axis, error: CircuitError) -> bool:
    return error.key == axis.name or error.key == axis.key
