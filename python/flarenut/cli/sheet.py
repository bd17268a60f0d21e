"""`flarenut sheet`: the build sheet of a circuit or vehicle file."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from ..circuit.file import FileError
from ..hardware.prices import prices_of
from ..report import build_sheet
from ..results import VehicleAnswer
from .fit import fitted_of
from .guard import BAD_INPUT, Refusal
from .out_files import put_text
from .solve import answer_of, code_of, read

if TYPE_CHECKING:
    from ..hardware.prices import Prices
    from ..circuit.circuit import Circuit
    from ..circuit.vehicle import Vehicle
    from ..hardware.fitted import Fitted

_ENDINGS = (".html", ".htm")


def sheet(options: Namespace) -> int:
    """Writes the page and says where; the exit code says whether all cases are solved."""
    loaded = read(options.file)
    target = _target(options)
    prices = _prices(options.prices)
    plumbing: Circuit | Vehicle | Fitted = loaded.circuit
    units = options.units or loaded.units or "us"
    try:
        if options.fit:
            plumbing = made_whole = fitted_of(loaded)
            loaded.circuit = made_whole.circuit
        answer = answer_of(loaded)
        made = build_sheet(plumbing, answer=answer, units=units, prices=prices, date=options.date)
    except ValueError as refusal:
        raise Refusal(str(loaded.error(refusal)), BAD_INPUT) from None
    put_text(target, made.html)
    print(f"build sheet written to {target}")
    return code_of(next(iter(answer.values())) if isinstance(answer, VehicleAnswer) else answer, loaded.name, units)


def _target(options: Namespace) -> Path:
    """Where the page goes; refused before the solve where it cannot be."""
    if options.out is None:
        if options.file == "-":
            raise Refusal("flarenut: what is read from standard input has no name to call the page by\n  cure: say --out FILE.html")
        return Path(f"{Path(options.file).stem}_sheet.html")
    target = Path(options.out)
    if target.is_dir() or target.suffix.lower() not in _ENDINGS:
        raise Refusal(f"{options.out}: is not the name of a page\n  cure: end it in .html")
    if not target.parent.is_dir():
        raise Refusal(f"{options.out}: there is no folder '{target.parent}'\n  cure: make it first, or name another")
    return target


def _prices(name: str | None) -> Prices | None:
    try:
        return prices_of(name)
    except FileError as error:
        raise Refusal(str(error)) from None
