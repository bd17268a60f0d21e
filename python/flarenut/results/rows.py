"""Rows of the case × location table: what builders ask first, or what is asked for by name."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Protocol

from flarenut.units import Quantity, digits, preferred_unit, shared_units
from flarenut.units.display import VACUUM_DIALS, vacuum_unit

from .conditions import air_assumed, kept_as_written, label_of, text_of
from .paths import HOLES
from .relief import device_state
from .warmth import heat_sections

if TYPE_CHECKING:
    from .case import CaseResult
    from .shares import Share

NOT_SOLVED = "not solved"
_DEVICE_KINDS = ("check valve", "relief valve", "filter with bypass", "thermostat", "thermostat bypass")
_PRESSURE_NOISE, _FLOW_NOISE, _HEAT_NOISE, _STEP_NOISE = (
    1.0,
    3e-10,
    0.5,
    1e-3,
)  # Pa, m3/s, W, K: 0.0001 psi and 1 mL/h; less is a zero with round-off

NOT_THERE = "–"  # a part that the liquid does not pass in this case; any number of a case that is not solved
_MOST_VELOCITIES = 6  # where there is no pump
_MOST_SHARES = 6  # parts of the feed that get a row of their own


class Solved(Protocol):
    """What a row asks of a case by itself; the rest is its question's."""

    @property
    def converged(self) -> bool: ...


class Ask:
    """One row before it is asked: a question to put to each case, and how to show the answers."""

    __slots__ = ("key", "label", "question", "units", "below_zero", "before", "beside", "known", "in_line", "total")

    def __init__(self, key: str, label: str, question: Callable[..., Any], units: dict[str, str] | None = None,
                 below_zero: str | None = None, beside: Callable[..., Any] | None = None, known: bool = False,
                 before: Callable[..., str] | None = None, total: bool = False) -> None:
        self.key, self.label, self.question = key, label, question
        self.units = units or {}  # system -> unit, in place of the preferred one
        self.below_zero = below_zero  # word for a value below zero, where a number would puzzle
        self.beside = beside or (lambda case: "")  # text to stand after the number, of a solved case
        self.before = before or (lambda case: "")  # a word to stand before the number, of a solved case: "over"
        self.in_line = beside is not None  # a small number keeps the decimals of the others: its share says what it is
        self.total = total  # whether it is a pressure that is total, as its place has no bore to take speed head from
        self.known = known  # whether it is known without a solution


class Row:
    """One row of a table: `key` for programs, `label` and `unit` for people, one cell and one value per case."""

    __slots__ = ("key", "label", "unit", "cells", "values", "_places")

    def __init__(self, ask: Ask, cases: Sequence[Solved], system: str,
                 values: Sequence[str | Quantity] | list[str | Quantity | None] | None = None, units: dict[str, str] | None = None) -> None:
        self.key, self.label = ask.key, ask.label
        self.values = _answers(ask, cases) if values is None else values
        numbers = _numbers(self.values)
        self.unit = (ask.units.get(system) if numbers else "") or _unit_for(numbers, system, units or {})
        shown = [value.to(self.unit) for value in numbers]
        self._places = _places([abs(number) for number in shown])
        self.cells = [
            (
                self._cell(value, ask)
                if value is None
                else " ".join(filter(None, [ask.before(case), self._cell(value, ask) + ask.beside(case)]))
            )
            for value, case in zip(self.values, cases)
        ]

    def _cell(self, value: str | Quantity | None, ask: Ask) -> str:
        if value is None:
            return NOT_THERE
        if not isinstance(value, Quantity):
            return digits(value) if isinstance(value, float) else str(value)
        if value.si != value.si:
            return "no value"
        if ask.below_zero and value.si < -_PRESSURE_NOISE:
            return ask.below_zero
        text = f"{value.to(self.unit):z.{self._places}f}"
        if value.kind == "temperature":
            return text  # nothing is special about what is near to its zero
        if _is_noise(value) and not ask.in_line:
            return "0"
        rough = abs(value.to(self.unit)) < 9.95 * 10.0**-self._places  # less than two figures: 0.056 is not 0.1, nor is it nothing
        return digits(value.to(self.unit)) if rough and not ask.in_line and float(digits(value.to(self.unit))) else text

    @property
    def heading(self) -> str:
        """Label with its unit."""
        return f"{self.label} [{self.unit}]" if self.unit else self.label


def _answers(ask: Ask, cases: Sequence[Solved]) -> list[str | Quantity | None]:
    return [ask.question(case) if case.converged or ask.known else None for case in cases]


def _numbers(values: Sequence[str | Quantity | None]) -> list[Quantity]:
    return [value for value in values if isinstance(value, Quantity) and value.si == value.si]


