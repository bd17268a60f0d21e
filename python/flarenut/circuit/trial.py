"""Another size tried: a circuit as it stood when a case was solved, solved once more with larger coolers, more air, wider lines.

A cure that is a size is worth no more than what it does in this circuit: a larger cooler may thicken its oil until less passes. Checks
therefore ask here before they recommend one.
"""

from __future__ import annotations

import copy
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any, TypeAlias

from .compile import piece_names
from .piece import Element, HeatLaw
from .reshape import copy_of

if TYPE_CHECKING:
    from ..fluids.properties import Fluid
    from ..results.case import CaseResult
    from .cases import Case
    from .circuit import Circuit
    from .parts_notes import Notes
    from .piece import Number
    from .vehicle import Vehicle

_GROWS = ("face_area", "inside_area", "outside_conductance")  # of a heat law, with the number of passages side by side
_OF_AIR = ("ram_share", "fan_speed")

Change: TypeAlias = "Callable[[Element], Element]"


class Trial:
    """One case of a circuit, by itself or in its vehicle, as it stood when it was solved.

    Parts go by the engine's names. Every method gives the `CaseResult` of the same case with something changed, or None where
    that has no answer.
    """

    def __init__(self, whole: Circuit | Vehicle, case: Case, member: str | None = None, temperatures: str | None = None) -> None:
        self._whole: Any = whole  # a circuit where `member` is None, else a vehicle
        self._case, self._member, self._temperatures = case, member, temperatures

    def coolers(self, names: Collection[str], size: float = 1.0, air: float = 1.0) -> CaseResult | None:
        """With coolers of so many times the passages, the face and the fins, and so many times the speed of the air at their face."""
        return self._changed(names, lambda element: _cooler_of(element, size, air))

    def walls(self, names: Collection[str], size: float = 1.0, longer: float = 1.0) -> CaseResult | None:
        """With exchangers of so many times the passages side by side and so many times their length, where these parts are theirs."""
        return self._changed(names, lambda element: _cooler_of(element, size, longer=longer), lambda law: _wall_of(law, size, longer))

    def lines(self, names: Collection[str], wider: float = 1.0, longer: float = 1.0) -> CaseResult | None:
        """With lines of so many times the bore and the length."""
        def grown(element: Element) -> Element:
            factors = {field: wider if field.endswith("bore") else longer if field == "length" else 1.0 for field in element.numbers}
            return _with(element, numbers={field: _times(number, factors[field]) for field, number in element.numbers.items()})

        return self._changed(names, grown)

    def eased(self, names: Collection[str], passage: float) -> CaseResult | None:
        """With jets, valves, filters and other parts that resist of so many times the passage: at the same flow its square less is lost."""
        return self._changed(names, lambda element: _eased(element, passage))

    def feeling(self, names: Collection[str], place: str) -> CaseResult | None:
        """With thermostats that go by another place."""
        return self._changed(names, lambda element: _with(element, feels=place))

    def bearings(self, names: Collection[str], film_viscosity: float) -> CaseResult | None:
        """With bearings whose film has so much of the viscosity that comes in."""
        return self._changed(names, lambda element: _with(element, numbers={**element.numbers, "film_viscosity": film_viscosity}))

    def _changed(self, names: Collection[str], change: Change, wall: Callable[[HeatLaw], HeatLaw] | None = None) -> CaseResult | None:
        whole = own_copy(self._whole)
        circuit = whole if self._member is None else whole.circuits[self._member]
        for (run, place), name in piece_names(circuit).items():
            pieces = circuit.runs[run].pieces
            if any(name + element.suffix in names for element in pieces[place].elements):
                pieces[place] = pieces[place].with_elements(change)
        for name, one in getattr(whole, "exchangers", {}).items():
            if wall is not None and any((self._member, part) in one.ends for part in names):
                whole.exchangers[name] = replace(one, law=wall(one.law))
        whole.cases = {self._case.name: self._case}
        given = {} if self._temperatures is None else {"temperatures": self._temperatures}
        try:
            answer = whole.solve(self._case.name, other_states=False, **given)
        except ValueError:  # the engine bounds what parts may be
            return None
        found: CaseResult = (answer if self._member is None else answer[self._member])[self._case.name]
        return found if found.converged else None


