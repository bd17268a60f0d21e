"""A circuit in words to the engine's network, and to the layout that answers need."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from .. import _core
from ..results import Layout
from .errors import CircuitError, located, meant
from .heights import between, place_ends
from .mouths import mouth_of
from .piece import OUTLET, SUPPLY
from .places import OPEN_AIR
from .ranges import in_words, key_of

if TYPE_CHECKING:
    from .circuit import Circuit
    from .mouths import Mouth
    from .piece import Element, Piece
    from .places import Run

_AIR = 101325.0  # [Pa], at which a liquid is asked whether it is known


@dataclass
class Compiled:
    """What compiling leaves behind: the plan, and which piece made which parts of the engine."""

    plan: _core.Plan
    layout: Layout
    pieces: dict[str, Piece]  # name of a piece -> Piece
    elements: dict[str, tuple[str, int]]  # name of an engine part -> (name of its piece, which element of it)
    base: dict[str, float] = field(default_factory=dict)  # number of the plan -> value as the circuit stands [SI]
    piece_at: dict[tuple[str, int], str] = field(default_factory=dict)  # (run, place in it) -> name of a piece
    touched: set[str] = field(default_factory=set)  # numbers that the last case changed
    mouths: dict[str, list[Mouth]] = field(default_factory=dict)  # name of a piece -> its `Mouth`s, where a run meets a tank or open air


def piece_names(circuit: Circuit) -> dict[tuple[str, int], str]:
    """Names of the pieces of runs: (run, place in it) -> name. Given names win; others are run and word."""
    taken, names = set(circuit.multiport) | set(circuit.junctions), {}

    def take(run: Run, place: int, name: str) -> None:
        names[run.name, place] = name
        taken.update({name, *(name + element.suffix for element in run.pieces[place].elements)})

    for run in circuit.runs.values():
        for place, piece in enumerate(run.pieces):
            if piece.name is None:
                continue
            if piece.name in taken:
                raise CircuitError(f"the name '{piece.name}' is used twice", "parts and junctions need names of their own",
                                   place=f"run '{run.name}', part {place + 1}", key="name", value=piece.name)
            take(run, place, piece.name)
    for run in circuit.runs.values():
        words = [piece.word for piece in run.pieces]
        for place, piece in enumerate(run.pieces):
            if piece.name is not None:
                continue
            name = f"{run.name} {piece.word.replace('_', ' ')}"
            if words.count(piece.word) > 1:
                name += f" {words[: place + 1].count(piece.word)}"
            while name in taken:
                name += " (part)"
            take(run, place, name)
    return names


def numbers_of(circuit: Circuit, piece: Piece, name: str) -> list[dict[str, float]]:
    """SI numbers of each element of a piece, for this circuit's liquid."""
    try:
        return [element.si(circuit.fluid) for element in piece.elements]
    except ValueError as error:
        raise located(error, name) from None


def all_numbers_of(circuit: Circuit, piece: Piece, name: str) -> dict[str, float]:
    """Numbers of the plan that a piece sets [SI]: those of its elements, and of their heat where temperatures are found."""
    found: dict[str, float] = {}
    for element, numbers in zip(piece.elements, numbers_of(circuit, piece, name)):
        found |= {f"{name}{element.suffix}.{one}": si for one, si in numbers.items()}
        if circuit.finds_temperatures:
            law = law_numbers_of(circuit, element, name)
            found |= {f"{name}{element.suffix}.{one}": si for one, si in {**law, **element.warmth}.items()}
    return found


def law_numbers_of(circuit: Circuit, element: Element, name: str) -> dict[str, float]:
    """SI numbers of an element's heat law, for this circuit's liquid."""
    try:
        return {} if element.heat is None else element.heat.si(circuit.fluid)
    except ValueError as error:
        raise located(error, name) from None


def columns_of(circuit: Circuit, element: Element) -> dict[str, list[float]]:
    """Measured columns of an element as the plan has them [SI]: its own, and those of its heat law where temperatures are found."""
    found = {column: list(values) for column, values in element.columns.items()}
    if element.heat is not None and circuit.finds_temperatures:
        found |= {f"heat.{column}": list(values) for column, values in element.heat.columns.items()}
    return found


