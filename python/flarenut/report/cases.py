"""Operating cases of a circuit: pressures, flows and temperatures at its places, case by case."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..results import Table
from .markup import element, joined
from .tables import shown

if TYPE_CHECKING:
    from ..results.answer import Answer
    from .markup import Markup
    from collections.abc import Sequence
    from ..results.table import TableRow

_SECTION = "Pressures"


def cases_section(answer: Answer, found: Table) -> Markup:
    """The `Table` of an `Answer` without what stands elsewhere on the sheet."""
    plain = Table("", found.cases, found.sections, notes=found.notes)
    return joined(_solved(answer), shown(plain, "Each operating case", "what"))


def _solved(answer: Answer) -> Markup:
    lost = [name for name, case in answer.items() if not case.converged]
    if lost:
        return element("p", element("strong", "Not solved: "), ", ".join(lost), ". No number of these cases is known.")
    count = len(answer)
    return element("p", f"Solved in {'its one case' if count == 1 else f'all {count} cases'}. Numbers are estimates: read gauges before you trust them.")


def pressures(found: Table) -> Sequence[TableRow]:
    """Rows of a `Table` that gauges can read."""
    return dict(found.sections).get(_SECTION, ())
