"""Choices of hardware for people and programs: a table with a column for each, and CSV."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from ..hardware.bill_lines import WANTED
from ..hardware.bill_view import money
from ..hardware.cut_list_view import ESTIMATE, Line
from ..results import SEVERITIES, Table
from ..results.csv_file import csv_file
from ..units import Quantity, digits, preferred_unit
from .hardware_unjudged import not_judged

if TYPE_CHECKING:
    from pathlib import Path
    from ..hardware.bill import Totals
    from ..results.finding import Finding
    from .hardware_choices import HardwareChoice, HardwareChoices

_NONE, _REFUSED, _UNKNOWN = "–", "refused", "(?)"


def table_of(study: HardwareChoices, system: str) -> Table:
    """The `Table` of a `HardwareChoices`."""
    title = " · ".join(word for word in (study.circuit, ", ".join(study.lines) + " in other hardware", "invented" if study.invented else "") if word)
    sections = [(f"{place} pressure [{_gauge(study, system)}]", [Line(case, [_pressure(study, choice, place, case, system) for choice in study.choices])
                                                                for case in study.cases]) for place in study.places]
    sections += [("To look at", [Line("findings", [_severe(study, choice) for choice in study.choices]), *_differing(study), *_less_judged(study)]), ("Hardware", list(_hardware(study, system)))]
    return Table(title, [choice.name for choice in study.choices], sections, notes=_notes(study), findings=_worst(study, system))


def _gauge(study: HardwareChoices, system: str) -> str:
    largest = max((abs(value.si) for choice in study.choices for value in choice.pressures.values()), default=0.0)
    return preferred_unit("pressure_gauge", system, largest)


def _pressure(study: HardwareChoices, choice: HardwareChoice, place: str, case: str, system: str) -> str:
    if choice.refusal:
        return _REFUSED
    value = choice.pressures.get((place, case))
    if value is None:
        return "not solved"
    change = study.change(choice.name, place, case) if choice is not study.choices[0] else None
    unit = _gauge(study, system)
    return _beside(value.to(unit), None if change is None else change.to(unit[:-1]))


def _beside(number: float, change: float | None) -> str:
    """A number with its change to one more decimal."""
    text = digits(number)
    return text if change is None else f"{text} ({_signed(change, len(text.partition('.')[2]) + 1)})"


def _signed(number: float, places: int) -> str:
    """A change with its sign; next to nothing is nothing.

    >>> _signed(0.25, 2), _signed(-1e-9, 2)
    ('+0.25', '0')
    """
    text = f"{number:+.{places}f}"
    return text if text.strip("+-0.") else "0"


def _severe(study: HardwareChoices, choice: HardwareChoice) -> str:
    if choice.answer is None:
        return _REFUSED
    counted = []
    for words, judged in (("", True), (" not judged", False)):
        severities = [one.severity for key, one in choice.once.items() if (key not in choice.carried) is judged]
        counted += [f"{severities.count(one)} {one.upper()}{words}" for one in SEVERITIES if one in severities]
    less = len(not_judged(study.choices[0], choice)) if choice is not study.choices[0] else 0
    return ", ".join([*counted, *([f"{less} line{'' if less == 1 else 's'} not judged"] if less else [])]) or "none"


def _less_judged(study: HardwareChoices) -> Iterator[Line]:
    """A line for each hose or tube that a choice leaves without a rating which the circuit as written has."""
    first = study.choices[0]
    less = [{} if choice is first else not_judged(first, choice) for choice in study.choices]
    for key in dict.fromkeys(key for one in less for key in one):
        yield Line(": ".join(key), [_REFUSED if choice.answer is None else "not judged" if key in one else _NONE for choice, one in zip(study.choices, less)])


def _differing(study: HardwareChoices) -> Iterator[Line]:
    """A line for each finding that a choice gains, loses, or has with another severity than the circuit as written."""
    first, keys = study.choices[0], dict[tuple[str, str], None]()
    for choice in study.choices:
        keys.update(dict.fromkeys(choice.once))
    for key in keys:
        severities = {choice.once[key].severity if key in choice.once else "" for choice in study.choices if choice.answer is not None}
        if len(severities) > 1 or any(key in choice.carried for choice in study.choices):
            yield Line(": ".join(key), [_change_of(choice, first, key) for choice in study.choices])


def _change_of(choice: HardwareChoice, first: HardwareChoice, key: tuple[str, str]) -> str:
    """What becomes of a finding in a choice: "new STOP, 40 %", "gone", or its severity and margin."""
    if choice.answer is None:
        return _REFUSED
    if key in choice.carried:
        return "not judged"
    if key not in choice.once:
        return "gone" if key in first.once else _NONE
    return f"{'' if key in first.once else 'new '}{in_short(choice.once[key])}"


def in_short(finding: Finding) -> str:
    """Severity of a finding, and how far it is beyond its limit where it has one.

    >>> from flarenut.results import Finding
    >>> in_short(Finding("clamp", "stop", "hose", "", "no clamp", hurt=1.0))
    'STOP'
    """
    limited = finding.value is not None and finding.limit is not None and finding.hurt > 0.0
    return f"{finding.severity.upper()}, {finding.hurt * 100:.3g} %" if limited else finding.severity.upper()


def _hardware(study: HardwareChoices, system: str) -> Iterator[Line]:
    totals = [choice.bill.total if choice.bill is not None else None for choice in study.choices]
    volume = preferred_unit("volume", system, max((one.volume.si for one in totals if one), default=0.0))
    mass = preferred_unit("mass", system, max((one.dry.si for one in totals if one), default=0.0))
    yield Line(f"liquid in lines [{volume}]", _changes(totals, lambda one: one.volume.to(volume)))
    yield Line(f"its weight [{mass}]", _changes(totals, lambda one: one.liquid.to(mass)))
    yield Line(f"parts dry [{mass}]", [_dry(study, choice, one, mass) for choice, one in zip(study.choices, totals)])
    if study.prices is not None:
        yield Line(_headed(study), [_cost(study, choice, one) for choice, one in zip(study.choices, totals)])
        yield Line("things without a price", [_NONE if one is None else str(one.unpriced) for one in totals])
    yield Line("things without a weight", [_NONE if one is None else str(one.unweighed) for one in totals])
    if any(choice.open for choice in study.choices):
        yield Line("still open", [_NONE if choice.bill is None else str(len(choice.open)) for choice in study.choices])
    yield Line("adapters still wanted", [_NONE if choice.bill is None else str(_wanted(choice)) for choice in study.choices])


def _headed(study: HardwareChoices) -> str:
    return f"cost [{study.prices.currency}]" if study.prices is not None and study.prices.currency else "cost"


def _wanted(choice: HardwareChoice) -> int:
    return sum(row.count for row in choice.bill.rows if row.group == WANTED) if choice.bill is not None else 0


def _changes(totals: Sequence[Totals | None], read: Callable[[Totals], float]) -> list[str]:
    first = next((read(one) for one in totals[:1] if one is not None), None)
    return [_REFUSED if one is None else _beside(read(one), read(one) - first if place and first is not None else None) for place, one in enumerate(totals)]


def _dry(study: HardwareChoices, choice: HardwareChoice, total: Totals | None, mass: str) -> str:
    if total is None:
        return _REFUSED
    first = choice is study.choices[0]
    change = None if first else study.weight_change(choice.name)
    return _least(_beside(total.dry.to(mass), None if change is None else change.to(mass)), total.unweighed, not first and change is None)


def _cost(study: HardwareChoices, choice: HardwareChoice, total: Totals | None) -> str:
    if total is None:
        return _REFUSED
    first = choice is study.choices[0]
    change = None if first else study.cost_change(choice.name)
    beside = "" if change is None else " (0)" if abs(change) < 0.005 else f" ({'+' if change > 0 else '-'}{money(abs(change))})"
    return _least(money(total.cost) + beside, total.unpriced, not first and change is None)


def _least(text: str, missing: int, change_unknown: bool) -> str:
    """A sum of which a part may not be known, and its change neither."""
    return f"{'at least ' if missing else ''}{text}{f' {_UNKNOWN}' if change_unknown else ''}"


def _worst(study: HardwareChoices, system: str) -> list[tuple[str, str]]:
    """The worst of each choice, worst first; what is the same of several choices is said once, with the numbers of the worst."""
    groups: dict[tuple[str, str, str], list[tuple[Finding, str]]] = {}
    for choice in study.choices:
        if choice.worst is not None:
            groups.setdefault((choice.worst.code, choice.worst.where, choice.worst.severity), []).append((choice.worst, choice.name))
    found = []
    for same in groups.values():
        ordered = sorted(same, key=lambda one: -one[0].hurt)
        names = [name for _, name in ordered]
        names[0] += " (worst)" if names[1:] and ordered[0][0].hurt > ordered[-1][0].hurt else ""
        found.append((ordered[0][0], ", ".join(names)))
    found.sort(key=lambda one: (SEVERITIES.index(one[0].severity), -one[0].hurt))
    return [(worst.severity, f"{worst.severity.upper()}: {names}: {worst.text(system).partition(': ')[2]}") for worst, names in found]


def _notes(study: HardwareChoices) -> list[str]:
    notes = ["In brackets: by how much it differs from the circuit as written."]
    others = [choice.name for choice in study.choices[1:] if choice.bill is not None]
    if any(study.weight_change(name) is None or study.prices is not None and study.cost_change(name) is None for name in others):
        notes.append(f"{_UNKNOWN}: not known, since nobody says what something weighs or costs that changes: write it into the price file.")
    if any(_wanted(choice) for choice in study.choices if choice.bill is not None):
        notes.append("Adapters still wanted: where two ends meet that do not seal as they are. Weight and cost count them, pressure does not: ask with fit=True.")
    if any(_differing(study)):
        notes.append("Findings count once over all cases; those that differ have a line, with the worst severity and by how much of the limit they are beyond it.")
    if any(_less_judged(study)):
        notes.append("Not judged: nobody says what this hose or tube bears. That is no cure: what the circuit as written has stands until its rating is said.")
    told: dict[str, list[str]] = {}
    for choice in study.choices:
        for one in choice.open:
            told.setdefault(f"{one.where}: {one.what}", []).append(choice.name)
    notes += [f"Still open, {', '.join(names)}: {said}." for said, names in told.items()]
    notes += [f"{choice.name}: refused: {choice.refusal}." for choice in study.choices if choice.refusal]
    return [*notes, *study.notes, ESTIMATE]


# ---- data ----

def write_csv(study: HardwareChoices, path: str | Path, system: str) -> None:
    """See `HardwareChoices.to_csv`."""
    gauge, volume, mass = _gauge(study, system), "in3" if system == "us" else "mL", preferred_unit("mass", system, 1.0)
    cost = _headed(study)
    heads = [f"{place} pressure, {case} [{gauge}]" for place in study.places for case in study.cases]
    with csv_file(path) as writer:
        writer.writerow(["choice", *heads, "findings", "worst", "findings gained", "findings lost", "still open", f"liquid in lines [{volume}]", f"parts dry [{mass}]", f"parts dry, change [{mass}]",
                         "things without a weight", cost, f"{cost}, change", "things without a price", "refused"])
        for choice in study.choices:
            total = choice.bill.total if choice.bill is not None else None
            weight = study.weight_change(choice.name)
            pressures = [_cell(choice.pressures.get((place, case)), gauge) for place in study.places for case in study.cases]
            writer.writerow([choice.name, *pressures, _severe(study, choice), choice.worst.text(system) if choice.worst else "",
                             _listed(study.gained(choice.name)), _listed(study.lost(choice.name)), "; ".join(f"{one.where}: {one.what}" for one in choice.open),
                             _cell(total and total.volume, volume), _cell(total and total.dry, mass), _cell(weight, mass), total.unweighed if total else "",
                             "" if total is None or total.cost is None else f"{total.cost:.9g}", _plain(study.cost_change(choice.name)),
                             total.unpriced if total else "", choice.refusal])


def _listed(findings: Mapping[tuple[str, str], Finding]) -> str:
    return "; ".join(f"{in_short(one)}: {code}: {where}" for (code, where), one in findings.items())


def _cell(value: object, unit: str) -> str:
    return f"{value.to(unit):.9g}" if isinstance(value, Quantity) else ""


def _plain(number: float | None) -> str:
    return "" if number is None else f"{number:.9g}"
