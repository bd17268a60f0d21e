"""`flarenut drive`: a circuit through the drives that its file describes, shown and written."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from collections.abc import Callable, Sequence
from functools import partial
from importlib.util import find_spec
from typing import TYPE_CHECKING, Any, TextIO, TypeVar
from pathlib import Path

from .. import checks  # noqa: F401 - hands its rules to the results: findings and cautions
from ..circuit.file import ill_posed
from ..results import Table
from ..results.names import NoSuchName, pick
from .ctrl_c import Keeping
from .guard import BAD_INPUT, MUST_NOT_RUN, SOLVED, STOPPED, UNSOLVED, Refusal
from .out_files import PICTURES, checked, named_apart, put_file
from .solve import put, read

if TYPE_CHECKING:
    from ..circuit.file.drives import FileDrive
    from ..circuit.file.load import CircuitFile
    from ..circuit.file.vehicle import VehicleFile
    from ..results.vehicle_answer import Tables
    from ..studies.over_time import OverTimeInterrupted
    from ..studies.over_time_vehicle import VehicleOverTime
    from ..studies.over_time_answer import OverTime

_EXAMPLE = '[drive.morning] and cases = [["3 min", "cold start"], ["10 min", "cruise"]]'


def drive(options: Namespace) -> int:
    """Follows a circuit or a vehicle through the drives of a file, all or those asked for; prints a table of each, or writes it where `--out` says."""
    outs = [checked(out) for out in options.out or ()]
    if find_spec("xarray") is None and any(out.suffix.lower() not in PICTURES for out in outs):
        raise Refusal("flarenut: a file of rows needs xarray, which is not installed\n  cure: pip install 'flarenut[sweep]'")
    loaded = read(options.file)
    chosen = _chosen([*options.names, *(options.only or ())], loaded)
    names, units, codes = [made.name for made in chosen], options.units or loaded.units or "us", [SOLVED]
    told: dict[str, Any] | None = {} if options.json else None
    stands = False
    for number, made in enumerate(chosen):
        if number and not outs and told is None:
            print()
        with Keeping() as keeping:
            answer, code = _one(loaded, made, units, named_apart(outs, names, made.name), told, keeping)
        codes.append(code)
        stands = options.fail_on_stop and _stands(answer, made, loaded) or stands
        if code == STOPPED:
            break
    if told is not None:
        print(json.dumps({"flarenut_drives": 1, "drives": told}, indent=2, ensure_ascii=False, allow_nan=False))
    return STOPPED if STOPPED in codes else max(codes) if max(codes) != SOLVED or not stands else MUST_NOT_RUN


def _stands(answer: OverTime | VehicleOverTime, made: FileDrive, loaded: CircuitFile | VehicleFile) -> bool:
    """Whether a STOP finding stands; says on standard error in how many places."""
    findings = answer.findings if isinstance(answer.findings, list) else [one for some in answer.findings.values() for one in some]
    places = list(dict.fromkeys(", ".join(filter(None, [one.where, one.case])) for one in findings if one.severity == "stop"))
    if places:
        print(f"{loaded.name}: drive '{made.name}': STOP findings stand: {'; '.join(places)}", file=sys.stderr)
    return bool(places)


def _chosen(wanted: Sequence[str], loaded: CircuitFile | VehicleFile) -> list[FileDrive]:
    if not loaded.drives:
        raise Refusal(f"{loaded.name}: there is no drive in it\n  cure: add {_EXAMPLE}; see 'flarenut parts drive'")
    try:
        names = dict.fromkeys(name for word in wanted or loaded.drives for name in pick("drive", word, list(loaded.drives)))
    except NoSuchName as error:
        raise Refusal(f"{loaded.name}: {error}") from None
    return [loaded.drives[name] for name in names]


def _one(loaded: CircuitFile | VehicleFile, made: FileDrive, units: str, outs: Sequence[Path],
         told: dict[str, Any] | None, keeping: Keeping) -> tuple[OverTime | VehicleOverTime, int]:
    """What a drive came to, and its exit code; shown, written, or put into `told` for JSON."""
    from ..studies.over_time_words import clock

    answer, stopped = _followed(loaded, made, units, keeping)
    keeping.all_solved()
    if told is not None:
        told[made.name] = _shown(lambda _: answer.to_dict(made.outputs), answer, made, loaded)
    if outs:
        stream = sys.stdout if told is None else sys.stderr
        print("\n".join([f"drive '{made.name}': {len(answer.times):,} moments have an answer", *(f"  {event}" for event in answer.events(units))]), file=stream)
        _write_all(outs, answer, made, loaded, units, stream)
    elif len(answer.times) and told is None:
        put(_table(answer, made, loaded, units))
    if stopped is not None:
        kept = f"; what was reached is in {', '.join(map(str, outs))}" if outs and len(answer.times) else ""
        print(f"flarenut: stopped: drive '{made.name}': {answer.why_not_in(units)}{kept}", file=sys.stderr)
        return answer, STOPPED
    if not answer.complete:
        printed = len(answer.times) and told is None  # then standard output says why: once is enough
        why = f"past {clock(answer.times[-1])}; standard output says why" if printed else answer.why_not_in(units)
        print(f"{loaded.name}: drive '{made.name}' ends early: {why}", file=sys.stderr)
    return answer, SOLVED if answer.complete else UNSOLVED


Made = TypeVar("Made")


def _followed(loaded: CircuitFile | VehicleFile, made: FileDrive, units: str,
              keeping: Keeping) -> tuple[OverTime | VehicleOverTime, OverTimeInterrupted | None]:
    """(`OverTime`, what stopped it or None)."""
    from ..studies.over_time import OverTimeInterrupted, over_time
    from .sweep_progress import Progress

    progress = Progress(f"drive '{made.name}' [s]")

    def reached(done: float, count: float) -> None:
        keeping.all_solved(done >= count)
        progress(int(done), int(count))

    try:
        _judge_outputs(loaded, made)
        return over_time(loaded.circuit, made.cases, made.every, made.start, units=units,
                         progress=reached), None
    except OverTimeInterrupted as stop:
        return stop.partial, stop
    except ValueError as refusal:
        raise _refused(loaded, made, refusal) from None
    finally:
        progress.close()


def _judge_outputs(loaded: CircuitFile | VehicleFile, made: FileDrive) -> None:
    """Refuses a reading that there is not, before a long drive: a second of its first case tells."""
    from ..studies.over_time import over_time

    if made.outputs is not None:
        probe = over_time(loaded.circuit, [("1 s", made.cases[0][1])], start=made.start)
        for name in _listed(made.outputs) if len(probe.times) else ():
            _shown(partial(_one_of, probe, name), probe, made, loaded)


def _one_of(probe: OverTime | VehicleOverTime, name: str, times: object) -> object:
    return probe.series(name)


def _refused(loaded: CircuitFile | VehicleFile, made: FileDrive, refusal: ValueError) -> Refusal:
    return Refusal(str(loaded.study_error(made, refusal)), UNSOLVED if ill_posed(refusal) else BAD_INPUT)


def _table(answer: OverTime | VehicleOverTime, made: FileDrive, loaded: CircuitFile | VehicleFile, units: str) -> Table | Tables:
    """What is printed: the moments and readings asked for, what happened when, and findings in any case."""
    from ..studies.over_time_answer import OverTime
    from ..studies.over_time_view import beside_findings, told_beside

    table: Table | Tables = _shown(lambda times: answer.table(times, units, made.outputs), answer, made, loaded)
    if made.outputs is not None and isinstance(table, Table) and isinstance(answer, OverTime):  # tables of a vehicle have them
        table.notes = [*beside_findings(answer, answer.events(units)), *table.notes]
        table.findings = told_beside(answer, table, units)
    return table


def _shown(show: Callable[[Any], Made], answer: OverTime | VehicleOverTime, made: FileDrive, loaded: CircuitFile | VehicleFile) -> Made:
    """``show(times)``; of a drive that ended early without the times that it did not come to."""
    from ..circuit import CircuitError
    from ..units import parse

    times = [made.times] if isinstance(made.times, str) else made.times
    if times and not answer.complete:
        times = [one for one in times if parse(one, "time") <= answer.times[-1]] or None
    try:
        return show(times)
    except ValueError as refusal:
        raise _refused(loaded, made, refusal) from None
    except KeyError as unknown:
        reason, _, cure = unknown.args[0].partition(": ")
        name = next((one for one in _listed(made.outputs) if f"'{one}'" in reason), made.outputs)
        raise _refused(loaded, made, CircuitError(reason.replace("no row", "there is no reading"), cure or "write it as tables name it", key="outputs",
                                                  value=name)) from None


def _write_all(outs: Sequence[Path], answer: OverTime | VehicleOverTime, made: FileDrive, loaded: CircuitFile | VehicleFile,
               units: str, stream: TextIO) -> None:
    for out in outs:
        if not len(answer.times) and out.suffix.lower() not in PICTURES:  # a picture says why
            print(f"nothing written to {out}: nothing was reached", file=sys.stderr)
            continue
        if out.suffix.lower() in PICTURES:
            put_file(out, lambda path: _picture(answer, made, units, path))
        else:
            _save(out, answer, made, loaded, units)
        print(f"written to {out}", file=stream)


def _save(out: Path, answer: OverTime | VehicleOverTime, made: FileDrive, loaded: CircuitFile | VehicleFile, units: str) -> None:
    from ..studies import save_sweep

    rows = _shown(lambda _: answer.to_dataset(made.outputs, units), answer, made, loaded)
    put_file(out, lambda path: save_sweep(rows, path))


def _picture(answer: OverTime | VehicleOverTime, made: FileDrive, units: str, path: str | Path) -> None:
    from matplotlib.figure import Figure

    from ..plotting import time_picture

    places = [name.removesuffix(".temperature") for name in _listed(made.outputs) if name.endswith(".temperature")] or None
    figure = Figure(figsize=(10, 6), layout="constrained")
    time_picture(answer, places, marks=_listed(made.marks), ax=figure.subplots(), units=units)
    figure.savefig(path, dpi=150)


def _listed(value: str | Sequence[str] | None) -> list[str]:
    return [value] if isinstance(value, str) else list(value or ())
