"""`flarenut audit`: the joints of a circuit or vehicle file."""

from pathlib import Path

from ..hardware import audit as audited
from ..hardware import disputes_listing, disputes_of, fitted
from .guard import BAD_INPUT, MUST_NOT_RUN, SOLVED, Refusal
from .solve import read


def audit(options):
    """Prints the audit; the exit code says whether a STOP or FIX finding stands."""
    loaded = read(options.file)
    plumbing, units = loaded.circuit, options.units or loaded.units or "us"
    try:
        if options.fit:
            plumbing = _fitted(plumbing, loaded.name)
        found = audited(plumbing)
    except ValueError as refusal:
        raise Refusal(str(loaded.error(refusal)), BAD_INPUT) from None
    print(found.text(units))
    disputes = disputes_of(plumbing)
    if disputes:
        print(f"\n{disputes_listing(disputes).text()}")
    if options.csv is not None:
        _write(options.csv, found.listing(units).csv())
        print(f"joints written to {options.csv}")
    return SOLVED if found.passes else MUST_NOT_RUN


def _fitted(plumbing, name):
    if hasattr(plumbing, "circuits"):
        raise Refusal(f"{name}: ends are proposed for one circuit, and this is a vehicle of {len(plumbing.circuits)}\n  cure: name the file of one circuit")
    made = fitted(plumbing)
    print(made.text(), end="\n\n")
    return made.circuit


def _write(path, text):
    try:
        Path(path).write_text(text, encoding="utf-8")
    except OSError as error:
        raise Refusal(f"{path}: {error.strerror}\n  cure: name a file in a folder that can be written to") from None
