"""A vehicle over many values of its words: all circuits solved together, point by point. What varies is said as a case says it."""

from __future__ import annotations

import itertools
import json
from collections.abc import Callable, Sequence
from math import prod
from typing import TYPE_CHECKING, Any

import numpy

from .. import __version__
from ..circuit import CASE_WORDS, CircuitError
from ..circuit.cases import Case
from ..circuit.errors import meant
from ..circuit.vehicle_cases import owner_of, solve_vehicle
from ..results import NoSuchName
from ..units import Quantity, settled
from .axes import Axis, axes_of, find_axis
from .batches import NOT_CONVERGED, REFUSED
from .blueprint import described
from .dataset import dataset_of, in_units
from .ends import MARGIN, REGIME
from .face_alone import face_alone
from .ledger import Ledger
from .numbers import RIVALS
from .outputs import names_of_heat, words_for
from .single_readings import OF_EXCHANGER, question_of

if TYPE_CHECKING:
    from xarray import Dataset
    from ..circuit.vehicle import Vehicle
    from ..results.vehicle_answer import VehicleAnswer
    from .axes import Dimension
    from .axes import Vary

_ROW_BY_ROW = "a vehicle is solved point by point, in this process"


def sweep_vehicle(vehicle: Vehicle, vary: Vary,
                  cases: str | Sequence[str] | None, outputs: Sequence[str] | None, samples: int | None, seed: int | None, sampling: str,
                  units: str, tell: Callable[[int, int], object] | None) -> tuple[Dataset, Ledger, int | None]:
    """(Dataset, its `Ledger`, how many points were done where it was stopped, else None). See `sweep`.

    tell : function of (solves done, solves in all), or None
    """
    dimensions, drawn = axes_of(vary, lambda axis: _find(vehicle, axis), samples, seed, sampling)
    _refuse_rivals([axis.name for one in dimensions for axis in one.axes])
    chosen = _cases(vehicle, cases)
    points = list(itertools.product(*(range(len(one)) for one in dimensions)))
    wanted = None if outputs is None else [outputs] if isinstance(outputs, str) else list(outputs)
    table = _Table(vehicle, wanted, (1, len(chosen), prod(map(len, dimensions))))
    stopped = None
    try:
        for number, (place, (at, point)) in enumerate(itertools.product(range(len(points)), enumerate(chosen))):
            table.put(at, place, _said(vehicle, point, dimensions, points[place]))
            if tell:
                tell(number + 1, len(points) * len(chosen))
    except KeyboardInterrupt:
        stopped = table.done
    ledger = table.ledger()
    attributes = {"title": f"sweep of {vehicle.name}", "flarenut": __version__,
                  "circuit": json.dumps({"vehicle": vehicle.name, "invented": vehicle.invented,
                                         "circuits": {name: described(one) for name, one in vehicle.circuits.items()}}, ensure_ascii=False),
                  "options": json.dumps({"samples": samples, "seed": seed, "sampling": drawn, "cases": [one.name for one in chosen]}),
                  "notes": json.dumps(face_alone(vehicle, [axis.name for one in dimensions for axis in one.axes]), ensure_ascii=False), "shown_in": settled(None, vehicle)}
    labels = {name: words_for(name, kind) for name, kind in ledger.kinds.items()}
    return in_units(dataset_of(ledger, dimensions, [], dimensions, [one.name for one in chosen], labels, attributes), units), ledger, stopped


def refuse_what_is_for_circuits(findings: bool, threads: int, executor: object, limits: object) -> None:
    """Raises for what a sweep of a vehicle does not do."""
    for key, value, cure in (("findings", findings, "solve the points that matter: vehicle.solve().findings"), ("threads", threads, "leave it out"),
                             ("executor", executor, "leave it out"), ("limits", limits, "leave it out")):
        if value:
            raise CircuitError(f"'{key}' is for sweeps of one circuit: {_ROW_BY_ROW}", cure, place="sweep", key=key, value=value)


def _find(vehicle: Vehicle, axis: Axis) -> None:
    """Says what an axis varies; raises `CircuitError` with the nearest right name."""
    owner, rest = owner_of(vehicle, axis.name)
    at = f"sweep over '{axis.name}'"
    if owner in vehicle.exchangers:
        axis.sort, axis.owner, axis.key = "exchanger", owner, rest
    elif owner is None and axis.name in CASE_WORDS:
        axis.sort, axis.key = "condition", axis.name
    elif owner is None:
        known = [*CASE_WORDS, *vehicle.circuits, *vehicle.exchangers]
        raise CircuitError(f"there is no '{axis.name}' to vary", meant(axis.name.partition(".")[0], known) + "; a word of a part begins with its circuit, "
                           'as in "coolant.radiator.face"', place="sweep", key=axis.name)
    else:
        within = Axis(rest, [], [], span=axis.span)
        try:
            find_axis(vehicle.circuits[owner], within)
        except CircuitError as error:
            raise CircuitError(f"circuit '{owner}': {error.reason}", error.cure, place=at, key=axis.name, value=error.value) from None
        if within.sort in ("part", "fluid"):
            raise CircuitError(f"a {within.sort} as a whole cannot vary in a vehicle", f"vary a word of it, or make a vehicle for each {within.sort}", place=at,
                               key=axis.name)
        axis.sort, axis.owner, axis.key = within.sort, f"{owner}.{within.owner}", within.key


def _refuse_rivals(names: Sequence[str]) -> None:
    for name in names:
        owner, dot, word = name.rpartition(".")
        for rival in RIVALS.get(word, ()):
            if f"{owner}{dot}{rival}" in names:
                raise CircuitError(f"'{name}' and '{owner}{dot}{rival}' say the same thing", "vary one of them", place="sweep", key=name)


