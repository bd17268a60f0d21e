"""`Answer`: what a circuit does in every operating case."""

from collections.abc import Mapping
from functools import cached_property

from .by_case import ByCase
from .case import CaseResult
from .finding import ranked, reviewer
from .layout import Layout
from .names import NoSuchName


class Answer(Mapping):
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

    def __init__(self, layout, solutions, conditions=None):
        self.layout = Layout(layout) if isinstance(layout, str) else layout
        conditions = conditions or {}
        self._cases = {name: CaseResult(name, solution, self.layout, conditions.get(name))
                       for name, solution in solutions.items()}

    circuit = property(lambda self: self.layout.circuit, doc="Name of the circuit.")
    converged = property(lambda self: all(case.converged for case in self.values()), doc="True when every case is solved.")

    def __getitem__(self, case):
        if case not in self._cases:
            raise NoSuchName("case", case, self._cases)
        return self._cases[case]

    def __iter__(self):
        return iter(self._cases)

    def __len__(self):
        return len(self._cases)

    def case(self, name):
        """The `CaseResult` of a case; the same as ``answer[name]``."""
        return self[name]

    def _ask(self, case, question):
        if case is not None:
            return question(self[case])
        return ByCase({name: question(result) for name, result in self.items()})

    def at(self, place, case=None):
        """`Reading` at a junction in one case, or `ByCase` of them."""
        return self._ask(case, lambda result: result.at(place))

    def part(self, name, case=None):
        """`PartReading` of a part in one case, or `ByCase` of them."""
        return self._ask(case, lambda result: result.part(name))

    def run(self, name, case=None):
        """`PartReading` of a whole run in one case, or `ByCase` of them."""
        return self._ask(case, lambda result: result.run(name))

    @property
    def feed(self):
        """Where the pressure goes between the tank and the place that is fed: `ByCase` of `Way`."""
        return ByCase({name: case.feed for name, case in self.items()})

    @property
    def certificate(self):
        """Per case: status, rung, iterations, residual, mass closure."""
        return {name: case.certificate for name, case in self.items()}

    @cached_property
    def findings(self):
        """Findings of all cases, worst first."""
        return ranked([one for case in self.values() for one in case.findings])

    @cached_property
    def cautions(self):
        """Warnings usual in the trade for the fluid and pressures of this circuit, as texts."""
        return list(reviewer().cautions(self))

    def with_findings(self, findings):
        """The same answer with other findings, such as those of `flarenut.checks.review` with your own limits."""
        other = Answer(self.layout, {})
        other._cases = {name: CaseResult(name, case.solution, self.layout, case.conditions,
                                         [one for one in findings if one.case == name]) for name, case in self.items()}
        return other

    def table(self, units="us", rows=None):
        """`Table` of rows by case.

        Parameters
        ----------
        units : "us" or "metric"
        rows : None for what builders ask first; or names: a place ("rail"), "place.total", "part.drop", ".rise",
            ".flow", ".mass_flow", ".velocity", ".reynolds", ".regime", ".inlet", ".outlet"
        """
        from .table import table_of

        return table_of(self, units, rows)

    def to_dict(self):
        """Everything in SI, as nested dicts; see docs/guide/json_output.md."""
        from .export import as_dict

        return as_dict(self)

    def to_json(self, indent=2):
        """`to_dict` as JSON text. What was not solved is null."""
        import json

        return json.dumps(self.to_dict(), indent=indent, ensure_ascii=False, allow_nan=False)

    def __repr__(self):
        states = ", ".join(f"{name}: {case.solution.status}" for name, case in self.items())
        return f"<answer for '{self.circuit}': {states or 'no case'}>"

    def __str__(self):
        return str(self.table())

    def _repr_html_(self):
        from .html import safely

        return safely(lambda: self.table().html(), self)
