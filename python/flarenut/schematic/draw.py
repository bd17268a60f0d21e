"""`schematic`: a circuit in, a drawing out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from ..circuit import Circuit, Vehicle
from ..circuit.errors import CircuitError, meant
from ..results import Answer, Finding, VehicleAnswer, merged
from ..results.whole_file import write_whole
from ..units import settled
from .arrange import arranged
from .graph import Link, Node, arrow_item, labelled, links_of_run, part_item
from .place import placed
from .sheet import Sheet
from .told import Told, case_named
from .vehicles import Schematics, partners_of
from .words import detail_of, held_at, reference_of, symbol_of, word_of

if TYPE_CHECKING:
    from ..circuit.piece import Piece
    from ..circuit.places import Run
    from .graph import Item

_MOST_NOTES = 4  # findings of the circuit as a whole that are written out


class Schematic:
    """The drawing of one circuit. Shows itself in a notebook; `svg` is the whole document as text.

    Parameters
    ----------
    name : of the circuit
    svg : the document
    """

    def __init__(self, name: str, svg: str) -> None:
        self.name, self.svg = name, svg

    def save(self, path: str | Path) -> Path:
        """Writes the drawing to a file whose name ends in .svg, and returns its `Path`."""
        target = Path(path)
        if target.suffix.lower() != ".svg":
            raise CircuitError(f"'path' is {str(path)!r}: a schematic is written as SVG", "end the name in .svg", key="path", value=path)
        write_whole(target, self.svg)
        return target

    def _repr_svg_(self) -> str:
        return self.svg

    def __repr__(self) -> str:
        return f"<schematic of {self.name!r}: {len(self.svg)} letters of SVG>"


def schematic(circuit: Circuit | Vehicle, answer: Answer | VehicleAnswer | None = None, *, case: str | None = None,
              findings: Sequence[Finding] | Mapping[str, Sequence[Finding]] | None = None, units: str | None = None) -> Schematic | Schematics:
    """A schematic of a circuit with symbols after ISO 1219-1, laid out by itself.

    Parameters
    ----------
    circuit : `Circuit`; or `Vehicle`, whose circuits are drawn one by one
    answer : of its solve: pressures and flows of one case are written in, and parts with findings are coloured and tagged
    case : whose pressures and flows, and whose findings; the first case's numbers and the findings of all cases unless given
    findings : list of `Finding`s in place of those of the answer, as of an audit of its joints; of a vehicle circuit -> list
    units : "us" or "metric"; those of the circuit unless given

    Returns
    -------
    `Schematic` with `svg` (text), `save(path)`; of a vehicle `Schematics`, a mapping from circuit to `Schematic`

    Raises
    ------
    CircuitError : what is given is no circuit, or an answer of another

    Examples
    --------
    >>> import flarenut as fn
    >>> wash = fn.Circuit("rinse line", fluid="water")
    >>> wash.tank("drum", level="1 m")
    >>> wash.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size", name="long hose")])
    >>> drawing = fn.schematic(wash, wash.solve(), units="metric")
    >>> "long hose" in drawing.svg, drawing.svg.startswith("<svg")
    (True, True)
    """
    units = settled(units, circuit)
    if isinstance(circuit, Vehicle):
        return _of_vehicle(circuit, answer, case, findings, units)
    if not isinstance(circuit, Circuit):
        raise CircuitError(f"{circuit!r} is not a circuit", "give a Circuit or a Vehicle", key="circuit", value=circuit)
    return _of_circuit(circuit, answer, case, findings, units, {})


def _of_vehicle(vehicle: Vehicle, answer: VehicleAnswer | Answer | None, case: str | None,
                findings: Mapping[str, Sequence[Finding]] | Sequence[Finding] | None, units: str) -> Schematics:
    if answer is not None and not isinstance(answer, VehicleAnswer):
        raise CircuitError(f"'answer' is {answer!r}, and what is drawn is a vehicle", "give what the vehicle's own solve returned",
                           key="answer", value=answer)
    for name in findings or ():
        if not isinstance(name, str) or name not in vehicle.circuits:
            raise CircuitError(f"'findings' names a circuit '{name}', which the vehicle has not", meant(str(name), vehicle.circuits),
                               key="findings", value=name)
    drawn = {}
    for name, circuit in vehicle.circuits.items():
        its = None if answer is None else answer[name]
        own = None if findings is None else findings.get(name, ()) if isinstance(findings, Mapping) else ()
        drawn[name] = _of_circuit(circuit, its, case, own, units, partners_of(vehicle, name))
    return Schematics(vehicle.name, drawn)


def _of_circuit(circuit: Circuit, answer: Answer | VehicleAnswer | None, case: str | None,
                findings: Sequence[Finding] | Mapping[str, Sequence[Finding]] | None, units: str, partners: dict[str, str]) -> Schematic:
    if answer is not None and not isinstance(answer, Answer):
        cure = "give the answer of this circuit, answer['its name']" if isinstance(answer, VehicleAnswer) else "give what solve returned"
        raise CircuitError(f"'answer' is {answer!r}, not the answer of a circuit", cure, key="answer", value=answer)
    if answer is not None:
        case_named(answer, case)
    for one in findings or ():
        if not isinstance(one, Finding):
            raise CircuitError(f"'findings' holds {one!r}", "give a list of findings, as answer.findings", key="findings", value=one)
    told = Told(circuit, answer, case, None if findings is None else [one for one in findings if isinstance(one, Finding)], units)
    nodes, links = _Graph(circuit, told, partners).made()
    found = placed(arranged(nodes, links))
    sheet = Sheet(found, links, title=f"{circuit.name} · {circuit.fluid.name}", subtitle=_subtitle(circuit, told, case, findings is not None),
                  description=_description(circuit, told), notes=_notes(told), severities=told.severities)
    return Schematic(circuit.name, sheet.text())


class _Graph:
    """Makes nodes and links of a circuit, with all that is written at them."""

    def __init__(self, circuit: Circuit, told: Told, partners: dict[str, str]) -> None:
        self.circuit, self.told, self.partners = circuit, told, partners
        self.nodes: list[Node] = []
        self.links: list[Link] = []
        self.number: dict[str, int] = {}

    def made(self) -> tuple[list[Node], list[Link]]:
        for run in self.circuit.runs.values():
            self._run(run)
        for name, (piece, ends) in self.circuit.multiport.items():
            if len(ends) == 2:
                self._two_ended(name, piece, ends)
            else:
                self._joint(name, piece, ends)
        if not self.links:
            raise CircuitError("there is nothing to draw: it has no runs", "add some with `run`", place=self.circuit.name)
        return self.nodes, self.links

    def _place(self, name: str) -> int:
        """Number of the node of a junction."""
        if name not in self.number:
            junction, told = self.circuit.junctions[name], self.told
            details = told.pressure(name) or ([held_at(junction, told.units)] if junction.kind == "fixed" else [])
            self.number[name] = len(self.nodes)
            self.nodes.append(Node(name, junction.kind, labelled(name, *filter(None, [*details, told.when(name)])), told.tag(name), told.tip(name, name),
                                   junction.bore is not None and junction.kind == "free", told.demand(name, junction)))
        return self.number[name]

    def _run(self, run: Run) -> None:
        flow, backwards = self.told.flow(run.name)
        lead = arrow_item(run.name, flow, backwards, self.told.when(run.name), tag=self.told.tag(run.name), tip=self.told.tip(run.name, f"run {run.name}"))
        items = [self._part(piece, self.told.names[run.name, place]) for place, piece in enumerate(run.pieces)]
        self.links += links_of_run(self.nodes, self._place(run.start), self._place(run.end), [lead, *items], run.name, backwards)

    def _two_ended(self, name: str, piece: Piece, ends: Sequence[str]) -> None:
        flow, backwards = self.told.flow_through(name)
        start, end = map(self._place, ends)
        self.links.append(Link(start, end, [arrow_item("", flow, backwards), self._part(piece, name)], name))

    def _joint(self, name: str, piece: Piece, ends: Sequence[str]) -> None:
        """A part of three ends and more, as a tee: a node of its own."""
        tip = self.told.tip(name, f"{name}: {detail_of(piece, name, self.told.units)}")
        here = len(self.nodes)
        self.nodes.append(Node(name, "tee", labelled(name, *filter(None, [detail_of(piece, name, self.told.units), self.told.when(name)])),
                               self.told.tag(name), tip))
        self.links += [Link(self._place(ends[0]), here, [], name), *(Link(here, self._place(end), [], name) for end in ends[1:])]

    def _part(self, piece: Piece, name: str) -> Item:
        detail = detail_of(piece, piece.name, self.told.units)
        shown = piece.name or detail
        details = [one for one in (detail if piece.name else "", self.partners.get(name, ""), self.told.when(name)) if one]
        pilot = reference_of(piece) if "regulator" in piece.word else ""
        tip = self.told.tip(name, f"{name}: {detail_of(piece, None, self.told.units)}")
        return part_item(symbol_of(piece), shown, details, name=name, tag=self.told.tag(name), pilot=pilot, tip=tip, word=word_of(piece))


def _subtitle(circuit: Circuit, told: Told, case: str | None, given: bool) -> str:
    words = ["Invented circuit, a demonstration."] if circuit.invented else []
    if told.case is not None:
        state = "" if told.case.converged else ", which is not solved"
        words.append(f"Pressures and flows of case '{told.case.name}'{state}.")
    if told.findings or told.unplaced:
        of = "" if given else " of that case" if case is not None else " of all cases"
        words.append(f"Findings{of}, the worst at each place.")
    return " ".join([*words, "Not to scale; lines show how things join, not where they lie."])


def _description(circuit: Circuit, told: Told) -> str:
    """The circuit in words, for those who cannot see the drawing."""
    runs = [f"{run.name}: from {run.start} to {run.end} through {', '.join(told.names[run.name, place] for place in range(len(run.pieces)))}."
            for run in circuit.runs.values()]
    joints = [f"{name} ({word_of(piece)}) joins {', '.join(ends)}." for name, (piece, ends) in circuit.multiport.items()]
    tags = [f"{told.when(name) or told.tag(name).upper()} at {name}." for name in told.findings]
    return " ".join([*runs, *joints, *tags])


def _notes(told: Told) -> list[tuple[str, str]]:
    """Findings of the circuit as a whole, each once."""
    found = []
    for one, cases in merged(told.unplaced):
        where = [one.where] if one.where not in ("", told.circuit.name) else []
        of = ", ".join([*where, " / ".join(filter(None, cases))]).strip(", ")
        found.append((one.severity, f"{of}: {one.sentence(told.units)}" if of else one.sentence(told.units)))
    return found[:_MOST_NOTES]
