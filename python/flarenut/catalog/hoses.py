"""Bores of hose: specification and dash together decide."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from functools import cache
from typing import NamedTuple

from ..units.errors import nearest
from .rows import CatalogError, remembered, table


class HoseSpec(NamedTuple):
    """A family of hose. `roughness` of its liner [m]."""

    name: str
    what: str
    liner: str
    roughness: float
    source: str
    how: str


class HoseBore(NamedTuple):
    """One hose of a family. `bore` [m], nominal."""

    spec: str
    dash: int
    bore: float
    source: str
    how: str
    note: str


# What people say of hoses of several families, whose bores differ by up to a quarter. Taking one of them would be a guess.
AMBIGUOUS = ("rubber", "rubber hose", "braid", "braided", "braided hose", "wire braid", "wire braided", "steel braid", "steel braided",
             "stainless braid", "stainless braided", "nylon braid", "nylon braided", "performance hose")


def _plain(word: str) -> str:
    """Lower case without the marks and the word SAE, in which people differ."""
    return re.sub(r"[\s_./-]+|\bsae\b", "", word.lower())


@remembered
def hose_specs() -> dict[str, HoseSpec]:
    """Every `HoseSpec` by name.

    >>> list(hose_specs())[:3]
    ['full-size', 'undersize', 'ptfe']
    """
    return {row["spec"]: HoseSpec(row["spec"], row["what"], row["liner"], float(row["roughness_um"]) * 1e-6, row["source"], row["how"])
            for row in table("hose_specs.csv")}


@remembered
def _spellings() -> dict[str, str]:
    found: dict[str, str] = {}
    for row in table("hose_specs.csv"):
        for word in (row["spec"], *row["spellings"].split("|")):
            found.setdefault(_plain(word), row["spec"])  # a user's own family comes first
    return found


@cache
def _ambiguous() -> frozenset[str]:
    return frozenset(_plain(word) for word in AMBIGUOUS)


def hose_spec(word: str, dash: int | None = None) -> HoseSpec:
    """The `HoseSpec` of a name or of a standard's number; case, spaces and hyphens do not matter.

    Parameters
    ----------
    word : "ptfe", "SAE 100R14" ...
    dash : size that it is asked for, if known: the bores it might mean are then told where the name is of several families

    Raises
    ------
    CatalogError : an unknown one, with the nearest known; one that several families go by, "rubber"

    >>> hose_spec("100R14").name
    'ptfe'
    """
    spellings = _spellings()
    name = spellings.get(_plain(word)) if isinstance(word, str) else None
    if name is None and isinstance(word, str) and _plain(word) in _ambiguous():
        found = bores_in_words(dash)
        which = f"say which; a -{dash} hose has {found}" if found else "say which: " + ", ".join(hose_specs())
        raise CatalogError("spec", word, f"{word!r} names hoses of several bores", f"{which}; a measured 'bore' needs no 'spec'")
    if name is None:
        close = nearest(word, [spelling for row in table("hose_specs.csv") for spelling in (row["spec"], *row["spellings"].split("|"))]) \
            if isinstance(word, str) else None
        raise CatalogError("spec", word, f"no hose specification {word!r}",
                           (f"did you mean '{close}'? " if close else "") + "there are " + ", ".join(hose_specs()) +
                           "; or measure the bore and give it as 'bore'")
    return hose_specs()[name]


def hose_bore(dash: int, spec: str) -> HoseBore:
    """The `HoseBore` of a dash size [sixteenths of an inch] in a specification.

    Raises
    ------
    CatalogError : no such specification, or no such dash in it

    >>> round(hose_bore(8, "full-size").bore * 1e3, 2), round(hose_bore(8, "ptfe").bore * 1e3, 2)
    (12.7, 10.32)
    """
    family = hose_spec(spec, dash)
    sizes = []
    for row in table("hose_bores.csv"):
        if row["spec"] == family.name:
            if int(row["dash"]) == dash:
                return HoseBore(family.name, dash, float(row["bore_in"]) * 0.0254, row["source"], row["how"], row["note"])
            sizes.append(f"-{row['dash']}")
    sizes = list(dict.fromkeys(sizes))
    raise CatalogError("size", f"-{dash}", f"no hose -{dash} in specification '{family.name}'",
                       f"it comes in {', '.join(sizes)}; or measure the bore and give it as 'bore'")


def hose_bores_of(family: str) -> list[dict[str, str]]:
    """Rows of the bores of a family, by its name."""
    return [row for row in table("hose_bores.csv") if row["spec"] == family]


def bores_of_dash(dash: int | None) -> dict[str, float]:
    """Bore [m] of a dash in every specification that has it, by name of the specification."""
    found: dict[str, float] = {}
    for row in table("hose_bores.csv"):
        if int(row["dash"]) == dash:
            found.setdefault(row["spec"], float(row["bore_in"]) * 0.0254)
    return found


def bores_in_words(dash: int | None) -> str:
    """Every bore that a dash may mean, widest first, each with the specifications that have it; "" where none has.

    >>> bores_in_words(3)
    "4.8 mm (3/16 in) as 'full-size' or 'push-on', 3.2 mm (1/8 in) as 'ptfe' or 'medium-pressure'"
    """
    families: dict[float, list[str]] = {}
    order = list(hose_specs())
    for name, bore in sorted(bores_of_dash(dash).items(), key=lambda pair: (-pair[1], order.index(pair[0]))):
        families.setdefault(bore, []).append(f"'{name}'")
    return ", ".join(f"{bore * 1e3:.1f} mm ({Fraction(bore / 0.0254).limit_denominator(64)} in) as {_either(names)}"
                     for bore, names in families.items())


def _either(names: Sequence[str]) -> str:
    return " or ".join([", ".join(names[:-1]), names[-1]] if names[1:] else names)
