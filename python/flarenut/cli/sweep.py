"""`flarenut sweep`: the sweeps that a circuit file describes, solved, shown and written."""

from __future__ import annotations

import sys
import warnings
from argparse import Namespace
from collections.abc import Mapping, Sequence
from importlib.util import find_spec
from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from ..circuit import CircuitError
from ..circuit.file import Ends, ill_posed
from ..results.columns import screen_width
from ..results.names import NoSuchName, pick
from .ctrl_c import Keeping
from .guard import BAD_INPUT, SOLVED, STOPPED, UNSOLVED, Refusal
from .out_files import PICTURES, checked, named_apart, put_file
from .solve import read

if TYPE_CHECKING:
    from xarray import Dataset
    from ..circuit.file.load import CircuitFile
    from ..circuit.file.sweeps import FileSweep
    from ..circuit.file.vehicle import VehicleFile
    from ..studies.sweep import SweepInterrupted

_NEEDS_XARRAY = "flarenut: a sweep needs xarray, which is not installed\n  cure: pip install 'flarenut[sweep]'"
_ALWAYS = ("margin_to_boiling", "status", "iterations", "residual", "reason")  # in every answer
_MOST_PANELS, _MOST_REASONS = 6, 4
_SAMPLE, _LETTER, _ROW = 0.75, 0.056, 0.17  # inches of a picture's legend: a line's sample and what is beside it, a letter, a row
_CAUTION = "An engineering estimate, not a certification: verify by measurement."


def sweep(options: Namespace) -> int:
    """Runs the sweeps of a file, all or those asked for; prints a table of each, or writes it where `--out` says."""
    if find_spec("xarray") is None:
        raise Refusal(_NEEDS_XARRAY)
    outs = [checked(out) for out in options.out or ()]
    if options.threads < 0:
        raise Refusal(f"flarenut: --threads is {options.threads}\n  cure: write a whole number; 0 takes one for each core")
    loaded = read(options.file)
    if options.findings and loaded.files:
        raise Refusal(f"flarenut: --findings: a vehicle is swept point by point, without the checks\n  cure: leave --findings out, and write what a point says into a "
                      f"case of the file: 'flarenut solve {loaded.name}' tells the findings of its cases")
    chosen = _chosen(options.only, loaded)
    units, worst = options.units or loaded.units or "us", SOLVED
    names = [made.name for made in chosen]
    for number, made in enumerate(chosen):
        if number and not outs:
            print()
        with Keeping() as keeping:
            code = _one(loaded, made, units, options, named_apart(outs, names, made.name), keeping)
        if code == STOPPED:
            return code
        worst = max(worst, code)
    return worst


def _chosen(wanted: Sequence[str] | None, loaded: CircuitFile | VehicleFile) -> list[FileSweep]:
    if not loaded.sweeps:
        raise Refusal(f"{loaded.name}: there is no sweep in it\n  cure: add [sweep.NAME] and vary.\"return hose.size\" = [\"-6\", \"-8\"]; "
                      "see 'flarenut parts sweep'")
    try:
        names = dict.fromkeys(name for word in wanted or loaded.sweeps for name in pick("sweep", word, list(loaded.sweeps)))
    except NoSuchName as error:
        raise Refusal(f"{loaded.name}: {error}") from None
    return [loaded.sweeps[name] for name in names]


# ---- one sweep ----

