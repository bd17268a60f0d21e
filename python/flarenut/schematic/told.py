"""What an answer tells at the places and parts of a schematic: pressures and flows of one case, and the worst finding of each."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property
from textwrap import shorten
from typing import TYPE_CHECKING

from ..circuit.compile import piece_names
from ..circuit.errors import CircuitError, meant
from ..results import SEVERITIES, ranked
from ..units import preferred_unit, shared_units, show
from ..units.display import SYSTEMS, VACUUM_SHOWN_BELOW
from .words import demand_of

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.places import Junction
    from ..results.answer import Answer
    from ..results.finding import Finding
    from ..results.case import CaseResult
    from ..results.readings import PartReading


_URGENT = ("stop", "fix")
_MOST_CASES, _LONGEST_CASE = 2, 22  # cases named beside a tag, and letters of one


class Told:
    """Numbers and findings of a circuit, asked for by its own names.

    Parameters
    ----------
    circuit : `Circuit`
    answer : `Answer` of it, or None
    case : whose numbers are shown; the first of the answer unless given
    findings : in place of those of the answer
    units : "us" or "metric"
    """

    def __init__(self, circuit: Circuit, answer: Answer | None, case: str | None, findings: Sequence[Finding] | None, units: str) -> None:
        if units not in SYSTEMS:
            raise CircuitError(f"'units' is {units!r}", "write 'us' or 'metric'", key="units", value=units)
        if case is not None and answer is None:
            raise CircuitError(f"'case' is {case!r}, and there is no answer that holds it", "give the answer too: schematic(car, car.solve())",
                               key="case", value=case)
        self.circuit, self.units = circuit, units
        self.case = None if answer is None else answer[next(iter(answer)) if case is None else case]
        self.names = piece_names(circuit)
        self._refuse_another(circuit)
        if findings is None:
            findings = () if answer is None else answer.findings if case is None or self.case is None else self.case.findings
        self.findings, self.unplaced = self._by_name(ranked(findings))

    def _refuse_another(self, circuit: Circuit) -> None:
        if self.case is None:
            return
        known = set(self.case.junction_names)
        for name in circuit.junctions:
            if name not in known:
                cure = f"it is of '{self.case.layout.circuit}': solve this circuit, and give that answer"
                raise CircuitError(f"the answer knows no place '{name}'", cure, place=circuit.name, key="answer", value=name)

    # ---- numbers ----

    def pressure(self, place: str) -> list[str]:
        """Gauge pressure at a place, and its temperature where that is found, as texts."""
        if self.case is None or not self.case.converged:
            return []
        reading = self.case.at(place)
        vacuum = reading.gauge.si < VACUUM_SHOWN_BELOW
        found = [reading.gauge.show(self.units, unit=None if vacuum else self._gauge_unit)]
        return found + ([reading.temperature.show(self.units)] if self.case.finds_temperatures else [])

    @cached_property
    def _gauge_unit(self) -> str:
        """The one unit of all pressures of the drawing."""
        gauges = [("pressure_gauge", self.case.reading(number).gauge.si) for number in range(len(self.case.junction_names))] if self.case is not None else []
        return shared_units(gauges, self.units).get("pressure_gauge") or preferred_unit("pressure_gauge", self.units)

    def flow(self, run: str) -> tuple[str, bool]:
        """(text, backwards) of the flow through a run."""
        return self._flow(lambda case: case.run(run))

    def flow_through(self, part: str) -> tuple[str, bool]:
        """(text, backwards) of the flow through a part that is in no run."""
        return self._flow(lambda case: case.part(part))

    def _flow(self, ask: Callable[[CaseResult], PartReading]) -> tuple[str, bool]:
        if self.case is None or not self.case.converged:
            return "", False
        flow = ask(self.case).flow
        if abs(flow.si) < 1e-10:  # less than a drop an hour
            return "no flow", False
        return show(abs(flow.si), "volume_flow", self.units), flow.si < 0.0

    def demand(self, name: str, junction: Junction) -> tuple[str, bool] | None:
        """See `demand_of`."""
        drawn = None if self.case is None else self.case.number(f"{name}.demand")
        return demand_of(self.circuit, junction, drawn, self.units)

    # ---- findings ----

    def _by_name(self, findings: Sequence[Finding]) -> tuple[dict[str, list[Finding]], list[Finding]]:
        """Findings by the part, place or run they are of; and those of the circuit as a whole."""
        names = self._names()
        placed: dict[str, list[Finding]] = {}
        rest: list[Finding] = []
        for one in findings:
            found = _named(one.where, names) or [name for where in one.where.split(", ") for name in _named(where, names)]
            for name in dict.fromkeys(found):
                placed.setdefault(name, []).append(one)
            if not found:
                rest.append(one)
        return placed, rest

    def _names(self) -> dict[str, str]:
        """Every name that a finding may use -> the name that is drawn."""
        names = {name: name for name in (*self.circuit.runs, *self.circuit.junctions, *self.circuit.multiport)}
        for (of, place), name in self.names.items():
            names[name] = name
            for element in self.circuit.runs[of].pieces[place].elements:
                names[name + element.suffix] = name
        for run in self.circuit.runs.values():  # mouths in tanks, which nobody wrote
            names.setdefault(f"{run.name} out of {run.start}", self.names[run.name, 0])
            names.setdefault(f"{run.name} into {run.end}", self.names[run.name, len(run.pieces) - 1])
        if self.case is not None:
            for title in self.case.layout.junction_titles.values():  # "after fuel filter"
                if title.removeprefix("after ") in names:
                    names[title] = names[title.removeprefix("after ")]
        return names

    def tag(self, name: str) -> str:
        """Severity of the worst finding of a part, place or run; "" where there is none."""
        found = self.findings.get(name)
        return min((one.severity for one in found), key=SEVERITIES.index) if found else ""

    def when(self, name: str) -> str:
        """In which cases the worst finding stands that a tag tells of, STOP or FIX: "STOP in track"; "" for others, and where it is of no case."""
        tag = self.tag(name)
        cases = list(dict.fromkeys(one.case for one in self.findings.get(name, ()) if one.severity == tag and one.case))
        if tag not in _URGENT or not cases:
            return ""
        more = f" and {len(cases) - _MOST_CASES} more" if len(cases) > _MOST_CASES else ""
        return f"{tag.upper()} in {', '.join(shorten(case, _LONGEST_CASE, placeholder='...') for case in cases[:_MOST_CASES])}{more}"

    def tip(self, name: str, what: str) -> str:
        """What is told of a part or place when it is pointed at."""
        return "\n".join([what, *(one.text(self.units) for one in self.findings.get(name, ()))])

    @property
    def severities(self) -> list[str]:
        """Those that stand on the drawing, worst first."""
        tags = {self.tag(name) for name in self.findings} | {one.severity for one in self.unplaced}
        return [one for one in SEVERITIES if one in tags]


def _named(where: str, names: dict[str, str]) -> list[str]:
    """The drawn names that a place in a finding means: one, or the two that a joint is between, "feed hose to fuel filter"."""
    if where in names:
        return [names[where]]
    words = where.split(" to ")
    for cut in range(1, len(words)):
        one, other = " to ".join(words[:cut]), " to ".join(words[cut:])
        if one in names and other in names:
            return [names[one], names[other]]
    return []


def case_named(answer: Answer, case: str | None) -> None:
    """Refuses a case that an answer does not hold."""
    if case is not None and case not in answer:
        raise CircuitError(f"there is no case '{case}' in the answer", meant(case, answer), key="case", value=case)
