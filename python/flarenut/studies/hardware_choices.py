"""`hardware_choices`: the same circuit in other hose or tube: what each does to pressure, findings, weight, liquid and cost, side by side."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from ..checks import review
from ..checks.ratings_service import unjudged
from ..circuit import CircuitError
from ..circuit.errors import located, meant
from ..hardware import audit, fitted
from ..hardware.bill import bill
from ..hardware.prices import prices_of
from ..results import ranked
from ..units import Quantity, settled
from .blueprint import copied
from .hardware_choices_words import AS_WRITTEN, named, notes_of, words_of_line
from .hardware_unjudged import carried, not_judged
from .line_choices import line_named
from .line_pressure import fed_places

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from pathlib import Path
    from xarray import Dataset
    from ..hardware.bill import Bill, BillLine
    from ..hardware.prices import Prices
    from ..hardware.proposal import Proposal
    from ..results.answer import Answer
    from ..results.case import CaseResult
    from ..results.finding import Finding
    from ..results.table import Table
    from .hardware_choices_words import Said
    from ..checks.limits import Limits

SYSTEMS = ("us", "metric")



@dataclass
class HardwareChoice:
    """One choice and what it comes to."""

    name: str
    words: Mapping[str, Mapping[str, Said]]  # line -> words that were changed
    answer: Answer | None = None  # `Answer`, None where it could not be solved
    bill: Bill | None = None  # its `Bill`
    refusal: str = ""  # why it cannot be had
    dangers: list[Finding] = field(default_factory=list)  # STOP findings of its joints: what screws together and does not seal
    pressures: dict[tuple[str, str], Quantity] = field(default_factory=dict)  # (place, case) -> `Quantity`
    open: list[Proposal] = field(default_factory=list)  # `Proposal`s of what could not be told where ends and adapters were put in
    unjudged: dict[str, tuple[tuple[str, ...], str]] = field(default_factory=dict)  # line -> (what it cannot be judged for, why)
    carried: dict[tuple[str, str], Finding] = field(
        default_factory=dict
    )  # (code, where) -> `Finding` of the circuit as written of which nobody can tell here whether it is cured

    @property
    def findings(self) -> list[Finding]:
        """What is to be said of it, worst first; with what the circuit as written has and nobody can judge here."""
        return ranked([*self.answer.findings, *self.dangers, *self.carried.values()]) if self.answer is not None else []

    @property
    def once(self) -> dict[tuple[str, str], Finding]:
        """(code, where) -> its worst `Finding` over all cases, above a note; worst first."""
        found: dict[tuple[str, str], Finding] = {}
        for one in self.findings:
            if one.severity != "note":
                found.setdefault((one.code, one.where), one)
        return found

    @property
    def worst(self) -> Finding | None:
        """The worst finding above a note; None where there is none."""
        return next((one for one in self.findings if one.severity != "note"), None)


class HardwareChoices:
    """Choices side by side, the circuit as it is written first. Prints as text, shows as HTML.

    Attributes
    ----------
    lines : names of the lines that change
    places, cases : where and when pressure is read
    choices : `HardwareChoice`s
    notes : lines to read below
    """

    def __init__(self, circuit: Circuit, lines: Sequence[str], places: tuple[str, ...], cases: Sequence[str],
                 choices: Sequence[HardwareChoice], notes: Sequence[str], prices: Prices | None, units: str) -> None:
        self.circuit, self.invented, self.lines, self.places, self.cases = circuit.name, circuit.invented, lines, places, cases
        self.choices, self.notes, self.prices, self.units = choices, notes, prices, units

    def __getitem__(self, name: str) -> HardwareChoice:
        for choice in self.choices:
            if choice.name == name:
                return choice
        raise CircuitError(f"there is no choice '{name}'", meant(name, [choice.name for choice in self.choices]), place="hardware_choices")

    def change(self, name: str, place: str, case: str) -> Quantity | None:
        """By how much the pressure at a place differs from the circuit as written [`Quantity`]; None where one of the two has no answer."""
        now, then = (choice.pressures.get((place, case)) for choice in (self.choices[0], self[name]))
        return None if now is None or then is None else Quantity(then.si - now.si, "pressure_difference")

    def gained(self, name: str) -> dict[tuple[str, str], Finding]:
        """(code, where) -> worst `Finding` of a choice that the circuit as written has not, each once over all cases, worst first; then a note of
        each line that can be judged for less than as written."""
        return {
            **{key: one for key, one in self[name].once.items() if key not in self.choices[0].once},
            **not_judged(self.choices[0], self[name]),
        }

    def lost(self, name: str) -> dict[tuple[str, str], Finding]:
        """Those that the circuit as written has and the choice has not, likewise; none where the choice has no answer."""
        return (
            {key: one for key, one in self.choices[0].once.items() if key not in self[name].once} if self[name].answer is not None else {}
        )

    def weight_change(self, name: str) -> Quantity | None:
        """By how much the dry weight differs from the circuit as written [`Quantity`]; None where the weight of what changes is not known."""
        found = self._differs(name, lambda row: 0.0 if row.with_line else None if row.weight is None else row.weight.si)
        return None if found is None else Quantity(found, "mass")

    def cost_change(self, name: str) -> float | None:
        """By how much the cost differs from the circuit as written; None where the price of something that changes is not known."""
        return self._differs(name, lambda row: row.cost)

    def _differs(self, name: str, value_of: Callable[[BillLine], float | None]) -> float | None:
        """Difference between two bills. What both hold alike falls out, known or not."""
        bills = [one for one in (self.choices[0].bill, self[name].bill) if one is not None]
        if len(bills) < 2:
            return None
        then, now = ({(row.circuit, row.item, row.where): row for row in one.rows} for one in bills)
        change = 0.0
        for key in {**then, **now}:
            old, new = then.get(key), now.get(key)
            if old is not None and new is not None and _amount(old) == _amount(new) and value_of(old) == value_of(new):
                continue
            before, after = (0.0 if row is None else value_of(row) for row in (old, new))
            if before is None or after is None:
                return None
            change += after - before
        return change

    def text(self, units: str | None = None, width: int | None = None) -> str:
        """Aligned text in "us" or "metric" units, no wider than `width` characters; the screen's unless given."""
        return self.table(units).text(width)

    def __str__(self) -> str:
        return self.text()

    __repr__ = __str__

    def table(self, units: str | None = None) -> Table:
        """The same as a table, for a terminal or a notebook."""
        from .hardware_choices_view import table_of

        return table_of(self, _system(units or self.units))

    def html(self, units: str | None = None) -> str:
        """HTML for a notebook: inline style only, nothing fetched."""
        return self.table(units).html()

    def _repr_html_(self) -> str:
        from ..results.html import safely

        return safely(self.html, self)

    def to_dataset(self) -> Dataset:
        """An xarray Dataset over `choice`, `place` and `case`, in SI, which `in_units` takes: pressure, weight, liquid, cost, findings. Needs xarray."""
        from .hardware_choices_data import as_dataset

        return as_dataset(self)

    def to_csv(self, path: str | Path, units: str | None = None) -> None:
        """Writes one row per choice, with units in the first line; what is not known stays empty."""
        from .hardware_choices_view import write_csv

        write_csv(self, path, _system(units or self.units))