def _one(loaded: CircuitFile | VehicleFile, made: FileSweep, units: str, options: Namespace, outs: Sequence[Path], keeping: Keeping) -> int:
    from .sweep_notes import notes_of, reasons_of

    (answer, limits), stopped = _solved(loaded, made, units, options, keeping)
    keeping.all_solved()
    if stopped is not None and outs:
        print(f"flarenut: stopped: writing what was solved to {', '.join(map(str, outs))}", file=sys.stderr, flush=True)
    count, solved = answer["status"].size, int((answer["status"].values == 0).sum())
    if not solved and stopped is None:
        _write_all(outs, answer, limits, made, loaded, solved)
        words, times = reasons_of(answer)[0]
        often = "" if times == count else f"{times:,} of them: "
        print(f"{loaded.name}: sweep '{made.name}': none of {count:,} solves has an answer: {often}{words}", file=sys.stderr)
        return UNSOLVED
    if outs:
        print(f"sweep '{made.name}': {solved:,} of {count:,} solves have an answer")
        for words in notes_of(answer):
            print("\n".join(wrap(words, screen_width(), initial_indent="  ", subsequent_indent="  ")))
        for words, times in reasons_of(answer)[:_MOST_REASONS] if stopped is None else ():
            print("\n".join(wrap(f"{times:,} {'have' if times > 1 else 'has'} none: {words}", screen_width(), initial_indent="  ", subsequent_indent="  ")))
        _write_all(outs, answer, limits, made, loaded, solved)
    else:
        _show(answer, limits, made, loaded, options)
    if stopped is not None:
        kept = f"; what was reached is in {', '.join(map(str, outs))}" if outs else ""
        missed = int((answer["status"].values == 3).sum())
        print(f"flarenut: stopped: sweep '{made.name}': {solved:,} of {count:,} solves have an answer, {missed:,} were not reached{kept}",
              file=sys.stderr)
        return STOPPED
    return SOLVED


def _solved(loaded: CircuitFile | VehicleFile, made: FileSweep, units: str,
            options: Namespace, keeping: Keeping) -> tuple[tuple[Dataset, dict[str, tuple[float | None, float | None]]], SweepInterrupted | None]:
    """((Dataset, limits), what stopped it or None)."""
    from ..studies import SweepInterrupted, SweepWarning
    from ..studies import sweep as run
    from .sweep_progress import Progress

    progress = Progress(f"sweep '{made.name}'")

    def told(done: int, count: int) -> None:
        keeping.all_solved(done >= count)
        progress(done, count)

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", SweepWarning)  # said in our own words
            vary = _vary(made)
            try:
                outputs, limits = _limits(loaded, made, units)
            except SweepInterrupted:
                raise KeyboardInterrupt from None  # before anything was begun
            keeping.all_solved(False)
            answer = run(loaded.circuit, vary, made.cases, outputs, samples=made.samples, seed=made.seed, sampling=made.sampling,
                         findings=options.findings, units=units, threads=options.threads, progress=told)
        return (answer, _in_shown(limits, answer)), None
    except SweepInterrupted as stop:
        return (stop.partial, _in_shown(limits, stop.partial)), stop
    except ImportError:
        raise Refusal(_NEEDS_XARRAY) from None
    except MemoryError:
        raise Refusal(f"{loaded.name}: sweep '{made.name}' does not fit into memory\n  cure: fewer outputs, cases or points") from None
    except ValueError as refusal:
        raise Refusal(str(loaded.study_error(made, refusal)), UNSOLVED if ill_posed(refusal) else BAD_INPUT) from None
    finally:
        progress.close()


def _vary(made: FileSweep) -> dict[str | tuple[str, ...], Any]:
    """What varies, as `studies.sweep` takes it."""
    from ..studies import between

    found: dict[str | tuple[str, ...], Any] = {}
    for names, values in made.steps:
        if isinstance(values, Ends):
            try:
                values = between(values.low, values.high)
            except CircuitError as error:
                raise CircuitError(error.reason, error.cure.replace('between("11 V", "14 V")', '{between = ["11 V", "14 V"]}'), key=names[0],
                                   value=[values.low, values.high]) from None
        found[names[0] if len(names) == 1 else names] = values
    return found


