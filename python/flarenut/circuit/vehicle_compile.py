"""The circuits of a vehicle in one network of the engine, each under its own names with the circuit's before them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import isnan, nan
from typing import TYPE_CHECKING

from .. import _core
from .compile import Builder, Compiled, numbers_of
from .errors import CircuitError, located, meant
from .exchangers import Stream

if TYPE_CHECKING:
    from .circuit import Circuit
    from .exchangers import Exchanger
    from .piece import Piece
    from .vehicle import Vehicle

_SHARED = ("ambient.pressure", "air.temperature", "acceleration.x", "acceleration.y", "acceleration.z")  # of the surroundings
LEVEL = "liquid.temperature"  # of one circuit: the engine knows no such number of one liquid among several


@dataclass
class Member:
    """One circuit in the plan of the vehicle."""

    name: str
    circuit: Circuit
    compiled: Compiled  # of the circuit by itself: its words, its numbers, its layout
    prefix: str
    junctions: range  # its places among all junctions
    parts: dict[str, int]  # name of an engine part, the circuit's own -> index in the network

    def named(self, number: str) -> str:
        """A number of the circuit's own plan as the vehicle's plan calls it."""
        return number if number in _SHARED else self.prefix + number

    def filled_in(self, numbers: dict[str, float]) -> dict[str, float]:
        """Temperatures of places that nobody gave one: what comes in there is as warm as the circuit's liquid is said to be [K]."""
        level, places = numbers[LEVEL], self.circuit.junctions
        unsaid = [name for name, place in places.items() if not place.found and place.drains_to is None]
        return {f"{name}.temperature": level for name in unsaid if isnan(numbers[f"{name}.temperature"])}

    def joint_numbers(self, numbers: dict[str, float]) -> dict[str, float]:
        """Numbers of the circuit's own plan [SI] as numbers of the vehicle's."""
        return {self.named(name): si for name, si in {**numbers, **self.filled_in(numbers)}.items() if name != LEVEL}

    def own_numbers(self, numbers: dict[str, float]) -> dict[str, float]:
        """What the circuit's own plan would show where the vehicle's shows something else."""
        return {LEVEL: numbers[LEVEL], **dict.fromkeys(self.filled_in(numbers), nan)}


@dataclass
class Joint:
    """The plan of a vehicle, and which circuit has which part of it."""

    plan: _core.Plan
    members: dict[str, Member]  # name of a circuit -> `Member`

    def is_of(self, compiled: Mapping[str, Compiled]) -> bool:
        """Whether these are the circuits as they were when this was compiled."""
        return compiled.keys() == self.members.keys() and all(self.members[name].compiled is one for name, one in compiled.items())


def compile_vehicle(vehicle: Vehicle, each: Mapping[str, Compiled]) -> Joint:
    """The `Joint` of a vehicle. `each` are its circuits compiled by themselves, which refused in their own words what is wrong in one."""
    if not vehicle.circuits:
        raise CircuitError("it has no circuits", "add one: add(circuit)", place=f"vehicle '{vehicle.name}'")
    network, members = _core.Network(), {}
    spoken: dict[str, str] = {}  # places inside of runs by the part before them, under the names that all circuits have together
    for name, circuit in vehicle.circuits.items():
        first = network.junction_count
        build = Builder(circuit, network, prefix=f"{name}: ")
        build.write()
        spoken |= {f"{build.prefix}{one}": f"{build.prefix}{words}" for one, words in build.inner.items()}
        members[name] = Member(name, circuit, each[name], build.prefix, range(first, network.junction_count), build.part_index)
    for member in members.values():
        member.compiled.layout = replace(member.compiled.layout, elsewhere=spoken)
    for one in vehicle.exchangers.values():
        parts = [_end(members[circuit], part, key, one.name) for key, (circuit, part) in zip(("first", "second"), one.ends)]
        try:
            network.exchanger(one.name, one.law.kind, parts[0], parts[1], exchanger_numbers(one, streams_of(vehicle, one)))
        except ValueError as error:
            raise located(error, f"exchanger '{one.name}'") from None
    return Joint(_core.Plan(network), members)


def streams_of(vehicle: Vehicle, exchanger: Exchanger, pieces: Mapping[str, Mapping[str, Piece]] | None = None) -> list[Stream]:
    """The `Stream`s of both parts of an exchanger. `pieces`: circuit -> pieces that a case makes anew."""
    found = []
    for circuit, part in exchanger.ends:
        owner = vehicle.circuits[circuit]
        piece = (pieces or {}).get(circuit, {}).get(part, owner.compiled().pieces[part])
        found.append(Stream(owner.fluid, numbers_of(owner, piece, part)[0] if piece.elements[0].kind == "line" else None))
    return found


def exchanger_numbers(exchanger: Exchanger, streams: Sequence[Stream]) -> dict[str, float]:
    """SI numbers of an exchanger's law. Raises `CircuitError` with its place."""
    try:
        assert callable(exchanger.law.numbers), "an exchanger goes by its streams"
        found: dict[str, float] = exchanger.law.numbers(streams)
        return found
    except ValueError as error:
        raise located(error, f"exchanger '{exchanger.name}'") from None


def _end(member: Member, part: str, key: str, name: str) -> int:
    """Index of the engine's part that an exchanger takes hold of."""
    place, pieces = f"exchanger '{name}'", member.compiled.pieces
    runs = [one for one in pieces if one not in member.circuit.multiport]
    if part not in runs:
        reason = f"'{part}' has more than two ends" if part in pieces else f"circuit '{member.name}' has no part '{part}'"
        raise CircuitError(reason, meant(part, runs), place=place, key=key, value=part)
    element = pieces[part].elements[0]
    if element.heat is not None:
        raise CircuitError(
            f"'{part}' gives its heat to the air as it is",
            "an exchanger needs a part of its own, such as a core or a plain tube",
            place=place,
            key=key,
            value=part,
        )
    return member.parts[part + element.suffix]
