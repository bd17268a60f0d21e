"""`flarenut audit`: the joints of a circuit or vehicle file."""

from argparse import Namespace

from ..hardware import audit as audited
from ..hardware import disputes_listing, disputes_of
from .fit import fitted_of
from .guard import BAD_INPUT, MUST_NOT_RUN, SOLVED, Refusal
from .out_files import put_text
from .solve import read


def audit(options: Namespace) -> int:
    """Prints the audit; the exit code says whether a STOP or FIX finding stands."""
    loaded = read(options.file)
    plumbing, units = loaded.circuit, options.units or loaded.units or "us"
    try:
        if options.fit:
            made = fitted_of(loaded)
            print(made.text(units), end="\n\n")
            plumbing = made.circuit
        found = audited(plumbing)
    except ValueError as refusal:
        raise Refusal(str(loaded.error(refusal)), BAD_INPUT) from None
    print(found.text(units))
    disputes = disputes_of(plumbing)
    if disputes:
        print(f"\n{disputes_listing(disputes).text()}")
    if options.csv is not None:
        put_text(options.csv, found.listing(units).csv())
        print(f"joints written to {options.csv}")
    return SOLVED if found.passes else MUST_NOT_RUN