def _limits(loaded: CircuitFile | VehicleFile, made: FileSweep, units: str) -> tuple[list[str] | None, dict[str, tuple[float | None, float | None]]]:
    """Outputs to ask for, those that have limits among them, and the limits: output -> (least, most) in SI."""
    from ..studies import sweep as run
    from ..units import UnitError, parse
    from ..units.errors import quoted

    if not made.limits:
        return made.outputs, {}
    asked = None if made.outputs is None else _named(made.outputs)
    cases = list(loaded.circuit.cases)[:1] or None
    if asked is None:
        every = run(loaded.circuit, {}, cases, units=units).data_vars
        asked = [str(name) for name in every if name not in _ALWAYS]
    outputs = [*asked, *(name for name in made.limits if name not in asked)]
    told = _attributes(loaded, list(made.limits), units)
    found: dict[str, tuple[float | None, float | None]] = {}
    for name, ends in made.limits.items():
        attrs = told[name]
        if "words" in attrs:
            raise CircuitError(f"'{name}' is a word, not a number", "limits are of numbers, such as \"rail.gauge\"", key="limits", value=ends)
        try:
            kind = attrs.get("kind", "dimensionless")
            least, most = (None if word not in ends else parse(ends[word], kind, name=word) for word in ("least", "most"))
            found[name] = least, most
        except UnitError as error:
            if attrs.get("unsolved"):
                raise CircuitError(f"as the file stands no case has an answer, so what '{name}' is measured in is not known",
                                   "solve the file first and mend what it says; or leave this limit out", key="limits", value=error.value) from None
            raise CircuitError(error.reason, error.hint, key="limits", value=error.value) from None
        if least is not None and most is not None and least > most:
            raise CircuitError(f"the least of '{name}', {quoted(ends['least'])}, is above its most, {quoted(ends['most'])}", "exchange them", key="limits",
                               value=ends)
    return (made.outputs if set(outputs) == set(asked) else outputs), found


def _attributes(loaded: CircuitFile | VehicleFile, names: list[str], units: str) -> dict[str, Mapping[str, Any]]:
    """Output -> its attributes, by the first case that has an answer: without one a vehicle does not know what a reading is measured in."""
    from ..studies import sweep as run

    found: dict[str, Mapping[str, Any]] = {}
    cases: list[str | None] = list(loaded.circuit.cases) or [None]
    for case in cases:
        data = run(loaded.circuit, {}, None if case is None else [case], names, units=units)
        lost = {"unsolved": True} if (data["status"].values != 0).all() else {}
        found = {name: found[name] if "kind" in found.get(name, ()) else {**data[name].attrs, **lost} for name in names}
        if all("kind" in one or "words" in one for one in found.values()):
            break
    return found


def _named(outputs: Sequence[str] | list[str] | None) -> list[str]:
    """Outputs asked for by name, as a list."""
    return [outputs] if isinstance(outputs, str) else list(outputs or ())


def _in_shown(limits: Mapping[str, tuple[float | None, float | None]], answer: Dataset) -> dict[str, tuple[float | None, float | None]]:
    """Limits in the units in which the Dataset has its outputs."""
    from ..units import to

    def shown(end: float | None, attrs: dict[str, str]) -> float | None:
        return end if end is None or "kind" not in attrs else to(end, attrs["units"], attrs["kind"])

    return {name: (shown(least, answer[name].attrs), shown(most, answer[name].attrs)) for name, (least, most) in limits.items()}


def _show(answer: Dataset, limits: Mapping[str, tuple[float | None, float | None]], made: FileSweep, loaded: CircuitFile | VehicleFile,
          options: Namespace) -> None:
    from .sweep_table import table

    circuit = loaded.circuit
    cases = [str(name) for name in answer["case"].values]
    title = (f"sweep '{made.name}'", circuit.name, cases[0] if len(cases) == 1 else "", _invented(loaded))
    print("\n".join(wrap(" · ".join(word for word in title if word), screen_width())))
    lines, whole = table(answer, limits, screen_width(), _named(made.outputs))
    print("\n".join(["", *lines]))
    if not whole:
        print(f"\nAll rows: flarenut sweep {options.file} --only \"{made.name}\" --out rows.csv (or .nc, .png)")
    print("\n".join(["", *wrap(_CAUTION, screen_width())]))


def _invented(loaded: CircuitFile | VehicleFile) -> str:
    """That what was swept is invented, in the words that other tables have; "" where it is not."""
    return ("invented vehicle" if loaded.files else "invented circuit") if loaded.circuit.invented else ""


