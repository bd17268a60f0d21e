"""Where sources differ: both statements and the one that is used, so that both can be shown. And the rules of assembly."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from .rows import CatalogError, table


class Disagreement(NamedTuple):
    """Two statements on one topic. `use` says which holds here, in words."""

    topic: str
    first: str
    second: str
    use: str
    source: str
    how: str
    note: str

    def __str__(self) -> str:
        return f"{self.topic}: {self.first}; or: {self.second}" + (f". Used: {self.use}" if self.use else "")


class AssemblyRule(NamedTuple):
    """One rule of the trade. `applies_to` and `check` are words."""

    rule: str
    applies_to: str
    check: str
    source: str
    how: str
    note: str


def disagreements(topic: object = None) -> tuple[Disagreement, ...]:
    """Every `Disagreement`, or those whose topic holds a text.

    Raises
    ------
    CatalogError : no topic holds it

    >>> [one.use for one in disagreements("37/45")]
    ['second']
    """
    every = _disagreements()
    found = tuple(one for one in every if topic is None or str(topic).lower() in one.topic.lower())
    if not found:
        raise CatalogError("topic", topic, f"no disagreement on '{topic}'", "there are " + "; ".join(one.topic for one in every))
    return found


@cache
def _disagreements() -> tuple[Disagreement, ...]:
    return tuple(Disagreement(*row.values()) for row in table("disagreements.csv"))


@cache
def assembly_rules() -> tuple[AssemblyRule, ...]:
    """Every `AssemblyRule`, in the order of the table.

    >>> assembly_rules()[0].applies_to
    'flare37, flare45, inverted, bubble'
    """
    return tuple(AssemblyRule(*row.values()) for row in table("assembly_rules.csv"))


def assembly_rule(start: str) -> AssemblyRule:
    """The `AssemblyRule` that begins with a text.

    Raises
    ------
    CatalogError : none or several do
    """
    found = [one for one in assembly_rules() if one.rule.startswith(start)]
    if len(found) != 1:
        raise CatalogError("rule", start, f"{len(found)} rules of assembly begin with '{start}'")
    return found[0]
