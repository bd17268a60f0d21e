"""Cases of a vehicle: which circuit a condition is for, and the one solve of all circuits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from .. import units
from ..results import Answer, SharedSolution, VehicleAnswer
from .case_words import WORDS, cure_for, refused_condition, takes
from .cases import Case, no_condition, overrides_of, refuse_two_airs, standing
from .compile import columns_of
from .duty import banks_of, meet_demand
from .errors import CircuitError, located, meant
from .heat_unsaid import Preset
from .other_states import differences, search_beside
from .parts_notes import notes_of
from .trial import with_trials
from .vehicle_compile import LEVEL, exchanger_numbers, streams_of

if TYPE_CHECKING:
    from types import SimpleNamespace
    from .. import _core
    from .changes import Overrides
    from .exchangers import Exchanger
    from .piece import Piece
    from .vehicle import Vehicle
    from .vehicle_compile import Joint, Member

_OF_ALL = ("altitude", "ambient_pressure", "air_temperature", "acceleration")  # there is one air, and one vehicle
_JUDGED_TOGETHER = ("altitude", "air_temperature")


def owner_of(vehicle: Vehicle | SimpleNamespace, word: str) -> tuple[str | None, str]:
    """(circuit or exchanger, the rest) of a condition said of one; (None, word) of one that is for all."""
    for name in sorted((*vehicle.circuits, *vehicle.exchangers), key=len, reverse=True):
        if word.startswith(f"{name}."):
            return name, word[len(name) + 1:]
    return None, word


def refuse_unknown_words(vehicle: Vehicle, conditions: Mapping[str, object], place: str) -> None:
    """Raises for a condition that can be no word of a case of this vehicle, whatever parts its circuits will have."""
    for word, value in conditions.items():
        name, rest = owner_of(vehicle, word)
        if name is None and "." in word:
            known = [*vehicle.circuits, *vehicle.exchangers]
            raise CircuitError(
                f"'{word}' does not begin with a circuit",
                meant(word.partition(".")[0], known) + ", as in coolant.pump.speed",
                place=place,
                key=word,
                value=value,
            )
        if name not in vehicle.exchangers and "." not in rest and rest not in WORDS:
            raise no_condition(word, value).at(place)
        if name in vehicle.circuits and rest in _OF_ALL:
            raise CircuitError(
                f"'{rest}' is said of one circuit", f"all circuits stand in it: write {rest}", place=place, key=word, value=value
            )


class CaseWords:
    """The conditions of one case, dealt out."""

    def __init__(self, vehicle: Vehicle, case: Case) -> None:
        self.place = f"case '{case.name}'"
        refuse_unknown_words(vehicle, case.conditions, self.place)
        refuse_two_airs(case.conditions, self.place)
        self.of_circuit: dict[str, dict[str, Any]] = {name: {} for name in vehicle.circuits}
        self.of_exchanger: dict[str, dict[str, object]] = {}
        self.written = {}  # (circuit or exchanger, its word) -> word as written
        own: dict[str, dict[str, Any]] = {}
        for word, value in case.conditions.items():
            name, rest = owner_of(vehicle, word)
            if name in vehicle.exchangers:
                self.of_exchanger.setdefault(name, {})[rest] = value
                self.written[name, rest] = word
            elif name is not None:
                own.setdefault(name, {})[rest] = value
                self.written[name, rest] = word
            else:
                self.deal(vehicle, word, value)
        for name, words in own.items():
            self.of_circuit[name] |= words

    def deal(self, vehicle: Vehicle, word: str, value: object) -> None:
        """Gives a word to every circuit that has something to set by it."""
        takers = [name for name, circuit in vehicle.circuits.items() if takes(circuit, word)]
        if not takers:
            raise CircuitError(f"no circuit has anything to set '{word}' on", cure_for(word), place=self.place, key=word, value=value)
        for name in takers:
            self.of_circuit[name][word] = value

    def blamed(self, owner: str, refused: ValueError) -> CircuitError:
        """An error about a circuit's word, told by the word as written in the vehicle's case."""
        error = located(refused, "")
        key = self.written.get((owner, error.key), error.key)
        reason = error.reason if key != error.key or error.key in _JUDGED_TOGETHER else f"circuit '{owner}': {error.reason}"
        return CircuitError(reason, error.cure, place=self.place, key=key, value=error.value)


def surroundings_of(vehicle: Vehicle) -> dict[str, object]:
    """Altitude and air temperature of the vehicle: as said, else as its circuits agree."""
    found = dict(vehicle.conditions)
    for word, kind in (("altitude", "length"), ("air_temperature", "temperature")):
        if word in found:
            units.parse(found[word], kind, name=word)
            continue
        said = {name: circuit.conditions[word] for name, circuit in vehicle.circuits.items()}
        first, *others = said
        for other in others:
            if units.parse(said[other], kind, name=word) != units.parse(said[first], kind, name=word):
                raise CircuitError(
                    f"'{word}' is {said[first]} of circuit '{first}' and {said[other]} of '{other}'",
                    f"say {word} of the vehicle, once",
                    place=f"vehicle '{vehicle.name}'",
                    key=word,
                )
        found[word] = next((one for one in said.values() if not isinstance(one, Preset)), said[first])
    return found


def solve_vehicle(vehicle: Vehicle, cases: Sequence[Case], *, others: bool = False) -> VehicleAnswer:
    """The `VehicleAnswer` of cases, with `others` also told of their other steady states."""
    joint, around = vehicle.compiled(), surroundings_of(vehicle)
    each: dict[str, tuple[dict[str, Any], dict[str, Any], dict[str, Any], dict[str, Any]]] = {
        name: ({}, {}, {}, {}) for name in vehicle.circuits
    }  # solutions, conditions, notes, fuel asked; by case
    whole = {}
    for case in cases:
        words = CaseWords(vehicle, case)
        solution, found, shown = _solve_case(vehicle, joint, words, around)
        whole[case.name] = solution
        beside, failed = search_beside(joint.plan, solution) if others else ((), "")
        for name, member in joint.members.items():
            solutions, conditions, notes, asked = each[name]
            here, *elsewhere = (SharedSolution(one, member.prefix, member.junctions, shown[name]) for one in (solution, *beside))
            solutions[case.name] = here
            conditions[case.name] = Case(case.name, words.of_circuit[name]).texts()
            noted = notes_of(member.circuit, {**member.circuit.conditions, **around, **words.of_circuit[name]}, found[name].pieces)
            notes[case.name] = replace(noted, other_states=differences(member.circuit, here, elsewhere), not_searched=failed)
            if found[name].demand is not None:
                asked[case.name] = found[name].demand
    answers = {}
    for name, (solutions, conditions, notes, asked) in each.items():
        layout = replace(joint.members[name].compiled.layout, source=vehicle.circuits[name].source, units=vehicle.units,
                         notes=with_trials(vehicle, cases, notes, name), fuel_asked=asked)
        answers[name] = Answer(layout, solutions, conditions)
    ends = {name: tuple((circuit, part) for circuit, part in one.ends) for name, one in vehicle.exchangers.items()}
    return VehicleAnswer(
        vehicle.name, answers, ends, whole, {case.name: case.texts() for case in cases}, invented=vehicle.invented, source=vehicle.source
    )


def judge_case(vehicle: Vehicle, name: str, conditions: Mapping[str, object]) -> None:
    """Raises what a solve of a case would say of its words."""
    numbers_of_case(vehicle, vehicle.compiled(), CaseWords(vehicle, Case(name, conditions)), surroundings_of(vehicle))


def _solve_case(vehicle: Vehicle, joint: Joint, words: CaseWords,
                around: Mapping[str, object]) -> tuple[_core.Solution, dict[str, Overrides], dict[str, dict[str, float]]]:
    """The engine's solution of one case, the `Overrides` of each circuit, and the numbers that each shows in place of the vehicle's."""
    found, numbers, shown = numbers_of_case(vehicle, joint, words, around)
    joint.plan.set_many(numbers)
    for name, member in joint.members.items():
        set_columns(joint.plan, member, found[name].columns)
    return _solution(joint, found, words), found, shown


def numbers_of_case(vehicle: Vehicle, joint: Joint, words: CaseWords,
                    around: Mapping[str, object]) -> tuple[dict[str, Overrides], dict[str, float], dict[str, dict[str, float]]]:
    """`Overrides` of each circuit in a case, all numbers of the plan [SI], and those that each circuit shows in place of the plan's."""
    found: dict[str, Overrides] = {}
    numbers: dict[str, float] = {}
    shown: dict[str, dict[str, float]] = {}
    for name, member in joint.members.items():
        own = {**member.circuit.conditions, **around, **words.of_circuit[name]}
        try:
            found[name] = overrides_of(member.circuit, own, words.place)
            _judge(member, own, found[name])
        except ValueError as error:
            raise words.blamed(name, error) from None
        together = {**member.compiled.base, **found[name].numbers}
        numbers |= member.joint_numbers(together)
        shown[name] = member.own_numbers(together)
    for name, one in vehicle.exchangers.items():
        numbers |= _exchanger(vehicle, one, words, {circuit: overrides.pieces for circuit, overrides in found.items()})
    numbers[LEVEL] = sum(own[LEVEL] for own in shown.values()) / len(shown)  # where the search begins, no more
    return found, numbers, shown


