"""A drive: which case from when to when, read and checked; and what a circuit needs before it can be followed in time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from copy import copy
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from ..circuit import Circuit, CircuitError
from ..circuit.compile import known_temperature
from ..circuit.errors import located, meant
from ..results.conditions import label_of, said
from ..units import parse
from ..units.errors import quoted

if TYPE_CHECKING:
    from ..circuit.vehicle import Vehicle

_Written = tuple[tuple[str, str], ...]  # conditions: (word, text)
PLACE = "over time"
MOST_MOMENTS = 20_000
SHORTEST = 1.0  # [s] that a case may last
_EXAMPLE = '[("3 min", "cold start"), ("10 min", "cruise")]'


@dataclass(frozen=True)
class Leg:
    """One row of a drive."""

    case: str
    begins: float  # [s]
    ends: float  # [s]
    row: int = 1  # of the drive, from 1
    conditions: tuple[tuple[str, str], ...] = ()  # of a row that has them in place of a name, as written

    def words(self, units: str | None) -> str:
        """What it is called where there is room to say what it is: "track", "row 2 (speed 2000 rpm)"; for None as it was written."""
        told = ", ".join(f"{label_of(word, [value])} {said(word, value, units) if units else value}" for word, value in self.conditions)
        return f"{self.case} ({told})" if told else self.case

    def place(self, units: str | None) -> str:
        """Which row of the drive it is, for messages: "row 2 of the drive, track"."""
        row, words = f"row {self.row}", self.words(units)
        return f"{row} of the drive{words.removeprefix(row)}" if words.startswith(f"{row} ") else f"{row} of the drive, {words}"

    def moments(self, every: float) -> list[float]:
        """Times after its beginning that are kept [s], its end the last of them."""
        count = int((self.ends - self.begins) / every * (1.0 + 1e-12))
        inside = [self.begins + number * every for number in range(1, count + 1)]
        if inside and self.ends - inside[-1] < 1e-6 * every:
            inside.pop()
        return [*inside, self.ends]


def with_own_cases(circuit: Circuit | Vehicle,
                   drive: Sequence[Sequence[Any]]) -> tuple[Circuit | Vehicle, Sequence[Sequence[Any]], dict[str, _Written]]:
    """The circuit, the drive, and what is said in its rows that have conditions in place of a name: a copy of the circuit has them as cases, "row 2"."""
    rows = list(drive) if isinstance(drive, (list, tuple)) else []
    own = [number for number, row in enumerate(rows) if isinstance(row, (list, tuple)) and len(row) == 2 and isinstance(row[1], Mapping)]
    if not own:
        return circuit, drive, {}
    made = circuit.copy() if isinstance(circuit, Circuit) else copy(circuit)
    made.cases = dict(circuit.cases)
    written: dict[str, _Written] = {}
    for number in own:
        name = f"row {number + 1}"
        while name in made.cases:
            name += " of the drive"
        made.case(name, **rows[number][1])
        written[name] = tuple(made.cases[name].texts().items())
        rows[number] = (rows[number][0], name)
    return made, rows, written


def legs_of(circuit: Circuit | Vehicle, drive: Sequence[Sequence[Any]], own: Mapping[str, _Written] | None = None) -> list[Leg]:
    """The `Leg`s of a drive as written; `own` are the conditions of rows that have them. Raises `CircuitError` or `UnitError`."""
    if isinstance(drive, str) or not isinstance(drive, (list, tuple)) or not drive:
        raise _refused("drive", drive, f"'drive' is {drive!r}", f"write how long each case lasts, one after the other: {_EXAMPLE}")
    legs, now = [], 0.0
    for number, row in enumerate(drive, 1):
        if isinstance(row, str) or not isinstance(row, (list, tuple)) or len(row) != 2:
            raise _refused("drive", row, f"row {number} of 'drive' is {row!r}", f"write how long and which case: {_EXAMPLE}")
        lasts = above_zero(row[0], f"row {number} of drive")
        if lasts < SHORTEST:
            raise _refused("drive", row, f"row {number} of 'drive' lasts {quoted(row[0])}, less than {SHORTEST:g} s", "leave it out, or let it last longer")
        if row[1] not in circuit.cases:
            raise _refused("drive", row[1], f"there is no case '{row[1]}', which row {number} of the drive names", meant(str(row[1]), circuit.cases))
        legs.append(Leg(row[1], now, now + lasts, number, (own or {}).get(row[1], ())))
        now += lasts
    return legs


def above_zero(value: str, name: str) -> float:
    """A time [s]; none and less are refused."""
    found: float = parse(value, "time", name=name)
    if not found > 0.0:
        raise _refused(name, value, f"'{name}' is {quoted(value)}, not above zero", 'write how long, such as "10 s" or "3 min"')
    return found


def every_of(every: str, legs: Sequence[Leg]) -> float:
    """How far apart the kept moments are [s]."""
    found = above_zero(every, "every")
    count = sum((leg.ends - leg.begins) / found for leg in legs)
    if count > MOST_MOMENTS:
        raise _refused("every", every, f"every {quoted(every)} makes {count:,.0f} moments of this drive, more than {MOST_MOMENTS:,}", "write a longer 'every'")
    return found


def refuse_what_stands_still(circuit: object) -> None:
    """Raises for what cannot be followed in time."""
    if not isinstance(circuit, Circuit):
        raise _refused("circuit", circuit, f"{circuit!r} is not a circuit", "make it with fn.Circuit or fn.load")
    if not circuit.finds_temperatures:
        raise _refused("circuit", circuit.name, "its temperatures are given, so nothing warms up",
                       'say temperature = "found" of its tank, and its heat_capacity; docs/guide/heat.md has the words')
    for name in found_tanks(circuit):
        if not circuit.junctions[name].heat_capacity:
            raise CircuitError(f"tank '{name}' has no heat_capacity, so nothing tells how fast it warms",
                               'say it: mass of its liquid times specific heat, 5 kg of oil is about "10 kJ/K"; and 0.5 kJ/K for each kg of steel, 0.9 of '
                               "aluminium, that warms with it", place=PLACE, key=f"{name}.heat_capacity")


def found_tanks(circuit: Circuit) -> list[str]:
    """Names of the tanks whose temperature is found."""
    return [name for name, junction in circuit.junctions.items() if junction.found]


def followed(circuit: Circuit, conditions: Mapping[str, object]) -> dict[str, object]:
    """Conditions without those that give a found tank its temperature: it is followed."""
    left_out = {f"{name}.temperature" for name in found_tanks(circuit)}
    return {word: value for word, value in conditions.items() if word not in left_out}


def start_of(circuit: Circuit, start: str | None, case: str) -> float:
    """How warm everything is at the beginning [K]: as said, else what the first case says of a found tank, else its `fluid_temperature`."""
    said = {**circuit.conditions, **circuit.cases[case].conditions}
    key = "start"
    if start is None:
        key = next((word for word in (f"{name}.temperature" for name in found_tanks(circuit)) if word in said and said[word] != "found"),
                   "fluid_temperature")
        written = said[key]
    else:
        written = start
    return start_in(circuit, parse(written, "temperature", name=key), key, written)


def start_in(circuit: Circuit, kelvin: float, key: str, written: object) -> float:
    """A temperature to begin at [K], if the liquid is known there."""
    try:
        return known_temperature(circuit, PLACE, kelvin)
    except ValueError as error:
        error = located(error, PLACE)
        raise CircuitError(f"'{key}' is {quoted(written)}: {error.reason}", error.cure, place=PLACE, key=key, value=written) from None


def _refused(key: str, value: object, reason: str, cure: str) -> CircuitError:
    return CircuitError(reason, cure, place=PLACE, key=key, value=value)