def hardware_choices(circuit: Circuit, lines: str | Sequence[str], choices: Sequence[dict[str, str]] | Mapping[str, dict[str, str]], *,
                     prices: str | Prices | None = None, at: str | None = None, fit: bool = False, limits: Limits | None = None,
                     units: str | None = None) -> HardwareChoices:
    """Puts other hose or tube into a circuit, solves every case with each, and lays pressure, findings, weight, liquid and cost side by side.

    What was measured on the line as written, or said of it, goes with it: `bore`, `maker_pressure` and `mass` where another size, specification,
    standard, wall or material is chosen, `wall` with its size, `roughness` with its specification, unless the choice says it anew. A `standard`
    stays in another size, and tells what that bears; it goes where another `spec` is chosen. Ends of the line's own dash size take the new
    size; adapters that the joints then want are in the bill.

    Parameters
    ----------
    circuit : `Circuit`; it stays as it is
    lines : name of a hose or tube, or a list of names that all change alike
    choices : list of words to change, [{"size": "-6"}, {"spec": "ptfe", "standard": "SAE 100R14"}], or name -> words
    prices : name of a price file or `Prices`; without one there is no cost, and hose has no weight
    at : place or places whose pressure is shown; where the circuit feeds, unless given
    fit : True puts ends and adapters in where none are said, as `fitted` does, so that pressure, weight and cost know them
    limits : `checks.Limits` of your own
    units : "us" or "metric", for what is shown; those of the circuit unless given

    Returns
    -------
    HardwareChoices : `text()`, `html()`, `to_csv(path)`, `choices`, and choices by name

    Raises
    ------
    CircuitError, FileError : no such line or place, no choices, a word that the line does not have; a price file that cannot be used

    Examples
    --------
    ``print(fn.hardware_choices(car, "feed hose", [{"size": "-6"}, {"size": "-10"}], prices="prices.csv"))``; docs/guide/cutting_and_cost.md.
    """
    units = _system(settled(units, circuit))
    own, before = prices_of(prices), copied(circuit)
    names = [lines] if isinstance(lines, str) else list(lines)
    if not names:
        raise CircuitError("there is no line to change", 'name one, "feed hose"', place="hardware_choices", key="lines", value=lines)
    pieces = {name: line_named(before, name) for name in names}
    made = [_made(circuit, AS_WRITTEN, {}, own, limits, fit)]
    made += [
        _made(circuit, name, {line: words_of_line(pieces[line], words) for line in names}, own, limits, fit)
        for name, words in named(choices).items()
    ]
    solved = [case for case in (made[0].answer or {}).values() if case.converged]
    places = _places(circuit, before, solved, at)
    for choice in made[1:]:
        choice.carried = carried(made[0], choice)
    for choice in made:
        choice.pressures = {
            (place, case.name): case.at(place).gauge for case in (choice.answer or {}).values() if case.converged for place in places
        }
    cases = list(dict.fromkeys(case for choice in made for case in (choice.answer or ())))
    return HardwareChoices(circuit, names, places, cases, made, notes_of(pieces, made, own), own, units)