class Builder:
    """Writes a circuit into a network of the engine. `prefix` goes before its names there, where other circuits stand beside it."""

    def __init__(self, circuit: Circuit, network: _core.Network, prefix: str = "") -> None:
        self.circuit, self.network, self.prefix = circuit, network, prefix
        self.follows_heat = circuit.finds_temperatures
        self.liquid = network.liquid(circuit.fluid.liquid)
        self.index: dict[str, int] = {}
        self.pieces: dict[str, Piece] = {}
        self.elements: dict[str, tuple[str, int]] = {}
        self.positions: dict[str, tuple[float, float, float]] = {}
        self.runs: dict[str, list[str]] = {}
        self.senses: dict[str, list[str]] = {}
        self.inner: dict[str, str] = {}
        self.mouths: dict[str, list[Mouth]] = {}
        self.part_index: dict[str, int] = {}  # name of an engine part, without the prefix -> its index

    def write(self) -> dict[tuple[str, int], str]:
        """Writes everything. Raises `CircuitError`, or the engine's InputError, with place, value and cure."""
        names = piece_names(self.circuit)
        positions = positions_of(self.circuit)
        self.junctions(positions)
        if self.follows_heat:
            self.network.follow_heat()
            self.heat_of_places()
        for run in self.circuit.runs.values():
            self.run(run, names, positions)
        for name, (piece, ends) in self.circuit.multiport.items():
            self.part(name, piece, 0, ends, numbers_of(self.circuit, piece, name)[0])
        return names

    def junctions(self, positions: Mapping[str, tuple[float, float, float]]) -> None:
        for name, junction in self.circuit.junctions.items():
            position = self.positions[name] = positions.get(name, (0.0, 0.0, 0.0))
            if junction.kind == "tank":
                self.index[name] = self.network.tank(self.prefix + name, junction.level, junction.vent, position, junction.pickup, self.liquid)
            elif junction.kind == "fixed":
                self.index[name] = self.network.fixed(self.prefix + name, junction.pressure, position)
            else:
                self.index[name] = self.network.junction(self.prefix + name, position, junction.demand)

    def part(self, name: str, piece: Piece, number: int, ends: Sequence[str], numbers: Mapping[str, float]) -> None:
        element = piece.elements[number]
        whole = name + element.suffix
        sensed = [ends[0] if sense is SUPPLY else ends[1] if sense is OUTLET else self.known(name, piece, sense) for sense in element.senses]
        self.elements[whole] = (name, number)
        self.pieces[name] = piece
        self.put(whole, element.kind, ends, sensed, numbers, element.columns)
        if self.follows_heat:
            self.heat(self.part_index[whole], name, piece, element)
        if sensed:
            self.senses[whole] = sensed

    def put(self, whole: str, kind: str, ends: Sequence[str], sensed: Sequence[str], numbers: Mapping[str, float],
            columns: Mapping[str, Sequence[float]]) -> None:
        """Makes a part of the engine between junctions."""
        at, feels = ([self.index[one] for one in places] for places in (ends, sensed))
        self.part_index[whole] = self.network.part(self.prefix + whole, kind, at, feels, numbers, columns, self.liquid)

    def heat(self, index: int, name: str, piece: Piece, element: Element) -> None:
        """What an engine's part has of heat."""
        if element.heat is not None:
            self.network.heat_law(index, element.heat.kind, law_numbers_of(self.circuit, element, name), element.heat.columns)
        if element.warmth:
            self.network.put_heat(index, *(element.warmth.get(word, preset) for word, preset in
                                           (("heat", 0.0), ("efficiency", 1.0), ("heat_capacity", 0.0), ("power", 0.0))))
        if element.feels is not None:
            self.network.sense_temperature(index, self.index[self.known(name, piece, element.feels)])

    def heat_of_places(self) -> None:
        """What is said of heat at places; after all of them have been made."""
        for name, junction in self.circuit.junctions.items():
            if junction.heat or junction.heat_loss or junction.heat_capacity:
                self.network.put_heat_at(self.index[name], junction.heat, junction.heat_loss, junction.heat_capacity)
            if junction.found:
                self.network.let_mix(self.index[name])
            if junction.drains_to is not None:
                tank = self.circuit.junctions.get(junction.drains_to)
                if tank is None or tank.kind != "tank":
                    tanks = [one for one, other in self.circuit.junctions.items() if other.kind == "tank"]
                    raise CircuitError(f"'drains_to' names '{junction.drains_to}', which is no tank", meant(junction.drains_to, tanks),
                                       place=name, key="drains_to", value=junction.drains_to)
                self.network.drain(self.index[name], self.index[junction.drains_to])

    def known(self, name: str, piece: Piece, sense: object) -> str:
        """A junction that a device feels; told by the key that names it, `reference` or `senses`."""
        if not isinstance(sense, str) or sense not in self.index:
            key = next((key for key, value in piece.given.items() if value == sense and key != "name"), "senses")
            raise CircuitError(f"there is no junction '{sense}' to sense, which '{key}' names",
                               meant(str(sense), dict.fromkeys([*self.circuit.junctions, *OPEN_AIR])), place=name, key=key, value=sense)
        return sense

    def worded(self, refusal: _core.InputError) -> ValueError:
        """What the engine refuses of a part, by the key its builder wrote; anything else as it is."""
        name, _ = self.elements.get(refusal.place, ("", 0))
        if not name or not refusal.field:
            return refusal
        piece = self.pieces[name]
        key = key_of(refusal.field, piece.given, piece.keys)
        return in_words(refusal, key, piece.given.get(key), place=name)

    def run(self, run: Run, names: Mapping[tuple[str, int], str], positions: Mapping[str, tuple[float, float, float]]) -> None:
        inside = between(positions[run.start], positions[run.end], run.pieces)
        here, count, place_now = run.start, 0, positions[run.start]
        first, last = (names[run.name, place] for place in (0, len(run.pieces) - 1))
        begins, ends = (mouth_of(self.circuit, run, at_end, taken=[*names.values(), *self.circuit.junctions, *self.circuit.multiport])
                        for at_end in (False, True))
        if begins:
            here = self.mouth(run, begins, first, here, f"{run.name}:0", place_now)
        for place, piece in enumerate(run.pieces):
            name = names[run.name, place]
            last_piece = place == len(run.pieces) - 1
            place_next = positions[run.end] if last_piece else inside[place]
            numbers = numbers_of(self.circuit, piece, name)
            for number in range(len(piece.elements)):
                final = number == len(piece.elements) - 1
                if last_piece and final and not ends:
                    there = run.end
                else:
                    count += 1
                    there = f"{run.name}:{count}"
                    self.inside(there, place_next if final else place_now, after=name + piece.elements[number].suffix)
                self.part(name, piece, number, [here, there], numbers[number])
                self.runs.setdefault(run.name, []).append(name + piece.elements[number].suffix)
                here = there
            place_now = place_next
        if ends:
            self.mouth(run, ends, last, here, run.end, place_now)

    def inside(self, name: str, position: tuple[float, float, float], after: str) -> None:
        """Makes a junction inside a run."""
        self.index[name] = self.network.junction(self.prefix + name, position)
        self.positions[name], self.inner[name] = position, f"after {after}"

    def mouth(self, run: Run, mouth: Mouth, owner: str, here: str, there: str, position: tuple[float, float, float]) -> str:
        """Puts in what the end of a line costs that nobody wrote; returns the junction behind it."""
        if there not in self.index:
            self.inside(there, position, after=mouth.name)
        self.put(mouth.name, mouth.kind, [here, there], [], mouth.numbers(numbers_of(self.circuit, mouth.piece, owner)), {})
        self.runs.setdefault(run.name, []).append(mouth.name)
        self.mouths.setdefault(owner, []).append(mouth)
        return there


