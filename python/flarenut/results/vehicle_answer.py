"""`VehicleAnswer`: what the circuits of a vehicle do together in every operating case."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, overload

from flarenut.units import Quantity, settled

from .by_case import ByCase
from .names import NoSuchName
from .rows import Ask, rows_of
from .table import Table

if TYPE_CHECKING:
    from .answer import Answer
    from .engine import EngineSolution
    from .readings import PartReading
    from rich.console import Console, ConsoleOptions


class ExchangerReading:
    """What one exchanger does in one case. `first` and `second` are the `PartReading`s of its two streams.

    >>> from flarenut.units import Quantity
    >>> class Stream:
    ...     def __init__(self, enters, leaves, heat):
    ...         self.temperature_in, self.temperature_out = Quantity(enters, "temperature"), Quantity(leaves, "temperature")
    ...         self.heat = Quantity(heat, "power")
    >>> one = ExchangerReading("plate cooler", "hot", Stream(400.0, 380.0, 2000.0), Stream(350.0, 360.0, -2000.0))
    >>> one.heat.si, round(one.share_of_most, 3)
    (2000.0, 0.4)
    """

    def __init__(self, name: str, case: str, first: PartReading, second: PartReading) -> None:
        self.name, self.case, self.first, self.second = name, case, first, second

    @property
    def heat(self) -> Quantity:
        """From the first stream into the second; below zero the other way."""
        return self.first.heat

    @property
    def share_of_most(self) -> float:
        """Change of the stream that changes the most, over the difference between both inlets: the effectiveness, 0 to 1.

        NaN where both enter as warm as each other.
        """
        ends = [(one.temperature_in.si, one.temperature_out.si) for one in (self.first, self.second)]
        difference = abs(ends[0][0] - ends[1][0])
        return max(abs(enters - leaves) for enters, leaves in ends) / difference if difference > 0.0 else float("nan")

    def __repr__(self) -> str:
        return f"<exchanger '{self.name}', {self.case}: {self.heat} from the first stream into the second>"


class _JointCase:
    """One case as the rows of exchangers ask it."""

    def __init__(self, name: str, solution: EngineSolution, conditions: dict[str, str]) -> None:
        self.name, self.solution, self.conditions = name, solution, conditions
        self.converged, self.finds_temperatures = bool(solution.converged), bool(solution.finds_temperatures)


class Tables:
    """Several `Table`s below each other."""

    def __init__(self, tables: Sequence[Table]) -> None:
        self.tables = list(tables)

    def text(self, width: int | None = None) -> str:
        """Plain text; see `Table.text`."""
        return "\n\n\n".join(table.text(width) for table in self.tables)

    def html(self) -> str:
        """HTML for a notebook."""
        return "<br>".join(table.html() for table in self.tables)

    def __repr__(self) -> str:
        return self.text()

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> Iterator[str | Table]:
        for number, table in enumerate(self.tables):
            yield from ["", ""] if number else []
            yield table


class VehicleAnswer(Mapping[str, "Answer"]):
    """A mapping from circuit to its `Answer`, beside what passes through the exchangers; displays as tables.

    Parameters
    ----------
    vehicle : its name
    answers : circuit -> `Answer`; all have the same cases
    exchangers : name -> ((circuit, part), (circuit, part))
    solutions : case -> what the solve of all circuits returned
    conditions : case -> what the builder wrote for it

    Examples
    --------
    ``answer["coolant"].at("radiator in").temperature.to("C")`` is one number per case; ``answer.exchanger("oil cooler", "hot idle").heat``.
    """

    def __init__(self, vehicle: str, answers: Mapping[str, Answer],
                 exchangers: Mapping[str, tuple[tuple[str, str], tuple[str, str]]] | dict[str, tuple[tuple[str, str], ...]],
                 solutions: Mapping[str, EngineSolution], conditions: Mapping[str, dict[str, str]], *, invented: bool = False,
                 source: str = "") -> None:
        self.vehicle, self.invented, self.source = vehicle, invented, source
        self._answers, self._ends = dict(answers), dict(exchangers)
        self._cases = {name: _JointCase(name, solution, conditions.get(name, {})) for name, solution in solutions.items()}

    @property
    def converged(self) -> bool:
        """True when every case is solved."""
        return all(case.converged for case in self._cases.values())

    @property
    def cases(self) -> list[str]:
        """Names of the cases."""
        return list(self._cases)

    @property
    def exchangers(self) -> list[str]:
        """Names of the exchangers."""
        return list(self._ends)

    def __getitem__(self, circuit: str) -> Answer:
        if circuit not in self._answers:
            raise NoSuchName("circuit", circuit, self._answers)
        return self._answers[circuit]

    def __iter__(self) -> Iterator[str]:
        return iter(self._answers)

    def __len__(self) -> int:
        return len(self._answers)

    def _read(self, name: str, case: str) -> ExchangerReading:
        first, second = (self[circuit][case].part(part) for circuit, part in self._ends[name])
        return ExchangerReading(name, case, first, second)

    @overload
    def exchanger(self, name: str, case: None = None) -> ByCase[ExchangerReading]: ...

    @overload
    def exchanger(self, name: str, case: str) -> ExchangerReading: ...

    def exchanger(self, name: str, case: str | None = None) -> ExchangerReading | ByCase[ExchangerReading]:
        """`ExchangerReading` in one case, or `ByCase` of them."""
        if name not in self._ends:
            raise NoSuchName("exchanger", name, self._ends)
        if case is not None and case not in self._cases:
            raise NoSuchName("case", case, self._cases)
        return self._read(name, case) if case is not None else ByCase({case: self._read(name, case) for case in self._cases})

    @property
    def certificate(self) -> dict[str, dict[str, Any]]:
        """Per case: how all circuits together were solved; that of each circuit is the same."""
        return next(iter(self.values())).certificate

    @property
    def findings(self) -> dict[Any, Any]:
        """Findings of all circuits: circuit -> list, worst first."""
        return {name: answer.findings for name, answer in self.items()}

    @property
    def units(self) -> str:
        """System that it is shown in unless asked for another: that of its vehicle or circuits, or "us"."""
        return settled(None, *self._answers.values())

    def exchanger_table(self, units: str | None = None) -> Table:
        """`Table` of what passes through the exchangers."""
        units = settled(units, self)
        cases = list(self._cases.values())
        sections = [(name, self._asks(name)) for name in self._ends]
        return Table(
            f"{self.vehicle} · exchangers" + (" · invented vehicle" if self.invented else ""),
            list(self._cases),
            rows_of(sections, cases, units),
            notes=["Heat is counted from the first stream into the second; below zero it goes the other way."] if self._ends else [],
        )

    def _asks(self, name: str) -> list[Ask]:
        ends = self._ends[name]
        asks = [Ask(f"{name}.heat", f"heat, {ends[0][0]} to {ends[1][0]}", lambda case: self._read(name, case.name).heat)]
        for side, (circuit, part) in zip(("first", "second"), ends):
            for word in ("in", "out"):
                asks.append(
                    Ask(
                        f"{name}.{side}.{word}",
                        f"{circuit} {word}",
                        lambda case, side=side, word=word: getattr(getattr(self._read(name, case.name), side), f"temperature_{word}"),
                    )
                )
        return [
            *asks,
            Ask(f"{name}.share", "of the most possible", lambda case: f"{100 * self._read(name, case.name).share_of_most:.0f} %"),
        ]

    def tables(self, units: str | None = None) -> list[Table]:
        """Every circuit's table, then that of the exchangers."""
        units = settled(units, self)
        return [*(answer.table(units) for answer in self.values()), *([self.exchanger_table(units)] if self._ends else [])]

    def table(self, units: str | None = None) -> Tables:
        """`Tables` of all circuits and exchangers."""
        return Tables(self.tables(units))

    def to_dict(self) -> dict[Any, Any]:
        """Everything in SI, as nested dicts; see docs/guide/json_output.md."""
        from .export import as_dict

        return {
            "flarenut_vehicle": 1,
            "vehicle": self.vehicle,
            "invented": self.invented,
            "source": self.source,
            "converged": self.converged,
            "circuits": {name: as_dict(answer) for name, answer in self.items()},
            "exchangers": {
                name: {
                    "first": list(ends[0]),
                    "second": list(ends[1]),
                    "cases": {case: self._si(reading) for case, reading in self.exchanger(name).items()},
                }
                for name, ends in self._ends.items()
            },
        }

    @staticmethod
    def _si(reading: ExchangerReading) -> dict[str, float | None]:
        values = {"heat_W": reading.heat.si, "first_in_K": reading.first.temperature_in.si, "first_out_K": reading.first.temperature_out.si,
                  "second_in_K": reading.second.temperature_in.si, "second_out_K": reading.second.temperature_out.si,
                  "share_of_most": reading.share_of_most}
        return {name: float(value) if value == value else None for name, value in values.items()}

    def to_json(self, indent: int = 2) -> str:
        """`to_dict` as JSON text. What was not solved is null."""
        import json

        return json.dumps(self.to_dict(), indent=indent, ensure_ascii=False, allow_nan=False)

    def __repr__(self) -> str:
        states = ", ".join(f"{name}: {case.solution.status}" for name, case in self._cases.items())
        return f"<answer for '{self.vehicle}', {len(self)} circuits: {states or 'no case'}>"

    def __str__(self) -> str:
        return str(self.table())

    def _repr_html_(self) -> str:
        from .html import safely

        return safely(lambda: self.table().html(), self)
