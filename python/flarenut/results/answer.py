"""`Answer`: what a circuit does in every operating case."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any, TypeVar, overload

from flarenut.units import settled

from .by_case import ByCase
from .case import CaseResult
from .finding import ranked, reviewer
from .layout import Layout
from .names import NoSuchName

if TYPE_CHECKING:
    from .engine import EngineSolution
    from .finding import Finding
    from .readings import PartReading, Reading

    from .table import Table
    from .shares import Way


Asked = TypeVar("Asked")


class Answer(Mapping[str, CaseResult]):
    """The cases of one circuit, solved. A mapping from case name to `CaseResult`; displays as a table.

    Parameters
    ----------
    layout : `Layout` of the circuit, or just its name
    solutions : case name -> what a plan's solve returned
    conditions : case name -> what the builder wrote for it (name -> text); optional

    Examples
    --------
    ``answer["idle"].at("rail").gauge.to("psi")`` is a number; ``answer.at("rail").gauge.to("psi")`` one per case.
    """

    def __init__(self, layout: Layout, solutions: Mapping[str, EngineSolution],
                 conditions: Mapping[str, dict[str, str]] | None = None) -> None:
        self.layout = Layout(layout) if isinstance(layout, str) else layout
        conditions = conditions or {}
        self._cases = {name: CaseResult(name, solution, self.layout, conditions.get(name))
                       for name, solution in solutions.items()}

    @property
    def circuit(self) -> str:
        """Name of the circuit."""
        return self.layout.circuit

    @property
    def units(self) -> str:
        """System that it is shown in unless asked for another: that of its circuit, or "us"."""
        return settled(None, self.layout)

    @property
    def converged(self) -> bool:
        """True when every case is solved."""
        return all(case.converged for case in self.values())

    def __getitem__(self, case: str) -> CaseResult:
        if case not in self._cases:
            raise NoSuchName("case", case, self._cases)
        return self._cases[case]

    def __iter__(self) -> Iterator[str]:
        return iter(self._cases)

    def __len__(self) -> int:
        return len(self._cases)

    def case(self, name: str) -> CaseResult:
        """The `CaseResult` of a case; the same as ``answer[name]``."""
        return self[name]

    def _ask(self, case: str | None, question: Callable[[CaseResult], Asked]) -> Asked | ByCase[Asked]:
        if case is not None:
            return question(self[case])
        return ByCase({name: question(result) for name, result in self.items()})

    @overload
    def at(self, place: str, case: None = None) -> ByCase[Reading]: ...

    @overload
    def at(self, place: str, case: str) -> Reading: ...

    def at(self, place: str, case: str | None = None) -> Reading | ByCase[Reading]:
        """`Reading` at a junction in one case, or `ByCase` of them."""
        return self._ask(case, lambda result: result.at(place))

    @overload
    def part(self, name: str, case: None = None) -> ByCase[PartReading]: ...

    @overload
    def part(self, name: str, case: str) -> PartReading: ...

    def part(self, name: str, case: str | None = None) -> PartReading | ByCase[PartReading]:
        """`PartReading` of a part in one case, or `ByCase` of them."""
        return self._ask(case, lambda result: result.part(name))

    @overload
    def run(self, name: str, case: None = None) -> ByCase[PartReading]: ...

    @overload
    def run(self, name: str, case: str) -> PartReading: ...

    def run(self, name: str, case: str | None = None) -> PartReading | ByCase[PartReading]:
        """`PartReading` of a whole run in one case, or `ByCase` of them."""
        return self._ask(case, lambda result: result.run(name))

    @property
    def feed(self) -> ByCase[Way | None]:
        """Where the pressure goes between the tank and the place that is fed: `ByCase` of `Way`."""
        return ByCase({name: case.feed for name, case in self.items()})

    @property
    def certificate(self) -> dict[str, dict[str, Any]]:
        """Per case: status, rung, iterations, residual, mass closure."""
        return {name: case.certificate for name, case in self.items()}

    @cached_property
    def findings(self) -> list[Finding]:
        """Findings of all cases, worst first."""
        return ranked([one for case in self.values() for one in case.findings])

    @cached_property
    def cautions(self) -> list[str]:
        """Warnings usual in the trade for the fluid and pressures of this circuit, as texts."""
        return list(reviewer().cautions(self))

    def with_findings(self, findings: Sequence[Finding]) -> Answer:
        """The same answer with other findings, such as those of `flarenut.checks.review` with your own limits."""
        other = Answer(self.layout, {})
        other._cases = {name: CaseResult(name, case.solution, self.layout, case.conditions,
                                         [one for one in findings if one.case == name]) for name, case in self.items()}
        return other

    def table(self, units: str | None = None, rows: Sequence[str] | None = None) -> Table:
        """`Table` of rows by case.

        Parameters
        ----------
        units : "us" or "metric"; those of the circuit unless given
        rows : None for what builders ask first; or names as sweeps have them: a place ("rail"), "place.total", "part.drop", ".rise",
            ".flow", ".mass_flow", ".velocity", ".reynolds", ".regime", ".inlet", ".outlet", ".inlet.absolute", of a pump
            ".suction_margin", ".suction_degrees_to_boiling"; of a run likewise; or what a row of the table is called, "pump suction margin"
        """
        from .table import table_of

        return table_of(self, settled(units, self), rows)

    def to_dict(self) -> dict[str, Any]:
        """Everything in SI, as nested dicts; see docs/guide/json_output.md."""
        from .export import as_dict

        return as_dict(self)

    def to_json(self, indent: int = 2) -> str:
        """`to_dict` as JSON text. What was not solved is null."""
        import json

        return json.dumps(self.to_dict(), indent=indent, ensure_ascii=False, allow_nan=False)

    def __repr__(self) -> str:
        states = ", ".join(f"{name}: {case.solution.status}" for name, case in self.items())
        return f"<answer for '{self.circuit}': {states or 'no case'}>"

    def __str__(self) -> str:
        return str(self.table())

    def _repr_html_(self) -> str:
        from .html import safely

        return safely(lambda: self.table().html(), self)
