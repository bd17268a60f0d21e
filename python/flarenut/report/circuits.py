"""What a sheet shows of each circuit, gathered before anything is written: its answer, audit, cut list, bill and schematic."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, NamedTuple

from ..circuit import CircuitError, Vehicle
from ..hardware import audit
from ..hardware.bill import Bill, bill
from ..hardware.cut_list import CutList
from ..results import Answer, VehicleAnswer, ranked
from ..schematic import Schematic, Schematics, schematic

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..hardware.audit import Audit
    from ..hardware.fitted import Fitted
    from ..hardware.prices import Prices
    from ..results.finding import Finding
    from ..results.table import Table


class Part(NamedTuple):
    """One circuit of a sheet."""

    name: str  # as the vehicle calls it, or its own
    circuit: Circuit
    answer: Answer
    table: Table  # of the answer
    audit: Audit
    cuts: CutList
    bill: Bill
    drawing: Schematic

    @property
    def findings(self) -> list[Finding]:
        """Of its joints, of what is cut and of its answer, worst first."""
        return ranked([*self.audit.findings, *self.cuts.findings, *self.answer.findings])


class Whole(NamedTuple):
    """What holds for all circuits of a vehicle together."""

    answer: VehicleAnswer
    bill: Bill


def parts_of(plumbing: Circuit | Vehicle, answer: Answer | VehicleAnswer | None, units: str, prices: Prices | None,
             proposals: Fitted | None = None) -> tuple[list[Part], Whole | None]:
    """(`Part` of each circuit, `Whole` of a vehicle or None). `proposals` is the `Fitted` that a circuit is of, whose open joints its bill tells."""
    several = isinstance(plumbing, Vehicle)
    circuits = dict(plumbing.circuits) if isinstance(plumbing, Vehicle) else {plumbing.name: plumbing}
    answers = _answers(plumbing, circuits, answer)
    audits = {name: audit(circuit) for name, circuit in circuits.items()}
    bought = bill(plumbing if proposals is None else proposals, prices, units=units)
    findings = {name: ranked([*audits[name].findings, *answers[name].findings]) for name in circuits}
    drawn = schematic(plumbing, answer, findings=findings if several else findings[plumbing.name], units=units)
    found = [Part(name, circuit, answers[name], answers[name].table(units), audits[name], _cuts_of(bought.cuts, name), _bill_of(bought, name),
                  drawn[name] if isinstance(drawn, Schematics) else drawn)
             for name, circuit in circuits.items()]
    return found, Whole(answer, bought) if isinstance(answer, VehicleAnswer) else None


def _answers(plumbing: Circuit | Vehicle, circuits: Mapping[str, Circuit], answer: Answer | VehicleAnswer | None) -> dict[str, Answer]:
    """Circuit -> its `Answer`, or a refusal of what is no answer of these."""
    several = isinstance(plumbing, Vehicle)
    if answer is None or isinstance(answer, VehicleAnswer) != several or not isinstance(answer, (Answer, VehicleAnswer)):
        raise CircuitError(f"'answer' is {answer!r}", f"give what solving '{plumbing.name}' returned, or leave it out", place=plumbing.name, key="answer")
    found = dict(answer) if isinstance(answer, VehicleAnswer) else {plumbing.name: answer}
    of = answer.vehicle if isinstance(answer, VehicleAnswer) else answer.circuit
    if set(found) != set(circuits) or (not several and of != plumbing.name):
        raise CircuitError(f"the answer is of '{of}'", "solve what the sheet is of, and give that answer", place=plumbing.name, key="answer")
    return found


def _cuts_of(cuts: CutList, name: str) -> CutList:
    """The cut list of one circuit out of that of all."""
    return CutList(name, [row for row in cuts.hoses if row.circuit == name], [row for row in cuts.tubes if row.circuit == name],                   invented=cuts.invented, units=cuts.units)


def _bill_of(whole: Bill, name: str) -> Bill:
    """The bill of one circuit out of that of all."""
    volumes = {key: volume for key, volume in whole.volumes.items() if key[0] == name}
    rows, total = [row for row in whole.rows if row.circuit == name], whole.circuits[name]
    return Bill(name, rows, {name: total}, total, volumes, _cuts_of(whole.cuts, name), whole.prices, invented=whole.invented, units=whole.units,
                still_open=whole.open,
                unsaid=[("", place) for circuit, place in whole.unsaid if circuit in ("", name)])
