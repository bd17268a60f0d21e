"""`flarenut bill`: what to buy for a circuit, and what to cut it to."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from ..circuit.errors import located
from ..circuit.file import FileError
from ..hardware import audit
from ..hardware.bill import bill as bill_of
from ..hardware.fitted import Fitted
from ..hardware.prices import prices
from ..units import UnitError
from .fit import fitted_of
from .guard import SOLVED, Refusal
from .out_files import put_file
from .solve import counted, put, read

if TYPE_CHECKING:
    from ..circuit.circuit import Circuit
    from ..circuit.file.load import CircuitFile
    from ..hardware.bill import Bill
    from ..hardware.cut_list import CutList
    from ..circuit.file.vehicle import VehicleFile
    from ..circuit.vehicle import Vehicle


def bill(options: Namespace) -> int:
    """Prints the bill of a file, and the cut list where it is asked for; writes both as CSV."""
    if options.csv is not None:
        _writable(options.csv)
    loaded, units = read(options.file), options.units
    units = units or loaded.units or "us"
    try:
        own = None if options.prices is None else prices(options.prices)
    except FileError as error:
        raise Refusal(str(error)) from None
    try:
        plumbing = fitted_of(loaded) if options.fit else loaded.circuit
        found = bill_of(plumbing, own, slack=options.slack, units=units)
    except UnitError as error:
        raise Refusal(f"flarenut: --slack: {error.reason}\n  cure: {error.hint}") from None
    except ValueError as refusal:
        if getattr(refusal, "key", "") == "slack":
            told = located(refusal, "")
            raise Refusal(f"flarenut: --slack: {told.reason}\n  cure: {told.cure}") from None
        raise Refusal(str(loaded.error(refusal))) from None
    tables = [found.tables(units), *([found.cuts.tables(units)] if options.cut_list else [])]
    for number, one in enumerate(tables):
        print("\n" if number else "", end="")
        put(one)
    _tell(loaded, plumbing, found.cuts, options)
    if options.csv is not None:
        _write(found, options, units)
    return SOLVED


def _tell(loaded: CircuitFile | VehicleFile, plumbing: Circuit | Fitted | Vehicle, cuts: CutList, options: Namespace) -> None:
    """A line each on what the audit of the joints and the cut list say STOP or FIX to: nobody should buy before that is read."""
    for what, findings, where in (("audit", audit(plumbing.circuit if isinstance(plumbing, Fitted) else plumbing).findings, f"flarenut audit {loaded.name}{' --fit' * options.fit}"),
                                  ("cut list", cuts.findings, f"flarenut bill {loaded.name} --cut-list")):
        counts = counted(findings)
        if counts:
            print(f"\nThe {what} finds {counts}: '{where}' says which and why.")


def _write(found: Bill, options: Namespace, units: str) -> None:
    put_file(options.csv, lambda path: found.to_csv(path, units))
    print(f"\nbill written to {options.csv}")
    if options.cut_list:
        beside = _beside(options.csv)
        put_file(beside, lambda path: found.cuts.to_csv(path, units))
        print(f"cut list written to {beside}")


def _beside(path: str) -> str:
    """File of the cut list beside that of the bill: "car.csv" to "car-cuts.csv"."""
    return str(Path(path).with_name(f"{Path(path).stem}-cuts{Path(path).suffix}"))


def _writable(path: str) -> None:
    """Refuses before the work what would fail after it."""
    folder = Path(path).parent
    if not folder.is_dir():
        raise Refusal(f"{path}: there is no folder '{folder}'\n  cure: make it first, or name another")
    if Path(path).is_dir() or Path(path).suffix.lower() != ".csv":
        raise Refusal(f"{path}: is not the name of a table\n  cure: end it in .csv")
