"""A circuit goes on in time, case after case, and hands out what it is at chosen moments."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Generic, TypeVar

from ..circuit.cases import Case, apply, overrides_of, refuse_two_airs
from ..circuit.duty import banks_of, meet_demand
from ..circuit.case_words import refused_condition
from ..circuit.errors import CircuitError
from ..circuit.parts_notes import notes_of
from ..results import CaseResult
from .over_time_drive import followed

if TYPE_CHECKING:
    from .. import _core
    from ..circuit.circuit import Circuit
    from .over_time_drive import Leg

Kept = TypeVar("Kept")

MOMENT = 0.2  # [s] after a case began: its pressures and flows are there, and next to nothing is warmer yet


class Course(ABC, Generic[Kept]):
    """Goes along a drive with a plan.

    Parameters
    ----------
    plan : the engine's, which is changed
    start : how warm everything is at the beginning [K]
    """

    def __init__(self, plan: _core.Plan, start: float) -> None:
        self.plan, self.start, self.begun = plan, start, False
        self.demand: float | None = None
        self.banks: list[str] = []
        self.last: _core.Solution | None = None

    def moments(self, legs: Sequence[Leg], every: float) -> Iterator[tuple[float, Leg, Kept]]:
        """Yields (time [s], `Leg`, `CaseResult`): just after each case began, then every so often, and at its end. Ends early where one has no answer."""
        for leg in legs:
            self._take(leg.case)
            now = leg.begins + (MOMENT if self.begun else 0.0)
            self.last = self._enter()
            yield now, leg, self._result(leg, self.last)
            for then in (one for one in leg.moments(every) if one > now):
                if not self.last.converged:
                    return
                self.last = self._go(then - now)
                yield then, leg, self._result(leg, self.last)
                now = then

    @abstractmethod
    def _take(self, name: str) -> None:
        """Sets the plan to a case."""

    @abstractmethod
    def _result(self, leg: Leg, solution: _core.Solution) -> Kept:
        """What is kept of a moment."""

    def _enter(self) -> _core.Solution:
        """The solution just after a case began."""
        solution = self.solve() if self.demand is None else meet_demand(self, self.banks, self.demand)
        self.begun = True
        return solution

    def solve(self, cold: bool = True) -> _core.Solution:
        """The next moment, for `meet_demand`, which asks for it as of a plan."""
        if not self.begun:
            return self.plan.begin_time(self.start)
        return self.plan.advance(MOMENT)

    def index(self, name: str) -> int:
        """See `solve`."""
        return self.plan.index(name)

    def set(self, index: int, value: float) -> None:
        """See `solve`."""
        self.plan.set(index, value)

    def _go(self, seconds: float) -> _core.Solution:
        """The solution so much later. The duty follows the density of fuel that warms."""
        if self.demand is not None:
            assert self.last is not None, "a case is entered before it goes on"
            flow = sum(self.last.flow_of(bank) for bank in self.banks)
            for bank in self.banks if flow > 0.0 else ():
                index = self.plan.index(f"{bank}.duty")
                self.plan.set(index, min(1.0, self.plan.get(index) * self.demand / flow))
        return self.plan.advance(seconds)


class Clock(Course[CaseResult]):
    """Goes along a drive with a circuit of its own.

    Parameters
    ----------
    circuit : `Circuit`, which stays as it is
    start : how warm everything is at the beginning [K]
    units : "us" or "metric", in which its moments are told
    """

    def __init__(self, circuit: Circuit, start: float, units: str = "us") -> None:
        self.circuit = circuit.copy()
        self.compiled = self.circuit.compiled()
        super().__init__(self.compiled.plan, start)
        self.layout = replace(self.compiled.layout, source=circuit.source, units=units)
        self.columns: dict[str, Mapping[str, Sequence[float]]] = {}

    def _take(self, name: str) -> None:
        """Sets the plan to a case."""
        case = self.circuit.cases[name]
        place, own = f"case '{name}'", followed(self.circuit, case.conditions)
        refuse_two_airs(own, place)
        conditions = {**self.circuit.conditions, **own}
        found = overrides_of(self.circuit, conditions, place)
        try:
            apply(self.compiled, found.numbers)
            for part, columns in {**self.columns, **found.columns}.items():
                self.plan.set_columns(part, columns)
        except ValueError as error:
            error = refused_condition(self.circuit, conditions, error)
            raise CircuitError(error.reason, error.cure, place=place, key=error.key, value=error.value) from None
        self.columns = {part: self._as_written(part) for part in found.columns}  # to go back to in the next case
        self.demand = found.demand
        self.banks = [] if found.demand is None else banks_of(self.compiled)
        self.compiled.touched.update(f"{bank}.duty" for bank in self.banks)
        self.conditions = Case(name, own).texts()
        asked = {} if found.demand is None else {name: found.demand}
        self.layout = replace(
            self.layout,
            notes={**self.layout.notes, name: replace(notes_of(self.circuit, conditions, found.pieces), steady=False)},
            fuel_asked={**self.layout.fuel_asked, **asked},
        )

    def _as_written(self, part: str) -> Mapping[str, Sequence[float]]:
        name, number = self.compiled.elements[part]
        return self.compiled.pieces[name].elements[number].columns

    def _result(self, leg: Leg, solution: _core.Solution) -> CaseResult:
        return CaseResult(leg.case, solution, self.layout, self.conditions)
