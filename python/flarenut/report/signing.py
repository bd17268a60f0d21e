"""What the builder ticks and signs, with room for what the gauges say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from ..circuit.spoken import may_brake
from .cases import pressures
from .markup import element, joined
from .tables import BLANK, BOX, table

if TYPE_CHECKING:
    from ..results.table import Table
    from .circuits import Part
    from .markup import Markup

_ALWAYS = (
    "Every finding that says STOP or FIX is mended, or somebody qualified has said in writing why it stands.",
    "Threads and seats of every joint were measured, not guessed, before they were put together.",
    "Lines are cut square, deburred, flushed and blown clean; no scrap of liner in the bore.",
    "Sealant is on taper pipe threads alone and fits the liquid; none on flares, O-rings or banjo washers.",
    "Every joint is tightened as listed, and marked.",
    "Lines are held, clear of exhaust, moving parts and edges, and have slack where the engine moves.",
    "Every line assembly held its test pressure, with liquid.",
    "No joint weeps at working pressure, cold and again hot.",
)
_BY_FAMILY = {
    "fuel": ("An extinguisher was at hand, the battery off and the cans earthed, before fuel was let in.",),
    "brake fluid": ("A qualified shop has inspected, bled and tested the brakes before the vehicle moved.",),
    "coolant": ("The system is bled of air, and its cap holds.",),
    "oil": ("The filter and the lines were filled before the first start; pressure came up within seconds.",),
}
_BESIDE = 4  # cases beside each other, with room to write
_SIGNED = ("built by", "date", "checked by", "date")


def signing_section(parts: Sequence[Part]) -> Markup:
    """Boxes to tick, gauges to read and lines to sign."""
    families = dict.fromkeys(part.circuit.family for part in parts)
    if any(may_brake(part.circuit, run) for part in parts for run in part.circuit.runs.values()):
        families["brake fluid"] = None  # signed for whatever liquid the brakes are filled with
    said = [*_ALWAYS, *(line for family in families for line in _BY_FAMILY.get(family, ()))]
    boxes = element("ul", *(element("li", BOX, line) for line in said), class_="ticks")
    gauges = [made for part in parts for made in _gauges(part.name if len(parts) > 1 else "", part.table)]
    signed = element("div", *(element("p", word) for word in _SIGNED), class_="sign")
    return joined(boxes, *gauges, signed)


def _gauges(name: str, found: Table) -> Iterator[Markup]:
    """Tables of pressures to read: what is expected of each case, and room for what is measured."""
    rows, cases = pressures(found), found.cases
    for begin in range(0, len(cases) if rows else 0, _BESIDE):
        chosen = slice(begin, begin + _BESIDE)
        cells = [[row.heading, *(joined(cell, BLANK) for cell in row.cells[chosen])] for row in rows]
        caption = "Read on gauges when it runs: expected, and measured" + (f", {name}" if name else "") + (", more cases" if begin else "")
        yield table(caption, ["place", *cases[chosen]], [("", cells)], right=range(1, _BESIDE + 1), tall=True)
