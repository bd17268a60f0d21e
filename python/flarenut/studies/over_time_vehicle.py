"""A vehicle through a drive: all circuits in one course of time, so that what leaves the oil warms the coolant at every moment."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

from ..circuit import CircuitError
from ..circuit.cases import Case, refuse_two_airs
from ..circuit.duty import banks_of
from ..circuit.errors import meant
from ..circuit.parts_notes import notes_of
from ..circuit.vehicle_cases import CaseWords, numbers_of_case, owner_of, set_columns, surroundings_of
from ..results import CaseResult, ExchangerReading, SharedSolution
from ..results.finding import stopped
from ..results.html import safely
from ..results.vehicle_answer import Tables
from ..units import parse
from .over_time_answer import OverTime
from .over_time_series import Series
from .over_time_drive import PLACE, found_tanks, refuse_what_stands_still, start_in
from .over_time_run import Course
from .over_time_words import clock
from .single_readings import OF_EXCHANGER

if TYPE_CHECKING:
    from .. import _core
    from ..circuit.vehicle import Vehicle
    from ..results.layout import Layout
    from ..units.quantity import Quantity
    from .over_time_drive import Leg
    from .over_time_findings import TimedFinding
    from pathlib import Path
    from xarray import Dataset
    from ..checks.limits import Limits


def refuse_cold_circuits(vehicle: Vehicle) -> None:
    """Raises for what cannot be followed in time in any of the circuits."""
    for name, circuit in vehicle.circuits.items():
        try:
            refuse_what_stands_still(circuit)
        except CircuitError as error:
            raise CircuitError(f"circuit '{name}': {error.reason}", error.cure, place=error.place, key=error.key and f"{name}.{error.key}",
                               value=error.value) from None


def start_of_vehicle(vehicle: Vehicle, start: str | None, case: str) -> float:
    """How warm everything is at the beginning [K]: as said, else as the air of the first case."""
    around = {**surroundings_of(vehicle), **vehicle.cases[case].conditions}
    key, written = ("start", start) if start is not None else ("air_temperature", str(around["air_temperature"]))
    kelvin: float = parse(written, "temperature", name=key)
    for circuit in vehicle.circuits.values():
        start_in(circuit, kelvin, key, written)
    return kelvin


class VehicleClock(Course[dict[str, CaseResult]]):
    """Goes along a drive with a plan of its own.

    Parameters
    ----------
    vehicle : `Vehicle`, which stays as it is
    start : how warm everything is at the beginning [K]
    units : "us" or "metric", in which its moments are told
    """

    def __init__(self, vehicle: Vehicle, start: float, units: str = "us") -> None:
        self.vehicle, self.joint = vehicle, vehicle.compiled()
        super().__init__(self.joint.plan.copy(), start)
        self.layouts = {
            name: replace(member.compiled.layout, source=member.circuit.source, units=units) for name, member in self.joint.members.items()
        }

    def _take(self, name: str) -> None:
        """Sets the plan to a case."""
        vehicle, around = self.vehicle, surroundings_of(self.vehicle)
        left_out = {f"{circuit}.{tank}.temperature" for circuit, one in vehicle.circuits.items() for tank in found_tanks(one)}
        own = {word: value for word, value in vehicle.cases[name].conditions.items() if word not in left_out}
        refuse_two_airs(own, f"case '{name}'")
        words = CaseWords(vehicle, Case(name, own))
        found, numbers, self.shown = numbers_of_case(vehicle, self.joint, words, around)
        self.plan.set_many(numbers)
        asking = [circuit for circuit, one in found.items() if one.demand is not None]
        if asking[1:]:
            raise CircuitError(
                f"'power' is for {' and '.join(asking)}",
                "say of which circuit's injectors: fuel.power, fuel.specific_consumption",
                place=words.place,
                key="power",
            )
        self.demand = found[asking[0]].demand if asking else None
        self.banks = (
            [self.joint.members[asking[0]].prefix + bank for bank in banks_of(self.joint.members[asking[0]].compiled)] if asking else []
        )
        self.conditions: dict[str, dict[str, str]] = {}
        for circuit, member in self.joint.members.items():
            set_columns(self.plan, member, found[circuit].columns)
            self.conditions[circuit] = Case(name, words.of_circuit[circuit]).texts()
            layout = self.layouts[circuit]
            notes = replace(
                notes_of(member.circuit, {**member.circuit.conditions, **around, **words.of_circuit[circuit]}, found[circuit].pieces),
                steady=False,
            )
            asked = {name: self.demand} if circuit in asking and self.demand is not None else {}
            self.layouts[circuit] = replace(layout, notes={**layout.notes, name: notes}, fuel_asked={**layout.fuel_asked, **asked})

    def _result(self, leg: Leg, solution: _core.Solution) -> dict[str, CaseResult]:
        return {name: CaseResult(leg.case, SharedSolution(solution, member.prefix, member.junctions, self.shown[name]), self.layouts[name],
                                 self.conditions[name]) for name, member in self.joint.members.items()}


class VehicleOverTime(Mapping[str, OverTime]):
    """A vehicle in the course of a drive: a mapping from circuit to its `OverTime`. Prints as tables, shows as HTML in notebooks.

    Attributes
    ----------
    times, cases, legs, complete, why_not, start : of all circuits alike, as in `OverTime`
    vehicle : its name
    """

    def __init__(self, vehicle: Vehicle, layouts: Mapping[str, Layout], legs: Sequence[Leg],
                 kept: Sequence[tuple[float, Leg, dict[str, CaseResult]]],
                 start: float, limits: Limits | None, units: str) -> None:
        self.vehicle, self.circuit, self.invented, self.units = vehicle.name, vehicle.name, vehicle.invented, units
        self._each = {
            name: OverTime(circuit, layouts[name], legs, [(time, leg, result[name]) for time, leg, result in kept], start, limits, units)
            for name, circuit in vehicle.circuits.items()
        }
        self._ends = {name: one.ends for name, one in vehicle.exchangers.items()}
        first = next(iter(self._each.values()))
        self.times, self.legs, self.cases, self.start, self.complete, self.why_not = (
            first.times, first.legs, first.cases, first.start, first.complete, first.why_not)

    def why_not_in(self, units: str | None) -> str:
        """`why_not` in "us" or "metric"; for None values in both, and conditions as they were written."""
        return next(iter(self._each.values())).why_not_in(units)

    def __getitem__(self, circuit: str) -> OverTime:
        if circuit not in self._each:
            raise CircuitError(
                f"there is no circuit '{circuit}'", meant(str(circuit), self._each), place=PLACE, key="circuit", value=circuit
            )
        return self._each[circuit]

    def __iter__(self) -> Iterator[str]:
        return iter(self._each)

    def __len__(self) -> int:
        return len(self._each)

    def _owner(self, name: str) -> tuple[str, str]:
        """(circuit or exchanger, the rest) of a name."""
        owner, rest = owner_of(SimpleNamespace(circuits=self._each, exchangers=self._ends), str(name))
        if owner is None:
            raise CircuitError(
                f"'{name}' does not begin with a circuit or an exchanger",
                meant(str(name).partition(".")[0], [*self._each, *self._ends]),
                place=PLACE,
                key="outputs",
                value=name,
            )
        return owner, rest

    def series(self, name: str) -> Series:
        """`Series` of a reading: "coolant.engine out.temperature", "plate cooler.heat", "plate cooler.first.temperature_in"."""
        owner, rest = self._owner(name)
        if owner in self._each:
            found = self._each[owner].series(rest)
            return Series(name, found.times, found.values, self.units, found.bounds, found.total)
        if rest not in OF_EXCHANGER:
            raise CircuitError(
                f"exchanger '{owner}' has no '{rest}' to read", meant(rest, OF_EXCHANGER), place=PLACE, key="outputs", value=name
            )
        return Series(
            name, self.times, [OF_EXCHANGER[rest](self.exchanger(owner, number)) for number in range(len(self.times))], self.units
        )

    def exchanger(self, name: str, number: int) -> ExchangerReading:
        """`ExchangerReading` of an exchanger at a kept moment, by its place in `times`."""
        (one, first), (other, second) = self._ends[name]
        return ExchangerReading(
            name, self.cases[number], self._each[one].moments[number].part(first), self._each[other].moments[number].part(second)
        )

    def temperature(self, place: str) -> Series:
        """`Series` of the temperature at a place: "coolant.engine out"."""
        return self.series(f"{place}.temperature")

    def reaches(self, place: str, temperature: str) -> Quantity | None:
        """When a place first comes to a temperature; None where it does not."""
        owner, rest = self._owner(place)
        return self[owner].reaches(rest, temperature)

    def opens(self, thermostat: str) -> Quantity | None:
        """When a thermostat begins to open: "coolant.thermostat"; None where it stays shut."""
        owner, rest = self._owner(thermostat)
        return self[owner].opens(rest)

    # ---- what pictures ask of a drive ----

    @property
    def tanks(self) -> list[str]:
        """Tanks whose temperature is followed, their circuit before them."""
        return self._named("tanks")

    @property
    def coolers(self) -> list[str]:
        """Parts that cool or warm on purpose at some time."""
        return self._named("coolers")

    @property
    def thermostats(self) -> list[str]:
        """Thermostats of all circuits."""
        return self._named("thermostats")

    def _named(self, what: str) -> list[str]:
        return [f"{circuit}.{name}" for circuit, one in self._each.items() for name in getattr(one, what)]

    @cached_property
    def layout(self) -> SimpleNamespace:
        """Names of places of all circuits, their circuit before them."""
        return SimpleNamespace(
            named=tuple(f"{circuit}.{name}" for circuit, one in self._each.items() for name in one.layout.named if name != "ambient")
        )

    # ---- shown ----

    @property
    def findings(self) -> dict[str, list[TimedFinding]]:
        """circuit -> `TimedFinding`s, worst first."""
        return {name: one.findings for name, one in self._each.items()}

    def events(self, units: str | None = None) -> list[str]:
        """What happened when, in sentences: cases, thermostats of each circuit, why it ended early."""
        found = [one.events(units or self.units) for one in self._each.values()]
        ends = [stopped(f"It ends early: {self.why_not_in(units or self.units)}")] if self.why_not else []
        opened = [f"{circuit}: {told}" for circuit, told_of in zip(self._each, found) for told in told_of[1:] if told not in ends]
        return [found[0][0], *opened, *ends]

    def table(self, times: Sequence[str] | None = None, units: str | None = None, rows: str | Sequence[str] | None = None) -> Tables:
        """`Tables` of all circuits and of the exchangers, with findings; see `OverTime.table`. `rows` begin with a circuit or an exchanger."""
        from .over_time_view import tables_of_vehicle

        return Tables(tables_of_vehicle(self, times, units or self.units, [rows] if isinstance(rows, str) else rows))

    def owners(self, names: Sequence[str]) -> dict[str, list[str]]:
        """circuit or exchanger -> what of it, of names that begin with one."""
        found: dict[str, list[str]] = {}
        for owner, rest in map(self._owner, names):
            found.setdefault(owner, []).append(rest)
        return found

    def text(self, width: int | None = None, units: str | None = None) -> str:
        """Tables and findings of all circuits as text."""
        return self.table(units=units).text(width)

    __str__ = text

    def __repr__(self) -> str:
        return f"<vehicle '{self.vehicle}' over time: {clock(self.times[-1]) if len(self.times) else 'nothing'} of {clock(self.legs[-1].ends)}>"

    def _repr_html_(self) -> str:
        return safely(lambda: self.table().html(), self)

    def to_dataset(self, names: str | Sequence[str] | None = None, units: str = "si") -> Dataset:
        """An xarray Dataset over `time`; names begin with a circuit or an exchanger. See `OverTime.to_dataset`."""
        from .over_time_data import dataset_of_vehicle

        return dataset_of_vehicle(self, names, units)

    def to_dict(self, names: str | Sequence[str] | None = None) -> dict[str, Any]:
        """Everything in SI as nested dicts, for JSON; `names` as in `to_dataset`. See docs/guide/json_output.md."""
        from .over_time_json import as_dict

        return as_dict(self, names)

    def save(self, path: str | Path, names: str | Sequence[str] | None = None) -> None:
        """Writes `to_dataset` in SI, "drive.nc" or "drive.csv"; `load_sweep` has it again."""
        from .storage import save_sweep

        save_sweep(self.to_dataset(names), path)

    @property
    def exchangers(self) -> list[str]:
        """Names of the exchangers."""
        return list(self._ends)
