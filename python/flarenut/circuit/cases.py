"""Operating cases: conditions in shop words to numbers of the plan.

A case changes numbers only, never the plan. The words are listed in docs/guide/cases.md; beside them any word of any part
may be set by name, ``"pump.volts"``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, ParamSpec, TypeVar

from .. import units
from ..fluids import standard_pressure
from ..units.errors import quoted
from .backwards import backwards_in
from .case_words import DRIVES, OWN_WORD, SURROUNDINGS, TANKS, WORDS, cure_for, refused_condition, word_meant
from .changes import Overrides, changed_piece, changes_of, junction_number, refuse_supply_beside_demand
from .compile import columns_of
from .duty import banks_of, meet_demand
from .errors import CircuitError, located
from .heat_words import engine_heat
from .other_states import differences, search_beside
from .parts_notes import notes_of
from .places import manifold_pressure
from .unsolved import beside_the_cause, says_it_all

if TYPE_CHECKING:
    from .. import _core
    from .backwards import Backwards
    from .circuit import Circuit
    from .compile import Compiled
    from .piece import Piece

_OF_HEAT = ("vehicle_speed", "fan")  # move nothing in a circuit of given temperatures


@dataclass
class Case:
    """A named set of conditions, as the builder wrote them."""

    name: str
    conditions: Mapping[str, object] = field(default_factory=dict)

    def texts(self) -> dict[str, str]:
        """Conditions as texts, for people."""
        return {key: ", ".join(map(str, value)) if isinstance(value, (list, tuple)) else str(value)
                for key, value in self.conditions.items()}


def name_used_twice(name: str) -> CircuitError:
    """The error for a second case of a name."""
    return CircuitError(
        "the name is used twice",
        f"cases need names of their own; to change this one: cases['{name}'].conditions['volts'] = '12 V'; to say it "
        f"anew, first: del cases['{name}']",
        place=f"case '{name}'",
        key="name",
        value=name,
    )


def overrides_of(circuit: Circuit, conditions: Mapping[str, object], place: str) -> Overrides:
    """The `Overrides` of conditions. Raises `CircuitError` naming the case and the word.

    What is said of one part or place by name beats what is said of all of a kind, in whichever order they are written.
    """
    found = Overrides()
    general: dict[str, Any] = {}
    own: dict[str, dict[str, object]] = {}
    places: dict[str, dict[str, object]] = {}
    for word, value in conditions.items():
        name, _, key = word.rpartition(".")
        if not name:
            general[word] = value
        elif name in circuit.junctions:
            places.setdefault(name, {})[key] = value
        else:
            own.setdefault(name, {})[key] = value
    found.pieces = {name: _blamed(place, name, words, _piece_of_case, circuit, name, words, found) for name, words in own.items()}
    for word, value in general.items():
        _blamed(place, "", {word: value}, _one, circuit, word, value, conditions, found, own)
    for name, words in places.items():
        _blamed(place, name, words, refuse_supply_beside_demand, words)
        for key, value in words.items():
            number, si = _blamed(place, name, {key: value}, junction_number, circuit, name, key, value)
            found.numbers[f"{name}.{number}"] = si
    return found


Given = ParamSpec("Given")
Made = TypeVar("Made")


def _blamed(place: str, name: str, words: Mapping[str, object], function: Callable[Given, Made],
            *arguments: Given.args, **named: Given.kwargs) -> Made:
    """Calls a function, and says case and word in what it raises. `words` are those it may raise for."""
    try:
            return function(*arguments, **named)
    except ValueError as error:
        error = located(error, "")
        key = error.key if error.key in words else next(iter(words))
        told = CircuitError(error.reason, error.cure, place=place, key=f"{name}.{key}" if name else key, value=words[key])
        if name:  # "'bore' is '0 mm'" alone leaves open whose bore; a file shows the key beside its line
            told.args = (": ".join(filter(None, (place, told.key, told.reason, told.cure))),)
        raise told from None


def _piece_of_case(circuit: Circuit, name: str, words: Mapping[str, object], found: Overrides) -> Piece:
    piece, now = changed_piece(circuit, name, words), circuit.compiled().pieces[name]
    if piece.shape != now.shape or piece.rise != now.rise:
        raise CircuitError(
            "this changes heights, what is sensed, how heat passes, or which devices it holds, and a case changes numbers only",
            "use Circuit.change, or a circuit of its own",
        )
    changes = changes_of(circuit, name, piece)
    found.numbers |= changes.numbers
    found.columns |= changes.columns
    return piece


def _one(circuit: Circuit, word: str, value: object, conditions: Mapping[str, object], found: Overrides,
         own: Mapping[str, Mapping[str, object]]) -> None:
    if word in DRIVES:
        _drive(circuit, word, value, found, own)
        if word == "speed" and circuit.finds_temperatures:
            found.numbers |= engine_heat(circuit, conditions)
    elif word == "air_temperature" and not circuit.finds_temperatures:
        units.parse(value, "temperature", name=word)  # nothing is cooled by it
    elif word == "engine_power":
        _engine_power(circuit, word, value, conditions, found)
    elif word in SURROUNDINGS:
        number, kind = SURROUNDINGS[word]
        found.numbers[number] = units.parse(value, kind, name=word)
    elif word == "altitude":
        pressure = standard_pressure(value).si
        if "ambient_pressure" not in conditions:  # a case's, over the altitude of the circuit
            found.numbers["ambient.pressure"] = pressure
    elif word == "acceleration":
        for axis, one in zip("xyz", _three(value)):
            found.numbers[f"acceleration.{axis}"] = one
    elif word == "manifold":
        if getattr(circuit.junctions.get("manifold"), "kind", "") != "fixed":
            raise CircuitError("the circuit has no place of given pressure called 'manifold'",
                               "injectors or a regulator's reference must name it", key=word)
        found.numbers["manifold.gauge"] = manifold_pressure(value, word)
    elif word in TANKS:
        number, kind = TANKS[word]
        tanks = [name for name, junction in circuit.junctions.items() if junction.kind == "tank"]
        _require(tanks, word, "tank")
        found.numbers |= {f"{tank}.{number}": units.parse(value, kind, name=word) for tank in tanks}
    elif word in ("power", "specific_consumption"):
        other = "specific_consumption" if word == "power" else "power"
        if other not in conditions:
            raise CircuitError(f"'{word}' needs {other} beside it", 'such as power = "600 hp", specific_consumption = "0.6 lb/hp/h"')
        if "duty" in conditions:
            raise CircuitError("'power' and 'duty' both say how much fuel is burnt", "leave one of them out")
        found.demand = units.parse(conditions["power"], "power", name="power") * units.parse(
            conditions["specific_consumption"], "specific_consumption", name="specific_consumption")
    else:
        raise no_condition(word)


def no_condition(word: str, value: object = None) -> CircuitError:
    """The error for a word that is no condition of a case."""
    close = word_meant(word)
    cure = (f"did you mean '{close}'? " if close else "") + "there are " + ", ".join((*WORDS, "part.word"))
    return CircuitError(f"'{word}' is not a condition of a case", cure, key=word, value=value)


def _drive(circuit: Circuit, word: str, value: object, found: Overrides, own: Mapping[str, Mapping[str, object]]) -> None:
    kind, what = DRIVES[word]
    compiled = circuit.compiled()
    given, followers = units.parse(value, kind, name=word), []
    if word == "volts" and given < 0.0:
        raise CircuitError(
            f"'volts' is {quoted(value)}, below 0 V",
            "write how many volts there are, with the wires in their right place",
            key=word,
            value=value,
        )
    for whole, (name, number) in compiled.elements.items():
        drives = found.pieces.get(name, compiled.pieces[name]).elements[number].drives
        if word not in drives:
            continue
        followers.append(whole)
        if OWN_WORD.get(word, word) not in own.get(name, ()):
            follower, factor, offset = drives[word]
            driven = factor * given + offset
            if word not in _OF_HEAT or circuit.finds_temperatures:
                found.numbers[f"{whole}.{follower}"] = max(0.0, driven) if word == "volts" else driven
    if word != "speed" or not any(junction.friction for junction in circuit.junctions.values()):
        _require(followers, word, what)


def _engine_power(circuit: Circuit, word: str, value: object, conditions: Mapping[str, object], found: Overrides) -> None:
    """The engine's power, of which places take up their shares as heat."""
    _require([name for name, junction in circuit.junctions.items() if junction.heat_share], word, "tank or junction with a heat_share")
    if units.parse(value, "power", name=word) < 0.0:
        raise CircuitError(
            f"'{word}' is {quoted(value)}, below zero",
            "an engine that brakes warms its oil too; write how much as 'heat'",
            key=word,
            value=value,
        )
    if circuit.finds_temperatures:
        found.numbers |= engine_heat(circuit, conditions)


