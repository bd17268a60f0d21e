"""Messages in the units of whoever wrote the file: inches beside the millimetres of a cure, or metric units first."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from ..engine_units import metric_first

if TYPE_CHECKING:
    from .problems import Problem

# Within quotes of either kind the length stands alone or is left as it is: what is copied from a cure has to be read back.
_LENGTH = re.compile(r"""(?<![\w.('"])(?P<quote>['"]?)(?P<number>\d+(?:\.\d+)?) mm(?P=quote)(?![\w('"]| \()""")
_SIXTEENTHS = {"8": "5/16"}  # what a shop calls it, where the number alone would be odd


def in_units_of(problem: Problem, units: str | None) -> None:
    """Puts a problem in the units a file prefers: "metric", or any other for both."""
    if units == "metric":
        problem.reason, problem.hint = metric_first(problem.reason), metric_first(problem.hint)
    else:
        problem.hint = in_both_units(problem.hint)


def in_both_units(cure: str) -> str:
    """A cure with inches beside its millimetres.

    >>> in_both_units("give it a unit, e.g. '8 mm'"), in_both_units("10.3 mm as 'ptfe'")
    ("give it a unit, e.g. '8 mm' or '5/16 in'", "10.3 mm (0.406 in) as 'ptfe'")
    >>> in_both_units('or bore="9.9 mm"')
    'or bore="9.9 mm" or "0.39 in"'
    """
    def both(match: re.Match[str]) -> str:
        inches = _SIXTEENTHS.get(match["number"]) or f"{float(match['number']) / 25.4:.3g}"
        quote = match["quote"]
        return f"{match[0]} or {quote}{inches} in{quote}" if quote else f"{match[0]} ({inches} in)"

    return _LENGTH.sub(both, cure)