def positions_of(circuit: Circuit) -> dict[str, tuple[float, float, float]]:
    """Positions [m] of the ends of all runs and of the places that were given one."""
    positions = {name: junction.position for name, junction in circuit.junctions.items() if junction.position is not None}
    joined = [(ends[0], end) for piece, ends in circuit.multiport.values() if piece.word == "tee" for end in ends[1:]]
    grounded = [name for name, junction in circuit.junctions.items() if junction.kind == "fixed" and not junction.implied]
    place_ends([(run.name, run.start, run.end, run.pieces) for run in circuit.runs.values()], positions, joined, grounded)
    return positions


def places_of(circuit: Circuit) -> tuple[dict[str, tuple[float, float, float]], dict[str, list[tuple[float, float, float]]]]:
    """Positions of everything that has one: ends of runs by name, and the junctions inside of each run."""
    positions = positions_of(circuit)
    inside = {run.name: between(positions[run.start], positions[run.end], run.pieces) for run in circuit.runs.values()}
    return positions, inside


def known_temperature(circuit: Circuit, name: str, kelvin: float) -> float:
    """A temperature said of a place [K], if the liquid is known there."""
    try:
        circuit.fluid.liquid.at(kelvin, _AIR)
    except _core.InputError as refusal:
        raise located(refusal, name) from None
    return kelvin


def compile_circuit(circuit: Circuit) -> Compiled:
    """The `Compiled` of a circuit. Raises `CircuitError`, or the engine's InputError, with place, value and cure."""
    build = Builder(circuit, _core.Network())
    try:
        names = build.write()
        plan = _core.Plan(build.network)
        for name, junction in circuit.junctions.items():
            if build.follows_heat and junction.temperature is not None:
                plan.set_many({f"{name}.temperature": known_temperature(circuit, name, junction.temperature)})
    except _core.InputError as refusal:
        raise build.worded(refusal) from None
    services = {run.name: run.service or circuit.service for run in circuit.runs.values() if run.service or circuit.service}
    layout = Layout(circuit=circuit.name, fluid=circuit.fluid.name, family=circuit.family, invented=circuit.invented,
                    source=circuit.source, runs=build.runs, named=tuple(n for n, j in circuit.junctions.items() if not j.implied),
                    junction_titles=build.inner, bores={n: j.bore for n, j in circuit.junctions.items() if j.bore},
                    senses=build.senses, positions=build.positions, liquids=(circuit.fluid.liquid,), services=services)
    base = {name: plan.get(number) for number, name in enumerate(plan.names)
            if build.follows_heat or not name.endswith(".temperature") or name == "liquid.temperature"}
    return Compiled(plan, layout, build.pieces, build.elements, base, names, mouths=build.mouths)
