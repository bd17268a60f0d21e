"""Reading the tables, and the error for what is not in them."""

import csv
from functools import cache
from importlib.resources import files


class CatalogError(ValueError):
    """Something that the catalogue does not hold.

    Parameters
    ----------
    name : the key it was asked under ("spec", "size")
    value : what was asked for
    reason : what is wrong, a sentence without its full stop
    hint : what to write instead

    >>> str(CatalogError("spec", "ptfee", "no hose specification 'ptfee'", "did you mean 'ptfe'?"))
    "no hose specification 'ptfee': did you mean 'ptfe'?"
    """

    def __init__(self, name, value, reason, hint=""):
        super().__init__(f"{reason}: {hint}" if hint else reason)
        self.name = name
        self.value = value
        self.reason = reason
        self.hint = hint

    def __reduce__(self):
        return type(self), (self.name, self.value, self.reason, self.hint)


@cache
def table(name):
    """A table as a tuple of dicts of texts, by its file name: ``table("hose_bores.csv")``."""
    text = (files(__package__) / name).read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))
