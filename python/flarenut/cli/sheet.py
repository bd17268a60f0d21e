"""`flarenut sheet`: the build sheet of a circuit or vehicle file."""

from pathlib import Path

from ..circuit.file import FileError
from ..hardware import fitted
from ..hardware.prices import prices_of
from ..report import build_sheet
from .guard import BAD_INPUT, Refusal
from .solve import answer_of, code_of, read

_ENDINGS = (".html", ".htm")


def sheet(options):
    """Writes the page and says where; the exit code says whether all cases are solved."""
    loaded = read(options.file)
    target = _target(options)
    prices = _prices(options.prices)
    plumbing, units = loaded.circuit, options.units or loaded.units or "us"
    try:
        if options.fit:
            plumbing = _fitted(plumbing, loaded.name)
            loaded.circuit = plumbing.circuit
        answer = answer_of(loaded)
        made = build_sheet(plumbing, answer=answer, units=units, prices=prices, date=options.date)
    except ValueError as refusal:
        raise Refusal(str(loaded.error(refusal)), BAD_INPUT) from None
    _write(target, made.html)
    print(f"build sheet written to {target}")
    return code_of(next(iter(answer.values())) if hasattr(answer, "vehicle") else answer, loaded.name)


def _target(options):
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


def _prices(name):
    try:
        return prices_of(name)
    except FileError as error:
        raise Refusal(str(error)) from None


def _fitted(plumbing, name):
    if hasattr(plumbing, "circuits"):
        raise Refusal(f"{name}: ends are proposed for one circuit, and this is a vehicle of {len(plumbing.circuits)}\n  cure: name the file of one circuit")
    return fitted(plumbing)


def _write(path, text):
    try:
        path.write_text(text, encoding="utf-8")
    except OSError as error:
        raise Refusal(f"{path}: {error.strerror}\n  cure: name a file in a folder that can be written to") from None