def _require(found: Sequence[str], word: str, what: str) -> None:
    if not found:
        raise CircuitError(f"the circuit has no {what} to set '{word}' on", cure_for(word))


def _three(value: object) -> list[float]:
    """Acceleration of the vehicle: one value is forward; three are forward, left, up."""
    values = list(value) if isinstance(value, (list, tuple)) else [value, "0 g", "0 g"]
    if len(values) != 3:
        raise CircuitError(f"'acceleration' has {len(values)} values", 'write one, forward, or three: ["0.8 g", "0 g", "0 g"]')
    return [units.parse(one, "acceleration", name="acceleration") for one in values]


def apply(compiled: Compiled, numbers: dict[str, float]) -> None:
    """Sets the plan to the circuit as it stands, then to these numbers."""
    differ = {name: value for name, value in numbers.items() if compiled.base.get(name) != value}
    together = {**{name: compiled.base[name] for name in compiled.touched}, **differ}
    compiled.plan.set_many(together)
    compiled.touched = set(differ)


@contextmanager
def standing(circuit: Circuit, found: Overrides) -> Iterator[None]:
    """The plan of a circuit as `Overrides` have it; afterwards as the circuit is written. Raises what the engine refuses."""
    compiled, before = circuit.compiled(), {}
    try:
        apply(compiled, found.numbers)
        for part, columns in found.columns.items():
            name, number = compiled.elements[part]
            as_written = columns_of(circuit, compiled.pieces[name].elements[number])
            if columns != as_written:
                compiled.plan.set_columns(part, columns)
                before[part] = as_written
        yield
    finally:
        apply(compiled, {})
        for part, columns in before.items():
            compiled.plan.set_columns(part, columns)


