"""What a sheet shows of each circuit, gathered before anything is written: its answer, audit, cut list, bill and schematic."""

from typing import NamedTuple

from ..circuit import CircuitError, Vehicle
from ..hardware import audit
from ..hardware.bill import Bill, bill
from ..hardware.cut_list import CutList
from ..results import Answer, VehicleAnswer, ranked
from ..schematic import schematic


class Part(NamedTuple):
    """One circuit of a sheet."""

    name: str  # as the vehicle calls it, or its own
    circuit: object
    answer: object
    table: object  # of the answer
    audit: object
    cuts: object
    bill: object
    drawing: object

    @property
    def findings(self):
        """Of its joints, of what is cut and of its answer, worst first."""
        return ranked([*self.audit.findings, *self.cuts.findings, *self.answer.findings])


class Whole(NamedTuple):
    """What holds for all circuits of a vehicle together."""

    answer: object
    bill: object


def parts_of(plumbing, answer, units, prices, proposals=None):
    """(`Part` of each circuit, `Whole` of a vehicle or None). `proposals` is the `Fitted` that a circuit is of, whose open joints its bill tells."""
    several = isinstance(plumbing, Vehicle)
    circuits = dict(plumbing.circuits) if several else {plumbing.name: plumbing}
    answers = _answers(plumbing, circuits, answer, several)
    audits = {name: audit(circuit) for name, circuit in circuits.items()}
    bought = bill(plumbing if proposals is None else proposals, prices, units=units)
    findings = {name: ranked([*audits[name].findings, *answers[name].findings]) for name in circuits}
    drawn = schematic(plumbing, answer, findings=findings if several else findings[plumbing.name], units=units)
    found = [Part(name, circuit, answers[name], answers[name].table(units), audits[name], _cuts_of(bought.cuts, name), _bill_of(bought, name),
                  drawn[name] if several else drawn)
             for name, circuit in circuits.items()]
    return found, Whole(answer, bought) if several else None


def _answers(plumbing, circuits, answer, several):
    """Circuit -> its `Answer`, or a refusal of what is no answer of these."""
    if not isinstance(answer, VehicleAnswer if several else Answer):
        raise CircuitError(f"'answer' is {answer!r}", f"give what solving '{plumbing.name}' returned, or leave it out", place=plumbing.name, key="answer")
    found = dict(answer) if several else {plumbing.name: answer}
    if set(found) != set(circuits) or (not several and answer.circuit != plumbing.name):
        of = answer.vehicle if several else answer.circuit
        raise CircuitError(f"the answer is of '{of}'", "solve what the sheet is of, and give that answer", place=plumbing.name, key="answer")
    return found


def _cuts_of(cuts, name):
    """The cut list of one circuit out of that of all."""
    hoses, tubes = ([row for row in rows if row.circuit == name] for rows in (cuts.hoses, cuts.tubes))
    return CutList(name, hoses, tubes, invented=cuts.invented, units=cuts.units)


def _bill_of(whole, name):
    """The bill of one circuit out of that of all."""
    volumes = {key: volume for key, volume in whole.volumes.items() if key[0] == name}
    rows, total = [row for row in whole.rows if row.circuit == name], whole.circuits[name]
    return Bill(name, rows, {name: total}, total, volumes, _cuts_of(whole.cuts, name), whole.prices, invented=whole.invented, units=whole.units,
                still_open=whole.open,
                unsaid=[("", place) for circuit, place in whole.unsaid if circuit in ("", name)])
