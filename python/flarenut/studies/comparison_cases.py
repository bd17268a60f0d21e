"""The cases that variants are compared in: the same for all, less what a variant has no part for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from ..circuit import CircuitError
from ..circuit.case_words import DRIVES
from ..circuit.cases import Case

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit


def shared_cases(circuits: Mapping[str, Circuit], wanted: Sequence[str] | None) -> list[str]:
    """Names of cases that every variant has, and says the same of. Raises `CircuitError` where they differ."""
    (first, one), *others = circuits.items()
    names = list(wanted or one.cases)
    if not names:
        raise _refused(f"'{first}' has no cases", "say in which they are to be compared, with Circuit.case", names)
    for name, circuit in circuits.items():
        for case in names:
            if case not in circuit.cases:
                raise _refused(f"'{name}' has no case '{case}'", "copy one variant from the other, or name those to compare with cases=[...]", case)
        extra = [case for case in circuit.cases if case not in names] if wanted is None else []
        if extra:
            raise _refused(f"'{name}' has a case '{extra[0]}' that '{first}' lacks", "name those to compare with cases=[...]", extra[0])
    for name, circuit in others:
        for case in names:
            _same((first, one), (name, circuit), case)
    return names


def _refused(reason: str, cure: str, value: object) -> CircuitError:
    return CircuitError(reason, cure, place="compare", key="cases", value=value)


def _same(first: tuple[str, Circuit], other: tuple[str, Circuit], case: str) -> None:
    """Refuses a case that two variants say different things of. What is said of a part that only one of them has is its own."""
    ones, twos = ({**circuit.conditions, **circuit.cases[case].conditions} for _, circuit in (first, other))
    for word in dict.fromkeys([*ones, *twos]):
        owner = word.rpartition(".")[0]
        if owner and not all(owner in _owners(circuit) for _, circuit in (first, other)):
            continue
        if str(ones.get(word)) != str(twos.get(word)):
            told = [str(values[word]) if word in values else "nothing" for values in (ones, twos)]
            raise CircuitError(f"case '{case}' differs: '{first[0]}' says {told[0]} of {word}, '{other[0]}' {told[1]}",
                               "variants are compared in the same cases: write it alike in both", place="compare", key=word, value=twos.get(word))


def _owners(circuit: Circuit) -> set[str]:
    """Names that a case may say something of; only the places of a circuit that cannot be compiled."""
    try:
        return {*circuit.junctions, *circuit.compiled().pieces}
    except ValueError:
        return set(circuit.junctions)


def _followed(circuit: Circuit) -> set[str]:
    """Conditions that some part of a circuit follows: the fan's of a cooler, the speed's of a pump."""
    try:
        compiled = circuit.compiled()
    except ValueError:
        return set(DRIVES)
    return {word for name, number in compiled.elements.values() for word in compiled.pieces[name].elements[number].drives}


def to_solve(circuits: Mapping[str, Circuit]) -> dict[str, Circuit]:
    """Copies of the variants whose cases leave out what is said of parts that other variants have and this one lacks.

    A variant without a cooler has no fan to blow through it, and it stands in the same case all the same.
    """
    followed = {name: _followed(circuit) for name, circuit in circuits.items()}
    owners = {name: _owners(circuit) for name, circuit in circuits.items()}
    every_word, every_owner = set().union(*followed.values()), set().union(*owners.values())
    made = {}
    for name, circuit in circuits.items():
        foreign_words, foreign_owners = every_word - followed[name], every_owner - owners[name]
        own = made[name] = circuit.copy()
        own.cases = {case: Case(case, {word: value for word, value in one.conditions.items()
                                       if word not in foreign_words and word.rpartition(".")[0] not in foreign_owners})
                     for case, one in circuit.cases.items()}
    return made