def own_copy(whole: Any) -> Any:
    """A circuit or a vehicle of its own, that later changes of this one do not reach."""
    circuits = getattr(whole, "circuits", None)
    if circuits is None:
        return copy_of(whole)
    other = copy.copy(whole)
    other.circuits = {name: copy_of(circuit) for name, circuit in circuits.items()}
    other.exchangers, other.cases, other.conditions = dict(whole.exchangers), dict(whole.cases), dict(whole.conditions)
    other.keep_compiled(None)
    return other


def with_trials(whole: Circuit | Vehicle, cases: Sequence[Case], notes: Mapping[str, Notes], member: str | None = None,
                temperatures: str | None = None) -> dict[str, Notes]:
    """The `Notes` of solved cases, each with its `Trial` on a copy that later changes do not reach."""
    standing = own_copy(whole)
    kept = {case.name: replace(case, conditions=dict(case.conditions)) for case in cases}
    return {
        name: replace(one, trial=Trial(standing, kept[name], member, temperatures)) if name in kept else one for name, one in notes.items()
    }


def _with(element: Element, **changed: object) -> Element:
    words = {
        word: getattr(element, word)
        for word in ("kind", "numbers", "columns", "suffix", "senses", "rating", "drives", "heat", "warmth", "feels")
    }
    return Element(**{**words, **changed})


def _times(number: Number, factor: float) -> Number:
    return (lambda liquid: factor * number(liquid)) if callable(number) else factor * number


def _cooler_of(element: Element, size: float, air: float = 1.0, longer: float = 1.0) -> Element:
    """A cooler of so many times as many passages side by side: at the same drop so many times the flow, and all areas grow with them."""
    falls = {"viscous": longer / size, "inertial": longer / size**2}
    numbers = {field: _times(number, falls.get(field, 1.0)) for field, number in element.numbers.items()}
    drives = {
        word: (field, factor * air, offset) if field in _OF_AIR else (field, factor, offset)
        for word, (field, factor, offset) in element.drives.items()
    }
    return _with(element, numbers=numbers, drives=drives, heat=element.heat and _law_of(element.heat, size, air))


# Fields that grow as the passage, as its root, and that fall as its square; the engine's least of each that has one.
_AS_PASSAGE = ("flow_coefficient", "full_area", "bypass_area")
_AS_BORE = ("bore", "line_bore", "inlet_bore", "outlet_bore", "length")
_AS_LOSS = {"linear": 1e3, "viscous": 1e3, "rated_drop": 1.0, "cracking_pressure": 10.0, "quadratic": 0.0, "inertial": 0.0}


def _eased(element: Element, passage: float) -> Element:
    def of(field: str, number: Number) -> Number:
        if field not in _AS_LOSS:
            return _times(number, passage if field in _AS_PASSAGE else passage**0.5 if field in _AS_BORE else 1.0)
        fallen, least = _times(number, passage**-2), _AS_LOSS[field]
        return (lambda liquid: max(fallen(liquid), least)) if callable(fallen) else max(fallen, least)

    columns = {column: [value / passage**2 if column == "pressure_drop" else value for value in values]
               for column, values in element.columns.items()}
    return _with(element, numbers={field: of(field, number) for field, number in element.numbers.items()}, columns=columns)


def _wall_of(law: HeatLaw, size: float, longer: float) -> HeatLaw:
    def of_streams(streams: Any) -> dict[str, float]:
        factors = {"area": size * longer, "length": longer}
        return {field: number * factors.get(field.partition("_")[2], 1.0) for field, number in law.si(streams).items()}

    return HeatLaw(law.kind, of_streams, law.columns)


def _law_of(law: HeatLaw, size: float, air: float) -> HeatLaw:
    def grown(numbers: Mapping[str, float]) -> dict[str, float]:
        found = {
            field: number * size if field in _GROWS else number * air if field in _OF_AIR else number for field, number in numbers.items()
        }
        return {**found, "ram_share": min(found["ram_share"], 1.0)} if "ram_share" in found else found

    def of_liquid(fluid: Fluid) -> dict[str, float]:
        return grown(law.si(fluid))

    columns = {
        column: [value * size for value in values] if column in ("flow", "heat_per_degree") else values
        for column, values in law.columns.items()
    }
    return HeatLaw(law.kind, of_liquid, columns)