def _amount(row: BillLine) -> tuple[int, float | None]:
    return row.count, None if row.length is None else row.length.si


def _system(units: str) -> str:
    if units not in SYSTEMS:
        raise CircuitError(f"'units' is {units!r}", "write 'us' or 'metric'", place="hardware_choices", key="units", value=units)
    return units


def _made(circuit: Circuit, name: str, words: Mapping[str, Mapping[str, Said]], prices: Prices | None,
          limits: Limits | None, fit: bool) -> HardwareChoice:
    choice, own = HardwareChoice(name, words), copied(circuit)
    try:
        for line, changed in words.items():
            own.change(line, **changed)
        made = fitted(own) if fit else None
        if made is not None:
            own, choice.open = made.circuit, made.open
        choice.bill, choice.dangers = bill(made or own, prices), [one for one in audit(own).findings if one.severity == "stop"]
        answer = own.solve()
    except ValueError as error:  # no such size in that specification, a bend too tight: this choice cannot be had
        if name == AS_WRITTEN:
            raise
        choice.refusal = str(located(error, ""))
        return choice
    choice.answer = answer.with_findings(review(answer, limits)) if limits is not None else answer
    choice.unjudged = next((unjudged(case) for case in answer.values() if case.converged), {})
    return choice


def _places(circuit: Circuit, before: Circuit, solved: Sequence[CaseResult], at: str | None) -> tuple[str, ...]:
    if at is None:
        return fed_places(before, solved, None)
    return tuple(place for one in ([at] if isinstance(at, str) else at) for place in fed_places(circuit, solved, one))