def _cases(vehicle: Vehicle, cases: str | Sequence[str] | None) -> list[Case]:
    names = [cases] if isinstance(cases, str) else list(dict.fromkeys(cases or vehicle.cases))
    for name in names:
        if name not in vehicle.cases:
            raise CircuitError(f"there is no case '{name}'", meant(name, vehicle.cases), place="sweep", key="cases", value=name)
    return [vehicle.cases[name] for name in names] or [Case("as written")]


def _said(vehicle: Vehicle, case: Case, dimensions: Sequence[Dimension], point: tuple[int, ...]) -> Case:
    """The case with what a point says; that beats what the case says of the same word, or of one that says the same thing otherwise."""
    swept = {axis.name: axis.values[place] for dimension, place in zip(dimensions, point) for axis in dimension.axes}
    beaten = {f"{name[:-len(word)]}{rival}" for name in swept for word in [name.rpartition(".")[2]] for rival in RIVALS.get(word, ())}
    return Case(case.name, {**{word: value for word, value in case.conditions.items() if word not in beaten}, **swept})


class _Table:
    """Answers as they come; which kinds the readings have is known once one of them is solved."""

    def __init__(self, vehicle: Vehicle, wanted: Sequence[str] | None, shape: tuple[int, int, int]) -> None:
        self.vehicle, self.wanted, self.shape, self.done = vehicle, wanted, shape, 0
        self.refusals: dict[int, list[ValueError]] = {}
        self.questions: dict[str, Callable[..., Any]] | None = None
        self.found: dict[tuple[int, int], dict[str, str | Quantity]] = {}
        self.why: dict[tuple[int, int], tuple[int, str, int, float]] = {}

    def put(self, case: int, place: int, said: Case) -> None:
        """Solves one point."""
        try:
            answer = solve_vehicle(self.vehicle, [said])
        except ValueError as error:
            self.why[case, place] = (REFUSED, str(error), 0, numpy.nan)
            self.refusals.setdefault(case, []).append(error)
            if len(self.refusals[case]) == self.shape[2]:
                raise  # no point accepts it: a slip, not an answer
            self.done += 1
            return
        if self.questions is None:
            self.questions = _questions(self.vehicle, answer, said.name, self.wanted)
        told = next(iter(answer.values()))[said.name]
        if told.converged:
            self.found[case, place] = {name: ask(answer, said.name) for name, ask in self.questions.items()}
        self.why[case, place] = (0 if told.converged else NOT_CONVERGED, told.cause_in(None), told.solution.iterations, told.solution.residual)
        self.done += 1

    def ledger(self) -> Ledger:
        """The `Ledger` of all points."""
        from .. import _core

        kinds: dict[str, str] = {}
        for values in self.found.values():
            for name, value in values.items():
                if kinds.get(name) in (None, ""):
                    kinds[name] = REGIME if isinstance(value, str) else value.kind if isinstance(value, Quantity) else ""
        kinds = {name: kinds.get(name, "") for name in self.questions or (*(self.wanted or ()), MARGIN)}
        made, regimes = Ledger(kinds, self.shape), list(_core.regime_names())
        for (case, place), values in self.found.items():
            for name, value in values.items():
                if value is not None:
                    made.values[name][0, case, place] = regimes.index(str(value)) if kinds[name] == REGIME else value.si if isinstance(value, Quantity) else value
        for (case, place), (status, reason, iterations, residual) in self.why.items():
            made.status[0, case, place], made.iterations[0, case, place], made.residual[0, case, place] = status, iterations, residual
            made.reason[0, case, place] = made.place(reason) if status else -1
        return made


def _questions(vehicle: Vehicle, answer: VehicleAnswer, case: str, wanted: Sequence[str] | None) -> dict[str, Callable[..., Any]]:
    """Output -> function of (`VehicleAnswer`, case)."""
    names = list(wanted or ())
    if wanted is None:
        names = [f"{circuit}.{name}" for circuit, one in answer.items() for name in names_of_heat(one[case])]
        names += [f"{name}.heat" for name in vehicle.exchangers]
    return {**{name: _question(vehicle, answer, case, name) for name in names}, MARGIN: _margin}


def _question(vehicle: Vehicle, answer: VehicleAnswer, case: str, name: str) -> Callable[..., Any]:
    owner, rest = owner_of(vehicle, str(name))
    if owner is None:
        raise CircuitError(f"'{name}' does not begin with a circuit or an exchanger", meant(str(name).partition(".")[0], [*answer, *vehicle.exchangers])
                           + ', as in "coolant.radiator out.temperature"', place="sweep", key="outputs", value=name)
    if owner in vehicle.exchangers:
        if rest not in OF_EXCHANGER:
            raise CircuitError(f"exchanger '{owner}' has no '{rest}' to read", meant(rest, OF_EXCHANGER), place="sweep", key="outputs", value=name)
        return lambda answer, case: OF_EXCHANGER[rest](answer.exchanger(owner, case))
    try:
        ask = question_of(answer[owner][case], rest)
    except NoSuchName as unknown:
        reason, _, cure = str(unknown).partition(": ")
        raise CircuitError(f"circuit '{owner}': {reason.replace('no row', 'there is no reading')}", cure, place="sweep", key="outputs", value=name) from None
    return lambda answer, case: ask(answer[owner][case])


def _margin(answer: VehicleAnswer, case: str) -> Quantity:
    """Least static pressure over vapour pressure anywhere but at places of given pressure, of all circuits."""
    margins = [end.vapour_margin for one in answer.values() for part in one[case].part_names for end in one[case].ends(part)
               if not one[case].is_held(end.junction)]
    return Quantity(min((one for one in margins if one == one), default=float("nan")), "pressure_difference")
