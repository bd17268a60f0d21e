"""`flarenut solve`: a circuit file, solved and shown."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, TextIO
from collections.abc import Sequence
from argparse import Namespace

from .. import checks  # noqa: F401 - hands its rules to the results: findings and cautions
from ..circuit.file import FileError, ill_posed, read_file
from ..hardware import audit
from ..results import VehicleAnswer
from ..results.answer import Answer
from ..results.names import NoSuchName, pick
from .guard import BAD_INPUT, MUST_NOT_RUN, SOLVED, UNSOLVED, Refusal
from .out_files import picture_or_refusal, put_file

if TYPE_CHECKING:
    from ..circuit.file.load import CircuitFile
    from ..circuit.file.vehicle import VehicleFile
    from ..results.finding import Finding
    from ..results.table import Table
    from ..results.vehicle_answer import Tables
    from pathlib import Path


def solve(options: Namespace) -> int:
    """Solves one file and prints the table, or one JSON object."""
    if options.plot is not None:
        picture_or_refusal(options.plot)
    loaded = read(options.file)
    if options.plot is not None and loaded.files:
        raise Refusal(f"{loaded.name}: a picture shows one circuit, and this is a vehicle of {len(loaded.files)}\n  cure: leave --plot out")
    answer = answer_of(loaded, options.case)
    units = options.units or loaded.units or "us"
    if options.json:
        print(answer.to_json())
    else:
        show(answer, units)
        tell_of_joints(loaded, sys.stdout)
    if options.plot is not None:
        write_ladder(answer, options.plot, units, sys.stderr if options.json else sys.stdout)
    each = list(answer.values()) if isinstance(answer, VehicleAnswer) else [answer]
    code = code_of(each[0], loaded.name, units)  # the circuits of a vehicle are solved in one
    if code != SOLVED or not options.fail_on_stop:
        return code
    return MUST_NOT_RUN if any([*(stopped(one, loaded.name) for one in each), joints_stopped(loaded)]) else code


def read(path: str) -> CircuitFile | VehicleFile:
    """The circuit file, or a refusal that says everything wrong with it."""
    try:
        return read_file(path)
    except FileError as error:
        raise Refusal(str(error)) from None


def answer_of(loaded: CircuitFile | VehicleFile, wanted: Sequence[str] | None = None) -> Answer | VehicleAnswer:
    """The answer for all cases of a file, or for those whose names are wanted."""
    circuit = loaded.circuit
    cases = wanted and _chosen(wanted, list(circuit.cases), loaded.name)
    try:
        return circuit.solve(cases=cases) if cases else circuit.solve()
    except ValueError as refusal:  # from compiling: the file read well, but its parts do not make a circuit that can be solved
        raise Refusal(str(loaded.error(refusal)), UNSOLVED if ill_posed(refusal) else BAD_INPUT) from None


def _chosen(wanted: Sequence[str], known: Sequence[str], file: str) -> list[str]:
    try:
        return list(dict.fromkeys(name for word in wanted for name in pick("case", word, known)))
    except NoSuchName as error:
        raise Refusal(f"{file}: {error}") from None


def show(answer: Answer | VehicleAnswer, units: str) -> None:
    """Prints the table of an answer."""
    put(answer.table(units))


def put(table: Table | Tables) -> None:
    """Prints a table; on a terminal in colour where `rich` is installed."""
    if sys.stdout.isatty():
        try:
            from rich.console import Console
        except ImportError:
            pass
        else:
            Console().print(table)
            return
    print(table.text())


def code_of(answer: Answer, file: str, units: str) -> int:
    """Exit code; cases without a solution are named on standard error with their cause, in "us" or "metric"."""
    lost: dict[str, list[str]] = {}
    for case in answer.values():
        if not case.converged:
            cure = case.turn_round[1]
            lost.setdefault(case.cause_in(units) + (f"\n  cure: {cure}" if cure else ""), []).append(f"'{case.name}'")
    for cause, cases in lost.items():
        print(f"{file}: {'case ' if len(cases) == 1 else 'cases '}{', '.join(cases)} {'is' if len(cases) == 1 else 'are'} not solved: {cause}",
              file=sys.stderr)
    return UNSOLVED if lost else SOLVED


def stopped(answer: Answer, file: str) -> bool:
    """Whether a STOP finding stands; says on standard error in how many places."""
    places = list(dict.fromkeys(f"{one.where}, {one.case}" for one in answer.findings if one.severity == "stop"))
    if places:
        print(f"{file}: STOP findings stand: {'; '.join(places)}", file=sys.stderr)
    return bool(places)


def tell_of_joints(loaded: CircuitFile | VehicleFile, stream: TextIO) -> None:
    """A line on what the audit of the joints says STOP or FIX to; nothing where it says neither."""
    counts = counted(audit(loaded.circuit).findings)
    if counts:
        print(f"\nJoints: {counts}: 'flarenut audit {loaded.name}' says which and why.", file=stream)


def counted(findings: Sequence[Finding]) -> str:
    """"1 STOP and 6 FIX"; "" where there is neither."""
    return " and ".join(f"{number} {severity.upper()}" for severity in ("stop", "fix") if (number := sum(one.severity == severity for one in findings)))


def joints_stopped(loaded: CircuitFile | VehicleFile) -> bool:
    """Whether a STOP of the joints stands; says on standard error in how many places."""
    places = list(dict.fromkeys(one.where for one in audit(loaded.circuit).findings if one.severity == "stop"))
    if places:
        print(f"{loaded.name}: STOP findings of joints stand: {'; '.join(places)}", file=sys.stderr)
    return bool(places)


def write_ladder(answer: Answer | VehicleAnswer, path: str | Path, units: str, tell: TextIO) -> None:
    """Writes the pressure ladder and says where."""
    if not any(case.converged for case in answer.values()):
        print("no picture: no case is solved", file=sys.stderr)
        return
    from ..plotting import pressure_ladder

    assert isinstance(answer, Answer), "a vehicle has no ladder"
    axes = pressure_ladder(answer, units=units)
    figure = axes.get_figure(root=True)
    assert figure is not None, "what was drawn has its figure"
    put_file(path, lambda part: figure.savefig(part, dpi=150))
    print(f"pressure ladder written to {path}", file=tell)
