"""What is taken off and added when line is cut: what hose ends take up of an assembly's length, what flares use up of a tube.

A hose is cut to the length of its assembly less the cut-off of each of its ends. That is up to who made the ends; the tables hold two
families of military standards, which other ends differ from by half an inch and more.
"""

from __future__ import annotations

from typing import NamedTuple

from .rows import table
from .sources import said_of

_INCH = 0.0254


class CutOff(NamedTuple):
    """What one hose end takes up of the length [m]: from `low` to `high`, where its table has several ends of a kind."""

    hose: str
    low: float
    high: float
    source: str
    how: str

    @property
    def said(self) -> str:
        """Its source as findings and lists show it: what is from memory says so."""
        return said_of(self)


class FlareAllowance(NamedTuple):
    """What a flare uses up of a tube's length [m]."""

    what: str
    length: float
    source: str
    how: str
    note: str

    @property
    def said(self) -> str:
        """Its source as findings and lists show it: what is from memory says so."""
        return said_of(self)


def end_cut_off(standard: str | None, dash: int | None, turn: float) -> CutOff | None:
    """The `CutOff` of a hose end; None where no table has it.

    Parameters
    ----------
    standard : that the hose is made to, "MIL-H-27267"; None for any
    dash : its size
    turn : angle of the end [deg]: 0, 45 or 90

    >>> cut = end_cut_off("MIL-H-27267", 6, 90)
    >>> round(cut.low / 0.0254, 2), cut.how
    (2.06, 'seen')
    """
    for row in table("hose_end_cutoffs.csv"):
        if row["standards"] == standard and row["used"] == "yes" and (int(row["dash"]), float(row["turn_deg"])) == (dash, turn):
            return CutOff(row["hose"], float(row["low_in"]) * _INCH, float(row["high_in"]) * _INCH, row["source"], row["how"])
    return None


def cut_offs_like(dash: int, turn: float) -> list[CutOff]:
    """The `CutOff`s of ends of a size and angle in every family that the tables have: for scale, where an end's own is not known.

    >>> [round(cut.high / 0.0254, 2) for cut in cut_offs_like(8, 0)]
    [1.86, 0.94]
    """
    standards = dict.fromkeys(row["standards"] for row in table("hose_end_cutoffs.csv"))
    return [cut for cut in (end_cut_off(standard, dash, turn) for standard in standards) if cut is not None]


def flare_allowance(form: str) -> FlareAllowance | None:
    """The `FlareAllowance` of a form of end; None for a form that is no flare.

    >>> flare_allowance("inverted flare").what, flare_allowance("barb")
    ('double flare', None)
    """
    for row in table("flare_allowances.csv"):
        if row["form"] == form:
            return FlareAllowance(row["what"], float(row["allowance_mm"]) * 1e-3, row["source"], row["how"], row["note"])
    return None