def refuse_two_airs(conditions: Mapping[str, object], place: str) -> None:
    """Raises where a case says twice how heavy the air is."""
    if "altitude" in conditions and "ambient_pressure" in conditions:
        raise CircuitError("'altitude' and 'ambient_pressure' both say how heavy the air is", "leave one of them out", place=place,
                           key="altitude", value=conditions["altitude"])


def solve_case(circuit: Circuit, case: Case, *, others: bool = False) -> tuple[_core.Solution, float | None]:
    """Solves one case: the engine's solution, and the fuel flow that was asked for by power [kg/s] or None.

    The answer does not depend on what was solved before. Notes of the case are left in the compiled circuit's layout, with `others` also
    its other steady states.
    """
    place = f"case '{case.name}'"
    refuse_two_airs(case.conditions, place)
    conditions = {**circuit.conditions, **case.conditions}
    found = overrides_of(circuit, conditions, place)
    compiled = circuit.compiled()
    compiled.layout = replace(compiled.layout, notes={**compiled.layout.notes, case.name: notes_of(circuit, conditions, found.pieces)})
    try:
        with standing(circuit, found):
            solution = compiled.plan.solve(cold=True) if found.demand is None else _by_duty(compiled, found.demand)
            beside, failed = search_beside(compiled.plan, solution) if others else ((), "")
        if not solution.converged:
            turned = backwards_in(circuit)
            words = turned.cause if turned and turned.sure else beside_the_cause(circuit, solution)
            _note(compiled, case, unsolved=words, says_it_all=turned.sure if turned else says_it_all(solution, words), backwards=turned)
        _note(compiled, case, other_states=differences(circuit, solution, beside), not_searched=failed)
        return solution, found.demand
    except ValueError as error:
        error = refused_condition(circuit, conditions, error)
        raise CircuitError(error.reason, error.cure, place=place, key=error.key, value=error.value) from None


def _note(compiled: Compiled, case: Case, **words: str | bool | Backwards | tuple[object, ...] | None) -> None:
    """Adds to the notes of a case."""
    notes = replace(compiled.layout.notes[case.name], **words)
    compiled.layout = replace(compiled.layout, notes={**compiled.layout.notes, case.name: notes})


def _by_duty(compiled: Compiled, demand: float) -> _core.Solution:
    banks = banks_of(compiled)
    compiled.touched.update(f"{name}.duty" for name in banks)
    return meet_demand(compiled.plan, banks, demand)