def rows_of(sections: Sequence[tuple[str, list[Ask]]], cases: Sequence[Solved],
            system: str) -> list[tuple[str, list[Row]]]:
    """(heading, `Row` list) of asked sections. What is of one kind has one unit in all of them, so that it can be compared."""
    answers = [(heading, [(ask, _answers(ask, cases)) for ask in asks]) for heading, asks in sections]
    sizes: dict[str, list[float]] = {}  # kind -> largest size in each row that has no unit of its own
    for ask, values in (row for _, rows in answers for row in rows):
        numbers = _numbers(values)
        if numbers and system not in ask.units and not _is_vacuum(numbers):
            sizes.setdefault(numbers[0].kind, []).append(max(abs(number.si) for number in numbers))
    units = {kind: preferred_unit(kind, system, max(some)) for kind, some in sizes.items()}
    units |= shared_units([(kind, size) for kind, some in sizes.items() for size in some], system)
    return [(heading, [Row(ask, cases, system, values, units) for ask, values in rows]) for heading, rows in answers]


def solved_row(cases: Sequence[Solved], system: str) -> list[tuple[str, list[Row]]]:
    """The row that says which cases have no answer, to stand before all others; nothing where all have one."""
    if all(case.converged for case in cases):
        return []
    ask = Ask("solved", "answer", lambda case: "solved" if case.converged else NOT_SOLVED, known=True)
    return [("", [Row(ask, cases, system)])]


def _is_vacuum(numbers: Sequence[Quantity]) -> bool:
    """True of a place that is at or below the ambient in every case."""
    most, least = max(number.si for number in numbers), min(number.si for number in numbers)
    return numbers[0].kind == "pressure_gauge" and least < -_PRESSURE_NOISE and most < _PRESSURE_NOISE


def _unit_for(numbers: Sequence[Quantity], system: str, units: dict[str, str]) -> str:
    """One unit for a whole row, that of its kind in the table where there is one."""
    if not numbers:
        return ""
    if _is_vacuum(numbers):
        return vacuum_unit(system)
    kind = numbers[0].kind
    return units.get(kind) or preferred_unit(kind, system, max(abs(number.si) for number in numbers))


def _places(sizes: Sequence[float]) -> int:
    """Decimal places for a row to line up: three figures for the largest, one decimal where a far smaller one wants it.

    A row that is small in the unit of its table has up to five.
    """
    largest, smallest = max(sizes, default=0.0), min((size for size in sizes if size), default=0.0)
    if largest >= 99.95:
        return int(smallest < largest / 15)
    if largest >= 0.05 or not largest:
        return 1 if largest >= 9.995 else 2 if largest >= 0.9995 else 3
    return 4 if largest >= 0.009995 else 5


def _is_noise(value: Quantity) -> bool:
    limit = _PRESSURE_NOISE if value.kind.startswith("pressure") else _FLOW_NOISE if value.kind.endswith("flow") else \
        _HEAT_NOISE if value.kind == "power" else _STEP_NOISE if value.kind == "temperature_difference" else 0.0
    return abs(value.si) < limit


def default_sections(answer: Mapping[str, CaseResult], system: str) -> list[tuple[str, list[Ask]]]:
    """(heading, asks) in the order builders read: is the pressure right, is the pump happy, what are the devices doing."""
    case = next(iter(answer.values()))
    sections = [("Conditions", _conditions(answer, system)), ("Pressures", _pressures(case)), ("Pumps", _pumps(case)),
                ("Flows and filters", _flows(case)),
                *((heading, [Ask(*row) for row in rows]) for heading, rows in heat_sections(list(answer.values()))),
                _where_it_goes(answer), ("Devices", _devices(case))]
    return [(heading, asks) for heading, asks in sections if asks]


def _conditions(answer: Mapping[str, CaseResult], system: str) -> list[Ask]:
    names = dict.fromkeys(name for case in answer.values() for name in case.conditions)
    if any(air_assumed(case) for case in answer.values()):
        names["air_temperature"] = None
    return [Ask(f"condition.{name}", label_of(name, [case.conditions.get(name, "") for case in answer.values()]),
                lambda case, name=name, keep=kept_as_written(answer.values(), name, system): text_of(case, name, system, keep=keep),
                known=True)
            for name in names]


def _where_it_goes(answer: Mapping[str, CaseResult]) -> tuple[str, list[Ask]]:
    """Heading and rows of the costliest parts of the feed, ranked by their greatest loss in any case."""
    ways = [case.feed for case in answer.values() if case.feed is not None and case.feed.loss.si > _PRESSURE_NOISE]
    if not ways:
        return "", []
    most: dict[str, float] = {}
    for one in (share for way in ways for share in way.shares):
        most[one.part] = max(one.loss.si, most.get(one.part, 0.0))
    ranking = sorted(most, key=lambda part: most[part], reverse=True)
    shown = ranking if len(ranking) <= _MOST_SHARES + 1 else ranking[:_MOST_SHARES]
    rest = [part for part in ranking if part not in shown]
    asks = [_share_of([part], part, f"{part}.loss") for part in shown]
    if rest:
        asks.append(_share_of(rest, f"{len(rest)} other parts", "feed.others"))
    flat = ways[0].height is None
    if any(way.height is not None and abs(way.height.si) > _PRESSURE_NOISE for way in ways):
        asks.append(Ask("feed.height", "height climbed", lambda case: case.feed.height if case.feed else NOT_THERE,
                        beside=lambda case: " " * len(_percent(0.0))))
    return f"Where the pressure goes, {ways[0].start} to {ways[0].stop}{' (height included)' if flat else ''}", asks


