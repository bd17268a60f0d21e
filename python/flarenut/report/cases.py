"""Operating cases of a circuit: pressures, flows and temperatures at its places, case by case."""

from ..results import Table
from .markup import element, joined
from .tables import shown

_SECTION = "Pressures"


def cases_section(answer, found):
    """The `Table` of an `Answer` without what stands elsewhere on the sheet."""
    plain = Table("", found.cases, found.sections, notes=found.notes)
    return joined(_solved(answer), shown(plain, "Each operating case", "what"))


def _solved(answer):
    lost = [name for name, case in answer.items() if not case.converged]
    if lost:
        return element("p", element("strong", "Not solved: "), ", ".join(lost), ". No number of these cases is known.")
    count = len(answer)
    return element("p", f"Solved in {'its one case' if count == 1 else f'all {count} cases'}. Numbers are estimates: read gauges before you trust them.")


def pressures(found):
    """Rows of a `Table` that gauges can read."""
    return dict(found.sections).get(_SECTION, [])