# ---- files ----

def _write_all(outs: Sequence[Path], answer: Dataset, limits: Mapping[str, tuple[float | None, float | None]], made: FileSweep,
               loaded: CircuitFile | VehicleFile, solved: int) -> None:
    from ..studies import save_sweep

    for out in outs:
        if sys.stderr.isatty():
            print(f"writing {out} ...", end="\r", file=sys.stderr, flush=True)
        if out.suffix.lower() in PICTURES:
            if not solved:
                print(f"no picture {out}: no point has an answer", file=sys.stderr)
                continue
            put_file(out, lambda path: _picture(answer, limits, made, loaded, path))
        else:
            put_file(out, lambda path: save_sweep(answer, path))
        print(f"written to {out}")


def _picture(answer: Dataset, limits: Mapping[str, tuple[float | None, float | None]], made: FileSweep, loaded: CircuitFile | VehicleFile, path: Path) -> None:
    from matplotlib.figure import Figure

    from ..plotting.sweep_lines import BOILS, sweep_lines, without_answer

    wanted = _panels(answer, made, limits)
    drawn = wanted if made.outputs is not None else wanted[:_MOST_PANELS]
    across = 1 if len(drawn) == 1 else 2
    down = -(-len(drawn) // across)
    figure = Figure(figsize=(8 if across == 1 else 11, 0.9 + (4.4 if down == 1 else 3.2) * down), layout="constrained")
    panels = figure.subplots(down, across, squeeze=False).ravel()
    for (name, over), ax in zip(drawn, panels):
        sweep_lines(answer, name, over=over, ax=ax, limits=limits.get(name, (None, None)), legend=False)
    for ax in panels[len(drawn):]:
        ax.set_axis_off()
    note = f" ({_invented(loaded)})" if loaded.circuit.invented else ""
    left_out = f"\n{len(drawn)} of {len(wanted)} panels are drawn; name readings in 'outputs' to choose" if len(drawn) < len(wanted) else ""
    missing = "".join(f"\n{line}" for one in without_answer(answer) for line in wrap(one, 120))
    figure.suptitle(f"{made.name}: {loaded.circuit.name}{note}{left_out}{missing}", fontsize=10 if left_out or missing else 12)
    handles = {label: handle for ax in panels for handle, label in zip(*ax.get_legend_handles_labels())}
    handles |= {BOILS: handles.pop(BOILS)} if BOILS in handles else {}  # last
    if len(handles) > 1:
        columns = min(len(handles), max(int(figure.get_figwidth() / (_SAMPLE + _LETTER * max(map(len, handles)))), 1), 3)
        figure.set_figheight(figure.get_figheight() + _ROW * (-(-len(handles) // columns) - 1))
        figure.legend(handles.values(), handles, loc="outside lower center", ncols=columns, frameon=False, fontsize=8, handlelength=4)
    figure.savefig(path, dpi=150)


def _panels(answer: Dataset, made: FileSweep, limits: Mapping[str, tuple[float | None, float | None]]) -> list[tuple[str, str | None]]:
    """(output, what to draw it over) of every panel: of random samples one for each thing drawn. First what has limits, last what stands still."""
    import numpy

    from .sweep_notes import COUNTS, unasked

    hidden = {*COUNTS, *unasked(answer, _named(made.outputs))} | {name for name in _ALWAYS if name not in limits and name not in _named(made.outputs)}
    names = [str(name) for name, one in answer.data_vars.items() if name not in hidden and "words" not in one.attrs and numpy.isfinite(one.values).any()]
    drawn: list[str | None] = [str(name) for name, one in answer.coords.items() if one.dims == ("sample",) and name != "sample"]

    def rank(name: str) -> tuple[bool, bool]:
        values = answer[name].values
        return name not in limits, numpy.nanmax(values) - numpy.nanmin(values) <= 1e-6 * numpy.nanmax(numpy.abs(values))

    return [(name, over) for name in sorted(names, key=rank) for over in drawn or [None]]