def _judge(member: Member, conditions: Mapping[str, object], found: Overrides) -> None:
    """Lets the circuit's own plan refuse numbers and columns, in the circuit's words."""
    try:
        with standing(member.circuit, found):
            pass
    except ValueError as error:
        raise refused_condition(member.circuit, conditions, error) from None


def set_columns(plan: _core.Plan, member: Member, changed: Mapping[str, Mapping[str, Sequence[float]]]) -> None:
    for part, (name, number) in member.compiled.elements.items():
        columns = changed.get(part, columns_of(member.circuit, member.compiled.pieces[name].elements[number]))
        if columns:
            plan.set_columns(member.prefix + part, columns)


def _exchanger(vehicle: Vehicle, one: Exchanger, words: CaseWords, pieces: Mapping[str, Mapping[str, Piece]]) -> dict[str, float]:
    """Numbers of an exchanger in a case [SI]."""
    said = words.of_exchanger.get(one.name, {})
    try:
        now = one.changed(**said) if said else one
        return {f"{one.name}.{field}": si for field, si in exchanger_numbers(now, streams_of(vehicle, now, pieces)).items()}
    except CircuitError as error:
        raise words.blamed(one.name, error) if said else error from None


def _solution(joint: Joint, found: Mapping[str, Overrides], words: CaseWords) -> _core.Solution:
    asking = [name for name, overrides in found.items() if overrides.demand is not None]
    if not asking:
        return joint.plan.solve(cold=True)
    if len(asking) > 1:
        raise CircuitError(
            f"'power' is for {' and '.join(asking)}",
            "say of which circuit's injectors: fuel.power, fuel.specific_consumption",
            place=words.place,
            key="power",
        )
    member = joint.members[asking[0]]
    banks = [member.prefix + name for name in banks_of(member.compiled)]
    demand = found[asking[0]].demand
    assert demand is not None, "it asks for one"
    return meet_demand(joint.plan, banks, demand)