def _percent(share: float) -> str:
    return f"{100 * share:6.0f} %"


def _share_of(parts: Sequence[str], label: str, key: str) -> Ask:
    def found(case: CaseResult) -> list[Share]:
        return [one for one in (case.feed.shares if case.feed else ()) if one.part in parts]

    def beside(case: CaseResult) -> str:
        share = sum(one.share for one in found(case))
        return _percent(share) if found(case) and share == share else ""

    def loss(case: CaseResult) -> str | Quantity:
        return Quantity(sum(one.loss.si for one in found(case)), "pressure_difference") if found(case) else NOT_THERE

    return Ask(key, label, loss, beside=beside)


def _pressures(case: CaseResult) -> list[Ask]:
    title, asks, seen = case.layout.title, [], set()

    def place(junction: int, label: str | None = None) -> None:
        name = case.junction_names[junction]
        if name not in seen:
            seen.add(name)
            words = case.layout.junction_title(name)
            asks.append(Ask(words, label or f"{words} pressure", lambda case: case.reading(junction).gauge))

    for bank in case.injectors:
        place(case.ends(bank)[0].junction)
    for bank in case.injectors:
        label = "pressure across injectors" if len(case.injectors) == 1 else f"pressure across {title(bank)}"
        asks.append(Ask(f"{title(bank)}.drop", label, lambda case, bank=bank: case.span([bank], title(bank)).drop))
    for regulator in case.regulators:
        after = case.ends(regulator)[1].junction
        before = "return back-pressure" if case.kind_of(regulator) == "bypass regulator" else "regulated pressure"
        seen.discard(case.junction_names[after])  # a named place may be this one; both names are worth their row
        place(after, f"{before}, after {title(regulator)}")
    for name in case.layout.named:
        if name != "ambient":
            place(case.junction_names.index(name))
    return asks


def _pumps(case: CaseResult) -> list[Ask]:
    title, asks = case.layout.title, []
    for pump in case.pumps:
        words = title(pump)
        asks += [
            Ask(f"{words}.flow", f"{words} flow", lambda case, pump=pump: case.span([pump], pump).flow),
            Ask(f"{words}.rise", f"{words} pressure rise", lambda case, pump=pump: case.span([pump], pump).rise),
            suction_ask(f"{words}.vacuum", words, "vacuum", lambda case, pump=pump: case.suction(pump)),
            suction_ask(f"{words}.margin", words, "margin", lambda case, pump=pump: case.suction(pump)),
        ]
    return asks


_SUCTION: dict[str, tuple[str, dict[str, str], str | None]] = {  # word -> words for people, units, what stands for a value below zero
    "margin": ("suction margin", {}, None), "vacuum": ("inlet vacuum", VACUUM_DIALS, "none"),
    "degrees_to_boiling": ("suction, degrees to boiling", {}, None), "inlet": ("inlet pressure", {}, None),
    "npsh_available": ("net positive suction head available", {}, None)}


def suction_ask(key: str, owner: str, word: str, suction: Callable[..., Any]) -> Ask:
    """The row of one thing about the way to a pump; `suction` is a function of a case that gives its `SuctionReading`."""
    words, units, below_zero = _SUCTION[word]
    before = (lambda case: suction(case).degrees_bound) if word == "degrees_to_boiling" else None
    return Ask(key, f"{owner} {words}", lambda case: getattr(suction(case), word), units, below_zero, before=before)


def _flows(case: CaseResult) -> list[Ask]:
    title, asks = case.layout.title, []
    for part in (*case.injectors, *(one for one in case.regulators if case.kind_of(one) == "bypass regulator")):
        asks.append(Ask(f"{title(part)}.flow", f"{title(part)} flow", lambda case, part=part: case.span([part], part).flow))
    if not case.pumps and not asks:  # driven by height or from outside: what passes is asked first
        asks += [Ask(f"{run}.flow", f"{run} flow", lambda case, run=run: case.run(run).flow) for run in case.layout.runs]
        bored = case.parts_of_kind("line", *HOLES)
        asks += [Ask(f"{title(part)}.velocity", f"{title(part)} velocity", lambda case, part=part: case.span([part], part).velocity)
                 for part in bored[:_MOST_VELOCITIES]]
    for part in case.filters:
        asks.append(Ask(f"{title(part)}.drop", f"{title(part)} pressure difference", lambda case, part=part: case.span([part], part).drop))
    return asks


def _devices(case: CaseResult) -> list[Ask]:
    parts = (*case.pumps, *case.regulators, *case.parts_of_kind(*_DEVICE_KINDS), *case.injectors)
    return [Ask(f"{case.layout.title(part)}.regime", case.layout.title(part),
                lambda case, part=part: device_state(case, part)) for part in parts]
