"""How lines are held and fastened: spacing of supports, slack, straight length behind ends, clamps, proof pressure."""

from __future__ import annotations

from typing import NamedTuple

from .rows import table
from .sources import said_of, source_in_words

_INCH = 0.0254


class Rule(NamedTuple):
    """A figure of the trade, from `low` to `high`, in SI; a share or a count where `unit` says so."""

    low: float
    high: float
    unit: str
    source: str
    how: str
    note: str

    @property
    def said(self) -> str:
        """Its source as findings and lists show it: what is from memory says so."""
        return said_of(self)


_SI = {"mm": ("m", 1e-3), "N m": ("N m", 1.0)}
_PLAIN = {"%": ("fraction", 0.01), "% of length": ("fraction", 0.01), "hose diameters": ("diameters", 1.0), "times": ("times", 1.0)}


def _rule(row: dict[str, str]) -> Rule:
    if row["unit_si"]:
        unit, scale = _SI[row["unit_si"]]
        return Rule(float(row["low_si"]) * scale, float(row["high_si"]) * scale, unit, row["source"], row["how"], row["note"])
    unit, scale = _PLAIN[row["unit"]]
    return Rule(float(row["low"]) * scale, float(row["high"]) * scale, unit, row["source"], row["how"], row["note"])


def _rows(item: str) -> list[dict[str, str]]:
    return [row for row in table("support_and_slack.csv") if row["item"] == item]


def _inches(text: str) -> float:
    whole, _, part = text.removesuffix(" in").partition("/")
    return (float(whole) / float(part) if part else float(whole)) * _INCH


def support_spacing(od: float | None = None, material: str = "steel") -> Rule:
    """`Rule` of the farthest that supports may stand apart [m]: for a tube by its outside diameter [m], for hose where `od` is None.

    Between the sizes of the table the next smaller one's counts; beyond the last, the last one's.

    >>> round(support_spacing().high / 0.0254), round(support_spacing(0.009525, "304 stainless").high / 0.0254)
    (24, 20)
    """
    if od is None:
        return _rule(_rows("support spacing, flexible hose")[0])
    kind = "aluminium alloy" if "alumin" in material.lower() or "copper" in material.lower() else "steel"  # soft tube is held as aluminium is
    rows = sorted((_inches(row["size"]), row["size"], row) for row in _rows("support spacing, rigid tube") if row["material"] == kind)
    smaller = [row for size, _, row in rows if size <= od * 1.001]
    return _rule(smaller[-1] if smaller else rows[0][2])


def length_change() -> Rule:
    """`Rule` of how much a hose's length changes under pressure, as shares: from -4 % to +2 %.

    >>> length_change().low
    -0.04
    """
    return _rule(_rows("hose length change under pressure")[0])


def slack() -> Rule:
    """`Rule` of the slack to cut a hose with, as shares of its length: 5 to 8 %.

    >>> slack().low, slack().high
    (0.05, 0.08)
    """
    return _rule(_rows("hose slack allowance")[0])


def straight_behind_end() -> Rule:
    """`Rule` of the straight length behind a hose end, in outside diameters of the hose: at least 2.

    >>> straight_behind_end().low
    2.0
    """
    return _rule(_rows("straight length behind a hose end")[0])


def clamp_from_length() -> Rule:
    """`Rule` of the hose length from which on it needs a clamp on its way [m].

    >>> round(clamp_from_length().high, 3)
    1.219
    """
    return _rule(_rows("clamp needed from hose length")[0])


def clamp_torque(band: float | None = None) -> Rule:
    """`Rule` of a worm-drive clamp's torque on new hose [N m], by the width of its band [m]; of calibrated clamp wrenches without one.

    >>> clamp_torque(0.0135).low
    4.5
    """
    if band is None:
        return _rule(_rows("worm-drive clamp torque")[0])
    narrow, wide = _rows("worm-drive clamp torque, new hose")
    return _rule(narrow if band < 0.0146 else wide)


def proof_rule() -> Rule:
    """`Rule` of the proof test of tube assemblies, as a multiple of the operating pressure.

    >>> proof_rule().low, proof_rule().unit
    (2.0, 'times')
    """
    (row,) = _rows("proof test of tube assemblies")
    return _rule(row)


def proof_pressure(operating: float) -> float:
    """Test pressure of a tube assembly [Pa] by its operating pressure [Pa], with liquid: twice that, 100 psi at least.

    >>> round(proof_pressure(300e3) / 6894.757)
    100
    """
    return max(proof_rule().low * operating, 100.0 * 6894.757)


class ClampRange(NamedTuple):
    """A worm-drive hose clamp: from which outside diameter to which it closes [m]."""

    low: float
    high: float
    source: str
    how: str

    @property
    def said(self) -> str:
        """Its source as findings and lists show it: what is from memory says so."""
        return said_of(self)


def clamp_range_said() -> str:
    """Where ranges of clamps come from, and the rule of their middle, in words.

    >>> clamp_range_said().startswith("DIN 3017-1 worm-drive hose clamps")
    True
    """
    row = table("hose_clamps.csv")[0]
    return f"{source_in_words(row['source'], row['how'])}; {source_in_words('S134')}"


def clamp_range(outside: float) -> ClampRange | None:
    """The `ClampRange` in the middle of which a hose of that outside diameter [m] stands best; None where no clamp of the table takes it.

    >>> round(clamp_range(0.0159).low * 1e3), round(clamp_range(0.0159).high * 1e3), clamp_range(0.2)
    (12, 20, None)
    """
    found = [ClampRange(float(row["from_mm"]) * 1e-3, float(row["to_mm"]) * 1e-3, row["source"], row["how"]) for row in table("hose_clamps.csv")]
    return min((one for one in found if one.low <= outside <= one.high), key=lambda one: abs(outside - 0.5 * (one.low + one.high)), default=None)
